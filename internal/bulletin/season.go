package bulletin

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// stationSeason is the year at a zone's station, as of an issue: twelve months of
// which a little is past, so that what comes next is in it.
type stationSeason struct {
	First, Last civil.Date   // the twelve months
	FirstRecord civil.Date   // the oldest day on file
	Years       int          // past years on file: of the event that most of them tell
	Members     int          // past years in the ensemble; 0 where nothing is expected by one
	Events      []datedEvent // of the place, in the order of the seasons
	Standings   []Standing
}

// Enough reports whether enough years are on file for usual and expected dates.
// Where they are not the printed calendar speaks.
func (y *stationSeason) Enough() bool { return y != nil && y.Years >= season.LeastYears }

// datedEvent is an event in the newest year that it can belong to.
type datedEvent struct {
	This season.Dating
	// Next is the year after, once This is over and what comes can be told
	// better than by what is usual; else nil.
	Next *season.Dating
}

func (e datedEvent) dates() []season.Dating {
	if e.Next == nil {
		return []season.Dating{e.This}
	}
	return []season.Dating{e.This, *e.Next}
}

// grassSeason is the year of a grass at a station.
type grassSeason struct {
	Windows []datedWindow // in the calendar's order; empty without a calendar
	Events  []datedEvent  // of the grass
	Growth  []Growth      // by week, over the twelve months
}

