package publish

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	ics "github.com/arran4/golang-ical"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/workspace"
)

// calendarRefresh is how often a calendar program should ask again.
const calendarRefresh = "P1D"

// closedEvent is one run of closed days at a place, for a calendar.
type closedEvent struct {
	uid         string
	first, end  civil.Date // end is the day after the last: calendars end all-day events so
	revised     civil.Date // when the newest of its laws was read
	summary     string
	description string
}

// calendarJobs make /zones/<zone>/calendar.ics: the closed seasons of this year
// and next at every place of the zone.
func (e *edition) calendarJobs() []job {
	var jobs []job
	for _, z := range e.pressed.Zones {
		// The standard wants at least one event in a calendar.
		if len(e.closedEvents(z.Zone, e.pressed.Date)) == 0 {
			continue
		}
		jobs = append(jobs, job{print: func(e *edition) ([]File, error) {
			body, err := e.calendar(z.Zone)
			if err != nil {
				return nil, err
			}
			return []File{{Path: filePath(calendarAddress(z.ID)), Body: body}}, nil
		}})
	}
	return jobs
}

func calendarAddress(zone string) string { return "/zones/" + zone + "/calendar.ics" }

// subscription is the address by which calendar programs follow a calendar. The
// template package would refuse the scheme; nothing but the configured base
// address and an id goes into it.
func subscription(baseURL, zone string) template.URL {
	_, rest, _ := strings.Cut(baseURL, "://")
	return template.URL("webcal://" + rest + calendarAddress(zone))
}

// calendar writes one zone's calendar by RFC 5545 (Desruisseaux 2009), with the
// names and refresh times of RFC 7986 (Daboo 2016).
func (e *edition) calendar(z *workspace.Zone) ([]byte, error) {
	s := e.ws.Site
	cal := ics.NewCalendarFor("Ligule")
	cal.SetProductId("-//Ligule//Lawn advisory//EN")
	cal.SetCalscale("GREGORIAN")
	name := e.say("calendar.name", "zone", z.Name, "title", s.Title)
	cal.SetName(name)
	cal.SetXWRCalName(name)
	cal.SetRefreshInterval(calendarRefresh)
	cal.SetXPublishedTTL(calendarRefresh)
	address := s.BaseURL + "/zones/" + z.ID + "/"
	for _, ev := range e.closedEvents(z, e.pressed.Date) {
		event := cal.AddEvent(ev.uid)
		// Without a method the stamp is when the information was last revised,
		// which is when its law was read; never the clock.
		event.SetDtStampTime(ev.revised.Time())
		event.SetAllDayStartAt(ev.first.Time())
		event.SetAllDayEndAt(ev.end.Time())
		event.SetSummary(ev.summary)
		event.SetDescription(ev.description)
		event.SetURL(address)
		event.SetTimeTransparency(ics.TransparencyTransparent)
		event.AddProperty(ics.ComponentPropertyCategories, e.must("calendar", "category"))
	}
	var b bytes.Buffer
	if err := cal.SerializeTo(&b, ics.WithNewLineWindows); err != nil {
		return nil, fmt.Errorf("publish: calendar of %s: %w", z.ID, err)
	}
	return b.Bytes(), nil
}

// closedEvents lists the closed seasons for nitrogen that touch the date's year
// or the next, as a homeowner meets them: by first day, then by name.
func (v viewer) closedEvents(z *workspace.Zone, date civil.Date) []closedEvent {
	year := date.Year()
	from, to := civil.MustDate(year, 1, 1), civil.MustDate(year+1, 12, 31)
	var out []closedEvent
	taken := map[string]bool{}
	for _, place := range z.Places {
		// Looked at wider, so that a season keeps its first and last day.
		for _, span := range v.ws.Law.ClosedSpans(place, law.Homeowner, "N", civil.MustDate(year-1, 1, 1), civil.MustDate(year+2, 12, 31)) {
			if span.Last < from || span.First > to || len(span.Laws) == 0 {
				continue
			}
			ev := closedEvent{first: span.First, end: span.EndExclusive(), summary: v.say("calendar.closed", "place", place.Name)}
			id := "closed-" + z.ID + "-" + slug(place.Name) + "-" + span.First.String()
			for n := 2; taken[id]; n++ {
				id = fmt.Sprintf("closed-%s-%s-%s-%d", z.ID, slug(place.Name), span.First, n)
			}
			taken[id] = true
			ev.uid = id + "@" + v.ws.Site.FeedDomain
			var lines []string
			for _, l := range span.Laws {
				ev.revised = max(ev.revised, l.Record.CheckedOn)
				citation := l.Record.Citation
				if l.Rule != nil && l.Rule.Citation != "" {
					citation = l.Rule.Citation
				}
				lines = append(lines, v.say("calendar.law", "law", l.Record.Title, "citation", citation, "first", longDate(l.First), "last", longDate(l.Last),
					"checked", longDate(l.Record.CheckedOn), "url", l.Record.SourceURL))
				if l.Record.Fictional {
					lines = append(lines, v.must("calendar", "invented"))
				}
			}
			lines = append(lines, v.must("calendar", "ask"))
			ev.description = strings.Join(slices.Compact(lines), "\n")
			out = append(out, ev)
		}
	}
	slices.SortFunc(out, func(a, b closedEvent) int { return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.uid, b.uid)) })
	return out
}

// slug turns a name into lower-case words joined by hyphens, for ids.
func slug(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(name) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-")
}
