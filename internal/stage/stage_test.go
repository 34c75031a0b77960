package stage

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/weather"
)

// madeDays are weather days for a test: column by column, what is not set is
// missing.
type madeDays struct {
	*weather.Series
	station weather.Station
}

func newDays(from civil.Date, n int) madeDays {
	return madeDays{weather.NewSeries(from, n), weather.Station{ID: "made", LatitudeDeg: 34, LongitudeDeg: -80, ElevationM: 50}}
}

// each sets a column on all days.
func (m madeDays) each(c weather.Column, x func(civil.Date) float64) madeDays {
	for d := m.Start; d <= m.End(); d++ {
		m.Set(c, d, x(d))
	}
	return m
}

func always(x float64) func(civil.Date) float64 { return func(civil.Date) float64 { return x } }

// felt is the weather as of the day after the last.
func (m madeDays) felt() *weather.Felt {
	return weather.AsOf(m.station, m.Series, nil, m.End()+1).Felt()
}

// mild is a year of weather in which nothing is missing.
func mild(from civil.Date, n int) madeDays {
	return newDays(from, n).each(weather.TmaxC, always(20)).each(weather.TminC, always(10)).
		each(weather.RainMM, always(3)).each(weather.Soil5C, always(14))
}

// readTimingText reads a single [[model]] for a test.
func readTimingText(t testing.TB, text string) *Timing {
	var list diag.List
	root, ok := diag.ReadTOML("model.toml", []byte(text), &list)
	require.True(t, ok, "%v", list.Err())
	m := readTiming(&pest.File{Table: root}, root.Tables("model")[0])
	require.NoError(t, list.Err())
	return &m
}

// Where a timing holds is said within a sentence: it brings no full stop.
func TestWhereATimingHoldsHasNoFullStop(t *testing.T) {
	for where, wrong := range map[string]bool{"tests": false, "The U.S. south": false, "tests.": true} {
		var list diag.List
		root, ok := diag.ReadTOML("model.toml", []byte(strings.Replace(modelHead, `"tests"`, `"`+where+`"`, 1)+stageFirst), &list)
		require.True(t, ok)
		readTiming(&pest.File{Table: root}, root.Tables("model")[0])
		assert.Equal(t, wrong, strings.Contains(list.Error(), "valid_for"), "%s: %v", where, list.Err())
	}
}

// stages of a test are the rest of a model text.
const modelHead = `
[[model]]
valid_for = "tests"
source    = "own design"
standing  = "own design"
`

const stageFirst = `
  [[model.stage]]
  id = "first"
  title = "First"
  grade = "quiet"
  says = "Nothing yet."
`

func stageText(id, grade, rest string) string {
	return `
  [[model.stage]]
  id = "` + id + `"
  title = "` + id + `"
  grade = "` + grade + `"
  says = "It is ` + id + `."
` + rest
}

const cited = `
    source = "own design"
    standing = "own design"
`

func whenText(condition string) string {
	return "    [[model.stage.when]]\n    " + condition + "\n" + cited
}

// Crabgrass reaches its stages after so many days of constant soil: 4 degree-days
// a day at 16 °C above 12, 6 at 18. The sums are those of Fidanza, Dernoeden &
// Zhang 1996, Crop Science 36:990–996.
func TestPublishedCrabgrassDaysAtConstantSoil(t *testing.T) {
	w := demoWeed(t, "crabgrass")
	model := w.Timings[0].Warmth
	for _, c := range []struct {
		name            string
		soilC, from, to float64
		days            float64
	}{
		{"Fidanza, Dernoeden & Zhang 1996: first emergence at 16 °C", 16, 0, 42, 10.5},
		{"Fidanza, Dernoeden & Zhang 1996: major period at 16 °C", 16, 0, 140, 35},
		{"Fidanza, Dernoeden & Zhang 1996: from 42 to 78 at 18 °C", 18, 42, 78, 6},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.InDelta(t, c.days, (c.to-c.from)/model.Mean(c.soilC), 1e-9)
		})
	}
	t.Run("Fidanza, Dernoeden & Zhang 1996: base 12.0 °C is 53.6 °F", func(t *testing.T) {
		assert.InDelta(t, 12, celsius(53.6), 1e-9)
		assert.Equal(t, 12.0, model.BaseC)
	})
	t.Run("Fidanza, Dernoeden & Zhang 1996: 15.6 and 13.9 °C are 60.1 and 57.0 °F", func(t *testing.T) {
		assert.InDelta(t, 60.1, 15.6*1.8+32, 0.1)
		assert.InDelta(t, 57.0, 13.9*1.8+32, 0.1)
	})
	// The file carries the very sums.
	sums := map[string]float64{}
	for _, s := range w.Timings[0].Stages {
		for _, c := range s.When {
			for _, cl := range c.Value {
				if cl.Kind == ReachSum {
					sums[s.ID] = cl.AtLeast
				}
			}
		}
	}
	assert.Equal(t, map[string]float64{"late": 25, "first-plants": 42, "building": 78, "flush": 140, "established": 230}, sums)

	// Walked through days of constant 16 °C: the 11th day passes 42.
	start := civil.MustDate(2026, 1, 1)
	f := mild(start, 330).each(weather.Soil5C, always(16)).felt()
	began := w.Timings[0].Season(f, 2026)
	feb15 := civil.MustDate(2026, 2, 15)
	assert.Equal(t, feb15+10, began[3], "first-plants on the 11th day: 40 after ten, 44 after eleven")
	assert.Equal(t, feb15+34, began[5], "flush on the 35th day: 140 exactly")
}

