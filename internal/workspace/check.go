package workspace

import (
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/weather"
)

// LintLaw records what is wrong or stale in the law records as of a day.
func (ws *Workspace) LintLaw(asOf civil.Date, list *diag.List) {
	law.Lint(ws.Ordinances, ws.Places, asOf, list)
	bodies := map[string]bool{}
	for _, r := range ws.Ordinances {
		bodies[r.Jurisdiction] = true
	}
	for _, j := range ws.Places {
		if j.Coverage == "none_found" {
			bodies[j.ID] = true
		}
	}
	for _, z := range ws.Zones {
		file := "data/zones/" + z.ID + ".toml"
		if len(z.Places) == 0 {
			list.Warnf(diag.Pos{File: file}, "add a [[place]] with its jurisdictions", "no place: local law is not known here, so no feeding advice is cleared")
		}
		for _, p := range z.Places {
			for _, id := range p.Chain {
				if !bodies[id] {
					list.Warnf(diag.Pos{File: file, Key: "place"}, "look the rules up and add a record, or coverage = \"none_found\" with the day",
						"%s: nobody has looked up %q, so no feeding advice is cleared there", p.Name, id)
				}
			}
		}
	}
}

// staleDays is how old the last observation may be before check warns.
const staleDays = 8

// CheckWeather warns of stations without records, records that have ended, and
// long gaps of the last year.
func (ws *Workspace) CheckWeather(today civil.Date, list *diag.List) {
	for _, s := range ws.Stations {
		at := diag.Pos{File: DailyFile(s.ID)}
		if s.Records == nil || s.Records.Len() == 0 {
			list.Warnf(at, "add records with ligule import", "station %s has no weather: its zones withhold advice", s.ID)
			continue
		}
		if last := s.Records.End(); today-last > staleDays {
			list.Warnf(at, "add records with ligule import", "the last record is of %s", last)
		}
		gap := 0
		for d := max(s.Records.Start, s.Records.End().AddDays(-365)); d <= s.Records.End(); d++ {
			if !missing(s.Records, d) {
				gap = 0
				continue
			}
			if gap++; gap == weather.GapMaxDays+1 {
				list.Warnf(at, "fill it if the record exists elsewhere", "a gap of more than %d days at %s: soil and water balance start again after it", weather.GapMaxDays, d)
			}
		}
	}
}

func missing(s *weather.Series, d civil.Date) bool {
	for _, c := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM} {
		if x := s.At(c, d); x != x {
			return true
		}
	}
	return false
}
