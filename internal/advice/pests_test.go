package advice

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/disease"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/season"
	"ligule/internal/spray"
	"ligule/internal/turf"
	"ligule/internal/watering"
	"ligule/internal/weather"
)

// grassFile is a grass of the demonstration.
func grassFile(t testing.TB, id string) *turf.Profile {
	t.Helper()
	file := "../../data/grasses/" + id + ".toml"
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	var list diag.List
	root, ok := diag.ReadTOML(file, text, &list)
	require.True(t, ok)
	p := turf.ReadProfile(id, root)
	require.NoError(t, list.Err())
	return p
}

// calendar is one of the demonstration's; nil where it has none.
func calendar(t testing.TB, climate, grass string) *season.Calendar {
	t.Helper()
	var list diag.List
	read := func(name string) *diag.Table {
		file := "../../data/calendar/" + name + ".toml"
		text, err := os.ReadFile(file)
		if err != nil {
			return nil
		}
		root, ok := diag.ReadTOML(file, text, &list)
		require.True(t, ok)
		return root
	}
	root := read(grass)
	if root == nil {
		return nil
	}
	all := season.ReadCalendars(grass, []string{"coast", "mountains", "piedmont"}, root, read("defaults"))
	require.NoError(t, list.Err())
	for _, c := range all {
		if c.Climate == climate {
			return c
		}
	}
	return nil
}

// year is the climate of an invented place: a cosine of the day of the year,
// warmest in late July, with rain every third day.
type year struct{ meanC, swingC, rangeC, rainMM float64 }

var (
	piedmont = year{15, 11, 11, 9}
)

// lived runs four years of it up to an issue date, and eight days of forecast.
func (y year) lived(issue civil.Date) *weather.Felt { return y.livedFor(4, issue) }

func (y year) livedFor(years int, issue civil.Date) *weather.Felt {
	start := civil.MustDate(issue.Year()-years, 1, 1)
	day := func(s *weather.Series, d civil.Date) {
		mean := y.meanC - y.swingC*math.Cos(2*math.Pi*float64(d.YearDay()-20)/365)
		s.Set(weather.TmaxC, d, mean+y.rangeC/2)
		s.Set(weather.TminC, d, mean-y.rangeC/2)
		rain := 0.0
		if int(d)%3 == 0 {
			rain = y.rainMM
		}
		s.Set(weather.RainMM, d, rain)
	}
	s := weather.NewSeries(start, int(issue-start))
	for d := start; d < issue; d++ {
		day(s, d)
	}
	f := weather.NewSeries(issue, 9)
	for i := range 9 {
		day(f, issue.AddDays(i))
	}
	st := weather.Station{ID: "x", LatitudeDeg: 35.5, LongitudeDeg: -79}
	return weather.AsOf(st, s, []weather.Forecast{{Issued: issue, Days: f}}, issue).Felt()
}

// walk is the input of one week under a grass and some rules; the law clears all.
func walk(t testing.TB, felt *weather.Felt, week civil.Week, grass *turf.Profile, ruleText string) *Input {
	t.Helper()
	cautions, catalogue := book(t)
	soil, _ := turf.SoilByID("loam")
	issue := week.Monday().AddDays(-1)
	in := &Input{
		Week: week, IssueDate: issue, ZoneName: "Somewhere", Climate: "piedmont", Grass: grass, Felt: felt, Daily: turf.Run(grass, soil, felt),
		Lawn: season.NewRecord(felt).Lawn(grass), Calendar: calendar(t, "piedmont", grass.ID),
		Pests: pests(t), Rules: rules(t, catalogue, ruleText), Catalogue: catalogue, Cautions: cautions, Units: quantity.US,
	}
	in.Law = AskLaw(lawBook(t, record("open", "state", "2026-01-10", window("winter", "12-10", "12-20", `"N"`))), watering.NewBook(nil, nil), onePlace, week, issue, func(civil.Date) *law.Weather { return nil })
	return in
}

