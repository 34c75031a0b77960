package weather

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/diag"
)

// edgeIssue is the issue date of the edges.
var edgeIssue = civil.MustDate(2016, 7, 8)

// seen is a view of forty level days before the issue date as a case changes
// them, with forecasts.
func seen(change func(*Series), forecasts ...Forecast) *View {
	records := level(edgeIssue.AddDays(-40), 40, 20)
	if change != nil {
		change(records)
	}
	return AsOf(Station{ID: "x", LatitudeDeg: 35}, records, forecasts, edgeIssue)
}

// forecastOf is a forecast of nine level days from a day on, issued so many days
// before the issue date; its mean is meanC.
func forecastOf(ago int, meanC float64) Forecast {
	issued := edgeIssue.AddDays(-ago)
	return Forecast{Issued: issued, Days: level(issued, 9, meanC)}
}

// Which forecast an issue may see: of its own date, of the day before and of the
// one before that; the newest, and of two of one day the first.
func TestEdgesOfTheForecastThatCounts(t *testing.T) {
	for _, c := range []struct {
		name      string
		forecasts []Forecast
		meanC     float64 // of the issue date; NaN: none counts
	}{
		{"of the issue date", []Forecast{forecastOf(0, 1)}, 1},
		{"of the day after", []Forecast{forecastOf(-1, 1)}, math.NaN()},
		{"two days old", []Forecast{forecastOf(2, 1)}, 1},
		{"three days old", []Forecast{forecastOf(3, 1)}, math.NaN()},
		{"the newest", []Forecast{forecastOf(2, 1), forecastOf(0, 2), forecastOf(1, 3)}, 2},
		{"the first of a day", []Forecast{forecastOf(1, 1), forecastOf(1, 2)}, 1},
		{"one that counts beside one that does not", []Forecast{forecastOf(-1, 1), forecastOf(2, 2), forecastOf(5, 3)}, 2},
		{"none", nil, math.NaN()},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := seen(nil, c.forecasts...)
			var hourly []HourlyForecast
			for _, f := range c.forecasts {
				hourly = append(hourly, HourlyForecast{Issued: f.Issued, Hours: []Hour{{TC: f.Days.At(TmaxC, f.Days.Start) - 5}}})
			}
			h := NewestHourly(hourly, edgeIssue)
			if math.IsNaN(c.meanC) {
				assert.Equal(t, Missing, v.Basis(TmaxC, edgeIssue))
				assert.True(t, v.ForecastIssued.IsZero())
				assert.Nil(t, h)
				return
			}
			assert.Equal(t, c.meanC+5, v.Days.At(TmaxC, edgeIssue))
			assert.Equal(t, ForecastDay, v.Basis(TmaxC, edgeIssue))
			require.NotNil(t, h)
			assert.Equal(t, c.meanC, h.Hours[0].TC, "the hourly one likewise")
		})
	}
}

// How far a view reaches, and where what was recorded ends.
func TestEdgesOfAView(t *testing.T) {
	records := level(edgeIssue.AddDays(-40), 60, 20)
	v := AsOf(Station{}, records, nil, edgeIssue)
	assert.Equal(t, Observed, v.Basis(TmaxC, edgeIssue-1))
	assert.Equal(t, Missing, v.Basis(TmaxC, edgeIssue), "recorded on the issue date")
	assert.Equal(t, edgeIssue-1, v.LastRecord)
	assert.Equal(t, edgeIssue+6, v.Days.End())
	for days, last := range map[int]civil.Date{6: edgeIssue + 6, 7: edgeIssue + 6, 8: edgeIssue + 7, 16: edgeIssue + 15, 17: edgeIssue + 15} {
		f := Forecast{Issued: edgeIssue, Days: level(edgeIssue, days, 20)}
		assert.Equal(t, last, AsOf(Station{}, records, []Forecast{f}, edgeIssue).Days.End(), "a forecast of %d days", days)
	}
}

