package bulletin

import (
	"slices"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/workspace"
)

// Answer is the answer to one question about one grass.
type Answer struct {
	ID       string        `json:"id"`    // "zoysia-feed", unique in a zone
	Grass    string        `json:"grass"` // its name
	Topic    string        `json:"topic"` // code
	Name     *message.Said `json:"name"`  // "Feed"
	Question *message.Said `json:"question"`
	Word     *message.Said `json:"word"` // of the verdict
	Loud     *message.Said `json:"loud"` // the same in capitals
	Draft                  // that speaks
	Acts     bool          `json:"acts,omitempty"` // something may be done, now or when the wait is over: cautions stand in sight
	Cautions []Caution     `json:"cautions,omitempty"`
	Gate     string        `json:"gate,omitempty"`      // code of the gate that gave the answer
	GateName *message.Said `json:"gate_name,omitempty"` // the same in words
	Also     []Draft       `json:"also,omitempty"`      // others with the same verdict that speak of other pests
	AlsoLine *message.Said `json:"also_line,omitempty"` // their names, where there is no room for more
	Support  []Draft       `json:"support,omitempty"`   // the remaining ones with the same verdict
	Dropped  []Dropped     `json:"dropped,omitempty"`
	Lacking  []Lacking     `json:"lacking,omitempty"`
	Lawns    []Lawn        `json:"lawns,omitempty"` // what goes for single lawns alone
	More     *Article      `json:"more,omitempty"`
	Weight   int           `json:"weight,omitempty"`
	Urgency  string        `json:"urgency,omitempty"` // code: why it may be the first thing of the week
	Uses     []string      `json:"uses,omitempty"`    // what following it puts on the lawn
}

// Plain reports whether the answer may be printed by itself: no condition and
// no caution must stand beside it.
func (a *Answer) Plain() bool { return len(a.Conditions)+len(a.Cautions) == 0 }

// FirstReason is the one reason where there is room for one: the rule's own, else
// the first of the others; nil for none.
func (a *Answer) FirstReason() *message.Said {
	if a.Why != nil || len(a.Reasons) == 0 {
		return a.Why
	}
	return a.Reasons[0]
}

// Named is something that has a page of its own.
type Named struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Article is a standing article.
type Article struct {
	ID    string `json:"id"`
	Kind  string `json:"kind"`
	Title string `json:"title"`
}

// Caution is a caution in both lengths.
type Caution = advice.Caution

// Draft is what is proposed, by a rule or a gate.
type Draft struct {
	Verdict    string          `json:"verdict"` // code
	Say        *message.Said   `json:"say"`
	Why        *message.Said   `json:"why,omitempty"`     // the rule's own reason
	Reasons    []*message.Said `json:"reasons,omitempty"` // each clause, or the gate's reasons
	Rule       Rule            `json:"rule,omitzero"`
	By         Rule            `json:"by,omitzero"`    // the conflict that it has yielded to, whose words these are
	Pest       *Named          `json:"pest,omitempty"` // of which it speaks
	Conditions []*message.Said `json:"conditions,omitempty"`
}

func draft(ws *workspace.Workspace, d advice.Draft) Draft {
	return Draft{string(d.Verdict), message.Say(d.Say), message.Say(d.Why), message.SayAll(d.Reasons), rule(ws, d.Rule), rule(ws, d.By), named(d.Pest), message.SayAll(d.Conditions)}
}

// Lawn is what goes for one lawn alone: it stands under the answer for the zone.
type Lawn struct {
	Place string        `json:"place,omitempty"` // as the log writes it
	Date  civil.Date    `json:"date"`            // of the last report, or treatment
	Where *message.Said `json:"where"`           // "At the mill green, reported July 10"
	Word  *message.Said `json:"word"`            // of the verdict
	Gate  string        `json:"gate,omitempty"`  // code of the gate that gave the answer
	Draft
}

func lawns(ws *workspace.Workspace, all []advice.Lawn) []Lawn {
	var out []Lawn
	for _, l := range all {
		kind := "reported"
		if l.Treated {
			kind = "treated"
		}
		out = append(out, Lawn{l.Place, l.Date, message.Say(at(l.Place, kind, l.Date)), say("verdict." + string(l.Draft.Verdict)), l.Draft.Gate, draft(ws, l.Draft)})
	}
	return out
}

// at names a lawn, with the day of the report or treatment.
func at(place, kind string, date civil.Date) message.Message {
	where := message.Word("lawn.unnamed")
	if place != "" {
		where = message.Text(place)
	}
	return message.New("lawn."+kind).With("place", where).Date("date", date)
}

