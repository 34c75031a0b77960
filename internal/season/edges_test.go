package season

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// lawnOf is a zoysiagrass lawn as an issue sees it, from a record of smooth years
// that begins on a day: with frost from November to April, and dormant in winter.
func lawnOf(t testing.TB, first, issue civil.Date, changes ...func(*weather.Series)) *Lawn {
	t.Helper()
	days := inventedDays(first, issue, 13, 12)
	for _, change := range changes {
		change(days)
	}
	return NewRecord(weather.AsOf(inventedStation, days, nil, issue).Felt()).Lawn(grass(t, "zoysia"))
}

// hole takes all of some days away.
func hole(first civil.Date, days int) func(*weather.Series) {
	return func(s *weather.Series) {
		for i := range days {
			for c := range weather.Columns {
				s.Set(c, first.AddDays(i), math.NaN())
			}
		}
	}
}

// Ten years on file make a date usual or expected, nine do not; each with its
// whole season.
func TestEdgesOfLeastYears(t *testing.T) {
	day := civil.MustDate
	basis := func(kind EventKind, first, issue civil.Date) Basis {
		return lawnOf(t, first, issue).Event(Event{Kind: kind}, 2020).Basis
	}
	winter := day(2020, 2, 10)
	assert.Equal(t, Expected, basis(LastFrost, day(2010, 1, 1), winter), "2010 to 2019")
	assert.Equal(t, NoBasis, basis(LastFrost, day(2011, 1, 1), winter), "nine years")
	assert.Equal(t, Expected, basis(LastFrost, day(2010, 2, 10), winter), "the tenth member begins on the issue date ten years before")
	assert.Equal(t, NoBasis, basis(LastFrost, day(2010, 2, 11), winter), "and lacks a day")
	assert.Equal(t, Usual, basis(FirstFrost, day(2009, 7, 1), winter), "the autumns of 2009 to 2018")
	assert.Equal(t, NoBasis, basis(FirstFrost, day(2009, 7, 2), winter), "the first of 2009 is not on file")

	// The same of a window's usual dates, and of the growth that is ahead.
	w := window(Edge{Event{Kind: LastFrost}, 14}, on(9, 1), "05-01..08-31")
	for first, want := range map[civil.Date]bool{day(2010, 1, 1): true, day(2011, 1, 1): false} {
		l := lawnOf(t, first, winter)
		assert.Equal(t, want, l.Window(w).Usual.Opens.Basis == Usual, first)
		_, _, known := l.Usual(w).Drift()
		assert.Equal(t, want, known, first)
		_, median, _ := l.IndexAhead(winter + 30)
		assert.Equal(t, want, !math.IsNaN(median), first)
	}

	// A season of past years counts from the day after its last.
	past := func(kind EventKind, first, issue civil.Date) []int {
		s := lawnOf(t, first, issue).Event(Event{Kind: kind}, 2021).Typical
		return []int{s.Years, s.Unknown}
	}
	for kind, years := range map[EventKind]int{LastFrost: 10, FirstFrost: 9} {
		assert.Equal(t, []int{years, 0}, past(kind, day(2010, 1, 1), day(2020, 6, 30)), "%s: its season is not over", kind)
		assert.Equal(t, []int{years + 1, 0}, past(kind, day(2010, 1, 1), day(2020, 7, 1)), kind)
	}
	assert.Equal(t, []int{9, 0}, past(LastFrost, day(2010, 1, 2), day(2020, 6, 30)), "the first day of 2010 is not on file")
}

// The ensemble tells a season that has begun, or begins within 45 days.
func TestEdgesOfTheLeadOfTheEnsemble(t *testing.T) {
	basis := func(issue civil.Date) Basis {
		return lawnOf(t, civil.MustDate(2001, 1, 1), issue).Event(Event{Kind: FirstFrost}, 2020).Basis
	}
	july := civil.MustDate(2020, 7, 1)
	assert.Equal(t, Expected, basis(july-45))
	assert.Equal(t, Usual, basis(july-46))
}

