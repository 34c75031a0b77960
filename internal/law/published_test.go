package law

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/turf"
)

// The law in this file is real and is here to test the model alone: read in
// copies and summaries of the texts named, at one time, and not shipped as
// data. What no text or summary confirmed is marked as from memory; dates of
// effect that they do not give stand in for the real ones and are not tested.

func window(from, to, b string) When {
	x, err := ParseAnchor(from)
	if err != nil {
		panic(err)
	}
	y, err := ParseAnchor(to)
	if err != nil {
		panic(err)
	}
	return When{Kind: "annual", FromAnchor: x, ToAnchor: y, Bounds: b, BoundsBasis: "text"}
}

func TestPublishedClosedPeriods(t *testing.T) {
	for _, c := range []struct {
		source      string
		from, to, b string
		year        int
		first, last string
		days        int
	}{
		{"Maryland Code, Agriculture 8-803.5 (before March 1 or after November 15); the agriculture department's notice for winter 2020-21 prints November 16 through February 28",
			"11-15", "03-01", "()", 2020, "2020-11-16", "2021-02-28", 105},
		{"the same law; the notice for winter 2019-20 prints November 16 to February 29",
			"11-15", "03-01", "()", 2019, "2019-11-16", "2020-02-29", 106},
		{"New Jersey, N.J.S.A. 58:10A-62, professionals (before March 1 or after December 1)",
			"12-01", "03-01", "()", 2026, "2026-12-02", "2027-02-28", 89},
		{"New York, Environmental Conservation Law 17-2103 (between December 1 and April 1); the agency's statement of 2012: use April 2 to November 30",
			"12-01", "04-01", "[]", 2026, "2026-12-01", "2027-04-01", 122},
		{"Pinellas County, Florida, fertilizer ordinance (June 1 to September 30)",
			"06-01", "09-30", "[]", 2026, "2026-06-01", "2026-09-30", 122},
		{"Miami-Dade County, Florida, Ordinance 21-26 (May 15 to October 31)",
			"05-15", "10-31", "[]", 2026, "2026-05-15", "2026-10-31", 170},
		{"Alachua County, Florida, landscape fertilizer code, as reported (July through February), common year",
			"07-01", "02-last", "[]", 2026, "2026-07-01", "2027-02-28", 243},
		{"the same, leap year",
			"07-01", "02-last", "[]", 2027, "2027-07-01", "2028-02-29", 244},
		{"Germany, fertilizer ordinance, grassland (November 1 to January 31 inclusive)",
			"11-01", "01-31", "[]", 2026, "2026-11-01", "2027-01-31", 92},
		{"Northern Ireland, S.R. 2019/81 (September 15 in any year to January 31 of the following year)",
			"09-15", "01-31", "[]", 2019, "2019-09-15", "2020-01-31", 139},
		{"Vermont, 10 V.S.A. 1266b (before April 1 or after October 15)",
			"10-15", "04-01", "()", 2026, "2026-10-16", "2027-03-31", 167},
	} {
		w := window(c.from, c.to, c.b)
		first, last := w.Season(c.year)
		assert.Equal(t, c.first, first.String(), c.source)
		assert.Equal(t, c.last, last.String(), c.source)
		assert.Equal(t, c.days, int(last-first)+1, c.source)
	}
}

// 101 Pa. Code 15.154 (legislative drafting manual): a period that "begins
// July 1, 1961 and ends June 30, 1962" is written "after June 30, 1961 and
// before July 1, 1962".
func TestPublishedDraftingRuleForPeriods(t *testing.T) {
	first, last := bounds(day("1961-06-30"), day("1962-07-01"), "()")
	assert.Equal(t, "1961-07-01", first.String())
	assert.Equal(t, "1962-06-30", last.String())
	assert.Equal(t, 365, int(last-first)+1)
	begins, ends := bounds(day("1961-07-01"), day("1962-06-30"), "[]")
	assert.Equal(t, first, begins)
	assert.Equal(t, last, ends)
}

// Daylight saving time of the United States, second Sunday of March to first
// Sunday of November, as a city code prints it (Winter Garden, Florida, Code
// 94-163); instances from a notice of 2012 and news of 2019.
func TestPublishedClockChanges(t *testing.T) {
	spring, err := ParseAnchor("nth:2-Sun-03")
	require.NoError(t, err)
	autumn, err := ParseAnchor("nth:1-Sun-11")
	require.NoError(t, err)
	assert.Equal(t, "2012-03-11", spring.in(2012, false).String())
	assert.Equal(t, "2019-11-03", autumn.in(2019, false).String())
	assert.Equal(t, "2026-03-08", spring.in(2026, false).String())
	assert.Equal(t, "2026-11-01", autumn.in(2026, false).String())
	// The zone's own rules agree in every year since the Energy Policy Act of
	// 2005 took effect in 2007.
	loc, err := time.LoadLocation("America/New_York")
	require.NoError(t, err)
	for y := 2007; y <= 2030; y++ {
		for _, a := range []Anchor{spring, autumn} {
			yy, m, d := a.in(y, false).YMD()
			before := time.Date(yy, time.Month(m), d, 0, 30, 0, 0, loc)
			assert.NotEqual(t, before.IsDST(), before.Add(6*time.Hour).IsDST(), "%d %s", y, a)
		}
	}
}

// Florida label rule 5E-1.003, as given by Trenholm, "Urban Turf Fertilizer
// Rule for Home Lawn Fertilization" (UF/IFAS EP353): up to 2 lb of nitrogen in
// spring or summer at 65 % or more controlled release, at most 0.7 lb soluble.
// The two limits meet exactly.
func TestPublishedControlledReleaseMeetsTheSolubleCap(t *testing.T) {
	assert.InDelta(t, 0.700, 2*(1-0.65), 1e-12)
	assert.InDelta(t, 2.0, LargestNLb1000(2, 0.7, 0.65), 1e-9)
	assert.False(t, over(2*(1-0.65), 0.7))
}

