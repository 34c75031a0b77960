package turf

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/quantity"
)

func TestPublishedBagArithmetic(t *testing.T) {
	for _, c := range []struct {
		source    string
		bag       Analysis
		nitrogen  float64 // lb per 1000 square feet
		want, tol float64 // lb of product per 1000 square feet
	}{
		{"University of Georgia, Fertilizer calculations: 1 lb from 10-10-10", Analysis{10, 10, 10}, 1, 10, 0.05},
		{"University of Georgia, Fertilizer calculations: 1 lb from 12-4-8", Analysis{12, 4, 8}, 1, 8.3, 0.05},
		{"University of Georgia, Fertilizer calculations: 1 lb from 5-10-15", Analysis{5, 10, 15}, 1, 20, 0.05},
		{"University of Georgia, Fertilizer calculations: 1 lb from 16-4-8", Analysis{16, 4, 8}, 1, 6.3, 0.05},
		{"University of Georgia, Fertilizer calculations: 1 lb from 33% ammonium nitrate", Analysis{33, 0, 0}, 1, 3, 0.05},
		{"NC State, bermudagrass calendar: half a pound from 5-5-15", Analysis{5, 5, 15}, 0.5, 10, 0.01},
		{"second-hand: half a pound from 12-4-8", Analysis{12, 4, 8}, 0.5, 4.17, 0.01},
		{"University of Nebraska, Lawn fertilizer calculations: 1 lb from 28-3-6", Analysis{28, 3, 6}, 1, 3.57, 0.02},
	} {
		t.Run(c.source, func(t *testing.T) {
			assert.InDelta(t, c.want, c.bag.ProductFor(c.nitrogen), c.tol)
		})
	}
	t.Run("University of Nebraska, Lawn fertilizer calculations: 28-3-6 on 6000 square feet", func(t *testing.T) {
		assert.InDelta(t, 21.42, 6*Analysis{28, 3, 6}.ProductFor(1), 0.02)
	})
	for _, c := range []struct {
		source    string
		bag       Analysis
		product   float64
		n, p, k   float64
		tolerance float64
	}{
		{"McCarty and Cisar (1995), Fertilization needs for Florida home lawns: 6.25 lb of 16-4-8", Analysis{16, 4, 8}, 6.25, 1, 0.25, 0.5, 1e-6},
		{"University of Georgia, Appling County: 5 lb of 12-4-8, one feeding of centipedegrass", Analysis{12, 4, 8}, 5, 0.6, 0.2, 0.4, 1e-6},
		{"Virginia (second-hand): a bag of 50 lb of 10-10-10", Analysis{10, 10, 10}, 50, 5, 5, 5, 1e-6},
	} {
		t.Run(c.source, func(t *testing.T) {
			n, p, k := c.bag.Delivers(c.product)
			assert.InDelta(t, c.n, n, c.tolerance)
			assert.InDelta(t, c.p, p, c.tolerance)
			assert.InDelta(t, c.k, k, c.tolerance)
		})
	}
	t.Run("University of Florida, Duval County (second-hand): 15-0-15 with 7% water insoluble nitrogen", func(t *testing.T) {
		assert.InDelta(t, 46.67, 100*Analysis{15, 0, 15}.SlowShare(7), 0.01)
	})
	t.Run("atomic weights: phosphorus in phosphate, potassium in potash", func(t *testing.T) {
		const p, k, o = 30.973762, 39.0983, 15.999
		assert.InDelta(t, 2*p/(2*p+5*o), PhosphorusInP2O5, 1e-4)
		assert.InDelta(t, 2*k/(2*k+o), PotassiumInK2O, 1e-4)
	})
}

