package turf

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

// Which state it is when several fit, and each threshold from both sides.
// Thresholds are held against three decimals.
func TestOwnDesignStates(t *testing.T) {
	warm, cool := warmClass(38, 6), coolClass(76, 6, "")
	nan := math.NaN()
	type memory struct {
		droughts int16
		frozen   bool
	}
	for _, c := range []struct {
		name        string
		p           *Profile
		soilC, airC float64
		m           memory
		g, g14, g21 float64
		watered     bool
		on          string // the window's last day; 2026-04-01 if it does not matter
		want        State
		why         DormantCause
	}{
		{name: "cold soil beats growth", p: warm, soilC: 9.9, airC: 30, g: .9, g14: .1, g21: .1, want: Dormant, why: "soil"},
		{name: "soil at 50 °F to the third decimal is not cold", p: warm, soilC: 9.9996, airC: 5, g: .3, g14: .3, g21: .3, want: Growing},
		{name: "a cool-season grass sleeps below 40 °F only", p: cool, soilC: 4.5, airC: 2, g: .1, g14: .1, g21: .2, want: Slowing},
		{name: "and there it does", p: cool, soilC: 4.4, airC: 2, g: .1, g14: .1, g21: .2, want: Dormant, why: "soil"},
		{name: "without soil the air decides", p: warm, soilC: nan, airC: 9.9, g: .01, g14: .1, g21: .2, want: Dormant, why: "air"},
		{name: "without soil, air of 50 °F", p: warm, soilC: nan, airC: 10, g: .01, g14: .1, g21: .2, want: Resting},
		{name: "two freezes and little growth", p: warm, soilC: 12, airC: 12, m: memory{frozen: true}, g: .099, g14: .2, g21: .3, want: Dormant, why: "freeze"},
		{name: "two freezes, but growth of 0.10", p: warm, soilC: 12, airC: 12, m: memory{frozen: true}, g: .0996, g14: .2, g21: .3, want: Slowing},
		{name: "no freezes to speak of", p: warm, soilC: 12, airC: 12, g: .099, g14: .2, g21: .3, want: Slowing},
		{name: "freezes do not put cool-season grass to sleep", p: cool, soilC: 12, airC: 12, m: memory{frozen: true}, g: .03, g14: .2, g21: .3, want: Resting},
		{name: "three weeks of drought", p: cool, soilC: 25, airC: 25, m: memory{droughts: 21}, g: .05, g14: .1, g21: .3, want: Dormant, why: "drought"},
		{name: "three weeks less a day", p: cool, soilC: 25, airC: 25, m: memory{droughts: 20}, g: .05, g14: .1, g21: .3, want: Slowing},
		{name: "drought does not reach a watered lawn", p: cool, soilC: 25, airC: 25, m: memory{droughts: 60}, g: .6, g14: .6, g21: .6, watered: true, want: Growing},
		{name: "a surge", p: cool, soilC: 15, airC: 15, g: .60, g14: .45, g21: .3, want: Flush},
		{name: "a surge, a last bit short", p: cool, soilC: 15, airC: 15, g: .6 - 1e-12, g14: .45 + 1e-12, g21: .3, want: Flush},
		{name: "risen by less", p: cool, soilC: 15, airC: 15, g: .60, g14: .451, g21: .3, want: Growing},
		{name: "risen, but to less", p: cool, soilC: 15, airC: 15, g: .599, g14: .1, g21: .1, want: Growing},
		{name: "with nothing known of two weeks ago", p: cool, soilC: 15, airC: 15, g: .9, g14: nan, g21: .1, want: Growing},
		{name: "growing", p: warm, soilC: 20, airC: 20, g: .2495, g14: .3, g21: .1, want: Growing},
		{name: "greening up", p: warm, soilC: 20, airC: 20, g: .2494, g14: .1, g21: .1, want: GreeningUp},
		{name: "greening up on June 30", p: warm, on: "2026-06-30", soilC: 20, airC: 20, g: .2494, g14: .1, g21: .1, want: GreeningUp},
		{name: "recovering from July 1 on", p: warm, on: "2026-07-01", soilC: 20, airC: 20, g: .2494, g14: .1, g21: .1, want: Recovering},
		{name: "greening up beats resting", p: warm, soilC: 20, airC: 20, g: .04, g14: .03, g21: .019, want: GreeningUp},
		{name: "risen by just 0.02", p: warm, soilC: 20, airC: 20, g: .06, g14: .05, g21: .04, want: Slowing},
		{name: "resting", p: warm, soilC: 20, airC: 20, g: .0494, g14: .1, g21: .1, want: Resting},
		{name: "slowing", p: warm, soilC: 20, airC: 20, g: .05, g14: .1, g21: .1, want: Slowing},
		{name: "with nothing known of three weeks ago", p: warm, soilC: 20, airC: 20, g: .1, g14: nan, g21: nan, want: Slowing},
		{name: "without an index", p: warm, soilC: 20, airC: 20, g: nan, g14: .1, g21: .1, want: ""},
		{name: "cold soil needs no index", p: warm, soilC: 8, airC: 20, g: nan, g14: .1, g21: .1, want: Dormant, why: "soil"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := &Daily{
				Profile: c.p, basis: []weather.Basis{weather.Observed},
				droughts: []int16{c.m.droughts}, frozen: []bool{c.m.frozen},
				Felt: &weather.Felt{Start: date(t, cmp.Or(c.on, "2026-04-01")), View: &weather.View{Days: weather.NewSeries(1, 0)}},
			}
			// With no index for want of the balance, growth with water is ample.
			w := window{soil10C: c.soilC, meanC: c.airC, ft: 1, fl: 1, fp: 1, fw: nan}
			g := Growth{G: c.g, G14: c.g14, G21: c.g21}
			s, why := d.state(0, observedDays, c.watered, w, g)
			assert.Equal(t, c.want, s)
			assert.Equal(t, c.why, why)
		})
	}
}

