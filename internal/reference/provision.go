package reference

import (
	"maps"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/workspace"
)

// LawInFull is what a law on fertilizer says, at any time.
type LawInFull struct {
	SourceKind    *message.Said   `json:"source_kind,omitempty"`
	AppliesIn     *message.Said   `json:"applies_in"`
	Status        *message.Said   `json:"status"`
	Adopted       civil.Date      `json:"adopted,omitzero"`
	Binding       *message.Said   `json:"binding,omitempty"` // what it does to laws below it
	Threshold     *message.Said   `json:"threshold"`
	NotFertilizer *message.Said   `json:"not_fertilizer,omitempty"`
	Enforcement   string          `json:"enforcement,omitempty"`
	Penalty       string          `json:"penalty,omitempty"`
	Rules         []Provision     `json:"rules,omitempty"`
	Declarations  []*message.Said `json:"declarations,omitempty"`
	Asserted      bool            `json:"asserted,omitempty"` // a real law, known well enough to be told to machines
}

// Provision is a rule of a law.
type Provision struct {
	ID        string          `json:"id"`
	Topic     *message.Said   `json:"topic"`
	Effect    *message.Said   `json:"effect"`
	Targets   *message.Said   `json:"targets"`
	Binds     *message.Said   `json:"binds"`
	When      []*message.Said `json:"when,omitempty"`
	Limits    []*message.Said `json:"limits,omitempty"`
	Exempt    []*message.Said `json:"exempt,omitempty"`
	AsWritten string          `json:"as_written,omitempty"`
	Citation  string          `json:"citation,omitempty"`
}

// lawInFull is a law on fertilizer with all its rules.
func lawInFull(ws *workspace.Workspace, r *law.Record) *LawInFull {
	l := &LawInFull{
		SourceKind: value(message.WordOr("law_source", r.SourceKind)),
		AppliesIn:  value(message.WordOr("law_applies", r.AppliesIn)), Status: value(message.WordOr("law_status", string(r.Status))),
		Adopted: r.AdoptedOn, Enforcement: r.Enforcement, Penalty: r.Penalty,
		NotFertilizer: value(message.WordsOr(message.Comma, "law_product", r.Definitions.NotFertilizer...)),
		Threshold: message.Say(message.New("law_limit.threshold").With("n", message.Figure(r.Definitions.NThresholdPct)).
			With("p", message.Figure(r.Definitions.P2O5ThresholdPct))),
		Asserted: !ws.Site.Demo && !r.Fictional && r.Verification != law.UnverifiedText && r.Status != law.StatusProposed,
	}
	if r.RelationDown != "" {
		l.Binding = message.Say(message.New("law_relation."+string(r.RelationDown)).With("topics", message.WordsOr(message.Comma, "law_topic", r.PreemptTopics...)))
	}
	l.Declarations = message.SayEach(r.Declarations, func(d law.Declaration) message.Message {
		return declaredSpan("law_when.declared_open", "law_when.declared_span", d.From, d.To, d.AssumeUntil).
			Name("name", d.Name).Name("citation", d.Citation)
	})
	for i := range r.Rules {
		l.Rules = append(l.Rules, provision(ws, &r.Rules[i]))
	}
	return l
}

// declaredSpan says from when to when an order is declared: one without an end by
// the day until which it is taken to stand.
func declaredSpan(open, span string, from, to, assumed civil.Date) message.Message {
	if to.IsZero() {
		return message.New(open).Date("first", from).Date("last", assumed)
	}
	return message.New(span).Date("first", from).Date("last", to)
}

