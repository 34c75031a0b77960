package bulletin

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/message"
	"ligule/internal/turf"
	"ligule/internal/voice"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

func phrases(t testing.TB) *voice.Book {
	t.Helper()
	var list diag.List
	text, err := os.ReadFile("../../data/phrases.toml")
	require.NoError(t, err)
	root, ok := diag.ReadTOML("phrases.toml", text, &list)
	require.True(t, ok)
	return voice.ReadBook(root)
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
	f := series()
	w := weekWeather(f, issue, week)
	require.Len(t, w.Past, 7)
	assert.Equal(t, "2026-07-05", w.Past[0].Date.String())
	assert.Equal(t, "2026-07-11", w.Past[6].Date.String())
	past := sumsOf(f, w.Past)
	assert.Equal(t, 7, past.days)
	assert.InDelta(t, 25, past.meanC, 1e-9)
	assert.InDelta(t, 14, past.rainMM, 1e-9)
	assert.InDelta(t, 26, past.soil10C, 0.2, "the soil of a steady month is a degree above the air")
	require.Len(t, w.Ahead, 3, "no further than the forecast")
	assert.True(t, math.IsNaN(sumsOf(f, w.Ahead).meanC), "three days make no week")
	assert.Equal(t, "rung.temperature", w.Radiation.Message.Code)
	for _, row := range w.Sums {
		assert.NotNil(t, row.Past, row.ID)
		assert.Nil(t, row.Ahead, row.ID)
	}

	f = series(2, 5)
	w = weekWeather(f, issue, week)
	past = sumsOf(f, w.Past)
	assert.Equal(t, 5, past.days)
	assert.InDelta(t, 25, past.meanC, 1e-9)
	assert.True(t, w.Past[5].Estimated)

	f = series(2, 4, 6)
	past = sumsOf(f, weekWeather(f, issue, week).Past)
	assert.Equal(t, 4, past.days)
	assert.True(t, math.IsNaN(past.meanC))
	assert.True(t, math.IsNaN(past.rainMM))
	assert.True(t, math.IsNaN(past.etMM))
}

// A change is told once, the law first, at most four.
func TestWhatChanged(t *testing.T) {
	v := voice.Voice{Book: phrases(t)}
	grass := func(name string, state turf.State, verdict advice.Verdict) *Grass {
		g := &Grass{ID: name, Name: name, Answers: []*Answer{{Topic: string(advice.Feed), Draft: Draft{Verdict: string(verdict)}}}}
		if g.Enough = state != ""; g.Enough {
			g.state(turf.Reading{RainFed: turf.Growth{Enough: true, State: state}})
		}
		return g
	}
	zone := func(closed bool, grasses ...*Grass) *Zone {
		z := &Zone{ID: "z", Grasses: grasses}
		if closed {
			z.Law.Closed = message.SayAll([]message.Message{message.New("law.closed_season")})
		}
		return z
	}
	ids := func(r []message.Message) []string {
		var out []string
		for _, x := range r {
			out = append(out, x.Code)
		}
		return out
	}
	same := zone(false, grass("Zoysiagrass", turf.Growing, advice.Do))
	assert.Empty(t, changes(same, same))

	got := changes(same, zone(true, grass("Zoysiagrass", turf.Slowing, advice.Closed)))
	assert.Equal(t, []string{"changed.law_closed", "changed.state", "changed.verdict"}, ids(got))
	assert.Equal(t, "Zoysiagrass: was Growing, now Slowing.", v.Say(got[1]))
	assert.Contains(t, v.Say(got[2]), "Closed by local rule")

	got = changes(zone(true, grass("Zoysiagrass", "", advice.Closed)), zone(false, grass("Zoysiagrass", turf.Growing, advice.Do)))
	assert.Equal(t, []string{"changed.law_opened", "changed.verdict"}, ids(got), "a state that was not known has not changed")

	many := func(s turf.State, v advice.Verdict) *Zone {
		return zone(false, grass("A", s, v), grass("B", s, v), grass("C", s, v))
	}
	assert.Len(t, changes(many(turf.Growing, advice.Do), many(turf.Slowing, advice.Skip)), maxChanges)
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
