package weather

import (
	"math"

	"ligule/internal/civil"
)

// Conflict is a value on file that a newer source gives differently.
type Conflict struct {
	Date     civil.Date
	Column   Column
	Old, New float64
}

// MergeReport says what a merge did.
type MergeReport struct {
	NewDays   int        // days of which nothing was on file and now something is
	Filled    int        // values that were missing on days on file
	Conflicts []Conflict // by date, then column
}

// Merge returns the records on file, old, with the days and values that the
// later records add. A value on file is never lost: where later gives another
// one, the conflict is reported, and the value on file stays unless overwrite
// is asked for. Values that differ by rounding alone, to the 0.01 of a unit that
// the files keep or to the tenths that archives keep, are no conflict: the one
// on file stays. Either series may be nil; neither is changed.
func Merge(old, later *Series, overwrite bool) (merged *Series, report MergeReport) {
	if old == nil {
		old = NewSeries(0, 0)
	}
	if later == nil {
		later = NewSeries(0, 0)
	}
	merged = union(old, later)
	for c, col := range old.cols {
		if col != nil {
			merged.cols[c] = missing(merged.days)
			copy(merged.cols[c][old.Start-merged.Start:], col)
		}
	}
	for i := range later.days {
		d := later.Start.AddDays(i)
		fresh := true // nothing on file of the day
		for c := range Columns {
			fresh = fresh && math.IsNaN(old.At(c, d))
		}
		added := false
		for c := range Columns {
			was, is := old.At(c, d), later.At(c, d)
			switch {
			case math.IsNaN(is):
			case math.IsNaN(was):
				merged.Set(c, d, is)
				added = true
				if !fresh {
					report.Filled++
				}
			case !agree(was, is):
				report.Conflicts = append(report.Conflicts, Conflict{d, c, was, is})
				if overwrite {
					merged.Set(c, d, is)
				}
			}
		}
		if fresh && added {
			report.NewDays++
		}
	}
	return merged, report
}

// union returns an empty series over the days of both.
func union(a, b *Series) *Series {
	switch {
	case a.days == 0:
		return NewSeries(b.Start, b.days)
	case b.days == 0:
		return NewSeries(a.Start, a.days)
	}
	start := min(a.Start, b.Start)
	return NewSeries(start, int(max(a.End(), b.End())-start)+1)
}
