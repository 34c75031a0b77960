package bulletin

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/reference"
	"ligule/internal/watering"
	"ligule/internal/workspace"
)

// straddling is a zone of two places under invented laws of the demonstration:
// one in a town whose September window ends within the week, one outside it.
func straddling(t *testing.T) (*workspace.Workspace, []law.Place) {
	t.Helper()
	var list diag.List
	read := func(name string) *diag.Table {
		text, err := os.ReadFile("../../data/ordinances/" + name + ".toml")
		require.NoError(t, err)
		root, ok := diag.ReadTOML(name, text, &list)
		require.True(t, ok)
		return root
	}
	ws := &workspace.Workspace{Phrases: phrases(t)}
	for _, name := range []string{"ossamere-lawn-nutrients", "thornelby-ponds"} {
		ws.Ordinances = append(ws.Ordinances, law.ReadRecord(read(name)))
	}
	town := watering.ReadRecord(read("vellinport-water"))
	town.Jurisdiction = "thornelby"
	require.NoError(t, list.Err())
	ws.Places = []law.Jurisdiction{
		{ID: "ossamere", Level: "state"},
		{ID: "corvane-county", Level: "county", Parent: "ossamere", Coverage: "none_found", CheckedOn: civil.MustDate(2026, 2, 11)},
		{ID: "thornelby", Level: "municipal", Parent: "corvane-county"},
	}
	ws.Law, ws.WaterLaw = law.NewBook(ws.Ordinances, ws.Places), watering.NewBook([]*watering.Record{town}, ws.Places)
	return ws, []law.Place{
		{Name: "Thornelby", Chain: []string{"ossamere", "corvane-county", "thornelby"}},
		{Name: "the rest", Chain: []string{"ossamere", "corvane-county"}},
	}
}

func ids(all []*message.Said) []string {
	var out []string
	for _, s := range all {
		out = append(out, s.Message.Code)
	}
	return out
}

// sentences are those of a list in words.
func sentences(ws *workspace.Workspace, all []*message.Said) []string {
	var out []string
	for _, s := range all {
		out = append(out, ws.Voice().Say(s.Message))
	}
	return out
}

func dry(civil.Date) *law.Weather { return nil }

// Each place of a straddling zone gets its own reasons, and who does it at home
// other ones than who is paid to.
func TestEachPlaceHasItsOwnReasons(t *testing.T) {
	ws, places := straddling(t)
	week := civil.Week{Year: 2026, Num: 38}
	l := zoneLaw(ws, advice.AskLaw(ws.Law, ws.WaterLaw, places, week, civil.MustDate(2026, 9, 13), dry))
	require.Len(t, l.Places, 2)
	assert.True(t, l.Varies)
	assert.True(t, l.Alarm)
	assert.True(t, l.Shut)
	assert.True(t, l.Part)
	town, rest := l.Places[0], l.Places[1]

	assert.Equal(t, "closed_part", town.Homeowner.ID)
	const closed = "losed Monday, September 14 by the Town Ponds Ordinance (sec. 3), which closes from September 1, 2026 through September 14, 2026. We read it on March 5, 2026."
	assert.Equal(t, []string{"C" + closed}, sentences(ws, town.Home.Closed), "under its name a place is not named again")
	assert.Equal(t, []string{"Thornelby: c" + closed}, sentences(ws, l.Closed))
	assert.Equal(t, town.Home.Closed, town.Hire.Closed)
	assert.Equal(t, []string{"law.next_closes"}, ids(town.Home.Next))
	assert.Contains(t, sentences(ws, town.Home.Next)[0], "November 16, 2026")
	assert.Contains(t, sentences(ws, town.Hire.Next)[0], "December 2, 2026", "the state's winter begins later for hire")
	assert.Equal(t, []string{"Town Ponds Ordinance"}, titles(l.Acting))
	assert.Equal(t, []string{"Lawn Nutrient Act", "Town Ponds Ordinance"}, titles(town.Records))
	assert.False(t, town.Same)

	assert.Equal(t, "conditional", rest.Homeowner.ID)
	assert.Empty(t, rest.Home.Closed)
	assert.Empty(t, rest.Home.Unknown)
	for _, p := range l.Places {
		assert.NotContains(t, ids(p.Home.Conditions), "condition.duty.certified_applicator", p.Name)
		assert.Contains(t, ids(p.Hire.Conditions), "condition.duty.certified_applicator", p.Name)
		assert.Contains(t, ids(p.Home.Conditions), "condition.buffer", p.Name)
		assert.NotContains(t, ids(p.Hire.Conditions), "condition.buffer", "shown above")
		assert.True(t, p.Hire.Besides, p.Name)
	}
	assert.Equal(t, "limited", town.Watering.State.ID)
	assert.Equal(t, "no_record", rest.Watering.State.ID)
	assert.Equal(t, week.Monday(), town.Watering.Rows[0].Date)
}

func titles(laws []reference.Law) []string {
	var out []string
	for _, l := range laws {
		out = append(out, l.Title)
	}
	return out
}

