package advice

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/disease"
	"ligule/internal/herbicide"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/season"
	"ligule/internal/spray"
	"ligule/internal/stage"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Every comparison of a rule at its limit and a printed step beside it.
func TestEdgesOfComparisons(t *testing.T) {
	index := func(x float64) func(*Input) { return lies(func(g *turf.Growth) { g.G = x }) }
	for _, c := range []struct {
		when    string
		value   float64
		outcome Truth
	}{
		{`growth_index = { at_least = 0.4 }`, 0.39, No},
		{`growth_index = { at_least = 0.4 }`, 0.4, Yes},
		{`growth_index = { at_least = 0.4 }`, 0.396, Yes}, // prints as 0.40
		{`growth_index = { at_most = 0.4 }`, 0.4, Yes},
		{`growth_index = { at_most = 0.4 }`, 0.41, No},
		{`growth_index = { at_most = 0.4 }`, 0.404, Yes},
		{`growth_index = { above = 0.4 }`, 0.4, No},
		{`growth_index = { above = 0.4 }`, 0.41, Yes},
		{`growth_index = { above = 0.4 }`, 0.404, No},
		{`growth_index = { below = 0.4 }`, 0.4, No},
		{`growth_index = { below = 0.4 }`, 0.39, Yes},
		{`growth_index = { below = 0.4 }`, 0.396, No},
		{`growth_index = { between = [0.4, 0.6] }`, 0.39, No},
		{`growth_index = { between = [0.4, 0.6] }`, 0.4, Yes},
		{`growth_index = { between = [0.4, 0.6] }`, 0.6, Yes},
		{`growth_index = { between = [0.4, 0.6] }`, 0.61, No},
		{`growth_index = { above = 0.4, below = 0.6 }`, 0.5, Yes},
		{`growth_index = { above = 0.4, below = 0.6 }`, 0.6, No},
		{`growth_index = { above = 0.4, below = 0.6 }`, 0.4, No},
		{`growth_index = { at_least = 0.4 }`, math.NaN(), Unknown},
	} {
		assert.Equal(t, c.outcome, judged(t, c.when, index(c.value)), "%s of %v", c.when, c.value)
	}
	for from, want := range map[string]Truth{"07-12": Yes, "07-13": No} {
		assert.Equal(t, want, judged(t, fmt.Sprintf("date = { between = [%q, \"09-01\"] }", from)), from)
	}
	for to, want := range map[string]Truth{"07-12": Yes, "07-11": No} {
		assert.Equal(t, want, judged(t, fmt.Sprintf("date = { between = [\"06-01\", %q] }", to)), to)
	}
}

// judged is how a rule fares whose clauses are given.
func judged(t *testing.T, when string, changes ...func(*Input)) Truth {
	t.Helper()
	in := lawnAt(t, changes...)
	in.Rules = rules(t, in.Catalogue, rule("r", "mow", "do", 1, "", when))
	traces := Read(in).Traces
	require.Len(t, traces, 1)
	return traces[0].Outcome
}

// A trend compares two days, a run needs all of its days.
func TestEdgesOfDaysOfAClause(t *testing.T) {
	index := func(of func(ago int) float64) func(*Input) {
		return grew(func(ago int) turf.Growth {
			g := growing()
			g.G = of(ago)
			return g
		})
	}
	// One day that differs, so many days before the issue date.
	but := func(day int, other float64) func(*Input) {
		return index(func(ago int) float64 {
			if ago == day {
				return other
			}
			return 0.5
		})
	}
	for _, c := range []struct {
		name    string
		when    string
		lawn    func(*Input)
		outcome Truth
	}{
		{"as it was", `growth_index = { rising = "21 days" }`, but(99, 0), No},
		{"a step more than 21 days ago", `growth_index = { rising = "21 days" }`, but(21, 0.49), Yes},
		{"less than prints", `growth_index = { rising = "21 days" }`, but(21, 0.496), No},
		{"more than 20 days ago", `growth_index = { rising = "21 days" }`, but(20, 0.3), No},
		{"more than 22 days ago", `growth_index = { rising = "21 days" }`, but(22, 0.3), No},
		{"as it was, falling", `growth_index = { falling = "21 days" }`, but(99, 0), No},
		{"a step less than 21 days ago", `growth_index = { falling = "21 days" }`, but(21, 0.51), Yes},
		{"not known then", `growth_index = { rising = "21 days" }`, but(21, math.NaN()), Unknown},
		{"all of five days", `growth_index = { at_least = 0.5, for_days = 5 }`, but(5, 0.4), Yes},
		{"not on the fifth", `growth_index = { at_least = 0.5, for_days = 5 }`, but(4, 0.49), No},
		{"not today", `growth_index = { at_least = 0.5, for_days = 5 }`, but(0, 0.49), No},
		{"one of them not known", `growth_index = { at_least = 0.5, for_days = 5 }`, but(3, math.NaN()), Unknown},
		{"one day is today", `growth_index = { at_least = 0.5, for_days = 1 }`, but(1, 0.4), Yes},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.outcome, judged(t, c.when, c.lawn)) })
	}
}

