package publish

import (
	"fmt"
	"io/fs"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/advice"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/edition"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/reference"
	"ligule/internal/turf"
	"ligule/internal/voice"
	"ligule/internal/watering"
	"ligule/internal/workspace"
	"ligule/templates"
)

// The region of these tests is invented, and so are its law and its weather.

// world is a workspace with two issues, made by hand.
type world struct {
	ws     *workspace.Workspace
	issues []*bulletin.Region
}

// hostile is what an author's text must never be able to do to a page.
const hostile = `<script>alert("x")</script> & 'q' "Q"`

func (w world) render(t testing.TB) *Site {
	t.Helper()
	w.askLaw()
	site, err := Render(w.publication(), files())
	require.NoError(t, err)
	return site
}

// page prints one page of the world.
func (w world) page(t testing.TB, path string) parsed {
	t.Helper()
	w.askLaw()
	e := w.press(t)
	for _, j := range e.jobs() {
		if j.address != "" && filePath(j.address) == path {
			files, err := j.print(e)
			require.NoError(t, err)
			return parsePage(t, files[0])
		}
	}
	require.Fail(t, "no page", path)
	return parsed{}
}

// plain is the site of the world as it is, printed once for all tests. None may
// change it.
func plain(t testing.TB) *Site {
	t.Helper()
	once.Do(func() { plainSite = newWorld(t, nil).render(t) })
	require.NotNil(t, plainSite)
	return plainSite
}

var (
	once      sync.Once
	plainSite *Site
)

// publication is what a press prints the world from.
func (w world) publication() *Publication {
	v := w.ws.Voice()
	p := &Publication{Site: w.ws.Site, Articles: w.ws.Standing, Voice: v}
	for _, iss := range w.issues {
		iss.Jurisdictions = bulletin.Jurisdictions(w.ws, iss)
		p.Weeks = append(p.Weeks, edition.New(iss, v))
	}
	if n := len(w.issues); n > 0 {
		p.Reference = reference.Of(w.ws, w.issues[n-1].Date)
		edition.Voice(p.Reference, v)
	}
	return p
}

// press is a press of the world.
func (w world) press(t testing.TB) *press {
	t.Helper()
	e, err := newPress(w.publication(), files())
	require.NoError(t, err)
	return e
}

// place is a zone as its author described it.
func (w world) place(id string) *workspace.Zone {
	z, ok := w.ws.Zone(id)
	if !ok {
		panic("the world has no zone " + id)
	}
	return z
}

// askLaw tells of each issue what its laws close and what is announced of them.
func (w world) askLaw() {
	for _, iss := range w.issues {
		iss.Notices = bulletin.LawNotices(w.ws, iss.Date, iss.Zones)
		for _, z := range iss.Zones {
			z.Closed = bulletin.NewClosings(w.ws.Law, w.place(z.ID).Places, z.Law, iss.Date).Calendar(w.ws.Site.Demo)
			z.CalendarName = bulletin.CalendarName(w.ws, z.Name)
		}
	}
}

// files are the templates that come with the program.
func files() fs.FS { return templates.FS }

// declared is the phrase book that the program was made with, read once.
func declared(t testing.TB) *voice.Book {
	t.Helper()
	if declaredBook == nil {
		declaredBook = readBook(t, string(data.Phrases))
	}
	return declaredBook
}

var declaredBook, namingBook *voice.Book

func readBook(t testing.TB, text string) *voice.Book {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML("data/phrases.toml", []byte(text), &list)
	require.True(t, ok, list.Error())
	b := voice.ReadBook(root)
	require.NoError(t, list.Err())
	return b
}

// grammar are the tables of the book that hold no sentences: the tests use them
// as they are.
var grammar = []string{"month", "month_short", "month_initial", "weekday", "weekday_short", "date", "span", "unit", "unit_one", "list", "basis", "place"}

