package advice

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/watering"
)

// limited is a law with the rules given, at one place.
func limited(t testing.TB, rules ...string) ZoneLaw {
	t.Helper()
	return lawAbout(lawBook(t, record("limits", "state", "2026-01-10", window("winter", "12-10", "12-20", `"N"`)+strings.Join(rules, ""))), onePlace...)
}

func lawAbout(b *law.Book, places ...law.Place) ZoneLaw {
	return lawOf(nil, b, watering.NewBook(nil, nil), places).ForGrass("bermuda")
}

// limit is a rule that caps nitrogen with the keys given.
func limit(id, keys string) string {
	return "[[rules]]\nid = \"" + id + "\"\ntopic = \"rate\"\neffect = \"cap\"\ntargets = [\"N\"]\nbinds = [\"all\"]\ncitation = \"2(" + id + ")\"\n" + keys + "\n"
}

func bag(n, p, k, slow float64) Bag {
	return Bag{Analysis: turf.Analysis{NPct: n, P2O5Pct: p, K2OPct: k}, SlowPct: slow, Class: "synthetic", Form: "granular"}
}

// oneLb1000 is 1 lb per 1000 ft² in g/m².
const oneLb1000 = 4.88242764

// What a feeding may hold is the least of grass, rule and law, and pounds of
// product follow by the arithmetic of the bag: 1 lb of nitrogen takes 6.25 lb
// of a 16-4-8 (University of Georgia, Fertilizer calculations).
func TestAmounts(t *testing.T) {
	say := func(single float64, rule *Rule, z ZoneLaw, bags ...Bag) string {
		in := &Input{Units: quantity.US, Grass: &turf.Profile{NSingleGM2: single}, Law: z, Bags: bags}
		var lines []string
		for _, r := range in.amounts(rule) {
			lines = append(lines, says(r))
		}
		return strings.Join(lines, "\n")
	}
	got := say(oneLb1000, nil, limited(t), bag(16, 4, 8, 0))
	assert.Contains(t, got, "At most 1.0 lb per 1,000 sq ft (4.9 g/m²) of nitrogen")
	assert.Contains(t, got, "16-4-8 bag of synthetic fertilizer, with 0% of its nitrogen slow-release: 6.2 lb per 1,000 sq ft", "6.25, rounded down")

	got = say(oneLb1000, nil, limited(t, limit("total", "per_app_total_n = 0.9"), limit("soluble", "per_app_soluble_n = 0.7"), limit("slow", "min_slow_pct = 20")), bag(24, 0, 11, 50), bag(46, 0, 0, 0))
	assert.Contains(t, got, "At most 0.9 lb per 1,000 sq ft")
	assert.Contains(t, got, "24-0-11")
	assert.Contains(t, got, "omewhere: no 46-0-0 bag all week: too little of its nitrogen is slow-release (Invented Lawn Act, 2(slow)). We read it on January 10, 2026.")
	assert.NotContains(t, got, "Of a 46-0-0")

	// 0.5 lb soluble: a bag without slow release reaches it with half a pound of
	// nitrogen, one that is half slow with a whole pound.
	got = say(oneLb1000, nil, limited(t, limit("soluble", "per_app_soluble_n = 0.5")), bag(46, 0, 0, 0), bag(24, 0, 11, 50))
	assert.Contains(t, got, "46-0-0 bag of synthetic fertilizer, with 0% of its nitrogen slow-release: 1.0 lb per 1,000 sq ft (4.9 g/m²). That brings 0.5 lb")
	assert.Contains(t, got, "24-0-11 bag of synthetic fertilizer, with 50% of its nitrogen slow-release: 4.1 lb per 1,000 sq ft")

	got = say(oneLb1000, &Rule{RateGM2: oneLb1000 / 2}, limited(t), bag(24, 0, 11, 50))
	assert.Contains(t, got, "At most 0.5 lb per 1,000 sq ft")

	// A figure for one kind of product holds for that kind alone.
	enhanced := bag(40, 0, 0, 80)
	enhanced.Class = "enhanced_efficiency"
	got = say(2*oneLb1000, nil, limited(t, limit("total", "per_app_total_n = 0.9"), limit("special", "per_app_total_n = 1.5\nonly_products = [\"enhanced_efficiency\"]")), bag(24, 0, 11, 50), enhanced)
	assert.Contains(t, got, "At most 0.9 lb per 1,000 sq ft")
	assert.Contains(t, got, "That brings 0.9 lb per 1,000 sq ft (4.4 g/m²) of nitrogen.\n")

	// What a bag holds besides nitrogen, its kind and its form are asked as well.
	banned := func(targets, keys string) string {
		return "[[rules]]\nid = \"ban\"\ntopic = \"content\"\neffect = \"ban\"\ntargets = [" + targets + "]\nbinds = [\"all\"]\ncitation = \"3\"\n" + keys + "\n"
	}
	organic := bag(5, 2, 0, 85)
	organic.Class = "natural_organic"
	got = say(oneLb1000, nil, limited(t, banned(`"P"`, `unless = ["soil_test_p"]`)), organic, bag(24, 0, 11, 50))
	assert.Contains(t, got, "no 5-2-0 bag all week: it holds phosphorus (Invented Lawn Act, 3)")
	assert.Contains(t, got, "Of a 24-0-11 bag")
	got = say(oneLb1000, nil, limited(t, banned(`"N"`, `only_products = ["synthetic"]`)), organic, bag(24, 0, 11, 50))
	assert.Contains(t, got, "no 24-0-11 bag all week: products of its kind are closed (Invented Lawn Act, 3)")
	assert.Contains(t, got, "Of a 5-2-0 bag of natural organic fertilizer")
	liquid := bag(28, 0, 0, 25)
	liquid.Form = "liquid"
	got = say(oneLb1000, nil, limited(t, banned(`"N"`, `only_forms = ["granular"]`)), liquid, bag(24, 0, 11, 50))
	assert.Contains(t, got, "no 24-0-11 bag all week")
	assert.Contains(t, got, "Of a 28-0-0 liquid, synthetic fertilizer, with 25%")
	got = say(oneLb1000, nil, limited(t, banned(`"P"`, "when = [{ kind = \"season\", name = \"growing\", side = \"outside\" }]")), organic)
	assert.Contains(t, got, "no 5-2-0 bag all week: what it holds is not cleared: ask before you buy (Invented Lawn Act, 3)")
	got = say(oneLb1000, nil, limited(t, banned(`"N"`, "when = [{ kind = \"dates\", from = 2026-07-15, to = 2026-07-16 }]")), organic)
	assert.NotContains(t, got, "no 5-2-0 bag", "what closes all nitrogen strikes no bag of its own")
	assert.Contains(t, got, "Of a 5-2-0 bag")
	got = say(oneLb1000, nil, limited(t, banned(`"P"`, "when = [{ kind = \"dates\", from = 2026-07-15, to = 2026-07-16 }]")), organic)
	assert.Contains(t, got, "no 5-2-0 bag Wednesday, July 15 through Thursday, July 16: it holds phosphorus")
	assert.Empty(t, say(math.NaN(), nil, limited(t)))
}

