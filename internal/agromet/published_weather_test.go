package agromet

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPublishedWetBulb(t *testing.T) {
	for _, r := range []struct {
		tC, rhPct, stull, deltaT, psychrometric float64
		standing                                string
	}{
		{20, 50, 13.70, 6.30, 13.84, memory}, // the paper's own example is 13.7 °C
		{30, 30, 18.37, 11.63, 18.07, recomputed},
		{25, 60, 19.50, 5.50, 19.51, recomputed},
		{15, 80, 12.73, 2.27, 13.00, recomputed},
	} {
		air := fmt.Sprintf("%g °C and %g %%", r.tC, r.rhPct)
		ea := SaturationVapourPressureKPa(r.tC) * r.rhPct / 100
		check(t, "Stull 2011 eq. 1", []row{
			{"wet bulb of " + air, r.standing, r.stull, 0.005, WetBulbStullC(r.tC, r.rhPct)},
			{"Delta T of " + air, recomputed, r.deltaT, 0.006, DeltaTC(r.tC, r.rhPct, 0)},
		})
		check(t, "FAO-56 eqs. 15 and 16, solved", []row{
			{"wet bulb of " + air + " at sea level", recomputed, r.psychrometric, 0.01, WetBulbC(r.tC, ea, AtmosphericPressureKPa(0))},
		})
	}
}

func TestPublishedLeafWetness(t *testing.T) {
	dpd := func(tC, rhPct float64) float64 {
		return tC - DewPointC(SaturationVapourPressureKPa(tC)*rhPct/100)
	}
	check(t, "Kim et al. 2002", []row{
		{"dew-point depression of 20 °C and 90 %", recomputed, 1.69, 0.01, dpd(20, 90)},
		{"calm branch at 20 °C, 90 %, 1 m per second", recomputed, 15.325, 0.01, cartCalm(20, 90, 1, dpd(20, 90))},
		{"dew-point depression of 15 °C and 80 %", recomputed, 3.42, 0.01, dpd(15, 80)},
		{"calm branch at 15 °C, 80 %, 1.5 m per second", recomputed, 12.721, 0.01, cartCalm(15, 80, 1.5, dpd(15, 80))},
		{"dew-point depression of 25 °C and 92 %", recomputed, 1.39, 0.01, dpd(25, 92)},
		{"windy branch, humidity squared, at 25 °C, 92 %, 3 m per second", memory, 37.24, 0.02, cartWindy(25, 92, 3, dpd(25, 92))},
	})
	for _, r := range []struct {
		says               string
		tC, rhPct, wind, d float64
		wet, known         bool
	}{
		{"wet at 20 °C, 90 %, 1 m per second", 20, 90, 1, dpd(20, 90), true, true},
		{"dry at 15 °C, 80 %, 1.5 m per second", 15, 80, 1.5, dpd(15, 80), false, true},
		{"wet at 25 °C, 92 %, 3 m per second", 25, 92, 3, dpd(25, 92), true, true},
		{"dry at a depression of 3.7 °C, however humid", 20, 95, 0.5, 3.7, false, true},
		{"dry in wind of 2.5 m per second below 87.8 %", 25, 87.7, 2.5, 3.6, false, true},
		{"wet in wind of 2.5 m per second from 87.8 % on", 25, 87.8, 2.5, 3.6, true, true},
		{"dry just below the discriminant, 84.8 % and calm", 20, 84.8, 1, dpd(20, 84.8), false, true},
		{"wet just above it, 84.9 % and calm", 20, 84.9, 1, dpd(20, 84.9), true, true},
		{"calm branch up to 2.49 m per second", 20, 90, 2.49, dpd(20, 90), false, true},
		{"not for frozen leaves", 0, 95, 1, 0.7, false, false},
	} {
		t.Run("Kim et al. 2002: "+r.says+" (second-hand)", func(t *testing.T) {
			wet, known := WetHourCART(r.tC, r.rhPct, r.wind, r.d)
			assert.Equal(t, r.wet, wet)
			assert.Equal(t, r.known, known)
		})
	}
	t.Run("Kim et al. 2002: the windy branch with humidity to the first power could never be wet (recomputed)", func(t *testing.T) {
		for rh := 87.8; rh <= 100; rh += 0.2 {
			for wind := 2.5; wind <= 10; wind += 0.5 {
				d := dpd(30, rh)
				assert.Less(t, cartWindy(30, rh, wind, d)-0.0046*rh*rh+0.0046*rh, 37.0)
			}
		}
	})
	nan := math.NaN()
	for _, r := range []struct {
		says       string
		rhPct, mm  float64
		wet, known bool
	}{
		{"wet at 90 %", 90, 0, true, true},
		{"dry at 89.9 %", 89.9, 0, false, true},
		{"wet in rain at any humidity", 60, 0.2, true, true},
		{"wet at 90 % though the rain is missing", 90, nan, true, true},
		{"wet in rain though the humidity is missing", nan, 0.2, true, true},
		{"unknown at 60 % with the rain missing", 60, nan, false, false},
		{"unknown without rain and humidity", nan, 0, false, false},
	} {
		t.Run("Sentelhas et al. 2008: "+r.says+" (second-hand)", func(t *testing.T) {
			wet, known := WetHour(r.rhPct, r.mm)
			assert.Equal(t, r.wet, wet)
			assert.Equal(t, r.known, known)
		})
	}
}

