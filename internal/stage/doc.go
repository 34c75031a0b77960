// Package stage tells how far weeds and insects have come: the stages that each goes
// through in a season, by degree-days, soil, weather and date, and what the stage of
// an issue comes to.
package stage
