package watering

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"ligule/internal/civil"
	"ligule/internal/law"
)

// declaredStage returns the declared stage of a day: the highest that is on, 0 for
// none; known is false if an order without an end was not re-read.
func (r *Record) declaredStage(d civil.Date) (n int, known bool) {
	known = true
	var latest *DeclaredStage
	for i := range r.Declared {
		o := &r.Declared[i]
		if d < o.From {
			continue
		}
		if latest == nil || o.From > latest.From {
			latest = o
		}
		if d <= max(o.To, o.AssumeUntil) {
			n = max(n, o.Stage)
		}
	}
	if latest != nil && latest.To.IsZero() && d > latest.AssumeUntil {
		known = false
	}
	return n, known
}

// Ask answers a question by this law alone.
func (r *Record) Ask(q Question) Answer {
	source := cmp.Or(q.Source, "public")
	if q.Date < r.EffectiveFrom || !slices.Contains(r.SourceWater, source) && !r.exempts(source) {
		return Answer{Silent: true, Why: "fits"}
	}
	if !r.EffectiveTo.IsZero() && q.Date > r.EffectiveTo {
		return Answer{Verdict: NotCleared, Why: "expired"}
	}
	a := r.judge(q, source)
	asOf := cmp.Or(q.AsOf, q.Date)
	if a.Verdict < NotCleared {
		switch {
		case r.Verification == law.UnverifiedText:
			return Answer{Verdict: NotCleared, Why: "unverified"}
		case r.Stale(asOf):
			return Answer{Verdict: NotCleared, Why: "stale"}
		}
	}
	return a
}

func (r *Record) exempts(what string) bool {
	return slices.ContainsFunc(r.Exempt, func(x Exemption) bool { return x.What == what })
}

func (r *Record) judge(q Question, source string) Answer {
	stage, known := r.declaredStage(q.Date)
	what := r.exemption(q, source, stage, known)
	strongest := Answer{Why: "fits"}
	if !known {
		strongest = Answer{Verdict: NotCleared, Why: "stage_unknown"}
	}
	if what != "" {
		if !known {
			return strongest // a stage could be on that knows no exemption
		}
		part := ""
		if stage > 0 {
			part = stageName(stage)
		}
		return Answer{Why: "exempt", Part: part, Exempt: what}
	}
	j := judge{r: r, lot: r.lot(q), date: q.Date, minute: q.Minute, strongest: strongest}
	part := j.standing(q)
	if known && part == "" && stage == 0 && len(r.Stages) > 0 && j.strongest.Verdict == Open {
		j.strongest.Why = "no_stage"
	}
	j.stages(stage)
	if j.strongest.Verdict == Open {
		j.strongest.Part = part
		if stage > 0 {
			j.strongest.Part = stageName(stage)
		}
	}
	return j.strongest
}

// judge applies limits to one lot at one moment and keeps the strongest;
// of equals the first.
type judge struct {
	r         *Record
	lot       lot
	date      civil.Date
	minute    int
	strongest Answer
}

func (j *judge) add(force, part, why string) {
	v := Closed
	if force == "voluntary" {
		v = AdvisedAgainst
	}
	j.say(v, part, why)
}

func (j *judge) say(v Verdict, part, why string) {
	if v > j.strongest.Verdict {
		j.strongest = Answer{Verdict: v, Part: part, Why: why}
	}
}

// days holds the lot to a list of weekdays by group.
func (j *judge) days(list []Days, force, part string) {
	days, listed, doubt := j.lot.days(list)
	switch {
	case doubt && force != "voluntary":
		j.say(NotCleared, part, "no_number")
	case listed && !slices.Contains(days, j.date.Weekday()):
		j.add(force, part, "day")
	}
}

// standing applies what holds at any stage and returns the id of the first
// schedule that is on.
func (j *judge) standing(q Question) (part string) {
	r, force := j.r, j.r.standingForce()
	if r.ClosedOn31st {
		if _, _, date := j.date.YMD(); date == 31 {
			j.add(force, "", "day_31")
		}
	}
	if r.CalendarParity {
		_, _, date := j.date.YMD()
		switch {
		case !j.lot.known:
			j.say(NotCleared, "", "no_number")
		case date%2 != j.lot.digit%2:
			j.add(force, "", "day")
		}
	}
	for i := range r.Schedules {
		s := &r.Schedules[i]
		if !s.When.on(r, q) {
			continue
		}
		if part == "" {
			part = s.ID
		}
		j.days(s.Days, force, s.ID)
	}
	if inHours(r.ClosedHours, j.minute) {
		j.add(force, part, "hour")
	}
	return part
}

// standingForce is the force of what holds at any stage. A law by stages
// leaves none of it to choice.
func (r *Record) standingForce() string {
	if r.Force == "by_stage" {
		return "mandatory"
	}
	return r.Force
}

// stages applies every stage up to the one declared.
func (j *judge) stages(stage int) {
	for i := range j.r.Stages {
		s := &j.r.Stages[i]
		if s.N > stage {
			continue
		}
		if s.Ban {
			j.add(s.Force, stageName(s.N), "ban")
		}
		if !j.r.replaced(s.N, stage) {
			j.days(s.Days, s.Force, stageName(s.N))
		}
		if inHours(s.ClosedHours, j.minute) {
			j.add(s.Force, stageName(s.N), "hour")
		}
	}
}