// A season is over on the day after its last; a frost has happened on the day
// after its night.
func TestEdgesOfTheEndOfASeason(t *testing.T) {
	frost := Event{Kind: LastFrost}
	first := civil.MustDate(2001, 1, 1)
	// A spring is told by the ensemble to its last day, and where its end lacks too
	// many days never after.
	lacking := hole(civil.MustDate(2020, 6, 5), 12)
	late := civil.MustDate(2020, 6, 30)
	assert.NotEqual(t, NoBasis, lawnOf(t, first, late).Event(frost, 2020).Basis)
	assert.Equal(t, NoBasis, lawnOf(t, first, late+1, lacking).Event(frost, 2020).Basis)

	frosty := func(ago int) Dating {
		issue := civil.MustDate(2020, 5, 20)
		days := inventedDays(first, issue, 13, 12)
		ahead := weather.NewSeries(issue, 7)
		for i := range 7 {
			ahead.Set(weather.TmaxC, issue.AddDays(i), 22)
			ahead.Set(weather.TminC, issue.AddDays(i), 12)
		}
		if ago > 0 {
			days.Set(weather.TminC, issue.AddDays(-ago), -1)
		} else {
			ahead.Set(weather.TminC, issue.AddDays(-ago), -1)
		}
		r := NewRecord(weather.AsOf(inventedStation, days, []weather.Forecast{{Issued: issue, Days: ahead}}, issue).Felt())
		return r.Event(frost, 2020)
	}
	assert.Equal(t, Happened, frosty(1).Basis, "no year brings another")
	assert.Equal(t, Expected, frosty(0).Basis, "it is forecast for the issue date")
	assert.Equal(t, dated(civil.MustDate(2020, 5, 20)), frosty(0).When)
}

// A past year counts as a member if it reaches to the last day of the season, and
// lacks no more than ten days.
func TestEdgesOfMembers(t *testing.T) {
	issue := civil.MustDate(2020, 2, 10)
	members := func(changes ...func(*weather.Series)) int {
		return lawnOf(t, civil.MustDate(2005, 1, 1), issue, changes...).Event(Event{Kind: LastFrost}, 2020).Members.Years
	}
	assert.Equal(t, 15, members())
	scattered := func(days int) func(*weather.Series) {
		return func(s *weather.Series) { // three in a row are not filled
			for i := range days {
				hole(civil.MustDate(2012, 3, 1).AddDays(i+i/3), 1)(s)
			}
		}
	}
	assert.Equal(t, 15, members(scattered(9), hole(civil.MustDate(2012, 4, 1), 1)), "nine days, and one that is filled")
	assert.Equal(t, 14, members(scattered(12)))
	long := func(days int) int { return members(hole(civil.MustDate(2012, 5, 1), days)) }
	assert.Equal(t, 15, long(10))
	assert.Equal(t, 14, long(11))

	// A record that stopped last year is held over for ten days: to June 30, the
	// last day that the season needs, or not.
	stopped := func(end civil.Date) []int {
		days := inventedDays(civil.MustDate(2005, 1, 1), end, 13, 12)
		l := NewRecord(weather.AsOf(inventedStation, days, nil, civil.MustDate(2020, 2, 1)).Felt()).Lawn(grass(t, "zoysia"))
		s := l.Event(Event{Kind: LastFrost}, 2020).Members
		return []int{s.Years, s.Unknown}
	}
	assert.Equal(t, []int{14, 0}, stopped(civil.MustDate(2019, 6, 21)))
	assert.Equal(t, []int{13, 0}, stopped(civil.MustDate(2019, 6, 20)))
}

