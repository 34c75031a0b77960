package law

import (
	"slices"

	"ligule/internal/civil"
)

// bounds applies the law's bounds to the two anchor days: "(" leaves the
// first open to use, ")" the last.
func bounds(from, to civil.Date, b string) (first, last civil.Date) {
	if len(b) == 2 && b[0] == '(' {
		from++
	}
	if len(b) == 2 && b[1] == ')' {
		to--
	}
	return from, to
}

// anchors returns the two anchor days of the season labeled with a year. If
// the second would come before the first, it lies in the next year.
func (w *When) anchors(year int) (from, to civil.Date) {
	from = w.FromAnchor.in(year, false)
	to = w.ToAnchor.in(year, true)
	if to < from {
		to = w.ToAnchor.in(year+1, true)
	}
	return from, to
}

// Season returns the first and last day of an annual span's season labeled
// with a year; last < first if it is empty. Assumed bounds are read strictly:
// both anchor days belong to the season.
func (w *When) Season(year int) (first, last civil.Date) {
	from, to := w.anchors(year)
	if w.BoundsBasis == "assumed" {
		return from, to
	}
	return bounds(from, to, w.Bounds)
}

// spanState says whether a rule is on.
type spanState struct {
	on, unknown    bool
	first, last    civil.Date // of the spans that are on; zero if they have no ends
	edge           bool       // on, but only by reading an unclear edge strictly
	openEnded      bool       // on, but only by an order without an end
	seasonUnknown  bool       // unknown for want of a stated growing season
	statusUnknown  bool       // unknown because an open-ended order was not re-read
	bounded, plain bool       // some span that is on has ends; some is neither edge nor open-ended
}

func (s *spanState) turnOn(first, last civil.Date, edge, openEnded bool) {
	if first != 0 || last != 0 {
		if !s.bounded || first < s.first {
			s.first = first
		}
		if !s.bounded || last > s.last {
			s.last = last
		}
		s.bounded = true
	}
	s.on = true
	s.edge = s.edge || edge
	s.openEnded = s.openEnded || openEnded
	s.plain = s.plain || !edge && !openEnded
}

// spanAt evaluates the union of a rule's spans on a day.
func (r *Rule) spanAt(rec *Record, d civil.Date, q *Question) spanState {
	var s spanState
	if len(r.When) == 0 {
		s.on = true
		return s
	}
	annual := false
	for i := range r.When {
		w := &r.When[i]
		switch w.Kind {
		case "annual":
			annual = true
			w.annualAt(r, d, &s)
		case "dates":
			if first, last := bounds(w.From, w.To, w.Bounds); first <= d && d <= last {
				s.turnOn(first, last, false, false)
			}
		case "after_planting":
			if q.Planted.IsZero() {
				break // not stated: out of span
			}
			first, last := q.Planted.AddDays(w.Days.From), q.Planted.AddDays(w.Days.To)
			if first <= d && d <= last {
				s.turnOn(first, last, false, false)
			}
		case "declared":
			rec.declaredAt(w.Name, d, &s)
		case "season":
			w.seasonAt(q.Seasons, d, &s)
		default:
			s.unknown = true
		}
	}
	if annual {
		for i := range r.Overrides {
			o := &r.Overrides[i]
			if first, last := bounds(o.From, o.To, o.Bounds); first <= d && d <= last {
				s.turnOn(first, last, false, false)
			}
		}
	}
	if s.on {
		// A day that one span clearly covers is not in doubt.
		s.unknown, s.seasonUnknown, s.statusUnknown = false, false, false
		s.edge = s.edge && !s.plain
		s.openEnded = s.openEnded && !s.plain
	}
	return s
}

// On reports whether an annual span is on, which no order or planting decides.
func (w *When) On(d civil.Date) bool {
	var s spanState
	w.annualAt(&Rule{}, d, &s)
	return s.on
}

func (w *When) annualAt(r *Rule, d civil.Date, s *spanState) {
	if !w.FromAnchor.valid() || !w.ToAnchor.valid() {
		s.unknown = true
		return
	}
	year := d.Year()
	from, to := year-1, year
	if w.FromAnchor.Offset != 0 || w.ToAnchor.Offset != 0 {
		from, to = year-2, year+1 // an offset can carry an anchor over New Year
	}
	for y := from; y <= to; y++ {
		if r.overridden(y) {
			continue
		}
		first, last := w.Season(y)
		if d < first || d > last {
			continue
		}
		edge := false
		if w.BoundsBasis == "assumed" {
			a, b := w.anchors(y)
			edge = d == a || d == b
		}
		s.turnOn(first, last, edge, false)
	}
}

func (r *Rule) overridden(season int) bool {
	return slices.ContainsFunc(r.Overrides, func(o Override) bool { return o.Season == season })
}

// declaredAt evaluates the orders of a name. Past the day through which an
// open-ended order is assumed to be on, nobody knows, until a later order of
// that name begins.
func (rec *Record) declaredAt(name string, d civil.Date, s *spanState) {
	var latest *Declaration
	on := false
	for i := range rec.Declarations {
		o := &rec.Declarations[i]
		if o.Name != name || o.From > d {
			continue
		}
		if latest == nil || o.From > latest.From || o.From == latest.From && o.To.IsZero() {
			latest = o
		}
		switch {
		case !o.To.IsZero() && d <= o.To:
			on = true
			s.turnOn(o.From, o.To, false, false)
		case o.To.IsZero() && d <= o.AssumeUntil:
			on = true
			s.turnOn(o.From, o.AssumeUntil, false, true)
		}
	}
	if !on && latest != nil && latest.To.IsZero() {
		s.unknown, s.statusUnknown = true, true
	}
}

func (w *When) seasonAt(stated []Season, d civil.Date, s *spanState) {
	known, inside := false, false
	year := d.Year()
	for i := range stated {
		o := &stated[i]
		if o.Name != w.Name {
			continue
		}
		lastYear := o.To.Year()
		if o.To.IsZero() {
			lastYear = o.From.Year()
		}
		if year < o.From.Year() || year > lastYear {
			continue
		}
		known = true
		inside = inside || o.From <= d && (o.To.IsZero() || d <= o.To)
	}
	switch {
	case !known || w.Side != "inside" && w.Side != "outside":
		s.unknown, s.seasonUnknown = true, true
	case inside == (w.Side == "inside"):
		s.turnOn(0, 0, false, false)
	}
}
