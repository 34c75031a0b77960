package watering

import (
	"slices"
	"strconv"
	"time"

	"ligule/internal/diag"
	"ligule/internal/law"
)

// IsRecord reports whether a file holds a watering law, which says with
// what force it holds, and not a fertilizer law.
func IsRecord(t *diag.Table) bool { return t.Has("force") }

// ReadRecord reads a watering law strictly, as [law.ReadRecord] does a
// fertilizer law.
func ReadRecord(t *diag.Table) *Record {
	r := &Record{Header: law.ReadHeader(t)}
	r.loc, _ = law.TimeZone(r.TZ)
	r.Title = t.OptText("title")
	if t.Has("source_url") {
		r.SourceURL = law.WebAddress(t, "source_url")
	}
	r.Force = t.One("force", "mandatory", "voluntary", "by_stage")
	r.SourceWater = t.Words("source_water", true, "public", "well", "surface", "reclaimed")
	r.NoNumber = groupOf(t, "no_number", "odd", "even")
	r.LetterSuffix = groupOf(t, "letter_suffix", "ignore")
	r.CalendarParity = t.Bool("calendar_parity")
	r.ClosedOn31st = t.Bool("closed_on_31st")
	r.ClosedHours = closedHours(t)
	r.MaxDepthIn = law.OptValue(t, "max_depth_in", 0, 10)
	r.MaxMinutesPerStation = law.OptValue(t, "max_minutes_per_station", 0, 1440)
	for _, x := range t.Tables("schedules") {
		r.Schedules = append(r.Schedules, readSchedule(x))
	}
	for _, x := range t.Tables("stages") {
		r.Stages = append(r.Stages, readStage(x, r.Stages))
	}
	numbers := make([]int, len(r.Stages))
	for i, s := range r.Stages {
		numbers[i] = s.N
	}
	for _, x := range t.Tables("declared") {
		r.Declared = append(r.Declared, readDeclared(x, numbers))
	}
	for _, x := range t.Tables("exempt") {
		r.Exempt = append(r.Exempt, readExempt(x, numbers))
	}
	if r.Force == "by_stage" && len(r.Stages) == 0 {
		t.Errorf("force", "add stages", "a law by stages without a stage")
	}
	if len(r.Stages) == 0 && len(r.Schedules) == 0 && len(r.ClosedHours) == 0 && !r.CalendarParity && !r.ClosedOn31st {
		t.Errorf("schedules", "add schedules, stages or closed_hours", "a watering law that limits nothing")
	}
	t.Close()
	return r
}

// groupOf reads the group of a lot: one of the words given, or digit:N.
func groupOf(t *diag.Table, key string, known ...string) string {
	s := t.OptText(key)
	if _, digit := digitOf(s); s == "" || digit || slices.Contains(known, s) {
		return s
	}
	t.Errorf(key, diag.DidYouMean(s, append(known, "digit:0 to digit:9")), "unknown value %q", s)
	return ""
}

func readSchedule(t *diag.Table) Schedule {
	s := Schedule{Pos: t.Pos(""), ID: t.ID("id"), Days: weekdaysOf(t)}
	if w := t.Table("when", false); w != nil {
		s.When = &When{}
		if kind := w.One("kind", "dst", "annual"); kind == "dst" {
			s.When.DST = true
			if !w.Has("active") {
				w.Errorf("active", "add active = true or false", "missing")
			}
			s.When.Active = w.Bool("active")
			w.Close()
		} else if kind == "annual" {
			s.When.Annual = law.ReadWhen(w)
		}
	}
	t.Close()
	return s
}

func readStage(t *diag.Table, before []Stage) Stage {
	s := Stage{Pos: t.Pos("")}
	s.N = t.Int("n")
	if t.Has("n") && (s.N < 1 || s.N > 20) {
		t.Errorf("n", "number the stages from 1", "%d is outside 1 to 20", s.N)
	}
	if slices.ContainsFunc(before, func(o Stage) bool { return o.N >= s.N }) {
		t.Errorf("n", "list each stage once, the mildest first", "stage %d does not follow the one before", s.N)
	}
	s.Name = t.Text("name")
	s.Force = t.One("force", "mandatory", "voluntary")
	s.ClosedHours = closedHours(t)
	s.Days = weekdaysOf(t)
	s.Ban = t.Bool("ban")
	s.ReplacesDaysOf = stageNumbers(t, "replaces_days_of", nil)
	for i, n := range s.ReplacesDaysOf {
		if !slices.ContainsFunc(before, func(o Stage) bool { return o.N == n && len(o.Days) > 0 }) {
			t.Errorf(diag.Element("replaces_days_of", i), "name an earlier stage that lists days", "stage %d has no days to replace", n)
		}
	}
	t.Close()
	return s
}

