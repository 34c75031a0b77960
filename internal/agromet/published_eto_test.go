package agromet

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestPublishedReferenceET(t *testing.T) {
	t.Run("monthly", func(t *testing.T) {
		ra := raMJ(rad(13, 44), 105)
		in := ReferenceETInput{
			TmaxC: 34.8, TminC: 25.6, EaKPa: 2.85, WindMS2m: 2, ElevationM: 2,
			RaMJ: ra, RsoMJ: ClearSkyRadiationMJ(ra, 2),
			RsMJ:       RadiationFromSunshineMJ(ra, 8.5, DaylightHours(rad(13, 44), 105)),
			SoilHeatMJ: 0.14, // of a month: eq. 44, as printed
		}
		rnl := NetLongwaveMJ(in.TmaxC, in.TminC, in.EaKPa, in.RsMJ, in.RsoMJ)
		gamma := PsychrometricConstant(AtmosphericPressureKPa(2))
		check(t, "FAO-56 Example 17, Bangkok in April", []row{
			{"slope of the vapor pressure curve", read, 0.246, 0.0005, VapourPressureSlope(30.2)},
			{"psychrometric constant", read, 0.0674, 0.0001, gamma},
			{"psychrometric constant, fifth decimal", recomputed, 0.06735, 0.000005, gamma},
			{"mean saturation vapor pressure", read, 4.42, 0.01, MeanSaturationVapourPressureKPa(34.8, 25.6)},
			{"Rs from 8.5 h of sunshine", read, 22.65, 0.01, in.RsMJ},
			{"Rso", read, 28.54, 0.01, in.RsoMJ},
			{"net longwave radiation", read, 3.11, 0.01, rnl},
			{"net radiation", read, 14.33, 0.01, NetShortwaveMJ(in.RsMJ) - rnl},
			{"ETo", read, 5.72, 0.005, ReferenceETMM(in)},
			{"ETo, third decimal", recomputed, 5.716, 0.001, ReferenceETMM(in)},
		})
	})
	t.Run("daily", func(t *testing.T) {
		lat := rad(50, 48)
		ra, n := raMJ(lat, 187), DaylightHours(lat, 187)
		in := ReferenceETInput{
			TmaxC: 21.5, TminC: 12.3, ElevationM: 100, RaMJ: ra,
			EaKPa:    VapourPressureFromRelativeHumidityKPa(21.5, 12.3, 84, 63),
			WindMS2m: WindAt2mMS(10/3.6, 10), RsoMJ: ClearSkyRadiationMJ(ra, 100),
			RsMJ: RadiationFromSunshineMJ(ra, 9.25, n),
		}
		rnl := NetLongwaveMJ(in.TmaxC, in.TminC, in.EaKPa, in.RsMJ, in.RsoMJ)
		p := AtmosphericPressureKPa(100)
		check(t, "FAO-56 Example 18, Uccle on 6 July", []row{
			{"wind at 2 m from 10 km per hour at 10 m", read, 2.078, 0.001, in.WindMS2m},
			{"atmospheric pressure", read, 100.1, 0.05, p},
			{"slope of the vapor pressure curve", read, 0.122, 0.0005, VapourPressureSlope(16.9)},
			{"psychrometric constant", read, 0.0666, 0.00005, PsychrometricConstant(p)},
			{"mean saturation vapor pressure", read, 1.997, 0.001, MeanSaturationVapourPressureKPa(21.5, 12.3)},
			{"ea from RH max 84 and min 63 %", read, 1.409, 0.001, in.EaKPa},
			{"Rs from 9.25 h of sunshine", read, 22.07, 0.01, in.RsMJ},
			{"Rso", read, 30.90, 0.01, in.RsoMJ},
			{"net longwave radiation", read, 3.71, 0.01, rnl},
			{"net radiation", read, 13.28, 0.01, NetShortwaveMJ(in.RsMJ) - rnl},
			{"ETo", read, 3.88, 0.005, ReferenceETMM(in)},
			{"ETo, third decimal", recomputed, 3.880, 0.001, ReferenceETMM(in)},
		})
	})
	t.Run("temperature only", func(t *testing.T) {
		d := missingDay()
		d.TmaxC, d.TminC = 26.6, 14.8
		got := Derive(Site{LatitudeDeg: 45 + 43.0/60, ElevationM: 200}, 196, d)
		rnl := NetLongwaveMJ(26.6, 14.8, got.EaKPa, got.RsMJ, got.RsoMJ)
		check(t, "FAO-56 Example 20, Lyon in July from temperature alone", []row{
			{"Ra", read, 40.55, 0.01, got.RaMJ},
			{"Rso", read, 30.58, 0.01, got.RsoMJ},
			{"Rs", read, 22.29, 0.01, got.RsMJ},
			{"ea", read, 1.68, 0.005, got.EaKPa},
			{"mean saturation vapor pressure", read, 2.58, 0.005, MeanSaturationVapourPressureKPa(26.6, 14.8)},
			{"net longwave radiation", read, 3.68, 0.01, rnl},
			{"net radiation", read, 13.48, 0.01, NetShortwaveMJ(got.RsMJ) - rnl},
			{"ETo", read, 4.56, 0.005, got.ETMM},
		})
		at := func(windMS float64) float64 {
			return ReferenceETMM(ReferenceETInput{TmaxC: 26.6, TminC: 14.8, EaKPa: got.EaKPa, RsMJ: got.RsMJ,
				RaMJ: got.RaMJ, RsoMJ: got.RsoMJ, WindMS2m: windMS, ElevationM: 200}) / got.ETMM
		}
		check(t, "FAO-56 Example 20, Lyon in July, sensitivity", []row{
			{"wind of 1 in place of 2 m per second: about -7 %", read, 0.93, 0.01, at(1)},
			{"wind of 3 in place of 2 m per second: about +6 %", read, 1.06, 0.01, at(3)},
		})
	})
	atWind := func(windMS float64) float64 {
		return ReferenceETMM(ReferenceETInput{30, 20, 2, 20, 40, 30, windMS, 0, 0})
	}
	t.Run("FAO-56 chapter 4: wind above 0.5 m per second counts as it is (read)", func(t *testing.T) {
		assert.Greater(t, atWind(0.502), atWind(0.5))
	})
	check(t, "FAO-56 chapter 4", []row{
		{"wind below 0.5 m per second counts as 0.5", read, atWind(0.5), 1e-12, atWind(0.1)},
		{"clear-sky radiation is worked out where it is missing", read,
			ReferenceETMM(ReferenceETInput{30, 20, 2, 20, 40, 30, 2, 0, 0}), 1e-12,
			ReferenceETMM(ReferenceETInput{30, 20, 2, 20, 40, math.NaN(), 2, 0, 0})},
	})
}

