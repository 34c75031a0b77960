package weather

import "ligule/internal/civil"

// Conflict is a value on file that a newer source gives differently.
type Conflict struct {
	Date     civil.Date
	Column   Column
	Old, New float64
}

// MergeReport says what a merge did.
type MergeReport struct {
	NewDays   int        // days that were not on file
	Filled    int        // values that were missing on days on file
	Conflicts []Conflict // by date, then column
}

// Merge adds the days and values of new that old lacks.
func Merge(old, new *Series, overwrite bool) (merged *Series, report MergeReport) {
	return old, report
}
