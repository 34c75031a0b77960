package publish

import (
	"slices"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/reference"
)

// pestsPage is the directory of pests with the week of each zone.
type pestsPage struct {
	Week  weekView
	Zones []*zoneView
	Kinds []pestKindView
}

type pestKindView struct {
	Kind     string
	Title    *message.Said
	Rows     []pestRowView
	PageOnly []pestPage // told of, but not judged by the weather
}

type pestRowView struct {
	pestPage
	Cells []*pestCell // in the order of the zones; nil where no grass is a host
}

// pestPage is the page of a pest: what is told of it, and what it comes to in the
// week.
type pestPage struct {
	*reference.Pest
	Week     weekView
	Weeks    []pestWeekView     // of the zones that grow a host
	Short    []bulletin.Caution // beside the treatment
	Cautions []bulletin.Caution
}

// weedKillersPage is what grasses bear, and what weather lets weed killers do.
type weedKillersPage struct {
	*reference.WeedKillers
	Short, Cautions []bulletin.Caution
}

// pestCell is what a pest comes to on a grass.
type pestCell struct {
	Grass *grassView
	Pest  *bulletin.Pest
}

// pestWeekView is a zone with what a pest comes to on each of its grasses.
type pestWeekView struct {
	Zone    *zoneView
	Grasses []pestCell
}

// pestWeeks lists the zones of the week that grow a host of the pest.
func pestWeeks(r *regionView, id string) []pestWeekView {
	var out []pestWeekView
	for _, z := range r.Zones {
		row := pestWeekView{Zone: z}
		for _, g := range z.Grasses {
			if p := g.Pests.Find(id); p != nil {
				row.Grasses = append(row.Grasses, pestCell{g, p})
			}
		}
		if len(row.Grasses) > 0 {
			out = append(out, row)
		}
	}
	return out
}

// highest returns what the pest comes to where it is worst in the zone; nil
// where no grass of the zone is a host.
func highest(z *zoneView, id string) *pestCell {
	var best *pestCell
	for _, g := range z.Grasses {
		if p := g.Pests.Find(id); p != nil && (best == nil || p.Above(best.Pest)) {
			best = &pestCell{g, p}
		}
	}
	return best
}

// pestJobs print the pages of pests. They change with the week's grades.
func (e *press) pestJobs() []job {
	all := e.Reference.Pests
	if len(all) == 0 {
		return nil
	}
	var pages []pestPage
	for i := range all {
		pages = append(pages, e.pestPage(&all[i]))
	}
	crumbs := []crumb{{Kind: "pests", Address: "/pests/"}}
	issued := e.pressed.Date
	jobs := []job{page("/pests/", "pests", head{Section: "pests"}, e.pestDirectory(pages), issued)}
	for _, p := range pages {
		changed := issued
		if len(p.Weeks) == 0 {
			changed = civil.Date(0)
		}
		jobs = append(jobs, page("/pests/"+p.ID+"/", "pest", head{Section: "pests", Crumbs: crumbs}, p, changed))
	}
	if h := e.Reference.WeedKillers; h != nil {
		body := weedKillersPage{h, e.cautionsOf(false, nil, h.Use), e.cautionsOf(true, h.Kinds, h.Use)}
		jobs = append(jobs, page("/pests/weed-killers/", "weed-killers", head{Section: "pests", Crumbs: crumbs}, body, civil.Date(0)))
	}
	return jobs
}

func (e *press) pestPage(p *reference.Pest) pestPage {
	page := pestPage{Pest: p, Week: e.now.Week}
	if p.Unjudged == nil {
		page.Weeks = pestWeeks(e.now, p.ID)
	}
	if p.Treats() {
		page.Short, page.Cautions = e.cautionsOf(false, nil, p.Use), e.cautionsOf(true, p.Classes, p.Use)
	} else {
		page.Cautions = e.cautionsOf(true, nil)
	}
	return page
}

// cautionsOf collects, in the order of the list, the cautions of what is used and
// of classes of ingredients; all of them with those that stand on every page.
func (e *press) cautionsOf(all bool, classes []string, used ...string) []bulletin.Caution {
	return pick(e.pressed, func(c bulletin.Caution) bool {
		return all && c.Always || c.Class != "" && slices.Contains(classes, c.Class) || slices.ContainsFunc(c.Uses, func(u string) bool { return slices.Contains(used, u) })
	})
}

func (e *press) pestDirectory(pages []pestPage) pestsPage {
	p := pestsPage{Week: e.now.Week, Zones: e.now.Zones}
	for _, one := range pages {
		if n := len(p.Kinds); n == 0 || p.Kinds[n-1].Kind != one.Kind {
			p.Kinds = append(p.Kinds, pestKindView{Kind: one.Kind, Title: one.Plural})
		}
		kind := &p.Kinds[len(p.Kinds)-1]
		if one.Unjudged != nil {
			kind.PageOnly = append(kind.PageOnly, one)
			continue
		}
		row := pestRowView{pestPage: one}
		for _, z := range e.now.Zones {
			row.Cells = append(row.Cells, highest(z, one.ID))
		}
		kind.Rows = append(kind.Rows, row)
	}
	return p
}
