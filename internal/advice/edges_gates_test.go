package advice

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/disease"
	"ligule/internal/homeuse"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Frozen or snow-covered ground holds: soil at 0 °C on the last day on record,
// and any snow on it.
func TestEdgesOfFrozenGround(t *testing.T) {
	soil := func(ago int, c float64) func(*Input) {
		return weathered(func(past, _ *weather.Series) { past.Set(weather.Soil5C, issue29.AddDays(-ago), c) })
	}
	snow := func(ago int, mm float64) func(*Input) {
		return weathered(func(past, ahead *weather.Series) {
			past.Set(weather.SnowDepthMM, past.Start, 0)
			if ago > 0 {
				past.Set(weather.SnowDepthMM, issue29.AddDays(-ago), mm)
			} else {
				ahead.Set(weather.SnowDepthMM, issue29.AddDays(-ago), mm)
			}
		})
	}
	holdEdges(t, []edge{
		{"soil at 0.0 °C", soil(1, 0), "wait storm gate.storm.frozen_why"},
		{"soil just above", soil(1, 0.1), "do"},
		{"soil just below", soil(1, -0.1), "wait storm gate.storm.frozen_why"},
		{"soil frozen two days ago, and thawed", soil(2, -3), "do"},
		{"no snow", snow(1, 0), "do"},
		{"a trace of snow", snow(1, 1), "wait storm gate.storm.snow_why"},
		{"snow two days ago, not told since", snow(2, 100), "do"},
		{"snow forecast", snow(0, 100), "do"},
	})
}

// Two inches of rain in a day hold, as they are printed; two days that bring
// them together warn, and so does one day of an inch.
func TestEdgesOfStorms(t *testing.T) {
	holdEdges(t, []edge{
		{"50.8 mm on a day", rained(0, 0, 50.8), "wait storm gate.storm.heavy_why"},
		{"50.7 mm", rained(0, 0, 50.7), "do"},
		{"what prints as 50.8 mm", rained(0, 0, 50.76), "wait storm gate.storm.heavy_why"},
		{"what prints as 50.7 mm", rained(0, 0, 50.74), "do"},
		{"51.3 mm", rained(0, 0, 51.3), "wait storm gate.storm.heavy_why"},
		{"on the issue date", rained(50.8), "wait storm gate.storm.heavy_why"},
		{"on the Sunday of the week", rained(0, 0, 0, 0, 0, 0, 0, 50.8), "wait storm gate.storm.heavy_why"},
		{"on the Monday after it", rained(0, 0, 0, 0, 0, 0, 0, 0, 50.8), "do"},
		{"the second of two wet days", rained(0, 40, 55), "wait storm gate.storm.heavy_why"},
	})
	short := func(days int) func(*Input) {
		return weathered(func(_, ahead *weather.Series) {
			for d := ahead.Start.AddDays(days); d <= ahead.End(); d++ {
				ahead.Set(weather.RainMM, d, math.NaN())
			}
		})
	}
	holdEdges(t, []edge{
		{"a forecast of the issue date alone", short(1), "do"},
		{"no forecast", short(0), "wait storm gate.storm.unknown_why"},
	})
	for _, c := range []struct {
		name   string
		change func(*Input)
		want   []string
	}{
		{"fair", rained(0), nil},
		{"two days of 50.8 mm together", rained(0, 0, 25.4, 25.4), []string{"gate.storm.warn_two_days"}},
		{"two days of 50.7 mm", rained(0, 0, 25.4, 25.3), []string{"gate.storm.warn_day"}},
		{"not one after the other", rained(0, 0, 25.4, 0, 25.4), []string{"gate.storm.warn_day"}},
		{"the last two days of the week", rained(0, 0, 0, 0, 0, 0, 25.4, 25.4), []string{"gate.storm.warn_two_days"}},
		{"the Sunday and the Monday after", rained(0, 0, 0, 0, 0, 0, 0, 25.4, 25.4), []string{"gate.storm.warn_day"}},
		{"an inch", rained(0, 25.4), []string{"gate.storm.warn_day"}},
		{"less", rained(0, 25.3), nil},
		{"what prints as less", rained(0, 25.34), nil},
		{"half of a storm on one day is no pair with itself", rained(0, 0, 25.4), []string{"gate.storm.warn_day"}},
		{"a forecast through Sunday", short(8), nil},
		{"through Saturday", short(7), []string{"gate.storm.short_forecast"}},
		{"of the issue date alone", short(1), []string{"gate.storm.short_forecast"}},
		{"short and wet", both(short(7), func(in *Input) {
			in.Felt = weatherOf(func(_, ahead *weather.Series) {
				ahead.Set(weather.RainMM, issue29.AddDays(2), 30)
				ahead.Set(weather.RainMM, issue29.AddDays(7), math.NaN())
			})
		}), []string{"gate.storm.warn_day", "gate.storm.short_forecast"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := keeps(t, lawnAt(t, c.change), "gate.storm")
			assert.Equal(t, len(c.want), len(got))
			assert.Subset(t, got, c.want)
		})
	}
}

