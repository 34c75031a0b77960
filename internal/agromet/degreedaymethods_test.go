package agromet

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func sineMethod(base, upper float64, c Cutoff) DegreeDays {
	return DegreeDays{Method: SineMethod, BaseC: base, UpperC: upper, Cutoff: c}
}

// Table 7 of Zalom and others 1983, thresholds 55 and 90 °F, horizontal
// cutoff. The methods do not care for the unit as long as it is one; the rows
// are also run in Celsius. The published figures are rounded to 0.01.
func TestPublishedSineDegreeDays(t *testing.T) {
	for _, c := range []struct{ n, x, next, single, double float64 }{
		{96, 110, 91, 35.00, 35.00},
		{91, 105, 96, 35.00, 35.00},
		{45, 54, 38, 0, 0},
		{60, 80, 75, 15.00, 18.75},
		{75, 88, 60, 26.50, 22.75},
		{45, 70, 50, 5.31, 5.70},
		{60, 100, 75, 22.82, 26.26},
		{50, 101, 48, 18.95, 18.69},
	} {
		t.Run(fmt.Sprintf("Zalom and others 1983, Table 7: %v to %v °F", c.n, c.x), func(t *testing.T) {
			single := sineMethod(55, 90, HorizontalCutoff)
			double := single
			double.Method = DoubleSineMethod
			assert.InDelta(t, c.single, single.Day(c.x, c.n, math.NaN()), 0.01)
			assert.InDelta(t, c.double, double.Day(c.x, c.n, c.next), 0.01)
			inC := DegreeDays{Method: DoubleSineMethod, BaseC: celsius(55), UpperC: celsius(90), Cutoff: HorizontalCutoff}
			assert.InDelta(t, c.double, DegreeDaysF(inC.Day(celsius(c.x), celsius(c.n), celsius(c.next))), 0.01)
		})
	}
}

// Table 1 of McMaster & Wilhelm 1997: base 0 °C, no upper limit.
func TestPublishedAverageDegreeDays(t *testing.T) {
	for _, c := range []struct{ x, n, one, two float64 }{
		{20, 10, 15, 15}, {10, 1, 5.5, 5.5}, {6, 0, 3, 3},
		{10, 5, 7.5, 7.5}, {5, -5, 0, 2.5}, {-5, -10, 0, 0}, {10, -2, 4, 5},
	} {
		t.Run(fmt.Sprintf("McMaster & Wilhelm 1997, Table 1: %v to %v °C", c.n, c.x), func(t *testing.T) {
			assert.InDelta(t, c.one, DegreeDays{Method: AverageMethod, UpperC: math.Inf(1)}.Day(c.x, c.n, math.NaN()), 0.005)
			assert.InDelta(t, c.two, DegreeDays{Method: ModifiedMethod, UpperC: math.Inf(1)}.Day(c.x, c.n, math.NaN()), 0.005)
		})
	}
}

// Worked examples of extension, average method above 50 °F.
func TestPublishedExtensionDegreeDays(t *testing.T) {
	m := DegreeDays{Method: AverageMethod, BaseC: celsius(50), UpperC: math.Inf(1)}
	for _, c := range []struct {
		source     string
		x, n, want float64
	}{
		{"Niemczyk & Shetlar, Destructive Turf Insects, 2nd ed.", 70, 40, 5},
		{"Virginia Tech, Crop and Soil Environmental News, January 2007", 75, 27, 1},
	} {
		t.Run(c.source, func(t *testing.T) {
			assert.InDelta(t, c.want, DegreeDaysF(m.Day(celsius(c.x), celsius(c.n), math.NaN())), 1e-9)
		})
	}
	// The same day by another method is another number: that is why a
	// threshold is kept with its method.
	assert.InDelta(t, 8.15, sineMethod(50, math.Inf(1), NoCutoff).Day(75, 27, 0), 0.005)
}

// Own calculation: one day by each method, for the thresholds of our files.
// Kept against regressions; no publication prints them.
func TestOwnDesignDegreeDayRows(t *testing.T) {
	none := math.Inf(1)
	for _, c := range []struct {
		n, x, base, upper, average, sine float64
	}{
		{40, 70, 50, none, 5.000, 7.5424},
		{46, 68, 50, 86, 7.000, 7.7379},
		{55, 95, 50, 86, 20.500, 23.1441},
		{30, 52, 50, 86, 0.000, 0.2583},
		{12, 34, 10.4, 30, 10.600, 11.8621},
		{10, 24, 12, none, 5.000, 5.3256},
		{3, 21, 5, none, 7.000, 7.2862},
		{14, 31, 12.57, 32, 9.930, 9.9300},
	} {
		average := DegreeDays{Method: CappedAverageMethod, BaseC: c.base, UpperC: c.upper}
		assert.InDelta(t, c.average, average.Day(c.x, c.n, math.NaN()), 0.001, "%+v", c)
		cutoff := HorizontalCutoff
		if math.IsInf(c.upper, 1) {
			cutoff = NoCutoff
		}
		assert.InDelta(t, c.sine, sineMethod(c.base, c.upper, cutoff).Day(c.x, c.n, math.NaN()), 0.001, "%+v", c)
	}
	// The capped simple method with the limits of Ebbenga and others 2022.
	capped := DegreeDays{Method: CappedAverageMethod, BaseC: 15, UpperC: 21.7}
	assert.InDelta(t, 2.85, capped.Day(30, 14, math.NaN()), 1e-9)
}

