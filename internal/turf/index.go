package turf

import (
	"math"

	"ligule/internal/agromet"
)

// GrowthPotential returns the share of its fastest growth, 0 to 1, that air of
// mean temperature meanC (°C) allows a grass with the optimum optimumC and the
// spread spreadC (°C). A capped grass does not fall above its optimum.
//
// Gelernter and Stowell (2005), Improved overseeding programs 1. The role of
// weather, Golf Course Management, March, 108–113, in the Celsius form of
// Woods (2014), A number between 0 and 1; the cap is those authors' own
// revision for warm-season grasses. The Fahrenheit form has other constants
// and is not a conversion of this one.
func GrowthPotential(meanC, optimumC, spreadC float64, capped bool) float64 {
	if capped && meanC >= optimumC {
		return 1
	}
	z := (meanC - optimumC) / spreadC
	return math.Exp(-0.5 * z * z)
}

// TallFescueLeafGrowthPct returns the growth of tall fescue leaves at tC (°C),
// valid 3 to 35 °C, in % of the fastest.
//
// Oregon State University, Tall Fescue Monograph, growth and development,
// Fig. 3-3 (after Volenec et al. 1984).
func TallFescueLeafGrowthPct(tC float64) float64 {
	return -26.05 + tC*(8.68+tC*(0.021-0.0071*tC))
}

// coldCurveBelowC is where a cold curve takes over: at the optimum of
// cool-season grasses, where both curves are 1. Own design.
const coldCurveBelowC = 20.0

// temperatureFactor returns f_T of a 7-day mean.
func temperatureFactor(p *Profile, meanC float64) float64 {
	if p.ColdCurve == TallFescueCubic && meanC < coldCurveBelowC {
		return clamp01(TallFescueLeafGrowthPct(max(3, meanC)) / TallFescueLeafGrowthPct(coldCurveBelowC))
	}
	return GrowthPotential(meanC, p.OptimumC, p.SpreadC, p.Capped)
}

// lightFactor returns f_L of a day. Own design.
func lightFactor(p *Profile, lightMol float64) float64 { return clamp01(lightMol / p.LightFullMol) }

// dayLengthFactor returns f_P of a day: 0.5 at 11 h or less, 1 at 14 h or
// more. Own design; measured responses of bermudagrass and bahiagrass lie on
// both sides of it (Burton et al. 1988, Agronomy Journal 80; Environmental and
// Experimental Botany 61:18–24, 2007).
func dayLengthFactor(p *Profile, dayLengthH float64) float64 {
	if !p.DayLengthLimits {
		return 1
	}
	return min(1, max(0.5, 0.5+0.5*(dayLengthH-11)/3))
}

// waterFactor returns f_W of a day from the depletion at its end: the stress
// coefficient of FAO-56 eq. 84 with the tabled depletion fraction. That growth
// falls as transpiration does is own design.
func waterFactor(p *Profile, depletionMM, tawMM float64) float64 {
	return agromet.StressCoefficient(depletionMM, tawMM, agromet.ReadilyAvailableWaterMM(tawMM, p.Depletion))
}

// Index returns the growth index g, 0 to 1, and its factors ft, fl and fp,
// each 0 to 1, from the mean air temperature meanC (°C), the daily light
// integral lightMol (mol m⁻² d⁻¹), the day length dayLengthH (h) and the water
// factor fW (0 to 1). NaN in gives NaN out. Own design.
func Index(p *Profile, meanC, lightMol, dayLengthH, fW float64) (ft, fl, fp, g float64) {
	ft = temperatureFactor(p, meanC)
	fl = lightFactor(p, lightMol)
	fp = dayLengthFactor(p, dayLengthH)
	return ft, fl, fp, ft * fl * fp * fW
}

func clamp01(x float64) float64 { return min(1, max(0, x)) }
