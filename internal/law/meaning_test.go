package law

import (
	"fmt"
	"slices"
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
	rec := &Record{Header: Header{ID: "law", Jurisdiction: "here", AppliesIn: "all", EffectiveFrom: day("2010-01-01"), Verification: "verified",
		CheckedOn: day("2026-01-12"), ReviewMonths: 12}, Status: "in_force", Rules: rules}
	q := Question{Place: Place{Chain: []string{"here"}}, Actor: Homeowner, Product: lawn50, AsOf: day(usualAsOf)}
	return NewBook([]*Record{rec}, nil), q
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
		r := Rule{Topic: topic, Effect: Effect(effect), Targets: []string{"N"}, Binds: []Actor{"all"}}
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
		if (want == nil) != (w.Next == nil) || want != nil && (want.Date != w.Next.Date || want.Opens != w.Next.Opens) {
			t.Fatalf("the week says %v, the spans %v", w.Next, want)
		}
	})
}
