package workspace

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"ligule/internal/diag"
)

func TestNoteBecomesHTMLAndText(t *testing.T) {
	var list diag.List
	const note = "```toml\ntitle = \"A title\"\n```\n# Big\n\nSome *stress*, a \"quote\" and a [link](https://example.org/a) -- so.\n\n#### Small\n\n1. one\n2. two that is long enough to be broken over a second line of the plain text\n   - inner\n\n> said\n\n| a | b |\n|---|---|\n| 1 | 2 |\n"
	p, meta := renderPage("content/issues/2026-W48/note.md", []byte(note), &list)
	require.NoError(t, list.Err())
	require.NotNil(t, meta)
	assert.Equal(t, "A title", meta.Text("title"))
	assert.Contains(t, p.HTML, "<h3>Big</h3>", "a note's headings start below its section")
	assert.Contains(t, p.HTML, "<h4>Small</h4>", "and skip no level")
	assert.Contains(t, p.HTML, "<em>stress</em>")
	assert.NotContains(t, p.HTML, "style=")
	assert.Equal(t, `BIG

Some stress, a "quote" and a link - so.
https://example.org/a

SMALL

1. one
2. two that is long enough to be broken over a second line of the plain
   text
   - inner

  said

a | b
1 | 2
`, p.Text)
	p, meta = renderPage("content/standing/x.md", []byte("# One\n\ntext\n"), &list)
	assert.Nil(t, meta)
	assert.Contains(t, p.HTML, "<h2>One</h2>")
}

// Mistakes in metadata have their line in the Markdown file.
func TestMetadataMistakesHaveTheirLine(t *testing.T) {
	var list diag.List
	_, meta := renderPage("content/standing/x.md", []byte("\n```toml\ntitle = \"a\"\nsumary = \"b\"\n```\ntext\n"), &list)
	require.NotNil(t, meta)
	meta.Text("title")
	meta.OptText("summary")
	meta.Close()
	assert.Equal(t, `content/standing/x.md:4: sumary: unknown key; did you mean "summary"?`, list.Error())
	list = diag.List{}
	renderPage("x.md", []byte("```toml\ntitle = \n```\n"), &list)
	assert.Contains(t, list.Error(), "x.md:2:")
}

func TestLinks(t *testing.T) {
	for link, ok := range map[string]bool{
		"https://example.org": true, "http://example.org": true, "mailto:a@example.org": true, "/guides/reading-a-bag/": true, "#here": true,
		"javascript:alert(1)": false, "data:text/html,x": false, "//example.org/x": false, "guides/x": false, "file:///etc/passwd": false, "vbscript:x": false,
	} {
		var list diag.List
		renderPage("x.md", []byte("[a]("+link+")\n"), &list)
		assert.Equal(t, ok, list.Err() == nil, link)
	}
}

func TestWrapKeepsWordsAndWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOf(rapid.StringMatching(`[a-zé°]{1,20}`)).Draw(t, "words")
		width := rapid.IntRange(24, 80).Draw(t, "width")
		got := Wrap(strings.Join(words, " "), width, "- ", "  ")
		if strings.Join(strings.Fields(strings.TrimPrefix(got, "- ")), " ") != strings.Join(words, " ") {
			t.Fatalf("words are lost: %q", got)
		}
		for _, l := range strings.Split(got, "\n") {
			if utf8.RuneCountInString(l) > width {
				t.Fatalf("%q is wider than %d", l, width)
			}
		}
	})
}

// Whatever an author types comes out without script, and reading it never
// fails without a reason.
func FuzzRenderPage(f *testing.F) {
	f.Add("```toml\ntitle = \"x\"\n```\n# A\n\n<script>alert(1)</script>\n\n[a](javascript:x) ![b](c)\n")
	f.Add("> - | a |\n\t\x00é\n```\n")
	f.Fuzz(func(t *testing.T, text string) {
		var list diag.List
		p, _ := renderPage("content/issues/2026-W48/note.md", []byte(text), &list)
		if p == nil {
			if list.Errors() == 0 {
				t.Error("refused without a reason")
			}
			return
		}
		lines := strings.Count(text, "\n") + 1
		for _, problem := range list.All() {
			if problem.Line > lines {
				t.Errorf("line %d of %d: %v", problem.Line, lines, problem)
			}
		}
		root, err := html.Parse(strings.NewReader(p.HTML))
		if err != nil {
			t.Fatal(err)
		}
		for n := range root.Descendants() {
			if n.Type != html.ElementNode {
				continue
			}
			switch n.Data {
			case "script", "style", "iframe", "object", "embed", "link", "form", "svg":
				t.Errorf("a %s element from %q", n.Data, text)
			}
			for _, a := range n.Attr {
				v := strings.ToLower(strings.TrimSpace(a.Val))
				if strings.HasPrefix(a.Key, "on") || a.Key == "style" || strings.HasPrefix(v, "javascript:") {
					t.Errorf("%s=%q from %q", a.Key, a.Val, text)
				}
			}
		}
	})
}
