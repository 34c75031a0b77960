package law

import (
	"cmp"
	"slices"

	"ligule/internal/civil"
)

// ClosedSpans returns the days of a place that are closed by the calendar for
// a nutrient (N, P, or "" for a fertilizer without either), from one day
// through another: the union over all its laws, each named for its part. It
// asks for a product of which only the nutrient is known, as of the first
// day; closings by weather, distance or rate are not among them.
func (b *Book) ClosedSpans(place Place, actor Actor, nutrient string, from, to civil.Date) []Span {
	q := Question{Place: place, Actor: actor, AsOf: from, Product: Product{Unknown: true}}
	if nutrient != "" {
		q.Product.Nutrients = []string{nutrient}
	}
	var spans []Span
	for q.Date = from; q.Date <= to; q.Date++ {
		if !b.closed(&q) {
			continue
		}
		if n := len(spans); n == 0 || spans[n-1].Last != q.Date-1 {
			spans = append(spans, Span{First: q.Date})
		}
		s := &spans[len(spans)-1]
		s.Last = q.Date
		for _, h := range b.Ask(q).Closed() {
			s.cover(h, q.Date)
		}
	}
	for i := range spans {
		slices.SortStableFunc(spans[i].Laws, func(x, y SpanLaw) int { return cmp.Compare(x.First, y.First) })
	}
	return spans
}

// cover adds a day that a rule closes.
func (s *Span) cover(h Hit, d civil.Date) {
	for i := range s.Laws {
		l := &s.Laws[i]
		if l.Record == h.Record && l.Rule == h.Rule && l.Last >= d-1 {
			l.Last = d
			return
		}
	}
	s.Laws = append(s.Laws, SpanLaw{Record: h.Record, Rule: h.Rule, First: d, Last: d})
}
