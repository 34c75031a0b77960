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
	say("water_exempt", nil, "drip", "hand_held_shutoff", "reclaimed", "new_turf", "system_test")
	say("water_exempt", []string{"what"}, "plain")
	say("water_exempt", []string{"what", "terms"}, "with_terms")
	say("water_exempt", []string{"from", "to", "law"}, "any_day", "alternate_day")
	say("water_rule", []string{"place", "laws"}, "no_record", "closed_all", "not_cleared", "limited", "advised_against")
	say("water_rule", []string{"place", "inches", "law"}, "depth")
	return all
}
