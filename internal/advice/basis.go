package advice

import (
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/weather"
)

// byStrength orders the bases: what rests on several is as weak as the weakest.
// What follows from date and place weakens nothing.
var byStrength = []Basis{Calendar, Observed, Estimated, Forecast}

// weakest is the basis of what rests on several.
func weakest(all ...Basis) Basis {
	return slices.MaxFunc(all, func(a, b Basis) int { return slices.Index(byStrength, a) - slices.Index(byStrength, b) })
}

// inputs of a figure, each with the basis that its days of a window have.
type inputs []func(in *Input, i int) Basis

// of is the basis of a figure on the seven days that end so many days before the
// issue date; missing days lend it nothing.
func (all inputs) of(in *Input, ago int) Basis {
	basis := Calendar
	for n := range weather.WindowDays {
		i, ok := 0, in.Felt != nil
		if ok {
			i, ok = in.Felt.Index(in.IssueDate.AddDays(-ago - 1 - n))
		}
		for _, of := range all {
			if ok {
				basis = weakest(basis, of(in, i))
			}
		}
	}
	return basis
}

// measured is the basis of a column as it is on file, filled or forecast.
func measured(columns ...weather.Column) inputs {
	var out inputs
	for _, c := range columns {
		out = append(out, func(in *Input, i int) Basis {
			switch in.Felt.View.Basis(c, in.Felt.Start.AddDays(i)) {
			case weather.Observed:
				return Observed
			case weather.Missing:
				return Calendar
			case weather.ForecastDay:
				return Forecast
			}
			return Estimated
		})
	}
	return out
}

// worked is observed where an instrument gave the value, else estimated.
func worked(instrument func(f *weather.Felt, i int) bool) inputs {
	return inputs{func(in *Input, i int) Basis {
		if instrument(in.Felt, i) {
			return Observed
		}
		return Estimated
	}}
}

// What the figures rest on.
var (
	onTemperature = measured(weather.TmaxC, weather.TminC)
	onLight       = worked(func(f *weather.Felt, i int) bool { return f.Radiation[i] == agromet.RungMeasured })
	onSoil5       = worked(func(f *weather.Felt, i int) bool { return f.Soil5By[i] == weather.SoilProbe })
	onSoil10      = worked(func(f *weather.Felt, i int) bool { return f.Soil10By[i] == weather.SoilProbe })
	onModel       = worked(func(*weather.Felt, int) bool { return false }) // the root zone, and what it gives off
	onGrowth      = slices.Concat(onTemperature, onLight, onSoil10, onModel)
	onAhead       = inputs{func(*Input, int) Basis { return Forecast }} // days and hours to come
	onUptake      = slices.Concat(onTemperature, onLight, onModel, onAhead)
)

// onRead are the inputs that models of pests name.
var onRead = map[string]inputs{
	"temperature": onTemperature, "rain": measured(weather.RainMM), "soil": onSoil5, "snow": measured(weather.SnowDepthMM), "forecast": onAhead,
}

// basis is that of what a pest comes to: of what its model reads, and of the forecast
// where that counts in it.
func (p *Pest) basis(in *Input) Basis {
	var reads []string
	switch a := p.Account(); {
	case a == nil:
		reads = p.Disease.Model.Reads()
		if p.Found.HasForecast {
			reads = append(reads, "forecast")
		}
	case in.Felt != nil:
		if t := a.TimingAt(in.Felt.View.Station); t != nil {
			reads = t.Reads()
		}
		if p.Progress.Ahead {
			reads = append(reads, "forecast")
		}
	}
	basis := Calendar
	for _, what := range reads {
		basis = weakest(basis, onRead[what].of(in, 0))
	}
	if slices.Contains(reads, "humidity") {
		humidity := Observed
		if p.Found.HumidityEstimated {
			humidity = Estimated
		}
		basis = weakest(basis, humidity)
	}
	return basis
}
