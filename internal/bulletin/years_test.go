package bulletin

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/pesttest"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// Years of the demonstration and of real stations under its law: what all their
// weeks must hold to, and how much they ask.

// yearsOf are weeks of years, a few apart; where there is time, every one of all the
// years.
func yearsOf(first, sampled, last, apart int) []civil.Week {
	if os.Getenv("EVERY_CASE") != "" {
		sampled, apart = first, 1
	}
	var out []civil.Week
	for y := sampled; y <= last; y++ {
		for w := (civil.Week{Year: y, Num: 1}); w.Year == y; w = w.AddWeeks(apart) {
			out = append(out, w)
		}
	}
	return out
}

// underRealWeather puts a zone of the demonstration under the weather of a real
// station, where that lies, its last year as 2026. The days that followed stand in
// for each week's forecast.
func underRealWeather(t testing.TB, demo *workspace.Workspace, zone, station string, weeks []civil.Week) *workspace.Workspace {
	t.Helper()
	z, ok := demo.Zone(zone)
	require.True(t, ok)
	ws := *demo
	ws.Zones, ws.Stations = []*workspace.Zone{z}, slices.Clone(demo.Stations)
	all := pesttest.Stations()
	at := all[slices.IndexFunc(all, func(s pesttest.Station) bool { return s.ID == station })]
	real := pesttest.Records(t, at.File+".csv.gz")
	move := int(civil.MustDate(2027, 1, 1) - civil.MustDate(at.To+1, 1, 1))
	first := max(real.Start, civil.MustDate(at.From-3, 1, 1))
	st := &ws.Stations[slices.IndexFunc(ws.Stations, func(s workspace.Station) bool { return s.ID == z.Station })]
	st.LatitudeDeg, st.LongitudeDeg, st.ElevationM = at.Place.LatitudeDeg, at.Place.LongitudeDeg, at.Place.ElevationM
	st.Obs, st.Hourly = at.Place.Obs, nil
	st.Records, st.Forecasts = weather.NewSeries(first.AddDays(move), int(real.End()+1-first)), nil
	for d := first; d <= real.End(); d++ {
		for _, column := range []weather.Column{weather.TmaxC, weather.TminC, weather.RainMM} {
			st.Records.Set(column, d.AddDays(move), real.At(column, d))
		}
	}
	for _, week := range weeks {
		st.Forecasts = append(st.Forecasts, weather.Following(st.Station, st.Records, ws.Site.IssueDate(week), 10))
	}
	return &ws
}

// told counts what the weeks of a grass ask.
type told struct {
	weeks, quiet int // and those that ask nothing beyond mowing and water
	verdicts     map[advice.Topic]map[advice.Verdict]int
	years        map[int][2]int // quiet, and all weeks
}

// volume counts them by place and grass, in the order in which they come.
type volume struct {
	order []string
	of    map[string]*told
}

// count counts what is printed of a grass, and holds it to its bounds.
func (v *volume) count(t *testing.T, where, row string, week civil.Week, g *Grass) {
	t.Helper()
	if v.of[row] == nil {
		v.order = append(v.order, row)
		v.of[row] = &told{verdicts: map[advice.Topic]map[advice.Verdict]int{}, years: map[int][2]int{}}
	}
	o := v.of[row]
	asks := false
	looks := map[string]bool{}
	for _, a := range g.Answers {
		topic := advice.Topic(a.Topic)
		if o.verdicts[topic] == nil {
			o.verdicts[topic] = map[advice.Verdict]int{}
		}
		o.verdicts[topic][advice.Verdict(a.Verdict)]++
		asks = asks || topic != advice.Mow && topic != advice.Water && (a.Verdict == string(advice.Do) || a.Verdict == string(advice.Look))
		if topic == advice.Disease {
			assert.NotEqual(t, string(advice.Do), a.Verdict, "%s: nobody has reported a disease of the whole zone", where)
		}
		if a.looks() {
			for _, d := range append([]Draft{a.Draft}, a.Also...) {
				if d.Pest != nil {
					looks[d.Pest.ID] = true
				}
			}
		}
	}
	assert.LessOrEqual(t, len(looks), 3, "%s asks to look for %v", where, slices.Sorted(maps.Keys(looks)))
	o.weeks++
	year := o.years[week.Year]
	year[1]++
	if !asks {
		o.quiet++
		year[0]++
	}
	o.years[week.Year] = year
}

