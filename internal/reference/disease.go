package reference

import (
	"math"

	"ligule/internal/advice"
	"ligule/internal/disease"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
)

// Fungicide is a group of the Fungicide Resistance Action Committee against a
// disease.
type Fungicide struct {
	Code        string        `json:"code"`
	Ingredients []string      `json:"ingredients"`
	From        Source        `json:"from,omitzero"` // of the ingredients
	Effect      Statement     `json:"effect"`
	Resistant   *message.Said `json:"resistant,omitempty"`
	Interval    Statement     `json:"interval"` // nil text where it is not known
	Home        Statement     `json:"home"`
}

// Season is a season of the soil.
type Season struct {
	Name  *message.Said `json:"name"`
	Opens Statement     `json:"opens"`
	Says  *message.Said `json:"says,omitempty"`
}

func (m maker) disease(d *disease.Disease) Pest {
	p := newPest(d.ID, d.Name, advice.Disease)
	p.Names, p.Scientific = d.Also, []string{d.Pathogen}
	p.About = Statement{plain(d.About), m.from(table(d.Cites, "about").of(""))}
	p.Look, p.Alikes, p.Culture = m.sayings(d.LookFor), m.sayings(d.LookAlikes), m.sayings(d.Culture)
	p.Worth = append(m.sayings([]disease.Saying{d.Worth}), m.trigger(d)...)
	for i, c := range tables(d.Cites, "group") {
		p.Fungicides = append(p.Fungicides, m.fungicide(d.Groups[i], c))
	}
	if p.Treats() {
		p.Placing = m.placing(d)
		p.Water = m.sayings([]disease.Saying{d.Water})
		p.Rotation = m.rotation(d)
		for _, i := range d.Injury {
			p.Injuries = append(p.Injuries, m.injury(i))
		}
	}
	p.Hosts = m.hosts(d.Hosts, table(d.Cites, "hosts"))
	p.Model = m.model(d)
	seasons := tables(d.Cites, "window")
	for i := range d.Windows {
		p.Seasons = append(p.Seasons, m.season(&d.Windows[i], seasons[i]))
	}
	if d.Model.Name == disease.ModelNone {
		p.Unjudged = say("pests.invalid." + pest.InvalidNoModel)
	}
	p.Cites = m.cites(d.Cites)
	return p
}

func (m maker) sayings(all []disease.Saying) []Statement {
	var out []Statement
	for _, s := range all {
		out = append(out, Statement{plain(s.Text), m.from(s.Cite)})
	}
	return out
}

// share is a share of a lawn, %.
func share(pct float64) message.Value { return message.One(pct, quantity.Percent, 0, 0) }

// trigger tells what makes a treatment worth a thought, in figures.
func (m maker) trigger(d *disease.Disease) []Statement {
	t, c := d.Treatment, table(d.Cites, "treatment")
	out := []Statement{m.cited(message.New("pests.trigger."+underscored(string(t.Trigger))).With("share", share(t.FromPct)), c.of("from_area"))}
	if !math.IsNaN(t.YoungPct) {
		out = append(out, m.cited(message.New("pests.trigger.young").With("share", share(t.YoungPct)), c.of("young_from_area")))
	}
	for _, x := range []struct {
		key string
		is  bool
	}{{"only_young", t.OnlyYoung}, {"while_growing", t.WhileGrows}, {"preventive", t.Preventive}} {
		if x.is {
			out = append(out, m.cited(message.New("pests.trigger."+x.key), c.of(x.key)))
		}
	}
	if t.Trigger != disease.TriggerNever {
		out = append(out, m.cited(message.New("pests.trigger.buffer").Both("distance", t.BufferM, quantity.Distance, 0, 1), c.of("buffer")),
			m.cited(message.New("pests.trigger.interval").DayCount("days", t.IntervalDay), c.of("interval")))
	}
	return out
}

func (m maker) fungicide(g disease.FungicideGroup, c citeTable) Fungicide {
	out := Fungicide{
		Code: g.Code, Ingredients: g.Ingredients, From: m.from(c.of("ingredients")),
		Effect: Statement{Text: say("pests.effect.unsourced")}, Interval: Statement{From: m.from(c.of("days_from"))},
		Home: m.cited(message.New("pests.home."+g.Home), c.of("home")),
	}
	if v, ok := days(pest.DayRange{From: g.DaysFrom, To: g.DaysTo}); ok {
		out.Interval.Text = just(v)
	}
	// How well a group works is printed only where it was read.
	if pest.OnRecord(g.EffectFrom.Cite) {
		out.Effect = m.cited(message.New("pests.effect."+underscored(g.Effect)), g.EffectFrom.Cite)
	}
	if g.Resistant {
		out.Resistant = say("pests.resistant.reported")
		if pest.OnRecord(c.of("resistant")) {
			out.Resistant = say("pests.resistant.known")
		}
	}
	return out
}

