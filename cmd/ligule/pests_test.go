package main

import (
	"bytes"
	"compress/gzip"
	"net/url"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every file of data/pests has its page, whose links to the bibliography lead to
// an entry, and zone pages stay as light as they must be.
func TestDemonstrationPests(t *testing.T) {
	site := printed(t, newest)
	var ids []string
	for _, folder := range []string{"diseases", "weeds", "insects"} {
		files, err := filepath.Glob(filepath.Join(root, "data/pests", folder, "*.toml"))
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, f := range files {
			ids = append(ids, strings.TrimSuffix(filepath.Base(f), ".toml"))
		}
	}
	anchors := regexp.MustCompile(`href="([^"]*methods/sources/)#([^"]+)"`)
	for _, id := range append(ids, "weed-killers") {
		page := "pests/" + id + "/index.html"
		body, ok := site[page]
		require.True(t, ok, page)
		cites := anchors.FindAllStringSubmatch(body, -1)
		for _, c := range cites {
			to, err := url.JoinPath("/"+path.Dir(page), c[1])
			require.NoError(t, err)
			assert.Equal(t, "/methods/sources/", to, page)
			assert.Contains(t, site["methods/sources/index.html"], `<li id="`+c[2]+`">`, page)
		}
		assert.NotContains(t, body, "«", page)
		assert.NotContains(t, body, "NaN", page)
		assert.LessOrEqual(t, len(body), 100_000, page)
	}
	for name, body := range site {
		if ok, _ := path.Match("zones/*/index.html", name); !ok {
			continue
		}
		// Where nothing on any grass asks for a look, there is no line.
		if !strings.Contains(name, "brackmoor") {
			assert.Contains(t, body, `class="pest-line"`, name)
		}
		assert.LessOrEqual(t, len(body), 100_000, name)
		var packed bytes.Buffer
		z := gzip.NewWriter(&packed)
		_, err := z.Write([]byte(body))
		require.NoError(t, err)
		require.NoError(t, z.Close())
		assert.LessOrEqual(t, packed.Len(), 30_000, name)
	}
}

// Pages and letters ask to look for at most three pests of one grass; what else is
// about stands in a list that is folded.
func TestDemonstrationAsksForFewLooks(t *testing.T) {
	site := printed(t, newest)
	link := regexp.MustCompile(`<a href="/pests/([a-z-]+)/">([^<]+)</a>`)
	folded := regexp.MustCompile(`(?s)<details.*?</details>|<p class="say lawn">.*?</p>`)
	answer := regexp.MustCompile(`(?s)<div class="answer v-look" id="([a-z-]+)-(?:disease|weed|insect)">.*?</div>`)
	letter := regexp.MustCompile(`<p[^>]*><strong[^>]*>Look\.</strong> <strong[^>]*>(?:Disease|Weeds|Insects):</strong> (.*?)</p>`)
	names := map[string]bool{}
	pages, letters := 0, 0
	for name, body := range site {
		if !strings.HasSuffix(name, ".html") {
			continue
		}
		looks := map[string]map[string]bool{}
		for _, found := range answer.FindAllStringSubmatch(folded.ReplaceAllString(body, ""), -1) {
			pages++
			if looks[found[1]] == nil {
				looks[found[1]] = map[string]bool{}
			}
			for _, pest := range link.FindAllStringSubmatch(found[0], -1) {
				looks[found[1]][pest[1]], names[pest[2]] = true, true
			}
		}
		for grass, of := range looks {
			assert.LessOrEqual(t, len(of), 3, "%s, %s: %v", name, grass, of)
		}
	}
	for name, body := range site {
		if !strings.HasSuffix(name, "newsletter/index.html") {
			continue
		}
		for _, grass := range strings.Split(body, "<h2") {
			said := ""
			for _, found := range letter.FindAllStringSubmatch(grass, -1) {
				letters++
				said += found[1]
			}
			named := 0
			for pest := range names {
				if strings.Contains(said, pest) {
					named++
				}
			}
			assert.LessOrEqual(t, named, 3, "%s: %s", name, said)
		}
	}
	assert.Greater(t, pages, 20)
	assert.Greater(t, letters, 20)
}
