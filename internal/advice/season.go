package advice

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/season"
)

// windowClause asks about a window of the grass's calendar, by its kind. Where
// the calendar has several of the kind, one that fits is enough.
type windowClause struct {
	kind         season.WindowKind
	phases       []season.Phase // any of these; nil: not asked
	opensWithin  int            // days from the issue date; -1: not asked
	closesWithin int
	openedWithin int // days back from it
}

// eventClause asks how far an event of the year is.
type eventClause struct {
	event season.Event
	op    string // within so many days to either side of it; so many days before or after it, or more
	days  int
}

// phases are those that a rule may ask for, as it names them.
var phases = []string{string(season.Open), string(season.Ahead), string(season.Closed)}

// daysKey reads a whole number of days, -1 where it is not asked.
func daysKey(t *diag.Table, key string) int {
	if !t.Has(key) {
		return -1
	}
	x, ok := t.OptQuantity(key, quantity.Time)
	if ok && (x < 0 || x > 200 || x != math.Trunc(x)) {
		t.Errorf(key, `write whole days, such as "10 days"`, "0 to 200 days may be asked")
		return -1
	}
	return int(x)
}

// readAsks reads a key that holds one table or a list of them, each a clause.
func readAsks(t *diag.Table, key string, read func(*diag.Table) term) []term {
	var tables []*diag.Table
	v, _ := t.Raw(key)
	if _, one := v.(map[string]any); one {
		tables = []*diag.Table{t.Table(key, true)}
	} else {
		tables = t.Tables(key)
	}
	var out []term
	for _, sub := range tables {
		out = append(out, read(sub))
		sub.Close()
	}
	return out
}

func readWindowClause(t *diag.Table) term {
	c := &windowClause{kind: season.WindowKind(t.One("of", season.WindowKinds()...)), opensWithin: daysKey(t, "opens_within"), closesWithin: daysKey(t, "closes_within"), openedWithin: daysKey(t, "opened_within")}
	for _, w := range t.Texts("is", false) {
		if !slices.Contains(phases, w) {
			t.Errorf("is", diag.DidYouMean(w, phases), "%q is not where a window can stand", w)
		}
		c.phases = append(c.phases, season.Phase(w))
	}
	if c.phases == nil && c.opensWithin < 0 && c.closesWithin < 0 && c.openedWithin < 0 {
		t.Errorf("of", `add is = ["open"], opens_within = "14 days", opened_within = "14 days" or closes_within = "14 days"`, "it asks nothing of the window")
	}
	return c
}

func readEventClause(t *diag.Table) term {
	c, asked := &eventClause{event: season.ReadEvent(t)}, 0
	for _, op := range []string{"within", "before", "after"} {
		if days := daysKey(t, op); days >= 0 {
			c.op, c.days = op, days
			asked++
		}
	}
	if asked != 1 {
		t.Errorf("event", `add one of within = "10 days", before = "6 weeks" or after = "3 weeks"`, "it asks nothing of the event, or more than one thing")
	}
	return c
}

// windows reads the grass's calendar for the issue, once.
func (in *Input) windows() []season.Reading {
	if in.Lawn == nil || in.Calendar == nil {
		return nil
	}
	if in.calendar == nil {
		in.calendar = in.Lawn.Windows(in.Calendar)
	}
	return in.calendar
}

// window returns the window of a kind that speaks: one that is open, else the
// next to open, else the first of the calendar.
func (in *Input) window(kind season.WindowKind) (best season.Reading, found bool) {
	better := func(a, b season.Reading) bool {
		if (a.Phase == season.Open) != (b.Phase == season.Open) {
			return a.Phase == season.Open
		}
		return a.Phase == season.Ahead && (b.Phase != season.Ahead || a.Days < b.Days)
	}
	for _, r := range in.windows() {
		if r.Window.Kind == kind && (!found || better(r, best)) {
			best, found = r, true
		}
	}
	return best, found
}

// spoken is the window that the clause asks about; known is false where the
// calendar cannot be read, or knows none here.
func (c *windowClause) spoken(in *Input) (r season.Reading, known bool) {
	r, known = in.window(c.kind)
	return r, known && r.Phase != season.NotHere && r.Phase != season.NoWindow
}

