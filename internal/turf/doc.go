// Package turf knows grasses: the figures of a species, and what a week of
// weather makes of it. It works out the relative growth index, the state of
// the grass, the days between mowings, the water balance of its root zone and
// the arithmetic of feeding it. It knows no pests, no law and no pages.
//
// The growth index is a product of factors from 0 to 1,
//
//	G = f_T · f_L · f_P · f_W
//
// for temperature, light, day length and water. Each is kept beside it.
// Thresholds are compared at three decimals, so that the last bit of a sum
// cannot turn a state.
package turf
