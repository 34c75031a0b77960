package disease

import (
	"math"

	"ligule/internal/quantity"
)

// ForArea returns what an area takes at a rate per reference area, all in the
// units of the two: gallons of spray for ft² at gallons per 1000 ft², ounces for
// ft² at ounces per 1000 ft². What product it takes does not depend on the volume
// of spray.
func ForArea(area, rate, reference float64) float64 { return area / reference * rate }

// RoundProduct rounds an amount of product down to a step, so that no label rate
// is passed.
func RoundProduct(amount, step float64) float64 { return math.Floor(amount/step+1e-9) * step }

// SprayDepthMM turns gallons per 1000 ft² into litres per m², which is mm; the
// gallon is 231 cubic inches.
func SprayDepthMM(gallonsPer1000Ft2 float64) float64 {
	return gallonsPer1000Ft2 * literPerGallon / (1000 * quantity.MeterPerFoot * quantity.MeterPerFoot)
}

// SprayGallons is the other way round: mm as gallons per 1000 ft².
func SprayGallons(mm float64) float64 { return mm / SprayDepthMM(1) }

// Gallons are litres in US gallons.
func Gallons(liters float64) float64 { return liters / literPerGallon }

// literPerGallon is exact.
const literPerGallon = 3.785411784
