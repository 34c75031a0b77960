package law

import (
	"math"
	"slices"
)

// Max returns the largest sum of rain in inches over any run of whole steps
// that fits into a number of hours; NaN if no step fits or a step is missing
// from all of them.
func (s *RainSteps) Max(hours float64) float64 {
	most := math.NaN()
	if s == nil || s.StepHours <= 0 {
		return most
	}
	n := int(hours / s.StepHours)
	if n < 1 {
		return most
	}
	for i := range s.In {
		sum, any := 0.0, false
		for _, x := range s.In[i:min(i+n, len(s.In))] {
			if !math.IsNaN(x) {
				sum, any = sum+x, true
			}
		}
		if any && !(sum <= most) {
			most = sum
		}
	}
	return most
}

// rain returns the rain in inches that counts for a rule: the most that is
// known to fall within its hours, NaN if nothing is known. A 24-hour figure
// is a lower bound for a longer period and says nothing about a shorter one.
func (w *Weather) rain(basis string, hours int) float64 {
	steps, day := w.ForecastRain, w.ForecastRainIn24h
	if basis == "observed" {
		steps, day = w.ObservedRain, w.ObservedRainIn24h
	}
	x := steps.Max(float64(hours))
	if day != nil && hours >= 24 && !(*day <= x) {
		x = *day
	}
	return x
}

// rainMet reports whether an amount meets a rule's threshold. Amounts are
// compared as they are forecast and printed, in hundredths of an inch.
func (r *Rule) rainMet(in float64) bool {
	if r.RainIn == nil || math.IsNaN(in) {
		return false
	}
	found, limit := math.Round(in*100), math.Round(*r.RainIn*100)
	if r.RainCompare == ">" {
		return found > limit
	}
	return found >= limit
}

// alertMet returns the first alert in force that a rule names.
func (r *Rule) alertMet(w *Weather) (Alert, bool) {
	for _, a := range w.Alerts {
		if named, ok := a.Named(r.Alerts); ok {
			return named, true
		}
	}
	return Alert{}, false
}

// met reports whether the weather meets a rule that hangs on it, whatever else the
// rule asks.
func (r *Rule) met(w *Weather) bool {
	_, alert := r.alertMet(w)
	return alert || r.groundMet(w) != "" || r.rainMet(w.rain(r.RainBasis, r.RainHours))
}

// groundMet returns the first kind of ground that a rule names and finds, or
// "". Frost of unknown depth counts as deep enough.
func (r *Rule) groundMet(w *Weather) string {
	for _, g := range r.Ground {
		if !slices.Contains(w.Ground, g) {
			continue
		}
		if g == "frozen" && r.FrozenDepthIn != nil && w.FrostDepthIn != nil && *w.FrostDepthIn < *r.FrozenDepthIn {
			continue
		}
		return g
	}
	return ""
}
