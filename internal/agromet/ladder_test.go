package agromet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

var durhamSite = Site{LatitudeDeg: 35.97, ElevationM: 171}

// knowing returns 6 July with its temperatures and what set adds.
func knowing(set func(*Day)) Day {
	d := missingDay()
	d.TmaxC, d.TminC = 31.4, 19.3
	set(&d)
	return d
}

func TestRungsAreListedInOrder(t *testing.T) {
	for i, r := range Rungs() {
		assert.Equal(t, Rung(i), r, "%s", r)
	}
	assert.Len(t, Rungs(), int(RungDefault)+1)
}

func TestOwnDesignLadder(t *testing.T) {
	const doy = 188
	tests := []struct {
		says                      string
		day                       Day
		radiation, humidity, wind string
		etBand, dliBand           float64
		weeklyOnly                bool
	}{
		{"temperature only", knowing(func(d *Day) {}),
			"temperature", "tmin", "default", 15, 30, true},
		{"mean humidity", knowing(func(d *Day) { d.RHMeanPct = 70 }),
			"temperature", "rh-mean", "default", 15, 30, true},
		{"maximum humidity goes before the mean", knowing(func(d *Day) { d.RHMeanPct, d.RHMaxPct = 70, 95 }),
			"temperature", "rh-max", "default", 15, 30, true},
		{"a minimum of humidity alone is of no use", knowing(func(d *Day) { d.RHMinPct = 47 }),
			"temperature", "tmin", "default", 15, 30, true},
		{"both extremes go before the maximum", knowing(func(d *Day) { d.RHMeanPct, d.RHMaxPct, d.RHMinPct = 70, 95, 47 }),
			"temperature", "rh-max-min", "default", 15, 30, true},
		{"the dew point goes first", knowing(func(d *Day) { d.RHMaxPct, d.RHMinPct, d.DewC = 95, 47, 19 }),
			"temperature", "dew-point", "default", 15, 30, true},
		{"cloud", knowing(func(d *Day) { d.DewC, d.CloudPct = 19, 40 }),
			"cloud", "dew-point", "default", 15, 20, false},
		{"cloud without humidity", knowing(func(d *Day) { d.CloudPct = 40 }),
			"cloud", "tmin", "default", 15, 20, false},
		{"sunshine goes before cloud", knowing(func(d *Day) { d.DewC, d.CloudPct, d.SunH = 19, 40, 9 }),
			"sunshine", "dew-point", "default", 15, 20, false},
		{"wind", knowing(func(d *Day) { d.DewC, d.SunH, d.WindMS, d.WindHeightM = 19, 9, 3, 10 }),
			"sunshine", "dew-point", "measured", 12, 20, false},
		{"wind with radiation from temperature", knowing(func(d *Day) { d.DewC, d.WindMS, d.WindHeightM = 19, 3, 10 }),
			"temperature", "dew-point", "measured", 15, 30, true},
		{"everything measured", knowing(func(d *Day) { d.DewC, d.SunH, d.WindMS, d.WindHeightM, d.SolarMJ = 19, 9, 3, 2, 25.87 }),
			"measured", "dew-point", "measured", 10, 10, false},
		{"radiation measured, wind not", knowing(func(d *Day) { d.DewC, d.SolarMJ = 19, 25.87 }),
			"measured", "dew-point", "default", 15, 10, false},
		{"radiation and wind measured, humidity not", knowing(func(d *Day) { d.WindMS, d.SolarMJ = 3, 25.87 }),
			"measured", "tmin", "measured", 15, 10, false},
	}
	for _, tt := range tests {
		t.Run(tt.says, func(t *testing.T) {
			got := Derive(durhamSite, doy, tt.day)
			assert.Equal(t, tt.radiation, got.Radiation.String())
			assert.Equal(t, tt.humidity, got.Humidity.String())
			assert.Equal(t, tt.wind, got.Wind.String())
			assert.Equal(t, tt.etBand, ETBandPct(got))
			assert.Equal(t, tt.dliBand, DLIBandPct(got))
			assert.Equal(t, tt.weeklyOnly, got.WeeklyOnly())
			assert.Positive(t, got.ETMM)
			assert.InDelta(t, LightIntegralPerMJ*got.RsMJ, got.DLIMol, 1e-12)
		})
	}
}

