package advice

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/disease"
	"ligule/internal/herbicide"
	"ligule/internal/homeuse"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/stage"
	"ligule/internal/turf"
	"ligule/internal/voice"
	"ligule/internal/watering"
	"ligule/internal/weather"
)

// The demonstration's own phrases, cautions and indicators are what the tests
// run with: they are the sentences that readers get.
func book(t testing.TB) ([]Caution, *Catalogue) {
	t.Helper()
	var list diag.List
	read := func(name string) *diag.Table {
		text, err := os.ReadFile("../../data/" + name)
		require.NoError(t, err)
		root, ok := diag.ReadTOML(name, text, &list)
		require.True(t, ok)
		return root
	}
	cautions, catalogue := ReadCautions(read("cautions.toml")), ReadCatalogue(read("indicators.toml"))
	require.NoError(t, list.Err())
	return cautions, catalogue
}

// speak says what readings say, in the demonstration's phrases.
var speak = func() voice.Voice {
	text, err := os.ReadFile("../../data/phrases.toml")
	if err != nil {
		panic(err)
	}
	root, ok := diag.ReadTOML("phrases.toml", text, new(diag.List))
	if !ok {
		panic("data/phrases.toml cannot be read")
	}
	return voice.Voice{Book: voice.ReadBook(root)}
}()

// completing lists the codes that complete a start of phrases.
func completing(start string) []string {
	var out []string
	for _, id := range speak.Book.IDs() {
		if code, ok := strings.CutPrefix(id, start); ok {
			out = append(out, code)
		}
	}
	return out
}

// says is a message in words, with plain spaces.
func says(m message.Message) string { return strings.ReplaceAll(speak.Say(m), "\u00a0", " ") }

// codeOf names what a message says: its code, or that of the first sentence of
// several; of a law that of the sentence, whatever place it names.
func codeOf(m message.Message) string {
	if v, ok := m.Slot("says"); ok && m.Code == "place.at" {
		return v.Message.Code
	}
	if v, ok := m.Alone(); ok && len(v.Parts) > 0 {
		return v.Parts[0].Message.Code
	}
	return m.Code
}

// demoPests holds the demonstration's pests once they have been read.
var demoPests *Book

// pests are those of the demonstration.
func pests(t testing.TB) *Book {
	t.Helper()
	if demoPests != nil {
		return demoPests
	}
	b, list := &Book{}, &diag.List{}
	read := func(file string) *diag.Table {
		text, err := os.ReadFile(filepath.Join("../../data/pests", file))
		require.NoError(t, err)
		root, ok := diag.ReadTOML(file, text, list)
		require.True(t, ok, list.Error())
		return root
	}
	each := func(folder string, add func(id string, t *diag.Table)) {
		entries, err := os.ReadDir("../../data/pests/" + folder)
		require.NoError(t, err)
		for _, e := range entries {
			add(strings.TrimSuffix(e.Name(), ".toml"), read(folder+"/"+e.Name()))
		}
	}
	b.Herbicides = herbicide.Read(read("herbicides.toml"))
	b.Ingredients = homeuse.Read(read("ingredients.toml"))
	defaults := read("defaults.toml")
	each("diseases", func(id string, t *diag.Table) { b.Diseases = append(b.Diseases, disease.Read(id, t, defaults)) })
	each("weeds", func(id string, t *diag.Table) { b.Weeds = append(b.Weeds, stage.ReadWeed(id, t, defaults)) })
	each("insects", func(id string, t *diag.Table) { b.Insects = append(b.Insects, stage.ReadInsect(id, t, defaults)) })
	require.NoError(t, list.Err())
	demoPests = b
	return b
}

func rules(t testing.TB, c *Catalogue, text string) []*Rule {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML("rules.toml", []byte(text), &list)
	require.True(t, ok, list.Error())
	out := ReadRules(root, c, pests(t))
	require.NoError(t, list.Err())
	return out
}

func lawBook(t testing.TB, records ...string) *law.Book {
	t.Helper()
	var list diag.List
	var all []*law.Record
	for _, text := range records {
		root, ok := diag.ReadTOML("law.toml", []byte(text), &list)
		require.True(t, ok, list.Error())
		all = append(all, law.ReadRecord(root))
	}
	require.NoError(t, list.Err())
	return law.NewBook(all, []law.Jurisdiction{
		{ID: "state", Name: "State of Somewhere", Level: "state"},
		{ID: "county", Name: "Some County", Level: "county", Parent: "state", Coverage: "none_found", CheckedOn: civil.MustDate(2026, 1, 10)},
	})
}

