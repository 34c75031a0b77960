package advice

import (
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/season"
	"ligule/internal/stage"
	"ligule/internal/turf"
)

// Rule is one seasonal rule of data/rules: when all its clauses hold, it
// proposes an answer on its topic.
type Rule struct {
	ID       string
	Topic    Topic
	Verdict  Verdict
	Weight   int      // of the rules that fire on a topic the heaviest speaks
	Uses     []string // what following it puts on the lawn; gates act on it
	Does     []string // what else following it does to the lawn; conflicts act on it
	Urgency  Urgency  // why it may come first; "" if the topic decides
	Grasses  []string // ids or kinds; empty is all
	Climates []string // ids; empty is all
	Each     Topic    // Disease, Weed or Insect: it speaks once for each that attacks the grass; "" if for none
	Pest     string   // id: it speaks of this one alone, of the kind Each
	Lawns    string   // whether it speaks for single lawns where a pest was found, "also" or "only", or without Each for those that its clauses tell of; "": it does not
	Later    *Later   // what it puts off, and to when; nil if it names no time of the year
	Replaces string   // id of a lighter rule of the file, which is not said of the same pest when this one is
	RateGM2  float64  // most nitrogen at one time by this rule, g/m²; 0 leaves it to the grass and the law
	Say      string   // one sentence, with {slots}
	Why      string   // may be empty
	More     string   // id of a standing article; may be empty
	Source   string   // id of data/sources.toml, "common practice" or "own design"
	Standing turf.Standing
	Pos      diag.Pos
	when     []term
}

// Later is what a rule puts off to a time of the year.
type Later struct {
	Uses     []string
	From, To civil.MonthDay
}

// AppliesTo reports whether the rule speaks about a grass in a climate.
func (r *Rule) AppliesTo(p *turf.Profile, climate string) bool {
	return (len(r.Grasses) == 0 || slices.Contains(r.Grasses, p.ID) || slices.Contains(r.Grasses, string(p.Kind))) &&
		(len(r.Climates) == 0 || slices.Contains(r.Climates, climate))
}

// monthName is a month in a text.
var monthName = regexp.MustCompile(`\b(January|February|March|April|May|June|July|August|September|October|November|December)\b`)

// maxWeight keeps rules from shouting each other down.
const maxWeight = 100

