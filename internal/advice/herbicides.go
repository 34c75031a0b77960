package advice

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/herbicide"
	"ligule/internal/homeuse"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/spray"
	"ligule/internal/stage"
	"ligule/internal/weather"
)

// herbicideChoice is what may be used on a weed at its stage in this grass,
// and what may not this week.
type herbicideChoice struct {
	before bool // before the weed comes up
	usable []herbicideDays
	barred []herbicideDays
	rest   homeuse.Choice // of what the grass bears: what goes with the names
}

// herbicideDays is one active ingredient over the days of the week that the
// forecast covers.
type herbicideDays struct {
	stage.WeedOption
	days    []civil.Date        // on which nothing holds it back
	windows []spray.Window      // fit hours of those days, where hours could be graded
	found   []herbicide.Finding // on the first of them; else what holds it back, all week long before what does so on the first day
	uptake  herbicide.Uptake    // on that day; of uses after emergence
	meanC   float64             // of the three days from then on
	class   *herbicide.Class    // nil for what is used before emergence alone
}

// herbicides judges every active ingredient that the weed's file names for its
// stage and that the grass bears at all.
func (in *Input) herbicides(p *Pest) herbicideChoice {
	if p == nil || p.Weed == nil {
		return herbicideChoice{}
	}
	if c, ok := in.chosen[p]; ok {
		return c
	}
	var out herbicideChoice
	options := p.Weed.Options(in.Pests.Herbicides, p.stageID(), in.Grass.ID)
	// Where there still is time to prevent it, that comes first.
	out.before = slices.ContainsFunc(options, func(o stage.WeedOption) bool {
		return o.Treatment.Before && len(in.choose([]string{o.Name}).Offered) > 0
	})
	options = slices.DeleteFunc(options, func(o stage.WeedOption) bool { return o.Treatment.Before != out.before })
	var names []string
	for _, o := range options {
		names = append(names, o.Name)
	}
	out.rest = in.choose(names)
	for _, o := range options {
		if !out.rest.Has(o.Name) {
			continue
		}
		h := in.judgeHerbicide(p, o)
		if len(h.days) > 0 {
			out.usable = append(out.usable, h)
		} else {
			out.barred = append(out.barred, h)
		}
	}
	if in.chosen == nil {
		in.chosen = map[*Pest]herbicideChoice{}
	}
	in.chosen[p] = out
	return out
}

func (in *Input) judgeHerbicide(p *Pest, o stage.WeedOption) herbicideDays {
	h := herbicideDays{WeedOption: o, uptake: herbicide.Uptake{U: math.NaN()}}
	h.class, _ = in.Pests.Herbicides.Class(o.Ingredient.Class)
	if o.Treatment.Before {
		h.class = nil
	}
	log := in.herbicideLog(h)
	sprayed, judgeDays := in.unjudged(p)
	var each [][]herbicide.Finding // of each day
	week := in.sprayWeek(h.limits())
	for d := in.firstDay(); d <= in.Week.Sunday(); d++ {
		use, uptake := in.around(d, h.limits())
		use.Ingredient, use.PreEmergence, use.SummerWeed = o.Ingredient, o.Treatment.Before, p.Weed.Summer
		use.Last, use.ThisYear, use.LabelDays, use.Symptoms = log.Last, log.ThisYear, log.LabelDays, log.Symptoms
		use.Sprayed, use.JudgeDays = sprayed, judgeDays
		uptake.SummerWeed = p.Weed.Summer
		found := in.Pests.Herbicides.Judge(use)
		holds := slices.ContainsFunc(found, func(f herbicide.Finding) bool { return f.Bar.Holds() })
		each = append(each, found)
		if !holds {
			h.days = append(h.days, d)
		}
		// What is told is of the first day that is free, else of the first of all.
		if first := !holds && len(h.days) == 1; first || len(each) == 1 {
			h.found = found
			if h.class != nil {
				h.uptake, h.meanC = h.class.UptakeIn(uptake), uptake.Mean3C
			}
		}
	}
	if len(h.days) == 0 && len(each) > 0 {
		h.found = lasting(each)
	}
	for _, w := range week.Windows {
		if !o.Treatment.Before && slices.Contains(h.days, w.Date) {
			h.windows = append(h.windows, w)
		}
	}
	return h
}

