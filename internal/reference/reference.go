package reference

import (
	"ligule/internal/civil"
	"ligule/internal/workspace"
)

// Reference is all that the site tells besides the weeks themselves. Of local law
// it has what the laws say; what they close is asked for a week.
type Reference struct {
	Laws         map[string]*LawInFull // by id
	WaterLaws    map[string]*WaterLawInFull
	Pests        []Pest       // diseases, weeds, insects, each in the order of the book
	WeedKillers  *WeedKillers // nil where there are none
	Spots        *SpotTable   // that of no disease
	Indicators   []Indicator
	Publications []Publication
}

// Of makes the reference of a workspace as of an issue date.
func Of(ws *workspace.Workspace, issued civil.Date) *Reference {
	r := &Reference{
		Laws: map[string]*LawInFull{}, WaterLaws: map[string]*WaterLawInFull{},
		Pests: Pests(ws, issued), WeedKillers: WeedKillersOf(ws, issued), Spots: generalSpots(), Indicators: Indicators(ws), Publications: Bibliography(ws),
	}
	for _, l := range ws.Ordinances {
		r.Laws[l.ID] = lawInFull(ws, l)
	}
	for _, l := range ws.Watering {
		r.WaterLaws[l.ID] = waterLawInFull(ws, l)
	}
	return r
}
