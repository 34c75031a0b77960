// Package civil knows calendar dates, ISO 8601 weeks and recurring month-day
// windows. It knows no clock and no zone of time: a Date is a square on a wall
// calendar, not an instant, and hence names no particular 24 hours.
package civil
