package law

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
)

// What the model means where the cases by the calendar do not show it.

// Anchors are resolved first, then bounds are applied.
func TestOwnDesignBoundsAreAppliedToResolvedAnchors(t *testing.T) {
	for _, c := range []struct {
		from, to, b string
		year        int
		want        string
	}{
		{"02-29", "04-01", "[]", 2026, "2026-03-01..2026-04-01"},
		{"02-29", "04-01", "(]", 2026, "2026-03-02..2026-04-01"},
		{"02-29", "04-01", "(]", 2028, "2028-03-01..2028-04-01"},
		{"11-15", "02-29", "[]", 2026, "2026-11-15..2027-02-28"},
		{"11-15", "02-29", "[)", 2026, "2026-11-15..2027-02-27"},
		{"11-15", "02-29", "[)", 2027, "2027-11-15..2028-02-28"},
		{"11-15", "02-last", "[]", 2027, "2027-11-15..2028-02-29"},
		{"12-31", "01-01", "[]", 2026, "2026-12-31..2027-01-01"},
		{"12-31", "12-31", "[]", 2026, "2026-12-31..2026-12-31"},
		{"nth:last-Sun-10", "nth:2-Sun-03", "()", 2026, "2026-10-26..2027-03-13"},
	} {
		w := window(c.from, c.to, c.b)
		first, last := w.Season(c.year)
		assert.Equal(t, c.want, first.String()+".."+last.String(), "%s to %s %s of %d", c.from, c.to, c.b, c.year)
	}
}

// bareBook holds one verified law of one place, read lately, with the given rules.
func bareBook(rules ...Rule) (*Book, Question) {
	for i := range rules {
		if rules[i].ID == "" {
			rules[i].ID = fmt.Sprintf("r%d", i)
		}
	}
	rec := &Record{ID: "law", Jurisdiction: "here", AppliesIn: "all", EffectiveFrom: day("2010-01-01"), Status: "in_force", Verification: "verified",
		CheckedOn: day("2026-01-12"), ReviewMonths: 12, Rules: rules}
	q := Question{Place: Place{Chain: []string{"here"}}, Actor: Homeowner, Product: lawn50, AsOf: day(usualAsOf)}
	return NewBook([]*Record{rec}, nil), q
}

// An override replaces the whole of the season of its label, on both sides of New
// Year, and no other; a rule's other spans stand.
func TestOwnDesignAnOverrideReplacesItsSeasonWholly(t *testing.T) {
	b, q := bareBook(Rule{Topic: "window", Effect: "ban", Targets: []string{"N"}, Binds: []Actor{"all"},
		When:      []When{window("11-15", "03-01", "()"), {Kind: "dates", From: day("2026-11-17"), To: day("2026-11-18"), Bounds: "[]"}},
		Overrides: []Override{{Season: 2026, From: day("2026-12-01"), To: day("2027-01-15"), Bounds: "[)"}}})
	for d, want := range map[string]Verdict{
		"2026-02-10": Closed, // of the season of 2025
		"2026-11-16": Open, "2026-11-17": Closed, "2026-11-19": Open, "2026-11-30": Open,
		"2026-12-01": Closed, "2027-01-14": Closed, "2027-01-15": Open, "2027-02-28": Open,
		"2027-11-16": Closed, "2028-02-29": Closed,
	} {
		q.Date = day(d)
		assert.Equal(t, want.String(), b.Ask(q).Verdict.String(), d)
	}
}

