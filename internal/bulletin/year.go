package bulletin

import (
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/reference"
	"ligule/internal/season"
)

// Year is the year of a zone as an issue tells it.
type Year struct {
	First     civil.Date      `json:"first,omitzero"` // of twelve months, of which a little is past; zero without weather
	Last      civil.Date      `json:"last,omitzero"`
	ByPrint   *message.Said   `json:"by_print,omitempty"` // why its dates are those of printed calendars, if they are
	Rests     []*message.Said `json:"rests,omitempty"`    // what the dates rest on
	Lacks     *message.Said   `json:"lacks,omitempty"`    // what cannot be told
	Standings []Standing      `json:"standings,omitempty"`
	Events    []Event         `json:"events,omitempty"`   // of the place, in the order of the seasons
	Closed    []Lane          `json:"closed,omitempty"`   // closed seasons for nitrogen, of the twelve months
	Cautions  []Caution       `json:"cautions,omitempty"` // that concern what any window uses, and that always stand
}

// Quantity is what a standing is of.
type Quantity string

// What the days before an issue are compared by: means of temperature over a
// week, and the rain of a month.
const (
	AirTemperature  Quantity = "air"
	SoilTemperature Quantity = "soil"
	Rain            Quantity = "rain"
)

// Standing is how the days before an issue compare with the same days of the
// years before.
type Standing struct {
	Of    Quantity      `json:"of"`
	First civil.Date    `json:"first,omitzero"` // of the days, if known
	Last  civil.Date    `json:"last,omitzero"`
	Value Num           `json:"value"` // °C, or mm
	Years int           `json:"years"` // with a value
	Below int           `json:"below"` // years whose value is below, equal to, above Value
	Equal int           `json:"equal"`
	Above int           `json:"above"`
	Says  *message.Said `json:"says,omitempty"`
}

// Event is an event of the year.
type Event struct {
	Name  *message.Said   `json:"name"`
	This  []*message.Said `json:"this"` // this year, and the next where it can be told
	Usual *message.Said   `json:"usual"`
}

// GrassYear is the year of a grass in a zone.
type GrassYear struct {
	Lacks    *message.Said `json:"lacks,omitempty"`   // why there are no windows, if there are none
	Windows  []Window      `json:"windows,omitempty"` // in the calendar's order
	Events   []Event       `json:"events,omitempty"`
	Growth   []Growth      `json:"growth,omitempty"`    // by week, over the twelve months
	LastWeek *message.Said `json:"last_week,omitempty"` // the growth of the week before the issue
}

// Growth is the growth index of the week that ends with a day.
type Growth struct {
	Date  civil.Date    `json:"date"`
	Low   Num           `json:"low"` // middle 60 % of the past years
	High  Num           `json:"high"`
	Index Num           `json:"index"`           // this year's
	Basis season.Basis  `json:"basis,omitempty"` // of Index: happened, forecast or expected
	Usual *message.Said `json:"usual,omitempty"` // Low to High
	Now   *message.Said `json:"now,omitempty"`   // Index, or that it is to come
	How   *message.Said `json:"how,omitempty"`   // Basis, of what is not on record
}

// Window is a window of the calendar.
type Window struct {
	ID       string            `json:"id"`
	Kind     season.WindowKind `json:"kind"`
	Growth   bool              `json:"growth,omitempty"` // it tells what the grass does, and shows where there is little room
	Title    *message.Said     `json:"title"`
	Uses     *message.Said     `json:"uses,omitempty"`
	Stands   *message.Said     `json:"stands"`          // where it stands: "Open"
	Dates    []*message.Said   `json:"dates,omitempty"` // this time
	Usual    []*message.Said   `json:"usual,omitempty"` // first and last day
	Printed  *message.Said     `json:"printed"`
	By       *reference.Source `json:"by,omitempty"` // who printed it
	Drift    *message.Said     `json:"drift,omitempty"`
	Source   reference.Source  `json:"source"` // of the window itself
	Note     *message.Said     `json:"note,omitempty"`
	Law      []WindowLaw       `json:"law,omitempty"` // what the law closes of it
	Lane     Lane              `json:"lane"`          // in the twelve months; empty without weather
	Openings []Opening         `json:"openings,omitempty"`
}

// Opening is a window of one year: those that touch the months from the January
// before an issue and have both dates.
type Opening struct {
	Year     int             `json:"year"` // in which it opens
	First    civil.Date      `json:"first"`
	Last     civil.Date      `json:"last"`
	Settled  bool            `json:"settled,omitempty"` // both dates are known for good
	Title    *message.Said   `json:"title"`             // of an event of a calendar
	Category *message.Said   `json:"category"`
	Says     []*message.Said `json:"says"`              // what the event tells
	Reminds  []*message.Said `json:"reminds,omitempty"` // what stands at its end
}

// Lane is a row of the picture of a year: runs of days, or why there are none.
type Lane struct {
	Title *message.Said `json:"title"`
	Runs  []Run         `json:"runs,omitempty"`
	Bare  *message.Said `json:"bare,omitempty"` // in place of runs
	Spans *message.Said `json:"spans"`          // the runs in words, or Bare
	Says  *message.Said `json:"says"`           // the whole lane in a sentence
}

// Run is an unbroken run of days of a lane.
type Run struct {
	First civil.Date `json:"first"`
	Last  civil.Date `json:"last"`
	Kind  RunKind    `json:"kind"`
}

// RunKind is what the days of a run are.
type RunKind string

// The kinds of run.
const (
	Settled  RunKind = "settled"  // a window whose dates have come, or are fixed
	Likely   RunKind = "likely"   // a window whose dates may still move
	Shut     RunKind = "closed"   // closed by law
	Excepted RunKind = "excepted" // closed by laws that all know exceptions
)

// newLane makes a lane of runs, each with its words; bare says that there are none.
func newLane(title message.Message, runs []Run, words []message.Message, bare message.Message) Lane {
	if len(runs) == 0 {
		words = []message.Message{bare}
	} else {
		bare = message.Message{}
	}
	spans := message.Messages(message.Semicolon, words...)
	return Lane{
		Title: message.Say(title), Runs: runs, Bare: message.Say(bare), Spans: message.Say(message.Just(spans)),
		Says: message.Say(message.New("ribbon.lane").Said("title", title).With("spans", spans)),
	}
}
