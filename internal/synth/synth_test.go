package synth

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// Richardson (1981) estimated A and B from the correlations of the residuals on
// one day (M0) and on consecutive days (M1): A = M1 M0⁻¹, BBᵀ = M0 − A M1ᵀ
// (Matalas, 1967, Mathematical assessment of synthetic hydrology, Water
// Resources Research 3(4):937–945). M0 and M1 here are the national averages
// of Richardson (1981), from memory; the tolerance is what rounding to three
// digits leaves.
func TestPublishedResidualMatricesGiveThePublishedCorrelations(t *testing.T) {
	m0 := [3][3]float64{{1, 0.633, 0.186}, {0.633, 1, -0.193}, {0.186, -0.193, 1}}
	m1 := [3][3]float64{{0.621, 0.445, 0.087}, {0.563, 0.674, -0.100}, {0.015, -0.091, 0.251}}
	for i := range 3 {
		for j := range 3 {
			var lag1, lag0 float64
			for k := range 3 {
				lag1 += residualA[i][k] * m0[k][j]
				lag0 += residualA[i][k]*m1[j][k] + residualB[i][k]*residualB[j][k]
			}
			assert.InDelta(t, m1[i][j], lag1, 0.002, "M1[%d][%d] = (A M0)", i, j)
			assert.InDelta(t, m0[i][j], lag0, 0.002, "M0[%d][%d] = (A M1ᵀ + B Bᵀ)", i, j)
		}
	}
}

// The normal distribution function at the points every table prints:
// Abramowitz, M., Stegun, I.A. (1964), Handbook of Mathematical Functions,
// table 26.1.
func TestPublishedNormalDistribution(t *testing.T) {
	for _, row := range []struct{ z, p float64 }{
		{0, 0.5}, {1, 0.841344746}, {2, 0.977249868}, {3, 0.998650102}, {-1, 0.158655254},
	} {
		assert.InDelta(t, row.p, below(row.z), 5e-10, "z = %v", row.z)
	}
}

func TestWavePeaksWhereItSays(t *testing.T) {
	w := Wave{Mean: 10, Amp: 4, Peak: 200}
	assert.InDelta(t, 14, w.At(200), 1e-12)
	assert.InDelta(t, 6, w.At(200-183)+w.At(200-182)-6, 0.01)
	w.Amp2, w.Peak2 = 1, 20
	assert.InDelta(t, 10+4*math.Cos(2*math.Pi*(20-200)/365.25)+1, w.At(20), 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyWave(t, "a"), anyWave(t, "b")
		j := rapid.IntRange(1, 366).Draw(t, "day")
		if got, want := a.Sum(b).At(j), a.At(j)+b.At(j); math.Abs(got-want) > 1e-9 {
			t.Fatalf("day %d: sum %v, not %v", j, got, want)
		}
	})
}

func anyWave(t *rapid.T, label string) Wave {
	f := rapid.Float64Range(-20, 20)
	day := rapid.Float64Range(1, 366)
	return Wave{f.Draw(t, label+" mean"), f.Draw(t, label+" amp"), day.Draw(t, label+" peak"),
		f.Draw(t, label+" amp2"), day.Draw(t, label+" peak2")}
}

// anyClimate draws sites that Atlantic is meant for.
func anyClimate(t *rapid.T) Climate {
	c := Atlantic(rapid.Float64Range(32, 38).Draw(t, "latitude"),
		rapid.Float64Range(0, 1200).Draw(t, "elevation"), rapid.Bool().Draw(t, "coastal"))
	c.Site = rapid.Uint64().Draw(t, "site")
	return c
}

func TestDaysArePossibleAndRepeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, seed := anyClimate(t), rapid.Uint64().Draw(t, "seed")
		first := civil.MustDate(2000, 1, 1).AddDays(rapid.IntRange(0, 10000).Draw(t, "first"))
		n := rapid.IntRange(1, 800).Draw(t, "days")
		days := Daily(c, seed, first, first.AddDays(n-1))
		if len(days) != n {
			t.Fatalf("%d days, not %d", len(days), n)
		}
		again := Daily(c, seed, first, first.AddDays(n-1))
		for i, d := range days {
			if d != again[i] {
				t.Fatalf("%v the second time, %v the first", again[i], d)
			}
			if d.Date != first.AddDays(i) {
				t.Fatalf("day %d is %s", i, d.Date)
			}
			if d.TmaxC < d.TminC+MinSpreadC-1e-9 {
				t.Fatalf("%s: maximum %v, minimum %v", d.Date, d.TmaxC, d.TminC)
			}
			if d.RainMM != 0 && d.RainMM < WetMM || math.IsInf(d.RainMM, 0) || math.IsNaN(d.RainMM) {
				t.Fatalf("%s: rain %v", d.Date, d.RainMM)
			}
			for _, v := range []float64{d.TmaxC, d.TminC, d.RainMM} {
				if v != quantity.Tenths(v) {
					t.Fatalf("%s: %v is finer than a record", d.Date, v)
				}
			}
		}
		// A longer run from the same first day begins with the same days.
		longer := Daily(c, seed, first, first.AddDays(n+30))
		for i := range days {
			if longer[i] != days[i] {
				t.Fatalf("day %d depends on where the run ends", i)
			}
		}
	})
	assert.Nil(t, Daily(Atlantic(34, 0, true), 1, 100, 99))
}

