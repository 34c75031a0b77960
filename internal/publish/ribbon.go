package publish

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/chart"
	"ligule/internal/civil"
	"ligule/internal/issue"
	"ligule/internal/law"
	"ligule/internal/quantity"
	"ligule/internal/season"
)

// ribbonView is the season ribbon: twelve months of a grass in one strip. The
// height is its growth index, beneath it lanes for windows and hatched ones for
// closed seasons, and a needle at the issue date.
type ribbonView struct {
	ID            string // unique on a page
	Name, Zone    string
	First, Last   civil.Date
	Issued        civil.Date
	Sentences     []string // what it shows, for those who do not see it
	Width, Height string
	Months        []ribbonMonth
	Ticks         string // where months begin, in the growth panel
	Levels        []ribbonLevel
	Base          string // the foot of the panel
	Band          string // path of the usual band; "" without one
	Line          string // path of this year's index
	Ahead         string // and of what is forecast and expected
	Needle        string
	Lanes         []ribbonLane
	Excepted      bool // some closed bar has exceptions
	Weeks         []ribbonWeek
	Rows          []ribbonRow
}

type ribbonMonth struct {
	At, Middle, Letter string
	Year               string // at January
}

// ribbonLevel is a line of the growth index.
type ribbonLevel struct{ Y, TextY, Label string }

// ribbonLane is a row beneath the growth: a label, and bars or words.
type ribbonLane struct {
	Label, LabelY, BarY string
	Needle              string
	Bars                []ribbonBar
	Say, SayY           string // in place of bars
}

// ribbonBar is a run of days. Kind is settled, likely, closed or excepted.
type ribbonBar struct{ X, Width, Kind string }

// ribbonWeek is a row of the table of growth.
type ribbonWeek struct {
	Date       string // "Nov 21, 2026"
	Usual, Now string // "" if not known
	Basis      string // forecast or expected, in words; "" for what was recorded
}

// ribbonRow is a row of the table of lanes.
type ribbonRow struct{ Title, Spans string }

// The picture's measures, in its own units.
const (
	ribbonScale    = 0.92 // units for a day
	ribbonPanelTop = 38
	ribbonPanelH   = 84
	ribbonLaneTop  = 130 // of the first lane
	ribbonLaneStep = 32
	ribbonBarTop   = 18
	ribbonBarH     = 10
	ribbonTitle    = 44 // characters of a label
)

// compactKinds are the lanes of a ribbon where there is little room.
var compactKinds = []season.WindowKind{season.DormancyWindow, season.GreenUpWindow, season.FeedingWindow, season.SlowdownWindow}

// ribbon draws the twelve months of a grass; kinds picks its windows, nil all.
func (v viewer) ribbon(z *issue.Zone, g *issue.Grass, asOf civil.Date, kinds []season.WindowKind) *ribbonView {
	y := z.Year
	days := chart.Days{First: y.First, Unit: ribbonScale}
	r := &ribbonView{ID: g.Profile.ID + "-ribbon", Name: g.Profile.Name, Zone: z.Name, First: y.First, Last: y.Last, Issued: asOf,
		Width: chart.Number(days.At(y.Last + 1)), Base: strconv.Itoa(ribbonPanelTop + ribbonPanelH)}
	for first := y.First; first < y.Last; first = first.AddMonths(1) {
		next := first.AddMonths(1)
		m := ribbonMonth{At: chart.Number(days.At(first)), Middle: chart.Number((days.At(first) + days.At(next)) / 2), Letter: first.Time().Format("January")[:1]}
		if first.Month() == 1 {
			m.Year = strconv.Itoa(first.Year())
		}
		r.Months = append(r.Months, m)
		if first > y.First {
			r.Ticks += "M" + m.At + " " + strconv.Itoa(ribbonPanelTop) + "v" + strconv.Itoa(ribbonPanelH)
		}
	}
	for _, level := range []float64{1, 0.5} {
		at := growthY(level)
		r.Levels = append(r.Levels, ribbonLevel{chart.Number(at), chart.Number(at + 11), chart.Number(level)})
	}
	v.ribbonGrowth(r, days, g.Year.Growth, asOf)
	needle := func(top, height int) string {
		return "M" + chart.Number(days.At(asOf)+ribbonScale/2) + " " + strconv.Itoa(top) + "v" + strconv.Itoa(height)
	}
	r.Needle = needle(ribbonPanelTop-4, ribbonPanelH+8)
	for _, w := range g.Year.Windows {
		if kinds == nil || slices.Contains(kinds, w.Window.Kind) {
			v.windowLane(r, days, w)
		}
	}
	v.lawLanes(r, days, z, asOf)
	for i := range r.Lanes {
		l, top := &r.Lanes[i], ribbonLaneTop+i*ribbonLaneStep
		l.LabelY, l.BarY = strconv.Itoa(top+13), strconv.Itoa(top+ribbonBarTop)
		l.SayY = strconv.Itoa(top + ribbonBarTop + ribbonBarH)
		l.Needle = needle(top+ribbonBarTop-2, ribbonBarH+4)
	}
	r.Height = strconv.Itoa(ribbonLaneTop + len(r.Lanes)*ribbonLaneStep + 2)
	return r
}

func growthY(index float64) float64 {
	return ribbonPanelTop + ribbonPanelH*(1-math.Min(1, math.Max(0, index)))
}

