package weather

import (
	"math"

	"ligule/internal/agromet"
)

// SoilMethod says how a soil temperature was found.
type SoilMethod uint8

// The methods, from none to the best.
const (
	SoilNone    SoilMethod = iota // nothing can be said
	SoilModeled                   // from air temperature
	SoilShifted                   // from air temperature, moved by the error it had at the probe lately
	SoilProbe                     // a probe's reading
)

// String returns "none", "model", "model-shifted" or "probe".
func (m SoilMethod) String() string {
	return [...]string{"none", "model", "model-shifted", "probe"}[m]
}

// The model is moved by its mean error on the last probeDays days with a
// reading, if all of them lie within the probeMaxAgeDays days before the day,
// or before the issue date for days from there on (own design).
const (
	probeDays       = 7
	probeMaxAgeDays = 14
)

// SoilFollower carries the soil temperature of one depth from day to day: the
// probe's reading where there is one, else the model, moved by its error at the
// probe where that reported lately. The model says nothing in the first
// [agromet.SoilSpinUpDays] days after the start or after days without air
// temperature.
type SoilFollower struct {
	run    agromet.SoilRun
	issue  int                // the days before the issue date
	day    int                // of the next step
	errors [probeDays]float64 // of the last readings, in a ring
	at     [probeDays]int     // the days of these readings
	count  int
}

// FollowSoil starts a follower where the model's run stands. From the issue date
// on, which comes so many days after the first, the age of readings is no longer
// counted.
func FollowSoil(run agromet.SoilRun, issue int) SoilFollower {
	return SoilFollower{run: run, issue: issue}
}

// Next returns the soil temperature of the next day, °C, with its method, from
// the day's mean air temperature and its reading (°C, NaN missing).
func (f *SoilFollower) Next(meanAirC, probeC float64) (soilC float64, by SoilMethod) {
	i, k := f.day, f.count%probeDays
	f.day++
	soilC = f.run.Next(meanAirC)
	modeled := !math.IsNaN(soilC)
	switch {
	case !math.IsNaN(probeC):
		if modeled {
			f.errors[k], f.at[k] = probeC-soilC, i
			f.count++
		}
		return probeC, SoilProbe
	case !modeled:
		return soilC, SoilNone
	case f.count < probeDays || f.at[k] < min(i, f.issue)-probeMaxAgeDays:
		return soilC, SoilModeled
	}
	sum := 0.0
	for _, e := range f.errors {
		sum += e
	}
	return soilC + sum/probeDays, SoilShifted
}

// soil fills a column of soil temperature from what a probe's observed readings
// and the air tell.
func (f *Felt) soil(model agromet.SoilModel, probe Column, soilC []float64, by []SoilMethod) {
	readings, basis := f.View.Days.cols[probe], f.View.basis[probe]
	follower := FollowSoil(model.Start(), int(f.View.IssueDate-f.Start))
	for i, meanC := range f.TmeanC {
		reading := math.NaN()
		if readings != nil && basis[i] == Observed {
			reading = readings[i]
		}
		soilC[i], by[i] = follower.Next(meanC, reading)
	}
}
