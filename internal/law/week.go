package law

import "ligule/internal/civil"

// nextChangeDays is how far ahead of Sunday the next change is sought.
const nextChangeDays = 400

// Week answers a question for the seven days from a Monday on; q.Date is
// ignored. Weather in the question is taken to hold on each of the seven days
// and plays no part in the next change.
func (b *Book) Week(q Question, monday civil.Date) PlaceWeek {
	w := PlaceWeek{Place: q.Place}
	if q.AsOf.IsZero() {
		q.AsOf = monday
	}
	closed, strongest := 0, Open
	for i := range w.Days {
		q.Date = monday.AddDays(i)
		if q.DailyWeather != nil {
			q.Weather = q.DailyWeather(q.Date)
		}
		w.Days[i] = b.Ask(q)
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
	w.Next = b.next(q, monday.AddDays(6))
	return w
}

// next returns the first day after a day on which closed turns open or open
// closed by the calendar alone.
func (b *Book) next(q Question, after civil.Date) *Change {
	q.Weather = nil
	q.Date = after
	was := b.closed(&q)
	for range nextChangeDays {
		q.Date++
		if is := b.closed(&q); is != was {
			return &Change{Date: q.Date, Opens: was}
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
