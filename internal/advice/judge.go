package advice

import (
	"math"
	"slices"
	"strings"

	"ligule/internal/message"
)

// judge says how a rule fares: Yes if every term holds, No if one does not,
// Unknown if none fails but one cannot be told.
func (r *Rule) judge(in *Input, p *Pest) RuleTrace {
	trace := RuleTrace{Rule: r, Pest: p, Outcome: Yes, Held: make([]Truth, len(r.when))}
	for i, t := range r.when {
		trace.Held[i] = t.judge(in, p)
		trace.Outcome = min(trace.Outcome, trace.Held[i]) // a false clause settles it, whatever is unknown besides
	}
	if trace.Outcome != No || !in.Brief {
		trace.Clauses = make([]message.Message, len(r.when))
		for i, t := range r.when {
			trace.Clauses[i] = t.says(in, p, trace.Held[i])
		}
	}
	return trace
}

func (c choice) judge(in *Input, p *Pest) Truth {
	best := No
	for _, group := range c {
		best = max(best, judgeAll(in, group, p))
	}
	return best
}

// judgeAll says whether all of a group hold.
func judgeAll(in *Input, group []term, p *Pest) Truth {
	held := Yes
	for _, sub := range group {
		held = min(held, sub.judge(in, p))
	}
	return held
}

// says tells, of several ways to hold, the first that does, or all where none does.
func (c choice) says(in *Input, p *Pest, held Truth) message.Message {
	var parts []message.Value
	for _, group := range c {
		if held == Yes && judgeAll(in, group, p) != Yes {
			continue
		}
		clauses := make([]message.Value, len(group))
		for i, sub := range group {
			clauses[i] = message.Of(sub.says(in, p, sub.judge(in, p)))
		}
		parts = append(parts, message.List(message.And, clauses...))
		if held == Yes {
			break
		}
	}
	return message.New("clause.any").With("parts", message.List(message.Or, parts...))
}

// about is the pest that the clause asks about: the rule's own unless it names
// another.
func (c *clause) about(in *Input, p *Pest) *Pest {
	if c.of != "" {
		return in.pest(c.ind.Of, c.of)
	}
	return p
}

func (c *clause) judge(in *Input, p *Pest) Truth {
	p = c.about(in, p)
	held := Yes
	for ago := range c.forDays {
		held = min(held, c.at(in, p, ago))
		if held == No {
			break
		}
	}
	return held
}

func (c *clause) says(in *Input, p *Pest, held Truth) message.Message {
	p = c.about(in, p)
	asked := c.asked(in)
	if c.forDays > 1 {
		asked = message.Of(message.New("test.for_days").With("test", asked).DayCount("days", c.forDays))
	}
	return clauseSays(held, title(c.ind, p), in.value(c.ind, p, 0).basedWithin(), asked)
}

// clauseSays says how a question was answered, by what.
func clauseSays(held Truth, title, value, test message.Value) message.Message {
	return message.Filled("clause."+held.String(), message.In("title", title), message.In("value", value), message.In("test", test))
}

// at judges the clause on a day.
func (c *clause) at(in *Input, p *Pest, ago int) Truth {
	v := in.value(c.ind, p, ago)
	if !v.Known() {
		return Unknown
	}
	if c.ind.Kind == Word {
		return truth(slices.Contains(c.words, v.Word))
	}
	held := Yes
	for _, t := range c.tests {
		held = min(held, t.judge(in, c.ind, v, ago))
	}
	return held
}

// judge compares values as they are printed, so that a page can never show a
// value beside a limit that it seems to contradict.
func (t test) judge(in *Input, ind *Indicator, v Value, ago int) Truth {
	if ind.Kind == Day {
		return truth(t.window.Contains(v.Date))
	}
	x := ind.round(v.Num, in.Units)
	low, high := ind.round(t.low, in.Units), ind.round(t.high, in.Units)
	switch t.op {
	case "at_least":
		return truth(x >= low)
	case "at_most":
		return truth(x <= low)
	case "above":
		return truth(x > low)
	case "below":
		return truth(x < low)
	case "between":
		return truth(x >= low && x <= high)
	}
	then := in.value(ind, nil, ago+t.days)
	if !then.Known() {
		return Unknown
	}
	before := ind.round(then.Num, in.Units)
	if t.op == "rising" {
		return truth(x > before)
	}
	return truth(x < before)
}

func truth(b bool) Truth {
	if b {
		return Yes
	}
	return No
}

