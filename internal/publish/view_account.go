package publish

import (
	"math"
	"strings"

	"ligule/internal/herbicide"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/stage"
	"ligule/internal/turf"
)

// account fills in what weeds and insects have in common. What it says stands
// on the sources of the text as a whole, which are listed.
func (v viewer) account(kind string, a *stage.Account) pestPage {
	p := v.pestPage(a.ID, a.Name, kind)
	p.Names, p.Scientific = a.Also, a.Botanical
	p.About, p.LifeCycle, p.Confidence = saidView{Text: plain(a.About)}, plain(a.LifeCycle), v.must("pests.confidence", a.Confidence)
	p.Look, p.Culture, p.Worth = unsourced([]string{a.Look}), unsourced(a.Cultural), unsourced([]string{a.Worth})
	if a.Caution != "" {
		p.Worth = append(p.Worth, saidView{Text: plain(a.Caution)})
	}
	p.Hosts = v.hosts(a.Grasses(), a.Host, table(a.Cites, "hosts"))
	cites := &cursor{tables: split(a.Cites)}
	for i := range a.Timings {
		p.Timings = append(p.Timings, v.timing(&a.Timings[i], cites))
	}
	if !a.Weekly {
		p.Unjudged = v.must("pests.invalid", pest.InvalidPageOnly)
	}
	return p
}

// weedkillerView is one way to treat a weed.
type weedkillerView struct {
	Use, When, Stages string
	From              fromView
	Ingredients       []bearingView
}

// bearingView is an active ingredient and how grasses bear it.
type bearingView struct {
	Name, Group, Class string
	Grasses            []toleratedView
}

// toleratedView lists the grasses that bear it alike.
type toleratedView struct {
	Word    string
	Grasses []saidView
}

func (v viewer) weedPage(w *stage.Weed) pestPage {
	p := v.account("weed", &w.Account)
	p.Sort = v.must("pests.weed_kind", w.Kind)
	for i, c := range tables(w.Cites, "treat") {
		t := w.Treat[i]
		use := "after"
		if t.Before {
			use = "before"
		}
		wv := weedkillerView{Use: v.must("pests.use", use), When: plain(t.When), Stages: stageTitles(&w.Account, t.Stages), From: v.from(c.of(""))}
		for _, name := range t.Ingredients {
			if a, ok := v.ws.Pests.Herbicides.Ingredient(name); ok {
				wv.Ingredients = append(wv.Ingredients, v.bearing(name, a))
			}
		}
		p.Weedkillers = append(p.Weedkillers, wv)
	}
	if w.WaterInMM > 0 {
		c := table(w.Cites, "watering_in")
		p.Water = append(p.Water, saidView{plain(w.WaterInSays), v.from(c.of("water"))},
			saidView{v.say("pests.place.water_in_within", "depth", v.bothPrec(w.WaterInMM, quantity.Depth, 2, 0), "days", v.days(float64(w.WaterInDays))), v.from(c.of("within"))})
		if w.Second != (pest.DayRange{}) {
			p.Water = append(p.Water, saidView{v.say("pests.place.second", "days", v.dayRange(w.Second.From, w.Second.To)), v.from(c.of("second_from"))})
		}
	}
	p.Afterward = unsourced(filled(w.AfterwardSays, w.OverseedSays))
	return v.finish(p, w.Cites)
}

// filled drops the empty ones.
func filled(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}

// stageTitles names the stages that a treatment fits.
func stageTitles(a *stage.Account, ids []string) string {
	var out []string
	for _, id := range ids {
		for _, t := range a.Timings {
			for _, s := range t.Stages {
				if s.ID == id {
					out = append(out, s.Title)
				}
			}
		}
	}
	return strings.Join(out, ", ")
}

// tolerances are in the order of trust.
var tolerances = [...]herbicide.Tolerance{herbicide.ToleranceSafe, herbicide.ToleranceCaution, herbicide.ToleranceDormant, herbicide.ToleranceNone}

// bearing lists how the grasses of the advisory bear an ingredient.
func (v viewer) bearing(name string, a *herbicide.Ingredient) bearingView {
	b := bearingView{Name: name, Group: v.hrac(a.HRAC), Class: a.Class}
	c := v.ingredientCites(a)
	for _, tol := range tolerances {
		tv := toleratedView{Word: v.must("pests.tolerance", string(tol))}
		for _, g := range v.ws.Grasses {
			if a.On(g.ID) == tol {
				tv.Grasses = append(tv.Grasses, saidView{g.Name, v.read(c, "tolerance."+g.ID)})
			}
		}
		if len(tv.Grasses) > 0 {
			b.Grasses = append(b.Grasses, tv)
		}
	}
	return b
}

// hrac names the group of a weed killer; "0" is the list's own sign for none.
func (v viewer) hrac(code string) string {
	if code == "0" {
		return v.must("pests", "no_hrac")
	}
	return v.say("pests.hrac", "code", code)
}

