package replay

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/weather"
)

// Where no forecast was on file the days that followed stand in for one; what was
// on file stays, and so does the workspace that was asked.
func TestFollowingDaysStandIn(t *testing.T) {
	ws := demonstration(t)
	before := len(ws.Stations[0].Forecasts)
	out := ws.Following()
	assert.Len(t, ws.Stations[0].Forecasts, before)
	st := out.Stations[0]
	newest, ok := ws.DefaultWeek()
	require.True(t, ok)
	found := 0
	for w := weekAfter(ws, st.Records.Start); !newest.Before(w); w = w.AddWeeks(1) {
		issue := ws.Site.IssueDate(w)
		f := weather.Newest(st.Forecasts, issue)
		require.NotNil(t, f, "%s", w)
		if was := weather.Newest(ws.Stations[0].Forecasts, issue); was != nil {
			assert.Equal(t, was.Days, f.Days, "%s: on file", w)
			found++
		}
	}
	assert.Equal(t, before, found)

	z := ws.Zones[0]
	q := Question{First: 2024, Last: 2024, Zones: ws.Zones[:1]}
	plain, err := Run(ws, q, nil)
	require.NoError(t, err)
	q.Following = true
	told, err := Run(ws, q, nil)
	require.NoError(t, err)
	assert.Empty(t, plain.Forecast)
	assert.Equal(t, FollowingForecast, told.Forecast)
	assert.Equal(t, z.ID, told.Zones[0].ID)
	assert.Zero(t, plain.Zones[0].Weather.Forecasts)
	assert.Equal(t, len(told.Weeks), told.Zones[0].Weather.Forecasts)
	assert.True(t, PageOf(ws, told).Following)
	var marked, unmarked bytes.Buffer
	require.NoError(t, told.WriteCSV(&marked))
	require.NoError(t, plain.WriteCSV(&unmarked))
	assert.Contains(t, marked.String(), ",forecast,,,following,")
	assert.NotContains(t, unmarked.String(), FollowingForecast)
}
