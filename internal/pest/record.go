package pest

import (
	"math"
	"slices"
	"sync"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// WeekDays is the length of the week on either side of an issue date.
const WeekDays = 7

// Record is the daily record up to an issue, with the issues before it: what all
// pests of one input look at. It is made once.
type Record struct {
	once sync.Once
	Days *Days // up to the day before the issue
	// Of each issue from the first on, a week apart: the place of the issue
	// date among the days, and the state of the grass.
	Issues   []IssueWeek
	Measured bool // any humidity was
	station  *Station
}

// Station is what the inputs of one station and issue have in common, whatever their
// grass. The first that asks makes it; all must hold the same weather and forecasts.
type Station struct {
	once     sync.Once
	days     *Days
	issues   []IssueWeek // without the state of any grass
	complete []int       // of each issue, the last day that is complete
	measured bool
	south    bool // of the equator

	mu   sync.Mutex
	kept map[any]any
}

// Kept returns what make makes of the record, by key, once for all inputs of the
// station: make must not look at the grass.
func Kept[T any](in *Input, key any, make func() T) T {
	s := in.station()
	s.mu.Lock()
	defer s.mu.Unlock()
	if x, ok := s.kept[key].(T); ok {
		return x
	}
	x := make()
	if s.kept == nil {
		s.kept = map[any]any{}
	}
	s.kept[key] = x
	return x
}

// station returns what the input shares; its own where it shares nothing.
func (in *Input) station() *Station {
	if in.Station == nil {
		return &in.own
	}
	return in.Station
}

// IssueWeek is one issue of the stepping.
type IssueWeek struct {
	At       int // days before the issue date
	State    turf.State
	Morning  bool              // the last day was not yet complete
	Forecast *weather.Forecast // nil: none on file
}

// Record returns the daily record of the input, or nil if it holds no week before
// its issue.
func (in *Input) Record() *Record {
	s := &in.record
	s.once.Do(func() { s.prepare(in) })
	if s.Days == nil {
		return nil
	}
	return s
}

func (s *Record) prepare(in *Input) {
	if in.Felt == nil {
		return
	}
	st := in.station()
	st.once.Do(func() { st.prepare(in) })
	if st.days == nil {
		return
	}
	days := *st.days
	days.Young = in.YoungStand
	s.Days, s.Measured, s.station = &days, st.measured, st
	s.Issues = slices.Clone(st.issues)
	if in.Daily != nil {
		for i, last := range st.complete {
			s.Issues[i].State = in.Daily.StateAt(days.Start.AddDays(last + 1))
		}
	}
}

func (s *Station) prepare(in *Input) {
	v := in.Felt.View
	n := min(int(in.Issue-in.Felt.Start), v.Days.Len())
	if n < WeekDays {
		return
	}
	// Only what was observed counts, column by column.
	observed := func(c weather.Column) func(i int) float64 {
		col := v.Days.Col(c)
		if col == nil {
			return func(int) float64 { return math.NaN() }
		}
		return func(i int) float64 {
			if x := col[i]; math.IsNaN(x) || v.Basis(c, in.Felt.Start.AddDays(i)) != weather.Observed {
				return math.NaN()
			}
			return col[i]
		}
	}
	tmax, tmin, rain := observed(weather.TmaxC), observed(weather.TminC), observed(weather.RainMM)
	rh, dew, wet := observed(weather.RHMeanPct), observed(weather.DewC), observed(weather.WetH)
	soil, snow := observed(weather.Soil5C), observed(weather.SnowDepthMM)
	s.south = v.Station.LatitudeDeg < 0
	w := NewDays(in.Felt.Start, n)
	for i := range n {
		w.Put(i, RawDay{tmax(i), tmin(i), rain(i), rh(i), dew(i), wet(i), soil(i), snow(i)}, s.south)
		s.measured = s.measured || !math.IsNaN(w.RHPct[i])
	}
	s.days = w
	ahead := in.forecasts()
	for at := n % WeekDays; at <= n; at += WeekDays {
		if at == 0 {
			continue
		}
		issue := w.Start.AddDays(at)
		week := IssueWeek{At: at, Morning: v.Station.ObsTimeOn(issue.AddDays(-1)) == weather.Morning, Forecast: weather.Newest(ahead, issue)}
		// How short gaps at the end of a record are filled is not settled before
		// they close.
		last := at - 1
		if week.Morning {
			last--
		}
		for k := 0; k < heldDays && last >= 0 && (!w.Observed[last] || math.IsNaN(rain(last))); k++ {
			last--
		}
		s.issues, s.complete = append(s.issues, week), append(s.complete, last)
	}
}

// forecasts returns those to step with.
func (in *Input) forecasts() []weather.Forecast {
	v := in.Felt.View
	if in.Forecasts == nil {
		if v.ForecastIssued.IsZero() || v.IssueDate != in.Issue {
			return nil
		}
		days := weather.NewSeries(in.Issue, WeekDays)
		for _, c := range aheadColumns() {
			for d := in.Issue; d < in.Issue.AddDays(WeekDays); d++ {
				if v.Basis(c, d) == weather.ForecastDay {
					days.Set(c, d, v.Days.At(c, d))
				}
			}
		}
		return []weather.Forecast{{Issued: v.ForecastIssued, Days: days}}
	}
	return in.Forecasts
}

func aheadColumns() []weather.Column {
	return []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM, weather.RHMeanPct, weather.DewC, weather.WetH, weather.SnowDepthMM}
}