// phrases makes a phrase book that has what pages need: each phrase names
// itself and its slots.
func phrases(t testing.TB, words map[string]string) *voice.Book {
	t.Helper()
	if words == nil && namingBook != nil {
		return namingBook
	}
	real := declared(t)
	v := voice.Voice{Book: real}
	var b strings.Builder
	b.WriteString("language = \"en-US\"\n")
	for _, id := range real.IDs() {
		table, rest, _ := strings.Cut(id, ".")
		text, ok := words[id]
		switch {
		case ok:
		case slices.Contains(grammar, table):
			m := message.New(id)
			for _, s := range real.SlotsOf(id) {
				m = m.Name(s, "{"+s+"}")
			}
			text = v.Say(m)
		default:
			text = strings.NewReplacer(".", " ", "_", " ", "-", " ").Replace(id)
			for _, s := range real.SlotsOf(id) {
				text += " {" + s + "}"
			}
		}
		parts := append([]string{table}, strings.Split(rest, ".")...)
		if table == "unit" || table == "unit_one" {
			parts = []string{table, rest}
		}
		for i := range parts {
			parts[i] = fmt.Sprintf("%q", parts[i])
		}
		fmt.Fprintf(&b, "%s = %q\n", strings.Join(parts, "."), text)
	}
	book := readBook(t, b.String())
	if words == nil {
		namingBook = book
	}
	return book
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
		ID: id, Name: name, Soft: name, Botanical: botanical, Kind: kind, OptimumC: 31, SpreadC: 7, LightFullMol: 22, PeakHeightMMD: 8,
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
		Header: law.Header{ID: "shore-winter", Fictional: true, Jurisdiction: "shore-county", AppliesIn: "all", TZ: "America/New_York", Title: "Winter Fertilizer Ordinance", Citation: "Shore Co. Code ch. 7",
			SourceURL:     "https://law.example.invalid/shore/7",
			EffectiveFrom: date(t, "2012-01-01"), Verification: "verified", CheckedOn: date(t, "2026-02-17"),
			ReviewMonths: 12}, JurisdictionName: "Shore County", Level: "county",
		Parent: "ossamere", SourceKind: "official_code", AdoptedOn: date(t, "2011-05-03"), Status: "in_force", RelationDown: "floor", Enforcement: "County code office.", Penalty: "A warning.",
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
func waterRule(t testing.TB, name func(string) string) *watering.Record {
	depthIn, minutes, waterInIn := 0.75, 60.0, 0.25
	return &watering.Record{
		Header: law.Header{ID: "shore-water", Fictional: true, Jurisdiction: "shore-county", AppliesIn: "all", TZ: "America/New_York",
			Title: name("Sprinkler Rule"), Citation: name("Shore Co. Code ch. 12"), SourceURL: "https://law.example.invalid/shore/12",
			EffectiveFrom: date(t, "2016-03-01"), Verification: "verified", CheckedOn: date(t, "2026-01-08"), ReviewMonths: 12},
		Force: "mandatory", SourceWater: []string{"public"}, NoNumber: "odd", LetterSuffix: "ignore",
		ClosedHours: []watering.Hours{{From: 10 * 60, To: 16*60 + 30}}, MaxDepthIn: &depthIn, MaxMinutesPerStation: &minutes,
		Schedules: []watering.Schedule{{ID: "all-year", Days: []watering.Days{
			{Group: "odd", Days: []time.Weekday{time.Wednesday, time.Saturday}}, {Group: "even", Days: []time.Weekday{time.Thursday, time.Sunday}},
		}}},
		Exempt: []watering.Exemption{{What: "drip"}, {What: "water_in", MaxIn: &waterInIn, WithinHours: 24}, {What: "new_turf", AnyDay: &law.DayRange{From: 0, To: 29}}},
	}
}

// sentences are those in the words given.
func sentences(texts ...string) []*message.Said {
	var all []*message.Said
	for _, t := range texts {
		all = append(all, message.Say(message.Plain(t)))
	}
	return all
}

// state is what the law says of a week.
func state(id string) reference.LawState {
	return reference.LawState{ID: id, Word: message.Say(message.New("law_state." + id))}
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
	ws.Watering = []*watering.Record{waterRule(t, name)}
	ws.Law, ws.WaterLaw = law.NewBook(ws.Ordinances, ws.Places), watering.NewBook(ws.Watering, ws.Places)
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
		iss := &bulletin.Region{Week: wk, Date: ws.Site.IssueDate(wk), Days: message.Say(message.Just(message.Span(wk.Monday(), wk.Sunday()))), Topics: fixtureTopics(), Cautions: fixtureCautions(ws), Note: &bulletin.Note{
			Title: name("Short dim days, " + id),
			HTML:  `<p>Look at the <em>low</em> spots first. <a href="/guides/reading-a-bag/">How to read a bag</a>.</p><h3 id="why">Why</h3><p>Light.</p><h5>Deep</h5><p style="color:red" onclick="x()">Plain.</p>`,
			Text:  "Look at the low spots first.\n\nHow to read a bag:\n/guides/reading-a-bag/",
		}}
		iss.Zones = []*bulletin.Zone{
			plateauZone(t, ws, iss, plateau, name), bottomsZone(ws, iss, bottoms, name), shoreZone(t, ws, iss, shore, record, name),
		}
		for _, z := range iss.Zones {
			addYear(ws, z)
		}
		w.issues = append(w.issues, iss)
	}
	return w
}