func (c *windowClause) judge(in *Input, _ *Pest) Truth {
	if in.windows() == nil {
		return Unknown
	}
	switch r, known := c.spoken(in); {
	case !known:
		return No
	case r.Phase == season.CannotSay:
		return Unknown
	default:
		return truth((c.phases == nil || slices.Contains(c.phases, r.Phase)) &&
			(c.opensWithin < 0 || r.Phase == season.Ahead && r.Days <= c.opensWithin) &&
			(c.closesWithin < 0 || r.Phase == season.Open && r.Days != 0 && r.Days <= c.closesWithin) &&
			(c.openedWithin < 0 || r.Phase == season.Open && c.justOpened(in, r.Instance.Opens.When)))
	}
}

// justOpened reports whether a window that is open has not been so for longer; one
// that opened before any record may have opened just now.
func (c *windowClause) justOpened(in *Input, opened season.Moment) bool {
	return opened.Outcome != season.Dated || int(in.IssueDate-opened.Date) <= c.openedWithin
}

func (c *windowClause) says(in *Input, _ *Pest, held Truth) message.Message {
	title, now := message.Word(phrase("window_kind", c.kind)), message.Word("value.unknown")
	if in.windows() != nil {
		switch r, known := c.spoken(in); {
		case !known:
			now = message.Word("window.not_here")
		case r.Phase != season.CannotSay:
			title, now = message.Text(r.Window.Title), Stands(r, true)
		}
	}
	var parts []message.Value
	if c.phases != nil {
		var named []message.Value
		for _, ph := range c.phases {
			named = append(named, message.Word("phase."+string(ph)))
		}
		parts = append(parts, message.List(message.Or, named...))
	}
	if c.opensWithin >= 0 {
		parts = append(parts, message.Of(message.New("window.opens_within").DayCount("days", c.opensWithin)))
	}
	if c.closesWithin >= 0 {
		parts = append(parts, message.Of(message.New("window.closes_within").DayCount("days", c.closesWithin)))
	}
	if c.openedWithin >= 0 {
		parts = append(parts, message.Of(message.New("window.opened_within").DayCount("days", c.openedWithin)))
	}
	return clauseSays(held, title, now, message.List(message.And, parts...))
}

// forecastDays is how far ahead a forecast names the day on which a window opens.
const forecastDays = 7

// Stands says where a window stands: "open through about August 12", "opens
// about March 3 (February 20 to March 12 in six years of ten)". The ranges go
// with it on demand.
func Stands(r season.Reading, ranges bool) message.Value {
	switch r.Phase {
	case season.Open:
		if r.Instance.Closes.When.Outcome == season.Dated {
			return message.Of(message.New("window.open_until").Said("date", endOf(r.Instance.Closes, -1, ranges)))
		}
	case season.Ahead:
		if opens := r.Instance.Opens; opens.Basis == season.Forecast && opens.When.Outcome == season.Dated && r.Days <= forecastDays {
			return message.Of(message.New("window.opens_forecast").WeekDay("day", opens.When.Date))
		}
		return message.Of(message.New("window.opens").Said("date", endOf(r.Instance.Opens, 0, ranges)))
	}
	return message.Word("phase." + string(r.Phase))
}

// endOf is one end of a window, moved by some days, with its range where it has
// one and how it is known.
func endOf(e season.End, move int, ranges bool) message.Message {
	if !ranges {
		e.From, e.To = e.When, e.When
	}
	return Moment(e.Basis, e.When.AddDays(move), e.From.AddDays(move), e.To.AddDays(move))
}

// Moment says a date with its range and how it is known: "April 9", "about
// April 9 (April 2 to April 16)".
func Moment(b season.Basis, when, from, to season.Moment) message.Message {
	if when.Outcome != season.Dated {
		return message.New("outcome." + when.Outcome.String())
	}
	basis := cmp.Or(string(b), "unknown")
	if from.Outcome == season.Dated && to.Outcome == season.Dated && from.Date != to.Date {
		return message.Filled("moment."+basis+"_range", message.In("date", message.YearDay(when.Date)),
			message.In("from", message.YearDay(from.Date)), message.In("to", message.YearDay(to.Date)))
	}
	return message.New("moment."+basis).YearDay("date", when.Date)
}

