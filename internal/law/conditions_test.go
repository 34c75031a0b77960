package law

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// conditionLines writes conditions one a line: kind, scope, figures, words,
// law.
func conditionLines(list []Condition) []string {
	var out []string
	for _, c := range list {
		s := c.Kind
		for _, scope := range []string{c.Class, c.Form} {
			if scope != "" {
				s += " [" + scope + "]"
			}
		}
		for _, x := range []float64{c.Value, c.Second} {
			if !math.IsNaN(x) {
				s += fmt.Sprintf(" %.4g", x)
			}
		}
		if len(c.Words) > 0 {
			s += " (" + strings.Join(c.Words, ", ") + ")"
		}
		out = append(out, s+" "+recordID(c.Record)+"/"+ruleID(c.Rule))
	}
	return out
}

func TestOwnDesignConditionsAreTheStrictestOfAllLaws(t *testing.T) {
	b := inventedBook(t)
	ask := func(place Place, date string, alter func(*Question)) []string {
		q := weekly(place)
		q.Date = day(date)
		if alter != nil {
			alter(&q)
		}
		return conditionLines(b.Conditions(q))
	}
	assert.Equal(t, []string{
		"per_app_total_n 0.9 om-state/rate",
		"per_app_total_n [enhanced_efficiency] 1 wendrake-county/rate",
		"per_app_soluble_n 0.7 om-state/rate",
		"per_app_soluble_n [liquid] 0.5 wendrake-county/liquid",
		"annual_n 3.2 om-state/rate",
		"release_n [enhanced_efficiency] 0.7 om-state/rate-enhanced",
		"min_slow 20 om-state/min-slow",
		"min_slow [granular] 50 wendrake-county/granular-slow",
		"buffer 15 10 (drop_spreader, rotary_deflector, targeted_liquid) om-state/buffer",
		"alert (Flood Watch, Flood Warning, Tropical Storm Watch, Tropical Storm Warning, Hurricane Watch, Hurricane Warning) wendrake-county/storm-alert",
		"rain 2 24 (>=, forecast) wendrake-county/heavy-rain",
		"ground (frozen, saturated) om-state/ground",
		"duty:sweep_back_now om-state/hard-surface",
		"duty:deflector_on_rotary wendrake-county/deflector",
		"duty:no_clippings_in_street_or_water wendrake-county/clippings",
	}, ask(wendrakeOutside, "2026-04-20", nil), "nitrogen, product not known")

	assert.Equal(t, []string{
		"per_app_total_n 0.9 om-state/rate",
		"per_app_total_n [enhanced_efficiency] 2.5 om-state/rate-enhanced",
		"per_app_soluble_n 0.7 om-state/rate",
		"annual_n 2 vellinport-city/annual-by-grass",
		"release_n [enhanced_efficiency] 0.7 om-state/rate-enhanced",
		"min_slow 50 vellinport-city/slow-50",
		"buffer 20 vellinport-city/buffer",
		"ground (frozen, saturated) om-state/ground",
		"duty:sweep_back_now om-state/hard-surface",
		"advice:low_maintenance_strip 10 vellinport-city/voluntary-strip",
	}, ask(vellinport, "2026-04-20", func(q *Question) { q.Grass = "centipedegrass" }), "the grass's own yearly cap")

	assert.Contains(t, ask(vellinport, "2026-04-20", func(q *Question) { q.Grass = "tall-fescue" }),
		"annual_n 3 vellinport-city/annual-by-grass", "ids with hyphens name the same grass")
	assert.Contains(t, ask(vellinport, "2026-04-20", func(q *Question) { q.Grass = "bermudagrass" }),
		"annual_n 3.2 om-state/rate", "the state's is lower than the grass's own")
	assert.Contains(t, ask(vellinport, "2026-04-20", func(q *Question) { q.Grass = "buffalograss" }),
		"annual_n 2 vellinport-city/annual-by-grass", "a grass that is not named has the default")
	assert.Contains(t, ask(vellinport, "2026-11-02", nil), "min_slow 65 vellinport-city/slow-65", "the version in force that day")

	late := strings.Join(ask(hocklan, "2026-11-20", func(q *Question) { q.Actor = ForHire }), "\n")
	assert.Contains(t, late, "per_app_total_n 0.5 om-state/late-fall-cap-for-hire", "the cap inside a window is the lowest")
	assert.Contains(t, late, "max_slow 0 om-state/late-fall-cap-for-hire")
	assert.NotContains(t, late, "min_slow", "the floor sleeps while the window is on")
	assert.Contains(t, late, "duty:certified_applicator om-state/certified")

	p := ask(vellinport, "2026-04-20", func(q *Question) { q.Product.Nutrients = []string{"P"} })
	assert.Contains(t, p, "phosphorus 36 (soil_test_p, new_turf, repair) om-state/phosphorus")
	assert.Contains(t, p, "phosphorus 24 (soil_test_p) vellinport-city/phosphorus")
	assert.Contains(t, p, "per_app_p2o5 0.25 vellinport-city/phosphorus")
	assert.NotContains(t, strings.Join(p, "\n"), "per_app_total_n")

	assert.Contains(t, ask(wendrakeOutside, "2026-04-20", func(q *Question) { q.Gear = "rotary_deflector" }), "buffer 10 om-state/buffer")
	assert.Contains(t, ask(ivelsay, "2026-04-20", nil), "ground 2 (frozen, snow) ivelsay-district/rain", "how deep the frost must be")
	assert.Contains(t, ask(ivelsay, "2026-04-20", nil), "rain 1 24 (>, forecast) ivelsay-district/rain")

	known := strings.Join(ask(wendrakeOutside, "2026-04-20", func(q *Question) { q.Product = liq }), "\n")
	assert.Contains(t, known, "per_app_soluble_n 0.5 wendrake-county/liquid")
	assert.NotContains(t, known, "[", "a known product has one figure of each kind")
}

