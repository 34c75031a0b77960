package workspace

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/pest"
	"ligule/internal/weather"
)

// toldByFile loads the small workspace with files changed or added, and returns
// what is told, by file.
func toldByFile(t testing.TB, changed map[string]string) map[string]string {
	t.Helper()
	files := baseFiles(t)
	for name, text := range changed {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	var list diag.List
	Load(files, nil, &list)
	out := map[string]string{}
	for _, p := range list.All() {
		out[p.File] += p.String() + "\n"
	}
	return out
}

// recorded is a station with a record of whole days.
func recorded(id string, first, last civil.Date) Station {
	s := weather.NewSeries(first, int(last-first)+1)
	for d := first; d <= last; d++ {
		for _, c := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM} {
			s.Set(c, d, 0)
		}
	}
	return Station{Station: weather.Station{ID: id}, Records: s}
}

// A week is pressed by default as soon as the eve of its issue date is on record,
// on whatever weekday issues come out.
func TestEdgesOfTheDefaultWeek(t *testing.T) {
	monday := civil.MustDate(2026, 7, 13)
	week := monday.Week()
	for weekday := time.Sunday; weekday <= time.Saturday; weekday++ {
		ws := &Workspace{Site: Site{IssueWeekday: weekday}}
		issue := ws.Site.IssueDate(week)
		assert.Equal(t, weekday, issue.Weekday())
		assert.True(t, issue > monday-7 && issue <= monday, "%s: the last on or before Monday", issue)
		def := func(last civil.Date) civil.Week {
			ws.Stations = []Station{recorded("best", last-30, last), recorded("late", last-30, last-20), {}}
			got, ok := ws.DefaultWeek()
			require.True(t, ok)
			return got
		}
		assert.Equal(t, week, def(issue-1), "%s: the eve is on record", weekday)
		assert.Equal(t, week.AddWeeks(-1), def(issue-2), "%s: it is not", weekday)
		assert.Equal(t, week, def(issue+5), "%s: six days later", weekday)
		assert.Equal(t, week.AddWeeks(1), def(issue+6), "%s: the eve of the next", weekday)
	}
	_, ok := (&Workspace{Stations: []Station{{}}}).DefaultWeek()
	assert.False(t, ok, "no record at all")
}

// Reports and treatments count from the day after.
func TestEdgesOfTheLogs(t *testing.T) {
	day := civil.MustDate(2026, 7, 12)
	ws := &Workspace{
		Reports:    []pest.Report{{Date: day - 1, Zone: "z"}, {Date: day, Zone: "z"}, {Date: day - 1, Zone: "other"}},
		Treatments: []pest.Treatment{{Date: day - 1, Zone: "z"}, {Date: day, Zone: "z"}, {Date: day - 1, Zone: "other"}},
	}
	for before, want := range map[civil.Date]int{day - 1: 0, day: 1, day + 1: 2} {
		assert.Len(t, ws.ReportsOf("z", before), want, before)
		assert.Len(t, ws.TreatmentsOf("z", before), want, before)
	}
}

// A record warns when it is more than eight days old, and where it has a gap of
// the last year that is too long to be filled.
func TestEdgesOfWarningsOfWeather(t *testing.T) {
	last := civil.MustDate(2026, 7, 12)
	warnings := func(today civil.Date, change func(*weather.Series)) int {
		s := recorded("x", last-800, last)
		if change != nil {
			change(s.Records)
		}
		var list diag.List
		(&Workspace{Stations: []Station{s}}).CheckWeather(today, &list)
		return len(list.All())
	}
	assert.Equal(t, 0, warnings(last+8, nil))
	assert.Equal(t, 1, warnings(last+9, nil))
	gap := func(c weather.Column, first civil.Date, days int) func(*weather.Series) {
		return func(s *weather.Series) {
			for i := range days {
				s.Set(c, first.AddDays(i), math.NaN())
			}
		}
	}
	for _, c := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM} {
		assert.Equal(t, 0, warnings(last, gap(c, last-20, 2)), "two days of %s", c.Name())
		assert.Equal(t, 1, warnings(last, gap(c, last-20, 3)), "three days of %s", c.Name())
		assert.Equal(t, 1, warnings(last, gap(c, last-20, 9)), "told once")
	}
	assert.Equal(t, 1, warnings(last, gap(weather.TmaxC, last-365, 3)))
	assert.Equal(t, 0, warnings(last, gap(weather.TmaxC, last-366, 3)), "its first day is more than a year ago")
}