// A gap that the view does not fill withholds the sum, and what depends on it.
func TestOwnDesignGapsWithholdTheStage(t *testing.T) {
	w := demoWeed(t, "crabgrass")
	start := civil.MustDate(2026, 1, 1)
	days := mild(start, 330).each(weather.Soil5C, always(16))
	for d := civil.MustDate(2026, 2, 20); d <= civil.MustDate(2026, 2, 24); d++ {
		for c := range weather.Columns {
			days.Set(c, d, math.NaN())
		}
	}
	f := days.felt()
	p := w.ProgressAt(f, civil.MustDate(2026, 3, 10))
	assert.True(t, math.IsNaN(p.DegreeDaysC))
	assert.False(t, p.Known)
	assert.Contains(t, p.Lacks, "degree-days")
	a := w.Timings[0].Trace(f)
	i, _ := f.Index(civil.MustDate(2026, 3, 5))
	assert.Equal(t, int8(-1), a[i])
}

// The pre-emergent window and the stage, by the soil and by the sum.
func TestOwnDesignCrabgrassGrades(t *testing.T) {
	w := demoWeed(t, "crabgrass")
	for _, c := range []struct {
		name   string
		soilC  float64
		want   string
		onDate civil.Date
	}{
		{"cold soil", 8, "early", civil.MustDate(2026, 3, 20)},
		{"soil of 50 °F", 10, "open", civil.MustDate(2026, 3, 20)},
		{"soil just below", 9.9, "early", civil.MustDate(2026, 3, 20)},
		{"soil just above 55 °F for five days", 12.8, "late", civil.MustDate(2026, 2, 26)},
		{"soil below 55 °F", 12.7, "open", civil.MustDate(2026, 2, 26)},
		{"first plants at 42", 16, "first-plants", civil.MustDate(2026, 2, 26)},
		{"main flush at 140", 16, "flush", civil.MustDate(2026, 3, 22)},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := mild(civil.MustDate(2026, 1, 1), 330).each(weather.Soil5C, always(c.soilC)).felt()
			assert.Equal(t, c.want, w.ProgressAt(f, c.onDate).Stage.ID)
		})
	}
}

// A stage marked "while" lasts only as long as its condition holds; the others
// are kept for the season.
func TestOwnDesignWhileStagesGoBack(t *testing.T) {
	m := readTimingText(t, `
[[model]]
method      = "daily mean"
temperature = "soil"
base        = "0 C"
valid_for   = "tests"
source      = "own design"
standing    = "own design"
`+stageFirst+
		stageText("open", "act", "  while = true\n"+whenText(`soil = { at_least = "10 C", over = "1 days" }`))+
		stageText("kept", "watch", whenText(`degree_days = "200 °C d"`)))
	start := civil.MustDate(2026, 1, 1)
	soil := func(d civil.Date) float64 { // 12 °C on ten days, 5 °C between and after
		if i := int(d - start); i >= 5 && i < 15 {
			return 12
		}
		return 5
	}
	f := mild(start, 60).each(weather.Soil5C, soil).felt()
	stage := func(i int) string { return m.progress(f, start.AddDays(i)).Stage.ID }
	assert.Equal(t, "first", stage(5))
	assert.Equal(t, "open", stage(6))
	assert.Equal(t, "open", stage(15))
	assert.Equal(t, "first", stage(16), "it lasts only while the soil is warm")
	// 5 · 5 + 10 · 12 = 145 after 15 days; 200 after 11 more.
	assert.Equal(t, "first", stage(25))
	assert.Equal(t, "kept", stage(26))
	assert.Equal(t, "kept", stage(59), "what is not marked is kept")
	assert.Equal(t, start.AddDays(25), m.progress(f, start.AddDays(59)).Since)
}

