package disease

import (
	"bytes"
	"compress/gzip"
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// record is a real station's record, described in testdata/SOURCES.md.
type record struct {
	start civil.Date
	cols  map[string][]float64
}

func readRecord(t testing.TB, name string) *record {
	t.Helper()
	z, err := os.ReadFile("testdata/" + name + ".csv.gz")
	require.NoError(t, err)
	g, err := gzip.NewReader(bytes.NewReader(z))
	require.NoError(t, err)
	rows, err := csv.NewReader(g).ReadAll()
	require.NoError(t, err)
	r := &record{cols: map[string][]float64{}}
	r.start, err = civil.ParseDate(rows[1][0])
	require.NoError(t, err)
	last, err := civil.ParseDate(rows[len(rows)-1][0])
	require.NoError(t, err)
	n := int(last-r.start) + 1
	for _, name := range rows[0][1:] {
		r.cols[name] = make([]float64, n)
		for i := range n {
			r.cols[name][i] = nan
		}
	}
	for _, row := range rows[1:] {
		d, err := civil.ParseDate(row[0])
		require.NoError(t, err)
		for k, cell := range row[1:] {
			if x, err := strconv.ParseFloat(cell, 64); err == nil {
				r.cols[rows[0][k+1]][d-r.start] = x
			}
		}
	}
	return r
}

// felt gives the record of the U.S. Climate Reference Network as weather.
func (r *record) felt(lat, lon float64) *weather.Felt {
	n := len(r.cols["tmax_c"])
	s := weather.NewSeries(r.start, n)
	for name, c := range map[string]weather.Column{"tmax_c": weather.TmaxC, "tmin_c": weather.TminC, "prcp_mm": weather.RainMM, "rh_mean_pct": weather.RHMeanPct, "soil5_c": weather.Soil5C, "soil10_c": weather.Soil10C} {
		for i, x := range r.cols[name] {
			s.Set(c, r.start.AddDays(i), x)
		}
	}
	return weather.AsOf(weather.Station{ID: "crn", LatitudeDeg: lat, LongitudeDeg: lon}, s, nil, s.End()+1).Felt()
}

var crn = []struct {
	id       string
	lat, lon float64
}{
	{"uscrn-fairhope-3ne-al_2020", 30.55, -87.88}, {"uscrn-lafayette-13se-la_2020", 30.09, -91.87}, {"uscrn-newton-5ene-ms_2020", 32.34, -89.07},
	{"uscrn-durham-11w-nc_2020", 35.97, -79.09}, {"uscrn-avondale-2n-pa_2020", 39.86, -75.79}, {"uscrn-versailles-3nnw-ky_2020", 38.09, -84.75},
	{"uscrn-champaign-9sw-il_2020", 40.05, -88.37}, {"uscrn-manhattan-6ssw-ks_2020", 39.10, -96.61},
}

func monthDay(y, m, d int) civil.Date { return civil.MustDate(y, m, d) }

// How often the published equations speak on a summer of real weather:
// regression rows, counted with another program. Five-day means need all five.
func TestOwnDesignEquationsOnRealSummers(t *testing.T) {
	for _, c := range []struct {
		id                                                    string
		daysP, p20, p30, p40, daysE, e5, e6, capped5, capped6 int
	}{
		{"uscrn-avondale-2n-pa_2020", 92, 80, 75, 60, 92, 31, 12, 32, 12},
		{"uscrn-durham-11w-nc_2020", 92, 90, 85, 81, 92, 43, 8, 45, 8},
		{"uscrn-fairhope-3ne-al_2020", 75, 75, 75, 75, 81, 60, 22, 63, 28},
		{"uscrn-manhattan-6ssw-ks_2020", 92, 83, 63, 44, 92, 8, 4, 8, 4},
		{"uscrn-newton-5ene-ms_2020", 92, 92, 89, 81, 92, 49, 14, 52, 16},
	} {
		t.Run(c.id, func(t *testing.T) {
			r := readRecord(t, c.id)
			var got struct{ daysP, p20, p30, p40, daysE, e5, e6, capped5, capped6 int }
			for d := monthDay(2020, 6, 1); d <= monthDay(2020, 8, 31); d++ {
				i := int(d - r.start)
				meanT, meanRH := 0.0, 0.0
				for j := i - 4; j <= i; j++ {
					x := r.cols["tavg24_c"][j]
					if math.IsNaN(x) {
						x = (r.cols["tmax_c"][j] + r.cols["tmin_c"][j]) / 2
					}
					meanT += x / 5
					meanRH += r.cols["rh_mean_pct"][j] / 5
				}
				if p := DollarSpotProbability(meanT, meanRH); !math.IsNaN(p) {
					got.daysP++
					got.p20 += count(p >= 0.2)
					got.p30 += count(p >= 0.3)
					got.p40 += count(p >= 0.4)
				}
				tmin, rh := r.cols["tmin_c"][i], r.cols["rh_mean_pct"][i]
				if e := BrownPatchIndex(tmin, rh); !math.IsNaN(e) {
					got.daysE++
					got.e5 += count(e >= 5)
					got.e6 += count(e >= 6)
					capped := BrownPatchIndex(min(tmin, 21.2), rh)
					got.capped5 += count(capped >= 5)
					got.capped6 += count(capped >= 6)
				}
			}
			assert.Equal(t, c.daysP, got.daysP)
			assert.Equal(t, []int{c.p20, c.p30, c.p40}, []int{got.p20, got.p30, got.p40})
			assert.Equal(t, []int{c.daysE, c.e5, c.e6, c.capped5, c.capped6}, []int{got.daysE, got.e5, got.e6, got.capped5, got.capped6})
		})
	}
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}

// The first crossing of five-day mean soil, without holding: regression rows.
func TestOwnDesignFirstSoilCrossings(t *testing.T) {
	first := func(r *record, soil []float64, from civil.Date, level float64, rising bool) string {
		for i := int(from - r.start); i < len(soil); i++ {
			m := meanOfFive(soil, i)
			if rising && m >= level || !rising && m <= level {
				return r.start.AddDays(i).String()[5:]
			}
		}
		return ""
	}
	for _, c := range []struct{ id, up128, up183, down24, down21, down13 string }{
		{"uscrn-avondale-2n-pa_2020", "05-03", "05-27", "08-16", "09-17", "11-01"},
		{"uscrn-durham-11w-nc_2020", "03-14", "05-03", "09-09", "09-21", "11-19"},
		{"uscrn-fairhope-3ne-al_2020", "02-01", "03-14", "09-20", "11-02", "12-20"},
		{"uscrn-manhattan-6ssw-ks_2020", "04-11", "05-24", "08-18", "09-10", "10-20"},
		{"uscrn-newton-5ene-ms_2020", "02-06", "03-15", "09-24", "10-04", "12-02"},
	} {
		r := readRecord(t, c.id)
		soil := slices.Clone(r.cols["soil5_c"])
		for i, x := range soil {
			if math.IsNaN(x) {
				soil[i] = r.cols["soil10_c"][i]
			}
		}
		spring, autumn := monthDay(2020, 2, 1), monthDay(2020, 8, 15)
		assert.Equal(t, c, struct{ id, up128, up183, down24, down21, down13 string }{c.id,
			first(r, soil, spring, 12.8, true), first(r, soil, spring, 18.3, true),
			first(r, soil, autumn, 24, false), first(r, soil, autumn, 21, false), first(r, soil, autumn, 13, false)})
	}
}

// crossingOn returns the date of a crossing.
func crossingOn(r *record, soil []float64, from civil.Date, level float64, rising bool) civil.Date {
	i := agromet.Crossing(soil, int(from-r.start), level, rising)
	if i < 0 {
		return 0
	}
	return r.start.AddDays(i)
}

// The crossings against what local calendars print, with the days that they may
// be apart.
func TestPublishedSoilTimings(t *testing.T) {
	for _, c := range []struct {
		name, id string
		level    float64
		rising   bool
		printed  civil.Date
		days     int
		computed string
	}{
		{"Kansas State University: large patch, mid-September", "uscrn-manhattan-6ssw-ks_2020", 21.1, false, monthDay(2020, 9, 15), 14, "2020-09-10"},
		{"Glasgow 2013: large patch about Labor Day, eastern North Carolina", "uscrn-durham-11w-nc_2020", 23.2, false, monthDay(2020, 9, 7), 21, "2020-09-18"},
		{"Glasgow 2013: large patch about Labor Day, by 70 °F", "uscrn-durham-11w-nc_2020", 21.1, false, monthDay(2020, 9, 7), 21, "2020-09-21"},
		{"Butler 2011: fairy ring, within two weeks after 10 March", "uscrn-durham-11w-nc_2020", 12.8, true, monthDay(2020, 3, 17), 14, "2020-03-14"},
		{"Missouri Extension: summer patch in mid-spring, Illinois", "uscrn-champaign-9sw-il_2020", 18.3, true, monthDay(2020, 5, 15), 14, "2020-05-25"},
		{"Missouri Extension: summer patch in mid-spring, Pennsylvania", "uscrn-avondale-2n-pa_2020", 18.3, true, monthDay(2020, 5, 15), 14, "2020-05-27"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := readRecord(t, c.id)
			from := monthDay(2020, 2, 1)
			if !c.rising {
				from = monthDay(2020, 8, 15)
			}
			got := crossingOn(r, r.cols["soil5_c"], from, c.level, c.rising)
			assert.Equal(t, c.computed, got.String())
			assert.LessOrEqual(t, int(math.Abs(float64(got-c.printed))), c.days)
		})
	}
}

