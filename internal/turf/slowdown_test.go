package turf

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/weather"
)

// Each cause of a slowdown, with all else held still.
func TestOwnDesignSlowdownNamesItsCause(t *testing.T) {
	// change is weather that turns from one kind of day to another on a date.
	change := func(first, turn, last string, before, after day) *weather.Series {
		from := date(t, first)
		return records(from, int(date(t, last)-from)+1, func(_ int, d civil.Date) day {
			if d < date(t, turn) {
				return before
			}
			return after
		})
	}
	fescue, bermuda := loadProfile(t, "tall-fescue"), loadProfile(t, "bermuda")
	moist := day{20, 10, 6, 10}
	for _, c := range []struct {
		name  string
		p     *Profile
		s     *weather.Series
		state State
		cause Factor
		sense Sense
		since string
	}{
		{"a cold spell", fescue, change("2020-02-01", "2020-05-01", "2020-05-10", moist, day{5, 10, 6, 10}),
			Slowing, Temperature, "cool", "2020-05-01"},
		{"a heat wave", fescue, change("2020-02-01", "2020-06-01", "2020-06-10", moist, day{31, 10, 9, 10}),
			Slowing, Temperature, "hot", "2020-06-01"},
		{"a week of grey skies, still growing", fescue, change("2020-02-01", "2020-04-01", "2020-04-10", moist, day{20, 10, 6, 100}),
			Growing, Light, "grey skies", "2020-04-01"},
		{"the low sun of December", fescue, change("2020-08-01", "2020-12-05", "2020-12-05", day{20, 10, 6, 70}, day{20, 10, 6, 70}),
			Growing, Light, "low sun", ""},
		{"a dry spell", fescue, change("2020-02-01", "2020-05-01", "2020-05-25", moist, day{20, 10, 0, 10}),
			Slowing, Water, "dry", ""},
		{"the short days of autumn", bermuda, change("2020-05-01", "2020-10-10", "2020-10-10", day{22, 10, 6, 10}, day{22, 10, 6, 10}),
			Slowing, DayLength, "short days", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := reading(t, c.p, c.s).RainFed
			require.Equal(t, c.state, r.State, "%+v", r)
			require.NotNil(t, r.Falling)
			f := *r.Falling
			assert.Equal(t, c.cause, f.Cause)
			assert.Equal(t, c.sense, f.Sense)
			if c.since != "" {
				// The 7 days that end with the first day of the new weather are
				// the last that are still near the old.
				assert.InDelta(t, float64(date(t, c.since)), float64(f.Since), 1)
			}
			assert.Less(t, f.To, 0.95*f.From)
			assert.GreaterOrEqual(t, int(r.Last-f.Since), 1)
			assert.LessOrEqual(t, int(r.Last-f.Since), lookBackDays)
		})
	}

	t.Run("steady weather slows nothing", func(t *testing.T) {
		r := reading(t, fescue, change("2020-02-01", "2020-05-01", "2020-05-25", moist, moist)).RainFed
		assert.Equal(t, Growing, r.State)
		assert.Nil(t, r.Falling)
	})
	t.Run("a watered lawn is not slowed by drought", func(t *testing.T) {
		r := reading(t, fescue, change("2020-02-01", "2020-05-01", "2020-05-25", moist, day{20, 10, 0, 10}))
		require.NotNil(t, r.Watered)
		assert.Nil(t, r.Watered.Falling)
	})
	t.Run("a small fall of a growing lawn is not worth a word", func(t *testing.T) {
		r := reading(t, fescue, change("2020-02-01", "2020-05-01", "2020-05-10", moist, day{17.5, 10, 6, 10})).RainFed
		assert.Less(t, r.G, r.G21)
		assert.Nil(t, r.Falling)
	})
	t.Run("where a gap hides the way down, the level of three weeks ago stands", func(t *testing.T) {
		s := records(date(t, "2020-02-01"), 100, func(i int, _ civil.Date) day {
			if i < 90 {
				return moist
			}
			return day{6, 10, 6, 10}
		})
		for _, i := range []int{88, 89, 91} {
			d := s.Start.AddDays(i)
			s.Set(weather.TmaxC, d, math.NaN())
			s.Set(weather.TminC, d, math.NaN())
		}
		r := reading(t, fescue, s).RainFed
		require.NotNil(t, r.Falling)
		assert.Equal(t, r.Last.AddDays(-21), r.Falling.Since)
	})
}

// The index of two and three weeks ago is that of the same window then.
func TestEarlierWindows(t *testing.T) {
	d, issue := run(t, loadProfile(t, "bermuda"), records(date(t, "2020-01-01"), 200, func(i int, d civil.Date) day {
		return day{8 + float64(i)/10, 10, 3, 40}
	}))
	now := d.At(issue).RainFed
	assert.InDelta(t, d.At(issue.AddDays(-14)).RainFed.G, now.G14, 1e-12)
	assert.InDelta(t, d.At(issue.AddDays(-21)).RainFed.G, now.G21, 1e-12)
	assert.InDelta(t, d.IndexOn(issue.AddDays(-1), false), now.G, 1e-12)
	assert.Greater(t, now.G, now.G14)
	assert.Greater(t, now.G14, now.G21)
	// The mean of means: seven days, each a tenth of a degree warmer.
	assert.InDelta(t, 8+19.6, now.MeanC, 1e-9)
	assert.InDelta(t, GrowthPotential(27.6, 31, 7, true), now.FT, 1e-12)
}
