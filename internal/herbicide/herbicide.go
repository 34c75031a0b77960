package herbicide

import (
	"slices"

	"ligule/internal/pest"
	"ligule/internal/turf"
)

// Book holds what the advisory knows of weed killers: by classes that
// weather treats alike, and by active ingredients that grasses bear alike.
type Book struct {
	HeatC       float64            // forecast maximum above which none is used, °C
	HeatOn      map[string]float64 // lower limits by grass id, °C
	Classes     []Class
	Ingredients []Ingredient
	Cites       []turf.Cite
}

// Class is a group of active ingredients that act alike in weather.
// Temperatures are °C; NaN is "none" or "not known".
type Class struct {
	ID    string
	Title string // as readers know it
	HRAC  string // group of the Herbicide Resistance Action Committee

	Uptake      []Knot             // factor of temperature over the mean of three days, °C
	NightFloorC float64            // a colder night halves the uptake
	UsefulFromC float64            // air temperature of good work: from…
	UsefulToC   float64            // …to
	ColdC       float64            // not used while the mean of three days is below
	HeatC       float64            // not used where the forecast maximum is above
	HeatOn      map[string]float64 // lower limits by grass id, °C
	SoilC       float64            // not used while the 7-day mean of the soil is below
	RainfastH   float64            // hours without rain after it, where the label is silent

	// Days at about 20 °C, and from one application to the next.
	Symptoms, Death, Respray pest.DayRange
	MostPerYear              int  // applications; 0: not told
	FailsInDrought           bool // thirsty weeds survive it
	Note                     string
}

// Knot is a point of a curve that runs straight between its points and level
// beyond its ends.
type Knot struct{ X, Y float64 }

// Ingredient is one active ingredient, or several that grasses bear alike.
type Ingredient struct {
	Names     []string // active ingredients
	HRAC      string
	Class     string // id of its class; empty for those used before emergence alone
	Pre, Post bool   // works before weeds come up; works on weeds that are up
	Controls  string // in words
	Note      string // in words
	AtSeeding bool   // may be used when cool-season grass is seeded

	// Days that must pass before grass seed is broadcast or slit-seeded after
	// a use before emergence; 0: not known, so that none is called safe.
	BroadcastDays, SlitDays int

	tolerance map[string]Tolerance
}

// Tolerance is how a grass bears an active ingredient.
type Tolerance string

// The tolerances.
const (
	ToleranceSafe    Tolerance = "safe"         // at the label's rate, while it grows
	ToleranceCaution Tolerance = "caution"      // reduced rate, season, cultivar or passing injury
	ToleranceDormant Tolerance = "dormant only" // on fully dormant turf
	ToleranceNone    Tolerance = "do not use"
)

// Class returns the class of the id.
func (h *Book) Class(id string) (*Class, bool) {
	i := slices.IndexFunc(h.Classes, func(c Class) bool { return c.ID == id })
	if i < 0 {
		return nil, false
	}
	return &h.Classes[i], true
}

// Ingredient returns the entry that names the active ingredient.
func (h *Book) Ingredient(name string) (*Ingredient, bool) {
	i := slices.IndexFunc(h.Ingredients, func(a Ingredient) bool { return slices.Contains(a.Names, name) })
	if i < 0 {
		return nil, false
	}
	return &h.Ingredients[i], true
}

// On returns how the grass of the id bears the ingredient. What is not told is
// ToleranceNone: a use must be known to be safe.
func (a *Ingredient) On(grass string) Tolerance {
	if t, ok := a.tolerance[grass]; ok {
		return t
	}
	return ToleranceNone
}
