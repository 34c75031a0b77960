package publish

import (
	"strings"
	"testing"

	"github.com/andybalholm/cascadia"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"ligule/internal/reference"
)

// rulings returns what a page says of a place, by its heading, up to the next.
func rulings(t *testing.T, p parsed, id string) []*html.Node {
	t.Helper()
	var out []*html.Node
	for n := p.one(t, "h3#"+id).NextSibling; n != nil && n.Data != "h3"; n = n.NextSibling {
		if class, _ := attr(n, "class"); strings.HasPrefix(class, "ruling") {
			out = append(out, n)
		}
	}
	return out
}

// Where places differ each is shown with its own answer for both who does it at
// home and who is paid to, with what closes it, what goes with it and what comes.
func TestPlacesThatDifferAreEachShown(t *testing.T) {
	w := newWorld(t, nil)
	for _, path := range []string{"zones/gannet-shore/index.html", "zones/gannet-shore/zoysia/index.html", "issues/2026-W48/gannet-shore/index.html"} {
		p := w.page(t, path)
		assert.Equal(t, "The rule differs from place to place. Find yours: Vellinport · the islands", textOf(p.one(t, ".varies")), path)
		assert.Len(t, p.all(`.varies a[href="#place-1"], .varies a[href="#place-2"]`), 2, path)
		assert.IsIncreasing(t, p.order(t, "#local-rules", ".varies", "h3#place-1", "h3#place-2"), path)

		town := rulings(t, p, "place-1")
		require.Len(t, town, 3, path)
		assert.Equal(t, "law state closed all. Nitrogen, whether you do it yourself or hire it done"+
			"Closed all week by the Winter Fertilizer Ordinance (7-2).Next change. Opens again on March 1, 2027.", squeezed(town[0]), path)
		assert.Contains(t, textOf(town[1]), "law state open. Phosphorus, if you do it yourself", path)
		assert.Contains(t, textOf(town[2]), "water state limited. Watering lawns", path)

		islands := rulings(t, p, "place-2")
		require.Len(t, islands, 4, path)
		assert.Equal(t, "law state conditional. Nitrogen, if you do it yourselfKeep 10 ft from water (7-4).", squeezed(islands[0]), path)
		assert.Equal(t, "law state open. Nitrogen, if you hire it doneWhoever is paid to do it must be certified (7-9).Everything else that holds if you do it yourself.", squeezed(islands[1]), path)
		assert.Contains(t, textOf(islands[3]), "A blank is not permission: ask your water supplier.", path)
	}
}

// squeezed is the text of a node without the spaces between its blocks.
func squeezed(n *html.Node) string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			b.WriteString(strings.ReplaceAll(c.Data, "\n", ""))
		}
	}
	return strings.TrimSpace(b.String())
}

// A verdict of law has its mark, and "limits apply" has none: it is not "do it".
func TestRulingsHaveTheirMarks(t *testing.T) {
	for state, mark := range map[string]string{"closed_all": "closed", "closed_part": "closed", "not_cleared": "wait", "conditional": "", "open": "", "limited": ""} {
		assert.Equal(t, mark, reference.LawState{ID: state}.Mark(), state)
	}
	p := findPage(t, plain(t), "zones/gannet-shore/index.html")
	assert.Len(t, cascadia.QueryAll(rulings(t, p, "place-1")[0], cascadia.MustCompile(`.mark use[href="#v-closed"]`)), 1)
	assert.Empty(t, cascadia.QueryAll(rulings(t, p, "place-2")[0], cascadia.MustCompile(".mark")))
}

// Places that differ are said to; the region's page says closed in part only where
// that is so.
func TestPlacesThatDifferAreTold(t *testing.T) {
	for _, c := range []struct{ varies, part bool }{{false, false}, {true, true}, {true, false}} {
		w := newWorld(t, nil)
		l := &w.issues[1].Zones[2].Law
		l.Varies, l.Part = c.varies, c.part
		site := w.render(t)
		assert.Equal(t, c.varies, len(findPage(t, site, "zones/gannet-shore/index.html").all(".varies")) == 1, "%v", c)
		home := textOf(findPage(t, site, "index.html").one(t, "#zone-gannet-shore"))
		assert.Equal(t, c.part, strings.Contains(home, "Closed in part by local rule"), "%v", c)
	}
}

