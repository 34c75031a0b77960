package weather

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"ligule/internal/civil"
)

// elementOf returns the column of an element that is kept.
func elementOf(name string) (Column, bool) {
	return columnWhere(func(c Column) bool { return name != "" && columns[c].element == name })
}

// soilElementOf reads the name of an element of soil temperature: SN (minimum)
// or SX (maximum), a digit for the cover, a digit for the depth (1 is 5 cm, 2
// is 10 cm; deeper ones are not kept).
func soilElementOf(name string) (depth Column, cv cover, maximum, ok bool) {
	if len(name) != 4 || name[:2] != "SN" && name[:2] != "SX" || !isDigit(name[2]) || name[2]-'0' >= byte(covers) {
		return 0, 0, false, false
	}
	switch name[3] {
	case '1':
		depth = Soil5C
	case '2':
		depth = Soil10C
	default:
		return 0, 0, false, false
	}
	return depth, cover(name[2] - '0'), name[1] == 'X', true
}

// flags are the marks of a value of GHCN-Daily.
type flags struct {
	measurement string // "T" is a trace, "P" is missing presumed zero
	quality     string // empty if the value passed
	source      string // "S" is a synoptic summary
}

// qualityReason says in words which test of the archive a value failed
// (GHCN-Daily readme.txt, QFLAG1).
func qualityReason(flag string) string {
	names := map[string]string{
		"D": "duplicate", "G": "gap", "I": "internal consistency", "K": "streak",
		"L": "multi-day length", "M": "megaconsistency", "N": "naught", "O": "outlier",
		"R": "lagged range", "S": "spatial consistency", "T": "temporal consistency",
		"W": "too warm for snow", "X": "bounds", "Z": "official investigation",
	}
	if name, ok := names[flag]; ok {
		return fmt.Sprintf("failed the archive's own check %s (%s)", flag, name)
	}
	return fmt.Sprintf("failed the archive's own check %s", flag)
}

// isElement reports whether a file's name of an element is one that takes part
// in quality control; it is noted otherwise.
func (g *gathering) isElement(name string) bool {
	_, ok := elementOf(name)
	_, _, _, soil := soilElementOf(name)
	if ok || soil || name == "MDPR" {
		return true
	}
	g.ignored[name] = true
	return false
}

// archived takes one value of an element, given in the units of a system.
func (g *gathering) archived(d civil.Date, name string, x float64, s UnitSystem, f flags, line int, text string) {
	if f.quality != "" {
		g.drop(line, d, name, text, "%s", qualityReason(f.quality))
		return
	}
	if name == "MDPR" {
		g.drop(line, d, name, text, "a total of several days: which of them it fell on is not known")
		return
	}
	if depth, cv, maximum, ok := soilElementOf(name); ok {
		g.addSoil(d, depth, cv, maximum, depth.in(s).own(x), line, name, text)
		return
	}
	c, ok := elementOf(name)
	if !ok {
		return
	}
	if c == RainMM && f.source == "S" {
		g.drop(line, d, name, text, "from a synoptic summary, whose rain is not that of the station's day")
		return
	}
	if f.measurement == "P" {
		g.presumed++
	}
	if f.measurement == "T" && (c == RainMM || c == SnowMM || c == SnowDepthMM) {
		x = 0
	}
	u := c.in(s)
	if c == SunH {
		u = unitMin // in every system
	}
	g.add(d, c, u.own(x), line, name, text)
}

// The fixed columns of a .dly line, from 0: id, year, month, element, then 31
// times a value of five characters with three flags.
const (
	dlyHead  = 21
	dlyValue = 5
	dlyDay   = 8
	dlyDays  = 31
)

const ghcndMissing = -9999

// dlyLine splits the head of a .dly line, and reports whether it has the form of one.
func dlyLine(line []byte) (head struct {
	id, element string
	year, month int
}, ok bool) {
	if len(line) < dlyHead+dlyValue || bytes.ContainsAny(line, ",;\t") {
		return head, false
	}
	head.id, head.element = string(line[:11]), string(line[17:dlyHead])
	year, errY := strconv.ParseUint(string(line[11:15]), 10, 16)
	month, errM := strconv.ParseUint(string(line[15:17]), 10, 8)
	head.year, head.month = int(year), int(month)
	return head, errY == nil && errM == nil && month >= 1 && month <= 12 && year >= 1 && isWord(head.id) && isWord(head.element)
}

