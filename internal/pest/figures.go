package pest

import (
	"math"
	"slices"
	"strconv"

	"ligule/internal/diag"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Figures is a table of a data file whose figures have a source: the table's
// own, but for those that an [[except]] names.
type Figures struct {
	*diag.Table
	section string
	keys    []string // that hold figures
	cells   []string // figures of sub-tables, "tolerance.zoysia"
}

// ReadFigures reads a table with read and then its sources, which it returns.
func ReadFigures(section string, t *diag.Table, read func(*Figures)) []turf.Cite {
	f := &Figures{Table: t, section: section}
	read(f)
	cites := []turf.Cite{turf.ReadCite(section, t)}
	cited := map[string]bool{}
	for _, e := range t.Tables("except") {
		c := turf.ReadCite(section, e)
		for _, key := range e.Texts("of", true) {
			switch {
			case !slices.Contains(f.cells, key) && (!slices.Contains(f.keys, key) || !t.Has(key)):
				e.Errorf("of", diag.DidYouMean(key, append(f.keys, f.cells...)), "%q is not a figure of %s", key, section)
			case cited[key]:
				e.Errorf("of", "leave it out of one", "%q stands in two exceptions", key)
			default:
				cited[key] = true
				c.Section = section + "." + key
				cites = append(cites, c)
			}
		}
		e.Close()
	}
	t.Close()
	return cites
}

// Opt reads a quantity that may be absent, NaN then, and holds it to a wide
// range, in d.Unit(), that catches a slip of the unit.
func (f *Figures) Opt(key string, d quantity.Dimension, least, most float64) float64 {
	f.Cited(key)
	return OptWithin(f.Table, key, d, least, most)
}

// Need is [Figures.Opt] for a key that must be there.
func (f *Figures) Need(key string, d quantity.Dimension, least, most float64) float64 {
	if !f.Has(key) {
		f.Quantity(key, d) // records that it is missing
	}
	return f.Opt(key, d, least, most)
}

// OptWithin is [Figures.Opt] for a table whose keys are not cited one by one.
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
func (f *Figures) Days(key string, most int) int {
	f.Cited(key)
	return OptDays(f.Table, key, most)
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

// DayRange reads key_from and key_to.
func (f *Figures) DayRange(key string, most int) DayRange {
	r := DayRange{From: f.Days(key+"_from", most), To: f.Days(key+"_to", most)}
	if r.To < r.From {
		f.Errorf(key+"_to", "it may not be less than "+key+"_from", "%d days is less than %d", r.To, r.From)
	}
	return r
}

// TemperatureC reads a temperature, °C, that may be absent, NaN then.
func (f *Figures) TemperatureC(key string) float64 {
	return f.Opt(key, quantity.Temperature, -30, 60)
}

// ByGrass reads a sub-table of quantities by grass id, nil where it is absent.
func (f *Figures) ByGrass(key string, d quantity.Dimension, least, most float64) map[string]float64 {
	f.Cited(key)
	sub := f.Table.Table(key, false)
	if sub == nil {
		return nil
	}
	m := map[string]float64{}
	for _, grass := range sub.Keys() {
		if !diag.IsID(grass) {
			sub.Errorf(grass, "an id is lower-case words joined by hyphens", "%q is not the id of a grass", grass)
		}
		m[grass] = OptWithin(sub, grass, d, least, most)
		f.CitedCell(key + "." + grass)
	}
	sub.Close()
	return m
}

// Flag reads true or false.
func (f *Figures) Flag(key string) bool {
	f.Cited(key)
	return f.Bool(key)
}

// Between reads a plain number within a range; NaN where it is absent or wrong.
func (f *Figures) Between(key string, least, most float64, required bool) float64 {
	f.Cited(key)
	if required && !f.Has(key) {
		f.Number(key) // records that it is missing
	}
	x, ok := f.OptNumber(key)
	if !ok {
		return math.NaN()
	}
	if x < least || x > most {
		f.Errorf(key, "use "+plain(least)+" to "+plain(most), "%s is out of range", plain(x))
		return math.NaN()
	}
	return x
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// Share reads a number from 0 to 1.
func (f *Figures) Share(key string) float64 { return f.Between(key, 0, 1, true) }

// OnRecord reports whether a figure may be printed as one with a source: what
// stands from memory may not.
func OnRecord(c turf.Cite) bool { return c.Standing != "memory" }

// Whole reads a whole number from 0 on that may be absent, 0 then.
func (f *Figures) Whole(key string, most float64) int {
	x := f.Between(key, 0, most, false)
	if math.IsNaN(x) {
		return 0
	}
	if x != math.Trunc(x) {
		f.Errorf(key, "write a whole number", "%s is not whole", plain(x))
	}
	return int(x)
}

// Cited notes keys that hold figures, so that an exception may name them.
func (f *Figures) Cited(keys ...string) { f.keys = append(f.keys, keys...) }

// CitedCell is [Figures.Cited] for a figure of a sub-table, "tolerance.zoysia".
func (f *Figures) CitedCell(key string) { f.cells = append(f.cells, key) }

// DayRange is a range of whole days; the zero DayRange is "not known".
type DayRange struct{ From, To int }

// Mid returns the middle of the range, days.
func (r DayRange) Mid() float64 { return float64(r.From+r.To) / 2 }
