package publish

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"regexp"
	"slices"
	"strings"
	"unicode"

	ics "github.com/arran4/golang-ical"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
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
func (e *press) calendarJobs() []job {
	var jobs []job
	for i, z := range e.pressed.Zones {
		events := e.dates[i]
		if len(events) == 0 {
			continue // the standard wants at least one event in a calendar
		}
		jobs = append(jobs, fileJob(calendarAddress(z.ID), func(e *press) ([]byte, error) { return e.calendar(z, events) }))
	}
	return jobs
}

// addCalendars finds what the calendars of the pressed week's zones hold and
// links them from the zones' views.
func (e *press) addCalendars() {
	for i, z := range e.pressed.Zones {
		events := append(e.closedEvents(z), e.windowEvents(z, e.pressed.Date)...)
		slices.SortFunc(events, func(a, b calendarEvent) int { return cmp.Or(cmp.Compare(a.first, b.first), cmp.Compare(a.uid, b.uid)) })
		e.dates = append(e.dates, events)
		if len(events) > 0 {
			e.now.Zones[i].Calendar, e.now.Zones[i].Subscription = calendarAddress(z.ID), subscription(e.Site.BaseURL, z.ID)
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
func (e *press) calendar(z *bulletin.Zone, events []calendarEvent) ([]byte, error) {
	s := e.Site
	cal := ics.NewCalendarFor("Ligule")
	cal.SetProductId("-//Ligule//Lawn advisory//EN")
	cal.SetCalscale("GREGORIAN")
	name := calendarText(z.CalendarName.String())
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

// closedEvents lists the closed seasons of a zone as events.
func (e *press) closedEvents(z *bulletin.Zone) []calendarEvent {
	var out []calendarEvent
	taken := map[string]bool{}
	for _, s := range z.Closed {
		id := "closed-" + z.ID + "-" + slug(s.Place) + "-" + s.First.String()
		for n := 2; taken[id]; n++ {
			id = fmt.Sprintf("closed-%s-%s-%s-%d", z.ID, slug(s.Place), s.First, n)
		}
		taken[id] = true
		out = append(out, calendarEvent{
			uid: id + "@" + e.Site.FeedDomain, first: s.First, end: s.Last + 1, revised: s.Revised, category: s.Category.String(),
			summary: calendarText(s.Title.String()), description: strings.Join(linesOf(s.Lines), "\n"),
		})
	}
	return out
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
	return strings.Trim(notSlug.ReplaceAllString(strings.ToLower(name), "-"), "-")
}

var notSlug = regexp.MustCompile(`[^a-z0-9]+`)