// record is an invented law; extra is appended.
func record(id, jurisdiction, checked, extra string) string {
	return `
schema = 1
id = "` + id + `"
fictional = true
jurisdiction = "` + jurisdiction + `"
jurisdiction_name = "Invented ` + jurisdiction + `"
level = "state"
parent = ""
applies_in = "all"
tz = "America/New_York"
title = "Invented Lawn Act"
citation = "Inv. Code 1"
source_url = "https://law.example.invalid/1"
source_kind = "official_code"
adopted_on = 2011-05-19
effective_from = 2013-10-01
status = "in_force"
verification = "verified"
checked_on = ` + checked + `
checked_by = "test"
review_months = 12
relation_down = "floor"
[definitions]
n_threshold_pct = 0.0
p2o5_threshold_pct = 0.0
not_fertilizer = ["lime"]
` + extra
}

func window(id, from, to, targets string) string {
	return `
[[rules]]
id = "` + id + `"
topic = "window"
effect = "ban"
targets = [` + targets + `]
binds = ["all"]
when = [{ kind = "annual", from = "` + from + `", to = "` + to + `", bounds = "[]", bounds_basis = "text" }]
as_written = "closed"
citation = "1(` + id + `)"
`
}

const cap = `
[[rules]]
id = "soluble"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
per_app_soluble_n = 0.5
as_written = "at most 0.5 lb soluble"
citation = "1(cap)"
`

// growing is a bermudagrass lawn in July.
func growing() turf.Growth {
	return turf.Growth{Days: 7, Enough: true, State: turf.Growing, G: 0.8, FT: 0.9, FL: 1, FP: 0.9, FW: 1, G14: 0.8, G21: 0.8,
		MowDays: 4, MowExactDays: 4.1, BalanceOK: true, TAWMM: 50, RAWMM: 25, Soil5C: 27, Soil10C: 26, MeanC: 27}
}

// forecastWeather is a week of fair weather before the issue and a forecast
// with the given rain, mm, from the issue date on.
func forecastWeather(issue civil.Date, rain ...float64) *weather.Felt {
	const before = 60
	s := weather.NewSeries(issue.AddDays(-before), before)
	for i := range before {
		d := s.Start.AddDays(i)
		s.Set(weather.TmaxC, d, 31)
		s.Set(weather.TminC, d, 22)
		s.Set(weather.RainMM, d, 0)
	}
	var forecasts []weather.Forecast
	if rain != nil {
		f := weather.NewSeries(issue, len(rain))
		for i, mm := range rain {
			f.Set(weather.TmaxC, issue.AddDays(i), 31)
			f.Set(weather.TminC, issue.AddDays(i), 22)
			f.Set(weather.RainMM, issue.AddDays(i), mm)
		}
		forecasts = append(forecasts, weather.Forecast{Issued: issue, Days: f})
	}
	return weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 33}, s, forecasts, issue).Felt()
}

// week29 is Monday 13 to Sunday 19 July 2026, issued on Sunday the 12th.
var (
	week29  = civil.Week{Year: 2026, Num: 29}
	issue29 = civil.MustDate(2026, 7, 12)
	fair    = []float64{0, 0, 0, 0, 0, 0, 0, 0}
)

// reading makes a reading of a grass in a given state, under a given law.
func reading(t testing.TB, g turf.Growth, felt *weather.Felt, b *law.Book, places []law.Place, kind turf.Kind, ruleText string) *Reading {
	t.Helper()
	return Read(inputOf(t, g, felt, b, places, kind, ruleText))
}

// inputOf is what reading reads.
func inputOf(t testing.TB, g turf.Growth, felt *weather.Felt, b *law.Book, places []law.Place, kind turf.Kind, ruleText string) *Input {
	t.Helper()
	cautions, catalogue := book(t)
	in := &Input{
		Week: week29, IssueDate: issue29, ZoneName: "Somewhere", Climate: "coast",
		Grass: &turf.Profile{ID: "bermuda", Name: "Bermudagrass", Kind: kind}, Felt: felt, Daily: &turf.Daily{},
		Rules: rules(t, catalogue, ruleText), Catalogue: catalogue, Cautions: cautions, Units: quantity.US,
		grown: map[int]turf.Reading{},
	}
	for ago := range 70 {
		in.grown[ago] = turf.Reading{RainFed: g}
	}
	if felt == nil {
		in.Daily, in.grown = nil, nil
	}
	in.Law = lawOf(felt, b, watering.NewBook(nil, nil), places)
	return in
}