func provision(ws *workspace.Workspace, r *law.Rule) Provision {
	binds := message.Each(message.Comma, r.Binds, func(a law.Actor) message.Value { return message.WordOr("law_binds", string(a)) })
	p := Provision{
		ID: r.ID, Topic: value(message.WordOr("law_topic", r.Topic)), Effect: value(message.WordOr("law_effect", string(r.Effect))),
		Targets: value(message.WordsOr(message.Comma, "law_target", r.Targets...)), Binds: value(binds),
		AsWritten: r.AsWritten, Citation: r.Citation, Limits: message.SayAll(lawLimits(ws, r)), Exempt: message.SayAll(lawExempt(r)),
	}
	p.When = message.SayEach(r.When, lawWhen)
	p.When = append(p.When, message.SayEach(r.Overrides, func(o law.Override) message.Message {
		return message.New("law_when.override").With("year", message.Figure(float64(o.Season))).
			Date("first", o.From).Date("last", o.To).With("bounds", inside(o.Bounds)).Name("citation", o.Citation)
	})...)
	return p
}

// inside says which of the two days of a span are inside it.
func inside(b string) message.Value {
	switch b {
	case "[)":
		return message.Word("law_bounds.first_in")
	case "(]":
		return message.Word("law_bounds.last_in")
	case "()":
		return message.Word("law_bounds.none_in")
	}
	return message.Word("law_bounds.both_in")
}

func lawWhen(w law.When) message.Message {
	switch w.Kind {
	case "annual":
		return message.New("law_when.annual").With("first", anchor(w.FromAnchor)).With("last", anchor(w.ToAnchor)).With("bounds", inside(w.Bounds))
	case "dates":
		return message.New("law_when.dates").Date("first", w.From).Date("last", w.To).With("bounds", inside(w.Bounds))
	case "after_planting":
		return daysAfter("law_when.after_planting", &w.Days)
	case "declared":
		return message.New("law_when.declared").Name("name", w.Name)
	case "season":
		return message.New("law_when.season_"+w.Side).Name("name", w.Name)
	}
	return message.Just(message.WordOr("law_when_kind", w.Kind))
}

// anchor is a recurring day of a law: "November 15", "the last Sunday of
// October". What is none is printed as the file has it.
func anchor(d law.Anchor) message.Value {
	switch {
	case d.Fixed != civil.MonthDay{}:
		return message.EveryYear(d.Fixed)
	case d.Month == 0:
		return message.Text(d.String())
	case d.Nth == "":
		return message.Of(message.New("law_anchor.last_day").With("month", message.Month(d.Month)))
	default:
		day := message.New("law_anchor.nth_"+d.Nth).With("weekday", message.Weekday(int(d.Weekday))).With("month", message.Month(d.Month))
		switch {
		case d.Offset > 0:
			return message.Of(message.New("law_anchor.days_after").Said("day", day).Count("n", d.Offset))
		case d.Offset < 0:
			return message.Of(message.New("law_anchor.days_before").Said("day", day).Count("n", -d.Offset))
		}
		return message.Of(day)
	}
}

