package law

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// More real law, on the terms of the tests before: read in copies and
// summaries at one time, here to test the model alone.

// Virginia, 2011 Acts ch. 341 and 353, as the session summaries of HB 1831 and
// SB 1055 give them: from December 31, 2013 phosphorus is barred from the use
// and sale of lawn maintenance fertilizer.
func TestPublishedVirginiaFromTheLastDayOf2013(t *testing.T) {
	const exempt = `exempt_products = ["starter", "manipulated_manure", "compost"]
`
	state := realLaw(t, "va", "state", "", "2011 Va. Acts ch. 341, 353", "effective_from = 2013-12-31", `
[[rules]]
id = "use"
citation = "2011 Acts ch. 341"
topic = "phosphorus"
effect = "ban"
targets = ["P"]
binds = ["all"]
`+exempt+`
[[rules]]
id = "sale"
citation = "2011 Acts ch. 341"
topic = "sale"
effect = "ban"
targets = ["P"]
binds = ["retailer"]
`+exempt)
	starter, compost := withP, withP
	starter.Class, compost.Class = "starter", "compost"
	checkLaw(t, []*Record{state}, []dated{
		{"the day before", "2013-12-30", withP, nil, NotCleared, ""}, // no record speaks, and none says that there was no rule
		{"from December 31, 2013", "2013-12-31", withP, nil, Closed, "va/use"},
		{"no season", "2026-07-04", withP, nil, Closed, "va/use"},
		{"starter", "2026-04-01", starter, nil, Open, ""},
		{"compost", "2026-04-01", compost, nil, Open, ""},
		{"nitrogen in winter", "2026-01-15", slowN, nil, Open, ""},
		{"sale", "2026-04-01", withP, actor(Retailer), Closed, "va/sale"},
		{"sale of starter", "2026-04-01", starter, actor(Retailer), Open, ""},
	})
}

// Washington, RCW 15.54.500.
func TestPublishedWashington(t *testing.T) {
	state := realLaw(t, "wa", "state", "", "RCW 15.54.500", "effective_from = 2013-01-01", `
[[rules]]
id = "phosphorus"
citation = "15.54.500"
topic = "phosphorus"
effect = "ban"
targets = ["P"]
binds = ["all"]
unless = ["soil_test_p", "new_turf", "repair"]
soil_test_max_age_months = 36
[[rules]]
id = "frozen"
citation = "15.54.500"
topic = "weather"
effect = "ban"
targets = ["P"]
binds = ["all"]
ground = ["frozen"]
`)
	checkLaw(t, []*Record{state}, []dated{
		{"no phosphorus", "2026-05-01", withP, nil, Closed, "wa/phosphorus"},
		{"establish", "2026-05-01", withP, newTurf, Conditional, ""},
		{"repair", "2026-05-01", withP, func(q *Question) { q.Repair = true }, Conditional, ""},
		{"test of 36 months", "2026-05-01", withP, soilTest("2023-05-01"), Conditional, ""},
		{"test of 36 months", "2026-05-02", withP, soilTest("2023-05-01"), Closed, "wa/phosphorus"},
		{"frozen ground, whatever the test says", "2026-02-01", withP, both(soilTest("2025-05-01"), ground("frozen")), Closed, "wa/frozen"},
		{"nitrogen on frozen ground", "2026-02-01", slowN, ground("frozen"), Open, ""},
	})
}

