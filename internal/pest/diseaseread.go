package pest

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// ReadDisease reads the disease file of the id. All mistakes go to the table's
// list; what is returned then is not for use. That publications and grasses exist
// is for the caller to see, from Cites and Grasses.
func ReadDisease(id string, t *diag.Table) *Disease {
	if !diag.IsID(id) {
		t.Errorf("", "name it with lower-case words joined by hyphens", "the file's name %q is not an id", id)
	}
	r := &diseaseReader{d: &Disease{ID: id, Cap: Act}}
	d := r.d
	d.Name, d.Also, d.Pathogen = t.Text("name"), t.Texts("also", false), t.Text("pathogen")
	d.About = r.saying("about", t).Text
	r.table(t, "hosts", r.hosts)
	r.table(t, "model", r.model)
	for _, w := range t.Tables("window") {
		r.window(w)
	}
	r.table(t, "grading", r.grading)
	r.table(t, "placement", r.placement)
	r.table(t, "treatment", r.treatment)
	r.table(t, "rotation", r.rotation)
	for _, g := range t.Tables("group") {
		r.group(g)
	}
	for _, i := range t.Tables("injury") {
		r.injury(i)
	}
	d.LookFor = r.sayings("look_for", t, true)
	d.LookAlikes = r.sayings("look_alike", t, false)
	d.Culture = r.sayings("culture", t, true)
	d.Worth = r.saying("worth", t)
	d.Water = r.saying("water", t)
	r.whole(t)
	t.Close()
	return d
}

