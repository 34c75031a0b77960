package publish

import (
	"encoding/xml"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/message"
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

// The feed of local rules holds sixty notices.
func TestEdgesOfTheFeedOfLocalRules(t *testing.T) {
	w := newWorld(t, nil)
	e, err := newPress(w.publication(), files())
	require.NoError(t, err)
	says := message.Say(message.Written("x"))
	for n, want := range map[int]int{60: 60, 61: 60} {
		var notices []lawNotice
		for i := range n {
			notices = append(notices, lawNotice{LawNotice: bulletin.LawNotice{ID: fmt.Sprint(i), Body: "here", Title: says, Lines: []*message.Said{says}}})
		}
		body, err := e.printer.lawFeed(notices, func(id string) string { return id })
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
	e, err := newPress(w.publication(), files())
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

// A calendar ends a closed season on the day after its last.
func TestEdgesOfClosedSeasonsInACalendar(t *testing.T) {
	says := message.Say(message.Written("x"))
	first, last := civil.MustDate(2026, 6, 1), civil.MustDate(2026, 9, 30)
	z := &bulletin.Zone{ID: "z", Closed: []bulletin.ClosedSeason{{Place: "P", First: first, Last: last, Title: says, Category: says}}}
	events := (&press{Publication: &Publication{}}).closedEvents(z)
	require.Len(t, events, 1)
	assert.Equal(t, []civil.Date{first, last + 1}, []civil.Date{events[0].first, events[0].end})
}
