package advice

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// herbicideChoice is what may be used on a weed at its stage in this grass,
// and what may not this week.
type herbicideChoice struct {
	before bool // before the weed comes up
	usable []herbicideDays
	barred []herbicideDays
}

// herbicideDays is one active ingredient over the days of the week that the
// forecast covers.
type herbicideDays struct {
	pest.WeedOption
	days   []civil.Date            // on which nothing holds it back
	found  []pest.HerbicideFinding // on the first of them; else what holds it back, all week long before what does so on the first day
	uptake pest.Uptake             // on that day; of uses after emergence
	meanC  float64                 // of the three days from then on
	class  *pest.HerbicideClass    // nil for what is used before emergence alone
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
	out.before = slices.ContainsFunc(options, func(o pest.WeedOption) bool { return o.Treatment.Before })
	for _, o := range options {
		// Where there still is time to prevent it, that comes first.
		if o.Treatment.Before != out.before {
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

func (in *Input) judgeHerbicide(p *Pest, o pest.WeedOption) herbicideDays {
	h := herbicideDays{WeedOption: o, uptake: pest.Uptake{U: math.NaN()}}
	h.class, _ = in.Pests.Herbicides.Class(o.Ingredient.Class)
	if o.Treatment.Before {
		h.class = nil
	}
	last, thisYear := in.herbicideLog(o.Ingredient)
	for d := max(in.IssueDate, in.Week.Monday()); d <= in.Week.Sunday(); d++ {
		around := in.around(d)
		found := in.Pests.Herbicides.Judge(pest.HerbicideUse{
			Ingredient: o.Ingredient, PreEmergence: o.Treatment.Before, SummerWeed: p.Weed.Summer,
			Grass: in.Grass, State: in.growth(0).RainFed.State, Date: d,
			TmaxC: around.tmaxC, Mean3C: around.meanC, LowestC48h: around.lowest48C, SoilC: around.soilC,
			Water: around.water, RainMM: around.rainMM,
			Last: last, ThisYear: thisYear, Symptoms: math.NaN(),
		})
		holds := slices.ContainsFunc(found, func(f pest.HerbicideFinding) bool { return f.Bar.Holds() })
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
func lasting(found, another []pest.HerbicideFinding) []pest.HerbicideFinding {
	too := func(f pest.HerbicideFinding) bool {
		return f.Bar.Holds() && slices.ContainsFunc(another, func(g pest.HerbicideFinding) bool { return g.Bar == f.Bar })
	}
	out := slices.Clone(found)
	slices.SortStableFunc(out, func(a, b pest.HerbicideFinding) int { return cmp.Compare(truth(too(b)), truth(too(a))) })
	return out
}

// herbicideLog returns the last use on record of the ingredient's group in the
// zone, and how many there were this year.
func (in *Input) herbicideLog(h *pest.Herbicide) (last civil.Date, thisYear int) {
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
	a.rainTakesOffSoon = a.rainMM >= pest.RainTakesOffMM
	return a
}

func (in *Input) lightOn(d civil.Date) float64 {
	i, ok := in.Felt.Index(d)
	if !ok {
		return math.NaN()
	}
	return in.Felt.LightMol[i]
}

func (a around) uptake(summer bool) pest.UptakeInput {
	return pest.UptakeInput{
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
	case least == u.FT && h.meanC < h.class.UsefulFromC:
		return uptakeLimits[1]
	case least == u.FT:
		return uptakeLimits[2]
	case least == u.FL:
		return uptakeLimits[3]
	}
	return uptakeLimits[4]
}

// gateOf is the gate to which a bar belongs.
func gateOf(b pest.HerbicideBar) string {
	switch b {
	case pest.BarHeat, pest.BarDrought:
		return "heat"
	case pest.BarCold, pest.BarCoolSoil, pest.BarFrost:
		return "cold"
	case pest.BarRepeat, pest.BarYearly, pest.BarSeeding:
		return "overlap"
	case pest.BarRain, pest.BarMowing, pest.BarNoWeather:
		return "spray"
	}
	return "tolerance"
}

// bars are all that can hold a herbicide back or go with it, in the order of
// their phrases.
func bars() []pest.HerbicideBar {
	return []pest.HerbicideBar{
		pest.BarIntolerant, pest.BarNotDormant, pest.BarGreenUp, pest.BarHeat, pest.BarCold, pest.BarCoolSoil, pest.BarFrost,
		pest.BarDrought, pest.BarRain, pest.BarYoungTurf, pest.BarRepeat, pest.BarYearly, pest.BarSeeding, pest.BarMowing,
		pest.BarNoWeather, pest.BarCareful, pest.BarNotTold, pest.BarThirst,
	}
}

func barPhrase(b pest.HerbicideBar) string { return "bar." + strings.ReplaceAll(string(b), "-", "_") }

// herbicideGate lets nothing through that the grass would not bear, that heat
// or cold forbids, or that was used too lately. What is left goes with the
// advice, by active ingredient and group.
func (in *Input) herbicideGate(d Draft) (*gated, []Reason) {
	if !usesAny(d, Herbicide) || d.Pest == nil || d.Pest.Weed == nil {
		return nil, nil
	}
	p := in.Phrases
	slots := []string{"grass", in.Grass.Name, "pest", d.Pest.Name()}
	c := in.herbicides(d.Pest)
	if len(c.usable) == 0 && len(c.barred) == 0 {
		return &gated{gate: "tolerance", verdict: Skip, say: p.Say("gate.tolerance.say", slots...), reasons: []Reason{p.Say("gate.tolerance.none_listed", slots...)}}, nil
	}
	var barred []Reason
	for _, h := range c.barred {
		for _, f := range h.found {
			if f.Bar.Holds() {
				why := in.bar(h, f)
				if !slices.Contains(barred, why) {
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
			g.say = p.Say("gate."+g.gate+".say", slots...)
			return g, nil
		}
	}
	conditions := in.options(c)
	for _, r := range barred {
		conditions = append(conditions, p.Say("herbicide.not_this_week", "why", r.Text))
	}
	if c.before {
		for _, text := range []string{d.Pest.Weed.WaterInSays, d.Pest.Weed.OverseedSays} {
			if text != "" {
				conditions = append(conditions, Reason{ID: "herbicide.file", Text: text})
			}
		}
	}
	if text := d.Pest.Weed.AfterwardSays; text != "" {
		conditions = append(conditions, Reason{ID: "herbicide.file", Text: text})
	}
	return nil, conditions
}

// options words what may be used, those together that act alike: by group,
// days and uptake.
func (in *Input) options(c herbicideChoice) []Reason {
	type alike struct {
		herbicideDays
		names, notes []string
	}
	p := in.Phrases
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
		g, name := groups[i], h.Name
		for _, f := range h.found {
			if f.Bar == pest.BarCareful {
				name, care = p.Say("herbicide.with_care", "name", name).Text, true
			} else if note := in.bar(h, f).Text; !slices.Contains(g.notes, note) {
				g.notes = append(g.notes, note)
			}
		}
		g.names = append(g.names, name)
	}
	var out []Reason
	for _, g := range groups {
		hrac := g.Ingredient.HRAC
		r := p.Say("herbicide.option", "names", strings.Join(g.names, ", "), "hrac", hrac, "days", in.days(g.days))
		if hrac == noGroup {
			r = p.Say("herbicide.option_no_group", "names", strings.Join(g.names, ", "), "days", in.days(g.days))
		}
		r.Text = strings.Join(append(append([]string{r.Text}, in.uptakeTexts(g.herbicideDays)...), g.notes...), " ")
		out = append(out, r)
	}
	if care {
		out = append(out, p.Say("herbicide.care"))
	}
	return out
}

// noGroup is how the committee writes "not classified".
const noGroup = "0"

// bar words one finding.
func (in *Input) bar(h herbicideDays, f pest.HerbicideFinding) Reason {
	show := func(x float64) string {
		switch f.Bar {
		case pest.BarHeat, pest.BarCold, pest.BarCoolSoil, pest.BarFrost:
			return quantity.BothPrec(x, quantity.Temperature, in.Units, 0, 0)
		case pest.BarRain:
			return quantity.BothPrec(x, quantity.Depth, in.Units, 1, 0)
		case pest.BarDrought, pest.BarThirst:
			return quantity.One(100*x, quantity.Percent, in.Units)
		}
		return quantity.Fixed(x, 0)
	}
	value, limit, until := "", "", ""
	if !math.IsNaN(f.Value) {
		value, limit = show(f.Value), show(f.Limit)
	}
	if !f.Until.IsZero() {
		until = weekDate(f.Until)
	}
	return in.Phrases.Say(barPhrase(f.Bar), "name", h.Name, "grass", in.Grass.Name, "value", value, "limit", limit, "until", until)
}

// uptakeTexts say whether it will work this week, when it shows, and when not
// to spray again.
func (in *Input) uptakeTexts(h herbicideDays) []string {
	if h.class == nil || h.uptake.Grade == pest.UptakeUnknown {
		return nil
	}
	p := in.Phrases
	out := []string{p.Say("herbicide.uptake_"+string(h.uptake.Grade), "index", quantity.Fixed(h.uptake.U, 0)).Text}
	days := func(n float64) string { return quantity.One(math.Ceil(n), quantity.Time, in.Units) }
	if h.class.Symptoms != (pest.DayRange{}) {
		out = append(out, p.Say("herbicide.symptoms", "days", days(h.uptake.SymptomDays(h.class.Symptoms.Mid()))).Text)
	}
	if again := h.class.NoResprayDays(0, h.uptake); again > 0 {
		out = append(out, p.Say("herbicide.no_respray", "days", days(again)).Text)
	}
	return out
}

// days words days of the week, each run of them by itself.
func (in *Input) days(days []civil.Date) string {
	if len(days) == int(in.Week.Sunday()-max(in.IssueDate, in.Week.Monday()))+1 {
		return in.Phrases.Word("days.all_week")
	}
	var parts []string
	for len(days) > 0 {
		n := 1
		for n < len(days) && days[n] == days[n-1]+1 {
			n++
		}
		parts = append(parts, dayList(in.Phrases, days[:n]))
		days = days[n:]
	}
	return strings.Join(parts, ", ")
}

// overlapSeedGate keeps seed off ground that a logged pre-emergent still bars.
func (in *Input) overlapSeedGate(d Draft) (*gated, []Reason) {
	if !usesAny(d, Seed) || in.Pests == nil {
		return nil, nil
	}
	p := in.Phrases
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
			return &gated{gate: "overlap", verdict: Wait, say: p.Say("gate.overlap.seed", "until", weekDate(until)), reasons: []Reason{p.Say("gate.overlap.seed_why", "used", weekDate(t.Date), "until", weekDate(until))}}, nil
		case asked:
			return &gated{gate: "overlap", verdict: Wait, say: p.Say("gate.overlap.seed_label"), reasons: []Reason{p.Say("gate.overlap.seed_label_why", "used", weekDate(t.Date))}}, nil
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
