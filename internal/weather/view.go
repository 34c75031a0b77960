package weather

import (
	"math"
	"slices"

	"ligule/internal/civil"
)

// Forecast is one forecast as it was on the day it was issued.
type Forecast struct {
	Issued civil.Date
	Days   *Series
}

const (
	// forecastMaxAgeDays is how old a forecast may be at the issue date.
	forecastMaxAgeDays = 2

	// viewAheadDays is how many days from the issue date on a view always has;
	// forecastMaxDays is how many it may have if the forecast reaches further.
	viewAheadDays   = 7
	forecastMaxDays = 16

	// GapMaxDays is the longest run of missing days that is filled, and that a
	// sum over days or a water balance survives. Own design.
	GapMaxDays = 2
)

// Basis says where a value comes from.
type Basis uint8

// The bases.
const (
	Missing     Basis = iota // nothing is known
	Observed                 // recorded at the station
	Estimated                // a short gap, filled
	ForecastDay              // from the forecast, on or after the issue date
)

// String returns "missing", "observed", "estimated" or "forecast".
func (b Basis) String() string {
	return [...]string{"missing", "observed", "estimated", "forecast"}[b]
}

// View is the weather of one station as one issue may see it. It is not
// changed after AsOf has made it, and may be shared.
type View struct {
	Station        Station
	IssueDate      civil.Date
	Days           *Series    // weather days: observed, filled, then forecast
	ForecastIssued civil.Date // when the forecast in use was issued; zero: none on file
	LastRecord     civil.Date // newest record date before the issue date; zero: none
	basis          [Columns][]Basis
}

// AsOf returns what an issue may see of a station's records and forecasts.
// Records may be nil. Nothing recorded on the issue date or later, and no
// forecast issued later, has any influence.
//
// Days runs from the first record to six days after the issue date, or as far
// as the forecast reaches, at most 16 days from the issue date.
//
//   - Records are cut by record date first and then put on the day of the
//     weather: the maximum and the rain of a Morning record belong to the day
//     before. Where the time of observation changes, two records may claim one
//     day: the day keeps the value of its own record, and the shifted one is
//     dropped. Shifted values that would come before the first record are
//     dropped too. A day whose maximum so comes out below its minimum has
//     neither.
//   - The forecast is the newest issued on the issue date or up to two days
//     before it. It never replaces an observation.
//   - A gap of one or two days after an observation, whether it ends with
//     another or at the issue date, is filled column by column: from the
//     forecast where it covers the day; else temperature is held from the day
//     before and rain is 0. Other columns are filled from the forecast only. A
//     filled maximum is raised to the day's minimum if it is below it, and a
//     filled minimum lowered to the maximum. Longer gaps stay missing.
//   - A forecast made in the evening lacks the maximum of its first day. Up to
//     two days on which the forecast lacks a temperature, before one that has
//     it, are held from the day before; rain is not.
//
// All of it is own design, made to be honest about what was known when.
func AsOf(st Station, records *Series, forecasts []Forecast, issue civil.Date) *View {
	v := &View{Station: st, IssueDate: issue}
	if records == nil {
		records = NewSeries(issue, 0)
	}
	known := min(records.Len(), max(0, int(issue-records.Start))) // days recorded before the issue date
	start := records.Start
	if known == 0 {
		start = issue
	}
	end := issue.AddDays(viewAheadDays - 1)
	fc := Newest(forecasts, issue)
	if fc != nil {
		v.ForecastIssued = fc.Issued
		end = max(end, min(fc.Days.End(), issue.AddDays(forecastMaxDays-1)))
	}
	v.Days = NewSeries(start, int(end-start)+1)
	v.LastRecord = lastRecord(records, known)

	past := int(issue - start) // days before the issue date
	v.observe(records, known)
	for c := range Columns {
		if fc == nil || !fc.Days.Has(c) {
			v.fill(c, past, nil)
			continue
		}
		v.fill(c, past, fc.Days)
		for d := issue; d <= end; d++ {
			v.put(c, d, fc.Days.At(c, d), ForecastDay)
		}
	}
	v.bridge(TmaxC, past)
	v.bridge(TminC, past)
	v.uncross()
	return v
}

// Newest returns the forecast that counts for an issue, or nil: the newest with
// days that was issued on the issue date or up to two days before it; of two
// issued on one day the first.
func Newest(forecasts []Forecast, issue civil.Date) *Forecast {
	return newest(forecasts, issue, func(f *Forecast) (civil.Date, bool) { return f.Issued, f.Days != nil })
}

// NewestHourly is Newest for hourly forecasts.
func NewestHourly(forecasts []HourlyForecast, issue civil.Date) *HourlyForecast {
	return newest(forecasts, issue, func(f *HourlyForecast) (civil.Date, bool) { return f.Issued, true })
}

func newest[F any](forecasts []F, issue civil.Date, told func(*F) (issued civil.Date, ok bool)) *F {
	var best *F
	bestIssued := issue.AddDays(-forecastMaxAgeDays - 1)
	for i := range forecasts {
		if issued, ok := told(&forecasts[i]); ok && issued > bestIssued && issued <= issue {
			best, bestIssued = &forecasts[i], issued
		}
	}
	return best
}

