package season

import (
	"slices"

	"ligule/internal/civil"
)

// End is one end of a window of a year.
type End struct {
	// Basis is that of the event, so that an end some weeks after one that has
	// Happened is settled, be it past or not; Printed where the printed
	// calendar has to speak: the event cannot be told, or has no date this year.
	Basis          Basis
	When, From, To Moment // see [Dating]; shifted by the offset
	Event          Dating
}

// Instance is a window of one year.
type Instance struct {
	Year          int // of the event that opens it
	Opens, Closes End // Closes is the day after the last
	// Empty: it would close before it opens, so it does not open this year.
	Empty bool
}

// Phase is where an issue stands to a window.
type Phase string

// The phases.
const (
	Open      Phase = "open"    // the issue date lies in it
	Ahead     Phase = "ahead"   // it opens later
	Closed    Phase = "closed"  // it is over, and when it opens next cannot be told
	NotHere   Phase = "none"    // in most years on file it never opens
	NoWindow  Phase = "skipped" // it does not open this year: it would close before
	CannotSay Phase = "unknown" // neither weather nor a printed calendar
)

// Reading is a window as an issue tells it.
type Reading struct {
	Window   Window
	Phase    Phase
	Instance Instance // the one that is open, else the next
	Days     int      // Ahead: until it opens; Open: until it closes, 0 if that cannot be told
	Basis    Basis    // of what Phase rests on: the weaker of the two ends

	// Usual is what the window usually is, over the years on file, as dates of
	// the instance's year.
	Usual Instance
}

// Windows reads every window of a calendar for the issue, in the order of the
// file. The calendar must be that of the lawn's grass.
func (l *Lawn) Windows(c *Calendar) []Reading {
	out := make([]Reading, len(c.Windows))
	for i, w := range c.Windows {
		out[i] = l.Window(w)
	}
	return out
}

// Window reads a window: the instance that holds the issue date, else the next
// that opens.
func (l *Lawn) Window(w Window) Reading {
	issue := l.record.issue
	last := Reading{Window: w, Phase: CannotSay}
	for year := issue.Year() - 1; year <= issue.Year()+1; year++ {
		in := l.Instance(w, year)
		r := Reading{Window: w, Instance: in, Usual: l.usual(w, year), Basis: weaker(in.Opens.Basis, in.Closes.Basis)}
		opens, closes := in.Opens.When, in.Closes.When
		switch {
		case in.Opens.Basis == NoBasis:
			if first, _ := w.Opens.Event.Season(in.Opens.Event.Year, l.profile); first <= issue && l.mayCome(w.Opens, in.Opens) {
				return Reading{Window: w, Phase: CannotSay, Instance: in, Usual: r.Usual}
			}
			continue
		case opens.Outcome != Dated:
			r.Phase, r.Basis = NotHere, in.Opens.Basis
		case in.Empty:
			r.Phase = NoWindow
		case closes.Outcome != Dated && closes.Outcome != Unknown && year < issue.Year():
			continue // it never closed: this year's, which opened or will open, stands for it
		case opens.Date > issue:
			r.Phase, r.Days, r.Basis = Ahead, int(opens.Date-issue), in.Opens.Basis
			return r
		case closes.Outcome == Unknown:
			if l.mayCome(w.Closes, in.Closes) { // it has opened
				return Reading{Window: w, Phase: CannotSay, Instance: in, Usual: r.Usual}
			}
			continue
		case closes.Outcome == Dated && closes.Date <= issue:
			r.Phase = Closed
		default:
			r.Phase = Open
			if closes.Outcome == Dated {
				r.Days = int(closes.Date - issue)
			}
			return r
		}
		if last.Phase == CannotSay || year <= issue.Year() {
			last = r
		}
	}
	return last
}

// mayCome reports whether an end could still come: the search for its event is
// not over, or its offset not past.
func (l *Lawn) mayCome(e Edge, end End) bool {
	_, last := e.Event.Season(end.Event.Year, l.profile)
	return l.record.issue <= last.AddDays(max(0, e.OffsetDays))
}

func weaker(a, b Basis) Basis {
	order := Bases()
	return order[max(slices.Index(order, a), slices.Index(order, b))]
}

