package civil

import (
	"fmt"
	"time"
)

// Week is a week of ISO 8601: Monday to Sunday, numbered in the year that
// holds its Thursday. The zero value means "no week".
type Week struct {
	Year int // ISO year, which differs from the calendar year around New Year
	Num  int // 1 to 52 or 53
}

// Week returns the ISO week that holds the date.
func (d Date) Week() Week {
	y, n := d.Time().ISOWeek()
	return Week{y, n}
}

// WeeksInYear returns 52 or 53: the number of ISO weeks of an ISO year.
func WeeksInYear(year int) int {
	// 28 December always lies in the last week of its ISO year.
	return dateOf(year, 12, 28).Week().Num
}

// ParseWeek reads "2026-W48".
func ParseWeek(s string) (Week, error) {
	parts, ok := numbers(s, "0000-W00")
	y, n := parts[0], parts[2] // between the two signs stands none
	if !ok || y < 1 {
		return Week{}, fmt.Errorf("%q is not a week written as YYYY-Www", s)
	}
	if last := WeeksInYear(y); n < 1 || n > last {
		return Week{}, fmt.Errorf("%q is not a week: %d has weeks 01 to %d", s, y, last)
	}
	return Week{y, n}, nil
}

// Monday returns the first day of the week.
func (w Week) Monday() Date {
	// 4 January always lies in week 1.
	return dateOf(w.Year, 1, 4).OnOrBefore(time.Monday).AddDays(7 * (w.Num - 1))
}

// Sunday returns the last day of the week.
func (w Week) Sunday() Date { return w.Monday().AddDays(6) }

// AddWeeks returns the week n weeks later (earlier for negative n).
func (w Week) AddWeeks(n int) Week { return w.Monday().AddDays(7 * n).Week() }

// Before reports whether w is earlier than v.
func (w Week) Before(v Week) bool {
	return w.Year < v.Year || w.Year == v.Year && w.Num < v.Num
}

// IsZero reports whether the week is unset.
func (w Week) IsZero() bool { return w == Week{} }

// String returns "2026-W48".
func (w Week) String() string { return fmt.Sprintf("%04d-W%02d", w.Year, w.Num) }

// MarshalText writes "2026-W48".
func (w Week) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// UnmarshalText reads "2026-W48".
func (w *Week) UnmarshalText(b []byte) error {
	v, err := ParseWeek(string(b))
	if err == nil {
		*w = v
	}
	return err
}
