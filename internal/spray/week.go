package spray

import (
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// Day is a day of a daily forecast. NaN is missing.
type Day struct {
	Date                 civil.Date
	TmaxC, TminC, RainMM float64
}

// Week is what the days of a week offer one use. Days and hours are one list:
// no day is fit that has no fit hours, where hours can be graded.
type Week struct {
	Hourly  bool         // hours could be graded, and decide
	Windows []Window     // fit hours; nil where they could not
	Days    []civil.Date // fit: those of the windows, or as far as the daily forecast can tell

	// Of the first of them, or where there is none, of what comes nearest; NaN
	// where nothing tells.
	AirC  float64 // air temperature, °C
	RainH float64 // hours until rain could take it off: 0, or infinite where it stays dry long enough
}

// LookAhead finds the fit times of the days from first to last, both inside.
// Hours that could be graded decide alone. Else a day is fit if the daily
// forecast leaves no doubt that it stays dry long enough, whenever in the day
// the spray goes out, and that it has an hour within the limits of temperature.
// Days must follow one another; those after the last tell of the rain after it.
func LookAhead(hours []Hour, days []Day, first, last civil.Date, l Limits) Week {
	w := Week{AirC: math.NaN(), RainH: math.NaN()}
	graded := GradeHours(hours, l)
	w.Windows = slices.DeleteFunc(Windows(graded), func(w Window) bool { return w.Date < first || w.Date > last })
	unknown := func(h GradedHour) bool { return h.Grade == Unknown && h.Date < last } // the last hours lack those after them
	if w.Hourly = len(w.Windows) > 0 || len(hours) > 0 && !slices.ContainsFunc(graded, unknown); w.Hourly {
		w.ofHours(graded, first)
		return w
	}
	w.Windows = nil
	best := Unknown
	for i, d := range days {
		if d.Date < first || d.Date > last {
			continue
		}
		g, airC, rainH := l.gradeDay(days, i)
		if g == Good {
			w.Days = append(w.Days, d.Date)
		}
		if rank := func(g Grade) int { return slices.Index([]Grade{Unknown, No, Good}, g) }; rank(g) > rank(best) {
			best, w.AirC, w.RainH = g, airC, rainH
		}
	}
	return w
}

// ofHours takes the days of the windows. Without any, the hour that comes nearest
// is one against which nothing but rain or temperature speaks.
func (w *Week) ofHours(graded []GradedHour, first civil.Date) {
	fit := func(h GradedHour) bool {
		return slices.ContainsFunc(w.Windows, func(w Window) bool { return w.Date == h.Date && w.From <= h.Of && h.Of < w.To })
	}
	near := func(h GradedHour) bool {
		other := func(r Reason) bool { return r.closes() && r != RainSoon && r != TooWarm && r != TooCool }
		return h.Grade == No && h.Date >= first && !slices.ContainsFunc(h.Reasons, other)
	}
	for _, win := range w.Windows {
		if !slices.Contains(w.Days, win.Date) {
			w.Days = append(w.Days, win.Date)
		}
	}
	for _, is := range []func(GradedHour) bool{fit, near} {
		if i := slices.IndexFunc(graded, is); i >= 0 {
			w.AirC, w.RainH = graded[i].TC, math.Inf(1)
			if slices.Contains(graded[i].Reasons, RainSoon) {
				w.RainH = 0
			}
			return
		}
	}
}

// lastSprayH is the hour of the day at which the last spray is out. Own design.
const lastSprayH = 20

// gradeDay grades a day by the daily forecast: good or not, or unknown. airC is
// the temperature of the day nearest to the limits.
func (l Limits) gradeDay(days []Day, i int) (g Grade, airC, rainH float64) {
	fromC, toC := l.airC()
	airC = math.Min(days[i].TmaxC, math.Max(days[i].TminC, fromC))
	rain, known := l.RainOfDays(days, i)
	rainH = math.NaN()
	switch air := quantity.Tenths(airC); {
	case air > toC || air < fromC:
		g = No
	case math.IsNaN(air) && !math.IsInf(toC, 1):
	case known:
		g = Good
	}
	switch {
	case quantity.Tenths(rain) >= RainTakesOffMM:
		return No, airC, 0
	case known:
		rainH = math.Inf(1)
	}
	return g, airC, rainH
}

// RainOfDays returns the rain, mm, of the day and of those that the hours which
// a spray of that day needs dry may reach into, and whether all of it is known:
// whatever falls in those hours is no more. What is watered in needs none.
func (l Limits) RainOfDays(days []Day, i int) (mm float64, known bool) {
	if l.WateredIn {
		return 0, true
	}
	known = true
	const dayH = 24
	for k := range int(math.Ceil((lastSprayH + l.dryH()) / dayH)) {
		if i+k >= len(days) || days[i+k].Date != days[i].Date.AddDays(k) || math.IsNaN(days[i+k].RainMM) {
			known = false
			continue
		}
		mm += days[i+k].RainMM
	}
	return mm, known
}
