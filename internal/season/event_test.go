package season

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

func TestOwnDesignSeasonOfEvents(t *testing.T) {
	day := civil.MustDate
	cool := &turf.Profile{Kind: turf.CoolSeason}
	for _, c := range []struct {
		event       Event
		grass       *turf.Profile
		first, last civil.Date
	}{
		{Event{Kind: LastFrost}, nil, day(2024, 1, 1), day(2024, 6, 30)},
		{Event{Kind: FirstFrost}, nil, day(2024, 7, 1), day(2025, 6, 30)},
		{Event{Kind: SoilRising}, nil, day(2024, 2, 1), day(2024, 8, 18)},
		{Event{Kind: SoilFalling}, nil, day(2024, 8, 15), day(2025, 3, 2)},
		{Event{Kind: SoilRising, From: civil.MonthDay{Month: 9, Day: 1}}, nil, day(2024, 9, 1), day(2025, 3, 19)},
		{Event{Kind: GreenUp}, cool, day(2024, 2, 1), day(2024, 8, 18)},
		{Event{Kind: Slowdown}, cool, day(2024, 10, 1), day(2025, 4, 18)},
		{Event{Kind: DegreeDays, From: civil.MonthDay{Month: 3, Day: 1}}, nil, day(2024, 3, 1), day(2025, 2, 28)},
		{Event{Kind: DayRising, Hours: 12}, nil, day(2023, 12, 21), day(2024, 6, 21)},
		{Event{Kind: DayFalling, Hours: 12}, nil, day(2024, 6, 21), day(2024, 12, 21)},
		{Event{Kind: OnDate, On: civil.MonthDay{Month: 4, Day: 1}}, nil, day(2024, 4, 1), day(2024, 4, 1)},
	} {
		first, last := c.event.Season(2024, c.grass)
		assert.Equal(t, []string{c.first.String(), c.last.String()}, []string{first.String(), last.String()}, "%s", c.event.Kind)
	}
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.SampledFrom(everyEvent()).Draw(t, "event")
		d := day(2000, 1, 1).AddDays(rapid.IntRange(0, 9000).Draw(t, "day"))
		year := e.YearAt(d, cool)
		first, _ := e.Season(year, cool)
		next, _ := e.Season(year+1, cool)
		if d < first || d >= next {
			t.Fatalf("%s of %s is of %d", e.Kind, d, year)
		}
	})
}

// soilTrack is a track whose soil has the temperature of each day from start on.
func soilTrack(start civil.Date, days int, soilC func(d civil.Date) float64) *track {
	t := newTrack(start, days)
	for i := range days {
		c := soilC(start.AddDays(i))
		t.soil5C[i], t.soil10C[i] = c, c
		t.nightC[i], t.tminC[i], t.tmaxC[i], t.meanC[i] = c, c, c, c
	}
	return &t
}

func TestOwnDesignRisesAndFalls(t *testing.T) {
	day := civil.MustDate
	nan := math.NaN()
	step := func(cold, warm float64, changes ...civil.Date) func(civil.Date) float64 {
		return func(d civil.Date) float64 {
			c := cold
			for i, change := range changes {
				if d >= change {
					c = warm
					if i%2 == 1 {
						c = cold
					}
				}
			}
			return c
		}
	}
	rise := Event{Kind: SoilRising, LevelC: 12}
	fall := Event{Kind: SoilFalling, LevelC: 12}
	const days = 800 // from 1 October 2022
	for _, c := range []struct {
		name  string
		event Event
		soil  func(civil.Date) float64
		want  Moment
	}{
		{"rises once: the mean of five days is there on the third", rise, step(5, 16, day(2023, 3, 10)), dated(day(2023, 3, 13))},
		{"a warm spell of two days is no rise", rise, step(11, 13, day(2023, 3, 1), day(2023, 3, 3), day(2023, 4, 1)), dated(day(2023, 4, 3))},
		{"a warm spell that is over before February does not count", rise, step(5, 16, day(2023, 1, 5), day(2023, 1, 20), day(2023, 3, 10)), dated(day(2023, 3, 13))},
		{"one that lasts into February counts from its first day", rise, step(5, 16, day(2023, 1, 20), day(2023, 2, 20), day(2023, 3, 10)), dated(day(2023, 1, 23))},
		{"the first crossing stands", rise, step(5, 16, day(2023, 2, 20), day(2023, 3, 10), day(2023, 4, 10)), dated(day(2023, 2, 23))},
		{"never cold", rise, step(16, 16), Moment{Outcome: Already}},
		{"never warm", rise, step(5, 5), Moment{Outcome: Never}},
		{"a month missing before it", rise, func(d civil.Date) float64 {
			if d >= day(2023, 2, 3) && d < day(2023, 3, 6) {
				return nan
			}
			return step(5, 16, day(2023, 3, 20))(d)
		}, Moment{}},
		{"a gap of three days and what the soil model loses after it", rise, func(d civil.Date) float64 {
			if d >= day(2023, 2, 3) && d < day(2023, 2, 26) {
				return nan
			}
			return step(5, 16, day(2023, 3, 20))(d)
		}, dated(day(2023, 3, 23))},
		{"it may have come in the gap", rise, func(d civil.Date) float64 {
			if d >= day(2023, 3, 3) && d < day(2023, 3, 26) {
				return nan
			}
			return step(5, 16, day(2023, 3, 10))(d)
		}, Moment{}},
		{"missing after it", rise, func(d civil.Date) float64 {
			if d >= day(2023, 4, 10) {
				return nan
			}
			return step(5, 16, day(2023, 3, 10))(d)
		}, dated(day(2023, 3, 13))},
		{"falls once", fall, step(20, 5, day(2023, 10, 1)), dated(day(2023, 10, 3))},
		{"never falls", fall, step(20, 20), Moment{Outcome: Never}},
		{"falls after New Year", fall, step(20, 5, day(2024, 1, 10)), dated(day(2024, 1, 12))},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := c.event.find(soilTrack(day(2022, 10, 1), days, c.soil), lawn{}, nil, 2023)
			assert.Equal(t, c.want.String(), got.String())
		})
	}
	// Not over yet: a track that ends in March cannot say never.
	got := rise.find(soilTrack(day(2022, 10, 1), 170, step(5, 5)), lawn{}, nil, 2023)
	assert.Equal(t, Unknown, got.Outcome)
	got = Event{Kind: LastFrost}.find(soilTrack(day(2022, 10, 1), 170, step(-5, -5)), lawn{}, nil, 2023)
	assert.Equal(t, Unknown, got.Outcome, "a last frost is known when spring is over")
	got = Event{Kind: LastFrost}.find(soilTrack(day(2022, 10, 1), days, step(-5, 5, day(2023, 4, 2))), lawn{}, nil, 2023)
	assert.Equal(t, dated(day(2023, 4, 1)), got)
}

