package replay

import (
	"runtime"
	"sync"

	"golang.org/x/sync/errgroup"

	"ligule/internal/civil"
	"ligule/internal/issue"
	"ligule/internal/workspace"
)

// Replay is what became of the weeks of some years.
type Replay struct {
	First, Last int          // years of ISO weeks that were asked for
	Weeks       []Week       // those that were run, in order
	Zones       []*Zone      // in the order of the question
	Scouting    Verification // how warnings met what scouts found
}

// Week is an issue that was run again.
type Week struct {
	Week civil.Week
	Date civil.Date // the issue date
}

// Zone is what a replay tells of a zone.
type Zone struct {
	ID, Name, Station string
	Weather           Weather
	Years             []ZoneYear
	Law               []Law // the records that spoke in any week, in the order of the places
	Grasses           []*Grass
}

// Weather is what the weeks of a zone could rest on.
type Weather struct {
	Weeks     int // with any weather
	Forecasts int // with a forecast on file
	Short     int // with fewer than ten years on file: there the printed calendar had to speak of what is ahead
}

// ZoneYear counts the weeks of a year in which law closed, or cleared nothing.
// A week counts as closed if any day of it is at any of the zone's places.
type ZoneYear struct {
	Year, Weeks                             int
	NitrogenClosed, NitrogenUnclear         int
	PhosphorusClosed, PhosphorusUnclear     int
	WaterClosed, WaterUnclear               int // by sprinkler, from the public supply: at no time of the week
	FirstNitrogenClosed, LastNitrogenClosed civil.Week
}

// Law is a record of law that spoke, with its own dates.
type Law struct {
	ID, Title, Place string
	Watering         bool
	From, To         civil.Date // in force, both inside; To is zero without an end
	Checked          civil.Date
	Weeks            int // in which it spoke
}

// Grass is what a replay tells of a grass of a zone.
type Grass struct {
	ID, Name string
	Windows  []*Window // in the order of the calendar
	Rules    []*Rule   // that spoke in any week, by topic, then id, then pest
	Silent   []string  // ids of the rules that applied and never fired, in order
	States   []State   // of each week
}

// State is the state of a grass in a week; "" is not enough weather to say.
type State struct {
	Week  civil.Week
	State string
}

// Run runs the weeks of a question again. progress, if not nil, is told after
// each week how many of them are done, one call at a time. It fails on years
// without any record.
func Run(ws *workspace.Workspace, q Question, progress func(done, of int)) (*Replay, error) {
	weeks, err := q.weeks(ws)
	if err != nil {
		return nil, err
	}
	told := make([]toldWeek, len(weeks))
	var g errgroup.Group
	var mu sync.Mutex
	done := 0
	g.SetLimit(runtime.GOMAXPROCS(0))
	// The newest weeks have the longest records: they begin first, so that no
	// worker is left with them at the end.
	for i := len(weeks) - 1; i >= 0; i-- {
		g.Go(func() error {
			told[i] = tell(issue.Bare(ws, weeks[i], q.Zones), q)
			if progress != nil {
				mu.Lock()
				defer mu.Unlock()
				done++
				progress(done, len(weeks))
			}
			return nil
		})
	}
	_ = g.Wait() // no week can fail: what is missing is told as missing
	return gather(ws, q, told), nil
}

// gather puts the weeks together.
func gather(ws *workspace.Workspace, q Question, told []toldWeek) *Replay {
	r := &Replay{First: q.First, Last: q.Last}
	for _, t := range told {
		r.Weeks = append(r.Weeks, Week{t.week, t.date})
	}
	for i, z := range q.Zones {
		r.Zones = append(r.Zones, gatherZone(ws, z, i, told, r))
	}
	r.Scouting = verify(ws, q, told)
	return r
}

func gatherZone(ws *workspace.Workspace, z *workspace.Zone, at int, told []toldWeek, r *Replay) *Zone {
	out := &Zone{ID: z.ID, Name: z.Name, Station: z.Station}
	if st, ok := ws.Station(z.Station); ok {
		out.Station = st.Name
		out.weather(st, at, told)
	}
	for _, t := range told {
		out.year(t.week, t.zones[at])
		for _, l := range t.zones[at].laws {
			out.law(l)
		}
	}
	for i, p := range z.Grasses {
		g := &Grass{ID: p.ID, Name: p.Name}
		pick := func(t toldWeek) toldGrass { return t.zones[at].grasses[i] }
		for _, t := range told {
			g.States = append(g.States, State{t.week, string(pick(t).state)})
		}
		g.Windows = windowsOf(ws.Calendar(z.Climate, p.ID), told, r.years(), pick)
		g.Rules, g.Silent = rulesOf(told, pick)
		out.Grasses = append(out.Grasses, g)
	}
	return out
}

// years lists those that were run.
func (r *Replay) years() []int {
	var out []int
	for _, w := range r.Weeks {
		if n := len(out); n == 0 || out[n-1] != w.Week.Year {
			out = append(out, w.Week.Year)
		}
	}
	return out
}

// ensembleYears is from how many years on what is ahead is told by past years,
// not by the printed calendar: that of package season.
const ensembleYears = 10

func (z *Zone) weather(st *workspace.Station, at int, told []toldWeek) {
	for _, t := range told {
		w := t.zones[at]
		if !w.weather {
			continue
		}
		z.Weather.Weeks++
		if w.forecast {
			z.Weather.Forecasts++
		}
		if t.date < st.Records.Start.AddMonths(12*ensembleYears) {
			z.Weather.Short++
		}
	}
}

func (z *Zone) year(w civil.Week, t toldZone) {
	if n := len(z.Years); n == 0 || z.Years[n-1].Year != w.Year {
		z.Years = append(z.Years, ZoneYear{Year: w.Year})
	}
	y := &z.Years[len(z.Years)-1]
	y.Weeks++
	count := func(s lawState, closed, unclear *int) {
		switch s {
		case lawClosed:
			*closed++
		case lawUnclear:
			*unclear++
		}
	}
	count(t.nitrogen, &y.NitrogenClosed, &y.NitrogenUnclear)
	count(t.phosphorus, &y.PhosphorusClosed, &y.PhosphorusUnclear)
	count(t.water, &y.WaterClosed, &y.WaterUnclear)
	if t.nitrogen == lawClosed {
		if y.FirstNitrogenClosed.IsZero() {
			y.FirstNitrogenClosed = w
		}
		y.LastNitrogenClosed = w
	}
}

// law counts a week of a record at a place.
func (z *Zone) law(l appliedLaw) {
	for i := range z.Law {
		if k := &z.Law[i]; k.ID == l.id && k.Place == l.place && k.Watering == l.watering {
			k.Weeks++
			return
		}
	}
	z.Law = append(z.Law, Law{ID: l.id, Title: l.title, Place: l.place, Watering: l.watering, From: l.from, To: l.to, Checked: l.checked, Weeks: 1})
}
