package synth

import (
	"math"
	"math/rand/v2"
)

// Deviates of one day, all standard normal before their use.
const (
	occurrence = iota // wet or dry
	amount            // how much rain
	component         // which of the two exponentials
	heat0             // the three innovations of the residuals
	heat1
	heat2
	deviates
)

// stream draws the normal deviates of one site. The sites of one seed share a
// regional stream, so that a front that is warm at one is warm at the next.
type stream struct {
	region, local *rand.PCG
	shared        float64 // weight of the regional deviate
	alone         float64 // weight of the local one; the squares sum to 1
}

// regionStream and localStream set the two uses of a seed apart. Any two odd
// numbers would do.
const (
	regionStream = 0x9e3779b97f4a7c15
	localStream  = 0xd1b54a32d192ed03
)

func newStream(seed, site uint64, shared float64) *stream {
	return &stream{
		region: rand.NewPCG(seed, regionStream),
		local:  rand.NewPCG(seed, localStream^(site*regionStream)),
		shared: math.Sqrt(shared),
		alone:  math.Sqrt(1 - shared),
	}
}

// day returns the deviates of the next day. Their correlation between two
// sites of a seed is the product of the roots of their shared parts.
func (s *stream) day() (z [deviates]float64) {
	for i := 0; i < deviates; i += 2 {
		r0, r1 := normalPair(s.region)
		l0, l1 := normalPair(s.local)
		z[i] = s.shared*r0 + s.alone*l0
		z[i+1] = s.shared*r1 + s.alone*l1
	}
	return z
}

// uniform returns a number in [0, 1) from the top 53 bits of the generator.
func uniform(g *rand.PCG) float64 { return float64(g.Uint64()>>11) / (1 << 53) }

// normalPair returns two independent standard normal deviates: Box, G.E.P.,
// Muller, M.E. (1958), A note on the generation of random normal deviates,
// Annals of Mathematical Statistics 29(2):610–611.
func normalPair(g *rand.PCG) (a, b float64) {
	u, v := uniform(g), uniform(g)
	r := math.Sqrt(-2 * math.Log(1-u)) // 1-u is never 0
	return r * math.Cos(2*math.Pi*v), r * math.Sin(2*math.Pi*v)
}

// below returns the probability that a standard normal deviate is less than z.
func below(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
