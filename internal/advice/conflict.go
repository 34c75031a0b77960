package advice

import (
	"slices"

	"ligule/internal/diag"
	"ligule/internal/disease"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/season"
)

// What following a rule does to a lawn, besides what it puts there.
const (
	OpensGround = "opens-ground" // coring, dethatching
	DigsGround  = "digs-ground"  // drains: asleep or not, the grass does not mind
	PacksGround = "packs-ground" // rolling, topdressing
	MowsLow     = "mows-low"
	MowsHigh    = "mows-high"
	RestsMower  = "rests-mower"
	LaysTurf    = "lays-turf"
	StopsSeed   = "stops-seed" // a weed killer that works before emergence: of every weed whose stage asks for one
)

// Deeds lists the words that a rule's does may hold.
func Deeds() []string {
	return []string{DigsGround, OpensGround, PacksGround, MowsLow, MowsHigh, RestsMower, LaysTurf, StopsSeed}
}

// deedOf is what work in a window of a kind does, or puts down, that a conflict may
// ask about.
var deedOf = map[season.WindowKind]string{
	season.DrainageWindow: DigsGround,
	season.AerationWindow: OpensGround, season.DethatchingWindow: OpensGround, season.ScalpingWindow: MowsLow, season.SoddingWindow: LaysTurf,
	season.SeedingWindow: Seed, season.OverseedingWindow: Seed,
}

// checkDeeds holds a rule for work in a window that is open to what such work
// does: one that forgets it would slip past the conflicts.
func checkDeeds(rt *diag.Table, r *Rule) {
	for _, t := range r.when {
		w, ok := t.(*windowClause)
		if !ok || r.Topic != Project || !slices.Contains(w.phases, season.Open) || r.Verdict != Do && r.Verdict != Look {
			continue
		}
		deed := deedOf[w.kind]
		key, told := "does", r.Does
		if deed == Seed {
			key, told = "uses", r.Uses
		}
		if deed != "" && !slices.Contains(told, deed) {
			rt.Errorf(key, `add "`+deed+`" to `+key, "work in a window of %s does that", w.kind)
		}
	}
}

// deeds are what following a rule does: what it says, and of a weed killer what it
// is used for at the stage of the weed.
func (in *Input) deeds(r *Rule, p *Pest) []string {
	if p != nil && p.Weed != nil && slices.Contains(r.Uses, Herbicide) && in.herbicides(p).before {
		return append(slices.Clone(r.Does), StopsSeed)
	}
	return r.Does
}

// Conflict is one thing that does not go with another, or with what the weather
// has done: what yields to it waits, or is left. As a rule it has clauses, the
// grasses that it speaks of, and words with their source; its verdict is what is
// left of that which yields.
type Conflict struct {
	*Rule
	Yields  Side
	Against Side // no side: its clauses alone make it
	// What is printed with that which would yield where the clauses cannot be
	// judged; where nothing is written, what lacks holds it.
	Lacking string
}

// Side is one side of a conflict: what is printed and fits all that it names.
type Side struct {
	Topics   []string
	Verdicts []string // none: any that a rule gave and no gate has changed
	Uses     []string // any of these
	Does     []string // or any of these
	Bars     []string // a pest that any of these makes worse
	Lines    []string // a line of a pest's text that has the reader use any of these
	Grade    string   // of its pest, at least
}

// IsZero reports whether it is no side.
func (s *Side) IsZero() bool {
	return s.Grade == "" && len(s.Topics)+len(s.Verdicts)+len(s.Uses)+len(s.Does)+len(s.Bars)+len(s.Lines) == 0
}

