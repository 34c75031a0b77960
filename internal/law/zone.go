package law

import (
	"fmt"
	"time"
	_ "time/tzdata" // for machines without zone files of their own
)

// TimeZone returns the IANA time zone of a name.
func TimeZone(tz string) (*time.Location, error) {
	loc, err := time.LoadLocation(tz)
	if err != nil || tz == "" || tz == "Local" { // the zone of the machine that happens to print
		return nil, fmt.Errorf("%q is not an IANA time zone", tz)
	}
	return loc, nil
}
