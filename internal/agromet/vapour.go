package agromet

import "math"

// Coefficients of the psychrometer a, °C⁻¹, for
// [VapourPressureFromWetBulbKPa] (FAO-56 eq. 16).
const (
	VentilatedPsychrometer = 0.000662 // forced, about 5 m s⁻¹
	NaturalPsychrometer    = 0.000800 // natural ventilation, about 1 m s⁻¹
	IndoorPsychrometer     = 0.001200 // not ventilated, indoors
)

// aridDewBelowTminC is how far below the minimum temperature the dew point is
// taken in an arid climate, °C: the middle of the 2 to 3 °C of FAO-56 eq. 48
// and annex 6.
const aridDewBelowTminC = 2.5

// SaturationVapourPressureKPa returns the saturation vapor pressure over water
// e°, kPa, at tC (°C). NaN at and below -237.3 °C, where the equation has
// no meaning.
//
// FAO-56 eq. 11; checked with Table 2.3 and Example 3.
func SaturationVapourPressureKPa(tC float64) float64 {
	if !(tC > -237.3) {
		return math.NaN()
	}
	return 0.6108 * math.Exp(17.27*tC/(tC+237.3))
}

// MeanSaturationVapourPressureKPa returns the saturation vapor pressure of a
// day, week or month es, kPa: the mean of e° at the mean daily maximum tmaxC
// and minimum tminC (°C), never e° at the mean temperature.
//
// FAO-56 eq. 12; checked with Example 3.
func MeanSaturationVapourPressureKPa(tmaxC, tminC float64) float64 {
	return (SaturationVapourPressureKPa(tmaxC) + SaturationVapourPressureKPa(tminC)) / 2
}

// VapourPressureSlope returns the slope of the saturation vapor pressure curve
// Δ, kPa °C⁻¹, at tC (°C).
//
// FAO-56 eq. 13; checked with Examples 17 and 18.
func VapourPressureSlope(tC float64) float64 {
	d := tC + 237.3
	return 4098 * SaturationVapourPressureKPa(tC) / (d * d)
}

// AtmosphericPressureKPa returns the mean atmospheric pressure P, kPa, at
// elevationM (m).
//
// FAO-56 eq. 7; checked with Examples 2 and 18.
func AtmosphericPressureKPa(elevationM float64) float64 {
	return 101.3 * math.Pow((293-0.0065*elevationM)/293, 5.26)
}

// PsychrometricConstant returns the psychrometric constant γ, kPa °C⁻¹, at the
// atmospheric pressure pKPa (kPa).
//
// FAO-56 eq. 8; checked with Examples 2, 17 and 18.
func PsychrometricConstant(pKPa float64) float64 {
	return 0.665e-3 * pKPa
}

// VapourPressureFromDewPointKPa returns the actual vapor pressure ea, kPa,
// from the dew point dewC (°C).
//
// FAO-56 eq. 14.
func VapourPressureFromDewPointKPa(dewC float64) float64 {
	return SaturationVapourPressureKPa(dewC)
}

// VapourPressureFromRelativeHumidityKPa returns the actual vapor pressure ea,
// kPa, from the day's extremes of air temperature tmaxC and tminC (°C) and of
// relative humidity rhMaxPct and rhMinPct (%).
//
// FAO-56 eq. 17; checked with Example 5.
func VapourPressureFromRelativeHumidityKPa(tmaxC, tminC, rhMaxPct, rhMinPct float64) float64 {
	return (SaturationVapourPressureKPa(tminC)*rhMaxPct + SaturationVapourPressureKPa(tmaxC)*rhMinPct) / 200
}

// VapourPressureFromMaxHumidityKPa returns the actual vapor pressure ea, kPa,
// from the day's minimum temperature tminC (°C) and maximum relative humidity
// rhMaxPct (%), for when the minimum humidity is missing or doubtful.
//
// FAO-56 eq. 18.
func VapourPressureFromMaxHumidityKPa(tminC, rhMaxPct float64) float64 {
	return SaturationVapourPressureKPa(tminC) * rhMaxPct / 100
}

// VapourPressureFromMeanHumidityKPa returns the actual vapor pressure ea, kPa,
// from the day's extremes of air temperature tmaxC and tminC (°C) and its mean
// relative humidity rhMeanPct (%). The least good of the humidity equations.
//
// FAO-56 eq. 19; checked with Example 5.
func VapourPressureFromMeanHumidityKPa(tmaxC, tminC, rhMeanPct float64) float64 {
	return MeanSaturationVapourPressureKPa(tmaxC, tminC) * rhMeanPct / 100
}

// VapourPressureFromMinTemperatureKPa returns the actual vapor pressure ea,
// kPa, where no humidity is known, taking the dew point as the day's minimum
// temperature tminC (°C), or 2.5 °C lower in an arid climate. Good enough for
// evapotranspiration, not for leaf wetness or spray weather.
//
// FAO-56 eq. 48; checked with Example 20.
func VapourPressureFromMinTemperatureKPa(tminC float64, arid bool) float64 {
	if arid {
		tminC -= aridDewBelowTminC
	}
	return SaturationVapourPressureKPa(tminC)
}

// VapourPressureFromWetBulbKPa returns the actual vapor pressure ea, kPa, from
// the dry-bulb and wet-bulb temperatures tC and wetBulbC (°C), the atmospheric
// pressure pKPa (kPa) and the coefficient of the psychrometer a (°C⁻¹, see
// [VentilatedPsychrometer]).
//
// FAO-56 eqs. 15 and 16.
func VapourPressureFromWetBulbKPa(tC, wetBulbC, pKPa, a float64) float64 {
	return SaturationVapourPressureKPa(wetBulbC) - a*pKPa*(tC-wetBulbC)
}

// DewPointC returns the dew point, °C, of air with the actual vapor pressure
// eaKPa (kPa, above 0; NaN otherwise).
//
// The inverse of FAO-56 eq. 11.
func DewPointC(eaKPa float64) float64 {
	if !(eaKPa > 0) {
		return math.NaN()
	}
	l := math.Log(eaKPa / 0.6108)
	return 237.3 * l / (17.27 - l)
}

// RelativeHumidityPct returns the relative humidity, %, of air at tC (°C) with
// the dew point dewC (°C). Above 100 where the dew point is above the
// temperature, which no valid observation is.
//
// FAO-56 eq. 10 with eq. 14.
func RelativeHumidityPct(tC, dewC float64) float64 {
	return 100 * SaturationVapourPressureKPa(dewC) / SaturationVapourPressureKPa(tC)
}
