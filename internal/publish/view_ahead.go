package publish

import (
	"cmp"
	"slices"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/season"
)

// aheadView is what opens and closes in the weeks to come.
type aheadView struct {
	Lines    []aheadLine
	More     int // lines left out for want of room
	Cautions []cautionView
}

// aheadLine is one of it: when, what, for which grasses, and what the law
// closes of it.
type aheadLine struct {
	When, What, Grasses string
	Closed              []string
	Law                 bool

	date  civil.Date
	first int // of those that there is room for
	uses  []string
}

// maxAhead keeps the list to what a reader takes in at a glance.
const maxAhead = 10

// ahead lists what opens or closes in a zone in the eight weeks after the issue
// date: the law, the windows of its grasses, and frosts. Where there is no room
// for all, the law stays, and then what comes first.
func (v viewer) ahead(z *bulletin.Zone, asOf civil.Date) aheadView {
	until := asOf.AddDays(bulletin.AheadDays)
	lines := v.lawAhead(z, asOf, until)
	for _, g := range z.Grasses {
		if g.Reading == nil {
			continue
		}
		for _, r := range g.Reading.Windows {
			for _, l := range v.windowAhead(z, r, asOf, until) {
				i := slices.IndexFunc(lines, func(o aheadLine) bool {
					return o.What == l.What && o.When == l.When && slices.Equal(o.Closed, l.Closed)
				})
				if i < 0 {
					l.Grasses = g.Profile.Name
					lines = append(lines, l)
					continue
				}
				if !strings.HasSuffix(lines[i].Grasses, g.Profile.Name) {
					lines[i].Grasses += ", " + g.Profile.Name
				}
			}
		}
	}
	if z.Year != nil {
		for _, e := range z.Year.Events {
			if l, ok := v.eventAhead(e, asOf, until); ok {
				lines = append(lines, l)
			}
		}
	}
	slices.SortStableFunc(lines, func(a, b aheadLine) int {
		return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.date, b.date))
	})
	room := min(len(lines), max(maxAhead, countLaw(lines)))
	out := aheadView{More: len(lines) - room}
	lines = lines[:room]
	slices.SortStableFunc(lines, func(a, b aheadLine) int { return cmp.Compare(a.date, b.date) })
	var uses []string
	for _, l := range lines {
		uses = append(uses, l.uses...)
	}
	out.Lines = lines
	out.Cautions = v.cautionsOf(false, uses...)
	return out
}

func countLaw(lines []aheadLine) int {
	n := 0
	for _, l := range lines {
		if l.Law {
			n++
		}
	}
	return n
}

// inReach reports whether a moment lies after the issue date and in the weeks
// ahead.
func inReach(m season.Moment, asOf, until civil.Date) bool {
	return m.Outcome == season.Dated && m.Date > asOf && m.Date <= until
}

// windowAhead tells of a window that opens or closes in the weeks ahead. One
// that opens says so for what it uses with what the law closes of it.
func (v viewer) windowAhead(z *bulletin.Zone, r season.Reading, asOf, until civil.Date) []aheadLine {
	if r.Phase != season.Open && r.Phase != season.Ahead {
		return nil
	}
	var out []aheadLine
	opens, closes := r.Instance.Opens, r.Instance.Closes
	if r.Phase == season.Ahead && inReach(opens.When, asOf, until) {
		l := aheadLine{When: v.endMoment(opens, 0), What: v.say("ahead.opens", "title", r.Window.Title), date: opens.When.Date, first: 1, uses: r.Window.Uses}
		last := v.lastDay(r.Instance, asOf)
		for _, p := range v.closedParts(z.Places, nutrients(r.Window.Uses), opens.When.Date, last, asOf) {
			l.Closed = append(l.Closed, v.closedPart(p, z.Places, last))
		}
		if len(nutrients(r.Window.Uses)) > 0 && v.uncleared(z) {
			l.Closed = append(l.Closed, v.must("window_law", "not_cleared"))
		}
		out = append(out, l)
	}
	if last := closes.When.AddDays(-1); inReach(last, asOf, until) {
		out = append(out, aheadLine{When: v.endMoment(closes, -1), What: v.say("ahead.closes", "title", r.Window.Title), date: last.Date, first: 1})
	}
	return out
}

// lawAhead tells of closed seasons for nitrogen that begin or end.
func (v viewer) lawAhead(z *bulletin.Zone, asOf, until civil.Date) []aheadLine {
	type turn struct {
		date   civil.Date
		closes bool
		places []string
	}
	var turns []turn
	add := func(d civil.Date, closes bool, place string) {
		if d <= asOf || d > until {
			return
		}
		i := slices.IndexFunc(turns, func(t turn) bool { return t.date == d && t.closes == closes })
		if i < 0 {
			i = len(turns)
			turns = append(turns, turn{date: d, closes: closes})
		}
		turns[i].places = append(turns[i].places, place)
	}
	for _, place := range z.Places {
		for _, s := range v.seasons(place, asked{law.Homeowner, "N"}, asOf, until, asOf) {
			add(s.First, true, place.Name)
			add(s.EndExclusive(), false, place.Name)
		}
	}
	var out []aheadLine
	for _, t := range turns {
		id := "ahead.law_opens"
		if t.closes {
			id = "ahead.law_closes"
		}
		out = append(out, aheadLine{When: monthDay(t.date), What: v.say(id, "places", v.where(t.places, z.Places)), Law: true, date: t.date})
	}
	return out
}

// eventAhead tells of a frost, or of the soil passing a level, in the weeks
// ahead; what the sun does every year needs no telling.
func (v viewer) eventAhead(e bulletin.YearEvent, asOf, until civil.Date) (aheadLine, bool) {
	d := e.This
	if e.Next != nil {
		d = *e.Next
	}
	first := 3
	switch d.Event.Kind {
	case season.LastFrost, season.FirstFrost:
		first = 2
	case season.SoilRising, season.SoilFalling:
	default:
		return aheadLine{}, false
	}
	if !inReach(d.When, asOf, until) {
		return aheadLine{}, false
	}
	return aheadLine{When: v.moment(d.Basis, d.When, d.From, d.To), What: upperFirst(v.Say(advice.Event(d.Event))), date: d.When.Date, first: first}, true
}
