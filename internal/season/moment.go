package season

import (
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// Outcome says what became of an event in a year.
type Outcome uint8

// The outcomes.
const (
	Unknown Outcome = iota // too many days missing, or the search is not over
	Dated                  // it has a date
	Never                  // the whole season passed without it
	Already                // it had passed before the season began, and did not turn back
)

// String returns "unknown", "dated", "never" or "already".
func (o Outcome) String() string {
	return [...]string{"unknown", "dated", "never", "already"}[o]
}

// Moment is the date of an event, or why it has none.
type Moment struct {
	Outcome Outcome
	Date    civil.Date // the zero Date unless Dated
}

func dated(d civil.Date) Moment { return Moment{Dated, d} }

// AddDays moves a date; a moment without one stays as it is.
func (m Moment) AddDays(n int) Moment {
	if m.Outcome == Dated {
		m.Date = m.Date.AddDays(n)
	}
	return m
}

// String returns the date, or the word of the outcome.
func (m Moment) String() string {
	if m.Outcome == Dated {
		return m.Date.String()
	}
	return m.Outcome.String()
}

// Spread is how an event falls over several years, or several members of an
// ensemble, all told as dates of one year. A year in which it had already
// passed counts as earlier than any date, one in which it never came as later
// than any; for a last frost, a year without one counts as earlier. So a
// quantile may come out as Already or Never too.
type Spread struct {
	Years   int // that could be told: Dates, Early and Late together
	Early   int // of them earlier than any date
	Late    int // of them later than any date
	Unknown int // that could not be told; not among Years

	none   Outcome // what Early is called
	offset []float64
	origin civil.Date
}

// newSpread makes a spread of moments whose dates are days after origin.
// noneIsEarly says that a year without the event counts as earlier than any
// date.
func newSpread(origin civil.Date, noneIsEarly bool) Spread {
	s := Spread{origin: origin, none: Already}
	if noneIsEarly {
		s.none = Never
	}
	return s
}

// add takes the moment of a year; days is its place after the origin.
func (s *Spread) add(o Outcome, days int) {
	switch {
	case o == Unknown:
		s.Unknown++
		return
	case o == Dated:
		s.offset = append(s.offset, float64(days))
	case o == s.none || o == Already:
		s.Early++
	default:
		s.Late++
	}
	s.Years++
}

func (s *Spread) sort() { slices.Sort(s.offset) }

// Dates is how many of the years have a date.
func (s Spread) Dates() int { return len(s.offset) }

// Quantile returns the moment before which the event has come in a share p (0
// to 1) of the years, see [agromet.MixedQuantile]. Half days are rounded up.
// Unknown without years.
func (s Spread) Quantile(p float64) Moment {
	switch days := agromet.MixedQuantile(s.offset, s.Early, s.Late, p); {
	case math.IsNaN(days):
		return Moment{}
	case math.IsInf(days, -1):
		return Moment{Outcome: s.none}
	case math.IsInf(days, 1):
		return Moment{Outcome: Never}
	default:
		return dated(s.origin.AddYearDays(quantity.HalfUp(days)))
	}
}

// Median is Quantile(0.5).
func (s Spread) Median() Moment { return s.Quantile(0.5) }

// Middle returns the ends of the middle 60 % of the years: the quantiles 0.2
// and 0.8.
func (s Spread) Middle() (from, to Moment) { return s.Quantile(0.2), s.Quantile(0.8) }

// Before returns the share of the years, 0 to 1, in which the event had come
// before the date; NaN without years.
func (s Spread) Before(d civil.Date) float64 {
	if s.Years == 0 {
		return math.NaN()
	}
	n := s.Early
	for _, x := range s.offset {
		if s.origin.AddYearDays(int(x)) < d {
			n++
		}
	}
	return float64(n) / float64(s.Years)
}
