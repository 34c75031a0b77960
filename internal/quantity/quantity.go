// Package quantity reads and prints numbers that carry a unit. Inside the
// program every quantity is a plain float64 in the unit that Dimension.Unit
// names; this package stands where an author types one or a reader sees one.
// It does not know what is being measured.
package quantity

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Dimension is what kind of quantity a text must be. A temperature and a
// difference of temperatures are dimensions apart: 7 °C of difference is
// 12.6 °F of difference, while 7 °C on the thermometer is 44.6 °F.
type Dimension uint8

// The dimensions, with the unit used inside the program.
const (
	Temperature           Dimension = iota // °C
	TemperatureDifference                  // °C
	Depth                                  // mm: rain, irrigation, mowing height, root depth
	Distance                               // m: elevation, buffers
	NitrogenRate                           // g/m²: any nutrient mass per lawn area
	GrowthRate                             // mm/d
	Light                                  // mol/m²/d: daily light integral
	Speed                                  // m/s
	Time                                   // days
	Hours                                  // h: day length, wetness
	Area                                   // m²: patches, lawns
	Percent                                // %
	Number                                 // dimensionless
	dimensions
)

// unit is one way to write a quantity: value = (x - offset) * mul / div.
// Multiplication and division are kept apart because 18*5/9 is exactly 10
// while 18*(5.0/9) is not.
type unit struct {
	name     string   // as printed
	also     []string // accepted besides
	offset   float64
	mul, div float64
	decimals int // printed by default
}

// own converts a value of the unit to the program's own, and of converts back.
func (u unit) own(x float64) float64    { return (x - u.offset) * u.mul / u.div }
func (u unit) of(value float64) float64 { return value*u.div/u.mul + u.offset }

// spec describes a dimension. The first unit is the program's own, metric is
// what metric readers see, us what US readers see; both index units.
type spec struct {
	name       string
	metric, us int
	units      []unit
}

// Factors: the inch, the foot and the pound are exact by the international
// yard and pound agreement of 1959 (25.4 mm, 0.3048 m, 453.59237 g).
const (
	mmPerInch    = 25.4
	MeterPerFoot = 0.3048
	gramPerPound = 453.59237
	squareFootM2 = MeterPerFoot * MeterPerFoot
	acreFt2      = 43560
)

var specs = [dimensions]spec{
	Temperature: {"temperature", 0, 1, []unit{
		{"°C", []string{"C", "degC", "deg C"}, 0, 1, 1, 0},
		{"°F", []string{"F", "degF", "deg F"}, 32, 5, 9, 0},
	}},
	TemperatureDifference: {"temperature difference", 0, 1, []unit{
		{"°C", []string{"C", "degC", "deg C", "K"}, 0, 1, 1, 1},
		{"°F", []string{"F", "degF", "deg F"}, 0, 5, 9, 1},
	}},
	Depth: {"depth or height", 0, 1, []unit{
		{"mm", nil, 0, 1, 1, 0},
		{"in", []string{"inch", "inches"}, 0, mmPerInch, 1, 1},
		{"cm", nil, 0, 10, 1, 1},
	}},
	Distance: {"distance", 0, 1, []unit{
		{"m", nil, 0, 1, 1, 0},
		{"ft", []string{"feet", "foot"}, 0, MeterPerFoot, 1, 0},
		{"km", nil, 0, 1000, 1, 1},
		{"mi", []string{"mile", "miles"}, 0, 5280 * MeterPerFoot, 1, 1},
	}},
	NitrogenRate: {"nutrient rate", 0, 1, []unit{
		{"g/m2", []string{"g/m²"}, 0, 1, 1, 1},
		{"lb/1000 ft2", []string{"lb/1000 ft²", "lb/1000ft2", "lb per 1000 ft2"}, 0, gramPerPound, 1000 * squareFootM2, 1},
		{"kg/ha", nil, 0, 1, 10, 0},
		{"lb/acre", nil, 0, gramPerPound, acreFt2 * squareFootM2, 0},
	}},
	GrowthRate: {"growth rate", 0, 1, []unit{
		{"mm/d", []string{"mm/day"}, 0, 1, 1, 1},
		{"in/week", []string{"in/wk"}, 0, mmPerInch, 7, 1},
	}},
	Light: {"daily light integral", 0, 0, []unit{
		{"mol/m2/d", []string{"mol/m²/d", "mol/m2/day"}, 0, 1, 1, 0},
	}},
	Speed: {"speed", 0, 1, []unit{
		{"m/s", nil, 0, 1, 1, 1},
		{"mph", nil, 0, 1609.344, 3600, 0},
		{"km/h", nil, 0, 1000, 3600, 0},
		{"kn", []string{"knots", "knot"}, 0, 1852, 3600, 0},
	}},
	Time: {"length of time", 0, 0, []unit{
		{"days", []string{"day", "d"}, 0, 1, 1, 0},
		{"weeks", []string{"week"}, 0, 7, 1, 0},
	}},
	Hours: {"number of hours", 0, 0, []unit{
		{"hours", []string{"hour", "h"}, 0, 1, 1, 1},
	}},
	Area: {"area", 0, 1, []unit{
		{"m²", []string{"m2"}, 0, 1, 1, 0},
		{"ft²", []string{"ft2", "sq ft"}, 0, squareFootM2, 1, 0},
	}},
	Percent: {"percentage", 0, 0, []unit{
		{"%", []string{"percent"}, 0, 1, 1, 0},
	}},
	Number: {"number", 0, 0, []unit{
		{"", nil, 0, 1, 1, 2},
	}},
}

