package weather

import (
	"ligule/internal/agromet"
	"ligule/internal/civil"
)

// Felt is what grass felt, day by day, derived from a View with package
// agromet. All slices have one value per day of View.Days; NaN is "cannot be
// said". They are not to be changed.
type Felt struct {
	View      *View
	Start     civil.Date
	TmeanC    []float64 // ½(Tmax + Tmin), °C
	DaylightH []float64 // day length, h
	RaMJ      []float64 // extraterrestrial radiation, MJ m⁻² d⁻¹
	RsMJ      []float64 // solar radiation, MJ m⁻² d⁻¹
	ETMM      []float64 // reference evapotranspiration, mm
	LightMol  []float64 // daily light integral, mol m⁻² d⁻¹
	Soil5C    []float64 // soil temperature at 5 cm, °C
	Soil10C   []float64 // soil temperature at 10 cm, °C

	Radiation, Humidity, Wind []agromet.Rung // the method of each day
	Soil5By, Soil10By         []SoilMethod   // the method of each day's soil temperature
}

// SoilMethod says how a soil temperature was found.
type SoilMethod uint8

// The methods, from none to the best.
const (
	SoilNone    SoilMethod = iota // nothing can be said
	SoilModeled                   // from air temperature
	SoilShifted                   // from air temperature, moved by the error it had at the probe lately
	SoilProbe                     // a probe's reading
)

// String returns "none", "model", "model-shifted" or "probe".
func (m SoilMethod) String() string {
	switch m {
	case SoilModeled:
		return "model"
	case SoilShifted:
		return "model-shifted"
	case SoilProbe:
		return "probe"
	}
	return "none"
}

// Felt derives light, evapotranspiration and soil temperature of every day.
func (v *View) Felt() *Felt {
	return &Felt{View: v, Start: v.Days.Start}
}

// Index returns the place of a day in the slices, and whether it is among them.
func (f *Felt) Index(d civil.Date) (int, bool) { return f.View.Days.Index(d) }

// Basis returns the lesser basis of the day's maximum and minimum temperature,
// on which everything derived rests.
func (f *Felt) Basis(d civil.Date) Basis {
	hi, lo := f.View.Basis(TmaxC, d), f.View.Basis(TminC, d)
	if hi == Missing || lo == Missing {
		return Missing
	}
	return max(hi, lo)
}

// WindowDays and WindowValid are the length of the standard window and how
// many of its days must be observed for it to say anything.
const (
	WindowDays  = 7
	WindowValid = 5
)

// Mean returns the mean of one of f's slices over the days observed days that
// end with last, and how many of them count: those whose maximum and minimum
// temperature were both observed and whose value is known. Whether that is
// enough is for the caller to say (WindowValid of WindowDays); with none the
// mean is NaN.
func (f *Felt) Mean(col []float64, last civil.Date, days int) (mean float64, valid int) {
	return 0, 0
}

// Total is the sum of a window with how it was found.
type Total struct {
	Sum       float64 // NaN if any day is missing
	Days      int     // length of the window
	Estimated int     // days of it that were filled or forecast
	// The lowest rung of the ladder that any day of the window stands on.
	Radiation, Humidity, Wind agromet.Rung
}

// Total returns the sum of one of f's slices over the days that end with last.
func (f *Felt) Total(col []float64, last civil.Date, days int) Total {
	return Total{}
}