// Instance dates the window of a year. Where an end cannot be told from
// weather, the printed calendar gives it. So it does where an event has no date
// this year: a season that closes with the first frost closes by print where no
// frost comes. But what never comes opens no window.
func (l *Lawn) Instance(w Window, year int) Instance {
	openYear, closeYear := w.In(year)
	var printedOpens, printedCloses Moment
	if w.Printed != nil {
		first, last := w.Printed.Window.Span(printedYear(w, year))
		printedOpens, printedCloses = dated(first), dated(last+1)
	}
	return instance(year, l.end(w.Opens, openYear, printedOpens, true), l.end(w.Closes, closeYear, printedCloses, false))
}

func instance(year int, opens, closes End) Instance {
	empty := opens.When.Outcome == Dated && closes.When.Outcome == Dated && closes.When.Date <= opens.When.Date
	return Instance{Year: year, Opens: opens, Closes: closes, Empty: empty}
}

// after moves the end by its offset.
func (e End) after(days int) End {
	e.When, e.From, e.To = e.When.AddDays(days), e.From.AddDays(days), e.To.AddDays(days)
	return e
}

// printedYear is the year in which the printed window of a year begins: a
// window that opens with an autumn event may be printed to begin after New
// Year.
func printedYear(w Window, year int) int {
	if !w.Opens.Event.spring() && w.Printed.Window.From.Month <= 3 {
		return year + 1
	}
	return year
}

func (l *Lawn) end(e Edge, year int, printed Moment, opens bool) End {
	d := l.Event(e.Event, year)
	out := End{Basis: d.Basis, When: d.When, From: d.From, To: d.To, Event: d}.after(e.OffsetDays)
	byPrint := d.Basis == NoBasis || d.When.Outcome == Already || !opens && d.When.Outcome == Never
	if !byPrint {
		return out
	}
	if printed.Outcome != Dated {
		if d.Basis == NoBasis || d.When.Outcome == Already {
			out.Basis = NoBasis
		}
		return out
	}
	out.Basis, out.When, out.From, out.To = Printed, printed, printed, printed
	return out
}

// Usual reads of a window only what is usual, for [Reading.Drift]: nothing is
// asked of this year's weather.
func (l *Lawn) Usual(w Window) Reading {
	const beyond = 2 // years: no ensemble reaches that far
	r := Reading{Window: w, Phase: CannotSay, Usual: l.usual(w, l.record.issue.Year()+beyond)}
	r.Instance = r.Usual
	return r
}

// usual is the window of a year by what is usual of its events.
func (l *Lawn) usual(w Window, year int) Instance {
	openYear, closeYear := w.In(year)
	end := func(e Edge, year int) End {
		d := l.Event(e.Event, year)
		out := End{Event: d}
		switch {
		case d.Event.Fixed():
			out.Basis, out.When, out.From, out.To = Fixed, d.When, d.From, d.To
		case d.Typical.Years >= LeastYears:
			out.Basis, out.When = Usual, d.Typical.Median()
			out.From, out.To = d.Typical.Middle()
		}
		return out.after(e.OffsetDays)
	}
	return instance(year, end(w.Opens, openYear), end(w.Closes, closeYear))
}

// Drift compares what is usual of a window with what is printed: by how many
// days it opens and closes later (negative: earlier). known is false where one
// of the two is missing, or has no dates.
func (r Reading) Drift() (opens, closes int, known bool) {
	w, u := r.Window, r.Usual
	if w.Printed == nil || u.Opens.When.Outcome != Dated || u.Closes.When.Outcome != Dated {
		return 0, 0, false
	}
	first, last := w.Printed.Window.Span(printedYear(w, u.Year))
	return nearest(u.Opens.When.Date, first), nearest(u.Closes.When.Date, last+1), true
}

// nearest returns how many days a comes after b, b's day of the year taken
// before or after a, whichever is nearer.
func nearest(a, b civil.Date) int {
	n := a.YearDaysSince(b) % civil.YearDays
	switch {
	case n > civil.YearDays/2:
		n -= civil.YearDays
	case n < -civil.YearDays/2:
		n += civil.YearDays
	}
	return n
}