// preventive is the first week of the year in which a weed of the invented
// piedmont is to be stopped from coming up.
func preventive(t testing.TB, grass *turf.Profile, weed, ruleText string) *Input {
	t.Helper()
	for d := civil.MustDate(2026, 2, 4); d < civil.MustDate(2026, 6, 1); d = d.AddDays(7) {
		week := d.Week()
		in := walk(t, piedmont.lived(week.Monday().AddDays(-1)), week, grass, ruleText)
		if in.weedTreatment(in.pest(Weed, weed)).Word == beforeEmergence {
			return in
		}
	}
	require.Fail(t, "no such week")
	return nil
}

func weekOf(y, m, d int) (week civil.Week, issue civil.Date) {
	week = civil.MustDate(y, m, d).Week()
	return week, week.Monday().AddDays(-1)
}

// pestRule is a rule of one pest, or each of a kind.
func pestRule(subject, topic, uses string) string {
	return fmt.Sprintf("[[rule]]\nid = \"r\"\n%s\ntopic = %q\nverdict = \"do\"\nweight = 50\nuses = [%q]\n[rule.when]\n[rule.text]\nsay = \"{pest} on {grass}\"\nsource = \"common practice\"\n", subject, topic, uses)
}

func draftOf(t testing.TB, in *Input, id string) (*gated, []message.Message) {
	t.Helper()
	for _, tr := range Read(in).Traces {
		if tr.Pest != nil && tr.Pest.ID() == id {
			d := Draft{Rule: tr.Rule, Pest: tr.Pest, Topic: tr.Rule.Topic, Verdict: tr.Rule.Verdict, Uses: tr.Rule.Uses}
			if tr.lawn != nil {
				return tr.lawn.pass(d)
			}
			return in.pass(d)
		}
	}
	require.Fail(t, "no draft", id)
	return nil, nil
}

func phraseIDs(reasons []message.Message) []string {
	var out []string
	for _, r := range reasons {
		out = append(out, codeOf(r))
	}
	return out
}

func textsOf(reasons []message.Message) string {
	var out []string
	for _, r := range reasons {
		out = append(out, says(r))
	}
	return strings.Join(out, "\n")
}

// A pre-emergent goes down on warm-season grass that still sleeps: it is not
// for grass that grows, but for weeds that do not yet.
func TestPreEmergentOnSleepingBermudagrass(t *testing.T) {
	in := preventive(t, grassFile(t, "bermuda"), "crabgrass", pestRule(`pest = "crabgrass"`, "weed", Herbicide))
	require.Contains(t, []turf.State{turf.Dormant, turf.Resting}, in.growth(0).RainFed.State, "as of %s", in.IssueDate)
	stopped, conditions := draftOf(t, in, "crabgrass")
	require.Nil(t, stopped)
	assert.Contains(t, textsOf(conditions), "prodiamine")
	assert.Contains(t, textsOf(conditions), "HRAC group 3")
	assert.Contains(t, phraseIDs(conditions), "gate.spray.no_hours", "no hours are made of a daily forecast")
}

