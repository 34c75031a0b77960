package law

import (
	"cmp"

	"ligule/internal/civil"
)

// nextChangeDays is how far ahead of Sunday the next change is sought.
const nextChangeDays = 400

// Week answers a question for the seven days from a Monday on; q.Date is
// ignored. Weather in the question is taken to hold on each of the seven days,
// unless q.DailyWeather gives each day its own, and plays no part in the next
// change. Days with the same answer may share its slices, which are not to be
// changed.
func (b *Book) Week(q Question, monday civil.Date) PlaceWeek {
	w := PlaceWeek{Place: q.Place}
	q.AsOf = cmp.Or(q.AsOf, monday)
	sunday := monday.AddDays(len(w.Days) - 1)
	ahead := sunday.AddDays(nextChangeDays)
	q.Date = monday // a copy to be stepped through
	steps := b.steps(&q, monday, ahead)

	closed, strongest := 0, Open
	var calm Answer // of the day, if no weather rule is met
	for i := range w.Days {
		q.Date = monday.AddDays(i)
		stepped := len(steps) > 0 && steps[0] == q.Date
		if stepped {
			steps = steps[1:]
		}
		if q.DailyWeather != nil {
			q.Weather = q.DailyWeather(q.Date)
		}
		if i == 0 || stepped {
			still := q
			still.Weather = nil
			calm = b.Ask(still)
		}
		w.Days[i] = calm
		if b.weatherMet(&q) {
			w.Days[i] = b.Ask(q)
		}
		strongest = max(strongest, w.Days[i].Verdict)
		if w.Days[i].Verdict == Closed {
			closed++
		}
	}
	switch closed {
	case 0:
		w.State = strongest.String()
	case len(w.Days):
		w.State = "closed_all"
	default:
		w.State = "closed_part"
	}
	w.Next = b.next(q, calm.Verdict == Closed, steps)
	return w
}

// weatherMet reports whether the question's weather meets a rule of the place
// that hangs on it, whatever else the rule asks.
func (b *Book) weatherMet(q *Question) bool {
	if q.Weather == nil {
		return false
	}
	for _, id := range q.Place.Chain {
		for _, rec := range b.byJurisdiction[id] {
			for i := range rec.Rules {
				if rec.Rules[i].met(q.Weather) {
					return true
				}
			}
		}
	}
	return false
}

// next returns the first of the days given on which closed turns open or open
// closed by the calendar alone.
func (b *Book) next(q Question, was bool, steps []civil.Date) *Change {
	q.Weather = nil
	for _, q.Date = range steps {
		if b.closed(&q) != was {
			c := &Change{Date: q.Date, Opens: was}
			if !c.Opens {
				q.Date--
			}
			c.Clear = b.Ask(q).Verdict <= Conditional
			return c
		}
	}
	return nil
}

// closed answers only whether a day is closed, without making an answer.
func (b *Book) closed(q *Question) bool {
	j := judge{book: b, q: q, terse: true}
	j.place()
	return j.ans.Verdict == Closed
}

// VariesByPlace reports whether the places of a zone have different verdicts
// on some day of the week. Each must then be shown.
func VariesByPlace(weeks []PlaceWeek) bool {
	for i := range weeks {
		for d := range weeks[i].Days {
			if weeks[i].Days[d].Verdict != weeks[0].Days[d].Verdict {
				return true
			}
		}
	}
	return false
}