// ReadRules reads one file of data/rules. References to grasses, climates,
// articles and sources are for the loader to check; pests are checked here,
// against the book.
func ReadRules(t *diag.Table, c *Catalogue, book *Book) []*Rule {
	var rules []*Rule
	read := t.Tables("rule")
	for _, rt := range read {
		r := &Rule{
			ID:       rt.ID("id"),
			Topic:    Topic(rt.One("topic", Words(Topics())...)),
			Verdict:  Verdict(rt.One("verdict", string(Do), string(Wait), string(Skip), string(Look))),
			Weight:   rt.Int("weight"),
			Uses:     rt.Texts("uses", true),
			Does:     rt.Words("does", false, Deeds()...),
			Urgency:  Urgency(rt.OptOne("urgency", claims()...)),
			Grasses:  rt.Texts("grasses", false),
			Climates: rt.Texts("climates", false),
			Replaces: rt.OptText("replaces"),
			Pos:      rt.Pos("id"),
		}
		if r.Weight < 0 || r.Weight > maxWeight {
			rt.Errorf("weight", "", "%d is outside 0 to %d", r.Weight, maxWeight)
		}
		checkWords(rt, "uses", r.Uses, season.Uses())
		if rate, ok := rt.OptQuantity("rate", quantity.NitrogenRate); ok {
			r.RateGM2 = rate
			if rate <= 0 || !slices.Contains(r.Uses, Nitrogen) {
				rt.Errorf("rate", "leave it out, or name nitrogen in uses", "a rate of nitrogen belongs to a rule that uses nitrogen")
			}
		}
		// A feeding that forgets to say what it spreads would slip past the law.
		if r.Topic == Feed && r.Verdict == Do && rt.Has("uses") && len(LawLetters(r.Uses)) == 0 {
			rt.Errorf("uses", `name what is spread: one of "nitrogen", "phosphorus", "potassium", "iron"`, "a rule that says to feed must use a nutrient")
		}
		readSubject(rt, r, book)
		if when := rt.Table("when", true); when != nil {
			r.when = readTerms(when, &clauseReader{c, book, r})
			if r.Verdict == Do && r.Lawns != onlyLawns && restsOnLawn(r.when) {
				rt.Errorf("when", `add lawns = "only"`, "a report of one lawn is no reason for the whole zone to do something")
			}
			when.Close()
		}
		if r.Lawns != "" && r.Each == "" && (r.Lawns != onlyLawns || !restsOnLawn(r.when)) {
			rt.Errorf("lawns", `add each = "disease", or pest = "…"`, "only what is found on a lawn is told of one")
		}
		checkDeeds(rt, r)
		if lt := rt.Table("later", false); lt != nil {
			r.Later = &Later{Uses: lt.Words("uses", true, season.Uses()...), From: lt.MonthDay("from"), To: lt.MonthDay("to")}
			if r.Verdict == Do {
				rt.Errorf("later", "leave it out", "what is to be done now is not put off")
			}
			lt.Close()
		}
		if text := rt.Table("text", true); text != nil {
			r.readText(text, c)
			// A time that the law is not asked about would go around it.
			if r.Topic == Feed && r.Verdict != Do && r.Later == nil && monthName.MatchString(r.Say) {
				rt.Errorf("later", `add later = { uses = ["nitrogen"], from = "09-01", to = "09-30" }, so that the law is asked about it`, "the text names a time to feed")
			}
			text.Close()
		}
		rt.Close()
		rules = append(rules, r)
	}
	for i, rt := range read {
		r := rules[i]
		if other := slices.IndexFunc(rules, func(o *Rule) bool { return o.ID == r.Replaces }); r.Replaces != "" && (other < 0 || rules[other].Weight >= r.Weight) {
			rt.Errorf("replaces", "name a lighter rule of this file", "%q is none", r.Replaces)
		}
	}
	t.Close()
	return rules
}

// readText reads a rule's words and where they come from.
func (r *Rule) readText(text *diag.Table, c *Catalogue, slots ...string) {
	r.Say, r.Why, r.More = text.Text("say"), text.OptText("why"), text.OptText("more")
	checkSlots(text, "say", r, r.Say, c, slots...)
	checkSlots(text, "why", r, r.Why, c, slots...)
	r.Source = text.Text("source")
	r.Standing = turf.Standing(text.OptOne("standing", turf.Standings()...))
	switch {
	case r.Standing != "":
	case r.Source == turf.CommonPractice:
		r.Standing = turf.Practice
	case r.Source == turf.OwnDesign:
		r.Standing = turf.Ours
	case r.Source != "":
		text.Errorf("standing", `add standing = "verified" if you read it there, or "memory"`, "missing")
	}
}

// readSubject reads which pests a rule speaks of: each of a kind, or one. What
// puts a pesticide on the lawn must say what it is meant for, so that the gates
// can ask whether the grass bears it and whether it is worth it.
func readSubject(t *diag.Table, r *Rule, book *Book) {
	r.Each = Topic(t.OptOne("each", string(Disease), string(Weed), string(Insect)))
	r.Pest = t.OptText("pest")
	if r.Pest != "" {
		kind, ok := kindOf(book, r.Pest)
		switch {
		case !ok:
			t.Errorf("pest", diag.DidYouMean(r.Pest, book.IDs()), "there is no pest %q", r.Pest)
		case r.Each != "" && r.Each != kind:
			t.Errorf("pest", "leave one of the two out", "%q is not a %s", r.Pest, r.Each)
		}
		r.Each = kind
	}
	r.Lawns = t.OptOne("lawns", alsoLawns, onlyLawns)
	if r.Verdict != Do {
		return
	}
	for _, k := range pestTopics {
		if slices.Contains(r.Uses, k.use) && r.Each != k.of {
			t.Errorf("uses", `add each = "`+string(k.of)+`", or pest = "…"`, "a rule that says to use a %s must say which %s it is meant for", k.use, k.of)
		}
	}
}

// kindOf returns what a pest is.
func kindOf(book *Book, id string) (Topic, bool) {
	if _, ok := book.Disease(id); ok {
		return Disease, true
	}
	if _, ok := book.Weed(id); ok {
		return Weed, true
	}
	_, ok := book.Insect(id)
	return Insect, ok
}