// The storm gate is for what washes off or drifts, and for nothing else.
func TestEdgesOfWhatAStormHolds(t *testing.T) {
	held := map[string]bool{Nitrogen: true, Phosphorus: true, Fungicide: true, Herbicide: true, Insecticide: true}
	for _, use := range season.Uses() {
		want := "do"
		if held[use] {
			want = "wait storm gate.storm.heavy_why"
		}
		assert.Equal(t, want, cameTo(t, lawnAt(t, rained(0, 60), using(use))), use)
	}
}

// A fungicide is for grass that is mown every fourteen days or more often.
func TestEdgesOfMowingDays(t *testing.T) {
	mown := func(days int) func(*Input) {
		return both(using(Fungicide), lies(func(g *turf.Growth) { g.MowDays = days }))
	}
	holdEdges(t, []edge{
		{"every 14 days", mown(14), "do"},
		{"every 15 days", mown(15), "wait growth gate.growth.too_slow_why"},
		{"no mowing expected", mown(0), "wait growth gate.growth.too_slow_why"},
		{"feeding does not ask", both(mown(15), using(Nitrogen)), "do"},
	})
	// Who mows knows better than the model.
	told := func(model, reader int) func(*Input) {
		return both(ofDisease(disease.Decision{Answer: disease.AnswerOpen}, func(p *Pest) {
			p.Report = &pest.Report{MownDays: reader, DiameterM: math.NaN()}
		}), lies(func(g *turf.Growth) { g.MowDays = model }))
	}
	holdEdges(t, []edge{
		{"20 by the model, 14 by the reader", told(20, 14), "do"},
		{"7 by the model, 15 by the reader", told(7, 15), "wait growth gate.growth.too_slow_why"},
		{"14 by the model, not told", told(14, 0), "do"},
		{"15 by the model, not told", told(15, 0), "wait growth gate.growth.too_slow_why"},
		{"none by the model, 14 by the reader", told(0, 14), "do"},
	})
}

// ofDisease gives the grass one disease with what its own gate says of the
// place, and a rule to treat it.
func ofDisease(decision disease.Decision, changes ...func(*Pest)) func(*Input) {
	return func(in *Input) {
		p := &Pest{Kind: Disease, Disease: &disease.Disease{ID: "blight", Name: "Blight"}, Decision: &decision, Found: pest.Assessment{Known: true}}
		for _, change := range changes {
			change(p)
		}
		r := proposal(Disease, Fungicide)
		r.Each = Disease
		in.found, in.Rules = []*Pest{p}, []*Rule{r}
	}
}

