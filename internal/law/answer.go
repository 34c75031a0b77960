package law

import "ligule/internal/civil"

// Hit is one thing that a rule, or a record as a whole, said.
type Hit struct {
	Record       *Record // nil if the jurisdiction has none
	Rule         *Rule   // nil if the record as a whole spoke
	Jurisdiction string
	Verdict      Verdict

	// Detail is a code: "" for a plain closed window, else what was tested
	// (total_n, soluble_n, annual_n, slow_pct, must_be_soluble, max_slow_pct,
	// release, p2o5, annual_p2o5, buffer "15ft", alert, rain, ground,
	// exception, duty, advice …) or why nothing could be (no_record, on_hold,
	// span_unknown, expired, unevaluated).
	Detail string
	Limit  float64 // the law's figure in its own unit; NaN if there is none
	Found  float64 // the question's figure; NaN if there is none
	Word   string  // alert, ground or exception that decided
	Alert  Alert   // the alert that decided, with its end

	// First and Last are the days of the rule's span around the date; zero if
	// the rule has none.
	First, Last civil.Date
}

// Notice is a flag with what it is about.
type Notice struct {
	Flag         Flag
	Record       *Record // nil for no_record
	Rule         *Rule   // nil if the record as a whole is meant
	Jurisdiction string
	Name         string // of the jurisdiction, where there is no record
}

// Answer is what the law says to one question.
type Answer struct {
	Verdict Verdict
	Silent  bool     // no record spoke at all (Verdict is then Open)
	Hits    []Hit    // strongest first; then by chain, then as in the file
	Flags   []Flag   // sorted, each once
	Notices []Notice // the flags with their records, by chain
}

// Closed returns the hits that close.
func (a Answer) Closed() []Hit {
	for i, h := range a.Hits {
		if h.Verdict != Closed {
			return a.Hits[:i]
		}
	}
	return a.Hits
}

// PlaceWeek is the law of a place over a week.
type PlaceWeek struct {
	Place Place
	Days  [7]Answer // Monday to Sunday
	State string    // closed_all, closed_part, or the strongest other verdict
	Next  *Change   // nil: nothing changes within 400 days of Sunday
}

// Change is the next day on which closed turns open or open closed.
type Change struct {
	Date  civil.Date
	Opens bool
	Clear bool // the open side of it: nothing there is left unknown
}

// Condition is a limit or a duty to print: of each kind the strictest over
// all laws of the place.
type Condition struct {
	// Kind is one of per_app_total_n, per_app_soluble_n, annual_n, release_n
	// (lb N per 1000 ft2; release_n by month), min_slow, max_slow (% of N),
	// per_app_p2o5, annual_p2o5 (lb P2O5 per 1000 ft2), buffer (ft), alert,
	// rain (in), ground, phosphorus, exception, product, duty:CODE,
	// advice:CODE, on_hold.
	Kind string
	// Value is the figure, NaN if there is none (a law that says "heavy rain"
	// and no more). Second is the reduced buffer in ft, the hours of a rain
	// rule, the months a soil test is good for, the depth of frost in inches;
	// NaN if there is none.
	Value, Second float64
	// Words are the gear that reduces a buffer, the alerts, a rain rule's
	// comparison (>= or >) and basis, the kinds of ground, the exceptions of
	// a phosphorus rule, the products or forms that are banned.
	Words       []string
	Class, Form string // the only products it is about; "" = all
	Record      *Record
	Rule        *Rule      // nil for on_hold
	First, Last civil.Date // the days asked about on which it holds
}

// Span is a run of closed days.
type Span struct {
	First, Last civil.Date // both closed
	Laws        []SpanLaw  // which law closes which part, by first day, then by chain
}

// SpanLaw is the part of a span that one rule closes.
type SpanLaw struct {
	Record      *Record
	Rule        *Rule
	First, Last civil.Date
}

// EndExclusive returns the day after the span, as calendar formats want it.
func (s Span) EndExclusive() civil.Date { return s.Last.AddDays(1) }
