package weather

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// cover is what grows on the ground above a soil thermometer, numbered as
// GHCN-Daily numbers it.
type cover uint8

const (
	coverUnknown cover = iota
	coverGrass
	coverFallow
	coverBare
	coverBrome
	coverSod
	coverStraw
	coverGrassMuck
	coverBareMuck
	covers
)

func (c cover) String() string {
	return [covers]string{"unknown", "grass", "fallow", "bare", "brome", "sod", "straw", "grass_muck", "bare_muck"}[c]
}

// asLawn lists the covers from the most to the least like a lawn (own design).
func asLawn() []cover {
	return []cover{coverSod, coverGrass, coverBrome, coverGrassMuck, coverUnknown, coverStraw, coverFallow, coverBare, coverBareMuck}
}

// cell is a value with its place in the file.
type cell struct {
	value float64
	line  int
	field string
	text  string
}

// soilKey names one of the extremes of soil temperature of a day.
type soilKey struct {
	date    civil.Date
	depth   Column // Soil5C or Soil10C
	cover   cover
	maximum bool
}

type cellKey struct {
	date   civil.Date
	column Column
}

// gathering collects the values of a file in any order and puts them under
// quality control.
type gathering struct {
	file      string
	station   string
	cells     map[cellKey]cell
	refused   map[cellKey]bool // given twice, differently
	soils     map[soilKey]cell
	dropped   []Dropped
	notes     []string
	presumed  int                // values that the archive presumes to be zero
	ignored   map[string]bool    // elements and columns that are not kept
	obsCounts [Afternoon + 1]int // maxima by the time of observation told
	obs       []ObsPeriod
}

func newGathering(file string) *gathering {
	return &gathering{
		file:    file,
		cells:   map[cellKey]cell{},
		refused: map[cellKey]bool{},
		soils:   map[soilKey]cell{},
		ignored: map[string]bool{},
	}
}

func (g *gathering) note(format string, args ...any) {
	g.notes = append(g.notes, fmt.Sprintf(format, args...))
}

func (g *gathering) drop(line int, d civil.Date, field, text, reason string, args ...any) {
	g.dropped = append(g.dropped, Dropped{g.file, line, d, field, text, fmt.Sprintf(reason, args...)})
}

// possibleDate reports whether a record may be of a date, and drops the line
// if not.
func (g *gathering) possibleDate(line int, d civil.Date) bool {
	if y := d.Year(); y < firstYear || y > lastYear {
		g.drop(line, d, "", "", "the year is outside %d to %d", firstYear, lastYear)
		return false
	}
	return true
}

// add takes a value in the column's own unit.
func (g *gathering) add(d civil.Date, c Column, x float64, line int, field, text string) {
	x = quantity.Hundredths(x) + 0 // no negative zero
	if low, high := c.limits(); !(x >= low && x <= high) {
		g.drop(line, d, field, text, "%s of %v is outside %v to %v", c.Name(), x, low, high)
		return
	}
	key := cellKey{d, c}
	was, given := g.cells[key]
	switch {
	case given && was.value == x:
	case given:
		delete(g.cells, key)
		g.refused[key] = true
		g.drop(was.line, d, was.field, was.text, "the day has several values of %s", c.Name())
		fallthrough
	case g.refused[key]:
		g.drop(line, d, field, text, "the day has several values of %s", c.Name())
	default:
		g.cells[key] = cell{x, line, field, text}
	}
}

// addSoil takes a daily minimum or maximum of soil temperature, °C.
func (g *gathering) addSoil(d civil.Date, depth Column, cv cover, maximum bool, x float64, line int, field, text string) {
	if low, high := depth.limits(); !(x >= low && x <= high) {
		g.drop(line, d, field, text, "%v is outside %v to %v", x, low, high)
		return
	}
	key := soilKey{d, depth, cv, maximum}
	if was, ok := g.soils[key]; ok && was.value != x {
		g.drop(line, d, field, text, "the day has several values of it; the first is kept")
		return
	}
	g.soils[key] = cell{x, line, field, text}
}

// observedAt counts a time of observation, given as HHMM. The classes are own
// design.
func (g *gathering) observedAt(hhmm string) {
	if len(hhmm) != 4 || !isDigit(hhmm[0]) || !isDigit(hhmm[1]) {
		return
	}
	switch h := int(hhmm[0]-'0')*10 + int(hhmm[1]-'0'); {
	case h >= 22 || h == 0:
		g.obsCounts[Midnight]++
	case h >= 4 && h <= 11:
		g.obsCounts[Morning]++
	case h >= 14:
		g.obsCounts[Afternoon]++
	}
}

