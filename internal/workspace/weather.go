package workspace

import (
	"path"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/weather"
)

// DailyFile is where a station's observations are.
func DailyFile(station string) string { return path.Join("data/weather", station, "daily.csv") }

// weather reads a station's observations and forecasts. A station without any
// is no mistake: its zones say that they have no weather.
func (l *loader) weather(s *Station) {
	file := DailyFile(s.ID)
	if l.exists(file) {
		if text, ok := l.read(file); ok {
			s.Records = weather.ReadDaily(file, text, l.list)
		}
	}
	for _, file := range l.files(path.Join("data/weather", s.ID, "forecast"), ".csv") {
		name, hourly := strings.CutSuffix(strings.TrimSuffix(path.Base(file), ".csv"), "-hourly")
		issued, err := civil.ParseDate(name)
		if err != nil {
			l.list.Errorf(diag.Pos{File: file}, "name it by the day it was issued, such as 2026-11-22.csv, or 2026-11-22-hourly.csv if it is hourly", "%v", err)
			continue
		}
		text, ok := l.read(file)
		switch {
		case !ok:
		case hourly:
			s.Hourly = append(s.Hourly, weather.ReadHourlyForecast(file, text, issued, l.clock, l.list))
		default:
			s.Forecasts = append(s.Forecasts, weather.ReadForecast(file, text, issued, l.list))
		}
	}
	slices.SortFunc(s.Forecasts, func(a, b weather.Forecast) int { return int(a.Issued - b.Issued) })
	slices.SortFunc(s.Hourly, func(a, b weather.HourlyForecast) int { return int(a.Issued - b.Issued) })
}

// alerts reads the lists of official alerts.
func (l *loader) alerts() {
	for _, file := range l.files("data/weather/alerts", ".json") {
		received, err := weather.ParseReceived(strings.TrimSuffix(path.Base(file), ".json"), l.clock)
		if err != nil {
			l.list.Errorf(diag.Pos{File: file}, "name it by when it was received, such as 2026-11-22.json or 2026-11-22T0600.json", "%v", err)
			continue
		}
		if text, ok := l.read(file); ok {
			l.ws.Alerts = append(l.ws.Alerts, weather.ReadAlerts(file, text, received, l.list))
		}
	}
	slices.SortStableFunc(l.ws.Alerts, func(a, b weather.AlertList) int { return a.Received.Compare(b.Received) })
}

// DefaultWeek returns the newest week whose issue date is not after the day
// after the last record of the best-supplied station. ok is false if there is
// no record at all.
func (ws *Workspace) DefaultWeek() (week civil.Week, ok bool) {
	var last civil.Date
	for _, s := range ws.Stations {
		if s.Records != nil && s.Records.Len() > 0 {
			last = max(last, s.Records.End())
		}
	}
	if last.IsZero() {
		return civil.Week{}, false
	}
	// The issue date lies at most six days before the Monday of its week.
	week = last.AddDays(1 + 7).Week()
	for ws.Site.IssueDate(week) > last.AddDays(1) {
		week = week.AddWeeks(-1)
	}
	return week, true
}
