package civil

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func date(t *testing.T, s string) Date {
	t.Helper()
	d, err := ParseDate(s)
	require.NoError(t, err)
	return d
}

// ISO 8601 week numbers around New Year, worked by the rule that a week
// belongs to the year of its Thursday.
func TestPublishedISOWeeks(t *testing.T) {
	for _, c := range []struct{ date, week string }{
		{"2021-01-03", "2020-W53"},
		{"2021-01-04", "2021-W01"},
		{"2024-12-29", "2024-W52"},
		{"2024-12-30", "2025-W01"},
		{"2026-01-01", "2026-W01"},
		{"2026-12-31", "2026-W53"},
		{"2027-01-03", "2026-W53"},
		{"2018-12-31", "2019-W01"},
		{"2016-07-18", "2016-W29"},
		{"2026-11-25", "2026-W48"},
	} {
		assert.Equal(t, c.week, date(t, c.date).Week().String(), c.date)
	}
	assert.Equal(t, 53, WeeksInYear(2026))
	assert.Equal(t, 52, WeeksInYear(2027))
}

func TestParseRefusesWhatDoesNotExist(t *testing.T) {
	for _, s := range []string{"2026-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "26-04-01", "2026/04/01", "2026-4-1", "", "2026-04-1a", "+026-04-01", "0000-01-01"} {
		_, err := ParseDate(s)
		assert.Error(t, err, s)
	}
	_, err := ParseDate("2026-02-29")
	assert.EqualError(t, err, `"2026-02-29" is not a date: February 2026 has 28 days, not 29`)
	for _, s := range []string{"2027-W53", "2026-W00", "2026-W54", "2026-48", "2026-w48", "2026-W4", "0000-W01"} {
		_, err := ParseWeek(s)
		assert.Error(t, err, s)
	}
	w, err := ParseWeek("2026-W53")
	require.NoError(t, err)
	assert.Equal(t, "2026-12-28", w.Monday().String())
	assert.Equal(t, "2027-01-03", w.Sunday().String())
	for _, s := range []string{"02-30", "00-01", "13-01", "1-01", "06-31", ""} {
		_, err := ParseMonthDay(s)
		assert.Error(t, err, s)
	}
}

func TestDateArithmetic(t *testing.T) {
	assert.Equal(t, "2028-02-29", date(t, "2028-02-28").AddDays(1).String())
	assert.Equal(t, "2026-03-01", date(t, "2026-02-28").AddDays(1).String())
	assert.Equal(t, 366, date(t, "2028-12-31").YearDay())
	assert.Equal(t, "2025-02-28", date(t, "2025-01-31").AddMonths(1).String())
	assert.Equal(t, "2025-02-28", date(t, "2024-02-29").AddMonths(12).String())
	assert.Equal(t, "2025-11-30", date(t, "2026-01-30").AddMonths(-2).String())
	assert.Equal(t, "2026-11-22", date(t, "2026-11-28").OnOrBefore(time.Sunday).String())
	assert.Equal(t, "2026-11-22", date(t, "2026-11-22").OnOrBefore(time.Sunday).String())
	assert.Equal(t, "", Date(0).String())
	assert.Equal(t, Date(1), MustDate(1, 1, 1))
	assert.Panics(t, func() { MustDate(2026, 2, 30) })
}

func TestWindowsWrapAndLeap(t *testing.T) {
	window := func(from, to string) Window {
		f, err := ParseMonthDay(from)
		require.NoError(t, err)
		e, err := ParseMonthDay(to)
		require.NoError(t, err)
		return Window{f, e}
	}
	winter := window("11-16", "02-29")
	for _, c := range []struct {
		w    Window
		date string
		in   bool
	}{
		{winter, "2026-11-15", false},
		{winter, "2026-11-16", true},
		{winter, "2026-12-31", true},
		{winter, "2027-01-01", true},
		{winter, "2027-02-28", true},
		{winter, "2027-03-01", false},
		{winter, "2028-02-29", true},
		{winter, "2028-03-01", false},
		{window("06-01", "09-30"), "2026-06-01", true},
		{window("06-01", "09-30"), "2026-09-30", true},
		{window("06-01", "09-30"), "2026-10-01", false},
		{window("02-29", "03-02"), "2026-02-28", false},
		{window("02-29", "03-02"), "2026-03-01", true},
		{window("07-04", "07-04"), "2026-07-04", true},
		{window("07-04", "07-04"), "2026-07-05", false},
	} {
		assert.Equal(t, c.in, c.w.Contains(date(t, c.date)), "%v %s", c.w, c.date)
	}
}

func TestDatesAgreeWithTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Date(rapid.Int32Range(1, 3652059).Draw(t, "day"))
		back, err := ParseDate(d.String())
		if err != nil || back != d {
			t.Fatalf("%d prints as %s and reads as %d (%v)", d, d, back, err)
		}
		y, m, day := d.YMD()
		if MustDate(y, m, day) != d {
			t.Fatalf("%s does not survive YMD", d)
		}
		w := d.Week()
		if d.Year() > 1 && d.Year() < 9999 {
			if d < w.Monday() || d > w.Sunday() || w.Monday().Weekday() != time.Monday {
				t.Fatalf("%s is outside its week %s", d, w)
			}
			if w.AddWeeks(1).Monday() != w.Monday()+7 {
				t.Fatalf("the week after %s is %s", w, w.AddWeeks(1))
			}
		}
		if next := d.AddDays(1); next-d != 1 {
			t.Fatalf("%s + 1 = %s", d, next)
		}
	})
}

// Both halves of a year cut in two windows cover every day exactly once.
func TestComplementaryWindowsPartitionTheYear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		year := rapid.IntRange(2000, 2100).Draw(t, "year")
		a := MustDate(year, 1, 1).AddDays(rapid.IntRange(0, 364).Draw(t, "a"))
		b := MustDate(year, 1, 1).AddDays(rapid.IntRange(0, 364).Draw(t, "b"))
		if a == b {
			return
		}
		md := func(d Date) MonthDay { _, m, day := d.YMD(); return MonthDay{m, day} }
		if md(a) == (MonthDay{2, 29}) || md(b) == (MonthDay{2, 29}) || md(a-1) == (MonthDay{2, 29}) || md(b-1) == (MonthDay{2, 29}) {
			return // the rule for a start on 29 February deliberately leaves no overlap, but may leave the day out
		}
		in, out := Window{md(a), md(b - 1)}, Window{md(b), md(a - 1)}
		d := MustDate(year, 1, 1).AddDays(rapid.IntRange(0, 365).Draw(t, "d"))
		if in.Contains(d) == out.Contains(d) {
			_, m, day := d.YMD()
			if (MonthDay{m, day}) != (MonthDay{2, 29}) {
				t.Fatalf("%s: %v and %v", d, in, out)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"2026-11-25", "2026-W48", "11-15", "02-29", "2026-02-30", "W-", "----------"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if d, err := ParseDate(s); err == nil && d.String() != s {
			t.Errorf("date %q prints as %q", s, d)
		}
		if w, err := ParseWeek(s); err == nil && w.String() != s {
			t.Errorf("week %q prints as %q", s, w)
		}
		if md, err := ParseMonthDay(s); err == nil && md.String() != s {
			t.Errorf("month-day %q prints as %q", s, md)
		}
	})
}

func TestOwnDesignYearOf365Days(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := MustDate(1999, 1, 1).AddDays(rapid.IntRange(0, 4000).Draw(t, "day"))
		n := rapid.IntRange(-900, 900).Draw(t, "days")
		_, month, day := d.YMD()
		if month == 2 && day == 29 {
			if d.YearPlace() != d.AddDays(-1).YearPlace() {
				t.Fatal("29 February has a place of its own")
			}
			return
		}
		if got := OnYearPlace(d.Year(), d.YearPlace()); got != d {
			t.Fatalf("%s became %s", d, got)
		}
		moved := d.AddYearDays(n)
		if got := moved.YearDaysSince(d); got != n {
			t.Fatalf("%s and %d days is %s, which counts %d", d, n, moved, got)
		}
		if d.AddYearDays(365) != OnYearPlace(d.Year()+1, d.YearPlace()) {
			t.Fatal("a year is not a year")
		}
	})
	assert.Equal(t, MustDate(2024, 3, 1), MustDate(2024, 2, 28).AddYearDays(1))
}

func TestFormat(t *testing.T) {
	d := date(t, "2026-11-22")
	assert.Equal(t, "Sunday, November 22", d.Format("Monday, January 2"))
	assert.Empty(t, Date(0).Format("January 2"))
	assert.Equal(t, MonthDay{11, 22}, d.MonthDay())
	assert.Equal(t, "February 29", MonthDay{2, 29}.Format("January 2"))
}
