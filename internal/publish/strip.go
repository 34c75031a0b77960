package publish

import (
	"strconv"

	"ligule/internal/bulletin"
	"ligule/internal/chart"
	"ligule/internal/civil"
	"ligule/internal/message"
)

// stripView draws the closed days of one year: a row for each question, the
// closed days as hatched bars.
type stripView struct {
	*bulletin.ClosedYear
	Width, Height string
	Months        []monthView
	Rows          []stripRow
	Issued        civil.Date
	Excepted      bool // some bar has exceptions
}

type stripRow struct {
	bulletin.ClosedRow
	LabelY, BarY  string
	Ticks, Needle string // paths: where months begin ("" without bars: they would cross the words) and the issue date
	Bars          []stripBar
	BareX, BareY  string // of the words in place of bars
	BareAt        string // start or end: the side of the row that the needle leaves free
}

// stripBar is a run of closed days. Excepted ones are lifted by exceptions of
// the law.
type stripBar struct {
	barView
	Excepted bool
}

// The picture's measures, in its own units: a day is one wide, text is 13 high,
// and the whole is narrow enough that text stays readable on a small screen.
const (
	stripScale  = 0.92 // units for a day, of the ribbon too
	stripAxis   = 20   // height of the months
	stripRowTop = 42   // from one row to the next
	stripLabel  = 14   // from a row's top to the foot of its label
	stripBarTop = 20
	stripBarH   = 14
)

// strip draws a year of closed days; nil if there is none.
func (e *press) strip(y *bulletin.ClosedYear, issued civil.Date) *stripView {
	if y == nil {
		return nil
	}
	from, to := civil.MustDate(y.Year, 1, 1), civil.MustDate(y.Year, 12, 31)
	days := chart.Days{First: from, Unit: stripScale}
	s := &stripView{ClosedYear: y, Width: chart.Number(days.At(to + 1)), Height: strconv.Itoa(stripAxis + len(y.Rows)*stripRowTop), Issued: issued}
	s.Months = e.months(days, to)
	for i, row := range y.Rows {
		top := stripAxis + i*stripRowTop
		r := stripRow{ClosedRow: row, LabelY: strconv.Itoa(top + stripLabel), BarY: strconv.Itoa(top + stripBarTop)}
		r.Needle = needle(days, issued, top+stripBarTop-2, stripBarH+4)
		for _, run := range row.Runs {
			r.Bars = append(r.Bars, stripBar{barAt(days, run.First, run.Last), run.Excepted})
			s.Excepted = s.Excepted || run.Excepted
		}
		if len(r.Bars) > 0 {
			r.Ticks = ticks(s.Months, top+stripBarTop, stripBarH)
		} else {
			r.BareX, r.BareY, r.BareAt = "4", strconv.Itoa(top+stripBarTop+stripBarH-3), "start"
			if issued-from < (to-from)/2 {
				r.BareX, r.BareAt = chart.Number(days.At(to+1)-4), "end"
			}
		}
		s.Rows = append(s.Rows, r)
	}
	return s
}

// monthView is a month above a picture of a year.
type monthView struct {
	At, Middle, Letter string
	Year               string // at January
}

// months are those from the first day of a picture through its last.
func (e *press) months(days chart.Days, last civil.Date) []monthView {
	var out []monthView
	for first := days.First; first < last; first = first.AddMonths(1) {
		at, next := days.At(first), days.At(first.AddMonths(1))
		m := monthView{At: chart.Number(at), Middle: chart.Number((at + next) / 2), Letter: e.Voice.Value(message.Initial(first.Month()))}
		if first.Month() == 1 {
			m.Year = strconv.Itoa(first.Year())
		}
		out = append(out, m)
	}
	return out
}

// ticks is the path of the lines between months.
func ticks(months []monthView, top, height int) string {
	var path string
	for _, m := range months[1:] {
		path += "M" + m.At + " " + strconv.Itoa(top) + "v" + strconv.Itoa(height)
	}
	return path
}

// needle is the path of the line at the issue date.
func needle(days chart.Days, issued civil.Date, top, height int) string {
	return "M" + chart.Number(days.At(issued)+days.Unit/2) + " " + strconv.Itoa(top) + "v" + strconv.Itoa(height)
}

// barView is where a run of days lies.
type barView struct{ X, Width string }

func barAt(days chart.Days, first, last civil.Date) barView {
	return barView{chart.Number(days.At(first)), chart.Number(days.At(last+1) - days.At(first))}
}
