package disease

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

func grass(t testing.TB, id string) *turf.Profile {
	t.Helper()
	list := &diag.List{}
	root, ok := diag.ReadTOML(id, dataFile(t, "grasses/"+id+".toml"), list)
	require.True(t, ok)
	p := turf.ReadProfile(id, root)
	require.NoError(t, list.Err())
	return p
}

func loam(t testing.TB) turf.Soil {
	t.Helper()
	s, ok := turf.SoilByID("loam")
	require.True(t, ok)
	return s
}

// seriesOf makes days of maximum, minimum and rain; a NaN maximum is a missing
// record.
func seriesOf(first civil.Date, n int, make func(i int, d civil.Date) [3]float64) *weather.Series {
	s := weather.NewSeries(first, n)
	for i := range n {
		d := first.AddDays(i)
		x := make(i, d)
		if math.IsNaN(x[0]) {
			continue
		}
		s.Set(weather.TmaxC, d, x[0])
		s.Set(weather.TminC, d, x[1])
		s.Set(weather.RainMM, d, x[2])
	}
	return s
}

var somewhere = weather.Station{ID: "test", LatitudeDeg: 35, LongitudeDeg: -79, ElevationM: 100}

func uniformWeather(first civil.Date, n int, make func(i int, d civil.Date) [3]float64) *weather.Felt {
	s := seriesOf(first, n, make)
	return weather.AsOf(somewhere, s, nil, s.End()+1).Felt()
}

// The steps of the grade, by score; own design throughout.
func TestOwnDesignHysteresis(t *testing.T) {
	limits := demoDisease(t, "dollar-spot").Limits
	for _, c := range []struct {
		name   string
		host   int
		scores []float64
		want   []pest.Grade
	}{
		{"up at once, down after two", 3,
			[]float64{.10, .26, .22, .14, .26, .55, .40, .34, .33, .30, .14, .12, .08}, []pest.Grade{0, 1, 1, 1, 1, 2, 2, 2, 1, 1, 1, 0, 0}},
		{"around the limits", 3,
			[]float64{.24, .25, .49, .50, .36, .34, .36, .34, .34, .16, .14, .16, .14, .14}, []pest.Grade{0, 1, 1, 2, 2, 2, 2, 2, 1, 1, 1, 1, 1, 0}},
		{"a common host", 2, []float64{.30, .36, .58, .61, .34, .33, .14, .14}, []pest.Grade{0, 1, 1, 2, 2, 1, 1, 0}},
		{"a minor host never acts", 1, []float64{.9, .9}, []pest.Grade{1, 1}},
		{"no host is silent", 0, []float64{.9, .9}, []pest.Grade{0, 0}},
		{"held one issue, then not known", 3, []float64{.6, nan, nan, .6}, []pest.Grade{2, 2, 0, 2}},
		{"a gap of one does not count as low", 3, []float64{.3, .1, nan, .1}, []pest.Grade{1, 1, 1, 0}},
		{"rounded to three decimals", 3, []float64{.24949, .24951}, []pest.Grade{0, 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var s GradeState
			for i, score := range c.scores {
				s = limits.Step(s, GradeStep{Score: score, Host: c.host, Cap: pest.Act})
				assert.Equal(t, c.want[i], s.Grade, "issue %d", i)
			}
		})
	}
	s := limits.Step(GradeState{Grade: pest.Act}, GradeStep{Score: .9, Host: 3, Cap: pest.Act, Stop: true})
	assert.Equal(t, GradeState{}, s, "a hard stop is quiet at once")
	s = limits.Step(GradeState{}, GradeStep{Score: .16, Host: 3, Cap: pest.Act, Confirmed: true})
	assert.Equal(t, pest.Act, s.Grade, "a confirmed report")
	s = limits.Step(GradeState{}, GradeStep{Score: .14, Host: 3, Cap: pest.Act, Confirmed: true})
	assert.Equal(t, pest.Quiet, s.Grade, "not without weather")
	s = limits.Step(GradeState{}, GradeStep{Score: .9, Host: 3, Cap: pest.Watch})
	assert.Equal(t, pest.Watch, s.Grade, "capped")
	assert.Equal(t, []string{"quiet", "watch", "act"}, []string{pest.Quiet.String(), pest.Watch.String(), pest.Act.String()})
}

