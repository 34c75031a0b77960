package weather

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/quantity"
)

func day(t testing.TB, s string) civil.Date {
	t.Helper()
	d, err := civil.ParseDate(s)
	require.NoError(t, err)
	return d
}

// requireSame fails unless two series hold the same values on the same days.
func requireSame(t require.TestingT, want, got *Series) {
	require.Equal(t, want.Start.String(), got.Start.String())
	require.Equal(t, want.Len(), got.Len())
	for c := range Columns {
		for i := range want.Len() {
			d := want.Start.AddDays(i)
			w, g := want.At(c, d), got.At(c, d)
			if w != g && !(math.IsNaN(w) && math.IsNaN(g)) {
				require.Failf(t, "series differ", "%s %s: want %v, got %v", d, c.Name(), w, g)
			}
		}
	}
}

func TestReadDaily(t *testing.T) {
	var list diag.List
	s := ReadDaily("daily.csv", []byte("\ufeffdate,tmax_c,tmin_c,rain_mm,rh_mean,wet_h\r\n"+
		"2016-02-27,,,,,\r\n"+
		"2016-02-28,10.5,-0.0,0,88,\r\n"+
		"2016-02-29,11,-1.25,2.5,,\r\n"+
		"2016-03-03,12.345,-2.004,0.254,100.0,\r\n"+
		"2016-03-04,,,,,"), &list)
	require.NoError(t, list.Err())
	assert.Equal(t, "2016-02-28", s.Start.String(), "days without any value at the ends do not count")
	assert.Equal(t, "2016-03-03", s.End().String())
	assert.False(t, s.Has(WetH), "a column without a value is absent")
	assert.False(t, s.Has(DewC))
	assert.Equal(t, 10.5, s.At(TmaxC, day(t, "2016-02-28")))
	assert.False(t, math.Signbit(s.At(TminC, day(t, "2016-02-28"))), "there is no negative zero")
	assert.Equal(t, -1.25, s.At(TminC, day(t, "2016-02-29")))
	assert.True(t, math.IsNaN(s.At(RHMeanPct, day(t, "2016-02-29"))), "an empty field is missing")
	assert.True(t, math.IsNaN(s.At(TmaxC, day(t, "2016-03-01"))), "a left-out day is missing")
	assert.Equal(t, 12.35, s.At(TmaxC, day(t, "2016-03-03")), "half a hundredth rounds away from zero")
	assert.Equal(t, -2.0, s.At(TminC, day(t, "2016-03-03")))
	assert.Equal(t, 0.25, s.At(RainMM, day(t, "2016-03-03")))
	assert.True(t, math.IsNaN(s.At(TmaxC, day(t, "2016-03-04"))), "outside the series")

	var b bytes.Buffer
	require.NoError(t, WriteDaily(&b, s))
	assert.Equal(t, "date,tmax_c,tmin_c,rain_mm,rh_mean\n"+
		"2016-02-28,10.5,0.0,0.0,88.0\n"+
		"2016-02-29,11.0,-1.25,2.5,\n"+
		"2016-03-03,12.35,-2.0,0.25,100.0\n", b.String())
}

func TestReadDailyInUSUnits(t *testing.T) {
	var list diag.List
	s := ReadDaily("daily.csv", []byte("date,tmin_f,tmax_f,rain_in\n2016-08-12,71,81,11.24\n2016-08-13,32,-40,0.005\n2016-08-14,212,,\n"), &list)
	assert.Equal(t, "daily.csv:3: tmax_f: tmax_f -40 is below tmin_f 32\n"+
		"daily.csv:4: tmin_f: 212 is outside -76 to 140; leave the field empty if the value is missing", list.Error())
	d := day(t, "2016-08-12")
	assert.Equal(t, 27.22, s.At(TmaxC, d))
	assert.Equal(t, 21.67, s.At(TminC, d))
	assert.Equal(t, 285.5, s.At(RainMM, d))
	assert.Equal(t, 0.13, s.At(RainMM, d+1), "0.005 in is 0.127 mm: four decimals are read")
}

