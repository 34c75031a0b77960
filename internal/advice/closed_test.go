package advice

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/diag"
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

// Where nothing calls for feeding, what the law leaves open is not called open: the
// answer of the other days stands in the same sentence.
func TestWhatIsLeftOpenIsNoCallToFeed(t *testing.T) {
	two := []law.Place{{Name: "Over", Chain: []string{"state"}}, {Name: "Under", Chain: []string{"state", "town"}}}
	open := record("state-act", "state", "2026-01-10", window("w", "12-01", "02-01", `"N"`))
	town := func(checked string) string {
		return record("town-code", "town", checked, window("w", "06-01", "07-13", `"N"`))
	}
	wait := rule("not-yet", "feed", "wait", 50, ``, feedDo)
	answer := func(rules string, laws ...string) Answer {
		return answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, laws...), two, turf.WarmSeason, rules), Feed)
	}
	a := answer(wait+rule("light", "feed", "skip", 40, ``, feedDo), open, town("2026-01-10"))
	assert.Equal(t, Closed, a.Verdict)
	assert.True(t, a.InPart())
	assert.Equal(t, "No nitrogen fertilizer in Under, Monday, July 13, by local rule. Otherwise: wait. say not-yet", says(a.Lead.Say))
	a = answer(wait, open, town("2023-01-10"))
	assert.Contains(t, says(a.Lead.Say), "elsewhere not cleared: ask first")
	a = answer(wait, record("state-act", "state", "2026-01-10", window("w", "06-01", "09-01", `"N"`)))
	assert.Equal(t, "No nitrogen fertilizer on lawns here this week: a local rule closes it.", says(a.Lead.Say))
	a = answer("", open, town("2026-01-10"))
	assert.Equal(t, "No nitrogen fertilizer in Under, Monday, July 13, by local rule; open elsewhere.", says(a.Lead.Say), "of the rest nothing is known")
}

// What is put off to a time of the year carries what the law closes then, in the
// same sentence: the coming days that the rule names, through the last of them.
func TestEdgesOfWhatIsPutOff(t *testing.T) {
	later := func(from, to string) string {
		return strings.Replace(rule("not-yet", "feed", "wait", 50, ``, feedDo), "[rule.text]", "[rule.later]\nuses = [\"nitrogen\"]\nfrom = \""+from+"\"\nto = \""+to+"\"\n[rule.text]", 1)
	}
	shut := lawBook(t, record("act", "state", "2026-01-10", window("w", "09-10", "09-20", `"N"`)))
	said := func(from, to string) string {
		r := reading(t, growing(), forecastWeather(issue29, fair...), shut, onePlace, turf.WarmSeason, later(from, to))
		return says(answerOn(t, r, Feed).Lead.Say)
	}
	const closed = " Closed by local rule, Somewhere: September 10, 2026 through September 20, 2026."
	assert.Equal(t, "say not-yet."+closed, strings.Replace(said("09-20", "09-30"), "yet ", "yet. ", 1))
	assert.Contains(t, said("09-01", "09-10"), closed)
	assert.Equal(t, "say not-yet", said("09-21", "09-30"))
	assert.Equal(t, "say not-yet", said("09-01", "09-09"))
	// Issued on July 12: a span that ended on the 11th is that of next year.
	shut = lawBook(t, record("act", "state", "2026-01-10", window("w", "07-05", "07-08", `"N"`)))
	assert.Contains(t, said("07-01", "07-11"), "July 5, 2027 through July 8, 2027")
	assert.Equal(t, "say not-yet", said("07-01", "07-12"), "what is left of it is open")
}

// A rule that names a month to feed in says so to the law.
func TestATimeToFeedIsAskedOfTheLaw(t *testing.T) {
	_, catalogue := book(t)
	read := func(text string) string {
		return mistakes(t, text, func(root *diag.Table) { ReadRules(root, catalogue, pests(t)) })
	}
	named := strings.Replace(rule("autumn", "feed", "wait", 50, ``, feedDo), "say autumn", "Feed in September.", 1)
	assert.Contains(t, read(named), "rule[0].later: the text names a time to feed; add later = ")
	with := strings.Replace(named, "[rule.text]", "[rule.later]\nuses = [\"nitrogen\"]\nfrom = \"09-01\"\nto = \"09-30\"\n[rule.text]", 1)
	assert.Empty(t, read(with))
	assert.Empty(t, read(strings.Replace(named, "September", "autumn", 1)))
	assert.Contains(t, read(strings.Replace(strings.Replace(with, `"wait"`, `"do"`, 1), `uses = []`, `uses = ["nitrogen"]`, 1)), "what is to be done now is not put off")
}

// What the law leaves open still meets the other gates: a storm holds it there too.
func TestWhatIsLeftOpenMeetsTheOtherGates(t *testing.T) {
	two := []law.Place{{Name: "Over", Chain: []string{"state"}}, {Name: "Under", Chain: []string{"state", "town"}}}
	laws := lawBook(t, record("state-act", "state", "2026-01-10", window("w", "12-01", "02-01", `"N"`)), record("town-code", "town", "2026-01-10", window("w", "06-01", "07-13", `"N"`)))
	said := func(rainMM float64) string {
		r := reading(t, growing(), forecastWeather(issue29, 0, 0, 0, rainMM, 0, 0, 0, 0), laws, two, turf.WarmSeason, rule("feed-now", "feed", "do", 50, `"nitrogen"`, feedDo))
		return says(answerOn(t, r, Feed).Lead.Say)
	}
	assert.Equal(t, "No nitrogen fertilizer in Under, Monday, July 13, by local rule; open elsewhere.", said(0))
	assert.Contains(t, said(60), "No nitrogen fertilizer in Under, Monday, July 13, by local rule. Otherwise: wait. Wait until the heavy rain of Wednesday, July 15 has passed")
}

// Law that an official alert brings turns in the week in which it holds, without days
// of its own; rain by a forecast is the storm gate's to lead with.
func TestEdgesOfLawThatTurns(t *testing.T) {
	turns := func(detail string) bool {
		week := law.PlaceWeek{}
		week.Days[2].Hits = []law.Hit{{Verdict: law.Closed, Detail: detail}}
		return ZoneLaw{Monday: week29.Monday(), Places: []PlaceLaw{{Homeowner: map[string]law.PlaceWeek{"N": week}}}}.turns([]string{Nitrogen})
	}
	assert.True(t, turns("alert"))
	assert.False(t, turns("rain"))
	assert.False(t, turns(""))
}
