package disease

import (
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/spray"
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
	From       pest.Figure          // share of the lawn affected; where area is the trigger
	Young      pest.Figure          // on a lawn of less than a year; not known: as From
	OnlyYoung  pest.Cited[bool]     // on young or overseeded grass alone
	AnyAge     pest.Cited[[]string] // but on these grasses at any age, by id
	WhileGrows pest.Cited[bool]     // only while the grass is mown every 14 days or more often
	Preventive pest.Cited[bool]     // timed to the end of growth: the mowing gate does not close it
	Buffer     pest.Figure          // strip around a patch that is treated with it
	Interval   pest.Cited[int]      // days for which a treatment counts, unless its label says otherwise
}

// The limits of the gate. The spray temperatures and the six hours are those of
// Martinez, University of Georgia, on fungicide efficacy.
const (
	sprayFromC     = 16.0
	sprayToC       = 29.0
	leastDryH      = 6.0
	wholeAreaShare = 0.5
	frozenSoilC    = 0.0
	greenUpMowings = 2
)

// SprayLimits are those of a spray against it.
func (d *Disease) SprayLimits() spray.Limits {
	l := spray.Limits{
		RainfastH: d.Placement.DryLeast.Value, WateredIn: d.Placement.Target.Value.InSoil(),
		FromC: sprayFromC, ToC: sprayToC, MostWindMS: math.NaN(),
	}
	if math.IsNaN(l.RainfastH) {
		l.RainfastH = leastDryH
	}
	if d.Treatment.Preventive.Value {
		l.FromC = math.Inf(-1) // timed to the end of growth, it goes out in the cold
	}
	return l
}

// Case is one place of a lawn with what is known of it, to be judged for a
// fungicide. NaN and 0 are "not told" where that is said.
type Case struct {
	Grass      string // id
	State      turf.State
	MowDays    int // days between mowings; 0: no mowing expected
	Mowings    int // since green-up began; only while it greens up
	Grade      pest.Grade
	Identified bool // named by eye or laboratory
	Spreading  bool // the margin is active and grew between two looks
	Scattered  bool // dead grass without rings or margins
	AreaPct    float64
	Young      pest.Told // less than a year old, or overseeded
	History    bool      // at this place in two seasons

	SoilC       float64            // at 5 cm; NaN: not known
	Windows     []pest.WindowState // the disease's seasons, from its [pest.Assessment]
	AirC        float64            // at the time of treatment; NaN: not known
	RainInH     float64            // hours until rain, infinite where it stays dry; NaN: not known
	NoFitHours  bool               // wind or heat are over the limits all week
	Wilting     pest.Told
	LastTreated civil.Date // zero: none on record
	Interval    int        // days, of its label; 0: the disease's
	Today       civil.Date

	TreatedShare float64 // patches with buffers, share of the lawn; NaN: not measured
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
	ReasonSoilUnknown    Reason = "soil-not-known"
	ReasonNoForecast     Reason = "no-forecast"
	ReasonRainSoon       Reason = "rain-soon"
	ReasonTooHot         Reason = "too-hot-now"
	ReasonTooCold        Reason = "too-cold-now"
	ReasonWilting        Reason = "wilting"
	ReasonNoFitHours     Reason = "no-fit-hours"
	ReasonProtected      Reason = "treated-within-the-interval"

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
	StepIfFresh     Reason = "if-not-wilting"
	StepIfYoung     Reason = "if-young-and-not-wilting"
)

// Decision is the gate's answer with its reason, unless it is open, and the steps
// that go with it.
type Decision struct {
	Answer  Answer
	Reasons []Reason
	Steps   []Reason
}

// Because reports whether that is a reason of the answer.
func (d Decision) Because(why Reason) bool { return slices.Contains(d.Reasons, why) }

// stop is a decision for one reason.
func stop(answer Answer, why Reason, steps ...Reason) *Decision {
	return &Decision{answer, []Reason{why}, steps}
}

