package publish

import (
	"slices"
	"strconv"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/quantity"
)

// stripView draws the closed days of one year: a row for each question, the
// closed days as hatched bars, and the same as a table.
type stripView struct {
	Year          int
	Name          string // of the place
	Sentences     []string
	Width, Height string
	Months        []stripMonth
	Rows          []stripRow
	Issued        civil.Date
	Excepted      bool // some bar has exceptions
	Table         []stripLine
}

type stripMonth struct{ At, Middle, Letter string }

type stripRow struct {
	Label             string
	LabelY, BarY      string
	Ticks, Needle     string // paths: where months begin ("" without bars: they would cross the words) and the issue date
	Bars              []stripBar
	Say               string // in place of bars; "" if there is one
	SayX, SayY, SayAt string // SayAt is start or end: the side of the row that the needle leaves free
}

// stripBar is a run of closed days. Excepted ones are lifted by exceptions of
// the law.
type stripBar struct {
	X, Width string
	Excepted bool
}

// stripLine is a row of the table: one law's part of a closed span.
type stripLine struct {
	What        string
	First, Last civil.Date // Last is zero if no end is on record
	Law         string
	Excepted    string // what lifts it, in words; "" for nothing
}

// The picture's measures, in its own units: a day is one wide, text is 13 high,
// and the whole is narrow enough that text stays readable on a small screen.
const (
	stripScale  = 0.92 // units for a day
	stripAxis   = 20   // height of the months
	stripRowTop = 42   // from one row to the next
	stripLabel  = 14   // from a row's top to the foot of its label
	stripBarTop = 20
	stripBarH   = 14
)

// closedRun is one unbroken run of closed days of a row.
type closedRun struct {
	first, last civil.Date
	excepted    bool
}

// stripOf draws the year of a date for a place, as its laws are known on that
// date; ok is false if no law closes a day of it.
func (v viewer) stripOf(place law.Place, asOf civil.Date) (s stripView, ok bool) {
	year := asOf.Year()
	from, to := civil.MustDate(year, 1, 1), civil.MustDate(year, 12, 31)
	at := func(d civil.Date) float64 { return float64(d-from) * stripScale }
	s = stripView{Year: year, Name: place.Name, Width: tenthText(at(to + 1)), Issued: asOf}
	for m := 1; m <= 12; m++ {
		first := civil.MustDate(year, m, 1)
		next := first.AddMonths(1)
		s.Months = append(s.Months, stripMonth{tenthText(at(first)), tenthText((at(first) + at(next)) / 2), first.Time().Format("January")[:1]})
	}
	for _, row := range v.stripQuestions(place, from, to, asOf) {
		i := len(s.Rows)
		top := stripAxis + i*stripRowTop
		r := stripRow{Label: row.label, LabelY: strconv.Itoa(top + stripLabel), BarY: strconv.Itoa(top + stripBarTop)}
		r.Needle = "M" + tenthText(at(asOf)+stripScale/2) + " " + strconv.Itoa(top+stripBarTop-2) + "v" + strconv.Itoa(stripBarH+4)
		for _, run := range row.runs(from, to) {
			r.Bars = append(r.Bars, stripBar{tenthText(at(run.first)), tenthText(at(run.last+1) - at(run.first)), run.excepted})
			s.Excepted = s.Excepted || run.excepted
		}
		if len(r.Bars) > 0 {
			for _, m := range s.Months[1:] {
				r.Ticks += "M" + m.At + " " + r.BarY + "v" + strconv.Itoa(stripBarH)
			}
		} else {
			r.Say, r.SayY = v.must("law_strip", "none_short"), strconv.Itoa(top+stripBarTop+stripBarH-3)
			r.SayX, r.SayAt = "4", "start"
			if asOf-from < (to-from)/2 {
				r.SayX, r.SayAt = tenthText(at(to+1)-4), "end"
			}
		}
		ok = ok || len(r.Bars) > 0
		s.Rows = append(s.Rows, r)
		s.Sentences = append(s.Sentences, v.stripSentence(row, from, to))
		s.Table = append(s.Table, v.stripLines(row, from, to)...)
	}
	s.Height = strconv.Itoa(stripAxis + len(s.Rows)*stripRowTop)
	return s, ok
}

