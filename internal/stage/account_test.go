package stage

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// A lawn of the test at the issue.
func lawn(days madeDays, grass string, kind turf.Kind, issue civil.Date) *pest.Input {
	return &pest.Input{Felt: days.felt(), Grass: &turf.Profile{ID: grass, Kind: kind}, Issue: issue}
}

// Own design: how a stage becomes a grade.
func TestOwnDesignWeedGrades(t *testing.T) {
	crabgrass := demoWeed(t, "crabgrass")
	start := civil.MustDate(2026, 1, 1)
	issue := civil.MustDate(2026, 3, 20)
	warm := mild(start, 78) // soil of 14 °C, until 19 March
	in := lawn(warm, "tall-fescue", turf.CoolSeason, issue)

	a := crabgrass.Assess(in)
	require.True(t, a.Known)
	assert.Equal(t, pest.Watch, a.Grade)
	assert.Equal(t, pest.WindowOpen, a.Window)
	assert.Equal(t, "first-plants", crabgrass.Progress(in).Stage.ID)
	for _, x := range []float64{a.Score, a.Observed, a.Ahead, a.Percentile} {
		assert.True(t, math.IsNaN(x))
	}

	in = lawn(warm, "tall-fescue", turf.CoolSeason, issue)
	in.Reports = []pest.Report{{Date: issue.AddDays(-300), Finding: "crabgrass", Grass: "tall-fescue"}}
	assert.Equal(t, pest.Watch, crabgrass.Assess(in).Grade, "found within the year somewhere in the zone")
	in.Lawn = true
	assert.Equal(t, pest.Act, crabgrass.Assess(in).Grade, "on the lawn where it was found")

	in = lawn(warm, "tall-fescue", turf.CoolSeason, issue)
	in.Lawn = true
	in.Reports = []pest.Report{{Date: issue.AddDays(-300), Finding: "crabgrass", Grass: "zoysia"}}
	assert.Equal(t, pest.Watch, crabgrass.Assess(in).Grade, "another grass's report does not count")

	in = lawn(warm, "tall-fescue", turf.CoolSeason, issue)
	in.Lawn = true
	in.Reports = []pest.Report{{Date: issue.AddDays(1), Finding: "crabgrass"}}
	assert.Equal(t, pest.Watch, crabgrass.Assess(in).Grade, "a report of the issue date or later is not known")

	in = lawn(warm, "tall-fescue", turf.CoolSeason, issue)
	in.Lawn = true
	in.Reports = []pest.Report{{Date: issue.AddDays(-300), Finding: "crabgrass"}}
	in.Treatments = []pest.Treatment{{Date: issue.AddDays(-5), Target: "crabgrass", IntervalDays: 60}}
	a = crabgrass.Assess(in)
	assert.Equal(t, pest.Watch, a.Grade, "a treatment still counts")
	assert.Equal(t, issue.AddDays(55), a.ProtectedUntil)

	// Hosts: none is silent, minor is capped.
	doveweed := demoWeed(t, "doveweed")
	assert.Equal(t, pest.Assessment{ID: "doveweed"}, withoutNaN(doveweed.Assess(lawn(warm, "tall-fescue", turf.CoolSeason, issue))))
}

// withoutNaN sets the unset numbers to 0 so that structs compare.
func withoutNaN(a pest.Assessment) pest.Assessment {
	for _, p := range []*float64{&a.Score, &a.Observed, &a.Ahead, &a.Percentile} {
		if math.IsNaN(*p) {
			*p = 0
		}
	}
	return a
}

func TestOwnDesignQuietStagesStayQuiet(t *testing.T) {
	crabgrass := demoWeed(t, "crabgrass")
	cold := mild(civil.MustDate(2026, 1, 1), 60).each(weather.Soil5C, always(4)) // soil of 4 °C
	in := lawn(cold, "tall-fescue", turf.CoolSeason, civil.MustDate(2026, 2, 28))
	in.Reports = []pest.Report{{Date: civil.MustDate(2026, 2, 20), Finding: "crabgrass", Confirmed: true}}
	a := crabgrass.Assess(in)
	assert.Equal(t, pest.Quiet, a.Grade, "the wrong time, whatever was found")
	assert.Equal(t, pest.WindowBefore, a.Window)
	assert.True(t, a.Reported)
}

