package publish

import (
	"fmt"
	"io/fs"
	"math"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/issue"
	"ligule/internal/law"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
	"ligule/templates"
)

// The region of these tests is invented, and so are its law and its weather.

// world is a workspace with two issues, made by hand.
type world struct {
	ws     *workspace.Workspace
	issues []*issue.Issue
}

// hostile is what an author's text must never be able to do to a page.
const hostile = `<script>alert("x")</script> & 'q' "Q"`

func (w world) render(t testing.TB) *Site {
	t.Helper()
	site, err := Render(w.ws, w.issues, files())
	require.NoError(t, err)
	return site
}

// files are the templates that come with the program.
func files() fs.FS { return templates.FS }

// phrases makes a phrase book that has what pages need: each phrase names
// itself and its slots.
func phrases(t testing.TB, words map[string]string) *advice.Phrases {
	t.Helper()
	var b strings.Builder
	seen := map[string]bool{}
	for _, n := range append(advice.Needs(), Needs()...) {
		if seen[n.ID] {
			continue
		}
		seen[n.ID] = true
		text, ok := words[n.ID]
		if !ok {
			text = strings.NewReplacer(".", " ", "_", " ", "-", " ").Replace(n.ID)
			for _, s := range n.Slots {
				text += " {" + s + "}"
			}
		}
		parts := strings.Split(n.ID, ".")
		for i := range parts {
			parts[i] = fmt.Sprintf("%q", parts[i])
		}
		fmt.Fprintf(&b, "%s = %q\n", strings.Join(parts, "."), text)
	}
	var list diag.List
	root, ok := diag.ReadTOML("data/phrases.toml", []byte(b.String()), &list)
	require.True(t, ok, list.Error())
	p := advice.ReadPhrases(root)
	require.NoError(t, list.Err())
	return p
}

// catalogue describes every indicator by its name.
func catalogue(t testing.TB) *advice.Catalogue {
	t.Helper()
	var none diag.List
	empty, ok := diag.ReadTOML("data/indicators.toml", nil, &none)
	require.True(t, ok)
	var b strings.Builder
	for _, name := range advice.ReadCatalogue(empty).Names() {
		title := strings.ReplaceAll(name, "_", " ")
		fmt.Fprintf(&b, "[%s]\ntitle = %q\nmeaning = \"What %s says.\"\nmethod = \"How it is found.\"\nsource = \"invented-2001\"\nstanding = \"verified\"\n", name, title, title)
	}
	var list diag.List
	root, ok := diag.ReadTOML("data/indicators.toml", []byte(b.String()), &list)
	require.True(t, ok, list.Error())
	c := advice.ReadCatalogue(root)
	require.NoError(t, list.Err())
	return c
}

func profile(id, name, botanical string, kind turf.Kind) *turf.Profile {
	return &turf.Profile{
		ID: id, Name: name, Botanical: botanical, Kind: kind, OptimumC: 31, SpreadC: 7, LightFullMol: 22, PeakHeightMMD: 8,
		SoilDormantC: 10, SoilGreenUpC: math.NaN(), MowLowMM: 25.4, MowUsualMM: 38.1, MowHighMM: 63.5,
		NLowGM2: 9.8, NMediumGM2: 14.6, NHighGM2: 19.5, NSingleGM2: 4.9, Kc: 0.8, KcDormant: 0.3, RootDepthMM: 203.2, Depletion: 0.5,
		Cites: []turf.Cite{
			{Section: "growth", Source: "invented-2001", Standing: "verified", Note: "Table 2"},
			{Section: "mowing", Source: "common practice", Standing: "practice"},
		},
	}
}

func date(t testing.TB, s string) civil.Date {
	t.Helper()
	d, err := civil.ParseDate(s)
	require.NoError(t, err)
	return d
}

func week(t testing.TB, s string) civil.Week {
	t.Helper()
	w, err := civil.ParseWeek(s)
	require.NoError(t, err)
	return w
}

func number(x float64) *float64 { return &x }

