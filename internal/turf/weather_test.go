package turf

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/weather"
)

// testStation stands on the coastal plain of the southeastern United States in
// form only.
var testStation = weather.Station{ID: "test", LatitudeDeg: 34, LongitudeDeg: -80, ElevationM: 50}

// day is a day of made-up weather.
type day struct{ meanC, rangeC, rainMM, cloudPct float64 }

// records makes a series of days; a NaN mean is a missing record. Cloud is
// recorded where a day has any.
func records(first civil.Date, n int, make func(i int, d civil.Date) day) *weather.Series {
	s := weather.NewSeries(first, n)
	for i := range n {
		d := first.AddDays(i)
		x := make(i, d)
		if math.IsNaN(x.meanC) {
			continue
		}
		s.Set(weather.TmaxC, d, x.meanC+x.rangeC/2)
		s.Set(weather.TminC, d, x.meanC-x.rangeC/2)
		s.Set(weather.RainMM, d, x.rainMM)
		if x.cloudPct > 0 {
			s.Set(weather.CloudPct, d, x.cloudPct)
		}
	}
	return s
}

// run carries a grass on loam through records, as the issue of the day after
// the last one sees them.
func run(tb testing.TB, p *Profile, s *weather.Series, forecasts ...weather.Forecast) (*Daily, civil.Date) {
	tb.Helper()
	issue := s.End().AddDays(1)
	return Run(p, loam(tb), weather.AsOf(testStation, s, forecasts, issue).Felt()), issue
}

func loam(tb testing.TB) Soil {
	tb.Helper()
	s, ok := SoilByID("loam")
	require.True(tb, ok)
	return s
}

func date(tb testing.TB, s string) civil.Date {
	tb.Helper()
	d, err := civil.ParseDate(s)
	require.NoError(tb, err)
	return d
}

// steady is weather that never changes: mean temperature and rain a day.
func steady(meanC, rainMM float64) func(int, civil.Date) day {
	return func(int, civil.Date) day { return day{meanC, 10, rainMM, 30} }
}

// drawYears draws weather with seasons, spells and, if asked, holes.
func drawYears(t *rapid.T, days int, holes bool) *weather.Series {
	first := civil.MustDate(2015, 1, 1).AddDays(rapid.IntRange(0, 364).Draw(t, "first day"))
	mean := rapid.Float64Range(5, 25).Draw(t, "mean")
	swing := rapid.Float64Range(0, 15).Draw(t, "swing")
	seed := rapid.Uint64().Draw(t, "seed")
	next := func() float64 { // xorshift: draws of a day each would be too many for the library
		seed ^= seed << 13
		seed ^= seed >> 7
		seed ^= seed << 17
		return float64(seed>>11) / (1 << 53)
	}
	if seed == 0 {
		seed = 1
	}
	spell := 0.0
	return records(first, days, func(_ int, d civil.Date) day {
		spell = 0.7*spell + 6*(next()-0.5)
		x := day{meanC: mean - swing*math.Cos(2*math.Pi*float64(d.YearDay()-20)/365) + spell, rangeC: 4 + 12*next()}
		if next() < 0.3 {
			x.rainMM = 40 * next() * next()
		}
		if holes && next() < 0.05 {
			x.meanC = math.NaN()
		}
		return x
	})
}
