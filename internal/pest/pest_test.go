package pest

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"ligule/internal/agromet"
	"ligule/internal/turf"
)

// The index as published by Fidanza, Dernoeden & Grybauskas 1996
// (Phytopathology 86:385–390), worked by hand for nights from cool to hot.
func TestPublishedBrownPatchIndex(t *testing.T) {
	for _, c := range []struct{ tmin, rh, want float64 }{
		{10, 90, 2.700}, {14, 95, 5.882}, {15, 75, 3.325}, {16, 90, 5.952},
		{18, 85, 5.758}, {18, 100, 8.008}, {17, 86, 5.663}, {27, 94, 6.343},
		{20, 80, 5.300}, {20, 85, 6.050}, {21, 70, 3.847}, {22, 90, 6.828},
		{24, 75, 4.342}, {26, 90, 6.092}, {23, 91, 6.893}, {21.21, 77.68, 5.000},
		{28, 85, 4.578}, // hot nights lower it: the parabola is not clipped at its top
	} {
		assert.InDelta(t, c.want, BrownPatchIndex(c.tmin, c.rh), 0.001, "night of %v °C, humidity %v %%", c.tmin, c.rh)
	}
	warn := func(rh float64) bool {
		for tmin := 0.0; tmin < 35; tmin += 0.01 {
			if BrownPatchIndex(tmin, rh) >= 6 {
				return true
			}
		}
		return false
	}
	assert.False(t, warn(84.3), "no night can warn at 84.3 % humidity")
	assert.True(t, warn(84.4), "some night warns at 84.4 % humidity")
}

// Own design: the scale from 0 to 1 and the soil gate.
func TestOwnDesignBrownPatchRisk(t *testing.T) {
	for _, c := range []struct{ index, soil, want float64 }{
		{4, 20, 0.333}, {5, 20, 0.5}, {6, 20, 0.667}, {9, 20, 1}, {1, 20, 0},
		{6, 15.9, 0}, {6, 16, 0.667}, {BrownPatchIndex(22, 80), 20, 0.5547}, {BrownPatchIndex(16, 96), 20, 0.8087},
	} {
		assert.InDelta(t, c.want, BrownPatchRisk(c.index, c.soil), 0.001, "%+v", c)
	}
	rh := agromet.EstimatedHumidityPct(30, 21, 5, 0)
	assert.InDelta(t, 82.17, rh, 0.01)
	assert.InDelta(t, 0.6954, BrownPatchRisk(BrownPatchIndex(21, rh)+estimatedHumidityAllowance, 20), 0.001)
}

// Own design: large patch by soil temperature, wetness and growth.
func TestOwnDesignLargePatchRisk(t *testing.T) {
	for _, c := range []struct {
		soil, wet float64
		state     turf.State
		want      float64
	}{
		{20, 1, turf.Slowing, 1}, {12, 1, turf.Slowing, 0.4}, {26.5, 1, turf.Growing, 0.25},
		{16, 0.6, turf.GreeningUp, 0.6}, {9.5, 1, turf.Slowing, 0}, {31, 1, turf.Slowing, 0},
		{20, 1, turf.Dormant, 0}, {14, 1, turf.Slowing, 0.8}, {25, 0.6, turf.Growing, 0.214},
		{29, 1, turf.Flush, 0.043}, {13.5, 0.3, turf.Slowing, 0.21}, {20, 1, turf.Resting, 0.6},
	} {
		assert.InDelta(t, c.want, LargePatchRisk(c.soil, c.wet, c.state), 0.001, "%+v", c)
	}
	nan := math.NaN()
	for _, c := range []struct {
		rain [7]float64
		want float64
	}{
		{[7]float64{0, 0, 0, 0, 0, 1, 1}, 1},
		{[7]float64{0, 0, 0, 0, 0, 0, 13}, 1},
		{[7]float64{13, 0, 0, 0, 0, 0, 0}, 0.6},
		{[7]float64{5, 5, 0, 0, 0, 0, 0.9}, 0.3},
		{[7]float64{nan, 0, 0, 0, 0, 2, 2}, 1},
		{[7]float64{nan, 0, 0, 0, 0, 0, 0}, nan},
		{[7]float64{0, 0, 0, 0, 0, 0, nan}, nan},
	} {
		got := LargePatchWetness(c.rain)
		if math.IsNaN(c.want) {
			assert.True(t, math.IsNaN(got), "%v", c.rain)
			continue
		}
		assert.Equal(t, c.want, got, "%v", c.rain)
	}
}

func TestHosts(t *testing.T) {
	assert.False(t, LargePatch.Hosts(turf.CoolSeason))
	assert.False(t, BrownPatch.Hosts(turf.WarmSeason))
	assert.True(t, LargePatch.Hosts(turf.WarmSeason))
	assert.True(t, BrownPatch.Hosts(turf.CoolSeason))
}

func TestRisksStayInRangeAndMissingStaysMissing(t *testing.T) {
	states := []turf.State{turf.Dormant, turf.Flush, turf.Growing, turf.GreeningUp, turf.Resting, turf.Slowing}
	rapid.Check(t, func(t *rapid.T) {
		soil := rapid.Float64Range(-10, 45).Draw(t, "soil")
		tmin := rapid.Float64Range(-20, 40).Draw(t, "tmin")
		rh := rapid.Float64Range(0, 100).Draw(t, "rh")
		wet := rapid.SampledFrom([]float64{0.3, 0.6, 1}).Draw(t, "wet")
		state := rapid.SampledFrom(states).Draw(t, "state")
		for _, r := range []float64{BrownPatchRisk(BrownPatchIndex(tmin, rh), soil), LargePatchRisk(soil, wet, state)} {
			if !(r >= 0 && r <= 1) {
				t.Fatalf("risk %v", r)
			}
		}
		for _, r := range []float64{
			BrownPatchRisk(BrownPatchIndex(math.NaN(), rh), soil), BrownPatchRisk(BrownPatchIndex(tmin, math.NaN()), soil),
			BrownPatchRisk(BrownPatchIndex(tmin, rh), math.NaN()),
			LargePatchRisk(math.NaN(), wet, turf.Slowing), LargePatchRisk(soil, math.NaN(), turf.Slowing), LargePatchRisk(soil, wet, ""),
		} {
			if !math.IsNaN(r) {
				t.Fatalf("a number from missing input: %v", r)
			}
		}
	})
}
