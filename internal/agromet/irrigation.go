package agromet

import (
	"math"
	"slices"

	"ligule/internal/quantity"
)

// IrrigationNeedMM returns the depth to bring the root zone back to field
// capacity, mm: the depletion depletionMM once it has reached the readily
// available water rawMM (both mm, compared at three decimals), otherwise 0.
//
// FAO-56 chapter 8: irrigate at or before RAW is used up, and never more than
// the depletion.
func IrrigationNeedMM(depletionMM, rawMM float64) float64 {
	switch depletion, raw := quantity.Thousandths(depletionMM), quantity.Thousandths(rawMM); {
	case depletion < raw:
		return 0
	case depletion >= raw:
		return depletionMM
	}
	return math.NaN()
}

// DistributionUniformity returns the low-quarter distribution uniformity DU,
// 0 to 1, of catch-can depths of any one unit: the mean of the lowest quarter
// over the mean of all. NaN unless the cans are a multiple of four, none is
// missing and some water was caught. An audit should have 24 cans or more.
//
// Oki, L.R., Measuring Distribution Uniformity and Calculating Run Time,
// University of California, Davis.
func DistributionUniformity(cans []float64) float64 {
	if len(cans) == 0 || len(cans)%4 != 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(cans))
	quarter, all := 0.0, 0.0
	for i, c := range sorted {
		all += c
		if i < len(sorted)/4 {
			quarter += c
		}
	}
	return 4 * quarter / all
}

// BaseRunTimeMin returns the time to apply netMM (mm) at the precipitation rate
// rateMMH (mm h⁻¹), min, if every spot got the same. By definition.
func BaseRunTimeMin(netMM, rateMMH float64) float64 { return 60 * netMM / rateMMH }

// SchedulingMultiplier returns the factor on the base run time that makes up
// for a distribution uniformity du (0 to 1). The upper bound is 1/du.
//
// Irrigation Association practice (from memory).
func SchedulingMultiplier(du float64) float64 { return 1 / (0.4 + 0.6*du) }

// Cycles splits a run of runMin minutes into equal cycles none of which is
// longer than longestMin, the time after which water begins to run off. Both
// must be above 0 and finite; otherwise n is 0 and eachMin NaN.
//
// Common practice, no source.
func Cycles(runMin, longestMin float64) (n int, eachMin float64) {
	if !(runMin > 0 && longestMin > 0) || math.IsInf(runMin, 1) || math.IsInf(longestMin, 1) {
		return 0, math.NaN()
	}
	n = int(math.Ceil(runMin / longestMin))
	return n, runMin / float64(n)
}
