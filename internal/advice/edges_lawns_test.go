package advice

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/turf"
)

// lawnRules are what the demonstration says of a disease by reports, in short.
const lawnRules = `
[[rule]]
id = "treat"
topic = "disease"
each = "disease"
lawns = "only"
verdict = "do"
weight = 70
uses = ["fungicide"]
[rule.when]
disease_treatment = ["open"]
[rule.text]
say = "treat {pest}"
source = "own design"
[[rule]]
id = "again"
topic = "disease"
each = "disease"
lawns = "only"
verdict = "look"
weight = 30
uses = []
[rule.when]
disease_reported = ["look again"]
[rule.text]
say = "look again"
source = "own design"
[[rule]]
id = "reported"
topic = "disease"
each = "disease"
verdict = "look"
weight = 40
uses = []
urgency = "optional"
[rule.when]
disease_reported = ["on record"]
[rule.text]
say = "{pest_reports}"
source = "own design"
[[rule]]
id = "quiet"
topic = "disease"
verdict = "skip"
weight = 20
uses = []
[rule.when]
date = { between = ["01-01", "12-31"] }
[rule.text]
say = "nothing"
source = "own design"
`

var patchWeek, patchIssue = weekOf(2026, 6, 17)

// patched is a find of brown patch so many days before the issue.
func patched(ago int, place string, changes ...func(*pest.Report)) pest.Report {
	r := pest.Report{Date: patchIssue.AddDays(-ago), Grass: "tall-fescue", Place: place, Finding: "brown-patch", AreaPct: 12, Patches: 6, DiameterM: 2, Confirmed: true, MarginActive: true, MownDays: 6}
	for _, change := range changes {
		change(&r)
	}
	return r
}

