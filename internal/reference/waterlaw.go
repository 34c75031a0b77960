package reference

import (
	"strings"
	"time"

	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/watering"
	"ligule/internal/workspace"
)

// WaterLawInFull is what a watering law says, at any time.
type WaterLawInFull struct {
	Force     *message.Said   `json:"force"`
	AppliesIn *message.Said   `json:"applies_in"`
	About     *message.Said   `json:"about"`
	Numbers   []*message.Said `json:"numbers,omitempty"` // which group lots without a plain number belong to
	Parts     []WaterRules    `json:"parts,omitempty"`
	Orders    []*message.Said `json:"orders,omitempty"`
	Caps      []*message.Said `json:"caps,omitempty"`
	Exempt    []*message.Said `json:"exempt,omitempty"`
	Asserted  bool            `json:"asserted,omitempty"` // a real law, known well enough to be told to machines
}

// WaterRules is a schedule or a stage of a watering law.
type WaterRules struct {
	Title *message.Said   `json:"title"`
	Lines []*message.Said `json:"lines,omitempty"`
}

func waterLawInFull(ws *workspace.Workspace, r *watering.Record) *WaterLawInFull {
	w := &WaterLawInFull{
		Force: say("water_force." + r.Force), AppliesIn: value(message.WordOr("law_applies", r.AppliesIn)),
		About:    value(message.WordsOr(message.Comma, "water_source", r.SourceWater...)),
		Asserted: !ws.Site.Demo && !r.Fictional && r.Verification != law.UnverifiedText,
	}
	if r.NoNumber != "" {
		w.Numbers = append(w.Numbers, message.Say(message.New("water_number.none").Said("group", countedAs(r.NoNumber))))
	}
	switch r.LetterSuffix {
	case "":
	case "ignore":
		w.Numbers = append(w.Numbers, say("water_number.letter_ignored"))
	default:
		w.Numbers = append(w.Numbers, message.Say(message.New("water_number.letter").Said("group", countedAs(r.LetterSuffix))))
	}
	if lines := closedHours(r.ClosedHours); r.CalendarParity || r.ClosedOn31st || len(lines) > 0 {
		if r.CalendarParity {
			lines = append(lines, say("water_rule_of.parity"))
		}
		if r.ClosedOn31st {
			lines = append(lines, say("water_rule_of.day_31"))
		}
		w.Parts = append(w.Parts, WaterRules{say("water_rule_of.always"), lines})
	}
	for i := range r.Schedules {
		s := &r.Schedules[i]
		w.Parts = append(w.Parts, WaterRules{waterWhen(s.When), groupDays(s.Days)})
	}
	for i := range r.Stages {
		w.Parts = append(w.Parts, waterStage(&r.Stages[i]))
	}
	w.Orders = message.SayEach(r.Declared, func(d watering.DeclaredStage) message.Message {
		return declaredSpan("water_order.open", "water_order.span", d.From, d.To, d.AssumeUntil).Count("n", d.Stage)
	})
	if x := r.MaxDepthIn; x != nil {
		w.Caps = append(w.Caps, waterCap("depth", "inches", *x, r))
	}
	if x := r.MaxMinutesPerStation; x != nil {
		w.Caps = append(w.Caps, waterCap("minutes", "minutes", *x, r))
	}
	for i := range r.Exempt {
		w.Exempt = append(w.Exempt, waterExemption(&r.Exempt[i]))
	}
	return w
}

// countedAs names the group that a lot counts to: "odd", "digit:9".
func countedAs(group string) message.Message {
	if digit, ok := strings.CutPrefix(group, "digit:"); ok {
		return message.New("water_number.digit").Name("digit", digit)
	}
	return groupOf(group, nil)
}

func closedHours(spans []watering.Hours) []*message.Said {
	return message.SayEach(spans, func(h watering.Hours) message.Message { return between("water_rule_of.hours", h) })
}

// waterWhen says when a schedule is on.
func waterWhen(w *watering.When) *message.Said {
	switch {
	case w == nil:
		return say("water_when.always")
	case w.DST && w.Active:
		return say("water_when.summer_clock")
	case w.DST:
		return say("water_when.winter_clock")
	}
	return message.Say(lawWhen(w.Annual))
}

func groupDays(list []watering.Days) []*message.Said {
	return message.SayEach(list, func(d watering.Days) message.Message {
		return message.New("water_rule_of.days").Said("group", groupOf(d.Group, nil)).With("days", weekdays(d.Days))
	})
}

func weekdays(days []time.Weekday) message.Value {
	if len(days) == 0 {
		return message.Word("water_rule_of.no_day")
	}
	return message.Each(message.And, days, func(d time.Weekday) message.Value { return message.Weekday(int(d)) })
}

func waterStage(s *watering.Stage) WaterRules {
	w := WaterRules{Title: message.Say(message.New("water_stage.title").Count("n", s.N).Name("name", s.Name).Word("force", "water_force."+s.Force))}
	if s.Ban {
		w.Lines = append(w.Lines, say("water_rule_of.ban"))
	}
	w.Lines = append(w.Lines, closedHours(s.ClosedHours)...)
	w.Lines = append(w.Lines, groupDays(s.Days)...)
	for _, n := range s.ReplacesDaysOf {
		w.Lines = append(w.Lines, message.Say(message.New("water_rule_of.replaces").Count("n", n)))
	}
	return w
}

// waterExemption says an exemption by the terms of its own law.
func waterExemption(x *watering.Exemption) *message.Said {
	terms := plantingTerms("water_term", x)
	if x.MaxIn != nil {
		terms = append(terms, message.New("water_term.water_in").With("inches", message.Figure(*x.MaxIn)).Count("hours", x.WithinHours))
	}
	if len(x.Stages) > 0 {
		terms = append(terms, message.New("water_term.stages").With("stages", counts(x.Stages)))
	}
	return exempt(x.What, terms)
}