// reading is what the issue of the day after the last record knows.
func reading(t *testing.T, p *Profile, s *weather.Series, forecasts ...weather.Forecast) Reading {
	t.Helper()
	d, issue := run(t, p, s, forecasts...)
	return d.At(issue)
}

func TestAWinterAndASpringOfBermudagrass(t *testing.T) {
	p := loadProfile(t, "bermuda")
	p.MowUsualMM = 38
	// A warm autumn, two nights of frost in November, mild weather after.
	spring := func(warmFrom, freezeOn string, until string) *weather.Series {
		first := date(t, "2019-06-01")
		n := int(date(t, until)-first) + 1
		return records(first, n, func(_ int, d civil.Date) day {
			x := day{14, 8, 3, 0}
			switch {
			case d == date(t, "2019-11-10") || d == date(t, "2019-11-11") || freezeOn != "" && d == date(t, freezeOn):
				x.rangeC = 34 // a minimum of −3 °C
			case d < date(t, "2019-10-20"):
				x.meanC = 24
			case warmFrom != "" && d >= date(t, warmFrom) && d < date(t, warmFrom).AddDays(25):
				x.meanC = 22
			}
			return x
		})
	}

	r := reading(t, p, spring("", "", "2019-11-10")).RainFed
	assert.Equal(t, 1, r.FreezeNights)
	assert.NotEqual(t, Dormant, r.State, "one freeze is not enough")

	r = reading(t, p, spring("", "", "2019-12-20")).RainFed
	assert.Equal(t, Dormant, r.State, "asleep in the autumn of the freezes already")
	assert.Equal(t, Frozen, r.DormantWhy)

	r = reading(t, p, spring("", "", "2020-02-10")).RainFed
	assert.Equal(t, 2, r.FreezeNights, "nights are remembered over the turn of the year")
	assert.Equal(t, Dormant, r.State)
	assert.Equal(t, Frozen, r.DormantWhy)
	assert.Greater(t, r.Soil10C, 14.0)
	assert.Zero(t, r.MowDays)
	assert.True(t, math.IsNaN(r.MowExactDays))
	assert.Nil(t, r.Falling)

	r = reading(t, p, spring("2020-03-01", "", "2020-03-25")).RainFed
	assert.Contains(t, []State{GreeningUp, Growing}, r.State)
	assert.Greater(t, r.Soil10C, p.SoilGreenUpC)

	// Cool again: the freezes of November no longer count.
	r = reading(t, p, spring("2020-03-01", "", "2020-04-20")).RainFed
	assert.Less(t, r.G, 0.1)
	assert.Contains(t, []State{Slowing, Resting}, r.State)
	assert.False(t, r.SetBack)
	// Nor do two more of April put it back to sleep, whatever they set back.
	again := spring("2020-03-01", "2020-04-02", "2020-04-20")
	again.Set(weather.TminC, date(t, "2020-04-12"), -3)
	assert.NotEqual(t, Dormant, reading(t, p, again).RainFed.State)

	// The same with a late freeze: set back for seven days, and half the index.
	for since := 0; since <= 8; since++ {
		until := date(t, "2020-04-02").AddDays(since).String()
		frost, mild := reading(t, p, spring("2020-03-01", "2020-04-02", until)).RainFed, reading(t, p, spring("2020-03-01", "", until)).RainFed
		assert.Equal(t, since <= 6, frost.SetBack, "%d days after the freeze", since)
		if frost.SetBack {
			assert.InDelta(t, frost.FT*frost.FL*frost.FP*frost.FW/2, frost.G, 1e-12)
			assert.InDelta(t, 0.5, frost.G/mild.G, 0.1) // the wide range of that day brings some more light
		}
	}

	// Before green-up a freeze sets nothing back, and on 1 September all is
	// forgotten.
	r = reading(t, p, spring("", "2020-02-20", "2020-02-23")).RainFed
	assert.False(t, r.SetBack)
	assert.Equal(t, 3, r.FreezeNights)
	assert.Equal(t, 2, reading(t, p, spring("", "", "2020-08-31")).RainFed.FreezeNights)
	assert.Equal(t, 0, reading(t, p, spring("", "", "2020-09-01")).RainFed.FreezeNights)
}

