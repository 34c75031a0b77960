package pest

import (
	"math"

	"ligule/internal/civil"
	"ligule/internal/turf"
)

// Assess returns what the disease comes to at the issue. The grade is stepped
// week by week from the first day on file, each week from what was known at its
// own date, so that later weather changes no earlier grade. It allocates a fixed
// number of times.
//
// How days make a week, the grades and what moves them are own design.
func (d *Disease) Assess(in *Input) Assessment {
	nan := math.NaN()
	a := Assessment{ID: d.ID, Kind: "disease", Score: nan, Observed: nan, Ahead: nan, Percentile: nan}
	a.Host, _ = d.Host(in.Grass.ID)
	s := in.look()
	switch {
	case a.Host <= NoHost:
		return a
	case s == nil:
		a.Lacks = []string{"temperature"}
		return a
	}
	log := d.log(in)
	a.Reported = log.confirmed(in.Issue)
	a.History = log.history(in.Issue)
	a.ProtectedUntil = log.protectedUntil(in.Issue)
	a.Windows = make([]WindowState, len(d.Windows))
	for i := range d.Windows {
		a.Windows[i] = d.Windows[i].at(s.days.soilC, s.days.start)
	}
	if len(a.Windows) > 0 {
		a.Window, a.WindowSince = a.Windows[0].State, a.Windows[0].Since
	}
	switch {
	case d.Model.daily != nil:
		d.step(&a, in, s, log)
	case d.Model.Name == ModelSoilWindow:
		d.grade(&a, log, in.Issue)
	default:
		a.Invalid = InvalidNoModel
	}
	return a
}

// grade grades a disease that has a season and no daily risk: watch while it is
// open, act where the disease was found before.
func (d *Disease) grade(a *Assessment, log diseaseLog, issue civil.Date) {
	a.Known = a.Window != ""
	if !a.Known {
		a.Lacks = []string{"soil"}
		return
	}
	if a.Window != WindowOpen {
		return
	}
	a.Grade = Watch
	if (a.History || a.Reported || log.recorded(issue)) && a.Host > MinorHost {
		a.Grade = Act
	}
	if a.ProtectedUntil >= issue {
		a.Grade = Watch
	}
}

// diseaseRun is the stepping of one disease through one input.
type diseaseRun struct {
	d       *Disease
	s       *shared
	risks   []float64 // of each day, without the factor of the week
	flags   []riskFlags
	likes   []float64   // the same with all humidity estimated, for comparison with other years
	scratch *dayColumns // around an issue with a forecast
	weekly  []float64   // observed scores of the issues from likes
}

// seenWeek is what one issue saw, and what it made of it.
type seenWeek struct {
	date      civil.Date
	observed  [scoreDays]float64
	ahead     [scoreDays]float64
	flags     riskFlags // of the observed days
	lacking   riskFlags
	known     int // observed days with a risk
	outside   int // of these, days on which the model says nothing
	forecast  bool
	estimated bool

	factor                              float64 // of the grass
	score, observedScore, aheadForecast float64
	state                               GradeState
}

// WeekGrade is the grade of one issue of the stepping.
type WeekGrade struct {
	Issue civil.Date
	Grade Grade
	Known bool
	Score float64 // NaN if it is not known
}

// Weeks returns the grades of all issues from the first on file to the input's, a
// week apart: what [Disease.Assess] steps through. It is nil for a disease without
// a daily risk, on no host and without weather.
func (d *Disease) Weeks(in *Input) []WeekGrade {
	host, _ := d.Host(in.Grass.ID)
	s := in.look()
	if host <= NoHost || s == nil || d.Model.daily == nil {
		return nil
	}
	out := make([]WeekGrade, 0, len(s.issues))
	d.walk(in, s, host, d.log(in), func(_ *diseaseRun, w *seenWeek) {
		out = append(out, WeekGrade{w.date, w.state.Grade, w.state.Known(), w.score})
	})
	return out
}

