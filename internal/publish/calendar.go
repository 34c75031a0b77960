package publish

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"
	"unicode"

	ics "github.com/arran4/golang-ical"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/workspace"
)

// calendarRefresh is how often a calendar program should ask again.
const calendarRefresh = "P1D"

// calendarEvent is a run of days in a calendar: closed days at a place, or a
// window of a grass.
type calendarEvent struct {
	uid         string
	first, end  civil.Date // end is the day after the last: calendars end all-day events so
	revised     civil.Date // when what it says was last revised
	sequence    int        // number of the revision; 0 for closed days, which are named for their first
	status      eventStatus
	summary     string
	description string
	category    string
	page        string // of the zone, under its address
}

// eventStatus is how sure an event is. Closed days are law: they have none.
type eventStatus string

const (
	confirmed eventStatus = "CONFIRMED"
	tentative eventStatus = "TENTATIVE"
)

// calendarJobs make /zones/<zone>/calendar.ics: the closed seasons of this year
// and next at every place of the zone, and the windows of its grasses.
func (e *edition) calendarJobs() []job {
	var jobs []job
	for i, z := range e.pressed.Zones {
		events := e.dates[i]
		if len(events) == 0 {
			continue // the standard wants at least one event in a calendar
		}
		jobs = append(jobs, job{print: func(e *edition) ([]File, error) {
			body, err := e.calendar(z.Zone, events)
			if err != nil {
				return nil, err
			}
			return []File{{Path: filePath(calendarAddress(z.ID)), Body: body, Entry: true}}, nil
		}})
	}
	return jobs
}

// addCalendars finds what the calendars of the pressed week's zones hold and
// links them from the zones' views.
func (e *edition) addCalendars() {
	for i, z := range e.pressed.Zones {
		events := append(e.closedEvents(z.Zone, e.pressed.Date), e.windowEvents(z, e.pressed.Date)...)
		slices.SortFunc(events, func(a, b calendarEvent) int { return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.uid, b.uid)) })
		e.dates = append(e.dates, events)
		if len(events) > 0 {
			e.now.Zones[i].Calendar, e.now.Zones[i].Subscription = calendarAddress(z.ID), subscription(e.ws.Site.BaseURL, z.ID)
		}
	}
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
func (e *edition) calendar(z *workspace.Zone, events []calendarEvent) ([]byte, error) {
	s := e.ws.Site
	cal := ics.NewCalendarFor("Ligule")
	cal.SetProductId("-//Ligule//Lawn advisory//EN")
	cal.SetCalscale("GREGORIAN")
	name := calendarText(e.inventedIf(s.Demo, e.say("calendar.name", "zone", z.Name, "title", s.Title)))
	cal.SetName(name)
	cal.SetXWRCalName(name)
	cal.SetRefreshInterval(calendarRefresh)
	cal.SetXPublishedTTL(calendarRefresh)
	address := s.BaseURL + "/zones/" + z.ID + "/"
	for _, ev := range events {
		event := cal.AddEvent(ev.uid)
		// Without a method the stamp is when the information was last revised:
		// when its law was read, or with the issue; never the clock.
		event.SetDtStampTime(ev.revised.Time())
		event.SetAllDayStartAt(ev.first.Time())
		event.SetAllDayEndAt(ev.end.Time())
		event.SetSummary(ev.summary)
		event.SetDescription(ev.description)
		event.SetURL(address + ev.page)
		event.SetTimeTransparency(ics.TransparencyTransparent)
		event.AddProperty(ics.ComponentPropertyCategories, ev.category)
		if ev.status != "" {
			event.SetStatus(ics.ObjectStatus(ev.status))
			event.SetSequence(ev.sequence)
		}
	}
	var b bytes.Buffer
	if err := cal.SerializeTo(&b, ics.WithNewLineWindows); err != nil {
		return nil, fmt.Errorf("publish: calendar of %s: %w", z.ID, err)
	}
	return b.Bytes(), nil
}

// closedEvents lists the closed seasons for nitrogen that touch the date's year
// or the next, as a homeowner meets them.
func (v viewer) closedEvents(z *workspace.Zone, date civil.Date) []calendarEvent {
	year := date.Year()
	from, to := civil.MustDate(year, 1, 1), civil.MustDate(year+1, 12, 31)
	var out []calendarEvent
	taken := map[string]bool{}
	for _, place := range z.Places {
		for _, span := range v.seasons(place, asked{law.Homeowner, "N"}, from, to, date) {
			ev := calendarEvent{first: span.First, end: span.EndExclusive(), category: v.must("calendar", "category")}
			id := "closed-" + z.ID + "-" + slug(place.Name) + "-" + span.First.String()
			for n := 2; taken[id]; n++ {
				id = fmt.Sprintf("closed-%s-%s-%s-%d", z.ID, slug(place.Name), span.First, n)
			}
			taken[id] = true
			ev.uid = id + "@" + v.ws.Site.FeedDomain
			invented := v.ws.Site.Demo
			var lines []string
			for _, l := range span.Laws {
				r := l.Record
				if l.Last < from || l.First > to {
					continue // of a closing that has gone on for longer
				}
				ev.revised, invented = max(ev.revised, r.CheckedOn), invented || r.Fictional
				check := v.say("law_check."+r.Verification, "date", longDate(r.CheckedOn))
				if r.Stale(date) {
					check += " " + v.must("calendar", "stale")
				}
				lines = append(lines, v.say("calendar.law", "law", r.Title, "citation", l.Pinpoint(), "first", longDate(l.First), "last", longDate(l.Last),
					"check", check, "url", r.SourceURL))
			}
			if invented {
				lines = append(lines, v.must("calendar", "invented"))
			}
			lines = append(lines, v.must("calendar", "others"), v.must("calendar", "ask"))
			ev.summary = calendarText(v.inventedIf(invented, v.say("calendar.closed", "place", place.Name)))
			for k := range lines {
				lines[k] = calendarText(lines[k])
			}
			ev.description = strings.Join(lines, "\n")
			out = append(out, ev)
		}
	}
	return out
}

// inventedIf says after a name that what it names is invented, if it is.
func (v viewer) inventedIf(is bool, name string) string {
	if !is {
		return name
	}
	return name + " (" + v.must("lawfeed", "invented") + ")"
}

// calendarText takes the control characters out of a text, which no calendar may
// hold and the library would let pass.
func calendarText(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
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
