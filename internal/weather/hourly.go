package weather

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/quantity"
)

// Hour is one hour of an hourly forecast. NaN is missing.
type Hour struct {
	Date         civil.Date
	Of           int     // 0 to 23 on the clock of the place; the hour from Of to Of + 1
	UTCOffsetMin int     // what that clock is ahead of UTC, min; negative west of Greenwich
	TC           float64 // air temperature, °C
	RHPct        float64 // relative humidity, %
	WindMS       float64 // wind speed, m/s
	GustMS       float64 // strongest gust, m/s
	CloudPct     float64 // total cloud, %
	RainMM       float64 // rain of the hour, mm
}

// HourlyForecast is one hourly forecast as it was on the day it was issued.
type HourlyForecast struct {
	Issued civil.Date
	Hours  []Hour // one after the other in time; hours may be left out
}

// hourlyQuantity is what an hour knows, in the order in which it is written.
type hourlyQuantity uint8

const (
	hourTC hourlyQuantity = iota
	hourRHPct
	hourWindMS
	hourGustMS
	hourCloudPct
	hourRainMM
	hourlyQuantities
)

// of returns where an hour keeps the quantity.
func (q hourlyQuantity) of(h *Hour) *float64 {
	return [...]*float64{&h.TC, &h.RHPct, &h.WindMS, &h.GustMS, &h.CloudPct, &h.RainMM}[q]
}

// hourlyField is a column of an hourly CSV.
type hourlyField = csvField[hourlyQuantity]

// hourlyFields lists the columns that an hourly CSV may have after its time:
// those of the files that are written, then those in US units.
func hourlyFields() []hourlyField {
	return []hourlyField{
		{"temp_c", hourTC, TmaxC, unitOwn, "°F stand in the column temp_f; a missing value is an empty field"},
		{"rh", hourRHPct, RHMeanPct, unitOwn, ""}, {"wind_ms", hourWindMS, WindMS, unitOwn, ""}, {"gust_ms", hourGustMS, GustMS, unitOwn, ""},
		{"cloud_pct", hourCloudPct, CloudPct, unitOwn, ""}, {"rain_mm", hourRainMM, RainMM, unitOwn, ""},
		{"temp_f", hourTC, TmaxC, unitF, ""}, {"wind_mph", hourWindMS, WindMS, unitMPH, ""}, {"gust_mph", hourGustMS, GustMS, unitMPH, ""},
		{"rain_in", hourRainMM, RainMM, unitIn, ""},
	}
}

// ReadHourlyForecast reads the text of an hourly forecast CSV, strictly, with
// every mistake recorded in the list under the name file, with line and column,
// and all of them at once. What is not at fault is read all the same.
//
// The first line names the columns: "time" first, then in any order temp_c
// (°C), rh (%), wind_ms (m/s), gust_ms (m/s), cloud_pct (%) and rain_mm (mm).
// temp_c is required; temp_f (°F), wind_mph (mph), gust_mph (mph) and rain_in
// (in) may stand instead. One line an hour follows: its time is when the hour
// begins, on the clock of the place, such as 2026-11-22T14:00, and its rain what
// falls until the next full hour. Times ascend, and may leave hours out. They
// lie from the day of issue to 16 days after it. An empty field is a missing
// value. Numbers are plain decimals, kept to 0.01 of their unit. A byte order
// mark and CRLF line ends are accepted.
//
// The clock is that of loc. Where it is set forward, the hour that it skips is
// a mistake: the day has 23 hours. Where it is set back, the hour that it shows
// twice may stand twice, one below the other, the earlier first, and the day has
// 25; if it stands once it is the earlier. Any other hour stands once.
func ReadHourlyForecast(file string, text []byte, issued civil.Date, loc *time.Location, list *diag.List) HourlyForecast {
	r := &hourlyReader{csvReader: csvReader[hourlyQuantity]{file: file, list: list}, issued: issued, loc: loc}
	out := HourlyForecast{Issued: issued}
	below, ok := r.open(text, csvHeader[hourlyQuantity]{
		first: "time", start: "start the file with a line such as time,temp_c,rh,wind_ms,gust_ms,cloud_pct,rain_mm",
		known: hourlyFields(), required: 1,
	})
	if !ok {
		return out
	}
	r.rows(below, func(line []byte, end int) {
		h := unknownHour()
		if r.time(string(line[:end]), &h) {
			r.values(line, end, func(f *hourlyField, x float64, _, _ int) { *f.quantity.of(&h) = x })
			out.Hours = append(out.Hours, h)
		}
	})
	return out
}

// hourlyReader is the state of reading one file.
type hourlyReader struct {
	csvReader[hourlyQuantity]
	issued civil.Date
	loc    *time.Location
	prev   time.Time // begin of the hour of the last good line; zero: none
}

// unknownHour is an hour of which nothing is known yet.
func unknownHour() Hour {
	var h Hour
	for q := range hourlyQuantities {
		*q.of(&h) = math.NaN()
	}
	return h
}