func TestOwnDesignWeekScore(t *testing.T) {
	all := func(x float64) []float64 { return []float64{x, x, x, x, x, x, x} }
	for _, c := range []struct {
		observed, ahead []float64
		want            float64
	}{
		{[]float64{.6, .6, .5, .5, .4, .4, .3}, []float64{.2, .2, .2, .1, .1, .1, .1}, .3451},
		{all(.30), all(.50), .3800}, {all(0), all(1), .4000}, {all(.5), all(0), .3000},
		{[]float64{.2, .2, .3, .4, .5, .6, .6}, []float64{.7, .7, .6, .5, .4, .3, .2}, .4533},
		{all(.3), all(nan), .3}, {[]float64{.3, .3, nan, .3, nan, .3, nan}, all(.3), nan},
	} {
		near(t, c.want, WeekScore(ObservedScore(c.observed), AheadScore(c.ahead)), 0.0001)
	}
	assert.InDelta(t, .3, ObservedScore([]float64{.3, .3, nan, .3, nan, .3, .3}), 1e-9, "five of seven are enough")
	near(t, nan, AheadScore([]float64{1, 1, 1, nan, nan, nan, nan}), 0)
}

// humidSummer is weather that favors brown patch, with the humidity measured on its
// last days.
func humidSummer(measured int) *weather.Felt {
	const days = 100
	s := seriesOf(monthDay(2020, 4, 1), days, func(int, civil.Date) [3]float64 { return [3]float64{30, 22, 3} })
	for i := days - measured; i < days; i++ {
		s.Set(weather.RHMeanPct, s.Start.AddDays(i), 85)
	}
	return weather.AsOf(somewhere, s, nil, s.End()+1).Felt()
}

// A grade that rests on estimates of humidity is no more than watch.
func TestAssessBrownPatch(t *testing.T) {
	d := demoDisease(t, "brown-patch")
	for _, c := range []struct {
		measured  int
		grade     pest.Grade
		estimated bool
	}{{0, pest.Watch, true}, {4, pest.Watch, true}, {5, pest.Act, true}, {7, pest.Act, false}} {
		f := humidSummer(c.measured)
		a := d.Assess(&pest.Input{Felt: f, Grass: grass(t, "tall-fescue"), Issue: f.View.IssueDate})
		assert.Equal(t, c.grade, a.Grade, "%d days measured", c.measured)
		assert.Equal(t, c.estimated, a.HumidityEstimated)
		report := []pest.Report{{Date: f.View.IssueDate.AddDays(-3), Finding: "brown-patch", Confirmed: true}}
		a = d.Assess(&pest.Input{Felt: f, Grass: grass(t, "tall-fescue"), Issue: f.View.IssueDate, Reports: report, Lawn: true})
		assert.Equal(t, pest.Act, a.Grade, "found on the very lawn")
	}
	f := humidSummer(100)
	in := &pest.Input{Felt: f, Grass: grass(t, "tall-fescue"), Issue: f.View.IssueDate}
	a := d.Assess(in)
	assert.True(t, a.Known)
	assert.Equal(t, pest.Act, a.Grade)
	assert.Equal(t, a.Observed, a.Score, "no forecast")
	assert.False(t, a.HasForecast)
	require.Len(t, a.Days, 14)
	assert.Equal(t, f.View.IssueDate.AddDays(-7), a.Days[0].Date)
	assert.True(t, math.IsNaN(a.Days[7].Risk))
	assert.True(t, a.Days[7].Forecast)
	assert.True(t, math.IsNaN(a.Percentile))

	// Treated: no act within the interval.
	in = &pest.Input{Felt: f, Grass: in.Grass, Issue: f.View.IssueDate, Lawn: true, Treatments: []pest.Treatment{{Date: f.View.IssueDate.AddDays(-9), Target: "brown-patch", IntervalDays: 14}}}
	b := d.Assess(in)
	assert.Equal(t, pest.Watch, b.Grade)
	assert.Equal(t, f.View.IssueDate.AddDays(5), b.ProtectedUntil)

	// Not on a warm-season lawn, whatever the weather.
	a = d.Assess(&pest.Input{Felt: f, Grass: grass(t, "zoysia"), Issue: f.View.IssueDate})
	assert.Equal(t, pest.Quiet, a.Grade)
	assert.Zero(t, a.Host)
	assert.Empty(t, a.Days)

	// Without weather.
	a = d.Assess(&pest.Input{Grass: grass(t, "tall-fescue"), Issue: f.View.IssueDate})
	assert.False(t, a.Known)
	assert.Equal(t, []string{"temperature"}, a.Lacks)
}

