package synth

import (
	"math"
	"os"
	"path"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// load reads the workspace and fails on a mistake in any file of the invented
// region. Rules, grasses and wording have tests of their own.
func load(t *testing.T) *workspace.Workspace {
	t.Helper()
	var list diag.List
	ws := workspace.Load(os.DirFS(root), nil, &list)
	for _, p := range list.All() {
		for _, ours := range []string{
			"data/advisory.toml", "data/climates.toml", "data/stations.toml", "data/jurisdictions.toml",
			"data/zones/", "data/ordinances/", "data/weather/", "content/",
		} {
			assert.False(t, p.Severity == diag.Error && strings.HasPrefix(p.File, ours), "%s", p)
		}
	}
	return ws
}

func TestDemonstrationRegionReads(t *testing.T) {
	ws := load(t)
	assert.True(t, ws.Site.Demo)
	require.Len(t, ws.Zones, len(stations))
	require.Len(t, ws.Stations, len(stations))
	used := map[string]bool{}
	for _, z := range ws.Zones {
		used[z.Station] = true
		assert.GreaterOrEqual(t, len(z.Grasses), 2, z.ID)
		assert.NotEmpty(t, z.Places, z.ID)
	}
	for _, s := range stations {
		assert.True(t, used[s.id], "no zone uses %s", s.id)
		on, ok := ws.Station(s.id)
		require.True(t, ok, s.id)
		assert.InDelta(t, s.latitude, on.LatitudeDeg, 1e-9, s.id)
		assert.InDelta(t, s.longitude, on.LongitudeDeg, 1e-9, s.id)
		assert.InDelta(t, s.elevationM, on.ElevationM, 5, s.id)
		assert.Equal(t, s.coastal, on.Coastal, s.id)
		for d := regionFirst; d <= regionLast; d++ {
			at := weather.Midnight
			for _, p := range on.Obs {
				if p.From <= d {
					at = p.Time
				}
			}
			require.Equal(t, s.morning(d), at == weather.Morning, "%s on %s", s.id, d)
		}
	}
	for _, r := range ws.Ordinances {
		assert.True(t, r.Fictional, r.ID)
		assert.Contains(t, r.SourceURL, "https://law.example.invalid/", r.ID)
		for _, gap := range law.Unevaluated(r) {
			assert.False(t, gap.NotCleared, "%s: %s keeps the whole record from ever being cleared", r.ID, gap.What)
		}
	}
	for _, name := range []string{
		"about", "feeding-a-slowing-lawn", "measuring-a-lawn", "mowing-and-the-one-third-rule",
		"reading-a-bag", "treating-a-spot", "what-ipm-is",
	} {
		_, err := os.Stat(path.Join(root, "content/standing", name+".md"))
		assert.NoError(t, err)
	}
}

// Each week with a note is one of the issues that have a forecast, and has
// notes for the region and at least two zones.
func TestDemonstrationIssuesHaveNotes(t *testing.T) {
	ws := load(t)
	require.Len(t, ws.Weeks, len(issueDates))
	for i, w := range ws.Weeks {
		assert.Equal(t, issueDates[i], ws.Site.IssueDate(w.Week), w.Week.String())
		require.NotNil(t, w.Note, w.Week.String())
		assert.NotEmpty(t, w.Note.Title)
		assert.Contains(t, w.Note.Text, "invented", "the note of %s says so", w.Week)
		assert.GreaterOrEqual(t, len(w.Zones), 2, w.Week.String())
	}
	// The newest issue that the weather supports is the last one with a note.
	newest := regionLast.AddDays(1).OnOrBefore(ws.Site.IssueWeekday)
	assert.Equal(t, issueDates[len(issueDates)-1], newest)
}

// What the invented law says on nitrogen for a homeowner in each demonstration
// week, place by place: the cases that the demonstration is there to show.
func TestOwnDesignLawOfTheDemonstrationWeeks(t *testing.T) {
	ws := load(t)
	for _, row := range []struct {
		zone, place string
		states      [4]string // April, July, September, November
	}{
		{"gannet-shore", "Vellinport", [4]string{"conditional", "closed_all", "closed_all", "closed_all"}},
		{"gannet-shore", "the unincorporated shore", [4]string{"conditional", "closed_all", "closed_all", "closed_all"}},
		{"ellerwade-bottoms", "Hocklan County", [4]string{"conditional", "conditional", "conditional", "closed_all"}},
		{"sabrey-sandhills", "the Hocklan side", [4]string{"conditional", "conditional", "conditional", "closed_all"}},
		// Nobody looked up the county: nothing is cleared, but the state closes.
		{"sabrey-sandhills", "the Selvary side", [4]string{"not_cleared", "not_cleared", "not_cleared", "closed_all"}},
		// Closed through April 20, and again through Monday, September 14.
		{"redfallow-piedmont", "Thornelby", [4]string{"closed_all", "conditional", "closed_part", "closed_all"}},
		{"redfallow-piedmont", "the rest of Corvane County", [4]string{"conditional", "conditional", "conditional", "closed_all"}},
		{"larkenhold-foothills", "the Ivelsay watershed", [4]string{"conditional", "conditional", "conditional", "closed_all"}},
		{"larkenhold-foothills", "the rest of Tessaby County", [4]string{"conditional", "conditional", "conditional", "closed_all"}},
		{"brackmoor-plateau", "the Ivelsay watershed", [4]string{"conditional", "conditional", "conditional", "closed_all"}},
		{"brackmoor-plateau", "the rest of Brackmoor County", [4]string{"conditional", "conditional", "conditional", "closed_all"}},
	} {
		z, ok := ws.Zone(row.zone)
		require.True(t, ok, row.zone)
		found := false
		for _, p := range z.Places {
			if p.Name != row.place {
				continue
			}
			found = true
			for i, issued := range issueDates {
				q := law.Question{Place: p, Actor: law.Homeowner, AsOf: issued,
					Product: law.Product{Unknown: true, Nutrients: []string{"N"}}}
				week := ws.Law.Week(q, issued.AddDays(1))
				assert.Equal(t, row.states[i], week.State, "%s, %s, issue of %s", row.zone, row.place, issued)
			}
		}
		assert.True(t, found, "%s has no place %q", row.zone, row.place)
	}
}

// One record is read too long ago for the November issue, and for no other.
func TestOwnDesignOneRecordGoesStale(t *testing.T) {
	ws := load(t)
	for _, r := range ws.Ordinances {
		for i, issued := range issueDates {
			assert.Equal(t, r.ID == "ivelsay-reservoir" && i == 3, r.Stale(issued), "%s on %s", r.ID, issued)
			assert.LessOrEqual(t, r.CheckedOn, issued, "%s was read before every issue", r.ID)
		}
	}
	var list diag.List
	ws.LintLaw(issueDates[0], &list)
	for _, p := range list.All() {
		assert.Equal(t, diag.Warning, p.Severity, "%s", p)
	}
}

// The forecasts that the storm gate is shown with: over two inches at the shore
// in September, between one and two inland, and no such day in July or November.
func TestOwnDesignForecastsShowTheStormGate(t *testing.T) {
	const inchMM = 25.4
	september := civil.MustDate(2026, 9, 13)
	for _, s := range stations {
		for _, issued := range issueDates {
			var list diag.List
			f := weather.ReadForecast("f.csv", s.forecast(regionSeed, issued), issued, &list)
			require.NoError(t, list.Err())
			most := 0.0
			for _, mm := range f.Days.Col(weather.RainMM) {
				most = max(most, mm)
			}
			switch {
			case issued == september && s.id == "gannet-light":
				assert.Greater(t, most, 2*inchMM)
			case issued == september && (s.id == "ellerwade-lock" || s.id == "sabrey-field" || s.id == "redfallow-farm"):
				assert.Greater(t, most, inchMM, s.id)
				assert.Less(t, most, 2*inchMM, s.id)
			case issued == issueDates[0]: // April: one to two inches here and there
				assert.Less(t, most, 2*inchMM, s.id)
			default:
				assert.Less(t, most, inchMM, "%s, issue of %s", s.id, issued)
			}
		}
	}
}

// The September issue has too little weather at the station whose keeper was
// away, and enough at every other; no other issue lacks any.
func TestOwnDesignOneIssueLacksWeather(t *testing.T) {
	ws := load(t)
	for _, s := range stations {
		on, _ := ws.Station(s.id)
		var list diag.List
		records := weather.ReadDaily("daily.csv", s.daily(regionSeed), &list)
		require.NoError(t, list.Err())
		for i, issued := range issueDates {
			f := weather.ReadForecast("f.csv", s.forecast(regionSeed, issued), issued, &list)
			require.NoError(t, list.Err())
			felt := weather.AsOf(on.Station, records, []weather.Forecast{f}, issued).Felt()
			_, valid := felt.Mean(felt.TmeanC, issued-1, 7)
			if i == 2 && s.id == "ellerwade-lock" {
				assert.Less(t, valid, 5)
			} else {
				assert.GreaterOrEqual(t, valid, 6, "%s, issue of %s", s.id, issued)
			}
		}
	}
}

// Every issue has an hourly forecast at every station, which says of each day
// what the daily one beside it says.
func TestOwnDesignHoursOfTheDemonstrationAgreeWithItsDays(t *testing.T) {
	ws := load(t)
	for _, s := range ws.Stations {
		require.Len(t, s.Hourly, len(forecastIssues), s.ID)
		for i, f := range s.Hourly {
			assert.Equal(t, forecastIssues[i].date, f.Issued, s.ID)
			require.Len(t, f.Hours, 24*forecastDays, s.ID)
			k := slices.IndexFunc(s.Forecasts, func(d weather.Forecast) bool { return d.Issued == f.Issued })
			require.GreaterOrEqual(t, k, 0)
			days := s.Forecasts[k].Days
			for d := f.Issued; d <= days.End(); d++ {
				highC, lowC, rainMM := math.Inf(-1), math.Inf(1), 0.0
				for _, h := range f.Hours {
					if h.Date == d {
						highC, lowC, rainMM = max(highC, h.TC), min(lowC, h.TC), rainMM+h.RainMM
					}
				}
				assert.InDelta(t, days.At(weather.TmaxC, d), highC, 0.1, "%s, %s of %s", s.ID, d, f.Issued)
				assert.InDelta(t, days.At(weather.TminC, d), lowC, 0.1, "%s, %s of %s", s.ID, d, f.Issued)
				assert.InDelta(t, days.At(weather.RainMM, d), rainMM, 0.01, "%s, %s of %s", s.ID, d, f.Issued)
			}
		}
	}
}
