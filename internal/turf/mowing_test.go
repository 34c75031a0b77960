package turf

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/quantity"
)

const mmPerIn = 25.4

func TestPublishedOneThirdRule(t *testing.T) {
	for _, c := range []struct {
		source        string
		heightIn      float64
		rateInPerWeek float64
		days          float64 // rounded down
	}{
		{"University of Nebraska (2019), Manage to a growth rate: 1.5 in a week, cut at 3 in", 3, 1.5, 7},
		{"University of Nebraska (2019), Manage to a growth rate: 1.5 in a week, cut at 2 in", 2, 1.5, 4},
		{"University of Nebraska (2019), Manage to a growth rate: 1.5 in a week, cut at 1.5 in", 1.5, 1.5, 3},
	} {
		t.Run(c.source, func(t *testing.T) {
			days := MowingIntervalDays(c.heightIn*mmPerIn, c.rateInPerWeek*mmPerIn/7)
			assert.Equal(t, c.days, math.Floor(quantity.Thousandths(days)))
		})
	}
	for _, c := range []struct {
		source          string
		heightIn, mowAt float64
		tolIn           float64
	}{
		{"University of Georgia, Turfgrass management calendar: 2 in", 2, 3, 0},
		{"Mississippi State University, How often should I mow?: bermudagrass", 1, 1.5, 0},
		{"Mississippi State University, How often should I mow?: St. Augustinegrass", 3, 4.5, 0},
		{"Sorochan (2014), Suggested mowing heights (second-hand): tall fescue, low", 1, 1.5, 0},
		{"Sorochan (2014), Suggested mowing heights (second-hand): tall fescue, high", 3, 4.5, 0},
		{"Sorochan (2014), Suggested mowing heights (second-hand): Kentucky bluegrass, low", 0.75, 1.125, 0},
		{"Sorochan (2014), Suggested mowing heights (second-hand): perennial ryegrass, low", 0.25, 0.375, 0},
		{"Sorochan (2014), Suggested mowing heights (second-hand): zoysiagrass, low", 0.375, 0.56, 0.01},
		{"Sorochan (2014), Suggested mowing heights (second-hand): St. Augustinegrass, high", 4, 6, 0},
	} {
		t.Run(c.source, func(t *testing.T) {
			assert.InDelta(t, c.mowAt, MowAtMM(c.heightIn*mmPerIn)/mmPerIn, c.tolIn+1e-9)
		})
	}
}

func TestOwnDesignIntervalsAsPrinted(t *testing.T) {
	for _, c := range []struct {
		name  string
		state State
		g     float64
		days  int
	}{
		{"rounded down", Growing, 0.876, 3},
		{"exactly 7 days, not a last bit less", Growing, 38 * 0.5 / 42, 7},
		{"shorter by 0.7 in a flush", Flush, 0.876, 2},
		{"at least a day", Flush, 1, 2},
		{"exactly 30 days", Slowing, 19.0 / 180, 30},
		{"beyond 30 days", Slowing, 0.094, 0},
		{"no growth", Resting, 0, 0},
		{"dormant", Dormant, 0.9, 0},
		{"not known", "", 0.9, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			days, exact := warmClass(38, 6).mowing(c.state, c.g)
			assert.Equal(t, c.days, days)
			assert.Equal(t, c.days == 0, math.IsNaN(exact))
			if c.days > 0 {
				assert.InDelta(t, exact, float64(c.days)+0.5, 0.51)
			}
		})
	}
	days, exact := warmClass(6, 12).mowing(Flush, 1)
	assert.Equal(t, 1, days, "a mower runs at most once a day")
	assert.InDelta(t, 0.175, exact, 1e-9)
}
