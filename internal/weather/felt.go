package weather

import (
	"math"

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

// forecastWindHeightM is the height at which forecast services give wind, m
// (common practice, no source), whatever the height of the station's own
// anemometer.
const forecastWindHeightM = 10

// Felt derives light, evapotranspiration and soil temperature of every day,
// estimated and forecast days included; [Felt.Basis] tells which are.
func (v *View) Felt() *Felt {
	n := v.Days.Len()
	block := make([]float64, 8*n)
	next := func() (col []float64) {
		col, block = block[:n:n], block[n:]
		return col
	}
	f := &Felt{
		View: v, Start: v.Days.Start,
		TmeanC: next(), DaylightH: next(), RaMJ: next(), RsMJ: next(),
		ETMM: next(), LightMol: next(), Soil5C: next(), Soil10C: next(),
		Radiation: make([]agromet.Rung, n), Humidity: make([]agromet.Rung, n), Wind: make([]agromet.Rung, n),
		Soil5By: make([]SoilMethod, n), Soil10By: make([]SoilMethod, n),
	}
	site := agromet.Site{
		LatitudeDeg: v.Station.LatitudeDeg,
		ElevationM:  v.Station.ElevationM,
		Coastal:     v.Station.Coastal,
		Arid:        v.Station.Arid,
	}
	heightM := v.Station.WindHeightM
	if heightM <= 0 {
		heightM = math.NaN()
	}
	at := func(c Column, i int) float64 {
		if col := v.Days.cols[c]; col != nil {
			return col[i]
		}
		return math.NaN()
	}
	doy := v.Days.Start.YearDay()
	for i := range n {
		day := agromet.Day{
			TmaxC: at(TmaxC, i), TminC: at(TminC, i), RainMM: at(RainMM, i),
			DewC: at(DewC, i), RHMaxPct: at(RHMaxPct, i), RHMinPct: at(RHMinPct, i), RHMeanPct: at(RHMeanPct, i),
			WindMS: at(WindMS, i), WindHeightM: heightM,
			SunH: at(SunH, i), CloudPct: at(CloudPct, i), SolarMJ: at(SolarMJ, i),
		}
		if v.basis[WindMS] != nil && v.basis[WindMS][i] > Observed {
			day.WindHeightM = forecastWindHeightM
		}
		out := agromet.Derive(site, doy, day)
		f.TmeanC[i] = (day.TmaxC + day.TminC) / 2
		f.DaylightH[i], f.RaMJ[i], f.RsMJ[i] = out.DaylightH, out.RaMJ, out.RsMJ
		f.ETMM[i], f.LightMol[i] = out.ETMM, out.DLIMol
		f.Radiation[i], f.Humidity[i], f.Wind[i] = out.Radiation, out.Humidity, out.Wind
		if doy++; doy > 365 {
			doy = v.Days.Start.AddDays(i + 1).YearDay()
		}
	}
	f.soil(agromet.SoilAt5cm(), Soil5C, f.Soil5C, f.Soil5By)
	f.soil(agromet.SoilAt10cm(), Soil10C, f.Soil10C, f.Soil10By)
	return f
}

// Index returns the place of a day in the slices, and whether it is among them.
func (f *Felt) Index(d civil.Date) (int, bool) { return f.View.Days.Index(d) }

// Basis returns the basis of the day's mean temperature, on which everything
// derived rests: Observed if both its maximum and its minimum were observed,
// Missing if one is missing, else that of the one that was not observed.
func (f *Felt) Basis(d civil.Date) Basis {
	hi, lo := f.View.Basis(TmaxC, d), f.View.Basis(TminC, d)
	if hi == Missing || lo == Missing {
		return Missing
	}
	return max(hi, lo)
}