// A false clause settles a rule, whatever is unknown beside it; of a choice one
// group is enough.
func TestEdgesOfClausesTogether(t *testing.T) {
	const yes, no, unknown = `growth_index = { above = 0.1 }`, `growth_index = { above = 0.9 }`, `nitrogen_left = { at_least = "1 lb/1000 ft2" }`
	const no2, yes2 = `water_factor = { below = 0.5 }`, `water_factor = { above = 0.5 }`
	any := func(groups ...string) string {
		return "[[rule.when.any]]\n" + strings.Join(groups, "\n[[rule.when.any]]\n")
	}
	for _, c := range []struct {
		when    string
		outcome Truth
	}{
		{yes, Yes}, {no, No}, {unknown, Unknown},
		{yes + "\n" + no2, No}, {yes + "\n" + unknown, Unknown}, {no + "\n" + unknown, No}, {unknown + "\n" + no2, No}, {yes + "\n" + yes2, Yes},
		{any(no, yes2), Yes}, {any(no, no2), No}, {any(no, unknown), Unknown}, {any(unknown, yes2), Yes}, {any(yes+"\n"+no2, no), No},
	} {
		assert.Equal(t, c.outcome, judged(t, c.when), c.when)
	}
}

// How far ahead a window opens or closes.
func TestEdgesOfWindows(t *testing.T) {
	stands := func(phase season.Phase, days int) func(*Input) {
		return func(in *Input) {
			in.Lawn, in.Calendar = &season.Lawn{}, &season.Calendar{}
			in.calendar = []season.Reading{{Window: season.Window{Kind: season.FeedingWindow, Title: "Feeding"}, Phase: phase, Days: days}}
		}
	}
	const opens, closes = `window = { of = "feeding", opens_within = "14 days" }`, `window = { of = "feeding", closes_within = "14 days" }`
	for _, c := range []struct {
		when    string
		phase   season.Phase
		days    int
		outcome Truth
	}{
		{opens, season.Ahead, 14, Yes}, {opens, season.Ahead, 15, No}, {opens, season.Ahead, 1, Yes}, {opens, season.Open, 14, No}, {opens, season.Closed, 0, No},
		{closes, season.Open, 14, Yes}, {closes, season.Open, 15, No}, {closes, season.Open, 1, Yes}, {closes, season.Open, 0, No}, {closes, season.Ahead, 14, No},
		{opens, season.CannotSay, 0, Unknown}, {closes, season.NotHere, 0, No}, {opens, season.NoWindow, 0, No},
		{`window = { of = "feeding", is = ["open"] }`, season.Open, 0, Yes}, {`window = { of = "feeding", is = ["ahead"] }`, season.Open, 0, No},
		{`window = { of = "aeration", is = ["open"] }`, season.Open, 0, No},
	} {
		assert.Equal(t, c.outcome, judged(t, c.when, stands(c.phase, c.days)), "%s: %s, %d days", c.when, c.phase, c.days)
	}
	// How long one has been open; one that opened before any record may have just now.
	opened := func(phase season.Phase, when season.Moment) func(*Input) {
		return func(in *Input) {
			stands(phase, 9)(in)
			in.calendar[0].Instance.Opens.When = when
		}
	}
	ago := func(days int) season.Moment {
		return season.Moment{Outcome: season.Dated, Date: issue29.AddDays(-days)}
	}
	for _, c := range []struct {
		phase   season.Phase
		when    season.Moment
		outcome Truth
	}{
		{season.Open, ago(0), Yes}, {season.Open, ago(14), Yes}, {season.Open, ago(15), No}, {season.Ahead, ago(-3), No}, {season.Closed, ago(3), No},
		{season.Open, season.Moment{Outcome: season.Already, Date: issue29.AddDays(-90)}, Yes},
	} {
		assert.Equal(t, c.outcome, judged(t, `window = { of = "feeding", opened_within = "14 days" }`, opened(c.phase, c.when)), "%s since %v", c.phase, c.when)
	}
	// Of several windows of a kind the open one speaks, else the next to open.
	several := func(in *Input) {
		stands(season.Ahead, 30)(in)
		next := in.calendar[0]
		next.Days = 10
		over := in.calendar[0]
		over.Phase, over.Days = season.Closed, 0
		in.calendar = append([]season.Reading{over}, in.calendar[0], next)
	}
	assert.Equal(t, Yes, judged(t, opens, several))
	assert.Equal(t, Yes, judged(t, `window = { of = "feeding", is = ["open"] }`, several, func(in *Input) {
		open := in.calendar[0]
		open.Phase = season.Open
		in.calendar = append(in.calendar, open)
	}))
}

