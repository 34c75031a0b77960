package pest

import "math"

// NutterWarning reports whether a day that runs from noon to noon favored
// Pythium blight: a maximum above 30 °C, then 14 hours or more with a relative
// humidity above 90 %, with a minimum above 20 °C. Known is false when what is
// missing could change the answer.
//
// Nutter, Cole & Schein 1983, Plant Disease 67:1126–1128: bentgrass in
// Pennsylvania, 1978 to 1980.
func NutterWarning(tmaxC, tminNextC, humidH float64) (warns, known bool) {
	return allAbove([]bool{tmaxC > 30, tminNextC > 20, humidH >= 14}, tmaxC, tminNextC, humidH)
}

// ShortPythiumWarning is the short form in use in Ohio: a maximum above 82 °F, a
// minimum above 68 °F and nine hours or more of high humidity (above 90 %, from
// memory).
//
// Listed by Vincelli, University of Kentucky, among the published models of turf
// diseases; that it is of Hall, Larsen & Schmitthenner 1980 is from memory.
func ShortPythiumWarning(tmaxC, tminC, humidH float64) (warns, known bool) {
	return allAbove([]bool{tmaxC > shortPythiumMaxC, tminC > 20, humidH >= 9}, tmaxC, tminC, humidH)
}

// shortPythiumMaxC is 82 °F.
const shortPythiumMaxC = (82.0 - 32) * 5 / 9

// allAbove is whether all hold, known where none is missing or one fails.
func allAbove(holds []bool, values ...float64) (all, known bool) {
	all, known = true, true
	for i, x := range values {
		switch {
		case math.IsNaN(x):
			all, known = false, false
		case !holds[i]:
			return false, true
		}
	}
	return all, known
}

// pythiumModel is a stand-in for days: which hours were humid is not known.
// Nutter's limits of temperature, with the humidity of two days or their rain in
// place of humid hours. Own design.
type pythiumModel struct {
	dayC, nightC         float64 // both to be passed, °C
	humidPct, wetMM      float64 // two-day mean humidity, two-day rain
	mildDayC, mildNightC float64 // both to be reached for the milder rule, °C
	mildWetMM            float64 // with so much rain in two days
	wet, warm            float64 // risk with humidity or rain, and without or by the milder rule
}

// The day runs from noon to noon: the maximum is of the day before.
func (m *pythiumModel) day(w *dayColumns, i int) dayRisk {
	if i < 1 {
		return unknownRisk(lacksTemperature)
	}
	tmax, tmin := w.tmaxC[i-1], w.tminC[i]
	rain := w.rainMM[i-1] + w.rainMM[i]
	rh := (w.rhPct[i-1] + w.rhPct[i]) / 2
	switch {
	case math.IsNaN(tmax + tmin):
		return unknownRisk(lacksTemperature)
	case tmax > m.dayC && tmin > m.nightC:
		switch {
		case rh >= m.humidPct || rain >= m.wetMM:
			return dayRisk{m.wet, 0}
		case math.IsNaN(rain):
			return unknownRisk(lacksRain)
		}
		return dayRisk{m.warm, 0}
	case !(tmax >= m.mildDayC && tmin >= m.mildNightC):
		return dayRisk{0, 0}
	case math.IsNaN(rain):
		return unknownRisk(lacksRain)
	case rain >= m.mildWetMM:
		return dayRisk{m.warm, 0}
	}
	return dayRisk{0, 0}
}
