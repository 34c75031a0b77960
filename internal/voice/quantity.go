package voice

import (
	"math"
	"strings"

	"ligule/internal/message"
	"ligule/internal/quantity"
)

// quantity prints a quantity; nothing where it is missing.
func (v Voice) quantity(x message.Value) string {
	if math.IsNaN(x.Number) && x.Kind != message.UnitKind {
		return ""
	}
	switch x.Kind {
	case message.UnitKind:
		_, name := quantity.In(0, x.Of, v.Units)
		return v.unit(name)
	case message.ColumnKind:
		number, _ := quantity.In(x.Number, x.Of, v.Units)
		return quantity.Fixed(number, decimals(x, v.Units))
	case message.OneKind:
		return v.one(x, v.Units)
	case message.DegreeDaysKind:
		f, _ := quantity.In(x.Number, quantity.TemperatureDifference, quantity.US)
		return v.say(message.New("degree_days."+v.Units.String()).With("f", message.Number(f, 0)).With("c", message.Number(x.Number, 0)))
	case message.RateKind:
		const dim = quantity.NitrogenRate
		si := quantity.From(x.Number, dim, quantity.US)
		_, name := quantity.In(0, dim, quantity.US)
		return v.join(figure(x.Number), name) + " (" + v.one(message.One(si, dim, 0, 1), quantity.Metric) + ")"
	}
	first, second := v.Units, quantity.Metric
	if first == quantity.Metric {
		second = quantity.US
	}
	if x.Of.Single() {
		return v.one(x, first)
	}
	return v.one(x, first) + " (" + v.one(x, second) + ")"
}

func decimals(x message.Value, s quantity.System) int {
	if s == quantity.Metric {
		return x.Metric
	}
	return x.US
}

// one prints a quantity in a system of units.
func (v Voice) one(x message.Value, s quantity.System) string {
	n := decimals(x, s)
	if x.Of.Single() {
		n = x.US
	}
	number, name := quantity.In(x.Number, x.Of, s)
	return v.join(quantity.Fixed(number, n), name)
}

// join sets a unit after its number, on the same line; a percent sign stands
// close, and a unit that is spelled out may have another word for one of it.
func (v Voice) join(number, name string) string {
	switch {
	case name == "":
		return number
	case name == "%":
		return number + "%"
	case number == "1" && v.Book.Has("unit_one."+name):
		return number + "\u00a0" + v.word("unit_one."+name)
	}
	return number + "\u00a0" + v.unit(name)
}

// unit says a unit; one that the book does not list is a symbol of all languages.
func (v Voice) unit(name string) string {
	if id := "unit." + name; v.Book.Has(id) {
		return v.word(id)
	}
	return strings.TrimSpace(name)
}