// What is said of a lawn hangs on its own reports and log: how old they are, which
// place and grass they name.
func TestEdgesOfLawns(t *testing.T) {
	felt := (year{17, 11, 8, 9}).lived(patchIssue)
	fescue := grassFile(t, "tall-fescue")
	read := func(reports []pest.Report, treatments ...pest.Treatment) Answer {
		in := walk(t, felt, patchWeek, fescue, lawnRules)
		slices.SortStableFunc(reports, func(a, b pest.Report) int { return int(a.Date - b.Date) })
		in.Reports, in.Treatments = reports, treatments
		a := answerOn(t, Read(in), Disease)
		assert.NotEqual(t, Do, a.Verdict, "no zone is told to treat")
		assert.NotContains(t, a.Lead.Uses, Fungicide)
		return a
	}
	told := func(a Answer) (out []string) {
		for _, l := range a.Lawns {
			out = append(out, l.Place+": "+string(l.Draft.Verdict)+" "+l.Draft.id())
		}
		return out
	}
	again := func(days int) func(*pest.Report) {
		return func(r *pest.Report) { r.LookAgain = r.Date.AddDays(days) }
	}
	for _, c := range []struct {
		name    string
		verdict Verdict // of the zone
		reports []pest.Report
		want    []string
	}{
		{"nobody looked", Skip, nil, nil},
		{"on the last day that it stands", Look, []pest.Report{patched(21, "back")}, []string{"back: do treat"}},
		{"the day after", Skip, []pest.Report{patched(22, "back")}, []string{"back: look again"}},
		{"on the day told to look again", Look, []pest.Report{patched(7, "back", again(7))}, []string{"back: do treat"}},
		{"the day after that", Skip, []pest.Report{patched(8, "back", again(7))}, []string{"back: look again"}},
		{"too old to ask for a look", Skip, []pest.Report{patched(43, "back")}, nil},
		{"a clean look since", Look, []pest.Report{patched(9, "back"), patched(2, "back", func(r *pest.Report) { r.Finding = pest.FoundNone })}, nil},
		{"a clean look elsewhere", Look, []pest.Report{patched(9, "back"), patched(2, "front", func(r *pest.Report) { r.Finding = pest.FoundNone })}, []string{"back: do treat"}},
		{"of another grass", Skip, []pest.Report{patched(3, "back", func(r *pest.Report) { r.Grass = "zoysia" })}, nil},
		{"of any grass", Look, []pest.Report{patched(3, "back", func(r *pest.Report) { r.Grass = "" })}, []string{"back: do treat"}},
		{"of the issue date", Skip, []pest.Report{patched(0, "back")}, nil},
		{"of the issue date, without a place", Look, []pest.Report{patched(3, ""), patched(0, "")}, []string{": do treat"}},
		{"without a place", Look, []pest.Report{patched(3, "")}, []string{": do treat"}},
		{"two places, the newest first", Look, []pest.Report{patched(9, "back"), patched(3, "front")}, []string{"front: do treat", "back: do treat"}},
		{"a place old, another new", Look, []pest.Report{patched(25, "back"), patched(3, "front")}, []string{"front: do treat", "back: look again"}},
		{"mown too seldom", Look, []pest.Report{patched(3, "back", func(r *pest.Report) { r.MownDays = 15 }), patched(4, "front")}, []string{"front: do treat"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := read(c.reports)
			assert.Equal(t, c.verdict, a.Verdict)
			assert.Equal(t, c.want, told(a))
			if a.Verdict == Look {
				assert.Equal(t, Optional, a.Urgency, "never the first thing")
			}
		})
	}

	// Two places, each with its own area and log.
	small := func(r *pest.Report) { r.Patches, r.DiameterM = 2, 1 }
	used := pest.Treatment{Date: patchIssue.AddDays(-60), Place: "back", Target: "brown-patch", Groups: []string{"11"}, IntervalDays: 21}
	a := read([]pest.Report{patched(3, "back"), patched(4, "front", small)}, used)
	require.Equal(t, []string{"back: do treat", "front: do treat"}, told(a))
	back, front := textsOf(a.Lawns[0].Draft.Conditions), textsOf(a.Lawns[1].Draft.Conditions)
	assert.Contains(t, back, "Not FRAC group 11")
	assert.NotContains(t, front, "Not FRAC group 11")
	assert.NotContains(t, back, "Not FRAC group 3 again")
	assert.Contains(t, back, "6 patches")
	assert.Contains(t, front, "2 patches")
	assert.Contains(t, a.Cautions, "label", "what is offered for a lawn has its cautions")
	// Where water stood, drainage goes before any product.
	wet := func(r *pest.Report) { r.StandingWater = true }
	a = read([]pest.Report{patched(3, "back", wet), patched(4, "front", small)})
	require.Equal(t, []string{"back: do treat", "front: do treat"}, told(a))
	assert.Equal(t, "treat.drain_first", codesOf(a.Lawns[0].Draft.Conditions)[0])
	assert.NotContains(t, codesOf(a.Lawns[1].Draft.Conditions), "treat.drain_first")
	// Two groups in one treatment count as both.
	mixed := used
	mixed.Groups = []string{"11", "3"}
	back = textsOf(read([]pest.Report{patched(3, "back")}, mixed).Lawns[0].Draft.Conditions)
	assert.Contains(t, back, "Not FRAC group 11")
	assert.Contains(t, back, "Not FRAC group 3 again")
	used.Date = patchIssue.AddDays(-2)
	assert.Equal(t, []string{"front: do treat"}, told(read([]pest.Report{patched(3, "back"), patched(4, "front", small)}, used)), "treated within the interval")
	used.Place = ""
	assert.Len(t, read([]pest.Report{patched(3, "back"), patched(4, "front", small)}, used).Lawns, 2, "treated somewhere else")

	// Whoever mows knows how often: by the last report of the grass that stands.
	for _, c := range []struct {
		reports []pest.Report
		want    int
	}{
		{[]pest.Report{patched(3, "back"), patched(2, "back", func(r *pest.Report) { r.Grass, r.MownDays = "zoysia", 15 })}, 6},
		{[]pest.Report{patched(3, "back"), patched(2, "back", func(r *pest.Report) { r.MownDays = 9 })}, 9},
		{[]pest.Report{patched(22, "back")}, 0},
	} {
		in := walk(t, felt, patchWeek, fescue, lawnRules)
		in.Reports = c.reports
		require.Len(t, in.lawns(), 1)
		assert.Equal(t, c.want, in.lawns()[0].lawn.mownDays)
		if c.want > 0 {
			assert.Equal(t, c.want, in.lawns()[0].growth(0).RainFed.MowDays)
		}
	}

	// A lawn is young by its own report; of the zone nobody can tell.
	young := walk(t, felt, patchWeek, fescue, lawnRules)
	young.Reports = []pest.Report{patched(3, "back", func(r *pest.Report) { r.Seeded = patchIssue.AddDays(-300) }), patched(3, "front")}
	require.Len(t, young.lawns(), 2)
	assert.False(t, young.look().YoungStand)
	for _, l := range young.lawns() {
		assert.Equal(t, l.lawn.place == "back", l.look().YoungStand)
	}

	// Two lawns without a place are not one that grew between two looks.
	in := walk(t, felt, patchWeek, fescue, lawnRules)
	in.Reports = []pest.Report{patched(9, "", func(r *pest.Report) { r.AreaPct = 5 }), patched(3, "")}
	require.Len(t, in.lawns(), 1)
	assert.Len(t, in.lawns()[0].Reports, 1)
	in = walk(t, felt, patchWeek, fescue, lawnRules)
	in.Reports = []pest.Report{patched(9, "", func(r *pest.Report) { r.Finding = "dollar-spot" }), patched(3, "")}
	assert.Len(t, in.lawns(), 2)
}