// The crossings of the levels of large patch at the stations of 2020.
func TestOwnDesignLargePatchCrossings2020(t *testing.T) {
	for _, c := range []struct{ id, at232, at211, at178 string }{
		{"uscrn-versailles-3nnw-ky_2020", "2020-09-16", "2020-09-20", "2020-10-02"},
		{"uscrn-durham-11w-nc_2020", "2020-09-18", "2020-09-21", "2020-10-06"},
		{"uscrn-newton-5ene-ms_2020", "2020-10-01", "2020-10-04", "2020-11-03"},
		{"uscrn-lafayette-13se-la_2020", "2020-10-31", "2020-11-02", "2020-12-02"},
	} {
		r := readRecord(t, c.id)
		var got []string
		for _, level := range []float64{23.2, 21.1, 17.8} {
			got = append(got, crossingOn(r, r.cols["soil5_c"], monthDay(2020, 8, 15), level, false).String())
		}
		assert.Equal(t, []string{c.at232, c.at211, c.at178}, got, c.id)
	}
	// A cool spell crosses 23 °C in August in Kansas, and does not count.
	r := readRecord(t, "uscrn-manhattan-6ssw-ks_2020")
	soil := r.cols["soil5_c"]
	assert.Equal(t, "2020-08-04", crossingHeld(r, soil, monthDay(2020, 7, 15), 23.2).String(), "by the rule without guards")
	got := crossingOn(r, soil, monthDay(2020, 8, 15), 23.2, false)
	assert.Greater(t, got, monthDay(2020, 8, 15))
}

