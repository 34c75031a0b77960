package weather

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/agromet"
	"ligule/internal/civil"
)

// requireSameView fails unless two views say the same, bit by bit.
func requireSameView(t require.TestingT, want, got *View) {
	requireSame(t, want.Days, got.Days)
	require.Equal(t, want.basis, got.basis)
	require.Equal(t, want.Station, got.Station)
	require.Equal(t, want.IssueDate.String(), got.IssueDate.String())
	require.Equal(t, want.ForecastIssued.String(), got.ForecastIssued.String())
	require.Equal(t, want.LastRecord.String(), got.LastRecord.String())
	for c := range Columns {
		require.Equal(t, want.Days.Has(c), got.Days.Has(c), c.Name())
	}
	a, b := want.Felt(), got.Felt()
	for i, pair := range [][2][]float64{
		{a.TmeanC, b.TmeanC}, {a.DaylightH, b.DaylightH}, {a.RaMJ, b.RaMJ}, {a.RsMJ, b.RsMJ},
		{a.ETMM, b.ETMM}, {a.LightMol, b.LightMol}, {a.Soil5C, b.Soil5C}, {a.Soil10C, b.Soil10C},
	} {
		require.Equal(t, len(pair[0]), len(pair[1]))
		for k := range pair[0] {
			if math.Float64bits(pair[0][k]) != math.Float64bits(pair[1][k]) {
				require.Failf(t, "felt differs", "slice %d, day %d: %v and %v", i, k, pair[0][k], pair[1][k])
			}
		}
	}
	require.Equal(t, a.Soil5By, b.Soil5By)
	require.Equal(t, a.Soil10By, b.Soil10By)
	require.Equal(t, a.Radiation, b.Radiation)
	require.Equal(t, a.Humidity, b.Humidity)
	require.Equal(t, a.Wind, b.Wind)
}

