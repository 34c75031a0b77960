package advice

import (
	"ligule/internal/message"
	"ligule/internal/season"
	"ligule/internal/turf"
)

// Topic is one of the questions that readers send every week.
type Topic string

// The topics, in the order in which pages print them.
const (
	Mow     Topic = "mow"
	Feed    Topic = "feed"
	Water   Topic = "water"
	Disease Topic = "disease"
	Weed    Topic = "weed"
	Insect  Topic = "insect"
	Project Topic = "project"
)

// Topics returns all topics in the order in which pages print them.
func Topics() []Topic { return []Topic{Mow, Feed, Water, Disease, Weed, Insect, Project} }

// Verdict is the answer in a word.
type Verdict string

// The verdicts. Closed is only ever given by the law gate, NotEnough only when
// the weather does not suffice; a rule may give the other four.
const (
	Do        Verdict = "do"
	Wait      Verdict = "wait"
	Skip      Verdict = "skip"
	Look      Verdict = "look"
	Closed    Verdict = "closed"
	NotEnough Verdict = "not-enough"
)

// Uses are what an advice has the reader put on the lawn; gates act on them.
const (
	Nitrogen    = "nitrogen"
	Phosphorus  = "phosphorus"
	Potassium   = "potassium"
	Iron        = "iron"
	Fungicide   = "fungicide"
	Herbicide   = "herbicide"
	Insecticide = "insecticide"
	WaterUse    = "water"
	Seed        = "seed"
)

// Reading is everything computed for one zone, grass and week.
type Reading struct {
	Growth    turf.Reading
	Values    []Value          // every indicator, in the order of the catalogue
	Pests     []*Pest          // those that the grass is a host of: diseases, weeds, insects, each by id
	Windows   []season.Reading // of the grass's calendar, in its order; nil without one
	Answers   []Answer         // one per topic that has anything to say, in the order of Topics
	Traces    []RuleTrace      // every rule that applies to the grass, in the order of the files
	Conflicts []RuleTrace      // likewise every conflict
	Settled   []Settled        // what has yielded to what
}

// Answer is what the page says on one topic.
type Answer struct {
	Topic      Topic
	Verdict    Verdict
	Lead       Draft             // the draft that speaks
	Support    []Draft           // others with the same verdict
	Conditions []message.Message // what must be kept while doing it: caps, slow release, storm words; each printed
	Cautions   []string          // ids of the caution list, attached by what the advice uses
	Dropped    []Dropped         // drafts that were gated or outweighed, with the reason
	Lacking    []RuleTrace       // rules that could not be judged for lack of data
	Urgency    Urgency           // why it may be the first thing of the week
	Lawns      []Lawn            // what goes for single lawns alone
}

// Draft is what one firing rule proposes, after the gates have looked at it.
type Draft struct {
	Rule    *Rule // nil when a gate speaks of its own accord
	Pest    *Pest // of which it speaks; nil if of none
	Topic   Topic
	Verdict Verdict
	Weight  int
	Uses    []string
	Does    []string
	Say     message.Message   // one sentence
	Why     message.Message   // the rule's own why; may be zero
	More    string            // id of a standing article, or ""
	Reasons []message.Message // each clause with the value found, or the gate's reason
	// What must be kept while doing it. Of the draft that speaks they stand in the
	// answer; here are those of support that speaks of another pest.
	Conditions []message.Message
	Gate       string // "law", "growth" and so on: the gate whose answer this has become; "" when none
	By         *Rule  // the conflict that it has yielded to, whose words these are; nil when none
}

// Dropped is a draft that does not speak, and why not.
type Dropped struct {
	Draft   Draft // as the rule proposed it
	Reason  message.Message
	Gate    string  // the gate that stopped it; "" where another draft outweighed it
	Verdict Verdict // what it came to after the gates
}

// RuleTrace is how a rule fared: each of its clauses with the value found.
type RuleTrace struct {
	Rule    *Rule
	Pest    *Pest             // of which it was asked; nil for a rule that speaks of none
	Outcome Truth             // Yes: fired, No: a clause was false, Unknown: lacked data
	Clauses []message.Message // in the rule's order
	Held    []Truth           // of each clause

	lawn *Input // the place of which it was asked; nil: the zone
}

// Truth is three-valued: a clause on a missing value is Unknown.
type Truth uint8

// The three truth values.
const (
	No Truth = iota
	Unknown
	Yes
)

// String returns "no", "unknown" or "yes".
func (t Truth) String() string { return [...]string{No: "no", Unknown: "unknown", Yes: "yes"}[t] }
