package weather

import "ligule/internal/civil"

// ImportOptions are what the caller knows of a file beyond its content.
type ImportOptions struct {
	Units     UnitSystem
	StationID string // the station to take from a file of several
}

// Dropped is a value that quality control refused.
type Dropped struct {
	Line   int // line of the file, from 1
	Date   civil.Date
	Field  string // the file's own name of the field
	Value  string // as it stands in the file
	Reason string
}

// Imported is what was read of a file of an open format.
type Imported struct {
	Format    string // code of the format recognized
	StationID string // the file's own id of the station; may be empty
	Days      *Series
	Dropped   []Dropped
	Notes     []string
	Obs       []ObsPeriod // time of observation, if the file tells
}

// Import reads a file of any supported open format, recognized by content.
func Import(name string, data []byte, opts ImportOptions) (Imported, error) {
	return Imported{}, nil
}
