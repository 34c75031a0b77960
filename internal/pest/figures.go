package pest

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Cited is something that a data file says, with where that comes from.
type Cited[T any] struct {
	Value T
	Cite  turf.Cite
}

// Figure is a number of a data file, in Of.Unit(), with where it comes from.
type Figure struct {
	Value float64 // NaN where the file has none
	Of    quantity.Dimension
	Cite  turf.Cite
}

// Known reports whether the file has the figure.
func (f Figure) Known() bool { return !math.IsNaN(f.Value) }

// File is a data file all of whose figures have a source.
type File struct {
	*diag.Table
	Defaults *diag.Table // what files of its kind say alike; nil: nothing
	Cites    []turf.Cite // of all that was read, in its order: a table's own first, then those of its exceptions, then those of its default
}

// Figures reads a table of the file. Its figures have the table's own source, but
// for those that an [[except]] names. What it takes from a default has the sources
// of the default; a table that names no source has the default's.
func (f *File) Figures(section string, t *diag.Table, read func(*Figures)) {
	figures := &Figures{Table: t, section: section, except: map[string]turf.Cite{}}
	base := t.Base()
	figures.Cite, figures.sourced = turf.ReadCite(section, t), base == nil || turf.Cites(t)
	f.Cites = append(f.Cites, figures.Cite)
	own := t.Alone().Tables("except")
	for _, e := range own {
		keys := e.Texts("of", true)
		figures.exceptions(f, e, keys)
		figures.Exceptions = append(figures.Exceptions, keys)
	}
	if base != nil {
		figures.inherit(f, base)
	}
	read(figures)
	for i, e := range own {
		figures.named(e, t.Alone(), figures.Exceptions[i])
		e.Close()
	}
	if base != nil {
		for _, e := range base.Tables("except") {
			figures.named(e, base, e.Texts("of", true))
		}
		figures.differs()
	}
	t.Close()
}

// exceptions notes the sources of the keys that an exception names.
func (f *Figures) exceptions(file *File, e *diag.Table, keys []string) {
	c := turf.ReadCite(f.section, e)
	for _, key := range keys {
		if _, twice := f.except[key]; twice {
			e.Errorf("of", "leave it out of one", "%q stands in two exceptions", key)
			continue
		}
		c.Section = f.section + "." + key
		f.except[key] = c
		file.Cites = append(file.Cites, c)
	}
}

// inherit notes the sources of what the table takes from its default.
func (f *Figures) inherit(file *File, base *diag.Table) {
	f.base.cite, f.base.except = turf.ReadCite(f.section, base), map[string]turf.Cite{}
	f.inherited = f.Cite
	if f.sourced {
		f.inherited = f.base.cite
	}
	all := base.Tables("except")
	for _, e := range all {
		for _, key := range e.Texts("of", true) {
			f.base.except[key] = turf.ReadCite(f.section, e)
		}
	}
	if f.sourced && slices.ContainsFunc(base.Keys(), func(key string) bool {
		_, excepted := f.base.except[key]
		return !excepted && !slices.Contains(citeKeys, key) && !f.Writes(key)
	}) {
		file.Cites = append(file.Cites, f.base.cite)
	}
	for _, e := range all {
		f.exceptions(file, e, slices.DeleteFunc(e.Texts("of", true), func(key string) bool {
			return f.Writes(tableOf(key)) || slices.Contains(slices.Concat(f.Exceptions...), key)
		}))
	}
}

// citeKeys say where the figures of a table come from.
var citeKeys = []string{"like", "source", "standing", "note", "except"}

// tableOf is the key in its own table of what an exception names.
func tableOf(key string) string {
	table, _, _ := strings.Cut(key, ".")
	return table
}