// Edges that nobody has confirmed are read strictly whatever the bounds say, and
// flagged on the two anchor days alone.
func TestOwnDesignAssumedEdges(t *testing.T) {
	w := window("12-01", "04-01", "()")
	w.BoundsBasis = "assumed"
	ban := Rule{Topic: "window", Effect: "ban", Targets: []string{"N"}, Binds: []Actor{"all"}, When: []When{w}}
	b, q := bareBook(ban)
	for _, c := range []struct{ date, want string }{
		{"2026-11-30", "open "}, {"2026-12-01", "closed edge_assumed"}, {"2026-12-02", "closed "},
		{"2027-03-31", "closed "}, {"2027-04-01", "closed edge_assumed"}, {"2027-04-02", "open "},
	} {
		q.Date = day(c.date)
		a := b.Ask(q)
		assert.Equal(t, c.want, a.Verdict.String()+" "+flags(a), c.date)
	}
	// A day that another span covers beyond doubt is not in doubt.
	ban.When = append(ban.When, window("03-25", "04-01", "[]"))
	b, q = bareBook(ban)
	q.Date = day("2027-04-01")
	a := b.Ask(q)
	assert.Equal(t, "closed ", a.Verdict.String()+" "+flags(a))
}

// A soil test counts through its date plus the months of the rule, clamped to the
// end of a shorter month, from the day of the test on, and if it shows a shortage.
func TestOwnDesignHowLongASoilTestIsGood(t *testing.T) {
	for _, c := range []struct {
		test   string
		months int
		date   string
		short  bool
		want   string // with the exception used
	}{
		{"2024-08-31", 18, "2026-02-28", true, "conditional soil_test_p"},
		{"2024-08-31", 18, "2026-03-01", true, "closed "},
		{"2024-02-29", 24, "2026-02-28", true, "conditional soil_test_p"},
		{"2024-02-29", 24, "2026-03-01", true, "closed "},
		{"2026-04-20", 24, "2026-04-20", true, "conditional soil_test_p"},
		{"2026-04-21", 24, "2026-04-20", true, "closed "},
		{"2026-04-01", 24, "2026-04-20", false, "closed "},
	} {
		b, q := bareBook(Rule{Topic: "phosphorus", Effect: "ban", Targets: []string{"P"}, Binds: []Actor{"all"}, Unless: []string{"new_turf", "soil_test_p"}, SoilTestMaxAgeMonths: c.months})
		q.Product, q.Date, q.SoilTest = start, day(c.date), &SoilTest{Date: day(c.test), PDeficient: c.short}
		a := b.Ask(q)
		require.Len(t, a.Hits, 1)
		assert.Equal(t, c.want, a.Verdict.String()+" "+a.Hits[0].Word, "tested on %s, %d months, spread on %s", c.test, c.months, c.date)
	}
}

// What a question leaves out is not presumed in anybody's favor, nor held against
// what cannot be tested without it.
func TestOwnDesignWhatAQuestionLeavesOut(t *testing.T) {
	rule := func(topic, effect string, with func(*Rule)) Rule {
		r := Rule{Topic: topic, Effect: effect, Targets: []string{"N"}, Binds: []Actor{"all"}}
		with(&r)
		return r
	}
	perUse := rule("rate", "cap", func(r *Rule) { r.PerAppTotalNLb1000 = num(0.5) })
	yearly := rule("rate", "cap", func(r *Rule) { r.AnnualTotalNLb1000 = num(2) })
	slow := rule("content", "cap", func(r *Rule) { r.MinSlowPct = num(60) })
	strip := rule("buffer", "ban", func(r *Rule) { r.BufferFt = num(15) })
	planting := rule("window", "ban", func(r *Rule) { r.When = []When{{Kind: "after_planting", Days: DayRange{0, 29}}} })
	phosphorus := rule("phosphorus", "ban", func(r *Rule) { r.Targets, r.Unless = []string{"P"}, []string{"soil_test_p"} })
	for _, c := range []struct {
		name string
		rule Rule
		with func(*Question)
		want string
	}{
		{"no rate: a cap for each use is a condition", perUse, nil, "conditional"},
		{"a rate over it", perUse, rate(3), "closed"},
		{"no rate: a yearly cap is a condition", yearly, func(q *Question) { q.AnnualNLb1000 = num(9) }, "conditional"},
		{"no yearly total: the yearly cap is not tested", yearly, rate(20), "conditional"},
		{"a yearly total and a rate over it", yearly, func(q *Question) { q.RateLb1000, q.AnnualNLb1000 = num(3), num(1.5) }, "closed"},
		{"no rate: the slow share is tested all the same", slow, nil, "closed"},
		{"only the nutrient known: no share to test", slow, func(q *Question) { q.Product = ProductOf("N") }, "conditional"},
		{"no distance: a strip is a condition", strip, nil, "conditional"},
		{"a distance within it", strip, near(14.9, ""), "closed"},
		{"no day of planting: out of the span", planting, nil, "open"},
		{"a day of planting within it", planting, func(q *Question) { q.Planted = day("2026-04-01") }, "closed"},
		{"no soil test: the exception is not met", phosphorus, func(q *Question) { q.Product = start }, "closed"},
		{"a soil test", phosphorus, func(q *Question) { q.Product = start; soilTest("2026-01-10")(q) }, "conditional"},
		{"no actor: a homeowner", rule("window", "ban", func(r *Rule) { r.Binds = []Actor{Homeowner} }), func(q *Question) { q.Actor = "" }, "closed"},
		{"no site: none is exempt", rule("window", "ban", func(r *Rule) { r.ExemptSites = []string{"farm"} }), nil, "closed"},
		{"no class: none is exempt", rule("window", "ban", func(r *Rule) { r.ExemptProducts = []string{"natural_organic"} }), func(q *Question) { q.Product = ProductOf("N") }, "closed"},
	} {
		b, q := bareBook(c.rule)
		q.Date = day("2026-04-20")
		if c.with != nil {
			c.with(&q)
		}
		assert.Equal(t, c.want, b.Ask(q).Verdict.String(), c.name)
	}
}

