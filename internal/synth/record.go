package synth

import (
	"math"
	"strconv"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// Record is one line as a station writes it down. Missing is NaN.
type Record struct {
	Date         civil.Date
	TmaxC, TminC float64
	RainMM       float64
}

// Records turns weather days into the records of an observer, from first to
// last, both inside. An observer who reads in the morning books the maximum and
// the rain of the day before under the date of the reading; the minimum is of
// the date itself. What no record holds, at the edges or where the hour of
// reading changed, is missing.
func Records(days []Day, first, last civil.Date, morning func(civil.Date) bool) []Record {
	records := make([]Record, 0, int(last-first)+1)
	for d := first; d <= last; d++ {
		r := missing(d)
		if day, ok := find(days, d); ok {
			r.TminC = day.TminC
			if !morning(d) {
				r.TmaxC, r.RainMM = day.TmaxC, day.RainMM
			}
		}
		if day, ok := find(days, d-1); ok && morning(d) {
			// Both thermometers watched the same 24 hours, so that the maximum
			// read cannot be less than the minimum, however warm the night.
			r.TmaxC, r.RainMM = day.TmaxC, day.RainMM
			if r.TminC > r.TmaxC {
				r.TmaxC = r.TminC
			}
		}
		records = append(records, r)
	}
	return records
}

func missing(d civil.Date) Record {
	return Record{Date: d, TmaxC: math.NaN(), TminC: math.NaN(), RainMM: math.NaN()}
}

// Header is the first line of the CSV form.
const Header = "date,tmax_c,tmin_c,rain_mm\n"

// CSV returns the records in the form of a weather file: the header, one line
// for each record, one decimal, missing left empty.
func CSV(records []Record) []byte {
	b := make([]byte, 0, len(Header)+26*len(records))
	b = append(b, Header...)
	for _, r := range records {
		b = r.Date.Append(b)
		for _, v := range [...]float64{r.TmaxC, r.TminC, r.RainMM} {
			b = append(b, ',')
			if !math.IsNaN(v) {
				// Adding zero takes the sign off a negative one.
				b = strconv.AppendFloat(b, quantity.Tenths(v)+0, 'f', 1, 64)
			}
		}
		b = append(b, '\n')
	}
	return b
}
