package main

import (
	"encoding/xml"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/publish"
	"ligule/internal/voice"
	"ligule/templates"
)

// mute stands for a phrase without words: the reader refuses an empty one.
const mute = "\u200b"

// muteBook has every phrase of the program, and words in none.
func muteBook(t *testing.T) *voice.Book {
	t.Helper()
	var out strings.Builder
	inTable := false
	for line := range strings.Lines(string(data.Phrases)) {
		switch key, _, isPair := strings.Cut(line, " = "); {
		case strings.HasPrefix(line, "["):
			inTable = true
			out.WriteString(line)
		case !isPair || strings.HasPrefix(line, "#"):
		case !inTable, strings.TrimSpace(key) == "also":
			out.WriteString(line)
		default:
			out.WriteString(key + " = \"" + mute + "\"\n")
		}
	}
	var list diag.List
	root, ok := diag.ReadTOML("data/phrases.toml", []byte(out.String()), &list)
	require.True(t, ok, list.Error())
	b := voice.ReadBook(root)
	require.NoError(t, list.Err())
	return b
}

var defined = regexp.MustCompile(`\{\{-? ?define "([^"]+)"`)

// emptyTemplates define all that the program's templates define, and print
// nothing.
func emptyTemplates(t *testing.T) fs.FS {
	t.Helper()
	out := fstest.MapFS{}
	names, err := fs.Glob(templates.FS, "*")
	require.NoError(t, err)
	for _, name := range names {
		text, err := fs.ReadFile(templates.FS, name)
		require.NoError(t, err)
		body := ""
		if ext := path.Ext(name); ext == ".html" || ext == ".txt" {
			for _, m := range defined.FindAllStringSubmatch(string(text), -1) {
				body += "{{define \"" + m[1] + "\"}}{{end}}"
			}
		}
		out[name] = &fstest.MapFile{Data: []byte(body)}
	}
	return out
}

// With a book without words and templates without text nothing is said: the
// program has no words of its own.
func TestNothingIsSaidWithoutBookAndTemplates(t *testing.T) {
	ws := loadWorkspace(t, root)
	real := ws.Phrases
	ws.Phrases = muteBook(t)
	require.ElementsMatch(t, real.IDs(), ws.Phrases.IDs())
	pub := publication(ws, civil.Week{Year: 2026, Num: 48})
	site, err := publish.Render(pub, emptyTemplates(t))
	require.NoError(t, err)
	written := authored(t, ws.FS)
	looked := map[string]int{}
	for _, f := range site.Files {
		text := strings.ReplaceAll(string(f.Body), mute, "")
		looked[path.Ext(f.Path)]++
		switch path.Ext(f.Path) {
		case ".html", ".css", ".js", ".svg":
			assert.Empty(t, strings.TrimSpace(text), f.Path)
		case ".txt":
			assert.Empty(t, strings.TrimSpace(text), f.Path)
		case ".ics":
			for _, line := range strings.Split(strings.ReplaceAll(text, "\r\n ", ""), "\r\n") {
				name, value, _ := strings.Cut(line, ":")
				name, _, _ = strings.Cut(name, ";")
				switch name {
				case "SUMMARY", "CATEGORIES", "NAME", "X-WR-CALNAME", "DESCRIPTION":
					for _, word := range regexp.MustCompile(`[A-Za-z]{3,}`).FindAllString(address.ReplaceAllString(strings.ReplaceAll(value, `\n`, " "), ""), -1) {
						assert.True(t, strings.Contains(written, word), "%s: %s says %q", f.Path, name, word)
					}
				}
			}
		case ".xml":
			if strings.HasSuffix(f.Path, "feed.xml") {
				feedSaysNothing(t, f)
			}
		}
	}
	assert.Greater(t, looked[".html"], 100)
	assert.Greater(t, looked[".ics"], 3)
	assert.Greater(t, looked[".xml"], 6)
}

var address = regexp.MustCompile(`https?://\S+`)

// authored is all that the author wrote besides the phrases.
func authored(t *testing.T, fsys fs.FS) string {
	t.Helper()
	var all strings.Builder
	require.NoError(t, fs.WalkDir(fsys, "data", func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || path.Ext(p) != ".toml" || path.Base(p) == "phrases.toml" {
			return err
		}
		text, err := fs.ReadFile(fsys, p)
		all.Write(text)
		return err
	}))
	return all.String()
}

func feedSaysNothing(t *testing.T, f publish.File) {
	t.Helper()
	var feed struct {
		Channel struct {
			Title       string `xml:"title"`
			Description string `xml:"description"`
			Items       []struct {
				Title       string `xml:"title"`
				Description string `xml:"description"`
				Content     string `xml:"encoded"`
			} `xml:"item"`
		} `xml:"channel"`
	}
	require.NoError(t, xml.Unmarshal(f.Body, &feed), f.Path)
	said := []string{feed.Channel.Title, feed.Channel.Description}
	for _, i := range feed.Channel.Items {
		said = append(said, i.Title, i.Description, i.Content)
	}
	for _, s := range said {
		assert.Empty(t, strings.TrimSpace(strings.ReplaceAll(s, mute, "")), f.Path)
	}
}