func TestAssessOutsideTheRangeOfTheModel(t *testing.T) {
	d := demoDisease(t, "dollar-spot")
	for _, c := range []struct {
		tmax, tmin float64
		invalid    string
	}{{12, 2, pest.InvalidTooCold}, {42, 32, pest.InvalidTooHot}, {28, 18, ""}} {
		f := uniformWeather(monthDay(2020, 3, 20), 60, func(i int, _ civil.Date) [3]float64 { return [3]float64{c.tmax, c.tmin, 2} })
		a := d.Assess(&pest.Input{Felt: f, Grass: grass(t, "creeping-bentgrass"), Issue: f.View.IssueDate})
		assert.Equal(t, c.invalid, a.Invalid)
		assert.True(t, a.Known)
		if c.invalid != "" {
			assert.Equal(t, pest.Quiet, a.Grade)
			assert.True(t, math.IsNaN(a.Score), "never a number outside the range")
			for _, r := range a.Days {
				assert.True(t, math.IsNaN(r.Risk))
			}
		}
	}
	a := demoDisease(t, "powdery-mildew").Assess(&pest.Input{Felt: uniformWeather(monthDay(2020, 4, 1), 30, func(int, civil.Date) [3]float64 { return [3]float64{20, 10, 1} }),
		Grass: grass(t, "kentucky-bluegrass"), Issue: monthDay(2020, 5, 1)})
	assert.Equal(t, pest.InvalidNoModel, a.Invalid)
	assert.Equal(t, pest.Quiet, a.Grade)
}

// A fall: the seasons of the soil open and close in turn.
func TestAssessSoilWindows(t *testing.T) {
	fall := func(days int) *weather.Felt {
		return uniformWeather(monthDay(2020, 6, 1), days, func(i int, _ civil.Date) [3]float64 {
			mean := 29 - 0.2*float64(max(0, i-60))
			return [3]float64{mean + 6, mean - 6, 1}
		})
	}
	d := demoDisease(t, "spring-dead-spot")
	bermuda := grass(t, "bermuda")
	for _, c := range []struct {
		days  int
		state string
		grade pest.Grade
	}{{80, pest.WindowBefore, pest.Quiet}, {125, pest.WindowOpen, pest.Quiet}, {170, pest.WindowAfter, pest.Quiet}} {
		f := fall(c.days)
		a := d.Assess(&pest.Input{Felt: f, Grass: bermuda, Issue: f.View.IssueDate})
		assert.Equal(t, c.state, a.Window, "%d days", c.days)
		assert.Equal(t, c.grade, a.Grade)
		assert.True(t, a.Known)
		assert.Len(t, a.Windows, 4)
		assert.True(t, math.IsNaN(a.Score))
	}
	f := fall(125)
	history := []pest.Report{{Date: monthDay(2020, 4, 20), Finding: "spring-dead-spot", Confirmed: true}}
	a := d.Assess(&pest.Input{Felt: f, Grass: bermuda, Issue: f.View.IssueDate, Reports: history})
	assert.Equal(t, pest.Watch, a.Grade, "one lawn had it, not the zone")
	a = d.Assess(&pest.Input{Felt: f, Grass: bermuda, Issue: f.View.IssueDate, Reports: history, Lawn: true})
	assert.Equal(t, pest.Act, a.Grade, "found in spring: get ahead of it")
	assert.True(t, a.Hidden, "there is nothing to see yet")
	assert.True(t, a.History)
	a = d.Assess(&pest.Input{Felt: f, Grass: grass(t, "zoysia"), Issue: f.View.IssueDate, Reports: history, Lawn: true})
	assert.Equal(t, pest.Watch, a.Grade, "a minor host")
	f = uniformWeather(monthDay(2020, 9, 20), 30, func(int, civil.Date) [3]float64 { return [3]float64{25, 15, 1} })
	a = d.Assess(&pest.Input{Felt: f, Grass: bermuda, Issue: f.View.IssueDate})
	assert.False(t, a.Known, "the record began within the season")
	assert.Equal(t, []string{"soil"}, a.Lacks)
}

