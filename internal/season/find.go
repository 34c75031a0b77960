package season

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Own design. The levels of the growth index are those of the states of package
// turf.
const (
	heldDays        = 3  // days in a row that make a rise or a fall
	soilHistoryDays = 30 // the fall of the soil looks back on

	// mostAirGapDays are missing from a season that can still be told, and
	// mostSoilGapDays where it rests on the soil, whose model says nothing for
	// a while after a gap.
	mostAirGapDays  = agromet.MostFreezeGapDays
	mostSoilGapDays = mostAirGapDays + agromet.SoilSpinUpDays
)

// find searches a track for the event of a year. A search that the track does
// not hold to its end, and that has found nothing that stands, is Unknown; so
// is one that lacks more than ten days before it found anything, or a month of
// the soil.
func (e Event) find(t *track, l lawn, p *turf.Profile, year int) Moment {
	first, last := e.Season(year, p)
	switch e.Kind {
	case OnDate:
		return dated(first)
	case DayRising, DayFalling:
		return e.findDay(t, first, last)
	}
	from, to := int(first-t.start), int(last-t.start) // both ends inside
	if from < 0 || from >= t.days() {
		return Moment{}
	}
	whole := to < t.days()
	to = min(to, t.days()-1)
	switch e.Kind {
	case LastFrost:
		if !whole {
			return Moment{}
		}
		i, s := agromet.LastFreeze(t.nightC[from:to+1], e.LevelC)
		return t.sighting(from+i, s, true)
	case FirstFrost:
		i, s := agromet.FirstFreeze(t.nightC[from:to+1], e.LevelC)
		return t.sighting(from+i, s, whole)
	case DegreeDays:
		return e.findSum(t, from, to, whole)
	case SoilRising, SoilFalling:
		soil := t.soil5C
		if e.At10cm {
			soil = t.soil10C
		}
		return t.findSoil(soil, from, to, whole, e.LevelC, e.Kind == SoilRising)
	case GrowthRising, GrowthFalling:
		return t.findHeld(l.index, from, to, whole, mostAirGapDays, e.Level, e.Kind == GrowthRising)
	case Slowdown:
		return t.findHeld(l.index, from, to, whole, mostAirGapDays, turf.GrowingIndex, false)
	case GreenUp:
		if math.IsNaN(p.SoilGreenUpC) {
			return t.findHeld(l.index, from, to, whole, mostAirGapDays, turf.GrowingIndex, true)
		}
		return t.findHeld(l.soilC, from, to, whole, mostSoilGapDays, quantity.Thousandths(p.SoilGreenUpC), true)
	case Dormancy:
		return t.findDormancy(l, p, from, to, whole)
	}
	return Moment{}
}

func (t *track) sighting(i int, s agromet.Sighting, whole bool) Moment {
	if s == agromet.SightingFound {
		return dated(t.start.AddDays(i))
	}
	return over(whole && s == agromet.SightingNone)
}