// limits are those of a spray of it. What works before emergence goes to the
// soil.
func (h *herbicideDays) limits() spray.Limits {
	l := spray.Limits{HRAC4: h.Ingredient.HRAC == "4", WateredIn: h.Treatment.Before}
	if h.class != nil && h.class.Rainfast.Known() {
		l.RainfastH = h.class.Rainfast.Value
	}
	return l
}

// lasting is what was found on the first of the days, first what holds a use back
// on most of them.
func lasting(days [][]herbicide.Finding) []herbicide.Finding {
	held := func(f herbicide.Finding) (n int) {
		for _, found := range days {
			if f.Bar.Holds() && slices.ContainsFunc(found, func(g herbicide.Finding) bool { return g.Bar == f.Bar }) {
				n++
			}
		}
		return n
	}
	out := slices.Clone(days[0])
	slices.SortStableFunc(out, func(a, b herbicide.Finding) int { return cmp.Compare(held(b), held(a)) })
	return out
}

// herbicideLog returns what is on record of the ingredient's group on the lawn: its
// last use, with the days of its label and those to symptoms in the weather that it
// met, and how many uses there were this year.
func (in *Input) herbicideLog(h herbicideDays) (log herbicide.Use) {
	for _, t := range in.log() {
		if !in.mine(t.Grass) || !slices.Contains(t.Groups, h.Ingredient.HRAC) {
			continue
		}
		if _, isWeed := in.Pests.Weed(t.Target); !isWeed {
			continue // "3" is a group of fungicides too
		}
		log.Last, log.LabelDays = t.Date, t.IntervalDays
		if t.Date.Year() == in.IssueDate.Year() {
			log.ThisYear++
		}
	}
	if log.Symptoms = math.NaN(); h.class != nil && !log.Last.IsZero() {
		_, then := in.around(log.Last, h.limits())
		log.Symptoms = h.class.UptakeIn(then).SymptomDays(h.class.Symptoms.Value.Mid())
	}
	return log
}

// unjudged returns the use on record against the weed that is judged last, and after
// how many days in the weather that it met. Of what the weed's file names of its
// groups that which takes longest counts, as the log knows only the groups.
func (in *Input) unjudged(p *Pest) (last civil.Date, days int) {
	for _, t := range in.log() {
		if t.Target != p.ID() || !in.mine(t.Grass) {
			continue
		}
		_, then := in.around(t.Date, spray.Limits{})
		for _, use := range p.Weed.Treat {
			for _, name := range use.Ingredients {
				a, _ := in.Pests.Herbicides.Ingredient(name)
				if a == nil || use.Before || a.On(in.Grass.ID) == herbicide.ToleranceNone || !slices.Contains(t.Groups, a.HRAC) {
					continue
				}
				if c, ok := in.Pests.Herbicides.Class(a.Class); ok {
					if n := c.Judging.Value.In(then.Mean3C); t.Date.AddDays(n) > last.AddDays(days) {
						last, days = t.Date, n
					}
				}
			}
		}
	}
	return last, days
}

// known is what is on record or forecast of a day; NaN where nothing is.
func (in *Input) known(c weather.Column, on civil.Date) float64 {
	if in.Felt.View.Basis(c, on) == weather.Missing {
		return math.NaN()
	}
	return in.Felt.View.Days.At(c, on)
}

// around is the weather around a day, as the uses of weed killers and their uptake
// go by it; NaN is not known.
func (in *Input) around(d civil.Date, l spray.Limits) (use herbicide.Use, uptake herbicide.UptakeInput) {
	g := in.growth(max(0, int(in.IssueDate-d))).RainFed
	use = herbicide.Use{Grass: in.Grass, State: g.State, Date: d, Water: math.NaN(), RainMM: in.known(weather.RainMM, d)}
	if d >= in.IssueDate {
		use.RainMM, use.NoFitHours = in.rainAfter(d, l)
	}
	uptake = herbicide.UptakeInput{LowestC: math.Inf(1), RainSoon: use.RainMM >= spray.RainTakesOffMM}
	for i := range use.TmaxC {
		on := d.AddDays(i)
		tmax, tmin := in.known(weather.TmaxC, on), in.known(weather.TminC, on)
		use.TmaxC[i] = tmax
		uptake.Mean3C += (tmax + tmin) / 2 / 3
		uptake.LowestC = math.Min(uptake.LowestC, tmin) // NaN stays
		light := math.NaN()
		if i, ok := in.Felt.Index(on); ok {
			light = in.Felt.LightMol[i]
		}
		uptake.Light3Mol += light / 3
	}
	use.LowestC48h = math.Min(in.known(weather.TminC, d.AddDays(-1)), in.known(weather.TminC, d))
	use.SoilC = enough(in.Felt.Mean(in.Felt.Soil5C, d, weather.WindowDays))
	if g.BalanceOK {
		use.Water = 1 - g.DepletionMM/g.TAWMM
	}
	for i := 1; i <= 10; i++ {
		uptake.Rain10MM += in.known(weather.RainMM, d.AddDays(-i))
	}
	use.Mean3C, uptake.Water = uptake.Mean3C, use.Water
	return use, uptake
}

