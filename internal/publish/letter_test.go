package publish

import (
	"html/template"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"ligule/internal/bulletin"
	"ligule/internal/workspace"
)

// What mail programs leave alone, by the public data set "Can I email"
// (snapshot of June 2026).
var (
	mailElements = []string{"table", "thead", "tbody", "tr", "td", "th", "p", "h2", "h3", "ul", "ol", "li", "a", "strong", "em", "br"}
	mailAttrs    = []string{"style", "bgcolor", "width", "height", "align", "role", "scope", "colspan", "cellpadding", "cellspacing", "border", "href", "start"}
	mailProps    = []string{"width", "max-width", "color", "background-color", "padding", "margin", "border-collapse", "border-top", "border-bottom",
		"border-left", "font-family", "font-size", "font-weight", "font-style", "line-height", "text-align", "text-decoration", "vertical-align"}
)

func letters(t testing.TB, site *Site) []parsed {
	t.Helper()
	var out []parsed
	for _, p := range parsePages(t, site) {
		if p.isLetter() {
			out = append(out, p)
		}
	}
	require.NotEmpty(t, out)
	return out
}

func declarations(style string) map[string]string {
	out := map[string]string{}
	for _, d := range strings.Split(style, ";") {
		property, value, _ := strings.Cut(d, ":")
		out[property] = value
	}
	return out
}

func TestLettersKeepToWhatMailProgramsShow(t *testing.T) {
	for _, p := range letters(t, plain(t)) {
		letter := p.one(t, "#letter")
		var outer []*html.Node
		for c := range letter.ChildNodes() {
			if c.Type == html.ElementNode {
				outer = append(outer, c)
			}
		}
		require.Len(t, outer, 1, "%s: one table around everything", p.path)
		width, _ := attr(outer[0], "width")
		role, _ := attr(outer[0], "role")
		style, _ := attr(outer[0], "style")
		assert.Equal(t, []string{"table", "600", "presentation"}, []string{outer[0].Data, width, role}, p.path)
		assert.Contains(t, style, "width:100%;max-width:600px", p.path)
		for n := range letter.Descendants() {
			if n.Type == html.TextNode && strings.TrimSpace(n.Data) != "" {
				checkMailColors(t, p.path, n)
			}
			if n.Type != html.ElementNode {
				continue
			}
			assert.Contains(t, mailElements, n.Data, p.path)
			for _, a := range n.Attr {
				assert.Contains(t, mailAttrs, a.Key, "%s: <%s>", p.path, n.Data)
				if a.Key == "href" {
					u, err := url.Parse(a.Val)
					require.NoError(t, err)
					assert.True(t, u.Scheme == "https" && u.Host != "" && u.Fragment == "", "%s: %s is not a full link", p.path, a.Val)
				}
				if a.Key == "style" {
					for property, value := range declarations(a.Val) {
						assert.Contains(t, mailProps, property, "%s: <%s>", p.path, n.Data)
						assert.NotRegexp(t, `rem|em\b|calc|var|rgb|url|-\d`, value, "%s: %s", p.path, property)
					}
				}
			}
		}
	}
}

// checkMailColors finds the colors in which a text stands: a copied letter
// brings them along, whatever page it was copied from.
func checkMailColors(t *testing.T, path string, text *html.Node) {
	t.Helper()
	front, ground := "", ""
	for n := text.Parent; n != nil && ground == ""; n = n.Parent {
		style, _ := attr(n, "style")
		d := declarations(style)
		if front == "" {
			front = d["color"]
		}
		if n.DataAtom == atom.Td || n.DataAtom == atom.Th {
			require.NotEmpty(t, d["color"], "%s: a cell around %q names no color", path, text.Data)
			require.NotEmpty(t, d["background-color"], "%s: a cell around %q names no background", path, text.Data)
			bgcolor, _ := attr(n, "bgcolor")
			assert.Equal(t, d["background-color"], bgcolor, path)
			ground = d["background-color"]
		}
	}
	if strings.Trim(text.Data, "\u00a0 \n") == "" {
		return // the filling of a bar
	}
	assert.GreaterOrEqual(t, contrast(t, front, ground), 4.5, "%s: %q: %s on %s", path, text.Data, front, ground)
}

func TestLettersAreShortEnough(t *testing.T) {
	for _, p := range letters(t, plain(t)) {
		var b strings.Builder
		for c := range p.one(t, "#letter").ChildNodes() {
			require.NoError(t, html.Render(&b, c))
		}
		assert.LessOrEqual(t, b.Len(), maxLetterBytes, p.path)
	}
}

