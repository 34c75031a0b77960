package pest

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/civil"
)

// Hour is one hour of an hourly forecast, at its local time. NaN is missing.
// There is no such thing from a daily forecast: then no hours are graded, and
// none are printed.
type Hour struct {
	Date          civil.Date
	Of            int     // 0 to 23, local; the hour from Of to Of + 1
	TC            float64 // air temperature, °C
	RHPct         float64 // relative humidity, %
	WindMS        float64 // wind speed, m s⁻¹
	GustMS        float64 // strongest gust, m s⁻¹
	CloudPct      float64 // total cloud, %
	RainMM        float64 // mm
	SinceSunriseH float64 // h since sunrise at the middle of the hour, negative before it
	ToSunsetH     float64 // h to sunset, negative after it
}

// SprayLimits are the limits for one use. The label of the product is the law;
// they are for where it is silent.
type SprayLimits struct {
	HRAC4      bool    // 2,4-D, dicamba and their kin, which are lost as vapor in heat
	RainfastH  float64 // hours without rain after it
	MostWindMS float64 // wind that the label allows; NaN: 10 mph, the usual limit
	ElevationM float64 // of the place, m
	LeastHours int     // a window is at least so long; 0: 2
}

// defaultRainfastH (common practice, no source) holds where the label and the
// class are silent.
const defaultRainfastH = 4

// SprayGrade is how fit an hour is for spraying.
type SprayGrade string

// The grades.
const (
	SprayUnknown  SprayGrade = "" // something is missing that could close it
	SprayGood     SprayGrade = "good"
	SprayMarginal SprayGrade = "marginal"
	SprayNo       SprayGrade = "no"
)

// SprayReason is one reason against an hour.
type SprayReason string

// The reasons that close an hour…
const (
	SprayWindy     SprayReason = "windy"     // above the label's limit, or 10 mph
	SprayInversion SprayReason = "inversion" // an inversion must be assumed
	SprayVapor     SprayReason = "vapor"     // 85 °F or more: closes HRAC group 4
	SprayHot       SprayReason = "hot"       // 90 °F or more: closes any
	SprayDriesAway SprayReason = "dries"     // Delta T above 10 °C
	SprayRaining   SprayReason = "raining"   // it rains in the hour
	SprayRainSoon  SprayReason = "rain-soon" // it rains before the spray is fast
	SprayDark      SprayReason = "dark"      // between sunset and sunrise
)

// …and those that leave it marginal.
const (
	SprayCalm      SprayReason = "calm"       // below 3 mph: no steady direction
	SprayBreezy    SprayReason = "breezy"     // above 8 mph, within the limit
	SprayGusty     SprayReason = "gusty"      // a gust above the limit
	SprayDewy      SprayReason = "dewy"       // Delta T below 2 °C: drops do not dry
	SprayDriesFast SprayReason = "dries-fast" // Delta T above 8 °C
	SprayDrizzle   SprayReason = "drizzle"    // a little rain before the spray is fast
)

// closes reports whether the reason closes the hour.
func (r SprayReason) closes() bool {
	switch r {
	case SprayWindy, SprayInversion, SprayVapor, SprayHot, SprayDriesAway, SprayRaining, SprayRainSoon, SprayDark:
		return true
	}
	return false
}

// GradedHour is an hour with its grade and what speaks against it, in a fixed
// order.
type GradedHour struct {
	Hour
	Grade   SprayGrade
	Reasons []SprayReason
}

// traceMM is the rain below which an hour is dry: what a gauge does not measure.
// It is 0.01 in, the least that U.S. gauges record.
const traceMM = 0.254

// GradeHours grades every hour for a use. Hours must be in order; a rainless
// stretch of RainfastH hours after it is looked for in the hours that follow, and
// an hour whose following hours are missing from the list is unknown unless a
// reason closes it.
//
// Wind, inversion, heat and Delta T: [agromet.SprayFaults]. Rain and darkness:
// common practice. Missing values close nothing, but never make an hour good.
func GradeHours(hours []Hour, l SprayLimits) []GradedHour {
	out := make([]GradedHour, len(hours))
	most := l.MostWindMS
	if math.IsNaN(most) {
		most = agromet.UsualSprayWindMS
	}
	for i := range hours {
		out[i] = l.grade(hours, i, most)
	}
	return out
}

