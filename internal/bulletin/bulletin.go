// Package bulletin makes one week's issue: every zone's weather, readings and law,
// the author's notes, and what changed since the week before. It knows no HTML.
package bulletin

import (
	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// Region is one week for the whole region, as of its issue date.
type Region struct {
	Week     civil.Week
	Date     civil.Date    // the issue date
	Days     *message.Said // the days of the week: "November 23 to 29, 2026"
	Note     *Note         // the author's for the region, or nil
	Notices  []LawNotice   // what is announced of local law
	Zones    []*Zone       // in the order of the zones' names
	Topics   []Topic       // the questions, in the order in which pages print them
	Cautions []Caution     // all there are, in the order of the list
}

// Zone is one zone's part of an issue.
type Zone struct {
	*workspace.Zone
	ClimateName  string
	StationName  string
	Note         *Note    // the author's for the zone, or nil
	Weather      *Weather // nil: no weather at all for this zone; advice is withheld
	Grasses      []*Grass // in the zone's own order
	Law          Law
	Closed       []ClosedSeason  // of this year and the next
	CalendarName *message.Said   // of the calendar that holds them, and the windows of the year
	Changed      []*message.Said // what changed since last week, at most four
	First        string          // id of the answer that is the one thing this week; "" for none
	Year         *Year           // nil where nothing but the answers was asked for
	Ahead        Ahead           // so empty
}

// Topic is one of the questions.
type Topic struct {
	ID       string        `json:"id"`
	Name     *message.Said `json:"name"`
	Question *message.Said `json:"question"`
}

// Note is the author's own prose.
type Note struct {
	Title string `json:"title"`
	HTML  string `json:"html"` // rendered CommonMark; headings start at h2
	Text  string `json:"text"` // the same as plain text, links alone on a line
}

func note(p *workspace.Page) *Note {
	if p == nil {
		return nil
	}
	return &Note{p.Title, p.HTML, p.Text}
}

// Grass is one grass of a zone.
type Grass struct {
	*Sward
	Profile *turf.Profile
	Reading *advice.Reading
	Year    *GrassYear // nil where nothing but the answers was asked for
}
