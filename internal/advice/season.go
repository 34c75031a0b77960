package advice

import (
	"math"
	"slices"
	"strings"

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
}

// eventClause asks how far an event of the year is.
type eventClause struct {
	event  season.Event
	within int // days to either side of it; -1: not asked
	before int // it is so many days ahead, or more; -1: not asked
	after  int // it was so many days ago, or more; -1: not asked
}

// phases are those that a rule may ask for, as it names them.
func phases() []string {
	return []string{string(season.Open), string(season.Ahead), string(season.Closed)}
}

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

// tablesOf reads a key that holds one table or a list of them.
func tablesOf(t *diag.Table, key string) []*diag.Table {
	if v, _ := t.Raw(key); v != nil {
		if _, one := v.(map[string]any); one {
			return []*diag.Table{t.Table(key, true)}
		}
	}
	return t.Tables(key)
}

func readWindowClauses(t *diag.Table, key string) []term {
	var out []term
	for _, sub := range tablesOf(t, key) {
		c := &windowClause{kind: season.WindowKind(sub.One("of", season.WindowKinds()...)), opensWithin: daysKey(sub, "opens_within"), closesWithin: daysKey(sub, "closes_within")}
		for _, w := range sub.Texts("is", false) {
			if !slices.Contains(phases(), w) {
				sub.Errorf("is", diag.DidYouMean(w, phases()), "%q is not where a window can stand", w)
			}
			c.phases = append(c.phases, season.Phase(w))
		}
		if c.phases == nil && c.opensWithin < 0 && c.closesWithin < 0 {
			sub.Errorf("of", `add is = ["open"], opens_within = "14 days" or closes_within = "14 days"`, "it asks nothing of the window")
		}
		sub.Close()
		out = append(out, term{window: c})
	}
	return out
}

func readEventClauses(t *diag.Table, key string) []term {
	var out []term
	for _, sub := range tablesOf(t, key) {
		c := &eventClause{event: season.ReadEvent(sub), within: daysKey(sub, "within"), before: daysKey(sub, "before"), after: daysKey(sub, "after")}
		asked := 0
		for _, n := range []int{c.within, c.before, c.after} {
			if n >= 0 {
				asked++
			}
		}
		if asked != 1 {
			sub.Errorf("event", `add one of within = "10 days", before = "6 weeks" or after = "3 weeks"`, "it asks nothing of the event, or more than one thing")
		}
		sub.Close()
		out = append(out, term{event: c})
	}
	return out
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

// find returns the window of a kind that speaks: one that is open, else the
// next to open, else the first of the calendar.
func (in *Input) window(kind season.WindowKind) (season.Reading, bool) {
	var best season.Reading
	found := false
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

func (c *windowClause) judge(in *Input) Truth {
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
			(c.closesWithin < 0 || r.Phase == season.Open && r.Days != 0 && r.Days <= c.closesWithin))
	}
}

func (c *windowClause) says(in *Input, held Truth) message.Message {
	title, now := message.Word(windowPhrase(c.kind)), message.Word("value.unknown")
	if in.windows() != nil {
		switch r, known := c.spoken(in); {
		case !known:
			now = message.Word("window.not_here")
		case r.Phase != season.CannotSay:
			title, now = message.Text(r.Window.Title), Stands(r, true)
		}
	}
	return clauseSays(held, title, now, c.asked())
}

func (c *windowClause) asked() message.Value {
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
	return message.List(message.And, parts...)
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
	if from.Outcome == season.Dated && to.Outcome == season.Dated && from.Date != to.Date {
		return message.Filled("moment."+momentID(b)+"_range", message.In("date", message.YearDay(when.Date)),
			message.In("from", message.YearDay(from.Date)), message.In("to", message.YearDay(to.Date)))
	}
	return message.New("moment."+momentID(b)).YearDay("date", when.Date)
}

// momentID is how the phrase book names a basis.
func momentID(b season.Basis) string {
	if b == season.NoBasis {
		return "unknown"
	}
	return string(b)
}

