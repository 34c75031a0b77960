package watering

import (
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
)

// exemptions finds what is exempt from every law that closes something.
func (w *Week) exemptions() {
	in := wateringIn{WaterInTerms{State: "not_needed", MaxIn: math.NaN()}}
	freed := map[string][]Grant{}
	certain, closing := true, map[*Record]bool{}
	for _, what := range exemptions() {
		freed[what] = nil
	}
	for _, l := range w.Laws {
		for i := range l.Stage {
			d := w.Monday.AddDays(i)
			switch r := l.Record; {
			case d < r.EffectiveFrom:
			case !l.StageKnown[i], !r.EffectiveTo.IsZero() && d > r.EffectiveTo,
				slices.Contains(l.Flags, law.Stale), slices.Contains(l.Flags, law.Unverified):
				certain = false
				in.decide(NotCleared.String(), r)
			case !w.closes(r, d):
				in.decide("not_needed", r)
			default:
				closing[r] = true
				in.ask(r, r.grant("water_in", l.Stage[i]))
				for _, what := range exemptions() {
					list, still := freed[what]
					x := r.grant(what, l.Stage[i])
					switch {
					case x == nil:
						delete(freed, what)
					case still && !slices.ContainsFunc(list, func(g Grant) bool { return g.Exemption == x }):
						freed[what] = append(list, Grant{r, x})
					}
				}
			}
		}
	}
	w.WaterIn = in.done()
	if !certain || len(closing) == 0 {
		return
	}
	for _, what := range exemptions() {
		if list, still := freed[what]; still {
			w.Exempt = append(w.Exempt, Freed{what, list})
		}
	}
}

// wateringIn gathers what the laws say of watering in.
type wateringIn struct{ WaterInTerms }

// decide keeps the strictest state and the laws that are in it.
func (in *wateringIn) decide(state string, r *Record) {
	strictness := []string{"not_needed", "exempt", NotCleared.String(), "not_exempt"}
	x, y := slices.Index(strictness, state), slices.Index(strictness, in.State)
	if x > y {
		in.State, in.Laws = state, nil
	}
	if x >= y && !slices.Contains(in.Laws, r) {
		in.Laws = append(in.Laws, r)
	}
}

// ask takes up what a law that closes something exempts; nil for nothing.
func (in *wateringIn) ask(r *Record, x *Exemption) {
	if x == nil || x.MaxIn == nil {
		in.decide("not_exempt", r)
		return
	}
	in.decide("exempt", r)
	if !(in.MaxIn <= *x.MaxIn) {
		in.MaxIn = *x.MaxIn
	}
	if in.Hours == 0 || x.WithinHours < in.Hours {
		in.Hours = x.WithinHours
	}
}

func (in *wateringIn) done() WaterInTerms {
	if in.State != "exempt" {
		in.MaxIn, in.Hours = math.NaN(), 0
	}
	return in.WaterInTerms
}

// grant returns the exemption for something at a stage, nil if there is none.
func (r *Record) grant(what string, stage int) *Exemption {
	for i := range r.Exempt {
		if x := &r.Exempt[i]; x.What == what && x.at(stage, true) {
			return x
		}
	}
	return nil
}

// closes reports whether a law by itself closes some lot at some time of a day.
func (w *Week) closes(r *Record, d civil.Date) bool {
	for _, k := range lotKinds() {
		for _, nonresidential := range []bool{false, true} {
			for _, m := range w.moments(d) {
				a := r.judge(Question{Date: d, Minute: m, House: k.house(), Nonresidential: nonresidential}, w.Source)
				if a.Verdict >= NotCleared {
					return true
				}
			}
		}
	}
	return false
}