func TestDroughtSleepIsOfLawnsThatAreNotWatered(t *testing.T) {
	s := records(date(t, "2020-05-01"), 110, func(i int, _ civil.Date) day {
		x := day{26, 12, 0, 0}
		if i < 45 {
			x.rainMM = 6
		}
		return x
	})
	for id, watered := range map[string]State{"bermuda": Growing, "kentucky-bluegrass": Growing} {
		r := reading(t, loadProfile(t, id), s)
		assert.Equal(t, Dormant, r.RainFed.State, id)
		assert.Equal(t, Drought, r.RainFed.DormantWhy, id)
		assert.Equal(t, Water, r.RainFed.Smallest, id)
		assert.True(t, r.RainFed.BalanceOK, id)
		assert.Equal(t, r.RainFed.DepletionMM, r.RainFed.NeedMM, id)
		assert.InDelta(t, r.RainFed.TAWMM, r.RainFed.DepletionMM, 5, id)
		require.NotNil(t, r.Watered, id)
		assert.Equal(t, watered, r.Watered.State, id)
		assert.Equal(t, 1.0, r.Watered.FW, id)
		assert.False(t, r.Watered.BalanceOK, "how much a watered lawn has used is not known")
		assert.True(t, math.IsNaN(r.Watered.DepletionMM))
	}
}

func TestWateredIsLeftOutWhereItSaysTheSame(t *testing.T) {
	r := reading(t, loadProfile(t, "bermuda"), records(date(t, "2020-04-01"), 100, steady(27, 7)))
	assert.Equal(t, Growing, r.RainFed.State)
	assert.Zero(t, r.RainFed.NeedMM)
	assert.InDelta(t, 49, r.RainFed.RainMM, 1e-9)
	assert.Greater(t, r.RainFed.ETMM, 25.0)
	assert.Nil(t, r.Watered)
	assert.Nil(t, r.Ahead, "no forecast on file")
}

