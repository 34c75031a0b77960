package publish

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/andybalholm/cascadia"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// smooth is a record of smooth years from first to the day before end: a wave
// of 12 °C around meanC, coldest in mid-January, 5 °C a day either way, each
// year a tenth warmer than the last.
func smooth(first, end civil.Date, meanC float64) *weather.Series {
	s := weather.NewSeries(first, int(end-first))
	for d := first; d < end; d++ {
		c := meanC + 0.1*float64(d.Year()-first.Year()) - 12*math.Cos(2*math.Pi*float64(d.YearDay()-15)/365)
		s.Set(weather.TmaxC, d, c+5)
		s.Set(weather.TminC, d, c-5)
		s.Set(weather.RainMM, d, 3)
	}
	return s
}

// A calendar of three windows: one that the law may close, one of fixed days,
// one that hangs on frost.
const yearCalendar = `climates = ["coast"]
[[window]]
id        = "feeding"
kind      = "feeding"
title     = "Feeding season"
uses      = ["nitrogen"]
opens     = { event = "growth-rising", level = 0.25, offset = "3 weeks" }
closes    = { event = "growth-falling", level = 0.5 }
tolerance = "3 weeks"
source    = "invented-2001"
standing  = "verified"
note      = "Three weeks after it grows."

  [window.printed]
  from     = "05-01"
  to       = "09-10"
  place    = "a like climate"
  source   = "invented-2001"
  standing = "memory"

[[window]]
id       = "aeration"
kind     = "aeration"
title    = "Core aeration, of lawns that are trodden hard & \"worn\""
uses     = []
opens    = { event = "date", on = "06-01" }
closes   = { event = "date", on = "07-01" }
source   = "common practice"
standing = "practice"

[[window]]
id       = "potassium"
kind     = "winterizing"
title    = "Potassium"
uses     = ["potassium"]
opens    = { event = "first-frost", offset = "-6 weeks" }
closes   = { event = "first-frost", offset = "-4 weeks" }
source   = "common practice"
standing = "practice"
`

// yearWorld is the fixture with closed seasons, records and calendars: the
// shore has twenty years around meanC, the plateau three, the bottoms none.
func yearWorld(t testing.TB, meanC float64, weeks ...string) world {
	t.Helper()
	w := closedWorld(t)
	end := civil.MustDate(2028, 1, 1)
	w.ws.Stations = []workspace.Station{
		{Station: weather.Station{ID: "long", Name: "Gannet Light", LatitudeDeg: 35}, Records: smooth(civil.MustDate(2006, 1, 1), end, meanC)},
		{Station: weather.Station{ID: "short", Name: "Brackmoor Knob", LatitudeDeg: 36}, Records: smooth(civil.MustDate(2023, 9, 1), end, 12)},
	}
	w.ws.Climates = []workspace.Climate{{ID: "coast", Name: "The coast"}}
	for _, g := range w.ws.Grasses[:2] {
		var list diag.List
		root, ok := diag.ReadTOML("data/calendar/"+g.ID+".toml", []byte(yearCalendar), &list)
		require.True(t, ok)
		w.ws.Calendars = append(w.ws.Calendars, season.ReadCalendars(g.ID, []string{"coast"}, root, nil)...)
		require.NoError(t, list.Err())
	}
	for _, z := range w.ws.Zones {
		z.Climate = "coast"
		switch z.ID {
		case "gannet-shore":
			z.Station = "long"
		case "brackmoor":
			z.Station, z.Grasses = "short", []*turf.Profile{w.ws.Grasses[1], w.ws.Grasses[2]}
		}
	}
	w.issues = nil
	for _, id := range weeks {
		w.issues = append(w.issues, bulletin.Build(w.ws, week(t, id)))
	}
	return w
}

func yearOf(t testing.TB, site *Site, zone string) parsed {
	t.Helper()
	return findPage(t, site, "zones/"+zone+"/year/index.html")
}

// rowsOf are the rows of a table by its caption.
func rowsOf(t testing.TB, p parsed, section, caption string) []string {
	t.Helper()
	for _, table := range p.all(section + " table") {
		if textOf(cascadia.Query(table, cascadia.MustCompile("caption"))) == caption {
			var out []string
			for _, tr := range cascadia.QueryAll(table, cascadia.MustCompile("tbody tr")) {
				out = append(out, textOf(tr))
			}
			return out
		}
	}
	require.Fail(t, "no table", "%s %s", section, caption)
	return nil
}

