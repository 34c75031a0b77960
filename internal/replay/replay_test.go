package replay

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/workspace"
)

// Everything that is counted adds up to the weeks that were run.
func TestCountsAddUp(t *testing.T) {
	ws := demonstration(t)
	var steps []int
	r, err := Run(ws, ask(t, ws, "gannet-shore", 2024, 2025), func(done, of int) {
		assert.Equal(t, 104, of)
		steps = append(steps, done)
	})
	require.NoError(t, err)
	require.Len(t, r.Weeks, 104)
	require.Len(t, steps, 104)
	assert.IsIncreasing(t, steps)
	assert.Equal(t, Week{civil.Week{Year: 2024, Num: 1}, civil.MustDate(2023, 12, 31)}, r.Weeks[0])
	require.Len(t, r.Zones, 1)
	z := r.Zones[0]
	assert.Equal(t, 104, z.Weather.Weeks)
	assert.Equal(t, 0, z.Weather.Forecasts)
	// The record begins on 1 January 2015, and 2025-W01 is issued before that day.
	assert.Equal(t, 53, z.Weather.Short)
	for _, y := range z.Years {
		assert.Equal(t, 52, y.Weeks)
		for _, c := range []Closing{y.Nitrogen, y.Phosphorus, y.Water} {
			assert.LessOrEqual(t, c.Closed+c.Unclear, y.Weeks)
			assert.Equal(t, c.Closed > 0, !c.First.IsZero())
		}
	}
	require.NotEmpty(t, z.Law)
	for _, l := range z.Law {
		assert.LessOrEqual(t, l.From, civil.MustDate(2025, 12, 28), "%s spoke", l.ID)
		assert.True(t, l.Weeks > 0 && l.Weeks <= 104)
	}
	for _, g := range z.Grasses {
		require.Len(t, g.States, 104)
		weeks, runs := 0, 0
		for _, s := range g.StateYears() {
			weeks += s.Weeks
		}
		for _, year := range []int{2024, 2025} {
			for _, run := range g.Runs(year) {
				runs += run.Last.Num - run.First.Num + 1
			}
		}
		assert.Equal(t, 104, weeks)
		assert.Equal(t, 104, runs)
		require.NotEmpty(t, g.Rules)
		for _, rule := range g.Rules {
			assert.NotContains(t, g.Silent, rule.ID)
			for _, y := range rule.Years {
				assert.Equal(t, y.Weeks, y.Do+y.Wait+y.Skip+y.Look+y.Closed, "%s %s %d", rule.ID, rule.Pest, y.Year)
				assert.True(t, y.Weeks > 0 && y.Answered <= y.Weeks && y.Stopped <= y.Weeks)
				assert.True(t, y.First.Year == y.Year && y.Last.Year == y.Year && !y.Last.Before(y.First))
			}
		}
		for _, w := range g.Windows {
			require.Len(t, w.Years, 2)
			for _, y := range w.Years {
				assert.Equal(t, y.Weeks > 0, !y.Opened.Week.IsZero(), "%s %d", w.ID, y.Year)
				if !y.Over.Week.IsZero() {
					assert.Greater(t, y.Over.Date, y.Opened.Date)
				}
			}
		}
	}
	lines := parseCSV(t, r)
	compare(t, lines, r)
	var back Replay
	text, err := json.Marshal(r)
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, &back), "what is written can be read")
	assert.Equal(t, r.Zones[0].Years, back.Zones[0].Years)
	assert.Equal(t, r.Zones[0].Grasses[0].Rules, back.Zones[0].Grasses[0].Rules)
	assert.Equal(t, r.Scouting, back.Scouting)
}

// parseCSV writes the table and reads it again.
func parseCSV(t *testing.T, r *Replay) []row {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, r.WriteCSV(&b))
	all, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
	require.Equal(t, columns(), all[0])
	var out []row
	for _, fields := range all[1:] {
		cells := row{}
		for i, name := range all[0] {
			cells[name] = fields[i]
		}
		out = append(out, cells)
	}
	return out
}