// The worked week of the design: issue 2016-W29, Monday 18 to Sunday 24 July
// 2016, whose issue date is Sunday 17 July. Records of GHCN-Daily.
func TestOwnDesignWorkedWeek(t *testing.T) {
	issue := day(t, "2016-07-17")
	require.Equal(t, "2016-W29", civil.MustDate(2016, 7, 18).Week().String())

	t.Run("Norfolk, observed at midnight", func(t *testing.T) {
		st, records := norfolk(t)
		v := AsOf(st, records, nil, issue)
		assert.Equal(t, "2016-07-16", v.LastRecord.String())
		assert.Equal(t, "2016-07-23", v.Days.End().String())
		assert.True(t, v.ForecastIssued.IsZero())
		for i, want := range []struct{ tmax, tmin, rain float64 }{
			{30.0, 23.3, 0}, {29.4, 22.8, 0}, {30.6, 24.4, 0}, {33.3, 25.6, 0}, {36.1, 24.4, 0}, {35.6, 23.3, 1.0}, {31.1, 22.8, 3.3},
		} {
			d := day(t, "2016-07-10").AddDays(i)
			assert.Equal(t, want.tmax, v.Days.At(TmaxC, d), "%s", d)
			assert.Equal(t, want.tmin, v.Days.At(TminC, d), "%s", d)
			assert.Equal(t, want.rain, v.Days.At(RainMM, d), "%s", d)
			for _, c := range []Column{TmaxC, TminC, RainMM} {
				assert.Equal(t, Observed, v.Basis(c, d), "%s", d)
			}
		}
		assert.Equal(t, Missing, v.Basis(TmaxC, issue), "no forecast is on file")
		f := v.Felt()
		mean, valid := f.Mean(f.TmeanC, issue-1, WindowDays)
		assert.Equal(t, 7, valid)
		assert.InDelta(t, 28.05, mean, 1e-9, "(26.65+26.1+27.5+29.45+30.25+29.45+26.95)/7")
		et := f.Total(f.ETMM, issue-1, WindowDays)
		assert.Equal(t, agromet.RungTemperature, et.Radiation)
		assert.Equal(t, agromet.RungTmin, et.Humidity)
		assert.Equal(t, agromet.RungMeasured, et.Wind)
		assert.Equal(t, "temperature", et.Radiation.String())
		assert.True(t, et.WeeklyOnly())
		assert.Equal(t, 15.0, et.ETBandPct())
		assert.Equal(t, 30.0, et.LightBandPct())
		assert.Zero(t, et.Estimated)
		assert.InDelta(t, 36.1, et.Sum, 0.05, "mm in the week, golden")
	})

	t.Run("New Brunswick, observed in the morning", func(t *testing.T) {
		st, records := newBrunswick(t)
		v := AsOf(st, records, nil, issue)
		assert.Equal(t, "2016-07-16", v.LastRecord.String())
		for i, want := range []struct{ tmax, tmin, rain float64 }{
			{28.3, 18.9, 0}, {29.4, 15.6, 0}, {30.6, 16.1, 0}, {28.9, 18.9, 4.6}, {33.3, 22.2, 1.0}, {32.8, 22.8, 0},
		} {
			d := day(t, "2016-07-10").AddDays(i)
			assert.Equal(t, want.tmax, v.Days.At(TmaxC, d), "%s: the record of the day after", d)
			assert.Equal(t, want.tmin, v.Days.At(TminC, d), "%s: the record of the day", d)
			assert.Equal(t, want.rain, v.Days.At(RainMM, d), "%s: the record of the day after", d)
			assert.Equal(t, Observed, v.Basis(TmaxC, d), "%s", d)
		}
		last := day(t, "2016-07-16")
		assert.Equal(t, 20.6, v.Days.At(TminC, last), "the last day has its minimum only")
		assert.Equal(t, Observed, v.Basis(TminC, last))
		assert.Equal(t, 32.8, v.Days.At(TmaxC, last), "its maximum is held")
		assert.Equal(t, Estimated, v.Basis(TmaxC, last))
		assert.Equal(t, 0.0, v.Days.At(RainMM, last), "its rain is not held, but taken for none")
		assert.Equal(t, Estimated, v.Basis(RainMM, last))
		f := v.Felt()
		assert.Equal(t, Estimated, f.Basis(last))
		mean, valid := f.Mean(f.TmeanC, issue-1, WindowDays)
		assert.Equal(t, 6, valid, "six full days: enough")
		assert.GreaterOrEqual(t, valid, WindowValid)
		assert.InDelta(t, 24.8167, mean, 1e-4, "(23.6+22.5+23.35+23.9+27.75+27.8)/6")
		assert.Equal(t, 1, f.Total(f.ETMM, issue-1, WindowDays).Estimated)
		rain, estimated := v.Sum(RainMM, issue-1, WindowDays)
		assert.InDelta(t, 5.6, rain, 1e-9)
		assert.Equal(t, 1, estimated)

		fc := Forecast{Issued: last, Days: read(t, "date,tmax_c,tmin_c,rain_mm\n2016-07-16,31.5,19,2.5\n2016-07-17,33,21,\n2016-07-18,32,20,1\n")}
		v = AsOf(st, records, []Forecast{fc}, issue)
		assert.Equal(t, last.String(), v.ForecastIssued.String())
		assert.Equal(t, 31.5, v.Days.At(TmaxC, last), "with a forecast on file, the maximum is its")
		assert.Equal(t, 2.5, v.Days.At(RainMM, last))
		assert.Equal(t, Estimated, v.Basis(RainMM, last))
		assert.Equal(t, 20.6, v.Days.At(TminC, last), "a forecast never replaces an observation")
		assert.Equal(t, ForecastDay, v.Basis(TmaxC, issue))
		assert.Equal(t, 33.0, v.Days.At(TmaxC, issue))
		assert.Equal(t, Missing, v.Basis(RainMM, issue), "rain that the forecast does not tell is unknown")
		assert.Equal(t, Missing, v.Basis(TmaxC, issue+2))
	})
}

