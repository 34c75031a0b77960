package weather

import "math"

// The years that a record may be of; others are slips of the pen.
const (
	firstYear = 1800
	lastYear  = 2199
)

// agree reports whether two values can be one observation: equal at the
// precision that the files keep, or one of them the other rounded to tenths, as
// archives round what was observed in °F and hundredths of an inch.
func agree(a, b float64) bool {
	x, y := math.Round(a*100), math.Round(b*100)
	tenths := func(n float64) float64 { return math.Round(n/10) * 10 }
	return x == y || x == tenths(y) || y == tenths(x)
}