// placing tells where a fungicide must act and how it gets there.
func (m maker) placing(d *disease.Disease) []Statement {
	p, c := d.Placement, table(d.Cites, "placement")
	out := []Statement{m.cited(message.New("pests.target."+string(p.Target)), c.of("target"))}
	add := func(key string, text message.Message) { out = append(out, m.cited(text, c.of(key))) }
	switch {
	case math.IsNaN(p.CarrierFromMM):
	case p.CarrierFromMM == p.CarrierToMM:
		add("carrier", message.New("pests.place.carrier").With("volume", volume(p.CarrierFromMM)))
	default:
		add("carrier_to", message.New("pests.place.carrier_range").With("from", volume(p.CarrierFromMM)).With("to", volume(p.CarrierToMM)))
	}
	if p.WaterInMM > 0 {
		add("water_in", message.New("pests.place.water_in").With("depth", depth(p.WaterInMM)))
	}
	if !math.IsNaN(p.DryLeastH) {
		add("dry_least", message.New("pests.place.dry").With("hours", hours(p.DryLeastH)))
	}
	if !math.IsNaN(p.DryBetterH) {
		add("dry_better", message.New("pests.place.dry_better").With("hours", hours(p.DryBetterH)))
	}
	return out
}

// volume is a volume of spray per area.
func volume(mm float64) message.Value {
	return message.Of(message.New("pests.volume").With("gallons", message.Number(disease.SprayGallons(mm), 0)).With("liters", message.Number(mm*100, 1)))
}

func (m maker) injury(i disease.Injury) Statement {
	s := Statement{plain(i.Says.Text), m.from(i.Says.Cite)}
	if len(i.Grasses) > 0 {
		s.Text = message.Say(message.New("pests.injury").With("grasses", m.grasses(i.Grasses)).Name("says", i.Says.Text))
	}
	return s
}

func (m maker) rotation(d *disease.Disease) []Statement {
	r, c := d.Rotation, table(d.Cites, "rotation")
	out := []Statement{{Text: say("pests.rotation.label")}}
	if r.MostInARow > 0 {
		out = append(out, m.cited(message.New("pests.rotation.row").Count("n", r.MostInARow), c.of("most_in_a_row")))
	}
	if r.MostAYear > 0 {
		out = append(out, m.cited(message.New("pests.rotation.year").Count("n", r.MostAYear), c.of("most_a_year")))
	}
	if r.TwoGroups {
		out = append(out, m.cited(message.New("pests.rotation.two"), c.of("two_groups")))
	}
	return out
}

// model tells how a week's weather is graded, with the figures of the file.
func (m maker) model(d *disease.Disease) []Statement {
	c := table(d.Cites, "model")
	text := message.New("pests.model." + d.Model.Name)
	for _, t := range d.Model.Terms() {
		text = text.With(t.Key, term(t))
	}
	out := []Statement{m.cited(text, c.of(""))}
	if d.Model.SlowGrowth() {
		out = append(out, m.cited(message.New("pests.model.slow_growth"), c.of("")))
	}
	out = append(out, unsourced(c.of("").Note)...)
	if len(d.Model.Terms()) == 0 {
		return out
	}
	return append(out, m.grading(d)...)
}

// term is a figure of a weather model.
func term(t disease.Term) message.Value {
	switch t.Dim {
	case quantity.Number:
		return message.Figure(t.Value)
	case quantity.Depth:
		return message.Both(t.Value, t.Dim, 2, 1)
	case quantity.Percent:
		return share(t.Value)
	case quantity.Hours:
		return hours(t.Value)
	}
	return message.Usual(t.Value, t.Dim)
}

func (m maker) grading(d *disease.Disease) []Statement {
	score := func(x float64) message.Value { return message.Number(x, 2) }
	l, from := d.Limits, table(d.Cites, "grading").of("")
	out := []Statement{m.cited(message.New("pests.grading.limits").With("watch", score(l.Watch)).With("act", score(l.Act)).
		With("leave_watch", score(l.LeaveWatch)).With("leave_act", score(l.LeaveAct)), from)}
	if l.CommonHost > 0 {
		out = append(out, m.cited(message.New("pests.grading.common_host").With("more", score(l.CommonHost)), from))
	}
	out = append(out, m.cited(message.New("pests.grading.confirmed").With("score", score(l.Confirmed)), from))
	if d.Cap < pest.Act {
		out = append(out, m.cited(message.New("pests.grading.cap").Word("grade", "pests.grade."+d.Cap.String()), from))
	}
	if d.DormantStops {
		out = append(out, m.cited(message.New("pests.grading.dormant"), from))
	}
	return out
}

func (m maker) season(w *disease.SoilWindow, c citeTable) Season {
	code := "pests.season.falling"
	if w.Rising {
		code = "pests.season.rising"
	}
	parts := []message.Message{message.New(code).With("opens", temperature(w.OpensC)).With("after", message.EveryYear(w.After))}
	if !math.IsNaN(w.ClosesC) {
		parts = append(parts, message.New("pests.season.closes").With("closes", temperature(w.ClosesC)))
	}
	if w.Lasts > 0 {
		parts = append(parts, message.New("pests.season.lasts").DayCount("days", w.Lasts))
	}
	return Season{message.Say(w.Name()), m.cited(message.Just(message.Messages(message.Sentences, parts...)), c.of("opens")), plain(w.Says.Text)}
}