// Grasses returns the ids of the grasses that the file names, in order.
func (d *Disease) Grasses() []string {
	ids := make([]string, 0, len(d.hosts))
	for id := range d.hosts {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// diseaseReader fills a disease from its file.
type diseaseReader struct{ d *Disease }

func (r *diseaseReader) table(t *diag.Table, name string, read func(*figures)) {
	if sub := t.Table(name, true); sub != nil {
		r.d.Cites = append(r.d.Cites, readFigures(name, sub, read)...)
	}
}

func (r *diseaseReader) saying(name string, t *diag.Table) Saying {
	sub := t.Table(name, true)
	if sub == nil {
		return Saying{}
	}
	return r.say(name, sub)
}

func (r *diseaseReader) say(name string, t *diag.Table) Saying {
	s := Saying{Text: strings.TrimSpace(t.Text("say")), Cite: turf.ReadCite(name, t)}
	r.d.Cites = append(r.d.Cites, s.Cite)
	t.Close()
	return s
}

func (r *diseaseReader) sayings(name string, t *diag.Table, required bool) []Saying {
	var out []Saying
	for i, sub := range t.Tables(name) {
		out = append(out, r.say(name+"["+strconv.Itoa(i)+"]", sub))
	}
	if required && len(out) == 0 {
		t.Errorf(name, "add [["+name+"]] with say, source and standing", "missing")
	}
	return out
}

// number reads a plain number within a range; NaN where it is absent or wrong.
func (f *figures) number(key string, least, most float64, required bool) float64 {
	f.keys = append(f.keys, key)
	if required && !f.Has(key) {
		f.Number(key) // records that it is missing
	}
	x, ok := f.OptNumber(key)
	if !ok {
		return math.NaN()
	}
	if x < least || x > most {
		f.Errorf(key, "use "+plain(least)+" to "+plain(most), "%s is out of range", plain(x))
		return math.NaN()
	}
	return x
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func (f *figures) share(key string) float64 { return f.number(key, 0, 1, true) }

// knees reads the four temperatures of a trapezoid.
func (f *figures) knees(key string) (out [4]float64) {
	f.keys = append(f.keys, key)
	words := f.Texts(key, true)
	if f.Has(key) && len(words) != len(out) {
		f.Errorf(key, `write ["10 C", "15 C", "23 C", "30 C"]`, "it takes four temperatures, not %d", len(words))
		return out
	}
	for i, w := range words {
		x, err := quantity.Parse(w, quantity.Temperature)
		if err != nil {
			what, remedy, _ := strings.Cut(err.Error(), "; ")
			f.Errorf(key+"["+strconv.Itoa(i)+"]", remedy, "%s", what)
			return out
		}
		out[i] = x
		if i > 0 && out[i] < out[i-1] {
			f.Errorf(key, "sort them from cold to hot", "the temperatures are not in order")
		}
	}
	return out
}

func (r *diseaseReader) hosts(f *figures) {
	r.d.hosts = map[string]int{}
	any := false
	for _, grass := range f.Keys() {
		if slices.Contains([]string{"source", "standing", "note", "except"}, grass) {
			continue
		}
		f.keys = append(f.keys, grass)
		if !diag.IsID(grass) {
			f.Errorf(grass, "an id is lower-case words joined by hyphens", "%q is not the id of a grass", grass)
		}
		rank := f.Int(grass)
		if rank < NoHost || rank > MainHost {
			f.Errorf(grass, "use 0 (no host), 1 (minor), 2 (common) or 3 (main)", "%d is no rank", rank)
			continue
		}
		r.d.hosts[grass] = rank
		any = any || rank > NoHost
	}
	if !any {
		f.Errorf("", "add the grasses with ranks 0 to 3", "it has no host")
	}
}

func (r *diseaseReader) model(f *figures) {
	m := &r.d.Model
	m.Name = f.One("name", modelNames()...)
	switch m.Name {
	case ModelDollarSpot:
		m.daily = &dollarSpotModel{hotC: f.need("slow_above", quantity.Temperature, 20, 45),
			hotDays: int(f.number("slow_days", 1, dollarSpotDays, true)), hotFactor: f.share("slow_to")}
	case ModelBrownPatch:
		b := &brownPatchModel{from: f.number("risk_from", -10, 10, true), full: f.number("risk_full", -10, 20, true),
			soilC: f.need("soil_from", quantity.Temperature, 0, 30), allowance: f.number("allowance", 0, 2, true)}
		if b.full <= b.from {
			f.Errorf("risk_full", "it has to be the greater of the two", "the risk would not rise")
		}
		m.daily = b
	case ModelLargePatch:
		m.byState = true
		m.daily = &largePatchModel{soil: f.knees("soil"), wetDayMM: f.need("wet_day", quantity.Depth, 0.1, 50),
			wetSpanMM: f.need("wet_span", quantity.Depth, 1, 100), damp: f.share("damp"), dry: f.share("dry")}
	case ModelGrayLeafSpot:
		m.daily = &grayLeafSpotModel{
			nightFromC: f.need("night_from", quantity.Temperature, 0, 40), nightToC: f.need("night_to", quantity.Temperature, 0, 45),
			bestFromC: f.need("best_from", quantity.Temperature, 0, 40), bestToC: f.need("best_to", quantity.Temperature, 0, 45),
			bestH: f.need("best_wetness", quantity.Hours, 1, 48), otherH: f.need("other_wetness", quantity.Hours, 1, 48),
			young: f.number("young_factor", 1, 3, true), rainDayMM: f.need("rain_day", quantity.Depth, 0.1, 50),
			rainDays: int(f.number("rain_days", 1, grayLeafSpotRainDays, true)), rainy: f.share("rainy"), warm: f.share("warm")}
	case ModelPythium:
		m.daily = &pythiumModel{
			dayC: f.need("day_above", quantity.Temperature, 20, 45), nightC: f.need("night_above", quantity.Temperature, 5, 35),
			humidPct: f.need("humidity", quantity.Percent, 50, 100), wetMM: f.need("rain", quantity.Depth, 0.1, 50),
			mildDayC: f.need("mild_day", quantity.Temperature, 20, 45), mildNightC: f.need("mild_night", quantity.Temperature, 5, 35),
			mildWetMM: f.need("mild_rain", quantity.Depth, 0.1, 50), wet: f.share("wet"), warm: f.share("warm")}
	case ModelWetSpell:
		m.byHost = true
		m.slow = f.flag("needs_slow_growth")
		m.daily = &wetSpellModel{air: f.knees("air"), needH: f.need("wetness", quantity.Hours, 1, 48),
			rainDayMM: f.need("rain_day", quantity.Depth, 0.1, 50), rainDays: f.number("rain_days", 1, scoreDays, true)}
	case ModelSnowCover:
		m.byHost = true
		m.daily = &snowCoverModel{fromDays: f.need("from", quantity.Time, 0, 365), fullDays: f.need("full", quantity.Time, 1, 365)}
	}
}

func (r *diseaseReader) window(t *diag.Table) {
	w := SoilWindow{}
	name := "window"
	w.Says.Text = strings.TrimSpace(t.Text("say"))
	cites := readFigures(name, t, func(f *figures) {
		w.ID = f.ID("id")
		w.Rising = f.One("soil", "rising", "falling") == "rising"
		w.OpensC = f.need("opens", quantity.Temperature, -5, 40)
		w.ClosesC = f.opt("closes", quantity.Temperature, -5, 40)
		w.Lasts = f.days("lasts", 200)
		f.keys = append(f.keys, "after")
		w.After = f.MonthDay("after")
		switch {
		case w.Lasts == 0 && math.IsNaN(w.ClosesC):
			f.Errorf("closes", "add closes or lasts", "nothing says when it ends")
		case w.Rising && w.ClosesC <= w.OpensC, !w.Rising && w.ClosesC >= w.OpensC:
			f.Errorf("closes", "it has to lie further in the same direction", "it would close before it opens")
		}
	})
	w.Says.Cite = cites[0]
	for _, other := range r.d.Windows {
		if other.ID == w.ID && w.ID != "" {
			t.Errorf("id", "give each window its own", "the id %q is used twice", w.ID)
		}
	}
	r.d.Cites = append(r.d.Cites, cites...)
	r.d.Windows = append(r.d.Windows, w)
}

func (r *diseaseReader) grading(f *figures) {
	d := r.d
	l := &d.Limits
	l.Watch, l.Act = f.share("watch"), f.share("act")
	l.LeaveWatch, l.LeaveAct = f.share("leave_watch"), f.share("leave_act")
	l.Confirmed, l.CommonHost = f.share("confirmed"), f.share("common_host")
	if l.Act <= l.Watch || l.LeaveAct >= l.Act || l.LeaveWatch >= l.Watch {
		f.Errorf("act", "act is above watch, and each leave_ is below its own", "the limits are not in order")
	}
	if f.OptOne("cap", "watch", "act") == "watch" {
		d.Cap = Watch
	}
	orZero := func(key string) float64 {
		if x := f.number(key, 0, 1, false); !math.IsNaN(x) {
			return x
		}
		return 0
	}
	d.Extra = Additions{History: orZero("history"), StandingWater: orZero("standing_water"), YoungStand: orZero("young_stand")}
	d.DormantStops = f.flag("dormant_stops")
	f.keys = append(f.keys, "cap")
}

func (r *diseaseReader) placement(f *figures) {
	p := &r.d.Placement
	f.keys = append(f.keys, "target")
	p.Target = Target(f.One("target", string(TargetLeaf), string(TargetSheath), string(TargetCrown), string(TargetRoot), string(TargetSoil)))
	p.CarrierFromMM, p.CarrierToMM = f.sprayVolume("carrier"), f.sprayVolume("carrier_to")
	if math.IsNaN(p.CarrierToMM) {
		p.CarrierToMM = p.CarrierFromMM
	}
	p.WaterInMM = f.opt("water_in", quantity.Depth, 1, 50)
	if math.IsNaN(p.WaterInMM) {
		p.WaterInMM = 0
	}
	p.DryLeastH, p.DryBetterH = f.opt("dry_least", quantity.Hours, 1, 96), f.opt("dry_better", quantity.Hours, 1, 96)
	if p.Target.InSoil() && (f.Has("dry_least") || f.Has("dry_better")) {
		f.Errorf("dry_least", "leave it out", "what acts in the soil is watered in, not kept dry")
	}
	if p.Target != "" && !p.Target.InSoil() && f.Has("water_in") {
		f.Errorf("water_in", "leave it out", "what acts on leaves and sheaths is not watered in")
	}
}

// sprayVolume reads "2 gal/1000 ft2" or "816 L/ha", mm; NaN where it is absent.
func (f *figures) sprayVolume(key string) float64 {
	f.keys = append(f.keys, key)
	s := f.OptText(key)
	if s == "" {
		return math.NaN()
	}
	mm := math.NaN()
	if x, ok := strings.CutSuffix(s, " gal/1000 ft2"); ok {
		if v, err := strconv.ParseFloat(x, 64); err == nil {
			mm = SprayDepthMM(v)
		}
	} else if x, ok := strings.CutSuffix(s, " L/ha"); ok {
		if v, err := strconv.ParseFloat(x, 64); err == nil {
			mm = v / squareMeterPerHectare
		}
	}
	if !(mm > 0 && mm < 1) {
		f.Errorf(key, `write it as "2 gal/1000 ft2" or "816 L/ha"`, "%q is no usable spray volume", s)
		return math.NaN()
	}
	return mm
}

const squareMeterPerHectare = 10000.0

func (r *diseaseReader) treatment(f *figures) {
	t := &r.d.Treatment
	f.keys = append(f.keys, "trigger")
	t.Trigger = Trigger(f.One("trigger", string(TriggerArea), string(TriggerSpread), string(TriggerFirst), string(TriggerHistory), string(TriggerNever)))
	t.FromPct, t.YoungPct = f.opt("from_area", quantity.Percent, 0, 100), f.opt("young_from_area", quantity.Percent, 0, 100)
	t.OnlyYoung, t.WhileGrows, t.Preventive = f.flag("only_young"), f.flag("while_growing"), f.flag("preventive")
	t.BufferM = f.need("buffer", quantity.Distance, 0.3, 5)
	t.IntervalDay = f.days("interval", 120)
	switch {
	case t.Trigger == TriggerArea && math.IsNaN(t.FromPct):
		f.Errorf("from_area", `add from_area = "10 %"`, "missing; area is what makes it worth a treatment")
	case t.WhileGrows && t.Preventive:
		f.Errorf("preventive", "choose one", "what is timed to the end of growth cannot ask for growth")
	case t.IntervalDay == 0 && t.Trigger != TriggerNever:
		f.Errorf("interval", `add interval = "14 days"`, "missing")
	}
}

func (r *diseaseReader) rotation(f *figures) {
	rot := &r.d.Rotation
	whole := func(key string, most float64) int {
		x := f.number(key, 0, most, false)
		if math.IsNaN(x) {
			return 0
		}
		if x != math.Trunc(x) {
			f.Errorf(key, "write a whole number", "%s is not whole", plain(x))
		}
		return int(x)
	}
	rot.MostInARow, rot.MostAYear = whole("most_in_a_row", 10), whole("most_a_year", 20)
	rot.TwoGroups = f.flag("two_groups")
}

func (r *diseaseReader) group(t *diag.Table) {
	var g FungicideGroup
	cites := readFigures("group", t, func(f *figures) {
		f.keys = append(f.keys, "code", "ingredients", "effect", "home")
		code := f.Text("code")
		var ok bool
		if g.Code, ok = GroupCode(code); code != "" && (!ok || g.Code != code) {
			f.Errorf("code", `write the present FRAC code, as "11" or "M05"`, "%q is not a code", code)
		}
		g.Ingredients = f.Texts("ingredients", true)
		if len(g.Ingredients) == 0 {
			f.Errorf("ingredients", "name the active ingredients", "empty")
		}
		g.Effect = f.One("effect", "good", "fair", "little", "not rated")
		g.Resistant = f.flag("resistant")
		g.Home = f.One("home", "yes", "no", "unknown")
		days := f.dayRange("days", 90)
		g.DaysFrom, g.DaysTo = days.From, days.To
	})
	g.EffectFrom.Cite = cites[0]
	for _, c := range cites[1:] {
		if c.Section == "group.effect" {
			g.EffectFrom.Cite = c
		}
	}
	g.Note = cites[0].Note
	if slices.ContainsFunc(r.d.Groups, func(o FungicideGroup) bool { return o.Code == g.Code }) {
		t.Errorf("code", "join the two", "group %q stands twice", g.Code)
	}
	r.d.Cites = append(r.d.Cites, cites...)
	r.d.Groups = append(r.d.Groups, g)
}

func (r *diseaseReader) injury(t *diag.Table) {
	i := Injury{Grasses: t.Texts("grasses", false)}
	for k, g := range i.Grasses {
		if !diag.IsID(g) {
			t.Errorf("grasses["+strconv.Itoa(k)+"]", "an id is lower-case words joined by hyphens", "%q is not the id of a grass", g)
		}
	}
	for _, code := range t.Texts("codes", true) {
		c, ok := GroupCode(code)
		if !ok {
			t.Errorf("codes", `write codes as "3" or "M05"`, "%q is not the code of a group", code)
		}
		i.Codes = append(i.Codes, c)
	}
	i.Says = r.say("injury", t)
	r.d.Injury = append(r.d.Injury, i)
}

// whole checks what two tables say together.
func (r *diseaseReader) whole(t *diag.Table) {
	d := r.d
	if d.Model.Name == ModelSoilWindow && len(d.Windows) == 0 {
		t.Errorf("window", "add [[window]]", "missing; the model is a season of the soil")
	}
	if d.Treatment.Trigger == TriggerHistory && len(d.Windows) == 0 && d.Model.Name != ModelSnowCover && d.Model.Name != ModelWetSpell {
		t.Errorf("window", "add [[window]]", "missing; treatment ahead of a season needs one")
	}
	if d.Treatment.Trigger != TriggerNever && d.Treatment.Trigger != "" && len(d.Groups) == 0 {
		t.Errorf("group", "add [[group]]", "missing; a treatment needs groups")
	}
}

// OnRecord reports whether a figure may be printed as one with a source: what
// stands from memory may not.
func OnRecord(c turf.Cite) bool { return c.Standing != "memory" }
