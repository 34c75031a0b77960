package pest

import (
	"math"
	"slices"

	"ligule/internal/civil"
)

// SoilWindow is a season that opens and closes as the soil at 5 cm, taken as a
// five-day mean, passes a temperature and stays past it for three days.
type SoilWindow struct {
	ID      string
	Rising  bool           // spring; else autumn
	OpensC  float64        // °C
	ClosesC float64        // further in the same direction, °C; NaN: by Lasts alone
	Lasts   int            // days after which it closes at the latest; 0: by ClosesC alone
	After   civil.MonthDay // no crossing counts before
	Says    Saying
}

// WindowState is where a season stands at an issue.
type WindowState struct {
	ID    string
	State string     // "before", "open" or "after"; "" if the soil is not known
	Since civil.Date // first day of it; zero for "before"
}

// The states of a season.
const (
	WindowBefore = "before"
	WindowOpen   = "open"
	WindowAfter  = "after"
)

const (
	crossingMeanDays  = 5
	crossingLeastDays = 3 // known ones of the five
	crossingHeldDays  = 3
	trendMeanDays     = 30
	trendLeastDays    = 20
)

// Crossing returns the place of the first of three days running on which the
// trailing five-day mean of the soil temperature (°C, a value a day, NaN where
// missing) is at least the level, or when falling at most. Falling, the 30-day
// mean must be falling too on the last of the three, so that a cool spell of
// late summer does not count. Nothing counts before the place from; -1 if it
// does not happen. Own design; the five-day mean is that of the sources.
func Crossing(soilC []float64, from int, levelC float64, rising bool) int {
	run := 0
	for i := max(from, 0); i < len(soilC); i++ {
		mean := trailingMean(soilC, i, crossingMeanDays, crossingLeastDays)
		past := mean >= levelC
		if !rising {
			past = mean <= levelC
		}
		if !past {
			run = 0
			continue
		}
		if run++; run >= crossingHeldDays && (rising || monthFalling(soilC, i)) {
			return i - crossingHeldDays + 1
		}
	}
	return -1
}

// monthFalling reports whether the 30-day mean that ends with day i is below that
// of the day before; false where either is not known.
func monthFalling(soilC []float64, i int) bool {
	return i > 0 && trailingMean(soilC, i, trendMeanDays, trendLeastDays) < trailingMean(soilC, i-1, trendMeanDays, trendLeastDays)
}

// trailingMean is the mean of the days that end with i, rounded to thousandths;
// NaN with fewer than least of them known.
func trailingMean(x []float64, i, days, least int) float64 {
	sum, n := 0.0, 0
	for _, v := range x[max(0, i-days+1) : i+1] {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	if n < least {
		return math.NaN()
	}
	return thousandths(sum / float64(n))
}

// at returns where the season stands after the days of soil, of which the first
// is start.
func (s *SoilWindow) at(soilC []float64, start civil.Date) WindowState {
	n := len(soilC)
	out := WindowState{ID: s.ID}
	if n == 0 || !slices.ContainsFunc(soilC[max(0, n-scoreDays):], func(x float64) bool { return !math.IsNaN(x) }) {
		return out
	}
	today := start.AddDays(n) // the issue date
	guard := s.After.StartIn(today.Year())
	if guard > today {
		guard = s.After.StartIn(today.Year() - 1)
	}
	from := int(guard - start)
	if from < 0 {
		// The record began after the season could have opened: whether it has is
		// not known until the next.
		return out
	}
	opened := Crossing(soilC, from, s.OpensC, s.Rising)
	if opened < 0 {
		out.State = WindowBefore
		return out
	}
	closed := n
	if !math.IsNaN(s.ClosesC) {
		if c := Crossing(soilC, opened, s.ClosesC, s.Rising); c >= 0 {
			closed = min(closed, c)
		}
	}
	if s.Lasts > 0 {
		closed = min(closed, opened+s.Lasts)
	}
	if closed < n {
		out.State, out.Since = WindowAfter, start.AddDays(closed)
		return out
	}
	out.State, out.Since = WindowOpen, start.AddDays(opened)
	return out
}
