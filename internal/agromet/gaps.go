package agromet

import "math"

// MostFilledGapDays is the longest gap that may be filled in an accumulation
// (degree days, water balance), flagged as estimated; a longer one stops it.
// Own design.
const MostFilledGapDays = 2

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

// StrictMonthlyMeanRule returns the older and stricter "3/5" rule: missing when
// more than 5 days are missing, or more than 3 in a row (World Meteorological
// Organization; as told by the Utah Climate Center).
func StrictMonthlyMeanRule() GapRule { return GapRule{MostMissing: 5, LongestRun: 3} }

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

// NormalHasEnoughYears reports whether a normal over a period of that many
// years may be made from the years that are there: 80 % of them, 24 of 30.
//
// WMO-No. 1203 (from memory).
func NormalHasEnoughYears(have, period int) bool {
	return period > 0 && 5*have >= 4*period
}
