package advice

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/quantity"
	"ligule/internal/spray"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// growthState is the indicator whose words are the states of package turf.
const growthState = "growth_state"

// StatePhrase is the phrase of a state of growth.
func StatePhrase(s turf.State) string { return phrase(growthState, s) }

// The words for none of the causes that package turf names.
const (
	noSlowdown = "not slowing"
	notDormant = "not dormant"
)

// Words are codes as files write them.
func Words[Code ~string](codes []Code) []string {
	out := make([]string, len(codes))
	for i, c := range codes {
		out[i] = string(c)
	}
	return out
}

// indicators returns a fresh list of all indicators. "Last 7 days" are the
// seven days before the issue date; what is said of them needs five observed.
func indicators() []*Indicator {
	nan := math.NaN()
	// ofGrowth measures a figure of the turf's reading.
	ofGrowth := func(basis Basis, figure func(turf.Growth) float64) func(*Input, int) Value {
		return func(in *Input, ago int) Value {
			g := in.growth(ago).RainFed
			if !g.Enough {
				return Value{Num: nan}
			}
			return Value{Num: figure(g), Basis: basis}
		}
	}
	// because words a cause of the turf's reading, or that there is none.
	because := func(none string, cause func(turf.Growth) string) func(*Input, int) Value {
		return func(in *Input, ago int) Value {
			g := in.growth(ago).RainFed
			if !g.Enough {
				return Value{}
			}
			return Value{Word: cmp.Or(cause(g), none), Basis: Observed}
		}
	}
	// ofDays measures a figure over the observed days of a column.
	ofDays := func(c weather.Column, figure func([]float64) float64) func(*Input, int) Value {
		return func(in *Input, ago int) Value {
			var known []float64
			for d := in.IssueDate.AddDays(-ago - weather.WindowDays); in.Felt != nil && d < in.IssueDate.AddDays(-ago); d++ {
				if in.Felt.View.Basis(c, d) == weather.Observed {
					known = append(known, in.Felt.View.Days.At(c, d))
				}
			}
			if len(known) < weather.WindowValid {
				return Value{Num: nan}
			}
			return Value{Num: figure(known), Basis: Observed}
		}
	}
	ahead := func(figure func(mm []float64) float64) func(*Input, int) Value {
		return func(in *Input, _ int) Value {
			mm := in.rainAhead()
			return Value{Num: figure(mm[:min(len(mm), weather.WindowDays)]), Basis: Forecast}
		}
	}
	list := []*Indicator{
		{Name: "date", Kind: Day, measure: func(in *Input, ago int) Value {
			return Value{Date: in.IssueDate.AddDays(-ago), Basis: Calendar}
		}},
		{Name: growthState, Kind: Word,
			Words: Words(turf.States()),
			measure: func(in *Input, ago int) Value {
				return Value{Word: string(in.growth(ago).RainFed.State), Basis: Observed}
			}},
		{Name: "slowing_because", Kind: Word,
			Words: append([]string{noSlowdown}, Words(turf.Senses())...),
			measure: because(noSlowdown, func(g turf.Growth) string {
				if g.Falling == nil {
					return ""
				}
				return string(g.Falling.Sense)
			})},
		{Name: "dormant_because", Kind: Word,
			Words:   append([]string{notDormant}, Words(turf.DormantCauses())...),
			measure: because(notDormant, func(g turf.Growth) string { return string(g.DormantWhy) })},
		{Name: "growth_index", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(Observed, func(g turf.Growth) float64 { return g.G })},
		{Name: "temperature_factor", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(Observed, func(g turf.Growth) float64 { return g.FT })},
		{Name: "light_factor", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(Observed, func(g turf.Growth) float64 { return g.FL })},
		{Name: "day_length_factor", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(Calendar, func(g turf.Growth) float64 { return g.FP })},
		{Name: "water_factor", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(Observed, func(g turf.Growth) float64 { return g.FW })},
		{Name: "days_between_mows", Dim: quantity.Time, measure: ofGrowth(Observed, mowDays)},
		{Name: "days_between_mows_watered", Dim: quantity.Time, measure: func(in *Input, ago int) Value {
			r := in.growth(ago)
			g := r.RainFed
			if r.Watered != nil {
				g = *r.Watered
			}
			if !g.Enough {
				return Value{Num: nan}
			}
			return Value{Num: mowDays(g), Basis: Observed}
		}},
		{Name: "freeze_nights", Dim: quantity.Number, measure: ofGrowth(Observed, func(g turf.Growth) float64 { return float64(g.FreezeNights) })},
		{Name: "mean_temperature", Dim: quantity.Temperature, measure: ofMean(func(f *weather.Felt) ([]float64, []weather.SoilMethod) { return f.TmeanC, nil })},
		{Name: "highest_temperature", Dim: quantity.Temperature, measure: ofDays(weather.TmaxC, slices.Max)},
		{Name: "lowest_temperature", Dim: quantity.Temperature, measure: ofDays(weather.TminC, slices.Min)},
		{Name: "soil_temperature_2in", Dim: quantity.Temperature, measure: ofMean(func(f *weather.Felt) ([]float64, []weather.SoilMethod) { return f.Soil5C, f.Soil5By })},
		{Name: "soil_temperature_4in", Dim: quantity.Temperature, measure: ofMean(func(f *weather.Felt) ([]float64, []weather.SoilMethod) { return f.Soil10C, f.Soil10By })},
		{Name: "rain_last_7_days", Dim: quantity.Depth, US: 2, measure: ofDays(weather.RainMM, agromet.Total)},
		{Name: "rain_next_7_days", Dim: quantity.Depth, US: 1, Now: true, measure: ahead(func(mm []float64) float64 {
			return enough(agromet.Total(mm), len(mm))
		})},
		{Name: "wettest_day_ahead", Dim: quantity.Depth, US: 1, Now: true, measure: ahead(func(mm []float64) float64 {
			if len(mm) == 0 {
				return nan
			}
			return slices.Max(mm)
		})},
		{Name: "evapotranspiration_last_7_days", Dim: quantity.Depth, US: 1, measure: ofGrowth(Estimated, func(g turf.Growth) float64 { return g.ETMM })},
		{Name: "light_integral", Dim: quantity.Light, measure: ofGrowth(Estimated, func(g turf.Growth) float64 { return g.LightMol })},
		{Name: "day_length", Dim: quantity.Hours, US: 1, Metric: 1, measure: ofGrowth(Calendar, func(g turf.Growth) float64 { return g.DayLengthH })},
		{Name: "root_zone_used", Dim: quantity.Percent, measure: ofGrowth(Estimated, func(g turf.Growth) float64 {
			if !g.BalanceOK {
				return nan
			}
			return 100 * g.DepletionMM / g.TAWMM
		})},
		{Name: "irrigation_need", Dim: quantity.Depth, US: 1, measure: ofGrowth(Estimated, func(g turf.Growth) float64 {
			if !g.BalanceOK {
				return nan
			}
			return g.NeedMM
		})},
		{Name: "sprinkler_minutes", Dim: quantity.Number, Now: true, measure: func(in *Input, _ int) Value {
			g := in.growth(0).RainFed
			if !g.BalanceOK {
				return Value{Num: nan}
			}
			return Value{Num: agromet.BaseRunTimeMin(g.NeedMM, sprinklerMMH), Basis: Estimated}
		}},
		{Name: "nitrogen_this_week", Dim: quantity.NitrogenRate, US: 2, Metric: 1, Now: true, measure: ofNitrogen(func(n nitrogenYear) float64 { return n.weekGM2 })},
		{Name: "nitrogen_left", Dim: quantity.NitrogenRate, US: 1, Metric: 1, Now: true, measure: ofNitrogen(func(n nitrogenYear) float64 { return n.leftGM2 })},
		{Name: "spray_hours", Dim: quantity.Number, Now: true, measure: func(in *Input, _ int) Value {
			if in.Felt == nil {
				return Value{Num: nan}
			}
			windows, known := in.fitHours(spray.Limits{MostWindMS: nan})
			if !known {
				return Value{Num: nan}
			}
			hours := 0
			for _, w := range windows {
				if w.Grade == spray.Good {
					hours += w.To - w.From
				}
			}
			return Value{Num: float64(hours), Basis: Forecast}
		}},
	}
	return append(list, pestIndicators()...)
}

