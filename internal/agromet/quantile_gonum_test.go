package agromet

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// A second opinion: gonum's interpolated quantile is type 4 of Hyndman & Fan
// 1996, which differs from type 8 only in where among the ordered values a
// probability falls: n·p against (n + 1/3)·p + 1/3.
func TestQuantileAgreesWithGonum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-1000, 1000), 1, 60).Draw(t, "values")
		slices.Sort(values)
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		n := float64(len(values))
		// The place of type 8, held within the first and the last value.
		place := min(max((n+1.0/3)*p+1.0/3, 1), n)
		want := stat.Quantile(place/n, stat.LinInterp, values, nil)
		if got := Quantile(values, p); math.Abs(got-want) > 1e-6*max(1, math.Abs(want)) {
			t.Fatalf("%v of %v: %v, gonum %v", p, values, got, want)
		}
	})
}
