package law

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type lawCase struct {
	name    string
	place   Place
	record  string // that record alone, instead of a place
	product Product
	date    string
	with    func(q *Question)
	want    Verdict
	closes  string
	flags   string
	silent  bool
}

const usualAsOf = "2026-03-16"

func (c lawCase) run(t *testing.T, b *Book) Answer {
	t.Helper()
	q := Question{Place: c.place, Actor: Homeowner, Product: c.product, Date: day(c.date), AsOf: day(usualAsOf)}
	if c.with != nil {
		c.with(&q)
	}
	var a Answer
	if c.record != "" {
		var ok bool
		a, ok = b.AskRecord(c.record, q)
		require.True(t, ok)
	} else {
		a = b.Ask(q)
	}
	assert.Equal(t, c.want.String(), a.Verdict.String())
	assert.Equal(t, c.closes, closing(a))
	assert.Equal(t, c.flags, flags(a))
	assert.Equal(t, c.silent, a.Silent)
	return a
}

func runCases(t *testing.T, cases []lawCase) {
	b := inventedBook(t)
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) { c.run(t, b) })
	}
}

func rate(lb float64) func(*Question) { return func(q *Question) { q.RateLb1000 = num(lb) } }
func forHire(lb float64) func(*Question) {
	return func(q *Question) { q.Actor, q.RateLb1000 = ForHire, num(lb) }
}
func growing(from, to string) func(*Question) {
	return func(q *Question) {
		s := Season{Name: "growing", From: day(from)}
		if to != "" {
			s.To = day(to)
		}
		q.Seasons = []Season{s}
	}
}
func asOf(d string) func(*Question)     { return func(q *Question) { q.AsOf = day(d) } }
func weather(w Weather) func(*Question) { return func(q *Question) { q.Weather = &w } }
func newTurf(q *Question)               { q.NewTurf = true }
func soilTest(d string) func(*Question) {
	return func(q *Question) { q.SoilTest = &SoilTest{day(d), true} }
}
func near(ft float64, gear string) func(*Question) {
	return func(q *Question) { q.DistanceFt, q.Gear = num(ft), gear }
}

