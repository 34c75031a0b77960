package reference

import (
	"ligule/internal/advice"
	"ligule/internal/disease"
	"ligule/internal/homeuse"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
)

// Fungicide is a group of the Fungicide Resistance Action Committee against a
// disease.
type Fungicide struct {
	Code        string        `json:"code"`
	Ingredients *message.Said `json:"ingredients"`   // that home owners may use
	From        Source        `json:"from,omitzero"` // of the ingredients
	Effect      Statement     `json:"effect"`
	Resistant   *message.Said `json:"resistant,omitempty"`
	Interval    Statement     `json:"interval"` // nil text where it is not known
}

// Season is a season of the soil.
type Season struct {
	Name  *message.Said `json:"name"`
	Opens Statement     `json:"opens"`
	Says  *message.Said `json:"says,omitempty"`
}

func (m *maker) disease(d *disease.Disease) Pest {
	p := newPest(d.ID, d.Name, advice.Disease)
	p.Names, p.Scientific = d.Also, []string{d.Pathogen}
	p.About = m.saying(d.About)
	p.Look, p.Alikes, p.Culture = m.sayings(d.LookFor), m.sayings(d.LookAlikes), m.sayings(d.Culture)
	p.Worth = append([]Statement{m.saying(d.Worth)}, m.trigger(d.Treatment)...)
	for _, g := range d.Groups {
		if c := m.choose(g.Ingredients.Value); len(c.Offered) > 0 {
			p.Fungicides = append(p.Fungicides, m.fungicide(g, c.Offered))
		}
	}
	if p.Treats() {
		p.Placing = m.placing(d.Placement)
		p.Water = []Statement{m.saying(d.Water)}
		p.Rotation = m.rotation(d.Rotation)
		if b := d.Treatment.Buffer; d.Treatment.Trigger != disease.TriggerNever && d.Placement.CarrierFrom.Known() {
			p.Spots = spotTable([]float64{min(narrowStripM, b.Value), b.Value}, d.Placement.CarrierFrom, d.Placement.CarrierTo)
		}
		for _, i := range d.Injury {
			p.Injuries = append(p.Injuries, m.injury(i))
		}
	}
	nitrogen := m.cited(message.New("disease_nitrogen."+string(d.Nitrogen.Value)), d.Nitrogen.Cite)
	p.Nitrogen = &nitrogen
	p.Hosts = m.hosts(d.Hosts)
	p.Model = m.model(d)
	for i := range d.Windows {
		p.Seasons = append(p.Seasons, m.season(&d.Windows[i]))
	}
	if d.Model.Name == disease.ModelNone {
		p.Unjudged = say("pests.invalid." + pest.InvalidNoModel)
	}
	p.Cites = m.cites(d.Cites)
	return p
}

func (m maker) saying(s disease.Saying) Statement { return m.text(s.Text, s.Cite) }

func (m maker) sayings(all []disease.Saying) []Statement {
	var out []Statement
	for _, s := range all {
		out = append(out, m.saying(s))
	}
	return out
}

// share is a share of a lawn, %.
func share(f pest.Figure) message.Value { return message.One(f.Value, f.Of, 0, 0) }

// trigger tells what makes a treatment worth a thought, in figures.
func (m maker) trigger(t disease.TreatmentRule) []Statement {
	out := []Statement{m.cited(message.New("pests.trigger."+underscored(string(t.Trigger))).With("share", share(t.From)), t.From.Cite)}
	if t.Young.Known() {
		out = append(out, m.cited(message.New("pests.trigger.young").With("share", share(t.Young)), t.Young.Cite))
	}
	for _, x := range []struct {
		code string
		pest.Cited[bool]
	}{{"only_young", t.OnlyYoung}, {"while_growing", t.WhileGrows}, {"preventive", t.Preventive}} {
		if x.Value {
			out = append(out, m.cited(message.New("pests.trigger."+x.code), x.Cite))
		}
	}
	if t.Trigger != disease.TriggerNever {
		out = append(out, m.cited(message.New("pests.trigger.buffer").Both("distance", t.Buffer.Value, t.Buffer.Of, 0, 1), t.Buffer.Cite),
			m.cited(message.New("pests.trigger.interval").DayCount("days", t.Interval.Value), t.Interval.Cite))
	}
	return out
}

func (m maker) fungicide(g disease.FungicideGroup, offered []homeuse.Answer) Fungicide {
	out := Fungicide{
		Code: g.Code, Ingredients: value(homeuse.Names(offered)), From: m.from(g.Ingredients.Cite),
		Effect: Statement{Text: say("pests.effect.unsourced")}, Interval: Statement{From: m.from(g.Days.Cite)},
	}
	if v, ok := days(g.Days.Value); ok {
		out.Interval.Text = value(v)
	}
	// How well a group works is printed only where it was read.
	if pest.OnRecord(g.Effect.Cite) {
		out.Effect = m.cited(message.New("pests.effect."+underscored(g.Effect.Value)), g.Effect.Cite)
	}
	if g.Resistant.Value {
		out.Resistant = say("pests.resistant.reported")
		if pest.OnRecord(g.Resistant.Cite) {
			out.Resistant = say("pests.resistant.known")
		}
	}
	return out
}

