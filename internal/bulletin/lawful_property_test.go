package bulletin

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/quantity"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/voice"
	"ligule/internal/watering"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// Whole readings under random law and random rules, made the way a press makes
// them. The weather is mild and wet enough that grass grows all year: what stops
// an advice is the law.

// bodies are the jurisdictions of the readings, upper first.
var bodies = []law.Jurisdiction{
	{ID: "state", Name: "State", Level: "state"},
	{ID: "county", Name: "County", Level: "county", Parent: "state"},
	{ID: "town", Name: "Town", Level: "municipal", Parent: "county"},
	{ID: "district", Name: "District", Level: "district", Parent: "state"},
}

// chains are the places that a zone may hold.
var chains = []law.Place{
	{Name: "the hills", Chain: []string{"state"}},
	{Name: "the county", Chain: []string{"state", "county"}},
	{Name: "the town", Chain: []string{"state", "county", "town"}},
	{Name: "the watershed", Chain: []string{"state", "county", "district"}},
	{Name: "the town in the watershed", Chain: []string{"state", "county", "town", "district"}},
}

// desk is what all readings share: the demonstration's phrases, cautions,
// indicators and one of its grasses.
type desk struct {
	ws    *workspace.Workspace
	grass *turf.Profile
}

func newDesk(t *testing.T) *desk {
	t.Helper()
	var list diag.List
	read := func(name string) *diag.Table {
		text, err := os.ReadFile("../../data/" + name)
		require.NoError(t, err)
		root, ok := diag.ReadTOML(name, text, &list)
		require.True(t, ok)
		return root
	}
	d := &desk{
		ws: &workspace.Workspace{
			Phrases: voice.ReadBook(read("phrases.toml")), Cautions: advice.ReadCautions(read("cautions.toml")), Catalogue: advice.ReadCatalogue(read("indicators.toml")),
			Bags: advice.ReadBags(read("bags.toml")), Site: workspace.Site{Units: quantity.US, IssueWeekday: time.Sunday},
		},
		grass: turf.ReadProfile("tall-fescue", read("grasses/tall-fescue.toml")),
	}
	require.NoError(t, list.Err())
	return d
}

// lawfulCase is one zone's week under random law and rules.
type lawfulCase struct {
	week    civil.Week
	records []*law.Record
	lines   []law.Jurisdiction
	places  []law.Place
	rules   string    // a file of data/rules
	rainMM  []float64 // the forecast from the issue date on; nil = none on file
}

// read makes the case's reading as a bulletin does.
func (d *desk) read(t require.TestingT, c lawfulCase) (*advice.Reading, *law.Book) {
	var list diag.List
	root, ok := diag.ReadTOML("rules.toml", []byte(c.rules), &list)
	require.True(t, ok, list.Error())
	ws := *d.ws
	ws.Rules = advice.ReadRules(root, ws.Catalogue, &advice.Book{})
	require.NoError(t, list.Err(), c.rules)
	ws.Law, ws.WaterLaw = law.NewBook(c.records, c.lines), watering.NewBook(nil, nil)
	soil, ok := turf.SoilByID("loam")
	require.True(t, ok)
	z := &workspace.Zone{ID: "zone", Name: "Zone", Climate: "coast", Soil: soil, Grasses: []*turf.Profile{d.grass}, Places: c.places}
	issue := ws.Site.IssueDate(c.week)
	felt := mild(issue, c.rainMM)
	m := &models{issue, map[string]*stationYear{z.Station: newStationYear(felt)}}
	return advice.Read(input(&ws, z, d.grass, c.week, m.week(&ws, z, c.week))), ws.Law
}

// mild is weather in which a cool-season grass grows, before an issue date, and a
// forecast with the given rain, mm, from it on.
func mild(issue civil.Date, rainMM []float64) *weather.Felt {
	const before = 80
	fill := func(s *weather.Series, rain func(int) float64) *weather.Series {
		for i := range s.Len() {
			d := s.Start.AddDays(i)
			s.Set(weather.TmaxC, d, 24)
			s.Set(weather.TminC, d, 13)
			s.Set(weather.RainMM, d, rain(i))
		}
		return s
	}
	past := fill(weather.NewSeries(issue.AddDays(-before), before), func(int) float64 { return 4 })
	var forecasts []weather.Forecast
	if rainMM != nil {
		days := fill(weather.NewSeries(issue, len(rainMM)), func(i int) float64 { return rainMM[i] })
		forecasts = append(forecasts, weather.Forecast{Issued: issue, Days: days})
	}
	return weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 34}, past, forecasts, issue).Felt()
}