// dated dates the event that the clause asks about; there must be a lawn.
func (c *eventClause) dated(in *Input) season.Dating {
	if c.within >= 0 {
		return in.nearest(c.event)
	}
	return in.current(c.event)
}

func (c *eventClause) judge(in *Input) Truth {
	if in.Lawn == nil {
		return Unknown
	}
	switch d := c.dated(in); d.When.Outcome {
	case season.Dated:
		ahead := int(d.When.Date - in.IssueDate)
		return truth(c.within >= 0 && ahead <= c.within && -ahead <= c.within ||
			c.before >= 0 && ahead >= c.before || c.after >= 0 && -ahead >= c.after)
	case season.Never:
		return truth(c.before >= 0) // it is further ahead than any date
	case season.Already:
		return truth(c.after >= 0)
	}
	return Unknown
}

func (c *eventClause) says(in *Input, held Truth) message.Message {
	now := message.Word("value.unknown")
	if in.Lawn != nil {
		d := c.dated(in)
		now = message.Of(Moment(d.Basis, d.When, d.From, d.To))
	}
	return clauseSays(held, message.Of(Event(c.event).Raised()), now, message.Of(c.asked()))
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

func (c *eventClause) asked() message.Message {
	switch {
	case c.within >= 0:
		return message.New("event.within").DayCount("days", c.within)
	case c.before >= 0:
		return message.New("event.before").DayCount("days", c.before)
	}
	return message.New("event.after").DayCount("days", c.after)
}

// Event names an event: "the soil at 2 inches falls through 70 °F (21 °C)".
func Event(e season.Event) message.Message {
	depth := "event.depth_5cm"
	if e.At10cm {
		depth = "event.depth_10cm"
	}
	return message.Filled(eventPhrase(e.Kind),
		message.In("level", message.Both(e.LevelC, quantity.Temperature, 0, 0)), message.In("depth", message.Word(depth)),
		message.In("index", message.Number(e.Level, 2)), message.In("hours", message.One(e.Hours, quantity.Hours, 1, 1)),
		message.In("total", message.Both(e.TotalC, quantity.TemperatureDifference, 0, 0)), message.In("base", message.Both(e.Warmth.BaseC, quantity.Temperature, 0, 0)),
		message.In("start", message.EveryYear(startOf(e))), message.In("day", message.EveryYear(dayOf(e))))
}

// startOf is the start of a sum; 1 January where it is not told.
func startOf(e season.Event) civil.MonthDay {
	if e.From == (civil.MonthDay{}) {
		return civil.MonthDay{Month: 1, Day: 1}
	}
	return e.From
}

func dayOf(e season.Event) civil.MonthDay {
	if e.On == (civil.MonthDay{}) {
		return civil.MonthDay{Month: 1, Day: 1}
	}
	return e.On
}

func eventPhrase(k season.EventKind) string {
	return "event." + strings.ReplaceAll(string(k), "-", "_")
}

func windowPhrase(k season.WindowKind) string {
	return "window_kind." + strings.ReplaceAll(string(k), "-", "_")
}

func truthPhrase(t Truth) string {
	return [...]string{No: "clause.no", Unknown: "clause.unknown", Yes: "clause.yes"}[t]
}

// seasonSlots are the slots of a rule that asks about a window.
var seasonSlots = []string{"window", "window_stands"}

// seasonSlot fills one of them from the first window that the rule asks about.
func (in *Input) seasonSlot(r *Rule, name string, ranges bool) (message.Value, bool) {
	for _, t := range r.when {
		if t.window == nil {
			continue
		}
		w, ok := in.window(t.window.kind)
		switch {
		case !ok:
			return message.Word("window.not_here"), true
		case name == "window":
			return message.Text(w.Window.Title), true
		}
		return Stands(w, ranges), true
	}
	return message.Value{}, false // the loader refuses such a rule
}
