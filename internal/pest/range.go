package pest

import (
	"fmt"
	"math"

	"ligule/internal/agromet"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

// Region bounds a place, degrees; NaN is no bound.
type Region struct{ South, North, West, East float64 }

// Contains reports whether the station lies in the region.
func (r Region) Contains(s weather.Station) bool {
	return !(s.LatitudeDeg < r.South) && !(s.LatitudeDeg > r.North) && !(s.LongitudeDeg < r.West) && !(s.LongitudeDeg > r.East)
}

// ReadRegion reads { south = 30, west = -100 }, if a table has it.
func ReadRegion(f *Figures) Region {
	r := Region{math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	f.Holds("region")
	sub := f.Table.Table("region", false)
	if sub == nil {
		return r
	}
	bound := func(key string, most float64) float64 {
		x, ok := sub.OptNumber(key)
		switch {
		case !ok:
			return math.NaN()
		case math.Abs(x) > most:
			sub.Errorf(key, fmt.Sprintf("use -%v to %v", most, most), "%v degrees is out of range", x)
		}
		return x
	}
	r.South, r.North = bound("south", 90), bound("north", 90)
	r.West, r.East = bound("west", 180), bound("east", 180)
	if r.South >= r.North || r.West >= r.East {
		sub.Errorf("", "south below north, west below east", "the bounds cross")
	}
	sub.Close()
	return r
}

// Range is where a pest lives. The zero Range is everywhere.
type Range struct {
	Lives string // in words; "" is everywhere
	Region
	ColdestFrom, ColdestTo Figure // mean of the coldest month
}

// ReadRange reads the table [range], if the file has it.
func ReadRange(file *File) (r Range) {
	t := file.Table.Table("range", false)
	if t == nil {
		return r
	}
	file.Figures("range", t, func(f *Figures) {
		f.Holds("lives")
		r.Lives = t.Text("lives")
		r.Region = ReadRegion(f)
		r.ColdestFrom, r.ColdestTo = f.Opt("coldest_from", quantity.Temperature, -30, 30), f.Opt("coldest_to", quantity.Temperature, -30, 30)
		if !t.Has("region") && !r.ColdestFrom.Known() && !r.ColdestTo.Known() {
			f.Errorf("", "add region, coldest_from or coldest_to", "nothing bounds it")
		}
		if r.ColdestFrom.Value >= r.ColdestTo.Value {
			f.Errorf("coldest_to", "it has to be the warmer of the two", "the bounds cross")
		}
	})
	return r
}

// Holds reports whether the pest lives at the place of the input. Where a year of
// weather is not on file, its climate is no reason against it.
func (r *Range) Holds(in *Input) bool {
	if r.Lives == "" || in.Felt == nil {
		return true
	}
	coldest := quantity.Tenths(in.coldestMonthC())
	return r.Region.Contains(in.Felt.View.Station) && !(coldest < r.ColdestFrom.Value) && !(coldest > r.ColdestTo.Value)
}

// leastMonthDays is how many days of a month of the year a climate needs. Own design.
const leastMonthDays = 20

type coldestKey struct{}

// coldestMonthC returns the mean of the coldest month over the years on record; NaN
// where a month of the year is not on it.
func (in *Input) coldestMonthC() float64 {
	s := in.Record()
	if s == nil {
		return math.NaN()
	}
	return Kept(in, coldestKey{}, func() float64 {
		var months [12]agromet.Known
		for i, x := range s.Days.TmeanC {
			months[s.Days.Start.AddDays(i).Month()-1].Add(x)
		}
		coldest := math.Inf(1)
		for i := range months {
			// The least of what is known, and not known where one is not.
			coldest = math.Min(coldest, months[i].Mean(leastMonthDays))
		}
		return coldest
	})
}
