package law

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/civil"
)

// judge puts one question to the records of a place.
type judge struct {
	book  *Book
	q     *Question
	asOf  civil.Date
	terse bool // only the verdict is wanted
	ans   Answer
}

// NewlyEffectiveDays is how long before it takes effect a law is mentioned.
const NewlyEffectiveDays = 90

// listReviewMonths is how long "looked, none found" counts: as long as a
// record by default. Own design.
const listReviewMonths = 12

// Ask answers a question.
func (b *Book) Ask(q Question) Answer {
	j := judge{book: b, q: &q}
	j.place()
	return j.finish()
}

// AskRecord answers a question by one record alone, as if nothing else
// applied; ok is false if there is no such record.
func (b *Book) AskRecord(id string, q Question) (a Answer, ok bool) {
	rec, ok := b.byID[id]
	if !ok {
		return Answer{}, false
	}
	q.Place = Place{}
	j := judge{book: b, q: &q}
	j.start()
	j.ans.Silent = !j.record(rec)
	return j.finish(), true
}

func (j *judge) start() { j.asOf = cmp.Or(j.q.AsOf, j.q.Date) }

func (j *judge) finish() Answer {
	slices.SortStableFunc(j.ans.Hits, func(x, y Hit) int { return cmp.Compare(y.Verdict, x.Verdict) })
	for _, n := range j.ans.Notices {
		j.ans.Flags = append(j.ans.Flags, n.Flag)
	}
	slices.Sort(j.ans.Flags)
	j.ans.Flags = slices.Compact(j.ans.Flags)
	return j.ans
}

// place judges every record of the chain; each by its own definitions, the
// strongest verdict over all.
func (j *judge) place() {
	j.start()
	j.ans.Silent = true
	if len(j.q.Place.Chain) == 0 {
		j.noRecord("")
	}
	for id, records := range j.book.Over(j.q.Place) {
		// One that does not hold here says so: it stops at the city line.
		spoke := len(records) < len(j.book.Records(id))
		for _, rec := range records {
			if j.record(rec) {
				spoke, j.ans.Silent = true, false
			}
			if j.terse && j.ans.Verdict == Closed {
				return
			}
		}
		if !spoke {
			j.noRecord(id)
		}
	}
}

// noRecord judges a jurisdiction in which no record speaks: silence is not
// permission, unless somebody has looked and found none.
func (j *judge) noRecord(id string) {
	line, listed := j.book.bodies[id]
	if !listed || line.Coverage != NoneFound || line.CheckedOn.IsZero() {
		j.note(Notice{Flag: NoRecord, Jurisdiction: id, Name: j.book.Name(id)})
		j.add(Hit{Jurisdiction: id, Verdict: NotCleared, Detail: "no_record"})
		return
	}
	if j.asOf > line.CheckedOn.AddMonths(listReviewMonths) {
		j.note(Notice{Flag: Stale, Jurisdiction: id, Name: j.book.Name(id)})
		j.add(Hit{Jurisdiction: id, Verdict: NotCleared, Detail: "stale"})
	}
}

func (j *judge) add(h Hit) {
	j.ans.Verdict = max(j.ans.Verdict, h.Verdict)
	if j.terse {
		return
	}
	if h.Record != nil {
		h.Jurisdiction = h.Record.Jurisdiction
	}
	j.ans.Hits = append(j.ans.Hits, h)
}

func (j *judge) note(n Notice) {
	if j.terse {
		return
	}
	if n.Record != nil {
		n.Jurisdiction = n.Record.Jurisdiction
	}
	if !slices.Contains(j.ans.Notices, n) {
		j.ans.Notices = append(j.ans.Notices, n)
	}
}

// standing is what a record as a whole says on a day.
type standing uint8

const (
	silent     standing = iota // not in force, and says nothing of what else is
	inForce                    // its rules speak
	onHold                     // a court has paused it
	lapsed                     // it ended, and somebody has looked: nothing follows
	expired                    // it ended, and what follows is not known
	undatedEnd                 // it ended, but the record does not say when
	notYet                     // takes effect soon
)

