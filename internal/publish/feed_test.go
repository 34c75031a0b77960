package publish

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/mmcdole/gofeed"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"ligule/internal/bulletin"
)

// rssFile is a feed as the RSS 2.0 specification names its parts.
type rssFile struct {
	Version string `xml:"version,attr"`
	Channel struct {
		Title          string   `xml:"title"`
		Links          []string `xml:"link"`
		Description    string   `xml:"description"`
		Language       string   `xml:"language"`
		PubDate        string   `xml:"pubDate"`
		LastBuildDate  string   `xml:"lastBuildDate"`
		TTL            int      `xml:"ttl"`
		ManagingEditor string   `xml:"managingEditor"`
		Items          []struct {
			Title       string `xml:"title"`
			Link        string `xml:"link"`
			Description string `xml:"description"`
			Content     string `xml:"http://purl.org/rss/1.0/modules/content/ encoded"`
			PubDate     string `xml:"pubDate"`
			GUID        struct {
				PermaLink string `xml:"isPermaLink,attr"`
				ID        string `xml:",chardata"`
			} `xml:"guid"`
			Categories []struct {
				Domain string `xml:"domain,attr"`
				Name   string `xml:",chardata"`
			} `xml:"category"`
		} `xml:"item"`
	} `xml:"channel"`
}

// feedFiles are the feeds of issues: the region's and each zone's.
func feedFiles(site *Site) map[string][]byte {
	out := map[string][]byte{}
	for _, f := range site.Files {
		if strings.HasSuffix(f.Path, "feed.xml") && f.Path != filePath(lawFeedAddress) {
			out[f.Path] = f.Body
		}
	}
	return out
}

func TestFeedsKeepToTheSpecification(t *testing.T) {
	w := newWorld(t, nil)
	site := w.render(t)
	found := feedFiles(site)
	require.Len(t, found, 4)
	for path, body := range found {
		f := checkFeed(t, site, path, body)
		require.Len(t, f.Channel.Items, 2, path)
		before := time.Time{}
		for i, item := range f.Channel.Items {
			at, err := time.Parse(time.RFC1123Z, item.PubDate)
			require.NoError(t, err)
			if i > 0 {
				assert.True(t, at.Before(before), "%s: newest first", path)
			}
			before = at
			assert.Contains(t, item.Title, "(invented example)", path)
			assert.Equal(t, "https://lawns.example.org/almanac/zones/", item.Categories[0].Domain, path)
		}
	}
	var zone rssFile
	require.NoError(t, xml.Unmarshal(found["zones/gannet-shore/feed.xml"], &zone))
	newest := zone.Channel.Items[0]
	assert.Equal(t, "tag:lawns.example.org,2026:advisory/gannet-shore/2026-W48", newest.GUID.ID)
	assert.Equal(t, "Sun, 22 Nov 2026 18:00:00 -0500", newest.PubDate, "issue date, issue time, time zone")
	assert.Equal(t, "https://lawns.example.org/almanac/issues/2026-W48/gannet-shore/", newest.Link)
	assert.Contains(t, newest.Title, "fertilizer closed in part by local rule")
	var region rssFile
	require.NoError(t, xml.Unmarshal(found["feed.xml"], &region))
	assert.Equal(t, "tag:lawns.example.org,2026:advisory/region/2026-W48", region.Channel.Items[0].GUID.ID)
}

