package disease

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/quantity"
)

// Read reads the disease file of the id, over what diseases say alike. All mistakes
// go to the table's list; what is returned then is not for use. That publications and grasses exist
// is for the caller to see, from Cites and Grasses.
func Read(id string, t *diag.Table, defaults *diag.Table) *Disease {
	if !diag.IsID(id) {
		t.Errorf("", "name it with lower-case words joined by hyphens", "the file's name %q is not an id", id)
	}
	r := &reader{file: pest.File{Table: t, Defaults: defaults.Table("disease", false)}, d: &Disease{ID: id, Cap: pest.Act}}
	d := r.d
	d.Name, d.Also, d.Pathogen = t.Text("name"), t.Texts("also", false), t.Text("pathogen")
	d.About = r.saying("about", t)
	r.table(t, "hosts", func(f *pest.Figures) { d.Hosts = pest.ReadHosts(f) })
	d.Range = pest.ReadRange(&r.file)
	r.table(t, "model", r.model)
	for _, w := range t.Tables("window") {
		r.window(w)
	}
	r.usual(t, "grading", r.grading)
	r.table(t, "nitrogen", func(f *pest.Figures) {
		f.Holds("effect")
		d.Nitrogen = pest.Cite(f, "effect", NitrogenEffect(f.One("effect", string(NitrogenFeeds), string(NitrogenHunger), string(NitrogenNeutral))))
	})
	r.table(t, "placement", r.placement)
	r.table(t, "treatment", r.treatment)
	r.usual(t, "rotation", r.rotation)
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
	d.Cites = r.file.Cites
	return d
}

// reader fills a disease from its file.
type reader struct {
	file pest.File
	d    *Disease
}

func (r *reader) table(t *diag.Table, name string, read func(*pest.Figures)) {
	if sub := t.Table(name, true); sub != nil && r.like(name, sub) {
		r.file.Figures(name, sub, read)
	}
}

// usual reads a table that lies over the same default in every file.
func (r *reader) usual(t *diag.Table, name string, read func(*pest.Figures)) {
	if sub := t.TableOver(name, r.file.Default(name, "")); sub != nil {
		r.file.Figures(name, sub, read)
	}
}

// like lays a table over the default that it names, where there are several; it is
// [pest.File.Like].
func (r *reader) like(name string, t *diag.Table) bool {
	switch name {
	case "hosts", "placement", "treatment", "injury", "water":
		return r.file.Like(name, t)
	}
	return true
}

func (r *reader) saying(name string, t *diag.Table) Saying {
	sub := t.Table(name, true)
	if sub == nil || !r.like(name, sub) {
		return Saying{}
	}
	return r.say(name, sub)
}

func (r *reader) say(name string, t *diag.Table) Saying {
	s := Saying{Text: strings.TrimSpace(t.Text("say")), Cite: r.file.Said(name, t)}
	if strings.HasPrefix(name, "culture") {
		s.Uses = t.Words("uses", false, "nitrogen")
	}
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

// term notes a figure of the weather model, and returns its value.
func (r *reader) term(key string, f pest.Figure) float64 {
	r.d.Model.Terms = append(r.d.Model.Terms, Term{key, f})
	return f.Value
}

// remark reads a flag that pages tell of.
func (r *reader) remark(f *pest.Figures, key string) bool {
	on := f.Flag(key).Value
	if on {
		r.d.Model.Remarks = append(r.d.Model.Remarks, key)
	}
	return on
}

// knees reads the four temperatures of a trapezoid.
func (r *reader) knees(f *pest.Figures, key string) (out [4]float64) {
	cite := f.CiteOf(key)
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
		r.term(key+"_"+strconv.Itoa(i+1), pest.Figure{Value: x, Of: quantity.Temperature, Cite: cite})
	}
	return out
}

