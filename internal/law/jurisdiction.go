package law

import (
	"ligule/internal/civil"
	"ligule/internal/diag"
)

// Jurisdiction is one line of the list of jurisdictions: a body that could
// make fertilizer law, and whether anybody has looked.
type Jurisdiction struct {
	ID        string
	Name      string
	Level     string // state, county, municipal, district
	Parent    string
	Coverage  string // "", none_found, not_checked
	CheckedOn civil.Date
	Pos       diag.Pos
}

// ReadJurisdictions reads the [[jurisdiction]] tables of a file.
func ReadJurisdictions(t *diag.Table) []Jurisdiction { return nil }