func TestFlushAfterASoaking(t *testing.T) {
	p := loadProfile(t, "bermuda")
	p.RootDepthMM = 600 // deep enough that ten dry days leave it growing
	weatherOf := func(rain map[int]float64) *weather.Series {
		return records(date(t, "2020-05-01"), 80, func(i int, _ civil.Date) day {
			x := day{25, 10, 0, 0}
			if i < 60 {
				x.rainMM = 8
			}
			if mm, ok := rain[i]; ok {
				x.rainMM = mm
			}
			return x
		})
	}
	for _, c := range []struct {
		name string
		rain map[int]float64
		want State
	}{
		{"an inch in a day after 15 dry days", map[int]float64{75: 25.4}, Flush},
		{"an inch over three days", map[int]float64{75: 10, 76: 0, 77: 15.4}, Flush},
		{"an inch over four days", map[int]float64{75: 10, 76: 2, 77: 2, 78: 11.4}, Growing},
		{"a tenth of a millimeter short", map[int]float64{75: 25.3}, Growing},
		{"dew and drizzle do not end a dry spell", map[int]float64{68: 0.9, 75: 30}, Flush},
		{"a shower does", map[int]float64{68: 1.0, 75: 30}, Growing},
		{"after nine dry days", map[int]float64{65: 8, 75: 30}, Growing},
		{"after ten", map[int]float64{64: 8, 75: 30}, Flush},
		{"a soaking that is over", map[int]float64{72: 30}, Growing},
		{"on the first day of the window", map[int]float64{73: 30}, Flush},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := reading(t, p, weatherOf(c.rain))
			require.GreaterOrEqual(t, r.RainFed.G, 0.4)
			assert.Equal(t, c.want, r.RainFed.State)
			if c.want == Flush {
				require.NotNil(t, r.Watered, "a lawn kept moist has no such surge")
				assert.Equal(t, Growing, r.Watered.State)
				assert.Less(t, r.RainFed.MowExactDays, r.Watered.MowExactDays)
			}
		})
	}
}

func TestWindowsNeedFiveObservedDays(t *testing.T) {
	p := loadProfile(t, "tall-fescue")
	withHoles := func(holes ...int) *weather.Series {
		return records(date(t, "2020-01-01"), 100, func(i int, _ civil.Date) day {
			if slices.Contains(holes, i) {
				return day{meanC: math.NaN()}
			}
			return day{15, 10, 4, 0}
		})
	}
	r := reading(t, p, withHoles(95, 98)).RainFed
	assert.True(t, r.Enough)
	assert.Equal(t, 5, r.Days)
	assert.Empty(t, r.Lacks)
	assert.InDelta(t, 15, r.MeanC, 1e-9)
	assert.InDelta(t, 20, r.RainMM, 1e-9, "filled days are no rain on record")

	r = reading(t, p, withHoles(93, 95, 98)).RainFed
	assert.False(t, r.Enough)
	assert.Equal(t, 4, r.Days)
	assert.Contains(t, r.Lacks, LacksTemperature)
	assert.Equal(t, State(""), r.State)
	assert.True(t, math.IsNaN(r.G))
	assert.Zero(t, r.MowDays)

	// A longer hole, over: the balance and the soil are withheld, a watered
	// lawn needs neither.
	full := reading(t, p, withHoles(80, 81, 82))
	assert.False(t, full.RainFed.Enough)
	assert.Equal(t, []Lack{LacksSoil, LacksBalance}, full.RainFed.Lacks)
	assert.False(t, full.RainFed.BalanceOK)
	require.NotNil(t, full.Watered)
	assert.True(t, full.Watered.Enough)
	assert.Equal(t, []Lack{LacksSoil}, full.Watered.Lacks)
	assert.Equal(t, Growing, full.Watered.State)

	// Before the record and far after it nothing is known.
	d, issue := run(t, p, withHoles())
	for _, at := range []civil.Date{issue.AddDays(-200), issue.AddDays(40)} {
		assert.False(t, d.At(at).RainFed.Enough)
		assert.Nil(t, d.At(at).Watered)
	}
}

func TestForecastStandsBesideTheWeek(t *testing.T) {
	p := loadProfile(t, "tall-fescue")
	s := records(date(t, "2020-01-01"), 100, steady(15, 4))
	issue := s.End().AddDays(1)
	fc := weather.Forecast{Issued: issue, Days: records(issue, 8, steady(25, 0))}
	with, without := reading(t, p, s, fc), reading(t, p, s)
	assert.Equal(t, without.RainFed, with.RainFed)
	require.NotNil(t, with.Ahead)
	assert.InDelta(t, 25, with.Ahead.MeanC, 1e-9)
	assert.Equal(t, issue.AddDays(6), with.Ahead.Last)
	assert.Equal(t, 7, with.Ahead.Days)
	assert.InDelta(t, GrowthPotential(25, 20, 5.5, false), with.Ahead.FT, 1e-9)
	assert.Greater(t, with.Ahead.DepletionMM, with.RainFed.DepletionMM)
	assert.Equal(t, with.RainFed.G21, with.RainFed.G14)

	short := weather.Forecast{Issued: issue, Days: records(issue, 4, steady(25, 0))}
	assert.Nil(t, reading(t, p, s, short).Ahead, "four days are too few")
	d, _ := run(t, p, s, fc)
	assert.Nil(t, d.At(issue.AddDays(-7)).Ahead, "that issue had another forecast")
	assert.Greater(t, d.IndexOn(issue.AddDays(-1), true), d.IndexOn(issue.AddDays(6), true), "pictures run on into the forecast")
}

