// Package message holds what is to be said before anybody says it: a code of
// the phrase book with typed values for its slots, or a text of the author's
// with the values that fill it. Packages that decide return messages; package
// voice finds the words.
package message

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// Message is one thing to be said. The zero Message says nothing.
//
// Messages are built by chaining:
//
//	message.New("gate.heat.feed").WeekDay("day", day).Both("value", tC, quantity.Temperature, 0, 0)
type Message struct {
	Code  string `json:"code,omitempty"` // of the phrase book; "" where the author wrote the text
	Text  string `json:"text,omitempty"` // the author's own words, with {slots}; "" where a code says it
	Slots []Slot `json:"slots,omitempty"`
	Raise bool   `json:"raise,omitempty"` // its first letter opens a sentence
}

// Slot is a value with the name under which a text asks for it.
type Slot struct {
	Name  string `json:"name"`
	Value Value  `json:"value"`
}

// New is a message of the phrase book.
func New(code string) Message { return Message{Code: code} }

// Filled is a message of the phrase book with all its slots: what is said often
// is made so in one piece.
func Filled(code string, slots ...Slot) Message { return Message{Code: code, Slots: slots} }

// In is a value in a slot.
func In(name string, v Value) Slot { return Slot{name, v} }

// Written is a text of the author's. Its slots are filled like those of a
// phrase; a literal brace is doubled.
func Written(text string) Message { return Message{Text: text} }

// Plain is a text that holds no slots, braces and all: a name, a line of a
// file.
func Plain(text string) Message { return Just(Text(text)) }

// just is the name of the slot of a message that is one value and nothing else.
const just = "value"

// Just is a message that is one value and nothing else.
func Just(v Value) Message { return Message{Slots: []Slot{{just, v}}} }

// Alone returns the value of a message made by [Just].
func (m Message) Alone() (Value, bool) {
	if m.Code != "" || m.Text != "" || len(m.Slots) != 1 {
		return Value{}, false
	}
	return m.Slots[0].Value, true
}

// IsZero reports whether there is nothing to say.
func (m Message) IsZero() bool { return m.Code == "" && m.Text == "" && len(m.Slots) == 0 }

// Raised returns the message as one that opens a sentence.
func (m Message) Raised() Message {
	m.Raise = true
	return m
}

// With returns the message with one slot more.
func (m Message) With(name string, v Value) Message {
	slots := make([]Slot, len(m.Slots)+1) // its own: messages made from one message share nothing
	copy(slots, m.Slots)
	slots[len(m.Slots)] = Slot{name, v}
	m.Slots = slots
	return m
}

// Slot returns the value of a slot.
func (m Message) Slot(name string) (Value, bool) {
	for i := range m.Slots {
		if m.Slots[i].Name == name {
			return m.Slots[i].Value, true
		}
	}
	return Value{}, false
}

// Name fills a slot with a name, or with a text of the author's.
func (m Message) Name(slot, text string) Message { return m.With(slot, Text(text)) }

// Word fills a slot with a phrase that has no slots of its own.
func (m Message) Word(slot, code string) Message { return m.With(slot, Of(New(code))) }

// Said fills a slot with another message.
func (m Message) Said(slot string, other Message) Message { return m.With(slot, Of(other)) }

// Count fills a slot with a whole number.
func (m Message) Count(slot string, n int) Message { return m.With(slot, Count(n)) }

// Both fills a slot with a quantity in both systems of units.
func (m Message) Both(slot string, x float64, d quantity.Dimension, us, metric int) Message {
	return m.With(slot, Both(x, d, us, metric))
}

// DayCount fills a slot with a number of days: "12 days".
func (m Message) DayCount(slot string, n int) Message { return m.With(slot, DayCount(n)) }

// Date fills a slot with a date and its year.
func (m Message) Date(slot string, d civil.Date) Message { return m.With(slot, Date(d)) }

// WeekDay fills a slot with a date of a week at hand.
func (m Message) WeekDay(slot string, d civil.Date) Message { return m.With(slot, WeekDay(d)) }

// YearDay fills a slot with a date of a year at hand.
func (m Message) YearDay(slot string, d civil.Date) Message { return m.With(slot, YearDay(d)) }

// Equal reports whether two messages say the same.
func (m Message) Equal(o Message) bool {
	return m.Code == o.Code && m.Text == o.Text && m.Raise == o.Raise &&
		slices.EqualFunc(m.Slots, o.Slots, func(a, b Slot) bool { return a.Name == b.Name && a.Value.Equal(b.Value) })
}

// Contains reports whether a list holds a message that says the same.
func Contains(list []Message, m Message) bool { return slices.ContainsFunc(list, m.Equal) }
