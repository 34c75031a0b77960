package turf

import (
	"math"

	"ligule/internal/quantity"
)

// Analysis is the guarantee printed on a bag of fertilizer, in % of its
// weight: nitrogen, phosphate (P₂O₅) and potash (K₂O). A 16-4-8 is
// Analysis{16, 4, 8}.
type Analysis struct{ NPct, P2O5Pct, K2OPct float64 }

// Shares of the elements in the oxides that labels count in, by the standard
// atomic weights.
const (
	PhosphorusInP2O5 = 0.4364
	PotassiumInK2O   = 0.8301
)

// ProductFor returns the fertilizer that holds nitrogen n, in the unit of n:
// g m⁻² for g m⁻². It is infinite for a bag without nitrogen.
//
// University of Georgia, Fertilizer calculations.
func (a Analysis) ProductFor(n float64) float64 { return n / (a.NPct / 100) }

// Delivers returns nitrogen, phosphate and potash in an amount of product, in
// the unit of product.
//
// McCarty and Cisar (1995), Fertilization needs for Florida home lawns.
func (a Analysis) Delivers(product float64) (n, p2o5, k2o float64) {
	return product * a.NPct / 100, product * a.P2O5Pct / 100, product * a.K2OPct / 100
}

// SlowShare returns the share of the bag's nitrogen that is slow-release, 0 to
// 1, from the slow-release nitrogen of the label, in % of the bag's weight
// ("7% water insoluble nitrogen").
//
// University of Florida extension, Duval County (second-hand).
func (a Analysis) SlowShare(slowPct float64) float64 { return slowPct / a.NPct }

// Feedings returns into how many feedings a nitrogen rate has to be split so
// that none holds more than singleGM2 of nitrogen, nor more than solubleGM2 of
// it water-soluble; solubleShare, 0 to 1, of the fertilizer's nitrogen is. It
// is 0 for no nitrogen. Rates are g m⁻²; amounts are compared at three
// decimals.
//
// Common practice, no source; the caps are the caller's: law's, or the grass's.
func Feedings(nGM2, solubleShare, singleGM2, solubleGM2 float64) int {
	return int(math.Ceil(quantity.Thousandths(max(nGM2/singleGM2, nGM2*solubleShare/solubleGM2))))
}

// SeasonShareGM2 returns the share of a year's nitrogen annualGM2 (g m⁻²) that
// falls to a stretch of the year, g m⁻², by its growth index g out of the sum
// of that index over all such stretches of a normal year; 0 in a year without
// growth. That use goes with growth is Gelernter and Stowell, Turfgrass nitrogen
// demand; that it is scaled so that the year comes out at the target of the
// grass is own design.
func SeasonShareGM2(annualGM2, g, yearG float64) float64 {
	if yearG == 0 {
		return 0
	}
	return annualGM2 * g / yearG
}
