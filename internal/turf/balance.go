package turf

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

const (
	// greenSoilC is the soil temperature from which a cool-season lawn
	// transpires in full; toward 0 °C it falls to the dormant coefficient.
	// Own design.
	greenSoilC = 5.0

	// snowCoverMM is the depth of snow that counts as a cover. Own design.
	snowCoverMM = 25.0

	// droughtFW and droughtDays: that little water for that long makes a
	// lawn dormant. Own design.
	droughtFW   = 0.2
	droughtDays = 21

	// FreezeNightsDormant nights of 28 °F or less, since FreezeSeasonMonth
	// began, put warm-season turf to sleep, until the soil is warm enough for
	// green-up. Spring freezes on turf that has greened up set it back, but do
	// not put it to sleep. Own design.
	FreezeNightsDormant = 2
	FreezeSeasonMonth   = 9
)

// Daily is what every day of a station's weather did to one grass on one
// soil. Its slices have one value per day of Felt; NaN is "cannot be said".
// They are not to be changed.
type Daily struct {
	Profile *Profile
	Soil    Soil
	Felt    *weather.Felt
	TAWMM   float64 // total available water of the root zone
	RAWMM   float64 // readily available water

	DepletionMM []float64 // root-zone depletion at the end of the day
	FW          []float64 // water factor, 0 to 1; NaN where BalanceOK is false
	ETcMM       []float64 // evapotranspiration of the turf under stress, mm
	DrainageMM  []float64 // lost below the roots
	RunoffMM    []float64 // rain that ran off
	BalanceOK   []bool    // false while the balance spins up, and in gaps

	rootZoneC []float64       // 7-day mean of the soil at 10 cm, else of the air, °C
	basis     []weather.Basis // of the day's temperatures
	freezes   []int16         // nights of 28 °F or less since 1 September
	greenedUp []bool          // the 7-day soil mean has reached green-up since 1 January
	frozen    []bool          // put to sleep by freezes, and the soil has not reached green-up since
	droughts  []int16         // days in a row with a water factor below droughtFW
}

// Run carries a grass through every day of f: the balance of its root zone
// without irrigation, and what the states need to look back on. The balance
// starts at half of the readily available water and is withheld for the first
// [agromet.BalanceSpinUpDays]; after more than two missing days in a row it
// starts again. It allocates a fixed number of times.
//
// The balance is that of [agromet.BalanceStep]. The crop coefficient goes with
// the green fraction of the lawn, see greenFraction; rain of 25 mm or more
// loses what TR-55 lets run off a lawn in good condition on that soil.
func Run(p *Profile, soil Soil, f *weather.Felt) *Daily {
	n := f.View.Days.Len()
	cols := make([]float64, 6*n)
	flags := make([]bool, 3*n)
	counts := make([]int16, 2*n)
	d := &Daily{
		Profile: p, Soil: soil, Felt: f,
		TAWMM:       agromet.TotalAvailableWaterMM(soil.FieldCapacity, soil.WiltingPoint, p.RootDepthMM/1000),
		DepletionMM: cols[0*n : 1*n : 1*n],
		FW:          cols[1*n : 2*n : 2*n],
		ETcMM:       cols[2*n : 3*n : 3*n],
		DrainageMM:  cols[3*n : 4*n : 4*n],
		RunoffMM:    cols[4*n : 5*n : 5*n],
		rootZoneC:   cols[5*n:],
		BalanceOK:   flags[:n:n],
		greenedUp:   flags[n : 2*n : 2*n],
		frozen:      flags[2*n:],
		freezes:     counts[:n:n],
		droughts:    counts[n:],
		basis:       make([]weather.Basis, n),
	}
	d.RAWMM = agromet.ReadilyAvailableWaterMM(d.TAWMM, p.Depletion)
	for i := range d.rootZoneC {
		d.rootZoneC[i] = soilOrAirC(f, i)
	}
	d.runBalance()
	d.runMemory()
	return d
}

