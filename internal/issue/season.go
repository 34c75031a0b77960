package issue

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Year is the year at a zone's station, as of an issue: twelve months of which
// a little is past, so that what comes next is in it.
type Year struct {
	First, Last civil.Date  // the twelve months
	FirstRecord civil.Date  // the oldest day on file
	Years       int         // past years on file: of the event that most of them tell
	Members     int         // past years in the ensemble; 0 where nothing is expected by one
	Events      []YearEvent // of the place, in the order of the seasons
	Standings   []Standing
}

// Enough reports whether enough years are on file for usual and expected dates.
// Where they are not the printed calendar speaks.
func (y *Year) Enough() bool { return y != nil && y.Years >= season.LeastYears }

// YearEvent is an event in the newest year that it can belong to.
type YearEvent struct {
	This season.Dating
	// Next is the year after, once This is over and what comes can be told
	// better than by what is usual; else nil.
	Next *season.Dating
}

// Quantity is what a standing is of.
type Quantity string

// What the days before an issue are compared by: means of temperature over a
// week, and the rain of a month.
const (
	AirTemperature  Quantity = "air"
	SoilTemperature Quantity = "soil"
	Rain            Quantity = "rain"
)

// Standing is how the days before an issue compare with the same days of the
// years before.
type Standing struct {
	Of          Quantity
	First, Last civil.Date // of the days, if known
	season.Standing
}

// GrassYear is the year of a grass in a zone.
type GrassYear struct {
	Windows []YearWindow // in the calendar's order; empty without a calendar
	Events  []YearEvent  // of the grass
	Growth  []Growth     // by week, over the twelve months
}

// YearWindow is a window of the calendar as an issue tells it, with all its
// instances with two dates that touch the months from the January before.
type YearWindow struct {
	season.Reading
	Instances []season.Instance
}

// Growth is the growth index of the week that ends with a day. NaN is missing.
type Growth struct {
	Date      civil.Date
	Low, High float64      // middle 60 % of the past years
	Index     float64      // this year's
	Basis     season.Basis // of Index: Happened, Forecast or Expected
}

const (
	// monthsBack of the twelve months lie before the month of the issue. Own
	// design.
	monthsBack = 3

	// AheadDays is how far ahead an issue looks: eight weeks.
	AheadDays = 56

	// rainDays are those over which rain is compared; standingLate is how many
	// days before the issue date the newest record may lie. Own design.
	rainDays     = 30
	standingLate = 3
)

// yearSpan is the twelve months that an issue's year shows.
func yearSpan(date civil.Date) (first, last civil.Date) {
	month := civil.MustDate(date.Year(), date.Month(), 1)
	first = month.AddMonths(-monthsBack)
	return first, first.AddMonths(12).AddDays(-1)
}

// newYear makes the year of a zone from the year of its station.
func newYear(f *weather.Felt, r *season.Record, grasses []*Grass) *Year {
	y := &Year{FirstRecord: f.Start, Standings: standings(f)}
	y.First, y.Last = yearSpan(r.Issue())
	for _, e := range placeEvents(grasses) {
		ev := yearEvent(e, r.Issue(), nil, r.Event)
		y.Events = append(y.Events, ev)
		y.seeEvent(ev)
	}
	for _, g := range grasses {
		for _, ev := range g.Year.Events {
			y.seeEvent(ev)
		}
		for _, w := range g.Year.Windows {
			y.see(w.Instance.Opens.Event)
			y.see(w.Instance.Closes.Event)
		}
	}
	return y
}

func (y *Year) seeEvent(e YearEvent) {
	y.see(e.This)
	if e.Next != nil {
		y.see(*e.Next)
	}
}

// see counts the years that a date rests on.
func (y *Year) see(d season.Dating) {
	if !d.Event.Fixed() {
		y.Years = max(y.Years, d.Typical.Years)
	}
	if d.Basis == season.Expected {
		y.Members = max(y.Members, d.Members.Years)
	}
}

// dayHours is the length of day at which light begins to turn: equal day and
// night.
const dayHours = 12

// placeEvents are the events that the year of a place is told by: frosts, equal
// day and night, and whatever its grasses' calendars hang on that is of no
// grass. They follow the seasons: rises before falls, low levels before high
// ones as the soil warms, and after them as it cools.
func placeEvents(grasses []*Grass) []season.Event {
	out := []season.Event{{Kind: season.LastFrost}, {Kind: season.FirstFrost}, {Kind: season.DayRising, Hours: dayHours}, {Kind: season.DayFalling, Hours: dayHours}}
	for _, g := range grasses {
		for _, w := range g.Year.Windows {
			for _, e := range []season.Event{w.Window.Opens.Event, w.Window.Closes.Event} {
				if !e.OfGrass() && e.Kind != season.OnDate && !slices.Contains(out, e) {
					out = append(out, e)
				}
			}
		}
	}
	order := []season.EventKind{season.LastFrost, season.SoilRising, season.DegreeDays, season.DayRising, season.DayFalling, season.SoilFalling, season.FirstFrost}
	slices.SortStableFunc(out, func(a, b season.Event) int {
		if c := cmp.Compare(slices.Index(order, a.Kind), slices.Index(order, b.Kind)); c != 0 {
			return c
		}
		up := cmp.Or(cmp.Compare(a.LevelC, b.LevelC), cmp.Compare(a.TotalC, b.TotalC))
		if a.Kind == season.SoilFalling {
			up = -up
		}
		depth := 0
		if a.At10cm != b.At10cm {
			depth = 1
			if b.At10cm {
				depth = -1
			}
		}
		return cmp.Or(up, depth)
	})
	return out
}