// lawOf asks the law about the week, with the rain that is forecast.
func lawOf(felt *weather.Felt, b *law.Book, water *watering.Book, places []law.Place) ZoneLaw {
	return AskLaw(b, water, places, week29, issue29, func(d civil.Date) *law.Weather {
		if felt == nil || felt.View.Basis(weather.RainMM, d) != weather.ForecastDay {
			return nil
		}
		return ForecastRain(felt.View.Days.At(weather.RainMM, d), nil)
	})
}

func rule(id, topic, verdict string, weight int, uses, when string) string {
	return `
[[rule]]
id = "` + id + `"
topic = "` + topic + `"
verdict = "` + verdict + `"
weight = ` + quantity.Fixed(float64(weight), 0) + `
uses = [` + uses + `]
[rule.when]
` + when + `
[rule.text]
say = "say ` + id + `"
source = "common practice"
`
}

func answerOn(t testing.TB, r *Reading, topic Topic) Answer {
	t.Helper()
	for _, a := range r.Answers {
		if a.Topic == topic {
			return a
		}
	}
	require.Fail(t, "no answer on "+string(topic))
	return Answer{}
}

func ids(reasons []message.Message) []string {
	var out []string
	for _, r := range reasons {
		out = append(out, codeOf(r))
	}
	return out
}

const (
	feedDo  = "growth_state = [\"growing\", \"dormant\"]"
	onState = "growth_state = [\"dormant\", \"flush\", \"growing\", \"greening up\", \"recovering\", \"resting\", \"slowing\"]"
)

var onePlace = []law.Place{{Name: "Somewhere", Chain: []string{"state"}}}