// ordinance is an invented county law with a closed season.
func ordinance(t testing.TB) *law.Record {
	return &law.Record{
		Schema: 1, ID: "shore-winter", Fictional: true, Jurisdiction: "shore-county", JurisdictionName: "Shore County", Level: "county",
		Parent: "ossamere", AppliesIn: "all", TZ: "America/New_York", Title: "Winter Fertilizer Ordinance", Citation: "Shore Co. Code ch. 7",
		SourceURL: "https://law.example.invalid/shore/7", SourceKind: "official_code", AdoptedOn: date(t, "2011-05-03"),
		EffectiveFrom: date(t, "2012-01-01"), Status: "in_force", Verification: "verified", CheckedOn: date(t, "2026-02-17"), CheckedBy: "editor",
		ReviewMonths: 12, RelationDown: "floor", Enforcement: "County code office.", Penalty: "A warning.",
		Definitions: law.Definitions{NotFertilizer: []string{"lime", "compost"}},
		Rules: []law.Rule{
			{ID: "winter", Citation: "7-2", AsWritten: "not after November 15", Topic: "window", Effect: "ban", Targets: []string{"N"}, Binds: []law.Actor{"all"},
				When: []law.When{annual(t, "11-15", "02-last", "(]")}},
			{ID: "rate", Citation: "7-3", Topic: "rate", Effect: "cap", Targets: []string{"N"}, Binds: []law.Actor{law.Homeowner}, PerAppTotalNLb1000: number(0.75),
				AnnualNByGrassLb1000: map[string]float64{"zoysia": 2, "default": 3}, MinSlowPct: number(50), ExemptSites: []string{"farm"}},
			{ID: "buffer", Citation: "7-4", Topic: "buffer", Effect: "ban", Targets: []string{"N", "P"}, Binds: []law.Actor{"all"}, BufferFt: number(10),
				ReducedFt: number(3), ReducedWith: []string{"drop_spreader"}, MeasuredFrom: "top_of_bank"},
			{ID: "rain", Citation: "7-5", Topic: "weather", Effect: "ban", Targets: []string{"N"}, Binds: []law.Actor{"all"}, RainIn: number(2), RainHours: 24,
				RainCompare: ">=", RainBasis: "forecast", Ground: []string{"frozen", "saturated"}, Alerts: []string{"Flood Watch"}},
		},
	}
}

func annual(t testing.TB, from, to, bounds string) law.When {
	t.Helper()
	first, err := law.ParseAnchor(from)
	require.NoError(t, err)
	last, err := law.ParseAnchor(to)
	require.NoError(t, err)
	return law.When{Kind: "annual", FromAnchor: first, ToAnchor: last, Bounds: bounds, BoundsBasis: "text"}
}

// waterRule is an invented county watering law by house numbers.
func waterRule(t testing.TB, name func(string) string) *law.WaterRecord {
	depthIn, minutes, waterInIn := 0.75, 60.0, 0.25
	return &law.WaterRecord{
		Schema: 1, ID: "shore-water", Fictional: true, Jurisdiction: "shore-county", AppliesIn: "all", TZ: "America/New_York",
		Title: name("Sprinkler Rule"), Citation: name("Shore Co. Code ch. 12"), SourceURL: "https://law.example.invalid/shore/12",
		EffectiveFrom: date(t, "2016-03-01"), Verification: "verified", CheckedOn: date(t, "2026-01-08"), ReviewMonths: 12,
		Force: "mandatory", SourceWater: []string{"public"}, NoNumber: "odd", LetterSuffix: "ignore",
		ClosedHours: []law.Hours{{From: 10 * 60, To: 16*60 + 30}}, MaxDepthIn: &depthIn, MaxMinutesPerStation: &minutes,
		Schedules: []law.WaterSchedule{{ID: "all-year", Days: []law.WaterDays{
			{Group: "odd", Days: []time.Weekday{time.Wednesday, time.Saturday}}, {Group: "even", Days: []time.Weekday{time.Thursday, time.Sunday}},
		}}},
		Exempt: []law.WaterExemption{{What: "drip"}, {What: "water_in", MaxIn: &waterInIn, WithinHours: 24}, {What: "new_turf", AnyDay: &law.DayRange{From: 0, To: 29}}},
	}
}

