package publish

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/andybalholm/cascadia"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/watering"
)

// stripWords are the words that the tests of the strip read.
func stripWords(t testing.TB, w world) world {
	w.ws.Phrases = phrases(t, map[string]string{
		"law_asked.home": "{what}, home", "law_asked.hire": "{what}, hire", "law_asked.both": "{what}, both", "law_nutrient.N": "N", "law_nutrient.P": "P", "law_nutrient.other": "iron",
		"law_strip.row": "{what}: closed {runs}.", "law_strip.none": "{what}: none.", "law_strip.run": "{first} to {last}", "law_strip.run_excepted": "({first} to {last})", "law_strip.law": "{law} ({citation})",
	})
	return w
}

// The year's strip says, draws and tabulates the same closed days, with the law's
// true first and last days in the table.
func TestStripOfAYear(t *testing.T) {
	w := stripWords(t, closedWorld(t))
	p := w.page(t, "local-rules/wendrake-county/index.html")
	assert.Equal(t, "N, home: closed January 1 to February 28, June 1 to September 30, November 16 to December 31. "+
		"N, hire: closed January 1 to February 28, June 1 to September 30, December 2 to December 31. "+
		"P, home: closed January 1 to February 28, (March 1 to May 31), June 1 to September 30, (October 1 to November 15), November 16 to December 31. "+
		"P, hire: closed January 1 to February 28, (March 1 to May 31), June 1 to September 30, (October 1 to December 1), December 2 to December 31. "+
		"Iron, both: none.", textOf(p.one(t, ".strip desc")))
	assert.Equal(t, "Closed days of 2026 for lawn fertilizer: Wendrake County", textOf(p.one(t, ".strip title")))

	var labels []string
	for _, n := range p.all(".strip svg[role=img] text:not(.initial)") {
		labels = append(labels, textOf(n))
	}
	assert.Equal(t, []string{"N, home", "N, hire", "P, home", "P, hire", "Iron, both", "law strip none short"}, labels)
	assert.Len(t, p.all(".strip .initial"), 12)
	var bars []string
	for _, n := range p.all(".strip svg[role=img] rect.closed, .strip svg[role=img] rect.excepted") {
		fill, _ := attr(n, "fill")
		class, _ := attr(n, "class")
		assert.Equal(t, "url(#hatch-"+class+")", fill, "by pattern, not by color alone")
		assert.True(t, p.ids["hatch-"+class])
		bars = append(bars, class)
	}
	assert.Equal(t, strings.Fields("closed closed closed closed closed closed closed excepted closed excepted closed closed excepted closed excepted closed"), bars)

	table := cells(t, p.one(t, "details table"))
	assert.Equal(t, []string{"What and who", "First closed day", "Last closed day", "Law"}, table[0])
	assert.Equal(t, [][]string{
		{"N, home", "November 16, 2025", "February 28, 2026", "Lawn Nutrient Act (14-209(a))"},
		{"N, home", "June 1, 2026", "September 30, 2026", "Rainy-Season Fertilizer Ordinance (22-43)"},
		{"N, home", "November 16, 2026", "February 28, 2027", "Lawn Nutrient Act (14-209(a))"},
		{"N, hire", "December 2, 2025", "February 28, 2026", "Lawn Nutrient Act (14-209(b)(1))"},
	}, table[1:5])
	standing := table[7]
	assert.Equal(t, "P, home", standing[0])
	assert.Equal(t, []string{"P, home", "October 1, 2013", "no end on record", "Lawn Nutrient Act (14-211). Exceptions: law fact soil test p, law fact new turf, law fact repair"}, standing)
	for _, row := range table {
		assert.NotEqual(t, "Iron, both", row[0])
	}
}

// Where nothing closes a day there is nothing to draw.
func TestNoStripWithoutAClosing(t *testing.T) {
	site := plain(t)
	for path, strips := range map[string]int{"shore-county": 1, "ossamere": 0, "hill-county": 0} {
		assert.Len(t, findPage(t, site, "local-rules/"+path+"/index.html").all(".strip"), strips, path)
	}
}

