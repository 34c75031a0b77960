// Package disease holds the diseases of turf: weather models, how their daily risks
// become the grade of a week, seasons of the soil, when a fungicide may be worth it,
// the rotation of groups, and the arithmetic of spots.
package disease