// Every mistake of a file is told at once, each with its place.
func TestReadDailyMistakes(t *testing.T) {
	const head = "date,tmax_c,tmin_c,rain_mm,rh_mean,rh_max,rh_min\n"
	for _, c := range []struct{ name, text, want string }{
		{"empty file", "", `daily.csv:1:1: no column names; start the file with a line such as date,tmax_c,tmin_c,rain_mm`},
		{"semicolons", "date;tmax_c;tmin_c;rain_mm\n", `daily.csv:1:1: the columns are not separated by commas; start the file with a line such as date,tmax_c,tmin_c,rain_mm`},
		{"columns", "day,tmax_c,tmax_f,snow_depth,prcp,date,tmax_c\n", `
daily.csv:1:1: the first column is "day", not "date"; start the file with a line such as date,tmax_c,tmin_c,rain_mm
daily.csv:1:1: rain_mm: missing column "rain_mm"; add the column; its fields may be empty
daily.csv:1:1: tmin_c: missing column "tmin_c"; add the column; its fields may be empty
daily.csv:1:12: tmax_f: the column stands twice: tmax_c and tmax_f; remove one of them
daily.csv:1:19: unknown column "snow_depth"; did you mean "snow_depth_mm"?
daily.csv:1:30: unknown column "prcp"; the columns are date, tmax_c, tmin_c, rain_mm, rh_mean, rh_max, rh_min, dew_c, wind_ms, gust_ms, sun_h, solar_mj, cloud_pct, soil5_c, soil10_c, wet_h, snow_mm, snow_depth_mm, tmax_f, tmin_f, rain_in; files with other names are to be imported
daily.csv:1:35: date: the column "date" stands twice; remove one of them
daily.csv:1:40: tmax_c: the column stands twice: tmax_c and tmax_c; remove one of them`},
		{"case", "date,Tmax_C,tmin_c,rain_mm\n", `
daily.csv:1:1: tmax_c: missing column "tmax_c"; add the column; its fields may be empty
daily.csv:1:6: unknown column "Tmax_C"; did you mean "tmax_c"?`},
		{"dates", head + "2016-02-30,1,0,0,,,\n2016-03-01,1,0,0,,,\n2016-03-01,2,1,0,,,\n2016-02-28,2,1,0,,,\n03/05/2016,2,1,0,,,\n0216-03-06,2,1,0,,,\n# note,,,,,,\n\n2016-03-32,1,1,1,,,\n", `
daily.csv:2:1: date: "2016-02-30" is not a date: February 2016 has 29 days, not 30; write it as 2026-11-25
daily.csv:4:1: date: 2016-03-01 stands twice; remove one of the two lines
daily.csv:5:1: date: 2016-02-28 stands below 2016-03-01; sort the lines by date
daily.csv:6:1: date: "03/05/2016" is not a date written as YYYY-MM-DD; write it as 2026-11-25
daily.csv:7:1: date: 0216-03-06 is outside 1800-01-01 to 2199-12-31
daily.csv:8:1: date: "# note" is not a date written as YYYY-MM-DD; the file has no comments
daily.csv:9:1: empty line; remove the line
daily.csv:10:1: date: "2016-03-32" is not a date: March 2016 has 31 days, not 32; write it as 2026-11-25`},
		{"numbers", head + "2016-03-01,NaN,inf,1e3,M, 50,-\n2016-03-02,+5,.5,5.,5..0,0x1,1234567890\n2016-03-03,12,5,11,0,0,0,0\n2016-03-04,12\n2016-03-05\n", `
daily.csv:2:12: tmax_c: "NaN" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:2:16: tmin_c: "inf" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:2:20: rain_mm: "1e3" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:2:24: rh_mean: "M" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:2:26: rh_max: " 50" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:2:30: rh_min: "-" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:3:12: tmax_c: "+5" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:3:15: tmin_c: ".5" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:3:18: rain_mm: "5." is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:3:21: rh_mean: "5..0" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:3:26: rh_max: "0x1" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:3:30: rh_min: "1234567890" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
daily.csv:4:25: the line has more than 7 fields; write one field for each column; decimals take a point
daily.csv:5:14: tmin_c: the line ends after 2 of 7 fields; write every comma, also after empty fields
daily.csv:6:11: tmax_c: the line ends after 1 of 7 fields; write every comma, also after empty fields`},
		{"values", head + "2016-03-01,5,5.1,-0.1,101,,\n2016-03-02,94,75,0,,,\n2016-03-03,5,4,2000,50,40,60\n2016-03-04,-9999,-999.9,0,,,\n", `
daily.csv:2:12: tmax_c: tmax_c 5 is below tmin_c 5.1
daily.csv:2:18: rain_mm: -0.1 is outside 0 to 1000; leave the field empty if the value is missing
daily.csv:2:23: rh_mean: 101 is outside 0 to 100; leave the field empty if the value is missing
daily.csv:3:12: tmax_c: 94 is outside -60 to 60; °F stand in the columns tmax_f and tmin_f; a missing value is an empty field
daily.csv:3:15: tmin_c: 75 is outside -60 to 60; °F stand in the columns tmax_f and tmin_f; a missing value is an empty field
daily.csv:4:16: rain_mm: 2000 is outside 0 to 1000; leave the field empty if the value is missing
daily.csv:4:21: rh_mean: rh_mean 50 is below rh_min 60
daily.csv:4:24: rh_max: rh_max 40 is below rh_mean 50
daily.csv:4:24: rh_max: rh_max 40 is below rh_min 60
daily.csv:5:12: tmax_c: -9999 is outside -60 to 60; °F stand in the columns tmax_f and tmin_f; a missing value is an empty field
daily.csv:5:18: tmin_c: -999.9 is outside -60 to 60; °F stand in the columns tmax_f and tmin_f; a missing value is an empty field`},
	} {
		t.Run(c.name, func(t *testing.T) {
			var list diag.List
			ReadDaily("daily.csv", []byte(c.text), &list)
			var got []string
			for _, p := range list.All() {
				at := fmt.Sprintf("%s:%d:", p.File, p.Line)
				got = append(got, strings.Replace(p.String(), at, fmt.Sprintf("%s%d:", at, p.Col), 1))
			}
			assert.Equal(t, strings.TrimPrefix(c.want, "\n"), strings.Join(got, "\n"))
		})
	}
}

