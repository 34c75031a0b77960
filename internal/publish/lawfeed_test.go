package publish

import (
	"encoding/xml"
	"slices"
	"strings"
	"testing"

	"github.com/mmcdole/gofeed"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/watering"
)

func lawFeedOf(t *testing.T, w world) rssFile {
	t.Helper()
	site := w.render(t)
	f, ok := site.Find("local-rules/feed.xml")
	require.True(t, ok)
	assert.True(t, f.Entry)
	var feed rssFile
	require.NoError(t, xml.Unmarshal(f.Body, &feed))
	return feed
}

// guids are the ids of a feed's items without what all begin with, oldest first.
func guids(t *testing.T, f rssFile) []string {
	t.Helper()
	var out []string
	for _, item := range f.Channel.Items {
		id, ok := strings.CutPrefix(item.GUID.ID, "tag:lawns.example.org,2026:local-rule/")
		require.True(t, ok, item.GUID.ID)
		out = append(out, id)
	}
	slices.Reverse(out)
	return out
}

// The feed of local rules says two weeks ahead what begins and ends, once, under
// the first issue that says it; a town's second window of a year is not the first.
func TestOwnDesignFeedOfLocalRules(t *testing.T) {
	w := closedWorld(t)
	for _, c := range []struct {
		name   string
		issues []civil.Date
		want   []string
	}{
		{"a closing eight days ahead, said once", []civil.Date{civil.MustDate(2026, 5, 24), civil.MustDate(2026, 5, 31)},
			[]string{"wendrake-rainy-season/rainy-season/closes/2026-06-01"}},
		{"fourteen days ahead, and not fifteen", []civil.Date{civil.MustDate(2026, 11, 1), civil.MustDate(2026, 11, 2)},
			[]string{"ivelsay-reservoir/review/past/2026-10-05", "ossamere-lawn-nutrients/winter-general/closes/2026-11-16"}},
		{"both windows of a town", []civil.Date{civil.MustDate(2026, 4, 12), civil.MustDate(2026, 9, 13)},
			[]string{"thornelby-ponds/two-windows/opens/2026-04-21", "thornelby-ponds/two-windows/opens/2026-09-15"}},
		{"a closing by the clock's change", []civil.Date{civil.MustDate(2026, 10, 18)},
			[]string{"ivelsay-reservoir/review/past/2026-10-05", "ivelsay-reservoir/clock-window/closes/2026-10-25"}},
		{"a review that falls due, then one that is overdue", []civil.Date{civil.MustDate(2026, 9, 27), civil.MustDate(2026, 10, 11)},
			[]string{"wendrake-rainy-season/rainy-season/opens/2026-10-01", "ivelsay-reservoir/review/due/2026-10-05", "ivelsay-reservoir/review/past/2026-10-05", "ivelsay-reservoir/clock-window/closes/2026-10-25"}},
		{"nothing near", []civil.Date{civil.MustDate(2026, 7, 5)}, nil},
		{"a look-up that found none, too old", []civil.Date{civil.MustDate(2027, 2, 7)},
			[]string{"ivelsay-reservoir/review/past/2026-10-05", "ossamere-lawn-nutrients/review/past/2027-01-12", "corvane-county/none_found/due/2027-02-11", "wendrake-rainy-season/review/due/2027-02-17"}},
	} {
		asked := world{ws: w.ws}
		for i, d := range c.issues {
			iss := w.issueOn(d)
			iss.Week = iss.Week.AddWeeks(i) // the feed goes by dates
			asked.issues = append(asked.issues, iss)
		}
		assert.Equal(t, c.want, guids(t, lawFeedOf(t, asked)), c.name)
	}
}

