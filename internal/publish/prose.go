package publish

import (
	"bytes"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// prose is how an author's text is fitted into what surrounds it.
type prose struct {
	above int    // level of the heading that stands above the text: no level is skipped below it
	ids   string // prefix of ids and of links to them; "" drops both
	mail  bool   // for mail and feeds: fewer elements, no links within the page
}

// allowed lists the elements that an author's text may keep, and whether they may
// stay in mail too, whose programs replace or drop the others. The text comes from
// CommonMark without raw HTML; the list is a second wall.
var allowed = map[atom.Atom]bool{
	atom.P: true, atom.H1: true, atom.H2: true, atom.H3: true, atom.H4: true, atom.H5: true, atom.H6: true,
	atom.Ul: true, atom.Ol: true, atom.Li: true, atom.A: true, atom.Strong: true, atom.Em: true, atom.Br: true,
	atom.Table: true, atom.Thead: true, atom.Tbody: true, atom.Tr: true, atom.Th: true, atom.Td: true,
	atom.Blockquote: false, atom.Pre: false, atom.Code: false, atom.Hr: false, atom.Sup: false, atom.Sub: false,
	atom.Del: false, atom.Dl: false, atom.Dt: false, atom.Dd: false, atom.Img: false, atom.Section: false,
}

// dropped lose their content too.
var dropped = map[atom.Atom]bool{
	atom.Script: true, atom.Style: true, atom.Template: true, atom.Iframe: true, atom.Object: true, atom.Svg: true,
	atom.Math: true, atom.Form: true, atom.Noscript: true, atom.Textarea: true, atom.Select: true, atom.Title: true,
}

// fit returns the text ready to print: only allowed elements and attributes,
// headings in an order without gaps.
func (p prose) fit(text string) (template.HTML, error) {
	nodes, err := fragment([]byte(text))
	if err != nil {
		return "", err
	}
	level := p.above
	out := p.all(nodes, &level)
	return markup(out)
}

func (p prose) all(nodes []*html.Node, level *int) []*html.Node {
	var out []*html.Node
	for _, n := range nodes {
		out = append(out, p.node(n, level)...)
	}
	return out
}

// node fits one node; an element that may not stay is replaced by what is in
// it.
func (p prose) node(n *html.Node, level *int) []*html.Node {
	switch n.Type {
	case html.TextNode:
		return []*html.Node{{Type: html.TextNode, Data: n.Data}}
	case html.ElementNode:
	default:
		return nil
	}
	if dropped[n.DataAtom] || n.Namespace != "" {
		return nil
	}
	kept := &html.Node{Type: html.ElementNode, DataAtom: n.DataAtom, Data: n.Data}
	if from, ok := headingLevel(n.DataAtom); ok {
		// An author's own gap (h2, then h4) is closed too.
		to := min(from, *level+1, 6)
		if p.mail {
			to = 3
		}
		*level = min(from, *level+1, 6)
		kept.Data = fmt.Sprintf("h%d", to)
		kept.DataAtom = atom.Lookup([]byte(kept.Data))
	}
	children := p.all(childrenOf(n), level)
	attrs, keep := p.attributes(n)
	inMail, ok := allowed[n.DataAtom]
	if !keep || !ok || p.mail && !inMail {
		return children
	}
	kept.Attr = attrs
	for _, c := range children {
		kept.AppendChild(c)
	}
	return []*html.Node{kept}
}

// attributes returns what may stay of an element's attributes; keep is false
// if the element makes no sense without those that may not.
func (p prose) attributes(n *html.Node) (attrs []html.Attribute, keep bool) {
	keep = n.DataAtom != atom.A && n.DataAtom != atom.Img
	for _, a := range n.Attr {
		switch {
		case a.Key == "id" && p.ids != "":
			attrs = append(attrs, html.Attribute{Key: "id", Val: p.ids + a.Val})
		case a.Key == "href" && n.DataAtom == atom.A:
			switch {
			case strings.HasPrefix(a.Val, "#"):
				if p.ids != "" && len(a.Val) > 1 {
					attrs, keep = append(attrs, html.Attribute{Key: "href", Val: "#" + p.ids + a.Val[1:]}), true
				}
			case safeLink(a.Val):
				attrs, keep = append(attrs, a), true
			}
		// The page may load nothing from another host.
		case a.Key == "src" && n.DataAtom == atom.Img && strings.HasPrefix(a.Val, "/") && !strings.HasPrefix(a.Val, "//"):
			attrs, keep = append(attrs, a), true
		case a.Key == "alt" && n.DataAtom == atom.Img,
			a.Key == "scope" && n.DataAtom == atom.Th,
			a.Key == "start" && n.DataAtom == atom.Ol:
			attrs = append(attrs, a)
		}
	}
	if n.DataAtom == atom.Img && !slices.ContainsFunc(attrs, func(a html.Attribute) bool { return a.Key == "alt" }) {
		attrs = append(attrs, html.Attribute{Key: "alt"})
	}
	return attrs, keep
}

// safeLink reports whether a link is one that a reader may be sent to.
func safeLink(href string) bool {
	if strings.HasPrefix(href, "//") {
		return false
	}
	starts := []string{"https://", "http://", "mailto:", "/"}
	return slices.ContainsFunc(starts, func(start string) bool { return strings.HasPrefix(href, start) })
}

func headingLevel(a atom.Atom) (int, bool) {
	switch a {
	case atom.H1, atom.H2, atom.H3, atom.H4, atom.H5, atom.H6:
		return int(a.String()[1] - '0'), true
	}
	return 0, false
}

func childrenOf(n *html.Node) []*html.Node { return slices.Collect(n.ChildNodes()) }

// fragment parses what may stand in a body.
func fragment(text []byte) ([]*html.Node, error) {
	body := &html.Node{Type: html.ElementNode, DataAtom: atom.Body, Data: "body"}
	return html.ParseFragment(bytes.NewReader(text), body)
}

// markup is the one place where text becomes HTML without being escaped: it
// writes a tree, and so can write neither a broken tag nor a forgotten escape.
func markup(nodes []*html.Node) (template.HTML, error) {
	var b bytes.Buffer
	for _, n := range nodes {
		if err := html.Render(&b, n); err != nil {
			return "", err
		}
	}
	return template.HTML(b.String()), nil
}
