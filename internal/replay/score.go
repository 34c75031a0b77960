package replay

import (
	"encoding/json"
	"math"

	"ligule/internal/agromet"
	"ligule/internal/message"
)

// Score is one measure of warnings.
type Score struct {
	Code string // by which forecast verification knows it: "POD"
	// Value is NaN where it cannot be told: of no warnings at all, none failed
	// and none held.
	Value     float64
	Low, High float64 // its 95 % interval (Wilson's); NaN where none is told

	// As it is printed, nil where it cannot be told.
	Name, Printed, Interval *message.Said
}

func newScore(code string, value, low, high float64) Score {
	number := func(x float64) message.Value { return message.Number(x, 2) }
	return Score{code, value, low, high, message.Say(message.New("replay_score." + code)),
		just(number(value)), just(message.List(message.Range, number(low), number(high)))}
}

func just(v message.Value) *message.Said { return message.Say(message.Just(v)) }

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
		Value *float64 `json:"value"`
		Low   *float64 `json:"low,omitempty"`
		High  *float64 `json:"high,omitempty"`
	}{s.Code, number(s.Value), number(s.Low), number(s.High)})
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
	share := func(code string, value, k, n float64) Score {
		low, high := agromet.Wilson(k, n)
		return newScore(code, value, low, high)
	}
	return []Score{
		share("POD", c.HitRate(), c.Hits, c.Hits+c.Misses),
		share("FAR", c.FalseAlarmRatio(), c.FalseAlarms, c.Hits+c.FalseAlarms),
		share("POFD", c.FalseAlarmRate(), c.FalseAlarms, c.FalseAlarms+c.Correct),
		plain("bias", c.Bias()),
		plain("CSI", c.ThreatScore()),
		plain("PSS", c.Peirce()),
		plain("HSS", c.Heidke()),
		plain("ETS", c.EquitableThreat()),
	}
}

func brierScores(b agromet.Brier) []Score {
	return []Score{
		plain("BS", b.Score),
		plain("REL", b.Reliability),
		plain("RES", b.Resolution),
		plain("UNC", b.Uncertainty),
		plain("BSS", b.Skill()),
	}
}

func plain(code string, value float64) Score { return newScore(code, value, math.NaN(), math.NaN()) }
