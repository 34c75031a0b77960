package publish

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/issue"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// grassView is one grass of a zone in one week.
type grassView struct {
	ID, Name, Botanical, Kind string
	Address                   string // of the grass this week
	Working                   string // of the working behind it
	Enough                    bool   // the weather sufficed to tell its state
	State                     string // id, "greening_up"
	StateWord                 string
	Line                      string   // the state in one line
	Notes                     []string // why it is so, what a watered lawn does, what comes
	Index                     string   // growth index, "0.42"
	Scale                     string   // the same for drawing, never quite 0
	Answers                   []*answerView
	Factors                   []factorView
	Values                    []valueView
	Rules                     []traceView
	Profile                   *turf.Profile
	Cites                     []citeView
	Pests                     *pestsView // nil where there is no weather to judge them by
}

// answerView is one answer.
type answerView struct {
	ID         string // "zoysia-feed", unique on a page
	Grass      string
	Topic      string // id
	Name       string // "Feed"
	Question   string
	Verdict    string // id
	Word       string
	Say        string
	Acts       bool // something may be done, now or when the wait is over: cautions stand in sight
	Conditions []string
	Cautions   []cautionView
	Why        []string // the rule's own reason, then each clause or the gate's reasons
	Gate       string   // the gate that gave the answer, in words; "" if none
	Rule       ruleView
	Pest       *linkView   // the page of the pest of which it speaks
	Also       []draftView // others with the same verdict that speak of other pests
	AlsoLine   string      // their names, where there is no room for more
	Support    []draftView // the remaining ones with the same verdict
	Dropped    []droppedView
	Lacking    []lackingView
	More       *linkView
	weight     int
}

// Plain reports whether the answer may be printed by itself: no condition and
// no caution must stand beside it.
func (a *answerView) Plain() bool { return len(a.Conditions)+len(a.Cautions) == 0 }

// ruleView names a rule with its source.
type ruleView struct {
	ID     string // "" when a gate spoke of its own accord
	Source sourceLink
}

type draftView struct {
	Say        string
	Rule       ruleView
	Pest       *linkView
	Conditions []string
}

type droppedView struct {
	Word, Say, Reason string
	Rule              ruleView
}

// lackingView is a rule that could not be judged, with what it lacked.
type lackingView struct {
	Rule    ruleView
	Missing []string
}

// sourceLink is a source as printed behind a figure.
type sourceLink struct {
	Label    string // "Gelernter and Stowell 2005", or "common practice"
	Address  string // in the bibliography; "" if it is no publication
	Standing string // how well established
}

// factorView is a factor of the growth index.
type factorView struct{ Name, Value string }

// valueView is an indicator's value.
type valueView struct {
	Name, Title, Value, Basis string
	Known                     bool
}

// traceView is how a rule fared.
type traceView struct {
	Rule    ruleView
	Topic   string
	Outcome string // "yes", "no", "unknown"
	Clauses []clauseView
}

type clauseView struct{ Held, Text string }

// citeView is where figures of a grass come from.
type citeView struct {
	Section, Note string
	Source        sourceLink
}

func (v viewer) grass(z *zoneView, g *issue.Grass, weather bool) *grassView {
	p := g.Profile
	gv := &grassView{
		ID: p.ID, Name: p.Name, Botanical: p.Botanical, Kind: string(p.Kind), Profile: p,
		Address: z.Current + p.ID + "/", Working: z.Current + p.ID + "/working/",
	}
	for _, c := range p.Cites {
		gv.Cites = append(gv.Cites, citeView{c.Section, c.Note, v.source(c.Source, c.Standing)})
	}
	if g.Reading == nil {
		gv.Line = v.must("state", "unknown")
		return gv
	}
	growth := g.Reading.Growth
	gv.Enough = weather && g.Reading.Enough()
	v.state(gv, growth)
	for _, a := range g.Reading.Answers {
		// Without weather only the law may speak.
		if weather || a.Verdict == advice.Closed {
			av := v.answer(gv, a)
			av.Conditions = append(av.Conditions, z.wateringOf(a)...)
			gv.Answers = append(gv.Answers, av)
		}
	}
	gv.Pests = v.pests(g, weather)
	for _, val := range g.Reading.Values {
		text, known := v.value(val)
		shown := valueView{Name: val.Indicator.Name, Title: val.Indicator.Title, Value: text, Known: known}
		if known && val.Basis != "" {
			shown.Basis = v.must("basis", string(val.Basis))
		}
		gv.Values = append(gv.Values, shown)
	}
	for _, t := range g.Reading.Traces {
		shown := traceView{Rule: v.rule(t.Rule), Topic: v.must("topic", string(t.Rule.Topic)), Outcome: truthID(t.Outcome)}
		for i, c := range t.Clauses {
			shown.Clauses = append(shown.Clauses, clauseView{truthID(t.Held[i]), plain(c.Text)})
		}
		gv.Rules = append(gv.Rules, shown)
	}
	return gv
}