// Where an issue stands to a window on the days on which it opens and closes.
func TestEdgesOfPhases(t *testing.T) {
	day := civil.MustDate
	at := func(issue civil.Date, w Window) Reading { return lawnOf(t, day(2005, 1, 1), issue).Window(w) }
	spring := window(on(4, 1), on(6, 1), "")
	for _, c := range []struct {
		issue civil.Date
		phase Phase
		days  int
	}{
		{day(2020, 3, 31), Ahead, 1}, {day(2020, 4, 1), Open, 61}, {day(2020, 5, 31), Open, 1}, {day(2020, 6, 1), Ahead, 304},
	} {
		r := at(c.issue, spring)
		assert.Equal(t, c.phase, r.Phase, c.issue)
		assert.Equal(t, c.days, r.Days, c.issue)
	}
	moved := func(days int) Window { return window(on(6, 1), Edge{Event: on(8, 1).Event, OffsetDays: days}, "") }
	assert.Equal(t, NoWindow, at(day(2020, 6, 1), moved(-61)).Phase, "it closes on the day it opens")
	assert.Equal(t, Open, at(day(2020, 6, 1), moved(-60)).Phase, "it has one day")
	// A window between two days of June lies in one year, in whichever order.
	assert.Equal(t, Open, at(day(2020, 6, 20), window(on(6, 10), on(6, 30), "")).Phase)
	assert.Equal(t, Ahead, at(day(2020, 6, 20), window(on(6, 30), on(6, 10), "")).Phase)
	assert.Equal(t, Open, at(day(2020, 1, 20), window(on(7, 1), on(6, 30), "")).Phase, "from July over New Year")

	// What opens in autumn closes in the next year by a day of the first half of it.
	closeYear := func(month, d int) int {
		_, year := window(Edge{Event: Event{Kind: Dormancy}}, on(month, d), "").In(2020)
		return year
	}
	assert.Equal(t, []int{2021, 2020}, []int{closeYear(6, 30), closeYear(7, 1)})

	// What print says closes on the day after its last; what opens in autumn by the
	// weather may be printed to open in the first three months of the next year.
	short := lawnOf(t, day(2017, 1, 1), day(2020, 2, 10))
	closes := short.Instance(window(on(3, 1), Edge{Event{Kind: FirstFrost}, 0}, "03-01..09-15"), 2020).Closes
	assert.Equal(t, Printed, closes.Basis)
	assert.Equal(t, dated(day(2020, 9, 16)), closes.When)
	autumn := func(from string) civil.Date {
		return short.Instance(window(Edge{Event{Kind: FirstFrost}, 0}, Edge{Event{Kind: LastFrost}, 0}, from+"..05-30"), 2020).Opens.When.Date
	}
	assert.Equal(t, day(2021, 3, 31), autumn("03-31"))
	assert.Equal(t, day(2020, 4, 1), autumn("04-01"))

	// Where no frost comes a season closes by print; but what never comes opens
	// nothing, whatever is printed.
	warm := NewRecord(invented(day(2001, 1, 1), day(2020, 7, 10), 22, 6)).Lawn(grass(t, "zoysia"))
	assert.Equal(t, Printed, warm.Window(window(on(4, 1), Edge{Event{Kind: FirstFrost}, 0}, "04-01..09-15")).Instance.Closes.Basis)
	assert.Equal(t, NotHere, warm.Window(window(Edge{Event{Kind: LastFrost}, 0}, on(9, 1), "05-01..08-31")).Phase)

	// With few years on file and nothing printed nothing can be said while the
	// window may open, nor once it has opened while it may close.
	coldest := Event{Kind: SoilFalling, LevelC: 0} // searched from August 15 on
	last := day(2019, 8, 15).AddDays(199)
	phase := func(issue civil.Date, opens, closes Edge) Phase {
		days := inventedDays(day(2018, 1, 1), issue, 22, 6)
		if gap := day(2019, 10, 1); issue > gap.AddDays(60) {
			hole(gap, 60)(days)
		}
		return NewRecord(weather.AsOf(inventedStation, days, nil, issue).Felt()).Lawn(grass(t, "zoysia")).Window(window(opens, closes, "")).Phase
	}
	for issue, want := range map[civil.Date]Phase{day(2019, 8, 14): NotHere, day(2019, 8, 15): CannotSay, last: CannotSay} {
		assert.Equal(t, want, phase(issue, Edge{coldest, 0}, on(5, 1)), "opens by a fall that has not come, %s", issue)
	}
	for issue, want := range map[civil.Date]Phase{day(2019, 3, 24): Ahead, day(2019, 3, 25): CannotSay, day(2019, 8, 14): CannotSay, last + 10: CannotSay, last + 11: Ahead} {
		assert.Equal(t, want, phase(issue, on(3, 25), Edge{coldest, 10}), "closes ten days after a fall that has not come, %s", issue)
	}
}

// Of two bases the weaker counts.
func TestEdgesOfTheWeakerBasis(t *testing.T) {
	order := []Basis{NoBasis, Printed, Usual, Expected, Forecast, Happened, Fixed}
	for i, a := range order {
		for j, b := range order {
			assert.Equal(t, order[min(i, j)], weaker(a, b), "%s and %s", a, b)
		}
	}
	d := civil.MustDate(2021, 3, 1)
	assert.Equal(t, 182, nearest(d.AddYearDays(182), d))
	assert.Equal(t, -182, nearest(d.AddYearDays(183), d))
	assert.Equal(t, -182, nearest(d.AddYearDays(-182), d))
	assert.Equal(t, 182, nearest(d.AddYearDays(-183), d))
}