// How far an event is, on both sides of it, and when the next one is spoken of.
func TestEdgesOfEvents(t *testing.T) {
	week, issue := weekOf(2026, 7, 15)
	require.Equal(t, issue29, issue)
	in := walk(t, piedmont.lived(issue), week, grassFile(t, "bermuda"), "")
	fares := func(on, test string) Truth {
		in.Rules = rules(t, in.Catalogue, rule("r", "mow", "do", 1, "", fmt.Sprintf(`event = { event = "date", on = %q, %s }`, on, test)))
		return in.Rules[0].judge(in, nil).Outcome
	}
	for _, c := range []struct {
		on, test string
		outcome  Truth
	}{
		{"07-22", `within = "10 days"`, Yes}, {"07-23", `within = "10 days"`, No},
		{"07-02", `within = "10 days"`, Yes}, {"07-01", `within = "10 days"`, No},
		{"07-12", `within = "0 days"`, Yes}, {"07-13", `within = "0 days"`, No}, {"07-11", `within = "0 days"`, No},
		{"08-23", `before = "6 weeks"`, Yes}, {"08-22", `before = "6 weeks"`, No}, {"08-24", `before = "6 weeks"`, Yes},
		{"06-21", `after = "3 weeks"`, Yes}, {"06-22", `after = "3 weeks"`, No}, {"06-20", `after = "3 weeks"`, Yes},
		// Half a year after a day its next one is spoken of.
		{"01-10", `after = "183 days"`, Yes}, {"01-09", `after = "1 day"`, No}, {"01-09", `before = "181 days"`, Yes}, {"01-10", `before = "1 day"`, No},
		// Within looks at the nearest of three years.
		{"01-05", `within = "177 days"`, Yes}, {"01-05", `within = "176 days"`, No},
	} {
		assert.Equal(t, c.outcome, fares(c.on, c.test), "%s %s", c.on, c.test)
	}
}

// Which of several rules speaks: the law's closure, then weight, then id; and
// what becomes of the others.
func TestEdgesOfWhichRuleSpeaks(t *testing.T) {
	says := func(id string, v Verdict, weight int, uses ...string) *Rule {
		return &Rule{ID: id, Topic: Feed, Verdict: v, Weight: weight, Uses: uses, Say: id}
	}
	closed := under(lawBook(t, record("summer", "state", "2026-01-10", window("summer", "06-01", "09-30", `"N"`))), onePlace...)
	for _, c := range []struct {
		name                   string
		rules                  []*Rule
		change                 func(*Input)
		lead, support, dropped string
	}{
		{"the heavier", []*Rule{says("a", Do, 50, Iron), says("b", Wait, 51)}, nil, "b", "", "a"},
		{"the heavier, first in the file", []*Rule{says("b", Wait, 51), says("a", Do, 50, Iron)}, nil, "b", "", "a"},
		{"of one weight the first id", []*Rule{says("b", Wait, 50), says("a", Do, 50, Iron)}, nil, "a", "", "b"},
		{"of one verdict", []*Rule{says("b", Do, 50, Iron), says("a", Do, 40, Iron), says("c", Do, 30, Iron)}, nil, "b", "a c", ""},
		{"a closure before any weight", []*Rule{says("a", Wait, 100), says("b", Do, 1, Nitrogen)}, closed, "b", "", "a"},
		{"a gate's wait is no support for a wait", []*Rule{says("a", Wait, 100), says("b", Do, 1, Nitrogen)}, rained(0, 60), "a", "", "b"},
		{"two rules that come to one closure are told once", []*Rule{says("a", Do, 10, Nitrogen), says("b", Do, 20, Nitrogen)}, closed, "b", "", ""},
		{"a rule that is held does not outweigh one that is not", []*Rule{says("a", Do, 40, Iron), says("b", Do, 50, Nitrogen)}, rained(0, 60), "b", "", "a"},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := lawnAt(t, ruled(c.rules...))
			if c.change != nil {
				c.change(in)
			}
			a := answerOn(t, Read(in), Feed)
			var support, dropped []string
			for _, d := range a.Support {
				support = append(support, d.id())
			}
			for _, d := range a.Dropped {
				dropped = append(dropped, d.Draft.id())
			}
			assert.Equal(t, c.lead, a.Lead.id())
			assert.Equal(t, c.support, strings.Join(support, " "))
			assert.Equal(t, c.dropped, strings.Join(dropped, " "))
		})
	}
}

// Of the pests of one rule the most urgent speaks: by grade, then by host.
func TestEdgesOfUrgency(t *testing.T) {
	of := func(id string, grade pest.Grade, host int) *Pest {
		return &Pest{Kind: Disease, Disease: &disease.Disease{ID: id, Name: id}, Found: pest.Assessment{Known: true, Grade: grade, Host: host}}
	}
	for _, c := range []struct {
		pests []*Pest
		lead  string
	}{
		{[]*Pest{of("a", pest.Watch, pest.MainHost), of("b", pest.Act, pest.MinorHost)}, "b"},
		{[]*Pest{of("a", pest.Quiet, pest.MainHost), of("b", pest.Watch, pest.MinorHost)}, "b"},
		{[]*Pest{of("a", pest.Watch, pest.MinorHost), of("b", pest.Watch, pest.CommonHost)}, "b"},
		{[]*Pest{of("a", pest.Watch, pest.CommonHost), of("b", pest.Watch, pest.CommonHost)}, "a"},
	} {
		r := proposal(Disease)
		r.Verdict, r.Each = Look, Disease
		in := lawnAt(t, ruled(r))
		in.found = c.pests
		assert.Equal(t, c.lead, answerOn(t, Read(in), Disease).Lead.Pest.ID())
	}
}

