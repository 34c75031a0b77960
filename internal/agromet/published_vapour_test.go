package agromet

import (
	"fmt"
	"testing"
)

func TestPublishedVaporPressure(t *testing.T) {
	for _, r := range []struct{ tC, e float64 }{
		{1, 0.657}, {5, 0.872}, {20, 2.338}, {25, 3.168}, {30, 4.243}, {38, 6.625}, {44, 9.101},
	} {
		check(t, "FAO-56 Table 2.3", []row{
			{fmt.Sprintf("saturation vapor pressure at %g °C", r.tC), read, r.e, 0.001, SaturationVapourPressureKPa(r.tC)},
		})
	}
	check(t, "FAO-56 Example 3", []row{
		{"saturation vapor pressure at 24.5 °C", read, 3.075, 0.0005, SaturationVapourPressureKPa(24.5)},
		{"saturation vapor pressure at 15 °C", read, 1.705, 0.0005, SaturationVapourPressureKPa(15)},
		{"mean saturation vapor pressure of 24.5 and 15 °C", read, 2.39, 0.005, MeanSaturationVapourPressureKPa(24.5, 15)},
		{"and not that of the mean temperature", read, 2.30, 0.005, SaturationVapourPressureKPa(19.75)},
		{"mean saturation vapor pressure, fourth decimal", recomputed, 2.3900, 0.00005, MeanSaturationVapourPressureKPa(24.5, 15)},
		{"saturation vapor pressure at 19.75 °C, fourth decimal", recomputed, 2.3023, 0.00005, SaturationVapourPressureKPa(19.75)},
		{"saturation vapor pressure at 24.5 °C, fourth decimal", recomputed, 3.0746, 0.00005, SaturationVapourPressureKPa(24.5)},
		{"saturation vapor pressure at 15 °C, fourth decimal", recomputed, 1.7053, 0.00005, SaturationVapourPressureKPa(15)},
	})
	ea := VapourPressureFromRelativeHumidityKPa(25, 18, 82, 54)
	check(t, "FAO-56 Example 5", []row{
		{"saturation vapor pressure at 18 °C", read, 2.064, 0.0005, SaturationVapourPressureKPa(18)},
		{"saturation vapor pressure at 25 °C", read, 3.168, 0.0005, SaturationVapourPressureKPa(25)},
		{"ea from RH max 82 and min 54 %", read, 1.70, 0.005, ea},
		{"ea, fourth decimal", recomputed, 1.7015, 0.00005, ea},
		{"ea from RH mean 68 %", read, 1.78, 0.005, VapourPressureFromMeanHumidityKPa(25, 18, 68)},
		{"ea from RH mean, fourth decimal", recomputed, 1.7788, 0.00005, VapourPressureFromMeanHumidityKPa(25, 18, 68)},
	})
	check(t, "FAO-56 Example 6", []row{
		{"vapor pressure deficit", read, 0.91, 0.005, MeanSaturationVapourPressureKPa(25, 18) - ea},
		{"vapor pressure deficit, fourth decimal", recomputed, 0.9143, 0.00005, MeanSaturationVapourPressureKPa(25, 18) - ea},
	})
	check(t, "FAO-56 eq. 18", []row{
		{"ea from RH max 82 % at 18 °C", recomputed, 1.6925, 0.0005, VapourPressureFromMaxHumidityKPa(18, 82)},
	})
	check(t, "FAO-56 eqs. 15 and 16", []row{
		{"ea from wet bulb 19.5 and dry bulb 25.6 °C, ventilated, 87.9 kPa", recomputed, 1.912, 0.001,
			VapourPressureFromWetBulbKPa(25.6, 19.5, 87.9, VentilatedPsychrometer)},
		{"the same, natural ventilation", recomputed, 1.838, 0.001, VapourPressureFromWetBulbKPa(25.6, 19.5, 87.9, NaturalPsychrometer)},
		{"the same, indoors", recomputed, 1.623, 0.001, VapourPressureFromWetBulbKPa(25.6, 19.5, 87.9, IndoorPsychrometer)},
	})
	check(t, "FAO-56 eq. 48", []row{
		{"ea at Lyon in July from the minimum of 14.8 °C (Example 20)", read, 1.68, 0.005, VapourPressureFromMinTemperatureKPa(14.8, false)},
		{"in an arid climate as of 2.5 °C less", recomputed, SaturationVapourPressureKPa(12.3), 1e-12, VapourPressureFromMinTemperatureKPa(14.8, true)},
	})
	check(t, "inverse of FAO-56 eq. 11", []row{
		{"dew point of 25 °C and 60 %", recomputed, 16.70, 0.02, DewPointC(0.60 * SaturationVapourPressureKPa(25))},
		{"dew point of 20 °C and 50 %", recomputed, 9.27, 0.02, DewPointC(0.50 * SaturationVapourPressureKPa(20))},
	})
	check(t, "FAO-56 eq. 10", []row{
		{"relative humidity of 25 °C over a dew point of 15 °C", recomputed, 53.8, 0.1, RelativeHumidityPct(25, 15)},
		{"relative humidity of 30 °C over a dew point of 20 °C", recomputed, 55.1, 0.1, RelativeHumidityPct(30, 20)},
	})
}

func TestPublishedPressure(t *testing.T) {
	p := AtmosphericPressureKPa(1800)
	check(t, "FAO-56 Example 2", []row{
		{"atmospheric pressure at 1800 m", secondHand, 81.8, 0.05, p},
		{"psychrometric constant at 1800 m", secondHand, 0.054, 0.0005, PsychrometricConstant(p)},
		{"atmospheric pressure, second decimal", recomputed, 81.76, 0.005, p},
		{"psychrometric constant, fifth decimal", recomputed, 0.05437, 0.000005, PsychrometricConstant(p)},
	})
}
