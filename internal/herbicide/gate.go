package herbicide

import (
	"math"

	"ligule/internal/civil"
	"ligule/internal/quantity"
	"ligule/internal/spray"
	"ligule/internal/turf"
)

// Bar is a reason for not using a herbicide, or for using it with care.
type Bar string

// The bars that hold a use back…
const (
	BarIntolerant Bar = "intolerant"      // the grass would be injured
	BarNotDormant Bar = "not-dormant"     // borne by dormant turf only, and this is not
	BarGreenUp    Bar = "green-up"        // warm-season grass greening up
	BarHeat       Bar = "heat"            // the forecast maximum of the day or the next two
	BarCold       Bar = "cold"            // the mean of the three days
	BarCoolSoil   Bar = "cool-soil"       // the 7-day mean of the soil
	BarFrost      Bar = "frost"           // a hard frost in the last 48 h, on a summer weed
	BarDrought    Bar = "drought"         // turf wilts, and thirsty weeds do not take it up
	BarRain       Bar = "rain"            // rain before it is fast
	BarNoHours    Bar = "no-hours"        // none of the day's hours is fit to spray
	BarYoungTurf  Bar = "young-turf"      // seeded too short a time ago
	BarRepeat     Bar = "repeat"          // too soon after the last use
	BarUnjudged   Bar = "unjudged"        // too soon to judge what was used on the same weeds
	BarYearly     Bar = "yearly"          // the year's uses are used up
	BarMowing     Bar = "mowing"          // mown within two days
	BarNoWeather  Bar = "weather-unknown" // nothing to judge heat, cold or rain by
)

// …and those that go with it.
const (
	BarCareful Bar = "careful"     // the grass bears it with caution only
	BarNotTold Bar = "label-asked" // an interval is not known here: the label has it
	BarThirst  Bar = "dry-soil"    // the soil is drier than the class works well in
)

// Holds reports whether the bar holds the use back.
func (b Bar) Holds() bool {
	switch b {
	case BarCareful, BarNotTold, BarThirst:
		return false
	}
	return true
}

// Finding is a bar with what was found.
type Finding struct {
	Bar   Bar
	Value float64    // °C, mm, fraction or count, as the bar asks; NaN: nothing was measured
	Limit float64    // what it was held against; NaN: nothing
	Until civil.Date // first day on which it holds no more, where that is known
}

// Use is a use of one active ingredient to be judged. NaN and zero
// dates are "not known".
type Use struct {
	Ingredient   *Ingredient
	PreEmergence bool // used before the weeds are up
	SummerWeed   bool // the weed is one of summer
	Grass        *turf.Profile
	State        turf.State
	Date         civil.Date // of the application

	TmaxC      [3]float64 // forecast maxima of the day and the next two, °C
	Mean3C     float64    // mean of the daily means of the three days, °C
	LowestC48h float64    // lowest temperature of the last 48 h, °C
	SoilC      float64    // 7-day mean of the soil at 5 cm, °C
	Water      float64    // relative available water of the root zone, 0 to 1
	RainMM     float64    // rain forecast within the hours it needs to be fast, mm; of all days that they may reach into where it is known by days
	NoFitHours bool       // the hours of the day are known, and none is fit

	Last      civil.Date // last use of the same class
	ThisYear  int        // uses of it in this calendar year
	LabelDays int        // the label's interval, days; 0: not told
	Symptoms  float64    // days to first symptoms after the last use; NaN: not reckoned

	Sprayed   civil.Date // last use of any class on the same weeds
	JudgeDays int        // days before that is judged

	Seeded civil.Date // the lawn was last seeded
	Mown   civil.Date // mowing nearest to the date, before or after
}

// Limits of the gates, own design unless told.
const (
	hardFrostC    = -2.0
	wiltingWater  = 0.25
	dryWater      = 0.45
	mowingGapDays = 2   // common practice, no source
	grownInDays   = 365 // preemergence on turf of a year or more: University of Georgia Extension 2021, Preemergent herbicides
)

