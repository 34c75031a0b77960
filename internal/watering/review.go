package watering

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
)

// Reviews lists everything to be looked at of fertilizer and watering law as of
// a day, as [law.Book.Reviews] does of fertilizer law and jurisdictions alone.
func Reviews(fertilizer *law.Book, water *Book, asOf civil.Date) []law.Review {
	all := fertilizer.Reviews(asOf)
	for _, id := range water.Jurisdictions() {
		for _, r := range water.Records(id) {
			all = append(all, r.reviews(water.Name(id), asOf)...)
		}
	}
	law.SortReviews(all)
	return all
}

func (r *Record) reviews(jurisdiction string, asOf civil.Date) (out []law.Review) {
	add := func(what string, due civil.Date, order string) {
		x := r.Review(what, due, jurisdiction)
		x.Order = order
		out = append(out, x)
	}
	if law.Soon(r.EffectiveFrom-1, asOf) {
		add("effective", r.EffectiveFrom-1, "")
	}
	if !r.EffectiveTo.IsZero() && (asOf > r.EffectiveTo || law.Soon(r.EffectiveTo, asOf)) {
		add("expiry", r.EffectiveTo, "")
		if asOf > r.EffectiveTo {
			return out
		}
	}
	add("review", r.NextReview(), "")
	for _, d := range r.Declared {
		later := slices.ContainsFunc(r.Declared, func(o DeclaredStage) bool { return o.From > d.From })
		if d.To.IsZero() && !later && d.From <= asOf {
			add("order", d.AssumeUntil, stageName(d.Stage))
			out[len(out)-1].Stage = d.Stage
		}
	}
	return out
}
