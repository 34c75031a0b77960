package agromet

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The standing of an expected value.
const (
	read       = "read"        // the figure stands in the publication, which was read
	secondHand = "second-hand" // read where somebody reports the publication
	memory     = "from memory" // known from the literature, not looked up
	recomputed = "recomputed"  // worked out from the published equation, not printed there
	own        = "own design"
)

// row is one expected value: what the publication says, to which tolerance,
// with what standing.
type row struct {
	says     string
	standing string
	want     float64
	tol      float64
	got      float64
}

// check runs the rows as subtests whose names read as a list of references.
// The publication heads each name.
func check(t *testing.T, publication string, rows []row) {
	t.Helper()
	for _, r := range rows {
		t.Run(publication+": "+r.says+" ("+r.standing+")", func(t *testing.T) {
			assert.InDelta(t, r.want, r.got, r.tol)
		})
	}
}

// raMJ is the radiation of [SunOfDay] alone.
func raMJ(latRad float64, doy int) float64 {
	ra, _ := SunOfDay(latRad, doy)
	return ra
}

// missingDay is a day of which nothing is known.
func missingDay() Day {
	nan := math.NaN()
	return Day{nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, nan}
}

// rad turns degrees and minutes of arc into radians; southern latitudes have
// both negative.
func rad(deg, minutes float64) float64 { return (deg + minutes/60) * radPerDeg }

// celsius turns °F into °C.
func celsius(f float64) float64 { return (f - 32) / 1.8 }
