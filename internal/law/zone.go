package law

import (
	"fmt"
	"time"
	_ "time/tzdata" // for machines without zone files of their own

	"ligule/internal/civil"
)

// LocalDate returns the civil date at an instant in an IANA time zone. A law's
// day is the local day, be it 23, 24 or 25 hours long.
func LocalDate(t time.Time, tz string) (civil.Date, error) {
	loc, err := zone(tz)
	if err != nil {
		return 0, err
	}
	y, m, d := t.In(loc).Date()
	return civil.NewDate(y, int(m), d)
}

func zone(tz string) (*time.Location, error) {
	if tz == "" || tz == "Local" {
		return nil, fmt.Errorf("%q is not an IANA time zone", tz)
	}
	loc, err := time.LoadLocation(tz)
	if err != nil {
		return nil, fmt.Errorf("%q is not an IANA time zone", tz)
	}
	return loc, nil
}