// Gaps of one and two days are filled, of three not: before the issue date and
// within a forecast.
func TestEdgesOfGaps(t *testing.T) {
	without := func(c Column, first civil.Date, days int) func(*Series) {
		return func(s *Series) {
			for i := range days {
				s.Set(c, first.AddDays(i), math.NaN())
			}
		}
	}
	for days, filled := range map[int]bool{1: true, 2: true, 3: false} {
		for name, first := range map[string]civil.Date{"between": edgeIssue - 10, "at the end": edgeIssue.AddDays(-days)} {
			v := seen(without(TmaxC, first, days))
			want := Missing
			if filled {
				want = Estimated
			}
			assert.Equal(t, want, v.Basis(TmaxC, first), "%d days %s", days, name)
			assert.Equal(t, want, v.Basis(TmaxC, first.AddDays(days-1)), "%d days %s", days, name)
			assert.Equal(t, filled, v.Days.At(TmaxC, first) == 25, "%d days %s: held", days, name)
			assert.Equal(t, want, v.Felt().Basis(first), "%d days %s: its mean", days, name)
		}
		f := forecastOf(0, 20)
		for i := range days {
			f.Days.Set(TminC, edgeIssue.AddDays(2+i), math.NaN())
		}
		v := seen(nil, f)
		want := Missing
		if filled {
			want = Estimated
		}
		assert.Equal(t, want, v.Basis(TminC, edgeIssue+2), "a hole of %d days in the forecast", days)
		assert.Equal(t, filled, v.Felt().Basis(edgeIssue+2) != Missing, "a hole of %d days in the forecast", days)
	}
	// Rain is not held but taken for none, and a gap at the beginning is no gap.
	v := seen(func(s *Series) {
		s.Set(RainMM, edgeIssue-3, 9)
		s.Set(RainMM, edgeIssue-2, math.NaN())
		s.Set(TmaxC, s.Start, math.NaN())
	})
	assert.Zero(t, v.Days.At(RainMM, edgeIssue-2))
	assert.Equal(t, Missing, v.Basis(TmaxC, v.Days.Start))
	sum, estimated := v.Sum(RainMM, edgeIssue-1, 7)
	assert.Equal(t, 9.0, sum)
	assert.Equal(t, 1, estimated, "a filled day is no observed one")
	_, estimated = seen(nil, forecastOf(0, 20)).Sum(RainMM, edgeIssue+2, 7)
	assert.Equal(t, 3, estimated, "nor is a forecast one")
	// At a morning station a day may have its maximum and its minimum equal.
	st := Station{Obs: []ObsPeriod{{Time: Morning}}}
	records := level(edgeIssue-10, 10, 20)
	records.Set(TmaxC, edgeIssue-4, 15)
	v = AsOf(st, records, nil, edgeIssue)
	assert.Equal(t, Observed, v.Basis(TmaxC, edgeIssue-5))
	records.Set(TmaxC, edgeIssue-4, 14.9)
	v = AsOf(st, records, nil, edgeIssue)
	assert.NotEqual(t, Observed, v.Basis(TmaxC, edgeIssue-5))
}

// A window of seven days that ends with a day speaks with five of them observed.
func TestEdgesOfAWindow(t *testing.T) {
	assert.Equal(t, []int{7, 5}, []int{WindowDays, WindowValid})
	last := edgeIssue - 1
	mean := func(change func(*Series)) (float64, int) {
		f := seen(change, forecastOf(0, 20)).Felt()
		return f.Mean(f.TmeanC, last, WindowDays)
	}
	hot := func(ago int) func(*Series) {
		return func(s *Series) {
			s.Set(TmaxC, edgeIssue.AddDays(-ago), 32)
			s.Set(TminC, edgeIssue.AddDays(-ago), 22)
		}
	}
	for ago, want := range map[int]float64{1: 21, 7: 21, 8: 20} {
		got, n := mean(hot(ago))
		assert.InDelta(t, want, got, 1e-9, "a day that is 7 degrees warmer, %d days ago", ago)
		assert.Equal(t, 7, n)
	}
	got, n := mean(func(s *Series) { s.Set(TmaxC, edgeIssue-3, math.NaN()) })
	assert.Equal(t, 6, n, "a filled day does not count")
	assert.InDelta(t, 20, got, 1e-9)
	f := seen(nil, forecastOf(0, 30)).Felt()
	_, n = f.Mean(f.TmeanC, edgeIssue+1, WindowDays)
	assert.Equal(t, 5, n, "nor does a forecast one")
}

// The basis of a day is that of the worse of its two temperatures.
func TestEdgesOfTheBasisOfADay(t *testing.T) {
	f := seen(func(s *Series) {
		s.Set(TmaxC, edgeIssue-5, math.NaN())
		for i := range 3 {
			s.Set(TminC, edgeIssue.AddDays(-20+i), math.NaN())
		}
	}, forecastOf(0, 20)).Felt()
	assert.Equal(t, Observed, f.Basis(edgeIssue-6))
	assert.Equal(t, Estimated, f.Basis(edgeIssue-5))
	assert.Equal(t, Missing, f.Basis(edgeIssue-20))
	assert.Equal(t, ForecastDay, f.Basis(edgeIssue))
}

