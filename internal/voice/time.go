package voice

import (
	"strconv"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/message"
)

// time prints what the calendar and the clock say; nothing for a date that is
// missing.
func (v Voice) time(x message.Value) string {
	switch x.Kind {
	case message.MonthKind:
		return v.word("month." + figure(x.Number))
	case message.InitialKind:
		return v.word("month_initial." + figure(x.Number))
	case message.WeekdayKind:
		return v.word("weekday." + figure(x.Number))
	case message.ClockKind:
		return v.clock(int(x.Number))
	case message.HoursKind:
		return v.hours(x.US, x.Metric)
	case message.SpanKind:
		return v.span(x.First, x.Last)
	case message.DaysKind:
		return v.days(x.Dates)
	}
	return v.date("date."+strings.ReplaceAll(string(x.Kind), "-", "_"), x.First)
}

// Date prints a date in one of the forms of package message.
func (v Voice) Date(k message.Kind, d civil.Date) string { return v.Value(message.DateAs(k, d)) }

// date fills a form of the book. Its slots are the parts of the date.
func (v Voice) date(form string, d civil.Date) string {
	if d.IsZero() {
		return ""
	}
	year, month, day := d.YMD()
	weekday := strconv.Itoa(int(d.Weekday()))
	p, ok := v.Book.phrases[form]
	if !ok {
		return missing(form)
	}
	return message.Fill(p.text(v.Length), func(part string) string {
		switch part {
		case "year":
			return strconv.Itoa(year)
		case "month":
			return v.word("month." + strconv.Itoa(month))
		case "month_short":
			return v.word("month_short." + strconv.Itoa(month))
		case "day":
			return strconv.Itoa(day)
		case "weekday":
			return v.word("weekday." + weekday)
		case "weekday_short":
			return v.word("weekday_short." + weekday)
		}
		return missing(part)
	})
}

// span prints a run of days, what both ends share once.
func (v Voice) span(first, last civil.Date) string {
	form := "span.one_month"
	switch {
	case first.Year() != last.Year():
		form = "span.years"
	case first.Month() != last.Month():
		form = "span.one_year"
	}
	return v.say(message.New(form).Date("first", first).Date("last", last).YearDay("first_day", first).
		Count("last_day", dayOfMonth(last)).Count("year", last.Year()))
}

func dayOfMonth(d civil.Date) int {
	_, _, day := d.YMD()
	return day
}

// days prints days of one week: all of them, one, first through last, or each
// run of them.
func (v Voice) days(days []civil.Date) string {
	switch {
	case len(days) == 0:
		return ""
	case len(days) == 7:
		return v.word("days.all_week")
	case len(days) == 1:
		return v.value(message.WeekDay(days[0]))
	case int(days[len(days)-1]-days[0]) == len(days)-1:
		return v.say(message.New("days.through").WeekDay("first", days[0]).WeekDay("last", days[len(days)-1]))
	}
	parts := make([]message.Value, len(days))
	for i, d := range days {
		parts[i] = message.WeekDay(d)
	}
	return v.list(message.List(message.And, parts...))
}

const (
	hourMinutes = 60
	dayMinutes  = 24 * hourMinutes
)

// clock prints minutes after midnight: "midnight", "9 am", "4:30 pm".
func (v Voice) clock(minute int) string {
	switch minute %= dayMinutes; minute {
	case 0:
		return v.word("clock.midnight")
	case dayMinutes / 2:
		return v.word("clock.noon")
	}
	number, half := clockNumber(minute)
	return v.say(message.New("clock."+half).Name("time", number))
}

// clockNumber is a time on a clock of twelve hours, and which half of the day.
func clockNumber(minute int) (number, half string) {
	hour, half := minute/hourMinutes, "am"
	if hour >= 12 {
		half = "pm"
	}
	number = strconv.Itoa((hour+11)%12 + 1)
	if m := minute % hourMinutes; m > 0 {
		number += ":" + strconv.Itoa(m/10) + strconv.Itoa(m%10)
	}
	return number, half
}

// hours prints a stretch of full hours, what both ends share once: "7–10 am",
// "10 am–2 pm", "11 am–noon". No line ends inside it.
func (v Voice) hours(from, to int) string {
	first, last := v.clock(from*hourMinutes), v.clock(to*hourMinutes)
	a, b := from*hourMinutes%dayMinutes, to*hourMinutes%dayMinutes
	if named := func(m int) bool { return m == 0 || m == dayMinutes/2 }; !named(a) && !named(b) {
		number, half := clockNumber(a)
		if _, other := clockNumber(b); half == other {
			first = number
		}
	}
	text := v.say(message.New("clock.span").Name("from", first).Name("to", last))
	// A word joiner keeps what a dash would part.
	return strings.ReplaceAll(strings.ReplaceAll(text, " ", "\u00a0"), "–", "–\u2060")
}
