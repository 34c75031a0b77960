package publish

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/issue"
	"ligule/internal/quantity"
	"ligule/internal/season"
)

// yearPage is what the page of a zone's year gets.
type yearPage struct {
	Zone     *zoneView
	Year     *zoneYearView
	Cautions []cautionView
}

// zoneYearView is the year of a zone.
type zoneYearView struct {
	Label     string   // "2026"
	Printed   string   // why the dates are those of printed calendars; "" if they are not
	Rests     []string // what the dates rest on
	Lacks     string   // what cannot be told; "" for nothing
	Standings []string
	Events    []eventView
	Grasses   []grassYearView
}

// eventView is an event in words.
type eventView struct {
	Name  string
	This  []string // this year, and the next where it can be told
	Usual string
}

// grassYearView is the year of a grass.
type grassYearView struct {
	ID, Name, Botanical, Address string

	Missing string // why there are no windows; "" if there are
	Windows []windowView
	Events  []eventView
	Ribbon  *ribbonView
}

// windowView is a window in words.
type windowView struct {
	Title   string
	Uses    string // "" for nothing
	Stands  string // where it stands: "Open"
	Dates   []string
	Usual   []string // first and last day
	Printed string
	Drift   string
	Source  sourceLink
	Own     sourceLink // of the window itself
	Note    string
	Law     []windowLawView
}

// year makes the page of a zone's year.
func (v viewer) year(z *issue.Zone, zv *zoneView, asOf civil.Date) *zoneYearView {
	y := z.Year
	out := &zoneYearView{Label: strconv.Itoa(asOf.Year())}
	if y == nil {
		out.Printed = v.must("year", "no_weather")
	} else {
		if !y.Enough() {
			out.Printed = v.say("year.few", "station", z.StationName, "years", strconv.Itoa(y.Years))
		}
		out.Rests = v.rests(z)
		out.Standings = v.standings(y)
		for _, e := range y.Events {
			out.Events = append(out.Events, v.event(e, nil))
		}
	}
	var lost []string
	for i, g := range z.Grasses {
		gv := zv.Grasses[i]
		gy := grassYearView{ID: gv.ID, Name: gv.Name, Botanical: gv.Botanical, Address: gv.Address}
		windows := v.windowsOf(z, g)
		if len(windows) == 0 {
			gy.Missing = v.say("year.no_calendar", "grass", gv.Name, "climate", z.ClimateName)
		}
		for _, w := range windows {
			gy.Windows = append(gy.Windows, v.window(z, w, asOf))
		}
		if g.Year != nil {
			for _, e := range g.Year.Events {
				gy.Events = append(gy.Events, v.event(e, g))
			}
			gy.Ribbon = v.ribbon(z, g, asOf, nil)
		}
		out.Grasses = append(out.Grasses, gy)
	}
	if y != nil {
		for _, e := range y.Events {
			lost = v.lost(lost, e, "")
		}
		for _, g := range z.Grasses {
			for _, e := range g.Year.Events {
				lost = v.lost(lost, e, g.Profile.Name)
			}
		}
	}
	if len(lost) > 0 {
		out.Lacks = v.say("year.cannot", "events", strings.Join(lost, "; "))
	}
	return out
}

// windowsOf are the windows of a grass; where there is no weather, those of the
// calendar, of which only what is printed is known.
func (v viewer) windowsOf(z *issue.Zone, g *issue.Grass) []issue.YearWindow {
	if g.Year != nil {
		return g.Year.Windows
	}
	var out []issue.YearWindow
	if c := v.ws.Calendar(z.Climate, g.Profile.ID); c != nil {
		for _, w := range c.Windows {
			out = append(out, issue.YearWindow{Reading: season.Reading{Window: w, Phase: season.CannotSay}})
		}
	}
	return out
}

// lost adds an event that this year's weather cannot tell.
func (v viewer) lost(all []string, e issue.YearEvent, grass string) []string {
	if e.This.Basis != season.NoBasis {
		return all
	}
	name := plain(v.phrases.Event(e.This.Event, v.units))
	if grass != "" {
		name += " (" + grass + ")"
	}
	return append(all, name)
}

// rests says which records and which methods the dates rest on.
func (v viewer) rests(z *issue.Zone) []string {
	y := z.Year
	out := []string{v.say("year.record", "station", z.StationName, "since", longDate(y.FirstRecord), "years", strconv.Itoa(y.Years))}
	if y.Members > 0 {
		out = append(out, v.say("year.ensemble", "members", strconv.Itoa(y.Members)))
	}
	w := z.Weather
	if w == nil {
		return out
	}
	if w.ForecastIssued.IsZero() {
		out = append(out, v.must("year", "no_forecast"))
	} else {
		out = append(out, v.say("year.forecast", "date", longDate(w.ForecastIssued)))
	}
	return append(out, v.say("year.soil", "how", v.word("soil_method", w.SoilMethod.String())), v.say("year.light", "how", v.word("rung", w.RadiationRung.String())))
}

// Shares of the years from which on a value is called high or low. Own design.
const (
	highShare = 0.7
	lowShare  = 0.3
)