// The places of a zone differ too if they do so only for hire, or for
// phosphorus; it is closed in part if some place or day of it is not.
func TestPlacesDifferForAnybody(t *testing.T) {
	week := func(state string, v law.Verdict) law.PlaceWeek {
		w := law.PlaceWeek{State: state}
		for i := range w.Days {
			w.Days[i] = law.Answer{Verdict: v}
		}
		return w
	}
	closed, open := week("closed_all", law.Closed), week("open", law.Open)
	days := week("closed_part", law.Closed)
	days.Days[6] = law.Answer{Verdict: law.Open}
	for name, c := range map[string]struct {
		home, hire, phosphorus [2]law.PlaceWeek
		varies, part           bool
	}{
		"alike":          {[2]law.PlaceWeek{closed, closed}, [2]law.PlaceWeek{closed, closed}, [2]law.PlaceWeek{open, open}, false, false},
		"for some days":  {[2]law.PlaceWeek{days, days}, [2]law.PlaceWeek{days, days}, [2]law.PlaceWeek{open, open}, false, true},
		"at home":        {[2]law.PlaceWeek{closed, open}, [2]law.PlaceWeek{open, open}, [2]law.PlaceWeek{open, open}, true, true},
		"for hire":       {[2]law.PlaceWeek{closed, closed}, [2]law.PlaceWeek{closed, open}, [2]law.PlaceWeek{open, open}, true, false},
		"for phosphorus": {[2]law.PlaceWeek{open, open}, [2]law.PlaceWeek{open, open}, [2]law.PlaceWeek{open, closed}, true, false},
	} {
		ws, places := straddling(t)
		z := advice.ZoneLaw{Monday: civil.MustDate(2026, 9, 14), AsOf: civil.MustDate(2026, 9, 13)}
		for i, p := range places {
			z.Places = append(z.Places, advice.PlaceLaw{Place: p, Homeowner: map[string]law.PlaceWeek{"N": c.home[i], "P": c.phosphorus[i]}, ForHire: map[string]law.PlaceWeek{"N": c.hire[i]}})
		}
		l := zoneLaw(ws, z)
		assert.Equal(t, c.varies, l.Varies, name)
		assert.Equal(t, c.part, l.Part, name)
		assert.Equal(t, c.home[0].State != "open", l.Shut, name)
		assert.Equal(t, l.Shut, l.Alarm, name)
	}
	none := zoneLaw(&workspace.Workspace{}, advice.ZoneLaw{})
	assert.True(t, none.Alarm, "a zone without any place has no law on record, which clears nothing")
	assert.False(t, none.Shut)
}

// A law that closes phosphorus is named with what would lift it.
func TestExceptionsOfPhosphorusAreNamed(t *testing.T) {
	ws, _ := straddling(t)
	record := &law.Record{Header: law.Header{Title: "Winter Fertilizer Ordinance", Citation: "Shore Co. Code ch. 7"}}
	soil := law.Rule{ID: "phosphorus", Citation: "7-6", Unless: []string{"soil_test_p", "new_turf"}}
	winter := law.Rule{ID: "winter", Citation: "7-2"}
	var w law.PlaceWeek
	for i := range w.Days {
		w.Days[i] = law.Answer{Verdict: law.Closed, Hits: []law.Hit{{Record: record, Rule: &soil, Verdict: law.Closed}, {Record: record, Rule: &winter, Verdict: law.Closed}}}
	}
	assert.Equal(t, []string{
		"Winter Fertilizer Ordinance (7-6), unless one of these holds: a soil test shows too little phosphorus, the lawn is new.", "Winter Fertilizer Ordinance (7-2).",
	}, sentences(ws, exceptions(w)))
}

