package agromet_test

import (
	"fmt"
	"math"

	"ligule/internal/agromet"
)

// FAO-56 Examples 8 and 9: the sun over 20°S on 3 September.
func ExampleSunOfDay() {
	raMJ, daylightH := agromet.SunOfDay(-20*math.Pi/180, 246)
	fmt.Printf("%.1f MJ/m2, %.1f h\n", raMJ, daylightH)
	// Output: 32.2 MJ/m2, 11.7 h
}

// FAO-56 Example 18: Uccle, Belgium, on 6 July.
func ExampleDerive() {
	missing := math.NaN()
	day := agromet.Day{
		TmaxC: 21.5, TminC: 12.3, RHMaxPct: 84, RHMinPct: 63, WindMS: 10 / 3.6, WindHeightM: 10, SunH: 9.25,
		RainMM: missing, DewC: missing, RHMeanPct: missing, CloudPct: missing, SolarMJ: missing,
	}
	got := agromet.Derive(agromet.Site{LatitudeDeg: 50.8, ElevationM: 100}, 187, day)
	fmt.Printf("ETo %.1f mm ±%.0f %%, radiation from %s\n", got.ETMM, agromet.ETBandPct(got), got.Radiation)
	// Output: ETo 3.9 mm ±12 %, radiation from sunshine
}

// FAO-56 Example 37: four dry days of tomato on a silt soil.
func ExampleBalanceStep() {
	depletionMM := 55.0
	for range 4 {
		day := agromet.BalanceStep(agromet.BalanceInput{
			DepletionMM: depletionMM, TAWMM: 160, P: 0.40, ETMM: 5, ETcMM: 1.2 * 5,
		})
		depletionMM = day.DepletionMM
		fmt.Printf("Ks %.2f, depletion %.1f mm\n", day.Ks, day.DepletionMM)
	}
	// Output:
	// Ks 1.00, depletion 61.0 mm
	// Ks 1.00, depletion 67.0 mm
	// Ks 0.97, depletion 72.8 mm
	// Ks 0.91, depletion 78.3 mm
}

// U.S. Naval Observatory: 39°N 105°W on 2 August 2015, mountain standard time.
func ExampleSunTimes() {
	const utcOffsetMin = -7 * 60
	sun := agromet.SunTimes(39, -105, 2015, 214)
	rise := int(sun.RiseUTCMin) + utcOffsetMin
	set := int(sun.SetUTCMin) + utcOffsetMin
	fmt.Printf("%02d:%02d to %02d:%02d\n", rise/60, rise%60, set/60, set%60)
	// Output: 05:01 to 19:10
}

// McMaster and Wilhelm (1997), Table 1: a day of 8 and -2 °C by their two
// readings of one equation.
func ExampleModifiedDegreeDays() {
	fmt.Println(agromet.AverageDegreeDays(8, -2, 0), agromet.ModifiedDegreeDays(8, -2, 0, math.Inf(1)))
	// Output: 3 4
}
