package agromet

import (
	"math"

	"ligule/internal/quantity"
)

const (
	crossingMeanDays  = 5
	crossingLeastDays = 3 // known ones of the five
	trendMeanDays     = 30
	trendLeastDays    = 20
)

// CrossingHeldDays is for how many days running a crossing has to hold: so late it
// is known.
const CrossingHeldDays = 3

// Crossing returns the place of the first of three days running on which the
// trailing five-day mean of the soil temperature (°C, a value a day, NaN where
// missing) is at least the level, or when falling at most. Falling, the 30-day
// mean must be falling too on the last of the three, so that a cool spell of
// late summer does not count. Nothing counts before the place from; -1 if it
// does not happen. Own design; the five-day mean is that of the sources.
func Crossing(soilC []float64, from int, levelC float64, rising bool) int {
	run := 0
	for i := max(from, 0); i < len(soilC); i++ {
		mean := trailingMean(soilC, i, crossingMeanDays, crossingLeastDays)
		past := mean >= levelC
		if !rising {
			past = mean <= levelC
		}
		if !past {
			run = 0
			continue
		}
		if run++; run >= CrossingHeldDays && (rising || monthFalling(soilC, i)) {
			return i - CrossingHeldDays + 1
		}
	}
	return -1
}

// monthFalling reports whether the 30-day mean that ends with day i is below that
// of the day before; false where either is not known.
func monthFalling(soilC []float64, i int) bool {
	return i > 0 && trailingMean(soilC, i, trendMeanDays, trendLeastDays) < trailingMean(soilC, i-1, trendMeanDays, trendLeastDays)
}

// Trend returns by how much the 30-day mean that ends with day i is above that of
// three weeks before, °C; NaN where either is not known. Own design.
func Trend(meanC []float64, i int) float64 {
	const back = 21
	if i < back {
		return math.NaN()
	}
	return trailingMean(meanC, i, trendMeanDays, trendLeastDays) - trailingMean(meanC, i-back, trendMeanDays, trendLeastDays)
}

// trailingMean is the mean of the days that end with i, rounded to thousandths;
// NaN with fewer than least of them known.
func trailingMean(x []float64, i, days, least int) float64 {
	var k Known
	for _, v := range x[max(0, i-days+1) : i+1] {
		k.Add(v)
	}
	return quantity.Thousandths(k.Mean(least))
}