// What each state of the grass bears.
func TestEdgesOfGrowth(t *testing.T) {
	dormant := func(why turf.DormantCause) func(g *turf.Growth) {
		return func(g *turf.Growth) { g.State, g.DormantWhy, g.MowDays = turf.Dormant, why, 0 }
	}
	is := func(s turf.State) func(g *turf.Growth) { return func(g *turf.Growth) { g.State = s } }
	unknown := func(g *turf.Growth) { g.Enough, g.State = false, "" }
	const asleep, resting, missing = "skip growth gate.growth.dormant_why", "skip growth gate.growth.resting_why", "wait growth gate.growth.unknown_why"
	for _, c := range []struct {
		name  string
		uses  []string
		grass func(*turf.Growth)
		want  string
	}{
		{"nitrogen on grass asleep in the cold", []string{Nitrogen}, dormant("soil"), asleep},
		{"nitrogen on grass asleep in a drought", []string{Nitrogen}, dormant("drought"), asleep},
		{"nitrogen on resting grass", []string{Nitrogen}, is(turf.Resting), resting},
		{"nitrogen on slowing grass", []string{Nitrogen}, is(turf.Slowing), "do"},
		{"nitrogen on grass that greens up", []string{Nitrogen}, is(turf.GreeningUp), "do"},
		{"nitrogen on recovering grass", []string{Nitrogen}, is(turf.Recovering), "do"},
		{"nitrogen where the state is not known", []string{Nitrogen}, unknown, missing},
		{"fungicide on dormant grass", []string{Fungicide}, dormant("soil"), asleep},
		{"fungicide on resting grass", []string{Fungicide}, is(turf.Resting), resting},
		{"insecticide on dormant grass", []string{Insecticide}, dormant("freeze"), asleep},
		{"insecticide on resting grass", []string{Insecticide}, is(turf.Resting), resting},
		{"weed killer on grass asleep in the cold", []string{Herbicide}, dormant("soil"), "do"},
		{"weed killer on grass asleep in a drought", []string{Herbicide}, dormant("drought"), asleep},
		{"weed killer on resting grass", []string{Herbicide}, is(turf.Resting), "do"},
		{"weed killer where the state is not known", []string{Herbicide}, unknown, missing},
		{"weed and feed on grass asleep in the cold", []string{Herbicide, Nitrogen}, dormant("soil"), asleep},
		{"weed killer with fungicide on resting grass", []string{Herbicide, Fungicide}, is(turf.Resting), resting},
		{"phosphorus alone on dormant grass", []string{Phosphorus}, dormant("soil"), "do"},
		{"seed on dormant grass", []string{Seed}, dormant("soil"), "do"},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, cameTo(t, lawnAt(t, using(c.uses...), lies(c.grass))))
		})
	}
	in := lawnAt(t, using(Nitrogen))
	in.Daily = nil
	assert.Equal(t, missing, cameTo(t, in), "no weather")

	// A preventive of the soil goes down as growth ends, but not on sleeping
	// grass, and not with nitrogen.
	preventive := func(g func(*turf.Growth), uses ...string) func(*Input) {
		return both(ofDisease(disease.Decision{Answer: disease.AnswerOpen}, func(p *Pest) { p.Disease.Treatment.Preventive.Value = true }),
			func(in *Input) { in.Rules[0].Uses = append(in.Rules[0].Uses, uses...) }, lies(g))
	}
	slow := func(g *turf.Growth) { g.State, g.MowDays = turf.Slowing, 25 }
	holdEdges(t, []edge{
		{"preventive on resting grass", preventive(is(turf.Resting)), "do"},
		{"preventive on grass mown every 25 days", preventive(slow), "do"},
		{"preventive on dormant grass", preventive(dormant("soil")), asleep},
		{"preventive where the state is not known", preventive(unknown), missing},
		{"preventive with nitrogen on resting grass", preventive(is(turf.Resting), Nitrogen), resting},
		{"preventive with an insecticide on resting grass", preventive(is(turf.Resting), Insecticide), resting},
	})
}

// Cool-season grass is not fed while 90 °F is forecast, on any day of the week.
func TestEdgesOfHeat(t *testing.T) {
	heat := func(day int, c float64) func(*Input) {
		return both(func(in *Input) { in.Grass.Kind = turf.CoolSeason }, weathered(func(_, ahead *weather.Series) {
			for d := ahead.Start; d <= ahead.End(); d++ {
				ahead.Set(weather.TmaxC, d, 28)
			}
			ahead.Set(weather.TmaxC, issue29.AddDays(day), c)
		}))
	}
	const held = "wait heat gate.heat.feed_why"
	holdEdges(t, []edge{
		{"32.2 °C on Wednesday", heat(3, 32.2), held},
		{"32.1 °C", heat(3, 32.1), "do"},
		{"what prints as 32.2 °C", heat(3, 32.16), held},
		{"what prints as 32.1 °C", heat(3, 32.14), "do"},
		{"on Monday", heat(1, 32.2), held},
		{"on Sunday", heat(7, 32.2), held},
		{"on the issue date, the day before the week", heat(0, 40), "do"},
		{"on the Monday after", heat(8, 40), "do"},
		{"on warm-season grass", both(heat(3, 40), func(in *Input) { in.Grass.Kind = turf.WarmSeason }), "do"},
		{"of phosphorus", both(heat(3, 40), using(Phosphorus)), "do"},
	})
}

