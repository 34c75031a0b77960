package replay

import (
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/edition"
	"ligule/internal/message"
	"ligule/internal/reference"
	"ligule/internal/workspace"
)

// Replay is what became of the weeks of some years.
type Replay struct {
	First    int          `json:"first_year"` // years of ISO weeks that were asked for
	Last     int          `json:"last_year"`
	Weeks    []Week       `json:"weeks"` // those that were run, in order
	Zones    []*Zone      `json:"zones"` // in the order of the question
	Scouting Verification `json:"scouting"`
	Forecast string       `json:"forecast,omitempty"` // [FollowingForecast] where the days that followed stood in for those that were not on file

	names map[string]string // of pests, by id
}

// Week is an issue that was run again.
type Week struct {
	Week civil.Week `json:"week"`
	Date civil.Date `json:"issue_date"`
}

// Zone is what a replay tells of a zone.
type Zone struct {
	ID      string     `json:"id"`
	Name    string     `json:"name"`
	Station string     `json:"station"`
	Weather Weather    `json:"weather"`
	Years   []ZoneYear `json:"years"`
	Law     []Law      `json:"law"` // the records that spoke in any week, in the order of the places
	Grasses []*Grass   `json:"grasses"`
}

// Weather is what the issues of a zone could rest on.
type Weather struct {
	Weeks     int `json:"weeks"`     // with any weather
	Forecasts int `json:"forecasts"` // with a forecast on file
	Short     int `json:"short"`     // with fewer than ten years on file: there the printed calendar had to speak of what is ahead
}

// ZoneYear counts what local law closed in the weeks of a year. A week counts as
// closed if any day of it is, at any of the zone's places.
type ZoneYear struct {
	Year       int     `json:"year"`
	Weeks      int     `json:"weeks"`
	Nitrogen   Closing `json:"nitrogen"` // spread by who lives there
	Phosphorus Closing `json:"phosphorus"`
	Water      Closing `json:"water"` // by sprinkler, from the public supply: at no time of the week
}

// Closing counts weeks.
type Closing struct {
	Closed  int        `json:"closed"`
	Unclear int        `json:"unclear"`        // not closed, and not cleared either
	First   civil.Week `json:"first,omitzero"` // closed
	Last    civil.Week `json:"last,omitzero"`
}

// Law is a record of law that spoke, with its own dates.
type Law struct {
	ID       string     `json:"id"`
	Title    string     `json:"title"`
	Place    string     `json:"place"`
	Watering bool       `json:"watering,omitempty"`
	From     civil.Date `json:"from"` // in force, both inside
	To       civil.Date `json:"to,omitzero"`
	Checked  civil.Date `json:"checked_on"`
	Weeks    int        `json:"weeks"` // in which it spoke
}

// Grass is what a replay tells of a grass of a zone.
type Grass struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Windows []*Window `json:"windows"` // in the order of the calendar
	Rules   []*Rule   `json:"rules"`   // that fired in any week, by topic, then id, then pest
	Silent  []string  `json:"silent"`  // ids of the rules that applied and never fired, in order
	States  []State   `json:"states"`  // of each week
}

// State is the state of a grass in a week; "" is not enough weather to say.
type State struct {
	Week  civil.Week    `json:"week"`
	State string        `json:"state"` // its code
	Word  *message.Said `json:"-"`
}

// FollowingForecast is the word, in the option and in what is written, for the days
// that followed as the forecast of a week of which none was on file.
const FollowingForecast = "following"

// Run runs the weeks of a question again, and finds the words. progress, if not nil, is told after
// each week how many of them are done, one call at a time. It fails on years
// without any record.
func Run(ws *workspace.Workspace, q Question, progress func(done, of int)) (*Replay, error) {
	weeks, err := q.weeks(ws)
	if err != nil {
		return nil, err
	}
	if q.Following {
		ws = ws.Following()
	}
	r := gather(ws, q, tellWeeks(ws, q, weeks, progress))
	edition.Voice(r, ws.Voice())
	return r, nil
}

// tellWeeks makes the issues of the weeks, as many at a time as there are
// processors, and keeps what a replay looks at. Stations are read once a week,
// for all their zones.
func tellWeeks(ws *workspace.Workspace, q Question, weeks []civil.Week, progress func(done, of int)) []toldWeek {
	told := make([]toldWeek, len(weeks))
	var g errgroup.Group
	var mu sync.Mutex
	done := 0
	g.SetLimit(runtime.GOMAXPROCS(0))
	// The newest weeks have the longest records: they begin first, so that no
	// worker is left with them at the end.
	for i := len(weeks) - 1; i >= 0; i-- {
		g.Go(func() error {
			told[i] = tell(bulletin.Bare(ws, weeks[i], q.Zones), q)
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
	return told
}

// gather puts the weeks together.
func gather(ws *workspace.Workspace, q Question, told []toldWeek) *Replay {
	r := &Replay{First: q.First, Last: q.Last}
	if q.Following {
		r.Forecast = FollowingForecast
	}
	for _, t := range told {
		r.Weeks = append(r.Weeks, Week{t.week, t.date})
	}
	for i, z := range q.Zones {
		r.Zones = append(r.Zones, gatherZone(ws, z, i, told, r))
	}
	r.names = pestNames(told)
	r.Scouting = verify(reference.ScoutingLog(ws), q, told)
	return r
}

// pestNames are the names of the pests that rules spoke of, by id.
func pestNames(told []toldWeek) map[string]string {
	out := map[string]string{}
	for _, t := range told {
		for _, z := range t.zones {
			for _, g := range z.grasses {
				for _, s := range g.spoken {
					out[s.rule.pest.ID] = s.rule.pest.Name
				}
			}
		}
	}
	return out
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
			g.States = append(g.States, State{t.week, pick(t).state, stateWord(pick(t).state)})
		}
		g.Windows = windowsOf(told, r.Years(), pick)
		g.Rules, g.Silent = rulesOf(told, pick)
		out.Grasses = append(out.Grasses, g)
	}
	return out
}

// Years lists those that were run.
func (r *Replay) Years() []int {
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
	y.Nitrogen.count(w, t.nitrogen)
	y.Phosphorus.count(w, t.phosphorus)
	y.Water.count(w, t.water)
}

func (c *Closing) count(w civil.Week, s lawState) {
	switch s {
	case lawUnclear:
		c.Unclear++
	case lawClosed:
		if c.Closed++; c.First.IsZero() {
			c.First = w
		}
		c.Last = w
	}
}

// law counts a week of a record at a place.
func (z *Zone) law(l Law) {
	i := slices.IndexFunc(z.Law, func(k Law) bool { return k.ID == l.ID && k.Place == l.Place && k.Watering == l.Watering })
	if i < 0 {
		i = len(z.Law)
		z.Law = append(z.Law, l)
	}
	z.Law[i].Weeks++
}
