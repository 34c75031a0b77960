package herbicide

import (
	"slices"

	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Book holds what the advisory knows of weed killers: by classes that
// weather treats alike, and by active ingredients that grasses bear alike.
type Book struct {
	Heat        pest.Figure            // forecast maximum above which none is used
	HeatOn      map[string]pest.Figure // lower limits by grass id
	Classes     []Class
	Ingredients []Ingredient
	Cites       []turf.Cite // all of its file
}

// Class is a group of active ingredients that act alike in weather.
// What is not known of its figures is "none" or "not told".
type Class struct {
	ID    string
	Title string // as readers know it
	HRAC  string // group of the Herbicide Resistance Action Committee

	Uptake     []Knot                 // factor of temperature over the mean of three days, °C
	NightFloor pest.Figure            // a colder night halves the uptake
	UsefulFrom pest.Figure            // air temperature of good work: from…
	UsefulTo   pest.Figure            // …to
	Cold       pest.Figure            // not used while the mean of three days is below
	Heat       pest.Figure            // not used where the forecast maximum is above
	HeatOn     map[string]pest.Figure // lower limits by grass id
	Soil       pest.Figure            // not used while the 7-day mean of the soil is below
	Rainfast   pest.Figure            // hours without rain after it, where the label is silent

	// Days at about 20 °C, and from one application to the next.
	Symptoms, Death, Respray pest.Cited[pest.DayRange]
	Judging                  pest.Cited[Waits]
	MostPerYear              pest.Cited[int]  // applications; 0: not told
	FailsInDrought           pest.Cited[bool] // thirsty weeds survive it
	Note                     string
}

// Waits are the days before what was sprayed is judged, and with that before it is
// sprayed again, in cold weather, from CoolC on and from MildC on, means of the day
// of use and the next two.
type Waits struct {
	Cold, Cool, Mild int
	CoolC, MildC     float64
}

// In returns the days in the weather of the mean; where it is not known, the longest.
// They are 0 for what tells none.
func (w Waits) In(mean3C float64) int {
	switch x := quantity.Tenths(mean3C); {
	case x >= quantity.Tenths(w.MildC):
		return w.Mild
	case x >= quantity.Tenths(w.CoolC):
		return w.Cool
	}
	return w.Cold
}

// Knot is a point of a curve that runs straight between its points and level
// beyond its ends.
type Knot struct{ X, Y float64 }

// Ingredient is one active ingredient, or several that grasses bear alike.
type Ingredient struct {
	Names     []string // active ingredients
	HRAC      string
	Class     string           // id of its class; empty for those used before emergence alone
	Pre, Post bool             // works before weeds come up; works on weeds that are up
	Controls  string           // in words
	Note      string           // in words
	AtSeeding pest.Cited[bool] // may be used when cool-season grass is seeded

	// Days that must pass before grass seed is broadcast or slit-seeded after
	// a use before emergence; 0: not known, so that none is called safe.
	Broadcast, Slit pest.Cited[int]

	tolerance map[string]pest.Cited[Tolerance]
	// Exceptions are the grasses whose tolerance has a source of its own, as the
	// file names them together.
	Exceptions [][]string
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
func (a *Ingredient) On(grass string) Tolerance { return a.Borne(grass).Value }

// Borne is [Ingredient.On] with where it comes from.
func (a *Ingredient) Borne(grass string) pest.Cited[Tolerance] {
	if t, ok := a.tolerance[grass]; ok {
		return t
	}
	return pest.Cited[Tolerance]{Value: ToleranceNone}
}
