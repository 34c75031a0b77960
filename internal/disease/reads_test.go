package disease

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/civil"
	"ligule/internal/pest"
)

// What a model says that it reads is what its risk changes with, and no more.
func TestWhatModelsRead(t *testing.T) {
	const n = 60
	rng := rand.New(rand.NewPCG(1, 2))
	columns := func(w *pest.Days) map[string][][]float64 {
		return map[string][][]float64{
			"temperature": {w.TmaxC, w.TminC, w.TmeanC}, "rain": {w.RainMM}, "humidity": {w.RHPct, w.RHEstimatedPct, w.WetH}, "soil": {w.SoilC}, "snow": {w.CoverDays},
		}
	}
	level := 0.0
	draw := func(what string) float64 {
		x := rng.Float64()
		switch what {
		case "temperature", "soil":
			return level + 8*x
		case "humidity":
			return 24 * x
		case "rain":
			return max(0, 40*x-20)
		}
		return 100 * x
	}
	seen := map[string]map[string]bool{}
	diseases := demoDiseases(t)
	for range 1500 {
		level = 30*rng.Float64() - 2
		base := pest.NewDays(civil.MustDate(2026, 6, 1), n)
		cols := columns(base)
		kinds := slices.Sorted(maps.Keys(cols)) // the same draws each time
		for _, what := range kinds {
			for _, col := range cols[what] {
				for i := range col {
					col[i] = draw(what)
				}
			}
		}
		for i := range n {
			base.TmeanC[i] = (base.TmaxC[i] + base.TminC[i]) / 2
			base.RHPct[i] += 76
			if rng.IntN(2) == 0 {
				base.WetH[i] = math.NaN() // rain stands in for it
			}
		}
		for _, d := range diseases {
			if d.Model.daily == nil {
				continue
			}
			if seen[d.ID] == nil {
				seen[d.ID] = map[string]bool{}
			}
			was := d.Model.daily.day(base, n-1).risk
			for _, what := range kinds {
				for _, col := range cols[what] {
					kept := append([]float64{}, col...)
					for i := range col {
						col[i] = draw(what)
					}
					if x := d.Model.daily.day(base, n-1).risk; x != was && !(math.IsNaN(x) && math.IsNaN(was)) {
						seen[d.ID][what] = true
					}
					copy(col, kept)
				}
			}
		}
	}
	for _, d := range diseases {
		if d.Model.daily == nil {
			assert.Equal(t, []string{"soil"}, d.Model.Reads(), d.ID)
			continue
		}
		said := map[string]bool{}
		for _, what := range d.Model.Reads() {
			said[what] = true
		}
		assert.Equal(t, said, seen[d.ID], d.ID)
	}
}
