package weather

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

func file(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	if !strings.HasSuffix(name, ".gz") {
		return data
	}
	r, err := gzip.NewReader(bytes.NewReader(data))
	require.NoError(t, err)
	data, err = io.ReadAll(r)
	require.NoError(t, err)
	return data
}

func imported(t testing.TB, name string, opts ImportOptions) Imported {
	t.Helper()
	in, err := Import(name, file(t, name), opts)
	require.NoError(t, err)
	return in
}

// reasons returns the dropped values as "file:line: date field value: reason".
func reasons(in Imported) []string {
	var all []string
	for _, d := range in.Dropped {
		what := strings.Join(strings.Fields(d.Date.String()+" "+d.Field+" "+d.Value), " ")
		all = append(all, fmt.Sprintf("%s:%d: %s: %s", d.File, d.Line, what, d.Reason))
	}
	return all
}

// The rainfall of August 2016 at Baton Rouge in five layouts. Whole °F and
// hundredths of an inch are behind the archive's tenths.
func TestOneMonthInFiveLayouts(t *testing.T) {
	want := imported(t, "USW00013970_2016-08.dly", ImportOptions{})
	assert.Equal(t, "ghcn-daily", want.Format)
	assert.Equal(t, "USW00013970", want.StationID)
	assert.Empty(t, want.Dropped)
	require.Equal(t, 31, want.Days.Len())
	d := day(t, "2016-08-12")
	assert.Equal(t, 285.5, want.Days.At(RainMM, d), "12 August 2016, the flood")
	assert.Equal(t, 6.2, want.Days.At(WindMS, d))
	assert.Equal(t, 0.0, want.Days.At(RainMM, day(t, "2016-08-01")), "a trace is none")
	assert.True(t, want.Days.Has(GustMS))

	for _, c := range []struct {
		file, format     string
		days             int
		tempC, rain, ms  float64
		checksSnow, wind bool
	}{
		{"by-station_USW00013970_2016-08_rebuilt.csv", "ghcn-by-station", 31, 0, 0, 0, true, true},
		{"user_metric.csv", "csv", 31, 0, 0, 0, false, true},
		{"user_semicolon_decimal_comma.csv", "csv", 14, 0, 0, 0, false, false},
		{"user_us_units_aliases.csv", "csv", 31, 0.051, 0.051, 0.031, false, true},
	} {
		t.Run(c.file, func(t *testing.T) {
			in := imported(t, c.file, ImportOptions{})
			assert.Equal(t, c.format, in.Format)
			assert.Empty(t, in.Dropped)
			require.Equal(t, c.days, in.Days.Len())
			for i := range c.days {
				d := day(t, "2016-08-01").AddDays(i)
				assert.InDelta(t, want.Days.At(TmaxC, d), in.Days.At(TmaxC, d), c.tempC, "%s", d)
				assert.InDelta(t, want.Days.At(TminC, d), in.Days.At(TminC, d), c.tempC, "%s", d)
				assert.InDelta(t, want.Days.At(RainMM, d), in.Days.At(RainMM, d), c.rain, "%s", d)
				if c.wind {
					assert.InDelta(t, want.Days.At(WindMS, d), in.Days.At(WindMS, d), c.ms, "%s", d)
				}
				if c.checksSnow && !math.IsNaN(want.Days.At(SnowMM, d)) {
					assert.Equal(t, want.Days.At(SnowMM, d), in.Days.At(SnowMM, d), "%s", d)
				}
			}
		})
	}
}

