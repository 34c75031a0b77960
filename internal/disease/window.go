package disease

import (
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/pest"
)

// SoilWindow is a season that opens and closes as the soil at 5 cm, taken as a
// five-day mean, passes a temperature and stays past it for three days.
type SoilWindow struct {
	ID     string
	Title  string
	Rising bool           // spring; else autumn
	Opens  pest.Figure    // temperature
	Closes pest.Figure    // temperature further in the same direction; not known: by Lasts alone
	Lasts  int            // days after which it closes at the latest; 0: by Closes alone
	After  civil.MonthDay // no crossing counts before
	Says   Saying
}

// at returns where the season stands after the days of soil, of which the first
// is start.
func (s *SoilWindow) at(soilC []float64, start civil.Date) pest.WindowState {
	n := len(soilC)
	out := pest.WindowState{ID: s.ID}
	if n == 0 || !slices.ContainsFunc(soilC[max(0, n-pest.WeekDays):], func(x float64) bool { return !math.IsNaN(x) }) {
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
	opened := agromet.Crossing(soilC, from, s.Opens.Value, s.Rising)
	if opened < 0 {
		out.State = pest.WindowBefore
		return out
	}
	closed := n
	if s.Closes.Known() {
		if c := agromet.Crossing(soilC, opened, s.Closes.Value, s.Rising); c >= 0 {
			closed = min(closed, c)
		}
	}
	if s.Lasts > 0 {
		closed = min(closed, opened+s.Lasts)
	}
	if closed < n {
		out.State, out.Since = pest.WindowAfter, start.AddDays(closed)
		return out
	}
	out.State, out.Since = pest.WindowOpen, start.AddDays(opened)
	return out
}
