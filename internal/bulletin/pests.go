package bulletin

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/advice"
	"ligule/internal/disease"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/workspace"
)

// Pests is what the week says of the pests of one grass. A grade is a word, and
// never an order to treat.
type Pests struct {
	Rows      []Pest      `json:"rows,omitempty"`      // that ask for a look: act first
	Quiet     []Pest      `json:"quiet,omitempty"`     // that do not
	Silent    []Pest      `json:"silent,omitempty"`    // of which nothing can be said this week, or here
	Unmodeled []Pest      `json:"unmodeled,omitempty"` // that weather never judges
	Cautions  []Caution   `json:"cautions,omitempty"`  // of what the rows speak of putting on a lawn
	Figures   PestFigures `json:"figures"`
}

// Pest is a pest on one grass in one week.
type Pest struct {
	ID    string          `json:"id"`
	Name  string          `json:"name"`
	Kind  string          `json:"kind"`            // "disease", "weed" or "insect"
	Grade string          `json:"grade"`           // "act", "watch", "quiet" or "unknown"
	Word  *message.Said   `json:"word"`            // the grade
	Stage string          `json:"stage,omitempty"` // of a weed or insect that can be judged: its title
	Why   []*message.Said `json:"why,omitempty"`   // what the grade rests on, or why there is none
	Facts PestFacts       `json:"facts"`
}

// Judged reports whether weather ever judges it.
func (p *Pest) Judged() bool {
	return p.Facts.Invalid != pest.InvalidNoModel && p.Facts.Invalid != pest.InvalidPageOnly
}

// Known reports whether a grade can be given.
func (p *Pest) Known() bool { return p.Grade != unknownGrade }

// unknownGrade is the grade of a pest that none can be given.
const unknownGrade = "unknown"

// Above reports whether it asks for more than another.
func (p *Pest) Above(o *Pest) bool {
	order := []string{unknownGrade, pest.Quiet.String(), pest.Watch.String(), pest.Act.String()}
	return slices.Index(order, p.Grade) > slices.Index(order, o.Grade)
}

// Find returns the pest of an id, or nil.
func (p *Pests) Find(id string) *Pest {
	all := p.All()
	if i := slices.IndexFunc(all, func(o Pest) bool { return o.ID == id }); i >= 0 {
		return &all[i]
	}
	return nil
}

// All returns every pest: diseases, weeds, insects, each by id.
func (p *Pests) All() []Pest {
	if p == nil {
		return nil
	}
	all := slices.Concat(p.Rows, p.Quiet, p.Silent, p.Unmodeled)
	kinds := []string{string(advice.Disease), string(advice.Weed), string(advice.Insect)}
	slices.SortFunc(all, func(a, b Pest) int {
		return cmp.Or(slices.Index(kinds, a.Kind)-slices.Index(kinds, b.Kind), cmp.Compare(a.ID, b.ID))
	})
	return all
}

// At returns the rows of a grade.
func (p *Pests) At(grade string) []Pest {
	return slices.DeleteFunc(slices.Clone(p.Rows), func(o Pest) bool { return o.Grade != grade })
}

// sortedPests puts pests in the order in which they are told.
func sortedPests(all []*advice.Pest) []*advice.Pest {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b *advice.Pest) int { return cmp.Compare(gradeRank(a), gradeRank(b)) })
	return sorted
}

// weekPests puts the pests of a grass where they belong; nil where there are
// none.
func weekPests(ws *workspace.Workspace, all []*advice.Pest) *Pests {
	if len(all) == 0 {
		return nil
	}
	out := &Pests{}
	lists := [...]*[]Pest{ofAct: &out.Rows, ofWatch: &out.Rows, ofQuiet: &out.Quiet, ofSilent: &out.Silent, ofUnmodeled: &out.Unmodeled}
	var uses []string
	for _, p := range sortedPests(all) {
		rank := gradeRank(p)
		*lists[rank] = append(*lists[rank], newPest(p))
		if rank <= ofWatch && mayNameTreatment(p) {
			uses = append(uses, p.Kind.Treatment())
		}
	}
	out.Cautions = cautionsOf(ws, false, uses)
	return out
}

// The ranks of pests, in the order in which they are told.
const (
	ofAct = iota
	ofWatch
	ofQuiet
	ofSilent
	ofUnmodeled
)

func gradeRank(p *advice.Pest) int {
	switch f := &p.Found; {
	case f.Invalid == pest.InvalidNoModel || f.Invalid == pest.InvalidPageOnly || f.Invalid == pest.InvalidRange:
		return ofUnmodeled
	case grade(p) == unknownGrade:
		return ofSilent
	case f.Grade == pest.Act:
		return ofAct
	case f.Grade == pest.Watch:
		return ofWatch
	}
	return ofQuiet
}

// mayNameTreatment reports whether the row of a pest may speak of something to
// treat it with: the stages of weeds and insects may, a disease's row does where
// its gate is open for a lawn.
func mayNameTreatment(p *advice.Pest) bool {
	return p.Kind != advice.Disease || slices.ContainsFunc(p.Lawns, func(l *advice.Pest) bool {
		return l.Decision != nil && l.Decision.Answer == disease.AnswerOpen
	})
}