func (b *Book) standing(rec *Record, d civil.Date) standing {
	if rec.Status == StatusProposed {
		return silent
	}
	if d < rec.EffectiveFrom {
		if rec.EffectiveFrom-d <= NewlyEffectiveDays {
			return notYet
		}
		return silent
	}
	gone := rec.Status == StatusRepealed || rec.Status == StatusSuperseded
	if rec.EffectiveTo.IsZero() && gone && !b.follows(rec) {
		return undatedEnd
	}
	if !rec.EffectiveTo.IsZero() && d > rec.EffectiveTo || rec.EffectiveTo.IsZero() && gone {
		switch {
		case b.follows(rec):
			return silent // its successor speaks
		case rec.LapseConfirmed || rec.Status == StatusRepealed:
			return lapsed
		}
		return expired
	}
	if rec.Status == StatusStayed || rec.Status == StatusEnjoined {
		return onHold
	}
	return inForce
}

// follows reports whether the record names a successor that is on file.
func (b *Book) follows(rec *Record) bool {
	if rec.SupersededBy == "" || rec.SupersededBy == rec.ID {
		return false
	}
	_, ok := b.byID[rec.SupersededBy]
	return ok
}

// record judges one record and reports whether it spoke.
func (j *judge) record(rec *Record) bool {
	if rec.OnPesticides() != j.q.Product.pesticide() {
		return false
	}
	stands := j.book.standing(rec, j.q.Date)
	switch stands {
	case notYet:
		j.note(Notice{Flag: NotYetEffective, Record: rec})
		return false
	case silent:
		return false
	}
	before := j.ans.Verdict
	j.ans.Verdict = Open
	switch stands {
	case onHold:
		j.note(Notice{Flag: OnHold, Record: rec})
		j.add(Hit{Record: rec, Verdict: Conditional, Detail: "on_hold"})
	case expired:
		j.note(Notice{Flag: ExpiredNoSuccessor, Record: rec})
		j.add(Hit{Record: rec, Verdict: NotCleared, Detail: "expired"})
	case undatedEnd:
		j.add(Hit{Record: rec, Verdict: NotCleared, Detail: "undated_end"})
	case inForce:
		j.book.scan(rec, j.q, j.asOf, j.rule)
	}
	switch rec.Verification {
	case SecondaryText:
		j.note(Notice{Flag: Secondary, Record: rec})
	case VerifiedText:
	default:
		j.note(Notice{Flag: Unverified, Record: rec})
		j.unclear(rec, "unverified")
	}
	if rec.Stale(j.asOf) {
		j.note(Notice{Flag: Stale, Record: rec})
		j.unclear(rec, "stale")
	}
	j.ans.Verdict = max(j.ans.Verdict, before)
	return true
}

// unclear keeps a record that cannot be relied on from clearing anything.
func (j *judge) unclear(rec *Record, why string) {
	if j.ans.Verdict <= NotCleared {
		j.add(Hit{Record: rec, Verdict: NotCleared, Detail: why})
	}
}

// found is a rule that concerns the question on its day.
type found struct {
	rec       *Record
	rule      *Rule
	fit       fit
	span      spanState
	preempted bool // by an upper record; the rule then says nothing
}

// scan visits the rules of a record in force that concern the question: bound
// and targeted, in effect on the day, on or not known to be off, not asleep.
func (b *Book) scan(rec *Record, q *Question, asOf civil.Date, visit func(found)) {
	for i := range rec.Rules {
		f, ok := b.find(rec, &rec.Rules[i], q, asOf)
		if !ok || !f.preempted && b.asleep(rec, f.rule, q, asOf) {
			continue
		}
		visit(f)
	}
}

func (b *Book) find(rec *Record, r *Rule, q *Question, asOf civil.Date) (found, bool) {
	d := q.Date
	if !r.EffectiveFrom.IsZero() && d < r.EffectiveFrom || !r.EffectiveTo.IsZero() && d > r.EffectiveTo {
		return found{}, false
	}
	f := found{rec: rec, rule: r, fit: r.fits(rec, q, &q.Product)}
	if f.fit == fitNo {
		return found{}, false
	}
	if b.preempted(q.Place, rec, r.Topic, d, asOf) != nil {
		f.preempted = true
		return f, true
	}
	f.span = r.spanAt(rec, d, q)
	return f, f.span.on || f.span.unknown
}

