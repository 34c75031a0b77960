package agromet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// Scores of warnings. Finley's tornado forecasts of 1884 are the classical check.
func TestPublishedVerificationScores(t *testing.T) {
	finley := Contingency{28, 72, 23, 2680}
	for _, c := range []struct {
		name           string
		got, want, tol float64
	}{
		{"hit rate", finley.HitRate(), .5490, .0001},
		{"false alarm ratio", finley.FalseAlarmRatio(), .7200, .0001}, {"false alarm rate", finley.FalseAlarmRate(), .0262, .0001},
		{"bias", finley.Bias(), 1.9608, .0001}, {"threat score", finley.ThreatScore(), .2276, .0001}, {"Peirce", finley.Peirce(), .5229, .0001},
		{"Heidke", finley.Heidke(), .3553, .0001}, {"equitable threat", finley.EquitableThreat(), .2160, .0001},
		{"random hits", finley.RandomHits(), 1.819, .0005},
	} {
		t.Run("Finley 1884: "+c.name, func(t *testing.T) { assert.InDelta(t, c.want, c.got, c.tol) })
	}
	k, n := Wilson(14, 16)
	t.Run("Danneberger, Vargas & Jones 1984: 14 of 16", func(t *testing.T) {
		assert.InDelta(t, .8750, Contingency{Hits: 14, Misses: 2}.HitRate(), .0001)
		assert.InDelta(t, .6398, k, .0001)
		assert.InDelta(t, .9650, n, .0001)
	})
	// A national verification page of probabilities of rain, from its rounded
	// figures.
	for _, c := range []struct {
		name                                          string
		score, rel, res, unc, printed, skill, allowed float64
	}{
		{"24 h rain", .144, .025, .060, .179, .194, .1955, .005}, {"24 h heavy rain", .037, .003, .020, .054, .312, .3148, .016},
		{"48 h rain", .178, .027, .036, .187, .047, .0481, .005}, {"48 h heavy rain", .044, .003, .011, .052, .146, .1538, .018},
	} {
		t.Run("Bureau of Meteorology: "+c.name, func(t *testing.T) {
			assert.InDelta(t, c.score, c.rel-c.res+c.unc, .0005)
			skill := Brier{Score: c.score, Uncertainty: c.unc}.Skill()
			assert.InDelta(t, c.skill, skill, .0001)
			assert.InDelta(t, c.printed, skill, c.allowed)
			assert.InDelta(t, c.allowed, .0005/c.unc*(1+c.score/c.unc), .0011)
		})
	}
}

// Invented tables.
func TestOwnDesignVerificationScores(t *testing.T) {
	c := Contingency{9, 6, 3, 22}
	for name, x := range map[string][2]float64{
		"hit rate": {.7500, c.HitRate()}, "false alarm ratio": {.4000, c.FalseAlarmRatio()}, "false alarm rate": {.2143, c.FalseAlarmRate()},
		"bias": {1.25, c.Bias()}, "threat": {.5000, c.ThreatScore()}, "Peirce": {.5357, c.Peirce()}, "Heidke": {.5000, c.Heidke()}, "equitable": {.3333, c.EquitableThreat()},
	} {
		assert.InDelta(t, x[0], x[1], .0001, name)
	}
	c = Contingency{82, 38, 23, 222}
	for name, x := range map[string][2]float64{
		"bias": {1.1429, c.Bias()}, "hit rate": {.7810, c.HitRate()}, "false alarm ratio": {.3167, c.FalseAlarmRatio()},
		"false alarm rate": {.1462, c.FalseAlarmRate()}, "threat": {.5734, c.ThreatScore()}, "equitable": {.4377, c.EquitableThreat()},
		"Peirce": {.6348, c.Peirce()}, "Heidke": {.6089, c.Heidke()},
	} {
		assert.InDelta(t, x[0], x[1], .0001, name)
	}
	c = Contingency{7, 5, 2, 26}
	for name, x := range map[string][2]float64{
		"bias": {1.3333, c.Bias()}, "hit rate": {.7778, c.HitRate()}, "false alarm ratio": {.4167, c.FalseAlarmRatio()},
		"false alarm rate": {.1613, c.FalseAlarmRate()}, "threat": {.500, c.ThreatScore()}, "equitable": {.3805, c.EquitableThreat()},
		"Heidke": {.5513, c.Heidke()}, "Peirce": {.6165, c.Peirce()},
	} {
		assert.InDelta(t, x[0], x[1], .0001, name)
	}
	// Without the false alarms of treated zones.
	c = Contingency{7, 2, 2, 26}
	assert.InDelta(t, .2222, c.FalseAlarmRatio(), .0001)
	assert.InDelta(t, .6364, c.ThreatScore(), .0001)

	none := Contingency{0, 0, 3, 27}
	assert.Zero(t, none.HitRate())
	assert.True(t, math.IsNaN(none.FalseAlarmRatio()))
	assert.Zero(t, none.ThreatScore())
	assert.Zero(t, none.Bias())
	assert.Zero(t, none.Peirce())
	quiet := Contingency{0, 0, 0, 30}
	assert.True(t, math.IsNaN(quiet.HitRate()))
	assert.True(t, math.IsNaN(quiet.FalseAlarmRatio()))
	assert.True(t, math.IsNaN(quiet.ThreatScore()))
}