// Fits reports whether a draft that is printed is of this side.
func (s *Side) Fits(d *Draft) bool {
	switch {
	case len(s.Topics) > 0 && !slices.Contains(s.Topics, string(d.Topic)):
		return false
	case len(s.Verdicts) > 0 && !slices.Contains(s.Verdicts, string(d.Verdict)):
		return false
	case len(s.Verdicts) == 0 && d.Gate != "":
		return false
	case len(s.Uses)+len(s.Does) > 0 && !overlap(s.Uses, d.Uses) && !overlap(s.Does, d.Does):
		return false
	case s.Grade != "" && (d.Pest == nil || d.Pest.Found.Grade < gradeOf(s.Grade)):
		return false
	case slices.Contains(s.Bars, Nitrogen) && !d.Pest.nitrogen(disease.NitrogenFeeds):
		return false
	case len(s.Lines) > 0 && (d.Rule == nil || !d.Rule.printsCulture() || !slices.ContainsFunc(d.Pest.lines(), func(l line) bool { return overlap(s.Lines, l.uses) })):
		return false
	}
	return true
}

func gradeOf(word string) pest.Grade { return pest.Grade(slices.Index(grades(), word)) }

// ReadConflicts reads data/conflicts.toml. Its order is the order in which they
// are settled: what has yielded to one makes nothing yield any more.
func ReadConflicts(t *diag.Table, c *Catalogue, book *Book) []*Conflict {
	var all []*Conflict
	for _, ct := range t.Tables("conflict") {
		k := &Conflict{Rule: &Rule{
			ID: ct.ID("id"), Verdict: Verdict(ct.One("then", string(Wait), string(Skip))),
			Grasses: ct.Texts("grasses", false), Climates: ct.Texts("climates", false), Pos: ct.Pos("id"),
		}}
		k.Yields = readSide(ct, "yields", true)
		k.Against = readSide(ct, "against", false)
		if len(k.Against.Lines) > 0 {
			ct.Errorf("against", "write lines under yields", "a line of a text can yield, and makes nothing yield")
		}
		if when := ct.Table("when", false); when != nil {
			k.when = readTerms(when, &clauseReader{c, book, k.Rule})
			when.Close()
		}
		if k.Against.IsZero() && len(k.when) == 0 {
			ct.Errorf("id", "add [conflict.against], or clauses in [conflict.when]", "nothing is said to exclude it")
		}
		if text := ct.Table("text", true); text != nil {
			k.readText(text, c, "winner", "loser")
			if k.Lacking = text.OptText("lacking"); k.Lacking != "" {
				checkSlots(text, "lacking", k.Rule, k.Lacking, c)
			}
			text.Close()
		}
		ct.Close()
		all = append(all, k)
	}
	t.Close()
	return all
}

func readSide(t *diag.Table, key string, required bool) Side {
	st := t.Table(key, required)
	if st == nil {
		return Side{}
	}
	s := Side{
		Topics:   st.Words("topic", false, Words(Topics())...),
		Verdicts: st.Words("verdict", false, string(Do), string(Wait), string(Skip), string(Look), string(Closed), string(NotEnough)),
		Uses:     st.Words("uses", false, season.Uses()...), Does: st.Words("does", false, Deeds()...),
		Bars: st.Words("bars", false, Nitrogen), Lines: st.Words("lines", false, season.Uses()...),
		Grade: st.OptOne("grade", grades()...),
	}
	st.Close()
	if s.IsZero() {
		t.Errorf(key, `name what it is: uses = ["seed"], does = ["opens-ground"], topic = ["feed"] …`, "this side fits everything")
	}
	return s
}

// Settled is a conflict that has made something yield.
type Settled struct {
	By     *Conflict
	Loser  Draft // as it was before
	Winner Draft // zero where the weather made it yield, or a gate won
	// The clauses could not be judged: it was held, or warned of.
	Unknown bool
}

// question is a topic with all that is proposed on it, and its answer.
type question struct {
	topic   Topic
	lacking []RuleTrace
	all     []candidate // what speaks first
	lawns   []candidate // what is for single lawns
	answer  Answer
	speaks  bool
}

// printed lists what is printed of a question: what speaks, and its support.
func (q *question) printed() []*candidate {
	var out []*candidate
	for i := range q.all {
		if c := &q.all[i]; i == 0 || c.draft.Gate == "" && c.draft.Verdict == q.answer.Verdict {
			out = append(out, c)
		}
	}
	return out
}

