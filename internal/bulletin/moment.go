package bulletin

import (
	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/season"
)

// moment says a date of a season: how it is known, its range, and whether it may
// not come at all. A date on record says so.
func moment(b season.Basis, when, from, to season.Moment) message.Message {
	date := advice.Moment(b, when, from, to)
	if when.Outcome != season.Dated {
		return date
	}
	switch {
	case b == season.Happened:
		return message.New("year.happened").Said("date", date)
	case from.Outcome == season.Never || to.Outcome == season.Never:
		return message.New("year.maybe_never").Said("date", date)
	case from.Outcome == season.Already:
		return message.New("year.maybe_before").Said("date", date)
	}
	return date
}

// shortMoment is a date and how it is known, without its range.
func shortMoment(b season.Basis, when season.Moment) message.Message {
	return advice.Moment(b, when, when, when)
}

// endMoment says an end of a window, moved by some days. An end that hangs some
// weeks on an event on record is counted from it, and may yet be to come.
func endMoment(e season.End, move int) message.Message {
	when := e.When.AddDays(move)
	if e.Basis == season.Happened && when.Outcome == season.Dated && when.Date > e.Event.When.Date {
		return message.New("year.settled").Said("date", shortMoment(e.Basis, when))
	}
	return moment(e.Basis, when, e.From.AddDays(move), e.To.AddDays(move))
}

// ends say when a window opens and when it closes.
func ends(opens, closes message.Message) []message.Message {
	return []message.Message{message.New("year.first_day").Said("when", opens), message.New("year.last_day").Said("when", closes)}
}

// bothEnds are those of a window of a year.
func bothEnds(in season.Instance) []message.Message {
	return ends(endMoment(in.Opens, 0), endMoment(in.Closes, -1))
}

// spanOf says the days on which a window of a year is open.
func spanOf(in season.Instance) message.Message {
	return message.New("year.span").Said("first", shortMoment(in.Opens.Basis, in.Opens.When)).Said("last", shortMoment(in.Closes.Basis, in.Closes.When.AddDays(-1)))
}

// usual says when an event usually comes, over how many years; moved by some
// days. An event that comes in few years is told by their number.
func usual(d season.Dating, move int) message.Message {
	t := d.Typical
	if d.Event.Fixed() {
		return shortMoment(season.Fixed, d.When.AddDays(move))
	}
	if t.Years < season.LeastYears {
		return message.New("usual.few").Count("years", t.Years)
	}
	when := t.Median().AddDays(move)
	from, to := t.Middle()
	from, to = from.AddDays(move), to.AddDays(move)
	says := func(code string) message.Message { return message.New("usual."+code).Count("years", t.Years) }
	switch {
	case when.Outcome == season.Never:
		return says("never").Count("dates", t.Dates())
	case when.Outcome != season.Dated:
		return says("before").Count("early", t.Early)
	case from.Outcome == season.Dated && to.Outcome == season.Dated:
		return says("range").YearDay("date", when.Date).YearDay("from", from.Date).YearDay("to", to.Date)
	case from.Outcome == season.Already:
		return says("or_before").YearDay("date", when.Date).Count("early", t.Early)
	}
	return says("or_never").YearDay("date", when.Date).Count("dates", t.Dates())
}

// usualEnds says when a window usually opens and closes.
func usualEnds(w datedWindow) (opens, closes message.Message) {
	return usual(w.Usual.Opens.Event, w.Window.Opens.OffsetDays), usual(w.Usual.Closes.Event, w.Window.Closes.OffsetDays-1)
}

// inYear says an event of one year, with the year; first and last are the days of
// its search.
func inYear(d season.Dating, first, last civil.Date) message.Message {
	if d.When.Outcome == season.Dated {
		return message.New("year.in").Count("year", d.When.Date.Year()).Said("when", moment(d.Basis, d.When, d.From, d.To))
	}
	year := message.Count(d.Year)
	if last.Year() != first.Year() && first.Year() == d.Year {
		year = message.List(message.Range, year, message.Count(last.Year()%100))
	}
	code := "year."
	if d.Basis == season.Expected || d.Basis == season.Usual {
		code = "year.likely_"
	}
	return message.New(code+d.When.Outcome.String()).With("year", year)
}
