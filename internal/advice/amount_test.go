package advice

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// limited is a law with the figures given, on one place.
func limited(conditions ...law.Condition) ZoneLaw {
	return ZoneLaw{Places: []PlaceLaw{{Place: onePlace[0], Conditions: map[string][]law.Condition{"N": conditions}}}}
}

func condition(kind string, value float64) law.Condition {
	return law.Condition{Kind: kind, Value: value, Second: math.NaN()}
}

func bag(n, p, k, slow float64) Bag {
	return Bag{Analysis: turf.Analysis{NPct: n, P2O5Pct: p, K2OPct: k}, SlowPct: slow}
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
	got := say(oneLb1000, nil, limited(), bag(16, 4, 8, 0))
	assert.Contains(t, got, "At most 1.0 lb per 1,000 sq ft (4.9 g/m²) of nitrogen")
	assert.Contains(t, got, "16-4-8 bag with 0% of its nitrogen slow-release: 6.2 lb per 1,000 sq ft", "6.25, rounded down")

	got = say(oneLb1000, nil, limited(condition("per_app_total_n", 0.9), condition("per_app_soluble_n", 0.7), condition("min_slow", 20)), bag(24, 0, 11, 50), bag(46, 0, 0, 0))
	assert.Contains(t, got, "At most 0.9 lb per 1,000 sq ft")
	assert.Contains(t, got, "24-0-11")
	assert.NotContains(t, got, "46-0-0", "too little of it is slow-release")

	// 0.5 lb soluble: a bag without slow release reaches it with half a pound of
	// nitrogen, one that is half slow with a whole pound.
	got = say(oneLb1000, nil, limited(condition("per_app_soluble_n", 0.5)), bag(46, 0, 0, 0), bag(24, 0, 11, 50))
	assert.Contains(t, got, "46-0-0 bag with 0% of its nitrogen slow-release: 1.0 lb per 1,000 sq ft (4.9 g/m²). That brings 0.5 lb")
	assert.Contains(t, got, "24-0-11 bag with 50% of its nitrogen slow-release: 4.1 lb per 1,000 sq ft")

	got = say(oneLb1000, &Rule{RateGM2: oneLb1000 / 2}, limited(), bag(24, 0, 11, 50))
	assert.Contains(t, got, "At most 0.5 lb per 1,000 sq ft")

	// A figure for one kind of product is no general limit.
	special := condition("per_app_total_n", 2.5)
	special.Class = "enhanced_efficiency"
	assert.Contains(t, say(oneLb1000, nil, limited(condition("per_app_total_n", 0.9), special), bag(24, 0, 11, 50)), "At most 0.9 lb per 1,000 sq ft")
	assert.Empty(t, say(math.NaN(), nil, limited()))
}

// No amount printed passes a cap of any place.
func TestAmountsKeepEveryCap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		caps := func(label string) []law.Condition {
			return []law.Condition{
				condition("per_app_total_n", rapid.Float64Range(0.05, 2).Draw(t, label+" total")),
				condition("per_app_soluble_n", rapid.Float64Range(0.05, 2).Draw(t, label+" soluble")),
			}
		}
		a, b := caps("first"), caps("second")
		z := ZoneLaw{Places: []PlaceLaw{{Conditions: map[string][]law.Condition{"N": a}}, {Conditions: map[string][]law.Condition{"N": b}}}}
		l := z.nitrogenLimits()
		slow := rapid.Float64Range(0, 100).Draw(t, "slow")
		one := bag(rapid.Float64Range(1, 50).Draw(t, "n"), 0, 0, slow)
		grass := rapid.Float64Range(0.1, 1.5).Draw(t, "grass")
		n := grass
		if allowed := law.LargestNLb1000(l.total, l.soluble, slow/100); allowed < n {
			n = allowed
		}
		spread := quantity.FloorTenths(one.ProductFor(quantity.FloorHundredths(n))) * one.NPct / 100
		for _, c := range append(a, b...) {
			got := spread
			if c.Kind == "per_app_soluble_n" {
				got *= 1 - slow/100
			}
			if got > c.Value+1e-9 {
				t.Fatalf("%v lb passes %s %v", got, c.Kind, c.Value)
			}
		}
		if spread > grass+1e-9 {
			t.Fatalf("%v lb passes what the grass takes, %v", spread, grass)
		}
	})
}

func TestMistakesInBags(t *testing.T) {
	var list diag.List
	root, ok := diag.ReadTOML("bags.toml", []byte("[[bag]]\nn = 0\np2o5 = 0\nk2o = 7\nslow = \"0 %\"\n[[bag]]\nn = 24\np2o5 = 0\nk2o = 11\nslow = \"120 %\"\nname = \"x\"\n"), &list)
	require.True(t, ok)
	ReadBags(root)
	for _, want := range []string{"bags.toml:2: bag[0].n: 0-0-7 is not the analysis of such a bag", "bags.toml:10: bag[1].slow: 120% is outside 0 to 100", "bags.toml:11: bag[1].name: unknown key"} {
		assert.Contains(t, list.Error(), want)
	}
}
