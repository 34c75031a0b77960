package advice

import (
	"math"
	"slices"

	"ligule/internal/disease"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/stage"
	"ligule/internal/turf"
)

// Pest is what one disease, weed or insect comes to on the grass of a reading.
// A grade is a reason to look, never an order to treat.
type Pest struct {
	Kind    Topic            // Disease, Weed or Insect
	Disease *disease.Disease // one of these three
	Weed    *stage.Weed
	Insect  *stage.Insect

	Found    pest.Assessment
	Progress stage.Progress  // of weeds and insects
	Lawns    []*Pest         // of the zone's alone: what it comes to at each place where it was found
	Looked   message.Message // likewise: how many looked lately, and how many found it

	// Of one place.
	Decision *disease.Decision // of a disease: what its treatment gate says; nil where there is nothing to judge
	Report   *pest.Report      // of a disease: the report that stands, if there is one
	Last     *pest.Report      // the last report of it, however old
}

// ID is the id of its data file.
func (p *Pest) ID() string {
	if a := p.Account(); a != nil {
		return a.ID
	}
	return p.Disease.ID
}

// Name is its common name.
func (p *Pest) Name() string {
	if a := p.Account(); a != nil {
		return a.Name
	}
	return p.Disease.Name
}

// pestTopics are the topics that are about pests: what a treatment puts on a lawn,
// and how the indicators name many of them and their grade.
var pestTopics = []struct {
	of                 Topic
	use, plural, grade string
}{
	{Disease, Fungicide, "diseases", "disease_risk"},
	{Weed, Herbicide, "weeds", "weed_attention"},
	{Insect, Insecticide, "insects", "insect_attention"},
}

// Treatment is what a treatment of a kind of pest puts on a lawn; "" for another
// topic.
func (t Topic) Treatment() string {
	for _, k := range pestTopics {
		if k.of == t {
			return k.use
		}
	}
	return ""
}

// Account is what a weed or an insect is told of; nil for a disease.
func (p *Pest) Account() *stage.Account {
	switch p.Kind {
	case Weed:
		return &p.Weed.Account
	case Insect:
		return &p.Insect.Account
	}
	return nil
}

// Lives says where it lives; "" where that is everywhere.
func (p *Pest) Lives() string {
	if a := p.Account(); a != nil {
		return a.Range.Lives
	}
	return p.Disease.Range.Lives
}

// Silent reports whether nothing is ever said of it in the weekly advice here:
// it has a page only, or no model that is valid at the place.
func (p *Pest) Silent() bool {
	return slices.Contains([]string{pest.InvalidNoModel, pest.InvalidPageOnly, pest.InvalidRegion, pest.InvalidRange}, p.Found.Invalid)
}

// pests assesses all that the grass is a host of: diseases first, then weeds
// and insects; in each, those that suffer from it most come first.
func (in *Input) pests() []*Pest {
	if in.found != nil || in.Pests == nil || in.Felt == nil {
		return in.found
	}
	look := in.look()
	for _, d := range in.Pests.Diseases {
		if rank, _ := d.Host(in.Grass.ID); rank > pest.NoHost {
			in.found = append(in.found, &Pest{Kind: Disease, Disease: d, Found: d.Assess(look)})
		}
	}
	for _, w := range in.Pests.Weeds {
		if rank, _ := w.Host(in.Grass.ID); rank > pest.NoHost {
			in.found = append(in.found, &Pest{Kind: Weed, Weed: w, Found: w.Assess(look), Progress: w.Progress(look)})
		}
	}
	for _, i := range in.Pests.Insects {
		if rank, _ := i.Host(in.Grass.ID); rank > pest.NoHost {
			in.found = append(in.found, &Pest{Kind: Insect, Insect: i, Found: i.Assess(look), Progress: i.Progress(look)})
		}
	}
	return in.found
}

// assess judges it.
func (p *Pest) assess(look *pest.Input) pest.Assessment {
	if a := p.Account(); a != nil {
		return a.Assess(look)
	}
	return p.Disease.Assess(look)
}

