package agromet

import (
	"math"

	"ligule/internal/quantity"
)

// Defaults of spray weather, for where the label of the product is silent. The
// label is the law.
const (
	// LeastSprayWindMS (3 mph): below it the wind has no steady direction
	// and an inversion is likely (VanGessel 2026, Herbicide drift and
	// temperature, Rutgers and Delaware Extension).
	LeastSprayWindMS = 1.34

	// CautiousSprayWindMS (8 mph) is the conservative upper limit of
	// national pesticide-stewardship guidance; UsualSprayWindMS (10 mph) the
	// usual cut-off of labels (Clemson Extension, Drift Reduction Labeling).
	// Above MostSprayWindMS (15 mph, from memory) no label allows it.
	CautiousSprayWindMS = 3.58
	UsualSprayWindMS    = 4.47
	MostSprayWindMS     = 6.71

	// VaporLossC (85 °F) is where 2,4-D and dicamba, HRAC group 4, begin to
	// be lost as vapor (VanGessel 2026); LabelStopC (90 °F) where many turf
	// labels stop (McCullough, University of Georgia Extension).
	VaporLossC = 29.4
	LabelStopC = 32.2

	// Delta T: drops dry too slowly below LeastDeltaTC, too fast above
	// MostDeltaTC; stop above StopDeltaTC (Wolf, What is Delta T and why is
	// it important for spraying).
	LeastDeltaTC = 2.0
	MostDeltaTC  = 8.0
	StopDeltaTC  = 10.0

	// An inversion is assumed outside the hours from inversionMorningH after
	// sunrise to inversionEveningH before sunset (some labels, as told by
	// NDSU Extension AE1705) under a sky of at most clearSkyPct cloud.
	inversionMorningH = 1.0
	inversionEveningH = 2.0
	clearSkyPct       = 25.0
)

// SprayHour is one hour of a forecast as spraying sees it; NaN is missing. It
// comes from hourly data only: a daily mean says nothing about it.
type SprayHour struct {
	TC            float64 // air temperature, °C
	DeltaTC       float64 // wet-bulb depression, °C, see [DeltaTC]
	WindMS        float64 // wind speed, m s⁻¹
	CloudPct      float64 // total cloud, %
	SinceSunriseH float64 // h since sunrise, negative before it
	ToSunsetH     float64 // h to sunset, negative after it
}

// SprayFault is a set of reasons not to spray in an hour.
type SprayFault uint8

// The reasons.
const (
	SprayTooCalm   SprayFault = 1 << iota // wind below LeastSprayWindMS
	SprayTooWindy                         // wind above the limit given
	SprayInversion                        // an inversion must be assumed
	SprayVaporLoss                        // VaporLossC or more: closes HRAC group 4
	SprayTooHot                           // LabelStopC or more: closes any
	SprayDewLikely                        // Delta T below LeastDeltaTC
	SprayDriesFast                        // Delta T above MostDeltaTC
	SprayDriesAway                        // Delta T above StopDeltaTC
)

// Has reports whether all of the reasons in other are in f.
func (f SprayFault) Has(other SprayFault) bool { return f&other == other }

// SprayFaults returns what speaks against spraying in hour h, with wind up to
// mostWindMS (m s⁻¹; [CautiousSprayWindMS], [UsualSprayWindMS] or the
// label's, but never more than [MostSprayWindMS]). The faults found are sure; known is false when something was
// missing that could have added another. Wind and temperatures are compared at
// one decimal, as they are printed.
func SprayFaults(h SprayHour, mostWindMS float64) (faults SprayFault, known bool) {
	known = !math.IsNaN(h.TC) && !math.IsNaN(h.DeltaTC) && !math.IsNaN(h.WindMS) && !math.IsNaN(mostWindMS)
	wind, t, delta := quantity.Tenths(h.WindMS), quantity.Tenths(h.TC), quantity.Tenths(h.DeltaTC)
	add := func(when bool, f SprayFault) {
		if when {
			faults |= f
		}
	}
	calm := wind < quantity.Tenths(LeastSprayWindMS)
	add(calm, SprayTooCalm)
	add(wind > quantity.Tenths(min(mostWindMS, MostSprayWindMS)), SprayTooWindy)
	add(t >= quantity.Tenths(VaporLossC), SprayVaporLoss)
	add(t >= quantity.Tenths(LabelStopC), SprayTooHot)
	add(delta < LeastDeltaTC, SprayDewLikely)
	add(delta > MostDeltaTC, SprayDriesFast)
	add(delta > StopDeltaTC, SprayDriesAway)

	// An inversion needs calm, a clear sky and a low sun. It is ruled out by
	// any of them failing, and unknown only while none has.
	highSun := h.SinceSunriseH >= inversionMorningH && h.ToSunsetH >= inversionEveningH
	lowSun := h.SinceSunriseH < inversionMorningH || h.ToSunsetH < inversionEveningH
	switch {
	case wind >= quantity.Tenths(LeastSprayWindMS) || h.CloudPct > clearSkyPct || highSun:
	case calm && h.CloudPct <= clearSkyPct && lowSun:
		faults |= SprayInversion
	default:
		known = false
	}
	return faults, known
}