// Own design: the expected answers follow from the model's rules applied to
// invented law, worked by hand.
func TestOwnDesignWindowEdgesWrapAndLeapDay(t *testing.T) {
	const state, county, city = "om-state/winter-general", "wendrake-county/rainy-season", "vellinport-city/wet-season"
	const windows, outside = "thornelby-town/two-windows", "thornelby-town/growing-season-only"
	const clock, order = "ivelsay-district/clock-window", "ivelsay-district/algae-order"
	runCases(t, []lawCase{
		{name: "after November 15 leaves the 15th open", place: hocklan, product: lawn50, date: "2026-11-15", want: Conditional},
		{name: "first closed day", place: hocklan, product: lawn50, date: "2026-11-16", want: Closed, closes: state},
		{name: "last day of the year", place: hocklan, product: lawn50, date: "2026-12-31", want: Closed, closes: state},
		{name: "same season in the next calendar year", place: hocklan, product: lawn50, date: "2027-01-01", want: Closed, closes: state},
		{name: "last closed day of a common year", place: hocklan, product: lawn50, date: "2027-02-28", want: Closed, closes: state},
		{name: "before March 1 leaves March 1 open", place: hocklan, product: lawn50, date: "2027-03-01", want: Conditional},
		{name: "leap day is before March 1", place: hocklan, product: lawn50, date: "2028-02-29", want: Closed, closes: state},
		{name: "day before an inclusive window", place: wendrakeOutside, product: lawn50, date: "2026-05-31", want: Conditional},
		{name: "first day of an inclusive window", place: wendrakeOutside, product: lawn50, date: "2026-06-01", want: Closed, closes: county},
		{name: "last day of an inclusive window", place: wendrakeOutside, product: lawn50, date: "2026-09-30", want: Closed, closes: county},
		{name: "day after an inclusive window", place: wendrakeOutside, product: lawn50, date: "2026-10-01", want: Conditional},
		{name: "the season before an override is as written", place: vellinport, product: lawn67, date: "2025-05-15", want: Closed, closes: city},
		{name: "an override moves the start", place: vellinport, product: lawn67, date: "2026-05-15", want: Conditional},
		{name: "first day of an override", place: vellinport, product: lawn67, date: "2026-05-18", want: Closed, closes: city},
		{name: "an override is for one season only", place: vellinport, product: lawn67, date: "2027-05-15", want: Closed, closes: city},
		{name: "second window of a union", record: "thornelby-town", product: urea, date: "2025-09-14", with: growing("2025-03-25", "2025-11-10"), want: Closed, closes: windows},
		{name: "until September 15 leaves the 15th open", record: "thornelby-town", product: urea, date: "2025-09-15", with: growing("2025-03-25", "2025-11-10"), want: Open},
		{name: "two rules close and both are named", record: "thornelby-town", product: urea, date: "2025-03-12", with: growing("2025-03-25", ""), want: Closed, closes: windows + " " + outside},
		{name: "a growing season that is not stated never clears", record: "thornelby-town", product: urea, date: "2025-06-10", want: NotCleared, flags: "season_unknown"},
		{name: "day before the last Sunday of October", place: ivelsay, product: lawn50, date: "2025-10-25", want: Conditional, flags: "secondary"},
		{name: "last Sunday of October begins a wrapped season", place: ivelsay, product: lawn50, date: "2025-10-26", want: Closed, closes: clock, flags: "secondary"},
		{name: "the state has reopened and the district has not", place: ivelsay, product: lawn50, date: "2026-03-07", want: Closed, closes: clock, flags: "secondary"},
		{name: "until the second Sunday of March leaves it open", place: ivelsay, product: lawn50, date: "2026-03-08", want: Conditional, flags: "secondary"},
		{name: "an assumed edge is read strictly and flagged", place: brackmoor, product: lawn50, date: "2026-04-01", want: Closed, closes: "brackmoor-county/cold-months", flags: "edge_assumed unverified"},
		{name: "outside its window an unverified record cannot clear", place: brackmoor, product: lawn50, date: "2026-04-02", want: NotCleared, flags: "unverified"},
		{name: "first day of a declared order", place: ivelsay, product: lawn50, date: "2026-06-19", want: Closed, closes: order, flags: "secondary"},
		{name: "day after a declared order", place: ivelsay, product: lawn50, date: "2026-07-03", want: Conditional, flags: "secondary"},
		{name: "an open-ended order is assumed to be on", place: ivelsay, product: lawn50, date: "2026-07-20", want: Closed, closes: order, flags: "declaration_open_ended secondary"},
		{name: "past its assumed day an open-ended order is unknown", place: ivelsay, product: lawn50, date: "2026-09-01", want: NotCleared, flags: "declaration_status_unknown secondary"},
	})
}

func TestOwnDesignWhoIsBound(t *testing.T) {
	const county = "wendrake-county/rainy-season"
	runCases(t, []lawCase{
		{name: "a cap inside a window passes and puts the slow floor to sleep", place: hocklan, product: urea, date: "2026-11-16", with: forHire(1.0), want: Conditional},
		{name: "a window may carry a cap that fails", place: hocklan, product: urea, date: "2026-11-16", with: forHire(1.2), want: Closed, closes: "om-state/late-fall-cap-for-hire:total_n"},
		{name: "water-soluble only", place: hocklan, product: lawn50, date: "2026-11-20", with: forHire(1.5), want: Closed, closes: "om-state/late-fall-cap-for-hire:must_be_soluble"},
		{name: "through December 1 keeps the cap on the 1st", place: hocklan, product: urea, date: "2026-12-01", with: forHire(1.0), want: Conditional},
		{name: "first closed day for hired applicators", place: hocklan, product: urea, date: "2026-12-02", with: forHire(1.0), want: Closed, closes: "om-state/winter-for-hire om-state/min-slow:slow_pct"},
		{name: "an exemption is never presumed", place: wendrakeOutside, product: lawn50, date: "2026-07-10", with: func(q *Question) { q.Actor = Golf }, want: Closed, closes: county},
		{name: "an exemption that is claimed", place: wendrakeOutside, product: lawn50, date: "2026-07-10", with: func(q *Question) { q.Actor, q.Claims = Golf, []string{"bmp_plan_on_file"} }, want: Conditional},
		{name: "an exempt site is exempt from one rule, not from the record", place: wendrakeOutside, product: lawn50, date: "2026-07-10", with: func(q *Question) { q.Site = "farm" }, want: Conditional},
	})
}

