package advice

import (
	"ligule/internal/disease"
	"ligule/internal/herbicide"
	"ligule/internal/law"
	"ligule/internal/turf"
)

// StatePhrase is the phrase that prints a state of growth.
func StatePhrase(s turf.State) string {
	return wordID(growthState, string(s))
}

// Needs lists every phrase that this package says, with the slots it fills.
func Needs() []Need {
	var needs []Need
	add := func(slots []string, ids ...string) {
		for _, id := range ids {
			needs = append(needs, Need{ID: id, Slots: slots})
		}
	}
	add([]string{"title", "value", "test"}, "clause.yes", "clause.no", "clause.unknown")
	add(nil, "clause.and", "clause.or")
	add([]string{"parts"}, "clause.any")
	add([]string{"limit"}, "test.at_least", "test.at_most", "test.above", "test.below")
	add([]string{"low", "high"}, "test.between")
	add([]string{"days"}, "test.rising", "test.falling")
	add([]string{"test", "days"}, "test.for_days")
	add([]string{"title", "pest"}, "indicator.of")
	add(nil, "value.unknown", "value.no_mowing")
	for _, b := range []Basis{Observed, Estimated, Forecast, Calendar} {
		add(nil, "basis."+string(b))
	}
	for _, ind := range indicators() {
		for _, w := range ind.Words {
			add(nil, wordID(ind.Name, w))
		}
	}
	for _, u := range Uses() {
		add(nil, "use."+u)
	}
	for _, v := range []Verdict{Do, Wait, Skip, Look, Closed, NotEnough} {
		add(nil, "verdict."+string(v))
	}
	add(nil, "answer.not_enough")
	add([]string{"rate"}, "amount.rate")
	add([]string{"product", "bag", "slow", "rate"}, "amount.bag")
	add([]string{"gate", "say"}, "dropped.gate")
	add([]string{"rule", "verdict"}, "dropped.outweighed")
	add([]string{"gate", "verdict"}, "dropped.outranked")

	for _, gate := range Gates() {
		add(nil, "gate."+gate+".name")
	}
	add([]string{"use"}, "gate.law.closed", "gate.law.not_cleared")
	for _, id := range []string{"unknown", "dormant", "resting"} {
		add([]string{"grass"}, "gate.growth."+id, "gate.growth."+id+"_why")
	}
	add([]string{"grass", "days"}, "gate.growth.too_slow", "gate.growth.too_slow_why")
	for _, id := range []string{"snow", "frozen"} {
		add(nil, "gate.storm."+id, "gate.storm."+id+"_why")
	}
	add([]string{"rain", "day"}, "gate.storm.heavy", "gate.storm.heavy_why", "gate.storm.warn_day")
	add([]string{"rain", "first", "last"}, "gate.storm.warn_two_days")
	add([]string{"last"}, "gate.storm.short_forecast")
	add(nil, "gate.storm.no_forecast")

	needs = append(needs, pestNeeds()...)
	needs = append(needs, seasonNeeds()...)

	record := []string{"place", "law", "citation", "checked", "jurisdiction", "months"}
	add(append(record, "days", "rule", "first", "last"), "law.closed_season", "law.closed_rule", "law.closed_rain", "law.unclear_rule")
	add([]string{"place", "law", "citation", "checked"}, "law.water_closed_all", "law.water_not_cleared")
	add(nil, "law.no_place", "law.everywhere", "days.all_week")
	add([]string{"first", "last"}, "days.through")
	add([]string{"place", "date"}, "law.next_opens")
	add([]string{"place", "date", "last"}, "law.next_closes")
	for _, f := range law.Flags() {
		add(record, "flag."+string(f))
	}
	for _, kind := range law.ConditionKinds() {
		add(append(record, "value", "second", "words", "rule", "text", "limits"), conditionPhrase(kind))
	}
	add(append(record, "value", "second", "words", "rule", "text", "limits"), "condition.rain_above", "condition.rain_unstated")
	add([]string{"products"}, "condition.only_products")
	add([]string{"days"}, "condition.only_days")
	return needs
}

// pestNeeds are the phrases of the gates that act on pesticides and seed, and of
// those that act on nitrogen besides law, growth and storm.
func pestNeeds() []Need {
	var needs []Need
	add := func(slots []string, ids ...string) {
		for _, id := range ids {
			needs = append(needs, Need{ID: id, Slots: slots})
		}
	}
	of := []string{"grass", "pest"}
	add(of, "gate.tolerance.say", "gate.tolerance.none_listed", "gate.heat.say", "gate.cold.say", "gate.overlap.say", "gate.spray.say")
	add([]string{"names", "hrac", "days"}, "herbicide.option")
	add([]string{"names", "days"}, "herbicide.option_no_group")
	add([]string{"name"}, "herbicide.with_care")
	add(nil, "herbicide.care")
	add([]string{"why"}, "herbicide.not_this_week")
	for _, b := range bars() {
		add([]string{"name", "grass", "value", "limit", "until"}, barPhrase(b))
	}
	for _, g := range []herbicide.UptakeGrade{herbicide.UptakeGood, herbicide.UptakeFair, herbicide.UptakePoor, herbicide.UptakeWait} {
		add([]string{"index"}, "herbicide.uptake_"+string(g))
	}
	add([]string{"days"}, "herbicide.symptoms", "herbicide.no_respray")

	for _, id := range []string{"unreported", "hold", "closed", "none", "silent", "no_insecticide", "no_insecticide_why"} {
		add([]string{"pest"}, "gate.treatment."+id)
	}
	for _, r := range disease.Reasons() {
		add([]string{"pest"}, treatPhrase(r))
	}
	spot := []string{"patches", "across", "buffer", "area", "share"}
	add(spot, "treat.spot", "treat.spot_share")
	add([]string{"code", "ingredients"}, "treat.group", "treat.group_if_home", "treat.group_with_partner", "treat.group_refused")
	add([]string{"of", "as"}, "insect.threshold")
	add([]string{"code", "ingredients", "when"}, "insect.group")

	add(nil, "gate.spray.no_hours", "gate.spray.none", "gate.spray.none_but_granules")
	add([]string{"day", "from", "to"}, "gate.spray.window_good", "gate.spray.window_marginal")
	add([]string{"day", "value", "grass"}, "gate.heat.feed", "gate.heat.feed_why")
	add([]string{"grass", "annual", "left"}, "gate.overlap.feed", "gate.overlap.feed_why", "gate.overlap.left")
	add([]string{"until"}, "gate.overlap.seed")
	add([]string{"used", "until"}, "gate.overlap.seed_why")
	add(nil, "gate.overlap.seed_label")
	add([]string{"used"}, "gate.overlap.seed_label_why")
	return needs
}
