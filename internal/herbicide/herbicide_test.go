package herbicide

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/turf"
)

// dataFile reads a file of the demonstration's data.
func dataFile(t testing.TB, name string) []byte {
	text, err := os.ReadFile("../../data/" + name)
	require.NoError(t, err)
	return text
}

func celsius(f float64) float64 { return (f - 32) / 1.8 }

func demoHerbicides(t testing.TB) *Book {
	var list diag.List
	root, ok := diag.ReadTOML("herbicides.toml", dataFile(t, "pests/herbicides.toml"), &list)
	require.True(t, ok, "%v", list.Err())
	h := Read(root)
	require.NoError(t, list.Err())
	return h
}

func class(t testing.TB, h *Book, id string) *Class {
	c, ok := h.Class(id)
	require.True(t, ok, id)
	return c
}

func ingredient(t testing.TB, h *Book, name string) *Ingredient {
	a, ok := h.Ingredient(name)
	require.True(t, ok, name)
	return a
}

// Own design: the index of uptake, U = 100 fT fL fW, worked by hand.
func TestOwnDesignUptakeIndex(t *testing.T) {
	h := demoHerbicides(t)
	for _, c := range []struct {
		name, class           string
		mean, light, water, n float64
		rain, summer          bool
		ft, fl, fw, u         float64
		grade                 UptakeGrade
	}{
		{"a mild sunny week", "auxin-amine", 20, 25, .70, 10, false, false, 1, 1, 1, 100.0, UptakeGood},
		{"amine in a cold gray week", "auxin-amine", 8, 12, .80, 3, false, false, .530, .720, 1, 38.2, UptakePoor},
		{"ester in the same week", "auxin-ester", 8, 12, .80, 3, false, false, .680, .720, 1, 49.0, UptakeFair},
		{"glyphosate, cold nights", "glyphosate", 12, 16, .60, 3, false, false, .455, .860, 1, 39.1, UptakePoor},
		{"glyphosate, milder nights", "glyphosate", 12, 16, .60, 7, false, false, .910, .860, 1, 78.3, UptakeGood},
		{"a grass killer in summer", "accase", 27, 40, .65, 20, false, true, 1, 1, 1, 100.0, UptakeGood},
		{"a sulfonylurea in the cold", "als", 10, 18, .70, 5, false, false, .350, .930, 1, 32.5, UptakePoor},
		{"rain before it is fast", "auxin-amine", 20, 25, .70, 10, true, false, 1, 1, 1, 50.0, UptakeWait},
		{"thirsty crabgrass", "accase", 27, 40, .10, 20, false, true, 1, 1, .15, 15.0, UptakePoor},
	} {
		t.Run(c.name, func(t *testing.T) {
			u := class(t, h, c.class).UptakeIn(UptakeInput{
				Mean3C: c.mean, LowestC: c.n, Light3Mol: c.light, Water: c.water, Rain10MM: math.NaN(),
				SummerWeed: c.summer, RainSoon: c.rain,
			})
			assert.InDelta(t, c.ft, u.FT, 0.0005)
			assert.InDelta(t, c.fl, u.FL, 0.0005)
			assert.InDelta(t, c.fw, u.FW, 0.0005)
			assert.InDelta(t, c.u, u.U, 0.1)
			assert.Equal(t, c.grade, u.Grade)
		})
	}
}

// The curves of the index against the ratios they were fitted to. They are
// deliberately milder than the one hot, dry-land species among them.
func TestPublishedUptakeRatios(t *testing.T) {
	h := demoHerbicides(t)
	ft := func(id string, c float64) float64 { return class(t, h, id).temperatureFactor(c, 20) }
	t.Run("McCullough & Hart 2006: bispyribac for half of the clippings, 85 g/ha at 10 °C, 31 at 30 °C", func(t *testing.T) {
		assert.InDelta(t, 31.0/85, ft("als", 10)/ft("als", 30), 0.02)
	})
	t.Run("Ou, Stahlman & Jugulam 2016: glyphosate on kochia falls in heat", func(t *testing.T) {
		assert.Less(t, ft("glyphosate", 27.5), ft("glyphosate", 17))
		assert.Greater(t, ft("glyphosate", 27.5)/ft("glyphosate", 12.5), 39.0/173)
	})
	t.Run("Devine, Bandeen & McKersie 1983: glyphosate in quackgrass, 9 °C as good as 19.5 °C after 120 h", func(t *testing.T) {
		assert.Greater(t, ft("glyphosate", 9)/ft("glyphosate", 19.5), 0.75)
	})
	t.Run("Peregoy and others 1990: haloxyfop on crabgrass, 92 % watered, 12 % thirsty", func(t *testing.T) {
		assert.InDelta(t, 12.0/92, waterFactor(0.10, math.NaN()), 0.03)
	})
	t.Run("glyphosate moves in the dark at 5/23, 1.3/4.7 and 2.1/5.8 of what it moves in light", func(t *testing.T) {
		assert.InDelta(t, (5.0/23+1.3/4.7+2.1/5.8)/3, lightFactor(0, false), 0.02)
	})
}

