package workspace

import (
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/weather"
)

// CheckSite warns of what a publication should have and this one lacks.
func (ws *Workspace) CheckSite(list *diag.List) {
	at := diag.Pos{File: "data/advisory.toml", Key: "postal_address"}
	if ws.Site.PostalAddress == "" {
		list.Warnf(at, "add it", "missing: mail to subscribers needs the sender's postal address in many countries, and the newsletter shows a gap for it")
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
	return slices.ContainsFunc([]weather.Column{weather.TmaxC, weather.TminC, weather.RainMM},
		func(c weather.Column) bool { return math.IsNaN(s.At(c, d)) })
}