// Every item keeps to the specification, says what, when, for whom, where and on
// what ground, and that it is invented.
func TestFeedOfLocalRulesKeepsToTheSpecification(t *testing.T) {
	w := closedWorld(t)
	w.issues = []*bulletin.Region{w.issueOn(civil.MustDate(2026, 4, 12)), w.issueOn(civil.MustDate(2026, 5, 24)), w.issueOn(civil.MustDate(2026, 9, 20)), w.issueOn(civil.MustDate(2026, 11, 8))}
	site := w.render(t)
	f, ok := site.Find("local-rules/feed.xml")
	require.True(t, ok)
	feed := checkFeed(t, site, f.Path, f.Body)
	for _, item := range feed.Channel.Items {
		assert.Equal(t, "https://lawns.example.org/almanac/local-rules/", item.Categories[0].Domain)
		assert.Contains(t, item.Title, "lawfeed invented")
	}
	newest := feed.Channel.Items[0]
	assert.Equal(t, "Sun, 08 Nov 2026 18:00:00 -0500", newest.PubDate, "issue date, issue time, time zone")
	assert.Equal(t, "https://lawns.example.org/almanac/local-rules/ossamere/", newest.Link)
	for _, part := range []string{"November 16, 2026", "February 28, 2027", "14-209(a)", "January 12, 2026", "the shore Gannet Shore", "law day closed", "calendar ask"} {
		assert.Contains(t, newest.Content, part)
	}
	independent, err := gofeed.NewParser().ParseString(string(f.Body))
	require.NoError(t, err)
	assert.Len(t, independent.Items, len(feed.Channel.Items))
	assert.Equal(t, "https://lawns.example.org/almanac/local-rules/feed.xml", independent.FeedLink)
}

// What an issue announced is neither changed nor dropped by a later press.
func TestOlderNoticesStay(t *testing.T) {
	w := closedWorld(t)
	days := []civil.Date{civil.MustDate(2026, 4, 12), civil.MustDate(2026, 5, 24), civil.MustDate(2026, 9, 20), civil.MustDate(2026, 11, 8)}
	var before rssFile
	for i := range days {
		var issues []*bulletin.Region
		for _, d := range days[:i+1] {
			issues = append(issues, w.issueOn(d))
		}
		w.issues = issues
		now := lawFeedOf(t, w)
		n := len(before.Channel.Items)
		require.GreaterOrEqual(t, len(now.Channel.Items), n)
		if n > 0 {
			assert.Equal(t, before.Channel.Items, now.Channel.Items[len(now.Channel.Items)-n:])
		}
		before = now
	}
	assert.Len(t, before.Channel.Items, 5)
}

// Where a law stops closing others may close on: the feed says so place by place.
func TestAnEndIsNotAnOpeningWhereAnotherLawCloses(t *testing.T) {
	w := closedWorld(t)
	county := *w.ws.Ordinances[1]
	county.ID, county.Rules = "wendrake-second", slices.Clone(county.Rules[:1])
	county.Rules[0].When = []law.When{annual(t, "09-15", "10-31", "[]")}
	w.ws.Law, w.ws.WaterLaw = law.NewBook(append(w.ws.Ordinances, &county), w.ws.Places), watering.NewBook(nil, nil)
	w.issues = []*bulletin.Region{w.issueOn(civil.MustDate(2026, 9, 20))}
	feed := lawFeedOf(t, w)
	require.Equal(t, []string{"wendrake-rainy-season/rainy-season/opens/2026-10-01"}, guids(t, feed)[:1])
	item := feed.Channel.Items[len(feed.Channel.Items)-1]
	assert.Contains(t, item.Content, "law day closed")
	assert.NotContains(t, item.Content, "law day conditional")
}

// A site whose law has nothing to announce has an empty feed, without a date.
func TestFeedOfLocalRulesMayBeEmpty(t *testing.T) {
	w := closedWorld(t)
	w.issues = []*bulletin.Region{w.issueOn(civil.MustDate(2026, 7, 5))}
	feed := lawFeedOf(t, w)
	assert.Empty(t, feed.Channel.Items)
	assert.Empty(t, feed.Channel.LastBuildDate)
	assert.NotEmpty(t, feed.Channel.Description)
}
