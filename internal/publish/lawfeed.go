package publish

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/gorilla/feeds"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
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
func (e *edition) lawNotices(iss *bulletin.Region) []lawNotice {
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
