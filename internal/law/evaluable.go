package law

import (
	"slices"
	"strconv"

	"ligule/internal/diag"
)

// hasCaps reports whether the rule carries any limit on rate or content.
func (r *Rule) hasCaps() bool {
	return r.PerAppTotalNLb1000 != nil || r.PerAppSolubleNLb1000 != nil || r.AnnualTotalNLb1000 != nil ||
		len(r.AnnualNByGrassLb1000) > 0 || r.MaxReleaseNLb1000Month != nil ||
		r.MinSlowPct != nil || r.MaxSlowPct != nil || r.PerAppPLb1000 != nil || r.AnnualPLb1000 != nil
}

// hasWeather reports whether the rule hangs on weather or ground. A rain rule
// may lack its depth: the law says "heavy rain" and no more.
func (r *Rule) hasWeather() bool {
	return len(r.Alerts) > 0 || len(r.Ground) > 0 || r.isRain()
}

func (r *Rule) isRain() bool { return r.RainIn != nil || r.RainBasis != "" || r.RainHours > 0 }

// banEvaluable reports whether the code can tell what the ban forbids: all
// use in a span, use in some weather, use near water, or use without an
// exception. A ban on a piece of equipment, say, is not a ban on fertilizer.
func (r *Rule) banEvaluable() bool {
	switch r.Topic {
	case "window", "phosphorus", "content", "sale", pesticideTopic:
		return true
	case "weather":
		return r.hasWeather()
	case "buffer":
		return r.BufferFt != nil
	}
	return len(r.Unless) > 0
}

// Gap is something in a record that the code cannot judge, or cannot judge
// from what a weekly question states.
type Gap struct {
	Rule *Rule
	// What is ban, cap or effect (no way to evaluate it: answered
	// not_cleared), season (hangs on the owner's growing season: not_cleared
	// until stated), rain_depth (heavy rain without a figure), release
	// (hangs on how fast a product releases) or duty (printed in the law's
	// own words).
	What       string
	NotCleared bool
	Pos        diag.Pos
}

// Unevaluated returns everything in a record that the code cannot judge, in
// the order of the file. Nothing else in a record is without effect.
func Unevaluated(rec *Record) []Gap {
	var gaps []Gap
	for i := range rec.Rules {
		r := &rec.Rules[i]
		gap := func(what string, notCleared bool, key string) {
			gaps = append(gaps, Gap{Rule: r, What: what, NotCleared: notCleared, Pos: r.PosOf(key)})
		}
		moves := r.Effect != EffectAdvise && !r.always()
		switch {
		case !moves:
		case r.Effect == EffectBan && !r.banEvaluable():
			gap("ban", true, "topic")
		case r.Effect == EffectCap && !r.hasCaps():
			gap("cap", true, "effect")
		case r.Effect != EffectBan && r.Effect != EffectCap && r.Effect != EffectRequire:
			gap("effect", true, "effect")
		}
		if slices.ContainsFunc(r.When, func(w When) bool { return w.Kind == "season" }) {
			gap("season", moves, "when")
		}
		if r.isRain() && r.RainIn == nil {
			gap("rain_depth", false, "topic")
		}
		if r.MaxReleaseNLb1000Month != nil {
			gap("release", false, "max_release_n_per_month")
		}
		if r.Duty == ownWords {
			gap("duty", false, "effect")
		}
	}
	return gaps
}

// ownWords is the duty of a requirement that has no code of its own: it is
// printed as the law writes it.
const ownWords = "as_written"

// formatFt writes feet without needless zeros: "15", "7.5".
func formatFt(ft float64) string { return strconv.FormatFloat(ft, 'f', -1, 64) }