// oneIn is true one time in n or less; the simplest draw is false.
func oneIn(t *rapid.T, n int, name string) bool { return rapid.IntRange(1, n).Draw(t, name) == n }

// near draws a day around another: mostly close to it, at most so many days off.
func near(t *rapid.T, day civil.Date, before, after int, name string) civil.Date {
	return day.AddDays(rapid.IntRange(-before, after).Draw(t, name))
}

// anySpan draws a stretch of days that is on from time to time: at times in a
// week, at times beginning or ending within it.
func anySpan(monday civil.Date) *rapid.Generator[law.When] {
	return rapid.Custom(func(t *rapid.T) law.When {
		w := law.When{
			Kind:        rapid.SampledFrom([]string{"annual", "annual", "annual", "annual", "annual", "dates", "dates", "declared", "after_planting", "season"}).Draw(t, "kind"),
			Bounds:      rapid.SampledFrom([]string{"[]", "[]", "[)", "(]", "()"}).Draw(t, "bounds"),
			BoundsBasis: rapid.SampledFrom([]string{"text", "text", "agency", "assumed"}).Draw(t, "basis"),
		}
		first := near(t, monday, 160, 60, "first")
		last := near(t, max(first, monday), 0, 160, "last") // over New Year, too
		if oneIn(t, 3, "past") {
			last = first.AddDays(rapid.IntRange(0, 160).Draw(t, "days"))
		}
		switch w.Kind {
		case "annual":
			anchor := func(d civil.Date) law.Anchor {
				_, m, day := d.YMD()
				a, err := law.ParseAnchor(fmt.Sprintf("%02d-%02d", m, min(day, 28)))
				if err != nil {
					t.Fatal(err)
				}
				return a
			}
			w.FromAnchor, w.ToAnchor = anchor(first), anchor(last)
		case "dates":
			w.From, w.To = first, last
		case "declared":
			w.Name = "order"
		case "after_planting":
			w.Days = law.DayRange{From: 0, To: 29}
		case "season":
			w.Name, w.Side = "growing", "outside"
		}
		return w
	})
}

// anyProvision draws a rule of law.
func anyProvision(id string, monday civil.Date) *rapid.Generator[law.Rule] {
	return rapid.Custom(func(t *rapid.T) law.Rule {
		r := law.Rule{
			ID: id, Citation: id, AsWritten: "as written",
			Effect:  rapid.SampledFrom([]law.Effect{"ban", "ban", "ban", "ban", "ban", "ban", "ban", "cap", "require", "advise"}).Draw(t, "effect"),
			Targets: rapid.SampledFrom([][]string{{"N"}, {"N", "P"}, {"any"}, {"P"}, {"N", "P"}, {"always"}}).Draw(t, "targets"),
			Binds:   rapid.SampledFrom([][]law.Actor{{"all"}, {"all"}, {law.Homeowner}, {law.ForHire}, {law.Golf, law.Homeowner}}).Draw(t, "binds"),
		}
		rarely := func(name string) bool { return oneIn(t, 12, name) }
		if rarely("exempts a class") {
			r.ExemptProducts, r.ExemptSites = []string{"natural_organic"}, []string{"farm"}
		}
		if rarely("one class only") {
			r.OnlyProducts = []string{"synthetic"}
		}
		if rarely("one form only") {
			r.OnlyForms = []string{"granular"}
		}
		if rarely("dated") {
			r.EffectiveFrom = near(t, monday, 300, 30, "effective from")
			r.EffectiveTo = r.EffectiveFrom.AddDays(rapid.IntRange(0, 400).Draw(t, "in effect"))
		}
		half, hundred := 0.5, 50.0
		switch r.Effect {
		case "ban":
			r.Topic = rapid.SampledFrom([]string{"window", "window", "window", "window", "window", "weather", "buffer", "phosphorus"}).Draw(t, "topic")
			switch r.Topic {
			case "window":
				r.When = rapid.SliceOfN(anySpan(monday), 1, 2).Draw(t, "when")
				if r.When[0].Kind == "annual" && rarely("overridden") {
					from := near(t, monday, 60, 60, "override")
					r.Overrides = []law.Override{{Season: from.Year(), From: from, To: from.AddDays(40), Bounds: "[]", Citation: "order"}}
				}
			case "weather":
				inches := rapid.Float64Range(0.5, 3).Draw(t, "rain")
				r.RainIn, r.RainHours, r.RainCompare, r.RainBasis = &inches, 24, ">=", "forecast"
			case "buffer":
				r.BufferFt = &hundred
			case "phosphorus":
				r.Targets, r.Unless, r.SoilTestMaxAgeMonths = []string{"P"}, []string{"soil_test_p"}, 36
			}
		case "cap":
			r.Topic, r.PerAppTotalNLb1000 = "rate", &half
		case "require", "advise":
			r.Topic, r.Duty = "surface", "sweep_back_now"
		}
		return r
	})
}