// The least feeding worth spreading, and the year's rate.
func TestEdgesOfTheLeastFeeding(t *testing.T) {
	left := func(gm2 float64) func(*Input) {
		return func(in *Input) { in.nitrogen = &nitrogenYear{annualGM2: 15, weekGM2: 0.5, leftGM2: gm2} }
	}
	holdEdges(t, []edge{
		{"0.25 g/m²", left(0.25), "do"},
		{"a little less", left(0.249), "skip overlap gate.overlap.feed_why"},
		{"nothing", left(0), "skip overlap gate.overlap.feed_why"},
		{"not known", left(math.NaN()), "do"},
		{"of phosphorus", both(left(0), using(Phosphorus)), "do"},
	})
	assert.Equal(t, []string{"gate.overlap.left"}, keeps(t, lawnAt(t, left(0.25)), "gate.overlap"))
	assert.Empty(t, keeps(t, lawnAt(t, left(math.NaN())), "gate.overlap"))
}

// The usual year of growth is taken from three whole years on file at least and
// ten at most, each with the month before it.
func TestEdgesOfTheUsualYear(t *testing.T) {
	week, issue := weekOf(2026, 3, 11)
	bermuda := grassFile(t, "bermuda")
	// since is the weather of the invented piedmont from a day on, with the
	// summers of some years made colder.
	since := func(first civil.Date, colder ...int) *Input {
		whole := piedmont.livedFor(issue.Year()-first.Year()+1, issue).View.Days
		s := weather.NewSeries(first, int(issue-first))
		for d := first; d < issue; d++ {
			for _, c := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM} {
				s.Set(c, d, whole.At(c, d))
			}
			for _, y := range colder {
				if d.Year() == y && d.Month() >= 5 && d.Month() <= 9 { // well inside its weeks
					s.Set(weather.TmaxC, d, whole.At(weather.TmaxC, d)-8)
					s.Set(weather.TminC, d, whole.At(weather.TminC, d)-8)
				}
			}
		}
		felt := weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 35.5}, s, nil, issue).Felt()
		return walk(t, felt, week, bermuda, "")
	}
	left := func(in *Input) float64 { return in.nitrogenOf().leftGM2 }
	known := func(in *Input) bool { return !math.IsNaN(left(in)) }
	assert.True(t, known(since(civil.MustDate(2022, 12, 1))), "three years with December before")
	assert.False(t, known(since(civil.MustDate(2022, 12, 2))), "a day of it is missing")
	assert.False(t, known(since(civil.MustDate(2023, 12, 1))), "two years")

	tens := civil.MustDate(2013, 11, 1)
	plain := left(since(tens))
	require.False(t, math.IsNaN(plain))
	assert.NotEqual(t, plain, left(since(tens, 2016)), "the tenth year back counts")
	assert.Equal(t, plain, left(since(tens, 2015)), "the eleventh does not")
}

// The gate of each answer of a disease's own gate.
func TestEdgesOfTreatment(t *testing.T) {
	answer := func(a disease.Answer) func(*Input) {
		return ofDisease(disease.Decision{Answer: a, Reasons: []disease.Reason{disease.ReasonSlow}})
	}
	holdEdges(t, []edge{
		{"open", answer(disease.AnswerOpen), "do"},
		{"hold", answer(disease.AnswerHold), "wait treatment treat.mown_too_seldom"},
		{"closed", answer(disease.AnswerClosed), "skip treatment treat.mown_too_seldom"},
		{"none", answer(disease.AnswerNone), "skip treatment treat.mown_too_seldom"},
		{"silent", answer(disease.AnswerSilent), "skip treatment treat.mown_too_seldom"},
		{"nothing to judge", ofDisease(disease.Decision{}, func(p *Pest) { p.Decision = nil }), "wait treatment treat.not_identified"},
	})
}

