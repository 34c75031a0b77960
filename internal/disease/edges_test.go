package disease

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// The gate of a fungicide at each of its limits, just on the one side and on the
// other.
func TestEdgesOfTheGate(t *testing.T) {
	brown, large, spot, snow := demoDisease(t, "brown-patch"), demoDisease(t, "large-patch"), demoDisease(t, "spring-dead-spot"), demoDisease(t, "gray-snow-mold")
	silent := *brown // whose file tells no hours
	silent.Placement.DryLeast.Value = nan
	open := []pest.WindowState{{State: pest.WindowBefore}, {State: pest.WindowOpen}}
	ahead := func(c *Case) { c.History, c.Windows, c.Identified = true, open, false }
	for _, c := range []struct {
		name    string
		disease *Disease
		change  func(*Case)
		answer  Answer
		reason  Reason
	}{
		{"mown every 14 days", brown, func(c *Case) { c.MowDays = 14 }, AnswerOpen, ""},
		{"mown every 15 days", brown, func(c *Case) { c.MowDays = 15 }, AnswerClosed, ReasonSlow},
		{"mown every day", brown, func(c *Case) { c.MowDays = 1 }, AnswerOpen, ""},
		{"no mowing expected", brown, func(c *Case) { c.MowDays = 0 }, AnswerClosed, ReasonSlow},
		{"greening up, mown twice", brown, func(c *Case) { c.State, c.Mowings = turf.GreeningUp, 2 }, AnswerOpen, ""},
		{"greening up, mown once", brown, func(c *Case) { c.State, c.Mowings = turf.GreeningUp, 1 }, AnswerHold, ReasonGreenUp},
		{"greening up, not spreading", brown, func(c *Case) { c.State, c.Mowings, c.Spreading = turf.GreeningUp, 2, false }, AnswerHold, ReasonGreenUp},
		{"growing, not spreading", brown, func(c *Case) { c.Spreading = false }, AnswerOpen, ""},

		{"soil of 0.1 °C", snow, func(c *Case) { ahead(c); c.SoilC, c.AirC = 0.1, 4 }, AnswerOpen, ""},
		{"soil of 0.0 °C", snow, func(c *Case) { ahead(c); c.SoilC, c.AirC = 0, 4 }, AnswerClosed, ReasonFrozen},
		{"soil that prints as 0.0 °C", snow, func(c *Case) { ahead(c); c.SoilC, c.AirC = 0.04, 4 }, AnswerClosed, ReasonFrozen},
		{"soil not known", snow, func(c *Case) { ahead(c); c.SoilC, c.AirC = nan, 4 }, AnswerHold, ReasonSoilUnknown},

		{"rain after six hours", brown, func(c *Case) { c.RainInH = 6 }, AnswerOpen, ""},
		{"rain in the sixth hour", brown, func(c *Case) { c.RainInH = 5 }, AnswerHold, ReasonRainSoon},
		{"rain after six hours, the file tells none", &silent, func(c *Case) { c.RainInH = 6 }, AnswerOpen, ""},
		{"rain in the sixth hour, the file tells none", &silent, func(c *Case) { c.RainInH = 5 }, AnswerHold, ReasonRainSoon},
		{"rain at once on what is watered in", spot, func(c *Case) { ahead(c); c.RainInH = 0 }, AnswerOpen, ""},

		{"while it shows, and infects no more", spot, func(c *Case) {
			ahead(c)
			c.Windows = []pest.WindowState{{Symptoms: true, State: pest.WindowOpen}}
		}, AnswerClosed, ReasonOutsideWindow},

		{"29.0 °C", brown, func(c *Case) { c.AirC = 29.04 }, AnswerOpen, ""},
		{"29.1 °C", brown, func(c *Case) { c.AirC = 29.06 }, AnswerHold, ReasonTooHot},
		{"16.0 °C", brown, func(c *Case) { c.AirC = 15.96 }, AnswerOpen, ""},
		{"15.9 °C", brown, func(c *Case) { c.AirC = 15.94 }, AnswerHold, ReasonTooCold},
		{"15.9 °C, ahead of the season", spot, func(c *Case) { ahead(c); c.AirC = 15.9 }, AnswerOpen, ""},

		{"a tenth of the lawn", brown, func(c *Case) { c.AreaPct = 10 }, AnswerOpen, ""},
		{"a little less", brown, func(c *Case) { c.AreaPct = 9.9 }, AnswerNone, ReasonBelowThreshold},
		{"a twentieth of a young lawn", brown, func(c *Case) { c.AreaPct, c.Young = 5, pest.Yes }, AnswerOpen, ""},
		{"a little less of a young lawn", brown, func(c *Case) { c.AreaPct, c.Young = 4.9, pest.Yes }, AnswerNone, ReasonBelowThreshold},
		{"a twentieth of an old lawn", brown, func(c *Case) { c.AreaPct = 5 }, AnswerNone, ReasonBelowThreshold},
		{"graded watch", brown, func(c *Case) { c.Grade = pest.Watch }, AnswerNone, ReasonBelowThreshold},
		{"spreading", large, func(*Case) {}, AnswerOpen, ""},
		{"not spreading", large, func(c *Case) { c.Spreading = false }, AnswerNone, ReasonNotSpreading},
		{"on old grass alone", demoDisease(t, "gray-leaf-spot"), func(c *Case) { c.Young = pest.No }, AnswerNone, ReasonBelowThreshold},
		{"of an age that nobody told", demoDisease(t, "gray-leaf-spot"), func(*Case) {}, AnswerOpen, ""},
		{"on young grass", demoDisease(t, "gray-leaf-spot"), func(c *Case) { c.Young = pest.Yes }, AnswerOpen, ""},
		{"ahead, one season open", spot, ahead, AnswerOpen, ""},
		{"ahead, none open", spot, func(c *Case) { ahead(c); c.Windows = open[:1] }, AnswerClosed, ReasonOutsideWindow},
		{"ahead, dead grass without rings", spot, func(c *Case) { ahead(c); c.Scattered = true }, AnswerNone, ReasonColdInjury},
		{"not named", brown, func(c *Case) { c.Identified = false }, AnswerNone, ReasonNotIdentified},

		{"the last day of a label's fourteen", brown, func(c *Case) { c.LastTreated, c.Interval = c.Today.AddDays(-13), 14 }, AnswerSilent, ReasonProtected},
		{"the day after them", brown, func(c *Case) { c.LastTreated, c.Interval = c.Today.AddDays(-14), 14 }, AnswerOpen, ""},
		{"the last day of the disease's 21", brown, func(c *Case) { c.LastTreated = c.Today.AddDays(-20) }, AnswerSilent, ReasonProtected},
		{"the day after those", brown, func(c *Case) { c.LastTreated = c.Today.AddDays(-21) }, AnswerOpen, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := fine()
			c.change(&in)
			got := c.disease.Gate(in)
			assert.Equal(t, c.answer, got.Answer, "%+v", got)
			if c.reason == "" {
				assert.Empty(t, got.Reasons)
			} else {
				assert.Equal(t, []Reason{c.reason}, got.Reasons)
			}
		})
	}
	for share, wider := range map[float64]bool{0.5: false, 0.501: true} {
		in := fine()
		in.TreatedShare = share
		got := brown.Gate(in)
		assert.Equal(t, wider, slices.Contains(got.Steps, StepWholeArea), "%g of the lawn", share)
		assert.Equal(t, wider, slices.Contains(got.Steps, StepLicensed))
	}
}

