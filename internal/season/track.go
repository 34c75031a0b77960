package season

import (
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// track holds daily values of consecutive days: of a station, or of a member
// of the ensemble. NaN is missing.
type track struct {
	start     civil.Date
	latRad    float64
	nightC    []float64 // minimum of the air, °C; not what was held over a gap
	tminC     []float64 // the same with short gaps filled
	tmaxC     []float64
	meanC     []float64
	lightMol  []float64
	daylightH []float64
	soil5C    []float64
	soil10C   []float64
}

// stationColumns is how many columns a track has.
const stationColumns = 8

// newTrack makes room for a track, with nothing known yet.
func newTrack(start civil.Date, days int) track {
	t := track{start: start}
	for _, col := range t.columns() {
		*col = make([]float64, days)
	}
	return t
}

// columns lists the columns, to treat them alike.
func (t *track) columns() [stationColumns]*[]float64 {
	return [...]*[]float64{&t.nightC, &t.tminC, &t.tmaxC, &t.meanC, &t.lightMol, &t.daylightH, &t.soil5C, &t.soil10C}
}

// trackOf takes what f holds. Its columns are those of f where f has them.
func trackOf(f *weather.Felt) track {
	days := f.View.Days
	n := days.Len()
	t := track{
		start: f.Start, latRad: f.View.Station.LatitudeDeg * math.Pi / 180,
		tminC: days.Col(weather.TminC), tmaxC: days.Col(weather.TmaxC), meanC: f.TmeanC,
		lightMol: f.LightMol, daylightH: f.DaylightH, soil5C: f.Soil5C, soil10C: f.Soil10C,
	}
	for _, col := range []*[]float64{&t.tminC, &t.tmaxC} {
		if *col == nil {
			*col = slices.Repeat([]float64{math.NaN()}, n)
		}
	}
	t.nightC = make([]float64, n)
	for i, x := range t.tminC {
		t.nightC[i] = x
		// A minimum held over a gap is no second frost.
		if f.View.Basis(weather.TminC, f.Start.AddDays(i)) == weather.Estimated {
			t.nightC[i] = math.NaN()
		}
	}
	return t
}

func (t *track) days() int { return len(t.meanC) }

// upTo returns the days before the date.
func (t track) upTo(d civil.Date) track {
	n := min(max(0, int(d-t.start)), t.days())
	for _, col := range t.columns() {
		*col = (*col)[:n:n]
	}
	return t
}

// lawn holds the daily values of one grass on a track.
type lawn struct {
	soilC []float64 // 7-day mean of the soil at 10 cm, °C
	index []float64 // growth index of the 7 days, never short of water, 0 to 1
}

func newLawn(days int) lawn { return lawn{make([]float64, days), make([]float64, days)} }

func (l lawn) upTo(n int) lawn {
	n = min(n, len(l.index))
	return lawn{l.soilC[:n:n], l.index[:n:n]}
}

// grow fills the lawn's days from the place from on. The days before it are
// there already, or never will be.
//
// The index is that of [turf.Index] with 7-day means as in [turf.Daily], from
// five known days on, without what a late freeze takes off it for a week, and
// with water always enough: whether a lawn is watered is not known, a dry week
// ends no season, and an index that rain moves would have no usual date.
func (t *track) grow(p *turf.Profile, l lawn, from int) {
	// The last seven days of each mean, in rings.
	var fl, fp [weather.WindowDays]float64
	for i := max(0, from-weather.WindowDays+1); i < t.days(); i++ {
		_, fl[i%weather.WindowDays], fp[i%weather.WindowDays], _ = turf.Index(p, p.OptimumC, t.lightMol[i], t.daylightH[i], 1)
		if i < from {
			continue
		}
		var warmth, light, day, soil agromet.Known
		for k := max(0, i-weather.WindowDays+1); k <= i; k++ {
			soil.Add(t.soil10C[k])
			if math.IsNaN(t.meanC[k]) {
				continue
			}
			warmth.Add(t.meanC[k])
			light.Add(fl[k%weather.WindowDays])
			day.Add(fp[k%weather.WindowDays])
		}
		const least = weather.WindowValid
		ft, _, _, _ := turf.Index(p, warmth.Mean(least), p.LightFullMol, 24, 1)
		l.index[i] = quantity.Thousandths(ft * light.Mean(least) * day.Mean(least))
		l.soilC[i] = quantity.Thousandths(soil.Mean(least))
	}
}

// daylight returns the length of a day, h.
func (t *track) daylight(d civil.Date) float64 {
	return agromet.DaylightHours(t.latRad, d.YearDay())
}