// text is the table.
func (v *volume) text() string {
	verdicts := []advice.Verdict{advice.Do, advice.Look, advice.Wait, advice.Skip, advice.Closed, advice.NotEnough}
	var b strings.Builder
	b.WriteString("# Weeks in which each topic says do/look/wait/skip/closed/not enough, and in which\n# nothing is asked beyond mowing and water.\n")
	fmt.Fprintf(&b, "%-60s%6s%6s", "#", "weeks", "quiet")
	for _, topic := range advice.Topics() {
		fmt.Fprintf(&b, "  %-23s", topic)
	}
	b.WriteString("\n")
	for _, row := range v.order {
		o := v.of[row]
		fmt.Fprintf(&b, "%-60s%6d%6d", row, o.weeks, o.quiet)
		for _, topic := range advice.Topics() {
			var n []string
			for _, verdict := range verdicts {
				n = append(n, fmt.Sprint(o.verdicts[topic][verdict]))
			}
			fmt.Fprintf(&b, "  %-23s", strings.Join(n, "/"))
		}
		b.WriteString("\n")
	}
	return strings.ReplaceAll(b.String(), " \n", "\n")
}

// nothingMissing holds what is printed to the inputs of its gates: what is put on
// grass has the rain ahead, for all of the week or with a word on the rest, how the
// grass grows, and law that is cleared.
func nothingMissing(t *testing.T, where string, in *advice.Input, r *advice.Reading) {
	t.Helper()
	for i := range r.Answers {
		a := &r.Answers[i]
		for _, d := range append([]advice.Draft{a.Lead}, a.Support...) {
			if d.Verdict != advice.Do {
				continue
			}
			for _, letter := range advice.LawLetters(d.Uses) {
				assert.Empty(t, in.Law.UnclearReasons(letter), "%s: %s without a word of the law", where, d.Topic)
			}
			if !slices.ContainsFunc(d.Uses, func(u string) bool {
				return slices.Contains([]string{advice.Nitrogen, advice.Phosphorus, advice.Fungicide, advice.Herbicide, advice.Insecticide}, u)
			}) {
				continue
			}
			assert.True(t, slices.Contains(d.Uses, advice.Phosphorus) || r.Growth.RainFed.Enough, "%s: %s, and nobody knows whether it grows", where, d.Topic)
			_, covered := in.Felt.View.Forecast(weather.RainMM, in.IssueDate)
			assert.True(t, covered, "%s: %s without a forecast of rain", where, d.Topic)
			if _, all := in.Felt.View.Forecast(weather.RainMM, in.Week.Sunday()); !all {
				short := func(m message.Message) bool { return m.Code == "gate.storm.short_forecast" }
				assert.True(t, slices.ContainsFunc(slices.Concat(a.Conditions, d.Conditions), short), "%s: %s past the end of the forecast", where, d.Topic)
			}
		}
	}
}

// restsOnNoLawn holds what the zone is told to do to what it is told without any
// report or treatment.
func restsOnNoLawn(t *testing.T, where string, r, without *advice.Reading) {
	t.Helper()
	does := func(r *advice.Reading) (out []string) {
		for _, d := range draftsOf(r) {
			if d.Verdict == advice.Do {
				name := string(d.Topic) + " " + d.Rule.ID
				if d.Pest != nil {
					name += " " + d.Pest.ID()
				}
				out = append(out, name)
			}
		}
		return out
	}
	assert.Equal(t, does(without), does(r), where)
}

