package replay

import (
	"cmp"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/reference"
	"ligule/internal/workspace"
)

const (
	// lookDays is how long after an issue what scouts find is held against it.
	lookDays = 14

	// leastEvents is how many finds a score needs. Own design.
	leastEvents = 10

	// leastPairs is how many pairs of a grade give it a probability of its own.
	// Own design.
	leastPairs = 30
)

// The grades of a disease.
const (
	gradeAct   = "act"
	gradeWatch = "watch"
)

// startProbability is what a grade is taken to mean before enough is known.
// Own design.
func startProbability(grade string) float64 {
	switch grade {
	case gradeAct:
		return 0.50
	case gradeWatch:
		return 0.20
	}
	return 0.05
}

// probabilityAfter is what a grade means after so many events in pairs of past
// years: (k+1)/(n+2). Own design (rule of succession).
func probabilityAfter(events, pairs int) float64 {
	return float64(events+1) / float64(pairs+2)
}

// Pair is a graded week of a disease after which somebody looked: within the 14
// days from the issue date on it was found and confirmed, or a scout looked and
// found nothing. A week after which nobody looked is no pair, nor is one after
// which it was reported and not confirmed.
type Pair struct {
	Zone        string     `json:"zone"`
	Grass       string     `json:"grass"`
	Disease     string     `json:"disease"`
	Week        civil.Week `json:"week"`
	Date        civil.Date `json:"issue_date"`
	Grade       string     `json:"grade"` // "quiet", "watch" or "act"
	Found       bool       `json:"found"`
	Reported    bool       `json:"reported"`    // a confirmed report stood already
	Probability float64    `json:"probability"` // that went with the grade at that date
}

// Tally counts the weeks of a disease, or of all.
type Tally struct {
	Disease  string `json:"disease,omitempty"` // "" is all
	Name     string `json:"name,omitempty"`
	Act      Level  `json:"act"`      // warned by act
	Watch    Level  `json:"watch"`    // warned by watch or act
	Reported int    `json:"reported"` // pairs before which a confirmed report stood already

	// Weeks that make no pair: graded, and nobody looked; reported, but not
	// confirmed; not graded for lack of weather.
	QuietUnlooked int `json:"quiet_unlooked"`
	WatchUnlooked int `json:"watch_unlooked"`
	ActUnlooked   int `json:"act_unlooked"`
	Unclear       int `json:"unclear"`
	Ungraded      int `json:"ungraded"`
}

// Level counts the pairs with one grade taken for a warning.
type Level struct {
	Hits        int     `json:"hits"`
	FalseAlarms int     `json:"false_alarms"`
	Misses      int     `json:"misses"`
	Correct     int     `json:"correct"`          // quiet, and nothing found
	Scores      []Score `json:"scores,omitempty"` // nil with too few finds
}

// Events is how many pairs had a find.
func (t Tally) Events() int { return t.Act.Hits + t.Act.Misses }

// Pairs is how many there are.
func (t Tally) Pairs() int { return t.Events() + t.Act.FalseAlarms + t.Act.Correct }

// Unlooked is how many weeks of a warning, by watch or act, nobody looked after.
func (t Tally) Unlooked() int { return t.ActUnlooked + t.WatchUnlooked }

// Verification is how the warnings of diseases met what scouts found.
type Verification struct {
	Reports int     `json:"reports"` // lines of the scouting log from the first issue that was run to two weeks after the last
	None    int     `json:"none"`    // of them those that found nothing
	Pairs   []Pair  `json:"pairs"`
	By      []Tally `json:"diseases"` // that were graded, by id
	All     Tally   `json:"all"`
	Brier   []Score `json:"brier,omitempty"` // of the probabilities that went with the grades; nil with too few finds
}

// Rows are the tallies of the diseases, then that of all.
func (v *Verification) Rows() []Tally { return append(slices.Clip(v.By), v.All) }

// Needed is how many finds a score needs.
func (v *Verification) Needed() int { return leastEvents }

// looked is what scouts made of a week.
type looked uint8

const (
	nobody looked = iota
	none
	found
	unclear
)