// Dropped is a draft that does not speak, and why not.
type Dropped struct {
	Word    *message.Said `json:"word"` // of the verdict that it proposed
	Say     *message.Said `json:"say"`
	Reason  *message.Said `json:"reason"`
	Rule    Rule          `json:"rule,omitzero"`
	Pest    *Named        `json:"pest,omitempty"`
	Verdict string        `json:"verdict"`        // code of what it came to after the gates
	Gate    string        `json:"gate,omitempty"` // code of the gate that stopped it; "" where another outweighed it
}

// Lacking is a rule that could not be judged, with what it lacked.
type Lacking struct {
	Rule    Rule            `json:"rule"`
	Missing []*message.Said `json:"missing,omitempty"`
}

func answer(ws *workspace.Workspace, s *Grass, a advice.Answer) *Answer {
	topic := string(a.Topic)
	out := &Answer{
		ID: s.ID + "-" + topic, Grass: s.Name, Topic: topic, Name: say("topic." + topic), Question: say("question." + topic),
		Word: say("verdict." + string(a.Verdict)), Loud: say("verdict_loud." + string(a.Verdict)), Draft: draft(ws, a.Lead), Acts: a.Verdict != advice.Closed && a.Verdict != advice.Skip,
		More: article(ws, a.Lead.More), Weight: a.Lead.Weight, Urgency: string(a.Urgency), Uses: a.Lead.Uses,
	}
	if a.InPart() {
		out.Word, out.Loud = say("verdict.closed_part"), say("verdict_loud.closed_part")
	}
	out.Verdict, out.Conditions = string(a.Verdict), message.SayAll(a.Conditions)
	if a.Lead.Gate != "" {
		out.Gate, out.GateName = a.Lead.Gate, say("gate."+a.Lead.Gate+".name")
	}
	out.Cautions = slices.DeleteFunc(slices.Clone(ws.Cautions), func(c Caution) bool { return !slices.Contains(a.Cautions, c.ID) })
	for _, d := range a.Support {
		out.Support = append(out.Support, draft(ws, d))
	}
	out.Lawns = lawns(ws, a.Lawns)
	for _, d := range a.Dropped {
		out.Dropped = append(out.Dropped, Dropped{
			say("verdict." + string(d.Draft.Verdict)), message.Say(d.Draft.Say), message.Say(d.Reason), rule(ws, d.Draft.Rule), named(d.Draft.Pest), string(d.Verdict), d.Gate,
		})
	}
	for _, t := range a.Lacking {
		lack := Lacking{Rule: rule(ws, t.Rule)}
		for i, c := range t.Clauses {
			if t.Held[i] == advice.Unknown {
				lack.Missing = append(lack.Missing, message.Say(c))
			}
		}
		out.Lacking = append(out.Lacking, lack)
	}
	return out
}

// mostLooks is how many pests a page asks to look for on one grass in a week.
const mostLooks = 3

// share tells of what supports an answer those that speak of other pests. Of what is
// to be looked for only as many stand beside the answers as there is room for.
func share(answers []*Answer) {
	room := mostLooks
	for _, a := range answers {
		if a.looks() {
			room--
		}
	}
	for _, a := range answers {
		var names []string
		all := a.Support
		a.Support = nil
		for _, d := range all {
			named := d.Pest != nil && (a.Pest == nil || d.Pest.ID != a.Pest.ID)
			fresh := named && !slices.Contains(names, d.Pest.Name)
			if !named || a.looks() && (!fresh || room <= 0) {
				a.Support = append(a.Support, d)
				continue
			}
			a.Also = append(a.Also, d)
			if fresh {
				names = append(names, d.Pest.Name)
			}
			if fresh && a.looks() {
				room--
			}
		}
		if len(names) > 0 {
			line := "answer.also"
			if a.Verdict == string(advice.Do) {
				line = "answer.also_do"
			}
			a.AlsoLine = message.Say(message.New(line).With("names", message.Texts(message.Comma, names...)))
		}
	}
}

// looks reports whether it asks to look for a pest.
func (a *Answer) looks() bool {
	return a.Verdict == string(advice.Look) && advice.Topic(a.Topic).Treatment() != ""
}

func named(p *advice.Pest) *Named {
	if p == nil {
		return nil
	}
	return &Named{p.ID(), p.Name()}
}

func article(ws *workspace.Workspace, id string) *Article {
	for _, p := range ws.Standing {
		if id != "" && p.ID == id {
			return &Article{p.ID, p.Kind, p.Title}
		}
	}
	return nil
}
