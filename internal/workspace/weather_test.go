package workspace

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
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
