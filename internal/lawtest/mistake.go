package lawtest

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/civil"
)

// Mistake is one case of an archive of mistakes.
type Mistake struct {
	Name    string
	On      civil.Date // the day of the check
	Told    []string   // to the author
	changes []change
}

// change is one place in a file: lines as they stand in it, and as they become.
type change struct {
	file        string
	old, become []string
}

// ReadMistakes reads an archive of mistakes: the files, and the cases that change
// them.
func ReadMistakes(t testing.TB, name string) (files []txtar.File, cases []Mistake) {
	t.Helper()
	parsed, err := txtar.ParseFile(name)
	require.NoError(t, err)
	for _, f := range parsed.Files {
		if strings.HasSuffix(f.Name, ".toml") {
			require.Empty(t, cases, "%s: files come before cases", name)
			files = append(files, f)
			continue
		}
		cases = append(cases, readMistake(t, files[0].Name, f))
	}
	return files, cases
}

func readMistake(t testing.TB, first string, f txtar.File) Mistake {
	t.Helper()
	c := Mistake{Name: f.Name, On: Day(UsualAsOf)}
	add := func() *change { return &c.changes[len(c.changes)-1] }
	begin := func(file string) { c.changes = append(c.changes, change{file: file}) }
	silent := false
	for _, line := range strings.Split(strings.TrimRight(string(f.Data), "\n"), "\n") {
		mark, rest := line[:1], line[1:]
		if strings.Contains(" -+", mark) && len(c.changes) == 0 {
			begin(first)
		}
		switch {
		case strings.HasPrefix(line, "on "):
			c.On = Day(line[3:])
		case line == "@":
			require.NotEmpty(t, c.changes, f.Name)
			begin(add().file)
		case strings.HasPrefix(line, "@ "):
			begin(line[2:])
		case line == "> nothing":
			silent = true
		case strings.HasPrefix(line, "> "):
			c.Told = append(c.Told, line[2:])
		case mark == " ":
			add().old, add().become = append(add().old, rest), append(add().become, rest)
		case mark == "-":
			add().old = append(add().old, rest)
		case mark == "+":
			add().become = append(add().become, rest)
		default:
			t.Fatalf("%s: %q is no line of a case", f.Name, line)
		}
	}
	require.NotEqual(t, silent, len(c.Told) > 0, "%s: a case ends with what the author is told, or with > nothing", f.Name)
	return c
}

// Apply returns the files with the case's changes made. The lines of a change
// stand in exactly one place; a change that only adds does so at the end of a
// file, which may be new.
func (c Mistake) Apply(t testing.TB, files []txtar.File) []txtar.File {
	t.Helper()
	out := slices.Clone(files)
	for _, x := range c.changes {
		i := slices.IndexFunc(out, func(f txtar.File) bool { return f.Name == x.file })
		if i < 0 {
			require.Empty(t, x.old, "%s: there is no file %s", c.Name, x.file)
			out = append(out, txtar.File{Name: x.file})
			i = len(out) - 1
		}
		text, old, become := "\n"+string(out[i].Data), "\n"+strings.Join(append(x.old, ""), "\n"), "\n"+strings.Join(append(x.become, ""), "\n")
		if len(x.old) == 0 {
			text += become[1:]
		} else {
			require.Equal(t, 1, strings.Count(text, old), "%s: the place to change must be one:%s", c.Name, old)
			text = strings.Replace(text, old, become, 1)
		}
		out[i].Data = []byte(text[1:])
	}
	return out
}

// RunMistakes tries every case of the archives of testdata/mistakes; problems
// reads and checks the files of law and returns all that is found.
func RunMistakes(t *testing.T, archives int, problems func(t *testing.T, files []txtar.File, on civil.Date) string) {
	t.Helper()
	names, err := filepath.Glob("testdata/mistakes/*.txtar")
	require.NoError(t, err)
	require.Len(t, names, archives)
	for _, name := range names {
		files, cases := ReadMistakes(t, name)
		for _, c := range cases {
			t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar")+": "+c.Name, func(t *testing.T) {
				assert.Equal(t, strings.Join(c.Told, "\n"), problems(t, c.Apply(t, files), c.On))
			})
		}
	}
}
