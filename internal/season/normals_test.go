package season

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"ligule/internal/agromet"
	"ligule/internal/civil"
)

// yearly is a column in which each day of a year holds what of returns.
func yearly(first, last civil.Date, of func(civil.Date) float64) []float64 {
	var col []float64
	for d := first; d <= last; d++ {
		col = append(col, of(d))
	}
	return col
}

func TestOwnDesignNormals(t *testing.T) {
	start, end := civil.MustDate(2000, 1, 1), civil.MustDate(2011, 12, 31)
	byYear := yearly(start, end, func(d civil.Date) float64 { return float64(d.Year()) })
	n := func(d civil.Date) Normal { return NormalOn(start, byYear, 2001, 2010, d) }
	got := n(civil.MustDate(2024, 7, 1))
	assert.Equal(t, 10, got.Years)
	assert.InDelta(t, 2005.5, got.Mean, 1e-9)
	assert.InDelta(t, 2005.5, got.Median, 1e-9)
	assert.InDelta(t, 2002.4, got.Low, 1e-9, "of 150 values, at place 30.4, between the second and the third year")
	assert.InDelta(t, 2008.6, got.High, 1e-9)

	assert.Equal(t, n(civil.MustDate(2023, 2, 28)), n(civil.MustDate(2024, 2, 29)), "29 February answers for the 28th")
	byDay := yearly(start, end, func(d civil.Date) float64 {
		if _, m, day := d.YMD(); m == 2 && day == 29 {
			return 1000
		}
		return 0
	})
	leapDays := func(d civil.Date) Normal { return NormalOn(start, byDay, 2001, 2010, d) }
	assert.Greater(t, leapDays(civil.MustDate(2023, 2, 28)).Mean, 0.0, "29 February is pooled with its neighbors")
	assert.Zero(t, leapDays(civil.MustDate(2023, 3, 20)).Mean)

	// The window reaches over New Year, and outside the period where it must.
	assert.Equal(t, 10, n(civil.MustDate(2023, 1, 1)).Years)
	short := func(d civil.Date) Normal { return NormalOn(start, byYear, 2000, 2011, d) }
	assert.Equal(t, 12, short(civil.MustDate(2023, 7, 1)).Years)
	assert.Equal(t, 11, short(civil.MustDate(2023, 1, 1)).Years, "of 2000 seven days in a row are missing")
}

// WMO-No. 1203: a normal needs 80 % of its years; four days in a row may be
// missing from a stretch, five not.
func TestPublishedNormalsMissingDays(t *testing.T) {
	start, end := civil.MustDate(2000, 12, 1), civil.MustDate(2011, 1, 31)
	full := yearly(start, end, func(civil.Date) float64 { return 20 })
	without := func(days int, years ...int) []float64 {
		col := slices.Clone(full)
		for _, year := range years {
			for i := range days {
				col[int(civil.MustDate(year, 7, 1)-start)+i] = math.NaN()
			}
		}
		return col
	}
	july := civil.MustDate(2023, 7, 2)
	assert.Equal(t, 10, NormalOn(start, without(4, 2001, 2002, 2003), 2001, 2010, july).Years)
	two := NormalOn(start, without(5, 2001, 2002), 2001, 2010, july)
	assert.Equal(t, 8, two.Years)
	assert.Equal(t, 20.0, two.Mean)
	three := NormalOn(start, without(5, 2001, 2002, 2003), 2001, 2010, july)
	assert.Equal(t, 7, three.Years)
	assert.True(t, math.IsNaN(three.Mean) && math.IsNaN(three.Median) && math.IsNaN(three.Low))
}

func TestNormalQuantilesAgreeWithGonum(t *testing.T) {
	f := norfolk.felt(t)
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.IntRange(0, 364).Draw(t, "day")
		var values []float64
		for year := 1991; year <= 2017; year++ {
			first, last := civil.OnYearPlace(year, place).AddYearDays(-7), civil.OnYearPlace(year, place).AddYearDays(7)
			if civil.IsLeap(last.Year()) && last.YearPlace() == civil.Feb28 {
				last++
			}
			values = append(values, Stretch(f.Start, f.TmeanC, first, last)...)
		}
		slices.Sort(values)
		got, size := NormalOn(f.Start, f.TmeanC, 1991, 2017, civil.OnYearPlace(2023, place)), float64(len(values))
		for p, x := range map[float64]float64{0.2: got.Low, 0.5: got.Median, 0.8: got.High} {
			at := min(max((size+1.0/3)*p+1.0/3, 1), size)
			if want := stat.Quantile(at/size, stat.LinInterp, values, nil); math.Abs(x-want) > 1e-6 {
				t.Fatalf("place %d, %v: %v, gonum %v", place, p, x, want)
			}
		}
		if math.Abs(got.Mean-stat.Mean(values, nil)) > 1e-9 {
			t.Fatalf("place %d: mean %v", place, got.Mean)
		}
	})
}

func TestOwnDesignStanding(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name  string
		value float64
		years []float64
		want  Standing
		share float64
	}{
		{"warmer than nine years in ten", 9.5, []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, Standing{9.5, 10, 9, 0, 1}, 0.9},
		{"the warmest", 11, []float64{1, 2, nan, 4}, Standing{11, 3, 3, 0, 0}, 1},
		{"as always", 5, []float64{5, 5}, Standing{5, 2, 0, 2, 0}, 0.5},
		{"the same but for the last bit", 0.1 + 0.2, []float64{0.3}, Standing{0.1 + 0.2, 1, 0, 1, 0}, 0.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := StandingOf(c.value, c.years)
			assert.Equal(t, c.want, got)
			assert.InDelta(t, c.share, got.Share(), 1e-12)
		})
	}
	assert.Zero(t, StandingOf(nan, []float64{1, 2}).Years)
	assert.True(t, math.IsNaN(StandingOf(1, nil).Share()))
}

func TestOwnDesignSameDays(t *testing.T) {
	start := civil.MustDate(2015, 1, 1)
	col := yearly(start, civil.MustDate(2020, 3, 5), func(d civil.Date) float64 { return float64(d.Year()) })
	mean := agromet.SumRule().Mean
	got := SameDays(start, col, civil.MustDate(2020, 2, 26), civil.MustDate(2020, 3, 3), 2014, mean)
	assert.True(t, math.IsNaN(got[0]), "nothing on file")
	assert.Equal(t, []float64{2015, 2016, 2017, 2018, 2019}, got[1:])
	over := SameDays(start, col, civil.MustDate(2019, 12, 28), civil.MustDate(2020, 1, 3), 2015, mean)
	assert.InDelta(t, 2015+3.0/7, over[0], 1e-9, "over New Year")
	assert.Len(t, over, 4)
	assert.Panics(t, func() { SameDays(start, col, civil.MustDate(2018, 1, 1), civil.MustDate(2019, 1, 5), 2015, mean) })
}