// What is said of the last seven days needs five of them, of the next seven too.
func TestEdgesOfIndicators(t *testing.T) {
	nan := math.NaN()
	without := func(c weather.Column, ago ...int) func(*Input) {
		return weathered(func(past, _ *weather.Series) {
			for _, n := range ago {
				past.Set(c, issue29.AddDays(-n), nan)
			}
		})
	}
	on := func(c weather.Column, ago int, x float64) func(*Input) {
		return weathered(func(past, ahead *weather.Series) {
			if ago > 0 {
				past.Set(c, issue29.AddDays(-ago), x)
			} else {
				ahead.Set(c, issue29.AddDays(-ago), x)
			}
		})
	}
	ahead := func(days int) func(*Input) {
		return weathered(func(_, f *weather.Series) {
			for d := f.Start; d <= f.End(); d++ {
				f.Set(weather.RainMM, d, 1)
				if int(d-f.Start) >= days {
					f.Set(weather.RainMM, d, nan)
				}
			}
		})
	}
	for _, c := range []struct {
		name      string
		indicator string
		change    func(*Input)
		want      float64
	}{
		{"the mean of five days", "mean_temperature", without(weather.TmaxC, 2, 5), 26.5},
		{"the mean of four", "mean_temperature", without(weather.TmaxC, 2, 4, 6), nan},
		{"the highest of five", "highest_temperature", without(weather.TmaxC, 2, 5), 31},
		{"the highest of four", "highest_temperature", without(weather.TmaxC, 2, 4, 6), nan},
		{"the lowest of five", "lowest_temperature", without(weather.TminC, 2, 5), 22},
		{"the lowest of four", "lowest_temperature", without(weather.TminC, 2, 4, 6), nan},
		{"the rain of five", "rain_last_7_days", without(weather.RainMM, 2, 5), 0},
		{"the rain of four", "rain_last_7_days", without(weather.RainMM, 2, 4, 6), nan},
		{"the highest of yesterday", "highest_temperature", on(weather.TmaxC, 1, 40), 40},
		{"of seven days ago", "highest_temperature", on(weather.TmaxC, 7, 40), 40},
		{"of eight days ago", "highest_temperature", on(weather.TmaxC, 8, 40), 31},
		{"of the issue date", "highest_temperature", on(weather.TmaxC, 0, 40), 31},
		{"rain of yesterday", "rain_last_7_days", on(weather.RainMM, 1, 9), 9},
		{"rain of seven days ago", "rain_last_7_days", on(weather.RainMM, 7, 9), 9},
		{"rain of eight days ago", "rain_last_7_days", on(weather.RainMM, 8, 9), 0},
		{"rain of the issue date", "rain_last_7_days", on(weather.RainMM, 0, 9), 0},
		{"rain ahead of five days", "rain_next_7_days", ahead(5), 5},
		{"of four", "rain_next_7_days", ahead(4), nan},
		{"of seven", "rain_next_7_days", ahead(7), 7},
		{"of nine, of which seven count", "rain_next_7_days", ahead(9), 7},
		{"the wettest ahead, on the seventh day", "wettest_day_ahead", on(weather.RainMM, -6, 20), 20},
		{"on the eighth", "wettest_day_ahead", on(weather.RainMM, -7, 20), 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := valueOf(t, lawnAt(t, c.change), c.indicator).Num
			if math.IsNaN(c.want) {
				assert.True(t, math.IsNaN(got), "%v", got)
				return
			}
			assert.InDelta(t, c.want, got, 1e-9)
		})
	}
	// Rain that was filled in was not seen, and a day that the forecast fills does
	// not count.
	filled := lawnAt(t, weathered(func(past, f *weather.Series) { past.Set(weather.RainMM, issue29.AddDays(-3), nan) }))
	assert.Zero(t, valueOf(t, filled, "rain_last_7_days").Num)

	// A soil temperature is observed if a probe reported on all seven days.
	probed := func(missing int) Value {
		return valueOf(t, lawnAt(t, weathered(func(past, _ *weather.Series) {
			for d := past.Start; d <= past.End(); d++ {
				if int(issue29-d) != missing {
					past.Set(weather.Soil10C, d, 20)
				}
			}
		})), "soil_temperature_4in")
	}
	assert.Equal(t, Observed, probed(0).Basis)
	assert.Equal(t, Observed, probed(8).Basis)
	assert.Equal(t, Estimated, probed(7).Basis)
	assert.Equal(t, Estimated, probed(1).Basis)
}

