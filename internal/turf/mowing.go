package turf

import (
	"math"

	"ligule/internal/quantity"
)

const (
	// mostMowDays is the longest interval that is printed; beyond it no
	// mowing is expected. Own design.
	mostMowDays = 30.0

	// StillMownDays is the days between mowings beyond which grass grows too
	// slowly to repay a treatment of leaf and sheath. Common practice, no
	// source.
	StillMownDays = 14

	// flushMowShare shortens the interval while growth surges. Own design.
	flushMowShare = 0.7
)

// MowAtMM returns the height at which to mow so that no more than a third is
// cut, mm: one and a half times the height heightMM (mm) that mowing leaves.
// The one-third rule goes back to a greenhouse study of roots in the 1950s; it
// is a guide (Iowa State University, The story of the one-third rule, 2009).
func MowAtMM(heightMM float64) float64 { return 1.5 * heightMM }

// MowingIntervalDays returns the days until grass cut at heightMM (mm) that
// grows rateMMD (mm d⁻¹) has reached [MowAtMM]: infinite for grass that does
// not grow.
//
// Checked with University of Nebraska, Manage to a growth rate (2019).
func MowingIntervalDays(heightMM, rateMMD float64) float64 {
	return (MowAtMM(heightMM) - heightMM) / rateMMD
}

// mowing returns the days between mowings of grass in state s with the growth
// index g: rounded down but at least one, and exactly. It is 0 and NaN where no
// mowing is expected.
func (p *Profile) mowing(s State, g float64) (days int, exact float64) {
	if s == "" || s == Dormant {
		return 0, math.NaN()
	}
	exact = MowingIntervalDays(p.MowUsualMM, p.PeakHeightMMD*g)
	if s == Flush {
		exact *= flushMowShare
	}
	if !(quantity.Thousandths(exact) <= mostMowDays) {
		return 0, math.NaN()
	}
	return max(1, int(math.Floor(quantity.Thousandths(exact)))), exact
}
