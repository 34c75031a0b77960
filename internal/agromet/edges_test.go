package agromet

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// run is n days of a value, NaN for missing ones.
func run(n int, x float64) []float64 { return slices.Repeat([]float64{x}, n) }

// A soil that steps to the level from one day to the next: the five-day mean
// reaches it four days later, and the third day past it decides.
func TestEdgesOfCrossings(t *testing.T) {
	nan := math.NaN()
	warming := func(n int) []float64 { return slices.Concat(run(10, 0), run(n, 10)) }
	cooling := func(n int) []float64 { return slices.Concat(run(40, 20), run(n, 5)) }
	gappy := func(first float64) []float64 {
		return slices.Concat(run(14, 20), run(10, nan), []float64{first}, run(12, 20), run(7, 5))
	}
	for _, c := range []struct {
		name   string
		soil   []float64
		from   int
		level  float64
		rising bool
		want   int
	}{
		{"rising, the third day", warming(7), 0, 10, true, 14},
		{"rising, the second", warming(6), 0, 10, true, -1},
		{"rising, a level not reached", warming(60), 0, 10.001, true, -1},
		{"rising, from its first day", warming(7), 14, 10, true, 14},
		{"rising, from the day after", warming(8), 15, 10, true, 15},
		{"rising, three of five days known", run(5, 10), 0, 10, true, 2},
		{"rising, the second of these", run(4, 10), 0, 10, true, -1},
		{"rising, broken off", slices.Concat(run(4, 10), []float64{-100}, run(5, 10)), 0, 10, true, -1},
		{"rising, held after a break", slices.Concat(run(4, 10), []float64{-100}, run(7, 10)), 0, 10, true, 9},
		{"falling, the third day", cooling(7), 0, 5, false, 44},
		{"falling, the second", cooling(6), 0, 5, false, -1},
		{"falling, a level not reached", cooling(60), 0, 4.999, false, -1},
		{"falling in a month that warms", slices.Concat(run(30, 0), run(20, 30), run(10, 8)), 31, 12, false, -1},
		{"falling, twenty days of the month known", gappy(20), 0, 5, false, 41},
		{"falling, nineteen", gappy(nan), 0, 5, false, -1},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, Crossing(c.soil, c.from, c.level, c.rising))
		})
	}
}

func TestEdgesOfGaps(t *testing.T) {
	nan := math.NaN()
	known := Known{Sum: 10, Days: 5}
	assert.Equal(t, 10.0, known.Total(5))
	assert.True(t, math.IsNaN(known.Total(6)))
	assert.Equal(t, 2.0, known.Mean(5))
	assert.True(t, math.IsNaN(known.Mean(6)))
	assert.True(t, math.IsNaN(Known{}.Mean(0)))

	r := GapRule{MostMissing: 3, LongestRun: 2}
	for _, c := range []struct {
		days []float64
		want bool
	}{
		{[]float64{nan, nan, 1, nan, 1}, true}, {[]float64{nan, nan, 1, nan, nan}, false}, {[]float64{1, nan, nan, nan, 1}, false},
		{[]float64{nan, nan}, false}, {nil, false}, {[]float64{nan, 1}, true},
	} {
		assert.Equal(t, c.want, r.Allows(c.days), "%v", c.days)
	}
	for missing, want := range map[float64]bool{10: true, 11: false} {
		var month []float64
		for i := range 30 {
			x := 1.0
			if i%2 == 0 && float64(i/2) < missing {
				x = nan
			}
			month = append(month, x)
		}
		assert.Equal(t, want, MonthlyMeanRule().Allows(month), "%g days missing", missing)
	}
	for run, want := range map[int]bool{4: true, 5: false} {
		month := make([]float64, 30)
		for i := range run {
			month[10+i] = nan
		}
		assert.Equal(t, want, MonthlyMeanRule().Allows(month), "%d days missing in a row", run)
	}
	for have, want := range map[int]bool{23: false, 24: true, 30: true} {
		assert.Equal(t, want, NormalHasEnoughYears(have, 30), "%d of 30 years", have)
	}
}