// A law's floors and ceilings of slow release, at their figures, and the pounds of
// a bag, which are rounded down.
func TestEdgesOfAmounts(t *testing.T) {
	allowed := func(z ZoneLaw, b Bag) bool {
		in := lawnAt(t)
		in.Law, in.Bags, in.Grass.NSingleGM2 = z, []Bag{b}, oneLb1000
		return slices.ContainsFunc(in.amounts(nil), func(m message.Message) bool { return m.Code == "amount.granular" })
	}
	for _, c := range []struct {
		name string
		z    ZoneLaw
		slow float64
		want bool
	}{
		{"just enough slow release", limited(t, limit("a", "min_slow_pct = 30")), 30, true},
		{"a little less", limited(t, limit("a", "min_slow_pct = 30")), 29.9, false},
		{"just the most", limited(t, limit("a", "max_slow_pct = 30")), 30, true},
		{"a little more", limited(t, limit("a", "max_slow_pct = 30")), 30.1, false},
		{"the higher of two floors", limited(t, limit("a", "min_slow_pct = 20"), limit("b", "min_slow_pct = 40")), 30, false},
		{"in either order", limited(t, limit("a", "min_slow_pct = 40"), limit("b", "min_slow_pct = 20")), 30, false},
		{"the lower of two ceilings", limited(t, limit("a", "max_slow_pct = 20"), limit("b", "max_slow_pct = 40")), 30, false},
		{"no room for any nitrogen", limited(t, limit("a", "per_app_total_n = 0.001")), 30, false},
	} {
		assert.Equal(t, c.want, allowed(c.z, bag(24, 0, 11, c.slow)), c.name)
	}
	// 1 lb of nitrogen takes 6.25 lb of a bag of 16 %, of which a spreader is set to
	// 6.2.
	in := lawnAt(t)
	in.Law, in.Bags, in.Grass.NSingleGM2 = limited(t), []Bag{bag(16, 0, 0, 0)}, oneLb1000
	product, ok := in.amounts(nil)[1].Slot("product")
	require.True(t, ok)
	assert.Equal(t, rate(6.2), product)
}

// The hours that a spray needs dry, by what is used; how many stretches are
// shown; and what cannot be graded.
func TestEdgesOfSprayHours(t *testing.T) {
	// hoursOf is a fit day but for rain in one hour, on each of the days.
	hoursOf := func(rainAt int, days ...int) []spray.Hour {
		var out []spray.Hour
		for _, day := range days {
			for h := range 24 {
				mm := 0.0
				if h == rainAt {
					mm = 9
				}
				out = append(out, spray.Hour{Date: issue29.AddDays(day), Of: h, TC: 20, RHPct: 60, WindMS: 2, GustMS: 2, CloudPct: 80, RainMM: mm, SinceSunriseH: float64(h) - 6, ToSunsetH: 18 - float64(h)})
			}
		}
		return out
	}
	// It rains at 15: hours from 9 on are followed by it within six.
	fungicide := func(dryH float64, hours []spray.Hour) func(*Input) {
		return both(ofDisease(disease.Decision{Answer: disease.AnswerOpen}, func(p *Pest) { p.Disease.Placement.DryLeast.Value = dryH }), func(in *Input) { in.Hours = hours })
	}
	const held = "wait spray gate.spray.none"
	day := hoursOf(15, 3)
	for i := range day { // dark but from 9 to 11
		if day[i].Of < 9 || day[i].Of > 10 {
			day[i].ToSunsetH = -1
		}
	}
	holdEdges(t, []edge{
		{"four dry hours needed and left", fungicide(4, day), "do"},
		{"five needed: of two hours the second has four", fungicide(5, day), held},
		{"six needed", fungicide(6, day), held},
	})
	assert.Len(t, keeps(t, lawnAt(t, fungicide(1, hoursOf(-1, 2, 3, 4, 5))), "gate.spray.window"), 4)
	assert.Len(t, keeps(t, lawnAt(t, fungicide(1, hoursOf(-1, 2, 3, 4, 5, 6))), "gate.spray.window"), 4, "four are shown")

	// Hours that lack what could close them, before the last day: nobody knows.
	ungraded := func(day int) []spray.Hour {
		hours := hoursOf(-1, day)
		for i := range hours {
			hours[i].WindMS = math.NaN()
		}
		return hours
	}
	windy := hoursOf(-1, 3)
	for i := range windy {
		windy[i].WindMS = 20
	}
	holdEdges(t, []edge{
		{"no hour fit", fungicide(1, windy), held},
		{"ungraded on Wednesday", fungicide(1, ungraded(3)), "do"},
		{"unfit, and ungraded on Sunday, the last day", fungicide(1, append(windy[:24:24], ungraded(7)...)), held},
		{"unfit, and ungraded on Saturday", fungicide(1, append(windy[:24:24], ungraded(6)...)), "do"},
		{"no hours on file", fungicide(1, nil), "do"},
	})
	assert.Equal(t, []string{"gate.spray.no_hours"}, keeps(t, lawnAt(t, fungicide(1, nil)), "gate.spray"))
	assert.Equal(t, []string{"gate.spray.no_hours"}, keeps(t, lawnAt(t, fungicide(1, ungraded(3))), "gate.spray"))
}

