package stage

import (
	"math"
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Timing tells from weather and calendar how far a weed or an insect has come:
// a row of stages that it goes through in a season.
type Timing struct {
	Of                        string             // which species of the entry it is about; empty: all
	Warmth                    agromet.DegreeDays // Method is empty where no degree-days are summed
	Of5cm                     bool               // degree-days are those of the soil at 5 cm, not of the air
	StillAtMost, StillAtLeast float64            // mean of a day from which on there is no development, °C; NaN: none
	Start                     civil.MonthDay
	Generation                float64 // degree-days of one generation; NaN: none
	Clock                     int     // stage from whose first day generations are counted
	Momentary                 bool    // each day for itself: no stage is kept from the day before
	Compare                   bool    // told for comparison; it makes no grade
	Region                    pest.Region
	ValidFor                  string // in words: where and on what it was found
	Cite                      turf.Cite
	Stages                    []Stage
	Shifts                    []Shift
}

// Stage is one stage of a timing. The first needs no condition: the season
// starts in it.
type Stage struct {
	ID    string
	Title string
	Level string // "quiet", "watch" or "act"
	Says  string // what a page prints of it
	While bool   // it lasts only as long as a condition holds
	// Prevents: nothing shows, but a lawn with a history can be treated ahead.
	Prevents bool
	When     []pest.Cited[Condition]
}

// Condition opens a stage when all of its clauses hold; of several conditions
// one is enough.
type Condition []Clause

// Shift raises or lowers the level by one during some stages while a condition
// holds.
type Shift struct {
	Up     bool
	Stages []int
	When   Condition
	Says   string
}

// ClauseKind is what a clause looks at.
type ClauseKind string

// The kinds of clause. The mean over OverDays ends with the day itself; it may
// lack two sevenths of its days. ForDays asks that it held on each of so many
// days running.
const (
	ReachSum    ClauseKind = "degree_days" // the sum since the start of the season is at least AtLeast
	SoilMean    ClauseKind = "soil"        // mean of the soil at 5 cm, °C
	AirMean     ClauseKind = "air"         // mean of the daily mean of the air, °C
	DayMaximum  ClauseKind = "day"         // mean of the daily maximum, °C
	NightLow    ClauseKind = "night"       // the minimum of the day, or of one of LeadDays to come, °C
	RainSum     ClauseKind = "rain"        // sum of rain, mm
	FromDate    ClauseKind = "from"        // the day is Date or later in the season
	AfterStage  ClauseKind = "after"       // AfterDays have passed since Stage began, or the sum has grown by AtLeast
	ArrivalDate ClauseKind = "arrival"     // as FromDate, later by PerDegree days for each degree north of AtLatitude
)

// Clause is one thing to look at. AtLeast and AtMost are NaN where not asked.
type Clause struct {
	Kind            ClauseKind
	AtLeast, AtMost float64
	OverDays        int  // 1 at least
	ForDays         int  // 1 at least
	Falling         bool // and the month is colder than three weeks before
	LeadDays        int
	Date            civil.MonthDay
	PerDegree       float64
	AtLatitude      float64
	Stage           int
	AfterDays       int
}

// Reads lists what the stages hang on, by the clauses of the file: temperature of
// the air, rain, soil. Days to come are among it where [Progress] says so.
func (t *Timing) Reads() []string {
	var out []string
	add := func(what string) {
		if !slices.Contains(out, what) {
			out = append(out, what)
		}
	}
	if !math.IsNaN(t.StillAtMost) || !math.IsNaN(t.StillAtLeast) {
		add("temperature")
	}
	read := func(c Condition) {
		for _, clause := range c {
			switch clause.Kind {
			case SoilMean:
				add("soil")
			case RainSum:
				add("rain")
			case AirMean, DayMaximum, NightLow:
				add("temperature")
			case ReachSum, AfterStage:
				switch {
				case t.Warmth.Method == "":
				case t.Of5cm:
					add("soil")
				default:
					add("temperature")
				}
			}
		}
	}
	for _, s := range t.Stages {
		for _, c := range s.When {
			read(c.Value)
		}
	}
	for _, s := range t.Shifts {
		read(s.When)
	}
	return out
}

// truth has three values: a clause whose weather is missing is unknown.
type truth int8

const (
	no truth = iota
	unknown
	yes
)

// entry is the first day of a stage, and the sum at its end; the zero Date
// where it has not begun.
type entry struct {
	day civil.Date
	sum float64
}

// walk goes through a season day by day.
type walk struct {
	timing *Timing
	felt   *weather.Felt
	start  civil.Date // of the season
	sum    float64    // degree-days since the start; NaN once a day was missing
	kept   int        // the stage reached
	now    int        // the stage of the day, kept or while it lasts
	since  civil.Date // first day of now
	began  []entry
	unsure bool       // a later stage may have begun: its weather is missing
	lack   lack       // what was missing today
	asked  civil.Date // the last day that any clause looked at ahead of its own
}

// newWalk starts a season. began must have room for every stage.
func newWalk(t *Timing, f *weather.Felt, start civil.Date, began []entry) walk {
	w := walk{timing: t, felt: f, start: start, since: start, began: began[:len(t.Stages)]}
	clear(w.began)
	if len(w.began) > 0 {
		w.began[0] = entry{day: start}
	}
	if t.Warmth.Method == "" || start < f.Start {
		w.sum = math.NaN()
	}
	return w
}

// seasonStart returns the start of the season that the day lies in.
func (t *Timing) seasonStart(d civil.Date) civil.Date {
	start := t.Start.StartIn(d.Year())
	if start > d {
		start = t.Start.StartIn(d.Year() - 1)
	}
	return start
}

// step takes the walk over the day.
func (w *walk) step(d civil.Date) {
	t := w.timing
	w.sum += w.warmth(d)
	w.unsure, w.lack = false, 0
	if t.Momentary {
		w.kept = 0
	}
	// The latest stage that begins today. One that lasts only while its
	// condition holds is looked at anew each day.
	now := w.kept
	for i := len(t.Stages) - 1; i > w.kept; i-- {
		switch w.any(t.Stages[i].When, d) {
		case yes:
			now = i
			if !t.Stages[i].While && !t.Momentary {
				w.kept = i
			}
		case unknown:
			w.unsure = true
			continue
		default:
			continue
		}
		break
	}
	for i := 1; i <= now; i++ {
		if w.began[i].day == 0 {
			w.began[i] = entry{d, w.sum}
		}
	}
	if now != w.now {
		w.now, w.since = now, d
	}
}

// warmth returns the day's degree-days.
func (w *walk) warmth(d civil.Date) float64 {
	i, ok := w.felt.Index(d)
	t := w.timing
	switch {
	case !ok || t.Warmth.Method == "":
		return math.NaN()
	case t.Of5cm:
		return t.Warmth.Mean(w.felt.Soil5C[i])
	case w.felt.TmeanC[i] <= t.StillAtMost || w.felt.TmeanC[i] >= t.StillAtLeast:
		return 0
	}
	days := w.felt.View.Days
	next := math.NaN()
	if t.Warmth.Method == agromet.DoubleSineMethod {
		next = days.At(weather.TminC, d+1)
	}
	return t.Warmth.Day(days.At(weather.TmaxC, d), days.At(weather.TminC, d), next)
}

func (w *walk) any(conditions []pest.Cited[Condition], d civil.Date) truth {
	best := no
	for i := range conditions {
		if best = max(best, w.all(conditions[i].Value, d)); best == yes {
			return yes
		}
	}
	return best
}

func (w *walk) all(clauses Condition, d civil.Date) truth {
	worst := yes
	for i := range clauses {
		if worst = min(worst, w.clause(&clauses[i], d)); worst == no {
			return no
		}
	}
	return worst
}

// lack is a set of what is missing.
type lack uint8

const (
	lackTemperature lack = 1 << iota
	lackSoil
	lackRain
	lackSum
)

// words returns the codes of what is missing, in a fixed order.
func (l lack) words() []string {
	var out []string
	for _, k := range [...]struct {
		bit  lack
		word string
	}{{lackTemperature, "temperature"}, {lackSoil, "soil"}, {lackRain, "rain"}, {lackSum, "degree-days"}} {
		if l&k.bit != 0 {
			out = append(out, k.word)
		}
	}
	return out
}

// clause judges one clause, and notes what it lacks.
func (w *walk) clause(c *Clause, d civil.Date) truth {
	t := w.judge(c, d)
	if t == unknown {
		switch c.Kind {
		case SoilMean:
			w.lack |= lackSoil
		case RainSum:
			w.lack |= lackRain
		case ReachSum, AfterStage:
			w.lack |= lackSum
		default:
			w.lack |= lackTemperature
		}
	}
	return t
}

func (w *walk) judge(c *Clause, d civil.Date) truth {
	switch c.Kind {
	case ReachSum:
		return within(math.Round(w.sum), c)
	case FromDate:
		return answer(d >= w.dateOf(c.Date))
	case ArrivalDate:
		late := math.Round((w.felt.View.Station.LatitudeDeg - c.AtLatitude) * c.PerDegree)
		return answer(d >= w.dateOf(c.Date).AddDays(int(late)))
	case AfterStage:
		began := w.began[c.Stage]
		switch {
		case began.day == 0 || d < began.day.AddDays(c.AfterDays):
			return no
		case math.IsNaN(c.AtLeast):
			return yes
		}
		return within(math.Round(w.sum-began.sum), c)
	case NightLow:
		return w.night(c, d)
	}
	for k := range max(1, c.ForDays) {
		if t := w.mean(c, d-civil.Date(k)); t != yes {
			return t
		}
	}
	if c.Falling {
		return w.falling(c, d)
	}
	return yes
}

// falling asks that the soil, or the air, falls by the month.
func (w *walk) falling(c *Clause, d civil.Date) truth {
	i, ok := w.felt.Index(d)
	if !ok {
		return unknown
	}
	of := w.felt.TmeanC
	if c.Kind == SoilMean {
		of = w.felt.Soil5C
	}
	trend := agromet.Trend(of, i)
	if math.IsNaN(trend) {
		return unknown
	}
	return answer(trend < 0)
}

func answer(b bool) truth {
	if b {
		return yes
	}
	return no
}

// within holds a value, already rounded, against the bounds.
func within(x float64, c *Clause) truth {
	switch {
	case math.IsNaN(x):
		return unknown
	case x < c.AtLeast || x > c.AtMost: // false for a bound that is NaN
		return no
	}
	return yes
}

// dateOf returns the month and day as it falls in the season.
func (w *walk) dateOf(md civil.MonthDay) civil.Date {
	d := md.StartIn(w.start.Year())
	if d < w.start {
		d = md.StartIn(w.start.Year() + 1)
	}
	return d
}

// night asks for one night that fits among the day and those that follow it,
// as far as they are known: what lies beyond the forecast is no reason.
func (w *walk) night(c *Clause, d civil.Date) truth {
	low := math.NaN()
	for k := range c.LeadDays + 1 {
		low = lesser(low, w.felt.View.Days.At(weather.TminC, d.AddDays(k)))
	}
	w.asked = max(w.asked, d.AddDays(c.LeadDays))
	return within(quantity.Tenths(low), c)
}

// lesser returns the lesser of two, or the one that is known.
func lesser(a, b float64) float64 {
	if math.IsNaN(a) || b < a {
		return b
	}
	return a
}

// mean holds the mean, or the sum of rain, over the days that end with d
// against the bounds.
func (w *walk) mean(c *Clause, d civil.Date) truth {
	n := max(1, c.OverDays)
	sum, known := 0.0, 0
	days := w.felt.View.Days
	for k := range n {
		day := d - civil.Date(k)
		i, ok := w.felt.Index(day)
		if !ok {
			continue
		}
		x := math.NaN()
		switch c.Kind {
		case SoilMean:
			x = w.felt.Soil5C[i]
		case AirMean:
			x = w.felt.TmeanC[i]
		case DayMaximum:
			x = days.At(weather.TmaxC, day)
		case RainSum:
			x = days.At(weather.RainMM, day)
		}
		if !math.IsNaN(x) {
			sum += x
			known++
		}
	}
	if c.Kind == RainSum {
		// A sum needs every day, but what fell already may be enough.
		switch total := quantity.Tenths(sum); {
		case total > c.AtMost:
			return no
		case known < n && !(total >= c.AtLeast && math.IsNaN(c.AtMost)):
			return unknown
		default:
			return within(total, c)
		}
	}
	if known == 0 || n-known > 2*n/7 {
		return unknown
	}
	return within(quantity.Tenths(sum/float64(known)), c)
}

// Progress is how far a weed or insect has come on the last day before an
// issue.
type Progress struct {
	Of          string                  // species, as Timing.Of
	Method      agromet.DegreeDayMethod // as in Timing.Warmth
	SeasonStart civil.Date              // zero: no timing is valid here
	Stage       Stage
	Index       int        // of the stage, from 0
	Since       civil.Date // first day of the stage
	First       civil.Date // when it came first in the season: one that lasts only a while comes again
	Known       bool       // false: weather is missing, and a later stage may have begun
	Ahead       bool       // days to come count in it
	DegreeDaysC float64    // since the start of the season; NaN where none are summed or a day is missing
	Generations float64    // since the clock's stage began; NaN where none is told or it has not

	// What the forecast brings: the first later stage and its day; Index 0
	// where none.
	Next      int
	NextStage Stage
	NextOn    civil.Date

	Shifts  []Shift  // that hold on the last day
	Lacks   []string // what is missing where Known is false: "temperature", "soil", "rain", "degree-days"
	Invalid string   // why no timing is valid here, one of the Invalid codes of package pest; "" where one is
}

// progress walks a season up to the day before the issue, and on over the
// forecast.
func (t *Timing) progress(f *weather.Felt, issue civil.Date) Progress {
	last := issue - 1
	start := t.seasonStart(last)
	w := newWalk(t, f, start, make([]entry, len(t.Stages)))
	for d := start; d <= last; d++ {
		w.step(d)
	}
	p := w.stands(last)
	if !p.Known || t.Momentary {
		return p
	}
	for d := issue; d <= f.View.Days.End() && t.seasonStart(d) == start; d++ {
		if w.step(d); w.now > p.Index {
			p.Next, p.NextStage, p.NextOn = w.now, t.Stages[w.now], d
			break
		}
	}
	return p
}

// stands returns how far it has come on the last day that was stepped over.
func (w *walk) stands(last civil.Date) Progress {
	t := w.timing
	_, seen := w.felt.Index(last)
	p := Progress{
		Of: t.Of, Method: t.Warmth.Method, SeasonStart: w.start, Stage: t.Stages[w.now], Index: w.now, Since: w.since, First: w.began[w.now].day,
		Known: seen && !w.unsure, Ahead: w.asked > last, DegreeDaysC: w.sum, Generations: math.NaN(),
	}
	switch {
	case !seen:
		p.Lacks = []string{"temperature"}
	case w.unsure:
		p.Lacks = w.lack.words()
	}
	if clock := w.began[t.Clock]; clock.day != 0 {
		p.Generations = (w.sum - clock.sum) / t.Generation
	}
	for _, s := range t.Shifts {
		for _, i := range s.Stages {
			if i == w.now && w.all(s.When, last) == yes {
				p.Shifts = append(p.Shifts, s)
				break
			}
		}
	}
	return p
}

// Season returns the first day of each stage in the season that starts in the
// year, as far as f's days go; the zero Date for a stage that never came. A
// stage that was skipped counts as begun with the one after it.
func (t *Timing) Season(f *weather.Felt, year int) []civil.Date {
	start := t.Start.StartIn(year)
	w := newWalk(t, f, start, make([]entry, len(t.Stages)))
	end := min(t.Start.StartIn(year+1)-1, f.View.Days.End())
	for d := start; d <= end; d++ {
		w.step(d)
	}
	began := make([]civil.Date, len(t.Stages))
	for i, e := range w.began {
		began[i] = e.day
	}
	return began
}

// Trace returns the stage of every day of f, as -1 where a later one may have
// begun for all that is known. It allocates a fixed number of times.
func (t *Timing) Trace(f *weather.Felt) []int8 {
	out := make([]int8, f.View.Days.Len())
	began := make([]entry, len(t.Stages))
	var w walk
	for i := range out {
		d := f.Start.AddDays(i)
		if start := t.Start.StartIn(d.Year()); i == 0 || d == start {
			w = newWalk(t, f, t.seasonStart(d), began)
		}
		w.step(d)
		out[i] = int8(w.now)
		if w.unsure {
			out[i] = -1
		}
	}
	return out
}
