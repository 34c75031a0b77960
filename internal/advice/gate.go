package advice

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Gates act on what a draft uses, never on what it says: a rule cannot opt
// out. They act on drafts that say to do something; a draft that already says
// wait or skip is at least as strict as any gate.

// gated is what a gate answers.
type gated struct {
	gate    string // "law", "growth" and so on
	verdict Verdict
	say     message.Message
	reasons []message.Message
}

// stopped is what a gate answers with one reason, both filled alike: for "growth"
// and "dormant" the phrases gate.growth.dormant and gate.growth.dormant_why.
func stopped(gate string, v Verdict, id string, fill func(message.Message) message.Message) (*gated, []message.Message) {
	code := "gate." + gate + "." + id
	return &gated{gate, v, fill(message.New(code)), []message.Message{fill(message.New(code + "_why"))}}, nil
}

// gateName is the phrase that names a gate.
func gateName(gate string) string { return "gate." + gate + ".name" }

// pass meets a draft with every gate. The first that stops it gives the answer;
// if none does, conditions of all are returned.
func (in *Input) pass(d Draft) (stopped *gated, conditions []message.Message) {
	if d.Verdict != Do {
		return nil, nil
	}
	gates := []func(Draft) (*gated, []message.Message){
		in.lawGate, in.growthGate,
		in.herbicideGate, // tolerance, heat, cold, overlap and spray weather of weed killers
		in.treatGate, in.insectGate,
		in.feedHeatGate, in.overlapFeedGate, in.overlapSeedGate,
		in.stormGate, in.sprayGate,
	}
	stopped, conditions = meet(d, gates)
	if stopped != nil && stopped.say.Code == closedInPart {
		// What the law leaves open still meets the other gates.
		if other, _ := meet(d, gates[1:]); other != nil {
			stopped.say = andWait(stopped.say, other.verdict, other.say)
		}
	}
	return stopped, conditions
}

// meet asks gates in their order, until one stops the draft.
func meet(d Draft, gates []func(Draft) (*gated, []message.Message)) (stopped *gated, conditions []message.Message) {
	for _, gate := range gates {
		g, cond := gate(d)
		if g != nil {
			return g, nil
		}
		conditions = append(conditions, cond...)
	}
	return nil, conditions
}

// lawGate closes a draft if any day at any place is closed for anything that it
// uses, and holds it if any is not cleared for it; a closure goes before what
// is not cleared. Else the law's conditions go with it. Where nobody has looked
// up a watering law, the caution that goes with every watering advice has to do.
func (in *Input) lawGate(d Draft) (*gated, []message.Message) {
	for _, ask := range []struct {
		verdict   Verdict
		id, water string
		reasons   func(letter string) []message.Message
	}{
		{Closed, "gate.law.closed", "closed_all", in.Law.ClosureReasons},
		{Wait, "gate.law.not_cleared", "not_cleared", in.Law.UnclearReasons},
	} {
		for _, use := range d.Uses {
			var reasons []message.Message
			if letter, ok := lawLetters[use]; ok {
				reasons = ask.reasons(letter)
			} else if use == WaterUse {
				reasons = in.Law.WaterReasons(ask.water)
			} else if ask.verdict == Closed { // a pesticide: where no law bars it, its label governs
				reasons = ask.reasons(use)
			}
			if len(reasons) > 0 {
				says := message.New(ask.id).Word("use", "use."+use)
				if ask.verdict == Closed {
					says = in.Law.closed(use)
				}
				return &gated{gate: "law", verdict: ask.verdict, say: says, reasons: reasons}, nil
			}
		}
	}
	var conditions []message.Message
	for _, use := range d.Uses {
		if letter, ok := lawLetters[use]; ok {
			conditions = append(conditions, in.Law.ConditionReasons(letter)...)
		}
	}
	return nil, once(conditions)
}

func usesAny(d Draft, uses ...string) bool {
	return slices.ContainsFunc(d.Uses, func(u string) bool { return slices.Contains(uses, u) })
}

// growthGate closes feeding and treating of turf that does not grow.
func (in *Input) growthGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Nitrogen, Fungicide, Herbicide, Insecticide) {
		return nil, nil
	}
	g := in.growth(0).RainFed
	// Weed killers have a gate of their own that knows which of them dormant
	// grass bears: some are for dormant grass alone, and what stops weeds before
	// they come up goes down while warm-season grass still sleeps.
	onlyHerbicide := usesAny(d, Herbicide) && !usesAny(d, Nitrogen, Fungicide, Insecticide)
	// A soil-timed preventive keeps its window, whatever the grass grows.
	preventive := d.Pest != nil && d.Pest.Disease != nil && d.Pest.Disease.Treatment.Preventive.Value && !usesAny(d, Nitrogen, Insecticide)
	// Nor is what takes grass in days held to the pace of the mower.
	urgent := d.Pest != nil && d.Pest.Decision != nil && d.Pest.Disease.Urgent()
	mowDays := g.MowDays
	if d.Pest != nil && d.Pest.Report != nil && d.Pest.Report.MownDays > 0 {
		mowDays = d.Pest.Report.MownDays // who mows knows better
	}
	days := message.Word("value.no_mowing")
	if mowDays > 0 {
		days = message.DayCount(mowDays)
	}
	stop := func(v Verdict, id string) (*gated, []message.Message) {
		return stopped("growth", v, id, func(m message.Message) message.Message { return m.Name("grass", in.Grass.Name).With("days", days) })
	}
	switch {
	case !g.Enough:
		return stop(Wait, "unknown")
	case onlyHerbicide && g.DormantWhy != turf.Drought, preventive && g.State != turf.Dormant:
		return nil, nil
	case g.State == turf.Dormant:
		return stop(Skip, "dormant")
	case g.State == turf.Resting:
		return stop(Skip, "resting")
	case usesAny(d, Fungicide) && !urgent && (mowDays == 0 || mowDays > turf.StillMownDays):
		return stop(Wait, "too_slow")
	}
	return nil, nil
}

