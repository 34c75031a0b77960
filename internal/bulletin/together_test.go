package bulletin

import (
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// demo loads the demonstration.
func demo(t testing.TB) *workspace.Workspace {
	t.Helper()
	var list diag.List
	ws := workspace.Load(os.DirFS("../.."), data.Phrases, &list)
	require.NoError(t, list.Err())
	return ws
}

// eachReading makes the readings of weeks as a press does, of every zone and
// grass. Again makes an input anew.
func eachReading(ws *workspace.Workspace, weeks []civil.Week, visit func(z *workspace.Zone, p *turf.Profile, in *advice.Input, r *advice.Reading, again func() *advice.Input)) {
	for _, week := range weeks {
		m := newModels(ws, ws.Site.IssueDate(week), ws.Zones)
		for _, z := range ws.Zones {
			w := m.week(ws, z, week)
			for _, p := range z.Grasses {
				again := func() *advice.Input {
					in := input(ws, z, p, week, w)
					in.Brief = true
					return in
				}
				in := again()
				visit(z, p, in, advice.Read(in), again)
			}
		}
	}
}

// draftsOf lists the drafts of a reading that are printed.
func draftsOf(r *advice.Reading) []*advice.Draft {
	var out []*advice.Draft
	for i := range r.Answers {
		a := &r.Answers[i]
		out = append(out, &a.Lead)
		for k := range a.Support {
			out = append(out, &a.Support[k])
		}
	}
	return out
}

// holdsTogether holds a reading to the table of conflicts: no two things that are
// printed exclude each other, nothing is printed that the weather excludes, and
// what something has yielded to stands on the page.
func holdsTogether(t *testing.T, where string, in *advice.Input, r *advice.Reading) {
	t.Helper()
	all := draftsOf(r)
	for _, s := range r.Settled {
		listed := s.Winner.Rule == nil && s.Winner.Pest != nil && s.Winner.Pest.Found.Grade >= pest.Watch // among the pests of the page
		assert.True(t, s.Winner.Topic == "" || listed || slices.ContainsFunc(all, func(d *advice.Draft) bool {
			return d.Rule == s.Winner.Rule && d.Pest == s.Winner.Pest && d.Verdict == s.Winner.Verdict
		}), "%s: what %s names as the winner is not printed", where, s.By.ID)
	}
	stands := func(side advice.Side) bool {
		return side.Grade != "" && slices.ContainsFunc(r.Pests, func(p *advice.Pest) bool { return side.Fits(&advice.Draft{Topic: p.Kind, Pest: p}) })
	}
	for _, trace := range r.Conflicts {
		k := in.Conflicts[slices.IndexFunc(in.Conflicts, func(k *advice.Conflict) bool { return k.Rule == trace.Rule })]
		if trace.Outcome == advice.No || trace.Outcome == advice.Unknown && k.Lacking != "" {
			continue
		}
		if !k.Against.IsZero() && !slices.ContainsFunc(all, k.Against.Fits) && !stands(k.Against) {
			continue
		}
		for _, d := range all {
			if !k.Yields.Fits(d) || !k.Against.IsZero() && k.Against.Fits(d) {
				continue
			}
			if len(k.Yields.Lines) == 0 {
				assert.Fail(t, "excluded by "+k.ID, "%s: %s, %s", where, d.Topic, d.Rule.ID)
				continue
			}
			if v, ok := d.Why.Slot("pest_culture"); ok && d.Pest.Disease != nil {
				for _, line := range d.Pest.Disease.Culture {
					assert.False(t, len(line.Uses) > 0 && v.Text == line.Text, "%s: %s has the reader feed", where, d.Pest.ID())
				}
			}
		}
	}
}

// lawful holds what is printed as open to the law: what is to be done, what an
// answer calls open beside what it calls closed, and the day on which it opens
// again.
func lawful(t *testing.T, where string, ws *workspace.Workspace, z *workspace.Zone, in *advice.Input, r *advice.Reading) {
	t.Helper()
	hours, _ := hoursAhead(ws, z, in.Week)
	alerts := ws.AlertsOf(z, in.IssueDate)
	closed := func(place law.Place, letter string, d civil.Date) bool {
		q := law.Question{Place: place, Actor: law.Homeowner, Date: d, AsOf: in.IssueDate, Product: law.ProductOf(letter)}
		dayMM := math.NaN()
		if mm, ok := in.Felt.View.Forecast(weather.RainMM, d); ok {
			dayMM = mm
		}
		var hoursMM []float64
		for _, h := range hours { // of the day and of the 24 hours after its last
			if h.Date >= d && h.Date <= d+1 {
				hoursMM = append(hoursMM, h.RainMM)
			}
		}
		if q.Weather = advice.ForecastRain(dayMM, hoursMM); q.Weather == nil {
			q.Weather = &law.Weather{}
		}
		q.Weather.Alerts = advice.AlertsOn(alerts, d)
		return ws.Law.Ask(q).Verdict == law.Closed
	}
	for _, d := range draftsOf(r) {
		if d.Verdict != advice.Do {
			continue
		}
		for _, letter := range advice.LawLetters(d.Uses) {
			for _, place := range z.Places {
				for day := in.Week.Monday(); day <= in.Week.Sunday(); day++ {
					assert.False(t, closed(place, letter, day), "%s: %s on %s in %s", where, d.Topic, day, place.Name)
				}
			}
		}
	}
	for _, p := range in.Law.Places {
		if next := p.Homeowner["N"].Next; next != nil && next.Opens {
			assert.False(t, closed(p.Place, "N", next.Date), "%s: opens again on %s in %s", where, next.Date, p.Place.Name)
		}
	}
	for i := range r.Answers {
		a := &r.Answers[i]
		if !a.InPart() || a.Topic != advice.Feed {
			continue
		}
		shut := map[string][]civil.Date{}
		parts, ok := a.Lead.Say.Slot("parts")
		require.True(t, ok)
		for _, part := range parts.Parts {
			places, _ := part.Message.Slot("places")
			days, _ := part.Message.Slot("days")
			for _, place := range places.Parts {
				shut[place.Text] = append(shut[place.Text], days.Dates...)
			}
		}
		require.NotEmpty(t, shut)
		for _, place := range z.Places {
			for day := in.Week.Monday(); day <= in.Week.Sunday(); day++ {
				assert.Equal(t, closed(place, "N", day), slices.Contains(shut[place.Name], day), "%s: %s in %s", where, day, place.Name)
			}
		}
	}
}

// tellsWhen holds what waits to telling until when or for what: its sentence or its
// first reason names a date, or has a value of what is waited for. What a gate holds
// says so in its own phrase, with a reason.
func tellsWhen(t *testing.T, where string, ws *workspace.Workspace, a *advice.Answer) {
	t.Helper()
	switch first := a.Lead.Why; {
	case a.Verdict == advice.NotEnough:
		data, _ := a.Lead.Say.Slot("data")
		assert.NotEmpty(t, data.Parts, "%s: %s names no datum", where, a.Topic)
	case a.Verdict != advice.Wait:
	case a.Lead.Gate != "" && a.Lead.Gate != "together":
		assert.NotEmpty(t, a.Lead.Reasons, where)
	default:
		if first.IsZero() && len(a.Lead.Reasons) > 0 {
			first = a.Lead.Reasons[0]
		}
		dated := false
		for month := range 12 {
			dated = dated || strings.Contains(ws.Voice().Say(a.Lead.Say), ws.Voice().Word("month."+strconv.Itoa(month+1)))
		}
		assert.True(t, dated || len(a.Lead.Say.Slots)+len(first.Slots) > 0, "%s: %s says no end, %s", where, a.Topic, a.Lead.Rule.ID)
	}
}

// What the weeks ahead of three years print as opening without a word of the law is open under it
// on every day, and a closed season that is over is.
func TestDatesAheadMeetTheLaw(t *testing.T) {
	ws := demo(t)
	n := 0
	for _, week := range yearsOf(2024, 2026, 2026, 9) {
		is := build(ws, week, ws.Zones, ahead)
		for _, z := range is.Zones {
			zone, ok := ws.Zone(z.ID)
			require.True(t, ok)
			closed := func(place law.Place, letter string, d civil.Date) bool {
				return ws.Law.Ask(law.Question{Place: place, Actor: law.Homeowner, Date: d, AsOf: is.Date, Product: law.ProductOf(letter)}).Verdict == law.Closed
			}
			for _, line := range z.Ahead.Lines {
				title, window := line.What.Message.Slot("title")
				switch {
				case line.What.Message.Code == "ahead.law_opens":
					named, _ := line.What.Message.Slot("places")
					for _, place := range zone.Places {
						if named.Kind == message.MessageKind || slices.ContainsFunc(named.Parts, message.Text(place.Name).Equal) {
							assert.False(t, closed(place, "N", line.Date), "%s %s: %s", week, z.ID, place.Name)
						}
					}
				case window && line.What.Message.Code == "ahead.opens" && len(line.Closed) == 0:
					for _, p := range zone.Grasses {
						c := ws.Calendar(zone.Climate, p.ID)
						i := slices.IndexFunc(c.Windows, func(w season.Window) bool { return w.Title == title.Text })
						if i < 0 {
							continue
						}
						for _, letter := range advice.LawLetters(advice.Words(c.Windows[i].Uses)) {
							for _, place := range zone.Places {
								n++
								assert.False(t, closed(place, letter, line.Date), "%s %s: %s", week, z.ID, title.Text)
							}
						}
					}
				}
			}
		}
	}
	assert.Positive(t, n)
}