func TestOwnDesignAdditions(t *testing.T) {
	d := demoDisease(t, "large-patch")
	issue := monthDay(2020, 10, 11)
	at := func(s string) pest.Report {
		day, err := civil.ParseDate(s)
		require.NoError(t, err)
		return pest.Report{Date: day, Finding: "large-patch"}
	}
	for _, c := range []struct {
		reports []pest.Report
		want    float64
	}{
		{nil, 0}, {[]pest.Report{at("2019-10-20")}, 0.10}, {[]pest.Report{at("2018-09-01")}, 0.10}, {[]pest.Report{at("2017-10-11")}, 0}, {[]pest.Report{at("2019-04-10")}, 0},
		{[]pest.Report{at("2020-10-11")}, 0},
	} {
		log := (&pest.Input{Reports: c.reports, Grass: &turf.Profile{ID: "zoysia"}, Issue: issue}).Log(d.ID)
		assert.InDelta(t, c.want, d.extra(&pest.Input{}, log, issue), 1e-9, "%v", c.reports)
	}
	wet := func(days ...string) (out []pest.Report) {
		for _, s := range days {
			r := at(s)
			r.Finding, r.StandingWater = pest.FoundNone, true
			out = append(out, r)
		}
		return out
	}
	for _, c := range []struct {
		reports []pest.Report
		want    float64
	}{
		{wet("2020-07-06", "2020-07-15", "2020-09-30"), 0.05}, {wet("2020-07-06", "2020-07-07", "2020-07-08"), 0}, {wet("2020-06-06", "2020-07-15", "2020-09-30"), 0},
		{wet("2019-07-06", "2019-07-15", "2019-09-30"), 0}, {wet("2020-09-30", "2020-07-06", "2020-07-15"), 0.05},
	} {
		log := (&pest.Input{Reports: c.reports, Grass: &turf.Profile{ID: "zoysia"}, Issue: issue}).Log(d.ID)
		assert.InDelta(t, c.want, d.extra(&pest.Input{}, log, issue), 1e-9, "%v", c.reports)
	}
	brown := demoDisease(t, "brown-patch")
	assert.InDelta(t, 0.10, brown.extra(&pest.Input{YoungStand: true}, pest.Log{}, issue), 1e-9)
	// Reports of another grass do not count, those of any do.
	log := (&pest.Input{Reports: []pest.Report{{Date: issue - 1, Grass: "bermuda", Finding: "large-patch", Confirmed: true}}, Grass: &turf.Profile{ID: "zoysia"}, Issue: issue}).Log(d.ID)
	assert.False(t, log.Confirmed(issue))
	log = (&pest.Input{Reports: []pest.Report{{Date: issue - 21, Finding: "large-patch", Confirmed: true}}, Grass: &turf.Profile{ID: "zoysia"}, Issue: issue}).Log(d.ID)
	assert.True(t, log.Confirmed(issue))
	assert.False(t, log.Confirmed(issue+1), "held 21 days")
}

// drawn is random weather with seasons, spells and holes.
func drawn(t *rapid.T, days int, holes bool) *weather.Series {
	first := civil.MustDate(2017, 1, 1).AddDays(rapid.IntRange(0, 364).Draw(t, "first day"))
	mean := rapid.Float64Range(8, 24).Draw(t, "mean")
	swing := rapid.Float64Range(0, 14).Draw(t, "swing")
	wet := rapid.Float64Range(0, 0.7).Draw(t, "wet")
	seed := rapid.Uint64Range(1, math.MaxUint64).Draw(t, "seed")
	next := func() float64 {
		seed ^= seed << 13
		seed ^= seed >> 7
		seed ^= seed << 17
		return float64(seed>>11) / (1 << 53)
	}
	spell := 0.0
	return seriesOf(first, days, func(_ int, d civil.Date) [3]float64 {
		spell = 0.7*spell + 6*(next()-0.5)
		m, half, rain := mean-swing*math.Cos(2*math.Pi*float64(d.YearDay()-20)/365)+spell, 2+6*next(), 0.0
		if next() < wet {
			rain = math.Round(300*next()*next()) / 10
		}
		if holes && next() < 0.06 {
			m = nan
		}
		return [3]float64{m + half, m - half, rain}
	})
}

