package law

// Verdict is what the law says to a question, from weakest to strongest, so
// that verdicts compare with < and combine with max.
type Verdict uint8

// Open: no rule found that limits it. Conditional: limits, weather rules,
// buffers or duties apply. NotCleared: something is unknown, stale or
// unverified, so nobody can say that it is open. Closed: a rule forbids it.
const (
	Open Verdict = iota
	Conditional
	NotCleared
	Closed
)

var verdictNames = [...]string{"open", "conditional", "not_cleared", "closed"}

// String returns "open", "conditional", "not_cleared" or "closed".
func (v Verdict) String() string {
	if int(v) < len(verdictNames) {
		return verdictNames[v]
	}
	return "invalid"
}

// MarshalText writes the word that String returns.
func (v Verdict) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// Flag is a reservation that must be printed with an answer. Each has its own
// sentence elsewhere.
type Flag string

// The flags.
const (
	AlertBased               Flag = "alert_based"                // closed by a weather alert in force
	DeclarationOpenEnded     Flag = "declaration_open_ended"     // an order without an end, still assumed on
	DeclarationStatusUnknown Flag = "declaration_status_unknown" // an order without an end, not re-read since
	EdgeAssumed              Flag = "edge_assumed"               // the text leaves this date unclear; read as closed
	ExpiredNoSuccessor       Flag = "expired_no_successor"       // the law has lapsed, and what follows is not known
	ForecastBased            Flag = "forecast_based"             // closed by a forecast
	NoRecord                 Flag = "no_record"                  // nobody has looked up this jurisdiction
	NotYetEffective          Flag = "not_yet_effective"          // takes effect within 90 days
	OnHold                   Flag = "on_hold"                    // stayed or enjoined by a court
	Preempted                Flag = "preempted"                  // an upper law displaces a rule of this one
	SeasonUnknown            Flag = "season_unknown"             // hangs on a growing season that was not stated
	Secondary                Flag = "secondary"                  // read in a summary, not in the law itself
	Stale                    Flag = "stale"                      // past its review date
	Unverified               Flag = "unverified"                 // reported, never confirmed
)