// wanted are the statistics of one calendar month that follow from the
// parameters: the chain's share of wet days is stepped day by day, and the rest
// are averages over it.
type wanted struct {
	days                         int
	wet, tmax, tmin, rain, rain2 float64 // rain and its square: of wet days, above WetMM
}

func expect(c Climate, first, last civil.Date) (months [12]wanted) {
	p := 0.3
	var wetDays [12]float64
	for d := first.AddDays(-spinUpDays); d <= last; d++ {
		j := d.YearDay()
		p = p*c.WetAfterWet.At(j) + (1-p)*c.WetAfterDry.At(j)
		if d < first {
			continue
		}
		m := &months[d.Month()-1]
		light, heavy := c.lightHeavy(j)
		m.days++
		m.wet += p
		m.tmax += p*c.TmaxWetC.At(j) + (1-p)*c.TmaxDryC.At(j)
		m.tmin += p*c.TminWetC.At(j) + (1-p)*c.TminDryC.At(j)
		m.rain += p * (c.LightShare*light + (1-c.LightShare)*heavy)
		m.rain2 += p * 2 * (c.LightShare*light*light + (1-c.LightShare)*heavy*heavy)
		wetDays[d.Month()-1] += p
	}
	for i := range months {
		m := &months[i]
		n := float64(m.days)
		m.wet, m.tmax, m.tmin = m.wet/n, m.tmax/n, m.tmin/n
		m.rain, m.rain2 = m.rain/wetDays[i], m.rain2/wetDays[i]
	}
	return months
}

var testSites = map[string]Climate{
	"shore":   Atlantic(33.4, 4, true),
	"plain":   Atlantic(35.5, 210, false),
	"plateau": Atlantic(36.3, 969, false),
}

// Two hundred years of each kind of site agree with the parameters that made
// them. The tolerances are about four standard errors of the means: a share of
// 6,000 wet-or-dry days that hang together, 0.03; temperatures of standard
// deviation up to 5.5 °C and lag-1 correlation 0.65, 0.6 °C; rain, 8 %.
func TestStatisticsOfTwoHundredYearsMatchTheParameters(t *testing.T) {
	first, last := civil.MustDate(1801, 1, 1), civil.MustDate(2000, 12, 31)
	for name, c := range testSites {
		t.Run(name, func(t *testing.T) {
			months := expect(c, first, last)
			var got [12]wanted
			var wetDays [12]float64
			crossed := 0
			for _, d := range Daily(c, 7, first, last) {
				i := d.Date.Month() - 1
				m := &got[i]
				m.days++
				m.tmax += d.TmaxC
				m.tmin += d.TminC
				if d.RainMM > 0 {
					wetDays[i]++
					above := d.RainMM - WetMM
					m.rain += above
					m.rain2 += above * above
				}
				if d.TmaxC-d.TminC < MinSpreadC+0.15 {
					crossed++
				}
			}
			for i := range months {
				m, n := got[i], float64(got[i].days)
				assert.InDelta(t, months[i].wet, wetDays[i]/n, 0.03, "share of wet days, month %d", i+1)
				assert.InDelta(t, months[i].tmax, m.tmax/n, 0.6, "maximum, month %d", i+1)
				assert.InDelta(t, months[i].tmin, m.tmin/n, 0.6, "minimum, month %d", i+1)
				assert.InEpsilon(t, months[i].rain, m.rain/wetDays[i], 0.08, "rain of a wet day, month %d", i+1)
				assert.InEpsilon(t, months[i].rain2, m.rain2/wetDays[i], 0.25, "square of that rain, month %d", i+1)
			}
			assert.Less(t, crossed, 73049*4/100, "pairs set apart are rare")
		})
	}
}

