package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// readByGates are the structs of what a gate is asked, by package and name, with
// the fields that nothing fills, and what is said in their place.
var readByGates = map[string]map[string]string{
	"disease.Case":          nil,
	"herbicide.Use":         nil,
	"herbicide.UptakeInput": nil,
	"spray.Limits":          nil,
	"spray.Hour":            nil,
	"spray.Day":             nil,
	"agromet.Site":          nil,
	"pest.Input":            {"record": "made when it is first asked for", "own": "made when it is first asked for"},
	"agromet.SprayHour":     nil,
	// What is not stated is not presumed: the law makes it a condition, which is
	// printed with every answer that it concerns.
	"law.Question": {
		"RateLb1000": "rate limits are printed", "AnnualNLb1000": "yearly limits are printed", "AnnualP2O5Lb1000": "yearly limits are printed",
		"Site": "a lawn is asked about", "Gear": "setbacks of every gear are printed", "DistanceFt": "distances to water are printed",
		"VegetatedStripFt": "distances to water are printed", "SoilTest": "soil tests are printed as a condition", "NewTurf": "exemptions are printed",
		"GrowingSeason": "exemptions are printed", "Repair": "exemptions are printed", "Planted": "exemptions are printed",
		"Seasons": "seasons that owners state are printed", "Claims": "exemptions are printed",
	},
	"watering.Question": {
		"Method": "sprinklers are asked about", "Planted": "exemptions are printed", "WaterIn": "exemptions are printed",
	},
}

// goFile is a parsed file of the program with the package that it is of.
type goFile struct {
	pkg string
	*ast.File
}

func programFiles(t *testing.T) (files []goFile) {
	t.Helper()
	for _, folder := range []string{"internal", "cmd"} {
		require.NoError(t, filepath.WalkDir(filepath.Join(root, folder), func(p string, e fs.DirEntry, err error) error {
			require.NoError(t, err)
			if e.IsDir() || filepath.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go") {
				return nil
			}
			f, err := parser.ParseFile(token.NewFileSet(), p, nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			files = append(files, goFile{f.Name.Name, f})
			return nil
		}))
	}
	return files
}

// isOf reports whether an expression in the file names the struct.
func (f goFile) isOf(e ast.Expr, pkg, name string) bool {
	switch x := e.(type) {
	case *ast.Ident:
		return f.pkg == pkg && x.Name == name
	case *ast.SelectorExpr:
		of, ok := x.X.(*ast.Ident)
		return ok && of.Name == pkg && x.Sel.Name == name
	case *ast.ArrayType:
		return f.isOf(x.Elt, pkg, name)
	}
	return false
}

// fieldsOf are the fields of a struct, in order.
func fieldsOf(files []goFile, pkg, name string) (fields []string) {
	for _, f := range files {
		ast.Inspect(f.File, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok || f.pkg != pkg || spec.Name.Name != name {
				return true
			}
			if s, ok := spec.Type.(*ast.StructType); ok {
				for _, field := range s.Fields.List {
					for _, n := range field.Names {
						fields = append(fields, n.Name)
					}
				}
			}
			return false
		})
	}
	return fields
}

// setIn lists the fields that the files set: in literals of the struct, and by
// assignment in functions that name it or call one that returns it. It goes by
// names, so that a field of another struct that is called alike may hide one;
// types would take minutes.
func setIn(files []goFile, pkg, name string, all []string) map[string]bool {
	makers := map[string]bool{} // functions that return it
	for _, f := range files {
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Type.Results != nil && f.names(fn.Type.Results, pkg, name, nil) {
				makers[fn.Name.Name] = true
			}
		}
	}
	set := map[string]bool{}
	for _, f := range files {
		ast.Inspect(f.File, func(n ast.Node) bool {
			x, ok := n.(*ast.CompositeLit)
			if !ok || x.Type == nil || !f.isOf(x.Type, pkg, name) {
				return true
			}
			for i, e := range x.Elts {
				if pair, ok := e.(*ast.KeyValueExpr); ok {
					if key, ok := pair.Key.(*ast.Ident); ok {
						set[key.Name] = true
					}
				} else if _, list := x.Type.(*ast.ArrayType); !list && i < len(all) {
					set[all[i]] = true
				}
			}
			return true
		})
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && f.names(fn, pkg, name, makers) {
				assigned(fn, set)
			}
		}
	}
	return set
}

// names reports whether the struct is named within, or a function that makes it.
func (f goFile) names(within ast.Node, pkg, name string, makers map[string]bool) (found bool) {
	ast.Inspect(within, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.Ident:
			found = found || f.isOf(x, pkg, name) || makers[x.Name]
		case *ast.SelectorExpr:
			found = found || f.isOf(x, pkg, name)
		}
		return !found
	})
	return found
}

// assigned adds the fields to which a function assigns.
func assigned(fn *ast.FuncDecl, set map[string]bool) {
	to := func(e ast.Expr) {
		if at, ok := e.(*ast.IndexExpr); ok {
			e = at.X
		}
		if x, ok := e.(*ast.SelectorExpr); ok {
			set[x.Sel.Name] = true
		}
	}
	ast.Inspect(fn, func(n ast.Node) bool {
		switch x := n.(type) {
		case *ast.AssignStmt:
			for _, e := range x.Lhs {
				to(e)
			}
		case *ast.IncDecStmt:
			to(x.X)
		}
		return true
	})
}

// A field that a gate reads is filled somewhere in the program, not by tests
// alone; or nobody but the reader can fill it, and something is printed instead.
func TestWhatGatesReadIsFilled(t *testing.T) {
	t.Parallel()
	files := programFiles(t)
	for of, printed := range readByGates {
		pkg, name, _ := strings.Cut(of, ".")
		fields := fieldsOf(files, pkg, name)
		require.NotEmpty(t, fields, of)
		set := setIn(files, pkg, name, fields)
		for _, f := range fields {
			_, excused := printed[f]
			assert.NotEqual(t, set[f], excused, "%s.%s: set outside tests: %t, told to be printed instead: %t", of, f, set[f], excused)
		}
		for f := range printed {
			assert.Contains(t, fields, f, of)
		}
	}
}

// The test above sees a field that only tests fill.
func TestUnfilledFieldsAreSeen(t *testing.T) {
	parse := func(text string) goFile {
		f, err := parser.ParseFile(token.NewFileSet(), "x.go", text, parser.SkipObjectResolution)
		require.NoError(t, err)
		return goFile{f.Name.Name, f}
	}
	files := []goFile{
		parse("package gate\ntype Case struct { A, B int; C []int; D bool; E int }\n"),
		parse("package use\nfunc f(x int) { c := gate.Case{A: 1}; c.C[2] = 3; c.E++; _ = c }\n"),
		parse("package other\ntype T struct{ D bool }\nfunc f(t T) { t.D = true }\n"),
	}
	all := fieldsOf(files, "gate", "Case")
	assert.Equal(t, []string{"A", "B", "C", "D", "E"}, all)
	assert.Equal(t, map[string]bool{"A": true, "C": true, "E": true}, setIn(files, "gate", "Case", all))
}
