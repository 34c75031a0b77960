// Package agromet holds the published physics of a lawn's weather: sun, vapor
// pressure, reference evapotranspiration, soil temperature, light, leaf
// wetness, degree days, spray weather, frost dates, quantiles, the water
// balance of the root zone, and the scores by which forecasts are verified.
//
// Everything is a pure function of float64 in the unit that its name carries
// (°C, kPa, MJ m⁻² d⁻¹, mm, m s⁻¹, m, rad). The package knows no files, no
// grasses and no series: a caller walks the days and keeps the state.
//
// [Derive] is the entry point for a day of weather: it walks the ladder of
// methods from measured values down to air temperature alone, and says which
// rung each quantity stands on. [BalanceStep] is the entry point for a day of
// soil water.
//
// Missing input is NaN, and NaN in gives NaN out: no function here makes up a
// number for a value it was not given.
//
// The equations are those of Allen, R.G., Pereira, L.S., Raes, D., Smith, M.
// (1998), Crop Evapotranspiration, FAO Irrigation and Drainage Paper 56
// ("FAO-56" below), unless a function names another publication.
package agromet
