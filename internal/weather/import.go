package weather

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"

	"ligule/internal/civil"
)

// ImportOptions are what the caller knows of a file beyond its content.
type ImportOptions struct {
	// Units are the units of files that do not tell theirs: the daily
	// summaries of NCEI, and CSV without units in its headers.
	Units UnitSystem
	// StationID is the station to take from a file of several.
	StationID string
}

// Dropped is a value, or a line, that was not taken.
type Dropped struct {
	File   string
	Line   int        // from 1
	Date   civil.Date // zero if the line's date cannot be read
	Field  string     // the file's own name of the field; "" for the whole line
	Value  string     // as it stands in the file
	Reason string
}

// Imported is what was read of a file of an open format.
type Imported struct {
	Format    string // "ghcn-daily", "ghcn-by-year", "ghcn-by-station", "ncei-daily-summaries", "ncei-climate-data-online" or "csv"
	StationID string // the file's own id of the station; may be empty
	Days      *Series
	Dropped   []Dropped // by line
	Notes     []string  // what else the author should know
	// Obs is the time of observation that the file tells of, for the author to
	// enter at the station: nothing is shifted here. Nil if it tells of none.
	Obs []ObsPeriod
}

// Import reads a file of any supported open format, recognized by content. It
// is lenient: what fails quality control is dropped with its reason, and the
// rest is taken, rounded to 0.01 of each unit. Missing values, in whichever way
// the format writes them, are missing; traces of rain are 0.
//
// Dropped are values that the archive's own quality control flagged, values
// outside the bounds that ReadDaily knows, a maximum below the minimum (both),
// relative humidities that contradict each other, a value given twice
// differently (both), and totals of several days. Soil temperatures that are
// given as minimum and maximum become their mean.
//
// The formats:
//   - GHCN-Daily station files (.dly, fixed width) and by-year files, and the
//     by-station CSV of the same archive, by the GHCN-Daily readme.txt, v3.24
//     and v3.26 (NOAA NCEI);
//   - NCEI daily summaries as CSV, whose units are an option of the download
//     and do not stand in the file: opts.Units must say metric, us or tenths,
//     and is checked against the values;
//   - the CSV of the former Climate Data Online;
//   - other CSV with a header line, separated by commas, semicolons or tabs,
//     under many usual names, with units in the headers, in a comment
//     "# units: us" or "# units: metric" above them, or in opts.Units.
//
// The error tells why nothing could be read: an unknown format, units that are
// not declared or contradict the values, several stations and none chosen.
func Import(name string, data []byte, opts ImportOptions) (Imported, error) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if len(bytes.TrimSpace(data)) == 0 {
		return Imported{}, fmt.Errorf("%s: the file is empty", name)
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return Imported{}, fmt.Errorf("%s: this is not a text file; unpack or export it first", name)
	}
	g := newGathering(name)
	var format string
	var err error
	first, _ := cutLine(data)
	switch _, fixed := dlyLine(first); {
	case fixed:
		format, err = "ghcn-daily", g.dly(data, opts)
	case isByYear(string(first)):
		format, err = "ghcn-by-year", g.byYear(data, opts)
	default:
		format, err = g.csv(data, opts)
	}
	if err != nil {
		return Imported{}, fmt.Errorf("%s: %w", name, err)
	}
	out := g.finish()
	out.Format = format
	if out.Days.Len() == 0 && len(out.Dropped) == 0 {
		return Imported{}, fmt.Errorf("%s: the file holds no daily weather values", name)
	}
	return out, nil
}

// choose returns the station to take of those that a file holds.
func choose(held map[string]bool, opts ImportOptions) (string, error) {
	ids := slices.Sorted(maps.Keys(held))
	shown := ids
	if len(shown) > 10 {
		shown = append(slices.Clone(shown[:10]), "…")
	}
	list := strings.Join(shown, ", ")
	if opts.StationID != "" {
		for _, id := range ids {
			if bareID(id) == bareID(opts.StationID) {
				return id, nil
			}
		}
		return "", fmt.Errorf("the station %q is not in the file, which holds %s", opts.StationID, list)
	}
	if len(ids) > 1 {
		return "", fmt.Errorf("the file holds several stations: name the one to take, of %s", list)
	}
	return ids[0], nil
}

// bareID strips the name of the data set that some downloads put before a
// station's id.
func bareID(id string) string { return strings.TrimPrefix(id, "GHCND:") }
