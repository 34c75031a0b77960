package law

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// plain is a record without a mistake; of an invented place.
const plain = `schema = 1
id = "plain"
fictional = true
jurisdiction = "plainshire"
jurisdiction_name = "Plainshire"
level = "county"
parent = ""
applies_in = "all"
tz = "America/New_York"
title = "Plain Law"
citation = "Plain Code 1"
source_url = "https://law.example.invalid/plain"
source_kind = "official_code"
effective_from = 2020-01-01
status = "in_force"
verification = "verified"
checked_on = 2026-01-12
checked_by = "an editor"
[definitions]
n_threshold_pct = 0.0
p2o5_threshold_pct = 0.0
not_fertilizer = ["lime"]
[[rules]]
id = "season"
citation = "1(a)"
topic = "window"
effect = "ban"
targets = ["N"]
binds = ["all"]
when = [{ kind = "annual", from = "06-01", to = "09-30", bounds = "[]", bounds_basis = "text" }]
[[rules]]
id = "rate"
citation = "1(b)"
topic = "rate"
effect = "cap"
targets = ["N"]
binds = ["all"]
per_app_total_n = 1.0
[[rules]]
id = "shore"
citation = "1(c)"
topic = "buffer"
effect = "ban"
targets = ["N"]
binds = ["all"]
buffer_ft = 15
measured_from = "water_edge"
`

// lintDay is the day on which the mistakes are looked for.
var lintDay = day("2026-03-16")

// problems reads and lints texts and returns everything found.
func problems(t *testing.T, lines []Jurisdiction, texts ...string) string {
	t.Helper()
	var list diag.List
	var records []*Record
	for i, text := range texts {
		file := "law.toml"
		if i > 0 {
			file = "other.toml"
		}
		root, ok := diag.ReadTOML(file, []byte(text), &list)
		require.True(t, ok, list.Error())
		records = append(records, ReadRecord(root))
	}
	Lint(records, lines, lintDay, &list)
	return list.Error()
}

func TestARecordWithoutMistakesPasses(t *testing.T) {
	assert.Empty(t, problems(t, nil, plain))
}

