package publish

import (
	"ligule/internal/advice"
	"ligule/internal/agromet"
	"ligule/internal/disease"
	"ligule/internal/pest"
)

// pestNeeds lists the phrases that print pests.
func pestNeeds() []advice.Need {
	var all []advice.Need
	say := func(table string, slots []string, ids ...string) {
		for _, id := range ids {
			all = append(all, advice.Need{ID: table + "." + id, Slots: slots})
		}
	}
	say("pests", nil, "from_memory", "from_us", "weed_killers", "no_hrac")
	say("pests", []string{"code"}, "hrac")
	say("pests", []string{"from", "to"}, "days")
	say("pests", []string{"n"}, "weeks")
	say("pests", []string{"gallons", "liters"}, "volume")
	say("pests", []string{"as", "per_m2"}, "density")
	say("pests", []string{"ingredient", "grass", "note"}, "cell")
	say("pests.kind", nil, "disease", "weed", "insect")
	say("pests.kinds", nil, "disease", "weed", "insect")
	say("pests.weed_kind", nil, "grass", "sedge", "broadleaf")
	say("pests.grade", nil, "quiet", "watch", "act", "unknown")
	say("pests.confidence", nil, "high", "medium", "low")
	say("pests.host", nil, "0", "1", "2", "3")
	say("pests.lacks", nil, "weather", "temperature", "rain", "humidity", "soil", "growth", "snow", "days", "degree-days")
	say("pests.lacks", []string{"what"}, "these")
	say("pests.invalid", nil, pest.InvalidNoModel, pest.InvalidPageOnly, pest.InvalidTooCold, pest.InvalidTooHot)
	say("pests.invalid", []string{"where"}, pest.InvalidRegion)
	say("pests.why", []string{"score", "watch", "act"}, "score", "score_watch")
	say("pests.why", []string{"season", "date"}, "open")
	say("pests.why", nil, "closed", "reported", "history", "held", "never")
	say("pests.why", []string{"date"}, "treated")
	for _, a := range []disease.Answer{disease.AnswerOpen, disease.AnswerHold, disease.AnswerClosed, disease.AnswerNone, disease.AnswerSilent} {
		say("pests.answer", nil, string(a))
	}
	for _, r := range []disease.Reason{
		disease.ReasonNotIdentified, disease.ReasonColdInjury, disease.ReasonNeverWorth, disease.ReasonBelowThreshold, disease.ReasonNotSpreading,
		disease.ReasonNoHistory, disease.ReasonOutsideWindow, disease.ReasonDormant, disease.ReasonResting, disease.ReasonSlow, disease.ReasonGreenUp,
		disease.ReasonFrozen, disease.ReasonGrowthUnknown, disease.ReasonRainSoon, disease.ReasonTooHot, disease.ReasonTooCold, disease.ReasonWilting,
		disease.ReasonNoFitHours, disease.ReasonProtected, disease.ReasonGroup,
		disease.StepSample, disease.StepScout, disease.StepCulture, disease.StepSpot, disease.StepTwoGroups, disease.StepKeepDry, disease.StepWaterIn,
		disease.StepLabel, disease.StepWholeArea, disease.StepLicensed, disease.StepLetItGo, disease.StepRemember, disease.StepNextWindow,
		disease.StepMowAndFeed, disease.StepUrgent, disease.StepDrain, disease.StepOnce, disease.StepMorning, disease.StepProtectOnly,
	} {
		say("pests.reason", nil, string(r))
	}

	// The models of diseases, with the figures of their files.
	say("pests.model", []string{"slow_above", "slow_days", "slow_to"}, disease.ModelDollarSpot)
	say("pests.model", []string{"risk_from", "risk_full", "soil_from", "allowance"}, disease.ModelBrownPatch)
	say("pests.model", []string{"soil_1", "soil_2", "soil_3", "soil_4", "wet_day", "wet_span", "damp", "dry"}, disease.ModelLargePatch)
	say("pests.model", []string{"night_from", "night_to", "best_from", "best_to", "best_wetness", "other_wetness", "young_factor", "rain_day", "rain_days", "rainy", "warm"},
		disease.ModelGrayLeafSpot)
	say("pests.model", []string{"day_above", "night_above", "humidity", "rain", "mild_day", "mild_night", "mild_rain", "wet", "warm"}, disease.ModelPythium)
	say("pests.model", []string{"air_1", "air_2", "air_3", "air_4", "wetness", "rain_day", "rain_days"}, disease.ModelWetSpell)
	say("pests.model", []string{"from", "full"}, disease.ModelSnowCover)
	say("pests.model", nil, disease.ModelSoilWindow, disease.ModelNone, "slow_growth")
	say("pests.grading", []string{"watch", "act", "leave_watch", "leave_act"}, "limits")
	say("pests.grading", []string{"more"}, "common_host")
	say("pests.grading", []string{"score"}, "confirmed")
	say("pests.grading", []string{"grade"}, "cap")
	say("pests.grading", nil, "dormant")
	say("pests.season", []string{"opens", "after"}, "rising", "falling")
	say("pests.season", []string{"closes"}, "closes")
	say("pests.season", []string{"days"}, "lasts")
	say("pests.season_state", []string{"date"}, pest.WindowOpen, pest.WindowAfter)
	say("pests.season_state", nil, pest.WindowBefore, "unknown")

	// The timings of weeds and insects.
	say("pests.method", []string{"start", "base"}, "average", "single_sine", "double_sine", "daily_mean", "daily_mean_soil", "warm_days", "warm_days_soil")
	say("pests.method", []string{"start", "base", "upper"}, "capped_average", "modified_average")
	say("pests.method", []string{"start"}, "none")
	say("pests.method", nil, "momentary")
	say("pests.method", []string{"value"}, "still_at_most", "still_at_least")
	say("pests.method", []string{"sum", "stage"}, "generation")
	say("pests.cutoff", []string{"upper"}, string(agromet.HorizontalCutoff), string(agromet.IntermediateCutoff), string(agromet.VerticalCutoff))
	say("pests.region", []string{"degrees"}, "south", "north", "west", "east")
	say("pests.sum", []string{"f", "c"}, "us", "metric")
	say("pests.sum", []string{"n"}, "warm")
	say("pests.when", []string{"sum"}, "sum")
	say("pests.when", []string{"date"}, "from")
	say("pests.when", []string{"date", "latitude", "later"}, "arrival")
	say("pests.when", []string{"stage", "days"}, "after_days")
	say("pests.when", []string{"stage", "sum"}, "after_sum")
	say("pests.when", nil, "and")
	say("pests.when", []string{"bound", "held"}, "soil", "air", "day", "night", "rain")
	say("pests.when", []string{"bound", "days", "held"}, "soil_over", "air_over", "day_over", "rain_over")
	say("pests.when", []string{"bound", "days"}, "night_lead")
	say("pests.bound", []string{"value"}, "at_least", "at_most")
	say("pests.bound", []string{"from", "to"}, "between")
	say("pests.bound", []string{"days"}, "held")
	say("pests.shift", []string{"stages", "when"}, "up", "down")

	// Treatment.
	say("pests.trigger", []string{"share"}, "area", "spread", "first_sign", "history", "never", "young")
	say("pests.trigger", nil, "only_young", "while_growing", "preventive")
	say("pests.trigger", []string{"distance"}, "buffer")
	say("pests.trigger", []string{"days"}, "interval")
	say("pests.effect", nil, "good", "fair", "little", "not_rated", "unsourced")
	say("pests.resistant", nil, "known", "reported")
	say("pests.home", nil, "yes", "no", "unknown")
	say("pests.target", nil, string(disease.TargetLeaf), string(disease.TargetSheath), string(disease.TargetCrown), string(disease.TargetRoot), string(disease.TargetSoil))
	say("pests.place", []string{"volume"}, "carrier")
	say("pests.place", []string{"from", "to"}, "carrier_range")
	say("pests.place", []string{"depth"}, "water_in")
	say("pests.place", []string{"depth", "days"}, "water_in_within")
	say("pests.place", []string{"days"}, "second")
	say("pests.place", []string{"hours"}, "dry", "dry_better")
	say("pests.rotation", nil, "label", "two")
	say("pests.rotation", []string{"n"}, "row", "year")
	say("pests.worth", nil, "history")
	say("pests.role", nil, "preventive", "curative", "bait", "biological")
	say("pests.use", nil, "before", "after")
	for _, t := range tolerances {
		say("pests.tolerance", nil, underscored(string(t)))
	}
	say("pests.heat", []string{"value"}, "all")
	say("pests.heat", []string{"grass", "value"}, "on")
	say("pests.seed", []string{"ingredient"}, "at_seeding")
	say("pests.seed", []string{"ingredient", "broadcast", "slit"}, "after")
	say("pests.class", nil, "useful", "cold", "night", "heat", "soil", "rainfast", "symptoms", "death", "respray", "year", "drought", "fails")
	say("pests.class", []string{"grass"}, "heat_on")
	return all
}
