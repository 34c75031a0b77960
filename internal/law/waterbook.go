package law

import (
	"cmp"
	"slices"

	"ligule/internal/civil"
)

// WithWatering returns the same book with watering laws in it, in place of
// those that it had. The laws should have passed [LintWatering].
func (b *Book) WithWatering(records []*WaterRecord) *Book {
	with := *b
	with.watering = map[string][]*WaterRecord{}
	sorted := slices.Clone(records)
	slices.SortStableFunc(sorted, func(x, y *WaterRecord) int { return cmp.Compare(x.ID, y.ID) })
	for _, r := range sorted {
		with.watering[r.Jurisdiction] = append(with.watering[r.Jurisdiction], r)
	}
	return &with
}

// Watering returns the watering laws of a jurisdiction, by id.
func (b *Book) Watering(jurisdiction string) []*WaterRecord { return b.watering[jurisdiction] }

// wateringOf returns the watering laws over a place, upper first, and the
// jurisdictions of its chain of which none is on file. A law for
// unincorporated land stops at the city line, and says so.
func (b *Book) wateringOf(place Place) (laws []*WaterRecord, unread []string) {
	inMunicipality := b.inMunicipality(place)
	for i, id := range place.Chain {
		if slices.Contains(place.Chain[:i], id) {
			continue
		}
		if len(b.watering[id]) == 0 {
			unread = append(unread, id)
		}
		for _, r := range b.watering[id] {
			if r.AppliesIn == "unincorporated" && inMunicipality {
				continue
			}
			laws = append(laws, r)
		}
	}
	return laws, unread
}

// WaterSaid is what one law answers.
type WaterSaid struct {
	Record *WaterRecord
	WaterAnswer
}

// AskWater answers a question by every watering law of a place: each is judged
// by itself, an exemption in one lifts nothing in another, and the strongest
// verdict holds. said holds the laws that speak, strongest first, then upper
// first; if none does the verdict is not_cleared, for silence is not
// permission.
func (b *Book) AskWater(place Place, q WaterQuestion) (v WaterVerdict, said []WaterSaid) {
	laws, _ := b.wateringOf(place)
	v, said = askAll(laws, q)
	slices.SortStableFunc(said, func(x, y WaterSaid) int { return cmp.Compare(y.Verdict, x.Verdict) })
	return v, said
}

func askAll(laws []*WaterRecord, q WaterQuestion) (v WaterVerdict, said []WaterSaid) {
	for _, r := range laws {
		if a := r.Ask(q); !a.Silent {
			said = append(said, WaterSaid{r, a})
			v = max(v, a.Verdict)
		}
	}
	if len(said) == 0 {
		v = WaterNotCleared
	}
	return v, said
}

// WaterLaw is one watering law in a week.
type WaterLaw struct {
	Record *WaterRecord
	// Stage is the stage declared on each day, 0 for none; StageKnown is false
	// on days on which nobody knows.
	Stage      [7]int
	StageKnown [7]bool
	// Flags are what must be printed with it, sorted: declaration_open_ended,
	// declaration_status_unknown, expired_no_successor, not_yet_effective,
	// secondary, stale, unverified.
	Flags []Flag
}

// waterLaw describes a law in a week; ok is false if it does not speak in it
// and does not take effect soon. speaks is false if it only takes effect soon.
func (r *WaterRecord) waterLaw(source string, monday, asOf civil.Date) (l WaterLaw, speaks, ok bool) {
	l.Record = r
	if !slices.Contains(r.SourceWater, source) && !r.exempts(source) {
		return l, false, false
	}
	flag := func(f Flag) {
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
			flag(ExpiredNoSuccessor)
			continue
		}
		if !l.StageKnown[i] {
			flag(DeclarationStatusUnknown)
		}
		if r.openEnded(d) {
			flag(DeclarationOpenEnded)
		}
	}
	switch {
	case speaks && r.Verification == "secondary":
		flag(Secondary)
	case speaks && r.Verification == "unverified":
		flag(Unverified)
	}
	if speaks && r.Stale(asOf) {
		flag(Stale)
	}
	if !speaks && r.EffectiveFrom-monday.AddDays(len(l.Stage)-1) <= newlyEffectiveDays {
		flag(NotYetEffective)
		ok = true
	}
	slices.Sort(l.Flags)
	return l, speaks, ok || speaks
}

// openEnded reports whether the stage of a day hangs on an order without an
// end that is still assumed to be on.
func (r *WaterRecord) openEnded(d civil.Date) bool {
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
