package law

import (
	"ligule/internal/civil"
	"ligule/internal/diag"
)

// Book holds all records and the list of jurisdictions. It is safe for
// concurrent use.
type Book struct {
}

// NewBook makes a book. Records and list should have passed [Lint].
func NewBook(records []*Record, jurisdictions []Jurisdiction) *Book { return &Book{} }

// Ask answers a question.
func (b *Book) Ask(q Question) Answer { return Answer{} }

// AskRecord answers a question by one record alone; ok is false if there is
// no such record.
func (b *Book) AskRecord(id string, q Question) (a Answer, ok bool) { return Answer{}, false }

// Week answers a question for the seven days from a Monday on; q.Date is
// ignored.
func (b *Book) Week(q Question, monday civil.Date) PlaceWeek { return PlaceWeek{} }

// Conditions returns the limits and duties in force on q.Date, the strictest
// of each kind.
func (b *Book) Conditions(q Question) []Condition { return nil }

// WeekConditions returns the strictest limits and all duties of the seven
// days from a Monday on.
func (b *Book) WeekConditions(q Question, monday civil.Date) []Condition { return nil }

// ClosedSpans returns the closed days of a place for a nutrient (N, P, or ""
// for a fertilizer without either) from one day through another.
func (b *Book) ClosedSpans(place Place, actor Actor, nutrient string, from, to civil.Date) []Span {
	return nil
}

// TimeZone returns the zone of the lowest record of the place's chain that
// has one, or "".
func (b *Book) TimeZone(place Place) string { return "" }

// Unevaluated is something in a record that the code cannot judge.
type Unevaluated struct {
	Rule *Rule
	What string // a code
	Ban  bool   // a ban among it is answered not_cleared
	Pos  diag.Pos
}
