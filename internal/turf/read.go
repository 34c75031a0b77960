package turf

import "ligule/internal/diag"

// ReadProfile reads a grass file.
func ReadProfile(id string, t *diag.Table) *Profile { return &Profile{ID: id} }