// stripQuestion is a row: who asks about what, and the closed spans.
type stripQuestion struct {
	label string
	spans []law.Span
}

// stripQuestions asks about every nutrient for who does it at home and who is
// paid to; one row where both meet the same closed days.
func (v viewer) stripQuestions(place law.Place, from, to, asOf civil.Date) []stripQuestion {
	var out []stripQuestion
	for _, n := range law.Nutrients() {
		home, hire := asked{law.Homeowner, n}, asked{law.ForHire, n}
		h, f := v.seasons(place, home, from, to, asOf), v.seasons(place, hire, from, to, asOf)
		if slices.EqualFunc(h, f, sameSpan) {
			out = append(out, stripQuestion{upperFirst(v.askedOf([]asked{home, hire})), h})
			continue
		}
		out = append(out, stripQuestion{upperFirst(v.askedOf([]asked{home})), h}, stripQuestion{upperFirst(v.askedOf([]asked{hire})), f})
	}
	return out
}

func sameSpan(a, b law.Span) bool {
	return a.First == b.First && a.Last == b.Last && slices.Equal(a.Laws, b.Laws)
}

// runs cuts a row's spans to a stretch of days, and apart where an exception can
// lift what closes.
func (q stripQuestion) runs(from, to civil.Date) []closedRun {
	var out []closedRun
	for _, s := range q.spans {
		first, last := max(s.First, from), min(s.Last, to)
		for d := first; d <= last; {
			excepted := !strict(s, d)
			end := d
			for end < last && !strict(s, end+1) == excepted {
				end++
			}
			out = append(out, closedRun{d, end, excepted})
			d = end + 1
		}
	}
	return out
}

// strict reports whether a day of a span is closed by a law that knows no
// exception.
func strict(s law.Span, d civil.Date) bool {
	return slices.ContainsFunc(s.Laws, func(l law.SpanLaw) bool {
		return l.First <= d && d <= l.Last && (l.Rule == nil || len(l.Rule.Unless) == 0)
	})
}

// stripSentence says a row in words, for those who do not see it.
func (v viewer) stripSentence(q stripQuestion, from, to civil.Date) string {
	var parts []string
	for _, r := range q.runs(from, to) {
		id := "run"
		if r.excepted {
			id = "run_excepted"
		}
		parts = append(parts, v.say("law_strip."+id, "first", monthDay(r.first), "last", monthDay(r.last)))
	}
	if len(parts) == 0 {
		return v.say("law_strip.none", "what", q.label)
	}
	return v.say("law_strip.row", "what", q.label, "runs", strings.Join(parts, ", "))
}

// stripLines lists each law's part of a row's spans that touches the year. What closes for more than a
// year after the strip has no end on record.
func (v viewer) stripLines(q stripQuestion, from, to civil.Date) []stripLine {
	var out []stripLine
	for _, s := range q.spans {
		for _, l := range s.Laws {
			if l.Record == nil || l.Last < from || l.First > to {
				continue
			}
			line := stripLine{What: q.label, First: l.First, Last: l.Last, Law: v.say("law_strip.law", "law", l.Record.Title, "citation", ruleCitation(l))}
			if l.Last >= to.AddDays(yearAhead) {
				line.Last = 0
			}
			if l.Rule != nil && len(l.Rule.Unless) > 0 {
				line.Excepted = v.list("law_fact", l.Rule.Unless)
			}
			out = append(out, line)
		}
	}
	return out
}

// tenthText prints a coordinate.
func tenthText(x float64) string { return trimmed(quantity.Tenths(x)) }
