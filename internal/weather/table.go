package weather

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/civil"
)

// table is a text table with a header line, and what comments above the header
// say of it.
type table struct {
	comma    byte
	comments map[string]string // "units" → "us"
	header   []string
	rows     []tableRow
}

type tableRow struct {
	line   int
	fields []string
}

// readTable splits a CSV file. Lines that start with # are comments.
func readTable(data []byte) (*table, error) {
	t := &table{comments: map[string]string{}}
	above := 0 // lines above the header
	rest := data
	for len(rest) > 0 {
		line, after := cutLine(rest)
		text := strings.TrimSpace(string(line))
		if comment, ok := strings.CutPrefix(text, "#"); ok {
			if key, value, ok := strings.Cut(comment, ":"); ok {
				t.comments[strings.ToLower(strings.TrimSpace(key))] = strings.TrimSpace(value)
			}
		} else if text != "" {
			for _, sep := range []byte(",;\t") {
				if bytes.Count(line, []byte{sep}) > bytes.Count(line, []byte{t.comma}) || t.comma == 0 && bytes.IndexByte(line, sep) >= 0 {
					t.comma = sep
				}
			}
			break
		}
		rest = after
		above++
	}
	if t.comma == 0 {
		return nil, errors.New("not a format that can be read: neither a GHCN-Daily file nor a table with a header line and commas, semicolons or tabs")
	}
	r := csv.NewReader(bytes.NewReader(rest))
	r.Comma, r.Comment = rune(t.comma), '#'
	r.FieldsPerRecord, r.LazyQuotes = -1, true
	for {
		fields, err := r.Read()
		if err == io.EOF {
			return t, nil
		}
		if err != nil {
			return nil, fmt.Errorf("not a table: %w", err)
		}
		line, _ := r.FieldPos(0)
		if t.header == nil {
			for _, name := range fields {
				t.header = append(t.header, strings.TrimSpace(name))
			}
			continue
		}
		t.rows = append(t.rows, tableRow{line + above, fields})
	}
}

// csv reads a table, of which NCEI's downloads are told by their columns.
func (g *gathering) csv(data []byte, opts ImportOptions) (format string, err error) {
	t, err := readTable(data)
	if err != nil {
		return "", err
	}
	if slices.Contains(t.header, "STATION") && slices.Contains(t.header, "DATE") {
		return g.ncei(t, opts)
	}
	return "csv", g.user(t, opts)
}

// ofStation keeps the rows of the station to take, whose id stands in a column.
func (g *gathering) ofStation(t *table, column int, opts ImportOptions) error {
	ids := map[string]bool{}
	for _, row := range t.rows {
		if column < len(row.fields) {
			ids[strings.TrimSpace(row.fields[column])] = true
		}
	}
	if len(ids) == 0 {
		return errors.New("the table has no rows")
	}
	id, err := choose(ids, opts)
	if err != nil {
		return err
	}
	t.rows = slices.DeleteFunc(t.rows, func(row tableRow) bool {
		return column >= len(row.fields) || strings.TrimSpace(row.fields[column]) != id
	})
	g.station = bareID(id)
	return nil
}

// plainNumber reads a decimal number without exponent.
func plainNumber(text string) (float64, error) {
	digits := strings.TrimLeft(text, "+-")
	if len(text)-len(digits) > 1 || len(digits) > 15 || strings.Trim(digits, "0123456789.") != "" {
		return 0, fmt.Errorf("%q is not a number", text)
	}
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, fmt.Errorf("%q is not a number", text)
	}
	return x, nil
}

// hottestF and hottestC are what no maximum passes: the highest air
// temperature on record is 134 °F (56.7 °C; World Meteorological Organization,
// from memory).
const (
	hottestF = 134
	hottestC = 60
)

// evidence is what the values of a file tell of its units.
type evidence struct {
	n        int     // maxima
	hottest  float64 // the greatest of them
	coldest  float64
	aboveC   int  // maxima above hottestC
	aboveF   int  // maxima above hottestF
	tenths   bool // maxima have decimals
	rainCent bool // rain has two decimals
}

// maximum takes in a maximum temperature; text, if its decimals tell anything,
// is how it is written.
func (e *evidence) maximum(x float64, text string) {
	if e.n == 0 {
		e.hottest, e.coldest = x, x
	}
	e.n++
	e.hottest, e.coldest = max(e.hottest, x), min(e.coldest, x)
	if x > hottestC {
		e.aboveC++
	}
	if x > hottestF {
		e.aboveF++
	}
	e.tenths = e.tenths || strings.Contains(text, ".") && !strings.HasSuffix(text, ".0")
}

func (e *evidence) rain(text string) {
	_, decimals, _ := strings.Cut(text, ".")
	e.rainCent = e.rainCent || len(decimals) == 2
}

// likely returns the units that the values speak for, with the reason, or
// UnitsUndeclared if they fit several (own design). One wild value does not
// decide.
func (e *evidence) likely() (UnitSystem, string) {
	const year = 300 // maxima that count as a year
	many := func(n int) bool { return n >= 2 && n*20 >= e.n }
	switch {
	case e.n == 0:
		return UnitsUndeclared, "the file has no maximum temperatures"
	case many(e.aboveF):
		return UnitsTenths, fmt.Sprintf("maxima run to %v, too hot even for °F", e.hottest)
	case many(e.aboveC):
		return UnitsUS, fmt.Sprintf("maxima run to %v, too hot for °C", e.hottest)
	case e.rainCent:
		return UnitsUS, "rain is given in hundredths"
	case e.tenths:
		return UnitsMetric, "maxima are given in tenths"
	case e.n >= year && e.hottest < 50:
		return UnitsMetric, fmt.Sprintf("the warmest of %d maxima is %v, too cold for °F", e.n, e.hottest)
	}
	return UnitsUndeclared, fmt.Sprintf("maxima run from %v to %v", e.coldest, e.hottest)
}

// check returns the error to give if the units are not declared or are not
// those that the values speak for.
func (e *evidence) check(declared UnitSystem) error {
	likely, why := e.likely()
	switch {
	case declared == UnitsUndeclared && likely == UnitsUndeclared:
		return fmt.Errorf("the file does not tell its units: declare metric (°C, mm), us (°F, in) or tenths; %s", why)
	case declared == UnitsUndeclared:
		return fmt.Errorf("the file does not tell its units: declare metric, us or tenths; it looks like %s: %s", likely, why)
	case likely != UnitsUndeclared && likely != declared:
		return fmt.Errorf("the units declared are %s, but the file looks like %s: %s", declared, likely, why)
	}
	return nil
}

// monthDayYear reads three numbers separated by sep: month, day, year, or day,
// month, year.
func monthDayYear(s, sep string, dayFirst bool) (civil.Date, error) {
	parts := strings.Split(s, sep)
	if len(parts) != 3 {
		return 0, fmt.Errorf("%q is not a date", s)
	}
	var n [3]int
	for i, p := range parts {
		x, err := strconv.ParseUint(p, 10, 16)
		if err != nil {
			return 0, fmt.Errorf("%q is not a date", s)
		}
		n[i] = int(x)
	}
	if dayFirst {
		n[0], n[1] = n[1], n[0]
	}
	return civil.NewDate(n[2], n[0], n[1])
}