// anyRecord draws a law of one body, around a week, as known on the issue date.
func anyRecord(id string, monday, asOf civil.Date) *rapid.Generator[*law.Record] {
	return rapid.Custom(func(t *rapid.T) *law.Record {
		body := rapid.SampledFrom(bodies).Draw(t, "body")
		r := &law.Record{
			Header: law.Header{ID: id, Jurisdiction: body.ID, Title: id, Citation: id,
				AppliesIn:     rapid.SampledFrom([]string{"all", "all", "all", "unincorporated"}).Draw(t, "applies in"),
				EffectiveFrom: near(t, monday.AddDays(-500), 1000, 520, "effective from"),
				Verification:  rapid.SampledFrom([]law.Verification{"verified", "verified", "verified", "verified", "verified", "verified", "secondary", "secondary", "unverified"}).Draw(t, "verification"),
				CheckedOn:     asOf.AddDays(-rapid.IntRange(0, 380).Draw(t, "checked days ago")),
				ReviewMonths:  12}, JurisdictionName: body.Name, Level: body.Level, Parent: body.Parent,
			Status: rapid.SampledFrom([]law.Status{"in_force", "in_force", "in_force", "in_force", "stayed", "proposed"}).Draw(t, "status"),
		}
		if oneIn(t, 8, "ends") {
			r.EffectiveTo = r.EffectiveFrom.AddDays(rapid.IntRange(0, 1800).Draw(t, "in force"))
			r.LapseConfirmed = rapid.Bool().Draw(t, "lapse confirmed")
		}
		order := near(t, monday, 120, 30, "order")
		r.Declarations = []law.Declaration{{Name: "order", From: order, To: order.AddDays(30)}}
		if oneIn(t, 4, "another order") {
			r.Declarations = append(r.Declarations, law.Declaration{Name: "order", From: order.AddDays(60), AssumeUntil: order.AddDays(90)})
		}
		for i := range rapid.IntRange(1, 3).Draw(t, "provisions") {
			r.Rules = append(r.Rules, anyProvision(fmt.Sprintf("%s-%d", id, i), monday).Draw(t, "provision"))
		}
		return r
	})
}

