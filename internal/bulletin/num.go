package bulletin

import (
	"encoding/json"
	"math"
)

// Num is a number that may be missing: NaN here, null where it is written.
type Num float64

// Known reports whether there is a number.
func (n Num) Known() bool { return !math.IsNaN(float64(n)) }

// MarshalJSON writes a number, or null.
func (n Num) MarshalJSON() ([]byte, error) {
	if !n.Known() {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

// UnmarshalJSON reads what MarshalJSON writes.
func (n *Num) UnmarshalJSON(b []byte) error {
	var x *float64
	err := json.Unmarshal(b, &x)
	*n = missing
	if x != nil {
		*n = Num(*x)
	}
	return err
}

// missing is a number that is not there.
var missing = Num(math.NaN())
