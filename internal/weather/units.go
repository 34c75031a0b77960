package weather

import (
	"fmt"
	"slices"

	"ligule/internal/quantity"
)

// UnitSystem is the system of units that a file's values are in.
type UnitSystem uint8

// The systems. UnitsUndeclared leaves it to the file to say.
const (
	UnitsUndeclared UnitSystem = iota
	UnitsMetric                // °C, mm, m/s
	UnitsUS                    // °F, in, mph
	UnitsTenths                // tenths of °C, mm and m/s, as NOAA archives whole numbers
)

// unitSystems are their names.
var unitSystems = [...]string{"undeclared", "metric", "us", "tenths"}

// String returns "metric", "us", "tenths" or "undeclared".
func (u UnitSystem) String() string { return unitSystems[u] }

// ParseUnitSystem reads "metric", "us" or "tenths".
func ParseUnitSystem(s string) (UnitSystem, error) {
	i := slices.Index(unitSystems[:], s)
	if i <= int(UnitsUndeclared) {
		return 0, fmt.Errorf("%q is not a system of units: use metric, us or tenths", s)
	}
	return UnitSystem(i), nil
}

// unit is a unit that a file's values may be in. The zero value is the
// column's own.
type unit uint8

const (
	unitOwn   unit = iota
	unitF          // °F
	unitIn         // in
	unitCM         // cm
	unitMPH        // mph
	unitKn         // kn
	unitKmH        // km/h
	unitLy         // ly, cal cm⁻²
	unitMin        // min, of hours
	unitTenth      // tenths of the column's own unit
)

// mjPerLangley takes the langley with the calorie of 4.1868 J (International
// Table, from memory).
const mjPerLangley = 0.041868

// named returns the unit as package quantity names it; "" for those that it does
// not know.
func (u unit) named() (quantity.Dimension, string) {
	n := [unitTenth + 1]struct {
		of   quantity.Dimension
		name string
	}{
		unitF:  {quantity.Temperature, "°F"},
		unitIn: {quantity.Depth, "in"}, unitCM: {quantity.Depth, "cm"},
		unitMPH: {quantity.Speed, "mph"}, unitKn: {quantity.Speed, "kn"}, unitKmH: {quantity.Speed, "km/h"},
	}[u]
	return n.of, n.name
}

// own converts a value to the column's own unit.
func (u unit) own(x float64) float64 {
	switch u {
	case unitOwn:
		return x
	case unitLy:
		return x * mjPerLangley
	case unitMin:
		return x / 60
	case unitTenth:
		return x / 10
	}
	d, name := u.named()
	return d.From(x, name)
}

// measure is the units in which columns of a sort stand in files.
type measure struct {
	us, tenths unit            // in the systems of these names
	words      map[string]unit // by name, lower case without punctuation
}

var (
	depths      = map[string]unit{"mm": unitOwn, "cm": unitCM, "in": unitIn, "inch": unitIn, "inches": unitIn}
	temperature = measure{unitF, unitTenth, map[string]unit{"f": unitF, "degf": unitF, "fahrenheit": unitF, "c": unitOwn, "degc": unitOwn, "celsius": unitOwn}}
	rain        = measure{unitIn, unitTenth, depths}
	snow        = measure{unitIn, unitOwn, depths}
	speed       = measure{unitMPH, unitTenth, map[string]unit{"ms": unitOwn, "mps": unitOwn, "mph": unitMPH, "kn": unitKn, "kt": unitKn, "kts": unitKn, "knots": unitKn, "kmh": unitKmH, "kph": unitKmH}}
	percent     = measure{words: map[string]unit{"pct": unitOwn, "percent": unitOwn}}
	light       = measure{words: map[string]unit{"mj": unitOwn, "mjm2": unitOwn, "mjm2d": unitOwn, "mjm2day": unitOwn, "ly": unitLy, "lyd": unitLy, "lyday": unitLy, "langleys": unitLy}}
	hours       = measure{words: map[string]unit{"h": unitOwn, "hr": unitOwn, "hours": unitOwn, "min": unitMin, "minutes": unitMin}}
)

// in returns the unit in which a column stands in a file of the system.
func (c Column) in(s UnitSystem) unit {
	switch s {
	case UnitsUS:
		return columns[c].measure.us
	case UnitsTenths:
		return columns[c].measure.tenths
	}
	return unitOwn
}
