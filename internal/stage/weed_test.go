package stage

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/herbicide"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

func TestWeedFiles(t *testing.T) {
	h := demoHerbicides(t)
	weeds := demoWeeds(t)
	assert.Len(t, weeds, 12)
	for _, w := range weeds {
		t.Run(w.ID, func(t *testing.T) {
			assert.Empty(t, w.Unknown(h), "active ingredients that the herbicide file lacks, or has for another use")
			assert.True(t, w.Weekly)
			for _, tr := range w.Treat {
				assert.NotEmpty(t, tr.Stages)
				assert.NotEmpty(t, tr.Ingredients)
				if tr.Before {
					assert.Positive(t, w.WaterIn.Value, "what works before emergence is watered in")
				}
			}
		})
	}
}

// Every grass of the demonstration has a rank in every file, and no file ranks a
// grass that is not there.
func TestHostsAreTheGrassesOfTheDemonstration(t *testing.T) {
	entries, err := os.ReadDir("../../data/grasses")
	require.NoError(t, err)
	var grasses []string
	for _, e := range entries {
		grasses = append(grasses, strings.TrimSuffix(e.Name(), ".toml"))
	}
	slices.Sort(grasses)
	check := func(a *Account) { assert.Equal(t, grasses, a.Grasses(), a.ID) }
	for _, w := range demoWeeds(t) {
		check(&w.Account)
	}
	for _, i := range demoInsects(t) {
		check(&i.Account)
	}
	for _, g := range demoHerbicides(t).Grasses() {
		assert.Contains(t, grasses, g)
	}
}

// What may be used is what the grass bears.
func TestOwnDesignWeedOptions(t *testing.T) {
	h := demoHerbicides(t)
	crabgrass := demoWeed(t, "crabgrass")
	names := func(stage, grass string) []string {
		var out []string
		for _, o := range crabgrass.Options(h, stage, grass) {
			assert.NotEqual(t, herbicide.ToleranceNone, o.Tolerance)
			assert.Equal(t, o.Tolerance, o.Ingredient.On(grass))
			out = append(out, o.Ingredient.Names[0])
		}
		return out
	}
	assert.Contains(t, names("open", "tall-fescue"), "siduron")
	assert.NotContains(t, names("open", "st-augustine"), "siduron")
	assert.Equal(t, []string{"quinclorac", "fenoxaprop", "mesotrione", "topramezone"}, names("flush", "tall-fescue"))
	assert.NotContains(t, names("flush", "st-augustine"), "quinclorac", "hurt at 3 of 3 sites")
	assert.NotContains(t, names("flush", "centipede"), "fenoxaprop")
	assert.Empty(t, names("early", "tall-fescue"))
	assert.Empty(t, names("over", "tall-fescue"))
	// A grass nobody listed gets nothing.
	assert.Empty(t, names("open", "carpetgrass"))
}

// Soil of a week that had no warmth to speak of never reads "first plants",
// unless the sum says so: the printed rule, held over 37 years.
func TestOwnDesignNoFirstPlantsInCoolSoil(t *testing.T) {
	f := norfolk(t)
	m := demoWeed(t, "crabgrass").Timings[0]
	trace := m.Trace(f)
	w := newWalk(&m, f, m.seasonStart(f.Start), make([]entry, len(m.Stages)))
	checked := 0
	for i := range trace {
		d := f.Start.AddDays(i)
		if d == m.Start.StartIn(d.Year()) {
			w = newWalk(&m, f, d, w.began)
		}
		w.step(d)
		var week agromet.Known
		for j := max(0, i-6); j <= i; j++ {
			if f.Basis(f.Start.AddDays(j)) != weather.Missing {
				week.Add(f.Soil5C[j])
			}
		}
		mean := week.Mean(7)
		if trace[i] < 0 || !(mean < 13.9) {
			continue
		}
		checked++
		if m.Stages[trace[i]].ID == "first-plants" {
			assert.GreaterOrEqual(t, math.Round(w.sum), 42.0, "%s, soil %.1f °C", d, mean)
		}
	}
	assert.Greater(t, checked, 3000)
}