func TestPublishedFrost(t *testing.T) {
	for _, r := range []struct {
		f    float64
		want FrostClass
		code string
	}{
		{37, FrostFree, "frost-free"}, {36, FrostLikely, "frost"}, {33, FrostLikely, "frost"},
		{32, Freeze, "freeze"}, {29, Freeze, "freeze"}, {28, HardFreeze, "hard-freeze"}, {-10, HardFreeze, "hard-freeze"},
	} {
		t.Run(fmt.Sprintf("NWS glossary: %g °F is %s, also as rounded tenths of °C (read)", r.f, r.code), func(t *testing.T) {
			assert.Equal(t, r.want, ClassifyFrost(celsius(r.f)))
			assert.Equal(t, r.want, ClassifyFrost(math.Round(celsius(r.f)*10)/10))
		})
	}

	for _, r := range []struct {
		tminC float64
		want  FrostClass
	}{
		{2.3, FrostLikely}, {2.5, FrostFree}, // 36.14 and 36.5 °F
		{-1.9, Freeze}, {-2.0, HardFreeze}, // 28.58 and 28.4 °F
	} {
		t.Run(fmt.Sprintf("NWS glossary: %g °C is rounded to whole °F (own design)", r.tminC), func(t *testing.T) {
			assert.Equal(t, r.want, ClassifyFrost(r.tminC))
		})
	}

	nan := math.NaN()
	assert.Equal(t, FrostUnknown, ClassifyFrost(nan))
	gap := func(n int) []float64 { return slices.Repeat([]float64{nan}, n) }
	for _, r := range []struct {
		says  string
		tminC []float64
		first int
		s     Sighting
	}{
		{"the first night at or below the level", []float64{5, 3, 0.1, 0, 4, -3}, 3, SightingFound},
		{"28 °F is reached by a record of -2.2 °C", []float64{5, -2.1, -2.2}, 2, SightingFound},
		{"no freeze in the season", []float64{5, 3, 1}, -1, SightingNone},
		{"ten missing days before the event are allowed", append(gap(10), -5), 10, SightingFound},
		{"eleven are not", append(gap(11), -5), -1, SightingUnknown},
		{"missing days after the event do not matter", append([]float64{4, -5}, gap(40)...), 1, SightingFound},
		{"a season of nothing but ten missing days is none", gap(10), -1, SightingNone},
	} {
		t.Run("Utah Climate Center: "+r.says+" (read)", func(t *testing.T) {
			level := 0.0
			if len(r.tminC) == 3 && r.tminC[1] == -2.1 {
				level = celsius(28)
			}
			i, s := FirstFreeze(r.tminC, level)
			assert.Equal(t, r.s, s)
			assert.Equal(t, r.first, i)
			backwards := slices.Clone(r.tminC)
			slices.Reverse(backwards)
			i, s = LastFreeze(backwards, level)
			assert.Equal(t, r.s, s)
			if r.s == SightingFound {
				assert.Equal(t, len(r.tminC)-1-r.first, i)
			}
		})
	}

	days := []float64{60, 65, 70, 74, 80, 83, 90, 95}
	check(t, "NOAA Last Freeze/Frost Probability", []row{
		{"every year freezes: spring day of risk 0.1 is the 0.9 quantile", read, Quantile(days, 0.9), 1e-12, MixedQuantile(days, 0, 0, 0.9)},
		{"every year freezes: autumn day of risk 0.1 is the 0.1 quantile", read, Quantile(days, 0.1), 1e-12, MixedQuantile(days, 0, 0, 0.1)},
		{"8 years of 16 freeze: spring day of risk 0.1 is the 0.8 quantile", read, Quantile(days, 0.8), 1e-9, MixedQuantile(days, 8, 0, 0.9)},
		{"8 years of 16 freeze: autumn day of risk 0.1 is the 0.2 quantile", read, Quantile(days, 0.2), 1e-9, MixedQuantile(days, 0, 8, 0.1)},
		{"8 years of 16 freeze: risk 0.5 is the earliest last freeze", read, 60, 1e-12, MixedQuantile(days, 8, 0, 0.5)},
	})
	t.Run("NOAA Last Freeze/Frost Probability: 8 years of 16 freeze: no day has a risk of 0.6 (read)", func(t *testing.T) {
		assert.Equal(t, math.Inf(-1), MixedQuantile(days, 8, 0, 0.4), "spring")
		assert.Equal(t, math.Inf(1), MixedQuantile(days, 0, 8, 0.6), "autumn")
		assert.Equal(t, math.Inf(-1), MixedQuantile(nil, 16, 0, 0.9), "no spring freeze at all")
		assert.Equal(t, math.Inf(1), MixedQuantile(nil, 0, 16, 0.1), "no autumn freeze at all")
		assert.True(t, math.IsNaN(MixedQuantile(nil, 0, 0, 0.5)), "no years")
	})
}