func TestFixedWidthFlags(t *testing.T) {
	take := func(id string) Imported { return imported(t, "oddities.dly", ImportOptions{StationID: id}) }

	in := take("USC00011084")
	assert.Contains(t, reasons(in), "oddities.dly:1: 1951-03-14 TMAX 72: failed the archive's own check I (internal consistency)")
	assert.True(t, math.IsNaN(in.Days.At(TmaxC, day(t, "1951-03-14"))))
	assert.Equal(t, 28.3, in.Days.At(TmaxC, day(t, "1951-03-01")))
	assert.Contains(t, strings.Join(reasons(in), "\n"), "a total of several days")
	assert.Equal(t, 0.0, in.Days.At(RainMM, day(t, "1982-01-05")), "presumed zero")
	assert.Contains(t, strings.Join(in.Notes, "\n"), "21 values that the observer left blank are presumed to be 0")
	assert.Contains(t, strings.Join(in.Notes, "\n"), "DAPR")

	in = take("USC00018323")
	assert.Equal(t, []string{"oddities.dly:13: 1983-05-23 PRCP 22860: failed the archive's own check X (bounds)"}, reasons(in))
	assert.Equal(t, 0.0, in.Days.At(RainMM, day(t, "1983-05-02")), "a trace is none")

	in = take("USC00017157")
	assert.Len(t, in.Dropped, 31, "official investigation")
	assert.Zero(t, in.Days.Len())

	assert.Len(t, take("USC00023160").Dropped, 25, "a streak")

	_, err := Import("oddities.dly", file(t, "oddities.dly"), ImportOptions{})
	assert.EqualError(t, err, "oddities.dly: the file holds several stations: name the one to take, of USC00011084, USC00013511, USC00017157, USC00018178, USC00018323, USC00020080, USC00021026, USC00021248, USC00023160, USC00029271, …")
	_, err = Import("oddities.dly", file(t, "oddities.dly"), ImportOptions{StationID: "USW00099999"})
	assert.ErrorContains(t, err, `the station "USW00099999" is not in the file`)
}

func TestFixedWidthSoil(t *testing.T) {
	in := imported(t, "USC00012813_2010-01.dly", ImportOptions{})
	var low, high float64
	for line := range strings.Lines(string(file(t, "USC00012813_2010-01.dly"))) {
		head, ok := dlyLine([]byte(line))
		require.True(t, ok)
		value := strings.TrimSpace(line[dlyHead : dlyHead+dlyValue])
		x, err := plainNumber(value)
		require.NoError(t, err)
		switch head.element {
		case "SN32":
			low = x / 10
		case "SX32":
			high = x / 10
		}
	}
	require.NotZero(t, low)
	assert.InDelta(t, (low+high)/2, in.Days.At(Soil10C, day(t, "2010-01-01")), 0.006)
	assert.Contains(t, strings.Join(in.Notes, "\n"), "under bare ground")
}

func TestByYear(t *testing.T) {
	in := imported(t, "by-year_USW00014922_2014-01.csv", ImportOptions{})
	assert.Equal(t, "ghcn-by-year", in.Format)
	assert.Empty(t, in.Dropped)
	assert.Equal(t, 31, in.Days.Len())
	assert.Equal(t, -17.1, in.Days.At(TmaxC, day(t, "2014-01-01")))
	assert.Equal(t, 150.0, in.Days.At(SnowDepthMM, day(t, "2014-01-01")))
	assert.Equal(t, 3.0, in.Days.At(WindMS, day(t, "2014-01-01")))
	assert.Equal(t, []ObsPeriod{{Time: Midnight}}, in.Obs)

	in, err := Import("x.csv", []byte("US1,20140101,TMAX,200,,,7,0700\nUS1,20140102,TMAX,210,,,7,0800\nUS1,20140103,TMAX,9999,,,7,0800\nUS1,20140104,PRCP,3,T,,7,0800\nUS1,20140232,TMIN,3,,,7,\nUS1,20140101,TMAX,201,,,7,\nUS1,20140105,TMIN,x,,,7,\nUS1\n"), ImportOptions{})
	require.NoError(t, err)
	assert.Equal(t, []ObsPeriod{{Time: Morning}}, in.Obs)
	assert.Equal(t, []string{
		`x.csv:1: 2014-01-01 TMAX 200: the day has several values of tmax_c`,
		`x.csv:3: 2014-01-03 TMAX 9999: tmax_c of 999.9 is outside -60 to 60`,
		`x.csv:5: TMIN 3: "2014-02-32" is not a date: February 2014 has 28 days, not 32`,
		`x.csv:6: 2014-01-01 TMAX 201: the day has several values of tmax_c`,
		`x.csv:7: 2014-01-05 TMIN x: not a whole number`,
		`x.csv:8: : the line has 1 of 8 fields`,
	}, reasons(in))
	assert.Equal(t, 0.0, in.Days.At(RainMM, day(t, "2014-01-04")))
	assert.True(t, math.IsNaN(in.Days.At(TmaxC, day(t, "2014-01-01"))), "which of the two values is right is not known")
}

