package publish

import (
	"strings"
	"testing"

	"github.com/andybalholm/cascadia"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"ligule/internal/civil"
	voiced "ligule/internal/edition"
	"ligule/internal/reference"
)

func (p parsed) section(t testing.TB, id string) string {
	t.Helper()
	return textOf(p.one(t, `section[aria-labelledby="`+id+`"]`))
}

func TestEveryPestHasAPage(t *testing.T) {
	w := newWorld(t, nil)
	site := w.render(t)
	directory := findPage(t, site, "pests/index.html")
	sitemap, ok := site.Find("sitemap.xml")
	require.True(t, ok)
	for _, id := range append(w.ws.Pests.IDs(), "weed-killers") {
		p := findPage(t, site, "pests/"+id+"/index.html")
		assert.NotEmpty(t, textOf(p.one(t, "h1")))
		assert.Len(t, directory.all(`main a[href="../pests/`+id+`/"]`), 1, id)
		assert.Contains(t, string(sitemap.Body), "/pests/"+id+"/</loc>")
	}
	for _, p := range parsePages(t, site) {
		if p.path != "404.html" {
			assert.NotEmpty(t, p.all(`footer a[href$="pests/"]`), p.path)
		}
	}
	// Without pests there is no page of them, and no link to one.
	w.ws.Pests = nil
	for _, iss := range w.issues {
		for _, z := range iss.Zones {
			for _, g := range z.Grasses {
				g.Pests = nil
			}
		}
	}
	for _, f := range w.render(t).Files {
		assert.NotContains(t, f.Path, "pests/")
		if strings.HasSuffix(f.Path, ".html") {
			assert.NotContains(t, string(f.Body), `pests/"`, f.Path)
		}
	}
}

// Look, tend, ask whether it is worth it, and only then treat: the spot before
// the lawn, and never without the cautions of what is used.
func TestPestPagesKeepTheOrderOfTheLadder(t *testing.T) {
	site := plain(t)
	for id, caution := range map[string]string{"test-blight": "label", "testgrass": "label", "test-grubs": "bees"} {
		p := findPage(t, site, "pests/"+id+"/index.html")
		assert.IsIncreasing(t, p.order(t, "h1", "#week", "#look", "#tend", "#worth", "#treat", "#hosts", "#when", "#sources", "#cautions"), id)
		treat := p.one(t, `section[aria-labelledby="treat"]`)
		assert.Len(t, cascadia.QueryAll(treat, cascadia.MustCompile(`.cautions a[href="#caution-`+caution+`"]`)), 1, "%s: beside the treatment", id)
		assert.Len(t, p.all("#caution-"+caution+" dd"), 1, "%s: in full", id)
		assert.Len(t, p.all("#caution-poison dd"), 1, "%s: stands on every page", id)
	}
	// Nothing to treat with: no section that tells how, and none of its cautions.
	p := findPage(t, site, "pests/test-mildew/index.html")
	assert.Empty(t, p.all("#treat"))
	assert.Empty(t, p.all("#caution-label"))
}

// How well a group works is printed where it was read, with where. What stands
// from memory says so, and bears no link to a publication.
func TestMemoryIsNotPrintedAsRead(t *testing.T) {
	p := findPage(t, plain(t), "pests/test-blight/index.html")
	rows := p.all(`section[aria-labelledby="treat"] .groups tbody tr`)
	require.Len(t, rows, 2)
	cells := func(row *html.Node) []*html.Node { return cascadia.QueryAll(row, cascadia.MustCompile("td")) }
	read, remembered := cells(rows[0]), cells(rows[1])
	assert.Equal(t, "pests effect good Author and Other 2001", textOf(read[1]))
	assert.Equal(t, "pests effect unsourced pests resistant reported", textOf(remembered[1]))
	assert.NotContains(t, textOf(rows[1]), "effect fair", "the effect in the file is from memory")
	assert.Empty(t, cascadia.QueryAll(rows[1], cascadia.MustCompile("a")))
	assert.Equal(t, 2, strings.Count(textOf(rows[1]), "pests from memory"), "ingredients and interval")
	hosts := p.section(t, "hosts")
	assert.Contains(t, hosts, "pests host 3St. Augustinegrass pests from memory")
	assert.Contains(t, hosts, "pests host 2Zoysiagrass Author and Other 2001")
}

// Everything that the demonstration tells of pests can be put into words: each
// model with its figures, each stage with what opens it.
func TestDemonstrationPestsAreWorded(t *testing.T) {
	w := newWorld(t, nil)
	w.ws.Pests, w.ws.Phrases = realPests(t), declared(t)
	e := w.press(t)
	all := e.Reference.Pests
	for i := range all {
		page := e.pestPage(&all[i])
		body, err := e.printer.page("pest", head{}, page)
		require.NoError(t, err, page.ID)
		for _, bad := range []string{"«", "NaN", "+Inf", "%!", "<no value>", "&lt;nil&gt;"} {
			assert.NotContains(t, string(body), bad, page.ID)
		}
		assert.NotEmpty(t, page.Culture, page.ID)
		assert.NotEmpty(t, page.Cites, page.ID)
		for _, timing := range page.Timings {
			assert.NotEmpty(t, timing.ValidFor, page.ID)
			for _, s := range timing.Stages[1:] {
				require.NotEmpty(t, s.When, page.ID)
			}
		}
	}
	h := reference.WeedKillersOf(w.ws, civil.MustDate(2026, 11, 22))
	voiced.Voice(h, w.ws.Voice())
	body, err := e.printer.page("weed-killers", head{}, weedKillersPage{WeedKillers: h})
	require.NoError(t, err)
	assert.NotContains(t, string(body), "«")
	assert.NotContains(t, string(body), "NaN")
}

