package publish

import (
	"strconv"

	"ligule/internal/chart"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/reference"
)

// stripView draws the closed days of one year: a row for each question, the
// closed days as hatched bars.
type stripView struct {
	*reference.ClosedYear
	Width, Height string
	Months        []stripMonth
	Rows          []stripRow
	Issued        civil.Date
	Excepted      bool // some bar has exceptions
}

type stripMonth struct{ At, Middle, Letter string }

type stripRow struct {
	reference.ClosedRow
	LabelY, BarY  string
	Ticks, Needle string // paths: where months begin ("" without bars: they would cross the words) and the issue date
	Bars          []stripBar
	BareX, BareY  string // of the words in place of bars
	BareAt        string // start or end: the side of the row that the needle leaves free
}

// stripBar is a run of closed days. Excepted ones are lifted by exceptions of
// the law.
type stripBar struct {
	X, Width string
	Excepted bool
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

// strip draws a year of closed days; nil if there is none.
func (v viewer) strip(y *reference.ClosedYear, issued civil.Date) *stripView {
	if y == nil {
		return nil
	}
	from, to := civil.MustDate(y.Year, 1, 1), civil.MustDate(y.Year, 12, 31)
	days := chart.Days{First: from, Unit: stripScale}
	s := &stripView{ClosedYear: y, Width: chart.Number(days.At(to + 1)), Height: strconv.Itoa(stripAxis + len(y.Rows)*stripRowTop), Issued: issued}
	for m := 1; m <= 12; m++ {
		first := civil.MustDate(y.Year, m, 1)
		next := first.AddMonths(1)
		s.Months = append(s.Months, stripMonth{chart.Number(days.At(first)), chart.Number((days.At(first) + days.At(next)) / 2), v.Value(message.Initial(m))})
	}
	for i, row := range y.Rows {
		top := stripAxis + i*stripRowTop
		r := stripRow{ClosedRow: row, LabelY: strconv.Itoa(top + stripLabel), BarY: strconv.Itoa(top + stripBarTop)}
		r.Needle = "M" + chart.Number(days.At(issued)+stripScale/2) + " " + strconv.Itoa(top+stripBarTop-2) + "v" + strconv.Itoa(stripBarH+4)
		for _, run := range row.Runs {
			r.Bars = append(r.Bars, stripBar{chart.Number(days.At(run.First)), chart.Number(days.At(run.Last+1) - days.At(run.First)), run.Excepted})
			s.Excepted = s.Excepted || run.Excepted
		}
		if len(r.Bars) > 0 {
			for _, m := range s.Months[1:] {
				r.Ticks += "M" + m.At + " " + r.BarY + "v" + strconv.Itoa(stripBarH)
			}
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