// wetRules are what the demonstration says of places where water stood, in short.
const wetRules = `
[[rule]]
id = "look-first"
topic = "disease"
each = "disease"
lawns = "only"
verdict = "look"
weight = 24
uses = []
[rule.when]
disease_wet = ["on record"]
[rule.text]
say = "{pest}"
source = "own design"
[[rule]]
id = "drain"
topic = "project"
lawns = "only"
verdict = "do"
weight = 44
uses = []
[rule.when]
water_stood = ["on record"]
[rule.text]
say = "drain"
source = "own design"
`

// A place where water stood is remembered, for what goes with water: how long, and of
// which state of the grass. Nobody looked in vain for that.
func TestEdgesOfWetPlaces(t *testing.T) {
	felt, zoysia := piedmont.lived(patchIssue), grassFile(t, "zoysia")
	wet := func(on civil.Date, changes ...func(*pest.Report)) []pest.Report {
		r := pest.Report{Date: on, Grass: "zoysia", Place: "hollow", Finding: pest.FoundNone, StandingWater: true}
		for _, change := range changes {
			change(&r)
		}
		return []pest.Report{r}
	}
	told := func(reports []pest.Report) (out []string) {
		in := walk(t, felt, patchWeek, zoysia, wetRules)
		in.Reports = reports
		for _, a := range Read(in).Answers {
			assert.Equal(t, Look, a.Verdict, "the zone is told of no single lawn")
			for _, l := range a.Lawns {
				out = append(out, l.Place+" "+l.Date.String()+": "+string(l.Draft.Verdict)+" "+says(l.Draft.Say))
			}
		}
		for _, p := range in.pests() {
			assert.Empty(t, p.Lawns, "nothing was found")
		}
		return out
	}
	for _, c := range []struct {
		name    string
		reports []pest.Report
		want    bool
	}{
		{"yesterday", wet(patchIssue - 1), true},
		{"today", wet(patchIssue), false},
		{"400 days ago", wet(patchIssue - 400), true},
		{"401 days ago", wet(patchIssue - 401), false},
		{"while it slept", wet(civil.MustDate(2026, 1, 20)), false},
		{"on another grass", wet(patchIssue-1, func(r *pest.Report) { r.Grass = "bermuda" }), false},
		{"no water stood", wet(patchIssue-1, func(r *pest.Report) { r.StandingWater = false }), false},
		{"a dry look since", append(wet(patchIssue-30), wet(patchIssue-1, func(r *pest.Report) { r.StandingWater = false })...), true},
	} {
		got, on := told(c.reports), ""
		if c.want {
			on = "hollow " + c.reports[0].Date.String()
			assert.Equal(t, []string{on + ": look Large patch", on + ": do drain"}, got, c.name)
		} else {
			assert.Empty(t, got, c.name)
		}
	}

	// A single look raises the grade of that place, and not that of the zone.
	in := walk(t, felt, patchWeek, zoysia, wetRules)
	in.Reports = wet(patchIssue - 1)
	at := in.lawns()[0].pest(Disease, "large-patch").Found.Score
	assert.InDelta(t, 0.05, at-in.pest(Disease, "large-patch").Found.Score, 1e-9)
	assert.True(t, in.lawns()[0].pest(Disease, "large-patch").Found.Wet)
	assert.False(t, in.lawns()[0].pest(Disease, "dollar-spot").Found.Wet, "does not go with water")
}

