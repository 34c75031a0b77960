package publish

import (
	"cmp"
	"slices"
	"time"

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
func (e *press) lawFeedJob() job {
	return fileJob(lawFeedAddress, func(e *press) ([]byte, error) {
		var notices []lawNotice
		seen := map[string]bool{}
		for i, iss := range e.issues {
			found := slices.Clone(iss.Notices)
			slices.SortStableFunc(found, func(a, b bulletin.LawNotice) int { return cmp.Or(cmp.Compare(b.On, a.On), cmp.Compare(a.ID, b.ID)) })
			var added []lawNotice
			for _, n := range found {
				if !seen[n.ID] {
					seen[n.ID] = true
					added = append(added, lawNotice{n, e.issuedAt(e.regions[i].Week)})
				}
			}
			notices = append(added, notices...)
		}
		return e.printer.lawFeed(notices, func(id string) string { return tagURI(e.Site, "local-rule", id) })
	})
}

// lawFeedItems is how many of the newest notices the feed holds: more than other
// feeds, since one issue can announce several.
const lawFeedItems = 60

// lawFeed prints the feed of local rules, newest first; tag makes the lasting name
// of a notice.
func (p *printer) lawFeed(notices []lawNotice, tag func(id string) string) ([]byte, error) {
	var entries []entry
	for _, n := range notices {
		address := lawAddress(n.Body)
		entries = append(entries, entry{
			id: tag(n.ID), address: address, content: "feed-law-notice", data: lawNoticeData{p.site, n.Lines, address}, issued: n.issued,
			category: rssCategory{p.site.BaseURL + "/local-rules/", n.Body},
			says:     func(*printer) (title, summary string, err error) { return n.Title.String(), n.Lines[0].String(), nil },
		})
	}
	return p.feed("law", "", "/local-rules/", lawFeedAddress, lawFeedItems, entries)
}

// lawNoticeData is what the template of a notice gets.
type lawNoticeData struct {
	Site    siteView
	Lines   []*message.Said
	Address string
}