// Own calculation: the two cutoffs that no row of the published table uses.
func TestOwnDesignCutoffs(t *testing.T) {
	// A day wholly above the limit: horizontal keeps the full rate,
	// intermediate falls by what it is above, vertical stops.
	assert.InDelta(t, 10, sineMethod(10, 20, HorizontalCutoff).Day(26, 22, 0), 1e-9)
	assert.InDelta(t, 6, sineMethod(10, 20, IntermediateCutoff).Day(26, 22, 0), 1e-9)
	assert.InDelta(t, 0, sineMethod(10, 20, VerticalCutoff).Day(26, 22, 0), 1e-9)
	// A day half above: 20 ± 5 about a limit of 20 with base 10. Above the
	// limit lie on average 5/π degrees, for half of the day.
	above := 5 / math.Pi
	assert.InDelta(t, 10-above, sineMethod(10, 20, HorizontalCutoff).Day(25, 15, 0), 1e-9)
	assert.InDelta(t, 10-2*above, sineMethod(10, 20, IntermediateCutoff).Day(25, 15, 0), 1e-9)
	assert.InDelta(t, 10-above-5, sineMethod(10, 20, VerticalCutoff).Day(25, 15, 0), 1e-9)
	assert.Zero(t, sineMethod(10, 20, IntermediateCutoff).Day(45, 38, 0), "never below zero")
}

func TestOwnDesignMeanMethods(t *testing.T) {
	soil := DegreeDays{Method: DailyMeanMethod, BaseC: 12, UpperC: math.Inf(1)}
	assert.Equal(t, 4.0, soil.Mean(16))
	assert.Equal(t, 0.0, soil.Mean(11))
	warm := DegreeDays{Method: WarmDaysMethod, BaseC: 20, UpperC: math.Inf(1)}
	assert.Equal(t, 1.0, warm.Mean(20))
	assert.Equal(t, 0.0, warm.Mean(19.9))
	assert.Equal(t, 1.0, warm.Day(26, 14, math.NaN()))
	assert.True(t, math.IsNaN(DegreeDays{Method: SineMethod}.Mean(20)), "a sine needs maximum and minimum")
	assert.True(t, math.IsNaN(DegreeDays{}.Day(20, 10, 10)), "no method, no number")
}

func TestDegreeDaysBehave(t *testing.T) {
	methods := []DegreeDayMethod{AverageMethod, CappedAverageMethod, ModifiedMethod, SineMethod, DoubleSineMethod, DailyMeanMethod, WarmDaysMethod}
	cutoffs := []Cutoff{NoCutoff, HorizontalCutoff, IntermediateCutoff, VerticalCutoff}
	rapid.Check(t, func(t *rapid.T) {
		m := DegreeDays{
			Method: rapid.SampledFrom(methods).Draw(t, "method"),
			BaseC:  rapid.Float64Range(0, 16).Draw(t, "base"),
			UpperC: rapid.Float64Range(20, 40).Draw(t, "upper"),
			Cutoff: rapid.SampledFrom(cutoffs).Draw(t, "cutoff"),
		}
		n := rapid.Float64Range(-20, 35).Draw(t, "min")
		x := n + rapid.Float64Range(0, 25).Draw(t, "range")
		next := rapid.Float64Range(-20, 35).Draw(t, "next")
		got := m.Day(x, n, next)
		if !(got >= -1e-9) {
			t.Fatalf("%v degree-days", got)
		}
		if x < m.BaseC && max(x, next) < m.BaseC && got > 1e-9 {
			t.Fatalf("%v degree-days on a day below the base", got)
		}
		if m.Method != WarmDaysMethod && got > max(x, next)-m.BaseC+1e-9 && got > 1e-9 {
			t.Fatalf("%v degree-days, more than the whole day at %v would give", got, x)
		}
		if !math.IsNaN(m.Day(math.NaN(), n, next)) || !math.IsNaN(m.Day(x, math.NaN(), next)) || !math.IsNaN(m.Day(n-1, n, next)) {
			t.Fatal("a number from missing or impossible temperatures")
		}
	})
}
