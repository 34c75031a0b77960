package advice

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/season"
)

// Urgency is why an answer may be the first thing of a week.
type Urgency string

// The urgencies, in their order.
const (
	ByLaw      Urgency = "law"      // law that starts or ends this week, or takes the water that the lawn asks for
	ByDanger   Urgency = "danger"   // storm, heat, poison
	ByDeadline Urgency = "deadline" // it cannot wait past this week
	ByWeather  Urgency = "weather"  // the week's weather asks for it
	Routine    Urgency = "routine"
	Optional   Urgency = "optional" // projects, and what rests on reports: never the first thing
)

// Urgencies lists them: an answer goes before all that are later in the list.
func Urgencies() []Urgency {
	return []Urgency{ByLaw, ByDanger, ByDeadline, ByWeather, Routine, Optional}
}

// claims are those that a rule may make for itself.
func claims() []string { return Words([]Urgency{ByDanger, ByDeadline, ByWeather, Routine, Optional}) }

// lastDays is how near the end of a window must be for its work not to wait past
// the week.
const lastDays = 7

// urgencyOf says why an answer may come first: by the law, by what holds it, by the
// window that its rule goes by, else as the rule says.
func (in *Input) urgencyOf(a Answer) Urgency {
	d := a.Lead
	if a.Topic == Feed && in.Law.turns(d.Uses) || a.Topic == Water && (a.Verdict == Closed || in.Law.waterTurns() && a.Verdict == Do) {
		return ByLaw
	}
	urgency := Routine
	if d.Rule != nil && d.Rule.Urgency != "" {
		urgency = d.Rule.Urgency
	} else if a.Topic == Project {
		return Optional
	}
	switch {
	case slices.Contains([]string{"storm", "heat"}, d.Gate):
		return ByDanger
	case d.Gate != "" || d.Rule == nil || urgency == ByDanger, d.Rule.Urgency == Optional:
		return urgency
	}
	for _, t := range d.Rule.when {
		w, ok := t.(*windowClause)
		if !ok {
			continue
		}
		if r, known := w.spoken(in); known && r.Phase == season.Open && r.Days > 0 && r.Days <= lastDays {
			return ByDeadline
		}
	}
	return urgency
}

// turns reports whether a closed season for any of these uses starts or ends in the
// week, at any place, or closes it while an official alert is in force.
func (z ZoneLaw) turns(uses []string) bool {
	within := func(d civil.Date) bool { return !d.IsZero() && d >= z.Monday && d <= z.Monday.AddDays(6) }
	for _, letter := range LawLetters(uses) {
		for _, p := range z.Places {
			for _, day := range p.Homeowner[letter].Days {
				for _, h := range day.Closed() {
					if within(h.First) || within(h.Last) || h.Detail == "alert" {
						return true
					}
				}
			}
		}
	}
	return false
}

// waterTurns reports whether other days or hours of watering begin to hold in the
// week, at any place.
func (z ZoneLaw) waterTurns() bool {
	return slices.ContainsFunc(z.Places, func(p PlaceLaw) bool { return p.Water.Turns() })
}
