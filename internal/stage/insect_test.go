package stage

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/weather"
)

// Degree-days and days of development, as published.
func TestPublishedInsectDevelopment(t *testing.T) {
	t.Run("Ramirez & Dupuy 2015: 280 to 352 °F d are 155 to 195 °C d", func(t *testing.T) {
		assert.InDelta(t, 155, agromet.DegreeDaysC(280), 1)
		assert.InDelta(t, 195, agromet.DegreeDaysC(352), 1)
	})
	t.Run("Survey of billbugs in the Intermountain West, ESA 2013: 540 °F d are 300.0 °C d", func(t *testing.T) {
		assert.InDelta(t, 300.0, agromet.DegreeDaysC(540), 0.5)
	})
	t.Run("Tofangsazi and others 2012: 370.4 °C d above 13.1 take 47.8 days at 20 °C", func(t *testing.T) {
		m := demoInsect(t, "tropical-sod-webworm").Timings[0].Warmth
		assert.InDelta(t, 47.8, 370.4/m.Day(20, 20, math.NaN()), 0.15*47.8)
	})
	t.Run("Du Plessis, Schlemmer & Van den Berg 2020: pupa of 150.54 °C d at 18 °C takes 30.68 days", func(t *testing.T) {
		pupa := agromet.DegreeDays{Method: agromet.SineMethod, BaseC: 13.06, UpperC: 32, Cutoff: agromet.HorizontalCutoff}
		assert.InDelta(t, 30.68, 150.54/pupa.Day(18, 18, math.NaN()), 0.03*30.68)
	})
	t.Run("University of California table of Luckmann and others 1976: 93.6 °F d are 52.0 °C d", func(t *testing.T) {
		assert.InDelta(t, 52.0, agromet.DegreeDaysC(93.6), 0.05)
	})
	t.Run("Merchant 2015: foraging between 22 and 36 °C, 72 and 97 °F", func(t *testing.T) {
		assert.InDelta(t, celsius(72), 22, 0.5)
		assert.InDelta(t, celsius(97), 36, 0.5)
	})
	t.Run("Tofangsazi and others 2012: no development at 15 or 35 °C", func(t *testing.T) {
		for _, c := range []float64{15, 35} {
			f := mild(civil.MustDate(2026, 1, 1), 300).each(weather.TmaxC, always(c)).each(weather.TminC, always(c)).felt()
			p := demoInsect(t, "tropical-sod-webworm").ProgressAt(f, civil.MustDate(2026, 8, 1))
			assert.Zero(t, p.DegreeDaysC)
			assert.Equal(t, "low", p.Stage.ID)
		}
	})
	t.Run("Potter 1981: masked chafer eggs of 5 July hatch on 19 to 23 July", func(t *testing.T) {
		// Eggs of masked chafers hatch after 14 to 18 days; ours are put at 14.
		var grubs *Timing
		for i := range demoInsect(t, "white-grubs").Timings {
			grubs = &demoInsect(t, "white-grubs").Timings[i]
			if !grubs.Compare {
				break
			}
		}
		hatch := days(grubs, "hatch", "after") - days(grubs, "eggs", "after")
		assert.Equal(t, 14, hatch)
		laid := civil.MustDate(2026, 7, 5)
		for _, after := range []int{14, 18} {
			d := laid.AddDays(after)
			assert.True(t, d >= civil.MustDate(2026, 7, 19) && d <= civil.MustDate(2026, 7, 23))
		}
	})
}

// days returns how many days after an earlier stage a stage of the timing comes.
func days(m *Timing, stage string, kind ClauseKind) int {
	for _, s := range m.Stages {
		if s.ID == stage {
			for _, when := range s.When {
				for _, c := range when.Value {
					if c.Kind == kind {
						return c.AfterDays
					}
				}
			}
		}
	}
	return -1
}

