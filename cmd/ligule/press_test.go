package main

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
)

// newest is the week that the weather of the demonstration supports.
const newest = "2026-W48"

// The newest week is pressed unless another is named, and pressing it again changes
// nothing, not even the times of the files.
func TestPressTwice(t *testing.T) {
	t.Parallel()
	first, dir := printed(t, newest), t.TempDir()
	for name, text := range first {
		write(t, dir, name, text)
	}
	home, err := os.Stat(filepath.Join(dir, "index.html"))
	require.NoError(t, err)
	code, stdout, stderr := ligule(t, root, "press", "--out", dir)
	require.Equal(t, exitOK, code, stderr)
	assert.Contains(t, stdout, "Open file://")
	assert.Contains(t, stdout, ": 0 changed, 0 removed, ")
	sameTree(t, first, tree(t, dir))
	again, err := os.Stat(filepath.Join(dir, "index.html"))
	require.NoError(t, err)
	assert.Equal(t, home.ModTime(), again.ModTime())
	for name, text := range first {
		if strings.HasSuffix(name, ".html") || strings.HasSuffix(name, ".xml") || strings.HasSuffix(name, ".txt") {
			assert.False(t, strings.Contains(text, "«"), "an unfilled slot or a missing phrase in %s", name)
		}
		if strings.HasSuffix(name, "index.html") || strings.HasSuffix(name, "feed.xml") || strings.HasSuffix(name, "newsletter.txt") {
			assert.True(t, strings.Contains(strings.ToLower(text), "invented"), "%s must say that all is invented", name)
		}
	}
}

// The same files give the same bytes, on one processor or several and in any
// time zone.
func TestPressIsDeterministic(t *testing.T) {
	dir, week := t.TempDir(), "2026-W18"
	one := printed(t, week)
	t.Setenv("TZ", "Pacific/Auckland")
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	code, _, stderr := ligule(t, root, "press", "--week", week, "--out", dir)
	require.Equal(t, exitOK, code, stderr)
	sameTree(t, one, tree(t, dir))
}

// Later observations and a later forecast leave an earlier week as it was, at
// a midnight station (Gannet Light) and at a morning one (Ellerwade Lock).
func TestLaterWeatherChangesNoEarlierWeek(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	const week = "2026-W18"
	issueDate := civil.MustDate(2026, 4, 26)
	for _, station := range []string{"gannet-light", "ellerwade-lock"} {
		name := "data/weather/" + station + "/daily.csv"
		i := strings.Index(read(t, dir, name), "\n"+issueDate.String()+",")
		require.Positive(t, i)
		// As the file was on the issue date: that day's record is not in yet.
		write(t, dir, name, read(t, dir, name)[:i+1])
		forecasts, err := filepath.Glob(filepath.Join(dir, "data/weather", station, "forecast", "*.csv"))
		require.NoError(t, err)
		removed := map[bool]int{}
		for _, f := range forecasts {
			issued, hourly := strings.CutSuffix(strings.TrimSuffix(filepath.Base(f), ".csv"), "-hourly")
			if issued > issueDate.String() {
				require.NoError(t, os.Remove(f))
				removed[hourly]++
			}
		}
		require.Positive(t, removed[false], "the demonstration has later forecasts for %s", station)
		require.Positive(t, removed[true], "and later hourly ones")
	}
	early := t.TempDir()
	code, _, stderr := ligule(t, dir, "press", "--week", week, "--out", early)
	require.Equal(t, exitOK, code, stderr)
	sameTree(t, printed(t, week), tree(t, early))
}

// A zone whose station has no weather says so and withholds advice; the others
// print.
func TestZoneWithoutWeather(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "data/weather/gannet-light")))
	code, _, stderr := ligule(t, dir, "press", "--week", "2026-W14")
	require.Equal(t, exitOK, code, stderr)
	without := read(t, dir, "public/zones/gannet-shore/index.html")
	assert.True(t, strings.Contains(without, "Not enough weather to say"))
	with := read(t, dir, "public/zones/redfallow-piedmont/index.html")
	assert.False(t, strings.Contains(with, "Not enough weather to say"))
	ws := loadWorkspace(t, dir)
	is := bulletin.Build(ws, civil.Week{Year: 2026, Num: 14})
	for _, z := range is.Zones {
		if z.ID != "gannet-shore" {
			continue
		}
		assert.Nil(t, z.Weather)
		for _, g := range z.Grasses {
			for _, a := range g.Answers {
				assert.Contains(t, []string{string(advice.NotEnough), string(advice.Closed)}, a.Verdict)
			}
		}
	}
}

