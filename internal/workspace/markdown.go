package workspace

import (
	"bytes"
	"net/url"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"ligule/internal/diag"
)

// metaLanguage marks the leading code block of a Markdown file that holds its
// metadata.
const metaLanguage = "toml"

// Heading levels at which an author's own headings start: an article has the
// page's title above it, a note a section's title as well.
const (
	articleHeading = 2
	noteHeading    = 3
)

// renderPage turns a Markdown file into HTML that is safe to print and into
// plain text. The metadata table is nil if there is none. Raw HTML and links
// that run script are mistakes: they would be left out, and never silently.
func renderPage(file string, src []byte, list *diag.List) (*Page, *diag.Table) {
	src = bytes.TrimPrefix(src, []byte("\ufeff"))
	if !utf8.Valid(src) {
		diag.NotUTF8(file, src, 0, list)
		return nil, nil
	}
	base := articleHeading
	if strings.HasPrefix(file, "content/issues/") {
		base = noteHeading
	}
	md := goldmark.New(goldmark.WithExtensions(
		extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignNone)),
		extension.Typographer,
	), goldmark.WithParserOptions(parser.WithASTTransformers(util.Prioritized(headings(base), 100))))
	doc := md.Parser().Parse(text.NewReader(src))
	meta := takeMeta(file, src, doc, list)
	checkMarkdown(file, src, doc, list)
	var html bytes.Buffer
	if err := md.Renderer().Render(&html, src, doc); err != nil {
		list.Errorf(diag.Pos{File: file}, "", "cannot be rendered: %v", err)
		return nil, nil
	}
	return &Page{File: file, HTML: html.String(), Text: plainText(doc, src)}, meta
}

// takeMeta removes the leading metadata block from the document and reads it.
func takeMeta(file string, src []byte, doc ast.Node, list *diag.List) *diag.Table {
	block, ok := doc.FirstChild().(*ast.FencedCodeBlock)
	if !ok || string(block.Language(src)) != metaLanguage {
		return nil
	}
	doc.RemoveChild(doc, block)
	shift := 1 // the fence
	if block.Lines().Len() > 0 {
		shift = lineAt(src, block.Lines().At(0).Start) - 1
	}
	t, ok := diag.ReadTOMLAt(file, block.Lines().Value(src), shift, list)
	if !ok {
		return nil
	}
	return t
}

// lineAt returns the line, from 1, of a byte offset.
func lineAt(src []byte, offset int) int {
	return 1 + bytes.Count(src[:max(0, min(offset, len(src)))], []byte("\n"))
}

// checkMarkdown records what would not come out as written.
func checkMarkdown(file string, src []byte, doc ast.Node, list *diag.List) {
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		at := diag.Pos{File: file, Line: lineAt(src, offset(n))}
		switch n := n.(type) {
		case *ast.RawHTML, *ast.HTMLBlock:
			list.Errorf(at, "write it in Markdown; a < meant as text is written \\<", "raw HTML is not passed through")
			return ast.WalkSkipChildren, nil
		case *ast.Link:
			checkLink(at, string(n.Destination), list)
		case *ast.AutoLink:
			checkLink(at, string(n.URL(src)), list)
		case *ast.Image:
			list.Errorf(at, "leave the picture out", "pictures are not supported yet")
		}
		return ast.WalkContinue, nil
	})
}

// checkLink accepts web addresses, mail addresses, places on the page and
// addresses of the site itself that start with a slash.
func checkLink(at diag.Pos, dest string, list *diag.List) {
	u, err := url.Parse(dest)
	switch {
	case err != nil:
		list.Errorf(at, "mend the address", "the link %q is not an address", dest)
	case u.Scheme == "" && (strings.HasPrefix(dest, "/") && !strings.HasPrefix(dest, "//") || strings.HasPrefix(dest, "#")):
	case u.Scheme == "https" || u.Scheme == "http" || u.Scheme == "mailto":
	case u.Scheme == "":
		list.Errorf(at, "start it with / for a page of this site, or with https://", "the link %q leads nowhere certain", dest)
	default:
		list.Errorf(at, "use https:// or mailto:", "a link of the kind %q is not passed through", u.Scheme+":")
	}
}

// offset is where a node starts in the source, or its nearest ancestor that
// knows.
func offset(n ast.Node) int {
	for ; n != nil; n = n.Parent() {
		if p := n.Pos(); p >= 0 && n.Kind() != ast.KindDocument {
			return p
		}
		if n.Type() == ast.TypeBlock && n.Lines() != nil && n.Lines().Len() > 0 {
			return n.Lines().At(0).Start
		}
	}
	return 0
}

// headings moves the author's headings so that the first is at a given level
// and none skips one, whatever levels the author chose.
type headings int