// What no grass here bears, what heat or cold forbids, and what was used too
// lately is held, each by its own gate.
func TestHerbicideGates(t *testing.T) {
	for _, c := range []struct {
		name, grass, weed string
		y, m, d           int
		climate           year
		log               []pest.Treatment
		gate              string
		verdict           Verdict
		says              string
	}{
		{name: "nutsedge in the heat of July", grass: "st-augustine", weed: "yellow-nutsedge", y: 2026, m: 7, d: 15, climate: year{19, 13, 14, 9}, gate: "heat", verdict: Wait, says: "is not used above"},
		{name: "dandelions in the cold of January", grass: "tall-fescue", weed: "perennial-broadleaf", y: 2026, m: 1, d: 14, climate: piedmont, gate: "cold", verdict: Wait, says: "three days with a mean of"},
	} {
		t.Run(c.name, func(t *testing.T) {
			week, issue := weekOf(c.y, c.m, c.d)
			in := walk(t, c.climate.lived(issue), week, grassFile(t, c.grass), pestRule(fmt.Sprintf("pest = %q", c.weed), "weed", Herbicide))
			in.Treatments = c.log
			p := in.pest(Weed, c.weed)
			// Whatever stage the invented year has it in, it is to be treated now.
			p.Progress.Known, p.Progress.Invalid = true, ""
			for _, tr := range p.Weed.Treat {
				if !tr.Before {
					p.Progress.Stage.ID = tr.Stages[0]
				}
			}
			stopped, _ := draftOf(t, in, c.weed)
			require.NotNil(t, stopped)
			assert.Equal(t, c.gate, stopped.gate, textsOf(stopped.reasons))
			assert.Equal(t, c.verdict, stopped.verdict)
			assert.Contains(t, textsOf(stopped.reasons), c.says)
		})
	}
	t.Run("a weed for which this grass bears nothing", func(t *testing.T) {
		week, issue := weekOf(2026, 7, 15)
		in := walk(t, piedmont.lived(issue), week, grassFile(t, "st-augustine"), pestRule(`pest = "crabgrass"`, "weed", Herbicide))
		p := in.pest(Weed, "crabgrass")
		p.Progress.Stage.ID = "no such stage"
		stopped, _ := draftOf(t, in, "crabgrass")
		require.NotNil(t, stopped)
		assert.Equal(t, "tolerance", stopped.gate)
		assert.Equal(t, Skip, stopped.verdict)
	})
	t.Run("a group that was used last week", func(t *testing.T) {
		week, issue := weekOf(2026, 5, 6)
		in := walk(t, piedmont.lived(issue), week, grassFile(t, "tall-fescue"), pestRule(`pest = "perennial-broadleaf"`, "weed", Herbicide))
		open, _ := draftOf(t, in, "perennial-broadleaf")
		require.Nil(t, open, "without a log it may be used")
		in = walk(t, piedmont.lived(issue), week, grassFile(t, "tall-fescue"), pestRule(`pest = "perennial-broadleaf"`, "weed", Herbicide))
		in.Treatments = []pest.Treatment{{Date: issue.AddDays(-6), Target: "perennial-broadleaf", Groups: []string{"4", "14", "2", "6", "5", "27"}}}
		a := answerOn(t, Read(in), Weed)
		assert.Equal(t, Do, a.Verdict, "the zone is not kept from what one lawn has used")
		require.Len(t, a.Lawns, 1)
		assert.Empty(t, a.Lawns[0].Place)
		assert.Equal(t, issue.AddDays(-6), a.Lawns[0].Date)
		assert.True(t, a.Lawns[0].Treated)
		d := a.Lawns[0].Draft
		if d.Gate == "" {
			assert.Contains(t, textsOf(d.Conditions), "days ago")
			return
		}
		assert.Equal(t, "overlap", d.Gate)
		assert.Contains(t, textsOf(d.Reasons), "days ago")
	})
}

