package agromet

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"ligule/internal/quantity"
)

func float(t *rapid.T, low, high float64, label string) float64 {
	return rapid.Float64Range(low, high).Draw(t, label)
}

// ordered draws two numbers, the smaller first.
func ordered(t *rapid.T, low, high float64, label string) (a, b float64) {
	a, b = float(t, low, high, label+" 1"), float(t, low, high, label+" 2")
	return min(a, b), max(a, b)
}

func TestSunProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rad(float(t, -90, 90, "lat"), 0)
		doy := rapid.IntRange(1, 366).Draw(t, "doy")
		ra, n := raMJ(lat, doy), DaylightHours(lat, doy)
		assert.GreaterOrEqual(t, ra, 0.0)
		assert.Less(t, ra, 50.0)
		assert.InDelta(t, 24, n+DaylightHours(-lat, doy), 1e-9, "day here is night at the opposite latitude")
		if n == 0 {
			assert.InDelta(t, 0, ra, 1e-9, "no radiation where the sun does not rise")
		}
		z := float(t, 0, 4000, "z")
		assert.LessOrEqual(t, ClearSkyRadiationMJ(ra, z), ra)
	})
}

func TestRadiationProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ra := float(t, 5, 42, "ra")
		rso := ClearSkyRadiationMJ(ra, float(t, 0, 2000, "z"))
		thin, thick := ordered(t, 0, 1, "cloud")
		assert.GreaterOrEqual(t, RadiationFromCloudMJ(rso, thin), RadiationFromCloudMJ(rso, thick))
		assert.GreaterOrEqual(t, RadiationFromCloudMJ(rso, thick), 0.25*rso-1e-12)
		short, long := ordered(t, 0, 16, "sun")
		day := float(t, 8, 16, "daylight")
		assert.LessOrEqual(t, RadiationFromSunshineMJ(ra, short, day), RadiationFromSunshineMJ(ra, long, day))
		assert.LessOrEqual(t, RadiationFromSunshineMJ(ra, long, day), 0.75*ra)
		tmin := float(t, -20, 25, "tmin")
		near, far := ordered(t, 0, 30, "range")
		assert.LessOrEqual(t, RadiationFromTemperatureMJ(ra, rso, tmin+near, tmin, 0.16), RadiationFromTemperatureMJ(ra, rso, tmin+far, tmin, 0.16)+1e-9)
		assert.LessOrEqual(t, RadiationFromTemperatureMJ(ra, rso, tmin+far, tmin, 0.19), rso)
	})
}

func TestSunTimesProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat, lon := float(t, -60, 60, "lat"), float(t, -180, 180, "lon")
		year, doy := rapid.IntRange(1950, 2050).Draw(t, "year"), rapid.IntRange(1, 365).Draw(t, "doy")
		sun := SunTimes(lat, lon, year, doy)
		assert.Less(t, sun.RiseUTCMin, sun.NoonUTCMin)
		assert.Less(t, sun.NoonUTCMin, sun.SetUTCMin)
		assert.InDelta(t, 720, sun.NoonUTCMin+4*lon, 17, "noon strays from mean noon by the equation of time alone")
		tomorrow := SunTimes(lat, lon, year, doy+1)
		assert.InDelta(t, sun.RiseUTCMin, tomorrow.RiseUTCMin, 6, "the next sunrise is close by")
	})
	t.Run("neither rises nor sets beyond the polar circles", func(t *testing.T) {
		for _, doy := range []int{172, 355} {
			sun := SunTimes(75, 0, 2020, doy)
			assert.True(t, math.IsNaN(sun.RiseUTCMin) && math.IsNaN(sun.SetUTCMin))
			assert.InDelta(t, 720, sun.NoonUTCMin, 17)
		}
	})
	t.Run("Julian dates", func(t *testing.T) {
		assert.Equal(t, 2451544.5, julianDate(2000, 1))
		assert.Equal(t, 2451910.5, julianDate(2001, 1), "2000 has 366 days")
		assert.Equal(t, 2415020.5, julianDate(1900, 1))
		assert.Equal(t, 2415385.5, julianDate(1901, 1), "1900 has 365 days")
	})
}

func TestVaporProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cold, warm := ordered(t, -40, 50, "t")
		assert.LessOrEqual(t, SaturationVapourPressureKPa(cold), SaturationVapourPressureKPa(warm))
		assert.GreaterOrEqual(t, MeanSaturationVapourPressureKPa(warm, cold), SaturationVapourPressureKPa((warm+cold)/2)-1e-12, "convexity: never that of the mean temperature")
		assert.InDelta(t, warm, DewPointC(SaturationVapourPressureKPa(warm)), 1e-9, "dew point is the inverse")
		rh := RelativeHumidityPct(warm, cold)
		assert.Positive(t, rh)
		assert.LessOrEqual(t, rh, 100.0)
		slope := (SaturationVapourPressureKPa(warm+1e-4) - SaturationVapourPressureKPa(warm-1e-4)) / 2e-4
		assert.InEpsilon(t, slope, VapourPressureSlope(warm), 1e-4, "eq. 13 is the derivative of eq. 11, but for the rounding of 4098")
	})
}

func TestReferenceETProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tmin := float(t, -15, 28, "tmin")
		in := ReferenceETInput{
			TminC: tmin, TmaxC: tmin + float(t, 0, 20, "range"), ElevationM: float(t, 0, 2500, "z"),
			EaKPa: SaturationVapourPressureKPa(tmin - float(t, 0, 10, "dryness")),
			RaMJ:  float(t, 10, 42, "ra"), WindMS2m: float(t, 0, 10, "wind"), SoilHeatMJ: float(t, -1, 1, "g"),
		}
		in.RsoMJ = ClearSkyRadiationMJ(in.RaMJ, in.ElevationM)
		in.RsMJ = in.RsoMJ * float(t, 0.1, 1, "cloudiness")
		et := ReferenceETMM(in)
		warmer := in
		warmer.SoilHeatMJ += float(t, 0, 2, "more g")
		assert.LessOrEqual(t, ReferenceETMM(warmer), et, "heat that goes into the soil evaporates nothing")
	})
}

func TestDegreeDayProperties(t *testing.T) {
	const tiny = 1e-9
	none := math.Inf(1)
	rapid.Check(t, func(t *rapid.T) {
		tmin, tmax := ordered(t, -20, 45, "t")
		base := float(t, 0, 20, "base")
		average, modified := AverageDegreeDays(tmax, tmin, base), ModifiedDegreeDays(tmax, tmin, base, none)
		sine := SineDegreeDays(tmax, tmin, base, none)
		// Degree-days are a mean of max(0, T - base), which is convex: the
		// wider the day's temperatures are spread, the more of them. The
		// mean alone, a sine and the two extremes stand in that order.
		assert.GreaterOrEqual(t, average, 0.0)
		assert.LessOrEqual(t, average, sine+tiny)
		assert.LessOrEqual(t, sine, modified+tiny)

		ceiling := base + float(t, 1, 25, "span")
		for name, dd := range map[string]float64{
			"modified": ModifiedDegreeDays(tmax, tmin, base, ceiling),
			"sine":     SineDegreeDays(tmax, tmin, base, ceiling),
		} {
			assert.GreaterOrEqual(t, dd, -tiny, name)
			assert.LessOrEqual(t, dd, ceiling-base+tiny, name)
		}
		assert.LessOrEqual(t, SineDegreeDays(tmax, tmin, base, ceiling), sine+tiny, "a ceiling adds nothing")

		f := func(c float64) float64 { return 1.8*c + 32 }
		assert.InDelta(t, 1.8*SineDegreeDays(tmax, tmin, base, ceiling), SineDegreeDays(f(tmax), f(tmin), f(base), f(ceiling)), 1e-6, "the same day in °F")
		assert.InDelta(t, 1.8*average, AverageDegreeDays(f(tmax), f(tmin), f(base)), 1e-9)

		// Against the sum over the day, in 20,000 steps.
		const steps = 20000
		sum := 0.0
		for i := range steps {
			temp := (tmax+tmin)/2 + (tmax-tmin)/2*math.Sin(2*math.Pi*(float64(i)+0.5)/steps)
			sum += min(ceiling, max(base, temp)) - base
		}
		assert.InDelta(t, sum/steps, SineDegreeDays(tmax, tmin, base, ceiling), 1e-3, "the integral itself")
	})
}

func TestSoilProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		model := rapid.SampledFrom([]SoilModel{SoilAt5cm(), SoilAt10cm()}).Draw(t, "model")
		air := rapid.SliceOfN(rapid.Float64Range(-30, 40), 1, 60).Draw(t, "air")
		s, low, high := math.NaN(), math.Inf(1), math.Inf(-1)
		for _, a := range air {
			s = model.Next(s, a)
			low, high = min(low, max(-2, a)), max(high, max(-2, a))
			assert.GreaterOrEqual(t, s, low-1e-9)
			assert.LessOrEqual(t, s, high+1e-9)
		}
		assert.LessOrEqual(t, s, model.Next(s, 60))
		assert.True(t, math.IsNaN(model.Next(s, math.NaN())))
	})
	t.Run("20 days forget the start", func(t *testing.T) {
		cold, warm := -2.0, 30.0
		for range SoilSpinUpDays {
			cold, warm = SoilAt5cm().Next(cold, 15), SoilAt5cm().Next(warm, 15)
		}
		assert.InDelta(t, 0, warm-cold, 0.4)
	})
}

func genBalance(t *rapid.T) BalanceInput {
	in := BalanceInput{TAWMM: float(t, 1, 200, "taw"), P: float(t, 0.1, 0.8, "p"), ETMM: float(t, 0, 12, "et")}
	in.DepletionMM = in.TAWMM * float(t, 0, 1, "depletion")
	in.ETcMM = in.ETMM * float(t, 0.2, 1.2, "kc")
	in.RainMM = float(t, 0, 150, "rain")
	in.RunoffMM = RunoffMM(in.RainMM, 74)
	in.IrrigationMM = float(t, 0, 30, "irrigation")
	return in
}

func TestBalancePropertyCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := genBalance(t)
		start, sum := in.DepletionMM, 0.0
		for range rapid.IntRange(1, 60).Draw(t, "days") {
			out := BalanceStep(in)
			closing := in.DepletionMM - out.EffectiveRainMM - in.IrrigationMM + out.PercolationMM + out.ETcAdjMM
			assert.InDelta(t, out.DepletionMM, closing, 1e-9)
			assert.GreaterOrEqual(t, out.DepletionMM, 0.0)
			assert.LessOrEqual(t, out.DepletionMM, in.TAWMM)
			assert.GreaterOrEqual(t, out.Ks, 0.0)
			assert.LessOrEqual(t, out.Ks, 1.0)
			assert.GreaterOrEqual(t, out.ETcAdjMM, 0.0)
			assert.LessOrEqual(t, out.ETcAdjMM, in.ETcMM+1e-9)
			assert.LessOrEqual(t, out.EffectiveRainMM, in.RainMM)
			if out.PercolationMM > 0 {
				assert.InDelta(t, out.ETcAdjMM, out.DepletionMM, 1e-9, "what drained was full")
			}
			sum += out.ETcAdjMM + out.PercolationMM - out.EffectiveRainMM - in.IrrigationMM
			in.DepletionMM = out.DepletionMM
			in.RainMM = float(t, 0, 40, "next rain")
			in.RunoffMM = 0
		}
		assert.InDelta(t, in.DepletionMM-start, sum, 1e-9, "and over the whole run")
	})
}

func TestBalancePropertyMoreRainIsWetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := genBalance(t)
		// On a soil that holds much less than a day's use, stress itself
		// saves more water than the rain brings.
		in.TAWMM, in.P = float(t, 30, 200, "taw"), float(t, 0.1, 0.5, "p")
		in.DepletionMM = in.TAWMM * float(t, 0, 1, "depletion")
		in.RunoffMM = 0
		wetter := in
		wetter.RainMM += float(t, 0, 50, "more rain")
		assert.LessOrEqual(t, BalanceStep(wetter).DepletionMM, BalanceStep(in).DepletionMM+1e-9)
		thirstier := in
		thirstier.ETcMM += float(t, 0, 5, "more et")
		assert.GreaterOrEqual(t, BalanceStep(thirstier).DepletionMM, BalanceStep(in).DepletionMM)
	})
	t.Run("a depletion outside the root zone counts as its end", func(t *testing.T) {
		in := BalanceInput{DepletionMM: 80, TAWMM: 60, P: 0.5, ETMM: 5, ETcMM: 4}
		assert.Equal(t, 60.0, BalanceStep(in).DepletionMM)
		assert.Zero(t, BalanceStep(in).ETcAdjMM)
		in.DepletionMM = -5
		assert.Equal(t, 4.0, BalanceStep(in).DepletionMM)
	})
}

func TestRunoffProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		less, more := ordered(t, 0, 300, "rain")
		loose, tight := ordered(t, 30, 100, "cn")
		q := RunoffMM(less, loose)
		assert.GreaterOrEqual(t, q, 0.0)
		assert.LessOrEqual(t, q, less+1e-9)
		assert.LessOrEqual(t, q, RunoffMM(more, loose)+1e-9)
		assert.LessOrEqual(t, q, RunoffMM(less, tight)+1e-9)
	})
	for _, group := range "ABCD" {
		assert.Less(t, LawnCurveNumber(group, 90), LawnCurveNumber(group, 60))
		assert.Less(t, LawnCurveNumber(group, 60), LawnCurveNumber(group, 30))
	}
}

func TestSprinklerProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cans := rapid.SliceOfN(rapid.Float64Range(1, 60), 24, 24).Draw(t, "cans")
		du := DistributionUniformity(cans)
		assert.Positive(t, du)
		assert.LessOrEqual(t, du, 1+1e-12)
		shuffled := rapid.Permutation(cans).Draw(t, "order")
		assert.InDelta(t, du, DistributionUniformity(shuffled), 1e-12, "the order of cans does not matter")
		doubled := slices.Clone(cans)
		for i := range doubled {
			doubled[i] *= 2
		}
		assert.InDelta(t, du, DistributionUniformity(doubled), 1e-12, "nor the run time")
		sm := SchedulingMultiplier(du)
		assert.GreaterOrEqual(t, sm, 1-1e-12)
		assert.LessOrEqual(t, sm, 1/du+1e-12, "the upper bound is 1/DU")
		run, longest := float(t, 1, 120, "run"), float(t, 1, 60, "longest")
		n, each := Cycles(run, longest)
		assert.LessOrEqual(t, each, longest+1e-9)
		assert.InDelta(t, run, float64(n)*each, 1e-9)
	})
}

func TestQuantileProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-100, 100), 1, 40).Draw(t, "values")
		slices.Sort(values)
		p, q := ordered(t, 0, 1, "p")
		got := Quantile(values, p)
		assert.GreaterOrEqual(t, got, values[0]-1e-9)
		assert.LessOrEqual(t, got, values[len(values)-1]+1e-9)
		assert.LessOrEqual(t, got, Quantile(values, q)+1e-9)
		assert.InDelta(t, quantileBy(values, p, 1.0/3, 1.0/3), got, 1e-9, "the general form with α = β = 1/3")
		mirrored := make([]float64, len(values))
		for i, v := range values {
			mirrored[len(values)-1-i] = -v
		}
		assert.InDelta(t, -got, Quantile(mirrored, 1-p), 1e-6, "definition 8 is symmetric")

		mild := rapid.IntRange(0, 20).Draw(t, "mild years")
		spring, later := MixedQuantile(values, mild, 0, 1-q), MixedQuantile(values, mild, 0, 1-p)
		if !math.IsInf(spring, 0) {
			assert.LessOrEqual(t, spring, later+1e-9, "the later the day, the smaller the risk")
		}
		edge := math.Abs(q*float64(len(values)+mild)-float64(len(values))) < 1e-6 // a last bit decides
		assert.True(t, edge || math.IsInf(spring, 0) == math.IsInf(MixedQuantile(values, 0, mild, q), 0), "spring and autumn mirror each other")
	})
	assert.True(t, math.IsNaN(Quantile(nil, 0.5)))
	assert.True(t, math.IsNaN(Quantile([]float64{1, 2}, 1.01)))
	assert.True(t, math.IsNaN(Quantile([]float64{1, 2}, -0.01)))
	assert.True(t, math.IsNaN(Quantile([]float64{math.NaN(), 2}, 0.5)))
}

func TestWetBulbProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tC, rh := float(t, -15, 45, "t"), float(t, 5, 100, "rh")
		p := AtmosphericPressureKPa(float(t, 0, 2500, "z"))
		ea := SaturationVapourPressureKPa(tC) * rh / 100
		wet := WetBulbC(tC, ea, p)
		assert.GreaterOrEqual(t, wet, DewPointC(ea)-1e-9)
		assert.LessOrEqual(t, wet, tC+1e-9)
		assert.InDelta(t, ea, VapourPressureFromWetBulbKPa(tC, wet, p, VentilatedPsychrometer), 1e-9, "solves eq. 15")
		assert.GreaterOrEqual(t, DeltaTC(tC, rh, 400), -1e-9)
		if tC >= 0 && rh >= 20 && rh <= 99 {
			sea := WetBulbC(tC, ea, AtmosphericPressureKPa(0))
			assert.InDelta(t, sea, WetBulbStullC(tC, rh), 1.3, "Stull's error is -1.0 to +0.65 °C")
		}
	})
	assert.True(t, math.IsNaN(WetBulbC(20, 2.5, 101.3)), "more vapor than saturation")
	assert.True(t, math.IsNaN(WetBulbC(20, 0, 101.3)), "no vapor")
	for _, in := range [][2]float64{{-20, 50}, {50, 50}, {20, 5}, {20, 99}} {
		assert.False(t, math.IsNaN(WetBulbStullC(in[0], in[1])), "at the edge of the range of Stull (2011): %v", in)
	}
	for _, out := range [][2]float64{{-20.1, 50}, {50.1, 50}, {20, 4.9}, {20, 99.1}} {
		assert.True(t, math.IsNaN(WetBulbStullC(out[0], out[1])), "outside the range of Stull (2011): %v", out)
	}
}

func TestWetnessProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tmin, tmax := ordered(t, -5, 38, "t")
		drier, damper := ordered(t, -10, 38, "dew")
		h := WetHoursFromDewPoint(tmax, tmin, drier)
		assert.GreaterOrEqual(t, h, 0.0)
		assert.LessOrEqual(t, h, 24.0)
		assert.LessOrEqual(t, h, WetHoursFromDewPoint(tmax, tmin, damper)+1e-9)
	})
}

func TestEstimatedHumidityProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tmin, tmax := ordered(t, -10, 42, "t")
		dry := EstimatedHumidityPct(tmax, tmin, 0, 0)
		assert.GreaterOrEqual(t, dry, 25.0)
		assert.LessOrEqual(t, dry, 100.0)
		assert.InDelta(t, 6, EstimatedHumidityPct(tmax, tmin, 5, 0)-dry, 1e-9)
		assert.InDelta(t, 1, EstimatedHumidityPct(tmax, tmin, 0, 5)-dry, 1e-9)
	})
}

func TestFreezeSearchProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nights := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) float64 {
			if rapid.IntRange(0, 9).Draw(t, "gap") == 0 {
				return math.NaN()
			}
			return rapid.Float64Range(-10, 20).Draw(t, "tmin")
		}), 0, 200).Draw(t, "nights")
		soft, hard := 0.0, -2.2
		i, s := FirstFreeze(nights, soft)
		j, hs := FirstFreeze(nights, hard)
		if s == SightingFound {
			assert.LessOrEqual(t, quantity.Tenths(nights[i]), soft)
			for _, before := range nights[:i] {
				assert.False(t, quantity.Tenths(before) <= soft, "there is no earlier one")
			}
		}
		if s == SightingFound && hs == SightingFound {
			assert.LessOrEqual(t, i, j, "a hard freeze is a freeze")
		}
		mirrored := slices.Clone(nights)
		slices.Reverse(mirrored)
		k, ms := LastFreeze(mirrored, soft)
		assert.Equal(t, s, ms)
		if s == SightingFound {
			assert.Equal(t, len(nights)-1-i, k)
		}
	})
	i, s := FirstFreeze([]float64{-5}, math.NaN())
	assert.Equal(t, -1, i)
	assert.Equal(t, SightingUnknown, s)
}

func TestKnownDays(t *testing.T) {
	nan := math.NaN()
	var k Known
	assert.True(t, math.IsNaN(k.Mean(0)), "of no days there is no mean")
	for _, x := range []float64{1, nan, 3, nan, 8} {
		k.Add(x)
	}
	assert.Equal(t, Known{Sum: 12, Days: 3}, k)
	assert.Equal(t, 4.0, k.Mean(3))
	assert.Equal(t, 12.0, k.Total(3))
	assert.True(t, math.IsNaN(k.Mean(4)) && math.IsNaN(k.Total(4)), "four were wanted")

	assert.Equal(t, 2.0, GapRule{MostMissing: 1, LongestRun: 1}.Mean([]float64{1, nan, 3}))
	assert.True(t, math.IsNaN(SumRule().Mean([]float64{1, nan, 3})))
	assert.Equal(t, 4.0, Total([]float64{1, 3}))
	assert.True(t, math.IsNaN(Total([]float64{1, nan, 3})) && math.IsNaN(Total(nil)))
}