func TestReadForecast(t *testing.T) {
	issued := day(t, "2016-07-16")
	var list diag.List
	f := ReadForecast("2016-07-16.csv", []byte("date,tmax_c,tmin_c,rain_mm\n2016-07-16,,20,\n2016-07-17,30,21,4\n2016-08-01,31,20,\n"), issued, &list)
	require.NoError(t, list.Err())
	assert.Equal(t, issued, f.Issued)
	assert.Equal(t, 17, f.Days.Len())
	assert.Equal(t, 4.0, f.Days.At(RainMM, issued+1))

	var b bytes.Buffer
	require.NoError(t, WriteForecast(&b, f))
	assert.Equal(t, "date,tmax_c,tmin_c,rain_mm\n2016-07-16,,20.0,\n2016-07-17,30.0,21.0,4.0\n2016-08-01,31.0,20.0,\n", b.String())

	ReadForecast("2016-07-16.csv", []byte("date,tmax_c,tmin_c,rain_mm\n2016-07-15,30,20,0\n2016-08-02,30,20,0\n"), issued, &list)
	assert.Equal(t, "2016-07-16.csv:2: date: 2016-07-15 is outside 2016-07-16 to 2016-08-01\n"+
		"2016-07-16.csv:3: date: 2016-08-02 is outside 2016-07-16 to 2016-08-01", list.Error())

	f.Issued++
	assert.EqualError(t, WriteForecast(&b, f), "the days 2016-07-16 to 2016-08-01 of a forecast of 2016-07-17 are not within the 16 days after it")
}

// What ReadDaily would refuse is not written.
func TestWriteDailyRefuses(t *testing.T) {
	d := day(t, "2016-07-16")
	for _, c := range []struct {
		column Column
		value  float64
		want   string
	}{
		{TmaxC, math.Inf(1), "2016-07-16: tmax_c +Inf is outside -60 to 60"},
		{TmaxC, 19, "2016-07-16: tmax_c 19 is below tmin_c 20"},
		{RainMM, -1, "2016-07-16: rain_mm -1 is outside 0 to 1000"},
		{RHMaxPct, 30, "2016-07-16: rh_max 30 is below rh_min 40"},
	} {
		s := NewSeries(d, 1)
		s.Set(TmaxC, d, 30)
		s.Set(TminC, d, 20)
		s.Set(RHMinPct, d, 40)
		s.Set(c.column, d, c.value)
		var b bytes.Buffer
		assert.EqualError(t, WriteDaily(&b, s), c.want)
		assert.Empty(t, b.String())
	}
	assert.EqualError(t, WriteDaily(new(bytes.Buffer), NewSeries(civil.MustDate(1799, 12, 31), 2)),
		"the days 1799-12-31 to 1800-01-01 are outside the years 1800 to 2199")
}

