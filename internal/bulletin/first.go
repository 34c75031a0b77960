package bulletin

import (
	"slices"

	"ligule/internal/advice"
)

// first picks the one thing to do: the heaviest "do", else the heaviest "look",
// ties by the order of grasses and topics. It is the id of the answer; "" if
// there is neither.
func first(grasses []*Grass) string {
	rank := func(a *Answer) int { return slices.Index([]string{string(advice.Look), string(advice.Do)}, a.Verdict) }
	best := &Answer{}
	for _, g := range grasses {
		for _, a := range g.Answers {
			if rank(a) > rank(best) || rank(a) >= 0 && rank(a) == rank(best) && a.Weight > best.Weight {
				best = a
			}
		}
	}
	return best.ID
}