// With a closed season in force no computed advice of the zone says "do" on
// nitrogen, although rules try to on every topic and with all their weight.
func TestNoRuleGetsPastAClosedSeason(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	var planted strings.Builder
	for _, topic := range advice.Topics() {
		planted.WriteString(`
[[rule]]
id = "planted-` + string(topic) + `"
topic = "` + string(topic) + `"
verdict = "do"
weight = 100
uses = ["nitrogen"]
[rule.when]
date = { between = ["01-01", "12-31"] }
[rule.text]
say = "Spread nitrogen today."
source = "common practice"
`)
	}
	write(t, dir, "data/rules/planted.toml", planted.String())
	ws := loadWorkspace(t, dir)
	closed := 0
	for num := 1; num <= 52; num += 4 {
		week := civil.Week{Year: 2026, Num: num}
		is := bulletin.Bare(ws, week, ws.Zones)
		for _, z := range is.Zones {
			if len(z.Law.Closed) == 0 {
				continue
			}
			closed++
			for _, g := range z.Grasses {
				for _, a := range g.Answers {
					if slices.Contains(a.Uses, string(advice.Nitrogen)) {
						assert.NotEqual(t, string(advice.Do), a.Verdict, "%s %s %s %s", week, z.ID, g.ID, a.Topic)
					}
					for _, d := range slices.Concat(a.Also, a.Support) {
						if i := slices.IndexFunc(ws.Rules, func(r *advice.Rule) bool { return r.ID == d.Rule.ID }); i >= 0 && slices.Contains(ws.Rules[i].Uses, advice.Nitrogen) {
							assert.NotEqual(t, string(advice.Do), d.Verdict, "%s %s %s %s", week, z.ID, g.ID, a.Topic)
						}
					}
				}
			}
		}
	}
	assert.Greater(t, closed, 30, "the demonstration has closed seasons to try this on")

	// On page, feed and newsletter: the planted sentence is nowhere in a zone
	// that is closed, save in the working among what was not said.
	code, _, stderr := ligule(t, dir, "press", "--week", "2026-W29")
	require.Equal(t, exitOK, code, stderr)
	for _, name := range []string{"zones/gannet-shore/index.html", "zones/gannet-shore/feed.xml", "issues/2026-W29/gannet-shore/newsletter/index.html", "issues/2026-W29/gannet-shore/newsletter/newsletter.txt"} {
		text := strings.ToLower(strings.Join(strings.Fields(read(t, dir, "public/"+name)), " "))
		assert.True(t, strings.Contains(text, "closed by local rule"), name)
		assert.True(t, strings.Contains(text, "rainy-season fertilizer ordinance"), "%s names the law", name)
		assert.True(t, strings.Contains(text, "february 17, 2026"), "%s says when it was read", name)
	}
	// Above the author's note stand the closure, its law and its source.
	page := read(t, dir, "public/zones/gannet-shore/index.html")
	law, note := strings.Index(page, "law.example.invalid"), strings.Index(page, "id=\"note\"")
	require.Positive(t, law)
	require.Positive(t, note)
	assert.Less(t, law, note)
}

// Real stations that measure temperature, rain and at best wind, without a forecast:
// every model runs, and every page says what it lacked.
func TestRealStationsSayWhatTheyLack(t *testing.T) {
	t.Parallel()
	dir := realWorkspace(t)
	weeks := []string{"2016-W03", "2016-W29"}
	if os.Getenv("EVERY_CASE") != "" {
		weeks = append(weeks, "2016-W16", "2016-W42")
	}
	for _, week := range weeks {
		code, _, stderr := ligule(t, dir, "press", "--week", week)
		require.Equal(t, exitOK, code, stderr)
		for zone, grasses := range map[string][]string{"norfolk": {"bermuda", "tall-fescue"}, "baton-rouge": {"st-augustine", "tall-fescue"}, "jackson": {"bermuda", "tall-fescue"}} {
			page := strings.ToLower(read(t, dir, "public/zones/"+zone+"/index.html"))
			assert.True(t, strings.Contains(page, "no forecast"), "%s %s", week, zone)
			assert.True(t, strings.Contains(page, "for lack of humidity readings"), "%s %s", week, zone)
			if zone == "jackson" { // the other two measure wind
				assert.True(t, strings.Contains(page, "for lack of wind readings"), "%s %s", week, zone)
			}
			for _, grass := range grasses {
				working := strings.ToLower(read(t, dir, "public/zones/"+zone+"/"+grass+"/working/index.html"))
				for _, name := range []string{"brown patch", "dollar spot", "crabgrass", "white grubs"} {
					if name == "brown patch" && grass != "tall-fescue" {
						continue
					}
					assert.True(t, strings.Contains(working, name), "%s %s %s: %s", week, zone, grass, name)
				}
				if week == "2016-W29" {
					assert.True(t, strings.Contains(working, "humidity estimated"), "%s %s %s", week, zone, grass)
				}
			}
		}
	}
}