// What comes later changes nothing: neither records nor forecasts, whether they
// are appended, corrected or taken away.
func TestLaterWeatherChangesNothing(t *testing.T) {
	for _, station := range []func(testing.TB) (Station, *Series){norfolk, newBrunswick} {
		st, records := station(t)
		t.Run(st.ID, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				issue := civil.MustDate(2016, 1, 1).AddDays(rapid.IntRange(0, 700).Draw(t, "issue"))
				rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
				start := issue.AddDays(-rapid.IntRange(0, 90).Draw(t, "days of record"))

				known := NewSeries(start, int(issue-start))
				for c := range Columns {
					for d := start; d < issue; d++ {
						if rng.IntN(12) > 0 {
							known.Set(c, d, records.At(c, d))
						}
					}
				}
				later := NewSeries(start, int(issue-start)+rapid.IntRange(1, 40).Draw(t, "later days"))
				for c := range Columns {
					low, high := c.limits()
					for d := start; d <= later.End(); d++ {
						switch {
						case d < issue:
							later.Set(c, d, known.At(c, d))
						case rng.IntN(3) > 0:
							later.Set(c, d, low+rng.Float64()*(high-low))
						}
					}
				}
				var forecasts, more []Forecast
				for i := range rapid.IntRange(0, 4).Draw(t, "forecasts") {
					fc := Forecast{Issued: issue.AddDays(i - 4), Days: level(issue.AddDays(i-4), 9, float64(rng.IntN(30)))}
					forecasts, more = append(forecasts, fc), append(more, fc)
				}
				for i := range rapid.IntRange(1, 3).Draw(t, "later forecasts") {
					more = append(more, Forecast{Issued: issue.AddDays(1 + i), Days: level(issue, 9, -20)})
				}
				rng.Shuffle(len(more), func(i, k int) { more[i], more[k] = more[k], more[i] })

				want := AsOf(st, known, forecasts, issue)
				requireSameView(t, want, AsOf(st, later, more, issue))
				requireSameView(t, want, AsOf(st, known, more, issue))
				for d := want.Days.Start; d <= want.Days.End(); d++ {
					for c := range Columns {
						if got := want.Basis(c, d); d >= issue && got == Observed || (got == Missing) != math.IsNaN(want.Days.At(c, d)) {
							t.Fatalf("%s %s is %s with %v", d, c.Name(), got, want.Days.At(c, d))
						}
					}
				}
			})
		})
	}
}

// csvOf returns days of a view as a daily CSV with the basis of Tmax, Tmin and
// rain after each line.
func csvOf(t *testing.T, v *View, from, to civil.Date) string {
	t.Helper()
	s := NewSeries(from, int(to-from)+1)
	bases := ""
	for d := from; d <= to; d++ {
		for _, c := range []Column{TmaxC, TminC, RainMM, WindMS} {
			s.Set(c, d, v.Days.At(c, d))
			bases += v.Basis(c, d).String()[:1]
		}
		bases += " "
	}
	var b bytes.Buffer
	require.NoError(t, WriteDaily(&b, s))
	return b.String() + bases
}