// How long a report of a disease speaks of the present, and since when its area
// is compared.
func TestEdgesOfReports(t *testing.T) {
	week, issue := weekOf(2026, 6, 17)
	fescue := grassFile(t, "tall-fescue")
	felt := (year{17, 11, 8, 9}).lived(issue)
	report := func(ago int, areaPct float64) pest.Report {
		return pest.Report{Date: issue.AddDays(-ago), Grass: "tall-fescue", Place: "back", Finding: "brown-patch", AreaPct: areaPct, Patches: 6, DiameterM: 2, Confirmed: true, MarginActive: true, MownDays: 6}
	}
	patch := func(reports ...pest.Report) *Pest {
		in := walk(t, felt, week, fescue, "")
		in.Reports = reports
		for _, lawn := range in.lawns() {
			return lawn.pest(Disease, "brown-patch")
		}
		return in.pest(Disease, "brown-patch")
	}
	assert.NotNil(t, patch(report(21, 12)).Report, "21 days old")
	assert.Nil(t, patch(report(22, 12)).Report, "22 days old")
	assert.NotNil(t, patch(report(1, 12)).Report, "of the day before")
	assert.Nil(t, patch(report(0, 12)).Report, "of the issue date")
	assert.NotNil(t, patch(report(30, 12), report(21, 12)).Report, "the newest counts")

	// Spring dead spot and its like are treated where they spread; the same case
	// is made of every disease.
	spreading := func(trigger string, before, last pest.Report) bool {
		in := walk(t, felt, week, fescue, "")
		in.Reports = []pest.Report{before, last}
		for _, lawn := range in.lawns() {
			if lawn.lawn.place == last.Place {
				in = lawn
			}
		}
		d := *in.pest(Disease, "brown-patch").Disease
		d.Treatment.Trigger = disease.Trigger(trigger)
		p := &Pest{Kind: Disease, Disease: &d, Found: pest.Assessment{Known: true, Grade: pest.Act}}
		in.decide(p)
		require.NotNil(t, p.Decision)
		return p.Decision.Answer == disease.AnswerOpen
	}
	for _, e := range []struct {
		name         string
		before, last pest.Report
		want         bool
	}{
		{"grown within 21 days", report(24, 11.9), report(3, 12), true},
		{"a look 22 days before", report(25, 11.9), report(3, 12), false},
		{"as large as before", report(24, 12), report(3, 12), false},
		{"smaller than before", report(24, 12.1), report(3, 12), false},
	} {
		assert.Equal(t, e.want, spreading(string(disease.TriggerSpread), e.before, e.last), e.name)
	}
	elsewhere := report(24, 5)
	elsewhere.Place = "front"
	assert.False(t, spreading(string(disease.TriggerSpread), elsewhere, report(3, 12)), "another place")
	still := report(3, 12)
	still.MarginActive = false
	assert.False(t, spreading(string(disease.TriggerSpread), report(24, 5), still), "no active margin")
}