func (l SprayLimits) grade(hours []Hour, i int, mostWindMS float64) GradedHour {
	h := hours[i]
	g := GradedHour{Hour: h}
	add := func(when bool, r SprayReason) {
		if when {
			g.Reasons = append(g.Reasons, r)
		}
	}
	delta := agromet.DeltaTC(h.TC, h.RHPct, l.ElevationM)
	faults, known := agromet.SprayFaults(agromet.SprayHour{
		TC: h.TC, DeltaTC: delta, WindMS: h.WindMS, CloudPct: h.CloudPct, SinceSunriseH: h.SinceSunriseH, ToSunsetH: h.ToSunsetH,
	}, mostWindMS)
	// The wind of the guidance is stricter than the label's, and only warns.
	cautious := tenth(h.WindMS) > tenth(agromet.CautiousSprayWindMS)
	rain, rainKnown := l.rainAfter(hours, i)
	known = known && rainKnown && !math.IsNaN(h.RainMM) && !math.IsNaN(h.SinceSunriseH) && !math.IsNaN(h.ToSunsetH)

	add(faults.Has(agromet.SprayTooWindy), SprayWindy)
	add(faults.Has(agromet.SprayInversion), SprayInversion)
	add(l.HRAC4 && faults.Has(agromet.SprayVaporLoss), SprayVapor)
	add(faults.Has(agromet.SprayTooHot), SprayHot)
	add(faults.Has(agromet.SprayDriesAway), SprayDriesAway)
	add(h.RainMM >= traceMM, SprayRaining)
	add(tenth(rain) >= RainTakesOffMM, SprayRainSoon)
	add(h.SinceSunriseH < 0 || h.ToSunsetH < 0, SprayDark)
	add(faults.Has(agromet.SprayTooCalm), SprayCalm)
	add(cautious && !faults.Has(agromet.SprayTooWindy), SprayBreezy)
	add(tenth(h.GustMS) > tenth(mostWindMS), SprayGusty)
	add(faults.Has(agromet.SprayDewLikely), SprayDewy)
	add(faults.Has(agromet.SprayDriesFast) && !faults.Has(agromet.SprayDriesAway), SprayDriesFast)
	add(rain >= traceMM && tenth(rain) < RainTakesOffMM, SprayDrizzle)

	closed := false
	for _, r := range g.Reasons {
		closed = closed || r.closes()
	}
	switch {
	case closed:
		g.Grade = SprayNo
	case !known:
		g.Grade = SprayUnknown
	case len(g.Reasons) > 0:
		g.Grade = SprayMarginal
	default:
		g.Grade = SprayGood
	}
	return g
}

// rainAfter returns the rain of the hours that the spray needs to become fast,
// mm, and whether all of them are on the list and known. What is known to fall
// counts even where the rest is missing.
func (l SprayLimits) rainAfter(hours []Hour, i int) (mm float64, known bool) {
	h := l.RainfastH
	if math.IsNaN(h) || h <= 0 {
		h = defaultRainfastH
	}
	need := int(math.Ceil(h))
	known = true
	for k := 1; k <= need; k++ {
		if i+k >= len(hours) || !hours[i].followedBy(&hours[i+k], k) || math.IsNaN(hours[i+k].RainMM) {
			known = false
			continue
		}
		mm += hours[i+k].RainMM
	}
	return mm, known
}

// followedBy reports whether o is the hour k hours after h. A clock that is set
// back or forward breaks the row, and the hours around it stay unknown.
func (h *Hour) followedBy(o *Hour, k int) bool {
	return (int(o.Date)*24+o.Of)-(int(h.Date)*24+h.Of) == k
}

// SprayWindow is a stretch of hours that are fit, one after the other.
type SprayWindow struct {
	Date     civil.Date // of its first hour
	From, To int        // hours, local: from the start of From to the start of To; To may be 24
	Grade    SprayGrade // SprayGood if all are good, else SprayMarginal
}

// SprayWindows returns the stretches of good or marginal hours that are at least
// LeastHours long. Windows do not cross midnight. A window of marginal hours
// holds every hour that is not unfit; that of good hours inside it is returned
// before it where it is shorter.
func SprayWindows(hours []GradedHour, l SprayLimits) []SprayWindow {
	least := l.LeastHours
	if least <= 0 {
		least = 2
	}
	var out []SprayWindow
	for i := 0; i < len(hours); {
		if !fit(hours[i].Grade) {
			i++
			continue
		}
		end := i + 1
		for end < len(hours) && fit(hours[end].Grade) && hours[end].Date == hours[i].Date && hours[i].followedBy(&hours[end].Hour, end-i) {
			end++
		}
		if end-i >= least {
			w := SprayWindow{Date: hours[i].Date, From: hours[i].Of, To: hours[end-1].Of + 1, Grade: SprayGood}
			for _, h := range hours[i:end] {
				if h.Grade != SprayGood {
					w.Grade = SprayMarginal
				}
			}
			if w.Grade == SprayMarginal {
				out = append(out, goodStretches(hours[i:end], least)...)
			}
			out = append(out, w)
		}
		i = end
	}
	return out
}

func fit(g SprayGrade) bool { return g == SprayGood || g == SprayMarginal }

// goodStretches returns the stretches of good hours among the hours of one day.
func goodStretches(hours []GradedHour, least int) []SprayWindow {
	var out []SprayWindow
	for i := 0; i < len(hours); {
		end := i
		for end < len(hours) && hours[end].Grade == SprayGood {
			end++
		}
		if end-i >= least {
			out = append(out, SprayWindow{Date: hours[i].Date, From: hours[i].Of, To: hours[end-1].Of + 1, Grade: SprayGood})
		}
		i = max(end, i+1)
	}
	return out
}
