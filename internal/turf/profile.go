package turf

import "ligule/internal/diag"

// Kind is the physiological group of a grass.
type Kind string

// The kinds: C4 and C3 grasses.
const (
	WarmSeason Kind = "warm-season"
	CoolSeason Kind = "cool-season"
)

// TallFescueCubic names the only cold curve: see [TallFescueLeafGrowthPct].
const TallFescueCubic = "tall-fescue-cubic"

// Profile holds the figures of one grass.
type Profile struct {
	ID        string // the name of its file
	Name      string // as readers know it
	Soft      string // the same with soft hyphens, at which a narrow column may break it
	Botanical string
	Kind      Kind

	OptimumC        float64 // air temperature of fastest growth, °C
	SpreadC         float64 // standard deviation of the bell around it, °C
	Capped          bool    // no fall above the optimum
	ColdCurve       string  // curve used below 20 °C in place of the bell: "" or TallFescueCubic
	LightFullMol    float64 // daily light integral from which light limits no more, mol m⁻² d⁻¹
	DayLengthLimits bool    // short days slow it
	PeakHeightMMD   float64 // growth in height at a growth index of 1, mm d⁻¹

	SoilDormantC float64 // dormant below this 7-day mean of the soil at 10 cm, °C
	SoilGreenUpC float64 // green-up from this 7-day mean on, °C; NaN where none is published
	WinterKillC  float64 // temperature that kills, °C; NaN where none is published

	MowLowMM, MowUsualMM, MowHighMM float64 // cutting heights, mm

	NLowGM2, NMediumGM2, NHighGM2 float64 // nitrogen a year by level of care, g m⁻²
	NSingleGM2                    float64 // most nitrogen at one time, g m⁻²

	Kc          float64 // crop coefficient of green turf
	KcDormant   float64 // and of dormant, unfrozen turf
	RootDepthMM float64
	Depletion   float64 // depletion fraction p at 5 mm d⁻¹

	Shade, Drought, Salt, Cold string // tolerance: "low" … "high", "not rated"

	Cites []Cite
}

// Standing is how well a figure is established.
type Standing string

// The standings.
const (
	Verified   Standing = "verified"   // read in the publication
	FromMemory Standing = "memory"     // known from it, not looked up
	Practice   Standing = "practice"   // common in the trade
	Ours       Standing = "own design" // our own
)

// Standings lists the standings as files name them.
func Standings() []string {
	return []string{string(Verified), string(FromMemory), string(Practice), string(Ours)}
}

// Cite says where figures of a file come from.
type Cite struct {
	Section  string // table of the file, "growth", or one figure of it, "growth.light_full"
	Source   string // id of the bibliography, "common practice" or "own design"
	Standing Standing
	Note     string   // what exactly was taken; may be empty
	Pos      diag.Pos // of the source in its file
}
