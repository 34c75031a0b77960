package publish

import (
	"math"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/disease"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/stage"
)

// pestFigures are the figures behind the grades of one grass.
type pestFigures struct {
	Diseases []diseaseFigures
	Days     []riskDay // the two weeks of the rows
	Risks    []riskRow
	Seasons  []seasonFigure
	Stages   []stageFigures
	Notes    []pestNote
}

type diseaseFigures struct {
	linkView
	Word, Host            string
	Score, Observed       string
	Ahead, Watch, Act     string
	Percentile, Withheld  string
	Estimated, NoForecast bool
}

type riskDay struct {
	Date     civil.Date
	Forecast bool
}

type riskRow struct {
	linkView
	Risks []string // "" where it cannot be said
}

type seasonFigure struct {
	linkView
	Season, State string
}

type stageFigures struct {
	linkView
	Word, Host         string
	Of, Stage, Since   string
	Sum, Generations   string
	Next, NextOn, Lack string
}

// pestNote is what is on record of a pest.
type pestNote struct {
	linkView
	Texts []string
}

// pestFigures returns nil where nothing was assessed.
func (v viewer) pestFigures(p *pestsView) *pestFigures {
	if !p.Any() {
		return nil
	}
	out := &pestFigures{}
	for _, list := range [][]pestView{p.Rows, p.Quiet, p.Silent, p.Unmodeled} {
		for i := range list {
			v.addFigures(out, &list[i])
		}
	}
	return out
}

func (v viewer) addFigures(out *pestFigures, pv *pestView) {
	p := pv.pest
	link := linkView{pv.Name, pv.Address}
	if p.Kind == advice.Disease {
		v.addDisease(out, pv, link)
	} else if p.Found.Invalid != pest.InvalidPageOnly {
		out.Stages = append(out.Stages, v.stageFigures(pv, link))
	}
	if texts := v.onRecord(p); len(texts) > 0 {
		out.Notes = append(out.Notes, pestNote{link, texts})
	}
}

func (v viewer) addDisease(out *pestFigures, pv *pestView, link linkView) {
	f, d := &pv.pest.Found, pv.pest.Disease
	for i, w := range f.Windows {
		out.Seasons = append(out.Seasons, seasonFigure{link, seasonName(d.Windows[i].ID), v.since(w.State, w.Since)})
	}
	if len(d.Model.Terms()) == 0 {
		return
	}
	watch, act := limits(d, f.Host)
	df := diseaseFigures{
		linkView: link, Word: pv.Word, Host: v.must("pests.host", trimmed(float64(f.Host))),
		Score: score(f.Score), Observed: score(f.Observed), Ahead: score(f.Ahead), Watch: score(watch), Act: score(act),
		Percentile: share(f.Percentile), Estimated: f.HumidityEstimated, NoForecast: !f.HasForecast,
	}
	if !mayAct(pv.pest) {
		df.Act = v.must("pests.why", "never")
	}
	switch {
	case f.Invalid != "":
		df.Withheld = v.invalid(pv.pest)
	case len(f.Lacks) > 0:
		df.Withheld = v.lacks(f.Lacks)
	}
	out.Diseases = append(out.Diseases, df)
	if len(f.Days) == 0 {
		return
	}
	row := riskRow{linkView: link}
	if len(out.Risks) == 0 {
		for _, day := range f.Days {
			out.Days = append(out.Days, riskDay{day.Date, day.Forecast})
		}
	}
	for _, day := range f.Days {
		row.Risks = append(row.Risks, score(day.Risk))
	}
	out.Risks = append(out.Risks, row)
}

func (v viewer) stageFigures(pv *pestView, link linkView) stageFigures {
	f, p := &pv.pest.Found, &pv.pest.Progress
	s := stageFigures{linkView: link, Word: pv.Word, Host: v.must("pests.host", trimmed(float64(f.Host))), Of: p.Of}
	if f.Invalid != "" {
		s.Lack = v.invalid(pv.pest)
		return s
	}
	if len(p.Lacks) > 0 {
		s.Lack = v.lacks(p.Lacks)
	}
	method := methodOf(pv.pest)
	s.Stage, s.Since, s.Sum = p.Stage.Title, longDate(p.Since), v.sum(p.DegreeDaysC, method)
	if method == "" {
		s.Sum = ""
	}
	if !math.IsNaN(p.Generations) {
		s.Generations = quantity.Fixed(p.Generations, 1)
	}
	if p.Next > 0 {
		s.Next, s.NextOn = p.NextStage.Title, monthDay(p.NextOn)
	}
	return s
}

// methodOf is how the warmth of the timing in use is summed.
func methodOf(p *advice.Pest) agromet.DegreeDayMethod {
	a := accountOf(p)
	for i := range a.Timings {
		if t := &a.Timings[i]; !t.Compare && t.Of == p.Progress.Of && holds(t, p.Progress.Stage) {
			return t.Warmth.Method
		}
	}
	return ""
}

func accountOf(p *advice.Pest) *stage.Account {
	if p.Weed != nil {
		return &p.Weed.Account
	}
	return &p.Insect.Account
}

// holds reports whether the timing has the stage.
func holds(t *stage.Timing, s stage.Stage) bool {
	for _, one := range t.Stages {
		if one.ID == s.ID {
			return true
		}
	}
	return false
}

// onRecord tells what reports and treatments say, and the treatment gate of a
// disease.
func (v viewer) onRecord(p *advice.Pest) []string {
	f := &p.Found
	var out []string
	if f.Reported {
		out = append(out, v.must("pests.why", "reported"))
	}
	if f.History {
		out = append(out, v.must("pests.why", "history"))
	}
	if !f.ProtectedUntil.IsZero() {
		out = append(out, v.say("pests.why.treated", "date", longDate(f.ProtectedUntil)))
	}
	return append(out, v.decision(p.Decision)...)
}

// decision words what the treatment gate says of the place last reported.
func (v viewer) decision(d *disease.Decision) []string {
	if d == nil {
		return nil
	}
	out := []string{v.must("pests.answer", string(d.Answer))}
	for _, r := range d.Reasons {
		out = append(out, v.must("pests.reason", string(r)))
	}
	for _, r := range d.Steps {
		out = append(out, v.must("pests.reason", string(r)))
	}
	return out
}

// because is the gate's answer with its first reason, in one line.
func (v viewer) because(d *disease.Decision) string {
	text := v.must("pests.answer", string(d.Answer))
	if len(d.Reasons) > 0 {
		text += " " + v.must("pests.reason", string(d.Reasons[0]))
	}
	return strings.TrimSpace(text)
}
