package pest

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

func limits(hrac4 bool) SprayLimits {
	return SprayLimits{HRAC4: hrac4, RainfastH: 4, MostWindMS: math.NaN(), ElevationM: 10}
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
		grade  SprayGrade
		want   []SprayReason
	}{
		{"inside all published limits", func(*Hour) {}, true, SprayGood, nil},
		{"Rutgers and Delaware Extension: below 3 mph", func(h *Hour) { h.WindMS, h.GustMS = mph(2.5), mph(3) }, false, SprayMarginal, []SprayReason{SprayCalm}},
		{"national stewardship guidance: above 8 mph", func(h *Hour) { h.WindMS = mph(8.5) }, false, SprayMarginal, []SprayReason{SprayBreezy}},
		{"Clemson Extension: usual label limit of 10 mph", func(h *Hour) { h.WindMS, h.GustMS = mph(10.5), mph(11) }, false, SprayNo, []SprayReason{SprayWindy, SprayGusty}},
		{"McCullough: 90 °F stops any", func(h *Hour) { h.TC = 32.5 }, false, SprayNo, []SprayReason{SprayHot}},
		{"VanGessel 2026: 85 °F stops 2,4-D and dicamba", func(h *Hour) { h.TC = 29.6 }, true, SprayNo, []SprayReason{SprayVapor}},
		{"VanGessel 2026: 85 °F leaves other groups", func(h *Hour) { h.TC = 29.6 }, false, SprayGood, nil},
		{"Bureau of Meteorology: Delta T above 8 °C", func(h *Hour) { h.TC, h.RHPct = 28, 40 }, false, SprayMarginal, []SprayReason{SprayDriesFast}},
		{"Bureau of Meteorology: Delta T above 10 °C", func(h *Hour) { h.TC, h.RHPct = 28, 20 }, false, SprayNo, []SprayReason{SprayDriesAway}},
		{"Bureau of Meteorology: Delta T below 2 °C", func(h *Hour) { h.RHPct = 95 }, false, SprayMarginal, []SprayReason{SprayDewy}},
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
			assert.Equal(t, SprayNo, g.Grade, "%d", g.Of)
			assert.Contains(t, g.Reasons, SprayDark)
		case g.Of < 20:
			assert.Equal(t, SprayGood, g.Grade, "%d: %v", g.Of, g.Reasons)
		}
	}
	// 2 m/s is above 3 mph but a clear, calm dawn is an inversion.
	still := GradeHours(aDay(func(h *Hour) { h.WindMS, h.CloudPct, h.GustMS = 0.5, 10, 1 }), limits(false))
	for _, g := range still {
		if g.Of == 6 { // half an hour after sunrise
			assert.Contains(t, g.Reasons, SprayInversion)
			assert.Equal(t, SprayNo, g.Grade)
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
			assert.Contains(t, g.Reasons, SprayRainSoon, "%d", g.Of)
		}
		if g.Of == 16 {
			assert.Contains(t, g.Reasons, SprayRaining)
		}
		if g.Of == 10 {
			assert.Equal(t, SprayGood, g.Grade, "the rain comes too late to wash it off")
		}
	}
	drizzle := GradeHours(aDay(func(h *Hour) {
		if h.Of == 16 {
			h.RainMM = 1
		}
	}), limits(false))
	for _, g := range drizzle {
		if g.Of == 14 {
			assert.Equal(t, SprayMarginal, g.Grade)
			assert.Equal(t, []SprayReason{SprayDrizzle}, g.Reasons)
		}
	}
	// Missing values close nothing, and never make an hour good.
	for _, c := range []struct {
		name   string
		change func(*Hour)
		want   SprayGrade
	}{
		{"no humidity", func(h *Hour) { h.RHPct = math.NaN() }, SprayUnknown},
		{"no wind", func(h *Hour) { h.WindMS = math.NaN() }, SprayUnknown},
		{"no temperature", func(h *Hour) { h.TC = math.NaN() }, SprayUnknown},
		{"no rain", func(h *Hour) { h.RainMM = math.NaN() }, SprayUnknown},
		{"no sun", func(h *Hour) { h.SinceSunriseH, h.ToSunsetH = math.NaN(), math.NaN() }, SprayUnknown},
		{"no cloud, but sure wind", func(h *Hour) { h.CloudPct = math.NaN() }, SprayGood},
		{"no cloud and no wind", func(h *Hour) { h.CloudPct, h.WindMS = math.NaN(), math.NaN() }, SprayUnknown},
		{"no humidity, but too windy", func(h *Hour) { h.RHPct, h.WindMS = math.NaN(), mph(20) }, SprayNo},
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
	assert.Equal(t, SprayUnknown, last[15].Grade)
	assert.Equal(t, SprayUnknown, last[13].Grade)
	assert.Equal(t, SprayGood, last[11].Grade, "four hours follow")
}

// Own design: windows are fit hours in a row, at least two, inside one day.
func TestOwnDesignSprayWindows(t *testing.T) {
	day := civil.MustDate(2026, 5, 10)
	row := func(grades ...SprayGrade) []GradedHour {
		var out []GradedHour
		for i, g := range grades {
			out = append(out, GradedHour{Hour: Hour{Date: day, Of: i}, Grade: g})
		}
		return out
	}
	l := SprayLimits{}
	assert.Empty(t, SprayWindows(nil, l))
	assert.Equal(t, []SprayWindow{{day, 1, 3, SprayGood}}, SprayWindows(row(SprayNo, SprayGood, SprayGood, SprayNo), l))
	assert.Empty(t, SprayWindows(row(SprayNo, SprayGood, SprayNo), l), "one hour is no window")
	assert.Equal(t, []SprayWindow{{day, 0, 2, SprayGood}, {day, 0, 3, SprayMarginal}},
		SprayWindows(row(SprayGood, SprayGood, SprayMarginal), l))
	assert.Empty(t, SprayWindows(row(SprayUnknown, SprayGood), l), "what is unknown is not fit")
	assert.Len(t, SprayWindows(row(SprayGood, SprayGood, SprayGood), SprayLimits{LeastHours: 3}), 1)
	assert.Empty(t, SprayWindows(row(SprayGood, SprayGood), SprayLimits{LeastHours: 3}))
	// Two days do not join over midnight.
	join := row(SprayGood, SprayGood)
	join[0].Of, join[1].Of = 23, 0
	join[1].Date = day + 1
	assert.Empty(t, SprayWindows(join, l))
	// Nor over a gap.
	gap := row(SprayGood, SprayGood)
	gap[1].Of = 5
	assert.Empty(t, SprayWindows(gap, l))
}

// With daily values alone there are no hours, and no windows are made up.
func TestOwnDesignNoHoursNoWindows(t *testing.T) {
	assert.Empty(t, SprayWindows(GradeHours(nil, SprayLimits{MostWindMS: math.NaN()}), SprayLimits{}))
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
			if g.Grade == SprayGood && (math.IsNaN(h.TC) || math.IsNaN(h.RHPct) || math.IsNaN(h.WindMS) || math.IsNaN(h.RainMM)) {
				t.Fatalf("good without %+v", h)
			}
			if g.Grade == SprayGood && (h.RainMM >= traceMM || h.WindMS > 6 || h.SinceSunriseH < 0) {
				t.Fatalf("good: %+v", h)
			}
			if g.Grade == SprayNo && len(g.Reasons) == 0 {
				t.Fatal("closed for nothing")
			}
		}
		for _, w := range SprayWindows(GradeHours(hours, l), l) {
			if w.From < 0 || w.To > 24 || w.To-w.From < 2 {
				t.Fatalf("window %+v", w)
			}
		}
	})
}