// Massachusetts, 330 CMR 31.05. The winter dates are those of a lake
// association's summary, so their edges are assumed.
func TestPublishedMassachusetts(t *testing.T) {
	state := realLaw(t, "ma", "state", "", "330 CMR 31.05", "effective_from = 2015-06-05", `
[[rules]]
id = "winter"
citation = "31.05, from a summary"
topic = "window"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
when = [{ kind = "annual", from = "12-01", to = "03-01", bounds = "[]", bounds_basis = "assumed" }]
[[rules]]
id = "ground"
citation = "31.05, from a summary"
topic = "weather"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
ground = ["frozen", "snow", "saturated"]
[[rules]]
id = "phosphorus"
citation = "31.05"
topic = "phosphorus"
effect = "ban"
targets = ["P"]
binds = ["all"]
exempt_products = ["natural_organic"]
unless = ["soil_test_p", "new_turf", "repair"]
soil_test_max_age_months = 36
new_turf_seasons = 1
[[rules]]
id = "organic"
citation = "31.05"
topic = "rate"
effect = "cap"
targets = ["P"]
binds = ["all"]
only_products = ["natural_organic"]
per_app_p2o5 = 0.25
p_basis = "P2O5"
`)
	checkLaw(t, []*Record{state}, []dated{
		{"December 1", "2026-11-30", slowN, nil, Conditional, ""},
		{"December 1", "2026-12-01", slowN, nil, Closed, "ma/winter"},
		{"March 1", "2026-03-01", slowN, nil, Closed, "ma/winter"},
		{"March 1", "2026-03-02", slowN, nil, Conditional, ""},
		{"snow", "2026-11-20", slowN, ground("snow"), Closed, "ma/ground"},
		{"saturated", "2026-05-20", slowN, ground("saturated"), Closed, "ma/ground"},
		{"soil test of three years", "2026-05-20", withP, soilTest("2023-05-20"), Conditional, ""},
		{"soil test of three years", "2026-05-21", withP, soilTest("2023-05-20"), Closed, "ma/phosphorus"},
		{"second growing season", "2026-05-21", withP, both(newTurf, func(q *Question) { q.GrowingSeason = 2 }), Closed, "ma/phosphorus"},
		{"organic at a quarter pound P2O5", "2026-05-20", org, rate(12.5), Conditional, ""},
		{"organic at a quarter pound P2O5", "2026-05-20", org, rate(12.6), Closed, "ma/organic:p2o5"},
	})
}

// Miami-Dade County, Florida, Ordinance 21-26, as the county's extension note
// gives it. It holds in the county's cities as well.
func TestPublishedMiamiDadeHoldsInCities(t *testing.T) {
	county := realLaw(t, "miami-dade", "county", "", "Miami-Dade County Ord. 21-26", "effective_from = 2021-05-01", `
[[rules]]
id = "season"
citation = "as the county gives it"
topic = "window"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
when = [{ kind = "annual", from = "05-15", to = "10-31", bounds = "[]", bounds_basis = "text" }]
[[rules]]
id = "year"
citation = "as the county gives it"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
annual_total_n = 4.0
[[rules]]
id = "buffer"
citation = "as the county gives it"
topic = "buffer"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
buffer_ft = 20
measured_from = "water_edge"
[[rules]]
id = "strip"
citation = "as the county gives it"
topic = "buffer"
effect = "advise"
targets = ["any"]
binds = ["all"]
buffer_ft = 10
duty = "low_maintenance_strip"
`)
	cases := []dated{
		{"May 15", "2026-05-14", slowN, nil, Conditional, ""},
		{"May 15", "2026-05-15", slowN, nil, Closed, "miami-dade/season"},
		{"October 31", "2026-10-31", slowN, nil, Closed, "miami-dade/season"},
		{"October 31", "2026-11-01", slowN, nil, Conditional, ""},
		{"20 feet", "2026-04-01", slowN, near(19.9, "drop_spreader"), Closed, "miami-dade/buffer:20ft"},
		{"20 feet", "2026-04-01", slowN, near(20, "rotary"), Conditional, ""},
	}
	checkLaw(t, []*Record{county}, cases)
	list := []Jurisdiction{{ID: "a-city", Level: "municipal", Parent: "miami-dade", Coverage: "none_found", CheckedOn: day("2026-01-01")}}
	a := NewBook([]*Record{county}, list).Ask(Question{Place: Place{Chain: []string{"miami-dade", "a-city"}}, Product: slowN, Date: day("2026-06-01"), AsOf: day("2026-03-01")})
	assert.Equal(t, Closed, a.Verdict)
	var kinds []string
	for _, c := range NewBook([]*Record{county}, nil).Conditions(Question{Place: Place{Chain: []string{"miami-dade"}}, Product: Product{Unknown: true, Nutrients: []string{"N"}}, Date: day("2026-04-01")}) {
		kinds = append(kinds, c.Kind)
	}
	assert.Contains(t, kinds, "advice:low_maintenance_strip", "the strip is voluntary")
}

