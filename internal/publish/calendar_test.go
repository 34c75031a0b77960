package publish

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/watering"
)

// What the calendar of a zone must hold of two laws: each closed season of
// this year and next once, in full, with both ends.
func TestCalendarHoldsTheClosedSeasons(t *testing.T) {
	w := closedWorld(t)
	f, ok := w.render(t).Find("zones/gannet-shore/calendar.ics")
	require.True(t, ok)
	all := strings.Join(unfold(f.Body), "\n")
	year := w.issues[len(w.issues)-1].Date.Year()
	for _, want := range []string{
		fmt.Sprintf("DTSTART;VALUE=DATE:%d0601\nDTEND;VALUE=DATE:%d1001\n", year, year),     // June 1 through September 30
		fmt.Sprintf("DTSTART;VALUE=DATE:%d1116\nDTEND;VALUE=DATE:%d0301\n", year-1, year),   // a winter that began last year
		fmt.Sprintf("DTSTART;VALUE=DATE:%d1116\nDTEND;VALUE=DATE:%d0301\n", year+1, year+2), // and one that ends after next year
		fmt.Sprintf("UID:closed-gannet-shore-the-shore-%d-06-01@lawns.example.org\n", year),
	} {
		assert.Contains(t, all, want)
	}
	assert.Contains(t, all, `St. Anne\; north\, and the éclair flats`)
	_, ok = plain(t).Find("zones/brackmoor/calendar.ics")
	assert.False(t, ok, "a calendar without an event is none")
}

// unfold joins folded lines: RFC 5545 section 3.1.
func unfold(body []byte) []string {
	return strings.Split(strings.TrimSuffix(strings.ReplaceAll(string(body), "\r\n ", ""), "\r\n"), "\r\n")
}

// Every calendar keeps the letter of RFC 5545, which parsers forgive and some
// calendar programs do not.
func TestCalendarsKeepTheStandard(t *testing.T) {
	site := closedWorld(t).render(t)
	uids := map[string]bool{}
	found, events := 0, 0
	for _, f := range site.Files {
		if !strings.HasSuffix(f.Path, ".ics") {
			continue
		}
		found++
		events += checkCalendar(t, f.Body, uids)
	}
	assert.Positive(t, found)
	assert.Positive(t, events)
}

// checkCalendar holds one calendar to the letter of RFC 5545, sections 3.1, 3.3.11
// and 3.6.1, line by line, and counts its events, whose names must be new.
func checkCalendar(t *testing.T, raw []byte, uids map[string]bool) (events int) {
	t.Helper()
	require.True(t, utf8.Valid(raw))
	assert.True(t, bytes.HasSuffix(raw, []byte("END:VCALENDAR\r\n")), "the last line is ended too")
	rest := bytes.ReplaceAll(raw, []byte("\r\n"), nil)
	assert.Zero(t, bytes.Count(rest, []byte("\n")), "no bare line feed")
	assert.Zero(t, bytes.Count(rest, []byte("\r")), "no bare return")
	for _, l := range bytes.Split(raw, []byte("\r\n")) {
		assert.LessOrEqual(t, len(l), 75, "%s", l)
		assert.True(t, utf8.Valid(l), "folded inside a character: %s", l)
	}
	lines := unfold(raw)
	require.Equal(t, "BEGIN:VCALENDAR", lines[0])
	require.Equal(t, "END:VCALENDAR", lines[len(lines)-1])
	head, event := map[string]string{}, map[string]string(nil)
	last := ""
	for _, l := range lines[1 : len(lines)-1] {
		name, value, ok := strings.Cut(l, ":")
		require.True(t, ok, "%q", l)
		assert.Regexp(t, `^[A-Z-]+(;VALUE=(DATE|DURATION))?$`, name)
		assert.NotEmpty(t, value, name)
		switch {
		case l == "BEGIN:VEVENT":
			require.Nil(t, event, "an event within an event")
			event = map[string]string{}
		case l == "END:VEVENT":
			events++
			last = checkEvent(t, event, uids, last)
			event = nil
		case name == "BEGIN" || name == "END":
			require.Fail(t, "no other component", "%q", l)
		case event != nil:
			assert.NotContains(t, event, name, "each property once")
			event[name] = value
		default:
			assert.Zero(t, events, "%s after an event", name)
			assert.NotContains(t, head, name, "each property once")
			head[name] = value
		}
	}
	require.Nil(t, event, "every event is ended")
	assert.ElementsMatch(t, []string{"VERSION", "PRODID", "CALSCALE", "NAME", "X-WR-CALNAME", "REFRESH-INTERVAL;VALUE=DURATION", "X-PUBLISHED-TTL"},
		slices.Collect(maps.Keys(head)), "no method, no clock")
	assert.Equal(t, "2.0", head["VERSION"])
	assert.Equal(t, "GREGORIAN", head["CALSCALE"])
	assert.Equal(t, "P1D", head["REFRESH-INTERVAL;VALUE=DURATION"])
	assert.Equal(t, "P1D", head["X-PUBLISHED-TTL"])
	assert.Equal(t, head["NAME"], head["X-WR-CALNAME"])
	checkCalendarText(t, head["NAME"])
	return events
}

