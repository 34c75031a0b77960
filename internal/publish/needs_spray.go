package publish

import "ligule/internal/advice"

// sprayNeeds lists the phrases that print the hours fit for spraying.
func sprayNeeds() []advice.Need {
	var all []advice.Need
	say := func(id string, slots ...string) { all = append(all, advice.Need{ID: "spray." + id, Slots: slots}) }
	say("none_on_file")
	say("caption", "date", "wind", "hours")
	say("label")
	say("span", "from", "to")
	say("good", "hours")
	say("marginal", "hours", "reason")
	say("brief_marginal", "hours")
	say("none", "reason")
	say("short")
	say("unknown")
	say("absent")
	say("group4", "hours")
	closing, marginal := sprayReasons()
	for _, r := range append(closing, marginal...) {
		say("reason." + string(r))
	}
	return all
}
