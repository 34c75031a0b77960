package synth

import (
	"ligule/internal/civil"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

// The demonstration region: an invented place under generated weather. These
// tables are all that is particular to it; the files of data/weather follow
// from them.

const regionSeed = 24045

var (
	regionFirst = civil.MustDate(2015, 1, 1)   // ten full years before every issue of 2026
	regionLast  = civil.MustDate(2026, 11, 27) // the day before the last one that would open week 49
	regionTruth = civil.MustDate(2026, 12, 6)  // what the last forecast speaks of
)

// issueDates are the Sundays on which the four demonstration issues close.
var issueDates = []civil.Date{
	civil.MustDate(2026, 4, 12),
	civil.MustDate(2026, 7, 12),
	civil.MustDate(2026, 9, 13),
	civil.MustDate(2026, 11, 22),
}

// forecastIssues are the Sundays of all weeks that are printed or tested: each has
// a daily and an hourly forecast, with what the clock of the region is ahead of
// UTC then. All other weeks show how one without reads.
var forecastIssues = []struct {
	date         civil.Date
	utcOffsetMin int
}{
	{civil.MustDate(2026, 1, 25), -5 * 60},
	{civil.MustDate(2026, 3, 22), -4 * 60},
	{civil.MustDate(2026, 4, 12), -4 * 60},
	{civil.MustDate(2026, 4, 26), -4 * 60},
	{civil.MustDate(2026, 5, 24), -4 * 60},
	{civil.MustDate(2026, 7, 12), -4 * 60},
	{civil.MustDate(2026, 8, 9), -4 * 60},
	{civil.MustDate(2026, 9, 13), -4 * 60},
	{civil.MustDate(2026, 9, 27), -4 * 60},
	{civil.MustDate(2026, 11, 8), -5 * 60},
	{civil.MustDate(2026, 11, 22), -5 * 60},
}

// forecastDays reach from the issue date, a Sunday, over the week it opens.
const forecastDays = 8

type station struct {
	id         string
	latitude   float64 // degrees north
	longitude  float64 // degrees east
	elevationM float64
	coastal    bool
	morning    func(civil.Date) bool
	humid      bool // it measures humidity
	gaps       []gap
}

// gap is a run of days on which a station wrote nothing down. Days of an empty
// line were sent in blank; of an absent one, never.
type gap struct {
	first, last civil.Date
	absent      bool
}

func never(civil.Date) bool  { return false }
func always(civil.Date) bool { return true }

var stations = []station{
	{id: "gannet-light", latitude: 33.4, longitude: -78.2, elevationM: 4, coastal: true, morning: never, humid: true},
	{id: "ellerwade-lock", latitude: 34.2, longitude: -78.9, elevationM: 12, morning: always, gaps: []gap{
		// The lock keeper was away: the September issue has too little to go on.
		{first: civil.MustDate(2026, 9, 8), last: civil.MustDate(2026, 9, 10)},
	}},
	{id: "sabrey-field", latitude: 34.9, longitude: -79.7, elevationM: 125, morning: never, gaps: []gap{
		{first: civil.MustDate(2018, 2, 11), last: civil.MustDate(2018, 2, 11)},
		{first: civil.MustDate(2020, 6, 19), last: civil.MustDate(2020, 6, 20)},
		{first: civil.MustDate(2022, 10, 3), last: civil.MustDate(2022, 10, 3)},
		{first: civil.MustDate(2023, 3, 14), last: civil.MustDate(2023, 3, 19), absent: true},
		{first: civil.MustDate(2024, 7, 27), last: civil.MustDate(2024, 7, 28)},
	}},
	{id: "redfallow-farm", latitude: 35.5, longitude: -80.3, elevationM: 210, morning: func(d civil.Date) bool {
		return d < civil.MustDate(2021, 5, 1)
	}},
	{id: "larkenhold-mill", latitude: 35.9, longitude: -81.2, elevationM: 360, morning: never, humid: true},
	{id: "brackmoor-knob", latitude: 36.3, longitude: -81.8, elevationM: 969, morning: never},
}

// A planting puts a rain where the story of an issue needs one, in the weather
// and in the forecast of the Sunday before.
type planting struct {
	station            string
	date               civil.Date
	fellMM, forecastMM float64
}

// The remnant of an invented tropical storm passes in the week of the September
// issue: over two inches forecast at the shore, between one and two inland.
var plantings = []planting{
	{"gannet-light", civil.MustDate(2026, 9, 16), 71.4, 64.0},
	{"gannet-light", civil.MustDate(2026, 9, 17), 12.7, 8.0},
	{"ellerwade-lock", civil.MustDate(2026, 9, 16), 44.2, 41.0},
	{"sabrey-field", civil.MustDate(2026, 9, 16), 27.9, 31.0},
	{"redfallow-farm", civil.MustDate(2026, 9, 16), 22.1, 29.0},
	{"larkenhold-mill", civil.MustDate(2026, 9, 16), 9.4, 12.0},
	{"brackmoor-knob", civil.MustDate(2026, 9, 16), 7.1, 9.0},
}

// Behind the remnant the air is cooler for some days, all over the region.
var (
	coolFirst = civil.MustDate(2026, 9, 16)
	coolLast  = civil.MustDate(2026, 9, 20)
)

const (
	coolMaxC = 5.0 // taken off the maximum
	coolMinC = 2.5 // and off the minimum
)

// truth returns the weather of a station, midnight to midnight.
func (s station) truth(seed uint64) []Day {
	c := Atlantic(s.latitude, s.elevationM, s.coastal)
	c.Site = s.site()
	days := Daily(c, seed, regionFirst-1, regionTruth)
	for _, p := range plantings {
		if p.station == s.id {
			days[p.date-days[0].Date].RainMM = p.fellMM
		}
	}
	for d := coolFirst; d <= coolLast; d++ {
		day := &days[d-days[0].Date]
		day.TmaxC, day.TminC = quantity.Tenths(day.TmaxC-coolMaxC), quantity.Tenths(day.TminC-coolMinC)
	}
	return days
}

// site returns the number that tells the station apart from the others.
func (s station) site() uint64 {
	for i := range stations {
		if stations[i].id == s.id {
			return uint64(i + 1)
		}
	}
	panic("no such station: " + s.id)
}

// daily returns the station's file of observations.
func (s station) daily(seed uint64) []byte {
	records := Records(s.truth(seed), regionFirst, regionLast, s.morning)
	kept := records[:0]
	for _, r := range records {
		g, ok := s.gapOn(r.Date)
		if ok && g.absent {
			continue
		}
		if ok {
			r = missing(r.Date)
		}
		kept = append(kept, r)
	}
	file := CSV(kept)
	if !s.humid {
		return file
	}
	days := s.truth(seed)
	return withHumidity(file, days, humidities(days, seed, s.site()))
}

func (s station) gapOn(d civil.Date) (gap, bool) {
	for _, g := range s.gaps {
		if g.first <= d && d <= g.last {
			return g, true
		}
	}
	return gap{}, false
}

// forecast returns the station's forecast file of an issue date.
func (s station) forecast(seed uint64, issued civil.Date) []byte {
	return CSV(Records(s.foretold(seed, issued), issued, issued.AddDays(forecastDays-1), never))
}

// foretold returns the days that the station's forecast of an issue date tells
// about.
func (s station) foretold(seed uint64, issued civil.Date) []Day {
	days := Forecast(s.truth(seed), issued, forecastDays, seed<<8|s.site())
	for _, p := range plantings {
		if p.station == s.id && p.date >= issued && p.date < issued.AddDays(forecastDays) {
			days[p.date-issued].RainMM = p.forecastMM
		}
	}
	return days
}

// hourly returns the hours of the same days.
func (s station) hourly(seed uint64, issued civil.Date, utcOffsetMin int) weather.HourlyForecast {
	return Hourly(s.foretold(seed, issued), issued, Place{
		Site: s.site(), Shared: 0.8, LatitudeDeg: s.latitude, LongitudeDeg: s.longitude, Coastal: s.coastal, UTCOffsetMin: utcOffsetMin,
	}, seed)
}