// A fungicide speaks only of a place that somebody reported, or of one that
// had the disease before.
func TestFungicideNeedsAReport(t *testing.T) {
	week, issue := weekOf(2026, 6, 17)
	warm := year{17, 11, 8, 9}
	in := walk(t, warm.lived(issue), week, grassFile(t, "tall-fescue"), pestRule(`pest = "brown-patch"`, "disease", Fungicide))
	stopped, _ := draftOf(t, in, "brown-patch")
	require.NotNil(t, stopped)
	assert.Equal(t, "treatment", stopped.gate)
	assert.Equal(t, Wait, stopped.verdict)
	assert.Nil(t, in.pest(Disease, "brown-patch").Decision)

	report := pest.Report{Date: issue.AddDays(-3), Grass: "tall-fescue", Place: "back", Finding: "brown-patch", AreaPct: 12, Patches: 6, DiameterM: 2, Confirmed: true, MarginActive: true, MownDays: 6}
	rule := pestRule("pest = \"brown-patch\"\nlawns = \"only\"", "disease", Fungicide)
	in = walk(t, warm.lived(issue), week, grassFile(t, "tall-fescue"), rule)
	in.Reports = []pest.Report{report}
	require.Len(t, in.lawns(), 1)
	assert.Nil(t, in.pest(Disease, "brown-patch").Decision, "the zone is not that lawn")
	p := in.lawns()[0].pest(Disease, "brown-patch")
	require.NotNil(t, p.Decision)
	require.Equal(t, pest.Act, p.Found.Grade, "score %.2f", p.Found.Score)
	require.Equal(t, disease.AnswerOpen, p.Decision.Answer, "%v", p.Decision.Reasons)
	stopped, conditions := draftOf(t, in, "brown-patch")
	require.Nil(t, stopped)
	got := phraseIDs(conditions)
	assert.Equal(t, "treat.cultural_steps", got[0], "the ladder: what helps without a product first")
	assert.Contains(t, got, "treat.keep_dry", "brown patch is treated on the leaf")
	assert.Contains(t, got, "treat.spot_share")
	// Six patches of 2 m with a strip of 3 ft around each: 6 π (1 + 0.9144)² m².
	assert.InDelta(t, 6*math.Pi*1.9144*1.9144, spotOf(p.Disease, p.Report).areaM2, 1e-9)
	assert.InDelta(t, 6*math.Pi*1.9144*1.9144/(6*math.Pi/0.12), spotOf(p.Disease, p.Report).share, 1e-9)
	assert.Contains(t, textsOf(conditions), "FRAC group 11")

	// The group used last has to be changed.
	in = walk(t, warm.lived(issue), week, grassFile(t, "tall-fescue"), rule)
	in.Reports = []pest.Report{report}
	in.Treatments = []pest.Treatment{{Date: issue.AddDays(-60), Place: "back", Target: "brown-patch", Groups: []string{"11"}, IntervalDays: 21}}
	_, conditions = draftOf(t, in, "brown-patch")
	assert.Contains(t, phraseIDs(conditions), "treat.group_refused")
	assert.Contains(t, textsOf(conditions), "Not FRAC group 11")

	// Treated within its interval there is nothing more to say.
	in = walk(t, warm.lived(issue), week, grassFile(t, "tall-fescue"), rule)
	in.Reports = []pest.Report{report}
	in.Treatments = []pest.Treatment{{Date: issue.AddDays(-2), Place: "back", Target: "brown-patch", Groups: []string{"3"}, IntervalDays: 21}}
	stopped, _ = draftOf(t, in, "brown-patch")
	require.NotNil(t, stopped)
	assert.Equal(t, Skip, stopped.verdict)
}

// Hours to spray: fit ones are named, none holds the spray, and granules may
// still go down.
func TestSprayWeatherGate(t *testing.T) {
	before := pestRule(`pest = "crabgrass"`, "weed", Herbicide)
	in := preventive(t, grassFile(t, "bermuda"), "crabgrass", before)
	week, issue, felt := in.Week, in.IssueDate, in.Felt
	hours := func(windMS float64) []spray.Hour {
		var out []spray.Hour
		for h := range 24 {
			out = append(out, spray.Hour{Date: issue.AddDays(2), Of: h, TC: 15, RHPct: 60, WindMS: windMS, GustMS: windMS, CloudPct: 80, SinceSunriseH: float64(h) - 6, ToSunsetH: 18 - float64(h)})
		}
		return out
	}
	in.Hours = hours(3)
	_, conditions := draftOf(t, in, "crabgrass")
	assert.Contains(t, textsOf(conditions), "fit hours to spray")
	in = walk(t, felt, week, grassFile(t, "bermuda"), before)
	in.Hours = hours(12)
	stopped, conditions := draftOf(t, in, "crabgrass")
	require.Nil(t, stopped)
	assert.Contains(t, phraseIDs(conditions), "gate.spray.none_but_granules")

	// A leaf spray has no such way out.
	in = walk(t, felt, week, grassFile(t, "tall-fescue"), pestRule(`pest = "winter-annual-broadleaf"`, "weed", Herbicide))
	in.Hours = hours(12)
	d := Draft{Topic: Weed, Verdict: Do, Uses: []string{Herbicide}}
	stopped, _ = in.sprayGate(d)
	require.NotNil(t, stopped)
	assert.Equal(t, "spray", stopped.gate)
	assert.Equal(t, Wait, stopped.verdict)
}

