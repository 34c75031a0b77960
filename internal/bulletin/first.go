package bulletin

import (
	"cmp"
	"slices"

	"ligule/internal/advice"
)

// first picks the one thing of the week: by the order of urgencies, then what is
// to be done before what is to be looked at, then the heaviest, then the order of
// grasses and topics. Law and danger speak whatever they say; of the rest only
// what asks for something. It is the id of the answer; "" for none.
func first(grasses []*Grass) string {
	var best *Answer
	for _, g := range grasses {
		for _, a := range g.Answers {
			if leads(a) && (best == nil || before(a, best) < 0) {
				best = a
			}
		}
	}
	if best == nil {
		return ""
	}
	return best.ID
}

// leads reports whether an answer may be the first thing of a week.
func leads(a *Answer) bool {
	switch advice.Urgency(a.Urgency) {
	case advice.ByLaw, advice.ByDanger:
		return true
	case advice.Optional:
		return false
	}
	return asks(a) < 2
}

// asks is 0 for what is to be done, 1 for what is to be looked at, else 2.
func asks(a *Answer) int {
	switch advice.Verdict(a.Verdict) {
	case advice.Do:
		return 0
	case advice.Look:
		return 1
	}
	return 2
}

// before orders two answers that may lead.
func before(a, b *Answer) int {
	rank := func(x *Answer) int { return slices.Index(advice.Urgencies(), advice.Urgency(x.Urgency)) }
	return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(asks(a), asks(b)), cmp.Compare(b.Weight, a.Weight))
}