func TestDailySummaries(t *testing.T) {
	const sitka, valley = "daily-summaries_USW00025333_2021-04_05.csv", "daily-summaries_USC00042319_2021-07.csv"
	in := imported(t, sitka, ImportOptions{Units: UnitsUS})
	assert.Equal(t, "ncei-daily-summaries", in.Format)
	assert.Empty(t, in.Dropped)
	assert.InDelta(t, 2.22, in.Days.At(TmaxC, day(t, "2021-04-01")), 1e-9, "36 °F")
	assert.InDelta(t, 7.11, in.Days.At(RainMM, day(t, "2021-04-01")), 1e-9, "0.28 in")
	assert.InDelta(t, 3.70, in.Days.At(WindMS, day(t, "2021-04-01")), 1e-9, "8.28 mph")
	assert.True(t, math.IsNaN(in.Days.At(TmaxC, day(t, "2021-04-23"))), "empty is missing")
	assert.Equal(t, []string{"not kept: PGTM, TAVG, WDF2, WDF5, WSF2, WT01, WT02, WT04, WT05, WT08, WT09"}, in.Notes)

	hottest := math.Inf(-1)
	in = imported(t, valley, ImportOptions{Units: UnitsUS})
	for _, x := range in.Days.Col(TmaxC) {
		hottest = max(hottest, x)
	}
	assert.Greater(t, hottest, 53.0)
	assert.Less(t, hottest, 56.7)

	for _, c := range []struct {
		file  string
		units UnitSystem
		want  string
	}{
		{sitka, UnitsUndeclared, "the file does not tell its units: declare metric, us or tenths; it looks like us: maxima run to 67, too hot for °C"},
		{valley, UnitsMetric, "the units declared are metric, but the file looks like us: maxima run to 130, too hot for °C"},
		{valley, UnitsTenths, "the units declared are tenths, but the file looks like us: maxima run to 130, too hot for °C"},
	} {
		_, err := Import(c.file, file(t, c.file), ImportOptions{Units: c.units})
		assert.EqualError(t, err, c.file+": "+c.want)
	}

	const head = "STATION,NAME,DATE,PRCP,TMAX,TMIN\n"
	for _, c := range []struct {
		name, rows string
		units      UnitSystem
		want       string
	}{
		{"hundredths of an inch", "S,N,2021-01-01,0.30,41,30\n", UnitsMetric, "the units declared are metric, but the file looks like us: rain is given in hundredths"},
		{"metric by tenths of a degree", "S,N,2021-07-01,0.3,31.1,20\n", UnitsUS, "the units declared are us, but the file looks like metric: maxima are given in tenths"},
		{"tenths are too hot", "S,N,2021-07-01,3,311,200\nS,N,2021-07-02,3,305,200\n", UnitsUS, "the units declared are us, but the file looks like tenths: maxima run to 311, too hot even for °F"},
		{"not to be told", "S,N,2021-07-01,3,20,11\n", UnitsUndeclared, "the file does not tell its units: declare metric (°C, mm), us (°F, in) or tenths; maxima run from 20 to 20"},
		{"no temperatures", "S,N,2021-07-01,3,,\n", UnitsUndeclared, "the file does not tell its units: declare metric (°C, mm), us (°F, in) or tenths; the file has no maximum temperatures"},
		{"a year too cold", strings.Join(yearOfRows(-3, 31), ""), UnitsUS, "the units declared are us, but the file looks like metric: the warmest of 365 maxima is 31, too cold for °F"},
		{"crossed", "S,N,2021-07-01,0.3,30.5,20\nS,N,2021-07-02,0.3,20,30\nS,N,2021-07-03,0.3,20,30\nS,N,2021-07-04,0.3,20,30\n", UnitsMetric, "on 3 of 4 days the maximum is below the minimum: the units or the columns are mixed up"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Import("s.csv", []byte(head+c.rows), ImportOptions{Units: c.units})
			assert.EqualError(t, err, "s.csv: "+c.want)
		})
	}

	in, err := Import("s.csv", []byte("STATION,DATE,PRCP,PRCP_ATTRIBUTES,TMAX,TMAX_ATTRIBUTES\n"+
		"S,2021-07-01,0.3,\"T,,7,0700\",31.1,\",,7,0700\"\nS,2021-07-02,7.5,\",X,7\",x,\nS,2021-07-03,7.5\nS,2021/07/04,7.5,,,\nS,0021-07-04,7.5,,,\n"), ImportOptions{Units: UnitsMetric})
	require.NoError(t, err)
	assert.Equal(t, 0.0, in.Days.At(RainMM, day(t, "2021-07-01")))
	assert.Equal(t, []ObsPeriod{{Time: Morning}}, in.Obs)
	assert.Equal(t, []string{
		"s.csv:3: 2021-07-02 PRCP 7.5: failed the archive's own check X (bounds)",
		"s.csv:3: 2021-07-02 TMAX x: not a number",
		"s.csv:4: 2021-07-03: the line has 3 fields, the header 6",
		`s.csv:5: DATE 2021/07/04: "2021/07/04" is not a date written as YYYYMMDD`,
		"s.csv:6: 0021-07-04: the year is outside 1800 to 2199",
	}, reasons(in))
}

