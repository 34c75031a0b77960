package stage

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// A year of tests begins on newYear; unless told otherwise its days have a mean
// of 15 °C and 3 mm of rain.
var newYear = civil.MustDate(2026, 1, 1)

func on(month, day int) civil.Date { return civil.MustDate(2026, month, day) }

// bounds is a clause without any of its own.
func bounds(k ClauseKind, least, most float64) Clause {
	return Clause{Kind: k, AtLeast: least, AtMost: most}
}

// stagesOf makes a timing of one stage after the other, each opened by a clause;
// degree-days are those of the average above 10 °C.
func stagesOf(clauses ...Clause) *Timing {
	nan := math.NaN()
	m := &Timing{
		Warmth: agromet.DegreeDays{Method: agromet.AverageMethod, BaseC: 10, UpperC: math.Inf(1)}, StillAtMost: nan, StillAtLeast: nan,
		Generation: nan, Start: civil.MonthDay{Month: 1, Day: 1}, Region: pest.Region{South: nan, North: nan, West: nan, East: nan}, Stages: []Stage{{ID: "0", Level: "quiet"}},
	}
	for i, c := range clauses {
		m.Stages = append(m.Stages, Stage{ID: fmt.Sprint(i + 1), Level: "watch", When: []pest.Cited[Condition]{{Value: Condition{c}}}})
	}
	return m
}

// ofTheDay makes a timing whose stage stands only on the days on which the clause
// holds.
func ofTheDay(c Clause) *Timing {
	m := stagesOf(c)
	m.Momentary = true
	return m
}

// at is the stage after the day, and "?" where it is not known.
func (t *Timing) at(m madeDays, d civil.Date) string {
	p := t.progress(m.felt(), d+1)
	if !p.Known {
		return "?"
	}
	return p.Stage.ID
}

// from makes a column one value before a day and another from it on.
func from(d civil.Date, before, after float64) func(civil.Date) float64 {
	return func(day civil.Date) float64 {
		if day < d {
			return before
		}
		return after
	}
}

// without makes a column missing from one day to another.
func without(first, last civil.Date, x float64) func(civil.Date) float64 {
	return func(day civil.Date) float64 {
		if day >= first && day <= last {
			return math.NaN()
		}
		return x
	}
}