// Germany, fertilizer ordinance: an authority may move a closed period. A
// published move turned November 15 to January 31 into November 1 to January
// 15: 78 days into 76, so a move is kept as dates and not as an offset.
func TestPublishedMovedPeriodIsNotAnOffset(t *testing.T) {
	w := window("11-15", "01-31", "[]")
	r := Rule{When: []When{w}, Overrides: []Override{{Season: 2026, From: day("2026-11-01"), To: day("2027-01-15"), Bounds: "[]"}}}
	count := func(from string) (n int) {
		for d, end := day(from), day(from)+365; d < end; d++ {
			if r.spanAt(&Record{}, d, &Question{}).on {
				n++
			}
		}
		return n
	}
	assert.Equal(t, 78, count("2025-08-01"))
	assert.Equal(t, 76, count("2026-08-01"))
	assert.Equal(t, 78, count("2027-08-01"))
}

// realLaw makes a record of a real law for a test.
func realLaw(t *testing.T, id, level, parent, citation, more, rules string) *Record {
	t.Helper()
	head := `schema = 1
id = "%[1]s"
jurisdiction = "%[1]s"
jurisdiction_name = "%[1]s"
level = "%[2]s"
parent = "%[3]s"
applies_in = "all"
tz = "America/New_York"
title = "%[4]s"
citation = "%[4]s"
source_url = "https://law.example.invalid/"
source_kind = "official_code"
status = "in_force"
verification = "verified"
checked_on = 2026-01-01
checked_by = "test"
`
	text := fmt.Sprintf(head, id, level, parent, citation) + more + "\n"
	if !strings.Contains(more, "[definitions]") {
		text += "[definitions]\nn_threshold_pct = 0.0\np2o5_threshold_pct = 0.0\nnot_fertilizer = [\"lime\", \"pesticide_only\"]\n"
	}
	return readRecord(t, id+".toml", text+rules)
}

type dated struct {
	says    string // the law's words
	date    string
	product Product
	with    func(*Question)
	want    Verdict
	closes  string
}

func checkLaw(t *testing.T, records []*Record, cases []dated) {
	t.Helper()
	b := NewBook(records, nil)
	var chain []string
	for _, r := range records {
		chain = append(chain, r.Jurisdiction)
	}
	for _, c := range cases {
		q := Question{Place: Place{Chain: chain}, Product: c.product, Date: day(c.date), AsOf: day("2026-03-01")}
		if c.with != nil {
			c.with(&q)
		}
		a := b.Ask(q)
		assert.Equal(t, c.want.String(), a.Verdict.String(), "%s on %s", c.says, c.date)
		assert.Equal(t, c.closes, closing(a), "%s on %s", c.says, c.date)
	}
}

// a slow-release lawn fertilizer without phosphorus, and one with it.
var (
	slowN = Product{NPct: 24, SlowNPct: 12, K2OPct: 6, Class: "synthetic", Form: "granular"}
	withP = Product{NPct: 20, SlowNPct: 10, P2O5Pct: 5, Class: "synthetic", Form: "granular"}
)

func actor(a Actor) func(*Question)      { return func(q *Question) { q.Actor = a } }
func ground(g ...string) func(*Question) { return weather(Weather{Ground: g}) }
func both(fs ...func(*Question)) func(*Question) {
	return func(q *Question) {
		for _, f := range fs {
			f(q)
		}
	}
}

func marylandLaw(t *testing.T) *Record {
	return realLaw(t, "md", "state", "", "Md. Code, Agric. 8-803.5, 8-803.4, 6-224", "effective_from = 2013-10-01", `
[[rules]]
id = "winter"
citation = "8-803.5"
as_written = "not before March 1 or after November 15"
topic = "window"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
exempt_sites = ["farm"]
when = [{ kind = "annual", from = "11-15", to = "03-01", bounds = "()", bounds_basis = "text" }]
[[rules]]
id = "frozen"
citation = "8-803.5"
topic = "weather"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
ground = ["frozen"]
[[rules]]
id = "rate"
citation = "6-224"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
exempt_products = ["enhanced_efficiency"]
per_app_total_n = 0.9
per_app_soluble_n = 0.7
min_slow_pct = 20
[[rules]]
id = "phosphorus"
citation = "8-803.5"
topic = "phosphorus"
effect = "ban"
targets = ["P"]
binds = ["all"]
unless = ["soil_test_p", "new_turf", "repair"]
soil_test_max_age_months = 36
[[rules]]
id = "water"
citation = "8-803.5"
topic = "buffer"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
buffer_ft = 15
reduced_ft = 10
reduced_with = ["drop_spreader", "rotary_deflector", "targeted_liquid"]
measured_from = "water_edge"
`)
}

func TestPublishedMaryland(t *testing.T) {
	checkLaw(t, []*Record{marylandLaw(t)}, []dated{
		{"after November 15", "2025-11-15", slowN, nil, Conditional, ""},
		{"after November 15", "2025-11-16", slowN, nil, Closed, "md/winter"},
		{"before March 1", "2026-02-28", slowN, nil, Closed, "md/winter"},
		{"before March 1", "2026-03-01", slowN, nil, Conditional, ""},
		{"before March 1 in a leap year", "2024-02-29", slowN, nil, Closed, "md/winter"},
		{"potash stays allowed", "2026-01-15", potash, nil, Open, ""},
		{"not commercial farms", "2026-01-15", slowN, func(q *Question) { q.Site = "farm" }, Conditional, ""},
		{"frozen ground", "2026-03-10", slowN, ground("frozen"), Closed, "md/frozen"},
		{"0.9 lb total", "2026-04-20", slowN, rate(3.75), Conditional, ""},
		{"0.9 lb total", "2026-04-20", slowN, rate(3.76), Closed, "md/rate:total_n"},
		{"20 percent slowly available", "2026-04-20", urea, nil, Closed, "md/rate:slow_pct"},
		{"phosphorus needs a soil test", "2026-04-20", withP, nil, Closed, "md/phosphorus"},
		{"soil test within three years", "2026-04-20", withP, soilTest("2023-04-20"), Conditional, ""},
		{"soil test within three years", "2026-04-21", withP, soilTest("2023-04-20"), Closed, "md/phosphorus"},
		{"15 feet", "2026-04-20", slowN, near(14.9, "rotary"), Closed, "md/water:15ft"},
		{"10 feet with a drop spreader", "2026-04-20", slowN, near(10, "drop_spreader"), Conditional, ""},
	})
}