// What a rise or a fall is: three days at its level, from 31 days before its
// search on, with no more than ten days missing before it.
func TestEdgesOfRisesAndFalls(t *testing.T) {
	day, nan := civil.MustDate, math.NaN()
	start := day(2022, 10, 1)
	const days = 800
	// found looks for an event in the index and the soil of each day.
	found := func(e Event, p *turf.Profile, of func(d civil.Date) float64) string {
		track := soilTrack(start, days, func(civil.Date) float64 { return 10 })
		l := lawn{soilC: make([]float64, days), index: make([]float64, days)}
		for i := range days {
			l.index[i], l.soilC[i] = of(start.AddDays(i)), of(start.AddDays(i))
		}
		return e.find(track, l, p, 2023).String()
	}
	// steps is low but for some days.
	steps := func(low, high float64, from, to civil.Date) func(civil.Date) float64 {
		return func(d civil.Date) float64 {
			if d >= from && d <= to {
				return high
			}
			return low
		}
	}
	missing := func(of func(civil.Date) float64, first civil.Date, n int) func(civil.Date) float64 {
		return func(d civil.Date) float64 {
			if d >= first && d < first.AddDays(n) {
				return nan
			}
			return of(d)
		}
	}
	never, end := "never", day(2025, 1, 1)
	rise, fall := Event{Kind: GrowthRising, Level: 0.5}, Event{Kind: GrowthFalling, Level: 0.5}
	search := day(2023, 2, 1)
	for _, c := range []struct {
		name  string
		event Event
		of    func(civil.Date) float64
		want  string
	}{
		{"to the level", rise, steps(0.4, 0.5, day(2023, 3, 1), end), "2023-03-01"},
		{"not to it", rise, steps(0.4, 0.499, day(2023, 3, 1), end), never},
		{"for three days", rise, steps(0.4, 0.5, day(2023, 3, 1), day(2023, 3, 3)), "2023-03-01"},
		{"for two", rise, steps(0.4, 0.5, day(2023, 3, 1), day(2023, 3, 2)), never},
		{"on the last three days of the search", rise, steps(0.4, 0.5, search+197, search+199), (search + 197).String()},
		{"a day later", rise, steps(0.4, 0.5, search+198, search+200), never},
		{"below the level", fall, steps(0.6, 0.499, day(2023, 9, 1), end), "2023-09-01"},
		{"to it", fall, steps(0.6, 0.5, day(2023, 9, 1), end), never},
		{"since thirty days before the search", rise, steps(0.4, 0.5, search-30, end), (search - 30).String()},
		{"since 31 days before", rise, steps(0.4, 0.5, search-31, end), "already"},
		{"ten days missing before it", rise, missing(steps(0.4, 0.5, day(2023, 3, 1), end), day(2023, 2, 5), 10), "2023-03-01"},
		{"eleven", rise, missing(steps(0.4, 0.5, day(2023, 3, 1), end), day(2023, 2, 5), 11), "unknown"},
		{"the two days before it missing", rise, missing(steps(0.4, 0.5, day(2023, 3, 1), end), day(2023, 2, 27), 2), "2023-03-01"},
		{"the three days before it", rise, missing(steps(0.4, 0.5, day(2023, 3, 1), end), day(2023, 2, 26), 3), "unknown"},
		{"slow below 0.25", Event{Kind: Slowdown}, steps(0.6, 0.249, day(2023, 9, 1), end), "2023-09-01"},
		{"not at 0.25", Event{Kind: Slowdown}, steps(0.6, 0.25, day(2023, 9, 1), end), never},
		{"green at 0.25", Event{Kind: GreenUp}, steps(0.1, 0.25, day(2023, 3, 1), end), "2023-03-01"},
		{"not below", Event{Kind: GreenUp}, steps(0.1, 0.249, day(2023, 3, 1), end), never},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := &turf.Profile{Kind: turf.WarmSeason, SoilGreenUpC: nan}
			assert.Equal(t, c.want, found(c.event, p, c.of))
		})
	}
	soil := &turf.Profile{Kind: turf.WarmSeason, SoilGreenUpC: 18, SoilDormantC: 10}
	green := Event{Kind: GreenUp}
	assert.Equal(t, "2023-03-01", found(green, soil, steps(9, 18, day(2023, 3, 1), end)), "soil at its level")
	assert.Equal(t, never, found(green, soil, steps(9, 17.99, day(2023, 3, 1), end)))
	assert.Equal(t, "2023-03-15", found(green, soil, missing(steps(9, 18, day(2023, 3, 15), end), day(2023, 2, 5), 30)), "thirty days missing: ten, and what the model loses after them")
	assert.Equal(t, "unknown", found(green, soil, missing(steps(9, 18, day(2023, 3, 15), end), day(2023, 2, 5), 31)))
	// Cool-season grass is searched from October on, warm-season grass from
	// mid-August.
	dip := steps(0.6, 0.1, day(2023, 9, 1), day(2023, 9, 10))
	assert.Equal(t, "2023-09-01", found(Event{Kind: Slowdown}, soil, dip))
	assert.Equal(t, never, found(Event{Kind: Slowdown}, &turf.Profile{Kind: turf.CoolSeason}, dip))
}

