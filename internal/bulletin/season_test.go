package bulletin

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// smoothYears is a record of years like each other from first to the day
// before end, each a little warmer than the last: a wave of the daily mean
// around meanC, °C, coldest in mid-January, 5 °C a day either way, 3 mm of rain.
func smoothYears(first, end civil.Date, meanC, waveC float64) *weather.Series {
	s := weather.NewSeries(first, int(end-first))
	for d := first; d < end; d++ {
		c := meanC + 0.1*float64(d.Year()-first.Year()) - waveC*math.Cos(2*math.Pi*float64(d.YearDay()-15)/365)
		s.Set(weather.TmaxC, d, c+5)
		s.Set(weather.TminC, d, c-5)
		s.Set(weather.RainMM, d, 3)
	}
	return s
}

const calendarText = `climates = ["coast"]
[[window]]
id       = "feeding"
kind     = "feeding"
title    = "Feeding season"
uses     = ["nitrogen"]
opens    = { event = "green-up", offset = "3 weeks" }
closes   = { event = "first-frost", offset = "-6 weeks" }
tolerance = "3 weeks"
source   = "common practice"
standing = "practice"

  [window.printed]
  from     = "05-01"
  to       = "08-31"
  place    = "a like climate"
  source   = "common practice"
  standing = "practice"

[[window]]
id       = "aeration"
kind     = "aeration"
title    = "Core aeration"
uses     = []
opens    = { event = "soil-rising", level = "65 °F", depth = "10 cm" }
closes   = { event = "date", on = "08-01" }
source   = "common practice"
standing = "practice"
`

func readCalendar(t testing.TB) *season.Calendar {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML("data/calendar/zoysia.toml", []byte(calendarText), &list)
	require.True(t, ok, list.Error())
	calendars := season.ReadCalendars("zoysia", []string{"coast"}, root, nil)
	require.NoError(t, list.Err())
	require.Len(t, calendars, 1)
	return calendars[0]
}

func zoysia(t testing.TB) *turf.Profile {
	t.Helper()
	text, err := os.ReadFile("../../data/grasses/zoysia.toml")
	require.NoError(t, err)
	var list diag.List
	root, ok := diag.ReadTOML("data/grasses/zoysia.toml", text, &list)
	require.True(t, ok)
	p := turf.ReadProfile("zoysia", root)
	require.NoError(t, list.Err())
	return p
}

func yearOf(t testing.TB, records *weather.Series, forecasts []weather.Forecast, issue civil.Date) (*stationSeason, *grassSeason) {
	t.Helper()
	p := zoysia(t)
	f := weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 35, ElevationM: 100}, records, forecasts, issue).Felt()
	y := newStationYear(f)
	g := y.grass("coast", p, y.lawn(p).Windows(readCalendar(t)))
	return newStationSeason(f, y.Record, []*grassSeason{g}), g
}

// The twelve months hold a little of what is past and most of what comes.
func TestOwnDesignYearSpan(t *testing.T) {
	for issue, want := range map[string]string{
		"2026-11-22": "2026-08-01..2027-07-31",
		"2026-01-04": "2025-10-01..2026-09-30",
		"2028-05-31": "2028-02-01..2029-01-31",
	} {
		d, err := civil.ParseDate(issue)
		require.NoError(t, err)
		first, last := yearSpan(d)
		assert.Equal(t, want, first.String()+".."+last.String(), issue)
	}
}

