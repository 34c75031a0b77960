package reference

import (
	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/workspace"
)

// Look is a line of the scouting log: somebody looked at a lawn.
type Look struct {
	Date      civil.Date `json:"date"`
	Zone      string     `json:"zone"`
	Grass     string     `json:"grass,omitempty"`     // "" is any of the zone
	Found     string     `json:"found,omitempty"`     // id of a pest; "" is none, or nothing that has a name
	Clean     bool       `json:"clean,omitempty"`     // nothing was found
	Confirmed bool       `json:"confirmed,omitempty"` // what it is was confirmed
}

// ScoutingLog lists what was found where, in the order of the log.
func ScoutingLog(ws *workspace.Workspace) []Look {
	var out []Look
	for _, r := range ws.Reports {
		l := Look{Date: r.Date, Zone: r.Zone, Grass: r.Grass, Clean: r.Finding == pest.FoundNone, Confirmed: r.Confirmed}
		if !l.Clean && r.Finding != pest.FoundUnknown {
			l.Found = r.Finding
		}
		out = append(out, l)
	}
	return out
}
