package publish

import (
	"crypto/sha256"
	"encoding/base64"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// alone prints a page of one template by itself.
func alone(t *testing.T, css string, body any) (parsed, error) {
	t.Helper()
	over := fstest.MapFS{
		"replay.html": {Data: []byte(`{{define "title"}}A page{{end}}{{define "description"}}Of its own.{{end}}{{define "main"}}<h1>{{.Body}}</h1><a href="/about/">About</a>{{end}}`)},
		"site.css":    {Data: []byte(css)},
	}
	page, err := Alone(newWorld(t, nil).publication(), layered{over, files()}, "replay", body)
	if err != nil {
		return parsed{}, err
	}
	return parsePages(t, &Site{Files: []File{{Path: "replay.html", Body: page}}})[0], nil
}

// layered reads a file from the first file system that has it.
type layered [2]fs.FS

func (l layered) Open(name string) (fs.File, error) {
	if f, err := l[0].Open(name); err == nil {
		return f, nil
	}
	return l[1].Open(name)
}

// A page by itself asks for no other file: its policy lets in the very style
// that stands in it, and nothing else.
func TestAPageByItselfIsWhole(t *testing.T) {
	for name, css := range map[string]string{
		"plain":           "body { color: red; }\n",
		"quotes and tags": `a::before { content: "< + ' & é" } /* <b> */`,
		"lines of DOS":    "body { color: red; }\r\nh1 { margin: 0 }\r\n",
	} {
		t.Run(name, func(t *testing.T) {
			p, err := alone(t, css, hostile)
			require.NoError(t, err)
			style := p.one(t, "head > style")
			require.NotNil(t, style.FirstChild)
			sum := sha256.Sum256([]byte(style.FirstChild.Data))
			policy, _ := attr(p.one(t, `meta[http-equiv="Content-Security-Policy"]`), "content")
			assert.Contains(t, policy, "style-src 'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"';")
			assert.Contains(t, policy, "default-src 'none'")
			assert.NotContains(t, policy, "unsafe")
			assert.NotContains(t, policy, "script-src")
			assert.Empty(t, p.all("script, img, iframe, object"))
			require.Len(t, p.all("link"), 1)
			icon, _ := attr(p.one(t, `link[rel="icon"]`), "href")
			assert.True(t, strings.HasPrefix(icon, "data:image/svg+xml;base64,"), icon)
			assert.Len(t, p.all(`meta[name="robots"][content="noindex"]`), 1)
			assert.Equal(t, hostile, textOf(p.one(t, "h1")))
			for n := range p.root.Descendants() {
				if href, ok := attr(n, "href"); n.Type == html.ElementNode && ok && href != "#main" && n.Data != "link" && !strings.HasPrefix(href, "mailto:") {
					assert.True(t, strings.HasPrefix(href, "https://"), "%s leads nowhere from here", href)
				}
			}
		})
	}
	_, err := alone(t, "a { content: '</STYLE><script>' }", "x")
	require.ErrorContains(t, err, "site.css")
}
