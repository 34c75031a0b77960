package synth

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/weather"
)

var update = flag.Bool("update", false, "write the demonstration weather to data/weather")

// root is the workspace that this repository carries.
const root = "../.."

// The weather on file is what the generator makes of the region, byte for byte.
// `go test ./internal/synth -run Weather -update` writes it anew.
func TestDemonstrationWeatherIsWhatTheGeneratorMakes(t *testing.T) {
	for _, s := range stations {
		folder := filepath.Join(root, "data", "weather", s.id)
		files := map[string][]byte{filepath.Join(folder, "daily.csv"): s.daily(regionSeed)}
		for _, issue := range forecastIssues {
			files[filepath.Join(folder, "forecast", issue.date.String()+".csv")] = s.forecast(regionSeed, issue.date)
			var text bytes.Buffer
			require.NoError(t, weather.WriteHourlyForecast(&text, s.hourly(regionSeed, issue.date, issue.utcOffsetMin)))
			files[filepath.Join(folder, "forecast", issue.date.String()+"-hourly.csv")] = text.Bytes()
		}
		for name, want := range files {
			if *update {
				require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
				require.NoError(t, os.WriteFile(name, want, 0o644))
			}
			got, err := os.ReadFile(name)
			require.NoError(t, err)
			assert.True(t, bytes.Equal(want, got), "%s is not what the generator makes", name)
		}
		found, err := filepath.Glob(filepath.Join(folder, "forecast", "*"))
		require.NoError(t, err)
		assert.Len(t, found, 2*len(forecastIssues), "forecasts of %s", s.id)
	}
}

// The strict reader that every press uses takes the files without complaint.
func TestDemonstrationWeatherReads(t *testing.T) {
	var list diag.List
	for _, s := range stations {
		series := weather.ReadDaily(s.id+"/daily.csv", s.daily(regionSeed), &list)
		require.NoError(t, list.Err())
		assert.Equal(t, regionFirst, series.Start, s.id)
		assert.Equal(t, regionLast, series.End(), s.id)
		for _, issue := range forecastIssues {
			issued := issue.date
			f := weather.ReadForecast(issued.String()+".csv", s.forecast(regionSeed, issued), issued, &list)
			require.NoError(t, list.Err())
			assert.Equal(t, issued, f.Days.Start)
			assert.Equal(t, forecastDays, f.Days.Len())
		}
		loc, err := time.LoadLocation("America/New_York")
		require.NoError(t, err)
		for _, issue := range forecastIssues {
			made := s.hourly(regionSeed, issue.date, issue.utcOffsetMin)
			var text bytes.Buffer
			require.NoError(t, weather.WriteHourlyForecast(&text, made))
			read := weather.ReadHourlyForecast("hourly.csv", text.Bytes(), issue.date, loc, &list)
			require.NoError(t, list.Err())
			assert.Equal(t, made, read, "%s, %s: nothing is lost, nor is the clock another", s.id, issue.date)
		}
	}
}
