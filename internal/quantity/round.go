package quantity

import "math"

// Thresholds are compared on rounded values, at the precision at which they are
// printed or kept, so that the last bit of a sum cannot turn an answer. Halves
// are rounded away from zero; NaN stays NaN.

// Tenths rounds to one decimal: what instruments and forecasts are read to.
func Tenths(x float64) float64 { return math.Round(x*10) / 10 }

// Hundredths rounds to two decimals, which is finer than any daily instrument:
// what weather files keep.
func Hundredths(x float64) float64 { return math.Round(x*100) / 100 }

// Thousandths rounds to three decimals: at which what a model worked out is
// compared.
func Thousandths(x float64) float64 { return math.Round(x*1000) / 1000 }

// FloorTenths and FloorHundredths round down, for amounts that must not be
// passed; a last bit below one counts as having reached it.
func FloorTenths(x float64) float64 { return math.Floor(x*10+1e-9) / 10 }

// FloorHundredths is FloorTenths to two decimals.
func FloorHundredths(x float64) float64 { return math.Floor(x*100+1e-9) / 100 }

// HalfUp rounds to a whole number, halves up: of days, the later one.
func HalfUp(x float64) int { return int(math.Floor(x + 0.5)) }

// round rounds to a number of decimals.
func round(x float64, decimals int) float64 {
	p := math.Pow10(decimals)
	return math.Round(x*p) / p
}
