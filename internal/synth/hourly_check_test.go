package synth

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/weather"
)

// The hours are those of their days: 24 of each, no warmer and no colder, as
// much rain, and nothing that a forecast could not say.
func TestHoursAddUpToTheirDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, seed := anyClimate(t), rapid.Uint64().Draw(t, "seed")
		first := civil.MustDate(2001, 1, 1).AddDays(rapid.IntRange(0, 9000).Draw(t, "first"))
		n := rapid.IntRange(1, 12).Draw(t, "days")
		days := Daily(c, seed, first, first.AddDays(n-1))
		p := Place{
			Site: c.Site, Shared: rapid.Float64Range(0, 1).Draw(t, "shared"), LatitudeDeg: rapid.Float64Range(25, 48).Draw(t, "latitude"),
			LongitudeDeg: rapid.Float64Range(-84, -68).Draw(t, "longitude"), Coastal: rapid.Bool().Draw(t, "coastal"),
			UTCOffsetMin: rapid.SampledFrom([]int{-300, -240}).Draw(t, "offset"),
		}
		f := Hourly(days, first, p, seed)
		require.Equal(t, f, Hourly(days, first, p, seed), "the same arguments give the same hours")
		require.Len(t, f.Hours, 24*n)
		for i, day := range days {
			highC, lowC, rainMM := math.Inf(-1), math.Inf(1), 0.0
			for of, h := range f.Hours[24*i : 24*(i+1)] {
				require.Equal(t, [3]int{int(day.Date), of, p.UTCOffsetMin}, [3]int{int(h.Date), h.Of, h.UTCOffsetMin})
				highC, lowC, rainMM = max(highC, h.TC), min(lowC, h.TC), rainMM+h.RainMM
				require.GreaterOrEqual(t, h.RainMM, 0.0)
				require.GreaterOrEqual(t, h.GustMS, h.WindMS)
				if h.RainMM > 0 {
					require.GreaterOrEqual(t, h.CloudPct, 90.0)
					require.GreaterOrEqual(t, h.RHPct, 92.0)
				}
			}
			require.InDelta(t, day.TmaxC, highC, 1e-9)
			require.InDelta(t, day.TminC, lowC, 1e-9)
			require.InDelta(t, day.RainMM, rainMM, 1e-9)
		}
		require.NoError(t, weather.WriteHourlyForecast(new(bytes.Buffer), weather.HourlyForecast{Issued: first, Hours: f.Hours}), "the reader would take it")
	})
	assert.Empty(t, Hourly(nil, 1, Place{}, 1).Hours)
}

// Over ten years the hours have the run of a day: coldest at sunrise, warmest and
// windiest in the afternoon, dampest in the night; a wet day is grayer.
func TestOwnDesignHoursHaveTheRunOfADay(t *testing.T) {
	c := Atlantic(35.5, 210, false)
	first := civil.MustDate(2001, 1, 1)
	days := Daily(c, 5, first, civil.MustDate(2010, 12, 31))
	hours := Hourly(days, first, Place{LatitudeDeg: 35.5, LongitudeDeg: -80.3, UTCOffsetMin: -300, Shared: 0.8}, 5).Hours
	var tC, rh, wind [24]float64
	var cloud, count [2]float64
	calm, windy := 0, 0
	for i, h := range hours {
		tC[h.Of] += h.TC / float64(len(days))
		rh[h.Of] += h.RHPct / float64(len(days))
		wind[h.Of] += h.WindMS / float64(len(days))
		wet := 0
		if days[i/24].RainMM > 0 {
			wet = 1
		}
		cloud[wet] += h.CloudPct
		count[wet]++
		if h.Of == 14 && h.WindMS > 4.47 {
			windy++
		}
		if h.Of == 7 && h.WindMS < 1.34 {
			calm++
		}
	}
	most := func(x [24]float64) (at int) {
		for i := range x {
			if x[i] > x[at] {
				at = i
			}
		}
		return at
	}
	least := func(x [24]float64) int {
		for i := range x {
			x[i] = -x[i]
		}
		return most(x)
	}
	assert.Equal(t, 15, most(tC))
	assert.InDelta(t, 6, least(tC), 1)
	assert.InDelta(t, 6, most(rh), 1)
	assert.Equal(t, 15, least(rh))
	assert.InDelta(t, 14, most(wind), 1.5)
	assert.InDelta(t, 1.6, wind[most(wind)]/wind[2], 0.15)
	assert.Greater(t, cloud[1]/count[1], 60.0)
	assert.Less(t, cloud[0]/count[0], 35.0)
	assert.InDelta(t, 0.11, float64(windy)/float64(len(days)), 0.05, "afternoons too windy to spray")
	assert.InDelta(t, 0.3, float64(calm)/float64(len(days)), 0.1, "mornings too calm")
}
