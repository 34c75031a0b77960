package law

import (
	"ligule/internal/civil"
	"ligule/internal/diag"
)

// Lint records what is wrong (errors) or due for attention (warnings) in
// records and jurisdictions as of a day.
func Lint(records []*Record, jurisdictions []Jurisdiction, asOf civil.Date, list *diag.List) {}

// UnevaluatedIn returns everything in a record that the code cannot judge.
func UnevaluatedIn(r *Record) []Unevaluated { return nil }
