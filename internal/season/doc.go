// Package season knows the year of a place: normals of its daily values, the
// events that a year is told by (frosts, the soil passing a temperature,
// green-up, slowdown, dormancy, sums of warmth, length of day), and the calendar
// windows that hang on them. Of each event it tells the usual date with the
// middle 60 % of the years on file, and this year's: happened, forecast, or
// expected by an ensemble of past years. It knows no law and no pages.
//
// # Years
//
// An event belongs to the year in which its search begins, see [Event.Season]:
// the first frost of 2024 is searched from 1 July 2024 to 30 June 2025, the
// last frost of 2024 from 1 January to 30 June 2024. An event is a pure
// function of the daily values of that stretch and of the two months before it,
// which only feed means that reach back.
//
// Days of the year are counted on a year of 365 days: 29 February counts as 28
// February, in dates and in normals alike.
package season
