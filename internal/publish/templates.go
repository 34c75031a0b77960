package publish

import (
	"bytes"
	"fmt"
	"html"
	"html/template"
	"io"
	"io/fs"
	"strings"
	"unicode/utf8"

	texttemplate "text/template"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/reference"
	"ligule/internal/voice"
	"ligule/internal/workspace"
)

// printer holds the parsed templates. It may be used from several goroutines.
type printer struct {
	pages  map[string]*template.Template // by file name without .html
	parts  *template.Template            // letters and feed items: fragments without a page around them
	texts  map[string]*texttemplate.Template
	styles mailStyles
	site   siteView
}

// Files of the templates folder. Each page file is parsed together with the
// shared ones; a file of another name is not looked at.
var (
	sharedPages = []string{"layout.html", "partials.html", "ribbon.html", "region.html", "pest-parts.html"}
	pageFiles   = []string{"home", "zone", "year", "grass", "working", "issues", "issue", "issue-zone", "letter", "local-rules",
		"jurisdiction", "guides", "article", "methods", "indicators", "sources", "subscribe", "missing",
		"pests", "pest", "weed-killers", "replay"}
	partFiles = []string{"letter-parts.html", "letter-zone.html", "letter-region.html", "feed.html"}
	textFiles = []string{"letter-zone", "letter-region", "feed", "robots"}
	assets    = []string{"site.css", "copy.js", "favicon.svg"}
)

func newPrinter(fsys fs.FS, v voice.Voice, site siteView) (*printer, error) {
	p := &printer{pages: map[string]*template.Template{}, texts: map[string]*texttemplate.Template{}, site: site}
	dated := func(k message.Kind) func(civil.Date) string {
		return func(d civil.Date) string { return v.Date(k, d) }
	}
	funcs := map[string]any{
		"long": dated(message.DateKind), "day": dated(message.FullDate), "short": dated(message.ShortDay), "article": standingAddress, "phrase": v.Word,
		"drawn": func(d dayView, freezing string) drawnDay { return drawnDay{d, freezing} },
		"asked": func(who string, s reference.LawState, r bulletin.PlaceReasons) rulingView {
			return rulingView{who, s, r}
		},
	}
	shared, err := template.New("").Funcs(funcs).ParseFS(fsys, sharedPages...)
	if err != nil {
		return nil, fmt.Errorf("publish: templates: %w", err)
	}
	for _, name := range pageFiles {
		page, err := shared.Clone()
		if err == nil {
			page, err = page.ParseFS(fsys, name+".html")
		}
		if err != nil {
			return nil, fmt.Errorf("publish: templates: %w", err)
		}
		p.pages[name] = page
	}
	if p.parts, err = template.New("").Funcs(funcs).ParseFS(fsys, partFiles...); err != nil {
		return nil, fmt.Errorf("publish: templates: %w", err)
	}
	textFuncs := map[string]any{
		"long": dated(message.DateKind), "short": dated(message.ShortDay), "phrase": v.Word, "column": func(width int, text any) string { return column(width, printed(text)) },
		"wrap":  func(prefix string, text any) string { return wrap(prefix, printed(text)) },
		"upper": func(text any) string { return strings.ToUpper(printed(text)) },
	}
	for _, name := range textFiles {
		t, err := texttemplate.New("").Funcs(textFuncs).ParseFS(fsys, "letter-parts.txt", name+".txt")
		if err != nil {
			return nil, fmt.Errorf("publish: templates: %w", err)
		}
		p.texts[name] = t
	}
	if p.styles, err = readMailStyles(fsys); err != nil {
		return nil, err
	}
	return p, nil
}

// printed is a value as templates print it: nothing for what says nothing.
func printed(x any) string {
	if s, ok := x.(*message.Said); ok {
		return s.String()
	}
	return fmt.Sprint(x)
}

// drawnDay is a day with where freezing lies in its picture.
type drawnDay struct {
	Day      dayView
	Freezing string
}

// rulingView is what the law of a place says to somebody.
type rulingView struct {
	Who   string
	State reference.LawState
	bulletin.PlaceReasons
}

// column sets a text in a column of a table.
func column(width int, text string) string {
	return text + strings.Repeat(" ", max(1, width-utf8.RuneCountInString(text)))
}

// siteView is what every page says of the site.
type siteView struct {
	workspace.Site
	Guides  bool // there are any
	Pests   bool // there are pages of pests
	OwnPage bool // there is an /about/
}

// head is what a page says of itself.
type head struct {
	Title, Description string
	Canonical          string
	Section            string // entry of the navigation
	Letter             bool   // a newsletter page: inline styles, and the script that copies
	NoIndex            bool
	Style              template.CSS // of a page by itself, which has it inside; else ""
	StyleHash          string       // by which its policy lets that style in
	Icon               template.URL // of such a page: the icon itself
	Feeds              []linkView
	Crumbs             []crumb
}

// crumb is a step of the way from the front page to a page: an entry of the
// navigation, which the layout words, or something with a name of its own.
type crumb struct{ Kind, Title, Address string }

// view is what the template of a page gets.
type view struct {
	Site siteView
	Head head
	Body any
}

// maxDescription is the length that search pages show, in characters.
const maxDescription = 160

// page prints a page. Its title and description are printed first, to be
// repeated wherever the layout wants them.
func (p *printer) page(name string, h head, body any) ([]byte, error) {
	t := p.pages[name]
	v := view{p.site, h, body}
	title, err := text(t, "title", v)
	if err != nil {
		return nil, err
	}
	description, err := text(t, "description", v)
	if err != nil {
		return nil, err
	}
	v.Head.Title, v.Head.Description = title, clip(description, maxDescription)
	return execute(t, "layout", v)
}

// execute prints a template of a set of HTML or of text.
func execute(set interface {
	ExecuteTemplate(w io.Writer, name string, data any) error
}, name string, data any) ([]byte, error) {
	var b bytes.Buffer
	if err := set.ExecuteTemplate(&b, name, data); err != nil {
		return nil, fmt.Errorf("publish: %w", err)
	}
	return b.Bytes(), nil
}

// text executes a template of an HTML set whose result is plain text.
func text(t *template.Template, name string, data any) (string, error) {
	b, err := execute(t, name, data)
	return strings.Join(strings.Fields(html.UnescapeString(string(b))), " "), err
}

// part prints a fragment of HTML.
func (p *printer) part(name string, data any) ([]byte, error) { return execute(p.parts, name, data) }

// text prints a template of a text file.
func (p *printer) text(file, name string, data any) (string, error) {
	b, err := execute(p.texts[file], name, data)
	return string(b), err
}

// line is text on one line.
func (p *printer) line(file, name string, data any) (string, error) {
	s, err := p.text(file, name, data)
	return strings.Join(strings.Fields(s), " "), err
}