// Every mistake is found with its line and says what would do.
func TestMistakesInARecord(t *testing.T) {
	const winter = `when = [{ kind = "annual", from = "06-01", to = "09-30", bounds = "[]", bounds_basis = "text" }]`
	for _, c := range []struct {
		name, old, new string
		want           string
	}{
		{"unknown key", `fictional = true`, `fictoinal = true`, `law.toml:3: fictoinal: unknown key; did you mean "fictional"?`},
		{"unknown key of a rule", `buffer_ft = 15`, "buffer_ft = 15\nbufer_ft = 10", `law.toml:47: rules[2].bufer_ft: unknown key; did you mean "buffer_ft"?`},
		{"schema", `schema = 1`, `schema = 2`, `law.toml:1: schema: only schema 1 is known; write schema = 1`},
		{"id", `id = "plain"`, `id = "Plain Law"`, `law.toml:2: id: "Plain Law" is not an id; an id is lower-case words joined by hyphens`},
		{"parent form", `parent = ""`, `parent = "The State"`, `law.toml:7: parent: "The State" is not an id; write the id of a jurisdiction, or ""` + "\n" + `law.toml:7: parent: unknown parent "The State"; use one of plainshire`},
		{"unknown parent", `parent = ""`, `parent = "plainshir"`, `law.toml:7: parent: unknown parent "plainshir"; did you mean "plainshire"?`},
		{"its own parent", `parent = ""`, `parent = "plainshire"`, `law.toml:7: parent: "plainshire" is its own ancestor; end the chain with parent = ""`},
		{"time zone", `America/New_York`, `America/New_Yrok`, `law.toml:9: tz: "America/New_Yrok" is not an IANA time zone; write a zone such as "America/New_York"`},
		{"no address", `source_url = "https://law.example.invalid/plain"` + "\n", ``, `law.toml: source_url: missing; add source_url = "…"`},
		{"address", `https://law`, `javascript://law`, `law.toml:12: source_url: "javascript://law.example.invalid/plain" is not a web address; write an address that begins with https://`},
		{"no citation", `citation = "Plain Code 1"` + "\n", ``, `law.toml: citation: missing; add citation = "…"`},
		{"never checked", `checked_on = 2026-01-12` + "\n", ``, `law.toml: checked_on: missing; add checked_on = 2026-11-25`},
		{"checked in the future", `2026-01-12`, `2026-03-17`, `law.toml:17: checked_on: checked on 2026-03-17, after 2026-03-16; correct the date`},
		{"review due", `2026-01-12`, `2025-04-15`, `law.toml:17: checked_on: warning: review due by 2026-04-15; read the law again, then move checked_on`},
		{"review not yet due", `2026-01-12`, `2025-04-16`, ``},
		{"stale", `2026-01-12`, `2025-03-15`, `law.toml:17: checked_on: warning: stale since 2026-03-16: it closes but no longer clears; read the law again, then move checked_on`},
		{"not stale on the day", `2026-01-12`, `2025-03-16`, `law.toml:17: checked_on: warning: review due by 2026-03-16; read the law again, then move checked_on`},
		{"review months", `checked_by = "an editor"`, `checked_by = "x"` + "\n" + `review_months = 0`, `law.toml:19: review_months: 0 is outside 1 to 120; write a number of months`},
		{"verified by the news", `official_code`, `news`, `law.toml:16: verification: a source of kind "news" does not verify; write "secondary" or "unverified", or read the law itself`},
		{"ends before it begins", `status =`, `effective_to = 2019-12-31` + "\nstatus =", `law.toml:15: effective_to: 2019-12-31 is before effective_from; put it on or after 2020-01-01`},
		{"takes effect soon", `effective_from = 2020-01-01`, `effective_from = 2026-06-14`, `law.toml:14: effective_from: warning: takes effect on 2026-06-14; check that the record is right around that date`},
		{"takes effect later", `effective_from = 2020-01-01`, `effective_from = 2026-06-15`, ``},
		{"took effect just now", `effective_from = 2020-01-01`, `effective_from = 2025-12-16`, `law.toml:14: effective_from: warning: takes effect on 2025-12-16; check that the record is right around that date`},
		{"ends soon", `status =`, `effective_to = 2026-05-31` + "\nstatus =", `law.toml:15: effective_to: warning: ends on 2026-05-31; check that the record is right around that date`},
		{"superseded by nothing", `status = "in_force"`, `status = "superseded"` + "\neffective_to = 2025-01-01", `law.toml:15: status: superseded by what?; add superseded_by`},
		{"superseded by what is not on file", `status =`, `superseded_by = "next"` + "\nstatus =", `law.toml:15: superseded_by: no record "next"; use one of plain`},
		{"superseded by itself", `status =`, `superseded_by = "plain"` + "\nstatus =", `law.toml:15: superseded_by: a record cannot supersede itself; name the law that follows`},
		{"repealed without a date", `status = "in_force"`, `status = "repealed"`, `law.toml:15: status: a law that has ended must say when; add effective_to, its last day in force`},
		{"preempts nothing", `status =`, `relation_down = "preempts"` + "\nstatus =", `law.toml: preempt_topics: a law that preempts must say which topics; list the topics, such as ["window", "rate"]`},
		{"class", `["lime"]`, `["lyme"]`, `law.toml:22: definitions.not_fertilizer[0]: unknown value "lyme"; did you mean "lime"?`},
		{"threshold", `n_threshold_pct = 0.0`, `n_threshold_pct = -1`, `law.toml:20: definitions.n_threshold_pct: -1 is outside 0 to 100; check the figure and its unit`},

		{"no rules", plain[strings.Index(plain, "[[rules]]"):], ``, `law.toml: rules: a record without rules says nothing; add [[rules]]`},
		{"topic", `topic = "window"`, `topic = "season"`, `law.toml:26: rules[0].topic: unknown value "season"; use one of buffer, clippings, content, equipment, license, phosphorus, posting, rate, records, sale, surface, weather, window`},
		{"no target", `topic = "window"` + "\neffect = \"ban\"\ntargets = [\"N\"]", `topic = "window"` + "\neffect = \"ban\"\ntargets = []", `law.toml:28: rules[0].targets: an empty list; name at least one`},
		{"actor", `binds = ["all"]` + "\n" + winter, `binds = ["homeowners"]` + "\n" + winter, `law.toml:29: rules[0].binds[0]: unknown value "homeowners"; did you mean "homeowner"?`},
		{"actor twice", `binds = ["all"]` + "\n" + winter, `binds = ["golf", "golf"]` + "\n" + winter, `law.toml:29: rules[0].binds[1]: "golf" stands twice; remove it`},
		{"empty when", winter, `when = []`, `law.toml:30: rules[0].when: an empty list of spans; leave it out for a rule that always holds`},
		{"kind of span", `kind = "annual"`, `kind = "yearly"`, `law.toml:30: rules[0].when[0].kind: unknown value "yearly"; use one of after_planting, annual, dates, declared, season`},
		{"no day", `from = "06-01"`, `from = "02-30"`, `law.toml:30: rules[0].when[0].from: "02-30" is not a day of any year; write "11-15", "02-last" or "nth:2-Sun-03"`},
		{"fifth Sunday", `from = "06-01"`, `from = "nth:5-Sun-06"`, `law.toml:30: rules[0].when[0].from: "nth:5-Sun-06": the count is 1 to 4 or last, not "5"; write "11-15", "02-last" or "nth:2-Sun-03"`},
		{"weekday", `from = "06-01"`, `from = "nth:2-Sunday-06"`, `law.toml:30: rules[0].when[0].from: "nth:2-Sunday-06": the weekday is one of Mon, Tue, Wed, Thu, Fri, Sat, Sun, not "Sunday"; write "11-15", "02-last" or "nth:2-Sun-03"`},
		{"offset", `from = "06-01"`, `from = "nth:2-Sun-06+1"`, `law.toml:30: rules[0].when[0].from: "nth:2-Sun-06+1": the offset is written as +1d or -1d, up to 60 days, not "+1"; write "11-15", "02-last" or "nth:2-Sun-03"`},
		{"month", `from = "06-01"`, `from = "13-last"`, `law.toml:30: rules[0].when[0].from: "13-last": the month is 01 to 12, not "13"; write "11-15", "02-last" or "nth:2-Sun-03"`},
		{"no bounds", `, bounds = "[]"`, ``, `law.toml:30: rules[0].when[0].bounds: missing; add bounds = "[]" or "[)" or "(]" or "()"`},
		{"one day left out", `to = "09-30", bounds = "[]"`, `to = "06-01", bounds = "[)"`, `law.toml:30: rules[0].when[0]: from and to are the same day, and bounds [) leave it out; write bounds = "[]" for a single day`},
		{"one day", `to = "09-30"`, `to = "06-01"`, `law.toml:30: rules[0].when[0]: warning: a window of a single day; check the law`},
		{"no day within", `to = "09-30", bounds = "[]"`, `to = "06-02", bounds = "()"`, `law.toml:30: rules[0].when[0]: no day lies in it; check the bounds`},
		{"the whole year", `from = "06-01", to = "09-30"`, `from = "01-01", to = "12-31"`, `law.toml:30: rules[0].when[0]: it covers the whole year; leave when out for a rule that always holds`},
		{"the whole year, wrapped", `from = "06-01", to = "09-30"`, `from = "03-01", to = "02-last"`, `law.toml:30: rules[0].when[0]: it covers the whole year; leave when out for a rule that always holds`},
		{"assumed though read", `bounds_basis = "text"`, `bounds_basis = "assumed"`, `law.toml:30: rules[0].when[0]: warning: the law was read, but its edge days are assumed; ask the office that enforces it, then write "agency"`},
		{"dates backwards", winter, `when = [{ kind = "dates", from = 2026-07-01, to = 2026-06-30 }]`, `law.toml:30: rules[0].when[0].to: no day lies from 2026-07-01 to 2026-06-30 with bounds []; put it after from`},
		{"days backwards", winter, `when = [{ kind = "after_planting", from_day = 30, to_day = 3 }]`, `law.toml:30: rules[0].when[0].to_day: days 30 to 3 make no span; count from day 0, the day of planting`},
		{"order never made", winter, `when = [{ kind = "declared", name = "drought" }]`, `law.toml:30: rules[0].when[0]: warning: no order "drought" is on file, so the rule is never on; add a declaration when an order is made`},
		{"growing season", winter, `when = [{ kind = "season", name = "growing", side = "outside" }]`, `law.toml:30: rules[0].when: warning: rule "season" hangs on each owner's growing season, so nothing is cleared for readers; use dates if the law or its agency gives them`},
		{"order without a rule", `checked_by = "an editor"`, `checked_by = "x"` + "\n" + `declarations = [{ name = "drought", from = 2026-01-01, to = 2026-02-01, citation = "1" }]`, `law.toml:19: declarations[0]: no rule hangs on the order "drought"; add a rule with when = [{ kind = "declared" }] of that name`},
		{"order without an end", `checked_by = "an editor"`, `checked_by = "x"` + "\n" + `declarations = [{ name = "drought", from = 2026-01-01, citation = "1" }]`, `law.toml:19: declarations[0]: no rule hangs on the order "drought"; add a rule with when = [{ kind = "declared" }] of that name` + "\n" + `law.toml:19: declarations[0].to: an order must say until when it is on; add to, or assume_until for an order without an end`},
		{"season replaced twice", winter, winter + "\noverrides = [{ season = 2026, from = 2026-06-05, to = 2026-09-01, citation = \"1\" }, { season = 2026, from = 2026-06-06, to = 2026-09-01, citation = \"2\" }]", `law.toml:31: rules[0].overrides[1]: season 2026 is replaced twice; keep one`},
		{"season of another year", winter, winter + "\noverrides = [{ season = 2024, from = 2026-06-05, to = 2026-09-01, citation = \"1\" }]", `law.toml:31: rules[0].overrides[0].season: season 2024 does not begin near 2026-06-05; write the year in which the season it replaces begins`},
		{"override without a season", winter, "overrides = [{ season = 2026, from = 2026-06-05, to = 2026-09-01, citation = \"1\" }]", `law.toml:30: rules[0].overrides: it means nothing without an annual span to when; add an annual span to when`},

		{"suspends itself", `per_app_total_n = 1.0`, "per_app_total_n = 1.0\n" + `suspends = ["rate"]`, `law.toml:39: rules[1].suspends: a rule cannot suspend itself; name another rule`},
		{"suspends nothing", `per_app_total_n = 1.0`, "per_app_total_n = 1.0\n" + `suspends = ["shor"]`, `law.toml:39: rules[1].suspends: no rule "shor" in this record; did you mean "shore"?`},
		{"two versions at once", `id = "rate"`, `id = "season"`, `law.toml:32: rules[1].id: two versions of rule "season" hold at once; give each version its own effective_from and effective_to`},
		{"floor above ceiling", `per_app_total_n = 1.0`, "min_slow_pct = 50\nmax_slow_pct = 20", `law.toml:38: rules[1].min_slow_pct: no product has at least 50 % and at most 20 % slow nitrogen; correct one of them`},
		{"cap without a limit", "per_app_total_n = 1.0\n", ``, `law.toml:35: rules[1].effect: a cap without a limit; add a limit such as per_app_total_n`},
		{"pounds for ounces", `per_app_total_n = 1.0`, `per_app_total_n = 100`, `law.toml:38: rules[1].per_app_total_n: 100 is outside 0 to 50; check the figure and its unit`},
		{"phosphorus without its basis", `per_app_total_n = 1.0`, `per_app_p2o5 = 0.25`, `law.toml:31: rules[1].p_basis: a phosphorus cap must say whether it counts P2O5 or P; write p_basis = "P2O5" or "P", as the law means it`},
		{"grasses without a default", `per_app_total_n = 1.0`, `annual_total_n_by_grass = { zoysiagrass = 3.0 }`, `law.toml:38: rules[1].annual_total_n_by_grass: no default; add default, the cap of every other grass`},
		{"a grass twice", `per_app_total_n = 1.0`, `annual_total_n_by_grass = { tall_fescue = 3.0, tall-fescue = 4.0, default = 2.0 }`, `law.toml:38: rules[1].annual_total_n_by_grass.tall-fescue: "tall-fescue" stands twice; remove one`},
		{"cap on a ban", `buffer_ft = 15`, "buffer_ft = 15\nmin_slow_pct = 20", `law.toml:47: rules[2].min_slow_pct: a cap within a ban is what holds once an exception is met, and there is no exception; write effect = "cap", or add unless`},
		{"buffer on a cap", `per_app_total_n = 1.0`, "per_app_total_n = 1.0\nbuffer_ft = 10", `law.toml:39: rules[1].buffer_ft: a cap does not hang on the distance; write effect = "ban"`},

		{"no reduction", `buffer_ft = 15`, "buffer_ft = 15\nreduced_ft = 15\n" + `reduced_with = ["drop_spreader"]`, `law.toml:47: rules[2].reduced_ft: 15 ft is no reduction of 15 ft; write less than buffer_ft`},
		{"reduced by what", `buffer_ft = 15`, "buffer_ft = 15\nreduced_ft = 10", `law.toml:47: rules[2].reduced_ft: it means nothing without reduced_with; add reduced_with`},
		{"gear", `buffer_ft = 15`, "buffer_ft = 15\nreduced_ft = 10\n" + `reduced_with = ["drop-spreader"]`, `law.toml:48: rules[2].reduced_with[0]: unknown value "drop-spreader"; did you mean "drop_spreader"?`},
		{"measured from nowhere", `measured_from = "water_edge"`, ``, `law.toml:46: rules[2].buffer_ft: warning: it does not say from where the buffer is measured; add measured_from`},
		{"planting days", `buffer_ft = 15`, "buffer_ft = 15\nexempt_planting_days = [30]", `law.toml:47: rules[2].exempt_planting_days: not two whole numbers; write [30, 89]: the first and the last day after planting`},
		{"misspelled alert", `topic = "buffer"`, `topic = "weather"` + "\n" + `alerts = ["Flood Wach"]` + "\n" + `alert_scope = "zone"`, `law.toml:43: rules[2].alerts: unknown alert "Flood Wach"; did you mean "Flood Watch"?`},
		{"foreign alert", `topic = "buffer"`, `topic = "weather"` + "\n" + `alerts = ["Yellow rainfall notice"]` + "\n" + `alert_scope = "zone"`, `law.toml:43: rules[2].alerts: warning: alert "Yellow rainfall notice" is not on the weather service's list; use the exact event name of the weather service`},
		{"alert of where", `topic = "buffer"`, `topic = "weather"` + "\n" + `alerts = ["Flood Watch"]`, `law.toml:43: rules[2].alerts: it means nothing without alert_scope; add alert_scope`},
		{"heavy rain without a figure", `topic = "buffer"`, `topic = "weather"` + "\n" + `rain_basis = "forecast"`, `law.toml:42: rules[2].topic: warning: rule "shore": rain without a depth can only be printed; add rain_in if the law or its agency gives a figure`},
		{"ban that cannot be evaluated", `topic = "buffer"`, `topic = "equipment"`, `law.toml:42: rules[2].topic: warning: rule "shore": this ban cannot be evaluated, so nothing is cleared while it holds; write effect = "require" with a duty if it forbids a way of doing things`},
		{"requirement of what", "effect = \"ban\"\ntargets = [\"N\"]\nbinds = [\"all\"]\n" + winter, "effect = \"require\"\ntargets = [\"N\"]\nbinds = [\"all\"]", `law.toml:23: rules[0].duty: a requirement must say what is required; add a duty, or as_written to print the law's own words`},
		{"requirement in the law's own words", "effect = \"ban\"\ntargets = [\"N\"]\nbinds = [\"all\"]\n" + winter, "effect = \"require\"\ntargets = [\"N\"]\nbinds = [\"all\"]\nas_written = \"carry the plan\"", ``},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(plain, c.old), "the place to change must be one: %s", c.old)
			assert.Equal(t, c.want, problems(t, nil, strings.Replace(plain, c.old, c.new, 1)))
		})
	}
}

