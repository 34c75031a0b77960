// Package reference makes what does not belong to a week: the pages of pests
// and of weed killers, what laws say, indicators and sources, as plain values with
// messages in them. It knows no HTML.
package reference
