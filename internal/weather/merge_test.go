package weather

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/diag"
)

func read(t testing.TB, text string) *Series {
	t.Helper()
	var list diag.List
	s := ReadDaily("daily.csv", []byte(text), &list)
	require.NoError(t, list.Err())
	return s
}

func TestMerge(t *testing.T) {
	old := read(t, "date,tmax_c,tmin_c,rain_mm\n2016-07-01,30,20,0\n2016-07-02,31,,4.2\n2016-07-05,,,1\n")
	later := read(t, "date,tmax_c,tmin_c,rain_mm,wind_ms\n2016-06-30,29,19,,\n2016-07-01,30,20.4,0,\n2016-07-02,31,21,4.6,3\n2016-07-04,28,18,0,2\n2016-07-06,27,17,0,\n")
	merged, report := Merge(old, later, false)
	assert.Equal(t, MergeReport{
		NewDays: 3, Filled: 2,
		Conflicts: []Conflict{
			{day(t, "2016-07-01"), TminC, 20, 20.4},
			{day(t, "2016-07-02"), RainMM, 4.2, 4.6},
		},
	}, report)
	requireSame(t, read(t, "date,tmax_c,tmin_c,rain_mm,wind_ms\n2016-06-30,29,19,,\n2016-07-01,30,20,0,\n2016-07-02,31,21,4.2,3\n2016-07-04,28,18,0,2\n2016-07-05,,,1,\n2016-07-06,27,17,0,\n"), merged)

	merged, again := Merge(old, later, true)
	assert.Equal(t, report, again, "overwriting reports the same conflicts")
	assert.Equal(t, 20.4, merged.At(TminC, day(t, "2016-07-01")))
	assert.Equal(t, 4.6, merged.At(RainMM, day(t, "2016-07-02")))
	assert.Equal(t, 4.2, old.At(RainMM, day(t, "2016-07-02")), "the records on file are not changed")

	merged, report = Merge(nil, later, false)
	assert.Equal(t, MergeReport{NewDays: 5}, report)
	requireSame(t, later, merged)
	merged, report = Merge(later, nil, false)
	assert.Equal(t, MergeReport{}, report)
	requireSame(t, later, merged)
	merged, _ = Merge(nil, nil, false)
	assert.Zero(t, merged.Len())
}

// An archive keeps tenths of what was observed in °F and inches.
func TestRoundingIsNoConflict(t *testing.T) {
	us := read(t, "date,tmax_f,tmin_f,rain_in\n2016-08-12,81,71,11.24\n2016-08-13,-4,-5,0.01\n")
	archive := read(t, "date,tmax_c,tmin_c,rain_mm\n2016-08-12,27.2,21.7,285.5\n2016-08-13,-20.0,-20.6,0.3\n")
	merged, report := Merge(us, archive, true)
	assert.Empty(t, report.Conflicts)
	requireSame(t, us, merged)
	_, report = Merge(archive, us, false)
	assert.Empty(t, report.Conflicts)
	_, report = Merge(archive, read(t, "date,tmax_c,tmin_c,rain_mm\n2016-08-12,27.3,21.7,285.5\n"), false)
	assert.Len(t, report.Conflicts, 1, "a tenth is a difference")
}

func TestMergeLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawSeries(t, "a"), drawSeries(t, "b")
		merged, report := Merge(a, b, false)
		conflicts := map[Conflict]bool{}
		for _, c := range report.Conflicts {
			conflicts[c] = true
		}
		for c := range Columns {
			for i := range a.Len() {
				d := a.Start.AddDays(i)
				if x := a.At(c, d); !math.IsNaN(x) && merged.At(c, d) != x {
					t.Fatalf("%s %s was %v and is %v", d, c.Name(), x, merged.At(c, d))
				}
			}
			for i := range b.Len() {
				d := b.Start.AddDays(i)
				x, m := b.At(c, d), merged.At(c, d)
				if !math.IsNaN(x) && !agree(m, x) && !conflicts[Conflict{d, c, m, x}] {
					t.Fatalf("%s %s: %v of the later records is neither taken nor reported", d, c.Name(), x)
				}
			}
		}
		twice, second := Merge(merged, b, false)
		requireSame(t, merged, twice)
		if second.NewDays != 0 || second.Filled != 0 || len(second.Conflicts) != len(report.Conflicts) {
			t.Fatalf("the second merge reports %+v", second)
		}
		over, _ := Merge(a, b, true)
		if _, third := Merge(over, b, false); len(third.Conflicts) != 0 {
			t.Fatalf("after overwriting, conflicts %v are left", third.Conflicts)
		}
	})
}