func TestEdgesOfClauses(t *testing.T) {
	nan := math.NaN()
	plain := mild(newYear, 120)
	warming := mild(newYear, 120).each(weather.TmaxC, from(on(2, 10), 20, 40))
	coldNight := mild(newYear, 120).each(weather.TminC, func(d civil.Date) float64 {
		if d == on(2, 10) {
			return 0
		}
		return 10
	})
	noMaximum := mild(newYear, 120).each(weather.TmaxC, without(on(2, 10), on(2, 14), 20))
	noRain := mild(newYear, 120).each(weather.RainMM, without(on(2, 5), on(2, 9), 3))
	over := func(days int, c Clause) Clause { c.OverDays = days; return c }
	held := func(days int, c Clause) Clause { c.ForDays = days; return c }
	for _, c := range []struct {
		name   string
		clause Clause
		days   madeDays
		on     civil.Date
		want   string
	}{
		{"the least", bounds(AirMean, 15, nan), plain, on(2, 10), "1"},
		{"a tenth below", bounds(AirMean, 15.1, nan), plain, on(2, 10), "0"},
		{"the most", bounds(AirMean, nan, 15), plain, on(2, 10), "1"},
		{"a tenth above", bounds(AirMean, nan, 14.9), plain, on(2, 10), "0"},
		{"soil at the least", bounds(SoilMean, 14, nan), plain, on(2, 10), "1"},
		{"soil a tenth below", bounds(SoilMean, 14.1, nan), plain, on(2, 10), "0"},

		{"from its day", Clause{Kind: FromDate, Date: civil.MonthDay{Month: 2, Day: 10}}, plain, on(2, 10), "1"},
		{"the day before", Clause{Kind: FromDate, Date: civil.MonthDay{Month: 2, Day: 10}}, plain, on(2, 9), "0"},
		{"two days a degree, two degrees to the north", Clause{Kind: ArrivalDate, Date: civil.MonthDay{Month: 3, Day: 1}, AtLatitude: 32, PerDegree: 2}, plain, on(3, 5), "1"},
		{"the day before that", Clause{Kind: ArrivalDate, Date: civil.MonthDay{Month: 3, Day: 1}, AtLatitude: 32, PerDegree: 2}, plain, on(3, 4), "0"},

		{"the third warm day of three", held(3, bounds(AirMean, 25, nan)), warming, on(2, 12), "1"},
		{"the second", held(3, bounds(AirMean, 25, nan)), warming, on(2, 11), "0"},
		{"a mean over two days, both warm", over(2, bounds(AirMean, 25, nan)), warming, on(2, 11), "1"},
		{"one of them", over(2, bounds(AirMean, 25, nan)), warming, on(2, 10), "0"},
		{"one of them, half of the way", over(2, bounds(AirMean, 20, nan)), warming, on(2, 10), "1"},
		{"none of them", over(2, bounds(AirMean, 20, nan)), warming, on(2, 9), "0"},

		{"a cold night", Clause{Kind: NightLow, AtLeast: nan, AtMost: 0}, coldNight, on(2, 10), "1"},
		{"the day after", Clause{Kind: NightLow, AtLeast: nan, AtMost: 0}, coldNight, on(2, 11), "0"},
		{"two nights ahead of two", Clause{Kind: NightLow, AtLeast: nan, AtMost: 0, LeadDays: 2}, coldNight, on(2, 8), "1"},
		{"three nights ahead", Clause{Kind: NightLow, AtLeast: nan, AtMost: 0, LeadDays: 2}, coldNight, on(2, 7), "0"},

		{"a mean of five days of seven", over(7, bounds(DayMaximum, 20, nan)), noMaximum, on(2, 19), "1"},
		{"of four", over(7, bounds(DayMaximum, 20, nan)), noMaximum, on(2, 18), "?"},

		{"rain of three days", over(3, bounds(RainSum, 9, nan)), plain, on(2, 10), "1"},
		{"a tenth less", over(3, bounds(RainSum, 9.1, nan)), plain, on(2, 10), "0"},
		{"the most rain", over(3, bounds(RainSum, nan, 9)), plain, on(2, 10), "1"},
		{"a tenth more", over(3, bounds(RainSum, nan, 8.9)), plain, on(2, 10), "0"},
		{"what fell on a day is enough", over(3, bounds(RainSum, 3, nan)), noRain, on(2, 10), "1"},
		{"not enough, two days not known", over(3, bounds(RainSum, 3.1, nan)), noRain, on(2, 10), "?"},
		{"not enough, one day not known", over(3, bounds(RainSum, 9, nan)), noRain, on(2, 11), "?"},
		{"too much on one day already", over(3, bounds(RainSum, nan, 2.9)), noRain, on(2, 10), "0"},
		{"not too much yet", over(3, bounds(RainSum, nan, 3)), noRain, on(2, 10), "?"},
		{"every day known again", over(3, bounds(RainSum, 9, nan)), noRain, on(2, 12), "1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, ofTheDay(c.clause).at(c.days, c.on))
		})
	}
}

// Sums of 5 °C d a day, and what follows a stage.
func TestEdgesOfSums(t *testing.T) {
	nan := math.NaN()
	days := mild(newYear, 120)
	sum := stagesOf(bounds(ReachSum, 50, nan))
	assert.Equal(t, "0", sum.at(days, on(1, 9)))
	assert.Equal(t, "1", sum.at(days, on(1, 10)), "ten days of five")
	assert.Equal(t, "?", sum.at(mild(newYear+1, 120), on(3, 10)), "the record begins a day after the season")

	from := Clause{Kind: FromDate, Date: civil.MonthDay{Month: 2, Day: 10}}
	after := stagesOf(from, Clause{Kind: AfterStage, Stage: 1, AfterDays: 10, AtLeast: nan, AtMost: nan})
	assert.Equal(t, "1", after.at(days, on(2, 19)))
	assert.Equal(t, "2", after.at(days, on(2, 20)), "ten days after")
	after = stagesOf(from, Clause{Kind: AfterStage, Stage: 1, AtLeast: 50, AtMost: nan})
	assert.Equal(t, "1", after.at(days, on(2, 19)))
	assert.Equal(t, "2", after.at(days, on(2, 20)), "ten days of five after")
	never := stagesOf(bounds(AirMean, 30, nan), Clause{Kind: AfterStage, Stage: 1, AfterDays: 10, AtLeast: nan, AtMost: nan})
	assert.Equal(t, "0", never.at(days, on(4, 1)), "after a stage that did not begin")

	for _, c := range []struct{ most, least, want float64 }{{14.9, nan, 50}, {15, nan, 0}, {nan, 15, 0}, {nan, 15.1, 50}} {
		still := stagesOf(bounds(ReachSum, 1000, nan))
		still.StillAtMost, still.StillAtLeast = c.most, c.least
		assert.InDelta(t, c.want, still.progress(days.felt(), on(1, 11)).DegreeDaysC, 1e-9, "%+v", c)
	}
}