// sprinklerMMH is the rate of sprinklers for which run times are told: half an
// inch an hour. Common practice, no source; readers with a measured rate scale
// it.
const sprinklerMMH = 12.7

// ofNitrogen measures a figure of the year's nitrogen.
func ofNitrogen(figure func(nitrogenYear) float64) func(*Input, int) Value {
	return func(in *Input, _ int) Value { return Value{Num: figure(in.nitrogenOf()), Basis: Estimated} }
}

// mowDays is infinite where no mowing is expected.
func mowDays(g turf.Growth) float64 {
	if g.MowDays == 0 {
		return math.Inf(1)
	}
	return float64(g.MowDays)
}

// enough returns the figure if it rests on enough days of a window, else NaN.
func enough(figure float64, days int) float64 {
	if days < weather.WindowValid {
		return math.NaN()
	}
	return figure
}

// ofMean measures a mean temperature. One of the soil is observed only where a
// probe reported on every day of the window.
func ofMean(column func(*weather.Felt) ([]float64, []weather.SoilMethod)) func(*Input, int) Value {
	return func(in *Input, ago int) Value {
		if in.Felt == nil {
			return Value{Num: math.NaN()}
		}
		last := in.IssueDate.AddDays(-ago - 1)
		values, by := column(in.Felt)
		v := Value{Num: enough(in.Felt.Mean(values, last, weather.WindowDays)), Basis: Observed}
		for d := last.AddDays(1 - weather.WindowDays); d <= last; d++ {
			if i, ok := in.Felt.Index(d); ok && by != nil && by[i] != weather.SoilProbe {
				v.Basis = Estimated
			}
		}
		return v
	}
}

// rainAhead returns the forecast rain of each day from the issue date through
// the Sunday of the issue's week, as far as the forecast reaches.
func (in *Input) rainAhead() []float64 {
	if in.Felt == nil {
		return nil
	}
	var mm []float64
	for d := in.IssueDate; d <= in.Week.Sunday(); d++ {
		x, covered := in.Felt.View.Forecast(weather.RainMM, d)
		if !covered {
			break
		}
		mm = append(mm, x)
	}
	return mm
}
