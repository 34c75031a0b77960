package agromet

import "math"

// LeastRunoffRainMM is the rain of a day from which runoff is worth working
// out, mm: the curve number method is poor for small storms. Own design.
const LeastRunoffRainMM = 25.0

// RunoffMM returns the depth that runs off, mm, of a storm of rainMM (mm) on
// ground of the curve number cn (above 0, up to 100; NaN outside).
//
// USDA Soil Conservation Service (1986), Urban Hydrology for Small Watersheds,
// Technical Release 55, eqs. 2-3 and 2-4, with the retention in mm; checked
// with the inputs of its Example 2-1.
func RunoffMM(rainMM, cn float64) float64 {
	if !(cn > 0 && cn <= 100) || math.IsNaN(rainMM) {
		return math.NaN()
	}
	retentionMM := 25400/cn - 254
	excess := rainMM - 0.2*retentionMM
	if excess <= 0 {
		return 0
	}
	return excess * excess / (rainMM + 0.8*retentionMM)
}

// LawnCurveNumber returns the curve number of open grass on a soil of the
// hydrologic group 'A' (sandy) to 'D' (clayey), with the ground covered to
// coverPct (%). NaN for another group.
//
// Technical Release 55, Table 2-2a; the rows for poorer cover than 75 % were
// read as those of pasture in Table 2-2c, which are the same.
func LawnCurveNumber(group rune, coverPct float64) float64 {
	if group < 'A' || group > 'D' || math.IsNaN(coverPct) {
		return math.NaN()
	}
	i := group - 'A'
	switch {
	case coverPct > 75:
		return [...]float64{39, 61, 74, 80}[i]
	case coverPct >= 50:
		return [...]float64{49, 69, 79, 84}[i]
	}
	return [...]float64{68, 79, 86, 89}[i]
}