// quantileBy is the quantile of plotting positions α = β of the general form of
// Hyndman and Fan (1996): 1/3 is their definition 8, 1 is 7, 0 is 6.
func quantileBy(values []float64, p, alpha, beta float64) float64 {
	n := float64(len(values))
	pos := n*p + alpha + p*(1-alpha-beta)
	at := func(j float64) float64 { return values[int(min(n, max(1, j)))-1] }
	j := math.Floor(pos)
	return at(j) + (pos-j)*(at(j+1)-at(j))
}

func TestPublishedQuantiles(t *testing.T) {
	values := []float64{2, 4, 7, 11, 12, 20}
	for _, r := range []struct{ p, type8, type7, type6 float64 }{
		{0.1, 2, 3, 2}, {0.2, 3.2, 4, 2.8}, {0.5, 9, 9, 9}, {0.9, 20, 16, 20},
	} {
		what := fmt.Sprintf("quantile %g of 2 4 7 11 12 20, definition ", r.p)
		check(t, "Hyndman & Fan 1996", []row{
			{what + "8", read, r.type8, 0.0001, Quantile(values, r.p)},
			{what + "7, which is not ours", read, r.type7, 0.0001, quantileBy(values, r.p, 1, 1)},
			{what + "6, which is not ours", read, r.type6, 0.0001, quantileBy(values, r.p, 0, 0)},
		})
	}
	t.Run("Hyndman & Fan 1996: values out of order are a programmer's mistake (own design)", func(t *testing.T) {
		assert.Panics(t, func() { Quantile([]float64{2, 1}, 0.5) })
	})
}

func TestPublishedGapRules(t *testing.T) {
	// month returns 30 days of which those listed are missing.
	month := func(missing ...int) []float64 {
		days := make([]float64, 30)
		for _, i := range missing {
			days[i] = math.NaN()
		}
		return days
	}
	for _, r := range []struct {
		publication, says string
		rule              GapRule
		days              []float64
		want              bool
	}{
		{"WMO-No. 1203", "10 scattered days missing, longest run 4: there is a mean", MonthlyMeanRule(), month(0, 1, 2, 3, 7, 10, 14, 18, 22, 26), true},
		{"WMO-No. 1203", "11 scattered days missing: no mean", MonthlyMeanRule(), month(0, 1, 2, 3, 7, 10, 14, 18, 22, 26, 28), false},
		{"WMO-No. 1203", "5 days in a row missing: no mean", MonthlyMeanRule(), month(10, 11, 12, 13, 14), false},
		{"WMO-No. 1203", "a sum needs every day", SumRule(), month(29), false},
		{"WMO-No. 1203", "a whole month has its sum", SumRule(), month(), true},
		{"WMO-No. 1203", "no days at all give no mean", MonthlyMeanRule(), nil, false},
	} {
		t.Run(r.publication+": "+r.says+" (read)", func(t *testing.T) {
			assert.Equal(t, r.want, r.rule.Allows(r.days))
		})
	}
	t.Run("WMO-No. 1203: a normal needs 24 of its 30 years (from memory)", func(t *testing.T) {
		assert.True(t, NormalHasEnoughYears(24, 30))
		assert.False(t, NormalHasEnoughYears(23, 30))
		assert.False(t, NormalHasEnoughYears(0, 0))
	})
}
