package disease

import (
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Limits are the week scores at which a grade changes.
type Limits struct {
	Watch, Act float64 // up from this score on
	LeaveWatch float64 // down below this score, two issues in a row
	LeaveAct   float64
	Confirmed  float64 // a confirmed report makes it act from this score on
	CommonHost float64 // added to all of them but Confirmed on a common host
	Cite       turf.Cite
}

// lowIssues is how many issues in a row a score has to be low for a step down.
const lowIssues = 2

// GradeStep is what one issue adds to the stepping of a grade.
type GradeStep struct {
	Score     float64    // the week score, 0 to 1; NaN if it is not known
	Host      int        // rank of the grass
	Confirmed bool       // a confirmed report stands
	Cap       pest.Grade // highest grade that may be given
	Stop      bool       // quiet at once, whatever the score
}

// GradeState is where the stepping stands. The zero value is the start: quiet.
type GradeState struct {
	Grade   pest.Grade
	Low     int // issues in a row with a score below what the grade needs to stay
	Unknown int // issues in a row without a score
}

// Step returns the state after one more issue. Up goes at once, down one grade
// after two low issues in a row; a score of at least the lower limit starts the
// count again, and so does a step down. Without a score the grade is held; the
// second time running it is not known, and starts again at quiet. A stop and a
// cap work at once.
//
// Scores are compared at three decimals. Own design.
func (l Limits) Step(s GradeState, in GradeStep) GradeState {
	top := in.Cap
	switch {
	case in.Host <= pest.NoHost:
		top = pest.Quiet
	case in.Host == pest.MinorHost:
		top = min(top, pest.Watch)
	}
	score := quantity.Thousandths(in.Score)
	switch {
	case in.Stop:
		return GradeState{}
	case !(score >= 0):
		s.Unknown++
		if s.Unknown >= lowIssues {
			s.Grade, s.Low = pest.Quiet, 0
		}
		s.Grade = min(s.Grade, top)
		return s
	}
	s.Unknown = 0
	if up := l.up(score, in); up > s.Grade {
		s.Grade, s.Low = up, 0
	} else if up < s.Grade && score < l.leave(s.Grade, in.Host) {
		if s.Low++; s.Low >= lowIssues {
			s.Grade, s.Low = s.Grade-1, 0
		}
	} else {
		s.Low = 0
	}
	if s.Grade > top {
		s.Grade, s.Low = top, 0
	}
	return s
}

// Known reports whether the last issues gave a grade.
func (s GradeState) Known() bool { return s.Unknown < lowIssues }

// up returns the grade that the score alone would give.
func (l Limits) up(score float64, in GradeStep) pest.Grade {
	watch, act := l.On(in.Host)
	switch {
	case score >= quantity.Thousandths(act), in.Confirmed && score >= l.Confirmed:
		return pest.Act
	case score >= quantity.Thousandths(watch):
		return pest.Watch
	}
	return pest.Quiet
}

// On returns the scores from which a host of a rank is at watch and at act.
func (l Limits) On(host int) (watch, act float64) {
	if host == pest.CommonHost {
		return l.Watch + l.CommonHost, l.Act + l.CommonHost
	}
	return l.Watch, l.Act
}

// leave returns the score below which a grade is on its way down on a host of a rank.
func (l Limits) leave(g pest.Grade, host int) float64 {
	x := l.LeaveWatch
	if g == pest.Act {
		x = l.LeaveAct
	}
	if host == pest.CommonHost {
		x += l.CommonHost
	}
	return x
}
