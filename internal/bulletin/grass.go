package bulletin

import (
	"fmt"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/reference"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// Grass is what a grass of a zone does in a week, and the answers for it.
type Grass struct {
	ID        string          `json:"id"`
	Name      string          `json:"name"`
	Soft      string          `json:"soft"` // with soft hyphens
	Botanical string          `json:"botanical,omitempty"`
	Kind      string          `json:"kind"`
	Enough    bool            `json:"enough"`               // the weather sufficed to tell its state
	State     string          `json:"state,omitempty"`      // code: "greening_up"
	StateWord *message.Said   `json:"state_word,omitempty"` // nil where it is not known
	Line      *message.Said   `json:"line"`                 // the state in one line
	Notes     []*message.Said `json:"notes,omitempty"`      // why it is so, what a watered lawn does, what comes
	Growth    Num             `json:"growth"`               // growth index; missing where it is not known
	Index     *message.Said   `json:"index,omitempty"`      // the same as printed: "0.42"
	Factors   []Factor        `json:"factors,omitempty"`
	Answers   []*Answer       `json:"answers,omitempty"`
	Values    []Value         `json:"values,omitempty"`  // every indicator
	Rules     []Trace         `json:"rules,omitempty"`   // how every rule fared
	Yielded   []Yielded       `json:"yielded,omitempty"` // what yielded to another answer, or to the weather
	Figures   []Figure        `json:"figures,omitempty"`
	Cites     []Cite          `json:"cites,omitempty"`
	Year      *GrassYear      `json:"year,omitempty"`    // nil where nothing but the answers was asked for
	Windows   []WindowWeek    `json:"windows,omitempty"` // of its calendar, in its order
	Pests     *Pests          `json:"pests,omitempty"`   // nil where there is no weather to judge them by, or none are told of
}

// Factor is a factor of the growth index.
type Factor struct {
	Name  string        `json:"name"` // code: "temperature"
	Value *message.Said `json:"value"`
}

// Value is an indicator with its value.
type Value struct {
	Name      string        `json:"name"`
	Title     string        `json:"title"`
	Value     *message.Said `json:"value"`
	Basis     string        `json:"basis,omitempty"`      // code of what it rests on; "" where there is no value
	BasisWord *message.Said `json:"basis_word,omitempty"` // the same in words
	Known     bool          `json:"known"`
}

// Trace is how a rule fared.
type Trace struct {
	Rule    Rule          `json:"rule"`
	Pest    *Named        `json:"pest,omitempty"` // of which it was asked
	Topic   *message.Said `json:"topic"`
	Outcome string        `json:"outcome"` // "yes", "no" or "unknown"
	Clauses []Clause      `json:"clauses,omitempty"`
}

// Yielded is what yielded, by which conflict.
type Yielded struct {
	Conflict Rule          `json:"conflict"`
	Rule     Rule          `json:"rule"`              // that proposed it
	Say      *message.Said `json:"say"`               // what it said
	Topic    string        `json:"topic"`             // code
	Winner   Rule          `json:"winner,omitzero"`   // none where the weather alone decided
	Pest     *Named        `json:"pest,omitempty"`    // of which it spoke
	Unknown  bool          `json:"unknown,omitempty"` // the conflict could not be judged
}

// Clause is one clause of a rule.
type Clause struct {
	Held string        `json:"held"` // "yes", "no" or "unknown"
	Text *message.Said `json:"text"`
}

// Rule names a rule with its source; the zero Rule is none.
type Rule struct {
	ID       string           `json:"id,omitempty"`
	Topic    string           `json:"topic,omitempty"` // code
	Weight   int              `json:"weight,omitempty"`
	Source   reference.Source `json:"source,omitzero"`
	Cited    string           `json:"cited,omitempty"`    // the source as the file names it: "common practice"
	Standing string           `json:"standing,omitempty"` // how well established, as the file says it
	At       string           `json:"at,omitempty"`       // file and line
}

// Figure is a figure of a grass.
type Figure struct {
	Name  string        `json:"name"` // code: "soil_dormant"
	Value *message.Said `json:"value,omitempty"`
}

// Cite says where figures come from.
type Cite struct {
	Section string           `json:"section"`
	Note    *message.Said    `json:"note,omitempty"`
	Source  reference.Source `json:"source"`
}

// NewGrass makes the record of a grass from its reading, without its working.
// Without weather only the law speaks.
func NewGrass(ws *workspace.Workspace, p *turf.Profile, r *advice.Reading, weather bool) *Grass {
	s := &Grass{ID: p.ID, Name: p.Name, Soft: p.Soft, Botanical: p.Botanical, Kind: string(p.Kind), Growth: missing}
	s.Line = say("state.unknown")
	if s.Enough = weather && r.Growth.RainFed.Enough; s.Enough {
		s.state(r.Growth)
	}
	for _, a := range r.Answers {
		if weather || a.Verdict == advice.Closed {
			s.Answers = append(s.Answers, answer(ws, s, a))
		}
	}
	share(s.Answers)
	if weather {
		s.Pests = weekPests(ws, r.Pests)
	}
	return s
}

// Work puts to the record every figure behind it.
func (s *Grass) Work(ws *workspace.Workspace, p *turf.Profile, r *advice.Reading) {
	s.Figures = figures(p)
	for _, c := range p.Cites {
		s.Cites = append(s.Cites, Cite{c.Section, text(c.Note), reference.SourceOf(ws, c.Source, c.Standing)})
	}
	if s.Pests != nil {
		s.Pests.Figures = pestFigures(r.Pests)
	}
	for _, v := range r.Values {
		shown := Value{Name: v.Indicator.Name, Title: v.Indicator.Title, Value: message.Say(message.Just(v.Shown())), Known: v.Known()}
		if shown.Known && v.Basis != "" {
			shown.Basis, shown.BasisWord = string(v.Basis), say("basis."+string(v.Basis))
		}
		s.Values = append(s.Values, shown)
	}
}

// Fare puts to the record how every rule fared.
func (s *Grass) Fare(ws *workspace.Workspace, r *advice.Reading) {
	for _, t := range r.Traces {
		shown := Trace{Rule: rule(ws, t.Rule), Pest: named(t.Pest), Topic: say("topic." + string(t.Rule.Topic)), Outcome: t.Outcome.String()}
		for i, c := range t.Clauses {
			shown.Clauses = append(shown.Clauses, Clause{t.Held[i].String(), message.Say(c)})
		}
		s.Rules = append(s.Rules, shown)
	}
	for _, y := range r.Settled {
		s.Yielded = append(s.Yielded, Yielded{
			rule(ws, y.By.Rule), rule(ws, y.Loser.Rule), message.Say(y.Loser.Say), string(y.Loser.Topic), rule(ws, y.Winner.Rule), named(y.Loser.Pest), y.Unknown,
		})
	}
}

// say is a phrase without slots.
func say(code string) *message.Said { return message.Say(message.New(code)) }

// text is a text of the author's; nil for none.
func text(s string) *message.Said {
	if s == "" {
		return nil
	}
	return message.Say(message.Plain(s))
}

func rule(ws *workspace.Workspace, r *advice.Rule) Rule {
	if r == nil {
		return Rule{}
	}
	return Rule{r.ID, string(r.Topic), r.Weight, reference.SourceOf(ws, r.Source, r.Standing), r.Source, string(r.Standing), fmt.Sprintf("%s:%d", r.Pos.File, r.Pos.Line)}
}

// state says what the grass does.
func (s *Grass) state(r turf.Reading) {
	g := r.RainFed
	s.State = stateCode(g.State)
	s.StateWord = say(advice.StatePhrase(g.State))
	line := "state.line"
	if r.Watered != nil {
		line = "state.line_dry" // watering would change it, and the line must not stand alone
	}
	stands := func(code string, g turf.Growth) *message.Said {
		return message.Say(message.New(code).Word("state", advice.StatePhrase(g.State)).Said("mow", mow(g)))
	}
	s.Line = stands(line, g)
	factor := func(name string, x float64) Factor {
		return Factor{name, just(message.Number(x, 2))}
	}
	s.Growth, s.Index = Num(g.G), just(message.Number(g.G, 2))
	s.Factors = []Factor{
		factor(string(turf.Temperature), g.FT), factor(string(turf.Light), g.FL), factor(string(turf.DayLength), g.FP), factor(string(turf.Water), g.FW),
	}
	if g.DormantWhy != "" {
		s.Notes = append(s.Notes, say("dormant."+string(g.DormantWhy)))
	}
	if f := g.Falling; f != nil {
		s.Notes = append(s.Notes, message.Say(message.New("slowdown."+strings.ReplaceAll(string(f.Sense), " ", "_")).
			YearDay("since", f.Since).With("then", message.Share(f.From)).With("now", message.Share(f.To))))
	}
	if g.SetBack {
		s.Notes = append(s.Notes, say("state.set_back"))
	}
	if w := r.Watered; w != nil && w.Enough {
		s.Notes = append(s.Notes, stands("state.watered", *w))
	}
	if a := r.Ahead; a != nil && a.Enough {
		s.Notes = append(s.Notes, stands("state.ahead", *a))
	}
}

// States lists the states of a grass as its record names them, in the order of
// a year.
func States() []string {
	var out []string
	for _, s := range [...]turf.State{turf.Dormant, turf.GreeningUp, turf.Growing, turf.Flush, turf.Recovering, turf.Slowing, turf.Resting} {
		out = append(out, stateCode(s))
	}
	return out
}

func stateCode(s turf.State) string { return strings.ReplaceAll(string(s), " ", "_") }

func mow(g turf.Growth) message.Message {
	if g.MowDays <= 0 {
		return message.New("state.no_mow")
	}
	return message.New("state.mow").DayCount("days", g.MowDays)
}

// figures are those of the grass's file.
func figures(p *turf.Profile) []Figure {
	usual := func(name string, x float64, d quantity.Dimension) Figure {
		return Figure{name, message.Say(message.Just(message.Usual(x, d)))}
	}
	both := func(name string, x float64, d quantity.Dimension, us, metric int) Figure {
		return Figure{name, message.Say(message.Just(message.Both(x, d, us, metric)))}
	}
	return []Figure{
		usual("optimum", p.OptimumC, quantity.Temperature),
		usual("spread", p.SpreadC, quantity.TemperatureDifference),
		usual("light_full", p.LightFullMol, quantity.Light),
		both("peak_height", p.PeakHeightMMD, quantity.GrowthRate, 1, 1),
		usual("soil_dormant", p.SoilDormantC, quantity.Temperature),
		usual("soil_green_up", p.SoilGreenUpC, quantity.Temperature),
		both("mow_low", p.MowLowMM, quantity.Depth, 2, 0),
		both("mow_usual", p.MowUsualMM, quantity.Depth, 2, 0),
		both("mow_high", p.MowHighMM, quantity.Depth, 2, 0),
		usual("n_low", p.NLowGM2, quantity.NitrogenRate),
		usual("n_medium", p.NMediumGM2, quantity.NitrogenRate),
		usual("n_high", p.NHighGM2, quantity.NitrogenRate),
		usual("n_single", p.NSingleGM2, quantity.NitrogenRate),
		usual("kc", p.Kc, quantity.Number),
		usual("kc_dormant", p.KcDormant, quantity.Number),
		both("root_depth", p.RootDepthMM, quantity.Depth, 1, 0),
		usual("depletion", p.Depletion, quantity.Number),
	}
}
