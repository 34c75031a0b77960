package bulletin

import (
	"math"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/turf"
	"ligule/internal/watering"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// hourly is a forecast of whole days on the clock of a zone.
func hourly(t testing.TB, zone string, issued civil.Date, days int) weather.HourlyForecast {
	t.Helper()
	loc, err := time.LoadLocation(zone)
	require.NoError(t, err)
	f := weather.HourlyForecast{Issued: issued}
	y, m, d := issued.YMD()
	end := time.Date(y, time.Month(m), d+days, 0, 0, 0, 0, loc)
	for at := time.Date(y, time.Month(m), d, 0, 0, 0, 0, loc); at.Before(end); at = at.Add(time.Hour) {
		_, offset := at.Zone()
		yy, mm, dd := at.Date()
		f.Hours = append(f.Hours, weather.Hour{
			Date: civil.MustDate(yy, int(mm), dd), Of: at.Hour(), UTCOffsetMin: offset / 60,
			TC: 10 + float64(at.Hour()), RHPct: 60, WindMS: 3, GustMS: math.NaN(), CloudPct: 50, RainMM: 0.1,
		})
	}
	return f
}

// An issue has the hours from its date through the Sunday of its week, of the
// newest forecast that is fresh enough, and the sun of the zone.
func TestHoursAhead(t *testing.T) {
	week := civil.Week{Year: 2026, Num: 48}
	issue := civil.MustDate(2026, 11, 22)
	zone := &workspace.Zone{ID: "z", Station: "s", LatitudeDeg: 38.9, LongitudeDeg: -77}
	ws := &workspace.Workspace{Site: workspace.Site{IssueWeekday: time.Sunday}, Zones: []*workspace.Zone{zone}}
	with := func(issued ...civil.Date) {
		var all []weather.HourlyForecast
		for _, d := range issued {
			all = append(all, hourly(t, "America/New_York", d, 12))
		}
		ws.Stations = []workspace.Station{{Station: weather.Station{ID: "s"}, Hourly: all}}
	}

	hours, issued := hoursAhead(ws, zone, week)
	assert.Empty(t, hours, "no such station")
	assert.Zero(t, issued)
	with(issue-3, issue+1)
	hours, issued = hoursAhead(ws, zone, week)
	assert.Empty(t, hours, "one too old, one that was not on file")
	assert.Zero(t, issued)

	with(issue-2, issue-1)
	hours, issued = hoursAhead(ws, zone, week)
	assert.Equal(t, issue-1, issued)
	require.Len(t, hours, 8*24)
	assert.Equal(t, issue, hours[0].Date)
	assert.Zero(t, hours[0].Of)
	assert.Equal(t, week.Sunday(), hours[len(hours)-1].Date)
	assert.Equal(t, 24.0, hours[14].TC)
	assert.Equal(t, [4]float64{60, 3, 50, 0.1}, [4]float64{hours[14].RHPct, hours[14].WindMS, hours[14].CloudPct, hours[14].RainMM})
	assert.True(t, math.IsNaN(hours[14].GustMS), "missing stays missing")

	ws.Law, ws.WaterLaw = law.NewBook(nil, nil), watering.NewBook(nil, nil)
	in := input(ws, zone, &turf.Profile{}, week, newModels(ws, issue, []*workspace.Zone{zone}).week(ws, zone, week))
	assert.Len(t, in.Hours, 8*24, "advice sees the same hours, even where no record lets it speak")
	assert.Equal(t, hours[14].SinceSunriseH, in.Hours[14].SinceSunriseH)
}

// The hours know where the sun stands, in winter and by daylight saving time:
// rise and set at 39° N, 105° W as the U.S. Naval Observatory prints them, in
// Mountain Standard Time, to the minute.
func TestPublishedSunOfTheHours(t *testing.T) {
	at := func(h, m float64) float64 { return h + m/60 }
	for _, c := range []struct {
		date      civil.Date
		rise, set float64 // h on the standard clock
		saving    float64 // what the clock of Denver is ahead of it, h
	}{
		{civil.MustDate(2015, 1, 2), at(7, 19), at(16, 49), 0},
		{civil.MustDate(2015, 4, 2), at(5, 43), at(18, 24), 1},
		{civil.MustDate(2015, 8, 2), at(5, 1), at(19, 10), 1},
		{civil.MustDate(2015, 12, 2), at(7, 1), at(16, 38), 0},
	} {
		got := sunlit(hourly(t, "America/Denver", c.date, 1).Hours, 39, -105, c.date, c.date)
		require.Len(t, got, 24, c.date.String())
		for _, h := range got {
			middle := float64(h.Of) + 0.5
			assert.InDelta(t, middle-(c.rise+c.saving), h.SinceSunriseH, 1.0/60, "%s, %d h", c.date, h.Of)
			assert.InDelta(t, c.set+c.saving-middle, h.ToSunsetH, 1.0/60, "%s, %d h", c.date, h.Of)
		}
	}
}

// The sun takes no notice of the clock: hour after hour it is an hour later,
// also where a day has 23 or 25.
func TestTheSunKeepsItsTimeOverAChangeOfTheClock(t *testing.T) {
	for date, hours := range map[civil.Date]int{civil.MustDate(2026, 3, 8): 23, civil.MustDate(2026, 11, 1): 25, civil.MustDate(2026, 11, 2): 24} {
		got := sunlit(hourly(t, "America/New_York", date, 1).Hours, 34, -78, date, date)
		require.Len(t, got, hours)
		for i := range got[1:] {
			assert.InDelta(t, 1, got[i+1].SinceSunriseH-got[i].SinceSunriseH, 1e-9, "%s, row %d", date, i)
			assert.InDelta(t, 1, got[i].ToSunsetH-got[i+1].ToSunsetH, 1e-9, "%s, row %d", date, i)
		}
	}
}

// Where the sun does not rise, nothing is known of its rise.
func TestNoSunrise(t *testing.T) {
	date := civil.MustDate(2026, 12, 21)
	for _, h := range sunlit(hourly(t, "America/New_York", date, 1).Hours, 69, -78, date, date) {
		assert.True(t, math.IsNaN(h.SinceSunriseH) && math.IsNaN(h.ToSunsetH))
	}
}

// The demonstration has an hourly forecast in its issues, on the page of every zone
// with weather, and none in other weeks.
func TestOwnDesignHoursOfTheDemonstration(t *testing.T) {
	var list diag.List
	ws := workspace.Load(os.DirFS("../.."), nil, &list) // who prints is not asked which phrases it needs
	for num, hours := range map[int]int{16: 8 * 24, 29: 8 * 24, 30: 0, 38: 8 * 24, 39: 0, 48: 8 * 24} {
		if num > 30 && os.Getenv("EVERY_CASE") == "" {
			continue
		}
		week := civil.Week{Year: 2026, Num: num}
		for _, z := range Build(ws, week).Zones {
			require.NotNil(t, z.Weather, z.ID)
			place, ok := ws.Zone(z.ID)
			require.True(t, ok)
			ahead, issued := hoursAhead(ws, place, week)
			require.Len(t, ahead, hours, "%s, %s", z.ID, week)
			assert.Equal(t, hours == 0, issued.IsZero())
			assert.Equal(t, hours == 0, z.Weather.Spray.Missing != nil)
			for _, h := range ahead {
				// At 34 to 36° N the sun is up at 10 and down by 10 in the evening.
				if h.Of == 10 || h.Of == 22 {
					assert.Equal(t, h.Of == 10, h.SinceSunriseH > 0 && h.ToSunsetH > 0)
				}
			}
		}
	}
}