// Later records change no earlier grade: the stepping is that of the issue's own
// date, whatever is appended; with forecasts as they were on file.
func TestLaterWeatherChangesNoEarlierGrade(t *testing.T) {
	diseases := demoDiseases(t)
	grasses := []*turf.Profile{grass(t, "zoysia"), grass(t, "tall-fescue"), grass(t, "bermuda"), grass(t, "kentucky-bluegrass")}
	rapid.Check(t, func(t *rapid.T) {
		all := drawn(t, rapid.IntRange(60, 500).Draw(t, "days"), rapid.Bool().Draw(t, "holes"))
		st := somewhere
		if rapid.Bool().Draw(t, "morning") {
			st.Obs = []weather.ObsPeriod{{Time: weather.Morning}}
		}
		d := rapid.SampledFrom(diseases).Draw(t, "disease")
		p := rapid.SampledFrom(grasses).Draw(t, "grass")
		weeks := rapid.IntRange(1, 5).Draw(t, "weeks later")
		early := all.End().AddDays(1 - 7*weeks)
		var forecasts []weather.Forecast
		if rapid.Bool().Draw(t, "forecasts") {
			for issued := all.Start.AddDays(20); issued <= all.End(); issued = issued.AddDays(5) {
				// It does not agree with what came.
				f := weather.NewSeries(issued, 9)
				for k := range 9 {
					x := float64(int(issued)%9) + 12
					f.Set(weather.TmaxC, issued.AddDays(k), x+10)
					f.Set(weather.TminC, issued.AddDays(k), x)
					f.Set(weather.RainMM, issued.AddDays(k), float64(k%3))
				}
				forecasts = append(forecasts, weather.Forecast{Issued: issued, Days: f})
			}
		}
		assess := func(issue civil.Date, cut bool) pest.Assessment {
			s := all
			if cut {
				s = weather.NewSeries(all.Start, max(0, int(issue-all.Start)))
				for day := all.Start; day < issue; day++ {
					for _, c := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM} {
						s.Set(c, day, all.At(c, day))
					}
				}
			}
			f := weather.AsOf(st, s, nil, issue).Felt()
			return d.Assess(&pest.Input{Felt: f, Daily: turf.Run(p, loamOf(), f), Grass: p, Issue: early, Forecasts: forecasts})
		}
		then := assess(early, true)
		now := assess(all.End().AddDays(1), false)
		if fmt.Sprintf("%+v", then) != fmt.Sprintf("%+v", now) {
			t.Fatalf("%s on %s as of %s:\nthen %+v\nnow  %+v", d.ID, p.ID, early, then, now)
		}
	})
}

func loamOf() turf.Soil {
	s, ok := turf.SoilByID("loam")
	if !ok {
		panic("no loam")
	}
	return s
}

// Whatever the weather: risks and scores lie in 0 to 1 or are missing, grades
// respect host and cap, and a week changes a grade down by one at most, unless by
// a stop.
func TestAssessmentsHoldTheirBounds(t *testing.T) {
	diseases := demoDiseases(t)
	grasses := []*turf.Profile{grass(t, "zoysia"), grass(t, "tall-fescue"), grass(t, "st-augustine"), grass(t, "kentucky-bluegrass"), grass(t, "creeping-bentgrass")}
	rapid.Check(t, func(t *rapid.T) {
		s := drawn(t, rapid.IntRange(1, 200).Draw(t, "days"), true)
		p := rapid.SampledFrom(grasses).Draw(t, "grass")
		issue := s.End() + 1
		f := weather.AsOf(somewhere, s, nil, issue).Felt()
		in := &pest.Input{Felt: f, Daily: turf.Run(p, loamOf(), f), Grass: p, Issue: issue, YoungStand: rapid.Bool().Draw(t, "young")}
		for _, d := range diseases {
			a := d.Assess(in)
			for _, x := range append([]float64{a.Score, a.Observed, a.Ahead}, risksOf(a)...) {
				if !(x >= 0 && x <= 1) && !math.IsNaN(x) {
					t.Fatalf("%s: %v", d.ID, x)
				}
			}
			switch {
			case a.Host == pest.NoHost && (a.Grade != pest.Quiet || a.Days != nil):
				t.Fatalf("%s speaks on no host", d.ID)
			case a.Host == pest.MinorHost && a.Grade > pest.Watch, a.Grade > d.Cap:
				t.Fatalf("%s: %v on rank %d", d.ID, a.Grade, a.Host)
			case a.Known && a.Host > pest.NoHost && d.Model.daily != nil && math.IsNaN(a.Observed) && a.Invalid == "" && len(a.Lacks) == 0:
				t.Fatalf("%s: no score and no reason", d.ID)
			}
		}
	})
}

