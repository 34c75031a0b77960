package pest

import (
	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Disease is one disease of turf as its data file tells it.
type Disease struct {
	ID       string // the name of its file
	Name     string
	Also     []string // other names
	Pathogen string
	About    string

	Model   RiskModel
	Windows []SoilWindow // soil-timed seasons, the one that grades first
	Limits  Limits
	Cap     Grade // highest grade that weather alone may give
	Extra   Additions

	DormantStops bool // quiet while the grass is dormant

	Placement Placement
	Treatment TreatmentRule
	Groups    []FungicideGroup
	Rotation  RotationLimits
	Injury    []Injury

	LookFor, LookAlikes, Culture []Saying
	Worth, Water                 Saying // when treatment is worth it; what to do with water after it

	Cites []turf.Cite

	hosts map[string]int
}

// Saying is a sentence that pages print, with where it comes from.
type Saying struct {
	Text string
	Cite turf.Cite
}

// Host returns the rank of a grass, 0 (no host) to 3 (main host); told is false
// where the file does not say.
func (d *Disease) Host(grass string) (rank int, told bool) {
	rank, told = d.hosts[grass]
	return rank, told
}

// Additions are added to a week score, which stays at most 1.
type Additions struct {
	History       float64 // found here in the same season of the last two years
	StandingWater float64 // water stood in three weeks or more of July to September
	YoungStand    float64 // the lawn is less than a year old
}

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
	YoungStand bool        // less than a year old
	// Forecasts are those on file, so that earlier weeks are stepped with the
	// forecast of their time. Without any, the forecast that Felt holds counts
	// for the issue, and earlier weeks have none.
	Forecasts []weather.Forecast

	shared shared
}

// Assessment is what a pest comes to at an issue. NaN is "cannot be said".
type Assessment struct {
	ID, Kind string
	Host     int // rank of the grass, 0 to 3
	Grade    Grade
	Known    bool // false: there was not enough weather, two issues running

	Score, Observed, Ahead float64 // week score and its parts, 0 to 1
	HasForecast            bool
	HumidityEstimated      bool
	Reported               bool // a confirmed report stands
	History                bool // found here in the same season of the last two years

	Lacks   []string // what is missing: "temperature", "rain", "humidity", "soil", "growth", "snow", "days"
	Invalid string   // why the model says nothing here, one of the Invalid codes; "" when it does

	Window      string // of the first soil window: "", "before", "open" or "after"
	WindowSince civil.Date
	Windows     []WindowState // of each

	ProtectedUntil civil.Date // last day that a treatment on record counts for; zero: none
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
	InvalidTooCold = "too-cold" // below the range of the model
	InvalidTooHot  = "too-hot"  // above it
	InvalidNoModel = "no-model" // there is no weather model of it
)
