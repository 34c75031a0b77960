package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/advice"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/season"
	"ligule/internal/voice"
)

// codes are the phrases that the program's own files name: whole ids, and the
// beginnings of those that are put together with a code.
func codes(t *testing.T) (whole, starts []string) {
	t.Helper()
	text := func(e ast.Expr) (string, bool) {
		lit, ok := e.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return "", false
		}
		s, err := strconv.Unquote(lit.Value)
		return s, err == nil
	}
	require.NoError(t, filepath.WalkDir(filepath.Join(root, "internal"), func(p string, e fs.DirEntry, err error) error {
		require.NoError(t, err)
		if e.IsDir() || filepath.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), p, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			switch x := n.(type) {
			case *ast.BasicLit:
				if s, ok := text(x); ok && s != "" {
					whole = append(whole, s)
				}
			case *ast.BinaryExpr:
				if s, ok := text(leftmost(x)); ok && x.Op == token.ADD {
					starts = append(starts, s)
				}
			}
			return true
		})
		return nil
	}))
	return whole, starts
}

// leftmost is what a sum of texts begins with.
func leftmost(x *ast.BinaryExpr) ast.Expr {
	if b, ok := x.X.(*ast.BinaryExpr); ok {
		return leftmost(b)
	}
	return x.X
}

// Every phrase of the book is said somewhere: the program names it, or the start
// of it that a code completes, or its table.
func TestEveryPhraseIsSaid(t *testing.T) {
	var list diag.List
	toml, ok := diag.ReadTOML("data/phrases.toml", data.Phrases, &list)
	require.True(t, ok, list.Error())
	book := voice.ReadBook(toml)
	require.NoError(t, list.Err())
	whole, starts := codes(t)
	for _, ind := range indicators(t) {
		whole = append(whole, ind.Name) // the words of an indicator are in a table of its name
	}
	named := func(id string) bool {
		if slices.Contains(whole, id) {
			return true
		}
		for i := range id {
			if id[i] == '.' && (slices.Contains(whole, id[:i]) || slices.Contains(starts, id[:i+1])) {
				return true
			}
		}
		return slices.ContainsFunc(starts, func(s string) bool { return strings.Contains(s, ".") && strings.HasPrefix(id, s) })
	}
	for _, id := range book.IDs() {
		assert.True(t, named(id), "nothing says %s", id)
	}
}

// Every phrase that the program names whole is in the book.
func TestEveryPhraseSaidIsInTheBook(t *testing.T) {
	var list diag.List
	toml, ok := diag.ReadTOML("data/phrases.toml", data.Phrases, &list)
	require.True(t, ok, list.Error())
	book := voice.ReadBook(toml)
	asked := 0
	require.NoError(t, filepath.WalkDir(filepath.Join(root, "internal"), func(p string, e fs.DirEntry, err error) error {
		require.NoError(t, err)
		if e.IsDir() || filepath.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), p, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			code, start, ok := asksFor(call)
			if !ok {
				return true
			}
			asked++
			if !start {
				assert.True(t, book.Has(code), "%s: there is no phrase %q", p, code)
				return true
			}
			assert.True(t, slices.ContainsFunc(book.IDs(), func(id string) bool { return strings.HasPrefix(id, code) }), "%s: no phrase begins with %q", p, code)
			return true
		})
		return nil
	}))
	assert.Greater(t, asked, 50)
}

func indicators(t *testing.T) []*advice.Indicator {
	t.Helper()
	none, ok := diag.ReadTOML("data/indicators.toml", nil, new(diag.List))
	require.True(t, ok)
	return advice.ReadCatalogue(none).All()
}

// Codes that complete a phrase have one each.
func TestEveryCodeHasItsPhrase(t *testing.T) {
	var list diag.List
	toml, ok := diag.ReadTOML("data/phrases.toml", data.Phrases, &list)
	require.True(t, ok, list.Error())
	book := voice.ReadBook(toml)
	under := func(table string, codes ...string) {
		require.NotEmpty(t, codes, table)
		for _, c := range codes {
			assert.True(t, book.Has(table+"."+c), "there is no phrase %s.%s", table, c)
		}
	}
	swap := func(old string, codes []string) []string {
		var out []string
		for _, c := range codes {
			out = append(out, strings.ReplaceAll(c, old, "_"))
		}
		return out
	}
	for _, ind := range indicators(t) {
		if len(ind.Words) > 0 {
			under(ind.Name, swap(" ", ind.Words)...)
		}
	}
	for _, topic := range advice.Topics() {
		under("topic", string(topic))
		under("question", string(topic))
	}
	for _, v := range []advice.Verdict{advice.Do, advice.Wait, advice.Skip, advice.Look, advice.Closed, advice.NotEnough} {
		under("verdict", string(v))
	}
	say := voice.Voice{Book: book}
	for _, id := range book.IDs() {
		if v, ok := strings.CutPrefix(id, "verdict."); ok {
			assert.Equal(t, strings.ToUpper(say.Word(id)), say.Word("verdict_loud."+v))
		}
	}
	under("use", season.Uses()...)
	for _, gate := range []string{"law", "growth", "tolerance", "treatment", "heat", "cold", "overlap", "storm", "spray", "together"} {
		under("gate."+gate, "name")
	}
	under("flag", constants(t, "law", "Flag")...)
	under("law_duty", law.Duties()...)
	reasons := constants(t, "disease", "Reason")
	under("treat", swap("-", reasons)...)
	under("pests.reason", reasons...)
	under("bar", swap("-", constants(t, "herbicide", "Bar"))...)
	under("window_kind", swap("-", season.WindowKinds())...)
	under("event", swap("-", season.EventKinds())...)
}

// constants are the codes that a package declares as constants of a type.
func constants(t *testing.T, pkg, of string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(root, "internal", pkg, "*.go"))
	require.NoError(t, err)
	var out []string
	for _, file := range files {
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		require.NoError(t, err)
		for _, d := range f.Decls {
			decl, ok := d.(*ast.GenDecl)
			if !ok || decl.Tok != token.CONST {
				continue
			}
			for _, spec := range decl.Specs {
				value, ok := spec.(*ast.ValueSpec)
				if !ok {
					continue
				}
				if typ, ok := value.Type.(*ast.Ident); ok && typ.Name == of {
					code, err := strconv.Unquote(value.Values[0].(*ast.BasicLit).Value)
					require.NoError(t, err)
					out = append(out, code)
				}
			}
		}
	}
	require.Greater(t, len(out), 10, "%s.%s", pkg, of)
	return out
}

// asksFor returns the phrase that a call of package message names: whole, or its
// start.
func asksFor(call *ast.CallExpr) (code string, start, ok bool) {
	sel, isSel := call.Fun.(*ast.SelectorExpr)
	if !isSel || len(call.Args) == 0 {
		return "", false, false
	}
	pkg, _ := sel.X.(*ast.Ident)
	at := -1
	switch {
	case pkg != nil && pkg.Name == "message" && (sel.Sel.Name == "New" || sel.Sel.Name == "Word"):
		at = 0
	case sel.Sel.Name == "Word" && len(call.Args) == 2:
		at = 1
	default:
		return "", false, false
	}
	arg := call.Args[at]
	if sum, isSum := arg.(*ast.BinaryExpr); isSum {
		arg, start = leftmost(sum), true
	}
	lit, isLit := arg.(*ast.BasicLit)
	if !isLit || lit.Kind != token.STRING {
		return "", false, false
	}
	code, err := strconv.Unquote(lit.Value)
	return code, start, err == nil
}
