// Package voice finds the words: it turns messages into sentences of one
// language, with its dates, numbers, units, lists and hours. All the words are
// those of a phrase book, data/phrases.toml, or of the author's own texts: there
// are none in this package, and none are put together after it.
package voice
