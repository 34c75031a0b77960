package workspace

import (
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/weather"
)

// Hourly forecasts lie beside the daily ones, and are kept by the day of issue.
func TestHourlyForecastsLoad(t *testing.T) {
	const folder, advisory = "data/weather/gannet-light/forecast/", "data/advisory.toml"
	files := baseFiles(t)
	files[folder+"2026-11-22-hourly.csv"] = &fstest.MapFile{Data: []byte("time,temp_c\n2026-11-22T14:00,12\n")}
	files[folder+"2026-07-12-hourly.csv"] = &fstest.MapFile{Data: []byte("time,temp_f,wind_mph\n2026-07-12T14:00,88,4\n2026-07-12T15:00,89,5\n")}
	ws, found := told(files)
	require.Empty(t, found)
	s, ok := ws.Station("gannet-light")
	require.True(t, ok)
	require.Len(t, s.Hourly, 2)
	assert.Equal(t, civil.MustDate(2026, 7, 12), s.Hourly[0].Issued)
	assert.Len(t, s.Hourly[0].Hours, 2)
	assert.Equal(t, -240, s.Hourly[0].Hours[0].UTCOffsetMin, "daylight saving time of the advisory's zone")
	assert.Equal(t, -300, s.Hourly[1].Hours[0].UTCOffsetMin)
	assert.Len(t, s.Forecasts, 1, "the daily forecast is as it was")

	text := string(files[advisory].Data)
	require.Equal(t, 1, strings.Count(text, "America/New_York"))
	files[advisory] = &fstest.MapFile{Data: []byte(strings.Replace(text, "America/New_York", "America/Chicago", 1))}
	ws, found = told(files)
	require.Empty(t, found)
	s, _ = ws.Station("gannet-light")
	assert.Equal(t, -300, s.Hourly[0].Hours[0].UTCOffsetMin)
}

// An issue tells of the newest list the alerts of the zone's areas that are not over
// when it comes out.
func TestEdgesOfTheAlertsOfAnIssue(t *testing.T) {
	clock, err := time.LoadLocation("America/New_York")
	require.NoError(t, err)
	at := func(day, hour, minute int) time.Time { return time.Date(2026, 4, day, hour, minute, 0, 0, clock) }
	alert := func(event string, from, until time.Time) weather.Alert {
		return weather.Alert{Event: event, Areas: []string{"OSC017"}, From: from, Until: until}
	}
	ws := &Workspace{Site: Site{IssueTime: "18:00"}, Alerts: []weather.AlertList{
		{Received: at(25, 9, 0), Alerts: []weather.Alert{alert("old", at(25, 9, 0), at(30, 0, 0))}},
		{Received: at(26, 9, 0), Alerts: []weather.Alert{alert("over", at(26, 9, 0), at(26, 18, 0)), alert("on", at(26, 9, 0), at(26, 18, 1))}},
		{Received: at(28, 9, 0), Alerts: []weather.Alert{alert("later", at(28, 9, 0), at(30, 0, 0))}},
	}}
	for _, c := range []struct {
		areas string
		day   int
		want  []string
	}{
		{"OSC017", 26, []string{"on"}}, {"OSC018", 26, nil}, {"", 26, nil}, {"OSC017", 25, []string{"old"}}, {"OSC017", 24, nil}, {"OSC017", 29, []string{"later"}}, {"OSC017", 30, nil},
	} {
		var got []string
		for _, a := range ws.AlertsOf(&Zone{AlertAreas: strings.Fields(c.areas)}, civil.MustDate(2026, 4, c.day)) {
			got = append(got, a.Event)
		}
		assert.Equal(t, c.want, got, "%s on the %dth", c.areas, c.day)
	}
}
