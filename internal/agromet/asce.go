package agromet

// ASCEShortETMM returns the standardized reference evapotranspiration of a
// short crop ETos, mm d⁻¹. It differs from [ReferenceETMM] by a
// Stefan-Boltzmann constant of 4.901·10⁻⁹ and a rounded 2503 in the slope of
// the vapor pressure curve, together under 1 %. The program prints
// [ReferenceETMM]; this one is its second opinion.
//
// ASCE-EWRI (2005), The ASCE Standardized Reference Evapotranspiration
// Equation, eq. 1 with Cn = 900 and Cd = 0.34 (daily, short reference);
// checked with a REF-ET 4.1 computation for Fallon, Nevada.
func ASCEShortETMM(in ReferenceETInput) float64 {
	return penmanMonteithMM(in, 4.901e-9/stefanBoltzmannMJ, 2503/(4098*0.6108))
}
