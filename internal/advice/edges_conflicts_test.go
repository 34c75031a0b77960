package advice

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/disease"
	"ligule/internal/law"
	"ligule/internal/pest"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/watering"
	"ligule/internal/weather"
)

// conflictsOf reads conflicts from a text; those of the demonstration from none.
func conflictsOf(t testing.TB, text string) []*Conflict {
	t.Helper()
	if text == "" {
		file, err := os.ReadFile("../../data/conflicts.toml")
		require.NoError(t, err)
		text = string(file)
	}
	var list diag.List
	root, ok := diag.ReadTOML("conflicts.toml", []byte(text), &list)
	require.True(t, ok, list.Error())
	_, catalogue := book(t)
	all := ReadConflicts(root, catalogue, &Book{})
	require.NoError(t, list.Err())
	return all
}

// deed is a rule that always proposes something that does so.
func deed(topic Topic, v Verdict, does ...string) *Rule {
	return &Rule{ID: "deed-" + string(topic), Topic: topic, Verdict: v, Weight: 50, Does: does, Say: "x", Source: "own design"}
}

// opening proposes to open the ground.
var (
	opening = ruled(deed(Project, Do, OpensGround))
	digging = ruled(deed(Project, Do, DigsGround))
)

// ails gives the lawn diseases of grades, which rules of one may speak of.
func ails(all ...*Pest) func(*Input) { return func(in *Input) { in.found = all } }

// ail is a disease of a grade with what helps without a fungicide.
func ail(id string, grade pest.Grade, culture ...disease.Saying) *Pest {
	return &Pest{Kind: Disease, Disease: &disease.Disease{ID: id, Name: id, Culture: culture}, Found: pest.Assessment{ID: id, Known: true, Grade: grade, Host: 2}}
}

// fed is a disease of a grade that nitrogen feeds.
func fed(id string, grade pest.Grade) *Pest {
	p := ail(id, grade, disease.Saying{Text: "no nitrogen"})
	p.Disease.Nitrogen.Value = disease.NitrogenFeeds
	return p
}

// dry is how much of the root zone's 50 mm has been used.
func dry(usedMM float64) func(*Input) { return lies(func(g *turf.Growth) { g.DepletionMM = usedMM }) }

// wet is rain in the seven days before the issue, mm in all.
func wet(mm float64) func(*Input) {
	return weathered(func(past, _ *weather.Series) { past.Set(weather.RainMM, issue29.AddDays(-2), mm) })
}

// settled are the conflicts that made something yield in a reading.
func settled(in *Input) []string {
	var out []string
	for _, s := range Read(in).Settled {
		out = append(out, s.By.ID)
	}
	return out
}

