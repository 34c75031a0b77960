package synth

// Atlantic returns a plausible climate for a site on the Atlantic side of North
// America between about 32 and 38° N: humid, with hot summers and cool winters,
// milder at the shore and colder with height. The figures are own design, set
// by eye to the general run of that region's climate; they describe no real
// place.
//
// latitudeDeg is in degrees north, elevationM in meters.
func Atlantic(latitudeDeg, elevationM float64, coastal bool) Climate {
	north, upKM := latitudeDeg-33.4, elevationM/1000
	meanC, swingC, rangeC := 18.4-0.95*north-5.0*upKM, 9.7-0.2*upKM, 12.0-1.0*upKM
	tmaxSD := Wave{Mean: 3.9, Amp: 1.5, Peak: 20}
	tminSD := Wave{Mean: 3.6, Amp: 1.5, Peak: 20}
	c := Climate{
		Shared:      0.9,
		WetAfterWet: Wave{Mean: 0.45, Amp: 0.03, Peak: 200},
		WetAfterDry: Wave{Mean: 0.235, Amp: 0.035, Peak: 185, Amp2: 0.02, Peak2: 20},
		RainMM:      Wave{Mean: 11.2, Amp: 0.8, Peak: 220},
		LightShare:  0.5,
		LightRatio:  0.35,
	}
	hottest := 200.0
	if upKM > 0.6 {
		c.WetAfterDry.Mean += 0.03 // hills make rain, more often than more
		c.RainMM.Mean -= 0.6
	}
	if coastal {
		meanC, swingC, rangeC = meanC+0.5, 7.9, 7.4
		hottest = 206 // the sea lags the sun
		tmaxSD = Wave{Mean: 3.1, Amp: 1.2, Peak: 20}
		tminSD = Wave{Mean: 3.1, Amp: 1.5, Peak: 20}
		c.RainMM = Wave{Mean: 12.3, Amp: 2.2, Peak: 235}
		c.WetAfterDry = Wave{Mean: 0.225, Amp: 0.06, Peak: 215, Amp2: 0.02, Peak2: 20}
	}
	// A wet day is cooler at noon and, in winter, milder at night. The dry
	// means are raised so that the mean of all days stays where it was set.
	const wetShare, wetMaxC = 0.3, -2.8
	wetMin := Wave{Mean: 0.9, Amp: 0.9, Peak: 15}
	mean := Wave{Mean: meanC, Amp: swingC, Peak: hottest}
	c.TmaxDryC = mean.Plus(rangeC/2 - wetShare*wetMaxC)
	c.TmaxWetC = c.TmaxDryC.Plus(wetMaxC)
	c.TminDryC = mean.Plus(-rangeC/2 - wetShare*wetMin.Mean)
	c.TminWetC = c.TminDryC.Sum(wetMin)
	c.TmaxSDC, c.TminSDC = tmaxSD, tminSD
	return c
}