// Nitrogen: held in heat on cool-season grass, closed once the year's is used
// up, and shared out over the year so that nothing is left at its end.
func TestNitrogenGates(t *testing.T) {
	feed := rule("feed", "feed", "do", 50, `"nitrogen"`, `date = { between = ["01-01", "12-31"] }`)
	week, issue := weekOf(2026, 7, 15)
	hot := year{20, 14, 12, 9}
	in := walk(t, hot.lived(issue), week, grassFile(t, "tall-fescue"), feed)
	stopped, _ := in.feedHeatGate(Draft{Uses: []string{Nitrogen}})
	require.NotNil(t, stopped)
	assert.Equal(t, "heat", stopped.gate)
	in = walk(t, hot.lived(issue), week, grassFile(t, "bermuda"), feed)
	stopped, _ = in.feedHeatGate(Draft{Uses: []string{Nitrogen}})
	assert.Nil(t, stopped, "heat is what warm-season grass likes")

	left, used := math.NaN(), 0.0
	for _, md := range [][2]int{{2, 11}, {5, 13}, {7, 15}, {9, 16}, {12, 30}} {
		week, issue := weekOf(2026, md[0], md[1])
		in := walk(t, piedmont.lived(issue), week, grassFile(t, "bermuda"), feed)
		n := in.nitrogenOf()
		require.False(t, math.IsNaN(n.leftGM2), "%v", md)
		assert.False(t, n.leftGM2 > left, "it only becomes less: %v", md)
		assert.True(t, n.leftGM2 >= 0 && n.leftGM2 <= n.annualGM2)
		left, used = n.leftGM2, n.annualGM2-n.leftGM2
	}
	assert.InDelta(t, in.Grass.NMediumGM2, used, 0.05*in.Grass.NMediumGM2, "a usual year uses up the year's rate")
	week, issue = weekOf(2026, 12, 30)
	in = walk(t, piedmont.lived(issue), week, grassFile(t, "bermuda"), feed)
	stopped, _ = in.overlapFeedGate(Draft{Uses: []string{Nitrogen}})
	require.NotNil(t, stopped)
	assert.Equal(t, "overlap", stopped.gate)
}

// A pre-emergent on record keeps seed away until its interval has passed.
func TestSeedGate(t *testing.T) {
	week, issue := weekOf(2026, 4, 15)
	in := walk(t, piedmont.lived(issue), week, grassFile(t, "tall-fescue"), rule("seed", "project", "do", 50, `"seed"`, `date = { between = ["01-01", "12-31"] }`))
	assert.Equal(t, Do, answerOn(t, Read(in), Project).Verdict)
	in.lawn = &lawn{}
	in.Treatments = []pest.Treatment{{Date: issue.AddDays(-20), Target: "crabgrass", Groups: []string{"3"}}}
	a := answerOn(t, Read(in), Project)
	assert.Equal(t, Wait, a.Verdict)
	assert.Equal(t, "overlap", a.Lead.Gate)
	in.Treatments[0].Date = issue.AddDays(-500)
	assert.Equal(t, Do, answerOn(t, Read(in), Project).Verdict)
	in.Treatments[0] = pest.Treatment{Date: issue.AddDays(-20), Target: "brown-patch", Groups: []string{"3"}}
	assert.Equal(t, Do, answerOn(t, Read(in), Project).Verdict, "group 3 of fungicides is another")
}

