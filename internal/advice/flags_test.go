package advice

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/turf"
)

// Every reservation about a law has a sentence of its own, which names the place
// and the law, and is printed wherever it is raised.
func TestEveryFlagHasItsOwnSentence(t *testing.T) {
	record := &law.Record{Header: law.Header{ID: "act", Title: "Invented Lawn Act", Citation: "Inv. Code 1", CheckedOn: civil.MustDate(2026, 1, 10), ReviewMonths: 12}, JurisdictionName: "Some County"}
	seen := map[string]law.Flag{}
	for _, id := range completing("flag.") {
		f := law.Flag(id)
		n := law.Notice{Flag: f, Record: record, Jurisdiction: "some-county", Name: "Some County"}
		if f == law.NoRecord {
			n.Record = nil
		}
		z := ZoneLaw{Monday: week29.Monday(), AsOf: issue29, Places: []PlaceLaw{{Place: onePlace[0], Homeowner: map[string]law.PlaceWeek{"N": {}}}}}
		week := z.Places[0].Homeowner["N"]
		week.Days[3].Notices = []law.Notice{n}
		z.Places[0].Homeowner["N"] = week
		got := z.FlagReasons()
		require.Equal(t, []string{"flag." + string(f)}, ids(got))
		text := says(got[0])
		assert.Contains(t, text, onePlace[0].Name, f)
		if f == law.NoRecord {
			assert.Contains(t, text, "the rules of Some County")
		} else {
			assert.Contains(t, text, record.Title, f)
		}
		first, twice := seen[text]
		assert.False(t, twice, "%s says what %s says", f, first)
		seen[text] = f
		assert.NotContains(t, text, "{")
	}
	assert.Len(t, seen, 14)
}

// The flags of a week reach its reading: what holds a feeding is the reason given,
// and the date of the last look stands with it where it matters.
func TestADoubtfulLawHoldsInItsOwnWords(t *testing.T) {
	feed := rule("feed-now", "feed", "do", 50, `"nitrogen"`, onState)
	winter := window("winter", "12-01", "02-01", `"N"`)
	for _, c := range []struct {
		name, record string
		checked      string
		want         string
	}{
		{"never confirmed", strings.Replace(record("x", "state", "2026-01-10", winter), `"verified"`, `"unverified"`, 1), "", "flag.unverified"},
		{"past its review", record("x", "state", "2025-07-11", winter), "July 11, 2025", "flag.stale"},
		{"run out", strings.Replace(record("x", "state", "2026-01-10", winter), "status =", "effective_to = 2026-06-30\nstatus =", 1), "", "flag.expired_no_successor"},
		{"hangs on the grass", record("x", "state", "2026-01-10", strings.Replace(winter, `kind = "annual", from = "12-01", to = "02-01", bounds = "[]", bounds_basis = "text"`, `kind = "season", name = "growing", side = "outside"`, 1)), "", "flag.season_unknown"},
		{"an order nobody has read again", record("x", "state", "2026-01-10", strings.Replace(winter, `kind = "annual", from = "12-01", to = "02-01", bounds = "[]", bounds_basis = "text"`, `kind = "declared", name = "order"`, 1)+
			"[[declarations]]\nname = \"order\"\nfrom = 2026-05-01\nassume_until = 2026-06-01\ncitation = \"Order 1\"\n"), "", "flag.declaration_status_unknown"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, c.record), onePlace, turf.WarmSeason, feed), Feed)
			assert.Equal(t, Wait, a.Verdict)
			assert.Equal(t, "law", a.Lead.Gate)
			require.Equal(t, []string{c.want}, ids(a.Lead.Reasons))
			assert.Contains(t, says(a.Lead.Reasons[0]), c.checked)
		})
	}
	// On its last day before the review is due, and confirmed, it clears.
	a := answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, record("x", "state", "2025-07-12", winter)), onePlace, turf.WarmSeason, feed), Feed)
	assert.Equal(t, Do, a.Verdict)
	// Stale and unconfirmed law still closes.
	closed := strings.Replace(record("x", "state", "2024-01-10", window("summer", "06-01", "09-30", `"N"`)), `"verified"`, `"unverified"`, 1)
	a = answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, closed), onePlace, turf.WarmSeason, feed), Feed)
	assert.Equal(t, Closed, a.Verdict)
}
