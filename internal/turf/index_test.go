package turf

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"ligule/internal/agromet"
)

// Classes of grasses as their index is defined, without a file.
func warmClass(heightMM, peakMMD float64) *Profile {
	return &Profile{
		Kind: WarmSeason, OptimumC: 31, SpreadC: 7, Capped: true, LightFullMol: 35, DayLengthLimits: true,
		PeakHeightMMD: peakMMD, MowUsualMM: heightMM, Depletion: 0.5, SoilDormantC: 10, SoilGreenUpC: 55.0 / 3,
	}
}

func coolClass(heightMM, peakMMD float64, curve string) *Profile {
	return &Profile{
		Kind: CoolSeason, OptimumC: 20, SpreadC: 5.5, ColdCurve: curve, LightFullMol: 25,
		PeakHeightMMD: peakMMD, MowUsualMM: heightMM, Depletion: 0.4, SoilDormantC: 40.0 / 9, SoilGreenUpC: math.NaN(),
	}
}

func TestPublishedGrowthPotential(t *testing.T) {
	for _, c := range []struct {
		source              string
		temp, optimum, span float64
		want, tol           float64
	}{
		{"Woods (2020), Growth potential in April and November: cool-season, week of 16.9 °C at Augusta, Georgia", 16.9, 20, 5.5, 0.85, 0.005},
		{"Woods (2020), Growth potential in April and November: cool-season, 15 °C", 15, 20, 5.5, 0.66, 0.005},
		{"Woods (2024), Light and growth potential, again: cool-season, 4.6 °C at Osaka, 1 January 2021", 4.6, 20, 5.5, 0.02, 0.005},
		{"Why aren't we green yet? (2023): warm-season, 58.1 °F", 58.1, 88, 12, 0.045, 0.001},
		{"Why aren't we green yet? (2023): cool-season, 58.1 °F", 58.1, 68, 10, 0.613, 0.001},
		{"Why aren't we green yet? (2023): warm-season, 72.1 °F", 72.1, 88, 12, 0.416, 0.001},
		{"Why aren't we green yet? (2023): cool-season, 72.1 °F", 72.1, 68, 10, 0.919, 0.001},
		{"Why aren't we green yet? (2023): warm-season, 55.6 °F", 55.6, 88, 12, 0.026, 0.001},
		{"Why aren't we green yet? (2023): cool-season, 55.6 °F", 55.6, 68, 10, 0.464, 0.001},
		{"Why aren't we green yet? (2023): warm-season, 46.8 °F", 46.8, 88, 12, 0.003, 0.001},
	} {
		t.Run(c.source, func(t *testing.T) {
			assert.InDelta(t, c.want, GrowthPotential(c.temp, c.optimum, c.span, false), c.tol)
		})
	}
	t.Run("Woods (2023), Last summer at 36 locations: both groups grow alike at 24.8 °C", func(t *testing.T) {
		at := bisect(20, 31, func(c float64) float64 {
			return GrowthPotential(c, 31, 7, false) - GrowthPotential(c, 20, 5.5, false)
		})
		assert.InDelta(t, 24.8, at, 0.05)
	})
	t.Run("Gelernter and Stowell, Modified warm-season growth potential model: no fall above the optimum", func(t *testing.T) {
		for c := 31.0; c < 45; c++ {
			assert.Equal(t, 1.0, GrowthPotential(c, 31, 7, true))
		}
	})
	t.Run("Woods (2015), A daily light integral index: index of 1 January 2021 at Osaka, 22.4 of 26.2 mol at 4.6 °C", func(t *testing.T) {
		p := coolClass(0, 0, "")
		p.LightFullMol = 26.2 // that index takes the clear-sky light of the day
		_, fl, _, g := Index(p, 4.6, 22.4, 10, 1)
		assert.InDelta(t, 0.85, fl, 0.006)
		assert.InDelta(t, 0.0169, g, 0.001)
	})
}

