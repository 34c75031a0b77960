package watering

import (
	"slices"

	"ligule/internal/civil"
)

// Row is one row of the table that a page prints: the days and closed
// hours of a schedule or stage in force.
type Row struct {
	Part        string
	Force       string
	Ban         bool
	Days        []Days // none: every day, or the days stand in another row
	ClosedHours []Hours
}

// Table returns the rows in force at noon of a day, those that hold at any
// stage first; known is false if nobody knows which stage is declared, and the
// rows are then only those that hold at any. A rule by odd and even dates
// shows in no row.
func (r *Record) Table(d civil.Date) (rows []Row, known bool) {
	stage, known := r.declaredStage(d)
	force := r.standingForce()
	const noon = 12 * 60
	for i := range r.Schedules {
		if s := &r.Schedules[i]; s.When.on(r, Question{Date: d, Minute: noon}) {
			rows = append(rows, Row{Part: s.ID, Force: force, Days: s.Days, ClosedHours: r.ClosedHours})
		}
	}
	if len(rows) == 0 && len(r.ClosedHours) > 0 {
		rows = append(rows, Row{Force: force, ClosedHours: r.ClosedHours})
	}
	for i := range r.Stages {
		s := &r.Stages[i]
		if s.N > stage || !known {
			continue
		}
		row := Row{Part: stageName(s.N), Force: s.Force, Ban: s.Ban, Days: s.Days, ClosedHours: s.ClosedHours}
		if r.replaced(s.N, stage) {
			row.Days = nil
		}
		rows = append(rows, row)
	}
	return rows, known
}

// Turns reports whether on some day of the week other rows are in force than on
// the day before it: a stage is declared or lifted, a schedule begins or is over, a
// law takes effect or runs out.
func (w Week) Turns() bool {
	return slices.ContainsFunc(w.Laws, func(l Law) bool {
		was := l.Record.parts(w.Monday - 1)
		for i := range l.Stage {
			if !slices.Equal(l.Record.parts(w.Monday.AddDays(i)), was) {
				return true
			}
		}
		return false
	})
}

// parts names the rows in force on a day.
func (r *Record) parts(d civil.Date) (out []string) {
	if d < r.EffectiveFrom || !r.EffectiveTo.IsZero() && d > r.EffectiveTo {
		return []string{"none"}
	}
	rows, _ := r.Table(d)
	for _, row := range rows {
		out = append(out, row.Part)
	}
	return out
}
