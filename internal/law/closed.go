package law

import (
	"cmp"
	"slices"

	"ligule/internal/civil"
)

// ClosedSpans returns the days of a place that are closed by the calendar for
// a nutrient (N, P, or "" for a fertilizer without either), from one day
// through another: the union over all its laws, each named for its part. It
// asks for a product of which only the nutrient is known; closings by weather,
// distance or rate are not among them. Every day, before or after asOf, is
// judged by what can be relied on as of that one day: an upper law past its
// review displaces nothing, neither from then on nor earlier. A zero asOf
// stands for the first day asked about.
func (b *Book) ClosedSpans(place Place, actor Actor, nutrient string, from, to, asOf civil.Date) []Span {
	if asOf.IsZero() {
		asOf = from
	}
	q := Question{Place: place, Actor: actor, AsOf: asOf, Product: ProductOf(nutrient)}
	q.Date = from
	var spans []Span
	// From one step to the day before the next all days are alike.
	steps := append(b.steps(&q, from, to), to+1)
	for _, next := range steps {
		first, last := q.Date, next-1
		q.Date = next
		at := q
		at.Date = first
		if first > last || !b.closed(&at) {
			continue
		}
		if n := len(spans); n == 0 || spans[n-1].Last != first-1 {
			spans = append(spans, Span{First: first})
		}
		s := &spans[len(spans)-1]
		s.Last = last
		for _, h := range b.Ask(at).Closed() {
			s.cover(h, first, last)
		}
	}
	for i := range spans {
		slices.SortStableFunc(spans[i].Laws, func(x, y SpanLaw) int { return cmp.Compare(x.First, y.First) })
	}
	return spans
}

// cover adds days that a rule closes.
func (s *Span) cover(h Hit, first, last civil.Date) {
	for i := range s.Laws {
		l := &s.Laws[i]
		if l.Record == h.Record && l.Rule == h.Rule && l.Last >= first-1 {
			l.Last = last
			return
		}
	}
	s.Laws = append(s.Laws, SpanLaw{Record: h.Record, Rule: h.Rule, First: first, Last: last})
}
