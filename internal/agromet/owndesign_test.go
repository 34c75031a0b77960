package agromet

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestOwnDesignRootZoneWeek(t *testing.T) {
	// The week at Durham of the reference evapotranspiration, on warm-season
	// turf (Kc 0.71) over 0.25 m of soil with 0.13 available. The 0.6 mm of 9
	// July are below 0.2 ETo and do not count.
	site := Site{LatitudeDeg: 35.97, ElevationM: 171}
	want := []float64{14.09, 16.71, 17.26, 20.65, 18.79, 22.59, 25.42}
	taw := TotalAvailableWaterMM(0.13, 0, 0.25)
	d, sumET, sumPercolation := 10.0, 0.0, 0.0
	for i, day := range durham {
		w := missingDay()
		w.TmaxC, w.TminC, w.RHMaxPct, w.RHMinPct, w.SolarMJ = day.tmaxC, day.tminC, day.rhMax, day.rhMin, day.rsMJ
		et := Derive(site, day.doy, w).ETMM
		got := BalanceStep(BalanceInput{DepletionMM: d, TAWMM: taw, P: DepletionFraction(0.50, 0.71*et), ETMM: et, ETcMM: 0.71 * et, RainMM: day.rainMM})
		check(t, "FAO-56 eqs. 82 to 88, Durham NC 2020", []row{
			{"depletion at the end of " + day.day, own, want[i], 0.05, got.DepletionMM},
		})
		d = got.DepletionMM
		sumET += got.ETcAdjMM
		sumPercolation += got.PercolationMM
	}
	check(t, "FAO-56 eqs. 82 to 88, Durham NC 2020", []row{
		{"evapotranspiration of the week", own, 23.52, 0.05, sumET},
		{"percolation of the week", own, 0, 0, sumPercolation},
	})
}

func TestOwnDesignSoilTemperature(t *testing.T) {
	// Watkinsville GA from 1 March 2020 (U.S. Climate Reference Network).
	air := [][2]float64{
		{16.8, -2.8}, {14.1, 4.5}, {20.3, 11.6}, {16.6, 11.8}, {11.9, 6.8}, {13.0, 3.2}, {14.0, 0.3}, {15.9, -0.1},
		{19.6, 2.4}, {18.8, 11.5}, {21.5, 10.0}, {21.1, 12.2}, {23.4, 16.1}, {22.9, 11.1}, {19.0, 10.8}, {15.6, 9.9},
		{18.0, 9.4}, {23.2, 9.9}, {26.6, 14.7}, {26.8, 14.3}, {24.0, 12.7}, {15.7, 10.1}, {14.3, 9.5}, {15.1, 11.9}, {22.6, 12.5},
	}
	tests := []struct {
		depth    string
		model    SoilModel
		want     map[int]float64
		observed map[int]float64
	}{
		{"5 cm", SoilAt5cm(),
			map[int]float64{1: 8.00, 2: 8.46, 10: 11.47, 15: 15.66, 20: 17.78, 25: 16.52},
			map[int]float64{10: 13.2, 15: 15.2, 20: 18.1, 25: 17.2}},
		{"10 cm", SoilAt10cm(),
			map[int]float64{1: 8.00, 2: 8.34, 10: 11.02, 15: 14.76, 20: 16.87, 25: 16.31},
			map[int]float64{10: 12.9, 15: 15.1, 20: 17.6, 25: 16.8}},
	}
	for _, tt := range tests {
		s := math.NaN()
		for i, a := range air {
			s = tt.model.Next(s, (a[0]+a[1])/2)
			if want, ok := tt.want[i+1]; ok {
				check(t, "Watkinsville GA, soil at "+tt.depth, []row{
					{fmt.Sprintf("day %d", i+1), own, want, 0.02, SoilC(s)},
				})
			}
			if seen, ok := tt.observed[i+1]; ok {
				check(t, "Watkinsville GA, soil at "+tt.depth, []row{
					{fmt.Sprintf("day %d within the band of what the probe saw", i+1), own, seen, SoilBandC, SoilC(s)},
				})
			}
		}
	}
	check(t, "clipped exponential", []row{
		{"the soil is 1 °C above the smoothed air", own, 11, 1e-12, SoilC(10)},
		{"air colder than -2 °C counts as -2 °C at the start", own, -2, 1e-12, SoilAt5cm().Next(math.NaN(), -15)},
		{"and later", own, 10 + 0.20*(-2-10), 1e-12, SoilAt5cm().Next(10, -15)},
	})
}

func TestOwnDesignEstimatedHumidity(t *testing.T) {
	for _, r := range []struct{ tmaxC, tminC, rainMM, yesterdayMM, dew, want float64 }{
		{30, 20, 0, 0, 71.06, 74.66},
		{30, 20, 1.0, 0, 71.06, 80.66},
		{33, 17, 0.9, 0.9, 55.62, 66.48},
		{28, 23, 12, 5, 85.27, 89.19},
		{24, 10, 0, 1.0, 58.31, 68.90},
	} {
		day := fmt.Sprintf("%g and %g °C, %g mm after %g mm", r.tmaxC, r.tminC, r.rainMM, r.yesterdayMM)
		check(t, "humidity estimated from temperature and rain", []row{
			{"dew point at the minimum, " + day, own, r.dew, 0.005, dewAtMinimumHumidityPct(r.tmaxC, r.tminC)},
			{day, own, r.want, 0.005, EstimatedHumidityPct(r.tmaxC, r.tminC, r.rainMM, r.yesterdayMM)},
		})
	}
	check(t, "humidity estimated from temperature and rain", []row{
		{"saturated and wet twice is 97 %, the most there is", own, 97, 1e-9, EstimatedHumidityPct(20, 20, 5, 5)},
		{"the driest air is above the floor of 25 %", own, 37 + 0.53*dewAtMinimumHumidityPct(50, -20), 1e-9, EstimatedHumidityPct(50, -20, 0, 0)},
	})
}

