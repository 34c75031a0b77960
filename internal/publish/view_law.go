package publish

import (
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/issue"
	"ligule/internal/law"
)

// lawView is the local law of a zone in one week.
type lawView struct {
	Alarm   bool     // closed or not cleared somewhere: stands above the author's note
	Shut    bool     // closed somewhere
	Closed  []string // closures in force this week
	Unknown []string // why a place is not cleared
	Acting  []recordView
	Varies  bool
	Places  []placeView
	Next    []string
	Flags   []string
}

// placeView is the law of one place in one week.
type placeView struct {
	Name       string
	Homeowner  stateView // nitrogen
	ForHire    stateView // nitrogen
	Phosphorus stateView // homeowner
	Conditions []string
	Records    []recordView
}

// stateView is what the law says over a week, as code and words.
type stateView struct{ ID, Word string }

// recordView is a law of the chain, as a place's page shows it.
type recordView struct {
	ID           string
	Title        string
	Citation     string
	URL          string
	Jurisdiction string
	Address      string // of its page here
	Check        string // how it is known, with the date
	CheckedOn    civil.Date
	NextReview   civil.Date
	Stale        bool
	Fictional    bool
}

func (v viewer) law(l issue.Law, asOf civil.Date) lawView {
	lv := lawView{
		Closed: texts(l.Closed), Unknown: texts(l.Unknown), Varies: l.Varies, Next: texts(l.NextChange), Flags: texts(l.Flags),
	}
	for _, p := range l.Places {
		pv := placeView{
			Name: p.Place.Name, Homeowner: v.lawState(p.Homeowner), ForHire: v.lawState(p.ForHire), Phosphorus: v.lawState(p.Phosphorus),
			Conditions: texts(p.Conditions),
		}
		for _, r := range p.Records {
			pv.Records = append(pv.Records, v.record(r, asOf))
		}
		lv.Places = append(lv.Places, pv)
		for _, r := range acting(p) {
			if rv := v.record(r, asOf); !slices.Contains(lv.Acting, rv) {
				lv.Acting = append(lv.Acting, rv)
			}
		}
		lv.Shut = lv.Shut || isClosed(p.Homeowner.State)
		lv.Alarm = lv.Alarm || isClosed(p.Homeowner.State) || p.Homeowner.State == law.NotCleared.String()
	}
	lv.Shut = lv.Shut || len(lv.Closed) > 0
	// A zone without any place has no law on record, which clears nothing.
	lv.Alarm = lv.Alarm || lv.Shut || len(lv.Unknown) > 0 || len(lv.Places) == 0
	return lv
}

func isClosed(state string) bool { return state == "closed_all" || state == "closed_part" }

// lawState words a week's state; without an answer nothing is cleared.
func (v viewer) lawState(w law.PlaceWeek) stateView {
	id := w.State
	if id == "" {
		id = law.NotCleared.String()
	}
	return stateView{id, v.must("law_state", id)}
}