// Whatever a law closes, the strip's bars lie in its row in order, without
// overlap, within the picture, and cover exactly the closed days.
func TestStripDrawsExactlyTheClosedDays(t *testing.T) {
	base := stripWords(t, newWorld(t, nil))
	rapid.Check(t, func(r *rapid.T) {
		record := *base.ws.Ordinances[0]
		record.EffectiveFrom = civil.MustDate(2020, 1, 1).AddDays(rapid.IntRange(0, 3000).Draw(r, "effective"))
		if rapid.Bool().Draw(r, "ends") {
			record.EffectiveTo = record.EffectiveFrom.AddDays(rapid.IntRange(0, 2000).Draw(r, "for"))
		}
		record.Rules = nil
		for i := range rapid.IntRange(1, 4).Draw(r, "rules") {
			day := func(name string) string {
				return civil.MustDate(2025, 1, 1).AddDays(rapid.IntRange(0, 364).Draw(r, name)).String()[5:]
			}
			rule := law.Rule{ID: "r" + strconv.Itoa(i), Topic: "window", Effect: "ban", Targets: []string{"N"}, Binds: []law.Actor{"all"},
				When: []law.When{annual(t, day("from"), day("to"), rapid.SampledFrom([]string{"[]", "[)", "(]", "()"}).Draw(r, "bounds"))}}
			if rapid.Bool().Draw(r, "excepted") {
				rule.Unless = []string{"new_turf"}
			}
			record.Rules = append(record.Rules, rule)
		}
		w := base
		ws := *base.ws
		ws.Ordinances = []*law.Record{&record}
		ws.Law, ws.WaterLaw = law.NewBook(ws.Ordinances, ws.Places), watering.NewBook(nil, nil)
		w.ws = &ws
		e := &press{Publication: &Publication{Voice: ws.Voice()}}
		asOf := civil.MustDate(2026, 1, 1).AddDays(rapid.IntRange(0, 364).Draw(r, "day"))
		place := law.Place{Name: "x", Chain: []string{"ossamere", "shore-county"}}
		year := bulletin.ClosedYearOf(ws.Law, place, asOf)
		s, ok := e.strip(year, asOf), year.Any()
		drawn := map[civil.Date]bool{}
		width := number64(t, s.Width)
		assert.InDelta(t, 365*stripScale, width, 0.06)
		last := 0.0
		for _, b := range s.Rows[0].Bars {
			x, w := number64(t, b.X), number64(t, b.Width)
			assert.Positive(t, w)
			assert.GreaterOrEqual(t, x, last-0.11)
			assert.LessOrEqual(t, x+w, width+0.11)
			last = x + w
			for d := civil.MustDate(2026, 1, 1); d <= civil.MustDate(2026, 12, 31); d++ {
				if middle := (float64(d-civil.MustDate(2026, 1, 1)) + 0.5) * stripScale; x < middle && middle < x+w {
					drawn[d] = true
				}
			}
		}
		for _, row := range s.Rows {
			// Words stand in place of bars, where no line crosses them.
			if assert.Equal(t, len(row.Bars) == 0, row.Bare != nil); row.Bare == nil {
				assert.NotEmpty(t, row.Ticks)
				continue
			}
			assert.Empty(t, row.Ticks)
			needle, _, _ := strings.Cut(strings.TrimPrefix(row.Needle, "M"), " ")
			at, say := number64(t, needle), number64(t, row.BareX)
			assert.Greater(t, math.Abs(at-say), width/2-5, "the issue date's line is in the words")
			assert.Equal(t, say > at, row.BareAt == "end")
		}
		closed := 0
		for d := civil.MustDate(2026, 1, 1); d <= civil.MustDate(2026, 12, 31); d++ {
			q := law.Question{Place: place, Actor: law.Homeowner, Date: d, AsOf: asOf, Product: law.ProductOf("N")}
			is := ws.Law.Ask(q).Verdict == law.Closed
			assert.Equal(t, is, drawn[d], "%s", d)
			if is {
				closed++
			}
		}
		assert.Equal(t, closed > 0, ok)
	})
}