// yearOfRows returns 365 rows of daily summaries whose maxima run from low to
// high.
func yearOfRows(low, high int) []string {
	rows := make([]string, 365)
	for i := range rows {
		x := low + (high-low)*i/364
		rows[i] = fmt.Sprintf("S,N,%s,3,%d,%d\n", civil.MustDate(2021, 1, 1).AddDays(i), x, x-9)
	}
	return rows
}

func TestOldArchiveTables(t *testing.T) {
	in := imported(t, "climate-data-online_USW00024233_2014-01.csv", ImportOptions{StationID: "USW00024233"})
	assert.Equal(t, "ncei-climate-data-online", in.Format)
	assert.Equal(t, "USW00024233", in.StationID)
	assert.Empty(t, in.Dropped)
	assert.Equal(t, 7.2, in.Days.At(TmaxC, day(t, "2014-01-01")))
	assert.Equal(t, 4.1, in.Days.At(RainMM, day(t, "2014-01-02")))
	assert.Equal(t, 1.2, in.Days.At(WindMS, day(t, "2014-01-01")))

	in = imported(t, "by-station_AG000060590.csv", ImportOptions{})
	assert.Equal(t, "ghcn-by-station", in.Format)
	assert.Equal(t, 3.4, in.Days.At(TminC, day(t, "1892-01-01")))
	assert.False(t, in.Days.Has(TmaxC))

	in, err := Import("old.csv", []byte("STATION,DATE,TMAX,Measurement Flag,Quality Flag,Source Flag,Time of Observation,TMIN\nGHCND:S,20140101,200,,,7,1700,-9999\nGHCND:S,20140102,210,,X,7,1700,100\n"), ImportOptions{})
	require.NoError(t, err)
	assert.Equal(t, []string{"old.csv:3: 2014-01-02 TMAX 210: failed the archive's own check X (bounds)"}, reasons(in))
	assert.Equal(t, []ObsPeriod{{Time: Afternoon}}, in.Obs)
}

func TestUserDefects(t *testing.T) {
	in := imported(t, "user_bad_rows.csv", ImportOptions{})
	assert.Equal(t, []string{
		"user_bad_rows.csv:3: 2016-08-02 tmax_c 21.0: the maximum is below the minimum",
		"user_bad_rows.csv:3: 2016-08-02 tmin_c 25.0: the maximum is below the minimum",
		"user_bad_rows.csv:4: 2016-08-03 prcp_mm -1.0: rain_mm of -1 is outside 0 to 1000",
		"user_bad_rows.csv:6: 2016-08-04 tmax_c abc: not a number",
		`user_bad_rows.csv:7: date 2016-02-30: "2016-02-30" is not a date: February 2016 has 29 days, not 30`,
		"user_bad_rows.csv:8: 2016-08-06 tmax_c 94: tmax_c of 94 is outside -60 to 60",
		"user_bad_rows.csv:8: 2016-08-06 tmin_c 75: tmin_c of 75 is outside -60 to 60",
		"user_bad_rows.csv:9: 2016-08-07 rh_mean_pct 130: rh_mean of 130 is outside 0 to 100",
	}, reasons(in))
	assert.Equal(t, 1.0, in.Days.At(RainMM, day(t, "2016-08-03")), "the second line of the day has a possible value")
	assert.True(t, math.IsNaN(in.Days.At(RainMM, day(t, "2016-08-09"))), "-9999 is missing")
	assert.Equal(t, 32.8, in.Days.At(TmaxC, day(t, "2016-08-08")), "lines out of order are sorted")
}