// Rain in 24 h, mm, that holds feeding and spraying, and that is warned of. Two
// inches in 24 h is the World Meteorological Organization's heavy rain as
// Florida's model fertilizer ordinance quotes it (from memory); the warning at
// one inch is own design.
const (
	stormHoldMM = 50.8
	stormWarnMM = 25.4
)

// frozenC is the soil temperature at 5 cm at which ground counts as frozen.
const frozenC = 0

// stormAlerts are the official alerts that hold as heavy rain does: what they warn
// of brings it.
func stormAlerts() []string {
	return []string{
		"Flood Watch", "Flood Warning", "Flash Flood Watch", "Flash Flood Warning", "Severe Thunderstorm Watch", "Severe Thunderstorm Warning",
		"Tropical Storm Watch", "Tropical Storm Warning", "Hurricane Watch", "Hurricane Warning",
	}
}

// stormAlert returns the first of them that is in force from the issue date through
// the Sunday of the issue's week.
func (in *Input) stormAlert() (law.Alert, bool) {
	for d := in.IssueDate; d <= in.Week.Sunday(); d++ {
		for _, a := range AlertsOn(in.Alerts, d) {
			if named, ok := a.Named(stormAlerts()); ok {
				return named, true
			}
		}
	}
	return law.Alert{}, false
}

// stormGate holds feeding and spraying before heavy rain, while an official alert
// of it is in force, and on frozen or snow-covered ground. From a daily forecast the greatest 24-hour rain is only
// bounded by sums of two days: a day's total holds, the bound warns.
func (in *Input) stormGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Nitrogen, Phosphorus, Fungicide, Herbicide, Insecticide) {
		return nil, nil
	}
	hold := func(id string, fill func(message.Message) message.Message) (*gated, []message.Message) {
		return stopped("storm", Wait, id, fill)
	}
	asIs := func(m message.Message) message.Message { return m }
	if a, ok := in.stormAlert(); ok {
		return hold("alert", func(m message.Message) message.Message { return m.Name("alert", a.Event).Said("until", alertUntil(a)) })
	}
	if in.Felt == nil {
		return hold("unknown", asIs)
	}
	last := in.IssueDate.AddDays(-1)
	if in.Felt.View.Days.At(weather.SnowDepthMM, last) > 0 {
		return hold("snow", asIs)
	}
	if i, ok := in.Felt.Index(last); ok && in.Felt.Soil5C[i] <= frozenC {
		return hold("frozen", asIs)
	}
	mm := in.rainAhead()
	if len(mm) == 0 {
		return hold("unknown", asIs)
	}
	rain := func(m message.Message, mm float64) message.Message {
		return m.Both("rain", mm, quantity.Depth, 1, 0)
	}
	day := func(i int) civil.Date { return in.IssueDate.AddDays(i) }
	wettest := most(mm)
	pairs := make([]float64, len(mm)-1) // each day with the next
	for i := range pairs {
		pairs[i] = mm[i] + mm[i+1]
	}
	two := most(pairs)
	var conditions []message.Message
	switch {
	case quantity.Tenths(mm[wettest]) >= stormHoldMM:
		return hold("heavy", func(m message.Message) message.Message { return rain(m, mm[wettest]).WeekDay("day", day(wettest)) })
	case len(pairs) > 0 && quantity.Tenths(pairs[two]) >= stormHoldMM:
		conditions = append(conditions, rain(message.New("gate.storm.warn_two_days"), pairs[two]).WeekDay("first", day(two)).WeekDay("last", day(two+1)))
	case quantity.Tenths(mm[wettest]) >= stormWarnMM:
		conditions = append(conditions, rain(message.New("gate.storm.warn_day"), mm[wettest]).WeekDay("day", day(wettest)))
	}
	if end := in.IssueDate.AddDays(len(mm) - 1); end < in.Week.Sunday() {
		conditions = append(conditions, message.New("gate.storm.short_forecast").WeekDay("last", end))
	}
	return nil, conditions
}

// most returns where the greatest value first stands; 0 if there is none.
func most(values []float64) int {
	if len(values) == 0 {
		return 0
	}
	return slices.Index(values, slices.Max(values))
}

// lawSpeaks is the draft that the law makes of its own accord when nitrogen is
// closed: readers ask every week whether they may feed.
func (in *Input) lawSpeaks() (Draft, bool) {
	reasons := in.Law.ClosureReasons("N")
	if len(reasons) == 0 {
		return Draft{}, false
	}
	return Draft{
		Topic: Feed, Verdict: Closed, Uses: []string{Nitrogen}, Gate: "law", Reasons: reasons,
		Say: in.Law.closed(Nitrogen),
	}, true
}
