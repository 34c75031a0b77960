package disease

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/pest"
	"ligule/internal/turf"
)

var nan = math.NaN()

// near compares with a tolerance; NaN equals NaN.
func near(t *testing.T, want, got, tolerance float64, of ...any) {
	t.Helper()
	if math.IsNaN(want) {
		assert.True(t, math.IsNaN(got), append([]any{"%v is a number"}, got)...)
		return
	}
	assert.InDelta(t, want, got, tolerance, of...)
}

// The logistic of Smith, Kerns, Walker et al. 2018 (PLoS ONE 13(3):e0194216),
// worked by hand; the two statements on its shape are those of Woods 2018, The
// probability of a dollar spot epidemic.
func TestPublishedDollarSpotProbability(t *testing.T) {
	for _, c := range []struct {
		name            string
		t5, rh5, z, pct float64
	}{
		{"10 °C and 85 %", 10, 85, -1.8731, 13.32}, {"12.5 °C and 90 %", 12.5, 90, -0.9431, 28.03},
		{"15 °C and 70 %", 15, 70, -2.2481, 9.55}, {"15 °C and 80 %, just over 20 %", 15, 80, -1.3541, 20.52},
		{"17.5 °C and 75 %", 17.5, 75, -1.3181, 21.11}, {"20 °C and 60 %", 20, 60, -2.1761, 10.19},
		{"20 °C and 80 %", 20, 80, -0.3881, 40.42}, {"22.5 °C and 85 %", 22.5, 85, 0.5419, 63.23},
		{"25 °C and 50 %", 25, 50, -2.1041, 10.87}, {"25 °C and 75 %", 25, 75, 0.1309, 53.27},
		{"27.5 °C and 65 %", 27.5, 65, -0.2801, 43.04}, {"30 °C and 90 %", 30, 90, 2.4379, 91.97},
		{"13 °C and 93 %", 13, 93, -0.5783, 35.93}, {"18 °C and 82 %", 18, 82, -0.5957, 35.53},
		{"23 °C and 79 %", 23, 79, 0.1021, 52.55}, {"31 °C and 64 %", 31, 64, 0.3067, 57.61},
		{"10 °C and 100 %", 10, 100, -0.5321, 37.00}, {"12 °C and 90 %", 12, 90, -1.0397, 26.12},
		{"15 °C and 90 %", 15, 90, -0.4601, 38.70}, {"18 °C and 75 %", 18, 75, -1.2215, 22.77},
		{"20 °C and 70 %", 20, 70, -1.2821, 21.72}, {"22 °C and 65 %", 22, 65, -1.3427, 20.71},
		{"25 °C and 55 %", 25, 55, -1.6571, 16.02}, {"25 °C and 70 %", 25, 70, -0.3161, 42.16},
		{"28 °C and 50 %", 28, 50, -1.5245, 17.88}, {"30 °C and 45 %", 30, 45, -1.5851, 17.01},
		{"30 °C and 80 %", 30, 80, 1.5439, 82.40},
	} {
		t.Run("Smith et al. 2018: "+c.name, func(t *testing.T) {
			assert.InDelta(t, c.z, dollarSpotLogit(c.t5, c.rh5), 0.0001)
			assert.InDelta(t, c.pct, 100*DollarSpotProbability(c.t5, c.rh5), 0.01)
		})
	}
	for _, c := range []struct {
		name    string
		t5, rh5 float64
	}{{"nothing below 10 °C", 9.9, 95}, {"nothing above 35 °C", 35.1, 60}, {"nothing without humidity", 20, nan}, {"nothing without temperature", nan, 80}} {
		t.Run("Smith et al. 2018: "+c.name, func(t *testing.T) {
			assert.True(t, math.IsNaN(DollarSpotProbability(c.t5, c.rh5)))
		})
	}
	t.Run("Woods 2018: at 20 % humidity under 10 % in any heat", func(t *testing.T) {
		assert.InDelta(t, 5.45, 100*DollarSpotProbability(35, 20), 0.01)
	})
	t.Run("Woods 2018: in saturated cool air nearly 50 %", func(t *testing.T) {
		assert.InDelta(t, 50, 100*DollarSpotProbability(12.75, 100), 0.05)
	})
	for _, c := range []struct{ t5, rh5 float64 }{{15, 79.64}, {20, 68.83}, {25, 58.03}, {30, 47.22}} {
		t.Run("Smith et al. 2018: humidity of the 20 % line at "+plain(c.t5)+" °C", func(t *testing.T) {
			assert.InDelta(t, 20, 100*DollarSpotProbability(c.t5, c.rh5), 0.015)
			assert.InDelta(t, 20, 100*DollarSpotProbability(c.t5, 112.06-2.1611*c.t5), 0.015)
		})
	}
	for _, c := range []struct{ rh5, t5 float64 }{{70, 19.46}, {80, 14.83}, {90, 10.21}} {
		t.Run("Smith et al. 2018: temperature of the 20 % line at "+plain(c.rh5)+" %", func(t *testing.T) {
			assert.InDelta(t, 20, 100*DollarSpotProbability(c.t5, c.rh5), 0.031)
		})
	}
}

