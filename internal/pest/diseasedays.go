package pest

import (
	"math"
	"slices"
	"sync"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// dayColumns is the weather of days as the disease models take it. What stands
// at a day follows from that day and the days before it alone, so that later
// records change nothing: gaps are held for two days, then open.
type dayColumns struct {
	start    civil.Date
	observed []bool // both temperatures are on record

	tmaxC, tminC, tmeanC []float64
	rainMM               []float64
	rhPct                []float64 // daily mean, measured or from a measured dew point; else NaN
	rhEstimatedPct       []float64 // from temperature and rain; NaN in winter
	wetH                 []float64 // hours of wetness, measured or from measured humidity; else NaN
	soilC                []float64 // at 5 cm
	coverDays            []float64 // days in a row with snow on the ground

	soil soilFollower // of the day after the last

	young        bool // the lawn is less than a year old
	allEstimated bool // take the humidity as if none were measured
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

func newDayColumns(start civil.Date, n int) *dayColumns {
	block := make([]float64, 9*n)
	next := func() (col []float64) {
		col, block = block[:n:n], block[n:]
		return col
	}
	return &dayColumns{
		start: start, observed: make([]bool, n),
		tmaxC: next(), tminC: next(), tmeanC: next(), rainMM: next(),
		rhPct: next(), rhEstimatedPct: next(), wetH: next(), soilC: next(), coverDays: next(),
	}
}

// rawDay is what is on record, or forecast, of one day; NaN where nothing is.
type rawDay struct {
	tmaxC, tminC, rainMM, rhPct, dewC, wetH, soilC, snowMM float64
}

// put sets day i from the raw day and the days before it. south turns the
// seasons of the estimate of humidity.
func (w *dayColumns) put(i int, d rawDay, south bool) {
	w.observed[i] = !math.IsNaN(d.tmaxC) && !math.IsNaN(d.tminC)
	hold := func(x float64, col []float64, gap *int, fill func() float64) {
		if !math.IsNaN(x) {
			*gap = 0
		} else if *gap++; *gap <= heldDays && i > 0 {
			x = fill()
		}
		col[i] = x
	}
	s := &w.soil
	hold(d.tmaxC, w.tmaxC, &s.gaps[0], func() float64 { return w.tmaxC[i-1] })
	hold(d.tminC, w.tminC, &s.gaps[1], func() float64 { return w.tminC[i-1] })
	hold(d.rainMM, w.rainMM, &s.gaps[2], func() float64 { return 0 * w.rainMM[i-1] })
	// One held and one new extreme may be the wrong way round.
	if w.tmaxC[i] < w.tminC[i] {
		if math.IsNaN(d.tmaxC) {
			w.tmaxC[i] = w.tminC[i]
		} else {
			w.tminC[i] = w.tmaxC[i]
		}
	}
	mean := (w.tmaxC[i] + w.tminC[i]) / 2
	w.tmeanC[i] = mean
	w.putHumidity(i, d, south)
	w.soilC[i] = s.next(i, mean, d.soilC)
	w.coverDays[i] = w.cover(i, d.snowMM)
}

func (w *dayColumns) putHumidity(i int, d rawDay, south bool) {
	w.rhPct[i] = d.rhPct
	if math.IsNaN(d.rhPct) && !math.IsNaN(d.dewC) {
		w.rhPct[i] = humidityOfDewPoint(w.tmaxC[i], w.tminC[i], d.dewC)
	}
	yesterday := math.NaN()
	if i > 0 {
		yesterday = w.rainMM[i-1]
	}
	w.rhEstimatedPct[i] = math.NaN()
	if !winter(w.start.AddDays(i).Month(), south) {
		w.rhEstimatedPct[i] = agromet.EstimatedHumidityPct(w.tmaxC[i], w.tminC[i], w.rainMM[i], yesterday)
	}
	w.wetH[i] = d.wetH
	if math.IsNaN(d.wetH) && !math.IsNaN(w.rhPct[i]) {
		dew := d.dewC
		if math.IsNaN(dew) {
			dew = agromet.DewPointC(agromet.VapourPressureFromMeanHumidityKPa(w.tmaxC[i], w.tminC[i], w.rhPct[i]))
		}
		w.wetH[i] = agromet.WetHoursFromDewPoint(w.tmaxC[i], w.tminC[i], dew)
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

func (w *dayColumns) cover(i int, snowMM float64) float64 {
	before := 0.0
	if i > 0 {
		before = w.coverDays[i-1]
	}
	switch {
	case snowMM >= snowCoverMM:
		if math.IsNaN(before) {
			before = 0
		}
		return before + 1
	case !math.IsNaN(snowMM), w.tmeanC[i] >= noSnowC:
		return 0
	}
	return math.NaN()
}

// humidity returns the mean humidity of a day and whether it is an estimate.
func (w *dayColumns) humidity(i int) (pct float64, estimated bool) {
	if rh := w.rhPct[i]; !w.allEstimated && !math.IsNaN(rh) {
		return rh, false
	}
	return w.rhEstimatedPct[i], true
}

// weekMeanC returns the mean air temperature of the seven days that end with i,
// from five known days on.
func (w *dayColumns) weekMeanC(i int) float64 {
	if i < scoreDays-1 {
		return math.NaN()
	}
	return ObservedScore(w.tmeanC[i-scoreDays+1 : i+1])
}

// soilOrAirC returns the soil temperature, or where there is none the mean air
// temperature of the week.
func (w *dayColumns) soilOrAirC(i int) float64 {
	if s := w.soilC[i]; !math.IsNaN(s) {
		return s
	}
	return w.weekMeanC(i)
}

// soilFollower carries the soil temperature at 5 cm from day to day, as package
// weather does: a probe's reading where there is one, else the model, moved by
// its mean error at the probe over the last seven readings if all of them are
// of the last two weeks. It also counts the gaps.
type soilFollower struct {
	s      float64
	run    int
	errors [7]float64
	at     [7]int
	count  int
	gaps   [3]int // days in a row without maximum, minimum and rain
}

const probeMaxAgeDays = 14

func (f *soilFollower) next(i int, meanC, probeC float64) float64 {
	if i == 0 {
		f.s = math.NaN()
	}
	f.s = agromet.SoilAt5cm().Next(f.s, meanC)
	f.run++
	if math.IsNaN(meanC) {
		f.run = 0
	}
	modeled := math.NaN()
	if f.run > agromet.SoilSpinUpDays {
		modeled = agromet.SoilC(f.s)
	}
	k := f.count % len(f.errors)
	switch {
	case !math.IsNaN(probeC):
		if !math.IsNaN(modeled) {
			f.errors[k], f.at[k] = probeC-modeled, i
			f.count++
		}
		return probeC
	case f.count >= len(f.errors) && f.at[k] >= i-probeMaxAgeDays:
		sum := 0.0
		for _, e := range f.errors {
			sum += e
		}
		return modeled + sum/float64(len(f.errors))
	}
	return modeled
}

// shared is what all pests of one input look at. It is made once.
type shared struct {
	once sync.Once
	days *dayColumns // up to the day before the issue
	// Of each issue from the first on, a week apart: the place of the issue
	// date among the days, and the state of the grass.
	issues   []issueWeek
	ahead    []weather.Forecast // in order of issue
	measured bool               // any humidity was
	south    bool               // of the equator
}

// issueWeek is one issue of the stepping.
type issueWeek struct {
	at       int // days before the issue date
	state    turf.State
	morning  bool              // the last day was not yet complete
	forecast *weather.Forecast // nil: none on file
}

// look returns what the input shares, or nil if it holds no day before its issue.
func (in *Input) look() *shared {
	s := &in.shared
	s.once.Do(func() { s.prepare(in) })
	if s.days == nil {
		return nil
	}
	return s
}

func (s *shared) prepare(in *Input) {
	if in.Felt == nil {
		return
	}
	v := in.Felt.View
	n := min(int(in.Issue-in.Felt.Start), v.Days.Len())
	if n < scoreDays {
		return
	}
	// Only what was observed counts, column by column.
	observed := func(c weather.Column) func(i int) float64 {
		col := v.Days.Col(c)
		if col == nil {
			return func(int) float64 { return math.NaN() }
		}
		return func(i int) float64 {
			if x := col[i]; math.IsNaN(x) || v.Basis(c, in.Felt.Start.AddDays(i)) != weather.Observed {
				return math.NaN()
			}
			return col[i]
		}
	}
	tmax, tmin, rain := observed(weather.TmaxC), observed(weather.TminC), observed(weather.RainMM)
	rh, dew, wet := observed(weather.RHMeanPct), observed(weather.DewC), observed(weather.WetH)
	soil, snow := observed(weather.Soil5C), observed(weather.SnowDepthMM)
	s.south = v.Station.LatitudeDeg < 0
	w := newDayColumns(in.Felt.Start, n)
	w.young = in.YoungStand
	for i := range n {
		w.put(i, rawDay{tmax(i), tmin(i), rain(i), rh(i), dew(i), wet(i), soil(i), snow(i)}, s.south)
		s.measured = s.measured || !math.IsNaN(w.rhPct[i])
	}
	s.days = w
	s.ahead = in.forecasts()
	for at := n % scoreDays; at <= n; at += scoreDays {
		if at == 0 {
			continue
		}
		issue := w.start.AddDays(at)
		week := issueWeek{at: at, morning: v.Station.ObsTimeOn(issue.AddDays(-1)) == weather.Morning, forecast: newestFor(s.ahead, issue)}
		if in.Daily != nil {
			// As of the last complete day: how short gaps at the end of a record
			// are filled is not settled before they close.
			last := at - 1
			if week.morning {
				last--
			}
			for k := 0; k < heldDays && last >= 0 && (!w.observed[last] || math.IsNaN(rain(last))); k++ {
				last--
			}
			week.state = in.Daily.StateAt(w.start.AddDays(last + 1))
		}
		s.issues = append(s.issues, week)
	}
}

// forecasts returns those to step with, in order of issue.
func (in *Input) forecasts() []weather.Forecast {
	v := in.Felt.View
	if in.Forecasts == nil {
		if v.ForecastIssued.IsZero() || v.IssueDate != in.Issue {
			return nil
		}
		days := weather.NewSeries(in.Issue, scoreDays)
		for _, c := range aheadColumns() {
			for d := in.Issue; d < in.Issue.AddDays(scoreDays); d++ {
				if v.Basis(c, d) == weather.ForecastDay {
					days.Set(c, d, v.Days.At(c, d))
				}
			}
		}
		return []weather.Forecast{{Issued: v.ForecastIssued, Days: days}}
	}
	sorted := slices.Clone(in.Forecasts)
	slices.SortStableFunc(sorted, func(a, b weather.Forecast) int { return int(a.Issued - b.Issued) })
	return sorted
}

func aheadColumns() []weather.Column {
	return []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM, weather.RHMeanPct, weather.DewC, weather.WetH, weather.SnowDepthMM}
}

// forecastMaxAgeDays is how old a forecast may be at the issue date.
const forecastMaxAgeDays = 2

// newestFor returns the newest forecast that the issue may see, of two issued on
// one day the first; or nil.
func newestFor(sorted []weather.Forecast, issue civil.Date) *weather.Forecast {
	var best *weather.Forecast
	from, _ := slices.BinarySearchFunc(sorted, issue.AddDays(-forecastMaxAgeDays), func(f weather.Forecast, d civil.Date) int { return int(f.Issued - d) })
	for i := from; i < len(sorted) && sorted[i].Issued <= issue; i++ {
		if sorted[i].Days != nil && (best == nil || sorted[i].Issued > best.Issued) {
			best = &sorted[i]
		}
	}
	return best
}

// backDays is how many days before an issue the models may look at when they
// step into a forecast.
const backDays = 14

// resize makes the columns n days long, of the length they were made with at most.
func (w *dayColumns) resize(n int) {
	w.observed = w.observed[:n]
	for _, col := range [...]*[]float64{&w.tmaxC, &w.tminC, &w.tmeanC, &w.rainMM, &w.rhPct, &w.rhEstimatedPct, &w.wetH, &w.soilC, &w.coverDays} {
		*col = (*col)[:n]
	}
}

// intoForecast fills w, made for backDays and a week, with the days before an
// issue, as they stood on its date, and seven of its forecast. It returns the
// place of the issue date in it.
func (s *shared) intoForecast(w *dayColumns, week issueWeek) (at int) {
	from := max(0, week.at-backDays)
	full := s.days
	at = week.at - from
	w.start, w.young = full.start.AddDays(from), full.young
	w.resize(at + scoreDays)
	for _, c := range [...]struct{ to, from []float64 }{
		{w.tmaxC, full.tmaxC}, {w.tminC, full.tminC}, {w.tmeanC, full.tmeanC}, {w.rainMM, full.rainMM},
		{w.rhPct, full.rhPct}, {w.rhEstimatedPct, full.rhEstimatedPct}, {w.wetH, full.wetH},
		{w.soilC, full.soilC}, {w.coverDays, full.coverDays},
	} {
		copy(c.to, c.from[from:week.at])
	}
	copy(w.observed, full.observed[from:week.at])
	w.soil = s.soilBefore(week, from)
	day := func(d civil.Date) rawDay {
		at := week.forecast.Days.At
		return rawDay{at(weather.TmaxC, d), at(weather.TminC, d), at(weather.RainMM, d), at(weather.RHMeanPct, d),
			at(weather.DewC, d), at(weather.WetH, d), math.NaN(), at(weather.SnowDepthMM, d)}
	}
	first := at
	if week.morning && at > 0 {
		// Its maximum and rain were booked on the issue date only.
		first--
		d := day(w.start.AddDays(first))
		d.tminC = full.tminC[week.at-1]
		w.put(first, d, s.south)
	}
	for i := at; i < at+scoreDays; i++ {
		w.put(i, day(w.start.AddDays(i)), s.south)
	}
	return at
}

// soilBefore returns the follower of the soil before the first day that is not
// as it stands in the full record.
func (s *shared) soilBefore(week issueWeek, from int) soilFollower {
	n := week.at - from
	if week.morning && n > 0 {
		n--
	}
	f := soilFollower{s: math.NaN(), run: agromet.SoilSpinUpDays}
	if n > 0 {
		// What the model adds to the air of a day is all that it knows of the past.
		f.s = s.days.soilC[from+n-1] - agromet.SoilC(0)
		if math.IsNaN(f.s) {
			f.run = 0
		}
	}
	return f
}
