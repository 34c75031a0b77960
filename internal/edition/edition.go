// Package edition holds a week with its sentences: a bulletin as a voice has
// worded it. It is what pages, letters, feeds and calendars are laid out from.
package edition