// The year of a place that has every season.
func TestYear(t *testing.T) {
	issue := civil.MustDate(2020, 5, 10)
	records := smoothYears(civil.MustDate(2005, 1, 1), issue, 14, 12)
	y, g := yearOf(t, records, nil, issue)
	assert.True(t, y.Enough())
	assert.Equal(t, 15, y.Years)
	assert.Zero(t, y.Members, "in May nothing of this year hangs on an ensemble")
	june, _ := yearOf(t, smoothYears(civil.MustDate(2005, 1, 1), civil.MustDate(2020, 6, 14), 14, 12), nil, civil.MustDate(2020, 6, 14))
	assert.Equal(t, 14, june.Members, "of fifteen years back one has no whole year after it")
	assert.Equal(t, "2005-01-01", y.FirstRecord.String())

	var kinds []string
	for _, e := range y.Events {
		kinds = append(kinds, string(e.This.Event.Kind))
	}
	assert.Equal(t, []string{"last-frost", "soil-rising", "day-rising", "day-falling", "first-frost"}, kinds, "in the order of the seasons; those of the calendar among them, fixed days not")
	byKind := func(all []datedEvent, kind season.EventKind) datedEvent {
		i := slices.IndexFunc(all, func(e datedEvent) bool { return e.This.Event.Kind == kind })
		require.GreaterOrEqual(t, i, 0, kind)
		return all[i]
	}
	spring := byKind(y.Events, season.LastFrost)
	assert.Equal(t, season.Happened, spring.This.Basis)
	assert.Equal(t, 2020, spring.This.Year)
	assert.Nil(t, spring.Next, "next spring can be told no better than usual")
	autumn := byKind(y.Events, season.FirstFrost)
	assert.Equal(t, 2019, autumn.This.Year, "the newest that has come")
	assert.Equal(t, season.Happened, autumn.This.Basis)
	assert.Nil(t, autumn.Next, "the frosts of 2020 are too far ahead for an ensemble")
	_, late := smoothYearsEvent(t, civil.MustDate(2020, 6, 14), season.FirstFrost)
	require.NotNil(t, late, "from mid-May on an ensemble tells the season that begins in July")
	assert.Equal(t, season.Expected, late.Basis)
	assert.Equal(t, 2020, late.Year)
	assert.Equal(t, season.Fixed, byKind(y.Events, season.DayRising).This.Basis)
	assert.Equal(t, []season.EventKind{season.GreenUp, season.Slowdown, season.Dormancy},
		[]season.EventKind{g.Events[0].This.Event.Kind, g.Events[1].This.Event.Kind, g.Events[2].This.Event.Kind})

	require.Len(t, g.Windows, 2)
	var years []int
	for _, in := range g.Windows[0].Instances {
		years = append(years, in.Year)
	}
	assert.Equal(t, []int{2020}, years, "last year's was over before January, next year's opens in more than twelve months")

	rows := g.Growth
	require.NotEmpty(t, rows)
	for i, r := range rows {
		assert.True(t, r.Date >= y.First && r.Date <= y.Last, r.Date)
		if i > 0 {
			assert.EqualValues(t, 7, r.Date-rows[i-1].Date)
		}
		assert.LessOrEqual(t, r.Low, r.High)
		switch {
		case r.Date < issue:
			assert.Equal(t, season.Happened, r.Basis, r.Date)
		case r.Date <= issue.AddDays(AheadDays):
			assert.Equal(t, season.Expected, r.Basis, r.Date)
		default:
			assert.Equal(t, season.NoBasis, r.Basis, r.Date)
			assert.False(t, r.Index.Known())
		}
	}
	assert.Equal(t, issue-1, rows[slices.IndexFunc(rows, func(r Growth) bool { return r.Date >= issue-1 })].Date, "one week ends with the newest day")

	require.Len(t, y.Standings, 3)
	air := y.Standings[0]
	assert.Equal(t, AirTemperature, air.Of)
	assert.Equal(t, [4]int{15, 15, 0, 0}, [4]int{air.Years, air.Below, air.Equal, air.Above}, "each year is warmer than the last")
	assert.Equal(t, "2020-05-03..2020-05-09", air.First.String()+".."+air.Last.String())
	rain := y.Standings[1]
	assert.InDelta(t, 90, float64(rain.Value), 1e-9)
	assert.Equal(t, rain.Years, rain.Equal)
}

// smoothYearsEvent is an event of a smooth place at an issue, and the next one.
func smoothYearsEvent(t *testing.T, issue civil.Date, kind season.EventKind) (season.Dating, *season.Dating) {
	t.Helper()
	y, _ := yearOf(t, smoothYears(civil.MustDate(2005, 1, 1), issue, 14, 12), nil, issue)
	i := slices.IndexFunc(y.Events, func(e datedEvent) bool { return e.This.Event.Kind == kind })
	return y.Events[i].This, y.Events[i].Next
}

// With a few years on file the printed calendar speaks, and nothing is usual.
func TestYearOfAShortRecord(t *testing.T) {
	issue := civil.MustDate(2020, 5, 10)
	y, g := yearOf(t, smoothYears(civil.MustDate(2016, 3, 1), issue, 14, 12), nil, issue)
	assert.False(t, y.Enough())
	assert.Zero(t, y.Members)
	for _, r := range g.Growth {
		assert.False(t, r.Low.Known(), "no band of four years")
	}
	feeding := g.Windows[0]
	assert.Equal(t, season.Printed, feeding.Instance.Closes.Basis)
	assert.Equal(t, season.NoBasis, feeding.Usual.Opens.Basis)
	assert.Equal(t, 4, y.Standings[0].Years, "what is on file is compared, and counted")
	assert.False(t, (*stationSeason)(nil).Enough())
}

// Rain with a day missing is not compared, nor is a record that has ended.
func TestStandingsSayNothingOfGaps(t *testing.T) {
	issue := civil.MustDate(2020, 5, 10)
	records := smoothYears(civil.MustDate(2005, 1, 1), issue, 14, 12)
	records.Set(weather.RainMM, issue.AddDays(-8), math.NaN())
	y, _ := yearOf(t, records, nil, issue)
	assert.Zero(t, y.Standings[1].Years)
	assert.Equal(t, 15, y.Standings[0].Years)
	y, _ = yearOf(t, smoothYears(civil.MustDate(2005, 1, 1), issue.AddDays(-standingLate), 14, 12), nil, issue)
	for _, s := range y.Standings {
		assert.Zero(t, s.Years, s.Of)
		assert.True(t, s.Last.IsZero())
	}
	// The newest record may be of some days ago: its last 30 days still compare.
	y, _ = yearOf(t, smoothYears(civil.MustDate(2005, 1, 1), issue.AddDays(1-standingLate), 14, 12), nil, issue)
	assert.Equal(t, issue.AddDays(-standingLate), y.Standings[1].Last)
	assert.Equal(t, 15, y.Standings[1].Years)
}

