package watering

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/civil"
	"ligule/internal/law"
)

// The day on which a watering law is past its review: the day of it is in time.
func TestEdgesOfReviews(t *testing.T) {
	w := cityWater(t)
	due := w.CheckedOn.AddMonths(12)
	assert.Equal(t, due, w.NextReview())
	assert.Equal(t, []bool{false, true}, []bool{w.Stale(due), w.Stale(due + 1)})
	water := func(asOf civil.Date) Verdict {
		return w.Ask(Question{Date: day("2026-07-15"), Minute: 6 * 60, House: "1", AsOf: asOf}).Verdict
	}
	assert.Equal(t, []Verdict{Open, NotCleared}, []Verdict{water(due), water(due + 1)})
}

// Watering: the minutes of closed hours, the days of stages, and how long what was
// planted or spread may be watered.
func TestEdgesOfWatering(t *testing.T) {
	w := cityWater(t) // closed from 9 to 17 h
	w.Exempt = []Exemption{{What: "water_in", MaxIn: num(0.5), WithinHours: 12}, {What: "new_turf", AnyDay: &law.DayRange{From: 0, To: 29}}}
	date := day("2026-07-15")
	ask := func(minute int, change func(*Question)) Verdict {
		q := Question{Date: date, Minute: minute, House: "1", AsOf: date}
		if change != nil {
			change(&q)
		}
		return w.Ask(q).Verdict
	}
	for minute, want := range map[int]Verdict{9*60 - 1: Open, 9 * 60: Closed, 17*60 - 1: Closed, 17 * 60: Open} {
		assert.Equal(t, want, ask(minute, nil), minute)
	}
	night := Hours{22 * 60, 6 * 60}
	for minute, want := range map[int]bool{22*60 - 1: false, 22 * 60: true, 0: true, 6*60 - 1: true, 6 * 60: false} {
		assert.Equal(t, want, night.hold(minute), minute)
	}
	noon := 12 * 60
	for days, want := range map[int]Verdict{-1: Closed, 0: Open, 29: Open, 30: Closed} {
		assert.Equal(t, want, ask(noon, func(q *Question) { q.Planted = date.AddDays(-days) }), "%d days after planting", days)
	}
	in := func(hoursAgo int, depthIn float64) Verdict {
		return ask(noon, func(q *Question) { q.WaterIn = &WaterIn{Date: date, Minute: noon - 60*hoursAgo, DepthIn: depthIn} })
	}
	assert.Equal(t, []Verdict{Open, Closed}, []Verdict{in(12, 0.5), in(12, 0.51)})
	assert.Equal(t, Closed, ask(noon, func(q *Question) { q.WaterIn = &WaterIn{Date: date - 1, Minute: 24*60 - 1, DepthIn: 0.5} }), "a minute more than twelve hours")

	for house, want := range map[string]Verdict{"1": Open, "2": Closed} {
		w.CalendarParity = true
		assert.Equal(t, want, ask(6*60, func(q *Question) { q.House = house }), "number %s on the 15th", house)
		w.CalendarParity = false
	}

	// Stages: they add up, last through their last day, and are not known after
	// the day through which an order without an end is assumed.
	w.Stages = []Stage{{N: 1, Force: "mandatory", ClosedHours: []Hours{{0, 6 * 60}}}, {N: 2, Force: "mandatory", ClosedHours: []Hours{{18 * 60, 20 * 60}}}}
	w.Force, w.Exempt = "by_stage", nil
	on := func(d civil.Date, minute int) Verdict {
		return w.Ask(Question{Date: d, Minute: minute, House: "1", AsOf: date}).Verdict
	}
	w.Declared = []DeclaredStage{{Stage: 2, From: date, To: date + 9}}
	for d, want := range map[civil.Date]Verdict{date - 1: Open, date: Closed, date + 9: Closed, date + 10: Open} {
		assert.Equal(t, want, on(d, 3*60), "the first stage with the second, %s", d)
		assert.Equal(t, want, on(d, 19*60), "the second stage, %s", d)
	}
	w.Declared = []DeclaredStage{{Stage: 1, From: date, AssumeUntil: date + 9}}
	for d, want := range map[civil.Date]Verdict{date + 9: Open, date + 10: NotCleared} {
		assert.Equal(t, want, on(d, 19*60), d)
	}
}