// A floor and a ceiling in two rules contradict each other only if they can
// meet on one day, bind one actor, and neither puts the other to sleep.
func TestMistakesBetweenRules(t *testing.T) {
	floor := strings.Replace(plain, `per_app_total_n = 1.0`, `min_slow_pct = 50`, 1)
	ceiling := func(more string) string {
		return strings.Replace(floor, "topic = \"buffer\"\neffect = \"ban\"", "topic = \"rate\"\neffect = \"cap\"\nmax_slow_pct = 0\n"+more, 1)
	}
	clean := func(s string) string {
		return strings.NewReplacer("buffer_ft = 15\n", "", "measured_from = \"water_edge\"\n", "").Replace(s)
	}
	const clash = `rules "rate" and "shore" together ask for at least 50 % and at most 0 % slow nitrogen; let one suspend the other, or correct a figure`
	assert.Contains(t, problems(t, nil, clean(ceiling(""))), clash)
	assert.Empty(t, problems(t, nil, clean(ceiling(`suspends = ["rate"]`))))
	assert.Empty(t, problems(t, nil, clean(strings.Replace(ceiling(`only_forms = ["liquid"]`), "min_slow_pct = 50", "min_slow_pct = 50\nonly_forms = [\"granular\"]", 1))))
	window := func(a, b string) string {
		return `when = [{ kind = "annual", from = "` + a + `", to = "` + b + `", bounds = "[]", bounds_basis = "text" }]`
	}
	inSpring := strings.Replace(ceiling(window("03-01", "05-01")), "min_slow_pct = 50", "min_slow_pct = 50\n"+window("06-01", "08-01"), 1)
	assert.Empty(t, problems(t, nil, clean(inSpring)))
	meeting := strings.Replace(ceiling(window("03-01", "06-01")), "min_slow_pct = 50", "min_slow_pct = 50\n"+window("06-01", "08-01"), 1)
	assert.Contains(t, problems(t, nil, clean(meeting)), clash)
}

