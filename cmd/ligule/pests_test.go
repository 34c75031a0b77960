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
	t.Parallel()
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

// The arithmetic of a spot and the counts in samples, from the files to the printed
// row: in a fold on each disease page that names something to treat with, in the
// guide, and beside the published counts of insects.
func TestArithmeticIsPrinted(t *testing.T) {
	site := printed(t, newest)
	fold := func(page, summary string) string {
		body := site[page+"index.html"]
		_, rest, found := strings.Cut(body, "<details><summary>"+summary)
		if !found {
			return ""
		}
		table, _, _ := strings.Cut(rest, "</details>")
		return regexp.MustCompile(`\s*<[^>]*>\s*`).ReplaceAllString(strings.NewReplacer("</th>", "|", "</td>", "|", "\u00a0", " ").Replace(table), "")
	}
	const spots, samples = "The arithmetic of a spot", "The same counts in smaller samples"
	patch, guide := fold("pests/large-patch/", spots), fold("guides/treating-a-spot/", spots)
	// Ten feet across: 5 + 3 ft squared times pi; two of six feet lie 8 ft apart.
	assert.Contains(t, patch, "one patch, 10 ft (3.0 m) across|154 ft² (14 m²)|201 ft² (19 m²)|0.40 to 0.80 gal (1.5 to 3.0 L)|0.20|")
	assert.Contains(t, patch, "two patches, each 6 ft (1.8 m) across, 8 ft (2.4 m) from middle to middle|149 ft² (14 m²)|201 ft² (19 m²)|", "not 226")
	assert.Contains(t, guide, "one patch, 10 ft (3.0 m) across|154 ft² (14 m²)|201 ft² (19 m²)|0.40 gal (1.5 L)|0.20|")
	assert.Contains(t, guide, "along a wall or walk, 20 ft (6.1 m) long, 2 ft (0.6 m) wide|96 ft² (9 m²)|130 ft² (12 m²)|")
	assert.Contains(t, guide, "by the label’s rate per 1,000 sq ft")
	assert.Contains(t, site["pests/large-patch/index.html"], "For rotation that one treatment counts as both.")
	assert.Empty(t, fold("guides/reading-a-bag/", spots), "a guide that asks for none")
	for page, body := range site {
		if strings.HasPrefix(page, "pests/") && strings.Contains(body, "Fungicide groups (FRAC)") {
			assert.NotEmpty(t, fold(strings.TrimSuffix(page, "index.html"), spots), page)
		}
	}
	assert.Empty(t, fold("pests/red-thread/", spots), "nothing to treat with")
	assert.Contains(t, fold("pests/white-grubs/", samples), "In 4 squares of 6 in (1.00 ft²)|In 10 plugs of 4 in (0.87 ft²)|")
	assert.Contains(t, fold("pests/white-grubs/", samples), "8 to 15 per sq ft (86 to 161 per m²)|8 to 15|7 to 13|")
	assert.Contains(t, fold("pests/southern-chinch-bug/", samples), "15 to 25 per sq ft (161 to 269 per m²)|4 to 7|")
	assert.Empty(t, fold("pests/fall-armyworm/", samples), "its count is of a square yard")
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