func TestEdgesOfSeasonsOfStages(t *testing.T) {
	nan := math.NaN()
	spring := stagesOf(bounds(DayMaximum, 30, nan))
	spring.Start = civil.MonthDay{Month: 3, Day: 1}
	assert.Equal(t, on(3, 1), spring.seasonStart(on(3, 1)))
	assert.Equal(t, civil.MustDate(2025, 3, 1), spring.seasonStart(on(2, 28)))

	// Heat of the forecast belongs to the season that it falls into.
	past := mild(civil.MustDate(2025, 1, 1), 365+55) // to 24 February
	for hot, next := range map[civil.Date]int{on(2, 28): 1, on(3, 1): 0} {
		ahead := mild(past.End()+1, 10).each(weather.TmaxC, func(d civil.Date) float64 {
			if d == hot {
				return 35
			}
			return 20
		})
		view := weather.AsOf(past.station, past.Series, []weather.Forecast{{Issued: past.End() + 1, Days: ahead.Series}}, past.End()+1)
		p := spring.progress(view.Felt(), past.End()+1)
		assert.True(t, p.Known)
		assert.Equal(t, next, p.Next, "hot on %s", hot)
	}

	dated := stagesOf(Clause{Kind: FromDate, Date: civil.MonthDay{Month: 2, Day: 1}})
	days := mild(newYear, 60)
	assert.Equal(t, "1", dated.at(days, days.End()))
	assert.Equal(t, "?", dated.at(days, days.End()+40), "a day that is not on record")
}

// Shifts and what lowers a grade.
func TestEdgesOfLevels(t *testing.T) {
	up, down := Shift{Up: true}, Shift{}
	for _, c := range []struct {
		level  string
		shifts []Shift
		want   pest.Grade
	}{
		{"quiet", nil, pest.Quiet}, {"watch", nil, pest.Watch}, {"act", nil, pest.Act},
		{"quiet", []Shift{up}, pest.Watch}, {"quiet", []Shift{up, up}, pest.Watch}, {"watch", []Shift{up}, pest.Act}, {"act", []Shift{up}, pest.Act},
		{"quiet", []Shift{down}, pest.Quiet}, {"watch", []Shift{down}, pest.Quiet}, {"act", []Shift{down, down}, pest.Watch},
		{"quiet", []Shift{up, down}, pest.Quiet}, {"watch", []Shift{down, up}, pest.Watch}, {"act", []Shift{up, down}, pest.Act},
	} {
		p := Progress{Stage: Stage{Level: c.level}, Shifts: c.shifts}
		assert.Equal(t, c.want, p.level(), "%+v", c)
	}

	crabgrass := demoWeed(t, "crabgrass")
	issue := on(3, 20)
	for daysAgo, want := range map[int]pest.Grade{14: pest.Watch, 15: pest.Act} {
		in := lawn(mild(newYear, 78), "tall-fescue", turf.CoolSeason, issue)
		in.Lawn = true
		in.Reports = []pest.Report{{Date: issue.AddDays(-300), Finding: "crabgrass"}}
		in.Treatments = []pest.Treatment{{Date: issue.AddDays(-daysAgo), Target: "crabgrass", IntervalDays: 14}}
		assert.Equal(t, want, crabgrass.Assess(in).Grade, "treated %d days ago", daysAgo)
	}
}

