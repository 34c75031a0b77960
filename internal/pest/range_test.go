package pest

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// A pest lives up to its bounds, and where the climate is not known yet.
func TestEdgesOfRanges(t *testing.T) {
	start := day(2025, 1, 1)
	year := func(days int, january float64) *Input {
		f := recorded(start, days, func(s *weather.Series) {
			for d := start; d <= s.End(); d++ {
				if d.Month() == 1 {
					s.Set(weather.TmaxC, d, january+5)
					s.Set(weather.TminC, d, january-5)
				}
			}
		})
		return &Input{Felt: f, Grass: &turf.Profile{}, Issue: f.View.IssueDate}
	}
	everywhere := Region{nan, nan, nan, nan}
	south := Range{Lives: "the South", Region: everywhere, ColdestFrom: Figure{Value: 7}, ColdestTo: Figure{Value: nan}}
	north := Range{Lives: "the North", Region: everywhere, ColdestFrom: Figure{Value: nan}, ColdestTo: Figure{Value: 7}}
	for c, want := range map[float64][2]bool{6.9: {false, true}, 7: {true, true}, 7.1: {true, false}} {
		assert.Equal(t, want, [2]bool{south.Holds(year(365, c)), north.Holds(year(365, c))}, "%g °C", c)
	}
	assert.True(t, south.Holds(year(353, 0)), "nineteen days of December")
	assert.False(t, south.Holds(year(354, 0)), "twenty")
	bounded := Range{Lives: "the coast", Region: Region{South: nan, North: 34.9, West: nan, East: nan}, ColdestFrom: Figure{Value: nan}, ColdestTo: Figure{Value: nan}}
	assert.False(t, bounded.Holds(year(30, 10)))
	bounded.Region.North = 35
	assert.True(t, bounded.Holds(year(30, 10)))
	assert.True(t, (&Range{}).Holds(year(365, -20)), "nothing is told")
}

// The same week of other years.
func TestEdgesOfTheSameWeek(t *testing.T) {
	var at []int
	for k := range 160 {
		if SameWeek(k) {
			at = append(at, k)
		}
	}
	assert.Equal(t, []int{52, 104, 157}, at)
	var u Usual
	for _, g := range []Grade{Quiet, Watch, Act} {
		u.Add(g, true)
		u.Add(g, false)
	}
	assert.Equal(t, Usual{Years: 3, Up: 2}, u)
}

// Where seasons lie apart a find of any time of the last two years counts.
func TestEdgesOfFindsOfAnySeason(t *testing.T) {
	issue := day(2026, 10, 11)
	for on, want := range map[civil.Date]bool{issue: false, issue - 1: true, day(2024, 10, 11) - 60: true, day(2024, 10, 11) - 61: false} {
		log := onZoysia(issue, []Report{{Date: on, Finding: "x"}})
		assert.Equal(t, want, log.Ever(issue), "%s", on)
	}
}

func TestEdgesOfRegions(t *testing.T) {
	region := Region{South: 30, North: 40, West: -85, East: -75}
	for _, c := range []struct {
		lat, lon float64
		want     bool
	}{
		{35, -80, true}, {30, -80, true}, {29.99, -80, false}, {40, -80, true}, {40.01, -80, false},
		{35, -85, true}, {35, -85.01, false}, {35, -75, true}, {35, -74.99, false},
	} {
		assert.Equal(t, c.want, region.Contains(weather.Station{LatitudeDeg: c.lat, LongitudeDeg: c.lon}), "%+v", c)
	}
}