const cultureSlot = "pest_culture"

// The slots of a rule's text that are not indicators: those of every rule, and
// those of a rule that speaks of pests, which come from the pest's file.
var (
	textSlots = []string{"grass", "zone"}
	pestSlots = map[string]func(*Pest) string{
		"pest": (*Pest).Name, "pest_says": (*Pest).says, "pest_look": (*Pest).look, "pest_worth": (*Pest).worth,
		cultureSlot:    nil, // of what nothing excludes
		"pest_reports": nil, // of the zone
	}
)

func checkSlots(t *diag.Table, key string, r *Rule, text string, c *Catalogue, more ...string) {
	slots, err := message.SlotsOf(text)
	if err != nil {
		t.Errorf(key, "double a brace to print one: {{", "%v", err)
	}
	known := slices.Concat(c.Names(), textSlots, more)
	if r.Each != "" {
		known = append(known, slices.Sorted(maps.Keys(pestSlots))...)
	}
	if r.window() != nil {
		known = append(known, seasonSlots...)
	}
	for _, s := range slots {
		_, ofPest := pestSlots[s]
		switch ind, ok := c.Find(s); {
		case ok && ind.Of != "" && ind.Of != r.Each:
			t.Errorf(key, `add each = "`+string(ind.Of)+`" to the rule, or pest = "…"`, "{%s} is told of one %s", s, ind.Of)
		case ok || slices.Contains(known, s):
		case slices.Contains(seasonSlots, s):
			t.Errorf(key, `add window = { of = "feeding", is = ["open"] } to the rule's clauses`, "{%s} is told of a window", s)
		case ofPest:
			t.Errorf(key, `add each = "disease" to the rule, or pest = "…"`, "{%s} is told of a pest", s)
		default:
			t.Errorf(key, diag.DidYouMean(s, known), "there is no indicator {%s}", s)
		}
	}
}

// restsOnLawn reports whether any of the terms asks what was found on a lawn.
func restsOnLawn(terms []term) bool {
	return slices.ContainsFunc(terms, func(t term) bool {
		switch t := t.(type) {
		case *clause:
			return t.ind.Lawn
		case choice:
			return slices.ContainsFunc(t, restsOnLawn)
		}
		return false
	})
}

// term is one clause, of an indicator, a window or an event, or a choice between
// groups of clauses.
type term interface {
	// judge asks it; the pest is that of the rule.
	judge(in *Input, p *Pest) Truth
	// says words it, which was judged so.
	says(in *Input, p *Pest, held Truth) message.Message
}

// choice holds where all terms of one of its groups do.
type choice [][]term

// clause asks something of one indicator.
type clause struct {
	ind     *Indicator
	of      string   // id of the pest it asks about; "" for the rule's own, or for an indicator of none
	words   []string // of a Word: any of these
	tests   []test   // of a Quantity or Day: all of these
	forDays int      // for so many days running, today included; 1 is today alone
}

// test is one comparison.
type test struct {
	op        string // at_least, at_most, above, below, between, rising, falling
	low, high float64
	window    civil.Window // of a Day: between two days of the year, both inside; may wrap
	days      int          // of rising and falling
}

// clauseReader is what reading a rule's clauses needs.
type clauseReader struct {
	*Catalogue
	book *Book
	rule *Rule
}

func readTerms(t *diag.Table, c *clauseReader) []term {
	var terms []term
	for _, key := range t.Keys() {
		ind, ok := c.Find(key)
		switch {
		case key == "any":
			var groups choice
			for _, sub := range t.Tables(key) {
				groups = append(groups, readTerms(sub, c))
				sub.Close()
			}
			terms = append(terms, groups)
		case key == "window":
			terms = append(terms, readAsks(t, key, readWindowClause)...)
		case key == "event":
			terms = append(terms, readAsks(t, key, readEventClause)...)
		case !ok:
			t.Raw(key)
			t.Errorf(key, diag.DidYouMean(key, append(c.Names(), "any", "window", "event")), "there is no such indicator")
		default:
			if cl := c.readClause(t, key, ind); cl != nil {
				terms = append(terms, cl)
			}
		}
	}
	return terms
}

