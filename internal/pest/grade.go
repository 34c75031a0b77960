package pest

// Grade is how much a pest asks for attention: nothing, a look, or two looks a
// week and the cultural steps now. No grade is an order to treat.
type Grade uint8

// The grades.
const (
	Quiet Grade = iota
	Watch
	Act
)

// String returns "quiet", "watch" or "act".
func (g Grade) String() string {
	return Grades()[g]
}

// Grades lists the words of the grades, in their order.
func Grades() []string { return []string{"quiet", "watch", "act"} }
