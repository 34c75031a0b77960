package turf

// CaughtRate returns what a spreader or sprayer puts on, per area, from the
// amount caught and the area it was meant for: g m⁻² from g and m², or any
// other pair of units.
//
// NC State Extension (2017), Calibrating your spreader; NC State Extension,
// Backpack sprayer calibration worksheet.
func CaughtRate(amount, area float64) float64 { return amount / area }

// CourseLength returns how far a swath of the width has to run to cover the
// area: m for m² and m, ft for ft² and ft.
//
// NC State Extension (2017), Calibrating your spreader.
func CourseLength(area, width float64) float64 { return area / width }

// InTank returns the product for a tank of the volume, from the product rate
// and the spray volume of the same area: 8 oz and 7.5 gal an acre in a tank of
// 3 gal.
//
// NC State Extension, Backpack sprayer calibration worksheet.
func InTank(productRate, sprayRate, tank float64) float64 { return productRate / sprayRate * tank }