// best is what would be taken up best after emergence; nil if there is nothing,
// or the weather is not known.
func (c herbicideChoice) best() *herbicideDays {
	var best *herbicideDays
	for _, h := range slices.Concat(c.usable, c.barred) {
		if !math.IsNaN(h.uptake.U) && (best == nil || h.uptake.U > best.uptake.U) {
			best = &h
		}
	}
	return best
}

func (c herbicideChoice) bestUptake() float64 {
	if h := c.best(); h != nil {
		return h.uptake.U
	}
	return math.NaN()
}

// judgeDays is how long it is not judged in the weather of its day.
func (h *herbicideDays) judgeDays() float64 { return float64(h.class.Judging.Value.In(h.meanC)) }

// judgeDays is that of the best of them; NaN where nothing is known.
func (c herbicideChoice) judgeDays() float64 {
	if h := c.best(); h != nil {
		return h.judgeDays()
	}
	return math.NaN()
}

// uptakeLimits are the words for what holds uptake down most.
var uptakeLimits = []string{"nothing", "cool weather", "heat", "little light", "dry soil"}

// uptakeLimit is what holds the best of them down most; "" where nothing is
// known.
func (c herbicideChoice) uptakeLimit() string {
	h := c.best()
	if h == nil {
		return ""
	}
	u := h.uptake
	switch least := min(u.FT, u.FL, u.FW); {
	case quantity.Tenths(least) >= 0.9:
		return uptakeLimits[0]
	case least == u.FT && h.meanC < h.class.UsefulFrom.Value:
		return uptakeLimits[1]
	case least == u.FT:
		return uptakeLimits[2]
	case least == u.FL:
		return uptakeLimits[3]
	}
	return uptakeLimits[4]
}

// gateOf is the gate to which a bar belongs.
func gateOf(b herbicide.Bar) string {
	switch b {
	case herbicide.BarHeat, herbicide.BarDrought:
		return "heat"
	case herbicide.BarCold, herbicide.BarCoolSoil, herbicide.BarFrost:
		return "cold"
	case herbicide.BarRepeat, herbicide.BarUnjudged, herbicide.BarYearly:
		return "overlap"
	case herbicide.BarRain, herbicide.BarNoHours, herbicide.BarMowing, herbicide.BarNoWeather:
		return "spray"
	}
	return "tolerance"
}

