package law

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A rule on pesticides bars the uses that it names, of what it names, on its days,
// and says nothing of fertilizer; nor does one on fertilizer bar a pesticide.
func TestEdgesOfPesticides(t *testing.T) {
	bars := func(targets []string, classes ...string) Rule {
		return Rule{Topic: "pesticide", Effect: "ban", Targets: targets, Binds: []Actor{"homeowner"}, OnlyProducts: classes,
			When: []When{window("06-01", "09-30", "[]")}}
	}
	verdicts := func(b *Book, q Question, product Product) string {
		out := ""
		for _, d := range around(day("2026-06-01"), day("2026-09-30")) {
			q.Product, q.Date = product, d
			out += "fonC"[b.Ask(q).Verdict:][:1]
		}
		return out
	}
	b, q := bareBook(bars([]string{"herbicide"}), bars([]string{"insecticide"}, "neonicotinoid"))
	assert.Equal(t, []Barred{{"herbicide", ""}, {"insecticide", "neonicotinoid"}}, b.BarredAt(q.Place))
	neonicotinoid, diamide := Barred{"insecticide", "neonicotinoid"}.ProductOf(), Barred{"insecticide", "diamide"}.ProductOf()
	// Outside the span the law has spoken, or nobody has of what it does not name.
	assert.Equal(t, "fCCCCf", verdicts(b, q, ProductOf("herbicide")))
	assert.Equal(t, "fCCCCf", verdicts(b, q, neonicotinoid))
	assert.Equal(t, "ffffff", verdicts(b, q, diamide))
	assert.Equal(t, "foooof", verdicts(b, q, ProductOf("insecticide")), "it hangs on the class")
	assert.Equal(t, "ffffff", verdicts(b, q, ProductOf("fungicide")))
	q.Actor = ForHire
	assert.Equal(t, "ffffff", verdicts(b, q, ProductOf("herbicide")), "it binds who lives there")
	q.Actor = Homeowner
	assert.Equal(t, "nnnnnn", verdicts(b, q, ProductOf("N")), "a record on pesticides clears no fertilizer")
	assert.Empty(t, b.Conditions(Question{Place: q.Place, Product: ProductOf("N"), Date: day("2026-07-01"), AsOf: q.AsOf}))

	any := closes(window("06-01", "09-30", "[]"))
	any.Targets = []string{"any"}
	b, q = bareBook(any)
	assert.Equal(t, "fCCCCf", verdicts(b, q, ProductOf("N")))
	assert.NotContains(t, verdicts(b, q, ProductOf("herbicide")), "C", "any fertilizer is no weed killer")
	assert.Empty(t, b.BarredAt(q.Place))
}
