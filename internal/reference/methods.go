package reference

import (
	"slices"

	"ligule/internal/advice"
	"ligule/internal/message"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// Indicator is one thing that rules may ask about.
type Indicator struct {
	Name, Title, Meaning, Method string
	Unit, Words                  *message.Said // nil where it has none
	Source                       Source
}

// Indicators lists them in the order of the catalogue.
func Indicators(ws *workspace.Workspace) []Indicator {
	if ws.Catalogue == nil {
		return nil
	}
	var out []Indicator
	for _, ind := range ws.Catalogue.All() {
		shown := Indicator{Name: ind.Name, Title: ind.Title, Meaning: ind.Meaning, Method: ind.Method, Source: SourceOf(ws, ind.Source, ind.Standing)}
		switch ind.Kind {
		case advice.Quantity:
			shown.Unit = value(message.Unit(ind.Dim))
		case advice.Word:
			shown.Words = value(message.Each(message.Comma, ind.Words, func(w string) message.Value { return message.Word(ind.Name + "." + underscored(w)) }))
		}
		out = append(out, shown)
	}
	return out
}

// Publication is an entry of the bibliography with what it is used for.
type Publication struct {
	ID, Authors, Title, Where, URL, Year, Note string
	Uses                                       []*message.Said
}

// Bibliography lists the publications with what each is used for.
func Bibliography(ws *workspace.Workspace) []Publication {
	var out []Publication
	for _, s := range ws.Sources {
		out = append(out, Publication{s.ID, s.Authors, s.Title, s.Where, s.URL, s.Year, s.Note, uses(ws, s.ID)})
	}
	return out
}

// uses lists what a source is used for: figures of grasses, indicators, pests,
// rules.
func uses(ws *workspace.Workspace, source string) []*message.Said {
	var all []message.Message
	use := func(m message.Message) {
		if !message.Contains(all, m) {
			all = append(all, m)
		}
	}
	for _, g := range ws.Grasses {
		var sections []string
		for _, c := range g.Cites {
			if c.Source == source && !slices.Contains(sections, c.Section) {
				sections = append(sections, c.Section)
			}
		}
		if len(sections) > 0 {
			use(message.New("source.grass").Name("grass", g.Name).With("sections", message.Texts(message.Comma, sections...)))
		}
	}
	if ws.Catalogue != nil {
		for _, ind := range ws.Catalogue.All() {
			if ind.Source == source {
				use(message.Plain(ind.Title))
			}
		}
	}
	pestUses(ws, source, use)
	for _, r := range ws.Rules {
		if r.Source == source {
			use(message.New("source.rule").Name("rule", r.ID))
		}
	}
	return message.SayAll(all)
}

// pestUses names the pests whose files cite a source.
func pestUses(ws *workspace.Workspace, source string, use func(message.Message)) {
	if ws.Pests == nil {
		return
	}
	useIn := func(cites []turf.Cite, m message.Message) {
		if slices.ContainsFunc(cites, func(c turf.Cite) bool { return c.Source == source }) {
			use(m)
		}
	}
	for _, d := range ws.Pests.Diseases {
		useIn(d.Cites, message.Plain(d.Name))
	}
	for _, w := range ws.Pests.Weeds {
		useIn(w.Cites, message.Plain(w.Name))
	}
	for _, i := range ws.Pests.Insects {
		useIn(i.Cites, message.Plain(i.Name))
	}
	useIn(ws.Pests.Herbicides.Cites, message.New("pests.weed_killers"))
}
