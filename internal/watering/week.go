package watering

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/law"
)

// Week is what the watering laws of a place say of a week: not one
// answer but a table, since days and hours go by house numbers.
type Week struct {
	Place  law.Place
	Monday civil.Date
	Source string // the water asked about: public, well, surface, reclaimed

	// State is no_record (no law on file speaks: nothing is known, and
	// silence is not permission), closed_all (no lot may be watered at any
	// time), not_cleared (some time is not cleared), limited, advised_against,
	// or open.
	State  string
	Groups []Group  // the rows of the table; none if no law speaks
	Laws   []Law    // that speak, upper first, then by id
	Soon   []Law    // that take effect within 90 days and do not speak yet
	Unread []string // jurisdictions of the chain without a watering law on file

	// MaxDepthIn (inches at a time) and MaxMinutes (of a station) are the
	// lowest over all laws that speak, nil if none has one. They are printed
	// and never tested.
	MaxDepthIn, MaxMinutes *Cap

	WaterIn WaterInTerms // of a product that was spread
	Exempt  []Freed      // what every law that closes something frees, on all days
}

// Cap is a figure with the law that sets it.
type Cap struct {
	Value  float64
	Record *Record
}

// Group is a row: lots that have the same days and hours.
type Group struct {
	// Group names the lots: all, numbered (every number), odd, even,
	// digit_0_1 … digit_8_9, digits (see Digits), letter (only numbers that
	// end in a letter), no_number, nonresidential (all of those).
	Group          string
	Digits         []int // last digits of the house numbers
	Letters        []int // last digits before the letter, of numbers that end in one
	NoNumber       bool  // lots without a number belong here
	Nonresidential bool  // the row is about other than homes; else about homes, or about both
	Days           [7]Day
}

// Day is one day of a group.
type Day struct {
	Date civil.Date
	// Verdict is the mildest of the day: open if there is a time at which
	// watering is open.
	Verdict Verdict
	Spans   []Span // from midnight to midnight, without gaps
}

// Span is a part of a day in local wall time, in minutes after midnight.
type Span struct {
	Hours
	Verdict Verdict
	By      []Part // what decides it, upper law first
}

// Part is the part of a law that decides, as in [Answer].
type Part struct {
	Record    *Record
	Part, Why string
}

// At returns the parts of the day with a verdict.
func (d Day) At(v Verdict) []Hours {
	var out []Hours
	for _, s := range d.Spans {
		if s.Verdict == v {
			out = append(out, s.Hours)
		}
	}
	return out
}

// WaterInTerms says whether watering in a product is exempt.
type WaterInTerms struct {
	// State is not_needed (nothing is closed in the week), exempt (from every
	// law that closes something), not_cleared or not_exempt; of the days of
	// the week the strictest. It is "" if no law speaks.
	State string
	// MaxIn is the most water in inches, and Hours how long after spreading,
	// by the strictest of the laws that exempt; NaN and 0 without.
	MaxIn float64
	Hours int
	Laws  []*Record // that decide
}

// Freed is a way or purpose of watering that is exempt, with each law's
// own terms.
type Freed struct {
	What string
	By   []Grant
}

// Grant is an exemption in one law.
type Grant struct {
	Record    *Record
	Exemption *Exemption
}

// Week answers for the seven days from a Monday on, for sprinklers with
// water from a source ("" = public). asOf decides what is stale. Per day and
// hour the strictest law holds; caps are the lowest.
func (b *Book) Week(place law.Place, source string, monday, asOf civil.Date) Week {
	source = cmp.Or(source, "public")
	w := Week{Place: place, Monday: monday, Source: source}
	var records []*Record
	records, w.Unread = b.over(place)
	for _, r := range records {
		switch l, speaks, ok := r.inWeek(source, monday, asOf); {
		case speaks:
			w.Laws = append(w.Laws, l)
		case ok:
			w.Soon = append(w.Soon, l)
		}
	}
	w.State = "no_record"
	if len(w.Laws) == 0 {
		w.WaterIn.MaxIn = math.NaN()
		return w
	}
	for _, l := range w.Laws {
		lower(&w.MaxDepthIn, l.Record.MaxDepthIn, l.Record)
		lower(&w.MaxMinutes, l.Record.MaxMinutesPerStation, l.Record)
	}
	w.groups(asOf)
	w.state()
	w.exemptions()
	return w
}