// lastRecord returns the newest of the first known days of the records that
// holds any value, or the zero Date.
func lastRecord(records *Series, known int) civil.Date {
	for i := known - 1; i >= 0; i-- {
		for c := range Columns {
			if col := records.cols[c]; col != nil && !math.IsNaN(col[i]) {
				return records.Start.AddDays(i)
			}
		}
	}
	return 0
}

// observe puts the first known days of the records on their weather days.
func (v *View) observe(records *Series, known int) {
	morning := v.Station.mornings(records.Start, known)
	for c := range Columns {
		if records.cols[c] == nil {
			continue
		}
		from := records.cols[c][:known]
		if !slices.ContainsFunc(from, func(x float64) bool { return !math.IsNaN(x) }) {
			continue
		}
		to, basis := v.open(c)
		shifts := morning != nil && (c == TmaxC || c == RainMM)
		for i, x := range from {
			if !math.IsNaN(x) && !(shifts && morning[i]) {
				to[i], basis[i] = x, Observed
			}
		}
		if !shifts {
			continue
		}
		for i, x := range from[1:] {
			if !math.IsNaN(x) && morning[i+1] && math.IsNaN(to[i]) {
				to[i], basis[i] = x, Observed
			}
		}
	}
	// Both records were possible as recorded, and only their new pairing is
	// not: which of the two is wrong cannot be told.
	hi, lo := v.Days.cols[TmaxC], v.Days.cols[TminC]
	if hi == nil || lo == nil || morning == nil {
		return
	}
	for i := range hi {
		if hi[i] < lo[i] {
			hi[i], lo[i] = math.NaN(), math.NaN()
			v.basis[TmaxC][i], v.basis[TminC][i] = Missing, Missing
		}
	}
}

// open returns the values and the bases of a column, made if need be.
func (v *View) open(c Column) ([]float64, []Basis) {
	if v.Days.cols[c] == nil {
		v.Days.cols[c] = missing(v.Days.days)
		v.basis[c] = make([]Basis, v.Days.days)
	}
	return v.Days.cols[c], v.basis[c]
}

// put sets a value with its basis, unless it is missing.
func (v *View) put(c Column, d civil.Date, x float64, b Basis) {
	if math.IsNaN(x) {
		return
	}
	to, basis := v.open(c)
	i := int(d - v.Days.Start)
	to[i], basis[i] = x, b
}

// fill fills the short gaps of a column among the days before the issue date.
func (v *View) fill(c Column, past int, forecast *Series) {
	col := v.Days.cols[c]
	shortGaps(col, 0, past, func(i, end int) {
		for ; i < end; i++ {
			d := v.Days.Start.AddDays(i)
			x := math.NaN()
			if forecast != nil {
				x = forecast.At(c, d)
			}
			if math.IsNaN(x) {
				switch c {
				case TmaxC, TminC:
					x = col[i-1]
				case RainMM:
					x = 0
				}
			}
			v.put(c, d, x, Estimated)
		}
	})
}

// bridge holds a temperature over short holes of the forecast.
func (v *View) bridge(c Column, past int) {
	col := v.Days.cols[c]
	shortGaps(col, past, len(col), func(i, end int) {
		for ; i < end && end < len(col); i++ {
			v.put(c, v.Days.Start.AddDays(i), col[i-1], Estimated)
		}
	})
}

// shortGaps calls fill with each run of missing days, end not inside, of the
// places from to to that is short enough to be filled and has a day before it.
func shortGaps(col []float64, from, to int, fill func(i, end int)) {
	if col == nil {
		return
	}
	for i := from; i < to; i++ {
		end := i
		for end < to && math.IsNaN(col[end]) {
			end++
		}
		if n := end - i; i > 0 && n > 0 && n <= GapMaxDays {
			fill(i, end)
		}
		i = end
	}
}

// uncross mends days whose filled maximum or minimum contradicts the other.
func (v *View) uncross() {
	hi, lo := v.Days.cols[TmaxC], v.Days.cols[TminC]
	if hi == nil || lo == nil {
		return
	}
	for i := range hi {
		switch {
		case !(hi[i] < lo[i]):
		case v.basis[TmaxC][i] == Estimated:
			hi[i] = lo[i]
		case v.basis[TminC][i] == Estimated:
			lo[i] = hi[i]
		}
	}
}

// Basis returns where the value of a column on a day comes from.
func (v *View) Basis(c Column, d civil.Date) Basis {
	i, ok := v.Days.Index(d)
	if !ok || v.basis[c] == nil {
		return Missing
	}
	return v.basis[c][i]
}

// Forecast returns what the forecast in use says of a column on a day, and
// whether it covers the day.
func (v *View) Forecast(c Column, d civil.Date) (x float64, covered bool) {
	if v.Basis(c, d) != ForecastDay {
		return math.NaN(), false
	}
	return v.Days.At(c, d), true
}

// Sum returns the sum of a column over the days that end with last, and how
// many of them were not observed but filled or forecast. A sum needs every
// day: with one missing it is NaN.
func (v *View) Sum(c Column, last civil.Date, days int) (sum float64, estimated int) {
	for d := last.AddDays(1 - days); d <= last; d++ {
		sum += v.Days.At(c, d)
		if v.Basis(c, d) > Observed {
			estimated++
		}
	}
	return sum, estimated
}