// New Jersey law displaces all municipal fertilizer law (Rutgers, "Frequently
// Asked Questions About the 2011 NJ Fertilizer Law").
func TestPublishedNewJersey(t *testing.T) {
	state := realLaw(t, "nj", "state", "", "N.J.S.A. 58:10A-61 ff.", `effective_from = 2011-01-05
adopted_on = 2011-01-05
relation_down = "preempts"
preempt_topics = ["window", "weather", "rate", "content", "phosphorus", "buffer", "surface", "clippings", "equipment", "posting", "license", "records", "sale"]`, `
[[rules]]
id = "winter"
citation = "58:10A-62"
topic = "window"
effect = "ban"
targets = ["N", "P"]
binds = ["homeowner", "institutional", "public_agency"]
when = [{ kind = "annual", from = "11-15", to = "03-01", bounds = "()", bounds_basis = "text" }]
[[rules]]
id = "winter-professional"
citation = "58:10A-62"
topic = "window"
effect = "ban"
targets = ["N", "P"]
binds = ["for_hire", "golf"]
when = [{ kind = "annual", from = "12-01", to = "03-01", bounds = "()", bounds_basis = "text" }]
[[rules]]
id = "weather"
citation = "58:10A-62"
as_written = "during or just before a heavy rainfall, or on frozen or saturated ground"
topic = "weather"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
rain_basis = "forecast"
ground = ["frozen", "saturated"]
`)
	town := realLaw(t, "town", "municipal", "nj", "a municipal ordinance", "effective_from = 2015-01-01\nadopted_on = 2014-12-01", `
[[rules]]
id = "summer"
citation = "1"
topic = "window"
effect = "ban"
targets = ["N"]
binds = ["all"]
when = [{ kind = "annual", from = "06-01", to = "09-30", bounds = "[]", bounds_basis = "text" }]
`)
	checkLaw(t, []*Record{state}, []dated{
		{"after November 15", "2026-11-15", slowN, nil, Conditional, ""},
		{"after November 15", "2026-11-16", slowN, nil, Closed, "nj/winter"},
		{"professionals: after December 1", "2026-12-01", slowN, actor(ForHire), Conditional, ""},
		{"professionals: after December 1", "2026-12-02", slowN, actor(ForHire), Closed, "nj/winter-professional"},
		{"saturated", "2026-05-01", slowN, ground("saturated"), Closed, "nj/weather"},
		{"heavy rain without a figure can only be printed", "2026-05-01", slowN, weather(Weather{ForecastRainIn24h: num(6)}), Conditional, ""},
		{"before it took effect it said nothing, and what held then is not on file", "2010-12-31", slowN, nil, NotCleared, ""},
	})
	checkLaw(t, []*Record{state, town}, []dated{
		{"municipal law is displaced", "2026-07-10", slowN, nil, Conditional, ""},
	})
	state.PreemptTopics = nil
	checkLaw(t, []*Record{state, town}, []dated{
		{"and would close otherwise", "2026-07-10", slowN, nil, Closed, "town/summer"},
	})
}

func newYorkLaw(t *testing.T) *Record {
	return realLaw(t, "ny", "state", "", "N.Y. Envtl. Conserv. Law 17-2101 to 17-2105", `effective_from = 2012-01-01
[definitions]
n_threshold_pct = 0.0
p2o5_threshold_pct = 0.67
not_fertilizer = ["compost", "lime", "pesticide_only"]
`, `
[[rules]]
id = "winter"
citation = "17-2103"
as_written = "between December 1 and April 1"
topic = "window"
effect = "ban"
targets = ["any"]
binds = ["all"]
when = [{ kind = "annual", from = "12-01", to = "04-01", bounds = "[]", bounds_basis = "agency" }]
[[rules]]
id = "phosphorus"
citation = "17-2103"
topic = "phosphorus"
effect = "ban"
targets = ["P"]
binds = ["all"]
unless = ["soil_test_p", "new_turf"]
new_turf_seasons = 1
[[rules]]
id = "water"
citation = "17-2103"
topic = "buffer"
effect = "ban"
targets = ["any"]
binds = ["all"]
buffer_ft = 20
reduced_ft = 3
reduced_with = ["rotary_deflector", "drop_spreader"]
waived_if_vegetated_ft = 10
exempt_if = ["new_turf"]
measured_from = "water_edge"
`)
}

func TestPublishedNewYork(t *testing.T) {
	lowP := withP
	lowP.P2O5Pct = 0.67
	checkLaw(t, []*Record{newYorkLaw(t)}, []dated{
		{"use from April 2 to November 30", "2026-11-30", slowN, nil, Conditional, ""},
		{"between December 1 and April 1", "2026-12-01", slowN, nil, Closed, "ny/winter"},
		{"between December 1 and April 1", "2026-04-01", slowN, nil, Closed, "ny/winter"},
		{"use from April 2 to November 30", "2026-04-02", slowN, nil, Conditional, ""},
		{"any fertilizer, iron and potash too", "2027-01-15", ironK, nil, Closed, "ny/winter"},
		{"compost is excluded", "2027-01-15", Product{NPct: 1, P2O5Pct: 1, Class: "compost"}, nil, Open, ""},
		{"phosphorus fertilizer holds more than 0.67 percent", "2026-05-01", lowP, nil, Conditional, ""},
		{"phosphorus fertilizer holds more than 0.67 percent", "2026-05-01", withP, nil, Closed, "ny/phosphorus"},
		{"first growing season", "2026-05-01", withP, newTurf, Conditional, ""},
		{"not the second", "2026-05-01", withP, both(newTurf, func(q *Question) { q.GrowingSeason = 2 }), Closed, "ny/phosphorus"},
		{"20 feet", "2026-05-01", slowN, near(19, "rotary"), Closed, "ny/water:20ft"},
		{"3 feet with a deflector", "2026-05-01", slowN, near(3, "rotary_deflector"), Conditional, ""},
		{"3 feet with a drop spreader", "2026-05-01", slowN, near(2, "drop_spreader"), Closed, "ny/water:3ft"},
		{"a vegetated strip of 10 feet waives it", "2026-05-01", slowN, both(near(12, "rotary"), func(q *Question) { q.VegetatedStripFt = num(10) }), Conditional, ""},
		{"a new lawn is exempt from it", "2026-05-01", slowN, both(near(12, "rotary"), newTurf), Open, ""},
	})
}

