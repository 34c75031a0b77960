package law

import (
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
)

// The watering laws under testdata/inventedwater are of invented places.

func waterRecord(t testing.TB, name string) *WaterRecord {
	t.Helper()
	text, err := os.ReadFile("testdata/inventedwater/" + name + ".toml")
	require.NoError(t, err)
	return readWater(t, string(text))
}

func readWater(t testing.TB, text string) *WaterRecord {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML("w.toml", []byte(text), &list)
	require.True(t, ok, list.Error())
	require.True(t, IsWaterRecord(root))
	r := ReadWaterRecord(root)
	require.NoError(t, list.Err())
	return r
}

func at(s string) (d, minute string) { d, minute, _ = strings.Cut(s, " "); return d, minute }

func TestOwnDesignWatering(t *testing.T) {
	utility, drought := waterRecord(t, "wendrake-water"), waterRecord(t, "ivelsay-drought")
	drip := func(q *WaterQuestion) { q.Method = "drip" }
	hand := func(q *WaterQuestion) { q.Method = "hand_held_shutoff" }
	sod := func(q *WaterQuestion) { q.Planted = day("2026-06-14") }
	waterIn := func(in float64) func(*WaterQuestion) {
		return func(q *WaterQuestion) { q.WaterIn = &WaterIn{Date: day("2026-07-12"), Minute: 18 * 60, DepthIn: in} }
	}
	for _, c := range []struct {
		name   string
		record *WaterRecord
		when   string
		house  string
		with   func(*WaterQuestion)
		want   string // verdict, part, why, exemption
	}{
		{"odd number on Wednesday", utility, "2026-07-15 06:00", "1427", nil, "open summer-clock fits"},
		{"even number on Wednesday", utility, "2026-07-15 06:00", "1420", nil, "closed summer-clock day"},
		{"a minute before ten", utility, "2026-07-15 09:59", "1427", nil, "open summer-clock fits"},
		{"ten is closed", utility, "2026-07-15 10:00", "1427", nil, "closed summer-clock hour"},
		{"four is open", utility, "2026-07-15 16:00", "1427", nil, "open summer-clock fits"},
		{"last Saturday of daylight time", utility, "2026-10-31 07:00", "1427", nil, "open summer-clock fits"},
		{"Wednesday in standard time", utility, "2026-11-04 07:00", "1427", nil, "closed winter-clock day"},
		{"Saturday in standard time", utility, "2026-11-07 07:00", "1427", nil, "open winter-clock fits"},
		{"Thursday before the clock changes", utility, "2026-03-05 07:00", "88", nil, "closed winter-clock day"},
		{"Thursday after the clock has changed", utility, "2026-03-12 07:00", "88", nil, "open summer-clock fits"},
		{"no number counts as odd", utility, "2026-07-15 06:00", "", nil, "open summer-clock fits"},
		{"a letter is ignored", utility, "2026-07-16 06:00", "12B", nil, "open summer-clock fits"},
		{"an office park on Tuesday", utility, "2026-07-14 06:00", "", func(q *WaterQuestion) { q.Nonresidential = true }, "open summer-clock fits"},
		{"drip at noon", utility, "2026-07-13 12:00", "1427", drip, "open  exempt drip"},
		{"reclaimed water at noon", utility, "2026-07-13 12:00", "1427", func(q *WaterQuestion) { q.Source = "reclaimed" }, "open  exempt reclaimed"},
		{"sod on day 29", utility, "2026-07-13 12:00", "1427", sod, "open  exempt new_turf"},
		{"sod on day 30", utility, "2026-07-14 12:00", "1427", sod, "open  exempt new_turf"},
		{"sod on day 31", utility, "2026-07-15 06:00", "1420", sod, "closed summer-clock day"},
		{"a quarter inch to water in", utility, "2026-07-13 08:00", "1427", waterIn(0.25), "open  exempt water_in"},
		{"half an inch is not watering in", utility, "2026-07-13 08:00", "1427", waterIn(0.5), "closed summer-clock day"},
		{"24 hours after spreading", utility, "2026-07-13 18:00", "1427", waterIn(0.25), "open  exempt water_in"},
		{"more than 24 hours after spreading", utility, "2026-07-13 18:01", "1427", waterIn(0.25), "closed summer-clock day"},

		{"no stage declared", drought, "2026-04-29 12:00", "14", nil, "open  no_stage"},
		{"stage 2 on its day", drought, "2026-05-20 07:00", "14", nil, "open stage 2 fits"},
		{"stage 2 on another day", drought, "2026-05-21 01:00", "14", nil, "closed stage 2 day"},
		{"voluntary hours of stage 1", drought, "2026-05-20 17:00", "14", nil, "advised_against stage 1 hour"},
		{"stage 3 replaces the days of stage 2", drought, "2026-06-17 07:00", "14", nil, "open stage 3 fits"},
		{"stage 3 on a day of stage 2", drought, "2026-06-20 07:00", "14", nil, "closed stage 3 day"},
		{"a letter counts as nine", drought, "2026-06-19 07:00", "7A", nil, "open stage 3 fits"},
		{"no number counts as nine", drought, "2026-06-19 07:00", "", nil, "open stage 3 fits"},
		{"hand-held in stage 2", drought, "2026-05-20 12:00", "14", hand, "open stage 2 exempt hand_held_shutoff"},
		{"hand-held in stage 3", drought, "2026-06-17 12:00", "14", hand, "closed stage 2 hour"},
		{"drip in stage 3", drought, "2026-06-17 12:00", "14", drip, "open stage 3 exempt drip"},
		{"last day of the assumed order", drought, "2026-07-13 07:00", "0", nil, "open stage 3 fits"},
		{"past the assumed order", drought, "2026-07-15 07:00", "14", nil, "not_cleared  stage_unknown"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, clockText := at(c.when)
			minute, ok := clock(clockText)
			require.True(t, ok)
			q := WaterQuestion{Date: day(d), Minute: minute, House: c.house, AsOf: day("2026-03-16")}
			if c.with != nil {
				c.with(&q)
			}
			a := c.record.Ask(q)
			assert.Equal(t, c.want, strings.TrimSpace(strings.Join([]string{a.Verdict.String(), a.Part, a.Why, a.Exempt}, " ")))
			assert.False(t, a.Silent)
		})
	}
}