func TestOwnDesignPageOnlyInsectsSayNothing(t *testing.T) {
	weevil := demoInsect(t, "annual-bluegrass-weevil")
	a := weevil.Assess(lawn(mild(civil.MustDate(2026, 1, 1), 120), "creeping-bentgrass", turf.CoolSeason, civil.MustDate(2026, 4, 20)))
	assert.Equal(t, pest.InvalidPageOnly, a.Invalid)
	assert.Equal(t, pest.Quiet, a.Grade)
	assert.False(t, a.Known)
}

func TestOwnDesignInsectOutsideItsRegion(t *testing.T) {
	crickets := demoInsect(t, "mole-crickets")
	days := mild(civil.MustDate(2026, 1, 1), 200)
	days.station.LatitudeDeg = 39
	a := crickets.Assess(lawn(days, "bermuda", turf.WarmSeason, civil.MustDate(2026, 7, 1)))
	assert.Equal(t, pest.InvalidRegion, a.Invalid)
	assert.False(t, a.Known)
}

// A stage raised and lowered by what the weeks were.
func TestOwnDesignShiftedGrades(t *testing.T) {
	at := func(id string, rainMM float64, grass string) pest.Assessment {
		days, issue := mild(civil.MustDate(2026, 1, 1), 258), civil.MustDate(2026, 9, 16)
		days.station.LatitudeDeg = 37
		days = days.each(weather.RainMM, always(rainMM)).each(weather.TmaxC, always(30)).each(weather.TminC, always(16))
		return demoInsect(t, id).Assess(lawn(days, grass, turf.CoolSeason, issue))
	}
	wet, dry := at("white-grubs", 3, "tall-fescue"), at("white-grubs", 0, "tall-fescue")
	require.True(t, wet.Known && dry.Known)
	assert.Equal(t, pest.Watch, wet.Grade)
	assert.Equal(t, pest.Quiet, dry.Grade, "a dry month: few eggs live")
	assert.Equal(t, pest.Act, at("fall-armyworm", 3, "tall-fescue").Grade)
	assert.Equal(t, pest.Watch, at("fall-armyworm", 3, "fine-fescue").Grade, "now and then a host: watch at most")
}

// tenYears is Norfolk from 2001 to 2010.
func tenYears(b *testing.B) *weather.Felt {
	v := norfolk(b).View
	from, to := civil.MustDate(2001, 1, 1), civil.MustDate(2010, 12, 31)
	s := weather.NewSeries(from, int(to-from)+1)
	for c := range weather.Columns {
		for d := from; d <= to; d++ {
			s.Set(c, d, v.Days.At(c, d))
		}
	}
	return weather.AsOf(v.Station, s, nil, to+1).Felt()
}

func BenchmarkTenYearsOfAllWeedsAndInsects(b *testing.B) {
	f := tenYears(b)
	var timings []*Timing
	for _, w := range demoWeeds(b) {
		timings = append(timings, w.TimingAt(f.View.Station))
	}
	for _, i := range demoInsects(b) {
		if i.Weekly {
			timings = append(timings, i.TimingAt(f.View.Station))
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, t := range timings {
			if t != nil {
				t.Trace(f)
			}
		}
	}
}

func BenchmarkOneIssueOfAllWeedsAndInsects(b *testing.B) {
	f := tenYears(b)
	in := &pest.Input{Felt: f, Grass: &turf.Profile{ID: "tall-fescue", Kind: turf.CoolSeason}, Issue: f.View.IssueDate}
	weeds, insects := demoWeeds(b), demoInsects(b)
	b.ReportAllocs()
	for b.Loop() {
		for _, w := range weeds {
			w.Assess(in)
		}
		for _, i := range insects {
			i.Assess(in)
		}
	}
}
