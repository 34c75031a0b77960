package main

import (
	"html"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/homeuse"
	"ligule/internal/workspace"
)

// named reports whether a text in small letters names an ingredient in a word of its
// own, "2,4-D" too.
func named(name, lower string) bool {
	name = strings.ToLower(name)
	inWord := func(r rune) bool { return r == '-' || r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r) }
	for rest := lower; ; {
		before, after, found := strings.Cut(rest, name)
		if !found {
			return false
		}
		last, _ := utf8.DecodeLastRuneInString(before)
		next, _ := utf8.DecodeRuneInString(after)
		if (before == "" || !inWord(last)) && (after == "" || !inWord(next)) {
			return true
		}
		rest = after
	}
}

var (
	noText  = regexp.MustCompile(`(?s)<(script|style)\b.*?</(script|style)>`)
	tags    = regexp.MustCompile(`<[^>]*>`)
	spaces  = regexp.MustCompile(`\s+`)
	saysOff = regexp.MustCompile(`(?i)\bsafe(ly|r|st|ty)?\b`)
)

// wordsOf is the text of a printed file without its markup, in a line.
func wordsOf(name, body string) string {
	if strings.HasSuffix(name, ".xml") { // what it carries is markup too
		body = html.UnescapeString(body)
	}
	if path.Ext(name) == ".ics" {
		body = strings.NewReplacer("\r\n ", "", `\,`, ",", `\n`, " ").Replace(body)
	}
	text := noText.ReplaceAllString(body, " ")
	return spaces.ReplaceAllString(html.UnescapeString(tags.ReplaceAllString(text, " ")), " ")
}

// homeUse holds what is printed to who may use what: no ingredient that nobody may
// put on a home lawn is named, none is called safe, and beside each that is offered
// stand the cautions of its class.
type homeUse struct {
	barred, offered []string
	caution         map[string]string // by ingredient; "" for none
}

func newHomeUse(ws *workspace.Workspace) homeUse {
	h := homeUse{caution: map[string]string{}}
	for _, i := range ws.Pests.Ingredients.Ingredients {
		a := ws.Pests.Ingredients.Answer(i.Name, homeuse.Ask{})
		switch {
		case a.Code == homeuse.Restricted, a.Code == homeuse.Barred && len(i.Forms) == 0:
			h.barred = append(h.barred, i.Name)
		case a.Offered():
			h.offered = append(h.offered, i.Name)
			for _, c := range ws.Cautions {
				if c.Class != "" && c.Class == i.Class {
					h.caution[i.Name] = c.Medium
				}
			}
		}
	}
	return h
}

// check looks at one printed text, and reports whether anything is offered in it.
func (h homeUse) check(t *testing.T, name, text string) (offers bool) {
	t.Helper()
	lower := strings.ToLower(text)
	for _, one := range h.barred {
		assert.False(t, named(one, lower), "%s names %s", name, one)
	}
	assert.Empty(t, saysOff.FindString(text), name)
	for _, one := range h.offered {
		if !named(one, lower) {
			continue
		}
		offers = true
		assert.Contains(t, text, h.caution[one], "%s names %s", name, one)
		// A page of a letter holds it as a mail and as plain text.
		if n := strings.Count(text, h.caution[one]); h.caution[one] != "" && path.Ext(name) == ".html" && !strings.Contains(name, "newsletter") {
			assert.Equal(t, 1, n, "%s says it %d times: %s", name, n, h.caution[one])
		}
	}
	return offers
}

// A week of the year, and in the full run one with others before it: every page, feed,
// letter and calendar; and the working of two lawns as the terminal shows it.
func TestHomeUseOfThePrintedDemonstration(t *testing.T) {
	t.Parallel()
	h := newHomeUse(loadWorkspace(t, root))
	require.Greater(t, len(h.barred), 7)
	require.Greater(t, len(h.offered), 30)
	kinds := map[string]int{}
	weeks := []string{"2026-W18"}
	if os.Getenv("EVERY_CASE") != "" {
		weeks = append(weeks, "2026-W42")
	}
	for _, week := range weeks {
		for name, body := range printed(t, week) {
			switch path.Ext(name) {
			case ".html", ".xml", ".txt", ".ics":
			default:
				continue
			}
			if name == "methods/sources/index.html" { // publications are listed by their titles
				continue
			}
			if h.check(t, name, wordsOf(name, body)) {
				kinds[path.Ext(name)]++
			}
		}
	}
	assert.Greater(t, kinds[".html"], 50)
	assert.Greater(t, kinds[".xml"], 3)
	assert.Greater(t, kinds[".txt"], 3)
	for _, lawn := range [][]string{{"redfallow-piedmont", "tall-fescue", "2026-W46"}, {"gannet-shore", "st-augustine", "2026-W48"}} {
		code, stdout, stderr := ligule(t, root, "explain", "--week", lawn[2], lawn[0], lawn[1])
		require.Equal(t, exitOK, code, stderr)
		assert.True(t, h.check(t, "explain", spaces.ReplaceAllString(stdout, " ")), "%v offers nothing", lawn)
	}
}

// Where glyphosate is named, the reader is told to read the line of ingredients.
func TestGlyphosateIsNamedWithItsTrap(t *testing.T) {
	h := newHomeUse(loadWorkspace(t, root))
	assert.Contains(t, h.caution["glyphosate"], "read the ingredient line")
	assert.Contains(t, h.caution["dicamba"], "as far away as the tree is tall")
	assert.Contains(t, h.caution["metsulfuron"], "oaks")
}

// A state that is named closes what it bars, on the pages and in the answers; its
// neighbors go on.
func TestAStateClosesWhatItBars(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	site := read(t, dir, "data/advisory.toml")
	open := wordsOf("x.html", printed(t, "2026-W18")["pests/white-grubs/index.html"])
	assert.Contains(t, open, "imidacloprid")
	assert.Contains(t, open, "Some states let only licensed people use it on lawns")
	write(t, dir, "data/advisory.toml", site+"state = \"MD\"\n")
	code, _, stderr := ligule(t, dir, "press", "--week", "2026-W14", "--quiet")
	require.Equal(t, exitOK, code, stderr)
	closed := wordsOf("x.html", read(t, dir, "public/pests/white-grubs/index.html"))
	assert.False(t, named("imidacloprid", strings.ToLower(closed)))
	assert.NotContains(t, closed, "Some states let")
	assert.Contains(t, closed, "A licensed professional has others.")
	write(t, dir, "data/advisory.toml", site+"state = \"Maryland\"\n")
	code, _, stderr = ligule(t, dir, "check")
	assert.NotEqual(t, exitOK, code)
	assert.Contains(t, stderr, `state: "Maryland" is no state; write two letters, as "MD", or leave it out`)
	assert.True(t, slices.ContainsFunc(strings.Split(stderr, "\n"), func(l string) bool { return strings.HasPrefix(l, "data/advisory.toml:") }))
}
