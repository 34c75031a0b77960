package weather

import (
	"ligule/internal/civil"
)

// Forecast is one forecast as it was on the day it was issued.
type Forecast struct {
	Issued civil.Date
	Days   *Series
}

// Basis says where a value comes from.
type Basis uint8

// The bases, from nothing to what was measured last.
const (
	Missing     Basis = iota // nothing is known
	Observed                 // recorded at the station
	Estimated                // a short gap, filled
	ForecastDay              // from the forecast, on or after the issue date
)

// String returns "missing", "observed", "estimated" or "forecast".
func (b Basis) String() string {
	switch b {
	case Observed:
		return "observed"
	case Estimated:
		return "estimated"
	case ForecastDay:
		return "forecast"
	}
	return "missing"
}

// View is the weather of one station as one issue may see it. It is never
// changed after AsOf has made it and may be shared.
type View struct {
	Station        Station
	IssueDate      civil.Date
	Days           *Series    // weather days: observed, filled, then forecast
	ForecastIssued civil.Date // the forecast in use; zero: none on file
	LastRecord     civil.Date // newest record date before the issue date; zero: none
	basis          [Columns][]Basis
}

// AsOf returns what an issue may see of a station's records and forecasts.
func AsOf(st Station, records *Series, forecasts []Forecast, issue civil.Date) *View {
	return &View{Station: st, IssueDate: issue, Days: records}
}

// Basis returns where the value of a column on a day comes from.
func (v *View) Basis(c Column, d civil.Date) Basis {
	i, ok := v.Days.Index(d)
	if !ok || v.basis[c] == nil {
		return Missing
	}
	return v.basis[c][i]
}
