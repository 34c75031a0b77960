package disease

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/turf"
)

// fine is a place of a growing lawn on a fit day, with a confirmed disease that
// spreads over much of it.
func fine() Case {
	return Case{
		State: turf.Growing, MowDays: 7, Mowings: 5, Grade: pest.Act, Identified: true, Spreading: true, AreaPct: 15,
		SoilC: 20, AirC: 22, RainInH: math.Inf(1), Wilting: pest.No, TreatedShare: nan, Today: monthDay(2026, 9, 20),
	}
}

// The worked situations of the gate; own design, but for what the conditions cite.
func TestOwnDesignGate(t *testing.T) {
	opened := []pest.WindowState{{ID: "fall", State: pest.WindowOpen}}
	for _, c := range []struct {
		name    string
		disease string
		change  func(*Case)
		answer  Answer
		reasons []Reason
		steps   []Reason // all of these
		never   []Reason // none of these
	}{
		{"zoysia, large patch spreading, mown every 12 days, dry ahead", "large-patch",
			func(c *Case) { c.State, c.MowDays = turf.Slowing, 12 }, AnswerOpen, nil,
			[]Reason{StepLabel, StepSpot, StepTwoGroups, StepKeepDry, StepCulture}, []Reason{StepWaterIn}},
		{"the same, mown every 18 days", "large-patch",
			func(c *Case) { c.State, c.MowDays = turf.Slowing, 18 }, AnswerClosed, []Reason{ReasonSlow},
			[]Reason{StepLetItGo, StepRemember, StepNextWindow}, []Reason{StepSpot}},
		{"the same, mown every 14 days", "large-patch",
			func(c *Case) { c.State, c.MowDays = turf.Slowing, 14 }, AnswerOpen, nil, nil, nil},
		{"the same, no mowing expected", "large-patch",
			func(c *Case) { c.State, c.MowDays = turf.Slowing, 0 }, AnswerClosed, []Reason{ReasonSlow}, nil, nil},
		{"the same, dormant", "large-patch",
			func(c *Case) { c.State, c.MowDays = turf.Dormant, 0 }, AnswerClosed, []Reason{ReasonDormant}, []Reason{StepLetItGo}, nil},
		{"the same, resting", "large-patch",
			func(c *Case) { c.State = turf.Resting }, AnswerClosed, []Reason{ReasonResting}, nil, nil},
		{"the same, growth not known", "large-patch",
			func(c *Case) { c.State = "" }, AnswerHold, []Reason{ReasonGrowthUnknown}, nil, nil},
		{"the same in spring, before the second mowing", "large-patch",
			func(c *Case) { c.State, c.Mowings = turf.GreeningUp, 1 }, AnswerHold, []Reason{ReasonGreenUp}, nil, nil},
		{"the same in spring, after it", "large-patch",
			func(c *Case) { c.State, c.Mowings = turf.GreeningUp, 2 }, AnswerOpen, nil, []Reason{StepOnce}, nil},
		{"a patch that does not grow", "large-patch",
			func(c *Case) { c.Spreading = false }, AnswerNone, []Reason{ReasonNotSpreading}, []Reason{StepScout, StepCulture}, nil},
		{"bermuda, spring dead spot two years at the place, soil of 14 °C falling, mown every 21 days", "spring-dead-spot",
			func(c *Case) { c.State, c.MowDays, c.SoilC, c.History, c.Windows = turf.Slowing, 21, 14, true, opened }, AnswerOpen, nil,
			[]Reason{StepWaterIn, StepLabel}, []Reason{StepKeepDry}},
		{"the same, dormant with the window still open", "spring-dead-spot",
			func(c *Case) { c.State, c.MowDays, c.SoilC, c.History, c.Windows = turf.Dormant, 0, 13, true, opened }, AnswerOpen, nil, []Reason{StepWaterIn}, nil},
		{"the same, frozen", "spring-dead-spot",
			func(c *Case) { c.State, c.SoilC, c.History, c.Windows = turf.Dormant, -0.5, true, opened }, AnswerClosed, []Reason{ReasonFrozen}, nil, nil},
		{"the same, the window past", "spring-dead-spot",
			func(c *Case) { c.History, c.Windows = true, []pest.WindowState{{State: pest.WindowAfter}} }, AnswerClosed, []Reason{ReasonOutsideWindow}, []Reason{StepNextWindow}, nil},
		{"the same, without history", "spring-dead-spot",
			func(c *Case) { c.Windows = opened }, AnswerNone, []Reason{ReasonNoHistory}, nil, nil},
		{"Kentucky bluegrass, rust on 30 per cent of the leaves", "rust",
			func(c *Case) { c.AreaPct = 30 }, AnswerNone, []Reason{ReasonNeverWorth}, []Reason{StepMowAndFeed}, []Reason{StepSpot}},
		{"a brown area, not identified", "brown-patch",
			func(c *Case) { c.Identified = false }, AnswerNone, []Reason{ReasonNotIdentified}, []Reason{StepSample}, []Reason{StepSpot}},
		{"rain in four hours, a leaf disease", "brown-patch",
			func(c *Case) { c.RainInH = 4 }, AnswerHold, []Reason{ReasonRainSoon}, nil, nil},
		{"rain in six hours", "brown-patch",
			func(c *Case) { c.RainInH = 6 }, AnswerOpen, nil, []Reason{StepKeepDry}, nil},
		{"rain in four hours, a root disease", "spring-dead-spot",
			func(c *Case) { c.RainInH, c.History, c.Windows = 4, true, opened }, AnswerOpen, nil, nil, nil},
		{"31 °C at noon, tall fescue brown patch", "brown-patch",
			func(c *Case) { c.AirC = 31 }, AnswerHold, []Reason{ReasonTooHot}, []Reason{StepMorning}, nil},
		{"29 °C", "brown-patch", func(c *Case) { c.AirC = 29 }, AnswerOpen, nil, nil, nil},
		{"10 °C", "brown-patch", func(c *Case) { c.AirC = 10 }, AnswerHold, []Reason{ReasonTooCold}, nil, nil},
		{"wilting", "brown-patch", func(c *Case) { c.Wilting = pest.Yes }, AnswerHold, []Reason{ReasonWilting}, nil, nil},
		{"patches and buffers on 2,600 of 5,000 ft²", "brown-patch",
			func(c *Case) { c.TreatedShare = 2600.0 / 5000 }, AnswerOpen, nil, []Reason{StepWholeArea, StepLicensed}, nil},
		{"treated nine days ago", "brown-patch",
			func(c *Case) { c.LastTreated, c.Interval = c.Today.AddDays(-9), 14 }, AnswerSilent, []Reason{ReasonProtected}, []Reason{StepScout}, []Reason{StepSpot}},
		{"treated fourteen days ago", "brown-patch",
			func(c *Case) { c.LastTreated, c.Interval = c.Today.AddDays(-14), 14 }, AnswerOpen, nil, nil, nil},
		{"centipede, dead scattered grass in April", "large-patch",
			func(c *Case) { c.Identified, c.Scattered = false, true }, AnswerNone, []Reason{ReasonColdInjury}, []Reason{StepSample}, nil},
		{"tall fescue brown patch on 4 per cent", "brown-patch",
			func(c *Case) { c.AreaPct = 4 }, AnswerNone, []Reason{ReasonBelowThreshold}, []Reason{StepScout, StepCulture}, nil},
		{"the same on 6 per cent of a lawn in its first year", "brown-patch",
			func(c *Case) { c.AreaPct, c.Young = 6, pest.Yes }, AnswerOpen, nil, nil, nil},
		{"the same on 15 per cent in a week of watch", "brown-patch",
			func(c *Case) { c.Grade = pest.Watch }, AnswerNone, []Reason{ReasonBelowThreshold}, nil, nil},
		{"area not measured", "brown-patch",
			func(c *Case) { c.AreaPct = nan }, AnswerNone, []Reason{ReasonBelowThreshold}, nil, nil},
		{"fairy ring of mushrooms alone", "fairy-ring",
			func(c *Case) { c.History = false }, AnswerNone, []Reason{ReasonNoHistory}, nil, []Reason{StepSpot}},
		{"perennial ryegrass overseeding, Pythium, first greasy spots", "pythium-blight",
			func(c *Case) { c.Young, c.AreaPct = pest.Yes, 1 }, AnswerOpen, nil, []Reason{StepUrgent, StepDrain}, []Reason{StepIfYoung, StepIfFresh}},
		{"the same in a mild week, hardly mown yet, not known to spread", "pythium-blight",
			func(c *Case) { c.Young, c.MowDays, c.Spreading, c.Grade = pest.Yes, 0, false, pest.Quiet }, AnswerOpen, nil, []Reason{StepUrgent}, nil},
		{"the same while it greens up", "pythium-blight",
			func(c *Case) { c.Young, c.State, c.Mowings = pest.Yes, turf.GreeningUp, 0 }, AnswerOpen, nil, []Reason{StepUrgent}, nil},
		{"the same, not confirmed", "pythium-blight",
			func(c *Case) { c.Young, c.Identified = pest.Yes, false }, AnswerNone, []Reason{ReasonNotIdentified}, []Reason{StepSample}, []Reason{StepUrgent}},
		{"the same, dormant", "pythium-blight",
			func(c *Case) { c.Young, c.State = pest.Yes, turf.Dormant }, AnswerClosed, []Reason{ReasonDormant}, nil, nil},
		{"tall fescue of many years, Pythium", "pythium-blight",
			func(c *Case) { c.Grass, c.Young = "tall-fescue", pest.No }, AnswerNone, []Reason{ReasonBelowThreshold}, nil, []Reason{StepUrgent}},
		{"tall fescue, nobody told its age", "pythium-blight",
			func(c *Case) { c.Grass, c.Wilting = "tall-fescue", pest.NotTold }, AnswerOpen, nil, []Reason{StepUrgent, StepIfYoung}, []Reason{StepIfFresh}},
		{"perennial ryegrass of many years", "pythium-blight",
			func(c *Case) { c.Grass, c.Young = "perennial-ryegrass", pest.No }, AnswerOpen, nil, []Reason{StepUrgent}, []Reason{StepIfYoung}},
		{"nobody told whether it wilts", "brown-patch",
			func(c *Case) { c.Wilting = pest.NotTold }, AnswerOpen, nil, []Reason{StepIfFresh}, []Reason{StepUrgent}},
		{"no forecast tells of rain", "brown-patch",
			func(c *Case) { c.RainInH = nan }, AnswerHold, []Reason{ReasonNoForecast}, nil, nil},
		{"no forecast tells of rain, a root disease", "spring-dead-spot",
			func(c *Case) { c.RainInH, c.History, c.Windows = nan, true, opened }, AnswerOpen, nil, []Reason{StepWaterIn}, nil},
		{"no forecast tells of heat", "brown-patch",
			func(c *Case) { c.AirC = nan }, AnswerHold, []Reason{ReasonNoForecast}, nil, nil},
		{"no fit hours all week", "brown-patch",
			func(c *Case) { c.NoFitHours = true }, AnswerHold, []Reason{ReasonNoFitHours}, []Reason{StepScout}, nil},
		{"snow mold before the snow, where it killed grass", "gray-snow-mold",
			func(c *Case) { c.State, c.MowDays, c.AirC, c.History = turf.Slowing, 30, 6, true }, AnswerOpen, nil, []Reason{StepKeepDry}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := fine()
			c.change(&in)
			got := demoDisease(t, c.disease).Gate(in)
			assert.Equal(t, c.answer, got.Answer, "%+v", got)
			assert.Equal(t, c.reasons, got.Reasons)
			for _, s := range c.steps {
				assert.Contains(t, got.Steps, s)
			}
			for _, s := range c.never {
				assert.NotContains(t, got.Steps, s)
			}
			if got.Answer == AnswerOpen {
				assert.Equal(t, StepLabel, got.Steps[0], "the label first")
				assert.Contains(t, got.Steps, StepCulture, "no treatment without a cultural step")
			}
		})
	}
}

