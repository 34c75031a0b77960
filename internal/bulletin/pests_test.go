package bulletin

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/disease"
	"ligule/internal/pest"
	"ligule/internal/stage"
	"ligule/internal/voice"
	"ligule/internal/workspace"
)

// onZoysia is what pests of the demonstration come to in a made-up week: one of
// every kind, and every way to say nothing.
func onZoysia(t *testing.T, issue civil.Date) []*advice.Pest {
	t.Helper()
	var list diag.List
	file := func(name string) *diag.Table {
		text, err := os.ReadFile("../../data/pests/" + name + ".toml")
		require.NoError(t, err)
		root, ok := diag.ReadTOML(name, text, &list)
		require.True(t, ok)
		return root
	}
	nan, defaults := math.NaN(), file("defaults")
	found := func(host int, g pest.Grade) pest.Assessment {
		return pest.Assessment{Host: host, Known: true, Grade: g, Score: nan, Observed: nan, Ahead: nan, Percentile: nan}
	}
	patch := &advice.Pest{Kind: advice.Disease, Disease: disease.Read("large-patch", file("diseases/large-patch"), defaults), Found: found(pest.MainHost, pest.Watch)}
	f := &patch.Found
	f.Score, f.Observed, f.Ahead, f.Percentile = 0.412, 0.5, 0.28, 83
	f.HumidityEstimated, f.History = true, true
	f.Windows = []pest.WindowState{{ID: "fall-prevention", State: pest.WindowOpen, Since: issue.AddDays(-12)}}
	for i := range 14 {
		f.Days = append(f.Days, pest.DayRisk{Date: issue.AddDays(i - 7), Risk: float64(i) / 20, Forecast: i >= 7})
	}
	f.Days[2].Risk = nan
	patch.Lawns = []*advice.Pest{{Last: &pest.Report{Place: "the low corner", Date: issue.AddDays(-5)}, Found: pest.Assessment{ProtectedUntil: issue.AddDays(9)},
		Decision: &disease.Decision{Answer: disease.AnswerClosed, Reasons: []disease.Reason{disease.ReasonSlow}, Steps: []disease.Reason{disease.StepLetItGo}}}}
	mildew := &advice.Pest{Kind: advice.Disease, Disease: disease.Read("powdery-mildew", file("diseases/powdery-mildew"), defaults), Found: found(pest.MinorHost, pest.Quiet)}
	mildew.Found.Known, mildew.Found.Invalid = false, pest.InvalidNoModel
	crabgrass := stage.ReadWeed("crabgrass", file("weeds/crabgrass"), defaults)
	timing := &crabgrass.Timings[0]
	here := &advice.Pest{Kind: advice.Weed, Weed: crabgrass, Found: found(pest.MainHost, pest.Act), Progress: stage.Progress{
		Method: timing.Warmth.Method, Stage: timing.Stages[1], Since: issue.AddDays(-3), Known: true, DegreeDaysC: 42, Generations: nan,
		Next: 2, NextStage: timing.Stages[2], NextOn: issue.AddDays(4),
	}}
	far := &advice.Pest{Kind: advice.Weed, Weed: crabgrass, Found: found(pest.CommonHost, pest.Quiet), Progress: stage.Progress{Invalid: pest.InvalidRegion}}
	far.Found.Known, far.Found.Invalid = false, pest.InvalidRegion
	grubs := &advice.Pest{Kind: advice.Insect, Insect: stage.ReadInsect("white-grubs", file("insects/white-grubs"), defaults), Found: found(pest.CommonHost, pest.Quiet)}
	grubs.Found.Known, grubs.Found.Lacks = false, []string{"degree-days", "soil"}
	grubs.Progress = stage.Progress{Stage: grubs.Insect.Timings[0].Stages[0], Lacks: grubs.Found.Lacks, DegreeDaysC: nan, Generations: nan}
	require.NoError(t, list.Err())
	return []*advice.Pest{patch, mildew, here, far, grubs}
}

