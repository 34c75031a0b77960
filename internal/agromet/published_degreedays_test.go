package agromet

import (
	"fmt"
	"math"
	"testing"
)

func TestPublishedDegreeDaysOfLeaflet21373(t *testing.T) {
	const base, ceiling = 55, 90
	tests := []struct {
		tmin, tmax, tminNext                       float64
		triangle, sine, doubleTriangle, doubleSine float64
	}{
		{96, 110, 91, 35.00, 35.00, 35.00, 35.00},
		{45, 54, 38, 0, 0, 0, 0},
		{60, 80, 75, 15.00, 15.00, 18.75, 18.75},
		{50, 82, 45, 11.39, 11.85, 10.62, 11.31},
		// The leaflet prints 24.88 for the double triangle: a misprint.
		// Half of 23.75 and half of 30.50 is 27.12.
		{60, 100, 75, 23.75, 22.82, math.NaN(), 26.26},
		{50, 101, 48, 19.56, 18.95, 19.19, 18.69},
	}
	for _, r := range tests {
		day := fmt.Sprintf("%g to %g and next %g °F, base 55, cutoff 90", r.tmin, r.tmax, r.tminNext)
		check(t, "Zalom et al. 1983 Table 7", []row{
			{"single triangle of " + day, read, r.triangle, 0.01, TriangleDegreeDays(r.tmax, r.tmin, base, ceiling)},
			{"single sine of " + day, read, r.sine, 0.01, SineDegreeDays(r.tmax, r.tmin, base, ceiling)},
			{"double sine of " + day, read, r.doubleSine, 0.01, DoubleSineDegreeDays(r.tmin, r.tmax, r.tminNext, base, ceiling)},
		})
		doubleTriangle := DoubleTriangleDegreeDays(r.tmin, r.tmax, r.tminNext, base, ceiling)
		if math.IsNaN(r.doubleTriangle) {
			check(t, "Zalom et al. 1983 Table 7", []row{
				{"double triangle of " + day + ", misprinted as 24.88", recomputed, 27.12, 0.01, doubleTriangle},
			})
			continue
		}
		check(t, "Zalom et al. 1983 Table 7", []row{
			{"double triangle of " + day, read, r.doubleTriangle, 0.01, doubleTriangle},
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
		day                        string
		tmin, tmax, sine, triangle float64
	}{
		{"1 January", 7.8, 19.4, 2.72, 2.36},
		{"5 January", 6.1, 15.0, 0.77, 0.51},
		{"20 June", 11.1, 27.8, 7.54, 7.47},
		{"26 September", 14.4, 39.4, 13.49, 14.08},
	} {
		check(t, "UC IPM degree-day output, Ojai CA 2016, 12 and 33 °C", []row{
			{"single sine on " + r.day, read, r.sine, 0.01, SineDegreeDays(r.tmax, r.tmin, 12, 33)},
			{"single triangle on " + r.day, read, r.triangle, 0.01, TriangleDegreeDays(r.tmax, r.tmin, 12, 33)},
		})
	}
}