// Own design: what stands in for light and water that are not known.
func TestOwnDesignUptakeFallbacks(t *testing.T) {
	c := class(t, demoHerbicides(t), "auxin-amine")
	u := c.UptakeIn(UptakeInput{Mean3C: 20, LowestC: 10, Light3Mol: math.NaN(), Water: math.NaN(), Rain10MM: math.NaN()})
	assert.InDelta(t, 85, u.U, 1e-9)
	for _, r := range []struct{ mm, want float64 }{{25, 1}, {24.9, .8}, {10, .8}, {9.9, .5}, {3, .5}, {2.9, .25}, {0, .25}} {
		assert.Equal(t, r.want, waterFactor(math.NaN(), r.mm), "%v mm", r.mm)
	}
	for _, r := range []struct{ water, want float64 }{{0, .15}, {.10, .15}, {.175, .275}, {.25, .40}, {.35, .60}, {.45, .80}, {.60, 1}, {1, 1}} {
		assert.InDelta(t, r.want, waterFactor(r.water, 0), 1e-9, "water %v", r.water)
	}
	cold := c.UptakeIn(UptakeInput{Mean3C: math.NaN(), LowestC: 10, Light3Mol: 20, Water: 1})
	assert.True(t, math.IsNaN(cold.U))
	assert.Equal(t, UptakeUnknown, cold.Grade)
	g := class(t, demoHerbicides(t), "glyphosate").UptakeIn(UptakeInput{Mean3C: 20, LowestC: math.NaN(), Light3Mol: 20, Water: 1})
	assert.True(t, math.IsNaN(g.U), "glyphosate needs the night")
	p := class(t, demoHerbicides(t), "protox").UptakeIn(UptakeInput{Mean3C: 20, LowestC: 10, Light3Mol: 20, Water: 1})
	assert.True(t, math.IsNaN(p.U), "no curve, no index")
}

// Own design: symptoms come later in the cold, and nothing is sprayed again
// before twice that.
func TestOwnDesignSymptomDaysAndNoRespray(t *testing.T) {
	h := demoHerbicides(t)
	amine := class(t, h, "auxin-amine")
	cold := amine.UptakeIn(UptakeInput{Mean3C: 8, LowestC: 3, Light3Mol: 12, Water: .8})
	assert.InDelta(t, 7.86, cold.SymptomDays(3), 0.05)
	warm := amine.UptakeIn(UptakeInput{Mean3C: 20, LowestC: 10, Light3Mol: 25, Water: .7})
	assert.InDelta(t, 3, warm.SymptomDays(3), 1e-9)
	frozen := amine.UptakeIn(UptakeInput{Mean3C: -5, LowestC: -9, Light3Mol: 2, Water: .7})
	assert.InDelta(t, 12, frozen.SymptomDays(3), 1e-9, "at most four times as long")

	assert.Equal(t, 21.0, amine.NoResprayDays(0, warm), "the class's interval")
	assert.Equal(t, 30.0, amine.NoResprayDays(30, warm), "the label's")
	als := class(t, h, "als")
	slow := als.UptakeIn(UptakeInput{Mean3C: 12, LowestC: 5, Light3Mol: 10, Water: .7})
	// 10.5 days at 20 °C, divided by 0.4125 · 0.65, are 39.2; twice that is 78.3.
	assert.Equal(t, 79.0, als.NoResprayDays(0, slow))
	assert.True(t, math.IsNaN(amine.NoResprayDays(30, amine.UptakeIn(UptakeInput{Mean3C: math.NaN()}))))
}