// The Markov chain remembers: a day after rain is wet as often as WetAfterWet
// says, a day after none as often as WetAfterDry.
func TestRainFollowsRainAsOftenAsTheChainSays(t *testing.T) {
	for name, c := range testSites {
		days := Daily(c, 11, civil.MustDate(1801, 1, 1), civil.MustDate(2000, 12, 31))
		var n, wet, want [2]float64 // after dry, after wet
		for i := 1; i < len(days); i++ {
			after := 0
			if days[i-1].RainMM > 0 {
				after = 1
			}
			n[after]++
			want[after] += c.chanceOfWet(after == 1, days[i].Date.YearDay())
			if days[i].RainMM > 0 {
				wet[after]++
			}
		}
		assert.InDelta(t, want[0]/n[0], wet[0]/n[0], 0.01, "%s, after a dry day", name)
		assert.InDelta(t, want[1]/n[1], wet[1]/n[1], 0.02, "%s, after a wet day", name)
	}
}

// residuals takes the seasonal means and spreads back out of the days.
func residuals(c Climate, days []Day) (x, n []float64) {
	for _, d := range days {
		j, maxMean, minMean := d.Date.YearDay(), c.TmaxDryC, c.TminDryC
		if d.RainMM > 0 {
			maxMean, minMean = c.TmaxWetC, c.TminWetC
		}
		x = append(x, (d.TmaxC-maxMean.At(j))/c.TmaxSDC.At(j))
		n = append(n, (d.TminC-minMean.At(j))/c.TminSDC.At(j))
	}
	return x, n
}

func correlation(a, b []float64) float64 {
	var ma, mb, saa, sbb, sab float64
	for i := range a {
		ma, mb = ma+a[i], mb+b[i]
	}
	ma, mb = ma/float64(len(a)), mb/float64(len(b))
	for i := range a {
		saa += (a[i] - ma) * (a[i] - ma)
		sbb += (b[i] - mb) * (b[i] - mb)
		sab += (a[i] - ma) * (b[i] - mb)
	}
	return sab / math.Sqrt(saa*sbb)
}

// Lag-0 and lag-1 correlations of the residuals are those of Richardson (1981):
// 0.633 between maximum and minimum, 0.621 and 0.674 from day to day, 0.445
// from minimum to next maximum, 0.563 from maximum to next minimum (from
// memory). Pairs that were set apart add a little, hence 0.03.
func TestPublishedCorrelationsComeOutOfTheDays(t *testing.T) {
	for name, c := range testSites {
		x, n := residuals(c, Daily(c, 3, civil.MustDate(1801, 1, 1), civil.MustDate(2000, 12, 31)))
		last := len(x) - 1
		for _, row := range []struct {
			what      string
			want, got float64
		}{
			{"maximum and minimum of a day", 0.633, correlation(x, n)},
			{"maximum and the one before", 0.621, correlation(x[1:], x[:last])},
			{"maximum and minimum before", 0.445, correlation(x[1:], n[:last])},
			{"minimum and maximum before", 0.563, correlation(n[1:], x[:last])},
			{"minimum and the one before", 0.674, correlation(n[1:], n[:last])},
		} {
			assert.InDelta(t, row.want, row.got, 0.03, "%s: %s", name, row.what)
		}
	}
}

// Two sites of one seed share their weather; two seeds do not.
func TestOwnDesignSitesOfASeedShareTheirWeather(t *testing.T) {
	first, last := civil.MustDate(1901, 1, 1), civil.MustDate(2000, 12, 31)
	a, b := Atlantic(33.4, 4, true), Atlantic(36.3, 969, false)
	a.Site, b.Site = 1, 2
	xa, _ := residuals(a, Daily(a, 5, first, last))
	xb, _ := residuals(b, Daily(b, 5, first, last))
	xc, _ := residuals(b, Daily(b, 6, first, last))
	assert.InDelta(t, a.Shared, correlation(xa, xb), 0.03)
	assert.InDelta(t, 0, correlation(xa, xc), 0.03)
	a.Shared, b.Shared = 0, 0
	xa, _ = residuals(a, Daily(a, 5, first, last))
	xb, _ = residuals(b, Daily(b, 5, first, last))
	assert.InDelta(t, 0, correlation(xa, xb), 0.03, "nothing shared, nothing in common")
}

