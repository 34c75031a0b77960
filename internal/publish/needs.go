package publish

import (
	"strings"

	"ligule/internal/advice"
	"ligule/internal/agromet"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Needs lists the phrases that pages, feeds and newsletters print, with the
// slots that are filled. Words of an indicator that says words are printed by
// the phrases that package advice needs.
func Needs() []advice.Need {
	var all []advice.Need
	words := func(table string, ids ...string) {
		for _, id := range ids {
			all = append(all, advice.Need{ID: table + "." + id})
		}
	}
	say := func(id string, slots ...string) { all = append(all, advice.Need{ID: id, Slots: slots}) }

	for _, v := range []advice.Verdict{advice.Do, advice.Wait, advice.Skip, advice.Look, advice.Closed, advice.NotEnough} {
		words("verdict", string(v))
	}
	for _, t := range advice.Topics() {
		words("topic", string(t))
		words("question", string(t))
	}
	for _, s := range turf.States() {
		words("growth_state", strings.ReplaceAll(string(s), " ", "_"))
	}
	say("answer.also", "names")
	say("answer.also_do", "names")
	say("state.line", "state", "mow")
	say("state.line_dry", "state", "mow")
	say("state.mow", "days")
	words("state", "no_mow", "unknown", "set_back")
	say("state.watered", "state", "mow")
	say("state.ahead", "state", "mow")
	for _, why := range turf.DormantCauses() {
		words("dormant", string(why))
	}
	for _, sense := range turf.Senses() {
		say("slowdown."+strings.ReplaceAll(string(sense), " ", "_"), "since", "then", "now")
	}
	words("value", "unknown", "no_mowing")
	words("basis", "observed", "estimated", "forecast", "calendar")
	for _, r := range agromet.Rungs() {
		words("rung", r.String())
	}
	for _, m := range weather.SoilMethods() {
		words("soil_method", m.String())
	}
	say("source.two", "first", "second")
	say("source.many", "first")
	words("gate", "law.name", "storm.name", "growth.name")

	say("calendar.name", "zone", "title")
	say("calendar.closed", "place")
	say("calendar.law", "law", "citation", "first", "last", "check", "url")
	words("lawfeed", "name", "invented")
	turns := []string{"law", "citation", "jurisdiction", "date", "first", "last", "before", "checked", "what"}
	for _, id := range []string{"closes_title", "closes", "closes_for_good", "opens_title", "opens"} {
		say("lawfeed."+id, turns...)
	}
	say("lawfeed.places", "places", "date", "what", "state")
	say("lawfeed.in_zone", "place", "zone")
	say("lawfeed.and_more", "places", "more")
	for _, id := range []string{"review_due", "review_past", "none_found_due", "none_found_past", "order_due", "order_past", "effective_due", "expiry_due", "expiry_past"} {
		for _, part := range []string{"", "_title"} {
			say("lawfeed."+id+part, "law", "citation", "jurisdiction", "date", "after", "order", "checked")
		}
	}
	say("law_asked.home", "what")
	say("law_asked.hire", "what")
	say("law_asked.both", "what")
	words("law_nutrient", "N", "P", "other")
	words("law_day", "open", "conditional", "not_cleared", "closed")
	words("calendar", "category", "invented", "stale", "others", "ask")
	say("law_place.closed_by", "law", "rule", "facts")
	say("law_place.closed_unless", "law", "rule", "facts")
	all = append(all, waterNeeds()...)
	all = append(all, sprayNeeds()...)
	all = append(all, seasonNeeds()...)
	all = append(all, pestNeeds()...)
	words("law_state", "closed_all", "closed_part", "not_cleared", "conditional", "open")
	for _, known := range []string{"verified", "secondary", "unverified"} {
		say("law_check."+known, "date")
	}
	for _, when := range []string{"due", "soon", "past"} {
		say("law_review."+when, "date")
	}
	words("law_review", "none")
	words("law_weak", "stale", "unverified", "both")
	words("law_strip", "none_short")
	say("law_strip.law", "law", "citation")
	say("law_strip.row", "what", "runs")
	say("law_strip.none", "what")
	say("law_strip.run", "first", "last")
	say("law_strip.run_excepted", "first", "last")
	words("law_level", "state", "county", "municipal", "district")
	say("law_coverage.none_found", "date")
	say("law_coverage.not_checked", "date")
	words("law_source", "official_code", "session_law", "agency_page", "secondary", "news", "hearsay")
	words("law_applies", "all", "unincorporated", "municipal_limits", "district_bounds")
	words("law_status", "in_force", "stayed", "enjoined", "repealed", "superseded", "proposed")
	for _, down := range []string{"floor", "preempts", "silent"} {
		say("law_relation."+down, "topics")
	}
	words("law_topic", "window", "weather", "rate", "content", "phosphorus", "buffer", "surface", "clippings", "equipment", "posting", "license", "records", "sale")
	words("law_effect", "ban", "cap", "require", "advise")
	words("law_target", "N", "P", "any", "always")
	words("law_binds", "all", "homeowner", "for_hire", "golf", "sports", "institutional", "public_agency", "retailer")
	words("law_bounds", "both_in", "first_in", "last_in", "none_in")
	say("law_anchor.last_day", "month")
	for _, n := range []string{"1", "2", "3", "4", "last"} {
		say("law_anchor.nth_"+n, "weekday", "month")
	}
	say("law_anchor.days_after", "day", "n")
	say("law_anchor.days_before", "day", "n")
	say("law_when.annual", "first", "last", "bounds")
	say("law_when.dates", "first", "last", "bounds")
	say("law_when.after_planting", "from", "to")
	say("law_when.declared", "name")
	say("law_when.declared_span", "name", "first", "last", "citation")
	say("law_when.declared_open", "name", "first", "last", "citation")
	say("law_when.season_inside", "name")
	say("law_when.season_outside", "name")
	say("law_when.override", "year", "first", "last", "bounds", "citation")
	say("law_limit.threshold", "n", "p")
	for _, rate := range []string{"per_app_total_n", "per_app_soluble_n", "annual_total_n", "release_month"} {
		say("law_limit."+rate, "value")
	}
	say("law_limit.annual_n_by_grass", "grass", "value")
	say("law_limit.min_slow", "pct")
	say("law_limit.max_slow", "pct")
	say("law_limit.per_app_p", "value", "basis")
	say("law_limit.annual_p", "value", "basis")
	say("law_limit.buffer", "ft", "from")
	say("law_limit.buffer_reduced", "ft", "gear")
	say("law_limit.buffer_waived", "ft")
	say("law_limit.buffer_planting", "from", "to")
	say("law_limit.alerts", "alerts")
	say("law_limit.rain_at_least", "in", "hours", "basis")
	say("law_limit.rain_above", "in", "hours", "basis")
	say("law_limit.ground", "ground")
	say("law_limit.frost_depth", "in")
	say("law_limit.unless", "facts")
	say("law_limit.soil_test_age", "months")
	say("law_limit.new_turf_seasons", "seasons")
	say("law_limit.suspends", "rules")
	words("law_rain_basis", "forecast", "observed")
	words("law_ground", "frozen", "snow", "saturated")
	words("law_fact", "soil_test_p", "new_turf", "repair")
	words("law_gear", "rotary", "rotary_deflector", "drop_spreader", "targeted_liquid")
	words("law_p_basis", "P2O5", "P")
	words("law_form", "granular", "liquid")
	words("law_product", "synthetic", "natural_organic", "enhanced_efficiency", "starter", "repair", "combination", "mineral", "lime",
		"gypsum", "wood_ash", "raw_manure", "manipulated_manure", "compost", "soil_amendment", "pesticide_only")
	words("law_site", "farm", "sod_farm", "vegetable_garden", "nursery", "greenhouse", "golf_course", "athletic_field", "airport")
	words("law_duty", "sweep_back_now", "deflector_on_rotary", "no_clippings_in_street_or_water", "certified_applicator", "sign_24h",
		"keep_records", "low_maintenance_strip", "as_written")
	words("law_grass", "default")
	for _, part := range []string{"only_products", "only_forms", "exempt_products", "exempt_sites", "exempt_if"} {
		say("law_exempt."+part, "what")
	}
	say("law_exempt.actor_if", "who", "what")
	say("law_exempt.effective_from", "date")
	say("law_exempt.effective_to", "date")
	return all
}
