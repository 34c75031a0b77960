package law

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/diag"
)

// What cannot be kept together, and what just can.
func TestEdgesOfClashes(t *testing.T) {
	num := func(x float64) *float64 { return &x }
	slow := func(least, most float64, when ...When) []Rule {
		return []Rule{{Topic: "content", Effect: "cap", MinSlowPct: &least}, {Topic: "content", Effect: "cap", MaxSlowPct: &most, When: when}}
	}
	rate := func(soluble, most float64) []Rule {
		return []Rule{{Topic: "rate", Effect: "cap", PerAppSolubleNLb1000: &soluble}, {Topic: "content", Effect: "cap", MaxSlowPct: &most}}
	}
	bars := func(form string) Rule { return Rule{Topic: "content", Effect: "ban", OnlyForms: []string{form}} }
	in := func(from, to string) Rule {
		return Rule{Topic: "window", Effect: "ban", When: []When{window(from, to, "[]")}}
	}
	granular, liquid := slow(50, 49), slow(50, 49)
	granular[0].OnlyForms = []string{"granular"}
	liquid[0].OnlyForms = []string{"granular", "liquid"}
	excepted := in("06-01", "12-31")
	excepted.Unless = []string{"new_turf"}
	late := window("11-16", "12-01", "[]")
	for _, c := range []struct {
		name  string
		rules []Rule
		want  string
	}{
		{"a floor at the roof", slow(50, 50), ""},
		{"a floor above the roof", slow(50.1, 50), "slow 2026-03-16 2026-12-31"},
		{"only while the roof holds", slow(50, 0, late), "slow 2026-11-16 2026-12-01"},
		{"not while all is closed", append(slow(50, 0, late), in("11-16", "12-01")), ""},
		{"for one form alone the other is left", granular, ""},
		{"for both forms", liquid, "slow 2026-03-16 2026-12-31"},
		{"just enough to spread", rate(0.05, 50), ""},
		{"too little to spread", rate(0.05, 49), "rate 2026-03-16 2026-12-31"},
		{"nothing soluble, and nothing else", rate(0, 0), "rate 2026-03-16 2026-12-31"},
		{"one form barred", []Rule{bars("granular")}, ""},
		{"both forms barred", []Rule{bars("granular"), bars("liquid")}, "forms 2026-03-16 2026-12-31"},
		{"both by one rule", []Rule{{Topic: "content", Effect: "ban", OnlyForms: []string{"granular", "liquid"}}}, ""},
		{"a day of the year left", []Rule{in("01-01", "05-31"), in("06-02", "12-31")}, ""},
		{"no day of the year left", []Rule{in("01-01", "05-31"), in("06-01", "12-31")}, "year 2026-03-16 2027-03-17"},
		{"one rule closes it alone", []Rule{in("01-01", "05-31"), in("06-01", "12-31"), {Topic: "window", Effect: "ban"}}, ""},
		{"what an exception lifts", []Rule{in("01-01", "05-31"), excepted}, ""},
		{"a cap by itself", []Rule{{Topic: "rate", Effect: "cap", PerAppTotalNLb1000: num(0.5)}}, ""},
	} {
		for i := range c.rules {
			r := &c.rules[i]
			r.Targets, r.Binds, r.Where = []string{"N"}, []Actor{"all"}, diag.Where{Pos: diag.Pos{Line: i + 1}}
		}
		b, q := bareBook(c.rules...)
		got := ""
		for _, x := range b.Clashes(q.Place, day("2026-03-16"), day("2026-12-31"), q.AsOf) {
			got += x.Kind + " " + x.First.String() + " " + x.Last.String()
			assert.Equal(t, []Actor{Homeowner, ForHire}, x.Actors, c.name)
			assert.NotEqual(t, x.One.Pos, x.Other.Pos, c.name)
			assert.Equal(t, x.Kind != "year", x.Holds(Homeowner), c.name)
		}
		assert.Equal(t, c.want, got, c.name)
	}
}

// A clash of a season that comes again is told of its first days; whom it does not
// bind it does not hold.
func TestEdgesOfTheDaysOfAClash(t *testing.T) {
	var all []Clash
	clash := func(first, last string, who Actor) Clash {
		return Clash{Kind: "slow", Actors: []Actor{who}, First: day(first), Last: day(last)}
	}
	AddClash(&all, clash("2026-11-16", "2026-11-20", ForHire))
	assert.False(t, all[0].Holds(Homeowner))
	AddClash(&all, clash("2026-11-21", "2026-12-01", Homeowner))
	AddClash(&all, clash("2026-12-03", "2026-12-05", Homeowner))
	assert.Len(t, all, 1)
	assert.Equal(t, day("2026-12-01"), all[0].Last)
	assert.True(t, all[0].Holds(Homeowner))
}
