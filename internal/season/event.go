package season

import (
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/turf"
)

// EventKind is what happens.
type EventKind string

// The kinds of event.
const (
	LastFrost     EventKind = "last-frost"     // the last night of spring at or below Level
	FirstFrost    EventKind = "first-frost"    // the first night of autumn at or below Level
	SoilRising    EventKind = "soil-rising"    // the soil warms to Level
	SoilFalling   EventKind = "soil-falling"   // the soil cools to Level
	GrowthRising  EventKind = "growth-rising"  // the growth index rises to Level
	GrowthFalling EventKind = "growth-falling" // it falls below Level
	GreenUp       EventKind = "green-up"       // of the grass
	Slowdown      EventKind = "slowdown"       // of the grass
	Dormancy      EventKind = "dormancy"       // of the grass
	DegreeDays    EventKind = "degree-days"    // a sum of warmth reaches Total
	DayRising     EventKind = "day-rising"     // days lengthen to Hours
	DayFalling    EventKind = "day-falling"    // days shorten to Hours
	OnDate        EventKind = "date"           // a fixed day
)

// EventKinds lists the kinds as files name them.
func EventKinds() []string {
	return words(LastFrost, FirstFrost, SoilRising, SoilFalling, GrowthRising, GrowthFalling, GreenUp, Slowdown, Dormancy,
		DegreeDays, DayRising, DayFalling, OnDate)
}

// Event is a kind with what it needs; what it does not need is zero. Two
// events that are equal are the same event.
type Event struct {
	Kind   EventKind
	LevelC float64            // frosts and soil, °C
	At10cm bool               // the soil at 10 cm, else at 5 cm
	Level  float64            // growth index, 0 to 1
	Hours  float64            // day length, h
	Warmth agromet.DegreeDays // degree-days, °C d
	TotalC float64            // degree-days, °C d
	From   civil.MonthDay     // start of the sum, or of the search for a rise or a fall; zero: the usual one
	On     civil.MonthDay     // the fixed day
}

// FreezeC is the level of a frost unless an event gives another: 32 °F.
const FreezeC = 0.0

// OfGrass reports whether the event is one of a grass, and not of the place
// alone.
func (e Event) OfGrass() bool {
	return slices.Contains([]EventKind{GrowthRising, GrowthFalling, GreenUp, Slowdown, Dormancy}, e.Kind)
}

// Fixed reports whether the event has its date from the calendar or the sun,
// whatever the weather.
func (e Event) Fixed() bool {
	return e.Kind == OnDate || e.Kind == DayRising || e.Kind == DayFalling
}

// spring reports whether the event belongs to the first half of the year.
func (e Event) spring() bool {
	switch e.Kind {
	case LastFrost, SoilRising, GrowthRising, GreenUp, DayRising, DegreeDays:
		return e.From == (civil.MonthDay{}) || e.From.Month <= 6
	case OnDate:
		return e.On.Month <= 6
	}
	return e.From != (civil.MonthDay{}) && e.From.Month <= 6
}

// lookBackDays: a rise or a fall that holds when the search begins has begun
// fewer days than these before it. Own design.
const lookBackDays = 31

// searchDays is how long a rise or a fall is searched for. Own design.
const searchDays = 200

// The starts of the search for rises and falls. In late winter a warm spell
// that is over before February counts as no spring, and in summer a cool one
// before mid-August as no autumn; so with the soil seasons of diseases and
// weeds. Own design.
var (
	springSearch     = civil.MonthDay{Month: 2, Day: 1}
	autumnSearch     = civil.MonthDay{Month: 8, Day: 15}
	coolAutumnSearch = civil.MonthDay{Month: 10, Day: 1} // of grasses that rest in the heat too
)

// guard returns the month-day on which the search of a year begins.
func (e Event) guard(p *turf.Profile) civil.MonthDay {
	switch {
	case e.From != (civil.MonthDay{}):
		return e.From
	case e.Kind == LastFrost || e.Kind == DegreeDays:
		return civil.MonthDay{Month: 1, Day: 1}
	case e.Kind == FirstFrost:
		return civil.MonthDay{Month: 7, Day: 1}
	case e.Kind == DayRising:
		return civil.MonthDay{Month: 12, Day: 21}
	case e.Kind == DayFalling:
		return civil.MonthDay{Month: 6, Day: 21}
	case e.Kind == OnDate:
		return e.On
	case e.spring():
		return springSearch
	case p != nil && p.Kind == turf.CoolSeason && e.OfGrass():
		return coolAutumnSearch
	}
	return autumnSearch
}

// Season returns the first and the last day of the search for the event of a
// year. p is nil for an event of no grass.
//
//   - Last frost: 1 January to 30 June; first frost: 1 July to 30 June.
//   - Rises and falls of soil and growth, green-up, slowdown and dormancy: from
//     their start, 1 February and 15 August unless the event gives another (1
//     October for the growth of a cool-season grass), for 200 days. What
//     already holds at the start counts from the day that it began, up to 30
//     days before; earlier than that it is [Already].
//   - Degree-days: a year from their start, 1 January unless given.
//   - Day length: from the solstice before to the next; the rise of 2024 begins
//     in December 2023.
func (e Event) Season(year int, p *turf.Profile) (first, last civil.Date) {
	first = e.guard(p).StartIn(year)
	switch e.Kind {
	case LastFrost:
		return first, civil.MustDate(year, 6, 30)
	case FirstFrost:
		return first, civil.MustDate(year+1, 6, 30)
	case DegreeDays:
		return first, first.AddMonths(12).AddDays(-1)
	case DayRising:
		return civil.MustDate(year-1, 12, 21), civil.MustDate(year, 6, 21)
	case DayFalling:
		return first, civil.MustDate(year, 12, 21)
	case OnDate:
		return first, first
	}
	return first, first.AddDays(searchDays - 1)
}

// YearAt returns the year whose season of the event holds the day, or is the
// last that began before it.
func (e Event) YearAt(d civil.Date, p *turf.Profile) int {
	year := d.Year() + 1
	for {
		if first, _ := e.Season(year, p); first <= d {
			return year
		}
		year--
	}
}

// noneIsEarly: a spring without a frost is as one whose last frost was early.
func (e Event) noneIsEarly() bool { return e.Kind == LastFrost }