// asleep reports whether another rule of the record that is on suspends one.
func (b *Book) asleep(rec *Record, r *Rule, q *Question, asOf civil.Date) bool {
	for i := range rec.Rules {
		o := &rec.Rules[i]
		if o.ID == r.ID || !slices.Contains(o.Suspends, r.ID) {
			continue
		}
		if f, ok := b.find(rec, o, q, asOf); ok && !f.preempted && f.fit == fitYes && f.span.on {
			return true
		}
	}
	return false
}

// hit makes the start of a hit of a rule.
func (f *found) hit(v Verdict, detail string) Hit {
	h := Hit{Record: f.rec, Rule: f.rule, Verdict: v, Detail: detail, Limit: math.NaN(), Found: math.NaN()}
	if f.span.on && f.span.bounded {
		h.First = max(f.span.first, f.rec.EffectiveFrom, f.rule.EffectiveFrom)
		h.Last = f.span.last
		for _, end := range []civil.Date{f.rec.EffectiveTo, f.rule.EffectiveTo} {
			if !end.IsZero() {
				h.Last = min(h.Last, end)
			}
		}
	}
	return h
}

// rule judges one rule.
func (j *judge) rule(f found) {
	r := f.rule
	if f.preempted {
		j.note(Notice{Flag: Preempted, Record: f.rec, Rule: r})
		return
	}
	switch {
	case r.Effect == EffectAdvise:
		j.addWord(f.hit(Open, "advice"), r.Duty)
		return
	case r.always():
		// Not tied to a product: printed, and never moves a verdict.
		j.addWord(f.hit(Open, "duty"), r.Duty)
		return
	case f.span.unknown:
		j.spanFlags(f)
		j.add(f.hit(NotCleared, "span_unknown"))
		return
	}
	switch r.Effect {
	case EffectRequire:
		j.addWord(f.hit(Conditional, "duty"), r.Duty)
	case EffectBan:
		j.ban(f)
	case EffectCap:
		j.limits(f)
	default:
		j.add(f.hit(NotCleared, "unevaluated"))
	}
}

func (j *judge) addWord(h Hit, word string) {
	h.Word = word
	j.add(h)
}

// spanFlags notes what is doubtful about the rule's time.
func (j *judge) spanFlags(f found) {
	for _, x := range [...]struct {
		is   bool
		flag Flag
	}{
		{f.span.edge, EdgeAssumed},
		{f.span.openEnded, DeclarationOpenEnded},
		{f.span.seasonUnknown, SeasonUnknown},
		{f.span.statusUnknown, DeclarationStatusUnknown},
	} {
		if x.is {
			j.note(Notice{Flag: x.flag, Record: f.rec, Rule: f.rule})
		}
	}
}

func (j *judge) ban(f found) {
	r := f.rule
	if !r.banEvaluable() {
		j.add(f.hit(NotCleared, "unevaluated"))
		return
	}
	if name, met := r.exception(j.q); met {
		if r.hasCaps() && f.fit == fitYes {
			j.caps(f)
		}
		j.addWord(f.hit(Conditional, "exception"), name)
		return
	}
	if f.fit == fitMaybe {
		j.add(f.hit(Conditional, "product"))
		return
	}
	triggered := false
	if r.hasWeather() {
		triggered = true
		j.weather(f)
	}
	if r.BufferFt != nil {
		triggered = true
		j.buffer(f)
	}
	if !triggered {
		j.spanFlags(f)
		j.add(f.hit(Closed, ""))
	}
}

func (j *judge) limits(f found) {
	if name, met := f.rule.exception(j.q); met {
		j.addWord(f.hit(Conditional, "exception"), name)
		return
	}
	switch {
	case !f.rule.hasCaps():
		j.add(f.hit(NotCleared, "unevaluated"))
	case f.fit == fitMaybe:
		j.add(f.hit(Conditional, "product"))
	case !j.caps(f):
		j.add(f.hit(Conditional, "cap"))
	}
}