// checkFeed holds a feed of the fixture to the specification of RSS 2.0 and to
// what the site says of all its feeds.
func checkFeed(t *testing.T, site *Site, path string, body []byte) rssFile {
	t.Helper()
	assert.True(t, bytes.HasPrefix(body, []byte(xml.Header[:len(xml.Header)-1])), "%s: declaration", path)
	var f rssFile
	require.NoError(t, xml.Unmarshal(body, &f), path)
	c := f.Channel
	assert.Equal(t, "2.0", f.Version, path)
	for _, required := range []string{c.Title, c.Description, c.PubDate, c.ManagingEditor} {
		assert.NotEmpty(t, required, path)
	}
	assert.Contains(t, c.Title, "(invented example)", path)
	assert.Equal(t, "en-us", c.Language, path)
	assert.Equal(t, 720, c.TTL, path)
	require.NotEmpty(t, c.Items, path)
	assert.Equal(t, c.Items[0].PubDate, c.LastBuildDate, "%s: the newest item's time, never the clock", path)
	assert.Contains(t, string(body), fmt.Sprintf(`<atom:link href="https://lawns.example.org/almanac/%s" rel="self" type="application/rss+xml"></atom:link>`, path))
	ids, before := map[string]bool{}, time.Time{}
	for i, item := range c.Items {
		at, err := time.Parse(time.RFC1123Z, item.PubDate)
		require.NoError(t, err, "%s: four-digit year, English names, numeric zone", path)
		assert.Equal(t, item.PubDate, at.Format(time.RFC1123Z), "%s: the weekday is right", path)
		assert.True(t, i == 0 || !at.After(before), "%s: newest first", path)
		before = at
		assert.Equal(t, "false", item.GUID.PermaLink, path)
		assert.Regexp(t, `^tag:lawns\.example\.org,2026:[a-z0-9/W-]+$`, item.GUID.ID, path)
		assert.False(t, ids[item.GUID.ID], "%s: %s twice", path, item.GUID.ID)
		ids[item.GUID.ID] = true
		assert.NotEmpty(t, item.Description, path)
		link, err := url.Parse(item.Link)
		require.NoError(t, err)
		_, printed := site.Find(filePath(strings.TrimPrefix(link.Path, "/almanac")))
		assert.True(t, link.IsAbs() && printed, "%s: %s", path, item.Link)
		require.Len(t, item.Categories, 1, path)
		checkFeedContent(t, path, item.Content)
	}
	checkFeedOrder(t, path, body)
	return f
}

// checkFeedContent keeps items to what feed readers leave alone.
func checkFeedContent(t *testing.T, path, content string) {
	t.Helper()
	assert.Contains(t, content, "Invented example.", path)
	nodes, err := fragment([]byte(content))
	require.NoError(t, err)
	root := &html.Node{Type: html.ElementNode, DataAtom: atom.Div, Data: "div"}
	for _, n := range nodes {
		root.AppendChild(n)
	}
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		assert.Contains(t, []string{"p", "h3", "ul", "ol", "li", "a", "strong", "em", "br", "table", "thead", "tbody", "tr", "th", "td"}, n.Data, path)
		for _, a := range n.Attr {
			assert.Contains(t, []string{"href", "scope", "start"}, a.Key, "%s: <%s>", path, n.Data)
			if a.Key == "href" {
				u, err := url.Parse(a.Val)
				require.NoError(t, err)
				assert.True(t, u.IsAbs(), "%s: %s", path, a.Val)
			}
		}
	}
}

// checkFeedOrder: summaries before full texts, items after everything else.
func checkFeedOrder(t *testing.T, path string, body []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(body))
	depth, items := 0, 0
	described := false
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		switch e := token.(type) {
		case xml.StartElement:
			depth++
			switch {
			case depth == 3 && e.Name.Local == "item":
				items, described = items+1, false
			case depth == 3:
				assert.Zero(t, items, "%s: <%s> after an item", path, e.Name.Local)
			case depth == 4 && e.Name.Local == "description":
				described = true
			case depth == 4 && e.Name.Local == "encoded":
				assert.True(t, described, "%s: the summary stands before the full text", path)
			}
		case xml.EndElement:
			depth--
		}
	}
}

func TestFeedReaderSeesEveryItem(t *testing.T) {
	w := newWorld(t, nil)
	for path, body := range feedFiles(w.render(t)) {
		f, err := gofeed.NewParser().ParseString(string(body))
		require.NoError(t, err, path)
		require.Len(t, f.Items, 2, path)
		assert.Equal(t, "https://lawns.example.org/almanac/"+path, f.FeedLink)
		assert.Equal(t, "en-us", f.Language)
		assert.Equal(t, "2026-11-22T23:00:00Z", f.Items[0].PublishedParsed.UTC().Format(time.RFC3339))
		assert.Contains(t, f.Items[0].Content, "<h3>")
		assert.NotEmpty(t, f.Items[0].GUID)
		assert.Len(t, f.Items[0].Categories, 1)
	}
}

