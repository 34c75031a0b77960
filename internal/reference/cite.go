package reference

import (
	"slices"
	"strings"

	"ligule/internal/turf"
)

// citeTable is the cites of one table of a file: the table's own, then those of
// single figures.
type citeTable []turf.Cite

// of returns the cite of a figure.
func (c citeTable) of(key string) turf.Cite {
	if len(c) == 0 {
		return turf.Cite{}
	}
	for _, one := range c[1:] {
		if one.Section == c[0].Section+"."+key {
			return one
		}
	}
	return c[0]
}

// cell returns the cite of one cell of a figure that is a table of its own.
func (c citeTable) cell(key, cell string) turf.Cite {
	if one := c.of(key + "." + cell); len(c) > 0 && one.Section != c[0].Section {
		return one
	}
	return c.of(key)
}

// split takes the cites of a file apart by its tables, in the order of the file.
func split(all []turf.Cite) []citeTable {
	var out []citeTable
	for i := 0; i < len(all); {
		first := i
		for i++; i < len(all) && strings.HasPrefix(all[i].Section, all[first].Section+"."); i++ {
		}
		out = append(out, citeTable(all[first:i]))
	}
	return out
}

// tables returns those of a name.
func tables(all []turf.Cite, name string) []citeTable {
	return slices.DeleteFunc(split(all), func(c citeTable) bool { return c[0].Section != name })
}

// table returns the one table of a name.
func table(all []turf.Cite, name string) citeTable {
	if t := tables(all, name); len(t) > 0 {
		return t[0]
	}
	return nil
}

// cursor goes through the tables of a file in its order.
type cursor struct {
	tables []citeTable
	at     int
}

// next returns the next table of the name.
func (c *cursor) next(name string) citeTable {
	for i := c.at; i < len(c.tables); i++ {
		if c.tables[i][0].Section == name {
			c.at = i + 1
			return c.tables[i]
		}
	}
	return nil
}
