package spray

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"ligule/internal/civil"
)

var monday = civil.MustDate(2026, 5, 11)

// aWeek is nine days of a daily forecast from Monday on, dry and mild, as a case
// changes them.
func aWeek(change func(days []Day)) []Day {
	var out []Day
	for i := range 9 {
		out = append(out, Day{monday.AddDays(i), 26, 14, 0})
	}
	change(out)
	return out
}

func ahead(hours []Hour, days []Day, l Limits) Week {
	l.MostWindMS = math.NaN()
	return LookAhead(hours, days, monday, monday.AddDays(6), l)
}

// offered are the days by their number in the week, Monday 1.
func (w Week) offered() (out []int) {
	for _, d := range w.Days {
		out = append(out, int(d-monday)+1)
	}
	return out
}

// A day of a daily forecast is fit if whatever may fall in the hours that a
// spray needs dry, out by eight in the evening, is too little to take it off.
func TestEdgesOfDryDays(t *testing.T) {
	all := []int{1, 2, 3, 4, 5, 6, 7}
	rain := func(mm float64, days ...int) func([]Day) {
		return func(list []Day) {
			for _, d := range days {
				list[d-1].RainMM = mm
			}
		}
	}
	for _, c := range []struct {
		name   string
		needH  float64
		change func([]Day)
		want   []int
	}{
		{"dry", 6, func([]Day) {}, all},
		{"what takes it off on Wednesday, four hours needed", 4, rain(2.46, 3), []int{1, 2, 4, 5, 6, 7}},
		{"a tenth less", 4, rain(2.44, 3), all},
		{"five hours reach into the next day", 5, rain(2.5, 3), []int{1, 4, 5, 6, 7}},
		{"28 hours as well", 28, rain(2.5, 3), []int{1, 4, 5, 6, 7}},
		{"29 reach into the one after", 29, rain(2.5, 3), []int{4, 5, 6, 7}},
		{"two days that bring it together", 24, rain(1.3, 3, 4), []int{1, 2, 4, 5, 6, 7}},
		{"the label silent: four", math.NaN(), rain(2.5, 3), []int{1, 2, 4, 5, 6, 7}},
		{"Sunday before a wet Monday", 6, rain(9, 8), []int{1, 2, 3, 4, 5, 6}},
		{"not known on Wednesday", 4, rain(math.NaN(), 3), []int{1, 2, 4, 5, 6, 7}},
		{"not known on Wednesday, asked on Tuesday", 6, rain(math.NaN(), 3), []int{1, 4, 5, 6, 7}},
		{"nothing known", 4, rain(math.NaN(), all...), nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := ahead(nil, aWeek(c.change), Limits{RainfastH: c.needH})
			assert.Equal(t, c.want, got.offered())
			assert.False(t, got.Hourly)
			assert.Nil(t, got.Windows)
		})
	}
	wet := aWeek(rain(30, all...))
	assert.Equal(t, all, ahead(nil, wet, Limits{WateredIn: true}).offered(), "what is watered in may get wet")
	assert.Equal(t, all, ahead(nil, aWeek(rain(math.NaN(), all...)), Limits{WateredIn: true}).offered(), "whatever the rain")
	assert.Empty(t, ahead(nil, wet[:7:7], Limits{}).Days)
	assert.InDelta(t, 0, ahead(nil, wet, Limits{}).RainH, 0)
	assert.True(t, math.IsInf(ahead(nil, aWeek(func([]Day) {}), Limits{}).RainH, 1))
	assert.True(t, math.IsNaN(ahead(nil, nil, Limits{}).RainH))
	assert.True(t, math.IsNaN(ahead(nil, nil, Limits{}).AirC))
	before := append([]Day{{monday.AddDays(-1), 26, 14, 0}}, aWeek(func([]Day) {})...)
	assert.Equal(t, all, ahead(nil, before, Limits{}).offered(), "not the day of issue")
}

// A day is fit if it has an hour within the limits of temperature: its lowest is
// not above, its highest not below them.
func TestEdgesOfDaysByTemperature(t *testing.T) {
	limits := Limits{FromC: 16, ToC: 29}
	for _, c := range []struct {
		name       string
		tmax, tmin float64
		fit        bool
		airC       float64
	}{
		{"all day within", 28, 17, true, 17},
		{"hot at noon", 36, 22, true, 22},
		{"cool at night", 24, 5, true, 16},
		{"a night at the limit", 38, 29.04, true, 29.04},
		{"a tenth warmer", 38, 29.06, false, 29.06},
		{"a noon at the limit", 15.96, 3, true, 15.96},
		{"a tenth cooler", 15.94, 3, false, 15.94},
		{"the highest not known", math.NaN(), 20, false, math.NaN()},
		{"the lowest not known", 24, math.NaN(), false, math.NaN()},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := ahead(nil, []Day{{monday, c.tmax, c.tmin, 0}}, limits)
			assert.Equal(t, c.fit, len(got.Days) == 1)
			if math.IsNaN(c.airC) {
				assert.True(t, math.IsNaN(got.AirC))
			} else {
				assert.InDelta(t, c.airC, got.AirC, 1e-9)
			}
		})
	}
	assert.Len(t, ahead(nil, []Day{{monday, math.NaN(), math.NaN(), 0}}, Limits{}).Days, 1, "no limits ask for no temperature")
	cold := Limits{FromC: math.Inf(-1), ToC: 29}
	assert.Len(t, ahead(nil, []Day{{monday, 4, -3, 0}}, cold).Days, 1, "an upper limit alone")
	assert.Empty(t, ahead(nil, []Day{{monday, 40, 30, 0}}, cold).Days)
}

