package disease

import (
	"math"

	"ligule/internal/pest"
	"ligule/internal/turf"
)

// largePatchModel makes a daily risk of soil temperature times wetness; how open
// the grass is to it counts by the week. The pathogen (Rhizoctonia solani AG 2-2
// LP) infects sheaths from 10 to 30 °C, best at 20 to 25, is stopped by thatch
// above 30 °C, and wants thatch wet for 48 h and more: Aoyagi, Kageyama &
// Hyakumachi 1998, Plant Disease 82:857–863, and Green, Fry, Pair & Tisserat 1993,
// Plant Disease 77:1040–1044. The scales through them are own design.
type largePatchModel struct {
	soil                [4]float64 // trapezoid of the soil temperature, °C
	fullTo, stopsAt     float64    // the week's mean maximum up to which it thrives, and that stops it, °C
	wetDayMM, wetSpanMM float64    // a wet day; much rain in two days, or in seven
	damp, dry           float64    // wetness after a wet week, and without
}

// wetness is 1 after two wet days running, or much rain in two days.
func (m *largePatchModel) wetness(rainMM []float64) float64 {
	n := len(rainMM)
	yesterday, today := rainMM[n-2], rainMM[n-1]
	if yesterday >= m.wetDayMM && today >= m.wetDayMM || yesterday+today >= m.wetSpanMM {
		return 1
	}
	sum := 0.0
	for _, mm := range rainMM {
		sum += mm
	}
	switch {
	case math.IsNaN(sum):
		return math.NaN()
	case sum >= m.wetSpanMM:
		return m.damp
	}
	return m.dry
}

func (m *largePatchModel) day(w *pest.Days, i int) dayRisk {
	if i < pest.WeekDays-1 {
		return unknownRisk(lacksRain)
	}
	warmth := trapezoid(w.SoilC[i], m.soil[0], m.soil[1], m.soil[2], m.soil[3])
	if high := weekMean(w.TmaxC, i); high > m.fullTo {
		warmth *= max(0, (m.stopsAt-high)/(m.stopsAt-m.fullTo))
	}
	switch {
	case math.IsNaN(warmth):
		return unknownRisk(lacksSoil)
	case warmth == 0:
		return dayRisk{0, 0}
	}
	wet := m.wetness(w.RainMM[i-pest.WeekDays+1 : i+1])
	if math.IsNaN(wet) {
		return unknownRisk(lacksRain)
	}
	return dayRisk{warmth * wet, 0}
}

// openness: a fungus gains on grass that grows too slowly to replace what it loses,
// and a dormant lawn has nothing to lose. Own design.
func openness(state turf.State) float64 {
	switch state {
	case turf.GreeningUp, turf.Recovering, turf.Slowing:
		return 1
	case turf.Resting:
		return 0.6
	case turf.Growing:
		return 0.5
	case turf.Flush:
		return 0.3
	case turf.Dormant:
		return 0
	}
	return math.NaN()
}

// trapezoid rises from 0 at a to 1 at b, stays, and falls from 1 at c to 0 at d.
func trapezoid(x, a, b, c, d float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x <= a || x >= d:
		return 0
	case x < b:
		return (x - a) / (b - a)
	case x <= c:
		return 1
	}
	return (d - x) / (d - c)
}
