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
	Parent    string // jurisdiction id; "" at the top
	Coverage  Coverage
	CheckedOn civil.Date
	Pos       diag.Pos
}

// ReadJurisdictions reads the [[jurisdiction]] tables of a file strictly, and
// reports every other key as unknown.
func ReadJurisdictions(t *diag.Table) []Jurisdiction {
	var out []Jurisdiction
	for _, x := range t.Tables("jurisdiction") {
		j := Jurisdiction{Pos: x.Pos("")}
		j.ID = x.ID("id")
		j.Name = x.Text("name")
		j.Level = x.One("level", levels()...)
		j.Parent = x.OptText("parent")
		j.Coverage = Coverage(x.OptOne("coverage", string(NoneFound), string(NotChecked)))
		j.CheckedOn, _ = x.OptDate("checked_on")
		if j.Coverage == NoneFound && !x.Has("checked_on") {
			x.Errorf("checked_on", "add the day on which somebody looked", "\"looked, none found\" counts only with its date")
		}
		x.Close()
		out = append(out, j)
	}
	t.Close()
	return out
}
