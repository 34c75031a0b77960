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
	q := Question{Place: place, Actor: actor, AsOf: cmp.Or(asOf, from), Product: ProductOf(nutrient)}
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

// YearAhead is how far around a stretch of days a closed season is followed.
const YearAhead = 366

// ClosedSeasons returns the closed spans that touch a stretch of days, each from
// its true first day, however long before the stretch that lies, and through its
// true last one if that lies within a year after.
func (b *Book) ClosedSeasons(place Place, actor Actor, nutrient string, from, to, asOf civil.Date) []Span {
	start := from.AddDays(-YearAhead)
	spans := b.ClosedSpans(place, actor, nutrient, start, to.AddDays(YearAhead), asOf)
	if len(spans) > 0 && spans[0].First == start && spans[0].Last >= from {
		// Nothing closes before its law takes effect.
		for _, l := range spans[0].Laws {
			if l.Record != nil {
				start = min(start, l.Record.EffectiveFrom)
			}
		}
		spans = b.ClosedSpans(place, actor, nutrient, start, to.AddDays(YearAhead), asOf)
	}
	return Touching(spans, from, to)
}

// Touching cuts the closed seasons of a longer stretch of days to those that touch
// a shorter one within it, as [Book.ClosedSeasons] returns them.
func Touching(spans []Span, from, to civil.Date) []Span {
	var out []Span
	horizon := to.AddDays(YearAhead)
	for _, s := range spans {
		if s.Last < from || s.First > to {
			continue
		}
		if s.Last > horizon {
			s.Last, s.Laws = horizon, slices.DeleteFunc(slices.Clone(s.Laws), func(l SpanLaw) bool { return l.First > horizon })
			for i := range s.Laws {
				s.Laws[i].Last = min(s.Laws[i].Last, horizon)
			}
		}
		out = append(out, s)
	}
	return out
}

// Equal reports whether two spans have the same days, closed by the same rules.
func (s Span) Equal(o Span) bool {
	return s.First == o.First && s.Last == o.Last && slices.Equal(s.Laws, o.Laws)
}

// strict reports whether a day of a span is closed by a law that knows no
// exception.
func (s Span) strict(d civil.Date) bool {
	return slices.ContainsFunc(s.Laws, func(l SpanLaw) bool {
		return l.First <= d && d <= l.Last && (l.Rule == nil || len(l.Rule.Unless) == 0)
	})
}

// Run is one unbroken run of closed days.
type Run struct {
	First, Last civil.Date
	Excepted    bool // every law that closes it knows exceptions
}

// Runs cuts spans to a stretch of days, and apart where an exception can lift
// what closes.
func Runs(spans []Span, from, to civil.Date) []Run {
	var out []Run
	for _, s := range spans {
		first, last := max(s.First, from), min(s.Last, to)
		for d := first; d <= last; {
			excepted := !s.strict(d)
			end := d
			for end < last && !s.strict(end+1) == excepted {
				end++
			}
			out = append(out, Run{d, end, excepted})
			d = end + 1
		}
	}
	return out
}

// Pinpoint cites the rule, or its record where the rule has no citation.
func (l SpanLaw) Pinpoint() string { return Pinpoint(l.Record, l.Rule) }

// Pinpoint cites a rule, or its record where the rule has no citation.
func Pinpoint(rec *Record, rule *Rule) string {
	switch {
	case rule != nil && rule.Citation != "":
		return rule.Citation
	case rec != nil:
		return rec.Citation
	}
	return ""
}
