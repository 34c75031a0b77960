package season

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/weather"
)

// window is a window hung on dates or frosts, without a file.
func window(opens, closes Edge, printed string) Window {
	w := Window{ID: "a-window", Kind: FeedingWindow, Opens: opens, Closes: closes}
	if printed != "" {
		a, b, _ := strings.Cut(printed, "..")
		from, _ := civil.ParseMonthDay(a)
		to, _ := civil.ParseMonthDay(b)
		w.Printed = &PrintedWindow{Window: civil.Window{From: from, To: to}}
	}
	return w
}

func on(month, day int) Edge {
	return Edge{Event: Event{Kind: OnDate, On: civil.MonthDay{Month: month, Day: day}}}
}

// Where an issue stands to a window.
func TestOwnDesignPhases(t *testing.T) {
	day := civil.MustDate
	zoysia := grass(t, "zoysia")
	cold := func(issue civil.Date) *Lawn { // frost from November to April, dormant in winter
		return NewRecord(invented(day(2001, 1, 1), issue, 13, 12)).Lawn(zoysia)
	}
	warm := func(issue civil.Date) *Lawn { // neither
		return NewRecord(invented(day(2001, 1, 1), issue, 22, 6)).Lawn(zoysia)
	}
	few := func(issue civil.Date) *Lawn {
		return NewRecord(invented(issue.AddDays(-900), issue, 13, 12)).Lawn(zoysia)
	}
	frost := func(kind EventKind, offset int) Edge { return Edge{Event{Kind: kind}, offset} }
	dormancy := window(Edge{Event: Event{Kind: Dormancy}}, Edge{Event: Event{Kind: GreenUp}}, "11-15..04-20")
	growing := window(frost(LastFrost, 14), frost(FirstFrost, -42), "05-01..09-15")
	for _, c := range []struct {
		name  string
		lawn  *Lawn
		w     Window
		phase Phase
		basis Basis
		days  [2]int // at least, at most
		year  int
	}{
		{"dates, inside", cold(day(2020, 5, 1)), window(on(4, 1), on(6, 1), ""), Open, Fixed, [2]int{31, 31}, 2020},
		{"dates, the day it opens", cold(day(2020, 4, 1)), window(on(4, 1), on(6, 1), ""), Open, Fixed, [2]int{61, 61}, 2020},
		{"dates, the day it closes: next year's", cold(day(2020, 6, 1)), window(on(4, 1), on(6, 1), ""), Ahead, Fixed, [2]int{304, 304}, 2021},
		{"dates over New Year, in January", cold(day(2020, 1, 15)), window(on(11, 1), on(3, 1), ""), Open, Fixed, [2]int{46, 46}, 2019},
		{"dates over New Year, in autumn", cold(day(2020, 10, 1)), window(on(11, 1), on(3, 1), ""), Ahead, Fixed, [2]int{31, 31}, 2020},
		{"frosts, in summer", cold(day(2020, 7, 10)), growing, Open, Expected, [2]int{40, 110}, 2020},
		{"frosts, in January", cold(day(2020, 1, 10)), growing, Ahead, Expected, [2]int{60, 140}, 2020},
		{"dormancy, in January", cold(day(2020, 1, 20)), dormancy, Open, Expected, [2]int{60, 150}, 2019},
		{"dormancy, in August", cold(day(2020, 8, 10)), dormancy, Ahead, Expected, [2]int{70, 140}, 2020},
		{"no dormancy here", warm(day(2020, 8, 10)), dormancy, NotHere, Expected, [2]int{0, 0}, 2020},
		{"no frost here: never opens", warm(day(2020, 7, 10)), growing, NotHere, Happened, [2]int{0, 0}, 2020},
		{"no frost here: closes by print", warm(day(2020, 7, 10)), window(on(4, 1), frost(FirstFrost, -42), "04-01..09-15"), Open, Printed, [2]int{68, 68}, 2020},
		{"no frost here, nothing printed: stays open", warm(day(2020, 7, 10)), window(on(4, 1), frost(FirstFrost, -42), ""), Open, Expected, [2]int{0, 0}, 2020},
		{"few years: by print", few(day(2020, 7, 10)), window(Edge{Event: Event{Kind: SoilRising, LevelC: 33}}, frost(FirstFrost, -42), "05-01..09-15"), Open, Printed, [2]int{68, 68}, 2020},
		{"few years, nothing printed: this year's cannot be told", few(day(2020, 2, 10)), window(frost(LastFrost, 14), frost(FirstFrost, -42), ""), CannotSay, NoBasis, [2]int{0, 0}, 2020},
		{"few years, nothing printed: this year's is over, the next cannot be told", few(day(2020, 12, 20)), window(frost(LastFrost, 14), frost(FirstFrost, -42), ""), Closed, Happened, [2]int{0, 0}, 2020},
		{"the soil is never cold here: opens by print", warm(day(2020, 3, 1)), window(Edge{Event: Event{Kind: SoilRising, LevelC: 12.8}}, on(5, 1), "02-01..04-30"), Open, Printed, [2]int{61, 61}, 2020},
		{"the same, nothing printed", warm(day(2020, 3, 1)), window(Edge{Event: Event{Kind: SoilRising, LevelC: 12.8}}, on(5, 1), ""), CannotSay, NoBasis, [2]int{0, 0}, 0},
		{"no weather, nothing printed", NewRecord(weather.AsOf(inventedStation, nil, nil, day(2020, 2, 10)).Felt()).Lawn(zoysia), window(frost(LastFrost, 14), frost(FirstFrost, -42), ""), CannotSay, NoBasis, [2]int{0, 0}, 0},
		{"closes before it opens", cold(day(2020, 7, 10)), window(on(6, 1), Edge{Event: Event{Kind: OnDate, On: civil.MonthDay{Month: 8, Day: 1}}, OffsetDays: -90}, ""), NoWindow, Fixed, [2]int{0, 0}, 2020},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := c.lawn.Window(c.w)
			assert.Equal(t, c.phase, r.Phase, "%+v", r.Instance)
			assert.Equal(t, c.basis, r.Basis)
			assert.GreaterOrEqual(t, r.Days, c.days[0])
			assert.LessOrEqual(t, r.Days, c.days[1])
			if c.year != 0 {
				assert.Equal(t, c.year, r.Instance.Year)
			}
		})
	}
}

