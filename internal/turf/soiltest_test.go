package turf

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/quantity"
)

func TestPublishedSoilTestArithmetic(t *testing.T) {
	check := func(name string, want, got, tolerance float64) {
		t.Helper()
		t.Run(name, func(t *testing.T) { assert.InDelta(t, want, got, tolerance) })
	}
	// Woods, seminar slides on the guideline (in Japanese): 54 ppm used, 37 to be
	// left, 50 in the soil; the slides print 41 ppm and 6.1 g/m².
	check("Woods, MLSN seminar: 41 ppm of potassium", 41, SoilPPM(NutrientNeedGM2(SoilGM2(54), SoilGM2(SoilMinimumPPM("K")), SoilGM2(50))), 1e-9)
	check("Woods, MLSN seminar: 6.1 g/m² of potassium", 6.1, NutrientNeedGM2(SoilGM2(54), SoilGM2(SoilMinimumPPM("K")), SoilGM2(50)), 0.1)
	check("Woods, MLSN seminar: the same in whole grams", 6.0, NutrientNeedGM2(8, 5.5, 7.5), 0.2)
	// Woods 2018, "How to get a quick estimate of nutrient use": 2 lb of nitrogen
	// and 0.4 lb from the soil, leaves of 4 % nitrogen.
	check("Woods 2018, quick estimate: 60 lb of clippings", 60, NutrientUseGM2(2.4, 4, 100), 1e-6)
	check("Woods 2018, quick estimate: potassium", 1.2, NutrientUseGM2(2.4, 4, 2), 1e-6)
	check("Woods 2018, quick estimate: phosphorus", 0.3, NutrientUseGM2(2.4, 4, 0.5), 1e-6)
	check("Woods 2018, quick estimate: magnesium", 0.12, NutrientUseGM2(2.4, 4, 0.2), 1e-6)
	// Woods 2020, "How MLSN works".
	check("Woods 2020, How MLSN works: 240 mm of water at 10 ppm", 2.4, IrrigationNutrientGM2(240, 10), 1e-6)
	perAcre, err := quantity.Parse("175 lb/acre", quantity.NitrogenRate)
	require.NoError(t, err)
	// Woods 2017, "Have you seen turf that ran out of K?": 175 lb/acre is "about
	// 20 g/m²".
	check("Woods 2017, turf that ran out of potassium: 175 lb/acre", 20, perAcre, 0.5)
	check("Woods 2014, MLSN guideline: 1 g/m² is 6.667 ppm", 6.667, SoilPPM(1), 0.001)
}

func TestNutrientNeed(t *testing.T) {
	assert.Zero(t, NutrientNeedGM2(5, 5, 50))
	assert.True(t, math.IsNaN(NutrientNeedGM2(math.NaN(), 1, 1)))
	assert.True(t, math.IsNaN(NutrientNeedGM2(1, 1, math.NaN())))
	assert.True(t, math.IsNaN(SoilMinimumPPM("Fe")))
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0, 1000).Draw(t, "ppm")
		if math.Abs(SoilPPM(SoilGM2(x))-x) > 1e-9 {
			t.Fatalf("%v ppm does not come back", x)
		}
		use, leave, has := rapid.Float64Range(0, 50).Draw(t, "use"), rapid.Float64Range(0, 50).Draw(t, "leave"), rapid.Float64Range(0, 50).Draw(t, "has")
		need := NutrientNeedGM2(use, leave, has)
		if need < 0 || need > use+leave {
			t.Fatalf("need %v", need)
		}
		if need > 0 && math.Abs(has+need-use-leave) > 1e-9 {
			t.Fatalf("after use, %v is left instead of %v", has+need-use, leave)
		}
	})
}
