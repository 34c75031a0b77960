package pest

import (
	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Input is what a pest is judged by, for one grass of one zone. Nothing dated
// on the issue date or later counts, but for the forecast. It keeps what the
// pests share and is not to be copied once it was used.
type Input struct {
	Felt       *weather.Felt
	Daily      *turf.Daily
	Grass      *turf.Profile
	Issue      civil.Date
	Reports    []Report    // of the zone; those of another grass do not count
	Treatments []Treatment // likewise
	Lawn       bool        // the reports and treatments are those of one place of the zone
	YoungStand bool        // likewise, and it is known to be less than a year old
	// Forecasts are those on file, so that earlier weeks are stepped with the
	// forecast of their time. Without any, the forecast that Felt holds counts
	// for the issue, and earlier weeks have none.
	Forecasts []weather.Forecast
	Station   *Station // what it shares with others; nil: nothing

	record Record
	own    Station
}

// Assessment is what a pest comes to at an issue. NaN is "cannot be said".
type Assessment struct {
	ID    string
	Host  int // rank of the grass, 0 to 3
	Grade Grade
	Known bool // false: there was not enough weather, two issues running

	Score, Observed, Ahead float64 // week score and its parts, 0 to 1
	HasForecast            bool
	HumidityEstimated      bool
	Guessed                bool // on too many days for the weather alone to make it act
	Reported               bool // a confirmed report stands
	Due                    bool // the last report has just grown too old: somebody has to look again
	History                bool // found here in the same season of the last two years

	Lacks   []string // what is missing: "temperature", "rain", "humidity", "soil", "growth", "snow", "days"
	Invalid string   // why the model says nothing here, one of the Invalid codes; "" when it does

	Returns bool          // a season of infection is open, and it was found in the 400 days before that
	Wet     bool          // it goes with water, and water stood here while the grass grew
	Window  string        // of the first season of infection: "", "before", "open" or "after"
	Windows []WindowState // of each

	ProtectedUntil civil.Date // last day that a treatment on record counts for; zero: none
	Hidden         bool       // the grade is that of a season in which nothing shows yet
	Usual          Usual      // how the same week was in earlier years
	Since          civil.Date // from when it has asked for no less than now, but for short breaks, or its season is open; of a weed or insect, when its stage first came in the season
	Days           []DayRisk  // seven days before the issue date, seven from it on
	Percentile     float64    // of the score, among those of the same week of other years
}

// DayRisk is the risk of one day.
type DayRisk struct {
	Date     civil.Date
	Risk     float64 // 0 to 1; NaN if it cannot be said
	Forecast bool
}

// Why a model says nothing.
const (
	InvalidTooCold  = "too-cold"       // below the range of the model
	InvalidTooHot   = "too-hot"        // above it
	InvalidNoModel  = "no-model"       // there is no weather model of it
	InvalidRegion   = "outside-region" // published for other places
	InvalidRange    = "outside-range"  // it does not live here
	InvalidPageOnly = "page-only"      // it does not speak in the weekly advice
)

// WindowState is where a season stands at an issue.
type WindowState struct {
	ID       string     `json:"id"`
	Symptoms bool       `json:"symptoms,omitempty"` // it is when the disease shows, not when it infects
	State    string     `json:"state,omitempty"`    // "before", "open" or "after"; "" if the soil is not known
	Since    civil.Date `json:"since,omitzero"`     // first day of it; zero for "before"
}

// The states of a season.
const (
	WindowBefore = "before"
	WindowOpen   = "open"
	WindowAfter  = "after"
)