func TestUserTables(t *testing.T) {
	for _, c := range []struct {
		name, text string
		opts       ImportOptions
		want       string // the daily CSV
		obs        []ObsPeriod
	}{
		{"comments tell units, time of observation and form of date",
			"# station: home\n# units: us\n# obs_time: morning\n# date_format: D/M/YYYY\ndate\tmax temp\tlow\train\twind speed\trh\n1/7/2016\t86\t68\tT\t5\t70\n\n# pause\n2/7/2016\t--\t70\t0,5\tNA\t-999.9\n", ImportOptions{},
			"date,tmax_c,tmin_c,rain_mm,rh_mean,wind_ms\n2016-07-01,30.0,20.0,0.0,70.0,2.24\n2016-07-02,,21.11,12.7,,\n", []ObsPeriod{{Time: Morning}}},
		{"every unit in its header",
			"Day,High [degF],Low °F,Rain (inches),Wind (km/h),Gust_kn,Solar (ly),Dew Point (C),Snow (cm),snow depth in,Sunshine (min),Humidity (%),Soil 10 (F)\n20160701,86,68,0.1,36,20,500,12,1.5,2,90,55,70\n", ImportOptions{},
			"date,tmax_c,tmin_c,rain_mm,rh_mean,dew_c,wind_ms,gust_ms,sun_h,solar_mj,soil10_c,snow_mm,snow_depth_mm\n2016-07-01,30.0,20.0,2.54,55.0,12.0,10.0,10.29,1.5,20.93,21.11,15.0,50.8\n", nil},
		{"the workspace's own names",
			"date,tmax_c,tmin_c,rain_mm,rh_mean,rh_max,rh_min,dew_c,wind_ms,gust_ms,sun_h,solar_mj,cloud_pct,soil5_c,soil10_c,wet_h,snow_mm,snow_depth_mm\n2016-07-01,1,0,2,50,60,40,3,4,5,6,7,8,9,10,11,12,13\n", ImportOptions{},
			"date,tmax_c,tmin_c,rain_mm,rh_mean,rh_max,rh_min,dew_c,wind_ms,gust_ms,sun_h,solar_mj,cloud_pct,soil5_c,soil10_c,wet_h,snow_mm,snow_depth_mm\n2016-07-01,1.0,0.0,2.0,50.0,60.0,40.0,3.0,4.0,5.0,6.0,7.0,8.0,9.0,10.0,11.0,12.0,13.0\n", nil},
		{"soil by cover and depth",
			"date,tmax_c,soil5_sod_min_c,soil5_sod_max_c,soil10_bare_min_c,soil10_bare_max_c,soil10_sod_min_c,soil10_sod_max_c\n2016-183,30,20,25,22,30,21,24\n2016-184,30,20,,22,30,25,24\n", ImportOptions{},
			"date,tmax_c,tmin_c,rain_mm,soil5_c,soil10_c\n2016-07-01,30.0,,,22.5,22.5\n2016-07-02,30.0,,,,26.0\n", nil},
		{"soil with its depth in a column",
			"date;soil_temp_c;soil_temp_depth_cm\n1.7.2016;20,5;5\n2.7.2016;20,5;10\n3.7.2016;20,5;20\n", ImportOptions{},
			"date,tmax_c,tmin_c,rain_mm,soil5_c,soil10_c\n2016-07-01,,,,20.5,\n2016-07-02,,,,,20.5\n", nil},
		{"one of several stations, dates with their first instant, units by option",
			"station,valid,tmax,tmin,precip\nA,2016-07-01T00:00,30,20,1\nB,2016-07-01 00:00:00,31,21,2\n", ImportOptions{StationID: "B", Units: UnitsMetric},
			"date,tmax_c,tmin_c,rain_mm\n2016-07-01,31.0,21.0,2.0\n", nil},
		{"equal lines twice are one",
			"date,tmax_c,tmin_c,rain_mm\n2016/07/01,31,21,2\n2016/07/01,31,21,2\n", ImportOptions{},
			"date,tmax_c,tmin_c,rain_mm\n2016-07-01,31.0,21.0,2.0\n", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			in, err := Import("user.csv", []byte(c.text), c.opts)
			require.NoError(t, err)
			var b bytes.Buffer
			require.NoError(t, WriteDaily(&b, in.Days))
			assert.Equal(t, c.want, b.String())
			assert.Equal(t, c.obs, in.Obs)
		})
	}
}

