package herbicide

import (
	"maps"
	"slices"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/quantity"
)

// Read reads the herbicide file. All mistakes go to the table's list;
// what is returned then is not for use. That publications and grasses exist is
// for the caller to see, from Cites and from Grasses.
func Read(t *diag.Table) *Book {
	h, file := &Book{}, &pest.File{Table: t}
	if heat := t.Table("heat", true); heat != nil {
		file.Figures("heat", heat, func(f *pest.Figures) {
			h.Heat = f.Need("limit", quantity.Temperature, 20, 45)
			h.HeatOn = f.ByGrass("on", quantity.Temperature, 20, 45)
		})
	}
	seen := map[string]bool{}
	once := func(t *diag.Table, key, name string) {
		if seen[key+name] && name != "" {
			t.Errorf(key, "keep one of them", "%q stands twice", name)
		}
		seen[key+name] = true
	}
	for _, c := range t.Tables("class") {
		class := Class{ID: c.ID("id")}
		once(c, "id", class.ID)
		file.Figures("class "+class.ID, c, class.read)
		h.Classes = append(h.Classes, class)
	}
	if judging := t.Table("judging", true); judging != nil {
		file.Figures("judging", judging, h.readJudging)
	}
	for i := range h.Classes {
		if c := &h.Classes[i]; (c.Uptake == nil) != (c.Judging.Value == Waits{}) {
			t.Errorf("judging", "name in days each class with a curve of uptake, and no other", "class %q and its days do not agree", c.ID)
		}
	}
	for _, a := range t.Tables("ingredient") {
		ingredient := Ingredient{Names: a.Texts("names", true)}
		if len(ingredient.Names) == 0 {
			a.Errorf("names", `write names = ["…"]`, "no active ingredient named")
			ingredient.Names = []string{""}
		}
		for _, name := range ingredient.Names {
			once(a, "names", name)
		}
		file.Figures("ingredient "+ingredient.Names[0], a, ingredient.read)
		if _, ok := h.Class(ingredient.Class); !ok && ingredient.Class != "" {
			a.Errorf("class", diag.DidYouMean(ingredient.Class, h.classIDs()), "no class %q", ingredient.Class)
		}
		h.Ingredients = append(h.Ingredients, ingredient)
	}
	if len(h.Classes) == 0 || len(h.Ingredients) == 0 {
		t.Errorf("", "add [[class]] and [[ingredient]]", "no classes or no ingredients")
	}
	t.Close()
	h.Cites = file.Cites
	return h
}

func (h *Book) classIDs() []string {
	ids := make([]string, len(h.Classes))
	for i, c := range h.Classes {
		ids[i] = c.ID
	}
	return ids
}

func (c *Class) read(f *pest.Figures) {
	c.Title = f.Text("title")
	c.HRAC = f.Text("hrac")
	c.Uptake = readKnots(f)
	c.NightFloor = f.Temperature("night_floor")
	c.UsefulFrom, c.UsefulTo = f.Temperature("useful_from"), f.Temperature("useful_to")
	if c.UsefulTo.Value <= c.UsefulFrom.Value {
		f.Errorf("useful_to", "it has to be the warmer of the two", "it is not above useful_from")
	}
	c.Cold, c.Heat = f.Temperature("cold"), f.Temperature("heat")
	if c.Heat.Value <= c.Cold.Value {
		f.Errorf("heat", "it has to be the warmer of the two", "it is not above cold")
	}
	c.HeatOn = f.ByGrass("heat_on", quantity.Temperature, 20, 45)
	c.Soil = f.Temperature("soil")
	c.Rainfast = f.Opt("rainfast", quantity.Hours, 0, 72)
	c.Symptoms = f.DayRange("symptoms", 60)
	c.Death = f.DayRange("death", 120)
	c.Respray = f.DayRange("respray", 120)
	c.MostPerYear.Cite = f.CiteOf("most_per_year")
	if n, ok := f.OptInt("most_per_year"); ok {
		if n < 1 || n > 12 {
			f.Errorf("most_per_year", "use 1 to 12", "%d is out of range", n)
		}
		c.MostPerYear.Value = n
	}
	c.FailsInDrought = f.Flag("fails_in_drought")
	c.Note = f.OptText("says")
}