// The page tells of each window when it is open this time and usually, how that
// is known, what is printed where, and what the law closes of it.
func TestYearPageTellsEachWindow(t *testing.T) {
	w := yearWorld(t, 14, "2026-W22") // issued on May 24
	site := w.render(t)
	p := yearOf(t, site, "gannet-shore")
	rows := rowsOf(t, p, `section[aria-labelledby="zoysia"]`, "Windows of Zoysiagrass")
	require.Len(t, rows, 3)
	feeding := rows[0]
	for _, want := range []string{
		"Feeding season", "Uses use nitrogen",
		"Phase ahead", "year first day", "year settled moment happened May 27", // counted from an event on record
		"year last day", "moment usual range",
		"usual range", "20", // years
		"year printed a like climate May 1 September 10", "Author and Other 2001 (source standing memory)", "year drift",
		"window law closed", "the shore", "June 1, 2026 September 30, 2026",
	} {
		assert.Contains(t, strings.ToLower(feeding), strings.ToLower(want))
	}
	assert.NotContains(t, rows[1], "window law", "aeration uses nothing that the law speaks of")
	assert.Contains(t, rows[1], "moment fixed", "a fixed day has no range")
	assert.Contains(t, rows[1], "year none printed")
	assert.Contains(t, rows[2], "window law none", "nothing closes potassium here, and that is said")
	events := strings.Join(rowsOf(t, p, `section[aria-labelledby="place"]`, "When it happened, or should; and in six years of ten"), "\n")
	assert.Contains(t, events, "Event last frost")
	assert.Contains(t, events, "2026 year happened moment happened")
	assert.Contains(t, events, "Event day rising")
	assert.Len(t, rowsOf(t, p, `section[aria-labelledby="zoysia"]`, "Green-up, slowdown and dormancy of Zoysiagrass"), 3)
	stands := textOf(p.one(t, `section[aria-labelledby="today"]`))
	assert.Regexp(t, `standing air high .*May 23 73.°F \(23.°C\) 20 0 20`, stands, "warmer than in all twenty years on file")
	assert.Contains(t, stands, "standing rain middle")
	rests := textOf(p.one(t, `section[aria-labelledby="rests"]`))
	assert.Contains(t, rests, "year record Gannet Light January 1, 2006 20")
	assert.Contains(t, rests, "year no forecast")
	assert.Empty(t, p.all(".withheld"))
	assert.NotContains(t, string(p.body), "NaN")
	assert.NotContains(t, string(p.body), "«")
	// Found from the zone's page, and by the sitemap.
	zone := findPage(t, site, "zones/gannet-shore/index.html")
	zone.one(t, `#ahead ~ p.how a[href="../../zones/gannet-shore/year/"]`)
	sitemap, _ := site.Find("sitemap.xml")
	assert.Contains(t, string(sitemap.Body), "/zones/gannet-shore/year/<")
}

// With few years on file the printed calendar speaks, and that is said first;
// a grass without a calendar is said to have none.
func TestYearPageOfAShortRecord(t *testing.T) {
	site := yearWorld(t, 14, "2026-W22").render(t)
	p := yearOf(t, site, "brackmoor")
	assert.IsIncreasing(t, p.order(t, "h1", ".withheld", ".lawbox", "#zoysia", "#tall-fescue"))
	assert.Contains(t, textOf(p.one(t, ".withheld")), "year few 2 Brackmoor Knob")
	feeding := rowsOf(t, p, `section[aria-labelledby="zoysia"]`, "Windows of Zoysiagrass")[0]
	assert.Contains(t, feeding, "usual few 2")
	assert.Contains(t, feeding, "moment printed")
	assert.Contains(t, feeding, "window law not cleared")
	assert.Contains(t, textOf(p.one(t, `section[aria-labelledby="tall-fescue"]`)), "year no calendar Tall fescue The coast")
	assert.Empty(t, p.all(`section[aria-labelledby="zoysia"] .usual`), "no usual band of two years")
}

// Without any weather only print speaks.
func TestYearPageWithoutWeather(t *testing.T) {
	p := yearOf(t, yearWorld(t, 14, "2026-W22").render(t), "ellerwade")
	assert.Contains(t, textOf(p.one(t, ".withheld")), "year no weather")
	rows := rowsOf(t, p, `section[aria-labelledby="zoysia"]`, "Windows of Zoysiagrass")
	assert.Contains(t, rows[0], "Phase unknown")
	assert.Contains(t, rows[0], "year printed a like climate May 1 September 10")
	assert.Empty(t, p.all(".ribbon"))
	assert.Empty(t, p.all("#today, #place, #rests"))
}

