package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// answered is what is printed on a topic, with what goes for single lawns.
func answered(t *testing.T, dir, zone, grass, topic, week string) string {
	t.Helper()
	code, stdout, stderr := ligule(t, dir, "explain", zone, grass, topic, "--week", week)
	require.Equal(t, exitOK, code, stderr)
	_, after, found := strings.Cut(stdout, "\n"+strings.ToUpper(topic)+": ")
	require.True(t, found, stdout)
	answer, _, _ := strings.Cut(after, "\n\n")
	return strings.ReplaceAll(answer, "\u00a0", " ")
}

// unlogged is a copy of the demonstration in which nothing was scouted or treated.
func unlogged(t *testing.T) string {
	dir := demonstration(t)
	for _, log := range []string{"scouting", "treatments"} {
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "data", log)))
	}
	return dir
}

// What to expect in shade stands once with what is sprayed, and with each the days
// before it is judged in the weather of the week; a lawn that was sprayed waits for
// them.
func TestShadeEndToEnd(t *testing.T) {
	dir := unlogged(t)
	write(t, dir, "data/treatments/2026.csv", "date,zone,grass,place,target,groups,interval_days\n"+
		"2026-10-20,redfallow-piedmont,tall-fescue,the front,winter-annual-broadleaf,4,\n")
	const shade = "In shade a weed killer shows later, the later the cooler it is: wait the days out, do not spray again, and never raise the rate. Grass in shade is weaker: pull, or treat single spots."
	sprayed := answered(t, dir, "redfallow-piedmont", "tall-fescue", "weed", "2026-W46")
	zone, lawn, _ := strings.Cut(sprayed, "\n  At the front")
	assert.Equal(t, 1, strings.Count(zone, shade), zone)
	assert.Contains(t, zone, "Judge it after 35 days, and do not spray again before.")
	assert.Contains(t, lawn, ", treated October 20, 2026: Wait. What we list against it was used too lately")
	assert.Equal(t, 1, strings.Count(lawn, "\n  - "), lawn)
	assert.Contains(t, lawn, "The weed was sprayed 20 days ago; in that weather it is judged after 42. Nothing again before Tuesday, December 1.")

	cold := answered(t, dir, "redfallow-piedmont", "tall-fescue", "weed", "2026-W48")
	assert.Contains(t, cold, "If you have sprayed, in sun or shade, judge it after 42 days (forecast): do not spray again before, and never raise the rate.")
	assert.Contains(t, strings.ReplaceAll(printed(t, "2026-W48")["pests/weed-killers/index.html"], "\u00a0", " "), "28 days; 35 days where three days average below 60 °F (16 °C), 42 days below 50 °F (10 °C)")
}
