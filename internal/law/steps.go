package law

import (
	"slices"

	"ligule/internal/civil"
)

// steps returns, in order, the days after one day and through another on
// which the answer to a question can differ from that of the day before, the
// weather apart. Between two steps every day has the same answer, so that a
// year needs no more than a few dozen questions.
func (b *Book) steps(q *Question, after, through civil.Date) []civil.Date {
	s := stepper{after: after, through: through}
	if t := q.SoilTest; t != nil {
		s.add(t.Date)
	}
	for _, o := range q.Seasons {
		s.span(o.From, o.To)
	}
	for y := after.Year(); y <= through.Year(); y++ {
		if len(q.Seasons) > 0 {
			s.add(newYear(y)) // a stated season says nothing of other years
		}
	}
	for _, id := range q.Place.Chain {
		for _, rec := range b.byJurisdiction[id] {
			s.record(rec, q)
		}
	}
	slices.Sort(s.days)
	return slices.Compact(s.days)
}

func newYear(y int) civil.Date { return civil.MonthDay{Month: 1, Day: 1}.StartIn(y) }

type stepper struct {
	after, through civil.Date
	days           []civil.Date
}

func (s *stepper) add(d civil.Date) {
	if s.after < d && d <= s.through {
		s.days = append(s.days, d)
	}
}

// span adds the first day of a span and the day after its last.
func (s *stepper) span(first, last civil.Date) {
	s.add(first)
	if !last.IsZero() {
		s.add(last + 1)
	}
}

func (s *stepper) record(rec *Record, q *Question) {
	s.add(rec.EffectiveFrom - NewlyEffectiveDays)
	s.span(rec.EffectiveFrom, rec.EffectiveTo)
	for i := range rec.Declarations {
		d := &rec.Declarations[i]
		s.span(d.From, max(d.To, d.AssumeUntil))
	}
	for i := range rec.Rules {
		s.rule(&rec.Rules[i], q)
	}
}

func (s *stepper) rule(r *Rule, q *Question) {
	s.span(r.EffectiveFrom, r.EffectiveTo)
	if q.SoilTest != nil && r.SoilTestMaxAgeMonths > 0 {
		s.add(q.SoilTest.Date.AddMonths(r.SoilTestMaxAgeMonths) + 1)
	}
	if d := r.ExemptPlantingDays; d != nil && !q.Planted.IsZero() {
		s.span(q.Planted.AddDays(d.From), q.Planted.AddDays(d.To))
	}
	for i := range r.Overrides {
		o := &r.Overrides[i]
		s.span(bounds(o.From, o.To, o.Bounds))
	}
	for i := range r.When {
		w := &r.When[i]
		switch w.Kind {
		case "annual":
			if !w.FromAnchor.valid() || !w.ToAnchor.valid() {
				continue
			}
			for y := s.after.Year() - 2; y <= s.through.Year()+1; y++ {
				from, to := w.anchors(y)
				// Assumed edges are flagged on the anchor days themselves.
				s.span(from, from)
				s.span(to, to)
			}
		case "dates":
			s.span(bounds(w.From, w.To, w.Bounds))
		case "after_planting":
			if !q.Planted.IsZero() {
				s.span(q.Planted.AddDays(w.Days.From), q.Planted.AddDays(w.Days.To))
			}
		}
	}
}
