// Package herbicide holds what is known of weed killers: which grass bears which
// active ingredient, what holds a use back, and how readily the weather lets it into
// the weed.
package herbicide
