package reference

import (
	"maps"
	"slices"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/herbicide"
	"ligule/internal/homeuse"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// WeedKillers is what grasses bear, and what weather lets weed killers do.
type WeedKillers struct {
	Use     string        `json:"use"` // "herbicide"
	Heat    []Statement   `json:"heat"`
	Grasses []string      `json:"grasses"` // names with soft hyphens
	Groups  []MatrixGroup `json:"groups"`
	Classes []Class       `json:"classes"`
	Seeding []Statement   `json:"seeding,omitempty"`
	Read    []Statement   `json:"read,omitempty"`   // what a publication says of single cells
	Home    []Statement   `json:"home,omitempty"`   // whose job the rest is, and what limits what is named
	Limits  []Statement   `json:"limits,omitempty"` // the most that may be put on a home lawn at a time
	Kinds   []string      `json:"kinds,omitempty"`  // classes of ingredients, whose cautions stand
	Cites   []Cite        `json:"cites"`
}

// MatrixGroup are the rows of one use.
type MatrixGroup struct {
	Title *message.Said `json:"title"`
	Rows  []MatrixRow   `json:"rows"`
}

// MatrixRow is an ingredient, or several that grasses bear alike.
type MatrixRow struct {
	Names    *message.Said `json:"names"`
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

// WeedKillersOf makes the page of weed killers that home owners may use, as of a
// date; nil where none are on file.
func WeedKillersOf(ws *workspace.Workspace, as civil.Date) *WeedKillers {
	if ws.Pests == nil || len(ws.Pests.Herbicides.Ingredients) == 0 {
		return nil
	}
	m, h := &maker{ws: ws, as: as}, ws.Pests.Herbicides
	out := &WeedKillers{Use: advice.Herbicide}
	out.Heat = append(out.Heat, m.cited(message.New("pests.heat.all").With("value", usual(h.Heat)), h.Heat.Cite))
	for _, id := range slices.Sorted(maps.Keys(h.HeatOn)) {
		limit := h.HeatOn[id]
		out.Heat = append(out.Heat, m.cited(message.New("pests.heat.on").Name("grass", m.grass(id)).With("value", usual(limit)), limit.Cite))
	}
	for _, g := range ws.Grasses {
		out.Grasses = append(out.Grasses, g.Soft)
	}
	if i := slices.IndexFunc(h.Classes, func(c herbicide.Class) bool { return c.Judging.Value != herbicide.Waits{} }); i >= 0 {
		out.Heat = append(out.Heat, m.cited(message.New("herbicide.shade"), h.Classes[i].Judging.Cite))
	}
	groups := []MatrixGroup{{Title: say("pests.use.before")}, {Title: say("pests.use.after")}}
	hidden, classes := []string{}, []string{}
	for i := range h.Ingredients {
		a := &h.Ingredients[i]
		offered := m.choose(a.Names).Offered
		if len(offered) == 0 {
			hidden = append(hidden, "ingredient "+a.Names[0])
			continue
		}
		classes = append(classes, a.Class)
		for k, fits := range []bool{a.Pre, a.Post} {
			if fits {
				groups[k].Rows = append(groups[k].Rows, m.matrixRow(a, offered))
			}
		}
		out.Read = append(out.Read, m.cellsRead(a, offered)...)
		out.Seeding = append(out.Seeding, m.seeding(a, offered)...)
		out.Limits = append(out.Limits, m.limits(offered)...)
	}
	for i := range h.Classes {
		c := &h.Classes[i]
		if !slices.Contains(classes, c.ID) {
			hidden = append(hidden, "class "+c.ID)
			continue
		}
		out.Classes = append(out.Classes, m.class(c))
	}
	var cites []Cite
	out.Groups = groups
	out.Home, out.Kinds, cites = m.home()
	out.Cites = append(m.cites(slices.DeleteFunc(slices.Clone(h.Cites), func(c turf.Cite) bool {
		of, _, _ := strings.Cut(c.Section, ".")
		return slices.Contains(hidden, of)
	})), cites...)
	return out
}

// limits tell the most that may be put on a home lawn at a time.
func (m *maker) limits(offered []homeuse.Answer) []Statement {
	var out []Statement
	for _, i := range m.ws.Pests.Ingredients.Ingredients {
		for _, l := range i.Limits {
			if (homeuse.Choice{Offered: offered}).Has(i.Name) {
				out = append(out, m.cited(message.New("home.limit").Name("name", i.Name).Name("form", l.Form).
					With("pounds", message.Number(l.Most.Of.To(l.Most.Value, "lb/acre"), 1)), l.Most.Cite))
			}
		}
	}
	return out
}

func (m *maker) matrixRow(a *herbicide.Ingredient, offered []homeuse.Answer) MatrixRow {
	row := MatrixRow{Names: value(homeuse.Names(offered)), Group: hrac(a.HRAC), Controls: a.Controls, Note: plain(a.Note), Class: a.Class}
	for _, g := range m.ws.Grasses {
		borne := m.borne(offered[0].Name, a, g)
		row.Cells = append(row.Cells, Cell{string(borne.Value), toleranceWord(borne.Value), m.read(borne.Cite).ID != ""})
	}
	return row
}

// cellsRead tells what publications say of how grasses bear it: a line for each
// exception of the file.
func (m *maker) cellsRead(a *herbicide.Ingredient, offered []homeuse.Answer) []Statement {
	var out []Statement
	for _, alike := range a.Exceptions {
		c := a.Borne(alike[0]).Cite
		if m.read(c).ID != "" {
			out = append(out, m.cited(message.New("pests.cell").With("ingredient", names(offered)).
				With("grass", m.grasses(alike)).Name("note", c.Note), c))
		}
	}
	return out
}

// seeding tells how long a use before emergence keeps seed down.
func (m *maker) seeding(a *herbicide.Ingredient, offered []homeuse.Answer) []Statement {
	names := names(offered)
	switch {
	case a.AtSeeding.Value:
		return []Statement{m.cited(message.New("pests.seed.at_seeding").With("ingredient", names), a.AtSeeding.Cite)}
	case a.Broadcast.Value == 0 && a.Slit.Value == 0:
		return nil
	}
	return []Statement{m.cited(message.New("pests.seed.after").With("ingredient", names).
		With("broadcast", weeks(a.Broadcast.Value)).With("slit", weeks(a.Slit.Value)), a.Broadcast.Cite)}
}

// names are those of ingredients, by themselves.
func names(offered []homeuse.Answer) message.Value {
	var out []string
	for _, a := range offered {
		out = append(out, a.Name)
	}
	return message.Texts(message.Comma, out...)
}

// weeks is a number of days in weeks where it is whole weeks.
func weeks(days int) message.Value {
	if days%7 != 0 {
		return message.DayCount(days)
	}
	return message.Of(message.New("pests.weeks").Count("n", days/7))
}

func (m maker) class(c *herbicide.Class) Class {
	out := Class{ID: c.ID, Title: c.Title, Group: hrac(c.HRAC), Note: plain(c.Note)}
	row := func(name message.Message, v message.Value, from turf.Cite) {
		out.Rows = append(out.Rows, Row{message.Say(name), m.cited(message.Just(v), from)})
	}
	warm := func(name message.Message, f pest.Figure) {
		if f.Known() {
			row(name, usual(f), f.Cite)
		}
	}
	span := func(name message.Message, r pest.Cited[pest.DayRange]) {
		if v, ok := days(r.Value); ok {
			row(name, v, r.Cite)
		}
	}
	if c.UsefulFrom.Known() && c.UsefulTo.Known() {
		row(message.New("pests.class.useful"), message.Of(message.New("pests.bound.between").With("from", usual(c.UsefulFrom)).With("to", usual(c.UsefulTo))), c.UsefulFrom.Cite)
	}
	warm(message.New("pests.class.cold"), c.Cold)
	warm(message.New("pests.class.night"), c.NightFloor)
	warm(message.New("pests.class.heat"), c.Heat)
	for _, id := range slices.Sorted(maps.Keys(c.HeatOn)) {
		warm(message.New("pests.class.heat_on").Name("grass", m.grass(id)), c.HeatOn[id])
	}
	warm(message.New("pests.class.soil"), c.Soil)
	if c.Rainfast.Known() {
		row(message.New("pests.class.rainfast"), hours(c.Rainfast), c.Rainfast.Cite)
	}
	span(message.New("pests.class.symptoms"), c.Symptoms)
	span(message.New("pests.class.death"), c.Death)
	span(message.New("pests.class.respray"), c.Respray)
	if w := c.Judging.Value; w.Mild > 0 {
		row(message.New("pests.class.judge"), message.Of(message.New("pests.class.judge_days").DayCount("mild", w.Mild).DayCount("cool", w.Cool).DayCount("cold", w.Cold).
			Both("mild_from", w.MildC, quantity.Temperature, 0, 0).Both("cool_from", w.CoolC, quantity.Temperature, 0, 0)), c.Judging.Cite)
	}
	if n := c.MostPerYear; n.Value > 0 {
		row(message.New("pests.class.year"), message.Count(n.Value), n.Cite)
	}
	if c.FailsInDrought.Value {
		row(message.New("pests.class.drought"), message.Word("pests.class.fails"), c.FailsInDrought.Cite)
	}
	return out
}