// crossingHeld is the rule without the falling month.
func crossingHeld(r *record, soil []float64, from civil.Date, level float64) civil.Date {
	run := 0
	for i := int(from - r.start); i < len(soil); i++ {
		if meanOfFive(soil, i) <= level {
			if run++; run == 3 {
				return r.start.AddDays(i - 2)
			}
			continue
		}
		run = 0
	}
	return 0
}

// quantilesOf returns quantiles of the days of the year of those that happened.
func quantilesOf(dates []civil.Date) (q20, median, q80 int) {
	var days []int
	for _, d := range dates {
		if !d.IsZero() {
			days = append(days, int(d-monthDay(d.Year(), 1, 1)))
		}
	}
	slices.Sort(days)
	at := func(p float64) int { return days[int(math.Round(p*float64(len(days)-1)))] }
	return at(0.2), at(0.5), at(0.8)
}

func dayOfYear(m, d int) int { return int(monthDay(2019, m, d) - monthDay(2019, 1, 1)) }

// Long records: medians over the years.
func TestOwnDesignLongRecordsCrossings(t *testing.T) {
	wooster := readRecord(t, "wooster-oh_1998-2018")
	soil := make([]float64, len(wooster.cols["tmax_c"]))
	for i := range soil {
		soil[i] = (wooster.cols["soil5_sod_min_c"][i] + wooster.cols["soil5_sod_max_c"][i]) / 2
	}
	jacksonFelt := jackson(t)
	jacksonRecord := &record{start: jacksonFelt.Start}
	for _, c := range []struct {
		name      string
		r         *record
		soil      []float64
		years     [2]int
		level     float64
		rising    bool
		median    int
		tolerance float64
		from, to  int // the middle 60 %; 0 where none is told
	}{
		{"Wooster, Ohio, up through 18.3 °C", wooster, soil, [2]int{1998, 2018}, 18.3, true, dayOfYear(5, 13), 2, 0, 0},
		{"Wooster, Ohio, up through 12.8 °C", wooster, soil, [2]int{1998, 2018}, 12.8, true, dayOfYear(4, 14), 2, 0, 0},
		{"Jackson, Tennessee, up through 18.3 °C", jacksonRecord, jacksonFelt.View.Days.Col(weather.Soil10C), [2]int{1982, 2018}, 18.3, true, dayOfYear(4, 27), 2, dayOfYear(4, 14), dayOfYear(5, 8)},
		{"Jackson, Tennessee, down through 23.2 °C", jacksonRecord, jacksonFelt.View.Days.Col(weather.Soil10C), [2]int{1982, 2017}, 23.2, false, dayOfYear(9, 24), 2, dayOfYear(9, 21), dayOfYear(10, 4)},
		{"Jackson, Tennessee, down through 21.1 °C", jacksonRecord, jacksonFelt.View.Days.Col(weather.Soil10C), [2]int{1982, 2017}, 21.1, false, dayOfYear(10, 7), 2, dayOfYear(9, 28), dayOfYear(10, 17)},
		{"Jackson, Tennessee, down through 17.8 °C", jacksonRecord, jacksonFelt.View.Days.Col(weather.Soil10C), [2]int{1982, 2017}, 17.8, false, dayOfYear(10, 23), 2, dayOfYear(10, 13), dayOfYear(11, 2)},
	} {
		t.Run(c.name, func(t *testing.T) {
			var dates []civil.Date
			for y := c.years[0]; y <= c.years[1]; y++ {
				from, end := monthDay(y, 2, 1), monthDay(y, 8, 1)
				if !c.rising {
					from, end = monthDay(y, 8, 15), monthDay(y, 12, 31)
				}
				n := min(int(end-c.r.start), len(c.soil))
				if int(from-c.r.start) < n {
					dates = append(dates, crossingOn(c.r, c.soil[:n], max(from, c.r.start), c.level, c.rising))
				}
			}
			q20, median, q80 := quantilesOf(dates)
			assert.InDelta(t, c.median, median, c.tolerance)
			if c.from > 0 {
				// Neighbors among the sorted years lie up to four days apart there.
				assert.InDelta(t, c.from, q20, 4)
				assert.InDelta(t, c.to, q80, 4)
			}
		})
	}
}

