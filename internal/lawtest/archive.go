// Package lawtest reads the text archives in which the tests of fertilizer and
// watering law keep laws, tables of what is asked of them and what they answer,
// and the mistakes that an author can make in them. The README in the testdata
// of package law describes them.
package lawtest

import (
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// UsualAsOf is the day on which a row is asked, unless it names one.
const UsualAsOf = "2026-03-16"

// Day reads a date.
func Day(s string) civil.Date {
	d, err := civil.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

// Num is a figure that a law may leave out.
func Num(x float64) *float64 { return &x }

// Number reads a figure.
func Number(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(err)
	}
	return x
}

// Archive is one of them.
type Archive struct {
	Name  string // testdata/….txtar
	Title string // its first line; of a published law the source
	Files []txtar.File
}

// Read reads one archive.
func Read(t testing.TB, name string) *Archive {
	t.Helper()
	parsed, err := txtar.ParseFile(name)
	require.NoError(t, err)
	title, _, _ := strings.Cut(string(parsed.Comment), "\n")
	require.NotEmpty(t, title, "%s begins with what it is about", name)
	a := &Archive{name, title, parsed.Files}
	seen := map[string]bool{}
	for _, f := range a.Files {
		require.False(t, seen[f.Name], "%s holds %s twice", name, f.Name)
		seen[f.Name] = true
	}
	return a
}

// ReadAll reads a folder of them.
func ReadAll(t testing.TB, folder string) []*Archive {
	t.Helper()
	names, err := filepath.Glob("testdata/" + folder + "/*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, names, folder)
	var out []*Archive
	for _, name := range names {
		out = append(out, Read(t, filepath.ToSlash(name)))
	}
	return out
}

// Text returns a file that must be there.
func (a *Archive) Text(t testing.TB, name string) string {
	t.Helper()
	i := slices.IndexFunc(a.Files, func(f txtar.File) bool { return f.Name == name })
	require.GreaterOrEqual(t, i, 0, "%s holds no %s", a.Name, name)
	return string(a.Files[i].Data)
}

// Ordinance reads one law of the archive anew, so that a test may change it:
// read returns the id that it found.
func (a *Archive) Ordinance(t testing.TB, id string, read func(root *diag.Table) string) {
	t.Helper()
	name := "ordinances/" + id + ".toml"
	a.toml(t, name, a.Text(t, name), func(root *diag.Table) { require.Equal(t, id, read(root), a.Name) })
}

// Ordinances reads all of its laws.
func (a *Archive) Ordinances(t testing.TB, read func(root *diag.Table) (id string)) {
	t.Helper()
	for _, f := range a.Files {
		if path.Dir(f.Name) == "ordinances" {
			a.Ordinance(t, strings.TrimSuffix(path.Base(f.Name), ".toml"), read)
		}
	}
}

// Jurisdictions reads the list, if the archive has one.
func (a *Archive) Jurisdictions(t testing.TB, read func(root *diag.Table)) {
	t.Helper()
	for _, f := range a.Files {
		if f.Name == "jurisdictions.toml" {
			a.toml(t, f.Name, string(f.Data), read)
		}
	}
}

// toml reads a file in which there must be no mistake.
func (a *Archive) toml(t testing.TB, name, text string, read func(root *diag.Table)) {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML(name, []byte(text), &list)
	require.True(t, ok, list.Error())
	read(root)
	require.NoError(t, list.Err(), a.Name)
}