func TestPublishedCalibration(t *testing.T) {
	const squareFeetPerAcre, ozPerGallon = 43560.0, 128.0
	for _, c := range []struct {
		source          string
		got, want, span float64
	}{
		{"NC State (2017), Calibrating your spreader: 1 lb on a tarp of 10 by 10 ft is 10 lb per 1000 square feet", 1000 * CaughtRate(1, 10*10), 10, 1e-9},
		{"NC State (2017), Calibrating your spreader: a swath of 8 ft covers 1000 square feet in 125 ft", CourseLength(1000, 8), 125, 1e-9},
		{"second-hand: a drop spreader leaves 0.5 lb on 50 square feet, 10 lb per 1000", 1000 * CaughtRate(0.5, 50), 10, 1e-9},
		{"NC State, Backpack sprayer worksheet: 340 square feet at 6 ft are 57 ft", CourseLength(340, 6), 57, 0.5},
		{"NC State, Backpack sprayer worksheet: 7.5 oz caught on the course are 7.5 gal an acre", CaughtRate(7.5/ozPerGallon, 6*CourseLength(340, 6)) * squareFeetPerAcre, 7.5, 0.01},
		{"NC State, Backpack sprayer worksheet: 8 oz in 7.5 gal an acre are 1.06 oz a gallon", InTank(8, 7.5, 1), 1.06, 0.01},
		{"NC State, Backpack sprayer worksheet: and 3.2 oz in a tank of 3 gal", InTank(8, 7.5, 3), 3.2, 0.01},
		{"second-hand: 1.5 gal per 1000 square feet are 65 gal an acre", CaughtRate(1.5, 1000) * squareFeetPerAcre, 65, 0.5},
		{"second-hand: on a plot of 18.5 ft square, ounces caught are gallons an acre", CaughtRate(1/ozPerGallon, 18.5*18.5) * squareFeetPerAcre, 1, 0.006},
	} {
		t.Run(c.source, func(t *testing.T) { assert.InDelta(t, c.want, c.got, c.span) })
	}
}

func lb(tb testing.TB, text string) float64 {
	tb.Helper()
	x, err := quantity.Parse(text, quantity.NitrogenRate)
	require.NoError(tb, err)
	return x
}

func TestOwnDesignSplitAndSeason(t *testing.T) {
	single, soluble := lb(t, "1 lb/1000 ft2"), lb(t, "0.5 lb/1000 ft2")
	for _, c := range []struct {
		n        string
		share    float64
		feedings int
	}{
		{"0 lb/1000 ft2", 1, 0},
		{"0.5 lb/1000 ft2", 1, 1},
		{"1 lb/1000 ft2", 0.5, 1},
		{"1 lb/1000 ft2", 0.7, 2},
		{"1 lb/1000 ft2", 1, 2},
		{"3 lb/1000 ft2", 0.5, 3},
		{"3 lb/1000 ft2", 1, 6},
	} {
		assert.Equal(t, c.feedings, Feedings(lb(t, c.n), c.share, single, soluble), "%s, %v soluble", c.n, c.share)
	}
	// A target of 3 lb, 14.65 g/m², and potentials that add up to 4 make
	// 3.66 g/m² in a month at full growth.
	assert.InDelta(t, 3.66, SeasonShareGM2(lb(t, "3 lb/1000 ft2"), 1, 4), 0.005)
	assert.InDelta(t, 3.662*0.6, SeasonShareGM2(lb(t, "3 lb/1000 ft2"), 0.6, 4), 0.002)
	assert.Zero(t, SeasonShareGM2(10, 0, 0))
}

func TestFeedingsKeepToTheCaps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.Float64Range(0.1, 30).Draw(t, "n")
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		single := rapid.Float64Range(0.5, 6).Draw(t, "single")
		soluble := rapid.Float64Range(0.5, 6).Draw(t, "soluble")
		k := float64(Feedings(n, share, single, soluble))
		if n/k > single*1.001 || n*share/k > soluble*1.001 {
			t.Fatalf("%v feedings pass a cap", k)
		}
		if k > 1 && n/(k-1) <= single && n*share/(k-1) <= soluble {
			t.Fatalf("%v feedings where %v would do", k, k-1)
		}
	})
}

func TestABagGivesBackWhatWasAskedOfIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bag := Analysis{NPct: rapid.Float64Range(1, 46).Draw(t, "N"), K2OPct: 8}
		n := rapid.Float64Range(0, 10).Draw(t, "n")
		if got, _, _ := bag.Delivers(bag.ProductFor(n)); math.Abs(got-n) > 1e-12 {
			t.Fatalf("%v of %v", got, n)
		}
	})
}
