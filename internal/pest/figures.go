package pest

import (
	"math"
	"slices"
	"strconv"

	"ligule/internal/diag"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// figures is a table of a data file whose figures have a source: the table's
// own, but for those that an [[except]] names.
type figures struct {
	*diag.Table
	section string
	keys    []string // that hold figures
	cells   []string // figures of sub-tables, "tolerance.zoysia"
}

// readFigures reads a table with read and then its sources, which it returns.
func readFigures(section string, t *diag.Table, read func(*figures)) []turf.Cite {
	f := &figures{Table: t, section: section}
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

// opt reads a quantity that may be absent, NaN then, and holds it to a wide
// range, in d.Unit(), that catches a slip of the unit.
func (f *figures) opt(key string, d quantity.Dimension, least, most float64) float64 {
	f.keys = append(f.keys, key)
	return optWithin(f.Table, key, d, least, most)
}

// need is opt for a key that must be there.
func (f *figures) need(key string, d quantity.Dimension, least, most float64) float64 {
	if !f.Has(key) {
		f.Quantity(key, d) // records that it is missing
	}
	return f.opt(key, d, least, most)
}

func optWithin(t *diag.Table, key string, d quantity.Dimension, least, most float64) float64 {
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

// days reads a whole number of days ("3 weeks") that may be absent, 0 then.
func (f *figures) days(key string, most int) int {
	f.keys = append(f.keys, key)
	return optDays(f.Table, key, most)
}

func optDays(t *diag.Table, key string, most int) int {
	x := optWithin(t, key, quantity.Time, 0, float64(most))
	if math.IsNaN(x) {
		return 0
	}
	if x != math.Trunc(x) {
		t.Errorf(key, "write whole days", "%s is not a whole number of days", strconv.FormatFloat(x, 'g', -1, 64))
		return 0
	}
	return int(x)
}

// dayRange reads key_from and key_to.
func (f *figures) dayRange(key string, most int) DayRange {
	r := DayRange{From: f.days(key+"_from", most), To: f.days(key+"_to", most)}
	if r.To < r.From {
		f.Errorf(key+"_to", "it may not be less than "+key+"_from", "%d days is less than %d", r.To, r.From)
	}
	return r
}

// temperatureC reads a temperature, °C, that may be absent, NaN then.
func (f *figures) temperatureC(key string) float64 {
	return f.opt(key, quantity.Temperature, -30, 60)
}

// byGrass reads a sub-table of quantities by grass id, nil where it is absent.
func (f *figures) byGrass(key string, d quantity.Dimension, least, most float64) map[string]float64 {
	f.keys = append(f.keys, key)
	sub := f.Table.Table(key, false)
	if sub == nil {
		return nil
	}
	m := map[string]float64{}
	for _, grass := range sub.Keys() {
		if !diag.IsID(grass) {
			sub.Errorf(grass, "an id is lower-case words joined by hyphens", "%q is not the id of a grass", grass)
		}
		m[grass] = optWithin(sub, grass, d, least, most)
		f.cells = append(f.cells, key+"."+grass)
	}
	sub.Close()
	return m
}

// flag reads true or false.
func (f *figures) flag(key string) bool {
	f.keys = append(f.keys, key)
	return f.Bool(key)
}