func (c *clauseReader) readClause(t *diag.Table, key string, ind *Indicator) *clause {
	cl := &clause{ind: ind, forDays: 1}
	v, _ := t.Raw(key)
	if _, isList := v.([]any); isList && ind.Kind == Word {
		c.readPest(t, key, cl)
		cl.words = t.Texts(key, true)
		checkWords(t, key, cl.words, c.wordsOf(cl))
		return cl
	}
	if _, isTable := v.(map[string]any); !isTable {
		if ind.Kind == Word {
			t.Errorf(key, "write a list of them", "%s is one of %s", ind.Name, strings.Join(c.wordsOf(cl), ", "))
		} else {
			t.Errorf(key, `write a test, such as { at_least = … }`, "an indicator with a number or a date needs a test")
		}
		return nil
	}
	tt := t.Table(key, true)
	defer tt.Close()
	c.readPest(tt, "of", cl)
	if ind.Kind == Word {
		return c.readWords(tt, cl)
	}
	for _, op := range tt.Keys() {
		switch {
		case op == "of" && ind.Of != "":
		case ind.onlyNow() && (op == "for_days" || op == "rising" || op == "falling"):
			tt.Raw(op)
			tt.Errorf(op, "leave it out", "%s is known for the issue date alone", ind.Name)
		case op == "for_days":
			cl.forDays = tt.Int(op)
			if cl.forDays < 1 || cl.forDays > maxForDays {
				tt.Errorf(op, "", "%d is outside 1 to %d days", cl.forDays, maxForDays)
				cl.forDays = 1
			}
		case ind.Kind == Day && op == "between":
			if w, ok := readMonthDays(tt, op); ok {
				cl.tests = append(cl.tests, test{op: op, window: w})
			}
		case ind.Kind == Day:
			tt.Raw(op)
			tt.Errorf(op, `use between = ["09-01", "11-30"]`, "a date has no test %q", op)
		case op == "between":
			if lo, hi, ok := readPair(tt, op, ind); ok {
				cl.tests = append(cl.tests, test{op: op, low: lo, high: hi})
			}
		case op == "rising" || op == "falling":
			days := tt.Quantity(op, quantity.Time)
			if days < 1 || days > maxTrendDays || days != math.Trunc(days) {
				tt.Errorf(op, `write it as "21 days"`, "a trend is taken over 1 to %d whole days", maxTrendDays)
				continue
			}
			cl.tests = append(cl.tests, test{op: op, days: int(days)})
		case op == "at_least" || op == "at_most" || op == "above" || op == "below":
			if x, ok := readLimit(tt, op, ind); ok {
				cl.tests = append(cl.tests, test{op: op, low: x})
			}
		default:
			tt.Raw(op)
			tt.Errorf(op, diag.DidYouMean(op, []string{"at_least", "at_most", "above", "below", "between", "rising", "falling", "for_days"}), "there is no such test")
		}
	}
	if len(cl.tests) == 0 {
		return nil
	}
	return cl
}

// readPest reads of which pest a clause asks.
func (c *clauseReader) readPest(t *diag.Table, key string, cl *clause) {
	if cl.ind.Of == "" {
		return
	}
	if key == "of" && t.Has("of") {
		cl.of = t.Text("of")
		if kind, ok := kindOf(c.book, cl.of); cl.of != "" && (!ok || kind != cl.ind.Of) {
			t.Errorf("of", diag.DidYouMean(cl.of, c.idsOf(cl.ind.Of)), "there is no %s %q", cl.ind.Of, cl.of)
		}
		return
	}
	if c.rule.Each != cl.ind.Of {
		t.Errorf(key, `write { of = "…", … }, or add each = "`+string(cl.ind.Of)+`" to the rule`, "%s is asked of one %s", cl.ind.Name, cl.ind.Of)
	}
}

// idsOf lists the pests of a kind.
func (c *clauseReader) idsOf(kind Topic) []string {
	var ids []string
	for _, id := range c.book.IDs() {
		if k, _ := kindOf(c.book, id); k == kind {
			ids = append(ids, id)
		}
	}
	return ids
}

