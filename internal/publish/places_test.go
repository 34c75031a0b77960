package publish

import (
	"strings"
	"testing"

	"github.com/andybalholm/cascadia"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"

	"ligule/internal/law"
	"ligule/internal/voice"
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
		p := findPage(t, w.render(t), path)
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
		assert.Equal(t, mark, stateView{ID: state}.Mark(), state)
	}
	p := findPage(t, newWorld(t, nil).render(t), "zones/gannet-shore/index.html")
	assert.Len(t, cascadia.QueryAll(rulings(t, p, "place-1")[0], cascadia.MustCompile(`.mark use[href="#v-closed"]`)), 1)
	assert.Empty(t, cascadia.QueryAll(rulings(t, p, "place-2")[0], cascadia.MustCompile(".mark")))
}

// The places of a zone differ too if they do so only for hire, or for
// phosphorus; the region's page speaks of a part of a zone only if another part
// is not closed.
func TestPlacesDifferForAnybody(t *testing.T) {
	same := func(state string, v law.Verdict) func(law.Place) law.PlaceWeek {
		return func(p law.Place) law.PlaceWeek { return placeWeek(p, state, v) }
	}
	closed, open := same("closed_all", law.Closed), same("open", law.Open)
	for name, c := range map[string]struct {
		home, hire, phosphorus [2]func(law.Place) law.PlaceWeek
		varies, part           bool
	}{
		"alike":          {[2]func(law.Place) law.PlaceWeek{closed, closed}, [2]func(law.Place) law.PlaceWeek{closed, closed}, [2]func(law.Place) law.PlaceWeek{open, open}, false, false},
		"at home":        {[2]func(law.Place) law.PlaceWeek{closed, open}, [2]func(law.Place) law.PlaceWeek{open, open}, [2]func(law.Place) law.PlaceWeek{open, open}, true, true},
		"for hire":       {[2]func(law.Place) law.PlaceWeek{closed, closed}, [2]func(law.Place) law.PlaceWeek{closed, open}, [2]func(law.Place) law.PlaceWeek{open, open}, true, false},
		"for phosphorus": {[2]func(law.Place) law.PlaceWeek{open, open}, [2]func(law.Place) law.PlaceWeek{open, open}, [2]func(law.Place) law.PlaceWeek{open, closed}, true, false},
	} {
		w := newWorld(t, nil)
		l := &w.issues[1].Zones[2].Law
		l.Varies = false
		for i := range l.Places {
			p := &l.Places[i]
			p.Homeowner, p.ForHire, p.Phosphorus = c.home[i](p.Place), c.hire[i](p.Place), c.phosphorus[i](p.Place)
		}
		if c.home[0](law.Place{}).State == "open" {
			l.Closed = nil
		}
		site := w.render(t)
		assert.Equal(t, c.varies, len(findPage(t, site, "zones/gannet-shore/index.html").all(".varies")) == 1, name)
		home := textOf(findPage(t, site, "index.html").one(t, "#zone-gannet-shore"))
		assert.Equal(t, c.part, strings.Contains(home, "in part of the zone"), name)
	}
}

// A law that closes phosphorus is named with what would lift it.
func TestExceptionsOfPhosphorusAreNamed(t *testing.T) {
	w := newWorld(t, nil)
	record := w.ws.Ordinances[0]
	soil := law.Rule{ID: "phosphorus", Citation: "7-6", Unless: []string{"soil_test_p", "new_turf"}}
	p := &w.issues[1].Zones[2].Law.Places[0]
	p.Phosphorus = placeWeek(p.Place, "closed_all", law.Closed, law.Hit{Record: record, Rule: &soil, Verdict: law.Closed}, law.Hit{Record: record, Rule: &record.Rules[0], Verdict: law.Closed})
	ruling := rulings(t, findPage(t, w.render(t), "zones/gannet-shore/index.html"), "place-1")[1]
	assert.Contains(t, textOf(ruling), "law place closed unless Winter Fertilizer Ordinance 7-6 law fact soil test p, law fact new turf")
	assert.Contains(t, textOf(ruling), "law place closed by Winter Fertilizer Ordinance 7-2")
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
			{"Day", "water group or no number water group odd 1, 3, 5, 7, 9", "water group even 0, 2, 4, 6, 8"},
			{"Mon 23", "Closed", "Closed"}, {"Tue 24", "Closed", "Closed"}, {"Wed 25", open, "Closed"}, {"Thu 26", "Closed", open},
			{"Fri 27", "Closed", "Closed"}, {"Sat 28", open, "Closed"}, {"Sun 29", "Closed", open},
		}, cells(t, p.one(t, "table.days")), path)
		text := textOf(p.one(t, "main"))
		for _, part := range []string{
			"water cap depth 0.75 Sprinkler Rule Shore Co. Code ch. 12", "water cap minutes 60", "Sprinkler Rule, Shore Co. Code ch. 12 0.25 24",
			"water exempt plain water exempt drip", "water exempt any day 0 29 Sprinkler Rule", "law check verified January 8, 2026",
		} {
			assert.Contains(t, text, part, path)
		}
		href, _ := attr(p.all(`a.out[href="https://law.example.invalid/shore/12"]`)[0], "href")
		assert.NotEmpty(t, href)
	}
}

