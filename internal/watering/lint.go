package watering

import (
	"cmp"
	"slices"
	"strconv"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
)

// Lint records what is wrong (errors) or due for attention (warnings) in watering
// laws as of a day. laws and jurisdictions are the fertilizer laws and the list
// that they stand beside; they have passed [law.Lint]. What shows within one table
// is found by [ReadRecord] already.
func Lint(records []*Record, laws []*law.Record, jurisdictions []law.Jurisdiction, asOf civil.Date, list *diag.List) {
	files, known, levels := map[string]string{}, map[string]bool{}, map[string]string{}
	var bodies []string
	for _, r := range laws {
		files[r.ID] = r.Pos.File
		known[r.Jurisdiction] = true
		bodies = append(bodies, r.Jurisdiction)
	}
	for _, j := range jurisdictions {
		known[j.ID], levels[j.ID] = true, j.Level
		bodies = append(bodies, j.ID)
	}
	for _, r := range records {
		if file, twice := files[r.ID]; twice && r.ID != "" {
			list.Errorf(r.PosOf("id"), "give each record its own id", "the id %q is that of %s already", r.ID, file)
			continue
		}
		files[r.ID] = r.Pos.File
		if r.Jurisdiction != "" && !known[r.Jurisdiction] {
			remedy := cmp.Or(diag.DidYouMean(r.Jurisdiction, bodies), "add it to the list of jurisdictions")
			list.Errorf(r.PosOf("jurisdiction"), remedy, "unknown jurisdiction %q", r.Jurisdiction)
		}
		l := linter{r, list, asOf}
		r.LintScope(levels[r.Jurisdiction], list)
		r.Lint(true, true, asOf, list)
		l.orders()
		l.numbers()
		for i := range r.Schedules {
			if w := r.Schedules[i].When; w != nil && !w.DST {
				law.LintAnnual(&w.Annual, r.Verification, list)
			}
		}
		if r.SourceURL == "" {
			list.Warnf(r.PosOf("citation"), "add source_url", "it does not say where the law can be read")
		}
	}
}

type linter struct {
	r    *Record
	list *diag.List
	asOf civil.Date
}

// orders checks declared stages against each other and against the calendar.
func (l *linter) orders() {
	for i, o := range l.r.Declared {
		if o.From < l.r.EffectiveFrom {
			l.list.Errorf(o.Pos, "correct one of them", "the order begins on %s, before the law takes effect", o.From)
		}
		for _, x := range l.r.Declared[:i] {
			if x.From == o.From {
				l.list.Errorf(o.Pos, "keep one", "two orders begin on %s", o.From)
			}
		}
		later := slices.ContainsFunc(l.r.Declared, func(x DeclaredStage) bool { return x.From > o.From })
		if !later {
			law.LintOrder(o.Pos, stageName(o.Stage), o.AssumeUntil, l.asOf, l.list)
		}
	}
}

// numbers finds house numbers that a law leaves without days, and lots that it
// does not place.
func (l *linter) numbers() {
	byNumber := l.r.CalendarParity
	check := func(pos diag.Pos, what string, list []Days) {
		parity, digit := numbering(list)
		byNumber = byNumber || parity || digit
		if !parity && !digit {
			return
		}
		for d := range 10 {
			if _, listed, _ := (lot{digit: d, known: true}).days(list); !listed {
				l.list.Warnf(pos, "add the days of its group", "%s: number %d has no days, so it is open on all", what, d)
				return
			}
		}
	}
	for i := range l.r.Schedules {
		s := &l.r.Schedules[i]
		check(s.Pos, "schedule "+strconv.Quote(s.ID), s.Days)
	}
	for i := range l.r.Stages {
		s := &l.r.Stages[i]
		check(s.Pos, stageName(s.N), s.Days)
	}
	if !byNumber {
		return
	}
	if l.r.NoNumber == "" {
		l.list.Warnf(l.r.Pos, "add no_number if the law says", "it does not say when a lot without a number waters: not cleared")
	}
	if l.r.LetterSuffix == "" {
		l.list.Warnf(l.r.Pos, `add letter_suffix, such as "ignore", if the law says`, "it does not say what a number such as 12B counts as: not cleared")
	}
}
