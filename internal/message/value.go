package message

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// Kind is what sort of thing a value is. The texts are those of the record.
type Kind string

// The kinds of value.
const (
	TextKind    Kind = "text"     // a name, or a text of the author's
	MessageKind Kind = "message"  // another message
	NumberKind  Kind = "number"   // a number with fixed decimals
	FigureKind  Kind = "figure"   // a number as its source has it, without zeros at its end
	BothKind    Kind = "both"     // a quantity in the reader's system of units, with the other in brackets
	OneKind     Kind = "one"      // a quantity in the reader's system alone
	ColumnKind  Kind = "column"   // the same without its unit, which stands over the column
	UnitKind    Kind = "unit"     // the reader's unit of a dimension
	RateKind    Kind = "rate"     // lb per 1000 ft² as a law states it, with g/m² in brackets
	DateKind    Kind = "date"     // a date with its year
	FullDate    Kind = "full"     // a date with its weekday and year
	WeekDayKind Kind = "week-day" // a date with its weekday, of a week at hand
	YearDayKind Kind = "year-day" // a date without its year
	TableDate   Kind = "table"    // a date with its year, short
	ShortDay    Kind = "short"    // a weekday and a day of the month, short
	SpanKind    Kind = "span"     // the days from one date through another
	DaysKind    Kind = "days"     // days of one week
	MonthKind   Kind = "month"    // 1 to 12
	InitialKind Kind = "initial"  // of a month, 1 to 12
	WeekdayKind Kind = "weekday"  // 0 (Sunday) to 6
	ClockKind   Kind = "clock"    // minutes after midnight
	HoursKind   Kind = "hours"    // from one full hour to another, of one day
	ListKind    Kind = "list"     // several values, joined
	BasedKind   Kind = "based"    // a value with what it rests on
	ShareKind   Kind = "share"    // a share of 1, as percent

	DegreeDaysKind Kind = "degree-days" // a sum of degree-days, °C
)

// Join is how the values of a list are joined.
type Join string

// The joins.
const (
	And       Join = "and"       // every one with "and" between
	Or        Join = "or"        // every one with "or" between
	Comma     Join = "comma"     // with commas
	Semicolon Join = "semicolon" // with semicolons
	Sentences Join = "sentences" // sentences, one after the other
	Glued     Join = "glued"     // with nothing between: each brings its own comma
	Range     Join = "range"     // from one to the other, with a dash
	Bracketed Join = "bracketed" // the second in brackets behind the first
)

// Value is what fills a slot: one kind of thing, in the fields that the kind
// uses. Numbers are in SI, in the unit that [quantity.Dimension.Unit] names; NaN
// is missing.
type Value struct {
	Kind    Kind               `json:"kind"`
	Number  float64            `json:"-"`
	Of      quantity.Dimension `json:"of,omitempty"`
	US      int                `json:"us,omitempty"`     // decimals in US units
	Metric  int                `json:"metric,omitempty"` // decimals in metric units
	First   civil.Date         `json:"first,omitzero"`
	Last    civil.Date         `json:"last,omitzero"`
	Dates   []civil.Date       `json:"dates,omitempty"`
	Text    string             `json:"text,omitempty"` // of a message: in its place, if the book lacks it
	Join    Join               `json:"join,omitempty"`
	Parts   []Value            `json:"parts,omitempty"`
	Message *Message           `json:"message,omitempty"`
	Lower   bool               `json:"lower,omitempty"` // its first letter stands within a sentence
}

// Text is a name, or a text of the author's that has no slots.
func Text(s string) Value { return Value{Kind: TextKind, Text: s} }

// Of is another message.
func Of(m Message) Value { return Value{Kind: MessageKind, Message: &m} }

// Word is a phrase that has no slots.
func Word(code string) Value { return Of(New(code)) }

// WordOr is the phrase of a code in a table of the book. A code that the book
// does not list, such as one that an author made up, is said as it stands, with
// spaces for underscores.
func WordOr(table, id string) Value {
	v := Word(table + "." + strings.ReplaceAll(id, " ", "_"))
	v.Text = strings.ReplaceAll(id, "_", " ")
	return v
}

// WordsOr joins the phrases of codes in a table of the book, as [WordOr] says
// each.
func WordsOr(j Join, table string, ids ...string) Value {
	return Each(j, ids, func(id string) Value { return WordOr(table, id) })
}

// Number is a plain number with a fixed number of decimals.
func Number(x float64, decimals int) Value {
	return Value{Kind: NumberKind, Number: x, US: decimals, Metric: decimals}
}

// Count is a whole number.
func Count(n int) Value { return Number(float64(n), 0) }

// Figure is a number as its source has it.
func Figure(x float64) Value { return Value{Kind: FigureKind, Number: x} }

// Both is a quantity in both systems of units, each with its decimals.
func Both(x float64, d quantity.Dimension, us, metric int) Value {
	return Value{Kind: BothKind, Number: x, Of: d, US: us, Metric: metric}
}

// Usual is [Both] with the decimals that are usual for the dimension.
func Usual(x float64, d quantity.Dimension) Value {
	us, metric := d.Decimals()
	return Both(x, d, us, metric)
}

// One is a quantity in the reader's system of units.
func One(x float64, d quantity.Dimension, us, metric int) Value {
	return Value{Kind: OneKind, Number: x, Of: d, US: us, Metric: metric}
}

// DayCount is a number of days: "12 days".
func DayCount(n int) Value { return One(float64(n), quantity.Time, 0, 0) }

// Column is a quantity for a column of a table whose heading names the unit.
func Column(x float64, d quantity.Dimension, us, metric int) Value {
	return Value{Kind: ColumnKind, Number: x, Of: d, US: us, Metric: metric}
}

