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
	ofGrowth := func(on inputs, figure func(turf.Growth) float64) func(*Input, int) Value {
		return func(in *Input, ago int) Value {
			g := in.growth(ago).RainFed
			if !g.Enough {
				return Value{Num: nan}
			}
			return Value{Num: figure(g), Basis: on.of(in, ago)}
		}
	}
	// because words a cause of the turf's reading, or that there is none.
	because := func(none string, cause func(turf.Growth) string) func(*Input, int) Value {
		return func(in *Input, ago int) Value {
			g := in.growth(ago).RainFed
			if !g.Enough {
				return Value{}
			}
			return Value{Word: cmp.Or(cause(g), none), Basis: onGrowth.of(in, ago)}
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
	weekAhead := func(in *Input) []float64 {
		mm := in.rainAhead()
		return mm[:min(len(mm), weather.WindowDays)]
	}
	sum := func(mm []float64) float64 { return enough(agromet.Total(mm), len(mm)) }
	ahead := func(figure func(mm []float64) float64) func(*Input, int) Value {
		return func(in *Input, _ int) Value {
			return Value{Num: figure(weekAhead(in)), Basis: onAhead.of(in, 0)}
		}
	}
	list := []*Indicator{
		{Name: "date", Kind: Day, measure: func(in *Input, ago int) Value {
			return Value{Date: in.IssueDate.AddDays(-ago), Basis: Calendar}
		}},
		{Name: growthState, Kind: Word,
			Words: Words(turf.States()),
			measure: func(in *Input, ago int) Value {
				return Value{Word: string(in.growth(ago).RainFed.State), Basis: onGrowth.of(in, ago)}
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
		{Name: "growth_index", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(onGrowth, func(g turf.Growth) float64 { return g.G })},
		{Name: "temperature_factor", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(onTemperature, func(g turf.Growth) float64 { return g.FT })},
		{Name: "light_factor", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(onLight, func(g turf.Growth) float64 { return g.FL })},
		{Name: "day_length_factor", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(nil, func(g turf.Growth) float64 { return g.FP })},
		{Name: "water_factor", Dim: quantity.Number, US: 2, Metric: 2, measure: ofGrowth(onModel, func(g turf.Growth) float64 { return g.FW })},
		{Name: "days_between_mows", Dim: quantity.Time, measure: ofGrowth(onGrowth, mowDays)},
		{Name: "days_between_mows_watered", Dim: quantity.Time, measure: func(in *Input, ago int) Value {
			r := in.growth(ago)
			g := r.RainFed
			if r.Watered != nil {
				g = *r.Watered
			}
			if !g.Enough {
				return Value{Num: nan}
			}
			return Value{Num: mowDays(g), Basis: onGrowth.of(in, ago)}
		}},
		{Name: "freeze_nights", Dim: quantity.Number, measure: ofGrowth(measured(weather.TminC), func(g turf.Growth) float64 { return float64(g.FreezeNights) })},
		{Name: "mean_temperature", Dim: quantity.Temperature, measure: ofMean(onTemperature, func(f *weather.Felt) []float64 { return f.TmeanC })},
		{Name: "highest_temperature", Dim: quantity.Temperature, measure: ofDays(weather.TmaxC, slices.Max)},
		{Name: "lowest_temperature", Dim: quantity.Temperature, measure: ofDays(weather.TminC, slices.Min)},
		{Name: "soil_temperature_2in", Dim: quantity.Temperature, measure: ofMean(onSoil5, func(f *weather.Felt) []float64 { return f.Soil5C })},
		{Name: "soil_temperature_4in", Dim: quantity.Temperature, measure: ofMean(onSoil10, func(f *weather.Felt) []float64 { return f.Soil10C })},
		{Name: "rain_last_7_days", Dim: quantity.Depth, US: 2, measure: ofDays(weather.RainMM, agromet.Total)},
		{Name: "rain_next_7_days", Dim: quantity.Depth, US: 1, Now: true, measure: ahead(sum)},
		{Name: "wettest_day_ahead", Dim: quantity.Depth, US: 1, Now: true, measure: ahead(func(mm []float64) float64 {
			if len(mm) == 0 {
				return nan
			}
			return slices.Max(mm)
		})},
		{Name: "evapotranspiration_last_7_days", Dim: quantity.Depth, US: 1, measure: ofGrowth(onModel, func(g turf.Growth) float64 { return g.ETMM })},
		{Name: "light_integral", Dim: quantity.Light, measure: ofGrowth(onLight, func(g turf.Growth) float64 { return g.LightMol })},
		{Name: "day_length", Dim: quantity.Hours, US: 1, Metric: 1, measure: ofGrowth(nil, func(g turf.Growth) float64 { return g.DayLengthH })},
		{Name: "root_zone_used", Dim: quantity.Percent, measure: ofGrowth(onModel, func(g turf.Growth) float64 {
			if !g.BalanceOK {
				return nan
			}
			return 100 * g.DepletionMM / g.TAWMM
		})},
		{Name: "wet_weeks", Dim: quantity.Number, Now: true, measure: func(in *Input, _ int) Value { return Value{Num: in.wetWeeks(), Basis: onModel.of(in, 0)} }},
		{Name: "water_stood", Kind: Word, Words: []string{onRecord, notOnRecord}, Now: true, Lawn: true, measure: func(in *Input, _ int) Value {
			if in.Daily == nil {
				return Value{} // nobody can tell whether the grass grew
			}
			return recorded(in.stoodWet() != nil)
		}},
		{Name: "irrigation_need", Dim: quantity.Depth, US: 1, measure: ofGrowth(onModel, func(g turf.Growth) float64 {
			if !g.BalanceOK {
				return nan
			}
			return g.NeedMM
		})},
		{Name: "need_met_by_rain", Dim: quantity.Percent, Now: true, measure: func(in *Input, _ int) Value {
			g := in.growth(0).RainFed
			if !g.BalanceOK || g.NeedMM <= 0 {
				return Value{Num: nan}
			}
			return Value{Num: 100 * math.Min(1, sum(weekAhead(in))/g.NeedMM), Basis: slices.Concat(onModel, onAhead).of(in, 0)}
		}},
		{Name: "sprinkler_minutes", Dim: quantity.Number, Now: true, measure: func(in *Input, _ int) Value {
			g := in.growth(0).RainFed
			if !g.BalanceOK {
				return Value{Num: nan}
			}
			return Value{Num: agromet.BaseRunTimeMin(g.NeedMM, sprinklerMMH), Basis: onModel.of(in, 0)}
		}},
		{Name: "nitrogen_this_week", Dim: quantity.NitrogenRate, US: 2, Metric: 1, Now: true, measure: ofNitrogen(func(n nitrogenYear) float64 { return n.weekGM2 })},
		{Name: "nitrogen_left", Dim: quantity.NitrogenRate, US: 1, Metric: 1, Now: true, measure: ofNitrogen(func(n nitrogenYear) float64 { return n.leftGM2 })},
		{Name: "spray_hours", Dim: quantity.Number, Now: true, measure: func(in *Input, _ int) Value {
			if in.Felt == nil {
				return Value{Num: nan}
			}
			week := in.sprayWeek(spray.Limits{})
			if !week.Hourly {
				return Value{Num: nan}
			}
			hours := 0
			for _, w := range week.Windows {
				if w.Grade == spray.Good {
					hours += w.To - w.From
				}
			}
			return Value{Num: float64(hours), Basis: onAhead.of(in, 0)}
		}},
	}
	return append(list, pestIndicators()...)
}

// sprinklerMMH is the rate of sprinklers for which run times are told: half an
// inch an hour. Common practice, no source; readers with a measured rate scale
// it.
const sprinklerMMH = 12.7

// A week in which more than this, mm, ran past a full root zone or off it is one in
// which water stood in low places; and how many weeks of a year have to be known. Own
// design.
const (
	standsMM       = 25.4
	leastWetKnown  = 26
	weeksOfTheYear = 52
)

// wetWeeks counts such weeks of the year before the issue, of those in which the grass
// grew; NaN where too few are known.
func (in *Input) wetWeeks() float64 {
	n, known := 0, 0
	for k := range weeksOfTheYear {
		end, mm := in.IssueDate.AddDays(-weather.WindowDays*k), 0.0
		for d := end.AddDays(-weather.WindowDays); in.Daily != nil && d < end; d++ {
			i, ok := in.Felt.Index(d)
			if !ok || i >= len(in.Daily.BalanceOK) || !in.Daily.BalanceOK[i] {
				mm = math.NaN()
				break
			}
			mm += in.Daily.DrainageMM[i] + in.Daily.RunoffMM[i]
		}
		if in.Daily == nil || math.IsNaN(mm) {
			continue
		}
		known++
		if quantity.Tenths(mm) >= standsMM && in.Daily.StateAt(end).Grows() {
			n++
		}
	}
	if known < leastWetKnown {
		return math.NaN()
	}
	return float64(n)
}

// ofNitrogen measures a figure of the year's nitrogen.
func ofNitrogen(figure func(nitrogenYear) float64) func(*Input, int) Value {
	return func(in *Input, _ int) Value { return Value{Num: figure(in.nitrogenOf()), Basis: onGrowth.of(in, 0)} }
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

// ofMean measures a mean temperature of what was felt.
func ofMean(on inputs, column func(*weather.Felt) []float64) func(*Input, int) Value {
	return func(in *Input, ago int) Value {
		if in.Felt == nil {
			return Value{Num: math.NaN()}
		}
		mean, days := in.Felt.Mean(column(in.Felt), in.IssueDate.AddDays(-ago-1), weather.WindowDays)
		return Value{Num: enough(mean, days), Basis: on.of(in, ago)}
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
