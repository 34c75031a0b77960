package law

import (
	"slices"
	"strings"

	"ligule/internal/civil"
)

// Place is where somebody lives in the eyes of the law: every jurisdiction
// over it, upper first.
type Place struct {
	Name  string
	Chain []string // jurisdiction ids
}

// Actor is who applies, or sells.
type Actor string

// The actors. Homeowner and ForHire are always answered apart.
const (
	Homeowner     Actor = "homeowner"
	ForHire       Actor = "for_hire"
	Golf          Actor = "golf"
	Sports        Actor = "sports"
	Institutional Actor = "institutional"
	PublicAgency  Actor = "public_agency"
	Retailer      Actor = "retailer"
)

// Product is what would be applied. Percentages are of the product's weight.
type Product struct {
	Name     string
	NPct     float64
	P2O5Pct  float64
	K2OPct   float64
	SlowNPct float64 // slow-release nitrogen, % of the product's weight
	Class    string  // synthetic, natural_organic, enhanced_efficiency, starter, combination, mineral, lime, …
	Form     string  // granular, liquid; "" = not known

	// ReleaseMonths is the number of months over which the slow nitrogen is
	// released evenly; 0 = not known.
	ReleaseMonths int

	// Unknown says that only the nutrients are known, as in weekly advice:
	// then Nutrients names them and the figures above mean nothing. No
	// nutrient at all stands for a fertilizer without N and P, such as iron.
	Unknown   bool
	Nutrients []string // N, P
}

// Nutrients lists the letters of nutrients that the law is asked about: N, P,
// and "" for a fertilizer with neither.
func Nutrients() []string { return []string{"N", "P", ""} }

// ProductOf is a fertilizer of which only the nutrient is known, by its letter; or a
// pesticide of which only the use is, of [Pesticides].
func ProductOf(nutrient string) Product {
	p := Product{Unknown: true}
	if nutrient != "" {
		p.Nutrients = []string{nutrient}
	}
	return p
}

func (p *Product) pesticide() bool {
	return p.Unknown && len(p.Nutrients) == 1 && slices.Contains(Pesticides(), p.Nutrients[0])
}

// Question is one question to the law. What is not stated is not presumed: an
// exemption must be claimed, and a missing figure makes a limit a condition.
type Question struct {
	Place   Place
	Actor   Actor
	Product Product
	Date    civil.Date // of the application
	AsOf    civil.Date // when the question is asked; decides what is stale. Zero = Date

	RateLb1000       *float64 // product, lb per 1000 ft2
	AnnualNLb1000    *float64 // N applied so far this year, lb per 1000 ft2
	AnnualP2O5Lb1000 *float64 // P2O5 applied so far this year, lb per 1000 ft2
	Grass            string
	Site             string   // lawn (or ""), farm, sod_farm, vegetable_garden, …
	Gear             string   // rotary, rotary_deflector, drop_spreader, targeted_liquid, …
	DistanceFt       *float64 // to the water
	VegetatedStripFt *float64
	SoilTest         *SoilTest
	NewTurf          bool
	GrowingSeason    int // of new turf: 1 = its first, and so if 0
	Repair           bool
	Planted          civil.Date
	Seasons          []Season
	Claims           []string
	Weather          *Weather // nil = no weather data

	// DailyWeather gives the weather of each day to [Book.Week], in place of
	// Weather; nil if there is none.
	DailyWeather func(civil.Date) *Weather
}

// SoilTest is a soil test for phosphorus.
type SoilTest struct {
	Date       civil.Date
	PDeficient bool
}

// Season is a growing season that the owner has stated. It says something
// about the calendar years that it touches and about no other.
type Season struct {
	Name string // growing
	From civil.Date
	To   civil.Date // zero = has not ended yet
}

// Weather is what is known of weather and ground on the day. Rain is in
// inches; a nil figure is not known.
type Weather struct {
	Alerts            []Alert  // in force for any part of the county, the one that ends last first
	ForecastRainIn24h *float64 // rolling maximum, not a calendar day's sum
	ObservedRainIn24h *float64
	ForecastRain      *RainSteps // finer than the figure above, and preferred to it
	ObservedRain      *RainSteps
	Ground            []string // frozen, snow, saturated
	FrostDepthIn      *float64 // of frozen ground; nil = unknown, counts as deep enough
}

// Alert is an official alert that is in force on the day.
type Alert struct {
	Event    string     // its official name
	Until    civil.Date // when it is over, on the clock of the place; zero = not known
	UntilMin int        // minutes after midnight
	Open     bool       // holds until further notice: only its message runs out then
}

// Named finds the alert among official names, in whichever case it is written, and
// returns it as it is written there.
func (a Alert) Named(names []string) (Alert, bool) {
	i := slices.IndexFunc(names, func(n string) bool { return strings.EqualFold(n, a.Event) })
	if i >= 0 {
		a.Event = names[i]
	}
	return a, i >= 0
}

// RainSteps is rain in equal, consecutive steps of time.
type RainSteps struct {
	StepHours float64
	In        []float64
}
