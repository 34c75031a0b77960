package agromet

import (
	"math"
	"slices"
)

// Quantile returns the quantile of probability p (0 to 1) of values, which must
// be in ascending order (it panics if they are not). NaN where values is empty
// or holds a NaN, and where p is outside its range.
//
// Definition 8 of Hyndman, R.J., Fan, Y. (1996), Sample quantiles in
// statistical packages, The American Statistician 50:361–365, the one they
// recommend: about median-unbiased whatever the distribution. Spreadsheets use
// definition 7; the two must not be mixed.
func Quantile(values []float64, p float64) float64 {
	n := len(values)
	if n == 0 || !(p >= 0 && p <= 1) || slices.ContainsFunc(values, math.IsNaN) {
		return math.NaN()
	}
	if !slices.IsSorted(values) {
		panic("agromet: Quantile of values out of order")
	}
	m := (p + 1) / 3
	pos := float64(n)*p + m
	// A last bit below a whole number would take the wrong neighbor, with
	// the same result but for that bit; the ends are clamped.
	j := int(math.Floor(pos))
	switch {
	case j < 1:
		return values[0]
	case j >= n:
		return values[n-1]
	}
	g := pos - float64(j)
	return (1-g)*values[j-1] + g*values[j]
}

// MixedQuantile returns the quantile of probability p (0 to 1) of the day on
// which something happens, over years of which some have no such day: days, in
// ascending order, are those of the years that have one; in early years it came
// before any day, in late years after any. It is -Inf or +Inf where it falls
// among those, and NaN without years.
//
// "Nine years in ten see a freeze after 1 March" is the quantile 0.1 of the last
// freeze, years without one being early; of the first freeze they are late.
//
// The mixed distribution of NOAA's data record Last Freeze/Frost Probability
// (dates and no-freeze years apart), with the quantile of [Quantile].
func MixedQuantile(days []float64, early, late int, p float64) float64 {
	n, years := float64(len(days)), early+len(days)+late
	if years == 0 || math.IsNaN(p) {
		return math.NaN()
	}
	q := p*float64(years) - float64(early)
	const lastBit = 1e-9 // a share of exactly 0 or 1 may come out a last bit beside it
	switch {
	case n == 0 && q < 0 || q < -lastBit:
		return math.Inf(-1)
	case n == 0 || q > n+lastBit:
		return math.Inf(1)
	}
	return Quantile(days, min(1, max(0, q/n)))
}
