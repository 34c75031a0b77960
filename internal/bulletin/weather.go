package bulletin

import (
	"math"

	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

// Weather is the week's weather as grass felt it: the seven days before the
// issue date, and the days ahead that a forecast on file covers.
type Weather struct {
	LastRecord     civil.Date `json:"last_record"`              // newest observation used
	ForecastIssued civil.Date `json:"forecast_issued,omitzero"` // zero: no forecast on file
	Past           []Day      `json:"past"`
	Ahead          []Day      `json:"ahead,omitempty"`
	Sums           []SumRow   `json:"sums"`
	Spray          *Spray     `json:"spray"`

	TempUnit *message.Said `json:"temp_unit"`
	RainUnit *message.Said `json:"rain_unit"`
	SoilUnit *message.Said `json:"soil_unit"`

	// How light, humidity, wind and soil temperature were found over the past
	// days, and how sure that is; nil where nothing is known of it.
	Radiation *message.Said `json:"radiation"`
	Humidity  *message.Said `json:"humidity"`
	Wind      *message.Said `json:"wind"`
	Soil      *message.Said `json:"soil"`
	ETBand    *message.Said `json:"et_band,omitempty"`
	LightBand *message.Said `json:"light_band,omitempty"`
}

// AheadDays is how many days ahead are told.
func (w *Weather) AheadDays() int { return len(w.Ahead) }

// Day is one day of Weather: its figures, and the same as printed, nil where
// nothing is on record.
type Day struct {
	Date      civil.Date `json:"date"`
	TmaxC     Num        `json:"tmax_c"`
	TminC     Num        `json:"tmin_c"`
	RainMM    Num        `json:"rain_mm"`
	Soil5C    Num        `json:"soil5_c"`
	Soil10C   Num        `json:"soil10_c"`
	DaylightH Num        `json:"daylight_h"`
	Estimated bool       `json:"estimated,omitempty"`

	Low      *message.Said `json:"low,omitempty"`
	High     *message.Said `json:"high,omitempty"`
	Rain     *message.Said `json:"rain,omitempty"`
	Soil2    *message.Said `json:"soil2,omitempty"`
	Soil4    *message.Said `json:"soil4,omitempty"`
	Daylight *message.Said `json:"daylight,omitempty"`
}

// SumRow is one row of the weekly figures; nil where too few days are known.
type SumRow struct {
	ID    string        `json:"id"`
	Past  *message.Said `json:"past,omitempty"`
	Ahead *message.Said `json:"ahead,omitempty"`
}

// sums are totals and means over the known days of a span; NaN when too few.
type sums struct {
	days                          int // observed (or forecast) days
	meanC, rainMM, etMM, lightMol float64
	soil5C, soil10C, daylightH    float64
}

// weekWeather lays out the days around an issue date.
func weekWeather(f *weather.Felt, date civil.Date, week civil.Week) *Weather {
	v := f.View
	unit := func(d quantity.Dimension) *message.Said { return just(message.Unit(d)) }
	w := &Weather{
		LastRecord: v.LastRecord, ForecastIssued: v.ForecastIssued,
		TempUnit: unit(quantity.Temperature), RainUnit: unit(quantity.Depth), SoilUnit: unit(quantity.Temperature),
	}
	for d := date.AddDays(-weather.WindowDays); d < date; d++ {
		w.Past = append(w.Past, day(f, d))
	}
	if !v.ForecastIssued.IsZero() {
		for d := date; d <= week.Sunday() && f.Basis(d) != weather.Missing; d++ {
			w.Ahead = append(w.Ahead, day(f, d))
		}
	}
	last := date.AddDays(-1)
	w.Sums = sumRows(sumsOf(f, w.Past), sumsOf(f, w.Ahead))
	et := f.Total(f.ETMM, last, weather.WindowDays)
	w.Radiation, w.Humidity, w.Wind = say("rung."+et.Radiation.String()), say("rung."+et.Humidity.String()), say("rung."+et.Wind.String())
	w.ETBand, w.LightBand = band(et.ETBandPct()), band(et.LightBandPct())
	soil := weather.SoilNone
	if i, ok := f.Index(last); ok {
		soil = f.Soil10By[i]
	}
	w.Soil = say("soil_method." + soil.String())
	return w
}

// band is how sure a figure is; nil where that is not known.
func band(pct float64) *message.Said {
	if math.IsNaN(pct) || pct <= 0 {
		return nil
	}
	return message.Say(message.New("value.band").With("value", message.Share(pct/100)))
}

func day(f *weather.Felt, d civil.Date) Day {
	out := Day{Date: d, TmaxC: missing, TminC: missing, RainMM: missing, Soil5C: missing, Soil10C: missing, DaylightH: missing}
	i, ok := f.Index(d)
	if !ok {
		return out
	}
	days := f.View.Days
	out.TmaxC, out.TminC, out.RainMM = Num(days.At(weather.TmaxC, d)), Num(days.At(weather.TminC, d)), Num(days.At(weather.RainMM, d))
	out.Soil5C, out.Soil10C, out.DaylightH = Num(f.Soil5C[i]), Num(f.Soil10C[i]), Num(f.DaylightH[i])
	out.Estimated = f.Basis(d) == weather.Estimated || f.View.Basis(weather.RainMM, d) == weather.Estimated
	return out.Printed()
}

// known is a number as printed; nil where it is missing.
func known(v message.Value) *message.Said {
	if math.IsNaN(v.Number) {
		return nil
	}
	return just(v)
}

// Printed returns the day with its figures as printed.
func (d Day) Printed() Day {
	column := func(x Num, dim quantity.Dimension, us, metric int) *message.Said {
		return known(message.Column(float64(x), dim, us, metric))
	}
	d.Low, d.High = column(d.TminC, quantity.Temperature, 0, 0), column(d.TmaxC, quantity.Temperature, 0, 0)
	d.Rain = column(d.RainMM, quantity.Depth, 2, 0)
	d.Soil2, d.Soil4 = column(d.Soil5C, quantity.Temperature, 0, 0), column(d.Soil10C, quantity.Temperature, 0, 0)
	d.Daylight = column(d.DaylightH, quantity.Hours, 1, 1)
	return d
}

// sumsOf adds up the days whose temperatures were observed, or forecast; days
// that were filled in do not count.
func sumsOf(f *weather.Felt, days []Day) sums {
	var s sums
	var rainDays, soilDays int
	told := func(b weather.Basis) bool { return b == weather.Observed || b == weather.ForecastDay }
	for _, d := range days {
		if told(f.View.Basis(weather.RainMM, d.Date)) {
			s.rainMM += float64(d.RainMM)
			rainDays++
		}
		if !told(f.Basis(d.Date)) {
			continue
		}
		i, _ := f.Index(d.Date)
		s.days++
		s.meanC += f.TmeanC[i]
		s.etMM += f.ETMM[i]
		s.lightMol += f.LightMol[i]
		s.daylightH += float64(d.DaylightH)
		if d.Soil5C.Known() && d.Soil10C.Known() {
			s.soil5C += float64(d.Soil5C)
			s.soil10C += float64(d.Soil10C)
			soilDays++
		}
	}
	of := func(n int, figure float64) float64 {
		if n < weather.WindowValid {
			return math.NaN()
		}
		return figure
	}
	mean := func(n int, sum float64) float64 { return of(n, sum/float64(n)) }
	s.meanC, s.lightMol, s.daylightH = mean(s.days, s.meanC), mean(s.days, s.lightMol), mean(s.days, s.daylightH)
	s.soil5C, s.soil10C = mean(soilDays, s.soil5C), mean(soilDays, s.soil10C)
	s.etMM, s.rainMM = of(s.days, s.etMM), of(rainDays, s.rainMM)
	return s
}

// sumRows sets the week behind beside the days ahead.
func sumRows(p, a sums) []SumRow {
	row := func(id string, past, ahead float64, d quantity.Dimension, us, metric int) SumRow {
		return SumRow{id, known(message.Both(past, d, us, metric)), known(message.Both(ahead, d, us, metric))}
	}
	us, metric := quantity.Light.Decimals()
	return []SumRow{
		row("mean", p.meanC, a.meanC, quantity.Temperature, 0, 0),
		row("rain", p.rainMM, a.rainMM, quantity.Depth, 2, 0),
		row("et", p.etMM, a.etMM, quantity.Depth, 1, 0),
		row("light", p.lightMol, a.lightMol, quantity.Light, us, metric),
		row("daylight", p.daylightH, a.daylightH, quantity.Hours, 1, 1),
		row("soil2", p.soil5C, a.soil5C, quantity.Temperature, 0, 0),
		row("soil4", p.soil10C, a.soil10C, quantity.Temperature, 0, 0),
	}
}
