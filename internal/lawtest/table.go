package lawtest

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/civil"
)

// Row is a line of a table: cells by column.
type Row struct {
	At    string // file and line
	cells map[string]string
}

// Get returns a cell; "" where the table has no such column.
func (r Row) Get(column string) string { return r.cells[column] }

// Date reads a cell that must hold a date.
func (r Row) Date(t testing.TB, column string) civil.Date {
	t.Helper()
	d, err := civil.ParseDate(r.Get(column))
	require.NoError(t, err, "%s: %s", r.At, column)
	return d
}

// AsOf is the day on which the row is asked.
func (r Row) AsOf(t testing.TB) civil.Date {
	t.Helper()
	if r.Get("as of") == "" {
		return Day(UsualAsOf)
	}
	return r.Date(t, "as of")
}

// ReadTable reads a table strictly: columns that must be there, columns that may.
func ReadTable(name, text string, must, may []string) ([]Row, error) {
	in := csv.NewReader(strings.NewReader(text))
	in.TrimLeadingSpace, in.Comment = true, '#'
	var header []string
	var out []Row
	for {
		cells, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		for i, cell := range cells {
			cells[i] = strings.TrimSpace(cell)
		}
		if header == nil {
			header = cells
			continue
		}
		line, _ := in.FieldPos(0)
		r := Row{fmt.Sprintf("%s:%d", name, line), map[string]string{}}
		for i, cell := range cells {
			r.cells[header[i]] = cell
		}
		out = append(out, r)
	}
	for i, column := range header {
		if !slices.Contains(must, column) && !slices.Contains(may, column) || slices.Contains(header[:i], column) {
			return nil, fmt.Errorf("%s: column %q is not known or stands twice", name, column)
		}
	}
	for _, column := range must {
		if !slices.Contains(header, column) {
			return nil, fmt.Errorf("%s: there is no column %q", name, column)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("%s: no rows", name)
	}
	return out, nil
}

// Run asks what the tables of the archive ask; ask knows each kind of table by
// its name.
func (a *Archive) Run(t *testing.T, ask map[string]func(t *testing.T, f txtar.File)) {
	t.Helper()
	asked := 0
	for _, f := range a.Files {
		if f.Name == "jurisdictions.toml" || path.Dir(f.Name) == "ordinances" {
			continue
		}
		kind, _, _ := strings.Cut(strings.TrimSuffix(f.Name, ".csv"), "/")
		require.NotNil(t, ask[kind], "%s: there is no table %s", a.Name, f.Name)
		ask[kind](t, f)
		asked++
	}
	assert.Positive(t, asked, "%s asks nothing", a.Name)
}

// Each runs one subtest per row, named by its source and what it says.
func (a *Archive) Each(t *testing.T, f txtar.File, must, may []string, test func(t *testing.T, r Row)) {
	t.Helper()
	rows, err := ReadTable(a.Name+": "+f.Name, string(f.Data), must, append(may, "source", "as of"))
	require.NoError(t, err)
	for _, r := range rows {
		source := a.Title
		if s := r.Get("source"); s != "" {
			source = s
		}
		t.Run(source+": "+r.Get("says"), func(t *testing.T) { test(t, r) })
	}
}

// Given is one kind of fact that a row may state: how it is written, # for a
// number, @ for a date, * for words, and what it says of a question. If only some
// words are known, the first of its words is one of them.
type Given[Q any] struct {
	form  *regexp.Regexp
	known []string
	say   func(q *Q, words []string)
}

// Fact makes one.
func Fact[Q any](form string, say func(q *Q, words []string), known ...string) Given[Q] {
	form = strings.NewReplacer("#", `([0-9.]+)`, "@", `(\d{4}-\d\d-\d\d)`, "*", `(.+)`).Replace(form)
	return Given[Q]{regexp.MustCompile("^" + form + "$"), known, say}
}

// State adds the facts of a row to a question; several are parted by ";".
func State[Q any](t testing.TB, r Row, facts []Given[Q], q *Q) {
	t.Helper()
	if r.Get("given") == "" {
		return
	}
	for _, words := range strings.Split(r.Get("given"), ";") {
		words = strings.TrimSpace(words)
		i := slices.IndexFunc(facts, func(g Given[Q]) bool { return g.form.MatchString(words) })
		require.GreaterOrEqual(t, i, 0, "%s: given: nothing is known of %q", r.At, words)
		said := facts[i].form.FindStringSubmatch(words)[1:]
		if len(facts[i].known) > 0 {
			require.Contains(t, facts[i].known, said[0], "%s: given", r.At)
		}
		facts[i].say(q, said)
	}
}
