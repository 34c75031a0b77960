package advice

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/disease"
	"ligule/internal/pest"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// ruleOf is a rule of the demonstration.
func ruleOf(t testing.TB, file, id string) *Rule {
	t.Helper()
	text, err := os.ReadFile("../../data/rules/" + file)
	require.NoError(t, err)
	var list diag.List
	root, ok := diag.ReadTOML(file, text, &list)
	require.True(t, ok)
	_, catalogue := book(t)
	for _, r := range ReadRules(root, catalogue, pests(t)) {
		if r.ID == id {
			require.NoError(t, list.Err())
			return r
		}
	}
	require.Fail(t, "no rule "+id)
	return nil
}

// A lawn that has slowed, not stopped, is fed lightly against what hunger favors; one
// where a disease was found, against what a light feeding does not worsen. Each clause
// at its limit and just beyond.
func TestEdgesOfGrowingThrough(t *testing.T) {
	lawn, cool := ruleOf(t, "diseases.toml", "disease-feed-the-lawn"), ruleOf(t, "diseases.toml", "disease-feed-the-cool-lawn")
	zone, feed := ruleOf(t, "diseases.toml", "disease-grow-through"), ruleOf(t, "feeding.toml", "feed-through-disease")
	slowed := func(change func(*turf.Growth)) func(*Input) {
		return lies(func(g *turf.Growth) {
			g.State, g.MowDays = turf.Slowing, 14
			change(g)
		})
	}
	asItIs := func(*turf.Growth) {}
	beside := func(p *Pest) func(*Input) {
		return both(slowed(asItIs), func(in *Input) { in.found = append(in.found, p) })
	}
	at := func(month, day int) func(*Input) {
		return func(in *Input) {
			d := civil.MustDate(2026, month, day)
			in.Felt = nil
			in.IssueDate, in.Week = d, d.AddDays(1).Week()
			slowed(asItIs)(in)
		}
	}
	hot := func(maxC float64) func(*Input) {
		return both(slowed(asItIs), weathered(func(past, _ *weather.Series) {
			for d := past.Start; d <= past.End(); d++ {
				past.Set(weather.TmaxC, d, maxC)
				past.Set(weather.TminC, d, 14)
			}
		}))
	}
	found := func(grade pest.Grade, effect disease.NitrogenEffect) *Pest {
		p := ail("a", grade)
		p.Disease.Nitrogen.Value, p.Found.Reported = effect, true
		return p
	}
	for _, c := range []struct {
		name   string
		rule   *Rule
		grade  pest.Grade
		effect disease.NitrogenEffect
		change func(*Input)
		want   Truth
	}{
		{"a lawn that has slowed", lawn, pest.Watch, disease.NitrogenHunger, slowed(asItIs), Yes},
		{"against what a feeding does not worsen (CS-15)", lawn, pest.Act, disease.NitrogenNeutral, slowed(asItIs), Yes},
		{"against what it feeds", lawn, pest.Watch, disease.NitrogenFeeds, slowed(asItIs), No},
		{"beside one that it feeds", lawn, pest.Watch, disease.NitrogenHunger, beside(fed("b", pest.Watch)), No},
		{"beside one that is quiet", lawn, pest.Watch, disease.NitrogenHunger, beside(fed("b", pest.Quiet)), Yes},
		{"that grows (CS-16)", lawn, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.State = turf.Growing }), Yes},
		{"that recovers", lawn, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.State = turf.Recovering }), Yes},
		{"dormant in a drought (CS-17)", lawn, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.State, g.DormantWhy = turf.Dormant, turf.Drought }), No},
		{"at rest in the cold", lawn, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.State = turf.Resting }), No},
		{"greening up", lawn, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.State = turf.GreeningUp }), No},
		{"mown every 15 days", lawn, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.MowDays = 15 }), No},
		{"not mown", lawn, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.MowDays = 0 }), No},
		{"a little less dry", lawn, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.DepletionMM = 37.2 }), Yes},
		{"dry", lawn, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.DepletionMM = 37.3 }), No},
		{"a cool-season lawn below 90 °F", cool, pest.Watch, disease.NitrogenHunger, hot(31.9), Yes},
		{"at 90 °F", cool, pest.Watch, disease.NitrogenHunger, hot(32.2), No},
		{"the zone that has slowed", zone, pest.Watch, disease.NitrogenHunger, slowed(asItIs), Yes},
		{"the zone, against what a feeding does not worsen", zone, pest.Watch, disease.NitrogenNeutral, slowed(asItIs), No},
		{"the zone that grows", zone, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.State = turf.Growing }), No},
		{"the zone, mown every 15 days", zone, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.MowDays = 15 }), No},
		{"the zone, dry", zone, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.DepletionMM = 37.3 }), No},
		{"feeding where hunger favors one", feed, pest.Watch, disease.NitrogenHunger, slowed(asItIs), Yes},
		{"that is quiet", feed, pest.Quiet, disease.NitrogenHunger, slowed(asItIs), No},
		{"feeding beside one that it feeds", feed, pest.Watch, disease.NitrogenHunger, beside(fed("b", pest.Watch)), No},
		{"feeding where it would do no harm", feed, pest.Act, disease.NitrogenNeutral, slowed(asItIs), No},
		{"feeding grass that grows", feed, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.State = turf.Growing }), No},
		{"feeding what is mown every 15 days", feed, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.MowDays = 15 }), No},
		{"feeding dry grass", feed, pest.Watch, disease.NitrogenHunger, slowed(func(g *turf.Growth) { g.DepletionMM = 37.3 }), No},
		{"feeding on September 20", feed, pest.Watch, disease.NitrogenHunger, at(9, 20), Yes},
		{"on September 21", feed, pest.Watch, disease.NitrogenHunger, at(9, 21), No},
		{"on March 1", feed, pest.Watch, disease.NitrogenHunger, at(3, 1), Yes},
		{"on February 28", feed, pest.Watch, disease.NitrogenHunger, at(2, 28), No},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := found(c.grade, c.effect)
			in := lawnAt(t, func(in *Input) { in.found = []*Pest{p} }, c.change)
			assert.Equal(t, c.want, c.rule.judge(in, p).Outcome)
		})
	}
}