// replaced reports whether the days of a stage give way to those of a later
// one that is declared.
func (r *Record) replaced(n, stage int) bool {
	return slices.ContainsFunc(r.Stages, func(o Stage) bool { return o.N <= stage && slices.Contains(o.ReplacesDaysOf, n) })
}

// stageName names a stage in answers and tables.
func stageName(n int) string { return "stage " + strconv.Itoa(n) }

func inHours(list []Hours, minute int) bool {
	return slices.ContainsFunc(list, func(h Hours) bool { return h.hold(minute) })
}

// on reports whether a schedule is on at the moment asked about. Daylight
// time is read from the zone at that instant.
func (w *When) on(r *Record, q Question) bool {
	switch {
	case w == nil:
		return true
	case w.DST:
		return r.instant(q.Date, q.Minute).IsDST() == w.Active
	}
	return w.Annual.On(q.Date)
}

// instant returns the moment of a local wall time.
func (r *Record) instant(d civil.Date, minute int) time.Time {
	loc := r.loc
	if loc == nil {
		var err error
		if loc, err = law.TimeZone(r.TZ); err != nil {
			loc = time.UTC // reported when the record was read
		}
	}
	y, m, day := d.YMD()
	return time.Date(y, time.Month(m), day, 0, minute, 0, 0, loc)
}

// exemption returns the first exemption that frees the question. While nobody
// knows the stage, only those count that hold at any.
func (r *Record) exemption(q Question, source string, stage int, known bool) string {
	for i := range r.Exempt {
		x := &r.Exempt[i]
		if !x.at(stage, known) {
			continue
		}
		free := false
		switch x.What {
		case "reclaimed":
			free = source == "reclaimed"
		case "new_turf":
			if !q.Planted.IsZero() {
				n := int(q.Date - q.Planted)
				free = x.AnyDay.Holds(n) || x.AlternateDay.Holds(n) && (n-x.AlternateDay.From)%2 == 0
			}
		case "water_in":
			if w := q.WaterIn; w != nil && x.MaxIn != nil {
				// Elapsed hours, through a change of the clock as well.
				gone := r.instant(q.Date, q.Minute).Sub(r.instant(w.Date, w.Minute))
				free = gone >= 0 && gone <= time.Duration(x.WithinHours)*time.Hour && w.DepthIn <= *x.MaxIn+law.Tolerance
			}
		default:
			free = q.Method == x.What
		}
		if free {
			return x.What
		}
	}
	return ""
}

// at reports whether the exemption holds at a stage.
func (x *Exemption) at(stage int, known bool) bool {
	return len(x.Stages) == 0 || known && slices.Contains(x.Stages, stage)
}

// lot is what the law makes of a house number.
type lot struct {
	digit          int  // the last digit of the number
	known          bool // false: the law does not say which number the lot counts as
	nonresidential bool
}

// lot reads a house number: the last digit of the leading number decides. A
// number that ends in a letter, or no number, belongs where the law says.
func (r *Record) lot(q Question) lot {
	l := lot{nonresidential: q.Nonresidential, known: true}
	n := 0
	for n < len(q.House) && '0' <= q.House[n] && q.House[n] <= '9' {
		n++
	}
	says := ""
	switch {
	case n == 0:
		says = r.NoNumber
	case n < len(q.House) && r.LetterSuffix != "ignore":
		says = r.LetterSuffix
	default:
		l.digit = int(q.House[n-1] - '0')
		return l
	}
	switch says {
	case "odd":
		l.digit = 1
	case "even":
		l.digit = 0
	default:
		l.digit, l.known = digitOf(says)
	}
	return l
}

// digitOf reads "digit:9".
func digitOf(s string) (int, bool) {
	if len(s) == len("digit:")+1 && s[:6] == "digit:" && '0' <= s[6] && s[6] <= '9' {
		return int(s[6] - '0'), true
	}
	return 0, false
}

// days returns the weekdays of the lot's group. listed is false if the list
// names no group of the lot's, so that it limits no day; doubt is true if it
// goes by numbers and the law does not say which the lot counts as.
func (l lot) days(list []Days) (days []time.Weekday, listed, doubt bool) {
	if l.nonresidential {
		for _, d := range list {
			if d.Group == "nonresidential" {
				return d.Days, true, false
			}
		}
	}
	for _, d := range list {
		switch {
		case d.Group == "nonresidential":
		case !l.known:
			doubt = true
		case d.Group == digitGroup(l.digit), d.Group == parityGroup(l.digit):
			return d.Days, true, false
		}
	}
	return nil, false, doubt
}

// digitGroup and parityGroup name the groups of a last digit.
func digitGroup(digit int) string {
	return [...]string{"digit_0_1", "digit_2_3", "digit_4_5", "digit_6_7", "digit_8_9"}[digit/2]
}

func parityGroup(digit int) string { return [...]string{"even", "odd"}[digit%2] }
