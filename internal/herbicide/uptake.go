package herbicide

import (
	"math"

	"ligule/internal/quantity"
)

// UptakeInput is the weather around an application. NaN is not known.
type UptakeInput struct {
	Mean3C     float64 // mean of the daily mean temperatures of the day and the next two, °C
	LowestC    float64 // lowest night in that span, °C
	Light3Mol  float64 // mean daily light integral of the three days under open sky, mol m⁻² d⁻¹
	Water      float64 // relative available water in the top 10 cm, 0 to 1
	Rain10MM   float64 // rain and irrigation of the last 10 days, mm; used where Water is not known
	SummerWeed bool    // a summer weed (C4), which asks for more light
	RainSoon   bool    // rain of 2.5 mm or more is likely before the spray is fast, or on the day
}

// UptakeGrade says how well a herbicide would move into the weed.
type UptakeGrade string

// The grades of U: 70 or more is good, 40 or more fair.
const (
	UptakeUnknown UptakeGrade = ""
	UptakeGood    UptakeGrade = "good"
	UptakeFair    UptakeGrade = "fair"
	UptakePoor    UptakeGrade = "poor"
	UptakeWait    UptakeGrade = "wait" // rain would take it off
)

// Uptake is the index U with its factors, each 0 to 1.
type Uptake struct {
	FT, FL, FW float64
	U          float64 // 0 to 100; NaN where the temperature is not known
	Grade      UptakeGrade
}

// Constants of the index, all own design.
const (
	uptakeGoodFrom, uptakeFairFrom = 70, 40

	lightFloor    = 0.3  // what moves in the dark: 0.22, 0.28 and 0.36 of what moves in light were published of glyphosate
	coolLightMol  = 20   // light at which it matters no more: weeds of the cool season
	warmLightMol  = 30   // and those of summer
	unknownLight  = 0.85 // factor where light is not known
	rainHalves    = 0.5
	coldNightCuts = 0.5
)

// UptakeIn returns the index of herbicide uptake
//
//	U = 100 · fT · fL · fW
//
// of the class: how readily it would move into the weed, not whether the weed
// dies. fT is the class's curve over the mean temperature of three days, halved
// where a night falls below the class's floor; fL = 0.3 + 0.7·min(1, DLI/ref)
// with ref 20, or 30 mol m⁻² d⁻¹ for summer weeds; fW rises with the water in
// the soil, and stands at 1 where neither water nor rain is known. There is no
// term for shade: low light after spraying slows translocation, but plants grown
// in shade are more open to herbicides (Moosavi-Nia & Dore 1979, Weed Research).
// Rain before it is fast halves U and turns the grade to "wait".
//
// Own design, fitted loosely to published ratios: bispyribac on annual
// bluegrass at 10 and 30 °C (McCullough & Hart 2006, Weed Technology), glyphosate
// and dicamba on kochia in heat (Ou, Stahlman & Jugulam 2016, Pest Management
// Science), haloxyfop on thirsty crabgrass (Peregoy and others 1990, Weed
// Science).
func (c *Class) UptakeIn(in UptakeInput) Uptake {
	u := Uptake{
		FT: c.temperatureFactor(in.Mean3C, in.LowestC), FL: lightFactor(in.Light3Mol, in.SummerWeed), FW: waterFactor(in.Water, in.Rain10MM),
	}
	u.U = 100 * u.FT * u.FL * u.FW
	if in.RainSoon {
		u.U *= rainHalves
	}
	switch shown := quantity.Tenths(u.U); {
	case math.IsNaN(shown):
		u.Grade = UptakeUnknown
	case in.RainSoon:
		u.Grade = UptakeWait
	case shown >= uptakeGoodFrom:
		u.Grade = UptakeGood
	case shown >= uptakeFairFrom:
		u.Grade = UptakeFair
	default:
		u.Grade = UptakePoor
	}
	return u
}

// temperatureFactor returns fT. A class with a night floor needs the night.
func (c *Class) temperatureFactor(mean3C, lowestC float64) float64 {
	f := alongKnots(c.Uptake, mean3C)
	switch {
	case math.IsNaN(c.NightFloor.Value):
	case math.IsNaN(lowestC):
		return math.NaN()
	case quantity.Tenths(lowestC) < quantity.Tenths(c.NightFloor.Value):
		return coldNightCuts * f
	}
	return f
}

func lightFactor(lightMol float64, summerWeed bool) float64 {
	ref := float64(coolLightMol)
	if summerWeed {
		ref = warmLightMol
	}
	if math.IsNaN(lightMol) {
		return unknownLight
	}
	return lightFloor + (1-lightFloor)*min(1, max(0, lightMol)/ref)
}

// waterKnots is fW over the relative available water; the lower end is the
// ratio of 12 to 92 % control of crabgrass, thirsty and not (Peregoy and others
// 1990); the rest is own design.
var waterKnots = [...]Knot{{0.10, 0.15}, {0.25, 0.40}, {0.45, 0.80}, {0.60, 1}}

// waterFactor returns fW from the water in the soil, else from the rain of ten
// days (own design), else 1.
func waterFactor(water, rain10MM float64) float64 {
	switch {
	case !math.IsNaN(water):
		return alongKnots(waterKnots[:], water)
	case math.IsNaN(rain10MM):
		return 1
	case quantity.Tenths(rain10MM) >= 25:
		return 1
	case quantity.Tenths(rain10MM) >= 10:
		return 0.8
	case quantity.Tenths(rain10MM) >= 3:
		return 0.5
	}
	return 0.25
}

// alongKnots returns the value of the curve through the knots at x; NaN if x or
// the curve is missing.
func alongKnots(knots []Knot, x float64) float64 {
	if math.IsNaN(x) || len(knots) == 0 {
		return math.NaN()
	}
	if x <= knots[0].X {
		return knots[0].Y
	}
	for i := 1; i < len(knots); i++ {
		if a, b := knots[i-1], knots[i]; x <= b.X {
			return a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
		}
	}
	return knots[len(knots)-1].Y
}

// slowestSymptoms is the least product of fT and fL that still divides the days
// to symptoms: no weather delays them more than fourfold. Own design.
const slowestSymptoms = 0.25

// SymptomDays returns after how many days the first symptoms show in the
// weather of u: days20, the days at about 20 °C, divided by fT·fL, at most four
// times as long. Own design; that cool weather delays symptoms, in winter by
// weeks, is only told in words (Florida plant column, 26 December 2020).
func (u Uptake) SymptomDays(days20 float64) float64 {
	return days20 / max(slowestSymptoms, u.FT*u.FL)
}

// NoResprayDays returns how many days must pass before the same weeds are
// sprayed again: the longest of the label's interval (0: not told), the class's
// own, and twice the days to the first symptoms. It is NaN if the weather is not
// known, unless there is nothing to reckon with. Seeing nothing is no reason to
// spray again. Own design.
func (c *Class) NoResprayDays(labelDays int, u Uptake) float64 {
	return math.Ceil(max(float64(labelDays), float64(c.Respray.Value.From), 2*u.SymptomDays(c.Symptoms.Value.Mid())))
}
