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

// Says is the threshold as its source gives it: "8 to 15 per ft2".
func (t Threshold) Says() message.Value {
	between := func(low, high message.Value) message.Value {
		return message.Of(message.New("pests.days").With("from", low).With("to", high))
	}
	switch {
	case t.Low == t.High:
		return t.Low.per(message.Figure(t.Low.Count))
	case t.Low.Area == t.High.Area && t.Low.Areas == t.High.Areas:
		return t.Low.per(between(message.Figure(t.Low.Count), message.Figure(t.High.Count)))
	}
	return between(t.Low.per(message.Figure(t.Low.Count)), t.High.per(message.Figure(t.High.Count)))
}

// per is a count over the area of the density.
func (d Density) per(count message.Value) message.Value {
	m := message.New("pests.per").With("count", count).Name("area", d.Area)
	if d.Areas != 1 {
		m.Code = "pests.per_areas"
		m = m.With("n", message.Figure(d.Areas))
	}
	return message.Of(m)
}