// A walk through a made season: what an issue may know, and what the forecast
// brings.
func TestOwnDesignProgressAndForecast(t *testing.T) {
	w := demoWeed(t, "crabgrass")
	start := civil.MustDate(2026, 1, 1)
	past := mild(start, 120).each(weather.Soil5C, always(16))
	ahead := mild(past.End()+1, 10)
	fc := weather.Forecast{Issued: past.End() + 1, Days: ahead.Series}
	view := weather.AsOf(past.station, past.Series, []weather.Forecast{fc}, past.End()+1)
	f := view.Felt()
	p := w.ProgressAt(f, past.End()+1)
	require.True(t, p.Known)
	assert.Equal(t, "established", p.Stage.ID, "120 days at 16 °C")
	assert.Equal(t, civil.MustDate(2026, 2, 15), p.SeasonStart)
	assert.Zero(t, p.Next, "the last stage but the frost of fall")

	// A frost within the forecast ends the season that soon.
	warm := mild(start, 300).each(weather.Soil5C, always(20))
	cold := mild(warm.End()+1, 10).each(weather.TminC, always(-1)).each(weather.TmaxC, always(12))
	f = weather.AsOf(warm.station, warm.Series, []weather.Forecast{{Issued: warm.End() + 1, Days: cold.Series}}, warm.End()+1).Felt()
	p = w.ProgressAt(f, warm.End()+1)
	require.True(t, p.Known)
	assert.Equal(t, "over", p.NextStage.ID)
	assert.Equal(t, warm.End()+1, p.NextOn)
}

// Weather that is recorded later changes no earlier progress.
func TestLaterWeatherChangesNothing(t *testing.T) {
	weeds, insects := demoWeeds(t), demoInsects(t)
	rapid.Check(t, func(t *rapid.T) {
		start := civil.MustDate(2025, 6, 1)
		n := rapid.IntRange(60, 500).Draw(t, "days")
		days := newDays(start, n)
		for d := start; d <= days.End(); d++ {
			mean := 14 + 10*math.Sin(2*math.Pi*float64(d.YearDay()-110)/365) + rapid.Float64Range(-4, 4).Draw(t, "noise")
			days.Set(weather.TmaxC, d, mean+6)
			days.Set(weather.TminC, d, mean-6)
			days.Set(weather.RainMM, d, max(0, rapid.Float64Range(-4, 9).Draw(t, "rain")))
		}
		issue := start + civil.Date(rapid.IntRange(40, n).Draw(t, "issue"))
		cut := weather.NewSeries(start, int(issue-start))
		for d := start; d < issue; d++ {
			for _, c := range [...]weather.Column{weather.TmaxC, weather.TminC, weather.RainMM} {
				cut.Set(c, d, days.At(c, d))
			}
		}
		early := weather.AsOf(days.station, cut, nil, issue).Felt()
		late := weather.AsOf(days.station, days.Series, nil, issue).Felt()
		for _, a := range weeds {
			if p, q := a.ProgressAt(early, issue), a.ProgressAt(late, issue); p.Stage.ID != q.Stage.ID || p.Known != q.Known {
				t.Fatalf("%s: %s becomes %s", a.ID, p.Stage.ID, q.Stage.ID)
			}
		}
		for _, a := range insects {
			if p, q := a.ProgressAt(early, issue), a.ProgressAt(late, issue); p.Stage.ID != q.Stage.ID || p.Known != q.Known {
				t.Fatalf("%s: %s becomes %s", a.ID, p.Stage.ID, q.Stage.ID)
			}
		}
	})
}

// Stages of a season go forward only, unless a stage is one of the moment.
func TestSeasonsGoForward(t *testing.T) {
	stations := []*weather.Felt{norfolk(t), jackson(t)}
	check := func(a *Account) {
		for m := range a.Timings {
			tm := &a.Timings[m]
			if tm.Momentary {
				continue
			}
			while := make([]bool, len(tm.Stages))
			for i, s := range tm.Stages {
				while[i] = s.While
			}
			for _, f := range stations {
				trace := tm.Trace(f)
				last := int8(-1)
				for i, s := range trace {
					d := f.Start.AddDays(i)
					if d == tm.Start.StartIn(d.Year()) {
						last = -1
					}
					if s < 0 {
						continue
					}
					assert.False(t, s < last && !while[last] && last >= 0, "%s: %s after %s on %s", a.ID, tm.Stages[s].ID, tm.Stages[max(0, last)].ID, d)
					last = s
				}
			}
		}
	}
	for _, w := range demoWeeds(t) {
		check(&w.Account)
	}
	for _, i := range demoInsects(t) {
		check(&i.Account)
	}
}