// said is all that a year says, to compare.
func said(y *stationSeason, g *grassSeason) string {
	var b strings.Builder
	event := func(e datedEvent) {
		fmt.Fprintf(&b, "%+v\n", e.This)
		if e.Next != nil {
			fmt.Fprintf(&b, "next %+v\n", *e.Next)
		}
	}
	for _, e := range append(slices.Clone(y.Events), g.Events...) {
		event(e)
	}
	fmt.Fprintf(&b, "%s %s %s %d %d %+v\n", y.First, y.Last, y.FirstRecord, y.Years, y.Members, y.Standings)
	for _, w := range g.Windows {
		fmt.Fprintf(&b, "%s %s %d %+v %+v %+v\n", w.Window.ID, w.Phase, w.Days, w.Instance, w.Usual, w.Instances)
	}
	fmt.Fprintf(&b, "%+v\n", g.Growth)
	return b.String()
}

// Weather and forecasts recorded later change nothing in a year as of its
// issue.
func TestYearIsAsOfItsIssue(t *testing.T) {
	issue := civil.MustDate(2020, 5, 10)
	first := civil.MustDate(2005, 1, 1)
	y, g := yearOf(t, smoothYears(first, issue, 14, 12), nil, issue)
	later := smoothYears(first, issue.AddDays(400), 14, 12)
	for d := issue; d < issue.AddDays(400); d++ { // much colder than any
		later.Set(weather.TmaxC, d, -5)
		later.Set(weather.TminC, d, -15)
		later.Set(weather.RainMM, d, 50)
	}
	cold := weather.NewSeries(issue.AddDays(1), 7)
	for d := issue.AddDays(1); d < issue.AddDays(8); d++ {
		cold.Set(weather.TmaxC, d, -5)
		cold.Set(weather.TminC, d, -15)
	}
	y2, g2 := yearOf(t, later, []weather.Forecast{{Issued: issue.AddDays(1), Days: cold}}, issue)
	assert.Equal(t, said(y, g), said(y2, g2))
}

// Zones of one station and climate share the year of a grass; the week before,
// which only tells what changed, has none.
func TestYearIsMadeOnce(t *testing.T) {
	p := zoysia(t)
	var list diag.List
	text, err := os.ReadFile("../../data/indicators.toml")
	require.NoError(t, err)
	root, ok := diag.ReadTOML("data/indicators.toml", text, &list)
	require.True(t, ok)
	ws := &workspace.Workspace{Site: workspace.Site{IssueWeekday: time.Sunday}, Phrases: phrases(t), Calendars: []*season.Calendar{readCalendar(t)}, Catalogue: advice.ReadCatalogue(root)}
	require.NoError(t, list.Err())
	issue := civil.MustDate(2020, 5, 10)
	ws.Stations = []workspace.Station{{Station: weather.Station{ID: "s", LatitudeDeg: 35}, Records: smoothYears(civil.MustDate(2005, 1, 1), issue, 14, 12)}}
	for _, id := range []string{"a", "b"} {
		ws.Zones = append(ws.Zones, &workspace.Zone{ID: id, Name: id, Climate: "coast", Station: "s", Grasses: []*turf.Profile{p}})
	}
	ws.Zones = append(ws.Zones, &workspace.Zone{ID: "c", Name: "c", Climate: "hills", Station: "s", Grasses: []*turf.Profile{p}},
		&workspace.Zone{ID: "d", Name: "d", Climate: "coast", Station: "none", Grasses: []*turf.Profile{p}})
	week := civil.Week{Year: 2020, Num: 20}
	require.Equal(t, issue, ws.Site.IssueDate(week))
	is := build(ws, week, ws.Zones, ahead|theYear)
	require.NotNil(t, is.Zones[0].Grasses[0].Year)
	assert.Same(t, &is.Zones[0].Grasses[0].Year.Growth[0], &is.Zones[1].Grasses[0].Year.Growth[0])
	year := newModels(ws, issue, ws.Zones).year["s"]
	assert.Same(t, year.grass("coast", p, nil), year.grass("coast", p, nil))
	assert.Empty(t, is.Zones[2].Grasses[0].Year.Windows, "no calendar in the hills")
	assert.NotEmpty(t, is.Zones[2].Grasses[0].Year.Growth)
	assert.Zero(t, is.Zones[3].Year.First, "no weather")
	assert.Nil(t, build(ws, week, ws.Zones, 0).Zones[0].Year)
}