func TestImpossibleClimatesPanic(t *testing.T) {
	good := Atlantic(35, 100, false)
	for name, spoil := range map[string]func(*Climate){
		"certain rain": func(c *Climate) { c.WetAfterWet.Mean = 1.2 },
		"no rain":      func(c *Climate) { c.WetAfterDry.Mean = -0.1 },
		"NaN":          func(c *Climate) { c.WetAfterDry.Mean = math.NaN() },
		"wet day dry":  func(c *Climate) { c.RainMM = Wave{Mean: 0.2} },
		"no spread":    func(c *Climate) { c.TminSDC = Wave{} },
		"all light":    func(c *Climate) { c.LightShare = 1 },
		"heavy light":  func(c *Climate) { c.LightRatio = 1.5 },
		"over-shared":  func(c *Climate) { c.Shared = 1.1 },
	} {
		c := good
		spoil(&c)
		assert.Panics(t, func() { Daily(c, 1, 730000, 730010) }, name)
	}
}

// A forecast is worth more tomorrow than at the end of the week.
func TestOwnDesignForecastErrorsGrowWithTheLead(t *testing.T) {
	c := Atlantic(35.5, 210, false)
	truth := Daily(c, 9, civil.MustDate(1951, 1, 1), civil.MustDate(2000, 12, 31))
	const lead = 8
	var square [lead]float64
	var wrong, n [lead]float64
	for i := 0; i+lead < len(truth); i += lead {
		f := Forecast(truth, truth[i].Date, lead, 21)
		require.Len(t, f, lead)
		for l, day := range f {
			want := truth[i+l]
			require.Equal(t, want.Date, day.Date)
			require.GreaterOrEqual(t, day.TmaxC-day.TminC, MinSpreadC-1e-9)
			square[l] += (day.TmaxC - want.TmaxC) * (day.TmaxC - want.TmaxC)
			if (day.RainMM > 0) != (want.RainMM > 0) {
				wrong[l]++
			}
			n[l]++
		}
		assert.Equal(t, f, Forecast(truth, truth[i].Date, lead, 21))
	}
	for l := range lead {
		sd := 0.8 + 0.2*float64(l)
		assert.InEpsilon(t, sd, math.Sqrt(square[l]/n[l]), 0.08, "error on day %d", l)
		assert.Less(t, wrong[l]/n[l], 0.30)
	}
	assert.Greater(t, wrong[lead-1]/n[lead-1], 3*wrong[0]/n[0])
}

// A forecast never looks past what it is about.
func TestForecastKnowsOnlyItsOwnDays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, seed := anyClimate(t), rapid.Uint64().Draw(t, "seed")
		first := civil.MustDate(2020, 1, 1)
		truth := Daily(c, seed, first, first.AddDays(40))
		issued := first.AddDays(rapid.IntRange(0, 30).Draw(t, "issued"))
		whole := Forecast(truth, issued, 8, seed)
		cut := Forecast(truth[:issued-first+5], issued, 8, seed)
		if len(cut) != 5 {
			t.Fatalf("%d days where truth holds 5", len(cut))
		}
		for i := range cut {
			if cut[i] != whole[i] {
				t.Fatalf("day %d: %v, not %v", i, cut[i], whole[i])
			}
		}
	})
}

func TestMorningRecordsRunADayLate(t *testing.T) {
	d := civil.MustDate(2021, 4, 28)
	days := []Day{
		{d, 20, 10, 1}, {d + 1, 21, 11, 0}, {d + 2, 12, 8, 3}, {d + 3, 23, 13, 0}, {d + 4, 24, 14, 5},
	}
	change := civil.MustDate(2021, 5, 1)
	records := Records(days, d, d+4, func(d civil.Date) bool { return d < change })
	assert.Equal(t, "date,tmax_c,tmin_c,rain_mm\n"+
		"2021-04-28,,10.0,\n"+
		"2021-04-29,20.0,11.0,1.0\n"+
		"2021-04-30,21.0,8.0,0.0\n"+ // the 30th's own maximum is never read
		"2021-05-01,23.0,13.0,0.0\n"+
		"2021-05-02,24.0,14.0,5.0\n", string(CSV(records)))

	always := func(civil.Date) bool { return true }
	late := Records(days, d+3, d+3, always)
	assert.Equal(t, "2021-05-01,13.0,13.0,3.0\n", string(CSV(late)[len(Header):]),
		"a night warmer than the day before leaves its mark on the maximum")
	assert.Equal(t, Header+"2021-05-04,,,\n", string(CSV(Records(days, d+6, d+6, always))))
}

func BenchmarkDailyTenYears(b *testing.B) {
	c := Atlantic(35.5, 210, false)
	first, last := civil.MustDate(2015, 1, 1), civil.MustDate(2024, 12, 31)
	b.ReportAllocs()
	for b.Loop() {
		if days := Daily(c, 1, first, last); len(days) != 3653 {
			b.Fatal(len(days))
		}
	}
}
