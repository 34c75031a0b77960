package disease

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/pest"
)

// leastAheadDays is how many forecast days a forecast part needs. Own design.
const leastAheadDays = 4

// The weights of the observed week and of the week ahead. Own design.
const (
	observedShare = 0.6
	aheadShare    = 0.4
)

// aheadWeight returns the weight of a day of the forecast, counted from the
// issue date. Own design: the farther ahead, the less.
func aheadWeight(day int) float64 {
	switch {
	case day < 3:
		return 1
	case day < 5:
		return 0.7
	}
	return 0.5
}

// ObservedScore returns the mean of the daily risks of the seven days before an
// issue date; NaN with fewer than five known. A risk that is not known is NaN.
func ObservedScore(risks []float64) float64 {
	var k agromet.Known
	for _, r := range risks {
		k.Add(r)
	}
	return k.Mean(leastObservedDays)
}

// leastObservedDays is how many of the seven days have to be known. Own design.
const leastObservedDays = 5

// AheadScore returns the weighted mean of the daily risks of the days from the
// issue date on, at most seven; NaN with fewer than four known.
func AheadScore(risks []float64) float64 {
	sum, weights, n := 0.0, 0.0, 0
	for i, r := range risks[:min(len(risks), pest.WeekDays)] {
		if !math.IsNaN(r) {
			sum += aheadWeight(i) * r
			weights += aheadWeight(i)
			n++
		}
	}
	if n < leastAheadDays {
		return math.NaN()
	}
	return sum / weights
}

// WeekScore returns the week score S, 0 to 1, from the scores of the observed
// week and of the week ahead: six tenths of the one and four of the other. With
// no forecast it is the observed score; with nothing observed it is NaN. A
// forecast alone can so make a watch, never an act.
//
// Own design. Precedent: rules for dollar spot that look at the slope of the
// risk over the forecast five days (Zhang, Clarke, Ward & Murphy 2022,
// ASA-CSSA-SSSA meeting abstract 142645).
func WeekScore(observed, ahead float64) float64 {
	if math.IsNaN(ahead) {
		return observed
	}
	return observedShare*observed + aheadShare*ahead
}