// The first table of cases of how rules, gates and law come to one answer.
func TestFromRulesToOneAnswer(t *testing.T) {
	open := record("open", "state", "2026-01-10", window("winter", "12-01", "02-01", `"N"`))
	nitrogen := rule("feed-now", "feed", "do", 50, `"nitrogen"`, feedDo)

	t.Run("growing, season open: do it", func(t *testing.T) {
		r := reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, open), onePlace, turf.WarmSeason, nitrogen)
		a := answerOn(t, r, Feed)
		assert.Equal(t, Do, a.Verdict)
		assert.Equal(t, "say feed-now", says(a.Lead.Say))
		assert.Contains(t, a.Cautions, "label")
		assert.Contains(t, a.Cautions, "code")
	})
	t.Run("closed on Thursday only: closed, the day named", func(t *testing.T) {
		b := lawBook(t, record("thu", "state", "2026-01-10", window("one-day", "07-16", "07-16", `"N"`)))
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), b, onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Closed, a.Verdict)
		require.Len(t, a.Lead.Reasons, 1)
		assert.Contains(t, says(a.Lead.Reasons[0]), "Thursday, July 16")
		assert.NotContains(t, says(a.Lead.Reasons[0]), "Wednesday")
		assert.Contains(t, says(a.Lead.Reasons[0]), "Invented Lawn Act")
		assert.Contains(t, says(a.Lead.Reasons[0]), "January 10, 2026", "the day the law was read")
	})
	t.Run("two places, one closed: closed, that place named", func(t *testing.T) {
		b := lawBook(t, open, record("shore", "county", "2026-01-10", window("wet-season", "06-01", "09-30", `"N"`)))
		places := []law.Place{{Name: "the shore", Chain: []string{"state", "county"}}, {Name: "the hills", Chain: []string{"state"}}}
		r := reading(t, growing(), forecastWeather(issue29, fair...), b, places, turf.WarmSeason, nitrogen)
		a := answerOn(t, r, Feed)
		assert.Equal(t, Closed, a.Verdict)
		require.Len(t, a.Lead.Reasons, 1)
		assert.Contains(t, says(a.Lead.Reasons[0]), "The shore: closed")
	})
	t.Run("record stale: wait, with the date of the last check", func(t *testing.T) {
		b := lawBook(t, record("old", "state", "2025-01-10", window("winter", "12-01", "02-01", `"N"`)))
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), b, onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Wait, a.Verdict)
		assert.Equal(t, "law", a.Lead.Gate)
		assert.Equal(t, []string{"flag.stale"}, ids(a.Lead.Reasons))
		assert.Contains(t, says(a.Lead.Reasons[0]), "January 10, 2025")
	})
	t.Run("a cap: do it, with the cap as a condition", func(t *testing.T) {
		b := lawBook(t, record("capped", "state", "2026-01-10", window("winter", "12-01", "02-01", `"N"`)+cap))
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), b, onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Do, a.Verdict)
		require.Contains(t, ids(a.Conditions), "condition.per_app_soluble_n")
		assert.Contains(t, says(a.Conditions[0]), "0.5 lb")
	})
	t.Run("2.3 in forecast on Tuesday: wait until it has passed", func(t *testing.T) {
		rain := []float64{0, 0, 58.4, 0, 0, 0, 0, 0}
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, rain...), lawBook(t, open), onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Wait, a.Verdict)
		assert.Equal(t, "storm", a.Lead.Gate)
		assert.Contains(t, says(a.Lead.Say), "Tuesday, July 14")
	})
	t.Run("dormant, and a rule that feeds all the same: skip it", func(t *testing.T) {
		g := growing()
		g.State, g.G, g.MowDays = turf.Dormant, 0.01, 0
		a := answerOn(t, reading(t, g, forecastWeather(issue29, fair...), lawBook(t, open), onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Skip, a.Verdict)
		assert.Equal(t, "growth", a.Lead.Gate)
	})
	t.Run("fungicide, mowing every 20 days: wait for next season", func(t *testing.T) {
		g := growing()
		g.State, g.MowDays = turf.Slowing, 20
		in := inputOf(t, g, forecastWeather(issue29, fair...), lawBook(t, open), onePlace, turf.WarmSeason,
			"[[rule]]\npest = \"dollar-spot\""+strings.TrimPrefix(strings.TrimSpace(rule("spray", "disease", "do", 50, `"fungicide"`, onState)), "[[rule]]"))
		in.Pests = pests(t)
		spot, _ := in.Pests.Disease("dollar-spot")
		in.found = []*Pest{{Kind: Disease, Disease: spot, Found: pest.Assessment{ID: "dollar-spot", Known: true, Grade: pest.Act, Host: pest.MainHost}, Decision: &disease.Decision{Answer: disease.AnswerOpen}}}
		a := answerOn(t, Read(in), Disease)
		assert.Equal(t, Wait, a.Verdict)
		assert.Equal(t, "growth", a.Lead.Gate)
		assert.Contains(t, says(a.Lead.Reasons[0]), "20 days")
	})
	t.Run("a value is missing: no answer from that rule, and it is listed", func(t *testing.T) {
		g := growing()
		g.BalanceOK = false
		a := answerOn(t, reading(t, g, forecastWeather(issue29, fair...), lawBook(t, open), onePlace, turf.WarmSeason,
			rule("water-it", "water", "do", 50, `"water"`, `irrigation_need = { at_least = "0.1 in" }`)), Water)
		assert.Equal(t, NotEnough, a.Verdict)
		require.Len(t, a.Lacking, 1)
		assert.Equal(t, "water-it", a.Lacking[0].Rule.ID)
		assert.Equal(t, []Truth{Unknown}, a.Lacking[0].Held)
	})
	t.Run("two rules of the same weight: by rule id, the other listed", func(t *testing.T) {
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, open), onePlace, turf.WarmSeason,
			rule("b-wait", "feed", "wait", 50, ``, onState)+rule("a-feed", "feed", "do", 50, `"nitrogen"`, onState)), Feed)
		assert.Equal(t, Do, a.Verdict)
		assert.Equal(t, "a-feed", a.Lead.Rule.ID)
		require.Len(t, a.Dropped, 1)
		assert.Equal(t, "b-wait", a.Dropped[0].Draft.Rule.ID)
	})
	iron := rule("iron", "feed", "do", 50, `"iron"`, onState)
	closedN := record("n-closed", "state", "2026-01-10", window("summer", "06-01", "09-30", `"N"`))
	t.Run("iron while nitrogen is closed: do it", func(t *testing.T) {
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, closedN), onePlace, turf.WarmSeason, iron), Feed)
		assert.Equal(t, Do, a.Verdict)
		assert.Contains(t, a.Cautions, "not-food")
	})
	t.Run("iron where any fertilizer is closed: closed", func(t *testing.T) {
		b := lawBook(t, record("all-closed", "state", "2026-01-10", window("summer", "06-01", "09-30", `"any"`)))
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), b, onePlace, turf.WarmSeason, iron), Feed)
		assert.Equal(t, Closed, a.Verdict)
	})
	t.Run("no weather: nothing is advised, and the law still speaks", func(t *testing.T) {
		all := nitrogen + rule("cut", "mow", "do", 50, ``, onState)
		r := reading(t, turf.Growth{}, nil, lawBook(t, open), onePlace, turf.WarmSeason, all)
		assert.False(t, r.Growth.RainFed.Enough)
		for _, a := range r.Answers {
			assert.Equal(t, NotEnough, a.Verdict, a.Topic)
		}
		r = reading(t, turf.Growth{}, nil, lawBook(t, closedN), onePlace, turf.WarmSeason, all)
		assert.Equal(t, Closed, answerOn(t, r, Feed).Verdict)
	})
}

