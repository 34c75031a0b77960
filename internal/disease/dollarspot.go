package disease

import (
	"math"

	"ligule/internal/pest"
)

// The range of five-day mean temperature for which the model holds, °C; the
// limits are from memory and from a trade article that repeats them.
const (
	dollarSpotFromC = 10.0
	dollarSpotToC   = 35.0
)

// dollarSpotDays is the length of the means that the model takes.
const dollarSpotDays = 5

// DollarSpotProbability returns the probability, 0 to 1, of dollar spot
// (Clarireedia species) from the means of the last five days of the daily mean
// air temperature, °C, and of the daily mean relative humidity, %:
//
//	z = −11.4041 + 0.0894 RH + 0.1932 T,  P = 1/(1 + e^−z)
//
// It is NaN outside 10 to 35 °C and where an input is missing. Fitted on
// golf-height creeping bentgrass in Wisconsin and Oklahoma; at 20 % it gave the
// control of calendar sprays. It does not turn down in heat, though the disease
// does. The humidity is the true daily mean: the maximum doubles the result.
//
// Smith, Kerns, Walker et al. 2018, PLoS ONE 13(3):e0194216; the coefficients
// were read as several others quote them, who agree, not in the paper's table.
func DollarSpotProbability(t5C, rh5Pct float64) float64 {
	if !(t5C >= dollarSpotFromC && t5C <= dollarSpotToC) {
		return math.NaN()
	}
	return 1 / (1 + math.Exp(-dollarSpotLogit(t5C, rh5Pct)))
}

func dollarSpotLogit(t5C, rh5Pct float64) float64 { return -11.4041 + 0.0894*rh5Pct + 0.1932*t5C }

// dollarSpotModel makes a daily risk of the probability.
type dollarSpotModel struct {
	hotC      float64 // a day is hot with a maximum above this, °C
	hotDays   int     // so many hot days of the five
	hotFactor float64 // slow the disease to this share
}

func (m *dollarSpotModel) day(w *pest.Days, i int) dayRisk {
	if i < dollarSpotDays-1 {
		return unknownRisk(lacksTemperature)
	}
	var t, rh float64
	var flags riskFlags
	hot := 0
	for j := i - dollarSpotDays + 1; j <= i; j++ {
		t += w.TmeanC[j]
		h, estimated := w.Humidity(j)
		rh += h
		if estimated {
			flags |= humidityEstimated
		}
		if w.TmaxC[j] > m.hotC {
			hot++
		}
	}
	t, rh = t/dollarSpotDays, rh/dollarSpotDays
	switch {
	case math.IsNaN(t):
		return unknownRisk(lacksTemperature)
	case t < dollarSpotFromC:
		return dayRisk{0, outsideCold}
	case t > dollarSpotToC:
		return dayRisk{0, outsideHot}
	case math.IsNaN(rh):
		return unknownRisk(lacksHumidity)
	}
	r := DollarSpotProbability(t, rh)
	if hot >= m.hotDays {
		r *= m.hotFactor
	}
	return dayRisk{r, flags}
}
