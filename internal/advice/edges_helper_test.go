package advice

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/watering"
	"ligule/internal/weather"
)

// What the tests of edges share. An edge is tested through the reading, on both
// sides, and held by verdicts, gates and ids of reasons: never by words.

// edgeDesk holds what every case needs and none changes, once it has been read.
var edgeDesk struct {
	cautions  []Caution
	catalogue *Catalogue
	open      *law.Book
}

// lawnAt is a bermudagrass lawn that grows, in fair weather with a forecast
// through the week, where the law closes nothing. The rule asks to feed. A case
// changes what it is about.
func lawnAt(t testing.TB, changes ...func(*Input)) *Input {
	t.Helper()
	if d := &edgeDesk; d.open == nil {
		d.cautions, d.catalogue = book(t)
		d.open = lawBook(t, record("open", "state", "2026-01-10", window("winter", "12-01", "02-01", `"N"`)))
	}
	in := &Input{
		Week: week29, IssueDate: issue29, ZoneName: "Somewhere", Climate: "coast", Units: quantity.US,
		Grass: &turf.Profile{ID: "bermuda", Name: "Bermudagrass", Kind: turf.WarmSeason}, Daily: &turf.Daily{}, Felt: weatherOf(nil),
		Rules:    []*Rule{proposal(Feed, Nitrogen)},
		Cautions: edgeDesk.cautions, Catalogue: edgeDesk.catalogue,
	}
	grows(growing())(in)
	under(edgeDesk.open, onePlace...)(in)
	for _, change := range changes {
		change(in)
	}
	return in
}

// proposal is a rule that always proposes to do something.
func proposal(topic Topic, uses ...string) *Rule {
	return &Rule{ID: "proposal", Topic: topic, Verdict: Do, Weight: 50, Uses: uses, Say: "x", Source: "own design"}
}

// ruled replaces the rules.
func ruled(rules ...*Rule) func(*Input) { return func(in *Input) { in.Rules = rules } }

// using asks to put something down that is of no pest.
func using(uses ...string) func(*Input) { return ruled(proposal(Project, uses...)) }

// grows gives the lawn one state on all days.
func grows(g turf.Growth) func(*Input) { return grew(func(int) turf.Growth { return g }) }

// grew gives the lawn a state by days before the issue date.
func grew(of func(ago int) turf.Growth) func(*Input) {
	return func(in *Input) {
		in.grown = map[int]turf.Reading{}
		for ago := range 70 {
			in.grown[ago] = turf.Reading{RainFed: of(ago)}
		}
	}
}

// lies changes one thing about a growing lawn.
func lies(change func(*turf.Growth)) func(*Input) {
	g := growing()
	change(&g)
	return grows(g)
}

// under puts the lawn under a law at some places.
func under(b *law.Book, places ...law.Place) func(*Input) {
	return func(in *Input) {
		in.Law = AskLaw(b, watering.NewBook(nil, nil), places, in.Week, in.IssueDate, func(civil.Date) *law.Weather { return nil })
	}
}

// weatherOf is sixty days of fair weather before the issue date and nine of
// forecast from it on, through the Monday after the week, as a case changes
// them.
func weatherOf(change func(past, ahead *weather.Series)) *weather.Felt {
	const before, after = 60, 9
	past, ahead := weather.NewSeries(issue29.AddDays(-before), before), weather.NewSeries(issue29, after)
	for _, s := range []*weather.Series{past, ahead} {
		for d := s.Start; d <= s.End(); d++ {
			s.Set(weather.TmaxC, d, 31)
			s.Set(weather.TminC, d, 22)
			s.Set(weather.RainMM, d, 0)
		}
	}
	if change != nil {
		change(past, ahead)
	}
	return weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 33}, past, []weather.Forecast{{Issued: issue29, Days: ahead}}, issue29).Felt()
}

// weathered gives the lawn such weather.
func weathered(change func(past, ahead *weather.Series)) func(*Input) {
	return func(in *Input) { in.Felt = weatherOf(change) }
}

// rained forecasts rain, mm, from the issue date on.
func rained(mm ...float64) func(*Input) {
	return weathered(func(_, ahead *weather.Series) {
		for i, x := range mm {
			ahead.Set(weather.RainMM, ahead.Start.AddDays(i), x)
		}
	})
}

// cameTo is what a reading comes to on the topic of its first rule: the verdict,
// and where a gate gave it, the gate and its first reason.
func cameTo(t testing.TB, in *Input) string {
	t.Helper()
	return outcomeOf(answerOn(t, Read(in), in.Rules[0].Topic))
}

func outcomeOf(a Answer) string {
	if a.Lead.Gate == "" {
		return string(a.Verdict)
	}
	return strings.Join([]string{string(a.Verdict), a.Lead.Gate, codesOf(a.Lead.Reasons)[0]}, " ")
}

// keeps are the codes of what goes with a reading's answer, of one group of
// them: "gate.storm".
func keeps(t testing.TB, in *Input, group string) []string {
	t.Helper()
	codes := codesOf(answerOn(t, Read(in), in.Rules[0].Topic).Conditions)
	return slices.DeleteFunc(codes, func(c string) bool { return !strings.HasPrefix(c, group) })
}

// figure is a figure of a data file without its source.
func figure(x float64) pest.Figure { return pest.Figure{Value: x} }

// codesOf are the codes of reasons.
func codesOf(reasons []message.Message) []string { return ids(reasons) }

// edge is a case of a table: what it changes, and what it comes to.
type edge struct {
	name   string
	change func(*Input)
	want   string
}

func holdEdges(t *testing.T, edges []edge) {
	t.Helper()
	for _, e := range edges {
		t.Run(e.name, func(t *testing.T) { assert.Equal(t, e.want, cameTo(t, lawnAt(t, e.change))) })
	}
}

// both makes one change of several.
func both(changes ...func(*Input)) func(*Input) {
	return func(in *Input) {
		for _, change := range changes {
			change(in)
		}
	}
}

// valueOf is the value of an indicator in a reading.
func valueOf(t testing.TB, in *Input, name string) Value {
	t.Helper()
	for _, v := range Read(in).Values {
		if v.Indicator.Name == name {
			return v
		}
	}
	require.Fail(t, "no indicator "+name)
	return Value{}
}

// mistakes are those that a reader of a file records.
func mistakes(t testing.TB, text string, read func(*diag.Table)) string {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML("x.toml", []byte(text), &list)
	require.True(t, ok, list.Error())
	read(root)
	if list.Err() == nil {
		return ""
	}
	return list.Error()
}
