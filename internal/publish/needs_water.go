package publish

import "ligule/internal/advice"

// waterNeeds lists the phrases that print watering law.
func waterNeeds() []advice.Need {
	var all []advice.Need
	say := func(table string, slots []string, ids ...string) {
		for _, id := range ids {
			all = append(all, advice.Need{ID: table + "." + id, Slots: slots})
		}
	}
	say("water_state", nil, "no_record", "closed_all", "not_cleared", "limited", "advised_against", "open")
	say("water_source", nil, "public", "well", "surface", "reclaimed")
	say("water_group", []string{"digits"}, "all", "numbered", "odd", "even", "digit_0_1", "digit_2_3", "digit_4_5", "digit_6_7", "digit_8_9",
		"digits", "letter", "no_number", "nonresidential")
	say("water_group", []string{"group"}, "without_letter", "any_letter", "or_no_number", "not_homes")
	say("water_group", []string{"group", "digits"}, "some_letters")
	say("water_day", nil, "open", "advised_against", "not_cleared", "closed")
	say("water_day", []string{"from", "to"}, "span")
	say("clock", nil, "midnight", "noon")
	say("clock", []string{"time"}, "am", "pm")
	say("days", nil, "all_week")
	say("days", []string{"first", "last"}, "through")
	say("clause", nil, "and")
	say("law", nil, "everywhere")
	say("water_stage", []string{"days"}, "none", "unknown")
	say("water_stage", []string{"n", "name", "days"}, "voluntary", "mandatory")
	say("water_flag", []string{"law", "checked", "date", "months"}, "declaration_open_ended", "declaration_status_unknown", "expired_no_successor",
		"not_yet_effective", "secondary", "stale", "unverified")
	say("water_cap", []string{"inches", "law", "citation"}, "depth")
	say("water_cap", []string{"minutes", "law", "citation"}, "minutes")
	say("water_in", []string{"place"}, "no_record")
	say("water_in", []string{"place", "laws"}, "not_exempt", "not_cleared")
	say("water_in", []string{"place", "laws", "inches", "hours"}, "exempt")
	say("water_exempt", nil, "drip", "hand_held_shutoff", "reclaimed", "new_turf", "water_in", "system_test")
	say("water_exempt", []string{"what"}, "plain")
	say("water_exempt", []string{"what", "terms"}, "with_terms")
	say("water_exempt", []string{"from", "to", "law"}, "any_day", "alternate_day")
	say("water_rule", []string{"place", "laws"}, "no_record", "closed_all", "not_cleared", "limited", "advised_against")
	say("water_rule", []string{"place", "inches", "law"}, "depth")
	say("water_force", nil, "mandatory", "voluntary", "by_stage")
	say("water_number", []string{"group"}, "none", "letter")
	say("water_number", nil, "letter_ignored")
	say("water_number", []string{"digit"}, "digit")
	say("water_rule_of", nil, "always", "parity", "day_31", "ban", "no_day")
	say("water_rule_of", []string{"from", "to"}, "hours")
	say("water_rule_of", []string{"group", "days"}, "days")
	say("water_rule_of", []string{"n"}, "replaces")
	say("water_when", nil, "always", "summer_clock", "winter_clock")
	say("water_stage", []string{"n", "name", "force"}, "title")
	say("water_order", []string{"n", "first", "last"}, "span", "open")
	say("water_term", []string{"from", "to"}, "any_day", "alternate_day")
	say("water_term", []string{"inches", "hours"}, "water_in")
	say("water_term", []string{"stages"}, "stages")
	return all
}
