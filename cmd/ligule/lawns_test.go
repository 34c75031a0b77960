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

// What to expect in shade stands once with what is sprayed, and with each the days
// before it is judged in the weather of the week; a lawn that was sprayed waits for
// them.
func TestShadeEndToEnd(t *testing.T) {
	t.Parallel()
	dir := unlogged(t)
	write(t, dir, "data/treatments/2026.csv", "date,zone,grass,place,target,groups,interval_days\n"+
		"2026-10-20,redfallow-piedmont,tall-fescue,the front,winter-annual-broadleaf,4,\n")
	const shade = "In shade a weed killer shows later, the later the cooler it is: wait the days out, do not spray again, and never raise the rate. Grass in shade is weaker: pull, or treat single spots."
	sprayed := answered(t, dir, "redfallow-piedmont", "tall-fescue", "weed", "2026-W46")
	zone, lawn, _ := strings.Cut(sprayed, "\n  At the front")
	assert.Equal(t, 1, strings.Count(zone, shade), zone)
	assert.Contains(t, zone, "Judge it after 35 days, and do not spray again before.")
	assert.Contains(t, lawn, ", treated October 20, 2026: Wait. Wait until the time between two uses is over, or the year: what we list against it was used too lately")
	assert.Equal(t, 1, strings.Count(lawn, "\n  - "), lawn)
	assert.Contains(t, lawn, "The weed was sprayed 20 days ago; in that weather it is judged after 42. Nothing again before Tuesday, December 1.")

	cold := answered(t, dir, "redfallow-piedmont", "tall-fescue", "weed", "2026-W48")
	assert.Contains(t, cold, "If you have sprayed already, in sun or shade, judge it after 49 days: do not spray again before, and never raise the rate.")
	assert.Contains(t, strings.ReplaceAll(printed(t, "2026-W48")["pests/weed-killers/index.html"], "\u00a0", " "), "28 days; 35 days where three days average below 60 °F (16 °C), 42 days below 50 °F (10 °C)")
}

// A lawn that was seeded within the year is at more risk than the zone, and its
// report says so: the same find on an old lawn asks for nothing. That it is young may
// be told by an earlier look; of another place it does not count.
func TestYoungLawnEndToEnd(t *testing.T) {
	t.Parallel()
	dir := unlogged(t)
	const find = "2026-09-10,redfallow-piedmont,tall-fescue,the front,brown-patch,12,eye,yes,7,"
	for _, c := range []struct {
		name, lines string
		treat       bool
	}{
		{"seeded last autumn", find + "2025-10-01\n", true},
		{"seeded years ago", find + "2019-10-01\n", false},
		{"told by an earlier look", "2026-04-01,redfallow-piedmont,tall-fescue,the front,none,,,,,2025-10-01\n" + find + "\n", true},
		{"told of another place", "2026-04-01,redfallow-piedmont,tall-fescue,the back,none,,,,,2025-10-01\n" + find + "\n", false},
	} {
		write(t, dir, "data/scouting/2026.csv", "date,zone,grass,place,finding,area_pct,confirmed,margin_active,mown_every_days,seeded\n"+c.lines)
		says := answered(t, dir, "redfallow-piedmont", "tall-fescue", "disease", "2026-W38")
		assert.Equal(t, c.treat, strings.Contains(says, "At the front, reported September 10, 2026: Do it. Brown patch: treating the spots may be worth it."), "%s: %s", c.name, says)
	}
}