func TestImportRefuses(t *testing.T) {
	for _, c := range []struct {
		name, text string
		opts       ImportOptions
		want       string
	}{
		{"empty", " \n", ImportOptions{}, "the file is empty"},
		{"binary", "PK\x00\x01", ImportOptions{}, "this is not a text file; unpack or export it first"},
		{"prose", "It rained.\n", ImportOptions{}, "not a format that can be read: neither a GHCN-Daily file nor a table with a header line and commas, semicolons or tabs"},
		{"no date", "tmax_c,tmin_c\n1,2\n", ImportOptions{}, "not a format that can be read: the first line names no column of dates, or none of weather"},
		{"two dates", "date,day,tmax_c\n", ImportOptions{}, `column "day": the file has two columns of dates`},
		{"twice", "date,High (F),tmax_c\n", ImportOptions{}, `the columns "High (F)" and "tmax_c" both are tmax_c`},
		{"unit", "date,High (K)\n", ImportOptions{}, `column "High (K)": its unit is not known`},
		{"no units", "date,tmax,tmin,rh\n2016-07-01,95,75,50\n2016-07-02,96,75,50\n", ImportOptions{}, `the units of tmax, tmin are not told: write them in the header, such as "High (°F)", or declare us or metric; maxima run to 96, too hot for °C`},
		{"wrong units", "date,tmax,tmin,rh\n2016-07-01,95,75,50\n2016-07-02,96,75,50\n", ImportOptions{Units: UnitsMetric}, `the units declared are metric, but the file looks like us: maxima run to 96, too hot for °C`},
		{"units against comment", "# units: us\ndate,tmax,tmin\n", ImportOptions{Units: UnitsMetric}, "the units declared are metric, but the file's comment says us"},
		{"comment on units", "# units: imperial\ndate,tmax,tmin\n", ImportOptions{}, `the comment "# units: imperial" says neither us nor metric`},
		{"comment on observation", "# obs_time: noon\ndate,tmax_c\n", ImportOptions{}, `the comment "# obs_time": "noon" is not a time of observation: use midnight, morning or afternoon`},
		{"comment on dates", "# date_format: YY\ndate,tmax_c\n", ImportOptions{}, `the comment "# date_format: YY" is none of YYYY-MM-DD, M/D/YYYY, D/M/YYYY, D.M.YYYY, YYYYMMDD, YYYY-DDD`},
		{"day first", "date,tmax_c\n2/7/2016,30\n13/7/2016,30\n", ImportOptions{}, `line 3: the date 13/7/2016 has its day first: say so with a comment "# date_format: D/M/YYYY" above the header`},
		{"no rows", "STATION,DATE,TMAX\n", ImportOptions{}, "the table has no rows"},
		{"no elements", "STATION,DATE,WT01\nS,2016-07-01,1\n", ImportOptions{}, "the file has none of the elements that are kept, such as TMAX, TMIN and PRCP"},
		{"nothing", "date,tmax_c\n", ImportOptions{}, "the file holds no daily weather values"},
		{"mixed up", "date,tmax_c,tmin_c\n2016-07-01,10,20\n2016-07-02,10,20\n2016-07-03,10,20\n", ImportOptions{}, "on 3 of 3 days the maximum is below the minimum: the units or the columns are mixed up"},
	} {
		t.Run(c.name, func(t *testing.T) {
			in, err := Import("x.txt", []byte(c.text), c.opts)
			assert.EqualError(t, err, "x.txt: "+c.want)
			assert.Equal(t, Imported{}, in, "an error comes with nothing else")
		})
	}
}

// Everything that Import takes can be written and is then read strictly as the
// same series.
func FuzzImport(f *testing.F) {
	names, err := filepath.Glob("testdata/*")
	require.NoError(f, err)
	for _, name := range names {
		if strings.HasSuffix(name, ".csv") || strings.HasSuffix(name, ".dly") {
			f.Add(file(f, filepath.Base(name)), uint8(UnitsUS), "")
		}
	}
	f.Add([]byte("# units: us\ndate;tmax;soil5_sod_min_c;soil5_sod_max_c;rain\n1.2.2016;50,5;3;4;T\n"), uint8(0), "")
	f.Add([]byte("date,rh_min,rh_max,rh,snow\n2016-060,50,40,45,-0\n"), uint8(UnitsMetric), "")
	f.Fuzz(func(t *testing.T, data []byte, units uint8, station string) {
		in, err := Import("f", data, ImportOptions{Units: UnitSystem(units % 4), StationID: station})
		if err != nil {
			require.Equal(t, Imported{}, in)
			return
		}
		var b bytes.Buffer
		require.NoError(t, WriteDaily(&b, in.Days))
		var list diag.List
		back := ReadDaily("daily.csv", b.Bytes(), &list)
		require.NoError(t, list.Err())
		if in.Days.Len() > 0 {
			requireSame(t, in.Days, back)
		}
		again, err := Import("f", data, ImportOptions{Units: UnitSystem(units % 4), StationID: station})
		require.NoError(t, err)
		require.Equal(t, in.Dropped, again.Dropped)
		require.Equal(t, in.Notes, again.Notes)
	})
}
