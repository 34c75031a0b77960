package advice

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/disease"
	"ligule/internal/homeuse"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/spray"
)

// treatGate lets a fungicide through only for a place that somebody reported
// and that the disease's own gate leaves open, or for one that had it before,
// where it is treated ahead of its season.
func (in *Input) treatGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Fungicide) || d.Pest == nil || d.Pest.Disease == nil {
		return nil, nil
	}
	decision := d.Pest.Decision
	name := d.Pest.Name()
	stop := func(v Verdict, id string, reasons ...message.Message) (*gated, []message.Message) {
		return &gated{gate: "treatment", verdict: v, say: message.New("gate.treatment."+id).Name("pest", name), reasons: reasons}, nil
	}
	if decision == nil {
		return stop(Wait, "unreported", message.New("treat.not_identified").Name("pest", name))
	}
	var reasons []message.Message
	for _, r := range decision.Reasons {
		reasons = append(reasons, message.New(phrase("treat", r)).Name("pest", name))
	}
	switch decision.Answer {
	case disease.AnswerHold:
		return stop(Wait, "hold", reasons...)
	case disease.AnswerClosed, disease.AnswerNone, disease.AnswerSilent:
		return stop(Skip, string(decision.Answer), reasons...)
	}
	// The ladder's order: what helps without a product comes before it.
	steps := slices.Clone(decision.Steps)
	slices.SortStableFunc(steps, func(a, b disease.Reason) int {
		return cmp.Compare(truth(b == disease.StepCulture), truth(a == disease.StepCulture))
	})
	var conditions []message.Message
	for _, s := range steps {
		conditions = append(conditions, message.New(phrase("treat", s)).Name("pest", name))
	}
	if s := spotOf(d.Pest.Disease, d.Pest.Report); !math.IsNaN(s.areaM2) {
		r := d.Pest.Report
		id := "treat.spot_share"
		if math.IsNaN(s.share) {
			id = "treat.spot"
		}
		conditions = append(conditions, message.New(id).Count("patches", r.Patches).Both("across", r.DiameterM, quantity.Distance, 0, 1).
			Both("buffer", d.Pest.Disease.Treatment.Buffer.Value, quantity.Distance, 0, 1).Both("area", s.areaM2, quantity.Area, 0, 0).
			With("share", message.Number(100*s.share, 0)))
	}
	conditions = append(conditions, in.groups(d.Pest)...)
	if text := d.Pest.Disease.Water.Text; text != "" {
		conditions = append(conditions, message.Plain(text))
	}
	for _, injury := range d.Pest.Disease.Injury {
		if len(injury.Grasses) == 0 || slices.Contains(injury.Grasses, in.Grass.ID) {
			conditions = append(conditions, message.Plain(injury.Says.Text))
		}
	}
	return nil, conditions
}

// groups says which groups may follow what the log of the place holds, by the
// ingredients that home owners may use. What stands from memory is a name of a
// group, never a promise that it works.
func (in *Input) groups(p *Pest) []message.Message {
	log := in.treatmentsOf(p)
	var out []message.Message
	var open []string // what is not refused for now
	for _, g := range p.Disease.Groups {
		offered := in.choose(g.Ingredients.Value).Offered
		r := p.Disease.Rotate(log, []string{g.Code}, p.Disease.Partner)
		id := map[disease.RotationVerdict]string{
			disease.RotationAllowed: "treat.group", disease.RotationMixed: "treat.group_with_partner", disease.RotationRefused: "treat.group_refused",
		}[r.Verdict]
		if r.Verdict != disease.RotationRefused {
			open = append(open, g.Ingredients.Value...)
		}
		if len(offered) > 0 {
			out = append(out, message.New(id).Name("code", g.Code).With("ingredients", homeuse.Names(offered)))
		}
	}
	return append(out, in.choose(open).Says()...)
}