// Islamorada, Florida, answers of the village on its fertilizer rules.
func TestPublishedIslamoradaAlertsForAnyPortionOfTheCounty(t *testing.T) {
	village := realLaw(t, "islamorada", "municipal", "", "Islamorada, Florida, questions 116 and 120", "effective_from = 2020-01-01", `
[[rules]]
id = "alerts"
citation = "as the village gives it"
topic = "weather"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
alerts = ["Flood Watch", "Flood Warning", "Tropical Storm Watch", "Tropical Storm Warning", "Hurricane Watch", "Hurricane Warning"]
alert_scope = "any_part_of_county"
[[rules]]
id = "deflector"
citation = "as the village gives it"
topic = "equipment"
effect = "require"
targets = ["any"]
binds = ["all"]
duty = "deflector_on_rotary"
[[rules]]
id = "clippings"
citation = "as the village gives it"
topic = "clippings"
effect = "require"
targets = ["always"]
binds = ["all"]
duty = "no_clippings_in_street_or_water"
`)
	alert := func(name string) func(*Question) { return weather(Weather{Alerts: []string{name}}) }
	checkLaw(t, []*Record{village}, []dated{
		{"hurricane watch", "2026-09-01", slowN, alert("Hurricane Watch"), Closed, "islamorada/alerts"},
		{"flood warning", "2026-09-01", slowN, alert("Flood Warning"), Closed, "islamorada/alerts"},
		{"a flash flood warning is another event", "2026-09-01", slowN, alert("Flash Flood Warning"), Conditional, ""},
		{"iron under a hurricane watch", "2026-09-01", ironK, alert("Hurricane Watch"), Conditional, ""},
		{"lime needs no deflector", "2026-09-01", lime, nil, Open, ""},
	})
}

// Orange County, Florida, Code 15-804: the slow-release share rises from 50 to
// 65 percent on July 1, 2020. Whether such products are on sale is a question
// of fact that the record takes as answered.
func TestPublishedOrangeCountyStepsUpItsSlowShare(t *testing.T) {
	county := realLaw(t, "orange", "county", "", "Orange County, Fla., Code 15-804", "effective_from = 2017-08-01", `
[[rules]]
id = "slow-50"
citation = "15-804"
topic = "content"
effect = "cap"
targets = ["N"]
binds = ["homeowner"]
min_slow_pct = 50
effective_to = 2020-06-30
[[rules]]
id = "slow-65"
citation = "15-804"
topic = "content"
effect = "cap"
targets = ["N"]
binds = ["homeowner"]
min_slow_pct = 65
effective_from = 2020-07-01
`)
	checkLaw(t, []*Record{county}, []dated{
		{"50 percent", "2020-06-30", lawn50, nil, Conditional, ""},
		{"65 percent", "2020-07-01", lawn50, nil, Closed, "orange/slow-65:slow_pct"},
		{"65 percent", "2020-07-01", lawn67, nil, Conditional, ""},
		{"50 percent", "2020-06-30", urea, nil, Closed, "orange/slow-50:slow_pct"},
	})
	var list []string
	b := NewBook([]*Record{county}, nil)
	for _, d := range []string{"2020-06-30", "2020-07-01"} {
		for _, c := range b.Conditions(Question{Place: Place{Chain: []string{"orange"}}, Product: Product{Unknown: true, Nutrients: []string{"N"}}, Date: day(d)}) {
			list = append(list, c.Kind+" "+formatFt(c.Value))
		}
	}
	assert.Equal(t, []string{"min_slow 50", "min_slow 65"}, list)
}

// A pattern of Florida city codes (Neptune Beach, Code 24-31 and 24-33; Palm
// Shores, Code 94.06): within the strip new plants may be fed only in the 60
// days that begin 30 days after planting. The widths are those of one of them.
func TestPublishedFloridaCitiesLetNewPlantsBeFedInTheStrip(t *testing.T) {
	city := realLaw(t, "a-florida-city", "municipal", "", "Neptune Beach, Fla., Code 24-33", "effective_from = 2015-01-01", `
[[rules]]
id = "strip"
citation = "24-33"
topic = "buffer"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
buffer_ft = 10
reduced_ft = 3
reduced_with = ["rotary_deflector", "drop_spreader"]
exempt_planting_days = [30, 89]
measured_from = "water_edge"
`)
	planted := func(ft float64) func(*Question) {
		return both(near(ft, "rotary"), func(q *Question) { q.Planted = day("2026-03-02") })
	}
	checkLaw(t, []*Record{city}, []dated{
		{"within 10 feet", "2026-04-01", slowN, near(9, "rotary"), Closed, "a-florida-city/strip:10ft"},
		{"3 feet with a shield", "2026-04-01", slowN, near(3, "rotary_deflector"), Conditional, ""},
		{"29 days after planting", "2026-03-31", slowN, planted(1), Closed, "a-florida-city/strip:10ft"},
		{"30 days after planting", "2026-04-01", slowN, planted(1), Conditional, ""},
		{"89 days after planting", "2026-05-30", slowN, planted(1), Conditional, ""},
		{"90 days after planting", "2026-05-31", slowN, planted(1), Closed, "a-florida-city/strip:10ft"},
	})
}