func TestEdgesOfCounts(t *testing.T) {
	limits := Threshold{LowPerM2: 5, HighPerM2: 10}
	for count, want := range map[float64]CountVerdict{
		0: CountLive, 4.999: CountLive, 4.9996: CountDepends, 5: CountDepends, 9.999: CountDepends, 9.9996: CountWorth, 10: CountWorth, -1: CountUnknown,
	} {
		assert.Equal(t, want, limits.Judge(count), "%g", count)
	}
}

// Samples are as wide as somebody cuts them, and at least one.
func TestEdgesOfSamples(t *testing.T) {
	for text, want := range map[string][]Samples{
		"4 squares of 6 in": {{4, "squares", 152.4}}, "3 cans of 4 in": {{3, "cans", 101.6}}, "99 plugs of 5 cm": {{99, "plugs", 50}}, "1 plugs of 100 cm": {{1, "plugs", 1000}},
		"10 plugs of 4.9 cm": nil, "10 plugs of 100.1 cm": nil, "0 plugs of 4 in": nil, "100 plugs of 4 in": nil, "4 rings of 4 in": nil, "4 squares of 6": nil,
	} {
		var list diag.List
		root, ok := diag.ReadTOML("x.toml", []byte(`samples = ["`+text+`"]`), &list)
		require.True(t, ok)
		assert.Equal(t, want, readSamples(root), text)
		assert.Equal(t, want == nil, list.Err() != nil, text)
	}
}

// While grubs hatch only a lawn that had them is told.
func TestEdgesOfStagesThatPrevent(t *testing.T) {
	grubs := demoInsect(t, "white-grubs")
	hatch := civil.MustDate(2026, 7, 20)
	days := mild(civil.MustDate(2026, 1, 1), 210)
	days.station.LatitudeDeg = 37
	days = days.each(weather.TmaxC, always(28)).each(weather.TminC, always(16))
	at := func(here bool, reports ...pest.Report) pest.Assessment {
		in := lawn(days, "tall-fescue", turf.CoolSeason, hatch)
		in.Reports, in.Lawn = reports, here
		return grubs.Assess(in)
	}
	p := grubs.ProgressAt(days.felt(), hatch)
	require.True(t, p.Stage.Prevents, p.Stage.ID)
	a := at(true)
	assert.Equal(t, pest.Quiet, a.Grade)
	assert.False(t, a.Hidden)
	for here, grade := range map[bool]pest.Grade{true: pest.Act, false: pest.Watch} {
		a = at(here, pest.Report{Date: civil.MustDate(2025, 9, 10), Finding: "white-grubs"})
		assert.Equal(t, grade, a.Grade, "found last fall; on the very lawn: %t", here)
		assert.True(t, a.Hidden, "and nothing to see yet")
	}
}

// In autumn the soil has to fall by the month.
func TestEdgesOfFallingSoil(t *testing.T) {
	poa := demoWeed(t, "annual-bluegrass")
	issue := civil.MustDate(2026, 9, 5)
	for trend, want := range map[float64]string{0.01: "summer", 0: "summer", -0.01: "late"} {
		days := mild(civil.MustDate(2026, 1, 1), 260)
		days = days.each(weather.Soil5C, func(d civil.Date) float64 { return 19 + trend*float64(d-issue) })
		assert.Equal(t, want, poa.ProgressAt(days.felt(), issue).Stage.ID, "%g °C a day", trend)
	}
}

// A stage that lasts only a while and comes again is told from when it first came in
// the season: it is asked for once.
func TestEdgesOfStagesThatComeAgain(t *testing.T) {
	wet := ofTheDay(bounds(DayMaximum, 30, math.NaN()))
	a := Account{ID: "a", Weekly: true, Timings: []Timing{*wet}, Hosts: demoWeed(t, "crabgrass").Hosts, Range: demoWeed(t, "crabgrass").Range}
	days := mild(newYear, 80).each(weather.TmaxC, func(d civil.Date) float64 {
		if d == on(2, 3) || d == on(3, 5) {
			return 35
		}
		return 20
	})
	for issue, first := range map[civil.Date]civil.Date{on(2, 4): on(2, 3), on(3, 6): on(2, 3)} {
		p := a.ProgressAt(days.felt(), issue)
		assert.Equal(t, []any{"1", issue - 1, first}, []any{p.Stage.ID, p.Since, p.First}, issue)
		assert.Equal(t, first, a.Assess(lawn(days, "tall-fescue", turf.CoolSeason, issue)).Since, issue)
	}
}
