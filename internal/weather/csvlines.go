package weather

import (
	"bytes"
	"cmp"
	"fmt"
	"iter"
	"slices"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/quantity"
)

// csvReader reads a comma-separated file strictly: where it stands, and where its
// mistakes go.
type csvReader[Q comparable] struct {
	file   string
	list   *diag.List
	line   int
	fields []csvField[Q] // the columns after the first, in order
}

// csvField is a column that such a file may have.
type csvField[Q comparable] struct {
	name     string
	quantity Q
	like     Column // whose bounds hold for it
	unit     unit
	outside  string // what to do about a value out of bounds, where it is not the usual
}

// csvHeader is what the line of column names has to be.
type csvHeader[Q comparable] struct {
	first     string        // name of the first column
	start     string        // what to do about a file without such a line
	otherwise string        // what to do about an unknown name that is near to none, with %s for all names; may be empty
	known     []csvField[Q] // columns after the first, in any order
	required  int           // the quantities of so many of them, from the first on, must be there
}

// cutLine returns the first line of a text, without its end, and what follows.
func cutLine(text []byte) (line, rest []byte) {
	line, rest, _ = bytes.Cut(text, []byte("\n"))
	if n := len(line); n > 0 && line[n-1] == '\r' {
		line = line[:n-1]
	}
	return line, rest
}

// lines yields the lines of a text, without their ends, by their numbers from 1.
func lines(text []byte) iter.Seq2[int, []byte] {
	return func(yield func(n int, line []byte) bool) {
		rest := text
		for n := 1; len(rest) > 0; n++ {
			var line []byte
			if line, rest = cutLine(rest); !yield(n, line) {
				return
			}
		}
	}
}

// errorf records a mistake at a byte offset of the line.
func (r *csvReader[Q]) errorf(offset int, key, remedy, what string, args ...any) {
	r.list.Errorf(diag.Pos{File: r.file, Line: r.line, Col: offset + 1, Key: key}, remedy, what, args...)
}

// open reads the line of column names. It returns the lines below, and whether
// they can be read.
func (r *csvReader[Q]) open(text []byte, h csvHeader[Q]) (below []byte, ok bool) {
	head, below := cutLine(bytes.TrimPrefix(text, []byte("\ufeff")))
	r.line = 1
	return below, r.header(string(head), h)
}

// rows calls row with each line below the names that is not empty, and with where
// its first field ends.
func (r *csvReader[Q]) rows(below []byte, row func(line []byte, end int)) {
	for n, line := range lines(below) {
		r.line = n + 1
		if len(line) == 0 {
			r.errorf(0, "", "remove the line", "empty line")
			continue
		}
		end := bytes.IndexByte(line, ',')
		if end < 0 {
			end = len(line)
		}
		row(line, end)
	}
}

// header sets the columns, and reports whether the lines below can be read.
func (r *csvReader[Q]) header(line string, h csvHeader[Q]) (ok bool) {
	if strings.TrimSpace(line) == "" {
		r.errorf(0, "", h.start, "no column names")
		return false
	}
	if !strings.Contains(line, ",") && strings.ContainsAny(line, ";\t") {
		r.errorf(0, "", h.start, "the columns are not separated by commas")
		return false
	}
	names := []string{h.first}
	for _, f := range h.known {
		names = append(names, f.name)
	}
	ok, offset := true, 0
	seen := map[Q]string{}
	for i, name := range strings.Split(line, ",") {
		k := slices.IndexFunc(h.known, func(f csvField[Q]) bool { return f.name == name })
		switch {
		case i == 0 && name == h.first:
		case i == 0:
			r.errorf(offset, "", h.start, "the first column is %q, not %q", name, h.first)
			ok = false
		case name == h.first:
			r.errorf(offset, name, "remove one of them", "the column %q stands twice", h.first)
			ok = false
		case k < 0:
			remedy := diag.DidYouMean(name, names)
			if remedy == "" && h.otherwise != "" {
				remedy = fmt.Sprintf(h.otherwise, strings.Join(names, ", "))
			}
			r.errorf(offset, "", remedy, "unknown column %q", name)
			ok = false
		case seen[h.known[k].quantity] != "":
			r.errorf(offset, name, "remove one of them", "the column stands twice: %s and %s", seen[h.known[k].quantity], name)
			ok = false
		default:
			seen[h.known[k].quantity] = name
			r.fields = append(r.fields, h.known[k])
		}
		offset += len(name) + 1
	}
	for _, f := range h.known[:h.required] {
		if seen[f.quantity] == "" {
			r.errorf(0, f.name, "add the column; its fields may be empty", "missing column %q", f.name)
			ok = false
		}
	}
	return ok
}

// values reads the fields of a line that follow the place of a comma, and hands
// on each value within its bounds with where it stands. Bounds are told in the
// unit of the column.
func (r *csvReader[Q]) values(line []byte, at int, take func(f *csvField[Q], x float64, from, to int)) {
	for i := range r.fields {
		f := &r.fields[i]
		if at >= len(line) {
			r.errorf(len(line), f.name, "write every comma, also after empty fields", "the line ends after %d of %d fields", i+1, len(r.fields)+1)
			break
		}
		at++ // the comma
		if at == len(line) || line[at] == ',' {
			continue
		}
		x, next, ok := decimal(line, at)
		if !ok {
			at = r.badNumber(line, at, f.name)
			continue
		}
		x = quantity.Hundredths(f.unit.own(x))
		if low, high := f.like.limits(); x < low || x > high {
			if d, name := f.unit.named(); name != "" {
				low, high = quantity.Hundredths(d.To(low, name)), quantity.Hundredths(d.To(high, name))
			}
			r.errorf(at, f.name, cmp.Or(f.outside, "leave the field empty if the value is missing"), "%s is outside %v to %v", line[at:next], low, high)
		} else {
			take(f, x, at, next)
		}
		at = next
	}
	if at < len(line) {
		r.errorf(at, "", "write one field for each column; decimals take a point", "the line has more than %d fields", len(r.fields)+1)
	}
}

// badNumber records that no number stands at the place, and returns where the
// field ends.
func (r *csvReader[Q]) badNumber(line []byte, at int, name string) (end int) {
	end = at
	for end < len(line) && line[end] != ',' {
		end++
	}
	r.errorf(at, name, "write a plain number such as 12.5, or leave the field empty if the value is missing", "%q is not a number", line[at:end])
	return end
}
