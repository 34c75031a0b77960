package spray

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"ligule/internal/civil"
)

// anHour is fit for spraying: 20 °C, 60 %, 2 m/s, in the middle of the day.
func anHour(of int) Hour {
	return Hour{Date: civil.MustDate(2026, 5, 10), Of: of, TC: 20, RHPct: 60, WindMS: 2.5, GustMS: 3.5, CloudPct: 30, RainMM: 0, SinceSunriseH: float64(of) - 5.5, ToSunsetH: 19.5 - float64(of)}
}

func aDay(change func(h *Hour)) []Hour {
	var out []Hour
	for i := range 24 {
		h := anHour(i)
		change(&h)
		out = append(out, h)
	}
	return out
}

func limits(hrac4 bool) Limits {
	return Limits{HRAC4: hrac4, RainfastH: 4, MostWindMS: math.NaN(), ElevationM: 10}
}

func mph(x float64) float64 { return x * 1609.344 / 3600 }

// One hour at noon with one thing wrong: what the guidance says of it. Wind:
// VanGessel 2026; inversion: NDSU Extension AE1705; heat: VanGessel 2026 and
// McCullough; Delta T: the guidance of the Australian Bureau of Meteorology.
func TestPublishedSprayHours(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Hour)
		hrac4  bool
		grade  Grade
		want   []Reason
	}{
		{"inside all published limits", func(*Hour) {}, true, Good, nil},
		{"Rutgers and Delaware Extension: below 3 mph", func(h *Hour) { h.WindMS, h.GustMS = mph(2.5), mph(3) }, false, Marginal, []Reason{Calm}},
		{"national stewardship guidance: above 8 mph", func(h *Hour) { h.WindMS = mph(8.5) }, false, Marginal, []Reason{Breezy}},
		{"Clemson Extension: usual label limit of 10 mph", func(h *Hour) { h.WindMS, h.GustMS = mph(10.5), mph(11) }, false, No, []Reason{Windy, Gusty}},
		{"McCullough: 90 °F stops any", func(h *Hour) { h.TC = 32.5 }, false, No, []Reason{Hot}},
		{"VanGessel 2026: 85 °F stops 2,4-D and dicamba", func(h *Hour) { h.TC = 29.6 }, true, No, []Reason{Vapor}},
		{"VanGessel 2026: 85 °F leaves other groups", func(h *Hour) { h.TC = 29.6 }, false, Good, nil},
		{"Bureau of Meteorology: Delta T above 8 °C", func(h *Hour) { h.TC, h.RHPct = 28, 40 }, false, Marginal, []Reason{DriesFast}},
		{"Bureau of Meteorology: Delta T above 10 °C", func(h *Hour) { h.TC, h.RHPct = 28, 20 }, false, No, []Reason{DriesAway}},
		{"Bureau of Meteorology: Delta T below 2 °C", func(h *Hour) { h.RHPct = 95 }, false, Marginal, []Reason{Dewy}},
	} {
		t.Run(c.name, func(t *testing.T) {
			hours := aDay(func(h *Hour) {
				if h.Of >= 10 && h.Of <= 15 {
					c.change(h)
				}
			})
			for _, g := range GradeHours(hours, limits(c.hrac4)) {
				if g.Of == 12 {
					assert.Equal(t, c.grade, g.Grade, "%+v", g)
					assert.Equal(t, c.want, g.Reasons)
				}
			}
		})
	}
}

