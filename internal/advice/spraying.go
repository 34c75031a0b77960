package advice

import (
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/spray"
	"ligule/internal/weather"
)

// sprayWeek finds the fit times of the week for a use. All that speaks of the
// same use has them from here: the days that are offered and the hours that are
// printed cannot differ.
func (in *Input) sprayWeek(l spray.Limits) spray.Week {
	l.MostWindMS, l.ElevationM = 0, 0 // no key is NaN
	w, ok := in.sprayed[l]
	if !ok {
		if in.sprayed == nil {
			in.sprayed = map[spray.Limits]spray.Week{}
		}
		asked := l
		asked.MostWindMS, asked.ElevationM = math.NaN(), in.Felt.View.Station.ElevationM
		w = spray.LookAhead(in.Hours, in.daysAhead(), in.firstDay(), in.Week.Sunday(), asked)
		in.sprayed[l] = w
	}
	return w
}

// firstDay is the first of the week's days on which a reader can follow the issue.
func (in *Input) firstDay() civil.Date { return max(in.IssueDate, in.Week.Monday()) }

// afterSunday is how many days past the week the forecast is asked for rain.
const afterSunday = 2

// daysAhead are the days of the daily forecast from the issue date on.
func (in *Input) daysAhead() (out []spray.Day) {
	for d := in.IssueDate; d <= in.Week.Sunday().AddDays(afterSunday); d++ {
		out = append(out, spray.Day{Date: d, TmaxC: in.known(weather.TmaxC, d), TminC: in.known(weather.TminC, d), RainMM: in.known(weather.RainMM, d)})
	}
	return out
}

// rainAfter returns the rain, mm, that may take a spray of the day off, and
// whether the hours of the day are known to be unfit: what falls in the hours
// that it needs dry after fit hours is too little to, and without hours the days
// that they may reach into count whole. NaN is not known.
func (in *Input) rainAfter(d civil.Date, l spray.Limits) (mm float64, noFitHours bool) {
	switch week := in.sprayWeek(l); {
	case week.Hourly && slices.Contains(week.Days, d):
		return 0, false
	case week.Hourly:
		return in.known(weather.RainMM, d), true
	}
	l.MostWindMS = math.NaN()
	mm, known := l.RainOfDays(in.daysAhead(), int(d-in.IssueDate))
	if !known && quantity.Tenths(mm) < spray.RainTakesOffMM {
		return math.NaN(), false
	}
	return mm, false
}

// sprayGate holds what is sprayed while the forecast has no fit hours, or while
// no forecast tells whether it stays dry. Hours are never made from a daily
// forecast: without an hourly one it says so.
func (in *Input) sprayGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Fungicide, Herbicide, Insecticide) || in.Felt == nil {
		return nil, nil
	}
	var l spray.Limits
	noHours := message.New("gate.spray.no_hours")
	switch {
	case d.Pest == nil:
	case d.Pest.Disease != nil:
		l = d.Pest.Disease.SprayLimits()
	case d.Pest.Insect != nil:
		for _, t := range treatmentsAt(d.Pest) {
			if t.Dry.Value > l.RainfastH && len(in.choose(t.Ingredients).Offered) > 0 {
				l.RainfastH = t.Dry.Value
			}
		}
	case d.Pest.Weed != nil:
		c := in.herbicides(d.Pest)
		// What is on leaves was judged one by one, each with its own hours.
		if l.WateredIn = c.before; !c.before {
			if len(c.usable) > 0 && c.usable[0].windows != nil {
				return nil, nil
			}
			return nil, []message.Message{noHours}
		}
	}
	as := func(m message.Message) message.Message { return m }
	week := in.sprayWeek(l)
	switch {
	case len(week.Days) > 0:
	case l.WateredIn && d.Pest.Weed != nil:
		// What is spread as granules does not drift.
		return nil, []message.Message{message.New("gate.spray.none_but_granules")}
	case week.Hourly:
		return &gated{gate: "spray", verdict: Wait, say: message.New("gate.spray.say"), reasons: []message.Message{message.New("gate.spray.none")}}, nil
	case math.IsNaN(week.RainH):
		return stopped("spray", Wait, "unknown", as)
	default:
		return stopped("spray", Wait, "wet", as)
	}
	var out []message.Message
	if !week.Hourly {
		if days := in.days(week.Days); !days.Equal(allWeek) {
			out = append(out, message.New("gate.spray.days").With("days", days))
		}
		if l.ToC > 0 && !math.IsInf(l.FromC, -1) {
			out = append(out, message.New("treat.air").Both("from", l.FromC, quantity.Temperature, 0, 0).Both("to", l.ToC, quantity.Temperature, 0, 0))
		}
		return nil, append(out, noHours)
	}
	for _, w := range bestOf(week.Windows) {
		out = append(out, message.New("gate.spray.window_"+string(w.Grade)).WeekDay("day", w.Date).With("from", message.Clock(w.From*60)).With("to", message.Clock(w.To*60)))
	}
	return nil, out
}

// maxWindows keeps the hours of a week to what a reader takes in.
const maxWindows = 4

// bestOf are the windows to print: where there are good hours, those that are just
// fit need no mention.
func bestOf(windows []spray.Window) []spray.Window {
	if good := slices.DeleteFunc(slices.Clone(windows), func(w spray.Window) bool { return w.Grade != spray.Good }); len(good) > 0 {
		windows = good
	}
	return windows[:min(len(windows), maxWindows)]
}
