package watering

import (
	"cmp"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
)

// Book holds all watering laws.
type Book struct{ law.Shelf[*Record] }

// NewBook makes a book. The laws should have passed [Lint]. Which
// jurisdictions are cities is told by the list alone.
func NewBook(records []*Record, jurisdictions []law.Jurisdiction) *Book {
	return &Book{law.NewShelf(records, jurisdictions)}
}

// over returns the watering laws over a place, upper first, and the
// jurisdictions of its chain of which none is on file. A law for
// unincorporated land stops at the city line, and says so.
func (b *Book) over(place law.Place) (laws []*Record, unread []string) {
	for id, records := range b.Over(place) {
		if len(b.Records(id)) == 0 {
			unread = append(unread, id)
		}
		laws = append(laws, records...)
	}
	return laws, unread
}

// Said is what one law answers.
type Said struct {
	Record *Record
	Answer
}

// Ask answers a question by every watering law of a place: each is judged
// by itself, an exemption in one lifts nothing in another, and the strongest
// verdict holds. said holds the laws that speak, strongest first, then upper
// first; if none does the verdict is not_cleared, for silence is not
// permission.
func (b *Book) Ask(place law.Place, q Question) (v Verdict, said []Said) {
	laws, _ := b.over(place)
	v, said = askAll(laws, q)
	slices.SortStableFunc(said, func(x, y Said) int { return cmp.Compare(y.Verdict, x.Verdict) })
	return v, said
}

func askAll(laws []*Record, q Question) (v Verdict, said []Said) {
	for _, r := range laws {
		if a := r.Ask(q); !a.Silent {
			said = append(said, Said{r, a})
			v = max(v, a.Verdict)
		}
	}
	if len(said) == 0 {
		v = NotCleared
	}
	return v, said
}

// Law is one watering law in a week.
type Law struct {
	Record *Record
	// Stage is the stage declared on each day, 0 for none; StageKnown is false
	// on days on which nobody knows.
	Stage      [7]int
	StageKnown [7]bool
	// Flags are what must be printed with it, sorted: declaration_open_ended,
	// declaration_status_unknown, expired_no_successor, not_yet_effective,
	// secondary, stale, unverified.
	Flags []law.Flag
}

// inWeek describes a law in a week; ok is false if it does not speak in it
// and does not take effect soon. speaks is false if it only takes effect soon.
func (r *Record) inWeek(source string, monday, asOf civil.Date) (l Law, speaks, ok bool) {
	l.Record = r
	if !slices.Contains(r.SourceWater, source) && !r.exempts(source) {
		return l, false, false
	}
	flag := func(f law.Flag) {
		if !slices.Contains(l.Flags, f) {
			l.Flags = append(l.Flags, f)
		}
	}
	for i := range l.Stage {
		d := monday.AddDays(i)
		l.Stage[i], l.StageKnown[i] = r.declaredStage(d)
		if d < r.EffectiveFrom {
			continue
		}
		speaks = true
		if !r.EffectiveTo.IsZero() && d > r.EffectiveTo {
			flag(law.ExpiredNoSuccessor)
			continue
		}
		if !l.StageKnown[i] {
			flag(law.DeclarationStatusUnknown)
		}
		if r.openEnded(d) {
			flag(law.DeclarationOpenEnded)
		}
	}
	switch {
	case speaks && r.Verification == law.SecondaryText:
		flag(law.Secondary)
	case speaks && r.Verification == law.UnverifiedText:
		flag(law.Unverified)
	}
	if speaks && r.Stale(asOf) {
		flag(law.Stale)
	}
	if !speaks && r.EffectiveFrom-monday.AddDays(len(l.Stage)-1) <= law.NewlyEffectiveDays {
		flag(law.NotYetEffective)
		ok = true
	}
	slices.Sort(l.Flags)
	return l, speaks, ok || speaks
}

// openEnded reports whether the stage of a day hangs on an order without an
// end that is still assumed to be on.
func (r *Record) openEnded(d civil.Date) bool {
	stage, known := r.declaredStage(d)
	if !known || stage == 0 {
		return false
	}
	open := false
	for _, o := range r.Declared {
		if o.Stage != stage || d < o.From {
			continue
		}
		if !o.To.IsZero() && d <= o.To {
			return false
		}
		open = open || o.To.IsZero() && d <= o.AssumeUntil
	}
	return open
}
