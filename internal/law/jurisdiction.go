package law

import (
	"slices"
	"strings"

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

// LikeThis is how a jurisdiction is entered.
func LikeThis(id, level string) string {
	return "add it to data/jurisdictions.toml, like this: [[jurisdiction]] id = \"" + id + "\", name = \"…\", level = \"" + level + "\", parent = \"…\""
}

// CheckChain records what is wrong with the jurisdictions of a place, which t
// writes under a key: all that lie over it, each once, the upper first, from a
// state down. The law of one that is left out would never be asked. Those that
// the list does not have are told, and nothing else then.
func CheckChain(t *diag.Table, key string, chain []string, list []Jurisdiction) {
	bodies := map[string]Jurisdiction{}
	for _, j := range list {
		bodies[j.ID] = j
	}
	whole, known := []string{}, true
	var enter func(id string, depth int)
	enter = func(id string, depth int) {
		if slices.Contains(whole, id) || depth > len(list) { // a circle of parents is told elsewhere
			return
		}
		if parent := bodies[id].Parent; bodies[parent].ID != "" {
			enter(parent, depth+1)
		}
		if !slices.Contains(whole, id) {
			whole = append(whole, id)
		}
	}
	for i, id := range chain {
		if bodies[id].ID == "" {
			var ids []string
			for _, j := range list {
				ids = append(ids, j.ID)
			}
			remedy := LikeThis(id, "county")
			if near := diag.DidYouMean(id, ids); near != "" {
				remedy = near + ", or " + remedy
			}
			t.Errorf(diag.Element(key, i), remedy, "there is no jurisdiction %q", id)
			known = false
		}
		enter(id, 0)
	}
	if !known {
		return
	}
	rank := func(id string) int { return slices.Index(levels(), bodies[id].Level) }
	slices.SortStableFunc(whole, func(a, b string) int { return rank(a) - rank(b) })
	remedy := "write " + key + " = [\"" + strings.Join(whole, "\", \"") + "\"]"
	for i, id := range chain {
		if slices.Contains(chain[:i], id) {
			t.Errorf(diag.Element(key, i), remedy, "%q is named twice", id)
			return
		}
	}
	for _, id := range whole {
		if i := slices.IndexFunc(chain, func(lower string) bool { return bodies[lower].Parent == id }); i >= 0 && !slices.Contains(chain, id) {
			t.Errorf(diag.Element(key, i), remedy, "%q lies in %q, which is left out, so its law would never be asked", chain[i], id)
			return
		}
	}
	for i, id := range whole {
		switch {
		case chain[i] != id:
			t.Errorf(diag.Element(key, i), remedy, "the upper stands first: %q before %q", id, chain[i])
			return
		case i == 0 && bodies[id].Level != "state":
			t.Errorf(diag.Element(key, i), LikeThis("the-state", "state")+", with coverage = \"not_checked\" while nobody has looked, and write it as the parent of \""+id+"\" and first here",
				"no state stands over %q, so the law of the state would never be asked", id)
			return
		case i > 0 && bodies[id].Level != "district" && rank(id) == rank(whole[i-1]):
			t.Errorf(diag.Element(key, i), "make a [[place]] of each", "a place lies in one: %q and %q are both of level %q", whole[i-1], id, bodies[id].Level)
			return
		}
	}
	local := func(level string) bool { return level == "county" || level == "municipal" }
	if len(chain) > 0 && !slices.ContainsFunc(chain, func(id string) bool { return local(bodies[id].Level) }) &&
		slices.ContainsFunc(list, func(j Jurisdiction) bool { return local(j.Level) }) {
		t.Errorf(key, "name the county, and the town if it lies in one; make a [[place]] of each where there are several", "neither county nor town is named, so their law would never be asked")
	}
}
