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
	switch m {
	case SoilModeled:
		return "model"
	case SoilShifted:
		return "model-shifted"
	case SoilProbe:
		return "probe"
	}
	return "none"
}

// The model is moved by its mean error on the last probeDays days with a
// reading, if all of them lie within the probeMaxAgeDays days before the day,
// or before the issue date for days from there on (own design).
const (
	probeDays       = 7
	probeMaxAgeDays = 14
)

// soil fills a column of soil temperature: the probe's reading where one was
// observed, else the model, moved by its error at the probe where that
// reported lately. The model says nothing in the first
// agromet.SoilSpinUpDays days after the start or after days without air
// temperature.
func (f *Felt) soil(model agromet.SoilModel, probe Column, soilC []float64, by []SoilMethod) {
	readings, basis := f.View.Days.cols[probe], f.View.basis[probe]
	past := int(f.View.IssueDate - f.Start)
	s, run := math.NaN(), 0
	var errors [probeDays]float64 // of the last readings, in a ring
	var at [probeDays]int         // the days of these readings
	count := 0
	for i, meanC := range f.TmeanC {
		s = model.Next(s, meanC)
		run++
		if math.IsNaN(meanC) {
			run = 0
		}
		soilC[i] = math.NaN()
		if run > agromet.SoilSpinUpDays {
			soilC[i], by[i] = agromet.SoilC(s), SoilModeled
		}
		switch {
		case readings != nil && basis[i] == Observed:
			if by[i] == SoilModeled {
				errors[count%probeDays], at[count%probeDays] = readings[i]-soilC[i], i
				count++
			}
			soilC[i], by[i] = readings[i], SoilProbe
		case by[i] == SoilModeled && count >= probeDays && at[count%probeDays] >= min(i, past)-probeMaxAgeDays:
			sum := 0.0
			for _, e := range errors {
				sum += e
			}
			soilC[i] += sum / probeDays
			by[i] = SoilShifted
		}
	}
}
