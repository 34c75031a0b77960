package weather

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/quantity"
)

// dailyField is a column of a daily CSV.
type dailyField = csvField[Column]

// dailyFields lists the columns that a daily CSV may have after its date: each
// Column under its own name, and three in US units.
func dailyFields() []dailyField {
	fields := make([]dailyField, 0, Columns+3)
	for c := range Columns {
		f := dailyField{name: c.Name(), quantity: c, like: c}
		if c == TmaxC || c == TminC {
			f.outside = "°F stand in the columns tmax_f and tmin_f; a missing value is an empty field"
		}
		fields = append(fields, f)
	}
	return append(fields,
		dailyField{name: "tmax_f", quantity: TmaxC, like: TmaxC, unit: unitF},
		dailyField{name: "tmin_f", quantity: TminC, like: TminC, unit: unitF},
		dailyField{name: "rain_in", quantity: RainMM, like: RainMM, unit: unitIn})
}

// ReadDaily reads the text of a daily CSV, strictly: every mistake is recorded
// in the list under the name file, with line and column, and all of them at
// once. What is not at fault is read all the same.
//
// The first line names the columns: "date" first, then in any order those that
// [Column.Name] returns. tmax_c, tmin_c and rain_mm are required; tmax_f (°F),
// tmin_f (°F) and rain_in (in) may stand instead. One line a day follows, with
// ascending dates, which may leave days out. An empty field is a missing
// value. Numbers are plain decimals, kept to 0.01 of their unit. A byte order
// mark and CRLF line ends are accepted.
//
// The series runs from the first to the last day that has a value.
func ReadDaily(file string, text []byte, list *diag.List) *Series {
	return readDaily(file, text, civil.MustDate(firstYear, 1, 1), civil.MustDate(lastYear, 12, 31), list)
}

// ReadForecast reads the text of a forecast CSV, which has the form of a daily
// CSV, as ReadDaily does. Its days must lie from the day of issue to 16 days
// after it.
func ReadForecast(file string, text []byte, issued civil.Date, list *diag.List) Forecast {
	return Forecast{issued, readDaily(file, text, issued, issued.AddDays(forecastMaxDays), list)}
}

// span is where in a line a value stands.
type span struct {
	name     string // its column
	from, to int
}

// dailyReader is the state of reading one file.
type dailyReader struct {
	csvReader[Column]
	first, last civil.Date // dates allowed

	series      *Series
	from, to    int        // first and last day with a value
	prev        civil.Date // date of the last good line; zero: none
	prevDay     int        // its day of the month
	prevText    []byte     // a date of its month
	monthLength int        // days of its month
}

func readDaily(file string, text []byte, first, last civil.Date, list *diag.List) *Series {
	r := &dailyReader{csvReader: csvReader[Column]{file: file, list: list}, first: first, last: last, from: -1}
	below, ok := r.open(text, csvHeader[Column]{
		first: "date", start: "start the file with a line such as date,tmax_c,tmin_c,rain_mm", known: dailyFields(), required: int(RainMM) + 1,
		otherwise: "the columns are %s; files with other names are to be imported",
	})
	if !ok {
		return NewSeries(0, 0)
	}
	r.series = &Series{}
	rows := bytes.Count(below, []byte("\n")) + 1
	block := make([]float64, len(r.fields)*rows)
	for i, f := range r.fields {
		r.series.cols[f.quantity] = block[i*rows : i*rows : (i+1)*rows]
	}
	r.rows(below, r.row)
	return r.trimmed()
}

// row reads one line of values, whose date ends at end.
func (r *dailyReader) row(line []byte, end int) {
	d, ok := r.date(line[:end])
	if !ok {
		return
	}
	var values [Columns]float64
	var spans [Columns]span
	known := false
	for i := range r.fields {
		values[r.fields[i].quantity] = math.NaN()
	}
	r.values(line, end, func(f *dailyField, x float64, from, to int) {
		values[f.quantity], spans[f.quantity], known = x, span{f.name, from, to}, true
	})
	for _, p := range contradictions(r.series, &values) {
		low, high := spans[p[1]], spans[p[0]]
		r.errorf(low.from, low.name, "", "%s %s is below %s %s",
			low.name, line[low.from:low.to], high.name, line[high.from:high.to])
	}
	r.add(d, &values, known)
}

