package advice

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/pest"
	"ligule/internal/weather"
)

// What rests on several is as weak as the weakest; date and place weaken nothing.
func TestTheWeakestBasis(t *testing.T) {
	assert.Equal(t, Observed, weakest(Calendar, Observed))
	assert.Equal(t, Estimated, weakest(Observed, Estimated, Calendar))
	assert.Equal(t, Forecast, weakest(Estimated, Forecast, Observed))
	assert.Equal(t, Calendar, weakest(Calendar))
}

// The basis of a figure follows from what it rests on: seven days of the record,
// instruments, models and forecasts.
func TestEdgesOfABasis(t *testing.T) {
	basis := func(name string, changes ...func(*Input)) Basis { return valueOf(t, lawnAt(t, changes...), name).Basis }
	gap := func(ago int) func(*Input) {
		return weathered(func(past, _ *weather.Series) { past.Set(weather.TmaxC, issue29.AddDays(-ago), math.NaN()) })
	}
	bright := func(days int) func(*Input) {
		return weathered(func(past, _ *weather.Series) {
			for ago := 1; ago <= days; ago++ {
				past.Set(weather.SolarMJ, issue29.AddDays(-ago), 20)
			}
		})
	}
	for name, want := range map[string]Basis{
		"date": Calendar, "day_length": Calendar, "day_length_factor": Calendar, "mean_temperature": Observed, "temperature_factor": Observed,
		"highest_temperature": Observed, "rain_last_7_days": Observed, "light_factor": Estimated, "growth_index": Estimated, "growth_state": Estimated,
		"root_zone_used": Estimated, "irrigation_need": Estimated, "soil_temperature_4in": Estimated, "rain_next_7_days": Forecast, "wettest_day_ahead": Forecast,
	} {
		assert.Equal(t, want, basis(name), name)
	}
	assert.Equal(t, Estimated, basis("mean_temperature", gap(3)), "a day that was filled")
	assert.Equal(t, Estimated, basis("mean_temperature", gap(7)))
	assert.Equal(t, Observed, basis("mean_temperature", gap(8)), "before the window")
	assert.Equal(t, Observed, basis("light_factor", bright(7)), "an instrument on every day")
	assert.Equal(t, Estimated, basis("light_factor", bright(6)))
}

// The share of the need that forecast rain meets: at most all of it; not known where
// nothing is needed, or where too few days are forecast.
func TestEdgesOfTheNeedThatRainMeets(t *testing.T) {
	need := func(mm float64) func(*Input) {
		return func(in *Input) { g := in.grown[0]; g.RainFed.NeedMM = mm; in.grown[0] = g }
	}
	share := func(changes ...func(*Input)) Value { return valueOf(t, lawnAt(t, changes...), "need_met_by_rain") }
	assert.InDelta(t, 50, share(need(20), rained(0, 4, 6)).Num, 1e-9)
	assert.InDelta(t, 100, share(need(20), rained(0, 40, 6)).Num, 1e-9)
	assert.InDelta(t, 0, share(need(20), rained(0)).Num, 1e-9)
	assert.True(t, math.IsNaN(share(need(0), rained(0, 40)).Num))
	assert.Equal(t, Forecast, share(need(20)).Basis)
	until := func(days int) func(*Input) {
		return weathered(func(_, ahead *weather.Series) {
			for d := ahead.Start.AddDays(days); d <= ahead.End(); d++ {
				ahead.Set(weather.RainMM, d, math.NaN())
			}
		})
	}
	assert.False(t, math.IsNaN(share(need(20), until(5)).Num))
	assert.True(t, math.IsNaN(share(need(20), until(4)).Num))
}

// A figure of a pest is as weak as the weakest of what its model reads: the record,
// an instrument, an estimate of humidity, and the forecast where that counts.
func TestEdgesOfTheBasisOfAPest(t *testing.T) {
	book := pests(t)
	basis := func(kind Topic, id string, found pest.Assessment, changes ...func(*Input)) Basis {
		p := &Pest{Kind: kind, Found: found}
		ok := false
		switch kind {
		case Disease:
			p.Disease, ok = book.Disease(id)
		case Insect:
			p.Insect, ok = book.Insect(id)
		case Weed:
			p.Weed, ok = book.Weed(id)
		}
		require.True(t, ok, id)
		return p.basis(lawnAt(t, changes...))
	}
	probed := func(days int) func(*Input) {
		return weathered(func(past, _ *weather.Series) {
			for ago := 1; ago <= days; ago++ {
				past.Set(weather.Soil5C, issue29.AddDays(-ago), 25)
			}
		})
	}
	gap := func(c weather.Column, ago int) func(*Input) {
		return weathered(func(past, _ *weather.Series) { past.Set(c, issue29.AddDays(-ago), math.NaN()) })
	}
	none := pest.Assessment{}
	assert.Equal(t, Observed, basis(Disease, "dollar-spot", none))
	assert.Equal(t, Estimated, basis(Disease, "dollar-spot", pest.Assessment{HumidityEstimated: true}))
	assert.Equal(t, Forecast, basis(Disease, "dollar-spot", pest.Assessment{HumidityEstimated: true, HasForecast: true}), "the days ahead count in its score")
	assert.Equal(t, Estimated, basis(Disease, "dollar-spot", none, gap(weather.TmaxC, 7)), "a day that was filled")
	assert.Equal(t, Observed, basis(Disease, "dollar-spot", none, gap(weather.TmaxC, 8)), "before the window")
	assert.Equal(t, Observed, basis(Disease, "dollar-spot", none, gap(weather.RainMM, 7)), "it does not read rain")
	assert.Equal(t, Estimated, basis(Disease, "pythium-blight", none, gap(weather.RainMM, 7)))
	assert.Equal(t, Observed, basis(Disease, "summer-patch", none, probed(7)), "a season of the soil, by a probe on each day")
	assert.Equal(t, Estimated, basis(Disease, "summer-patch", none, probed(6)))
	assert.Equal(t, Estimated, basis(Weed, "crabgrass", none), "it goes by the soil")
	assert.Equal(t, Observed, basis(Weed, "crabgrass", none, probed(7)))
	assert.Equal(t, Observed, basis(Insect, "temperate-sod-webworm", none), "degree-days of the air")
	assert.Equal(t, Estimated, basis(Insect, "temperate-sod-webworm", none, gap(weather.TminC, 7)))
}
