// Package spray grades the hours of an hourly forecast for spraying.
package spray
