package turf

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

// The levels of the growth index, compared at three decimals. The published
// breaks of growth potential are 0.50 and 0.10 for temperature alone (growth is
// good from the one, extremely limited below the other); with light and day
// length at about half in autumn they become 0.25 and 0.05. Own design.
const (
	GrowingIndex    = 0.25
	restingIndex    = 0.05
	AwakeIndex      = 0.10 // past freezes keep it asleep below that
	flushIndex      = 0.60
	flushRise       = 0.15 // over flushRiseDays
	rainFlushIndex  = 0.40
	greeningRise    = 0.02 // over trendDays
	fallWhenGrowing = 0.10 // over trendDays, worth naming while still growing
	setBackShare    = 0.5
)

const (
	flushRiseDays = 14
	trendDays     = 21

	// A soaking of soakingMM within soakingDays after dryDays days with less
	// than dryDayMM each brings a flush: rewetting sets nitrogen free. Own
	// design; the day that counts as wet at 1 mm is the World Meteorological
	// Organization's, from memory.
	soakingMM   = 25.4
	soakingDays = 3
	dryDays     = 10
	dryDayMM    = 1.0
)

// At returns what an issue of that date may know: the 7 days before it
// without irrigation, the same for a lawn that is never short of water, and
// the forecast of the 7 days from it on, which is there only for the issue that
// d's weather was seen by. Only observed days make the first two.
func (d *Daily) At(issue civil.Date) Reading {
	last := d.index(issue) - 1
	r := Reading{RainFed: d.growth(last, observedDays, false)}
	if w := d.growth(last, observedDays, true); w.Enough &&
		!(r.RainFed.Enough && w.State == r.RainFed.State && w.MowDays == r.RainFed.MowDays) {
		r.Watered = &w
	}
	if issue != d.Felt.View.IssueDate {
		return r
	}
	if a := d.growth(last+weather.WindowDays, forecastDays, false); a.Days >= weather.WindowValid {
		r.Ahead = &a
	}
	return r
}

// StateAt returns the state of the first answer of At alone, for whoever steps
// through many days.
func (d *Daily) StateAt(issue civil.Date) State {
	g, _ := d.stand(d.index(issue)-1, observedDays, false)
	return g.State
}

// growth works out one window.
func (d *Daily) growth(last int, u use, watered bool) Growth {
	g, w := d.stand(last, u, watered)
	g.Lacks = lacks(g)
	if !math.IsNaN(g.MeanC) {
		g.MowDays, g.MowExactDays = d.Profile.mowing(g.State, g.G)
		g.Falling = d.slowdown(last, u, watered, w, g)
	}
	return g
}

// stand works out how the grass stands in one window. What lies further back is
// always taken from observed days.
func (d *Daily) stand(last int, u use, watered bool) (Growth, window) {
	w := d.window(last, u)
	g := Growth{
		Last: d.Felt.Start.AddDays(last), Days: w.days,
		MeanC: w.meanC, DayLengthH: w.dayLengthH, LightMol: w.lightMol,
		Soil5C: w.soil5C, Soil10C: w.soil10C,
		FT: w.ft, FL: w.fl, FP: w.fp, FW: w.fw,
		G14: d.growthIndex(last-flushRiseDays, observedDays, watered),
		G21: d.growthIndex(last-trendDays, observedDays, watered),

		MowExactDays: math.NaN(),
		TAWMM:        d.TAWMM, RAWMM: d.RAWMM,
		DepletionMM: math.NaN(), NeedMM: math.NaN(),
		RainMM: w.rainMM, ETMM: w.etMM,
	}
	if watered {
		g.FW = 1
	}
	g.SetBack = d.setBack(last, u)
	g.G = w.index(watered)
	if g.SetBack {
		g.G *= setBackShare
	}
	g.Smallest = g.smallestFactor()
	if math.IsNaN(g.MeanC) {
		return g, w
	}
	// The record may end within the window.
	end := min(last, len(d.basis)-1)
	g.FreezeNights = int(d.freezes[end])
	if !watered && end == last && d.BalanceOK[last] {
		g.BalanceOK = true
		g.DepletionMM, g.NeedMM = d.DepletionMM[last], agromet.IrrigationNeedMM(d.DepletionMM[last], d.RAWMM)
	}
	g.State, g.DormantWhy = d.state(last, u, watered, w, g)
	g.Enough = g.State != ""
	return g, w
}