// Law: what it says of each use, and on which of its days.
func TestEdgesOfLaw(t *testing.T) {
	ban := func(targets string) func(*Input) {
		return under(lawBook(t, record("summer", "state", "2026-01-10", window("summer", "06-01", "09-30", targets))), onePlace...)
	}
	const closed = "closed law law.closed_season"
	for _, c := range []struct{ use, targets, want string }{
		{Nitrogen, `"N"`, closed}, {Phosphorus, `"N"`, "do"}, {Potassium, `"N"`, "do"}, {Iron, `"N"`, "do"},
		{Nitrogen, `"P"`, "do"}, {Phosphorus, `"P"`, closed},
		{Nitrogen, `"any"`, closed}, {Phosphorus, `"any"`, closed}, {Potassium, `"any"`, closed}, {Iron, `"any"`, closed},
		{Fungicide, `"any"`, "do"}, {Herbicide, `"any"`, "do"}, {Insecticide, `"any"`, "do"}, {Seed, `"any"`, "do"}, {WaterUse, `"any"`, "do"},
	} {
		assert.Equal(t, c.want, cameTo(t, lawnAt(t, using(c.use), ban(c.targets))), "%s under a ban on %s", c.use, c.targets)
	}
	span := func(from, to string) func(*Input) {
		return under(lawBook(t, record("summer", "state", "2026-01-10", window("summer", from, to, `"N"`))), onePlace...)
	}
	holdEdges(t, []edge{
		{"closed through the Sunday before the week", span("06-01", "07-12"), "do"},
		{"closed through Monday", span("06-01", "07-13"), closed},
		{"closed from Sunday on", span("07-19", "08-01"), closed},
		{"closed from the Monday after", span("07-20", "08-01"), "do"},
		{"the state is open, the place not looked up", under(lawBook(t, record("open", "state", "2026-01-10", window("winter", "12-01", "02-01", `"N"`))), law.Place{Name: "edge", Chain: []string{"state", "nowhere"}}), "wait law flag.no_record"},
		{"no place", under(lawBook(t)), "wait law law.no_place"},
	})
	// A rule that says to wait does not silence a closed season, nor does it make
	// one; what passed the law speaks instead.
	wait := &Rule{ID: "later", Topic: Feed, Verdict: Wait, Weight: 90, Say: "x"}
	assert.Equal(t, closed, cameTo(t, lawnAt(t, ruled(wait), ban(`"N"`))))
	assert.Equal(t, "wait", cameTo(t, lawnAt(t, ruled(wait))))
	iron := proposal(Feed, Iron)
	assert.Equal(t, "do", cameTo(t, lawnAt(t, ruled(iron), ban(`"N"`))), "iron may go down while nitrogen is closed")
	mow := proposal(Mow)
	assert.Equal(t, "do", cameTo(t, lawnAt(t, ruled(mow), ban(`"any"`))))
}

// Local law on pesticides closes what it bars, and strikes what is of a class that it
// bars; where only some of the places are under it, in part.
func TestEdgesOfLawOnPesticides(t *testing.T) {
	bars := func(jurisdiction, targets, more string) string {
		return record("bans", jurisdiction, "2026-01-10", "[[rules]]\nid = \"p\"\ntopic = \"pesticide\"\neffect = \"ban\"\ntargets = ["+targets+"]\ncitation = \"2(p)\"\n"+more)
	}
	span := func(from, to string) string {
		return `when = [{ kind = "annual", from = "` + from + `", to = "` + to + `", bounds = "[]", bounds_basis = "text" }]` + "\n"
	}
	all := `binds = ["all"]` + "\n"
	fertilizer := record("open", "state", "2026-01-10", window("winter", "12-01", "02-01", `"N"`))
	two := []law.Place{onePlace[0], {Name: "Some County", Chain: []string{"state", "county"}}}
	const closed = "closed law law.closed_rule"
	for _, c := range []struct {
		name, use, ban string
		places         []law.Place
		want           string
	}{
		{"barred", Herbicide, bars("state", `"herbicide"`, all), onePlace, closed},
		{"another use", Insecticide, bars("state", `"herbicide"`, all), onePlace, "do"},
		{"nitrogen is not cleared by it", Nitrogen, bars("county", `"herbicide"`, all), two, "do"},
		{"a class alone", Insecticide, bars("state", `"insecticide"`, all+"only_products = [\"neonicotinoid\"]\n"), onePlace, "do"},
		{"at one place", Fungicide, bars("county", `"fungicide"`, all), two, closed},
		{"from Sunday on", Herbicide, bars("state", `"herbicide"`, all+span("07-19", "08-01")), onePlace, "closed law law.closed_season"},
		{"from the Monday after", Herbicide, bars("state", `"herbicide"`, all+span("07-20", "08-01")), onePlace, "do"},
		{"for hire alone", Herbicide, bars("state", `"herbicide"`, `binds = ["for_hire"]`+"\n"), onePlace, "do"},
	} {
		b := lawBook(t, fertilizer, c.ban)
		in := lawnAt(t, using(c.use), under(b, c.places...))
		assert.Equal(t, c.want, cameTo(t, in), c.name)
		if c.name == "at one place" {
			assert.True(t, answerOn(t, Read(in), in.Rules[0].Topic).Lead.Say.Code == closedInPart, "in part")
		}
	}

	// Where nobody has looked for another law, that closes no other day.
	in := lawnAt(t, under(lawBook(t, fertilizer, bars("county", `"herbicide"`, all+span("07-19", "08-01"))), two...))
	days, clear := in.Law.Places[1].closedDays(Herbicide, in.Law.Monday)
	assert.Equal(t, []civil.Date{week29.Sunday()}, days)
	assert.True(t, clear)

	for _, c := range []struct {
		name, ban string
		places    []law.Place
		want      []homeuse.Local
	}{
		{"everywhere", bars("state", `"insecticide"`, all), two, []homeuse.Local{{Kind: "insecticide", Code: homeuse.Barred}}},
		{"who lives there alone", bars("state", `"insecticide"`, `binds = ["homeowner"]`+"\n"), two, []homeuse.Local{{Kind: "insecticide", Code: homeuse.Professional}}},
		{"at one place", bars("county", `"insecticide"`, all+"only_products = [\"neonicotinoid\"]\n"), two, []homeuse.Local{{Kind: "insecticide", Class: "neonicotinoid", Code: homeuse.Barred, In: []string{"Some County"}}}},
		{"on some days", bars("state", `"insecticide"`, all+span("07-14", "08-01")), onePlace, []homeuse.Local{{Kind: "insecticide", Code: homeuse.Professional, In: []string{"Somewhere"}}}},
		{"not this week", bars("state", `"insecticide"`, all+span("07-20", "08-01")), onePlace, nil},
	} {
		in := lawnAt(t, under(lawBook(t, fertilizer, c.ban), c.places...))
		got := in.Law.barred()
		for i := range got {
			assert.Equal(t, "Invented Lawn Act 2(p)", got[i].Law+" "+got[i].Rule, c.name)
			got[i].Law, got[i].Rule = "", ""
		}
		assert.Equal(t, c.want, got, c.name)
	}
}

