package workspace

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
)

// calendarsWith loads a workspace of the demonstration's climates, grasses and
// sources and of the calendars given, and returns what is found in these.
func calendarsWith(t *testing.T, files map[string]string) (*Workspace, []string) {
	t.Helper()
	fsys := fstest.MapFS{}
	for _, name := range []string{"data/climates.toml", "data/sources.toml", "data/grasses/zoysia.toml", "data/grasses/bermuda.toml", "data/grasses/tall-fescue.toml"} {
		fsys[name] = &fstest.MapFile{Data: []byte(read(t, name))}
	}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	var list diag.List
	ws := Load(fsys, nil, &list)
	var out []string
	for _, p := range list.All() {
		if strings.HasPrefix(p.File, "data/calendar") {
			out = append(out, p.String())
		}
	}
	return ws, out
}

// A grass has a calendar in the climates that its file names, and in no other.
func TestOwnDesignCalendarsByClimateAndGrass(t *testing.T) {
	files := map[string]string{}
	for _, g := range []string{"zoysia", "bermuda", "tall-fescue", "defaults"} {
		files["data/calendar/"+g+".toml"] = read(t, "data/calendar/"+g+".toml")
	}
	ws, found := calendarsWith(t, files)
	require.Empty(t, found)
	var order []string
	for _, c := range ws.Calendars {
		order = append(order, c.Climate+"/"+c.Grass)
		assert.Same(t, c, ws.Calendar(c.Climate, c.Grass))
	}
	assert.Equal(t, []string{"coast/bermuda", "coast/zoysia", "mountains/tall-fescue", "mountains/zoysia", "piedmont/bermuda", "piedmont/tall-fescue", "piedmont/zoysia"}, order)
	assert.Nil(t, ws.Calendar("mountains", "bermuda"))
	assert.Nil(t, ws.Calendar("hills", "zoysia"))
}

// A mistake of a file is told once, however many climates it is for; a folder
// of a climate is none of the calendars.
func TestMistakesInCalendarsHaveTheirPlace(t *testing.T) {
	const text = `climates = ["coast", "mountains"]
[[window]]
id        = "dormancy"
title     = "Winter dormancy"
uses      = []
opens     = { event = "dormancy" }
closes    = { event = "green-up" }
tolerance = "3 weeks"
source    = "nc-turf-council-soil-2005"
standing  = "verified"

  [[window.in]]
  climate = "coast"
  printed = { from = "12-01", to = "03-01", place = "a shore", source = "uga-evans-county", standing = "verified" }
`
	_, found := calendarsWith(t, map[string]string{
		"data/calendar/zoysia.toml":       strings.Replace(strings.Replace(text, "soil-2005", "soil-2015", 1), "uga-evans-county", "uga-evans-country", 1),
		"data/calendar/zoysias.toml":      text,
		"data/calendar/bermuda.toml":      strings.Replace(text, "mountains", "mountain", 1),
		"data/calendar/tall-fescue.toml":  text,
		"data/calendar/coast/zoysia.toml": text,
		"data/calendar/README.md":         "",
		"data/calendar/.kept":             "",
	})
	assert.Equal(t, []string{
		`data/calendar/README.md: not read; only files that end in .toml are read here; move it or rename it`,
		`data/calendar/bermuda.toml:1: climates[1]: there is no climate "mountain"; did you mean "mountains"?`,
		`data/calendar/coast: not read; only files that end in .toml are read here; move it or rename it`,
		`data/calendar/zoysia.toml:9: window[0].source: there is no source "nc-turf-council-soil-2015"; did you mean "nc-turf-council-soil-2005"?`,
		`data/calendar/zoysia.toml:14: window[0].in[0].printed.source: there is no source "uga-evans-country"; did you mean "uga-evans-county"?`,
		`data/calendar/zoysias.toml: there is no grass "zoysias"; did you mean "zoysia"?`,
	}, found)
}