// date reads the date of a line, which must be later than that of the lines
// above it.
func (r *dailyReader) date(text []byte) (civil.Date, bool) {
	var d civil.Date
	// Within a month the day number alone changes, which spares most of the
	// work of the calendar.
	if len(text) == 10 && r.prev > 0 && bytes.Equal(text[:8], r.prevText[:8]) && isDigit(text[8]) && isDigit(text[9]) {
		day := int(text[8]-'0')*10 + int(text[9]-'0')
		if day >= 1 && day <= r.monthLength {
			d = r.prev.AddDays(day - r.prevDay)
		}
	}
	if d == 0 {
		var err error
		if d, err = civil.ParseDate(string(text)); err != nil {
			remedy := "write it as 2026-11-25"
			if bytes.HasPrefix(text, []byte("#")) {
				remedy = "the file has no comments"
			}
			r.errorf(0, "date", remedy, "%v", err)
			return 0, false
		}
	}
	switch {
	case d < r.first || d > r.last:
		r.errorf(0, "date", "", "%s is outside %s to %s", d, r.first, r.last)
		return 0, false
	case d == r.prev:
		r.errorf(0, "date", "remove one of the two lines", "%s stands twice", d)
		return 0, false
	case d < r.prev:
		r.errorf(0, "date", "sort the lines by date", "%s stands below %s", d, r.prev)
		return 0, false
	}
	return d, true
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// decimal reads a plain decimal number that ends at a comma or the end of the
// line. Digits behind the fourth decimal are checked and dropped.
func decimal(line []byte, at int) (x float64, next int, ok bool) {
	negative := line[at] == '-'
	if negative {
		at++
	}
	const scale = 4 // decimals kept
	n, digits, decimals, point := 0, 0, 0, false
	for ; at < len(line); at++ {
		b := line[at]
		switch {
		case isDigit(b) && !point && digits < 9:
			n = n*10 + int(b-'0')
			digits++
		case isDigit(b) && point:
			if decimals < scale {
				n = n*10 + int(b-'0')
			}
			decimals++
		case b == '.' && !point && digits > 0:
			point = true
		case b == ',' && digits > 0 && point == (decimals > 0):
			return shifted(n, decimals, negative), at, true
		default:
			return 0, at, false
		}
	}
	if digits == 0 || point != (decimals > 0) {
		return 0, at, false
	}
	return shifted(n, decimals, negative), at, true
}

// shifted returns n with its decimal point moved, which a single division of
// whole numbers does exactly.
func shifted(n, decimals int, negative bool) float64 {
	div := 1.0
	for range min(decimals, 4) {
		div *= 10
	}
	if negative && n > 0 {
		n = -n
	}
	return float64(n) / div
}

// contradictions returns the pairs of columns of which the second is below the
// first though it cannot be.
func contradictions(s *Series, v *[Columns]float64) [][2]Column {
	var found [][2]Column
	for _, p := range [...][2]Column{{TminC, TmaxC}, {RHMinPct, RHMeanPct}, {RHMeanPct, RHMaxPct}, {RHMinPct, RHMaxPct}} {
		if s.Has(p[0]) && s.Has(p[1]) && v[p[1]] < v[p[0]] {
			found = append(found, p)
		}
	}
	return found
}

// add appends a line to the series, with missing days before it if dates were
// left out.
func (r *dailyReader) add(d civil.Date, values *[Columns]float64, known bool) {
	s := r.series
	if r.prev == 0 {
		s.Start = d
	}
	for ; s.days < int(d-s.Start); s.days++ {
		for i := range r.fields {
			c := r.fields[i].quantity
			s.cols[c] = append(s.cols[c], math.NaN())
		}
	}
	for i := range r.fields {
		c := r.fields[i].quantity
		s.cols[c] = append(s.cols[c], values[c])
	}
	if known {
		if r.from < 0 {
			r.from = s.days
		}
		r.to = s.days
	}
	s.days++
	r.prevDay += int(d - r.prev)
	if r.prev == 0 || r.prevDay > r.monthLength {
		y, m, day := d.YMD()
		r.prevDay, r.monthLength = day, civil.DaysInMonth(y, m)
		r.prevText = d.Append(r.prevText[:0])
	}
	r.prev = d
}

// trimmed returns the series without the days and the columns of which nothing
// is known.
func (r *dailyReader) trimmed() *Series {
	if r.from < 0 {
		return NewSeries(0, 0)
	}
	s := NewSeries(r.series.Start.AddDays(r.from), r.to-r.from+1)
	for c, col := range r.series.cols {
		if col == nil {
			continue
		}
		col = col[r.from : r.to+1]
		if slices.ContainsFunc(col, func(x float64) bool { return !math.IsNaN(x) }) {
			s.cols[c] = col
		}
	}
	return s
}

// WriteDaily writes a daily CSV that ReadDaily reads back as the same series,
// rounded to 0.01 of each unit: the required columns, then those of which
// anything is known, one line for each day that has a value. It refuses, with
// nothing written, values that ReadDaily would not take.
func WriteDaily(w io.Writer, s *Series) error {
	if s.days > 0 && (s.Start.Year() < firstYear || s.End().Year() > lastYear) {
		return fmt.Errorf("the days %s to %s are outside the years %d to %d", s.Start, s.End(), firstYear, lastYear)
	}
	var columns []Column
	b := []byte("date")
	for c := range Columns {
		if c <= RainMM || slices.ContainsFunc(s.cols[c], func(x float64) bool { return !math.IsNaN(x) }) {
			columns = append(columns, c)
			b = append(append(b, ','), c.Name()...)
		}
	}
	b = append(b, '\n')
	var v [Columns]float64
	for c := range v {
		v[c] = math.NaN() // what is not written contradicts nothing
	}
	for i := range s.days {
		known := false
		for _, c := range columns {
			v[c] = math.NaN()
			if s.cols[c] == nil {
				continue
			}
			x := quantity.Hundredths(s.cols[c][i])
			if low, high := c.limits(); x < low || x > high {
				return fmt.Errorf("%s: %s %v is outside %v to %v", s.Start.AddDays(i), c.Name(), x, low, high)
			}
			v[c] = x
			known = known || !math.IsNaN(x)
		}
		if !known {
			continue
		}
		if p := contradictions(s, &v); p != nil {
			return fmt.Errorf("%s: %s %v is below %s %v", s.Start.AddDays(i),
				p[0][1].Name(), v[p[0][1]], p[0][0].Name(), v[p[0][0]])
		}
		b = s.Start.AddDays(i).Append(b)
		for _, c := range columns {
			b = append(b, ',')
			b = appendValue(b, v[c])
		}
		b = append(b, '\n')
	}
	_, err := w.Write(b)
	return err
}

// WriteForecast writes the days of a forecast as WriteDaily does.
func WriteForecast(w io.Writer, f Forecast) error {
	if n := f.Days.Len(); n > 0 && (f.Days.Start < f.Issued || f.Days.End() > f.Issued.AddDays(forecastMaxDays)) {
		return fmt.Errorf("the days %s to %s of a forecast of %s are not within the %d days after it",
			f.Days.Start, f.Days.End(), f.Issued, forecastMaxDays)
	}
	return WriteDaily(w, f.Days)
}

// appendValue appends a value with one decimal, or with two where it has them;
// nothing for a missing one.
func appendValue(b []byte, x float64) []byte {
	if math.IsNaN(x) {
		return b
	}
	n := int64(math.Round(x * 100))
	if n < 0 {
		b = append(b, '-')
		n = -n
	}
	b = append(strconv.AppendInt(b, n/100, 10), '.', byte('0'+n/10%10))
	if n%10 != 0 {
		b = append(b, byte('0'+n%10))
	}
	return b
}
