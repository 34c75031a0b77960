package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Grow through it, from the files to the printed sentence: a lawn that has slowed is
// fed lightly against what hunger favors, or a light feeding does not worsen, and the
// answer on diseases points to Feed; not in a drought, in cold that stops growth,
// against what nitrogen feeds, or where the law closes.
func TestGrowThroughEndToEnd(t *testing.T) {
	t.Parallel()
	dir := unlogged(t)
	const zone = "data/zones/redfallow-piedmont.toml"
	whole := read(t, dir, zone)
	head, town, _ := strings.Cut(whole, "[[place]]\nname          = \"Thornelby\"")
	_, county, _ := strings.Cut(town, "[[place]]")
	open := head + "[[place]]" + county // without the town whose law closes that week
	found := func(date, zone, grass string, ids ...string) {
		text := "date,zone,grass,place,finding,area_pct,patches,diameter_ft,confirmed,mown_every_days\n"
		for _, id := range ids {
			text += date + "," + zone + "," + grass + ",the back lawn," + id + ",3,2,2,eye,10\n"
		}
		write(t, dir, "data/scouting/2026.csv", text)
	}
	says := func(zone, grass, topic, week string) string {
		code, stdout, stderr := ligule(t, dir, "explain", zone, grass, topic, "--week", week)
		require.Equal(t, exitOK, code, stderr)
		_, answer, _ := strings.Cut(stdout, "\n"+strings.ToUpper(topic)+": ")
		answer, _, _ = strings.Cut(answer, "\n\n")
		return answer
	}
	const fed, through = "Then feed this lawn lightly, once, and let the grass grow through it.", "Feed lightly if the season and the law allow: hungry grass has most of it. See Feed."

	write(t, dir, zone, open)
	found("2026-09-07", "redfallow-piedmont", "bermuda", "dollar-spot")
	answer := says("redfallow-piedmont", "bermuda", "disease", "2026-W38")
	assert.True(t, strings.HasPrefix(answer, "Look. Dollar spot: look for it this week. "+through), answer)
	assert.Contains(t, answer, "At the back lawn, reported September 7, 2026: Do it. Dollar spot: still mown at least every two weeks? "+fed)
	assert.Contains(t, answer, "At most 0.5\u00a0lb per 1,000 sq ft")
	assert.True(t, strings.HasPrefix(says("redfallow-piedmont", "bermuda", "feed", "2026-W38"),
		"Do it. A light feeding, and only where you find a disease that hunger favors, as under Disease: the lawn has slowed, not stopped."))

	// Trials found no harm in it (Obasa and others 2013).
	found("2026-09-07", "redfallow-piedmont", "bermuda", "large-patch")
	answer = says("redfallow-piedmont", "bermuda", "disease", "2026-W38")
	assert.Contains(t, answer, "Do it. Large patch: still mown at least every two weeks? "+fed)
	assert.Contains(t, answer, "Nitrogen and Large patch: a light feeding does not worsen it.")

	// Beside one that nitrogen feeds neither is fed.
	found("2026-09-07", "redfallow-piedmont", "bermuda", "dollar-spot", "pythium-blight")
	assert.NotContains(t, says("redfallow-piedmont", "bermuda", "disease", "2026-W38"), fed)

	// Where the law closes, Feed says why, and nothing is told under the disease.
	write(t, dir, zone, whole)
	found("2026-09-07", "redfallow-piedmont", "bermuda", "dollar-spot")
	answer = says("redfallow-piedmont", "bermuda", "disease", "2026-W38")
	assert.NotContains(t, answer, fed)
	assert.NotContains(t, answer, through)
	assert.NotContains(t, answer, "nitrogen fertilizer")

	// Dry, and the zone waits for rain.
	found("2026-09-07", "sabrey-sandhills", "bermuda", "dollar-spot")
	answer = says("sabrey-sandhills", "bermuda", "disease", "2026-W38")
	assert.NotContains(t, answer, fed)
	assert.NotContains(t, answer, through)
	assert.Contains(t, answer, "Dollar spot", "it is told of all the same")

	// At rest in the cold.
	write(t, dir, zone, open)
	found("2026-11-02", "redfallow-piedmont", "bermuda", "dollar-spot")
	assert.NotContains(t, says("redfallow-piedmont", "bermuda", "disease", "2026-W46"), fed)
}
