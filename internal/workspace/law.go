package workspace

import (
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
	ws.lintPlaces(list)
}

// lintPlaces warns of places that nobody has looked up, and of records that
// concern no place of a zone.
func (ws *Workspace) lintPlaces(list *diag.List) {
	bodies, inZones := map[string]bool{}, map[string]bool{}
	for _, r := range ws.Ordinances {
		if r.Status != law.StatusProposed && r.Status != law.StatusSuperseded {
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