// What an author may write of stations and zones, at its bounds.
func TestEdgesOfPlaces(t *testing.T) {
	const stations = "data/stations.toml"
	var text strings.Builder
	cases := []struct {
		lat, lon, elevation, second string
		wrong                       string // the key at fault
	}{
		{"66.0", "180.0", "5000 m", "2020-01-03", ""}, {"-66.0", "-180.0", "-430 m", "2020-01-03", ""},
		{"66.1", "0.0", "0 m", "2020-01-03", "latitude"}, {"-66.1", "0.0", "0 m", "2020-01-03", "latitude"},
		{"0.0", "180.1", "0 m", "2020-01-03", "longitude"}, {"0.0", "-180.1", "0 m", "2020-01-03", "longitude"},
		{"0.0", "0.0", "5000.5 m", "2020-01-03", "elevation"}, {"0.0", "0.0", "-430.5 m", "2020-01-03", "elevation"},
		{"0.0", "0.0", "0 m", "2020-01-02", "obs_time[1].from"},
	}
	for i, c := range cases {
		fmt.Fprintf(&text, "[[station]]\nid = \"s%d\"\nname = \"S\"\nlatitude = %s\nlongitude = %s\nelevation = %q\n", i, c.lat, c.lon, c.elevation)
		fmt.Fprintf(&text, "[[station.obs_time]]\nfrom = 2020-01-02\nat = \"morning\"\n[[station.obs_time]]\nfrom = %s\nat = \"midnight\"\n", c.second)
	}
	zone := string(baseFiles(t)["data/zones/gannet-shore.toml"].Data)
	grasses := zone[strings.Index(zone, "grasses"):]
	grasses = grasses[:strings.Index(grasses, "\n")]
	all := toldByFile(t, map[string]string{
		stations: text.String(), "data/zones/bare.toml": strings.Replace(zone, grasses, "grasses = []", 1), "data/zones/newsletters.toml": zone,
		"data/zones/newsletter.toml": zone, "data/zones/note.toml": zone, "data/zones/region.toml": zone,
	})
	for i, c := range cases {
		key := fmt.Sprintf(": station[%d].", i)
		if c.wrong == "" {
			assert.NotContains(t, all[stations], key)
			continue
		}
		assert.Equal(t, 1, strings.Count(all[stations], key), "%+v", c)
		assert.Contains(t, all[stations], key+c.wrong+": ")
	}
	assert.Contains(t, all["data/zones/bare.toml"], "a zone without grass")
	for _, id := range []string{"newsletter", "note", "region"} {
		assert.Contains(t, all["data/zones/"+id+".toml"], "has a meaning of its own", id)
	}
	assert.NotContains(t, all["data/zones/newsletters.toml"], "has a meaning of its own")
}

// A place is looked up by a law that is in force, not by one that is proposed or
// superseded.
func TestEdgesOfWhatIsLookedUp(t *testing.T) {
	nobody := func(status string) bool {
		var list diag.List
		ws := &Workspace{
			Ordinances: []*law.Record{{Header: law.Header{Jurisdiction: "town"}, Status: law.Status(status)}},
			Zones:      []*Zone{{ID: "z", Places: []law.Place{{Name: "Town", Chain: []string{"town"}}}, at: []diag.Pos{{File: "data/zones/z.toml"}}}},
		}
		ws.lintPlaces(&list)
		return len(list.All()) > 0
	}
	assert.False(t, nobody("in_force"))
	assert.True(t, nobody("proposed"))
	assert.True(t, nobody("superseded"))
}

// Plain text is 72 columns wide.
func TestEdgesOfPlainText(t *testing.T) {
	lines := func(last int) []string {
		var list diag.List
		p, _ := renderPage("content/standing/x.md", []byte(strings.Repeat("a", 60)+" "+strings.Repeat("b", last)+"\n"), &list)
		return strings.Split(strings.TrimSpace(p.Text), "\n")
	}
	assert.Len(t, lines(11), 1, "60 + 1 + 11 columns")
	assert.Len(t, lines(12), 2)
	assert.Equal(t, []string{"é ü", "ö"}, strings.Split(Wrap("é ü ö", 4, "", ""), "\n"), "signs are counted, not bytes")
	assert.Equal(t, []string{"- a b", "  c"}, strings.Split(Wrap("a b c", 6, "- ", "  "), "\n"))
}

// An author's headings start below the page's and go no deeper than there are.
func TestEdgesOfHeadings(t *testing.T) {
	levels := func(file, text string) string {
		var list diag.List
		p, _ := renderPage(file, []byte(text), &list)
		require.NoError(t, list.Err())
		out := ""
		for rest := p.HTML; ; {
			i := strings.Index(rest, "<h")
			if i < 0 {
				return out
			}
			out, rest = out+rest[i+2:i+3], rest[i+3:]
		}
	}
	const article, note = "content/standing/x.md", "content/issues/2026-W29/note.md"
	assert.Equal(t, "23233", levels(article, "# A\n\n## B\n\n# C\n\n## D\n\n## E\n"))
	assert.Equal(t, "2342", levels(article, "## A\n\n#### B\n\n##### C\n\n## D\n"), "no level is left out")
	assert.Equal(t, "34566", levels(note, "# A\n\n## B\n\n### C\n\n#### D\n\n##### E\n"))
}

// Which addresses a link may have.
func TestEdgesOfLinks(t *testing.T) {
	for dest, ok := range map[string]bool{
		"/methods/": true, "#why": true, "https://example.org/": true, "http://example.org/": true, "mailto:a@example.org": true,
		"//example.org/x": false, "methods/": false, "javascript:alert(1)": false, "data:text/html,x": false, "ftp://example.org/": false,
	} {
		var list diag.List
		renderPage("content/standing/x.md", []byte("[a]("+dest+")\n"), &list)
		assert.Equal(t, ok, list.Err() == nil, dest)
	}
}
