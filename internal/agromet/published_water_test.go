package agromet

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPublishedSoilWater(t *testing.T) {
	for _, r := range []struct {
		soil                        string
		availableMMPerM, taw, rawMM float64
	}{
		{"loamy sand", 90, 72, 29}, {"silt", 170, 136, 54}, {"silty clay", 120, 96, 38},
	} {
		taw := TotalAvailableWaterMM(r.availableMMPerM/1000, 0, 0.8)
		check(t, "FAO-56 Example 36", []row{
			{"total available water of tomato on " + r.soil, read, r.taw, 0.5, taw},
			{"readily available water of tomato on " + r.soil, read, r.rawMM, 0.5, ReadilyAvailableWaterMM(taw, 0.40)},
		})
	}
	check(t, "FAO-56 eq. 82", []row{
		{"total available water of silt, 0.32 less 0.12 over 0.8 m (Example 37)", read, 160, 1e-9, TotalAvailableWaterMM(0.32, 0.12, 0.8)},
	})
	check(t, "FAO-56 Table 22, footnote", []row{
		{"p at 5 mm per day is the tabled one", read, 0.40, 1e-12, DepletionFraction(0.40, 5)},
		{"p of 0.40 at 3 mm per day", recomputed, 0.48, 1e-12, DepletionFraction(0.40, 3)},
		{"p of 0.50 at 8 mm per day", recomputed, 0.38, 1e-12, DepletionFraction(0.50, 8)},
		{"p is never above 0.8", read, 0.8, 1e-12, DepletionFraction(0.7, 0)},
		{"p is never below 0.1", read, 0.1, 1e-12, DepletionFraction(0.2, 12)},
	})
	textures := Textures()
	for i, want := range []struct {
		Texture
		middleInPerFt float64
	}{
		{Texture{"sand", 0.07, 0.17, 0.02, 0.07, 0.05, 0.11}, 0.96},
		{Texture{"loamy-sand", 0.11, 0.19, 0.03, 0.10, 0.06, 0.12}, 1.08},
		{Texture{"sandy-loam", 0.18, 0.28, 0.06, 0.16, 0.11, 0.15}, 1.56},
		{Texture{"loam", 0.20, 0.30, 0.07, 0.17, 0.13, 0.18}, 1.86},
		{Texture{"silt-loam", 0.22, 0.36, 0.09, 0.21, 0.13, 0.19}, 1.92},
		{Texture{"silt", 0.28, 0.36, 0.12, 0.22, 0.16, 0.20}, 2.16},
		{Texture{"silty-clay-loam", 0.30, 0.37, 0.17, 0.24, 0.13, 0.18}, 1.86},
		{Texture{"silty-clay", 0.30, 0.42, 0.17, 0.29, 0.13, 0.19}, 1.92},
		{Texture{"clay", 0.32, 0.40, 0.20, 0.24, 0.12, 0.20}, 1.92},
	} {
		t.Run("FAO-56 Table 19: water contents of "+want.Name+" (read)", func(t *testing.T) {
			assert.Equal(t, want.Texture, textures[i])
		})
		check(t, "FAO-56 Table 19", []row{
			{"available water of " + want.Name + ", middle of the range, inches per foot", recomputed, want.middleInPerFt, 0.005, 12 * textures[i].Available()},
		})
	}
	assert.Len(t, textures, 9)
	check(t, "UF IFAS EDIS AE436", []row{
		{"half of the water in 0.30 m of sand is about half an inch", secondHand, 12.5, 0.6,
			ReadilyAvailableWaterMM(TotalAvailableWaterMM(Textures()[0].Available(), 0, 0.30), 0.50)},
	})
}

func TestPublishedStress(t *testing.T) {
	depletion := []float64{61.0, 67.0, 72.8, 78.3, 83.4, 88.2, 92.6, 96.9, 100.8, 104.5}
	ks := []float64{1, 1, 0.97, 0.91, 0.85, 0.80, 0.75, 0.70, 0.66, 0.62}
	taw := TotalAvailableWaterMM(0.32, 0.12, 0.8)
	d := 55.0
	for i := range depletion {
		got := BalanceStep(BalanceInput{DepletionMM: d, TAWMM: taw, P: 0.40, ETMM: 5, ETcMM: 1.2 * 5})
		check(t, "FAO-56 Example 37", []row{
			{fmt.Sprintf("depletion at the end of dry day %d", i+1), read, depletion[i], 0.1, got.DepletionMM},
			{fmt.Sprintf("stress coefficient of dry day %d", i+1), read, ks[i], 0.01, got.Ks},
		})
		d = got.DepletionMM
	}
}

