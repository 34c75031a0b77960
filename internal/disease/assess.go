package disease

import (
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Assess returns what the disease comes to at the issue. The grade is stepped
// week by week from the first day on file, each week from what was known at its
// own date, so that later weather changes no earlier grade.
//
// What was confirmed or treated this season moves the grade of that one lawn
// alone; what was found in other years, that of the zone as well.
//
// How days make a week, the grades and what moves them are own design.
func (d *Disease) Assess(in *pest.Input) pest.Assessment {
	nan := math.NaN()
	a := pest.Assessment{ID: d.ID, Score: nan, Observed: nan, Ahead: nan, Percentile: nan}
	a.Host, _ = d.Host(in.Grass.ID)
	s := in.Record()
	switch {
	case a.Host <= pest.NoHost:
		return a
	case s == nil:
		a.Lacks = []string{"temperature"}
		return a
	}
	if !d.Range.Holds(in) {
		a.Invalid = pest.InvalidRange
		return a
	}
	log := in.Log(d.ID)
	a.Reported, a.Due = log.Confirmed(in.Issue), log.Due(in.Issue)
	a.History = d.history(&log, in.Issue)
	a.Wet = d.wet(&log, in.Issue)
	a.ProtectedUntil = log.ProtectedUntil(in.Issue)
	if d.Model.daily == nil && d.Model.Name != ModelSoilWindow {
		a.Invalid = pest.InvalidNoModel
		return a
	}
	seen := d.past(in, s)
	a.Windows = d.windows(seen, s, len(s.Days.SoilC))
	for _, w := range slices.Backward(a.Windows) {
		if !w.Symptoms {
			a.Window = w.State // the first of them
			a.Returns = a.Returns || w.State == pest.WindowOpen && log.Recorded(w.Since)
		}
	}
	if d.Model.daily != nil {
		d.step(&a, in, s, log, seen)
	} else {
		d.season(&a, in, s, log, seen)
	}
	return a
}

// history reports whether it was found before: in the same season, or, where it
// shows in another season than it infects in, in any.
func (d *Disease) history(log *pest.Log, issue civil.Date) bool {
	if d.Apart() {
		return log.Ever(issue)
	}
	return log.History(issue)
}

// wet reports whether it goes with water, and water stood lately on growing grass. Of
// one lawn a single look tells where; for the grade of a zone it takes weeks.
func (d *Disease) wet(log *pest.Log, issue civil.Date) bool {
	return d.Extra.StandingWater > 0 && log.Wet(issue) != nil
}

// Apart reports whether its infection and its symptoms have seasons of their own.
func (d *Disease) Apart() bool {
	return slices.ContainsFunc(d.Windows, func(w SoilWindow) bool { return w.Symptoms })
}

// windows returns where its seasons stand at the issue before which n days are on
// record.
func (d *Disease) windows(seen *past, s *pest.Record, n int) []pest.WindowState {
	out := make([]pest.WindowState, len(d.Windows))
	for i := range d.Windows {
		out[i] = d.Windows[i].at(seen.spans[i], s.Days.SoilC, s.Days.Start, n)
	}
	return out
}

// seasonGrade grades a disease that has seasons and no daily risk: watch while it
// shows, act where somebody found it; while it infects unseen, act where it has a
// history and else nothing. For a zone it is never more than watch.
func (d *Disease) seasonGrade(windows []pest.WindowState, log *pest.Log, host int, issue civil.Date, lawn bool) (g pest.Grade, hidden, known bool) {
	for _, w := range windows {
		known = known || w.State != ""
		if w.State != pest.WindowOpen {
			continue
		}
		switch {
		case w.Symptoms:
			g, hidden = max(g, pest.Watch), false
		case d.history(log, issue) && g == pest.Quiet:
			g, hidden = pest.Act, true
		}
	}
	if g == pest.Watch && log.Confirmed(issue) {
		g = pest.Act
	}
	if !lawn || host <= pest.MinorHost || log.ProtectedUntil(issue) >= issue {
		g = min(g, pest.Watch)
	}
	return g, hidden, known
}

// opened returns since when a season of infection, or of symptoms, is open; of several
// the one that opened last.
func opened(windows []pest.WindowState, symptoms bool) (since civil.Date) {
	for _, w := range windows {
		if w.State == pest.WindowOpen && w.Symptoms == symptoms {
			since = max(since, w.Since)
		}
	}
	return since
}

// season puts the grade of a season into the assessment.
func (d *Disease) season(a *pest.Assessment, in *pest.Input, s *pest.Record, log pest.Log, seen *past) {
	a.Grade, a.Hidden, a.Known = d.seasonGrade(a.Windows, &log, a.Host, in.Issue, in.Lawn)
	a.Since = opened(a.Windows, !a.Hidden)
	if !a.Known {
		a.Lacks = []string{"soil"}
		return
	}
	for i, issue := range s.Issues {
		if ago := len(s.Issues) - 1 - i; pest.SameWeek(ago) {
			g, _, known := d.seasonGrade(d.windows(seen, s, issue.At), &log, a.Host, s.Days.Start.AddDays(issue.At), in.Lawn)
			a.Usual.Add(g, known)
		}
	}
}

// past is what a disease saw at every issue: the same for all grasses of a
// station.
type past struct {
	weeks []seenWeek // none without a daily risk
	last  twoWeeks   // of the last issue
	spans [][]span   // of each season
}

// twoWeeks are the risks of the days before an issue, and of the days from it on.
type twoWeeks struct{ observed, ahead [pest.WeekDays]float64 }

// seenWeek is what one issue saw.
type seenWeek struct {
	flags     riskFlags // of the observed days
	lacking   riskFlags
	known     uint8 // observed days with a risk
	outside   uint8 // of these, days on which the model says nothing
	measured  uint8 // observed days whose risk rests on no estimate of humidity
	risky     bool  // any day of the two weeks has a risk
	estimated bool
	guessed   bool // too few days are measured to make it act

	// Scores, without the factor of the grass: of the observed days, of the
	// forecast, and of the observed days with all humidity estimated, for comparison
	// with other years.
	observedScore, aheadScore, likeScore float64
}

// gradedWeek is what one issue made of what it saw.
type gradedWeek struct {
	*seenWeek
	date   civil.Date
	factor float64 // of the grass

	score, observedScore, aheadForecast float64
	state                               GradeState
	spells                              [pest.Act + 1]spell // of each grade or above
}

// Weeks returns the grades of all issues from the first on file to the input's, a
// week apart: what [Disease.Assess] steps through. It is nil for a disease without
// a model, on no host and without weather.
func (d *Disease) Weeks(in *pest.Input) []pest.WeekGrade {
	host, _ := d.Host(in.Grass.ID)
	s := in.Record()
	if host <= pest.NoHost || s == nil || !d.Range.Holds(in) || d.Model.daily == nil && d.Model.Name != ModelSoilWindow {
		return nil
	}
	out := make([]pest.WeekGrade, 0, len(s.Issues))
	log, seen := in.Log(d.ID), d.past(in, s)
	if d.Model.daily == nil {
		for _, issue := range s.Issues {
			date := s.Days.Start.AddDays(issue.At)
			g, _, known := d.seasonGrade(d.windows(seen, s, issue.At), &log, host, date, in.Lawn)
			out = append(out, pest.WeekGrade{Issue: date, Grade: g, Known: known, Score: math.NaN()})
		}
		return out
	}
	d.walk(in, s, host, log, seen, func(w *gradedWeek, _ []float64) {
		out = append(out, pest.WeekGrade{Issue: w.date, Grade: w.state.Grade, Known: w.state.Known(), Score: w.score})
	})
	return out
}

// spell is when a disease stood at a grade or above.
type spell struct{ since, last civil.Date }

// sameSpellDays is how long a disease may be below a grade for it to be the same
// spell when it is back: who was told to look knows what to look for. Own design.
const sameSpellDays = 42

// goOn takes it on to an issue.
func (s *spell) goOn(issue civil.Date) {
	if s.last.IsZero() || int(issue-s.last) > sameSpellDays {
		s.since = issue
	}
	s.last = issue
}

// walk steps through all issues. Visit is told of each, and of the scores up to it
// that compare from year to year.
func (d *Disease) walk(in *pest.Input, s *pest.Record, host int, log pest.Log, seen *past, visit func(w *gradedWeek, like []float64)) {
	like := make([]float64, 0, len(s.Issues))
	state := GradeState{Unknown: lowIssues}
	var w gradedWeek
	for i, issue := range s.Issues {
		w.seenWeek = &seen.weeks[i]
		w.date = s.Days.Start.AddDays(issue.At)
		w.factor = d.Model.factor(issue.State, host)
		w.observedScore, w.aheadForecast = w.factor*w.seenWeek.observedScore, w.factor*w.aheadScore
		like = append(like, w.factor*w.likeScore)
		w.score = min(1, WeekScore(w.observedScore, w.aheadForecast)+d.extra(in, log, w.date))
		step := GradeStep{Score: w.score, Host: host, Confirmed: in.Lawn && log.Confirmed(w.date), Cap: pest.Act}
		if (d.Cap < pest.Act || w.guessed) && !step.Confirmed {
			step.Cap = pest.Watch
		}
		if in.Lawn && log.ProtectedUntil(w.date) >= w.date {
			step.Cap = min(step.Cap, pest.Watch)
		}
		step.Stop = d.DormantStops && issue.State == turf.Dormant || w.silent()
		state = d.Limits.Step(state, step)
		for g := range state.Grade + 1 {
			w.spells[g].goOn(w.date)
		}
		w.state = state
		visit(&w, like)
	}
}

// step puts what the last issue made of it into the assessment.
func (d *Disease) step(a *pest.Assessment, in *pest.Input, s *pest.Record, log pest.Log, seen *past) {
	d.walk(in, s, a.Host, log, seen, func(w *gradedWeek, like []float64) {
		if w.date < in.Issue {
			if pest.SameWeek(len(s.Issues) - len(like)) {
				a.Usual.Add(w.state.Grade, w.state.Known())
			}
			return
		}
		a.Grade, a.Known, a.Since = w.state.Grade, w.state.Known(), w.spells[w.state.Grade].since
		if a.Grade == pest.Quiet {
			a.Since = opened(a.Windows, false)
		}
		a.Score, a.Observed, a.Ahead = w.score, w.observedScore, w.aheadForecast
		a.HasForecast = !math.IsNaN(a.Ahead)
		a.HumidityEstimated, a.Guessed = w.estimated, w.guessed
		if math.IsNaN(a.Observed) {
			a.Lacks = w.lacking.words()
			if w.known >= leastObservedDays {
				a.Lacks = append(a.Lacks, "growth")
			} else {
				a.Lacks = append(a.Lacks, "days")
			}
		}
		a.Days = w.list(&seen.last)
		w.withhold(a)
		a.Percentile = percentile(like)
	})
}

// pastKey names what a disease has seen of a station.
type pastKey struct {
	disease *Disease
	young   bool
}

// past looks at every issue of a station, once for all its grasses.
func (d *Disease) past(in *pest.Input, s *pest.Record) *past {
	return pest.Kept(in, pastKey{d, s.Days.Young}, func() *past {
		seen := &past{spans: make([][]span, len(d.Windows))}
		for i := range d.Windows {
			seen.spans[i] = d.Windows[i].spans(s.Days.SoilC, s.Days.Start)
		}
		if d.Model.daily == nil {
			return seen
		}
		n := len(s.Days.TmaxC)
		l := looking{model: d.Model.daily, s: s, risks: make([]float64, n), flags: make([]riskFlags, n)}
		l.days()
		seen.weeks = make([]seenWeek, len(s.Issues))
		for i, issue := range s.Issues {
			seen.weeks[i] = l.look(issue)
		}
		seen.last = l.at
		return seen
	})
}

// looking looks at the issues of one station through one model.
type looking struct {
	model   dailyModel
	s       *pest.Record
	risks   []float64 // of each day
	flags   []riskFlags
	likes   []float64  // the same with all humidity estimated
	scratch *pest.Days // around an issue with a forecast
	at      twoWeeks   // of the issue looked at last
}

// days fills the risks of all days on record.
func (l *looking) days() {
	w := l.s.Days
	for i := range l.risks {
		l.risks[i] = math.NaN()
		if w.Observed[i] {
			r := l.model.day(w, i)
			l.risks[i], l.flags[i] = r.risk, r.flags
		}
	}
	l.likes = l.risks
	if !l.s.Measured {
		return
	}
	estimated := *w
	estimated.AllEstimated = true
	l.likes = make([]float64, len(l.risks))
	for i := range l.likes {
		l.likes[i] = math.NaN()
		if w.Observed[i] {
			l.likes[i] = l.model.day(&estimated, i).risk
		}
	}
}

// look returns what an issue saw.
func (l *looking) look(issue pest.IssueWeek) seenWeek {
	w, observed, ahead := seenWeek{}, l.at.observed[:], l.at.ahead[:]
	last := issue.At - 1
	for j := range pest.WeekDays {
		observed[j], ahead[j] = math.NaN(), math.NaN()
		i := issue.At - pest.WeekDays + j
		if i < 0 || i == last && issue.Morning {
			continue
		}
		r, f := l.risks[i], l.flags[i]
		observed[j] = r
		if math.IsNaN(r) {
			w.lacking |= f
			continue
		}
		w.known++
		if f&humidityEstimated == 0 {
			w.measured++
		}
		w.flags |= f
		w.risky = w.risky || r > 0
		if f&outside != 0 {
			w.outside++
		}
	}
	w.estimated = w.flags&humidityEstimated != 0
	w.guessed = w.estimated && w.measured < leastObservedDays
	w.likeScore = l.likeScore(issue)
	if issue.Forecast != nil {
		if l.scratch == nil {
			l.scratch = pest.ScratchDays()
		}
		from := l.s.IntoForecast(l.scratch, issue)
		for j := range ahead {
			r := l.model.day(l.scratch, from+j)
			ahead[j] = r.risk
			w.risky = w.risky || r.risk > 0
			w.estimated = w.estimated || !math.IsNaN(r.risk) && r.flags&humidityEstimated != 0
		}
	}
	w.observedScore, w.aheadScore = ObservedScore(observed), AheadScore(ahead)
	return w
}

// likeScore is the observed score from the risks that compare from year to year.
func (l *looking) likeScore(issue pest.IssueWeek) float64 {
	if issue.At < pest.WeekDays {
		return math.NaN()
	}
	var r [pest.WeekDays]float64
	copy(r[:], l.likes[issue.At-pest.WeekDays:issue.At])
	if issue.Morning {
		r[pest.WeekDays-1] = math.NaN()
	}
	return ObservedScore(r[:])
}

// silent reports whether no day of the two weeks has any risk.
func (w *gradedWeek) silent() bool {
	return w.known >= leastObservedDays && !(w.risky && w.factor > 0) && !math.IsNaN(w.factor)
}

// list returns the days of the two weeks. A day on which the model says nothing
// has no number.
func (w *gradedWeek) list(at *twoWeeks) []pest.DayRisk {
	days := make([]pest.DayRisk, 0, 2*pest.WeekDays)
	for j, r := range at.observed {
		days = append(days, pest.DayRisk{Date: w.date.AddDays(j - pest.WeekDays), Risk: w.factor * r})
	}
	for j, r := range at.ahead {
		days = append(days, pest.DayRisk{Date: w.date.AddDays(j), Risk: w.factor * r, Forecast: true})
	}
	return days
}

// withhold keeps back the numbers of a week on which the model says nothing.
func (w *gradedWeek) withhold(a *pest.Assessment) {
	if w.known < leastObservedDays || w.outside < w.known {
		return
	}
	a.Invalid = pest.InvalidTooCold
	if w.flags&outsideHot != 0 {
		a.Invalid = pest.InvalidTooHot
	}
	a.Score, a.Observed = math.NaN(), math.NaN()
	for j := range a.Days[:pest.WeekDays] {
		a.Days[j].Risk = math.NaN()
	}
}

// extra returns what is added to the score of an issue.
func (d *Disease) extra(in *pest.Input, log pest.Log, issue civil.Date) float64 {
	x := 0.0
	if d.Extra.History > 0 && log.History(issue) {
		x += d.Extra.History
	}
	if d.Extra.StandingWater > 0 && log.StoodWet(issue) || in.Lawn && d.wet(&log, issue) {
		x += d.Extra.StandingWater
	}
	if d.Extra.YoungStand > 0 && in.YoungStand {
		x += d.Extra.YoungStand
	}
	return x
}

// leastYears is how many other years a percentile needs. Own design.
const leastYears = 5

// percentile returns the share, %, of the other years whose observed score of
// the same week is below that of the last issue, ties counting half; NaN with
// fewer than five. The humidity is estimated throughout, so that a change of
// instruments makes no difference.
func percentile(weekly []float64) float64 {
	last := len(weekly) - 1
	if last < 0 || math.IsNaN(weekly[last]) {
		return math.NaN()
	}
	below, years := 0.0, 0
	this := quantity.Thousandths(weekly[last])
	for k := range last {
		x := quantity.Thousandths(weekly[k])
		switch {
		case !pest.SameWeek(last - k), math.IsNaN(x):
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
