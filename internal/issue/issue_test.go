package issue

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

func phrases(t testing.TB) *advice.Phrases {
	t.Helper()
	var list diag.List
	text, err := os.ReadFile("../../data/phrases.toml")
	require.NoError(t, err)
	root, ok := diag.ReadTOML("phrases.toml", text, &list)
	require.True(t, ok)
	return advice.ReadPhrases(root)
}

// series is a week of fair weather before an issue of 12 July 2026, without the
// days left out.
func series(out ...int) *weather.Felt {
	issue := civil.MustDate(2026, 7, 12)
	const days = 60
	s := weather.NewSeries(issue.AddDays(-days), days)
	for i := range days {
		d := s.Start.AddDays(i)
		missing := false
		for _, ago := range out {
			missing = missing || int(issue-d) == ago
		}
		if missing {
			continue
		}
		s.Set(weather.TmaxC, d, 30)
		s.Set(weather.TminC, d, 20)
		s.Set(weather.RainMM, d, 2)
	}
	f := weather.NewSeries(issue, 3)
	for i := range 3 {
		f.Set(weather.TmaxC, issue.AddDays(i), 28)
		f.Set(weather.TminC, issue.AddDays(i), 18)
		f.Set(weather.RainMM, issue.AddDays(i), 5)
	}
	return weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 34}, s, []weather.Forecast{{Issued: issue, Days: f}}, issue).Felt()
}

// The week's figures rest on observed days alone, and on five of them at least.
func TestWeekWeather(t *testing.T) {
	issue, week := civil.MustDate(2026, 7, 12), civil.Week{Year: 2026, Num: 29}
	w := weekWeather(series(), issue, week)
	require.Len(t, w.Past, 7)
	assert.Equal(t, "2026-07-05", w.Past[0].Date.String())
	assert.Equal(t, "2026-07-11", w.Past[6].Date.String())
	assert.Equal(t, 7, w.PastSum.Days)
	assert.InDelta(t, 25, w.PastSum.MeanC, 1e-9)
	assert.InDelta(t, 14, w.PastSum.RainMM, 1e-9)
	assert.InDelta(t, 26, w.PastSum.Soil10C, 0.2, "the soil of a steady month is a degree above the air")
	require.Len(t, w.Ahead, 3, "no further than the forecast")
	assert.True(t, math.IsNaN(w.AheadSum.MeanC), "three days make no week")
	assert.Equal(t, "temperature", w.RadiationRung)

	w = weekWeather(series(2, 5), issue, week)
	assert.Equal(t, 5, w.PastSum.Days)
	assert.InDelta(t, 25, w.PastSum.MeanC, 1e-9)
	assert.Equal(t, weather.Estimated, w.Past[5].TempBasis)

	w = weekWeather(series(2, 4, 6), issue, week)
	assert.Equal(t, 4, w.PastSum.Days)
	assert.True(t, math.IsNaN(w.PastSum.MeanC))
	assert.True(t, math.IsNaN(w.PastSum.RainMM))
	assert.True(t, math.IsNaN(w.PastSum.ETMM))
}

// A change is told once, the law first, at most four.
func TestWhatChanged(t *testing.T) {
	p := phrases(t)
	grass := func(name string, state turf.State, verdict advice.Verdict) *Grass {
		return &Grass{Profile: &turf.Profile{ID: name, Name: name}, Reading: &advice.Reading{
			Growth:  turf.Reading{RainFed: turf.Growth{Enough: state != "", State: state}},
			Answers: []advice.Answer{{Topic: advice.Feed, Verdict: verdict}},
		}}
	}
	zone := func(closed bool, grasses ...*Grass) *Zone {
		z := &Zone{Zone: &workspace.Zone{ID: "z"}, Grasses: grasses}
		if closed {
			z.Law.Closed = []advice.Reason{{ID: "law.closed_season"}}
		}
		return z
	}
	ids := func(r []advice.Reason) []string {
		var out []string
		for _, x := range r {
			out = append(out, x.ID)
		}
		return out
	}
	same := zone(false, grass("Zoysiagrass", turf.Growing, advice.Do))
	assert.Empty(t, changes(p, same, same))

	got := changes(p, same, zone(true, grass("Zoysiagrass", turf.Slowing, advice.Closed)))
	assert.Equal(t, []string{"changed.law_closed", "changed.state", "changed.verdict"}, ids(got))
	assert.Equal(t, "Zoysiagrass: was Growing, now Slowing.", got[1].Text)
	assert.Contains(t, got[2].Text, "Closed by local rule")

	got = changes(p, zone(true, grass("Zoysiagrass", "", advice.Closed)), zone(false, grass("Zoysiagrass", turf.Growing, advice.Do)))
	assert.Equal(t, []string{"changed.law_opened", "changed.verdict"}, ids(got), "a state that was not known has not changed")

	many := func(s turf.State, v advice.Verdict) *Zone {
		return zone(false, grass("A", s, v), grass("B", s, v), grass("C", s, v))
	}
	assert.Len(t, changes(p, many(turf.Growing, advice.Do), many(turf.Slowing, advice.Skip)), maxChanges)
}

// A press prints every week with notes up to the pressed one, and that one.
func TestWeeks(t *testing.T) {
	ws := &workspace.Workspace{}
	for _, n := range []int{16, 29, 38, 48} {
		ws.Weeks = append(ws.Weeks, &workspace.WeekFolder{Week: civil.Week{Year: 2026, Num: n}})
	}
	assert.Equal(t, []civil.Week{{Year: 2026, Num: 16}, {Year: 2026, Num: 29}, {Year: 2026, Num: 30}}, Weeks(ws, civil.Week{Year: 2026, Num: 30}))
	assert.Equal(t, []civil.Week{{Year: 2026, Num: 16}, {Year: 2026, Num: 29}, {Year: 2026, Num: 38}}, Weeks(ws, civil.Week{Year: 2026, Num: 38}))
}
