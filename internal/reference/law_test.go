package reference

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/watering"
	"ligule/internal/workspace"
)

func TestOwnDesignLegalForce(t *testing.T) {
	asOf := civil.MustDate(2026, 11, 22)
	for name, c := range map[string]struct {
		change func(r *law.Record)
		want   Force
	}{
		"in force":              {func(*law.Record) {}, InForce},
		"stayed":                {func(r *law.Record) { r.Status = "stayed" }, NotInForce},
		"enjoined":              {func(r *law.Record) { r.Status = "enjoined" }, NotInForce},
		"repealed, undated":     {func(r *law.Record) { r.Status = "repealed" }, NotInForce},
		"repealed from January": {func(r *law.Record) { r.Status, r.EffectiveTo = "repealed", civil.MustDate(2026, 12, 31) }, InForce},
		"ended":                 {func(r *law.Record) { r.EffectiveTo = civil.MustDate(2026, 11, 21) }, NotInForce},
		"its last day":          {func(r *law.Record) { r.EffectiveTo = asOf }, InForce},
		"not yet":               {func(r *law.Record) { r.EffectiveFrom = asOf.AddDays(1) }, NotInForce},
		"a provision not yet":   {func(r *law.Record) { r.Rules[1].EffectiveFrom = asOf.AddDays(1) }, PartiallyInForce},
		"stale":                 {func(r *law.Record) { r.CheckedOn = civil.MustDate(2025, 1, 1) }, ""},
		"from a summary":        {func(r *law.Record) { r.Verification = "secondary" }, ""},
	} {
		r := &law.Record{Header: law.Header{EffectiveFrom: civil.MustDate(2012, 1, 1), Verification: "verified", CheckedOn: civil.MustDate(2026, 2, 17), ReviewMonths: 12}, Status: "in_force", Rules: make([]law.Rule, 2)}
		c.change(r)
		assert.Equal(t, c.want, legalForce(r, asOf), name)
	}
}

// Days that recur and are no fixed date are said in words.
func TestOwnDesignAnchorsInWords(t *testing.T) {
	v := speak(t)
	for text, want := range map[string]string{
		"11-15": "November 15", "02-29": "February 29", "02-last": "the last day of February", "nth:last-Sun-10": "the last Sunday of October",
		"nth:2-Sun-03": "the second Sunday of March", "nth:last-Mon-05+1d": "1 days after the last Monday of May", "nth:2-Tue-11-10d": "10 days before the second Tuesday of November",
	} {
		a, err := law.ParseAnchor(text)
		require.NoError(t, err)
		assert.Equal(t, want, v.Value(anchor(a)), text)
	}
	assert.Empty(t, v.Value(anchor(law.Anchor{})), "a day that was not read")
}

func TestOwnDesignWordsOfWatering(t *testing.T) {
	v := speak(t)
	for minute, want := range map[int]string{0: "midnight", 24 * 60: "midnight", 12 * 60: "noon", 9 * 60: "9 am", 9*60 + 5: "9:05 am", 12*60 + 30: "12:30 pm", 30: "12:30 am", 23*60 + 59: "11:59 pm"} {
		assert.Equal(t, want, v.Value(message.Clock(minute)), minute)
	}
	assert.True(t, clockHours([]watering.Hours{{From: 0, To: 24 * 60}}).IsZero(), "all day needs no hours")
	assert.Equal(t, "midnight to 9 am, 5 pm to midnight", v.Say(clockHours([]watering.Hours{{From: 0, To: 9 * 60}, {From: 17 * 60, To: 24 * 60}})))

	all := []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}
	odd, even := []int{1, 3, 5, 7, 9}, []int{0, 2, 4, 6, 8}
	for _, c := range []struct {
		group   watering.Group
		letters bool
		want    string
	}{
		{watering.Group{Group: "all", Digits: all, Letters: all, NoNumber: true}, false, "Every address"},
		{watering.Group{Group: "odd", Digits: odd, Letters: odd, NoNumber: true}, false, "Odd house numbers; also lots without a number"},
		{watering.Group{Group: "even", Digits: even}, true, "Even house numbers, without a letter after them"},
		{watering.Group{Group: "digit_8_9", Digits: []int{8, 9}, Letters: all, NoNumber: true}, true, "Numbers that end in 8 or 9, and any with a letter at the end; also lots without a number"},
		{watering.Group{Group: "digits", Digits: []int{1, 2, 7}, Letters: []int{1}}, true, "Numbers that end in 1, 2, 7, and with a letter after 1"},
		{watering.Group{Group: "letter", Letters: all}, true, "Numbers with a letter at the end"},
		{watering.Group{Group: "no_number", NoNumber: true}, true, "Lots without a number"},
		{watering.Group{Group: "odd", Digits: odd, Letters: odd, Nonresidential: true}, false, "Other than homes: Odd house numbers"},
		{watering.Group{Group: "nonresidential", Digits: all, Letters: all, NoNumber: true, Nonresidential: true}, false, "Other than homes"},
	} {
		assert.Equal(t, c.want, v.Say(waterGroup(c.group, c.letters)))
	}
}