// insectGate adds to a treatment of an insect what has to be known first: how
// many are worth it, the groups, and the bees. There is no treatment of what
// the file has none for.
func (in *Input) insectGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Insecticide) || d.Pest == nil || d.Pest.Insect == nil {
		return nil, nil
	}
	insect := d.Pest.Insect
	conditions := []message.Message{message.Just(in.culture(d.Pest))}
	for _, t := range insect.Counts {
		conditions = append(conditions, message.New("insect.threshold").With("of", message.Text(t.Of).Lowered()).With("as", t.Says()))
	}
	for _, t := range treatmentsAt(d.Pest) {
		if offered := in.choose(t.Ingredients).Offered; len(offered) > 0 {
			code := "insect.group"
			if t.IRAC.Value == livingAgent {
				code = "insect.living"
			}
			conditions = append(conditions, message.New(code).Name("code", t.IRAC.Value).With("ingredients", homeuse.Names(offered)).Name("when", t.When.Value))
		}
	}
	all := in.offered(d.Pest)
	conditions = append(conditions, all.Says()...)
	if !all.Licensed && len(all.Offered) == 0 {
		return stopped("treatment", Skip, "no_insecticide", func(m message.Message) message.Message { return m.Name("pest", insect.Name) })
	}
	if insect.Blooms != "" {
		conditions = append(conditions, message.Plain(insect.Blooms))
	}
	return nil, conditions
}

// livingAgent is the group of what has none, a nematode.
const livingAgent = "none"

// fitHours returns the stretches of the week that are fit for a spray. known is
// false where there are none but hours by day could not be graded: there might
// be.
func (in *Input) fitHours(l spray.Limits) (windows []spray.Window, known bool) {
	l.ElevationM = in.Felt.View.Station.ElevationM
	hours := spray.GradeHours(in.Hours, l)
	windows = spray.Windows(hours, l)
	known = len(windows) > 0 || len(hours) > 0 && !slices.ContainsFunc(hours, func(h spray.GradedHour) bool {
		return h.Grade == spray.Unknown && h.Date < in.Week.Sunday() // the last hours lack those after them
	})
	return windows, known
}

// sprayGate holds what is sprayed while the hourly forecast has no fit hours.
// Hours are never made from a daily forecast: without an hourly one it says so.
func (in *Input) sprayGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Fungicide, Herbicide, Insecticide) || in.Felt == nil {
		return nil, nil
	}
	l := spray.Limits{MostWindMS: math.NaN()}
	before := false
	switch {
	case d.Pest == nil:
	case d.Pest.Disease != nil:
		l.RainfastH = d.Pest.Disease.Placement.DryLeast.Value
	case d.Pest.Insect != nil:
		for _, t := range treatmentsAt(d.Pest) {
			if t.Dry.Value > l.RainfastH && len(in.choose(t.Ingredients).Offered) > 0 {
				l.RainfastH = t.Dry.Value
			}
		}
	case d.Pest.Weed != nil:
		c := in.herbicides(d.Pest)
		before = c.before
		for _, h := range c.usable {
			l.HRAC4 = l.HRAC4 || h.Ingredient.HRAC == "4"
			if h.class != nil && h.class.Rainfast.Value > l.RainfastH {
				l.RainfastH = h.class.Rainfast.Value
			}
		}
	}
	windows, known := in.fitHours(l)
	if !known {
		return nil, []message.Message{message.New("gate.spray.no_hours")}
	}
	if len(windows) == 0 {
		// What is spread as granules does not drift.
		if before {
			return nil, []message.Message{message.New("gate.spray.none_but_granules")}
		}
		return &gated{gate: "spray", verdict: Wait, say: message.New("gate.spray.say"), reasons: []message.Message{message.New("gate.spray.none")}}, nil
	}
	// Where there are good hours, those that are just fit need no mention.
	if good := slices.DeleteFunc(slices.Clone(windows), func(w spray.Window) bool { return w.Grade != spray.Good }); len(good) > 0 {
		windows = good
	}
	var out []message.Message
	for _, w := range windows {
		out = append(out, message.New("gate.spray.window_"+string(w.Grade)).WeekDay("day", w.Date).With("from", message.Clock(w.From*60)).With("to", message.Clock(w.To*60)))
	}
	return nil, out[:min(len(out), maxWindows)]
}

// maxWindows keeps the hours of a week to what a reader takes in.
const maxWindows = 4
