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

// yearAhead is how far around a stretch of days a season is followed.
const yearAhead = 366

// seasons lists the closed spans that touch a stretch of days, each from its
// true first day, however long before the stretch that lies, and through its true
// last one if that lies within a year after.
func (v viewer) seasons(place law.Place, q asked, from, to, asOf civil.Date) []law.Span {
	start := from.AddDays(-yearAhead)
	spans := v.closedSpans(place, q, start, to.AddDays(yearAhead), asOf)
	if len(spans) > 0 && spans[0].First == start && spans[0].Last >= from {
		// Nothing closes before its law takes effect.
		for _, l := range spans[0].Laws {
			if l.Record != nil {
				start = min(start, l.Record.EffectiveFrom)
			}
		}
		spans = v.closedSpans(place, q, start, to.AddDays(yearAhead), asOf)
	}
	return slices.DeleteFunc(spans, func(s law.Span) bool { return s.Last < from || s.First > to })
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

// ruleCitation cites what closes a part of a span.
func ruleCitation(l law.SpanLaw) string {
	if l.Rule == nil {
		return l.Record.Citation
	}
	return pinpoint(l.Record, l.Rule)
}
