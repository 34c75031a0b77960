package pest

import (
	"math"
	"slices"
	"strconv"

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
	Cites []turf.Cite // of all that was read, in its order: a table's own first, then those of its exceptions
}

// Figures reads a table of the file. Its figures have the table's own source, but
// for those that an [[except]] names.
func (f *File) Figures(section string, t *diag.Table, read func(*Figures)) {
	figures := &Figures{Table: t, Cite: turf.ReadCite(section, t), except: map[string]turf.Cite{}}
	f.Cites = append(f.Cites, figures.Cite)
	tables := t.Tables("except")
	for _, e := range tables {
		c, keys := turf.ReadCite(section, e), e.Texts("of", true)
		for _, key := range keys {
			if _, twice := figures.except[key]; twice {
				e.Errorf("of", "leave it out of one", "%q stands in two exceptions", key)
				continue
			}
			c.Section = section + "." + key
			figures.except[key] = c
			f.Cites = append(f.Cites, c)
		}
		figures.Exceptions = append(figures.Exceptions, keys)
	}
	read(figures)
	for i, e := range tables {
		for _, key := range figures.Exceptions[i] {
			if !slices.Contains(figures.cells, key) && (!slices.Contains(figures.keys, key) || !t.Has(key)) {
				e.Errorf("of", diag.DidYouMean(key, append(figures.keys, figures.cells...)), "%q is not a figure of %s", key, section)
			}
		}
		e.Close()
	}
	t.Close()
}

// Figures is a table whose figures are read one by one.
type Figures struct {
	*diag.Table
	Cite       turf.Cite  // the table's own
	Exceptions [][]string // the keys that each exception names
	except     map[string]turf.Cite
	keys       []string // that hold figures
	cells      []string // figures of sub-tables, "tolerance.zoysia"
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
		f.Errorf(key+"_to", "it may not be less than "+key+"_from", "%d days is less than %d", to.Value, from.Value)
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