// Which diseases count: hungry ones that are common on the grass and show, and those
// that nitrogen feeds by the weather of the zone, or by what was found on the lawn.
func TestEdgesOfDiseasesThatNitrogenTouches(t *testing.T) {
	of := func(effect disease.NitrogenEffect, change func(*Pest)) *Pest {
		p := ail("a", pest.Watch)
		p.Disease.Nitrogen.Value = effect
		change(p)
		return p
	}
	for _, c := range []struct {
		name          string
		p             *Pest
		lawn          bool
		fed, ofHunger float64
	}{
		{"hunger", of(disease.NitrogenHunger, func(*Pest) {}), false, 0, 1},
		{"now and then", of(disease.NitrogenHunger, func(p *Pest) { p.Found.Host = pest.MinorHost }), false, 0, 0},
		{"unseen", of(disease.NitrogenHunger, func(p *Pest) { p.Found.Hidden = true }), false, 0, 0},
		{"neither", of(disease.NitrogenNeutral, func(*Pest) {}), false, 0, 0},
		{"fed", of(disease.NitrogenFeeds, func(*Pest) {}), false, 1, 0},
		{"quiet", of(disease.NitrogenFeeds, func(p *Pest) { p.Found.Grade = pest.Quiet }), false, 0, 0},
		{"found in the zone", of(disease.NitrogenFeeds, func(p *Pest) { p.Found.Grade, p.Found.Reported = pest.Quiet, true }), false, 0, 0},
		{"found on the lawn", of(disease.NitrogenFeeds, func(p *Pest) { p.Found.Grade, p.Found.Reported = pest.Quiet, true }), true, 1, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := lawnAt(t, ails(c.p))
			if c.lawn {
				in.lawn = &lawn{place: "back"}
			}
			assert.InDelta(t, c.fed, valueOf(t, in, "diseases_fed_to_watch").Num, 0)
			assert.InDelta(t, c.ofHunger, valueOf(t, in, "diseases_of_hunger_to_watch").Num, 0)
		})
	}
}

// What stops feeding a lawn is told under Feed, not under every disease found.
func TestEdgesOfLawnsThatAreNotFed(t *testing.T) {
	const feeds = `
[[rule]]
id = "feed"
topic = "disease"
each = "disease"
lawns = "only"
verdict = "do"
weight = 66
uses = ["nitrogen"]
rate = "0.5 lb/1000 ft2"
[rule.when]
disease_reported = ["on record"]
[rule.text]
say = "feed"
source = "own design"
`
	felt := (year{17, 11, 8, 9}).lived(patchIssue)
	lawns := func(laws ...string) []Lawn {
		in := walk(t, felt, patchWeek, grassFile(t, "tall-fescue"), lawnRules+feeds)
		if len(laws) > 0 {
			under(lawBook(t, laws...), onePlace...)(in)
		}
		in.Reports = []pest.Report{patched(3, "back", func(r *pest.Report) { r.MarginActive, r.AreaPct = false, 1 })}
		return answerOn(t, Read(in), Disease).Lawns
	}
	open := lawns()
	require.Len(t, open, 1)
	assert.Equal(t, "feed", open[0].Draft.id())
	assert.Contains(t, codesOf(open[0].Draft.Conditions), "amount.rate")
	assert.Empty(t, lawns(record("summer", "state", "2026-01-10", window("s", "06-01", "09-30", `"N"`))))
}

// A rule that replaces another says of a pest what that would have said, and leaves
// other pests to it; it is heavier, and of the same file.
func TestEdgesOfRulesThatReplaceOthers(t *testing.T) {
	look := &Rule{ID: "look", Topic: Disease, Each: Disease, Verdict: Look, Weight: 50, Say: "look for {pest}"}
	feed := &Rule{ID: "feed", Topic: Disease, Each: Disease, Verdict: Look, Weight: 51, Say: "feed {pest}", Replaces: "look"}
	_, catalogue := book(t)
	ind, ok := catalogue.Find("disease_nitrogen")
	require.True(t, ok)
	feed.when = []term{&clause{ind: ind, words: []string{string(disease.NitrogenHunger)}, forDays: 1}}
	hungry := ail("hungry", pest.Watch)
	hungry.Disease.Nitrogen.Value = disease.NitrogenHunger
	a := answerOn(t, Read(lawnAt(t, ruled(look, feed), ails(hungry, fed("fed", pest.Watch)))), Disease)
	var said []string
	for _, d := range append([]Draft{a.Lead}, a.Support...) {
		said = append(said, says(d.Say))
	}
	assert.Equal(t, []string{"feed hungry", "look for fed"}, said)

	two := func(replaces string, weight int) string {
		return mistakes(t, rule("look", "mow", "look", 50, "", "")+strings.Replace(rule("other", "mow", "look", weight, "", ""), "[rule.when]", "replaces = \""+replaces+"\"\n[rule.when]", 1),
			func(root *diag.Table) { ReadRules(root, catalogue, &Book{}) })
	}
	assert.Empty(t, two("look", 51))
	assert.Contains(t, two("look", 50), "name a lighter rule of this file")
	assert.Contains(t, two("luck", 51), "name a lighter rule of this file")
}