// placing tells where a fungicide must act and how it gets there.
func (m maker) placing(p disease.Placement) []Statement {
	out := []Statement{m.cited(message.New("pests.target."+string(p.Target.Value)), p.Target.Cite)}
	switch {
	case !p.CarrierFrom.Known():
	case p.CarrierFrom.Value == p.CarrierTo.Value:
		out = append(out, m.cited(message.New("pests.place.carrier").With("volume", volume(p.CarrierFrom)), p.CarrierFrom.Cite))
	default:
		out = append(out, m.cited(message.New("pests.place.carrier_range").With("from", volume(p.CarrierFrom)).With("to", volume(p.CarrierTo)), p.CarrierTo.Cite))
	}
	if p.WaterIn.Known() {
		out = append(out, m.cited(message.New("pests.place.water_in").With("depth", depth(p.WaterIn)), p.WaterIn.Cite))
	}
	if p.DryLeast.Known() {
		out = append(out, m.cited(message.New("pests.place.dry").With("hours", hours(p.DryLeast)), p.DryLeast.Cite))
	}
	if p.DryBetter.Known() {
		out = append(out, m.cited(message.New("pests.place.dry_better").With("hours", hours(p.DryBetter)), p.DryBetter.Cite))
	}
	return out
}

// volume is a volume of spray per area.
func volume(f pest.Figure) message.Value {
	return message.Of(message.New("pests.volume").With("gallons", message.Number(disease.SprayGallons(f.Value), 0)).With("liters", message.Number(f.Value*100, 1)))
}

func (m maker) injury(i disease.Injury) Statement {
	if len(i.Grasses) == 0 {
		return m.saying(i.Says)
	}
	return m.cited(message.New("pests.injury").With("grasses", m.grasses(i.Grasses)).Name("says", i.Says.Text), i.Says.Cite)
}

func (m maker) rotation(r disease.RotationLimits) []Statement {
	out := []Statement{{Text: say("pests.rotation.label")}}
	if n := r.MostInARow; n.Value > 0 {
		out = append(out, m.cited(message.New("pests.rotation.row").Count("n", n.Value), n.Cite))
	}
	if n := r.MostAYear; n.Value > 0 {
		out = append(out, m.cited(message.New("pests.rotation.year").Count("n", n.Value), n.Cite))
	}
	if r.TwoGroups.Value {
		out = append(out, m.cited(message.New("pests.rotation.two"), r.TwoGroups.Cite))
	}
	return out
}

// model tells how a week's weather is graded, with the figures of the file.
func (m maker) model(d *disease.Disease) []Statement {
	var out []Statement
	for _, code := range append([]string{d.Model.Name}, d.Model.Remarks...) {
		text := message.New("pests.model." + code)
		for _, t := range d.Model.Terms {
			text = text.With(t.Key, figure(t.Figure))
		}
		out = append(out, m.cited(text, d.Model.Cite))
	}
	out = append(out, unsourced(d.Model.Cite.Note)...)
	if len(d.Model.Terms) == 0 {
		return out
	}
	return append(out, m.grading(d)...)
}

// figure is a figure of a weather model.
func figure(f pest.Figure) message.Value {
	switch f.Of {
	case quantity.Number:
		return message.Figure(f.Value)
	case quantity.Depth:
		return message.Both(f.Value, f.Of, 2, 1)
	case quantity.Percent:
		return share(f)
	case quantity.Hours:
		return hours(f)
	}
	return message.Usual(f.Value, f.Of)
}

func (m maker) grading(d *disease.Disease) []Statement {
	score := func(x float64) message.Value { return message.Number(x, 2) }
	l := d.Limits
	all := []message.Message{message.New("pests.grading.limits").With("watch", score(l.Watch)).With("act", score(l.Act)).
		With("leave_watch", score(l.LeaveWatch)).With("leave_act", score(l.LeaveAct))}
	if l.CommonHost > 0 {
		all = append(all, message.New("pests.grading.common_host").With("more", score(l.CommonHost)))
	}
	all = append(all, message.New("pests.grading.confirmed").With("score", score(l.Confirmed)))
	if d.Cap < pest.Act {
		all = append(all, message.New("pests.grading.cap").Word("grade", "pests.grade."+d.Cap.String()))
	}
	if d.DormantStops {
		all = append(all, message.New("pests.grading.dormant"))
	}
	var out []Statement
	for _, text := range all {
		out = append(out, m.cited(text, l.Cite))
	}
	return out
}

func (m maker) season(w *disease.SoilWindow) Season {
	code := "pests.season.falling"
	if w.Rising {
		code = "pests.season.rising"
	}
	parts := []message.Message{message.New(code).With("opens", usual(w.Opens)).With("after", message.EveryYear(w.After))}
	if w.Closes.Known() {
		parts = append(parts, message.New("pests.season.closes").With("closes", usual(w.Closes)))
	}
	if w.Lasts > 0 {
		parts = append(parts, message.New("pests.season.lasts").DayCount("days", w.Lasts))
	}
	return Season{plain(w.Title), m.cited(message.Just(message.Messages(message.Sentences, parts...)), w.Opens.Cite), plain(w.Says.Text)}
}
