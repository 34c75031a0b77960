package season

import (
	"math"

	"ligule/internal/civil"
)

// Basis says where the date of an event comes from.
type Basis string

// The bases, from the surest to the least sure.
const (
	Fixed    Basis = "fixed"    // by the calendar or the sun
	Happened Basis = "happened" // seen in the records
	Forecast Basis = "forecast" // by the forecast on file, or by a last day that was filled
	Expected Basis = "expected" // by the ensemble of past years
	Usual    Basis = "usual"    // as in past years; too far ahead for the ensemble
	Printed  Basis = "printed"  // by the printed calendar; of ends of windows only
	NoBasis  Basis = ""         // too few years on file, or too many days missing
)

// Bases lists the bases, from the surest to the least sure.
func Bases() []Basis { return []Basis{Fixed, Happened, Forecast, Expected, Usual, Printed, NoBasis} }

// Dating is when an event of one year comes, and when it usually does.
type Dating struct {
	Event Event
	Year  int // see [Event.Season]
	Basis Basis

	// When is the date, or that there was or will be none. Of an expected one
	// it is the median of the members, and From and To their middle 60 %; of a
	// usual one the same of the past years. Else the three are the same.
	When, From, To Moment

	Members Spread // of an expected date
	Typical Spread // over the years before on file, told as dates of this year
}

// Before returns the probability, 0 to 1, that the event has come before the
// date: the share of the members. NaN without a basis.
func (d Dating) Before(day civil.Date) float64 {
	switch d.Basis {
	case NoBasis:
		return math.NaN()
	case Expected:
		return d.Members.Before(day)
	case Usual:
		return d.Typical.Before(day)
	}
	if d.When.Outcome == Already || d.When.Outcome == Dated && d.When.Date < day ||
		d.When.Outcome == Never && d.Event.noneIsEarly() {
		return 1
	}
	return 0
}

// Event dates an event of the place in a year.
func (r *Record) Event(e Event, year int) Dating {
	if e.OfGrass() {
		panic("season: " + string(e.Kind) + " is an event of a grass: ask its Lawn")
	}
	return remember(r.dating, e, year, r.station.date)
}

// Event dates an event in a year: one of the grass, or of its place.
func (l *Lawn) Event(e Event, year int) Dating {
	if !e.OfGrass() {
		return l.record.Event(e, year)
	}
	return remember(l.dating, e, year, l.date)
}

func remember(known map[Event]map[int]Dating, e Event, year int, date func(Event, int) Dating) Dating {
	if d, ok := known[e][year]; ok {
		return d
	}
	d := date(e, year)
	if known[e] == nil {
		known[e] = map[int]Dating{}
	}
	known[e][year] = d
	return d
}

func (l *Lawn) date(e Event, year int) Dating {
	r := l.record
	d := Dating{Event: e, Year: year, Typical: l.typical(e, year)}
	first, last := e.Season(year, l.profile)
	seen, all := r.all.upTo(r.all.start.AddDays(r.seen)), r.all
	if e.Fixed() {
		return d.at(Fixed, e.find(&all, l.all, l.profile, year))
	}
	if m := e.find(&seen, l.all.upTo(r.seen), l.profile, year); m.Outcome != Unknown {
		return d.at(Happened, m)
	}
	if m := e.find(&all, l.all, l.profile, year); m.Outcome != Unknown {
		return d.at(Forecast, m)
	}
	switch {
	case last < r.issue:
		return d // over, and not to be told
	case first > r.issue.AddDays(ensembleLeadDays):
		if d.Typical.Years >= LeastYears {
			d.Basis, d.When = Usual, d.Typical.Median()
			d.From, d.To = d.Typical.Middle()
		}
		return d
	}
	d.Members = l.ensemble(e, year, first, last)
	if d.Members.Years < LeastYears {
		return d
	}
	d.Basis, d.When = Expected, d.Members.Median()
	d.From, d.To = d.Members.Middle()
	if e.Kind == LastFrost && d.Members.Dates() == d.Members.Years {
		// It has happened for good once no past year brings another frost.
		if m := d.Members.Quantile(0); m == d.Members.Quantile(1) && m.Date < r.issue {
			return d.at(Happened, m)
		}
	}
	return d
}

func (d Dating) at(b Basis, m Moment) Dating {
	d.Basis, d.When, d.From, d.To = b, m, m, m
	return d
}

// ensemble finds the event in every member that reaches to the end of its
// search: one that does not could only ever say "early".
func (l *Lawn) ensemble(e Event, year int, first, last civil.Date) Spread {
	s := newSpread(first, e.noneIsEarly())
	for i := range l.record.members {
		m := &l.record.members[i]
		if m.days.start.AddDays(m.days.days()) <= last {
			continue
		}
		var grass lawn
		if l.profile != nil {
			grass = l.members[i]
		}
		s.addMoment(e.find(&m.days, grass, l.profile, year), first)
	}
	s.sort()
	return s
}

// typical finds the event in the years before the year that are over.
func (l *Lawn) typical(e Event, year int) Spread {
	r := l.record
	origin, _ := e.Season(year, l.profile)
	s := newSpread(origin, e.noneIsEarly())
	if r.known == 0 {
		return s
	}
	known, grass := r.all.upTo(r.issue), l.all.upTo(r.known)
	for y := r.all.start.Year(); y < year; y++ {
		first, last := e.Season(y, l.profile)
		if first < r.all.start || last >= r.issue {
			continue
		}
		s.addMoment(e.find(&known, grass, l.profile, y), first)
	}
	s.sort()
	return s
}

func (s *Spread) addMoment(m Moment, seasonFirst civil.Date) {
	days := 0
	if m.Outcome == Dated {
		days = m.Date.YearDaysSince(seasonFirst)
	}
	s.add(m.Outcome, days)
}
