package disease

import (
	"ligule/internal/pest"
	"ligule/internal/turf"
)

// Disease is one disease of turf as its data file tells it.
type Disease struct {
	ID       string // the name of its file
	Name     string
	Also     []string // other names
	Pathogen string
	About    Saying

	Model   RiskModel
	Windows []SoilWindow // soil-timed seasons, the one that grades first
	Limits  Limits
	Cap     pest.Grade // highest grade that weather alone may give
	Extra   Additions

	Range        pest.Range
	DormantStops bool // quiet while the grass is dormant

	Nitrogen pest.Cited[NitrogenEffect]

	Placement Placement
	Treatment TreatmentRule
	Groups    []FungicideGroup
	Rotation  RotationLimits
	Injury    []Injury

	LookFor, LookAlikes, Culture []Saying
	Worth, Water                 Saying // when treatment is worth it; what to do with water after it

	pest.Hosts
	Cites []turf.Cite // all of its file
}

// Saying is a sentence that pages print, with where it comes from.
type Saying struct {
	Text string
	Cite turf.Cite

	Uses []string // of what helps without a fungicide: what it has the reader use
}

// NitrogenEffect is what feeding the grass does to a disease.
type NitrogenEffect string

// The effects.
const (
	NitrogenFeeds   NitrogenEffect = "feeds"   // it makes the disease worse
	NitrogenHunger  NitrogenEffect = "hunger"  // the lack of it does
	NitrogenNeutral NitrogenEffect = "neutral" // a light feeding does not
)

// NitrogenEffects lists them.
func NitrogenEffects() []NitrogenEffect {
	return []NitrogenEffect{NitrogenFeeds, NitrogenHunger, NitrogenNeutral}
}

// Additions are added to a week score, which stays at most 1.
type Additions struct {
	History       float64 // found here in the same season of the last two years
	StandingWater float64 // it goes with water, which stood in three weeks or more of July to September, or on the one lawn
	YoungStand    float64 // the lawn is less than a year old
}