// pest returns what a pest comes to on the grass. One that does not attack it
// is quiet there; nil is "cannot be said".
func (in *Input) pest(kind Topic, id string) *Pest {
	for _, p := range in.pests() {
		if p.Kind == kind && p.ID() == id {
			return p
		}
	}
	if in.Pests == nil || in.Felt == nil {
		return nil
	}
	p := &Pest{Kind: kind, Found: pest.Assessment{ID: id, Known: true}}
	known := false
	switch kind {
	case Disease:
		p.Disease, known = in.Pests.Disease(id)
	case Weed:
		p.Weed, known = in.Pests.Weed(id)
	case Insect:
		p.Insect, known = in.Pests.Insect(id)
	}
	if !known {
		return nil
	}
	return p
}

// spreadDays is how long before a look another may lie for the two to tell whether
// a patch grew. Own design.
const spreadDays = 21

// decide asks the treatment gate of a disease about a place that was reported,
// or, where a disease is treated ahead of its season, about one that had it in
// other years.
func (in *Input) decide(p *Pest) {
	d, a := p.Disease, p.Found
	log := in.look().Log(d.ID)
	standing, looks := log.Standing(in.IssueDate)
	p.Report = standing
	if p.Report == nil && !(a.History && d.Treatment.Trigger == disease.TriggerHistory) {
		return
	}
	g := in.growth(0).RainFed
	c := disease.Case{
		Grass: in.Grass.ID, State: g.State, Mowings: in.mowings(p.Report), MowDays: g.MowDays, Grade: a.Grade, History: a.History,
		SoilC: math.NaN(), Windows: a.Windows, AreaPct: math.NaN(), TreatedShare: math.NaN(),
		Today: in.IssueDate,
	}
	week := in.sprayWeek(d.SprayLimits())
	c.AirC, c.RainInH = week.AirC, week.RainH
	c.NoFitHours = week.Hourly && math.IsNaN(week.AirC)
	if !g.Enough {
		c.State, c.MowDays = "", 0
	}
	if i, ok := in.Felt.Index(in.IssueDate.AddDays(-1)); ok {
		c.SoilC = in.Felt.Soil5C[i]
	}
	if log := in.treatmentsOf(p); len(log) > 0 {
		last := log[len(log)-1]
		c.LastTreated, c.Interval = last.Date, last.IntervalDays
	}
	if r := p.Report; r != nil {
		c.Identified, c.AreaPct, c.Scattered = r.Confirmed, r.AreaPct, r.Patches == 0 && !r.MarginActive && a.Grade == pest.Quiet
		c.Young, c.Wilting = in.young(), r.Wilting
		if r.MownDays > 0 {
			c.MowDays = r.MownDays
		}
		for _, before := range looks {
			if before.Date >= r.Date.AddDays(-spreadDays) && before.AreaPct < r.AreaPct {
				c.Spreading = r.MarginActive
			}
		}
		c.TreatedShare = spotOf(d, r).share
	} else {
		c.Identified = true // in the years of its history
	}
	decision := d.Gate(c)
	p.Decision = &decision
}

// mowings counts the mowings since the grass began to green up; 0 where it does
// not. Who mows knows better than the model how often.
func (in *Input) mowings(r *pest.Report) int {
	n := 0.0
	for ago := 0; ; ago++ {
		g := in.growth(ago).RainFed
		if g.State != turf.GreeningUp {
			return int(n + 1e-9)
		}
		days := g.MowDays
		if r != nil && r.MownDays > 0 {
			days = r.MownDays
		}
		if days > 0 {
			n += 1 / float64(days)
		}
	}
}

// treatmentsOf returns the treatments on record against a pest on the lawn, oldest
// first.
func (in *Input) treatmentsOf(p *Pest) []pest.Treatment {
	var log []pest.Treatment
	for _, t := range in.log() {
		if t.Target == p.ID() && in.mine(t.Grass) {
			log = append(log, t)
		}
	}
	return log
}

// spot is the arithmetic of treating patches with a strip around them.
type spot struct {
	areaM2 float64 // to treat, m²; NaN if the patches were not measured
	share  float64 // of the lawn, 0 to 1; NaN if that is not known
}

