package civil

import (
	"fmt"
	"time"
)

// Date is a day of the proleptic Gregorian calendar, counted from day 1 =
// 0001-01-01. The zero value means "no date". Dates compare with < and ==, and
// the difference of two dates is a number of days.
type Date int32

// epochDays is the day number of 1970-01-01.
const epochDays = 719163

// NewDate returns the date of year, month (1 to 12) and day, or an error that
// says what is impossible about it.
func NewDate(year, month, day int) (Date, error) {
	if year < 1 || year > 9999 {
		return 0, fmt.Errorf("year %d is outside 1 to 9999", year)
	}
	if month < 1 || month > 12 {
		return 0, fmt.Errorf("month %d is outside 1 to 12", month)
	}
	if n := DaysInMonth(year, month); day < 1 || day > n {
		return 0, fmt.Errorf("%s %d has %d days, not %d", time.Month(month), year, n, day)
	}
	return dateOf(year, month, day), nil
}

// MustDate is NewDate for dates written in code; it panics on an impossible one.
func MustDate(year, month, day int) Date {
	d, err := NewDate(year, month, day)
	if err != nil {
		panic("civil: " + err.Error())
	}
	return d
}

func dateOf(year, month, day int) Date {
	secs := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Unix()
	return Date(secs/86400 + epochDays)
}

// ParseDate reads "2026-11-25".
func ParseDate(s string) (Date, error) {
	n, ok := numbers(s, "0000-00-00")
	if !ok {
		return 0, fmt.Errorf("%q is not a date written as YYYY-MM-DD", s)
	}
	date, err := NewDate(n[0], n[1], n[2])
	if err != nil {
		return 0, fmt.Errorf("%q is not a date: %w", s, err)
	}
	return date, nil
}

// numbers reads the numbers of a text that is written as the pattern is: an ASCII
// digit for every 0, every other sign as it stands there between two numbers.
func numbers(s, pattern string) (n [3]int, ok bool) {
	at := 0
	for i := range pattern {
		switch {
		case len(s) != len(pattern):
			return n, false
		case pattern[i] == '0' && '0' <= s[i] && s[i] <= '9':
			n[at] = 10*n[at] + int(s[i]-'0')
		case pattern[i] != '0' && s[i] == pattern[i]:
			at++
		default:
			return n, false
		}
	}
	return n, true
}

// DaysInMonth returns 28 to 31 for month 1 to 12.
func DaysInMonth(year, month int) int {
	return time.Date(year, time.Month(month)+1, 0, 0, 0, 0, 0, time.UTC).Day()
}

// Time returns 00:00 UTC of the date, for handing it to packages that only
// know instants.
func (d Date) Time() time.Time {
	return time.Unix((int64(d)-epochDays)*86400, 0).UTC()
}

// YMD returns year, month (1 to 12) and day.
func (d Date) YMD() (year, month, day int) {
	y, m, dd := d.Time().Date()
	return y, int(m), dd
}

// Year returns the calendar year.
func (d Date) Year() int { return d.Time().Year() }

// Month returns the month, 1 to 12.
func (d Date) Month() int { return int(d.Time().Month()) }

// YearDay returns the day of the year, 1 to 366.
func (d Date) YearDay() int { return d.Time().YearDay() }

// Weekday returns the day of the week.
func (d Date) Weekday() time.Weekday { return d.Time().Weekday() }

// AddDays returns the date n days later (earlier for negative n).
func (d Date) AddDays(n int) Date { return d + Date(n) }

// AddMonths returns the same day n months later, clamped to the end of a
// shorter month: 31 January plus one month is 28 or 29 February.
func (d Date) AddMonths(n int) Date {
	y, m, day := d.YMD()
	total := y*12 + (m - 1) + n
	y, m = total/12, total%12+1
	return dateOf(y, m, min(day, DaysInMonth(y, m)))
}

// OnOrBefore returns the latest date with the given weekday that is not after d.
func (d Date) OnOrBefore(day time.Weekday) Date {
	return d.AddDays(-((int(d.Weekday()) - int(day) + 7) % 7))
}

// MonthDay returns the day without its year.
func (d Date) MonthDay() MonthDay {
	_, m, day := d.YMD()
	return MonthDay{m, day}
}

// IsZero reports whether the date is unset.
func (d Date) IsZero() bool { return d == 0 }

// String returns "2026-11-25", or "" for the zero Date.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return string(d.Append(nil))
}

// Format prints the date by a layout of package time; "" for the zero Date.
func (d Date) Format(layout string) string {
	if d.IsZero() {
		return ""
	}
	return d.Time().Format(layout)
}

// Append adds the YYYY-MM-DD form to b.
func (d Date) Append(b []byte) []byte { return d.Time().AppendFormat(b, "2006-01-02") }

// MarshalText writes the YYYY-MM-DD form; the zero Date becomes "".
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = 0
		return nil
	}
	v, err := ParseDate(string(b))
	if err == nil {
		*d = v
	}
	return err
}
