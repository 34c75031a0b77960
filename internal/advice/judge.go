package advice

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// judge says how a rule fares: Yes if every term holds, No if one does not,
// Unknown if none fails but one cannot be told.
func (r *Rule) judge(in *Input, p *Pest) RuleTrace {
	trace := RuleTrace{Rule: r, Pest: p, Outcome: Yes}
	for _, t := range r.when {
		held, why := t.judge(in, p)
		trace.Clauses = append(trace.Clauses, why)
		trace.Held = append(trace.Held, held)
		trace.Outcome = min(trace.Outcome, held) // a false clause settles it, whatever is unknown besides
	}
	return trace
}

func (t term) judge(in *Input, p *Pest) (Truth, Reason) {
	switch {
	case t.clause != nil:
		return t.clause.judge(in, p)
	case t.window != nil:
		return t.window.judge(in)
	case t.event != nil:
		return t.event.judge(in)
	}
	best := No
	var parts, winning []string
	for _, group := range t.any {
		held := Yes
		var texts []string
		for _, sub := range group {
			h, why := sub.judge(in, p)
			held = min(held, h)
			texts = append(texts, why.Text)
		}
		text := strings.Join(texts, in.Phrases.Word("clause.and"))
		if held == Yes && best != Yes {
			winning = []string{text}
		}
		best = max(best, held)
		parts = append(parts, text)
	}
	if winning != nil {
		parts = winning
	}
	return best, in.Phrases.Say("clause.any", "parts", strings.Join(parts, in.Phrases.Word("clause.or")))
}

// judge asks the clause; the pest is that of the rule.
func (c *clause) judge(in *Input, p *Pest) (Truth, Reason) {
	if c.of != "" {
		p = in.pest(c.ind.Of, c.of)
	}
	held := Yes
	for ago := range c.forDays {
		held = min(held, c.at(in, p, ago))
		if held == No {
			break
		}
	}
	now := in.value(c.ind, p, 0)
	asked := c.asked(in)
	if c.forDays > 1 {
		asked = in.Phrases.Say("test.for_days", "test", asked, "days", quantity.One(float64(c.forDays), quantity.Time, in.Units)).Text
	}
	return held, in.Phrases.Say(truthPhrase(held), "title", in.title(c.ind, p), "value", in.text(now), "test", asked)
}

// at judges the clause on a day.
func (c *clause) at(in *Input, p *Pest, ago int) Truth {
	v := in.value(c.ind, p, ago)
	if !v.Known() {
		return Unknown
	}
	switch c.ind.Kind {
	case Word:
		return truth(slices.Contains(c.words, v.Word))
	case Day:
		for _, t := range c.tests {
			if !t.window.Contains(v.Date) {
				return No
			}
		}
		return Yes
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
	x := v.rounded(in.Units)
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
	before := then.rounded(in.Units)
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

// asked is the clause's question in words: "at least 65 °F (18 °C)".
func (c *clause) asked(in *Input) string {
	p := in.Phrases
	if c.ind.Kind == Word {
		named := make([]string, len(c.words))
		for i, w := range c.words {
			named[i] = lowerFirst(in.word(c, w))
		}
		return strings.Join(named, p.Word("clause.or"))
	}
	var parts []string
	for _, t := range c.tests {
		switch {
		case c.ind.Kind == Day:
			parts = append(parts, p.Say("test.between", "low", monthDay(t.window.From), "high", monthDay(t.window.To)).Text)
		case t.op == "between":
			parts = append(parts, p.Say("test.between", "low", c.ind.print(t.low, in.Units), "high", c.ind.print(t.high, in.Units)).Text)
		case t.op == "rising" || t.op == "falling":
			parts = append(parts, p.Say("test."+t.op, "days", quantity.One(float64(t.days), quantity.Time, in.Units)).Text)
		default:
			parts = append(parts, p.Say("test."+t.op, "limit", c.ind.print(t.low, in.Units)).Text)
		}
	}
	return strings.Join(parts, p.Word("clause.and"))
}

// title is an indicator's title, with the pest that it is asked of.
func (in *Input) title(ind *Indicator, p *Pest) string {
	if ind.Of == "" || p == nil {
		return ind.Title
	}
	return in.Phrases.Say("indicator.of", "title", ind.Title, "pest", p.Name()).Text
}

// word prints a word that a clause asks for.
func (in *Input) word(c *clause, word string) string {
	if len(c.ind.Words) > 0 {
		return in.Phrases.Word(wordID(c.ind.Name, word))
	}
	for _, s := range stagesOf(in.Pests, c.of) {
		if s.ID == word {
			return s.Title
		}
	}
	return word
}

// wordID is the phrase that prints a word of an indicator: "growth_state.flush".
func wordID(indicator, word string) string {
	return indicator + "." + strings.ReplaceAll(word, " ", "_")
}

// monthDay prints a day of the year: "September 1".
func monthDay(md civil.MonthDay) string { return md.Format("January 2") }

// Value prints a value in both systems of units.
func (p *Phrases) Value(v Value, s quantity.System) string {
	switch {
	case !v.Known():
		return p.Word("value.unknown")
	case v.Text != "":
		return v.Text
	case v.Indicator.Kind == Word:
		return p.Word(wordID(v.Indicator.Name, v.Word))
	case v.Indicator.Kind == Day:
		return monthDay(v.Date.MonthDay())
	case math.IsInf(v.Num, 1):
		return p.Word("value.no_mowing")
	}
	return v.Indicator.print(v.Num, s)
}

// text prints a value with its basis, unless it was simply observed or follows
// from the calendar.
func (in *Input) text(v Value) string {
	s := in.Phrases.Value(v, in.Units)
	if v.Indicator.Kind == Word {
		s = lowerFirst(s) // within a sentence
	}
	if !v.Known() || v.Basis != Estimated && v.Basis != Forecast {
		return s
	}
	basis := in.Phrases.Word("basis." + string(v.Basis))
	if strings.HasSuffix(s, ")") {
		return strings.TrimSuffix(s, ")") + "; " + basis + ")"
	}
	return s + " (" + basis + ")"
}

// say fills the slots of a rule's text. The one sentence that answers a reader
// goes without the basis of its values; it stands with them in the reasons.
func (in *Input) say(r *Rule, text string, pest *Pest, withBasis bool) string {
	return fill(text, func(name string) string {
		switch name {
		case "grass":
			return in.Grass.Name
		case "zone":
			return in.ZoneName
		case "window", "window_stands":
			return in.seasonSlot(r, name, withBasis)
		}
		if pest != nil {
			switch name {
			case "pest":
				return pest.Name()
			case "pest_says":
				return pest.says()
			case "pest_look":
				return pest.look()
			case "pest_culture":
				return pest.culture()
			case "pest_worth":
				return pest.worth()
			}
		}
		ind, ok := in.Catalogue.Find(name)
		if !ok {
			return "«" + name + "»" // the loader refuses such a rule
		}
		v := in.value(ind, pest, 0)
		if !withBasis {
			v.Basis = Observed
		}
		return in.text(v)
	})
}

func lowerFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}

func upperFirst(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}