func TestMistakesBetweenRecordsAndTheList(t *testing.T) {
	const child = "law.toml:7: parent: "
	shire := Jurisdiction{ID: "plainshire", Level: "county", Parent: "", Pos: diag.Pos{File: "list.toml", Line: 4}}
	assert.Empty(t, problems(t, []Jurisdiction{shire}, plain))
	assert.Equal(t, `other.toml:2: id: the id "plain" is that of law.toml already; give each record its own id`, problems(t, nil, plain, plain))
	assert.Equal(t, `list.toml:9: jurisdiction "plainshire" stands twice; keep one line`,
		problems(t, []Jurisdiction{shire, {ID: "plainshire", Level: "county", Pos: diag.Pos{File: "list.toml", Line: 9}}}, plain))
	other := shire
	other.Parent = "ossamere"
	got := problems(t, []Jurisdiction{other, {ID: "ossamere", Level: "state"}}, plain)
	assert.Equal(t, child+`the parent of "plainshire" is "ossamere" elsewhere; write the same parent in all places`, got)

	at := diag.Pos{File: "list.toml", Line: 1}
	assert.Equal(t, `list.toml:1: warning: county "bare" has neither a record nor a coverage line; add coverage = "none_found" with checked_on, or "not_checked"`,
		problems(t, []Jurisdiction{{ID: "bare", Level: "county", Pos: at}}, plain))
	assert.Equal(t, `list.toml:1: warning: last looked on 2025-03-15: no longer counts; look again, then move checked_on`,
		problems(t, []Jurisdiction{{ID: "bare", Level: "county", Coverage: "none_found", CheckedOn: day("2025-03-15"), Pos: at}}, plain))
	assert.Equal(t, `list.toml:1: warning: "bare" counts as looked up through 2026-03-16; look again, then move checked_on`,
		problems(t, []Jurisdiction{{ID: "bare", Level: "county", Coverage: "none_found", CheckedOn: day("2025-03-16"), Pos: at}}, plain))
	assert.Contains(t, problems(t, []Jurisdiction{{ID: "bare", Level: "county", Coverage: "none_found", CheckedOn: day("2025-04-15"), Pos: at}}, plain), "through 2026-04-15")
	assert.Empty(t, problems(t, []Jurisdiction{{ID: "bare", Level: "county", Coverage: "none_found", CheckedOn: day("2025-04-16"), Pos: at}}, plain), "31 days ahead")
	assert.Equal(t, `list.toml:1: checked on 2026-03-17, after 2026-03-16; correct checked_on`,
		problems(t, []Jurisdiction{{ID: "bare", Level: "county", Coverage: "none_found", CheckedOn: day("2026-03-17"), Pos: at}}, plain))
	got = problems(t, []Jurisdiction{{ID: "a", Level: "county", Coverage: "not_checked", Parent: "b", Pos: at}, {ID: "b", Level: "county", Coverage: "not_checked", Parent: "a", Pos: at}}, plain)
	assert.Equal(t, "list.toml:1: \"a\" is its own ancestor; end the chain with parent = \"\"\nlist.toml:1: \"b\" is its own ancestor; end the chain with parent = \"\"", got)
}