// Annual bluegrass weevil, in °F d above 50 from 1 March: adults peaked at 122
// and 139 in two years that were three weeks apart.
func TestPublishedWeevil(t *testing.T) {
	m := demoInsect(t, "annual-bluegrass-weevil").Timings[0]
	for _, c := range []struct {
		name string
		sum  float64
		want string
	}{
		{"USGA 2015: at 139 peak of adults", 139, "adults"},
		{"USGA 2015: at 122 peak of adults", 122, "adults"},
		{"USGA 2015: at 60 not yet moving", 60, "asleep"},
		{"USGA 2015: at 110 moving", 110, "moving"},
		{"USGA 2015, larvae from a registrant: small grubs at 180", 180, "small"},
		{"USGA 2015, larvae from a registrant: large grubs above 350", 360, "large"},
	} {
		t.Run(c.name, func(t *testing.T) {
			start := civil.MustDate(2026, 1, 1)
			days := mild(start, 70).each(weather.TmaxC, always(10)).each(weather.TminC, always(10))
			days.Set(weather.TmaxC, civil.MustDate(2026, 3, 1), 10+2*agromet.DegreeDaysC(c.sum)) // the whole sum on 1 March
			p := m.progress(days.felt(), civil.MustDate(2026, 3, 2))
			assert.Equal(t, c.want, p.Stage.ID)
			require.True(t, p.Known)
			assert.InDelta(t, c.sum, 1.8*p.DegreeDaysC, 0.01)
		})
	}
}

// Square foot, cup cutter and can: how counts of a sample become counts of a
// square foot, with areas by the foot of 0.3048 m (own calculation of published
// sampling tools).
func TestOwnDesignSamples(t *testing.T) {
	const inch = 0.0254
	for _, c := range []struct {
		name string
		m2   float64
		ft2  float64
		mult float64
	}{
		{"6 by 6 inch square", SquareSampleM2(6 * inch), 0.25, 4},
		{"4.25-inch cup cutter", RoundSampleM2(4.25 * inch), 0.0985, 10.15},
		{"4-inch can", RoundSampleM2(4 * inch), 0.0873, 11.46},
		{"square yard", SquareSampleM2(36 * inch), 9, 1.0 / 9},
		{"square foot", SquareSampleM2(12 * inch), 1, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.InDelta(t, c.ft2, c.m2/m2PerFt2, 0.0005)
			assert.InDelta(t, c.mult, 1/(c.m2/m2PerFt2), 0.005)
		})
	}
	assert.InDelta(t, 1.00, Samples{4, "squares", 152.4}.AreaM2()/m2PerFt2, 0.0005, "four squares of 6 in")
	assert.InDelta(t, 0.873, Samples{10, "plugs", 101.6}.AreaM2()/m2PerFt2, 0.0005, "ten plugs of 4 in")
	assert.InDelta(t, 22.9, 2/RoundSampleM2(4*inch)*m2PerFt2, 0.05, "two chinch bugs in a 4-inch can")
	// 135 chinch bugs per square yard are 15 per square foot.
	d := demoInsect(t, "southern-chinch-bug")
	assert.Equal(t, CountDepends, d.Counts[0].Judge(135/(9*m2PerFt2)))
}

