package agromet

import (
	"math"

	"ligule/internal/quantity"
)

// humidRainMM is the rain that makes a day a wet one in
// [EstimatedHumidityPct], mm.
const humidRainMM = 1.0

// EstimatedHumidityPct returns an estimate of the day's mean relative humidity,
// %, 25 to 100, for where none is measured: from the extremes of air
// temperature tmaxC and tminC (°C) and the rain of the day and of the day
// before (mm). To be printed as "estimated from temperature and rain". Not for
// the arid West, not for winter.
//
// Own design, fitted on eight stations of the U.S. Climate Reference Network,
// April to October 2020: bias -0.1, RMSE 8.9 points (9.2 at a station left
// out).
func EstimatedHumidityPct(tmaxC, tminC, rainMM, rainYesterdayMM float64) float64 {
	return clamp(37+0.53*dewAtMinimumHumidityPct(tmaxC, tminC)+6*wetDay(rainMM)+1*wetDay(rainYesterdayMM), 25, 100)
}

// dewAtMinimumHumidityPct returns the day's mean relative humidity, %, if the
// dew point were the minimum temperature: FAO-56 eq. 48 in eq. 19.
func dewAtMinimumHumidityPct(tmaxC, tminC float64) float64 {
	return 100 * SaturationVapourPressureKPa(tminC) / MeanSaturationVapourPressureKPa(tmaxC, tminC)
}

// wetDay returns 1 for a wet day, 0 for a dry one and NaN for one that is not
// known.
func wetDay(rainMM float64) float64 {
	switch mm := quantity.Tenths(rainMM); {
	case mm >= humidRainMM:
		return 1
	case mm < humidRainMM:
		return 0
	}
	return math.NaN()
}