// What never comes is said in words, with the years that had it.
func TestYearPageTellsWhatNeverComes(t *testing.T) {
	p := yearOf(t, yearWorld(t, 24, "2026-W35").render(t), "gannet-shore") // nights never freeze
	events := rowsOf(t, p, `section[aria-labelledby="place"]`, "When it happened, or should; and in six years of ten")
	i := slices.IndexFunc(events, func(r string) bool { return strings.HasPrefix(r, "Event first frost") })
	require.GreaterOrEqual(t, i, 0)
	assert.Contains(t, events[i], "year likely never 2026–27")
	assert.Contains(t, events[i], "usual never 0 20")
	j := slices.IndexFunc(events, func(r string) bool { return strings.HasPrefix(r, "Event last frost") })
	assert.Contains(t, events[j], "year never 2026", "it is over, and it did not come")
	potassium := rowsOf(t, p, `section[aria-labelledby="zoysia"]`, "Windows of Zoysiagrass")[2]
	assert.Contains(t, potassium, "Phase none")
	assert.NotContains(t, potassium, "year first day moment", "no date of what never opens")
	assert.NotContains(t, string(p.body), "0001")
}

// The ribbon can be read without seeing it, and without color.
func TestRibbonIsAccessible(t *testing.T) {
	site := yearWorld(t, 14, "2026-W22").render(t)
	for _, path := range []string{"zones/gannet-shore/year/index.html", "zones/gannet-shore/zoysia/index.html"} {
		p := findPage(t, site, path)
		ids := map[string]bool{}
		for _, n := range p.all("[id]") {
			id, _ := attr(n, "id")
			assert.False(t, ids[id], "%s: %s twice", path, id)
			ids[id] = true
		}
		ribbons := p.all(".ribbon > svg")
		require.NotEmpty(t, ribbons, path)
		for _, svg := range ribbons {
			role, _ := attr(svg, "role")
			assert.Equal(t, "img", role)
			by, _ := attr(svg, "aria-labelledby")
			for _, id := range strings.Fields(by) {
				assert.True(t, ids[id], "%s: nothing is named %s", path, id)
			}
			title, desc := cascadia.Query(svg, cascadia.MustCompile("title")), cascadia.Query(svg, cascadia.MustCompile("desc"))
			assert.Contains(t, textOf(title), "February 1, 2026 to January 31, 2027")
			for _, want := range []string{"ribbon growth 0.", "ribbon lane Feeding season", "ribbon lane ribbon law the shore"} {
				assert.Contains(t, textOf(desc), want, path)
			}
			assert.NotEmpty(t, cascadia.QueryAll(svg, cascadia.MustCompile("rect.closed[fill^='url(#']")), "closed is hatched")
			for _, class := range []string{".usual", ".now", ".ahead", ".needle"} {
				assert.NotEmpty(t, cascadia.QueryAll(svg, cascadia.MustCompile(class)), class)
			}
			for _, n := range cascadia.QueryAll(svg, cascadia.MustCompile("path, rect")) {
				for _, a := range n.Attr {
					assert.NotRegexp(t, `NaN|Inf|width="-`, a.Val)
					assert.NotEqual(t, "style", a.Key)
				}
			}
		}
		rows := rowsOf(t, p, "main", "Growth index of the week that ends with a day, for a lawn that is never short of water")
		require.Len(t, rows, 52, path)
		assert.Regexp(t, `^May 23, 20260\.\d\d–0\.\d\d0\.\d\d$`, rows[slices.IndexFunc(rows, func(r string) bool { return strings.HasPrefix(r, "May 23, 2026") })])
		assert.Contains(t, rows[len(rows)-1], "ribbon ahead")
		when := strings.Join(rowsOf(t, p, "main", captionOfLanes(t, p)), "\n")
		assert.Contains(t, when, "Feeding season")
		assert.Contains(t, when, "ribbon law the shore")
	}
	compact := findPage(t, site, "zones/gannet-shore/zoysia/index.html").one(t, ".ribbon")
	assert.NotContains(t, textOf(compact), "Potassium", "the grass's page shows the lanes that tell its year")
}

func captionOfLanes(t testing.TB, p parsed) string {
	t.Helper()
	for _, c := range p.all("details caption") {
		if text := textOf(c); strings.HasPrefix(text, "Windows and closed seasons, ") {
			return text
		}
	}
	require.Fail(t, "no table of lanes")
	return ""
}

// What comes is listed by date, the law's turns among it, each window with what
// the law closes of it; where there is no room, the law stays.
func TestAheadListsWhatComes(t *testing.T) {
	w := yearWorld(t, 14, "2026-W20") // issued on May 10
	site := w.render(t)
	p := findPage(t, site, "zones/gannet-shore/index.html")
	var lines []string
	for _, li := range p.all("#ahead ~ ul li") {
		lines = append(lines, textOf(li))
	}
	all := strings.Join(lines, "\n")
	assert.Contains(t, all, "ahead law closes the shore: June 1.")
	assert.Contains(t, all, "ahead opens Core aeration, of lawns that are trodden hard & \"worn\" (St. Augustinegrass, Zoysiagrass): moment fixed June 1.")
	assert.Contains(t, all, "ahead closes Core aeration, of lawns that are trodden hard & \"worn\" (St. Augustinegrass, Zoysiagrass): moment fixed June 30.")
	feeding := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "ahead opens Feeding season") })
	if assert.GreaterOrEqual(t, feeding, 0, all) {
		assert.Contains(t, lines[feeding], "window law closed the shore June 1, 2026 September 30, 2026")
		assert.Contains(t, textOf(p.all("#ahead ~ p")[0]), "Take care")
	}
	letter, ok := site.Find("issues/2026-W20/gannet-shore/newsletter/newsletter.txt")
	require.True(t, ok)
	assert.Contains(t, string(letter.Body), "GET AHEAD: THE NEXT EIGHT WEEKS")
	assert.Contains(t, string(letter.Body), "https://lawns.example.org/almanac/zones/gannet-shore/year/")
}