// caps tests what the question lets it test and reports whether any cap
// failed. Without a rate the caps are conditions; the slow-release share is
// tested whenever the product is known.
func (j *judge) caps(f found) (failed bool) {
	r, q, p := f.rule, j.q, &j.q.Product
	if p.Unknown {
		return false
	}
	fail := func(detail string, x, limit float64) {
		h := f.hit(Closed, detail)
		h.Found, h.Limit = x, limit
		failed = true
		j.spanFlags(f)
		j.add(h)
	}
	exceeds := func(detail string, x float64, limit *float64) {
		if limit != nil && over(x, *limit) {
			fail(detail, x, *limit)
		}
	}
	if p.NPct > 0 {
		slow := p.slowPct()
		if r.MinSlowPct != nil && slow < *r.MinSlowPct-Tolerance {
			fail("slow_pct", slow, *r.MinSlowPct)
		}
		detail := "max_slow_pct"
		if r.MaxSlowPct != nil && *r.MaxSlowPct == 0 {
			detail = "must_be_soluble"
		}
		exceeds(detail, slow, r.MaxSlowPct)
	}
	if q.RateLb1000 == nil {
		return failed
	}
	rate := *q.RateLb1000
	total := rate * p.NPct / 100
	soluble := rate * (p.NPct - p.SlowNPct) / 100
	exceeds("total_n", total, r.PerAppTotalNLb1000)
	exceeds("soluble_n", soluble, r.PerAppSolubleNLb1000)
	if c, ok := r.annualN(q.Grass); ok && q.AnnualNLb1000 != nil {
		exceeds("annual_n", *q.AnnualNLb1000+total, &c)
	}
	if p.ReleaseMonths > 0 && p.NPct > 0 {
		exceeds("release", LargestMonthlyReleaseLb1000(total, p.SlowNPct/p.NPct, p.ReleaseMonths), r.MaxReleaseNLb1000Month)
	}
	p2o5 := rate * p.P2O5Pct / 100
	exceeds("p2o5", p2o5, r.asP2O5(r.PerAppPLb1000))
	if q.AnnualP2O5Lb1000 != nil {
		exceeds("annual_p2o5", *q.AnnualP2O5Lb1000+p2o5, r.asP2O5(r.AnnualPLb1000))
	}
	return failed
}

// weather judges alerts, rain and ground. A test that is not met, or has no
// data, stays a condition: the weather can still turn.
func (j *judge) weather(f found) {
	r, w := f.rule, j.q.Weather
	met := false
	if w != nil {
		if a, ok := r.alertMet(w); ok {
			met = true
			j.note(Notice{Flag: AlertBased, Record: f.rec, Rule: r})
			h := f.hit(Closed, "alert")
			h.Alert = a
			j.addWord(h, a.Event)
		}
		if in := w.rain(r.RainBasis, r.RainHours); r.rainMet(in) {
			met = true
			if r.RainBasis != "observed" {
				j.note(Notice{Flag: ForecastBased, Record: f.rec, Rule: r})
			}
			h := f.hit(Closed, "rain")
			h.Found, h.Limit = in, *r.RainIn
			j.add(h)
		}
		if g := r.groundMet(w); g != "" {
			met = true
			j.addWord(f.hit(Closed, "ground"), g)
		}
	}
	if met {
		j.spanFlags(f)
		return
	}
	j.add(f.hit(Conditional, "weather"))
}

// bufferFt returns the strip that a buffer rule keeps untreated, or the
// reason for which it lifts the strip.
func (r *Rule) bufferFt(q *Question) (ft float64, lifted string) {
	if !q.Planted.IsZero() && r.ExemptPlantingDays.Holds(int(q.Date-q.Planted)) {
		return 0, "planting"
	}
	if w := r.WaivedIfVegetatedFt; w != nil && q.VegetatedStripFt != nil && *q.VegetatedStripFt >= *w-Tolerance {
		return 0, "vegetated_strip"
	}
	if r.ReducedFt != nil && q.Gear != "" && slices.Contains(r.ReducedWith, q.Gear) {
		return *r.ReducedFt, ""
	}
	return *r.BufferFt, ""
}

// buffer judges the distance to water: inside the strip means nearer than its
// width, so its very edge is outside.
func (j *judge) buffer(f found) {
	ft, lifted := f.rule.bufferFt(j.q)
	if lifted != "" {
		j.addWord(f.hit(Conditional, "exception"), lifted)
		return
	}
	h := f.hit(Conditional, "buffer")
	h.Limit = ft
	if d := j.q.DistanceFt; d != nil {
		h.Found = *d
		if *d < ft-Tolerance {
			h.Verdict, h.Detail = Closed, formatFt(ft)+"ft"
			j.spanFlags(f)
		}
	}
	j.add(h)
}
