package agromet

import "math"

// A degree-day total means something only beside the method, the base and the
// start date that its threshold was published with: methods must not be mixed.
//
// All functions here take temperatures, base and ceiling in one and the same
// unit, °C inside the program, and return degree-days of that unit. A ceiling
// of math.Inf(1) is none. A maximum below its minimum gives NaN.

// AverageDegreeDays returns the degree-days of a day above base, from its
// maximum and minimum temperature: the mean less the base, 0 or more. No
// ceiling. "Method 1".
//
// McMaster, G.S., Wilhelm, W.W. (1997), Growing degree-days: one equation, two
// interpretations, Agricultural and Forest Meteorology 87:291–300; checked with
// its Table 1.
func AverageDegreeDays(tmax, tmin, base float64) float64 {
	if !(tmax >= tmin) {
		return math.NaN()
	}
	return max(0, (tmax+tmin)/2-base)
}

// ModifiedDegreeDays returns the degree-days of a day between base and
// ceiling: maximum and minimum are each brought into that range before they
// are averaged. "Method 2"; with 10 and 30 °C (50 and 86 °F) the "modified"
// method of corn and turf.
//
// McMaster and Wilhelm (1997), see [AverageDegreeDays].
func ModifiedDegreeDays(tmax, tmin, base, ceiling float64) float64 {
	if !(tmax >= tmin) {
		return math.NaN()
	}
	return (clamp(tmax, base, ceiling)+clamp(tmin, base, ceiling))/2 - base
}

// SineDegreeDays returns the degree-days of a day between base and ceiling,
// with the temperature running in one sine wave between minimum and maximum,
// cut off horizontally at the ceiling.
//
// Baskerville, G.L., Emin, P. (1969), Rapid estimation of heat accumulation
// from maximum and minimum temperatures, Ecology 50:514–517, with the
// horizontal cutoff of Zalom, F.G., Goodell, P.B., Wilson, L.T., Barnett, W.W.,
// Bentley, W.J. (1983), Degree-days: the calculation and use of heat units in
// pest management, University of California Leaflet 21373; checked with its
// Table 7.
func SineDegreeDays(tmax, tmin, base, ceiling float64) float64 {
	return sineAbove(tmax, tmin, base) - sineAbove(tmax, tmin, ceiling)
}

// sineAbove returns the degree-days of a sine wave above the threshold t. The
// horizontal cutoff is the difference of two of these.
func sineAbove(tmax, tmin, t float64) float64 {
	switch {
	case !(tmax >= tmin) || math.IsNaN(t):
		return math.NaN()
	case tmax <= t:
		return 0
	case tmin >= t:
		return (tmax+tmin)/2 - t
	}
	mean, half := (tmax+tmin)/2, (tmax-tmin)/2
	theta := math.Asin(clamp((t-mean)/half, -1, 1))
	return ((mean-t)*(math.Pi/2-theta) + half*math.Cos(theta)) / math.Pi
}