// The conflicts of the demonstration at the edges of what they ask of the weather,
// and with and without the other side.
func TestEdgesOfConflicts(t *testing.T) {
	all := conflictsOf(t, "")
	spraying := &Rule{ID: "spray", Topic: Disease, Verdict: Do, Weight: 50, Uses: []string{Fungicide}, Say: "x"}
	seeding := proposal(Project, Seed)
	stopping := deed(Weed, Do, StopsSeed)
	feeding := proposal(Feed, Nitrogen)
	rested := deed(Mow, Skip, RestsMower)
	low := deed(Project, Do, MowsLow)
	on := func(d civil.Date) func(*Input) {
		return func(in *Input) {
			in.IssueDate, in.Week = d, d.AddDays(1).Week()
			grows(growing())(in)
		}
	}
	cool := func(in *Input) {
		in.Grass = &turf.Profile{ID: "tall-fescue", Name: "Tall fescue", Kind: turf.CoolSeason}
	}
	looks := &Rule{ID: "looks", Topic: Disease, Each: Disease, Verdict: Look, Weight: 50, Say: "{pest}"}
	for _, c := range []struct {
		name   string
		change func(*Input)
		want   []string
	}{
		{"ground on a fair week", opening, nil},
		{"before what prints as two inches", both(opening, rained(0, 49.6)), []string{"ground-before-storm"}},
		{"before less", both(opening, rained(0, 49.4)), nil},
		{"seed before a storm", both(ruled(seeding), rained(0, 60)), []string{"ground-before-storm"}},
		{"rolling before a storm", both(ruled(deed(Project, Do, PacksGround)), rained(0, 60)), []string{"ground-before-storm"}},
		{"sod before a storm", both(ruled(deed(Project, Do, LaysTurf)), rained(0, 60)), []string{"ground-before-storm"}},
		{"full of water, after an inch", both(opening, dry(2.7), wet(25.4)), []string{"ground-too-wet"}},
		{"drained a little", both(opening, dry(2.8), wet(25.4)), nil},
		{"full, after less than an inch", both(opening, dry(2.7), wet(25.2)), nil},
		{"three quarters used", both(opening, dry(37.3)), []string{"ground-too-dry"}},
		{"less used", both(opening, dry(37.2)), nil},
		{"asleep in a drought", both(opening, lies(func(g *turf.Growth) { g.State, g.DormantWhy = turf.Dormant, turf.Drought })), []string{"ground-too-dry"}},
		{"asleep in the cold", both(opening, lies(func(g *turf.Growth) { g.State, g.DormantWhy = turf.Dormant, turf.ColdSoil })), []string{"ground-asleep"}},
		{"at rest", both(opening, lies(func(g *turf.Growth) { g.State = turf.Resting })), []string{"ground-asleep"}},
		{"digging before a storm", both(digging, rained(0, 60)), []string{"ground-before-storm"}},
		{"digging, full of water", both(digging, dry(2.7), wet(25.4)), []string{"ground-too-wet"}},
		{"digging while it sleeps", both(digging, lies(func(g *turf.Growth) { g.State, g.DormantWhy = turf.Dormant, turf.ColdSoil })), nil},
		{"slowing", both(opening, lies(func(g *turf.Growth) { g.State = turf.Slowing })), nil},
		{"a low mowing", ruled(low), nil},
		{"in a drought", both(ruled(low), lies(func(g *turf.Growth) { g.State, g.DormantWhy = turf.Dormant, turf.Drought })), []string{"low-mow-in-drought"}},
		{"while mown high", ruled(low, deed(Mow, Look, MowsHigh)), []string{"low-mow-or-high"}},
		{"where the mower rests", ruled(low, rested), []string{"rest-after-low-mow"}},
		{"in a drought the mower rests", both(ruled(low, rested), lies(func(g *turf.Growth) { g.State, g.DormantWhy = turf.Dormant, turf.Drought })), []string{"low-mow-in-drought"}},
		{"seed and a pre-emergent", ruled(seeding, stopping), []string{"seed-after-pre-emergent"}},
		{"sod and a pre-emergent", ruled(deed(Project, Do, LaysTurf), stopping), []string{"seed-after-pre-emergent"}},
		{"seed alone", ruled(seeding), nil},
		{"cool-season seed on August 1", both(ruled(seeding, stopping), cool, on(civil.MustDate(2026, 8, 1))), []string{"ground-before-storm", "seed-in-autumn"}},
		{"on July 31", both(ruled(seeding, stopping), cool, on(civil.MustDate(2026, 7, 31))), []string{"ground-before-storm", "seed-after-pre-emergent"}},
		{"on November 30", both(ruled(seeding, stopping), cool, on(civil.MustDate(2026, 11, 30))), []string{"ground-before-storm", "seed-in-autumn"}},
		{"on December 1", both(ruled(seeding, stopping), cool, on(civil.MustDate(2026, 12, 1))), []string{"ground-before-storm", "seed-after-pre-emergent"}},
		{"overseeding that is only looked at yields even then", both(ruled(&Rule{ID: "over", Topic: Project, Verdict: Look, Uses: []string{Seed}, Say: "x"}, stopping), cool, on(civil.MustDate(2026, 9, 1))),
			[]string{"ground-before-storm", "seed-after-pre-emergent"}},
		{"feeding beside a disease to act on that nitrogen feeds", both(ruled(feeding, looks), ails(fed("a", pest.Act))), []string{"feeding-a-disease"}},
		{"to watch", both(ruled(feeding, looks), ails(fed("a", pest.Watch))), nil},
		{"that it does not feed", both(ruled(feeding, looks), ails(ail("a", pest.Act, disease.Saying{Text: "x"}))), nil},
		{"a spray on dry grass", both(ruled(spraying), dry(37.3)), []string{"spray-on-dry-grass"}},
		{"on grass less dry", both(ruled(spraying), dry(37.2)), nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := lawnAt(t, c.change)
			in.Conflicts = all
			assert.Equal(t, c.want, settled(in))
		})
	}
}

