package pest

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/weather"
)

// Days is the weather of days as models of risk take it. What stands at a day
// follows from that day and the days before it alone, so that later
// records change nothing: gaps are held for two days, then open.
type Days struct {
	Start    civil.Date
	Observed []bool // both temperatures are on record

	TmaxC, TminC, TmeanC []float64
	RainMM               []float64
	RHPct                []float64 // daily mean, measured or from a measured dew point; else NaN
	RHEstimatedPct       []float64 // from temperature and rain; NaN in winter
	WetH                 []float64 // hours of wetness, measured or from measured humidity; else NaN
	SoilC                []float64 // at 5 cm
	CoverDays            []float64 // days in a row with snow on the ground

	soil weather.SoilFollower // of the day after the last
	gaps [3]int               // days in a row without maximum, minimum and rain

	Young        bool // the lawn is less than a year old
	AllEstimated bool // take the humidity as if none were measured
}

// heldDays is how many missing days in a row are filled: temperatures as the day
// before, rain with none. Own design.
const heldDays = weather.GapMaxDays

// Snow counts as lying from snowCoverMM of depth on. With the air at
// noSnowC or more on average a missing depth is none. Own design.
const (
	snowCoverMM = 25.0
	noSnowC     = 10.0
)

// NewDays makes n days from start on, to be filled by [Days.Put].
func NewDays(start civil.Date, n int) *Days {
	w := &Days{Start: start, Observed: make([]bool, n), soil: weather.FollowSoil(agromet.SoilAt5cm().Start(), math.MaxInt)}
	block := make([]float64, len(w.columns())*n)
	for k, col := range w.columns() {
		*col = block[k*n : (k+1)*n : (k+1)*n]
	}
	return w
}

// RawDay is what is on record, or forecast, of one day; NaN where nothing is.
type RawDay struct {
	TmaxC, TminC, RainMM, RHPct, DewC, WetH, SoilC, SnowMM float64
}

// Put sets day i from the raw day and the days before it. south turns the
// seasons of the estimate of humidity.
func (w *Days) Put(i int, d RawDay, south bool) {
	w.Observed[i] = !math.IsNaN(d.TmaxC) && !math.IsNaN(d.TminC)
	hold := func(x float64, col []float64, gap *int, fill func() float64) {
		if !math.IsNaN(x) {
			*gap = 0
		} else if *gap++; *gap <= heldDays && i > 0 {
			x = fill()
		}
		col[i] = x
	}
	hold(d.TmaxC, w.TmaxC, &w.gaps[0], func() float64 { return w.TmaxC[i-1] })
	hold(d.TminC, w.TminC, &w.gaps[1], func() float64 { return w.TminC[i-1] })
	hold(d.RainMM, w.RainMM, &w.gaps[2], func() float64 { return 0 * w.RainMM[i-1] })
	// One held and one new extreme may be the wrong way round.
	if w.TmaxC[i] < w.TminC[i] {
		if math.IsNaN(d.TmaxC) {
			w.TmaxC[i] = w.TminC[i]
		} else {
			w.TminC[i] = w.TmaxC[i]
		}
	}
	mean := (w.TmaxC[i] + w.TminC[i]) / 2
	w.TmeanC[i] = mean
	w.putHumidity(i, d, south)
	w.SoilC[i], _ = w.soil.Next(mean, d.SoilC)
	w.CoverDays[i] = w.cover(i, d.SnowMM)
}

func (w *Days) putHumidity(i int, d RawDay, south bool) {
	w.RHPct[i] = d.RHPct
	if math.IsNaN(d.RHPct) && !math.IsNaN(d.DewC) {
		w.RHPct[i] = humidityOfDewPoint(w.TmaxC[i], w.TminC[i], d.DewC)
	}
	yesterday := math.NaN()
	if i > 0 {
		yesterday = w.RainMM[i-1]
	}
	w.RHEstimatedPct[i] = math.NaN()
	if !winter(w.Start.AddDays(i).Month(), south) {
		w.RHEstimatedPct[i] = agromet.EstimatedHumidityPct(w.TmaxC[i], w.TminC[i], w.RainMM[i], yesterday)
	}
	w.WetH[i] = d.WetH
	if math.IsNaN(d.WetH) && !math.IsNaN(w.RHPct[i]) {
		dew := d.DewC
		if math.IsNaN(dew) {
			dew = agromet.DewPointC(agromet.VapourPressureFromMeanHumidityKPa(w.TmaxC[i], w.TminC[i], w.RHPct[i]))
		}
		w.WetH[i] = agromet.WetHoursFromDewPoint(w.TmaxC[i], w.TminC[i], dew)
	}
}

// humidityOfDewPoint returns the day's mean humidity, %, from its extremes of
// temperature and its mean dew point, all °C: the mean of the humidities at the
// extremes, the one at the minimum at most 100. Own design with the vapor
// pressure of FAO-56 eq. 11: at New York's LaGuardia airport, summer of 2013, bias
// −0.4 and RMSE 2.0 points. With the minimum for a dew point it is not fit.
func humidityOfDewPoint(tmaxC, tminC, dewC float64) float64 {
	return (min(100, agromet.RelativeHumidityPct(tminC, dewC)) + min(100, agromet.RelativeHumidityPct(tmaxC, dewC))) / 2
}

// winter is when the estimate of humidity, fitted from April to October and not
// for winter, is not used. Own design.
func winter(month int, south bool) bool {
	if south {
		month = (month+5)%12 + 1
	}
	return month == 12 || month <= 2
}

func (w *Days) cover(i int, snowMM float64) float64 {
	before := 0.0
	if i > 0 {
		before = w.CoverDays[i-1]
	}
	switch {
	case snowMM >= snowCoverMM:
		if math.IsNaN(before) {
			before = 0
		}
		return before + 1
	case !math.IsNaN(snowMM), w.TmeanC[i] >= noSnowC:
		return 0
	}
	return math.NaN()
}

// Humidity returns the mean humidity of a day and whether it is an estimate.
func (w *Days) Humidity(i int) (pct float64, estimated bool) {
	if rh := w.RHPct[i]; !w.AllEstimated && !math.IsNaN(rh) {
		return rh, false
	}
	return w.RHEstimatedPct[i], true
}

// columns are the values of the days, column by column.
func (w *Days) columns() [9]*[]float64 {
	return [...]*[]float64{&w.TmaxC, &w.TminC, &w.TmeanC, &w.RainMM, &w.RHPct, &w.RHEstimatedPct, &w.WetH, &w.SoilC, &w.CoverDays}
}

// resize makes the columns n days long, of the length they were made with at most.
func (w *Days) resize(n int) {
	w.Observed = w.Observed[:n]
	for _, col := range w.columns() {
		*col = (*col)[:n]
	}
}
