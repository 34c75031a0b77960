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
	text := plain(w.phrases.Moment(b, when, from, to))
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
		return w.say("year.settled", "date", plain(w.phrases.Moment(e.Basis, when, when, when)))
	}
	return w.moment(e.Basis, when, e.From.AddDays(move), e.To.AddDays(move))
}

// shortMoment is a date and how it is known, without its range.
func (w words) shortMoment(b season.Basis, when season.Moment) string {
	return plain(w.phrases.Moment(b, when, when, when))
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
		return plain(w.phrases.Moment(season.Fixed, d.When.AddDays(move), d.When, d.When))
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

// seasonNeeds are the phrases about the year.
func seasonNeeds() []advice.Need {
	var all []advice.Need
	say := func(id string, slots ...string) { all = append(all, advice.Need{ID: id, Slots: slots}) }
	for _, id := range []string{"happened", "settled", "maybe_never", "maybe_before"} {
		say("year."+id, "date")
	}
	say("year.span", "first", "last")
	say("year.in", "year", "when")
	for _, o := range []season.Outcome{season.Unknown, season.Never, season.Already} {
		say("year."+o.String(), "year")
	}
	say("year.likely_never", "year")
	say("year.likely_already", "year")
	say("year.first_day", "when")
	say("year.last_day", "when")
	say("year.this_was", "year", "span")
	say("year.drift", "opens", "closes")
	say("year.earlier", "days")
	say("year.later", "days")
	say("year.same")
	say("year.printed", "first", "last", "place")
	say("year.none_printed")
	say("year.record", "station", "since", "years")
	say("year.few", "station", "years")
	say("year.no_weather")
	say("year.no_calendar", "grass", "climate")
	say("year.ensemble", "members")
	say("year.soil", "how")
	say("year.light", "how")
	say("year.forecast", "date")
	say("year.no_forecast")
	say("year.cannot", "events")
	say("usual.few", "years")
	say("usual.range", "date", "from", "to", "years")
	say("usual.never", "years", "dates")
	say("usual.before", "years", "early")
	say("usual.or_before", "date", "years", "early")
	say("usual.or_never", "date", "years", "dates")
	for _, of := range []string{"air", "soil", "rain"} {
		for _, where := range []string{"high", "low", "middle"} {
			say("standing."+of+"_"+where, "value", "date", "below", "above", "years")
		}
		say("standing."+of+"_none", "value", "date")
		say("standing." + of + "_unknown")
	}
	say("window_law.closed", "places", "first", "last")
	say("window_law.closed_on", "places", "first")
	say("window_law.excepted", "places", "first", "last")
	say("window_law.not_cleared")
	say("window_law.none")
	say("ribbon.law", "places")
	say("ribbon.growth", "index", "low", "high")
	say("ribbon.growth_alone", "index")
	say("ribbon.lane", "title", "spans")
	for _, id := range []string{"none", "ahead", "forecast", "expected"} {
		say("ribbon." + id)
	}
	say("ahead.opens", "title")
	say("ahead.closes", "title")
	say("ahead.law_closes", "places")
	say("ahead.law_opens", "places")
	say("calendar_window.settled", "title", "grass")
	say("calendar_window.likely", "title", "grass")
	say("calendar_window.closed", "summary")
	for _, id := range []string{"category", "weekly", "others"} {
		say("calendar_window." + id)
	}
	say("calendar_window.source", "source")
	say("calendar_window.usual", "opens", "closes")
	return all
}