// Suffolk County, New York, Local Law 41-2007: November 1 to April 1, inside a
// state whose law begins a month later.
func TestPublishedSuffolkCountyInsideNewYork(t *testing.T) {
	county := realLaw(t, "suffolk", "county", "ny", "Suffolk County, N.Y., Local Law 41-2007", "effective_from = 2009-01-01", `
[[rules]]
id = "winter"
citation = "Local Law 41-2007"
topic = "window"
effect = "ban"
targets = ["any"]
binds = ["all"]
when = [{ kind = "annual", from = "11-01", to = "04-01", bounds = "[]", bounds_basis = "text" }]
`)
	state := newYorkLaw(t)
	checkLaw(t, []*Record{state, county}, []dated{
		{"before November", "2026-10-31", slowN, nil, Conditional, ""},
		{"the county alone", "2026-11-15", slowN, nil, Closed, "suffolk/winter"},
		{"both", "2026-12-15", slowN, nil, Closed, "ny/winter suffolk/winter"},
		{"both on the last day", "2027-04-01", slowN, asOf("2026-12-01"), Closed, "ny/winter suffolk/winter"},
	})
	spans := NewBook([]*Record{state, county}, nil).ClosedSpans(Place{Chain: []string{"ny", "suffolk"}}, Homeowner, "N", day("2026-07-01"), day("2027-06-30"), day("2026-07-01"))
	require.Len(t, spans, 1)
	assert.Equal(t, "2026-11-01..2027-04-01", span(spans[0]))
	assert.Len(t, spans[0].Laws, 2)
}

// Vermont: the age of the soil test as reported by the Addison Independent,
// April 22, 2012.
func TestPublishedVermont(t *testing.T) {
	state := realLaw(t, "vt", "state", "", "10 V.S.A. 1266b", `effective_from = 2012-01-01
[definitions]
n_threshold_pct = 0.0
p2o5_threshold_pct = 0.67
not_fertilizer = ["compost", "manipulated_manure", "lime", "pesticide_only"]
`, `
[[rules]]
id = "winter"
citation = "1266b"
topic = "window"
effect = "ban"
targets = ["any"]
binds = ["homeowner", "for_hire"]
when = [{ kind = "annual", from = "10-15", to = "04-01", bounds = "()", bounds_basis = "text" }]
[[rules]]
id = "slow"
citation = "1266b"
topic = "content"
effect = "cap"
targets = ["N"]
binds = ["homeowner", "for_hire"]
min_slow_pct = 15
[[rules]]
id = "phosphorus"
citation = "1266b"
topic = "phosphorus"
effect = "ban"
targets = ["P"]
binds = ["homeowner", "for_hire"]
unless = ["soil_test_p", "new_turf"]
soil_test_max_age_months = 18
new_turf_seasons = 1
[[rules]]
id = "water"
citation = "1266b"
topic = "buffer"
effect = "ban"
targets = ["any"]
binds = ["homeowner", "for_hire"]
buffer_ft = 25
measured_from = "water_edge"
`)
	quick := slowN
	quick.SlowNPct = 3.5
	checkLaw(t, []*Record{state}, []dated{
		{"after October 15", "2026-10-15", slowN, nil, Conditional, ""},
		{"after October 15", "2026-10-16", slowN, nil, Closed, "vt/winter"},
		{"before April 1", "2026-03-31", slowN, nil, Closed, "vt/winter"},
		{"before April 1", "2026-04-01", slowN, nil, Conditional, ""},
		{"golf is handled apart", "2026-03-31", slowN, actor(Golf), Open, ""},
		{"less than 15 percent slow", "2026-05-01", quick, nil, Closed, "vt/slow:slow_pct"},
		{"soil test of 18 months", "2026-05-01", withP, soilTest("2024-11-01"), Conditional, ""},
		{"soil test of 18 months", "2026-05-02", withP, soilTest("2024-11-01"), Closed, "vt/phosphorus"},
		{"25 feet", "2026-05-01", slowN, near(24, "drop_spreader"), Closed, "vt/water:25ft"},
	})
}

// Connecticut: phosphate alone is closed. The dates are from memory.
func TestPublishedConnecticutClosesPhosphateAlone(t *testing.T) {
	state := realLaw(t, "ct", "state", "", "Conn. Public Act 12-155", `effective_from = 2013-01-01
[definitions]
n_threshold_pct = 0.0
p2o5_threshold_pct = 0.67
not_fertilizer = ["pesticide_only"]
`, `
[[rules]]
id = "winter"
citation = "12-155"
topic = "window"
effect = "ban"
targets = ["P"]
binds = ["all"]
exempt_sites = ["farm", "golf_course"]
when = [{ kind = "annual", from = "12-01", to = "03-15", bounds = "[]", bounds_basis = "assumed" }]
`)
	state.Verification = "secondary"
	checkLaw(t, []*Record{state}, []dated{
		{"phosphate in winter", "2026-12-01", withP, nil, Closed, "ct/winter"},
		{"nitrogen in winter", "2026-12-01", slowN, nil, Open, ""},
		{"phosphate in spring", "2026-03-16", withP, nil, Open, ""},
		{"compost is covered too", "2026-12-24", Product{NPct: 1, P2O5Pct: 1, Class: "compost"}, nil, Closed, "ct/winter"},
		{"a golf course is exempt", "2026-12-24", withP, func(q *Question) { q.Site = "golf_course" }, Open, ""},
	})
}