func TestOwnDesignWilsonIntervals(t *testing.T) {
	for _, c := range []struct{ k, n, low, high float64 }{
		{9, 12, .4677, .9111}, {1, 1, .2065, 1}, {3, 3, .4385, 1}, {0, 5, 0, .4345}, {7, 9, .4526, .9368}, {5, 12, .1933, .6805}, {28, 51, .4138, .6773}, {72, 100, .6251, .7986},
	} {
		low, high := Wilson(c.k, c.n)
		assert.InDelta(t, c.low, low, .0001, "%v", c)
		assert.InDelta(t, c.high, high, .0001, "%v", c)
	}
	low, high := Wilson(0, 0)
	assert.True(t, math.IsNaN(low))
	assert.True(t, math.IsNaN(high))
}

func TestOwnDesignBrier(t *testing.T) {
	forecast := func(groups ...[3]float64) (p []float64, o []bool) { // probability, cases, events
		for _, g := range groups {
			for i := range int(g[1]) {
				p, o = append(p, g[0]), append(o, i < int(g[2]))
			}
		}
		return p, o
	}
	for _, c := range []struct {
		groups                      [][3]float64
		score, rel, res, unc, skill float64
	}{
		{[][3]float64{{.05, 10, 1}, {.25, 6, 2}, {.60, 4, 3}}, .157000, .007833, .060833, .210000, .252381},
		{[][3]float64{{.1, 3, 0}, {.4, 4, 2}, {.8, 3, 2}}, .179000, .012333, .073333, .240000, .254167},
		{[][3]float64{{.1, 4, 1}, {.3, 3, 1}, {.6, 2, 1}, {.9, 1, 1}}, .204000, .012333, .048333, .240000, .150000},
	} {
		p, o := forecast(c.groups...)
		b := BrierOf(p, o)
		assert.InDelta(t, c.score, b.Score, 1e-6)
		assert.InDelta(t, c.rel, b.Reliability, 1e-6)
		assert.InDelta(t, c.res, b.Resolution, 1e-6)
		assert.InDelta(t, c.unc, b.Uncertainty, 1e-6)
		assert.InDelta(t, c.skill, b.Skill(), 1e-6)
	}
	assert.True(t, math.IsNaN(BrierOf(nil, nil).Score))
	assert.True(t, math.IsNaN(BrierOf([]float64{1}, []bool{true}).Skill()))
}

// The decomposition adds up, and the identity of the threat score holds.
func TestScoresHangTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 40).Draw(t, "n")
		p, o := make([]float64, n), make([]bool, n)
		for i := range p {
			p[i] = rapid.SampledFrom([]float64{0, .05, .2, .5, 1}).Draw(t, "p")
			o[i] = rapid.Bool().Draw(t, "o")
		}
		b := BrierOf(p, o)
		if d := b.Score - (b.Reliability - b.Resolution + b.Uncertainty); d > 1e-9 || d < -1e-9 {
			t.Fatalf("off by %v: %+v", d, b)
		}
		c := Contingency{float64(rapid.IntRange(1, 50).Draw(t, "a")), float64(rapid.IntRange(0, 50).Draw(t, "b")), float64(rapid.IntRange(0, 50).Draw(t, "c")), float64(rapid.IntRange(0, 50).Draw(t, "d"))}
		if d := 1/c.ThreatScore() - (1/c.HitRate() + 1/(1-c.FalseAlarmRatio()) - 1); d > 1e-9 || d < -1e-9 {
			t.Fatalf("off by %v", d)
		}
		low, high := Wilson(c.Hits, c.Hits+c.Misses)
		if h := c.HitRate(); !(low >= 0 && low <= h && h <= high+1e-12 && high <= 1) {
			t.Fatalf("%v not in %v to %v", h, low, high)
		}
	})
}
