package publish

import (
	"strconv"
	"strings"
	"time"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
)

// waterRecordView is a watering law in full.
type waterRecordView struct {
	recordView
	Force, AppliesIn, About string
	From, To                civil.Date
	Numbers                 []string // which group lots without a plain number belong to
	Parts                   []waterPartView
	Orders                  []string
	Caps, Exempt            []string
}

// waterPartView is a schedule or a stage of a watering law.
type waterPartView struct {
	Title string
	Lines []string
}

func (v viewer) waterRecordInFull(r *law.WaterRecord, asOf civil.Date) waterRecordView {
	wv := waterRecordView{
		recordView: v.waterRecord(r, asOf), Force: v.must("water_force", r.Force), AppliesIn: v.word("law_applies", r.AppliesIn),
		About: v.list("water_source", r.SourceWater), From: r.EffectiveFrom, To: r.EffectiveTo,
	}
	if r.NoNumber != "" {
		wv.Numbers = append(wv.Numbers, v.say("water_number.none", "group", v.countedAs(r.NoNumber)))
	}
	switch r.LetterSuffix {
	case "":
	case "ignore":
		wv.Numbers = append(wv.Numbers, v.must("water_number", "letter_ignored"))
	default:
		wv.Numbers = append(wv.Numbers, v.say("water_number.letter", "group", v.countedAs(r.LetterSuffix)))
	}
	if lines := v.closedHours(r.ClosedHours); r.CalendarParity || r.ClosedOn31st || len(lines) > 0 {
		if r.CalendarParity {
			lines = append(lines, v.must("water_rule_of", "parity"))
		}
		if r.ClosedOn31st {
			lines = append(lines, v.must("water_rule_of", "day_31"))
		}
		wv.Parts = append(wv.Parts, waterPartView{v.must("water_rule_of", "always"), lines})
	}
	for i := range r.Schedules {
		s := &r.Schedules[i]
		wv.Parts = append(wv.Parts, waterPartView{v.waterWhen(s.When), v.groupDays(s.Days)})
	}
	for i := range r.Stages {
		wv.Parts = append(wv.Parts, v.waterStage(&r.Stages[i]))
	}
	for _, d := range r.Declared {
		id, last := "water_order.open", d.AssumeUntil
		if !d.To.IsZero() {
			id, last = "water_order.span", d.To
		}
		wv.Orders = append(wv.Orders, v.say(id, "n", strconv.Itoa(d.Stage), "first", longDate(d.From), "last", longDate(last)))
	}
	if x := r.MaxDepthIn; x != nil {
		wv.Caps = append(wv.Caps, v.say("water_cap.depth", "inches", trimmed(*x), "law", waterTitle(r), "citation", r.Citation))
	}
	if x := r.MaxMinutesPerStation; x != nil {
		wv.Caps = append(wv.Caps, v.say("water_cap.minutes", "minutes", trimmed(*x), "law", waterTitle(r), "citation", r.Citation))
	}
	for i := range r.Exempt {
		wv.Exempt = append(wv.Exempt, v.waterExemption(&r.Exempt[i]))
	}
	return wv
}

// countedAs names the group that a lot counts to: "odd", "digit:9".
func (v viewer) countedAs(group string) string {
	if digit, ok := strings.CutPrefix(group, "digit:"); ok {
		return v.say("water_number.digit", "digit", digit)
	}
	return v.say("water_group."+group, "digits", "")
}

func (v viewer) closedHours(spans []law.Hours) []string {
	var out []string
	for _, h := range spans {
		out = append(out, v.say("water_rule_of.hours", "from", v.clockTime(h.From), "to", v.clockTime(h.To)))
	}
	return out
}

// waterWhen words when a schedule is on.
func (v viewer) waterWhen(w *law.WaterWhen) string {
	switch {
	case w == nil:
		return v.must("water_when", "always")
	case w.DST && w.Active:
		return v.must("water_when", "summer_clock")
	case w.DST:
		return v.must("water_when", "winter_clock")
	}
	return v.lawWhen(w.Annual)
}

func (v viewer) groupDays(list []law.WaterDays) []string {
	var out []string
	for _, d := range list {
		out = append(out, v.say("water_rule_of.days", "group", v.say("water_group."+d.Group, "digits", ""), "days", v.weekdayList(d.Days)))
	}
	return out
}

func (v viewer) weekdayList(days []time.Weekday) string {
	if len(days) == 0 {
		return v.must("water_rule_of", "no_day")
	}
	names := make([]message.Value, len(days))
	for i, d := range days {
		names[i] = message.Weekday(int(d))
	}
	return v.Value(message.List(message.And, names...))
}

func (v viewer) waterStage(s *law.WaterStage) waterPartView {
	pv := waterPartView{Title: v.say("water_stage.title", "n", strconv.Itoa(s.N), "name", s.Name, "force", v.must("water_force", s.Force))}
	if s.Ban {
		pv.Lines = append(pv.Lines, v.must("water_rule_of", "ban"))
	}
	pv.Lines = append(pv.Lines, v.closedHours(s.ClosedHours)...)
	pv.Lines = append(pv.Lines, v.groupDays(s.Days)...)
	for _, n := range s.ReplacesDaysOf {
		pv.Lines = append(pv.Lines, v.say("water_rule_of.replaces", "n", strconv.Itoa(n)))
	}
	return pv
}

// waterExemption words an exemption by the terms of its own law.
func (v viewer) waterExemption(x *law.WaterExemption) string {
	var terms []string
	say := func(id string, slots ...string) { terms = append(terms, v.say("water_term."+id, slots...)) }
	if x.AnyDay != nil {
		say("any_day", "from", strconv.Itoa(x.AnyDay.From), "to", strconv.Itoa(x.AnyDay.To))
	}
	if x.AlternateDay != nil {
		say("alternate_day", "from", strconv.Itoa(x.AlternateDay.From), "to", strconv.Itoa(x.AlternateDay.To))
	}
	if x.MaxIn != nil {
		say("water_in", "inches", trimmed(*x.MaxIn), "hours", strconv.Itoa(x.WithinHours))
	}
	if len(x.Stages) > 0 {
		say("stages", "stages", digits(x.Stages))
	}
	what := v.word("water_exempt", x.What)
	if len(terms) == 0 {
		return v.say("water_exempt.plain", "what", what)
	}
	return v.say("water_exempt.with_terms", "what", what, "terms", strings.Join(terms, "; "))
}
