package publish

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strings"
	"time"

	"github.com/gorilla/feeds"

	"ligule/internal/workspace"
)

// feedItems is how many of the newest issues a feed holds.
const feedItems = 20

// feedTTL is how long a reader may keep a feed before it asks again, minutes.
const feedTTL = 720

// entry is one item of a feed.
type entry struct {
	id       string // tag URI
	address  string
	says     func(p *printer) (title, summary string, err error)
	content  string // template of the content
	data     any    // that it gets
	issued   time.Time
	category rssCategory
}

// The library's types know one category, no domain and no self link; these
// stand in front of them. (The outer field of an XML name wins.)
type rssDocument struct {
	XMLName   xml.Name   `xml:"rss"`
	Version   string     `xml:"version,attr"`
	ContentNS string     `xml:"xmlns:content,attr"`
	AtomNS    string     `xml:"xmlns:atom,attr"`
	Channel   rssChannel `xml:"channel"`
}

// FeedXml makes the document a feed of the library.
func (d *rssDocument) FeedXml() any { return d }

type rssChannel struct {
	*feeds.RssFeed
	XMLName xml.Name  `xml:"channel"`
	Self    rssLink   `xml:"atom:link"`
	Items   []rssItem `xml:"item"`
}

type rssLink struct {
	Href string `xml:"href,attr"`
	Rel  string `xml:"rel,attr"`
	Type string `xml:"type,attr"`
}

type rssItem struct {
	*feeds.RssItem
	XMLName    xml.Name      `xml:"item"`
	Categories []rssCategory `xml:"category"`
}

type rssCategory struct {
	Domain string `xml:"domain,attr"`
	Name   string `xml:",chardata"`
}

// feed prints a feed of entries, newest first and at most so many. kind names the
// templates of its title and description.
func (p *printer) feed(kind, name, address, self string, most int, entries []entry) ([]byte, error) {
	var items []rssItem
	var newest time.Time
	for i, e := range entries[:min(len(entries), most)] {
		if i == 0 {
			newest = e.issued
		}
		item, err := p.item(e)
		if err != nil {
			return nil, err
		}
		items = append(items, item)
	}
	channel := letterData{Site: p.site, Name: name}
	title, err := p.line("feed", kind+"-title", channel)
	if err != nil {
		return nil, err
	}
	about, err := p.line("feed", kind+"-about", channel)
	if err != nil {
		return nil, err
	}
	return p.document(title, about, address, self, items, newest)
}

// document prints a channel with its items. newest is when its newest item came
// out, never the clock: an unchanged feed keeps its bytes.
func (p *printer) document(title, about, address, self string, items []rssItem, newest time.Time) ([]byte, error) {
	base := p.site.BaseURL
	rss := &feeds.RssFeed{
		Title: title, Link: base + address, Description: about, Language: strings.ToLower(p.site.Language), Ttl: feedTTL,
		Generator: "Ligule", Docs: "https://www.rssboard.org/rss-specification",
	}
	if p.site.Contact != "" {
		rss.ManagingEditor = fmt.Sprintf("%s (%s)", p.site.Contact, p.site.Publisher)
	}
	if !newest.IsZero() {
		rss.PubDate, rss.LastBuildDate = newest.Format(time.RFC1123Z), newest.Format(time.RFC1123Z)
	}
	doc := &rssDocument{
		Version: "2.0", ContentNS: "http://purl.org/rss/1.0/modules/content/", AtomNS: "http://www.w3.org/2005/Atom",
		Channel: rssChannel{RssFeed: rss, Self: rssLink{base + self, "self", "application/rss+xml"}, Items: items},
	}
	var b bytes.Buffer
	if err := feeds.WriteXML(doc, &b); err != nil {
		return nil, fmt.Errorf("publish: %s: %w", self, err)
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

func (p *printer) item(e entry) (rssItem, error) {
	title, summary, err := e.says(p)
	if err != nil {
		return rssItem{}, err
	}
	content, err := p.part(e.content, e.data)
	if err != nil {
		return rssItem{}, err
	}
	return rssItem{
		RssItem: &feeds.RssItem{
			Title: title, Link: p.site.BaseURL + e.address, Description: summary,
			Content: &feeds.RssContent{Content: string(absolute(content, p.site.BaseURL))},
			Guid:    &feeds.RssGuid{Id: e.id, IsPermaLink: "false"},
			PubDate: e.issued.Format(time.RFC1123Z),
		},
		Categories: []rssCategory{e.category},
	}, nil
}

// tagURI is the lasting name of an advisory: Kindberg and Hawke (2005), The
// 'tag' URI Scheme, RFC 4151. The date in it is when the domain was first
// ours, not the item's.
func tagURI(s workspace.Site, kind, what string) string {
	return fmt.Sprintf("tag:%s,%04d:%s/%s", s.FeedDomain, s.FeedSince.Year(), kind, what)
}

// newClock makes what tells the instant at which the issue of a week came out, as
// feeds want it.
func newClock(s workspace.Site) (func(w weekView) time.Time, error) {
	zone, err := time.LoadLocation(s.TimeZone)
	if err != nil {
		return nil, fmt.Errorf("publish: time zone: %w", err)
	}
	if _, err := time.Parse("15:04", s.IssueTime); err != nil {
		return nil, fmt.Errorf("publish: issue time %q is not written as HH:MM", s.IssueTime)
	}
	return func(w weekView) time.Time { return s.IssuedAt(w.Issued, zone) }, nil
}
