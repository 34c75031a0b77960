package workspace

import (
	"path"
	"slices"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/disease"
	"ligule/internal/herbicide"
	"ligule/internal/homeuse"
	"ligule/internal/pest"
	"ligule/internal/stage"
	"ligule/internal/turf"
)

const (
	ingredientsFile  = "data/pests/ingredients.toml"
	herbicidesFile   = "data/pests/herbicides.toml"
	pestDefaultsFile = "data/pests/defaults.toml"
)

// pests reads data/pests. An advisory without weeds needs no herbicide file, one
// that names no active ingredient no file of them, and none needs defaults.
func (l *loader) pests() {
	book := &advice.Book{Herbicides: &herbicide.Book{}}
	l.ws.Pests = book
	if t, ok := l.optTOML(ingredientsFile); ok {
		book.Ingredients = homeuse.Read(t)
		l.cites(book.Ingredients.Cites)
		l.classes = t
	}
	if t, ok := l.optTOML(herbicidesFile); ok {
		book.Herbicides = herbicide.Read(t)
		l.cites(book.Herbicides.Cites)
		l.grassesOf(herbicidesFile, book.Herbicides.Grasses())
		for i, a := range book.Herbicides.Ingredients {
			l.ingredients(t, "ingredient", i, "names", a.Names)
		}
	}
	defaults, _ := l.optTOML(pestDefaultsFile)
	whole := true
	seen := map[string]string{}
	each := func(folder string, read func(id string, t *diag.Table) ([]turf.Cite, []string)) {
		for _, file := range l.files(path.Join("data/pests", folder), ".toml") {
			t, ok := l.toml(file)
			if !ok {
				whole = false
				continue
			}
			id := l.id(file)
			if first := seen[id]; first != "" {
				l.list.Errorf(diag.Pos{File: file}, "give each pest its own id", "the id %q is already that of %s", id, first)
			}
			seen[id] = file
			cites, grasses := read(id, t)
			l.cites(cites)
			l.grassesOf(file, grasses)
		}
	}
	each("diseases", func(id string, t *diag.Table) ([]turf.Cite, []string) {
		d := disease.Read(id, t, defaults)
		book.Diseases = append(book.Diseases, d)
		for i, g := range d.Groups {
			l.ingredients(t, "group", i, "ingredients", g.Ingredients.Value)
		}
		return d.Cites, d.Grasses()
	})
	each("weeds", func(id string, t *diag.Table) ([]turf.Cite, []string) {
		w := stage.ReadWeed(id, t, defaults)
		book.Weeds = append(book.Weeds, w)
		for _, name := range w.Unknown(book.Herbicides) {
			l.list.Errorf(diag.Pos{File: t.File(), Key: "treat"}, "add it to "+herbicidesFile+", or mend its use there", "%q is not an active ingredient for that use", name)
		}
		return w.Cites, w.Grasses()
	})
	each("insects", func(id string, t *diag.Table) ([]turf.Cite, []string) {
		i := stage.ReadInsect(id, t, defaults)
		book.Insects = append(book.Insects, i)
		for k, one := range i.Treat {
			l.ingredients(t, "treat", k, "ingredients", one.Ingredients)
		}
		return i.Cites, i.Grasses()
	})
	if whole { // else what takes a default may be what could not be read
		defaults.CloseTaken()
	}
}

// ingredients checks that what a table names is on file: who may use it has to be
// known. What weeds name is held to the herbicide file, and that to this one.
func (l *loader) ingredients(t *diag.Table, table string, i int, key string, names []string) {
	for _, name := range names {
		if name != "" && !l.ws.Pests.Ingredients.Has(name) {
			l.list.Errorf(t.Pos(diag.Element(table, i)+"."+key), "add it to "+ingredientsFile+", with who may use it", "%q is not an active ingredient on file", name)
		}
	}
}

// classesOf checks that a caution stands for every class of ingredients.
func (l *loader) classesOf() {
	if l.classes == nil {
		return
	}
	for i, one := range l.ws.Pests.Ingredients.Ingredients {
		if one.Class != "" && !slices.ContainsFunc(l.ws.Cautions, func(c advice.Caution) bool { return c.Class == one.Class }) {
			l.list.Errorf(l.classes.Pos(diag.Element("ingredient", i)+".class"), "write its caution in data/cautions.toml", "no caution stands for the class %q", one.Class)
		}
	}
}

// cites checks that what a file cites is in the bibliography.
func (l *loader) cites(cites []turf.Cite) {
	for _, c := range cites {
		if c.IsPublication() {
			l.source(c.Pos, c.Source)
		}
	}
}

// grassesOf warns of a grass that looks like a slip for one on file. The pest
// files know more grasses than an advisory needs to keep.
func (l *loader) grassesOf(file string, grasses []string) {
	known := l.ws.grassIDs()
	for _, g := range grasses {
		if slices.Contains(known, g) {
			continue
		}
		if remedy := diag.DidYouMean(g, known); remedy != "" {
			l.list.Warnf(diag.Pos{File: file}, remedy, "there is no grass %q", g)
		}
	}
}

// logs reads data/scouting and data/treatments: what was seen where, and what
// was done against it.
func (l *loader) logs() {
	pests := l.ws.Pests.IDs()
	for _, file := range l.files("data/scouting", ".csv") {
		text, ok := l.read(file)
		if !ok {
			continue
		}
		for _, r := range pest.ReadScouting(file, text, l.list) {
			l.logged(diag.Pos{File: file, Line: r.Line}, r.Zone, r.Grass, "finding", r.Finding, append(pests, pest.FoundNone, pest.FoundUnknown))
			l.ws.Reports = append(l.ws.Reports, r)
		}
	}
	for _, file := range l.files("data/treatments", ".csv") {
		text, ok := l.read(file)
		if !ok {
			continue
		}
		for _, t := range pest.ReadTreatments(file, text, l.list) {
			l.logged(diag.Pos{File: file, Line: t.Line}, t.Zone, t.Grass, "target", t.Target, pests)
			l.ws.Treatments = append(l.ws.Treatments, t)
		}
	}
	slices.SortStableFunc(l.ws.Reports, func(a, b pest.Report) int { return int(a.Date - b.Date) })
	slices.SortStableFunc(l.ws.Treatments, func(a, b pest.Treatment) int { return int(a.Date - b.Date) })
}

// logged checks what a line of a log names.
func (l *loader) logged(pos diag.Pos, zone, grass, column, id string, known []string) {
	check := func(column, id string, known []string) {
		pos.Key = column
		l.refer(pos, column, id, known, "")
	}
	check("zone", zone, l.ws.zoneIDs())
	if grass != "" {
		check("grass", grass, l.ws.grassIDs())
	}
	check(column, id, known)
}

// ReportsOf returns the scouting reports of a zone before a date, oldest first.
func (ws *Workspace) ReportsOf(zone string, before civil.Date) []pest.Report {
	return only(ws.Reports, func(r pest.Report) bool { return r.Zone == zone && r.Date < before })
}

// TreatmentsOf returns the treatments of a zone before a date, oldest first.
func (ws *Workspace) TreatmentsOf(zone string, before civil.Date) []pest.Treatment {
	return only(ws.Treatments, func(t pest.Treatment) bool { return t.Zone == zone && t.Date < before })
}

func only[T any](list []T, is func(T) bool) []T {
	return slices.DeleteFunc(slices.Clone(list), func(x T) bool { return !is(x) })
}
