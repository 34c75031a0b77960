package law

import (
	"cmp"
	"slices"
)

// fit says whether a rule is about the actor, site and product asked about.
type fit uint8

const (
	fitNo    fit = iota
	fitMaybe     // it hangs on the product's class or form, which is not known
	fitYes
)

// fits applies the rule's bound actors, exemptions and targets. A fact that
// is not stated is false, so an exemption must be claimed.
func (r *Rule) fits(rec *Record, q *Question, p *Product) fit {
	if !r.binds(q) || q.Site != "" && slices.Contains(r.ExemptSites, q.Site) {
		return fitNo
	}
	if slices.ContainsFunc(r.ExemptIf, q.claims) ||
		slices.ContainsFunc(r.ExemptActorsIf, func(x ActorExemption) bool { return x.Actor == q.actor() && q.claims(x.Needs) }) {
		return fitNo
	}
	if r.always() {
		return fitYes
	}
	if !r.targets(&rec.Definitions, p) || p.Class != "" && slices.Contains(r.ExemptProducts, p.Class) {
		return fitNo
	}
	return min(among(p.Class, r.OnlyProducts), among(p.Form, r.OnlyForms))
}

// always reports whether the rule is tied to no product. Such a rule is
// printed and never moves a verdict.
func (r *Rule) always() bool { return slices.Contains(r.Targets, "always") }

// among tells whether a word is on a list that limits a rule. An empty list
// limits nothing; an unknown word may or may not be on it.
func among(word string, only []string) fit {
	switch {
	case len(only) == 0 || word != "" && slices.Contains(only, word):
		return fitYes
	case word == "":
		return fitMaybe
	}
	return fitNo
}

func (r *Rule) binds(q *Question) bool {
	actor := q.actor()
	// A ban on selling answers the seller's question and no other.
	if (r.Topic == "sale") != (actor == Retailer) {
		return false
	}
	return slices.Contains(r.Binds, "all") || slices.Contains(r.Binds, actor)
}

// targets judges a product on its nutrients by the record's own definitions,
// whatever the product is sold as.
func (r *Rule) targets(def *Definitions, p *Product) bool {
	if p.Class != "" && slices.Contains(def.NotFertilizer, p.Class) {
		return false
	}
	holds := func(nutrient string, more bool) bool {
		return slices.Contains(r.Targets, nutrient) && (p.Unknown && slices.Contains(p.Nutrients, nutrient) || !p.Unknown && more)
	}
	if p.pesticide() {
		return holds(p.Nutrients[0], true)
	}
	return slices.Contains(r.Targets, "any") || holds("N", p.NPct > def.NThresholdPct) || holds("P", p.P2O5Pct > def.P2O5ThresholdPct)
}

// actor returns who asks; a question that does not say is a homeowner's.
func (q *Question) actor() Actor { return cmp.Or(q.Actor, Homeowner) }

// claims reports whether the question states a fact.
func (q *Question) claims(fact string) bool {
	return fact == "new_turf" && q.NewTurf || fact == "repair" && q.Repair || slices.Contains(q.Claims, fact)
}

// exception returns the first of the rule's exceptions that the question
// meets.
func (r *Rule) exception(q *Question) (name string, met bool) {
	for _, name := range r.Unless {
		switch name {
		case "soil_test_p":
			met = r.soilTestGood(q)
		case "new_turf":
			met = q.claims("new_turf") && max(1, q.GrowingSeason) <= max(1, r.NewTurfSeasons)
		default:
			met = q.claims(name)
		}
		if met {
			return name, true
		}
	}
	return "", false
}

// soilTestGood reports whether a soil test shows a shortage and was taken no
// longer ago than the rule allows: a test is good through its date plus so
// many months, clamped to the end of a shorter month.
func (r *Rule) soilTestGood(q *Question) bool {
	t := q.SoilTest
	if t == nil || !t.PDeficient || t.Date.IsZero() || t.Date > q.Date {
		return false
	}
	return r.SoilTestMaxAgeMonths == 0 || q.Date <= t.Date.AddMonths(r.SoilTestMaxAgeMonths)
}
