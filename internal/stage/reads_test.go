package stage

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/weather"
)

// What a timing reads follows from its clauses.
func TestEdgesOfWhatATimingReads(t *testing.T) {
	timing := func(warmth agromet.DegreeDays, of5cm bool, kinds ...ClauseKind) *Timing {
		out := &Timing{Warmth: warmth, Of5cm: of5cm, StillAtMost: math.NaN(), StillAtLeast: math.NaN(), Stages: []Stage{{}}}
		for _, k := range kinds {
			out.Stages = append(out.Stages, Stage{When: []pest.Cited[Condition]{{Value: Condition{{Kind: k}}}}})
		}
		return out
	}
	none, sum := agromet.DegreeDays{}, agromet.DegreeDays{Method: agromet.DoubleSineMethod}
	assert.Empty(t, timing(none, false, FromDate, ArrivalDate, AfterStage).Reads())
	assert.Equal(t, []string{"soil"}, timing(none, false, SoilMean, SoilMean).Reads())
	assert.Equal(t, []string{"temperature", "rain"}, timing(none, false, NightLow, AirMean, DayMaximum, RainSum).Reads())
	assert.Equal(t, []string{"temperature"}, timing(sum, false, ReachSum).Reads())
	assert.Equal(t, []string{"soil"}, timing(sum, true, AfterStage).Reads())
	shifted := timing(none, false, SoilMean)
	shifted.Shifts = []Shift{{When: Condition{{Kind: RainSum}}}}
	assert.Equal(t, []string{"soil", "rain"}, shifted.Reads())
}

// Days to come count in a stage while a clause looks so far ahead, and not while
// another clause says no before it is asked.
func TestEdgesOfDaysToCome(t *testing.T) {
	issue := civil.MustDate(2026, 9, 13)
	ahead := func(lead int, from civil.MonthDay, freezes int) bool {
		past := weather.NewSeries(civil.MustDate(2026, 8, 1), 43)
		for d := past.Start; d <= past.End(); d++ {
			past.Set(weather.TmaxC, d, 20)
			past.Set(weather.TminC, d, 10)
			past.Set(weather.RainMM, d, 0)
		}
		if freezes > 0 {
			past.Set(weather.TminC, issue.AddDays(-freezes), -1)
		}
		f := weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 35}, past, nil, issue).Felt()
		timing := &Timing{StillAtMost: math.NaN(), StillAtLeast: math.NaN(), Start: civil.MonthDay{Month: 8, Day: 1}, Stages: []Stage{{ID: "wait"},
			{ID: "best", When: []pest.Cited[Condition]{{Value: Condition{
				{Kind: FromDate, Date: from, AtLeast: math.NaN(), AtMost: math.NaN()}, {Kind: NightLow, AtLeast: math.NaN(), AtMost: 0, LeadDays: lead},
			}}}}}}
		return timing.progress(f, issue).Ahead
	}
	september := civil.MonthDay{Month: 9, Day: 1}
	assert.False(t, ahead(0, september, 0))
	assert.True(t, ahead(1, september, 0))
	assert.False(t, ahead(10, civil.MonthDay{Month: 9, Day: 13}, 0), "not asked yet")
	assert.True(t, ahead(10, civil.MonthDay{Month: 9, Day: 12}, 0))
	assert.False(t, ahead(2, september, 1), "it began three days ago, by a night that is on record")
}
