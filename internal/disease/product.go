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

// InMix returns the product in each volume of spray, from the product rate and
// the spray volume of the same area. Whoever walks at another volume than the mix
// was made for puts on more, or less, of the product by the same factor.
func InMix(productRate, sprayVolume float64) float64 { return productRate / sprayVolume }

const (
	ft2PerAcre      = 43560.0
	ouncesPerPound  = 16.0
	fluidOzPerGal   = 128.0
	per1000PerAcre  = ft2PerAcre / 1000
	mlPerFluidOunce = 29.5735295625 // the US fluid ounce, exactly
)

// ActivePoundsPerAcre returns the active ingredient of one application of a dry
// product, lb/acre, from its rate, oz/1000 ft², and its share of active
// ingredient, 0 to 1. Labels print yearly maxima in these units.
func ActivePoundsPerAcre(ouncesPer1000Ft2, share float64) float64 {
	return ouncesPer1000Ft2 / ouncesPerPound * share * per1000PerAcre
}

// ActivePoundsPerAcreLiquid is [ActivePoundsPerAcre] for a liquid, from its rate,
// fl oz/1000 ft², and its active ingredient, lb/gal.
func ActivePoundsPerAcreLiquid(fluidOuncesPer1000Ft2, poundsPerGallon float64) float64 {
	return fluidOuncesPer1000Ft2 / fluidOzPerGal * poundsPerGallon * per1000PerAcre
}

// UsesLeft returns how many full applications a yearly maximum leaves, from what
// is on record for the same treated ground, and the amount left, never below 0.
// A maximum holds for every square foot: spots at different places do not add up,
// and it is never spread over the lawn. NaN in gives 0 uses.
func UsesLeft(maximum, used, perApplication float64) (uses int, left float64) {
	left = max(0, maximum-used)
	n := math.Floor(left/perApplication + 1e-9)
	if !(n >= 1) || math.IsInf(n, 0) {
		return 0, left
	}
	return int(n), left
}

// UsesLeftOf is the stricter of the uses that a yearly maximum leaves and those
// that a greatest number of applications leaves.
func UsesLeftOf(byAmount, most, done int) int { return min(byAmount, max(0, most-done)) }

// leastMeasurableML is the smallest amount of a product that a household can
// measure: three tenths of a teaspoon. Own design.
const leastMeasurableML = 1.5

// Measurable reports whether a household can measure an amount of liquid product,
// mL. What is too small has to come ready to use, or wait for more patches.
func Measurable(ml float64) bool { return ml >= leastMeasurableML }

// RoundProduct rounds an amount of product down to a step, so that no label rate
// is passed; RoundArea rounds an area up.
func RoundProduct(amount, step float64) float64 { return math.Floor(amount/step+1e-9) * step }

// RoundArea rounds an area up to a step.
func RoundArea(area, step float64) float64 { return math.Ceil(area/step-1e-9) * step }

// SprayDepthMM turns gallons per 1000 ft² into litres per m², which is mm; the
// gallon is 231 cubic inches.
func SprayDepthMM(gallonsPer1000Ft2 float64) float64 {
	return gallonsPer1000Ft2 * literPerGallon / (1000 * quantity.MeterPerFoot * quantity.MeterPerFoot)
}

// SprayGallons is the other way round: mm as gallons per 1000 ft².
func SprayGallons(mm float64) float64 { return mm / SprayDepthMM(1) }

// literPerGallon is exact.
const literPerGallon = 3.785411784
