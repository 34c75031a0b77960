package season

import (
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// LeastYears is how many past years an expected or a usual date needs; with
// fewer the printed calendar speaks. Own design.
const LeastYears = 10

const (
	// membersBack is how many days before the issue a member holds: enough
	// for a season of a year that began just over a year ago, and what it
	// looks back on.
	membersBack = 440

	// ensembleLeadDays is how far ahead a season may begin and still be told
	// by the ensemble. Beyond it nothing of today's weather is left in soil
	// or growth, and the usual date says the same. Own design.
	ensembleLeadDays = 45

	// membersAhead reaches to the end of a season that begins then and lasts
	// a year.
	membersAhead = ensembleLeadDays + 366
)

// Record is the weather of one station as an issue sees it, made ready to be
// asked for events. It keeps what it has worked out, and is not for use by
// several goroutines at once.
type Record struct {
	issue   civil.Date
	all     track // all that is known: observed, filled, forecast
	known   int   // days before the issue
	seen    int   // the same without the last ones if they were filled, not observed
	end     int   // days known without the forecast running out
	members []member
	dating  map[Event]map[int]Dating
	station *Lawn // asked for events of no grass
}

// member is one continuation of what is known by the weather of a past year.
type member struct {
	yearsBack int
	days      track   // ends where the past year's weather does
	donor     []int32 // of each day that is not known, the place in the source
}

// NewRecord prepares the weather of one issue, f.View.IssueDate.
//
// The ensemble is that of extended streamflow prediction (Day, G.N. (1985),
// Extended streamflow forecasting using NWSRFS, Journal of Water Resources
// Planning and Management 111:157–170; from memory): what is known today, as
// the state of the models, is continued by the weather of each past year in
// turn. A member is the record, then the forecast as far as it reaches, then
// the days of the same dates some whole years earlier, 28 February standing in
// for a 29 February that the year has not. No member holds a day of the issue
// date or later. Gaps of up to ten days in all are held over in a past year;
// where it lacks more, the member ends.
func NewRecord(f *weather.Felt) *Record {
	t := trackOf(f)
	r := newRecord(t, f.View.IssueDate)
	for r.seen > 0 && f.Basis(t.start.AddDays(r.seen-1)) != weather.Observed {
		r.seen--
	}
	r.addMembers(newSource(r.all, r.known), func(int) bool { return true })
	return r
}

func newRecord(t track, issue civil.Date) *Record {
	r := &Record{issue: issue, all: t, dating: map[Event]map[int]Dating{}}
	r.known = min(t.days(), max(0, int(issue-t.start)))
	r.seen = r.known
	for r.end = t.days(); r.end > 0 && math.IsNaN(t.meanC[r.end-1]); r.end-- {
	}
	r.all = t.upTo(t.start.AddDays(max(r.end, r.known)))
	r.station = &Lawn{record: r}
	return r
}

// Issue returns the issue date.
func (r *Record) Issue() civil.Date { return r.issue }

// addMembers continues what is known by the weather of past years, from each
// number of years back that take wants. src begins with the record's own days.
func (r *Record) addMembers(src *source, take func(yearsBack int) bool) {
	if r.end == 0 {
		return
	}
	start := r.all.start.AddDays(max(0, r.known-membersBack))
	split := r.all.start.AddDays(r.end) // first day that is not known
	last := max(r.issue, split).AddDays(membersAhead)
	days := int(last-start) + 1
	common := int(split - start)
	if common <= 0 {
		return // the record ended long before the issue
	}
	ahead := newCalendarDays(split, last, &r.all)
	firstYear, lastYear := src.start.Year(), src.start.AddDays(src.end-1).Year()
	offset := int(start - r.all.start)
	for back := last.Year() - firstYear; back >= split.Year()-lastYear; back-- {
		if back == 0 || !take(back) {
			continue
		}
		m := member{yearsBack: back, days: newTrack(start, days)}
		m.days.latRad = r.all.latRad
		from := r.all.columns()
		for i, col := range m.days.columns() {
			copy((*col)[:common], (*from[i])[offset:r.end])
		}
		n := m.continueBy(src, back, common, ahead)
		if n == common {
			continue
		}
		m.days = m.days.upTo(start.AddDays(n))
		r.carrySoil(&m, src, r.end-1, common)
		r.members = append(r.members, m)
	}
}

// calendarDays are the days ahead as years and places, worked out once for all
// members.
type calendarDays struct {
	year      []int
	place     []int
	daylightH []float64
}

func newCalendarDays(first, last civil.Date, t *track) calendarDays {
	n := int(last-first) + 1
	c := calendarDays{make([]int, n), make([]int, n), make([]float64, n)}
	for i := range n {
		d := first.AddDays(i)
		c.year[i], c.place[i], c.daylightH[i] = d.Year(), d.YearPlace(), t.daylight(d)
	}
	return c
}

// continueBy fills the days from the place common on with those of years
// before, and returns how many days the member then has.
func (m *member) continueBy(past *source, yearsBack, common int, ahead calendarDays) int {
	t := &m.days
	m.donor = make([]int32, 0, t.days()-common)
	gaps := 0
	year, newYear := 0, 0 // of the past, and the place of its 1 January
	isLeap := false
	for k, n := 0, common; n < t.days(); k, n = k+1, n+1 {
		if y := ahead.year[k] - yearsBack; y != year {
			year, isLeap = y, civil.IsLeap(y)
			newYear = int(civil.MustDate(y, 1, 1) - past.start)
		}
		i := newYear + ahead.place[k]
		if isLeap && ahead.place[k] > civil.Feb28 {
			i++
		}
		if i < 0 || i >= past.end {
			return n
		}
		t.daylightH[n] = ahead.daylightH[k]
		m.donor = append(m.donor, int32(i))
		if math.IsNaN(past.meanC[i]) {
			if gaps++; gaps > agromet.MostFreezeGapDays || n == 0 {
				return n
			}
			t.nightC[n], t.tminC[n], t.tmaxC[n], t.meanC[n], t.lightMol[n] = t.nightC[n-1], t.tminC[n-1], t.tmaxC[n-1], t.meanC[n-1], t.lightMol[n-1]
			continue
		}
		t.nightC[n], t.tminC[n], t.tmaxC[n], t.meanC[n], t.lightMol[n] = past.tminC[i], past.tminC[i], past.tmaxC[i], past.meanC[i], past.lightMol[i]
	}
	return t.days()
}

// soilModels are those of the two depths.
func soilModels() [2]agromet.SoilModel {
	return [...]agromet.SoilModel{agromet.SoilAt5cm(), agromet.SoilAt10cm()}
}

func (t *track) soils() [2][]float64 { return [...][]float64{t.soil5C, t.soil10C} }

// source is a record whose past years continue another.
type source struct {
	track
	end   int          // its first place that may not be used
	state [2][]float64 // the smoothed value of each depth's soil model
	off   [2][]float64 // by how much the soil was warmer than the model, °C; 0 where there is no probe
}

func newSource(t track, end int) *source {
	src := &source{track: t, end: end}
	for depth, model := range soilModels() {
		state, off := make([]float64, t.days()), make([]float64, t.days())
		run := model.Start()
		for i, soil := range t.soils()[depth] {
			run.Next(t.meanC[i])
			state[i], off[i] = run.S, soil-agromet.SoilC(run.S)
		}
		src.state[depth], src.off[depth] = state, off
	}
	return src
}

// offFades is how much of what the model is off by today is left a day later:
// half in two weeks. Own design.
const offFades = 0.95

// carrySoil takes the soil of a member on from the place common, of which
// today is the place before, in the source. Where there is a probe, the model is off by what it was off
// by in the past year, and at first by what it is off by today.
func (r *Record) carrySoil(m *member, src *source, today, common int) {
	for depth, model := range soilModels() {
		soil, off := m.days.soils()[depth], src.off[depth]
		run := agromet.SoilRun{Model: model, S: src.state[depth][today]}
		for run.Days <= agromet.SoilSpinUpDays && run.Days <= today && !math.IsNaN(src.meanC[today-run.Days]) {
			run.Days++
		}
		now, weight := lastKnown(off[max(0, today-weather.WindowDays+1):today+1]), 1.0
		for i := common; i < m.days.days(); i++ {
			weight *= offFades
			was := off[m.donor[i-common]]
			if math.IsNaN(was) {
				was = 0
			}
			soil[i] = run.Next(m.days.meanC[i]) + weight*now + (1-weight)*was
		}
	}
}

// lastKnown returns the mean of the known values, 0 without any.
func lastKnown(x []float64) float64 {
	var k agromet.Known
	for _, v := range x {
		k.Add(v)
	}
	if k.Days == 0 {
		return 0
	}
	return k.Mean(1)
}

// Lawn is a grass at a station.
type Lawn struct {
	record  *Record
	profile *turf.Profile
	all     lawn
	members []lawn
	dating  map[Event]map[int]Dating
}

// Lawn runs a grass through the record and through every member.
func (r *Record) Lawn(p *turf.Profile) *Lawn {
	all := newLawn(r.all.days())
	r.all.grow(p, all, 0)
	return r.lawn(p, all)
}

// lawn runs a grass that has gone through the record through every member.
func (r *Record) lawn(p *turf.Profile, all lawn) *Lawn {
	l := &Lawn{record: r, profile: p, all: all, dating: map[Event]map[int]Dating{}}
	for _, m := range r.members {
		ml := newLawn(m.days.days())
		common := r.end - int(m.days.start-r.all.start)
		offset := int(m.days.start - r.all.start)
		copy(ml.index[:common], l.all.index[offset:r.end])
		copy(ml.soilC[:common], l.all.soilC[offset:r.end])
		m.days.grow(p, ml, common)
		l.members = append(l.members, ml)
	}
	return l
}

// Profile returns the grass.
func (l *Lawn) Profile() *turf.Profile { return l.profile }

// Index returns the growth index of the lawn, 0 to 1, of the week that ends
// with each day from start on, as far as it is known: never short of water, see
// the package's events. NaN is missing. The slice is not to be changed. Its
// normals are the usual band of a year's growth.
func (l *Lawn) Index() (start civil.Date, index []float64) {
	return l.record.all.start, l.all.index
}

// IndexAhead returns the median and the middle 60 % of the growth index that
// the ensemble expects of the week that ends with the day; NaN with fewer than
// [LeastYears] members that reach it.
func (l *Lawn) IndexAhead(d civil.Date) (low, median, high float64) {
	var values []float64
	for i, m := range l.record.members {
		if x := at(m.days.start, l.members[i].index, d); !math.IsNaN(x) {
			values = append(values, x)
		}
	}
	if len(values) < LeastYears {
		return math.NaN(), math.NaN(), math.NaN()
	}
	slices.Sort(values)
	return agromet.Quantile(values, 0.2), agromet.Quantile(values, 0.5), agromet.Quantile(values, 0.8)
}