// What puts a lawn to sleep: soil below its level, or two freezes since September
// and an index below 0.10.
func TestEdgesOfDormancy(t *testing.T) {
	day := civil.MustDate
	start := day(2022, 10, 1)
	const days = 800
	asleep := func(kind turf.Kind, soilC, index, nightC float64, freezes ...civil.Date) string {
		track := soilTrack(start, days, func(civil.Date) float64 { return 10 })
		for _, d := range freezes {
			track.nightC[int(d-start)] = nightC
		}
		l := lawn{soilC: make([]float64, days), index: make([]float64, days)}
		for i := range days {
			l.soilC[i], l.index[i] = 15, 0.5
			if start.AddDays(i) >= day(2023, 11, 1) {
				l.soilC[i], l.index[i] = soilC, index
			}
		}
		return Event{Kind: Dormancy}.find(track, l, &turf.Profile{Kind: kind, SoilDormantC: 10}, 2023).String()
	}
	two := []civil.Date{day(2023, 9, 1), day(2023, 11, 20)}
	const freezeC = -2.0 // 28 °F, rounded as the records are
	for _, c := range []struct {
		name    string
		kind    turf.Kind
		soilC   float64
		index   float64
		nightC  float64
		freezes []civil.Date
		want    string
	}{
		{"soil below its level", turf.WarmSeason, 9.99, 0.5, 0, nil, "2023-11-01"},
		{"soil at its level", turf.WarmSeason, 10, 0.5, 0, nil, "never"},
		{"two freezes since September, an index of 0.099", turf.WarmSeason, 15, 0.099, freezeC, two, "2023-11-20"},
		{"an index of 0.10", turf.WarmSeason, 15, 0.1, freezeC, two, "never"},
		{"one of them in August", turf.WarmSeason, 15, 0.099, freezeC, []civil.Date{day(2023, 8, 31), day(2023, 11, 20)}, "never"},
		{"one freeze", turf.WarmSeason, 15, 0.099, freezeC, two[1:], "never"},
		{"nights a little less cold", turf.WarmSeason, 15, 0.099, freezeC + 0.1, two, "never"},
		{"cool-season grass", turf.CoolSeason, 15, 0.099, freezeC, two, "never"},
	} {
		assert.Equal(t, c.want, asleep(c.kind, c.soilC, c.index, c.nightC, c.freezes...), c.name)
	}
}

// A sum of warmth is reached on the day on which it comes to its total.
func TestEdgesOfSums(t *testing.T) {
	start := civil.MustDate(2023, 1, 1)
	reached := func(totalC float64) string {
		track := soilTrack(start, 400, func(civil.Date) float64 { return 15 }) // 5 a day above 10 °C
		e := Event{Kind: DegreeDays, TotalC: totalC, From: civil.MonthDay{Month: 1, Day: 1}, Warmth: agromet.DegreeDays{Method: agromet.AverageMethod, BaseC: 10, UpperC: posInf}}
		return e.find(track, lawn{}, nil, 2023).String()
	}
	assert.Equal(t, "2023-01-20", reached(100))
	assert.Equal(t, "2023-01-21", reached(100.001))
	assert.Equal(t, "2023-12-31", reached(1825))
	assert.Equal(t, "never", reached(1825.001))
}

// The growth index of a week needs five days that are known.
func TestEdgesOfTheIndexOfAWeek(t *testing.T) {
	issue := civil.MustDate(2020, 7, 10)
	index := func(missing int, d civil.Date) float64 {
		start, index := lawnOf(t, civil.MustDate(2019, 1, 1), issue, hole(issue-20, missing)).Index()
		return index[int(d-start)]
	}
	assert.False(t, math.IsNaN(index(3, issue-19)), "two of three missing days are in the week: five are known")
	assert.True(t, math.IsNaN(index(3, issue-18)), "all three: four are known")
	assert.False(t, math.IsNaN(index(2, issue-18)), "two, filled")
}