func (r *reader) model(f *pest.Figures) {
	m := &r.d.Model
	m.Cite = f.Cite
	need := func(key string, d quantity.Dimension, least, most float64) float64 {
		return r.term(key, f.Need(key, d, least, most))
	}
	number := func(key string, least, most float64) float64 { return r.term(key, f.Between(key, least, most, true)) }
	share := func(key string) float64 { return r.term(key, f.Share(key)) }
	m.Name = f.One("name", modelNames()...)
	switch m.Name {
	case ModelDollarSpot:
		m.daily = &dollarSpotModel{hotC: need("slow_above", quantity.Temperature, 20, 45),
			hotDays: int(number("slow_days", 1, dollarSpotDays)), hotFactor: share("slow_to")}
	case ModelBrownPatch:
		b := &brownPatchModel{from: number("risk_from", -10, 10), full: number("risk_full", -10, 20),
			soilC: need("soil_from", quantity.Temperature, 0, 30), nightC: need("nights_from", quantity.Temperature, 0, 30),
			warmNightC: need("nights_full", quantity.Temperature, 0, 35), cooling: share("share_cooling"), allowance: number("allowance", 0, 2)}
		if b.full <= b.from {
			f.Errorf("risk_full", "it has to be the greater of the two", "the risk would not rise")
		}
		if b.warmNightC <= b.nightC {
			f.Errorf("nights_full", "it has to be the greater of the two", "the risk would not rise")
		}
		m.daily = b
	case ModelLargePatch:
		m.byState = true
		l := &largePatchModel{soil: r.knees(f, "soil"), fullTo: need("days_to", quantity.Temperature, 10, 40),
			stopsAt: need("days_stop", quantity.Temperature, 10, 45), wetDayMM: need("wet_day", quantity.Depth, 0.1, 50),
			wetSpanMM: need("wet_span", quantity.Depth, 1, 100), damp: share("damp"), dry: share("dry")}
		if l.stopsAt <= l.fullTo {
			f.Errorf("days_stop", "it has to be the greater of the two", "the risk would not fall")
		}
		m.daily = l
	case ModelGrayLeafSpot:
		m.daily = &grayLeafSpotModel{
			nightFromC: need("night_from", quantity.Temperature, 0, 40), nightToC: need("night_to", quantity.Temperature, 0, 45),
			bestFromC: need("best_from", quantity.Temperature, 0, 40), bestToC: need("best_to", quantity.Temperature, 0, 45),
			bestH: need("best_wetness", quantity.Hours, 1, 48), otherH: need("other_wetness", quantity.Hours, 1, 48),
			young: number("young_factor", 1, 3), rainDayMM: need("rain_day", quantity.Depth, 0.1, 50),
			rainDays: int(number("rain_days", 1, grayLeafSpotRainDays)), rainy: share("rainy"), warm: share("warm")}
	case ModelPythium:
		m.daily = &pythiumModel{
			dayC: need("day_above", quantity.Temperature, 20, 45), nightC: need("night_above", quantity.Temperature, 5, 35),
			humidPct: need("humidity", quantity.Percent, 50, 100), wetMM: need("rain", quantity.Depth, 0.1, 50),
			mildDayC: need("mild_day", quantity.Temperature, 20, 45), mildNightC: need("mild_night", quantity.Temperature, 5, 35),
			mildWetMM: need("mild_rain", quantity.Depth, 0.1, 50), wet: share("wet"), warm: share("warm")}
	case ModelWetSpell:
		m.byHost = true
		m.byState = r.remark(f, "needs_slow_growth")
		wet := &wetSpellModel{air: r.knees(f, "air"), highs: r.remark(f, "of_highs"), needH: need("wetness", quantity.Hours, 1, 48),
			rainDayMM: need("rain_day", quantity.Depth, 0.1, 50), rainDays: number("rain_days", 1, pest.WeekDays), warming: 1, cooling: 1}
		for _, x := range [...]struct {
			key string
			to  *float64
		}{{"share_warming", &wet.warming}, {"share_cooling", &wet.cooling}} {
			if f.Has(x.key) {
				m.Remarks, *x.to = append(m.Remarks, x.key), share(x.key)
			}
		}
		m.daily = wet
	case ModelSnowCover:
		m.byHost = true
		m.daily = &snowCoverModel{fromDays: need("from", quantity.Time, 0, 365), fullDays: need("full", quantity.Time, 1, 365)}
	}
}

func (r *reader) window(t *diag.Table) {
	w := SoilWindow{Title: t.Text("title")}
	w.Says.Text = strings.TrimSpace(t.Text("say"))
	r.file.Figures("window", t, func(f *pest.Figures) {
		w.Says.Cite = f.Cite
		w.ID = f.ID("id")
		w.Symptoms = f.OptOne("shows", "symptoms", "nothing") == "symptoms"
		f.Holds("shows")
		w.Rising = f.One("soil", "rising", "falling") == "rising"
		w.Opens = f.Need("opens", quantity.Temperature, -5, 40)
		w.Closes = f.Opt("closes", quantity.Temperature, -5, 40)
		w.Lasts = f.Days("lasts", 200).Value
		f.Holds("after")
		w.After = f.MonthDay("after")
		switch opens, closes := w.Opens.Value, w.Closes.Value; {
		case w.Lasts == 0 && math.IsNaN(closes):
			f.Errorf("closes", "add closes or lasts", "nothing says when it ends")
		case w.Rising && closes <= opens, !w.Rising && closes >= opens:
			f.Errorf("closes", "it has to lie further in the same direction", "it would close before it opens")
		}
	})
	for _, other := range r.d.Windows {
		if other.ID == w.ID && w.ID != "" {
			t.Errorf("id", "give each window its own", "the id %q is used twice", w.ID)
		}
	}
	r.d.Windows = append(r.d.Windows, w)
}