// Own design: light of the day, rain before the spray is fast, and gaps.
func TestOwnDesignSprayHours(t *testing.T) {
	graded := GradeHours(aDay(func(h *Hour) {}), limits(true))
	for _, g := range graded {
		switch {
		case g.SinceSunriseH < 0 || g.ToSunsetH < 0:
			assert.Equal(t, No, g.Grade, "%d", g.Of)
			assert.Contains(t, g.Reasons, Dark)
		case g.Of < 20:
			assert.Equal(t, Good, g.Grade, "%d: %v", g.Of, g.Reasons)
		}
	}
	// 2 m/s is above 3 mph but a clear, calm dawn is an inversion.
	still := GradeHours(aDay(func(h *Hour) { h.WindMS, h.CloudPct, h.GustMS = 0.5, 10, 1 }), limits(false))
	for _, g := range still {
		if g.Of == 6 { // half an hour after sunrise
			assert.Contains(t, g.Reasons, Inversion)
			assert.Equal(t, No, g.Grade)
		}
	}
	// Rain at 16:00: the hours 12 to 15 see it within four hours.
	rainy := GradeHours(aDay(func(h *Hour) {
		if h.Of == 16 {
			h.RainMM = 4
		}
	}), limits(false))
	for _, g := range rainy {
		if g.Of >= 12 && g.Of < 16 {
			assert.Contains(t, g.Reasons, RainSoon, "%d", g.Of)
		}
		if g.Of == 16 {
			assert.Contains(t, g.Reasons, Raining)
		}
		if g.Of == 10 {
			assert.Equal(t, Good, g.Grade, "the rain comes too late to wash it off")
		}
	}
	drizzle := GradeHours(aDay(func(h *Hour) {
		if h.Of == 16 {
			h.RainMM = 1
		}
	}), limits(false))
	for _, g := range drizzle {
		if g.Of == 14 {
			assert.Equal(t, Marginal, g.Grade)
			assert.Equal(t, []Reason{Drizzle}, g.Reasons)
		}
	}
	// Missing values close nothing, and never make an hour good.
	for _, c := range []struct {
		name   string
		change func(*Hour)
		want   Grade
	}{
		{"no humidity", func(h *Hour) { h.RHPct = math.NaN() }, Unknown},
		{"no wind", func(h *Hour) { h.WindMS = math.NaN() }, Unknown},
		{"no temperature", func(h *Hour) { h.TC = math.NaN() }, Unknown},
		{"no rain", func(h *Hour) { h.RainMM = math.NaN() }, Unknown},
		{"no sun", func(h *Hour) { h.SinceSunriseH, h.ToSunsetH = math.NaN(), math.NaN() }, Unknown},
		{"no cloud, but sure wind", func(h *Hour) { h.CloudPct = math.NaN() }, Good},
		{"no cloud and no wind", func(h *Hour) { h.CloudPct, h.WindMS = math.NaN(), math.NaN() }, Unknown},
		{"no humidity, but too windy", func(h *Hour) { h.RHPct, h.WindMS = math.NaN(), mph(20) }, No},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, g := range GradeHours(aDay(c.change), limits(false)) {
				if g.Of == 12 {
					assert.Equal(t, c.want, g.Grade, "%v", g.Reasons)
				}
			}
		})
	}
	// The last hours of a list do not know what follows: unknown, not good.
	last := GradeHours(aDay(func(h *Hour) {})[:16], limits(false))
	assert.Equal(t, Unknown, last[15].Grade)
	assert.Equal(t, Unknown, last[13].Grade)
	assert.Equal(t, Good, last[11].Grade, "four hours follow")
}

// Own design: windows are fit hours in a row, at least two, inside one day.
func TestOwnDesignSprayWindows(t *testing.T) {
	day := civil.MustDate(2026, 5, 10)
	row := func(grades ...Grade) []GradedHour {
		var out []GradedHour
		for i, g := range grades {
			out = append(out, GradedHour{Hour: Hour{Date: day, Of: i}, Grade: g})
		}
		return out
	}
	assert.Empty(t, Windows(nil))
	assert.Equal(t, []Window{{day, 1, 3, Good}}, Windows(row(No, Good, Good, No)))
	assert.Empty(t, Windows(row(No, Good, No)), "one hour is no window")
	assert.Equal(t, []Window{{day, 0, 2, Good}, {day, 0, 3, Marginal}},
		Windows(row(Good, Good, Marginal)))
	assert.Empty(t, Windows(row(Unknown, Good)), "what is unknown is not fit")
	// Two days do not join over midnight.
	join := row(Good, Good)
	join[0].Of, join[1].Of = 23, 0
	join[1].Date = day + 1
	assert.Empty(t, Windows(join))
	// Nor over a gap.
	gap := row(Good, Good)
	gap[1].Of = 5
	assert.Empty(t, Windows(gap))
}

// With daily values alone there are no hours, and no windows are made up.
func TestOwnDesignNoHoursNoWindows(t *testing.T) {
	assert.Empty(t, Windows(GradeHours(nil, Limits{MostWindMS: math.NaN()})))
}

func TestSprayGradesNeverGuess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var hours []Hour
		for i := range 24 {
			h := anHour(i)
			h.TC = rapid.Float64Range(-5, 40).Draw(t, "t")
			h.WindMS = rapid.Float64Range(0, 12).Draw(t, "wind")
			h.RainMM = max(0, rapid.Float64Range(-3, 5).Draw(t, "rain"))
			if rapid.Bool().Draw(t, "missing") {
				*rapid.SampledFrom([]*float64{&h.TC, &h.RHPct, &h.WindMS, &h.RainMM, &h.CloudPct}).Draw(t, "field") = math.NaN()
			}
			hours = append(hours, h)
		}
		l := limits(rapid.Bool().Draw(t, "hrac4"))
		for i, g := range GradeHours(hours, l) {
			h := hours[i]
			if g.Grade == Good && (math.IsNaN(h.TC) || math.IsNaN(h.RHPct) || math.IsNaN(h.WindMS) || math.IsNaN(h.RainMM)) {
				t.Fatalf("good without %+v", h)
			}
			if g.Grade == Good && (h.RainMM >= traceMM || h.WindMS > 6 || h.SinceSunriseH < 0) {
				t.Fatalf("good: %+v", h)
			}
			if g.Grade == No && len(g.Reasons) == 0 {
				t.Fatal("closed for nothing")
			}
		}
		for _, w := range Windows(GradeHours(hours, l)) {
			if w.From < 0 || w.To > 24 || w.To-w.From < 2 {
				t.Fatalf("window %+v", w)
			}
		}
	})
}
