package turf

import "ligule/internal/civil"

// State is what a lawn does, in one word.
type State string

// The states, in order of precedence.
const (
	Dormant    State = "dormant"     // by soil, freezes or drought, whatever the index says
	Flush      State = "flush"       // a surge of growth
	Growing    State = "growing"     // index of 0.25 or more
	GreeningUp State = "greening up" // below that, and rising, in the first half of the year
	Recovering State = "recovering"  // the same in the second half: out of drought or heat, not out of winter
	Resting    State = "resting"     // still green, almost no growth
	Slowing    State = "slowing"     // between resting and growing, not rising
)

// States lists the states.
func States() []State {
	return []State{Dormant, Flush, Growing, GreeningUp, Recovering, Resting, Slowing}
}

// Factor is one of the factors of the growth index.
type Factor string

// The factors, in the order in which ties are settled.
const (
	Temperature Factor = "temperature"
	Light       Factor = "light"
	DayLength   Factor = "day length"
	Water       Factor = "water"
)

// DormantCause is what put a lawn to sleep.
type DormantCause string

// The causes.
const (
	ColdSoil DormantCause = "soil"
	ColdAir  DormantCause = "air" // where the soil is not known
	Frozen   DormantCause = "freeze"
	Drought  DormantCause = "drought"
)

// Grows reports whether grass in the state is known to grow at all.
func (s State) Grows() bool { return s != "" && s != Dormant && s != Resting }

// DormantCauses lists the causes.
func DormantCauses() []DormantCause { return []DormantCause{ColdSoil, ColdAir, Frozen, Drought} }

// Sense is in which way a factor fell.
type Sense string

// The senses.
const (
	Cool      Sense = "cool"
	Hot       Sense = "hot"
	GreySkies Sense = "grey skies"
	LowSun    Sense = "low sun"
	ShortDays Sense = "short days"
	Dry       Sense = "dry"
)

// Senses lists the senses.
func Senses() []Sense { return []Sense{Cool, Hot, GreySkies, LowSun, ShortDays, Dry} }

// Lack is something without which a window cannot be told in full.
type Lack string

// What may be missing.
const (
	LacksTemperature Lack = "temperature"
	LacksLight       Lack = "light"
	LacksSoil        Lack = "soil"
	LacksBalance     Lack = "balance"
)

// Growth is what one 7-day window came to. NaN is "cannot be said".
type Growth struct {
	Last   civil.Date // last day of the window
	Days   int        // valid days in it
	Enough bool       // the state can be told
	Lacks  []Lack     // what is missing, in the order of the constants

	MeanC      float64 // mean air temperature, °C
	DayLengthH float64 // h
	LightMol   float64 // daily light integral, mol m⁻² d⁻¹
	Soil5C     float64 // soil under grass at 5 cm, °C
	Soil10C    float64 // and at 10 cm, °C

	FT, FL, FP, FW float64 // factors for temperature, light, day length, water, 0 to 1
	G              float64 // growth index, 0 to 1, halved while set back; NaN without the balance
	Smallest       Factor
	G14, G21       float64 // the index of the same window 14 and 21 days earlier

	State      State        // "" unless Enough
	DormantWhy DormantCause // "" unless dormant
	SetBack    bool         // a freeze fell on green spring turf within the window

	FreezeNights int // nights of 28 °F or less since 1 September

	MowDays      int     // days between mowings, rounded down; 0: no mowing expected
	MowExactDays float64 // the same before rounding; NaN when none is expected

	Falling *Slowdown // the slowdown and its cause, when there is one

	// The root zone without irrigation. How much of it a watered lawn has
	// used is not known: there, DepletionMM and NeedMM are NaN.
	DepletionMM float64 // depletion at the end of the last day
	TAWMM       float64 // total available water
	RAWMM       float64 // readily available water
	NeedMM      float64 // water to put on: the depletion once it has reached RAWMM, else 0
	BalanceOK   bool    // the depletion of the last day can be told

	RainMM, ETMM float64 // sums over the valid days
}

// Slowdown names the factor that slowed the grass: that which fell by the
// largest share over 21 days.
type Slowdown struct {
	Cause    Factor
	Sense    Sense
	Since    civil.Date // last day on which the factor was near its recent high
	From, To float64    // the factor then and now
}

// Reading is what an issue may know of a grass.
type Reading struct {
	RainFed Growth  // without irrigation
	Watered *Growth // never short of water; nil if that gives the same state and days between mowings
	Ahead   *Growth // the 7 days from the issue date on, by forecast; nil without one
}
