package law

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"ligule/internal/civil"
)

// Anchor is a day that recurs every year: a month and day ("11-15"), the last
// day of a month ("02-last"), or the nth weekday of a month with an offset in
// days ("nth:2-Sun-03", "nth:last-Mon-05+1d").
type Anchor struct {
	kind    anchorKind
	month   int // 1 to 12
	day     int // fixed: day of the month
	n       int // nth: 1 to 4, or 0 for the last
	weekday time.Weekday
	offset  int // nth: days
	text    string
}

type anchorKind uint8

const (
	anchorNone anchorKind = iota
	anchorFixed
	anchorLast
	anchorNth
)

// Weekdays are the names of weekdays in files of law, by their number.
func Weekdays() []string { return []string{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"} }

// ParseAnchor reads an anchor.
func ParseAnchor(s string) (Anchor, error) {
	if rest, ok := strings.CutPrefix(s, "nth:"); ok {
		return parseNth(s, rest)
	}
	if mm, ok := strings.CutSuffix(s, "-last"); ok {
		m, err := anchorMonth(mm)
		if err != nil {
			return Anchor{}, fmt.Errorf("%q: %w", s, err)
		}
		return Anchor{kind: anchorLast, month: m, text: s}, nil
	}
	md, err := civil.ParseMonthDay(s)
	if err != nil {
		return Anchor{}, err
	}
	return Anchor{kind: anchorFixed, month: md.Month, day: md.Day, text: s}, nil
}

func parseNth(s, rest string) (Anchor, error) {
	a := Anchor{kind: anchorNth, text: s}
	parts := strings.SplitN(rest, "-", 3)
	if len(parts) != 3 {
		return Anchor{}, fmt.Errorf("%q is not written as nth:2-Sun-03", s)
	}
	if parts[0] != "last" {
		n, err := strconv.Atoi(parts[0])
		if err != nil || len(parts[0]) != 1 || n < 1 || n > 4 {
			return Anchor{}, fmt.Errorf("%q: the count is 1 to 4 or last, not %q", s, parts[0])
		}
		a.n = n
	}
	found := false
	for i, name := range Weekdays() {
		if parts[1] == name {
			a.weekday, found = time.Weekday(i), true
		}
	}
	if !found {
		return Anchor{}, fmt.Errorf("%q: the weekday is one of Mon, Tue, Wed, Thu, Fri, Sat, Sun, not %q", s, parts[1])
	}
	mm := parts[2]
	if i := strings.IndexAny(mm, "+-"); i >= 0 {
		count, ok := strings.CutSuffix(mm[i:], "d")
		n, err := strconv.Atoi(count)
		if !ok || err != nil || n < -60 || n > 60 {
			return Anchor{}, fmt.Errorf("%q: the offset is written as +1d or -1d, up to 60 days, not %q", s, mm[i:])
		}
		a.offset, mm = n, mm[:i]
	}
	m, err := anchorMonth(mm)
	if err != nil {
		return Anchor{}, fmt.Errorf("%q: %w", s, err)
	}
	a.month = m
	return a, nil
}

func anchorMonth(s string) (int, error) {
	m, err := strconv.Atoi(s)
	if err != nil || len(s) != 2 || m < 1 || m > 12 {
		return 0, fmt.Errorf("the month is 01 to 12, not %q", s)
	}
	return m, nil
}

// String returns the anchor as written.
func (a Anchor) String() string { return a.text }

// AnchorDay is an anchor taken apart: a fixed day, or a day of a month.
type AnchorDay struct {
	Fixed   civil.MonthDay // the zero MonthDay where it is none
	Month   int            // 1 to 12; 0 where the anchor was not read
	Nth     string         // "1" to "4" or "last"; "" for the last day of the month
	Weekday time.Weekday
	Offset  int // days
}

// Day takes the anchor apart.
func (a Anchor) Day() AnchorDay {
	switch a.kind {
	case anchorFixed:
		return AnchorDay{Fixed: civil.MonthDay{Month: a.month, Day: a.day}}
	case anchorLast:
		return AnchorDay{Month: a.month}
	case anchorNth:
		d := AnchorDay{Month: a.month, Nth: "last", Weekday: a.weekday, Offset: a.offset}
		if a.n > 0 {
			d.Nth = strconv.Itoa(a.n)
		}
		return d
	case anchorNone:
	}
	return AnchorDay{}
}

// valid reports whether the anchor was read from a file without a mistake.
func (a Anchor) valid() bool { return a.kind != anchorNone }

// in returns the anchor's day of a year. 29 February in a common year is
// 1 March where a span starts and 28 February where it ends.
func (a Anchor) in(year int, end bool) civil.Date {
	switch a.kind {
	case anchorFixed:
		if md := (civil.MonthDay{Month: a.month, Day: a.day}); end {
			return md.EndIn(year)
		} else {
			return md.StartIn(year)
		}
	case anchorLast:
		return civil.MonthDay{Month: a.month, Day: 31}.EndIn(year)
	case anchorNth:
		d := civil.MonthDay{Month: a.month, Day: 7 * a.n}.EndIn(year)
		if a.n == 0 {
			d = civil.MonthDay{Month: a.month, Day: 31}.EndIn(year)
		}
		// The nth weekday is the only one among days 7n-6 to 7n.
		return d.OnOrBefore(a.weekday).AddDays(a.offset)
	}
	return 0
}
