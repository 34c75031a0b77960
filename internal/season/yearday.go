package season

import "ligule/internal/civil"

// yearDays is the length of the year that days are counted on.
const yearDays = 365

const feb28 = 31 + 28 - 1 // its place, from 0

// placeOf returns the place of a date in a year of 365 days, 0 to 364: 29
// February has that of 28 February.
func placeOf(d civil.Date) int {
	place := d.YearDay() - 1
	if place > feb28 && leap(d.Year()) {
		place--
	}
	return place
}

// onPlace returns the date of a place in a year. It is never 29 February.
func onPlace(year, place int) civil.Date {
	if place > feb28 && leap(year) {
		place++
	}
	return civil.MustDate(year, 1, 1).AddDays(place)
}

func leap(year int) bool { return civil.DaysInMonth(year, 2) == 29 }

// yearDayCount returns the days from a to b on years of 365 days.
func yearDayCount(a, b civil.Date) int {
	return yearDays*(b.Year()-a.Year()) + placeOf(b) - placeOf(a)
}

// addYearDays is the inverse of yearDayCount.
func addYearDays(a civil.Date, n int) civil.Date {
	place := placeOf(a) + n
	year := a.Year() + floorDiv(place, yearDays)
	return onPlace(year, place-yearDays*floorDiv(place, yearDays))
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