// backDays is how many days before an issue the models may look at when they
// step into a forecast.
const backDays = 14

// ScratchDays returns room for the days around an issue, for [Record.IntoForecast].
func ScratchDays() *Days { return NewDays(0, backDays+WeekDays) }

// IntoForecast fills w, made by [ScratchDays], with the days before an
// issue, as they stood on its date, and seven of its forecast. It returns the
// place of the issue date in it.
func (s *Record) IntoForecast(w *Days, week IssueWeek) (at int) {
	from := max(0, week.At-backDays)
	full := s.Days
	at = week.At - from
	w.Start, w.Young = full.Start.AddDays(from), full.Young
	w.resize(at + WeekDays)
	past := full.columns()
	for k, col := range w.columns() {
		copy(*col, (*past[k])[from:week.At])
	}
	copy(w.Observed, full.Observed[from:week.At])
	w.soil, w.gaps = s.soilBefore(week, from), [3]int{}
	day := func(d civil.Date) RawDay {
		at := week.Forecast.Days.At
		return RawDay{at(weather.TmaxC, d), at(weather.TminC, d), at(weather.RainMM, d), at(weather.RHMeanPct, d),
			at(weather.DewC, d), at(weather.WetH, d), math.NaN(), at(weather.SnowDepthMM, d)}
	}
	first := at
	if week.Morning && at > 0 {
		// Its maximum and rain were booked on the issue date only.
		first--
		d := day(w.Start.AddDays(first))
		d.TminC = full.TminC[week.At-1]
		w.Put(first, d, s.station.south)
	}
	for i := at; i < at+WeekDays; i++ {
		w.Put(i, day(w.Start.AddDays(i)), s.station.south)
	}
	return at
}

// soilBefore returns the follower of the soil before the first day that is not
// as it stands in the full record.
func (s *Record) soilBefore(week IssueWeek, from int) weather.SoilFollower {
	n := week.At - from
	if week.Morning && n > 0 {
		n--
	}
	run := agromet.SoilAt5cm().Start()
	run.Days = agromet.SoilSpinUpDays
	if n > 0 {
		// What the model adds to the air of a day is all that it knows of the past.
		run.S = s.Days.SoilC[from+n-1] - agromet.SoilC(0)
		if math.IsNaN(run.S) {
			run.Days = 0
		}
	}
	return weather.FollowSoil(run, math.MaxInt)
}
