package main

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"io/fs"
	"maps"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	syntax "text/template/parse"
	"unicode"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"ligule/data"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/message"
	"ligule/internal/publish"
	"ligule/internal/reference"
	"ligule/internal/replay"
	"ligule/internal/voice"
	"ligule/internal/workspace"
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
		switch key, value, isPair := strings.Cut(line, " = "); {
		case strings.HasPrefix(line, "["):
			inTable = true
			out.WriteString(line)
		case !isPair || strings.HasPrefix(line, "#"):
		case !inTable, strings.TrimSpace(key) == "also" && strings.HasPrefix(value, "["):
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

// wordless are the program's templates without a letter that a reader would see:
// none outside tags and actions, none in a label, none in a text that an action
// prints.
func wordless(t *testing.T) fs.FS {
	t.Helper()
	out := fstest.MapFS{}
	names, err := fs.Glob(templates.FS, "*")
	require.NoError(t, err)
	for _, name := range names {
		text, err := fs.ReadFile(templates.FS, name)
		require.NoError(t, err)
		if ext := path.Ext(name); ext == ".html" || ext == ".txt" {
			trees := map[string]*syntax.Tree{}
			file := syntax.New(name)
			file.Mode = syntax.SkipFuncCheck
			_, err := file.Parse(string(text), "", "", trees)
			require.NoError(t, err)
			var b strings.Builder
			for _, id := range slices.Sorted(maps.Keys(trees)) {
				if id == name {
					continue // what stands between the templates of a file
				}
				s := silencer{html: ext == ".html"}
				s.list(trees[id].Root)
				b.WriteString("{{define " + strconv.Quote(id) + "}}" + trees[id].Root.String() + "{{end}}")
			}
			text = []byte(b.String())
		}
		out[name] = &fstest.MapFile{Data: text}
	}
	return out
}

// silencer takes letters out of a template. It knows where in a tag it is.
type silencer struct {
	html, tag bool
	name      string // of the attribute at hand
	quote     byte   // around its value; 0 outside
}

// labels are the attributes that a reader sees or hears.
var labels = []string{"aria-label", "alt", "title", "placeholder"}

func (s *silencer) text(text []byte) []byte {
	var out []byte
	for _, r := range string(text) {
		keep := !unicode.IsLetter(r)
		switch {
		case !s.html:
		case !s.tag:
			s.tag = r == '<'
			s.name = ""
		case s.quote != 0:
			if r == rune(s.quote) {
				s.quote, s.name = 0, ""
			}
			keep = keep || !slices.Contains(labels, s.name)
		default:
			keep = true
			switch {
			case r == '>':
				s.tag = false
			case r == '"' || r == '\'':
				s.quote = byte(r)
			case unicode.IsSpace(r):
				s.name = ""
			case r != '=':
				s.name += string(r)
			}
		}
		if keep {
			out = append(out, string(r)...)
		}
	}
	return out
}

func (s *silencer) list(l *syntax.ListNode) {
	if l == nil {
		return
	}
	for _, n := range l.Nodes {
		switch n := n.(type) {
		case *syntax.TextNode:
			n.Text = s.text(n.Text)
		case *syntax.ActionNode:
			s.pipe(n.Pipe)
		case *syntax.TemplateNode:
			s.pipe(n.Pipe)
		case *syntax.IfNode:
			s.branch(&n.BranchNode)
		case *syntax.RangeNode:
			s.branch(&n.BranchNode)
		case *syntax.WithNode:
			s.branch(&n.BranchNode)
		}
	}
}

func (s *silencer) branch(n *syntax.BranchNode) {
	s.pipe(n.Pipe)
	before := *s
	s.list(n.List)
	if n.ElseList != nil {
		*s = before
		s.list(n.ElseList)
	}
}

// verbs are what printf fills.
var verbs = regexp.MustCompile(`%[0-9]*[a-z]|\pL`)

// pipe takes the letters out of the texts that printing functions are given.
// Other texts are codes.
func (s *silencer) pipe(p *syntax.PipeNode) {
	if p == nil {
		return
	}
	for _, c := range p.Cmds {
		function, _ := c.Args[0].(*syntax.IdentifierNode)
		for _, arg := range c.Args {
			switch a := arg.(type) {
			case *syntax.PipeNode:
				s.pipe(a)
			case *syntax.StringNode:
				if function != nil && slices.Contains([]string{"wrap", "column", "or", "printf", "print", "asked"}, function.Ident) {
					a.Text = verbs.ReplaceAllStringFunc(a.Text, func(m string) string {
						if m[0] == '%' {
							return m
						}
						return ""
					})
					a.Quoted = strconv.Quote(a.Text)
				}
			}
		}
	}
}

// author knows all that the author wrote, besides the phrases.
type author struct {
	voice voice.Voice         // the mute one
	texts map[string][]string // by their first words, the longest first
	codes map[string]bool     // keys, and values that are written like one
}

var (
	codeLike  = regexp.MustCompile(`^[a-z0-9]+([_\-/.:][a-z0-9]+)*$`)
	codeStart = regexp.MustCompile(`^[a-z0-9_-]+`)
	codeEnd   = regexp.MustCompile(`[a-z0-9_-]*$`)
	word      = regexp.MustCompile(`\pL{3,}`)
	slot      = regexp.MustCompile(`\{[^{}]*\}`)
	address   = regexp.MustCompile(`(https?://|/[a-z])\S*|\S+@\S+`)
)

// plainly is a text as it is compared: how it is spaced, broken and begun does not
// matter.
func plainly(text string) string {
	text = strings.NewReplacer("\u00a0", " ", "\u00ad", "", "\u2060", "", "°", "").Replace(address.ReplaceAllString(text, " "))
	return strings.ToLower(strings.Join(strings.Fields(text), " "))
}

// wrote adds a text of the author's, as it stands and as the voice sets it, in the
// pieces that its slots leave.
func (a *author) wrote(text string) {
	for _, piece := range slot.Split(text, -1) {
		for _, piece := range append(strings.Split(a.voice.Say(message.Plain(piece)), mute), piece) {
			if piece = strings.Trim(plainly(piece), " .,;:()"); word.MatchString(piece) {
				first := word.FindString(piece)
				piece = piece[strings.Index(piece, first):]
				a.texts[first] = append(a.texts[first], piece)
			}
		}
	}
}

// wordKeys are the keys whose values are words to be printed even where they look
// like a code.
var wordKeys = []string{"names", "ingredients", "also", "authors", "where", "of", "controls", "method"}

func (a *author) value(key string, v any) {
	switch x := v.(type) {
	case string:
		switch {
		case key == "source" || key == "standing":
		case codeLike.MatchString(x) && !slices.Contains(wordKeys, key):
			a.codes[x] = true
		default:
			a.wrote(x)
			if key == "authors" { // surnames are cited alone
				for name := range strings.SplitSeq(x, ", ") {
					a.wrote(name)
				}
			}
		}
	case []any:
		for _, e := range x {
			a.value(key, e)
		}
	case []map[string]any:
		for _, e := range x {
			a.value(key, e)
		}
	case map[string]any:
		for k, e := range x {
			a.codes[k] = true
			a.value(k, e)
		}
	}
}

// page adds every text of what the workspace holds of pages: as HTML, and plain.
func (a *author) page(t *testing.T, x reflect.Value) {
	switch x.Kind() {
	case reflect.String:
		if codeLike.MatchString(x.String()) {
			return
		}
		a.wrote(x.String())
		for line := range strings.Lines(x.String()) {
			a.wrote(line)
		}
		for text := range printedTexts(t, []byte(x.String())) {
			a.wrote(text)
		}
	case reflect.Pointer:
		if !x.IsNil() {
			a.page(t, x.Elem())
		}
	case reflect.Struct:
		for i := range x.NumField() {
			a.page(t, x.Field(i))
		}
	case reflect.Slice:
		for i := range x.Len() {
			a.page(t, x.Index(i))
		}
	case reflect.Map:
		for _, k := range x.MapKeys() {
			a.page(t, x.MapIndex(k))
		}
	}
}

// authorOf reads all that the author of a workspace wrote.
func authorOf(t *testing.T, ws *workspace.Workspace) *author {
	t.Helper()
	a := &author{voice: ws.Voice(), texts: map[string][]string{}, codes: map[string]bool{}}
	require.NoError(t, fs.WalkDir(ws.FS, "data", func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || path.Ext(p) != ".toml" || path.Base(p) == "phrases.toml" {
			return err
		}
		file := map[string]any{}
		_, err = toml.DecodeFS(ws.FS, p, &file)
		a.value("", file)
		return err
	}))
	a.page(t, reflect.ValueOf(ws.Standing))
	a.page(t, reflect.ValueOf(ws.Weeks))
	for _, all := range a.texts {
		slices.SortFunc(all, func(x, y string) int { return cmp.Or(len(y)-len(x), cmp.Compare(x, y)) })
	}
	return a
}

