package law

import (
	"cmp"
	"iter"
	"maps"
	"slices"

	"ligule/internal/civil"
)

// Shelf holds the records of one kind of law by jurisdiction, beside the list of
// jurisdictions. It is not changed once made, and so is safe for concurrent use.
type Shelf[R interface{ header() *Header }] struct {
	byJurisdiction map[string][]R // by record id
	bodies         map[string]Jurisdiction
	levels         map[string]string
}

// NewShelf makes a shelf.
func NewShelf[R interface{ header() *Header }](records []R, jurisdictions []Jurisdiction) Shelf[R] {
	s := Shelf[R]{byJurisdiction: map[string][]R{}, bodies: map[string]Jurisdiction{}, levels: map[string]string{}}
	for _, r := range slices.SortedStableFunc(slices.Values(records), func(x, y R) int { return cmp.Compare(x.header().ID, y.header().ID) }) {
		body := r.header().Jurisdiction
		s.byJurisdiction[body] = append(s.byJurisdiction[body], r)
	}
	for _, j := range jurisdictions {
		s.bodies[j.ID] = j
		s.levels[j.ID] = j.Level
	}
	return s
}

// Records returns the records of a jurisdiction, by id.
func (s *Shelf[R]) Records(jurisdiction string) []R { return s.byJurisdiction[jurisdiction] }

// Jurisdiction returns the list's line of a jurisdiction.
func (s *Shelf[R]) Jurisdiction(id string) (Jurisdiction, bool) {
	j, ok := s.bodies[id]
	return j, ok
}

// Jurisdictions returns those that have a record, sorted.
func (s *Shelf[R]) Jurisdictions() []string { return slices.Sorted(maps.Keys(s.byJurisdiction)) }

// Name returns the name of a jurisdiction of the list, or else its id.
func (s *Shelf[R]) Name(jurisdiction string) string {
	return cmp.Or(s.bodies[jurisdiction].Name, jurisdiction)
}

// Over visits the jurisdictions over a place, each once, upper first, with the
// records that hold there. A law for unincorporated land stops at the city line.
func (s *Shelf[R]) Over(place Place) iter.Seq2[string, []R] {
	return func(yield func(string, []R) bool) {
		inMunicipality := slices.ContainsFunc(place.Chain, func(id string) bool { return s.levels[id] == "municipal" })
		stops := func(r R) bool { return r.header().AppliesIn == "unincorporated" && inMunicipality }
		for i, id := range place.Chain {
			if slices.Contains(place.Chain[:i], id) {
				continue
			}
			records := s.byJurisdiction[id]
			if slices.ContainsFunc(records, stops) {
				records = slices.DeleteFunc(slices.Clone(records), stops)
			}
			if !yield(id, records) {
				return
			}
		}
	}
}

// Book holds all records of fertilizer law.
type Book struct {
	Shelf[*Record]
	byID        map[string]*Record
	parents     map[string]string
	preemptable map[string]bool // topics that some record preempts
}

// NewBook makes a book. Records and list should have passed [Lint].
func NewBook(records []*Record, jurisdictions []Jurisdiction) *Book {
	b := &Book{NewShelf(records, jurisdictions), map[string]*Record{}, map[string]string{}, map[string]bool{}}
	for _, body := range b.Jurisdictions() {
		for _, r := range b.byJurisdiction[body] {
			b.byID[r.ID] = r
			b.parents[body] = r.Parent
			if _, listed := b.bodies[body]; !listed {
				b.levels[body] = r.Level
			}
			for _, topic := range r.PreemptTopics {
				b.preemptable[topic] = true
			}
		}
	}
	for _, j := range jurisdictions {
		b.parents[j.ID] = j.Parent
	}
	return b
}

// Known reports whether a jurisdiction has a record or a line in the list.
func (b *Book) Known(jurisdiction string) bool {
	_, ok := b.levels[jurisdiction]
	return ok
}

// TimeZone returns the IANA zone of the lowest record of the place's chain,
// or "" if there is no record.
func (b *Book) TimeZone(place Place) string {
	for _, id := range slices.Backward(place.Chain) {
		for _, r := range b.byJurisdiction[id] {
			if r.TZ != "" {
				return r.TZ
			}
		}
	}
	return ""
}

// above reports whether upper is on the line of parents of lower.
func (b *Book) above(upper, lower string) bool {
	for range len(b.parents) + 1 { // a cycle of parents must not hang
		p, ok := b.parents[lower]
		if !ok || p == "" {
			return false
		}
		if p == upper {
			return true
		}
		lower = p
	}
	return false
}

// preempted returns the record of the place's chain that displaces a rule of
// a lower one, if there is one. To displace is to clear, so a stale or
// unverified record cannot do it, nor one on hold or out of force.
func (b *Book) preempted(place Place, rec *Record, topic string, date, asOf civil.Date) *Record {
	if !b.preemptable[topic] {
		return nil
	}
	for _, id := range place.Chain {
		for _, upper := range b.byJurisdiction[id] {
			if !slices.Contains(upper.PreemptTopics, topic) || !b.above(id, rec.Jurisdiction) {
				continue
			}
			if upper.Status != StatusInForce || upper.Verification == UnverifiedText || upper.Stale(asOf) ||
				date < upper.EffectiveFrom || !upper.EffectiveTo.IsZero() && date > upper.EffectiveTo {
				continue
			}
			if !upper.GrandfatherBefore.IsZero() && rec.AdoptedOn < upper.GrandfatherBefore {
				continue
			}
			return upper
		}
	}
	return nil
}

// Barred is what some record over a place bars of pesticides, on whatever days: a
// use, and where the record says so only a class of ingredients.
type Barred struct{ Use, Class string }

// BarredAt lists it, uses as a whole first.
func (b *Book) BarredAt(place Place) []Barred {
	var out []Barred
	for _, records := range b.Over(place) {
		for _, rec := range records {
			for _, r := range rec.Rules {
				if r.Topic != pesticideTopic {
					continue
				}
				classes := r.OnlyProducts
				if len(classes) == 0 {
					classes = []string{""}
				}
				for _, use := range r.Targets {
					for _, class := range classes {
						out = append(out, Barred{use, class})
					}
				}
			}
		}
	}
	slices.SortFunc(out, func(x, y Barred) int { return cmp.Or(cmp.Compare(x.Class, y.Class), cmp.Compare(x.Use, y.Use)) })
	return slices.Compact(out)
}

// ProductOf is a product of which only that is known.
func (b Barred) ProductOf() Product {
	p := ProductOf(b.Use)
	p.Class = b.Class
	return p
}

// RecordsOf returns the records that speak at a place on some day of a span,
// upper first, then by id: in force, on hold, or ended without another on file
// that follows. A record for unincorporated land is left out inside a city, and so
// are those that are proposed, not in force yet, or followed by another.
func (b *Book) RecordsOf(place Place, first, last civil.Date) []*Record {
	var out []*Record
	for _, records := range b.Over(place) {
		for _, rec := range records {
			for d := first; d <= last; d++ {
				if s := b.standing(rec, d); s != silent && s != notYet {
					out = append(out, rec)
					break
				}
			}
		}
	}
	return out
}