// Pennsylvania's winter window carries a cap and not a ban.
func TestPublishedPennsylvania(t *testing.T) {
	state := realLaw(t, "pa", "state", "", "3 Pa.C.S. 6804, 6813, 6814", "effective_from = 2022-07-11", `
[[rules]]
id = "winter-cap"
citation = "6813"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
when = [{ kind = "annual", from = "12-15", to = "03-01", bounds = "()", bounds_basis = "text" }]
per_app_total_n = 0.5
[[rules]]
id = "rate"
citation = "6813"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
per_app_total_n = 0.9
per_app_soluble_n = 0.7
[[rules]]
id = "ground"
citation = "6813"
topic = "weather"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
ground = ["snow", "frozen"]
frozen_depth_in = 2
`)
	half, more := rate(0.5/0.24), rate(0.51/0.24)
	frost := func(in float64) func(*Question) {
		return weather(Weather{Ground: []string{"frozen"}, FrostDepthIn: num(in)})
	}
	checkLaw(t, []*Record{state}, []dated{
		{"after December 15", "2026-12-15", slowN, more, Conditional, ""},
		{"after December 15", "2026-12-16", slowN, more, Closed, "pa/winter-cap:total_n"},
		{"at most half a pound", "2026-12-16", slowN, half, Conditional, ""},
		{"before March 1", "2026-02-28", slowN, more, Closed, "pa/winter-cap:total_n"},
		{"before March 1", "2026-03-01", slowN, more, Conditional, ""},
		{"0.7 lb readily available", "2026-05-01", urea, rate(0.71 / 0.46), Closed, "pa/rate:soluble_n"},
		{"frozen to two inches", "2026-02-01", slowN, frost(1.9), Conditional, ""},
		{"frozen to two inches", "2026-02-01", slowN, frost(2), Closed, "pa/ground"},
		{"frozen to a depth not known", "2026-02-01", slowN, ground("frozen"), Closed, "pa/ground"},
		{"snow", "2026-02-01", slowN, ground("snow"), Closed, "pa/ground"},
	})
}

// Delaware binds those who hold or need a nutrient handler's certificate.
func TestPublishedDelawareBindsHandlersAlone(t *testing.T) {
	state := realLaw(t, "de", "state", "", "3 Del. C. ch. 22, nutrient management rule 6.2", "effective_from = 2000-01-01", `
[[rules]]
id = "winter"
citation = "6.2"
topic = "window"
effect = "ban"
targets = ["N", "P"]
binds = ["for_hire"]
when = [{ kind = "annual", from = "12-07", to = "02-15", bounds = "[]", bounds_basis = "agency" }]
`)
	checkLaw(t, []*Record{state}, []dated{
		{"December 7", "2026-12-06", slowN, actor(ForHire), Open, ""},
		{"December 7", "2026-12-07", slowN, actor(ForHire), Closed, "de/winter"},
		{"February 15", "2026-02-15", slowN, actor(ForHire), Closed, "de/winter"},
		{"February 15", "2026-02-16", slowN, actor(ForHire), Open, ""},
		{"an owner is not bound", "2026-01-15", slowN, nil, Open, ""},
	})
}

func TestPublishedMinnesotaGolfUnderTrainedDirection(t *testing.T) {
	state := realLaw(t, "mn", "state", "", "Minn. Stat. 18C.60", "effective_from = 2005-01-01", `
[[rules]]
id = "phosphorus"
citation = "18C.60"
topic = "phosphorus"
effect = "ban"
targets = ["P"]
binds = ["all"]
unless = ["soil_test_p", "new_turf"]
soil_test_max_age_months = 36
new_turf_seasons = 1
exempt_actors_if = [{ actor = "golf", needs = "trained_direction" }]
`)
	checkLaw(t, []*Record{state}, []dated{
		{"no phosphorus", "2026-05-01", withP, nil, Closed, "mn/phosphorus"},
		{"test of three years", "2026-05-01", withP, soilTest("2023-05-01"), Conditional, ""},
		{"first growing season", "2026-05-01", withP, newTurf, Conditional, ""},
		{"golf under trained direction", "2026-05-01", withP, both(actor(Golf), func(q *Question) { q.Claims = []string{"trained_direction"} }), Open, ""},
		{"golf that does not say so", "2026-05-01", withP, actor(Golf), Closed, "mn/phosphorus"},
		{"nitrogen alone", "2026-05-01", slowN, nil, Open, ""},
	})
}

func TestPublishedWisconsinFrozenGroundClosesAnyFertilizer(t *testing.T) {
	state := realLaw(t, "wi", "state", "", "Wis. Stat. 94.643", "effective_from = 2010-04-01", `
[[rules]]
id = "phosphorus"
citation = "94.643"
topic = "phosphorus"
effect = "ban"
targets = ["P"]
binds = ["all"]
unless = ["soil_test_p", "new_turf"]
soil_test_max_age_months = 36
[[rules]]
id = "frozen"
citation = "94.643"
topic = "weather"
effect = "ban"
targets = ["any"]
binds = ["all"]
ground = ["frozen"]
[[rules]]
id = "display"
citation = "94.643"
topic = "sale"
effect = "ban"
targets = ["P"]
binds = ["retailer"]
`)
	checkLaw(t, []*Record{state}, []dated{
		{"frozen ground", "2026-02-01", ironK, ground("frozen"), Closed, "wi/frozen"},
		{"ground not known to be frozen", "2026-02-01", ironK, nil, Conditional, ""},
		{"test of 36 months", "2026-05-01", withP, soilTest("2023-05-01"), Conditional, ""},
		{"test of 36 months", "2026-05-02", withP, soilTest("2023-05-01"), Closed, "wi/phosphorus"},
		{"no display at retail", "2026-05-01", withP, actor(Retailer), Closed, "wi/display"},
		{"no display at retail, of phosphorus alone", "2026-05-01", slowN, actor(Retailer), Open, ""},
	})
}

// Michigan, as given by Michigan State University Extension on Act 299 of
// 2010.
func TestPublishedMichigan(t *testing.T) {
	state := realLaw(t, "mi", "state", "", "Mich. Comp. Laws 324.8512b", "effective_from = 2012-01-01", `
[[rules]]
id = "water"
citation = "324.8512b"
topic = "buffer"
effect = "ban"
targets = ["any"]
binds = ["all"]
buffer_ft = 15
reduced_ft = 3
reduced_with = ["rotary_deflector", "drop_spreader", "targeted_liquid"]
waived_if_vegetated_ft = 10
measured_from = "water_edge"
[[rules]]
id = "ground"
citation = "324.8512b"
topic = "weather"
effect = "ban"
targets = ["any"]
binds = ["all"]
ground = ["frozen", "saturated"]
`)
	checkLaw(t, []*Record{state}, []dated{
		{"15 feet", "2026-05-01", slowN, near(14, "rotary"), Closed, "mi/water:15ft"},
		{"3 feet with a guard", "2026-05-01", slowN, near(3, "rotary_deflector"), Conditional, ""},
		{"3 feet with a guard", "2026-05-01", slowN, near(2.9, "rotary_deflector"), Closed, "mi/water:3ft"},
		{"a strip of 10 feet", "2026-05-01", slowN, both(near(2, "rotary"), func(q *Question) { q.VegetatedStripFt = num(10) }), Conditional, ""},
		{"a strip of less", "2026-05-01", slowN, both(near(2, "rotary"), func(q *Question) { q.VegetatedStripFt = num(9.9) }), Closed, "mi/water:15ft"},
		{"saturated soil", "2026-05-01", potash, ground("saturated"), Closed, "mi/ground"},
	})
}