func TestEdgesOfRotation(t *testing.T) {
	of := func(p Partner) func(string) Partner {
		return func(code string) Partner {
			if code == "7" {
				return p
			}
			return PartnerClean
		}
	}
	for partner, want := range map[Partner]RotationVerdict{
		PartnerClean: RotationMixed, PartnerUnknown: RotationMixed, PartnerResistant: RotationRefused, PartnerNone: RotationRefused,
	} {
		assert.Equal(t, want, new(Disease).Rotate(usesOf("11"), []string{"11", "7"}, of(partner)).Verdict, "partner %d", partner)
	}
	var three Disease
	three.Rotation.MostInARow.Value = 3
	clean := of(PartnerClean)
	assert.Equal(t, RotationMixed, three.Rotate(usesOf("11+3", "11+7"), []string{"11", "3"}, clean).Verdict, "the third of three")
	assert.Equal(t, RotationRefused, three.Rotate(usesOf("11+3", "11+7", "11+3"), []string{"11", "7"}, clean).Verdict, "the fourth")
}

// Scores at the limits of the grades, of which a score lies on the upper side.
func TestEdgesOfGrades(t *testing.T) {
	limits := demoDisease(t, "brown-patch").Limits
	for _, c := range []struct {
		name      string
		host      int
		confirmed bool
		scores    []float64
		want      []pest.Grade
	}{
		{"up to watch", 3, false, []float64{.249, .25}, []pest.Grade{0, 1}},
		{"up to act", 3, false, []float64{.499, .5}, []pest.Grade{1, 2}},
		{"a confirmed report", 3, true, []float64{.149, .15}, []pest.Grade{0, 2}},
		{"a common host", 2, false, []float64{.349, .35, .599, .6}, []pest.Grade{0, 1, 1, 2}},
		{"a minor host", 1, false, []float64{.25, 1}, []pest.Grade{1, 1}},
		{"no host", 0, false, []float64{1}, []pest.Grade{0}},
		{"down from act", 3, false, []float64{.5, .35, .35, .349, .349}, []pest.Grade{2, 2, 2, 2, 1}},
		{"down from watch", 3, false, []float64{.25, .15, .15, .149, .149}, []pest.Grade{1, 1, 1, 1, 0}},
		{"not in a row", 3, false, []float64{.5, .349, .35, .349, .349}, []pest.Grade{2, 2, 2, 2, 1}},
		{"a step at a time", 3, false, []float64{.5, 0, 0, 0, 0}, []pest.Grade{2, 2, 1, 1, 0}},
		{"not known once, then twice", 3, false, []float64{.5, nan, .4, nan, nan}, []pest.Grade{2, 2, 2, 2, 0}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var s GradeState
			for i, score := range c.scores {
				s = limits.Step(s, GradeStep{Score: score, Host: c.host, Confirmed: c.confirmed, Cap: pest.Act})
				assert.Equal(t, c.want[i], s.Grade, "issue %d", i)
				assert.Equal(t, i == 0 || !math.IsNaN(score) || !math.IsNaN(c.scores[i-1]), s.Known(), "issue %d", i)
			}
		})
	}
}

