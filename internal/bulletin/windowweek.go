package bulletin

import (
	"ligule/internal/civil"
	"ligule/internal/season"
)

// WindowWeek is where a window of the calendar stands in a week. It is there
// where only the answers are asked for too.
type WindowWeek struct {
	ID    string `json:"id"`
	Kind  string `json:"kind"` // code: "feeding"
	Title string `json:"title"`
	Phase Phase  `json:"phase,omitempty"` // "" without weather
	// Year, with its dates, is the one that is open, else the next: the year in
	// which it opens.
	Year     int        `json:"year,omitempty"`
	Opens    civil.Date `json:"opens,omitzero"`     // zero where it has no date
	OpensBy  string     `json:"opens_by,omitempty"` // code of the basis: "forecast"
	Closes   civil.Date `json:"closes,omitzero"`    // the day after the last
	ClosesBy string     `json:"closes_by,omitempty"`
}

// Phase is where an issue stands to a window: "open", "ahead", "closed", "none",
// "skipped" or "unknown".
type Phase string

// The phases that decide how a window came out.
const (
	WindowOpen    = Phase(season.Open)
	WindowUnknown = Phase(season.CannotSay)
)

// windowWeeks tells the windows of a calendar, in its order; there may be none.
// Without weather there are no readings.
func windowWeeks(c *season.Calendar, readings []season.Reading) []WindowWeek {
	if c == nil || len(c.Windows) == 0 {
		return nil
	}
	out := make([]WindowWeek, len(c.Windows))
	for i, w := range c.Windows {
		out[i] = WindowWeek{ID: w.ID, Kind: string(w.Kind), Title: w.Title}
		if i >= len(readings) {
			continue
		}
		r := readings[i]
		opens, closes := r.Instance.Opens, r.Instance.Closes
		out[i].Phase, out[i].Year = Phase(r.Phase), r.Instance.Year
		out[i].Opens, out[i].OpensBy = opens.When.Date, string(opens.Basis)
		out[i].Closes, out[i].ClosesBy = closes.When.Date, string(closes.Basis)
	}
	return out
}
