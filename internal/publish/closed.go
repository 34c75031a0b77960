package publish

import (
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/law"
)

// asked is a question about closed days: who spreads what.
type asked struct {
	actor    law.Actor
	nutrient string // N, P, "" for fertilizer with neither
}

// nutrientIDs are the words for nutrients in the phrase book, by the letters of
// law.
func nutrientID(letter string) string {
	if letter == "" {
		return "other"
	}
	return letter
}

// askedOf words for whom and what something holds: "nitrogen, whoever does it".
func (v viewer) askedOf(all []asked) string {
	var out []string
	for _, n := range law.Nutrients() {
		home, hire := slices.Contains(all, asked{law.Homeowner, n}), slices.Contains(all, asked{law.ForHire, n})
		who := ""
		switch {
		case home && hire:
			who = "both"
		case home:
			who = "home"
		case hire:
			who = "hire"
		default:
			continue
		}
		out = append(out, v.say("law_asked."+who, "what", v.must("law_nutrient", nutrientID(n))))
	}
	return strings.Join(out, "; ")
}

// closedSpans lists the closed days of a place from one day through another, all
// of them by what is known of its laws on a third.
func (v viewer) closedSpans(place law.Place, q asked, from, to, asOf civil.Date) []law.Span {
	if v.ws.Law == nil {
		return nil
	}
	return v.ws.Law.ClosedSpans(place, q.actor, q.nutrient, from, to, asOf)
}

const yearAhead = law.YearAhead

// seasons lists the closed spans that touch a stretch of days.
func (v viewer) seasons(place law.Place, q asked, from, to, asOf civil.Date) []law.Span {
	if v.ws.Law == nil {
		return nil
	}
	return v.ws.Law.ClosedSeasons(place, q.actor, q.nutrient, from, to, asOf)
}

// chain lists a jurisdiction with all those above it, upper first.
func (v viewer) chain(id string) []string {
	var out []string
	for range len(v.ws.Places) + 1 { // a cycle of parents must not hang
		i := slices.IndexFunc(v.ws.Places, func(j law.Jurisdiction) bool { return j.ID == id })
		if i < 0 {
			break
		}
		out = append(out, id)
		id = v.ws.Places[i].Parent
	}
	slices.Reverse(out)
	return out
}