// A law that closes phosphorus is named with what would lift it.
func TestExceptionsOfPhosphorusAreNamed(t *testing.T) {
	w := newWorld(t, nil)
	p := &w.issues[1].Zones[2].Law.Places[0]
	p.Phosphorus = state("closed_all")
	p.Exceptions = sentences("Winter Fertilizer Ordinance (7-6), unless the lawn is new.", "Winter Fertilizer Ordinance (7-2).")
	ruling := rulings(t, w.page(t, "zones/gannet-shore/index.html"), "place-1")[1]
	assert.Contains(t, textOf(ruling), "Winter Fertilizer Ordinance (7-6), unless the lawn is new.")
	assert.Contains(t, textOf(ruling), "Winter Fertilizer Ordinance (7-2).")
	assert.Contains(t, textOf(ruling), "law state closed all. Phosphorus, if you do it yourself")
}

func cells(t *testing.T, table *html.Node) [][]string {
	t.Helper()
	var out [][]string
	for _, tr := range cascadia.QueryAll(table, cascadia.MustCompile("tr")) {
		var row []string
		for _, c := range cascadia.QueryAll(tr, cascadia.MustCompile("th, td")) {
			row = append(row, textOf(c))
		}
		out = append(out, row)
	}
	return out
}

// Watering law is a table of days and hours by house numbers, with its caps, what
// is exempt, and each law cited.
func TestWateringIsATableOfDaysAndHours(t *testing.T) {
	words := map[string]string{"water_day.open": "Open", "water_day.closed": "Closed", "water_day.span": "{from} to {to}", "clock.midnight": "midnight", "clock.noon": "noon", "clock.am": "{time} am", "clock.pm": "{time} pm"}
	w := newWorld(t, nil)
	w.ws.Phrases = phrases(t, words)
	site := w.render(t)
	for _, path := range []string{"zones/gannet-shore/index.html", "local-rules/shore-county/index.html"} {
		p := findPage(t, site, path)
		const open = "Open midnight to 10 am, 4:30 pm to midnight"
		assert.Equal(t, [][]string{
			{"Day", "water group or no number water group odd", "water group even"},
			{"Mon 23", "Closed", "Closed"}, {"Tue 24", "Closed", "Closed"}, {"Wed 25", open, "Closed"}, {"Thu 26", "Closed", open},
			{"Fri 27", "Closed", "Closed"}, {"Sat 28", open, "Closed"}, {"Sun 29", "Closed", open},
		}, cells(t, p.one(t, "table.days")), path)
		text := textOf(p.one(t, "main"))
		for _, part := range []string{
			"water cap depth 0.75 Sprinkler Rule Shore Co. Code ch. 12", "water cap minutes 60", "Water in exempt 0.25 24 Sprinkler Rule, Shore Co. Code ch. 12",
			"water exempt plain water exempt drip", "water exempt any day 0 29 Sprinkler Rule", "law check verified January 8, 2026",
		} {
			assert.Contains(t, text, part, path)
		}
		href, _ := attr(p.all(`a.out[href="https://law.example.invalid/shore/12"]`)[0], "href")
		assert.NotEmpty(t, href)
	}
}

// Where watering is closed all week everywhere in a place, that stands above the
// note, and the stage of shortage with the law.
func TestABanOnWateringStandsAboveTheNote(t *testing.T) {
	w := newWorld(t, nil)
	l := &w.issues[1].Zones[2].Law
	l.Dry = []string{"Vellinport"}
	l.Places[0].Watering.Laws[0].Stages = sentences("Stage 1 (Emergency), required: all week.")
	p := w.page(t, "zones/gannet-shore/index.html")
	assert.Contains(t, textOf(p.one(t, ".lawbox")), "Lawn watering is closed all week in: Vellinport.")
	assert.Contains(t, textOf(rulings(t, p, "place-1")[2]), "Stage 1 (Emergency), required: all week.")
}
