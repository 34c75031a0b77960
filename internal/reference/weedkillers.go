package reference

import (
	"maps"
	"math"
	"slices"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/herbicide"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// WeedKillers is what grasses bear, and what weather lets weed killers do.
type WeedKillers struct {
	Use     string        `json:"use"` // "herbicide"
	Heat    []Statement   `json:"heat"`
	Grasses []string      `json:"grasses"` // names
	Groups  []MatrixGroup `json:"groups"`
	Classes []Class       `json:"classes"`
	Seeding []Statement   `json:"seeding,omitempty"`
	Read    []Statement   `json:"read,omitempty"` // what a publication says of single cells
	Cites   []Cite        `json:"cites"`
}

// MatrixGroup are the rows of one use.
type MatrixGroup struct {
	Title *message.Said `json:"title"`
	Rows  []MatrixRow   `json:"rows"`
}

// MatrixRow is an ingredient, or several that grasses bear alike.
type MatrixRow struct {
	Names    []string      `json:"names"`
	Group    *message.Said `json:"group"`
	Controls string        `json:"controls"`
	Note     *message.Said `json:"note,omitempty"`
	Class    string        `json:"class,omitempty"` // id
	Cells    []Cell        `json:"cells"`           // in the order of the grasses
}

// Cell is how a grass bears it.
type Cell struct {
	ID   string        `json:"id"` // code: "safe"
	Word *message.Said `json:"word"`
	Read bool          `json:"read,omitempty"` // in a publication
}

// Class is a class of weed killers in weather.
type Class struct {
	ID    string        `json:"id"`
	Title string        `json:"title"`
	Group *message.Said `json:"group"`
	Note  *message.Said `json:"note,omitempty"`
	Rows  []Row         `json:"rows"`
}

// Row is a figure with its name.
type Row struct {
	Name  *message.Said `json:"name"`
	Value Statement     `json:"value"`
}

// WeedKillersOf makes the page of weed killers; nil where none are on file.
func WeedKillersOf(ws *workspace.Workspace) *WeedKillers {
	if ws.Pests == nil || len(ws.Pests.Herbicides.Ingredients) == 0 {
		return nil
	}
	m, h := maker{ws}, ws.Pests.Herbicides
	out := &WeedKillers{Use: advice.Herbicide, Cites: m.cites(h.Cites)}
	heat := table(h.Cites, "heat")
	out.Heat = append(out.Heat, m.cited(message.New("pests.heat.all").With("value", temperature(h.HeatC)), heat.of("limit")))
	for _, id := range slices.Sorted(maps.Keys(h.HeatOn)) {
		out.Heat = append(out.Heat, m.cited(message.New("pests.heat.on").Name("grass", m.grass(id)).With("value", temperature(h.HeatOn[id])), heat.cell("on", id)))
	}
	for _, g := range ws.Grasses {
		out.Grasses = append(out.Grasses, g.Name)
	}
	for _, use := range []string{"before", "after"} {
		group := MatrixGroup{Title: say("pests.use." + use)}
		for i := range h.Ingredients {
			if a := &h.Ingredients[i]; use == "before" && a.Pre || use == "after" && a.Post {
				group.Rows = append(group.Rows, m.matrixRow(a))
			}
		}
		out.Groups = append(out.Groups, group)
	}
	for i := range h.Ingredients {
		a := &h.Ingredients[i]
		out.Read = append(out.Read, m.cellsRead(a)...)
		out.Seeding = append(out.Seeding, m.seeding(a)...)
	}
	for i := range h.Classes {
		out.Classes = append(out.Classes, m.class(&h.Classes[i]))
	}
	return out
}

func (m maker) matrixRow(a *herbicide.Ingredient) MatrixRow {
	row := MatrixRow{Names: a.Names, Group: hrac(a.HRAC), Controls: a.Controls, Note: plain(a.Note), Class: a.Class}
	c := m.ingredientCites(a)
	for _, g := range m.ws.Grasses {
		tol := a.On(g.ID)
		row.Cells = append(row.Cells, Cell{string(tol), toleranceWord(tol), m.read(c.of("tolerance."+g.ID)).ID != ""})
	}
	return row
}

// cellsRead tells what publications say of how grasses bear it: a line for each
// exception of the file.
func (m maker) cellsRead(a *herbicide.Ingredient) []Statement {
	c := m.ingredientCites(a)
	var out []Statement
	var last turf.Cite
	for i, one := range c {
		if i == 0 || m.read(one).ID == "" || one.Pos == last.Pos || !strings.HasPrefix(one.Section, c[0].Section+".tolerance.") {
			continue
		}
		var grasses []string
		for _, other := range c[i:] {
			if grass, ok := strings.CutPrefix(other.Section, c[0].Section+".tolerance."); ok && other.Pos == one.Pos {
				grasses = append(grasses, grass)
			}
		}
		out = append(out, m.cited(message.New("pests.cell").With("ingredient", message.Texts(message.Comma, a.Names...)).
			With("grass", m.grasses(grasses)).Name("note", one.Note), one))
		last = one
	}
	return out
}

// seeding tells how long a use before emergence keeps seed down.
func (m maker) seeding(a *herbicide.Ingredient) []Statement {
	c, names := m.ingredientCites(a), message.Texts(message.Comma, a.Names...)
	if a.AtSeeding {
		return []Statement{m.cited(message.New("pests.seed.at_seeding").With("ingredient", names), c.of("at_seeding"))}
	}
	if a.BroadcastDays == 0 && a.SlitDays == 0 {
		return nil
	}
	return []Statement{m.cited(message.New("pests.seed.after").With("ingredient", names).
		With("broadcast", weeks(a.BroadcastDays)).With("slit", weeks(a.SlitDays)), c.of("seed_broadcast"))}
}

// weeks is a number of days in weeks where it is whole weeks.
func weeks(days int) message.Value {
	if days%7 != 0 {
		return message.DayCount(days)
	}
	return message.Of(message.New("pests.weeks").Count("n", days/7))
}

func (m maker) class(c *herbicide.Class) Class {
	from := table(m.ws.Pests.Herbicides.Cites, "class "+c.ID)
	out := Class{ID: c.ID, Title: c.Title, Group: hrac(c.HRAC), Note: plain(c.Note)}
	row := func(code, key string, v message.Value) {
		out.Rows = append(out.Rows, Row{say("pests.class." + code), m.cited(message.Just(v), from.of(key))})
	}
	warm := func(code, key string, x float64) {
		if !math.IsNaN(x) {
			row(code, key, temperature(x))
		}
	}
	span := func(code, key string, r pest.DayRange) {
		if v, ok := days(r); ok {
			row(code, key, v)
		}
	}
	if !math.IsNaN(c.UsefulFromC) && !math.IsNaN(c.UsefulToC) {
		row("useful", "useful_from", message.Of(message.New("pests.bound.between").With("from", temperature(c.UsefulFromC)).With("to", temperature(c.UsefulToC))))
	}
	warm("cold", "cold", c.ColdC)
	warm("night", "night_floor", c.NightFloorC)
	warm("heat", "heat", c.HeatC)
	for _, id := range slices.Sorted(maps.Keys(c.HeatOn)) {
		out.Rows = append(out.Rows, Row{
			message.Say(message.New("pests.class.heat_on").Name("grass", m.grass(id))),
			m.cited(message.Just(temperature(c.HeatOn[id])), from.cell("heat_on", id)),
		})
	}
	warm("soil", "soil", c.SoilC)
	if !math.IsNaN(c.RainfastH) {
		row("rainfast", "rainfast", hours(c.RainfastH))
	}
	span("symptoms", "symptoms_from", c.Symptoms)
	span("death", "death_from", c.Death)
	span("respray", "respray_from", c.Respray)
	if c.MostPerYear > 0 {
		row("year", "most_per_year", message.Count(c.MostPerYear))
	}
	if c.FailsInDrought {
		row("drought", "fails_in_drought", message.Word("pests.class.fails"))
	}
	return out
}