func TestOwnDesignWetnessFromDailyData(t *testing.T) {
	hours := WetHoursFromDewPoint(26, 21, 22)
	check(t, "sine between minimum and maximum", []row{
		{"temperature of 90 % over a dew point of 22 °C", own, 23.74, 0.01, DewPointC(VapourPressureFromDewPointKPa(22) / 0.90)},
		{"wet hours at 26 and 21 °C over a dew point of 22 °C", own, 12.7, 0.1, hours},
		{"dry all day", own, 0, 0, WetHoursFromDewPoint(30, 20, 10)},
		{"wet all day", own, 24, 0, WetHoursFromDewPoint(20, 18, 19.5)},
		{"no range of temperature, wet", own, 24, 0, WetHoursFromDewPoint(20, 20, 19.5)},
		{"no range of temperature, dry", own, 0, 0, WetHoursFromDewPoint(20, 20, 10)},
	})
	assert.Equal(t, WetnessHigh, ClassifyWetness(hours))
	for _, r := range []struct {
		h    float64
		code string
	}{{0, "low"}, {7.9, "low"}, {8, "medium"}, {12, "medium"}, {12.1, "high"}, {24, "high"}, {math.NaN(), "unknown"}} {
		assert.Equal(t, r.code, ClassifyWetness(r.h).String(), "%g h", r.h)
	}
	check(t, "wind over grass", []row{
		{"factor from 2 m to 0.3 m", own, 0.555, 0.001, WindAt03mMS(1)},
		{"and back by FAO-56 eq. 47", own, 1, 1e-12, WindAt2mMS(WindAt03mMS(1), 0.3)},
	})
}

func TestOwnDesignDeltaTAboveStull(t *testing.T) {
	// Above 300 m, and outside the range of Stull (2011), the psychrometer.
	ea := SaturationVapourPressureKPa(25) * 0.60
	check(t, "choice of wet bulb", []row{
		{"300 m: Stull", own, 25 - WetBulbStullC(25, 60), 1e-12, DeltaTC(25, 60, 300)},
		{"301 m: psychrometer", own, 25 - WetBulbC(25, ea, AtmosphericPressureKPa(301)), 1e-12, DeltaTC(25, 60, 301)},
		{"100 %: psychrometer, no depression", own, 0, 1e-6, DeltaTC(20, 100, 0)},
		{"-25 °C: psychrometer", own, -25 - WetBulbC(-25, SaturationVapourPressureKPa(-25)*0.5, AtmosphericPressureKPa(0)), 1e-12, DeltaTC(-25, 50, 0)},
	})
}

func TestOwnDesignIrrigation(t *testing.T) {
	n, each := Cycles(25, 8)
	assert.Equal(t, 4, n)
	assert.InDelta(t, 6.25, each, 1e-12)
	n, each = Cycles(8, 8)
	assert.Equal(t, 1, n)
	assert.InDelta(t, 8, each, 1e-12)
	for _, bad := range [][2]float64{{0, 8}, {25, 0}, {math.NaN(), 8}, {25, math.NaN()}, {math.Inf(1), 8}} {
		n, each = Cycles(bad[0], bad[1])
		assert.Zero(t, n)
		assert.True(t, math.IsNaN(each))
	}
	check(t, "crop coefficient between dormant and green", []row{
		{"all green", own, 0.75, 1e-12, CropCoefficient(0.35, 0.75, 1)},
		{"dormant", own, 0.35, 1e-12, CropCoefficient(0.35, 0.75, 0)},
		{"half green", own, 0.55, 1e-12, CropCoefficient(0.35, 0.75, 0.5)},
	})
	assert.True(t, math.IsNaN(DistributionUniformity([]float64{1, 2, 3})), "not a multiple of four")
	assert.True(t, math.IsNaN(DistributionUniformity(nil)), "no cans")
	assert.True(t, math.IsNaN(DistributionUniformity([]float64{0, 0, 0, 0})), "no water caught")
	assert.True(t, math.IsNaN(LawnCurveNumber('E', 80)), "no such soil group")
}

// The bands and spin-up times that stand on printed pages.
func TestOwnDesignPrintedFigures(t *testing.T) {
	check(t, "printed figures", []row{
		{"band of a modeled soil temperature, °C", own, 3, 0, SoilBandC},
		{"band of a date from it, days", own, 10, 0, SoilDateBandDays},
		{"soil model, days before it counts", own, 20, 0, SoilSpinUpDays},
		{"band of wet hours, h", own, 3, 0, WetnessBandH},
		{"water balance, days before it counts", own, 30, 0, BalanceSpinUpDays},
		{"band of a depletion, share of what the soil holds", own, 0.25, 0, DepletionBandShare},
		{"rain from which runoff is worked out, mm", own, 25, 0, LeastRunoffRainMM},
	})
	check(t, "FAO-56 chapter 11", []row{
		{"snow-covered turf, mm per day", read, 0.4, 0, FrozenETcMM},
	})
}
