package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each broken workspace is the demonstration with one thing changed, and the
// message that the author must get.
func TestMistakes(t *testing.T) {
	const (
		zone    = "data/zones/gannet-shore.toml"
		daily   = "data/weather/gannet-light/daily.csv"
		rules   = "data/rules/mowing.toml"
		note    = "content/issues/2026-W48/note.md"
		station = "data/stations.toml"
	)
	for _, c := range []struct {
		name   string
		breakT func(t *testing.T, dir string)
		want   []string
	}{
		{"wrong unit", func(t *testing.T, dir string) { replace(t, dir, zone, `"12 ft"`, `"12 °F"`) },
			[]string{zone + `:6: elevation: "12 °F" is a temperature, but a distance is wanted, in m, ft, km or mi`}},
		{"unknown key", func(t *testing.T, dir string) { replace(t, dir, zone, "latitude ", "latitud ") },
			[]string{zone + `:4: latitud: unknown key; did you mean "latitude"?`, zone + `: latitude: missing; add latitude = 0.5`}},
		{"unknown grass", func(t *testing.T, dir string) { replace(t, dir, zone, `"st-augustine"`, `"st-agustine"`) },
			[]string{zone + `:8: grasses: there is no grass "st-agustine"; did you mean "st-augustine"?`}},
		{"missing station", func(t *testing.T, dir string) { replace(t, dir, zone, `"gannet-light"`, `"gannet-lght"`) },
			[]string{zone + `:3: station: there is no station "gannet-lght"; did you mean "gannet-light"?`}},
		{"duplicate id of a rule", func(t *testing.T, dir string) { replace(t, dir, rules, `"mow-growing"`, `"mow-flush"`) },
			[]string{rules + `:20: rule[1].id: the id "mow-flush" is already used in data/rules/mowing.toml:5; give each rule its own id`}},
		{"duplicate id of a station", func(t *testing.T, dir string) { replace(t, dir, station, `"ellerwade-lock"`, `"gannet-light"`) },
			[]string{`station[1].id: the id "gannet-light" is used twice; give each station its own id`}},
		{"date out of order", func(t *testing.T, dir string) { replace(t, dir, daily, "\n2026-03-10,", "\n2026-03-08,") },
			[]string{daily + ":", "2026-03-08"}},
		{"highest below lowest", func(t *testing.T, dir string) { line(t, dir, daily, "2026-03-10", "2026-03-10,2.0,9.0,0.0") },
			[]string{daily + ":", "tmax_c 2.0 is below tmin_c 9.0"}},
		{"not a number", func(t *testing.T, dir string) { line(t, dir, daily, "2026-03-10", "2026-03-10,NaN,9.0,0.0") },
			[]string{daily + ":", "tmax_c", "NaN"}},
		{"an hour of an hourly forecast", func(t *testing.T, dir string) {
			replace(t, dir, "data/weather/gannet-light/forecast/2026-11-22-hourly.csv", "\n2026-11-22T14:00,", "\n2026-11-22T14:30,")
		}, []string{`data/weather/gannet-light/forecast/2026-11-22-hourly.csv:16: time: "2026-11-22T14:30" is not a full hour written as YYYY-MM-DDTHH:00; write it as 2026-11-22T14:00`}},
		{"empty file", func(t *testing.T, dir string) { write(t, dir, daily, "") },
			[]string{daily + ":1: "}},
		{"empty TOML file", func(t *testing.T, dir string) { write(t, dir, zone, "") },
			[]string{zone + `: name: missing; add name = "…"`, zone + `: grasses: missing`}},
		{"29 February of a common year", func(t *testing.T, dir string) { line(t, dir, daily, "2026-03-01", "2026-02-29,12.0,9.0,0.0") },
			[]string{daily + ":", `"2026-02-29" is not a date`, "February 2026 has 28 days"}},
		{"TOML syntax", func(t *testing.T, dir string) { replace(t, dir, zone, `soil      = "sand"`, `soil      = "sand`) },
			[]string{zone + `:7: `, "not valid TOML"}},
		{"raw HTML in a note", func(t *testing.T, dir string) {
			write(t, dir, note, "Fine so far.\n\nHere <b>is</b> some.\n\n<script>alert(1)</script>\n")
		}, []string{note + ":3: raw HTML is not passed through", note + ":5: raw HTML is not passed through"}},
		{"script in a link", func(t *testing.T, dir string) { write(t, dir, note, "A [link](javascript:alert(1)).\n") },
			[]string{note + `:1: a link of the kind "javascript:" is not passed through`}},
		{"an id that leaves the folder", func(t *testing.T, dir string) { replace(t, dir, station, `"gannet-light"`, `"../gannet-light"`) },
			[]string{station + `:`, `station[0].id: "../gannet-light" is not an id; an id is lower-case words joined by hyphens`}},
		{"a zone's file that is no id", func(t *testing.T, dir string) { write(t, dir, "data/zones/Gannet Shore.toml", read(t, dir, zone)) },
			[]string{`data/zones/Gannet Shore.toml: the file's name is not an id`}},
		{"exceptions", func(t *testing.T, dir string) { write(t, dir, "content/issues/2026-W48/exceptions.toml", "") },
			[]string{`content/issues/2026-W48/exceptions.toml: not supported yet`}},
		{"a rule on an event", func(t *testing.T, dir string) {
			replace(t, dir, rules, `growth_state = ["flush"]`, "growth_state = [\"flush\"]\nlast_frost = { within = \"10 days\" }")
		}, []string{rules + `:12: rule[0].when.last_frost: there is no such indicator`}},
		{"a rule on an event's test", func(t *testing.T, dir string) {
			replace(t, dir, rules, `growth_state = ["flush"]`, "mean_temperature = { within = \"10 days\" }")
		}, []string{rules + `:11: rule[0].when.mean_temperature.within: there is no such test; use one of above, at_least`}},
		{"a rule that forgets to say what it uses", func(t *testing.T, dir string) {
			replace(t, dir, "data/rules/feeding.toml", "weight  = 45\nuses    = [\"nitrogen\"]", "weight  = 45\nuses    = []")
		}, []string{`a rule that says to feed must use a nutrient`}},
		{"a law with an unknown key", func(t *testing.T, dir string) {
			replace(t, dir, "data/ordinances/wendrake-rainy-season.toml", "review_months", "review_month")
		}, []string{`data/ordinances/wendrake-rainy-season.toml:`, `review_month: unknown key; did you mean "review_months"?`}},
		{"a week that does not exist", func(t *testing.T, dir string) { write(t, dir, "content/issues/2027-W53/note.md", "Hello.\n") },
			[]string{`content/issues/2027-W53: "2027-W53" is not a week: 2027 has weeks 01 to 52`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			dir := demonstration(t)
			write(t, dir, "public/index.html", "the last good site")
			c.breakT(t, dir)
			code, stdout, stderr := ligule(t, dir, "press")
			assert.Equal(t, exitAuthor, code, stdout)
			for _, want := range c.want {
				assert.Contains(t, stderr, want)
			}
			assert.Contains(t, stderr, "to mend; nothing was printed")
			assert.Equal(t, map[string]string{"index.html": "the last good site"}, tree(t, dir+"/public"), "the last good site stays")
		})
	}
}