// named checks that what an exception names are figures of the table.
func (f *Figures) named(e, table *diag.Table, keys []string) {
	for _, key := range keys {
		switch {
		case slices.Contains(f.cells, key) && table.Has(tableOf(key)), slices.Contains(f.keys, key) && table.Has(key):
		case slices.Contains(f.keys, key) && f.Has(key):
			e.Errorf("of", "write it here too, or leave it out", "%q is the default's", key)
		default:
			e.Errorf("of", diag.DidYouMean(key, append(f.keys, f.cells...)), "%q is not a figure of %s", key, f.section)
		}
	}
}

// differs checks that what the table writes differs from its default, in what it
// says or in where that comes from, and that the default's publication is made to
// vouch for nothing else.
func (f *Figures) differs() {
	if f.sourced && f.Repeats("source") && f.Repeats("standing") {
		f.TellRepeats("source")
	}
	if !f.sourced {
		f.TellRepeats("note")
	}
	for _, key := range f.Keys() {
		if slices.Contains(citeKeys, key) {
			continue
		}
		_, own := f.except[key]
		if f.Repeats(key) {
			c, ok := f.base.except[key]
			if !ok {
				c = f.base.cite
			}
			if ours := f.cite(key); !f.sourced && !own || ours.Source == c.Source && ours.Standing == c.Standing && ours.Note == c.Note {
				f.TellRepeats(key)
			}
		} else if slices.Contains(f.keys, key) && !f.sourced && !own && f.base.cite.IsPublication() {
			f.Errorf(key, "add source and standing, or an exception for it", "%q was not read in the source of the default", key)
		}
	}
}

// Figures is a table whose figures are read one by one.
type Figures struct {
	*diag.Table
	Cite       turf.Cite  // the table's own
	Exceptions [][]string // the keys that each exception names
	section    string
	sourced    bool      // it names its source itself
	inherited  turf.Cite // of what it takes from its default
	base       struct {  // the default
		cite   turf.Cite
		except map[string]turf.Cite
	}
	except map[string]turf.Cite // of the table and of what it takes
	keys   []string             // that hold figures
	cells  []string             // figures of sub-tables, "tolerance.zoysia"
}

// CiteOf is where the figure of a key comes from. An exception may name the key.
func (f *Figures) CiteOf(key string) turf.Cite {
	f.Holds(key)
	return f.cite(key)
}

func (f *Figures) cite(key string) turf.Cite {
	if c, ok := f.except[key]; ok {
		return c
	}
	if f.Base() != nil && f.Has(key) && !f.Writes(key) {
		return f.inherited
	}
	return f.Cite
}

// Holds notes keys that hold figures whose sources nobody asks for one by one, so
// that an exception may name them.
func (f *Figures) Holds(keys ...string) { f.keys = append(f.keys, keys...) }

// CiteOfCell is [Figures.CiteOf] for a figure of a sub-table, "tolerance.zoysia".
func (f *Figures) CiteOfCell(table, key string) turf.Cite {
	cell := table + "." + key
	f.cells = append(f.cells, cell)
	if c, ok := f.except[cell]; ok {
		return c
	}
	return f.cite(table)
}

// Cite gives what was read of a key its source.
func Cite[T any](f *Figures, key string, value T) Cited[T] { return Cited[T]{value, f.CiteOf(key)} }

// Opt reads a quantity that may be absent, and holds it to a wide range, in
// d.Unit(), that catches a slip of the unit.
func (f *Figures) Opt(key string, d quantity.Dimension, least, most float64) Figure {
	return Figure{OptWithin(f.Table, key, d, least, most), d, f.CiteOf(key)}
}

// Need is [Figures.Opt] for a key that must be there.
func (f *Figures) Need(key string, d quantity.Dimension, least, most float64) Figure {
	if !f.Has(key) {
		f.Quantity(key, d) // records that it is missing
	}
	return f.Opt(key, d, least, most)
}

// OptWithin is [Figures.Opt] for a table whose keys are not cited one by one: NaN
// where it is absent.
func OptWithin(t *diag.Table, key string, d quantity.Dimension, least, most float64) float64 {
	x, ok := t.OptQuantity(key, d)
	if !ok {
		return math.NaN()
	}
	if !(x >= least && x <= most) {
		t.Errorf(key, "use "+quantity.OnePrec(least, d, quantity.Metric, 0)+" to "+quantity.OnePrec(most, d, quantity.Metric, 0),
			"%s is out of range", quantity.OnePrec(x, d, quantity.Metric, 1))
		return math.NaN()
	}
	return x
}

