package season

import (
	"math"

	"ligule/internal/civil"
	"ligule/internal/weather"
)

var posInf = math.Inf(1)

// inventedDays is a record of smooth years from first on to the day before end:
// a yearly wave of the daily mean around meanC, °C, coldest in mid-January,
// with a swing of 5 °C a day either way. Each year is a little warmer or colder
// than the last.
func inventedDays(first, end civil.Date, meanC, waveC float64) *weather.Series {
	s := weather.NewSeries(first, int(end-first))
	for d := first; d < end; d++ {
		year := 0.7 * math.Sin(2.4*float64(d.Year()))
		c := meanC + year - waveC*math.Cos(2*math.Pi*float64(d.YearPlace()-14)/civil.YearDays)
		s.Set(weather.TmaxC, d, c+5)
		s.Set(weather.TminC, d, c-5)
		s.Set(weather.RainMM, d, 3)
	}
	return s
}

var inventedStation = weather.Station{ID: "invented", Name: "Invented", LatitudeDeg: 35, ElevationM: 100}

// invented is what an issue of the day end sees of such a record.
func invented(first, end civil.Date, meanC, waveC float64) *weather.Felt {
	return weather.AsOf(inventedStation, inventedDays(first, end, meanC, waveC), nil, end).Felt()
}