// A series of eight days, means over five.
func TestPublishedDollarSpotSeries(t *testing.T) {
	tC, rh := []float64{14, 16, 19, 21, 22, 23, 18, 15}, []float64{62, 70, 78, 84, 88, 80, 66, 55}
	want := []float64{nan, nan, nan, nan, 26.52, 41.35, 41.49, 28.71}
	m := &dollarSpotModel{hotC: 32.2, hotDays: 3, hotFactor: 0.5}
	w := mildDays(len(tC))
	for i := range tC {
		w.TmeanC[i], w.TmaxC[i], w.TminC[i], w.RHPct[i] = tC[i], tC[i]+5, tC[i]-5, rh[i]
	}
	for i, p := range want {
		t.Run("Smith et al. 2018: day "+plain(float64(i+1))+" of a series", func(t *testing.T) {
			near(t, p/100, m.day(w, i).risk, 0.0001)
		})
	}
}

// mildDays are days of nothing in particular, to be filled in.
func mildDays(n int) *pest.Days {
	w := pest.NewDays(0, n)
	for i := range n {
		w.Observed[i] = true
		w.TmaxC[i], w.TminC[i], w.TmeanC[i], w.RainMM[i] = 25, 15, 20, 0
		w.RHPct[i], w.RHEstimatedPct[i], w.WetH[i], w.SoilC[i], w.CoverDays[i] = nan, nan, nan, 20, 0
	}
	return w
}

// The index E of Fidanza, Dernoeden & Grybauskas 1996 (Phytopathology 86:385–390).
func TestPublishedBrownPatchE(t *testing.T) {
	for _, c := range []struct{ tmin, rh, e float64 }{
		{10, 90, 2.700}, {14, 95, 5.882}, {15, 75, 3.325}, {16, 90, 5.952}, {18, 85, 5.758}, {18, 100, 8.008},
		{17, 86, 5.663}, {27, 94, 6.343}, {20, 80, 5.300}, {20, 85, 6.050}, {21, 70, 3.847}, {22, 90, 6.828},
		{24, 75, 4.342}, {26, 90, 6.092}, {23, 91, 6.893}, {21.21, 77.68, 5.000}, {28, 85, 4.578},
		{10, 100, 4.200}, {13, 100, 6.123}, {16, 95, 6.702}, {18, 90, 6.508}, {22, 78, 5.028}, {22, 85, 6.078},
		{24, 86, 5.992}, {24, 90, 6.592}, {28, 95, 6.078},
	} {
		t.Run("Fidanza, Dernoeden & Grybauskas 1996: E at "+plain(c.tmin)+" °C and "+plain(c.rh)+" %", func(t *testing.T) {
			assert.InDelta(t, c.e, BrownPatchIndex(c.tmin, c.rh), 0.001)
		})
	}
	// The nights between which a warning is possible, and the humidity below
	// which none is.
	for _, c := range []struct{ rh, from, to float64 }{{85, 19.48, 22.94}, {90, 16.14, 26.28}, {95, 14.25, 28.17}, {100, 12.78, 29.65}} {
		t.Run("Fidanza, Dernoeden & Grybauskas 1996: warnings at "+plain(c.rh)+" %", func(t *testing.T) {
			for _, x := range []struct {
				tmin float64
				warn bool
			}{{c.from - 0.01, false}, {c.from + 0.01, true}, {c.to - 0.01, true}, {c.to + 0.01, false}} {
				assert.Equal(t, x.warn, BrownPatchIndex(x.tmin, c.rh) >= 6, "%v", x.tmin)
			}
		})
	}
	for _, c := range []struct{ warn, rh float64 }{{6, 84.34}, {5, 77.68}, {4, 71.01}} {
		t.Run("Fidanza, Dernoeden & Grybauskas 1996: least humidity for E of "+plain(c.warn), func(t *testing.T) {
			assert.InDelta(t, c.warn, BrownPatchIndex(21.212, c.rh), 0.002)
			assert.InDelta(t, 0.15*c.rh-6.6515, BrownPatchIndex(21.212, c.rh), 0.0005, "the top of the parabola")
		})
	}
}