// What the gates must do besides the table.
func TestGatesCannotBeForgotten(t *testing.T) {
	open := record("open", "state", "2026-01-10", window("winter", "12-01", "02-01", `"N"`))
	closed := record("closed", "state", "2026-01-10", window("summer", "06-01", "09-30", `"N"`))
	nitrogen := rule("feed-now", "feed", "do", 50, `"nitrogen"`, onState)

	t.Run("a closed season speaks though no rule proposed to feed", func(t *testing.T) {
		r := reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, closed), onePlace, turf.WarmSeason, rule("later", "feed", "wait", 90, ``, onState))
		a := answerOn(t, r, Feed)
		assert.Equal(t, Closed, a.Verdict)
		require.Len(t, a.Dropped, 1)
	})
	t.Run("a planted rule on another topic meets the law too", func(t *testing.T) {
		r := reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, closed), onePlace, turf.WarmSeason, rule("sneaky", "project", "do", 100, `"seed", "nitrogen"`, onState))
		assert.Equal(t, Closed, answerOn(t, r, Project).Verdict)
	})
	t.Run("a gated draft never supports another", func(t *testing.T) {
		rain := []float64{0, 0, 58.4, 0, 0, 0, 0, 0}
		r := reading(t, growing(), forecastWeather(issue29, rain...), lawBook(t, open), onePlace, turf.WarmSeason,
			nitrogen+rule("wait-anyway", "feed", "wait", 60, ``, onState))
		a := answerOn(t, r, Feed)
		assert.Equal(t, "wait-anyway", a.Lead.Rule.ID)
		assert.Empty(t, a.Support)
		require.Len(t, a.Dropped, 1)
		assert.Equal(t, "dropped.gate", a.Dropped[0].Reason.Code)
	})
	t.Run("a place that nobody looked up is not cleared", func(t *testing.T) {
		r := reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, open), []law.Place{{Name: "the edge", Chain: []string{"state", "nowhere"}}}, turf.WarmSeason, nitrogen)
		a := answerOn(t, r, Feed)
		assert.Equal(t, Wait, a.Verdict)
		assert.Equal(t, []string{"flag.no_record"}, ids(a.Lead.Reasons))
	})
	t.Run("a zone without a place is not cleared", func(t *testing.T) {
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, fair...), lawBook(t, open), nil, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Wait, a.Verdict)
		assert.Equal(t, []string{"law.no_place"}, ids(a.Lead.Reasons))
	})
	t.Run("two days' rain of 2 in bounds the day: warned, not held", func(t *testing.T) {
		rain := []float64{0, 0, 30, 25, 0, 0, 0, 0}
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, rain...), lawBook(t, open), onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Do, a.Verdict)
		assert.Contains(t, ids(a.Conditions), "gate.storm.warn_two_days")
	})
	t.Run("an inch is warned of", func(t *testing.T) {
		rain := []float64{0, 0, 25.4, 0, 0, 0, 0, 0}
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, rain...), lawBook(t, open), onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Contains(t, ids(a.Conditions), "gate.storm.warn_day")
	})
	t.Run("no forecast holds", func(t *testing.T) {
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29), lawBook(t, open), onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Wait, a.Verdict)
		assert.Equal(t, "storm", a.Lead.Gate)
		assert.Contains(t, ids(a.Lead.Reasons), "gate.storm.unknown_why")
	})
	t.Run("a law on heavy rain closes the day of the forecast", func(t *testing.T) {
		b := lawBook(t, record("rainy", "state", "2026-01-10", `
[[rules]]
id = "heavy-rain"
topic = "weather"
effect = "ban"
targets = ["N", "P"]
binds = ["all"]
rain_in = 1.0
rain_hours = 24
rain_compare = ">"
rain_basis = "forecast"
as_written = "more than one inch is forecast within 24 hours"
citation = "1(rain)"
`))
		rain := []float64{0, 0, 0, 30, 0, 0, 0, 0}
		a := answerOn(t, reading(t, growing(), forecastWeather(issue29, rain...), b, onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Closed, a.Verdict)
		require.Equal(t, []string{"law.closed_rain"}, ids(a.Lead.Reasons))
		assert.Contains(t, says(a.Lead.Reasons[0]), "Wednesday, July 15")
		a = answerOn(t, reading(t, growing(), forecastWeather(issue29, 0, 0, 0, 25.4, 0, 0, 0, 0), b, onePlace, turf.WarmSeason, nitrogen), Feed)
		assert.Equal(t, Do, a.Verdict, "an inch is not more than an inch")
	})
}

