package agromet

import (
	"math"
	"testing"
)

func BenchmarkDeriveDay(b *testing.B) {
	days := map[string]Day{
		"temperature-only": knowing(func(*Day) {}),
		"all-measured": knowing(func(d *Day) {
			d.DewC, d.WindMS, d.WindHeightM, d.SolarMJ = 19, 3, 10, 25.87
		}),
	}
	for _, name := range []string{"temperature-only", "all-measured"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			day := days[name]
			for b.Loop() {
				Derive(durhamSite, 188, day)
			}
		})
	}
}

// BenchmarkTenYears runs the weather side of one zone over ten years: light and
// evapotranspiration, soil temperature at both depths, degree-days, wetness
// and the root zone, day by day.
func BenchmarkTenYears(b *testing.B) {
	b.ReportAllocs()
	sum := 0.0
	for b.Loop() {
		s5, s10, depletion := math.NaN(), math.NaN(), 10.0
		for day := range 3653 {
			doy := day%365 + 1
			season := math.Sin(2 * math.Pi * (float64(doy) - 105) / 365)
			d := missingDay()
			d.TmaxC, d.TminC, d.RainMM = 20+12*season, 9+12*season, 0
			d.DewC = d.TminC - 1
			if day%4 == 0 {
				d.RainMM = 12
			}
			got := Derive(durhamSite, doy, d)
			mean := (d.TmaxC + d.TminC) / 2
			s5, s10 = SoilAt5cm().Next(s5, mean), SoilAt10cm().Next(s10, mean)
			out := BalanceStep(BalanceInput{DepletionMM: depletion, TAWMM: 32.5, P: DepletionFraction(0.5, 0.75*got.ETMM),
				ETMM: got.ETMM, ETcMM: 0.75 * got.ETMM, RainMM: d.RainMM})
			depletion = out.DepletionMM
			sum += AverageDegreeDays(d.TmaxC, d.TminC, 10) + WetHoursFromDewPoint(d.TmaxC, d.TminC, d.DewC) + SoilC(s5) + SoilC(s10)
		}
	}
	if math.IsNaN(sum) {
		b.Fatal("a day came out without a number")
	}
}

func BenchmarkSunTimes(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		SunTimes(39, -105, 2015, 214)
	}
}