// Weeks in which water stood somewhere: by how much ran off or past the roots, while
// the grass grew, and of how many weeks that is known.
func TestEdgesOfWetWeeks(t *testing.T) {
	issue := civil.MustDate(2026, 6, 14)
	count := func(changes ...func(d *turf.Daily, at int)) float64 {
		in := walk(t, piedmont.lived(issue), issue.AddDays(1).Week(), grassFile(t, "zoysia"), wetRules)
		at, ok := in.Felt.Index(issue)
		require.True(t, ok)
		for i := range in.Daily.DrainageMM {
			in.Daily.DrainageMM[i], in.Daily.RunoffMM[i] = 0, 0
		}
		for _, change := range changes {
			change(in.Daily, at)
		}
		return in.wetWeeks()
	}
	week := func(ago int, mm float64) func(d *turf.Daily, at int) {
		return func(d *turf.Daily, at int) { d.DrainageMM[at-ago], d.RunoffMM[at-ago-1] = mm-5, 5 }
	}
	unknown := func(weeks int) func(d *turf.Daily, at int) {
		return func(d *turf.Daily, at int) {
			for k := range weeks {
				d.BalanceOK[at-7*k-8] = false
			}
		}
	}
	assert.Equal(t, 0.0, count())
	assert.Equal(t, 1.0, count(week(1, 25.36)), "at the limit, as it is printed")
	assert.Equal(t, 0.0, count(week(1, 25.34)), "a tenth less")
	assert.Equal(t, 0.0, count(week(7, 30)), "split between two weeks")
	assert.Equal(t, 2.0, count(week(2, 30), week(9, 30), week(10, 30)), "two weeks")
	assert.Equal(t, 1.0, count(week(51*7+2, 30)), "in the first of the weeks")
	assert.Equal(t, 0.0, count(week(52*7+2, 30)), "before the year")
	assert.Equal(t, 0.0, count(week(20*7+2, 30)), "in January, asleep")
	assert.Equal(t, 1.0, count(week(1, 30), unknown(26)), "half of the year known")
	assert.True(t, math.IsNaN(count(week(1, 30), unknown(27))), "a week less")
}

// The reader is asked about the mower where it alone speaks against treating the place
// and no report tells of it.
func TestEdgesOfStillMowing(t *testing.T) {
	felt, fescue := (year{17, 11, 8, 9}).lived(patchIssue), grassFile(t, "tall-fescue")
	for _, c := range []struct {
		name      string
		zone, own int // days between mowings
		state     turf.State
		want      string
	}{
		{"every two weeks", 14, 0, turf.Slowing, "open"},
		{"a day more", 15, 0, turf.Slowing, ifStillMown},
		{"never", 0, 0, turf.Slowing, ifStillMown},
		{"a day more, but the lawn every two weeks", 15, 14, turf.Slowing, "open"},
		{"a day more, and the lawn too", 15, 15, turf.Slowing, "closed"},
		{"asleep", 0, 0, turf.Dormant, "closed"},
	} {
		in := walk(t, felt, patchWeek, fescue, lawnRules)
		in.Reports = []pest.Report{patched(3, "back", func(r *pest.Report) { r.MownDays = c.own })}
		lies(func(g *turf.Growth) { g.State, g.MowDays = c.state, c.zone })(in)
		lawn := in.lawns()[0]
		ind, ok := in.Catalogue.Find("disease_treatment")
		require.True(t, ok)
		assert.Equal(t, c.want, lawn.value(ind, lawn.pest(Disease, "brown-patch"), 0).Word, c.name)
	}
}

// A find comes back when the season opens in which its disease infects: one of the
// season itself does not, nor one of more than 400 days before.
func TestEdgesOfReturns(t *testing.T) {
	zoysia := grassFile(t, "zoysia")
	at := func(issue civil.Date, finds ...civil.Date) *Pest {
		in := walk(t, piedmont.lived(issue), issue.AddDays(1).Week(), zoysia, lawnRules)
		for _, on := range finds {
			in.Reports = append(in.Reports, pest.Report{Date: on, Grass: "zoysia", Finding: "large-patch"})
		}
		return in.pest(Disease, "large-patch")
	}
	issue := civil.MustDate(2026, 9, 6)
	for at(issue).Found.Window != pest.WindowOpen {
		issue = issue.AddDays(7)
		require.Less(t, issue, civil.MustDate(2026, 11, 1))
	}
	since := at(issue).Found.Windows[0].Since
	assert.False(t, at(issue).Found.Returns, "never found")
	assert.True(t, at(issue, since-1).Found.Returns, "the day before it opened")
	assert.False(t, at(issue, since).Found.Returns, "the day on which it opened")
	assert.True(t, at(issue, since-400).Found.Returns)
	assert.False(t, at(issue, since-401).Found.Returns)
	assert.False(t, at(issue.AddDays(-7), since-60).Found.Returns, "not open yet")
	assert.False(t, at(issue.AddDays(70), since-60).Found.Returns, "over")
}