// lacks lists what is missing of a window, in a fixed order.
func lacks(g Growth) []Lack {
	var l []Lack
	for _, c := range [...]struct {
		code Lack
		x    float64
	}{{LacksTemperature, g.MeanC}, {LacksLight, g.FL}, {LacksSoil, g.Soil10C}, {LacksBalance, g.FW}} {
		if math.IsNaN(c.x) {
			l = append(l, c.code)
		}
	}
	return l
}

// smallestFactor returns the factor that limits most; ties fall to the first.
func (g Growth) smallestFactor() Factor {
	smallest, least := Temperature, math.Inf(1)
	for _, c := range [...]struct {
		f Factor
		x float64
	}{{Temperature, g.FT}, {Light, g.FL}, {DayLength, g.FP}, {Water, g.FW}} {
		if quantity.Thousandths(c.x) < least {
			smallest, least = c.f, quantity.Thousandths(c.x)
		}
	}
	return smallest
}

// state returns the state, and why if it is dormant; "" if it cannot be told.
// The first that fits counts, in the order of the constants of [State].
func (d *Daily) state(last int, u use, watered bool, w window, g Growth) (s State, dormantWhy DormantCause) {
	p := d.Profile
	if why, asleep := w.asleep(p); asleep {
		return Dormant, why
	}
	// Without the balance the index is at most what it would be with water.
	most := g.G
	if math.IsNaN(most) {
		most = w.index(true)
	}
	end := min(last, len(d.basis)-1) // the record may end within the window
	if p.Kind == WarmSeason && d.frozen[end] && quantity.Thousandths(most) < AwakeIndex {
		return Dormant, Frozen
	}
	if !watered && end == last && d.droughts[last] >= droughtDays {
		return Dormant, Drought
	}
	x := quantity.Thousandths(g.G)
	switch {
	case math.IsNaN(x):
		return "", ""
	case x >= flushIndex && quantity.Thousandths(x-quantity.Thousandths(g.G14)) >= flushRise,
		!watered && x >= rainFlushIndex && d.soaked(last, u):
		return Flush, ""
	case x >= GrowingIndex:
		return Growing, ""
	case quantity.Thousandths(x-quantity.Thousandths(g.G21)) > greeningRise:
		if d.Felt.Start.AddDays(last).Month() >= recoveringFromMonth {
			return Recovering, ""
		}
		return GreeningUp, ""
	case x < restingIndex:
		return Resting, ""
	}
	return Slowing, ""
}

// recoveringFromMonth parts green-up from recovery: a lawn that gains in July or
// later has come out of drought or heat, not out of winter. Own design.
const recoveringFromMonth = 7

// soaked reports whether a soaking rain that ended a dry spell began in the
// window that ends with day last. Each day of the spell has to be on record.
func (d *Daily) soaked(last int, u use) bool {
	f := d.Felt
	rain := f.View.Days.Col(weather.RainMM)
	if rain == nil {
		return false
	}
	known := func(i int) bool {
		return (u | observedDays).takes(f.View.Basis(weather.RainMM, f.Start.AddDays(i)))
	}
	for first := max(dryDays, last-weather.WindowDays+1); first <= last; first++ {
		sum := 0.0
		for i := first; i <= min(last, first+soakingDays-1); i++ {
			if known(i) {
				sum += rain[i]
			}
		}
		if !(quantity.Thousandths(sum) >= soakingMM) {
			continue
		}
		dry := true
		for i := first - dryDays; i < first; i++ {
			dry = dry && known(i) && quantity.Thousandths(rain[i]) < dryDayMM
		}
		if dry {
			return true
		}
	}
	return false
}