// A letter that would be cut off says less; closures and the first thing to do
// stay in it.
func TestLongLetterSaysLess(t *testing.T) {
	w := newWorld(t, nil)
	e := w.press(t)
	shore := e.now.Zones[2]
	for _, c := range []struct {
		zones, grasses int
		lines, says    bool // lines of state, what to do in full
	}{{20, 2, true, true}, {20, 60, false, true}, {100, 2, false, false}} {
		zone := *shore
		zone.Grasses = slices.Repeat(shore.Grasses, c.grasses/2)
		r := &regionView{Week: e.now.Week, Zones: slices.Repeat([]*zoneView{&zone}, c.zones)}
		lv, err := e.printer.letter("letter-region", letterData{Week: r.Week, Address: r.Week.Address, Region: r})
		require.NoError(t, err)
		text := string(lv.Letter)
		assert.LessOrEqual(t, len(text), maxLetterBytes)
		assert.Equal(t, c.zones, len(regexp.MustCompile("Closed (in part )?by local rule").FindAllString(text, -1)), "%d zones: closures", c.zones)
		assert.Equal(t, c.zones, strings.Count(text, "First thing,"), "%d zones: first things", c.zones)
		assert.Equal(t, c.lines, strings.Contains(text, "state line"), "%d zones of %d grasses: lines of state", c.zones, c.grasses)
		assert.Equal(t, c.says, strings.Contains(text, "a third of the blade"), "%d zones: what to do in full", c.zones)
		assert.Equal(t, !c.says, strings.Contains(text, "Read them before you act."), "%d zones", c.zones)
	}
	zone := *shore
	zone.Grasses = slices.Repeat(shore.Grasses, 30)
	lv, err := e.printer.letter("letter-zone", letterData{Name: "Zone", Week: zone.Week, Address: zone.Address, Zone: &zone})
	require.NoError(t, err)
	assert.LessOrEqual(t, len(lv.Letter), maxLetterBytes)
	assert.Contains(t, lv.Letter, "Read them before you act.")
	assert.Contains(t, lv.Text, "Read and follow the product label.", "the text edition has no such limit")
	// A region of a thousand zones sends its readers to the page, and never
	// without the word on closures.
	many := &regionView{Week: e.now.Week, Zones: slices.Repeat([]*zoneView{shore}, 1000)}
	lv, err = e.printer.letter("letter-region", letterData{Week: many.Week, Address: many.Week.Address, Region: many})
	require.NoError(t, err)
	assert.Contains(t, lv.Letter, "Nitrogen on lawns is closed, wholly or in part, in 1000 of our zones.")
	zone.Grasses = slices.Repeat(shore.Grasses, 500)
	lv, err = e.printer.letter("letter-zone", letterData{Name: "Zone", Week: zone.Week, Address: zone.Address, Zone: &zone})
	require.NoError(t, err)
	assert.Contains(t, lv.Letter, "Vellinport: closed all week")
	assert.NotContains(t, lv.Letter, "a third of the blade")
	zone.Note = &noteView{Mail: template.HTML(strings.Repeat("word ", 20_000))}
	_, err = e.printer.letter("letter-zone", letterData{Name: "Zone", Week: zone.Week, Address: zone.Address, Zone: &zone})
	require.ErrorContains(t, err, "the newsletter of /issues/2026-W48/gannet-shore/ has")
}

func TestLetterPageOffersFieldsToCopy(t *testing.T) {
	w := newWorld(t, nil)
	site := w.render(t)
	for _, p := range letters(t, site) {
		subject, _ := attr(p.one(t, "input#subject"), "value")
		preview, _ := attr(p.one(t, "input#preview"), "value")
		assert.NotEmpty(t, subject, p.path)
		assert.NotEmpty(t, preview, p.path)
		assert.LessOrEqual(t, utf8.RuneCountInString(preview), 90, p.path)
		assert.Contains(t, subject, "(invented example)", p.path)
		assert.Len(t, p.all(`button[type="button"][hidden]`), 3, "%s: buttons appear with the script", p.path)
		p.one(t, `[role="status"]`)
		file, ok := site.Find(strings.Replace(p.path, "index.html", "newsletter.txt", 1))
		require.True(t, ok)
		area := p.one(t, "textarea#letter-text")
		assert.Equal(t, string(file.Body), area.FirstChild.Data, "%s: the page and the file hold one text edition", p.path)
	}
	p := findPage(t, site, "issues/2026-W48/gannet-shore/newsletter/index.html")
	subject, _ := attr(p.one(t, "input#subject"), "value")
	assert.Equal(t, "Gannet Shore lawns, week 48: fertilizer closed in part by local rule (invented example)", subject)
}

func TestMergeTagsStayUntouched(t *testing.T) {
	w := newWorld(t, nil)
	w.ws.Site.PostalAddress = `A & B, <1 Lane> *|LIST:ADDRESS|* {{ unsubscribe | default: "x" }} [[address]] {{"><script>x</script>}}`
	p := w.page(t, "issues/2026-W48/newsletter/index.html")
	body := string(p.body)
	assert.Contains(t, body, `A &amp; B, &lt;1 Lane&gt; *|LIST:ADDRESS|* {{ unsubscribe | default: &#34;x&#34; }} [[address]]`)
	assert.NotContains(t, body, "<script>x")

	w.ws.Site.PostalAddress = ""
	p = w.page(t, "issues/2026-W48/newsletter/index.html")
	assert.Contains(t, textOf(p.one(t, "#letter")), "[Postal address of the sender and unsubscribe link go here]")
	assert.Contains(t, textOf(p.one(t, "main")), "No postal address.")
}

