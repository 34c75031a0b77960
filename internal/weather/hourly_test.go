package weather

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/quantity"
)

func zoneOf(t testing.TB, name string) *time.Location {
	t.Helper()
	loc, err := time.LoadLocation(name)
	require.NoError(t, err)
	return loc
}

// same reports whether two values are equal or both missing.
func same(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func requireSameHours(t require.TestingT, want, got HourlyForecast) {
	require.Equal(t, want.Issued, got.Issued)
	require.Len(t, got.Hours, len(want.Hours))
	for i, w := range want.Hours {
		g := got.Hours[i]
		require.Equal(t, [3]int{int(w.Date), w.Of, w.UTCOffsetMin}, [3]int{int(g.Date), g.Of, g.UTCOffsetMin})
		for q := range hourlyQuantities {
			require.True(t, same(*q.of(&w), *q.of(&g)), "%s %d h: want %v, got %v", w.Date, w.Of, *q.of(&w), *q.of(&g))
		}
	}
}

func TestReadHourlyForecast(t *testing.T) {
	issued := day(t, "2026-11-22")
	var list diag.List
	f := ReadHourlyForecast("2026-11-22-hourly.csv", []byte("\ufefftime,rain_mm,temp_c,gust_ms,rh\r\n"+
		"2026-11-22T00:00,,,,\r\n"+
		"2026-11-22T14:00,0.254,12.345,,88\r\n"+
		"2026-11-22T15:00,,-0.0,9.5,100\r\n"+
		"2026-12-08T23:00,0,,,"), issued, zoneOf(t, "America/New_York"), &list)
	require.NoError(t, list.Err())
	assert.Equal(t, issued, f.Issued)
	require.Len(t, f.Hours, 4)
	assert.True(t, math.IsNaN(f.Hours[0].TC))
	h := f.Hours[1]
	assert.Equal(t, issued, h.Date)
	assert.Equal(t, 14, h.Of)
	assert.Equal(t, -300, h.UTCOffsetMin)
	assert.Equal(t, 12.35, h.TC)
	assert.Equal(t, 0.25, h.RainMM)
	assert.Equal(t, 88.0, h.RHPct)
	assert.True(t, math.IsNaN(h.GustMS), "an empty field is missing")
	assert.True(t, math.IsNaN(h.WindMS), "a column that is not there is missing")
	assert.True(t, math.IsNaN(h.CloudPct))
	assert.Equal(t, 9.5, f.Hours[2].GustMS)
	assert.False(t, math.Signbit(f.Hours[2].TC), "there is no negative zero")
	assert.Equal(t, issued+16, f.Hours[3].Date)

	var b bytes.Buffer
	require.NoError(t, WriteHourlyForecast(&b, f))
	assert.Equal(t, "time,temp_c,rh,wind_ms,gust_ms,cloud_pct,rain_mm\n"+
		"2026-11-22T00:00,,,,,,\n"+
		"2026-11-22T14:00,12.35,88.0,,,,0.25\n"+
		"2026-11-22T15:00,0.0,100.0,,9.5,,\n"+
		"2026-12-08T23:00,,,,,,0.0\n", b.String())
}

func TestReadHourlyForecastInUSUnits(t *testing.T) {
	var list diag.List
	f := ReadHourlyForecast("f.csv", []byte("time,temp_f,wind_mph,gust_mph,rain_in\n"+
		"2026-11-22T14:00,81,10,22.5,0.005\n2026-11-22T15:00,212,400,-1,50\n"), day(t, "2026-11-22"), time.UTC, &list)
	assert.Equal(t, "f.csv:3: temp_f: 212 is outside -76 to 140; leave the field empty if the value is missing\n"+
		"f.csv:3: wind_mph: 400 is outside 0 to 134.22; leave the field empty if the value is missing\n"+
		"f.csv:3: gust_mph: -1 is outside 0 to 268.43; leave the field empty if the value is missing\n"+
		"f.csv:3: rain_in: 50 is outside 0 to 39.37; leave the field empty if the value is missing", list.Error())
	require.Len(t, f.Hours, 2)
	assert.Equal(t, 27.22, f.Hours[0].TC)
	assert.Equal(t, 4.47, f.Hours[0].WindMS)
	assert.Equal(t, 10.06, f.Hours[0].GustMS)
	assert.Equal(t, 0.13, f.Hours[0].RainMM)
}

// On the days on which the clock changes, the United States have 23 and 25
// hours: set forward at 2 a.m. on the second Sunday of March, back at 2 a.m. on
// the first Sunday of November (Energy Policy Act of 2005, Pub. L. 109-58, sec. 110).
func TestHourlyForecastOverAChangeOfTheClock(t *testing.T) {
	newYork := zoneOf(t, "America/New_York")
	day24 := func(date string) []string {
		var lines []string
		for h := range 24 {
			lines = append(lines, fmt.Sprintf("%sT%02d:00,10", date, h))
		}
		return lines
	}
	read := func(issued string, lines []string) (HourlyForecast, string) {
		var list diag.List
		f := ReadHourlyForecast("f.csv", []byte("time,temp_c\n"+strings.Join(lines, "\n")), day(t, issued), newYork, &list)
		var said []string
		for _, p := range list.All() {
			said = append(said, p.String())
		}
		return f, strings.Join(said, "\n")
	}
	offsets := func(f HourlyForecast) (out []int) {
		for _, h := range f.Hours {
			out = append(out, h.UTCOffsetMin)
		}
		return out
	}

	spring := day24("2026-03-08")
	f, said := read("2026-03-08", spring)
	assert.Equal(t, "f.csv:4: time: there is no 2026-03-08T02:00 in America/New_York; remove the line: the clock is set forward over it", said)
	assert.Len(t, f.Hours, 23)
	f, said = read("2026-03-08", append(spring[:2:2], spring[3:]...))
	assert.Empty(t, said)
	assert.Equal(t, []int{-300, -300, -240, -240}, offsets(f)[:4])

	fall := day24("2026-11-01")
	f, said = read("2026-11-01", fall)
	assert.Empty(t, said, "the second of the hours may be left out")
	assert.Equal(t, []int{-240, -240, -300}, offsets(f)[:3])
	twice := append(fall[:2:2], fall[1:]...)
	f, said = read("2026-11-01", twice)
	assert.Empty(t, said)
	require.Len(t, f.Hours, 25)
	assert.Equal(t, []int{-240, -240, -300, -300}, offsets(f)[:4])
	assert.Equal(t, 1, f.Hours[2].Of)
	var b bytes.Buffer
	require.NoError(t, WriteHourlyForecast(&b, f), "the repeated hour is later in time")
	_, said = read("2026-11-01", append(fall[:2:2], twice[1:]...))
	assert.Equal(t, "f.csv:5: time: 2026-11-01T01:00 stands more than twice; remove one of the lines", said)
	_, said = read("2026-11-01", append(fall[:3:3], fall[1]))
	assert.Equal(t, "f.csv:5: time: 2026-11-01T01:00 stands below 2026-11-01T02:00; sort the lines by time", said)

	// Half an hour is set back at Lord Howe Island: no full hour comes twice, and
	// in spring the clock goes from 2:00 to 2:30, so that there is no 2:00.
	howe := zoneOf(t, "Australia/Lord_Howe")
	assert.Len(t, hoursOf(day(t, "2026-04-05"), 1, howe), 1)
	assert.Len(t, hoursOf(day(t, "2026-04-05"), 2, howe), 1)
	assert.Empty(t, hoursOf(day(t, "2026-10-04"), 2, howe))
}

// Every mistake of a file is told at once, each with its place.
func TestReadHourlyForecastMistakes(t *testing.T) {
	const head = "time,temp_c,rh,wind_ms\n"
	const start = "start the file with a line such as time,temp_c,rh,wind_ms,gust_ms,cloud_pct,rain_mm"
	for _, c := range []struct{ name, text, want string }{
		{"empty file", "", `f.csv:1:1: no column names; ` + start},
		{"semicolons", "time;temp_c\n", `f.csv:1:1: the columns are not separated by commas; ` + start},
		{"a daily file", "date,tmax_c,tmin_c,rain_mm\n2026-11-22,12,3,0\n", `
f.csv:1:1: the first column is "date", not "time"; ` + start + `
f.csv:1:1: temp_c: missing column "temp_c"; add the column; its fields may be empty
f.csv:1:6: unknown column "tmax_c"; use one of cloud_pct, gust_mph, gust_ms, rain_in, rain_mm, rh, temp_c, temp_f, time, wind_mph, wind_ms
f.csv:1:13: unknown column "tmin_c"; use one of cloud_pct, gust_mph, gust_ms, rain_in, rain_mm, rh, temp_c, temp_f, time, wind_mph, wind_ms`},
		{"columns", "time,temp_c,temp_f,gusts_ms,time,wind_ms,wind_mph\n", `
f.csv:1:13: temp_f: the column stands twice: temp_c and temp_f; remove one of them
f.csv:1:20: unknown column "gusts_ms"; did you mean "gust_ms"?
f.csv:1:29: time: the column "time" stands twice; remove one of them
f.csv:1:42: wind_mph: the column stands twice: wind_ms and wind_mph; remove one of them`},
		{"times", head + "2026-11-22 14:00,1,,\n2026-11-22T14:30,1,,\n2026-11-22T24:00,1,,\n2026-11-31T01:00,1,,\n2026-11-22T2:00,1,,\n2026-11-22,1,,\n# note\n\n" +
			"2026-11-21T23:00,1,,\n2026-12-09T00:00,1,,\n2026-11-22T05:00,1,,\n2026-11-22T05:00,1,,\n2026-11-22T04:00,1,,\n2026-11-22T06:00Z,1,,\n2026-11-22T+6:00,1,,\n", `
f.csv:2:1: time: "2026-11-22 14:00" is not a full hour written as YYYY-MM-DDTHH:00; write it as 2026-11-22T14:00
f.csv:3:1: time: "2026-11-22T14:30" is not a full hour written as YYYY-MM-DDTHH:00; write it as 2026-11-22T14:00
f.csv:4:1: time: "2026-11-22T24:00" is not an hour of the day: the hours are 00 to 23; write it as 2026-11-22T14:00
f.csv:5:1: time: "2026-11-31" is not a date: November 2026 has 30 days, not 31; write it as 2026-11-22T14:00
f.csv:6:1: time: "2026-11-22T2:00" is not a full hour written as YYYY-MM-DDTHH:00; write it as 2026-11-22T14:00
f.csv:7:1: time: "2026-11-22" is not a full hour written as YYYY-MM-DDTHH:00; write it as 2026-11-22T14:00
f.csv:8:1: time: "# note" is not a full hour written as YYYY-MM-DDTHH:00; the file has no comments
f.csv:9:1: empty line; remove the line
f.csv:10:1: time: 2026-11-21T23:00 is outside 2026-11-22 to 2026-12-08
f.csv:11:1: time: 2026-12-09T00:00 is outside 2026-11-22 to 2026-12-08
f.csv:13:1: time: 2026-11-22T05:00 stands more than once; remove one of the lines
f.csv:14:1: time: 2026-11-22T04:00 stands below 2026-11-22T05:00; sort the lines by time
f.csv:15:1: time: "2026-11-22T06:00Z" is not a full hour written as YYYY-MM-DDTHH:00; write it as 2026-11-22T14:00
f.csv:16:1: time: "2026-11-22T+6:00" is not a full hour written as YYYY-MM-DDTHH:00; write it as 2026-11-22T14:00`},
		{"numbers", head + "2026-11-22T00:00,NaN,M,1e1\n2026-11-22T01:00,+5, 50,.5\n2026-11-22T02:00,5,50,1,0,7\n2026-11-22T03:00,5\n2026-11-22T04:00\n", `
f.csv:2:18: temp_c: "NaN" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
f.csv:2:22: rh: "M" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
f.csv:2:24: wind_ms: "1e1" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
f.csv:3:18: temp_c: "+5" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
f.csv:3:21: rh: " 50" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
f.csv:3:25: wind_ms: ".5" is not a number; write a plain number such as 12.5, or leave the field empty if the value is missing
f.csv:4:24: the line has more than 4 fields; write one field for each column; decimals take a point
f.csv:5:19: rh: the line ends after 2 of 4 fields; write every comma, also after empty fields
f.csv:6:17: temp_c: the line ends after 1 of 4 fields; write every comma, also after empty fields`},
		{"values", head + "2026-11-22T00:00,75,101,-1\n2026-11-22T01:00,-9999,,61\n", `
f.csv:2:18: temp_c: 75 is outside -60 to 60; °F stand in the column temp_f; a missing value is an empty field
f.csv:2:21: rh: 101 is outside 0 to 100; leave the field empty if the value is missing
f.csv:2:25: wind_ms: -1 is outside 0 to 60; leave the field empty if the value is missing
f.csv:3:18: temp_c: -9999 is outside -60 to 60; °F stand in the column temp_f; a missing value is an empty field
f.csv:3:25: wind_ms: 61 is outside 0 to 60; leave the field empty if the value is missing`},
	} {
		t.Run(c.name, func(t *testing.T) {
			var list diag.List
			ReadHourlyForecast("f.csv", []byte(c.text), day(t, "2026-11-22"), zoneOf(t, "America/New_York"), &list)
			var got []string
			for _, p := range list.All() {
				at := fmt.Sprintf("%s:%d:", p.File, p.Line)
				got = append(got, strings.Replace(p.String(), at, fmt.Sprintf("%s%d:", at, p.Col), 1))
			}
			assert.Equal(t, strings.TrimPrefix(c.want, "\n"), strings.Join(got, "\n"))
		})
	}
}

// What ReadHourlyForecast would refuse is not written.
func TestWriteHourlyForecastRefuses(t *testing.T) {
	issued := day(t, "2026-11-22")
	hour := func(d civil.Date, of int, windMS float64) Hour {
		h := unknownHour()
		h.Date, h.Of, h.WindMS = d, of, windMS
		return h
	}
	for _, c := range []struct {
		want  string
		hours []Hour
	}{
		{"2026-11-21 5 h of a forecast of 2026-11-22 is not an hour of the 16 days after it", []Hour{hour(issued-1, 5, 1)}},
		{"2026-12-09 0 h of a forecast of 2026-11-22 is not an hour of the 16 days after it", []Hour{hour(issued+17, 0, 1)}},
		{"2026-11-22 24 h of a forecast of 2026-11-22 is not an hour of the 16 days after it", []Hour{hour(issued, 24, 1)}},
		{"2026-11-22 5 h does not follow the hour before it", []Hour{hour(issued, 5, 1), hour(issued, 5, 1)}},
		{"2026-11-22 5 h: wind_ms -1 is outside 0 to 60", []Hour{hour(issued, 5, -1)}},
		{"2026-11-22 5 h: wind_ms +Inf is outside 0 to 60", []Hour{hour(issued, 5, math.Inf(1))}},
	} {
		var b bytes.Buffer
		assert.EqualError(t, WriteHourlyForecast(&b, HourlyForecast{issued, c.hours}), c.want)
		assert.Empty(t, b.String())
	}
}

func TestWrittenHourlyForecastReadsBackTheSame(t *testing.T) {
	loc := zoneOf(t, "America/New_York")
	rapid.Check(t, func(t *rapid.T) {
		f := HourlyForecast{Issued: civil.MustDate(2026, 10, 20).AddDays(rapid.IntRange(0, 160).Draw(t, "issued"))}
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		for i := range 17 * 24 {
			for _, begin := range hoursOf(f.Issued.AddDays(i/24), i%24, loc) {
				_, offset := begin.Zone()
				h := unknownHour()
				h.Date, h.Of, h.UTCOffsetMin = f.Issued.AddDays(i/24), i%24, offset/60
				for q := range hourlyQuantities {
					low, high := hourlyFields()[q].like.limits()
					if rng.IntN(3) > 0 {
						*q.of(&h) = quantity.Hundredths(low + rng.Float64()*(high-low))
					}
				}
				// An hour that comes twice is told apart only where both are there.
				if rng.IntN(4) > 0 || len(hoursOf(h.Date, h.Of, loc)) > 1 {
					f.Hours = append(f.Hours, h)
				}
			}
		}
		var b, again bytes.Buffer
		require.NoError(t, WriteHourlyForecast(&b, f))
		var list diag.List
		back := ReadHourlyForecast("f.csv", b.Bytes(), f.Issued, loc, &list)
		require.NoError(t, list.Err())
		requireSameHours(t, f, back)
		require.NoError(t, WriteHourlyForecast(&again, back))
		require.Equal(t, b.String(), again.String())
	})
}

// An issue sees the newest hourly forecast that is two days old at most, and
// none that was issued after it.
func TestNewestHourly(t *testing.T) {
	issue := day(t, "2026-11-22")
	issuedOn := func(days ...int) (out []HourlyForecast) {
		for _, n := range days {
			out = append(out, HourlyForecast{Issued: issue.AddDays(n)})
		}
		return out
	}
	for _, c := range []struct {
		ago  []int
		want int // 1: none
	}{
		{nil, 1}, {[]int{-3}, 1}, {[]int{1}, 1}, {[]int{-3, 1}, 1},
		{[]int{-2}, -2}, {[]int{0}, 0}, {[]int{-3, -2, -1, 1}, -1}, {[]int{-1, -2}, -1}, {[]int{-2, 0, 2}, 0},
	} {
		got := NewestHourly(issuedOn(c.ago...), issue)
		if c.want == 1 {
			assert.Nil(t, got, "%v", c.ago)
		} else if assert.NotNil(t, got, "%v", c.ago) {
			assert.Equal(t, issue.AddDays(c.want), got.Issued, "%v", c.ago)
		}
	}
}

func FuzzReadHourlyForecast(f *testing.F) {
	f.Add([]byte("time,temp_c,rh,wind_ms,gust_ms,cloud_pct,rain_mm\n2026-11-22T00:00,1.25,88,,,,0\n2026-11-22T02:00,-0.0,,3,9,100,\n"), int32(739942))
	f.Add([]byte("\ufefftime,temp_f,wind_mph,gust_mph,rain_in\r\n2026-11-01T01:00,50,10,,0.01\r\n2026-11-01T01:00,50,10,,\r\n2026-11-01T02:00,50,,,"), int32(739921))
	f.Add([]byte("time,temp_c\n2026-03-08T01:00,1\n2026-03-08T02:00,1\n\n,\n2026-03-08,x\n"), int32(739683))
	loc := zoneOf(f, "America/New_York")
	f.Fuzz(func(t *testing.T, text []byte, issued int32) {
		var list diag.List
		fc := ReadHourlyForecast("f.csv", text, civil.Date(issued), loc, &list)
		var b, again bytes.Buffer
		require.NoError(t, WriteHourlyForecast(&b, fc), "what was read can be written")
		back := ReadHourlyForecast("f.csv", b.Bytes(), civil.Date(issued), loc, &list)
		if list.Err() != nil {
			return
		}
		requireSameHours(t, fc, back)
		require.NoError(t, WriteHourlyForecast(&again, back))
		require.Equal(t, b.String(), again.String())
	})
}

func BenchmarkReadHourlyForecast(b *testing.B) {
	issued := civil.MustDate(2026, 11, 22)
	f := HourlyForecast{Issued: issued}
	for i := range 8 * 24 {
		f.Hours = append(f.Hours, Hour{Date: issued.AddDays(i / 24), Of: i % 24, TC: 12.3, RHPct: 88, WindMS: 3.4, GustMS: 6.7, CloudPct: 50, RainMM: 0})
	}
	var text bytes.Buffer
	require.NoError(b, WriteHourlyForecast(&text, f))
	loc := zoneOf(b, "America/New_York")
	b.SetBytes(int64(text.Len()))
	b.ReportAllocs()
	for b.Loop() {
		var list diag.List
		if f := ReadHourlyForecast("f.csv", text.Bytes(), issued, loc, &list); len(f.Hours) != 8*24 || list.Err() != nil {
			b.Fatal("not read")
		}
	}
}