func truthID(t advice.Truth) string {
	return [...]string{advice.No: "no", advice.Unknown: "unknown", advice.Yes: "yes"}[t]
}

// state words what the grass does.
func (v viewer) state(gv *grassView, r turf.Reading) {
	g := r.RainFed
	if !gv.Enough {
		gv.Line = v.must("state", "unknown")
		return
	}
	gv.State = strings.ReplaceAll(string(g.State), " ", "_")
	gv.StateWord = v.must("growth_state", string(g.State))
	line := "state.line"
	if r.Watered != nil {
		line = "state.line_dry" // watering would change it, and the line must not stand alone
	}
	gv.Line = v.say(line, "state", gv.StateWord, "mow", v.mow(g))
	gv.Index, gv.Scale = quantity.Fixed(g.G, 2), quantity.Fixed(math.Max(leastScale, math.Min(1, g.G)), 2)
	gv.Factors = []factorView{
		{string(turf.Temperature), quantity.Fixed(g.FT, 2)},
		{string(turf.Light), quantity.Fixed(g.FL, 2)},
		{string(turf.DayLength), quantity.Fixed(g.FP, 2)},
		{string(turf.Water), quantity.Fixed(g.FW, 2)},
	}
	if g.DormantWhy != "" {
		gv.Notes = append(gv.Notes, v.must("dormant", string(g.DormantWhy)))
	}
	if s := g.Falling; s != nil {
		gv.Notes = append(gv.Notes, v.say("slowdown."+strings.ReplaceAll(string(s.Sense), " ", "_"),
			"since", monthDay(s.Since), "then", percent(s.From), "now", percent(s.To)))
	}
	if g.SetBack {
		gv.Notes = append(gv.Notes, v.must("state", "set_back"))
	}
	if w := r.Watered; w != nil && w.Enough {
		gv.Notes = append(gv.Notes, v.say("state.watered", "state", v.must("growth_state", string(w.State)), "mow", v.mow(*w)))
	}
	if a := r.Ahead; a != nil && a.Enough {
		gv.Notes = append(gv.Notes, v.say("state.ahead", "state", v.must("growth_state", string(a.State)), "mow", v.mow(*a)))
	}
}

func (v viewer) mow(g turf.Growth) string {
	if g.MowDays <= 0 {
		return v.must("state", "no_mow")
	}
	return v.say("state.mow", "days", quantity.One(float64(g.MowDays), quantity.Time, v.units))
}

