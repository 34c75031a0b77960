package agromet

import "math"

// Contingency counts warnings against events, of times at which both are known:
// hits, false alarms, misses, and no warning where nothing happened.
type Contingency struct{ Hits, FalseAlarms, Misses, Correct float64 }

// The scores below are those of the World Meteorological Organization's and
// national services' verification pages, checked with the tornado forecasts of
// Finley 1884. A score whose denominator is 0 is NaN: to be printed as a dash.

func (c Contingency) all() float64 { return c.Hits + c.FalseAlarms + c.Misses + c.Correct }

// ratio is NaN for a denominator of 0.
func ratio(a, b float64) float64 {
	if b == 0 {
		return math.NaN()
	}
	return a / b
}

// HitRate is the share of events that were warned of (POD).
func (c Contingency) HitRate() float64 { return ratio(c.Hits, c.Hits+c.Misses) }

// FalseAlarmRatio is the share of warnings that failed (FAR).
func (c Contingency) FalseAlarmRatio() float64 {
	return ratio(c.FalseAlarms, c.Hits+c.FalseAlarms)
}

// FalseAlarmRate is the share of times without an event that were warned of
// (POFD): not the ratio.
func (c Contingency) FalseAlarmRate() float64 {
	return ratio(c.FalseAlarms, c.FalseAlarms+c.Correct)
}

// Bias is warnings per event.
func (c Contingency) Bias() float64 { return ratio(c.Hits+c.FalseAlarms, c.Hits+c.Misses) }

// ThreatScore is the critical success index (CSI), which leaves out times
// without warning or event.
func (c Contingency) ThreatScore() float64 {
	return ratio(c.Hits, c.Hits+c.FalseAlarms+c.Misses)
}

// Peirce is the hit rate less the false alarm rate (true skill statistic).
func (c Contingency) Peirce() float64 { return c.HitRate() - c.FalseAlarmRate() }

// RandomHits are the hits that chance would give.
func (c Contingency) RandomHits() float64 {
	return ratio((c.Hits+c.FalseAlarms)*(c.Hits+c.Misses), c.all())
}

// Heidke is the skill over chance (HSS).
func (c Contingency) Heidke() float64 {
	a, b, m, d := c.Hits, c.FalseAlarms, c.Misses, c.Correct
	return ratio(2*(a*d-b*m), (a+m)*(m+d)+(a+b)*(b+d))
}

// EquitableThreat is the threat score less chance (ETS, Gilbert skill score).
func (c Contingency) EquitableThreat() float64 {
	r := c.RandomHits()
	return ratio(c.Hits-r, c.Hits+c.FalseAlarms+c.Misses-r)
}

const z95 = 1.96

// Wilson returns the 95 % interval of a share of k in n (Wilson's score
// interval); NaN for n of 0.
func Wilson(k, n float64) (low, high float64) {
	if n == 0 {
		return math.NaN(), math.NaN()
	}
	p, z2 := k/n, z95*z95
	mid := (p + z2/(2*n)) / (1 + z2/n)
	half := z95 * math.Sqrt(p*(1-p)/n+z2/(4*n*n)) / (1 + z2/n)
	return max(0, mid-half), min(1, mid+half)
}

// Brier holds the Brier score with its decomposition of Murphy 1973: reliability
// less resolution plus uncertainty. It is exact where equal probabilities are
// counted together, as here.
type Brier struct{ Score, Reliability, Resolution, Uncertainty float64 }

// BrierOf returns the score of probabilities p, 0 to 1, against outcomes, in the
// same order; all NaN for none.
func BrierOf(p []float64, happened []bool) Brier {
	n := float64(len(p))
	if n == 0 {
		nan := math.NaN()
		return Brier{nan, nan, nan, nan}
	}
	var b Brier
	events := 0.0
	for i := range p {
		o := 0.0
		if happened[i] {
			o = 1
		}
		events += o
		b.Score += square(p[i]-o) / n
	}
	base := events / n
	b.Uncertainty = base * (1 - base)
	for i, x := range p {
		// Each value once, at its first place.
		k, seen, first := 0.0, 0.0, true
		for j, y := range p {
			if x != y {
				continue
			}
			first = first && j >= i
			seen++
			if happened[j] {
				k++
			}
		}
		if !first {
			continue
		}
		b.Reliability += seen * square(x-k/seen) / n
		b.Resolution += seen * square(k/seen-base) / n
	}
	return b
}

// Skill is the Brier skill score against the frequency of the same sample; NaN
// where everything or nothing happened.
func (b Brier) Skill() float64 { return 1 - ratio(b.Score, b.Uncertainty) }

func square(x float64) float64 { return x * x }
