package publish

import (
	"html/template"
	"slices"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
)

// The views are what templates print: texts and addresses, nothing to compute.
// Addresses start at the site's root (see links.go).

// weekView is the week of an issue.
type weekView struct {
	ID      string // "2026-W48"
	Year    int
	Num     int
	Days    string // "November 23 to 29, 2026"
	Issued  civil.Date
	Monday  civil.Date
	Sunday  civil.Date
	Address string // "/issues/2026-W48/"
}

func newWeekView(r *bulletin.Region) weekView {
	w := r.Week
	return weekView{
		ID: w.String(), Year: w.Year, Num: w.Num, Days: r.Days.String(), Issued: r.Date,
		Monday: w.Monday(), Sunday: w.Sunday(), Address: "/issues/" + w.String() + "/",
	}
}

// regionView is one week of the whole region.
type regionView struct {
	*bulletin.Region
	Week  weekView
	Note  *noteView
	Zones []*zoneView
}

// zoneView is one week of one zone.
type zoneView struct {
	*bulletin.Zone
	Week         weekView
	Address      string // of this zone in this week's issue, permanent
	Current      string // of the zone this week
	Year         string // of the zone's year
	Feed         string
	Calendar     string       // of closed seasons, to download; "" if there is none to show
	Subscription template.URL // the same, for a calendar program to follow
	Note         *noteView
	RegionNote   string // address of the region's note, if the zone has one of its own beside it
	Weather      *weatherView
	Withheld     bool // not enough weather for any grass: said first, advice withheld
	Grasses      []*grassView
	Top          *topView
	Topics       []topicView        // the answers across grasses, in a word each
	Cautions     []bulletin.Caution // that concern this page
}

// topView is the one thing to do.
type topView struct {
	Grass  string
	Answer *bulletin.Answer
}

// topicView is a row of the overview: one topic, a word for each grass.
type topicView struct {
	bulletin.Topic
	Cells []*bulletin.Answer // in the order of the grasses; nil where nothing is said
}

// noteView is the author's own prose.
type noteView struct {
	ID    string // of the section
	Title string
	HTML  template.HTML // on a page
	Mail  template.HTML // in mail and feeds
	Text  string        // in the text edition
}

// linkView is a link.
type linkView struct{ Title, Address string }

func newRegionView(iss *bulletin.Region) (*regionView, error) {
	r := &regionView{Region: iss, Week: newWeekView(iss)}
	var err error
	if r.Note, err = newNoteView(iss.Note, "note"); err != nil {
		return nil, err
	}
	for _, z := range iss.Zones {
		zv, err := newZoneView(iss, z, r)
		if err != nil {
			return nil, err
		}
		r.Zones = append(r.Zones, zv)
	}
	return r, nil
}

func newNoteView(p *bulletin.Note, id string) (*noteView, error) {
	if p == nil {
		return nil, nil
	}
	page, err := prose{above: 2, ids: id + "-"}.fit(p.HTML)
	if err != nil {
		return nil, err
	}
	mail, err := prose{above: 2, mail: true}.fit(p.HTML)
	if err != nil {
		return nil, err
	}
	return &noteView{ID: id, Title: p.Title, HTML: page, Mail: mail, Text: p.Text}, nil
}

func newZoneView(iss *bulletin.Region, z *bulletin.Zone, region *regionView) (*zoneView, error) {
	zv := &zoneView{
		Zone: z, Week: region.Week, Address: region.Week.Address + z.ID + "/", Current: "/zones/" + z.ID + "/",
		Feed: "/zones/" + z.ID + "/feed.xml", Year: "/zones/" + z.ID + "/year/", Weather: newWeatherView(z.Weather), Withheld: true,
	}
	var err error
	if zv.Note, err = newNoteView(z.Note, "note"); err != nil {
		return nil, err
	}
	switch {
	case region.Note == nil:
	case zv.Note == nil:
		zv.Note = region.Note
	default:
		zv.RegionNote = region.Week.Address + "#" + region.Note.ID
	}
	for _, g := range z.Grasses {
		gv := newGrassView(zv, g)
		zv.Withheld = zv.Withheld && !gv.Enough
		zv.Grasses = append(zv.Grasses, gv)
	}
	zv.Topics = topics(iss.Topics, zv.Grasses)
	zv.Top = top(z.First, zv.Grasses)
	zv.Cautions = cautionsOn(iss, zv.Grasses, zv.Ahead.Cautions...)
	return zv, nil
}

// topics lines the answers up: what a reader sees in the first ten seconds.
func topics(all []bulletin.Topic, grasses []*grassView) []topicView {
	var rows []topicView
	for _, t := range all {
		row := topicView{Topic: t}
		any := false
		for _, g := range grasses {
			i := slices.IndexFunc(g.Answers, func(a *bulletin.Answer) bool { return a.Topic == t.ID })
			if i < 0 {
				row.Cells = append(row.Cells, nil)
				continue
			}
			row.Cells, any = append(row.Cells, g.Answers[i]), true
		}
		if any {
			rows = append(rows, row)
		}
	}
	return rows
}

// top finds the one thing to do; nil if there is none.
func top(first string, grasses []*grassView) *topView {
	for _, g := range grasses {
		for _, a := range g.Answers {
			if first != "" && a.ID == first {
				return &topView{Grass: g.Name, Answer: a}
			}
		}
	}
	return nil
}

// cautionsOn collects, in the order of the list, the cautions that stand beside
// an answer or among others, and those that stand on every page.
func cautionsOn(iss *bulletin.Region, grasses []*grassView, others ...bulletin.Caution) []bulletin.Caution {
	return pick(iss, func(c bulletin.Caution) bool {
		shown := c.Always || holds(others, c)
		for _, g := range grasses {
			for _, a := range g.Answers {
				shown = shown || holds(a.Cautions, c)
			}
		}
		return shown
	})
}

// pick returns the cautions that are wanted, in the order of the list.
func pick(iss *bulletin.Region, wanted func(bulletin.Caution) bool) []bulletin.Caution {
	return slices.DeleteFunc(slices.Clone(iss.Cautions), func(c bulletin.Caution) bool { return !wanted(c) })
}

func holds(list []bulletin.Caution, c bulletin.Caution) bool {
	return slices.ContainsFunc(list, func(o bulletin.Caution) bool { return o.ID == c.ID })
}

// Shut lists the zones in which the law closes something this week.
func (r *regionView) Shut() []*zoneView {
	return slices.DeleteFunc(slices.Clone(r.Zones), func(z *zoneView) bool { return !z.Law.Shut })
}

// Part reports whether some zone is not closed everywhere all week.
func (r *regionView) Part() bool {
	return slices.ContainsFunc(r.Zones, func(z *zoneView) bool { return !z.Law.Shut || z.Law.Part })
}