// When the equation first speaks three days running.
func TestPublishedDollarSpotOnset(t *testing.T) {
	for _, c := range []struct{ name, id, date string }{
		{"Pennsylvania", "uscrn-avondale-2n-pa_2020", "2020-05-27"}, {"Kentucky", "uscrn-versailles-3nnw-ky_2020", "2020-05-19"},
	} {
		t.Run("Smith et al. 2018: 20 % three days running, "+c.name, func(t *testing.T) {
			r := readRecord(t, c.id)
			assert.Equal(t, c.date, threeDaysRunning(r).String())
		})
	}
}

// threeDaysRunning returns the third day.
func threeDaysRunning(r *record) civil.Date {
	run := 0
	for i := 4; i < len(r.cols["tmax_c"]); i++ {
		meanT, meanRH := 0.0, 0.0
		for j := i - 4; j <= i; j++ {
			x := r.cols["tavg24_c"][j]
			if math.IsNaN(x) {
				x = (r.cols["tmax_c"][j] + r.cols["tmin_c"][j]) / 2
			}
			meanT += x / 5
			meanRH += r.cols["rh_mean_pct"][j] / 5
		}
		if !(DollarSpotProbability(meanT, meanRH) >= 0.2) {
			run = 0
			continue
		}
		if run++; run == 3 {
			return r.start.AddDays(i)
		}
	}
	return 0
}