func TestOwnDesignConditionsOfAWeekHoldOnAnyOfItsDays(t *testing.T) {
	b := inventedBook(t)
	q := weekly(vellinport)
	var slow []Condition
	for _, c := range b.WeekConditions(q, day("2026-06-29")) {
		if c.Kind == "min_slow" {
			slow = append(slow, c)
		}
	}
	assert.Equal(t, []string{"min_slow 65 vellinport-city/slow-65"}, conditionLines(slow))
	assert.Equal(t, "2026-07-01", slow[0].First.String())
	assert.Equal(t, "2026-07-05", slow[0].Last.String())
}

func TestOwnDesignLawOnHoldIsACondition(t *testing.T) {
	b := changed(t, "vellinport-city", func(r *Record) { r.Status = "enjoined" })
	got := conditionLines(b.Conditions(weekly(vellinport)))
	assert.Contains(t, got, "on_hold vellinport-city/")
	assert.NotContains(t, strings.Join(got, "\n"), "vellinport-city/buffer")
}

// A ban on some products only is a condition while the product is not known.
func TestOwnDesignBanOnSomeProducts(t *testing.T) {
	b := changed(t, "vellinport-city", func(r *Record) {
		r.Rules[0].OnlyForms = []string{"liquid"}
	})
	q := weekly(vellinport)
	q.Date = day("2026-07-10")
	a := b.Ask(q)
	assert.Equal(t, "conditional", a.Verdict.String())
	assert.Contains(t, conditionLines(b.Conditions(q)), "product (liquid) vellinport-city/wet-season")
	q.Product = liq
	q.Product.SlowNPct = 20 // meets the slow-release floor
	assert.Equal(t, "vellinport-city/wet-season", closing(b.Ask(q)))
	q.Product = lawn67
	assert.Equal(t, "conditional", b.Ask(q).Verdict.String())
}

func TestOwnDesignEveryConditionHasAListedKind(t *testing.T) {
	b := inventedBook(t)
	for _, p := range []Place{wendrakeOutside, vellinport, brackmoor, ivelsay, hocklan} {
		for _, n := range [][]string{{"N"}, {"P"}, nil} {
			for _, actor := range []Actor{Homeowner, ForHire, Retailer} {
				q := weekly(p)
				q.Product.Nutrients, q.Actor = n, actor
				for _, c := range b.WeekConditions(q, day("2026-11-16")) {
					assert.Contains(t, conditionKinds(), c.Kind)
				}
			}
		}
	}
}
