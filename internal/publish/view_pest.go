package publish

import (
	"math"
	"slices"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/bulletin"
	"ligule/internal/disease"
	"ligule/internal/pest"
	"ligule/internal/stage"
)

// pestsView is what the week says of the pests of one grass.
type pestsView struct {
	Rows      []pestView    // that ask for a look: act first
	Quiet     []pestView    // that do not
	Silent    []pestView    // of which nothing can be said this week, or here
	Unmodeled []pestView    // that weather never judges
	Act       []linkView    // the names alone, for pages with little room
	Watch     []linkView    // at most mostWatched
	More      int           // at watch besides
	Cautions  []cautionView // of what the rows speak of
}

// Any reports whether there is anything to print.
func (p *pestsView) Any() bool {
	return p != nil && len(p.Rows)+len(p.Quiet)+len(p.Silent)+len(p.Unmodeled) > 0
}

// mostWatched is how many pests at watch a zone page names.
const mostWatched = 3

// pestView is a pest on one grass in one week. A grade is a word, and never an
// order to treat.
type pestView struct {
	ID, Name, Address string
	Kind              string
	Grade, Word       string // "act", "watch", "quiet" or "unknown"
	Why               []string
	pest              *advice.Pest
}

func (v viewer) pests(g *bulletin.Grass, weather bool) *pestsView {
	if g.Reading == nil || !weather || len(g.Reading.Pests) == 0 {
		return nil
	}
	out := &pestsView{}
	for _, p := range g.Reading.Pests {
		pv := v.pest(p)
		switch pv.Grade {
		case pest.Quiet.String():
			out.Quiet = append(out.Quiet, pv)
		case "unknown":
			if p.Found.Invalid == pest.InvalidNoModel || p.Found.Invalid == pest.InvalidPageOnly {
				out.Unmodeled = append(out.Unmodeled, pv)
			} else {
				out.Silent = append(out.Silent, pv)
			}
		default:
			out.Rows = append(out.Rows, pv)
		}
	}
	rank := map[string]int{pest.Act.String(): 0, pest.Watch.String(): 1}
	slices.SortStableFunc(out.Rows, func(a, b pestView) int { return rank[a.Grade] - rank[b.Grade] })
	var used []string
	for _, pv := range out.Rows {
		link := linkView{pv.Name, pv.Address}
		switch {
		case pv.Grade == pest.Act.String():
			out.Act = append(out.Act, link)
		case len(out.Watch) < mostWatched:
			out.Watch = append(out.Watch, link)
		default:
			out.More++
		}
		// What the stages of weeds and insects say may name a treatment; a
		// disease's row does where its gate is open.
		if d := pv.pest.Decision; pv.Kind != string(advice.Disease) || d != nil && d.Answer == disease.AnswerOpen {
			used = append(used, uses[pv.Kind])
		}
	}
	if len(used) > 0 {
		out.Cautions = v.cautionsOf(false, used...)
	}
	return out
}

func (v viewer) pest(p *advice.Pest) pestView {
	pv := pestView{ID: p.ID(), Name: p.Name(), Address: pestAddress(p.ID()), Kind: string(p.Kind), pest: p}
	pv.Grade = gradeID(p)
	pv.Word = v.must("pests.grade", pv.Grade)
	switch {
	case pv.Grade == "unknown":
		pv.Why = append(pv.Why, v.silence(p))
	case p.Found.Invalid != "":
		pv.Why = append(pv.Why, v.invalid(p))
	case p.Kind == advice.Disease:
		pv.Why = v.diseaseWhy(p)
	default:
		pv.Why = append(pv.Why, p.Progress.Stage.Title+".", plain(p.Progress.Stage.Says))
		for _, s := range p.Progress.Shifts {
			pv.Why = append(pv.Why, plain(s.Says))
		}
	}
	return pv
}

// gradeID is the grade, or "unknown" where none can be given.
func gradeID(p *advice.Pest) string {
	f := &p.Found
	switch f.Invalid {
	case pest.InvalidNoModel, pest.InvalidRegion, pest.InvalidPageOnly:
		return "unknown"
	}
	if !f.Known {
		return "unknown"
	}
	return f.Grade.String()
}

// silence says why nothing can be said.
func (v viewer) silence(p *advice.Pest) string {
	if p.Found.Invalid != "" {
		return v.invalid(p)
	}
	return v.lacks(p.Found.Lacks)
}

func (v viewer) lacks(codes []string) string {
	if len(codes) == 0 {
		return v.must("pests.lacks", "weather")
	}
	words := make([]string, len(codes))
	for i, c := range codes {
		words[i] = v.must("pests.lacks", c)
	}
	return v.say("pests.lacks.these", "what", strings.Join(words, ", "))
}