// Each weed killer has the dry hours that it needs itself: what is fast in six
// hours is offered between showers that keep others in the shed. Its days are those
// of its hours; one without a fit hour in its days is not offered.
func TestDaysAndHoursOfWeedKillersAreOneList(t *testing.T) {
	week, issue := weekOf(2026, 5, 6)
	mild := year{19, 1, 12, 9}
	choose := func(rainAt int, mm float64, hours bool) herbicideChoice {
		in := walk(t, mild.lived(issue), week, grassFile(t, "tall-fescue"), pestRule(`pest = "perennial-broadleaf"`, "weed", Herbicide))
		for d := week.Monday(); hours && d <= week.Sunday(); d++ {
			for h := range 24 {
				hour := spray.Hour{Date: d, Of: h, TC: 20, RHPct: 60, WindMS: 2, GustMS: 2, CloudPct: 80, SinceSunriseH: float64(h) - 8, ToSunsetH: 18 - float64(h)}
				if h == rainAt {
					hour.RainMM = mm
				}
				if d == week.Monday().AddDays(2) { // Wednesday blows
					hour.WindMS = 15
				}
				in.Hours = append(in.Hours, hour)
			}
		}
		p := in.pest(Weed, "perennial-broadleaf")
		p.Progress.Known, p.Progress.Invalid = true, ""
		for _, tr := range p.Weed.Treat {
			if !tr.Before {
				p.Progress.Stage.ID = tr.Stages[0]
			}
		}
		return in.herbicides(p)
	}
	named := func(list []herbicideDays, name string) bool {
		return slices.ContainsFunc(list, func(h herbicideDays) bool { return slices.Contains(h.Ingredient.Names, name) })
	}
	for _, c := range []struct {
		name   string
		rainAt int
		mm     float64
		quick  bool // what is fast in six hours is offered
		slow   bool // and what needs a day
	}{
		{"dry", 20, 0, true, true},
		{"rain every evening", 20, 9, true, false},
		{"a drizzle every evening", 20, 2, true, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := choose(c.rainAt, c.mm, true)
			assert.Equal(t, c.quick, named(got.usable, "dicamba"))
			assert.Equal(t, c.slow, named(got.usable, "2,4-D"))
			for _, h := range got.usable {
				var days []civil.Date
				for _, w := range h.windows {
					if !slices.Contains(days, w.Date) {
						days = append(days, w.Date)
					}
				}
				assert.Equal(t, h.days, days, h.Name)
				assert.NotContains(t, h.days, week.Monday().AddDays(2), "%s on a day of wind", h.Name)
			}
		})
	}
	byDay := choose(0, 0, false)
	require.True(t, named(byDay.usable, "2,4-D"))
	for _, h := range byDay.usable {
		assert.Nil(t, h.windows, "no hours are made of a daily forecast")
	}
}

// ofWeed gives the grass one weed with what may be used on it, and a rule to do
// so.
func ofWeed(c herbicideChoice) func(*Input) {
	return func(in *Input) {
		p := &Pest{Kind: Weed, Weed: &stage.Weed{Account: stage.Account{ID: "weed", Name: "Weed"}}, Found: pest.Assessment{Known: true}}
		r := proposal(Weed, Herbicide)
		r.Each = Weed
		in.found, in.Rules, in.chosen = []*Pest{p}, []*Rule{r}, map[*Pest]herbicideChoice{p: c}
	}
}

// Each bar of a herbicide has its gate. What the grass never bears is given up,
// the rest waits.
func TestEdgesOfHerbicideGates(t *testing.T) {
	want := map[herbicide.Bar]string{
		herbicide.BarIntolerant: "skip tolerance", herbicide.BarNotDormant: "skip tolerance", herbicide.BarGreenUp: "skip tolerance", herbicide.BarYoungTurf: "skip tolerance",
		herbicide.BarHeat: "wait heat", herbicide.BarDrought: "wait heat",
		herbicide.BarCold: "wait cold", herbicide.BarCoolSoil: "wait cold", herbicide.BarFrost: "wait cold",
		herbicide.BarRepeat: "wait overlap", herbicide.BarUnjudged: "wait overlap", herbicide.BarYearly: "wait overlap",
		herbicide.BarRain: "wait spray", herbicide.BarNoHours: "wait spray", herbicide.BarMowing: "wait spray", herbicide.BarNoWeather: "wait spray",
	}
	found := func(b herbicide.Bar) []herbicide.Finding {
		return []herbicide.Finding{{Bar: b, Value: math.NaN(), Limit: math.NaN()}}
	}
	option := stage.WeedOption{Name: "x", Ingredient: &herbicide.Ingredient{HRAC: "2"}}
	held := 0
	for _, id := range completing("bar.") {
		b := herbicide.Bar(strings.ReplaceAll(id, "_", "-"))
		if !b.Holds() {
			continue
		}
		held++
		got := cameTo(t, lawnAt(t, ofWeed(herbicideChoice{barred: []herbicideDays{{WeedOption: option, found: found(b)}}})))
		assert.Equal(t, want[b]+" "+phrase("bar", b), got, "%s", b)
	}
	assert.Len(t, want, held)
	holdEdges(t, []edge{
		{"nothing is listed", ofWeed(herbicideChoice{}), "skip tolerance gate.tolerance.none_listed"},
		{"one may be used, one not", ofWeed(herbicideChoice{
			usable: []herbicideDays{{WeedOption: option, days: []civil.Date{issue29 + 1}}}, barred: []herbicideDays{{WeedOption: option, found: found(herbicide.BarHeat)}},
		}), "do"},
	})
}

