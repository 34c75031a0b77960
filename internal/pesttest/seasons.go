package pesttest

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/pest"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// Year is what the grades of a pest on a grass come to over years.
type Year struct {
	weeks, watch, act [12]float64 // by month
	longest           int         // weeks running at act
	flaps             float64     // changes of grade a year
}

// Count counts the grades of weeks.
func Count(weeks []pest.WeekGrade) *Year {
	y := &Year{}
	run, changes, last := 0, 0, pest.Quiet
	for _, w := range weeks {
		if !w.Known {
			continue
		}
		m := w.Issue.Month() - 1
		y.weeks[m]++
		if w.Grade >= pest.Watch {
			y.watch[m]++
		}
		run++
		if w.Grade < pest.Act {
			run = 0
		} else {
			y.act[m]++
		}
		y.longest = max(y.longest, run)
		if w.Grade != last {
			changes++
		}
		last = w.Grade
	}
	y.flaps = float64(changes) / (float64(len(weeks)) * 7 / 365.25)
	return y
}

// line prints shares of weeks at watch or more and at act, %, January to December.
func (y *Year) line(station, id, grass string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%-17s%-26s%-20s", station, id, grass)
	for _, of := range [...]*[12]float64{&y.watch, &y.act} {
		b.WriteString("|")
		for m, n := range of {
			switch share := 100 * n / y.weeks[m]; {
			case y.weeks[m] == 0:
				b.WriteString("   -")
			case n == 0:
				b.WriteString("   .")
			default:
				fmt.Fprintf(&b, "%4.0f", share)
			}
		}
	}
	fmt.Fprintf(&b, "|%4d%6.1f\n", y.longest, y.flaps)
	return b.String()
}

// Golden holds the table of all years against testdata/seasons.golden.
type Golden struct {
	text  strings.Builder
	years map[[3]string]*Year // by station, pest and grass
}

// NewGolden begins a table.
func NewGolden() *Golden {
	g := &Golden{years: map[[3]string]*Year{}}
	g.text.WriteString("# Share of weeks, %, at watch or more and at act, January to December; the longest\n# run of act, weeks; changes of grade a year.\n")
	return g
}

// Add adds the grades of a pest on a grass at a station.
func (g *Golden) Add(station, id, grass string, weeks []pest.WeekGrade) {
	if len(weeks) == 0 {
		return
	}
	y := Count(weeks)
	g.years[[3]string{station, id, grass}] = y
	g.text.WriteString(y.line(station, id, grass))
}

// Check holds the table against the file.
func (g *Golden) Check(t *testing.T) {
	t.Helper()
	Same(t, "testdata/seasons.golden", g.text.String())
}

// Same holds a text against a golden file of the package under test.
func Same(t *testing.T, name, text string) {
	t.Helper()
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(name, []byte(text), 0o644))
	}
	want, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, string(want), text, "look at what changed, then go test -update")
}

// Print is what a publication prints of the months in which a pest is active: a
// letter each from January to December. A active; s beside such a month, or told
// vaguely; q quiet, since others are told; Q quiet, told so; . nothing.
type Print struct {
	Station, Pest, Grass string
	Months               string
	Source               string
	Warns                bool // read second-hand: it warns and does not fail
	Wet                  bool // it takes a wet year
}

// The bounds, shares of the known weeks. Own design.
const (
	quietWatch             = 0.05
	besideWatch, besideAct = 0.50, 0.10
	activeWatch, activeAct = 0.20, 0.60
	wetYearWatch           = 0.02 // two weeks of ten years of such months, or so
)

// Holds returns what of the print the grades do not hold.
func (g *Golden) Holds(p Print) (broken []string) {
	y := g.years[[3]string{p.Station, p.Pest, p.Grass}]
	if y == nil {
		y = &Year{} // never graded: quiet
		for m := range y.weeks {
			y.weeks[m] = 1
		}
	}
	say := func(format string, args ...any) { broken = append(broken, fmt.Sprintf(format, args...)) }
	var weeks, watch, act float64
	for m, letter := range p.Months {
		n := max(y.weeks[m], 1)
		w, a := y.watch[m]/n, y.act[m]/n
		switch letter {
		case 'Q', 'q':
			if w > quietWatch || a > 0 {
				say("month %d is printed quiet: watch %.0f %%, act %.0f %%", m+1, 100*w, 100*a)
			}
		case 's':
			if w > besideWatch || a > besideAct {
				say("month %d is beside the season: watch %.0f %%, act %.0f %%", m+1, 100*w, 100*a)
			}
		case 'A':
			weeks, watch, act = weeks+y.weeks[m], watch+y.watch[m], act+y.act[m]
		}
	}
	least := activeWatch
	if p.Wet {
		least = wetYearWatch
	}
	if weeks > 0 && watch/weeks < least {
		say("the season is printed: watch %.0f %%", 100*watch/weeks)
	}
	if weeks > 0 && act/weeks > activeAct {
		say("act in %.0f %% of the season", 100*act/weeks)
	}
	return broken
}

// Test holds the table against what is printed.
func (g *Golden) Test(t *testing.T, printed []Print) {
	for _, p := range printed {
		t.Run(p.Station+", "+p.Pest+" on "+p.Grass+": "+p.Source, func(t *testing.T) {
			require.Len(t, p.Months, 12)
			broken := strings.Join(g.Holds(p), "\n")
			if p.Warns {
				if broken != "" {
					t.Log(broken)
				}
				return
			}
			assert.Empty(t, broken)
		})
	}
}

// Never holds that a pest is never at a grade or above in some months.
func (g *Golden) Never(t *testing.T, station, id, grass string, grade pest.Grade, months ...int) {
	t.Helper()
	y := g.years[[3]string{station, id, grass}]
	if y == nil {
		return
	}
	of := &y.watch
	if grade == pest.Act {
		of = &y.act
	}
	for _, m := range months {
		assert.Zero(t, of[m-1], "%s, %s: weeks at %s in month %d", station, id, grade, m)
	}
}
