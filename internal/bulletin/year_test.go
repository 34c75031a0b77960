package bulletin

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// tellerOf tells the year of a zone of one grass, under invented laws, as of an
// issue, with fifteen smooth years on file.
func tellerOf(t *testing.T, issue civil.Date) (teller, *grassSeason, *turf.Profile) {
	t.Helper()
	ws, places := straddling(t)
	p := zoysia(t)
	f := weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 35}, smoothYears(civil.MustDate(issue.Year()-15, 1, 1), issue, 14, 12), nil, issue).Felt()
	y := newStationYear(f)
	g := y.grass("coast", p, y.lawn(p).Windows(readCalendar(t)))
	z := &Zone{
		ID: "z", Name: "The zone", StationName: "The station", ClimateName: "The coast",
		Weather: &Weather{Soil: say("soil_method.model"), Radiation: say("rung.temperature")},
		Grasses: []*Grass{{ID: p.ID, Name: p.Name}},
	}
	closings := NewClosings(ws.Law, places, Law{Places: make([]PlaceLaw, len(places))}, issue)
	return teller{ws, z, issue, newStationSeason(f, y.Record, []*grassSeason{g}), closings}, g, p
}

// Where there is no room for all that comes, the law stays, in the order of the
// days.
func TestAheadKeepsTheLaw(t *testing.T) {
	issue := civil.MustDate(2026, 8, 23)
	l, g, _ := tellerOf(t, issue)
	all := l.ahead([]*grassSeason{g})
	require.NotEmpty(t, all.Lines)
	assert.Zero(t, all.More)
	law := func(a Ahead) (n int) {
		for _, line := range a.Lines {
			if line.Law {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 2, law(all), "September's window of the town begins and is over")

	window := g.Windows[0]
	require.Equal(t, season.Open, window.Phase)
	window.Instance.Closes = season.End{Basis: season.Fixed, When: season.Moment{Outcome: season.Dated, Date: issue + 3}}
	g.Windows = nil
	for i := range 20 {
		window.Window.Title = fmt.Sprintf("Window %02d", i)
		g.Windows = append(g.Windows, window)
	}
	ahead := l.ahead([]*grassSeason{g})
	assert.Len(t, ahead.Lines, maxAhead)
	assert.Positive(t, ahead.More)
	assert.Equal(t, 2, law(ahead))
	assert.True(t, slices.IsSortedFunc(ahead.Lines, func(a, b AheadLine) int { return int(a.Date - b.Date) }))
}

// The same line for two grasses stands once, with both.
func TestAheadNamesGrassesTogether(t *testing.T) {
	l, g, p := tellerOf(t, civil.MustDate(2026, 5, 10))
	l.zone.Grasses = append(l.zone.Grasses, &Grass{ID: "othergrass", Name: "Othergrass"})
	names := message.Say(message.Just(message.Texts(message.Comma, p.Name, "Othergrass")))
	for _, line := range l.ahead([]*grassSeason{g, g}).Lines {
		if !line.Law && line.What.Message.Code != "" && strings.HasPrefix(line.What.Message.Code, "ahead.") {
			assert.True(t, names.Equal(line.Grasses), line.What.Message)
		}
	}
}

// A year is the same after it was written and read, and says everything that it
// holds.
func TestYearIsPlain(t *testing.T) {
	l, g, p := tellerOf(t, civil.MustDate(2026, 5, 10))
	told := struct {
		Year  *Year
		Grass *GrassYear
		Ahead Ahead
	}{l.year([]*grassSeason{g}), l.grass(g, p), l.ahead([]*grassSeason{g})}
	require.NotEmpty(t, told.Grass.Windows[0].Openings)
	assert.NotEmpty(t, told.Year.Closed)
	written, err := json.Marshal(told)
	require.NoError(t, err)
	again := told
	again.Year, again.Grass, again.Ahead = nil, nil, Ahead{}
	require.NoError(t, json.Unmarshal(written, &again))
	twice, err := json.Marshal(again)
	require.NoError(t, err)
	assert.JSONEq(t, string(written), string(twice))

	v := l.ws.Voice()
	opening := told.Grass.Windows[0].Openings[0]
	assert.Equal(t, "Feeding season: Zoysiagrass (expected dates); local rules close part of it", v.Say(opening.Title.Message))
	l.ws.Site.Demo = true
	assert.Equal(t, "Feeding season: Zoysiagrass (expected dates); local rules close part of it (invented example)", v.Say(l.grass(g, p).Windows[0].Openings[0].Title.Message))
}

// An event without a date is told with the years of its season, and as likely
// where past years stand for it.
func TestInYear(t *testing.T) {
	ws, _ := straddling(t)
	frost := season.Event{Kind: season.FirstFrost}
	first, last := frost.Season(2026, nil)
	for _, c := range []struct {
		basis season.Basis
		when  season.Outcome
		want  string
	}{
		{season.Expected, season.Never, "2026–27: in most years it does not come"},
		{season.Usual, season.Already, "2026–27: before the season begins, in most years"},
		{season.Happened, season.Never, "2026–27: it did not come"},
		{season.NoBasis, season.Unknown, "2026–27: not known"},
	} {
		d := season.Dating{Event: frost, Year: 2026, Basis: c.basis, When: season.Moment{Outcome: c.when}}
		assert.Equal(t, c.want, ws.Voice().Say(inYear(d, first, last)))
	}
}

// What is known of a date, and whether it may not come at all, stands with it.
func TestMoment(t *testing.T) {
	ws, _ := straddling(t)
	day := season.Moment{Outcome: season.Dated, Date: civil.MustDate(2026, 10, 12)}
	never, already := season.Moment{Outcome: season.Never}, season.Moment{Outcome: season.Already}
	say := func(m message.Message) string { return ws.Voice().Say(m) }
	assert.Equal(t, "October 12, on record", say(moment(season.Happened, day, day, day)))
	assert.Equal(t, "about October 12; in some years not at all", say(moment(season.Expected, day, day, never)))
	assert.Equal(t, "about October 12; in some years earlier than we can tell", say(moment(season.Expected, day, already, day)))
	assert.Equal(t, "not this year", say(moment(season.Expected, never, never, never)))
	counted := season.End{Basis: season.Happened, When: day.AddDays(21), From: day.AddDays(21), To: day.AddDays(21), Event: season.Dating{When: day}}
	assert.Equal(t, "November 2, counted from a day on record", say(endMoment(counted, 0)))
	assert.Equal(t, "November 1, counted from a day on record", say(endMoment(counted, -1)))
}
