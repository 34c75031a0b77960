package weather

import (
	"fmt"
	"math"
	"slices"

	"ligule/internal/civil"
)

// Series holds daily values, column by column, of consecutive days. A missing
// value is NaN; a column of which nothing is known takes no room.
type Series struct {
	Start civil.Date // first day
	days  int
	cols  [Columns][]float64 // each nil or of length days
}

// NewSeries returns a series of days consecutive days from start, with nothing
// known yet. It panics on a negative number of days.
func NewSeries(start civil.Date, days int) *Series {
	if days < 0 {
		panic(fmt.Sprintf("weather: a series of %d days", days))
	}
	return &Series{Start: start, days: days}
}

// Len returns the number of days.
func (s *Series) Len() int { return s.days }

// End returns the last day. That of an empty series is the day before Start.
func (s *Series) End() civil.Date { return s.Start.AddDays(s.days - 1) }

// Index returns the place of a day in the slices of Col, and whether the day
// is within the series.
func (s *Series) Index(d civil.Date) (int, bool) {
	i := int(d - s.Start)
	return i, i >= 0 && i < s.days
}

// At returns the value of a column on a day: NaN where it is missing, and
// outside the series.
func (s *Series) At(c Column, d civil.Date) float64 {
	i, ok := s.Index(d)
	if !ok || s.cols[c] == nil {
		return math.NaN()
	}
	return s.cols[c][i]
}

// Set sets the value of a column on a day; NaN makes it missing. It panics on a
// day outside the series.
func (s *Series) Set(c Column, d civil.Date, v float64) {
	i, ok := s.Index(d)
	if !ok {
		panic(fmt.Sprintf("weather: %s is outside the series %s to %s", d, s.Start, s.End()))
	}
	if s.cols[c] == nil {
		if math.IsNaN(v) {
			return
		}
		s.cols[c] = missing(s.days)
	}
	s.cols[c][i] = v
}

// Has reports whether any value was ever set in the column.
func (s *Series) Has(c Column) bool { return s.cols[c] != nil }

// Col returns the values of a column, one per day from Start, or nil if
// nothing is known of it. The slice belongs to the series.
func (s *Series) Col(c Column) []float64 { return s.cols[c] }

// missing returns n missing values.
func missing(n int) []float64 { return slices.Repeat([]float64{math.NaN()}, n) }
