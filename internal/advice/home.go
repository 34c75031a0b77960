package advice

import (
	"slices"

	"ligule/internal/homeuse"
	"ligule/internal/stage"
)

// choose sorts out which active ingredients a home owner here may be told of.
func (in *Input) choose(names []string) homeuse.Choice {
	ask := homeuse.Ask{Date: in.IssueDate, Grass: []string{in.Grass.ID, string(in.Grass.Kind)}}
	if in.State != "" {
		ask.States = []string{in.State}
	}
	var book *homeuse.Book
	if in.Pests != nil {
		book = in.Pests.Ingredients
	}
	return book.Choose(names, ask)
}

// offered joins what the treatments of a pest offer now.
func (in *Input) offered(p *Pest) homeuse.Choice {
	var names []string
	switch p.Kind {
	case Disease:
		for _, g := range p.Disease.Groups {
			names = append(names, g.Ingredients.Value...)
		}
	case Weed:
		c := in.herbicides(p)
		for _, h := range slices.Concat(c.usable, c.barred) {
			names = append(names, h.Name)
		}
	case Insect:
		for _, t := range treatmentsAt(p) {
			names = append(names, t.Ingredients...)
		}
	}
	return in.choose(names)
}

// treatmentsAt are those that the file of an insect has for its stage.
func treatmentsAt(p *Pest) []stage.InsectTreatment {
	at := p.stageID()
	var out []stage.InsectTreatment
	for _, t := range p.Insect.Treat {
		if slices.Contains(t.Stages, at) {
			out = append(out, t)
		}
	}
	return out
}

// classesOf are the classes of the ingredients that drafts which put something on
// the lawn offer.
func (in *Input) classesOf(drafts []Draft) []string {
	var out []string
	for _, d := range drafts {
		if d.Pest == nil || !usesAny(d, d.Pest.Kind.Treatment()) {
			continue
		}
		for _, a := range in.offered(d.Pest).Offered {
			out = append(out, a.Class)
		}
	}
	return out
}
