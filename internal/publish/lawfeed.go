package publish

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gorilla/feeds"

	"ligule/internal/civil"
	"ligule/internal/issue"
	"ligule/internal/law"
)

// lawNoticeDays is how far ahead the feed of local rules announces that a
// window opens or closes, or that a review falls due.
const lawNoticeDays = 14

const lawFeedAddress = "/local-rules/feed.xml"

// lawNotice is one item of the feed of local rules.
type lawNotice struct {
	id           string // never used again
	tag          string // the same as a tag URI
	on           civil.Date
	jurisdiction string // id
	title        string
	lines        []string
	address      string
	issued       time.Time
}

// lawFeedJob makes the feed of local rules: an item when a closed season begins
// or ends within two weeks of an issue, and one when a review falls due or is
// overdue. Each stays under the first issue that says it.
func (e *edition) lawFeedJob() job {
	return job{print: func(e *edition) ([]File, error) {
		var notices []lawNotice
		seen := map[string]bool{}
		for i, r := range e.regions {
			found := e.lawNotices(e.issues[i])
			slices.SortStableFunc(found, func(a, b lawNotice) int { return cmp.Or(cmp.Compare(b.on, a.on), cmp.Compare(a.id, b.id)) })
			var added []lawNotice
			for _, n := range found {
				if !seen[n.id] {
					seen[n.id], n.issued = true, e.clock.at(r.Week)
					added = append(added, n)
				}
			}
			notices = append(added, notices...)
		}
		body, err := e.printer.lawFeed(notices)
		if err != nil {
			return nil, err
		}
		return []File{{Path: filePath(lawFeedAddress), Body: body, Entry: true}}, nil
	}}
}

// lawNotices lists what one issue has to announce of the law.
func (e *edition) lawNotices(iss *issue.Issue) []lawNotice {
	if e.ws.Law == nil {
		return nil
	}
	var out []lawNotice
	for _, j := range e.ws.Places {
		if len(e.ws.Law.Records(j.ID)) == 0 {
			continue
		}
		for _, t := range e.turns(j, iss.Date) {
			out = append(out, e.turnNotice(t, iss))
		}
	}
	for _, r := range e.ws.Law.Reviews(iss.Date) {
		if n, ok := e.reviewNotice(r, iss.Date); ok {
			out = append(out, n)
		}
	}
	return out
}

// turn is a day on which a provision begins to close, or closes no more.
type turn struct {
	law   law.SpanLaw
	opens bool
	on    civil.Date
	asked []asked // for whom and what
}

func (t turn) kind() string {
	if t.opens {
		return "opens"
	}
	return "closes"
}

// turns lists those of a jurisdiction's own law within two weeks after a day.
func (v viewer) turns(j law.Jurisdiction, date civil.Date) []turn {
	var out []turn
	place := law.Place{Name: j.Name, Chain: v.chain(j.ID)}
	soon := func(d civil.Date) bool { return date < d && d <= date.AddDays(lawNoticeDays) }
	add := func(t turn, q asked) {
		if !soon(t.on) || t.law.Record == nil || t.law.Rule == nil || t.law.Record.Jurisdiction != j.ID {
			return
		}
		k := slices.IndexFunc(out, func(o turn) bool {
			return o.law.Record == t.law.Record && o.law.Rule == t.law.Rule && o.on == t.on && o.opens == t.opens
		})
		if k < 0 {
			out = append(out, t)
			k = len(out) - 1
		}
		out[k].asked = append(out[k].asked, q)
	}
	for _, nutrient := range nutrients() {
		for _, actor := range []law.Actor{law.Homeowner, law.ForHire} {
			q := asked{actor, nutrient}
			// A look ahead that is short, since few weeks bring a turn.
			near := v.closedSpans(place, q, date, date.AddDays(lawNoticeDays+1), date)
			if !slices.ContainsFunc(near, func(s law.Span) bool {
				return slices.ContainsFunc(s.Laws, func(l law.SpanLaw) bool { return soon(l.First) || soon(l.Last+1) })
			}) {
				continue
			}
			for _, s := range v.closedSpans(place, q, date, date.AddDays(turnDays), date) {
				for _, l := range s.Laws {
					add(turn{law: l, on: l.First}, q)
					add(turn{law: l, opens: true, on: l.Last + 1}, q)
				}
			}
		}
	}
	return out
}

