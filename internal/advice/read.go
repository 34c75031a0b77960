package advice

import (
	"cmp"
	"slices"

	"ligule/internal/message"
)

// Read makes the reading: it measures the indicators, lets every rule that
// applies propose, meets each proposal with the gates, and chooses per topic.
func Read(in *Input) *Reading {
	r := &Reading{Growth: in.growth(0), Pests: in.pests(), Windows: in.windows()}
	for _, ind := range in.Catalogue.All() {
		if ind.Of == "" {
			r.Values = append(r.Values, in.value(ind, nil, 0))
		}
	}
	for _, rule := range in.Rules {
		switch {
		case !rule.AppliesTo(in.Grass, in.Climate):
		case rule.Each == "" && rule.Lawns == "":
			r.Traces = append(r.Traces, rule.judge(in, nil))
		default:
			before := len(r.Traces)
			for _, of := range append([]*Input{in}, in.lawns()...) {
				for _, p := range of.asks(rule) {
					if p == nil || p.Kind == rule.Each && (rule.Pest == "" || rule.Pest == p.ID()) && !p.Silent() {
						t := rule.judge(of, p)
						if of != in {
							t.lawn = of
						}
						r.Traces = append(r.Traces, t)
					}
				}
			}
			if rule.Lawns == onlyLawns && len(r.Traces) == before {
				r.Traces = append(r.Traces, RuleTrace{Rule: rule, Outcome: No}) // nobody has reported a lawn
			}
		}
	}
	var questions []*question
	for _, topic := range Topics() {
		q := in.ask(topic, r.Traces)
		in.conclude(q)
		questions = append(questions, q)
	}
	r.Conflicts, r.Settled = in.settle(questions)
	for _, q := range questions {
		if q.speaks {
			r.Answers = append(r.Answers, q.answer)
		}
	}
	return r
}

// candidate is a draft that passed or became a gate's answer.
type candidate struct {
	draft  Draft
	origin Draft  // before the gate
	lawn   *Input // that it is for; nil: the zone
}

// ask gathers what is proposed on a topic.
func (in *Input) ask(topic Topic, traces []RuleTrace) *question {
	q := &question{topic: topic}
	for _, t := range traces {
		switch {
		case t.Rule.Topic != topic:
		case t.Outcome == Unknown:
			q.lacking = append(q.lacking, t)
		case t.Outcome == Yes && t.lawn != nil:
			c := t.lawn.draft(t)
			c.lawn = t.lawn
			// Why nothing is fed is the zone's answer on feeding.
			if c.draft.Gate == "" || !usesAny(c.origin, Nitrogen) {
				q.lawns = append(q.lawns, c)
			}
		case t.Outcome == Yes:
			q.all = append(q.all, in.draft(t))
		}
	}
	// One rule may say of a pest what another would.
	q.all = slices.DeleteFunc(q.all, func(c candidate) bool {
		return slices.ContainsFunc(traces, func(t RuleTrace) bool {
			return t.Outcome == Yes && t.lawn == nil && t.Rule.Replaces == c.draft.Rule.ID && t.Pest == c.draft.Pest
		})
	})
	return q
}

