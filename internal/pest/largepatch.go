package pest

import (
	"math"

	"ligule/internal/turf"
)

// The soil temperatures, °C, between which large patch infects, and those
// between which it is at its best. The pathogen (Rhizoctonia solani AG 2-2 LP)
// infects sheaths from 10 to 30 °C, best at 20 to 25, and is stopped by thatch
// above 30 °C: Aoyagi, Kageyama & Hyakumachi 1998, Plant Disease 82:857–863,
// and Green, Fry, Pair & Tisserat 1993, Plant Disease 77:1040–1044. The
// trapezoid through them, 10–15–23–30, is our own design.
const (
	largePatchFromC, largePatchBestFromC = 10, 15
	largePatchBestToC, largePatchToC     = 23, 30
)

// LargePatchRisk is the day's risk of large patch on a warm-season grass, 0 to
// 1: soil temperature at 5 cm, °C, times wetness, times how open the grass is
// to it. NaN if the soil temperature or the wetness is missing. Own design.
func LargePatchRisk(soilC, wetness float64, state turf.State) float64 {
	return trapezoid(soilC, largePatchFromC, largePatchBestFromC, largePatchBestToC, largePatchToC) * wetness * largePatchOpenness(state)
}

// Wetness limits, mm of rain. Published: thatch wet for 48 h and more (Green
// et al. 1993); the limits are our own.
const (
	wetDayMM  = 1
	wetSpanMM = 13
)

// LargePatchWetness is 1 after two wet days running or 13 mm in two days, 0.6
// after 13 mm in seven days, else 0.3. rainMM holds the seven days that end
// with the day in question; NaN if any of them is missing, unless the last two
// days alone decide. Own design.
func LargePatchWetness(rainMM [7]float64) float64 {
	yesterday, today := rainMM[5], rainMM[6]
	if yesterday >= wetDayMM && today >= wetDayMM || yesterday+today >= wetSpanMM {
		return 1
	}
	sum := 0.0
	for _, mm := range rainMM {
		sum += mm
	}
	switch {
	case math.IsNaN(sum):
		return math.NaN()
	case sum >= wetSpanMM:
		return 0.6
	}
	return 0.3
}

// largePatchOpenness: the fungus gains on grass that grows too slowly to
// replace its sheaths, and a dormant lawn has none to lose. Own design.
func largePatchOpenness(state turf.State) float64 {
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