// The daily risks, with the figures of the data files.
func TestOwnDesignDailyRisks(t *testing.T) {
	large := demoDisease(t, "large-patch")
	for _, c := range []struct {
		soil  float64
		rain  []float64
		state turf.State
		want  float64
	}{
		{20, wetTwoDays, turf.Slowing, 1}, {12, wetTwoDays, turf.Slowing, 0.4}, {26.5, wetTwoDays, turf.Growing, 0.25},
		{16, wetWeek, turf.GreeningUp, 0.6}, {9.5, wetTwoDays, turf.Slowing, 0}, {31, wetTwoDays, turf.Slowing, 0},
		{20, wetTwoDays, turf.Dormant, 0}, {14, wetTwoDays, turf.Slowing, 0.8}, {25, wetWeek, turf.Growing, 0.214},
		{29, wetTwoDays, turf.Flush, 0.043}, {13.5, dryWeek, turf.Slowing, 0.21}, {20, wetTwoDays, turf.Resting, 0.6},
	} {
		w := mildDays(7)
		copy(w.RainMM, c.rain)
		w.SoilC[6] = c.soil
		got := large.Model.daily.day(w, 6).risk * large.Model.factor(c.state, 3)
		assert.InDelta(t, c.want, got, 0.001, "large patch %+v", c)
	}
	assert.True(t, math.IsNaN(large.Model.factor("", 3)), "no state, no risk")

	gray := demoDisease(t, "gray-leaf-spot").Model.daily
	for _, c := range []struct {
		night, wet float64
		young      bool
		want       float64
	}{
		{28, 12, false, 1}, {28, 9, false, 0.5}, {24, 14, false, 1}, {24, 10.5, false, 0.5}, {30, 6, false, 0}, {20.5, 20, false, 0},
		{32.2, 12, false, 1}, {32.3, 12, false, 0.714}, {24, 12, false, 0.714}, {24, 12, true, 1}, {35.1, 20, false, 0},
	} {
		w := mildDays(7)
		w.Young = c.young
		w.TmeanC[6], w.TminC[6], w.WetH[6] = c.night, c.night, c.wet
		assert.InDelta(t, c.want, gray.day(w, 6).risk, 0.001, "gray leaf spot %+v", c)
	}
	for _, c := range []struct {
		night float64
		rain  []float64
		want  float64
	}{{24, []float64{0, 0, 1, 0, 1, 0, 1}, 0.6}, {24, []float64{1, 1, 1, 0, 1, 0, 0}, 0.2}, {20, wetTwoDays, 0}, {24, []float64{0, 0, 1, 0, nan, 0, 1}, nan}} {
		w := mildDays(7)
		copy(w.RainMM, c.rain)
		w.TmeanC[6], w.TminC[6] = c.night, c.night
		near(t, c.want, gray.day(w, 6).risk, 0.001, "gray leaf spot without wetness %+v", c)
	}

	pythium := demoDisease(t, "pythium-blight").Model.daily
	for _, c := range []struct {
		tmax, tmin, rh, rain, want float64
	}{
		{31, 21, 80, 0, 0.6}, {31, 21, nan, 5, 0.6}, {31, 21, 79, 4.9, 0.3}, {30, 21, nan, 2.5, 0.3}, {29.4, 18.3, nan, 2.5, 0.3},
		{29.3, 18.3, nan, 9, 0}, {29.4, 18.2, nan, 9, 0}, {31, 20, nan, 2.4, 0}, {31, 21, nan, nan, nan}, {20, 10, nan, nan, 0}, {nan, 21, 90, 9, nan},
	} {
		w := mildDays(2)
		w.TmaxC[0], w.TminC[1], w.RHPct[0], w.RHPct[1], w.RainMM[0], w.RainMM[1] = c.tmax, c.tmin, c.rh, c.rh, c.rain, 0
		near(t, c.want, pythium.day(w, 1).risk, 0.001, "pythium %+v", c)
	}

	for _, c := range []struct {
		id          string
		air, wetH   float64 // mean, or high of the days where the model asks for it
		steady, low float64 // risk while the soil is steady or warms, and while it cools
	}{
		{"rust", 18, 10, 0, .4392}, {"rust", 28, 12, 0, .3271}, {"rust", 15.5, 10, 0, 0}, {"rust", 22, 10, 0, 1}, {"rust", 30, 10, 0, 0},
		{"rust", 22, 7.5, 0, .5}, {"rust", 22, 5, 0, 0},
		{"red-thread", 15, 10, .5, .5}, {"red-thread", 20, 10, 1, 1}, {"red-thread", 22.8, 10, .4933, .4933}, {"red-thread", 24.5, 10, 0, 0},
		{"leaf-spot", 22, 10, .8333, .25}, {"leaf-spot", 10, 10, .5, .15}, {"leaf-spot", 25, 10, .3333, .1},
		{"microdochium-patch", 10, 10, .5, .25}, {"microdochium-patch", -2, 10, .5, .25},
	} {
		w := mildDays(60)
		for i := range w.TmeanC {
			w.TmeanC[i], w.TmaxC[i] = c.air, c.air
		}
		last := len(w.WetH) - 1
		w.WetH[last] = c.wetH
		model := demoDisease(t, c.id).Model.daily
		assert.InDelta(t, c.steady, model.day(w, last).risk, 0.001, "%+v", c)
		for i := range w.SoilC {
			w.SoilC[i] = 25 - 0.1*float64(i)
		}
		assert.InDelta(t, c.low, model.day(w, last).risk, 0.001, "%+v, cooling", c)
	}
	// Southern blight has a page only; its span of temperature all the same.
	for _, c := range [][2]float64{{28, .727}, {36, .667}, {25, .182}} {
		assert.InDelta(t, c[1], trapezoid(c[0], 24, 29.5, 35, 38), 0.001)
	}
	// Days with rain stand for wetness: three of the four that are enough.
	w := mildDays(7)
	copy(w.RainMM, []float64{0.25, 0, 0.3, 0.2, 0, 5, 0})
	assert.InDelta(t, 0.5, demoDisease(t, "leaf-spot").Model.daily.day(w, 6).risk, 0.001)

	snow := demoDisease(t, "gray-snow-mold").Model.daily
	for _, c := range [][2]float64{{0, 0}, {20, 0}, {55, 0.5}, {90, 1}, {150, 1}, {nan, nan}} {
		w.CoverDays[6] = c[0]
		near(t, c[1], snow.day(w, 6).risk, 0.001, "snow %v", c)
	}
}