// Where water stood while the grass grew is looked at first in the seasons that follow,
// for what goes with water; and in winter that place is drained. Of any other place
// the rain of the year tells that water stood in the low ones.
func TestWetPlacesEndToEnd(t *testing.T) {
	t.Parallel()
	dir := unlogged(t)
	report := func(day, water string) {
		write(t, dir, "data/scouting/2025.csv", "date,zone,grass,place,finding,standing_water\n"+day+",gannet-shore,zoysia,the hollow,none,"+water+"\n")
	}
	report("2025-06-23", "yes")
	const look = "  At the hollow, reported June 23, 2025: Look. Large patch goes with water, and water stood here: look here before elsewhere."
	const drain = "  At the hollow, reported June 23, 2025: Do it. Drain it now: you know where the water stood. The season is open through March 10."
	assert.Contains(t, answered(t, dir, "gannet-shore", "zoysia", "disease", "2026-W14"), look)
	winter := answered(t, dir, "gannet-shore", "zoysia", "project", "2026-W02")
	assert.Contains(t, winter, drain)
	assert.NotContains(t, answered(t, dir, "gannet-shore", "zoysia", "project", "2026-W18"), "rain it now", "not in the season")
	alone := answered(t, dir, "gannet-shore", "zoysia", "project", "2026-W04")
	assert.True(t, strings.HasPrefix(alone, "Look. Not for the whole zone: what follows is for the reported lawn alone."), alone)
	assert.Contains(t, alone, drain)

	report("2025-06-23", "no")
	assert.NotContains(t, answered(t, dir, "gannet-shore", "zoysia", "disease", "2026-W14"), "the hollow")
	low := answered(t, dir, "gannet-shore", "zoysia", "project", "2026-W01")
	assert.True(t, strings.HasPrefix(low, "Look. Drain low places now, if you know where water stood in the growing season: the season is open through March 10."), low)
	assert.Contains(t, low, "Weeks of the last year in which an inch of rain or more ran off or past the roots while the grass grew: 7 (estimated).")
	assert.NotContains(t, low, "the hollow")
}

// Where only the pace of the mower speaks against treating spots, the reader is asked,
// with what the zone's weather makes of it; a report that tells it answers. What was
// let go is remembered when the season to prevent it opens, and not before.
func TestStillMowingEndToEnd(t *testing.T) {
	t.Parallel()
	dir := unlogged(t)
	looks := func(mown string) string {
		return "date,zone,grass,place,finding,area_pct,confirmed,margin_active,mown_every_days\n" +
			"2025-10-08,gannet-shore,zoysia,the front,large-patch,4,eye,yes," + mown + "\n2025-10-17,gannet-shore,zoysia,the front,large-patch,8,eye,yes," + mown + "\n"
	}
	disease := func(week string) string { return answered(t, dir, "gannet-shore", "zoysia", "disease", week) }
	const asked = "Large patch: do you still mow at least every two weeks? Then a spot treatment can pay. If not, let it go, mark the place, and get ahead of it next season."
	for mown, want := range map[string]string{
		"":   "  At the front, reported October 17, 2025: Look. " + asked,
		"21": "  At the front, reported October 17, 2025: Look. Large patch: mark the spots, but let them go.",
		"10": "",
	} {
		write(t, dir, "data/scouting/2025.csv", looks(mown))
		says := disease("2025-W43")
		assert.Contains(t, says, want, mown)
		assert.Equal(t, mown == "", strings.Contains(says, asked), mown)
		if mown == "" {
			assert.Contains(t, says, "By the weather, expect 28 days (estimated) between mowings.")
		}
	}
	assert.NotContains(t, disease("2026-W30"), "the front", "long before its season")
	again := disease("2026-W44")
	assert.Contains(t, again, "  At the front, reported October 17, 2025: Look. Large patch was here in this season before: look here first, and get ahead of it now.")
	assert.Contains(t, again, "The time to treat a place that had large patch before, ahead of the season.")

	// What was found in spring comes back in autumn.
	require.NoError(t, os.Remove(filepath.Join(dir, "data/scouting/2025.csv")))
	write(t, dir, "data/scouting/2026.csv", "date,zone,grass,place,finding,area_pct,confirmed\n2026-04-10,gannet-shore,zoysia,the front,large-patch,4,eye\n")
	assert.NotContains(t, disease("2026-W40"), "the front", "the soil is too warm yet")
	assert.Contains(t, disease("2026-W44"), "  At the front, reported April 10, 2026: Look. Large patch was here before, and its season is open: look here, and get ahead of it now.")
	assert.NotContains(t, disease("2026-W46"), "the front", "its season is over")
}
