package bulletin

import (
	"slices"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/reference"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// teller tells the year of a zone as of an issue.
type teller struct {
	ws       *workspace.Workspace
	zone     *Zone
	date     civil.Date
	station  *stationSeason // nil without weather
	closings *Closings
}

// year tells the year of the zone; all are those of its grasses, in their order.
func (t teller) year(all []*grassSeason) *Year {
	y := &Year{Cautions: cautionsOf(t.ws, true, usesOf(all))}
	s := t.station
	if s == nil {
		y.ByPrint = say("year.no_weather")
		return y
	}
	if !s.Enough() {
		y.ByPrint = message.Say(message.New("year.few").Name("station", t.zone.StationName).Count("years", s.Years))
	}
	y.First, y.Last, y.Standings = s.First, s.Last, s.Standings
	y.Rests, y.Lacks = message.SayAll(t.rests()), message.Say(t.lacks(all))
	y.Events = events(s.Events, nil)
	y.Closed = t.closings.lanes(s.First, s.Last)
	return y
}

// usesOf lists what any window uses.
func usesOf(all []*grassSeason) []string {
	var out []string
	for _, g := range all {
		for _, w := range g.Windows {
			out = append(out, advice.Words(w.Window.Uses)...)
		}
	}
	return out
}

// cautionsOf lists, in their order, the cautions that concern what is used; with
// those that always stand on demand.
func cautionsOf(ws *workspace.Workspace, always bool, used []string) []Caution {
	return slices.DeleteFunc(slices.Clone(ws.Cautions), func(c Caution) bool {
		return !(always && c.Always) && !slices.ContainsFunc(c.Uses, func(u string) bool { return slices.Contains(used, u) })
	})
}

// rests says which records and which methods the dates rest on.
func (t teller) rests() []message.Message {
	s, w := t.station, t.zone.Weather
	out := []message.Message{message.New("year.record").Name("station", t.zone.StationName).Date("since", s.FirstRecord).Count("years", s.Years)}
	if s.Members > 0 {
		out = append(out, message.New("year.ensemble").Count("members", s.Members))
	}
	if w.ForecastIssued.IsZero() {
		out = append(out, message.New("year.no_forecast"))
	} else {
		out = append(out, message.New("year.forecast").Date("date", w.ForecastIssued))
	}
	return append(out, message.New("year.soil").Said("how", w.Soil.Message), message.New("year.light").Said("how", w.Radiation.Message))
}

// lacks names the events that this year's weather cannot tell.
func (t teller) lacks(all []*grassSeason) message.Message {
	var lost []message.Value
	for _, e := range t.station.Events {
		if e.This.Basis == season.NoBasis {
			lost = append(lost, message.Of(advice.Event(e.This.Event)))
		}
	}
	for i, g := range all {
		for _, e := range g.Events {
			if e.This.Basis == season.NoBasis {
				lost = append(lost, message.List(message.Bracketed, message.Of(advice.Event(e.This.Event)), message.Text(t.zone.Grasses[i].Name)))
			}
		}
	}
	if len(lost) == 0 {
		return message.Message{}
	}
	return message.New("year.cannot").With("events", message.List(message.Semicolon, lost...))
}

// events tells events; p is their grass, or nil.
func events(all []datedEvent, p *turf.Profile) []Event {
	var out []Event
	for _, e := range all {
		told := Event{Name: message.Say(advice.Event(e.This.Event).Raised()), Usual: message.Say(usual(e.This, 0))}
		for _, d := range e.dates() {
			first, last := d.Event.Season(d.Year, p)
			told.This = append(told.This, message.Say(inYear(d, first, last)))
		}
		out = append(out, told)
	}
	return out
}

// grass tells the year of a grass.
func (t teller) grass(g *grassSeason, p *turf.Profile) *GrassYear {
	out := &GrassYear{Events: events(g.Events, p), Growth: g.Growth, LastWeek: lastWeek(g.Growth, t.date)}
	if len(g.Windows) == 0 {
		out.Lacks = message.Say(message.New("year.no_calendar").Name("grass", p.Name).Name("climate", t.zone.ClimateName))
	}
	for _, w := range g.Windows {
		out.Windows = append(out.Windows, t.window(w, p))
	}
	return out
}

// lastWeek says how the grass grew in the week before an issue.
func lastWeek(growth []Growth, issue civil.Date) *message.Said {
	i := slices.IndexFunc(growth, func(g Growth) bool { return g.Date == issue-1 })
	if i < 0 || !growth[i].Index.Known() {
		return nil
	}
	g := growth[i]
	if !g.Low.Known() {
		return message.Say(message.New("ribbon.growth_alone").With("index", indexOf(g.Index)))
	}
	return message.Say(message.New("ribbon.growth").With("index", indexOf(g.Index)).With("low", indexOf(g.Low)).With("high", indexOf(g.High)))
}

// indexOf is a growth index as it is printed.
func indexOf(n Num) message.Value { return message.Number(float64(n), 2) }

// growthKinds are the windows that tell what a grass does.
var growthKinds = []season.WindowKind{season.DormancyWindow, season.GreenUpWindow, season.FeedingWindow, season.SlowdownWindow}

// window tells a window of the calendar.
func (t teller) window(w datedWindow, p *turf.Profile) Window {
	about, uses := w.Window, advice.Words(w.Window.Uses)
	out := Window{
		ID: about.ID, Kind: about.Kind, Growth: slices.Contains(growthKinds, about.Kind), Title: text(about.Title),
		Stands: message.Say(message.New("phase." + string(w.Phase)).Raised()),
		Source: reference.SourceOf(t.ws, about.Cite.Source, about.Cite.Standing), Printed: say("year.none_printed"), Note: text(about.Cite.Note),
	}
	if len(uses) > 0 {
		out.Uses = message.Say(message.Just(message.Words(message.Comma, "use", uses...)))
	}
	out.Dates = message.SayAll(t.thisTime(w))
	if w.tellsUsual() {
		out.Usual = message.SayAll(ends(usualEnds(w)))
	}
	if by := about.Printed; by != nil {
		source := reference.SourceOf(t.ws, by.Cite.Source, by.Cite.Standing)
		out.Printed, out.By = message.Say(printed(*by)), &source
		if opens, closes, known := w.Drift(); known {
			out.Drift = message.Say(message.New("year.drift").Said("opens", driftOf(opens)).Said("closes", driftOf(closes)))
		}
	}
	in := w.Instance
	if in.Opens.When.Outcome == season.Dated && (w.Phase == season.Open || w.Phase == season.Ahead) {
		out.Law = t.closings.window(uses, max(in.Opens.When.Date, t.date), t.lastDay(in))
	} else {
		out.Law = t.closings.window(uses, t.date, t.date.AddMonths(12))
	}
	if t.station != nil {
		out.Lane = t.lane(w)
	}
	for _, in := range w.Instances {
		out.Openings = append(out.Openings, t.opening(w, in, p))
	}
	return out
}

// tellsUsual reports whether it is known when the window usually is.
func (w datedWindow) tellsUsual() bool { return w.Usual.Opens.Event.Event.Kind != "" }

// thisTime says when a window is open this time, and when it was this year if it
// is over.
func (t teller) thisTime(w datedWindow) []message.Message {
	var out []message.Message
	if w.Phase == season.Open || w.Phase == season.Ahead || w.Phase == season.Closed {
		out = bothEnds(w.Instance)
	}
	year := t.date.Year()
	for _, past := range w.Instances {
		if over := past.Closes.When.Date; past.Year != w.Instance.Year && over <= t.date && over > civil.MustDate(year, 1, 1) {
			out = append(out, message.New("year.this_was").Count("year", year).Said("span", spanOf(past)))
		}
	}
	return out
}

// lastDay is the last day of a window; of one without an end, a year on.
func (t teller) lastDay(in season.Instance) civil.Date {
	if in.Closes.When.Outcome != season.Dated {
		return t.date.AddMonths(12)
	}
	return in.Closes.When.Date - 1
}

// printed says what a handbook prints, and for where.
func printed(p season.PrintedWindow) message.Message {
	return message.New("year.printed").With("first", message.EveryYear(p.Window.From)).With("last", message.EveryYear(p.Window.To)).Name("place", p.Place)
}

// driftOf says by how many days something comes later.
func driftOf(days int) message.Message {
	switch {
	case days < 0:
		return message.New("year.earlier").DayCount("days", -days)
	case days > 0:
		return message.New("year.later").DayCount("days", days)
	}
	return message.New("year.same")
}

// lane lays out a window in the twelve months.
func (t teller) lane(w datedWindow) Lane {
	var runs []Run
	var words []message.Message
	for _, in := range w.Instances {
		first, last := max(in.Opens.When.Date, t.station.First), min(in.Closes.When.Date-1, t.station.Last)
		if first > last {
			continue
		}
		kind := Likely
		if settled(in) {
			kind = Settled
		}
		runs, words = append(runs, Run{first, last, kind}), append(words, spanOf(in))
	}
	return newLane(message.Plain(w.Window.Title), runs, words, message.New("ribbon.none"))
}

// settled reports whether both ends of a window are known for good.
func settled(in season.Instance) bool {
	known := func(b season.Basis) bool { return b == season.Happened || b == season.Fixed || b == season.Printed }
	return known(in.Opens.Basis) && known(in.Closes.Basis)
}

// opening tells a window of one year by itself, as a calendar does.
func (t teller) opening(w datedWindow, in season.Instance, p *turf.Profile) Opening {
	about, uses := w.Window, advice.Words(w.Window.Uses)
	o := Opening{Year: in.Year, First: in.Opens.When.Date, Last: in.Closes.When.Date - 1, Settled: settled(in), Category: say("calendar_window.category")}
	code := "calendar_window.likely"
	if o.Settled {
		code = "calendar_window.settled"
	}
	title := message.New(code).Name("title", about.Title).Name("grass", p.Name)
	says := bothEnds(in)
	if w.tellsUsual() && (in.Opens.Basis != season.Usual || in.Closes.Basis != season.Usual) {
		opens, closes := usualEnds(w)
		says = append(says, message.New("calendar_window.usual").Said("opens", opens).Said("closes", closes))
	}
	if by := about.Printed; by != nil {
		says = append(says, message.Just(message.Messages(message.Sentences, printed(*by), t.cited(by.Cite))))
	}
	law := t.closings.window(uses, o.First, o.Last)
	for _, l := range law {
		says = append(says, l.Says.Message)
	}
	if len(t.closings.parts(uses, o.First, o.Last)) > 0 {
		title = message.New("calendar_window.closed").Said("summary", title)
		says = append(says, message.New("calendar_window.others"))
	}
	says = append(says, t.cited(about.Cite))
	for _, c := range cautionsOf(t.ws, false, uses) {
		says = append(says, message.Plain(c.Short))
	}
	o.Says = message.SayAll(append(says, message.New("calendar_window.weekly")))
	if len(law) > 0 {
		o.Reminds = append(o.Reminds, say("calendar.ask"))
	}
	if t.ws.Site.Demo {
		o.Reminds = append(o.Reminds, say("calendar.invented"))
	}
	o.Title = message.Say(invented(t.ws.Site.Demo, title))
	return o
}

// cited names a source in a sentence.
func (t teller) cited(c turf.Cite) message.Message {
	s := reference.SourceOf(t.ws, c.Source, c.Standing)
	name := message.Of(s.Label.Message)
	if s.Standing != nil {
		name = message.List(message.Bracketed, name, message.Of(s.Standing.Message))
	}
	return message.New("calendar_window.source").With("source", name)
}