func TestEdgesOfWeekScores(t *testing.T) {
	near(t, .5, ObservedScore([]float64{nan, .5, .5, nan, .5, .5, .5}), 1e-12)
	near(t, nan, ObservedScore([]float64{nan, .5, .5, nan, .5, .5, nan}), 0)
	near(t, .5, AheadScore([]float64{nan, .5, nan, .5, nan, .5, .5}), 1e-12)
	near(t, nan, AheadScore([]float64{nan, .5, nan, .5, nan, nan, .5}), 0)
	// A day in full, 0.7 of it or half of it, of 3 · 1 + 2 · 0.7 + 2 · 0.5.
	for i, want := range []float64{1, 1, 1, .7, .7, .5, .5} {
		day := make([]float64, pest.WeekDays)
		day[i] = 1
		near(t, want/5.4, AheadScore(day), 1e-12, i)
	}
	near(t, .6, WeekScore(1, 0), 1e-12)
	near(t, .4, WeekScore(0, 1), 1e-12)
}

// A treatment counts up to its last day, and a cap of the weather gives way to a
// confirmed report.
func TestEdgesOfProtectionAndCap(t *testing.T) {
	f := humidSummer(100)
	issue := f.View.IssueDate
	grade := func(id, on string, change func(*pest.Input)) pest.Grade {
		in := &pest.Input{Felt: f, Grass: grass(t, on), Issue: issue}
		change(in)
		return demoDisease(t, id).Assess(in).Grade
	}
	treated := func(daysAgo int) func(*pest.Input) {
		return func(in *pest.Input) {
			in.Lawn = true
			in.Treatments = []pest.Treatment{{Date: issue.AddDays(-daysAgo), Target: "brown-patch", IntervalDays: 14}}
		}
	}
	assert.Equal(t, pest.Watch, grade("brown-patch", "tall-fescue", treated(14)), "the last day")
	assert.Equal(t, pest.Act, grade("brown-patch", "tall-fescue", treated(15)), "the day after")

	capped := *demoDisease(t, "brown-patch")
	capped.Cap = pest.Watch
	for _, confirmed := range []bool{true, false} {
		in := &pest.Input{Felt: f, Grass: grass(t, "tall-fescue"), Issue: issue,
			Lawn: true, Reports: []pest.Report{{Date: issue.AddDays(-3), Finding: "brown-patch", Confirmed: confirmed}}}
		assert.Equal(t, confirmed, capped.Assess(in).Grade == pest.Act)
	}

	// The same of a disease with a season instead of a daily risk.
	cooling := uniformWeather(monthDay(2020, 6, 1), 125, func(i int, _ civil.Date) [3]float64 {
		mean := 29 - 0.2*float64(max(0, i-60))
		return [3]float64{mean + 6, mean - 6, 1}
	})
	issue = cooling.View.IssueDate
	for daysAgo, want := range map[int]pest.Grade{14: pest.Watch, 15: pest.Act} {
		in := &pest.Input{Felt: cooling, Grass: grass(t, "bermuda"), Issue: issue,
			Lawn:       true,
			Reports:    []pest.Report{{Date: issue.AddDays(-400), Finding: "spring-dead-spot"}},
			Treatments: []pest.Treatment{{Date: issue.AddDays(-daysAgo), Target: "spring-dead-spot", IntervalDays: 14}}}
		assert.Equal(t, want, demoDisease(t, "spring-dead-spot").Assess(in).Grade, "treated %d days ago", daysAgo)
	}
}