// time reads when an hour begins, which must be later than the hours of the
// lines above it.
func (r *hourlyReader) time(text string, h *Hour) bool {
	const remedy = "write it as 2026-11-22T14:00"
	d, of, err := parseHour(text)
	switch {
	case strings.HasPrefix(text, "#"):
		r.errorf(0, "time", "the file has no comments", "%v", err)
		return false
	case err != nil:
		r.errorf(0, "time", remedy, "%v", err)
		return false
	case d < r.issued || d > r.issued.AddDays(forecastMaxDays):
		r.errorf(0, "time", "", "%s is outside %s to %s", text, r.issued, r.issued.AddDays(forecastMaxDays))
		return false
	}
	begins := hoursOf(d, of, r.loc)
	if len(begins) == 0 {
		r.errorf(0, "time", "remove the line: the clock is set forward over it", "there is no %s in %s", text, r.loc)
		return false
	}
	t := begins[0]
	if len(begins) > 1 && t.Equal(r.prev) {
		t = begins[1]
	}
	switch {
	case r.prev.IsZero() || t.After(r.prev):
	case slices.ContainsFunc(begins, r.prev.Equal):
		r.errorf(0, "time", "remove one of the lines", "%s stands more than %s", text, [...]string{"once", "twice"}[len(begins)-1])
		return false
	default:
		r.errorf(0, "time", "sort the lines by time", "%s stands below %s", text, r.prev.Format(hourLayout))
		return false
	}
	_, offset := t.Zone()
	h.Date, h.Of, h.UTCOffsetMin = d, of, offset/60
	r.prev = t
	return true
}

// hourLayout is how the begin of an hour is written.
const hourLayout = "2006-01-02T15:04"

// parseHour reads "2026-11-22T14:00".
func parseHour(s string) (civil.Date, int, error) {
	date, clock, ok := strings.Cut(s, "T")
	if !ok || len(clock) != 5 || clock[2:] != ":00" || !isDigit(clock[0]) || !isDigit(clock[1]) {
		return 0, 0, fmt.Errorf("%q is not a full hour written as YYYY-MM-DDTHH:00", s)
	}
	d, err := civil.ParseDate(date)
	if err != nil {
		return 0, 0, err
	}
	of := int(clock[0]-'0')*10 + int(clock[1]-'0')
	if of > 23 {
		return 0, 0, fmt.Errorf("%q is not an hour of the day: the hours are 00 to 23", s)
	}
	return d, of, nil
}

// hoursOf returns the instants at which the clock of a place shows a full hour,
// in order: one as a rule, none where it is set forward over it, two where it is
// set back.
func hoursOf(d civil.Date, of int, loc *time.Location) []time.Time {
	y, m, day := d.YMD()
	t := time.Date(y, time.Month(m), day, of, 0, 0, 0, loc)
	var out []time.Time
	// Which of two the standard library picks is not said.
	for _, at := range []time.Time{t.Add(-time.Hour), t, t.Add(time.Hour)} {
		if at.Day() == day && at.Hour() == of && at.Minute() == 0 {
			out = append(out, at)
		}
	}
	return out
}

// WriteHourlyForecast writes an hourly CSV that ReadHourlyForecast, with the
// clock that the forecast was made with, reads back as the same forecast,
// rounded to 0.01 of each unit: all columns of the metric form, one line for
// each hour. It refuses, with nothing written, what
// ReadHourlyForecast would not take for a reason other than the clock.
func WriteHourlyForecast(w io.Writer, f HourlyForecast) error {
	b := []byte("time")
	for _, field := range hourlyFields()[:hourlyQuantities] {
		b = append(append(b, ','), field.name...)
	}
	b = append(b, '\n')
	last := math.MinInt
	for _, h := range f.Hours {
		if h.Date < f.Issued || h.Date > f.Issued.AddDays(forecastMaxDays) || h.Of < 0 || h.Of > 23 {
			return fmt.Errorf("%s %d h of a forecast of %s is not an hour of the %d days after it", h.Date, h.Of, f.Issued, forecastMaxDays)
		}
		minute := (int(h.Date)*24+h.Of)*60 - h.UTCOffsetMin // UTC
		if minute <= last {
			return fmt.Errorf("%s %d h does not follow the hour before it", h.Date, h.Of)
		}
		last = minute
		b = fmt.Appendf(h.Date.Append(b), "T%02d:00", h.Of)
		for _, field := range hourlyFields()[:hourlyQuantities] {
			x := quantity.Hundredths(*field.quantity.of(&h))
			if low, high := field.like.limits(); x < low || x > high {
				return fmt.Errorf("%s %d h: %s %v is outside %v to %v", h.Date, h.Of, field.name, x, low, high)
			}
			b = appendValue(append(b, ','), x)
		}
		b = append(b, '\n')
	}
	_, err := w.Write(b)
	return err
}