// weeklyScores returns the score of every week of a year, with the observed days
// that follow in place of a forecast and the openness of the grass given; nil: no
// matter.
func weeklyScores(t testing.TB, d *Disease, f *weather.Felt, young bool, h func(w *pest.Days, i int) float64) (dates []civil.Date, scores []float64) {
	t.Helper()
	in := &pest.Input{Felt: f, Issue: f.View.IssueDate, YoungStand: young}
	s := in.Record()
	require.NotNil(t, s)
	w := s.Days
	r := make([]float64, len(w.TmaxC))
	for i := range r {
		r[i] = nan
		if w.Observed[i] {
			r[i] = d.Model.daily.day(w, i).risk
			if h != nil {
				r[i] *= h(w, i)
			}
		}
	}
	for at := 7; at+7 <= len(r); at += 7 {
		scores = append(scores, WeekScore(ObservedScore(r[at-7:at]), AheadScore(r[at:at+7])))
		dates = append(dates, w.Start.AddDays(at))
	}
	return dates, scores
}

func monthMeans(dates []civil.Date, scores []float64) (mean, highest [13]float64) {
	var n [13]float64
	for i, d := range dates {
		if !math.IsNaN(scores[i]) {
			mean[d.Month()] += scores[i]
			n[d.Month()]++
			highest[d.Month()] = max(highest[d.Month()], scores[i])
		}
	}
	for m := range mean {
		mean[m] /= n[m]
	}
	return mean, highest
}

// Seasons that come out of the risks, beside what local calendars print.
func TestPublishedSeasons(t *testing.T) {
	openness := func(w *pest.Days, i int) float64 {
		switch s := w.SoilC[i]; {
		case s < 21:
			return 1
		case s < 24:
			return 0.6
		}
		return 0.4
	}
	large := *demoDisease(t, "large-patch")
	large.Model.byState = false
	t.Run("University of Florida: large patch November to May, on the Gulf", func(t *testing.T) {
		mean, _ := monthMeans(weeklyScores(t, &large, readRecord(t, crn[0].id).felt(crn[0].lat, crn[0].lon), false, openness))
		// The shape: winter high, summer low. January is without its first days,
		// for which the rain of the week before is not on record.
		for m, want := range map[int]float64{11: .35, 12: .44, 2: .56} {
			assert.InDelta(t, want, mean[m], 0.08, "month %d", m)
		}
		assert.Greater(t, mean[1], mean[11])
		assert.LessOrEqual(t, math.Round(100*mean[7])/100, 0.13)
		assert.LessOrEqual(t, math.Round(100*mean[8])/100, 0.13)
	})
	durham := readRecord(t, crn[3].id).felt(crn[3].lat, crn[3].lon)
	t.Run("University of Georgia: large patch in fall and spring, Piedmont", func(t *testing.T) {
		mean, _ := monthMeans(weeklyScores(t, &large, durham, false, openness))
		for m, want := range map[int]float64{4: .61, 5: .49, 7: .07, 9: .39, 10: .59, 1: .11} {
			assert.InDelta(t, want, mean[m], 0.08, "month %d", m)
		}
	})
	t.Run("NC State alerts: brown patch from late May, Piedmont", func(t *testing.T) {
		dates, scores := weeklyScores(t, demoDisease(t, "brown-patch"), durham, false, nil)
		i := slices.IndexFunc(scores, func(x float64) bool { return x >= 0.25 })
		require.GreaterOrEqual(t, i, 0)
		assert.InDelta(t, float64(monthDay(2020, 5, 19)), float64(dates[i]), 14)
	})
	t.Run("NC State Extension: gray leaf spot of fescue from late July to September", func(t *testing.T) {
		_, highest := monthMeans(weeklyScores(t, demoDisease(t, "gray-leaf-spot"), durham, false, nil))
		assert.GreaterOrEqual(t, highest[7], 0.25)
		assert.GreaterOrEqual(t, highest[8], 0.25)
		assert.Less(t, highest[5], 0.25)
		assert.Less(t, highest[10], 0.25)
	})
	t.Run("Kansas State University: large patch still in a warm and foggy November", func(t *testing.T) {
		f := uniformWeather(monthDay(2020, 8, 1), 110, func(_ int, d civil.Date) [3]float64 { return [3]float64{19, 11, 3} })
		a := demoDisease(t, "large-patch").Assess(&pest.Input{Felt: f, Daily: turf.Run(grass(t, "zoysia"), loam(t), f), Grass: grass(t, "zoysia"), Issue: f.View.IssueDate})
		assert.GreaterOrEqual(t, a.Grade, pest.Watch)
	})
}

