package advice

import (
	"math"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/diag"
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

func (c *windowClause) judge(in *Input) (Truth, Reason) {
	held, title, now := Unknown, in.Phrases.Word(windowPhrase(c.kind)), in.Phrases.Word("value.unknown")
	if in.windows() != nil {
		held = Yes
		if r, ok := in.window(c.kind); !ok || r.Phase == season.NotHere || r.Phase == season.NoWindow {
			held, now = No, in.Phrases.Word("window.not_here")
		} else if r.Phase == season.CannotSay {
			held = Unknown
		} else {
			title, now = r.Window.Title, in.Phrases.Phase(r, true)
			if c.phases != nil && !slices.Contains(c.phases, r.Phase) ||
				c.opensWithin >= 0 && (r.Phase != season.Ahead || r.Days > c.opensWithin) ||
				c.closesWithin >= 0 && (r.Phase != season.Open || r.Days == 0 || r.Days > c.closesWithin) {
				held = No
			}
		}
	}
	return held, in.Phrases.Say(truthPhrase(held), "title", title, "value", now, "test", c.asked(in))
}

func (c *windowClause) asked(in *Input) string {
	p := in.Phrases
	var parts []string
	if c.phases != nil {
		var named []string
		for _, ph := range c.phases {
			named = append(named, p.Word("phase."+string(ph)))
		}
		parts = append(parts, strings.Join(named, p.Word("clause.or")))
	}
	if c.opensWithin >= 0 {
		parts = append(parts, p.Say("window.opens_within", "days", in.dayCount(c.opensWithin)).Text)
	}
	if c.closesWithin >= 0 {
		parts = append(parts, p.Say("window.closes_within", "days", in.dayCount(c.closesWithin)).Text)
	}
	return strings.Join(parts, p.Word("clause.and"))
}

func (in *Input) dayCount(n int) string { return quantity.One(float64(n), quantity.Time, in.Units) }

// Phase words where a window stands: "open through about August 12", "opens
// about March 3 (February 20 to March 12 in six years of ten)". The ranges go
// with it on demand.
func (p *Phrases) Phase(r season.Reading, ranges bool) string {
	switch r.Phase {
	case season.Open:
		if r.Instance.Closes.When.Outcome != season.Dated {
			return p.Word("phase.open")
		}
		return p.Say("window.open_until", "date", p.end(r.Instance.Closes, -1, ranges)).Text
	case season.Ahead:
		return p.Say("window.opens", "date", p.end(r.Instance.Opens, 0, ranges)).Text
	}
	return p.Word("phase." + string(r.Phase))
}

// end words one end of a window, moved by some days, with its range where it
// has one and how it is known.
func (p *Phrases) end(e season.End, move int, ranges bool) string {
	if !ranges {
		e.From, e.To = e.When, e.When
	}
	return p.Moment(e.Basis, e.When.AddDays(move), e.From.AddDays(move), e.To.AddDays(move))
}

// Moment words a date with its range and how it is known: "April 9", "about
// April 9 (April 2 to April 16)".
func (p *Phrases) Moment(b season.Basis, when, from, to season.Moment) string {
	if when.Outcome != season.Dated {
		return p.Word("outcome." + when.Outcome.String())
	}
	slots := []string{"date", monthDayOf(when.Date)}
	if from.Outcome == season.Dated && to.Outcome == season.Dated && from.Date != to.Date {
		return p.Say("moment."+momentID(b)+"_range", append(slots, "from", monthDayOf(from.Date), "to", monthDayOf(to.Date))...).Text
	}
	return p.Say("moment."+momentID(b), slots...).Text
}

// momentID is how the phrase book names a basis.
func momentID(b season.Basis) string {
	if b == season.NoBasis {
		return "unknown"
	}
	return string(b)
}

func monthDayOf(d civil.Date) string { return monthDay(d.MonthDay()) }

func (c *eventClause) judge(in *Input) (Truth, Reason) {
	held, now := Unknown, in.Phrases.Word("value.unknown")
	if in.Lawn != nil {
		d := in.current(c.event)
		if c.within >= 0 {
			d = in.nearest(c.event)
		}
		now = in.Phrases.Moment(d.Basis, d.When, d.From, d.To)
		switch d.When.Outcome {
		case season.Dated:
			ahead := int(d.When.Date - in.IssueDate)
			held = truth(c.within >= 0 && ahead <= c.within && -ahead <= c.within ||
				c.before >= 0 && ahead >= c.before || c.after >= 0 && -ahead >= c.after)
		case season.Never:
			held = truth(c.before >= 0) // it is further ahead than any date
		case season.Already:
			held = truth(c.after >= 0)
		}
	}
	return held, in.Phrases.Say(truthPhrase(held), "title", upperFirst(in.Phrases.Event(c.event, in.Units)), "value", now, "test", c.asked(in))
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

func (c *eventClause) asked(in *Input) string {
	switch {
	case c.within >= 0:
		return in.Phrases.Say("event.within", "days", in.dayCount(c.within)).Text
	case c.before >= 0:
		return in.Phrases.Say("event.before", "days", in.dayCount(c.before)).Text
	}
	return in.Phrases.Say("event.after", "days", in.dayCount(c.after)).Text
}

// Event words an event: "the soil at 2 inches falls through 70 °F (21 °C)".
func (p *Phrases) Event(e season.Event, s quantity.System) string {
	temperature := func(c float64) string { return quantity.BothPrec(c, quantity.Temperature, s, 0, 0) }
	depth := p.Word("event.depth_5cm")
	if e.At10cm {
		depth = p.Word("event.depth_10cm")
	}
	return p.Say(eventPhrase(e.Kind),
		"level", temperature(e.LevelC), "depth", depth, "index", quantity.Fixed(e.Level, 2), "hours", quantity.One(e.Hours, quantity.Hours, s),
		"total", quantity.BothPrec(e.TotalC, quantity.TemperatureDifference, s, 0, 0), "base", temperature(e.Warmth.BaseC), "start", monthDay(startOf(e)), "day", monthDay(dayOf(e))).Text
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
func (in *Input) seasonSlot(r *Rule, name string, ranges bool) string {
	for _, t := range r.when {
		if t.window == nil {
			continue
		}
		w, ok := in.window(t.window.kind)
		switch {
		case !ok:
			return in.Phrases.Word("window.not_here")
		case name == "window":
			return w.Window.Title
		}
		return in.Phrases.Phase(w, ranges)
	}
	return "«" + name + "»" // the loader refuses such a rule
}

// seasonNeeds are the phrases about windows and events.
func seasonNeeds() []Need {
	var needs []Need
	add := func(slots []string, ids ...string) {
		for _, id := range ids {
			needs = append(needs, Need{ID: id, Slots: slots})
		}
	}
	for _, k := range season.WindowKinds() {
		add(nil, windowPhrase(season.WindowKind(k)))
	}
	for _, ph := range season.Phases() {
		add(nil, "phase."+string(ph))
	}
	add(nil, "window.not_here")
	add([]string{"days"}, "window.opens_within", "window.closes_within", "event.within", "event.before", "event.after")
	add([]string{"date"}, "window.open_until", "window.opens")
	for _, b := range season.Bases() {
		add([]string{"date"}, "moment."+momentID(b))
		add([]string{"date", "from", "to"}, "moment."+momentID(b)+"_range")
	}
	for _, o := range []season.Outcome{season.Unknown, season.Never, season.Already} {
		add(nil, "outcome."+o.String())
	}
	add(nil, "event.depth_5cm", "event.depth_10cm")
	for _, k := range season.EventKinds() {
		add([]string{"level", "depth", "index", "hours", "total", "base", "start", "day"}, eventPhrase(season.EventKind(k)))
	}
	return needs
}