// others returns the words of a text that are not the author's, each with what
// follows it. Where a place in a file may stand its keys and codes are the
// author's too.
func (a *author) others(text string, place bool) map[string]string {
	out := map[string]string{}
	text = plainly(text)
	for {
		at := word.FindStringIndex(text)
		if at == nil {
			return out
		}
		before := text[:at[0]]
		first := text[at[0]:at[1]]
		text = text[at[0]:]
		own := 0 // how much of it the author wrote
		if i := slices.IndexFunc(a.texts[first], func(s string) bool { return strings.HasPrefix(text, s) }); i >= 0 {
			own = len(a.texts[first][i])
		}
		if code := codeStart.FindString(text); place && a.codes[codeEnd.FindString(before)+code] {
			own = max(own, len(code))
		}
		cut, clipped := strings.CutSuffix(text, "…")
		switch {
		case clipped && slices.ContainsFunc(a.texts[first], func(s string) bool { return strings.HasPrefix(s, cut) }):
			return out
		case own > 0:
			text = text[own:]
		default:
			out[first] = text[:min(len(text), 120)]
			text = text[len(first):]
		}
	}
}

// printedTexts yields the texts of a page, and whether each stands where the name
// of a rule, an indicator or a key may stand.
func printedTexts(t *testing.T, page []byte) func(yield func(text string, place bool) bool) {
	root, err := html.Parse(bytes.NewReader(page))
	require.NoError(t, err)
	return func(yield func(string, bool) bool) {
		for n := range root.Descendants() {
			switch n.Type {
			case html.TextNode:
				if n.Parent.Data != "script" && n.Parent.Data != "style" && !yield(n.Data, n.Parent.Data == "code" || n.Parent.Data == "th") {
					return
				}
			case html.ElementNode:
				for _, at := range n.Attr {
					if slices.Contains(labels, at.Key) && !yield(at.Val, false) {
						return
					}
				}
			}
		}
	}
}

