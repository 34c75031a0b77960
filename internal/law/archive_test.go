package law

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// The laws that tests ask stand in archives under testdata, with tables of what
// is asked and what the law answers. testdata/README.md describes both.

// archive is one of them.
type archive struct {
	name  string // testdata/….txtar
	title string // its first line; of a published law the source
	files []txtar.File
}

func readArchive(t testing.TB, name string) *archive {
	t.Helper()
	parsed, err := txtar.ParseFile(name)
	require.NoError(t, err)
	title, _, _ := strings.Cut(string(parsed.Comment), "\n")
	require.NotEmpty(t, title, "%s begins with what it is about", name)
	a := &archive{name, title, parsed.Files}
	seen := map[string]bool{}
	for _, f := range a.files {
		require.False(t, seen[f.Name], "%s holds %s twice", name, f.Name)
		seen[f.Name] = true
	}
	return a
}

// readArchives reads a folder of them.
func readArchives(t testing.TB, folder string) []*archive {
	t.Helper()
	names, err := filepath.Glob("testdata/" + folder + "/*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, names, folder)
	var out []*archive
	for _, name := range names {
		out = append(out, readArchive(t, filepath.ToSlash(name)))
	}
	return out
}

// text returns a file that must be there.
func (a *archive) text(t testing.TB, name string) string {
	t.Helper()
	i := slices.IndexFunc(a.files, func(f txtar.File) bool { return f.Name == name })
	require.GreaterOrEqual(t, i, 0, "%s holds no %s", a.name, name)
	return string(a.files[i].Data)
}

// ordinances reads the laws of the archive anew, so that a test may change them.
func (a *archive) ordinances(t testing.TB) ([]*Record, []*WaterRecord) {
	t.Helper()
	var records []*Record
	var water []*WaterRecord
	for _, f := range a.files {
		if path.Dir(f.Name) != "ordinances" {
			continue
		}
		if record, w := a.ordinance(t, f); w != nil {
			water = append(water, w)
		} else {
			records = append(records, record)
		}
	}
	return records, water
}

// ordinance reads one law, of either kind.
func (a *archive) ordinance(t testing.TB, f txtar.File) (r *Record, w *WaterRecord) {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML(f.Name, f.Data, &list)
	require.True(t, ok, list.Error())
	var id string
	if IsWaterRecord(root) {
		w = ReadWaterRecord(root)
		id = w.ID
	} else {
		r = ReadRecord(root)
		id = r.ID
	}
	require.NoError(t, list.Err(), a.name)
	require.Equal(t, id+".toml", path.Base(f.Name), a.name)
	return r, w
}

func (a *archive) records(t testing.TB) []*Record {
	t.Helper()
	records, _ := a.ordinances(t)
	return records
}

// water reads one watering law.
func (a *archive) water(t testing.TB, id string) *WaterRecord {
	t.Helper()
	name := "ordinances/" + id + ".toml"
	_, w := a.ordinance(t, txtar.File{Name: name, Data: []byte(a.text(t, name))})
	require.NotNil(t, w, "%s: %s is no watering law", a.name, id)
	return w
}

// jurisdictions reads the list; none if the archive has none.
func (a *archive) jurisdictions(t testing.TB) []Jurisdiction {
	t.Helper()
	for _, f := range a.files {
		if f.Name != "jurisdictions.toml" {
			continue
		}
		var list diag.List
		root, ok := diag.ReadTOML(f.Name, f.Data, &list)
		require.True(t, ok, list.Error())
		out := ReadJurisdictions(root)
		require.NoError(t, list.Err(), a.name)
		return out
	}
	return nil
}

// book holds all laws of the archive.
func (a *archive) book(t testing.TB) *Book {
	t.Helper()
	records, water := a.ordinances(t)
	return NewBook(records, a.jurisdictions(t)).WithWatering(water)
}

// row is a line of a table: cells by column.
type row struct {
	at    string // file and line
	cells map[string]string
}

func (r row) get(column string) string { return r.cells[column] }

// readTable reads a table strictly: columns that must be there, columns that may.
func readTable(name, text string, must, may []string) ([]row, error) {
	in := csv.NewReader(strings.NewReader(text))
	in.TrimLeadingSpace, in.Comment = true, '#'
	var header []string
	var out []row
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
		r := row{fmt.Sprintf("%s:%d", name, line), map[string]string{}}
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

// products are those of the tables, by name.
var products = readProducts()

func readProducts() map[string]Product {
	const file = "testdata/products.csv"
	text, err := os.ReadFile(file)
	if err != nil {
		panic(err)
	}
	rows, err := readTable(file, string(text), []string{"name", "n", "slow n", "p2o5", "k2o", "class", "form"}, nil)
	if err != nil {
		panic(err)
	}
	out := map[string]Product{"nitrogen": ProductOf("N"), "phosphorus": ProductOf("P"), "neither": ProductOf("")}
	for _, r := range rows {
		if !slices.Contains(classes(), r.get("class")) || !slices.Contains(append(forms(), ""), r.get("form")) {
			panic(r.at + ": class or form")
		}
		out[r.get("name")] = Product{Name: r.get("name"), NPct: number(r.get("n")), SlowNPct: number(r.get("slow n")), P2O5Pct: number(r.get("p2o5")),
			K2OPct: number(r.get("k2o")), Class: r.get("class"), Form: r.get("form")}
	}
	return out
}

func product(name string) Product {
	p, ok := products[name]
	if !ok {
		panic("there is no product " + name)
	}
	return p
}

func number(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(err)
	}
	return x
}

// given is one kind of fact that a row may state: how it is written, # for a
// number, @ for a date, * for words, and what it says of a question. If only some
// words are known, the first of its words is one of them.
type given[Q any] struct {
	form  *regexp.Regexp
	known []string
	say   func(q *Q, words []string)
}

func fact[Q any](form string, say func(q *Q, words []string), known ...string) given[Q] {
	form = strings.NewReplacer("#", `([0-9.]+)`, "@", `(\d{4}-\d\d-\d\d)`, "*", `(.+)`).Replace(form)
	return given[Q]{regexp.MustCompile("^" + form + "$"), known, say}
}

// state adds the facts of a cell to a question; several are parted by ";".
func state[Q any](t testing.TB, r row, facts []given[Q], q *Q) {
	t.Helper()
	if r.get("given") == "" {
		return
	}
	for _, words := range strings.Split(r.get("given"), ";") {
		words = strings.TrimSpace(words)
		i := slices.IndexFunc(facts, func(g given[Q]) bool { return g.form.MatchString(words) })
		require.GreaterOrEqual(t, i, 0, "%s: given: nothing is known of %q", r.at, words)
		said := facts[i].form.FindStringSubmatch(words)[1:]
		if len(facts[i].known) > 0 {
			require.Contains(t, facts[i].known, said[0], "%s: given", r.at)
		}
		facts[i].say(q, said)
	}
}

func onWeather(q *Question, say func(w *Weather)) {
	if q.Weather == nil {
		q.Weather = &Weather{}
	}
	say(q.Weather)
}

var facts = []given[Question]{
	fact("rate # lb", func(q *Question, w []string) { q.RateLb1000 = num(number(w[0])) }),
	fact("rate # lb N", func(q *Question, w []string) { q.RateLb1000 = num(number(w[0]) / (q.Product.NPct / 100)) }),
	fact("so far # lb N", func(q *Question, w []string) { q.AnnualNLb1000 = num(number(w[0])) }),
	fact("so far # lb P2O5", func(q *Question, w []string) { q.AnnualP2O5Lb1000 = num(number(w[0])) }),
	fact("grass *", func(q *Question, w []string) { q.Grass = w[0] }),
	fact("site *", func(q *Question, w []string) { q.Site = w[0] }, sites()...),
	fact("distance # ft", func(q *Question, w []string) { q.DistanceFt = num(number(w[0])) }),
	fact("gear *", func(q *Question, w []string) { q.Gear = w[0] }, gears()...),
	fact("strip # ft", func(q *Question, w []string) { q.VegetatedStripFt = num(number(w[0])) }),
	fact("soil test @", func(q *Question, w []string) { q.SoilTest = &SoilTest{day(w[0]), true} }),
	fact("new turf", func(q *Question, _ []string) { q.NewTurf = true }),
	fact("growing season #", func(q *Question, w []string) { q.GrowingSeason = int(number(w[0])) }),
	fact("repair", func(q *Question, _ []string) { q.Repair = true }),
	fact("planted @", func(q *Question, w []string) { q.Planted = day(w[0]) }),
	fact("growing @ to @", func(q *Question, w []string) { q.Seasons = []Season{{"growing", day(w[0]), day(w[1])}} }),
	fact("growing from @", func(q *Question, w []string) { q.Seasons = []Season{{Name: "growing", From: day(w[0])}} }),
	fact("claim *", func(q *Question, w []string) { q.Claims = append(q.Claims, w[0]) }),
	fact("alert *", func(q *Question, w []string) { onWeather(q, func(x *Weather) { x.Alerts = append(x.Alerts, w[0]) }) }, alertEvents()...),
	fact("ground *", func(q *Question, w []string) { onWeather(q, func(x *Weather) { x.Ground = append(x.Ground, w[0]) }) }, grounds()...),
	fact("frost # in", func(q *Question, w []string) { onWeather(q, func(x *Weather) { x.FrostDepthIn = num(number(w[0])) }) }),
	fact("rain # in", func(q *Question, w []string) {
		onWeather(q, func(x *Weather) { x.ForecastRainIn24h = num(number(w[0])) })
	}),
}

var waterFacts = []given[WaterQuestion]{
	fact("nonresidential", func(q *WaterQuestion, _ []string) { q.Nonresidential = true }),
	fact("method *", func(q *WaterQuestion, w []string) { q.Method = w[0] }, exemptions()...),
	fact("source *", func(q *WaterQuestion, w []string) { q.Source = w[0] }, "public", "well", "surface", "reclaimed"),
	fact("planted @", func(q *WaterQuestion, w []string) { q.Planted = day(w[0]) }),
	fact("watering in # in spread @ *", func(q *WaterQuestion, w []string) {
		q.WaterIn = &WaterIn{Date: day(w[1]), Minute: minuteOf(w[2]), DepthIn: number(w[0])}
	}),
}

func minuteOf(s string) int {
	minute, ok := clock(s)
	if !ok {
		panic(fmt.Sprintf("%q is not a time of day", s))
	}
	return minute
}

// usualAsOf is the day on which a row is asked, unless it names one.
const usualAsOf = "2026-03-16"

func asOfRow(t testing.TB, r row) civil.Date {
	t.Helper()
	if r.get("as of") == "" {
		return day(usualAsOf)
	}
	return dateOf(t, r, "as of")
}

func dateOf(t testing.TB, r row, column string) civil.Date {
	t.Helper()
	d, err := civil.ParseDate(r.get(column))
	require.NoError(t, err, "%s: %s", r.at, column)
	return d
}

func productOf(t testing.TB, r row) Product {
	t.Helper()
	p, ok := products[r.get("product")]
	require.True(t, ok, "%s: there is no product %q; use one of %s", r.at, r.get("product"), strings.Join(slices.Sorted(maps.Keys(products)), ", "))
	return p
}