// A rule that speaks of each disease speaks of those of the grass, the most
// urgent first, and prints what their files say.
func TestRulesOfEachPest(t *testing.T) {
	week, issue := weekOf(2026, 7, 15)
	in := walk(t, piedmont.lived(issue), week, grassFile(t, "tall-fescue"), `
[[rule]]
id = "look"
topic = "disease"
each = "disease"
verdict = "look"
weight = 5
uses = []
[rule.when]
disease_risk = { at_most = "act" }
[rule.text]
say = "{pest}: {disease_risk}"
why = "{pest_look} {pest_culture} {pest_worth}"
source = "own design"
`)
	r := Read(in)
	a := answerOn(t, r, Disease)
	drafts := append([]Draft{a.Lead}, a.Support...)
	for i, d := range drafts {
		rank, _ := d.Pest.Disease.Host("tall-fescue")
		assert.Positive(t, rank)
		assert.True(t, strings.HasPrefix(says(d.Say), d.Pest.Name()+": "), says(d.Say))
		assert.NotContains(t, says(d.Why), "«")
		if i > 0 {
			assert.GreaterOrEqual(t, drafts[i-1].urgency(), d.urgency())
		}
	}
	assert.Greater(t, len(drafts), 3)
	assert.NotContains(t, textsOf([]message.Message{a.Lead.Say}), "Large patch")
	// Asked of a disease that does not attack the grass, the answer is quiet.
	p := in.pest(Disease, "large-patch")
	require.NotNil(t, p)
	assert.Equal(t, "quiet", p.grade(in).Word)
}

// Every mistake in what a rule says of pests has its line and what would do.
func TestMistakesInRulesOfPests(t *testing.T) {
	_, catalogue := book(t)
	for _, c := range []struct{ name, text, want string }{
		{"no such pest", "pest = \"brown-pach\"", `there is no pest "brown-pach"; did you mean "brown-patch"`},
		{"pest and another kind", "pest = \"crabgrass\"\neach = \"disease\"", `"crabgrass" is not a disease`},
		{"herbicide for a disease", "each = \"disease\"\nuses2 = 1", "unknown key"},
		{"of no pest", "WHEN disease_risk = [\"watch\"]", "disease_risk is asked of one disease"},
		{"of a weed", "WHEN disease_risk = { of = \"crabgrass\", is = [\"watch\"] }", `there is no disease "crabgrass"`},
		{"no such word", "WHEN disease_risk = { of = \"brown-patch\", at_least = \"wach\" }", `watch`},
		{"no such stage", "WHEN weed_stage = { of = \"crabgrass\", is = [\"blooming\"] }", `unknown word "blooming"`},
		{"a trend of a grade", "WHEN disease_score = { of = \"brown-patch\", rising = \"7 days\" }", "known for the issue date alone"},
		{"a slot without a pest", "SAY {pest}", "{pest} is told of a pest"},
		{"an indicator without a pest", "SAY {weed_uptake}", "{weed_uptake} is told of one weed"},
	} {
		head, when, say := c.text, "", "say"
		if s, ok := strings.CutPrefix(c.text, "WHEN "); ok {
			head, when = "", s
		}
		if s, ok := strings.CutPrefix(c.text, "SAY "); ok {
			head, say = "", s
		}
		var list diag.List
		root, ok := diag.ReadTOML("r.toml", []byte(fmt.Sprintf("[[rule]]\nid = \"r\"\ntopic = \"disease\"\nverdict = \"look\"\nweight = 5\nuses = []\n%s\n[rule.when]\n%s\n[rule.text]\nsay = %q\nsource = \"own design\"\n", head, when, say)), &list)
		require.True(t, ok, c.name)
		ReadRules(root, catalogue, pests(t))
		require.Positive(t, list.Errors(), c.name)
		assert.Contains(t, list.Error(), c.want, c.name)
		assert.Regexp(t, `r\.toml:\d+: `, list.Error())
	}
}

