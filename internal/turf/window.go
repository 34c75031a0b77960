package turf

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

// use says which days of a window count: one bit per basis.
type use uint8

// What may count: a filled day is no observation, though it may stand in a
// hole of the forecast.
const (
	observedDays use = 1 << weather.Observed
	forecastDays use = 1<<weather.ForecastDay | 1<<weather.Estimated
	knownDays    use = observedDays | forecastDays
)

func (u use) takes(b weather.Basis) bool { return u>>b&1 == 1 }

// window is the plain content of 7 days. Each mean is NaN with fewer than
// five days to make it of.
type window struct {
	days                        int // valid days
	meanC, dayLengthH, lightMol float64
	soil5C, soil10C             float64
	ft, fl, fp, fw              float64
	rainMM, etMM                float64
}

// index returns the place of a day in the slices; it may lie outside.
func (d *Daily) index(date civil.Date) int { return int(date - d.Felt.Start) }

// validDays calls visit with each valid day of the window that ends with day last.
func (d *Daily) validDays(last int, u use, visit func(i int)) {
	for i := max(0, last-weather.WindowDays+1); i <= min(last, len(d.basis)-1); i++ {
		if u.takes(d.basis[i]) {
			visit(i)
		}
	}
}

// window works out the 7 days that end with day last.
func (d *Daily) window(last int, u use) window {
	f, p := d.Felt, d.Profile
	rain := f.View.Days.Col(weather.RainMM)
	var w window
	var t, hours, light, soil5, soil10, fl, fp, fw, rainMM, et agromet.Known
	d.validDays(last, u, func(i int) {
		w.days++
		t.Add(f.TmeanC[i])
		hours.Add(f.DaylightH[i])
		light.Add(f.LightMol[i])
		soil5.Add(f.Soil5C[i])
		soil10.Add(f.Soil10C[i])
		fl.Add(lightFactor(p, f.LightMol[i]))
		fp.Add(dayLengthFactor(p, f.DaylightH[i]))
		fw.Add(d.FW[i])
		et.Add(f.ETMM[i])
		if rain != nil && u.takes(f.View.Basis(weather.RainMM, f.Start.AddDays(i))) {
			rainMM.Add(rain[i])
		}
	})
	const least = weather.WindowValid
	w.meanC, w.dayLengthH, w.lightMol = t.Mean(least), hours.Mean(least), light.Mean(least)
	w.soil5C, w.soil10C = soil5.Mean(least), soil10.Mean(least)
	w.ft = temperatureFactor(p, w.meanC)
	w.fl, w.fp, w.fw = fl.Mean(least), fp.Mean(least), fw.Mean(least)
	w.rainMM, w.etMM = rainMM.Total(least), et.Total(least)
	return w
}

// index returns the growth index of the window.
func (w window) index(watered bool) float64 {
	if watered {
		return w.ft * w.fl * w.fp
	}
	return w.ft * w.fl * w.fp * w.fw
}

// asleep reports whether the soil, or without it the air, is too cold for the
// grass, and which of the two said so.
func (w window) asleep(p *Profile) (why DormantCause, asleep bool) {
	if !math.IsNaN(w.soil10C) {
		return ColdSoil, quantity.Thousandths(w.soil10C) < quantity.Thousandths(p.SoilDormantC)
	}
	return ColdAir, quantity.Thousandths(w.meanC) < quantity.Thousandths(p.SoilDormantC)
}

// setBack reports whether a freeze of 28 °F or less fell on green warm-season
// turf between January and June within the window that ends with day last.
// Green means that the soil has once been warm enough for green-up since 1
// January and is not cold enough for dormancy. Own design; that hard April
// freezes send greening lawns back to half-sleep was seen in North Carolina in
// 2015 and 2016 (NC State University, turf alerts).
func (d *Daily) setBack(last int, u use) bool {
	tmin := d.Felt.View.Days.Col(weather.TminC)
	if d.Profile.Kind != WarmSeason || tmin == nil {
		return false
	}
	set := false
	d.validDays(last, u, func(i int) {
		if i > 0 && d.greenedUp[i-1] && agromet.ClassifyFrost(tmin[i]) == agromet.HardFreeze &&
			quantity.Thousandths(d.rootZoneC[i-1]) >= quantity.Thousandths(d.Profile.SoilDormantC) && d.Felt.Start.AddDays(i).Month() <= 6 {
			set = true
		}
	})
	return set
}

// growthIndex returns the index of the window that ends with day last, halved
// while the grass is set back.
func (d *Daily) growthIndex(last int, u use, watered bool) float64 {
	g := d.window(last, u).index(watered)
	if d.setBack(last, u) {
		g *= setBackShare
	}
	return g
}

// IndexOn returns the growth index of the 7 days that end with last, from all
// that is known of them, be it observed, filled or forecast: for pictures and
// the dates of events. NaN with fewer than five days known.
func (d *Daily) IndexOn(last civil.Date, watered bool) float64 {
	return d.growthIndex(d.index(last), knownDays, watered)
}
