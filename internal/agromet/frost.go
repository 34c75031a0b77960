package agromet

import (
	"math"

	"ligule/internal/quantity"
)

// FrostClass is how cold a night was, from the minimum in the shelter. The
// surface is colder, so frost forms well above freezing.
type FrostClass uint8

// The classes (U.S. National Weather Service, glossary), by whole °F.
const (
	FrostUnknown FrostClass = iota
	FrostFree               // 37 °F or more
	FrostLikely             // 33 to 36 °F
	Freeze                  // 29 to 32 °F
	HardFreeze              // 28 °F or less
)

// ClassifyFrost returns the class of a night with the minimum tminC (°C). The
// classes are made of whole °F and records hold rounded tenths of °C, so the
// minimum is rounded to whole °F first: -2.2 °C is 28 °F.
func ClassifyFrost(tminC float64) FrostClass {
	switch f := math.Round(quantity.Temperature.To(tminC, "°F")); {
	case math.IsNaN(f):
		return FrostUnknown
	case f <= 28:
		return HardFreeze
	case f <= 32:
		return Freeze
	case f <= 36:
		return FrostLikely
	}
	return FrostFree
}

// MostFreezeGapDays is how many missing days a season may have before its
// event is found and still have a date (Utah Climate Center).
const MostFreezeGapDays = 10

// Sighting is what a search through a season came to.
type Sighting uint8

// The outcomes.
const (
	SightingUnknown Sighting = iota // too many days missing to say
	SightingNone                    // the whole season passed without it
	SightingFound
)

// FirstFreeze returns the index of the first day whose minimum in tminC (°C,
// NaN missing) is at or below levelC (°C): the autumn event, when the slice
// runs from the date that splits the year to the same date of the next. The
// index is -1 unless found. A season in which more than [MostFreezeGapDays]
// days are missing before it is found is unknown. Minimum and level are
// compared at one decimal.
//
// The split (24 July, Utah Climate Center; 1 August, NOAA, from memory) is the
// caller's.
func FirstFreeze(tminC []float64, levelC float64) (index int, s Sighting) {
	return findFreeze(tminC, levelC, 0, 1)
}

// LastFreeze is [FirstFreeze] backwards: the spring event, when the slice runs
// to the date that splits the year.
func LastFreeze(tminC []float64, levelC float64) (index int, s Sighting) {
	return findFreeze(tminC, levelC, len(tminC)-1, -1)
}

func findFreeze(tminC []float64, levelC float64, from, step int) (index int, s Sighting) {
	level := quantity.Tenths(levelC)
	if math.IsNaN(level) {
		return -1, SightingUnknown
	}
	missing := 0
	for i := from; i >= 0 && i < len(tminC); i += step {
		switch t := quantity.Tenths(tminC[i]); {
		case t <= level:
			return i, SightingFound
		case math.IsNaN(t):
			if missing++; missing > MostFreezeGapDays {
				return -1, SightingUnknown
			}
		}
	}
	return -1, SightingNone
}