func TestOwnDesignGaps(t *testing.T) {
	const head = "date,tmax_c,tmin_c,rain_mm,wind_ms\n"
	fc := func(issued, text string) Forecast { return Forecast{day(t, issued), read(t, head+text)} }
	for _, c := range []struct {
		name      string
		obs       []ObsPeriod
		records   string
		forecasts []Forecast
		from, to  string
		want      string // as csvOf, without the head
	}{
		{"two days between", nil,
			"2016-07-01,30,20,5,2\n2016-07-04,28,18,0,1\n2016-07-05,28,18,0,1\n2016-07-06,28,18,0,1\n2016-07-07,28,18,0,1\n", nil, "2016-07-01", "2016-07-04",
			"2016-07-01,30.0,20.0,5.0,2.0\n2016-07-02,30.0,20.0,0.0,\n2016-07-03,30.0,20.0,0.0,\n2016-07-04,28.0,18.0,0.0,1.0\noooo eeem eeem oooo "},
		{"three days between", nil,
			"2016-07-01,30,20,5,2\n2016-07-05,28,18,0,1\n2016-07-06,28,18,0,1\n2016-07-07,28,18,0,1\n", nil, "2016-07-01", "2016-07-05",
			"2016-07-01,30.0,20.0,5.0,2.0\n2016-07-05,28.0,18.0,0.0,1.0\noooo mmmm mmmm mmmm oooo "},
		{"each column on its own", nil,
			"2016-07-01,30,,5,2\n2016-07-02,30,20,,2\n2016-07-03,,20,,2\n2016-07-04,28,18,,1\n2016-07-05,28,18,0,\n2016-07-06,28,18,0,1\n2016-07-07,28,18,0,1\n", nil, "2016-07-01", "2016-07-05",
			"2016-07-01,30.0,,5.0,2.0\n2016-07-02,30.0,20.0,,2.0\n2016-07-03,30.0,20.0,,2.0\n2016-07-04,28.0,18.0,,1.0\n2016-07-05,28.0,18.0,0.0,\nomoo oomo eomo oomo ooom "},
		{"two days at the end, held", nil,
			"2016-07-05,30,20,5,2\n", nil, "2016-07-05", "2016-07-08",
			"2016-07-05,30.0,20.0,5.0,2.0\n2016-07-06,30.0,20.0,0.0,\n2016-07-07,30.0,20.0,0.0,\noooo eeem eeem mmmm "},
		{"three days at the end", nil,
			"2016-07-04,30,20,5,2\n", nil, "2016-07-04", "2016-07-08",
			"2016-07-04,30.0,20.0,5.0,2.0\noooo mmmm mmmm mmmm mmmm "},
		{"two days at the end, the forecast covers the second", nil,
			"2016-07-05,30,20,5,2\n", []Forecast{fc("2016-07-07", "2016-07-07,25,15,3,4\n2016-07-08,26,16,,\n")}, "2016-07-05", "2016-07-08",
			"2016-07-05,30.0,20.0,5.0,2.0\n2016-07-06,30.0,20.0,0.0,\n2016-07-07,25.0,15.0,3.0,4.0\n2016-07-08,26.0,16.0,,\noooo eeem eeee ffmm "},
		{"a filled maximum is not below the minimum", nil,
			"2016-07-05,18,10,5,2\n2016-07-06,,22,5,2\n2016-07-07,30,,5,2\n", []Forecast{fc("2016-07-07", "2016-07-07,,31,3,4\n2016-07-08,26,16,,\n")}, "2016-07-05", "2016-07-07",
			"2016-07-05,18.0,10.0,5.0,2.0\n2016-07-06,22.0,22.0,5.0,2.0\n2016-07-07,30.0,30.0,5.0,2.0\noooo eooo oeoo "},
		{"a forecast of the evening lacks its first maximum", nil,
			"2016-07-06,30,20,5,2\n2016-07-07,31,21,5,2\n", []Forecast{fc("2016-07-08", "2016-07-08,,22,,\n2016-07-09,29,19,1,3\n2016-07-12,28,18,1,3\n")}, "2016-07-07", "2016-07-13",
			"2016-07-07,31.0,21.0,5.0,2.0\n2016-07-08,31.0,22.0,,\n2016-07-09,29.0,19.0,1.0,3.0\n2016-07-10,29.0,19.0,,\n2016-07-11,29.0,19.0,,\n2016-07-12,28.0,18.0,1.0,3.0\noooo efmm ffff eemm eemm ffff mmmm "},
		{"the newest forecast of the last two days", nil,
			"2016-07-07,30,20,5,2\n", []Forecast{fc("2016-07-06", "2016-07-08,1,0,1,\n"), fc("2016-07-07", "2016-07-08,2,0,1,\n"), fc("2016-07-09", "2016-07-09,3,0,1,\n"), fc("2016-07-05", "2016-07-08,4,0,1,\n")}, "2016-07-08", "2016-07-08",
			"2016-07-08,2.0,0.0,1.0\nfffm "},
		{"a forecast three days old is none", nil,
			"2016-07-07,30,20,5,2\n", []Forecast{fc("2016-07-05", "2016-07-08,4,0,1,\n")}, "2016-07-07", "2016-07-08",
			"2016-07-07,30.0,20.0,5.0,2.0\noooo mmmm "},
		{"a morning station that turned to midnight", []ObsPeriod{{0, Morning}, {day(t, "2016-07-04"), Midnight}},
			"2016-07-01,21,11,1,1\n2016-07-02,22,12,2,2\n2016-07-03,23,13,3,3\n2016-07-04,24,14,4,4\n2016-07-05,25,15,5,5\n2016-07-06,26,16,6,6\n2016-07-07,27,17,7,7\n", nil, "2016-07-01", "2016-07-05",
			"2016-07-01,22.0,11.0,2.0,1.0\n2016-07-02,23.0,12.0,3.0,2.0\n2016-07-03,23.0,13.0,0.0,3.0\n2016-07-04,24.0,14.0,4.0,4.0\n2016-07-05,25.0,15.0,5.0,5.0\noooo oooo eoeo oooo oooo "},
		{"a midnight station that turned to the morning: the day keeps its own", []ObsPeriod{{day(t, "2016-07-03"), Morning}},
			"2016-07-01,21,11,1,1\n2016-07-02,22,12,,2\n2016-07-03,23,13,3,3\n2016-07-04,24,14,4,4\n2016-07-05,25,15,5,5\n2016-07-06,26,16,6,6\n2016-07-07,27,17,7,7\n", nil, "2016-07-01", "2016-07-05",
			"2016-07-01,21.0,11.0,1.0,1.0\n2016-07-02,22.0,12.0,3.0,2.0\n2016-07-03,24.0,13.0,4.0,3.0\n2016-07-04,25.0,14.0,5.0,4.0\n2016-07-05,26.0,15.0,6.0,5.0\noooo oooo oooo oooo oooo "},
		{"an afternoon station is not shifted", []ObsPeriod{{0, Afternoon}},
			"2016-07-06,26,16,6,6\n2016-07-07,27,17,7,7\n", nil, "2016-07-06", "2016-07-08",
			"2016-07-06,26.0,16.0,6.0,6.0\n2016-07-07,27.0,17.0,7.0,7.0\noooo oooo mmmm "},
		{"a pair that the shift makes impossible", []ObsPeriod{{0, Morning}},
			"2016-07-01,21,11,0,1\n2016-07-02,22,12,0,2\n2016-07-03,20,13,0,3\n2016-07-04,10,4,0,4\n2016-07-05,25,15,0,5\n2016-07-06,26,16,0,6\n2016-07-07,27,17,0,7\n", nil, "2016-07-02", "2016-07-04",
			"2016-07-02,20.0,12.0,0.0,2.0\n2016-07-03,20.0,12.0,0.0,3.0\n2016-07-04,25.0,4.0,0.0,4.0\noooo eeoo oooo "},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := AsOf(Station{Obs: c.obs}, read(t, head+c.records), c.forecasts, day(t, "2016-07-08"))
			_, got, _ := strings.Cut(csvOf(t, v, day(t, c.from), day(t, c.to)), "\n")
			assert.Equal(t, c.want, got)
		})
	}
	assert.Equal(t, 2, GapMaxDays, "as the pages print it")
}