func (v viewer) answer(gv *grassView, a advice.Answer) *answerView {
	topic := string(a.Topic)
	av := &answerView{
		ID: gv.ID + "-" + topic, Grass: gv.Name, Topic: topic,
		Name: v.must("topic", topic), Question: v.must("question", topic),
		Verdict: string(a.Verdict), Word: v.must("verdict", string(a.Verdict)), Say: plain(a.Lead.Say),
		Conditions: texts(a.Conditions), Rule: v.rule(a.Lead.Rule), More: v.more(a.Lead.More), weight: a.Lead.Weight,
	}
	av.Acts = a.Verdict != advice.Closed && a.Verdict != advice.Skip
	if a.Lead.Gate != "" {
		av.Gate = v.must("gate", a.Lead.Gate+".name")
	}
	if a.Lead.Why != "" {
		av.Why = append(av.Why, plain(a.Lead.Why))
	}
	av.Why = append(av.Why, texts(a.Lead.Reasons)...)
	for _, c := range v.ws.Cautions {
		if slices.Contains(a.Cautions, c.ID) {
			av.Cautions = append(av.Cautions, cautionView{c.ID, c.Short, c.Medium})
		}
	}
	av.Pest = pestLink(a.Lead.Pest)
	var names []string
	for _, d := range a.Support {
		shown := draftView{plain(d.Say), v.rule(d.Rule), pestLink(d.Pest), texts(d.Conditions)}
		if d.Pest == nil || d.Pest == a.Lead.Pest {
			av.Support = append(av.Support, shown)
			continue
		}
		av.Also = append(av.Also, shown)
		if !slices.Contains(names, shown.Pest.Title) {
			names = append(names, shown.Pest.Title)
		}
	}
	if len(names) > 0 {
		line := "answer.also"
		if a.Verdict == advice.Do {
			line = "answer.also_do"
		}
		av.AlsoLine = v.say(line, "names", strings.Join(names, ", "))
	}
	for _, d := range a.Dropped {
		av.Dropped = append(av.Dropped, droppedView{v.must("verdict", string(d.Draft.Verdict)), plain(d.Draft.Say), plain(d.Reason.Text), v.rule(d.Draft.Rule)})
	}
	for _, t := range a.Lacking {
		lack := lackingView{Rule: v.rule(t.Rule)}
		for i, c := range t.Clauses {
			if t.Held[i] == advice.Unknown {
				lack.Missing = append(lack.Missing, plain(c.Text))
			}
		}
		av.Lacking = append(av.Lacking, lack)
	}
	return av
}

// pestLink leads to the page of a pest.
func pestLink(p *advice.Pest) *linkView {
	if p == nil {
		return nil
	}
	return &linkView{p.Name(), pestAddress(p.ID())}
}

func (v viewer) rule(r *advice.Rule) ruleView {
	if r == nil {
		return ruleView{}
	}
	return ruleView{r.ID, v.source(r.Source, r.Standing)}
}

// source finds a source in the bibliography; what is none ("common practice")
// is printed as it stands.
func (v viewer) source(id string, standing turf.Standing) sourceLink {
	for _, s := range v.ws.Sources {
		if s.ID == id {
			return sourceLink{v.shortName(s), "/methods/sources/#" + s.ID, string(standing)}
		}
	}
	if string(standing) == id || standing == turf.Practice && id == turf.CommonPractice {
		standing = ""
	}
	return sourceLink{Label: id, Standing: string(standing)}
}

// shortName is a source as cited in running text: "Gelernter and Stowell 2005".
func (v viewer) shortName(s workspace.Source) string {
	name := s.Authors
	switch people := surnames(s.Authors); len(people) {
	case 0:
	case 1:
		name = people[0]
	case 2:
		name = v.say("source.two", "first", people[0], "second", people[1])
	default:
		name = v.say("source.many", "first", people[0])
	}
	if s.Year == "" || s.Year == "undated" {
		return name
	}
	return name + " " + s.Year
}

// surnames takes "Gelernter, W., Stowell, L." apart. A text of another form,
// such as the name of an office, yields none.
func surnames(authors string) []string {
	parts := strings.Split(authors, ", ")
	if len(parts)%2 != 0 {
		return nil
	}
	var names []string
	for i := 0; i < len(parts); i += 2 {
		if !initials.MatchString(parts[i+1]) {
			return nil
		}
		names = append(names, parts[i])
	}
	return names
}

// initials matches "W.", "J.B." and "J.-P.".
var initials = regexp.MustCompile(`^(\p{Lu}\.[- ]?)+$`)

// more finds a standing article.
func (v viewer) more(id string) *linkView {
	for _, p := range v.ws.Standing {
		if id != "" && p.ID == id {
			return &linkView{p.Title, standingAddress(p.ID, p.Kind)}
		}
	}
	return nil
}

// standingAddress is the address of a standing article.
func standingAddress(id, kind string) string {
	switch {
	case kind != "about":
		return "/guides/" + id + "/"
	case id == "about":
		return "/about/"
	}
	return "/about/" + id + "/"
}

// leastScale is how high a sward is drawn at least: grass that does not grow
// is still there.
const leastScale = 0.08
