// Package bulletin makes one week's issue: every zone's weather, readings and law,
// the author's notes, and what changed since the week before. It knows no HTML.
package bulletin

import (
	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/workspace"
)

// Region is one week for the whole region, as of its issue date.
type Region struct {
	Week     civil.Week    `json:"week"`
	Date     civil.Date    `json:"date"`              // the issue date
	Days     *message.Said `json:"days"`              // the days of the week: "November 23 to 29, 2026"
	Note     *Note         `json:"note,omitempty"`    // the author's for the region, or nil
	Notices  []LawNotice   `json:"notices,omitempty"` // what is announced of local law
	Zones    []*Zone       `json:"zones"`             // in the order of the zones' names
	Topics   []Topic       `json:"topics"`            // the questions, in the order in which pages print them
	Cautions []Caution     `json:"cautions"`          // all there are, in the order of the list
	// Jurisdictions are the bodies that make local law, each under its parent;
	// none where nothing but the answers was asked for.
	Jurisdictions []Jurisdiction `json:"jurisdictions,omitempty"`
}

// Zone is one zone's part of an issue.
type Zone struct {
	ID           string          `json:"id"`
	Name         string          `json:"name"`
	ClimateName  string          `json:"climate_name"`
	StationName  string          `json:"station_name"`
	Note         *Note           `json:"note,omitempty"`    // the author's for the zone, or nil
	Weather      *Weather        `json:"weather,omitempty"` // nil: no weather at all for this zone; advice is withheld
	Grasses      []*Grass        `json:"grasses"`           // in the zone's own order
	Law          Law             `json:"law"`
	Closed       []ClosedSeason  `json:"closed,omitempty"`        // of this year and the next
	CalendarName *message.Said   `json:"calendar_name,omitempty"` // of the calendar that holds them, and the windows of the year
	Changed      []*message.Said `json:"changed,omitempty"`       // what changed since last week, at most four
	First        string          `json:"first,omitempty"`         // id of the answer that is the one thing this week; "" for none
	Year         *Year           `json:"year,omitempty"`          // nil where nothing but the answers was asked for
	Ahead        Ahead           `json:"ahead"`                   // so empty
}

// Topic is one of the questions.
type Topic struct {
	ID       string        `json:"id"`
	Name     *message.Said `json:"name"`
	Question *message.Said `json:"question"`
}

// Topics lists the questions, in the order in which pages print them.
func Topics() []Topic {
	var out []Topic
	for _, t := range advice.Topics() {
		out = append(out, Topic{string(t), say("topic." + string(t)), say("question." + string(t))})
	}
	return out
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