func TestOwnDesignWetDayFactor(t *testing.T) {
	const doy = 188
	dry := Derive(durhamSite, doy, knowing(func(d *Day) {})).RsMJ
	check(t, "radiation from temperature", []row{
		{"2 mm of rain lower it to three quarters", own, 0.75 * dry, 1e-12, Derive(durhamSite, doy, knowing(func(d *Day) { d.RainMM = 2 })).RsMJ},
		{"1.9 mm do not", own, dry, 1e-12, Derive(durhamSite, doy, knowing(func(d *Day) { d.RainMM = 1.9 })).RsMJ},
		{"no more than k of 0.16 at the coast's 0.19", own, dry * 0.19 / 0.16, 1e-9,
			Derive(Site{LatitudeDeg: 35.97, ElevationM: 171, Coastal: true}, doy, knowing(func(d *Day) {})).RsMJ},
	})
	rainy := func(d *Day) { d.RainMM, d.CloudPct = 10, 40 }
	check(t, "radiation from cloud", []row{
		{"rain changes nothing", own, RadiationFromCloudMJ(Derive(durhamSite, doy, knowing(rainy)).RsoMJ, 0.40), 1e-12,
			Derive(durhamSite, doy, knowing(rainy)).RsMJ},
	})
}

func TestOwnDesignMissingTemperature(t *testing.T) {
	for _, hide := range []func(*Day){func(d *Day) { d.TmaxC = math.NaN() }, func(d *Day) { d.TminC = math.NaN() }} {
		d := knowing(func(d *Day) { d.SolarMJ, d.DewC = 25.87, 19 })
		hide(&d)
		got := Derive(durhamSite, 188, d)
		assert.True(t, math.IsNaN(got.ETMM), "no evapotranspiration without temperature")
		assert.True(t, math.IsNaN(ETBandPct(got)))
		assert.Equal(t, 25.87, got.RsMJ, "measured light stands on its own")
		assert.Equal(t, RungMeasured, got.Radiation)

		d = knowing(func(*Day) {})
		hide(&d)
		got = Derive(durhamSite, 188, d)
		assert.True(t, math.IsNaN(got.RsMJ))
		assert.True(t, math.IsNaN(got.DLIMol))
		assert.True(t, math.IsNaN(got.ETMM))
		assert.True(t, math.IsNaN(DLIBandPct(got)))
		assert.Equal(t, "none", got.Radiation.String())
		assert.False(t, math.IsNaN(got.RaMJ), "astronomy needs no weather")
	}
}

func TestOwnDesignWindHeight(t *testing.T) {
	at := func(heightM float64) Derived {
		return Derive(durhamSite, 188, knowing(func(d *Day) { d.WindMS, d.WindHeightM = 3, heightM }))
	}
	check(t, "height of the anemometer", []row{
		{"missing counts as 10 m", own, at(10).WindMS2m, 0, at(math.NaN()).WindMS2m},
		{"2 m stays about as it is", own, 3, 0.01, at(2).WindMS2m},
		{"0 is no height: the default wind", own, DefaultWindMS2m, 0, at(0).WindMS2m},
		{"calm is told as it is, though the equation is given 0.5", own, 0, 0,
			Derive(durhamSite, 188, knowing(func(d *Day) { d.WindMS = 0 })).WindMS2m},
	})
	arid := Derive(Site{LatitudeDeg: 35.97, ElevationM: 171, Arid: true}, 188, knowing(func(*Day) {}))
	check(t, "arid site", []row{
		{"dew point 2.5 °C below the minimum", own, 19.3 - 2.5, 1e-9, DewPointC(arid.EaKPa)},
	})
}

