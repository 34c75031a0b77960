package agromet

// ShadedLightIntegralMol returns the daily light integral under shade,
// mol m⁻² d⁻¹, from that of the open sky dliMol (mol m⁻² d⁻¹) and the share of
// light that the shade takes away, 0 to 1. By definition.
func ShadedLightIntegralMol(dliMol, shadeFraction float64) float64 {
	return (1 - shadeFraction) * dliMol
}

// LargestShade returns the share of light that shade may take away, at most 1,
// and still leave leastDLIMol of dliMol (both mol m⁻² d⁻¹). Below 0 where even
// the open sky is too dim. By definition.
func LargestShade(dliMol, leastDLIMol float64) float64 {
	return 1 - leastDLIMol/dliMol
}