// placeWeek is a week with one verdict every day.
func placeWeek(place law.Place, state string, verdict law.Verdict, hits ...law.Hit) law.PlaceWeek {
	w := law.PlaceWeek{Place: place, State: state}
	for i := range w.Days {
		w.Days[i] = law.Answer{Verdict: verdict, Hits: hits}
	}
	return w
}

// newWorld makes the fixture. Every name that an author types is passed
// through name, so that a test can make all of them hostile.
func newWorld(t testing.TB, name func(string) string) world {
	t.Helper()
	if name == nil {
		name = func(s string) string { return s }
	}
	record := ordinance(t)
	record.Title, record.Citation, record.JurisdictionName = name(record.Title), name(record.Citation), name(record.JurisdictionName)
	ws := &workspace.Workspace{
		Site: workspace.Site{
			Title: name("The Test Almanac"), Publisher: name("Test Advisory"), About: name("What lawns need each week."),
			BaseURL: "https://lawns.example.org/almanac", Language: "en-US", TimeZone: "America/New_York", Units: quantity.US,
			IssueWeekday: time.Sunday, IssueTime: "18:00", FeedDomain: "lawns.example.org", FeedSince: date(t, "2026-01-01"),
			Contact: "editor@lawns.example.org", PostalAddress: name("1 Example Lane, Vellinport *|LIST:ADDRESS|* {{unsubscribe}}"), Demo: true,
		},
		Sources: []workspace.Source{
			{ID: "invented-2001", Authors: name("Author and Other"), Year: "2001", Title: name("An invented paper"), Where: "Journal of Tests 1:1", URL: "https://example.org/paper"},
		},
		Phrases: phrases(t, nil), Catalogue: catalogue(t),
		Cautions: []advice.Caution{
			{ID: "label", Short: name("Read and follow the product label."), Medium: name("The label on the product you hold is a legal document."), Uses: []string{"nitrogen", "herbicide", "fungicide"}},
			{ID: "bees", Short: "Not on blooms.", Medium: "Mow blooms off before you treat.", Uses: []string{"insecticide"}},
			{ID: "sweep", Short: "Sweep up spilled granules.", Medium: "Granules on a drive wash to the nearest drain.", Uses: []string{"nitrogen"}},
			{ID: "poison", Short: "Poisoned? Call for help.", Medium: "Have the label at hand.", Always: true},
		},
		Ordinances: []*law.Record{record},
		Places: []law.Jurisdiction{
			{ID: "ossamere", Name: name("State of Ossamere"), Level: "state", Coverage: "none_found", CheckedOn: date(t, "2026-02-10")},
			{ID: "shore-county", Name: record.JurisdictionName, Level: "county", Parent: "ossamere"},
			{ID: "hill-county", Name: "Hill County", Level: "county", Parent: "ossamere", Coverage: "not_checked"},
		},
		Standing: []*workspace.Page{
			{ID: "reading-a-bag", Title: name("Reading a bag"), Summary: name("What the three numbers mean."), Kind: "guide",
				HTML: `<h2 id="numbers">Numbers</h2><p>See <a href="#numbers">above</a> and <a href="/methods/">the methods</a>.</p>`},
			{ID: "about", Title: name("About us"), Summary: name("Who we are."), Kind: "about", HTML: "<p>We are invented.</p>"},
		},
	}
	ws.Pests = pestBook(t, name)
	grasses := []*turf.Profile{
		profile("st-augustine", name("St. Augustinegrass"), "Stenotaphrum secundatum", turf.WarmSeason),
		profile("zoysia", name("Zoysiagrass"), "Zoysia spp.", turf.WarmSeason),
		profile("tall-fescue", name("Tall fescue"), "Lolium arundinaceum", turf.CoolSeason),
	}
	ws.Grasses = grasses
	ws.Watering = []*law.WaterRecord{waterRule(t, name)}
	ws.Law = law.NewBook(ws.Ordinances, ws.Places).WithWatering(ws.Watering)
	shore := &workspace.Zone{ID: "gannet-shore", Name: name("Gannet Shore"), Grasses: grasses[:2], Places: []law.Place{
		{Name: name("Vellinport"), Chain: []string{"ossamere", "shore-county"}}, {Name: "the islands", Chain: []string{"ossamere"}},
	}}
	plateau := &workspace.Zone{ID: "brackmoor", Name: name("Brackmoor Plateau"), Grasses: grasses[2:], Places: []law.Place{
		{Name: "Brackmoor", Chain: []string{"ossamere", "hill-county"}},
	}}
	bottoms := &workspace.Zone{ID: "ellerwade", Name: name("Ellerwade Bottoms"), Grasses: grasses[1:]}
	ws.Zones = []*workspace.Zone{plateau, bottoms, shore}
	w := world{ws: ws}
	for _, id := range []string{"2026-W47", "2026-W48"} {
		wk := week(t, id)
		iss := &issue.Issue{Week: wk, Date: ws.Site.IssueDate(wk), Note: &workspace.Page{
			ID: "note", Title: name("Short dim days, " + id),
			HTML: `<p>Look at the <em>low</em> spots first. <a href="/guides/reading-a-bag/">How to read a bag</a>.</p><h3 id="why">Why</h3><p>Light.</p><h5>Deep</h5><p style="color:red" onclick="x()">Plain.</p>`,
			Text: "Look at the low spots first.\n\nHow to read a bag:\n/guides/reading-a-bag/",
		}}
		iss.Zones = []*issue.Zone{
			plateauZone(t, ws, iss, plateau, name), bottomsZone(iss, bottoms, name), shoreZone(t, ws, iss, shore, record, name),
		}
		w.issues = append(w.issues, iss)
	}
	return w
}