func TestOwnDesignProductAndNutrient(t *testing.T) {
	const county, p = "wendrake-county/rainy-season", "om-state/phosphorus"
	runCases(t, []lawCase{
		{name: "no nitrogen and no phosphorus meets only duties", place: wendrakeOutside, product: ironK, date: "2026-07-10", want: Conditional},
		{name: "an iron product with nitrogen is a nitrogen product", place: wendrakeOutside, product: fas, date: "2026-07-10", want: Closed, closes: "om-state/min-slow:slow_pct wendrake-county/rainy-season wendrake-county/granular-slow:slow_pct"},
		{name: "a ban on any fertilizer takes iron and potash too", place: brackmoor, product: ironK, date: "2027-01-15", want: Closed, closes: "brackmoor-county/cold-months", flags: "unverified"},
		{name: "a ban on nitrogen and phosphorus leaves potash a duty", place: hocklan, product: potash, date: "2027-01-15", want: Conditional},
		{name: "lime is no fertilizer", place: hocklan, product: lime, date: "2027-01-15", want: Open},
		{name: "a herbicide on a fertilizer carrier is nitrogen", place: wendrakeOutside, product: combo, date: "2026-07-10", want: Closed, closes: county},
		{name: "the ordinance is silent on a herbicide alone", place: wendrakeOutside, product: herb, date: "2026-07-10", want: Open},
		{name: "with a threshold of nothing half a percent counts", place: hocklan, product: lowP, date: "2026-04-20", want: Closed, closes: p},
		{name: "below the threshold it is no phosphorus product", record: "ivelsay-district", product: lowP, date: "2026-04-20", want: Conditional, flags: "secondary"},
		{name: "new turf is an exception of the state", place: hocklan, product: start, date: "2026-04-20", with: newTurf, want: Conditional},
		{name: "new turf is no exception of the city", place: vellinport, product: start, date: "2026-04-20", with: newTurf, want: Closed, closes: "vellinport-city/phosphorus"},
		{name: "a soil test of 36 months to the day", place: hocklan, product: start, date: "2026-04-10", with: soilTest("2023-04-10"), want: Conditional},
		{name: "a soil test one day too old", place: hocklan, product: start, date: "2026-04-11", with: soilTest("2023-04-10"), want: Closed, closes: p},
		{name: "an organic product exempt from the window", record: "thornelby-town", product: org, date: "2026-03-12", with: growing("2026-03-05", "2026-11-10"), want: Open},
		{name: "an exempt class meets its own cap", place: hocklan, product: eef, date: "2026-04-20", with: rate(5), want: Conditional},
	})
}