// readJudging reads for how long what was sprayed is not judged, class by class.
func (h *Book) readJudging(f *pest.Figures) {
	cool, mild := f.Need("cool", quantity.Temperature, 0, 30), f.Need("mild", quantity.Temperature, 0, 30)
	if mild.Value <= cool.Value {
		f.Errorf("mild", "it has to be the warmer of the two", "it is not above cool")
	}
	f.Holds("days")
	for _, row := range f.Tables("days") {
		days := func(key string) int { return pest.OptDays(row, key, 120) }
		id, w := row.ID("class"), Waits{days("cold"), days("cool"), days("mild"), cool.Value, mild.Value}
		if w.Mild < 1 || w.Cool < w.Mild || w.Cold < w.Cool {
			row.Errorf("cold", "the cooler it is, the longer the wait", "the days are not in order")
		}
		if c, ok := h.Class(id); ok {
			c.Judging = pest.Cite(f, "days", w)
		} else {
			row.Errorf("class", diag.DidYouMean(id, h.classIDs()), "no class %q", id)
		}
		row.Close()
	}
}

// readKnots reads a curve: uptake = [{ at = "5 C", factor = 0.5 }, …], by rising
// temperature. A class may have none: then nothing is said of its uptake.
func readKnots(f *pest.Figures) []Knot {
	f.Holds("uptake")
	var knots []Knot
	for _, k := range f.Tables("uptake") {
		at, factor := k.Quantity("at", quantity.Temperature), k.Number("factor")
		if factor < 0 || factor > 1 {
			k.Errorf("factor", "use 0 to 1", "%v is out of range", factor)
		}
		if n := len(knots); n > 0 && at <= knots[n-1].X {
			k.Errorf("at", "go by rising temperature", "the curve goes back")
		}
		knots = append(knots, Knot{at, factor})
		k.Close()
	}
	if f.Has("uptake") && len(knots) < 2 {
		f.Errorf("uptake", `write uptake = [{ at = "5 C", factor = 0.5 }, …]`, "a curve needs two points")
	}
	return knots
}

func (a *Ingredient) read(f *pest.Figures) {
	f.Holds("hrac")
	a.HRAC = f.Text("hrac")
	a.Class = f.OptText("class")
	a.Pre, a.Post = f.Flag("pre").Value, f.Flag("post").Value
	switch {
	case !a.Pre && !a.Post:
		f.Errorf("", "add pre = true or post = true", "it works neither before nor after emergence")
	case a.Post != (a.Class != ""):
		f.Errorf("class", "a class belongs to post = true, and to nothing else", "class and post do not agree")
	}
	a.Controls = f.Text("controls")
	a.Note = f.OptText("says")
	a.AtSeeding = f.Flag("at_seeding")
	a.Broadcast, a.Slit = f.Days("seed_broadcast", 400), f.Days("seed_slit", 400)
	if (a.Broadcast.Value > 0 || a.Slit.Value > 0) && (a.AtSeeding.Value || !a.Pre) {
		f.Errorf("seed_broadcast", "leave it out", "an interval before seeding belongs to what works before emergence and keeps seed down")
	}
	f.Holds("tolerance")
	sub := f.Table.Table("tolerance", true)
	if sub == nil {
		return
	}
	a.tolerance = map[string]pest.Cited[Tolerance]{}
	for _, grass := range sub.Keys() {
		if !diag.IsID(grass) {
			sub.Errorf(grass, "an id is lower-case words joined by hyphens", "%q is not the id of a grass", grass)
		}
		a.tolerance[grass] = pest.Cited[Tolerance]{
			Value: Tolerance(sub.One(grass, string(ToleranceSafe), string(ToleranceCaution), string(ToleranceDormant), string(ToleranceNone))),
			Cite:  f.CiteOfCell("tolerance", grass),
		}
	}
	for _, keys := range f.Exceptions {
		var grasses []string
		for _, key := range keys {
			if grass, ok := strings.CutPrefix(key, "tolerance."); ok {
				grasses = append(grasses, grass)
			}
		}
		if len(grasses) > 0 {
			a.Exceptions = append(a.Exceptions, grasses)
		}
	}
	sub.Close()
}

// Grasses returns the ids of grasses that the file names, each once, in
// order.
func (h *Book) Grasses() []string {
	var out []string
	out = slices.AppendSeq(out, maps.Keys(h.HeatOn))
	for _, c := range h.Classes {
		out = slices.AppendSeq(out, maps.Keys(c.HeatOn))
	}
	for _, a := range h.Ingredients {
		out = slices.AppendSeq(out, maps.Keys(a.tolerance))
	}
	slices.Sort(out)
	return slices.Compact(out)
}
