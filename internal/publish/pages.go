package publish

import (
	"html/template"
	"slices"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/reference"
	"ligule/internal/workspace"
)

// What each page's template gets, besides views.

type regionPage struct {
	*regionView
	Permanent bool      // in the archive: links stay within the issue
	Previous  *linkView // the issue before; there is none to the one after, which would change a page once printed
}

type zonePage struct {
	*zoneView
	Permanent bool
	Previous  *linkView
}

// grassPage is the page of a grass, or of the working behind it, which has neither
// others nor a ribbon.
type grassPage struct {
	Zone     *zoneView
	Grass    *grassView
	Others   []linkView
	Cautions []bulletin.Caution
	Ribbon   *ribbonView // nil without weather
}

type yearView struct {
	Year   int
	Issues []archivedView
}

type archivedView struct {
	Week  weekView
	Note  string // title of the region's note
	Zones []linkView
}

type rulesPage struct {
	Week          weekView
	Zones         []*zoneView
	Jurisdictions []bulletin.Jurisdiction
	Cautions      []bulletin.Caution
}

type articlePage struct {
	Title, Summary, Address string
	HTML                    template.HTML
	Spots                   *reference.SpotTable // nil where the article has none
}

// jobs lists everything to print.
func (e *press) jobs() []job {
	now, issued := e.now, e.pressed.Date
	home := crumb{Kind: "week", Address: "/"}
	jobs := []job{page("/", "home", head{Section: "week"}, regionPage{regionView: now}, issued)}
	for i, z := range now.Zones {
		feed := []linkView{{z.Name, z.Feed}}
		jobs = append(jobs, page(z.Current, "zone", head{Section: "week", Feeds: feed}, zonePage{zoneView: z}, issued))
		for j, g := range z.Grasses {
			crumbs := []crumb{home, {Title: z.Name, Address: z.Current}}
			jobs = append(jobs,
				page(g.Address, "grass", head{Section: "week", Feeds: feed, Crumbs: crumbs}, e.grassPage(i, j), issued),
				page(g.Working, "working", head{Section: "week", Feeds: feed, Crumbs: append(crumbs, crumb{Title: g.Name, Address: g.Address})},
					grassPage{Zone: z, Grass: g, Cautions: e.grassCautions(g)}, issued))
		}
	}
	jobs = append(jobs, e.yearJobs()...)
	jobs = append(jobs, e.issueJobs()...)
	jobs = append(jobs, e.ruleJobs()...)
	jobs = append(jobs, e.standingJobs()...)
	jobs = append(jobs, e.methodJobs()...)
	jobs = append(jobs, e.pestJobs()...)
	jobs = append(jobs, page("/subscribe/", "subscribe", head{Section: "subscribe"}, now, civil.Date(0)))
	jobs = append(jobs, e.calendarJobs()...)
	jobs = append(jobs, e.lawFeedJob())
	return append(jobs, e.feedJobs()...)
}

func (e *press) grassPage(i, j int) grassPage {
	z, issued := e.now.Zones[i], e.pressed.Zones[i]
	p := grassPage{Zone: z, Grass: z.Grasses[j], Cautions: e.grassCautions(z.Grasses[j]), Ribbon: e.ribbon(issued, issued.Grasses[j], e.pressed.Date, true)}
	for k, other := range z.Grasses {
		if k != j {
			p.Others = append(p.Others, linkView{other.Name, other.Address})
		}
	}
	return p
}

// grassCautions are those of the answers and of what the pests' rows speak of,
// in the order of the list.
func (e *press) grassCautions(g *grassView) []bulletin.Caution {
	shown := cautionsOn(e.pressed, []*grassView{g})
	if g.Pests == nil {
		return shown
	}
	return pick(e.pressed, func(c bulletin.Caution) bool { return holds(shown, c) || holds(g.Pests.Cautions, c) })
}

