package synth

import (
	"fmt"
	"math"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// Climate is what the generator needs to know about a site.
type Climate struct {
	// Site tells the sites of one seed apart.
	Site uint64
	// Shared is the part, 0 to 1, of each random deviate's variance that all
	// sites of a seed have in common; between two sites with the same Shared it
	// is the correlation of the deviates.
	Shared float64

	// WetAfterWet and WetAfterDry are the probabilities, each inside 0 to 1,
	// that a day is wet, given the day before.
	WetAfterWet, WetAfterDry Wave
	// RainMM is the mean rain of a wet day, mm; more than [WetMM].
	RainMM Wave
	// LightShare is the share of wet days whose rain is of the lighter kind, and
	// LightRatio the mean of that kind over the mean of all (0 < ratio <= 1).
	LightShare, LightRatio float64

	// Means of the maximum and minimum, °C, on dry and on wet days, and their
	// standard deviations about those means.
	TmaxDryC, TmaxWetC, TmaxSDC Wave
	TminDryC, TminWetC, TminSDC Wave
}

// WetMM is the least rain of a wet day, mm: the smallest amount that still
// counts as measurable (0.01 in, 0.254 mm) in a record kept in tenths.
const WetMM = 0.3

// MinSpreadC is the least difference of maximum and minimum, °C. The normal
// residuals would now and then cross the two; such a pair is set this far apart
// about its mean (own design: Richardson, 1981, does not say).
const MinSpreadC = 1.0

// spinUpDays let the chain and the residuals forget where they started.
const spinUpDays = 60

// Day is one day of weather, midnight to midnight, in tenths of a °C and mm.
type Day struct {
	Date         civil.Date
	TmaxC, TminC float64
	RainMM       float64
}

// Daily returns the weather of a site from first to last, both inside: nil if
// last comes before first. The same arguments give the same days. It panics on
// a climate that no day could follow, which is a mistake in code.
func Daily(c Climate, seed uint64, first, last civil.Date) []Day {
	c.mustBePossible()
	if last < first {
		return nil
	}
	draws := newStream(seed, c.Site, c.Shared)
	var x residual
	wet := false
	days := make([]Day, 0, int(last-first)+1)
	for d := first.AddDays(-spinUpDays); d <= last; d++ {
		j := d.YearDay()
		z := draws.day()
		wet = below(z[occurrence]) < c.chanceOfWet(wet, j)
		x = x.next(residual{z[heat0], z[heat1], z[heat2]})
		if d < first {
			continue
		}
		day := Day{Date: d}
		day.TmaxC, day.TminC = c.temperatures(x, wet, j)
		if wet {
			day.RainMM = c.rain(z[amount], z[component], j)
		}
		days = append(days, day)
	}
	return days
}

// chanceOfWet is the transition probability of the Markov chain, Richardson
// (1981).
func (c Climate) chanceOfWet(wetBefore bool, yearDay int) float64 {
	if wetBefore {
		return c.WetAfterWet.At(yearDay)
	}
	return c.WetAfterDry.At(yearDay)
}

// temperatures puts the residuals on the seasonal means: T = mean + s·x,
// Richardson (1981).
func (c Climate) temperatures(x residual, wet bool, yearDay int) (tmaxC, tminC float64) {
	maxMean, minMean := c.TmaxDryC, c.TminDryC
	if wet {
		maxMean, minMean = c.TmaxWetC, c.TminWetC
	}
	tmaxC = quantity.Tenths(maxMean.At(yearDay) + c.TmaxSDC.At(yearDay)*x[0])
	tminC = quantity.Tenths(minMean.At(yearDay) + c.TminSDC.At(yearDay)*x[1])
	if tmaxC-tminC < MinSpreadC {
		mean := (tmaxC + tminC) / 2
		tminC = quantity.Tenths(mean - MinSpreadC/2)
		tmaxC = quantity.Tenths(tminC + MinSpreadC)
	}
	return tmaxC, tminC
}

// lightHeavy returns the means of the two exponentials, mm above WetMM.
func (c Climate) lightHeavy(yearDay int) (lightMM, heavyMM float64) {
	mean := c.RainMM.At(yearDay) - WetMM
	return c.LightRatio * mean, mean * (1 - c.LightShare*c.LightRatio) / (1 - c.LightShare)
}

// rain draws the amount of a wet day from the mixed exponential of Woolhiser
// and Roldán (1982) by inversion.
func (c Climate) rain(zAmount, zComponent float64, yearDay int) float64 {
	mean, heavy := c.lightHeavy(yearDay)
	if below(zComponent) >= c.LightShare {
		mean = heavy
	}
	// 1 - Φ(z) = Φ(-z) keeps its digits in the upper tail, where the floods are.
	return quantity.Tenths(WetMM - mean*math.Log(below(-zAmount)))
}

func (c Climate) mustBePossible() {
	for j := 1; j <= 366; j++ {
		for _, p := range []float64{c.WetAfterWet.At(j), c.WetAfterDry.At(j)} {
			if !(p > 0 && p < 1) {
				panic(fmt.Sprintf("synth: chance of a wet day %v on day %d of the year", p, j))
			}
		}
		if !(c.RainMM.At(j) > WetMM) {
			panic(fmt.Sprintf("synth: mean rain %v mm on day %d of the year", c.RainMM.At(j), j))
		}
		if !(c.TmaxSDC.At(j) > 0 && c.TminSDC.At(j) > 0) {
			panic(fmt.Sprintf("synth: no spread of temperature on day %d of the year", j))
		}
	}
	if !(c.LightShare >= 0 && c.LightShare < 1 && c.LightRatio > 0 && c.LightRatio <= 1) {
		panic(fmt.Sprintf("synth: light rain of share %v and ratio %v", c.LightShare, c.LightRatio))
	}
	if !(c.Shared >= 0 && c.Shared <= 1) {
		panic(fmt.Sprintf("synth: shared part %v", c.Shared))
	}
}
