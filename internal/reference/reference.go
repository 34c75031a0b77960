package reference

import (
	"ligule/internal/civil"
	"ligule/internal/workspace"
)

// Reference is all that the site tells besides the weeks themselves. Of local law
// it says what holds in a week.
type Reference struct {
	Jurisdictions []Jurisdiction
	Pests         []Pest       // diseases, weeds, insects, each in the order of the book
	WeedKillers   *WeedKillers // nil where there are none
	Indicators    []Indicator
	Publications  []Publication
}

// Of makes the reference of a workspace as of a week's issue date.
func Of(ws *workspace.Workspace, week civil.Week, issued civil.Date) *Reference {
	return &Reference{
		Jurisdictions: Jurisdictions(ws, week, issued), Pests: Pests(ws, issued), WeedKillers: WeedKillersOf(ws, issued),
		Indicators: Indicators(ws), Publications: Bibliography(ws),
	}
}