// An order without an end is announced before it is no longer known to be on.
func TestMistakesInOrders(t *testing.T) {
	at := func(asOf string) string {
		var list diag.List
		Lint(inventedRecords(t), inventedList(), day(asOf), &list)
		var out []string
		for _, p := range list.All() {
			if strings.Contains(p.What, "order") {
				out = append(out, p.What)
			}
		}
		return strings.Join(out, "\n")
	}
	assert.Empty(t, at("2026-07-19"), "it has not begun")
	assert.Equal(t, `order "algae_order" is assumed on until 2026-08-19`, at("2026-07-20"))
	assert.Equal(t, `order "algae_order" is assumed on until 2026-08-19`, at("2026-08-19"))
	assert.Equal(t, `order "algae_order" was assumed on until 2026-08-19: now unknown`, at("2026-08-20"))
}

func TestMistakesInGrassesOfACap(t *testing.T) {
	var list diag.List
	LintGrasses(inventedRecords(t), []string{"bermudagrass", "zoysiagrass", "tall-fescue", "centipede"}, &list)
	assert.Equal(t, `testdata/invented/vellinport-city.toml:30: rules[3].annual_total_n_by_grass: warning: no grass on file is called "centipedegrass", so its cap is never used; use one of bermudagrass, centipede, tall-fescue, zoysiagrass`, list.Error())
	list = diag.List{}
	LintGrasses(inventedRecords(t), []string{"bermudagrass", "zoysiagrass", "tall-fescue", "centipedegrass"}, &list)
	assert.Empty(t, list.All())
}