func TestPublishedIllinoisBindsHiredApplicatorsForTwoGrowingSeasons(t *testing.T) {
	state := realLaw(t, "il", "state", "", "415 ILCS 65/5a", "effective_from = 2010-07-16", `
[[rules]]
id = "phosphorus"
citation = "5a"
topic = "phosphorus"
effect = "ban"
targets = ["P"]
binds = ["for_hire"]
exempt_sites = ["farm", "golf_course"]
exempt_products = ["repair"]
unless = ["soil_test_p", "new_turf"]
soil_test_max_age_months = 36
new_turf_seasons = 2
[[rules]]
id = "ground"
citation = "5a"
topic = "weather"
effect = "ban"
targets = ["any"]
binds = ["for_hire"]
ground = ["frozen", "saturated"]
frozen_depth_in = 3
`)
	season := func(n int) func(*Question) {
		return both(actor(ForHire), newTurf, func(q *Question) { q.GrowingSeason = n })
	}
	checkLaw(t, []*Record{state}, []dated{
		{"an owner is not bound", "2026-05-01", withP, nil, Open, ""},
		{"for hire", "2026-05-01", withP, actor(ForHire), Closed, "il/phosphorus"},
		{"first growing season", "2026-05-01", withP, season(1), Conditional, ""},
		{"second growing season", "2026-05-01", withP, season(2), Conditional, ""},
		{"third growing season", "2026-05-01", withP, season(3), Closed, "il/phosphorus"},
		{"saturated: standing water", "2026-05-01", slowN, both(actor(ForHire), ground("saturated")), Closed, "il/ground"},
	})
}

// Maine asks a sign of the shop and nothing of the user.
func TestPublishedMaineAsksTheRetailerAlone(t *testing.T) {
	state := realLaw(t, "me", "state", "", "38 M.R.S.A. 419", "effective_from = 2008-01-01", `
[[rules]]
id = "sign"
citation = "419"
as_written = "a retailer who sells fertilizer with phosphorus posts a sign"
topic = "sale"
effect = "require"
targets = ["P"]
binds = ["retailer"]
`)
	checkLaw(t, []*Record{state}, []dated{
		{"a sign in the shop", "2026-05-01", withP, actor(Retailer), Conditional, ""},
		{"no duty of the user", "2026-05-01", withP, nil, Open, ""},
	})
}

// Pinellas County, Florida, "Pinellas County Fertilizer Ordinance".
func TestPublishedPinellasCounty(t *testing.T) {
	county := realLaw(t, "pinellas", "county", "", "Pinellas County, Florida, fertilizer ordinance", "effective_from = 2010-06-01", `
[[rules]]
id = "season"
citation = "as the county gives it"
topic = "window"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
when = [{ kind = "annual", from = "06-01", to = "09-30", bounds = "[]", bounds_basis = "text" }]
[[rules]]
id = "alerts"
citation = "as the county gives it"
topic = "weather"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
alerts = ["Severe Thunderstorm Watch", "Severe Thunderstorm Warning", "Flood Watch", "Flood Warning", "Tropical Storm Watch", "Tropical Storm Warning", "Hurricane Watch", "Hurricane Warning"]
alert_scope = "any_part_of_county"
rain_in = 2.0
rain_hours = 24
rain_compare = ">="
rain_basis = "forecast"
[[rules]]
id = "granular"
citation = "as the county gives it"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
only_forms = ["granular"]
min_slow_pct = 50
per_app_total_n = 1.0
[[rules]]
id = "liquid"
citation = "as the county gives it"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
only_forms = ["liquid"]
per_app_soluble_n = 0.5
[[rules]]
id = "year"
citation = "as the county gives it"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
annual_total_n = 4.0
[[rules]]
id = "new-plants"
citation = "as the county gives it"
topic = "window"
effect = "ban"
targets = ["N"]
binds = ["all"]
when = [{ kind = "after_planting", from_day = 0, to_day = 29 }]
[[rules]]
id = "shelf"
citation = "as the county gives it"
topic = "sale"
effect = "ban"
targets = ["N", "P"]
binds = ["retailer"]
when = [{ kind = "annual", from = "06-01", to = "09-30", bounds = "[]", bounds_basis = "text" }]
`)
	spent := func(n float64) func(*Question) {
		return func(q *Question) { q.RateLb1000, q.AnnualNLb1000 = num(4), num(n) }
	}
	checkLaw(t, []*Record{county}, []dated{
		{"June 1", "2026-05-31", slowN, nil, Conditional, ""},
		{"June 1", "2026-06-01", slowN, nil, Closed, "pinellas/season"},
		{"September 30", "2026-09-30", slowN, nil, Closed, "pinellas/season"},
		{"September 30", "2026-10-01", slowN, nil, Conditional, ""},
		{"iron without nitrogen", "2026-07-01", ironK, nil, Open, ""},
		{"a severe thunderstorm watch", "2026-04-01", slowN, weather(Weather{Alerts: []string{"Severe Thunderstorm Watch"}}), Closed, "pinellas/alerts"},
		{"two inches in 24 hours", "2026-04-01", slowN, weather(Weather{ForecastRainIn24h: num(2)}), Closed, "pinellas/alerts"},
		{"granular at least half slow", "2026-04-01", urea, nil, Closed, "pinellas/granular:slow_pct"},
		{"granular at most one pound", "2026-04-01", slowN, rate(4.2), Closed, "pinellas/granular:total_n"},
		{"liquid at most half a pound soluble", "2026-04-01", liq, rate(2.4), Closed, "pinellas/liquid:soluble_n"},
		{"four pounds a year", "2026-04-01", slowN, spent(3.04), Conditional, ""},
		{"four pounds a year", "2026-04-01", slowN, spent(3.05), Closed, "pinellas/year:annual_n"},
		{"30 days after planting", "2026-04-30", slowN, func(q *Question) { q.Planted = day("2026-04-01") }, Closed, "pinellas/new-plants"},
		{"30 days after planting", "2026-05-01", slowN, func(q *Question) { q.Planted = day("2026-04-01") }, Conditional, ""},
		{"no sale in season", "2026-07-01", slowN, actor(Retailer), Closed, "pinellas/shelf"},
	})
}

