package stage

import (
	"math"
	"slices"

	"ligule/internal/pest"
)

// Progress returns how far the weed or insect has come on the last day before
// the issue, and what the forecast brings. It is the same for all grasses.
func (a *Account) Progress(in *pest.Input) Progress {
	if !a.Range.Holds(in) {
		return Progress{Invalid: pest.InvalidRange}
	}
	return pest.Kept(in, a, func() Progress { return a.ProgressAt(in.Felt, in.Issue) })
}

// Assess returns what the weed or insect comes to at the issue. A stage of an
// insect opens scouting: only a count against a [Threshold] leads on, or a lawn's
// history where Insect.Lasting says so.
//
// It grades by the stage: its own level, moved by one where a shift holds, raised
// from watch to act on the very lawn where it was found in the last 400 days, and
// never above watch on a grass that has it only now and then, or on that lawn while
// a treatment on record still counts. A quiet stage stays quiet, whatever was found:
// it is the wrong time, unless it is the one in which it can be kept from coming:
// then a find makes it watch for the zone, and act on that lawn. Own design.
func (a *Account) Assess(in *pest.Input) pest.Assessment {
	nan := math.NaN()
	out := pest.Assessment{ID: a.ID, Score: nan, Observed: nan, Ahead: nan, Percentile: nan}
	out.Host, _ = a.Host(in.Grass.ID)
	if out.Host <= pest.NoHost {
		return out
	}
	out.HasForecast = !in.Felt.View.ForecastIssued.IsZero()
	log := in.Log(a.ID)
	out.Reported, out.Due = log.Confirmed(in.Issue), log.Due(in.Issue)
	out.History = log.History(in.Issue)
	out.ProtectedUntil = log.ProtectedUntil(in.Issue)
	if !a.Weekly {
		out.Invalid = pest.InvalidPageOnly
		return out
	}
	p := a.Progress(in)
	if out.Invalid = p.Invalid; p.Invalid != "" {
		return out
	}
	if out.Known = p.Known; !p.Known {
		out.Lacks = p.Lacks
		return out
	}
	t := a.TimingAt(in.Felt.View.Station)
	out.Window, out.Since = t.window(p.Index), p.First
	out.Grade = p.level()
	found := out.Reported || out.History || log.Recorded(in.Issue)
	out.Hidden = found && p.Stage.Prevents
	switch {
	case in.Lawn && (found && out.Grade == pest.Watch || out.Hidden):
		out.Grade = pest.Act
	case out.Hidden:
		out.Grade = max(out.Grade, pest.Watch)
	}
	if out.Host == pest.MinorHost || in.Lawn && out.ProtectedUntil >= in.Issue {
		out.Grade = min(out.Grade, pest.Watch)
	}
	return out
}

// level returns the grade of the stage with its shifts. Several shifts in one
// direction count once.
func (p *Progress) level() pest.Grade {
	g := gradeOf(p.Stage.Level)
	up, down := false, false
	for _, s := range p.Shifts {
		up, down = up || s.Up, down || !s.Up
	}
	switch {
	case up && !down && g < pest.Act:
		return g + 1
	case down && !up && g > pest.Quiet:
		return g - 1
	}
	return g
}

func gradeOf(word string) pest.Grade {
	return pest.Grade(max(0, slices.Index(pest.Grades(), word)))
}

// window says whether a stage lies before, in or after the stages that ask for
// attention. Between two of them it is "after" the first.
func (t *Timing) window(stage int) string {
	if gradeOf(t.Stages[stage].Level) > pest.Quiet {
		return pest.WindowOpen
	}
	for _, s := range t.Stages[:stage] {
		if gradeOf(s.Level) > pest.Quiet {
			return pest.WindowAfter
		}
	}
	return pest.WindowBefore
}