// A list line that says "looked, none found" counts for a year.
func TestOwnDesignNoneFoundGrowsStale(t *testing.T) {
	b := inventedBook(t)
	q := weekly(hocklan)
	q.AsOf = day("2027-01-12")
	assert.Equal(t, "conditional", b.Ask(q).Verdict.String())
	book := NewBook(inventedRecords(t), []Jurisdiction{{ID: "hocklan", Level: "county", Parent: "om", Coverage: "none_found", CheckedOn: day("2025-03-15")}})
	q.AsOf = day("2026-03-15")
	assert.Equal(t, "conditional", book.Ask(q).Verdict.String())
	q.AsOf = day("2026-03-16")
	a := book.Ask(q)
	assert.Equal(t, "not_cleared", a.Verdict.String())
	assert.Equal(t, "stale", flags(a))
}

func TestReadJurisdictions(t *testing.T) {
	var list diag.List
	root, ok := diag.ReadTOML("list.toml", []byte(`[[jurisdiction]]
id = "hocklan"
name = "Hocklan County"
level = "county"
parent = "om"
coverage = "none_found"
checked_on = 2026-02-10

[[jurisdiction]]
id = "selvary"
name = "Selvary County"
level = "cuonty"
coverage = "none_found"
extra = 1
`), &list)
	require.True(t, ok)
	got := ReadJurisdictions(root)
	require.Len(t, got, 2)
	assert.Equal(t, Jurisdiction{ID: "hocklan", Name: "Hocklan County", Level: "county", Parent: "om", Coverage: "none_found",
		CheckedOn: day("2026-02-10"), Pos: got[0].Pos}, got[0])
	assert.Equal(t, 1, got[0].Pos.Line)
	assert.Equal(t, `list.toml:9: jurisdiction[1].checked_on: "looked, none found" counts only with its date; add the day on which somebody looked
list.toml:12: jurisdiction[1].level: unknown value "cuonty"; did you mean "county"?
list.toml:14: jurisdiction[1].extra: unknown key; use one of checked_on, coverage, id, level, name, parent`, list.Error())
}

