package law

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func (r Review) line() string {
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
	return s
}

func reviewLines(b *Book, asOf string) []string {
	var out []string
	for _, r := range b.Reviews(day(asOf)) {
		out = append(out, r.line())
	}
	return out
}

func TestOwnDesignReviews(t *testing.T) {
	b := inventedBook(t)
	assert.Equal(t, []string{
		"now not_checked selvary/",
		"2026-03-31 review ivelsay/ivelsay-district",
		"2026-03-31 expiry thornelby/thornelby-town",
		"2026-10-05 review thornelby/thornelby-town",
		"2026-11-20 review wendrake/wendrake-county",
		"2027-01-12 review om/om-state",
		"2027-02-03 review brackmoor/brackmoor-county",
		"2027-02-10 none_found hocklan/",
		"2027-02-20 review vellinport/vellinport-city",
	}, reviewLines(b, "2026-03-16"))

	// In June the steps of the city's slow-release share are near, and the town's
	// law has lapsed.
	got := reviewLines(b, "2026-06-20")
	assert.Equal(t, []string{
		"now not_checked selvary/",
		"2026-03-31 review ivelsay/ivelsay-district",
		"2026-03-31 expiry thornelby/thornelby-town",
		"2026-06-30 effective vellinport/vellinport-city/slow-65",
		"2026-06-30 expiry vellinport/vellinport-city/slow-50",
	}, got[:5])
	assert.NotContains(t, got, "2026-10-05 review thornelby/thornelby-town", "a law that has ended is looked for anew, not read again")
	assert.Contains(t, reviewLines(b, "2026-08-03"), "2026-08-19 order ivelsay/ivelsay-district algae_order")
	assert.NotContains(t, reviewLines(b, "2026-07-19"), "2026-08-19 order ivelsay/ivelsay-district algae_order", "it has not begun")

	all := b.Reviews(day("2026-06-20"))
	require.NotNil(t, all[1].Record)
	assert.Equal(t, "https://law.example.invalid/ivelsay/r3", all[1].Law.SourceURL)
	assert.Equal(t, "Ivelsay Reservoir Protection District", all[1].JurisdictionName)
	assert.Equal(t, "9-105(b)", all[3].Citation)
	assert.Equal(t, "City code compliance.", all[3].Office)
	assert.Equal(t, "Selvary County", all[0].JurisdictionName)
	assert.True(t, all[1].Past(day("2026-06-20")))
	assert.False(t, all[3].Past(day("2026-06-30")), "the last day is still in time")
	assert.True(t, all[3].Within(day("2026-06-20"), 10))
	assert.False(t, all[3].Within(day("2026-06-20"), 9))
}

func TestOwnDesignReviewsOfLawsThatChange(t *testing.T) {
	town := slices.IndexFunc(inventedRecords(t), func(r *Record) bool { return r.ID == "thornelby-town" })
	for _, c := range []struct {
		name   string
		change func(r *Record)
		asOf   string
		want   []string
	}{
		{"superseded by a law on file", func(r *Record) { r.SupersededBy = "om-state" }, "2026-04-01", nil},
		{"superseded, while still in force", func(r *Record) { r.SupersededBy = "om-state" }, "2026-03-16", []string{"2026-10-05 review thornelby/thornelby-town"}},
		{"lapse confirmed", func(r *Record) { r.LapseConfirmed = true }, "2026-04-01", nil},
		{"proposed", func(r *Record) { r.Status = "proposed" }, "2026-03-16", nil},
		{"repealed without a day", func(r *Record) { r.Status, r.EffectiveTo = "repealed", 0 }, "2026-03-16", []string{"2025-10-05 expiry thornelby/thornelby-town"}},
		{"takes effect in 90 days", func(r *Record) { r.EffectiveFrom, r.EffectiveTo = day("2026-06-15"), 0 }, "2026-03-16", []string{"2026-06-14 effective thornelby/thornelby-town", "2026-10-05 review thornelby/thornelby-town"}},
		{"takes effect later", func(r *Record) { r.EffectiveFrom, r.EffectiveTo = day("2026-06-16"), 0 }, "2026-03-15", []string{"2026-10-05 review thornelby/thornelby-town"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			records := inventedRecords(t)
			c.change(records[town])
			var got []string
			for _, r := range NewBook(records, inventedList(t)).Reviews(day(c.asOf)) {
				if r.Jurisdiction == "thornelby" {
					got = append(got, r.line())
				}
			}
			assert.Equal(t, c.want, got)
		})
	}
	// A jurisdiction in the list that says nothing and has no record.
	list := []Jurisdiction{{ID: "corvane", Level: "county"}}
	assert.Equal(t, []string{"now not_checked corvane/"}, reviewLines(NewBook(nil, list), "2026-03-16"))
}

// Whatever keeps a verdict from clearing for its age is on the list, past due.
func TestPropertyWhatIsStaleIsOnTheReviewList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records, q := genRecords().Draw(t, "records"), genQuestion().Draw(t, "question")
		b := NewBook(records, genLines())
		q.Date = q.AsOf
		list := b.Reviews(q.AsOf)
		for i := range list {
			if i > 0 && list[i].Due < list[i-1].Due {
				t.Fatal("not by due date")
			}
		}
		for _, n := range b.Ask(q).Notices {
			if n.Flag != Stale && n.Flag != ExpiredNoSuccessor {
				continue
			}
			if n.Record != nil && b.standing(n.Record, q.Date) == lapsed {
				continue
			}
			if !slices.ContainsFunc(list, func(r Review) bool {
				return r.Jurisdiction == n.Jurisdiction && r.Record == n.Record && r.Past(q.AsOf)
			}) {
				t.Fatalf("%s of %s %s is not on the list", n.Flag, n.Jurisdiction, recordID(n.Record))
			}
		}
	})
}
