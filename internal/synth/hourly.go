package synth

import (
	"math"
	"math/rand/v2"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

// hourlyStream sets the draws of hours apart from those of days.
const hourlyStream = 0xa0761d6478bd642f

// Place is what the hours of a day depend on besides its weather.
type Place struct {
	Site         uint64  // tells the places of one seed apart
	Shared       float64 // as in [Climate]
	LatitudeDeg  float64 // north positive
	LongitudeDeg float64 // east positive
	Coastal      bool    // windier
	UTCOffsetMin int     // what the clock of the place is ahead of UTC, min, on all of the days
}

// Deviates of a day's hours; they share the table of [Daily]'s stream.
const (
	windOfDay = iota
	cloudOfDay
	rainStart
	rainLength
)

// Hourly returns a forecast of the hours of the days that it tells about, 24
// each: their highest and lowest temperatures are those of the day, and their
// rain adds up to the day's. The same arguments give the same hours. Days must
// follow one another.
//
// Own design, plausible and no more:
//
//   - Temperature rises from the minimum at sunrise along a quarter of a sine to
//     the maximum three hours after the sun stood highest, and falls from there,
//     fast at first, to the next day's minimum. It keeps within the bounds of
//     its own day.
//   - The air holds the water of a dew point one degree below the day's
//     minimum, half a degree above it on a wet day.
//   - Rain falls in one piece, longer where there is more of it; from May to
//     September it begins in the afternoon or evening.
//   - Wind is log-normal from day to day, 1.6 times as strong in the afternoon
//     as at night, and half as strong again in gusts.
//   - A wet day has more cloud than a dry one, most where it rains.
func Hourly(days []Day, issued civil.Date, p Place, seed uint64) weather.HourlyForecast {
	f := weather.HourlyForecast{Issued: issued, Hours: make([]weather.Hour, 0, 24*len(days))}
	draws := newStream(seed^hourlyStream^uint64(issued), p.Site, p.Shared)
	unrest := rand.NewPCG(seed^uint64(issued), hourlyStream^p.Site)
	for i, day := range days {
		z := draws.day()
		sun := p.sunOn(day.Date)
		rain := rainOfHours(day, below(z[rainStart]), below(z[rainLength]))
		wind := p.windOf(z[windOfDay])
		cloud := cloudOf(day, below(z[cloudOfDay]))
		dewC := dewOf(day)
		for h := range 24 {
			// A forecast runs smoothly from hour to hour: the deviates are kept small.
			a, b := normalPair(unrest)
			tC := temperature(days, i, h, sun)
			windMS := quantity.Tenths(wind * byDay(h, sun) * math.Exp(0.06*a))
			hour := weather.Hour{
				Date: day.Date, Of: h, UTCOffsetMin: p.UTCOffsetMin, TC: tC, RainMM: rain[h],
				RHPct:  math.Round(math.Min(100, agromet.RelativeHumidityPct(tC, dewC))),
				WindMS: windMS, GustMS: quantity.Tenths(1.5 * windMS),
				CloudPct: math.Round(math.Max(0, math.Min(100, cloud+5*b))),
			}
			if hour.RainMM > 0 {
				hour.CloudPct = math.Max(hour.CloudPct, 90)
				hour.RHPct = math.Max(hour.RHPct, 92)
			}
			f.Hours = append(f.Hours, hour)
		}
	}
	return f
}

// sunHours are the full hours of the clock next to sunrise and to the warmest
// of the day.
type sunHours struct{ rise, warmest int }

func (p Place) sunOn(d civil.Date) sunHours {
	sun := agromet.SunTimes(p.LatitudeDeg, p.LongitudeDeg, d.Year(), d.YearDay())
	hour := func(utcMin float64) int { return int(math.Round((utcMin + float64(p.UTCOffsetMin)) / 60)) }
	return sunHours{rise: hour(sun.RiseUTCMin), warmest: hour(sun.NoonUTCMin + 180)}
}

// temperature returns that of an hour of the i-th day, °C, in tenths.
func temperature(days []Day, i, h int, sun sunHours) float64 {
	day := days[i]
	quarter := func(from, to int) float64 { return math.Sin(math.Pi / 2 * float64(h-from) / float64(to-from)) }
	var tC float64
	switch {
	case h < sun.rise: // the night that began on the day before
		before := days[max(0, i-1)]
		tC = before.TmaxC - (before.TmaxC-day.TminC)*quarter(sun.warmest-24, sun.rise)
	case h <= sun.warmest:
		tC = day.TminC + (day.TmaxC-day.TminC)*quarter(sun.rise, sun.warmest)
	default:
		after := days[min(len(days)-1, i+1)]
		tC = day.TmaxC - (day.TmaxC-after.TminC)*quarter(sun.warmest, sun.rise+24)
	}
	return quantity.Tenths(math.Max(day.TminC, math.Min(day.TmaxC, tC)))
}

// dewOf returns the dew point of a day, °C.
func dewOf(day Day) float64 {
	if day.RainMM > 0 {
		return day.TminC + 0.5
	}
	return day.TminC - 1
}

// windOf returns the mean wind of a night, m/s.
func (p Place) windOf(z float64) float64 {
	medianMS := 1.7
	if p.Coastal {
		medianMS = 2.3
	}
	return medianMS * math.Exp(0.4*z)
}

// byDay is how much stronger than at night the wind is in an hour.
func byDay(h int, sun sunHours) float64 {
	if h <= sun.rise || h >= sun.warmest+6 {
		return 1
	}
	return 1 + 0.6*math.Sin(math.Pi*float64(h-sun.rise)/float64(sun.warmest+6-sun.rise))
}

// cloudOf returns the mean cloud of a day, %; u is uniform in [0, 1).
func cloudOf(day Day, u float64) float64 {
	if day.RainMM > 0 {
		return 55 + 40*u
	}
	return 75 * u * u
}

// rainOfHours spreads the rain of a day over its hours, mm, in tenths that add
// up to it; u and v are uniform in [0, 1) and set when it begins and how long it
// takes.
func rainOfHours(day Day, u, v float64) (mm [24]float64) {
	total := math.Round(day.RainMM * 10) // in tenths
	if total == 0 {
		return mm
	}
	hours := 1 + int(5*v+math.Min(10, day.RainMM/2.5))
	start := int(u * float64(25-hours))
	if m := day.Date.Month(); m >= 5 && m <= 9 {
		start = 12 + int(u*8) // storms of the afternoon
	}
	start = min(start, 24-hours)
	// The middle of the rain is the heaviest; rounding what has fallen so far
	// instead of each hour keeps the sum.
	fallen := func(k int) float64 {
		x := float64(k) / float64(hours)
		return math.Round(total * (1 - math.Cos(math.Pi*x)) / 2)
	}
	for k := range hours {
		mm[start+k] = quantity.Tenths((fallen(k+1) - fallen(k)) / 10)
	}
	return mm
}