// What yields becomes the verdict of the conflict, under its gate, with its rule,
// and no condition of the work goes with it.
func TestWhatYieldsIsHeldByTheGateOfConflicts(t *testing.T) {
	in := lawnAt(t, opening, rained(0, 60))
	in.Conflicts = conflictsOf(t, "")
	r := Read(in)
	a := answerOn(t, r, Project)
	assert.Equal(t, []any{Wait, together, "ground-before-storm", Optional}, []any{a.Verdict, a.Lead.Gate, a.Lead.By.ID, a.Urgency})
	assert.Contains(t, says(a.Lead.Say), "2.4 in")
	require.Len(t, r.Settled, 1)
	assert.Equal(t, "deed-project", r.Settled[0].Loser.Rule.ID)
	assert.Empty(t, a.Conditions)
	assert.Len(t, r.Conflicts, len(in.Conflicts)-1, "one is of cool-season grasses")
}

// Where the clauses cannot be judged, what is written for it is printed, once; where
// nothing is, it waits, and names what lacks.
func TestConflictsThatCannotBeJudged(t *testing.T) {
	none := weathered(func(_, ahead *weather.Series) {
		for d := ahead.Start; d <= ahead.End(); d++ {
			ahead.Set(weather.RainMM, d, math.NaN())
		}
	})
	in := lawnAt(t, opening, none)
	in.Conflicts = conflictsOf(t, "")
	a := answerOn(t, Read(in), Project)
	assert.Equal(t, Do, a.Verdict)
	require.Len(t, a.Conditions, 1)
	assert.Equal(t, all(in.Conflicts, "ground-before-storm").Lacking, says(a.Conditions[0]))

	in = lawnAt(t, ruled(&Rule{ID: "spray", Topic: Disease, Verdict: Do, Uses: []string{Fungicide}, Say: "x"}), lies(func(g *turf.Growth) { g.BalanceOK = false }))
	in.Conflicts = conflictsOf(t, "")
	a = answerOn(t, Read(in), Disease)
	assert.Equal(t, []any{Wait, together, "gate.together.lacking"}, []any{a.Verdict, a.Lead.Gate, a.Lead.Say.Code})
	assert.Contains(t, says(a.Lead.Say), "water used from the root zone")
}

func all(conflicts []*Conflict, id string) *Conflict {
	for _, k := range conflicts {
		if k.ID == id {
			return k
		}
	}
	return nil
}

// Conflicts are settled in the order of the file: what has yielded makes nothing
// yield, and what is printed in its place is judged as well.
func TestConflictsAreSettledInTheirOrder(t *testing.T) {
	pair := func(id, yields, against string) string {
		return "[[conflict]]\nid = \"" + id + "\"\nthen = \"wait\"\nyields = { does = [\"" + yields + "\"] }\nagainst = { does = [\"" + against + "\"] }\n[conflict.text]\nsay = \"x {winner}\"\nsource = \"own design\"\n"
	}
	rules := ruled(deed(Mow, Do, MowsHigh), deed(Project, Do, MowsLow), deed(Weed, Do, StopsSeed))
	in := lawnAt(t, rules)
	in.Conflicts = conflictsOf(t, pair("first", MowsLow, MowsHigh)+pair("second", StopsSeed, MowsLow))
	assert.Equal(t, []string{"first"}, settled(in))
	in = lawnAt(t, rules)
	in.Conflicts = conflictsOf(t, pair("second", StopsSeed, MowsLow)+pair("first", MowsLow, MowsHigh))
	assert.Equal(t, []string{"second", "first"}, settled(in))

	lighter := deed(Project, Wait, LaysTurf)
	lighter.Weight = 10
	in = lawnAt(t, ruled(deed(Mow, Do, MowsHigh), deed(Project, Do, MowsLow), lighter))
	in.Conflicts = conflictsOf(t, pair("late", LaysTurf, MowsHigh)+pair("first", MowsLow, MowsHigh))
	assert.Equal(t, []string{"first", "late"}, settled(in), "what was not printed before comes to be")
}