func (v viewer) invalid(p *advice.Pest) string {
	if p.Found.Invalid == pest.InvalidRegion {
		return v.say("pests.invalid.outside-region", "where", plain(strings.TrimSuffix(validFor(p), ".")))
	}
	return v.must("pests.invalid", p.Found.Invalid)
}

// validFor tells where the timings of a weed or insect were found.
func validFor(p *advice.Pest) string {
	var timings []stage.Timing
	switch {
	case p.Weed != nil:
		timings = p.Weed.Timings
	case p.Insect != nil:
		timings = p.Insect.Timings
	}
	for _, t := range timings {
		if !t.Compare {
			return t.ValidFor
		}
	}
	return ""
}

// diseaseWhy is the week's score against its limits, and the season.
func (v viewer) diseaseWhy(p *advice.Pest) []string {
	f, d := &p.Found, p.Disease
	var out []string
	if !math.IsNaN(f.Score) {
		watch, act := limits(d, f.Host)
		id := "pests.why.score"
		if !mayAct(p) {
			id = "pests.why.score_watch"
		}
		out = append(out, v.say(id, "score", score(f.Score), "watch", score(watch), "act", score(act)))
	}
	for i, w := range f.Windows {
		if w.State == pest.WindowOpen {
			out = append(out, v.say("pests.why.open", "season", seasonName(d.Windows[i].ID), "date", monthDay(w.Since)))
		}
	}
	switch {
	case f.Reported:
		out = append(out, v.must("pests.why", "reported"))
	case f.History:
		out = append(out, v.must("pests.why", "history"))
	}
	if held(p) {
		out = append(out, v.must("pests.why", "held"))
	}
	if p.Decision != nil {
		out = append(out, v.because(p.Decision))
	}
	if len(f.Lacks) > 0 {
		out = append(out, v.lacks(f.Lacks))
	}
	if len(out) == 0 {
		out = append(out, v.must("pests.why", "closed"))
	}
	return out
}

// held reports whether the grade still stands from weeks with a higher score.
func held(p *advice.Pest) bool {
	f := &p.Found
	if math.IsNaN(f.Score) || f.Reported {
		return false
	}
	watch, act := limits(p.Disease, f.Host)
	at := func(limit float64) bool { return score(f.Score) >= score(limit) }
	return f.Grade == pest.Watch && !at(watch) || f.Grade == pest.Act && !at(act)
}

// mayAct reports whether weather can make the disease more than watch here.
func mayAct(p *advice.Pest) bool {
	return p.Found.Host > pest.MinorHost && (p.Disease.Cap == pest.Act || p.Found.Reported)
}

// limits are the scores from which a host is at watch and at act.
func limits(d *disease.Disease, host int) (watch, act float64) {
	watch, act = d.Limits.Watch, d.Limits.Act
	if host == pest.CommonHost {
		watch, act = watch+d.Limits.CommonHost, act+d.Limits.CommonHost
	}
	return watch, act
}

// pestWeekView is a zone with what a pest comes to on each of its grasses.
type pestWeekView struct {
	Zone    linkView
	Grasses []pestWeekCell
}

type pestWeekCell struct {
	Grass       linkView
	Grade, Word string
}

// pestWeeks lists the zones of the week that grow a host of the pest.
func pestWeeks(r *regionView, id string) []pestWeekView {
	var out []pestWeekView
	for _, z := range r.Zones {
		row := pestWeekView{Zone: linkView{z.Name, z.Current}}
		for _, g := range z.Grasses {
			if pv := g.Pests.find(id); pv != nil {
				row.Grasses = append(row.Grasses, pestWeekCell{linkView{g.Name, g.Address}, pv.Grade, pv.Word})
			}
		}
		if len(row.Grasses) > 0 {
			out = append(out, row)
		}
	}
	return out
}

// find returns the pest of an id, or nil.
func (p *pestsView) find(id string) *pestView {
	if p == nil {
		return nil
	}
	for _, list := range [][]pestView{p.Rows, p.Quiet, p.Silent, p.Unmodeled} {
		for i := range list {
			if list[i].ID == id {
				return &list[i]
			}
		}
	}
	return nil
}

// highest returns what the pest comes to where it is worst in the zone; nil
// where no grass of the zone is a host.
func highest(z *zoneView, id string) *pestWeekCell {
	rank := map[string]int{"unknown": 0, pest.Quiet.String(): 1, pest.Watch.String(): 2, pest.Act.String(): 3}
	var best *pestWeekCell
	for _, g := range z.Grasses {
		if pv := g.Pests.find(id); pv != nil && (best == nil || rank[pv.Grade] > rank[best.Grade]) {
			best = &pestWeekCell{linkView{g.Name, g.Address}, pv.Grade, pv.Word}
		}
	}
	return best
}
