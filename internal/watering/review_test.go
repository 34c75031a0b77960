package watering

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/lawtest"
)

// inventedLaw is the fertilizer law of the invented state.
func inventedLaw(t testing.TB) *law.Book {
	t.Helper()
	a := lawtest.Read(t, "../law/testdata/owndesign/ossamere.txtar")
	var records []*law.Record
	var lines []law.Jurisdiction
	a.Ordinances(t, func(root *diag.Table) string {
		records = append(records, law.ReadRecord(root))
		return records[len(records)-1].ID
	})
	a.Jurisdictions(t, func(root *diag.Table) { lines = law.ReadJurisdictions(root) })
	return law.NewBook(records, lines)
}

// reviewLines writes the list of a day.
func reviewLines(b *law.Book, w *Book, asOf string) []string {
	var out []string
	for _, r := range Reviews(b, w, day(asOf)) {
		due := "now"
		if !r.Due.IsZero() {
			due = r.Due.String()
		}
		s := fmt.Sprintf("%s %s %s/%s", due, r.What, r.Jurisdiction, r.Law.ID)
		if r.Rule != nil {
			s += "/" + r.Rule.ID
		}
		if r.Order != "" {
			s += " " + r.Order
		}
		out = append(out, s)
	}
	return out
}

func TestOwnDesignReviewsOfAllLaw(t *testing.T) {
	assert.Equal(t, []string{
		"now not_checked selvary/",
		"2026-03-31 review ivelsay/ivelsay-district",
		"2026-03-31 expiry thornelby/thornelby-town",
		"2026-09-02 review ivelsay/ivelsay-drought",
		"2026-10-05 review thornelby/thornelby-town",
		"2026-11-20 review wendrake/wendrake-county",
		"2027-01-08 review wendrake/wendrake-water",
		"2027-01-12 review om/om-state",
		"2027-02-03 review brackmoor/brackmoor-county",
		"2027-02-10 none_found hocklan/",
		"2027-02-20 review vellinport/vellinport-city",
	}, reviewLines(inventedLaw(t), inventedBook(t), "2026-03-16"))

	// In June the steps of the city's slow-release share are near, an order
	// without an end is on, and the town's law has lapsed.
	got := reviewLines(inventedLaw(t), inventedBook(t), "2026-06-20")
	assert.Equal(t, []string{
		"now not_checked selvary/",
		"2026-03-31 review ivelsay/ivelsay-district",
		"2026-03-31 expiry thornelby/thornelby-town",
		"2026-06-30 effective vellinport/vellinport-city/slow-65",
		"2026-06-30 expiry vellinport/vellinport-city/slow-50",
		"2026-07-13 order ivelsay/ivelsay-drought stage 3",
	}, got[:6])
	assert.NotContains(t, got, "2026-10-05 review thornelby/thornelby-town", "a law that has ended is looked for anew, not read again")
	assert.Contains(t, reviewLines(inventedLaw(t), inventedBook(t), "2026-08-03"), "2026-08-19 order ivelsay/ivelsay-district algae_order")
	assert.NotContains(t, reviewLines(inventedLaw(t), inventedBook(t), "2026-07-19"), "2026-08-19 order ivelsay/ivelsay-district algae_order", "it has not begun")
}

func TestOwnDesignReviewOfAWateringLawThatHasEnded(t *testing.T) {
	w := *recordOf(t, "wendrake-water")
	w.EffectiveTo = day("2026-03-01")
	assert.Equal(t, []string{"2026-03-01 expiry wendrake/wendrake-water"}, reviewLines(law.NewBook(nil, nil), NewBook([]*Record{&w}, nil), "2026-03-16"))
}
