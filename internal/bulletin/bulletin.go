// Package bulletin makes one week's issue: every zone's weather, readings and law,
// the author's notes, and what changed since the week before. It knows no HTML.
package bulletin

import (
	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/law"
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
	Zones    []*Zone       // in the order of the zones' names
	Topics   []Topic       // the questions, in the order in which pages print them
	Cautions []Caution     // all there are, in the order of the list
}

// Zone is one zone's part of an issue.
type Zone struct {
	*workspace.Zone
	ClimateName string
	StationName string
	Note        *Note    // the author's for the zone, or nil
	Weather     *Weather // nil: no weather at all for this zone; advice is withheld
	Grasses     []*Grass // in the zone's own order
	Law         Law
	Changed     []*message.Said // what changed since last week, at most four
	First       string          // id of the answer that is the one thing this week; "" for none
	Year        *Year           // nil without weather
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
	Year    *GrassYear // nil without weather; zones of one station share it
}

// Law is the local law of a zone for the week.
type Law struct {
	Places     []PlaceLaw
	Varies     bool              // places differ: each is shown
	Closed     []message.Message // closures in force this week, each with place, days, law and source; nitrogen, homeowner
	Unknown    []message.Message // why a place is not cleared, if it is not
	NextChange []message.Message // the next opening or closing after the week, per place
	Flags      []message.Message // stale, unverified, …: printed sentences
}

// PlaceLaw is the law of one place.
type PlaceLaw struct {
	Place      law.Place
	Homeowner  law.PlaceWeek // nitrogen
	ForHire    law.PlaceWeek // nitrogen
	Phosphorus law.PlaceWeek // homeowner
	Home, Hire PlaceReasons  // nitrogen: for who does it at home, and for who is paid to do it
	Records    []*law.Record // the chain's records that speak, upper first
	Watering   law.WaterWeek // with water of the public supply
}

// PlaceReasons words what the law of one place says to one person.
type PlaceReasons struct {
	Closed     []message.Message // each closing law with its days
	Unknown    []message.Message // why it is not cleared
	Conditions []message.Message // limits and duties
	Next       []message.Message // the next opening or closing after the week
}
