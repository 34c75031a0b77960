package season

import (
	"compress/gzip"
	"io"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// The real stations of the tests of packages weather and pest, described there.
var (
	batonRouge   = site{"../weather/testdata/baton-rouge-la_1981-2018.csv.gz", weather.Station{ID: "baton-rouge", Name: "Baton Rouge, Louisiana", LatitudeDeg: 30.5372, LongitudeDeg: -91.1469, ElevationM: 19.5}}
	jackson      = site{"../weather/testdata/jackson-tn_1982-2018.csv.gz", weather.Station{ID: "jackson", Name: "Jackson, Tennessee", LatitudeDeg: 35.621, LongitudeDeg: -88.846, ElevationM: 122, Obs: []weather.ObsPeriod{{Time: weather.Afternoon}}}}
	norfolk      = site{"../weather/testdata/norfolk-va_1981-2018.csv.gz", weather.Station{ID: "norfolk", Name: "Norfolk, Virginia", LatitudeDeg: 36.9037, LongitudeDeg: -76.1927, ElevationM: 9, Coastal: true}}
	newBrunswick = site{"../disease/testdata/new-brunswick-nj_1984-2018.csv.gz", weather.Station{ID: "new-brunswick", Name: "New Brunswick, New Jersey", LatitudeDeg: 40.473, LongitudeDeg: -74.423, ElevationM: 26, Obs: []weather.ObsPeriod{{Time: weather.Morning}}}}
	wooster      = site{"../disease/testdata/wooster-oh_1998-2018.csv.gz", weather.Station{ID: "wooster", Name: "Wooster, Ohio", LatitudeDeg: 40.783, LongitudeDeg: -81.917, ElevationM: 311, Obs: []weather.ObsPeriod{{Time: weather.Morning}}}}
)

type site struct {
	file    string
	station weather.Station
}

func (s site) records(t testing.TB) *weather.Series {
	f, err := os.Open(s.file)
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	text, err := io.ReadAll(z)
	require.NoError(t, err)
	got, err := weather.Import(s.file, text, weather.ImportOptions{Units: weather.UnitsMetric})
	require.NoError(t, err)
	return got.Days
}

// felt is the whole record.
func (s site) felt(t testing.TB) *weather.Felt {
	days := s.records(t)
	return weather.AsOf(s.station, days, nil, days.End()+1).Felt()
}

func grass(t testing.TB, id string) *turf.Profile {
	file := "../../data/grasses/" + id + ".toml"
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	var list diag.List
	table, ok := diag.ReadTOML(file, text, &list)
	require.True(t, ok)
	p := turf.ReadProfile(id, table)
	require.NoError(t, list.Err())
	return p
}
