package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An official alert on file closes what a law bans in it, in print on page, feed and
// letter: by its name, for its days, until its end. One of another area, one that
// has ended and one of a list that is too old close nothing, and what the law asks
// stays as a condition.
func TestAnAlertFromTheFileToThePage(t *testing.T) {
	t.Parallel()
	const (
		week   = "2026-W18"
		file   = "data/weather/alerts/2026-04-26T1500.json"
		closed = "losed Monday, April 27 through Tuesday, April 28 by the Rainy-Season Fertilizer Ordinance (22-44(a)) while an official alert is in force: " +
			"Flood Watch, until 6 am on Tuesday, April 28. Check again before you start: this page cannot see that it ends."
		condition = "ot while a listed storm or flood alert is in force (22-44(a))."
	)
	one := printed(t, week)
	for _, name := range []string{"zones/gannet-shore/index.html", "zones/gannet-shore/feed.xml", "issues/" + week + "/gannet-shore/newsletter/newsletter.txt"} {
		assert.Contains(t, strings.Join(strings.Fields(wordsOf(name, one[name])), " "), "The unincorporated shore: c"+closed, name)
	}
	assert.NotContains(t, one["zones/sabrey-sandhills/index.html"], "official alert")
	assert.Contains(t, wordsOf("x.html", one["zones/gannet-shore/index.html"]), "First thing this week, St. Augustinegrass: Feed", "what an alert closes leads")

	dir := demonstration(t)
	list := read(t, dir, file)
	explained := func(lawn ...string) string {
		code, stdout, stderr := ligule(t, dir, append(append([]string{"explain"}, lawn...), "--week", week)...)
		require.Equal(t, exitOK, code, stderr)
		return stdout
	}
	shore := func() string { return explained("gannet-shore", "zoysia") }
	for _, c := range []struct{ name, as, old, new string }{
		{"of another area", file, `"SAME": ["099017"], "UGC": ["OSC017", "OSZ045"]`, `"SAME": ["099019"], "UGC": ["OSC019"]`},
		{"ended before the week", file, `"ends": "2026-04-28T06:00:00-04:00"`, `"ends": "2026-04-27T00:00:00-04:00"`},
		{"of a list that is too old", "data/weather/alerts/2026-04-24T2359.json", "", ""},
	} {
		require.NoError(t, os.RemoveAll(filepath.Join(dir, filepath.Dir(file))))
		if c.old != "" {
			require.Equal(t, 1, strings.Count(list, c.old), c.name)
		}
		write(t, dir, c.as, strings.Replace(list, c.old, c.new, 1))
		got := shore()
		assert.NotContains(t, got, "official alert", c.name)
		assert.Contains(t, got, "FEED: Wait. Feed after a good rain", c.name)
	}

	// Of the day before it still counts; and where no law closes, it holds like a storm.
	write(t, dir, "data/weather/alerts/2026-04-25T0000.json", list)
	assert.Contains(t, shore(), closed)
	zone := "data/zones/redfallow-piedmont.toml"
	write(t, dir, zone, "alert_areas = [\"OSC017\"]\n"+read(t, dir, zone))
	write(t, dir, "data/rules/try.toml", "[[rule]]\nid = \"try\"\ntopic = \"feed\"\nverdict = \"do\"\nweight = 100\nuses = [\"nitrogen\"]\n[rule.when]\n[rule.text]\nsay = \"Try it.\"\nsource = \"own design\"\n")
	got := explained("redfallow-piedmont", "tall-fescue")
	assert.Contains(t, got, "FEED: Wait. Wait until the official alert is over and the ground has drained: Flood Watch.")
	assert.Contains(t, got, "Flood Watch: in force until 6 am on Tuesday, April 28.")
	require.NoError(t, os.RemoveAll(filepath.Join(dir, filepath.Dir(file))))
	assert.Contains(t, explained("redfallow-piedmont", "tall-fescue"), "FEED: Do it. Try it.")

	// On the page the condition stands as it does without any list.
	assert.Contains(t, wordsOf("x.html", one["zones/gannet-shore/index.html"]), "N"+condition)
}