// yielding lists what may yield: that, and what is for single lawns, to which
// nothing for the zone ever yields.
func (q *question) yielding() []*candidate {
	out := q.printed()
	for i := range q.lawns {
		out = append(out, &q.lawns[i])
	}
	return out
}

// settle makes yield what other answers or the weather exclude, until nothing
// that is printed excludes another.
func (in *Input) settle(questions []*question) (traces []RuleTrace, settled []Settled) {
	for _, k := range in.Conflicts {
		if k.AppliesTo(in.Grass, in.Climate) {
			traces = append(traces, k.judge(in, nil))
		}
	}
	for again := true; again; {
		again = false
		for _, k := range in.Conflicts {
			i := slices.IndexFunc(traces, func(t RuleTrace) bool { return t.Rule == k.Rule })
			if i < 0 || traces[i].Outcome == No {
				continue
			}
			found := in.yield(k, traces[i], questions)
			settled = append(settled, found...)
			again = again || len(found) > 0
		}
	}
	return traces, settled
}

// yield makes what is printed yield to a conflict that holds, or cannot be
// judged.
func (in *Input) yield(k *Conflict, trace RuleTrace, questions []*question) []Settled {
	var winner Draft
	if !k.Against.IsZero() {
		found := false
		for _, q := range questions {
			for _, c := range q.printed() {
				if !found && k.Against.Fits(&c.draft) {
					winner, found = c.draft, true
				}
			}
		}
		if !found {
			if winner, found = in.stands(&k.Against); !found {
				return nil
			}
		}
	}
	var out []Settled
	for _, q := range questions {
		n := len(out)
		for _, c := range q.yielding() {
			if !k.Yields.Fits(&c.draft) || k.Against.Fits(&c.draft) && !k.Against.IsZero() {
				continue
			}
			was := c.draft
			switch {
			case len(k.Yields.Lines) > 0:
				if !in.withhold(k, c) {
					continue
				}
			case trace.Outcome == Unknown && k.Lacking != "":
				warning := in.say(k.Rule, k.Lacking, nil, false)
				if message.Contains(c.draft.Conditions, warning) {
					continue
				}
				c.draft.Conditions = append(c.draft.Conditions, warning)
			default:
				in.stop(k, trace, c, winner)
			}
			out = append(out, Settled{k, was, winner, trace.Outcome == Unknown})
		}
		if len(out) > n {
			in.conclude(q)
		}
	}
	return out
}

// stands finds a pest that stands at the grade of a side, whether or not an answer
// speaks of it: the list of pests does.
func (in *Input) stands(s *Side) (d Draft, found bool) {
	if s.Grade == "" {
		return Draft{}, false
	}
	for _, p := range in.pests() {
		if d = (Draft{Topic: p.Kind, Pest: p}); s.Fits(&d) {
			return d, true
		}
	}
	return Draft{}, false
}

// stop makes a draft the answer of a conflict, which names what it yields to.
func (in *Input) stop(k *Conflict, trace RuleTrace, c *candidate, winner Draft) {
	d := &c.draft
	says := in.sayYield(k, k.Say, *d, winner, false)
	if trace.Outcome == Unknown {
		says = message.New("gate.together.lacking").With("data", lacks(trace))
	}
	d.Why, d.Gate, d.Verdict, d.Conditions, d.By = in.sayYield(k, k.Why, *d, winner, true), together, k.Verdict, nil, k.Rule
	d.Say, d.Reasons = says, trace.Clauses
}

// maxLacks keeps what lacks to what a reader takes in.
const maxLacks = 3

// lacks names what the clauses that cannot be judged ask for, the first few.
func lacks(traces ...RuleTrace) message.Value {
	var out []message.Value
	for _, t := range traces {
		for i, held := range t.Held {
			if held == Unknown {
				out = append(out, asksFor(t.Rule.when[i])...)
			}
		}
	}
	out = distinct(out)
	return message.List(message.And, out[:min(len(out), maxLacks)]...)
}