// A column that lost its last value is as good as absent.
func TestWriteDailyWithAnEmptiedColumn(t *testing.T) {
	d := day(t, "2016-07-16")
	s := NewSeries(d, 1)
	s.Set(RHMinPct, d, 40)
	s.Set(RHMeanPct, d, 60)
	s.Set(RHMeanPct, d, math.NaN())
	var b bytes.Buffer
	require.NoError(t, WriteDaily(&b, s))
	assert.Equal(t, "date,tmax_c,tmin_c,rain_mm,rh_min\n2016-07-16,,,,40.0\n", b.String())
}

// drawSeries draws a series of possible values with gaps.
func drawSeries(t *rapid.T, label string) *Series {
	start := civil.MustDate(2015, 12, 1).AddDays(rapid.IntRange(0, 120).Draw(t, label+" start"))
	s := NewSeries(start, rapid.IntRange(0, 40).Draw(t, label+" days"))
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, label+" seed"), 0))
	has := rng.Uint64() | 7
	for i := range s.Len() {
		d := start.AddDays(i)
		for c := range Columns {
			if has&(1<<c) == 0 || rng.IntN(4) == 0 {
				continue
			}
			low, high := c.limits()
			s.Set(c, d, quantity.Hundredths(low+rng.Float64()*(high-low)))
		}
		for _, p := range [][2]Column{{TminC, TmaxC}, {RHMinPct, RHMaxPct}, {RHMinPct, RHMeanPct}, {RHMeanPct, RHMaxPct}} {
			if lo, hi := s.At(p[0], d), s.At(p[1], d); hi < lo {
				s.Set(p[0], d, math.NaN())
			}
		}
	}
	return s
}

func TestWrittenDailyReadsBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSeries(t, "a")
		var first, second bytes.Buffer
		require.NoError(t, WriteDaily(&first, s))
		var list diag.List
		back := ReadDaily("daily.csv", first.Bytes(), &list)
		require.NoError(t, list.Err())
		for c := range Columns {
			for i := range s.Len() {
				d := s.Start.AddDays(i)
				if w, g := s.At(c, d), back.At(c, d); w != g && !(math.IsNaN(w) && math.IsNaN(g)) {
					t.Fatalf("%s %s: wrote %v, read %v", d, c.Name(), w, g)
				}
			}
		}
		require.NoError(t, WriteDaily(&second, back))
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Fatalf("wrote\n%s\nthen\n%s", first.String(), second.String())
		}
	})
}

func FuzzReadDaily(f *testing.F) {
	f.Add([]byte("date,tmax_c,tmin_c,rain_mm\n2016-02-28,10.5,-0.0,0\n2016-03-01,,,\n2016-03-02,1,0.999,0.005\n"))
	f.Add([]byte("\ufeffdate,rain_in,tmax_f,tmin_f,rh_max,rh_min,rh_mean,snow_depth_mm\r\n2016-02-28,0.01,95,71,,,,\r\n2016-02-29,,-40,-40,100,20,50,1.25"))
	f.Add([]byte("date,tmax_c,tmin_c,rain_mm\n1800-01-01,1,1,1\n2199-12-31,1,1,1\n"))
	f.Add([]byte("date,tmax_c,tmin_c,rain_mm\n\n,\n2016-02-30,a,b,c,d\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		var list diag.List
		s := ReadDaily("daily.csv", text, &list)
		var b, again bytes.Buffer
		err := WriteDaily(&b, s)
		if list.Err() != nil {
			return
		}
		require.NoError(t, err, "what was read can be written")
		back := ReadDaily("daily.csv", b.Bytes(), &list)
		require.NoError(t, list.Err())
		requireSame(t, s, back)
		require.NoError(t, WriteDaily(&again, back))
		require.Equal(t, b.String(), again.String())
	})
}

func FuzzReadForecast(f *testing.F) {
	f.Add([]byte("date,tmax_c,tmin_c,rain_mm\n2016-07-17,30,20,\n2016-07-18,30,20,1\n"), int32(736161))
	f.Fuzz(func(t *testing.T, text []byte, issued int32) {
		var list diag.List
		fc := ReadForecast("f.csv", text, civil.Date(issued), &list)
		if list.Err() != nil {
			return
		}
		var b bytes.Buffer
		require.NoError(t, WriteForecast(&b, fc))
		requireSame(t, fc.Days, ReadForecast("f.csv", b.Bytes(), civil.Date(issued), &list).Days)
		require.NoError(t, list.Err())
	})
}