// herbicideGate lets nothing through that the grass would not bear, that heat
// or cold forbids, or that was used too lately. What is left goes with the
// advice, by active ingredient and group.
func (in *Input) herbicideGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Herbicide) || d.Pest == nil || d.Pest.Weed == nil {
		return nil, nil
	}
	said := func(id string) message.Message {
		return message.New(id).Name("grass", in.Grass.Name).Name("pest", d.Pest.Name())
	}
	c := in.herbicides(d.Pest)
	if len(c.usable) == 0 && len(c.barred) == 0 {
		return &gated{gate: "tolerance", verdict: Skip, say: said("gate.tolerance.say"), reasons: []message.Message{said("gate.tolerance.none_listed")}}, nil
	}
	var barred []message.Message
	for _, h := range c.barred {
		for _, f := range h.found {
			if f.Bar.Holds() {
				barred = append(barred, in.bar(h, f))
				break
			}
		}
	}
	barred = once(barred)
	if len(c.usable) == 0 {
		for _, f := range c.barred[0].found {
			if !f.Bar.Holds() {
				continue
			}
			g := &gated{gate: gateOf(f.Bar), verdict: Wait, reasons: barred}
			if g.gate == "tolerance" {
				g.verdict = Skip
			}
			g.say = said("gate." + g.gate + ".say")
			if i := slices.IndexFunc(c.barred, func(h herbicideDays) bool { return h.class != nil }); g.gate == "cold" && !c.before && i >= 0 {
				h := c.barred[i]
				g.reasons = append(g.reasons, message.New("herbicide.already").DayCount("days", int(math.Ceil(h.judgeDays()))))
			}
			return g, nil
		}
	}
	conditions := append([]message.Message{message.Just(in.culture(d.Pest))}, in.options(c)...)
	conditions = append(conditions, c.rest.Says()...)
	for _, r := range barred {
		conditions = append(conditions, message.New("herbicide.not_this_week").Said("why", r))
	}
	if c.before {
		conditions = append(conditions, message.New("herbicide.if_grown"))
		for _, text := range []string{d.Pest.Weed.WaterInSays, d.Pest.Weed.OverseedSays} {
			if text != "" {
				conditions = append(conditions, message.Plain(text))
			}
		}
	}
	if !c.before {
		conditions = append(conditions, message.New("herbicide.if_grown_and_unmown"))
	}
	conditions = append(conditions, in.barredAtPlace(d.Pest, c)...)
	if text := d.Pest.Weed.AfterwardSays; text != "" {
		conditions = append(conditions, message.Plain(text))
	}
	return nil, conditions
}

// barredAtPlace says what the last look at the weed told of its lawn that speaks
// against what is offered there.
func (in *Input) barredAtPlace(p *Pest, c herbicideChoice) []message.Message {
	if in.lawn == nil {
		return nil
	}
	log := in.look().Log(p.ID())
	r, _ := log.Standing(in.IssueDate)
	if r == nil {
		return nil
	}
	var out []message.Message
	for _, h := range c.usable {
		use := herbicide.Use{Ingredient: h.Ingredient, PreEmergence: c.before, Grass: in.Grass, Date: h.days[0], Mown: r.Mown, Seeded: r.Seeded}
		for _, f := range in.Pests.Herbicides.JudgeLawn(use) {
			id := "herbicide.at_place"
			if r.Place == "" {
				id = "herbicide.at_lawn"
			}
			out = append(out, message.New(id).Name("place", r.Place).Said("why", in.bar(h, f)))
		}
	}
	return once(out)
}

// options says what may be used, those together that act alike: by group,
// days and uptake.
func (in *Input) options(c herbicideChoice) []message.Message {
	type alike struct {
		herbicideDays
		names []message.Value
		notes []message.Message
	}
	var groups []alike
	care := false
	for _, h := range c.usable {
		g := Gather(&groups, alike{herbicideDays: h}, func(a, b alike) bool {
			return a.Ingredient.HRAC == b.Ingredient.HRAC && a.class == b.class && slices.Equal(a.days, b.days) && slices.Equal(a.windows, b.windows)
		})
		name := c.rest.Named(h.Name)
		for _, f := range h.found {
			if f.Bar == herbicide.BarCareful {
				name, care = message.Of(message.New("herbicide.with_care").With("name", name)), true
			} else {
				g.notes = append(g.notes, in.bar(h, f))
			}
		}
		g.names = append(g.names, name)
	}
	var out []message.Message
	for _, g := range groups {
		hrac := g.Ingredient.HRAC
		id := "herbicide.option"
		if hrac == noGroup {
			id = "herbicide.option_no_group"
		}
		option := message.New(id).With("names", message.List(message.Comma, g.names...)).Name("hrac", hrac).With("days", in.times(g.herbicideDays))
		out = append(out, message.Just(message.Messages(message.Sentences, slices.Concat([]message.Message{option}, uptakeSays(g.herbicideDays), once(g.notes))...)))
	}
	if care {
		out = append(out, message.New("herbicide.care"))
	}
	if slices.ContainsFunc(c.usable, func(h herbicideDays) bool { return uptakeSays(h) != nil }) {
		out = append(out, message.New("herbicide.shade"))
	}
	return out
}

// noGroup is how the committee writes "not classified".
const noGroup = "0"

