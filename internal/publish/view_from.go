package publish

import (
	"slices"
	"strings"

	"ligule/internal/pest"
	"ligule/internal/turf"
)

// fromView is where a sentence or a figure of a pest comes from, in a word
// beside it: a publication that was read, or the plain truth that it is from
// memory or our own. What is common practice has no label.
type fromView struct{ Label, Address string }

func (v viewer) from(c turf.Cite) fromView {
	switch {
	case !pest.OnRecord(c):
		return fromView{Label: v.must("pests", "from_memory")}
	case c.IsPublication():
		s := v.source(c.Source, "")
		return fromView{s.Label, s.Address}
	case c.Standing == turf.Ours:
		return fromView{Label: v.must("pests", "from_us")}
	}
	return fromView{}
}

// saidView is a sentence with where it comes from.
type saidView struct {
	Text string
	From fromView
}

func (v viewer) said(s pest.Saying) saidView { return saidView{plain(s.Text), v.from(s.Cite)} }

func (v viewer) sayings(all []pest.Saying) []saidView {
	var out []saidView
	for _, s := range all {
		out = append(out, v.said(s))
	}
	return out
}

// unsourced are sentences whose source stands for the whole file.
func unsourced(texts []string) []saidView {
	var out []saidView
	for _, t := range texts {
		out = append(out, saidView{Text: plain(t)})
	}
	return out
}

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

// citeRows lists all cites of a file, each distinct one once.
func (v viewer) citeRows(all []turf.Cite) []citeView {
	var out []citeView
	seen := map[[4]string]bool{}
	for _, c := range all {
		key := [4]string{c.Section, c.Source, string(c.Standing), c.Note}
		if seen[key] {
			continue
		}
		seen[key] = true
		out = append(out, citeView{c.Section, plain(c.Note), v.source(c.Source, c.Standing)})
	}
	return out
}
