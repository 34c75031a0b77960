package bulletin

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// checked are the warnings of a workspace of one station and one grass, of
// which the calendar may be changed; the hills have none.
func checked(t *testing.T, meanC float64, first civil.Date, change func(w *season.Window)) []string {
	t.Helper()
	p, c := zoysia(t), readCalendar(t)
	if change != nil {
		change(&c.Windows[0])
	}
	issue := civil.MustDate(2020, 5, 10)
	ws := &workspace.Workspace{Phrases: phrases(t), Grasses: []*turf.Profile{p}, Calendars: []*season.Calendar{c}}
	for _, id := range []string{"near", "far"} {
		ws.Stations = append(ws.Stations, workspace.Station{Station: weather.Station{ID: id, Name: "The " + id, LatitudeDeg: 35}, Records: smoothYears(first, issue, meanC, 12)})
		ws.Zones = append(ws.Zones, &workspace.Zone{ID: id, Climate: "coast", Station: id, Grasses: []*turf.Profile{p}})
	}
	ws.Zones = append(ws.Zones, &workspace.Zone{ID: "again", Climate: "coast", Station: "near", Grasses: []*turf.Profile{p}})
	var list diag.List
	CheckCalendars(ws, issue, &list)
	require.NoError(t, list.Err(), "warnings only")
	var out []string
	for _, w := range list.All() {
		out = append(out, w.String())
	}
	return out
}

// A window that drifts from print is told once, at its line, with every station
// at which it does, and only the end that drifts.
func TestCheckCalendarsTellsDrift(t *testing.T) {
	first := civil.MustDate(2005, 1, 1)
	within := func(days int) func(*season.Window) { return func(w *season.Window) { w.ToleranceDays = days } }
	assert.Equal(t, []string{
		`data/calendar/zoysia.toml:2: window[0]: warning: feeding drifts by more than 30 days from what a like climate prints: usually closes October 28 (57 days late) at The near; closes October 28 (57 days late) at The far; see whether the printed place is like these, and else mend what the window hangs on, or its tolerance`,
	}, checked(t, 14, first, within(30)))
	both := checked(t, 14, first, within(24))
	require.Len(t, both, 1)
	assert.Contains(t, both[0], "usually opens May 26 (25 days late) and closes October 28 (57 days late) at The near;")
	assert.NotContains(t, checked(t, 14, first, within(25))[0], "opens", "its tolerance is still within it")
	assert.Empty(t, checked(t, 14, first, within(57)))
	assert.Empty(t, checked(t, 14, civil.MustDate(2014, 1, 1), func(w *season.Window) { w.ToleranceDays = 0 }), "nothing is usual yet")
	assert.Empty(t, checked(t, 14, first, func(w *season.Window) { w.ToleranceDays, w.Printed = 0, nil }), "nothing is printed")
}

// A window that drifts in two climates of its grass is told for each, at the
// same line.
func TestCheckCalendarsTellsDriftOfEachClimate(t *testing.T) {
	p, coast := zoysia(t), readCalendar(t)
	hills := *coast
	hills.Climate = "hills"
	issue := civil.MustDate(2020, 5, 10)
	ws := &workspace.Workspace{Phrases: phrases(t), Grasses: []*turf.Profile{p}, Calendars: []*season.Calendar{coast, &hills}}
	for _, climate := range []string{"coast", "hills"} {
		ws.Stations = append(ws.Stations, workspace.Station{Station: weather.Station{ID: climate, Name: "The " + climate, LatitudeDeg: 35}, Records: smoothYears(civil.MustDate(2005, 1, 1), issue, 14, 12)})
		ws.Zones = append(ws.Zones, &workspace.Zone{ID: climate, Climate: climate, Station: climate, Grasses: []*turf.Profile{p}})
	}
	var list diag.List
	CheckCalendars(ws, issue, &list)
	require.Len(t, list.All(), 2)
	for i, station := range []string{"The coast", "The hills"} {
		w := list.All()[i]
		assert.Equal(t, coast.Windows[0].Pos, w.Pos)
		assert.Contains(t, w.What, "(57 days late) at "+station)
		assert.Equal(t, 1, strings.Count(w.What, " at "), w.What)
	}
}

// A grass that a zone keeps should have a calendar.
func TestCheckCalendarsTellsWhatIsMissing(t *testing.T) {
	p := zoysia(t)
	ws := &workspace.Workspace{Zones: []*workspace.Zone{{ID: "hill", Climate: "hills", Grasses: []*turf.Profile{p}}}}
	var list diag.List
	CheckCalendars(ws, civil.MustDate(2020, 5, 10), &list)
	require.Len(t, list.All(), 1)
	const missing = `data/zones/hill.toml: grasses: warning: there is no calendar of zoysia in the climate "hills": its pages show no windows, and rules that ask for one stay silent; `
	assert.Equal(t, missing+"write data/calendar/zoysia.toml", list.All()[0].String())

	ws.Calendars, list = []*season.Calendar{readCalendar(t)}, diag.List{}
	CheckCalendars(ws, civil.MustDate(2020, 5, 10), &list)
	require.Len(t, list.All(), 1, "that of the coast is none of the hills")
	assert.Equal(t, missing+`add "hills" to the climates of data/calendar/zoysia.toml`, list.All()[0].String())
}