// watched returns, by month, the share of weeks in which a disease is at watch or
// more on a grass.
func watched(t testing.TB, f *weather.Felt, id, of string) [13]float64 {
	t.Helper()
	p := grass(t, of)
	in := &pest.Input{Felt: f, Daily: turf.Run(p, loam(t), f), Grass: p, Issue: f.View.IssueDate}
	var up, n [13]float64
	for _, w := range demoDisease(t, id).Weeks(in) {
		if w.Known {
			n[w.Issue.Month()]++
			up[w.Issue.Month()] += float64(count(w.Grade >= pest.Watch))
		}
	}
	for m := range up {
		up[m] /= n[m]
	}
	return up
}

// What regional calendars print, against grades from a station of the region: at
// least half of the weeks at watch in the months that they name, at least half
// quiet in months two or more away from any of them.
func TestPublishedDiseaseCalendars(t *testing.T) {
	kansas := readRecord(t, crn[7].id).felt(crn[7].lat, crn[7].lon)
	carolina := readRecord(t, crn[3].id).felt(crn[3].lat, crn[3].lon)
	pennsylvania := readRecord(t, crn[4].id).felt(crn[4].lat, crn[4].lon)
	illinois := readRecord(t, crn[6].id).felt(crn[6].lat, crn[6].lon)
	for _, c := range []struct {
		name      string
		f         *weather.Felt
		id, grass string
		months    []int
		also      []int // named by that or another source: no matter
	}{
		{"University of Georgia: large patch in spring and fall", carolina, "large-patch", "zoysia", []int{5, 9, 10}, nil},
		{"Kansas State University: large patch in September", kansas, "large-patch", "zoysia", []int{9}, []int{4, 5, 6, 10, 11}},
		{"Kansas State University: brown patch worst in July and August", kansas, "brown-patch", "tall-fescue", []int{7, 8}, nil},
		{"Clemson: brown patch through summer", carolina, "brown-patch", "tall-fescue", []int{6, 7, 8}, []int{5, 9}},
		{"University of Tennessee: brown patch in early summer", jackson(t), "brown-patch", "tall-fescue", []int{6, 7}, []int{5, 8, 9}},
		{"Penn State: gray leaf spot of ryegrass in August and September", pennsylvania, "gray-leaf-spot", "perennial-ryegrass", []int{8, 9}, nil},
		{"University of Florida: gray leaf spot of St. Augustine in summer", batonRouge(t), "gray-leaf-spot", "st-augustine", []int{6, 7, 8, 9}, []int{5}},
		{"Rutgers 2013: pink snow mold in late winter and early spring", newBrunswick(t), "microdochium-patch", "perennial-ryegrass", []int{2, 3}, []int{1, 4, 5, 10, 11}},
		{"Latin, Purdue: leaf spot in April and May and in summer", illinois, "leaf-spot", "kentucky-bluegrass", []int{4, 5, 6, 7, 8}, []int{9, 10}},
	} {
		t.Run(c.name, func(t *testing.T) {
			share := watched(t, c.f, c.id, c.grass)
			for m := 1; m <= 12; m++ {
				apart := 12
				for _, x := range slices.Concat(c.months, c.also) {
					d := (m - x + 12) % 12
					apart = min(apart, d, 12-d)
				}
				switch {
				case math.IsNaN(share[m]):
				case slices.Contains(c.months, m):
					assert.GreaterOrEqual(t, share[m], 0.5, "month %d", m)
				case apart >= 2:
					assert.LessOrEqual(t, share[m], 0.5, "month %d", m)
				}
			}
		})
	}
}

