package law

import (
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// lintDay is the day on which mistakes are looked for, unless a case names one.
var lintDay = day(usualAsOf)

// Every mistake is found with its line and says what would do.
func TestMistakes(t *testing.T) {
	names, err := filepath.Glob("testdata/mistakes/*.txtar")
	require.NoError(t, err)
	require.Len(t, names, 4)
	for _, name := range names {
		files, cases := readMistakes(t, name)
		for _, c := range cases {
			t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar")+": "+c.name, func(t *testing.T) {
				assert.Equal(t, strings.Join(c.told, "\n"), problems(t, c.apply(t, files), c.on))
			})
		}
	}
}

// problems reads and lints the files of law and returns everything found.
func problems(t *testing.T, files []txtar.File, on civil.Date) string {
	t.Helper()
	var list diag.List
	var records []*Record
	var water []*WaterRecord
	var lines []Jurisdiction
	for _, f := range files {
		root, ok := diag.ReadTOML(f.Name, f.Data, &list)
		require.True(t, ok, list.Error())
		switch {
		case f.Name == "jurisdictions.toml":
			lines = ReadJurisdictions(root)
		case IsWaterRecord(root):
			water = append(water, ReadWaterRecord(root))
		default:
			records = append(records, ReadRecord(root))
		}
	}
	Lint(records, lines, on, &list)
	LintWatering(water, records, lines, on, &list)
	return list.Error()
}

// mistake is one case of an archive of mistakes.
type mistake struct {
	name    string
	on      civil.Date
	changes []change
	told    []string
}

// change is one place in a file: lines as they stand in it, and as they become.
type change struct {
	file        string
	old, become []string
}