// Transform implements parser.ASTTransformer.
func (base headings) Transform(doc *ast.Document, _ text.Reader, _ parser.Context) {
	var open []int // levels the author has open
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		h, ok := n.(*ast.Heading)
		if !ok || !entering {
			return ast.WalkContinue, nil
		}
		for len(open) > 0 && open[len(open)-1] >= h.Level {
			open = open[:len(open)-1]
		}
		open = append(open, h.Level)
		h.Level = min(int(base)+len(open)-1, 6)
		return ast.WalkContinue, nil
	})
}

// TextWidth is the width of plain text, in columns.
const TextWidth = 72

// plainText writes a document as plain text: paragraphs wrapped, lists
// indented, link addresses alone on a line after the paragraph.
func plainText(doc ast.Node, src []byte) string {
	var b strings.Builder
	blocks(&b, doc, src, "", "")
	return strings.TrimSpace(b.String()) + "\n"
}

func blocks(b *strings.Builder, parent ast.Node, src []byte, first, rest string) {
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		switch n := n.(type) {
		case *ast.List:
			i := n.Start
			for item := n.FirstChild(); item != nil; item = item.NextSibling() {
				mark := "- "
				if n.IsOrdered() {
					mark = strconv.Itoa(i) + ". "
					i++
				}
				blocks(b, item, src, rest+mark, rest+strings.Repeat(" ", len(mark)))
			}
			if _, nested := parent.(*ast.ListItem); !nested {
				b.WriteString("\n")
			}
		case *ast.Blockquote:
			blocks(b, n, src, rest+"  ", rest+"  ")
		case *ast.Heading:
			b.WriteString(rest + strings.ToUpper(inlineText(n, src, nil)) + "\n\n")
		case *ast.ThematicBreak:
			b.WriteString(rest + "* * *\n\n")
		case *extast.Table:
			for row := n.FirstChild(); row != nil; row = row.NextSibling() {
				var cells []string
				for c := row.FirstChild(); c != nil; c = c.NextSibling() {
					cells = append(cells, inlineText(c, src, nil))
				}
				b.WriteString(Wrap(strings.Join(cells, " | "), TextWidth, rest, rest+"  ") + "\n")
			}
			b.WriteString("\n")
		default:
			if n.Type() == ast.TypeBlock && n.HasChildren() && n.FirstChild().Type() == ast.TypeBlock {
				blocks(b, n, src, rest, rest)
				continue
			}
			var links []string
			s := inlineText(n, src, &links)
			if n.Kind() == ast.KindCodeBlock || n.Kind() == ast.KindFencedCodeBlock {
				s = string(n.Lines().Value(src))
			}
			b.WriteString(Wrap(s, TextWidth, first, rest) + "\n")
			for _, l := range links {
				b.WriteString(rest + l + "\n")
			}
			if _, tight := n.(*ast.TextBlock); !tight {
				b.WriteString("\n")
			}
		}
		first = rest
	}
}

// inlineText is the text of a node without marks. Addresses of links go to
// links, unless nil.
func inlineText(n ast.Node, src []byte, links *[]string) string {
	var b strings.Builder
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch c := c.(type) {
		case *ast.Text:
			b.Write(util.UnescapePunctuations(util.ResolveEntityNames(util.ResolveNumericReferences(c.Segment.Value(src)))))
			if c.SoftLineBreak() || c.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(plainSigns(c.Value))
		case *ast.AutoLink:
			b.Write(c.URL(src))
		case *ast.Link:
			if links != nil {
				*links = append(*links, string(c.Destination))
			}
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}

// plainSigns undoes what the typographer did: plain mail has plain quotes.
func plainSigns(b []byte) []byte {
	return []byte(strings.NewReplacer("&ldquo;", `"`, "&rdquo;", `"`, "&lsquo;", "'", "&rsquo;", "'",
		"&ndash;", "-", "&mdash;", " - ", "&hellip;", "...", "&laquo;", `"`, "&raquo;", `"`).Replace(string(b)))
}

// Wrap breaks text into lines of at most width columns. The first line starts
// with first, the others with rest; a word longer than a line stands alone.
func Wrap(s string, width int, first, rest string) string {
	var b strings.Builder
	b.WriteString(first)
	col, fresh := utf8.RuneCountInString(first), true
	for _, word := range strings.Fields(s) {
		n := utf8.RuneCountInString(word)
		if !fresh && col+1+n > width {
			b.WriteString("\n" + rest)
			col, fresh = utf8.RuneCountInString(rest), true
		}
		if !fresh {
			b.WriteByte(' ')
			col++
		}
		b.WriteString(word)
		col += n
		fresh = false
	}
	return b.String()
}