func TestOwnDesignLayers(t *testing.T) {
	runCases(t, []lawCase{
		{name: "the county's rule stops at the city line", place: vellinport, product: lawn67, date: "2026-10-15", want: Closed, closes: "vellinport-city/wet-season"},
		{name: "the same day outside the city", place: wendrakeOutside, product: lawn67, date: "2026-10-15", want: Conditional},
		{name: "passes the county's rate and fails the state's", place: wendrakeOutside, product: lawn67, date: "2026-04-20", with: rate(4), want: Closed, closes: "om-state/rate:total_n"},
		{name: "passes the state's soluble cap and fails the county's", place: wendrakeOutside, product: liq, date: "2026-04-20", with: rate(2.5), want: Closed, closes: "wendrake-county/liquid:soluble_n"},
		{name: "half slow meets at least half", place: vellinport, product: lawn50, date: "2026-05-01", want: Conditional},
		{name: "a rule's next version asks for more", place: vellinport, product: lawn50, date: "2026-11-02", want: Closed, closes: "vellinport-city/slow-65:slow_pct"},
		{name: "the yearly cap of a grass", place: vellinport, product: lawn67, date: "2026-05-01", with: func(q *Question) {
			q.Grass, q.RateLb1000, q.AnnualNLb1000 = "centipedegrass", num(3), num(1.5)
		}, want: Closed, closes: "vellinport-city/annual-by-grass:annual_n"},
		{name: "the yearly cap of another grass", place: vellinport, product: lawn67, date: "2026-05-01", with: func(q *Question) {
			q.Grass, q.RateLb1000, q.AnnualNLb1000 = "bermudagrass", num(3), num(1.5)
		}, want: Conditional},
		{name: "a county never looked up", place: selvary, product: lawn50, date: "2026-04-20", want: NotCleared, flags: "no_record:selvary"},
		{name: "a county looked up with nothing found", place: hocklan, product: lawn50, date: "2026-04-20", want: Conditional},
	})
}

func TestOwnDesignProvenanceAndTime(t *testing.T) {
	runCases(t, []lawCase{
		{name: "last day in force", record: "thornelby-town", product: urea, date: "2026-03-31", with: growing("2026-03-25", ""), want: Closed, closes: "thornelby-town/two-windows"},
		{name: "a sunset with nothing recorded after it is not open", record: "thornelby-town", product: urea, date: "2026-04-01", want: NotCleared, flags: "expired_no_successor"},
		{name: "a review that falls due today is current", place: ivelsay, product: lawn50, date: "2026-05-04", with: asOf("2026-03-31"), want: Conditional, flags: "secondary"},
		{name: "a review one day overdue cannot clear", place: ivelsay, product: lawn50, date: "2026-05-04", with: asOf("2026-04-01"), want: NotCleared, flags: "secondary stale"},
		{name: "a stale record still closes", place: ivelsay, product: lawn50, date: "2026-08-10", with: asOf("2026-08-03"), want: Closed, closes: "ivelsay-district/clock-window ivelsay-district/algae-order", flags: "declaration_open_ended secondary stale"},
		{name: "before it takes effect a record says nothing", record: "vellinport-city", product: lawn67, date: "2023-04-30", want: Open, flags: "not_yet_effective", silent: true},
		{name: "once it takes effect it closes", record: "vellinport-city", product: lawn67, date: "2023-05-15", want: Closed, closes: "vellinport-city/wet-season"},
		{name: "long before it takes effect it is not mentioned", record: "vellinport-city", product: lawn67, date: "2023-01-30", want: Open, silent: true},
		{name: "ninety days before it takes effect it is mentioned", record: "vellinport-city", product: lawn67, date: "2023-01-31", want: Open, flags: "not_yet_effective", silent: true},
	})
}

