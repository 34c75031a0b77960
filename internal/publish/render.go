package publish

import (
	"fmt"
	"io/fs"
	"runtime"
	"slices"
	"time"

	"golang.org/x/sync/errgroup"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/edition"
	"ligule/internal/reference"
	"ligule/internal/voice"
	"ligule/internal/workspace"
)

// Publication is what a site is printed from. Everything in it is voiced.
type Publication struct {
	Site      workspace.Site
	Articles  []*workspace.Page    // standing ones
	Weeks     []*edition.Edition   // sorted; the last is the pressed week, the earlier ones make the archive
	Reference *reference.Reference // as of the pressed week
	Voice     voice.Voice          // of the dates that pages themselves print
}

// Render prints the site. The templates are those of this program with the
// author's own laid over them. The same arguments give the same bytes.
//
// Render fails on weeks out of order, on a zone that bears the name of a page
// of its own ([workspace.ReservedZone]), on a template or letter style that
// cannot be used, and on a time zone that the system does not know.
func Render(pub *Publication, templates fs.FS) (*Site, error) {
	e, err := newPress(pub, templates)
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

// press is everything that one press prints from.
type press struct {
	*Publication
	printer  *printer
	issuedAt func(w weekView) time.Time // the instant at which an issue came out
	regions  []*regionView              // one per issue, oldest first
	issues   []*bulletin.Region
	pressed  *bulletin.Region
	now      *regionView       // the pressed week's
	dates    [][]calendarEvent // of each zone of the pressed week, for its calendar
}

func newPress(pub *Publication, templates fs.FS) (*press, error) {
	if len(pub.Weeks) == 0 {
		return nil, fmt.Errorf("publish: there is no issue to print")
	}
	e := &press{Publication: pub}
	var err error
	if e.issuedAt, err = newClock(pub.Site); err != nil {
		return nil, err
	}
	if e.printer, err = newPrinter(templates, pub.Voice, pub.siteView()); err != nil {
		return nil, err
	}
	for _, w := range pub.Weeks {
		iss := w.Region
		if e.pressed != nil && !e.pressed.Week.Before(iss.Week) {
			return nil, fmt.Errorf("publish: issue %s does not come after %s", iss.Week, e.pressed.Week)
		}
		for _, z := range iss.Zones {
			if workspace.ReservedZone(z.ID) {
				return nil, fmt.Errorf("publish: a zone cannot be called %q: that address is taken", z.ID)
			}
		}
		r, err := newRegionView(iss)
		if err != nil {
			return nil, err
		}
		e.issues, e.regions, e.pressed = append(e.issues, iss), append(e.regions, r), iss
	}
	e.now = e.regions[len(e.regions)-1]
	e.addCalendars()
	return e, nil
}

func (p *Publication) siteView() siteView {
	v := siteView{Site: p.Site, Pests: p.Reference != nil && len(p.Reference.Pests) > 0}
	for _, p := range p.Articles {
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
	print   func(e *press) ([]File, error)
}

// page makes the job of a page.
func page(address, template string, h head, body any, changed civil.Date) job {
	return job{address, changed, !h.NoIndex, func(e *press) ([]File, error) {
		h := h
		h.Canonical = e.Site.BaseURL + address
		h.Feeds = e.feedLinks(h.Feeds)
		html, err := e.printer.page(template, h, body)
		if err != nil {
			return nil, err
		}
		return []File{{Path: filePath(address), Body: relative(html, address), Entry: address == "/"}}, nil
	}}
}

// fileJob makes the job of a file that is no page and leads to some.
func fileJob(address string, print func(e *press) ([]byte, error)) job {
	return job{print: func(e *press) ([]File, error) {
		body, err := print(e)
		if err != nil {
			return nil, err
		}
		return []File{{Path: filePath(address), Body: body, Entry: true}}, nil
	}}
}

// feedLinks makes the feeds that a page names absolute; the region's is always
// among them, after the page's own.
func (e *press) feedLinks(own []linkView) []linkView {
	out := make([]linkView, 0, len(own)+1)
	for _, f := range append(slices.Clone(own), linkView{e.Site.Title, "/feed.xml"}) {
		out = append(out, linkView{f.Title, e.Site.BaseURL + f.Address})
	}
	return out
}

// assets are copied as they are.
func (e *press) assets(templates fs.FS) ([]File, error) {
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
func (e *press) directory(jobs []job) ([]File, error) {
	base := e.Site.BaseURL
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