// Thresholds as the files carry them.
func TestPublishedThresholds(t *testing.T) {
	for _, c := range []struct {
		id, of    string
		low, high float64 // per square foot
		source    string
	}{
		{"white-grubs", "Japanese and oriental beetle grubs", 8, 15, "University of Massachusetts, table 18"},
		{"white-grubs", "masked chafer grubs", 6, 15, "University of Massachusetts, table 18"},
		{"white-grubs", "European chafer grubs", 3, 8, "University of Massachusetts, table 18"},
		{"white-grubs", "May and June beetle grubs", 2, 4, "University of Massachusetts, table 18"},
		{"white-grubs", "Asiatic garden beetle grubs", 12, 20, "University of Massachusetts, table 18"},
		{"black-turfgrass-ataenius", "", 15, 80, "University of Massachusetts, table 18"},
		{"hairy-chinch-bug", "nymphs", 30, 50, "University of Massachusetts, table 18"},
		{"southern-chinch-bug", "", 15, 25, "University of California and South Carolina slides"},
		{"fall-armyworm", "", 5.0 / 9, 5.0 / 9, "after the University of California, 5 per square yard"},
		{"temperate-sod-webworm", "caterpillars", 15.0 / 9, 6, "after the University of California, 15 per square yard, and Purdue, 6 per square foot"},
		{"mole-crickets", "small nymphs", 0.5, 1, "University of Florida, 2 to 4 per 4 square feet"},
		{"annual-bluegrass-weevil", "grubs", 40, 80, "University of Massachusetts; damage over 40"},
	} {
		t.Run(c.source+": "+c.id+" "+c.of, func(t *testing.T) {
			for _, th := range demoInsect(t, c.id).Counts {
				if th.Of == c.of {
					assert.InDelta(t, c.low, th.LowPerM2*m2PerFt2, 1e-6)
					assert.InDelta(t, c.high, th.HighPerM2*m2PerFt2, 1e-6)
					if c.low == c.high {
						assert.Equal(t, CountLive, th.Judge(th.LowPerM2*0.9))
					} else {
						assert.Equal(t, CountDepends, th.Judge(th.LowPerM2))
						assert.Equal(t, CountWorth, th.Judge(th.HighPerM2))
					}
					assert.Equal(t, CountLive, th.Judge(th.LowPerM2-0.5/m2PerFt2))
					assert.Equal(t, CountUnknown, th.Judge(math.NaN()))
					return
				}
			}
			t.Fatalf("%s has no threshold of %q", c.id, c.of)
		})
	}
}

func TestPublishedWindows(t *testing.T) {
	t.Run("Ebbenga and others 2022: capped average of 14 and 30 °C above 15, upper 21.7, is 2.85", func(t *testing.T) {
		assert.InDelta(t, 2.85, agromet.DegreeDays{Method: agromet.CappedAverageMethod, BaseC: 15, UpperC: 21.7}.Day(30, 14, 0), 1e-9)
	})
	t.Run("University of Florida: mole crickets are treated mid-June to July", func(t *testing.T) {
		m := demoInsect(t, "mole-crickets").Timings[0]
		f := mild(civil.MustDate(2026, 1, 1), 365).felt()
		began := m.Season(f, 2026)
		assert.Equal(t, civil.MustDate(2026, 6, 15), began[2])
		assert.Equal(t, civil.MustDate(2026, 8, 1), began[3])
	})
	t.Run("Clemson: fall armyworm reaches South Carolina in late May to early June", func(t *testing.T) {
		m := demoInsect(t, "fall-armyworm").Timings[0]
		at := func(lat float64) civil.Date {
			d := mild(civil.MustDate(2026, 1, 1), 365)
			d.station.LatitudeDeg = lat
			return m.Season(d.felt(), 2026)[1]
		}
		assert.Equal(t, civil.MustDate(2026, 5, 25), at(33.8))
		gulf := at(30)
		assert.True(t, at(33.8)-gulf >= 14 && at(33.8)-gulf <= 42, "Gulf: two to six weeks earlier")
		assert.Greater(t, at(40), at(33.8), "later northward")
	})
	t.Run("Ramirez & Dupuy 2015: western sums only west of the plains", func(t *testing.T) {
		billbug := demoInsect(t, "bluegrass-billbug")
		west := weather.Station{LatitudeDeg: 41, LongitudeDeg: -111.9, ElevationM: 1400}
		assert.Contains(t, billbug.TimingAt(west).Of, "Intermountain West")
		assert.Equal(t, "", billbug.TimingAt(weather.Station{LatitudeDeg: 40, LongitudeDeg: -75}).Of)
	})
	t.Run("Japanese beetle is not told for the Gulf", func(t *testing.T) {
		grubs := demoInsect(t, "white-grubs")
		assert.Equal(t, "Japanese beetle", grubs.TimingAt(weather.Station{LatitudeDeg: 33, LongitudeDeg: -90}).Of)
		assert.Equal(t, "May and June beetles", grubs.TimingAt(weather.Station{LatitudeDeg: 30, LongitudeDeg: -90}).Of)
	})
}

