package disease

import (
	"math"

	"ligule/internal/pest"
)

// BrownPatchIndex is the environmental favorability index E for brown patch
// (Rhizoctonia solani) from the day's mean relative humidity, %, and minimum
// air temperature, °C:
//
//	E = −21.5 + 0.15 RH + 1.4 Tmin − 0.033 Tmin²
//
// A warning stands at E ≥ 6. Fitted on perennial ryegrass in Maryland with
// measurements in the turf; on any other grass, and with humidity from a
// weather shelter, it is a guide only.
//
// Fidanza, Dernoeden & Grybauskas 1996, Phytopathology 86:385–390.
func BrownPatchIndex(tminC, rhPct float64) float64 {
	return -21.5 + 0.15*rhPct + 1.4*tminC - 0.033*tminC*tminC
}

// brownPatchModel makes a daily risk of the index E of [BrownPatchIndex].
type brownPatchModel struct {
	from, full float64 // index at a risk of 0 and of 1
	soilC      float64 // nothing is at risk in soil colder than this, °C
	nightC     float64 // nor in a week whose nights are colder on average, °C
	warmNightC float64 // from such nights on all of it counts, °C
	cooling    float64 // the share that counts while the year cools
	allowance  float64 // added to the index where the humidity is estimated
}

// scale puts the index on a scale from 0 to 1; NaN if either is missing.
func (m *brownPatchModel) scale(index, soilC float64) float64 {
	switch {
	case soilC < m.soilC:
		return 0
	case math.IsNaN(index) || math.IsNaN(soilC):
		return math.NaN()
	}
	return min(max((index-m.from)/(m.full-m.from), 0), 1)
}

func (m *brownPatchModel) day(w *pest.Days, i int) dayRisk {
	soil := soilOrAirC(w, i)
	rh, estimated := w.Humidity(i)
	var flags riskFlags
	index := BrownPatchIndex(w.TminC[i], rh)
	if estimated {
		index += m.allowance
		flags = humidityEstimated
	}
	r := m.scale(index, soil)
	if night := weekMean(w.TminC, i); night < m.warmNightC {
		r *= max(0, (night-m.nightC)/(m.warmNightC-m.nightC))
	}
	if r > 0 && cooling(w, i) {
		r *= m.cooling
	}
	switch {
	case !math.IsNaN(r):
		return dayRisk{r, flags}
	case math.IsNaN(w.TminC[i]):
		return unknownRisk(lacksTemperature)
	case math.IsNaN(soil):
		return unknownRisk(lacksSoil)
	}
	return unknownRisk(lacksHumidity)
}
