package law

// Anchor is a day that recurs every year: a month and day, the last day of a
// month, or the nth weekday of a month with an offset in days.
type Anchor struct {
	text string
}

// String returns the anchor as written.
func (a Anchor) String() string { return a.text }