// genDay draws a plausible day of which anything but the temperatures may be
// missing.
func genDay(t *rapid.T) Day {
	d := missingDay()
	d.TminC = rapid.Float64Range(-25, 28).Draw(t, "tmin")
	d.TmaxC = d.TminC + rapid.Float64Range(0, 22).Draw(t, "range")
	maybe := func(to *float64, low, high float64, label string) {
		if rapid.Bool().Draw(t, "has "+label) {
			*to = rapid.Float64Range(low, high).Draw(t, label)
		}
	}
	maybe(&d.RainMM, 0, 100, "rain")
	maybe(&d.DewC, -30, d.TminC, "dew")
	maybe(&d.RHMaxPct, 60, 100, "rhmax")
	maybe(&d.RHMinPct, 10, 60, "rhmin")
	maybe(&d.RHMeanPct, 20, 100, "rhmean")
	maybe(&d.WindMS, 0, 20, "wind")
	maybe(&d.WindHeightM, 2, 10, "height")
	maybe(&d.SunH, 0, 16, "sun")
	maybe(&d.CloudPct, 0, 100, "cloud")
	maybe(&d.SolarMJ, 0, 33, "solar")
	return d
}

func TestDerivePropertyBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		site := Site{
			LatitudeDeg: rapid.Float64Range(-55, 55).Draw(t, "lat"), ElevationM: rapid.Float64Range(-50, 3000).Draw(t, "z"),
			Coastal: rapid.Bool().Draw(t, "coastal"), Arid: rapid.Bool().Draw(t, "arid"),
		}
		d := genDay(t)
		got := Derive(site, rapid.IntRange(1, 366).Draw(t, "doy"), d)
		assert.GreaterOrEqual(t, got.ETMM, 0.0)
		assert.Less(t, got.ETMM, 40.0)
		assert.GreaterOrEqual(t, got.RsMJ, 0.0)
		assert.GreaterOrEqual(t, got.DLIMol, 0.0)
		assert.Positive(t, got.EaKPa)
		assert.GreaterOrEqual(t, got.WindMS2m, 0.0)
		if got.Radiation != RungMeasured {
			assert.LessOrEqual(t, got.RsMJ, got.RaMJ)
		}
		for _, r := range []Rung{got.Radiation, got.Humidity, got.Wind} {
			assert.NotEqual(t, RungNone, r)
		}
	})
}

func TestDerivePropertyMoreKnowledgeNeverWidensABand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		full, less := genDay(t), Day{}
		less = full
		fields := []*float64{&less.RainMM, &less.DewC, &less.RHMaxPct, &less.RHMinPct, &less.RHMeanPct,
			&less.WindMS, &less.WindHeightM, &less.SunH, &less.CloudPct, &less.SolarMJ}
		*rapid.SampledFrom(fields).Draw(t, "forgotten") = math.NaN()
		doy := rapid.IntRange(1, 366).Draw(t, "doy")
		knows, forgot := Derive(durhamSite, doy, full), Derive(durhamSite, doy, less)
		assert.LessOrEqual(t, ETBandPct(knows), ETBandPct(forgot))
		assert.LessOrEqual(t, DLIBandPct(knows), DLIBandPct(forgot))
		if knows.WeeklyOnly() {
			assert.True(t, forgot.WeeklyOnly())
		}
	})
}

func TestDeriveAllocatesNothing(t *testing.T) {
	d := knowing(func(d *Day) { d.RHMaxPct, d.RHMinPct, d.CloudPct, d.WindMS = 95, 47, 40, 3 })
	var sink float64
	assert.Zero(t, testing.AllocsPerRun(100, func() { sink += Derive(durhamSite, 188, d).ETMM }))
	assert.Positive(t, sink)
}