// A condition of law tells its days where it does not hold all week.
func TestEdgesOfDaysOfAConditionOfLaw(t *testing.T) {
	limits := func(first, last civil.Date) []message.Value {
		z := ZoneLaw{Monday: week29.Monday(), AsOf: issue29, Places: []PlaceLaw{{Place: onePlace[0]}}}
		return z.limits(law.Condition{Kind: "buffer", First: first, Last: last}).Parts
	}
	monday, sunday := week29.Monday(), week29.Sunday()
	assert.Empty(t, limits(monday, sunday))
	assert.Empty(t, limits(monday-10, sunday+10))
	assert.Empty(t, limits(0, 0), "at any time")
	assert.NotEmpty(t, limits(monday+1, sunday))
	assert.NotEmpty(t, limits(monday, sunday-1))
}

// Each gate is asked, and each has its place.
func TestEdgesEveryGateIsAsked(t *testing.T) {
	closed := under(lawBook(t, record("summer", "state", "2026-01-10", window("summer", "06-01", "09-30", `"N"`))), onePlace...)
	storm := rained(0, 60)
	asleep := lies(func(g *turf.Growth) { g.State, g.DormantWhy = turf.Dormant, "soil" })
	used := func(in *Input) { in.nitrogen = &nitrogenYear{annualGM2: 15, leftGM2: 0} }
	hot := both(func(in *Input) { in.Grass.Kind = turf.CoolSeason }, func(in *Input) {
		in.Felt = weatherOf(func(_, ahead *weather.Series) {
			ahead.Set(weather.TmaxC, issue29.AddDays(3), 40)
			ahead.Set(weather.RainMM, issue29.AddDays(1), 60)
		})
	})
	// Of several gates that hold, the first asked gives the answer.
	holdEdges(t, []edge{
		{"law before growth", both(closed, asleep, used, storm), "closed law law.closed_season"},
		{"growth before overlap", both(asleep, used, storm), "skip growth gate.growth.dormant_why"},
		{"heat before overlap", both(hot, used), "wait heat gate.heat.feed_why"},
		{"overlap before storm", both(used, storm), "skip overlap gate.overlap.feed_why"},
		{"storm", storm, "wait storm gate.storm.heavy_why"},
	})
	// What says to wait or to look passes through none of them.
	for _, v := range []Verdict{Wait, Skip, Look} {
		r := proposal(Project, Nitrogen)
		r.Verdict = v
		assert.Equal(t, string(v), cameTo(t, lawnAt(t, ruled(r), closed, asleep, storm)), fmt.Sprint(v))
	}
}
