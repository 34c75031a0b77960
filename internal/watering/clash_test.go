package watering

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
)

// Two watering laws that leave a lot no hour between them, and a fertilizer law that
// wants watered in what none leaves an hour for on a day open for feeding.
func TestEdgesOfClashesWithWatering(t *testing.T) {
	monday := day("2026-07-13")
	record := func(id string, hours []Hours, days ...time.Weekday) *Record {
		r := &Record{Header: law.Header{ID: id, Jurisdiction: "here", AppliesIn: "all", TZ: "America/New_York", EffectiveFrom: day("2010-01-01"),
			Verification: law.VerifiedText, CheckedOn: day("2026-01-12"), ReviewMonths: 12}, Force: "mandatory", SourceWater: []string{"public"}, ClosedHours: hours}
		if days != nil {
			r.Schedules = []Schedule{{ID: "days", Days: []Days{{"odd", days}, {"even", days}}}}
			r.NoNumber, r.LetterSuffix = "odd", "ignore"
		}
		return r
	}
	night, noon := []Hours{{18 * 60, 9 * 60}}, []Hours{{9 * 60, 18 * 60}}
	short := []Hours{{9 * 60, 18*60 - 1}}
	wed, thu := time.Wednesday, time.Thursday
	ban := record("ban", nil)
	ban.Force, ban.Stages, ban.Declared = "by_stage", []Stage{{N: 1, Force: "mandatory", Ban: true}}, []DeclaredStage{{Stage: 1, From: monday, To: monday + 30}}
	freed := record("freed", nil, wed)
	freed.Exempt = []Exemption{{What: "water_in", MaxIn: num(0.25), WithinHours: 24}}
	duty := law.Rule{ID: "in", Topic: "equipment", Effect: law.EffectRequire, Targets: []string{"N"}, Binds: []law.Actor{"all"}, Duty: law.WaterInDuty}
	closed := func(first, last civil.Date) law.Rule {
		return law.Rule{ID: "closed", Topic: "window", Effect: law.EffectBan, Targets: []string{"N"}, Binds: []law.Actor{"all"},
			When: []law.When{{Kind: "dates", From: first, To: last, Bounds: "[]"}}, Where: diag.Where{Pos: diag.Pos{Line: 9}}}
	}
	for _, c := range []struct {
		name  string
		water []*Record
		rules []law.Rule
		want  string
	}{
		{"hours that meet", []*Record{record("a", night), record("b", noon)}, nil, "days"},
		{"a minute between them", []*Record{record("a", night), record("b", short)}, nil, ""},
		{"days that differ", []*Record{record("a", nil, wed), record("b", nil, thu)}, nil, "days"},
		{"a day in common", []*Record{record("a", nil, wed, thu), record("b", nil, thu)}, nil, ""},
		{"one bans by itself", []*Record{ban, record("b", nil, thu)}, nil, ""},
		{"water in on the one day", []*Record{record("a", nil, wed)}, []law.Rule{duty}, ""},
		{"that day is closed for feeding", []*Record{record("a", nil, wed)}, []law.Rule{duty, closed(monday+2, monday+2)}, "water_in"},
		{"so are all", []*Record{record("a", nil, wed)}, []law.Rule{duty, closed(monday, monday+6)}, ""},
		{"a ban", []*Record{ban}, []law.Rule{duty}, "water_in"},
		{"watering in is exempt", []*Record{freed}, []law.Rule{duty, closed(monday+2, monday+2)}, ""},
		{"nothing asks for it", []*Record{ban}, nil, ""},
	} {
		list := []law.Jurisdiction{{ID: "here", Name: "Here", Level: "county"}}
		rec := &law.Record{Header: law.Header{ID: "fed", Jurisdiction: "here", AppliesIn: "all", EffectiveFrom: day("2010-01-01"), Verification: law.VerifiedText,
			CheckedOn: day("2026-01-12"), ReviewMonths: 12}, Status: law.StatusInForce, Rules: c.rules}
		w := NewBook(c.water, list).Week(law.Place{Chain: []string{"here"}}, "", monday, monday)
		got := ""
		for _, x := range w.Clashes(law.NewBook([]*law.Record{rec}, list)) {
			got += x.Kind
			require.NotEqual(t, x.One.Law, x.Other.Law, c.name)
		}
		assert.Equal(t, c.want, got, c.name)
	}
}

// A week turns when other rows are in force than on the day before.
func TestEdgesOfAWeekThatTurns(t *testing.T) {
	r := recordOf(t, "ivelsay-drought")
	r.Declared = []DeclaredStage{{Stage: 2, From: day("2026-07-06"), To: day("2026-07-19")}}
	turns := func(monday string) bool {
		w := Week{Monday: day(monday), Laws: []Law{{Record: r}}}
		return w.Turns()
	}
	assert.Equal(t, []bool{false, true, false, true, false}, []bool{turns("2026-06-29"), turns("2026-07-06"), turns("2026-07-13"), turns("2026-07-20"), turns("2026-07-27")})
	r.EffectiveTo = day("2026-07-16")
	assert.True(t, turns("2026-07-13"), "it runs out")
	assert.False(t, turns("2026-07-20"), "it has run out")
}
