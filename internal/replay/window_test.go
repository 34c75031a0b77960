package replay

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/season"
)

// weekOf makes a week with one grass and one window.
func weekOf(w civil.Week, phase season.Phase, year int, opens, closes string) toldWeek {
	day := func(s string) civil.Date {
		d, _ := civil.ParseDate(s)
		return d
	}
	return toldWeek{week: w, date: w.Monday().AddDays(-1), zones: []toldZone{{grasses: []toldGrass{{windows: []bulletin.WindowWeek{
		{ID: "feeding", Title: "Feeding season", Phase: bulletin.Phase(phase), Year: year, Opens: day(opens), Closes: day(closes),
			OpensBy: string(season.Happened), ClosesBy: string(season.Expected)},
	}}}}}}
}

func follow(told []toldWeek, years ...int) *Window {
	return windowsOf(told, years, func(t toldWeek) toldGrass { return t.zones[0].grasses[0] })[0]
}

func TestOwnDesignTurnsOfAWindow(t *testing.T) {
	start := civil.Week{Year: 2020, Num: 10}
	type said struct {
		phase season.Phase
		year  int
	}
	const open, ahead, closed, unknown = season.Open, season.Ahead, season.Closed, season.CannotSay
	for _, c := range []struct {
		name               string
		weeks              []said
		opened, over       int // place of the week, -1 for none
		before             bool
		weeksOpen, wavered int
		phase              season.Phase
	}{
		{"opens and closes", []said{{ahead, 2020}, {open, 2020}, {open, 2020}, {closed, 2020}}, 1, 3, false, 2, 0, ""},
		{"the next year's stands ahead once it is over", []said{{ahead, 2020}, {open, 2020}, {ahead, 2021}}, 1, 2, false, 1, 0, ""},
		{"open when the weeks begin", []said{{open, 2020}, {closed, 2020}}, 0, 1, true, 1, 0, ""},
		{"open when they end", []said{{ahead, 2020}, {open, 2020}, {open, 2020}}, 1, -1, false, 2, 0, ""},
		{"taken back and said again", []said{{ahead, 2020}, {open, 2020}, {ahead, 2020}, {open, 2020}, {closed, 2020}}, 1, 4, false, 2, 1, ""},
		{"what cannot be said is not over", []said{{ahead, 2020}, {open, 2020}, {unknown, 2020}, {open, 2020}, {unknown, 2020}}, 1, -1, false, 2, 0, ""},
		{"never", []said{{ahead, 2020}, {ahead, 2020}, {season.NoWindow, 2020}}, -1, -1, false, 0, 0, season.NoWindow},
		{"cannot be said at all", []said{{unknown, 2020}, {unknown, 2020}}, -1, -1, false, 0, 0, unknown},
		{"another year's", []said{{open, 2019}, {open, 2019}, {closed, 2020}}, -1, -1, false, 0, 0, closed},
		{"closed unseen", []said{{ahead, 2020}, {closed, 2020}}, -1, -1, false, 0, 0, closed},
	} {
		t.Run(c.name, func(t *testing.T) {
			var told []toldWeek
			for i, s := range c.weeks {
				told = append(told, weekOf(start.AddWeeks(i), s.phase, s.year, "2020-03-05", "2020-05-01"))
			}
			w := follow(told, 2020)
			require.Len(t, w.Years, 1)
			y := w.Years[0]
			at := func(turn Turn) int {
				for i, wk := range told {
					if wk.week == turn.Week {
						assert.Equal(t, wk.date, turn.Date)
						return i
					}
				}
				return -1
			}
			assert.Equal(t, c.opened, at(y.Opened))
			assert.Equal(t, c.over, at(y.Over))
			assert.Equal(t, c.before, y.Before)
			assert.Equal(t, c.weeksOpen, y.Weeks)
			assert.Equal(t, c.wavered, y.Wavered)
			assert.Equal(t, bulletin.Phase(c.phase), y.Phase)
			if c.opened >= 0 {
				assert.Equal(t, civil.MustDate(2020, 3, 5), y.Opened.Told)
				assert.Equal(t, string(season.Happened), y.Opened.Basis)
			}
			if c.over >= 0 {
				assert.Equal(t, civil.MustDate(2020, 5, 1), y.Over.Told)
				assert.Equal(t, string(season.Expected), y.Over.Basis)
			}
		})
	}
}