func TestOwnDesignWateringStanding(t *testing.T) {
	r := waterRecord(t, "wendrake-water")
	q := WaterQuestion{Date: day("2026-07-15"), Minute: 6 * 60, House: "1427", AsOf: day("2026-03-16")}
	assert.Equal(t, WaterOpen, r.Ask(q).Verdict)
	q.AsOf = day("2027-01-08")
	assert.Equal(t, WaterOpen, r.Ask(q).Verdict)
	q.AsOf = day("2027-01-09")
	assert.Equal(t, WaterAnswer{Verdict: WaterNotCleared, Why: "stale"}, r.Ask(q))
	q.House = "1420"
	assert.Equal(t, WaterClosed, r.Ask(q).Verdict, "a stale law still closes")
	q.AsOf, q.House = day("2026-03-16"), "1427"

	before := q
	before.Date = day("2016-02-29")
	assert.True(t, r.Ask(before).Silent)
	changed := *r
	changed.Verification = "unverified"
	assert.Equal(t, "unverified", changed.Ask(q).Why)
	changed = *r
	changed.EffectiveTo = day("2026-07-14")
	assert.Equal(t, WaterAnswer{Verdict: WaterNotCleared, Why: "expired"}, changed.Ask(q))
	changed = *r
	changed.Force = "voluntary"
	q.House = "1420"
	assert.Equal(t, WaterAdvisedAgainst, changed.Ask(q).Verdict)
	changed = *r
	changed.NoNumber, q.House = "", ""
	assert.Equal(t, "no_number", changed.Ask(q).Why, "a law that does not say where a lot without a number belongs")
	changed = *r
	changed.NoNumber = "even"
	assert.Equal(t, WaterClosed, changed.Ask(q).Verdict)
	changed = *r
	changed.SourceWater = []string{"public"}
	q.Source = "well"
	assert.True(t, changed.Ask(q).Silent)
}