// anyRules draws a file of rules on any topic with any use, which names no gate.
// One rule about feeding is always there.
func anyRules() *rapid.Generator[string] {
	conditions := []string{
		"", // always
		`growth_state = ["dormant", "flush", "growing", "greening up", "recovering", "resting", "slowing"]`,
		`growth_index = { at_least = 0.1 }`,
		`date = { between = ["01-01", "12-31"] }`,
		`date = { between = ["11-01", "04-30"] }`,
		`mean_temperature = { at_least = "0 °F" }`,
	}
	return rapid.Custom(func(t *rapid.T) string {
		var b strings.Builder
		for i := range rapid.IntRange(1, 6).Draw(t, "rules") {
			topic := rapid.SampledFrom(advice.Topics()).Draw(t, "topic")
			verdict := rapid.SampledFrom([]advice.Verdict{advice.Do, advice.Do, advice.Do, advice.Wait, advice.Skip, advice.Look}).Draw(t, "verdict")
			uses := rapid.SliceOfNDistinct(rapid.SampledFrom(season.Uses()), 0, 3, rapid.ID).Draw(t, "uses")
			if i == 0 {
				topic = advice.Feed
				uses = append(uses, rapid.SampledFrom([]string{advice.Nitrogen, advice.Nitrogen, advice.Phosphorus, advice.Iron}).Draw(t, "feeds"))
			}
			if rapid.Bool().Draw(t, "of nitrogen") || topic == advice.Feed && verdict == advice.Do {
				uses = append(uses, advice.Nitrogen)
			}
			// What uses a pesticide must name its pest; the law says nothing of those.
			if verdict == advice.Do {
				uses = slices.DeleteFunc(uses, func(u string) bool {
					return u == advice.Fungicide || u == advice.Herbicide || u == advice.Insecticide
				})
			}
			slices.Sort(uses)
			uses = slices.Compact(uses)
			var quoted []string
			for _, u := range uses {
				quoted = append(quoted, fmt.Sprintf("%q", u))
			}
			fmt.Fprintf(&b, "[[rule]]\nid = \"rule-%d\"\ntopic = %q\nverdict = %q\nweight = %d\nuses = [%s]\n[rule.when]\n%s\n[rule.text]\nsay = \"say {grass}\"\nsource = \"common practice\"\n",
				i, topic, verdict, rapid.IntRange(0, 100).Draw(t, "weight"), strings.Join(quoted, ", "), rapid.SampledFrom(conditions).Draw(t, "when"))
		}
		return b.String()
	})
}

// anyCase draws a zone's week. Looked says that somebody has looked up every body
// lately, so that silence is permission everywhere.
func anyCase(looked bool) *rapid.Generator[lawfulCase] {
	return rapid.Custom(func(t *rapid.T) lawfulCase {
		c := lawfulCase{week: civil.MustDate(2026, 1, 5).AddDays(7 * rapid.IntRange(0, 103).Draw(t, "week")).Week()}
		asOf := workspace.Site{IssueWeekday: time.Sunday}.IssueDate(c.week)
		for i := range rapid.SampledFrom([]int{2, 3, 1, 3, 4, 4, 1, 2, 0}).Draw(t, "laws") {
			r := anyRecord(fmt.Sprintf("law-%d", i), c.week.Monday(), asOf).Draw(t, "law")
			if i == 0 && oneIn(t, 8, "displaces") {
				r.PreemptTopics = []string{"window"}
			}
			c.records = append(c.records, r)
		}
		for _, line := range bodies {
			line.Coverage, line.CheckedOn = "none_found", asOf.AddDays(-20)
			if !looked {
				switch rapid.IntRange(0, 30).Draw(t, "coverage of "+line.ID) {
				case 30:
					line.Coverage, line.CheckedOn = "not_checked", 0
				case 29:
					line.CheckedOn = asOf.AddDays(-400)
				}
			}
			c.lines = append(c.lines, line)
		}
		if !oneIn(t, 20, "nowhere") {
			c.places = rapid.SliceOfNDistinct(rapid.SampledFrom(chains), 1, 3, func(p law.Place) string { return p.Name }).Draw(t, "places")
		}
		c.rules = anyRules().Draw(t, "rules")
		if !oneIn(t, 10, "no forecast") {
			c.rainMM = make([]float64, 9)
			if oneIn(t, 5, "rains") {
				c.rainMM[rapid.IntRange(0, 8).Draw(t, "rainy day")] = rapid.Float64Range(10, 70).Draw(t, "rain")
			}
		}
		return c
	})
}

// lettersOf are the letters under which the law speaks of what a draft uses. It is
// written out here apart from the program's own list.
func lettersOf(uses []string) []string {
	var out []string
	for _, u := range uses {
		switch u {
		case "nitrogen":
			out = append(out, "N")
		case "phosphorus":
			out = append(out, "P")
		case "potassium", "iron":
			out = append(out, "")
		}
	}
	return out
}