// Two windows of the same kind of year, one after the other, do not mix: a
// winter window that is open at New Year belongs to the year that it opened in.
func TestOwnDesignAWindowOverNewYear(t *testing.T) {
	var told []toldWeek
	for i := range 60 {
		w := civil.Week{Year: 2020, Num: 45}.AddWeeks(i)
		switch {
		case i < 2:
			told = append(told, weekOf(w, season.Ahead, 2020, "2020-11-15", "2021-03-01"))
		case i < 17:
			told = append(told, weekOf(w, season.Open, 2020, "2020-11-15", "2021-03-01"))
		case i < 54:
			told = append(told, weekOf(w, season.Ahead, 2021, "2021-11-15", "2022-03-01"))
		default:
			told = append(told, weekOf(w, season.Open, 2021, "2021-11-15", "2022-03-01"))
		}
	}
	w := follow(told, 2020, 2021)
	require.Len(t, w.Years, 2)
	assert.Equal(t, told[2].week, w.Years[0].Opened.Week)
	assert.Equal(t, told[17].week, w.Years[0].Over.Week)
	assert.Equal(t, 2021, w.Years[0].Over.Week.Year)
	assert.Equal(t, told[54].week, w.Years[1].Opened.Week)
	assert.True(t, w.Years[1].Over.Week.IsZero())
	assert.Equal(t, 2, w.Opened.Years)
	assert.Equal(t, 1, w.Over.Years)
	assert.Equal(t, "Feeding season", w.Title)
	assert.Nil(t, windowsOf(told, []int{2020}, func(toldWeek) toldGrass { return toldGrass{} }), "no calendar")
}

func TestOwnDesignSpread(t *testing.T) {
	years := func(dates ...string) (out []WindowYear) {
		for _, s := range dates {
			d, err := civil.ParseDate(s)
			require.NoError(t, err)
			year := d.Year()
			if d.Month() < 6 {
				year-- // an autumn's, come late
			}
			out = append(out, WindowYear{Year: year, Opened: Turn{Date: d}})
		}
		return out
	}
	opened := func(y WindowYear) (civil.Date, bool) { return y.Opened.Date, true }
	for _, c := range []struct {
		name                string
		dates               []string
		early, usual, late  civil.MonthDay
		earlyYear, lateYear int
	}{
		{"three", []string{"2020-09-10", "2021-09-01", "2022-09-05"}, civil.MonthDay{Month: 9, Day: 1}, civil.MonthDay{Month: 9, Day: 5}, civil.MonthDay{Month: 9, Day: 10}, 2021, 2020},
		{"over New Year", []string{"2020-12-28", "2022-01-03", "2022-12-30"}, civil.MonthDay{Month: 12, Day: 28}, civil.MonthDay{Month: 12, Day: 30}, civil.MonthDay{Month: 1, Day: 3}, 2020, 2021},
		{"a leap day counts as the day before", []string{"2021-02-28", "2024-02-29", "2025-02-28"}, civil.MonthDay{Month: 2, Day: 28}, civil.MonthDay{Month: 2, Day: 28}, civil.MonthDay{Month: 2, Day: 28}, 2020, 2020},
		{"half a day is rounded up", []string{"2020-09-01", "2021-09-02"}, civil.MonthDay{Month: 9, Day: 1}, civil.MonthDay{Month: 9, Day: 2}, civil.MonthDay{Month: 9, Day: 2}, 2020, 2021},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := spread(years(c.dates...), opened)
			assert.Equal(t, len(c.dates), s.Years)
			assert.Equal(t, []civil.MonthDay{c.early, c.usual, c.late}, []civil.MonthDay{s.Early(), s.Usual(), s.Late()})
			assert.Equal(t, []int{c.earlyYear, c.lateYear}, []int{s.EarlyYear, s.LateYear})
		})
	}
	text, err := json.Marshal(spread(nil, opened))
	require.NoError(t, err)
	assert.JSONEq(t, `{"years": 0}`, string(text))
	text, err = json.Marshal(spread(years("2020-09-10", "2021-09-01"), opened))
	require.NoError(t, err)
	assert.JSONEq(t, `{"years": 2, "early": "09-01", "early_year": 2021, "usual": "09-06", "late": "09-10", "late_year": 2020}`, string(text))
}