func TestFeedHoldsTheNewestIssues(t *testing.T) {
	w := newWorld(t, nil)
	last := w.issues[1]
	var many []*bulletin.Region
	for i := range 25 {
		older := *last
		older.Week = last.Week.AddWeeks(i - 24)
		older.Date = w.ws.Site.IssueDate(older.Week)
		many = append(many, &older)
	}
	w.issues = many
	f, err := gofeed.NewParser().ParseString(string(feedFiles(w.render(t))["zones/brackmoor/feed.xml"]))
	require.NoError(t, err)
	require.Len(t, f.Items, feedItems)
	assert.Equal(t, "tag:lawns.example.org,2026:advisory/brackmoor/2026-W48", f.Items[0].GUID)
	assert.Equal(t, "tag:lawns.example.org,2026:advisory/brackmoor/2026-W29", f.Items[feedItems-1].GUID)
	// Summer time holds in week 29.
	assert.Equal(t, "2026-07-12T22:00:00Z", f.Items[feedItems-1].PublishedParsed.UTC().Format(time.RFC3339))
}

func TestLawStandsAboveTheNoteInFeeds(t *testing.T) {
	for _, path := range []string{"zones/gannet-shore/feed.xml", "zones/brackmoor/feed.xml", "feed.xml"} {
		f, err := gofeed.NewParser().ParseString(string(feedFiles(plain(t))[path]))
		require.NoError(t, err)
		content := f.Items[0].Content
		law := strings.Index(content, "<strong>Closed by local rule.")
		if law < 0 {
			law = strings.Index(content, "<strong>Not cleared.")
		}
		note := strings.Index(content, "The editor’s note")
		require.Positive(t, law, path)
		require.Positive(t, note, path)
		assert.Less(t, law, note, path)
	}
}

func TestSitemapListsWhatReadersMayFind(t *testing.T) {
	w := newWorld(t, nil)
	site := w.render(t)
	f, ok := site.Find("sitemap.xml")
	require.True(t, ok)
	assert.True(t, f.Entry)
	var doc struct {
		XMLName xml.Name `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
		URLs    []struct {
			Loc     string `xml:"loc"`
			LastMod string `xml:"lastmod"`
		} `xml:"url"`
	}
	require.NoError(t, xml.Unmarshal(f.Body, &doc))
	mod := map[string]string{}
	for _, u := range doc.URLs {
		rest, ok := strings.CutPrefix(u.Loc, "https://lawns.example.org/almanac")
		require.True(t, ok, u.Loc)
		file := filePath(rest)
		_, ok = site.Find(file)
		assert.True(t, ok, u.Loc)
		_, twice := mod[file]
		assert.False(t, twice, u.Loc)
		mod[file] = u.LastMod
	}
	for _, f := range site.Files {
		_, listed := mod[f.Path]
		want := strings.HasSuffix(f.Path, "index.html") && !strings.Contains(f.Path, "/newsletter/")
		assert.Equal(t, want, listed, f.Path)
	}
	// When the content changed, not when it was printed.
	assert.Equal(t, "2026-11-22", mod["zones/gannet-shore/index.html"])
	assert.Equal(t, "2026-11-22", mod["issues/2026-W48/gannet-shore/index.html"])
	assert.Equal(t, "2026-11-15", mod["issues/2026-W47/gannet-shore/index.html"])
	assert.Empty(t, mod["about/index.html"])
	robots, ok := site.Find("robots.txt")
	require.True(t, ok)
	assert.Equal(t, "User-agent: *\nAllow: /\n\nSitemap: https://lawns.example.org/almanac/sitemap.xml\n", string(robots.Body))
}