func TestAsOfWithoutRecords(t *testing.T) {
	issue := day(t, "2016-07-08")
	for name, records := range map[string]*Series{
		"none": nil, "empty": NewSeries(0, 0),
		"later ones": read(t, "date,tmax_c,tmin_c,rain_mm\n2016-07-08,30,20,5\n"),
	} {
		v := AsOf(Station{LatitudeDeg: 35}, records, nil, issue)
		assert.Equal(t, issue.String(), v.Days.Start.String(), name)
		assert.Equal(t, 7, v.Days.Len(), name)
		assert.True(t, v.LastRecord.IsZero(), name)
		f := v.Felt()
		assert.InDelta(t, 14.3, f.DaylightH[0], 0.1, "day length needs no weather")
		mean, valid := f.Mean(f.TmeanC, issue-1, WindowDays)
		assert.True(t, math.IsNaN(mean), name)
		assert.Zero(t, valid, name)
		assert.True(t, math.IsNaN(f.Total(f.ETMM, issue-1, WindowDays).Sum), "a sum needs every day")
		sum, _ := v.Sum(RainMM, issue-1, 7)
		assert.True(t, math.IsNaN(sum), name)
	}
	fc := Forecast{Issued: issue, Days: level(issue, 30, 20)}
	assert.Equal(t, 16, AsOf(Station{}, nil, []Forecast{fc}, issue).Days.Len(), "no more than 16 days ahead")
}