// bannedPlainly finds a ban that beyond doubt closes a day of a week at a place of a
// zone for a homeowner, by comparing months and days and nothing else. It knows no
// exceptions, and so leaves out much that is closed too.
func bannedPlainly(c lawfulCase, letter string) (string, bool) {
	if slices.ContainsFunc(c.records, func(r *law.Record) bool { return len(r.PreemptTopics) > 0 }) {
		return "", false
	}
	monthDay := func(m, d int) int { return 100*m + d }
	for _, p := range c.places {
		for _, rec := range c.records {
			if !slices.Contains(p.Chain, rec.Jurisdiction) || rec.Status != "in_force" || rec.AppliesIn == "unincorporated" && slices.Contains(p.Chain, "town") {
				continue
			}
			for _, r := range rec.Rules {
				if r.Effect != "ban" || r.Topic != "window" || r.OnlyForms != nil || r.OnlyProducts != nil || r.Overrides != nil || !r.EffectiveFrom.IsZero() ||
					!slices.Contains(r.Targets, "any") && !slices.Contains(r.Targets, letter) || !slices.Contains(r.Binds, "all") && !slices.Contains(r.Binds, "homeowner") {
					continue
				}
				for _, w := range r.When {
					for d := c.week.Monday(); d <= c.week.Sunday(); d++ {
						if d < rec.EffectiveFrom || !rec.EffectiveTo.IsZero() && d > rec.EffectiveTo {
							continue
						}
						var from, to, at int
						switch w.Kind {
						case "annual":
							fm, fd, tm, td := 0, 0, 0, 0
							_, err := fmt.Sscanf(w.FromAnchor.String()+" "+w.ToAnchor.String(), "%d-%d %d-%d", &fm, &fd, &tm, &td)
							if err != nil {
								panic(err)
							}
							_, m, day := d.YMD()
							from, to, at = monthDay(fm, fd), monthDay(tm, td), monthDay(m, day)
						case "dates":
							from, to, at = int(w.From), int(w.To), int(d)
						default:
							continue
						}
						afterFirst, beforeLast := at > from, at < to // strictly between the two, whatever the bounds
						if afterFirst && beforeLast || w.Kind == "annual" && to < from && (afterFirst || beforeLast) {
							return fmt.Sprintf("%s at %s on %s", r.ID, p.Name, d), true
						}
					}
				}
			}
		}
	}
	return "", false
}

// doubtedPlainly finds a law in force on a day of the week at a place of a zone that
// nobody has confirmed or read again in time, or a body that nobody has looked up:
// neither clears anything.
func doubtedPlainly(c lawfulCase, asOf civil.Date) (string, bool) {
	for _, p := range c.places {
		for _, body := range p.Chain {
			known := false
			for _, rec := range c.records {
				if rec.Jurisdiction != body {
					continue
				}
				known = true
				if rec.Status != "in_force" || rec.AppliesIn == "unincorporated" && slices.Contains(p.Chain, "town") ||
					rec.EffectiveFrom > c.week.Sunday() || !rec.EffectiveTo.IsZero() && rec.EffectiveTo < c.week.Monday() {
					continue
				}
				if rec.Verification == "unverified" || asOf > rec.CheckedOn.AddDays(366) {
					return rec.ID + " at " + p.Name, true
				}
			}
			line := c.lines[slices.IndexFunc(c.lines, func(j law.Jurisdiction) bool { return j.ID == body })]
			if !known && (line.Coverage != "none_found" || asOf > line.CheckedOn.AddDays(366)) {
				return body + " at " + p.Name, true
			}
		}
	}
	return "", false
}

// doing lists every draft of a reading that tells a reader to do something.
func doing(r *advice.Reading) []advice.Draft {
	var out []advice.Draft
	for _, a := range r.Answers {
		for _, d := range append([]advice.Draft{a.Lead}, a.Support...) {
			if d.Verdict == advice.Do || a.Verdict == advice.Do {
				out = append(out, d)
			}
		}
	}
	return out
}

// casesPerCheck is how many zones' weeks each check of a property draws.
const casesPerCheck = 5

// No advice of any reading, on any topic, says to do what a law closes, or leaves
// uncleared, on any day of the week at any place of the zone.
func TestPropertyNoReadingSaysToDoWhatTheLawCloses(t *testing.T) {
	d := newDesk(t)
	rapid.Check(t, func(t *rapid.T) {
		for range casesPerCheck {
			c := anyCase(false).Draw(t, "case")
			r, book := d.read(t, c)
			for _, draft := range doing(r) {
				for _, letter := range lettersOf(draft.Uses) {
					if why := forbidden(c, book, letter, d.ws.Site.IssueDate(c.week)); why != "" {
						t.Fatalf("%s: %s says to do it, %q is %s", draft.Topic, draft.Rule.ID, letter, why)
					}
				}
			}
		}
	})
}