// In weeks over years of the demonstration and of real stations, of every zone and
// grass: no two printed answers exclude each other, nothing printed as open is closed
// by law, no gate is passed on a missing input, no advice for a zone rests on one
// lawn, what waits says until when, a disease of the zone is never treated, at most
// three pests are to be looked for, and a third of the weeks ask nothing beyond
// mowing and water.
func TestWeeksOverYearsHold(t *testing.T) {
	every := os.Getenv("EVERY_CASE") != ""
	type years struct {
		name  string
		ws    *workspace.Workspace
		weeks []civil.Week
	}
	ws := demo(t)
	sets := []years{{"the demonstration", ws.Following(), yearsOf(2016, 2026, 2026, 5)}, {"without forecasts", ws, yearsOf(2024, 2025, 2025, 26)}}
	for _, c := range []struct{ zone, station string }{
		{"gannet-shore", "baton-rouge-la"}, {"larkenhold-foothills", "norfolk-va"}, {"redfallow-piedmont", "jackson-tn"}, {"brackmoor-plateau", "ithaca-ny"},
	} {
		weeks := yearsOf(2018, 2026, 2026, 7)
		sets = append(sets, years{c.station, underRealWeather(t, ws, c.zone, c.station, weeks), weeks})
	}
	v := &volume{of: map[string]*told{}}
	yielded, inPart, reported, blind := map[string]bool{}, 0, 0, 0
	type weekOf struct {
		week civil.Week
		zone string
	}
	var leading []weekOf
	tops := map[weekOf][]*Grass{}
	for i, set := range sets {
		eachReading(set.ws, set.weeks, func(z *workspace.Zone, p *turf.Profile, in *advice.Input, r *advice.Reading, again func() *advice.Input) {
			if in.Felt.View.LastRecord < in.IssueDate.AddDays(-7) {
				return // the archive has not come so far
			}
			where := set.name + " " + in.Week.String() + " " + z.ID + " " + p.ID
			holdsTogether(t, where, in, r)
			lawful(t, where, set.ws, z, in, r)
			nothingMissing(t, where, in, r)
			for i := range r.Answers {
				tellsWhen(t, where, set.ws, &r.Answers[i])
			}
			if len(in.Reports) > 0 && (every || in.Reports[len(in.Reports)-1].Date >= in.IssueDate.AddDays(-20)) {
				reported++
				bare := again()
				bare.Reports, bare.Treatments = nil, nil
				restsOnNoLawn(t, where, r, advice.Read(bare))
			}
			if in.Felt.View.ForecastIssued.IsZero() {
				blind++
			}
			for _, s := range r.Settled {
				yielded[s.By.ID] = true
			}
			if slices.ContainsFunc(r.Answers, func(a advice.Answer) bool { return a.InPart() }) {
				inPart++
			}
			g := NewGrass(set.ws, p, r, true)
			v.count(t, where, fmt.Sprintf("%-19s%-21s%s", set.name, z.ID, p.ID), in.Week, g)
			if at := (weekOf{in.Week, z.ID}); i == 0 && in.Week.Year == 2026 && in.Week.Num%5 == 1 && in.Week.Num < 50 {
				if tops[at] == nil {
					leading = append(leading, at)
				}
				tops[at] = append(tops[at], g)
			}
		})
	}
	assert.Greater(t, len(yielded), 5, "the years try much of the table")
	assert.Positive(t, inPart)
	assert.Positive(t, reported)
	assert.Positive(t, blind, "weeks without any forecast")
	var lead strings.Builder
	for _, at := range leading {
		says := "nothing"
		for _, g := range tops[at] {
			for _, a := range g.Answers {
				if a.ID == first(tops[at]) {
					says = fmt.Sprintf("%s, %s (%s): %s", g.Name, a.Topic, a.Verdict, sets[0].ws.Voice().Say(a.Say.Message))
				}
			}
		}
		fmt.Fprintf(&lead, "%s %-21s%s\n", at.week, at.zone, says)
	}
	pesttest.Same(t, "testdata/first.golden", lead.String())
	name := "testdata/weeks-sample.golden"
	if every {
		name = "testdata/weeks.golden"
	}
	pesttest.Same(t, name, v.text())
	for _, row := range v.order {
		for year, n := range v.of[row].years {
			if n[1] >= 52 {
				assert.GreaterOrEqual(t, 3*n[0], n[1], "%s in %d: %d of %d weeks ask nothing", row, year, n[0], n[1])
			}
		}
	}
}

// A disease is asked for in the first weeks in which it stands at act; then the list
// of pests has it, and feeding goes on waiting for it.
func TestWhatStandsIsAskedForOnce(t *testing.T) {
	ws := demo(t)
	z, ok := ws.Zone("gannet-shore")
	require.True(t, ok)
	for num, want := range map[int]string{
		15: "Large patch: look twice a week, and do what helps without a spray now.",
		17: "Large patch: look twice a week, and do what helps without a spray now.",
		19: "Nothing new, but what was asked for in the weeks before still stands: the list of pests has it. Do it if you have not.",
	} {
		g := Bare(ws, civil.Week{Year: 2026, Num: num}, []*workspace.Zone{z}).Zones[0].Grasses[0]
		require.Equal(t, "st-augustine", g.ID)
		for _, a := range g.Answers {
			if a.Topic == string(advice.Disease) {
				assert.Equal(t, want, ws.Voice().Say(a.Say.Message), "week %d", num)
			}
		}
		assert.Equal(t, "act", g.Pests.Find("large-patch").Grade, "week %d", num)
	}
}