// Quantiles and shares of a spread, on its days.
func TestEdgesOfSpreads(t *testing.T) {
	origin := civil.MustDate(2023, 1, 1)
	s := spreadOf(origin, false, []float64{10, 11}, 0, 0)
	assert.Equal(t, dated(origin.AddYearDays(11)), s.Median(), "half a day counts up")
	assert.Equal(t, []float64{0, 0.5, 1}, []float64{s.Before(origin + 10), s.Before(origin + 11), s.Before(origin + 12)})
	var days []float64
	for i := range 41 {
		days = append(days, float64(10*i))
	}
	from, to := spreadOf(origin, false, days[:36], 0, 0).Middle()
	// Quantiles 0.2 and 0.8 of 36 values lie at the places 7.6 and 29.4.
	assert.Equal(t, []Moment{dated(origin.AddYearDays(66)), dated(origin.AddYearDays(284))}, []Moment{from, to})
}

// Fifteen days are pooled for a normal, of each year with eight of them.
func TestEdgesOfNormals(t *testing.T) {
	first, last := civil.MustDate(2000, 12, 1), civil.MustDate(2011, 1, 31)
	july := civil.MustDate(2005, 7, 15)
	mean := func(ago int) float64 {
		col := yearly(first, last, func(d civil.Date) float64 {
			if d.Month() == 7 && d.YearPlace() == july.YearPlace()-ago {
				return 15
			}
			return 0
		})
		return NormalOn(first, col, 2001, 2010, july).Mean
	}
	assert.Equal(t, []float64{0, 1, 1, 1, 0}, []float64{mean(8), mean(7), mean(0), mean(-7), mean(-8)})
	years := func(missing int) int {
		col := yearly(first, last, func(civil.Date) float64 { return 1 })
		for year := 2001; year <= 2002; year++ {
			for i := range missing {
				col[int(civil.MustDate(year, 7, 8)+civil.Date(i+i/4)-first)] = math.NaN() // never five in a row
			}
		}
		return NormalOn(first, col, 2001, 2010, july).Years
	}
	assert.Equal(t, []int{10, 8}, []int{years(7), years(8)})
	assert.Equal(t, 0.75, StandingOf(2, []float64{1, 2}).Share(), "an equal year counts by half")
}

// What an author may write of a calendar, at its bounds.
func TestEdgesOfWhatACalendarMaySay(t *testing.T) {
	accepts := func(old, new string) bool {
		require.Contains(t, oneWindow, old)
		_, list := parseCalendars("zoysia", strings.Replace(oneWindow, old, new, 1))
		return list.Err() == nil
	}
	opens := func(event string) bool {
		return accepts(`{ event = "green-up", offset = "3 weeks" }`, "{ "+event+" }")
	}
	for days, ok := range map[int]bool{200: true, 201: false, -200: true, -201: false} {
		assert.Equal(t, ok, opens(fmt.Sprintf(`event = "green-up", offset = "%d days"`, days)), "offset %d", days)
	}
	for days, ok := range map[int]bool{0: true, 60: true, 61: false} {
		assert.Equal(t, ok, accepts(`tolerance = "3 weeks"`, fmt.Sprintf(`tolerance = "%d days"`, days)), "tolerance %d", days)
	}
	for _, c := range []struct {
		event    string // with the figure as %v
		low, top float64
		step     float64
	}{
		{`event = "first-frost", level = "%v C"`, -20, 5, 0.1},
		{`event = "soil-rising", depth = "5 cm", level = "%v C"`, 0, 35, 0.1},
		{`event = "growth-falling", level = %v`, 0.02, 0.98, 0.001},
		{`event = "day-falling", hours = "%v h"`, 4, 20, 0.1},
		{`event = "degree-days", base = "%v C", total = "100 C", from = "01-01", method = "average"`, -10, 25, 0.1},
		{`event = "degree-days", base = "10 C", total = "%v C", from = "01-01", method = "average"`, 1, 6000, 0.1},
	} {
		for x, ok := range map[float64]bool{c.low: true, c.top: true, c.low - c.step: false, c.top + c.step: false} {
			assert.Equal(t, ok, opens(fmt.Sprintf(c.event, x)), c.event, x)
		}
	}
}
