package agromet

import "math"

const (
	// sunriseZenithDeg is the zenith distance of the sun's center at rise and
	// set, degrees: refraction and half the disc below the horizon (NOAA,
	// General Solar Position Calculations).
	sunriseZenithDeg = 90.833

	// j2000 is the Julian date of the epoch of the series.
	j2000 = 2451545.0

	radPerDeg = math.Pi / 180
)

// SunClock is when the sun rises, stands highest and sets on one civil date,
// in minutes after 0 h UTC of that date. The numbers are not wrapped into the
// UTC day: west of Greenwich a sunset may lie beyond 1440, and adding the
// offset of local time (minutes, from the time zone's own rules) always gives
// minutes after local midnight. Rise and set are NaN where the sun does neither.
type SunClock struct {
	RiseUTCMin, NoonUTCMin, SetUTCMin float64
}

// SunTimes returns the clock times of the sun at latDeg (degrees, north
// positive) and lonDeg (degrees, east positive) on day of year doy (1 to 366)
// of the Gregorian year: to the minute, where the horizon is level and the air
// refracts as usual. It serves for printed times; radiation keeps to
// [DaylightHours].
//
// The low-precision series of Meeus, J. (1998), Astronomical Algorithms,
// chapters 25 and 28, in the form of NOAA's solar calculator (from memory),
// evaluated anew at the time of each event; checked with times of the U.S.
// Naval Observatory.
func SunTimes(latDeg, lonDeg float64, year, doy int) SunClock {
	jd := julianDate(year, doy)
	// The side of noon: +1 before, 0 at, -1 after.
	event := func(side float64) float64 {
		t := 720 - 4*lonDeg
		for range 3 {
			decl, eqTimeMin := sunAt(jd + t/1440)
			hourAngle := 0.0 // at noon, even where the sun does not rise
			if side != 0 {
				hourAngle = side * sunriseHourAngleDeg(latDeg*radPerDeg, decl)
			}
			t = 720 - 4*(lonDeg+hourAngle) - eqTimeMin
		}
		return t
	}
	return SunClock{RiseUTCMin: event(+1), NoonUTCMin: event(0), SetUTCMin: event(-1)}
}

// julianDate returns the Julian date of 0 h UTC on day doy of a Gregorian
// year from 1 on.
func julianDate(year, doy int) float64 {
	y := year - 1
	return 1721425.5 + float64(365*y+y/4-y/100+y/400+doy-1)
}

// sunAt returns the declination of the sun, rad, and the equation of time,
// min, at the Julian date jd.
func sunAt(jd float64) (declRad, eqTimeMin float64) {
	t := (jd - j2000) / 36525
	meanLon := math.Mod(280.46646+t*(36000.76983+0.0003032*t), 360) * radPerDeg
	anomaly := (357.52911 + t*(35999.05029-0.0001537*t)) * radPerDeg
	ecc := 0.016708634 - t*(0.000042037+1.267e-7*t)
	center := (math.Sin(anomaly)*(1.914602-t*(0.004817+0.000014*t)) +
		math.Sin(2*anomaly)*(0.019993-0.000101*t) +
		math.Sin(3*anomaly)*0.000289) * radPerDeg
	node := (125.04 - 1934.136*t) * radPerDeg
	lon := meanLon + center + (-0.00569-0.00478*math.Sin(node))*radPerDeg
	obliquity := (23 + (26+(21.448-t*(46.815+t*(0.00059-0.001813*t)))/60)/60 +
		0.00256*math.Cos(node)) * radPerDeg
	declRad = math.Asin(math.Sin(obliquity) * math.Sin(lon))
	y := math.Tan(obliquity / 2)
	y *= y
	e := y*math.Sin(2*meanLon) - 2*ecc*math.Sin(anomaly) +
		4*ecc*y*math.Sin(anomaly)*math.Cos(2*meanLon) -
		y*y/2*math.Sin(4*meanLon) - 1.25*ecc*ecc*math.Sin(2*anomaly)
	return declRad, 4 * e / radPerDeg
}

// sunriseHourAngleDeg returns the hour angle of sunrise, degrees; NaN where
// the sun stays on one side of the horizon.
func sunriseHourAngleDeg(latRad, declRad float64) float64 {
	return math.Acos(math.Cos(sunriseZenithDeg*radPerDeg)/(math.Cos(latRad)*math.Cos(declRad))-
		math.Tan(latRad)*math.Tan(declRad)) / radPerDeg
}
