package replay

import (
	"cmp"
	"slices"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/message"
)

// StateYear counts the weeks of a year in which a grass was in a state.
type StateYear struct {
	State       string // its code; "" is not enough weather to say
	Year, Weeks int
	First, Last civil.Week
}

// StateYears counts the weeks in each state, by year, then from
// dormant over growing to resting, those that cannot be told last.
func (g *Grass) StateYears() []StateYear {
	var out []StateYear
	for _, s := range g.States {
		i := slices.IndexFunc(out, func(y StateYear) bool { return y.Year == s.Week.Year && y.State == s.State })
		if i < 0 {
			i = len(out)
			out = append(out, StateYear{State: s.State, Year: s.Week.Year, First: s.Week})
		}
		out[i].Weeks++
		out[i].Last = s.Week
	}
	order := stateOrder()
	slices.SortFunc(out, func(a, b StateYear) int {
		return cmp.Or(a.Year-b.Year, slices.Index(order, a.State)-slices.Index(order, b.State))
	})
	return out
}

// StateRun is a run of weeks in one state.
type StateRun struct {
	State
	First, Last civil.Week
}

// Runs puts the weeks of a year together where the state stays.
func (g *Grass) Runs(year int) []StateRun {
	var out []StateRun
	for _, s := range g.States {
		if s.Week.Year != year {
			continue
		}
		if n := len(out); n > 0 && out[n-1].State.State == s.State {
			out[n-1].Last = s.Week
			continue
		}
		out = append(out, StateRun{s, s.Week, s.Week})
	}
	return out
}

// stateOrder is the course of a year, with what cannot be told at the end.
func stateOrder() []string { return append(bulletin.States(), "") }

// stateWord is a state as it is printed, nil for what cannot be told.
func stateWord(code string) *message.Said {
	if code == "" {
		return nil
	}
	return just(message.Word("growth_state." + code).Lowered())
}
