package law

import (
	"math"
	"strings"

	"ligule/internal/turf"
)

// Tolerance is the slack of every comparison with a cap, so that
// 0.7000000000000001 lb is 0.7 lb. Equal to a cap passes.
const Tolerance = 1e-9

// over reports whether a figure exceeds a cap.
func over(x, limit float64) bool { return x > limit+Tolerance }

// LargestNLb1000 returns the largest rate of nitrogen, lb per 1000 ft², that
// keeps a cap on total and a cap on soluble nitrogen, from the slow-release
// share of the nitrogen (0 to 1). A NaN cap does not bind; with neither the
// result is NaN.
func LargestNLb1000(totalCap, solubleCap, slowShare float64) float64 {
	bySoluble := math.NaN()
	if !math.IsNaN(solubleCap) && slowShare < 1 {
		bySoluble = solubleCap / (1 - slowShare)
	}
	if math.IsNaN(totalCap) || bySoluble < totalCap {
		return bySoluble
	}
	return totalCap
}

// LargestMonthlyReleaseLb1000 returns the nitrogen, lb per 1000 ft², released
// in the first month, which is the fullest: all that is not slow, and the
// month's even share of the slow part.
func LargestMonthlyReleaseLb1000(totalN, slowShare float64, months int) float64 {
	return totalN*(1-slowShare) + totalN*slowShare/float64(months)
}

// TreatedFt2 returns what is left of a lawn beside water once the strip along
// the shore stays untreated; all in feet and square feet.
func TreatedFt2(lawnFt2, shoreFt, stripFt float64) float64 {
	return max(0, lawnFt2-shoreFt*stripFt)
}

// slowPct returns the slow-release share of a product's nitrogen, % of N.
func (p *Product) slowPct() float64 { return 100 * p.SlowNPct / p.NPct }

// grassN returns the yearly cap of a by-grass table: the grass's own, else
// the default; with no grass stated, the lowest of the table.
func (r *Rule) grassN(grass string) (float64, bool) {
	if len(r.AnnualNByGrassLb1000) == 0 {
		return 0, false
	}
	if grass == "" {
		least := math.Inf(1)
		for _, x := range r.AnnualNByGrassLb1000 {
			least = min(least, x)
		}
		return least, true
	}
	if x, ok := r.AnnualNByGrassLb1000[grassKey(grass)]; ok {
		return x, true
	}
	x, ok := r.AnnualNByGrassLb1000["default"]
	return x, ok
}

// grassKey writes the id of a grass with hyphens: a record may write it with
// underscores.
func grassKey(id string) string { return strings.ReplaceAll(id, "_", "-") }

// annualN returns a rule's yearly cap on nitrogen: the lower of the plain one
// and the grass's.
func (r *Rule) annualN(grass string) (float64, bool) {
	x, ok := r.grassN(grass)
	if r.AnnualTotalNLb1000 != nil && (!ok || *r.AnnualTotalNLb1000 < x) {
		return *r.AnnualTotalNLb1000, true
	}
	return x, ok
}

// asP2O5 returns a cap of the rule as lb of P2O5; nil for none.
func (r *Rule) asP2O5(limit *float64) *float64 {
	if limit == nil || r.PBasis != "P" {
		return limit
	}
	lb := *limit / turf.PhosphorusInP2O5
	return &lb
}