// Duties that hang on no product are printed and move nothing, even if their span
// cannot be told; a rule on selling answers the seller alone.
func TestOwnDesignDutiesForAllMoveNothing(t *testing.T) {
	always := Rule{ID: "clippings", Topic: "clippings", Effect: "require", Targets: []string{"always"}, Binds: []Actor{"all"}, Duty: "no_clippings_in_street_or_water"}
	unknown := always
	unknown.ID, unknown.When = "season", []When{{Kind: "season", Name: "growing", Side: "inside"}}
	shelf := Rule{ID: "shelf", Topic: "sale", Effect: "ban", Targets: []string{"any"}, Binds: []Actor{"all"}}
	b, q := bareBook(always, unknown, shelf)
	q.Date = day("2026-04-20")
	for _, p := range []Product{lawn50, lime, herb, ProductOf("N"), ProductOf("")} {
		q.Product = p
		a := b.Ask(q)
		assert.Equal(t, "open", a.Verdict.String())
		assert.Empty(t, a.Flags)
		var words []string
		for _, h := range a.Hits {
			words = append(words, h.Rule.ID+" "+h.Word)
		}
		assert.Equal(t, []string{"clippings no_clippings_in_street_or_water", "season no_clippings_in_street_or_water"}, words)
	}
	q.Product, q.Actor = lawn50, Retailer
	assert.Equal(t, "law/shelf", closing(b.Ask(q)))
}

// A source other than the law does not verify, whatever it is called.
func TestOwnDesignOnlyTheLawItselfVerifies(t *testing.T) {
	for kind, want := range map[string]bool{
		"official_code": true, "session_law": true, "agency_page": true, "secondary": false, "news": false, "hearsay": false,
	} {
		got := problems(t, nil, strings.Replace(plain, "official_code", kind, 1))
		if want {
			assert.Empty(t, got, kind)
			continue
		}
		assert.Contains(t, got, fmt.Sprintf("verification: a source of kind %q does not verify", kind))
		for _, weaker := range []string{"secondary", "unverified"} {
			text := strings.Replace(strings.Replace(plain, "official_code", kind, 1), `verification = "verified"`, `verification = "`+weaker+`"`, 1)
			assert.Empty(t, problems(t, nil, text), "%s, %s", kind, weaker)
		}
	}
}