func (v viewer) ingredientCites(a *herbicide.Ingredient) citeTable {
	return table(v.ws.Pests.Herbicides.Cites, "ingredient "+a.Names[0])
}

// read is the publication in which a figure was read; none for the rest, of
// which the page says as a whole that it is from memory or practice.
func (v viewer) read(c citeTable, key string) fromView {
	if one := c.of(key); pest.OnRecord(one) && one.IsPublication() {
		return v.from(one)
	}
	return fromView{}
}

func (v viewer) insectPage(i *stage.Insect) pestPage {
	p := v.account("insect", &i.Account)
	for k, c := range tables(i.Cites, "threshold") {
		t := i.Counts[k]
		p.Counts = append(p.Counts, countView{Of: t.Of, Count: v.density(t), Note: plain(t.Note), From: v.from(c.of(""))})
	}
	for k, c := range tables(i.Cites, "sampling") {
		p.Samples = append(p.Samples, sampleView{i.Samples[k].Method, plain(i.Samples[k].Does), v.from(c.of(""))})
	}
	p.Lasting = i.Lasting
	if i.Lasting {
		p.Worth = append(p.Worth, saidView{Text: v.must("pests.worth", "history")})
	}
	cites := &cursor{tables: split(i.Cites)}
	for _, t := range i.Treat {
		c := cites.next("treat " + t.IRAC)
		group := ""
		if t.IRAC != "none" {
			group = t.IRAC
		}
		p.Insecticides = append(p.Insecticides, insecticideView{
			Group: group, Ingredients: strings.Join(t.Ingredients, ", "), Role: v.must("pests.role", t.Role), When: plain(t.When),
			Stages: stageTitles(&i.Account, t.Stages), From: v.from(c.of("")), GroupFrom: v.from(c.of("irac")),
		})
	}
	p.Injuries = unsourced(filled(i.Blooms, i.Enemies))
	p.Afterward = unsourced(filled(i.NextYear))
	return v.finish(p, i.Cites)
}

// density prints a threshold as its source has it, with counts per square meter.
func (v viewer) density(t stage.Threshold) string {
	perM2 := quantity.Fixed(t.LowPerM2, 0)
	if high := quantity.Fixed(t.HighPerM2, 0); high != perM2 {
		perM2 = v.say("pests.days", "from", perM2, "to", high)
	}
	if t.HighPerM2 < 1 {
		return areaNames.Replace(t.As)
	}
	return v.say("pests.density", "as", areaNames.Replace(t.As), "per_m2", perM2)
}

var areaNames = strings.NewReplacer("ft2", "sq ft", "yd2", "sq yd", "m2", "m²")

// weedKillersPage is what grasses bear, and what weather lets weed killers do.
type weedKillersPage struct {
	Heat     []saidView
	Grasses  []string
	Groups   []matrixGroup
	Classes  []classView
	Seeding  []saidView
	Read     []saidView // what a publication says of single cells
	Cites    []citeView
	Cautions []cautionView
	Short    []cautionView
}

// matrixGroup are the rows of one use.
type matrixGroup struct {
	Title string
	Rows  []matrixRow
}

type matrixRow struct {
	Name, Group, Controls, Note string
	Class                       string // id; "" if it has none
	Cells                       []matrixCell
}

type matrixCell struct {
	Word, ID string
	Read     bool
}

// classView is a class of weed killers in weather.
type classView struct {
	ID, Title, Group, Note string
	Rows                   []saidRow
}

// saidRow is a figure with its name.
type saidRow struct {
	Name, Text string
	From       fromView
}

func (v viewer) weedKillers() weedKillersPage {
	h := v.ws.Pests.Herbicides
	p := weedKillersPage{Cites: v.citeRows(h.Cites), Cautions: v.cautionsOf(true, "herbicide"), Short: v.cautionsOf(false, "herbicide")}
	heat := table(h.Cites, "heat")
	p.Heat = append(p.Heat, saidView{v.say("pests.heat.all", "value", v.both(h.HeatC, quantity.Temperature)), v.from(heat.of("limit"))})
	for _, id := range sortedKeys(h.HeatOn) {
		p.Heat = append(p.Heat, saidView{v.say("pests.heat.on", "grass", v.grassName(id), "value", v.both(h.HeatOn[id], quantity.Temperature)), v.from(heat.cell("on", id))})
	}
	for _, g := range v.ws.Grasses {
		p.Grasses = append(p.Grasses, g.Name)
	}
	for _, use := range []string{"before", "after"} {
		group := matrixGroup{Title: v.must("pests.use", use)}
		for i := range h.Ingredients {
			if a := &h.Ingredients[i]; use == "before" && a.Pre || use == "after" && a.Post {
				group.Rows = append(group.Rows, v.matrixRow(a))
			}
		}
		p.Groups = append(p.Groups, group)
	}
	for i := range h.Ingredients {
		a := &h.Ingredients[i]
		p.Read = append(p.Read, v.cellsRead(a)...)
		p.Seeding = append(p.Seeding, v.seeding(a)...)
	}
	for i := range h.Classes {
		p.Classes = append(p.Classes, v.class(&h.Classes[i]))
	}
	return p
}

