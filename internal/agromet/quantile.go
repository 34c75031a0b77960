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