var (
	wetTwoDays = []float64{0, 0, 0, 0, 0, 1, 1}
	wetWeek    = []float64{13, 0, 0, 0, 0, 0, 0}
	dryWeek    = []float64{0, 0, 0, 0, 0, 0, 0}
)

// Chains from extremes to risk, humidity estimated.
func TestOwnDesignEstimatedHumidityChains(t *testing.T) {
	brown := demoDisease(t, "brown-patch").Model.daily
	day := func(tmin, rh float64) dayRisk {
		w := mildDays(2)
		w.TminC[1], w.RHPct[1] = tmin, rh
		return brown.day(w, 1)
	}
	assert.InDelta(t, 0.5547, day(22, 80).risk, 0.0001)
	assert.InDelta(t, 0.8087, day(16, 96).risk, 0.0001)

	w := pest.NewDays(150, 8) // in May
	for i := range 8 {
		w.Put(i, pest.RawDay{TmaxC: 30, TminC: 21, RainMM: 5 * float64(i/7), RHPct: nan, DewC: nan, WetH: nan, SoilC: 20, SnowMM: nan}, false)
	}
	assert.InDelta(t, 82.17, w.RHEstimatedPct[7], 0.01)
	r := brown.day(w, 7)
	assert.InDelta(t, 0.6954, r.risk, 0.0001)
	assert.Equal(t, humidityEstimated, r.flags)

	dollar := demoDisease(t, "dollar-spot").Model.daily
	for _, c := range []struct{ tmax, tmin, rh, pct float64 }{{28, 18, 74.44, 42.41}, {22, 12, 73.74, 17.84}} {
		w := pest.NewDays(150, 6)
		for i := range 6 {
			w.Put(i, pest.RawDay{TmaxC: c.tmax, TminC: c.tmin, RainMM: 0, RHPct: nan, DewC: nan, WetH: nan, SoilC: 20, SnowMM: nan}, false)
		}
		assert.InDelta(t, c.rh, w.RHEstimatedPct[5], 0.01)
		assert.InDelta(t, c.pct, 100*dollar.day(w, 5).risk, 0.01)
	}
	// Heat slows dollar spot: three days of five above 90 °F.
	for hot, share := range map[int]float64{2: 1, 3: 0.2, 5: 0.2} {
		w := mildDays(5)
		for i := range 5 {
			w.TmeanC[i], w.RHPct[i], w.TmaxC[i] = 25, 75, 32.2
			if i < hot {
				w.TmaxC[i] = 32.3
			}
		}
		assert.InDelta(t, share*0.5327, dollar.day(w, 4).risk, 0.0001, "%d hot days", hot)
	}
}

