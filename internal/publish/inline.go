package publish

import (
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// Mail programs drop style sheets, so the letter's is written into its
// elements. The letter's sheet, letter.css, is a small part of CSS: rules for
// one element or one class each, no at-rules.

// mailStyles are the declarations of the letter's sheet by selector: "td",
// ".lead".
type mailStyles map[string][]declaration

type declaration struct{ property, value string }

var cssComment = regexp.MustCompile(`(?s)/\*.*?\*/`)

// readMailStyles reads letter.css.
func readMailStyles(templates fs.FS) (mailStyles, error) {
	const name = "letter.css"
	text, err := fs.ReadFile(templates, name)
	if err != nil {
		return nil, fmt.Errorf("publish: %w", err)
	}
	styles := mailStyles{}
	rest := cssComment.ReplaceAllString(string(text), "")
	for strings.TrimSpace(rest) != "" {
		selector, after, ok := strings.Cut(rest, "{")
		body, next, closed := strings.Cut(after, "}")
		selector = strings.TrimSpace(selector)
		if !ok || !closed || !simpleSelector.MatchString(selector) {
			return nil, fmt.Errorf("publish: %s: %q is not a rule for one element or one class", name, clip(rest, 60))
		}
		for _, line := range strings.Split(body, ";") {
			if strings.TrimSpace(line) == "" {
				continue
			}
			property, value, ok := strings.Cut(line, ":")
			if !ok || strings.ContainsAny(value, `"<>&`) {
				return nil, fmt.Errorf("publish: %s: %s: %q is not a declaration that mail can carry", name, selector, strings.TrimSpace(line))
			}
			styles[selector] = append(styles[selector], declaration{strings.TrimSpace(property), strings.TrimSpace(value)})
		}
		rest = next
	}
	return styles, nil
}

var simpleSelector = regexp.MustCompile(`^\.?[a-z][a-z0-9-]*$`)

// apply writes the styles into the elements of a tree: those of the element
// first, then those of its classes, which disappear. Cells get their
// background as an attribute too, for programs that know nothing else.
func (m mailStyles) apply(nodes []*html.Node) error {
	for _, n := range nodes {
		if n.Type == html.ElementNode {
			if err := m.style(n); err != nil {
				return err
			}
		}
		if err := m.apply(childrenOf(n)); err != nil {
			return err
		}
	}
	return nil
}

func (m mailStyles) style(n *html.Node) error {
	all := slices.Clone(m[n.Data])
	i := slices.IndexFunc(n.Attr, func(a html.Attribute) bool { return a.Key == "class" })
	if i >= 0 {
		for _, class := range strings.Fields(n.Attr[i].Val) {
			more, ok := m["."+class]
			if !ok {
				return fmt.Errorf("publish: letter.css has no rule for the class %q", class)
			}
			all = append(all, more...)
		}
		n.Attr = slices.Delete(n.Attr, i, i+1)
	}
	if len(all) == 0 {
		return nil
	}
	// A later declaration of a property takes the place of an earlier one.
	var kept []declaration
	for _, d := range all {
		kept = slices.DeleteFunc(kept, func(k declaration) bool { return k.property == d.property })
		kept = append(kept, d)
	}
	var text []string
	for _, d := range kept {
		text = append(text, d.property+":"+d.value)
		if d.property == "background-color" && (n.DataAtom == atom.Td || n.DataAtom == atom.Th) {
			n.Attr = append(n.Attr, html.Attribute{Key: "bgcolor", Val: d.value})
		}
	}
	n.Attr = append(n.Attr, html.Attribute{Key: "style", Val: strings.Join(text, ";")})
	return nil
}

// trimSpace drops text that is nothing but the template's own line breaks and
// indentation.
func trimSpace(n *html.Node) {
	for _, c := range childrenOf(n) {
		if c.Type == html.TextNode && strings.Contains(c.Data, "\n") && strings.TrimSpace(c.Data) == "" {
			c.Data = "\n"
		}
		trimSpace(c)
	}
}