const waterBan = `
schema = 1
id = "water"
fictional = true
jurisdiction = "state"
applies_in = "all"
tz = "America/New_York"
title = "Invented Drought Plan"
citation = "Inv. Plan 2"
source_url = "https://law.example.invalid/2"
effective_from = 2020-01-01
verification = "%s"
checked_on = 2026-01-10
review_months = 12
force = "by_stage"
source_water = ["public"]
no_number = "odd"
letter_suffix = "ignore"
[[stages]]
n = 1
name = "Emergency"
force = "mandatory"
ban = true
[[declared]]
stage = 1
from = %s
to = %s
`

// A ban on watering closes watering, whatever a rule says; one that has ended,
// and one at another place, does not.
func TestWateringMeetsTheLaw(t *testing.T) {
	water := rule("water-it", "water", "do", 100, `"water"`, onState)
	ask := func(verification, from, to string, places []law.Place) Answer {
		var list diag.List
		root, ok := diag.ReadTOML("water.toml", []byte(fmt.Sprintf(waterBan, verification, from, to)), &list)
		require.True(t, ok, list.Error())
		w := watering.ReadRecord(root)
		require.NoError(t, list.Err())
		b, felt := lawBook(t, record("open", "state", "2026-01-10", window("winter", "12-01", "02-01", `"N"`))), forecastWeather(issue29, fair...)
		in := inputOf(t, growing(), felt, b, places, turf.WarmSeason, water)
		in.Law = lawOf(felt, b, watering.NewBook([]*watering.Record{w}, nil), places)
		return answerOn(t, Read(in), Water)
	}
	a := ask("verified", "2026-07-01", "2026-08-01", onePlace)
	assert.Equal(t, Closed, a.Verdict)
	assert.Equal(t, "law", a.Lead.Gate)
	require.Equal(t, []string{"law.water_closed_all"}, ids(a.Lead.Reasons))
	assert.Contains(t, says(a.Lead.Reasons[0]), "Invented Drought Plan")
	assert.Contains(t, says(a.Lead.Reasons[0]), "January 10, 2026")

	assert.Equal(t, Do, ask("verified", "2026-05-01", "2026-06-01", onePlace).Verdict, "the order has ended")

	// Not confirmed, with no order in force: it can close, never clear.
	a = ask("unverified", "2026-05-01", "2026-06-01", onePlace)
	assert.Equal(t, Wait, a.Verdict)
	assert.Equal(t, []string{"law.water_not_cleared"}, ids(a.Lead.Reasons))

	// Another state's law is none here.
	assert.Equal(t, Do, ask("verified", "2026-07-01", "2026-08-01", []law.Place{{Name: "elsewhere", Chain: []string{"county"}}}).Verdict)
}