// walk steps through all issues.
func (d *Disease) walk(in *Input, s *shared, host int, log diseaseLog, visit func(*diseaseRun, *seenWeek)) {
	n := len(s.days.tmaxC)
	run := &diseaseRun{d: d, s: s, risks: make([]float64, n), flags: make([]riskFlags, n), weekly: make([]float64, 0, len(s.issues))}
	run.days()
	state := GradeState{Unknown: lowIssues}
	for _, issue := range s.issues {
		w := run.look(issue)
		w.date = s.days.start.AddDays(issue.at)
		w.factor = d.Model.factor(issue.state, host)
		w.observedScore, w.aheadForecast = w.factor*ObservedScore(w.observed[:]), math.NaN()
		if w.forecast {
			w.aheadForecast = w.factor * AheadScore(w.ahead[:])
		}
		run.weekly = append(run.weekly, w.factor*run.likeScore(issue))
		w.score = min(1, WeekScore(w.observedScore, w.aheadForecast)+d.extra(in, log, w.date))
		step := GradeStep{Score: w.score, Host: host, Confirmed: log.confirmed(w.date), Cap: Act}
		if d.Cap < Act && !step.Confirmed {
			step.Cap = d.Cap
		}
		if log.protectedUntil(w.date) >= w.date {
			step.Cap = min(step.Cap, Watch)
		}
		step.Stop = d.DormantStops && issue.state == turf.Dormant || w.silent()
		state = d.Limits.Step(state, step)
		w.state = state
		visit(run, &w)
	}
}

// step puts what the last issue made of it into the assessment.
func (d *Disease) step(a *Assessment, in *Input, s *shared, log diseaseLog) {
	d.walk(in, s, a.Host, log, func(run *diseaseRun, w *seenWeek) {
		if w.date < in.Issue {
			return
		}
		a.Grade, a.Known = w.state.Grade, w.state.Known()
		a.Score, a.Observed, a.Ahead = w.score, w.observedScore, w.aheadForecast
		a.HasForecast = !math.IsNaN(a.Ahead)
		a.HumidityEstimated = w.estimated
		if math.IsNaN(a.Observed) {
			a.Lacks = w.lacking.words()
			if w.known >= leastObservedDays {
				a.Lacks = append(a.Lacks, "growth")
			} else {
				a.Lacks = append(a.Lacks, "days")
			}
		}
		a.Days = w.list()
		a.invalid(w)
		a.Percentile = run.percentile()
	})
}

// days fills the risks of all days on record.
func (run *diseaseRun) days() {
	w, model := run.s.days, run.d.Model.daily
	for i := range run.risks {
		run.risks[i] = math.NaN()
		if w.observed[i] {
			r := model.day(w, i)
			run.risks[i], run.flags[i] = r.risk, r.flags
		}
	}
	run.likes = run.risks
	if !run.s.measured {
		return
	}
	estimated := *w
	estimated.allEstimated = true
	run.likes = make([]float64, len(run.risks))
	for i := range run.likes {
		run.likes[i] = math.NaN()
		if w.observed[i] {
			run.likes[i] = model.day(&estimated, i).risk
		}
	}
}

// look returns what an issue saw.
func (run *diseaseRun) look(issue issueWeek) seenWeek {
	var w seenWeek
	last := issue.at - 1
	for j := range scoreDays {
		w.observed[j], w.ahead[j] = math.NaN(), math.NaN()
		i := issue.at - scoreDays + j
		if i < 0 || i == last && issue.morning {
			continue
		}
		r, f := run.risks[i], run.flags[i]
		w.observed[j] = r
		if math.IsNaN(r) {
			w.lacking |= f
			continue
		}
		w.known++
		w.flags |= f
		if f&outside != 0 {
			w.outside++
		}
	}
	w.estimated = w.flags&humidityEstimated != 0
	if issue.forecast == nil {
		return w
	}
	if run.scratch == nil {
		run.scratch = newDayColumns(0, backDays+scoreDays)
	}
	at := run.s.intoForecast(run.scratch, issue)
	for j := range w.ahead {
		r := run.d.Model.daily.day(run.scratch, at+j)
		w.ahead[j] = r.risk
		w.forecast = w.forecast || !math.IsNaN(r.risk)
		w.estimated = w.estimated || !math.IsNaN(r.risk) && r.flags&humidityEstimated != 0
	}
	return w
}

