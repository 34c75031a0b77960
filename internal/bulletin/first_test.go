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