// An event of a calendar keeps its name while its dates move, its revisions
// never count down, and what is not settled is tentative.
func TestWindowsInCalendars(t *testing.T) {
	type seen struct{ start, end, status, sequence string }
	weeks := []string{"2026-W04", "2026-W14", "2026-W17", "2026-W22", "2026-W40", "2026-W52"}
	history := map[string][]seen{}
	for _, id := range weeks {
		w := yearWorld(t, 14, id)
		body := calendarOf(t, w)
		checkCalendar(t, body, map[string]bool{})
		for _, ev := range strings.Split(string(bytes.ReplaceAll(body, []byte("\r\n "), nil)), "BEGIN:VEVENT\r\n")[1:] {
			field := func(name string) string {
				m := regexp.MustCompile(`(?m)^` + name + `(?:;VALUE=DATE)?:(.*)\r$`).FindStringSubmatch(ev)
				if m == nil {
					return ""
				}
				return m[1]
			}
			if uid := field("UID"); strings.HasPrefix(uid, "window.") {
				history[uid] = append(history[uid], seen{field("DTSTART"), field("DTEND"), field("STATUS"), field("SEQUENCE")})
				assert.Equal(t, "https://lawns.example.org/almanac/zones/gannet-shore/year/", field("URL"))
				assert.Equal(t, "calendar window category", field("CATEGORIES"))
				assert.Equal(t, strings.ReplaceAll(w.issues[0].Date.String(), "-", "")+"T000000Z", field("DTSTAMP"), "as of the issue")
				if strings.Contains(uid, ".feeding.2026@") {
					assert.Contains(t, field("SUMMARY"), "calendar window closed", "the law closes June to September")
					assert.Contains(t, field("DESCRIPTION"), `window law closed the shore June 1\, 2026 September 30\, 2026`)
					assert.Contains(t, field("DESCRIPTION"), "Read and follow the product label.")
				}
			}
		}
	}
	feeding := history["window.gannet-shore.zoysia.feeding.2026@lawns.example.org"]
	require.Len(t, feeding, len(weeks))
	starts, last := map[string]bool{}, -1
	for _, s := range feeding {
		starts[s.start] = true
		var n int
		_, err := fmt.Sscan(s.sequence, &n)
		require.NoError(t, err)
		assert.Greater(t, n, last, "a revision of every issue")
		last = n
	}
	assert.Greater(t, len(starts), 1, "the date moved, the name did not")
	assert.Equal(t, "TENTATIVE", feeding[0].status)
	assert.Equal(t, "CONFIRMED", feeding[len(feeding)-1].status, "both ends are on record by December")
	aeration := history["window.gannet-shore.zoysia.aeration.2026@lawns.example.org"]
	for _, s := range aeration {
		assert.Equal(t, seen{"20260601", "20260701", "CONFIRMED", s.sequence}, s, "fixed days; the end is the day after the last")
	}
}

// What is recorded later changes no byte of a year's page or calendar.
func TestYearIsAsOfItsIssue(t *testing.T) {
	early, late := yearWorld(t, 14, "2026-W22"), yearWorld(t, 14)
	cut := late.ws.Site.IssueDate(week(t, "2026-W22"))
	records := late.ws.Stations[0].Records
	for d := cut; d <= records.End(); d++ {
		records.Set(weather.TmaxC, d, -5)
		records.Set(weather.TminC, d, -15)
		records.Set(weather.RainMM, d, 40)
	}
	late.issues = []*bulletin.Region{bulletin.Build(late.ws, week(t, "2026-W22"))}
	a, b := early.render(t), late.render(t)
	for _, path := range []string{"zones/gannet-shore/year/index.html", "zones/gannet-shore/calendar.ics", "zones/gannet-shore/index.html", "zones/gannet-shore/zoysia/index.html"} {
		was, ok := a.Find(path)
		require.True(t, ok, path)
		is, ok := b.Find(path)
		require.True(t, ok, path)
		assert.True(t, bytes.Equal(was.Body, is.Body), path)
	}
}