// findDay searches the days between two solstices for a length of day.
func (e Event) findDay(t *track, first, last civil.Date) Moment {
	long := func(d civil.Date) bool {
		return quantity.Thousandths(t.daylight(d)) >= quantity.Thousandths(e.Hours) == (e.Kind == DayRising)
	}
	switch {
	case long(first):
		return Moment{Outcome: Already}
	case !long(last):
		return Moment{Outcome: Never}
	}
	lo, hi := first, last // not yet, and already
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; long(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return dated(hi)
}

// findSum adds degree-days. The sum needs every day.
func (e Event) findSum(t *track, from, to int, whole bool) Moment {
	total := 0.0
	for i := from; i <= to; i++ {
		next := math.NaN()
		if i+1 < t.days() {
			next = t.tminC[i+1]
		}
		total += e.Warmth.Day(t.tmaxC[i], t.tminC[i], next)
		if math.IsNaN(total) {
			return Moment{}
		}
		if quantity.Thousandths(total) >= quantity.Thousandths(e.TotalC) {
			return dated(t.start.AddDays(i))
		}
	}
	return over(whole)
}

// findSoil searches by the rule of [agromet.Crossing], so that a calendar and the
// seasons of weeds and diseases never disagree on when the soil passed a level.
func (t *track) findSoil(soilC []float64, from, to int, whole bool, levelC float64, rising bool) Moment {
	back := max(0, from-lookBackDays-soilHistoryDays)
	soil := soilC[back : to+1]
	at := from - back
	i := agromet.Crossing(soil, at, levelC, rising)
	if lacks(soil, at, i, mostSoilGapDays) {
		return Moment{}
	}
	if i < 0 {
		return over(whole)
	}
	if i > at {
		// Nothing is known of some days before: it may have come on one of them.
		if missingIn(soil[max(0, i-2*heldDays):i]) > heldDays {
			return Moment{}
		}
		return dated(t.start.AddDays(back + i))
	}
	// It held on the first day: since when?
	for ; i > at-lookBackDays; i-- {
		if i == 0 {
			return Moment{}
		}
		if agromet.Crossing(soil[:min(len(soil), i-1+heldDays)], i-1, levelC, rising) != i-1 {
			return dated(t.start.AddDays(back + i))
		}
	}
	return Moment{Outcome: Already}
}

// findHeld searches a series of means for the first of three days in a row
// that are at the level or above it, or when falling below it.
func (t *track) findHeld(means []float64, from, to int, whole bool, mostGap int, level float64, rising bool) Moment {
	past := func(i int) bool {
		if rising {
			return means[i] >= level
		}
		return means[i] < level
	}
	return t.held(from, to, whole, means, mostGap, past)
}

// held is findHeld for any test of a day. Where means is NaN the day is
// missing.
func (t *track) held(from, to int, whole bool, means []float64, mostGap int, past func(int) bool) Moment {
	found, run := -1, 0
	for i := from; i <= to && found < 0; i++ {
		if !past(i) {
			run = 0
			continue
		}
		if run++; run == heldDays {
			found = i - heldDays + 1
		}
	}
	if lacks(means[:to+1], from, found, mostGap) {
		return Moment{}
	}
	if found < 0 {
		return over(whole)
	}
	if found > from {
		if missingIn(means[max(0, found-heldDays):found]) == heldDays {
			return Moment{} // it may have come on a day of which nothing is known
		}
		return dated(t.start.AddDays(found))
	}
	for i := found; i > from-lookBackDays; i-- {
		if i == 0 || math.IsNaN(means[i-1]) {
			return Moment{} // since when it holds is not on file
		}
		if !past(i - 1) {
			return dated(t.start.AddDays(i))
		}
	}
	return Moment{Outcome: Already}
}

// lacks reports whether more than most days are missing from the place from to
// where something was found, or to the end if nothing was (-1).
func lacks(x []float64, from, found, most int) bool {
	if found < 0 {
		found = len(x)
	}
	return missingIn(x[from:found]) > most
}

func missingIn(x []float64) int {
	n := 0
	for _, v := range x {
		if math.IsNaN(v) {
			n++
		}
	}
	return n
}

// over tells of a search that found nothing: Never if it was whole.
func over(whole bool) Moment {
	if whole {
		return Moment{Outcome: Never}
	}
	return Moment{}
}

// findDormancy: the 7-day mean of the soil at 10 cm falls below the grass's
// level, or, in a warm-season grass, the second night of 28 °F or less since 1
// September has come and the index is below 0.10, whichever is first, for
// three days in a row.
func (t *track) findDormancy(l lawn, p *turf.Profile, from, to int, whole bool) Moment {
	level := quantity.Thousandths(p.SoilDormantC)
	asleepFrom := len(l.index) // the place from which freezes keep it asleep
	if p.Kind == turf.WarmSeason {
		since := civil.MustDate(t.start.AddDays(from).Year(), turf.FreezeSeasonMonth, 1)
		freezes := 0
		for i := max(from, int(since-t.start)); i <= to; i++ {
			if agromet.ClassifyFrost(t.nightC[i]) == agromet.HardFreeze {
				if freezes++; freezes == turf.FreezeNightsDormant {
					asleepFrom = i
					break
				}
			}
		}
	}
	return t.held(from, to, whole, l.soilC, mostSoilGapDays, func(i int) bool {
		return l.soilC[i] < level || i >= asleepFrom && l.index[i] < turf.AwakeIndex
	})
}
