package publish

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/law"
)

// turn is a day on which a provision begins to close, or closes no more.
type turn struct {
	law   law.SpanLaw
	opens bool
	on    civil.Date
	asked []asked // for whom and what
}

func (t turn) kind() string {
	if t.opens {
		return "opens"
	}
	return "closes"
}

// turns lists those of a jurisdiction's own law within two weeks after a day.
func (v viewer) turns(j law.Jurisdiction, date civil.Date) []turn {
	var out []turn
	place := law.Place{Name: j.Name, Chain: v.chain(j.ID)}
	soon := func(d civil.Date) bool { return date < d && d <= date.AddDays(lawNoticeDays) }
	add := func(t turn, q asked) {
		if !soon(t.on) || t.law.Record == nil || t.law.Rule == nil || t.law.Record.Jurisdiction != j.ID {
			return
		}
		k := slices.IndexFunc(out, func(o turn) bool {
			return o.law.Record == t.law.Record && o.law.Rule == t.law.Rule && o.on == t.on && o.opens == t.opens
		})
		if k < 0 {
			out = append(out, t)
			k = len(out) - 1
		}
		out[k].asked = append(out[k].asked, q)
	}
	for _, nutrient := range law.Nutrients() {
		for _, actor := range []law.Actor{law.Homeowner, law.ForHire} {
			q := asked{actor, nutrient}
			// A look ahead that is short, since few weeks bring a turn.
			near := v.closedSpans(place, q, date, date.AddDays(lawNoticeDays+1), date)
			if !slices.ContainsFunc(near, func(s law.Span) bool {
				return slices.ContainsFunc(s.Laws, func(l law.SpanLaw) bool { return soon(l.First) || soon(l.Last+1) })
			}) {
				continue
			}
			for _, s := range v.closedSpans(place, q, date, date.AddDays(turnDays), date) {
				for _, l := range s.Laws {
					add(turn{law: l, on: l.First}, q)
					add(turn{law: l, opens: true, on: l.Last + 1}, q)
				}
			}
		}
	}
	return out
}

// turnDays is how far ahead the end of a closing is looked for.
const turnDays = 400

func (e *edition) turnNotice(t turn, iss *bulletin.Region) lawNotice {
	r := t.law.Record
	slots := []string{
		"law", r.Title, "citation", t.law.Pinpoint(), "jurisdiction", r.JurisdictionName, "date", longDate(t.on),
		"first", longDate(t.law.First), "last", longDate(t.law.Last), "before", longDate(t.on - 1), "checked", longDate(r.CheckedOn),
		"what", e.askedOf(t.asked),
	}
	n := lawNotice{
		id: fmt.Sprintf("%s/%s/%s/%s", r.ID, t.law.Rule.ID, t.kind(), t.on), on: t.on, jurisdiction: r.Jurisdiction,
		title: e.say("lawfeed."+t.kind()+"_title", slots...), address: "/local-rules/" + r.Jurisdiction + "/",
	}
	id := "lawfeed." + t.kind()
	if !t.opens && t.law.Last >= iss.Date.AddDays(turnDays) {
		id = "lawfeed.closes_for_good"
	}
	n.lines = append(n.lines, e.say(id, slots...))
	n.lines = append(n.lines, e.turnPlaces(t, iss)...)
	return e.marked(n, r.Fictional)
}

// maxTurnPlaces keeps a notice of a law over a whole region readable.
const maxTurnPlaces = 30

// turnPlaces says what all laws together say on the day of a turn, wherever its
// law speaks: once for all who are told the same.
func (e *edition) turnPlaces(t turn, iss *bulletin.Region) []string {
	type told struct {
		states map[law.Verdict][]string // places
		asked  []asked
	}
	var all []told
	for _, q := range t.asked {
		states := map[law.Verdict][]string{}
		for _, z := range iss.Zones {
			for _, p := range z.Places {
				if slices.Contains(e.ws.Law.RecordsOf(p, t.on-1, t.on), t.law.Record) {
					a := e.ws.Law.Ask(law.Question{Place: p, Actor: q.actor, Date: t.on, AsOf: iss.Date, Product: law.ProductOf(q.nutrient)})
					states[a.Verdict] = append(states[a.Verdict], e.say("lawfeed.in_zone", "place", p.Name, "zone", z.Name))
				}
			}
		}
		k := slices.IndexFunc(all, func(o told) bool { return maps.EqualFunc(o.states, states, slices.Equal) })
		if k < 0 {
			all = append(all, told{states: states})
			k = len(all) - 1
		}
		all[k].asked = append(all[k].asked, q)
	}
	var out []string
	for _, o := range all {
		for verdict := law.Closed + 1; verdict > law.Open; {
			verdict--
			places := o.states[verdict]
			if len(places) == 0 {
				continue
			}
			list := strings.Join(places[:min(len(places), maxTurnPlaces)], ", ")
			if more := len(places) - maxTurnPlaces; more > 0 {
				list = e.say("lawfeed.and_more", "places", list, "more", strconv.Itoa(more))
			}
			out = append(out, e.say("lawfeed.places", "date", longDate(t.on), "what", e.askedOf(o.asked), "state", e.must("law_day", verdict.String()), "places", list))
		}
	}
	return out
}
