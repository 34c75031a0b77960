package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// System is the family of units a reader sees first.
type System uint8

// The two systems of units.
const (
	US System = iota
	Metric
)

// ParseSystem reads "us" or "metric".
func ParseSystem(s string) (System, error) {
	switch s {
	case "us":
		return US, nil
	case "metric":
		return Metric, nil
	}
	return US, fmt.Errorf("%q is not a system of units; write \"us\" or \"metric\"", s)
}

// String returns "us" or "metric".
func (s System) String() string {
	if s == Metric {
		return "metric"
	}
	return "us"
}

func (d Dimension) in(s System) unit {
	if s == Metric {
		return specs[d].units[specs[d].metric]
	}
	return specs[d].units[specs[d].us]
}

// Decimals returns the numbers of decimals that are usual for the dimension in US
// and in metric units.
func (d Dimension) Decimals() (us, metric int) { return d.in(US).decimals, d.in(Metric).decimals }

// Single reports whether both systems of units use the same unit.
func (d Dimension) Single() bool { return specs[d].us == specs[d].metric }

// In converts a value in d.Unit() to the system's unit and names that unit.
func In(value float64, d Dimension, s System) (float64, string) {
	u := d.in(s)
	return u.of(value), u.name
}

// From is the value, in d.Unit(), of a number in the system's unit.
func From(x float64, d Dimension, s System) float64 { return d.in(s).own(x) }

// Round returns the value, in d.Unit(), as it is printed in the system with
// the given number of decimals: two values that print alike round alike, so a
// threshold compared on rounded values can never contradict the page.
func Round(value float64, d Dimension, s System, decimals int) float64 {
	x, _ := In(value, d, s)
	return From(round(x, decimals), d, s)
}

// Fixed prints x with a fixed number of decimals, rounding half away from
// zero; a negative zero prints as 0 and NaN as a dash.
func Fixed(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	r := round(x, decimals)
	s := strconv.FormatFloat(math.Abs(r), 'f', decimals, 64)
	if r < 0 {
		return "−" + s
	}
	return s
}

// One prints a value in one system: "50 °F".
func One(value float64, d Dimension, s System) string {
	return OnePrec(value, d, s, d.in(s).decimals)
}

// OnePrec is One with a number of decimals of the caller's choice.
func OnePrec(value float64, d Dimension, s System, decimals int) string {
	if math.IsNaN(value) {
		return "–"
	}
	x, name := In(value, d, s)
	return join(Fixed(x, decimals), name)
}

// join sets the unit after the number; a percent sign stands close, and one
// day, week or hour loses its plural.
func join(number, name string) string {
	switch {
	case name == "":
		return number
	case name == "%":
		return number + "%"
	case (name == "days" || name == "weeks" || name == "hours") && number == "1":
		return number + " " + strings.TrimSuffix(name, "s")
	}
	return number + " " + name
}