// The time of observation changes on the day on which it is said to.
func TestEdgesOfTheTimeOfObservation(t *testing.T) {
	st := Station{Obs: []ObsPeriod{{From: edgeIssue - 5, Time: Morning}}}
	assert.Equal(t, Midnight, st.ObsTimeOn(edgeIssue-6))
	assert.Equal(t, Morning, st.ObsTimeOn(edgeIssue-5))
	records := level(edgeIssue-10, 10, 20)
	records.Set(RainMM, edgeIssue-6, 6)
	records.Set(RainMM, edgeIssue-5, 5)
	records.Set(RainMM, edgeIssue-4, 4)
	v := AsOf(st, records, nil, edgeIssue)
	assert.Equal(t, []float64{6, 4}, []float64{v.Days.At(RainMM, edgeIssue-6), v.Days.At(RainMM, edgeIssue-5)})
}

// The soil model speaks after its first twenty days; a probe moves it by its last
// seven readings, if none of them is older than fourteen days.
func TestEdgesOfTheSoil(t *testing.T) {
	bare := seen(nil, forecastOf(0, 20)).Felt()
	spin := agromet.SoilSpinUpDays
	assert.Equal(t, 20, spin)
	assert.Equal(t, SoilNone, bare.Soil5By[spin-1])
	assert.Equal(t, SoilModeled, bare.Soil5By[spin])

	// readings are a probe's, 3 degrees off the model, on so many days of which the
	// last is so many days before the issue date.
	readings := func(n, lastAgo int) *Felt {
		return seen(func(s *Series) {
			for i := range n {
				d := edgeIssue.AddDays(-lastAgo - i)
				s.Set(Soil5C, d, bare.Soil5C[int(d-bare.Start)]+3)
			}
		}, forecastOf(0, 20)).Felt()
	}
	for _, c := range []struct {
		name       string
		n, lastAgo int
		want       SoilMethod // of the issue date
	}{
		{"seven readings", 7, 1, SoilShifted},
		{"six readings", 6, 1, SoilModeled},
		{"the oldest of seven is fourteen days old", 7, 8, SoilShifted},
		{"fifteen days old", 7, 9, SoilModeled},
		{"of eight the last seven count", 8, 8, SoilShifted},
	} {
		f := readings(c.n, c.lastAgo)
		i, _ := f.Index(edgeIssue)
		assert.Equal(t, c.want, f.Soil5By[i], c.name)
		assert.InDelta(t, bare.Soil5C[i]+map[SoilMethod]float64{SoilShifted: 3}[c.want], f.Soil5C[i], 1e-9, c.name)
		assert.Equal(t, SoilProbe, f.Soil5By[i-c.lastAgo], c.name)
		// The days of the forecast are as the issue date.
		assert.Equal(t, c.want, f.Soil5By[i+6], c.name)
	}
	// What a forecast or a filled day says of the soil is no probe's.
	ahead := forecastOf(0, 20)
	ahead.Days.Set(Soil5C, edgeIssue, 3)
	f := seen(nil, ahead).Felt()
	i, _ := f.Index(edgeIssue)
	assert.Equal(t, SoilModeled, f.Soil5By[i])
}

// The least and the greatest value of each column is taken, and a step beside it
// is not.
func TestEdgesOfValues(t *testing.T) {
	for c, want := range map[Column][2]float64{
		TmaxC: {-60, 60}, TminC: {-60, 60}, DewC: {-60, 60}, Soil5C: {-30, 60}, Soil10C: {-30, 60}, RainMM: {0, 1000},
		RHMeanPct: {0, 100}, RHMaxPct: {0, 100}, RHMinPct: {0, 100}, CloudPct: {0, 100}, WindMS: {0, 60}, GustMS: {0, 120},
		SunH: {0, 24}, WetH: {0, 24}, SolarMJ: {0, 45}, SnowMM: {0, 2500}, SnowDepthMM: {0, 12500},
	} {
		taken := func(x float64) bool {
			head, row := "date,tmax_c,tmin_c,rain_mm", "2016-07-01,,,"
			switch c {
			case TmaxC:
				row = fmt.Sprintf("2016-07-01,%.2f,,", x)
			case TminC:
				row = fmt.Sprintf("2016-07-01,,%.2f,", x)
			case RainMM:
				row = fmt.Sprintf("2016-07-01,,,%.2f", x)
			default:
				head, row = head+","+c.Name(), fmt.Sprintf("%s,%.2f", row, x)
			}
			var list diag.List
			s := ReadDaily("daily.csv", []byte(head+"\n"+row+"\n"), &list)
			if list.Err() != nil {
				require.Contains(t, list.Error(), "is outside", "%s %v", c.Name(), x)
				return false
			}
			return s.At(c, civil.MustDate(2016, 7, 1)) == x
		}
		assert.True(t, taken(want[0]), "%s %v", c.Name(), want[0])
		assert.True(t, taken(want[1]), "%s %v", c.Name(), want[1])
		assert.False(t, taken(want[0]-0.01), "%s below %v", c.Name(), want[0])
		assert.False(t, taken(want[1]+0.01), "%s above %v", c.Name(), want[1])
	}
}

