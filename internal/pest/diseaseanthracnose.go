package pest

import "math"

// anthracnoseFromC is the temperature, °C, below which the index says nothing:
// there, more wetness would lower it, an artifact of the fit. Own design.
const anthracnoseFromC = 15.0

// AnthracnoseIndex returns the severity index of anthracnose (Colletotrichum
// cereale) on annual bluegrass from the mean hours of leaf wetness a day, h, and
// the mean air temperature, °C, of the same three days:
//
//	ASI = 4.0233 − 0.2283 W − 0.5308 T − 0.0013 W² + 0.0197 T² + 0.0155 W T
//
// Symptoms follow 10 to 12 days later. Infection takes an index of 2; 1 to 6 are
// classes of diseased area, and above 6 it is no class of theirs. It is NaN
// below 15 °C, for wetness outside 0 to 24 h and where an input is missing.
//
// Danneberger, Vargas & Jones 1984, Phytopathology 74:448–451: 14 of 16 rises of
// the disease at three places in Michigan, 1982.
func AnthracnoseIndex(wetH, tC float64) float64 {
	if !(tC >= anthracnoseFromC && wetH >= 0 && wetH <= 24) {
		return math.NaN()
	}
	return 4.0233 - 0.2283*wetH - 0.5308*tC - 0.0013*wetH*wetH + 0.0197*tC*tC + 0.0155*wetH*tC
}

// AnthracnoseInfects is the index from which infection is expected.
const AnthracnoseInfects = 2.0