// Gate judges a treatment of the place. The conditions are taken in a fixed
// order, and the first that fails answers: identified, treated already, worth it,
// growth, weather. Own design, but for the limits with a source.
func (d *Disease) Gate(c Case) Decision {
	for _, ask := range [...]func(Case) *Decision{d.askIdentity, d.askProtection, d.askWorth, d.askGrowth, d.askWeather} {
		if out := ask(c); out != nil {
			return *out
		}
	}
	out := Decision{Answer: AnswerOpen, Steps: []Reason{StepLabel}}
	if d.Placement.Target.Value.InSoil() {
		out.Steps = append(out.Steps, StepWaterIn)
	} else {
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
	if d.Urgent() {
		out.Steps = append(out.Steps, StepUrgent, StepDrain)
	}
	// What only the reader can know and no report told is a condition.
	switch {
	case d.Treatment.onlyYoung(c) && c.Young == pest.NotTold:
		out.Steps = append(out.Steps, StepIfYoung)
	case c.Wilting == pest.NotTold:
		out.Steps = append(out.Steps, StepIfFresh)
	}
	if c.TreatedShare > wholeAreaShare {
		out.Steps = append(out.Steps, StepWholeArea, StepLicensed)
	}
	out.Steps = append(out.Steps, StepCulture, StepProtectOnly)
	return out
}

// Urgent reports whether the disease takes grass in days, and is treated at the
// first signs that somebody confirmed: what was made for slow diseases does not
// hold it back.
func (d *Disease) Urgent() bool { return d.Treatment.Trigger == TriggerFirst }

// onlyYoung reports whether the grass of the case is worth it only while it is
// young.
func (t *TreatmentRule) onlyYoung(c Case) bool {
	return t.OnlyYoung.Value && !slices.Contains(t.AnyAge.Value, c.Grass)
}

func (d *Disease) askIdentity(c Case) *Decision {
	switch {
	// Ahead of its season there is nothing yet to see: the place's history counts.
	case d.Treatment.Trigger == TriggerHistory && c.History && !c.Scattered:
		return nil
	case c.Scattered:
		return stop(AnswerNone, ReasonColdInjury, StepSample)
	case !c.Identified:
		return stop(AnswerNone, ReasonNotIdentified, StepSample)
	}
	return nil
}

func (d *Disease) askProtection(c Case) *Decision {
	if c.LastTreated.IsZero() {
		return nil
	}
	days := c.Interval
	if days == 0 {
		days = d.Treatment.Interval.Value
	}
	if c.Today >= c.LastTreated.AddDays(days) {
		return nil
	}
	return stop(AnswerSilent, ReasonProtected, StepScout)
}

func (d *Disease) askWorth(c Case) *Decision {
	t := d.Treatment
	switch t.Trigger {
	case TriggerNever:
		return stop(AnswerNone, ReasonNeverWorth, StepMowAndFeed, StepCulture)
	case TriggerHistory:
		if !c.History {
			return stop(AnswerNone, ReasonNoHistory, StepCulture, StepRemember)
		}
		if len(d.Windows) > 0 && !open(c) {
			return stop(AnswerClosed, ReasonOutsideWindow, StepRemember, StepNextWindow)
		}
	case TriggerFirst:
		if t.onlyYoung(c) && c.Young == pest.No {
			return stop(AnswerNone, ReasonBelowThreshold, StepScout, StepCulture)
		}
	case TriggerSpread:
		if !c.Spreading {
			return stop(AnswerNone, ReasonNotSpreading, StepScout, StepCulture)
		}
	case TriggerArea:
		limit := t.From.Value
		if c.Young == pest.Yes && t.Young.Known() {
			limit = t.Young.Value
		}
		if !(quantity.Thousandths(c.AreaPct) >= limit) || c.Grade < pest.Act {
			return stop(AnswerNone, ReasonBelowThreshold, StepScout, StepCulture)
		}
	}
	return nil
}

// open reports whether any season of infection of the case is open.
func open(c Case) bool {
	return slices.ContainsFunc(c.Windows, func(w pest.WindowState) bool { return !w.Symptoms && w.State == pest.WindowOpen })
}

func (d *Disease) askGrowth(c Case) *Decision {
	t := d.Treatment
	closed := func(r Reason) *Decision { return stop(AnswerClosed, r, StepLetItGo, StepRemember, StepNextWindow) }
	if t.Preventive.Value {
		switch {
		case math.IsNaN(c.SoilC):
			return stop(AnswerHold, ReasonSoilUnknown, StepScout)
		case quantity.Tenths(c.SoilC) <= frozenSoilC:
			return closed(ReasonFrozen)
		}
		return nil
	}
	if !t.WhileGrows.Value {
		return nil
	}
	switch c.State {
	case turf.Dormant:
		return closed(ReasonDormant)
	case turf.Resting:
		return closed(ReasonResting)
	case turf.GreeningUp:
		if !d.Urgent() && (c.Mowings < greenUpMowings || !c.Spreading) {
			return stop(AnswerHold, ReasonGreenUp, StepScout)
		}
	case "":
		return stop(AnswerHold, ReasonGrowthUnknown, StepScout)
	}
	if d.Urgent() {
		return nil
	}
	if c.MowDays == 0 || c.MowDays > turf.StillMownDays {
		return closed(ReasonSlow)
	}
	return nil
}

func (d *Disease) askWeather(c Case) *Decision {
	l := d.SprayLimits()
	switch air := quantity.Tenths(c.AirC); {
	case c.NoFitHours:
		return stop(AnswerHold, ReasonNoFitHours, StepScout)
	case math.IsNaN(air), math.IsNaN(c.RainInH) && !l.WateredIn:
		return stop(AnswerHold, ReasonNoForecast)
	case c.RainInH < l.RainfastH && !l.WateredIn:
		return stop(AnswerHold, ReasonRainSoon)
	case c.Wilting == pest.Yes:
		return stop(AnswerHold, ReasonWilting)
	case air > l.ToC:
		return stop(AnswerHold, ReasonTooHot, StepMorning)
	case air < l.FromC:
		return stop(AnswerHold, ReasonTooCold)
	}
	return nil
}
