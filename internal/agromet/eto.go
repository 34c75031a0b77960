package agromet

import "math"

const (
	// DefaultWindMS2m is the wind speed at 2 m used where none is known,
	// m s⁻¹: the mean of over 2000 stations (FAO-56 chapter 4).
	DefaultWindMS2m = 2.0

	// LeastWindMS2m is the least wind speed at 2 m that the reference
	// equation is given, m s⁻¹ (FAO-56 chapter 4): below it, the rising of
	// warm air still exchanges vapor.
	LeastWindMS2m = 0.5

	// ETDisagreementWarn is the share by which weekly sums of
	// [ReferenceETMM] and [HargreavesETMM] may differ before the weather
	// behind them is to be looked at. Own design.
	ETDisagreementWarn = 0.25
)

// ReferenceETInput is one day, or the mean day of a month, as
// [ReferenceETMM] needs it. A missing value is NaN.
type ReferenceETInput struct {
	TmaxC      float64 // mean daily maximum air temperature, °C
	TminC      float64 // mean daily minimum air temperature, °C
	EaKPa      float64 // actual vapor pressure, kPa
	RsMJ       float64 // solar radiation, MJ m⁻² d⁻¹
	RaMJ       float64 // extraterrestrial radiation, MJ m⁻² d⁻¹ (not used by the equation when RsoMJ is given)
	RsoMJ      float64 // clear-sky radiation, MJ m⁻² d⁻¹; NaN takes it from RaMJ and ElevationM
	WindMS2m   float64 // mean wind speed at 2 m, m s⁻¹
	ElevationM float64 // elevation above sea level, m
	SoilHeatMJ float64 // soil heat flux G, MJ m⁻² d⁻¹; 0 for a single day or ten
}

// ReferenceETMM returns the reference evapotranspiration of short grass ETo,
// mm d⁻¹, for weather over a well-watered surface. It can be a few tenths
// below zero on a dark, damp winter day, when the surface loses more heat than
// it gains.
//
// Wind below [LeastWindMS2m] counts as that.
//
// FAO-56 eq. 6 (Penman–Monteith), with the floor under the cloud factor of
// ASCE-EWRI (2005), see [NetLongwaveMJ]; checked with Examples 17, 18 and 20.
// Note the 273 of eq. 6 beside the 273.16 of the longwave term.
func ReferenceETMM(in ReferenceETInput) float64 {
	return penmanMonteithMM(in, 1, 1)
}

// penmanMonteithMM is FAO-56 eq. 6, with factors on its Stefan-Boltzmann
// constant and on its slope of the vapor pressure curve.
func penmanMonteithMM(in ReferenceETInput, longwaveFactor, slopeFactor float64) float64 {
	rso := in.RsoMJ
	if math.IsNaN(rso) {
		rso = ClearSkyRadiationMJ(in.RaMJ, in.ElevationM)
	}
	t := (in.TmaxC + in.TminC) / 2
	u2 := max(LeastWindMS2m, in.WindMS2m)
	delta := slopeFactor * VapourPressureSlope(t)
	gamma := PsychrometricConstant(AtmosphericPressureKPa(in.ElevationM))
	vpd := MeanSaturationVapourPressureKPa(in.TmaxC, in.TminC) - in.EaKPa
	rnl := longwaveFactor * NetLongwaveMJ(in.TmaxC, in.TminC, in.EaKPa, in.RsMJ, rso)
	rn := NetShortwaveMJ(in.RsMJ) - rnl
	return (MMPerMJ*delta*(rn-in.SoilHeatMJ) + gamma*900/(t+273)*u2*vpd) /
		(delta + gamma*(1+0.34*u2))
}

// HargreavesETMM returns the reference evapotranspiration ETo, mm d⁻¹, from
// the day's extremes of air temperature tmaxC and tminC (°C) and the
// extraterrestrial radiation raMJ (MJ m⁻² d⁻¹). It reads low in wind above
// 3 m s⁻¹ and high in humid air; here it only checks the plausibility of
// [ReferenceETMM] over weeks. NaN where tmaxC is below tminC.
//
// FAO-56 eq. 52 (Hargreaves and Samani 1985); checked with Example 20.
func HargreavesETMM(tmaxC, tminC, raMJ float64) float64 {
	return 0.0023 * ((tmaxC+tminC)/2 + 17.8) * math.Sqrt(tmaxC-tminC) * MMPerMJ * raMJ
}

// WindAt2mMS returns the wind speed at 2 m over short grass, m s⁻¹, from the
// speed windMS (m s⁻¹) measured at heightM (m above the ground; NaN at and
// below 0.095 m, where the profile has no meaning).
//
// FAO-56 eq. 47; checked with Table 2.9 and Example 14.
func WindAt2mMS(windMS, heightM float64) float64 {
	l := math.Log(67.8*heightM - 5.42)
	if !(l > 0) {
		return math.NaN()
	}
	return windMS * 4.87 / l
}

// MonthlySoilHeatMJ returns the soil heat flux of a month G, MJ m⁻² d⁻¹, from
// the mean air temperature of the month before and the month after (°C).
//
// FAO-56 eq. 43; checked with Example 13.
func MonthlySoilHeatMJ(meanBeforeC, meanAfterC float64) float64 {
	return 0.07 * (meanAfterC - meanBeforeC)
}

// MonthlySoilHeatToDateMJ returns the soil heat flux of a month G,
// MJ m⁻² d⁻¹, where the month after is not known: from the mean air
// temperature of the month before and of the month itself (°C).
//
// FAO-56 eq. 44; checked with Example 17.
func MonthlySoilHeatToDateMJ(meanBeforeC, meanC float64) float64 {
	return 0.14 * (meanC - meanBeforeC)
}

// ETDisagreement returns by what share of referenceMM the sum hargreavesMM
// differs from it, both mm over the same days; see [ETDisagreementWarn].
func ETDisagreement(referenceMM, hargreavesMM float64) float64 {
	return math.Abs(hargreavesMM-referenceMM) / referenceMM
}
