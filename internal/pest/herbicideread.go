package pest

import (
	"maps"
	"slices"

	"ligule/internal/diag"
	"ligule/internal/quantity"
)

// ReadHerbicides reads the herbicide file. All mistakes go to the table's list;
// what is returned then is not for use. That publications and grasses exist is
// for the caller to see, from Cites and from Grasses.
func ReadHerbicides(t *diag.Table) *Herbicides {
	h := &Herbicides{}
	if heat := t.Table("heat", true); heat != nil {
		h.Cites = append(h.Cites, readFigures("heat", heat, func(f *figures) {
			h.HeatC = f.need("limit", quantity.Temperature, 20, 45)
			h.HeatOn = f.byGrass("on", quantity.Temperature, 20, 45)
		})...)
	}
	seen := map[string]bool{}
	once := func(t *diag.Table, key, name string) {
		if seen[key+name] && name != "" {
			t.Errorf(key, "keep one of them", "%q stands twice", name)
		}
		seen[key+name] = true
	}
	for _, c := range t.Tables("class") {
		class := HerbicideClass{ID: c.ID("id")}
		once(c, "id", class.ID)
		h.Cites = append(h.Cites, readFigures("class "+class.ID, c, class.read)...)
		h.Classes = append(h.Classes, class)
	}
	for _, a := range t.Tables("ingredient") {
		ingredient := Herbicide{Names: a.Texts("names", true)}
		if len(ingredient.Names) == 0 {
			a.Errorf("names", `write names = ["…"]`, "no active ingredient named")
			ingredient.Names = []string{""}
		}
		for _, name := range ingredient.Names {
			once(a, "names", name)
		}
		h.Cites = append(h.Cites, readFigures("ingredient "+ingredient.Names[0], a, ingredient.read)...)
		if _, ok := h.Class(ingredient.Class); !ok && ingredient.Class != "" {
			a.Errorf("class", diag.DidYouMean(ingredient.Class, h.classIDs()), "no class %q", ingredient.Class)
		}
		h.Ingredients = append(h.Ingredients, ingredient)
	}
	if len(h.Classes) == 0 || len(h.Ingredients) == 0 {
		t.Errorf("", "add [[class]] and [[ingredient]]", "no classes or no ingredients")
	}
	t.Close()
	return h
}

func (h *Herbicides) classIDs() []string {
	ids := make([]string, len(h.Classes))
	for i, c := range h.Classes {
		ids[i] = c.ID
	}
	return ids
}

func (c *HerbicideClass) read(f *figures) {
	c.Title = f.Text("title")
	c.HRAC = f.Text("hrac")
	c.Uptake = readKnots(f)
	c.NightFloorC = f.temperatureC("night_floor")
	c.UsefulFromC, c.UsefulToC = f.temperatureC("useful_from"), f.temperatureC("useful_to")
	if c.UsefulToC <= c.UsefulFromC {
		f.Errorf("useful_to", "it has to be the warmer of the two", "it is not above useful_from")
	}
	c.ColdC, c.HeatC = f.temperatureC("cold"), f.temperatureC("heat")
	if c.HeatC <= c.ColdC {
		f.Errorf("heat", "it has to be the warmer of the two", "it is not above cold")
	}
	c.HeatOn = f.byGrass("heat_on", quantity.Temperature, 20, 45)
	c.SoilC = f.temperatureC("soil")
	c.RainfastH = f.opt("rainfast", quantity.Hours, 0, 72)
	c.Symptoms = f.dayRange("symptoms", 60)
	c.Death = f.dayRange("death", 120)
	c.Respray = f.dayRange("respray", 120)
	f.keys = append(f.keys, "most_per_year")
	if n, ok := f.OptInt("most_per_year"); ok {
		if n < 1 || n > 12 {
			f.Errorf("most_per_year", "use 1 to 12", "%d is out of range", n)
		}
		c.MostPerYear = n
	}
	c.FailsInDrought = f.flag("fails_in_drought")
	c.Note = f.OptText("says")
}

// readKnots reads a curve: uptake = [{ at = "5 C", factor = 0.5 }, …], by rising
// temperature. A class may have none: then nothing is said of its uptake.
func readKnots(f *figures) []Knot {
	f.keys = append(f.keys, "uptake")
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

func (a *Herbicide) read(f *figures) {
	f.keys = append(f.keys, "hrac")
	a.HRAC = f.Text("hrac")
	a.Class = f.OptText("class")
	a.Pre, a.Post = f.flag("pre"), f.flag("post")
	switch {
	case !a.Pre && !a.Post:
		f.Errorf("", "add pre = true or post = true", "it works neither before nor after emergence")
	case a.Post != (a.Class != ""):
		f.Errorf("class", "a class belongs to post = true, and to nothing else", "class and post do not agree")
	}
	a.Controls = f.Text("controls")
	a.Note = f.OptText("says")
	a.AtSeeding = f.flag("at_seeding")
	a.BroadcastDays, a.SlitDays = f.days("seed_broadcast", 400), f.days("seed_slit", 400)
	if (a.BroadcastDays > 0 || a.SlitDays > 0) && (a.AtSeeding || !a.Pre) {
		f.Errorf("seed_broadcast", "leave it out", "an interval before seeding belongs to what works before emergence and keeps seed down")
	}
	f.keys = append(f.keys, "tolerance")
	sub := f.Table.Table("tolerance", true)
	if sub == nil {
		return
	}
	a.tolerance = map[string]Tolerance{}
	for _, grass := range sub.Keys() {
		if !diag.IsID(grass) {
			sub.Errorf(grass, "an id is lower-case words joined by hyphens", "%q is not the id of a grass", grass)
		}
		a.tolerance[grass] = Tolerance(sub.One(grass, string(ToleranceSafe), string(ToleranceCaution), string(ToleranceDormant), string(ToleranceNone)))
		f.cells = append(f.cells, "tolerance."+grass)
	}
	sub.Close()
}

// Grasses returns the ids of grasses that the file names, each once, in
// order.
func (h *Herbicides) Grasses() []string {
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