func readDeclared(t *diag.Table, stages []int) DeclaredStage {
	d := DeclaredStage{Pos: t.Pos("")}
	d.Stage = t.Int("stage")
	if t.Has("stage") && !slices.Contains(stages, d.Stage) {
		t.Errorf("stage", "add it to stages", "there is no stage %d", d.Stage)
	}
	d.From = t.Date("from")
	d.To, _ = t.OptDate("to")
	d.AssumeUntil, _ = t.OptDate("assume_until")
	if t.Has("to") == t.Has("assume_until") {
		t.Errorf("to", "add to, or assume_until for an order without an end", "an order has one of to and assume_until")
	}
	if end := max(d.To, d.AssumeUntil); !end.IsZero() && end < d.From {
		t.Errorf("from", "put it before its end", "%s is after the order ends", d.From)
	}
	t.Close()
	return d
}

func readExempt(t *diag.Table, stages []int) Exemption {
	x := Exemption{}
	x.What = t.One("what", exemptions()...)
	x.Stages = stageNumbers(t, "stages", stages)
	switch x.What {
	case "new_turf":
		x.AnyDay = law.ReadDayRange(t, "any_day")
		x.AlternateDay = law.ReadDayRange(t, "alternate_day")
		if x.AnyDay == nil && x.AlternateDay == nil {
			t.Errorf("any_day", "write any_day = [0, 29]", "missing")
		}
	case "water_in":
		if x.MaxIn = law.OptValue(t, "max_in", 0, 5); x.MaxIn == nil {
			t.Errorf("max_in", "write max_in = 0.25", "missing")
		}
		x.WithinHours = t.Int("within_hours")
		if t.Has("within_hours") && (x.WithinHours < 1 || x.WithinHours > 240) {
			t.Errorf("within_hours", "write the hours after spreading", "%d is outside 1 to 240", x.WithinHours)
		}
	}
	if x.What != "" {
		t.Close()
	}
	return x
}

// stageNumbers reads a list of stages; known, if not nil, are those there are.
func stageNumbers(t *diag.Table, key string, known []int) []int {
	v, ok := t.Raw(key)
	if !ok {
		return nil
	}
	list, isList := v.([]any)
	if !isList || len(list) == 0 {
		t.Errorf(key, "write [1, 2]", "not a list of stages")
		return nil
	}
	var out []int
	for i, el := range list {
		n, isInt := el.(int64)
		if !isInt || n < 1 || n > 20 || known != nil && !slices.Contains(known, int(n)) {
			t.Errorf(diag.Element(key, i), "write the number of a stage", "no stage")
			continue
		}
		out = append(out, int(n))
	}
	return out
}

// exemptions are the ways and purposes of watering that a law may free.
func exemptions() []string {
	return []string{"drip", "hand_held_shutoff", "reclaimed", "new_turf", "water_in", "system_test"}
}

// groups are the groups of lots in the order in which tables print them.
func groups() []string {
	return []string{"odd", "even", "digit_0_1", "digit_2_3", "digit_4_5", "digit_6_7", "digit_8_9", "nonresidential"}
}

func weekdaysOf(t *diag.Table) []Days {
	sub := t.Table("days", false)
	if sub == nil {
		return nil
	}
	var out []Days
	for _, g := range groups() {
		if !sub.Has(g) {
			continue
		}
		d := Days{Group: g}
		for _, name := range sub.Words(g, true, law.Weekdays()...) {
			if i := slices.Index(law.Weekdays(), name); i >= 0 {
				d.Days = append(d.Days, time.Weekday(i))
			}
		}
		out = append(out, d)
	}
	if byParity, byDigit := numbering(out); byParity && byDigit {
		t.Errorf("days", "list the days by odd and even, or by last digits", "a number is in two groups")
	}
	for _, k := range sub.Keys() {
		if !slices.Contains(groups(), k) {
			sub.Raw(k)
			sub.Errorf(k, diag.DidYouMean(k, groups()), "unknown group %q", k)
		}
	}
	return out
}

// numbering reports how a list of days tells house numbers apart.
func numbering(list []Days) (byParity, byDigit bool) {
	for _, d := range list {
		switch d.Group {
		case "nonresidential":
		case "odd", "even":
			byParity = true
		default:
			byDigit = true
		}
	}
	return byParity, byDigit
}

func closedHours(t *diag.Table) []Hours {
	const key = "closed_hours"
	v, ok := t.Raw(key)
	if !ok {
		return nil
	}
	list, _ := v.([]any)
	var out []Hours
	for i, el := range list {
		pair, _ := el.([]any)
		if len(pair) == 2 {
			from, okFrom := clock(pair[0])
			to, okTo := clock(pair[1])
			if okFrom && okTo && from != to && from < 24*60 {
				out = append(out, Hours{from, to})
				continue
			}
		}
		t.Errorf(diag.Element(key, i), `write ["10:00", "16:00"]: the second is no longer closed`, "not two times of the day")
	}
	if len(list) == 0 {
		t.Errorf(key, `write [["10:00", "16:00"]]`, "not a list of hours")
	}
	return out
}

// clock reads "16:00" as minutes after midnight; "24:00" is the day's end.
func clock(v any) (minute int, ok bool) {
	s, is := v.(string)
	if !is || len(s) != 5 || s[2] != ':' {
		return 0, false
	}
	h, errH := strconv.ParseUint(s[:2], 10, 8)
	m, errM := strconv.ParseUint(s[3:], 10, 8)
	minute = int(h)*60 + int(m)
	return minute, errH == nil && errM == nil && m < 60 && minute <= 24*60
}