// Judge returns what speaks against the use, what holds it back first, in a
// fixed order; nil where nothing does. Temperatures and rain are compared at one
// decimal. The label of the product always goes before it.
//
// Gates of heat, rain, water, frost and mowing: own design on the cautions of
// University of Georgia Extension 2019 (Getting home lawns ready for spring
// green up) and common practice.
func (h *Book) Judge(use Use) []Finding {
	j := judge{use: use, h: h}
	j.class, _ = h.Class(use.Ingredient.Class)
	j.grass()
	if !use.PreEmergence {
		j.weather()
	}
	j.repeat()
	j.lawn()
	j.cautions()
	return j.found
}

// JudgeLawn returns what speaks against the use on one lawn, whatever the
// weather: how lately it was mown and how young it is.
func (h *Book) JudgeLawn(use Use) []Finding {
	j := judge{use: use, h: h}
	j.lawn()
	return j.found
}

type judge struct {
	use   Use
	h     *Book
	class *Class // nil for what is used before emergence alone
	found []Finding
}

func (j *judge) add(b Bar, value, limit float64, until civil.Date) {
	j.found = append(j.found, Finding{Bar: b, Value: value, Limit: limit, Until: until})
}

func (j *judge) plain(b Bar) { j.add(b, math.NaN(), math.NaN(), 0) }

// grass: whether it bears the ingredient, and is in a state to.
func (j *judge) grass() {
	dormant := j.use.State == turf.Dormant
	switch j.use.Ingredient.On(j.use.Grass.ID) {
	case ToleranceNone:
		j.plain(BarIntolerant)
	case ToleranceDormant:
		if !dormant {
			j.plain(BarNotDormant)
		}
	}
	if j.use.Grass.Kind == turf.WarmSeason && !j.use.PreEmergence && j.use.State == turf.GreeningUp {
		j.plain(BarGreenUp)
	}
}

// weather: what the days around a use on standing weeds must be like.
func (j *judge) weather() {
	u, unknown := j.use, false
	limit := j.heatLimitC()
	hottest := max(u.TmaxC[0], u.TmaxC[1], u.TmaxC[2]) // NaN if any is
	known := math.Inf(-1)
	for _, t := range u.TmaxC {
		if !math.IsNaN(t) {
			known = max(known, t)
		}
	}
	switch {
	case quantity.Tenths(known) > quantity.Tenths(limit):
		j.add(BarHeat, known, limit, 0)
	case math.IsNaN(hottest):
		unknown = true
	}
	if j.class != nil {
		switch {
		case quantity.Tenths(u.Mean3C) < quantity.Tenths(j.class.Cold.Value):
			j.add(BarCold, u.Mean3C, j.class.Cold.Value, 0)
		case math.IsNaN(u.Mean3C) && !math.IsNaN(j.class.Cold.Value):
			unknown = true
		}
		if quantity.Tenths(u.SoilC) < quantity.Tenths(j.class.Soil.Value) {
			j.add(BarCoolSoil, u.SoilC, j.class.Soil.Value, 0)
		} else if math.IsNaN(u.SoilC) && !math.IsNaN(j.class.Soil.Value) {
			unknown = true
		}
	}
	if u.SummerWeed && quantity.Tenths(u.LowestC48h) <= hardFrostC {
		j.add(BarFrost, u.LowestC48h, hardFrostC, 0)
	}
	if u.Water < wiltingWater {
		j.add(BarDrought, u.Water, wiltingWater, 0)
	}
	switch {
	case quantity.Tenths(u.RainMM) >= spray.RainTakesOffMM:
		j.add(BarRain, u.RainMM, spray.RainTakesOffMM, 0)
	case math.IsNaN(u.RainMM):
		unknown = true
	case u.NoFitHours:
		j.plain(BarNoHours)
	}
	if unknown {
		j.plain(BarNoWeather)
	}
}