// String names the dimension: "temperature".
func (d Dimension) String() string { return specs[d].name }

// Unit returns the unit that values of the dimension have inside the program.
func (d Dimension) Unit() string { return specs[d].units[0].name }

// Units lists the units that an author may write.
func (d Dimension) Units() []string {
	names := make([]string, len(specs[d].units))
	for i, u := range specs[d].units {
		names[i] = u.name
	}
	return names
}

// From returns the value, in d.Unit(), of x in the named unit, and To converts
// back. Both panic on a unit that is not among d.Units().
func (d Dimension) From(x float64, name string) float64 { return d.named(name).own(x) }

// To is the inverse of From.
func (d Dimension) To(value float64, name string) float64 { return d.named(name).of(value) }

func (d Dimension) named(name string) unit {
	for _, u := range specs[d].units {
		if u.name == name {
			return u
		}
	}
	panic("quantity: a " + d.String() + " has no unit " + name)
}

// Parse reads text such as "70 °F", "0.5 in" or "1 lb/1000 ft2" and returns
// the value in d.Unit(). The unit is required, save for Number. The error says
// what was found and which units would do.
func Parse(text string, d Dimension) (float64, error) {
	s := strings.TrimSpace(text)
	end := 0
	for end < len(s) && (s[end] >= '0' && s[end] <= '9' || s[end] == '.' || (s[end] == '-' || s[end] == '+') && end == 0) {
		end++
	}
	x, err := strconv.ParseFloat(s[:end], 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, fmt.Errorf("%q does not start with a number", text)
	}
	name := strings.Join(strings.Fields(s[end:]), " ")
	if u, ok := d.written(name); ok {
		return u.own(x), nil
	}
	if d == Number {
		return 0, fmt.Errorf("%q is a plain number; leave out the unit %q", text, name)
	}
	if name == "" {
		return 0, fmt.Errorf("%q has no unit; a %s is written in %s", text, d, list(d.Units()))
	}
	for other := range dimensions {
		if _, ok := other.written(name); ok && other != d && other != TemperatureDifference {
			return 0, fmt.Errorf("%q is a %s, but a %s is wanted, in %s", text, other, d, list(d.Units()))
		}
	}
	return 0, fmt.Errorf("%q: unknown unit %q; a %s is written in %s", text, name, d, list(d.Units()))
}

// written returns the unit that an author writes so.
func (d Dimension) written(name string) (unit, bool) {
	for _, u := range specs[d].units {
		if name == u.name || slices.Contains(u.also, name) {
			return u, true
		}
	}
	return unit{}, false
}

func list(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}