// asked is the clause's question: "at least 65 °F (18 °C)".
func (c *clause) asked(in *Input) message.Value {
	if c.ind.Kind == Word {
		named := make([]message.Value, len(c.words))
		for i, w := range c.words {
			named[i] = in.word(c, w).Lowered()
		}
		return message.List(message.Or, named...)
	}
	var parts []message.Message
	for _, t := range c.tests {
		switch {
		case c.ind.Kind == Day:
			parts = append(parts, message.New("test.between").With("low", message.EveryYear(t.window.From)).With("high", message.EveryYear(t.window.To)))
		case t.op == "between":
			parts = append(parts, message.New("test.between").With("low", c.ind.shown(t.low)).With("high", c.ind.shown(t.high)))
		case t.op == "rising" || t.op == "falling":
			parts = append(parts, message.New("test."+t.op).DayCount("days", t.days))
		default:
			parts = append(parts, message.New("test."+t.op).With("limit", c.ind.shown(t.low)))
		}
	}
	return message.Messages(message.And, parts...)
}

// title is an indicator's title, with the pest that it is asked of.
func title(ind *Indicator, p *Pest) message.Value {
	if ind.Of == "" || p == nil {
		return message.Text(ind.Title)
	}
	return message.Of(message.Filled("indicator.of", message.In("title", message.Text(ind.Title)), message.In("pest", message.Text(p.Name()))))
}

// word is a word that a clause asks for.
func (in *Input) word(c *clause, word string) message.Value {
	if len(c.ind.Words) > 0 {
		return message.Word(phrase(c.ind.Name, word))
	}
	for _, s := range stagesOf(in.Pests, c.of) {
		if s.ID == word {
			return message.Text(s.Title)
		}
	}
	return message.Text(word)
}

// phrase is the phrase of a code: "growth_state.flush", "treat.not_identified".
func phrase[Code ~string](group string, code Code) string {
	return group + "." + strings.NewReplacer("-", "_", " ", "_").Replace(string(code))
}

// Shown is the value as it is said.
func (v Value) Shown() message.Value {
	switch {
	case !v.Known():
		return message.Word("value.unknown")
	case v.Text != "":
		return message.Text(v.Text)
	case v.Indicator.Kind == Word:
		return message.Word(phrase(v.Indicator.Name, v.Word))
	case v.Indicator.Kind == Day:
		return message.YearDay(v.Date)
	case math.IsInf(v.Num, 1):
		return message.Word("value.no_mowing")
	}
	return v.Indicator.shown(v.Num)
}

// within is the value as it stands within a sentence.
func (v Value) within() message.Value {
	if v.Indicator.Kind == Word {
		return v.Shown().Lowered()
	}
	return v.Shown()
}

// basedWithin is the same with its basis, unless it was simply observed or
// follows from the calendar; a word goes without, as its figures tell theirs.
func (v Value) basedWithin() message.Value {
	if !v.Known() || v.Indicator.Kind == Word || v.Basis != Estimated && v.Basis != Forecast {
		return v.within()
	}
	return message.Based(v.within(), "basis."+string(v.Basis))
}

// say fills the slots of a rule's text. The one sentence that answers a reader
// goes without the basis of its values; it stands with them in the reasons.
func (in *Input) say(r *Rule, text string, pest *Pest, withBasis bool) message.Message {
	if text == "" {
		return message.Message{}
	}
	m := message.Written(text)
	slots, _ := message.SlotsOf(text) // the loader refuses a rule whose text has none such
	for _, name := range slots {
		if v, ok := in.slot(r, name, pest, withBasis); ok {
			m = m.With(name, v)
		}
	}
	return m
}

// slot fills one slot of a rule's text; ok is false for one that the loader
// refuses.
func (in *Input) slot(r *Rule, name string, pest *Pest, withBasis bool) (v message.Value, ok bool) {
	switch name {
	case "grass":
		return message.Text(in.Grass.Name), true
	case "zone":
		return message.Text(in.ZoneName), true
	case "pest_reports":
		return message.Of(pest.Looked), true
	case "window", "window_stands":
		return in.seasonSlot(r, name, withBasis), true
	}
	switch told := pestSlots[name]; {
	case pest == nil:
	case name == cultureSlot:
		return in.culture(pest), true
	case told != nil:
		return message.Text(told(pest)), true
	}
	ind, ok := in.Catalogue.Find(name)
	if !ok {
		return message.Value{}, false
	}
	found := in.value(ind, pest, 0)
	if !withBasis {
		return found.within(), true
	}
	return found.basedWithin(), true
}