func TestEdgesOfFreezes(t *testing.T) {
	for c, want := range map[float64]FrostClass{
		-2.2: HardFreeze, -1.9: Freeze, .2: Freeze, .3: FrostLikely, 2.4: FrostLikely, 2.6: FrostFree,
	} {
		assert.Equal(t, want, ClassifyFrost(c), "%g °C", c)
	}
	for missing, want := range map[int]Sighting{10: SightingFound, 11: SightingUnknown} {
		days := slices.Concat(run(missing, math.NaN()), []float64{-1})
		_, got := FirstFreeze(days, 0)
		assert.Equal(t, want, got, "%d days missing before it", missing)
		slices.Reverse(days)
		_, got = LastFreeze(days, 0)
		assert.Equal(t, want, got, "%d days missing after it", missing)
	}
	for low, want := range map[float64]Sighting{0: SightingFound, .04: SightingFound, .06: SightingNone} {
		_, got := FirstFreeze([]float64{5, low, 5}, 0)
		assert.Equal(t, want, got, "a night of %g °C", low)
	}
}

func TestEdgesOfDegreeDays(t *testing.T) {
	assert.Equal(t, 5.0, AverageDegreeDays(15, 15, 10), "a day without a range")
	assert.Equal(t, 0.0, AverageDegreeDays(10, 10, 10))
	assert.Equal(t, 0.0, AverageDegreeDays(12, 2, 10), "never below none")
	assert.True(t, math.IsNaN(AverageDegreeDays(14.9, 15, 10)))
	warm := DegreeDays{Method: WarmDaysMethod, BaseC: 20}
	assert.Equal(t, 1.0, warm.Mean(20))
	assert.Equal(t, 0.0, warm.Mean(19.9))
	capped := DegreeDays{Method: DailyMeanMethod, BaseC: 10, UpperC: 30}
	assert.Equal(t, 20.0, capped.Mean(31))
	assert.Equal(t, 0.0, capped.Mean(9))
	assert.InDelta(t, 5, SineDegreeDays(20, 10, 10, math.Inf(1)), 1e-9, "a night at the base")
	assert.InDelta(t, 0, SineDegreeDays(10, 0, 10, math.Inf(1)), 1e-9, "a day at the base")
}

// An hour with one value at its limit or a tenth beside it.
func TestEdgesOfSprayWeather(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name   string
		change func(*SprayHour)
		most   float64
		want   SprayFault
		known  bool
	}{
		{"wind of 3 mph", func(h *SprayHour) { h.WindMS = 1.26 }, UsualSprayWindMS, 0, true},
		{"a tenth less", func(h *SprayHour) { h.WindMS = 1.24 }, UsualSprayWindMS, SprayTooCalm, true},
		{"wind of 10 mph", func(h *SprayHour) { h.WindMS = 4.54 }, UsualSprayWindMS, 0, true},
		{"a tenth more", func(h *SprayHour) { h.WindMS = 4.56 }, UsualSprayWindMS, SprayTooWindy, true},
		{"wind of 15 mph, the label allows any", func(h *SprayHour) { h.WindMS = 6.74 }, 20, 0, true},
		{"wind above it, the label allows any", func(h *SprayHour) { h.WindMS = 6.76 }, 20, SprayTooWindy, true},
		{"85 °F", func(h *SprayHour) { h.TC = 29.36 }, UsualSprayWindMS, SprayVaporLoss, true},
		{"just below", func(h *SprayHour) { h.TC = 29.34 }, UsualSprayWindMS, 0, true},
		{"90 °F", func(h *SprayHour) { h.TC = 32.16 }, UsualSprayWindMS, SprayVaporLoss | SprayTooHot, true},
		{"just below that", func(h *SprayHour) { h.TC = 32.14 }, UsualSprayWindMS, SprayVaporLoss, true},
		{"Delta T of 2.0", func(h *SprayHour) { h.DeltaTC = 1.96 }, UsualSprayWindMS, 0, true},
		{"of 1.9", func(h *SprayHour) { h.DeltaTC = 1.94 }, UsualSprayWindMS, SprayDewLikely, true},
		{"of 8.0", func(h *SprayHour) { h.DeltaTC = 8.04 }, UsualSprayWindMS, 0, true},
		{"of 8.1", func(h *SprayHour) { h.DeltaTC = 8.06 }, UsualSprayWindMS, SprayDriesFast, true},
		{"of 10.0", func(h *SprayHour) { h.DeltaTC = 10.04 }, UsualSprayWindMS, SprayDriesFast, true},
		{"of 10.1", func(h *SprayHour) { h.DeltaTC = 10.06 }, UsualSprayWindMS, SprayDriesFast | SprayDriesAway, true},

		{"calm under a clear sky, an hour after sunrise", func(h *SprayHour) { h.WindMS, h.CloudPct, h.SinceSunriseH = 1, 25, 1 }, UsualSprayWindMS, SprayTooCalm, true},
		{"a little earlier", func(h *SprayHour) { h.WindMS, h.CloudPct, h.SinceSunriseH = 1, 25, .99 }, UsualSprayWindMS, SprayTooCalm | SprayInversion, true},
		{"two hours before sunset", func(h *SprayHour) { h.WindMS, h.CloudPct, h.ToSunsetH = 1, 25, 2 }, UsualSprayWindMS, SprayTooCalm, true},
		{"a little later", func(h *SprayHour) { h.WindMS, h.CloudPct, h.ToSunsetH = 1, 25, 1.99 }, UsualSprayWindMS, SprayTooCalm | SprayInversion, true},
		{"under a little more cloud", func(h *SprayHour) { h.WindMS, h.CloudPct, h.ToSunsetH = 1, 25.1, 1.99 }, UsualSprayWindMS, SprayTooCalm, true},
		{"cloud not known", func(h *SprayHour) { h.WindMS, h.CloudPct, h.ToSunsetH = 1, nan, 1.99 }, UsualSprayWindMS, SprayTooCalm, false},
		{"cloud not known, but wind", func(h *SprayHour) { h.CloudPct, h.ToSunsetH = nan, 1.99 }, UsualSprayWindMS, 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := SprayHour{TC: 20, DeltaTC: 5, WindMS: 3, CloudPct: 50, SinceSunriseH: 6, ToSunsetH: 6}
			c.change(&h)
			got, known := SprayFaults(h, c.most)
			assert.Equal(t, c.want, got)
			assert.Equal(t, c.known, known)
		})
	}
}

