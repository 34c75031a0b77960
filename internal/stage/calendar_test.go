package stage

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/weather"
)

// typical returns the median day of the year on which a stage began over the
// years from on, as a date of 2015.
func typical(t *testing.T, m *Timing, f *weather.Felt, stage string, from int) civil.Date {
	i := slices.IndexFunc(m.Stages, func(s Stage) bool { return s.ID == stage })
	require.GreaterOrEqual(t, i, 0, stage)
	var days []int
	for y := from; m.Start.StartIn(y+1) <= f.View.LastRecord; y++ {
		if m.Start.StartIn(y) < f.Start {
			continue
		}
		if d := m.Season(f, y)[i]; d != 0 {
			days = append(days, int(d-civil.MustDate(y, 1, 1)))
		}
	}
	require.GreaterOrEqual(t, len(days), 4, "%s: %d years", stage, len(days))
	slices.Sort(days)
	return civil.MustDate(2015, 1, 1).AddDays(days[len(days)/2])
}

// Published calendars against the median of real stations. The stations are not
// the places of the calendars; which of them is near is told with the row, and
// the window opens as early and closes as late as the tolerance says.
func TestPublishedCalendars(t *testing.T) {
	const since = 1990
	n, j, nj, br := norfolk(t), jackson(t), newBrunswick(t), batonRouge(t)
	crab, goose, poa := demoWeed(t, "crabgrass"), demoWeed(t, "goosegrass"), demoWeed(t, "annual-bluegrass")
	southern, hairy, moles, spittle := demoInsect(t, "southern-chinch-bug"), demoInsect(t, "hairy-chinch-bug"), demoInsect(t, "mole-crickets"), demoInsect(t, "two-lined-spittlebug")
	day := func(month, d int) civil.Date { return civil.MustDate(2015, month, d) }
	for _, c := range []struct {
		row     string
		from    civil.Date // the model's: the first day of its window…
		to      civil.Date // …and the last
		pub     [2]civil.Date
		tolDays int
	}{
		{"southern Delaware: crabgrass pre-emergent 1 March to 1 April, Kent County Extension 2009 (Norfolk, Virginia)", typical(t, &crab.Timings[0], n, "open", since), typical(t, &crab.Timings[0], n, "first-plants", since), [2]civil.Date{day(3, 1), day(4, 1)}, 7},
		{"central Arkansas: crabgrass pre-emergent by 1 March, University of Arkansas (Jackson, Tennessee)", typical(t, &crab.Timings[0], j, "open", since), typical(t, &crab.Timings[0], j, "first-plants", since), [2]civil.Date{day(3, 1), day(3, 1)}, 10},
		{"South Carolina Upstate: pre-emergent down by 15 March, Clemson (Jackson, Tennessee)", typical(t, &crab.Timings[0], j, "open", since), typical(t, &crab.Timings[0], j, "first-plants", since), [2]civil.Date{day(3, 15), day(3, 15)}, 10},
		{"north Georgia: crabgrass and goosegrass pre-emergent 1 to 20 March, UGA 2019 (Jackson, Tennessee)", typical(t, &crab.Timings[0], j, "open", since), typical(t, &crab.Timings[0], j, "first-plants", since), [2]civil.Date{day(3, 1), day(3, 20)}, 10},
		{"south Georgia: crabgrass and goosegrass pre-emergent 15 February to 15 March, UGA 2019 (Baton Rouge)", typical(t, &crab.Timings[0], br, "open", since), typical(t, &crab.Timings[0], br, "first-plants", since), [2]civil.Date{day(2, 15), day(3, 15)}, 10},
		{"north Florida: St. Augustine pre-emergent in March, UF ENH-73 (Baton Rouge)", typical(t, &crab.Timings[0], br, "open", since), typical(t, &crab.Timings[0], br, "first-plants", since), [2]civil.Date{day(3, 1), day(3, 31)}, 14},
		{"Texas: pre-emergent January to March, McAfee & Baumann 2007 (Baton Rouge)", typical(t, &crab.Timings[0], br, "open", since), typical(t, &crab.Timings[0], br, "first-plants", since), [2]civil.Date{day(1, 1), day(3, 31)}, 10},
		{"southeast North Carolina: crabgrass emerged by 17 March, NC State 2011 (Baton Rouge to Norfolk, between)", typical(t, &crab.Timings[0], br, "first-plants", since), typical(t, &crab.Timings[0], n, "first-plants", since), [2]civil.Date{day(3, 17), day(3, 17)}, 10},
		{"Maryland: half to most of annual bluegrass late September to mid October, Kaminski & Dernoeden 2007 (New Brunswick)", typical(t, &poa.Timings[0], nj, "late", 2014), typical(t, &poa.Timings[0], nj, "germinating", 2014), [2]civil.Date{day(9, 20), day(10, 15)}, 7},
		{"the same (Norfolk)", typical(t, &poa.Timings[0], n, "late", since), typical(t, &poa.Timings[0], n, "germinating", since), [2]civil.Date{day(9, 20), day(10, 15)}, 7},
		{"south Georgia: annual bluegrass pre-emergent mid September to mid October, UGA quoting Murphy (Baton Rouge)", typical(t, &poa.Timings[0], br, "open", since), typical(t, &poa.Timings[0], br, "late", since), [2]civil.Date{day(9, 15), day(10, 15)}, 10},
		{"New Jersey: hairy chinch bug lays from late April to the end of May, Mailloux & Streu 1981 (New Brunswick)", typical(t, &hairy.Timings[0], nj, "active", 2014), typical(t, &hairy.Timings[0], nj, "nymphs", 2014), [2]civil.Date{day(4, 20), day(5, 31)}, 10},
		{"north Florida: southern chinch bug active March to November, UF (Baton Rouge)", typical(t, &southern.Timings[0], br, "active", since), typical(t, &southern.Timings[0], br, "ending", since), [2]civil.Date{day(3, 1), day(11, 30)}, 14},
		{"Florida panhandle: mole crickets treated mid June to July, UF Okaloosa (Baton Rouge)", typical(t, &moles.Timings[0], br, "nymphs", since), typical(t, &moles.Timings[0], br, "large", since), [2]civil.Date{day(6, 15), day(7, 31)}, 10},
		{"Alabama: spittlebug damage June to early September, ANR-170 (Jackson, Tennessee)", typical(t, &spittle.Timings[0], j, "second", since), typical(t, &spittle.Timings[0], j, "late", since), [2]civil.Date{day(6, 1), day(9, 7)}, 14},
	} {
		t.Run(c.row, func(t *testing.T) {
			from, to := c.pub[0].AddDays(-c.tolDays), c.pub[1].AddDays(c.tolDays)
			assert.True(t, c.from <= to && c.to >= from, "model %s to %s, calendar %s to %s and %d days", c.from, c.to, c.pub[0], c.pub[1], c.tolDays)
		})
	}

	// Goosegrass follows crabgrass by two to three weeks (Purdue; Midwest).
	for _, f := range []struct {
		name string
		felt *weather.Felt
		from int
	}{{"Jackson", j, since}, {"Norfolk", n, since}, {"New Brunswick", nj, 2014}} {
		t.Run("Purdue 2013: goosegrass two to three weeks after crabgrass: "+f.name, func(t *testing.T) {
			gap := int(typical(t, &goose.Timings[0], f.felt, "sprouting", f.from) - typical(t, &crab.Timings[0], f.felt, "first-plants", f.from))
			assert.True(t, gap >= 14-7 && gap <= 21+7, "%d days", gap)
		})
	}

	// Fire ants: share of the year with good soil, 25 % in Oklahoma and 42 to 59 %
	// in Florida (Vogt and others 2003), whatever the heat of the day.
	t.Run("Vogt and others 2003: share of the year for bait, Florida", func(t *testing.T) {
		ants := &demoInsect(t, "imported-fire-ants").Timings[0]
		share := func(f *weather.Felt) float64 {
			trace := ants.Trace(f)
			good, known := 0, 0
			for _, s := range trace {
				if s >= 0 {
					known++
				}
				if s >= 0 && (ants.Stages[s].ID == "good" || ants.Stages[s].ID == "hot") {
					good++
				}
			}
			return 100 * float64(good) / float64(known)
		}
		gulf, tennessee := share(br), share(j)
		assert.Greater(t, gulf, tennessee)
		assert.GreaterOrEqual(t, gulf, 42.0-10)
		assert.LessOrEqual(t, gulf, 59.0+10)
		assert.GreaterOrEqual(t, tennessee, 25.0-10)
		assert.LessOrEqual(t, tennessee, 42.0+10, "between Oklahoma and Florida")
	})
}