func TestWeekOfPests(t *testing.T) {
	issue := civil.MustDate(2026, 11, 22)
	ws := &workspace.Workspace{Cautions: []advice.Caution{{ID: "label", Uses: []string{"herbicide"}}, {ID: "bees", Uses: []string{"insecticide"}}, {ID: "spots", Uses: []string{"fungicide"}}}}
	v := voice.Voice{Book: phrases(t)}
	all := onZoysia(t, issue)
	p := weekPests(ws, all)
	names := func(list []Pest) (out []string) {
		for _, one := range list {
			out = append(out, one.ID+" "+one.Grade)
		}
		return out
	}
	words := func(one Pest) (out []string) {
		for _, w := range one.Why {
			out = append(out, v.Say(w.Message))
		}
		return out
	}
	require.Equal(t, []string{"crabgrass act", "large-patch watch"}, names(p.Rows), "act first")
	assert.Empty(t, p.Quiet)
	assert.Equal(t, []string{"crabgrass unknown", "white-grubs unknown"}, names(p.Silent))
	assert.Equal(t, []string{"powdery-mildew unknown"}, names(p.Unmodeled))
	assert.Equal(t, "Time for a pre-emergent", p.Rows[0].Stage)
	assert.Equal(t, []string{all[2].Progress.Stage.Says}, words(p.Rows[0]))
	assert.Equal(t, []string{
		"The week scores 0.41 for it; watch is from 0.25, act from 0.50.",
		"Its season by soil temperature, “Fall prevention”, is open since November 10.",
		"It was found in this zone at this time of year before.",
		"At the low corner, reported November 17, 2026: not this season. The grass grows too slowly to take it up or to fill in.",
	}, words(p.Rows[1]))
	assert.Equal(t, []string{"Not valid here: Smooth crabgrass in cool-season turf in Maryland, soil at 2.5 cm. Elsewhere, and for large crabgrass, which follows, it is a guide; bare and south-facing ground runs ahead."}, words(p.Silent[0]))
	assert.Equal(t, []string{"Lacks degree-days since the season began, soil temperature."}, words(p.Silent[1]))
	require.Len(t, p.Cautions, 1, "the stages of a weed may name what to use; the gate of the disease is closed")
	assert.Equal(t, "label", p.Cautions[0].ID)
	assert.True(t, p.Rows[0].Above(&p.Rows[1]))
	assert.False(t, p.Silent[0].Above(&p.Rows[1]))
	assert.Equal(t, "Large patch", p.Find("large-patch").Name)
	assert.Nil(t, p.Find("rust"))
	assert.Nil(t, weekPests(ws, nil).Find("rust"))

	all[0].Lawns[0].Decision.Answer = disease.AnswerOpen
	assert.Len(t, weekPests(ws, all).Cautions, 2, "the gate of the disease is open")
	text, err := json.Marshal(p)
	require.NoError(t, err)
	var back Pests
	require.NoError(t, json.Unmarshal(text, &back))
	again, err := json.Marshal(back)
	require.NoError(t, err)
	assert.JSONEq(t, string(text), string(again))
}

// A grade that stands from weeks with a higher score says so, by the scores as
// they are printed.
func TestHeldGrades(t *testing.T) {
	patch := onZoysia(t, civil.MustDate(2026, 11, 22))[0]
	for _, c := range []struct {
		grade pest.Grade
		score float64
		want  bool
	}{{pest.Watch, 0.2451, false}, {pest.Watch, 0.2449, true}, {pest.Act, 0.49, true}, {pest.Act, 0.496, false}, {pest.Quiet, 0.1, false}, {pest.Watch, math.NaN(), false}} {
		patch.Found.Grade, patch.Found.Score = c.grade, c.score
		assert.Equal(t, c.want, held(patch), "%+v", c)
	}
	patch.Found.Grade, patch.Found.Score, patch.Found.Reported = pest.Watch, 0.1, true
	assert.False(t, held(patch))
}

func TestFiguresOfPests(t *testing.T) {
	issue := civil.MustDate(2026, 11, 22)
	v := voice.Voice{Book: phrases(t)}
	f := pestFigures(onZoysia(t, issue))
	require.Len(t, f.Diseases, 1)
	d := f.Diseases[0]
	for _, c := range []struct{ want, got string }{
		{"watch", v.Say(d.Word.Message)}, {"main host, or a major pest", v.Say(d.Host.Message)}, {"0.41", v.Say(d.Score.Message)}, {"0.50", v.Say(d.Observed.Message)},
		{"0.28", v.Say(d.Ahead.Message)}, {"0.25", v.Say(d.Watch.Message)}, {"0.50", v.Say(d.Act.Message)}, {"83%", v.Say(d.Percentile.Message)},
		{"Fall prevention", v.Say(f.Seasons[0].Season.Message)}, {"open since November 10", v.Say(f.Seasons[0].State.Message)},
	} {
		assert.Equal(t, c.want, c.got)
	}
	assert.True(t, d.Estimated)
	assert.True(t, d.NoForecast)
	require.Len(t, f.Risks, 1)
	require.Len(t, f.Risks[0].Days, 14)
	assert.Equal(t, "0.05", v.Say(f.Risks[0].Days[1].Risk.Message))
	assert.Empty(t, v.Say(f.Risks[0].Days[2].Risk.Message))
	require.Len(t, f.Stages, 3)
	s := f.Stages[0]
	assert.Equal(t, "Time for a pre-emergent", s.Stage)
	assert.Equal(t, "November 19, 2026", v.Say(s.Since.Message))
	assert.Equal(t, "76 degree-days\u00a0°F (42\u00a0°C)", v.Say(s.Sum.Message))
	assert.Equal(t, "Last days for a pre-emergent, November 26", s.Next+", "+v.Say(s.NextOn.Message))
	assert.Empty(t, f.Stages[1].Stage, "not valid here")
	assert.Contains(t, v.Say(f.Stages[1].Lacks.Message), "Not valid here")
	require.Len(t, f.Notes, 1)
	var texts []string
	for _, text := range f.Notes[0].Texts {
		texts = append(texts, v.Say(text.Message))
	}
	assert.Equal(t, []string{"It was found in this zone at this time of year before.", "At the low corner, reported November 17, 2026: a treatment on record counts through December 1, 2026.",
		"At the low corner, reported November 17, 2026: not this season.", "The grass grows too slowly to take it up or to fill in.", "Let it go."}, texts)
}