// Advice to feed says whether it may be watered in, and advice to water what
// watering law leaves of it; where nothing is to be done neither is said.
func TestWateringLawStandsBesideAdvice(t *testing.T) {
	w := newWorld(t, nil)
	z := w.issues[1].Zones[2]
	answers := z.Grasses[1].Answers
	feed, water := answers[1], answers[2]
	conditions := func(topic string) string {
		p := findPage(t, w.render(t), "zones/gannet-shore/index.html")
		var out []string
		for _, li := range p.all("#zoysia-" + topic + " > .conditions li") {
			out = append(out, textOf(li))
		}
		return strings.Join(out, "|")
	}
	assert.NotContains(t, conditions("feed"), "water in", "closed: nothing is spread")
	assert.Empty(t, conditions("water"), "to wait needs no leave")
	decide(feed, "do")
	decide(water, "do")
	water.Uses = []string{"water"}
	assert.Equal(t, "Keep 10 ft from water.|water in exempt Vellinport Sprinkler Rule, Shore Co. Code ch. 12 0.25 24|water in no record the islands", conditions("feed"))
	assert.Equal(t, "water rule limited Vellinport Sprinkler Rule, Shore Co. Code ch. 12|water rule depth Vellinport 0.75 Sprinkler Rule|water rule no record the islands", conditions("water"))

	// Without the exemption its absence is said.
	rule := *w.ws.Watering[0]
	rule.Exempt = nil
	book := w.ws.Law.WithWatering([]*law.WaterRecord{&rule})
	for i := range z.Law.Places {
		z.Law.Places[i].Watering = book.WaterWeek(z.Law.Places[0].Place, "public", w.issues[1].Week.Monday(), w.issues[1].Date)
	}
	assert.Contains(t, conditions("feed"), "water in not exempt law everywhere Sprinkler Rule, Shore Co. Code ch. 12")

	// A ban closes everywhere, and stands above the note.
	rule.Stages = []law.WaterStage{{N: 1, Name: "Emergency", Force: "mandatory", Ban: true}}
	rule.Force, rule.Schedules, rule.ClosedHours = "by_stage", nil, nil
	rule.Declared = []law.DeclaredStage{{Stage: 1, From: date(t, "2026-11-01"), To: date(t, "2026-12-31")}}
	book = w.ws.Law.WithWatering([]*law.WaterRecord{&rule})
	z.Law.Places[0].Watering = book.WaterWeek(z.Law.Places[0].Place, "public", w.issues[1].Week.Monday(), w.issues[1].Date)
	assert.Contains(t, conditions("water"), "water rule closed all Vellinport")
	p := findPage(t, w.render(t), "zones/gannet-shore/index.html")
	assert.Contains(t, textOf(p.one(t, ".lawbox")), "Lawn watering is closed all week in: Vellinport.")
	assert.Contains(t, textOf(rulings(t, p, "place-1")[2]), "water stage mandatory 1 Emergency days all week")
}

