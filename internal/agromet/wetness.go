package agromet

import (
	"math"

	"ligule/internal/quantity"
)

const (
	wetHumidityPct = 90.0

	// cartHeightM is the height whose wind [WetHourCART] is given, m.
	cartHeightM = 0.3

	// WetnessBandH is the half-width of the band to print with
	// [WetHoursFromDewPoint], h. Own design, unvalidated.
	WetnessBandH = 3.0
)

// WetHour reports whether leaves are wet in an hour of mean relative humidity
// rhPct (%) and rain rainMM (mm): from 90 % on, or in any rain. Known is false
// when what is missing could change the answer.
//
// Sentelhas, P.C., Dalla Marta, A., Orlandini, S., Santos, E.A., Gillespie,
// T.J., Gleason, M.L. (2008), Suitability of relative humidity as an estimator
// of leaf wetness duration, Agricultural and Forest Meteorology 148:392–400
// (title and result read, volume and pages from memory): right in 0.87 to 0.92
// of the hours at four sites. That rain wets leaves is ours to add.
func WetHour(rhPct, rainMM float64) (wet, known bool) {
	if rhPct >= wetHumidityPct || rainMM > 0 {
		return true, true
	}
	return false, !math.IsNaN(rhPct) && !math.IsNaN(rainMM)
}

// WetHourCART reports whether leaves are wet in an hour by classification: air
// temperature tC (°C, above 0), relative humidity rhPct (%), wind speed at
// 0.3 m windMS03 (m s⁻¹, see [WindAt03mMS]) and dew-point depression dpdC (°C).
// Known is false at and below 0 °C and when anything is missing.
//
// Kim, K.S., Taylor, S.E., Gleason, M.L., Koehler, K.J. (2002), Model to
// enhance site-specific estimation of leaf wetness duration, Plant Disease
// 86:179–185. The calm branch was read as others quote it; in the windy branch
// the square of the humidity is from memory: with the first power, as
// others quote it, it could never say "wet".
func WetHourCART(tC, rhPct, windMS03, dpdC float64) (wet, known bool) {
	if !(tC > 0) || math.IsNaN(rhPct) || math.IsNaN(windMS03) || math.IsNaN(dpdC) {
		return false, false
	}
	switch {
	case dpdC >= 3.7:
		return false, true
	case windMS03 < 2.5:
		return cartCalm(tC, rhPct, windMS03, dpdC) > 14.4674, true
	case rhPct >= 87.8:
		return cartWindy(tC, rhPct, windMS03, dpdC) > 37.0, true
	}
	return false, true
}

// cartCalm is the discriminant of [WetHourCART] below 2.5 m s⁻¹.
func cartCalm(tC, rhPct, windMS, dpdC float64) float64 {
	return 1.6064*math.Sqrt(tC) + 0.0036*tC*tC + 0.1531*rhPct - 0.4599*windMS*dpdC - 0.0035*tC*rhPct
}

// cartWindy is the discriminant of [WetHourCART] from 2.5 m s⁻¹ on.
func cartWindy(tC, rhPct, windMS, dpdC float64) float64 {
	return 0.7921*math.Sqrt(tC) + 0.0046*rhPct*rhPct - 2.3889*windMS - 0.0390*tC*windMS + 1.0613*windMS*dpdC
}

// WindAt03mMS returns the wind speed at 0.3 m over short grass, m s⁻¹, from
// that at 2 m windMS2m (m s⁻¹): FAO-56 eq. 47 read backwards, a factor of
// 0.555. That this height serves [WetHourCART] is published, this profile for
// it is own design.
func WindAt03mMS(windMS2m float64) float64 {
	return windMS2m * math.Log(67.8*cartHeightM-5.42) / 4.87
}

// WetHoursFromDewPoint returns the hours of a day with at least 90 % relative
// humidity, h, 0 to 24, taking the vapor pressure of the dew point dewC (°C) as
// constant and the temperature as a sine between tminC and tmaxC (°C; NaN
// where they are the wrong way round). Hours of rain are to be added where
// they are known. Good for ±3 h at best, so only its [WetnessClass] is fit
// for print. The dew point must be a real one: taken from the minimum
// temperature it gives 6 to 9 h on every night of the year.
//
// Own design, unvalidated.
func WetHoursFromDewPoint(tmaxC, tminC, dewC float64) float64 {
	if !(tmaxC >= tminC) {
		return math.NaN()
	}
	t90 := DewPointC(VapourPressureFromDewPointKPa(dewC) / (wetHumidityPct / 100))
	switch {
	case math.IsNaN(t90):
		return math.NaN()
	case t90 <= tminC:
		return 0
	case t90 >= tmaxC:
		return 24
	}
	x := (t90 - (tmaxC+tminC)/2) / ((tmaxC - tminC) / 2)
	return 24 * (0.5 + math.Asin(x)/math.Pi)
}

// WetnessClass is a coarse class of the hours of leaf wetness of a day.
type WetnessClass uint8

// The classes. Own design.
const (
	WetnessUnknown WetnessClass = iota
	WetnessLow                  // less than 8 h
	WetnessMedium               // 8 to 12 h
	WetnessHigh                 // more than 12 h
)

// ClassifyWetness returns the class of wetH hours of leaf wetness.
func ClassifyWetness(wetH float64) WetnessClass {
	switch h := quantity.Tenths(wetH); {
	case math.IsNaN(h):
		return WetnessUnknown
	case h < 8:
		return WetnessLow
	case h <= 12:
		return WetnessMedium
	}
	return WetnessHigh
}

// String returns "low", "medium", "high" or "unknown".
func (c WetnessClass) String() string {
	return [...]string{"unknown", "low", "medium", "high"}[c]
}
