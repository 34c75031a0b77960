package pest

import "math"

// Progress returns how far the weed or insect has come on the last day before
// the issue, and what the forecast brings.
func (a *Account) Progress(in *Input) Progress { return a.ProgressAt(in.Felt, in.Issue) }

// Assess returns what the weed comes to at the issue.
func (w *Weed) Assess(in *Input) Assessment {
	return w.assess("weed", in, func() Progress { return w.Progress(in) })
}

// AssessFrom is Assess for a progress that is known.
func (w *Weed) AssessFrom(in *Input, p Progress) Assessment {
	return w.assess("weed", in, func() Progress { return p })
}

// Assess returns what the insect comes to at the issue. A stage opens scouting:
// only a count against a [Threshold] leads on, or a lawn's history where
// Insect.Lasting says so.
func (i *Insect) Assess(in *Input) Assessment {
	return i.assess("insect", in, func() Progress { return i.Progress(in) })
}

// AssessFrom is Assess for a progress that is known.
func (i *Insect) AssessFrom(in *Input, p Progress) Assessment {
	return i.assess("insect", in, func() Progress { return p })
}

// assess grades by the stage: its own level, moved by one where a shift holds,
// raised from watch to act where it was found in the last 400 days, and never
// above watch on a grass that has it only now and then, or while a treatment on
// record still counts. A quiet stage stays quiet, whatever was found: it is the
// wrong time. Own design.
func (a *Account) assess(kind string, in *Input, progress func() Progress) Assessment {
	nan := math.NaN()
	out := Assessment{ID: a.ID, Kind: kind, Score: nan, Observed: nan, Ahead: nan, Percentile: nan}
	out.Host, _ = a.Host(in.Grass.ID)
	if out.Host <= NoHost {
		return out
	}
	out.HasForecast = !in.Felt.View.ForecastIssued.IsZero()
	log := logOf(a.ID, in)
	out.Reported = log.confirmed(in.Issue)
	out.History = log.history(in.Issue)
	out.ProtectedUntil = log.protectedUntil(in.Issue)
	if !a.Weekly {
		out.Invalid = InvalidPageOnly
		return out
	}
	p := progress()
	if out.Invalid = p.Invalid; p.Invalid != "" {
		return out
	}
	if out.Known = p.Known; !p.Known {
		out.Lacks = p.Lacks
		return out
	}
	t := a.TimingAt(in.Felt.View.Station)
	out.Window, out.WindowSince = t.window(p.Index), p.Since
	out.Grade = p.level()
	if out.Grade == Watch && (out.Reported || out.History || log.recorded(in.Issue)) {
		out.Grade = Act
	}
	if out.Host == MinorHost || out.ProtectedUntil >= in.Issue {
		out.Grade = min(out.Grade, Watch)
	}
	return out
}

// level returns the grade of the stage with its shifts. Several shifts in one
// direction count once.
func (p *Progress) level() Grade {
	g := gradeOf(p.Stage.Level)
	up, down := false, false
	for _, s := range p.Shifts {
		up, down = up || s.Up, down || !s.Up
	}
	switch {
	case up && !down && g < Act:
		return g + 1
	case down && !up && g > Quiet:
		return g - 1
	}
	return g
}

func gradeOf(word string) Grade {
	switch word {
	case Act.String():
		return Act
	case Watch.String():
		return Watch
	}
	return Quiet
}

// window says whether a stage lies before, in or after the stages that ask for
// attention. Between two of them it is "after" the first.
func (t *Timing) window(stage int) string {
	if gradeOf(t.Stages[stage].Level) > Quiet {
		return WindowOpen
	}
	for _, s := range t.Stages[:stage] {
		if gradeOf(s.Level) > Quiet {
			return WindowAfter
		}
	}
	return WindowBefore
}

// logOf returns what reports and treatments of the zone say of a pest on the
// grass.
func logOf(id string, in *Input) diseaseLog {
	var l diseaseLog
	mine := func(grass string) bool { return grass == "" || grass == in.Grass.ID }
	for _, r := range in.Reports {
		if r.Finding == id && mine(r.Grass) && r.Date < in.Issue {
			l.finds = append(l.finds, r)
		}
	}
	for _, t := range in.Treatments {
		if t.Target == id && mine(t.Grass) && t.Date < in.Issue {
			l.treats = append(l.treats, t)
		}
	}
	return l
}