func TestOwnDesignWordsOfWatering(t *testing.T) {
	v := viewer{words: words{voice.Voice{Book: phrases(t, map[string]string{"clock.midnight": "midnight", "clock.noon": "noon", "clock.am": "{time} am", "clock.pm": "{time} pm", "water_day.span": "{from} to {to}",
		"water_group.all": "all", "water_group.odd": "odd", "water_group.even": "even", "water_group.digit_8_9": "8 or 9", "water_group.letter": "with a letter", "water_group.no_number": "none", "water_group.nonresidential": "others"})}}}
	for minute, want := range map[int]string{0: "midnight", 24 * 60: "midnight", 12 * 60: "noon", 9 * 60: "9 am", 9*60 + 5: "9:05 am", 12*60 + 30: "12:30 pm", 30: "12:30 am", 23*60 + 59: "11:59 pm"} {
		assert.Equal(t, want, v.clockTime(minute), minute)
	}
	assert.Empty(t, v.hours([]law.Hours{{From: 0, To: 24 * 60}}), "all day needs no hours")
	assert.Equal(t, "midnight to 9 am, 5 pm to midnight", v.hours([]law.Hours{{From: 0, To: 9 * 60}, {From: 17 * 60, To: 24 * 60}}))

	all := []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}
	odd, even := []int{1, 3, 5, 7, 9}, []int{0, 2, 4, 6, 8}
	for _, c := range []struct {
		group   law.WaterGroup
		letters bool
		want    string
	}{
		{law.WaterGroup{Group: "all", Digits: all, Letters: all, NoNumber: true}, false, "all"},
		{law.WaterGroup{Group: "odd", Digits: odd, Letters: odd, NoNumber: true}, false, "water group or no number odd"},
		{law.WaterGroup{Group: "even", Digits: even}, true, "water group without letter even"},
		{law.WaterGroup{Group: "digit_8_9", Digits: []int{8, 9}, Letters: all, NoNumber: true}, true, "water group or no number water group any letter 8 or 9"},
		{law.WaterGroup{Group: "digits", Digits: []int{1, 2, 7}, Letters: []int{1}}, true, "water group some letters water group digits 1, 2, 7 1"},
		{law.WaterGroup{Group: "letter", Letters: all}, true, "with a letter"},
		{law.WaterGroup{Group: "no_number", NoNumber: true}, true, "none"},
		{law.WaterGroup{Group: "odd", Digits: odd, Letters: odd, Nonresidential: true}, false, "water group not homes odd"},
		{law.WaterGroup{Group: "nonresidential", Digits: all, Letters: all, NoNumber: true, Nonresidential: true}, false, "others"},
	} {
		assert.Equal(t, c.want, v.waterGroup(c.group, c.letters))
	}
}

// Stages of shortage that change within the week are named with their days, and
// so is not knowing.
func TestStagesOfShortageAreNamedByDay(t *testing.T) {
	w := newWorld(t, nil)
	rule := *w.ws.Watering[0]
	rule.Schedules, rule.ClosedHours, rule.Force = nil, nil, "by_stage"
	rule.Stages = []law.WaterStage{
		{N: 1, Name: "Advisory", Force: "voluntary", ClosedHours: []law.Hours{{From: 9 * 60, To: 18 * 60}}},
		{N: 2, Name: "Alert", Force: "mandatory", ClosedHours: []law.Hours{{From: 10 * 60, To: 16 * 60}}},
	}
	rule.Declared = []law.DeclaredStage{
		{Stage: 1, From: date(t, "2026-11-24"), To: date(t, "2026-11-25")},
		{Stage: 2, From: date(t, "2026-11-26"), AssumeUntil: date(t, "2026-11-27")},
	}
	v := viewer{words{w.ws.Voice()}, w.ws}
	wv := v.watering(law.NewBook(nil, w.ws.Places).WithWatering([]*law.WaterRecord{&rule}).WaterWeek(w.issues[1].Zones[2].Law.Places[0].Place, "public", w.issues[1].Week.Monday(), w.issues[1].Date), w.issues[1].Date)
	require.Len(t, wv.Laws, 1)
	assert.Equal(t, []string{
		"water stage none Monday, November 23", "water stage voluntary 1 Advisory days through Tuesday, November 24 Wednesday, November 25",
		"water stage mandatory 2 Alert days through Thursday, November 26 Friday, November 27", "water stage unknown days through Saturday, November 28 Sunday, November 29",
	}, wv.Laws[0].Stages)
	assert.Equal(t, "not_cleared", wv.State.ID)
	require.Len(t, wv.Laws[0].Flags, 2, "%v", wv.Laws[0].Flags)
	tuesday := wv.Rows[1].Cells[0]
	assert.Equal(t, []waterPart{{"water day open", "water day span clock midnight clock am 9, water day span clock pm 6 clock midnight"}, {"water day advised against", "water day span clock am 9 clock pm 6"}}, tuesday.Parts)
}
