package synth

import "math"

// Wave is a value that swings once, and if Amp2 is set twice, in a year.
type Wave struct {
	Mean  float64
	Amp   float64 // half the distance from trough to peak
	Peak  float64 // day of the year (1 to 366) of the peak
	Amp2  float64 // the same for a swing of half a year
	Peak2 float64
}

// yearDays makes the wave of 1 January follow that of 31 December without a
// step that grows over the leap years.
const yearDays = 365.25

// At returns the value on a day of the year, 1 to 366: the harmonic series of
// Richardson (1981), written with peaks in place of phase angles.
func (w Wave) At(yearDay int) float64 {
	t := 2 * math.Pi * float64(yearDay) / yearDays
	v := w.Mean + w.Amp*math.Cos(t-2*math.Pi*w.Peak/yearDays)
	if w.Amp2 != 0 {
		v += w.Amp2 * math.Cos(2*t-4*math.Pi*w.Peak2/yearDays)
	}
	return v
}

// Plus returns the wave raised by a constant.
func (w Wave) Plus(offset float64) Wave {
	w.Mean += offset
	return w
}

// Sum returns the wave that is v + w on every day. Waves of one length add as
// arrows do: by length and direction.
func (w Wave) Sum(v Wave) Wave {
	sum := Wave{Mean: w.Mean + v.Mean}
	sum.Amp, sum.Peak = addArrows(w.Amp, w.Peak, v.Amp, v.Peak, yearDays)
	sum.Amp2, sum.Peak2 = addArrows(w.Amp2, w.Peak2, v.Amp2, v.Peak2, yearDays/2)
	return sum
}

func addArrows(amp, peak, amp2, peak2, period float64) (length, direction float64) {
	sin, cos := math.Sincos(2 * math.Pi * peak / period)
	sin2, cos2 := math.Sincos(2 * math.Pi * peak2 / period)
	x, y := amp*cos+amp2*cos2, amp*sin+amp2*sin2
	return math.Hypot(x, y), math.Atan2(y, x) * period / (2 * math.Pi)
}
