package spray

import (
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/quantity"
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

// Limits are the limits for one use. The label of the product is the law;
// they are for where it is silent.
type Limits struct {
	HRAC4      bool    // 2,4-D, dicamba and their kin, which are lost as vapor in heat
	RainfastH  float64 // hours without rain after it
	WateredIn  bool    // it is to reach the soil: rain after it does no harm
	FromC, ToC float64 // air temperature at the time, °C; both 0: no limits but those of any spray
	MostWindMS float64 // wind that the label allows; NaN: 10 mph, the usual limit
	ElevationM float64 // of the place, m
}

// leastHours is the length of the shortest window that is worth naming. Own
// design.
const leastHours = 2

// defaultRainfastH (common practice, no source) holds where the label and the
// class are silent.
const defaultRainfastH = 4

// Grade is how fit an hour is for spraying.
type Grade string

// The grades.
const (
	Unknown  Grade = "" // something is missing that could close it
	Good     Grade = "good"
	Marginal Grade = "marginal"
	No       Grade = "no"
)

// Reason is one reason against an hour.
type Reason string

// The reasons that close an hour…
const (
	Windy     Reason = "windy"     // above the label's limit, or 10 mph
	Inversion Reason = "inversion" // an inversion must be assumed
	Vapor     Reason = "vapor"     // 85 °F or more: closes HRAC group 4
	Hot       Reason = "hot"       // 90 °F or more: closes any
	DriesAway Reason = "dries"     // Delta T above 10 °C
	Raining   Reason = "raining"   // it rains in the hour
	RainSoon  Reason = "rain-soon" // it rains before the spray is fast
	Dark      Reason = "dark"      // between sunset and sunrise
	TooWarm   Reason = "too-warm"  // above the limit of the use
	TooCool   Reason = "too-cool"  // below it
)

// …and those that leave it marginal.
const (
	Calm      Reason = "calm"       // below 3 mph: no steady direction
	Breezy    Reason = "breezy"     // above 8 mph, within the limit
	Gusty     Reason = "gusty"      // a gust above the limit
	Dewy      Reason = "dewy"       // Delta T below 2 °C: drops do not dry
	DriesFast Reason = "dries-fast" // Delta T above 8 °C
	Drizzle   Reason = "drizzle"    // a little rain before the spray is fast
)

// closes reports whether the reason closes the hour.
func (r Reason) closes() bool {
	switch r {
	case Windy, Inversion, Vapor, Hot, DriesAway, Raining, RainSoon, Dark, TooWarm, TooCool:
		return true
	}
	return false
}

// GradedHour is an hour with its grade and what speaks against it, in a fixed
// order.
type GradedHour struct {
	Hour
	Grade   Grade
	Reasons []Reason
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
func GradeHours(hours []Hour, l Limits) []GradedHour {
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

func (l Limits) grade(hours []Hour, i int, mostWindMS float64) GradedHour {
	h := hours[i]
	g := GradedHour{Hour: h}
	add := func(when bool, r Reason) {
		if when {
			g.Reasons = append(g.Reasons, r)
		}
	}
	delta := agromet.DeltaTC(h.TC, h.RHPct, l.ElevationM)
	faults, known := agromet.SprayFaults(agromet.SprayHour{
		TC: h.TC, DeltaTC: delta, WindMS: h.WindMS, CloudPct: h.CloudPct, SinceSunriseH: h.SinceSunriseH, ToSunsetH: h.ToSunsetH,
	}, mostWindMS)
	// The wind of the guidance is stricter than the label's, and only warns.
	cautious := quantity.Tenths(h.WindMS) > quantity.Tenths(agromet.CautiousSprayWindMS)
	rain, rainKnown := l.rainAfter(hours, i)
	fromC, toC := l.airC()
	known = known && rainKnown && !math.IsNaN(h.RainMM) && !math.IsNaN(h.SinceSunriseH) && !math.IsNaN(h.ToSunsetH)

	add(faults.Has(agromet.SprayTooWindy), Windy)
	add(faults.Has(agromet.SprayInversion), Inversion)
	add(l.HRAC4 && faults.Has(agromet.SprayVaporLoss), Vapor)
	add(faults.Has(agromet.SprayTooHot), Hot)
	add(faults.Has(agromet.SprayDriesAway), DriesAway)
	add(h.RainMM >= traceMM, Raining)
	add(quantity.Tenths(rain) >= RainTakesOffMM, RainSoon)
	add(h.SinceSunriseH < 0 || h.ToSunsetH < 0, Dark)
	add(quantity.Tenths(h.TC) > toC, TooWarm)
	add(quantity.Tenths(h.TC) < fromC, TooCool)
	add(faults.Has(agromet.SprayTooCalm), Calm)
	add(cautious && !faults.Has(agromet.SprayTooWindy), Breezy)
	add(quantity.Tenths(h.GustMS) > quantity.Tenths(mostWindMS), Gusty)
	add(faults.Has(agromet.SprayDewLikely), Dewy)
	add(faults.Has(agromet.SprayDriesFast) && !faults.Has(agromet.SprayDriesAway), DriesFast)
	add(rain >= traceMM && quantity.Tenths(rain) < RainTakesOffMM, Drizzle)

	switch {
	case slices.ContainsFunc(g.Reasons, Reason.closes):
		g.Grade = No
	case !known:
		g.Grade = Unknown
	case len(g.Reasons) > 0:
		g.Grade = Marginal
	default:
		g.Grade = Good
	}
	return g
}

// rainAfter returns the rain of the hours that the spray needs to become fast,
// mm, and whether all of them are on the list and known. What is known to fall
// counts even where the rest is missing.
func (l Limits) rainAfter(hours []Hour, i int) (mm float64, known bool) {
	known = true
	for k := 1; k <= int(math.Ceil(l.dryH())); k++ {
		if i+k >= len(hours) || !hours[i].followedBy(&hours[i+k], k) || math.IsNaN(hours[i+k].RainMM) {
			known = false
			continue
		}
		mm += hours[i+k].RainMM
	}
	return mm, known
}

// dryH is for how many hours it has to stay dry.
func (l Limits) dryH() float64 {
	switch {
	case l.WateredIn:
		return 0
	case math.IsNaN(l.RainfastH) || l.RainfastH <= 0:
		return defaultRainfastH
	}
	return l.RainfastH
}

// airC are the limits of air temperature, °C.
func (l Limits) airC() (fromC, toC float64) {
	if l.FromC == 0 && l.ToC == 0 {
		return math.Inf(-1), math.Inf(1)
	}
	return l.FromC, l.ToC
}

// followedBy reports whether o is the hour k hours after h. A clock that is set
// back or forward breaks the row, and the hours around it stay unknown.
func (h *Hour) followedBy(o *Hour, k int) bool {
	return (int(o.Date)*24+o.Of)-(int(h.Date)*24+h.Of) == k
}

// Window is a stretch of hours that are fit, one after the other.
type Window struct {
	Date     civil.Date // of its first hour
	From, To int        // hours, local: from the start of From to the start of To; To may be 24
	Grade    Grade      // Good if all are good, else Marginal
}

// Windows returns the stretches of good or marginal hours that are at least two
// hours long. Windows do not cross midnight. A window of marginal hours
// holds every hour that is not unfit; that of good hours inside it is returned
// before it where it is shorter.
func Windows(hours []GradedHour) []Window {
	var out []Window
	for _, hours := range stretches(hours, func(g Grade) bool { return g == Good || g == Marginal }) {
		w := window(hours, Good)
		if slices.ContainsFunc(hours, func(h GradedHour) bool { return h.Grade != Good }) {
			w.Grade = Marginal
			for _, good := range stretches(hours, func(g Grade) bool { return g == Good }) {
				out = append(out, window(good, Good))
			}
		}
		out = append(out, w)
	}
	return out
}

func window(hours []GradedHour, g Grade) Window {
	return Window{Date: hours[0].Date, From: hours[0].Of, To: hours[len(hours)-1].Of + 1, Grade: g}
}

// stretches returns the hours of one day, one after the other, whose grades fit,
// where they are enough for a window.
func stretches(hours []GradedHour, fits func(Grade) bool) (out [][]GradedHour) {
	for i := 0; i < len(hours); {
		end := i
		for end < len(hours) && fits(hours[end].Grade) && hours[end].Date == hours[i].Date && hours[i].followedBy(&hours[end].Hour, end-i) {
			end++
		}
		if end-i >= leastHours {
			out = append(out, hours[i:end])
		}
		i = max(end, i+1)
	}
	return out
}

// RainTakesOffMM is the rain, mm, that takes a leaf spray off before it is fast.
// Own design.
const RainTakesOffMM = 2.5