// With a book without words and templates without text nothing is said but what
// the author wrote: the program has no words of its own.
func TestNothingIsSaidWithoutBookAndTemplates(t *testing.T) {
	t.Parallel()
	ws := loadWorkspace(t, root)
	real := ws.Phrases
	ws.Phrases, ws.Zones = muteBook(t), ws.Zones[:1]
	require.ElementsMatch(t, real.IDs(), ws.Phrases.IDs())
	files := wordless(t)
	pub := publication(ws, civil.Week{Year: 2026, Num: 48})
	site, err := publish.Render(pub, files)
	require.NoError(t, err)
	past, err := replay.Run(ws, replay.Question{First: 2025, Last: 2025, Zones: ws.Zones}, nil)
	require.NoError(t, err)
	pub.Reference = &reference.Reference{Pests: reference.Pests(ws, civil.MustDate(2025, 12, 31))}
	page, err := publish.Alone(pub, files, "replay", replay.PageOf(ws, past))
	require.NoError(t, err)
	a := authorOf(t, ws)
	looked, strange := map[string]int{}, map[string]string{}
	look := func(where, text string, place bool) {
		for w, said := range a.others(text, place) {
			strange[w] = where + ": " + said
		}
	}
	lookHTML := func(where string, page []byte) {
		for text, place := range printedTexts(t, page) {
			look(where, text, place)
		}
	}
	for _, f := range append(site.Files, publish.File{Path: "replay.html", Body: page}) {
		looked[path.Ext(f.Path)]++
		switch path.Ext(f.Path) {
		case ".html":
			lookHTML(f.Path, f.Body)
		case ".txt":
			look(f.Path, string(f.Body), false)
		case ".ics":
			for _, line := range strings.Split(strings.ReplaceAll(string(f.Body), "\r\n ", ""), "\r\n") {
				name, value, _ := strings.Cut(line, ":")
				name, _, _ = strings.Cut(name, ";")
				switch name {
				case "SUMMARY", "CATEGORIES", "NAME", "X-WR-CALNAME", "DESCRIPTION":
					look(f.Path, strings.NewReplacer(`\n`, " ", `\`, "").Replace(value), false)
				}
			}
		case ".xml":
			if strings.HasSuffix(f.Path, "feed.xml") {
				for _, text := range feedTexts(t, f) {
					lookHTML(f.Path, []byte(text))
				}
			}
		}
	}
	for _, w := range slices.Sorted(maps.Keys(strange)) {
		t.Errorf("%q is said by nobody: %s", w, strange[w])
	}
	assert.Greater(t, looked[".html"], 90)
	assert.GreaterOrEqual(t, looked[".ics"], 1)
	assert.GreaterOrEqual(t, looked[".xml"], 3)
}

// feedTexts are the texts of a feed.
func feedTexts(t *testing.T, f publish.File) []string {
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
	return said
}