// shoreZone is closed at one of two places, and has a note of its own.
func shoreZone(t testing.TB, ws *workspace.Workspace, iss *issue.Issue, z *workspace.Zone, record *law.Record, name func(string) string) *issue.Zone {
	town, open := z.Places[0], z.Places[1]
	monday := iss.Week.Monday()
	hit := law.Hit{Record: record, Rule: &record.Rules[0], Verdict: law.Closed}
	iz := &issue.Zone{
		Zone: z, ClimateName: "The coast", StationName: name("Gannet Light"),
		Note:    &workspace.Page{ID: z.ID, Title: name("The tide was here"), HTML: "<p>Half of the shore stood under water.</p>", Text: "Half of the shore stood under water."},
		Changed: []advice.Reason{{ID: "changed.state", Text: name("Zoysiagrass went from growing to slowing.")}},
		Law: issue.Law{
			Places: []issue.PlaceLaw{
				{Place: town, Homeowner: placeWeek(town, "closed_all", law.Closed, hit), ForHire: placeWeek(town, "closed_all", law.Closed, hit), Phosphorus: placeWeek(town, "open", law.Open), Records: []*law.Record{record},
					Home: issue.PlaceReasons{Closed: []advice.Reason{{Text: town.Name + ": closed all week by the Winter Fertilizer Ordinance (7-2)."}}, Next: []advice.Reason{{Text: town.Name + ": opens again on March 1, 2027."}}},
					Hire: issue.PlaceReasons{Closed: []advice.Reason{{Text: town.Name + ": closed all week by the Winter Fertilizer Ordinance (7-2)."}}, Next: []advice.Reason{{Text: town.Name + ": opens again on March 1, 2027."}},
						Conditions: []advice.Reason{{Text: "not shown, since all is closed"}}},
					Watering: ws.Law.WaterWeek(town, "public", monday, iss.Date)},
				{Place: open, Watering: ws.Law.WaterWeek(open, "public", monday, iss.Date), Homeowner: placeWeek(open, "conditional", law.Conditional), ForHire: placeWeek(open, "open", law.Open), Phosphorus: placeWeek(open, "open", law.Open),
					Home: issue.PlaceReasons{Conditions: []advice.Reason{{ID: "condition.buffer", Text: "The islands: keep 10 ft from water (7-4)."}}},
					Hire: issue.PlaceReasons{Conditions: []advice.Reason{{Text: "The islands: keep 10 ft from water (7-4)."}, {Text: "The islands: whoever is paid to do it must be certified (7-9)."}}}},
			},
			Varies:     true,
			Closed:     []advice.Reason{{ID: "law.closed_season", Text: name("Vellinport: closed all week by the Winter Fertilizer Ordinance (7-2). We read it on February 17, 2026.")}},
			NextChange: []advice.Reason{{ID: "law.next_opens", Text: "Vellinport: opens again on March 1, 2027."}},
			Flags:      []advice.Reason{{ID: "flag.edge_assumed", Text: "Vellinport: one date is unclear."}},
		},
		Weather: fixtureWeather(iss.Date),
	}
	iz.Weather.HourlyIssued = iss.Date
	for d := iss.Date; d < iss.Date.AddDays(5); d++ {
		iz.Weather.Hours = append(iz.Weather.Hours, sprayDay(d, nil)...)
	}
	for _, p := range z.Grasses {
		iz.Grasses = append(iz.Grasses, &issue.Grass{Profile: p, Reading: fixtureReading(ws, iss, p, name)})
	}
	return iz
}