// What stands in for missing weather is nothing: unknown.
func TestMissingWeatherIsUnknown(t *testing.T) {
	start := civil.MustDate(2026, 1, 1)
	none := newDays(start, 200)
	for _, w := range demoWeeds(t) {
		p := w.ProgressAt(none.felt(), start.AddDays(190))
		if len(p.Stage.ID) > 0 && p.Index == 0 && w.ID != "dollarweed" {
			assert.False(t, p.Known, w.ID)
		}
		for _, m := range w.Timings {
			for _, s := range m.Trace(none.felt()) {
				assert.LessOrEqual(t, s, int8(len(m.Stages)))
			}
		}
	}
	felt := mild(start, 120).felt()
	assert.Equal(t, weather.Missing, felt.Basis(start-1))
}

// A pre-emergent and a seeding in one week: seeding wins, unless the product may
// be used with it.
func TestOwnDesignSeedingWins(t *testing.T) {
	h := demoHerbicides(t)
	crabgrass := demoWeed(t, "crabgrass")
	grass := &turf.Profile{ID: "tall-fescue", Kind: turf.CoolSeason}
	day := civil.MustDate(2026, 3, 20)
	barred, free := 0, []string{}
	for _, o := range crabgrass.Options(h, "open", grass.ID) {
		if first, known := o.Ingredient.SeedFrom(day, false); !known || first > day {
			barred++
		} else {
			free = append(free, o.Ingredient.Names[0])
		}
	}
	assert.Equal(t, []string{"siduron", "mesotrione"}, free)
	assert.Greater(t, barred, 3)
}