// checkEvent checks one event and returns what it is sorted by.
func checkEvent(t *testing.T, event map[string]string, uids map[string]bool, last string) string {
	t.Helper()
	want := []string{"UID", "DTSTAMP", "DTSTART;VALUE=DATE", "DTEND;VALUE=DATE", "SUMMARY", "DESCRIPTION", "URL", "TRANSP", "CATEGORIES"}
	uid := event["UID"]
	if strings.HasPrefix(uid, "window.") {
		want = append(want, "STATUS", "SEQUENCE")
		assert.Regexp(t, `^window(\.[a-z0-9-]+){3}\.\d{4}@[a-z0-9.-]+$`, uid)
		assert.Regexp(t, `^\d+$`, event["SEQUENCE"])
		assert.Contains(t, []string{"TENTATIVE", "CONFIRMED"}, event["STATUS"])
	} else {
		assert.Regexp(t, `^closed-[a-z0-9-]+-\d{4}-\d\d-\d\d(-\d+)?@[a-z0-9.-]+$`, uid)
	}
	assert.ElementsMatch(t, want, slices.Collect(maps.Keys(event)))
	assert.False(t, uids[uid], "%s twice", uid)
	uids[uid] = true
	_, err := time.Parse("20060102T150405Z", event["DTSTAMP"])
	assert.NoError(t, err)
	start, err := time.Parse("20060102", event["DTSTART;VALUE=DATE"])
	require.NoError(t, err)
	end, err := time.Parse("20060102", event["DTEND;VALUE=DATE"])
	require.NoError(t, err)
	assert.True(t, end.After(start))
	assert.Equal(t, "TRANSPARENT", event["TRANSP"])
	assert.Regexp(t, `^https://[!-~]+$`, event["URL"])
	for _, name := range []string{"SUMMARY", "DESCRIPTION", "CATEGORIES"} {
		checkCalendarText(t, event[name])
	}
	assert.Contains(t, event["SUMMARY"], "(lawfeed invented)")
	assert.Contains(t, event["DESCRIPTION"], "calendar invented")
	order := event["DTSTART;VALUE=DATE"] + " " + uid
	assert.Less(t, last, order, "in order of first days, then names")
	return order
}

// checkCalendarText: a backslash stands only before what it escapes, and what
// must be escaped is.
func checkCalendarText(t *testing.T, text string) {
	t.Helper()
	assert.Regexp(t, `^([^\\;,\x00-\x1f\x7f]|\\[\\;,n])+$`, text)
}

func TestSlug(t *testing.T) {
	for name, want := range map[string]string{"the unincorporated shore": "the-unincorporated-shore", "  St. Anne’s / North ": "st-anne-s-north", "é": ""} {
		assert.Equal(t, want, slug(name), name)
	}
}

func calendarOf(t *testing.T, w world) []byte {
	t.Helper()
	f, ok := w.render(t).Find("zones/gannet-shore/calendar.ics")
	require.True(t, ok)
	assert.True(t, f.Entry)
	return f.Body
}

