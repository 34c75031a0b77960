package pest

import (
	"slices"

	"ligule/internal/civil"
)

// How long what was found counts. Own design.
const (
	sameSeasonDays = 60 // either side of the date, in each of the last two years
	historyYears   = 2
	recordedDays   = 400 // a find at any time of the year, for soil-timed seasons
	standingWeeks  = 3
	standingFrom   = 7 // July
	standingTo     = 9 // September
	protectionDays = 14
)

// Log is what the reports and treatments of a zone say of one pest on one
// grass.
type Log struct {
	finds  []Report    // positive ones of this pest
	clean  civil.Date  // of the last look at one lawn that found nothing
	wet    []Report    // with standing water
	grown  []Report    // those of them on grass that grew
	treats []Treatment // against this pest
}

// Log reads the log of the pest of the id.
func (in *Input) Log(id string) Log {
	var l Log
	mine := func(grass string) bool { return grass == "" || grass == in.Grass.ID }
	for _, r := range in.Reports {
		if !mine(r.Grass) || r.Date >= in.Issue {
			continue
		}
		switch {
		case r.Finding == id:
			l.finds = append(l.finds, r)
		case in.Lawn && r.Finding == FoundNone && r.Place != "":
			l.clean = r.Date
		}
		if r.StandingWater {
			l.wet = append(l.wet, r)
			if in.Daily != nil && in.Daily.StateAt(r.Date).Grows() {
				l.grown = append(l.grown, r)
			}
		}
	}
	for _, t := range in.Treatments {
		if mine(t.Grass) && t.Date < in.Issue && t.Target == id {
			l.treats = append(l.treats, t)
		}
	}
	return l
}

// Confirmed reports whether a confirmed find stands at the issue.
func (l *Log) Confirmed(issue civil.Date) bool {
	return slices.ContainsFunc(l.finds, func(r Report) bool {
		return r.Confirmed && r.Stands(issue) && r.Date >= l.clean
	})
}

// History reports whether it was found in the same season of the last two years.
func (l *Log) History(issue civil.Date) bool {
	return slices.ContainsFunc(l.finds, func(r Report) bool {
		for y := 1; y <= historyYears; y++ {
			at := issue.AddMonths(-12 * y)
			if r.Date >= at.AddDays(-sameSeasonDays) && r.Date <= at.AddDays(sameSeasonDays) && r.Date < issue {
				return true
			}
		}
		return false
	})
}

// Ever reports whether it was found at any time of the last two years.
func (l *Log) Ever(issue civil.Date) bool {
	return slices.ContainsFunc(l.finds, func(r Report) bool {
		return r.Date < issue && r.Date >= issue.AddMonths(-12*historyYears).AddDays(-sameSeasonDays)
	})
}

// Due reports whether the last find has just grown too old to speak of the present.
func (l *Log) Due(issue civil.Date) bool {
	last := l.Last()
	return last != nil && last.Due(issue) && last.Date >= l.clean
}

// Standing returns the last find, if it speaks of the present and no later look at
// the lawn found nothing, and the finds before it.
func (l *Log) Standing(issue civil.Date) (last *Report, before []Report) {
	last = l.Last()
	if last == nil || !last.Stands(issue) || last.Date < l.clean {
		return nil, nil
	}
	return last, l.finds[:len(l.finds)-1]
}

// Last is the last find; nil without any.
func (l *Log) Last() *Report {
	if len(l.finds) == 0 {
		return nil
	}
	return &l.finds[len(l.finds)-1]
}

// Recorded reports whether it was found at any time of the last 400 days.
func (l *Log) Recorded(issue civil.Date) bool {
	return slices.ContainsFunc(l.finds, func(r Report) bool {
		return r.Date < issue && r.Date >= issue.AddDays(-recordedDays)
	})
}

// StoodWet reports whether water stood in three different weeks or more of the
// July to September before the issue, or of the one that it falls into.
func (l *Log) StoodWet(issue civil.Date) bool {
	year := issue.Year()
	if issue.Month() < standingFrom {
		year--
	}
	weeks := 0
	var last civil.Week
	for _, r := range l.wet {
		if m := r.Date.Month(); r.Date >= issue || r.Date.Year() != year || m < standingFrom || m > standingTo {
			continue
		}
		if w := r.Date.Week(); w != last {
			last = w
			weeks++
		}
	}
	return weeks >= standingWeeks
}

// Wet is the last look of the 400 days before the issue at which water stood on
// growing grass; nil without any.
func (l *Log) Wet(issue civil.Date) *Report {
	for i := len(l.grown) - 1; i >= 0; i-- {
		if r := &l.grown[i]; r.Date < issue && r.Date >= issue.AddDays(-recordedDays) {
			return r
		}
	}
	return nil
}

// ProtectedUntil returns the last day of the interval of the treatments before
// the issue; the zero Date without any.
func (l *Log) ProtectedUntil(issue civil.Date) civil.Date {
	var until civil.Date
	for _, t := range l.treats {
		if t.Date >= issue {
			continue
		}
		days := t.IntervalDays
		if days == 0 {
			days = protectionDays
		}
		until = max(until, t.Date.AddDays(days))
	}
	return until
}
