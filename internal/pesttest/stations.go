// Package pesttest holds grades of pests over years at real stations against the
// months that publications print. The tests of packages disease and stage read it.
package pesttest

import (
	"compress/gzip"
	"io"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/weather"
)

// Station is a real station, described in the testdata of package weather, with
// some grasses of its region.
type Station struct {
	ID, File string
	Place    weather.Station
	From, To int // years
	Grasses  []string
}

// Stations lists those that grades over years are tried at.
func Stations() []Station {
	at := func(lat, lon, elevationM float64, read weather.ObsTime) weather.Station {
		return weather.Station{LatitudeDeg: lat, LongitudeDeg: lon, ElevationM: elevationM, Obs: []weather.ObsPeriod{{Time: read}}}
	}
	const (
		blue, rye, fescue      = "kentucky-bluegrass", "perennial-ryegrass", "tall-fescue"
		bermuda, zoysia        = "bermuda", "zoysia"
		augustine, centipede   = "st-augustine", "centipede"
		morning, late, midNite = weather.Morning, weather.Afternoon, weather.Midnight
	)
	return []Station{
		{"ithaca-ny", "ithaca-ny_1998-2007", at(42.449, -76.449, 293, morning), 1998, 2007, []string{blue, rye}},
		{"new-brunswick-nj", "new-brunswick-nj_2014-2018", at(40.473, -74.423, 26, morning), 2014, 2018, []string{blue, rye}},
		{"laurel-md", "laurel-md_1993-2002", at(39.085, -76.9, 122, morning), 1993, 2002, []string{blue, rye, fescue}},
		{"norfolk-va", "norfolk-va_1981-2018", at(36.9037, -76.1927, 9, midNite), 2008, 2017, []string{bermuda, fescue, zoysia}},
		{"seward-ne", "seward-ne_1983-1992", at(40.899, -97.091, 440, late), 1983, 1992, []string{blue, fescue, zoysia}},
		{"kingfisher-ok", "kingfisher-ok_1983-1992", at(35.858, -97.929, 322, late), 1983, 1992, []string{bermuda, zoysia}},
		{"jackson-tn", "jackson-tn_1982-2018", at(35.621, -88.846, 122, late), 2008, 2017, []string{bermuda, blue, fescue}},
		{"monroe-nc", "monroe-nc_1987-1996", at(34.98, -80.523, 177, late), 1987, 1996, []string{bermuda, centipede, fescue, zoysia}},
		{"toccoa-ga", "toccoa-ga_2008-2017", at(34.58, -83.33, 309, morning), 2008, 2017, []string{bermuda, centipede, zoysia}},
		{"baton-rouge-la", "baton-rouge-la_1981-2018", at(30.5372, -91.1469, 19.5, midNite), 2008, 2017, []string{bermuda, centipede, augustine}},
		{"liberty-tx", "liberty-tx_2008-2017", at(30.059, -94.795, 11, morning), 2008, 2017, []string{bermuda, augustine}},
		{"everglades-fl", "everglades-fl_2006-2015", at(25.849, -81.39, 2, morning), 2006, 2015, []string{bermuda, augustine}},
	}
}

// Records reads all days of a real station from the testdata of package weather.
func Records(t testing.TB, file string) *weather.Series {
	t.Helper()
	f, err := os.Open("../weather/testdata/" + file)
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	text, err := io.ReadAll(z)
	require.NoError(t, err)
	got, err := weather.Import(file, text, weather.ImportOptions{Units: weather.UnitsMetric})
	require.NoError(t, err)
	return got.Days
}

// Felt is the weather of its years.
func (s *Station) Felt(t testing.TB) *weather.Felt {
	t.Helper()
	days := Records(t, s.File+".csv.gz")
	first, last := civil.MustDate(s.From, 1, 1), min(civil.MustDate(s.To, 12, 31), days.End())
	years := weather.NewSeries(first, int(last-first)+1)
	for _, c := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM, weather.SnowDepthMM} {
		for d := first; d <= last; d++ {
			years.Set(c, d, days.At(c, d))
		}
	}
	place := s.Place
	place.ID = s.ID
	return weather.AsOf(place, years, nil, last+1).Felt()
}