// addYear adds the year of a zone of which nothing is on record, and whose
// grasses have no calendar.
func addYear(ws *workspace.Workspace, z *bulletin.Zone) {
	z.Year = &bulletin.Year{ByPrint: message.Say(message.New("year.no_weather"))}
	for _, c := range fixtureCautions(ws) {
		if c.Always {
			z.Year.Cautions = append(z.Year.Cautions, c)
		}
	}
	for _, g := range z.Grasses {
		g.Year = &bulletin.GrassYear{Lacks: message.Say(message.New("year.no_calendar").Name("grass", g.Name).Name("climate", z.ClimateName))}
	}
}

// shoreZone is closed at one of two places, and has a note of its own.
func shoreZone(t testing.TB, ws *workspace.Workspace, iss *bulletin.Region, z *workspace.Zone, record *law.Record, name func(string) string) *bulletin.Zone {
	town, open := z.Places[0], z.Places[1]
	watering := func(p law.Place) reference.Watering {
		return reference.WateringOf(ws, ws.WaterLaw.Week(p, "public", iss.Week.Monday(), iss.Date), iss.Date)
	}
	closed := bulletin.PlaceReasons{Closed: sentences("Closed all week by the Winter Fertilizer Ordinance (7-2)."), Next: sentences("Opens again on March 1, 2027.")}
	closedToHire := closed
	closedToHire.Conditions = sentences("not shown, since all is closed")
	iz := &bulletin.Zone{
		ID: z.ID, Name: z.Name, ClimateName: "The coast", StationName: name("Gannet Light"),
		Note:    &bulletin.Note{Title: name("The tide was here"), HTML: "<p>Half of the shore stood under water.</p>", Text: "Half of the shore stood under water."},
		Changed: []*message.Said{message.Say(message.Plain(name("Zoysiagrass went from growing to slowing.")))},
		Law: bulletin.Law{
			Alarm: true, Shut: true, Part: true, Varies: true,
			Places: []bulletin.PlaceLaw{
				{ID: "place-1", Name: town.Name, Homeowner: state("closed_all"), ForHire: state("closed_all"), Phosphorus: state("open"),
					Records: []reference.Law{reference.LawOf(record, iss.Date)}, Home: closed, Hire: closedToHire, Same: true, Watering: watering(town)},
				{ID: "place-2", Name: open.Name, Homeowner: state("conditional"), ForHire: state("open"), Phosphorus: state("open"), Watering: watering(open),
					Home: bulletin.PlaceReasons{Conditions: sentences("Keep 10 ft from water (7-4).")},
					Hire: bulletin.PlaceReasons{Conditions: sentences("Whoever is paid to do it must be certified (7-9)."), Besides: true}},
			},
			Acting: []reference.Law{reference.LawOf(record, iss.Date)},
			Closed: sentences(name("Vellinport: closed all week by the Winter Fertilizer Ordinance (7-2). We read it on February 17, 2026.")),
			Next:   sentences("Vellinport: opens again on March 1, 2027."),
			Flags:  sentences("Vellinport: one date is unclear."),
		},
		Weather: fixtureWeather(iss.Date),
	}
	iz.Weather.Spray = fixtureSpray(iss.Date)
	addGrasses(ws, iss, z, iz, name)
	iz.First = z.Grasses[0].ID + "-mow"
	return iz
}

