package publish

import (
	"slices"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/law"
)

// nutrients are the letters under which the law speaks of what a window's work
// uses: N, P, "" for fertilizer with neither.
func nutrients(uses []string) []string {
	var out []string
	for _, use := range uses {
		letter := ""
		switch use {
		case advice.Nitrogen:
			letter = "N"
		case advice.Phosphorus:
			letter = "P"
		case advice.Potassium, advice.Iron:
		default:
			continue
		}
		if !slices.Contains(out, letter) {
			out = append(out, letter)
		}
	}
	return out
}

// closedPart is a closed span with the places that it closes.
type closedPart struct {
	first, last civil.Date
	excepted    bool // every law that closes it knows exceptions
	places      []string
}

// closedParts lists what the law closes, of any of the nutrients, to who does it
// at home, in a stretch of days: cut to no stretch, places with the same closed
// days together.
func (v viewer) closedParts(places []law.Place, letters []string, from, to, asOf civil.Date) []closedPart {
	var out []closedPart
	for _, place := range places {
		for _, letter := range letters {
			for _, s := range v.seasons(place, asked{law.Homeowner, letter}, from, to, asOf) {
				part := closedPart{first: s.First, last: s.Last, excepted: true}
				for d := max(s.First, from); d <= min(s.Last, to); d++ {
					part.excepted = part.excepted && !strict(s, d)
				}
				i := slices.IndexFunc(out, func(p closedPart) bool {
					return p.first == part.first && p.last == part.last && p.excepted == part.excepted
				})
				if i < 0 {
					i = len(out)
					out = append(out, part)
				}
				if !slices.Contains(out[i].places, place.Name) {
					out[i].places = append(out[i].places, place.Name)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b closedPart) int { return int(a.first - b.first) })
	return out
}

// where names the places of a part.
func (v viewer) where(names []string, all []law.Place) string {
	if len(names) == len(all) && len(all) > 1 {
		return v.must("law", "everywhere")
	}
	return strings.Join(names, ", ")
}

// windowLawView is a sentence on what the law closes of a window.
type windowLawView struct {
	Text string
	Shut bool // it closes something, or is not cleared
}

// windowLaw says which part of a stretch of days the law closes to what a
// window uses. Nothing where it uses nothing that the law speaks of.
func (v viewer) windowLaw(z *bulletin.Zone, uses []string, from, to, asOf civil.Date) []windowLawView {
	letters := nutrients(uses)
	if len(letters) == 0 || to < from {
		return nil
	}
	var out []windowLawView
	for _, p := range v.closedParts(z.Places, letters, from, to, asOf) {
		out = append(out, windowLawView{v.closedPart(p, z.Places, to), true})
	}
	if v.uncleared(z) {
		out = append(out, windowLawView{v.must("window_law", "not_cleared"), true})
	}
	if len(out) == 0 {
		out = append(out, windowLawView{Text: v.must("window_law", "none")})
	}
	return out
}

// closedPart words a closed span; to is the last day that was asked about.
func (v viewer) closedPart(p closedPart, all []law.Place, to civil.Date) string {
	places := v.where(p.places, all)
	switch {
	case p.last >= to.AddDays(yearAhead):
		return v.say("window_law.closed_on", "places", places, "first", longDate(p.first))
	case p.excepted:
		return v.say("window_law.excepted", "places", places, "first", longDate(p.first), "last", longDate(p.last))
	}
	return v.say("window_law.closed", "places", places, "first", longDate(p.first), "last", longDate(p.last))
}

// uncleared reports whether the law of some place of a zone is not known well
// enough to clear anything.
func (v viewer) uncleared(z *bulletin.Zone) bool {
	return len(z.Law.Places) == 0 || slices.ContainsFunc(z.Law.Places, func(p bulletin.PlaceLaw) bool {
		return p.Homeowner.State == law.NotCleared.String()
	})
}