func TestReadWeedRefuses(t *testing.T) {
	good := string(dataFile(t, "pests/weeds/crabgrass.toml"))
	for _, c := range []struct{ name, from, to, want string }{
		{"an unknown key", "worth     = ", "worht     = ", "unknown key"},
		{"a rank above 3", "bermuda            = 2", "bermuda            = 4", "4 is no rank"},
		{"an unknown stage", `stages      = ["open", "late"]`, `stages      = ["opne", "late"]`, `no stage "opne"`},
		{"an unknown kind", `kind       = "grass"`, `kind       = "moss"`, `unknown value "moss"`},
		{"water that is none", `second_from = "6 weeks"`, "water = \"60 in\"\nsecond_from = \"6 weeks\"", "out of range"},
		{"a text without a source", "[[text]]\nsource   = \"fidanza-1996-crabgrass\"\nstanding = \"verified\"\nnote     = \"Emergence; abstract read.\"\n", "", "nothing says where"},
		{"a soil in a wrong unit", `soil     = { at_least = "50 °F", over = "5 days" }`, `soil     = { at_least = "150 °F", over = "5 days" }`, "out of range"},
		{"a grade nobody knows", `grade = "act"`, `grade = "acting"`, `unknown value "acting"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := good
			if c.from != "" {
				if !strings.Contains(text, c.from) {
					// The texts stand twice or not at all in the file; cut them all then.
					t.Fatalf("%q is not in the file", c.from)
				}
				text = strings.ReplaceAll(text, c.from, c.to)
			}
			if c.name == "a text without a source" {
				text = strings.ReplaceAll(text, "[[text]]\nsource   = \"common practice\"\nstanding = \"practice\"\nnote     = \"Look, cultural remedies, when treatment is worth it.\"\n", "")
			}
			var list diag.List
			root, ok := diag.ReadTOML("crabgrass.toml", []byte(text), &list)
			require.True(t, ok, "%v", list.Err())
			ReadWeed("crabgrass", root, demoDefaults(t, &list))
			require.Error(t, list.Err())
			assert.Contains(t, list.Err().Error(), c.want)
			assert.Regexp(t, `crabgrass\.toml(:\d+)?: `, list.Err().Error())
		})
	}
}

const weedDefaults = `[weed.hosts.wet]
zoysia      = 3
tall-fescue = 1
source      = "wet-2001"
standing    = "verified"

[weed.stage.asleep]
id    = "asleep"
title = "Asleep"
grade = "quiet"
says  = "Wait."

[weed.stage.young]
id    = "young"
title = "Young"
grade = "act"
says  = "Treat."

  [[weed.stage.young.when]]
  after    = { stage = "asleep", by = "20 days" }
  source   = "young-2001"
  standing = "verified"
`

const overDefaults = `name       = "Weed"
botanical  = ["Herba exemplaris"]
kind       = "grass"
life_cycle = "Annual."
confidence = "low"
about      = "Small."
look       = "Look close."
cultural   = ["Mow."]
worth      = "Never."
afterward  = "Wait."

[[text]]
source   = "own design"
standing = "own design"

[hosts]
like = "wet"

[[model]]
valid_for = "Nowhere"
source    = "own design"
standing  = "own design"

  [[model.stage]]
  like = "asleep"

  [[model.stage]]
  like = "young"

  [[model.stage]]
  like  = "young"
  id    = "late"
  grade = "watch"

    [[model.stage.when]]
    from     = "07-20"
    source   = "own design"
    standing = "own design"
`

func readOver(text, defaults string) (*Weed, []string) {
	var list diag.List
	alike, _ := diag.ReadTOML("defaults.toml", []byte(defaults), &list)
	root, _ := diag.ReadTOML("weed.toml", []byte(text), &list)
	w := ReadWeed("weed", root, alike)
	alike.CloseTaken()
	var told []string
	for _, p := range list.All() {
		told = append(told, p.String())
	}
	return w, told
}

// Hosts and stages that a weed leaves out are the default's, with its sources; what
// it writes is its own.
func TestWeedsTakeDefaults(t *testing.T) {
	w, told := readOver(overDefaults, weedDefaults)
	require.Empty(t, told)
	assert.Equal(t, []string{"tall-fescue", "zoysia"}, w.Grasses())
	assert.Equal(t, "wet-2001", w.Rank("zoysia").Cite.Source)
	stages := w.Timings[0].Stages
	require.Len(t, stages, 3)
	assert.Equal(t, []string{"asleep", "young", "late"}, []string{stages[0].ID, stages[1].ID, stages[2].ID})
	assert.Equal(t, []string{"Young", "quiet", "act", "watch"}, []string{stages[2].Title, stages[0].Level, stages[1].Level, stages[2].Level})
	young, late := stages[1].When[0], stages[2].When[0]
	assert.Equal(t, []string{"young-2001", "defaults.toml"}, []string{young.Cite.Source, young.Cite.Pos.File})
	assert.Equal(t, []string{"own design", "weed.toml"}, []string{late.Cite.Source, late.Cite.Pos.File})
	assert.Equal(t, []ClauseKind{AfterStage, "from"}, []ClauseKind{young.Value[0].Kind, late.Value[0].Kind})

	w, told = readOver(strings.Replace(overDefaults, `like = "wet"`, "like = \"wet\"\nzoysia = 2\nbermuda = 1\nsource = \"own design\"\nstanding = \"own design\"", 1), weedDefaults)
	assert.Equal(t, []string{`defaults.toml:2: weed.hosts.wet.zoysia: nothing takes it: all write their own; leave it out`}, told)
	assert.Equal(t, []string{"bermuda", "tall-fescue", "zoysia"}, w.Grasses())
	assert.Equal(t, 2, w.Rank("zoysia").Value)
	assert.Equal(t, []string{"own design", "wet-2001"}, []string{w.Rank("zoysia").Cite.Source, w.Rank("tall-fescue").Cite.Source})
}

// Each mistake is told in the file and the line where it stands.
func TestMistakesInDefaultsOfWeeds(t *testing.T) {
	for _, c := range []struct{ from, to, want string }{
		{`like = "wet"`, `like = "wte"`, `weed.toml:17: hosts.like: there is no default hosts "wte"; did you mean "wet"?`},
		{`like = "wet"`, "like = \"wet\"\nzoysia = 3", `weed.toml:18: hosts.zoysia: "zoysia" repeats the default; leave it out`},
		{`like = "wet"`, "like = \"wet\"\nzoysia = 2", `weed.toml:18: hosts.zoysia: "zoysia" was not read in the source of the default; add source and standing, or an exception for it`},
		{`like = "asleep"`, `like = "aslep"`, `weed.toml:25: model[0].stage[0].like: there is no default stage "aslep"; did you mean "asleep"?`},
		{`like = "asleep"`, "like = \"asleep\"\n  says = \"Wait.\"", `weed.toml:26: model[0].stage[0].says: "says" repeats the default; leave it out`},
		{`id    = "late"`, "", `weed.toml:30: model[0].stage[2].id: "young" stands twice; keep one of them`},
		{`zoysia      = 3`, `zoysia = 4`, `defaults.toml:2: weed.hosts.wet.zoysia: 4 is no rank; use 0 (not), 1 (occasional), 2 (common) or 3 (main host)`},
		{`by = "20 days"`, `by = "20 mm"`, `defaults.toml:20: weed.stage.young.when[0].after.by: `},
		{`[weed.stage.asleep]`, "[weed.stage.aslepe]\n[weed.stage.asleep]", `defaults.toml:7: weed.stage.aslepe: nothing takes it; did you mean "asleep"?`},
	} {
		text, defaults := strings.Replace(overDefaults, c.from, c.to, 1), strings.Replace(weedDefaults, c.from, c.to, 1)
		require.True(t, text != overDefaults || defaults != weedDefaults, c.from)
		_, told := readOver(text, defaults)
		assert.Contains(t, strings.Join(told, "\n"), c.want, "%s -> %s", c.from, c.to)
	}
}

func FuzzReadWeed(f *testing.F) {
	defaults := dataFile(f, "pests/defaults.toml")
	for _, id := range demoFiles(f, "weeds") {
		f.Add(dataFile(f, "pests/weeds/"+id+".toml"), defaults)
	}
	f.Add([]byte("name = 3\n[[model]]\nstart = \"02-30\"\n[[model.stage]]\nid = 3\n[hosts]\nx = \"y\"\n"), defaults)
	f.Add(dataFile(f, "pests/weeds/crabgrass.toml"), []byte("weed = 3\n"))
	f.Fuzz(func(t *testing.T, text, defaults []byte) {
		var list diag.List
		alike, _ := diag.ReadTOML("defaults.toml", defaults, &list)
		root, ok := diag.ReadTOML("weed.toml", text, &list)
		if !ok || alike == nil {
			return
		}
		w := ReadWeed("weed", root, alike)
		if list.Err() != nil {
			return
		}
		checkAccount(t, &w.Account)
		for _, tr := range w.Treat {
			if tr.Before && !(w.WaterIn.Value > 0) {
				t.Fatalf("accepted: %+v", w)
			}
		}
	})
}

func FuzzReadInsect(f *testing.F) {
	defaults := dataFile(f, "pests/defaults.toml")
	for _, id := range demoFiles(f, "insects") {
		f.Add(dataFile(f, "pests/insects/"+id+".toml"), defaults)
	}
	f.Add([]byte("name = 3\n[[threshold]]\nlow = \"1 per ft2\"\nhigh = 9\n[[sampling]]\n"), defaults)
	f.Add(dataFile(f, "pests/insects/black-cutworm.toml"), []byte("[insect.sampling]\nsoap-flush = [3]\n"))
	f.Fuzz(func(t *testing.T, text, defaults []byte) {
		var list diag.List
		alike, _ := diag.ReadTOML("defaults.toml", defaults, &list)
		root, ok := diag.ReadTOML("insect.toml", text, &list)
		if !ok || alike == nil {
			return
		}
		i := ReadInsect("insect", root, alike)
		if list.Err() != nil {
			return
		}
		checkAccount(t, &i.Account)
		for _, th := range i.Counts {
			if !(th.LowPerM2 >= 0 && th.HighPerM2 >= th.LowPerM2) {
				t.Fatalf("accepted: %+v", th)
			}
		}
	})
}

// checkAccount walks what was accepted, so that nothing in it can fail later.
func checkAccount(t *testing.T, a *Account) {
	if a.Name == "" || len(a.Botanical) == 0 || len(a.Cultural) == 0 || len(a.Grasses()) == 0 {
		t.Fatalf("accepted: %+v", a)
	}
	start := civil.MustDate(2025, 1, 1)
	f := mild(start, 400).felt()
	for m := range a.Timings {
		tm := &a.Timings[m]
		tm.Season(f, 2025)
		p := tm.progress(f, start.AddDays(300))
		if p.Index < 0 || p.Index >= len(tm.Stages) {
			t.Fatalf("stage %d", p.Index)
		}
	}
}