// turnDays is how far ahead the end of a closing is looked for.
const turnDays = 400

func (e *edition) turnNotice(t turn, iss *issue.Issue) lawNotice {
	r := t.law.Record
	slots := []string{
		"law", r.Title, "citation", ruleCitation(t.law), "jurisdiction", r.JurisdictionName, "date", longDate(t.on),
		"first", longDate(t.law.First), "last", longDate(t.law.Last), "before", longDate(t.on - 1), "checked", longDate(r.CheckedOn),
		"what", e.askedOf(t.asked),
	}
	n := lawNotice{
		id: fmt.Sprintf("%s/%s/%s/%s", r.ID, t.law.Rule.ID, t.kind(), t.on), on: t.on, jurisdiction: r.Jurisdiction,
		title: e.say("lawfeed."+t.kind()+"_title", slots...), address: "/local-rules/" + r.Jurisdiction + "/",
	}
	id := "lawfeed." + t.kind()
	if !t.opens && t.law.Last >= iss.Date.AddDays(turnDays) {
		id = "lawfeed.closes_for_good"
	}
	n.lines = append(n.lines, e.say(id, slots...))
	n.lines = append(n.lines, e.turnPlaces(t, iss)...)
	return e.marked(n, r.Fictional)
}

// maxTurnPlaces keeps a notice of a law over a whole region readable.
const maxTurnPlaces = 30

// turnPlaces says what all laws together say on the day of a turn, wherever its
// law speaks: once for all who are told the same.
func (e *edition) turnPlaces(t turn, iss *issue.Issue) []string {
	type told struct {
		states map[law.Verdict][]string // places
		asked  []asked
	}
	var all []told
	for _, q := range t.asked {
		states := map[law.Verdict][]string{}
		for _, z := range iss.Zones {
			for _, p := range z.Places {
				if slices.Contains(e.ws.Law.RecordsOf(p, t.on-1, t.on), t.law.Record) {
					a := e.ws.Law.Ask(law.Question{Place: p, Actor: q.actor, Date: t.on, AsOf: iss.Date, Product: q.product()})
					states[a.Verdict] = append(states[a.Verdict], e.say("lawfeed.in_zone", "place", p.Name, "zone", z.Name))
				}
			}
		}
		k := slices.IndexFunc(all, func(o told) bool { return maps.EqualFunc(o.states, states, slices.Equal) })
		if k < 0 {
			all = append(all, told{states: states})
			k = len(all) - 1
		}
		all[k].asked = append(all[k].asked, q)
	}
	var out []string
	for _, o := range all {
		for verdict := law.Closed + 1; verdict > law.Open; {
			verdict--
			places := o.states[verdict]
			if len(places) == 0 {
				continue
			}
			list := strings.Join(places[:min(len(places), maxTurnPlaces)], ", ")
			if more := len(places) - maxTurnPlaces; more > 0 {
				list = e.say("lawfeed.and_more", "places", list, "more", strconv.Itoa(more))
			}
			out = append(out, e.say("lawfeed.places", "date", longDate(t.on), "what", e.askedOf(o.asked), "state", e.must("law_day", verdict.String()), "places", list))
		}
	}
	return out
}

// product is a fertilizer of which only the nutrient is known.
func (q asked) product() law.Product {
	p := law.Product{Unknown: true}
	if q.nutrient != "" {
		p.Nutrients = []string{q.nutrient}
	}
	return p
}

// askedOf words for whom and what something holds: "nitrogen, whoever does it".
func (v viewer) askedOf(all []asked) string {
	var out []string
	for _, n := range nutrients() {
		home, hire := slices.Contains(all, asked{law.Homeowner, n}), slices.Contains(all, asked{law.ForHire, n})
		who := ""
		switch {
		case home && hire:
			who = "both"
		case home:
			who = "home"
		case hire:
			who = "hire"
		default:
			continue
		}
		out = append(out, v.say("law_asked."+who, "what", v.must("law_nutrient", nutrientID(n))))
	}
	return strings.Join(out, "; ")
}