// Clauses say what they asked and what they found, and compare what is printed.
func TestClausesSayThemselves(t *testing.T) {
	_, catalogue := book(t)
	in := &Input{Week: week29, IssueDate: issue29, Grass: &turf.Profile{Name: "Bermudagrass", Kind: turf.WarmSeason}, Daily: &turf.Daily{},
		Felt: forecastWeather(issue29, fair...), Catalogue: catalogue, Units: quantity.US, grown: map[int]turf.Reading{}}
	for ago := range 70 {
		g := growing()
		g.G = 0.8 - 0.01*float64(ago) // rising
		g.MowDays = 4 + ago/10
		in.grown[ago] = turf.Reading{RainFed: g}
	}
	judge := func(when string) RuleTrace {
		return rules(t, catalogue, rule("r", "mow", "do", 1, "", when))[0].judge(in, nil)
	}
	for _, c := range []struct {
		when string
		want Truth
		say  string
	}{
		{`growth_state = ["growing"]`, Yes, "State of the grass: growing (asked: growing)"},
		{`growth_state = ["dormant", "resting"]`, No, "State of the grass: growing, which is not dormant or resting"},
		{`days_between_mows = { at_most = "4 days" }`, Yes, "Days between mowings: 4 days (estimated) (asked: at most 4 days)"},
		{`days_between_mows = { above = "4 days" }`, No, "Days between mowings: 4 days (estimated), which is not above 4 days"},
		{`growth_index = { between = [0.5, 0.8] }`, Yes, "Growth index: 0.80 (estimated) (asked: between 0.50 and 0.80)"},
		{`growth_index = { rising = "21 days" }`, Yes, "Growth index: 0.80 (estimated) (asked: rising over 21 days)"},
		{`growth_index = { falling = "21 days" }`, No, "Growth index: 0.80 (estimated), which is not falling over 21 days"},
		{`growth_index = { at_least = 0.75, for_days = 5 }`, Yes, "Growth index: 0.80 (estimated) (asked: at least 0.75, for 5 days running)"},
		{`growth_index = { at_least = 0.75, for_days = 7 }`, No, "Growth index: 0.80 (estimated), which is not at least 0.75, for 7 days running"},
		{`mean_temperature = { at_least = "80 °F" }`, Yes, "Mean temperature, last 7 days: 80 °F (27 °C) (asked: at least 80 °F (27 °C))"},
		{`date = { between = ["07-01", "07-12"] }`, Yes, "Date of the issue: July 12 (asked: between July 1 and July 12)"},
		{`date = { between = ["11-01", "02-28"] }`, No, "Date of the issue: July 12, which is not between November 1 and February 28"},
		{`nitrogen_left = { at_least = "1 lb/1000 ft2" }`, Unknown, "Nitrogen left of the year: not known (asked: at least 1.0 lb per 1,000 sq ft (4.9 g/m²))"},
		{`disease_risk = { of = "brown-patch", at_least = "watch" }`, Unknown, "Disease risk: not known (asked: watch or act)"},
	} {
		trace := judge(c.when)
		assert.Equal(t, c.want, trace.Outcome, c.when)
		require.Len(t, trace.Clauses, 1)
		assert.Equal(t, c.say, says(trace.Clauses[0]))
	}
	// A false clause settles a rule even beside an unknown one.
	trace := judge("nitrogen_left = { at_least = \"1 lb/1000 ft2\" }\ngrowth_state = [\"dormant\"]")
	assert.Equal(t, No, trace.Outcome)
	trace = judge("growth_index = { above = 0.1 }\n[[rule.when.any]]\ngrowth_state = [\"dormant\"]\n[[rule.when.any]]\ngrowth_state = [\"growing\"]\ndays_between_mows = { at_most = \"9 days\" }")
	assert.Equal(t, Yes, trace.Outcome)
}

// What is printed is what is compared: 79.6 °F prints as 80 and counts as 80.
func TestThresholdsAreComparedAsPrinted(t *testing.T) {
	_, catalogue := book(t)
	ind, _ := catalogue.Find("mean_temperature")
	in := &Input{Units: quantity.US}
	limit, err := quantity.Parse("80 °F", quantity.Temperature)
	require.NoError(t, err)
	for f, want := range map[float64]Truth{79.4: No, 79.6: Yes, 80: Yes} {
		v := Value{Indicator: ind, Num: (f - 32) * 5 / 9}
		assert.Equal(t, want, test{op: "at_least", low: limit}.judge(in, ind, v, 0), "%v °F prints as %s", f, speak.Value(v.Shown()))
	}
}

