package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"ligule/internal/diag"
)

// mutant is one break.
type mutant struct {
	id      string // of the whole list
	pkg     string // folder of the package it breaks
	also    []string
	first   string // pattern of the tests of the package that are asked first; "" for none
	old     string
	changed string // what stands there instead
	breaks  string // what the reader would get
	pos     diag.Pos

	file   string // that holds the text, from the root
	text   []byte // of the file
	offset int    // of the text in it
}

// tests are the packages whose tests are asked, its own first.
func (m *mutant) tests() []string { return append([]string{m.pkg}, m.also...) }

// readList reads the files of the list, by name, and finds the place of each
// mutant. A text that is not there any more, or not only once, is a mistake.
func readList(root string, list *diag.List) []*mutant {
	files, err := filepath.Glob(filepath.Join(root, listFolder, "*.toml"))
	if err != nil || len(files) == 0 {
		list.Errorf(diag.Pos{File: listFolder}, "", "there is no list")
	}
	var all []*mutant
	seen := map[string]bool{}
	for _, file := range files {
		name := path.Join(listFolder, filepath.Base(file))
		text, err := os.ReadFile(file)
		if err != nil {
			list.Errorf(diag.Pos{File: name}, "", "cannot be read: %v", err)
			continue
		}
		t, ok := diag.ReadTOML(name, text, list)
		if !ok {
			continue
		}
		all = append(all, readPackage(root, t, seen)...)
	}
	return all
}

// readPackage reads one file of the list:
//
//	package = "internal/advice"     # whose source is broken
//	also    = ["internal/issue"]    # packages whose tests are asked after its own; may be left out
//	first   = "Edges"               # tests of the package that are asked before the others; may be left out
//
//	[[mutant]]
//	id     = "frozen-at-zero"
//	in     = "stormGate"            # the declaration that holds the text; may be left out if it stands once in the package
//	old    = "<= frozenC"
//	new    = "< frozenC"
//	breaks = "feeds ground of 0 °C"
func readPackage(root string, t *diag.Table, seen map[string]bool) []*mutant {
	pkg, also, first := t.Text("package"), t.Texts("also", false), t.OptText("first")
	src, err := readSource(root, pkg)
	if err != nil {
		t.Errorf("package", "", "%v", err)
	}
	for i, p := range also {
		if _, err := os.Stat(filepath.Join(root, p)); err != nil {
			t.Errorf("also", "", "there is no folder %q", also[i])
		}
	}
	var out []*mutant
	for _, mt := range t.Tables("mutant") {
		m := &mutant{pkg: pkg, also: also, first: first, id: mt.ID("id"), breaks: mt.Text("breaks"), old: mt.Text("old"), pos: mt.Pos("id")}
		m.changed = mt.OptText("new")
		in := mt.OptText("in")
		mt.Close()
		switch {
		case seen[m.id]:
			mt.Errorf("id", "give each mutant its own id", "%q is used twice", m.id)
		case !mt.Has("new"):
			mt.Errorf("new", `write "" where the text goes`, "missing")
		case m.old == m.changed:
			mt.Errorf("new", "", "it changes nothing")
		case m.old != "" && src != nil:
			if what := m.find(src, in); what != "" {
				mt.Errorf("old", "stale: see what became of it, and mend the mutant", "%s", what)
			}
		}
		seen[m.id] = true
		out = append(out, m)
	}
	t.Close()
	return out
}

// source is what a package is made of, without its tests.
type source struct {
	file string // from the root
	text []byte
	tree *ast.File
}

func readSource(root, pkg string) ([]source, error) {
	files, err := filepath.Glob(filepath.Join(root, pkg, "*.go"))
	if err != nil {
		return nil, err
	}
	var out []source
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		// Positions in a file set of its own are offsets from 1.
		tree, err := parser.ParseFile(token.NewFileSet(), file, text, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		out = append(out, source{path.Join(pkg, filepath.Base(file)), text, tree})
	}
	if out == nil {
		return nil, os.ErrNotExist
	}
	return out, nil
}

// find finds the place of the text, in the declaration of a name or anywhere in
// the package, and returns what is wrong if it is not there once.
func (m *mutant) find(src []source, in string) (wrong string) {
	places, declared := 0, 0
	for _, s := range src {
		spans := [][2]int{{0, len(s.text)}}
		if in != "" {
			spans = declarations(s.tree, in)
			declared += len(spans)
		}
		for _, span := range spans {
			part := string(s.text[span[0]:span[1]])
			n := strings.Count(part, m.old)
			if places += n; n > 0 {
				m.file, m.text, m.offset = s.file, s.text, span[0]+strings.Index(part, m.old)
			}
		}
	}
	switch {
	case in != "" && declared == 0:
		return "nothing of the name " + in + " is declared in " + m.pkg
	case places == 0:
		return "the text does not stand there"
	case places > 1:
		return "the text stands there more than once"
	}
	return ""
}

// declarations returns from where to where the functions, constants, variables
// and types of a name stand in a file. A method is named by itself or with its
// type, as in Input.stormGate.
func declarations(f *ast.File, name string) [][2]int {
	var out [][2]int
	add := func(n ast.Node) { out = append(out, [2]int{int(n.Pos()) - 1, int(n.End()) - 1}) }
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if name == d.Name.Name || d.Recv != nil && name == receiver(d)+"."+d.Name.Name {
				add(d)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				switch spec := spec.(type) {
				case *ast.ValueSpec:
					if slices.ContainsFunc(spec.Names, func(n *ast.Ident) bool { return n.Name == name }) {
						add(spec)
					}
				case *ast.TypeSpec:
					if spec.Name.Name == name {
						add(spec)
					}
				}
			}
		}
	}
	return out
}

// receiver is the name of a method's type.
func receiver(d *ast.FuncDecl) string {
	t := d.Recv.List[0].Type
	if star, ok := t.(*ast.StarExpr); ok {
		t = star.X
	}
	if id, ok := t.(*ast.Ident); ok {
		return id.Name
	}
	return ""
}