func TestTextEditionIsText(t *testing.T) {
	site := plain(t)
	n := 0
	for _, f := range site.Files {
		if !strings.HasSuffix(f.Path, "newsletter.txt") {
			continue
		}
		n++
		text := string(f.Body)
		assert.True(t, strings.HasSuffix(text, "\n") && !strings.Contains(text, "\n\n\n"), f.Path)
		for _, line := range strings.Split(text, "\n") {
			if utf8.RuneCountInString(line) > workspace.TextWidth {
				assert.Len(t, strings.Fields(line), 1, "%s: %q is too wide", f.Path, line)
			}
			assert.Equal(t, strings.TrimRight(line, " \t\r"), line, f.Path)
			assert.NotRegexp(t, `^(>|From |--$)`, line, f.Path)
			if strings.Contains(line, "://") {
				assert.Len(t, strings.Fields(line), 1, "%s: an address stands alone: %q", f.Path, line)
			}
		}
		assert.NotRegexp(t, "[°−–—’“”…·²\u00a0]|&#|&amp;|</", text, f.Path)
		assert.Contains(t, text, "INVENTED EXAMPLE.", f.Path)
	}
	assert.Equal(t, 8, n)
	// A link of the author's to a page of the site is absolute.
	f, _ := site.Find("issues/2026-W48/newsletter/newsletter.txt")
	assert.Contains(t, string(f.Body), "\nhttps://lawns.example.org/almanac/guides/reading-a-bag/\n")
}

// Both editions, the page and the feed give the same answers.
func TestEveryEditionSaysTheSame(t *testing.T) {
	w := newWorld(t, nil)
	site := w.render(t)
	f, _ := site.Find("issues/2026-W48/gannet-shore/newsletter/newsletter.txt")
	editions := map[string]string{
		"letter": textOf(findPage(t, site, "issues/2026-W48/gannet-shore/newsletter/index.html").one(t, "#letter")),
		"text":   strings.Join(strings.Fields(string(f.Body)), " "),
		"page":   textOf(findPage(t, site, "issues/2026-W48/gannet-shore/index.html").one(t, "main")),
		"feed":   feedText(t, site, "zones/gannet-shore/feed.xml"),
	}
	for _, g := range w.issues[1].Zones[2].Grasses {
		for _, a := range g.Answers {
			for name, text := range editions {
				word := w.ws.Voice().Word("verdict." + string(a.Verdict))
				if name == "text" {
					word = w.ws.Voice().Word("verdict_loud." + string(a.Verdict))
				}
				assert.Contains(t, strings.ToLower(text), strings.ToLower(word+"."), "%s: %s", name, a.Topic)
				assert.Contains(t, text, a.Say.String(), "%s: %s", name, a.Topic)
				for _, c := range a.Conditions {
					assert.Contains(t, text, c.String(), "%s: %s", name, a.Topic)
				}
			}
		}
	}
	for name, text := range editions {
		assert.Contains(t, text, "Vellinport: closed all week by the Winter Fertilizer Ordinance", name)
		assert.Contains(t, text, "The label on the product you hold is a legal document.", name)
		assert.Contains(t, text, "Half of the shore stood under water.", name)
	}
}

func feedText(t *testing.T, site *Site, path string) string {
	t.Helper()
	nodes, err := html.Parse(strings.NewReader(string(feedFiles(site)[path])))
	require.NoError(t, err)
	return textOf(nodes)
}

func TestLetterStylesAreRead(t *testing.T) {
	own := func(css string) error {
		_, err := readMailStyles(fstest.MapFS{"letter.css": {Data: []byte(css)}})
		return err
	}
	require.NoError(t, own("/* a { } */ td { color: #000000; padding: 1px 2px }\n.lead { color: #111111 }"))
	for _, bad := range []string{"td, th { color: #000 }", "@media print { td { color: #000 } }", "td { color }", `td { font-family: "Georgia" }`, "td { color: #000", "#x { color: #000 }", "}"} {
		assert.Error(t, own(bad), bad)
	}
	_, err := readMailStyles(fstest.MapFS{})
	require.Error(t, err)

	styles, err := readMailStyles(fstest.MapFS{"letter.css": {Data: []byte("td { color: #000000; background-color: #ffffff } .a { color: #111111 } .b { padding: 1px }")}})
	require.NoError(t, err)
	nodes, err := fragment([]byte(`<table><tbody><tr><td class="a b">x</td></tr></tbody></table>`))
	require.NoError(t, err)
	require.NoError(t, styles.apply(nodes))
	out, err := markup(nodes)
	require.NoError(t, err)
	assert.Equal(t, `<table><tbody><tr><td bgcolor="#ffffff" style="background-color:#ffffff;color:#111111;padding:1px">x</td></tr></tbody></table>`, string(out))
	nodes, err = fragment([]byte(`<p class="nowhere">x</p>`))
	require.NoError(t, err)
	assert.ErrorContains(t, styles.apply(nodes), `"nowhere"`)
}

// An author's page without a title or text must not break a letter.
func TestEmptyNoteIsHarmless(t *testing.T) {
	w := newWorld(t, nil)
	w.issues[1].Note = &bulletin.Note{}
	w.render(t)
}
