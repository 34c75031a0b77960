package publish

import (
	"encoding/xml"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/issue"
	"ligule/internal/law"
)

// A feed holds twenty issues, the newest first, and is dated by the newest.
func TestEdgesOfAFeed(t *testing.T) {
	w := newWorld(t, nil)
	last := w.issues[1]
	items := func(issues int) rssFile {
		w.issues = nil
		for i := range issues {
			older := *last
			older.Week = last.Week.AddWeeks(i + 1 - issues)
			older.Date = w.ws.Site.IssueDate(older.Week)
			w.issues = append(w.issues, &older)
		}
		var f rssFile
		require.NoError(t, xml.Unmarshal(feedFiles(w.render(t))["zones/brackmoor/feed.xml"], &f))
		return f
	}
	for issues, want := range map[int]int{1: 1, 20: 20, 21: 20} {
		f := items(issues)
		assert.Len(t, f.Channel.Items, want, "%d issues", issues)
		assert.Equal(t, f.Channel.Items[0].PubDate, f.Channel.LastBuildDate, "%d issues", issues)
		assert.True(t, strings.HasSuffix(f.Channel.Items[0].GUID.ID, last.Week.String()), "%d issues", issues)
		assert.Equal(t, 720, f.Channel.TTL)
	}
}

// The feed of local rules announces what comes within fourteen days, from the day
// after an issue on; it holds sixty notices.
func TestEdgesOfTheFeedOfLocalRules(t *testing.T) {
	w := closedWorld(t)
	closes := civil.MustDate(2026, 6, 1)
	for ahead, want := range map[int]bool{0: false, 1: true, 14: true, 15: false} {
		w.issues = []*issue.Issue{w.issueOn(closes.AddDays(-ahead))}
		got := false
		for _, id := range guids(t, lawFeedOf(t, w)) {
			got = got || id == "wendrake-rainy-season/rainy-season/closes/2026-06-01"
		}
		assert.Equal(t, want, got, "%d days ahead", ahead)
	}
	due := civil.MustDate(2026, 10, 5)
	for ahead, want := range map[int]string{15: "", 14: "due", 0: "due", -1: "past"} {
		w.issues = []*issue.Issue{w.issueOn(due.AddDays(-ahead))}
		got := ""
		for _, id := range guids(t, lawFeedOf(t, w)) {
			if rest, ok := strings.CutPrefix(id, "ivelsay-reservoir/review/"); ok {
				got, _, _ = strings.Cut(rest, "/")
			}
		}
		assert.Equal(t, want, got, "%d days ahead", ahead)
	}

	e, err := newEdition(w.ws, w.issues, files())
	require.NoError(t, err)
	for n, want := range map[int]int{60: 60, 61: 60} {
		var notices []lawNotice
		for i := range n {
			notices = append(notices, lawNotice{id: fmt.Sprint(i), title: "t", lines: []string{"l"}, address: "/local-rules/"})
		}
		body, err := e.printer.lawFeed(notices)
		require.NoError(t, err)
		assert.Equal(t, want, strings.Count(string(body), "<item>"), "%d notices", n)
	}
}

// A sitemap lists up to fifty thousand pages.
func TestEdgesOfASitemap(t *testing.T) {
	_, err := sitemap("https://lawns.example.org", make([]listed, 50_000))
	require.NoError(t, err)
	_, err = sitemap("https://lawns.example.org", make([]listed, 50_001))
	require.Error(t, err)
}

// A letter has ninety thousand bytes at the most, and its preview ninety
// characters.
func TestEdgesOfALetter(t *testing.T) {
	w := newWorld(t, func(s string) string { return s + strings.Repeat(" and more", 12) })
	e, err := newEdition(w.ws, w.issues, files())
	require.NoError(t, err)
	shore := e.now.Zones[2]
	clipped := 0
	for _, grasses := range []int{1, 10, 20, 40, 80, 160} {
		zone := *shore
		zone.Grasses = nil
		for range grasses {
			zone.Grasses = append(zone.Grasses, shore.Grasses[0])
		}
		lv, err := e.printer.letter("letter-zone", letterData{Name: zone.Name, Week: zone.Week, Address: zone.Address, Zone: &zone})
		require.NoError(t, err)
		assert.LessOrEqual(t, len(lv.Letter), 90_000, "%d grasses", grasses)
		n := utf8.RuneCountInString(lv.Preview)
		assert.LessOrEqual(t, n, 90, lv.Preview)
		if n > 80 {
			clipped++
		}
	}
	assert.Positive(t, clipped, "a preview that would be longer")
}

// A calendar ends a closed season on the day after its last, begins it on its true
// first one, and holds those of this year and the next.
func TestEdgesOfClosedSeasonsInACalendar(t *testing.T) {
	w := newWorld(t, nil)
	first, last := civil.MustDate(2024, 3, 1), civil.MustDate(2026, 1, 1)
	rule := law.Rule{ID: "long", Topic: "window", Effect: "ban", Targets: []string{"N"}, Binds: []law.Actor{"all"}}
	events := func(date civil.Date, from, to civil.Date) []calendarEvent {
		r := rule
		r.When = []law.When{{Kind: "dates", From: from, To: to, Bounds: "[]"}}
		record := *w.ws.Ordinances[0]
		record.Rules, record.ReviewMonths = []law.Rule{r}, 600
		w.ws.Law = law.NewBook([]*law.Record{&record}, w.ws.Places)
		e, err := newEdition(w.ws, w.issues, files())
		require.NoError(t, err)
		return e.closedEvents(w.ws.Zones[2], date)
	}
	date := civil.MustDate(2026, 4, 1)
	got := events(date, first, last)
	require.Len(t, got, 1, "its last day is January 1")
	assert.Equal(t, []civil.Date{first, last + 1}, []civil.Date{got[0].first, got[0].end})
	assert.Empty(t, events(date, first, last-1), "it ended with last year")
	assert.Len(t, events(date, civil.MustDate(2027, 12, 31), civil.MustDate(2028, 2, 1)), 1)
	assert.Empty(t, events(date, civil.MustDate(2028, 1, 1), civil.MustDate(2028, 2, 1)))
}