// heatLimitC returns the strictest limit that holds for the class and the
// grass, °C.
func (j *judge) heatLimitC() float64 {
	limit := j.h.Heat.Value
	stricter := func(x float64) {
		if x < limit { // false for NaN
			limit = x
		}
	}
	if x, ok := j.h.HeatOn[j.use.Grass.ID]; ok {
		stricter(x.Value)
	}
	if j.class != nil {
		stricter(j.class.Heat.Value)
		if x, ok := j.class.HeatOn[j.use.Grass.ID]; ok {
			stricter(x.Value)
		}
	}
	return limit
}

func (j *judge) lawn() {
	j.mowing()
	j.young()
}

func (j *judge) mowing() {
	if j.use.Mown.IsZero() || j.use.PreEmergence {
		return
	}
	gap := int(j.use.Date - j.use.Mown)
	if gap > -mowingGapDays && gap < mowingGapDays {
		j.add(BarMowing, math.Abs(float64(gap)), mowingGapDays, j.use.Mown.AddDays(mowingGapDays))
	}
}

// SeedFrom returns the first day on which grass seed may be sown after a use
// before emergence on the day used; known is false where no interval is: then
// only the label can tell. Intervals: Weed Technology 19(1), 2005, Preemergence
// herbicide and seeding method effects on seedling growth of Kentucky bluegrass.
func (a *Ingredient) SeedFrom(used civil.Date, slit bool) (first civil.Date, known bool) {
	days := a.Broadcast.Value
	if slit {
		days = a.Slit.Value
	}
	if a.AtSeeding.Value {
		return used, true
	}
	if days == 0 {
		return 0, false
	}
	return used.AddDays(days), true
}

func (j *judge) repeat() {
	u := j.use
	if until := u.Sprayed.AddDays(u.JudgeDays); !u.Sprayed.IsZero() && !u.PreEmergence && u.Sprayed <= u.Date && u.Date < until {
		j.add(BarUnjudged, float64(u.Date-u.Sprayed), float64(u.JudgeDays), until)
	}
	if !u.Last.IsZero() && u.Last <= u.Date {
		days := float64(u.LabelDays)
		if j.class != nil {
			days = max(days, float64(j.class.Respray.Value.From))
		}
		if !math.IsNaN(u.Symptoms) {
			days = max(days, math.Ceil(2*u.Symptoms))
		}
		if until := u.Last.AddDays(int(days)); u.Date < until {
			j.add(BarRepeat, float64(u.Date-u.Last), days, until)
		}
	}
	if j.class != nil && j.class.MostPerYear.Value > 0 && u.ThisYear >= j.class.MostPerYear.Value {
		j.add(BarYearly, float64(u.ThisYear), float64(j.class.MostPerYear.Value), civil.MustDate(u.Date.Year()+1, 1, 1))
	}
}

// young: where the label is silent, a year before a pre-emergent, and for
// standing weeds the label has to be asked.
func (j *judge) young() {
	u := j.use
	if u.Seeded.IsZero() || u.Seeded > u.Date || u.Ingredient.AtSeeding.Value {
		return
	}
	switch age := int(u.Date - u.Seeded); {
	case age >= grownInDays:
	case u.PreEmergence:
		j.add(BarYoungTurf, float64(age), grownInDays, u.Seeded.AddDays(grownInDays))
	default:
		j.plain(BarNotTold)
	}
}

func (j *judge) cautions() {
	u := j.use
	if u.Ingredient.On(u.Grass.ID) == ToleranceCaution {
		j.plain(BarCareful)
	}
	if u.PreEmergence || j.class == nil {
		return
	}
	if j.class.FailsInDrought.Value && u.Water >= wiltingWater && u.Water < dryWater {
		j.add(BarThirst, u.Water, dryWater, 0)
	}
}
