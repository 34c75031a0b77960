// Package advice turns what is computed into one answer per topic: indicators
// are what rules may ask about, rules make drafts, gates (law, storm, growth)
// may hold or close a draft, and per topic one draft speaks. The result is the
// Reading of one zone, grass and week, in which every sentence can show its
// working. The package holds no prose: sentences come from the author's rules
// and from a phrase book, both data. It does not know files or HTML.
package advice