// How many looked and how many found it, in the seven days before the issue and in
// the seven before those.
func TestEdgesOfLooks(t *testing.T) {
	felt := (year{17, 11, 8, 9}).lived(patchIssue)
	clean := func(r *pest.Report) { r.Finding, r.AreaPct, r.Patches = pest.FoundNone, 0, 0 }
	for _, c := range []struct {
		reports []pest.Report
		want    string
	}{
		{[]pest.Report{patched(1, "back"), patched(1, "front", clean)}, "in the last seven days 2 looked and 1 found it, in the seven before nobody looked"},
		{[]pest.Report{patched(8, "back"), patched(7, "front")}, "in the last seven days 1 looked and 1 found it, in the seven before 1 looked and 1 found it"},
		{[]pest.Report{patched(15, "front")}, "nobody looked in the last two weeks"},
		{[]pest.Report{patched(15, "front"), patched(14, "back")}, "in the last seven days nobody looked, in the seven before 1 looked and 1 found it"},
		{[]pest.Report{patched(3, "back"), patched(3, "back", func(r *pest.Report) { r.Finding = "dollar-spot" })}, "in the last seven days 1 looked and 1 found it, in the seven before nobody looked"},
		{[]pest.Report{patched(3, "", func(r *pest.Report) { r.Line = 2 }), patched(3, "", func(r *pest.Report) { r.Line = 3 })}, "in the last seven days 2 looked and 2 found it, in the seven before nobody looked"},
		{[]pest.Report{patched(3, "back"), patched(2, "front", func(r *pest.Report) { r.Grass = "zoysia" })}, "in the last seven days 1 looked and 1 found it, in the seven before nobody looked"},
	} {
		in := walk(t, felt, patchWeek, grassFile(t, "tall-fescue"), lawnRules)
		in.Reports = c.reports
		assert.Equal(t, c.want, says(answerOn(t, Read(in), Disease).Lead.Say))
	}
}

// A rule that has somebody do something because of a report speaks for lawns alone.
func TestRulesThatRestOnALawn(t *testing.T) {
	_, catalogue := book(t)
	load := func(verdict, lawns, when string) error {
		text := "[[rule]]\nid = \"r\"\ntopic = \"insect\"\neach = \"insect\"\n" + lawns + "\nverdict = \"" + verdict + "\"\nweight = 50\nuses = [\"insecticide\"]\n[rule.when]\n" + when + "\n[rule.text]\nsay = \"x\"\nsource = \"own design\"\n"
		var list diag.List
		root, ok := diag.ReadTOML("rules.toml", []byte(text), &list)
		require.True(t, ok)
		ReadRules(root, catalogue, pests(t))
		return list.Err()
	}
	const reported, history = `insect_reported = ["on record"]`, `insect_history = ["on record"]`
	const nested = "[[rule.when.any]]\ninsect_attention = [\"act\"]\n[[rule.when.any]]\n" + history
	for _, when := range []string{reported, history, nested} {
		assert.ErrorContains(t, load("do", "", when), "no reason for the whole zone")
		assert.ErrorContains(t, load("do", `lawns = "also"`, when), "no reason for the whole zone")
		assert.NoError(t, load("do", `lawns = "only"`, when))
	}
	assert.NoError(t, load("do", "", `insect_attention = ["act"]`))
	var list diag.List
	root, ok := diag.ReadTOML("rules.toml", []byte("[[rule]]\nid = \"r\"\ntopic = \"feed\"\nlawns = \"only\"\nverdict = \"look\"\nweight = 50\nuses = []\n[rule.when]\n[rule.text]\nsay = \"x\"\nsource = \"own design\"\n"), &list)
	require.True(t, ok)
	ReadRules(root, catalogue, pests(t))
	assert.ErrorContains(t, list.Err(), "only what is found on a lawn")

	// One that speaks of no pest asks what was told of the lawn.
	const wet = `water_stood = ["on record"]`
	for rule, good := range map[string]bool{
		`lawns = "only"` + "|" + wet:                         true,
		`lawns = "also"` + "|" + wet:                         false,
		`lawns = "only"` + "|" + `wet_weeks = { above = 3 }`: false,
	} {
		lawns, when, _ := strings.Cut(rule, "|")
		var list diag.List
		root, ok := diag.ReadTOML("rules.toml", []byte("[[rule]]\nid = \"r\"\ntopic = \"project\"\n"+lawns+"\nverdict = \"look\"\nweight = 50\nuses = []\n[rule.when]\n"+when+"\n[rule.text]\nsay = \"x\"\nsource = \"own design\"\n"), &list)
		require.True(t, ok)
		ReadRules(root, catalogue, pests(t))
		assert.Equal(t, good, list.Err() == nil, "%s: %v", rule, list.Err())
	}
}
