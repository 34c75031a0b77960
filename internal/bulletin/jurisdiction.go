package bulletin

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/reference"
	"ligule/internal/workspace"
)

// Jurisdiction is one body of local government with what holds there as of an
// issue, and how its laws are known; what they say is in the reference.
type Jurisdiction struct {
	ID        string             `json:"id"`
	Name      string             `json:"name"`
	Level     *message.Said      `json:"level"`
	Parent    *Body              `json:"parent,omitempty"`
	Depth     int                `json:"depth,omitempty"` // below the top
	Coverage  *message.Said      `json:"coverage,omitempty"`
	State     reference.LawState `json:"state,omitzero"`     // of nitrogen at home, this week, by its law and those above it
	Closed    *ClosedYear        `json:"closed,omitempty"`   // nil if nothing closes a day
	Records   []reference.Law    `json:"records,omitempty"`  // its own laws on fertilizer
	Watering  []reference.Law    `json:"watering,omitempty"` // and on watering
	WaterWeek reference.Watering `json:"water_week"`         // this week, by its watering law and those above it
	Places    []PlaceUnder       `json:"places,omitempty"`   // places of zones under it
}

// Body names a jurisdiction.
type Body struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// PlaceUnder is a place under a jurisdiction, with its closed seasons ahead.
type PlaceUnder struct {
	ZoneID   string        `json:"zone_id"`
	ZoneName string        `json:"zone_name"`
	Place    string        `json:"place"`
	From     civil.Date    `json:"from"`
	Through  civil.Date    `json:"through"`
	Seasons  []SeasonAhead `json:"seasons,omitempty"`
}

// SeasonAhead is a run of closed days with the laws that close it.
type SeasonAhead struct {
	First civil.Date    `json:"first"`
	Last  civil.Date    `json:"last,omitzero"` // zero if no end is on record
	Laws  *message.Said `json:"laws,omitempty"`
}

// closedYearDays is how far ahead closed seasons are listed.
const closedYearDays = 365

// Jurisdictions lists every body as of an issue, each under its parent, in the
// order of the author's list.
func Jurisdictions(ws *workspace.Workspace, is *Region) []Jurisdiction {
	places := placesAhead(ws, is)
	var out []Jurisdiction
	var under func(parent string, depth int)
	under = func(parent string, depth int) {
		for _, j := range ws.Places {
			if j.Parent == parent && depth < len(ws.Places) {
				out = append(out, jurisdiction(ws, is, j, depth, places))
				under(j.ID, depth+1)
			}
		}
	}
	under("", 0)
	return out
}

func jurisdiction(ws *workspace.Workspace, is *Region, j law.Jurisdiction, depth int, places []placeAhead) Jurisdiction {
	out := Jurisdiction{ID: j.ID, Name: j.Name, Level: just(message.WordOr("law_level", j.Level)), Depth: depth}
	if j.Coverage != "" {
		out.Coverage = message.Say(message.New("law_coverage."+string(j.Coverage)).Date("date", j.CheckedOn))
	}
	if p, ok := ws.Body(j.Parent); ok {
		out.Parent = &Body{p.ID, p.Name}
	}
	for _, r := range ws.Ordinances {
		if r.Jurisdiction == j.ID {
			out.Records = append(out.Records, reference.LawOf(r, is.Date))
		}
	}
	for _, r := range ws.Watering {
		if r.Jurisdiction == j.ID {
			out.Watering = append(out.Watering, reference.WaterLawOf(ws, r, is.Date))
		}
	}
	for _, p := range places {
		if slices.Contains(p.chain, j.ID) {
			out.Places = append(out.Places, p.PlaceUnder)
		}
	}
	if ws.Law != nil {
		out.ask(ws, law.Place{Name: j.Name, Chain: chain(ws, j.ID)}, is.Week.Monday(), is.Date)
	}
	return out
}

// ask finds what holds in a jurisdiction by its own law and those above it; what
// towns and districts within it add is shown on their pages.
func (j *Jurisdiction) ask(ws *workspace.Workspace, place law.Place, monday, asOf civil.Date) {
	j.State = reference.LawStateOf(ws.Law.Week(law.Question{Place: place, Actor: law.Homeowner, AsOf: asOf, Product: law.ProductOf("N")}, monday))
	if year := ClosedYearOf(ws.Law, place, asOf); year.Any() {
		j.Closed = year
	}
	if len(j.Watering) > 0 {
		j.WaterWeek = reference.WateringOf(ws, ws.WaterLaw.Week(place, "public", monday, asOf), asOf)
	}
}

// chain lists a jurisdiction with all those above it, upper first.
func chain(ws *workspace.Workspace, id string) []string {
	var out []string
	for range len(ws.Places) + 1 { // a cycle of parents must not hang
		j, ok := ws.Body(id)
		if !ok {
			break
		}
		out = append(out, id)
		id = j.Parent
	}
	slices.Reverse(out)
	return out
}

// placeAhead is a place with the jurisdictions over it.
type placeAhead struct {
	PlaceUnder
	chain []string
}

// placesAhead lists the places of all zones of an issue, with their closed seasons
// for nitrogen ahead, for who does it at home.
func placesAhead(ws *workspace.Workspace, is *Region) []placeAhead {
	var out []placeAhead
	for _, z := range is.Zones {
		zone, _ := ws.Zone(z.ID)
		for _, p := range zone.Places {
			at := placeAhead{PlaceUnder{ZoneID: z.ID, ZoneName: z.Name, Place: p.Name, From: is.Date, Through: is.Date.AddDays(closedYearDays)}, p.Chain}
			if ws.Law != nil {
				at.Seasons = seasonsAhead(ws.Law.ClosedSeasons(p, law.Homeowner, "N", at.From, at.Through, is.Date), at.Through)
			}
			out = append(out, at)
		}
	}
	return out
}

func seasonsAhead(spans []law.Span, through civil.Date) []SeasonAhead {
	var out []SeasonAhead
	for _, s := range spans {
		var laws []message.Message
		for _, l := range s.Laws {
			if cite := citedPart(l); !message.Contains(laws, cite) {
				laws = append(laws, cite)
			}
		}
		out = append(out, SeasonAhead{s.First, endOnRecord(s.Last, through), just(message.Messages(message.Comma, laws...))})
	}
	return out
}
