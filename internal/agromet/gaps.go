package agromet

import "math"

// GapRule says how many days may be missing from a stretch of days.
type GapRule struct {
	MostMissing int // in all
	LongestRun  int // in a row
}

// MonthlyMeanRule returns the rule for the mean of a month: missing when 11
// days or more are missing, or 5 in a row.
//
// World Meteorological Organization, Guidelines on the Calculation of Climate
// Normals, WMO-No. 1203 (2017).
func MonthlyMeanRule() GapRule { return GapRule{MostMissing: 10, LongestRun: 4} }

// SumRule returns the rule for sums, rain or degree days: every day is needed
// (WMO-No. 1203).
func SumRule() GapRule { return GapRule{} }

// Allows reports whether the days, NaN where missing, keep within the rule.
// No days at all do not.
func (r GapRule) Allows(days []float64) bool {
	missing, run := 0, 0
	for _, v := range days {
		if !math.IsNaN(v) {
			run = 0
			continue
		}
		missing++
		run++
		if missing > r.MostMissing || run > r.LongestRun {
			return false
		}
	}
	return len(days) > missing
}

// Mean returns the mean of the known days if what is missing keeps within the
// rule, else NaN.
func (r GapRule) Mean(days []float64) float64 {
	if !r.Allows(days) {
		return math.NaN()
	}
	var k Known
	for _, x := range days {
		k.Add(x)
	}
	return k.Mean(1)
}

// Total returns the sum of the days. A sum needs every day: NaN with one
// missing, or without days.
func Total(days []float64) float64 {
	if !SumRule().Allows(days) {
		return math.NaN()
	}
	total := 0.0
	for _, x := range days {
		total += x
	}
	return total
}

// Known collects the values of a stretch of days. Missing ones do not count.
type Known struct {
	Sum  float64
	Days int // that are known
}

// Add takes the value of a day.
func (k *Known) Add(x float64) {
	if !math.IsNaN(x) {
		k.Sum += x
		k.Days++
	}
}

// Mean returns the mean of the known days, NaN with fewer than least of them,
// or none.
func (k Known) Mean(least int) float64 { return k.Total(max(1, least)) / float64(k.Days) }

// Total returns the sum of the known days, NaN with fewer than least of them.
func (k Known) Total(least int) float64 {
	if k.Days < least {
		return math.NaN()
	}
	return k.Sum
}

// NormalHasEnoughYears reports whether a normal over a period of that many
// years may be made from the years that are there: 80 % of them, 24 of 30.
//
// WMO-No. 1203 (from memory).
func NormalHasEnoughYears(have, period int) bool {
	return period > 0 && 5*have >= 4*period
}
