package workspace

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// weatherWith loads the demonstration with the hourly forecasts of a station
// replaced by those given, and one change of the advisory's file.
func weatherWith(t *testing.T, hourly map[string]string, old, new string) (*Workspace, string) {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(dir, "data"), os.DirFS(root+"/data")))
	folder := filepath.Join(dir, "data/weather/gannet-light/forecast")
	there, err := filepath.Glob(filepath.Join(folder, "*-hourly.csv"))
	require.NoError(t, err)
	for _, file := range there {
		require.NoError(t, os.Remove(file))
	}
	for name, text := range hourly {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600))
	}
	advisory := filepath.Join(dir, "data/advisory.toml")
	text, err := os.ReadFile(advisory)
	require.NoError(t, err)
	require.Contains(t, string(text), old)
	require.NoError(t, os.WriteFile(advisory, []byte(strings.Replace(string(text), old, new, 1)), 0o600))
	var list diag.List
	ws := Load(os.DirFS(dir), nil, &list)
	var out []string
	for _, p := range list.All() {
		if strings.HasPrefix(p.File, "data/weather/") || p.File == "data/advisory.toml" {
			out = append(out, p.String())
		}
	}
	return ws, strings.Join(out, "\n")
}

// Hourly forecasts lie beside the daily ones, and are kept by the day of issue.
func TestHourlyForecastsLoad(t *testing.T) {
	ws, found := weatherWith(t, map[string]string{
		"2026-11-22-hourly.csv": "time,temp_c\n2026-11-22T14:00,12\n",
		"2026-07-12-hourly.csv": "time,temp_f,wind_mph\n2026-07-12T14:00,88,4\n2026-07-12T15:00,89,5\n",
	}, "", "")
	require.Empty(t, found)
	s, ok := ws.Station("gannet-light")
	require.True(t, ok)
	require.Len(t, s.Hourly, 2)
	assert.Equal(t, civil.MustDate(2026, 7, 12), s.Hourly[0].Issued)
	assert.Len(t, s.Hourly[0].Hours, 2)
	assert.Equal(t, -240, s.Hourly[0].Hours[0].UTCOffsetMin, "daylight saving time of the advisory's zone")
	assert.Equal(t, -300, s.Hourly[1].Hours[0].UTCOffsetMin)
	assert.Len(t, s.Forecasts, 4, "the daily forecasts are as they were")

	ws, found = weatherWith(t, map[string]string{"2026-07-12-hourly.csv": "time,temp_c\n2026-07-12T14:00,30\n"}, "America/New_York", "America/Chicago")
	require.Empty(t, found)
	s, _ = ws.Station("gannet-light")
	assert.Equal(t, -300, s.Hourly[0].Hours[0].UTCOffsetMin)
}

func TestMistakesOfHourlyForecasts(t *testing.T) {
	const folder = "data/weather/gannet-light/forecast/"
	for _, c := range []struct{ name, file, text, want string }{
		{"a value", "2026-11-22-hourly.csv", "time,temp_c\n2026-11-22T14:00,75\n",
			folder + "2026-11-22-hourly.csv:2: temp_c: 75 is outside -60 to 60; °F stand in the column temp_f; a missing value is an empty field"},
		{"a name", "november-hourly.csv", "time,temp_c\n",
			folder + `november-hourly.csv: "november" is not a date written as YYYY-MM-DD; name it by the day it was issued, such as 2026-11-22.csv, or 2026-11-22-hourly.csv if it is hourly`},
		{"an hour that the clock skips", "2026-03-06-hourly.csv", "time,temp_c\n2026-03-08T02:00,5\n",
			folder + "2026-03-06-hourly.csv:2: time: there is no 2026-03-08T02:00 in America/New_York; remove the line: the clock is set forward over it"},
	} {
		_, found := weatherWith(t, map[string]string{c.file: c.text}, "", "")
		assert.Equal(t, c.want, found, c.name)
	}
}

// The zone of the machine must not decide what is printed.
func TestTheClockIsTheAdvisorys(t *testing.T) {
	for _, zone := range []string{"Local", "Nowhere/Nothing"} {
		_, found := weatherWith(t, nil, "America/New_York", zone)
		assert.Equal(t, `data/advisory.toml:8: time_zone: there is no time zone "`+zone+`"; write a name such as "America/New_York"`, found)
	}
}
