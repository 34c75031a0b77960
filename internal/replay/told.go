package replay

import (
	"ligule/internal/advice"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/reference"
	"ligule/internal/season"
	"ligule/internal/turf"
)

// toldWeek is what is kept of the issue of a week: a pure function of what was
// on file at its date.
type toldWeek struct {
	week  civil.Week
	date  civil.Date
	zones []toldZone // in the order of the question
}

type toldZone struct {
	weather    bool       // there is any
	lastRecord civil.Date // newest observation
	forecast   bool       // one was on file
	nitrogen   lawState   // spread by who lives there, over all days and places of the week
	phosphorus lawState
	water      lawState     // by sprinkler
	laws       []appliedLaw // in the order of the places
	grasses    []toldGrass  // in the zone's order
}

// lawState is the strictest that holds at any place on any day of a week.
type lawState uint8

const (
	lawOpen lawState = iota
	lawUnclear
	lawClosed
)

// appliedLaw is a record that spoke.
type appliedLaw struct {
	id, title         string
	from, to, checked civil.Date
	place             string
	watering          bool
}

type toldGrass struct {
	id      string
	state   turf.State // "" is not enough weather
	windows []toldWindow
	spoken  []spoken
	silent  []string // rules that applied and did not fire, with their pest
	grades  []toldGrade
}

// toldWindow is where a window of the calendar stood.
type toldWindow struct {
	id             string
	phase          season.Phase
	year           int // of the instance spoken of
	opens, closes  civil.Date
	opensBy, endBy season.Basis
}

// spoken is a rule that fired, and what became of it.
type spoken struct {
	rule    ruleKey
	verdict advice.Verdict // after the gates
	gate    string         // that stopped it; "" none
	led     bool           // it was the answer itself
}

// ruleKey is a rule and the pest that it was asked of.
type ruleKey struct {
	rule, pest string // pest is "" for a rule that speaks of none
	topic      advice.Topic
}

type toldGrade struct {
	disease  string
	grade    pest.Grade
	known    bool
	reported bool // a confirmed report stood at the issue date
}

// tell keeps of an issue what a replay looks at.
func tell(is *bulletin.Region, q Question) toldWeek {
	out := toldWeek{week: is.Week, date: is.Date, zones: make([]toldZone, len(q.Zones))}
	for _, z := range is.Zones {
		for i, asked := range q.Zones {
			if asked.ID == z.ID {
				out.zones[i] = tellZone(z)
			}
		}
	}
	return out
}

func tellZone(z *bulletin.Zone) toldZone {
	var out toldZone
	if z.Weather != nil {
		out.weather, out.lastRecord = true, z.Weather.LastRecord
		out.forecast = !z.Weather.ForecastIssued.IsZero()
	}
	for _, p := range z.Law.Places {
		out.nitrogen = max(out.nitrogen, stateOf(p.Homeowner))
		out.phosphorus = max(out.phosphorus, stateOf(p.Phosphorus))
		out.water = max(out.water, stateOf(p.Watering.State))
		for _, l := range p.Records {
			out.laws = append(out.laws, applied(l, p.Name, false))
		}
		for _, l := range p.Watering.Laws {
			out.laws = append(out.laws, applied(l.Law, p.Name, true))
		}
	}
	if len(z.Law.Places) == 0 {
		out.nitrogen, out.phosphorus = lawUnclear, lawUnclear
	}
	for _, g := range z.Grasses {
		out.grasses = append(out.grasses, tellGrass(g.Reading))
	}
	return out
}

func applied(l reference.Law, place string, watering bool) appliedLaw {
	return appliedLaw{id: l.ID, title: l.Title, from: l.From, to: l.To, checked: l.CheckedOn, place: place, watering: watering}
}

// stateOf is the strictest of a week. Watering that is closed at some hours only
// is never closed.
func stateOf(s reference.LawState) lawState {
	switch {
	case s.Closed():
		return lawClosed
	case s.Unclear():
		return lawUnclear
	}
	return lawOpen
}

func tellGrass(r *advice.Reading) toldGrass {
	out := toldGrass{id: r.Grass.ID}
	if r.Enough() {
		out.state = r.Growth.RainFed.State
	}
	for _, w := range r.Windows {
		in := w.Instance
		out.windows = append(out.windows, toldWindow{
			id: w.Window.ID, phase: w.Phase, year: in.Year,
			opens: in.Opens.When.Date, closes: in.Closes.When.Date, opensBy: in.Opens.Basis, endBy: in.Closes.Basis,
		})
	}
	for _, a := range r.Answers {
		out.speak(a.Lead, a.Verdict, a.Lead.Gate, true)
		for _, d := range a.Support {
			out.speak(d, d.Verdict, "", false)
		}
		for _, d := range a.Dropped {
			out.speak(d.Draft, d.Verdict, d.Gate, false)
		}
	}
	for _, t := range r.Traces {
		if t.Outcome != advice.Yes {
			out.silent = append(out.silent, t.Rule.ID)
		}
	}
	for _, p := range r.Pests {
		if p.Kind == advice.Disease && p.Found.Invalid != pest.InvalidNoModel {
			out.grades = append(out.grades, toldGrade{p.ID(), p.Found.Grade, p.Found.Known, p.Found.Reported})
		}
	}
	return out
}

func (g *toldGrass) speak(d advice.Draft, v advice.Verdict, gate string, led bool) {
	if d.Rule == nil {
		return // a gate that spoke of its own accord, or no answer
	}
	key := ruleKey{rule: d.Rule.ID, topic: d.Rule.Topic}
	if d.Pest != nil {
		key.pest = d.Pest.ID()
	}
	g.spoken = append(g.spoken, spoken{key, v, gate, led})
}