// Own design, measured on eight stations of 2020, observed weather standing in
// for the forecast: the grades are steady, and an estimated humidity changes them
// seldom and by one at most.
func TestOwnDesignGradesAreSteady(t *testing.T) {
	plain, stepped, alike, all := 0, 0, 0, 0
	for _, id := range []string{"dollar-spot", "brown-patch"} {
		d := demoDisease(t, id)
		for _, c := range crn {
			f := readRecord(t, c.id).felt(c.lat, c.lon)
			grades := func(estimated bool) (g []pest.Grade, changes int) {
				w := *(&pest.Input{Felt: f, Issue: f.View.IssueDate}).Record().Days
				w.AllEstimated = estimated
				r := make([]float64, len(w.TmaxC))
				for i := range r {
					r[i] = nan
					if w.Observed[i] {
						r[i] = d.Model.daily.day(&w, i).risk
					}
				}
				var s GradeState
				last := pest.Quiet
				for at := 8; at+7 <= len(r) && len(g) < 50; at += 7 {
					score := WeekScore(ObservedScore(r[at-7:at]), AheadScore(r[at:at+7]))
					step := GradeStep{Score: score, Host: pest.MainHost, Cap: pest.Act}
					now := d.Limits.up(quantity.Thousandths(score), step)
					changes += count(now != last)
					last = now
					s = d.Limits.Step(s, step)
					g = append(g, s.Grade)
				}
				return g, changes
			}
			measured, changes := grades(false)
			estimated, _ := grades(true)
			plain += changes
			for i := range measured {
				all++
				alike += count(measured[i] == estimated[i])
				assert.LessOrEqual(t, math.Abs(float64(measured[i])-float64(estimated[i])), 1.0, "%s at %s, week %d", id, c.id, i)
				stepped += count(i > 0 && measured[i] != measured[i-1])
			}
		}
	}
	assert.InDelta(t, 152, plain, 15)
	assert.InDelta(t, 83, stepped, 5)
	assert.Equal(t, 800, all)
	assert.InDelta(t, 0.85, float64(alike)/float64(all), 0.02)
}

// What the estimated humidity finds, April to October of 2020 at the eight
// stations.
func TestOwnDesignEstimatedHumiditySkill(t *testing.T) {
	var p20, p40, e5, e5More agromet.Contingency
	add := func(c *agromet.Contingency, event, warned bool) {
		switch {
		case event && warned:
			c.Hits++
		case warned:
			c.FalseAlarms++
		case event:
			c.Misses++
		default:
			c.Correct++
		}
	}
	allowance := demoDisease(t, "brown-patch").Model.daily.(*brownPatchModel).allowance
	for _, s := range crn {
		f := readRecord(t, s.id).felt(s.lat, s.lon)
		w := (&pest.Input{Felt: f, Issue: f.View.IssueDate}).Record().Days
		for i := 4; i < len(w.TmaxC); i++ {
			if m := w.Start.AddDays(i).Month(); m < 4 || m > 10 {
				continue
			}
			var tC, measured, estimated float64
			for j := i - 4; j <= i; j++ {
				tC, measured, estimated = tC+w.TmeanC[j]/5, measured+w.RHPct[j]/5, estimated+w.RHEstimatedPct[j]/5
			}
			if a, b := DollarSpotProbability(tC, measured), DollarSpotProbability(tC, estimated); !math.IsNaN(a + b) {
				add(&p20, a >= 0.2, b >= 0.2)
				add(&p40, a >= 0.4, b >= 0.4)
			}
			if a, b := BrownPatchIndex(w.TminC[i], w.RHPct[i]), BrownPatchIndex(w.TminC[i], w.RHEstimatedPct[i]); !math.IsNaN(a + b) {
				add(&e5, a >= 5, b >= 5)
				add(&e5More, a >= 5, b+allowance >= 5)
			}
		}
	}
	assert.InDelta(t, .94, p20.HitRate(), .01)
	assert.InDelta(t, .05, p20.FalseAlarmRatio(), .01)
	assert.InDelta(t, .86, p40.HitRate(), .01)
	assert.InDelta(t, .11, p40.FalseAlarmRatio(), .015)
	assert.InDelta(t, .56, e5.HitRate(), .01)
	assert.InDelta(t, .79, e5More.HitRate(), .01)
	assert.InDelta(t, .23, e5More.FalseAlarmRatio(), .01)
}

// meanOfFive is the mean of five days, of which three are known.
func meanOfFive(x []float64, i int) float64 {
	sum, n := 0.0, 0
	for _, v := range x[max(0, i-4) : i+1] {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	if n < 3 {
		return nan
	}
	return math.Round(sum/float64(n)*1000) / 1000
}