// isWord reports whether s is made of ASCII capitals, digits and the few marks
// that ids have.
func isWord(s string) bool {
	for i := range len(s) {
		if b := s[i]; !isDigit(b) && (b < 'A' || b > 'Z') && b != '-' && b != '_' {
			return false
		}
	}
	return s != ""
}

// dly reads a GHCN-Daily station file, fixed width (readme.txt, section III).
func (g *gathering) dly(data []byte, opts ImportOptions) error {
	ids := map[string]bool{}
	for _, line := range lines(data) {
		if head, ok := dlyLine(line); ok {
			ids[head.id] = true
		}
	}
	var err error
	if g.station, err = choose(ids, opts); err != nil {
		return err
	}
	for n, line := range lines(data) {
		head, ok := dlyLine(line)
		if !ok {
			if len(bytes.TrimSpace(line)) > 0 {
				g.drop(n, 0, "", "", "not a line of the fixed-width format")
			}
			continue
		}
		if head.id == g.station && g.isElement(head.element) {
			g.dlyMonth(n, head.element, head.year, head.month, string(line[dlyHead:]))
		}
	}
	return nil
}

func (g *gathering) dlyMonth(n int, name string, year, month int, values string) {
	first, err := civil.NewDate(year, month, 1)
	if err != nil || !g.possibleDate(n, first) {
		return
	}
	length := civil.DaysInMonth(year, month)
	for i := 0; i < dlyDays && len(values) >= dlyValue; i++ {
		field := values[:min(dlyDay, len(values))]
		values = values[len(field):]
		text := strings.TrimSpace(field[:dlyValue])
		d := first.AddDays(i)
		x, err := strconv.Atoi(text)
		switch {
		case text == "" || x == ghcndMissing:
		case i >= length:
			g.drop(n, 0, name, text, "the month has %d days", length)
		case err != nil:
			g.drop(n, d, name, text, "not a whole number")
		default:
			marks := field[dlyValue:] + "   "
			g.archived(d, name, float64(x), UnitsTenths, flags{
				measurement: strings.TrimSpace(marks[:1]),
				quality:     strings.TrimSpace(marks[1:2]),
				source:      strings.TrimSpace(marks[2:3]),
			}, n, text)
		}
	}
}

// isByYear reports whether a line has the form of one of a by-year file: id,
// YYYYMMDD, element, value, three flags and a time, no header.
func isByYear(line string) bool {
	f := strings.Split(line, ",")
	if len(f) < 7 || len(f) > 8 || len(f[1]) != 8 || len(f[2]) != 4 || !isWord(f[0]) || !isWord(f[2]) {
		return false
	}
	_, err := compactDate(f[1])
	return err == nil
}

// compactDate reads YYYYMMDD.
func compactDate(s string) (civil.Date, error) {
	if len(s) != 8 {
		return 0, fmt.Errorf("%q is not a date written as YYYYMMDD", s)
	}
	return civil.ParseDate(s[:4] + "-" + s[4:6] + "-" + s[6:])
}

// byYear reads a by-year file of GHCN-Daily (its readme.txt, "by_year").
func (g *gathering) byYear(data []byte, opts ImportOptions) error {
	ids := map[string]bool{}
	for _, line := range lines(data) {
		if f := strings.Split(string(line), ","); len(f) >= 7 && isWord(f[0]) {
			ids[f[0]] = true
		}
	}
	var err error
	if g.station, err = choose(ids, opts); err != nil {
		return err
	}
	for n, line := range lines(data) {
		f := strings.Split(string(line), ",")
		if len(f) < 7 {
			if len(bytes.TrimSpace(line)) > 0 {
				g.drop(n, 0, "", "", "the line has %d of 8 fields", len(f))
			}
			continue
		}
		if f[0] != g.station || !g.isElement(f[2]) {
			continue
		}
		d, err := compactDate(f[1])
		if err != nil {
			g.drop(n, 0, f[2], f[3], "%v", err)
			continue
		}
		x, err := strconv.Atoi(f[3])
		switch {
		case !g.possibleDate(n, d):
		case err != nil:
			g.drop(n, d, f[2], f[3], "not a whole number")
		case x != ghcndMissing:
			if f[2] == "TMAX" && len(f) > 7 {
				g.observedAt(strings.TrimSpace(f[7]))
			}
			g.archived(d, f[2], float64(x), UnitsTenths, flags{f[4], f[5], f[6]}, n, f[3])
		}
	}
	return nil
}