// Intervals from a use before emergence to seeding, Kentucky bluegrass.
func TestPublishedSeedingIntervals(t *testing.T) {
	h := demoHerbicides(t)
	for _, c := range []struct {
		name  string
		slit  bool
		weeks int
	}{
		{"dithiopyr", false, 6}, {"dithiopyr", true, 11},
		{"pendimethalin", false, 8}, {"pendimethalin", true, 10},
		{"prodiamine", false, 14}, {"prodiamine", true, 16},
	} {
		t.Run(fmt.Sprintf("Weed Technology 19(1), 2005: %s, slit %v", c.name, c.slit), func(t *testing.T) {
			used := civil.MustDate(2026, 4, 1)
			first, known := ingredient(t, h, c.name).SeedFrom(used, c.slit)
			assert.True(t, known)
			assert.Equal(t, 7*c.weeks, int(first-used))
		})
	}
	first, _ := ingredient(t, h, "prodiamine").SeedFrom(civil.MustDate(2026, 3, 15), true)
	assert.Equal(t, "2026-07-05", first.String())
	first, _ = ingredient(t, h, "dithiopyr").SeedFrom(civil.MustDate(2026, 4, 1), false)
	assert.Equal(t, "2026-05-13", first.String())
	_, known := ingredient(t, h, "isoxaben").SeedFrom(civil.MustDate(2026, 4, 1), false)
	assert.False(t, known, "no published interval: the label alone can tell")
}

// mildUse is a use that nothing speaks against.
func mildUse(t testing.TB, h *Book, name, grass string, kind turf.Kind) Use {
	return Use{
		Ingredient: ingredient(t, h, name), Grass: &turf.Profile{ID: grass, Kind: kind}, State: turf.Growing,
		Date: civil.MustDate(2026, 10, 5), TmaxC: [3]float64{22, 23, 24}, Mean3C: 19, LowestC48h: 10, SoilC: 20,
		Water: 0.7, RainMM: 0, Symptoms: math.NaN(),
	}
}

func bars(found []Finding) []Bar {
	var out []Bar
	for _, f := range found {
		out = append(out, f.Bar)
	}
	return out
}

