package agromet

import "math"

const (
	// solarConstantMJ is the solar constant, MJ m⁻² min⁻¹ (FAO-56 eq. 21).
	solarConstantMJ = 0.0820

	// grassAlbedo is the reflection coefficient of the grass reference crop
	// (FAO-56 eq. 38).
	grassAlbedo = 0.23

	// stefanBoltzmannMJ is the Stefan-Boltzmann constant, MJ K⁻⁴ m⁻² d⁻¹
	// (FAO-56 eq. 39).
	stefanBoltzmannMJ = 4.903e-9

	// radiationKelvinOffset turns °C into K in the longwave term. FAO-56
	// eq. 39 prints 273.16, not 273.15.
	radiationKelvinOffset = 273.16

	// leastCloudRatio is the floor of Rs/Rso in the longwave term
	// (ASCE-EWRI 2005, The ASCE Standardized Reference Evapotranspiration
	// Equation, eq. 18); FAO-56 has the ceiling of 1 alone.
	leastCloudRatio = 0.3

	// MMPerMJ is the depth of water that 1 MJ m⁻² evaporates, mm (FAO-56
	// eq. 20).
	MMPerMJ = 0.408

	// InteriorRadiationK and CoastalRadiationK are the adjustment
	// coefficients of [RadiationFromTemperatureMJ], °C^-0.5, where land and
	// where a large water body rules the air mass (FAO-56 eq. 50).
	InteriorRadiationK = 0.16
	CoastalRadiationK  = 0.19

	// LightIntegralPerMJ is the daily light integral of 1 MJ m⁻² of solar
	// radiation, mol: 45 % of the energy is photosynthetically active
	// (common use; annual means 0.41 to 0.48 over the world, Akitsu et al.
	// 2022) and carries 4.57 µmol per joule (McCree 1972, from memory).
	LightIntegralPerMJ = 0.45 * 4.57
)

// InverseRelativeDistance returns the inverse relative distance Earth–Sun dr
// on day of year doy (1 to 366), dimensionless, 0.967 to 1.033. The divisor
// stays 365 in leap years.
//
// FAO-56 eq. 23; checked with Example 8.
func InverseRelativeDistance(doy int) float64 {
	return 1 + 0.033*math.Cos(2*math.Pi*float64(doy)/365)
}

// SolarDeclination returns the declination of the sun δ on day of year doy
// (1 to 366), rad, -0.409 to 0.409.
//
// FAO-56 eq. 24; checked with Example 8.
func SolarDeclination(doy int) float64 {
	return 0.409 * math.Sin(2*math.Pi*float64(doy)/365-1.39)
}

// SunsetHourAngle returns the sunset hour angle ωs, rad, 0 (the sun does not
// rise) to π (it does not set), at latitude latRad (rad, north positive) and
// declination declRad (rad).
//
// FAO-56 eq. 25, the argument of the arc cosine clamped to [-1, 1]; checked
// with Example 8.
func SunsetHourAngle(latRad, declRad float64) float64 {
	return math.Acos(clamp(-math.Tan(latRad)*math.Tan(declRad), -1, 1))
}

// SunOfDay returns the daily radiation at the top of the atmosphere Ra,
// MJ m⁻² d⁻¹, 0 or more, and the geometric length of the day N, h, 0 to 24, at
// latitude latRad (rad, north positive) on day of year doy (1 to 366). FAO-56
// limits Ra to latitudes below 55° in the winter months. N knows neither
// refraction nor the sun's disc: for clock times use [SunTimes].
//
// FAO-56 eqs. 21 and 34; checked with Examples 8 to 10, 17 and 18.
func SunOfDay(latRad float64, doy int) (raMJ, daylightH float64) {
	decl := SolarDeclination(doy)
	ws := SunsetHourAngle(latRad, decl)
	ra := 24 * 60 / math.Pi * solarConstantMJ * InverseRelativeDistance(doy) *
		(ws*math.Sin(latRad)*math.Sin(decl) + math.Cos(latRad)*math.Cos(decl)*math.Sin(ws)) // eq. 21
	// The bracket is never negative but for the last bit, at the edge of
	// the polar night.
	return max(0, ra), 24 / math.Pi * ws // eq. 34
}

// DaylightHours returns the geometric length of the day alone, see [SunOfDay].
func DaylightHours(latRad float64, doy int) float64 {
	_, daylightH := SunOfDay(latRad, doy)
	return daylightH
}

// ClearSkyRadiationMJ returns the solar radiation of a cloudless day Rso,
// MJ m⁻² d⁻¹, from the extraterrestrial radiation raMJ (MJ m⁻² d⁻¹) and the
// elevation elevationM (m).
//
// FAO-56 eq. 37; checked with Examples 11 and 18.
func ClearSkyRadiationMJ(raMJ, elevationM float64) float64 {
	return (0.75 + 2e-5*elevationM) * raMJ
}

