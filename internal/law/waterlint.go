package law

import (
	"slices"
	"strconv"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// LintWatering records what is wrong (errors) or due for attention (warnings)
// in watering laws as of a day. laws and jurisdictions are the fertilizer laws
// and the list they stand beside; they have passed [Lint]. What shows within
// one table is found by [ReadWaterRecord] already.
func LintWatering(records []*WaterRecord, laws []*Record, jurisdictions []Jurisdiction, asOf civil.Date, list *diag.List) {
	files, known := map[string]string{}, map[string]bool{}
	var bodies []string
	for _, r := range laws {
		files[r.ID] = r.Pos.File
		known[r.Jurisdiction] = true
		bodies = append(bodies, r.Jurisdiction)
	}
	for _, j := range jurisdictions {
		known[j.ID] = true
		bodies = append(bodies, j.ID)
	}
	for _, r := range records {
		if file, twice := files[r.ID]; twice && r.ID != "" {
			list.Errorf(r.place("id"), "give each record its own id", "the id %q is that of %s already", r.ID, file)
			continue
		}
		files[r.ID] = r.Pos.File
		if r.Jurisdiction != "" && !known[r.Jurisdiction] {
			remedy := diag.DidYouMean(r.Jurisdiction, bodies)
			if remedy == "" {
				remedy = "add it to the list of jurisdictions"
			}
			list.Errorf(r.place("jurisdiction"), remedy, "unknown jurisdiction %q", r.Jurisdiction)
		}
		l := waterLinter{linter{list: list, asOf: asOf}, r}
		l.dates()
		l.orders()
		l.numbers()
		for i := range r.Schedules {
			if w := r.Schedules[i].When; w != nil && !w.DST && w.Annual.FromAnchor.valid() && w.Annual.ToAnchor.valid() {
				l.window(&Record{Verification: r.Verification}, &w.Annual)
			}
		}
		if r.SourceURL == "" {
			list.Warnf(r.place("citation"), "add source_url", "it does not say where the law can be read")
		}
	}
}

type waterLinter struct {
	linter
	r *WaterRecord
}

func (l *waterLinter) dates() {
	r := l.r
	if !r.EffectiveTo.IsZero() && r.EffectiveTo < r.EffectiveFrom {
		l.list.Errorf(r.place("effective_to"), "put it on or after "+r.EffectiveFrom.String(), "%s is before effective_from", r.EffectiveTo)
	}
	l.nearDates(r.place("effective_from"), "takes effect", r.EffectiveFrom)
	l.nearDates(r.place("effective_to"), "ends", r.EffectiveTo)
	if r.CheckedOn.IsZero() {
		return
	}
	if r.CheckedOn > l.asOf {
		l.list.Errorf(r.place("checked_on"), "correct the date", "checked on %s, after %s", r.CheckedOn, l.asOf)
	}
	switch next := r.NextReview(); {
	case r.Stale(l.asOf):
		l.list.Warnf(r.place("checked_on"), "read the law again, then move checked_on", "stale since %s: it closes but no longer clears", next.AddDays(1))
	case next <= l.asOf.AddDays(dueDays):
		l.list.Warnf(r.place("checked_on"), "read the law again, then move checked_on", "review due by %s", next)
	}
}

// orders checks declared stages against each other and against the calendar.
func (l *waterLinter) orders() {
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
		if o.AssumeUntil.IsZero() || later {
			continue
		}
		switch {
		case o.AssumeUntil < l.asOf:
			l.list.Warnf(o.Pos, "find out, then add to or move assume_until", "stage %d was assumed on until %s: now unknown", o.Stage, o.AssumeUntil)
		case o.AssumeUntil <= l.asOf.AddDays(dueDays):
			l.list.Warnf(o.Pos, "find out, then add to or move assume_until", "stage %d is assumed on until %s", o.Stage, o.AssumeUntil)
		}
	}
}

// numbers finds house numbers that a law leaves without days, and lots that it
// does not place.
func (l *waterLinter) numbers() {
	byNumber := l.r.CalendarParity
	check := func(pos diag.Pos, what string, list []WaterDays) {
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
		check(s.Pos, "stage "+strconv.Itoa(s.N), s.Days)
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
