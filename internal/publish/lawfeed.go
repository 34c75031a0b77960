package publish

import (
	"cmp"
	"slices"
	"time"

	"github.com/gorilla/feeds"

	"ligule/internal/bulletin"
	"ligule/internal/message"
)

const lawFeedAddress = "/local-rules/feed.xml"

// lawNotice is one item of the feed of local rules, under the first issue that says
// it.
type lawNotice struct {
	bulletin.LawNotice
	issued time.Time
}

// lawFeedJob makes the feed of local rules: an item when a closed season begins
// or ends within two weeks of an issue, and one when a review falls due or is
// overdue. Each stays under the first issue that says it.
func (e *edition) lawFeedJob() job {
	return job{print: func(e *edition) ([]File, error) {
		var notices []lawNotice
		seen := map[string]bool{}
		for i, iss := range e.issues {
			found := slices.Clone(iss.Notices)
			slices.SortStableFunc(found, func(a, b bulletin.LawNotice) int { return cmp.Or(cmp.Compare(b.On, a.On), cmp.Compare(a.ID, b.ID)) })
			var added []lawNotice
			for _, n := range found {
				if !seen[n.ID] {
					seen[n.ID] = true
					added = append(added, lawNotice{n, e.clock.at(e.regions[i].Week)})
				}
			}
			notices = append(added, notices...)
		}
		body, err := e.printer.lawFeed(notices, func(id string) string { return tagURI(e.ws.Site, "local-rule", id) })
		if err != nil {
			return nil, err
		}
		return []File{{Path: filePath(lawFeedAddress), Body: body, Entry: true}}, nil
	}}
}

// lawFeedItems is how many of the newest notices the feed holds: more than other
// feeds, since one issue can announce several.
const lawFeedItems = 60

// lawFeed prints the feed of local rules, newest first; tag makes the lasting name
// of a notice.
func (p *printer) lawFeed(notices []lawNotice, tag func(id string) string) ([]byte, error) {
	var items []rssItem
	var newest time.Time
	for i, n := range notices[:min(len(notices), lawFeedItems)] {
		content, err := p.part("feed-law-notice", lawNoticeData{p.site, n.Lines, lawAddress(n.Body)})
		if err != nil {
			return nil, err
		}
		if i == 0 {
			newest = n.issued
		}
		items = append(items, rssItem{
			RssItem: &feeds.RssItem{
				Title: n.Title.String(), Link: p.site.BaseURL + lawAddress(n.Body), Description: n.Lines[0].String(),
				Content: &feeds.RssContent{Content: string(absolute(content, p.site.BaseURL))},
				Guid:    &feeds.RssGuid{Id: tag(n.ID), IsPermaLink: "false"},
				PubDate: n.issued.Format(time.RFC1123Z),
			},
			Categories: []rssCategory{{Domain: p.site.BaseURL + "/local-rules/", Name: n.Body}},
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
	Lines   []*message.Said
	Address string
}