// A season of soil that warms from one day to the next, at each end.
func TestEdgesOfSoilWindows(t *testing.T) {
	start := monthDay(2020, 1, 1)
	w := SoilWindow{ID: "spring", Rising: true, Opens: pest.Figure{Value: 10}, Closes: pest.Figure{Value: nan}, Lasts: 30, After: civil.MonthDay{Month: 3, Day: 1}}
	// Of 20 °C from 1 April on, and of 0 °C before: the five-day mean is 12 °C on 3 April.
	at := func(w SoilWindow, issue civil.Date) pest.WindowState {
		soil := make([]float64, issue-start)
		for i := range soil {
			if d := start.AddDays(i); d >= monthDay(2020, 4, 1) && d < monthDay(2020, 11, 1) || d >= monthDay(2021, 4, 1) {
				soil[i] = 20
			}
		}
		return w.at(w.spans(soil, start), soil, start, len(soil))
	}
	opened := monthDay(2020, 4, 3)
	before, open, after := pest.WindowState{ID: "spring", State: pest.WindowBefore}, pest.WindowState{ID: "spring", State: pest.WindowOpen, Since: opened}, pest.WindowState{ID: "spring", State: pest.WindowAfter, Since: opened.AddDays(30)}
	assert.Equal(t, before, at(w, monthDay(2020, 4, 5)), "two days past the level")
	assert.Equal(t, open, at(w, monthDay(2020, 4, 6)), "the third is on record")
	assert.Equal(t, open, at(w, opened.AddDays(30)))
	assert.Equal(t, after, at(w, opened.AddDays(31)), "a day past the last")
	// Soil that never gets colder than its opening level again is in last year's
	// season until the day from which a new one counts.
	assert.Equal(t, after, at(w, monthDay(2021, 2, 28)))
	assert.Equal(t, before, at(w, monthDay(2021, 3, 1)))

	w.After = civil.MonthDay{Month: 1, Day: 1}
	assert.Equal(t, before, at(w, monthDay(2020, 2, 1)), "the record begins on the day from which it counts")
	w.After = civil.MonthDay{Month: 1, Day: 2}
	assert.Equal(t, before, at(w, monthDay(2020, 2, 1)))
	early := w
	early.After = civil.MonthDay{Month: 12, Day: 31}
	assert.Empty(t, at(early, monthDay(2020, 2, 1)).State, "the day before: it may have opened already")

	// Closed by a level, with no days told.
	w.After, w.Lasts, w.Closes.Value = civil.MonthDay{Month: 3, Day: 1}, 0, 16
	assert.Equal(t, pest.WindowOpen, at(w, monthDay(2020, 4, 6)).State)
	assert.Equal(t, pest.WindowState{ID: "spring", State: pest.WindowAfter, Since: monthDay(2020, 4, 4)}, at(w, monthDay(2020, 4, 7)), "a mean of 16 °C for three days")
}