// runBalance fills the slices of the balance.
func (d *Daily) runBalance() {
	p, f := d.Profile, d.Felt
	rain := f.View.Days.Col(weather.RainMM)
	snow := f.View.Days.Col(weather.SnowDepthMM)
	cn := d.Soil.curveNumber()
	nan := math.NaN()
	depletion, age, gap := d.RAWMM/2, 0, 0
	for i := range d.FW {
		d.DepletionMM[i], d.FW[i], d.ETcMM[i], d.DrainageMM[i], d.RunoffMM[i] = nan, nan, nan, nan, nan
		et, rainMM := f.ETMM[i], nan
		if rain != nil {
			rainMM = rain[i]
		}
		soilC := d.rootZoneC[i]
		if math.IsNaN(soilC) {
			soilC = f.TmeanC[i] // too few days since a gap
		}
		if math.IsNaN(et + rainMM + soilC) {
			if gap++; gap > weather.GapMaxDays {
				depletion, age = d.RAWMM/2, 0
			}
			continue
		}
		gap = 0
		etc := agromet.CropCoefficient(p.KcDormant, p.Kc, p.greenFraction(soilC)) * et
		if f.Soil5C[i] <= 0 || snow != nil && snow[i] >= snowCoverMM {
			etc = agromet.FrozenETcMM
		}
		runoff := 0.0
		if rainMM >= agromet.LeastRunoffRainMM {
			runoff = agromet.RunoffMM(rainMM, cn)
		}
		day := agromet.BalanceStep(agromet.BalanceInput{
			DepletionMM: depletion, TAWMM: d.TAWMM, P: agromet.DepletionFraction(p.Depletion, etc),
			ETMM: et, ETcMM: etc, RainMM: rainMM, RunoffMM: runoff,
		})
		depletion = day.DepletionMM
		age++
		d.DepletionMM[i], d.ETcMM[i] = day.DepletionMM, day.ETcAdjMM
		d.DrainageMM[i], d.RunoffMM[i] = day.PercolationMM, runoff
		if age > agromet.BalanceSpinUpDays {
			d.BalanceOK[i] = true
			d.FW[i] = waterFactor(p, depletion, d.TAWMM)
		}
	}
}

// runMemory fills what the states look back on.
func (d *Daily) runMemory() {
	v := d.Felt.View
	tmin := v.Days.Col(weather.TminC)
	var freezes, droughts, sinceWarm int16 // sinceWarm: freezes since the soil was last warm enough for green-up
	greenedUp := false
	for i := range d.basis {
		date := d.Felt.Start.AddDays(i)
		d.basis[i] = d.Felt.Basis(date)
		switch _, month, day := date.YMD(); {
		case month == FreezeSeasonMonth && day == 1:
			freezes, sinceWarm = 0, 0
		case month == 1 && day == 1:
			greenedUp = false
		}
		if tmin != nil && agromet.ClassifyFrost(tmin[i]) == agromet.HardFreeze {
			// A minimum held over a gap is no second freeze.
			if b := v.Basis(weather.TminC, date); b == weather.Observed || b == weather.ForecastDay {
				freezes++
				sinceWarm++
			}
		}
		if quantity.Thousandths(d.rootZoneC[i]) >= quantity.Thousandths(d.Profile.SoilGreenUpC) {
			greenedUp, sinceWarm = true, 0
		}
		spring := greenedUp && date.Month() < FreezeSeasonMonth
		if quantity.Thousandths(d.FW[i]) < droughtFW {
			droughts++
		} else {
			droughts = 0
		}
		d.freezes[i], d.droughts[i], d.greenedUp[i] = freezes, droughts, greenedUp
		d.frozen[i] = sinceWarm >= FreezeNightsDormant && !spring
	}
}

// soilOrAirC returns the mean of the soil at 10 cm over the week that ends
// with day i, from five known days on; else that of the air; else NaN.
func soilOrAirC(f *weather.Felt, i int) float64 {
	for _, col := range [...][]float64{f.Soil10C, f.TmeanC} {
		var week agromet.Known
		for _, x := range col[max(0, i-weather.WindowDays+1) : i+1] {
			week.Add(x)
		}
		if mean := week.Mean(min(weather.WindowValid, i+1)); !math.IsNaN(mean) {
			return mean
		}
	}
	return math.NaN()
}

// greenFraction returns how green the lawn is, 0 to 1, at the 7-day mean
// soilC of the soil at 10 cm (°C): from 0 at the temperature of dormancy to 1
// at that of green-up; of a grass without a published green-up, from 0 at
// 0 °C to 1 at 5 °C. Own design.
func (p *Profile) greenFraction(soilC float64) float64 {
	if math.IsNaN(p.SoilGreenUpC) {
		return clamp01(soilC / greenSoilC)
	}
	return clamp01((soilC - p.SoilDormantC) / (p.SoilGreenUpC - p.SoilDormantC))
}
