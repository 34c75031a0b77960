package agromet

import (
	"fmt"
	"math"
	"testing"
)

func TestPublishedDegreeDaysOfLeaflet21373(t *testing.T) {
	const base, ceiling = 55, 90
	tests := []struct {
		tmin, tmax, sine float64
	}{
		{96, 110, 35.00},
		{45, 54, 0},
		{60, 80, 15.00},
		{50, 82, 11.85},
		{60, 100, 22.82},
		{50, 101, 18.95},
	}
	for _, r := range tests {
		day := fmt.Sprintf("%g to %g °F, base 55, cutoff 90", r.tmin, r.tmax)
		check(t, "Zalom et al. 1983 Table 7", []row{
			{"single sine of " + day, read, r.sine, 0.01, SineDegreeDays(r.tmax, r.tmin, base, ceiling)},
		})
	}
}

func TestPublishedDegreeDaysOfTwoInterpretations(t *testing.T) {
	for _, r := range []struct{ tmax, tmin, method1, method2 float64 }{
		{20, 10, 15, 15}, {8, -2, 3, 4}, {5, -5, 0, 2.5}, {-2, -7, 0, 0}, {15, 2, 8.5, 8.5},
	} {
		day := fmt.Sprintf("%g and %g °C, base 0", r.tmax, r.tmin)
		check(t, "McMaster & Wilhelm 1997 Table 1", []row{
			{"method 1 of " + day, read, r.method1, 1e-12, AverageDegreeDays(r.tmax, r.tmin, 0)},
			{"method 2 of " + day, read, r.method2, 1e-12, ModifiedDegreeDays(r.tmax, r.tmin, 0, math.Inf(1))},
		})
	}
	for _, r := range []struct{ tmin, tmax, method1, method2, sine float64 }{
		{60, 90, 25, 23, 24.37}, {45, 75, 10, 12.5, 10.88}, {68, 95, 31.5, 27, 29.21},
	} {
		day := fmt.Sprintf("%g to %g °F, base 50, cutoff 86", r.tmin, r.tmax)
		check(t, "McMaster & Wilhelm 1997", []row{
			{"method 1 of " + day, recomputed, r.method1, 0.01, AverageDegreeDays(r.tmax, r.tmin, 50)},
			{"method 2 of " + day, recomputed, r.method2, 0.01, ModifiedDegreeDays(r.tmax, r.tmin, 50, 86)},
		})
		check(t, "Baskerville & Emin 1969", []row{
			{"single sine of " + day, recomputed, r.sine, 0.01, SineDegreeDays(r.tmax, r.tmin, 50, 86)},
		})
	}
}

func TestPublishedDegreeDaysOfOjai(t *testing.T) {
	for _, r := range []struct {
		day              string
		tmin, tmax, sine float64
	}{
		{"1 January", 7.8, 19.4, 2.72},
		{"5 January", 6.1, 15.0, 0.77},
		{"20 June", 11.1, 27.8, 7.54},
		{"26 September", 14.4, 39.4, 13.49},
	} {
		check(t, "UC IPM degree-day output, Ojai CA 2016, 12 and 33 °C", []row{
			{"single sine on " + r.day, read, r.sine, 0.01, SineDegreeDays(r.tmax, r.tmin, 12, 33)},
		})
	}
}
