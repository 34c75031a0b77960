package advice

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/herbicide"
	"ligule/internal/homeuse"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/spray"
	"ligule/internal/stage"
	"ligule/internal/turf"
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
	days   []civil.Date        // on which nothing holds it back
	found  []herbicide.Finding // on the first of them; else what holds it back, all week long before what does so on the first day
	uptake herbicide.Uptake    // on that day; of uses after emergence
	meanC  float64             // of the three days from then on
	class  *herbicide.Class    // nil for what is used before emergence alone
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
	defer func() {
		if in.chosen == nil {
			in.chosen = map[*Pest]herbicideChoice{}
		}
		in.chosen[p] = out
	}()
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
	return out
}

func (in *Input) judgeHerbicide(p *Pest, o stage.WeedOption) herbicideDays {
	h := herbicideDays{WeedOption: o, uptake: herbicide.Uptake{U: math.NaN()}}
	h.class, _ = in.Pests.Herbicides.Class(o.Ingredient.Class)
	if o.Treatment.Before {
		h.class = nil
	}
	last, thisYear := in.herbicideLog(o.Ingredient)
	for d := max(in.IssueDate, in.Week.Monday()); d <= in.Week.Sunday(); d++ {
		around := in.around(d)
		found := in.Pests.Herbicides.Judge(herbicide.Use{
			Ingredient: o.Ingredient, PreEmergence: o.Treatment.Before, SummerWeed: p.Weed.Summer,
			Grass: in.Grass, State: in.growth(0).RainFed.State, Date: d,
			TmaxC: around.tmaxC, Mean3C: around.meanC, LowestC48h: around.lowest48C, SoilC: around.soilC,
			Water: around.water, RainMM: around.rainMM,
			Last: last, ThisYear: thisYear, Symptoms: math.NaN(),
		})
		holds := slices.ContainsFunc(found, func(f herbicide.Finding) bool { return f.Bar.Holds() })
		switch {
		case holds && len(h.days) > 0:
			continue
		case holds && h.found != nil:
			h.found = lasting(h.found, found)
			continue
		case !holds && len(h.days) > 0:
			h.days = append(h.days, d)
			continue
		case !holds:
			h.days = append(h.days, d)
		}
		h.found = found
		if h.class != nil {
			h.uptake, h.meanC = h.class.UptakeIn(around.uptake(p.Weed.Summer)), around.meanC
		}
	}
	return h
}

// lasting puts first what holds a use back on another day as well.
func lasting(found, another []herbicide.Finding) []herbicide.Finding {
	too := func(f herbicide.Finding) bool {
		return f.Bar.Holds() && slices.ContainsFunc(another, func(g herbicide.Finding) bool { return g.Bar == f.Bar })
	}
	out := slices.Clone(found)
	slices.SortStableFunc(out, func(a, b herbicide.Finding) int { return cmp.Compare(truth(too(b)), truth(too(a))) })
	return out
}

// herbicideLog returns the last use on record of the ingredient's group in the
// zone, and how many there were this year.
func (in *Input) herbicideLog(h *herbicide.Ingredient) (last civil.Date, thisYear int) {
	for _, t := range in.Treatments {
		if !in.mine(t.Grass) || !slices.Contains(t.Groups, h.HRAC) {
			continue
		}
		if _, isWeed := in.Pests.Weed(t.Target); !isWeed {
			continue // "3" is a group of fungicides too
		}
		last = t.Date
		if t.Date.Year() == in.IssueDate.Year() {
			thisYear++
		}
	}
	return last, thisYear
}

// around is the weather around a day of the week ahead; NaN is not known.
type around struct {
	tmaxC            [3]float64 // of the day and the next two
	meanC            float64    // of the three days
	lowestC          float64    // night of the three days
	lowest48C        float64    // of the day and the one before
	soilC            float64    // mean of seven days at 5 cm
	water            float64    // share of the root zone's water that is left
	rainMM           float64    // of the day
	lightMol         float64    // mean of the three days
	rain10MM         float64    // of the ten days before
	rainTakesOffSoon bool
}

func (in *Input) around(d civil.Date) around {
	nan := math.NaN()
	a := around{lowestC: math.Inf(1), lowest48C: nan, soilC: nan, water: nan, rainMM: nan}
	known := func(c weather.Column, on civil.Date) float64 {
		if in.Felt.View.Basis(c, on) == weather.Missing {
			return nan
		}
		return in.Felt.View.Days.At(c, on)
	}
	for i := range a.tmaxC {
		on := d.AddDays(i)
		tmax, tmin := known(weather.TmaxC, on), known(weather.TminC, on)
		a.tmaxC[i] = tmax
		a.meanC += (tmax + tmin) / 2 / 3
		a.lowestC = math.Min(a.lowestC, tmin) // NaN stays
		a.lightMol += in.lightOn(on) / 3
	}
	a.lowest48C = math.Min(known(weather.TminC, d.AddDays(-1)), known(weather.TminC, d))
	if mean, days := in.Felt.Mean(in.Felt.Soil5C, d, weather.WindowDays); days >= weather.WindowValid {
		a.soilC = mean
	}
	if g := in.growth(0).RainFed; g.BalanceOK {
		a.water = 1 - g.DepletionMM/g.TAWMM
	}
	a.rainMM = known(weather.RainMM, d)
	for i := 1; i <= 10; i++ {
		a.rain10MM += known(weather.RainMM, d.AddDays(-i))
	}
	a.rainTakesOffSoon = a.rainMM >= spray.RainTakesOffMM
	return a
}