// addGrasses adds the grasses of a zone with weather.
func addGrasses(ws *workspace.Workspace, iss *bulletin.Region, z *workspace.Zone, iz *bulletin.Zone, name func(string) string) {
	for _, p := range z.Grasses {
		r := fixtureReading(ws, iss, p, name)
		iz.Grasses = append(iz.Grasses, newGrass(ws, p, r, true))
	}
}

// newGrass makes the whole record of a grass.
func newGrass(ws *workspace.Workspace, p *turf.Profile, r *advice.Reading, weather bool) *bulletin.Grass {
	g := bulletin.NewGrass(ws, p, r, weather)
	g.Fare(ws, r)
	g.Work(ws, p, r)
	return g
}

// decide gives an answer another verdict.
func decide(a *bulletin.Answer, verdict string) {
	a.Verdict, a.Word, a.Loud, a.Acts = verdict, message.Say(message.New("verdict."+verdict)), message.Say(message.New("verdict_loud."+verdict)), verdict != "closed" && verdict != "skip"
}

func fixtureTopics() []bulletin.Topic {
	var all []bulletin.Topic
	for _, t := range advice.Topics() {
		all = append(all, bulletin.Topic{ID: string(t), Name: message.Say(message.New("topic." + string(t))), Question: message.Say(message.New("question." + string(t)))})
	}
	return all
}

func fixtureCautions(ws *workspace.Workspace) []bulletin.Caution {
	var all []bulletin.Caution
	for _, c := range ws.Cautions {
		all = append(all, bulletin.Caution{ID: c.ID, Short: c.Short, Medium: c.Medium, Always: c.Always, Uses: c.Uses})
	}
	return all
}

// fixtureSpray has fit hours on five days, and none told of after that.
func fixtureSpray(issued civil.Date) *bulletin.Spray {
	said := func(code string) *message.Said { return message.Say(message.New(code)) }
	s := &bulletin.Spray{Label: said("spray.label"), Caption: message.Say(message.New("spray.caption").Date("date", issued).
		Both("wind", 4.47, quantity.Speed, 0, 1).Count("hours", 4))}
	for i := range 8 {
		day := bulletin.SprayDay{Date: issued.AddDays(i), Parts: []bulletin.SprayPart{{Text: message.Say(message.New("spray.good").With("hours", message.Hours(7, 17))), Good: true}}}
		if i > 4 {
			day.Parts = []bulletin.SprayPart{{Text: said("spray.absent")}}
		}
		s.Days = append(s.Days, day)
	}
	return s
}

// plateauZone lies in a county that nobody has looked up.
func plateauZone(t testing.TB, ws *workspace.Workspace, iss *bulletin.Region, z *workspace.Zone, name func(string) string) *bulletin.Zone {
	place := z.Places[0]
	iz := &bulletin.Zone{
		ID: z.ID, Name: z.Name, ClimateName: "The mountains", StationName: "Brackmoor Knob",
		Law: bulletin.Law{
			Alarm:   true,
			Places:  []bulletin.PlaceLaw{{ID: "place-1", Name: place.Name, Homeowner: state("not_cleared"), ForHire: state("not_cleared"), Phosphorus: state("not_cleared"), Same: true}},
			Unknown: sentences(name("Brackmoor: we have not looked up the rules of Hill County.")),
		},
		Weather: fixtureWeather(iss.Date),
	}
	addGrasses(ws, iss, z, iz, name)
	iz.First = z.Grasses[0].ID + "-mow"
	return iz
}

