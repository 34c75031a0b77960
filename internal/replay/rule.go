package replay

import (
	"cmp"
	"slices"

	"ligule/internal/advice"
	"ligule/internal/civil"
)

// Rule is how often the advice of a rule fired, of one pest where it speaks of
// pests.
type Rule struct {
	ID, Pest string
	Topic    advice.Topic
	Years    []RuleYear // in which it fired
}

// RuleYear counts the weeks of a year in which a rule fired.
type RuleYear struct {
	Year, Weeks int
	// Verdicts are what its advice came to after the gates, in the order of
	// [Verdicts]; together they are Weeks.
	Verdicts    [verdicts]int
	Answered    int // it was the topic's answer, by itself or as what a gate made of it
	Stopped     int // a gate stopped it
	First, Last civil.Week
}

const verdicts = 5

// Verdicts are what the advice of a rule can come to, in the order in which they
// are counted.
func Verdicts() [verdicts]advice.Verdict {
	return [...]advice.Verdict{advice.Do, advice.Wait, advice.Skip, advice.Look, advice.Closed}
}

// Total adds up the years.
func (r *Rule) Total() RuleYear {
	var t RuleYear
	for _, y := range r.Years {
		t.Weeks += y.Weeks
		t.Answered += y.Answered
		t.Stopped += y.Stopped
		for i, n := range y.Verdicts {
			t.Verdicts[i] += n
		}
		if t.First.IsZero() {
			t.First = y.First
		}
		t.Last = y.Last
	}
	return t
}

// rulesOf counts what rules said of a grass, and lists those that applied to it
// and never fired.
func rulesOf(told []toldWeek, pick func(toldWeek) toldGrass) (fired []*Rule, silent []string) {
	by := map[ruleKey]*Rule{}
	quiet := map[string]bool{}
	for _, t := range told {
		g := pick(t)
		for _, s := range g.spoken {
			r := by[s.rule]
			if r == nil {
				r = &Rule{ID: s.rule.rule, Pest: s.rule.pest, Topic: s.rule.topic}
				by[s.rule] = r
				fired = append(fired, r)
			}
			r.count(t.week, s)
		}
		for _, id := range g.silent {
			quiet[id] = true
		}
	}
	topics := advice.Topics()
	slices.SortFunc(fired, func(a, b *Rule) int {
		return cmp.Or(slices.Index(topics, a.Topic)-slices.Index(topics, b.Topic), cmp.Compare(a.ID, b.ID), cmp.Compare(a.Pest, b.Pest))
	})
	for _, r := range fired {
		delete(quiet, r.ID)
	}
	for id := range quiet {
		silent = append(silent, id)
	}
	slices.Sort(silent)
	return fired, silent
}

func (r *Rule) count(w civil.Week, s spoken) {
	if n := len(r.Years); n == 0 || r.Years[n-1].Year != w.Year {
		r.Years = append(r.Years, RuleYear{Year: w.Year, First: w})
	}
	y := &r.Years[len(r.Years)-1]
	y.Weeks++
	y.Last = w
	of := Verdicts()
	y.Verdicts[slices.Index(of[:], s.verdict)]++
	if s.led {
		y.Answered++
	}
	if s.gate != "" {
		y.Stopped++
	}
}
