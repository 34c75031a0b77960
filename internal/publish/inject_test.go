package publish

import (
	"bytes"
	"encoding/xml"
	"ligule/internal/bulletin"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// Whatever an author types comes out as text, on every page and in every feed.
func TestHostileNamesComeOutAsText(t *testing.T) {
	w := newWorld(t, func(s string) string { return s + " " + hostile })
	words := map[string]string{}
	for _, id := range declared(t).IDs() {
		if table, _, _ := strings.Cut(id, "."); slices.Contains(grammar, table) {
			continue
		}
		words[id] = id + " " + hostile
		for _, s := range declared(t).SlotsOf(id) {
			words[id] += " {" + s + "}"
		}
	}
	w.ws.Phrases = phrases(t, words)
	site := w.render(t)
	for _, p := range parsePages(t, site) {
		shown := 0
		for n := range p.root.Descendants() {
			switch {
			case n.Type == html.ElementNode && n.DataAtom == atom.Script:
				src, _ := attr(n, "src")
				assert.True(t, strings.HasSuffix(src, "copy.js"), "%s: a script from an author's text", p.path)
			case n.Type == html.TextNode && strings.Contains(n.Data, hostile):
				shown++
			}
			for _, a := range n.Attr {
				assert.False(t, strings.HasPrefix(a.Key, "on") || strings.ContainsAny(a.Key, `"'<`), "%s: <%s %s>", p.path, n.Data, a.Key)
			}
		}
		assert.Positive(t, shown, "%s: the text is there as it was typed", p.path)
		assert.NotContains(t, string(p.body), "<script>", p.path)
		assert.NotRegexp(t, `&amp;(lt|gt|amp|#3[49]);`, string(p.body), "%s: escaped twice", p.path)
	}
	for path, body := range feedFiles(site) {
		var f rssFile
		require.NoError(t, xml.Unmarshal(body, &f), path)
		assert.Contains(t, f.Channel.Title, hostile, path)
		for _, item := range f.Channel.Items {
			assert.NotContains(t, item.Content, "<script", path)
			assert.Contains(t, item.Content, "&lt;script&gt;", path)
			checkFeedContent(t, path, item.Content)
		}
	}
	for _, f := range site.Files {
		if strings.HasSuffix(f.Path, ".txt") && f.Path != "robots.txt" {
			// Wrapping may come between the words; nothing else may.
			assert.Contains(t, strings.Join(strings.Fields(string(f.Body)), " "), hostile, f.Path)
			assert.NotRegexp(t, `&(lt|gt|amp|#\d+);`, string(f.Body), f.Path)
		}
	}
}

// The workspace lets no raw HTML through. Should it ever, nothing comes of it.
func TestHostileMarkupOfANoteIsDropped(t *testing.T) {
	w := newWorld(t, nil)
	w.issues[1].Zones[2].Note = &bulletin.Note{
		Title: "Note", Text: "Note",
		HTML: `<p onclick="x()" style="color:red" class="c" id="main">Kept <b>words</b></p><script>alert(1)</script><style>p{}</style>` +
			`<a href="javascript:x()">no</a><a href="//evil.example/">no</a><a href="https://example.org/">yes</a>` +
			`<img src="https://evil.example/pixel.png" alt="gone"><svg onload="x()"><path/></svg><iframe src="/"></iframe><form action="/"><input name="q"></form><h6 id="deep">Deep</h6>`,
	}
	site := w.render(t)
	for _, path := range []string{"zones/gannet-shore/index.html", "issues/2026-W48/gannet-shore/newsletter/index.html"} {
		body := string(findPage(t, site, path).body)
		assert.Contains(t, body, "Kept words", path)
		assert.Contains(t, body, "https://example.org/", path)
		for _, bad := range []string{"alert(1)", "x()", "evil.example", "<iframe", "<form", "p{}", "color:red"} {
			assert.NotContains(t, body, bad, "%s", path)
		}
	}
	checkFeedContent(t, "feed", feedContent(t, site, "zones/gannet-shore/feed.xml"))
	p := findPage(t, site, "zones/gannet-shore/index.html")
	assert.Equal(t, "Deep", textOf(p.one(t, "h3#note-deep")), "a heading that skips levels is moved up")
}

func feedContent(t *testing.T, site *Site, path string) string {
	t.Helper()
	var f rssFile
	require.NoError(t, xml.Unmarshal(feedFiles(site)[path], &f))
	return f.Channel.Items[0].Content
}

var (
	opening   = regexp.MustCompile(`<([a-z0-9]+)`)
	forbidden = regexp.MustCompile(`(?i)<(script|style|iframe|svg|form|object|template|input)|\son[a-z]+=|\sstyle=|javascript:`)
)

func FuzzProse(f *testing.F) {
	f.Add("<h2 id=\"a\">A</h2><p>b <a href=\"#a\">c</a></p>", true)
	f.Add("<table><tr><td>x<script>y</script>", false)
	f.Add("<p>]]></p><svg><style><img src=x onerror=alert(1)>", true)
	f.Add("<math><mtext><table><mglyph><style><img src=x>", false)
	f.Fuzz(func(t *testing.T, text string, mail bool) {
		p := prose{above: 2, ids: "n-", mail: mail}
		if mail {
			p.ids = ""
		}
		once, err := p.fit(text)
		if err != nil {
			return
		}
		assert.NotRegexp(t, forbidden, tagsOf(t, string(once)))
		for _, m := range opening.FindAllStringSubmatch(tagsOf(t, string(once)), -1) {
			assert.True(t, allowed[atom.Lookup([]byte(m[1]))], m[1])
		}
		// What has been fitted needs no more fitting.
		p.ids = ""
		twice, err := p.fit(string(once))
		require.NoError(t, err)
		thrice, err := p.fit(string(twice))
		require.NoError(t, err)
		assert.Equal(t, twice, thrice)
	})
}

// tagsOf returns a text's tags without what stands between them and without
// the values of attributes other than links.
func tagsOf(t *testing.T, text string) string {
	t.Helper()
	var b bytes.Buffer
	z := html.NewTokenizer(strings.NewReader(text))
	for z.Next() != html.ErrorToken {
		token := z.Token()
		if token.Type != html.StartTagToken && token.Type != html.SelfClosingTagToken {
			continue
		}
		b.WriteString("<" + token.Data)
		for _, a := range token.Attr {
			b.WriteString(" " + a.Key + "=")
			if a.Key == "href" || a.Key == "src" {
				b.WriteString(a.Val)
			}
		}
		b.WriteString(">")
	}
	return b.String()
}
