package disease

import (
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Placement is where a fungicide has to act, and what to do with water.
type Placement struct {
	Target pest.Cited[Target]

	CarrierFrom, CarrierTo pest.Figure // volume of spray, as depth: L/m²
	WaterIn                pest.Figure // depth, at once after the treatment
	DryLeast               pest.Figure // no rain or irrigation for so many hours, at the least
	DryBetter              pest.Figure // and better for so many
}

// Target is the part of the plant, or the soil, that a fungicide has to reach.
type Target string

// The targets.
const (
	TargetLeaf   Target = "leaf"
	TargetSheath Target = "sheath"
	TargetCrown  Target = "crown"
	TargetRoot   Target = "root"
	TargetSoil   Target = "soil"
)

// InSoil reports whether it has to be watered in.
func (t Target) InSoil() bool { return t == TargetRoot || t == TargetSoil }

// Trigger is what makes a treatment worth a thought.
type Trigger string

// The triggers.
const (
	TriggerArea    Trigger = "area"       // enough of the lawn affected, confirmed
	TriggerSpread  Trigger = "spread"     // a confirmed patch with an active margin that grew between looks
	TriggerFirst   Trigger = "first sign" // at once, on young grass
	TriggerHistory Trigger = "history"    // ahead of the season, where it was before
	TriggerNever   Trigger = "never"
)

// TreatmentRule says when treatment is worth a thought.
type TreatmentRule struct {
	Trigger    Trigger
	From       pest.Figure      // share of the lawn affected; where area is the trigger
	Young      pest.Figure      // on a lawn of less than a year; not known: as From
	OnlyYoung  pest.Cited[bool] // on young or overseeded grass alone
	WhileGrows pest.Cited[bool] // only while the grass is mown every 14 days or more often
	Preventive pest.Cited[bool] // timed to the end of growth: the mowing gate does not close it
	Buffer     pest.Figure      // strip around a patch that is treated with it
	Interval   pest.Cited[int]  // days for which a treatment counts, unless its label says otherwise
}

// The limits of the gate. The spray temperatures and the six hours are those of
// Martinez, University of Georgia, on fungicide efficacy; the days between
// mowings are common practice, no source.
const (
	mowGateDays    = 14
	sprayFromC     = 16.0
	sprayToC       = 29.0
	leastDryH      = 6.0
	wholeAreaShare = 0.5
	frozenSoilC    = 0.0
	greenUpMowings = 2
)

// Case is one place of a lawn with what is known of it, to be judged for a
// fungicide. NaN and 0 are "not told" where that is said.
type Case struct {
	State      turf.State
	MowDays    int // days between mowings; 0: no mowing expected
	Mowings    int // since green-up began, counted while it greens up
	Grade      pest.Grade
	Score      float64
	Identified bool // named by eye or laboratory
	Spreading  bool // the margin is active and grew between two looks
	Scattered  bool // dead grass without rings or margins
	AreaPct    float64
	Young      bool // less than a year old, or overseeded
	Urgent     bool // first signs on grass that is lost in days
	History    bool // at this place in two seasons

	SoilC       float64            // at 5 cm; NaN: not known
	Windows     []pest.WindowState // the disease's seasons, from its [pest.Assessment]
	AirC        float64            // at the time of treatment; NaN: not known
	RainInH     float64            // hours until rain; NaN: none expected
	NoFitHours  bool               // wind or heat are over the limits all week
	Wilting     bool
	LastTreated civil.Date // zero: none on record
	Interval    int        // days, of its label; 0: the disease's
	Today       civil.Date

	TreatedShare float64 // patches with buffers, share of the lawn; NaN: not measured
	Wish         []string
	Log          []pest.Treatment // of this place, oldest first
	Partner      func(code string) Partner
}

// Answer is what the gate says.
type Answer string

// The answers.
const (
	AnswerOpen   Answer = "open"   // a treatment may be worth it
	AnswerHold   Answer = "hold"   // not now
	AnswerClosed Answer = "closed" // not this season
	AnswerNone   Answer = "none"   // not worth a fungicide
	AnswerSilent Answer = "silent" // treated: nothing to say but to go on looking
)

// Reason is why, or what to do; pages put them in words.
type Reason string

// The reasons and steps.
const (
	ReasonNotIdentified  Reason = "not-identified"
	ReasonColdInjury     Reason = "likely-cold-injury"
	ReasonNeverWorth     Reason = "never-worth-a-fungicide"
	ReasonBelowThreshold Reason = "below-threshold"
	ReasonNotSpreading   Reason = "not-spreading"
	ReasonNoHistory      Reason = "no-history"
	ReasonOutsideWindow  Reason = "outside-the-window"
	ReasonDormant        Reason = "dormant"
	ReasonResting        Reason = "resting"
	ReasonSlow           Reason = "mown-too-seldom"
	ReasonGreenUp        Reason = "after-the-second-mowing"
	ReasonFrozen         Reason = "frozen"
	ReasonGrowthUnknown  Reason = "growth-not-known"
	ReasonRainSoon       Reason = "rain-soon"
	ReasonTooHot         Reason = "too-hot-now"
	ReasonTooCold        Reason = "too-cold-now"
	ReasonWilting        Reason = "wilting"
	ReasonNoFitHours     Reason = "no-fit-hours"
	ReasonProtected      Reason = "treated-within-the-interval"
	ReasonGroup          Reason = "group-repeats"

	StepSample      Reason = "sample-or-look-again"
	StepScout       Reason = "keep-scouting"
	StepCulture     Reason = "cultural-steps"
	StepSpot        Reason = "spot-with-buffer"
	StepTwoGroups   Reason = "two-groups"
	StepKeepDry     Reason = "keep-dry"
	StepWaterIn     Reason = "water-in-at-once"
	StepLabel       Reason = "label-first"
	StepWholeArea   Reason = "question-the-whole-area"
	StepLicensed    Reason = "licensed-applicator"
	StepLetItGo     Reason = "let-it-go"
	StepRemember    Reason = "remember-the-place"
	StepNextWindow  Reason = "plan-the-next-window"
	StepMowAndFeed  Reason = "mow-and-feed"
	StepUrgent      Reason = "treat-today-or-call"
	StepDrain       Reason = "drain-and-hold-nitrogen"
	StepOnce        Reason = "once-in-spring"
	StepMorning     Reason = "wait-for-a-cooler-hour"
	StepProtectOnly Reason = "protects-only-healthy-grass"
)

// Reasons lists all reasons and steps, so that every one can be put in words.
func Reasons() []Reason {
	return []Reason{
		ReasonNotIdentified, ReasonColdInjury, ReasonNeverWorth, ReasonBelowThreshold, ReasonNotSpreading, ReasonNoHistory,
		ReasonOutsideWindow, ReasonDormant, ReasonResting, ReasonSlow, ReasonGreenUp, ReasonFrozen, ReasonGrowthUnknown,
		ReasonRainSoon, ReasonTooHot, ReasonTooCold, ReasonWilting, ReasonNoFitHours, ReasonProtected, ReasonGroup,
		StepSample, StepScout, StepCulture, StepSpot, StepTwoGroups, StepKeepDry, StepWaterIn, StepLabel, StepWholeArea,
		StepLicensed, StepLetItGo, StepRemember, StepNextWindow, StepMowAndFeed, StepUrgent, StepDrain, StepOnce, StepMorning,
		StepProtectOnly,
	}
}

// Decision is the gate's answer with its reasons, the first failing condition
// first, and the steps that go with it.
type Decision struct {
	Answer  Answer
	Reasons []Reason
	Steps   []Reason
	Rung    Rung
	Groups  Rotation // of the wish, if there is one and the gate is open
}

// Gate judges a treatment of the place. The conditions are taken in a fixed
// order, and the first that fails answers: identified, worth it, treated already,
// growth, groups, weather. Own design, but for the limits with a source.
func (d *Disease) Gate(c Case) Decision {
	for _, ask := range [...]func(Case) (Decision, bool){d.askIdentity, d.askProtection, d.askWorth, d.askGrowth, d.askGroups, d.askWeather} {
		if out, stops := ask(c); stops {
			out.Rung = d.rung(c, out)
			return out
		}
	}
	out := Decision{Answer: AnswerOpen, Steps: []Reason{StepLabel}}
	switch {
	case d.Placement.Target.Value.InSoil():
		out.Steps = append(out.Steps, StepWaterIn)
	default:
		out.Steps = append(out.Steps, StepKeepDry)
	}
	if !d.Treatment.Preventive.Value {
		out.Steps = append(out.Steps, StepSpot)
	}
	if d.Rotation.TwoGroups.Value {
		out.Steps = append(out.Steps, StepTwoGroups)
	}
	if c.State == turf.GreeningUp {
		out.Steps = append(out.Steps, StepOnce)
	}
	if c.Urgent && d.Treatment.Trigger == TriggerFirst {
		out.Steps = append(out.Steps, StepUrgent, StepDrain)
	}
	if c.TreatedShare > wholeAreaShare {
		out.Steps = append(out.Steps, StepWholeArea, StepLicensed)
	}
	out.Steps = append(out.Steps, StepCulture, StepProtectOnly)
	if len(c.Wish) > 0 {
		out.Groups = d.Rotate(c.Log, c.Wish, c.Partner)
	}
	out.Rung = d.rung(c, out)
	return out
}

func (d *Disease) askIdentity(c Case) (Decision, bool) {
	switch {
	// Ahead of its season there is nothing yet to see: the place's history counts.
	case d.Treatment.Trigger == TriggerHistory && c.History && !c.Scattered:
		return Decision{}, false
	case c.Scattered:
		return Decision{Answer: AnswerNone, Reasons: []Reason{ReasonColdInjury}, Steps: []Reason{StepSample}}, true
	case !c.Identified:
		return Decision{Answer: AnswerNone, Reasons: []Reason{ReasonNotIdentified}, Steps: []Reason{StepSample}}, true
	}
	return Decision{}, false
}

func (d *Disease) askProtection(c Case) (Decision, bool) {
	if c.LastTreated.IsZero() {
		return Decision{}, false
	}
	days := c.Interval
	if days == 0 {
		days = d.Treatment.Interval.Value
	}
	if c.Today >= c.LastTreated.AddDays(days) {
		return Decision{}, false
	}
	return Decision{Answer: AnswerSilent, Reasons: []Reason{ReasonProtected}, Steps: []Reason{StepScout}}, true
}

func (d *Disease) askWorth(c Case) (Decision, bool) {
	t := d.Treatment
	none := func(r Reason, steps ...Reason) (Decision, bool) {
		return Decision{Answer: AnswerNone, Reasons: []Reason{r}, Steps: steps}, true
	}
	switch t.Trigger {
	case TriggerNever:
		return none(ReasonNeverWorth, StepMowAndFeed, StepCulture)
	case TriggerHistory:
		if !c.History {
			return none(ReasonNoHistory, StepCulture, StepRemember)
		}
		if len(d.Windows) > 0 && !open(c) {
			out, _ := none(ReasonOutsideWindow, StepRemember, StepNextWindow)
			out.Answer = AnswerClosed
			return out, true
		}
	case TriggerFirst:
		if t.OnlyYoung.Value && !c.Young {
			return none(ReasonBelowThreshold, StepScout, StepCulture)
		}
	case TriggerSpread:
		if !c.Spreading {
			return none(ReasonNotSpreading, StepScout, StepCulture)
		}
	case TriggerArea:
		limit := t.From.Value
		if c.Young && t.Young.Known() {
			limit = t.Young.Value
		}
		if !(quantity.Thousandths(c.AreaPct) >= limit) || c.Grade < pest.Act {
			return none(ReasonBelowThreshold, StepScout, StepCulture)
		}
	}
	return Decision{}, false
}

// open reports whether any season of infection of the case is open.
func open(c Case) bool {
	return slices.ContainsFunc(c.Windows, func(w pest.WindowState) bool { return !w.Symptoms && w.State == pest.WindowOpen })
}

func (d *Disease) askGrowth(c Case) (Decision, bool) {
	t := d.Treatment
	closed := func(r Reason) (Decision, bool) {
		return Decision{Answer: AnswerClosed, Reasons: []Reason{r}, Steps: []Reason{StepLetItGo, StepRemember, StepNextWindow}}, true
	}
	if t.Preventive.Value {
		if quantity.Tenths(c.SoilC) <= frozenSoilC {
			return closed(ReasonFrozen)
		}
		return Decision{}, false
	}
	if !t.WhileGrows.Value {
		return Decision{}, false
	}
	switch c.State {
	case turf.Dormant:
		return closed(ReasonDormant)
	case turf.Resting:
		return closed(ReasonResting)
	case turf.GreeningUp:
		if c.Mowings < greenUpMowings || !c.Spreading {
			return Decision{Answer: AnswerHold, Reasons: []Reason{ReasonGreenUp}, Steps: []Reason{StepScout}}, true
		}
	case "":
		return Decision{Answer: AnswerHold, Reasons: []Reason{ReasonGrowthUnknown}, Steps: []Reason{StepScout}}, true
	}
	if c.MowDays == 0 || c.MowDays > mowGateDays {
		return closed(ReasonSlow)
	}
	return Decision{}, false
}

func (d *Disease) askGroups(c Case) (Decision, bool) {
	if len(c.Wish) == 0 {
		return Decision{}, false
	}
	r := d.Rotate(c.Log, c.Wish, c.Partner)
	if r.Verdict != RotationRefused {
		return Decision{}, false
	}
	return Decision{Answer: AnswerHold, Reasons: []Reason{ReasonGroup}, Steps: []Reason{StepScout}, Groups: r}, true
}

func (d *Disease) askWeather(c Case) (Decision, bool) {
	hold := func(r Reason, steps ...Reason) (Decision, bool) {
		return Decision{Answer: AnswerHold, Reasons: []Reason{r}, Steps: steps}, true
	}
	least := d.Placement.DryLeast.Value
	if math.IsNaN(least) {
		least = leastDryH
	}
	switch air := quantity.Tenths(c.AirC); {
	case c.NoFitHours:
		return hold(ReasonNoFitHours, StepScout)
	case !d.Placement.Target.Value.InSoil() && c.RainInH < least:
		return hold(ReasonRainSoon)
	case c.Wilting:
		return hold(ReasonWilting)
	case air > sprayToC:
		return hold(ReasonTooHot, StepMorning)
	case air < sprayFromC && !d.Treatment.Preventive.Value:
		return hold(ReasonTooCold)
	}
	return Decision{}, false
}

// Rung is a rung of the ladder of integrated pest management. The tiers (a
// threshold, identification, prevention, then control with the least risky
// first) are those of the U.S. Environmental Protection Agency; the ladder is own
// design.
type Rung uint8

// The rungs.
const (
	RungQuiet    Rung = iota // nothing to do
	RungMonitor              // look
	RungIdentify             // name it first
	RungCulture              // the cultural steps
	RungSpot                 // the spot and a strip around it
	RungWider                // more than half of the lawn: with a licensed applicator
	RungPlan                 // let it go, and plan the next season
)

// String returns the rung in a word: "quiet", "monitor", "identify", "culture",
// "spot", "wider" or "plan".
func (r Rung) String() string {
	return [...]string{"quiet", "monitor", "identify", "culture", "spot", "wider", "plan"}[min(r, RungPlan)]
}

func (d *Disease) rung(c Case, out Decision) Rung {
	switch {
	case out.Answer == AnswerClosed:
		return RungPlan
	case out.Answer == AnswerOpen && c.TreatedShare > wholeAreaShare:
		return RungWider
	case out.Answer == AnswerOpen:
		return RungSpot
	case out.Answer == AnswerSilent:
		return RungMonitor
	case len(out.Reasons) > 0 && (out.Reasons[0] == ReasonNotIdentified || out.Reasons[0] == ReasonColdInjury):
		return RungIdentify
	}
	return RungCulture
}
