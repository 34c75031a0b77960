package disease

import "ligule/internal/pest"

// Term is a figure of a weather model.
type Term struct {
	Key string // in the disease's file; "air_1" to "air_4" are the knees of "air"
	pest.Figure
}

// Terms returns the figures of the model in the order of its file; none for a
// disease without a daily risk.
func (m *RiskModel) Terms() []Term { return m.terms }

// Remarks are the codes of what is to be told of the model besides its figures.
func (m *RiskModel) Remarks() []string { return m.remarks }