// dated dates the event that the clause asks about; there must be a lawn.
func (c *eventClause) dated(in *Input) season.Dating {
	if c.op == "within" {
		return in.nearest(c.event)
	}
	return in.current(c.event)
}

func (c *eventClause) judge(in *Input, _ *Pest) Truth {
	if in.Lawn == nil {
		return Unknown
	}
	switch d := c.dated(in); d.When.Outcome {
	case season.Dated:
		ahead := int(d.When.Date - in.IssueDate)
		return truth(c.op == "within" && ahead <= c.days && -ahead <= c.days ||
			c.op == "before" && ahead >= c.days || c.op == "after" && -ahead >= c.days)
	case season.Never:
		return truth(c.op == "before") // it is further ahead than any date
	case season.Already:
		return truth(c.op == "after")
	}
	return Unknown
}

func (c *eventClause) says(in *Input, _ *Pest, held Truth) message.Message {
	now := message.Word("value.unknown")
	if in.Lawn != nil {
		d := c.dated(in)
		now = message.Of(Moment(d.Basis, d.When, d.From, d.To))
	}
	return clauseSays(held, message.Of(Event(c.event).Raised()), now, message.Of(message.New("event."+c.op).DayCount("days", c.days)))
}

// halfYear is how long an event that has come still is the one spoken of: a
// frost of December is not ahead again in January.
const halfYear = 183

// current dates the event that is spoken of: the last one for half a year, then
// the next.
func (in *Input) current(e season.Event) season.Dating {
	year := e.YearAt(in.IssueDate, in.Grass)
	d := in.Lawn.Event(e, year)
	_, last := e.Season(year, in.Grass)
	if d.When.Outcome == season.Dated && in.IssueDate > d.When.Date.AddDays(halfYear) || d.When.Outcome != season.Dated && in.IssueDate > last {
		return in.Lawn.Event(e, year+1)
	}
	return d
}

// nearest dates the event in the year that brings it closest to the issue date.
func (in *Input) nearest(e season.Event) season.Dating {
	year := e.YearAt(in.IssueDate, in.Grass)
	best := in.Lawn.Event(e, year)
	distance := func(d season.Dating) int {
		if d.When.Outcome != season.Dated {
			return math.MaxInt
		}
		n := int(d.When.Date - in.IssueDate)
		return max(n, -n)
	}
	for _, y := range []int{year - 1, year + 1} {
		if d := in.Lawn.Event(e, y); distance(d) < distance(best) {
			best = d
		}
	}
	return best
}

// Event names an event: "the soil at 2 inches falls through 70 °F (21 °C)".
func Event(e season.Event) message.Message {
	depth := "event.depth_5cm"
	if e.At10cm {
		depth = "event.depth_10cm"
	}
	return message.Filled(phrase("event", e.Kind),
		message.In("level", message.Both(e.LevelC, quantity.Temperature, 0, 0)), message.In("depth", message.Word(depth)),
		message.In("index", message.Number(e.Level, 2)), message.In("hours", message.One(e.Hours, quantity.Hours, 1, 1)),
		message.In("total", message.Both(e.TotalC, quantity.TemperatureDifference, 0, 0)), message.In("base", message.Both(e.Warmth.BaseC, quantity.Temperature, 0, 0)),
		message.In("start", message.EveryYear(newYear(e.From))), message.In("day", message.EveryYear(newYear(e.On))))
}

// newYear is a day of the year; 1 January where none is told.
func newYear(d civil.MonthDay) civil.MonthDay { return cmp.Or(d, civil.MonthDay{Month: 1, Day: 1}) }

// seasonSlots are the slots of a rule that asks about a window.
var seasonSlots = []string{"window", "window_stands"}

// window is the first clause of the rule that asks about a window, or nil.
func (r *Rule) window() *windowClause {
	for _, t := range r.when {
		if c, ok := t.(*windowClause); ok {
			return c
		}
	}
	return nil
}

// seasonSlot fills one of them from the first window that the rule asks about,
// which the loader demands.
func (in *Input) seasonSlot(r *Rule, name string, ranges bool) message.Value {
	w, ok := in.window(r.window().kind)
	switch {
	case !ok:
		return message.Word("window.not_here")
	case name == "window":
		return message.Text(w.Window.Title)
	}
	return Stands(w, ranges)
}