// verify holds the grades against the scouting log. A report that names no grass
// counts for every grass of its zone, as it does for the grades.
//
// Only a confirmed report of the disease makes an event, and only "looked, and
// found none" its absence: a lawn in which something else was found has not been
// searched for this one. Own design, by the custom of forecast verification.
func verify(log []reference.Look, q Question, told []toldWeek) Verification {
	v := Verification{}
	if len(told) > 0 {
		from, to := told[0].date, told[len(told)-1].date.AddDays(lookDays)
		for _, r := range log {
			if r.Date >= from && r.Date < to && slices.ContainsFunc(q.Zones, func(z *workspace.Zone) bool { return z.ID == r.Zone }) {
				v.Reports++
				if r.Clean {
					v.None++
				}
			}
		}
	}
	by := map[string]*Tally{}
	for i, z := range q.Zones {
		here := slices.DeleteFunc(slices.Clone(log), func(l reference.Look) bool { return l.Zone != z.ID })
		for _, t := range told {
			for _, g := range t.zones[i].grasses {
				for _, w := range g.grades {
					tally := by[w.disease.ID]
					if tally == nil {
						tally = &Tally{Disease: w.disease.ID, Name: w.disease.Name}
						by[w.disease.ID] = tally
					}
					look := look(here, g.id, w.disease.ID, t.date)
					tally.add(w, look)
					v.All.add(w, look)
					if w.known && (look == found || look == none) {
						v.Pairs = append(v.Pairs, Pair{Zone: z.ID, Grass: g.id, Disease: w.disease.ID, Week: t.week, Date: t.date,
							Grade: w.grade, Found: look == found, Reported: w.reported})
					}
				}
			}
		}
	}
	for _, t := range by {
		t.score()
		v.By = append(v.By, *t)
	}
	slices.SortFunc(v.By, func(a, b Tally) int { return cmp.Compare(a.Disease, b.Disease) })
	v.All.score()
	v.score()
	return v
}

// look returns what scouts of a grass found of a disease in the 14 days from a
// date on.
func look(log []reference.Look, grass, disease string, from civil.Date) looked {
	out := nobody
	for _, r := range log {
		if r.Date < from || r.Date >= from.AddDays(lookDays) || r.Grass != "" && r.Grass != grass {
			continue
		}
		switch {
		case r.Found == disease && r.Confirmed:
			return found
		case r.Found == disease:
			out = unclear
		case r.Clean && out == nobody:
			out = none
		}
	}
	return out
}

func (t *Tally) add(w toldGrade, l looked) {
	switch {
	case !w.known:
		t.Ungraded++
		return
	case l == nobody:
		switch w.grade {
		case gradeAct:
			t.ActUnlooked++
		case gradeWatch:
			t.WatchUnlooked++
		default:
			t.QuietUnlooked++
		}
		return
	case l == unclear:
		t.Unclear++
		return
	}
	if w.reported {
		t.Reported++
	}
	count := func(c *Level, warned bool) {
		switch {
		case warned && l == found:
			c.Hits++
		case warned:
			c.FalseAlarms++
		case l == found:
			c.Misses++
		default:
			c.Correct++
		}
	}
	count(&t.Act, w.grade == gradeAct)
	count(&t.Watch, w.grade == gradeWatch || w.grade == gradeAct)
}

// score gives each pair the probability that its grade had at its date: from
// the pairs of earlier years of which the outcome was known by then, or, with
// fewer than 30, what it is taken to mean.
func (v *Verification) score() {
	p, happened := make([]float64, len(v.Pairs)), make([]bool, len(v.Pairs))
	for i := range v.Pairs {
		now := &v.Pairs[i]
		pairs, events := 0, 0
		for _, before := range v.Pairs {
			if before.Grade == now.Grade && before.Week.Year < now.Week.Year && before.Date.AddDays(lookDays) <= now.Date {
				pairs++
				if before.Found {
					events++
				}
			}
		}
		now.Probability = startProbability(now.Grade)
		if pairs >= leastPairs {
			now.Probability = probabilityAfter(events, pairs)
		}
		p[i], happened[i] = now.Probability, now.Found
	}
	if v.All.Events() >= leastEvents {
		v.Brier = brierScores(agromet.BrierOf(p, happened))
	}
}