// finish checks the values of each day against each other and returns what is
// left.
func (g *gathering) finish() Imported {
	g.meanSoil()
	days := map[civil.Date]bool{}
	for k := range g.cells {
		days[k.date] = true
	}
	dates := slices.Sorted(maps.Keys(days))
	for _, d := range dates {
		g.control(d)
	}
	s := g.series()
	slices.SortStableFunc(g.dropped, func(a, b Dropped) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Date, b.Date), cmp.Compare(a.Field, b.Field))
	})
	if g.presumed > 0 {
		g.note("%d values that the observer left blank are presumed to be 0, as the archive does", g.presumed)
	}
	if len(g.ignored) > 0 {
		g.note("not kept: %s", strings.Join(slices.Sorted(maps.Keys(g.ignored)), ", "))
	}
	g.tellObs()
	return Imported{StationID: g.station, Days: s, Dropped: g.dropped, Notes: g.notes, Obs: g.obs}
}

// control drops values of a day that cannot both be right.
func (g *gathering) control(d civil.Date) {
	for _, p := range [...]struct {
		low, high Column
		reason    string
	}{
		{TminC, TmaxC, "the maximum is below the minimum"},
		{RHMinPct, RHMaxPct, "the maximum is below the minimum"},
		{RHMinPct, RHMeanPct, "the mean is below the minimum"},
		{RHMeanPct, RHMaxPct, "the maximum is below the mean"},
	} {
		low, okL := g.cells[cellKey{d, p.low}]
		high, okH := g.cells[cellKey{d, p.high}]
		if okL && okH && high.value < low.value {
			g.drop(low.line, d, low.field, low.text, "%s", p.reason)
			g.drop(high.line, d, high.field, high.text, "%s", p.reason)
			delete(g.cells, cellKey{d, p.low})
			delete(g.cells, cellKey{d, p.high})
		}
	}
}

// meanSoil turns extremes of soil temperature into means, of each day's cover
// that is most like a lawn. A mean that the file gives itself wins.
func (g *gathering) meanSoil() {
	places := map[cellKey]bool{}
	for k := range g.soils {
		places[cellKey{k.date, k.depth}] = true
	}
	bare := 0
	for _, p := range slices.SortedFunc(maps.Keys(places), func(a, b cellKey) int {
		return cmp.Or(cmp.Compare(a.date, b.date), cmp.Compare(a.column, b.column))
	}) {
		for _, cv := range asLawn() {
			low, okL := g.soils[soilKey{p.date, p.column, cv, false}]
			high, okH := g.soils[soilKey{p.date, p.column, cv, true}]
			if !okL || !okH {
				continue
			}
			if high.value < low.value {
				g.drop(low.line, p.date, low.field, low.text, "the maximum is below the minimum")
				g.drop(high.line, p.date, high.field, high.text, "the maximum is below the minimum")
				continue
			}
			if _, given := g.cells[p]; !given && !g.refused[p] {
				g.cells[p] = cell{quantity.Hundredths((low.value+high.value)/2) + 0, low.line, low.field, low.text}
				if cv == coverBare || cv == coverBareMuck || cv == coverFallow {
					bare++
				}
			}
			break
		}
	}
	if bare > 0 {
		g.note("soil temperature of %d days was measured under bare ground, which runs warmer than a lawn in summer", bare)
	}
}

// series returns what is left of the values.
func (g *gathering) series() *Series {
	first, last := civil.Date(math.MaxInt32), civil.Date(0)
	for k := range g.cells {
		first, last = min(first, k.date), max(last, k.date)
	}
	if len(g.cells) == 0 {
		return NewSeries(0, 0)
	}
	s := NewSeries(first, int(last-first)+1)
	for k, v := range g.cells {
		s.Set(k.column, k.date, v.value)
	}
	return s
}

// tellObs says when of the day the maxima were observed, if the file tells and
// is of one mind.
func (g *gathering) tellObs() {
	total := 0
	for _, n := range g.obsCounts {
		total += n
	}
	for t, n := range g.obsCounts {
		switch {
		case n == 0 || g.obs != nil:
		case 10*n >= 9*total:
			g.obs = []ObsPeriod{{Time: ObsTime(t)}}
		default:
			g.note("%d of %d maxima were observed at %s: the time of observation changed", n, total, ObsTime(t))
		}
	}
}
