package publish

import (
	"fmt"
	"io/fs"
	"runtime"
	"slices"

	"golang.org/x/sync/errgroup"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	voiced "ligule/internal/edition"
	"ligule/internal/workspace"
)

// Render prints the site of a workspace: issues sorted by week, of which the
// last is the pressed week and the earlier ones make the archive. The
// templates are those of this program with the author's own laid over them.
// The same arguments give the same bytes.
//
// Render fails on issues out of order, on a zone that bears the name of a page
// of its own ([workspace.ReservedZone]), on a template or letter style that
// cannot be used, and on a time zone that the system does not know.
func Render(ws *workspace.Workspace, issues []*bulletin.Region, templates fs.FS) (*Site, error) {
	e, err := newEdition(ws, issues, templates)
	if err != nil {
		return nil, err
	}
	jobs := e.jobs()
	// Each job's files land in their own slot, so that the order in which
	// goroutines finish cannot be seen.
	done := make([][]File, len(jobs))
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, job := range jobs {
		group.Go(func() error {
			files, err := job.print(e)
			done[i] = files
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	files := slices.Concat(done...)
	assets, err := e.assets(templates)
	if err != nil {
		return nil, err
	}
	files = append(files, assets...)
	last, err := e.directory(jobs)
	if err != nil {
		return nil, err
	}
	return newSite(append(files, last...))
}

// edition is everything that one press prints from.
type edition struct {
	viewer
	printer *printer
	clock   clock
	regions []*regionView // one per issue, oldest first
	issues  []*bulletin.Region
	pressed *bulletin.Region
	now     *regionView       // the pressed week's
	dates   [][]calendarEvent // of each zone of the pressed week, for its calendar
}

func newEdition(ws *workspace.Workspace, issues []*bulletin.Region, templates fs.FS) (*edition, error) {
	if len(issues) == 0 {
		return nil, fmt.Errorf("publish: there is no issue to print")
	}
	for i, iss := range issues {
		if i > 0 && !issues[i-1].Week.Before(iss.Week) {
			return nil, fmt.Errorf("publish: issue %s does not come after %s", iss.Week, issues[i-1].Week)
		}
		for _, z := range iss.Zones {
			if workspace.ReservedZone(z.ID) {
				return nil, fmt.Errorf("publish: a zone cannot be called %q: that address is taken", z.ID)
			}
		}
	}
	e := &edition{viewer: viewer{words{ws.Voice()}, ws}, issues: issues, pressed: issues[len(issues)-1]}
	var err error
	if e.clock, err = newClock(ws.Site); err != nil {
		return nil, err
	}
	if e.printer, err = newPrinter(templates, e.words, e.siteView()); err != nil {
		return nil, err
	}
	for _, iss := range issues {
		voiced.Voice(iss, ws.Voice())
		r, err := e.region(iss)
		if err != nil {
			return nil, err
		}
		e.regions = append(e.regions, r)
	}
	e.now = e.regions[len(e.regions)-1]
	e.addCalendars()
	return e, nil
}

func (e *edition) siteView() siteView {
	s := e.ws.Site
	v := siteView{
		Title: s.Title, Publisher: s.Publisher, About: s.About, Language: s.Language, BaseURL: s.BaseURL,
		Contact: s.Contact, PostalAddress: s.PostalAddress, Demo: s.Demo,
	}
	v.Pests = e.hasPests()
	for _, p := range e.ws.Standing {
		v.Guides = v.Guides || p.Kind != aboutKind
		v.OwnPage = v.OwnPage || standingAddress(p.ID, p.Kind) == "/about/"
	}
	return v
}

// aboutKind is the kind of the standing articles about the publication itself.
const aboutKind = "about"

// job prints one page, or a few files that belong together.
type job struct {
	address string // of the page; "" if the job makes other files
	changed civil.Date
	listed  bool // in the sitemap
	print   func(e *edition) ([]File, error)
}

// page makes the job of a page.
func page(address, template string, h head, body any, changed civil.Date) job {
	return job{address, changed, !h.NoIndex, func(e *edition) ([]File, error) {
		h := h
		h.Canonical = e.ws.Site.BaseURL + address
		h.Feeds = e.feedLinks(h.Feeds)
		html, err := e.printer.page(template, h, body)
		if err != nil {
			return nil, err
		}
		return []File{{Path: filePath(address), Body: relative(html, address), Entry: address == "/"}}, nil
	}}
}

// feedLinks makes the feeds that a page names absolute; the region's is always
// among them, after the page's own.
func (e *edition) feedLinks(own []linkView) []linkView {
	out := make([]linkView, 0, len(own)+1)
	for _, f := range append(slices.Clone(own), linkView{e.ws.Site.Title, "/feed.xml"}) {
		out = append(out, linkView{f.Title, e.ws.Site.BaseURL + f.Address})
	}
	return out
}

// assets are copied as they are.
func (e *edition) assets(templates fs.FS) ([]File, error) {
	var files []File
	for _, name := range assets {
		body, err := fs.ReadFile(templates, name)
		if err != nil {
			return nil, fmt.Errorf("publish: %w", err)
		}
		files = append(files, File{Path: name, Body: body})
	}
	return files, nil
}

// directory makes what leads to the pages and what stands where there is none.
func (e *edition) directory(jobs []job) ([]File, error) {
	base := e.ws.Site.BaseURL
	var pages []listed
	for _, j := range jobs {
		if j.listed {
			pages = append(pages, listed{j.address, j.changed})
		}
	}
	sitemapXML, err := sitemap(base, pages)
	if err != nil {
		return nil, err
	}
	robots, err := e.printer.text("robots", "robots", base+"/sitemap.xml")
	if err != nil {
		return nil, err
	}
	missing, err := e.printer.page("missing", head{NoIndex: true, Feeds: e.feedLinks(nil)}, e.now)
	if err != nil {
		return nil, err
	}
	return []File{
		{Path: "sitemap.xml", Body: sitemapXML, Entry: true},
		{Path: "robots.txt", Body: []byte(robots)},
		{Path: "404.html", Body: rooted(missing, base)},
	}, nil
}
