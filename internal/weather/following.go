package weather

import "ligule/internal/civil"

// Following returns the days that followed an issue, as records tell of them, as if
// they had been its forecast: nothing was wrong with it. Only what was observed
// counts. It is for past weeks of which no forecast is on file.
func Following(st Station, records *Series, issue civil.Date, days int) Forecast {
	f := Forecast{Issued: issue, Days: NewSeries(issue, days)}
	// A record may tell of the day before it, and of the one before that its lowest.
	const around = 2
	end := issue.AddDays(days + around)
	near := NewSeries(issue.AddDays(-around), days+2*around)
	for c := range Columns {
		for d := near.Start; records.Has(c) && d < end; d++ {
			near.Set(c, d, records.At(c, d))
		}
	}
	seen := AsOf(st, near, nil, end)
	for c := range Columns {
		for d := issue; d <= f.Days.End(); d++ {
			if seen.Basis(c, d) == Observed {
				f.Days.Set(c, d, seen.Days.At(c, d))
			}
		}
	}
	return f
}