// Marion County, Florida, Code 19-247: a yearly cap by grass.
func TestPublishedMarionCountyCapsByGrass(t *testing.T) {
	county := realLaw(t, "marion", "county", "", "Marion County, Florida, Code 19-247", "effective_from = 2015-01-01", `
[[rules]]
id = "rate"
citation = "19-247"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
per_app_total_n = 1.0
per_app_soluble_n = 0.7
annual_total_n_by_grass = { bahiagrass = 3.0, bermudagrass = 4.0, centipedegrass = 2.0, st_augustinegrass = 3.0, zoysiagrass = 4.0, default = 2.0 }
`)
	b := NewBook([]*Record{county}, nil)
	for grass, want := range map[string]float64{"bahiagrass": 3, "bermudagrass": 4, "centipedegrass": 2, "st-augustinegrass": 3, "zoysiagrass": 4} {
		q := Question{Place: Place{Chain: []string{"marion"}}, Product: slowN, Date: day("2026-05-01"), Grass: grass, RateLb1000: num(1 / 0.24)}
		q.AnnualNLb1000 = num(want - 1)
		assert.Equal(t, Conditional, b.Ask(q).Verdict, grass)
		q.AnnualNLb1000 = num(want - 0.999)
		assert.Equal(t, "marion/rate:annual_n", closing(b.Ask(q)), grass)
	}
	// Both per-use caps bind together at 30 % slow.
	assert.InDelta(t, 1.0, LargestNLb1000(1.0, 0.7, 0.3), 1e-9)
	assert.InDelta(t, 0.986, LargestNLb1000(1.0, 0.7, 0.29), 5e-4)
}

// Alachua County, Florida, as reported: July through February, nitrogen only.
func TestPublishedAlachuaCountyEndsWithFebruary(t *testing.T) {
	county := realLaw(t, "alachua", "county", "", "Alachua County, Florida, landscape fertilizer code", "effective_from = 2019-01-01", `
[[rules]]
id = "season"
citation = "as reported"
topic = "window"
effect = "ban"
targets = ["N"]
binds = ["all"]
when = [{ kind = "annual", from = "07-01", to = "02-last", bounds = "[]", bounds_basis = "text" }]
[[rules]]
id = "slow"
citation = "as reported"
topic = "content"
effect = "cap"
targets = ["N"]
binds = ["all"]
min_slow_pct = 50
`)
	checkLaw(t, []*Record{county}, []dated{
		{"July", "2026-06-30", slowN, nil, Conditional, ""},
		{"July", "2026-07-01", slowN, nil, Closed, "alachua/season"},
		{"end of February", "2027-02-28", slowN, asOf("2026-12-01"), Closed, "alachua/season"},
		{"end of February", "2027-03-01", slowN, asOf("2026-12-01"), Conditional, ""},
		{"end of February in a leap year", "2028-02-29", slowN, asOf("2026-12-01"), Closed, "alachua/season"},
		{"half slow at other times", "2026-05-01", urea, nil, Closed, "alachua/slow:slow_pct"},
	})
}

// Northern Ireland, S.R. 2019/81, regulations 7 and 8: heavy rain forecast
// within 48 hours closes, without a figure.
func TestPublishedNorthernIreland(t *testing.T) {
	law := realLaw(t, "ni", "state", "", "S.R. (N.I.) 2019/81, regs 7 and 8", "effective_from = 2019-06-01", `
[[rules]]
id = "winter"
citation = "7"
topic = "window"
effect = "ban"
targets = ["N"]
binds = ["all"]
when = [{ kind = "annual", from = "09-15", to = "01-31", bounds = "[]", bounds_basis = "text" }]
[[rules]]
id = "rain"
citation = "8"
topic = "weather"
effect = "ban"
targets = ["N"]
binds = ["all"]
rain_hours = 48
rain_basis = "forecast"
`)
	checkLaw(t, []*Record{law}, []dated{
		{"September 15", "2025-09-14", slowN, nil, Conditional, ""},
		{"September 15", "2025-09-15", slowN, nil, Closed, "ni/winter"},
		{"January 31 of the following year", "2026-01-31", slowN, nil, Closed, "ni/winter"},
		{"January 31 of the following year", "2026-02-01", slowN, nil, Conditional, ""},
	})
	var rain []Condition
	for _, c := range NewBook([]*Record{law}, nil).Conditions(Question{Place: Place{Chain: []string{"ni"}}, Product: slowN, Date: day("2026-03-01")}) {
		if c.Kind == "rain" {
			rain = append(rain, c)
		}
	}
	require.Len(t, rain, 1)
	assert.True(t, math.IsNaN(rain[0].Value), "the law gives no depth")
	assert.Equal(t, 48.0, rain[0].Second)
}