// A line that has the reader feed is kept back where feeding waits, and where a
// disease that nitrogen feeds is about; the next line speaks, or why there is none.
func TestLinesThatFeedYield(t *testing.T) {
	feeds, other := disease.Saying{Text: "feed it", Uses: []string{Nitrogen}}, disease.Saying{Text: "mow it"}
	looks := &Rule{ID: "looks", Topic: Disease, Each: Disease, Verdict: Look, Weight: 50, Say: "{pest}", Why: "{pest_culture}"}
	why := func(changes ...func(*Input)) string {
		in := lawnAt(t, changes...)
		in.Conflicts = conflictsOf(t, "")
		return says(answerOn(t, Read(in), Disease).Lead.Why)
	}
	waits := &Rule{ID: "waits", Topic: Feed, Verdict: Wait, Say: "x"}
	assert.Equal(t, "feed it See Feed.", why(ruled(proposal(Feed, Nitrogen), looks), ails(ail("a", pest.Act, feeds, other))))
	assert.Equal(t, "mow it", why(ruled(waits, looks), ails(ail("a", pest.Act, feeds, other))))
	assert.Equal(t, "Feeding would help it once Feed says so: not this week.", why(ruled(waits, looks), ails(ail("a", pest.Act, feeds))))
	assert.Equal(t, "mow it", why(ruled(proposal(Feed, Nitrogen), looks), ails(ail("a", pest.Act, feeds, other), fed("b", pest.Watch))))
	assert.Equal(t, "feed it See Feed.", why(ruled(proposal(Feed, Nitrogen), looks), ails(ail("a", pest.Act, feeds, other), fed("b", pest.Quiet))))
	// A disease stands among the pests of a page even where no answer speaks of it.
	names := &Rule{ID: "names", Topic: Disease, Pest: "a", Each: Disease, Verdict: Look, Weight: 50, Say: "{pest}", Why: "{pest_culture}"}
	assert.Equal(t, "mow it", why(ruled(proposal(Feed, Nitrogen), names), ails(ail("a", pest.Act, feeds, other), fed("b", pest.Watch))))
	assert.Equal(t, "feed it See Feed.", why(ruled(proposal(Feed, Nitrogen), names), ails(ail("a", pest.Act, feeds, other), fed("b", pest.Quiet))))
	closed := under(lawBook(t, record("summer", "state", "2026-01-10", window("s", "06-01", "09-30", `"N"`))), onePlace...)
	assert.Equal(t, "mow it", why(ruled(proposal(Feed, Nitrogen), looks), closed, ails(ail("a", pest.Act, feeds, other))))
}

// What a rule of a project does must be told, and every word of a conflict known.
func TestMistakesInConflicts(t *testing.T) {
	const head = "[[conflict]]\nid = \"a\"\nthen = \"wait\"\n"
	const text = "[conflict.text]\nsay = \"x\"\nsource = \"own design\"\n"
	_, catalogue := book(t)
	for mistake, want := range map[string]string{
		head + `yields = { does = ["opens-grond"] }` + "\nagainst = { uses = [\"seed\"] }\n" + text: `did you mean "opens-ground"`,
		head + `yields = { does = ["mows-low"] }` + "\n" + text:                                     "nothing is said to exclude it",
		head + `yields = {}` + "\nagainst = { uses = [\"seed\"] }\n" + text:                         "this side fits everything",
		head + `yields = { uses = ["seed"] }` + "\nagainst = { lines = [\"nitrogen\"] }\n" + text:   "makes nothing yield",
		head + `yields = { topic = ["fed"] }` + "\nagainst = { uses = [\"seed\"] }\n" + text:        `did you mean "feed"`,
	} {
		assert.Contains(t, mistakes(t, mistake, func(root *diag.Table) { ReadConflicts(root, catalogue, &Book{}) }), want)
	}
	aerate := rule("aerate", "project", "do", 1, "", `window = { of = "aeration", is = ["open"] }`)
	assert.Contains(t, mistakes(t, aerate, func(root *diag.Table) { ReadRules(root, catalogue, &Book{}) }), `add "opens-ground" to does`)
	seed := rule("seed", "project", "do", 1, "", `window = { of = "seeding", is = ["open"] }`)
	assert.Contains(t, mistakes(t, seed, func(root *diag.Table) { ReadRules(root, catalogue, &Book{}) }), `add "seed" to uses`)
	ready := rule("ready", "project", "look", 1, "", `window = { of = "seeding", opens_within = "21 days" }`)
	assert.Empty(t, mistakes(t, ready, func(root *diag.Table) { ReadRules(root, catalogue, &Book{}) }))
}