func TestEdgesOfWater(t *testing.T) {
	assert.Equal(t, 20.0, IrrigationNeedMM(20, 20))
	assert.Equal(t, 19.9996, IrrigationNeedMM(19.9996, 20), "the same in thousandths")
	assert.Equal(t, 0.0, IrrigationNeedMM(19.999, 20))

	for rain, want := range map[float64]float64{1: 1, .96: .96, .94: 0, 1.1: 1.1} {
		b := BalanceStep(BalanceInput{DepletionMM: 10, TAWMM: 50, P: .5, ETMM: 5, ETcMM: 4, RainMM: rain})
		assert.InDelta(t, want, b.EffectiveRainMM, 1e-9, "%g mm on a day of 5 mm", rain)
	}
	assert.InDelta(t, .8, DepletionFraction(.7, 1), 1e-9, "at most")
	assert.InDelta(t, .1, DepletionFraction(.2, 9), 1e-9, "at least")
	assert.InDelta(t, 1, StressCoefficient(20, 50, 20), 1e-9)
	assert.Less(t, StressCoefficient(20.1, 50, 20), 1.0)

	// Curve number 80 holds 12.7 mm back.
	assert.Equal(t, 0.0, RunoffMM(12.7, 80))
	assert.Positive(t, RunoffMM(13.2, 80))
	for cover, want := range map[float64]float64{49.9: 79, 50: 69, 75: 69, 75.1: 61} {
		assert.Equal(t, want, LawnCurveNumber('B', cover), "%g %% covered", cover)
	}
}

func TestEdgesOfSoilAndWetness(t *testing.T) {
	r := SoilAt5cm().Start()
	for i := range SoilSpinUpDays {
		assert.True(t, math.IsNaN(r.Next(10)), "day %d", i)
	}
	assert.InDelta(t, 11, r.Next(10), 1e-9)
	r.Next(math.NaN())
	for i := range SoilSpinUpDays {
		assert.True(t, math.IsNaN(r.Next(10)), "day %d after the one that is missing", i)
	}
	assert.InDelta(t, 11, r.Next(10), 1e-9)
	assert.InDelta(t, -2, SoilAt5cm().Next(math.NaN(), -2.1), 1e-9, "colder air counts as -2 °C")
	assert.InDelta(t, -1.9, SoilAt5cm().Next(math.NaN(), -1.9), 1e-9)

	for pct, want := range map[float64]bool{90: true, 89.9: false} {
		wet, known := WetHour(pct, 0)
		assert.Equal(t, want, wet, "%g %%", pct)
		assert.True(t, known)
	}
	for h, want := range map[float64]WetnessClass{7.94: WetnessLow, 7.96: WetnessMedium, 12.04: WetnessMedium, 12.06: WetnessHigh} {
		assert.Equal(t, want, ClassifyWetness(h), "%g h", h)
	}
}