func TestPublishedWindProfile(t *testing.T) {
	for _, r := range []struct{ heightM, factor float64 }{{1, 1.178}, {2, 1.000}, {3, 0.921}, {5, 0.838}, {10, 0.748}} {
		check(t, "FAO-56 Table 2.9", []row{
			{fmt.Sprintf("factor of wind at %g m", r.heightM), read, r.factor, 0.001, WindAt2mMS(1, r.heightM)},
		})
	}
	check(t, "FAO-56 Example 14", []row{
		{"wind of 3.2 m per second at 10 m", read, 2.4, 0.05, WindAt2mMS(3.2, 10)},
		{"wind, third decimal", recomputed, 2.393, 0.001, WindAt2mMS(3.2, 10)},
	})
}

func TestPublishedStandardizedET(t *testing.T) {
	const mjPerLangley = 0.041868
	ra := raMJ(rad(39.4575, 0), 182)
	in := ReferenceETInput{
		TmaxC: celsius(102.80), TminC: celsius(66.65), ElevationM: 1208.5, RaMJ: ra,
		EaKPa:    VapourPressureFromDewPointKPa(celsius(49.84)),
		WindMS2m: WindAt2mMS(4.80*0.44704, 3),
		RsMJ:     674.07 * mjPerLangley, RsoMJ: 31.566,
	}
	simple := in
	simple.RsoMJ = ClearSkyRadiationMJ(ra, in.ElevationM)
	check(t, "REF-ET 4.1 output for Fallon NV, 1 July 2015, after ASCE-EWRI 2005", []row{
		{"wind at 2 m", read, 1.976, 0.001, in.WindMS2m},
		{"ea", read, 1.2207, 0.0001, in.EaKPa},
		{"Ra", read, 41.65, 0.01, in.RaMJ},
		{"ETos with the full clear-sky model", read, 7.94, 0.01, ReferenceETMM(in)},
		{"ETos, third decimal", recomputed, 7.942, 0.001, ReferenceETMM(in)},
		{"ETos with the clear sky of FAO-56 eq. 37", recomputed, 7.998, 0.001, ReferenceETMM(simple)},
	})
}

// durham is a week of July 2020 at Durham NC (35.97°N, 171 m), from the daily
// file of the U.S. Climate Reference Network, with what the equations make of
// it: measured radiation and humidity, and temperature alone without the wet-day
// factor.
var durham = []struct {
	day                        string
	doy                        int
	tmaxC, tminC, rhMax, rhMin float64
	rsMJ, rainMM               float64
	etMeasured, etTemperature  float64
}{
	{"6 July", 188, 31.4, 19.3, 95.1, 47.6, 25.87, 0, 5.76, 5.27},
	{"7 July", 189, 30.0, 19.3, 95.1, 56.6, 13.69, 0, 3.69, 4.83},
	{"8 July", 190, 30.0, 21.7, 94.2, 59.1, 16.98, 2.4, 4.15, 4.32},
	{"9 July", 191, 30.6, 22.2, 94.1, 58.6, 20.62, 0.6, 4.77, 4.40},
	{"10 July", 192, 32.3, 20.4, 95.4, 52.4, 23.31, 5.7, 5.41, 5.32},
	{"11 July", 193, 31.5, 20.6, 94.3, 45.1, 26.48, 0, 5.95, 5.03},
	{"12 July", 194, 31.7, 18.3, 92.0, 36.4, 27.55, 0, 6.25, 5.50},
}

func TestPublishedReferenceETOfARealWeek(t *testing.T) {
	site := Site{LatitudeDeg: 35.97, ElevationM: 171}
	var sum [2]float64
	for _, d := range durham {
		measured := missingDay()
		measured.TmaxC, measured.TminC = d.tmaxC, d.tminC
		temperature := measured
		measured.RHMaxPct, measured.RHMinPct, measured.SolarMJ = d.rhMax, d.rhMin, d.rsMJ
		got := [2]float64{
			Derive(site, d.doy, measured).ETMM,
			Derive(site, d.doy, temperature).ETMM,
		}
		for i := range sum {
			sum[i] += got[i]
		}
		check(t, "FAO-56 eq. 6 at Durham NC, "+d.day+" 2020", []row{
			{"ETo, radiation and humidity measured", recomputed, d.etMeasured, 0.02, got[0]},
			{"ETo, temperature only", recomputed, d.etTemperature, 0.02, got[1]},
		})
	}
	check(t, "FAO-56 eq. 6 at Durham NC, week of 6 July 2020", []row{
		{"ETo, radiation and humidity measured", recomputed, 35.98, 0.05, sum[0]},
		{"ETo, temperature only", recomputed, 34.68, 0.05, sum[1]},
	})
}
