package disease

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/pest"
	"ligule/internal/turf"
)

// RiskModel is the weather model of a disease with the figures of its file.
type RiskModel struct {
	Name    string    // one of the names that a file may give
	Cite    turf.Cite // of its table
	daily   dailyModel
	Terms   []Term   // the figures of daily, in the order of the file; none without a daily risk
	Remarks []string // codes of what else its file says
	// byHost: the risk goes down with the rank of the host.
	byHost bool
	// byState: the risk goes with how open the grass is to it: the slower it grows.
	byState bool
}

// Term is a figure of a weather model.
type Term struct {
	Key string // in the disease's file; "air_1" to "air_4" are the knees of "air"
	pest.Figure
}

// The names of the models.
const (
	ModelDollarSpot   = "dollar-spot"
	ModelBrownPatch   = "brown-patch"
	ModelLargePatch   = "large-patch"
	ModelGrayLeafSpot = "gray-leaf-spot"
	ModelPythium      = "pythium-blight"
	ModelWetSpell     = "wet-spell"
	ModelSnowCover    = "snow-cover"
	ModelSoilWindow   = "soil-window" // a season, no daily risk
	ModelNone         = "none"        // pages only
)

func modelNames() []string {
	return []string{ModelDollarSpot, ModelBrownPatch, ModelLargePatch, ModelGrayLeafSpot, ModelPythium, ModelWetSpell, ModelSnowCover, ModelSoilWindow, ModelNone}
}

// Reads lists what the risk of a day is worked out from: temperature, rain, humidity,
// soil, snow. A test changes each and sees whether the risk changes.
func (m *RiskModel) Reads() []string {
	switch d := m.daily.(type) {
	case *dollarSpotModel:
		return []string{"temperature", "humidity"}
	case *brownPatchModel:
		return []string{"temperature", "humidity", "soil"}
	case *largePatchModel:
		return []string{"temperature", "rain", "soil"}
	case *grayLeafSpotModel:
		return []string{"temperature", "rain", "humidity"}
	case *pythiumModel:
		return []string{"temperature", "rain", "humidity"}
	case *wetSpellModel:
		if d.warming != d.cooling {
			return []string{"temperature", "rain", "humidity", "soil"}
		}
		return []string{"temperature", "rain", "humidity"}
	case *snowCoverModel:
		return []string{"snow"}
	}
	return []string{"soil"} // a season
}

// dailyModel gives the risk of one day, from that day and days before it alone.
type dailyModel interface {
	day(w *pest.Days, i int) dayRisk
}

// dayRisk is the risk of a day, 0 to 1, NaN where flags say what is lacking.
type dayRisk struct {
	risk  float64
	flags riskFlags
}

// riskFlags say what a risk rests on, or lacks.
type riskFlags uint8

const (
	humidityEstimated riskFlags = 1 << iota
	outsideCold                 // the model says nothing; counted as no risk
	outsideHot
	lacksTemperature
	lacksRain
	lacksHumidity
	lacksSoil
	lacksSnow
)

const outside = outsideCold | outsideHot

func unknownRisk(why riskFlags) dayRisk { return dayRisk{math.NaN(), why} }

// words lists what is lacking, in a fixed order.
func (f riskFlags) words() []string {
	var out []string
	for _, c := range [...]struct {
		flag riskFlags
		word string
	}{{lacksTemperature, "temperature"}, {lacksRain, "rain"}, {lacksHumidity, "humidity"}, {lacksSoil, "soil"}, {lacksSnow, "snow"}} {
		if f&c.flag != 0 {
			out = append(out, c.word)
		}
	}
	return out
}

// factor returns what the risks of a week are multiplied by: NaN if it hangs on
// the growth of the grass and that is not known. Own design.
func (m *RiskModel) factor(state turf.State, host int) float64 {
	x := 1.0
	if m.byHost {
		x = float64(host) / pest.MainHost
	}
	if m.byState {
		x *= openness(state)
	}
	return x
}

// grayLeafSpotModel: warm nights with long wetness. Without wetness, warm nights
// with rain on most days. The rates are those of fact sheets; that they hold for
// days, and all of the fallback, is own design.
type grayLeafSpotModel struct {
	nightFromC, nightToC float64 // °C
	bestFromC, bestToC   float64 // where bestH hours of wetness are enough
	bestH, otherH        float64
	young                float64 // factor for a lawn of less than a year
	rainDayMM            float64
	rainDays             int     // of five
	rainy, warm          float64 // risk of a warm night after such rain, and without
}

const grayLeafSpotRainDays = 5