func TestOwnDesignWateringByDateParity(t *testing.T) {
	r := &WaterRecord{Force: "mandatory", SourceWater: []string{"public"}, Verification: "verified", CheckedOn: day("2026-01-01"), ReviewMonths: 12,
		TZ: "America/Chicago", CalendarParity: true, ClosedOn31st: true, ClosedHours: []Hours{{22 * 60, 5 * 60}}}
	ask := func(d string, house string, minute int) string {
		a := r.Ask(WaterQuestion{Date: day(d), House: house, Minute: minute})
		return a.Verdict.String() + " " + a.Why
	}
	assert.Equal(t, "open fits", ask("2026-07-15", "7", 600))
	assert.Equal(t, "closed day", ask("2026-07-15", "8", 600))
	assert.Equal(t, "open fits", ask("2026-07-16", "8", 600))
	assert.Equal(t, "open fits", ask("2026-07-16", "10", 600), "a zero is even")
	assert.Equal(t, "closed day_31", ask("2026-07-31", "7", 600))
	assert.Equal(t, "closed hour", ask("2026-07-15", "7", 23*60), "hours that run over midnight")
	assert.Equal(t, "closed hour", ask("2026-07-15", "7", 299))
	assert.Equal(t, "open fits", ask("2026-07-15", "7", 300))
	// An annual schedule: Monday alone, from November through February.
	r.Schedules = []WaterSchedule{{ID: "winter", When: &WaterWhen{Annual: window("11-01", "02-last", "[]")},
		Days: []WaterDays{{Group: "odd", Days: []time.Weekday{time.Monday}}}}}
	assert.Equal(t, "closed day", ask("2026-11-03", "7", 600))
	assert.Equal(t, "open fits", ask("2026-11-09", "7", 600))
	assert.Equal(t, "open fits", ask("2026-07-15", "7", 600))
}

func TestOwnDesignWateringTable(t *testing.T) {
	utility, drought := waterRecord(t, "wendrake-water"), waterRecord(t, "ivelsay-drought")
	rows, known := utility.Table(day("2026-07-15"))
	require.True(t, known)
	require.Len(t, rows, 1)
	assert.Equal(t, "summer-clock", rows[0].Part)
	assert.Equal(t, []Hours{{600, 960}}, rows[0].ClosedHours)
	assert.Equal(t, []string{"odd", "even", "nonresidential"}, []string{rows[0].Days[0].Group, rows[0].Days[1].Group, rows[0].Days[2].Group})
	assert.Equal(t, []time.Weekday{time.Wednesday, time.Saturday}, rows[0].Days[0].Days)

	rows, known = drought.Table(day("2026-06-17"))
	require.True(t, known)
	require.Len(t, rows, 3)
	assert.Equal(t, "voluntary", rows[0].Force)
	assert.Empty(t, rows[1].Days, "stage 3 replaces the days of stage 2")
	assert.NotEmpty(t, rows[1].ClosedHours)
	assert.Len(t, rows[2].Days, 5)
	rows, known = drought.Table(day("2026-04-29"))
	assert.True(t, known)
	assert.Empty(t, rows)
	_, known = drought.Table(day("2026-07-14"))
	assert.False(t, known)
}

