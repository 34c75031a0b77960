package disease

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Read reads the disease file of the id. All mistakes go to the table's
// list; what is returned then is not for use. That publications and grasses exist
// is for the caller to see, from Cites and Grasses.
func Read(id string, t *diag.Table) *Disease {
	if !diag.IsID(id) {
		t.Errorf("", "name it with lower-case words joined by hyphens", "the file's name %q is not an id", id)
	}
	r := &reader{d: &Disease{ID: id, Cap: pest.Act}}
	d := r.d
	d.Name, d.Also, d.Pathogen = t.Text("name"), t.Texts("also", false), t.Text("pathogen")
	d.About = r.saying("about", t).Text
	r.table(t, "hosts", func(f *pest.Figures) { d.Hosts = pest.ReadHosts(f) })
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

// reader fills a disease from its file.
type reader struct{ d *Disease }

func (r *reader) table(t *diag.Table, name string, read func(*pest.Figures)) {
	if sub := t.Table(name, true); sub != nil {
		r.d.Cites = append(r.d.Cites, pest.ReadFigures(name, sub, read)...)
	}
}

func (r *reader) saying(name string, t *diag.Table) Saying {
	sub := t.Table(name, true)
	if sub == nil {
		return Saying{}
	}
	return r.say(name, sub)
}

func (r *reader) say(name string, t *diag.Table) Saying {
	s := Saying{Text: strings.TrimSpace(t.Text("say")), Cite: turf.ReadCite(name, t)}
	r.d.Cites = append(r.d.Cites, s.Cite)
	t.Close()
	return s
}

func (r *reader) sayings(name string, t *diag.Table, required bool) []Saying {
	var out []Saying
	for i, sub := range t.Tables(name) {
		out = append(out, r.say(name+"["+strconv.Itoa(i)+"]", sub))
	}
	if required && len(out) == 0 {
		t.Errorf(name, "add [["+name+"]] with say, source and standing", "missing")
	}
	return out
}

// knees reads the four temperatures of a trapezoid.
func knees(f *pest.Figures, key string) (out [4]float64) {
	f.Cited(key)
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

func (r *reader) model(f *pest.Figures) {
	m := &r.d.Model
	m.Name = f.One("name", modelNames()...)
	switch m.Name {
	case ModelDollarSpot:
		m.daily = &dollarSpotModel{hotC: f.Need("slow_above", quantity.Temperature, 20, 45),
			hotDays: int(f.Between("slow_days", 1, dollarSpotDays, true)), hotFactor: f.Share("slow_to")}
	case ModelBrownPatch:
		b := &brownPatchModel{from: f.Between("risk_from", -10, 10, true), full: f.Between("risk_full", -10, 20, true),
			soilC: f.Need("soil_from", quantity.Temperature, 0, 30), allowance: f.Between("allowance", 0, 2, true)}
		if b.full <= b.from {
			f.Errorf("risk_full", "it has to be the greater of the two", "the risk would not rise")
		}
		m.daily = b
	case ModelLargePatch:
		m.byState = true
		m.daily = &largePatchModel{soil: knees(f, "soil"), wetDayMM: f.Need("wet_day", quantity.Depth, 0.1, 50),
			wetSpanMM: f.Need("wet_span", quantity.Depth, 1, 100), damp: f.Share("damp"), dry: f.Share("dry")}
	case ModelGrayLeafSpot:
		m.daily = &grayLeafSpotModel{
			nightFromC: f.Need("night_from", quantity.Temperature, 0, 40), nightToC: f.Need("night_to", quantity.Temperature, 0, 45),
			bestFromC: f.Need("best_from", quantity.Temperature, 0, 40), bestToC: f.Need("best_to", quantity.Temperature, 0, 45),
			bestH: f.Need("best_wetness", quantity.Hours, 1, 48), otherH: f.Need("other_wetness", quantity.Hours, 1, 48),
			young: f.Between("young_factor", 1, 3, true), rainDayMM: f.Need("rain_day", quantity.Depth, 0.1, 50),
			rainDays: int(f.Between("rain_days", 1, grayLeafSpotRainDays, true)), rainy: f.Share("rainy"), warm: f.Share("warm")}
	case ModelPythium:
		m.daily = &pythiumModel{
			dayC: f.Need("day_above", quantity.Temperature, 20, 45), nightC: f.Need("night_above", quantity.Temperature, 5, 35),
			humidPct: f.Need("humidity", quantity.Percent, 50, 100), wetMM: f.Need("rain", quantity.Depth, 0.1, 50),
			mildDayC: f.Need("mild_day", quantity.Temperature, 20, 45), mildNightC: f.Need("mild_night", quantity.Temperature, 5, 35),
			mildWetMM: f.Need("mild_rain", quantity.Depth, 0.1, 50), wet: f.Share("wet"), warm: f.Share("warm")}
	case ModelWetSpell:
		m.byHost = true
		m.slow = f.Flag("needs_slow_growth")
		m.daily = &wetSpellModel{air: knees(f, "air"), needH: f.Need("wetness", quantity.Hours, 1, 48),
			rainDayMM: f.Need("rain_day", quantity.Depth, 0.1, 50), rainDays: f.Between("rain_days", 1, pest.WeekDays, true)}
	case ModelSnowCover:
		m.byHost = true
		m.daily = &snowCoverModel{fromDays: f.Need("from", quantity.Time, 0, 365), fullDays: f.Need("full", quantity.Time, 1, 365)}
	}
}

func (r *reader) window(t *diag.Table) {
	w := SoilWindow{}
	name := "window"
	w.Says.Text = strings.TrimSpace(t.Text("say"))
	cites := pest.ReadFigures(name, t, func(f *pest.Figures) {
		w.ID = f.ID("id")
		w.Rising = f.One("soil", "rising", "falling") == "rising"
		w.OpensC = f.Need("opens", quantity.Temperature, -5, 40)
		w.ClosesC = f.Opt("closes", quantity.Temperature, -5, 40)
		w.Lasts = f.Days("lasts", 200)
		f.Cited("after")
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

func (r *reader) grading(f *pest.Figures) {
	d := r.d
	l := &d.Limits
	l.Watch, l.Act = f.Share("watch"), f.Share("act")
	l.LeaveWatch, l.LeaveAct = f.Share("leave_watch"), f.Share("leave_act")
	l.Confirmed, l.CommonHost = f.Share("confirmed"), f.Share("common_host")
	if l.Act <= l.Watch || l.LeaveAct >= l.Act || l.LeaveWatch >= l.Watch {
		f.Errorf("act", "act is above watch, and each leave_ is below its own", "the limits are not in order")
	}
	if f.OptOne("cap", "watch", "act") == "watch" {
		d.Cap = pest.Watch
	}
	orZero := func(key string) float64 {
		if x := f.Between(key, 0, 1, false); !math.IsNaN(x) {
			return x
		}
		return 0
	}
	d.Extra = Additions{History: orZero("history"), StandingWater: orZero("standing_water"), YoungStand: orZero("young_stand")}
	d.DormantStops = f.Flag("dormant_stops")
	f.Cited("cap")
}

func (r *reader) placement(f *pest.Figures) {
	p := &r.d.Placement
	f.Cited("target")
	p.Target = Target(f.One("target", string(TargetLeaf), string(TargetSheath), string(TargetCrown), string(TargetRoot), string(TargetSoil)))
	p.CarrierFromMM, p.CarrierToMM = sprayVolume(f, "carrier"), sprayVolume(f, "carrier_to")
	if math.IsNaN(p.CarrierToMM) {
		p.CarrierToMM = p.CarrierFromMM
	}
	p.WaterInMM = f.Opt("water_in", quantity.Depth, 1, 50)
	if math.IsNaN(p.WaterInMM) {
		p.WaterInMM = 0
	}
	p.DryLeastH, p.DryBetterH = f.Opt("dry_least", quantity.Hours, 1, 96), f.Opt("dry_better", quantity.Hours, 1, 96)
	if p.Target.InSoil() && (f.Has("dry_least") || f.Has("dry_better")) {
		f.Errorf("dry_least", "leave it out", "what acts in the soil is watered in, not kept dry")
	}
	if p.Target != "" && !p.Target.InSoil() && f.Has("water_in") {
		f.Errorf("water_in", "leave it out", "what acts on leaves and sheaths is not watered in")
	}
}

// sprayVolume reads "2 gal/1000 ft2" or "816 L/ha", mm; NaN where it is absent.
func sprayVolume(f *pest.Figures, key string) float64 {
	f.Cited(key)
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

func (r *reader) treatment(f *pest.Figures) {
	t := &r.d.Treatment
	f.Cited("trigger")
	t.Trigger = Trigger(f.One("trigger", string(TriggerArea), string(TriggerSpread), string(TriggerFirst), string(TriggerHistory), string(TriggerNever)))
	t.FromPct, t.YoungPct = f.Opt("from_area", quantity.Percent, 0, 100), f.Opt("young_from_area", quantity.Percent, 0, 100)
	t.OnlyYoung, t.WhileGrows, t.Preventive = f.Flag("only_young"), f.Flag("while_growing"), f.Flag("preventive")
	t.BufferM = f.Need("buffer", quantity.Distance, 0.3, 5)
	t.IntervalDay = f.Days("interval", 120)
	switch {
	case t.Trigger == TriggerArea && math.IsNaN(t.FromPct):
		f.Errorf("from_area", `add from_area = "10 %"`, "missing; area is what makes it worth a treatment")
	case t.WhileGrows && t.Preventive:
		f.Errorf("preventive", "choose one", "what is timed to the end of growth cannot ask for growth")
	case t.IntervalDay == 0 && t.Trigger != TriggerNever:
		f.Errorf("interval", `add interval = "14 days"`, "missing")
	}
}

func (r *reader) rotation(f *pest.Figures) {
	rot := &r.d.Rotation
	rot.MostInARow, rot.MostAYear = f.Whole("most_in_a_row", 10), f.Whole("most_a_year", 20)
	rot.TwoGroups = f.Flag("two_groups")
}

func (r *reader) group(t *diag.Table) {
	var g FungicideGroup
	cites := pest.ReadFigures("group", t, func(f *pest.Figures) {
		f.Cited("code", "ingredients", "effect", "home")
		code := f.Text("code")
		var ok bool
		if g.Code, ok = pest.GroupCode(code); code != "" && (!ok || g.Code != code) {
			f.Errorf("code", `write the present FRAC code, as "11" or "M05"`, "%q is not a code", code)
		}
		g.Ingredients = f.Texts("ingredients", true)
		if len(g.Ingredients) == 0 {
			f.Errorf("ingredients", "name the active ingredients", "empty")
		}
		g.Effect = f.One("effect", "good", "fair", "little", "not rated")
		g.Resistant = f.Flag("resistant")
		g.Home = f.One("home", "yes", "no", "unknown")
		days := f.DayRange("days", 90)
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

func (r *reader) injury(t *diag.Table) {
	i := Injury{Grasses: t.Texts("grasses", false)}
	for k, g := range i.Grasses {
		if !diag.IsID(g) {
			t.Errorf("grasses["+strconv.Itoa(k)+"]", "an id is lower-case words joined by hyphens", "%q is not the id of a grass", g)
		}
	}
	for _, code := range t.Texts("codes", true) {
		c, ok := pest.GroupCode(code)
		if !ok {
			t.Errorf("codes", `write codes as "3" or "M05"`, "%q is not the code of a group", code)
		}
		i.Codes = append(i.Codes, c)
	}
	i.Says = r.say("injury", t)
	r.d.Injury = append(r.d.Injury, i)
}

// whole checks what two tables say together.
func (r *reader) whole(t *diag.Table) {
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