func TestWeekOfPests(t *testing.T) {
	w := newWorld(t, nil)
	site := w.render(t)
	p := findPage(t, site, "zones/gannet-shore/zoysia/index.html")
	assert.IsIncreasing(t, p.order(t, "#zoysia-mow", "#pests", "#local-rules", "#cautions"))
	rows := p.all(".pest-rows li")
	require.Len(t, rows, 2, "act first, then watch")
	assert.True(t, strings.HasPrefix(textOf(rows[0]), "Testgrass: pests grade act. Time for it. Now it goes down. A dry month."), textOf(rows[0]))
	for _, want := range []string{"Test blight: pests grade watch.", "0.41", "Spring prevention November 10", "pests why history", "pests answer closed lawn reported the low corner November 17, 2026 the low corner November 17, 2026 pests reason mown too seldom"} {
		assert.Contains(t, textOf(rows[1]), want)
	}
	section := p.section(t, "pests")
	assert.Contains(t, section, "Nothing can be said about these: Test grubs: pests lacks these pests lacks degree days")
	assert.Contains(t, section, "Not judged by the week’s weather: Test mildew, Test mite.")
	assert.Len(t, p.all(`section[aria-labelledby="pests"] .cautions a[href="#caution-label"]`), 1, "a stage may name what to use")
	assert.Len(t, p.all("#caution-label dd"), 1)

	other := findPage(t, site, "zones/brackmoor/tall-fescue/index.html").section(t, "pests")
	assert.Contains(t, other, "Testgrass: pests invalid outside region Examples")
	assert.Contains(t, other, "Quiet this week: 1")

	// A zone page has room for names alone, folded.
	line := textOf(findPage(t, site, "zones/gannet-shore/index.html").all(".pest-line")[1])
	assert.Equal(t, "List of pests: 2Act: Testgrass. Watch: Test blight.", line)
	// No weather: no grade, anywhere.
	assert.Empty(t, findPage(t, site, "zones/ellerwade/index.html").all(".pest-line"))
	assert.Empty(t, findPage(t, site, "zones/ellerwade/zoysia/index.html").all("#pests"))
}

func TestWorkingShowsTheFiguresOfPests(t *testing.T) {
	site := plain(t)
	pests := findPage(t, site, "zones/gannet-shore/zoysia/working/index.html").section(t, "pests")
	for _, want := range []string{
		"Test blightpests grade watch0.410.500.280.350.6083%pests host 2Humidity estimated.",
		"Test blight0.000.05–0.15", "Test blightSpring preventionpests season state open November 10",
		"Testgrasspests grade actTime for itNovember 19, 2026degree days us 76 42–Late, November 26",
		"pests why treated lawn reported the low corner November 17, 2026 the low corner November 17, 2026 December 1, 2026", "pests answer closed lawn reported the low corner November 17, 2026 the low corner November 17, 2026 pests reason mown too seldom pests reason let it go",
	} {
		assert.Contains(t, pests, want)
	}
}

func TestPestTableOfZones(t *testing.T) {
	site := plain(t)
	p := findPage(t, site, "pests/index.html")
	row := func(id string) []string {
		var out []string
		for _, tr := range p.all("tbody tr") {
			if cascadia.Query(tr, cascadia.MustCompile(`th a[href$="/`+id+`/"]`)) != nil {
				for _, td := range cascadia.QueryAll(tr, cascadia.MustCompile("td")) {
					out = append(out, textOf(td))
				}
			}
		}
		return out
	}
	// The zones are those of the issue, in its order: plateau, bottoms, shore.
	assert.Equal(t, []string{"pests grade unknown", "–no host grown", "pests grade act: St. Augustinegrass"}, row("testgrass"))
	assert.Equal(t, []string{"pests grade quiet", "–no host grown", "pests grade quiet"}, row("test-grubs"))
	assert.Contains(t, textOf(p.one(t, "main")), "not judged by the week’s weather: Test mite.")
	week := findPage(t, site, "pests/testgrass/index.html").section(t, "week")
	assert.Contains(t, week, "Gannet ShoreSt. Augustinegrass: pests grade act; Zoysiagrass: pests grade act")
	assert.NotContains(t, week, "Ellerwade")
	assert.Contains(t, findPage(t, site, "pests/test-mite/index.html").section(t, "week"), "pests invalid page only")
}

func TestWeedKillersByGrass(t *testing.T) {
	p := findPage(t, plain(t), "pests/weed-killers/index.html")
	cells := p.all(".matrix tbody td")
	require.Len(t, cells, 6, "two ingredients on three grasses")
	var got []string
	for _, c := range cells {
		got = append(got, textOf(c))
	}
	// What is not told is not to be used.
	assert.Equal(t, []string{"pests tolerance caution", "pests tolerance safe* (read)", "pests tolerance do not use",
		"pests tolerance do not use", "pests tolerance dormant only", "pests tolerance do not use"}, got)
	assert.Contains(t, p.section(t, "bears"), "pests cell testalin Zoysiagrass Not injured in the trial.")
	weather := p.section(t, "weather")
	assert.Contains(t, weather, "pests heat on Zoysiagrass 85 °F (29 °C) pests from us")
	assert.Contains(t, weather, "pests heat on St. Augustinegrass 85 °F (29 °C) Author and Other 2001")
	assert.Contains(t, weather, "pests class symptomspests days 2 4 days pests from memory")
	assert.Contains(t, p.section(t, "seed"), "testalin")
	assert.Len(t, p.all("#caution-label dd"), 1)
}
