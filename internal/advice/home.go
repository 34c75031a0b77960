package advice

import (
	"slices"

	"ligule/internal/homeuse"
	"ligule/internal/law"
	"ligule/internal/stage"
)

// choose sorts out which active ingredients a home owner here may be told of.
func (in *Input) choose(names []string) homeuse.Choice {
	ask := homeuse.Ask{Date: in.IssueDate, Grass: []string{in.Grass.ID, string(in.Grass.Kind)}}
	if in.State != "" {
		ask.States = []string{in.State}
	}
	ask.Local = in.Law.barred()
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

// barred lists what local law bars of pesticides in the week, for each law once with
// its places.
func (z ZoneLaw) barred() []homeuse.Local {
	type local struct {
		homeuse.Local
		whole int // places that are under it all week
	}
	var all []local
	for _, p := range z.Places {
		for _, x := range p.Barred {
			var by []law.Hit
			for _, day := range x.Home.Days {
				by = append(by, day.Closed()...)
			}
			if len(by) == 0 || by[0].Record == nil {
				continue
			}
			l := homeuse.Local{Kind: x.Use, Class: x.Class, Code: homeuse.Barred, Law: by[0].Record.Title, Rule: law.Pinpoint(by[0].Record, by[0].Rule)}
			if x.Hire.State != "closed_all" {
				l.Code = homeuse.Professional
			}
			o := Gather(&all, local{Local: l}, func(a, b local) bool {
				return a.Kind == b.Kind && a.Class == b.Class && a.Law == b.Law && a.Rule == b.Rule && a.Code == b.Code
			})
			o.In = append(o.In, p.Place.Name)
			if x.Home.State == "closed_all" {
				o.whole++
			}
		}
	}
	var out []homeuse.Local
	for _, l := range all {
		if l.whole == len(z.Places) {
			l.In = nil
		}
		out = append(out, l.Local)
	}
	return out
}