// The models at the values of their files.
func TestEdgesOfModels(t *testing.T) {
	for c, known := range map[float64]bool{9.99: false, 10: true, 35: true, 35.01: false} {
		assert.Equal(t, known, DollarSpotProbability(c, 80) > 0, "%g °C", c)
		w := mildDays(5)
		for i := range 5 {
			w.TmeanC[i], w.RHPct[i] = c, 80
		}
		r := demoDisease(t, "dollar-spot").Model.daily.day(w, 4)
		assert.Equal(t, known, r.risk > 0, "%g °C", c)
		assert.Equal(t, known, r.flags&outside == 0, "%g °C", c)
	}
	dollar := demoDisease(t, "dollar-spot").Model.daily
	week := mildDays(6)
	for i := range 6 {
		week.RHPct[i] = 80
	}
	assert.Equal(t, unknownRisk(lacksTemperature).flags, dollar.day(week, 3).flags, "four days")
	assert.Positive(t, dollar.day(week, 4).risk, "five days")

	for above, want := range map[float64]float64{0: 1, .01: .2} {
		w := mildDays(5)
		for i := range 5 {
			w.RHPct[i] = 80
		}
		for i := 2; i < 5; i++ {
			w.TmaxC[i] = dollar.(*dollarSpotModel).hotC + above
		}
		assert.InDelta(t, want*DollarSpotProbability(20, 80), dollar.day(w, 4).risk, 1e-9, "three days %g °C above the limit of heat", above)
	}

	pythium := demoDisease(t, "pythium-blight").Model.daily
	for tmax, want := range map[float64]float64{30: .3, 30.01: .6} {
		w := mildDays(2)
		w.TmaxC[0], w.TminC[1], w.RainMM[1] = tmax, 21, 5
		assert.InDelta(t, want, pythium.day(w, 1).risk, 1e-9, "a day of %g °C", tmax)
	}

	slow := demoDisease(t, "rust").Model
	for state, want := range map[turf.State]float64{
		turf.Growing: .5, turf.Flush: .3, turf.Dormant: 0, turf.Slowing: 1, turf.Resting: .6, turf.GreeningUp: 1, turf.Recovering: 1,
	} {
		assert.InDelta(t, want, slow.factor(state, pest.MainHost), 1e-9, "%s", state)
	}
	assert.True(t, math.IsNaN(slow.factor("", pest.MainHost)), "growth not known")

	brown := demoDisease(t, "brown-patch").Model.daily
	for soil, some := range map[float64]bool{15.9: false, 16: true} {
		w := mildDays(1)
		w.SoilC[0], w.TminC[0], w.RHPct[0] = soil, 22, 90
		assert.Equal(t, some, brown.day(w, 0).risk > 0, "soil of %g °C", soil)
	}

	// The mean night of the week, and the share while the year cools.
	for night, want := range map[float64]float64{13.33: 0, 15: .5, 16.67: 1} {
		w := mildDays(60)
		last := len(w.TminC) - 1
		for i := range w.TminC {
			w.TminC[i], w.RHPct[i] = night, 100
		}
		full := (&brownPatchModel{from: 2, full: 8, soilC: 16, cooling: 1}).day(w, last).risk
		assert.InDelta(t, want*full, brown.day(w, last).risk, 0.01, "nights of %g °C", night)
		for i, c := range map[float64]float64{0.99: 1, 1.01: .5} {
			for k := range w.SoilC {
				w.SoilC[k] = 25 - i/21*float64(k)
			}
			assert.InDelta(t, c*want*full, brown.day(w, last).risk, 0.01, "%g °C colder than three weeks before", i)
		}
	}

	large := demoDisease(t, "large-patch").Model.daily
	for high, want := range map[float64]float64{26.6: 1, 26.7: 1, 28.06: .5, 29.4: .01, 29.45: 0} {
		w := mildDays(7)
		w.RainMM[5], w.RainMM[6] = 1, 1
		for i := range w.TmaxC {
			w.TmaxC[i] = high
		}
		assert.InDelta(t, want, large.day(w, 6).risk, 0.015, "large patch with highs of %g °C", high)
	}
	for _, c := range []struct {
		rain []float64
		want float64
	}{
		{[]float64{0, 0, 0, 0, 0, 1, 1}, 1}, {[]float64{0, 0, 0, 0, 0, .9, 1}, .3}, {[]float64{0, 0, 0, 0, 0, 1, .9}, .3},
		{[]float64{0, 0, 0, 0, 0, 0, 13}, 1}, {[]float64{0, 0, 0, 0, 0, 0, 12.9}, .3},
		{[]float64{13, 0, 0, 0, 0, 0, 0}, .6}, {[]float64{12.9, 0, 0, 0, 0, 0, 0}, .3},
	} {
		w := mildDays(7)
		copy(w.RainMM, c.rain)
		assert.InDelta(t, c.want, large.day(w, 6).risk, 1e-9, "large patch after %v", c.rain)
	}

	gray := demoDisease(t, "gray-leaf-spot").Model.daily
	for night, want := range map[float64]float64{20.9: 0, 21: 1, 35: 1, 35.1: 0} {
		w := mildDays(1)
		w.TmeanC[0], w.TminC[0], w.WetH[0] = night, night, 14
		assert.InDelta(t, want, gray.day(w, 0).risk, 1e-9, "a night of %g °C", night)
	}
	for night, want := range map[float64]float64{26.6: .5, 26.7: .75, 32.2: .75, 32.3: .5} {
		w := mildDays(1)
		w.TmeanC[0], w.TminC[0], w.WetH[0] = night, night, 10.5
		assert.InDelta(t, want, gray.day(w, 0).risk, 1e-9, "a night of %g °C with 10.5 wet hours", night)
	}
}

