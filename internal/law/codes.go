package law

// Flags lists all flags, so that whoever words them can see that none is
// without a sentence.
func Flags() []Flag {
	return []Flag{AlertBased, DeclarationOpenEnded, DeclarationStatusUnknown, EdgeAssumed, ExpiredNoSuccessor, ForecastBased,
		NoRecord, NotYetEffective, OnHold, Preempted, SeasonUnknown, Secondary, Stale, Unverified}
}

// ConditionKinds lists every kind of condition, for the same purpose.
func ConditionKinds() []string {
	kinds := []string{"per_app_total_n", "per_app_soluble_n", "annual_n", "release_n", "min_slow", "max_slow", "per_app_p2o5", "annual_p2o5",
		"buffer", "rain", "alert", "ground", "phosphorus", "exception", "product", "on_hold", "advice:"}
	for _, d := range Duties() {
		kinds = append(kinds, "duty:"+d, "advice:"+d)
	}
	return kinds
}