// issueJobs make the archive: every issue at its permanent address.
func (e *press) issueJobs() []job {
	var jobs []job
	var archive []yearView
	issues := crumb{Kind: "issues", Address: "/issues/"}
	for i, r := range e.regions {
		var previous *linkView
		if i > 0 {
			before := e.regions[i-1].Week
			previous = &linkView{before.ID, before.Address}
		}
		section := head{Section: "issues", Crumbs: []crumb{issues}}
		jobs = append(jobs,
			page(r.Week.Address, "issue", section, regionPage{r, true, previous}, r.Week.Issued),
			e.letterJob("letter-region", letterData{Week: r.Week, Address: r.Week.Address, Region: r, Cautions: regionCautions(r)}))
		listing := archivedView{Week: r.Week}
		if r.Note != nil {
			listing.Note = r.Note.Title
		}
		for _, z := range r.Zones {
			crumbs := []crumb{issues, {Kind: "issue", Title: r.Week.ID, Address: r.Week.Address}}
			zp := zonePage{z, true, e.previous(i, z.ID)}
			jobs = append(jobs,
				page(z.Address, "issue-zone", head{Section: "issues", Crumbs: crumbs, Feeds: []linkView{{z.Name, z.Feed}}}, zp, r.Week.Issued),
				e.letterJob("letter-zone", letterData{Name: z.Name, Week: r.Week, Address: z.Address, Zone: z}))
			listing.Zones = append(listing.Zones, linkView{z.Name, z.Address})
		}
		if n := len(archive); n == 0 || archive[n-1].Year != r.Week.Year {
			archive = append(archive, yearView{Year: r.Week.Year})
		}
		y := &archive[len(archive)-1]
		y.Issues = append(y.Issues, listing)
	}
	slices.Reverse(archive)
	for _, y := range archive {
		slices.Reverse(y.Issues)
	}
	return append(jobs, page("/issues/", "issues", head{Section: "issues"}, archive, e.pressed.Date))
}

// previous is the zone's page in the newest issue before that has it.
func (e *press) previous(i int, zone string) *linkView {
	for _, r := range slices.Backward(e.regions[:i]) {
		for _, z := range r.Zones {
			if z.ID == zone {
				return &linkView{r.Week.ID, z.Address}
			}
		}
	}
	return nil
}

// regionCautions are those of what a region's letter or feed item prints: the
// first thing to do in each zone.
func regionCautions(r *regionView) []bulletin.Caution {
	var shown []*grassView
	for _, z := range r.Zones {
		if z.Top != nil {
			shown = append(shown, &grassView{Grass: &bulletin.Grass{Answers: []*bulletin.Answer{z.Top.Answer}}})
		}
	}
	return cautionsOn(r.Region, shown)
}

// Kinds are the cautions of classes of active ingredients that go with the first
// things to do.
func (r *regionView) Kinds() []bulletin.Caution {
	return slices.DeleteFunc(regionCautions(r), func(c bulletin.Caution) bool { return c.Class == "" })
}

// letterJob makes the page of a newsletter and its text edition.
func (e *press) letterJob(kind string, d letterData) job {
	address := d.Address + "newsletter/"
	return job{address: address, print: func(e *press) ([]File, error) {
		letter, err := e.printer.letter(kind, d)
		if err != nil {
			return nil, err
		}
		h := head{
			Section: "issues", NoIndex: true, Letter: true, Canonical: e.Site.BaseURL + address, Feeds: e.feedLinks(nil),
			Crumbs: []crumb{{Kind: "issues", Address: "/issues/"}, {Kind: "issue", Title: d.Week.ID, Address: d.Week.Address}},
		}
		if d.Name != "" {
			h.Crumbs = append(h.Crumbs, crumb{Title: d.Name, Address: d.Address})
		}
		html, err := e.printer.page("letter", h, letter)
		if err != nil {
			return nil, err
		}
		return []File{
			{Path: filePath(address), Body: relative(html, address)},
			{Path: filePath(letter.TextAddress), Body: []byte(letter.Text)},
		}, nil
	}}
}

