package weather

import (
	"testing"
)

// The real stations of the tests. Their data are described in
// testdata/SOURCES.md.

func norfolk(t testing.TB) (Station, *Series) {
	return Station{ID: "norfolk", Name: "Norfolk Intl AP, VA", LatitudeDeg: 36.9037, LongitudeDeg: -76.1927, ElevationM: 9, WindHeightM: 10, Coastal: true},
		imported(t, "norfolk-va_1981-2018.csv.gz", ImportOptions{Units: UnitsMetric}).Days
}

func newBrunswick(t testing.TB) (Station, *Series) {
	return Station{ID: "new-brunswick", Name: "New Brunswick 3 SE, NJ", LatitudeDeg: 40.473, LongitudeDeg: -74.423, ElevationM: 26, Obs: []ObsPeriod{{Time: Morning}}},
		imported(t, "new-brunswick-nj_2014-2018.csv.gz", ImportOptions{Units: UnitsMetric}).Days
}

func jackson(t testing.TB) (Station, *Series) {
	return Station{ID: "jackson", Name: "Jackson Experiment Station, TN", LatitudeDeg: 35.621, LongitudeDeg: -88.846, ElevationM: 122, Obs: []ObsPeriod{{Time: Afternoon}}},
		imported(t, "jackson-tn_1982-2018.csv.gz", ImportOptions{Units: UnitsMetric}).Days
}
