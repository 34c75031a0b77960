package replay

import (
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/reference"
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
	water      lawState    // by sprinkler
	laws       []Law       // that spoke, in the order of the places
	grasses    []toldGrass // in the zone's order
}

// lawState is the strictest that holds at any place on any day of a week.
type lawState uint8

const (
	lawOpen lawState = iota
	lawUnclear
	lawClosed
)

type toldGrass struct {
	id      string
	state   string // its code; "" is not enough weather
	windows []bulletin.WindowWeek
	spoken  []spoken
	silent  []string // rules that applied and did not fire, with their pest
	grades  []toldGrade
}

// spoken is a rule that fired, and what became of it.
type spoken struct {
	rule    ruleKey
	verdict string // after the gates
	gate    string // that stopped it; "" none
	led     bool   // it was the answer itself
}

// ruleKey is a rule and the pest that it was asked of.
type ruleKey struct {
	rule, topic string
	pest        bulletin.Named // zero for a rule that speaks of none
}

type toldGrade struct {
	disease  bulletin.Named
	grade    string
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
		out.grasses = append(out.grasses, tellGrass(g))
	}
	return out
}

func applied(l reference.Law, place string, watering bool) Law {
	return Law{ID: l.ID, Title: l.Title, From: l.From, To: l.To, Checked: l.CheckedOn, Place: place, Watering: watering}
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

func tellGrass(g *bulletin.Grass) toldGrass {
	out := toldGrass{id: g.ID, state: g.State, windows: g.Windows}
	for _, a := range g.Answers {
		out.speak(a.Rule, a.Pest, spoken{verdict: a.Verdict, gate: a.Gate, led: true})
		for _, list := range [][]bulletin.Draft{a.Also, a.Support} {
			for _, d := range list {
				out.speak(d.Rule, d.Pest, spoken{verdict: d.Verdict})
			}
		}
		for _, l := range a.Lawns {
			out.speak(l.Rule, l.Pest, spoken{verdict: l.Verdict, gate: l.Gate})
		}
		for _, d := range a.Dropped {
			out.speak(d.Rule, d.Pest, spoken{verdict: d.Verdict, gate: d.Gate})
		}
	}
	for _, t := range g.Rules {
		if t.Outcome != "yes" {
			out.silent = append(out.silent, t.Rule.ID)
		}
	}
	for _, p := range g.Pests.All() {
		if p.Kind == "disease" && p.Judged() {
			out.grades = append(out.grades, toldGrade{bulletin.Named{ID: p.ID, Name: p.Name}, p.Grade, p.Known(), p.Facts.Reported})
		}
	}
	return out
}

// speak keeps what a rule said.
func (g *toldGrass) speak(r bulletin.Rule, of *bulletin.Named, s spoken) {
	if r.ID == "" {
		return // a gate that spoke of its own accord, or no answer
	}
	s.rule = ruleKey{rule: r.ID, topic: r.Topic}
	if of != nil {
		s.rule.pest = *of
	}
	g.spoken = append(g.spoken, s)
}
