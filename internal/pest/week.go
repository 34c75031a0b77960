package pest

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// BrownPatch and LargePatch stand for their data files until rules ask those.
var (
	BrownPatch = Disease{ID: "brown-patch"}
	LargePatch = Disease{ID: "large-patch"}
)

// Hosts reports whether the disease attacks grasses of the kind: brown patch
// the cool-season ones, large patch the warm-season ones. Common practice; the
// two share a pathogen species but not its group.
func (d *Disease) Hosts(k turf.Kind) bool {
	return (d.ID == BrownPatch.ID) == (k == turf.CoolSeason)
}

// Risk is what a week's weather is to a disease.
type Risk struct {
	Mean              float64 // mean of the daily risks, 0 to 1; NaN if fewer than five days are known
	Days              int     // days known
	HumidityEstimated bool    // any of them rests on humidity estimated from temperature and rain
}

// Week returns the risk over the days (at most a week) that end with last, from
// the weather of each day and the grass's state. The state counts for large
// patch alone.
func Week(d Disease, f *weather.Felt, last civil.Date, days int, state turf.State) Risk {
	var r Risk
	sum := 0.0
	for day := last.AddDays(1 - days); day <= last; day++ {
		risk, estimated := daily(&d, f, day, state)
		if math.IsNaN(risk) {
			continue
		}
		sum += risk
		r.Days++
		r.HumidityEstimated = r.HumidityEstimated || estimated
	}
	r.Mean = math.NaN()
	if r.Days >= weather.WindowValid {
		r.Mean = sum / float64(r.Days)
	}
	return r
}

func daily(d *Disease, f *weather.Felt, day civil.Date, state turf.State) (risk float64, humidityEstimated bool) {
	i, ok := f.Index(day)
	if !ok || f.Basis(day) == weather.Missing {
		return math.NaN(), false
	}
	days := f.View.Days
	if d.ID == LargePatch.ID {
		var rain [7]float64
		for k := range rain {
			rain[k] = days.At(weather.RainMM, day.AddDays(k-6))
		}
		return LargePatchRisk(f.Soil5C[i], LargePatchWetness(rain), state), false
	}
	tmax, tmin := days.At(weather.TmaxC, day), days.At(weather.TminC, day)
	rh := days.At(weather.RHMeanPct, day)
	if math.IsNaN(rh) {
		rh = agromet.EstimatedHumidityPct(tmax, tmin, days.At(weather.RainMM, day), days.At(weather.RainMM, day.AddDays(-1)))
		index := BrownPatchIndex(tmin, rh) + estimatedHumidityAllowance
		return BrownPatchRisk(index, f.Soil5C[i]), true
	}
	return BrownPatchRisk(BrownPatchIndex(tmin, rh), f.Soil5C[i]), false
}