// plateauZone lies in a county that nobody has looked up.
func plateauZone(t testing.TB, ws *workspace.Workspace, iss *issue.Issue, z *workspace.Zone, name func(string) string) *issue.Zone {
	place := z.Places[0]
	iz := &issue.Zone{
		Zone: z, ClimateName: "The mountains", StationName: "Brackmoor Knob",
		Law: issue.Law{
			Places:  []issue.PlaceLaw{{Place: place, Homeowner: placeWeek(place, "not_cleared", law.NotCleared), ForHire: placeWeek(place, "not_cleared", law.NotCleared), Phosphorus: placeWeek(place, "not_cleared", law.NotCleared)}},
			Unknown: []advice.Reason{{ID: "flag.no_record", Text: name("Brackmoor: we have not looked up the rules of Hill County.")}},
		},
		Weather: fixtureWeather(iss.Date),
	}
	for _, p := range z.Grasses {
		iz.Grasses = append(iz.Grasses, &issue.Grass{Profile: p, Reading: fixtureReading(ws, iss, p, name)})
	}
	return iz
}

// bottomsZone has no weather at all.
func bottomsZone(iss *issue.Issue, z *workspace.Zone, name func(string) string) *issue.Zone {
	iz := &issue.Zone{Zone: z, ClimateName: "The coast", StationName: name("Ellerwade Lock")}
	for _, p := range z.Grasses {
		r := &advice.Reading{Week: iss.Week, IssueDate: iss.Date, Grass: p}
		r.Answers = []advice.Answer{{Topic: advice.Mow, Verdict: advice.NotEnough}}
		iz.Grasses = append(iz.Grasses, &issue.Grass{Profile: p, Reading: r})
	}
	return iz
}

func fixtureWeather(issued civil.Date) *issue.Weather {
	nan := math.NaN()
	w := &issue.Weather{
		LastRecord: issued.AddDays(-1), ForecastIssued: issued, RadiationRung: agromet.RungTemperature, HumidityRung: agromet.RungTmin, WindRung: agromet.RungDefault,
		SoilMethod: weather.SoilModeled, ETBandPct: 15, LightBandPct: 30,
		PastSum:  issue.Sums{Days: 6, MeanC: 9.5, RainMM: 14.2, ETMM: 9.1, LightMol: 15.2, Soil5C: 11.1, Soil10C: 11.9, DaylightH: 10.1},
		AheadSum: issue.Sums{Days: 8, MeanC: 6.5, RainMM: 31, ETMM: nan, LightMol: nan, Soil5C: 9.4, Soil10C: 10.2, DaylightH: 9.9},
	}
	for i := range 7 {
		d := issue.Day{
			Date: issued.AddDays(i - 7), TmaxC: 16 - float64(i), TminC: 5 - float64(i)*1.3, RainMM: float64(i%3) * 7.1,
			Soil5C: 11, Soil10C: 12, DaylightH: 10.1, TempBasis: weather.Observed, RainBasis: weather.Observed,
		}
		switch i {
		case 3:
			d.TmaxC, d.TminC, d.RainMM, d.Soil10C = nan, nan, nan, nan
			d.TempBasis, d.RainBasis = weather.Missing, weather.Missing
		case 5:
			d.TempBasis = weather.Estimated
		}
		w.Past = append(w.Past, d)
	}
	for i := range 8 {
		w.Ahead = append(w.Ahead, issue.Day{
			Date: issued.AddDays(i), TmaxC: 8 + float64(i), TminC: float64(i) - 4, RainMM: float64((i+1)%4) * 10.3,
			Soil5C: 9, Soil10C: 10, DaylightH: 9.9, TempBasis: weather.ForecastDay, RainBasis: weather.ForecastDay,
		})
	}
	return w
}

