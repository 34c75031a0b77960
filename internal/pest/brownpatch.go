package pest

import "math"

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

// estimatedHumidityAllowance is added to the index when the humidity is
// itself estimated, because the estimate misses the wettest nights. Own
// design, fitted on eight stations of the U.S. Climate Reference Network, 2020.
const estimatedHumidityAllowance = 0.5

// brownPatchSoilC is the soil temperature at 5 cm below which the index says
// nothing: it would otherwise warn on mild wet winter nights. The same limit
// stands in the second index of Fidanza, Dernoeden & Grybauskas 1996.
const brownPatchSoilC = 16

// BrownPatchRisk puts the index on a scale from 0 to 1: E of 2 or less is 0, 8
// or more is 1, and nothing is at risk while the soil is below 16 °C. It is NaN
// if either is missing. Own design; only the index and the soil limit are
// published.
func BrownPatchRisk(index, soilC float64) float64 {
	switch {
	case math.IsNaN(index) || math.IsNaN(soilC):
		return math.NaN()
	case soilC < brownPatchSoilC:
		return 0
	}
	return min(max((index-2)/6, 0), 1)
}
