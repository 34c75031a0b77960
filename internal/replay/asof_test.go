package replay

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// later returns the workspace as it might have been if, from a date on, all had
// come differently: other weather or none, other forecasts, other finds.
func later(t *rapid.T, ws *workspace.Workspace, from civil.Date) *workspace.Workspace {
	out := *ws
	out.Stations = slices.Clone(ws.Stations)
	keep := rapid.IntRange(0, 400).Draw(t, "days of other weather")
	warmer := rapid.Float64Range(-25, 25).Draw(t, "warmer by")
	rainMM := rapid.Float64Range(0, 90).Draw(t, "rain")
	for i := range out.Stations {
		st := &out.Stations[i]
		if st.Records == nil {
			continue
		}
		days := min(max(0, int(from-st.Records.Start))+keep, st.Records.Len())
		s := weather.NewSeries(st.Records.Start, days)
		for k := range days {
			d := s.Start.AddDays(k)
			for _, c := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM, weather.RHMeanPct} {
				x := st.Records.At(c, d)
				switch {
				case d < from:
				case c == weather.RainMM:
					x = rainMM
				case c == weather.RHMeanPct:
					x = 100 - rainMM // any other
				default:
					x += warmer
				}
				s.Set(c, d, x)
			}
		}
		st.Records = s
		known := func(f weather.Forecast) bool { return f.Issued < from }
		st.Forecasts = nil
		for _, f := range ws.Stations[i].Forecasts {
			if known(f) {
				st.Forecasts = append(st.Forecasts, f)
			}
		}
		storm := weather.NewSeries(from, 7)
		for k := range 7 {
			storm.Set(weather.TmaxC, from.AddDays(k), 40)
			storm.Set(weather.TminC, from.AddDays(k), 30)
			storm.Set(weather.RainMM, from.AddDays(k), 100)
		}
		st.Forecasts = append(st.Forecasts, weather.Forecast{Issued: from, Days: storm})
		st.Hourly = slices.DeleteFunc(slices.Clone(st.Hourly), func(f weather.HourlyForecast) bool { return f.Issued >= from })
	}
	out.Reports = slices.DeleteFunc(slices.Clone(ws.Reports), func(r pest.Report) bool { return r.Date >= from })
	out.Treatments = slices.DeleteFunc(slices.Clone(ws.Treatments), func(r pest.Treatment) bool { return r.Date >= from })
	for _, z := range ws.Zones {
		for _, d := range ws.Pests.Diseases {
			out.Reports = append(out.Reports, pest.Report{Date: from, Zone: z.ID, Finding: d.ID, Confirmed: true, Method: "eye", StandingWater: true})
			out.Treatments = append(out.Treatments, pest.Treatment{Date: from, Zone: z.ID, Target: d.ID, Groups: []string{"11"}})
		}
	}
	return &out
}

// What was recorded, forecast, found or sprayed later changes nothing that a
// week told: neither its own answers nor what past years say of what lies ahead
// of it.
func TestPropertyNothingLaterChangesAWeek(t *testing.T) {
	ws := demonstration(t)
	rapid.Check(t, func(t *rapid.T) {
		z := *rapid.SampledFrom(ws.Zones).Draw(t, "zone")
		z.Grasses = []*turf.Profile{rapid.SampledFrom(z.Grasses).Draw(t, "grass")}
		q := Question{First: 2015, Last: 2026, Zones: []*workspace.Zone{&z}}
		week := civil.MustDate(2015, 2, 1).AddDays(7 * rapid.IntRange(0, 615).Draw(t, "week")).Week()
		weeks := []civil.Week{week.AddWeeks(-1), week}
		// The newest issue is made on the morning of its date: of that day
		// nothing is recorded yet. Its forecast may be of the day itself.
		from := ws.Site.IssueDate(week).AddDays(1)
		want := tellWeeks(ws, q, weeks, nil)
		got := tellWeeks(later(t, ws, from), q, weeks, nil)
		require.Equal(t, want, got)
	})
}

// The records of the issue date itself are not known to its issue either.
func TestTheIssueDateIsNotKnown(t *testing.T) {
	ws := demonstration(t)
	q := ask(t, ws, "brackmoor-plateau", 2025, 2025)
	weeks, err := q.weeks(ws)
	require.NoError(t, err)
	week := weeks[25]
	date := ws.Site.IssueDate(week)
	cut := *ws
	cut.Stations = slices.Clone(ws.Stations)
	shorter := func(until civil.Date) {
		for i := range cut.Stations {
			all := ws.Stations[i].Records
			s := weather.NewSeries(all.Start, int(until-all.Start))
			for _, c := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM} {
				for d := s.Start; d < until; d++ {
					s.Set(c, d, all.At(c, d))
				}
			}
			cut.Stations[i].Records = s
		}
	}
	want := tellWeeks(ws, q, []civil.Week{week}, nil)
	shorter(date)
	assert.Equal(t, want, tellWeeks(&cut, q, []civil.Week{week}, nil))
	// The test would see it if a day made a difference.
	shorter(date.AddDays(-1))
	assert.NotEqual(t, want, tellWeeks(&cut, q, []civil.Week{week}, nil))
}

// A replay whose record ends in mid-year tells the same of the weeks before as
// one that goes on, all the way to what windows and rules came to.
func TestARecordThatGoesOnChangesNoEarlierCount(t *testing.T) {
	ws := demonstration(t)
	q := ask(t, ws, "brackmoor-plateau", 2024, 2025)
	weeks, err := q.weeks(ws)
	require.NoError(t, err)
	told := tellWeeks(ws, q, weeks, nil)
	whole := gather(ws, q, told)
	const n = 70
	part := gather(ws, q, told[:n])
	for i, g := range part.Zones[0].Grasses {
		all := whole.Zones[0].Grasses[i]
		require.Equal(t, all.States[:n], g.States)
		for k, w := range g.Windows {
			for j, y := range w.Years {
				if !y.Opened.Week.IsZero() {
					assert.Equal(t, all.Windows[k].Years[j].Opened, y.Opened, "%s %d", w.ID, y.Year)
				}
			}
		}
		assert.Equal(t, whole.Zones[0].Years[0], part.Zones[0].Years[0])
	}
}
