package season

import (
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// NormalsWindowDays is the centered window over which the days of all years are
// pooled. Common practice, no source.
const NormalsWindowDays = 15

// Normal is what a daily quantity usually is on a day of the year. NaN where too
// few years are on file.
type Normal struct {
	Years     int     // that count
	Mean      float64 // of the days of the window in all of them
	Median    float64
	Low, High float64 // ends of the middle 60 %
}

// NormalOn returns the normal of the day of the year that d is, of a quantity
// with one value a day from start on (NaN missing), over the calendar years from
// firstYear to lastYear. Of each year the 15 days around the day count, if at
// least eight of them are known and no more than four are missing in a row;
// windows reach over New Year into the years beside the period. At least 80 % of
// the years of the period must count. 29 February is pooled with 28 February,
// and has its normal.
//
// World Meteorological Organization, Guidelines on the Calculation of Climate
// Normals, WMO-No. 1203 (2017): 80 % of the years (from memory), and four
// missing days in a row; the pooled window is common practice, its eight days
// own design. The quantiles are [agromet.Quantile].
func NormalOn(start civil.Date, col []float64, firstYear, lastYear int, d civil.Date) Normal {
	const half, least = NormalsWindowDays / 2, NormalsWindowDays/2 + 1
	rule := agromet.GapRule{MostMissing: NormalsWindowDays - least, LongestRun: agromet.MonthlyMeanRule().LongestRun}
	years := 0
	var values []float64
	var window [NormalsWindowDays + 1]float64 // with a 29 February
	for year := firstYear; year <= lastYear; year++ {
		day := civil.OnYearPlace(year, d.YearPlace())
		first, last := day.AddYearDays(-half), day.AddYearDays(half)
		if civil.IsLeap(last.Year()) && last.YearPlace() == civil.Feb28 {
			last++
		}
		w := window[:int(last-first)+1]
		for i := range w {
			w[i] = at(start, col, first.AddDays(i))
		}
		if !rule.Allows(w) {
			continue
		}
		years++
		for _, x := range w {
			if !math.IsNaN(x) {
				values = append(values, x)
			}
		}
	}
	if !agromet.NormalHasEnoughYears(years, lastYear-firstYear+1) {
		values = nil
	}
	mean := agromet.Total(values) / float64(len(values))
	slices.Sort(values)
	return Normal{Years: years, Mean: mean, Median: agromet.Quantile(values, 0.5),
		Low: agromet.Quantile(values, 0.2), High: agromet.Quantile(values, 0.8)}
}

func at(start civil.Date, col []float64, d civil.Date) float64 {
	if i := int(d - start); i >= 0 && i < len(col) {
		return col[i]
	}
	return math.NaN()
}

// Stretch returns the days from first to last of a quantity with one value a
// day from start on; NaN where it has none.
func Stretch(start civil.Date, col []float64, first, last civil.Date) []float64 {
	x := make([]float64, max(0, int(last-first)+1))
	for i := range x {
		x[i] = at(start, col, first.AddDays(i))
	}
	return x
}

// Standing is where a value stands among those of other years.
type Standing struct {
	Value               float64
	Years               int // with a value
	Below, Equal, Above int // years whose value is below, equal to, above Value
}

// Share returns the share of the years, 0 to 1, whose value is below this one,
// equal ones counted by half: 0.9 is "more than in nine years of ten". NaN
// without years.
func (s Standing) Share() float64 {
	if s.Years == 0 {
		return math.NaN()
	}
	return (float64(s.Below) + float64(s.Equal)/2) / float64(s.Years)
}

// StandingOf returns where value stands among the values of other years, of
// which missing ones do not count. Values are compared at three decimals. No
// years for a missing value.
func StandingOf(value float64, years []float64) Standing {
	s := Standing{Value: value}
	if math.IsNaN(value) {
		return s
	}
	for _, x := range years {
		switch x, v := quantity.Thousandths(x), quantity.Thousandths(value); {
		case math.IsNaN(x):
			continue
		case x < v:
			s.Below++
		case x > v:
			s.Above++
		default:
			s.Equal++
		}
		s.Years++
	}
	return s
}

// SameDays returns, of each year from firstYear to the year before that of
// first, what of makes of the days that have the dates first to last: a mean or
// a sum, NaN where it can make nothing of them. A stretch of more than a year is
// a mistake of the caller and panics.
func SameDays(start civil.Date, col []float64, first, last civil.Date, firstYear int, of func(days []float64) float64) []float64 {
	if last-first > civil.YearDays {
		panic("season: SameDays of more than a year")
	}
	var out []float64
	length := last.YearDaysSince(first)
	for year := firstYear; year < first.Year(); year++ {
		from := civil.OnYearPlace(year, first.YearPlace())
		out = append(out, of(Stretch(start, col, from, from.AddYearDays(length))))
	}
	return out
}
