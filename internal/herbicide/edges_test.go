package herbicide

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/turf"
)

// What holds a use back at the value of its limit and a tenth beside it.
func TestEdgesOfBars(t *testing.T) {
	h := demoHerbicides(t)
	day := civil.MustDate(2026, 10, 5)
	nan := math.NaN()
	const cool, warm = turf.CoolSeason, turf.WarmSeason
	for _, c := range []struct {
		name, ingredient, grass string
		kind                    turf.Kind
		change                  func(*Use)
		want                    []Bar
	}{
		{"heat on the day", "halosulfuron", "bermuda", warm, func(u *Use) { u.TmaxC[0] = 32.3 }, []Bar{BarHeat}},
		{"heat on the day after", "halosulfuron", "bermuda", warm, func(u *Use) { u.TmaxC[1] = 32.3 }, []Bar{BarHeat}},
		{"heat on the third day", "halosulfuron", "bermuda", warm, func(u *Use) { u.TmaxC[2] = 32.3 }, []Bar{BarHeat}},
		{"three days at the limit of heat", "halosulfuron", "bermuda", warm, func(u *Use) { u.TmaxC = [3]float64{32.2, 32.2, 32.2} }, nil},
		{"at the limit of cold", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Mean3C = 9.96 }, nil},
		{"a tenth colder", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Mean3C = 9.94 }, []Bar{BarCold}},
		{"soil at its limit", "halosulfuron", "tall-fescue", cool, func(u *Use) { u.SoilC = 17.96 }, nil},
		{"soil a tenth colder", "halosulfuron", "tall-fescue", cool, func(u *Use) { u.SoilC = 17.94 }, []Bar{BarCoolSoil}},
		{"a hard frost", "quinclorac", "zoysia", warm, func(u *Use) { u.SummerWeed, u.LowestC48h = true, -1.96 }, []Bar{BarFrost}},
		{"a frost just less", "quinclorac", "zoysia", warm, func(u *Use) { u.SummerWeed, u.LowestC48h = true, -1.9 }, nil},
		{"wilting", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Water = .249 }, []Bar{BarDrought}},
		{"not yet wilting", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Water = .25 }, nil},
		{"not yet wilting, of a class that fails in drought", "fenoxaprop", "tall-fescue", cool, func(u *Use) { u.Water = .25 }, []Bar{BarThirst}},
		{"dry", "fenoxaprop", "tall-fescue", cool, func(u *Use) { u.Water = .449 }, []Bar{BarThirst}},
		{"no longer dry", "fenoxaprop", "tall-fescue", cool, func(u *Use) { u.Water = .45 }, nil},
		{"rain that takes it off", "2,4-D", "tall-fescue", cool, func(u *Use) { u.RainMM = 2.46 }, []Bar{BarRain}},
		{"a tenth less", "2,4-D", "tall-fescue", cool, func(u *Use) { u.RainMM = 2.44 }, nil},

		{"no fit hours", "2,4-D", "tall-fescue", cool, func(u *Use) { u.NoFitHours = true }, []Bar{BarNoHours}},
		{"no fit hours, in rain", "2,4-D", "tall-fescue", cool, func(u *Use) { u.RainMM, u.NoFitHours = 9, true }, []Bar{BarRain}},
		{"no fit hours for what goes to the soil", "prodiamine", "tall-fescue", cool, func(u *Use) { u.PreEmergence, u.NoFitHours = true, true }, nil},
		{"mown on the day, what goes to the soil", "prodiamine", "tall-fescue", cool, func(u *Use) { u.PreEmergence, u.Mown = true, day }, nil},
		{"rain not known", "2,4-D", "tall-fescue", cool, func(u *Use) { u.RainMM = nan }, []Bar{BarNoWeather}},
		{"a maximum not known", "2,4-D", "tall-fescue", cool, func(u *Use) { u.TmaxC[1] = nan }, []Bar{BarNoWeather}},
		{"the mean not known", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Mean3C = nan }, []Bar{BarNoWeather}},
		{"the soil not known, of a class that asks for it", "halosulfuron", "tall-fescue", cool, func(u *Use) { u.SoilC = nan }, []Bar{BarNoWeather}},
		{"the soil not known, of one that does not", "2,4-D", "tall-fescue", cool, func(u *Use) { u.SoilC = nan }, nil},

		{"mown two days before", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Mown = day - 2 }, nil},
		{"mown the day before", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Mown = day - 1 }, []Bar{BarMowing}},
		{"mown on the day", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Mown = day }, []Bar{BarMowing}},
		{"mown the day after", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Mown = day + 1 }, []Bar{BarMowing}},
		{"mown two days after", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Mown = day + 2 }, nil},

		{"the last day of the class's three weeks", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Last = day - 20 }, []Bar{BarRepeat}},
		{"the day after them", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Last = day - 21 }, nil},
		{"the last day before it may be judged", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Sprayed, u.JudgeDays = day-27, 28 }, []Bar{BarUnjudged}},
		{"the day on which it may be", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Sprayed, u.JudgeDays = day-28, 28 }, nil},
		{"not yet judged, what goes down before emergence", "prodiamine", "tall-fescue", cool, func(u *Use) { u.Sprayed, u.JudgeDays, u.PreEmergence = day-1, 28, true }, nil},
		{"sprayed later than the day", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Sprayed, u.JudgeDays = day+1, 28 }, nil},
		{"the last day of the label's four weeks", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Last, u.LabelDays = day-27, 28 }, []Bar{BarRepeat}},
		{"the day after those", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Last, u.LabelDays = day-28, 28 }, nil},
		{"twice the days to symptoms", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Last, u.Symptoms = day-21, 10.6 }, []Bar{BarRepeat}},
		{"the day after those days", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Last, u.Symptoms = day-22, 10.6 }, nil},
		{"the first use of a year", "quinclorac", "zoysia", warm, func(u *Use) { u.ThisYear = 0 }, nil},
		{"the one past the most", "quinclorac", "zoysia", warm, func(u *Use) { u.ThisYear = 1 }, []Bar{BarYearly}},

		{"seeded today, the label not told", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Seeded = day }, []Bar{BarNotTold}},
		{"seeded 364 days ago, the label not told", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Seeded = day - 364 }, []Bar{BarNotTold}},
		{"seeded a year ago", "2,4-D", "tall-fescue", cool, func(u *Use) { u.Seeded = day - 365 }, nil},
		{"a pre-emergent on turf of 364 days", "prodiamine", "tall-fescue", cool, func(u *Use) { u.PreEmergence, u.Seeded = true, day-364 }, []Bar{BarYoungTurf}},
		{"a pre-emergent on turf of a year", "prodiamine", "tall-fescue", cool, func(u *Use) { u.PreEmergence, u.Seeded = true, day-365 }, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			u := mildUse(t, h, c.ingredient, c.grass, c.kind)
			c.change(&u)
			assert.Equal(t, c.want, bars(h.Judge(u)))
		})
	}
	for b, want := range map[Bar]bool{BarHeat: true, BarNoWeather: true, BarMowing: true, BarCareful: false, BarNotTold: false, BarThirst: false} {
		assert.Equal(t, want, b.Holds(), b)
	}
}

