package pest

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// logRow is one line of a log while it is read.
type logRow struct {
	file  string
	line  int
	cells map[string]string
	year  int // that dates have to be of; 0: any
	list  *diag.List
	bad   bool // it has a mistake
}

// readLog reads the lines of a comma-separated file with a header. A file whose
// header has a mistake gives none.
func readLog(file string, text []byte, list *diag.List, required, optional []string) []*logRow {
	at := func(line int) diag.Pos { return diag.Pos{File: file, Line: line} }
	if !utf8.Valid(text) {
		list.Errorf(at(0), "save it as UTF-8", "the file is not UTF-8 text")
		return nil
	}
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text, []byte("\ufeff"))))
	r.FieldsPerRecord = -1
	header, err := r.Read()
	if err != nil {
		list.Errorf(at(1), "write "+strings.Join(required, ",")+" as its first line", "the header cannot be read")
		return nil
	}
	known := slices.Concat(required, optional)
	good := true
	for i, name := range header {
		line, _ := r.FieldPos(i)
		name = strings.TrimSpace(name)
		header[i] = name
		switch {
		case !slices.Contains(known, name):
			list.Errorf(at(line), diag.DidYouMean(name, known), "unknown column %q", name)
			good = false
		case slices.Contains(header[:i], name):
			list.Errorf(at(line), "keep one of them", "column %q stands twice", name)
			good = false
		}
	}
	for _, name := range required {
		if !slices.Contains(header, name) {
			list.Errorf(at(1), "add it to the first line", "the column %q is missing", name)
			good = false
		}
	}
	if !good {
		return nil
	}
	year, _ := strconv.Atoi(strings.TrimSuffix(path.Base(file), path.Ext(file)))
	var rows []*logRow
	var last civil.Date
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows
		}
		if err != nil {
			var pe *csv.ParseError
			line := 0
			if errors.As(err, &pe) {
				line = pe.Line
			}
			list.Errorf(at(line), `put a cell that holds quotes or commas in "…", with quotes doubled`, "the line cannot be read")
			return rows
		}
		line, _ := r.FieldPos(0)
		if len(record) != len(header) {
			list.Errorf(at(line), "count the commas", "%d cells where the header has %d", len(record), len(header))
			continue
		}
		row := &logRow{file: file, line: line, cells: map[string]string{}, year: year, list: list}
		for i, name := range header {
			row.cells[name] = strings.TrimSpace(record[i])
		}
		if d, err := civil.ParseDate(row.cells["date"]); err == nil {
			if d < last {
				row.errorf("date", "sort the lines by date", "%s comes after %s", d, last)
			}
			last = max(last, d)
		}
		rows = append(rows, row)
	}
}

func (row *logRow) errorf(name, remedy, what string, args ...any) {
	row.bad = true
	row.list.Errorf(diag.Pos{File: row.file, Line: row.line, Key: name}, remedy, what, args...)
}

func (row *logRow) date(name string) civil.Date {
	d, err := civil.ParseDate(row.cells[name])
	if err != nil {
		row.errorf(name, "write it as 2026-11-25", "%v", err)
		return 0
	}
	if row.year > 0 && d.Year() != row.year {
		row.errorf(name, "move the line to the file of its year", "%s is not of %d", d, row.year)
	}
	return d
}

// before reads a day no later than that of the line; zero where the cell is empty.
func (row *logRow) before(name string) civil.Date {
	if row.cells[name] == "" {
		return 0
	}
	d, err := civil.ParseDate(row.cells[name])
	if err != nil {
		row.errorf(name, "write it as 2026-11-25", "%v", err)
	} else if on, err := civil.ParseDate(row.cells["date"]); err == nil && d > on {
		row.errorf(name, "write the last time before", "%s comes after the look", d)
	}
	return d
}

func (row *logRow) id(name string, required bool) string {
	s := row.cells[name]
	switch {
	case s == "" && !required:
	case s == "":
		row.errorf(name, "fill it in", "empty")
	case !diag.IsID(s):
		row.errorf(name, "an id is lower-case words joined by hyphens", "%q is not an id", s)
	}
	return s
}

// text refuses control characters.
func (row *logRow) text(name string) string {
	s := row.cells[name]
	if strings.ContainsFunc(s, unicode.IsControl) {
		row.errorf(name, "keep it on one line", "it holds a line break or another control character")
	}
	return s
}

func (row *logRow) one(name string, words ...string) string {
	s := row.cells[name]
	if s != "" && !slices.Contains(words, s) {
		row.errorf(name, diag.DidYouMean(s, words), "unknown value %q", s)
	}
	return s
}

func (row *logRow) yes(name string) bool { return row.one(name, "yes", "no") == "yes" }

// number is NaN where the cell is empty.
func (row *logRow) number(name string, least, most float64) float64 {
	s := row.cells[name]
	if s == "" {
		return math.NaN()
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) || strings.ContainsAny(s, "xXpP_") {
		row.errorf(name, "write a plain number", "%q is not a number", s)
		return math.NaN()
	}
	if x < least || x > most {
		row.errorf(name, "check it", "%s is out of range", s)
	}
	return x
}

// either returns what stands in one of two columns, the second of which was read
// in another unit; NaN for neither.
func (row *logRow) either(what string, x float64, second string, y float64) float64 {
	switch {
	case math.IsNaN(y):
		return x
	case !math.IsNaN(x):
		row.errorf(second, "leave one of them empty", "the %s is given twice", what)
	}
	return y
}

// whole is 0 where the cell is empty.
func (row *logRow) whole(name string, most int) int {
	x := row.number(name, 0, float64(most))
	if math.IsNaN(x) {
		return 0
	}
	if x != math.Trunc(x) {
		row.errorf(name, "write a whole number", "%q is not whole", row.cells[name])
	}
	return int(x)
}
