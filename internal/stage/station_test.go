package stage

import (
	"testing"

	"ligule/internal/pesttest"
	"ligule/internal/weather"
)

// The real stations of package weather's tests, described there.
func realStation(t testing.TB, file string, st weather.Station) *weather.Felt {
	days := pesttest.Records(t, file)
	return weather.AsOf(st, days, nil, days.End()+1).Felt()
}

func norfolk(t testing.TB) *weather.Felt {
	return realStation(t, "norfolk-va_1981-2018.csv.gz", weather.Station{ID: "norfolk", Name: "Norfolk, Virginia", LatitudeDeg: 36.9037, LongitudeDeg: -76.1927, ElevationM: 9})
}

func batonRouge(t testing.TB) *weather.Felt {
	return realStation(t, "baton-rouge-la_1981-2018.csv.gz", weather.Station{ID: "baton-rouge", Name: "Baton Rouge, Louisiana", LatitudeDeg: 30.5372, LongitudeDeg: -91.1469, ElevationM: 19.5})
}

func newBrunswick(t testing.TB) *weather.Felt {
	return realStation(t, "new-brunswick-nj_2014-2018.csv.gz", weather.Station{ID: "new-brunswick", Name: "New Brunswick, New Jersey", LatitudeDeg: 40.473, LongitudeDeg: -74.423, ElevationM: 26, Obs: []weather.ObsPeriod{{Time: weather.Morning}}})
}

func jackson(t testing.TB) *weather.Felt {
	return realStation(t, "jackson-tn_1982-2018.csv.gz", weather.Station{ID: "jackson", Name: "Jackson, Tennessee", LatitudeDeg: 35.621, LongitudeDeg: -88.846, ElevationM: 122, Obs: []weather.ObsPeriod{{Time: weather.Afternoon}}})
}
