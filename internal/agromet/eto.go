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
// Note the 273 of eq. 6 beside the 273.16 of the longwave term. The
// standardized equation of ASCE-EWRI for short grass differs by a
// Stefan-Boltzmann constant of 4.901·10⁻⁹ and a rounded 2503 in the slope of the
// vapor pressure curve, together under 1 %: checked with a REF-ET 4.1
// computation for Fallon, Nevada.
func ReferenceETMM(in ReferenceETInput) float64 {
	rso := in.RsoMJ
	if math.IsNaN(rso) {
		rso = ClearSkyRadiationMJ(in.RaMJ, in.ElevationM)
	}
	t := (in.TmaxC + in.TminC) / 2
	u2 := max(LeastWindMS2m, in.WindMS2m)
	delta := VapourPressureSlope(t)
	gamma := PsychrometricConstant(AtmosphericPressureKPa(in.ElevationM))
	vpd := MeanSaturationVapourPressureKPa(in.TmaxC, in.TminC) - in.EaKPa
	rnl := NetLongwaveMJ(in.TmaxC, in.TminC, in.EaKPa, in.RsMJ, rso)
	rn := NetShortwaveMJ(in.RsMJ) - rnl
	return (MMPerMJ*delta*(rn-in.SoilHeatMJ) + gamma*900/(t+273)*u2*vpd) /
		(delta + gamma*(1+0.34*u2))
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
