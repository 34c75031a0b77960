package publish

import (
	"strconv"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/season"
)

// moment words a date of a season: how it is known, its range, and whether it
// may not come at all. A date on record says so.
func (w words) moment(b season.Basis, when, from, to season.Moment) string {
	text := w.Say(advice.Moment(b, when, from, to))
	if when.Outcome != season.Dated {
		return text
	}
	switch {
	case b == season.Happened:
		return w.say("year.happened", "date", text)
	case from.Outcome == season.Never || to.Outcome == season.Never:
		return w.say("year.maybe_never", "date", text)
	case from.Outcome == season.Already:
		return w.say("year.maybe_before", "date", text)
	}
	return text
}

// endMoment words an end of a window, moved by some days. An end that hangs
// some weeks on an event on record is counted from it, and may yet be to come.
func (w words) endMoment(e season.End, move int) string {
	when := e.When.AddDays(move)
	if e.Basis == season.Happened && when.Outcome == season.Dated && when.Date > e.Event.When.Date {
		return w.say("year.settled", "date", w.Say(advice.Moment(e.Basis, when, when, when)))
	}
	return w.moment(e.Basis, when, e.From.AddDays(move), e.To.AddDays(move))
}

// shortMoment is a date and how it is known, without its range.
func (w words) shortMoment(b season.Basis, when season.Moment) string {
	return w.Say(advice.Moment(b, when, when, when))
}

// span of days that a window is open, in words.
func (w words) instance(in season.Instance) string {
	return w.say("year.span", "first", w.shortMoment(in.Opens.Basis, in.Opens.When), "last", w.shortMoment(in.Closes.Basis, in.Closes.When.AddDays(-1)))
}

// usual words when an event usually comes, over how many years; moved by some
// days. An event that comes in few years is told by their number.
func (w words) usual(d season.Dating, move int) string {
	t := d.Typical
	years, dates := strconv.Itoa(t.Years), strconv.Itoa(t.Dates())
	if d.Event.Fixed() {
		return w.Say(advice.Moment(season.Fixed, d.When.AddDays(move), d.When, d.When))
	}
	if t.Years < season.LeastYears {
		return w.say("usual.few", "years", years)
	}
	when := t.Median().AddDays(move)
	from, to := t.Middle()
	from, to = from.AddDays(move), to.AddDays(move)
	slots := []string{"date", monthDay(when.Date), "from", monthDay(from.Date), "to", monthDay(to.Date), "years", years, "dates", dates, "early", strconv.Itoa(t.Early)}
	switch {
	case when.Outcome == season.Never:
		return w.say("usual.never", "years", years, "dates", dates)
	case when.Outcome != season.Dated:
		return w.say("usual.before", "years", years, "early", strconv.Itoa(t.Early))
	case from.Outcome == season.Dated && to.Outcome == season.Dated:
		return w.say("usual.range", slots[:8]...)
	case from.Outcome == season.Already:
		return w.say("usual.or_before", "date", monthDay(when.Date), "years", years, "early", strconv.Itoa(t.Early))
	}
	return w.say("usual.or_never", "date", monthDay(when.Date), "years", years, "dates", dates)
}

// dating words an event of one year, with the year.
func (w words) dating(d season.Dating, first, last civil.Date) string {
	year := strconv.Itoa(d.Year)
	if d.When.Outcome == season.Dated {
		return w.say("year.in", "year", strconv.Itoa(d.When.Date.Year()), "when", w.moment(d.Basis, d.When, d.From, d.To))
	}
	if last.Year() != first.Year() && first.Year() == d.Year {
		year += "–" + strconv.Itoa(last.Year()%100)
	}
	if d.Basis == season.Expected || d.Basis == season.Usual {
		return w.say("year.likely_"+d.When.Outcome.String(), "year", year)
	}
	return w.say("year."+d.When.Outcome.String(), "year", year)
}
