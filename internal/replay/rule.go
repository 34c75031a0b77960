package replay

import (
	"cmp"
	"maps"
	"slices"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
)

// Rule is how often the advice of a rule fired, of one pest where it speaks of
// pests.
type Rule struct {
	ID    string     `json:"id"`
	Pest  string     `json:"pest,omitempty"`
	Topic string     `json:"topic"`
	Years []RuleYear `json:"years"` // in which it fired
}

// RuleYear counts the weeks of a year in which a rule fired.
type RuleYear struct {
	Year  int `json:"year"`
	Weeks int `json:"weeks"`

	// What its advice came to after the gates; together they are Weeks.
	Do     int `json:"do"`
	Wait   int `json:"wait"`
	Skip   int `json:"skip"`
	Look   int `json:"look"`
	Closed int `json:"closed"`

	Answered int        `json:"answered"` // it was the topic's answer, by itself or as what a gate made of it
	Stopped  int        `json:"stopped"`  // a gate stopped it
	First    civil.Week `json:"first"`
	Last     civil.Week `json:"last"`
}

// Total adds up the years.
func (r *Rule) Total() RuleYear {
	var t RuleYear
	for _, y := range r.Years {
		t.Weeks += y.Weeks
		t.Answered += y.Answered
		t.Stopped += y.Stopped
		t.Do += y.Do
		t.Wait += y.Wait
		t.Skip += y.Skip
		t.Look += y.Look
		t.Closed += y.Closed
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
				r = &Rule{ID: s.rule.rule, Pest: s.rule.pest.ID, Topic: s.rule.topic}
				by[s.rule] = r
				fired = append(fired, r)
			}
			r.count(t.week, s)
		}
		for _, id := range g.silent {
			quiet[id] = true
		}
	}
	topics := bulletin.Topics()
	place := func(r *Rule) int {
		return slices.IndexFunc(topics, func(t bulletin.Topic) bool { return t.ID == r.Topic })
	}
	slices.SortFunc(fired, func(a, b *Rule) int {
		return cmp.Or(place(a)-place(b), cmp.Compare(a.ID, b.ID), cmp.Compare(a.Pest, b.Pest))
	})
	for _, r := range fired {
		delete(quiet, r.ID)
	}
	return fired, slices.Sorted(maps.Keys(quiet))
}

func (r *Rule) count(w civil.Week, s spoken) {
	if n := len(r.Years); n == 0 || r.Years[n-1].Year != w.Year {
		r.Years = append(r.Years, RuleYear{Year: w.Year, First: w})
	}
	y := &r.Years[len(r.Years)-1]
	y.Weeks++
	y.Last = w
	switch s.verdict {
	case "do":
		y.Do++
	case "wait":
		y.Wait++
	case "skip":
		y.Skip++
	case "look":
		y.Look++
	case "closed":
		y.Closed++
	}
	if s.led {
		y.Answered++
	}
	if s.gate != "" {
		y.Stopped++
	}
}