func TestOwnDesignWeatherAndGround(t *testing.T) {
	rain := func(in float64) func(*Question) { return weather(Weather{ForecastRainIn24h: num(in)}) }
	runCases(t, []lawCase{
		{name: "a flood watch for part of the county", place: wendrakeOutside, product: lawn50, date: "2026-04-20", with: weather(Weather{Alerts: []string{"Flood Watch"}}), want: Closed, closes: "wendrake-county/storm-alert", flags: "alert_based"},
		{name: "an advisory is neither watch nor warning", place: wendrakeOutside, product: lawn50, date: "2026-04-20", with: weather(Weather{Alerts: []string{"Flood Advisory", "Wind Advisory"}}), want: Conditional},
		{name: "two inches meets at least two", place: wendrakeOutside, product: lawn50, date: "2026-04-20", with: rain(2.00), want: Closed, closes: "wendrake-county/heavy-rain", flags: "forecast_based"},
		{name: "a hundredth less does not", place: wendrakeOutside, product: lawn50, date: "2026-04-20", with: rain(1.99), want: Conditional},
		{name: "one inch is not more than one", place: ivelsay, product: lawn50, date: "2026-04-20", with: rain(1.00), want: Conditional, flags: "secondary"},
		{name: "a hundredth more than one inch is", place: ivelsay, product: lawn50, date: "2026-04-20", with: rain(1.01), want: Closed, closes: "ivelsay-district/rain", flags: "forecast_based secondary"},
		{name: "shallow frost meets the state's rule and not the district's", place: ivelsay, product: lawn50, date: "2026-03-20", with: weather(Weather{Ground: []string{"frozen"}, FrostDepthIn: num(1.5)}), want: Closed, closes: "om-state/ground", flags: "secondary"},
		{name: "frost of unknown depth counts as deep enough", place: ivelsay, product: lawn50, date: "2026-03-20", with: weather(Weather{Ground: []string{"frozen"}}), want: Closed, closes: "om-state/ground ivelsay-district/rain", flags: "secondary"},
		{name: "without weather data a weather rule is never open", place: wendrakeOutside, product: lawn50, date: "2026-04-20", want: Conditional},
	})
}

func TestOwnDesignDistanceToWater(t *testing.T) {
	sodded := func(ft float64) func(*Question) {
		return func(q *Question) { q.Planted, q.DistanceFt, q.Gear = day("2026-04-01"), num(ft), "rotary" }
	}
	runCases(t, []lawCase{
		{name: "twelve feet with a plain spreader", place: hocklan, product: lawn50, date: "2026-04-20", with: near(12, "rotary"), want: Closed, closes: "om-state/buffer:15ft"},
		{name: "twelve feet with a deflector", place: hocklan, product: lawn50, date: "2026-04-20", with: near(12, "rotary_deflector"), want: Conditional},
		{name: "within ten feet leaves out the line itself", place: hocklan, product: lawn50, date: "2026-04-20", with: near(10, "drop_spreader"), want: Conditional},
		{name: "the county allows three feet and the state does not", place: wendrakeOutside, product: lawn50, date: "2026-04-20", with: near(5, "rotary_deflector"), want: Closed, closes: "om-state/buffer:10ft"},
		{name: "no gear reduces the city's strip", place: vellinport, product: lawn67, date: "2026-04-20", with: near(15, "rotary_deflector"), want: Closed, closes: "vellinport-city/buffer:20ft"},
		{name: "a vegetated strip waives an unverified buffer, which still cannot clear", record: "brackmoor-county", product: lawn50, date: "2026-05-01", with: func(q *Question) {
			near(5, "rotary")(q)
			q.VegetatedStripFt = num(10)
		}, want: NotCleared, flags: "unverified"},
		{name: "day 29 after planting", place: wendrakeOutside, product: lawn50, date: "2026-04-30", with: sodded(30), want: Closed, closes: "wendrake-county/new-planting-wait"},
		{name: "day 30 after planting lifts the county's strip", record: "wendrake-county", product: lawn50, date: "2026-05-01", with: sodded(6), want: Conditional},
		{name: "the state's strip still holds on day 30", place: wendrakeOutside, product: lawn50, date: "2026-05-01", with: sodded(6), want: Closed, closes: "om-state/buffer:15ft"},
		{name: "day 90 after planting restores the county's strip", record: "wendrake-county", product: lawn50, date: "2026-06-30", with: func(q *Question) {
			sodded(6)(q)
			q.Site = "farm" // out of the way of the season
		}, want: Closed, closes: "wendrake-county/buffer:10ft"},
	})
}
