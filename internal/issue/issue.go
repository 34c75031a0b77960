// Package issue makes one week's issue: every zone's weather, readings and law,
// the author's notes, and what changed since the week before. It knows no HTML.
package issue

import (
	"ligule/internal/advice"
	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/pest"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// Issue is one week for the whole region, as of its issue date.
type Issue struct {
	Week  civil.Week
	Date  civil.Date      // the issue date
	Note  *workspace.Page // the author's note for the region, or nil
	Zones []*Zone         // in the order of the zones' names
}

// Zone is one zone's part of an issue.
type Zone struct {
	*workspace.Zone
	ClimateName string
	StationName string
	Note        *workspace.Page // the author's note for the zone, or nil
	Weather     *Weather        // nil: no weather at all for this zone; advice is withheld
	Grasses     []*Grass        // in the zone's own order
	Law         Law
	Changed     []advice.Reason // what changed since last week, at most four
	Year        *Year           // nil without weather
}

// Grass is one grass of a zone.
type Grass struct {
	Profile *turf.Profile
	Reading *advice.Reading
	Year    *GrassYear // nil without weather; zones of one station share it
}

// Weather is the week's weather as grass felt it: the seven days before the
// issue date, and the days ahead that a forecast on file covers.
type Weather struct {
	LastRecord     civil.Date // newest observation used
	ForecastIssued civil.Date // zero: no forecast on file
	Past, Ahead    []Day
	PastSum        Sums
	AheadSum       Sums
	Hours          []pest.Hour // hourly forecast from the issue date through the week's Sunday; empty: none
	HourlyIssued   civil.Date  // when it was issued; zero: none on file
	// How light and evapotranspiration were found over the past days.
	RadiationRung, HumidityRung, WindRung agromet.Rung
	SoilMethod                            weather.SoilMethod
	ETBandPct, LightBandPct               float64
}

// Day is one day of Weather; NaN is missing.
type Day struct {
	Date                 civil.Date
	TmaxC, TminC, RainMM float64
	Soil5C, Soil10C      float64
	DaylightH            float64
	TempBasis, RainBasis weather.Basis
}

// Sums are totals and means over the known days of a span; NaN when too few.
type Sums struct {
	Days                          int // observed (or forecast) days
	MeanC, RainMM, ETMM, LightMol float64
	Soil5C, Soil10C, DaylightH    float64
}

// Law is the local law of a zone for the week.
type Law struct {
	Places     []PlaceLaw
	Varies     bool            // places differ: each is shown
	Closed     []advice.Reason // closures in force this week, each with place, days, law and source; nitrogen, homeowner
	Unknown    []advice.Reason // why a place is not cleared, if it is not
	NextChange []advice.Reason // the next opening or closing after the week, per place
	Flags      []advice.Reason // stale, unverified, …: printed sentences
}

// PlaceLaw is the law of one place.
type PlaceLaw struct {
	Place      law.Place
	Homeowner  law.PlaceWeek // nitrogen
	ForHire    law.PlaceWeek // nitrogen
	Phosphorus law.PlaceWeek // homeowner
	Home, Hire PlaceReasons  // nitrogen: for who does it at home, and for who is paid to do it
	Records    []*law.Record // the chain's records that speak, upper first
	Watering   law.WaterWeek // with water of the public supply
}

// PlaceReasons words what the law of one place says to one person.
type PlaceReasons struct {
	Closed     []advice.Reason // each closing law with its days
	Unknown    []advice.Reason // why it is not cleared
	Conditions []advice.Reason // limits and duties
	Next       []advice.Reason // the next opening or closing after the week
}
