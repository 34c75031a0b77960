package law

import (
	"slices"
	"strconv"
	"time"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// WaterRecord is one law on watering lawns: standing schedules, or stages of
// shortage that are declared, or both.
type WaterRecord struct {
	Schema       int
	ID           string
	Fictional    bool
	Jurisdiction string
	AppliesIn    string
	TZ           string
	Title        string
	Citation     string
	SourceURL    string

	EffectiveFrom civil.Date
	EffectiveTo   civil.Date
	Verification  string
	CheckedOn     civil.Date
	ReviewMonths  int

	Force       string   // mandatory, voluntary, by_stage
	SourceWater []string // public, well, surface, reclaimed: the water it is about

	NoNumber       string // odd, even, digit:N: the group of a lot without a number
	LetterSuffix   string // ignore, digit:N: the group of a number that ends in a letter
	CalendarParity bool   // odd dates for odd numbers, even dates for even ones
	ClosedOn31st   bool

	ClosedHours          []Hours
	MaxDepthIn           *float64 // print-only
	MaxMinutesPerStation *float64 // print-only

	Schedules []WaterSchedule
	Exempt    []WaterExemption
	Stages    []WaterStage
	Declared  []DeclaredStage
	Pos       diag.Pos
}

// Hours is a span of local wall time in minutes after midnight: From is
// inside, To is not. It runs over midnight if To is not after From.
type Hours struct{ From, To int }

func (h Hours) hold(minute int) bool {
	if h.From < h.To {
		return h.From <= minute && minute < h.To
	}
	return minute >= h.From || minute < h.To
}

// WaterDays are the weekdays of one group of lots.
type WaterDays struct {
	Group string // odd, even, nonresidential, digit_0_1 … digit_8_9
	Days  []time.Weekday
}

// WaterSchedule is a standing list of days.
type WaterSchedule struct {
	ID   string
	When *WaterWhen // nil = always
	Days []WaterDays
	Pos  diag.Pos
}

// WaterWhen is when a schedule is on: while the clock is, or is not, on
// daylight time, or in a part of the year.
type WaterWhen struct {
	DST    bool // the kind is dst
	Active bool
	Annual When
}

// WaterStage is one stage of shortage. Stages add up: stage 3 means the rules
// of stages 1, 2 and 3.
type WaterStage struct {
	N              int
	Name           string
	Force          string // mandatory, voluntary
	ClosedHours    []Hours
	Days           []WaterDays
	ReplacesDaysOf []int // stages whose days these replace
	Ban            bool
	Pos            diag.Pos
}

// DeclaredStage is a stage in force for a time.
type DeclaredStage struct {
	Stage           int
	From            civil.Date
	To, AssumeUntil civil.Date // one of them
	Pos             diag.Pos
}

// WaterExemption frees a way or a purpose of watering from every limit.
type WaterExemption struct {
	What         string    // drip, hand_held_shutoff, reclaimed, new_turf, water_in, system_test
	Stages       []int     // only while one of these is the stage; empty = at any time
	AnyDay       *DayRange // new_turf: days after planting
	AlternateDay *DayRange // new_turf: every other of these days
	MaxIn        *float64  // water_in
	WithinHours  int       // water_in
}

// WaterVerdict is what a watering law says, from weakest to strongest.
type WaterVerdict uint8

// The verdicts.
const (
	WaterOpen WaterVerdict = iota
	WaterAdvisedAgainst
	WaterNotCleared
	WaterClosed
)

// String returns "open", "advised_against", "not_cleared" or "closed".
func (v WaterVerdict) String() string {
	switch v {
	case WaterOpen:
		return "open"
	case WaterAdvisedAgainst:
		return "advised_against"
	case WaterNotCleared:
		return "not_cleared"
	case WaterClosed:
		return "closed"
	}
	return "invalid"
}

// WaterQuestion asks whether a lot may be watered at one moment of local wall
// time.
type WaterQuestion struct {
	Date           civil.Date
	Minute         int        // after midnight
	AsOf           civil.Date // decides what is stale; zero = Date
	House          string     // "1427", "12B"; "" = none
	Nonresidential bool
	Method         string // drip, hand_held_shutoff, system_test; "" = sprinklers
	Source         string // public, well, surface, reclaimed; "" = public
	Planted        civil.Date
	WaterIn        *WaterIn
}

// WaterIn is the watering-in of a product that was spread before.
type WaterIn struct {
	Date    civil.Date // of the spreading
	Minute  int
	DepthIn float64
}

// WaterAnswer is a verdict with what decided it.
type WaterAnswer struct {
	Verdict WaterVerdict
	Silent  bool   // the record is not in force, or not about this water
	Part    string // the schedule's id or "stage N"; "" = the record as a whole
	Why     string // fits, day, hour, ban, day_31, exempt, no_stage, stage_unknown, no_number, stale, unverified, expired
	Exempt  string // what is exempt
}

// stage returns the declared stage of a day: the highest that is on, 0 for
// none; known is false if an order without an end was not re-read.
func (r *WaterRecord) stage(d civil.Date) (n int, known bool) {
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
func (r *WaterRecord) Ask(q WaterQuestion) WaterAnswer {
	source := q.Source
	if source == "" {
		source = "public"
	}
	if q.Date < r.EffectiveFrom || !slices.Contains(r.SourceWater, source) && !r.exempts(source) {
		return WaterAnswer{Silent: true, Why: "fits"}
	}
	if !r.EffectiveTo.IsZero() && q.Date > r.EffectiveTo {
		return WaterAnswer{Verdict: WaterNotCleared, Why: "expired"}
	}
	a := r.judge(q, source)
	asOf := q.AsOf
	if asOf.IsZero() {
		asOf = q.Date
	}
	if a.Verdict < WaterNotCleared {
		switch {
		case r.Verification == "unverified":
			return WaterAnswer{Verdict: WaterNotCleared, Why: "unverified"}
		case asOf > r.CheckedOn.AddMonths(r.ReviewMonths):
			return WaterAnswer{Verdict: WaterNotCleared, Why: "stale"}
		}
	}
	return a
}

func (r *WaterRecord) exempts(what string) bool {
	return slices.ContainsFunc(r.Exempt, func(x WaterExemption) bool { return x.What == what })
}

func (r *WaterRecord) judge(q WaterQuestion, source string) WaterAnswer {
	stage, known := r.stage(q.Date)
	if !known {
		return WaterAnswer{Verdict: WaterNotCleared, Why: "stage_unknown"}
	}
	if what := r.exemption(q, source, stage); what != "" {
		part := ""
		if stage > 0 {
			part = stageName(stage)
		}
		return WaterAnswer{Why: "exempt", Part: part, Exempt: what}
	}
	strongest := WaterAnswer{Why: "fits"}
	add := func(force, part, why string) {
		v := WaterClosed
		if force == "voluntary" {
			v = WaterAdvisedAgainst
		}
		if v > strongest.Verdict {
			strongest = WaterAnswer{Verdict: v, Part: part, Why: why}
		}
	}
	force := r.Force
	if force == "by_stage" {
		force = "mandatory"
	}
	day, minute := q.Date.Weekday(), q.Minute
	group, ok := r.lot(q)
	if !ok {
		return WaterAnswer{Verdict: WaterNotCleared, Why: "no_number"}
	}
	if r.Force != "by_stage" {
		_, _, date := q.Date.YMD()
		if r.ClosedOn31st && date == 31 {
			add(force, "", "day_31")
		}
		if r.CalendarParity && date%2 != group.digit%2 {
			add(force, "", "day")
		}
	}
	for i := range r.Schedules {
		s := &r.Schedules[i]
		if !s.When.on(r, q) {
			continue
		}
		if strongest.Verdict == WaterOpen {
			strongest.Part = s.ID
		}
		if days, listed := group.days(s.Days); listed && !slices.Contains(days, day) {
			add(force, s.ID, "day")
		}
		if inHours(r.ClosedHours, minute) {
			add(force, s.ID, "hour")
		}
	}
	if len(r.Schedules) == 0 && inHours(r.ClosedHours, minute) {
		add(force, "", "hour")
	}
	if stage == 0 && len(r.Stages) > 0 && strongest.Part == "" && strongest.Verdict == WaterOpen {
		strongest.Why = "no_stage"
	}
	r.stages(stage, add, group, day, minute)
	if stage > 0 && strongest.Verdict == WaterOpen {
		strongest.Part = stageName(stage)
	}
	return strongest
}

// stages applies every stage up to the one declared.
func (r *WaterRecord) stages(stage int, add func(force, part, why string), group lot, day time.Weekday, minute int) {
	for i := range r.Stages {
		s := &r.Stages[i]
		if s.N > stage {
			continue
		}
		if s.Ban {
			add(s.Force, stageName(s.N), "ban")
		}
		replaced := slices.ContainsFunc(r.Stages, func(o WaterStage) bool {
			return o.N <= stage && slices.Contains(o.ReplacesDaysOf, s.N)
		})
		if days, listed := group.days(s.Days); listed && !replaced && !slices.Contains(days, day) {
			add(s.Force, stageName(s.N), "day")
		}
		if inHours(s.ClosedHours, minute) {
			add(s.Force, stageName(s.N), "hour")
		}
	}
}

func stageName(n int) string { return "stage " + strconv.Itoa(n) }

func inHours(list []Hours, minute int) bool {
	return slices.ContainsFunc(list, func(h Hours) bool { return h.hold(minute) })
}

// on reports whether a schedule is on at the moment asked about. Daylight
// time is read from the zone at that instant.
func (w *WaterWhen) on(r *WaterRecord, q WaterQuestion) bool {
	switch {
	case w == nil:
		return true
	case w.DST:
		return r.instant(q.Date, q.Minute).IsDST() == w.Active
	}
	rule := Rule{When: []When{w.Annual}}
	return rule.spanAt(&Record{}, q.Date, &Question{}).on
}

// instant returns the moment of a local wall time.
func (r *WaterRecord) instant(d civil.Date, minute int) time.Time {
	loc, err := zone(r.TZ)
	if err != nil {
		loc = time.UTC // reported when the record was read
	}
	y, m, day := d.YMD()
	return time.Date(y, time.Month(m), day, 0, minute, 0, 0, loc)
}

// exemption returns the first exemption that frees the question.
func (r *WaterRecord) exemption(q WaterQuestion, source string, stage int) string {
	for i := range r.Exempt {
		x := &r.Exempt[i]
		if len(x.Stages) > 0 && !slices.Contains(x.Stages, stage) {
			continue
		}
		free := false
		switch x.What {
		case "reclaimed":
			free = source == "reclaimed"
		case "new_turf":
			if !q.Planted.IsZero() {
				n := int(q.Date - q.Planted)
				free = x.AnyDay.holds(n) || x.AlternateDay.holds(n) && (n-x.AlternateDay.From)%2 == 0
			}
		case "water_in":
			if w := q.WaterIn; w != nil && x.MaxIn != nil {
				// Elapsed hours, through a change of the clock as well.
				gone := r.instant(q.Date, q.Minute).Sub(r.instant(w.Date, w.Minute))
				free = gone >= 0 && gone <= time.Duration(x.WithinHours)*time.Hour && w.DepthIn <= *x.MaxIn+tolerance
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

func (d *DayRange) holds(n int) bool { return d != nil && d.From <= n && n <= d.To }

// lot is what the law makes of a house number.
type lot struct {
	digit          int // the last digit of the number
	nonresidential bool
}

// lot reads a house number: the last digit of the leading number decides. A
// number that ends in a letter, or no number, belongs where the law says; ok
// is false if it does not say.
func (r *WaterRecord) lot(q WaterQuestion) (lot, bool) {
	l := lot{nonresidential: q.Nonresidential}
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
		return l, true
	}
	switch says {
	case "odd":
		l.digit = 1
	case "even":
		l.digit = 0
	default:
		d, ok := digitOf(says)
		if !ok {
			return l, q.Nonresidential
		}
		l.digit = d
	}
	return l, true
}

// digitOf reads "digit:9".
func digitOf(s string) (int, bool) {
	if len(s) == len("digit:")+1 && s[:6] == "digit:" && '0' <= s[6] && s[6] <= '9' {
		return int(s[6] - '0'), true
	}
	return 0, false
}

// days returns the weekdays of the lot's group; listed is false if the list
// names no group of the lot's, so that it limits no day.
func (l lot) days(list []WaterDays) (days []time.Weekday, listed bool) {
	names := []string{"digit_" + strconv.Itoa(l.digit&^1) + "_" + strconv.Itoa(l.digit|1), [2]string{"even", "odd"}[l.digit%2]}
	if l.nonresidential {
		names = slices.Insert(names, 0, "nonresidential")
	}
	for _, name := range names {
		for _, d := range list {
			if d.Group == name {
				return d.Days, true
			}
		}
	}
	return nil, false
}

// WaterRow is one row of the table that a page prints: the days and closed
// hours of a schedule or stage in force.
type WaterRow struct {
	Part        string
	Force       string
	Ban         bool
	Days        []WaterDays // none: every day, or the days stand in another row
	ClosedHours []Hours
}

// Table returns the rows in force at noon of a day, schedules first; known is
// false if nobody knows which stage is declared.
func (r *WaterRecord) Table(d civil.Date) (rows []WaterRow, known bool) {
	stage, known := r.stage(d)
	if !known {
		return nil, false
	}
	force := r.Force
	if force == "by_stage" {
		force = "mandatory"
	}
	const noon = 12 * 60
	for i := range r.Schedules {
		if s := &r.Schedules[i]; s.When.on(r, WaterQuestion{Date: d, Minute: noon}) {
			rows = append(rows, WaterRow{Part: s.ID, Force: force, Days: s.Days, ClosedHours: r.ClosedHours})
		}
	}
	for i := range r.Stages {
		s := &r.Stages[i]
		if s.N > stage {
			continue
		}
		row := WaterRow{Part: stageName(s.N), Force: s.Force, Ban: s.Ban, Days: s.Days, ClosedHours: s.ClosedHours}
		if slices.ContainsFunc(r.Stages, func(o WaterStage) bool { return o.N <= stage && slices.Contains(o.ReplacesDaysOf, s.N) }) {
			row.Days = nil
		}
		rows = append(rows, row)
	}
	return rows, true
}