// The arithmetic of rates, worked by hand.
func TestOwnDesignRateArithmetic(t *testing.T) {
	bag24, urea := turf.Analysis{NPct: 24}, turf.Analysis{NPct: 46}
	assert.InDelta(t, 3.750, bag24.ProductFor(0.9), 1e-9)
	assert.InDelta(t, 13333, 50/bag24.ProductFor(0.9)*1000, 0.5, "a 50 lb bag")
	for share, want := range map[float64]float64{0: 0.700, 0.20: 0.875, 0.2222: 0.900, 0.5: 0.900, 1: 0.900} {
		assert.InDelta(t, want, LargestNLb1000(0.9, 0.7, share), 1e-4, "slow share %g", share)
	}
	assert.InDelta(t, 1.522, urea.ProductFor(LargestNLb1000(math.NaN(), 0.7, 0)), 5e-4)
	assert.InDelta(t, 1.087, urea.ProductFor(LargestNLb1000(math.NaN(), 0.5, 0)), 5e-4)
	assert.Equal(t, 0.9, LargestNLb1000(0.9, math.NaN(), 0))
	assert.True(t, math.IsNaN(LargestNLb1000(math.NaN(), math.NaN(), 0)))

	// 14 % soluble nitrogen at 5 lb is 0.7 lb, which binary fractions miss.
	fourteen, five := 14.0, 5.0
	x := five * (fourteen / 100)
	assert.Equal(t, 0.7000000000000001, x)
	assert.False(t, over(x, 0.7))
	assert.True(t, over(0.701, 0.7))

	assert.InDelta(t, 0.109, 0.25*PPerP2O5, 5e-4)
	assert.InDelta(t, 0.573, (&Rule{PBasis: "P"}).asP2O5(0.25), 5e-4)
	assert.InDelta(t, 0.25, (&Rule{PBasis: "P2O5"}).asP2O5(0.25), 0)
	assert.InDelta(t, 0.292, 0.67*PPerP2O5, 5e-4)
	assert.InDelta(t, 1.042, bag24.ProductFor(0.25), 5e-4)
	assert.InDelta(t, PPerP2O5, 2*30.974/(2*30.974+5*15.999), 1e-4)

	for months, want := range map[int]float64{3: 0.933, 5: 0.720, 6: 0.667} {
		got := LargestMonthlyReleaseLb1000(2.0, 0.8, months)
		assert.InDelta(t, want, got, 5e-4)
		assert.Equal(t, months < 6, over(got, 0.7), "%d months", months)
	}
	assert.InDelta(t, 6800, TreatedFt2(8000, 80, 15), 1e-9)
	assert.Equal(t, 0.0, TreatedFt2(100, 80, 15))
}

// The cap on monthly release is tested once the product says how fast it
// releases, and printed until then.
func TestOwnDesignMonthlyRelease(t *testing.T) {
	b := inventedBook(t)
	for months, want := range map[int]string{0: "", 3: "om-state/rate-enhanced:release", 5: "om-state/rate-enhanced:release", 6: ""} {
		p := eef
		p.ReleaseMonths = months
		a := b.Ask(Question{Place: hocklan, Product: p, Date: day("2026-04-20"), AsOf: day(usualAsOf), RateLb1000: num(5)})
		assert.Equal(t, want, closing(a), "%d months", months)
	}
}

// Phosphorus caps count P2O5 or P, as the law says.
func TestOwnDesignPhosphorusCaps(t *testing.T) {
	tested := func(q *Question) { soilTest("2025-04-10")(q) }
	ask := func(b *Book, lb float64, year *float64) string {
		q := Question{Place: vellinport, Product: start, Date: day("2026-04-20"), AsOf: day(usualAsOf), RateLb1000: num(lb), AnnualP2O5Lb1000: year}
		tested(&q)
		return closing(b.Ask(q))
	}
	b := inventedBook(t)
	assert.Empty(t, ask(b, 1.0416, nil))
	assert.Equal(t, "vellinport-city/phosphorus", ask(b, 1.05, nil))
	assert.Empty(t, ask(b, 1.0, num(0.26)))
	assert.Equal(t, "vellinport-city/phosphorus", ask(b, 1.0, num(0.27)))
	asP := changed(t, "vellinport-city", func(r *Record) {
		for i := range r.Rules {
			if r.Rules[i].PBasis != "" {
				r.Rules[i].PBasis = "P"
			}
		}
	})
	assert.Empty(t, ask(asP, 2.38, nil), "0.571 lb P2O5 is under 0.25 lb P")
	assert.Equal(t, "vellinport-city/phosphorus", ask(asP, 2.39, nil))
}

func TestParseAnchor(t *testing.T) {
	for text, want := range map[string]string{
		"06-01":              "2026-06-01",
		"02-last":            "2026-02-28",
		"nth:1-Mon-09":       "2026-09-07",
		"nth:4-Thu-11":       "2026-11-26",
		"nth:4-Thu-11+1d":    "2026-11-27",
		"nth:last-Mon-05":    "2026-05-25",
		"nth:1-Thu-01-1d":    "2025-12-31",
		"nth:last-Thu-12+1d": "2027-01-01",
	} {
		a, err := ParseAnchor(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, a.in(2026, false).String(), text)
		assert.Equal(t, text, a.String())
	}
	leap, err := ParseAnchor("02-29")
	require.NoError(t, err)
	assert.Equal(t, "2026-03-01", leap.in(2026, false).String(), "as a start in a common year")
	assert.Equal(t, "2026-02-28", leap.in(2026, true).String(), "as an end in a common year")
	assert.Equal(t, "2028-02-29", leap.in(2028, true).String())
	for _, bad := range []string{"", "6-1", "02-30", "13-01", "last-02", "2-last", "00-last", "nth:", "nth:2-Sun", "nth:0-Sun-03", "nth:+2-Sun-03",
		"nth:2-sun-03", "nth:2-Sun-3", "nth:2-Sun-03+", "nth:2-Sun-03+d", "nth:2-Sun-03+61d", "nth:2-Sun-03-61d", "nth:2-Sun-03+1d "} {
		_, err := ParseAnchor(bad)
		assert.Error(t, err, bad)
	}
}

// An anchor that is accepted is one day of each year, within 60 days of it.
func FuzzParseAnchor(f *testing.F) {
	for _, s := range []string{"06-01", "02-29", "02-last", "nth:2-Sun-03", "nth:last-Mon-05+1d", "nth:1-Sun-01-60d"} {
		f.Add(s, 2026)
	}
	f.Fuzz(func(t *testing.T, s string, year int) {
		a, err := ParseAnchor(s)
		if err != nil {
			return
		}
		year = 1900 + int(uint(year)%300)
		for _, end := range []bool{false, true} {
			d := a.in(year, end)
			if d < civil.MustDate(year, 1, 1)-60 || d > civil.MustDate(year, 12, 31)+60 {
				t.Errorf("%s of %d is %s", s, year, d)
			}
		}
	})
}