// Own design: what holds a herbicide back, one at a time and together.
func TestOwnDesignHerbicideGates(t *testing.T) {
	h := demoHerbicides(t)
	day := civil.MustDate(2026, 10, 5)
	nan := math.NaN()
	for _, c := range []struct {
		name, ingredient, grass string
		kind                    turf.Kind
		change                  func(*Use)
		want                    []Bar
	}{
		{"nothing", "2,4-D", "tall-fescue", turf.CoolSeason, func(*Use) {}, nil},
		{"a grass that bears it with caution", "2,4-D", "centipede", turf.WarmSeason, func(*Use) {}, []Bar{BarCareful}},
		{"a grass it kills", "metsulfuron", "bahia", turf.WarmSeason, func(*Use) {}, []Bar{BarIntolerant}},
		{"a grass nobody listed", "2,4-D", "carpetgrass", turf.WarmSeason, func(*Use) {}, []Bar{BarIntolerant}},
		{"atrazine on awake bermudagrass", "atrazine", "bermuda", turf.WarmSeason, func(*Use) {}, []Bar{BarNotDormant}},
		{"atrazine on dormant bermudagrass", "atrazine", "bermuda", turf.WarmSeason, func(u *Use) { u.State = turf.Dormant }, nil},
		{"warm-season green-up", "halosulfuron", "zoysia", turf.WarmSeason, func(u *Use) { u.State = turf.GreeningUp }, []Bar{BarGreenUp}},
		{"cool-season green-up does not count", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.State = turf.GreeningUp }, nil},
		{"90 °F on the third day", "halosulfuron", "bermuda", turf.WarmSeason, func(u *Use) { u.TmaxC[2] = 32.3 }, []Bar{BarHeat}},
		{"exactly 90 °F", "halosulfuron", "bermuda", turf.WarmSeason, func(u *Use) { u.TmaxC[2] = celsius(90) }, nil},
		{"86 °F on St. Augustinegrass", "bentazon", "st-augustine", turf.WarmSeason, func(u *Use) { u.TmaxC[0] = celsius(86) }, []Bar{BarHeat}},
		{"86 °F on bermudagrass", "bentazon", "bermuda", turf.WarmSeason, func(u *Use) { u.TmaxC[0] = celsius(86) }, nil},
		{"86 °F with 2,4-D", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.TmaxC[1] = celsius(86) }, []Bar{BarHeat}},
		{"85 °F with 2,4-D", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.TmaxC[1] = celsius(85) }, nil},
		{"86 °F with dicamba", "dicamba", "tall-fescue", turf.CoolSeason, func(u *Use) { u.TmaxC[1] = celsius(86) }, []Bar{BarHeat}},
		{"weed-and-feed in March, a spray in October: a third use of atrazine", "atrazine", "st-augustine", turf.WarmSeason, func(u *Use) { u.ThisYear = 2 }, []Bar{BarYearly}},
		{"a second use of atrazine", "atrazine", "st-augustine", turf.WarmSeason, func(u *Use) { u.ThisYear = 1 }, nil},
		{"81 °F with the ester", "2,4-D ester", "tall-fescue", turf.CoolSeason, func(u *Use) { u.TmaxC[1] = celsius(81) }, []Bar{BarHeat}},
		{"cold", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Mean3C = 9.9 }, []Bar{BarCold}},
		{"cool soil", "halosulfuron", "tall-fescue", turf.CoolSeason, func(u *Use) { u.SoilC = 17.9 }, []Bar{BarCoolSoil}},
		{"frost on a summer weed", "quinclorac", "zoysia", turf.WarmSeason, func(u *Use) { u.SummerWeed, u.LowestC48h = true, -2 }, []Bar{BarFrost}},
		{"frost on a winter weed", "2,4-D", "zoysia", turf.WarmSeason, func(u *Use) { u.LowestC48h = -2 }, nil},
		{"wilting", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Water = 0.24 }, []Bar{BarDrought}},
		{"dry soil under a grass killer", "fenoxaprop", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Water = 0.3 }, []Bar{BarThirst}},
		{"rain", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.RainMM = 2.5 }, []Bar{BarRain}},
		{"no forecast", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.TmaxC, u.Mean3C, u.RainMM = [3]float64{nan, nan, nan}, nan, nan }, []Bar{BarNoWeather}},
		{"a gap in the forecast, but heat is sure", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.TmaxC = [3]float64{nan, 35, nan} }, []Bar{BarHeat}},
		{"mown yesterday", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Mown = day - 1 }, []Bar{BarMowing}},
		{"mown two days ago", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Mown = day - 2 }, nil},
		{"sprayed three weeks less a day ago", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Last = day - 20 }, []Bar{BarRepeat}},
		{"sprayed three weeks ago", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Last = day - 21 }, nil},
		{"sprayed three weeks ago in the cold", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Last, u.Symptoms = day-21, 12 }, []Bar{BarRepeat}},
		{"quinclorac a second time", "quinclorac", "bermuda", turf.WarmSeason, func(u *Use) { u.ThisYear = 1 }, []Bar{BarYearly, BarCareful}},
		{"seedling turf, label not told", "2,4-D", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Seeded = day - 30 }, []Bar{BarNotTold}},
		{"mesotrione at seeding", "mesotrione", "tall-fescue", turf.CoolSeason, func(u *Use) { u.Seeded = day }, nil},
		{"a pre-emergent on turf of half a year", "prodiamine", "tall-fescue", turf.CoolSeason, func(u *Use) { u.PreEmergence, u.Seeded = true, day-180 }, []Bar{BarYoungTurf}},
		{"a pre-emergent does not mind heat", "prodiamine", "tall-fescue", turf.CoolSeason, func(u *Use) { u.PreEmergence, u.TmaxC = true, [3]float64{40, 40, 40} }, nil},
		{"all at once", "2,4-D ester", "st-augustine", turf.WarmSeason, func(u *Use) {
			u.State, u.TmaxC, u.Mean3C, u.Water, u.RainMM, u.Last = turf.GreeningUp, [3]float64{31, 31, 31}, 26, 0.1, 10, day-3
		}, []Bar{BarGreenUp, BarHeat, BarDrought, BarRain, BarRepeat, BarCareful}},
	} {
		t.Run(c.name, func(t *testing.T) {
			u := mildUse(t, h, c.ingredient, c.grass, c.kind)
			c.change(&u)
			assert.Equal(t, c.want, bars(h.Judge(u)))
		})
	}
	u := mildUse(t, h, "2,4-D", "tall-fescue", turf.CoolSeason)
	u.Last = day - 10
	assert.Equal(t, "2026-10-16", h.Judge(u)[0].Until.String())
	// Mown on Monday, asked for Tuesday: from Wednesday on.
	u = mildUse(t, h, "2,4-D", "tall-fescue", turf.CoolSeason)
	u.Date, u.Mown = day+1, day
	assert.Equal(t, "2026-10-07", h.Judge(u)[0].Until.String())
}