func TestOwnDesignDrift(t *testing.T) {
	l := NewRecord(invented(civil.MustDate(2001, 1, 1), civil.MustDate(2020, 7, 10), 13, 12)).Lawn(grass(t, "zoysia"))
	opens, closes, known := l.Window(window(on(4, 1), on(9, 1), "04-11..08-21")).Drift()
	assert.True(t, known)
	assert.Equal(t, []int{-10, 10}, []int{opens, closes}, "ten days early, and ten late: it closes on 22 August by print")
	_, _, known = l.Window(window(on(4, 1), on(9, 1), "")).Drift()
	assert.False(t, known)
	opens, closes, _ = l.Window(window(on(12, 20), on(3, 1), "01-10..02-18")).Drift()
	assert.Equal(t, []int{-21, 10}, []int{opens, closes}, "over New Year")
	frosts := window(Edge{Event{Kind: LastFrost}, 14}, Edge{Event{Kind: FirstFrost}, -42}, "05-01..09-15")
	opens, closes, known = l.Window(frosts).Drift()
	require.True(t, known)
	usualOpens, usualCloses, known := l.Usual(frosts).Drift()
	require.True(t, known)
	// A window's reading leaves this spring out, which is over and on file here.
	assert.InDelta(t, opens, usualOpens, 1)
	assert.InDelta(t, closes, usualCloses, 1)
	assert.Equal(t, 20, l.Usual(frosts).Usual.Opens.Event.Typical.Years)
	assert.Equal(t, 19, l.Window(frosts).Usual.Opens.Event.Typical.Years)
}

// The windows of the demonstration's zones as one autumn issue and one spring
// issue tell them.
func TestDemonstrationWindows(t *testing.T) {
	stations := map[string]demoStation{}
	for _, s := range demoStations(t) {
		stations[s.ID] = s
	}
	var b strings.Builder
	for _, issue := range []civil.Date{civil.MustDate(2026, 4, 12), civil.MustDate(2026, 10, 18)} {
		for _, z := range []struct {
			station, climate string
			grasses          []string
		}{
			{"gannet-light", "coast", []string{"st-augustine", "centipede", "zoysia"}},
			{"ellerwade-lock", "coast", []string{"centipede", "zoysia", "bermuda"}},
			{"sabrey-field", "piedmont", []string{"bermuda", "centipede"}},
			{"redfallow-farm", "piedmont", []string{"tall-fescue", "bermuda", "zoysia"}},
			{"larkenhold-mill", "mountains", []string{"tall-fescue", "zoysia"}},
			{"brackmoor-knob", "mountains", []string{"kentucky-bluegrass", "tall-fescue"}},
		} {
			s := stations[z.station]
			r := NewRecord(weather.AsOf(s.Station, s.records, nil, issue).Felt())
			for _, g := range z.grasses {
				fmt.Fprintf(&b, "%s, %s, %s\n", issue, z.station, g)
				for _, w := range r.Lawn(grass(t, g)).Windows(demoCalendar(t, z.climate, g)) {
					require.NotEqual(t, CannotSay, w.Phase, "%s %s", g, w.Window.ID)
					fmt.Fprintf(&b, "  %-20s %-7s %4d d, %-9s opens %s, closes %s\n", w.Window.ID, w.Phase, w.Days, w.Basis, endWords(w.Instance.Opens), endWords(w.Instance.Closes))
				}
			}
		}
	}
	golden(t, "demonstration.txt", b.String())
}

func endWords(e End) string {
	if e.From == e.To {
		return fmt.Sprintf("%s (%s)", e.When, e.Basis)
	}
	return fmt.Sprintf("%s (%s, %s to %s)", e.When, e.Basis, e.From, e.To)
}