// RadiationFromSunshineMJ returns the solar radiation Rs, MJ m⁻² d⁻¹, from
// the extraterrestrial radiation raMJ (MJ m⁻² d⁻¹), the hours of bright
// sunshine and the geometric day length daylightH (h). NaN where the day has
// no length or sunshineH is negative.
//
// FAO-56 eq. 35 (Ångström, 0.25 and 0.50); checked with Examples 10 and 18.
// Sunshine longer than the day counts as the whole day (own design: recorders
// round up).
func RadiationFromSunshineMJ(raMJ, sunshineH, daylightH float64) float64 {
	if !(daylightH > 0 && sunshineH >= 0) {
		return math.NaN()
	}
	return (0.25 + 0.50*min(1, sunshineH/daylightH)) * raMJ
}

// RadiationFromCloudMJ returns the solar radiation Rs, MJ m⁻² d⁻¹, from the
// clear-sky radiation rsoMJ (MJ m⁻² d⁻¹) and the total cloud cover
// cloudFraction, 0 (clear) to 1 (overcast); NaN outside that range.
//
// Kasten, F., Czeplak, G. (1980), Solar and terrestrial radiation dependent on
// the amount and type of cloud, Solar Energy 24:177–189. A relation for hourly
// total cloud: from a daily mean of cloud it reads high, and it is far less
// steep than Ångström at partial cloud, so the two must not be mixed in one
// series.
func RadiationFromCloudMJ(rsoMJ, cloudFraction float64) float64 {
	if !(cloudFraction >= 0 && cloudFraction <= 1) {
		return math.NaN()
	}
	return rsoMJ * (1 - 0.75*math.Pow(cloudFraction, 3.4))
}

// RadiationFromTemperatureMJ returns the solar radiation Rs, MJ m⁻² d⁻¹, from
// the extraterrestrial and clear-sky radiation raMJ and rsoMJ (MJ m⁻² d⁻¹),
// the day's extremes of air temperature tmaxC and tminC (°C) and the
// coefficient k ([InteriorRadiationK], [CoastalRadiationK]), at most rsoMJ.
// NaN where tmaxC is below tminC. Not for islands less than 20 km wide. FAO-56
// asks that values from temperature be used as sums or means over several
// days only.
//
// FAO-56 eq. 50 (Hargreaves); checked with Example 15.
func RadiationFromTemperatureMJ(raMJ, rsoMJ, tmaxC, tminC, k float64) float64 {
	return min(rsoMJ, k*math.Sqrt(tmaxC-tminC)*raMJ)
}

// NetShortwaveMJ returns the net shortwave radiation of the grass reference
// Rns, MJ m⁻² d⁻¹, from the solar radiation rsMJ (MJ m⁻² d⁻¹).
//
// FAO-56 eq. 38, albedo 0.23; checked with Example 12.
func NetShortwaveMJ(rsMJ float64) float64 {
	return (1 - grassAlbedo) * rsMJ
}

// NetLongwaveMJ returns the net outgoing longwave radiation Rnl, MJ m⁻² d⁻¹,
// from the day's extremes of air temperature tmaxC and tminC (°C), the actual
// vapor pressure eaKPa (kPa), and the solar and clear-sky radiation rsMJ and
// rsoMJ (MJ m⁻² d⁻¹). NaN where rsoMJ is not positive (the sun does not rise).
//
// FAO-56 eq. 39, with the floor of 0.3 under Rs/Rso of ASCE-EWRI (2005)
// eq. 18; checked with Examples 11, 17 and 18.
func NetLongwaveMJ(tmaxC, tminC, eaKPa, rsMJ, rsoMJ float64) float64 {
	if !(rsoMJ > 0) {
		return math.NaN()
	}
	emitted := (blackbodyMJ(tmaxC) + blackbodyMJ(tminC)) / 2
	humidity := 0.34 - 0.14*math.Sqrt(eaKPa)
	cloud := 1.35*clamp(rsMJ/rsoMJ, leastCloudRatio, 1) - 0.35
	return emitted * humidity * cloud
}

// blackbodyMJ returns σT⁴, MJ m⁻² d⁻¹, at tC (°C). FAO-56 Table 2.8.
func blackbodyMJ(tC float64) float64 {
	k := tC + radiationKelvinOffset
	return stefanBoltzmannMJ * k * k * k * k
}

// LightIntegralMol returns the daily light integral, mol m⁻² d⁻¹, of the solar
// radiation rsMJ (MJ m⁻² d⁻¹): about 2.06 rsMJ, good to ±10 %. See
// [LightIntegralPerMJ].
func LightIntegralMol(rsMJ float64) float64 {
	return LightIntegralPerMJ * rsMJ
}

// clamp keeps x within [low, high]; NaN stays NaN.
func clamp(x, low, high float64) float64 {
	return min(high, max(low, x))
}
