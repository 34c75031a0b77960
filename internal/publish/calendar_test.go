package publish

import (
	"bytes"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/law"
)

// closedWorld is the fixture with the demonstration's laws over one zone, whose
// second place has a name that calendars must escape and fold.
func closedWorld(t *testing.T) world {
	t.Helper()
	w := newWorld(t, nil)
	var list diag.List
	var records []*law.Record
	for _, name := range []string{"ossamere-lawn-nutrients", "wendrake-rainy-season"} {
		text, err := os.ReadFile("../../data/ordinances/" + name + ".toml")
		require.NoError(t, err)
		root, ok := diag.ReadTOML(name, text, &list)
		require.True(t, ok)
		records = append(records, law.ReadRecord(root))
	}
	require.NoError(t, list.Err())
	w.ws.Law = law.NewBook(records, []law.Jurisdiction{{ID: "ossamere", Level: "state"}, {ID: "wendrake-county", Level: "county", Parent: "ossamere"}})
	for _, iss := range w.issues {
		for _, z := range iss.Zones {
			if z.ID == "gannet-shore" {
				z.Zone.Places = []law.Place{
					{Name: "the shore", Chain: []string{"ossamere", "wendrake-county"}},
					{Name: "St. Anne; north, and the éclair flats beyond the river that nobody ever named well", Chain: []string{"ossamere"}},
				}
			}
		}
	}
	return w
}

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
	_, ok = newWorld(t, nil).render(t).Find("zones/gannet-shore/calendar.ics")
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
		raw := f.Body
		require.True(t, utf8.Valid(raw))
		assert.True(t, bytes.HasSuffix(raw, []byte("END:VCALENDAR\r\n")), "the last line is ended too")
		assert.Zero(t, bytes.Count(bytes.ReplaceAll(raw, []byte("\r\n"), nil), []byte("\n")), "no bare line feed")
		assert.Zero(t, bytes.Count(bytes.ReplaceAll(raw, []byte("\r\n"), nil), []byte("\r")), "no bare return")
		for _, l := range bytes.Split(raw, []byte("\r\n")) {
			assert.LessOrEqual(t, len(l), 75, "%s", l)
			assert.True(t, utf8.Valid(l), "folded inside a character: %s", l)
		}
		lines := unfold(raw)
		assert.Equal(t, "BEGIN:VCALENDAR", lines[0])
		all := strings.Join(lines, "\n")
		for _, want := range []string{"\nVERSION:2.0\n", "\nPRODID:", "\nCALSCALE:GREGORIAN\n", "\nNAME:", "\nX-WR-CALNAME:", "\nREFRESH-INTERVAL;VALUE=DURATION:P1D\n", "\nX-PUBLISHED-TTL:P1D\n"} {
			assert.Equal(t, 1, strings.Count(all, want), want)
		}
		assert.NotContains(t, all, "METHOD:")
		assert.NotContains(t, all, "VALARM")
		var last string
		for _, block := range regexp.MustCompile(`(?s)BEGIN:VEVENT\n(.*?)END:VEVENT`).FindAllStringSubmatch(all, -1) {
			events++
			one := func(name, form string) string {
				m := regexp.MustCompile(`(?m)^`+name+form+`$`).FindAllStringSubmatch(block[1], -1)
				require.Len(t, m, 1, "%s of %s", name, block[1])
				return m[0][1]
			}
			uid := one("UID:", `([^ ]+@[a-z.]+)`)
			assert.False(t, uids[uid], "%s twice", uid)
			uids[uid] = true
			one("DTSTAMP:", `(\d{8}T\d{6}Z)`)
			one("SUMMARY:", `(.+)`)
			one("TRANSP:", `(TRANSPARENT)`)
			one("URL:", `(https://.+)`)
			description := one("DESCRIPTION:", `(.+)`)
			assert.NotRegexp(t, `[^\\][,;]`, description, "commas and semicolons are escaped")
			assert.Contains(t, description, "law")
			start, err := time.Parse("20060102", one("DTSTART;VALUE=DATE:", `(\d{8})`))
			require.NoError(t, err)
			end, err := time.Parse("20060102", one("DTEND;VALUE=DATE:", `(\d{8})`))
			require.NoError(t, err)
			assert.True(t, end.After(start))
			assert.LessOrEqual(t, last, start.Format("20060102"), "in order of their first day")
			last = start.Format("20060102")
		}
	}
	assert.Positive(t, found)
	assert.Positive(t, events)
}

func TestSlug(t *testing.T) {
	for name, want := range map[string]string{"the unincorporated shore": "the-unincorporated-shore", "  St. Anne’s / North ": "st-anne-s-north", "é": ""} {
		assert.Equal(t, want, slug(name), name)
	}
}
