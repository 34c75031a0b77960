package replay

import (
	"encoding/json"
	"fmt"
	"math"

	"ligule/internal/agromet"
)

// Score is one measure of warnings, by the name that forecast verification gives
// it.
type Score struct {
	Code string // "POD"
	Name string // "hit rate"
	// Value is NaN where it cannot be told: of no warnings at all, none failed
	// and none held.
	Value     float64
	Low, High float64 // its 95 % interval (Wilson's); NaN where none is told
}

// Printed is the value to two decimals; "" where it cannot be told.
func (s Score) Printed() string {
	if math.IsNaN(s.Value) {
		return ""
	}
	return fmt.Sprintf("%.2f", s.Value)
}

// Interval is the interval in the same way; "" where none is told.
func (s Score) Interval() string {
	if math.IsNaN(s.Value) || math.IsNaN(s.Low) {
		return ""
	}
	return fmt.Sprintf("%.2f to %.2f", s.Low, s.High)
}

// MarshalJSON writes null for what cannot be told.
func (s Score) MarshalJSON() ([]byte, error) {
	number := func(x float64) *float64 {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil
		}
		return &x
	}
	return json.Marshal(struct {
		Code  string   `json:"code"`
		Name  string   `json:"name"`
		Value *float64 `json:"value"`
		Low   *float64 `json:"low,omitempty"`
		High  *float64 `json:"high,omitempty"`
	}{s.Code, s.Name, number(s.Value), number(s.Low), number(s.High)})
}

// score fills in the scores, if there are enough finds for them to mean
// anything.
func (t *Tally) score() {
	if t.Events() >= leastEvents {
		t.Act.Scores, t.Watch.Scores = t.Act.scores(), t.Watch.scores()
	}
}

func (l Level) scores() []Score {
	c := agromet.Contingency{Hits: float64(l.Hits), FalseAlarms: float64(l.FalseAlarms), Misses: float64(l.Misses), Correct: float64(l.Correct)}
	share := func(code, name string, value, k, n float64) Score {
		low, high := agromet.Wilson(k, n)
		return Score{code, name, value, low, high}
	}
	return []Score{
		share("POD", "hit rate", c.HitRate(), c.Hits, c.Hits+c.Misses),
		share("FAR", "false alarm ratio", c.FalseAlarmRatio(), c.FalseAlarms, c.Hits+c.FalseAlarms),
		share("POFD", "false alarm rate", c.FalseAlarmRate(), c.FalseAlarms, c.FalseAlarms+c.Correct),
		plain("bias", "warnings per find", c.Bias()),
		plain("CSI", "threat score", c.ThreatScore()),
		plain("PSS", "Peirce skill score", c.Peirce()),
		plain("HSS", "Heidke skill score", c.Heidke()),
		plain("ETS", "equitable threat score", c.EquitableThreat()),
	}
}

func brierScores(b agromet.Brier) []Score {
	return []Score{
		plain("BS", "Brier score", b.Score),
		plain("REL", "reliability", b.Reliability),
		plain("RES", "resolution", b.Resolution),
		plain("UNC", "uncertainty", b.Uncertainty),
		plain("BSS", "Brier skill score", b.Skill()),
	}
}

func plain(code, name string, value float64) Score {
	return Score{code, name, value, math.NaN(), math.NaN()}
}
