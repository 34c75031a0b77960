package law

import (
	"math"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// ReadHeader reads what records of every kind have, the title and the address of
// the source apart.
func ReadHeader(t *diag.Table) Header {
	h := Header{Where: t.Where()}
	if schema := t.Int("schema"); t.Has("schema") && schema != 1 {
		t.Errorf("schema", "write schema = 1", "only schema 1 is known")
	}
	h.ID = t.ID("id")
	h.Fictional = t.Bool("fictional")
	h.Jurisdiction = t.ID("jurisdiction")
	h.AppliesIn = t.One("applies_in", "all", "unincorporated", "municipal_limits", "district_bounds")
	if h.TZ = t.Text("tz"); h.TZ != "" {
		if _, err := TimeZone(h.TZ); err != nil {
			t.Errorf("tz", `write a zone such as "America/New_York"`, "%v", err)
		}
	}
	h.Citation = t.Text("citation")
	h.EffectiveFrom = t.Date("effective_from")
	h.EffectiveTo, _ = t.OptDate("effective_to")
	h.Verification = Verification(t.One("verification", words(Verifications())...))
	h.CheckedOn = t.Date("checked_on")
	h.ReviewMonths = months(t, "review_months", 12)
	return h
}

// ReadRecord reads a record strictly. Every mistake, unknown keys included,
// is recorded with its position in the table's list; the record returned is
// never nil and holds what could be read.
func ReadRecord(t *diag.Table) *Record {
	r := &Record{Header: ReadHeader(t)}
	r.JurisdictionName = t.Text("jurisdiction_name")
	r.Level = t.One("level", levels()...)
	r.Parent = t.OptText("parent")
	if r.Parent != "" && !diag.IsID(r.Parent) {
		t.Errorf("parent", `write the id of a jurisdiction, or ""`, "%q is not an id", r.Parent)
	}
	r.Title = t.Text("title")
	r.SourceURL = WebAddress(t, "source_url")
	r.SourceKind = t.One("source_kind", sourceKinds()...)
	r.AdoptedOn, _ = t.OptDate("adopted_on")
	r.Status = Status(t.One("status", words(statuses())...))
	r.SupersededBy = t.OptText("superseded_by")
	r.LapseConfirmed = t.Bool("lapse_confirmed")
	t.Text("checked_by")
	r.RelationDown = Relation(t.OptOne("relation_down", words(relations())...))
	r.PreemptTopics = t.Words("preempt_topics", false, allTopics()...)
	if r.RelationDown == Preempts && len(r.PreemptTopics) == 0 {
		t.Errorf("preempt_topics", `list the topics, such as ["window", "rate"]`, "a law that preempts must say which topics")
	}
	r.GrandfatherBefore, _ = t.OptDate("grandfather_before")
	r.Enforcement = t.OptText("enforcement")
	r.Penalty = t.OptText("penalty")
	if d := t.Table("definitions", true); d != nil {
		r.Definitions = Definitions{
			NThresholdPct:    value(d, "n_threshold_pct", 0, 100),
			P2O5ThresholdPct: value(d, "p2o5_threshold_pct", 0, 100),
			NotFertilizer:    d.Words("not_fertilizer", true, classes()...),
		}
		d.Close()
	}
	for _, d := range t.Tables("declarations") {
		r.Declarations = append(r.Declarations, readDeclaration(d))
	}
	rules := t.Tables("rules")
	if len(rules) == 0 {
		t.Errorf("rules", "add [[rules]]", "a record without rules says nothing")
	}
	for _, x := range rules {
		r.Rules = append(r.Rules, readRule(x))
	}
	if r.OnPesticides() && slices.ContainsFunc(r.Rules, func(r Rule) bool { return r.Topic != pesticideTopic }) {
		t.Errorf("rules", "write two records", "rules on pesticides and on fertilizer in one record: each would seem looked up where only the other was")
	}
	t.Close()
	return r
}

func readDeclaration(t *diag.Table) Declaration {
	d := Declaration{Pos: t.Pos("")}
	d.Name = t.Text("name")
	d.From = t.Date("from")
	d.To, _ = t.OptDate("to")
	d.AssumeUntil, _ = t.OptDate("assume_until")
	d.Citation = t.Text("citation")
	end, key := d.To, "to"
	switch {
	case t.Has("to") && t.Has("assume_until"):
		t.Errorf("assume_until", "keep to if the order ends, else assume_until", "an order with an end needs no assume_until")
	case !t.Has("to") && !t.Has("assume_until"):
		t.Errorf("to", "add to, or assume_until for an order without an end", "an order must say until when it is on")
	case t.Has("assume_until"):
		end, key = d.AssumeUntil, "assume_until"
	}
	if !end.IsZero() && end < d.From {
		t.Errorf(key, "put it on or after "+d.From.String(), "%s is before the order begins", end)
	}
	t.Close()
	return d
}

func readRule(t *diag.Table) Rule {
	r := Rule{Where: t.Where()}
	r.ID = t.ID("id")
	r.Citation = t.Text("citation")
	r.AsWritten = t.OptText("as_written")
	r.Topic = t.One("topic", allTopics()...)
	r.Effect = Effect(t.One("effect", words(effects())...))
	r.Targets = t.Words("targets", true, targets()...)
	some(t, "targets", r.Targets)
	for _, w := range t.Words("binds", true, append([]string{"all"}, actors()...)...) {
		r.Binds = append(r.Binds, Actor(w))
	}
	some(t, "binds", r.Binds)

	r.ExemptSites = t.Words("exempt_sites", false, sites()...)
	r.ExemptProducts = t.Words("exempt_products", false, classes()...)
	if r.Topic == pesticideTopic {
		r.OnlyProducts = t.Texts("only_products", false)
	} else {
		r.OnlyProducts = t.Words("only_products", false, classes()...)
	}
	r.OnlyForms = t.Words("only_forms", false, Forms()...)
	r.ExemptIf = codes(t, "exempt_if")
	for _, x := range t.Tables("exempt_actors_if") {
		r.ExemptActorsIf = append(r.ExemptActorsIf, ActorExemption{
			Actor: Actor(x.One("actor", actors()...)), Needs: code(x, "needs", true)})
		x.Close()
	}
	for _, x := range t.Tables("when") {
		r.When = append(r.When, ReadWhen(x))
	}
	if t.Has("when") && len(r.When) == 0 {
		t.Errorf("when", "leave it out for a rule that always holds", "an empty list of spans")
	}
	for _, x := range t.Tables("overrides") {
		r.Overrides = append(r.Overrides, readOverride(x))
	}
	r.EffectiveFrom, _ = t.OptDate("effective_from")
	r.EffectiveTo, _ = t.OptDate("effective_to")
	r.Suspends = t.Texts("suspends", false)

	r.PerAppTotalNLb1000 = OptValue(t, "per_app_total_n", 0, 50)
	r.PerAppSolubleNLb1000 = OptValue(t, "per_app_soluble_n", 0, 50)
	r.AnnualTotalNLb1000 = OptValue(t, "annual_total_n", 0, 50)
	r.AnnualNByGrassLb1000 = byGrass(t)
	r.MaxReleaseNLb1000Month = OptValue(t, "max_release_n_per_month", 0, 50)
	r.MinSlowPct = OptValue(t, "min_slow_pct", 0, 100)
	r.MaxSlowPct = OptValue(t, "max_slow_pct", 0, 100)
	r.PerAppPLb1000 = OptValue(t, "per_app_p2o5", 0, 50)
	r.AnnualPLb1000 = OptValue(t, "annual_p2o5", 0, 50)
	r.PBasis = t.OptOne("p_basis", "P2O5", "P")

	r.Unless = t.Words("unless", false, exceptions()...)
	r.SoilTestMaxAgeMonths = months(t, "soil_test_max_age_months", 0)
	r.NewTurfSeasons = optCount(t, "new_turf_seasons", 10, "write how many growing seasons count as new")

	r.BufferFt = OptValue(t, "buffer_ft", 0, 5280)
	r.ReducedFt = OptValue(t, "reduced_ft", 0, 5280)
	r.ReducedWith = t.Words("reduced_with", false, gears()...)
	r.WaivedIfVegetatedFt = OptValue(t, "waived_if_vegetated_ft", 0, 5280)
	r.ExemptPlantingDays = ReadDayRange(t, "exempt_planting_days")
	r.MeasuredFrom = code(t, "measured_from", false)

	r.Alerts = t.Texts("alerts", false)
	r.AlertScope = t.OptOne("alert_scope", alertScopes()...)
	r.RainIn = OptValue(t, "rain_in", 0, 50)
	r.RainHours = optCount(t, "rain_hours", 240, "write the hours over which the rain falls")
	r.RainCompare = t.OptOne("rain_compare", ">=", ">")
	r.RainBasis = t.OptOne("rain_basis", "forecast", "observed")
	r.Ground = t.Words("ground", false, grounds()...)
	r.FrozenDepthIn = OptValue(t, "frozen_depth_in", 0, 100)

	r.Duty = t.OptOne("duty", Duties()...)
	if r.Duty == "" && r.Effect == EffectRequire && !t.Has("duty") {
		r.Duty = ownWords
	}
	checkRule(t, &r)
	t.Close()
	return r
}

// checkRule finds keys that contradict each other or that the rule's effect
// would leave without a meaning: nothing in a record is ignored silently.
func checkRule(t *diag.Table, r *Rule) {
	if r.Duty == ownWords && strings.TrimSpace(r.AsWritten) == "" {
		t.Errorf("duty", "add a duty, or as_written to print the law's own words", "a requirement must say what is required")
	}
	pointless := func(why, remedy string, keys ...string) {
		for _, k := range keys {
			if t.Has(k) {
				t.Errorf(k, remedy, "%s", why)
			}
		}
	}
	caps := []string{"per_app_total_n", "per_app_soluble_n", "annual_total_n", "annual_total_n_by_grass",
		"max_release_n_per_month", "min_slow_pct", "max_slow_pct", "per_app_p2o5", "annual_p2o5"}
	weather := []string{"alerts", "alert_scope", "rain_in", "rain_hours", "rain_compare", "rain_basis", "ground", "frozen_depth_in"}
	buffer := []string{"buffer_ft", "reduced_ft", "reduced_with", "waived_if_vegetated_ft", "exempt_planting_days"}
	switch r.Effect {
	case EffectBan:
		if len(r.Unless) == 0 {
			pointless("a cap within a ban is what holds once an exception is met, and there is no exception",
				`write effect = "cap", or add unless`, caps...)
		}
		pointless("a ban has no duty", `write effect = "require"`, "duty")
	case EffectCap:
		pointless("a cap does not hang on the weather", `write effect = "ban"`, weather...)
		pointless("a cap does not hang on the distance", `write effect = "ban"`, buffer...)
		pointless("a cap has no duty", `write effect = "require"`, "duty")
		if !r.hasCaps() {
			t.Errorf("effect", "add a limit such as per_app_total_n", "a cap without a limit")
		}
	case EffectRequire:
		pointless("a requirement has no limit", `write effect = "cap"`, caps...)
		pointless("a requirement does not hang on the weather", `write effect = "ban"`, weather...)
		pointless("a requirement does not hang on the distance", `write effect = "ban"`, buffer...)
		pointless("a requirement has no exception", "use exempt_if", "unless")
	case EffectAdvise:
		pointless("advice has no limit", `write effect = "cap"`, caps...)
		pointless("advice does not hang on the weather", `write effect = "ban"`, weather...)
		pointless("advice has no exception", "use exempt_if", "unless")
		if r.Duty == "" {
			t.Errorf("duty", "add a duty, or duty = \"as_written\" to print the law's own words", "advice must say what is advised")
		}
	}
	for i, target := range r.Targets {
		if slices.Contains(Pesticides(), target) != (r.Topic == pesticideTopic) {
			t.Errorf(diag.Element("targets", i), `write topic = "pesticide" with "fungicide", "herbicide" or "insecticide", and nothing else`, "%q does not go with the topic %q", target, r.Topic)
		}
	}
	if r.Topic == pesticideTopic && r.Effect != EffectBan {
		t.Errorf("effect", `write effect = "ban"`, "of pesticides only bans are judged")
	}
	needs := func(key string, has bool, other string) {
		if t.Has(key) && !has {
			t.Errorf(key, "add "+other, "it means nothing without %s", other)
		}
	}
	needs("soil_test_max_age_months", slices.Contains(r.Unless, "soil_test_p"), `"soil_test_p" to unless`)
	needs("new_turf_seasons", slices.Contains(r.Unless, "new_turf"), `"new_turf" to unless`)
	needs("overrides", slices.ContainsFunc(r.When, func(w When) bool { return w.Kind == "annual" }), "an annual span to when")
	needs("alert_scope", len(r.Alerts) > 0, "alerts")
	needs("alerts", r.AlertScope != "", "alert_scope")
	needs("rain_in", r.RainHours > 0, "rain_hours")
	needs("rain_in", r.RainCompare != "", "rain_compare")
	needs("rain_in", r.RainBasis != "", "rain_basis")
	needs("rain_compare", r.RainIn != nil, "rain_in")
	needs("frozen_depth_in", slices.Contains(r.Ground, "frozen"), `"frozen" to ground`)
	needs("reduced_ft", r.BufferFt != nil, "buffer_ft")
	needs("reduced_ft", len(r.ReducedWith) > 0, "reduced_with")
	needs("reduced_with", r.ReducedFt != nil, "reduced_ft")
	needs("waived_if_vegetated_ft", r.BufferFt != nil, "buffer_ft")
	needs("exempt_planting_days", r.BufferFt != nil, "buffer_ft")
	needs("p_basis", r.PerAppPLb1000 != nil || r.AnnualPLb1000 != nil, "per_app_p2o5 or annual_p2o5")
	if (r.PerAppPLb1000 != nil || r.AnnualPLb1000 != nil) && !t.Has("p_basis") {
		t.Errorf("p_basis", `write p_basis = "P2O5" or "P", as the law means it`, "a phosphorus cap must say whether it counts P2O5 or P")
	}
	if r.ReducedFt != nil && r.BufferFt != nil && *r.ReducedFt >= *r.BufferFt {
		t.Errorf("reduced_ft", "write less than buffer_ft", "%s ft is no reduction of %s ft", formatFt(*r.ReducedFt), formatFt(*r.BufferFt))
	}
	if r.always() && len(r.Targets) > 1 {
		t.Errorf("targets", `write ["always"] alone`, "a rule tied to no product has no other target")
	}
	if r.always() && (r.Effect == EffectBan || r.Effect == EffectCap) {
		t.Errorf("effect", `write effect = "require"`, "a rule tied to no product is a duty")
	}
	if !r.EffectiveFrom.IsZero() && !r.EffectiveTo.IsZero() && r.EffectiveTo < r.EffectiveFrom {
		t.Errorf("effective_to", "put it on or after "+r.EffectiveFrom.String(), "%s is before effective_from", r.EffectiveTo)
	}
}

// ReadWhen reads a span of time.
func ReadWhen(t *diag.Table) When {
	w := When{Pos: t.Pos("")}
	w.Kind = t.One("kind", spanKinds()...)
	switch w.Kind {
	case "annual":
		w.FromAnchor, w.ToAnchor = anchor(t, "from"), anchor(t, "to")
		w.Bounds = t.One("bounds", boundsWords()...)
		w.BoundsBasis = t.One("bounds_basis", basisWords()...)
	case "dates":
		w.From, w.To = t.Date("from"), t.Date("to")
		w.Bounds = boundsOr(t)
		notBackwards(t, w.From, w.To, w.Bounds)
	case "after_planting":
		w.Days = DayRange{t.Int("from_day"), t.Int("to_day")}
		checkDays(t, "to_day", w.Days)
	case "declared":
		w.Name = t.Text("name")
	case "season":
		w.Name = code(t, "name", true)
		w.Side = t.One("side", "inside", "outside")
	}
	if w.Kind == "" {
		return w // what its other keys should be is not known
	}
	t.Close()
	return w
}

func readOverride(t *diag.Table) Override {
	o := Override{Pos: t.Pos("")}
	o.Season = t.Int("season")
	o.From, o.To = t.Date("from"), t.Date("to")
	o.Bounds = boundsOr(t)
	o.Citation = t.Text("citation")
	notBackwards(t, o.From, o.To, o.Bounds)
	if y := o.From.Year(); !o.From.IsZero() && t.Has("season") && (y < o.Season-1 || y > o.Season+1) {
		t.Errorf("season", "write the year in which the season it replaces begins", "season %d does not begin near %s", o.Season, o.From)
	}
	t.Close()
	return o
}

// boundsOr reads optional bounds; dates written out are inside unless the
// record says otherwise.
func boundsOr(t *diag.Table) string {
	if b := t.OptOne("bounds", boundsWords()...); b != "" {
		return b
	}
	return "[]"
}

func notBackwards(t *diag.Table, from, to civil.Date, b string) {
	if from.IsZero() || to.IsZero() {
		return
	}
	if first, last := bounds(from, to, b); last < first {
		t.Errorf("to", "put it after from", "no day lies from %s to %s with bounds %s", from, to, b)
	}
}

func anchor(t *diag.Table, key string) Anchor {
	s := t.Text(key)
	if s == "" {
		return Anchor{}
	}
	a, err := ParseAnchor(s)
	if err != nil {
		t.Errorf(key, `write "11-15", "02-last" or "nth:2-Sun-03"`, "%v", err)
	}
	return a
}

// codeForm is the form of a code: lower-case words joined by underscores.
var codeForm = regexp.MustCompile(`^[a-z0-9]+(_[a-z0-9]+)*$`)

func code(t *diag.Table, key string, required bool) string {
	read := t.OptText
	if required {
		read = t.Text
	}
	s := read(key)
	if s != "" && !codeForm.MatchString(s) {
		t.Errorf(key, "a code is lower-case words joined by underscores", "%q is not a code", s)
		return ""
	}
	return s
}

func codes(t *diag.Table, key string) []string {
	list := t.Texts(key, false)
	for i, s := range list {
		if !codeForm.MatchString(s) {
			t.Errorf(diag.Element(key, i), "a code is lower-case words joined by underscores", "%q is not a code", s)
		}
	}
	return list
}

func some[T any](t *diag.Table, key string, list []T) {
	if t.Has(key) && len(list) == 0 {
		t.Errorf(key, "name at least one", "an empty list")
	}
}

// OptValue reads an optional number within a range, both ends in.
func OptValue(t *diag.Table, key string, low, high float64) *float64 {
	x, ok := t.OptNumber(key)
	if !ok {
		return nil
	}
	if x < low || x > high {
		t.Errorf(key, "check the figure and its unit", "%s is outside %s to %s", formatFt(x), formatFt(low), formatFt(high))
	}
	return &x
}

func value(t *diag.Table, key string, low, high float64) float64 {
	if !t.Has(key) {
		t.Number(key) // records that it is missing
	}
	if x := OptValue(t, key, low, high); x != nil {
		return *x
	}
	return 0
}

// maxMonths bounds review intervals and soil-test ages: ten years.
const maxMonths = 120

// months reads an optional number of months.
func months(t *diag.Table, key string, missing int) int {
	n := optCount(t, key, maxMonths, "write a number of months")
	if n < 1 || n > maxMonths {
		return missing
	}
	return n
}

// optCount reads an optional whole number from 1 on; 0 where there is none.
func optCount(t *diag.Table, key string, most int, remedy string) int {
	n, ok := t.OptInt(key)
	if ok && (n < 1 || n > most) {
		t.Errorf(key, remedy, "%d is outside 1 to %d", n, most)
	}
	return n
}

func byGrass(t *diag.Table) map[string]float64 {
	const key = "annual_total_n_by_grass"
	sub := t.Table(key, false)
	if sub == nil {
		return nil
	}
	out := map[string]float64{}
	for _, k := range sub.Keys() {
		g := grassKey(k)
		if !diag.IsID(g) {
			sub.Errorf(k, "write a grass id or default", "%q is not an id", k)
		}
		if _, twice := out[g]; twice {
			sub.Errorf(k, "remove one", "%q stands twice", g)
		}
		out[g] = value(sub, k, 0, 50)
	}
	if _, ok := out["default"]; !ok {
		t.Errorf(key, "add default, the cap of every other grass", "no default")
	}
	sub.Close()
	return out
}

// ReadDayRange reads an optional pair of days after planting.
func ReadDayRange(t *diag.Table, key string) *DayRange {
	v, ok := t.Raw(key)
	if !ok {
		return nil
	}
	if list, is := v.([]any); is && len(list) == 2 {
		from, okFrom := list[0].(int64)
		to, okTo := list[1].(int64)
		if okFrom && okTo && from >= math.MinInt32 && from <= math.MaxInt32 && to >= math.MinInt32 && to <= math.MaxInt32 {
			d := DayRange{int(from), int(to)}
			checkDays(t, key, d)
			return &d
		}
	}
	t.Errorf(key, "write [30, 89]: the first and the last day after planting", "not two whole numbers")
	return nil
}

// maxPlantingDays bounds spans after planting: ten years.
const maxPlantingDays = 3660

func checkDays(t *diag.Table, key string, d DayRange) {
	if d.From < 0 || d.To < d.From || d.To > maxPlantingDays {
		t.Errorf(key, "count from day 0, the day of planting", "days %d to %d make no span", d.From, d.To)
	}
}

// WebAddress reads an address of the web.
func WebAddress(t *diag.Table, key string) string {
	s := t.Text(key)
	if s == "" {
		return ""
	}
	u, err := url.Parse(s)
	if err != nil || u.Host == "" || u.Scheme != "https" && u.Scheme != "http" {
		t.Errorf(key, "write an address that begins with https://", "%q is not a web address", s)
		return ""
	}
	return s
}
