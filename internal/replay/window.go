package replay

import (
	"cmp"
	"encoding/json"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/quantity"
)

// Window is how a window of the calendar came out over the years.
type Window struct {
	ID     string       `json:"id"`
	Title  string       `json:"title"`
	Kind   string       `json:"kind"`
	Years  []WindowYear `json:"years"`  // one for each year that was run
	Opened Spread       `json:"opened"` // issue dates, over the years that have them
	Over   Spread       `json:"over"`
}

// WindowYear is the window that opens in a year, as the issues told it.
type WindowYear struct {
	Year int `json:"year"`

	// Opened is the first issue that said it is open; zero if none did. Before
	// says that it already was in the first week that was run.
	Opened Turn `json:"opened,omitzero"`
	Before bool `json:"before,omitempty"`

	// Over is the first issue after the last open one that said otherwise; zero
	// if none did before the last week that was run.
	Over Turn `json:"over,omitzero"`

	Weeks   int `json:"weeks"`             // that said it is open
	Wavered int `json:"wavered,omitempty"` // how often an issue took "open" back and a later one said it again

	// Phase is, where it was never open, what the last issue of the year said.
	Phase bulletin.Phase `json:"phase,omitempty"`
}

// Turn is an issue that said that a window is open, or over.
type Turn struct {
	Week  civil.Week `json:"week"`
	Date  civil.Date `json:"issue_date"`
	Told  civil.Date `json:"told"`  // the day on which it opened, as that issue told it; or was to close, as the last open issue told it
	Basis string     `json:"basis"` // of that day
}

// Spread is how dates fall over years. Its dates are days of a year of 365, and
// may lie in the year after.
type Spread struct {
	Years              int // that have one
	EarlyYear          int
	LateYear           int
	early, usual, late int // days from 1 January on

	Says *message.Said // the median, with the range; nil where there is none
}

// Early returns the earliest of the dates, Usual their median, Late the latest.
func (s Spread) Early() civil.MonthDay { return monthDay(s.early) }

// Usual is the median.
func (s Spread) Usual() civil.MonthDay { return monthDay(s.usual) }

// Late is the latest.
func (s Spread) Late() civil.MonthDay { return monthDay(s.late) }

// MarshalJSON writes the dates as MM-DD.
func (s Spread) MarshalJSON() ([]byte, error) {
	type spread struct {
		Years     int    `json:"years"`
		Early     string `json:"early,omitempty"`
		EarlyYear int    `json:"early_year,omitempty"`
		Usual     string `json:"usual,omitempty"`
		Late      string `json:"late,omitempty"`
		LateYear  int    `json:"late_year,omitempty"`
	}
	if s.Years == 0 {
		return json.Marshal(spread{})
	}
	return json.Marshal(spread{s.Years, s.Early().String(), s.EarlyYear, s.Usual().String(), s.Late().String(), s.LateYear})
}

// windowsOf follows each window of a calendar through the weeks. It is nil
// without a calendar. Weeks without weather tell nothing of a window.
func windowsOf(told []toldWeek, years []int, pick func(toldWeek) toldGrass) []*Window {
	if len(told) == 0 {
		return nil
	}
	var out []*Window
	for k, w := range pick(told[0]).windows {
		f := follower{said: map[int]bulletin.Phase{}}
		for _, t := range told {
			if now := pick(t).windows[k]; now.Phase != "" {
				f.follow(t, now)
			}
		}
		came := f.done(years)
		out = append(out, &Window{ID: w.ID, Title: w.Title, Kind: w.Kind, Years: came,
			Opened: spread(came, func(y WindowYear) (civil.Date, bool) { return y.Opened.Date, !y.Before }),
			Over:   spread(came, func(y WindowYear) (civil.Date, bool) { return y.Over.Date, true }),
		})
	}
	return out
}

// follower follows one window.
type follower struct {
	all   []openYear
	said  map[int]bulletin.Phase // what the last issue of a year said while the window was not open
	weeks int
}

// openYear is a year of a window that was open at some time.
type openYear struct {
	WindowYear
	closes Turn // as the last open issue told it
}

func (f *follower) follow(t toldWeek, w bulletin.WindowWeek) {
	f.weeks++
	open := -1
	if w.Phase == bulletin.WindowOpen {
		open = slices.IndexFunc(f.all, func(y openYear) bool { return y.Year == w.Year })
		if open < 0 {
			f.all = append(f.all, openYear{WindowYear: WindowYear{
				Year: w.Year, Before: f.weeks == 1, Opened: Turn{t.week, t.date, w.Opens, w.OpensBy},
			}})
			open = len(f.all) - 1
		}
		y := &f.all[open]
		if !y.Over.Week.IsZero() {
			y.Wavered++
			y.Over = Turn{}
		}
		y.Weeks++
		y.closes = Turn{Told: w.Closes, Basis: w.ClosesBy}
	} else {
		f.said[t.week.Year] = w.Phase
	}
	if w.Phase == bulletin.WindowUnknown {
		return // it may be open still
	}
	for i := range f.all {
		if y := &f.all[i]; i != open && y.Over.Week.IsZero() {
			y.Over = Turn{t.week, t.date, y.closes.Told, y.closes.Basis}
		}
	}
}

// done returns one entry for each year that was run.
func (f *follower) done(years []int) []WindowYear {
	var out []WindowYear
	for _, year := range years {
		came := WindowYear{Year: year, Phase: cmp.Or(f.said[year], bulletin.WindowUnknown)}
		if i := slices.IndexFunc(f.all, func(y openYear) bool { return y.Year == year }); i >= 0 {
			came = f.all[i].WindowYear
		}
		out = append(out, came)
	}
	return out
}

// spread puts the dates of several years on one scale.
func spread(years []WindowYear, date func(WindowYear) (civil.Date, bool)) Spread {
	var s Spread
	var days []float64
	for _, y := range years {
		d, ok := date(y)
		if !ok || d.IsZero() {
			continue
		}
		n := d.YearDaysSince(civil.OnYearPlace(y.Year, 0))
		if len(days) == 0 || n < s.early {
			s.early, s.EarlyYear = n, y.Year
		}
		if len(days) == 0 || n > s.late {
			s.late, s.LateYear = n, y.Year
		}
		days = append(days, float64(n))
	}
	if s.Years = len(days); s.Years == 0 {
		return s
	}
	slices.Sort(days)
	s.usual = quantity.HalfUp(agromet.Quantile(days, 0.5))
	parts := []message.Value{message.EveryYear(s.Usual())}
	if s.early != s.late {
		parts = append(parts, message.List(message.Range, message.EveryYear(s.Early()), message.EveryYear(s.Late())))
	}
	s.Says = just(message.List(message.Bracketed, parts...))
	return s
}

// monthDay returns the day that comes so many days after 1 January, in any year.
func monthDay(days int) civil.MonthDay {
	return civil.OnYearPlace(2001, 0).AddYearDays(days).MonthDay()
}