// bottomsZone has no weather at all.
func bottomsZone(ws *workspace.Workspace, iss *bulletin.Region, z *workspace.Zone, name func(string) string) *bulletin.Zone {
	iz := &bulletin.Zone{ID: z.ID, Name: z.Name, ClimateName: "The coast", StationName: name("Ellerwade Lock"), Law: bulletin.Law{Alarm: true}}
	for _, p := range z.Grasses {
		r := &advice.Reading{}
		r.Answers = []advice.Answer{{Topic: advice.Mow, Verdict: advice.NotEnough}}
		iz.Grasses = append(iz.Grasses, newGrass(ws, p, r, false))
	}
	return iz
}

func fixtureWeather(issued civil.Date) *bulletin.Weather {
	nan := bulletin.Num(math.NaN())
	said := func(code string) *message.Said { return message.Say(message.New(code)) }
	unit := func(d quantity.Dimension) *message.Said { return message.Say(message.Just(message.Unit(d))) }
	band := func(x float64) *message.Said {
		return message.Say(message.New("value.band").With("value", message.Share(x)))
	}
	both := func(x float64, d quantity.Dimension, us, metric int) *message.Said {
		if math.IsNaN(x) {
			return nil
		}
		return message.Say(message.Just(message.Both(x, d, us, metric)))
	}
	row := func(id string, past, ahead float64, d quantity.Dimension, us, metric int) bulletin.SumRow {
		return bulletin.SumRow{ID: id, Past: both(past, d, us, metric), Ahead: both(ahead, d, us, metric)}
	}
	w := &bulletin.Weather{
		LastRecord: issued.AddDays(-1), ForecastIssued: issued, Radiation: said("rung.temperature"), Humidity: said("rung.tmin"), Wind: said("rung.default"),
		Soil: said("soil_method.model"), ETBand: band(0.15), LightBand: band(0.30),
		TempUnit: unit(quantity.Temperature), RainUnit: unit(quantity.Depth), SoilUnit: unit(quantity.Temperature),
		Spray: &bulletin.Spray{Missing: said("spray.none_on_file")},
		Sums: []bulletin.SumRow{
			row("mean", 9.5, 6.5, quantity.Temperature, 0, 0), row("rain", 14.2, 31, quantity.Depth, 2, 0), row("et", 9.1, math.NaN(), quantity.Depth, 1, 0),
			row("light", 15.2, math.NaN(), quantity.Light, 0, 0), row("daylight", 10.1, 9.9, quantity.Hours, 1, 1),
			row("soil2", 11.1, 9.4, quantity.Temperature, 0, 0), row("soil4", 11.9, 10.2, quantity.Temperature, 0, 0),
		},
	}
	for i := range 7 {
		d := bulletin.Day{
			Date: issued.AddDays(i - 7), TmaxC: bulletin.Num(16 - i), TminC: bulletin.Num(5 - float64(i)*1.3), RainMM: bulletin.Num(float64(i%3) * 7.1),
			Soil5C: 11, Soil10C: 12, DaylightH: 10.1,
		}
		switch i {
		case 3:
			d.TmaxC, d.TminC, d.RainMM, d.Soil10C = nan, nan, nan, nan
		case 5:
			d.Estimated = true
		}
		w.Past = append(w.Past, d.Printed())
	}
	for i := range 8 {
		w.Ahead = append(w.Ahead, bulletin.Day{
			Date: issued.AddDays(i), TmaxC: bulletin.Num(8 + i), TminC: bulletin.Num(i - 4), RainMM: bulletin.Num(float64((i+1)%4) * 10.3),
			Soil5C: 9, Soil10C: 10, DaylightH: 9.9,
		}.Printed())
	}
	return w
}

