package bulletin

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/advice"
)

// The one thing this week is the heaviest that asks for something.
func TestFirstIsTheHeaviestThingToDo(t *testing.T) {
	answer := func(v advice.Verdict, weight int, id string) *Answer {
		return &Answer{ID: id, Draft: Draft{Verdict: string(v)}, Weight: weight}
	}
	grass := func(all ...*Answer) *Grass { return &Grass{Answers: all} }
	for name, c := range map[string]struct {
		grasses []*Grass
		want    string
	}{
		"do beats a heavier look": {[]*Grass{grass(answer(advice.Look, 90, "a"), answer(advice.Do, 10, "b"))}, "b"},
		"the heavier do":          {[]*Grass{grass(answer(advice.Do, 10, "a")), grass(answer(advice.Do, 20, "b"))}, "b"},
		"the first of equals":     {[]*Grass{grass(answer(advice.Do, 10, "a")), grass(answer(advice.Do, 10, "b"))}, "a"},
		"a look without a do":     {[]*Grass{grass(answer(advice.Skip, 90, "a"), answer(advice.Look, 10, "b"), answer(advice.Closed, 99, "c"))}, "b"},
		"nothing":                 {[]*Grass{grass(answer(advice.Wait, 90, "a"), answer(advice.NotEnough, 0, "b"))}, ""},
	} {
		assert.Equal(t, c.want, first(c.grasses), name)
	}
}

// The order of the week's one thing: the law that turns, danger, what cannot wait,
// what the weather asks, then routine; law and danger lead whatever they say,
// projects never.
func TestEdgesOfTheOrderOfTheFirstThing(t *testing.T) {
	answer := func(u advice.Urgency, v advice.Verdict, weight int) *Answer {
		return &Answer{ID: string(u), Urgency: string(u), Draft: Draft{Verdict: string(v)}, Weight: weight}
	}
	all := []*Answer{
		answer(advice.Optional, advice.Do, 100), answer(advice.Routine, advice.Do, 90), answer(advice.ByWeather, advice.Do, 80),
		answer(advice.ByDeadline, advice.Look, 30), answer(advice.ByDanger, advice.Wait, 20), answer(advice.ByLaw, advice.Closed, 0),
	}
	for n := len(all); n > 0; n-- {
		want := all[n-1].ID
		if n == 1 {
			want = ""
		}
		assert.Equal(t, want, first([]*Grass{{Answers: all[:n]}}), "%d", n)
	}
	for _, u := range []advice.Urgency{advice.ByDeadline, advice.ByWeather, advice.Routine} {
		assert.Empty(t, first([]*Grass{{Answers: []*Answer{answer(u, advice.Wait, 9), answer(u, advice.Skip, 9), answer(u, advice.Closed, 9)}}}), u)
	}
	look, do := answer(advice.ByWeather, advice.Look, 90), answer(advice.ByWeather, advice.Do, 10)
	do.ID = "do"
	assert.Equal(t, "do", first([]*Grass{{Answers: []*Answer{look}}, {Answers: []*Answer{do}}}), "what is to be done goes before what is looked at")
}
