package publish

import (
	"fmt"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/issue"
	"ligule/internal/season"
	"ligule/internal/turf"
)

// windowEvents lists the windows of a zone's grasses as events of a calendar:
// those with both ends that touch this year or open within twelve months.
//
// An event is named for zone, grass, window and year, never for its dates: it
// stays the same event when the dates that are expected of it move. What is not
// settled is tentative. Its information is revised with every issue; since a
// calendar is made from files alone, the number of the revision is that of the
// weeks since the year before its own, which never falls.
func (v viewer) windowEvents(z *issue.Zone, date civil.Date) []calendarEvent {
	var out []calendarEvent
	for _, g := range z.Grasses {
		if g.Year == nil {
			continue
		}
		for _, w := range g.Year.Windows {
			for _, in := range w.Instances {
				out = append(out, v.windowEvent(z, g, w, in, date))
			}
		}
	}
	return out
}

func (v viewer) windowEvent(z *issue.Zone, g *issue.Grass, w issue.YearWindow, in season.Instance, date civil.Date) calendarEvent {
	first, end := in.Opens.When.Date, in.Closes.When.Date
	ev := calendarEvent{
		uid:   fmt.Sprintf("window.%s.%s.%s.%d@%s", z.ID, g.Profile.ID, w.Window.ID, in.Year, v.ws.Site.FeedDomain),
		first: first, end: end, revised: date,
		sequence: int(date-civil.MustDate(in.Year-1, 1, 1)) / 7,
		category: v.must("calendar_window", "category"), page: "year/", status: tentative,
	}
	name := "likely"
	if settled(in) {
		ev.status, name = confirmed, "settled"
	}
	summary := v.say("calendar_window."+name, "title", w.Window.Title, "grass", g.Profile.Name)
	lines := []string{v.say("year.first_day", "when", v.endMoment(in.Opens, 0)), v.say("year.last_day", "when", v.endMoment(in.Closes, -1))}
	if u := w.Usual; u.Opens.Event.Event.Kind != "" && (in.Opens.Basis != season.Usual || in.Closes.Basis != season.Usual) {
		lines = append(lines, v.say("calendar_window.usual",
			"opens", v.usual(u.Opens.Event, w.Window.Opens.OffsetDays), "closes", v.usual(u.Closes.Event, w.Window.Closes.OffsetDays-1)))
	}
	if p := w.Window.Printed; p != nil {
		from, to := p.Window.Span(leapYear)
		lines = append(lines, v.say("year.printed", "first", monthDay(from), "last", monthDay(to), "place", p.Place)+" "+v.cited(p.Cite.Source, p.Cite.Standing))
	}
	for _, part := range v.windowLaw(z, w.Window.Uses, first, end-1, date) {
		lines = append(lines, part.Text)
	}
	if parts := v.closedParts(z.Places, nutrients(w.Window.Uses), first, end-1, date); len(parts) > 0 {
		summary = v.say("calendar_window.closed", "summary", summary)
		lines = append(lines, v.must("calendar_window", "others"))
	}
	lines = append(lines, v.cited(w.Window.Cite.Source, w.Window.Cite.Standing))
	for _, c := range v.cautionsOf(false, w.Window.Uses...) {
		lines = append(lines, c.Short)
	}
	lines = append(lines, v.must("calendar_window", "weekly"), v.ws.Site.BaseURL+"/zones/"+z.ID+"/")
	if len(nutrients(w.Window.Uses)) > 0 {
		lines = append(lines, v.must("calendar", "ask"))
	}
	if v.ws.Site.Demo {
		lines = append(lines, v.must("calendar", "invented"))
	}
	for i := range lines {
		lines[i] = calendarText(lines[i])
	}
	ev.summary, ev.description = calendarText(v.inventedIf(v.ws.Site.Demo, summary)), strings.Join(lines, "\n")
	return ev
}

// cited names a source in plain text.
func (v viewer) cited(id string, standing turf.Standing) string {
	s := v.source(id, standing)
	name := s.Label
	if s.Standing != "" {
		name += " (" + s.Standing + ")"
	}
	return v.say("calendar_window.source", "source", name)
}
