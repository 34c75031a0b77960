package season

import (
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
)

var (
	update = flag.Bool("update", false, "rewrite the golden files")
	full   = flag.Bool("full", false, "calibrate on every year and write the full table with -update")
)

func golden(t *testing.T, name, got string) {
	file := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(got), 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "write it with -update")
	wantLines, gotLines := strings.Split(string(want), "\n"), strings.Split(got, "\n")
	for i := range min(len(wantLines), len(gotLines)) {
		require.Equal(t, wantLines[i], gotLines[i], "%s:%d; rewrite it with -update if the change is meant", name, i+1)
	}
	assert.Len(t, gotLines, len(wantLines), "%s", name)
}

const calendarFolder = "../../data/calendar"

// demoCalendar reads a calendar of the demonstration.
func demoCalendar(t testing.TB, climate, grass string) *Calendar {
	all := demoCalendars(t, grass)
	i := slices.IndexFunc(all, func(c *Calendar) bool { return c.Climate == climate })
	require.GreaterOrEqual(t, i, 0, "%s has no calendar in %s", grass, climate)
	return all[i]
}

func demoCalendars(t testing.TB, grass string) []*Calendar {
	calendars, _, list := parseCalendarsOver(calendarText(t, "defaults"), grass, calendarText(t, grass))
	require.NoError(t, list.Err(), grass)
	return calendars
}

func calendarText(t testing.TB, name string) string {
	text, err := os.ReadFile(filepath.Join(calendarFolder, name+".toml"))
	require.NoError(t, err)
	return string(text)
}

// demoGrasses names the grasses that the demonstration has calendars of.
func demoGrasses(t testing.TB) []string {
	files, err := filepath.Glob(calendarFolder + "/*.toml")
	require.NoError(t, err)
	var out []string
	for _, file := range files {
		if name := strings.TrimSuffix(filepath.Base(file), ".toml"); name != "defaults" {
			out = append(out, name)
		}
	}
	require.NotEmpty(t, out)
	return out
}

func parseCalendars(grass, text string) ([]*Calendar, *diag.List) {
	calendars, _, list := parseCalendarsOver("", grass, text)
	return calendars, list
}

// parseCalendarsOver reads calendars over defaults, which are still to be closed.
func parseCalendarsOver(defaults, grass, text string) ([]*Calendar, *diag.Table, *diag.List) {
	var list diag.List
	alike, whole := diag.ReadTOML("data/calendar/defaults.toml", []byte(defaults), &list)
	table, ok := diag.ReadTOML("data/calendar/"+grass+".toml", []byte(text), &list)
	if !ok || !whole {
		return nil, nil, &list
	}
	return ReadCalendars(grass, []string{"coast", "mountains", "piedmont"}, table, alike), alike, &list
}
