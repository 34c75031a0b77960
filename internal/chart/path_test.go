package chart

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
)

func points(y ...float64) []Point {
	out := make([]Point, len(y))
	for i := range y {
		out[i] = Point{float64(10 * i), y[i]}
	}
	return out
}

func TestNumber(t *testing.T) {
	for x, want := range map[float64]string{0: "0", -0.04: "0", 12.34: "12.3", 12.36: "12.4", 100: "100", -2.25: "-2.3"} {
		assert.Equal(t, want, Number(x))
	}
}

func TestDays(t *testing.T) {
	s := Days{First: civil.MustDate(2026, 8, 1), Unit: 0.5}
	assert.Equal(t, 0.0, s.At(civil.MustDate(2026, 8, 1)))
	assert.Equal(t, 15.5, s.At(civil.MustDate(2026, 9, 1)))
}

// What is missing is a gap, never a line through it, and never zero.
func TestLineBreaksWhereSomethingIsMissing(t *testing.T) {
	nan := math.NaN()
	assert.Equal(t, "M0 1L10 2L20 3", Line(points(1, 2, 3)))
	assert.Equal(t, "M0 1L10 2M30 4L40 5", Line(points(1, 2, nan, 4, 5)))
	assert.Equal(t, "M10 2h0", Line(points(nan, 2, nan)), "alone it is a dot")
	assert.Empty(t, Line(points(nan, nan)))
	assert.Empty(t, Line(nil))
}

func TestBand(t *testing.T) {
	nan := math.NaN()
	assert.Equal(t, "M0 5L10 6L10 2L0 1Z", Band(points(1, 2), points(5, 6)))
	assert.Equal(t, "M0 5L10 6L10 2L0 1Z", Band(points(1, 2, 3, nan), points(5, 6, nan, 7)), "both edges must be known")
	assert.Empty(t, Band(points(nan, 2, nan), points(5, 6, 7)), "a point alone has no area")
	assert.Empty(t, Band(nil, nil))
}

// Every known point is on the line once, in order, and no other is.
func TestLineHoldsEveryKnownPoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ys := rapid.SliceOf(rapid.OneOf(rapid.Float64Range(-500, 500), rapid.Just(math.NaN()))).Draw(t, "y")
		path := Line(points(ys...))
		require.NotContains(t, path, "NaN")
		var got []float64
		for _, part := range strings.FieldsFunc(path, func(r rune) bool { return r == 'M' || r == 'L' }) {
			_, y, ok := strings.Cut(strings.TrimSuffix(part, "h0"), " ")
			require.True(t, ok)
			v, err := strconv.ParseFloat(y, 64)
			require.NoError(t, err)
			got = append(got, v)
		}
		var want []float64
		for _, y := range ys {
			if !math.IsNaN(y) {
				want = append(want, y)
			}
		}
		require.Len(t, got, len(want))
		for i := range want {
			require.InDelta(t, want[i], got[i], 0.0501)
		}
	})
}