// hourly is fit hours of the days by their number, as a case changes them.
func hourly(change func(h *Hour), days ...int) (out []Hour) {
	for _, n := range days {
		out = append(out, aDay(func(h *Hour) {
			h.Date = monday.AddDays(n - 1)
			change(h)
		})...)
	}
	return out
}

// Hours that could be graded decide, whatever the days look like.
func TestEdgesOfAWeekByHours(t *testing.T) {
	dry, limited := aWeek(func([]Day) {}), Limits{FromC: 16, ToC: 29}
	windy := func(h *Hour) { h.WindMS = 20 }
	for _, c := range []struct {
		name   string
		hours  []Hour
		hourly bool
		want   []int
	}{
		{"two fit days", hourly(func(*Hour) {}, 2, 3), true, []int{2, 3}},
		{"the day of issue does not count", hourly(func(*Hour) {}, 0, 3), true, []int{3}},
		{"wind all day", hourly(windy, 2), true, nil},
		{"wind not known: the days decide", hourly(func(h *Hour) { h.WindMS = math.NaN() }, 2), false, []int{1, 2, 3, 4, 5, 6, 7}},
		{"wind not known on the last day alone", append(hourly(windy, 2), hourly(func(h *Hour) { h.WindMS = math.NaN() }, 7)...), true, nil},
		{"29.0 °C", hourly(func(h *Hour) { h.TC = 29.04 }, 2), true, []int{2}},
		{"29.1 °C", hourly(func(h *Hour) { h.TC = 29.06 }, 2), true, nil},
		{"16.0 °C", hourly(func(h *Hour) { h.TC = 15.96 }, 2), true, []int{2}},
		{"15.9 °C", hourly(func(h *Hour) { h.TC = 15.94 }, 2), true, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := ahead(c.hours, dry, limited)
			assert.Equal(t, c.hourly, got.Hourly)
			assert.Equal(t, c.want, got.offered())
		})
	}
	// What comes nearest where nothing is fit.
	warm := ahead(hourly(func(h *Hour) { h.TC = 31 }, 2), dry, limited)
	assert.InDelta(t, 31, warm.AirC, 0)
	assert.True(t, math.IsInf(warm.RainH, 1))
	wet := ahead(hourly(func(h *Hour) {
		if h.Of%2 == 0 {
			h.RainMM = 3
		}
	}, 2), dry, limited)
	assert.Empty(t, wet.Days)
	assert.InDelta(t, 0, wet.RainH, 0, "between two showers")
	blown := ahead(hourly(windy, 2), dry, limited)
	assert.True(t, math.IsNaN(blown.AirC), "neither rain nor temperature is at fault")
}

// Every day that is offered by hours has a window, and every window its day; a
// day offered without hours has no rain that is known to take it off.
func TestDaysAndHoursAreOneList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := aWeek(func(days []Day) {
			for i := range days {
				days[i].RainMM = max(0, rapid.Float64Range(-5, 8).Draw(t, "rain"))
				days[i].TmaxC = rapid.Float64Range(15, 40).Draw(t, "high")
			}
		})
		var hours []Hour
		for n := range rapid.IntRange(0, 7).Draw(t, "days") {
			hours = append(hours, hourly(func(h *Hour) {
				h.TC = rapid.Float64Range(10, 35).Draw(t, "t")
				h.WindMS = rapid.Float64Range(0, 6).Draw(t, "wind")
				h.RainMM = max(0, rapid.Float64Range(-9, 3).Draw(t, "mm"))
			}, n+1)...)
		}
		l := Limits{RainfastH: rapid.Float64Range(0, 30).Draw(t, "need"), FromC: 16, ToC: 29}
		w := ahead(hours, days, l)
		if !w.Hourly {
			assert.Empty(t, w.Windows)
			for _, d := range w.Days {
				assert.Less(t, days[d-monday].RainMM, RainTakesOffMM+.05)
			}
			return
		}
		of := map[civil.Date]bool{}
		for _, win := range w.Windows {
			of[win.Date] = true
		}
		assert.Len(t, w.Days, len(of))
		for _, d := range w.Days {
			assert.True(t, of[d])
		}
	})
}