// An event says which laws close it, for which days each, how each is known and
// where to read it, and that it is invented.
func TestCalendarEventsNameEachLaw(t *testing.T) {
	w := closedWorld(t)
	w.issues = []*bulletin.Region{w.issueOn(civil.MustDate(2026, 11, 8))}
	w.place(w.issues[0].Zones[2].ID).Places = []law.Place{{Name: "the watershed", Chain: []string{"ossamere", "ivelsay-district"}}}
	all := strings.Join(unfold(calendarOf(t, w)), "\n")
	_, winter, ok := strings.Cut(all, "UID:closed-gannet-shore-the-watershed-2026-10-25@lawns.example.org\n")
	require.True(t, ok, all)
	winter, _, _ = strings.Cut(winter, "END:VEVENT")
	assert.Contains(t, winter, "DTSTAMP:20260112T000000Z\n", "when the newest of its laws was read")
	assert.Contains(t, winter, "DTSTART;VALUE=DATE:20261025\nDTEND;VALUE=DATE:20270314\n")
	assert.Contains(t, winter, "SUMMARY:calendar closed the watershed (lawfeed invented)\n")
	assert.Contains(t, winter, `calendar law Reservoir Rule 3 r. 3.2 October 25\, 2026 March 13\, 2027 law check secondary October 5\, 2025 calendar stale https://law.example.invalid/ivelsay/r3\n`)
	assert.Contains(t, winter, `calendar law Lawn Nutrient Act 14-209(a) November 16\, 2026 February 28\, 2027 law check verified January 12\, 2026 https://law.example.invalid/oss/14-207\ncalendar invented\ncalendar others\ncalendar ask`)
	assert.Contains(t, winter, "URL:https://lawns.example.org/almanac/zones/gannet-shore/\n")
	assert.Contains(t, winter, "CATEGORIES:calendar category\n")
}

// An event keeps its name from year to year, though its first day lies before
// all that a calendar shows.
func TestCalendarEventsKeepTheirNames(t *testing.T) {
	w := closedWorld(t)
	always := *w.ws.Ordinances[1]
	always.EffectiveFrom = civil.MustDate(2011, 10, 1)
	always.Rules = slices.Clone(always.Rules[:1])
	always.Rules[0].When = nil
	w.ws.Law, w.ws.WaterLaw = law.NewBook([]*law.Record{w.ws.Ordinances[0], &always}, w.ws.Places), watering.NewBook(nil, nil)
	var before map[string]bool
	for _, day := range []civil.Date{civil.MustDate(2026, 3, 1), civil.MustDate(2026, 12, 27), civil.MustDate(2027, 1, 3), civil.MustDate(2027, 9, 5)} {
		asked := world{ws: w.ws, issues: []*bulletin.Region{w.issueOn(day)}}
		uids := map[string]bool{}
		for _, l := range unfold(calendarOf(t, asked)) {
			if uid, ok := strings.CutPrefix(l, "UID:"); ok {
				uids[uid] = true
			}
		}
		assert.True(t, uids["closed-gannet-shore-the-shore-2011-10-01@lawns.example.org"], "%s: %v", day, uids)
		shared := 0
		for uid := range uids {
			if before[uid] {
				shared++
			}
		}
		if before != nil {
			assert.GreaterOrEqual(t, shared, 2, "%s: the winter of both years and the standing ban", day)
		}
		before = uids
	}
}

// Nothing that an author types can add a line to a calendar.
func TestHostileNamesInCalendars(t *testing.T) {
	const name = "St. Anne\r\nEND:VEVENT\nBEGIN:VALARM\x07\t; , \\n \\ \u0085 " + hostile
	site := newWorld(t, func(s string) string { return s + name }).render(t)
	f, ok := site.Find("zones/gannet-shore/calendar.ics")
	require.True(t, ok)
	assert.Equal(t, 3, checkCalendar(t, f.Body, map[string]bool{}), "three winters touch two years")
	assert.Contains(t, strings.Join(unfold(f.Body), "\n"), `St. Anne  END:VEVENT BEGIN:VALARM  \; \, \\n \\   <script>alert("x")</script> & 'q' "Q"`)
}

// The calendar is linked where people look for it, to download and to follow.
func TestCalendarsAreLinked(t *testing.T) {
	site := plain(t)
	for _, path := range []string{"zones/gannet-shore/index.html", "subscribe/index.html"} {
		p := findPage(t, site, path)
		p.one(t, `a[href="webcal://lawns.example.org/almanac/zones/gannet-shore/calendar.ics"]`)
		up := strings.Repeat("../", strings.Count(path, "/"))
		p.one(t, `a[href="`+up+`zones/gannet-shore/calendar.ics"]`)
		assert.Empty(t, p.all(`a[href*="brackmoor/calendar.ics"]`), "no link to a calendar that is not there")
	}
}
