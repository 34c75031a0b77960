// Package edition holds a week with its sentences: a bulletin as a voice has
// worded it. It is what pages, letters, feeds and calendars are laid out from,
// and what is written down to be kept.
package edition

import (
	"encoding/json"
	"fmt"
	"io"

	"ligule/internal/bulletin"
	"ligule/internal/quantity"
	"ligule/internal/voice"
)

// Schema is the version of the form in which editions are written.
const Schema = 1

// Edition is a week of the region with its sentences.
type Edition struct {
	Schema   int              `json:"schema"`
	Language string           `json:"language"` // tag of BCP 47
	Units    string           `json:"units"`    // of the reader: "us" or "metric"
	Region   *bulletin.Region `json:"region"`
}

// New finds the words of a bulletin, in place.
func New(r *bulletin.Region, v voice.Voice) *Edition {
	Voice(r, v)
	return &Edition{Schema, v.Book.Language, v.Units.String(), r}
}

// Write writes an edition as JSON. The same edition gives the same bytes.
func Write(w io.Writer, e *Edition) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(e); err != nil {
		return fmt.Errorf("edition: %w", err)
	}
	return nil
}

// Read reads what Write writes. It fails on anything that it does not know: a key,
// another version of the form, or more after the end.
func Read(r io.Reader) (*Edition, error) {
	dec := json.NewDecoder(r)
	dec.DisallowUnknownFields()
	e := &Edition{}
	if err := dec.Decode(e); err != nil {
		return nil, fmt.Errorf("edition: %w", err)
	}
	if e.Schema != Schema {
		return nil, fmt.Errorf("edition: it is written in form %d; this program reads form %d", e.Schema, Schema)
	}
	if _, err := quantity.ParseSystem(e.Units); err != nil {
		return nil, fmt.Errorf("edition: units: %w", err)
	}
	if _, err := dec.Token(); err != io.EOF {
		return nil, fmt.Errorf("edition: something follows its end")
	}
	if e.Region == nil {
		return nil, fmt.Errorf("edition: it has no region")
	}
	return e, nil
}
