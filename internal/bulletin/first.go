package bulletin

import "ligule/internal/advice"

// first picks the one thing to do: the heaviest "do", else the heaviest "look",
// ties by the order of grasses and topics. It is the id of the answer; "" if
// there is neither.
func first(grasses []*Grass) string {
	for _, verdict := range []advice.Verdict{advice.Do, advice.Look} {
		var best *Answer
		for _, g := range grasses {
			for _, a := range g.Answers {
				if a.Verdict == string(verdict) && (best == nil || a.Weight > best.Weight) {
					best = a
				}
			}
		}
		if best != nil {
			return best.ID
		}
	}
	return ""
}