// What publications say of single cells of the tolerance matrix.
func TestPublishedTolerance(t *testing.T) {
	h := demoHerbicides(t)
	for _, c := range []struct {
		source, ingredient, grass string
		not                       Tolerance // the cell may not say this
	}{
		{"Grichar & Havlak 2016: quinclorac on St. Augustinegrass, hurt at 3 of 3 sites", "quinclorac", "st-augustine", ToleranceSafe},
		{"Grichar & Havlak 2016: fenoxaprop on St. Augustinegrass, hurt at 3 of 3 sites", "fenoxaprop", "st-augustine", ToleranceSafe},
		{"Grichar & Havlak 2016: metsulfuron on St. Augustinegrass, hurt at 3 of 3 sites", "metsulfuron", "st-augustine", ToleranceSafe},
		{"Grichar & Havlak 2016: 2,4-D, mecoprop and dicamba on St. Augustinegrass, hurt at 2 of 3 sites", "2,4-D", "st-augustine", ToleranceSafe},
		{"Johnson 1987: sethoxydim on tall fescue, severe", "sethoxydim", "tall-fescue", ToleranceSafe},
		{"Johnson 1987: sethoxydim on zoysiagrass, intermediate", "sethoxydim", "zoysia", ToleranceSafe},
		{"Johnson 1987: fluazifop on centipedegrass, not tolerant", "fluazifop", "centipede", ToleranceSafe},
		{"Johnson 1994: quinclorac on bermudagrass in early April, more than half injured", "quinclorac", "bermuda", ToleranceSafe},
		{"Ferrell and others: trifloxysulfuron on tall fescue, loss", "trifloxysulfuron", "tall-fescue", ToleranceCaution},
		{"HortScience 43(7): bispyribac on Kentucky bluegrass cultivars, 8 to 93 %", "bispyribac", "kentucky-bluegrass", ToleranceSafe},
	} {
		t.Run(c.source, func(t *testing.T) {
			got := ingredient(t, h, c.ingredient).On(c.grass)
			assert.NotEqual(t, c.not, got)
			if c.not == ToleranceCaution {
				assert.Equal(t, ToleranceNone, got)
			}
		})
	}
	assert.Equal(t, ToleranceSafe, ingredient(t, h, "sethoxydim").On("centipede"), "Johnson 1987: tolerant")
}

func TestUptakeStaysInRange(t *testing.T) {
	h := demoHerbicides(t)
	rapid.Check(t, func(t *rapid.T) {
		c := &h.Classes[rapid.IntRange(0, len(h.Classes)-1).Draw(t, "class")]
		in := UptakeInput{
			Mean3C:    rapid.Float64Range(-20, 45).Draw(t, "mean"),
			LowestC:   rapid.Float64Range(-30, 35).Draw(t, "lowest"),
			Light3Mol: rapid.Float64Range(0, 70).Draw(t, "light"),
			Water:     rapid.Float64Range(0, 1).Draw(t, "water"),
			Rain10MM:  math.NaN(),
		}
		u := c.UptakeIn(in)
		if len(c.Uptake) == 0 {
			if !math.IsNaN(u.U) {
				t.Fatalf("%v without a curve", u.U)
			}
			return
		}
		if !(u.U >= 0 && u.U <= 100) {
			t.Fatalf("U %v", u.U)
		}
		more := in
		more.Light3Mol, more.Water = in.Light3Mol+5, min(1, in.Water+0.1)
		if c.UptakeIn(more).U < u.U-1e-9 {
			t.Fatal("more light and water take up less")
		}
		in.RainSoon = true
		if wet := c.UptakeIn(in); wet.Grade != UptakeWait || wet.U > u.U {
			t.Fatalf("rain: %+v", wet)
		}
	})
}

