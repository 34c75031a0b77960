package publish

import (
	"math"
	"strconv"

	"ligule/internal/bulletin"
	"ligule/internal/chart"
	"ligule/internal/civil"
	"ligule/internal/message"
)

// ribbonView is the season ribbon: twelve months of a grass in one strip. The
// height is its growth index, beneath it lanes for windows and hatched ones for
// closed seasons, and a needle at the issue date.
type ribbonView struct {
	ID            string // unique on a page
	Name, Zone    string
	First, Last   civil.Date
	Issued        civil.Date
	Says          []*message.Said // what it shows, for those who do not see it
	Width, Height string
	Months        []monthView
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
}

// ribbonLevel is a line of the growth index.
type ribbonLevel struct{ Y, TextY, Label string }

// ribbonLane is a row beneath the growth: a label, and bars or words.
type ribbonLane struct {
	bulletin.Lane
	Label, LabelY, BarY, FootY string
	Needle                     string
	Bars                       []ribbonBar
}

// ribbonBar is a run of days.
type ribbonBar struct {
	barView
	Kind bulletin.RunKind
}

// ribbonWeek is a row of the table of growth.
type ribbonWeek struct {
	Date string // "Nov 21, 2026"
	bulletin.Growth
}

// The picture's measures, in its own units.
const (
	ribbonPanelTop = 38
	ribbonPanelH   = 84
	ribbonLaneTop  = 130 // of the first lane
	ribbonLaneStep = 32
	ribbonBarTop   = 18
	ribbonBarH     = 10
	ribbonTitle    = 44 // characters of a label
)

// ribbon draws the twelve months of a grass; where there is little room, of its
// windows only those that tell what it does. Nil without weather.
func (e *press) ribbon(z *bulletin.Zone, g *bulletin.Grass, issued civil.Date, compact bool) *ribbonView {
	y := z.Year
	if y.First.IsZero() {
		return nil
	}
	days := chart.Days{First: y.First, Unit: stripScale}
	r := &ribbonView{ID: g.ID + "-ribbon", Name: g.Name, Zone: z.Name, First: y.First, Last: y.Last, Issued: issued,
		Width: chart.Number(days.At(y.Last + 1)), Base: strconv.Itoa(ribbonPanelTop + ribbonPanelH)}
	r.Months = e.months(days, y.Last)
	r.Ticks = ticks(r.Months, ribbonPanelTop, ribbonPanelH)
	for _, level := range []float64{1, 0.5} {
		at := growthY(level)
		r.Levels = append(r.Levels, ribbonLevel{chart.Number(at), chart.Number(at + 11), e.Voice.Value(message.Figure(level))})
	}
	e.ribbonGrowth(r, days, g.Year.Growth)
	if g.Year.LastWeek != nil {
		r.Says = append(r.Says, g.Year.LastWeek)
	}
	r.Needle = needle(days, issued, ribbonPanelTop-4, ribbonPanelH+8)
	var lanes []bulletin.Lane
	for _, w := range g.Year.Windows {
		if w.Growth || !compact {
			lanes = append(lanes, w.Lane)
		}
	}
	for i, lane := range append(lanes, y.Closed...) {
		top := ribbonLaneTop + i*ribbonLaneStep
		l := ribbonLane{
			Lane: lane, Label: clip(lane.Title.String(), ribbonTitle),
			LabelY: strconv.Itoa(top + 13), BarY: strconv.Itoa(top + ribbonBarTop), FootY: strconv.Itoa(top + ribbonBarTop + ribbonBarH),
			Needle: needle(days, issued, top+ribbonBarTop-2, ribbonBarH+4),
		}
		for _, run := range lane.Runs {
			l.Bars = append(l.Bars, ribbonBar{barAt(days, run.First, run.Last), run.Kind})
			r.Excepted = r.Excepted || run.Kind == bulletin.Excepted
		}
		r.Lanes, r.Says = append(r.Lanes, l), append(r.Says, lane.Says)
	}
	r.Height = strconv.Itoa(ribbonLaneTop + len(r.Lanes)*ribbonLaneStep + 2)
	return r
}

func growthY(index float64) float64 {
	return ribbonPanelTop + ribbonPanelH*(1-math.Min(1, math.Max(0, index)))
}

// ribbonGrowth draws the growth index and lists it.
func (e *press) ribbonGrowth(r *ribbonView, days chart.Days, growth []bulletin.Growth) {
	var low, high, line, ahead []chart.Point
	for _, g := range growth {
		at := func(index bulletin.Num) chart.Point {
			return chart.Point{X: days.At(g.Date + 1), Y: growthY(float64(index))} // the week has ended when the day has
		}
		now, none := at(g.Index), at(bulletin.Num(math.NaN()))
		past, next := now, none
		switch {
		case g.Date == r.Issued-1:
			next = now // where what is ahead sets out from
		case g.Date >= r.Issued:
			past, next = none, now
		}
		low, high, line, ahead = append(low, at(g.Low)), append(high, at(g.High)), append(line, past), append(ahead, next)
		r.Weeks = append(r.Weeks, ribbonWeek{e.Voice.Date(message.TableDate, g.Date), g})
	}
	r.Band, r.Line, r.Ahead = chart.Band(low, high), chart.Line(line), chart.Line(ahead)
}