// A rule that changes is written as two versions of one id that follow each other;
// each change within 90 days is pointed out.
func TestOwnDesignVersionsOfARule(t *testing.T) {
	versions := func(to, from string) string {
		first := strings.Replace(plain, "per_app_total_n = 1.0", "per_app_total_n = 1.0\neffective_to = "+to, 1)
		return first + "[[rules]]\nid = \"rate\"\ncitation = \"1(b)\"\ntopic = \"rate\"\neffect = \"cap\"\ntargets = [\"N\"]\nbinds = [\"all\"]\nper_app_total_n = 0.9\neffective_from = " + from + "\n"
	}
	assert.Empty(t, problems(t, nil, versions("2026-09-30", "2026-10-01")))
	assert.Contains(t, problems(t, nil, versions("2026-10-01", "2026-10-01")), `two versions of rule "rate" hold at once`)
	soon := problems(t, nil, versions("2026-05-31", "2026-06-01"))
	assert.Contains(t, soon, "rules[1].effective_to: warning: ends on 2026-05-31")
	assert.Contains(t, soon, "rules[3].effective_from: warning: takes effect on 2026-06-01")
}

// A law that grows stale, or turns out unconfirmed, opens nothing; where it
// displaces no other, it closes what it closed and no more, and clears nothing on
// any day on which it is in force.
func TestPropertyDoubtClosesTheSameAndClearsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Any one of a place's laws, asked about on days of a year.
		records, q := genRecords().Draw(t, "records"), genQuestion().Draw(t, "question")
		more := genRecord("doubted", rapid.SampledFrom(chainOfFour[:len(q.Place.Chain)]).Draw(t, "body")).Draw(t, "doubted")
		more.PreemptTopics = rapid.SampledFrom([][]string{nil, nil, {"window"}}).Draw(t, "displaces")
		records = append(records, more)
		doubted := *more
		if rapid.Bool().Draw(t, "stale") {
			doubted.CheckedOn = q.AsOf.AddMonths(-12) - 1
		} else {
			doubted.Verification = "unverified"
		}
		after := slices.Clone(records)
		after[len(after)-1] = &doubted
		trusting, doubting := NewBook(records, genLines()), NewBook(after, genLines())
		for range 12 {
			q.Date += 31
			was, is := trusting.Ask(q), doubting.Ask(q)
			if is.Verdict < was.Verdict || doubted.PreemptTopics == nil && (is.Verdict == Closed) != (was.Verdict == Closed) {
				t.Fatalf("%s: %v became %v", q.Date, was.Verdict, is.Verdict)
			}
			speaks := slices.Contains(doubting.RecordsOf(q.Place, q.Date, q.Date), &doubted)
			if speaks && is.Verdict < NotCleared {
				t.Fatalf("%s: %v while a law in doubt speaks", q.Date, is.Verdict)
			}
		}
	})
}

// Until when nothing changes, nothing changes: a week's next change is never later
// than the first day of the spans that follow it.
func TestPropertyTheNextChangeAgreesWithTheClosedSpans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, q := NewBook(genRecords().Draw(t, "records"), genLines()), genQuestion().Draw(t, "question")
		nutrient := rapid.SampledFrom(Nutrients()).Draw(t, "nutrient")
		q = Question{Place: q.Place, Actor: q.Actor, AsOf: q.AsOf, Date: q.Date, Product: ProductOf(nutrient)}
		monday := q.Date
		sunday := monday + 6
		w := b.Week(q, monday)
		spans := b.ClosedSpans(q.Place, q.Actor, nutrient, sunday, sunday+nextChangeDays, q.AsOf)
		var want *Change
		switch {
		case len(spans) == 0:
		case spans[0].First > sunday:
			want = &Change{Date: spans[0].First}
		case spans[0].Last < sunday+civil.Date(nextChangeDays):
			want = &Change{Date: spans[0].EndExclusive(), Opens: true}
		}
		if (want == nil) != (w.Next == nil) || want != nil && *want != *w.Next {
			t.Fatalf("the week says %v, the spans %v", w.Next, want)
		}
	})
}