func TestReadTimingRefuses(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"degree-days without a method", modelHead + stageFirst + stageText("a", "act", whenText(`degree_days = "100 °F d"`)), "not summed"},
		{"a method never used", modelHead + `method = "average"` + "\ntemperature = \"air\"\nbase = \"50 °F\"\n" + stageFirst + stageText("a", "act", whenText(`from = "06-01"`)), "never asked for"},
		{"soil by average", modelHead + `method = "average"` + "\ntemperature = \"soil\"\nbase = \"10 C\"\n" + stageFirst + stageText("a", "act", whenText(`degree_days = "100 °C d"`)), "only the daily mean"},
		{"a sine without a cutoff", modelHead + `method = "single sine"` + "\ntemperature = \"air\"\nbase = \"10 C\"\nupper = \"30 C\"\n" + stageFirst + stageText("a", "act", whenText(`degree_days = "100 °C d"`)), "go together"},
		{"an upper limit that average does not know", modelHead + `method = "average"` + "\ntemperature = \"air\"\nbase = \"10 C\"\nupper = \"30 C\"\n" + stageFirst + stageText("a", "act", whenText(`degree_days = "100 °C d"`)), "no upper limit"},
		{"a sum without its degree", modelHead + `method = "average"` + "\ntemperature = \"air\"\nbase = \"10 C\"\n" + stageFirst + stageText("a", "act", whenText(`degree_days = "100"`)), "no sum of this method"},
		{"a first stage with a condition", modelHead + stageText("first", "quiet", whenText(`from = "06-01"`)) + stageText("a", "act", whenText(`from = "06-01"`)), "season starts in its first stage"},
		{"a stage with none", modelHead + stageFirst + stageText("a", "act", ""), "nothing says when"},
		{"a condition that asks for nothing", modelHead + stageFirst + stageText("a", "act", "    [[model.stage.when]]\n"+cited), "asks for nothing"},
		{"after a later stage", modelHead + stageFirst + stageText("a", "act", whenText(`after = { stage = "a", by = "10 days" }`)), "no earlier stage"},
		{"bounds that cross", modelHead + stageFirst + stageText("a", "act", whenText(`soil = { at_least = "20 C", at_most = "10 C" }`)), "less than at_least"},
		{"bounds that say nothing", modelHead + stageFirst + stageText("a", "act", whenText(`air = { over = "5 days" }`)), "nothing to hold it against"},
		{"an unknown stage in a shift", modelHead + stageFirst + stageText("a", "act", whenText(`from = "06-01"`)) + "  [[model.shift]]\n  by = \"up\"\n  stages = [\"b\"]\n  says = \"x\"\n  rain = { at_most = \"10 mm\" }\n  source = \"own design\"\n  standing = \"own design\"\n", `no stage "b"`},
		{"an unknown grade", modelHead + stageFirst + stageText("a", "panic", whenText(`from = "06-01"`)), `unknown value "panic"`},
		{"a source that is none", modelHead + stageFirst + stageText("a", "act", "    [[model.stage.when]]\n    from = \"06-01\"\n    source = \"No Such\"\n    standing = \"verified\"\n"), "is not a source"},
		{"a region that crosses", modelHead + "region = { south = 40, north = 30 }\n" + stageFirst + stageText("a", "act", whenText(`from = "06-01"`)), "the bounds cross"},
		{"one stage", modelHead + stageFirst, "has 2 to"},
		{"an id twice", modelHead + stageFirst + stageText("first", "act", whenText(`from = "06-01"`)), "stands twice"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var list diag.List
			root, ok := diag.ReadTOML("model.toml", []byte(strings.Replace(c.text, "source = \"common", "source = \"common", 1)), &list)
			require.True(t, ok, "%v", list.Err())
			readTiming(&pest.File{Table: root}, root.Tables("model")[0])
			require.Error(t, list.Err())
			assert.Contains(t, list.Err().Error(), c.want)
			assert.Regexp(t, `model\.toml:\d+: `, list.Err().Error())
		})
	}
}