// The index of uptake and its factors where the one value gives way to the next.
func TestEdgesOfUptake(t *testing.T) {
	nan := math.NaN()
	flat := func(factor, floorC float64) *Class {
		return &Class{Uptake: []Knot{{0, factor}}, NightFloor: pest.Figure{Value: floorC}}
	}
	fine := UptakeInput{Mean3C: 20, LowestC: 10, Light3Mol: 20, Water: .6, Rain10MM: nan}
	for factor, want := range map[float64]UptakeGrade{.7: UptakeGood, .6996: UptakeGood, .6994: UptakeFair, .4: UptakeFair, .3996: UptakeFair, .3994: UptakePoor} {
		assert.Equal(t, want, flat(factor, nan).UptakeIn(fine).Grade, "%g of 100", factor)
	}
	soon := fine
	soon.RainSoon = true
	assert.Equal(t, UptakeWait, flat(1, nan).UptakeIn(soon).Grade)
	assert.InDelta(t, 50, flat(1, nan).UptakeIn(soon).U, 1e-9)
	for lowest, want := range map[float64]float64{4.94: .5, 4.96: 1, 5: 1} {
		assert.InDelta(t, want, flat(1, 5).temperatureFactor(20, lowest), 1e-9, "a night of %g °C", lowest)
	}
	for _, c := range []struct {
		light  float64
		summer bool
		want   float64
	}{{20, false, 1}, {19, false, .965}, {30, true, 1}, {20, true, .3 + .7*2/3}, {0, false, .3}, {nan, true, .85}} {
		assert.InDelta(t, c.want, lightFactor(c.light, c.summer), 1e-9, "%+v", c)
	}
	for rain, want := range map[float64]float64{25: 1, 24.96: 1, 24.94: .8, 10: .8, 9.94: .5, 3: .5, 2.94: .25, 0: .25} {
		assert.InDelta(t, want, waterFactor(nan, rain), 1e-9, "%g mm in ten days", rain)
	}
	for product, want := range map[float64]float64{1: 4, .5: 8, .25: 16, .2: 16, 0: 16} {
		assert.InDelta(t, want, Uptake{FT: product, FL: 1}.SymptomDays(4), 1e-9, "%g of the uptake", product)
	}
}

// How long what was sprayed is not judged, at the limits of cool and mild weather.
// Every class that has an index of uptake has days, and no other.
func TestEdgesOfJudging(t *testing.T) {
	h := demoHerbicides(t)
	w := class(t, h, "auxin-amine").Judging.Value
	for _, c := range []struct {
		meanC float64
		days  int
	}{{9.94, 42}, {9.96, 35}, {15.54, 35}, {15.56, 28}, {40, 28}, {-40, 42}, {math.NaN(), 42}} {
		assert.Equal(t, c.days, w.In(c.meanC), "%v", c.meanC)
	}
	for _, c := range h.Classes {
		if c.Uptake == nil {
			assert.Zero(t, c.Judging.Value.In(20), c.ID)
			continue
		}
		w := c.Judging.Value
		assert.Equal(t, c.Death.Value.To, w.Mild, "%s: mild weather, when the last die", c.ID)
		assert.Equal(t, []int{w.Mild + 7, w.Mild + 14}, []int{w.Cool, w.Cold}, c.ID)
	}
}