// acting lists the laws that close a place this week, or leave it uncleared.
func acting(p issue.PlaceLaw) []*law.Record {
	var out []*law.Record
	add := func(r *law.Record) {
		if r != nil && !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, day := range p.Homeowner.Days {
		for _, h := range day.Closed() {
			add(h.Record)
		}
		if day.Verdict != law.NotCleared {
			continue
		}
		for _, h := range day.Hits {
			if h.Verdict == law.NotCleared {
				add(h.Record)
			}
		}
		for _, n := range day.Notices {
			add(n.Record)
		}
	}
	return out
}

func (v viewer) record(r *law.Record, asOf civil.Date) recordView {
	return recordView{
		ID: r.ID, Title: r.Title, Citation: r.Citation, URL: r.SourceURL, Jurisdiction: r.JurisdictionName,
		Address: "/local-rules/" + r.Jurisdiction + "/", Check: v.say("law_check."+r.Verification, "date", longDate(r.CheckedOn)),
		CheckedOn: r.CheckedOn, NextReview: r.NextReview(), Stale: r.Stale(asOf), Fictional: r.Fictional,
	}
}

// jurisdictionView is one body of local government with its laws.
type jurisdictionView struct {
	ID, Name, Level string
	Address         string
	Parent          *linkView
	Depth           int // below the top
	Coverage        string
	CheckedOn       civil.Date
	AsOf            civil.Date
	Records         []lawRecordView
	Places          []inPlaceView // places of zones under it
}

// inPlaceView is a place under a jurisdiction, with its closed seasons ahead.
type inPlaceView struct {
	Zone    linkView
	Place   string
	From    civil.Date
	Through civil.Date
	Seasons []seasonView
}

// seasonView is a run of closed days.
type seasonView struct {
	First, Last civil.Date
	Laws        []string
}

// lawRecordView is a law in full.
type lawRecordView struct {
	recordView
	SourceKind, Level, AppliesIn, Status string
	Adopted, From, To                    civil.Date
	Binding                              string // what it does to laws below it
	Threshold                            string
	NotFertilizer                        string
	Enforcement, Penalty                 string
	Rules                                []lawRuleView
	Declarations                         []string
}

// lawRuleView is a provision.
type lawRuleView struct {
	ID, Topic, Effect string
	Targets, Binds    string
	When              []string
	Limits            []string
	Exempt            []string
	AsWritten         string
	Citation          string
}

// closedYearDays is how far ahead closed seasons are listed.
const closedYearDays = 365

// jurisdictions lists them with every body under its parent, in the order of
// the author's list.
func (v viewer) jurisdictions(iss *issue.Issue) []jurisdictionView {
	var out []jurisdictionView
	var under func(parent string, depth int)
	under = func(parent string, depth int) {
		for _, j := range v.ws.Places {
			if j.Parent == parent && depth < len(v.ws.Places) {
				out = append(out, v.jurisdiction(j, depth, iss))
				under(j.ID, depth+1)
			}
		}
	}
	under("", 0)
	return out
}

func (v viewer) jurisdiction(j law.Jurisdiction, depth int, iss *issue.Issue) jurisdictionView {
	jv := jurisdictionView{
		ID: j.ID, Name: j.Name, Level: v.word("law_level", j.Level), Address: "/local-rules/" + j.ID + "/",
		Depth: depth, CheckedOn: j.CheckedOn, AsOf: iss.Date,
	}
	if j.Coverage != "" {
		jv.Coverage = v.say("law_coverage."+j.Coverage, "date", longDate(j.CheckedOn))
	}
	for _, p := range v.ws.Places {
		if p.ID == j.Parent {
			jv.Parent = &linkView{p.Name, "/local-rules/" + p.ID + "/"}
		}
	}
	for _, r := range v.ws.Ordinances {
		if r.Jurisdiction == j.ID {
			jv.Records = append(jv.Records, v.lawRecord(r, iss.Date))
		}
	}
	for _, z := range iss.Zones {
		for _, p := range z.Law.Places {
			if slices.Contains(p.Place.Chain, j.ID) {
				jv.Places = append(jv.Places, v.inPlace(z, p.Place, iss.Date))
			}
		}
	}
	return jv
}

func (v viewer) inPlace(z *issue.Zone, p law.Place, from civil.Date) inPlaceView {
	iv := inPlaceView{
		Zone: linkView{z.Name, "/zones/" + z.ID + "/"}, Place: p.Name, From: from, Through: from.AddDays(closedYearDays),
	}
	if v.ws.Law == nil {
		return iv
	}
	for _, s := range v.ws.Law.ClosedSpans(p, law.Homeowner, "N", iv.From, iv.Through) {
		sv := seasonView{First: s.First, Last: s.Last}
		for _, l := range s.Laws {
			if l.Record != nil && !slices.Contains(sv.Laws, l.Record.Title) {
				sv.Laws = append(sv.Laws, l.Record.Title)
			}
		}
		iv.Seasons = append(iv.Seasons, sv)
	}
	return iv
}

func (v viewer) lawRecord(r *law.Record, asOf civil.Date) lawRecordView {
	lv := lawRecordView{
		recordView: v.record(r, asOf), SourceKind: v.word("law_source", r.SourceKind), Level: v.word("law_level", r.Level),
		AppliesIn: v.word("law_applies", r.AppliesIn), Status: v.word("law_status", r.Status),
		Adopted: r.AdoptedOn, From: r.EffectiveFrom, To: r.EffectiveTo, Enforcement: r.Enforcement, Penalty: r.Penalty,
		NotFertilizer: v.list("law_product", r.Definitions.NotFertilizer),
		Threshold:     v.say("law_limit.threshold", "n", trimmed(r.Definitions.NThresholdPct), "p", trimmed(r.Definitions.P2O5ThresholdPct)),
	}
	if r.RelationDown != "" {
		lv.Binding = v.say("law_relation."+r.RelationDown, "topics", v.list("law_topic", r.PreemptTopics))
	}
	for _, d := range r.Declarations {
		id := "law_when.declared_open"
		last := d.AssumeUntil
		if !d.To.IsZero() {
			id, last = "law_when.declared_span", d.To
		}
		lv.Declarations = append(lv.Declarations, v.say(id, "name", strings.ReplaceAll(d.Name, "_", " "), "first", longDate(d.From), "last", longDate(last), "citation", d.Citation))
	}
	for i := range r.Rules {
		lv.Rules = append(lv.Rules, v.lawRule(&r.Rules[i]))
	}
	return lv
}

func (v viewer) lawRule(r *law.Rule) lawRuleView {
	binds := make([]string, len(r.Binds))
	for i, a := range r.Binds {
		binds[i] = string(a)
	}
	rv := lawRuleView{
		ID: r.ID, Topic: v.word("law_topic", r.Topic), Effect: v.word("law_effect", r.Effect),
		Targets: v.list("law_target", r.Targets), Binds: v.list("law_binds", binds), AsWritten: r.AsWritten, Citation: r.Citation,
		Limits: v.lawLimits(r), Exempt: v.lawExempt(r),
	}
	for _, w := range r.When {
		rv.When = append(rv.When, v.lawWhen(w))
	}
	for _, o := range r.Overrides {
		rv.When = append(rv.When, v.say("law_when.override", "year", trimmed(float64(o.Season)), "first", longDate(o.From), "last", longDate(o.To),
			"bounds", v.word("law_bounds", boundsID(o.Bounds)), "citation", o.Citation))
	}
	return rv
}

// boundsID names which of the two days of a span are inside it.
func boundsID(bounds string) string {
	switch bounds {
	case "[)":
		return "first_in"
	case "(]":
		return "last_in"
	case "()":
		return "none_in"
	}
	return "both_in"
}

func (v viewer) lawWhen(w law.When) string {
	bounds := v.word("law_bounds", boundsID(w.Bounds))
	switch w.Kind {
	case "annual":
		return v.say("law_when.annual", "first", anchorDate(w.FromAnchor.String()), "last", anchorDate(w.ToAnchor.String()), "bounds", bounds)
	case "dates":
		return v.say("law_when.dates", "first", longDate(w.From), "last", longDate(w.To), "bounds", bounds)
	case "after_planting":
		return v.say("law_when.after_planting", "from", trimmed(float64(w.Days.From)), "to", trimmed(float64(w.Days.To)))
	case "declared":
		return v.say("law_when.declared", "name", strings.ReplaceAll(w.Name, "_", " "))
	case "season":
		return v.say("law_when.season_"+w.Side, "name", w.Name)
	}
	return v.word("law_when_kind", w.Kind)
}

// lawLimits words the figures of a provision.
func (v viewer) lawLimits(r *law.Rule) []string {
	var out []string
	rate := func(id string, x *float64) {
		if x != nil {
			out = append(out, v.say("law_limit."+id, "value", lbRate(*x)))
		}
	}
	say := func(id string, slots ...string) { out = append(out, v.say("law_limit."+id, slots...)) }
	rate("per_app_total_n", r.PerAppTotalNLb1000)
	rate("per_app_soluble_n", r.PerAppSolubleNLb1000)
	rate("annual_total_n", r.AnnualTotalNLb1000)
	for _, grass := range sortedKeys(r.AnnualNByGrassLb1000) {
		say("annual_n_by_grass", "grass", v.grassName(grass), "value", lbRate(r.AnnualNByGrassLb1000[grass]))
	}
	rate("release_month", r.MaxReleaseNLb1000Month)
	if r.MinSlowPct != nil {
		say("min_slow", "pct", trimmed(*r.MinSlowPct))
	}
	if r.MaxSlowPct != nil {
		say("max_slow", "pct", trimmed(*r.MaxSlowPct))
	}
	basis := v.word("law_p_basis", r.PBasis)
	if r.PerAppPLb1000 != nil {
		say("per_app_p", "value", lbRate(*r.PerAppPLb1000), "basis", basis)
	}
	if r.AnnualPLb1000 != nil {
		say("annual_p", "value", lbRate(*r.AnnualPLb1000), "basis", basis)
	}
	if r.BufferFt != nil {
		say("buffer", "ft", trimmed(*r.BufferFt), "from", v.word("law_from", r.MeasuredFrom))
	}
	if r.ReducedFt != nil {
		say("buffer_reduced", "ft", trimmed(*r.ReducedFt), "gear", v.list("law_gear", r.ReducedWith))
	}
	if r.WaivedIfVegetatedFt != nil {
		say("buffer_waived", "ft", trimmed(*r.WaivedIfVegetatedFt))
	}
	if d := r.ExemptPlantingDays; d != nil {
		say("buffer_planting", "from", trimmed(float64(d.From)), "to", trimmed(float64(d.To)))
	}
	if len(r.Alerts) > 0 {
		say("alerts", "alerts", strings.Join(r.Alerts, ", "))
	}
	if r.RainIn != nil {
		say("rain_"+map[bool]string{true: "above", false: "at_least"}[r.RainCompare == ">"], "in", trimmed(*r.RainIn), "hours", trimmed(float64(r.RainHours)), "basis", v.word("law_rain_basis", r.RainBasis))
	}
	if len(r.Ground) > 0 {
		say("ground", "ground", v.list("law_ground", r.Ground))
	}
	if r.FrozenDepthIn != nil {
		say("frost_depth", "in", trimmed(*r.FrozenDepthIn))
	}
	if len(r.Unless) > 0 {
		say("unless", "facts", v.list("law_fact", r.Unless))
	}
	if r.SoilTestMaxAgeMonths > 0 {
		say("soil_test_age", "months", trimmed(float64(r.SoilTestMaxAgeMonths)))
	}
	if r.NewTurfSeasons > 0 {
		say("new_turf_seasons", "seasons", trimmed(float64(r.NewTurfSeasons)))
	}
	if r.Duty != "" {
		out = append(out, v.word("law_duty", r.Duty))
	}
	if len(r.Suspends) > 0 {
		say("suspends", "rules", strings.Join(r.Suspends, ", "))
	}
	return out
}

// lawExempt words what a provision leaves out.
func (v viewer) lawExempt(r *law.Rule) []string {
	var out []string
	for _, part := range []struct {
		id, words string
		codes     []string
	}{
		{"only_products", "law_product", r.OnlyProducts},
		{"only_forms", "law_form", r.OnlyForms},
		{"exempt_products", "law_product", r.ExemptProducts},
		{"exempt_sites", "law_site", r.ExemptSites},
		{"exempt_if", "law_fact", r.ExemptIf},
	} {
		if len(part.codes) > 0 {
			out = append(out, v.say("law_exempt."+part.id, "what", v.list(part.words, part.codes)))
		}
	}
	for _, e := range r.ExemptActorsIf {
		out = append(out, v.say("law_exempt.actor_if", "who", v.word("law_binds", string(e.Actor)), "what", v.word("law_fact", e.Needs)))
	}
	for _, span := range []struct {
		id   string
		date civil.Date
	}{{"effective_from", r.EffectiveFrom}, {"effective_to", r.EffectiveTo}} {
		if !span.date.IsZero() {
			out = append(out, v.say("law_exempt."+span.id, "date", longDate(span.date)))
		}
	}
	return out
}

// grassName is the name of a grass; other words are printed as they stand.
func (v viewer) grassName(id string) string {
	for _, g := range v.ws.Grasses {
		if g.ID == id {
			return g.Name
		}
	}
	return v.word("law_grass", id)
}

func sortedKeys(m map[string]float64) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