// A dry month lowers white grubs by one; two hot dry weeks raise chinch bugs.
func TestOwnDesignShifts(t *testing.T) {
	grubs := demoInsect(t, "white-grubs")
	dry := mild(civil.MustDate(2026, 1, 1), 240).each(weather.RainMM, always(0))
	wet := mild(civil.MustDate(2026, 1, 1), 240).each(weather.RainMM, always(2))
	issue := civil.MustDate(2026, 8, 20)
	for d, days := range map[string]madeDays{"dry": dry, "wet": wet} {
		p := grubs.ProgressAt(days.felt(), issue)
		require.True(t, p.Known)
		require.NotEqual(t, "none", p.Stage.ID)
		want := 0
		if d == "dry" {
			want = 1
		}
		assert.Len(t, p.Shifts, want, d)
	}
}

func TestCountsAreOrdered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(0.1, 50).Draw(t, "low")
		th := Threshold{LowPerM2: low, HighPerM2: low + rapid.Float64Range(0, 50).Draw(t, "more")}
		a := rapid.Float64Range(0, 100).Draw(t, "a")
		b := a + rapid.Float64Range(0, 20).Draw(t, "b")
		order := map[CountVerdict]int{CountLive: 1, CountDepends: 2, CountWorth: 3}
		if order[th.Judge(a)] > order[th.Judge(b)] {
			t.Fatalf("%v: %v below %v", th, a, b)
		}
		if th.Judge(-a-0.01) != CountUnknown {
			t.Fatal("a negative count")
		}
	})
}

func TestReadDensities(t *testing.T) {
	read := func(text string) (Density, error) {
		var list diag.List
		root, ok := diag.ReadTOML("x.toml", []byte(`low = `+text), &list)
		require.True(t, ok)
		d := readDensity(root, "low")
		return d, list.Err()
	}
	for _, c := range []struct {
		text  string
		perM2 float64
	}{
		{`"8 per ft2"`, 8 / m2PerFt2}, {`"2 per 4 ft2"`, 0.5 / m2PerFt2}, {`"5 per yd2"`, 5 / (9 * m2PerFt2)},
		{`"3 per m2"`, 3}, {`"20 per acre"`, 20 / (43560 * m2PerFt2)}, {`"1.5 per ft2"`, 1.5 / m2PerFt2},
	} {
		d, err := read(c.text)
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.perM2, d.perM2(), 1e-12, c.text)
	}
	for _, text := range []string{`"8"`, `"8 per ha"`, `"per ft2"`, `"8 per 0 ft2"`, `"-8 per ft2"`, `"9999999 per ft2"`} {
		d, err := read(text)
		assert.Error(t, err, text)
		assert.True(t, math.IsNaN(d.perM2()), text)
	}
	d, err := read(`"2 per 4 ft2"`)
	require.NoError(t, err)
	assert.Equal(t, Density{2, 4, "ft2"}, d)
}

// Every insect file names a way to count, texts to print, and groups and stages
// that exist.
func TestInsectFiles(t *testing.T) {
	weekly := 0
	for _, i := range demoInsects(t) {
		t.Run(i.ID, func(t *testing.T) {
			assert.NotEmpty(t, i.Samples)
			assert.NotEmpty(t, i.Cultural)
			assert.NotEmpty(t, i.Worth)
			assert.NotEmpty(t, i.Blooms)
			if i.Weekly {
				weekly++
				require.NotEmpty(t, i.Timings)
			}
			for _, th := range i.Counts {
				assert.LessOrEqual(t, th.LowPerM2, th.HighPerM2)
			}
			for _, m := range i.Timings {
				for k, s := range m.Stages {
					assert.Equal(t, k == 0, len(s.When) == 0, "%s", s.ID)
				}
			}
		})
	}
	assert.GreaterOrEqual(t, weekly, 10, "ten insects of the weekly advice at least")
}