// A forecast is of the day of issue through the sixteenth after it.
func TestEdgesOfTheDaysOfAForecast(t *testing.T) {
	for days, ok := range map[int]bool{-1: false, 0: true, 16: true, 17: false} {
		d := edgeIssue.AddDays(days)
		var list diag.List
		ReadHourlyForecast("f.csv", []byte(fmt.Sprintf("time,temp_c\n%sT12:00,9\n", d)), edgeIssue, time.UTC, &list)
		assert.Equal(t, ok, list.Err() == nil, "an hour of the day %d", days)
		var daily diag.List
		ReadForecast("f.csv", []byte(fmt.Sprintf("date,tmax_c,tmin_c,rain_mm\n%s,9,1,0\n", d)), edgeIssue, &daily)
		assert.Equal(t, ok, daily.Err() == nil, "the day %d", days)
	}
}

// What differs by rounding alone is no conflict.
func TestEdgesOfConflicts(t *testing.T) {
	first := civil.MustDate(2016, 7, 1)
	conflicts := func(old, later float64) int {
		a, b := NewSeries(first, 1), NewSeries(first, 1)
		a.Set(RainMM, first, old)
		b.Set(RainMM, first, later)
		merged, report := Merge(a, b, false)
		assert.Equal(t, old, merged.At(RainMM, first), "what is on file stays")
		return len(report.Conflicts)
	}
	for _, c := range []struct {
		old, later float64
		want       int
	}{
		{5.08, 5.08, 0}, {5.08, 5.1, 0}, {5.1, 5.08, 0}, {5.05, 5.1, 0}, {5.04, 5.1, 1}, {5.1, 5.14, 0}, {5.1, 5.16, 1}, {5.08, 5.09, 1}, {5.1, 5.2, 1},
	} {
		assert.Equal(t, c.want, conflicts(c.old, c.later), "%v and %v", c.old, c.later)
	}
}

// The hours at which an observer is taken to read in the morning, in the
// afternoon and at midnight, and how many of them have to agree.
func TestEdgesOfObservers(t *testing.T) {
	told := func(hours ...int) string {
		var b strings.Builder
		for i, h := range hours {
			fmt.Fprintf(&b, "USX,201607%02d,TMAX,250,,,0,%02d00\n", i+1, h)
		}
		got, err := Import("x.csv", []byte(b.String()), ImportOptions{Units: UnitsTenths})
		require.NoError(t, err)
		if got.Obs == nil {
			return ""
		}
		return got.Obs[0].Time.String()
	}
	for h, want := range map[int]string{21: "afternoon", 22: "midnight", 23: "midnight", 0: "midnight", 1: "", 3: "", 4: "morning", 11: "morning", 12: "", 13: "", 14: "afternoon"} {
		assert.Equal(t, want, told(h, h, h), "%d h", h)
	}
	nine := []int{7, 7, 7, 7, 7, 7, 7, 7, 7, 17}
	assert.Equal(t, "morning", told(nine...), "nine of ten")
	assert.Empty(t, told(nine[1:]...), "eight of nine")
}

// A day may have its maximum and its minimum equal.
func TestEdgesOfContradictions(t *testing.T) {
	days := func(max, min int) int {
		got, err := Import("x.csv", []byte(fmt.Sprintf("USX,20160701,TMAX,%d,,,0,\nUSX,20160701,TMIN,%d,,,0,\n", max, min)), ImportOptions{Units: UnitsTenths})
		require.NoError(t, err)
		return got.Days.Len()
	}
	assert.Equal(t, 1, days(150, 150))
	assert.Equal(t, 0, days(149, 150))
}
