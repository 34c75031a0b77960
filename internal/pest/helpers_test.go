package pest

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

var nan = math.NaN()

// near compares with a tolerance; NaN equals NaN.
func near(t *testing.T, want, got, tolerance float64, of ...any) {
	t.Helper()
	if math.IsNaN(want) {
		assert.True(t, math.IsNaN(got), append([]any{"%v is a number"}, got)...)
		return
	}
	assert.InDelta(t, want, got, tolerance, of...)
}