// yearEvent dates an event in the newest season that has begun, and in the next
// one once that is over.
func yearEvent(e season.Event, issue civil.Date, p *turf.Profile, date func(season.Event, int) season.Dating) YearEvent {
	year := e.YearAt(issue, p)
	out := YearEvent{This: date(e, year)}
	_, last := e.Season(year, p)
	over := last < issue || out.This.When.Outcome == season.Dated && out.This.When.Date < issue
	if !over {
		return out
	}
	switch next := date(e, year+1); next.Basis {
	case season.Forecast, season.Expected, season.Fixed:
		out.Next = &next
	}
	return out
}

// grassYear makes the year of a grass; calendar may be empty.
func grassYear(l *season.Lawn, issue civil.Date, windows []season.Reading) *GrassYear {
	g := &GrassYear{Growth: growth(l, issue)}
	p := l.Profile()
	for _, kind := range []season.EventKind{season.GreenUp, season.Slowdown, season.Dormancy} {
		g.Events = append(g.Events, yearEvent(season.Event{Kind: kind}, issue, p, l.Event))
	}
	from, to := civil.MustDate(issue.Year(), 1, 1), issue.AddMonths(12)
	for _, r := range windows {
		w := YearWindow{Reading: r}
		for year := issue.Year() - 1; year <= issue.Year()+1; year++ {
			in := l.Instance(r.Window, year)
			opens, closes := in.Opens.When, in.Closes.When
			if opens.Outcome == season.Dated && closes.Outcome == season.Dated && !in.Empty && closes.Date > from && opens.Date < to {
				w.Instances = append(w.Instances, in)
			}
		}
		g.Windows = append(g.Windows, w)
	}
	return g
}

// growth lists the growth index by week, with the band that is usual.
func growth(l *season.Lawn, issue civil.Date) []Growth {
	start, index := l.Index()
	at := func(d civil.Date) float64 {
		if i := int(d - start); i >= 0 && i < len(index) {
			return index[i]
		}
		return math.NaN()
	}
	firstYear, lastYear := start.Year(), issue.Year()-1
	if start > civil.MustDate(firstYear, 1, 1+weather.WindowDays) {
		firstYear++
	}
	first, last := yearSpan(issue)
	newest := issue.AddDays(-1)
	var out []Growth
	for d := newest.AddDays(-7 * (int(newest-first) / 7)); d <= last; d = d.AddDays(7) {
		g := Growth{Date: d, Low: math.NaN(), High: math.NaN(), Index: at(d), Basis: season.Happened}
		if lastYear-firstYear+1 >= season.LeastYears {
			n := season.NormalOn(start, index, firstYear, lastYear, d)
			g.Low, g.High = n.Low, n.High
		}
		if d > newest {
			g.Basis = season.Forecast
			if math.IsNaN(g.Index) && d <= issue.AddDays(AheadDays) {
				_, g.Index, _ = l.IndexAhead(d)
				g.Basis = season.Expected
			}
		}
		if math.IsNaN(g.Index) {
			g.Basis = season.NoBasis
		}
		out = append(out, g)
	}
	return out
}

// standings compares the days before an issue with the same days of the years
// on file.
func standings(f *weather.Felt) []Standing {
	v := f.View
	observed := func(c weather.Column) civil.Date {
		for d := v.IssueDate.AddDays(-1); d >= v.IssueDate.AddDays(-standingLate); d-- {
			if v.Basis(c, d) == weather.Observed {
				return d
			}
		}
		return 0
	}
	const most = weather.WindowDays - weather.WindowValid
	mean := agromet.GapRule{MostMissing: most, LongestRun: most}.Mean
	standing := func(of Quantity, newest civil.Date, col []float64, days int, make func([]float64) float64) Standing {
		s := Standing{Of: of, Standing: season.Standing{Value: math.NaN()}}
		if newest.IsZero() {
			return s
		}
		s.First, s.Last = newest.AddDays(1-days), newest
		value := make(season.Stretch(f.Start, col, s.First, s.Last))
		s.Standing = season.StandingOf(value, season.SameDays(f.Start, col, s.First, s.Last, f.Start.Year(), make))
		return s
	}
	rain := v.Days.Col(weather.RainMM)
	if rain != nil {
		// Rain that was filled in was not seen.
		rain = slices.Clone(rain)
		for i := range rain {
			if v.Basis(weather.RainMM, f.Start.AddDays(i)) == weather.Estimated {
				rain[i] = math.NaN()
			}
		}
	}
	air := observed(weather.TmaxC)
	return []Standing{
		standing(AirTemperature, air, f.TmeanC, weather.WindowDays, mean),
		standing(Rain, observed(weather.RainMM), rain, rainDays, agromet.Total),
		standing(SoilTemperature, air, f.Soil10C, weather.WindowDays, mean),
	}
}