// standings word how the days before the issue compare with other years.
func (v viewer) standings(y *issue.Year) []string {
	var out []string
	for _, s := range y.Standings {
		id := "standing." + string(s.Of)
		var value string
		if s.Of == issue.Rain {
			value = v.bothPrec(s.Value, quantity.Depth, 1, 0)
		} else {
			value = v.bothPrec(s.Value, quantity.Temperature, 0, 0)
		}
		switch {
		case math.IsNaN(s.Value):
			out = append(out, v.say(id+"_unknown"))
			continue
		case s.Years == 0:
			out = append(out, v.say(id+"_none", "value", value, "date", monthDay(s.Last)))
			continue
		case s.Share() >= highShare:
			id += "_high"
		case s.Share() <= lowShare:
			id += "_low"
		default:
			id += "_middle"
		}
		out = append(out, v.say(id, "value", value, "date", monthDay(s.Last),
			"below", strconv.Itoa(s.Below), "above", strconv.Itoa(s.Above), "years", strconv.Itoa(s.Years)))
	}
	return out
}

// event words an event; g is its grass, or nil.
func (v viewer) event(e issue.YearEvent, g *issue.Grass) eventView {
	out := eventView{Name: upperFirst(plain(v.phrases.Event(e.This.Event, v.units))), Usual: v.usual(e.This, 0)}
	dating := func(d season.Dating) string {
		first, last := d.Event.Season(d.Year, nil)
		if g != nil {
			first, last = d.Event.Season(d.Year, g.Profile)
		}
		return v.dating(d, first, last)
	}
	out.This = append(out.This, dating(e.This))
	if e.Next != nil {
		out.This = append(out.This, dating(*e.Next))
	}
	return out
}

// window words a window of the calendar.
func (v viewer) window(z *issue.Zone, w issue.YearWindow, asOf civil.Date) windowView {
	out := windowView{Title: w.Window.Title, Uses: v.list("use", w.Window.Uses), Own: v.source(w.Window.Cite.Source, w.Window.Cite.Standing), Note: w.Window.Cite.Note}
	out.Stands = upperFirst(v.must("phase", string(w.Phase)))
	in := w.Instance
	if w.Phase == season.Open || w.Phase == season.Ahead || w.Phase == season.Closed {
		out.Dates = append(out.Dates, v.say("year.first_day", "when", v.endMoment(in.Opens, 0)), v.say("year.last_day", "when", v.endMoment(in.Closes, -1)))
	}
	for _, past := range w.Instances {
		if past.Year != in.Year && past.Closes.When.Date <= asOf && past.Closes.When.Date > civil.MustDate(asOf.Year(), 1, 1) {
			out.Dates = append(out.Dates, v.say("year.this_was", "year", strconv.Itoa(asOf.Year()), "span", v.instance(past)))
		}
	}
	if u := w.Usual; u.Opens.Event.Event.Kind != "" {
		out.Usual = []string{
			v.say("year.first_day", "when", v.usual(u.Opens.Event, w.Window.Opens.OffsetDays)),
			v.say("year.last_day", "when", v.usual(u.Closes.Event, w.Window.Closes.OffsetDays-1)),
		}
	}
	out.Printed = v.must("year", "none_printed")
	if p := w.Window.Printed; p != nil {
		first, last := p.Window.Span(leapYear)
		out.Printed = v.say("year.printed", "first", monthDay(first), "last", monthDay(last), "place", p.Place)
		out.Source = v.source(p.Cite.Source, p.Cite.Standing)
		if opens, closes, known := w.Drift(); known {
			out.Drift = v.say("year.drift", "opens", v.drift(opens), "closes", v.drift(closes))
		}
	}
	if in.Opens.When.Outcome == season.Dated && (w.Phase == season.Open || w.Phase == season.Ahead) {
		out.Law = v.windowLaw(z, w.Window.Uses, max(in.Opens.When.Date, asOf), v.lastDay(in, asOf), asOf)
	} else if len(nutrients(w.Window.Uses)) > 0 {
		out.Law = v.windowLaw(z, w.Window.Uses, asOf, asOf.AddMonths(12), asOf)
	}
	return out
}

// lastDay is the last day of a window; of one without an end, a year on.
func (v viewer) lastDay(in season.Instance, asOf civil.Date) civil.Date {
	if in.Closes.When.Outcome != season.Dated {
		return asOf.AddMonths(12)
	}
	return in.Closes.When.Date - 1
}

// drift words by how many days something comes later.
func (v viewer) drift(days int) string {
	switch {
	case days < 0:
		return v.say("year.earlier", "days", v.dayCount(-days))
	case days > 0:
		return v.say("year.later", "days", v.dayCount(days))
	}
	return v.must("year", "same")
}

func (v viewer) dayCount(n int) string { return quantity.One(float64(n), quantity.Time, v.units) }

// windowUses lists what any window of a zone uses.
func (v viewer) windowUses(z *issue.Zone) []string {
	var out []string
	for _, g := range z.Grasses {
		for _, w := range v.windowsOf(z, g) {
			for _, u := range w.Window.Uses {
				if !slices.Contains(out, u) {
					out = append(out, u)
				}
			}
		}
	}
	return out
}

// yearJobs make /zones/<zone>/year/.
func (e *edition) yearJobs() []job {
	var jobs []job
	for i, z := range e.pressed.Zones {
		zv := e.now.Zones[i]
		h := head{Section: "week", Feeds: []linkView{{zv.Name, zv.Feed}}, Crumbs: []crumb{{Kind: "week", Address: "/"}, {Title: zv.Name, Address: zv.Current}}}
		body := yearPage{zv, e.year(z, zv, e.pressed.Date), e.cautionsOf(true, e.windowUses(z)...)}
		jobs = append(jobs, page(zv.Year, "year", h, body, e.pressed.Date))
	}
	return jobs
}