func spotOf(d *disease.Disease, r *pest.Report) spot {
	nan := math.NaN()
	if r == nil || r.Patches == 0 || math.IsNaN(r.DiameterM) {
		return spot{nan, nan}
	}
	n := float64(r.Patches)
	s := spot{areaM2: n * disease.CircleArea(r.DiameterM/2, d.Treatment.Buffer.Value), share: nan}
	if r.AreaPct > 0 {
		lawn := n * disease.CircleArea(r.DiameterM/2, 0) / (r.AreaPct / 100)
		s.share = min(1, s.areaM2/lawn)
	}
	return s
}

// stageID is the stage of a weed or insect; "" where it is not known.
func (p *Pest) stageID() string {
	if !p.Progress.Known || p.Progress.Invalid != "" {
		return ""
	}
	return p.Progress.Stage.ID
}

// says is what its data file has to say of it now.
func (p *Pest) says() string {
	if p.Kind != Disease {
		return p.Progress.Stage.Says
	}
	for i, w := range p.Found.Windows { // in the order of the disease's own
		// Of an infection that nothing shows of, only a place that had it is told.
		told := w.Symptoms || p.Found.History || !p.Disease.Apart()
		if says := p.Disease.Windows[i].Says.Text; told && w.State == pest.WindowOpen && says != "" {
			return says
		}
	}
	return p.Disease.About.Text
}

// mayUse is what its own words may have the reader reach for at its stage, even
// where the rule that prints them puts nothing on the lawn: cautions go by it.
func (in *Input) mayUse(p *Pest) []string {
	switch p.Kind {
	case Weed:
		if v := in.weedTreatment(p); v.Word != "" && v.Word != noTreatment {
			return []string{Herbicide}
		}
	case Insect:
		if len(treatmentsAt(p)) > 0 {
			return []string{Insecticide}
		}
	case Disease:
		if p.Decision != nil {
			return []string{Fungicide}
		}
	}
	return nil
}

// look is what to look for.
func (p *Pest) look() string {
	if a := p.Account(); a != nil {
		return a.Look
	}
	return first(p.Disease.LookFor).Text
}

// first is the first of a list; of none the zero value.
func first[T any](list []T) (one T) {
	if len(list) > 0 {
		one = list[0]
	}
	return one
}

// worth is when treatment is worth it.
func (p *Pest) worth() string {
	if a := p.Account(); a != nil {
		return a.Worth
	}
	return p.Disease.Worth.Text
}

// grade says how much it asks for attention.
func (p *Pest) grade(in *Input) Value {
	if !p.Found.Known {
		return Value{}
	}
	return Value{Word: p.Found.Grade.String(), Basis: p.basis(in)}
}

// yesNo are the words of what was or was not on record.
const (
	onRecord    = "on record"
	notOnRecord = "not on record"
	lookDue     = "look again"
)

func recorded(found bool) Value {
	if found {
		return Value{Word: onRecord, Basis: Observed}
	}
	return Value{Word: notOnRecord, Basis: Observed}
}

// The words of an indicator about treating a weed now.
const (
	beforeEmergence = "before emergence"
	afterEmergence  = "after emergence"
	noTreatment     = "none"
)

// weedTreatment says what its file has for its stage that a home owner may use,
// whatever the grass bears.
func (in *Input) weedTreatment(p *Pest) Value {
	stage := p.stageID()
	if stage == "" {
		return Value{}
	}
	word := noTreatment
	for _, t := range p.Weed.Treat {
		switch {
		case !slices.Contains(t.Stages, stage) || len(in.choose(t.Ingredients).Offered) == 0:
		case t.Before:
			return Value{Word: beforeEmergence, Basis: p.basis(in)}
		default:
			word = afterEmergence
		}
	}
	return Value{Word: word, Basis: p.basis(in)}
}

// nitrogen reports whether that is what nitrogen does to it.
func (p *Pest) nitrogen(effect disease.NitrogenEffect) bool {
	return p != nil && p.Kind == Disease && p.Disease.Nitrogen.Value == effect
}