// Advice to feed says whether it may be watered in, and advice to water what
// watering law leaves of it; where nothing is to be done neither is said.
func TestWateringLawStandsBesideAdvice(t *testing.T) {
	ws, _ := straddling(t)
	places := []law.Place{{Name: "Vellinport", Chain: []string{"ossamere", "shore-county"}}, {Name: "the islands", Chain: []string{"ossamere"}}}
	depthIn, waterInIn := 0.75, 0.25
	rule := watering.Record{
		Header: law.Header{ID: "shore-water", Jurisdiction: "shore-county", AppliesIn: "all", TZ: "America/New_York", Title: "Sprinkler Rule", Citation: "Shore Co. Code ch. 12",
			EffectiveFrom: civil.MustDate(2016, 3, 1), Verification: "verified", CheckedOn: civil.MustDate(2026, 1, 8), ReviewMonths: 12},
		Force: "mandatory", SourceWater: []string{"public"}, NoNumber: "odd", LetterSuffix: "ignore", MaxDepthIn: &depthIn,
		ClosedHours: []watering.Hours{{From: 10 * 60, To: 16*60 + 30}},
		Exempt:      []watering.Exemption{{What: "water_in", MaxIn: &waterInIn, WithinHours: 24}},
	}
	bodies := []law.Jurisdiction{{ID: "ossamere", Level: "state"}, {ID: "shore-county", Level: "county", Parent: "ossamere"}}
	conditions := func(rule watering.Record, verdict string, places []law.Place, use string) []string {
		water := watering.NewBook([]*watering.Record{&rule}, bodies)
		z := advice.AskLaw(law.NewBook(nil, bodies), water, places, civil.Week{Year: 2026, Num: 48}, civil.MustDate(2026, 11, 22), dry)
		g := &Grass{Answers: []*Answer{{Uses: []string{use}, Draft: Draft{Verdict: verdict, Conditions: []*message.Said{text("Keep 10 ft from water.")}}}}}
		tellWatering(z, []*Grass{g})
		return sentences(ws, g.Answers[0].Conditions)
	}
	const said = "Keep 10 ft from water."
	assert.Equal(t, []string{said}, conditions(rule, "closed", places, "nitrogen"), "closed: nothing is spread")
	assert.Equal(t, []string{said}, conditions(rule, "wait", places, "water"), "to wait needs no leave")
	assert.Equal(t, []string{
		said, "Vellinport: watering in what you spread is exempt from closed days and hours, at most 0.25 in of water within 24 hours of spreading (Sprinkler Rule, Shore Co. Code ch. 12).",
		"the islands: no watering rule is on record, and a blank is not permission. If what you spread must be watered in, ask your water supplier about days and hours first.",
	}, conditions(rule, "do", places, "nitrogen"))
	assert.Equal(t, []string{
		said, "Vellinport: only on the days and hours of your house number, under Local rules on the zone’s page (Sprinkler Rule, Shore Co. Code ch. 12).",
		"Vellinport: at most 0.75 in at a time (Sprinkler Rule).", "the islands: no watering rule is on record, and a blank is not permission. Ask your water supplier.",
	}, conditions(rule, "do", places, "water"))

	// Without the exemption its absence is said, once for places of which it is said.
	strict := rule
	strict.Exempt = nil
	both := []law.Place{places[0], {Name: "the shore", Chain: places[0].Chain}}
	assert.Equal(t, []string{
		said, "Everywhere in this zone: watering in what you spread is not exempt: plan to spread so that you can water it in on an open day and hour (Sprinkler Rule, Shore Co. Code ch. 12).",
	}, conditions(strict, "do", both, "iron"))

	// A ban closes everywhere.
	strict.Stages = []watering.Stage{{N: 1, Name: "Emergency", Force: "mandatory", Ban: true}}
	strict.Force, strict.ClosedHours = "by_stage", nil
	strict.Declared = []watering.DeclaredStage{{Stage: 1, From: civil.MustDate(2026, 11, 1), To: civil.MustDate(2026, 12, 31)}}
	assert.Contains(t, conditions(strict, "do", places, "water")[1], "Vellinport: closed. Lawn watering is barred all week")
	ws.Law, ws.WaterLaw, ws.Places = law.NewBook(nil, bodies), watering.NewBook([]*watering.Record{&strict}, bodies), bodies
	l := zoneLaw(ws, advice.AskLaw(ws.Law, ws.WaterLaw, places, civil.Week{Year: 2026, Num: 48}, civil.MustDate(2026, 11, 22), dry))
	assert.Equal(t, []string{"Vellinport"}, l.Dry)
	assert.True(t, l.Alarm)
	assert.Equal(t, []string{"Stage 1 (Emergency), required: all week."}, sentences(ws, l.Places[0].Watering.Laws[0].Stages))
}

// The law of a week survives being written and read.
func TestLawIsPlainValues(t *testing.T) {
	ws, places := straddling(t)
	l := zoneLaw(ws, advice.AskLaw(ws.Law, ws.WaterLaw, places, civil.Week{Year: 2026, Num: 38}, civil.MustDate(2026, 9, 13), dry))
	b, err := json.Marshal(l)
	require.NoError(t, err)
	var back Law
	require.NoError(t, json.Unmarshal(b, &back))
	again, err := json.Marshal(back)
	require.NoError(t, err)
	assert.Equal(t, string(b), string(again))
	assert.Equal(t, l.Places[0].Watering.Rows, back.Places[0].Watering.Rows)
}

// A record past its review leaves both uncleared, each told so.
func TestStaleLawIsClearToNobody(t *testing.T) {
	ws, places := straddling(t)
	l := zoneLaw(ws, advice.AskLaw(ws.Law, ws.WaterLaw, places, civil.Week{Year: 2027, Num: 20}, civil.MustDate(2027, 5, 16), dry))
	for _, p := range l.Places {
		assert.Equal(t, "not_cleared", p.Homeowner.ID, p.Name)
		assert.Contains(t, ids(p.Home.Unknown), "flag.stale", p.Name)
		assert.Contains(t, ids(p.Hire.Unknown), "flag.stale", p.Name)
	}
	assert.Equal(t, "not_cleared", l.Places[0].Watering.State.ID)
}
