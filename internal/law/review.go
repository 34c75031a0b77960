package law

import (
	"cmp"
	"maps"
	"slices"

	"ligule/internal/civil"
)

// Review is something about local law that somebody has to look at by a day.
type Review struct {
	// What is one of
	//   not_checked  nobody has looked up the jurisdiction; due at once
	//   review       a record is due to be read again
	//   none_found   "looked, none found" is due to be looked up again
	//   order        an order without an end is assumed on through the day
	//   effective    a law or rule takes effect within 90 days
	//   expiry       a law or rule ends within 90 days, or has ended and what
	//                follows is not known
	What string
	// Due is the last day on which all is well: the day after it the record is
	// stale, the order unknown, the law gone or (effective) on. Zero for
	// not_checked.
	Due civil.Date

	Jurisdiction     string
	JurisdictionName string
	Law              Header  // zero for not_checked and none_found
	Record           *Record // nil for not_checked, none_found and watering law
	Rule             *Rule   // nil if the record as a whole is meant
	Order            string  // order: its name, or "stage N"
	Stage            int     // of a shortage, if that was declared; 0 for an order with a name
	Citation         string  // of the rule, order or record
	Office           string  // who enforces, where the record says
}

// Review says that the law as a whole has to be looked at.
func (h *Header) Review(what string, due civil.Date, jurisdictionName string) Review {
	return Review{What: what, Due: due, Jurisdiction: h.Jurisdiction, JurisdictionName: jurisdictionName, Law: *h, Citation: h.Citation}
}

// Past reports whether the review was due before a day.
func (r Review) Past(asOf civil.Date) bool { return r.Due < asOf }

// Within reports whether the review is past or due within some days.
func (r Review) Within(asOf civil.Date, days int) bool { return r.Due <= asOf.AddDays(days) }

// Soon reports whether a day lies within 90 days ahead, itself included.
func Soon(d, asOf civil.Date) bool {
	return !d.IsZero() && asOf <= d && d <= asOf+NewlyEffectiveDays
}

// Reviews lists everything to be looked at as of a day, sorted as
// [SortReviews] does: every record's next review however far ahead, since it is
// a list to plan by, and the rest as [Review] says. Records that are
// superseded, repealed or only proposed are not read again.
func (b *Book) Reviews(asOf civil.Date) []Review {
	l := reviewer{book: b, asOf: asOf}
	for _, id := range slices.Sorted(maps.Keys(b.byID)) {
		l.record(b.byID[id])
	}
	for _, id := range slices.Sorted(maps.Keys(b.bodies)) {
		l.jurisdiction(b.bodies[id])
	}
	SortReviews(l.out)
	return l.out
}

// SortReviews sorts by due date, then by jurisdiction, record and kind.
func SortReviews(list []Review) {
	slices.SortStableFunc(list, func(x, y Review) int {
		return cmp.Or(cmp.Compare(x.Due, y.Due), cmp.Compare(x.Jurisdiction, y.Jurisdiction), cmp.Compare(x.Law.ID, y.Law.ID),
			cmp.Compare(x.What, y.What), cmp.Compare(ruleOrder(x), ruleOrder(y)), cmp.Compare(x.Order, y.Order), cmp.Compare(x.Citation, y.Citation))
	})
}

// ruleOrder is the place of a review's rule in its record; -1 for none.
func ruleOrder(r Review) int {
	if r.Rule == nil {
		return -1
	}
	return slices.IndexFunc(r.Record.Rules, func(x Rule) bool { return x.ID == r.Rule.ID && x.EffectiveFrom == r.Rule.EffectiveFrom })
}

type reviewer struct {
	book *Book
	asOf civil.Date
	out  []Review
}

func (l *reviewer) name(jurisdiction string) string {
	if recs := l.book.Records(jurisdiction); l.book.bodies[jurisdiction].Name == "" && len(recs) > 0 {
		return recs[0].JurisdictionName
	}
	return l.book.Name(jurisdiction)
}

func (l *reviewer) record(r *Record) {
	if r.Status == StatusProposed {
		return
	}
	name := l.name(r.Jurisdiction)
	add := func(what string, due civil.Date, rule *Rule) *Review {
		x := r.Review(what, due, name)
		x.Record, x.Rule, x.Office = r, rule, r.Enforcement
		if rule != nil && rule.Citation != "" {
			x.Citation = rule.Citation
		}
		l.out = append(l.out, x)
		return &l.out[len(l.out)-1]
	}
	if Soon(r.EffectiveFrom-1, l.asOf) {
		add("effective", r.EffectiveFrom-1, nil)
	}
	switch l.book.standing(r, l.asOf) {
	case expired:
		add("expiry", r.EffectiveTo, nil)
		return
	case undatedEnd:
		add("expiry", r.CheckedOn, nil)
		return
	case lapsed:
		return
	case silent:
		if l.asOf >= r.EffectiveFrom {
			return // its successor is read instead
		}
	case inForce, onHold, notYet:
	}
	add("review", r.NextReview(), nil)
	if Soon(r.EffectiveTo, l.asOf) && !l.book.follows(r) && !r.LapseConfirmed && r.Status != StatusRepealed {
		add("expiry", r.EffectiveTo, nil)
	}
	for i := range r.Rules {
		rule := &r.Rules[i]
		if !rule.EffectiveFrom.IsZero() && Soon(rule.EffectiveFrom-1, l.asOf) {
			add("effective", rule.EffectiveFrom-1, rule)
		}
		if Soon(rule.EffectiveTo, l.asOf) {
			add("expiry", rule.EffectiveTo, rule)
		}
	}
	for _, d := range r.Declarations {
		later := slices.ContainsFunc(r.Declarations, func(o Declaration) bool { return o.Name == d.Name && o.From > d.From })
		if d.To.IsZero() && !d.AssumeUntil.IsZero() && !later && d.From <= l.asOf {
			x := add("order", d.AssumeUntil, nil)
			x.Order, x.Citation = d.Name, d.Citation
		}
	}
}

func (l *reviewer) jurisdiction(j Jurisdiction) {
	x := Review{Jurisdiction: j.ID, JurisdictionName: l.name(j.ID)}
	switch {
	case j.Coverage == NoneFound && !j.CheckedOn.IsZero():
		x.What, x.Due = "none_found", j.CheckedOn.AddMonths(listReviewMonths)
	case j.Coverage != NoneFound && len(l.book.Records(j.ID)) == 0, j.Coverage == NotChecked:
		x.What = "not_checked"
	default:
		return
	}
	l.out = append(l.out, x)
}