// No amount printed passes the law of any place: asked about that very product at
// that rate, on every day of the week, it closes nothing that it left open.
func TestAmountsKeepEveryCap(t *testing.T) {
	places := []law.Place{{Name: "First", Chain: []string{"state"}}, {Name: "Second", Chain: []string{"county"}}}
	printed := 0
	rapid.Check(t, func(r *rapid.T) {
		caps := func(label string) string {
			figure := func(key string, most float64) string {
				return key + " = " + strconv.FormatFloat(rapid.Float64Range(0.05, most).Draw(r, label+key), 'f', 3, 64)
			}
			only := rapid.SampledFrom([]string{"", "\nonly_products = [\"natural_organic\"]", "\nonly_forms = [\"liquid\"]"})
			return limit("total", figure("per_app_total_n", 2)+only.Draw(r, label)) + limit("soluble", figure("per_app_soluble_n", 2)+only.Draw(r, label)) + limit("slow", figure("min_slow_pct", 60))
		}
		b := lawBook(t, record("first", "state", "2026-01-10", caps("first")), record("second", "county", "2026-01-10", caps("second")))
		one := bag(rapid.Float64Range(1, 50).Draw(r, "n"), 0, 0, rapid.Float64Range(0, 100).Draw(r, "slow"))
		one.Class = rapid.SampledFrom(law.BagClasses()).Draw(r, "class")
		one.Form = rapid.SampledFrom(law.Forms()).Draw(r, "form")
		grass := rapid.Float64Range(0.1, 1.5).Draw(r, "grass")
		in := &Input{Units: quantity.US, Grass: &turf.Profile{NSingleGM2: grass * oneLb1000}, Law: lawAbout(b, places...), Bags: []Bag{one}}
		for _, m := range in.amounts(nil) {
			if m.Code != "amount."+one.Form {
				continue
			}
			printed++
			v, _ := m.Slot("product")
			lb, _ := quantity.In(v.Number, quantity.NitrogenRate, quantity.US)
			for _, p := range places {
				for d := range 7 {
					q := law.Question{Place: p, Date: in.Law.Monday.AddDays(d), AsOf: in.Law.AsOf, Product: one.product(), RateLb1000: &lb, Grass: "bermuda"}
					if a := b.Ask(q); a.Verdict > law.Conditional {
						r.Fatalf("%v lb of %+v at %s: %+v", lb, one, p.Name, a.Hits)
					}
				}
			}
			if lb*one.NPct/100 > grass+1e-9 {
				r.Fatalf("%v lb passes what the grass takes, %v", lb, grass)
			}
		}
	})
	assert.Positive(t, printed)
}

func TestMistakesInBags(t *testing.T) {
	var list diag.List
	root, ok := diag.ReadTOML("bags.toml", []byte("[[bag]]\nn = 0\np2o5 = 0\nk2o = 7\nslow = \"0 %\"\nclass = \"synthetic\"\nform = \"granular\"\n[[bag]]\nn = 24\np2o5 = 0\nk2o = 11\nslow = \"120 %\"\nclass = \"synthetic\"\nform = \"solid\"\nname = \"x\"\n"), &list)
	require.True(t, ok)
	ReadBags(root)
	for _, want := range []string{"bags.toml:2: bag[0].n: 0-0-7 is not the analysis of such a bag", "bags.toml:12: bag[1].slow: 120% is outside 0 to 100", `bags.toml:14: bag[1].form: unknown value "solid"`, "bags.toml:15: bag[1].name: unknown key"} {
		assert.Contains(t, list.Error(), want)
	}
}