// realWater makes a record of a real watering law for a test.
func realWater(t *testing.T, rest string) *WaterRecord {
	t.Helper()
	r := readWater(t, `schema = 1
id = "law"
jurisdiction = "here"
applies_in = "all"
tz = "America/New_York"
effective_from = 2000-01-01
verification = "verified"
checked_on = 2026-01-01
source_water = ["public"]
`+rest)
	return r
}

type watered struct {
	says, when, house string
	with              func(*WaterQuestion)
	want              WaterVerdict
}

func checkWater(t *testing.T, r *WaterRecord, cases []watered) {
	t.Helper()
	for _, c := range cases {
		d, text := at(c.when)
		minute, ok := clock(text)
		require.True(t, ok)
		q := WaterQuestion{Date: day(d), Minute: minute, House: c.house, AsOf: day("2026-03-01")}
		if c.with != nil {
			c.with(&q)
		}
		assert.Equal(t, c.want.String(), r.Ask(q).Verdict.String(), "%s: %s, %q", c.says, c.when, c.house)
	}
}

// Winter Garden, Florida, Code 94-163: two days a week in daylight time and one
// in standard time by house number, none from 10 to 4, a quarter inch to water
// in within 24 hours, new turf any day for 30 days and every other for 30. The
// weekdays are from memory.
func TestPublishedWinterGardenWatering(t *testing.T) {
	r := realWater(t, `citation = "Winter Garden, Fla., Code 94-163"
force = "mandatory"
no_number = "odd"
letter_suffix = "ignore"
closed_hours = [["10:00", "16:00"]]
schedules = [
  { id = "daylight", when = { kind = "dst", active = true }, days = { odd = ["Wed", "Sat"], even = ["Thu", "Sun"], nonresidential = ["Tue", "Fri"] } },
  { id = "standard", when = { kind = "dst", active = false }, days = { odd = ["Sat"], even = ["Sun"], nonresidential = ["Tue"] } },
]
exempt = [
  { what = "new_turf", any_day = [0, 29], alternate_day = [30, 59] },
  { what = "water_in", max_in = 0.25, within_hours = 24 },
]
`)
	checkWater(t, r, []watered{
		{"two days in daylight time", "2012-03-14 06:00", "7", nil, WaterOpen}, // three days after the clock changed
		{"one day in standard time", "2012-03-07 06:00", "7", nil, WaterClosed},
		{"one day in standard time", "2019-11-06 06:00", "7", nil, WaterClosed}, // three days after it changed back
		{"two days in daylight time", "2019-10-30 06:00", "7", nil, WaterOpen},
		{"none from 10 a.m.", "2026-07-15 10:00", "7", nil, WaterClosed},
		{"to 4 p.m.", "2026-07-15 16:00", "7", nil, WaterOpen},
		{"a quarter inch within 24 hours", "2026-07-13 08:00", "7", func(q *WaterQuestion) { q.WaterIn = &WaterIn{day("2026-07-12"), 600, 0.25} }, WaterOpen},
		{"every other day after the first 30", "2026-07-13 08:00", "7", func(q *WaterQuestion) { q.Planted = day("2026-07-13") - 31 }, WaterClosed},
		{"every other day after the first 30", "2026-07-13 08:00", "7", func(q *WaterQuestion) { q.Planted = day("2026-07-13") - 32 }, WaterOpen},
	})
	open := 0
	for _, d := range NewBook(nil, nil).WithWatering([]*WaterRecord{r}).WaterWeek(Place{Chain: []string{"here"}}, "public", day("2026-01-12"), day("2026-01-11")).Groups[0].Days {
		if d.Verdict == WaterOpen {
			open++
		}
	}
	assert.Equal(t, 1, open)
}

