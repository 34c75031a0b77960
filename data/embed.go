// Package data holds what the program knows for every author: so far the phrase
// book that declares each phrase with its slots.
package data

import _ "embed" // for the phrase book

// Phrases is the phrase book that the program was made with, data/phrases.toml.
//
//go:embed phrases.toml
var Phrases []byte