func TestOwnDesignUnevaluatedIsListed(t *testing.T) {
	var got []string
	for _, r := range inventedRecords(t) {
		for _, g := range Unevaluated(r) {
			s := r.ID + "/" + g.Rule.ID + " " + g.What
			if g.NotCleared {
				s += " not_cleared"
			}
			got = append(got, s)
			assert.Positive(t, g.Pos.Line)
		}
	}
	assert.Equal(t, []string{"om-state/rate-enhanced release", "thornelby-town/growing-season-only season not_cleared"}, got)

	// A ban on a way of doing things is no ban on fertilizer that the code
	// could judge: nothing is cleared while it holds.
	for _, c := range []struct {
		alter func(*Rule)
		want  Verdict
	}{
		{func(*Rule) {}, Closed},
		{func(r *Rule) { r.Topic = "equipment" }, NotCleared},
		{func(r *Rule) { r.Topic = "weather" }, NotCleared},
		{func(r *Rule) { r.Topic = "buffer" }, NotCleared},
		{func(r *Rule) { r.Topic, r.RainBasis = "weather", "forecast" }, Conditional},
		{func(r *Rule) { r.Effect = "forbid" }, NotCleared},
		{func(r *Rule) { r.Effect = "cap" }, NotCleared},
		{func(r *Rule) { r.When[0].Kind = "lunar" }, NotCleared},
		{func(r *Rule) { r.When[0].FromAnchor, r.Overrides = Anchor{}, nil }, NotCleared},
	} {
		b := changed(t, "vellinport-city", func(r *Record) { c.alter(&r.Rules[0]) })
		q := weekly(vellinport)
		q.Date = day("2026-07-10")
		assert.Equal(t, c.want.String(), b.Ask(q).Verdict.String())
	}
}

