package turf

import (
	"ligule/internal/civil"
	"ligule/internal/weather"
)

// Daily is what every day of a station's weather did to one grass on one soil.
type Daily struct {
	Profile *Profile
	Soil    Soil
	Felt    *weather.Felt
	TAWMM   float64

	// One value per day of Felt.
	DepletionMM []float64 // at the end of the day
	FW          []float64 // water factor, 0 to 1
	ETcMM       []float64 // evapotranspiration under stress
	DrainageMM  []float64 // below the roots
	RunoffMM    []float64
	BalanceOK   []bool // false: withheld
}

// Run works out every day of f.
func Run(p *Profile, soil Soil, f *weather.Felt) *Daily {
	return &Daily{Profile: p, Soil: soil, Felt: f}
}

// At returns what an issue may know.
func (d *Daily) At(issue civil.Date) Reading { return Reading{} }
