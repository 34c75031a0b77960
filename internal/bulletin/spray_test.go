package bulletin

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/message"
	"ligule/internal/spray"
	"ligule/internal/voice"
)

// sprayDay is a day that is good for spraying from sunrise at 7 to sunset at 5
// pm, but for what is changed hour by hour.
func sprayDay(d civil.Date, change func(h *spray.Hour)) []spray.Hour {
	var out []spray.Hour
	for of := range 24 {
		h := spray.Hour{
			Date: d, Of: of, TC: 20, RHPct: 60, WindMS: 2.5, GustMS: 3.5, CloudPct: 40,
			SinceSunriseH: float64(of) + 0.5 - 7, ToSunsetH: 17 - (float64(of) + 0.5),
		}
		if change != nil {
			change(&h)
		}
		out = append(out, h)
	}
	return out
}

// sprayBook words hours as the demonstration does, in short.
func sprayBook(t testing.TB) voice.Voice {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML("phrases.toml", []byte(`
language = "en-US"
date.date = "{month} {day}, {year}"
month.11 = "November"
list.semicolon = "{before}; {next}"
clock = { am = "{time} am", pm = "{time} pm", noon = "noon", midnight = "midnight", span = "{from}–{to}" }
[spray]
none_on_file = "no forecast"
caption = "of {date}, {wind}, {hours} h"
label = "the label is the law"
good = "{hours}"
marginal = "{hours} marginal ({reason})"
brief_marginal = "{hours} marginal"
none = "none: {reason}"
short = "too short"
unknown = "not known"
absent = "not graded"
group4 = "group 4: {hours}"
reason = { windy = "windy", raining = "rain", rain-soon = "rain soon", breezy = "breezy", gusty = "gusts", dewy = "damp", calm = "calm", hot = "hot", vapor = "vapor", dries-fast = "dry" }
`), &list)
	require.True(t, ok, list.Error())
	book := voice.ReadBook(root)
	require.NoError(t, list.Err())
	return voice.Voice{Book: book}
}

// sprayPart is a stretch of hours in words.
type sprayPart struct {
	Text string
	Good bool
}

func wordsOf(v voice.Voice, s *message.Said) string {
	if s == nil {
		return ""
	}
	return v.Say(s.Message)
}

func partsOf(v voice.Voice, parts []SprayPart) []sprayPart {
	var out []sprayPart
	for _, p := range parts {
		out = append(out, sprayPart{wordsOf(v, p.Text), p.Good})
	}
	return out
}

// What the page says of a day, by its hours.
func TestOwnDesignHoursFitForSpraying(t *testing.T) {
	const nbsp = "\u00a0"
	in := func(h *spray.Hour, from, to int) bool { return h.Of >= from && h.Of < to }
	for _, c := range []struct {
		name   string
		change func(h *spray.Hour)
		want   []sprayPart
		group4 string
	}{
		{"fair", nil, []sprayPart{{"7 am–5 pm", true}}, ""},
		{"a breezy afternoon", func(h *spray.Hour) {
			if h.Of >= 12 {
				h.WindMS = 4
			}
		}, []sprayPart{{"7 am–noon", true}, {"noon–5 pm marginal (breezy)", false}}, ""},
		{"dew, then wind, then a lull", func(h *spray.Hour) {
			switch {
			case h.Of < 9:
				h.RHPct = 95
			case in(h, 11, 14):
				h.WindMS = 6
			}
		}, []sprayPart{{"7–9 am marginal (damp)", false}, {"9–11 am", true}, {"2–5 pm", true}}, ""},
		{"good between two marginal stretches", func(h *spray.Hour) {
			if !in(h, 9, 12) {
				h.GustMS = 5
			}
		}, []sprayPart{{"7–9 am marginal (gusts)", false}, {"9 am–noon", true}, {"noon–5 pm marginal (gusts)", false}}, ""},
		{"a single good hour is part of the marginal stretch", func(h *spray.Hour) {
			if h.Of != 10 {
				h.GustMS = 5
			}
		}, []sprayPart{{"7 am–5 pm marginal (gusts)", false}}, ""},
		{"windy, though it rains for two hours", func(h *spray.Hour) {
			h.WindMS = 7
			if in(h, 8, 10) {
				h.RainMM = 5
			}
		}, []sprayPart{{"none: windy", false}}, ""},
		{"rain from 11 on, and four hours before it", func(h *spray.Hour) {
			if h.Of >= 11 {
				h.RainMM = 3
			}
		}, []sprayPart{{"none: rain", false}}, ""},
		{"rain in the evening", func(h *spray.Hour) {
			if h.Of >= 17 {
				h.RainMM = 3
			}
		}, []sprayPart{{"7 am–1 pm", true}}, ""},
		{"rain at noon, and damp after it", func(h *spray.Hour) {
			switch {
			case h.Of == 12:
				h.RainMM = 3
			case h.Of > 12:
				h.RHPct = math.NaN()
			}
		}, []sprayPart{{"none: rain soon", false}}, ""},
		{"one fit hour here and there", func(h *spray.Hour) {
			if h.Of%2 == 0 {
				h.WindMS = 7
			}
		}, []sprayPart{{"none: windy", false}}, ""},
		{"one hour of forecast", func(h *spray.Hour) {
			if h.Of != 10 {
				h.SinceSunriseH, h.ToSunsetH = -1, -1
			}
		}, []sprayPart{{"too short", false}}, ""},
		{"no humidity on file", func(h *spray.Hour) { h.RHPct = math.NaN() }, []sprayPart{{"not known", false}}, ""},
		{"no humidity, and windy in the afternoon", func(h *spray.Hour) {
			h.RHPct = math.NaN()
			if h.Of >= 14 {
				h.WindMS = 7
			}
		}, []sprayPart{{"not known", false}}, ""},
		{"nothing but night", func(h *spray.Hour) { h.SinceSunriseH, h.ToSunsetH = -1, -1 }, []sprayPart{{"not graded", false}}, ""},
		{"too hot for group 4 from 11 on", func(h *spray.Hour) {
			h.RHPct = 60
			if h.Of >= 11 {
				h.TC = 30
			}
		}, []sprayPart{{"7 am–5 pm", true}}, "group 4: 7–11 am"},
		{"damp at first, and too hot for group 4 from 11 on", func(h *spray.Hour) {
			switch {
			case h.Of < 9:
				h.RHPct = 95
			case h.Of >= 11:
				h.TC = 30
			}
		}, []sprayPart{{"7–9 am marginal (damp)", false}, {"9 am–5 pm", true}}, "group 4: 7–9 am marginal; 9–11 am"},
		{"too hot for group 4 all day", func(h *spray.Hour) { h.TC = 30 }, []sprayPart{{"7 am–5 pm", true}}, "group 4: none: vapor"},
		{"too hot for anything", func(h *spray.Hour) { h.TC = 33 }, []sprayPart{{"none: hot", false}}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, v := civil.MustDate(2026, 11, 22), sprayBook(t)
			hours := append(sprayDay(d, c.change), sprayDay(d+1, nil)...)
			got := sprayHours(hours, d, nil, 0)
			require.Len(t, got.Days, 2)
			assert.Equal(t, d, got.Days[0].Date)
			for i := range c.want {
				c.want[i].Text = tightHours(c.want[i].Text)
			}
			assert.Equal(t, c.want, partsOf(v, got.Days[0].Parts))
			assert.Equal(t, tightHours(c.group4), wordsOf(v, got.Days[0].Group4))
			assert.Equal(t, "of November 22, 2026, 10"+nbsp+"mph (4.5"+nbsp+"m/s), 4 h", wordsOf(v, got.Caption))
			assert.Equal(t, "the label is the law", wordsOf(v, got.Label))
			assert.Empty(t, got.Missing)
		})
	}
}