func (m *grayLeafSpotModel) day(w *pest.Days, i int) dayRisk {
	night := (w.TmeanC[i] + w.TminC[i]) / 2
	switch {
	case math.IsNaN(night):
		return unknownRisk(lacksTemperature)
	case night < m.nightFromC || night > m.nightToC:
		return dayRisk{0, 0}
	}
	r := m.fromWetness(night, w.WetH[i])
	if math.IsNaN(r) {
		if i < grayLeafSpotRainDays-1 {
			return unknownRisk(lacksRain)
		}
		wet, r2 := 0, m.warm
		for _, mm := range w.RainMM[i-grayLeafSpotRainDays+1 : i+1] {
			if math.IsNaN(mm) {
				return unknownRisk(lacksRain)
			}
			if mm >= m.rainDayMM {
				wet++
			}
		}
		if wet >= m.rainDays {
			r2 = m.rainy
		}
		r = r2
	}
	if w.Young {
		r = min(1, r*m.young)
	}
	return dayRisk{r, 0}
}

func (m *grayLeafSpotModel) fromWetness(nightC, wetH float64) float64 {
	need := m.otherH
	if nightC >= m.bestFromC && nightC <= m.bestToC {
		need = m.bestH
	}
	return wetShare(wetH, need)
}

// coolingC is by how much the month of soil has to be colder than three weeks before
// for the year to count as cooling. Own design.
const coolingC = 1.0

// cooling reports whether the year cools; not while that is not known.
func cooling(w *pest.Days, i int) bool { return agromet.Trend(w.SoilC, i) <= -coolingC }

// wetShare is 0 at half of the wetness needed and 1 at all of it, in hours of a day
// or in days of a week. Own design.
func wetShare(wet, need float64) float64 { return min(max((wet/need-0.5)/0.5, 0), 1) }

// wetSpellModel is for the diseases of which a span of temperature and hours of
// wetness are told: a trapezoid of the seven-day mean temperature times wetness.
// Without hours of wetness, the days with rain. Own design.
type wetSpellModel struct {
	air       [4]float64 // °C
	highs     bool       // of the daily maxima; else of the daily means
	needH     float64
	rainDayMM float64
	rainDays  float64 // of seven, for full wetness
	// The share that counts while the soil warms through the year, and while it cools.
	warming, cooling float64
}

func (m *wetSpellModel) day(w *pest.Days, i int) dayRisk {
	of := w.TmeanC
	if m.highs {
		of = w.TmaxC
	}
	warmth := trapezoid(weekMean(of, i), m.air[0], m.air[1], m.air[2], m.air[3])
	switch {
	case math.IsNaN(warmth), math.IsNaN(weekMean(w.TmeanC, i)):
		return unknownRisk(lacksTemperature)
	case m.warming != m.cooling && math.IsNaN(w.SoilC[i]):
		return unknownRisk(lacksSoil)
	case warmth == 0:
		return dayRisk{0, 0}
	case m.warming != m.cooling && cooling(w, i):
		warmth *= m.cooling
	default:
		warmth *= m.warming
	}
	if warmth == 0 {
		return dayRisk{0, 0}
	}
	wet := wetShare(w.WetH[i], m.needH)
	if math.IsNaN(wet) {
		days := 0
		for _, mm := range w.RainMM[i-pest.WeekDays+1 : i+1] {
			if math.IsNaN(mm) {
				return unknownRisk(lacksRain)
			}
			if mm >= m.rainDayMM {
				days++
			}
		}
		wet = wetShare(float64(days), m.rainDays)
	}
	return dayRisk{warmth * wet, 0}
}

// snowCoverModel goes by the days that snow has lain. That the ground was not
// frozen when it came is not known. Own design.
type snowCoverModel struct {
	fromDays, fullDays float64 // days of cover at a risk of 0 and of 1
}

func (m *snowCoverModel) day(w *pest.Days, i int) dayRisk {
	n := w.CoverDays[i]
	if math.IsNaN(n) {
		return unknownRisk(lacksSnow)
	}
	return dayRisk{min(max((n-m.fromDays)/(m.fullDays-m.fromDays), 0), 1), 0}
}

// weekMean returns the mean of the seven days that end with i, from five known
// days on.
func weekMean(x []float64, i int) float64 {
	if i < pest.WeekDays-1 {
		return math.NaN()
	}
	return ObservedScore(x[i-pest.WeekDays+1 : i+1])
}

// soilOrAirC returns the soil temperature, or where there is none the mean air
// temperature of the week.
func soilOrAirC(w *pest.Days, i int) float64 {
	if s := w.SoilC[i]; !math.IsNaN(s) {
		return s
	}
	return weekMean(w.TmeanC, i)
}
