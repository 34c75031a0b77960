package law

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"ligule/internal/civil"
)

// Anchor is a day that recurs every year: a month and day ("11-15"), the last
// day of a month ("02-last"), or the nth weekday of a month with an offset in
// days ("nth:2-Sun-03", "nth:last-Mon-05+1d").
type Anchor struct {
	Fixed   civil.MonthDay // the zero MonthDay where it is none
	Month   int            // 1 to 12; 0 for a fixed day, and where the anchor was not read
	Nth     string         // "1" to "4" or "last"; "" for the last day of the month
	Weekday time.Weekday
	Offset  int // days
	text    string
}

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
		return Anchor{Month: m, text: s}, nil
	}
	md, err := civil.ParseMonthDay(s)
	if err != nil {
		return Anchor{}, err
	}
	return Anchor{Fixed: md, text: s}, nil
}

func parseNth(s, rest string) (Anchor, error) {
	parts := strings.SplitN(rest, "-", 3)
	if len(parts) != 3 {
		return Anchor{}, fmt.Errorf("%q is not written as nth:2-Sun-03", s)
	}
	if !slices.Contains([]string{"1", "2", "3", "4", "last"}, parts[0]) {
		return Anchor{}, fmt.Errorf("%q: the count is 1 to 4 or last, not %q", s, parts[0])
	}
	day := slices.Index(Weekdays(), parts[1])
	if day < 0 {
		return Anchor{}, fmt.Errorf("%q: the weekday is one of Mon, Tue, Wed, Thu, Fri, Sat, Sun, not %q", s, parts[1])
	}
	a := Anchor{Nth: parts[0], Weekday: time.Weekday(day), text: s}
	mm := parts[2]
	if i := strings.IndexAny(mm, "+-"); i >= 0 {
		count, ok := strings.CutSuffix(mm[i:], "d")
		n, err := strconv.Atoi(count)
		if !ok || err != nil || n < -60 || n > 60 {
			return Anchor{}, fmt.Errorf("%q: the offset is written as +1d or -1d, up to 60 days, not %q", s, mm[i:])
		}
		a.Offset, mm = n, mm[:i]
	}
	var err error
	if a.Month, err = anchorMonth(mm); err != nil {
		return Anchor{}, fmt.Errorf("%q: %w", s, err)
	}
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

// valid reports whether the anchor was read from a file without a mistake.
func (a Anchor) valid() bool { return a.text != "" }

// in returns the anchor's day of a year. 29 February in a common year is
// 1 March where a span starts and 28 February where it ends.
func (a Anchor) in(year int, end bool) civil.Date {
	switch {
	case !a.valid():
		return 0
	case a.Month == 0 && end:
		return a.Fixed.EndIn(year)
	case a.Month == 0:
		return a.Fixed.StartIn(year)
	}
	last := civil.MonthDay{Month: a.Month, Day: 31}
	switch a.Nth {
	case "":
		return last.EndIn(year)
	case "last":
	default: // the nth weekday is the only one among days 7n-6 to 7n
		last.Day = 7 * int(a.Nth[0]-'0')
	}
	return last.EndIn(year).OnOrBefore(a.Weekday).AddDays(a.Offset)
}