func newPest(p *advice.Pest) Pest {
	one := Pest{ID: p.ID(), Name: p.Name(), Kind: string(p.Kind), Grade: grade(p), Facts: pestFacts(p)}
	one.Word = say("pests.grade." + one.Grade)
	var why []message.Message
	switch {
	case p.Found.Invalid != "":
		why = append(why, invalid(p))
	case one.Grade == unknownGrade:
		why = append(why, lacks(p.Found.Lacks))
	case p.Kind == advice.Disease:
		why = diseaseWhy(p)
	default:
		one.Stage = p.Progress.Stage.Title
		why = append(why, message.Plain(p.Progress.Stage.Says))
		for _, s := range p.Progress.Shifts {
			why = append(why, message.Plain(s.Says))
		}
	}
	one.Why = message.SayAll(why)
	return one
}

// grade is the grade, or that none can be given.
func grade(p *advice.Pest) string {
	if p.Silent() || !p.Found.Known {
		return unknownGrade
	}
	return p.Found.Grade.String()
}

// lacks says what weather is missing.
func lacks(codes []string) message.Message {
	if len(codes) == 0 {
		return message.New("pests.lacks.weather")
	}
	return message.New("pests.lacks.these").With("what", message.Words(message.Comma, "pests.lacks", codes...))
}

// invalid says why a model says nothing here.
func invalid(p *advice.Pest) message.Message {
	m := message.New("pests.invalid." + p.Found.Invalid)
	if p.Found.Invalid == pest.InvalidRange {
		return m.Name("where", p.Lives())
	}
	if a := p.Account(); a != nil && p.Found.Invalid == pest.InvalidRegion {
		return m.Name("where", a.ValidFor())
	}
	return m
}

// diseaseWhy is the week's score against its limits, and the season.
func diseaseWhy(p *advice.Pest) []message.Message {
	f, d := &p.Found, p.Disease
	var out []message.Message
	if !math.IsNaN(f.Score) {
		watch, act := d.Limits.On(f.Host)
		code := "pests.why.score"
		switch {
		case !mayAct(p):
			code = "pests.why.score_watch"
		case f.Guessed:
			code = "pests.why.score_estimated"
		}
		out = append(out, message.New(code).With("score", score(f.Score)).With("watch", score(watch)).With("act", score(act)))
	}
	for i, w := range f.Windows {
		if w.State == pest.WindowOpen {
			out = append(out, message.New("pests.why.open").Name("season", d.Windows[i].Title).YearDay("date", w.Since))
		}
	}
	switch {
	case f.Reported:
		out = append(out, message.New("pests.why.reported").Said("looked", p.Looked))
	case f.History:
		out = append(out, message.New("pests.why.history"))
	}
	if held(p) {
		out = append(out, message.New("pests.why.held"))
	}
	if f.Hidden {
		out = append(out, message.New("pests.why.hidden"))
	}
	if u := f.Usual; u.Years >= leastUsualYears && f.Grade > pest.Quiet {
		out = append(out, message.New("pests.why.usual").With("up", message.Number(float64(u.Up), 0)).With("years", message.Number(float64(u.Years), 0)))
	}
	for _, l := range p.Lawns {
		// What may be treated is answered above, with what else speaks for or against.
		if d := l.Decision; d != nil && d.Answer != disease.AnswerOpen {
			parts := []message.Message{answered(l)}
			if len(d.Reasons) > 0 {
				parts = append(parts, reason(d.Reasons[0]))
			}
			out = append(out, message.Just(message.Messages(message.Sentences, parts...)))
		}
	}
	if len(f.Lacks) > 0 {
		out = append(out, lacks(f.Lacks))
	}
	if len(out) == 0 {
		out = append(out, message.New("pests.why.closed"))
	}
	return out
}

// leastUsualYears is in how many years a week has to be on record for it to be told
// how usual it is. Own design.
const leastUsualYears = 5

// answered is what the treatment gate says of a lawn, and reason why.
func answered(l *advice.Pest) message.Message {
	return message.New("pests.answer."+string(l.Decision.Answer)).Said("at", at(l.Last.Place, "reported", l.Last.Date))
}
func reason(r disease.Reason) message.Message { return message.New("pests.reason." + string(r)) }

// score is a week score or a limit of it.
func score(x float64) message.Value { return message.Number(x, scoreDecimals) }

const scoreDecimals = 2

// held reports whether the grade still stands from weeks with a higher score, as
// the page prints the scores.
func held(p *advice.Pest) bool {
	f := &p.Found
	if math.IsNaN(f.Score) || f.Reported {
		return false
	}
	watch, act := p.Disease.Limits.On(f.Host)
	printed := func(x float64) float64 { return quantity.Round(x, quantity.Number, quantity.US, scoreDecimals) }
	at := func(limit float64) bool { return printed(f.Score) >= printed(limit) }
	return f.Grade == pest.Watch && !at(watch) || f.Grade == pest.Act && !at(act)
}

// mayAct reports whether weather can make the disease more than watch here.
func mayAct(p *advice.Pest) bool {
	return p.Found.Host > pest.MinorHost && p.Disease.Cap == pest.Act
}