// Every mistake in a rule has its line and what would do.
func TestMistakesInRules(t *testing.T) {
	_, catalogue := book(t)
	var list diag.List
	root, ok := diag.ReadTOML("data/rules/x.toml", []byte(`
[[rule]]
id = "a"
topic = "fed"
verdict = "do"
weight = 500
[rule.when]
soil_temp_4in = { at_least = "65 °F" }
soil_temperature_4in = { at_leest = "65 °F", above = "65 in" }
growth_state = ["growin"]
date = { at_least = "07-01" }
last_frost = { within = "10 days" }
growth_index = { for_days = 900, below = 0.5 }
[rule.text]
say = "now {growth_indx} {"
source = "somebody-2001"

[[rule]]
id = "b"
topic = "feed"
verdict = "do"
weight = 1
uses = ["water"]
[rule.when]
mean_temperature = { within = "10 days of frost" }
[rule.text]
say = "x"
source = "common practice"
`), &list)
	require.True(t, ok)
	ReadRules(root, catalogue, pests(t))
	got := list.Error()
	for _, want := range []string{
		`data/rules/x.toml:4: rule[0].topic: unknown value "fed"; did you mean "feed"?`,
		`data/rules/x.toml:6: rule[0].weight: 500 is outside 0 to 100`,
		`data/rules/x.toml:2: rule[0].uses: missing; add uses = ["…"]`,
		`data/rules/x.toml:8: rule[0].when.soil_temp_4in: there is no such indicator; did you mean "soil_temperature_4in"?`,
		`data/rules/x.toml:9: rule[0].when.soil_temperature_4in.at_leest: there is no such test; did you mean "at_least"?`,
		`data/rules/x.toml:9: rule[0].when.soil_temperature_4in.above: "65 in" is a depth or height, but a temperature is wanted, in °C or °F`,
		`data/rules/x.toml:10: rule[0].when.growth_state: unknown word "growin"; did you mean "growing"?`,
		`data/rules/x.toml:11: rule[0].when.date.at_least: a date has no test "at_least"; use between = ["09-01", "11-30"]`,
		`data/rules/x.toml:13: rule[0].when.growth_index.for_days: 900 is outside 1 to 60 days`,
		`data/rules/x.toml:15: rule[0].text.say: a { without its }`,
		`data/rules/x.toml:14: rule[0].text.standing: missing; add standing = "verified" if you read it there, or "memory"`,
		`data/rules/x.toml:23: rule[1].uses: a rule that says to feed must use a nutrient`,
		`data/rules/x.toml:25: rule[1].when.mean_temperature.within: there is no such test; use one of above, at_least`,
	} {
		assert.Contains(t, got, want)
	}
	assert.Equal(t, 14, strings.Count(got, "\n")+1, got)
}

// No value from missing weather: with nothing on file every weather indicator
// is unknown.
func TestNoIndicatorSpeaksWithoutWeather(t *testing.T) {
	_, catalogue := book(t)
	in := &Input{Week: week29, IssueDate: issue29, Grass: &turf.Profile{Kind: turf.WarmSeason}, Catalogue: catalogue}
	for _, ind := range catalogue.All() {
		v := in.value(ind, nil, 0)
		assert.Equal(t, ind.Name == "date", v.Known(), ind.Name)
		if ind.Kind == Quantity {
			assert.True(t, math.IsNaN(v.Num), ind.Name)
		}
	}
}

func FuzzReadRules(f *testing.F) {
	_, catalogue := book(f)
	f.Add(rule("a", "feed", "do", 50, `"nitrogen"`, "growth_index = { between = [0.1, 0.2], for_days = 3 }"))
	f.Add("[[rule]]\nwhen = 3\ntext = []\n")
	f.Add("rule = [ {when = {any = [ {date = {between = [1]}} ]}} ]")
	f.Fuzz(func(t *testing.T, text string) {
		var list diag.List
		root, ok := diag.ReadTOML("r.toml", []byte(text), &list)
		if !ok {
			return
		}
		for _, r := range ReadRules(root, catalogue, &Book{}) {
			if list.Err() == nil && (r.ID == "" || r.Say == "" || r.Source == "") {
				t.Errorf("accepted a rule without %+v", r)
			}
		}
	})
}