// count returns how many pests of a kind are as is asked; unknown if none of the
// kind can be judged.
func count(kind Topic, asked func(*Input, *Pest) bool) func(*Input, int) Value {
	return func(in *Input, _ int) Value {
		v := Value{Num: math.NaN(), Basis: Calendar}
		for _, p := range in.pests() {
			if p.Kind != kind || !p.Found.Known {
				continue
			}
			if math.IsNaN(v.Num) {
				v.Num = 0
			}
			v.Basis = weakest(v.Basis, p.basis(in))
			if asked(in, p) {
				v.Num++
			}
		}
		return v
	}
}

// grades are the words of a grade, in order.
func grades() []string {
	return []string{pest.Quiet.String(), pest.Watch.String(), pest.Act.String()}
}

// pestIndicators are those that are asked of one pest, and the counts of them.
func pestIndicators() []*Indicator {
	var list []*Indicator
	add := func(i Indicator) { list = append(list, &i) }
	at := func(least pest.Grade) func(*Input, *Pest) bool {
		return func(_ *Input, p *Pest) bool { return p.Found.Grade >= least }
	}
	for _, kind := range pestTopics {
		name := string(kind.of)
		add(Indicator{Name: kind.grade, Kind: Word, Words: grades(), Ordered: true, Of: kind.of, of: func(in *Input, p *Pest) Value { return p.grade(in) }})
		add(Indicator{Name: name + "_season", Kind: Word, Words: []string{pest.WindowBefore, pest.WindowOpen, pest.WindowAfter}, Of: kind.of, of: func(in *Input, p *Pest) Value {
			basis := p.basis(in)
			if p.Disease != nil { // its seasons go by the soil, whatever its model reads
				basis = onSoil5.of(in, 0)
			}
			return Value{Word: p.Found.Window, Basis: basis}
		}})
		add(Indicator{Name: name + "_stood", Dim: quantity.Time, Of: kind.of, of: func(in *Input, p *Pest) Value {
			v := Value{Num: math.NaN(), Basis: Estimated}
			if !p.Found.Since.IsZero() {
				v.Num = float64(in.IssueDate - p.Found.Since)
			}
			return v
		}})
		add(Indicator{Name: name + "_host", Kind: Word, Words: []string{"no", "occasional", "common", "main"}, Ordered: true, Of: kind.of, of: func(in *Input, p *Pest) Value {
			return Value{Word: [...]string{pest.NoHost: "no", pest.MinorHost: "occasional", pest.CommonHost: "common", pest.MainHost: "main"}[p.Found.Host], Basis: Calendar}
		}})
		if kind.of != Disease {
			add(Indicator{Name: name + "_stage", Kind: Word, Of: kind.of, of: func(in *Input, p *Pest) Value {
				return Value{Word: p.stageID(), Text: p.Progress.Stage.Title, Basis: p.basis(in)}
			}})
		}
		add(Indicator{Name: name + "_history", Kind: Word, Words: []string{onRecord, notOnRecord}, Of: kind.of, Lawn: true, of: func(_ *Input, p *Pest) Value { return recorded(p.Found.History) }})
		if kind.of != Weed {
			add(Indicator{Name: name + "_shows", Kind: Word, Words: []string{"shows", "hidden"}, Of: kind.of, Lawn: true, of: func(in *Input, p *Pest) Value {
				return Value{Word: map[bool]string{false: "shows", true: "hidden"}[p.Found.Hidden], Basis: p.basis(in)}
			}})
		}
		add(Indicator{Name: name + "_reported", Kind: Word, Words: []string{onRecord, notOnRecord, lookDue}, Of: kind.of, Lawn: true, of: func(_ *Input, p *Pest) Value {
			if p.Found.Due {
				return Value{Word: lookDue, Basis: Observed}
			}
			return recorded(p.Found.Reported)
		}})
		add(Indicator{Name: kind.plural + "_to_watch", Dim: quantity.Number, Now: true, measure: count(kind.of, at(pest.Watch))})
		add(Indicator{Name: kind.plural + "_to_act_on", Dim: quantity.Number, Now: true, measure: count(kind.of, at(pest.Act))})
	}
	add(Indicator{Name: "disease_nitrogen", Kind: Word, Words: Words(disease.NitrogenEffects()), Of: Disease, of: func(_ *Input, p *Pest) Value {
		return Value{Word: string(p.Disease.Nitrogen.Value), Basis: Calendar}
	}})
	add(Indicator{Name: "diseases_fed_to_watch", Dim: quantity.Number, Now: true, measure: count(Disease, func(in *Input, p *Pest) bool {
		// What was found on a lawn is there, whatever the weather.
		return p.nitrogen(disease.NitrogenFeeds) && (p.Found.Grade >= pest.Watch || in.lawn != nil && p.Found.Reported)
	})})
	add(Indicator{Name: "diseases_of_hunger_to_watch", Dim: quantity.Number, Now: true, measure: count(Disease, func(_ *Input, p *Pest) bool {
		return p.nitrogen(disease.NitrogenHunger) && p.Found.Grade >= pest.Watch && p.Found.Host >= pest.CommonHost && !p.Found.Hidden
	})})
	add(Indicator{Name: "disease_score", Dim: quantity.Percent, Of: Disease, of: func(in *Input, p *Pest) Value {
		if p.Found.Host <= pest.NoHost {
			return Value{Num: 0, Basis: Calendar}
		}
		return Value{Num: 100 * p.Found.Score, Basis: p.basis(in)}
	}})
	add(Indicator{Name: "disease_returns", Kind: Word, Words: []string{onRecord, notOnRecord}, Of: Disease, Lawn: true, of: func(_ *Input, p *Pest) Value { return recorded(p.Found.Returns) }})
	add(Indicator{Name: "disease_wet", Kind: Word, Words: []string{onRecord, notOnRecord}, Of: Disease, Lawn: true, of: func(_ *Input, p *Pest) Value { return recorded(p.Found.Wet) }})
	add(Indicator{Name: "disease_treatment", Kind: Word, Of: Disease, Lawn: true,
		Words: []string{string(disease.AnswerOpen), string(disease.AnswerHold), string(disease.AnswerClosed), string(disease.AnswerNone), string(disease.AnswerSilent), nothingToJudge, ifStillMown},
		of: func(in *Input, p *Pest) Value {
			switch {
			case p.Decision == nil:
				return Value{Word: nothingToJudge, Basis: Observed}
			case p.Decision.Because(disease.ReasonSlow) && p.Report != nil && p.Report.MownDays == 0:
				return Value{Word: ifStillMown, Basis: Estimated} // only who mows can tell
			}
			return Value{Word: string(p.Decision.Answer), Basis: weakest(p.basis(in), onGrowth.of(in, 0), onAhead.of(in, 0))}
		}})
	add(Indicator{Name: "weed_treatment", Kind: Word, Of: Weed, Words: []string{beforeEmergence, afterEmergence, noTreatment}, of: func(in *Input, p *Pest) Value { return in.weedTreatment(p) }})
	add(Indicator{Name: "weed_uptake_limit", Kind: Word, Words: uptakeLimits, Of: Weed, of: func(in *Input, p *Pest) Value {
		return Value{Word: in.herbicides(p).uptakeLimit(), Basis: onUptake.of(in, 0)}
	}})
	add(Indicator{Name: "weed_judging", Dim: quantity.Time, Of: Weed, of: func(in *Input, p *Pest) Value {
		return Value{Num: in.herbicides(p).judgeDays(), Basis: Forecast}
	}})
	add(Indicator{Name: "weed_uptake", Dim: quantity.Percent, Of: Weed, of: func(in *Input, p *Pest) Value {
		return Value{Num: in.herbicides(p).bestUptake(), Basis: onUptake.of(in, 0)}
	}})
	return list
}

// nothingToJudge is said where nobody has reported a disease lately.
const nothingToJudge = "nothing reported"

// ifStillMown is said where nothing is against treating a place but how seldom the
// zone's grass is to be mown.
const ifStillMown = "if still mown"