// conclude chooses a topic's answer; there is none where nothing was asked.
func (in *Input) conclude(q *question) {
	a := Answer{Topic: q.topic, Lacking: q.lacking}
	// A closed season is the answer to "can I feed?" even if no rule proposed
	// to, unless something that the law leaves open is worth doing.
	if q.topic == Feed && !slices.ContainsFunc(q.all, func(c candidate) bool { return c.draft.Verdict == Do || c.draft.Rule == nil }) {
		if d, closed := in.lawSpeaks(); closed {
			slices.SortStableFunc(q.all, heavier)
			if len(q.all) > 0 && q.all[0].draft.Verdict != Closed {
				d.Say = andWait(d.Say, q.all[0].draft.Verdict, q.all[0].draft.Say)
			}
			q.all = append(q.all, candidate{draft: d, origin: d})
		}
	}
	if len(q.all) == 0 && len(q.lawns) > 0 {
		d := Draft{Topic: q.topic, Verdict: Look, Say: message.New("answer.lawns")}
		q.all = append(q.all, candidate{draft: d, origin: d})
	}
	all := q.all
	if len(all) == 0 {
		a.Verdict = NotEnough
		a.Lead = Draft{Topic: q.topic, Verdict: NotEnough, Say: message.New("answer.not_enough").With("data", lacks(q.lacking...))}
		a.Urgency = in.urgencyOf(a)
		q.answer, q.speaks = a, len(q.lacking) > 0
		return
	}
	slices.SortStableFunc(all, heavier)
	slices.SortStableFunc(q.lawns, heavier)
	lead := all[0]
	a.Lead, a.Verdict, a.Conditions = lead.draft, lead.draft.Verdict, lead.draft.Conditions
	a.Lead.Conditions = nil
	for _, c := range all[1:] {
		switch {
		case c.draft.Gate != "" && c.draft.Gate == a.Lead.Gate && c.draft.Say.Equal(a.Lead.Say):
			// It came to the same; once is enough.
		case c.draft.Gate != "":
			// A gated draft is never support for another, even if it agrees.
			a.Dropped = append(a.Dropped, Dropped{c.origin, message.New("dropped.gate").Word("gate", gateName(c.draft.Gate)).Said("say", c.draft.Say), c.draft.Gate, c.draft.Verdict})
		case c.draft.Verdict == a.Verdict && c.draft.Pest != lead.draft.Pest:
			// What goes with the treatment of one pest goes with no other.
			a.Support = append(a.Support, c.draft)
		case c.draft.Verdict == a.Verdict:
			a.Conditions = once(slices.Concat(a.Conditions, c.draft.Conditions))
			c.draft.Conditions = nil
			a.Support = append(a.Support, c.draft)
		default:
			verdict := "verdict." + string(c.draft.Verdict)
			why := message.New("dropped.outweighed").Name("rule", a.Lead.id()).Word("verdict", verdict)
			if a.Lead.Gate != "" {
				why = message.New("dropped.outranked").With("gate", message.Word(gateName(a.Lead.Gate)).Lowered()).Word("verdict", verdict)
			}
			a.Dropped = append(a.Dropped, Dropped{c.origin, why, "", c.draft.Verdict})
		}
	}
	if q.topic == Feed && a.Verdict == Do && slices.Contains(a.Lead.Uses, Nitrogen) {
		a.Conditions = append(in.amounts(a.Lead.Rule), a.Conditions...)
	}
	in.under(&a, q.lawns)
	var uses []string
	spoken := append([]Draft{a.Lead}, a.Support...)
	for _, l := range a.Lawns {
		spoken = append(spoken, l.Draft)
	}
	for _, d := range spoken {
		uses = append(uses, d.Uses...)
		if d.Pest != nil {
			uses = append(uses, in.mayUse(d.Pest)...)
		}
	}
	a.Cautions = cautionsFor(in.Cautions, q.topic, uses, in.classesOf(spoken))
	a.Urgency = in.urgencyOf(a)
	q.answer, q.speaks = a, true
}

// heavier orders what is proposed on a topic.
func heavier(x, y candidate) int {
	return cmp.Or(
		-cmp.Compare(truth(x.draft.Verdict == Closed), truth(y.draft.Verdict == Closed)), // the law's closures go before everything
		-cmp.Compare(x.draft.Weight, y.draft.Weight),
		cmp.Compare(x.draft.id(), y.draft.id()),
		-cmp.Compare(x.draft.urgency(), y.draft.urgency()),
	)
}

// urgency orders drafts of one rule that speaks of several pests: by grade, then
// by how much the grass suffers from it.
func (d Draft) urgency() int {
	if d.Pest == nil {
		return 0
	}
	return 10*int(d.Pest.Found.Grade) + d.Pest.Found.Host
}

// id names the draft for ties and for the working.
func (d Draft) id() string {
	if d.Rule == nil {
		return d.Gate
	}
	return d.Rule.ID
}

// draft makes a firing rule's proposal and meets it with the gates.
func (in *Input) draft(t RuleTrace) candidate {
	r := t.Rule
	d := Draft{
		Rule: r, Pest: t.Pest, Topic: r.Topic, Verdict: r.Verdict, Weight: r.Weight, Uses: r.Uses, Does: in.deeds(r, t.Pest),
		Say: in.say(r, r.Say, t.Pest, false), Why: in.say(r, r.Why, t.Pest, true), More: r.More, Reasons: t.Clauses,
	}
	if uses, from, to := in.putOff(r); len(uses) > 0 {
		if shut := in.Law.closedLater(uses, from, to); len(shut) > 0 {
			d.Say = message.New("answer.later_closed").Said("say", d.Say).With("law", message.Messages(message.Sentences, shut...))
		}
	}
	stopped, conditions := in.pass(d)
	held := d
	if held.Conditions = conditions; stopped != nil {
		held = d.held(stopped)
	}
	return candidate{draft: held, origin: d}
}