// standingJobs print the standing articles. A link of an article to a part of
// itself works on its page.
func (e *press) standingJobs() []job {
	var jobs []job
	var guides []articlePage
	for _, p := range e.Articles {
		address := standingAddress(p.ID, p.Kind)
		section, crumbs := "guides", []crumb{{Kind: "guides", Address: "/guides/"}}
		switch {
		case p.Kind != aboutKind:
			guides = append(guides, articlePage{Title: p.Title, Summary: p.Summary, Address: address})
		case address == "/about/":
			section, crumbs = "about", nil
		default:
			section, crumbs = "about", []crumb{{Kind: "about", Address: "/about/"}}
		}
		jobs = append(jobs, articleJob(p, address, head{Section: section, Crumbs: crumbs}))
	}
	if len(guides) > 0 {
		jobs = append(jobs, page("/guides/", "guides", head{Section: "guides"}, guides, civil.Date(0)))
	}
	return jobs
}

func articleJob(p *workspace.Page, address string, h head) job {
	return job{address, civil.Date(0), true, func(e *press) ([]File, error) {
		html, err := prose{above: 1, ids: "part-"}.fit(p.HTML)
		if err != nil {
			return nil, err
		}
		body := articlePage{Title: p.Title, Summary: p.Summary, Address: address, HTML: html}
		if p.Spots {
			body.Spots = e.Reference.Spots
		}
		return page(address, "article", h, body, civil.Date(0)).print(e)
	}}
}

func (e *press) methodJobs() []job {
	crumbs := []crumb{{Kind: "methods", Address: "/methods/"}}
	return []job{
		page("/methods/", "methods", head{Section: "methods"}, nil, civil.Date(0)),
		page("/methods/indicators/", "indicators", head{Section: "methods", Crumbs: crumbs}, e.Reference.Indicators, civil.Date(0)),
		page("/methods/sources/", "sources", head{Section: "methods", Crumbs: crumbs}, e.Reference.Publications, civil.Date(0)),
	}
}

// feedJobs make the feed of the region and that of each zone of the pressed
// week.
func (e *press) feedJobs() []job {
	var whole []entry
	zones := map[string][]entry{}
	for _, r := range slices.Backward(e.regions) {
		whole = append(whole, e.advisory("region", "region", "region",
			letterData{Name: e.Site.Title, Week: r.Week, Address: r.Week.Address, Shut: len(r.Shut()) > 0, Part: r.Part(), Region: r, Cautions: regionCautions(r)}))
		for _, z := range r.Zones {
			zones[z.ID] = append(zones[z.ID], e.advisory("zone", z.ID, "region/"+z.ID,
				letterData{Name: z.Name, Week: r.Week, Address: z.Address, Shut: z.Law.Shut, Part: z.Law.Part, Zone: z}))
		}
	}
	jobs := []job{feedJob("", "/", "/feed.xml", whole)}
	for _, z := range e.now.Zones {
		jobs = append(jobs, feedJob(z.Name, z.Current, z.Feed, zones[z.ID]))
	}
	return jobs
}

func feedJob(name, address, self string, entries []entry) job {
	return fileJob(self, func(e *press) ([]byte, error) {
		return e.printer.feed("channel", name, address, self, feedItems, entries)
	})
}

// advisory is an issue as an item of a feed: kind, "zone" or "region", names its
// templates, of whom it tells.
func (e *press) advisory(kind, of, category string, d letterData) entry {
	d.Site = e.printer.site
	return entry{
		id: tagURI(e.Site, "advisory/"+of, d.Week.ID), address: d.Address, content: "feed-" + kind, data: d, issued: e.issuedAt(d.Week),
		category: rssCategory{e.Site.BaseURL + "/zones/", category},
		says: func(p *printer) (title, summary string, err error) {
			if title, err = p.line("feed", "item-title", d); err == nil {
				summary, err = p.line("feed", "item-"+kind, d)
			}
			return title, summary, err
		},
	}
}