// fixtureReading answers every topic, with every verdict, and shows all that a
// why can hold.
func fixtureReading(ws *workspace.Workspace, iss *issue.Issue, p *turf.Profile, name func(string) string) *advice.Reading {
	rule := func(id string, topic advice.Topic, v advice.Verdict) *advice.Rule {
		return &advice.Rule{ID: id, Topic: topic, Verdict: v, Weight: 50, Source: "invented-2001", Standing: "verified"}
	}
	growth := turf.Growth{
		Last: iss.Date.AddDays(-1), Days: 6, Enough: true, FT: 0.42, FL: 0.7, FP: 0.9, FW: 1, G: 0.26, G14: 0.4, G21: 0.5,
		State: turf.Slowing, MowDays: 12, MowExactDays: 12.4, Smallest: turf.Temperature,
		Falling: &turf.Slowdown{Cause: turf.Temperature, Sense: "cool", Since: iss.Date.AddDays(-30), From: 0.9, To: 0.42},
	}
	watered := growth
	watered.State, watered.MowDays = turf.Growing, 9
	r := &advice.Reading{Week: iss.Week, IssueDate: iss.Date, Grass: p, Growth: turf.Reading{RainFed: growth, Watered: &watered, Ahead: &growth}}
	for _, ind := range ws.Catalogue.All() {
		if ind.Of != "" {
			continue // told of one pest
		}
		v := advice.Value{Indicator: ind, Num: 12.3, Basis: advice.Observed}
		switch ind.Kind {
		case advice.Word:
			v.Word = ind.Words[0]
		case advice.Day:
			v.Date = iss.Date
		}
		switch ind.Name {
		case "days_between_mows":
			v.Num = math.Inf(1)
		case "rain_next_7_days":
			v.Num, v.Basis = math.NaN(), advice.Forecast
		}
		r.Values = append(r.Values, v)
	}
	clause := advice.Reason{ID: "clause.yes", Text: name("Soil temperature at 4 inches: 54 °F (12 °C) (asked: at least 50 °F (10 °C))")}
	missing := advice.Reason{ID: "clause.unknown", Text: "Humidity: not known (asked: at most 80%)"}
	mow := advice.Draft{Rule: rule("mow-slowly", advice.Mow, advice.Do), Topic: advice.Mow, Verdict: advice.Do, Weight: 40,
		Say: name("Mow when a third of the blade can come off."), Why: "It grows little.", Reasons: []advice.Reason{clause}}
	feed := advice.Draft{Rule: rule("feed-lightly", advice.Feed, advice.Do), Topic: advice.Feed, Verdict: advice.Do, Weight: 60, Uses: []string{"nitrogen"},
		Say: name("A light feeding of 0.5 lb/1000 ft2 is still useful."), Why: "It has slowed, not stopped.", More: "reading-a-bag", Reasons: []advice.Reason{clause}}
	closed := feed
	closed.Verdict, closed.Gate, closed.Say, closed.Why = advice.Closed, "law", "No nitrogen on lawns here this week.", ""
	closed.Reasons = []advice.Reason{{ID: "law.closed_season", Text: name("Vellinport: closed all week.")}}
	r.Answers = []advice.Answer{
		{Topic: advice.Mow, Verdict: advice.Do, Lead: mow, Support: []advice.Draft{mow}},
		{Topic: advice.Feed, Verdict: advice.Closed, Lead: closed, Cautions: []string{"label", "sweep"},
			Conditions: []advice.Reason{{ID: "condition.buffer", Text: name("Keep 10 ft from water.")}},
			Dropped:    []advice.Dropped{{Draft: feed, Reason: advice.Reason{ID: "dropped.gate", Text: name("Local rule.")}}}},
		{Topic: advice.Water, Verdict: advice.Wait, Lead: advice.Draft{Rule: rule("rain-comes", advice.Water, advice.Wait), Say: "Rain is coming."}},
		{Topic: advice.Disease, Verdict: advice.Look, Lead: advice.Draft{Rule: rule("look-at-wet-spots", advice.Disease, advice.Look), Say: "Look where water stands."},
			Lacking: []advice.RuleTrace{{Rule: rule("humid-nights", advice.Disease, advice.Look), Outcome: advice.Unknown, Clauses: []advice.Reason{missing}, Held: []advice.Truth{advice.Unknown}}}},
		{Topic: advice.Weed, Verdict: advice.Skip, Lead: advice.Draft{Rule: rule("too-cold", advice.Weed, advice.Skip), Say: "It would do nothing."}},
		{Topic: advice.Insect, Verdict: advice.NotEnough},
	}
	r.Pests = fixturePests(ws, p, iss.Date)
	r.Traces = []advice.RuleTrace{
		{Rule: rule("mow-slowly", advice.Mow, advice.Do), Outcome: advice.Yes, Clauses: []advice.Reason{clause}, Held: []advice.Truth{advice.Yes}},
		{Rule: rule("humid-nights", advice.Disease, advice.Look), Outcome: advice.Unknown, Clauses: []advice.Reason{missing}, Held: []advice.Truth{advice.Unknown}},
	}
	return r
}