func (v viewer) matrixRow(a *herbicide.Ingredient) matrixRow {
	row := matrixRow{Name: strings.Join(a.Names, ", "), Group: v.hrac(a.HRAC), Controls: a.Controls, Note: plain(a.Note), Class: a.Class}
	c := v.ingredientCites(a)
	for _, g := range v.ws.Grasses {
		tol := a.On(g.ID)
		row.Cells = append(row.Cells, matrixCell{v.must("pests.tolerance", string(tol)), string(tol), v.read(c, "tolerance."+g.ID).Address != ""})
	}
	return row
}

// cellsRead tells what publications say of how grasses bear it.
func (v viewer) cellsRead(a *herbicide.Ingredient) []saidView {
	c := v.ingredientCites(a)
	var out []saidView
	var last turf.Cite
	for _, one := range c[min(1, len(c)):] {
		grass, ok := strings.CutPrefix(one.Section, c[0].Section+".tolerance.")
		if !ok || v.read(c, "tolerance."+grass).Address == "" {
			continue
		}
		if one.Source == last.Source && one.Note == last.Note && one.Pos == last.Pos {
			out[len(out)-1].Text = v.say("pests.cell", "ingredient", strings.Join(a.Names, ", "), "grass", v.cellGrasses(c, one), "note", plain(one.Note))
			continue
		}
		out = append(out, saidView{v.say("pests.cell", "ingredient", strings.Join(a.Names, ", "), "grass", v.grassName(grass), "note", plain(one.Note)), v.from(one)})
		last = one
	}
	return out
}

// cellGrasses lists the grasses of one exception.
func (v viewer) cellGrasses(c citeTable, of turf.Cite) string {
	var names []string
	for _, one := range c[1:] {
		if grass, ok := strings.CutPrefix(one.Section, c[0].Section+".tolerance."); ok && one.Pos == of.Pos {
			names = append(names, v.grassName(grass))
		}
	}
	return strings.Join(names, ", ")
}

// seeding tells how long a use before emergence keeps seed down.
func (v viewer) seeding(a *herbicide.Ingredient) []saidView {
	c := v.ingredientCites(a)
	name := strings.Join(a.Names, ", ")
	if a.AtSeeding {
		return []saidView{{v.say("pests.seed.at_seeding", "ingredient", name), v.from(c.of("at_seeding"))}}
	}
	if a.BroadcastDays == 0 && a.SlitDays == 0 {
		return nil
	}
	return []saidView{{v.say("pests.seed.after", "ingredient", name, "broadcast", v.weeks(a.BroadcastDays), "slit", v.weeks(a.SlitDays)), v.from(c.of("seed_broadcast"))}}
}

// weeks prints a number of days in weeks where it is whole weeks.
func (v viewer) weeks(days int) string {
	if days%7 != 0 {
		return v.days(float64(days))
	}
	return v.say("pests.weeks", "n", trimmed(float64(days/7)))
}

func (v viewer) class(c *herbicide.Class) classView {
	from := table(v.ws.Pests.Herbicides.Cites, "class "+c.ID)
	out := classView{ID: c.ID, Title: c.Title, Group: v.hrac(c.HRAC), Note: plain(c.Note)}
	row := func(id, key, text string) {
		if text != "" {
			out.Rows = append(out.Rows, saidRow{v.must("pests.class", id), text, v.from(from.of(key))})
		}
	}
	temperature := func(x float64) string { return v.both(x, quantity.Temperature) }
	if low, high := temperature(c.UsefulFromC), temperature(c.UsefulToC); low != "" && high != "" {
		row("useful", "useful_from", v.say("pests.bound.between", "from", low, "to", high))
	}
	row("cold", "cold", temperature(c.ColdC))
	row("night", "night_floor", temperature(c.NightFloorC))
	row("heat", "heat", temperature(c.HeatC))
	for _, id := range sortedKeys(c.HeatOn) {
		if text := temperature(c.HeatOn[id]); text != "" {
			out.Rows = append(out.Rows, saidRow{v.say("pests.class.heat_on", "grass", v.grassName(id)), text, v.from(from.cell("heat_on", id))})
		}
	}
	row("soil", "soil", temperature(c.SoilC))
	if !math.IsNaN(c.RainfastH) {
		row("rainfast", "rainfast", v.inHours(c.RainfastH))
	}
	row("symptoms", "symptoms_from", v.dayRange(c.Symptoms.From, c.Symptoms.To))
	row("death", "death_from", v.dayRange(c.Death.From, c.Death.To))
	row("respray", "respray_from", v.dayRange(c.Respray.From, c.Respray.To))
	if c.MostPerYear > 0 {
		row("year", "most_per_year", trimmed(float64(c.MostPerYear)))
	}
	if c.FailsInDrought {
		row("drought", "fails_in_drought", v.must("pests.class", "fails"))
	}
	return out
}