// Reading never panics; a record that is accepted can be asked anything; a
// mistake has a position within the file.
func FuzzReadRecord(f *testing.F) {
	files, err := filepath.Glob("testdata/invented/*.toml")
	require.NoError(f, err)
	for _, name := range files {
		text, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(string(text))
	}
	f.Add(plain)
	f.Fuzz(func(t *testing.T, text string) {
		var list diag.List
		root, ok := diag.ReadTOML("f.toml", []byte(text), &list)
		if !ok {
			return
		}
		r := ReadRecord(root)
		Lint([]*Record{r}, nil, lintDay, &list)
		lines := strings.Count(text, "\n") + 1
		for _, p := range list.All() {
			if p.File != "f.toml" || p.Line < 0 || p.Line > lines || p.Line == 0 && p.Key == "" {
				t.Errorf("no position: %v", p)
			}
			if p.What == "" {
				t.Error("a mistake without words")
			}
		}
		b := NewBook([]*Record{r}, nil)
		for _, actor := range []Actor{Homeowner, Retailer} {
			q := Question{Place: Place{Chain: []string{r.Jurisdiction}}, Actor: actor, Product: lawn50, RateLb1000: num(3),
				Weather: &Weather{Alerts: []string{"Flood Watch"}, ForecastRainIn24h: num(2)}, Planted: day("2026-03-01"), AsOf: lintDay}
			w := b.Week(q, lintDay)
			b.WeekConditions(q, lintDay)
			b.ClosedSpans(q.Place, actor, "N", lintDay, lintDay+civil.Date(400), lintDay)
			if _, isThere := b.AskRecord(r.ID, q); !isThere {
				t.Error("the record is not in its book")
			}
			if w.State == "" {
				t.Error("a week without a state")
			}
		}
	})
}
