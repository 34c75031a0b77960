package weather

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/civil"
)

// The standard window, and how many of its days must be observed for it to
// say anything (own design).
const (
	WindowDays  = 7
	WindowValid = 5
)

// Mean returns the mean of one of f's slices, or of any slice with one value
// per day of it, over the observed days among the days that end with last, and
// how many these are. A day is observed when its maximum and its minimum
// temperature both were. Days whose value is NaN do not count. Whether valid
// is enough is for the caller to say (WindowValid of WindowDays); with none the
// mean is NaN.
func (f *Felt) Mean(col []float64, last civil.Date, days int) (mean float64, valid int) {
	var known agromet.Known
	for d := last.AddDays(1 - days); d <= last; d++ {
		if i, ok := f.Index(d); ok && f.Basis(d) == Observed {
			known.Add(col[i])
		}
	}
	return known.Mean(1), known.Days
}

// Total is the sum of a window with how it was found.
type Total struct {
	Sum       float64 // NaN if a day is missing: a sum needs every day
	Days      int     // length of the window
	Estimated int     // days of it that were filled or forecast
	// The lowest rung of the ladder that any day of the window stands on.
	Radiation, Humidity, Wind agromet.Rung
}

// Total returns the sum of one of f's slices over the days that end with last.
func (f *Felt) Total(col []float64, last civil.Date, days int) Total {
	t := Total{Days: days}
	for d := last.AddDays(1 - days); d <= last; d++ {
		i, ok := f.Index(d)
		if !ok {
			t.Sum = math.NaN()
			continue
		}
		t.Sum += col[i]
		if f.Basis(d) > Observed {
			t.Estimated++
		}
		t.Radiation = max(t.Radiation, f.Radiation[i])
		t.Humidity = max(t.Humidity, f.Humidity[i])
		t.Wind = max(t.Wind, f.Wind[i])
	}
	return t
}

// rungs returns the total as package agromet's rules on bands and daily values
// take it.
func (t Total) rungs() agromet.Derived {
	return agromet.Derived{ETMM: t.Sum, Radiation: t.Radiation, Humidity: t.Humidity, Wind: t.Wind}
}

// WeeklyOnly reports whether the days of the window may not be printed singly,
// because one of them rests on temperature alone.
func (t Total) WeeklyOnly() bool { return t.rungs().WeeklyOnly() }

// ETBandPct returns the half-width of the band to print with a total of
// evapotranspiration, %, as [agromet.ETBandPct] of its lowest rungs.
func (t Total) ETBandPct() float64 { return agromet.ETBandPct(t.rungs()) }

// LightBandPct returns the half-width of the band to print with a total of
// light, %, as [agromet.DLIBandPct] of its lowest rung.
func (t Total) LightBandPct() float64 { return agromet.DLIBandPct(t.rungs()) }
