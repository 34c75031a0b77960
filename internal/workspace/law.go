package workspace

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/watering"
)

// law reads the list of jurisdictions and every record of law: a file that
// says with what force it holds is a watering law, any other a fertilizer law.
func (l *loader) law() {
	if t, ok := l.toml("data/jurisdictions.toml"); ok {
		l.ws.Places = law.ReadJurisdictions(t)
	}
	seen := map[string]string{}
	for _, file := range l.files("data/ordinances", ".toml") {
		id := l.id(file)
		t, ok := l.toml(file)
		if !ok {
			continue
		}
		var h law.Header
		if watering.IsRecord(t) {
			r := watering.ReadRecord(t)
			l.ws.Watering = append(l.ws.Watering, r)
			h = r.Header
		} else {
			r := law.ReadRecord(t)
			l.ws.Ordinances = append(l.ws.Ordinances, r)
			h = r.Header
		}
		switch first := seen[h.ID]; {
		case h.ID == "":
		case first != "": // in the words of [law.Lint] and [watering.Lint], so that it is told once
			t.Errorf("id", "give each record its own id", "the id %q is that of %s already", h.ID, first)
		default:
			seen[h.ID] = file
			if h.ID != id {
				t.Errorf("id", "name the file "+h.ID+".toml", "the id %q is not the file's name", h.ID)
			}
		}
		// The places of zones are made of the list, so a record of any other is never asked.
		if h.Jurisdiction != "" {
			l.refer(t.Pos("jurisdiction"), "jurisdiction", h.Jurisdiction, l.ws.bodyIDs(), law.LikeThis(h.Jurisdiction, "county"))
		}
	}
	l.ws.Law = law.NewBook(l.ws.Ordinances, l.ws.Places)
	l.ws.WaterLaw = watering.NewBook(l.ws.Watering, l.ws.Places)
}

// LintLaw records what is wrong or stale in the law records as of a day.
func (ws *Workspace) LintLaw(asOf civil.Date, list *diag.List) {
	law.Lint(ws.Ordinances, ws.Places, asOf, list)
	watering.Lint(ws.Watering, ws.Ordinances, ws.Places, asOf, list)
	law.LintGrasses(ws.Ordinances, ws.grassIDs(), list)
	ws.lintClasses(list)
	ws.lintPlaces(list)
	ws.lintClashes(asOf, list)
}

// lintClashes warns of conditions of law that cannot all be met at a place of a zone
// on some day of the year ahead.
func (ws *Workspace) lintClashes(asOf civil.Date, list *diag.List) {
	found := map[string][]law.Clash{} // places under the same laws are asked once
	for _, z := range ws.Zones {
		for _, p := range z.Places {
			under := strings.Join(p.Chain, " ")
			all, asked := found[under]
			if !asked {
				all = ws.clashes(p, asOf)
				found[under] = all
			}
			for _, c := range all {
				at := func(one law.Provision) string {
					return fmt.Sprintf("%s:%d (%s)", one.Pos.File, one.Pos.Line, one.Pinpoint)
				}
				says := map[string]string{
					"slow":          fmt.Sprintf("asks for at least %v%% slow-release nitrogen, and %s allows at most %v%%", c.One.Figure, at(c.Other), c.Other.Figure),
					"rate":          fmt.Sprintf("allows at most %v lb of soluble nitrogen at a time, and %s at most %v%% of it slow-release: too little to spread", c.One.Figure, at(c.Other), c.Other.Figure),
					"forms":         fmt.Sprintf("bars some forms of product, and %s the others", at(c.Other)),
					"year":          fmt.Sprintf("and %s leave no open day of the year between them", at(c.Other)),
					"days":          fmt.Sprintf("and %s leave some lots no hour for watering between them", at(c.Other)),
					law.WaterInDuty: fmt.Sprintf("wants what is spread watered in, and %s leaves some lots no hour for it", at(c.Other)),
				}
				list.Warnf(c.One.Pos, "read both laws again, and ask both offices; the page of the zone tells it", "at %s in %s, from %s through %s: %s",
					p.Name, z.Name, c.First, c.Last, says[c.Kind])
			}
		}
	}
}

// clashes lists what cannot be kept together at a place on some day of the year ahead.
func (ws *Workspace) clashes(p law.Place, asOf civil.Date) []law.Clash {
	all := ws.Law.Clashes(p, asOf, asOf.AddDays(law.YearAhead), asOf)
	watered := false
	for _, records := range ws.WaterLaw.Over(p) {
		watered = watered || len(records) > 0
	}
	for week := asOf.Week(); watered && week.Monday() <= asOf.AddDays(law.YearAhead); week = week.AddWeeks(1) {
		w := ws.WaterLaw.Week(p, "", week.Monday(), asOf)
		for _, c := range w.Clashes(ws.Law) {
			law.AddClash(&all, c)
		}
	}
	return all
}

// lintClasses finds classes of ingredients that a record bars and no ingredient has.
func (ws *Workspace) lintClasses(list *diag.List) {
	var known []string
	if ws.Pests != nil && ws.Pests.Ingredients != nil {
		for _, i := range ws.Pests.Ingredients.Ingredients {
			known = append(known, i.Class)
		}
	}
	for _, r := range ws.Ordinances {
		for _, rule := range r.Rules {
			for _, class := range rule.OnlyProducts {
				if r.OnPesticides() && !slices.Contains(known, class) {
					list.Errorf(rule.PosOf("only_products"), cmp.Or(diag.DidYouMean(class, known), "write a class of data/pests/ingredients.toml"), "no ingredient has the class %q", class)
				}
			}
		}
	}
}

// lintPlaces warns of places that nobody has looked up, and of records that
// concern no place of a zone.
func (ws *Workspace) lintPlaces(list *diag.List) {
	bodies, inZones := map[string]bool{}, map[string]bool{}
	for _, r := range ws.Ordinances {
		if r.Status != law.StatusProposed && r.Status != law.StatusSuperseded && !r.OnPesticides() {
			bodies[r.Jurisdiction] = true
		}
	}
	for _, j := range ws.Places {
		if j.Coverage == law.NoneFound {
			bodies[j.ID] = true
		}
	}
	for _, z := range ws.Zones {
		file := "data/zones/" + z.ID + ".toml"
		if len(z.Places) == 0 {
			list.Warnf(diag.Pos{File: file, Line: 1}, "add a [[place]] with its jurisdictions", "no place: local law is not known here, so no feeding advice is cleared")
		}
		for i, p := range z.Places {
			for _, id := range p.Chain {
				inZones[id] = true
				if !bodies[id] {
					list.Warnf(z.at[i], "look the rules up and add a record, or coverage = \"none_found\" with the day",
						"%s: nobody has looked up %q, so no feeding advice is cleared there", p.Name, id)
				}
			}
		}
	}
	unused := func(pos diag.Pos, id string) {
		if id != "" && !inZones[id] {
			list.Warnf(pos, "name it among the jurisdictions of a place", "no place of a zone lies in %q, so the record is shown and never asked", id)
		}
	}
	for _, r := range ws.Ordinances {
		unused(r.Pos, r.Jurisdiction)
	}
	for _, r := range ws.Watering {
		unused(r.Pos, r.Jurisdiction)
	}
}
