package weather

import (
	"fmt"
	"slices"

	"ligule/internal/civil"
)

// ObsTime is when of the day a station's records are closed.
type ObsTime uint8

// The times of observation.
const (
	Midnight  ObsTime = iota // the record of a date holds that calendar day
	Morning                  // read early: the maximum and the rain belong to the day before
	Afternoon                // read late: taken as the calendar day
)

// ObsTimes returns the words that ParseObsTime reads, in the order of the times.
func ObsTimes() []string { return []string{"midnight", "morning", "afternoon"} }

// String returns the word of the files: "midnight", "morning" or "afternoon".
func (t ObsTime) String() string { return ObsTimes()[t] }

// ParseObsTime reads "midnight", "morning" or "afternoon".
func ParseObsTime(s string) (ObsTime, error) {
	i := slices.Index(ObsTimes(), s)
	if i < 0 {
		return 0, fmt.Errorf("%q is not a time of observation: use midnight, morning or afternoon", s)
	}
	return ObsTime(i), nil
}

// ObsPeriod says from which record date on a time of observation holds.
type ObsPeriod struct {
	From civil.Date // first record date; the zero Date means since ever
	Time ObsTime
}

// Station is a weather station.
type Station struct {
	ID, Name     string
	LatitudeDeg  float64 // degrees, north positive
	LongitudeDeg float64 // degrees, east positive
	ElevationM   float64 // m above sea level
	WindHeightM  float64 // height of the anemometer, m; NaN or 0 if not told
	Coastal      bool    // a large water body rules the air
	Arid         bool    // without humidity the dew point is taken below the lowest temperature
	// Obs lists the times of observation, sorted by From. Record dates before
	// the first period, and a station without any, count as Midnight.
	Obs []ObsPeriod
}

// ObsTimeOn returns the time of observation that holds for a record date.
func (st Station) ObsTimeOn(record civil.Date) ObsTime {
	t := Midnight
	for _, p := range st.Obs {
		if p.From > record {
			break
		}
		t = p.Time
	}
	return t
}

// mornings tells for each of n record dates from start whether it was a
// Morning one. It is nil if the station never observes in the morning.
func (st Station) mornings(start civil.Date, n int) []bool {
	if !slices.ContainsFunc(st.Obs, func(p ObsPeriod) bool { return p.Time == Morning }) {
		return nil
	}
	morning := make([]bool, n)
	for i := range morning {
		morning[i] = st.ObsTimeOn(start.AddDays(i)) == Morning
	}
	return morning
}
