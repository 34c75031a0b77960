package turf

const (
	// mostMowDays is the longest interval that is printed; beyond it no
	// mowing is expected. Own design.
	mostMowDays = 30.0

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
