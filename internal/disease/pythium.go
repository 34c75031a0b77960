package disease

import (
	"math"

	"ligule/internal/pest"
)

// pythiumModel is a stand-in for days: which hours were humid is not known. The
// limits of temperature, a maximum above 30 °C followed by a minimum above 20 °C,
// are those of Nutter, Cole & Schein 1983, Plant Disease 67:1126–1128, who asked
// for 14 hours with more than 90 % relative humidity; the humidity of two days or
// their rain in place of humid hours is own design.
type pythiumModel struct {
	dayC, nightC         float64 // both to be passed, °C
	humidPct, wetMM      float64 // two-day mean humidity, two-day rain
	mildDayC, mildNightC float64 // both to be reached for the milder rule, °C
	mildWetMM            float64 // with so much rain in two days
	wet, warm            float64 // risk with humidity or rain, and without or by the milder rule
}

// The day runs from noon to noon: the maximum is of the day before.
func (m *pythiumModel) day(w *pest.Days, i int) dayRisk {
	if i < 1 {
		return unknownRisk(lacksTemperature)
	}
	tmax, tmin := w.TmaxC[i-1], w.TminC[i]
	rain := w.RainMM[i-1] + w.RainMM[i]
	rh := (w.RHPct[i-1] + w.RHPct[i]) / 2
	switch {
	case math.IsNaN(tmax + tmin):
		return unknownRisk(lacksTemperature)
	case tmax > m.dayC && tmin > m.nightC:
		switch {
		case rh >= m.humidPct || rain >= m.wetMM:
			return dayRisk{m.wet, 0}
		case math.IsNaN(rain):
			return unknownRisk(lacksRain)
		}
		return dayRisk{m.warm, 0}
	case !(tmax >= m.mildDayC && tmin >= m.mildNightC):
		return dayRisk{0, 0}
	case math.IsNaN(rain):
		return unknownRisk(lacksRain)
	case rain >= m.mildWetMM:
		return dayRisk{m.warm, 0}
	}
	return dayRisk{0, 0}
}