// ribbonGrowth draws the growth index and lists it.
func (v viewer) ribbonGrowth(r *ribbonView, days chart.Days, growth []issue.Growth, asOf civil.Date) {
	var low, high, line, ahead []chart.Point
	nan := math.NaN()
	now := issue.Growth{Low: nan, High: nan, Index: nan}
	for _, g := range growth {
		x := days.At(g.Date + 1) // the week has ended when the day has
		y := growthY(g.Index)
		low, high = append(low, chart.Point{X: x, Y: growthY(g.Low)}), append(high, chart.Point{X: x, Y: growthY(g.High)})
		past, next := chart.Point{X: x, Y: nan}, chart.Point{X: x, Y: nan}
		switch {
		case g.Basis == season.Happened:
			past.Y = y
		case g.Basis != season.NoBasis:
			next.Y = y
		}
		if g.Date == asOf-1 {
			next.Y = y // where what is ahead sets out from
			now = g
		}
		line, ahead = append(line, past), append(ahead, next)
		week := ribbonWeek{Date: g.Date.Format("Jan 2, 2006")}
		if g.Date >= asOf && g.Basis == season.NoBasis {
			week.Now = v.must("ribbon", "ahead")
		}
		if !math.IsNaN(g.Low) {
			week.Usual = v.growthRange(g)
		}
		if !math.IsNaN(g.Index) {
			week.Now = quantity.Fixed(g.Index, 2)
		}
		if g.Basis == season.Forecast || g.Basis == season.Expected {
			week.Basis = v.must("ribbon", string(g.Basis))
		}
		r.Weeks = append(r.Weeks, week)
	}
	r.Band, r.Line, r.Ahead = chart.Band(low, high), chart.Line(line), chart.Line(ahead)
	if !math.IsNaN(now.Index) {
		if math.IsNaN(now.Low) {
			r.Sentences = append(r.Sentences, v.say("ribbon.growth_alone", "index", quantity.Fixed(now.Index, 2)))
		} else {
			r.Sentences = append(r.Sentences, v.say("ribbon.growth", "index", quantity.Fixed(now.Index, 2), "low", quantity.Fixed(now.Low, 2), "high", quantity.Fixed(now.High, 2)))
		}
	}
}

func (v viewer) growthRange(g issue.Growth) string {
	return quantity.Fixed(g.Low, 2) + "–" + quantity.Fixed(g.High, 2)
}

// windowLane draws the instances of a window.
func (v viewer) windowLane(r *ribbonView, days chart.Days, w issue.YearWindow) {
	lane := ribbonLane{Label: clip(w.Window.Title, ribbonTitle)}
	var spans []string
	for _, in := range w.Instances {
		first, end := max(in.Opens.When.Date, r.First), min(in.Closes.When.Date, r.Last+1)
		if first >= end {
			continue
		}
		bar := ribbonBar{X: chart.Number(days.At(first)), Width: chart.Number(days.At(end) - days.At(first)), Kind: "likely"}
		if settled(in) {
			bar.Kind = "settled"
		}
		lane.Bars = append(lane.Bars, bar)
		spans = append(spans, v.instance(in))
	}
	if len(lane.Bars) == 0 {
		lane.Say = v.must("ribbon", "none")
		spans = append(spans, lane.Say)
	}
	r.add(v, lane, w.Window.Title, spans)
}

// settled reports whether both ends of a window are known for good.
func settled(in season.Instance) bool {
	known := func(b season.Basis) bool { return b == season.Happened || b == season.Fixed || b == season.Printed }
	return known(in.Opens.Basis) && known(in.Closes.Basis)
}

func (r *ribbonView) add(v viewer, lane ribbonLane, title string, spans []string) {
	r.Lanes = append(r.Lanes, lane)
	row := ribbonRow{title, strings.Join(spans, "; ")}
	r.Rows = append(r.Rows, row)
	r.Sentences = append(r.Sentences, v.say("ribbon.lane", "title", row.Title, "spans", row.Spans))
}

// lawLanes draw the closed seasons for nitrogen, for who does it at home: a lane
// for places that have the same.
func (v viewer) lawLanes(r *ribbonView, days chart.Days, z *issue.Zone, asOf civil.Date) {
	type lane struct {
		q       stripQuestion
		unclear bool
		places  []string
	}
	var lanes []lane
	for i, place := range z.Places {
		l := lane{q: stripQuestion{spans: v.seasons(place, asked{law.Homeowner, "N"}, r.First, r.Last, asOf)}}
		if i < len(z.Law.Places) {
			l.unclear = z.Law.Places[i].Homeowner.State == law.NotCleared.String()
		}
		at := slices.IndexFunc(lanes, func(o lane) bool { return o.unclear == l.unclear && slices.EqualFunc(o.q.spans, l.q.spans, sameSpan) })
		if at < 0 {
			at = len(lanes)
			lanes = append(lanes, l)
		}
		lanes[at].places = append(lanes[at].places, place.Name)
	}
	for _, l := range lanes {
		title := v.say("ribbon.law", "places", v.where(l.places, z.Places))
		out := ribbonLane{Label: clip(title, ribbonTitle)}
		var spans []string
		for _, run := range l.q.runs(r.First, r.Last) {
			bar := ribbonBar{X: chart.Number(days.At(run.first)), Width: chart.Number(days.At(run.last+1) - days.At(run.first)), Kind: "closed"}
			id := "run"
			if run.excepted {
				bar.Kind, id, r.Excepted = "excepted", "run_excepted", true
			}
			out.Bars = append(out.Bars, bar)
			spans = append(spans, v.say("law_strip."+id, "first", monthDay(run.first), "last", monthDay(run.last)))
		}
		switch {
		case len(out.Bars) > 0:
		case l.unclear:
			out.Say = v.must("law_day", "not_cleared")
		default:
			out.Say = v.must("law_strip", "none_short")
		}
		if out.Say != "" {
			spans = append(spans, out.Say)
		}
		r.add(v, out, title, spans)
	}
}