func distinct(all []message.Value) []message.Value {
	var out []message.Value
	for _, v := range all {
		if !slices.ContainsFunc(out, v.Equal) {
			out = append(out, v)
		}
	}
	return out
}

// asksFor names what a term asks for.
func asksFor(t term) []message.Value {
	switch t := t.(type) {
	case *clause:
		return []message.Value{message.Text(t.ind.Title).Lowered()}
	case *windowClause:
		return []message.Value{message.Word(phrase("window_kind", t.kind)).Lowered()}
	case *eventClause:
		return []message.Value{message.Of(Event(t.event))}
	}
	var out []message.Value
	for _, sub := range slices.Concat(t.(choice)...) {
		out = append(out, asksFor(sub)...)
	}
	return out
}

// together is the gate of conflicts.
const together = "together"

// sayYield fills a conflict's text, which may name both sides.
func (in *Input) sayYield(k *Conflict, text string, loser, winner Draft, withBasis bool) message.Message {
	m := in.say(k.Rule, text, nil, withBasis)
	slots, _ := message.SlotsOf(text)
	for _, side := range []struct {
		slot string
		d    Draft
	}{{"winner", winner}, {"loser", loser}} {
		if slices.Contains(slots, side.slot) {
			m = m.With(side.slot, in.called(side.d))
		}
	}
	return m
}

// called is how a draft is called in another's sentence: by its pest, by the
// window that it asks about, or by its topic.
func (in *Input) called(d Draft) message.Value {
	if d.Pest != nil {
		return message.Text(d.Pest.Name())
	}
	if d.Rule != nil && d.Rule.window() != nil {
		return in.seasonSlot(d.Rule, "window", false)
	}
	return message.Word("topic." + string(d.Topic))
}

// withhold keeps lines of pests' texts back, and says the draft's reason again
// without them. It reports whether that changed it.
func (in *Input) withhold(k *Conflict, c *candidate) bool {
	if !slices.Contains(in.withheld, k) {
		in.withheld = append(in.withheld, k)
	}
	d := &c.draft
	say, why := in.say(d.Rule, d.Rule.Say, d.Pest, false), in.say(d.Rule, d.Rule.Why, d.Pest, true)
	changed := !say.Equal(d.Say) || !why.Equal(d.Why)
	d.Say, d.Why = say, why
	return changed
}

// line is a sentence of a pest's file on what helps without a product.
type line struct {
	text string
	uses []string // what it has the reader use
}

// lines are those of a pest, the first first; none of no pest.
func (p *Pest) lines() []line {
	var out []line
	switch {
	case p == nil:
	case p.Disease != nil:
		for _, s := range p.Disease.Culture {
			out = append(out, line{s.Text, s.Uses})
		}
	default:
		for _, text := range p.Account().Cultural {
			out = append(out, line{text: text})
		}
		for _, text := range p.Account().Feeding {
			out = append(out, line{text: text, uses: []string{Nitrogen}})
		}
	}
	return out
}

// culture is the first thing to do about a pest without a product that nothing
// excludes; where there is none, why.
func (in *Input) culture(p *Pest) message.Value {
	says := message.Text("")
	for _, l := range p.lines() {
		i := slices.IndexFunc(in.withheld, func(k *Conflict) bool { return overlap(k.Yields.Lines, l.uses) })
		switch {
		case i < 0 && slices.Contains(l.uses, Nitrogen):
			return message.Of(message.New("pests.feeding_line").Name("line", l.text))
		case i < 0:
			return message.Text(l.text)
		}
		says = message.Of(in.say(in.withheld[i].Rule, in.withheld[i].Say, nil, false))
	}
	return says
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(w string) bool { return slices.Contains(b, w) })
}

// printsCulture reports whether the rule's reason tells what helps without a
// product.
func (r *Rule) printsCulture() bool {
	slots, _ := message.SlotsOf(r.Say + r.Why)
	return slices.Contains(slots, cultureSlot)
}