// Wind of the forecast is at 10 m, whatever the station's anemometer.
func TestWindHeight(t *testing.T) {
	issue := day(t, "2016-07-08")
	records, ahead := level(issue-1, 1, 25), level(issue, 1, 25)
	records.Set(WindMS, issue-1, 4)
	ahead.Set(WindMS, issue, 4)
	felt := func(heightM float64) *Felt {
		return AsOf(Station{LatitudeDeg: 35, WindHeightM: heightM}, records, []Forecast{{issue, ahead}}, issue).Felt()
	}
	at2, at10, untold := felt(2), felt(10), felt(0)
	assert.Greater(t, at2.ETMM[0], at10.ETMM[0]+0.1)
	assert.Equal(t, at10.ETMM[0], untold.ETMM[0])
	assert.Equal(t, at10.ETMM[1], at2.ETMM[1])
}

// What is derived of a day is what package agromet derives of it, on any day
// of any year.
func TestFeltIsDerivedDayByDay(t *testing.T) {
	st, records := norfolk(t)
	v := AsOf(st, records, nil, day(t, "1985-03-10"))
	f := v.Felt()
	site := agromet.Site{LatitudeDeg: st.LatitudeDeg, ElevationM: st.ElevationM, Coastal: true}
	for d := v.Days.Start; d <= v.Days.End(); d++ {
		nan := math.NaN()
		in := agromet.Day{
			TmaxC: v.Days.At(TmaxC, d), TminC: v.Days.At(TminC, d), RainMM: v.Days.At(RainMM, d), WindMS: v.Days.At(WindMS, d), WindHeightM: 10,
			DewC: nan, RHMaxPct: nan, RHMinPct: nan, RHMeanPct: nan, SunH: nan, CloudPct: nan, SolarMJ: nan,
		}
		want := agromet.Derive(site, d.YearDay(), in)
		i, ok := f.Index(d)
		require.True(t, ok)
		require.Equal(t, math.Float64bits(want.ETMM), math.Float64bits(f.ETMM[i]), "%s", d)
		require.Equal(t, want.DaylightH, f.DaylightH[i], "%s", d)
		require.Equal(t, want.Wind, f.Wind[i], "%s", d)
	}
	_, ok := f.Index(v.Days.End() + 1)
	assert.False(t, ok)
}

func TestNames(t *testing.T) {
	methods := map[string]bool{}
	for m := SoilNone; m <= SoilProbe; m++ {
		assert.False(t, methods[m.String()], m)
		methods[m.String()] = true
	}
	seen := map[string]bool{}
	for c := range Columns {
		assert.False(t, seen[c.Name()], c.Name())
		seen[c.Name()] = true
		low, high := c.limits()
		assert.Less(t, low, high, c.Name())
	}
	assert.Empty(t, Columns.Name())
	for _, w := range ObsTimes() {
		o, err := ParseObsTime(w)
		require.NoError(t, err)
		assert.Equal(t, w, o.String())
	}
	_, err := ParseObsTime("noon")
	assert.EqualError(t, err, `"noon" is not a time of observation: use midnight, morning or afternoon`)
	for _, w := range []string{"metric", "us", "tenths"} {
		u, err := ParseUnitSystem(w)
		require.NoError(t, err)
		assert.Equal(t, w, u.String())
	}
	_, err = ParseUnitSystem("undeclared")
	assert.Error(t, err)
	st := Station{Obs: []ObsPeriod{{day(t, "2000-01-01"), Morning}, {day(t, "2005-01-01"), Afternoon}}}
	assert.Equal(t, Midnight, st.ObsTimeOn(day(t, "1999-12-31")))
	assert.Equal(t, Morning, st.ObsTimeOn(day(t, "2000-01-01")))
	assert.Equal(t, Morning, st.ObsTimeOn(day(t, "2004-12-31")))
	assert.Equal(t, Afternoon, st.ObsTimeOn(day(t, "2026-01-01")))
	assert.Panics(t, func() { NewSeries(day(t, "2000-01-01"), 1).Set(TmaxC, day(t, "2000-01-02"), 1) })
	assert.Panics(t, func() { NewSeries(0, -1) })
}
