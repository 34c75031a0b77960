package bulletin

import (
	"os"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/watering"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// What the tests of edges share. They hold verdicts, states and ids of reasons:
// never words.

// press is an advisory of one station, one grass and one law, whose days a case
// changes. Its issues come out on Sundays.
type press struct {
	*workspace.Workspace
	station *workspace.Station
}

func newPress(t testing.TB, records *weather.Series, laws ...string) press {
	t.Helper()
	var list diag.List
	read := func(name string) *diag.Table {
		text, err := os.ReadFile("../../data/" + name)
		require.NoError(t, err)
		root, ok := diag.ReadTOML(name, text, &list)
		require.True(t, ok)
		return root
	}
	ws := &workspace.Workspace{
		FS: fstest.MapFS{}, Site: workspace.Site{IssueWeekday: time.Sunday},
		Phrases: phrases(t), Catalogue: advice.ReadCatalogue(read("indicators.toml")), Calendars: []*season.Calendar{readCalendar(t)},
		Grasses:  []*turf.Profile{zoysia(t)},
		Stations: []workspace.Station{{Station: weather.Station{ID: "s", LatitudeDeg: 35}, Records: records}},
	}
	for _, text := range laws {
		root, ok := diag.ReadTOML("law.toml", []byte(text), &list)
		require.True(t, ok, list.Error())
		ws.Ordinances = append(ws.Ordinances, law.ReadRecord(root))
	}
	require.NoError(t, list.Err())
	ws.Law, ws.WaterLaw = law.NewBook(ws.Ordinances, []law.Jurisdiction{{ID: "state", Name: "State", Level: "state"}}), watering.NewBook(nil, nil)
	soil, ok := turf.SoilByID("loam")
	require.True(t, ok)
	ws.Zones = []*workspace.Zone{{ID: "z", Name: "Z", Climate: "coast", Station: "s", LatitudeDeg: 35, Soil: soil, Grasses: ws.Grasses,
		Places: []law.Place{{Name: "Somewhere", Chain: []string{"state"}}}}}
	return press{ws, &ws.Stations[0]}
}

// lived is what the advisory's station has been through as of the edge week.
func (p press) lived() *models {
	return newModels(p.Workspace, p.Site.IssueDate(edgeWeek), p.Zones)
}

// closedFrom is an invented law that closes nitrogen between two days of every
// year.
func closedFrom(from, to string) string {
	return `
schema = 1
id = "act"
fictional = true
jurisdiction = "state"
jurisdiction_name = "State"
level = "state"
parent = ""
applies_in = "all"
tz = "America/New_York"
title = "Invented Act"
citation = "Inv. Code 1"
source_url = "https://law.example.invalid/1"
source_kind = "official_code"
adopted_on = 2011-05-19
effective_from = 2013-10-01
status = "in_force"
verification = "verified"
checked_on = 2020-01-10
checked_by = "test"
review_months = 12
relation_down = "floor"
[definitions]
n_threshold_pct = 0.0
p2o5_threshold_pct = 0.0
not_fertilizer = ["lime"]
[[rules]]
id = "season"
topic = "window"
effect = "ban"
targets = ["N"]
binds = ["all"]
when = [{ kind = "annual", from = "` + from + `", to = "` + to + `", bounds = "[]", bounds_basis = "text" }]
as_written = "closed"
citation = "1(a)"
`
}

// codesOf are the codes of what is said.
func codesOf(all []*message.Said) []string { return ids(all) }

// levelYears are days alike before an issue date, from a day on: fair, and with 2
// mm of rain.
func levelYears(first, issue civil.Date) *weather.Series {
	s := weather.NewSeries(first, int(issue-first))
	fairDays(s, first, s.Len())
	return s
}

func fairDays(s *weather.Series, first civil.Date, days int) {
	for i := range days {
		d := first.AddDays(i)
		s.Set(weather.TmaxC, d, 30)
		s.Set(weather.TminC, d, 20)
		s.Set(weather.RainMM, d, 2)
	}
}

// forecastFrom is a forecast of days alike, from the day of issue on.
func forecastFrom(issued civil.Date, days int) weather.Forecast {
	s := weather.NewSeries(issued, days)
	fairDays(s, issued, days)
	return weather.Forecast{Issued: issued, Days: s}
}