func risksOf(a pest.Assessment) []float64 {
	var out []float64
	for _, d := range a.Days {
		out = append(out, d.Risk)
	}
	return out
}

func TestGradeStepsDownOneAWeek(t *testing.T) {
	limits := demoDisease(t, "dollar-spot").Limits
	rapid.Check(t, func(t *rapid.T) {
		var s GradeState
		host := rapid.IntRange(1, 3).Draw(t, "host")
		for range rapid.IntRange(1, 60).Draw(t, "weeks") {
			before := s
			score := rapid.Float64Range(0, 1).Draw(t, "score")
			s = limits.Step(s, GradeStep{Score: score, Host: host, Cap: pest.Act})
			if s.Grade+1 < before.Grade {
				t.Fatalf("from %v to %v", before.Grade, s.Grade)
			}
			if s.Grade < before.Grade && before.Low == 0 {
				t.Fatal("down at the first low score")
			}
			if s.Low >= 2 {
				t.Fatal("low twice, and still there")
			}
		}
	})
}

// No number comes of missing input.
func TestMissingInputGivesNoRisk(t *testing.T) {
	for _, d := range demoDiseases(t) {
		if d.Model.daily == nil {
			continue
		}
		w := pest.NewDays(150, 20)
		for i := range 20 {
			w.Put(i, pest.RawDay{TmaxC: nan, TminC: nan, RainMM: nan, RHPct: nan, DewC: nan, WetH: nan, SoilC: nan, SnowMM: nan}, false)
		}
		r := d.Model.daily.day(w, 19)
		assert.True(t, math.IsNaN(r.risk), d.ID)
		assert.NotEmpty(t, r.flags.words(), d.ID)
		// Each input alone is not enough.
		for k := range 8 {
			w := pest.NewDays(150, 20)
			for i := range 20 {
				raw := [8]float64{nan, nan, nan, nan, nan, nan, nan, nan}
				raw[k] = []float64{27, 21, 5, 90, 20, 15, 20, 50}[k]
				w.Put(i, pest.RawDay{TmaxC: raw[0], TminC: raw[1], RainMM: raw[2], RHPct: raw[3], DewC: raw[4], WetH: raw[5], SoilC: raw[6], SnowMM: raw[7]}, false)
			}
			if d.Model.Name == ModelSnowCover && k == 7 {
				continue
			}
			r := d.Model.daily.day(w, 19)
			assert.True(t, math.IsNaN(r.risk), "%s from input %d alone: %v", d.ID, k, r.risk)
		}
	}
}

// The soil that the diseases follow is that of package weather, on a record
// without gaps.
func TestSoilFollowsTheModel(t *testing.T) {
	f := norfolk(t)
	in := &pest.Input{Felt: f, Issue: f.View.IssueDate}
	s := in.Record()
	require.NotNil(t, s)
	differ := 0
	for i := 4000; i < 8000; i++ {
		if math.Abs(s.Days.SoilC[i]-f.Soil5C[i]) > 0.01 {
			differ++
		}
	}
	assert.Zero(t, differ)
}

// The forecast of the issue is stepped as the days are, across the issue date.
func TestAssessStepsIntoTheForecast(t *testing.T) {
	s := seriesOf(monthDay(2020, 4, 1), 70, func(int, civil.Date) [3]float64 { return [3]float64{24, 12, 0} })
	issue := s.End() + 1
	ahead := weather.NewSeries(issue, 7)
	for k := range 7 {
		ahead.Set(weather.TmaxC, issue.AddDays(k), 31)
		ahead.Set(weather.TminC, issue.AddDays(k), 23)
		ahead.Set(weather.RainMM, issue.AddDays(k), 8)
	}
	forecasts := []weather.Forecast{{Issued: issue, Days: ahead}}
	f := weather.AsOf(somewhere, s, forecasts, issue).Felt()
	d := demoDisease(t, "dollar-spot")
	p := grass(t, "creeping-bentgrass")
	byView := d.Assess(&pest.Input{Felt: f, Grass: p, Issue: issue})
	byFile := d.Assess(&pest.Input{Felt: f, Grass: p, Issue: issue, Forecasts: forecasts})
	assert.Equal(t, fmt.Sprintf("%+v", byView), fmt.Sprintf("%+v", byFile), "the view's forecast is the one on file")
	assert.True(t, byView.HasForecast)
	assert.Greater(t, byView.Ahead, byView.Observed)
	for k := 8; k < 12; k++ {
		assert.Greater(t, byView.Days[k].Risk, byView.Days[k-1].Risk, "five-day means straddle the issue date")
	}
	assert.InDelta(t, 0.6*byView.Observed+0.4*byView.Ahead, byView.Score, 1e-9)
	old := d.Assess(&pest.Input{Felt: f, Grass: p, Issue: issue, Forecasts: []weather.Forecast{{Issued: issue - 3, Days: ahead}, {Issued: issue + 1, Days: ahead}}})
	assert.False(t, old.HasForecast, "neither an old forecast nor a later one")
}

