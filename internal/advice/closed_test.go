package advice

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/law"
	"ligule/internal/turf"
)

// Where the law closes part of the zone or of the week the answer's own sentence
// names places and days, and says of the rest only what is so.
func TestEdgesOfWhatIsClosedInPart(t *testing.T) {
	two := []law.Place{{Name: "Over", Chain: []string{"state"}}, {Name: "Under", Chain: []string{"state", "town"}}}
	state := func(from, to string) string {
		return record("state-act", "state", "2026-01-10", window("w", from, to, `"N"`))
	}
	town := func(from, to, checked string) string {
		return record("town-code", "town", checked, window("w", from, to, `"N"`))
	}
	open := state("12-01", "02-01")
	for _, c := range []struct {
		name string
		laws []string
		say  string
		part bool
	}{
		{name: "all week everywhere", laws: []string{state("06-01", "09-30"), town("12-01", "02-01", "2026-01-10")}, say: "No nitrogen fertilizer on lawns here this week: a local rule closes it."},
		{name: "one place", laws: []string{open, town("06-01", "09-30", "2026-01-10")}, part: true, say: "No nitrogen fertilizer in Under, all week, by local rule; open elsewhere."},
		{name: "one place on one day", laws: []string{open, town("06-01", "07-13", "2026-01-10")}, part: true, say: "No nitrogen fertilizer in Under, Monday, July 13, by local rule; open elsewhere."},
		{name: "both through Saturday", laws: []string{state("06-01", "07-18"), town("12-01", "02-01", "2026-01-10")}, part: true, say: "No nitrogen fertilizer Monday, July 13 through Saturday, July 18, by local rule; open on the other days."},
		{name: "both through Sunday", laws: []string{state("06-01", "07-19"), town("12-01", "02-01", "2026-01-10")}, say: "No nitrogen fertilizer on lawns here this week: a local rule closes it."},
		{name: "one all week, the other for a day", laws: []string{state("06-01", "07-13"), town("06-01", "09-30", "2026-01-10")}, part: true, say: "No nitrogen fertilizer in Over, Monday, July 13; in Under, all week, by local rule; open on the other days."},
		{name: "the rest not cleared", laws: []string{state("06-01", "07-13"), town("12-01", "02-01", "2023-01-10")}, part: true, say: "No nitrogen fertilizer Monday, July 13, by local rule; elsewhere not cleared: ask first."},
	} {
		r := reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, c.laws...), two, turf.WarmSeason, rule("feed-now", "feed", "do", 50, `"nitrogen"`, feedDo))
		a := answerOn(t, r, Feed)
		assert.Equal(t, Closed, a.Verdict, c.name)
		assert.Equal(t, c.say, says(a.Lead.Say), c.name)
		assert.Equal(t, c.part, a.InPart(), c.name)
	}
}
