package advice

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/disease"
	"ligule/internal/homeuse"
	"ligule/internal/message"
	"ligule/internal/quantity"
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
		held, none := stop(Wait, "hold", reasons...)
		held.say = held.say.Word("until", phrase("treat_until", decision.Reasons[0]))
		return held, none
	case disease.AnswerClosed, disease.AnswerNone, disease.AnswerSilent:
		return stop(Skip, string(decision.Answer), reasons...)
	}
	// What cannot wait, then the ladder's order: what helps without a product
	// comes before it.
	steps := slices.Clone(decision.Steps)
	first := []disease.Reason{disease.StepCulture, disease.StepUrgent}
	slices.SortStableFunc(steps, func(a, b disease.Reason) int { return cmp.Compare(slices.Index(first, b), slices.Index(first, a)) })
	var conditions []message.Message
	if r := d.Pest.Report; r != nil && r.StandingWater {
		conditions = append(conditions, message.New("treat.drain_first").Name("pest", name))
	}
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