// fixtureReading answers every topic, with every verdict, and shows all that a
// why can hold.
func fixtureReading(ws *workspace.Workspace, iss *bulletin.Region, p *turf.Profile, name func(string) string) *advice.Reading {
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
	r := &advice.Reading{Growth: turf.Reading{RainFed: growth, Watered: &watered, Ahead: &growth}}
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
	clause := message.Plain(name("Soil temperature at 4 inches: 54 °F (12 °C) (asked: at least 50 °F (10 °C))"))
	missing := message.Plain("Humidity: not known (asked: at most 80%)")
	mow := advice.Draft{Rule: rule("mow-slowly", advice.Mow, advice.Do), Topic: advice.Mow, Verdict: advice.Do, Weight: 40,
		Say: message.Plain(name("Mow when a third of the blade can come off.")), Why: message.Plain("It grows little."), Reasons: []message.Message{clause}}
	feed := advice.Draft{Rule: rule("feed-lightly", advice.Feed, advice.Do), Topic: advice.Feed, Verdict: advice.Do, Weight: 60, Uses: []string{"nitrogen"},
		Say: message.Plain(name("A light feeding of 0.5 lb/1000 ft2 is still useful.")), Why: message.Plain("It has slowed, not stopped."), More: "reading-a-bag", Reasons: []message.Message{clause}}
	closed := feed
	closed.Verdict, closed.Gate, closed.Say, closed.Why = advice.Closed, "law", message.Plain("No nitrogen on lawns here this week."), message.Message{}
	closed.Reasons = []message.Message{message.Plain(name("Vellinport: closed all week."))}
	r.Answers = []advice.Answer{
		{Topic: advice.Mow, Verdict: advice.Do, Lead: mow, Support: []advice.Draft{mow}},
		{Topic: advice.Feed, Verdict: advice.Closed, Lead: closed, Cautions: []string{"label", "sweep"},
			Conditions: []message.Message{message.Plain(name("Keep 10 ft from water."))},
			Dropped:    []advice.Dropped{{Draft: feed, Reason: message.Plain(name("Local rule."))}}},
		{Topic: advice.Water, Verdict: advice.Wait, Lead: advice.Draft{Rule: rule("rain-comes", advice.Water, advice.Wait), Say: message.Plain("Rain is coming.")}},
		{Topic: advice.Disease, Verdict: advice.Look, Lead: advice.Draft{Rule: rule("look-at-wet-spots", advice.Disease, advice.Look), Say: message.Plain("Look where water stands.")},
			Lacking: []advice.RuleTrace{{Rule: rule("humid-nights", advice.Disease, advice.Look), Outcome: advice.Unknown, Clauses: []message.Message{missing}, Held: []advice.Truth{advice.Unknown}}}},
		{Topic: advice.Weed, Verdict: advice.Skip, Lead: advice.Draft{Rule: rule("too-cold", advice.Weed, advice.Skip), Say: message.Plain("It would do nothing.")}},
		{Topic: advice.Insect, Verdict: advice.NotEnough},
	}
	r.Pests = fixturePests(ws, p, iss.Date)
	r.Traces = []advice.RuleTrace{
		{Rule: rule("mow-slowly", advice.Mow, advice.Do), Outcome: advice.Yes, Clauses: []message.Message{clause}, Held: []advice.Truth{advice.Yes}},
		{Rule: rule("humid-nights", advice.Disease, advice.Look), Outcome: advice.Unknown, Clauses: []message.Message{missing}, Held: []advice.Truth{advice.Unknown}},
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
	w.ws.Law, w.ws.WaterLaw = law.NewBook(w.ws.Ordinances, w.ws.Places), watering.NewBook(nil, nil)
	for _, iss := range w.issues {
		for _, z := range iss.Zones {
			if z.ID == "gannet-shore" {
				w.place(z.ID).Places = []law.Place{
					{Name: "the shore", Chain: []string{"ossamere", "wendrake-county"}},
					{Name: "St. Anne; north, and the éclair flats beyond the river that nobody ever named well", Chain: []string{"ossamere", "corvane-county", "thornelby"}},
				}
			}
		}
	}
	return w
}

// issueOn is the fixture's first issue as of another Sunday.
func (w world) issueOn(day civil.Date) *bulletin.Region {
	iss := *w.issues[0]
	iss.Week, iss.Date = day.AddDays(1).Week(), day
	return &iss
}