func lower(c **Cap, x *float64, r *Record) {
	if x != nil && (*c == nil || *x < (*c).Value) {
		*c = &Cap{*x, r}
	}
}

// lotKind is a kind of house number, of which every law treats all alike.
type lotKind struct {
	digit  int // -1: no number
	letter bool
}

// lotKinds lists the kinds: ten digits, ten digits with a letter, no number.
func lotKinds() []lotKind {
	var out []lotKind
	for _, letter := range []bool{false, true} {
		for d := range 10 {
			out = append(out, lotKind{d, letter})
		}
	}
	return append(out, lotKind{digit: -1})
}

func (k lotKind) house() string {
	switch {
	case k.digit < 0:
		return ""
	case k.letter:
		return strconv.Itoa(k.digit) + "A"
	}
	return strconv.Itoa(k.digit)
}

// groups makes the rows: lots whose verdicts agree at every moment share one.
// Other than homes get rows of their own only if they differ.
func (w *Week) groups(asOf civil.Date) {
	kinds := lotKinds()
	letterIgnored := !slices.ContainsFunc(w.Laws, func(l Law) bool { return l.Record.LetterSuffix != "ignore" })
	rows := func(nonresidential bool) (out []Group, signs []string) {
		var found []string
		asked := map[int][7]Day{} // by digit, of numbers without a letter
		for _, k := range kinds {
			days, same := asked[k.digit]
			if !same || !letterIgnored {
				for i := range days {
					days[i] = w.day(w.Monday.AddDays(i), k.house(), nonresidential, asOf)
				}
			}
			if !k.letter {
				asked[k.digit] = days
			}
			var b strings.Builder
			for _, d := range days {
				d.sign(&b)
			}
			sign := b.String()
			signs = append(signs, sign)
			at := slices.Index(found, sign)
			if at < 0 {
				found = append(found, sign)
				out = append(out, Group{Nonresidential: nonresidential, Days: days})
				at = len(out) - 1
			}
			out[at].take(k, days)
		}
		for i := range out {
			out[i].name()
		}
		slices.SortStableFunc(out, func(x, y Group) int { return cmp.Compare(x.rank(), y.rank()) })
		return out, signs
	}
	homes, signsHomes := rows(false)
	w.Groups = homes
	if !slices.ContainsFunc(w.Laws, func(l Law) bool { return l.Record.tellsHomesApart() }) {
		return
	}
	others, signsOthers := rows(true)
	if slices.Equal(signsHomes, signsOthers) {
		return
	}
	if len(others) == 1 {
		others[0].Group = "nonresidential"
	}
	w.Groups = append(w.Groups, others...)
}

// tellsHomesApart reports whether some list of days is for other than homes.
func (r *Record) tellsHomesApart() bool {
	apart := func(list []Days) bool {
		return slices.ContainsFunc(list, func(d Days) bool { return d.Group == "nonresidential" })
	}
	return slices.ContainsFunc(r.Schedules, func(s Schedule) bool { return apart(s.Days) }) ||
		slices.ContainsFunc(r.Stages, func(s Stage) bool { return apart(s.Days) })
}

// take adds a kind of lot to the row.
func (g *Group) take(k lotKind, days [7]Day) {
	switch {
	case k.digit < 0:
		g.NoNumber = true
	case k.letter:
		g.Letters = append(g.Letters, k.digit)
	default:
		g.Digits = append(g.Digits, k.digit)
	}
	for i := range g.Days {
		for n := range g.Days[i].Spans {
			s := &g.Days[i].Spans[n]
			s.By = union(s.By, days[i].Spans[n].By)
		}
	}
}

// rank orders rows as groups of lots are listed.
func (g *Group) rank() int {
	order := append([]string{"all", "numbered"}, groups()...)
	order = append(order, "digits", "letter", "no_number")
	return slices.Index(order, g.Group)
}

