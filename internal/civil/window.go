package civil

import (
	"fmt"
)

// MonthDay is a day that recurs every year. 29 February is allowed: in a
// common year it stands for 28 February where a window ends and for 1 March
// where one starts, so that a window never grows by the rule.
type MonthDay struct {
	Month int // 1 to 12
	Day   int // 1 to 31
}

// leapYear is any year that has every day that ever exists.
const leapYear = 2024

// ParseMonthDay reads "11-15".
func ParseMonthDay(s string) (MonthDay, error) {
	n, ok := numbers(s, "00-00")
	if !ok {
		return MonthDay{}, fmt.Errorf("%q is not a month and day written as MM-DD", s)
	}
	if _, err := NewDate(leapYear, n[0], n[1]); err != nil {
		return MonthDay{}, fmt.Errorf("%q is not a day of any year", s)
	}
	return MonthDay{n[0], n[1]}, nil
}

// StartIn returns the day as the start of a window in a year.
func (md MonthDay) StartIn(year int) Date {
	if md.Day > DaysInMonth(year, md.Month) {
		return dateOf(year, md.Month+1, 1)
	}
	return dateOf(year, md.Month, md.Day)
}

// EndIn returns the day as the end of a window in a year.
func (md MonthDay) EndIn(year int) Date {
	return dateOf(year, md.Month, min(md.Day, DaysInMonth(year, md.Month)))
}

// Less reports whether md comes earlier in the year than o.
func (md MonthDay) Less(o MonthDay) bool {
	return md.Month < o.Month || md.Month == o.Month && md.Day < o.Day
}

// Format prints the day by a layout of package time that names no year and no
// day of the week.
func (md MonthDay) Format(layout string) string { return md.StartIn(leapYear).Format(layout) }

// String returns "11-15".
func (md MonthDay) String() string { return fmt.Sprintf("%02d-%02d", md.Month, md.Day) }

// Window is a span of days that recurs every year, both ends inside. If To
// comes before From it runs over New Year.
type Window struct{ From, To MonthDay }

// Span returns the window that starts in the given year.
func (w Window) Span(year int) (first, last Date) {
	end := year
	if w.To.Less(w.From) {
		end++
	}
	return w.From.StartIn(year), w.To.EndIn(end)
}

// Contains reports whether the date lies in the window of its own year or in
// one that began the year before.
func (w Window) Contains(d Date) bool {
	for year := d.Year() - 1; year <= d.Year(); year++ {
		if first, last := w.Span(year); first <= d && d <= last {
			return true
		}
	}
	return false
}