// Day lengths follow from latitude alone, and every year alike.
func TestOwnDesignDayLength(t *testing.T) {
	r := NewRecord(invented(civil.MustDate(2018, 1, 1), civil.MustDate(2020, 5, 1), 15, 12))
	for year := 2018; year <= 2022; year++ {
		up := r.Event(Event{Kind: DayRising, Hours: 12}, year)
		down := r.Event(Event{Kind: DayFalling, Hours: 12}, year)
		assert.Equal(t, Fixed, up.Basis)
		assert.InDelta(t, float64(civil.MustDate(year, 3, 21)), float64(up.When.Date), 3, "about the equinox: the equations of FAO-56 are simple")
		assert.InDelta(t, float64(civil.MustDate(year, 9, 23)), float64(down.When.Date), 3)
		assert.Equal(t, Never, r.Event(Event{Kind: DayRising, Hours: 16}, year).When.Outcome)
		assert.Equal(t, Already, r.Event(Event{Kind: DayRising, Hours: 8}, year).When.Outcome)
		assert.Equal(t, Never, r.Event(Event{Kind: DayFalling, Hours: 8}, year).When.Outcome)
	}
}

// Dormancy and the states of package turf: in a week whose last day is well
// past the date the lawn is dormant, and well before it is not, but for the
// freezes of autumn, which the states count from New Year on only.
func TestDormancyAgreesWithStates(t *testing.T) {
	soil, ok := turf.SoilByID("loam")
	require.True(t, ok)
	zoysia := grass(t, "zoysia")
	agree, all := 0, 0
	for _, s := range []site{norfolk, newBrunswick} {
		f := s.felt(t)
		l := NewRecord(f).Lawn(zoysia)
		daily := turf.Run(zoysia, soil, f)
		for year := 1990; year < 2016; year++ {
			d := l.Event(Event{Kind: Dormancy}, year)
			if d.When.Outcome != Dated {
				continue
			}
			before := daily.At(d.When.Date.AddDays(-10)).RainFed
			after := daily.At(d.When.Date.AddDays(21)).RainFed
			if !after.Enough {
				continue
			}
			all++
			if before.State != turf.Dormant && after.State == turf.Dormant {
				agree++
			}
		}
	}
	assert.GreaterOrEqual(t, all, 40)
	assert.GreaterOrEqual(t, float64(agree)/float64(all), 0.9, "%d of %d", agree, all)
}

// A minimum that was held over a gap is no frost.
func TestOwnDesignHeldMinimumIsNoFrost(t *testing.T) {
	days := inventedDays(civil.MustDate(2018, 1, 1), civil.MustDate(2020, 7, 5), 20, 5)
	frost := civil.MustDate(2020, 3, 20)
	days.Set(weather.TminC, frost, -1)
	for _, c := range []weather.Column{weather.TmaxC, weather.TminC} {
		days.Set(c, frost+1, math.NaN())
	}
	r := NewRecord(weather.AsOf(inventedStation, days, nil, civil.MustDate(2020, 7, 5)).Felt())
	assert.Equal(t, dated(frost), r.Event(Event{Kind: LastFrost}, 2020).When)
}