// likeScore is the observed score from the risks that compare from year to year.
func (run *diseaseRun) likeScore(issue issueWeek) float64 {
	if issue.at < scoreDays {
		return math.NaN()
	}
	var r [scoreDays]float64
	copy(r[:], run.likes[issue.at-scoreDays:issue.at])
	if issue.morning {
		r[scoreDays-1] = math.NaN()
	}
	return ObservedScore(r[:])
}

// silent reports whether no day of the two weeks has any risk.
func (w *seenWeek) silent() bool {
	if w.known < leastObservedDays {
		return false
	}
	for j := range w.observed {
		if w.factor*w.observed[j] > 0 || w.factor*w.ahead[j] > 0 {
			return false
		}
	}
	return !math.IsNaN(w.factor)
}

// list returns the days of the two weeks. A day on which the model says nothing
// has no number.
func (w *seenWeek) list() []DayRisk {
	days := make([]DayRisk, 0, 2*scoreDays)
	for j, r := range w.observed {
		days = append(days, DayRisk{Date: w.date.AddDays(j - scoreDays), Risk: w.factor * r})
	}
	for j, r := range w.ahead {
		days = append(days, DayRisk{Date: w.date.AddDays(j), Risk: w.factor * r, Forecast: true})
	}
	return days
}

// invalid withholds the numbers of a week on which the model says nothing.
func (a *Assessment) invalid(w *seenWeek) {
	if w.known < leastObservedDays || w.outside < w.known {
		return
	}
	a.Invalid = InvalidTooCold
	if w.flags&outsideHot != 0 {
		a.Invalid = InvalidTooHot
	}
	a.Score, a.Observed = math.NaN(), math.NaN()
	for j := range a.Days[:scoreDays] {
		a.Days[j].Risk = math.NaN()
	}
}

// extra returns what is added to the score of an issue.
func (d *Disease) extra(in *Input, log diseaseLog, issue civil.Date) float64 {
	x := 0.0
	if d.Extra.History > 0 && log.history(issue) {
		x += d.Extra.History
	}
	if d.Extra.StandingWater > 0 && log.stoodWet(issue) {
		x += d.Extra.StandingWater
	}
	if d.Extra.YoungStand > 0 && in.YoungStand {
		x += d.Extra.YoungStand
	}
	return x
}

// leastYears is how many other years a percentile needs. Own design.
const leastYears = 5

const daysPerYear = 365.25

// percentile returns the share, %, of the other years whose observed score of
// the same week is below that of the last issue, ties counting half; NaN with
// fewer than five. The humidity is estimated throughout, so that a change of
// instruments makes no difference.
func (run *diseaseRun) percentile() float64 {
	last := len(run.weekly) - 1
	if last < 0 || math.IsNaN(run.weekly[last]) {
		return math.NaN()
	}
	below, years := 0.0, 0
	this := thousandths(run.weekly[last])
	for y := 1; ; y++ {
		k := last - int(math.Round(float64(y)*daysPerYear/scoreDays))
		if k < 0 {
			break
		}
		x := thousandths(run.weekly[k])
		switch {
		case math.IsNaN(x):
			continue
		case x < this:
			below++
		case x == this:
			below += 0.5
		}
		years++
	}
	if years < leastYears {
		return math.NaN()
	}
	return 100 * below / float64(years)
}
