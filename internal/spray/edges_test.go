package spray

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// An hour at noon, with one value at its limit or beside it.
func TestEdgesOfHours(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Hour)
		grade  Grade
		want   []Reason
	}{
		{"a measurable rain", func(h *Hour) { h.RainMM = .254 }, No, []Reason{Raining}},
		{"a trace", func(h *Hour) { h.RainMM = .253 }, Good, nil},
		{"sunrise", func(h *Hour) { h.SinceSunriseH = 0 }, Good, nil},
		{"before sunrise", func(h *Hour) { h.SinceSunriseH = -.01 }, No, []Reason{Dark}},
		{"sunset", func(h *Hour) { h.ToSunsetH = 0 }, Good, nil},
		{"after sunset", func(h *Hour) { h.ToSunsetH = -.01 }, No, []Reason{Dark}},
		{"wind of 8 mph, 3.6 m/s", func(h *Hour) { h.WindMS = 3.64 }, Good, nil},
		{"a tenth more", func(h *Hour) { h.WindMS = 3.66 }, Marginal, []Reason{Breezy}},
		{"wind of 10 mph, 4.5 m/s", func(h *Hour) { h.WindMS, h.GustMS = 4.54, 4.54 }, Marginal, []Reason{Breezy}},
		{"a gust a tenth above", func(h *Hour) { h.WindMS, h.GustMS = 4.54, 4.56 }, Marginal, []Reason{Breezy, Gusty}},
		{"wind a tenth above", func(h *Hour) { h.WindMS, h.GustMS = 4.56, 4.56 }, No, []Reason{Windy, Gusty}},
		{"no sunrise, no sunset", func(h *Hour) { h.SinceSunriseH, h.ToSunsetH = math.NaN(), math.NaN() }, Unknown, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			hours := aDay(func(h *Hour) {
				if h.Of == 12 {
					c.change(h)
				}
			})
			got := GradeHours(hours, limits(false))[12]
			assert.Equal(t, c.grade, got.Grade)
			assert.Equal(t, c.want, got.Reasons)
		})
	}
}

// Rain after noon: how much, how late, and how long a spray has to stay dry.
func TestEdgesOfRainAfterIt(t *testing.T) {
	for _, c := range []struct {
		name      string
		rainfastH float64
		rainAt    int
		rainMM    float64
		grade     Grade
		want      []Reason
		missing   int // an hour that is not on the list
	}{
		{"what takes it off", 4, 14, 2.46, No, []Reason{RainSoon}, 0},
		{"a tenth less", 4, 14, 2.44, Marginal, []Reason{Drizzle}, 0},
		{"measurable", 4, 14, .254, Marginal, []Reason{Drizzle}, 0},
		{"a trace", 4, 14, .253, Good, nil, 0},
		{"the last hour of four", 4, 16, 5, No, []Reason{RainSoon}, 0},
		{"the hour after them", 4, 17, 5, Good, nil, 0},
		{"a part of the third hour", 2.5, 15, 5, No, []Reason{RainSoon}, 0},
		{"the hour after that", 2.5, 16, 5, Good, nil, 0},
		{"the last hour, the label silent", math.NaN(), 16, 5, No, []Reason{RainSoon}, 0},
		{"the hour after it, the label silent", math.NaN(), 17, 5, Good, nil, 0},
		{"the last hour, the label tells none", 0, 16, 5, No, []Reason{RainSoon}, 0},
		{"the hour after it, the label tells none", 0, 17, 5, Good, nil, 0},
		{"an hour that is not on the list", 4, 20, 0, Unknown, nil, 14},
		{"an hour that is not on the list, past the four", 4, 20, 0, Good, nil, 17},
	} {
		t.Run(c.name, func(t *testing.T) {
			var hours []Hour
			for _, h := range aDay(func(*Hour) {}) {
				if h.Of == c.rainAt {
					h.RainMM = c.rainMM
				}
				if c.missing == 0 || h.Of != c.missing {
					hours = append(hours, h)
				}
			}
			l := limits(false)
			l.RainfastH = c.rainfastH
			got := GradeHours(hours, l)[12]
			assert.Equal(t, c.grade, got.Grade)
			assert.Equal(t, c.want, got.Reasons)
		})
	}
}