// How usual a week is, from five other years on, ties counting half.
func TestEdgesOfHowUsualAWeekIs(t *testing.T) {
	// weeks is a series of so many years before the last week, all of one score but
	// for the last.
	weeks := func(years int, score, last float64) []float64 {
		n := int(math.Round(float64(years)*365.25/pest.WeekDays)) + 1
		out := make([]float64, n)
		for i := range out {
			out[i] = score
		}
		out[n-1] = last
		return out
	}
	assert.True(t, math.IsNaN(percentile(weeks(4, .2, .5))), "four years")
	assert.InDelta(t, 100, percentile(weeks(5, .2, .5)), 1e-9, "five years, all lower")
	assert.InDelta(t, 0, percentile(weeks(5, .7, .5)), 1e-9, "five years, all higher")
	assert.InDelta(t, 50, percentile(weeks(5, .5, .5)), 1e-9, "five years alike")
}

// What is back within six weeks has stood all the while; later it is a new spell.
func TestEdgesOfSpells(t *testing.T) {
	var s spell
	for _, c := range []struct{ on, since civil.Date }{{100, 100}, {107, 100}, {149, 100}, {192, 192}, {234, 192}, {277, 277}} {
		s.goOn(c.on)
		assert.Equal(t, c.since, s.since, "on day %d", c.on)
	}
}

// Ground is told once where patches overlap, and a product never over its rate.
func TestEdgesOfAmounts(t *testing.T) {
	two := func(apart float64) float64 { return UnionArea([]Circle{{Point{0, 0}, 3}, {Point{apart, 0}, 3}}) }
	assert.InDelta(t, 2*CircleArea(3, 0), two(6), 1e-9, "that touch")
	assert.Less(t, two(5.99), 2*CircleArea(3, 0)-1e-3)
	assert.InDelta(t, CircleArea(3, 0), two(0), 1e-9, "one on the other")
	assert.InDelta(t, 26*5, StripArea(20, 2, 3), 1e-9, "no strip beyond the wall")
	for amount, want := range map[float64]float64{0.2: 0.2, 0.2099: 0.2, 0.21: 0.21, 0.0099: 0} {
		assert.InDelta(t, want, RoundProduct(amount, 0.01), 1e-9)
	}
	assert.InDelta(t, 1, Gallons(SprayDepthMM(1)*1000*sq(quantity.MeterPerFoot)), 1e-9)
}
