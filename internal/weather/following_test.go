package weather

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"ligule/internal/civil"
)

// The days that followed are those that a view of later weeks tells of, whatever
// the hour of observation; what nobody recorded is not in the forecast.
func TestFollowingDays(t *testing.T) {
	start := civil.MustDate(2016, 7, 1)
	rapid.Check(t, func(t *rapid.T) {
		records := NewSeries(start, 60)
		for d := records.Start; d <= records.End(); d++ {
			if rapid.IntRange(0, 9).Draw(t, "kept") == 0 {
				continue
			}
			low := rapid.Float64Range(5, 20).Draw(t, "low")
			records.Set(TminC, d, low)
			records.Set(TmaxC, d, low+rapid.Float64Range(5, 15).Draw(t, "range"))
			records.Set(RainMM, d, rapid.Float64Range(0, 40).Draw(t, "rain"))
		}
		st := Station{ID: "x", LatitudeDeg: 35, Obs: []ObsPeriod{{Time: rapid.SampledFrom([]ObsTime{Midnight, Morning, Afternoon}).Draw(t, "observed")}}}
		issue := start.AddDays(rapid.IntRange(0, 58).Draw(t, "issue"))
		f := Following(st, records, issue, 10)
		assert.Equal(t, issue, f.Issued)
		assert.Equal(t, 10, f.Days.Len())
		later := AsOf(st, records, nil, records.End()+1)
		for d := issue; d <= f.Days.End(); d++ {
			for _, c := range []Column{TmaxC, TminC, RainMM} {
				want := math.NaN()
				if later.Basis(c, d) == Observed {
					want = later.Days.At(c, d)
				}
				if got := f.Days.At(c, d); got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
					t.Fatalf("column %d of %s: %g, not %g", c, d, got, want)
				}
			}
		}
	})
}