// bisect returns where f, negative at low and positive at high, is zero.
func bisect(low, high float64, f func(float64) float64) float64 {
	for range 100 {
		if mid := (low + high) / 2; f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

func TestPublishedTallFescueLeafGrowth(t *testing.T) {
	const source = "Oregon State University, Tall Fescue Monograph, Fig. 3-3 (after Volenec et al. 1984): "
	t.Run(source+"no growth at 3 and 35 °C", func(t *testing.T) {
		assert.InDelta(t, 0, TallFescueLeafGrowthPct(3), 1)
		assert.InDelta(t, 0, TallFescueLeafGrowthPct(35), 1)
	})
	t.Run(source+"fastest at 21.25 °C", func(t *testing.T) {
		best, at := 0.0, 0.0
		for c := 3.0; c <= 35; c += 0.01 {
			if y := TallFescueLeafGrowthPct(c); y > best {
				best, at = y, c
			}
		}
		assert.InDelta(t, 21.25, at, 0.1)
		assert.InDelta(t, 100, best, 1)
	})
}

// Computed from the equation for both groups; the authors' own printed table
// was not seen.
func TestOwnDesignTableOfGrowthPotential(t *testing.T) {
	for _, r := range [][6]float64{ // °C, cool, warm capped, warm, cool and warm in the Fahrenheit form
		{4, .015, .001, .001, .016, .000}, {8, .093, .005, .005, .097, .002}, {10, .191, .011, .011, .198, .007},
		{12, .347, .025, .025, .355, .016}, {14, .552, .052, .052, .558, .037}, {16, .768, .101, .101, .772, .077},
		{18, .936, .178, .178, .937, .145}, {20, 1, .291, .291, 1, .249}, {22, .936, .438, .438, .937, .393},
		{24, .768, .607, .607, .772, .566}, {26, .552, .775, .775, .558, .745}, {28, .347, .912, .912, .355, .897},
		{30, .191, .990, .990, .198, .986}, {32, .093, 1, .990, .097, 1.000}, {34, .039, 1, .912, .042, 1}, {36, .015, 1, .775, .016, 1},
	} {
		c, f := r[0], r[0]*9/5+32
		assert.InDelta(t, r[1], GrowthPotential(c, 20, 5.5, false), 0.0006, "cool-season, %v °C", c)
		assert.InDelta(t, r[2], GrowthPotential(c, 31, 7, true), 0.0006, "warm-season capped, %v °C", c)
		assert.InDelta(t, r[3], GrowthPotential(c, 31, 7, false), 0.0006, "warm-season, %v °C", c)
		assert.InDelta(t, r[4], GrowthPotential(f, 68, 10, false), 0.0006, "cool-season, %v °F", f)
		assert.InDelta(t, r[5], GrowthPotential(f, 88, 12, true), 0.0006, "warm-season, %v °F", f)
	}
	for _, r := range [][4]float64{ // level, warm, cool from the cold side, cool from the hot side
		{.05, 13.9, 6.5, 33.5}, {.10, 16.0, 8.2, 31.8}, {.25, 19.3, 10.8, 29.2}, {.50, 22.8, 13.5, 26.5}, {.80, 26.3, 16.3, 23.7},
	} {
		level := r[0]
		assert.InDelta(t, r[1], bisect(0, 31, func(c float64) float64 { return GrowthPotential(c, 31, 7, true) - level }), 0.051)
		assert.InDelta(t, r[2], bisect(0, 20, func(c float64) float64 { return GrowthPotential(c, 20, 5.5, false) - level }), 0.051)
		assert.InDelta(t, r[3], bisect(20, 45, func(c float64) float64 { return level - GrowthPotential(c, 20, 5.5, false) }), 0.051)
	}
}

func TestOwnDesignTallFescueColdSide(t *testing.T) {
	p := coolClass(76, 6, TallFescueCubic)
	for _, r := range [][2]float64{{3, 0}, {-5, 0}, {5, .171}, {8, .415}, {10, .562}, {12, .695}, {15, .856}, {18, .964}, {20, 1}, {26.5, .497}} {
		assert.InDelta(t, r[1], temperatureFactor(p, r[0]), 0.001, "%v °C", r[0])
	}
}

// clearShareMol is the daily light integral under the share n/N of the
// possible sunshine, with the 2.04 mol/MJ that the worked examples of the
// index were made with; the program itself takes 2.06.
func clearShareMol(latDeg float64, doy int, share float64) (mol, hours float64) {
	ra, hours := agromet.SunOfDay(latDeg*math.Pi/180, doy)
	rs := agromet.RadiationFromSunshineMJ(ra, share*hours, hours)
	return 2.04 * rs, hours
}

// The worked examples that the index was designed with; each within 1 %.
func TestOwnDesignIndexOfAWeek(t *testing.T) {
	bermuda, fescue, augustine := warmClass(38, 6), coolClass(76, 6, TallFescueCubic), warmClass(89, 6)
	plain := coolClass(76, 6, "")
	for _, c := range []struct {
		name               string
		p                  *Profile
		meanC, lat         float64
		doy                int
		sun, depleted, taw float64
		ft, fl, fp, fw, g  float64
		days               float64
	}{
		{"bermudagrass, mid July", bermuda, 27.5, 32.8, 196, .6, 10, 50, .882, 1, .993, 1, .876, 3.6},
		{"bermudagrass, mid July, drought", bermuda, 27.5, 32.8, 196, .7, 40, 50, .882, 1, .993, .400, .351, 9.0},
		{"bermudagrass, mid September", bermuda, 24.5, 32.8, 258, .6, 10, 50, .650, 1, .697, 1, .453, 7.0},
		{"bermudagrass, mid October", bermuda, 18.5, 32.8, 288, .65, 10, 50, .203, .877, .526, 1, .094, 33.8},
		{"bermudagrass, mid November", bermuda, 13.5, 32.8, 319, .6, 5, 50, .044, .659, .500, 1, .0145, 218},
		{"bermudagrass, mid April", bermuda, 18.0, 32.8, 105, .65, 5, 50, .178, 1, .804, 1, .143, 22.1},
		{"bermudagrass, mid May", bermuda, 22.5, 32.8, 135, .65, 5, 50, .478, 1, .949, 1, .454, 7.0},
		{"St. Augustinegrass, Tampa, mid January", augustine, 16.0, 28, 15, .6, 10, 50, .101, .714, .500, 1, .036, 206},
		{"St. Augustinegrass, Tampa, mid August", augustine, 28.5, 28, 227, .5, 5, 50, .938, 1, .832, 1, .781, 9.5},
		{"tall fescue, mid January", fescue, 5, 35.8, 15, .5, 0, 60, .171, .718, 1, 1, .123, 51.6},
		{"tall fescue, mid March", fescue, 10.5, 35.8, 74, .6, 5, 60, .597, 1, 1, 1, .597, 10.6},
		{"tall fescue, mid March, without the cubic", plain, 10.5, 35.8, 74, .6, 5, 60, .225, 1, 1, 1, .225, 28.2},
		{"tall fescue, 1 May", fescue, 18, 35.8, 121, .6, 5, 60, .964, 1, 1, 1, .964, 6.6},
		{"tall fescue, mid July", fescue, 26.5, 35.8, 196, .6, 30, 60, .497, 1, 1, .833, .415, 15.3},
		{"tall fescue, mid October", fescue, 16, 35.8, 288, .6, 10, 60, .899, 1, 1, 1, .899, 7.0},
	} {
		t.Run(c.name, func(t *testing.T) {
			mol, hours := clearShareMol(c.lat, c.doy, c.sun)
			fw := waterFactor(c.p, c.depleted, c.taw)
			ft, fl, fp, g := Index(c.p, c.meanC, mol, hours, fw)
			for _, x := range [...][2]float64{{c.ft, ft}, {c.fl, fl}, {c.fp, fp}, {c.fw, fw}, {c.g, g}} {
				assert.InDelta(t, x[0], x[1], 0.01*x[0]+0.0005)
			}
			days := MowingIntervalDays(c.p.MowUsualMM, c.p.PeakHeightMMD*g)
			assert.InDelta(t, c.days, days, 0.01*c.days+0.05)
		})
	}
}

// The class break of the index, 0.25, is the mowing interval at which treating
// bermudagrass stops being worth it: 12 to 14 days.
func TestOwnDesignGrowingMeansMowingEveryTwoWeeks(t *testing.T) {
	assert.InDelta(t, 14, MowingIntervalDays(38, 6*0.226), 0.05)
	assert.InDelta(t, 12, MowingIntervalDays(38, 6*0.264), 0.05)
	assert.InDelta(t, 14, MowingIntervalDays(76, 6*0.45), 0.1)
}

func anyProfile(t *rapid.T) *Profile {
	if rapid.Bool().Draw(t, "warm") {
		return warmClass(38, 6)
	}
	return coolClass(76, 6, rapid.SampledFrom([]string{"", TallFescueCubic}).Draw(t, "curve"))
}

func TestIndexStaysBetween0And1AndMovesSmoothly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyProfile(t)
		c := rapid.Float64Range(-40, 50).Draw(t, "°C")
		mol := rapid.Float64Range(0, 70).Draw(t, "mol")
		h := rapid.Float64Range(0, 24).Draw(t, "hours")
		fw := waterFactor(p, rapid.Float64Range(0, 60).Draw(t, "depletion"), 60)
		ft, fl, fp, g := Index(p, c, mol, h, fw)
		for _, x := range [...]float64{ft, fl, fp, fw, g} {
			if !(x >= 0 && x <= 1) {
				t.Fatalf("factor %v", x)
			}
		}
		if g > min(ft, fl, fp, fw) {
			t.Fatalf("index %v above its smallest factor", g)
		}
		// The steepest of the curves is 0.13 per °C, 1/25 per mol, 1/6 per hour.
		const step = 1e-3
		near, fl2, fp2, _ := Index(p, c+step, mol+step, h+step, fw)
		if math.Abs(near-ft) > 0.15*step || math.Abs(fl2-fl) > 0.041*step || math.Abs(fp2-fp) > 0.17*step {
			t.Fatalf("a jump: %v %v %v at %v °C", near-ft, fl2-fl, fp2-fp, c)
		}
		if fl2 < fl || fp2 < fp {
			t.Fatal("more light or longer days slow the grass")
		}
	})
}

func TestNoIndexFromMissingInput(t *testing.T) {
	nan := math.NaN()
	for _, p := range []*Profile{warmClass(38, 6), coolClass(76, 6, ""), coolClass(76, 6, TallFescueCubic)} {
		for i := range 4 {
			x := [...]float64{20, 30, 12, 1}
			x[i] = nan
			if i == 2 && !p.DayLengthLimits {
				continue // its index does not use the day length
			}
			_, _, _, g := Index(p, x[0], x[1], x[2], x[3])
			assert.True(t, math.IsNaN(g), "%v", x)
		}
		assert.True(t, math.IsNaN(waterFactor(p, nan, 60)))
	}
}

func BenchmarkIndex(b *testing.B) {
	p := loadProfile(b, "bermuda")
	b.ReportAllocs()
	for b.Loop() {
		Index(p, 24, 30, 13, 0.9)
	}
}
