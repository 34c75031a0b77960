package stage

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/message"
)

// Sum is a sum of warmth as it is said: degree-days in both units, or warm days.
func Sum(x float64, m agromet.DegreeDayMethod) message.Value {
	if m == agromet.WarmDaysMethod && !math.IsNaN(x) {
		return message.Of(message.New("pests.sum.warm").With("n", message.Number(x, 0)))
	}
	return message.DegreeDays(x)
}