// line replaces the line of a day in a CSV.
func line(t *testing.T, dir, name, day, with string) {
	t.Helper()
	text := read(t, dir, name)
	i := strings.Index(text, "\n"+day+",")
	require.Positive(t, i, day)
	end := i + 1 + strings.IndexByte(text[i+1:], '\n')
	write(t, dir, name, text[:i+1]+with+text[end:])
}

// Several mistakes in several files come out together, sorted.
func TestAllMistakesAtOnce(t *testing.T) {
	dir := demonstration(t)
	replace(t, dir, "data/zones/gannet-shore.toml", `"12 ft"`, `"12 °F"`)
	replace(t, dir, "data/rules/mowing.toml", `verdict = "do"
weight  = 60`, `verdict = "doo"
weight  = 60`)
	line(t, dir, "data/weather/gannet-light/daily.csv", "2026-03-10", "2026-03-10,2.0,9.0,0.0")
	line(t, dir, "data/weather/sabrey-field/daily.csv", "2026-03-10", "2026-03-10,2.0,9.0,x")
	write(t, dir, "content/issues/2026-W48/note.md", "<hr>\n")
	code, _, stderr := ligule(t, dir, "check")
	assert.Equal(t, exitAuthor, code)
	lines := strings.Split(strings.TrimSpace(stderr), "\n")
	require.GreaterOrEqual(t, len(lines), 7)
	assert.True(t, strings.HasPrefix(lines[0], "content/issues/2026-W48/note.md:1: "), lines[0])
	assert.True(t, strings.HasPrefix(lines[1], `data/rules/mowing.toml:7: rule[0].verdict: unknown value "doo"`), lines[1])
	assert.Contains(t, lines[len(lines)-1], "mistakes to mend")
}

// The program is called wrongly: exit code 2 and a word about it.
func TestWrongUse(t *testing.T) {
	dir := demonstration(t)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"pres"}, `there is no command "pres"`},
		{[]string{"press", "--week", "2027-W53"}, "2027 has weeks 01 to 52"},
		{[]string{"press", "--wek", "2026-W48"}, "flag provided but not defined"},
		{[]string{"press", "now"}, `unexpected argument "now"`},
		{[]string{"import"}, "name a file"},
		{[]string{"import", "x.csv"}, "name a station"},
		{[]string{"import", "x.csv", "--station", "../up"}, "is not an id"},
		{[]string{"import", "x.csv", "--station", "gannet-lite"}, `did you mean "gannet-light"?`},
		{[]string{"explain", "gannet-shore"}, "name a zone and a grass"},
		{[]string{"explain", "gannet-shor", "zoysia"}, `did you mean "gannet-shore"?`},
		{[]string{"explain", "gannet-shore", "bermuda"}, "use one of"},
		{[]string{"explain", "gannet-shore", "zoysia", "feeding"}, `there is no topic "feeding"`},
		{[]string{"check", "--today", "2026-02-30"}, "February 2026 has 28 days"},
	} {
		code, _, stderr := ligule(t, dir, c.args...)
		assert.Equal(t, exitUsage, code, c.args)
		assert.Contains(t, stderr, c.want)
	}
	code, _, stderr := ligule(t, t.TempDir(), "press")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, stderr, "is not a workspace")
	for _, c := range commands() {
		code, stdout, _ := ligule(t, dir, c.name, "--help")
		assert.Equal(t, exitOK, code)
		assert.Contains(t, stdout, "usage: ligule "+c.name)
	}
}
