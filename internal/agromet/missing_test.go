package agromet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// TestNoModelReturnsANumberFromMissingInput puts a NaN in the place of each
// argument of each function in turn and expects NaN. The other arguments are
// drawn from a range in which the function has a value.
func TestNoModelReturnsANumberFromMissingInput(t *testing.T) {
	type limits [2]float64
	var (
		temp  = limits{5, 35}
		warm  = limits{20, 35}
		cold  = limits{-5, 15}
		rh    = limits{40, 98}
		ra    = limits{15, 42}
		rs    = limits{5, 15}
		kPa   = limits{0.8, 1.6}
		wind  = limits{0.5, 8}
		depth = limits{1, 30}
		share = limits{0.1, 0.9}
	)
	models := []struct {
		name string
		args []limits
		f    func(x []float64) float64
	}{
		{"SunsetHourAngle", []limits{{-0.8, 0.8}, {-0.4, 0.4}}, func(x []float64) float64 { return SunsetHourAngle(x[0], x[1]) }},
		{"SunOfDay, radiation", []limits{{-0.8, 0.8}}, func(x []float64) float64 { return raMJ(x[0], 188) }},
		{"DaylightHours", []limits{{-0.8, 0.8}}, func(x []float64) float64 { return DaylightHours(x[0], 188) }},
		{"SunTimes rise", []limits{{-50, 50}, {-180, 180}}, func(x []float64) float64 { return SunTimes(x[0], x[1], 2020, 188).RiseUTCMin }},
		{"SunTimes set", []limits{{-50, 50}, {-180, 180}}, func(x []float64) float64 { return SunTimes(x[0], x[1], 2020, 188).SetUTCMin }},
		{"SunTimes noon", []limits{{-180, 180}}, func(x []float64) float64 { return SunTimes(40, x[0], 2020, 188).NoonUTCMin }},
		{"ClearSkyRadiationMJ", []limits{ra, {0, 2000}}, func(x []float64) float64 { return ClearSkyRadiationMJ(x[0], x[1]) }},
		{"RadiationFromSunshineMJ", []limits{ra, {0, 10}, {11, 14}}, func(x []float64) float64 { return RadiationFromSunshineMJ(x[0], x[1], x[2]) }},
		{"RadiationFromCloudMJ", []limits{rs, share}, func(x []float64) float64 { return RadiationFromCloudMJ(x[0], x[1]) }},
		{"RadiationFromTemperatureMJ", []limits{ra, ra, warm, cold, {0.16, 0.19}}, func(x []float64) float64 { return RadiationFromTemperatureMJ(x[0], x[1], x[2], x[3], x[4]) }},
		{"NetShortwaveMJ", []limits{rs}, func(x []float64) float64 { return NetShortwaveMJ(x[0]) }},
		{"NetLongwaveMJ", []limits{warm, cold, kPa, rs, ra}, func(x []float64) float64 { return NetLongwaveMJ(x[0], x[1], x[2], x[3], x[4]) }},
		{"LightIntegralMol", []limits{rs}, func(x []float64) float64 { return LightIntegralMol(x[0]) }},
		{"SaturationVapourPressureKPa", []limits{temp}, func(x []float64) float64 { return SaturationVapourPressureKPa(x[0]) }},
		{"MeanSaturationVapourPressureKPa", []limits{warm, cold}, func(x []float64) float64 { return MeanSaturationVapourPressureKPa(x[0], x[1]) }},
		{"VapourPressureSlope", []limits{temp}, func(x []float64) float64 { return VapourPressureSlope(x[0]) }},
		{"AtmosphericPressureKPa", []limits{{0, 2000}}, func(x []float64) float64 { return AtmosphericPressureKPa(x[0]) }},
		{"PsychrometricConstant", []limits{{80, 102}}, func(x []float64) float64 { return PsychrometricConstant(x[0]) }},
		{"VapourPressureFromDewPointKPa", []limits{temp}, func(x []float64) float64 { return VapourPressureFromDewPointKPa(x[0]) }},
		{"VapourPressureFromRelativeHumidityKPa", []limits{warm, cold, rh, rh}, func(x []float64) float64 { return VapourPressureFromRelativeHumidityKPa(x[0], x[1], x[2], x[3]) }},
		{"VapourPressureFromMaxHumidityKPa", []limits{cold, rh}, func(x []float64) float64 { return VapourPressureFromMaxHumidityKPa(x[0], x[1]) }},
		{"VapourPressureFromMeanHumidityKPa", []limits{warm, cold, rh}, func(x []float64) float64 { return VapourPressureFromMeanHumidityKPa(x[0], x[1], x[2]) }},
		{"VapourPressureFromMinTemperatureKPa", []limits{cold}, func(x []float64) float64 { return VapourPressureFromMinTemperatureKPa(x[0], true) }},
		{"VapourPressureFromWetBulbKPa", []limits{warm, {15, 20}, {80, 102}, {0.0006, 0.0012}}, func(x []float64) float64 { return VapourPressureFromWetBulbKPa(x[0], x[1], x[2], x[3]) }},
		{"DewPointC", []limits{kPa}, func(x []float64) float64 { return DewPointC(x[0]) }},
		{"RelativeHumidityPct", []limits{warm, cold}, func(x []float64) float64 { return RelativeHumidityPct(x[0], x[1]) }},
		{"ReferenceETMM", []limits{warm, cold, kPa, rs, ra, wind, {0, 2000}, {-1, 1}}, func(x []float64) float64 {
			return ReferenceETMM(ReferenceETInput{TmaxC: x[0], TminC: x[1], EaKPa: x[2], RsMJ: x[3], RsoMJ: x[4], WindMS2m: x[5], ElevationM: x[6], SoilHeatMJ: x[7], RaMJ: math.NaN()})
		}},
		{"ReferenceETMM without clear-sky radiation", []limits{ra}, func(x []float64) float64 {
			return ReferenceETMM(ReferenceETInput{TmaxC: 30, TminC: 20, EaKPa: 2, RsMJ: 10, RsoMJ: math.NaN(), RaMJ: x[0], WindMS2m: 2})
		}},
		{"WindAt2mMS", []limits{wind, {1, 10}}, func(x []float64) float64 { return WindAt2mMS(x[0], x[1]) }},
		{"WindAt03mMS", []limits{wind}, func(x []float64) float64 { return WindAt03mMS(x[0]) }},
		{"SoilModel.Next, air", []limits{temp}, func(x []float64) float64 { return SoilAt5cm().Next(10, x[0]) }},
		{"SoilModel.Next, air at the start", []limits{temp}, func(x []float64) float64 { return SoilAt5cm().Next(math.NaN(), x[0]) }},
		{"SoilC", []limits{temp}, func(x []float64) float64 { return SoilC(x[0]) }},
		{"AverageDegreeDays", []limits{warm, cold, temp}, func(x []float64) float64 { return AverageDegreeDays(x[0], x[1], x[2]) }},
		{"AverageDegreeDays below the base", []limits{cold, {-20, -10}, warm}, func(x []float64) float64 { return AverageDegreeDays(x[0], x[1], x[2]) }},
		{"ModifiedDegreeDays", []limits{warm, cold, {0, 10}, warm}, func(x []float64) float64 { return ModifiedDegreeDays(x[0], x[1], x[2], x[3]) }},
		{"SineDegreeDays", []limits{warm, cold, {0, 10}, warm}, func(x []float64) float64 { return SineDegreeDays(x[0], x[1], x[2], x[3]) }},
		{"SineDegreeDays below the base", []limits{cold, {-20, -10}, warm, {40, 50}}, func(x []float64) float64 { return SineDegreeDays(x[0], x[1], x[2], x[3]) }},
		{"WetBulbStullC", []limits{temp, rh}, func(x []float64) float64 { return WetBulbStullC(x[0], x[1]) }},
		{"WetBulbC", []limits{warm, kPa, {80, 102}}, func(x []float64) float64 { return WetBulbC(x[0], x[1], x[2]) }},
		{"DeltaTC", []limits{temp, rh, {0, 2000}}, func(x []float64) float64 { return DeltaTC(x[0], x[1], x[2]) }},
		{"WetHoursFromDewPoint", []limits{warm, cold, temp}, func(x []float64) float64 { return WetHoursFromDewPoint(x[0], x[1], x[2]) }},
		{"EstimatedHumidityPct", []limits{warm, cold, {0, 10}, {0, 10}}, func(x []float64) float64 { return EstimatedHumidityPct(x[0], x[1], x[2], x[3]) }},
		{"MixedQuantile", []limits{{0, 1}}, func(x []float64) float64 { return MixedQuantile([]float64{60, 70, 80}, 0, 0, x[0]) }},
		{"Quantile, p", []limits{{0, 1}}, func(x []float64) float64 { return Quantile([]float64{1, 2, 3}, x[0]) }},
		{"Quantile, values", []limits{{0, 1}, {2, 3}, {4, 5}}, func(x []float64) float64 { return Quantile(x, 0.5) }},
		{"CropCoefficient", []limits{share, share, share}, func(x []float64) float64 { return CropCoefficient(x[0], x[1], x[2]) }},
		{"TotalAvailableWaterMM", []limits{{0.2, 0.4}, {0.02, 0.15}, {0.1, 1}}, func(x []float64) float64 { return TotalAvailableWaterMM(x[0], x[1], x[2]) }},
		{"ReadilyAvailableWaterMM", []limits{depth, share}, func(x []float64) float64 { return ReadilyAvailableWaterMM(x[0], x[1]) }},
		{"DepletionFraction", []limits{share, {0, 10}}, func(x []float64) float64 { return DepletionFraction(x[0], x[1]) }},
		{"StressCoefficient without stress", []limits{{0, 5}, {20, 30}, {6, 10}}, func(x []float64) float64 { return StressCoefficient(x[0], x[1], x[2]) }},
		{"StressCoefficient under stress", []limits{{15, 18}, {20, 30}, {6, 10}}, func(x []float64) float64 { return StressCoefficient(x[0], x[1], x[2]) }},
		{"RunoffMM", []limits{{0, 100}, {30, 98}}, func(x []float64) float64 { return RunoffMM(x[0], x[1]) }},
		{"LawnCurveNumber", []limits{{0, 100}}, func(x []float64) float64 { return LawnCurveNumber('B', x[0]) }},
		{"IrrigationNeedMM", []limits{depth, depth}, func(x []float64) float64 { return IrrigationNeedMM(x[0], x[1]) }},
		{"DistributionUniformity", []limits{depth, depth, depth, depth}, DistributionUniformity},
		{"BaseRunTimeMin", []limits{depth, depth}, func(x []float64) float64 { return BaseRunTimeMin(x[0], x[1]) }},
		{"SchedulingMultiplier", []limits{share}, func(x []float64) float64 { return SchedulingMultiplier(x[0]) }},
	}
	balance := func(pick func(Balance) float64) func(x []float64) float64 {
		return func(x []float64) float64 {
			return pick(BalanceStep(BalanceInput{x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7]}))
		}
	}
	for name, pick := range map[string]func(Balance) float64{
		"depletion":      func(b Balance) float64 { return b.DepletionMM },
		"effective rain": func(b Balance) float64 { return b.EffectiveRainMM },
		"percolation":    func(b Balance) float64 { return b.PercolationMM },
		"Ks":             func(b Balance) float64 { return b.Ks },
		"ETc adj":        func(b Balance) float64 { return b.ETcAdjMM },
	} {
		models = append(models, struct {
			name string
			args []limits
			f    func(x []float64) float64
		}{"BalanceStep, " + name, []limits{depth, {40, 80}, share, {1, 6}, {1, 6}, {0, 40}, {0, 3}, {0, 10}}, balance(pick)})
	}
	for _, m := range models {
		t.Run(m.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				args := make([]float64, len(m.args))
				for i, a := range m.args {
					args[i] = rapid.Float64Range(a[0], a[1]).Draw(t, "argument")
				}
				// Where values must be in order, they were drawn so.
				assert.False(t, math.IsNaN(m.f(args)), "a number from whole input %v", args)
				for i, whole := range args {
					args[i] = math.NaN()
					assert.True(t, math.IsNaN(m.f(args)), "no number without argument %d", i)
					args[i] = whole
				}
			})
		})
	}
}
