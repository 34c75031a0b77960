package advice

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/message"
	"ligule/internal/season"
)

// Clauses on windows and events say themselves, and go by the computed calendar
// where enough years are on file, else by print.
func TestClausesOnWindowsAndEvents(t *testing.T) {
	_, catalogue := book(t)
	week, issue := weekOf(2026, 7, 15)
	long := walk(t, piedmont.livedFor(12, issue), week, grassFile(t, "bermuda"), "")
	short := walk(t, piedmont.lived(issue), week, grassFile(t, "bermuda"), "")
	none := walk(t, piedmont.lived(issue), week, grassFile(t, "bermuda"), "")
	none.Calendar, none.Lawn = nil, nil
	judge := func(in *Input, when string) RuleTrace {
		return rules(t, catalogue, rule("r", "mow", "do", 1, "", when))[0].judge(in, nil)
	}
	for _, c := range []struct {
		in   *Input
		when string
		want Truth
		says string
	}{
		{long, `window = { of = "feeding", is = ["open"] }`, Yes, "Feeding season: open through about "},
		{long, `window = { of = "feeding", is = ["ahead", "closed"] }`, No, "which is not not open yet or over"},
		{long, `window = { of = "dormancy", is = ["open"] }`, No, "Winter dormancy: opens about "},
		{long, `window = { of = "dormancy", opens_within = "14 days" }`, No, "opening within 14 days"},
		{long, `window = { of = "dormancy", opens_within = "200 days" }`, Yes, ""},
		{long, `window = { of = "feeding", closes_within = "200 days" }`, Yes, ""},
		{long, `window = { of = "grub-prevention", is = ["closed"] }`, No, ""},
		{long, `event = { event = "last-frost", after = "4 weeks" }`, Yes, "(asked: 28 days or more ago)"},
		{long, `event = { event = "last-frost", before = "0 days" }`, No, ""},
		{long, `event = { event = "soil-falling", level = "70 °F", depth = "5 cm", before = "6 weeks" }`, Yes, "Soil at 2 inches (5 cm) cools to 70 °F (21 °C): about "},
		{long, `event = { event = "soil-falling", level = "70 °F", depth = "5 cm", within = "10 days" }`, No, ""},
		{long, `event = { event = "date", on = "07-12", within = "0 days" }`, Yes, "July 12: July 12 (asked: within 0 days of it)"},
		{long, `event = [{ event = "date", on = "07-12", within = "0 days" }, { event = "date", on = "07-20", within = "0 days" }]`, No, ""},
		{short, `window = { of = "feeding", is = ["open"] }`, Yes, ""},
		{short, `event = { event = "first-frost", before = "6 weeks" }`, Unknown, "not known"},
		{none, `window = { of = "feeding", is = ["open"] }`, Unknown, "Feeding season: not known (asked: open)"},
		{none, `event = { event = "first-frost", before = "6 weeks" }`, Unknown, "not known"},
	} {
		trace := judge(c.in, c.when)
		assert.Equal(t, c.want, trace.Outcome, "%s: %v", c.when, trace.Clauses)
		require.NotEmpty(t, trace.Clauses)
		assert.Contains(t, says(trace.Clauses[0]), c.says, c.when)
		assert.NotContains(t, says(trace.Clauses[0]), "«")
	}
	r, ok := short.window(season.FeedingWindow)
	require.True(t, ok)
	assert.Contains(t, speak.Value(Stands(r, true)), "by the printed calendar", "four years are too few")
}

// Texts may print the window that the rule asks about.
func TestTextsOfWindows(t *testing.T) {
	week, issue := weekOf(2026, 7, 15)
	in := walk(t, piedmont.livedFor(12, issue), week, grassFile(t, "bermuda"), `
[[rule]]
id = "seed"
topic = "project"
verdict = "do"
weight = 5
uses = ["seed"]
[rule.when]
window = { of = "feeding", is = ["open"] }
[rule.text]
say = "{window}: {window_stands}."
why = "{window}: {window_stands}."
source = "own design"
`)
	a := answerOn(t, Read(in), Project)
	assert.Regexp(t, `^Feeding season: open through about \w+ \d+\.$`, says(a.Lead.Say), "the sentence that answers goes without ranges")
	assert.Regexp(t, `^Feeding season: open through about \w+ \d+( \(\w+ \d+ to \w+ \d+ in six years of ten\))?\.$`, says(a.Lead.Why))
}

func TestMistakesInClausesOnTheSeason(t *testing.T) {
	_, catalogue := book(t)
	for _, c := range []struct{ when, say, want string }{
		{`window = { of = "feding", is = ["open"] }`, "x", `did you mean "feeding"`},
		{`window = { of = "feeding" }`, "x", "it asks nothing of the window"},
		{`window = { of = "feeding", is = ["opened"] }`, "x", `did you mean "open"`},
		{`window = { of = "feeding", opens_within = "1.5 days" }`, "x", "0 to 200 days may be asked"},
		{`event = { event = "last-frost" }`, "x", "it asks nothing of the event"},
		{`event = { event = "last-frost", before = "1 day", after = "1 day" }`, "x", "more than one thing"},
		{`event = { event = "soil-rising", within = "1 day" }`, "x", "level: missing"},
		{`event = { event = "soil-risin", level = "50 °F", depth = "5 cm", within = "1 day" }`, "x", `did you mean "soil-rising"`},
		{`growth_index = { above = 0.1 }`, "{window}", "{window} is told of a window"},
	} {
		var list diag.List
		root, ok := diag.ReadTOML("r.toml", []byte(fmt.Sprintf("[[rule]]\nid = \"r\"\ntopic = \"mow\"\nverdict = \"look\"\nweight = 5\nuses = []\n[rule.when]\n%s\n[rule.text]\nsay = %q\nsource = \"own design\"\n", c.when, c.say)), &list)
		require.True(t, ok, c.when)
		ReadRules(root, catalogue, pests(t))
		require.Positive(t, list.Errors(), c.when)
		assert.Contains(t, list.Error(), c.want, c.when)
	}
}

// A window that opens within the forecast week by the forecast is told with its
// day; one that is only expected then, or opens later, with its date.
func TestEdgesOfAWindowThatOpensInTheForecast(t *testing.T) {
	stands := func(b season.Basis, days int) string {
		day := season.Moment{Outcome: season.Dated, Date: issue29.AddDays(days)}
		r := season.Reading{Phase: season.Ahead, Days: days, Instance: season.Instance{Opens: season.End{Basis: b, When: day, From: day, To: day}}}
		return says(message.Just(Stands(r, true)))
	}
	assert.Equal(t, "opens Thursday, July 16 if the forecast holds", stands(season.Forecast, 4))
	assert.Equal(t, "opens Sunday, July 19 if the forecast holds", stands(season.Forecast, 7))
	assert.Equal(t, "opens July 20, by the forecast", stands(season.Forecast, 8))
	assert.Equal(t, "opens about July 16", stands(season.Expected, 4))
}
