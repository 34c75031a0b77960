package pest

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestOwnDesignWinterHasNoEstimateOfHumidity(t *testing.T) {
	for _, c := range []struct {
		month int
		south bool
		want  bool
	}{{12, false, true}, {1, false, true}, {2, false, true}, {3, false, false}, {11, false, false}, {6, true, true}, {8, true, true}, {1, true, false}, {9, true, false}} {
		assert.Equal(t, c.want, winter(c.month, c.south), "%+v", c)
	}
}