func (g *Group) name() {
	parity := map[bool]int{}
	for _, d := range g.Digits {
		parity[d%2 == 1]++
	}
	switch n := len(g.Digits); {
	case n == 10 && len(g.Letters) == 10 && g.NoNumber:
		g.Group = "all"
	case n == 10:
		g.Group = "numbered"
	case n == 5 && parity[true] == 5:
		g.Group = "odd"
	case n == 5 && parity[false] == 5:
		g.Group = "even"
	case n == 2 && g.Digits[0]%2 == 0 && g.Digits[1] == g.Digits[0]+1:
		g.Group = digitGroup(g.Digits[0])
	case n > 0:
		g.Group = "digits"
	case len(g.Letters) > 0:
		g.Group = "letter"
	default:
		g.Group = "no_number"
	}
}

// sign writes the day's verdicts, so that equal days have equal signs.
func (d Day) sign(b *strings.Builder) {
	for _, s := range d.Spans {
		b.WriteString(strconv.Itoa(s.To))
		b.WriteByte("oanc"[s.Verdict])
	}
	b.WriteByte('|')
}

const dayMinutes = 24 * 60

// day answers for one lot and day by asking at every moment at which an
// answer can change.
func (w *Week) day(d civil.Date, house string, nonresidential bool, asOf civil.Date) Day {
	out := Day{Date: d, Verdict: Closed}
	moments, laws := w.moments(d), w.records()
	out.Spans = make([]Span, 0, len(moments))
	for i, from := range moments {
		to := dayMinutes
		if i+1 < len(moments) {
			to = moments[i+1]
		}
		q := Question{Date: d, Minute: from, AsOf: asOf, House: house, Nonresidential: nonresidential, Source: w.Source}
		s := Span{Hours: Hours{from, to}}
		var said []Said
		s.Verdict, said = askAll(laws, q)
		for _, x := range said {
			if x.Verdict == s.Verdict {
				s.By = append(s.By, Part{x.Record, x.Part, x.Why})
			}
		}
		out.Verdict = min(out.Verdict, s.Verdict)
		if n := len(out.Spans); n > 0 && out.Spans[n-1].Verdict == s.Verdict {
			out.Spans[n-1].To = to
			out.Spans[n-1].By = union(out.Spans[n-1].By, s.By)
			continue
		}
		out.Spans = append(out.Spans, s)
	}
	return out
}

func (w *Week) records() []*Record {
	out := make([]*Record, len(w.Laws))
	for i, l := range w.Laws {
		out[i] = l.Record
	}
	return out
}

// moments lists the minutes of a day at which an answer can change: the bounds
// of closed hours, and on a day on which the clock changes every half hour.
func (w *Week) moments(d civil.Date) []int {
	out := []int{0}
	add := func(list []Hours) {
		for _, h := range list {
			out = append(out, h.From, h.To)
		}
	}
	for _, l := range w.Laws {
		r := l.Record
		add(r.ClosedHours)
		for i := range r.Stages {
			add(r.Stages[i].ClosedHours)
		}
		if r.instant(d, 0).IsDST() != r.instant(d, dayMinutes).IsDST() {
			for m := 0; m < dayMinutes; m += 30 {
				out = append(out, m)
			}
		}
	}
	slices.Sort(out)
	out = slices.Compact(out)
	return slices.DeleteFunc(out, func(m int) bool { return m >= dayMinutes })
}

// union joins two lists of parts without repeats.
func union(a, b []Part) []Part {
	for _, p := range b {
		if !slices.Contains(a, p) {
			a = append(slices.Clip(a), p)
		}
	}
	return a
}

func (w *Week) state() {
	var has [Closed + 1]bool
	for _, g := range w.Groups {
		for _, d := range g.Days {
			for _, s := range d.Spans {
				has[s.Verdict] = true
			}
		}
	}
	switch {
	case has[Closed] && !has[Open] && !has[AdvisedAgainst] && !has[NotCleared]:
		w.State = "closed_all"
	case has[NotCleared]:
		w.State = NotCleared.String()
	case has[Closed]:
		w.State = "limited"
	case has[AdvisedAgainst]:
		w.State = AdvisedAgainst.String()
	default:
		w.State = Open.String()
	}
}