func (in *Input) lightOn(d civil.Date) float64 {
	i, ok := in.Felt.Index(d)
	if !ok {
		return math.NaN()
	}
	return in.Felt.LightMol[i]
}

func (a around) uptake(summer bool) herbicide.UptakeInput {
	return herbicide.UptakeInput{
		Mean3C: a.meanC, LowestC: a.lowestC, Light3Mol: a.lightMol, Water: a.water, Rain10MM: a.rain10MM,
		SummerWeed: summer, RainSoon: a.rainTakesOffSoon,
	}
}

// best is what would be taken up best after emergence; nil if there is nothing,
// or the weather is not known.
func (c herbicideChoice) best() *herbicideDays {
	var best *herbicideDays
	for _, list := range [][]herbicideDays{c.usable, c.barred} {
		for i := range list {
			if h := &list[i]; !math.IsNaN(h.uptake.U) && (best == nil || h.uptake.U > best.uptake.U) {
				best = h
			}
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
	case herbicide.BarRepeat, herbicide.BarYearly, herbicide.BarSeeding:
		return "overlap"
	case herbicide.BarRain, herbicide.BarMowing, herbicide.BarNoWeather:
		return "spray"
	}
	return "tolerance"
}

func barPhrase(b herbicide.Bar) string { return "bar." + strings.ReplaceAll(string(b), "-", "_") }

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
				why := in.bar(h, f)
				if !message.Contains(barred, why) {
					barred = append(barred, why)
				}
				break
			}
		}
	}
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
			return g, nil
		}
	}
	conditions := append([]message.Message{message.Plain(d.Pest.culture())}, in.options(c)...)
	conditions = append(conditions, c.rest.Says()...)
	for _, r := range barred {
		conditions = append(conditions, message.New("herbicide.not_this_week").Said("why", r))
	}
	if c.before {
		for _, text := range []string{d.Pest.Weed.WaterInSays, d.Pest.Weed.OverseedSays} {
			if text != "" {
				conditions = append(conditions, message.Plain(text))
			}
		}
	}
	if text := d.Pest.Weed.AfterwardSays; text != "" {
		conditions = append(conditions, message.Plain(text))
	}
	return nil, conditions
}

// options says what may be used, those together that act alike: by group,
// days and uptake.
func (in *Input) options(c herbicideChoice) []message.Message {
	type alike struct {
		herbicideDays
		names []message.Value
		notes []message.Message
	}
	var groups []*alike
	care := false
	for _, h := range c.usable {
		i := slices.IndexFunc(groups, func(g *alike) bool {
			return g.Ingredient.HRAC == h.Ingredient.HRAC && g.class == h.class && slices.Equal(g.days, h.days)
		})
		if i < 0 {
			i = len(groups)
			groups = append(groups, &alike{herbicideDays: h})
		}
		g, name := groups[i], c.rest.Named(h.Name)
		for _, f := range h.found {
			if f.Bar == herbicide.BarCareful {
				name, care = message.Of(message.New("herbicide.with_care").With("name", name)), true
			} else if note := in.bar(h, f); !message.Contains(g.notes, note) {
				g.notes = append(g.notes, note)
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
		option := message.New(id).With("names", message.List(message.Comma, g.names...)).Name("hrac", hrac).With("days", in.days(g.days))
		out = append(out, message.Just(message.Messages(message.Sentences, slices.Concat([]message.Message{option}, uptakeSays(g.herbicideDays), g.notes)...)))
	}
	if care {
		out = append(out, message.New("herbicide.care"))
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
	return message.New(barPhrase(f.Bar)).Name("name", h.Name).Name("grass", in.Grass.Name).
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
	if again := h.class.NoResprayDays(0, h.uptake); again > 0 {
		out = append(out, message.New("herbicide.no_respray").DayCount("days", days(again)))
	}
	return out
}

// days are days of the week, each run of them by itself.
func (in *Input) days(days []civil.Date) message.Value {
	if len(days) == int(in.Week.Sunday()-max(in.IssueDate, in.Week.Monday()))+1 {
		return message.Word("days.all_week")
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

// overlapSeedGate keeps seed off ground that a logged pre-emergent still bars.
func (in *Input) overlapSeedGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Seed) || in.Pests == nil {
		return nil, nil
	}
	for _, t := range slices.Backward(in.Treatments) {
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
			return &gated{gate: "overlap", verdict: Wait, say: message.New("gate.overlap.seed").WeekDay("until", until),
				reasons: []message.Message{message.New("gate.overlap.seed_why").WeekDay("used", t.Date).WeekDay("until", until)}}, nil
		case asked:
			return &gated{gate: "overlap", verdict: Wait, say: message.New("gate.overlap.seed_label"), reasons: []message.Message{message.New("gate.overlap.seed_label_why").WeekDay("used", t.Date)}}, nil
		}
	}
	return nil, nil
}

// barDays is how long a pre-emergent of which no interval is known is taken to
// bar seed. Own design: the longest label interval met is about a year.
const barDays = 365

// dormantInDrought reports whether it is lack of water that the grass sleeps
// through.
func dormantInDrought(g turf.Growth) bool {
	return g.State == turf.Dormant && g.DormantWhy == turf.Drought
}
