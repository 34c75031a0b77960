package weather

import "math"

// limits returns the bounds of what a daily value can be, in the column's unit.
// What lies outside is an error of writing or of an instrument. The bounds are
// common practice, no source: wide enough for every record value of the United
// States, narrow enough to catch a wrong unit or a slipped decimal point.
func (c Column) limits() (low, high float64) {
	switch c {
	case TmaxC, TminC, DewC:
		return -60, 60
	case Soil5C, Soil10C:
		return -30, 60
	case RainMM:
		return 0, 1000
	case RHMeanPct, RHMaxPct, RHMinPct, CloudPct:
		return 0, 100
	case WindMS:
		return 0, 60
	case GustMS:
		return 0, 120
	case SunH, WetH:
		return 0, 24
	case SolarMJ:
		return 0, 45
	case SnowMM:
		return 0, 2500
	case SnowDepthMM:
		return 0, 12500
	}
	return math.NaN(), math.NaN()
}

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