// The days of the week on which a weed killer may be used, the uses that count
// against it, and the soil that it asks about.
func TestEdgesOfAWeedKillersWeek(t *testing.T) {
	class := herbicide.Class{ID: "c", HRAC: "2", Cold: figure(math.NaN()), Heat: figure(32), Soil: figure(math.NaN()), MostPerYear: pest.Cited[int]{Value: 2}, Uptake: []herbicide.Knot{{X: 0, Y: 1}, {X: 40, Y: 1}}}
	none := herbicide.Ingredient{Names: []string{"x"}, HRAC: "2", Class: "c", Post: true}
	book := &Book{Herbicides: &herbicide.Book{Heat: figure(35), Classes: []herbicide.Class{class}, Ingredients: []herbicide.Ingredient{none}},
		Weeds: []*stage.Weed{{Account: stage.Account{ID: "weed"}}}}
	option := stage.WeedOption{Name: "x", Ingredient: &book.Herbicides.Ingredients[0], Treatment: &stage.WeedTreatment{}}
	judge := func(changes ...func(*Input)) herbicideDays {
		in := lawnAt(t, changes...)
		in.Pests = book
		return in.judgeHerbicide(&Pest{Kind: Weed, Weed: &stage.Weed{}}, option)
	}
	holds := func(h herbicideDays, b herbicide.Bar) bool {
		for _, f := range h.found {
			if f.Bar == b {
				return true
			}
		}
		return false
	}
	hot := func(day int, c float64) func(*Input) {
		return weathered(func(_, ahead *weather.Series) { ahead.Set(weather.TmaxC, issue29.AddDays(day), c) })
	}
	// The grass bears none of it here, which holds every day; heat comes on top on
	// the days of which the maximum is one of three.
	assert.True(t, holds(judge(), herbicide.BarIntolerant))
	assert.False(t, holds(judge(hot(1, 32)), herbicide.BarHeat), "at the limit")
	assert.True(t, holds(judge(hot(1, 32.1)), herbicide.BarHeat), "above it on Monday")
	assert.True(t, holds(judge(hot(3, 32.1)), herbicide.BarHeat), "two days after")
	assert.False(t, holds(judge(hot(4, 40)), herbicide.BarHeat), "three days after")

	log := func(treatments ...pest.Treatment) func(*Input) {
		return func(in *Input) { in.lawn, in.Treatments = &lawn{}, treatments }
	}
	use := func(ago int) pest.Treatment {
		return pest.Treatment{Date: issue29.AddDays(-ago), Target: "weed", Groups: []string{"2"}}
	}
	newYear := int(issue29 - civil.MustDate(2026, 1, 1))
	assert.False(t, holds(judge(log(use(40))), herbicide.BarYearly))
	assert.True(t, holds(judge(log(use(80), use(40))), herbicide.BarYearly), "two of two")
	assert.True(t, holds(judge(log(use(newYear), use(40))), herbicide.BarYearly), "since New Year")
	assert.False(t, holds(judge(log(use(newYear+1), use(40))), herbicide.BarYearly), "one of them last year")
	other := use(80)
	other.Groups = []string{"4"}
	assert.False(t, holds(judge(log(other, use(40))), herbicide.BarYearly), "another group")
	fungus := use(80)
	fungus.Target = "blight"
	assert.False(t, holds(judge(log(fungus, use(40))), herbicide.BarYearly), "a group of fungicides has the same number")
}

// A week that is free throughout runs from Monday to Sunday, and the soil of a day
// is told by five days on record of the seven that end with it.
func TestEdgesOfTheDaysOfAWeedKiller(t *testing.T) {
	in := preventive(t, grassFile(t, "bermuda"), "crabgrass", "")
	usable := in.herbicides(in.pest(Weed, "crabgrass")).usable
	require.NotEmpty(t, usable)
	days := usable[0].days
	require.Len(t, days, 7)
	assert.Equal(t, []civil.Date{in.Week.Monday(), in.Week.Sunday()}, []civil.Date{days[0], days[6]})

	// On Monday the five days before the issue date count, from Tuesday on four.
	known := func(day int, missing ...int) bool {
		in := lawnAt(t, weathered(func(past, _ *weather.Series) {
			for _, ago := range missing {
				past.Set(weather.TmaxC, issue29.AddDays(-ago), math.NaN())
			}
		}))
		use, _ := in.around(issue29.AddDays(day), spray.Limits{})
		return !math.IsNaN(use.SoilC)
	}
	assert.True(t, known(1))
	assert.False(t, known(2))
	assert.False(t, known(1, 3), "one of them is missing")
}

