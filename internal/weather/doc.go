// Package weather holds daily records of weather stations and answers what one
// issue of the advisory may know of them: records cut at the issue date, put
// on the day that the weather happened, short gaps filled, the forecast that
// was on file then set behind them, and the hourly forecast beside it. It reads
// and writes the workspace's own CSV strictly, and open formats of others
// leniently with quality control. It knows no grasses, no clock and no network.
package weather
