package civil

// Days of different years are compared on a year of 365 days, in which 29
// February counts as 28 February.

// YearDays is the length of that year.
const YearDays = 365

// Feb28 is the place of 28 February in it, and of 29 February.
const Feb28 = 31 + 28 - 1

// YearPlace returns the place of the date in a year of 365 days, 0 to 364.
func (d Date) YearPlace() int {
	place := d.YearDay() - 1
	if place > Feb28 && IsLeap(d.Year()) {
		place--
	}
	return place
}

// OnYearPlace returns the date of a place in a year. It is never 29 February.
func OnYearPlace(year, place int) Date {
	if place > Feb28 && IsLeap(year) {
		place++
	}
	return MustDate(year, 1, 1).AddDays(place)
}

// IsLeap reports whether the year has a 29 February.
func IsLeap(year int) bool { return DaysInMonth(year, 2) == 29 }

// YearDaysSince returns the days from a to d on years of 365 days.
func (d Date) YearDaysSince(a Date) int {
	return YearDays*(d.Year()-a.Year()) + d.YearPlace() - a.YearPlace()
}

// AddYearDays returns the date n days of such years later: the inverse of
// [Date.YearDaysSince].
func (d Date) AddYearDays(n int) Date {
	place := d.YearPlace() + n
	years := floorDiv(place, YearDays)
	return OnYearPlace(d.Year()+years, place-YearDays*years)
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