func TestAssessTellsWhetherItIsUsual(t *testing.T) {
	f := norfolk(t)
	d := demoDisease(t, "brown-patch")
	p := grass(t, "tall-fescue")
	lows, highs := 0, 0
	for _, issue := range []civil.Date{monthDay(2015, 7, 20), monthDay(2016, 7, 18), monthDay(2017, 7, 17), monthDay(2010, 7, 19), monthDay(2014, 7, 21), monthDay(2013, 7, 15)} {
		a := d.Assess(&pest.Input{Felt: f, Grass: p, Issue: issue})
		require.False(t, math.IsNaN(a.Percentile), "%s", issue)
		assert.True(t, a.Percentile >= 0 && a.Percentile <= 100)
		lows += count(a.Percentile < 50)
		highs += count(a.Percentile >= 50)
	}
	assert.NotZero(t, lows)
	assert.NotZero(t, highs)
}

// The weeks that replay looks at are those that the assessment stepped through.
func TestWeeksEndInTheAssessment(t *testing.T) {
	f := readRecord(t, crn[3].id).felt(crn[3].lat, crn[3].lon)
	p := grass(t, "tall-fescue")
	daily := turf.Run(p, loam(t), f)
	d := demoDisease(t, "brown-patch")
	in := &pest.Input{Felt: f, Daily: daily, Grass: p, Issue: f.View.IssueDate}
	weeks := d.Weeks(in)
	require.Len(t, weeks, 53)
	for _, w := range weeks {
		a := d.Assess(&pest.Input{Felt: f, Daily: daily, Grass: p, Issue: w.Issue})
		assert.Equal(t, []any{w.Grade, w.Known}, []any{a.Grade, a.Known}, "%s", w.Issue)
		near(t, w.Score, a.Score, 1e-12)
		assert.False(t, a.Known && a.HumidityEstimated && a.Grade > pest.Quiet, "humidity was measured there")
	}
	assert.Nil(t, demoDisease(t, "summer-patch").Weeks(in), "no daily risk")
	assert.Nil(t, demoDisease(t, "large-patch").Weeks(in), "no host")
}

func TestBeforeTheFirstFullWeekNothingIsKnown(t *testing.T) {
	for days, known := range map[int]bool{3: false, 7: false, 9: false, 14: true, 40: true} {
		f := uniformWeather(monthDay(2020, 6, 1), days, func(int, civil.Date) [3]float64 { return [3]float64{28, 18, 2} })
		a := demoDisease(t, "dollar-spot").Assess(&pest.Input{Felt: f, Grass: grass(t, "creeping-bentgrass"), Issue: f.View.IssueDate})
		assert.Equal(t, known, a.Known, "%d days", days)
		if !known {
			assert.NotEmpty(t, a.Lacks)
		}
	}
}

func BenchmarkAssessTenYears(b *testing.B) {
	f := norfolk(b)
	p := grass(b, "tall-fescue")
	start := f.View.IssueDate.AddDays(-3653)
	s := weather.NewSeries(start, 3653)
	for day := start; day < f.View.IssueDate; day++ {
		for _, c := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM} {
			s.Set(c, day, f.View.Days.At(c, day))
		}
	}
	ten := weather.AsOf(somewhere, s, nil, f.View.IssueDate).Felt()
	daily := turf.Run(p, loam(b), ten)
	diseases := demoDiseases(b)
	b.ReportAllocs()
	for b.Loop() {
		in := &pest.Input{Felt: ten, Daily: daily, Grass: p, Issue: ten.View.IssueDate}
		for _, d := range diseases {
			d.Assess(in)
		}
	}
}