// forbidden says what keeps a homeowner from spreading a nutrient in a zone's week;
// "" if nothing does.
func forbidden(c lawfulCase, book *law.Book, letter string, asOf civil.Date) string {
	if len(c.places) == 0 {
		return "of no place"
	}
	if why, banned := bannedPlainly(c, letter); banned {
		return "banned by " + why
	}
	if why, doubted := doubtedPlainly(c, asOf); doubted {
		return "not cleared by " + why
	}
	for _, p := range c.places {
		if spans := book.ClosedSpans(p, law.Homeowner, letter, c.week.Monday(), c.week.Sunday(), asOf); len(spans) > 0 {
			return fmt.Sprintf("closed at %s from %s", p.Name, spans[0].First)
		}
		q := law.Question{Place: p, Actor: law.Homeowner, AsOf: asOf, Product: law.ProductOf(letter)}
		for q.Date = c.week.Monday(); q.Date <= c.week.Sunday(); q.Date++ {
			if v := book.Ask(q).Verdict; v >= law.NotCleared {
				return fmt.Sprintf("%v at %s on %s", v, p.Name, q.Date)
			}
		}
	}
	return ""
}

// A law more never lets a reading say to feed that did not say so before, save one
// that displaces others: those are left out.
func TestPropertyALawMoreNeverMakesTheAnswerWeaker(t *testing.T) {
	d := newDesk(t)
	rapid.Check(t, func(t *rapid.T) {
		for range casesPerCheck {
			c := anyCase(true).Draw(t, "case")
			before, _ := d.read(t, c)
			more := c
			more.records = append(slices.Clone(c.records), anyRecord("added", c.week.Monday(), d.ws.Site.IssueDate(c.week)).Draw(t, "added"))
			after, _ := d.read(t, more)
			was, is := verdictOn(before, advice.Feed), verdictOn(after, advice.Feed)
			if is == advice.Do && was != advice.Do || was == advice.Closed && is != advice.Closed {
				t.Fatalf("%q became %q", was, is)
			}
		}
	})
}

func verdictOn(r *advice.Reading, topic advice.Topic) advice.Verdict {
	for _, a := range r.Answers {
		if a.Topic == topic {
			return a.Verdict
		}
	}
	return ""
}

// The draws of the properties above are about something: of readings that would
// have the reader do something with nitrogen if no law spoke, a fair share still do,
// and the law closes a fair share and holds another.
func TestLawfulReadingsSayToFeedOftenEnough(t *testing.T) {
	d := newDesk(t)
	const draws = 300
	fed, closed, held, plainly, doubted, turned := 0, 0, 0, 0, 0, 0
	nitrogen := func(r *advice.Reading) bool {
		return slices.ContainsFunc(doing(r), func(d advice.Draft) bool { return slices.Contains(d.Uses, advice.Nitrogen) })
	}
	for seed := range draws {
		c := anyCase(false).Example(seed)
		r, _ := d.read(t, c)
		lawless := c
		lawless.records, lawless.lines, lawless.places = nil, slices.Clone(c.lines), chains[:1]
		lawless.lines[0].Coverage, lawless.lines[0].CheckedOn = "none_found", d.ws.Site.IssueDate(c.week)
		free, _ := d.read(t, lawless)
		if !nitrogen(free) {
			continue
		}
		require.True(t, free.Growth.RainFed.Enough)
		if nitrogen(r) {
			fed++
			continue
		}
		turned++
		if _, banned := bannedPlainly(c, "N"); banned {
			plainly++
		}
		if _, doubt := doubtedPlainly(c, d.ws.Site.IssueDate(c.week)); doubt {
			doubted++
		}
		for _, a := range r.Answers {
			switch {
			case a.Verdict == advice.Closed:
				closed++
			case a.Lead.Gate == "law":
				held++
			default:
				continue
			}
			break
		}
	}
	t.Logf("of %d readings %d say to do something with nitrogen, %d are kept from it: %d closed, %d held; %d are plainly banned, %d plainly in doubt", draws, fed, turned, closed, held, plainly, doubted)
	assert.Greater(t, fed, draws/5)
	assert.Greater(t, closed, draws/10)
	assert.Greater(t, plainly, draws/15)
	assert.Greater(t, held, draws/10)
	assert.Greater(t, doubted, draws/15)
}