// What an issue says does not hang on weather that came later.
func TestLaterWeatherChangesNothing(t *testing.T) {
	profiles := []*Profile{loadProfile(t, "zoysia"), loadProfile(t, "tall-fescue")}
	rapid.Check(t, func(t *rapid.T) {
		s := drawYears(t, 420, false)
		p := rapid.SampledFrom(profiles).Draw(t, "grass")
		issue := s.Start.AddDays(rapid.IntRange(60, 419).Draw(t, "issue"))
		soil, _ := SoilByID("loam")
		then := Run(p, soil, weather.AsOf(testStation, s, nil, issue).Felt()).At(issue)
		later := Run(p, soil, weather.AsOf(testStation, s, nil, s.End().AddDays(1)).Felt()).At(issue)
		if a, b := then.RainFed, later.RainFed; a.State != b.State || a.MowDays != b.MowDays || a.DepletionMM != b.DepletionMM ||
			a.G != b.G || a.FreezeNights != b.FreezeNights || (a.Falling == nil) != (b.Falling == nil) {
			t.Fatalf("%+v\n%+v", a, b)
		}
	})
}

func TestReadingsAreSound(t *testing.T) {
	profiles := []*Profile{
		loadProfile(t, "bermuda"), loadProfile(t, "centipede"), loadProfile(t, "kentucky-bluegrass"), loadProfile(t, "perennial-ryegrass"),
	}
	rapid.Check(t, func(t *rapid.T) {
		s := drawYears(t, 500, true)
		p := rapid.SampledFrom(profiles).Draw(t, "grass")
		soil, _ := SoilByID("sandy-loam")
		d := Run(p, soil, weather.AsOf(testStation, s, nil, s.End().AddDays(1)).Felt())
		for issue := s.Start; issue <= s.End().AddDays(5); issue += 7 {
			r := d.At(issue)
			if s := d.StateAt(issue); s != r.RainFed.State {
				t.Fatalf("%s: %q alone, %q with all the rest", issue, s, r.RainFed.State)
			}
			for _, g := range []*Growth{&r.RainFed, r.Watered} {
				if g != nil {
					soundGrowth(t, *g)
				}
			}
			if r.Watered != nil && r.RainFed.G > r.Watered.G {
				t.Fatalf("%s: water slows the grass", issue)
			}
		}
	})
}

func soundGrowth(t *rapid.T, g Growth) {
	switch {
	case g.Enough != (g.State != ""),
		g.Enough && (slices.Contains(g.Lacks, LacksTemperature) || g.Days < 5),
		g.Enough && g.State != Dormant && !(g.G >= 0 && g.G <= min(g.FT, g.FL, g.FP, g.FW)),
		(g.State == Dormant) != (g.DormantWhy != ""),
		g.State == Growing && quantity.Thousandths(g.G) < 0.25,
		g.State == Resting && quantity.Thousandths(g.G) >= 0.05,
		(g.State == Dormant || !g.Enough) && g.MowDays != 0,
		g.MowDays < 0 || g.MowDays > 30,
		(g.MowDays == 0) != math.IsNaN(g.MowExactDays),
		g.BalanceOK == math.IsNaN(g.DepletionMM),
		g.NeedMM > 0 && quantity.Thousandths(g.NeedMM) < quantity.Thousandths(g.RAWMM),
		g.Falling != nil && (g.G >= g.G21 || g.Falling.To >= g.Falling.From || g.Falling.Since >= g.Last):
		t.Fatalf("%+v", g)
	}
}