// Whatever the weather, a grass that does not bear a herbicide holds it back.
func TestIntoleranceIsNeverOverridden(t *testing.T) {
	h := demoHerbicides(t)
	states := []turf.State{turf.Growing, turf.Flush, turf.Slowing, turf.Dormant, turf.GreeningUp, turf.Resting}
	rapid.Check(t, func(t *rapid.T) {
		a := &h.Ingredients[rapid.IntRange(0, len(h.Ingredients)-1).Draw(t, "ingredient")]
		grass := rapid.SampledFrom(append(h.Grasses(), "carpetgrass")).Draw(t, "grass")
		use := Use{
			Ingredient: a, Grass: &turf.Profile{ID: grass, Kind: turf.WarmSeason}, Date: civil.MustDate(2026, 6, 1),
			State: rapid.SampledFrom(states).Draw(t, "state"), PreEmergence: rapid.Bool().Draw(t, "pre"),
			Mean3C: rapid.Float64Range(0, 35).Draw(t, "mean"), SoilC: math.NaN(), Water: math.NaN(), LowestC48h: math.NaN(), Symptoms: math.NaN(),
		}
		holds := false
		for _, f := range h.Judge(use) {
			holds = holds || f.Bar.Holds()
		}
		tolerance := a.On(grass)
		if !holds && (tolerance == ToleranceNone || tolerance == ToleranceDormant && use.State != turf.Dormant) {
			t.Fatalf("%v on %s passes", a.Names, grass)
		}
	})
}

func TestReadHerbicidesRefuses(t *testing.T) {
	good := string(dataFile(t, "pests/herbicides.toml"))
	for _, c := range []struct{ name, from, to, want string }{
		{"a slip of the unit", `limit    = "90 °F"`, `limit    = "90 C"`, "heat.limit: 90.0 °C is out of range"},
		{"an unknown key", `limit    = "90 °F"`, "limit    = \"90 °F\"\nlimits   = 3", "heat.limits: unknown key; did you mean"},
		{"a curve that goes back", `{ at = "10 C", factor = 0.65 }`, `{ at = "4 C", factor = 0.65 }`, "the curve goes back"},
		{"a factor above 1", `{ at = "10 C", factor = 0.65 }`, `{ at = "10 C", factor = 1.65 }`, "1.65 is out of range"},
		{"a class nobody has", `class          = "auxin-ester"`, `class          = "auxin-esther"`, `no class "auxin-esther"`},
		{"a tolerance nobody knows", `= "dormant only"`, `= "dormant"`, `unknown value "dormant"`},
		{"a standing that does not fit", `source   = "own design"`, `source   = "common practice"`, "cannot stand as own design"},
		{"a range that goes back", `symptoms_to      = "4 days"`, `symptoms_to      = "1 days"`, "1 days is less than 2"},
		{"a class without days to judge it", `  { class = "als", cold = "56 days", cool = "49 days", mild = "42 days" },`, "", `class "als" and its days do not agree`},
		{"days for what has no uptake", `{ class = "als"`, `{ class = "protox"`, `class "protox" and its days do not agree`},
		{"days for a class nobody has", `{ class = "als"`, `{ class = "alse"`, `no class "alse"`},
		{"a shorter wait in the cold", `cold = "56 days"`, `cold = "48 days"`, "the days are not in order"},
		{"a shorter wait in cool weather", `cool = "49 days"`, `cool = "41 days"`, "the days are not in order"},
		{"cool weather that is mild", `cool     = "50 °F"`, `cool     = "60 °F"`, "it is not above cool"},
		{"an ingredient twice", `names          = ["dicamba"]`, `names          = ["mecoprop"]`, `"mecoprop" stands twice`},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, good, c.from)
			var list diag.List
			root, ok := diag.ReadTOML("herbicides.toml", []byte(strings.Replace(good, c.from, c.to, 1)), &list)
			require.True(t, ok)
			Read(root)
			require.Error(t, list.Err())
			assert.Contains(t, list.Err().Error(), c.want)
			assert.Regexp(t, `herbicides\.toml:\d+: `, list.Err().Error())
		})
	}
}

func FuzzReadHerbicides(f *testing.F) {
	f.Add(dataFile(f, "pests/herbicides.toml"))
	f.Add([]byte("[heat]\nlimit = \"90 °F\"\n[[class]]\nid = \"a\"\n[[ingredient]]\nnames = [\"b\"]\n"))
	f.Add([]byte("heat = 3\nclass = [1]\ningredient = [{ names = 3 }]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var list diag.List
		root, ok := diag.ReadTOML("herbicides.toml", text, &list)
		if !ok {
			return
		}
		h := Read(root)
		if list.Err() != nil {
			return
		}
		if math.IsNaN(h.Heat.Value) || len(h.Classes) == 0 || len(h.Ingredients) == 0 {
			t.Fatalf("accepted: %+v", h)
		}
		for i := range h.Ingredients {
			a := &h.Ingredients[i]
			if _, known := h.Class(a.Class); a.Post && !known {
				t.Fatalf("accepted: %+v", a)
			}
		}
	})
}
