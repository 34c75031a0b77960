package agromet

import (
	"math"
)

// DegreeDayMethod is how a day's degree-days come from its temperatures. A
// threshold belongs to the method, the base and the start date it was published
// with; methods are never mixed.
type DegreeDayMethod string

// The methods.
const (
	// AverageMethod takes the mean of maximum and minimum less the base,
	// neither of them clipped: method 1 of McMaster & Wilhelm 1997, which most
	// turf extension tables used.
	AverageMethod DegreeDayMethod = "average"

	// CappedAverageMethod is the average after the maximum alone has been
	// brought down to the upper limit: the simple method of Ebbenga and others
	// 2022, Frontiers in Insect Science, from its abstract.
	CappedAverageMethod DegreeDayMethod = "capped average"

	// ModifiedMethod clips maximum and minimum to base and upper limit before
	// averaging: method 2 of McMaster & Wilhelm 1997.
	ModifiedMethod DegreeDayMethod = "modified average"

	// SineMethod and DoubleSineMethod lay one sine wave, or two halves, through
	// the day: Baskerville & Emin 1969; Zalom and others 1983.
	SineMethod       DegreeDayMethod = "single sine"
	DoubleSineMethod DegreeDayMethod = "double sine"

	// DailyMeanMethod takes the day's mean as measured or modeled, less the
	// base: the only one for soil, of which no maximum and minimum are known.
	DailyMeanMethod DegreeDayMethod = "daily mean"

	// WarmDaysMethod counts the days whose mean reaches the base. Own design,
	// for insects whose generations are published in days of summer.
	WarmDaysMethod DegreeDayMethod = "warm days"
)

// Cutoff is what a sine method makes of the hours above the upper limit.
type Cutoff string

// The cutoffs of Zalom and others 1983.
const (
	NoCutoff           Cutoff = ""             // no upper limit
	HorizontalCutoff   Cutoff = "horizontal"   // development keeps the rate it has at the limit
	IntermediateCutoff Cutoff = "intermediate" // it slows above the limit as fast as it quickened below
	VerticalCutoff     Cutoff = "vertical"     // it stops above the limit
)

// DegreeDays is a way to add up warmth. All temperatures are °C.
type DegreeDays struct {
	Method DegreeDayMethod
	BaseC  float64 // lower threshold
	UpperC float64 // upper threshold; +Inf is none
	Cutoff Cutoff  // for the sine methods
}

// Day returns the degree-days of a day, °C d (days for WarmDaysMethod), never
// below 0: tmaxC and tminC are the day's maximum and minimum, tminNextC the
// next day's minimum, which the double sine alone needs. NaN if a temperature
// that the method needs is missing, or the maximum is below the minimum.
//
// Zalom, Goodell, Wilson, Barnett & Bentley 1983, Degree-days, University of
// California Leaflet 21373; McMaster & Wilhelm 1997, Agricultural and Forest
// Meteorology 87:291–300.
func (m DegreeDays) Day(tmaxC, tminC, tminNextC float64) float64 {
	switch m.Method {
	case AverageMethod:
		return AverageDegreeDays(tmaxC, tminC, m.BaseC)
	case CappedAverageMethod:
		if !(tmaxC >= tminC) {
			return math.NaN()
		}
		return max(0, (min(tmaxC, m.UpperC)+tminC)/2-m.BaseC)
	case ModifiedMethod:
		return ModifiedDegreeDays(tmaxC, tminC, m.BaseC, m.UpperC)
	case SineMethod:
		return m.sine(tmaxC, tminC)
	case DoubleSineMethod:
		return (m.sine(tmaxC, tminC) + m.sine(max(tmaxC, tminNextC), min(tmaxC, tminNextC))) / 2
	case DailyMeanMethod, WarmDaysMethod:
		if !(tmaxC >= tminC) {
			return math.NaN()
		}
		return m.Mean((tmaxC + tminC) / 2)
	}
	return math.NaN()
}

// Mean returns the degree-days of a day of which only the mean is known, °C d:
// for DailyMeanMethod and WarmDaysMethod. NaN for the other methods, which need
// maximum and minimum.
func (m DegreeDays) Mean(meanC float64) float64 {
	switch {
	case math.IsNaN(meanC):
		return meanC
	case m.Method == DailyMeanMethod:
		return max(0, min(meanC, m.UpperC)-m.BaseC)
	case m.Method == WarmDaysMethod:
		if meanC >= m.BaseC {
			return 1
		}
		return 0
	}
	return math.NaN()
}

// sine returns the degree-days of a single sine wave under the cutoff. The mean
// excess above a threshold t is the sine without an upper limit.
func (m DegreeDays) sine(tmaxC, tminC float64) float64 {
	low := SineDegreeDays(tmaxC, tminC, m.BaseC, math.Inf(1))
	if m.Cutoff == NoCutoff {
		return low
	}
	high := SineDegreeDays(tmaxC, tminC, m.UpperC, math.Inf(1))
	switch m.Cutoff {
	case IntermediateCutoff:
		return max(0, low-2*high)
	case VerticalCutoff:
		return low - high - (m.UpperC-m.BaseC)*shareAbove(tmaxC, tminC, m.UpperC)
	}
	return low - high
}

// shareAbove returns the share of the day, 0 to 1, that a sine wave between
// minimum and maximum spends above t.
func shareAbove(tmaxC, tminC, t float64) float64 {
	switch {
	case tmaxC <= t:
		return 0
	case tminC >= t:
		return 1
	}
	mean, half := (tmaxC+tminC)/2, (tmaxC-tminC)/2
	return (math.Pi/2 - math.Asin((t-mean)/half)) / math.Pi
}

// fahrenheitDegreesPerCelsius is exact.
const fahrenheitDegreesPerCelsius = 1.8

// DegreeDaysF turns degree-days Celsius into degree-days Fahrenheit.
func DegreeDaysF(degreeDaysC float64) float64 { return degreeDaysC * fahrenheitDegreesPerCelsius }

// DegreeDaysC turns degree-days Fahrenheit, such as "GDD50", into degree-days
// Celsius.
func DegreeDaysC(degreeDaysF float64) float64 { return degreeDaysF / fahrenheitDegreesPerCelsius }
