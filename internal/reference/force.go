package reference

import (
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/watering"
)

// Force is whether a law is in force, for machines.
type Force string

// The forces; "" where nobody has read the law itself of late.
const (
	InForce          Force = "in_force"
	NotInForce       Force = "not_in_force"
	PartiallyInForce Force = "partially_in_force"
)

// legalForce is "" unless somebody has read the law itself, and of late. A law
// that a court has put on hold is not in force; one of which a provision is not,
// or not yet, in effect is so in part.
func legalForce(r *law.Record, asOf civil.Date) Force {
	if r.Verification != law.VerifiedText || r.Stale(asOf) {
		return ""
	}
	switch force := forceBetween(r.EffectiveFrom, r.EffectiveTo, asOf); {
	case force == NotInForce, r.Status == law.StatusStayed, r.Status == law.StatusEnjoined:
		return NotInForce
	case r.Status != law.StatusInForce && r.EffectiveTo.IsZero(): // repealed or superseded, on a day not on record
		return NotInForce
	}
	for _, rule := range r.Rules {
		if forceBetween(rule.EffectiveFrom, rule.EffectiveTo, asOf) == NotInForce {
			return PartiallyInForce
		}
	}
	return InForce
}

// waterForce is the same of a watering law, which no court has put on hold.
func waterForce(r *watering.Record, asOf civil.Date) Force {
	if r.Verification != law.VerifiedText || r.Stale(asOf) {
		return ""
	}
	return forceBetween(r.EffectiveFrom, r.EffectiveTo, asOf)
}

func forceBetween(from, to, asOf civil.Date) Force {
	if asOf < from || !to.IsZero() && asOf > to {
		return NotInForce
	}
	return InForce
}
