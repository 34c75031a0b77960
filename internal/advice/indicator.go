package advice

import (
	"math"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Kind is what sort of thing an indicator's value is.
type Kind uint8

// The kinds of indicator.
const (
	Quantity Kind = iota // a number with a dimension
	Word                 // one of a few words
	Day                  // a date
)

// Indicator is one thing that rules may ask about and texts may print.
type Indicator struct {
	Name     string
	Kind     Kind
	Dim      quantity.Dimension // of a Quantity
	US       int                // decimals printed in US units: also the precision at which thresholds are compared
	Metric   int                // decimals printed in metric units
	Words    []string           // the words of a Word
	Ordered  bool               // its words rise, so that "at_least" may be asked
	Of       Topic              // Disease, Weed or Insect: it is asked of one pest of that kind
	Lawn     bool               // it asks what was found on a lawn
	Now      bool               // known for the issue date alone: it has no trend and no run of days
	Title    string             // "Soil temperature at 4 inches"
	Meaning  string             // what it says, in plain words
	Method   string             // how it is found
	Source   string             // id of data/sources.toml, "common practice" or "own design"
	Standing turf.Standing
	measure  func(in *Input, ago int) Value
	of       func(in *Input, p *Pest) Value // instead of measure, where Of is set
}

// onlyNow reports whether it is known for the issue date alone.
func (i *Indicator) onlyNow() bool { return i.Now || i.Of != "" }

// Catalogue is the list of indicators: what they are is code, how they are
// described is data/indicators.toml.
type Catalogue struct {
	list []*Indicator
	by   map[string]*Indicator
}

// All returns the indicators in the order in which pages list them.
func (c *Catalogue) All() []*Indicator { return c.list }

// Find returns an indicator by name.
func (c *Catalogue) Find(name string) (*Indicator, bool) {
	i, ok := c.by[name]
	return i, ok
}

// Names returns all names, for messages.
func (c *Catalogue) Names() []string {
	names := make([]string, len(c.list))
	for i, ind := range c.list {
		names[i] = ind.Name
	}
	return names
}

// ReadCatalogue joins the indicators with their descriptions. One without a
// description, and a description of none, are mistakes.
func ReadCatalogue(t *diag.Table) *Catalogue {
	c := &Catalogue{list: indicators(), by: map[string]*Indicator{}}
	for _, ind := range c.list {
		c.by[ind.Name] = ind
		d := t.Table(ind.Name, true)
		if d == nil {
			continue
		}
		ind.Title, ind.Meaning, ind.Method = d.Text("title"), d.Text("meaning"), d.Text("method")
		ind.Source = d.Text("source")
		ind.Standing = turf.Standing(d.One("standing", turf.Standings()...))
		d.Close()
	}
	t.Close()
	return c
}

// Basis says what a value rests on.
type Basis string

// The bases.
const (
	Observed  Basis = "observed"
	Estimated Basis = "estimated" // computed from other observations, or with short gaps filled
	Forecast  Basis = "forecast"
	Calendar  Basis = "calendar" // follows from the date and place alone
)

// Value is one indicator's value for one reading.
type Value struct {
	Indicator *Indicator
	Num       float64 // of a Quantity; NaN is missing
	Word      string  // of a Word; "" is missing
	Text      string  // how a Word is said, where that is not a phrase
	Date      civil.Date
	Basis     Basis
}

// Known reports whether there is a value.
func (v Value) Known() bool {
	switch v.Indicator.Kind {
	case Word:
		return v.Word != ""
	case Day:
		return !v.Date.IsZero()
	}
	return !math.IsNaN(v.Num)
}

// round returns a value as printed, so that what a rule compares is what the
// reader sees.
func (i *Indicator) round(x float64, s quantity.System) float64 {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return x
	}
	decimals := i.US
	if s == quantity.Metric {
		decimals = i.Metric
	}
	return quantity.Round(x, i.Dim, s, decimals)
}

// shown is a number of this indicator as it is said.
func (i *Indicator) shown(x float64) message.Value { return message.Both(x, i.Dim, i.US, i.Metric) }