// Days reads a whole number of days ("3 weeks") that may be absent, 0 then.
func (f *Figures) Days(key string, most int) Cited[int] {
	return Cite(f, key, OptDays(f.Table, key, most))
}

// OptDays is [Figures.Days] for such a table.
func OptDays(t *diag.Table, key string, most int) int {
	x := OptWithin(t, key, quantity.Time, 0, float64(most))
	if math.IsNaN(x) {
		return 0
	}
	if x != math.Trunc(x) {
		t.Errorf(key, "write whole days", "%s is not a whole number of days", strconv.FormatFloat(x, 'g', -1, 64))
		return 0
	}
	return int(x)
}

// DayRange reads key_from and key_to. Its source is that of the first.
func (f *Figures) DayRange(key string, most int) Cited[DayRange] {
	from, to := f.Days(key+"_from", most), f.Days(key+"_to", most)
	if to.Value < from.Value {
		f.Errorf(f.Written(key+"_to", key+"_from"), "it may not be less than "+key+"_from", "%d days is less than %d", to.Value, from.Value)
	}
	return Cited[DayRange]{DayRange{from.Value, to.Value}, from.Cite}
}

// Temperature reads a temperature that may be absent.
func (f *Figures) Temperature(key string) Figure { return f.Opt(key, quantity.Temperature, -30, 60) }

// ByGrass reads a sub-table of quantities by grass id, nil where it is absent.
func (f *Figures) ByGrass(key string, d quantity.Dimension, least, most float64) map[string]Figure {
	f.Holds(key)
	sub := f.Table.Table(key, false)
	if sub == nil {
		return nil
	}
	m := map[string]Figure{}
	for _, grass := range sub.Keys() {
		if !diag.IsID(grass) {
			sub.Errorf(grass, "an id is lower-case words joined by hyphens", "%q is not the id of a grass", grass)
		}
		m[grass] = Figure{OptWithin(sub, grass, d, least, most), d, f.CiteOfCell(key, grass)}
	}
	sub.Close()
	return m
}

// Flag reads true or false.
func (f *Figures) Flag(key string) Cited[bool] { return Cite(f, key, f.Bool(key)) }

// Between reads a plain number within a range; NaN where it is absent or wrong.
func (f *Figures) Between(key string, least, most float64, required bool) Figure {
	out := Figure{math.NaN(), quantity.Number, f.CiteOf(key)}
	if required && !f.Has(key) {
		f.Number(key) // records that it is missing
	}
	x, ok := f.OptNumber(key)
	switch {
	case !ok:
	case x < least || x > most:
		f.Errorf(key, "use "+plain(least)+" to "+plain(most), "%s is out of range", plain(x))
	default:
		out.Value = x
	}
	return out
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// Share reads a number from 0 to 1.
func (f *Figures) Share(key string) Figure { return f.Between(key, 0, 1, true) }

// OnRecord reports whether a figure may be printed as one with a source: what
// stands from memory may not.
func OnRecord(c turf.Cite) bool { return c.Standing != "memory" }

// Whole reads a whole number from 0 on that may be absent, 0 then.
func (f *Figures) Whole(key string, most float64) Cited[int] {
	x := f.Between(key, 0, most, false)
	if !x.Known() {
		return Cited[int]{0, x.Cite}
	}
	if x.Value != math.Trunc(x.Value) {
		f.Errorf(key, "write a whole number", "%s is not whole", plain(x.Value))
	}
	return Cited[int]{int(x.Value), x.Cite}
}

// DayRange is a range of whole days; the zero DayRange is "not known".
type DayRange struct{ From, To int }

// Mid returns the middle of the range, days.
func (r DayRange) Mid() float64 { return float64(r.From+r.To) / 2 }