// closedWorld is the fixture with invented laws of the demonstration over one
// zone, whose second place has a name that calendars must escape and fold.
func closedWorld(t testing.TB) world {
	t.Helper()
	w := newWorld(t, nil)
	var list diag.List
	w.ws.Ordinances, w.ws.Watering = nil, nil
	for _, name := range []string{"ossamere-lawn-nutrients", "wendrake-rainy-season", "thornelby-ponds", "ivelsay-reservoir"} {
		text, err := os.ReadFile("../../data/ordinances/" + name + ".toml")
		require.NoError(t, err)
		root, ok := diag.ReadTOML(name, text, &list)
		require.True(t, ok)
		w.ws.Ordinances = append(w.ws.Ordinances, law.ReadRecord(root))
	}
	require.NoError(t, list.Err())
	w.ws.Places = []law.Jurisdiction{
		{ID: "ossamere", Name: "State of Ossamere", Level: "state"},
		{ID: "wendrake-county", Name: "Wendrake County", Level: "county", Parent: "ossamere"},
		{ID: "corvane-county", Name: "Corvane County", Level: "county", Parent: "ossamere", Coverage: "none_found", CheckedOn: date(t, "2026-02-11")},
		{ID: "thornelby", Name: "Town of Thornelby", Level: "municipal", Parent: "corvane-county"},
		{ID: "ivelsay-district", Name: "Ivelsay District", Level: "district", Parent: "ossamere"},
	}
	w.ws.Law = law.NewBook(w.ws.Ordinances, w.ws.Places)
	for _, iss := range w.issues {
		for _, z := range iss.Zones {
			if z.ID == "gannet-shore" {
				z.Zone.Places = []law.Place{
					{Name: "the shore", Chain: []string{"ossamere", "wendrake-county"}},
					{Name: "St. Anne; north, and the éclair flats beyond the river that nobody ever named well", Chain: []string{"ossamere", "corvane-county", "thornelby"}},
				}
			}
		}
	}
	return w
}

// issueOn is the fixture's first issue as of another Sunday.
func (w world) issueOn(day civil.Date) *issue.Issue {
	iss := *w.issues[0]
	iss.Week, iss.Date = day.AddDays(1).Week(), day
	return &iss
}
