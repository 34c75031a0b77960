package agromet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// fitHour returns an hour in which nothing speaks against spraying, changed.
func fitHour(change func(*SprayHour)) SprayHour {
	h := SprayHour{TC: 22, DeltaTC: 5, WindMS: 2.2, CloudPct: 40, SinceSunriseH: 3, ToSunsetH: 8}
	change(&h)
	return h
}

func TestPublishedSprayWeather(t *testing.T) {
	mph := func(v float64) float64 { return v * 0.44704 }
	check(t, "limits of spray weather", []row{
		{"3 mph (VanGessel 2026)", read, mph(3), 0.003, LeastSprayWindMS},
		{"8 mph (pesticide-stewardship guidance)", read, mph(8), 0.005, CautiousSprayWindMS},
		{"10 mph (Clemson Extension)", read, mph(10), 0.005, UsualSprayWindMS},
		{"15 mph", memory, mph(15), 0.005, MostSprayWindMS},
		{"85 °F (VanGessel 2026)", read, celsius(85), 0.05, VaporLossC},
		{"90 °F (McCullough)", read, celsius(90), 0.05, LabelStopC},
	})
	for _, r := range []struct {
		publication, says string
		change            func(*SprayHour)
		want              SprayFault
	}{
		{"VanGessel 2026", "a fit hour", func(h *SprayHour) {}, 0},
		{"VanGessel 2026", "wind of 3 mph is enough", func(h *SprayHour) { h.WindMS = mph(3) }, 0},
		{"VanGessel 2026", "wind of 2.5 mph is too calm", func(h *SprayHour) { h.WindMS = mph(2.5) }, SprayTooCalm},
		{"pesticide-stewardship guidance", "wind of 8 mph is the cautious limit", func(h *SprayHour) { h.WindMS = mph(8) }, 0},
		{"pesticide-stewardship guidance", "wind of 9 mph is above it", func(h *SprayHour) { h.WindMS = mph(9) }, SprayTooWindy},
		{"VanGessel 2026", "85 °F loses group 4 as vapor", func(h *SprayHour) { h.TC = celsius(85) }, SprayVaporLoss},
		{"McCullough, UGA", "90 °F stops", func(h *SprayHour) { h.TC = celsius(90) }, SprayVaporLoss | SprayTooHot},
		{"Wolf, Delta T", "1.9 °C: drops live long", func(h *SprayHour) { h.DeltaTC = 1.9 }, SprayDewLikely},
		{"Wolf, Delta T", "2 °C is good", func(h *SprayHour) { h.DeltaTC = 2 }, 0},
		{"Wolf, Delta T", "8 °C is good", func(h *SprayHour) { h.DeltaTC = 8 }, 0},
		{"Wolf, Delta T", "9 °C is poor", func(h *SprayHour) { h.DeltaTC = 9 }, SprayDriesFast},
		{"Wolf, Delta T", "10.1 °C stops", func(h *SprayHour) { h.DeltaTC = 10.1 }, SprayDriesFast | SprayDriesAway},
		{"NDSU AE1705", "calm and clear before sunset is an inversion",
			func(h *SprayHour) { h.WindMS, h.CloudPct, h.SinceSunriseH, h.ToSunsetH = 1, 10, 12, 1 }, SprayTooCalm | SprayInversion},
		{"NDSU AE1705", "calm and clear half an hour after sunrise is an inversion",
			func(h *SprayHour) { h.WindMS, h.CloudPct, h.SinceSunriseH, h.ToSunsetH = 1, 25, 0.5, 13 }, SprayTooCalm | SprayInversion},
		{"NDSU AE1705", "calm at night under cloud is none",
			func(h *SprayHour) { h.WindMS, h.CloudPct, h.SinceSunriseH, h.ToSunsetH = 1, 25.1, -4, 18 }, SprayTooCalm},
		{"NDSU AE1705", "calm and clear from one hour after sunrise is none",
			func(h *SprayHour) { h.WindMS, h.CloudPct, h.SinceSunriseH, h.ToSunsetH = 1, 10, 1, 12 }, SprayTooCalm},
		{"NDSU AE1705", "calm and clear until two hours before sunset is none",
			func(h *SprayHour) { h.WindMS, h.CloudPct, h.SinceSunriseH, h.ToSunsetH = 1, 10, 11, 2 }, SprayTooCalm},
		{"NDSU AE1705", "calm and clear at noon is none",
			func(h *SprayHour) { h.WindMS, h.CloudPct = 1, 0 }, SprayTooCalm},
	} {
		t.Run(r.publication+": "+r.says+" (read)", func(t *testing.T) {
			faults, known := SprayFaults(fitHour(r.change), CautiousSprayWindMS)
			assert.Equal(t, r.want, faults)
			assert.True(t, known)
		})
	}
}

func TestOwnDesignSprayWeatherWithGaps(t *testing.T) {
	nan := math.NaN()
	for _, r := range []struct {
		says   string
		change func(*SprayHour)
		want   SprayFault
		known  bool
	}{
		{"calm at night with the cloud missing is unknown",
			func(h *SprayHour) { h.WindMS, h.CloudPct, h.SinceSunriseH, h.ToSunsetH = 1, nan, -4, 18 }, SprayTooCalm, false},
		{"windy with the cloud missing is known", func(h *SprayHour) { h.CloudPct = nan }, 0, true},
		{"a missing wind is unknown", func(h *SprayHour) { h.WindMS = nan }, 0, false},
		{"a fault is sure though the wind is missing", func(h *SprayHour) { h.WindMS, h.TC = nan, 35 }, SprayVaporLoss | SprayTooHot, false},
	} {
		t.Run(r.says, func(t *testing.T) {
			faults, known := SprayFaults(fitHour(r.change), CautiousSprayWindMS)
			assert.Equal(t, r.want, faults)
			assert.Equal(t, r.known, known)
		})
	}
	windy := fitHour(func(h *SprayHour) { h.WindMS = 7 })
	faults, _ := SprayFaults(windy, 9)
	assert.Equal(t, SprayTooWindy, faults, "no label lifts the wind limit above 15 mph")
	assert.True(t, (SprayTooCalm | SprayInversion).Has(SprayInversion))
	assert.False(t, SprayTooCalm.Has(SprayTooCalm|SprayInversion))
}