// readMistakes reads an archive of mistakes: the files, and the cases that change
// them. testdata/README.md says how a case is written.
func readMistakes(t testing.TB, name string) (files []txtar.File, cases []mistake) {
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

func readMistake(t testing.TB, first string, f txtar.File) mistake {
	t.Helper()
	c := mistake{name: f.Name, on: lintDay}
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
			c.on = day(line[3:])
		case line == "@":
			require.NotEmpty(t, c.changes, f.Name)
			begin(add().file)
		case strings.HasPrefix(line, "@ "):
			begin(line[2:])
		case line == "> nothing":
			silent = true
		case strings.HasPrefix(line, "> "):
			c.told = append(c.told, line[2:])
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
	require.NotEqual(t, silent, len(c.told) > 0, "%s: a case ends with what the author is told, or with > nothing", f.Name)
	return c
}

// apply returns the files with the case's changes made. The lines of a change
// stand in exactly one place; a change that only adds does so at the end of a
// file, which may be new.
func (c mistake) apply(t testing.TB, files []txtar.File) []txtar.File {
	t.Helper()
	out := slices.Clone(files)
	for _, x := range c.changes {
		i := slices.IndexFunc(out, func(f txtar.File) bool { return f.Name == x.file })
		if i < 0 {
			require.Empty(t, x.old, "%s: there is no file %s", c.name, x.file)
			out = append(out, txtar.File{Name: x.file})
			i = len(out) - 1
		}
		text, old, become := "\n"+string(out[i].Data), "\n"+strings.Join(append(x.old, ""), "\n"), "\n"+strings.Join(append(x.become, ""), "\n")
		if len(x.old) == 0 {
			text += become[1:]
		} else {
			require.Equal(t, 1, strings.Count(text, old), "%s: the place to change must be one:%s", c.name, old)
			text = strings.Replace(text, old, become, 1)
		}
		out[i].Data = []byte(text[1:])
	}
	return out
}

// An order without an end is announced before it is no longer known to be on.
func TestMistakesInOrders(t *testing.T) {
	at := func(asOf string) string {
		var list diag.List
		Lint(inventedRecords(t), inventedList(t), day(asOf), &list)
		var out []string
		for _, p := range list.All() {
			if strings.Contains(p.What, "order") {
				out = append(out, p.What)
			}
		}
		return strings.Join(out, "\n")
	}
	assert.Empty(t, at("2026-07-19"), "it has not begun")
	assert.Equal(t, `order "algae_order" is assumed on until 2026-08-19`, at("2026-07-20"))
	assert.Equal(t, `order "algae_order" is assumed on until 2026-08-19`, at("2026-08-19"))
	assert.Equal(t, `order "algae_order" was assumed on until 2026-08-19: now unknown`, at("2026-08-20"))
}

func TestMistakesInGrassesOfACap(t *testing.T) {
	var list diag.List
	LintGrasses(inventedRecords(t), []string{"bermudagrass", "zoysiagrass", "tall-fescue", "centipede"}, &list)
	assert.Equal(t, `ordinances/vellinport-city.toml:30: rules[3].annual_total_n_by_grass: warning: no grass on file is called "centipedegrass", so its cap is never used; use one of bermudagrass, centipede, tall-fescue, zoysiagrass`, list.Error())
	list = diag.List{}
	LintGrasses(inventedRecords(t), []string{"bermudagrass", "zoysiagrass", "tall-fescue", "centipedegrass"}, &list)
	assert.Empty(t, list.All())
}

// A list line that says "looked, none found" counts for a year.
func TestOwnDesignNoneFoundGrowsStale(t *testing.T) {
	b := inventedBook(t)
	q := weekly(hocklan)
	q.AsOf = day("2027-01-12")
	assert.Equal(t, "conditional", b.Ask(q).Verdict.String())
	book := NewBook(inventedRecords(t), []Jurisdiction{{ID: "hocklan", Level: "county", Parent: "om", Coverage: "none_found", CheckedOn: day("2025-03-15")}})
	q.AsOf = day("2026-03-15")
	assert.Equal(t, "conditional", book.Ask(q).Verdict.String())
	q.AsOf = day("2026-03-16")
	a := book.Ask(q)
	assert.Equal(t, "not_cleared", a.Verdict.String())
	assert.Equal(t, "stale", flags(a))
}

func TestReadJurisdictions(t *testing.T) {
	got := inventedList(t)
	require.Len(t, got, 2)
	assert.Equal(t, Jurisdiction{ID: "hocklan", Name: "Hocklan County", Level: "county", Parent: "om", Coverage: "none_found",
		CheckedOn: day("2026-02-10"), Pos: got[0].Pos}, got[0])
	assert.Equal(t, 1, got[0].Pos.Line)
}

func TestOwnDesignUnevaluatedIsListed(t *testing.T) {
	var got []string
	for _, r := range inventedRecords(t) {
		for _, g := range Unevaluated(r) {
			s := r.ID + "/" + g.Rule.ID + " " + g.What
			if g.NotCleared {
				s += " not_cleared"
			}
			got = append(got, s)
			assert.Positive(t, g.Pos.Line)
		}
	}
	assert.Equal(t, []string{"om-state/rate-enhanced release", "thornelby-town/growing-season-only season not_cleared"}, got)

	// A ban on a way of doing things is no ban on fertilizer that the code
	// could judge: nothing is cleared while it holds.
	for _, c := range []struct {
		alter func(*Rule)
		want  Verdict
	}{
		{func(*Rule) {}, Closed},
		{func(r *Rule) { r.Topic = "equipment" }, NotCleared},
		{func(r *Rule) { r.Topic = "weather" }, NotCleared},
		{func(r *Rule) { r.Topic = "buffer" }, NotCleared},
		{func(r *Rule) { r.Topic, r.RainBasis = "weather", "forecast" }, Conditional},
		{func(r *Rule) { r.Effect = "forbid" }, NotCleared},
		{func(r *Rule) { r.Effect = "cap" }, NotCleared},
		{func(r *Rule) { r.When[0].Kind = "lunar" }, NotCleared},
		{func(r *Rule) { r.When[0].FromAnchor, r.Overrides = Anchor{}, nil }, NotCleared},
	} {
		b := changed(t, "vellinport-city", func(r *Record) { c.alter(&r.Rules[0]) })
		q := weekly(vellinport)
		q.Date = day("2026-07-10")
		assert.Equal(t, c.want.String(), b.Ask(q).Verdict.String())
	}
}

// Reading never panics; a record that is accepted can be asked anything; a
// mistake has a position within the file.
func FuzzReadRecord(f *testing.F) {
	for _, file := range ossamere(f).files {
		if path.Dir(file.Name) == "ordinances" {
			f.Add(string(file.Data))
		}
	}
	files, _ := readMistakes(f, "testdata/mistakes/record.txtar")
	f.Add(string(files[0].Data))
	f.Fuzz(func(t *testing.T, text string) {
		var list diag.List
		root, ok := diag.ReadTOML("f.toml", []byte(text), &list)
		if !ok {
			return
		}
		r := ReadRecord(root)
		Lint([]*Record{r}, nil, lintDay, &list)
		lines := strings.Count(text, "\n") + 1
		for _, p := range list.All() {
			if p.File != "f.toml" || p.Line < 0 || p.Line > lines || p.Line == 0 && p.Key == "" {
				t.Errorf("no position: %v", p)
			}
			if p.What == "" {
				t.Error("a mistake without words")
			}
		}
		b := NewBook([]*Record{r}, nil)
		for _, actor := range []Actor{Homeowner, Retailer} {
			q := Question{Place: Place{Chain: []string{r.Jurisdiction}}, Actor: actor, Product: lawn50, RateLb1000: num(3),
				Weather: &Weather{Alerts: []string{"Flood Watch"}, ForecastRainIn24h: num(2)}, Planted: day("2026-03-01"), AsOf: lintDay}
			w := b.Week(q, lintDay)
			b.WeekConditions(q, lintDay)
			b.ClosedSpans(q.Place, actor, "N", lintDay, lintDay+civil.Date(400), lintDay)
			if _, isThere := b.AskRecord(r.ID, q); !isThere {
				t.Error("the record is not in its book")
			}
			if w.State == "" {
				t.Error("a week without a state")
			}
		}
	})
}