// compare finds every count of a replay in its table.
func compare(t *testing.T, lines []row, r *Replay) {
	t.Helper()
	find := func(want row) row {
		var found []row
		for _, l := range lines {
			same := true
			for name, cell := range want {
				same = same && l[name] == cell
			}
			if same {
				found = append(found, l)
			}
		}
		require.Len(t, found, 1, "%v", want)
		return found[0]
	}
	num := func(l row, name string) int {
		n, err := strconv.Atoi(l[name])
		require.NoError(t, err, "%s of %v", name, l)
		return n
	}
	lineCount := 0
	for _, z := range r.Zones {
		for _, y := range z.Years {
			lineCount += 6
			l := find(row{"zone": z.ID, "year": number(y.Year), "kind": "law", "id": "nitrogen", "value": "closed"})
			assert.Equal(t, y.Nitrogen, Closing{num(l, "weeks"), y.Nitrogen.Unclear, parsed(t, l["first_week"]), parsed(t, l["last_week"])})
		}
		for _, g := range z.Grasses {
			for _, w := range g.Windows {
				for _, y := range w.Years {
					lineCount++
					l := find(row{"zone": z.ID, "grass": g.ID, "year": number(y.Year), "kind": "window", "id": w.ID})
					assert.Equal(t, y.Weeks, num(l, "weeks"))
					assert.Equal(t, y.Opened.Week, parsed(t, l["first_week"]))
					assert.Equal(t, y.Over.Week, parsed(t, l["last_week"]))
					assert.Equal(t, y.Opened.Date.String(), l["first_date"])
					assert.Equal(t, y.Opened.Told.String(), l["opens"])
					assert.Equal(t, y.Over.Basis, l["closes_basis"])
					assert.NotEmpty(t, l["value"])
				}
			}
			for _, rule := range g.Rules {
				for _, y := range rule.Years {
					lineCount++
					l := find(row{"zone": z.ID, "grass": g.ID, "year": number(y.Year), "kind": "rule", "id": rule.ID, "pest": rule.Pest})
					assert.Equal(t, y, RuleYear{y.Year, num(l, "weeks"), num(l, "do"), num(l, "wait"), num(l, "skip"), num(l, "look"), num(l, "closed"),
						num(l, "answered"), num(l, "stopped"), parsed(t, l["first_week"]), parsed(t, l["last_week"])})
				}
			}
			for _, s := range g.StateYears() {
				lineCount++
				l := find(row{"zone": z.ID, "grass": g.ID, "year": number(s.Year), "kind": "state", "id": cmp.Or(s.State, "unknown")})
				assert.Equal(t, s.Weeks, num(l, "weeks"))
			}
			for _, s := range g.States {
				lineCount++
				assert.Equal(t, cmp.Or(s.State, "unknown"), find(row{"zone": z.ID, "grass": g.ID, "kind": "week", "id": s.Week.String()})["value"])
			}
		}
	}
	for _, p := range r.Scouting.Pairs {
		lineCount++
		l := find(row{"zone": p.Zone, "grass": p.Grass, "kind": "pair", "id": p.Disease, "first_week": p.Week.String()})
		assert.Equal(t, p.Grade, l["value"])
		assert.Equal(t, p.Found, l["outcome"] == "found")
	}
	lineCount += 3 * len(r.Scouting.By)
	assert.Len(t, lines, lineCount, "and nothing else stands in it")
}

func parsed(t *testing.T, text string) civil.Week {
	t.Helper()
	if text == "" {
		return civil.Week{}
	}
	w, err := civil.ParseWeek(text)
	require.NoError(t, err)
	return w
}

// One issue of the demonstration has a forecast on file; the newest issues are
// those that the weather supports.
func TestTheWeeksOfAQuestion(t *testing.T) {
	ws := demonstration(t)
	first, last, ok := Usual(ws, ws.Zones)
	assert.True(t, ok)
	assert.Equal(t, []int{2016, 2025}, []int{first, last})
	oldest, latest, ok := weeksOf(ws, ws.Zones)
	assert.True(t, ok)
	assert.Equal(t, []int{2015, 2026}, []int{oldest.Year, latest.Year})

	weeks, err := ask(t, ws, "gannet-shore", 2026, 2030).weeks(ws)
	require.NoError(t, err)
	newest, _ := ws.DefaultWeek()
	assert.Equal(t, newest, weeks[len(weeks)-1])
	assert.Equal(t, civil.Week{Year: 2026, Num: 1}, weeks[0])

	// The first issue that may see the first record, of 1 January 2015, is that
	// of 4 January.
	weeks, err = ask(t, ws, "gannet-shore", 2010, 2015).weeks(ws)
	require.NoError(t, err)
	assert.Equal(t, civil.MustDate(2015, 1, 4), ws.Site.IssueDate(weeks[0]))

	for _, years := range [][2]int{{1990, 2014}, {2027, 2031}} {
		_, err = Run(ws, ask(t, ws, "gannet-shore", years[0], years[1]), nil)
		require.ErrorContains(t, err, "2015 to 2026")
	}
	_, err = Run(ws, ask(t, ws, "gannet-shore", 2025, 2024), nil)
	require.ErrorContains(t, err, "comes after")

	empty := *ws
	empty.Stations = nil
	_, _, ok = Usual(&empty, ws.Zones)
	assert.False(t, ok)
	_, err = Run(&empty, Question{First: 2020, Last: 2020, Zones: ws.Zones}, nil)
	require.ErrorContains(t, err, "no station")
}

// A zone without weather of its own is told all the same: its law, and that
// nothing else can be said.
func TestAZoneWithoutWeather(t *testing.T) {
	ws := demonstration(t)
	z, ok := ws.Zone("gannet-shore")
	require.True(t, ok)
	dry := *z
	dry.ID, dry.Station = "dry", "nowhere"
	r, err := Run(ws, Question{First: 2025, Last: 2025, Zones: []*workspace.Zone{&dry, ws.Zones[0]}}, nil)
	require.NoError(t, err)
	got := r.Zones[0]
	assert.Equal(t, Weather{}, got.Weather)
	assert.Equal(t, 41, got.Years[0].Nitrogen.Closed, "as in the zone that it was made from")
	for _, g := range got.Grasses {
		assert.Equal(t, []StateYear{{"", 2025, 52, civil.Week{Year: 2025, Num: 1}, civil.Week{Year: 2025, Num: 52}}}, g.StateYears())
		for _, w := range g.Windows {
			assert.Zero(t, w.Opened.Years)
			assert.Equal(t, WindowYear{Year: 2025, Phase: "unknown"}, w.Years[0])
		}
	}
	page := PageOf(ws, r)
	assert.Len(t, page.Zones, 2)
	assert.Equal(t, []PageState{{nil, 52, 52, &message.Said{Message: message.Just(message.Count(52)), Words: "52"}}}, page.Zones[0].Grasses[0].States)
	assert.True(t, strings.HasPrefix(page.First, "2025-W01"))
}