// What stands beside every treatment: the cautions of the data for fungicides.
func TestEveryFungicideHasItsCautions(t *testing.T) {
	text := string(dataFile(t, "cautions.toml"))
	for _, id := range []string{"label", "ppe", "keep-off", "wind", "bees", "water-label", "storage", "hire"} {
		i := strings.Index(text, `id     = "`+id+`"`)
		if assert.GreaterOrEqual(t, i, 0, id) {
			block, _, _ := strings.Cut(text[i:], "[[caution]]")
			assert.Contains(t, block, `"fungicide"`, id)
		}
	}
}

func usesOf(uses ...string) (log []pest.Treatment) {
	for i, u := range uses {
		list := &diag.List{}
		rows := pest.ReadTreatments("log.csv", []byte("date,zone,target,groups\n2026-04-01,z,p,"+u+"\n"), list)
		if list.Errors() > 0 {
			panic(list.Error())
		}
		rows[0].Date = rows[0].Date.AddDays(30 * i)
		log = append(log, rows...)
	}
	return log
}

// Rotation by the strategy of CropLife Australia 2019, with our own choices for
// mixtures and for groups that it leaves free.
func TestOwnDesignRotation(t *testing.T) {
	resistant := func(code string) Partner {
		if code == "7" {
			return PartnerResistant
		}
		return PartnerClean
	}
	notOn := func(dead string) func(string) Partner {
		return func(code string) Partner {
			if code == dead {
				return PartnerNone
			}
			return PartnerClean
		}
	}
	all := func(string) Partner { return PartnerClean }
	for _, c := range []struct {
		name    string
		log     []string
		wish    string
		partner func(string) Partner
		want    RotationVerdict
		run     int
		owed    int
	}{
		{"11, then 3", []string{"11"}, "3", all, RotationAllowed, 0, 0},
		{"another strobilurin is the same group", []string{"11"}, "11", all, RotationRefused, 2, 1},
		{"a mixture, then one of its groups", []string{"11+3"}, "3", all, RotationRefused, 2, 1},
		{"a mixture, then one that shares a group", []string{"11+3"}, "7+11", all, RotationMixed, 2, 1},
		{"the same, the partner resistant", []string{"11+3"}, "7+11", resistant, RotationRefused, 2, 1},
		{"one more use of others is owed", []string{"11", "11", "3"}, "11", all, RotationRefused, 1, 1},
		{"as many as the run", []string{"11", "11", "3", "M05"}, "11", all, RotationAllowed, 0, 0},
		{"multi-site is free", []string{"M05", "M05"}, "M05", all, RotationAllowed, 0, 0},
		{"October and April are in a row", []string{"11"}, "11", all, RotationRefused, 2, 1},
		{"7, then 7+11", []string{"7"}, "7+11", all, RotationMixed, 2, 1},
		{"1, then 1", []string{"1"}, "1", all, RotationRefused, 2, 1},
		{"phosphonates are free", []string{"P07", "P07"}, "P07", all, RotationAllowed, 0, 0},
		{"another place has its own log", nil, "11", all, RotationAllowed, 0, 0},

		{"nothing on record", nil, "11", all, RotationAllowed, 0, 0},
		{"11, then mixed with a partner that works", []string{"11"}, "11+3", all, RotationMixed, 2, 1},
		{"three in a row, though mixed", []string{"11+3", "7+11"}, "11+3", all, RotationRefused, 3, 2},
		{"one of two owed uses", []string{"11+3", "7+11", "M05"}, "11", all, RotationRefused, 1, 1},
		{"both owed uses", []string{"11+3", "7+11", "M05", "3"}, "11", all, RotationAllowed, 0, 0},
		{"3, then another 3", []string{"3"}, "3", all, RotationRefused, 2, 1},
		{"a partner that does nothing", []string{"11"}, "11+4", notOn("4"), RotationRefused, 2, 1},
		{"33 is P07", []string{"33"}, "P07", all, RotationAllowed, 0, 0},
		{"a run of one, paid back", []string{"11", "3"}, "11", all, RotationAllowed, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			var d Disease
			got := d.Rotate(usesOf(c.log...), strings.Split(c.wish, "+"), c.partner)
			assert.Equal(t, c.want, got.Verdict)
			if c.want != RotationAllowed {
				assert.Equal(t, c.run, got.Run)
				assert.Equal(t, c.owed, got.Owed)
			}
		})
	}
	// By the file of a disease: what it does not name does nothing there, and
	// where resistance is known a partner does not count.
	brown := demoDisease(t, "brown-patch")
	assert.Equal(t, RotationRefused, brown.Rotate(usesOf("11"), []string{"11", "4"}, nil).Verdict)
	assert.Equal(t, RotationMixed, brown.Rotate(usesOf("11"), []string{"11", "7"}, nil).Verdict)
	dollar := demoDisease(t, "dollar-spot")
	assert.Equal(t, RotationRefused, dollar.Rotate(usesOf("7"), []string{"7", "3"}, nil).Verdict)
}

// After any log a wish of groups never used is free, and no group comes three
// times in a row.
func TestRotationNeverAllowsThreeInARow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		codes := []string{"1", "3", "7", "11", "M05", "P07"}
		clean := func(string) Partner { return PartnerClean }
		var uses [][]string
		for range rapid.IntRange(1, 30).Draw(t, "uses") {
			wish := rapid.SliceOfNDistinct(rapid.SampledFrom(codes), 1, 3, func(s string) string { return s }).Draw(t, "wish")
			if rotate(uses, wish, usualMostInARow, clean).Verdict == RotationRefused {
				continue
			}
			uses = append(uses, wish)
			for _, code := range wish {
				n := len(uses)
				if freeOfRotation(code) || n < 3 {
					continue
				}
				if slices.Contains(uses[n-2], code) && slices.Contains(uses[n-3], code) {
					t.Fatalf("%s three times in a row: %v", code, uses)
				}
			}
		}
		if v := rotate(uses, []string{"19"}, usualMostInARow, clean).Verdict; v != RotationAllowed {
			t.Fatalf("a new group is %v", v)
		}
	})
}
