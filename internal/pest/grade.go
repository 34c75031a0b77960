package pest

import (
	"math"

	"ligule/internal/civil"
)

// Grade is how much a pest asks for attention: nothing, a look, or two looks a
// week and the cultural steps now. No grade is an order to treat.
type Grade uint8

// The grades.
const (
	Quiet Grade = iota
	Watch
	Act
)

// String returns "quiet", "watch" or "act".
func (g Grade) String() string {
	return Grades()[g]
}

// WeekGrade is the grade of one issue of the stepping.
type WeekGrade struct {
	Issue civil.Date
	Grade Grade
	Known bool
	Score float64 // of a disease with a daily risk; NaN if it is not known
}

const daysPerYear = 365.25

// SameWeek reports whether an issue so many weeks ago was in the same week of an
// earlier year.
func SameWeek(weeksAgo int) bool {
	in := func(years float64) int { return int(math.Round(years * daysPerYear / WeekDays)) }
	years := math.Round(float64(weeksAgo) * WeekDays / daysPerYear)
	return years >= 1 && in(years) == weeksAgo
}

// Usual tells how usual a grade is: in how many earlier years the same week is on
// record, and in how many of them it was at watch or more.
type Usual struct{ Years, Up int }

// Add counts the grade of the same week of another year.
func (u *Usual) Add(g Grade, known bool) {
	if !known {
		return
	}
	u.Years++
	if g >= Watch {
		u.Up++
	}
}

// Grades lists the words of the grades, in their order.
func Grades() []string { return []string{"quiet", "watch", "act"} }
