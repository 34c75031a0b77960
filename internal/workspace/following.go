package workspace

import (
	"slices"

	"ligule/internal/weather"
)

// followingDays reach from an issue date two days past its week, as far as any
// gate looks.
const followingDays = 10

// Following returns the workspace with the days that followed every issue as its
// forecast, where none was on file. They are daily: of hours, wind and humidity the
// records know too little.
func (ws *Workspace) Following() *Workspace {
	out := *ws
	out.Stations = slices.Clone(ws.Stations)
	newest, _ := ws.DefaultWeek()
	for i := range out.Stations {
		st := &out.Stations[i]
		if st.Records == nil || st.Records.Len() == 0 {
			continue
		}
		onFile := st.Forecasts
		st.Forecasts = slices.Clone(onFile)
		for w := st.Records.Start.Week(); !newest.Before(w); w = w.AddWeeks(1) {
			if issue := ws.Site.IssueDate(w); weather.Newest(onFile, issue) == nil {
				st.Forecasts = append(st.Forecasts, weather.Following(st.Station, st.Records, issue, followingDays))
			}
		}
		slices.SortFunc(st.Forecasts, func(a, b weather.Forecast) int { return int(a.Issued - b.Issued) })
	}
	return &out
}