// bar says one finding.
func (in *Input) bar(h herbicideDays, f herbicide.Finding) message.Message {
	shown := func(x float64) message.Value {
		switch f.Bar {
		case herbicide.BarHeat, herbicide.BarCold, herbicide.BarCoolSoil, herbicide.BarFrost:
			return message.Both(x, quantity.Temperature, 0, 0)
		case herbicide.BarRain:
			return message.Both(x, quantity.Depth, 1, 0)
		case herbicide.BarDrought, herbicide.BarThirst:
			return message.Share(x)
		}
		return message.Number(x, 0)
	}
	m := message.New(phrase("bar", f.Bar))
	if f.Bar != herbicide.BarUnjudged { // it bars all alike
		m = m.Name("name", h.Name)
	}
	return m.Name("grass", in.Grass.Name).
		With("value", shown(f.Value)).With("limit", shown(f.Limit)).WeekDay("until", f.Until)
}

// uptakeSays says whether it will work this week, when it shows, and when not
// to spray again.
func uptakeSays(h herbicideDays) []message.Message {
	if h.class == nil || h.uptake.Grade == herbicide.UptakeUnknown {
		return nil
	}
	out := []message.Message{message.New("herbicide.uptake_"+string(h.uptake.Grade)).With("index", message.Number(h.uptake.U, 0))}
	days := func(n float64) int { return int(math.Ceil(n)) }
	if h.class.Symptoms.Value != (pest.DayRange{}) {
		out = append(out, message.New("herbicide.symptoms").DayCount("days", days(h.uptake.SymptomDays(h.class.Symptoms.Value.Mid()))))
	}
	if again := max(h.class.NoResprayDays(0, h.uptake), h.judgeDays()); again > 0 {
		out = append(out, message.New("herbicide.no_respray").DayCount("days", days(again)))
	}
	return out
}

// times are the fit hours of what may be used, or its days where hours are not
// known.
func (in *Input) times(h herbicideDays) message.Value {
	if h.windows == nil {
		return in.days(h.days)
	}
	var parts []message.Message
	for _, w := range bestOf(h.windows) {
		parts = append(parts, message.New("herbicide.hours_"+string(w.Grade)).WeekDay("day", w.Date).With("from", message.Clock(w.From*60)).With("to", message.Clock(w.To*60)))
	}
	return message.Messages(message.Semicolon, parts...)
}

// days are days of the week, each run of them by itself.
func (in *Input) days(days []civil.Date) message.Value {
	if len(days) == int(in.Week.Sunday()-in.firstDay())+1 {
		return allWeek
	}
	var parts []message.Value
	for len(days) > 0 {
		n := 1
		for n < len(days) && days[n] == days[n-1]+1 {
			n++
		}
		parts = append(parts, message.Days(days[:n]))
		days = days[n:]
	}
	return message.List(message.Comma, parts...)
}

var allWeek = message.Word("days.all_week")

// overlapSeedGate keeps seed off ground that a logged pre-emergent still bars.
func (in *Input) overlapSeedGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Seed) || in.Pests == nil {
		return nil, nil
	}
	for _, t := range slices.Backward(in.log()) {
		if !in.mine(t.Grass) {
			continue
		}
		if _, isWeed := in.Pests.Weed(t.Target); !isWeed {
			continue
		}
		// Of the group's ingredients the one that bars longest counts: the log
		// knows only the group.
		until, asked := t.Date, false
		for i := range in.Pests.Herbicides.Ingredients {
			h := &in.Pests.Herbicides.Ingredients[i]
			if !h.Pre || !slices.Contains(t.Groups, h.HRAC) {
				continue
			}
			first, known := h.SeedFrom(t.Date, false)
			asked = asked || !known && t.Date.AddDays(barDays) > in.IssueDate
			until = max(until, first)
		}
		switch {
		case until > in.IssueDate:
			return stopped("overlap", Wait, "seed", func(m message.Message) message.Message { return m.WeekDay("used", t.Date).WeekDay("until", until) })
		case asked:
			return stopped("overlap", Wait, "seed_label", func(m message.Message) message.Message { return m.WeekDay("used", t.Date) })
		}
	}
	return nil, nil
}

// barDays is how long a pre-emergent of which no interval is known is taken to
// bar seed. Own design: the longest label interval met is about a year.
const barDays = 365
