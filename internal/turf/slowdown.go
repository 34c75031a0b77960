package turf

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

const (
	// lookBackDays is how far back a factor's recent high is looked for, and
	// nearHigh what counts as near it. Own design.
	lookBackDays = 42
	nearHigh     = 0.95
)

// slowdown names what slowed the grass: the factor that fell by the largest
// share over the last 21 days, if by more than a twentieth. It is nil where
// nothing slows: in any state but slowing and resting, and growing with a fall
// of more than 0.10. A grass set back by frost and not slowed by any factor has
// none. Own design.
func (d *Daily) slowdown(last int, u use, watered bool, w window, g Growth) *Slowdown {
	fall := quantity.Thousandths(quantity.Thousandths(g.G21) - quantity.Thousandths(g.G))
	switch {
	case (g.State == Slowing || g.State == Resting) && fall > 0:
	case g.State == Growing && fall > fallWhenGrowing:
	default:
		return nil
	}
	then := d.window(last-trendDays, observedDays)
	cause, least := Factor(""), nearHigh
	for _, f := range [...]Factor{Temperature, Light, DayLength, Water} {
		if f == Water && watered {
			continue
		}
		if share := quantity.Thousandths(w.factor(f) / then.factor(f)); share < least {
			cause, least = f, share
		}
	}
	if cause == "" {
		return nil
	}
	s := &Slowdown{Cause: cause, To: w.factor(cause), Sense: d.sense(cause, last, u, w, then)}
	// The recent past of the factor, back to where it cannot be told.
	var past [lookBackDays]float64
	high, known := then.factor(cause), 0
	for ; known < lookBackDays; known++ {
		x := d.window(last-1-known, observedDays|u).factor(cause)
		if math.IsNaN(x) {
			break
		}
		past[known] = x
		high = max(high, x)
	}
	for i, x := range past[:known] {
		if quantity.Thousandths(x) > quantity.Thousandths(nearHigh*high) {
			s.Since, s.From = d.Felt.Start.AddDays(last-1-i), x
			return s
		}
	}
	// A gap hides the way down: what is known is the level of 21 days ago.
	s.Since, s.From = d.Felt.Start.AddDays(last-trendDays), then.factor(cause)
	return s
}

func (w window) factor(f Factor) float64 {
	switch f {
	case Temperature:
		return w.ft
	case Light:
		return w.fl
	case DayLength:
		return w.fp
	}
	return w.fw
}

// sense tells in which way a factor fell. Light falls by a lower sun or by a
// greyer sky: whichever lost the larger share.
func (d *Daily) sense(cause Factor, last int, u use, now, then window) Sense {
	switch cause {
	case Temperature:
		if now.meanC > d.Profile.OptimumC {
			return Hot
		}
		return Cool
	case DayLength:
		return ShortDays
	case Water:
		return Dry
	}
	sunNow, sunThen := d.sunMJ(last, u), d.sunMJ(last-trendDays, observedDays)
	sun := sunNow / sunThen
	if sky := now.lightMol / then.lightMol / sun; quantity.Thousandths(sky) < quantity.Thousandths(sun) {
		return GreySkies
	}
	return LowSun
}

// sunMJ returns the mean radiation above the air, MJ m⁻² d⁻¹, of the window
// that ends with day last.
func (d *Daily) sunMJ(last int, u use) float64 {
	var m agromet.Known
	d.validDays(last, u, func(i int) { m.Add(d.Felt.RaMJ[i]) })
	return m.Mean(weather.WindowValid)
}