// Stages of shortage that change within the week are named with their days, and
// so is not knowing.
func TestStagesOfShortageAreNamedByDay(t *testing.T) {
	v := speak(t)
	day := func(d int) civil.Date { return civil.MustDate(2026, 11, d) }
	rule := &watering.Record{
		Header: law.Header{ID: "shore-water", Jurisdiction: "shore-county", AppliesIn: "all", TZ: "America/New_York", Title: "Sprinkler Rule", Citation: "Shore Co. Code ch. 12",
			EffectiveFrom: civil.MustDate(2016, 3, 1), Verification: "verified", CheckedOn: civil.MustDate(2026, 1, 8), ReviewMonths: 12},
		Force: "by_stage", SourceWater: []string{"public"}, NoNumber: "odd", LetterSuffix: "ignore",
		Stages: []watering.Stage{
			{N: 1, Name: "Advisory", Force: "voluntary", ClosedHours: []watering.Hours{{From: 9 * 60, To: 18 * 60}}},
			{N: 2, Name: "Alert", Force: "mandatory", ClosedHours: []watering.Hours{{From: 10 * 60, To: 16 * 60}}},
		},
		Declared: []watering.DeclaredStage{{Stage: 1, From: day(24), To: day(25)}, {Stage: 2, From: day(26), AssumeUntil: day(27)}},
	}
	ws := &workspace.Workspace{Places: []law.Jurisdiction{{ID: "ossamere", Name: "State of Ossamere"}, {ID: "shore-county", Name: "Shore County", Parent: "ossamere"}}}
	place := law.Place{Name: "Vellinport", Chain: []string{"ossamere", "shore-county"}}
	w := WateringOf(ws, watering.NewBook([]*watering.Record{rule}, ws.Places).Week(place, "public", day(23), day(22)), day(22))
	require.Len(t, w.Laws, 1)
	var stages []string
	for _, s := range w.Laws[0].Stages {
		stages = append(stages, v.Say(s.Message))
	}
	assert.Equal(t, []string{
		"No stage of shortage is declared: Monday, November 23.", "Stage 1 (Advisory), asked for, not required: Tuesday, November 24 through Wednesday, November 25.",
		"Stage 2 (Alert), required: Thursday, November 26 through Friday, November 27.",
		"Which stage is declared is not known: Saturday, November 28 through Sunday, November 29. Ask your water supplier.",
	}, stages)
	assert.Equal(t, "not_cleared", w.State.ID)
	require.Len(t, w.Laws[0].Flags, 2, "%v", w.Laws[0].Flags)
	var tuesday [][2]string
	for _, p := range w.Rows[1].Cells[0].Parts {
		tuesday = append(tuesday, [2]string{v.Say(p.Word.Message), v.Say(p.Hours.Message)})
	}
	assert.Equal(t, [][2]string{{"Open", "midnight to 9 am, 6 pm to midnight"}, {"Asked not to", "9 am to 6 pm"}}, tuesday)
	assert.Equal(t, []string{"State of Ossamere"}, w.Unread)
}
