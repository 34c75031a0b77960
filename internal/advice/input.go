package advice

import (
	"math"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/season"
	"ligule/internal/spray"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Input is all that a Reading is made from: nothing else is looked at.
type Input struct {
	Week       civil.Week
	IssueDate  civil.Date
	ZoneName   string
	Climate    string
	State      string // code of the state whose rules on pesticides hold; "" not told
	Grass      *turf.Profile
	Felt       *weather.Felt // nil: no weather on file
	Daily      *turf.Daily   // the same weather run through the grass; nil with Felt
	Pests      *Book
	Reports    []pest.Report      // scouting of the zone before the issue date, oldest first
	Treatments []pest.Treatment   // likewise
	Forecasts  []weather.Forecast // all on file up to the issue date, by date of issue
	Alerts     []weather.Alert    // official ones of the zone that are not over on the issue date
	Hours      []spray.Hour       // of the hourly forecast, from the issue date through the week; nil: none on file
	Lawn       *season.Lawn       // the grass at the station; nil with Felt
	Station    *pest.Station      // what pests see of the station, shared by its grasses; nil: made for this one
	Calendar   *season.Calendar   // of the grass in the climate; nil: none on file
	Law        ZoneLaw
	Rules      []*Rule
	Conflicts  []*Conflict
	Catalogue  *Catalogue
	Cautions   []Caution
	Bags       []Bag
	Units      quantity.System
	Brief      bool // rules that do not hold need no words

	lawn   *lawn    // the one place of the zone that it is of; nil: the zone
	places []*Input // of the zone

	grown map[int]turf.Reading // by days ago
	found []*Pest              // what Pests come to on the grass

	chosen   map[*Pest]herbicideChoice
	sprayed  map[spray.Limits]spray.Week
	nitrogen *nitrogenYear
	calendar []season.Reading
	withheld []*Conflict // that keep lines of pests' texts back
}

// growth returns the turf's reading as of a number of days before the issue
// date: the same windows, ending earlier.
func (in *Input) growth(ago int) turf.Reading {
	if in.Daily == nil {
		return turf.Reading{}
	}
	r, ok := in.grown[ago]
	if !ok {
		if in.grown == nil {
			in.grown = map[int]turf.Reading{}
		}
		r = in.Daily.At(in.IssueDate.AddDays(-ago))
		in.grown[ago] = r
	}
	if in.lawn != nil && in.lawn.mownDays > 0 {
		r.RainFed.MowDays = in.lawn.mownDays // who mows knows better
	}
	return r
}

// value measures an indicator as of a number of days before the issue date.
// The pest is for indicators that are asked of one.
func (in *Input) value(ind *Indicator, p *Pest, ago int) Value {
	v := Value{Num: math.NaN()}
	switch {
	case ago != 0 && ind.onlyNow(): // what a forecast said days ago is not kept
	case ind.Of == "":
		v = ind.measure(in, ago)
	case p != nil:
		v = ind.of(in, p)
	}
	v.Indicator = ind
	return v
}

// mine reports whether a line of a log is about the grass: one that names none
// is about every grass of the zone.
func (in *Input) mine(grass string) bool { return grass == "" || grass == in.Grass.ID }
