package publish

import (
	"ligule/internal/civil"
)

// pestsPage is the directory of pests with the week of each zone.
type pestsPage struct {
	Week  weekView
	Zones []linkView
	Kinds []pestKindView
}

type pestKindView struct {
	Kind, Title string
	Rows        []pestRowView
	PageOnly    []linkView // told of, but not judged by the weather
}

type pestRowView struct {
	linkView
	Cells []*pestWeekCell // in the order of the zones; nil where no grass is a host
}

// hasPests reports whether the workspace tells of any pest.
func (e *edition) hasPests() bool { return e.ws.Pests != nil && len(e.ws.Pests.IDs()) > 0 }

// pestJobs print the pages of pests. They change with the week's grades.
func (e *edition) pestJobs() []job {
	if !e.hasPests() {
		return nil
	}
	pages := e.pestPages()
	crumbs := []crumb{{Kind: "pests", Address: "/pests/"}}
	issued := e.pressed.Date
	jobs := []job{page("/pests/", "pests", head{Section: "pests"}, e.pestDirectory(pages), issued)}
	for _, p := range pages {
		changed := issued
		if len(p.Weeks) == 0 {
			changed = civil.Date(0)
		}
		jobs = append(jobs, page(p.Address, "pest", head{Section: "pests", Crumbs: crumbs}, p, changed))
	}
	if len(e.ws.Pests.Herbicides.Ingredients) > 0 {
		jobs = append(jobs, page(weedKillersAddress, "weed-killers", head{Section: "pests", Crumbs: crumbs}, e.weedKillers(), civil.Date(0)))
	}
	return jobs
}

// pestPages makes the pages in the order of the book: diseases, weeds, insects.
func (e *edition) pestPages() []pestPage {
	var out []pestPage
	for _, d := range e.ws.Pests.Diseases {
		out = append(out, e.diseasePage(d))
	}
	for _, w := range e.ws.Pests.Weeds {
		out = append(out, e.weedPage(w))
	}
	for _, i := range e.ws.Pests.Insects {
		out = append(out, e.insectPage(i))
	}
	for i := range out {
		out[i].Week = e.now.Week
		if out[i].Unjudged == "" {
			out[i].Weeks = pestWeeks(e.now, out[i].ID)
		}
	}
	return out
}

func (e *edition) pestDirectory(pages []pestPage) pestsPage {
	p := pestsPage{Week: e.now.Week}
	for _, z := range e.now.Zones {
		p.Zones = append(p.Zones, linkView{z.Name, z.Current})
	}
	for _, kind := range []string{"disease", "weed", "insect"} {
		kv := pestKindView{Kind: kind, Title: e.must("pests.kinds", kind)}
		for _, one := range pages {
			switch {
			case one.Kind != kind:
			case one.Unjudged != "":
				kv.PageOnly = append(kv.PageOnly, linkView{one.Name, one.Address})
			default:
				row := pestRowView{linkView: linkView{one.Name, one.Address}}
				for _, z := range e.now.Zones {
					row.Cells = append(row.Cells, highest(z, one.ID))
				}
				kv.Rows = append(kv.Rows, row)
			}
		}
		if len(kv.Rows)+len(kv.PageOnly) > 0 {
			p.Kinds = append(p.Kinds, kv)
		}
	}
	return p
}
