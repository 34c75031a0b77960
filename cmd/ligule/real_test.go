package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/data"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// Real daily records of NOAA's GHCN-Daily (Menne et al. 2012, J. Atmos. Oceanic
// Technol. 29:897–910), a work of the US Government. Where they come from and
// what was left out is in internal/weather/testdata/SOURCES.md.
const realWeather = "../../internal/weather/testdata/"

// realWorkspace takes the weather of three stations in through the program's
// own import, under a warm- and a cool-season grass each.
func realWorkspace(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	copyTree(t, dir, "data/advisory.toml", "data/sources.toml", "data/climates.toml", "data/indicators.toml", "data/phrases.toml",
		"data/cautions.toml", "data/conflicts.toml", "data/bags.toml", "data/grasses", "data/pests", "data/rules", "content/standing")
	archive, err := txtar.ParseFile("testdata/real-stations.txtar")
	require.NoError(t, err)
	for _, f := range archive.Files {
		write(t, dir, f.Name, string(f.Data))
	}
	replace(t, dir, "data/advisory.toml", "demo           = true", "demo           = false")
	for station, file := range map[string]string{"norfolk": "norfolk-va_1981-2018", "baton-rouge": "baton-rouge-la_1981-2018", "jackson": "jackson-tn_1982-2018"} {
		csv := filepath.Join(t.TempDir(), file+".csv")
		gunzip(t, realWeather+file+".csv.gz", csv)
		code, _, stderr := ligule(t, dir, "import", csv, "--station", station, "--units", "metric")
		require.Equal(t, 0, code, stderr)
	}
	return dir
}

func loadWorkspace(t testing.TB, dir string) *workspace.Workspace {
	t.Helper()
	var list diag.List
	ws := workspace.Load(os.DirFS(dir), data.Phrases, &list)
	require.NoError(t, list.Err())
	return ws
}

// growthOf runs the grasses of a zone as of a week.
func growthOf(t testing.TB, ws *workspace.Workspace, zone string, grasses []string, week civil.Week) []turf.Reading {
	t.Helper()
	z, ok := ws.Zone(zone)
	require.True(t, ok)
	st, ok := ws.Station(z.Station)
	require.True(t, ok)
	out := make([]turf.Reading, len(grasses))
	if st.Records == nil {
		return out
	}
	date := ws.Site.IssueDate(week)
	v := weather.AsOf(st.Station, st.Records, st.Forecasts, date)
	if v.LastRecord.IsZero() {
		return out
	}
	felt := v.Felt()
	for i, grass := range grasses {
		p, ok := ws.Grass(grass)
		require.True(t, ok)
		out[i] = turf.Run(p, z.Soil, felt).At(date)
	}
	return out
}

// watered is the growth of a lawn that is never short of water.
func watered(r turf.Reading) turf.Growth {
	if r.Watered != nil {
		return *r.Watered
	}
	return r.RainFed
}

// The states of real lawns, week by week of real years. What must hold of 2016
// is asked for by name; the rest is a table kept to see what a change does.
func TestRealStations(t *testing.T) {
	t.Parallel()
	ws := loadWorkspace(t, realWorkspace(t))
	weeks := []int{3, 16, 29, 42}
	year2016 := map[string]turf.Reading{}
	var table strings.Builder
	table.WriteString("# State, growth index and smallest factor of each week, as of its issue date.\n")
	for _, lawns := range []struct {
		zone    string
		grasses []string
	}{
		{"norfolk", []string{"bermuda", "tall-fescue"}},
		{"baton-rouge", []string{"st-augustine", "tall-fescue"}},
		{"jackson", []string{"bermuda", "tall-fescue"}},
	} {
		rows := make([]strings.Builder, len(lawns.grasses))
		for year := 1983; year <= 2018; year++ {
			if !tried(year) {
				continue
			}
			for i := range rows {
				fmt.Fprintf(&rows[i], "%-6d", year)
			}
			for _, w := range weeks {
				for i, r := range growthOf(t, ws, lawns.zone, lawns.grasses, civil.Week{Year: year, Num: w}) {
					cell := "not enough weather"
					if g := r.RainFed; g.Enough {
						cell = fmt.Sprintf("%s %.2f %s", g.State, g.G, g.Smallest)
					}
					fmt.Fprintf(&rows[i], "  %-30s", cell)
					if year == 2016 {
						year2016[fmt.Sprintf("%s %s W%d", lawns.zone, lawns.grasses[i], w)] = r
					}
				}
			}
			for i := range rows {
				rows[i].WriteString("\n")
			}
		}
		for i, grass := range lawns.grasses {
			fmt.Fprintf(&table, "\n%s, %s\n%-6s", lawns.zone, grass, "year")
			for _, w := range weeks {
				fmt.Fprintf(&table, "  %-30s", fmt.Sprintf("W%02d", w))
			}
			table.WriteString("\n" + rows[i].String())
		}
	}
	state := func(lawn string) turf.State { return year2016[lawn].RainFed.State }
	assert.Equal(t, turf.Dormant, state("norfolk bermuda W3"))
	assert.Contains(t, []turf.State{turf.Growing, turf.Flush}, state("norfolk bermuda W29"))
	assert.Equal(t, turf.Dormant, state("jackson bermuda W3"))
	assert.NotEqual(t, turf.Dormant, state("baton-rouge st-augustine W3"))
	// Heat slows tall fescue in July, and autumn brings it back. At Baton Rouge
	// and Jackson the root zone was too dry by October 2016 for a lawn that is
	// not watered, so there it is the watered lawn that shows it.
	for _, zone := range []string{"norfolk", "baton-rouge", "jackson"} {
		july, october := year2016[zone+" tall-fescue W29"], year2016[zone+" tall-fescue W42"]
		assert.Less(t, watered(july).G, 0.6*watered(october).G, "%s: watered tall fescue in July against October", zone)
		assert.Equal(t, turf.Temperature, watered(july).Smallest, zone)
		assert.Contains(t, []turf.Factor{turf.Temperature, turf.Water}, july.RainFed.Smallest, zone)
		if zone == "norfolk" {
			assert.Less(t, july.RainFed.G, 0.6*october.RainFed.G, "%s: tall fescue in July against October", zone)
		} else {
			assert.Equal(t, turf.Water, october.RainFed.Smallest, zone)
		}
	}
	const name = "testdata/real-stations.txt"
	if tried(1983) {
		golden(t, name, trimLines(table.String()))
		return
	}
	want, err := os.ReadFile(name)
	require.NoError(t, err)
	lines := slices.DeleteFunc(strings.Split(string(want), "\n"), func(l string) bool {
		year, err := strconv.Atoi(l[:min(4, len(l))])
		return err == nil && !tried(year)
	})
	assert.Equal(t, strings.Join(lines, "\n"), trimLines(table.String()), name)
}

// tried reports whether a year is tried: every fourth for every change, all of them
// in the full run and when the table is written.
func tried(year int) bool { return year%4 == 0 || *update || os.Getenv("EVERY_CASE") != "" }

// golden compares a text with a file of the repository.
func golden(t testing.TB, name, got string) {
	t.Helper()
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o777))
		require.NoError(t, os.WriteFile(name, []byte(got), 0o666))
	}
	want, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, string(want), got, "%s; if the change is wanted, run the test with -update and read the difference", name)
}

func trimLines(s string) string {
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(l, " ")
	}
	return strings.Join(lines, "\n")
}