// Pre-emergents keep seed away until their last day, or a year where the interval
// is not known.
func TestEdgesOfSeed(t *testing.T) {
	sown := func(ago, interval int) func(*Input) {
		return both(using(Seed), func(in *Input) {
			in.Pests = &Book{Weeds: []*stage.Weed{{Account: stage.Account{ID: "weed"}}},
				Herbicides: &herbicide.Book{Ingredients: []herbicide.Ingredient{{Names: []string{"x"}, HRAC: "3", Pre: true, Broadcast: pest.Cited[int]{Value: interval}}}}}
			in.lawn, in.Treatments = &lawn{}, []pest.Treatment{{Date: issue29.AddDays(-ago), Target: "weed", Groups: []string{"3"}}}
		})
	}
	const held, ask = "wait overlap gate.overlap.seed_why", "wait overlap gate.overlap.seed_label_why"
	holdEdges(t, []edge{
		{"60 days of 60", sown(60, 60), "do"},
		{"59 days of 60", sown(59, 60), held},
		{"not known, 364 days", sown(364, 0), ask},
		{"not known, 365 days", sown(365, 0), "do"},
		{"two ingredients, the one that bars longer counts", both(sown(70, 60), func(in *Input) {
			in.Pests.Herbicides.Ingredients = append(in.Pests.Herbicides.Ingredients, herbicide.Ingredient{HRAC: "3", Pre: true, Broadcast: pest.Cited[int]{Value: 90}})
		}), held},
		{"no pre-emergent", both(sown(10, 60), func(in *Input) { in.Pests.Herbicides.Ingredients[0].Pre = false }), "do"},
	})
}

// What holds uptake down is named below nine parts in ten.
func TestEdgesOfUptake(t *testing.T) {
	limit := func(ft, fl, fw, meanC float64) string {
		c := herbicideChoice{usable: []herbicideDays{{uptake: herbicide.Uptake{U: 50, FT: ft, FL: fl, FW: fw}, meanC: meanC, class: &herbicide.Class{UsefulFrom: figure(15)}}}}
		return c.uptakeLimit()
	}
	assert.Equal(t, uptakeLimits[0], limit(0.9, 1, 1, 20))
	assert.Equal(t, uptakeLimits[0], limit(0.86, 1, 1, 20), "prints as nine parts in ten")
	assert.Equal(t, uptakeLimits[2], limit(0.84, 1, 1, 20))
	assert.Equal(t, uptakeLimits[2], limit(0.8, 1, 1, 15))
	assert.Equal(t, uptakeLimits[1], limit(0.8, 1, 1, 14.9))
	assert.Equal(t, uptakeLimits[3], limit(1, 0.8, 1, 20))
	assert.Equal(t, uptakeLimits[4], limit(1, 1, 0.8, 20))
	assert.Empty(t, herbicideChoice{}.uptakeLimit())
}

// What an author may write, at its bounds.
func TestEdgesOfWhatAnAuthorMayWrite(t *testing.T) {
	in := lawnAt(t)
	ruleText := func(weight int, uses, when string) string {
		return mistakes(t, rule("r", "project", "look", weight, uses, when), func(root *diag.Table) { ReadRules(root, in.Catalogue, &Book{}) })
	}
	assert.Empty(t, ruleText(0, "", onState))
	assert.Empty(t, ruleText(100, "", onState))
	assert.Contains(t, ruleText(101, "", onState), "outside 0 to 100")
	for days, ok := range map[int]bool{0: false, 1: true, 60: true, 61: false} {
		assert.Equal(t, ok, ruleText(1, "", fmt.Sprintf("growth_index = { above = 0.1, for_days = %d }", days)) == "", "for_days = %d", days)
		assert.Equal(t, ok, ruleText(1, "", fmt.Sprintf(`growth_index = { rising = "%d days" }`, days)) == "", "rising over %d days", days)
	}
	for days, ok := range map[int]bool{0: true, 200: true, 201: false} {
		assert.Equal(t, ok, ruleText(1, "", fmt.Sprintf(`event = { event = "last-frost", before = "%d days" }`, days)) == "", "before = %d days", days)
	}
	assert.Empty(t, ruleText(1, "", `growth_index = { between = [0.4, 0.4] }`))
	assert.NotEmpty(t, ruleText(1, "", `growth_index = { between = [0.41, 0.4] }`))

	caution := func(short, medium int) string {
		return mistakes(t, fmt.Sprintf("[[caution]]\nid = \"c\"\nshort = %q\nmedium = %q\n", strings.Repeat("é", short), strings.Repeat("é", medium)), func(root *diag.Table) { ReadCautions(root) })
	}
	assert.Empty(t, caution(90, 330))
	assert.Contains(t, caution(91, 330), "at most 90")
	assert.Contains(t, caution(90, 331), "at most 330")

	bags := func(n, p, k, slow string) string {
		return mistakes(t, fmt.Sprintf("[[bag]]\nn = %s\np2o5 = %s\nk2o = %s\nslow = %q\nclass = \"synthetic\"\nform = \"liquid\"\n", n, p, k, slow), func(root *diag.Table) { ReadBags(root) })
	}
	assert.Empty(t, bags("46", "0", "54", "0 %"), "all of it nutrient")
	assert.NotEmpty(t, bags("46", "0", "54.1", "0 %"))
	assert.Empty(t, bags("1", "0", "0", "100 %"))
	assert.NotEmpty(t, bags("1", "0", "0", "100.1 %"))
	assert.NotEmpty(t, bags("0", "0", "5", "0 %"))
}