func TestPublishedBalanceOrder(t *testing.T) {
	refill := BalanceStep(BalanceInput{DepletionMM: 20, TAWMM: 60, P: 0.5, ETMM: 6, ETcMM: 5, RainMM: 30})
	check(t, "FAO-56 Example 38", []row{
		{"rain beyond the depletion drains first", read, 10, 1e-12, refill.PercolationMM},
		{"and the day's evapotranspiration is taken from the full root zone", read, 5, 1e-12, refill.DepletionMM},
	})
	light := BalanceStep(BalanceInput{DepletionMM: 20, TAWMM: 60, P: 0.5, ETMM: 6, ETcMM: 5, RainMM: 1.1})
	full := BalanceStep(BalanceInput{DepletionMM: 20, TAWMM: 60, P: 0.5, ETMM: 6, ETcMM: 5, RainMM: 1.2})
	check(t, "FAO-56 chapter 8", []row{
		{"rain below 0.2 ETo evaporates", read, 0, 1e-12, light.EffectiveRainMM},
		{"rain of 6 mm counts on a day of 30", read, 6, 1e-12,
			BalanceStep(BalanceInput{DepletionMM: 20, TAWMM: 60, P: 0.5, ETMM: 30, ETcMM: 5, RainMM: 6}).EffectiveRainMM},
		{"rain of 0.2 ETo counts", read, 1.2, 1e-12, full.EffectiveRainMM},
		{"depletion never passes the total available water (eq. 86)", read, 30, 1e-12,
			BalanceStep(BalanceInput{DepletionMM: 12, TAWMM: 30, P: 0.8, ETMM: 40, ETcMM: 40}).DepletionMM},
		{"what was taken then is what was left", read, 18, 1e-12,
			BalanceStep(BalanceInput{DepletionMM: 12, TAWMM: 30, P: 0.8, ETMM: 40, ETcMM: 40}).ETcAdjMM},
		{"irrigation is due from the readily available water on, by the depletion", read, 21, 1e-12, IrrigationNeedMM(21, 20)},
		{"and not before", read, 0, 1e-12, IrrigationNeedMM(19.9, 20)},
	})
}

func TestPublishedRunoff(t *testing.T) {
	const mmPerInch = 25.4
	check(t, "TR-55 1986 Example 2-1", []row{
		{"runoff of 6.0 in on curve number 70, in", memory, 2.81, 0.01, RunoffMM(6.0*mmPerInch, 70) / mmPerInch},
	})
	check(t, "TR-55 1986 eq. 2-3", []row{
		{"runoff of 6.0 in on curve number 70, third decimal, in", recomputed, 2.805, 0.0005, RunoffMM(6.0*mmPerInch, 70) / mmPerInch},
		{"no runoff up to the initial abstraction", recomputed, 0, 1e-12, RunoffMM(0.2*(25400.0/70-254), 70)},
		{"everything runs off a curve number of 100", recomputed, 40, 1e-12, RunoffMM(40, 100)},
	})
	t.Run("TR-55 1986: a curve number is above 0 and at most 100 (read)", func(t *testing.T) {
		for _, cn := range []float64{-1, 0, 100.5, 101} {
			assert.True(t, math.IsNaN(RunoffMM(50, cn)), "%g", cn)
		}
	})
	for _, r := range []struct {
		coverPct     float64
		a, b, c, d   float64
		fromStanding string
	}{
		{80, 39, 61, 74, 80, read}, {75.5, 39, 61, 74, 80, read}, {75, 49, 69, 79, 84, secondHand}, {50, 49, 69, 79, 84, secondHand}, {49, 68, 79, 86, 89, secondHand},
	} {
		cover := fmt.Sprintf(" with %g %% cover, soil group ", r.coverPct)
		check(t, "TR-55 1986 Table 2-2a", []row{
			{"open grass" + cover + "A", r.fromStanding, r.a, 0, LawnCurveNumber('A', r.coverPct)},
			{"open grass" + cover + "B", r.fromStanding, r.b, 0, LawnCurveNumber('B', r.coverPct)},
			{"open grass" + cover + "C", r.fromStanding, r.c, 0, LawnCurveNumber('C', r.coverPct)},
			{"open grass" + cover + "D", r.fromStanding, r.d, 0, LawnCurveNumber('D', r.coverPct)},
		})
	}
}

func TestPublishedSprinklers(t *testing.T) {
	cans := []float64{30, 28, 26, 25, 24, 24, 23, 22, 22, 21, 20, 20, 19, 18, 18, 17, 16, 15, 14, 12}
	base := BaseRunTimeMin(12.5, 38)
	check(t, "Oki, UC Davis", []row{
		{"low-quarter uniformity of 20 cans, mean 20.7 and low quarter 14.8", recomputed, 0.715, 0.001, DistributionUniformity(cans)},
		{"low quarter over mean, as told", recomputed, 14.8 / 20.7, 0.0005, DistributionUniformity(cans)},
		{"base run time of 12.5 mm at 38 mm per hour, min", recomputed, 19.74, 0.01, base},
		{"run time by the upper bound, uniformity 0.65, min", recomputed, 30.36, 0.01, base / 0.65},
	})
	check(t, "Irrigation Association practice", []row{
		{"scheduling multiplier at uniformity 0.65", memory, 1.2658, 0.0001, SchedulingMultiplier(0.65)},
		{"run time with the multiplier, min", memory, 24.98, 0.01, base * SchedulingMultiplier(0.65)},
	})
}
