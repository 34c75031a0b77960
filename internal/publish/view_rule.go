package publish

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"ligule/internal/civil"
	"ligule/internal/law"
)

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
		return v.say("law_when.annual", "first", v.anchor(w.FromAnchor.String()), "last", v.anchor(w.ToAnchor.String()), "bounds", bounds)
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

// anchorForm matches the anchors that are no fixed date: "02-last",
// "nth:2-Sun-03", "nth:last-Mon-05+1d".
var anchorForm = regexp.MustCompile(`^(?:(\d\d)-last|nth:([1-4]|last)-(Sun|Mon|Tue|Wed|Thu|Fri|Sat)-(\d\d)(?:([+-])(\d+)d)?)$`)

// anchor words a recurring day of a law: "November 15", "the last Sunday of
// October". What it does not know is printed as the file has it.
func (v viewer) anchor(text string) string {
	m := anchorForm.FindStringSubmatch(text)
	if m == nil {
		return anchorDate(text)
	}
	if m[1] != "" {
		return v.say("law_anchor.last_day", "month", monthName(m[1]))
	}
	weekdays := map[string]time.Weekday{"Sun": 0, "Mon": 1, "Tue": 2, "Wed": 3, "Thu": 4, "Fri": 5, "Sat": 6}
	day := v.say("law_anchor.nth_"+m[2], "weekday", weekdays[m[3]].String(), "month", monthName(m[4]))
	switch m[5] {
	case "+":
		return v.say("law_anchor.days_after", "day", day, "n", m[6])
	case "-":
		return v.say("law_anchor.days_before", "day", day, "n", m[6])
	}
	return day
}

// monthName names the month of two digits.
func monthName(digits string) string {
	n, err := strconv.Atoi(digits)
	if err != nil || n < 1 || n > 12 {
		return digits
	}
	return time.Month(n).String()
}
