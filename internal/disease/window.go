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
	ID    string
	Title string
	// Symptoms: it is when the disease shows; else when it infects unseen.
	Symptoms bool
	Rising   bool           // spring; else autumn
	Opens    pest.Figure    // temperature
	Closes   pest.Figure    // temperature further in the same direction; not known: by Lasts alone
	Lasts    int            // days after which it closes at the latest; 0: by Closes alone
	After    civil.MonthDay // no crossing counts before
	Says     Saying
}

// span is one season, as places among the days of a record: the day on which it
// opened and the first day that it was over, and from which issue on each is known.
type span struct{ guard, opened, openedKnown, closed, closedKnown int }

// spans returns the seasons of a record of soil whose first day is start, one for
// each guard day on it. Nothing is found of a season that could have opened before
// the record.
func (s *SoilWindow) spans(soilC []float64, start civil.Date) []span {
	var out []span
	n := len(soilC)
	for year := start.Year(); ; year++ {
		guard := int(s.After.StartIn(year) - start)
		switch {
		case guard > n:
			return out
		case guard < 0:
			continue
		}
		year := soilC[:min(n, guard+daysOfYear)]
		x := span{guard: guard, opened: n, openedKnown: n + 1, closed: n, closedKnown: n + 1}
		if opened := agromet.Crossing(year, guard, s.Opens.Value, s.Rising); opened >= 0 {
			x.opened, x.openedKnown = opened, opened+agromet.CrossingHeldDays
			if s.Closes.Known() {
				if c := agromet.Crossing(year, opened, s.Closes.Value, s.Rising); c >= 0 {
					x.closed, x.closedKnown = c, c+agromet.CrossingHeldDays
				}
			}
			if over := opened + s.Lasts; s.Lasts > 0 && over < x.closedKnown {
				x.closed, x.closedKnown = min(x.closed, over), over+1
			}
		}
		out = append(out, x)
	}
}

// daysOfYear is how long a season is looked for.
const daysOfYear = 366

// at returns where the season stands at the issue before which n days are on
// record.
func (s *SoilWindow) at(spans []span, soilC []float64, start civil.Date, n int) pest.WindowState {
	out := pest.WindowState{ID: s.ID, Symptoms: s.Symptoms}
	if !slices.ContainsFunc(soilC[max(0, n-pest.WeekDays):n], func(x float64) bool { return !math.IsNaN(x) }) {
		return out
	}
	for _, x := range slices.Backward(spans) {
		switch {
		case x.guard > n:
			continue
		case n < x.openedKnown:
			out.State = pest.WindowBefore
		case n >= x.closedKnown:
			out.State, out.Since = pest.WindowAfter, start.AddDays(x.closed)
		default:
			out.State, out.Since = pest.WindowOpen, start.AddDays(x.opened)
		}
		return out
	}
	return out
}
