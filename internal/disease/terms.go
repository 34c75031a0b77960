package disease

import (
	"strconv"

	"ligule/internal/quantity"
)

// Term is a figure of a weather model.
type Term struct {
	Key   string // in the disease's file; "air_1" to "air_4" are the knees of "air"
	Value float64
	Dim   quantity.Dimension
}

// Terms returns the figures of the model as its file gives them, in a fixed
// order; nil for a disease without a daily risk.
func (m *RiskModel) Terms() []Term {
	if m.daily == nil {
		return nil
	}
	return m.daily.terms()
}

// FileKey is the key of the file that the figure was read from.
func (t Term) FileKey() string {
	if n := len(t.Key) - 2; n > 0 && t.Key[n] == '_' && t.Key[n+1] >= '1' && t.Key[n+1] <= '4' {
		return t.Key[:n]
	}
	return t.Key
}

func kneeTerms(key string, c [4]float64) []Term {
	out := make([]Term, 0, len(c))
	for i, x := range c {
		out = append(out, Term{key + "_" + strconv.Itoa(i+1), x, quantity.Temperature})
	}
	return out
}

func (m *dollarSpotModel) terms() []Term {
	return []Term{{"slow_above", m.hotC, quantity.Temperature}, {"slow_days", float64(m.hotDays), quantity.Number}, {"slow_to", m.hotFactor, quantity.Number}}
}

func (m *brownPatchModel) terms() []Term {
	return []Term{{"risk_from", m.from, quantity.Number}, {"risk_full", m.full, quantity.Number},
		{"soil_from", m.soilC, quantity.Temperature}, {"allowance", m.allowance, quantity.Number}}
}

func (m *largePatchModel) terms() []Term {
	return append(kneeTerms("soil", m.soil), Term{"wet_day", m.wetDayMM, quantity.Depth}, Term{"wet_span", m.wetSpanMM, quantity.Depth},
		Term{"damp", m.damp, quantity.Number}, Term{"dry", m.dry, quantity.Number})
}

func (m *grayLeafSpotModel) terms() []Term {
	return []Term{{"night_from", m.nightFromC, quantity.Temperature}, {"night_to", m.nightToC, quantity.Temperature},
		{"best_from", m.bestFromC, quantity.Temperature}, {"best_to", m.bestToC, quantity.Temperature},
		{"best_wetness", m.bestH, quantity.Hours}, {"other_wetness", m.otherH, quantity.Hours}, {"young_factor", m.young, quantity.Number},
		{"rain_day", m.rainDayMM, quantity.Depth}, {"rain_days", float64(m.rainDays), quantity.Number},
		{"rainy", m.rainy, quantity.Number}, {"warm", m.warm, quantity.Number}}
}

func (m *pythiumModel) terms() []Term {
	return []Term{{"day_above", m.dayC, quantity.Temperature}, {"night_above", m.nightC, quantity.Temperature},
		{"humidity", m.humidPct, quantity.Percent}, {"rain", m.wetMM, quantity.Depth},
		{"mild_day", m.mildDayC, quantity.Temperature}, {"mild_night", m.mildNightC, quantity.Temperature}, {"mild_rain", m.mildWetMM, quantity.Depth},
		{"wet", m.wet, quantity.Number}, {"warm", m.warm, quantity.Number}}
}

func (m *wetSpellModel) terms() []Term {
	return append(kneeTerms("air", m.air), Term{"wetness", m.needH, quantity.Hours}, Term{"rain_day", m.rainDayMM, quantity.Depth},
		Term{"rain_days", m.rainDays, quantity.Number})
}

func (m *snowCoverModel) terms() []Term {
	return []Term{{"from", m.fromDays, quantity.Time}, {"full", m.fullDays, quantity.Time}}
}

// SlowGrowth reports whether only grass that grows slowly is at risk.
func (m *RiskModel) SlowGrowth() bool { return m.slow }