// No advice that puts a pesticide or fertilizer on a lawn comes without the
// cautions of its kind, whatever its rule says.
func TestPropertyNoProductWithoutItsCautions(t *testing.T) {
	grass := grassFile(t, "bermuda")
	of := preventive(t, grass, "crabgrass", "")
	week, felt := of.Week, of.Felt
	must := map[string][]string{
		Nitrogen: {"label", "code", "sweep", "ground", "keep-off", "water-label", "storage"}, Phosphorus: {"label", "code", "sweep"},
		Herbicide:   {"label", "ppe", "keep-off", "wind", "heat", "bees", "water-label", "storage", "disposal", "restricted"},
		Fungicide:   {"label", "ppe", "keep-off", "wind", "water-label", "storage", "disposal", "restricted"},
		Insecticide: {"label", "ppe", "keep-off", "wind", "bees", "water-label", "storage", "disposal", "restricted"},
	}
	subjects := map[Topic]string{Disease: Fungicide, Weed: Herbicide, Insect: Insecticide}
	spoke := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		kind := rapid.SampledFrom([]Topic{Disease, Weed, Insect}).Draw(rt, "kind")
		topic := rapid.SampledFrom(Topics()).Draw(rt, "topic")
		uses := []string{subjects[kind]}
		if topic == Feed || rapid.Bool().Draw(rt, "with nitrogen") {
			uses = append(uses, Nitrogen)
		}
		text := fmt.Sprintf("[[rule]]\nid = \"r\"\neach = %q\ntopic = %q\nverdict = \"do\"\nweight = %d\nuses = [\"%s\"]\n[rule.when]\n[rule.text]\nsay = \"{pest}\"\nsource = \"own design\"\n",
			kind, topic, rapid.IntRange(0, 100).Draw(rt, "weight"), strings.Join(uses, `", "`))
		for _, a := range Read(walk(t, felt, week, grass, text)).Answers {
			if a.Verdict != Do {
				continue
			}
			for _, d := range append([]Draft{a.Lead}, a.Support...) {
				for _, u := range d.Uses {
					spoke[u]++
					for _, id := range must[u] {
						if !slices.Contains(a.Cautions, id) {
							rt.Fatalf("%s without the caution %q", u, id)
						}
					}
				}
			}
		}
	})
	assert.Positive(t, spoke[Herbicide], "the property is not empty")
}

// What a pest's own words may suggest has its cautions too, even on an answer
// that only says to look.
func TestLooksAtPestsThatAreTreatedHaveCautions(t *testing.T) {
	in := preventive(t, grassFile(t, "bermuda"), "crabgrass", `
[[rule]]
id = "look"
topic = "weed"
pest = "crabgrass"
verdict = "look"
weight = 5
uses = []
[rule.when]
[rule.text]
say = "{pest}"
why = "{pest_says}"
source = "own design"
`)
	a := answerOn(t, Read(in), Weed)
	assert.Equal(t, Look, a.Verdict)
	for _, id := range []string{"label", "ppe", "keep-off", "wind"} {
		assert.Contains(t, a.Cautions, id)
	}
	// At a stage without a treatment there is nothing to be cautious of.
	p := in.pest(Weed, "crabgrass")
	p.Progress.Stage.ID = "established"
	assert.NotContains(t, answerOn(t, Read(in), Weed).Cautions, "ppe")
}

// All models over ten years of one station and four grasses: what the grass
// felt, its growth and water, the year with its ensemble, every pest, and the
// reading that asks them.
func BenchmarkTenYearsOfAllModels(b *testing.B) {
	week, issue := weekOf(2026, 7, 15)
	view := piedmont.livedFor(10, issue).View
	var grasses []*turf.Profile
	var calendars []*season.Calendar
	for _, id := range []string{"bermuda", "zoysia", "tall-fescue", "centipede"} {
		grasses = append(grasses, grassFile(b, id))
		calendars = append(calendars, calendar(b, "piedmont", id))
	}
	cautions, catalogue := book(b)
	soil, _ := turf.SoilByID("loam")
	all := pests(b)
	b.ReportAllocs()
	for b.Loop() {
		felt := view.Felt()
		record := season.NewRecord(felt)
		for i, g := range grasses {
			r := Read(&Input{
				Week: week, IssueDate: issue, Climate: "piedmont", Grass: g, Felt: felt, Daily: turf.Run(g, soil, felt), Lawn: record.Lawn(g),
				Calendar: calendars[i], Pests: all, Catalogue: catalogue, Cautions: cautions, Units: quantity.US,
			})
			if !r.Growth.RainFed.Enough || len(r.Pests) == 0 || len(r.Windows) == 0 {
				b.Fatal("a model was not asked")
			}
		}
	}
}