func (r *reader) grading(f *pest.Figures) {
	d := r.d
	share := func(key string) float64 { return f.Share(key).Value }
	l := &d.Limits
	l.Cite = f.Cite
	l.Watch, l.Act = share("watch"), share("act")
	l.LeaveWatch, l.LeaveAct = share("leave_watch"), share("leave_act")
	l.Confirmed, l.CommonHost = share("confirmed"), share("common_host")
	if l.Act <= l.Watch || l.LeaveAct >= l.Act || l.LeaveWatch >= l.Watch {
		f.Errorf(f.Written("act", "watch", "leave_act", "leave_watch"), "act is above watch, and each leave_ is below its own", "the limits are not in order")
	}
	if f.OptOne("cap", "watch", "act") == "watch" {
		d.Cap = pest.Watch
	}
	orZero := func(key string) float64 {
		if x := f.Between(key, 0, 1, false); x.Known() {
			return x.Value
		}
		return 0
	}
	d.Extra = Additions{History: orZero("history"), StandingWater: orZero("standing_water"), YoungStand: orZero("young_stand")}
	d.DormantStops = f.Flag("dormant_stops").Value
	f.Holds("cap")
}

func (r *reader) placement(f *pest.Figures) {
	p := &r.d.Placement
	p.Target = pest.Cite(f, "target", Target(f.One("target", string(TargetLeaf), string(TargetSheath), string(TargetCrown), string(TargetRoot), string(TargetSoil))))
	p.CarrierFrom, p.CarrierTo = sprayVolume(f, "carrier"), sprayVolume(f, "carrier_to")
	if !p.CarrierTo.Known() {
		p.CarrierTo = p.CarrierFrom
	}
	p.WaterIn = f.Opt("water_in", quantity.Depth, 1, 50)
	p.DryLeast, p.DryBetter = f.Opt("dry_least", quantity.Hours, 1, 96), f.Opt("dry_better", quantity.Hours, 1, 96)
	inSoil := p.Target.Value.InSoil()
	if inSoil && (f.Has("dry_least") || f.Has("dry_better")) {
		f.Errorf(f.Written("dry_least", "dry_better", "target"), "leave it out", "what acts in the soil is watered in, not kept dry")
	}
	if p.Target.Value != "" && !inSoil && f.Has("water_in") {
		f.Errorf(f.Written("water_in", "target"), "leave it out", "what acts on leaves and sheaths is not watered in")
	}
}

// sprayVolume reads "2 gal/1000 ft2" or "816 L/ha".
func sprayVolume(f *pest.Figures, key string) pest.Figure {
	out := pest.Figure{Value: math.NaN(), Of: quantity.Depth, Cite: f.CiteOf(key)}
	s := f.OptText(key)
	if s == "" {
		return out
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
		return out
	}
	out.Value = mm
	return out
}

const squareMeterPerHectare = 10000.0

func (r *reader) treatment(f *pest.Figures) {
	t := &r.d.Treatment
	f.Holds("trigger")
	t.Trigger = Trigger(f.One("trigger", string(TriggerArea), string(TriggerSpread), string(TriggerFirst), string(TriggerHistory), string(TriggerNever)))
	t.From, t.Young = f.Opt("from_area", quantity.Percent, 0, 100), f.Opt("young_from_area", quantity.Percent, 0, 100)
	t.OnlyYoung, t.WhileGrows, t.Preventive = f.Flag("only_young"), f.Flag("while_growing"), f.Flag("preventive")
	t.AnyAge = pest.Cite(f, "any_age", f.Texts("any_age", false))
	t.Buffer = f.Need("buffer", quantity.Distance, 0.3, 5)
	t.Interval = f.Days("interval", 120)
	switch {
	case t.Trigger == TriggerArea && !t.From.Known():
		f.Errorf("from_area", `add from_area = "10 %"`, "missing; area is what makes it worth a treatment")
	case t.WhileGrows.Value && t.Preventive.Value:
		f.Errorf(f.Written("preventive", "while_growing"), "choose one", "what is timed to the end of growth cannot ask for growth")
	case t.Interval.Value == 0 && t.Trigger != TriggerNever:
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
	code := t.Text("code")
	if base := r.file.Default("group", code); base != nil {
		t.Over(base)
	}
	r.file.Figures("group", t, func(f *pest.Figures) {
		f.Holds("code")
		var ok bool
		if g.Code, ok = pest.GroupCode(code); code != "" && (!ok || g.Code != code) {
			f.Errorf("code", `write the present FRAC code, as "11" or "M05"`, "%q is not a code", code)
		}
		g.Ingredients = pest.Cite(f, "ingredients", f.Texts("ingredients", true))
		if len(g.Ingredients.Value) == 0 {
			f.Errorf("ingredients", "name the active ingredients", "empty")
		}
		g.Effect = pest.Cite(f, "effect", f.One("effect", "good", "fair", "little", "not rated"))
		g.Resistant = f.Flag("resistant")
		g.Days = f.DayRange("days", 90)
	})
	if slices.ContainsFunc(r.d.Groups, func(o FungicideGroup) bool { return o.Code == g.Code }) {
		t.Errorf("code", "join the two", "group %q stands twice", g.Code)
	}
	r.d.Groups = append(r.d.Groups, g)
}

func (r *reader) injury(t *diag.Table) {
	if !r.like("injury", t) {
		return
	}
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