// reviewNotice announces that somebody has to look at a law within two weeks, or
// should have. ok is false for what is neither near nor overdue.
func (e *edition) reviewNotice(r law.Review, date civil.Date) (n lawNotice, ok bool) {
	kind := "due"
	switch {
	case r.What == "not_checked" || r.Due.IsZero() || !r.Within(date, lawNoticeDays):
		return n, false
	case r.Past(date):
		kind = "past"
	}
	id, title, fictional, checked := r.Jurisdiction, r.JurisdictionName, false, civil.Date(0)
	switch {
	case r.Record != nil:
		id, title, fictional, checked = r.Record.ID, r.Record.Title, r.Record.Fictional, r.Record.CheckedOn
	case r.Water != nil:
		id, title, fictional, checked = r.Water.ID, waterTitle(r.Water), r.Water.Fictional, r.Water.CheckedOn
	}
	if r.Rule != nil {
		id += "/" + r.Rule.ID
	}
	if r.Order != "" {
		id += "/" + slug(r.Order)
	}
	slots := []string{
		"law", title, "citation", r.Citation, "jurisdiction", r.JurisdictionName, "date", longDate(r.Due), "after", longDate(r.Due + 1),
		"order", strings.ReplaceAll(r.Order, "_", " "), "checked", longDate(checked),
	}
	n = lawNotice{
		id: fmt.Sprintf("%s/%s/%s/%s", id, r.What, kind, r.Due), on: r.Due, jurisdiction: r.Jurisdiction, address: "/local-rules/" + r.Jurisdiction + "/",
		title: e.say("lawfeed."+r.What+"_"+kind+"_title", slots...), lines: []string{e.say("lawfeed."+r.What+"_"+kind, slots...)},
	}
	return e.marked(n, fictional), true
}

// marked says what must stand in every item, that it is invented, if it is, and
// that it is no legal advice, and gives it its lasting name.
func (e *edition) marked(n lawNotice, fictional bool) lawNotice {
	n.title = e.inventedIf(fictional || e.ws.Site.Demo, n.title)
	if fictional && !e.ws.Site.Demo { // where all is invented, the item starts by saying so
		n.lines = append(n.lines, e.must("calendar", "invented"))
	}
	n.lines = append(n.lines, e.must("calendar", "ask"))
	n.tag = tagURI(e.ws.Site, "local-rule", n.id)
	return n
}

// lawFeedItems is how many of the newest notices the feed holds: more than other
// feeds, since one issue can announce several.
const lawFeedItems = 60

// lawFeed prints the feed of local rules, newest first.
func (p *printer) lawFeed(notices []lawNotice) ([]byte, error) {
	var items []rssItem
	var newest time.Time
	for i, n := range notices[:min(len(notices), lawFeedItems)] {
		content, err := p.part("feed-law-notice", lawNoticeData{p.site, n.lines, n.address})
		if err != nil {
			return nil, err
		}
		if i == 0 {
			newest = n.issued
		}
		items = append(items, rssItem{
			RssItem: &feeds.RssItem{
				Title: n.title, Link: p.site.BaseURL + n.address, Description: n.lines[0],
				Content: &feeds.RssContent{Content: string(absolute(content, p.site.BaseURL))},
				Guid:    &feeds.RssGuid{Id: n.tag, IsPermaLink: "false"},
				PubDate: n.issued.Format(time.RFC1123Z),
			},
			Categories: []rssCategory{{Domain: p.site.BaseURL + "/local-rules/", Name: n.jurisdiction}},
		})
	}
	title, err := p.line("feed", "law-title", feedData{Site: p.site})
	if err != nil {
		return nil, err
	}
	about, err := p.line("feed", "law-about", feedData{Site: p.site})
	if err != nil {
		return nil, err
	}
	return p.document(title, about, "/local-rules/", lawFeedAddress, items, newest)
}

// lawNoticeData is what the template of a notice gets.
type lawNoticeData struct {
	Site    siteView
	Lines   []string
	Address string
}
