package publish

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"net/url"
	"path"
	"slices"
	"strings"
	"testing"

	"github.com/andybalholm/cascadia"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// parsed is a page as a browser sees it.
type parsed struct {
	path string
	body []byte
	root *html.Node
	ids  map[string]bool
}

func parsePages(t testing.TB, site *Site) []parsed {
	t.Helper()
	var out []parsed
	for _, f := range site.Files {
		if strings.HasSuffix(f.Path, ".html") {
			out = append(out, parsePage(t, f))
		}
	}
	require.NotEmpty(t, out)
	return out
}

func parsePage(t testing.TB, f File) parsed {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(f.Body))
	require.NoError(t, err)
	p := parsed{f.Path, f.Body, root, map[string]bool{}}
	for n := range root.Descendants() {
		if id, ok := attr(n, "id"); ok {
			p.ids[id] = true
		}
	}
	return p
}

func attr(n *html.Node, key string) (string, bool) {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val, true
		}
	}
	return "", false
}

func (p parsed) all(selector string) []*html.Node {
	return cascadia.QueryAll(p.root, cascadia.MustCompile(selector))
}

func (p parsed) one(t testing.TB, selector string) *html.Node {
	t.Helper()
	found := p.all(selector)
	require.Len(t, found, 1, "%s: %s", p.path, selector)
	return found[0]
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			b.WriteString(c.Data)
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func (p parsed) isLetter() bool { return strings.HasSuffix(p.path, "newsletter/index.html") }

// within reports whether a node lies in one with the attribute.
func within(n *html.Node, key, value string) bool {
	for ; n != nil; n = n.Parent {
		if v, ok := attr(n, key); ok && v == value {
			return true
		}
	}
	return false
}

func TestEveryPageHasASoundHead(t *testing.T) {
	w := newWorld(t, nil)
	titles, descriptions := map[string]string{}, map[string]string{}
	for _, p := range parsePages(t, w.render(t)) {
		assert.True(t, bytes.HasPrefix(p.body, []byte("<!doctype html>\n")), p.path)
		lang, _ := attr(p.one(t, "html"), "lang")
		assert.Equal(t, "en-US", lang, p.path)
		title := textOf(p.one(t, "head > title"))
		assert.NotEmpty(t, title, p.path)
		assert.Empty(t, titles[title], "%s has the title of %s", p.path, titles[title])
		titles[title] = p.path
		description, _ := attr(p.one(t, `meta[name="description"]`), "content")
		assert.NotEmpty(t, description, p.path)
		assert.LessOrEqual(t, len([]rune(description)), maxDescription, p.path)
		viewport, _ := attr(p.one(t, `meta[name="viewport"]`), "content")
		assert.Equal(t, "width=device-width, initial-scale=1", viewport, p.path)
		noindex := len(p.all(`meta[name="robots"][content="noindex"]`)) == 1
		assert.Equal(t, p.isLetter() || p.path == "404.html", noindex, "%s: noindex", p.path)
		if !noindex {
			assert.Empty(t, descriptions[description], "%s has the description of %s", p.path, descriptions[description])
			descriptions[description] = p.path
		}
		if p.path == "404.html" {
			assert.Empty(t, p.all(`link[rel="canonical"]`))
		} else {
			canonical, _ := attr(p.one(t, `link[rel="canonical"]`), "href")
			assert.Equal(t, w.ws.Site.BaseURL+"/"+strings.TrimSuffix(p.path, "index.html"), canonical)
		}
		// The policy stands before anything that it must rule on.
		policy := p.one(t, `meta[http-equiv="Content-Security-Policy"]`)
		content, _ := attr(policy, "content")
		assert.Contains(t, content, "default-src 'none'", p.path)
		assert.Equal(t, p.isLetter(), strings.Contains(content, "unsafe-inline"), "%s: inline style", p.path)
		for n := policy.PrevSibling; n != nil; n = n.PrevSibling {
			assert.NotContains(t, []atom.Atom{atom.Link, atom.Script, atom.Style}, n.DataAtom, p.path)
		}
	}
}

func TestEveryPageHasASoundBody(t *testing.T) {
	for _, p := range parsePages(t, plain(t)) {
		for _, landmark := range []string{"header", "main#main", "footer", "h1", `nav[aria-label="Site"]`} {
			p.one(t, landmark)
		}
		first := p.all("a, button, input, textarea, summary")[0]
		href, _ := attr(first, "href")
		assert.Equal(t, "#main", href, "%s: the first thing to focus is the way past the navigation", p.path)
		level, seen := 0, map[string]bool{}
		for n := range p.root.Descendants() {
			if l, ok := headingLevel(n.DataAtom); ok && n.Type == html.ElementNode && !within(n, "id", "letter") {
				assert.LessOrEqual(t, l, level+1, "%s: heading %q skips a level", p.path, textOf(n))
				level = l
			}
			if id, ok := attr(n, "id"); ok {
				assert.False(t, seen[id], "%s: id %q is there twice", p.path, id)
				assert.NotContains(t, id, " ", p.path)
				seen[id] = true
			}
			if n.Type == html.ElementNode {
				checkElement(t, p, n)
			}
		}
		assert.Contains(t, textOf(p.one(t, "header .invented")), "Invented example", p.path)
	}
}

func checkElement(t *testing.T, p parsed, n *html.Node) {
	t.Helper()
	where := fmt.Sprintf("%s: <%s>", p.path, n.Data)
	for _, a := range n.Attr {
		assert.False(t, strings.HasPrefix(a.Key, "on"), "%s has %s", where, a.Key)
		if a.Key == "style" {
			assert.True(t, p.isLetter() && within(n, "id", "letter"), "%s has an inline style", where)
		}
		assert.NotContains(t, a.Val, "ZgotmplZ", "%s: a link that the template refused", where)
		if slices.Contains([]string{"aria-labelledby", "aria-describedby", "for"}, a.Key) {
			for _, id := range strings.Fields(a.Val) {
				assert.True(t, p.ids[id], "%s: %s names %q, which is not there", where, a.Key, id)
			}
		}
	}
	switch n.DataAtom {
	case atom.Style, atom.Iframe, atom.Object, atom.Embed, atom.Form, atom.Base:
		assert.Fail(t, "not on a page", where)
	case atom.Script:
		src, _ := attr(n, "src")
		assert.True(t, p.isLetter() && strings.HasSuffix(src, "copy.js") && n.FirstChild == nil, "%s: only the copy script, and only on newsletters", where)
	case atom.Img:
		_, ok := attr(n, "alt")
		assert.True(t, ok, "%s without alt", where)
	case atom.Svg:
		if role, _ := attr(n, "role"); role == "img" {
			label, _ := attr(n, "aria-labelledby")
			title := cascadia.Query(n, cascadia.MustCompile("title"))
			require.NotNil(t, title, where)
			named, _ := attr(title, "id")
			assert.NotEmpty(t, textOf(title), where)
			if desc := cascadia.Query(n, cascadia.MustCompile("desc")); desc != nil {
				id, _ := attr(desc, "id")
				named += " " + id
				assert.NotEmpty(t, textOf(desc), where)
			}
			assert.Equal(t, label, named, where)
		} else {
			hidden, _ := attr(n, "aria-hidden")
			assert.Equal(t, "true", hidden, "%s is neither a picture with a title nor hidden", where)
		}
	case 0: // elements of SVG that the table does not know
		if n.Data != "use" {
			return
		}
		href, _ := attr(n, "href")
		assert.True(t, strings.HasPrefix(href, "#") && p.ids[href[1:]], "%s: %s is not drawn on this page", where, href)
	case atom.Table:
		if role, _ := attr(n, "role"); role == "presentation" {
			return
		}
		if !within(n, "id", "letter") {
			require.NotNil(t, cascadia.Query(n, cascadia.MustCompile("caption")), "%s without caption", where)
		}
		for _, th := range cascadia.QueryAll(n, cascadia.MustCompile("th")) {
			scope, _ := attr(th, "scope")
			assert.Contains(t, []string{"col", "row", "rowgroup"}, scope, "%s: heading %q", where, textOf(th))
		}
	case atom.Time:
		value, _ := attr(n, "datetime")
		assert.Regexp(t, `^\d{4}-\d\d-\d\d$`, value, where)
		assert.NotEmpty(t, textOf(n), where)
	case atom.Input, atom.Textarea:
		id, _ := attr(n, "id")
		_, labelled := attr(n, "aria-label")
		assert.True(t, labelled || len(p.all(`label[for="`+id+`"]`)) == 1, "%s has no label", where)
	case atom.Details:
		assert.NotEmpty(t, textOf(cascadia.Query(n, cascadia.MustCompile("summary"))), where)
	}
	if n.DataAtom == atom.Th {
		assert.NotEmpty(t, textOf(n), "%s: a heading without words", where)
	}
	if class, _ := attr(n, "class"); class == "scroll" {
		label, _ := attr(n, "aria-label")
		for _, h := range p.all("section > h2") {
			assert.NotEqual(t, textOf(h), label, "%s: two regions of one name", where)
		}
		for _, key := range []string{"tabindex", "role", "aria-label"} {
			_, ok := attr(n, key)
			assert.True(t, ok, "%s: a box that scrolls needs %s", where, key)
		}
	}
}

func TestEveryLinkLeadsSomewhere(t *testing.T) {
	w := newWorld(t, nil)
	site := w.render(t)
	pages := map[string]parsed{}
	for _, p := range parsePages(t, site) {
		pages[p.path] = p
	}
	base, err := url.Parse(w.ws.Site.BaseURL)
	require.NoError(t, err)
	for _, p := range pages {
		at, err := url.Parse(base.String() + "/" + strings.TrimSuffix(p.path, "index.html"))
		require.NoError(t, err)
		for n := range p.root.Descendants() {
			for _, key := range []string{"href", "src"} {
				link, ok := attr(n, key)
				if !ok || n.Data == "use" || strings.HasPrefix(link, "mailto:") {
					continue
				}
				// On pages only what must be absolute is: the site works in any folder.
				if n.DataAtom == atom.A && !within(n, "id", "letter") && p.path != "404.html" {
					assert.False(t, strings.HasPrefix(link, "/") || strings.HasPrefix(link, base.String()), "%s: %s is not relative", p.path, link)
				}
				to, err := at.Parse(link)
				require.NoError(t, err, "%s: %s", p.path, link)
				if to.Host != base.Host {
					assert.Equal(t, "https", to.Scheme, "%s: %s", p.path, link)
					assert.Equal(t, atom.A, n.DataAtom, "%s: nothing is loaded from another host", p.path)
					continue
				}
				inside, ok := strings.CutPrefix(to.Path, base.Path)
				require.True(t, ok, "%s: %s leaves the folder of the site", p.path, link)
				file := filePath(inside)
				target, ok := site.Find(file)
				assert.True(t, ok, "%s: %s leads to %s, which is not printed", p.path, link, file)
				if to.Fragment != "" {
					assert.True(t, pages[target.Path].ids[to.Fragment], "%s: %s: there is no such place", p.path, link)
				}
			}
		}
	}
}

func TestMissingPageIsRooted(t *testing.T) {
	w := newWorld(t, nil)
	for baseURL, root := range map[string]string{"https://lawns.example.org": "/", "https://lawns.example.org/almanac": "/almanac/"} {
		w.ws.Site.BaseURL = baseURL
		for _, p := range parsePages(t, w.render(t)) {
			if p.path != "404.html" {
				continue
			}
			css, _ := attr(p.one(t, `link[rel="stylesheet"]`), "href")
			assert.Equal(t, root+"site.css", css)
			home, _ := attr(p.one(t, ".masthead a"), "href")
			assert.Equal(t, root, home)
		}
	}
}

func TestPagesNameTheirFeeds(t *testing.T) {
	for _, p := range parsePages(t, plain(t)) {
		var feeds []string
		for _, n := range p.all(`link[rel="alternate"][type="application/rss+xml"]`) {
			href, _ := attr(n, "href")
			feeds = append(feeds, href)
		}
		want := []string{"https://lawns.example.org/almanac/feed.xml"}
		if parts := strings.Split(p.path, "/"); parts[0] == "zones" {
			want = append([]string{"https://lawns.example.org/almanac/zones/" + parts[1] + "/feed.xml"}, want...)
		} else if parts[0] == "issues" && len(parts) == 4 && parts[2] != "newsletter" {
			want = append([]string{"https://lawns.example.org/almanac/zones/" + parts[2] + "/feed.xml"}, want...)
		} else if parts[0] == "local-rules" {
			want = append([]string{"https://lawns.example.org/almanac/local-rules/feed.xml"}, want...)
		}
		assert.Equal(t, want, feeds, p.path)
	}
}

func TestPagesAreLight(t *testing.T) {
	for _, f := range plain(t).Files {
		if path.Ext(f.Path) == ".html" && !strings.Contains(f.Path, "/newsletter/") {
			assert.LessOrEqual(t, len(f.Body), 60_000, f.Path)
		}
	}
}

// page finds a page of a site.
func findPage(t testing.TB, site *Site, path string) parsed {
	t.Helper()
	for _, f := range site.Files {
		if f.Path == path {
			return parsePage(t, f)
		}
	}
	require.Fail(t, "no page", path)
	return parsed{}
}

// order returns where in the document each selector first matches.
func (p parsed) order(t testing.TB, selectors ...string) []int {
	t.Helper()
	at := map[*html.Node]int{}
	i := 0
	for n := range p.root.Descendants() {
		at[n] = i
		i++
	}
	var out []int
	for _, s := range selectors {
		found := p.all(s)
		require.NotEmpty(t, found, "%s: %s", p.path, s)
		out = append(out, at[found[0]])
	}
	return out
}

func TestLawStandsAboveTheNote(t *testing.T) {
	site := plain(t)
	for _, path := range []string{
		"zones/gannet-shore/index.html", "issues/2026-W48/gannet-shore/index.html", // closed
		"zones/brackmoor/index.html", "issues/2026-W47/brackmoor/index.html", // not cleared
		"zones/ellerwade/index.html", // never looked up
		"index.html",
	} {
		p := findPage(t, site, path)
		assert.IsIncreasing(t, p.order(t, "h1", ".lawbox", ".note"), path)
	}
	box := textOf(findPage(t, site, "zones/gannet-shore/index.html").one(t, ".lawbox"))
	for _, part := range []string{"Vellinport: closed all week", "Shore Co. Code ch. 7", "law check verified February 17, 2026", "Invented example, not a real law"} {
		assert.Contains(t, box, part)
	}
	link := findPage(t, site, "zones/gannet-shore/index.html").one(t, ".lawbox a.out")
	href, _ := attr(link, "href")
	assert.Equal(t, "https://law.example.invalid/shore/7", href)
}

func TestZonePageFollowsTheOrderOfTheDesign(t *testing.T) {
	p := findPage(t, plain(t), "zones/gannet-shore/index.html")
	assert.IsIncreasing(t, p.order(t, "h1", ".dateline", ".glance", ".lawbox", "#changed", ".note", "#weather", "#st-augustine", "#zoysia", "#local-rules", "#cautions"))
	assert.Equal(t, "The editor’s note", textOf(p.one(t, ".note .byline")), "the author's prose is marked as the author's")
}

func TestAnswerLeadsWithItsVerdict(t *testing.T) {
	w := newWorld(t, nil)
	p := w.page(t, "zones/gannet-shore/index.html")
	answers := w.issues[1].Zones[2].Grasses[1].Answers
	rows := p.all(`.answer[id^="zoysia-"]`)
	require.Len(t, rows, len(answers))
	for i, row := range rows {
		topic, verdict := string(answers[i].Topic), string(answers[i].Verdict)
		id, _ := attr(row, "id")
		assert.Equal(t, "zoysia-"+topic, id)
		class, _ := attr(row, "class")
		assert.Equal(t, "answer v-"+verdict, class)
		assert.Equal(t, w.ws.Voice().Word("question."+topic), textOf(cascadia.Query(row, cascadia.MustCompile("h3"))))
		say := textOf(cascadia.Query(row, cascadia.MustCompile(".say")))
		assert.True(t, strings.HasPrefix(say, w.ws.Voice().Word("verdict."+verdict)+"."), say)
		// A word, a shape and a color.
		use := cascadia.Query(row, cascadia.MustCompile("svg.mark use"))
		href, _ := attr(use, "href")
		assert.Equal(t, "#v-"+verdict, href)
	}
}

func TestWhyShowsEverything(t *testing.T) {
	p := findPage(t, plain(t), "zones/gannet-shore/index.html")
	why := func(topic string) string { return textOf(p.one(t, "#zoysia-"+topic+" details")) }
	assert.Contains(t, why("mow"), "It grows little.")
	assert.Contains(t, why("mow"), "(asked: at least 50 °F (10 °C))")
	assert.Contains(t, why("mow"), "rule mow-slowly, Author and Other 2001 (source standing verified)")
	assert.Contains(t, why("mow"), "Also speaking for it:")
	assert.Contains(t, why("feed"), "Gate: gate law name.")
	assert.Contains(t, why("feed"), "Set aside:verdict do: A light feeding of 0.5 lb per 1,000 sq ft is still useful. Local rule.")
	assert.Contains(t, why("disease"), "Could not be judged for lack of data:rule humid-nights")
	assert.Contains(t, why("disease"), "Humidity: not known (asked: at most 80%)")
}

func TestCautionsStandBesideWhatTheyLimit(t *testing.T) {
	w := newWorld(t, nil)
	// The same feeding, once closed and once to be done.
	feed := w.issues[1].Zones[2].Grasses[1].Answers[1]
	for _, verdict := range []string{"closed", "do", "wait"} {
		decide(feed, verdict)
		p := w.page(t, "zones/gannet-shore/index.html")
		row := p.one(t, "#zoysia-feed")
		assert.Contains(t, textOf(row), "Read and follow the product label.", verdict)
		inSight := cascadia.QueryAll(row, cascadia.MustCompile("#zoysia-feed > .cautions"))
		if verdict == "closed" {
			assert.Empty(t, inSight, "nothing may be done: the cautions wait under why")
		} else {
			require.Len(t, inSight, 1, verdict)
		}
		assert.Equal(t, 1, strings.Count(textOf(p.one(t, "#cautions ~ dl")), "The label on the product you hold"), "in full once a page")
		assert.Contains(t, textOf(p.one(t, "#cautions ~ dl")), "Have the label at hand.", "stands on every page")
	}
}

// Where there is no room for conditions and cautions, what they limit is not
// printed either.
func TestSummariesSayNothingWithoutItsCautions(t *testing.T) {
	w := newWorld(t, nil)
	for _, g := range w.issues[1].Zones[2].Grasses {
		decide(g.Answers[1], "do")
	}
	w.issues[1].Zones[2].First = w.issues[1].Zones[2].Grasses[0].Answers[1].ID // heavier than the mowing, and limited
	site := w.render(t)
	for _, path := range []string{"zones/gannet-shore/index.html", "issues/2026-W48/gannet-shore/index.html"} {
		p := findPage(t, site, path)
		description, _ := attr(p.one(t, `meta[name="description"]`), "content")
		assert.Contains(t, description, "verdict do: topic feed (St. Augustinegrass)", path)
		assert.NotContains(t, description, "No nitrogen on lawns here", path)
		assert.Contains(t, textOf(p.one(t, ".top")), "Conditions and cautions go with it.", path)
	}
	var f rssFile
	require.NoError(t, xml.Unmarshal(feedFiles(site)["zones/gannet-shore/feed.xml"], &f))
	assert.Contains(t, f.Channel.Items[0].Description, "verdict do: topic feed (St. Augustinegrass), with the conditions and cautions on the page.")
	// The answer to mowing has neither: it is printed.
	description, _ := attr(findPage(t, site, "issues/2026-W47/gannet-shore/index.html").one(t, `meta[name="description"]`), "content")
	assert.Contains(t, description, "verdict do: Mow when a third")
}

func TestNoWeatherIsSaidFirst(t *testing.T) {
	site := plain(t)
	for _, path := range []string{"zones/ellerwade/index.html", "issues/2026-W48/ellerwade/index.html"} {
		p := findPage(t, site, path)
		assert.IsIncreasing(t, p.order(t, "h1", ".withheld", ".lawbox", ".note"), path)
		assert.Empty(t, p.all(".answer"), "%s: no advice without weather", path)
		assert.Contains(t, textOf(p.one(t, ".withheld")), "Not enough weather to say.")
	}
	p := findPage(t, site, "zones/ellerwade/zoysia/index.html")
	assert.IsIncreasing(t, p.order(t, "h1", ".withheld", ".lawbox"))
	assert.Empty(t, p.all(".answer"))
}

func TestMissingDaysAreWords(t *testing.T) {
	p := findPage(t, plain(t), "zones/gannet-shore/index.html")
	rows := p.all(".weather tbody tr")
	require.Len(t, rows, 15)
	// Day 4 has no record, day 6 was filled.
	assert.Equal(t, "Wed 18no record to no record no record –not known", textOf(rows[3]))
	assert.Empty(t, cascadia.QueryAll(rows[3], cascadia.MustCompile("rect")), "nothing is drawn where nothing is known")
	assert.Contains(t, textOf(rows[5]), "part estimated")
	assert.Len(t, p.all(".weather .forecast tr"), 8)
	for _, r := range p.all(".weather .forecast th") {
		assert.Contains(t, textOf(r), "forecast")
	}
	assert.NotContains(t, string(p.body), "NaN")
}
