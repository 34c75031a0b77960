package law

import (
	"cmp"
	"slices"

	"ligule/internal/civil"
)

// Book holds all records and the list of jurisdictions. It is not changed
// once made, and so is safe for concurrent use.
type Book struct {
	byID           map[string]*Record
	byJurisdiction map[string][]*Record // by record id
	bodies         map[string]Jurisdiction
	parents        map[string]string
	levels         map[string]string
	preemptable    map[string]bool // topics that some record preempts
}

// NewBook makes a book. Records and list should have passed [Lint].
func NewBook(records []*Record, jurisdictions []Jurisdiction) *Book {
	b := &Book{
		byID:           map[string]*Record{},
		byJurisdiction: map[string][]*Record{},
		bodies:         map[string]Jurisdiction{},
		parents:        map[string]string{},
		levels:         map[string]string{},
		preemptable:    map[string]bool{},
	}
	sorted := slices.Clone(records)
	slices.SortStableFunc(sorted, func(x, y *Record) int { return cmp.Compare(x.ID, y.ID) })
	for _, r := range sorted {
		b.byID[r.ID] = r
		b.byJurisdiction[r.Jurisdiction] = append(b.byJurisdiction[r.Jurisdiction], r)
		b.parents[r.Jurisdiction] = r.Parent
		b.levels[r.Jurisdiction] = r.Level
		for _, topic := range r.PreemptTopics {
			b.preemptable[topic] = true
		}
	}
	for _, j := range jurisdictions {
		b.bodies[j.ID] = j
		b.parents[j.ID] = j.Parent
		b.levels[j.ID] = j.Level
	}
	return b
}

// Known reports whether a jurisdiction has a record or a line in the list.
func (b *Book) Known(jurisdiction string) bool {
	_, ok := b.levels[jurisdiction]
	return ok
}

// Records returns the records of a jurisdiction, by id.
func (b *Book) Records(jurisdiction string) []*Record { return b.byJurisdiction[jurisdiction] }

// Jurisdiction returns the list's line of a jurisdiction.
func (b *Book) Jurisdiction(id string) (Jurisdiction, bool) {
	j, ok := b.bodies[id]
	return j, ok
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

// inMunicipality reports whether a place lies inside a municipality.
func (b *Book) inMunicipality(place Place) bool {
	return slices.ContainsFunc(place.Chain, func(id string) bool { return b.levels[id] == "municipal" })
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
			if upper.Status != "in_force" || upper.Verification == "unverified" || upper.Stale(asOf) ||
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

// RecordsOf returns the records that speak at a place on some day of a span,
// upper first, then by id: in force, on hold, or ended without another on file
// that follows. A record for unincorporated land is left out inside a city, and so
// are those that are proposed, not in force yet, or followed by another.
func (b *Book) RecordsOf(place Place, first, last civil.Date) []*Record {
	var out []*Record
	inMunicipality := b.inMunicipality(place)
	for i, id := range place.Chain {
		if slices.Contains(place.Chain[:i], id) {
			continue
		}
		for _, rec := range b.byJurisdiction[id] {
			if rec.AppliesIn == "unincorporated" && inMunicipality {
				continue
			}
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
