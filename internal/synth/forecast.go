package synth

import (
	"math"
	"math/rand/v2"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// forecastStream sets the draws of forecasts apart from those of weather.
const forecastStream = 0x8cb92ba72f3d8dd7

// Forecast returns what a forecaster might have said on the day issued about
// that day and those that follow, days in all: the truth plus an error that
// grows with the lead. Days that truth does not hold are left out. The same
// arguments give the same forecast.
//
// Own design: errors of temperature have a standard deviation of 0.8 °C on the
// first day and 0.2 °C more with each day, hang together from day to day
// (0.7) and between maximum and minimum (0.6). A wet day is missed, and a dry
// one given rain, more often with each day; amounts err by a log-normal factor
// of mean 1.
func Forecast(truth []Day, issued civil.Date, days int, seed uint64) []Day {
	g := rand.NewPCG(seed, forecastStream^uint64(issued))
	out := make([]Day, 0, days)
	var run [2]float64
	for lead := range days {
		a, b := normalPair(g)
		logFactor, _ := normalPair(g)
		u, v := uniform(g), uniform(g)
		innovation := [2]float64{a, 0.6*a + 0.8*b}
		for i := range run {
			if lead == 0 {
				run[i] = innovation[i]
			} else {
				run[i] = 0.7*run[i] + math.Sqrt(1-0.7*0.7)*innovation[i]
			}
		}
		day, ok := find(truth, issued.AddDays(lead))
		if !ok {
			continue
		}
		l := float64(lead)
		sdC := 0.8 + 0.2*l
		day.TmaxC = quantity.Tenths(day.TmaxC + sdC*run[0])
		day.TminC = quantity.Tenths(math.Min(day.TminC+sdC*run[1], day.TmaxC-MinSpreadC))
		switch {
		case day.RainMM > 0 && u < 0.02+0.04*l:
			day.RainMM = 0
		case day.RainMM > 0:
			s := 0.25 + 0.06*l
			day.RainMM = math.Max(WetMM, quantity.Tenths(day.RainMM*math.Exp(s*logFactor-s*s/2)))
		case u < 0.03+0.03*l:
			day.RainMM = quantity.Tenths(WetMM - 4*math.Log(1-v))
		}
		out = append(out, day)
	}
	return out
}

// find returns the day of a date in a run of consecutive days.
func find(days []Day, d civil.Date) (Day, bool) {
	if len(days) == 0 || d < days[0].Date || d > days[len(days)-1].Date {
		return Day{}, false
	}
	return days[d-days[0].Date], true
}