func TestMistakesInAWateringLaw(t *testing.T) {
	text, err := os.ReadFile("testdata/inventedwater/ivelsay-drought.toml")
	require.NoError(t, err)
	good := string(text)
	for _, c := range []struct{ name, old, new, want string }{
		{"weekday", `odd = ["Thu", "Sun"]`, `odd = ["Thur", "Sun"]`, `w.toml:23: stages[1].days.odd[0]: unknown value "Thur"; did you mean "Thu"?`},
		{"group", `digit_0_1 =`, `digit_0_2 =`, `w.toml:24: stages[2].days.digit_0_2: unknown group "digit_0_2"; did you mean "digit_0_1"?`},
		{"hours", `["09:00", "18:00"]`, `["9:00", "18:00"]`, `w.toml:22: stages[0].closed_hours[0]: not two times of the day; write ["10:00", "16:00"]: the second is no longer closed`},
		{"no stage of that number", `{ stage = 2, from`, `{ stage = 7, from`, `w.toml:28: declared[0].stage: there is no stage 7; add it to stages`},
		{"order without an end", `to = 2026-06-14`, `citation = "x"`, "w.toml:28: declared[0].to: an order has one of to and assume_until; add to, or assume_until for an order without an end\nw.toml:28: declared[0].citation: unknown key; use one of assume_until, from, stage, to"},
		{"replaces nothing", `replaces_days_of = [2]`, `replaces_days_of = [1]`, `w.toml:24: stages[2].replaces_days_of[0]: stage 1 has no days to replace; name an earlier stage that lists days`},
		{"stages out of order", `{ n = 1, name`, `{ n = 3, name`, `w.toml:18: exempt[0].stages[0]: no stage; write the number of a stage` + "\n" + `w.toml:19: exempt[1].stages[0]: no stage; write the number of a stage` + "\n" + `w.toml:23: stages[1].n: stage 2 does not follow the one before; list each stage once, the mildest first` + "\n" + `w.toml:24: stages[2].n: stage 3 does not follow the one before; list each stage once, the mildest first`},
		{"exempt in no stage", `stages = [1, 2, 3] }`, `stages = [1, 5] }`, `w.toml:18: exempt[0].stages[1]: no stage; write the number of a stage`},
		{"letter", `letter_suffix = "digit:9"`, `letter_suffix = "digit:10"`, `w.toml:16: letter_suffix: unknown value "digit:10"; use one of digit:0 to digit:9, ignore`},
		{"exemption", `what = "drip"`, `what = "drop"`, `w.toml:18: exempt[0].what: unknown value "drop"; did you mean "drip"?`},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, 1, strings.Count(good, c.old), c.old)
			var list diag.List
			root, ok := diag.ReadTOML("w.toml", []byte(strings.Replace(good, c.old, c.new, 1)), &list)
			require.True(t, ok)
			ReadWaterRecord(root)
			assert.Equal(t, c.want, list.Error())
		})
	}
}

// Reading never panics, and what is accepted can be asked anything.
func FuzzReadWaterRecord(f *testing.F) {
	for _, name := range []string{"wendrake-water", "ivelsay-drought"} {
		text, err := os.ReadFile("testdata/inventedwater/" + name + ".toml")
		require.NoError(f, err)
		f.Add(string(text), "12B", 600)
	}
	f.Fuzz(func(t *testing.T, text, house string, minute int) {
		var list diag.List
		root, ok := diag.ReadTOML("f.toml", []byte(text), &list)
		if !ok {
			return
		}
		r := ReadWaterRecord(root)
		lines := strings.Count(text, "\n") + 1
		for _, p := range list.All() {
			if p.Line < 0 || p.Line > lines || p.Line == 0 && p.Key == "" || p.What == "" {
				t.Errorf("no position: %v", p)
			}
		}
		for d := day("2026-07-01"); d < day("2026-07-08"); d++ {
			a := r.Ask(WaterQuestion{Date: d, Minute: int(uint(minute) % 1440), House: house, Planted: day("2026-06-14"),
				WaterIn: &WaterIn{Date: d, DepthIn: 0.1}})
			if a.Why == "" || a.Verdict.String() == "invalid" {
				t.Errorf("no reason for %v", a)
			}
			r.Table(d)
		}
		if r.Jurisdiction == "" || len(r.ClosedHours) > 20 || len(r.Stages) > 4 || len(r.Schedules) > 4 {
			return
		}
		place := Place{Chain: []string{r.Jurisdiction}}
		w := NewBook(nil, nil).WithWatering([]*WaterRecord{r}).WaterWeek(place, "public", day("2026-07-06"), day("2026-07-05"))
		for _, g := range w.Groups {
			if g.rank() < 0 && g.Group != "nonresidential" {
				t.Errorf("row %q has no rank", g.Group)
			}
		}
		LintWatering([]*WaterRecord{r}, nil, nil, day("2026-07-05"), &list)
	})
}