// A day that only the daily forecast reaches is not graded; without any hour
// there is no table.
func TestDaysWithoutHoursAreNotGraded(t *testing.T) {
	v, d := sprayBook(t), civil.MustDate(2026, 11, 22)
	ahead := []Day{{Date: d}, {Date: d + 1}}
	got := sprayHours(sprayDay(d, nil), d, ahead, 0)
	require.Len(t, got.Days, 2)
	assert.Equal(t, []sprayPart{{"not graded", false}}, partsOf(v, got.Days[1].Parts))

	for _, issued := range []civil.Date{d, 0} {
		got := sprayHours(nil, issued, ahead, 0)
		assert.Equal(t, "no forecast", wordsOf(v, got.Missing))
		assert.Empty(t, got.Days)
		assert.Nil(t, got.Caption)
	}
}

// Whatever the hours, the stretches of a day follow one another, cover just
// what the windows cover, and are good where every hour is.
func TestSpraySpansCoverTheWindows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		one := func(low, high float64) float64 {
			if rng.IntN(60) == 0 {
				return math.NaN()
			}
			return low + rng.Float64()*(high-low)
		}
		var d civil.Date = 739942
		hours := sprayDay(d, func(h *spray.Hour) {
			h.WindMS, h.GustMS, h.RHPct, h.TC = one(1, 4.8), one(2, 4.8), one(30, 97), one(15, 31)
			if rng.IntN(20) == 0 {
				h.RainMM = one(0, 3)
			}
		})
		limits := spray.Limits{MostWindMS: math.NaN(), RainfastH: 1}
		graded := spray.GradeHours(hours, limits)
		windows := spray.Windows(graded)
		var want, got [24]bool
		for _, w := range windows {
			for h := w.From; h < w.To; h++ {
				want[h] = true
			}
		}
		end := 0
		for _, s := range spraySpans(d, windows) {
			require.Less(t, s.from, s.to)
			require.GreaterOrEqual(t, s.from, end)
			end = s.to
			part := between(graded, d, s.from, s.to)
			require.Len(t, part, s.to-s.from)
			for _, h := range part {
				got[h.Of] = true
			}
			allGood := !slices.ContainsFunc(part, func(h spray.GradedHour) bool { return h.Grade != spray.Good })
			require.Equal(t, allGood, s.good)
		}
		require.Equal(t, want, got)
		require.Empty(t, spraySpans(d+1, windows))
	})
}

// tightHours keeps a stretch of hours on one line.
func tightHours(s string) string {
	var out []rune
	for i, r := range s {
		if r == ' ' && i > 0 && s[i-1] >= '0' && s[i-1] <= '9' && (s[i+1:i+3] == "am" || s[i+1:i+3] == "pm") {
			r = '\u00a0'
		}
		if out = append(out, r); r == '–' {
			out = append(out, '\u2060')
		}
	}
	return string(out)
}