// lawLimits says the figures of a provision.
func lawLimits(ws *workspace.Workspace, r *law.Rule) []message.Message {
	var out []message.Message
	limit := func(code string) message.Message { return message.New("law_limit." + code) }
	add := func(is bool, m message.Message) {
		if is {
			out = append(out, m)
		}
	}
	// figure adds a limit that is one figure, if the law sets it.
	figure := func(code, slot string, x *float64, as func(float64) message.Value) {
		if x != nil {
			out = append(out, limit(code).With(slot, as(*x)))
		}
	}
	figure("per_app_total_n", "value", r.PerAppTotalNLb1000, message.Rate)
	figure("per_app_soluble_n", "value", r.PerAppSolubleNLb1000, message.Rate)
	figure("annual_total_n", "value", r.AnnualTotalNLb1000, message.Rate)
	for _, grass := range slices.Sorted(maps.Keys(r.AnnualNByGrassLb1000)) {
		out = append(out, limit("annual_n_by_grass").With("grass", grassName(ws, grass)).With("value", message.Rate(r.AnnualNByGrassLb1000[grass])))
	}
	figure("release_month", "value", r.MaxReleaseNLb1000Month, message.Rate)
	figure("min_slow", "pct", r.MinSlowPct, message.Figure)
	figure("max_slow", "pct", r.MaxSlowPct, message.Figure)
	if x := r.PerAppPLb1000; x != nil {
		out = append(out, limit("per_app_p").With("value", message.Rate(*x)).With("basis", message.WordOr("law_p_basis", r.PBasis)))
	}
	if x := r.AnnualPLb1000; x != nil {
		out = append(out, limit("annual_p").With("value", message.Rate(*x)).With("basis", message.WordOr("law_p_basis", r.PBasis)))
	}
	if x := r.BufferFt; x != nil {
		out = append(out, limit("buffer").With("ft", message.Figure(*x)).With("from", message.WordOr("law_from", r.MeasuredFrom)))
	}
	if x := r.ReducedFt; x != nil {
		out = append(out, limit("buffer_reduced").With("ft", message.Figure(*x)).With("gear", message.WordsOr(message.Comma, "law_gear", r.ReducedWith...)))
	}
	figure("buffer_waived", "ft", r.WaivedIfVegetatedFt, message.Figure)
	if d := r.ExemptPlantingDays; d != nil {
		out = append(out, daysAfter("law_limit.buffer_planting", d))
	}
	add(len(r.Alerts) > 0, limit("alerts").With("alerts", message.Texts(message.Comma, r.Alerts...)))
	if x := r.RainIn; x != nil {
		code := "rain_at_least"
		if r.RainCompare == ">" {
			code = "rain_above"
		}
		out = append(out, limit(code).With("in", message.Figure(*x)).Count("hours", r.RainHours).With("basis", message.WordOr("law_rain_basis", r.RainBasis)))
	}
	add(len(r.Ground) > 0, limit("ground").With("ground", message.WordsOr(message.Comma, "law_ground", r.Ground...)))
	figure("frost_depth", "in", r.FrozenDepthIn, message.Figure)
	add(len(r.Unless) > 0, limit("unless").With("facts", FactsOf(r)))
	add(r.SoilTestMaxAgeMonths > 0, limit("soil_test_age").Count("months", r.SoilTestMaxAgeMonths))
	add(r.NewTurfSeasons > 0, limit("new_turf_seasons").Count("seasons", r.NewTurfSeasons))
	add(r.Duty != "", limit("duty").Word("duty", "law_duty."+r.Duty).Raised())
	add(len(r.Suspends) > 0, limit("suspends").With("rules", message.Texts(message.Comma, r.Suspends...)))
	return out
}

// FactsOf are the facts that lift what a provision closes.
func FactsOf(r *law.Rule) message.Value {
	return message.WordsOr(message.Comma, "law_fact", r.Unless...)
}

// lawExempt says what a provision leaves out.
func lawExempt(r *law.Rule) []message.Message {
	var out []message.Message
	for _, part := range []struct {
		code, words string
		of          []string
	}{
		{"only_products", "law_product", r.OnlyProducts},
		{"only_forms", "law_form", r.OnlyForms},
		{"exempt_products", "law_product", r.ExemptProducts},
		{"exempt_sites", "law_site", r.ExemptSites},
		{"exempt_if", "law_fact", r.ExemptIf},
	} {
		if len(part.of) > 0 {
			out = append(out, message.New("law_exempt."+part.code).With("what", message.WordsOr(message.Comma, part.words, part.of...)))
		}
	}
	for _, e := range r.ExemptActorsIf {
		out = append(out, message.New("law_exempt.actor_if").With("who", message.WordOr("law_binds", string(e.Actor))).With("what", message.WordOr("law_fact", e.Needs)))
	}
	for _, span := range []struct {
		code string
		date civil.Date
	}{{"effective_from", r.EffectiveFrom}, {"effective_to", r.EffectiveTo}} {
		if !span.date.IsZero() {
			out = append(out, message.New("law_exempt."+span.code).Date("date", span.date))
		}
	}
	return out
}

// grassName is the name of a grass; other words are printed as they stand.
func grassName(ws *workspace.Workspace, id string) message.Value {
	if g, ok := ws.Grass(id); ok {
		return message.Text(g.Name)
	}
	return message.WordOr("law_grass", id)
}