// Unit is the reader's unit of a dimension.
func Unit(d quantity.Dimension) Value { return Value{Kind: UnitKind, Of: d} }

// Rate is a rate of a law, lb per 1000 ft².
func Rate(lb1000 float64) Value { return Value{Kind: RateKind, Number: lb1000} }

// DegreeDays is a sum of degree-days, °C, in both systems of units.
func DegreeDays(sumC float64) Value { return Value{Kind: DegreeDaysKind, Number: sumC} }

// Share is a share of 1.
func Share(x float64) Value { return Value{Kind: ShareKind, Number: x} }

// Date is a date with its year: "November 22, 2026".
func Date(d civil.Date) Value { return Value{Kind: DateKind, First: d} }

// WeekDay is a date of a week at hand: "Sunday, November 22".
func WeekDay(d civil.Date) Value { return Value{Kind: WeekDayKind, First: d} }

// YearDay is a date of a year at hand: "November 22".
func YearDay(d civil.Date) Value { return Value{Kind: YearDayKind, First: d} }

// EveryYear is a day of every year: "November 22".
func EveryYear(md civil.MonthDay) Value { return YearDay(md.StartIn(leapYear)) }

// leapYear is any year that has every day.
const leapYear = 2024

// DateAs is a date in one of the forms of tables and headings.
func DateAs(k Kind, d civil.Date) Value { return Value{Kind: k, First: d} }

// Span is the days from one through another: "November 23 to 29, 2026".
func Span(first, last civil.Date) Value { return Value{Kind: SpanKind, First: first, Last: last} }

// Days are days of one week, in their order: "all week" where there are seven.
func Days(days []civil.Date) Value { return Value{Kind: DaysKind, Dates: slices.Clone(days)} }

// Month is a month, 1 to 12.
func Month(n int) Value { return Value{Kind: MonthKind, Number: float64(n)} }

// Initial is the first letter of a month, 1 to 12.
func Initial(n int) Value { return Value{Kind: InitialKind, Number: float64(n)} }

// Weekday is a day of the week, 0 (Sunday) to 6.
func Weekday(n int) Value { return Value{Kind: WeekdayKind, Number: float64(n)} }

// Clock is a time of day, minutes after midnight.
func Clock(minute int) Value { return Value{Kind: ClockKind, Number: float64(minute)} }

// Hours is a stretch of full hours of one day.
func Hours(from, to int) Value { return Value{Kind: HoursKind, US: from, Metric: to} }

// List joins values.
func List(j Join, parts ...Value) Value {
	return Value{Kind: ListKind, Join: j, Parts: slices.Clone(parts)}
}

// Each joins what things come to.
func Each[T any](j Join, all []T, value func(T) Value) Value {
	parts := make([]Value, len(all))
	for i, x := range all {
		parts[i] = value(x)
	}
	return Value{Kind: ListKind, Join: j, Parts: parts}
}

// Texts joins names.
func Texts(j Join, names ...string) Value { return Each(j, names, Text) }

// Messages joins messages.
func Messages(j Join, all ...Message) Value { return Each(j, all, Of) }

// Words joins phrases that have no slots: their codes are prefix and id, joined
// by a dot.
func Words(j Join, prefix string, ids ...string) Value {
	return Each(j, ids, func(id string) Value { return Word(prefix + "." + id) })
}

// Based is a value with what it rests on: the code of a word.
func Based(v Value, basis string) Value {
	return Value{Kind: BasedKind, Parts: []Value{v, Word(basis)}}
}

// Lowered returns the value as it stands within a sentence.
func (v Value) Lowered() Value {
	v.Lower = true
	return v
}

// Equal reports whether two values are the same; a missing number equals a
// missing number.
func (v Value) Equal(o Value) bool {
	return v.Kind == o.Kind && (v.Number == o.Number || math.IsNaN(v.Number) && math.IsNaN(o.Number)) && v.Of == o.Of &&
		v.US == o.US && v.Metric == o.Metric && v.First == o.First && v.Last == o.Last && slices.Equal(v.Dates, o.Dates) &&
		v.Text == o.Text && v.Join == o.Join && v.Lower == o.Lower && slices.EqualFunc(v.Parts, o.Parts, Value.Equal) &&
		(v.Message == o.Message || v.Message != nil && o.Message != nil && v.Message.Equal(*o.Message))
}

// record is how a value is written. JSON knows no number that is missing or
// without end.
type record struct {
	value
	Number *float64 `json:"number,omitempty"`
	Not    string   `json:"not,omitempty"` // "known", "finite" or "-finite"
}

type value Value

// MarshalJSON writes a value; a number that is missing or infinite is written
// in words.
func (v Value) MarshalJSON() ([]byte, error) {
	r := record{value: value(v)}
	switch {
	case math.IsNaN(v.Number):
		r.Not = "known"
	case math.IsInf(v.Number, 1):
		r.Not = "finite"
	case math.IsInf(v.Number, -1):
		r.Not = "-finite"
	case v.Number != 0:
		r.Number = &v.Number
	}
	return json.Marshal(r)
}

// UnmarshalJSON reads what MarshalJSON writes.
func (v *Value) UnmarshalJSON(b []byte) error {
	var r record
	if err := json.Unmarshal(b, &r); err != nil {
		return err
	}
	*v = Value(r.value)
	switch {
	case r.Not == "known":
		v.Number = math.NaN()
	case r.Not == "finite":
		v.Number = math.Inf(1)
	case r.Not == "-finite":
		v.Number = math.Inf(-1)
	case r.Not != "":
		return fmt.Errorf("message: %q is nothing that a number can be not", r.Not)
	case r.Number != nil:
		v.Number = *r.Number
	}
	return nil
}
