package agromet

import (
	"math"

	"ligule/internal/quantity"
)

const (
	// lightRainShare of the reference evapotranspiration is rain that wets
	// the leaves and evaporates (FAO-56 chapter 8).
	lightRainShare = 0.2

	// FrozenETcMM is the evapotranspiration of frozen or snow-covered turf,
	// mm d⁻¹, in place of a crop coefficient (FAO-56 chapter 11, for snow
	// cover of 50 % or more).
	FrozenETcMM = 0.4

	// BalanceSpinUpDays is for how many days a balance has to run from half of the
	// readily available water before it means anything. Common practice, no
	// source.
	BalanceSpinUpDays = 30

	// DepletionBandShare of the total available water is the half-width of
	// the band to print with a depletion: gauges err and showers scatter.
	// Common practice, no source.
	DepletionBandShare = 0.25
)

// CropCoefficient returns the crop coefficient Kc of turf of which the share
// greenFraction (0 to 1) is green, between that of dormant turf kcDormant and
// that of green turf kcGreen. Own design.
func CropCoefficient(kcDormant, kcGreen, greenFraction float64) float64 {
	return kcDormant + (kcGreen-kcDormant)*greenFraction
}

// TotalAvailableWaterMM returns the total available water of the root zone TAW,
// mm, from the water content at field capacity and at wilting point
// (m³ m⁻³) and the depth of the roots rootDepthM (m).
//
// FAO-56 eq. 82; checked with Examples 36 and 37.
func TotalAvailableWaterMM(fieldCapacity, wiltingPoint, rootDepthM float64) float64 {
	return 1000 * (fieldCapacity - wiltingPoint) * rootDepthM
}

// ReadilyAvailableWaterMM returns the readily available water RAW, mm, from the
// total available water tawMM (mm) and the depletion fraction p (0 to 1).
//
// FAO-56 eq. 83; checked with Examples 36 and 37.
func ReadilyAvailableWaterMM(tawMM, p float64) float64 { return p * tawMM }

// DepletionFraction returns the depletion fraction p, 0.1 to 0.8, that a plant
// with the tabled pTable (at 5 mm d⁻¹) has on a day of unstressed crop
// evapotranspiration etcMM (mm d⁻¹). FAO-56 lets pTable itself be lowered by 5
// to 10 % of its value on clay and raised by as much on sand.
//
// FAO-56 Table 22, footnote, and text under eq. 83.
func DepletionFraction(pTable, etcMM float64) float64 {
	return clamp(pTable+0.04*(5-etcMM), 0.1, 0.8)
}

// BalanceInput is one day of the root zone. All depths are mm and 0 or more;
// NaN is missing.
type BalanceInput struct {
	DepletionMM  float64 // depletion at the end of the day before; outside 0 to TAWMM the nearer end counts
	TAWMM        float64 // total available water
	P            float64 // depletion fraction of the day, see [DepletionFraction]
	ETMM         float64 // reference evapotranspiration
	ETcMM        float64 // unstressed crop evapotranspiration Kc·ETo, or [FrozenETcMM]
	RainMM       float64
	RunoffMM     float64 // part of the rain that runs off, see [RunoffMM]
	IrrigationMM float64 // depth that enters the soil
}

// Balance is what a day made of the root zone; depths in mm.
type Balance struct {
	DepletionMM     float64 // depletion at the end of the day, 0 to TAW
	EffectiveRainMM float64 // rain that entered the soil
	PercolationMM   float64 // water lost below the roots
	Ks              float64 // water stress coefficient, 0 to 1
	ETcAdjMM        float64 // evapotranspiration under stress
}

// BalanceStep carries the water balance of the root zone over one day, in this
// order: rain less runoff enters, light rain (less than 0.2 ETo) evaporates
// from the leaves (compared at 0.1 mm, as gauges are read); what the root zone cannot hold drains at once; stress is
// judged on what is left; the day's evapotranspiration is taken. Capillary
// rise is left out: the water table is taken to be deeper than about 1 m.
//
//	D(i) = D(i-1) - EffectiveRain - Irrigation + Percolation + ETcAdj
//
// holds exactly but for rounding. NaN in any input gives NaN throughout.
//
// FAO-56 eqs. 81, 84 to 86 and 88. As printed, eq. 88 takes the day's
// evapotranspiration before draining; this order is that of its Example 38,
// and they differ only on days that refill the root zone.
func BalanceStep(in BalanceInput) Balance {
	// One sum tells whether anything is missing.
	if missing := in.DepletionMM + in.TAWMM + in.P + in.ETMM + in.ETcMM + in.RainMM + in.RunoffMM + in.IrrigationMM; math.IsNaN(missing) {
		nan := math.NaN()
		return Balance{nan, nan, nan, nan, nan}
	}
	var out Balance
	before := clamp(in.DepletionMM, 0, in.TAWMM)
	if quantity.Tenths(in.RainMM) >= quantity.Tenths(lightRainShare*in.ETMM) {
		out.EffectiveRainMM = max(0, in.RainMM-in.RunoffMM)
	}
	entered := out.EffectiveRainMM + in.IrrigationMM
	out.PercolationMM = max(0, entered-before) // eq. 88
	wetted := max(0, before-entered)
	out.Ks = StressCoefficient(wetted, in.TAWMM, ReadilyAvailableWaterMM(in.TAWMM, in.P))
	out.DepletionMM = min(in.TAWMM, wetted+out.Ks*in.ETcMM) // eqs. 85, 86
	out.ETcAdjMM = out.DepletionMM - wetted
	return out
}

// StressCoefficient returns the water stress coefficient Ks, 0 to 1, at the
// depletion depletionMM with the total and readily available water tawMM and
// rawMM (all mm).
//
// FAO-56 eq. 84; checked with Example 37.
func StressCoefficient(depletionMM, tawMM, rawMM float64) float64 {
	if depletionMM <= rawMM && !math.IsNaN(tawMM) {
		return 1
	}
	return max(0, (tawMM-depletionMM)/(tawMM-rawMM))
}