// Why an answer may come first: the law that turns, a storm or heat, a window in
// its last week, else what its rule says; a project never.
func TestEdgesOfWhatComesFirst(t *testing.T) {
	summer := func(from, to string) func(*Input) {
		return under(lawBook(t, record("s", "state", "2026-01-10", window("s", from, to, `"N"`))), onePlace...)
	}
	windowed := func(topic Topic, phase season.Phase, days int) func(*Input) {
		return func(in *Input) {
			r := proposal(topic)
			r.when = []term{&windowClause{kind: season.FeedingWindow, phases: []season.Phase{season.Open}, opensWithin: -1, closesWithin: -1}}
			in.Rules = []*Rule{r}
			in.Lawn, in.Calendar = &season.Lawn{}, &season.Calendar{}
			in.calendar = []season.Reading{{Window: season.Window{Kind: season.FeedingWindow, Title: "w"}, Phase: phase, Days: days}}
		}
	}
	claimed := func(topic Topic, u Urgency, uses ...string) func(*Input) {
		r := proposal(topic, uses...)
		r.Urgency = u
		return ruled(r)
	}
	watered := func(state string, sinceMonday int, v Verdict) func(*Input) {
		return func(in *Input) {
			r := proposal(Water, WaterUse)
			r.Verdict, in.Rules = v, []*Rule{r}
			monday := in.Week.Monday()
			law := &watering.Record{Header: law.Header{Title: "Hours", EffectiveFrom: monday.AddDays(sinceMonday)}}
			in.Law = ZoneLaw{Monday: monday, AsOf: in.IssueDate, Places: []PlaceLaw{{Water: watering.Week{Monday: monday, State: state, Laws: []watering.Law{{Record: law}}}}}}
		}
	}
	for _, c := range []struct {
		name   string
		change func(*Input)
		want   Urgency
	}{
		{"a ban on watering that has stood for long", watered("closed_all", -90, Do), ByLaw},
		{"a ban where nobody needs to water", watered("closed_all", -90, Skip), Routine},
		{"hours of watering that have stood", watered("limited", -1, Do), Routine},
		{"hours of watering from Monday on", watered("limited", 0, Do), ByLaw},
		{"hours from Sunday on", watered("limited", 6, Do), ByLaw},
		{"hours from the Monday after on", watered("limited", 7, Do), Routine},
		{"new hours where nobody needs to water", watered("limited", 0, Skip), Routine},
		{"a season that ends on Sunday", summer("06-01", "07-19"), ByLaw},
		{"the Monday after", summer("06-01", "07-20"), Routine},
		{"one that begins on Monday", summer("07-13", "09-01"), ByLaw},
		{"the Sunday before", summer("07-12", "09-01"), Routine},
		{"a storm", rained(0, 60), ByDanger},
		{"a window in its last seven days", windowed(Mow, season.Open, 7), ByDeadline},
		{"a day more", windowed(Mow, season.Open, 8), Routine},
		{"an end that is not known", windowed(Mow, season.Open, 0), Routine},
		{"a project in its last days", windowed(Project, season.Open, 2), Optional},
		{"a rule that says so", claimed(Mow, ByWeather), ByWeather},
		{"a rule of danger", claimed(Mow, ByDanger), ByDanger},
		{"a project that says so", claimed(Project, ByDeadline), ByDeadline},
		{"a rule that says nothing", ruled(proposal(Mow)), Routine},
	} {
		in := lawnAt(t, c.change)
		assert.Equal(t, c.want, answerOn(t, Read(in), in.Rules[0].Topic).Urgency, c.name)
	}
	assert.Equal(t, []Urgency{ByLaw, ByDanger, ByDeadline, ByWeather, Routine, Optional}, Urgencies())
}

func FuzzReadConflicts(f *testing.F) {
	_, catalogue := book(f)
	text, err := os.ReadFile("../../data/conflicts.toml")
	require.NoError(f, err)
	f.Add(string(text))
	f.Add("[[conflict]]\nyields = 3\nagainst = []\n")
	f.Add("conflict = [ {when = {any = [ {date = {between = [1]}} ]}, text = {say = \"{winner} {x}\"}} ]")
	f.Fuzz(func(t *testing.T, text string) {
		var list diag.List
		root, ok := diag.ReadTOML("c.toml", []byte(text), &list)
		if !ok {
			return
		}
		for _, k := range ReadConflicts(root, catalogue, &Book{}) {
			if list.Err() == nil && (k.ID == "" || k.Say == "" || k.Yields.IsZero() || k.Against.IsZero() && len(k.when) == 0) {
				t.Errorf("accepted a conflict without %+v", k)
			}
		}
	})
}