// datedWindow is a window of the calendar as an issue tells it, with all its
// instances with two dates that touch the months from the January before.
type datedWindow struct {
	season.Reading
	Instances []season.Instance
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

// newStationSeason makes the year of a station for the grasses of a zone.
func newStationSeason(f *weather.Felt, r *season.Record, grasses []*grassSeason) *stationSeason {
	y := &stationSeason{FirstRecord: f.Start, Standings: standings(f)}
	y.First, y.Last = yearSpan(r.Issue())
	for _, e := range placeEvents(grasses) {
		ev := yearEvent(e, r.Issue(), nil, r.Event)
		y.Events = append(y.Events, ev)
		y.see(ev.dates()...)
	}
	for _, g := range grasses {
		for _, ev := range g.Events {
			y.see(ev.dates()...)
		}
		for _, w := range g.Windows {
			y.see(w.Instance.Opens.Event, w.Instance.Closes.Event)
		}
	}
	return y
}

// see counts the years that dates rest on.
func (y *stationSeason) see(dates ...season.Dating) {
	for _, d := range dates {
		if !d.Event.Fixed() {
			y.Years = max(y.Years, d.Typical.Years)
		}
		if d.Basis == season.Expected {
			y.Members = max(y.Members, d.Members.Years)
		}
	}
}

// dayHours is the length of day at which light begins to turn: equal day and
// night.
const dayHours = 12

// placeEvents are the events that the year of a place is told by: frosts, equal
// day and night, and whatever its grasses' calendars hang on that is of no
// grass. They follow the seasons: rises before falls, low levels before high
// ones as the soil warms, and after them as it cools.
func placeEvents(grasses []*grassSeason) []season.Event {
	out := []season.Event{{Kind: season.LastFrost}, {Kind: season.FirstFrost}, {Kind: season.DayRising, Hours: dayHours}, {Kind: season.DayFalling, Hours: dayHours}}
	for _, g := range grasses {
		for _, w := range g.Windows {
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
		switch {
		case up != 0 || a.At10cm == b.At10cm:
			return up
		case b.At10cm:
			return -1
		}
		return 1
	})
	return out
}

// yearEvent dates an event in the newest season that has begun, and in the next
// one once that is over.
func yearEvent(e season.Event, issue civil.Date, p *turf.Profile, date func(season.Event, int) season.Dating) datedEvent {
	year := e.YearAt(issue, p)
	out := datedEvent{This: date(e, year)}
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

// newGrassSeason makes the year of a grass; there may be no windows.
func newGrassSeason(l *season.Lawn, issue civil.Date, windows []season.Reading) *grassSeason {
	g := &grassSeason{Growth: growth(l, issue)}
	p := l.Profile()
	for _, kind := range []season.EventKind{season.GreenUp, season.Slowdown, season.Dormancy} {
		g.Events = append(g.Events, yearEvent(season.Event{Kind: kind}, issue, p, l.Event))
	}
	from, to := civil.MustDate(issue.Year(), 1, 1), issue.AddMonths(12)
	for _, r := range windows {
		w := datedWindow{Reading: r}
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

// weekSeason is as much of the year of a grass as one week asks for.
func weekSeason(windows []season.Reading) *grassSeason {
	g := &grassSeason{}
	for _, r := range windows {
		g.Windows = append(g.Windows, datedWindow{Reading: r})
	}
	return g
}

// printedSeason is the year of a grass without weather: the windows of its
// calendar, of which only what is printed is known. There may be no calendar.
func printedSeason(c *season.Calendar) *grassSeason {
	var windows []season.Reading
	if c != nil {
		for _, w := range c.Windows {
			windows = append(windows, season.Reading{Window: w, Phase: season.CannotSay})
		}
	}
	return weekSeason(windows)
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
		g := Growth{Date: d, Low: missing, High: missing, Index: Num(at(d)), Basis: season.Happened}
		if lastYear-firstYear+1 >= season.LeastYears {
			n := season.NormalOn(start, index, firstYear, lastYear, d)
			g.Low, g.High = Num(n.Low), Num(n.High)
		}
		if d > newest {
			g.Basis = season.Forecast
			if !g.Index.Known() && d <= issue.AddDays(AheadDays) {
				_, median, _ := l.IndexAhead(d)
				g.Index, g.Basis = Num(median), season.Expected
			}
		}
		if !g.Index.Known() {
			g.Basis = season.NoBasis
		}
		g.say(d > newest)
		out = append(out, g)
	}
	return out
}

// say words a week; ahead says that it is yet to come.
func (g *Growth) say(ahead bool) {
	if g.Low.Known() {
		g.Usual = message.Say(message.Just(message.List(message.Range, indexOf(g.Low), indexOf(g.High))))
	}
	switch {
	case g.Index.Known():
		g.Now = message.Say(message.Just(indexOf(g.Index)))
	case ahead:
		g.Now = say("ribbon.ahead")
	}
	if g.Basis == season.Forecast || g.Basis == season.Expected {
		g.How = say("ribbon." + string(g.Basis))
	}
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
		s, among := Standing{Of: of}, season.Standing{Value: math.NaN()}
		if !newest.IsZero() {
			s.First, s.Last = newest.AddDays(1-days), newest
			among = season.StandingOf(make(season.Stretch(f.Start, col, s.First, s.Last)), season.SameDays(f.Start, col, s.First, s.Last, f.Start.Year(), make))
		}
		s.Value, s.Years, s.Below, s.Equal, s.Above = Num(among.Value), among.Years, among.Below, among.Equal, among.Above
		s.Says = message.Say(s.words(among.Share()))
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

// Shares of the years from which on a value is called high or low. Own design.
const (
	highShare = 0.7
	lowShare  = 0.3
)

// words say where the days stand among those of other years: share of them are
// below.
func (s Standing) words(share float64) message.Message {
	says := func(how string) message.Message {
		m := message.New("standing."+string(s.Of)+"_"+how).YearDay("date", s.Last)
		if s.Of == Rain {
			return m.Both("value", float64(s.Value), quantity.Depth, 1, 0)
		}
		return m.Both("value", float64(s.Value), quantity.Temperature, 0, 0)
	}
	how := "middle"
	switch {
	case !s.Value.Known():
		return says("unknown")
	case s.Years == 0:
		return says("none")
	case share >= highShare:
		how = "high"
	case share <= lowShare:
		how = "low"
	}
	return says(how).Count("below", s.Below).Count("above", s.Above).Count("years", s.Years)
}