// wordsOf lists the words that a clause may ask for: those of the indicator,
// or the stages of a weed or insect.
func (c *clauseReader) wordsOf(cl *clause) []string {
	if len(cl.ind.Words) > 0 {
		return cl.ind.Words
	}
	id := cl.of
	if id == "" {
		id = c.rule.Pest
	}
	var ids []string
	for _, s := range stagesOf(c.book, id) {
		if !slices.Contains(ids, s.ID) {
			ids = append(ids, s.ID)
		}
	}
	return ids
}

// stagesOf lists the stages of a weed or insect, over all its timings.
func stagesOf(book *Book, id string) []stage.Stage {
	var timings []stage.Timing
	if w, ok := book.Weed(id); ok {
		timings = w.Timings
	} else if i, ok := book.Insect(id); ok {
		timings = i.Timings
	}
	var out []stage.Stage
	for _, t := range timings {
		out = append(out, t.Stages...)
	}
	return out
}

// readWords reads a test of words: one of a list, or for words that rise a
// limit.
func (c *clauseReader) readWords(t *diag.Table, cl *clause) *clause {
	words := c.wordsOf(cl)
	for _, op := range t.Keys() {
		switch {
		case op == "of" && cl.ind.Of != "":
		case op == "is":
			cl.words = t.Texts(op, true)
			checkWords(t, op, cl.words, words)
		case cl.ind.Ordered && (op == "at_least" || op == "at_most"):
			i := slices.Index(words, t.One(op, words...))
			switch {
			case i < 0:
			case op == "at_least":
				cl.words = words[i:]
			default:
				cl.words = words[:i+1]
			}
		default:
			t.Raw(op)
			known := []string{"is"}
			if cl.ind.Ordered {
				known = append(known, "at_least", "at_most")
			}
			t.Errorf(op, diag.DidYouMean(op, known), "there is no such test of words")
		}
	}
	if len(cl.words) == 0 {
		return nil
	}
	return cl
}

// Limits on how far a clause may look back: what a view holds with confidence.
const (
	maxForDays   = 60
	maxTrendDays = 60
)

// readLimit reads a threshold in the indicator's dimension: text with a unit,
// or for plain numbers a number.
func readLimit(t *diag.Table, key string, ind *Indicator) (float64, bool) {
	if ind.Dim == quantity.Number {
		return t.OptNumber(key)
	}
	return t.OptQuantity(key, ind.Dim)
}

func readPair(t *diag.Table, key string, ind *Indicator) (lo, hi float64, ok bool) {
	v, _ := t.Raw(key)
	list, isList := v.([]any)
	if !isList || len(list) != 2 {
		t.Errorf(key, "write two limits in square brackets", "between needs a lower and an upper limit")
		return 0, 0, false
	}
	var got [2]float64
	for i, el := range list {
		switch x := el.(type) {
		case string:
			q, err := quantity.Parse(x, ind.Dim)
			if err != nil {
				what, remedy, _ := strings.Cut(err.Error(), "; ")
				t.Errorf(key, remedy, "%s", what)
				return 0, 0, false
			}
			got[i] = q
		case int64:
			got[i] = float64(x)
		case float64:
			got[i] = x
		}
		if _, isText := el.(string); !isText && ind.Dim != quantity.Number || math.IsNaN(got[i]) || math.IsInf(got[i], 0) {
			t.Errorf(key, "write the limits as text with their unit", "a limit here is a %s", ind.Dim)
			return 0, 0, false
		}
	}
	if got[0] > got[1] {
		t.Errorf(key, "swap the two limits", "the lower limit is above the upper one")
		return 0, 0, false
	}
	return got[0], got[1], true
}

func readMonthDays(t *diag.Table, key string) (civil.Window, bool) {
	days := t.Texts(key, true)
	if len(days) != 2 {
		t.Errorf(key, `write two days of the year, such as ["09-01", "11-30"]`, "between needs two days")
		return civil.Window{}, false
	}
	from, err := civil.ParseMonthDay(days[0])
	if err == nil {
		var to civil.MonthDay
		if to, err = civil.ParseMonthDay(days[1]); err == nil {
			return civil.Window{From: from, To: to}, true
		}
	}
	t.Errorf(key, `write days of the year as "09-01"`, "%v", err)
	return civil.Window{}, false
}