func number64(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

// The pages of law say when each record was read and is to be read again, and of
// a stale or unconfirmed one that it can close and never clears.
func TestReviewsAreSaidInWords(t *testing.T) {
	w := newWorld(t, nil)
	record, watering := w.ws.Ordinances[0], w.ws.Watering[0]
	type want struct{ review, weak string }
	for name, c := range map[string]struct {
		verification, status string
		checked              string
		want                 want
	}{
		"far ahead":            {"verified", "in_force", "2026-02-17", want{"law review due February 17, 2027", ""}},
		"near":                 {"verified", "in_force", "2025-12-01", want{"law review soon December 1, 2026", ""}},
		"its last day":         {"verified", "in_force", "2025-11-22", want{"law review soon November 22, 2026", ""}},
		"past":                 {"secondary", "in_force", "2025-11-21", want{"law review past November 21, 2026", "law weak stale"}},
		"unverified":           {"unverified", "in_force", "2026-02-17", want{"law review due February 17, 2027", "law weak unverified"}},
		"unverified and past":  {"unverified", "stayed", "2025-02-17", want{"law review past February 17, 2026", "law weak both"}},
		"replaced":             {"verified", "superseded", "2024-02-17", want{"law review none", ""}},
		"proposed":             {"unverified", "proposed", "2024-02-17", want{"law review none", ""}},
		"repealed, no end yet": {"verified", "repealed", "2026-02-17", want{"law review due February 17, 2027", ""}},
	} {
		record.Verification, record.Status, record.CheckedOn = law.Verification(c.verification), law.Status(c.status), date(t, c.checked)
		watering.Verification, watering.CheckedOn = law.Verification(c.verification), date(t, c.checked)
		site := w.render(t)
		page := findPage(t, site, "local-rules/shore-county/index.html")
		main := textOf(page.one(t, `section[aria-labelledby="shore-winter"]`))
		assert.Contains(t, main, c.want.review, name)
		assert.Equal(t, c.want.weak != "", strings.Contains(main, "law weak"), name)
		assert.Contains(t, main, c.want.weak, name)
		line := textOf(page.one(t, "main"))
		assert.Contains(t, line, "law check "+c.verification, name)
		overview := textOf(findPage(t, site, "local-rules/index.html").one(t, ".bodies"))
		assert.Contains(t, overview, c.want.review, name)
		assert.Equal(t, strings.HasPrefix(c.want.weak, "law weak"), strings.Contains(overview, "it can close, but it never clears") && c.status != "superseded" && c.status != "proposed", name)
		if c.status != "in_force" {
			assert.Contains(t, overview, "Winter Fertilizer Ordinance (law status "+c.status+")", name)
		}
		if c.status == "in_force" { // a watering law has no other status
			assert.Equal(t, 2, strings.Count(overview, c.want.review), name)
		}
	}
}

// The overview has each jurisdiction with what holds there this week.
func TestOverviewHasEveryJurisdiction(t *testing.T) {
	p := findPage(t, plain(t), "local-rules/index.html")
	items := p.all(".bodies > li")
	require.Len(t, items, 3)
	for i, part := range []string{
		"State of Ossamere (law level state) law state open. Nitrogen this week", "Shore County (law level county) law state closed all. Nitrogen this week",
		"Hill County (law level county) law state not cleared. Nitrogen this week",
	} {
		assert.Contains(t, textOf(items[i]), part)
	}
	assert.Contains(t, textOf(items[1]), "Winter Fertilizer Ordinance. law check verified February 17, 2026 law review due February 17, 2027")
	assert.Contains(t, textOf(items[1]), "Sprinkler Rule. law check verified January 8, 2026")
	assert.Contains(t, textOf(items[2]), "law coverage not checked")
}

// scripts are the blocks of data for machines on a page.
func scripts(t *testing.T, p parsed) []*html.Node {
	t.Helper()
	return p.all(`script[type="application/ld+json"]`)
}

// A real law is there for machines, as a Legislation of schema.org; an invented
// one never is, nor anything on a site that is invented.
func TestOnlyRealLawIsThereForMachines(t *testing.T) {
	real := func() world {
		w := newWorld(t, func(s string) string { return s + hostile + "</script>" })
		w.ws.Site.Demo = false
		r := w.ws.Ordinances[0]
		r.Fictional, r.SourceURL = false, "https://law.example.org/shore/7"
		w.ws.Watering[0].Fictional = false
		return w
	}
	p := findPage(t, real().render(t), "local-rules/shore-county/index.html")
	found := scripts(t, p)
	require.Len(t, found, 2)
	raw := textRaw(found[0])
	assert.NotContains(t, raw, "</")
	assert.NotContains(t, raw, "<script>")
	var l map[string]any
	require.NoError(t, json.Unmarshal([]byte(raw), &l))
	text := hostile + "</script>"
	assert.Equal(t, map[string]any{
		"@context": "https://schema.org", "@type": "Legislation", "name": "Winter Fertilizer Ordinance" + text, "legislationIdentifier": "Shore Co. Code ch. 7" + text,
		"jurisdiction":    map[string]any{"@type": "AdministrativeArea", "name": "Shore County" + text},
		"legislationDate": "2011-05-03", "legislationLegalForce": "https://schema.org/InForce", "temporalCoverage": "2012-01-01/..", "url": "https://law.example.org/shore/7",
	}, l)
	require.NoError(t, json.Unmarshal([]byte(textRaw(found[1])), &l))
	assert.Equal(t, "Sprinkler Rule"+text, l["name"])

	for name, spoil := range map[string]func(w world){
		"invented": func(w world) { w.ws.Ordinances[0].Fictional, w.ws.Watering[0].Fictional = true, true },
		"a demo":   func(w world) { w.ws.Site.Demo = true },
		"unverified": func(w world) {
			w.ws.Ordinances[0].Verification, w.ws.Watering[0].Verification = "unverified", "unverified"
		},
	} {
		w := real()
		spoil(w)
		for _, p := range parsePages(t, w.render(t)) {
			assert.Empty(t, scripts(t, p), "%s: %s", name, p.path)
		}
	}
}

func textRaw(n *html.Node) string { return n.FirstChild.Data }

func TestOwnDesignCoverage(t *testing.T) {
	assert.Equal(t, "2024-04-01/2029-03-31", coverage(civil.MustDate(2024, 4, 1), civil.MustDate(2029, 3, 31)))
	assert.Equal(t, "2024-04-01/..", coverage(civil.MustDate(2024, 4, 1), 0))
	assert.Empty(t, coverage(0, 0))
}

// A watering law is printed in full: schedules and stages with their days, orders,
// how numbers are counted, and what is exempt.
func TestWateringLawInFull(t *testing.T) {
	w := newWorld(t, nil)
	r := w.ws.Watering[0]
	r.Schedules = append(r.Schedules, watering.Schedule{ID: "winter", When: &watering.When{DST: true}, Days: []watering.Days{{Group: "nonresidential", Days: nil}}},
		watering.Schedule{ID: "summer", When: &watering.When{Annual: annual(t, "06-01", "09-30", "[]")}})
	r.Stages = []watering.Stage{{N: 1, Name: "Advisory", Force: "voluntary", ClosedHours: []watering.Hours{{From: 540, To: 1080}}}, {N: 2, Name: "Emergency", Force: "mandatory", Ban: true, ReplacesDaysOf: []int{1}}}
	r.Declared = []watering.DeclaredStage{{Stage: 1, From: date(t, "2026-08-03"), To: date(t, "2026-10-31")}, {Stage: 2, From: date(t, "2026-11-01"), AssumeUntil: date(t, "2026-11-30")}}
	r.LetterSuffix, r.CalendarParity, r.ClosedOn31st = "digit:9", true, true
	r.Exempt = append(r.Exempt, watering.Exemption{What: "hand_held_shutoff", Stages: []int{1, 2}})
	p := w.page(t, "local-rules/shore-county/index.html")
	text := spaced(p.one(t, `section[aria-labelledby="shore-water"]`))
	for _, part := range []string{
		"Citation Shore Co. Code ch. 12", "law check verified January 8, 2026", "law review due January 8, 2027", "watering lawns with water source public", "water force mandatory",
		"water rule of always water rule of hours clock am 10 clock pm 4:30", "water rule of parity", "water rule of day 31",
		"water when always water rule of days water group odd Wednesday and Saturday", "water when winter clock water rule of days water group nonresidential water rule of no day",
		"law when annual June 1 September 30 law bounds both in", "water stage title 1 Advisory water force voluntary water rule of hours clock am 9 clock pm 6",
		"water stage title 2 Emergency water force mandatory water rule of ban water rule of replaces 1",
		"water order span 1 August 3, 2026 October 31, 2026", "water order open 2 November 1, 2026 November 30, 2026",
		"water number none water group odd", "water number letter water number digit 9", "water cap depth 0.75",
		"water exempt plain water exempt drip", "water exempt with terms water exempt water in water term water in 0.25 24", "water exempt with terms water exempt hand held shutoff water term stages 1, 2",
	} {
		assert.Contains(t, text, part)
	}
	assert.Len(t, cascadia.QueryAll(p.root, cascadia.MustCompile("table.days")), 1)
}

// spaced is the text of a node with a space between all its parts.
func spaced(n *html.Node) string {
	var parts []string
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			parts = append(parts, c.Data)
		}
	}
	return strings.Join(strings.Fields(strings.Join(parts, " ")), " ")
}

// A law whose text the reference does not have fails the print; it is not passed over.
func TestALawWithoutItsTextIsNotPrinted(t *testing.T) {
	pub := newWorld(t, nil).publication()
	clear(pub.Reference.Laws)
	_, err := Render(pub, files())
	assert.ErrorContains(t, err, "jurisdiction")
}