// Georgia, Rule 391-3-30-.07 and the agency's page on Level 2: "Wednesday and
// Saturday before 10 and after 16", both ends of the same date; Level 2 includes
// Level 1, and a lot without a number counts as even. That those are the days
// of even numbers, that odd ones have Thursday and Sunday, and that the hours
// are Level 1's is from memory.
func TestPublishedGeorgiaLevelTwo(t *testing.T) {
	r := realWater(t, `citation = "Ga. Comp. R. & Regs. 391-3-30-.07"
force = "by_stage"
no_number = "even"
letter_suffix = "ignore"
stages = [
  { n = 1, name = "Level 1", force = "mandatory", closed_hours = [["10:00", "16:00"]] },
  { n = 2, name = "Level 2", force = "mandatory", days = { odd = ["Thu", "Sun"], even = ["Wed", "Sat"] } },
]
declared = [{ stage = 2, from = 2026-05-04, to = 2026-09-30 }]
`)
	checkWater(t, r, []watered{
		{"Wednesday before 10", "2026-05-20 09:59", "14", nil, WaterOpen},
		{"Wednesday after 4", "2026-05-20 23:00", "14", nil, WaterOpen},
		{"a night does not run on into Thursday", "2026-05-21 01:00", "14", nil, WaterClosed},
		{"Level 2 includes Level 1", "2026-05-20 12:00", "14", nil, WaterClosed},
		{"no number counts as even", "2026-05-20 07:00", "", nil, WaterOpen},
		{"odd on Thursday", "2026-05-21 07:00", "15", nil, WaterOpen},
		{"before it is declared", "2026-05-03 12:00", "15", nil, WaterOpen},
	})
}

// Southwest Florida Water Management District, shortage orders of 2007 and
// 2012, as its news and Punta Gorda's page give them: the last digit sets the
// day, 0 and 1 on Monday through 8 and 9 on Friday; no number, or one that ends
// in a letter, joins 8 and 9.
func TestPublishedSouthwestFloridaByLastDigit(t *testing.T) {
	r := realWater(t, `citation = "district shortage order, as the district gives it"
force = "mandatory"
no_number = "digit:9"
letter_suffix = "digit:9"
schedules = [{ id = "order", days = { digit_0_1 = ["Mon"], digit_2_3 = ["Tue"], digit_4_5 = ["Wed"], digit_6_7 = ["Thu"], digit_8_9 = ["Fri"] } }]
`)
	checkWater(t, r, []watered{
		{"0 on Monday", "2026-05-18 05:00", "1420", nil, WaterOpen},
		{"1 on Monday", "2026-05-18 05:00", "21", nil, WaterOpen},
		{"2 on Monday", "2026-05-18 05:00", "22", nil, WaterClosed},
		{"9 on Friday", "2026-05-22 05:00", "9", nil, WaterOpen},
		{"no number on Friday", "2026-05-22 05:00", "", nil, WaterOpen},
		{"a letter on Friday", "2026-05-22 05:00", "20B", nil, WaterOpen},
		{"a letter on Monday", "2026-05-18 05:00", "20B", nil, WaterClosed},
		{"Saturday", "2026-05-23 05:00", "9", nil, WaterClosed},
	})
}

// Wall, South Dakota, and Hoyt Lakes, Minnesota: odd numbers on odd dates, even
// on even, and nobody on the 31st.
func TestPublishedOddDatesAndNoneOnThe31st(t *testing.T) {
	r := realWater(t, `citation = "city code"
force = "mandatory"
no_number = "odd"
letter_suffix = "ignore"
calendar_parity = true
closed_on_31st = true
`)
	checkWater(t, r, []watered{
		{"odd on odd", "2026-07-29 06:00", "7", nil, WaterOpen},
		{"even on odd", "2026-07-29 06:00", "8", nil, WaterClosed},
		{"even on even", "2026-07-30 06:00", "8", nil, WaterOpen},
		{"the 31st", "2026-07-31 06:00", "7", nil, WaterClosed},
		{"the first follows the 31st", "2026-08-01 06:00", "7", nil, WaterOpen},
	})
}
