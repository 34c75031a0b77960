package publish

import (
	"fmt"
	"html/template"
	"ligule/internal/bulletin"
	"regexp"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// A webmail service cuts messages off at about 102 kB of HTML, and the mail
// service that sends the letter adds its own links and footer.
const maxLetterBytes = 90_000

// maxPreview is the length of the preview text that mail programs show beside
// the subject, in characters.
const maxPreview = 90

// letterData is what the templates of a newsletter and of a feed get.
type letterData struct {
	Site     siteView
	Name     string // the zone's; for the region "" in a newsletter, the site's title in a feed
	Week     weekView
	Address  string // of the page
	Zone     *zoneView
	Region   *regionView
	Cautions []bulletin.Caution // region only
	Shut     bool               // the law closes something: feed only
	Part     bool               // but not everywhere all week: feed only
	Footer   template.HTML
	Brief    bool // too long otherwise: leave out reasons and figures
	Terse    bool // still too long: verdicts in a word, and the way to the page
	Bare     bool // even so: the law, the note and the way to the page
}

// letterView is a finished newsletter.
type letterView struct {
	Name, Subject, Preview string
	Week                   weekView
	Letter                 template.HTML
	Text                   string
	TextAddress            string
}

// letter prints the newsletter of a zone ("letter-zone") or the region
// ("letter-region") in both editions.
func (p *printer) letter(kind string, d letterData) (*letterView, error) {
	d.Site = p.site
	var err error
	if d.Footer, err = mergeTags(d.Site.PostalAddress); err != nil {
		return nil, err
	}
	lv := &letterView{Name: d.Name, Week: d.Week, TextAddress: d.Address + "newsletter/newsletter.txt"}
	for level := range 4 {
		d.Brief, d.Terse, d.Bare = level > 0, level > 1, level > 2
		if lv.Letter, err = p.letterHTML(kind, d); err != nil {
			return nil, err
		}
		if len(lv.Letter) <= maxLetterBytes {
			break
		}
	}
	if len(lv.Letter) > maxLetterBytes {
		return nil, fmt.Errorf("publish: the newsletter of %s has %d bytes even without any advice; mail programs cut it off at %d", d.Address, len(lv.Letter), maxLetterBytes)
	}
	if lv.Subject, err = p.line(kind, "subject", d); err != nil {
		return nil, err
	}
	if lv.Preview, err = p.line(kind, "preview", d); err != nil {
		return nil, err
	}
	lv.Preview = clip(lv.Preview, maxPreview)
	text, err := p.text(kind, "text", d)
	if err != nil {
		return nil, err
	}
	lv.Text = letterText(text, p.site.BaseURL)
	return lv, nil
}

func (p *printer) letterHTML(kind string, d letterData) (template.HTML, error) {
	fragmentHTML, err := p.part(kind, d)
	if err != nil {
		return "", err
	}
	nodes, err := fragment(absolute(fragmentHTML, p.site.BaseURL))
	if err != nil {
		return "", err
	}
	root := &html.Node{Type: html.ElementNode, DataAtom: atom.Div, Data: "div"}
	for _, n := range nodes {
		root.AppendChild(n)
	}
	trimSpace(root)
	if err := p.styles.apply(childrenOf(root)); err != nil {
		return "", err
	}
	return markup(childrenOf(root))
}

// mergeTag finds the marks that mail services replace when they send, such as
// {{unsubscribe}}, *|LIST:ADDRESS|* and [[address]].
var mergeTag = regexp.MustCompile(`\{\{[^<>{}]*\}\}|\*\|[^<>|]*\|\*|\[\[[^<>\[\]]*\]\]`)

// mergeTags prints an address with its merge tags untouched: a mail service
// would not know an escaped one. A tag cannot hold < or >, so it cannot open
// an element.
func mergeTags(text string) (template.HTML, error) {
	var b strings.Builder
	at := 0
	for _, m := range mergeTag.FindAllStringIndex(text, -1) {
		b.WriteString(html.EscapeString(text[at:m[0]]))
		b.WriteString(text[m[0]:m[1]])
		at = m[1]
	}
	b.WriteString(html.EscapeString(text[at:]))
	return template.HTML(b.String()), nil
}