func TestOwnDesignHumidityFromDewPoint(t *testing.T) {
	for _, c := range []struct{ tmax, tmin, dew, rh, pct, e float64 }{
		{32, 20, 20, 74.59, 57.13, 4.488}, {32, 20, 22, 77.80, 63.98, 4.970}, {28, 16, 16, 74.05, 36.97, 3.560},
		{24, 14, 10, 58.98, 7.87, 0.480}, {35, 25, 24, 73.63, 72.60, 3.920},
	} {
		t.Run("extremes "+plain(c.tmax)+", "+plain(c.tmin)+" and dew point "+plain(c.dew)+" °C", func(t *testing.T) {
			w := pest.NewDays(150, 1)
			w.Put(0, pest.RawDay{TmaxC: c.tmax, TminC: c.tmin, RainMM: nan, RHPct: nan, DewC: c.dew, WetH: nan, SoilC: nan, SnowMM: nan}, false)
			rh := w.RHPct[0]
			assert.InDelta(t, c.rh, rh, 0.05)
			assert.InDelta(t, c.pct, 100*DollarSpotProbability((c.tmax+c.tmin)/2, rh), 0.05)
			assert.InDelta(t, c.e, BrownPatchIndex(c.tmin, rh), 0.01)
		})
	}
}

func TestHostsOfTheData(t *testing.T) {
	rank := func(id, grass string) int {
		r, told := demoDisease(t, id).Host(grass)
		require.True(t, told, "%s %s", id, grass)
		return r
	}
	for _, cool := range []string{"tall-fescue", "kentucky-bluegrass", "perennial-ryegrass", "fine-fescue", "creeping-bentgrass"} {
		assert.Zero(t, rank("large-patch", cool), "large patch on %s", cool)
	}
	for _, warm := range []string{"bermuda", "zoysia", "st-augustine", "centipede", "bahia", "buffalo", "seashore-paspalum"} {
		assert.Zero(t, rank("brown-patch", warm))
		assert.Zero(t, rank("summer-patch", warm))
	}
	assert.GreaterOrEqual(t, rank("large-patch", "centipede"), rank("large-patch", "bermuda"))
}
