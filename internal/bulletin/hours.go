package bulletin

import (
	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/spray"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// hoursAhead returns the hours that the hourly forecast of a zone's station
// tells about, from the issue date of a week through its Sunday, with the sun
// of the zone's own place, and when it was issued. Both are zero where none was
// on file.
func hoursAhead(ws *workspace.Workspace, z *workspace.Zone, week civil.Week) ([]spray.Hour, civil.Date) {
	st, ok := ws.Station(z.Station)
	if !ok {
		return nil, 0
	}
	date := ws.Site.IssueDate(week)
	forecast := weather.NewestHourly(st.Hourly, date)
	if forecast == nil {
		return nil, 0
	}
	return sunlit(forecast.Hours, z.LatitudeDeg, z.LongitudeDeg, date, week.Sunday()), forecast.Issued
}

// sunlit returns the hours from first to last, both inside, with how far the
// middle of each is from the sunrise and the sunset of its date, on whichever
// clock it was told.
func sunlit(hours []weather.Hour, latDeg, lonDeg float64, first, last civil.Date) []spray.Hour {
	const halfHourMin, hourMin = 30, 60
	var out []spray.Hour
	var sun agromet.SunClock
	var sunOf civil.Date
	for _, h := range hours {
		if h.Date < first || h.Date > last {
			continue
		}
		if h.Date != sunOf {
			sun, sunOf = agromet.SunTimes(latDeg, lonDeg, h.Date.Year(), h.Date.YearDay()), h.Date
		}
		middleUTCMin := float64(h.Of*hourMin + halfHourMin - h.UTCOffsetMin)
		out = append(out, spray.Hour{
			Date: h.Date, Of: h.Of, TC: h.TC, RHPct: h.RHPct, WindMS: h.WindMS, GustMS: h.GustMS, CloudPct: h.CloudPct, RainMM: h.RainMM,
			SinceSunriseH: (middleUTCMin - sun.RiseUTCMin) / hourMin,
			ToSunsetH:     (sun.SetUTCMin - middleUTCMin) / hourMin,
		})
	}
	return out
}
