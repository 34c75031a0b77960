package turf

import "math"

// A soil test in parts per million counts a mass of nutrient per mass of soil.
// Over the 10 cm of soil that turf lives in, at 1.5 g of dry soil per cm³, a
// square meter holds 150 kg, so that 1 g/m² is 6.667 ppm. Depth and density as
// in Woods, "How MLSN works" (2020).
const soilKgM2 = 0.10 * 1500

// SoilGM2 turns a soil test, ppm, into g/m² over the top 10 cm.
func SoilGM2(ppm float64) float64 { return ppm * soilKgM2 / 1000 }

// SoilPPM turns g/m² over the top 10 cm into ppm.
func SoilPPM(gM2 float64) float64 { return gM2 * 1000 / soilKgM2 }

// NutrientNeedGM2 is how much of a nutrient to put on, g/m²: what the plants
// will use, plus what is to be left in the soil, minus what the soil has. It is
// zero where the soil has enough, and NaN if any of the three is missing.
//
// Woods, PACE Turf & the Asian Turfgrass Center, "Minimum Levels for
// Sustainable Nutrition soil guidelines" (2014): a + b − c.
func NutrientNeedGM2(useGM2, leaveGM2, hasGM2 float64) float64 {
	need := useGM2 + leaveGM2 - hasGM2
	if math.IsNaN(need) {
		return need
	}
	return max(0, need)
}

// SoilMinimumPPM are the levels of the Minimum Levels for Sustainable Nutrition
// guideline of September 2014, Mehlich-3 extraction, ppm. They are the tenth
// percentile of soils under good turf on professionally kept, mostly sandy
// sites: a floor, not a recommendation for a home lawn.
func SoilMinimumPPM(nutrient string) float64 {
	switch nutrient {
	case "K":
		return 37
	case "P":
		return 21
	case "Ca":
		return 331
	case "Mg":
		return 47
	case "S":
		return 7
	}
	return math.NaN()
}

// NutrientUseGM2 is how much of a nutrient turf takes up with a mass of
// nitrogen, g/m², from the shares of both in its leaves, %.
func NutrientUseGM2(nitrogenGM2, leafNitrogenPct, leafNutrientPct float64) float64 {
	return nitrogenGM2 / leafNitrogenPct * leafNutrientPct
}

// IrrigationNutrientGM2 is what irrigation brings, g/m²: a depth, mm, of water
// with so many mg of the nutrient per liter (ppm).
func IrrigationNutrientGM2(depthMM, ppm float64) float64 { return depthMM * ppm / 1000 }
