package law

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
)

func TestOwnDesignWeekStates(t *testing.T) {
	b := inventedBook(t)
	w := b.Week(Question{Place: selvary, Product: lawn50}, day("2026-04-20"))
	assert.Equal(t, "not_cleared", w.State)
	w = b.Week(Question{Place: hocklan, Product: lime}, day("2026-04-20"))
	assert.Equal(t, "open", w.State)
	assert.Nil(t, w.Next)
	// An alert closes the week but is no part of the calendar.
	w = b.Week(Question{Place: wendrakeOutside, Product: lawn67, Weather: &Weather{Alerts: []Alert{{Event: "Flood Watch"}}}}, day("2026-05-11"))
	assert.Equal(t, "closed_all", w.State)
	require.NotNil(t, w.Next)
	assert.Equal(t, Change{Date: day("2026-06-01"), Clear: true}, *w.Next)
}

func TestOwnDesignZonesThatVaryByPlace(t *testing.T) {
	b := inventedBook(t)
	q := Question{Product: lawn67, AsOf: day(usualAsOf)}
	week := func(p Place, monday string) PlaceWeek {
		q.Place = p
		return b.Week(q, day(monday))
	}
	both := []PlaceWeek{week(wendrakeOutside, "2026-10-12"), week(vellinport, "2026-10-12")}
	assert.True(t, VariesByPlace(both))
	assert.Equal(t, "conditional", both[0].Days[3].Verdict.String())
	assert.Equal(t, "closed", both[1].Days[3].Verdict.String())
	assert.False(t, VariesByPlace([]PlaceWeek{week(wendrakeOutside, "2026-07-06"), week(vellinport, "2026-07-06")}))
	assert.False(t, VariesByPlace(both[:1]))
	assert.False(t, VariesByPlace(nil))
}

func TestOwnDesignLocalDayDecides(t *testing.T) {
	b := inventedBook(t)
	assert.Equal(t, "America/New_York", b.TimeZone(wendrakeOutside))
	assert.Equal(t, "America/New_York", b.TimeZone(hocklan), "from the state, the county having no record")
	assert.Equal(t, "", b.TimeZone(Place{Chain: []string{"nowhere"}}))
	for _, c := range []struct {
		local string
		want  Verdict
	}{
		{"2026-05-31", Conditional},
		{"2026-06-01", Closed},
		{"2026-09-30", Closed},
		{"2026-10-01", Conditional},
	} {
		a := b.Ask(Question{Place: wendrakeOutside, Product: lawn50, Date: day(c.local), AsOf: day(usualAsOf)})
		assert.Equal(t, c.want.String(), a.Verdict.String(), c.local)
	}
	for _, bad := range []string{"", "Local", "America/Nowhere", "../etc/passwd"} {
		_, err := TimeZone(bad)
		assert.Error(t, err, bad)
	}
}

func TestOwnDesignReviewDates(t *testing.T) {
	for _, c := range []struct {
		checked string
		months  int
		next    string
	}{
		{"2024-02-29", 12, "2025-02-28"},
		{"2025-01-31", 1, "2025-02-28"},
		{"2025-03-31", 12, "2026-03-31"},
	} {
		r := Record{Header: Header{CheckedOn: day(c.checked), ReviewMonths: c.months}}
		assert.Equal(t, c.next, r.NextReview().String())
		assert.False(t, r.Stale(day(c.next)))
		assert.True(t, r.Stale(day(c.next).AddDays(1)))
	}
}

// changed returns the invented book with one record altered.
func changed(t *testing.T, id string, alter func(*Record)) *Book {
	records := inventedRecords(t)
	for _, r := range records {
		if r.ID == id {
			alter(r)
		}
	}
	return NewBook(records, inventedList(t))
}

func TestOwnDesignStatus(t *testing.T) {
	q := Question{Place: vellinport, Product: lawn67, Date: day("2026-07-10"), AsOf: day(usualAsOf)}
	for _, c := range []struct {
		name  string
		alter func(*Record)
		want  Verdict
		flags string
	}{
		{"in force", func(*Record) {}, Closed, ""},
		{"a court has paused it", func(r *Record) { r.Status = "enjoined" }, Conditional, "on_hold"},
		{"stayed and stale", func(r *Record) { r.Status, r.CheckedOn = "stayed", day("2024-01-01") }, NotCleared, "on_hold stale"},
		{"proposed counts for nothing, so nobody has looked", func(r *Record) { r.Status = "proposed" }, NotCleared, "no_record:vellinport"},
		{"repealed before", func(r *Record) { r.Status, r.EffectiveTo = "repealed", day("2026-01-31") }, Conditional, ""},
		{"repealed later", func(r *Record) { r.Status, r.EffectiveTo = "repealed", day("2026-07-31") }, Closed, ""},
		{"repealed with no date", func(r *Record) { r.Status = "repealed" }, NotCleared, ""},
		{"expired", func(r *Record) { r.EffectiveTo = day("2026-07-09") }, NotCleared, "expired_no_successor"},
		{"expired, and somebody has looked", func(r *Record) { r.EffectiveTo, r.LapseConfirmed = day("2026-07-09"), true }, Conditional, ""},
		{"superseded by a law that is not on file", func(r *Record) { r.EffectiveTo, r.SupersededBy = day("2026-07-09"), "missing" }, NotCleared, "expired_no_successor"},
		{"unverified closes", func(r *Record) { r.Verification = "unverified" }, Closed, "unverified"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := changed(t, "vellinport-city", c.alter).Ask(q)
			assert.Equal(t, c.want.String(), a.Verdict.String())
			assert.Equal(t, c.flags, flags(a))
		})
	}
}

func TestOwnDesignASuccessorSpeaksForTheLawItFollows(t *testing.T) {
	records := inventedRecords(t)
	var old *Record
	for _, r := range records {
		if r.ID == "vellinport-city" {
			old = r
		}
	}
	next := *old
	next.ID, next.EffectiveFrom = "vellinport-city-new", day("2026-06-01")
	next.Rules = old.Rules[1:] // without the season
	old.EffectiveTo, old.SupersededBy = day("2026-05-31"), next.ID
	b := NewBook(append(records, &next), inventedList(t))
	q := Question{Place: vellinport, Product: lawn67, AsOf: day(usualAsOf)}
	q.Date = day("2026-05-31")
	assert.Equal(t, "closed", b.Ask(q).Verdict.String())
	q.Date = day("2026-06-01")
	a := b.Ask(q)
	assert.Equal(t, "conditional", a.Verdict.String())
	assert.Empty(t, a.Flags)
}

func TestOwnDesignSaleAndPreemption(t *testing.T) {
	q := Question{Actor: Retailer, Product: lawn67, Date: day("2026-07-10"), AsOf: day(usualAsOf)}
	b := inventedBook(t)

	q.Place = vellinport
	a := b.Ask(q)
	assert.Equal(t, "open", a.Verdict.String(), "the city adopted its law after the state's date")
	assert.Equal(t, "preempted", flags(a))
	require.Len(t, a.Notices, 1)
	assert.Equal(t, "shelf", a.Notices[0].Rule.ID)

	q.Place = wendrakeOutside
	a = b.Ask(q)
	assert.Equal(t, "closed", a.Verdict.String(), "the county's law is older and stands")
	assert.Equal(t, "wendrake-county/shelf", closing(a))
	assert.Empty(t, a.Flags)

	q.Actor = Homeowner
	assert.NotContains(t, closing(b.Ask(q)), "shelf", "a ban on selling answers no homeowner")

	// To displace a rule is to clear it, which a doubtful record cannot do.
	q.Actor, q.Place = Retailer, vellinport
	for name, alter := range map[string]func(*Record){
		"stale":      func(r *Record) { r.CheckedOn = day("2024-01-01") },
		"unverified": func(r *Record) { r.Verification = "unverified" },
		"on hold":    func(r *Record) { r.Status = "stayed" },
		"not yet":    func(r *Record) { r.EffectiveFrom = day("2026-08-01") },
		"ended":      func(r *Record) { r.EffectiveTo = day("2026-07-01") },
	} {
		assert.Equal(t, "vellinport-city/shelf", closing(changed(t, "om-state", alter).Ask(q)), name)
	}
}

func TestOwnDesignHomeownerAndHiredAreAnsweredApart(t *testing.T) {
	b := inventedBook(t)
	q := Question{Place: hocklan, Product: urea, Date: day("2026-11-20"), AsOf: day(usualAsOf), RateLb1000: num(1)}
	q.Actor = Homeowner
	assert.Equal(t, "closed", b.Ask(q).Verdict.String())
	q.Actor = ForHire
	assert.Equal(t, "conditional", b.Ask(q).Verdict.String())
}

func TestOwnDesignRollingRainIsNotACalendarDay(t *testing.T) {
	steps := RainSteps{StepHours: 6, In: []float64{0.1, 0.2, 0.3, 0.9, 0.8, 0.4, 0.1, 0.0}}
	assert.InDelta(t, 2.4, steps.Max(24), 1e-12)
	assert.InDelta(t, 1.5, (&RainSteps{StepHours: 6, In: steps.In[:4]}).Max(24), 1e-12)
	assert.InDelta(t, 1.3, (&RainSteps{StepHours: 6, In: steps.In[4:]}).Max(24), 1e-12)
	b := inventedBook(t)
	a := b.Ask(Question{Place: wendrakeOutside, Product: lawn67, Date: day("2026-04-20"), AsOf: day(usualAsOf), Weather: &Weather{ForecastRain: &steps}})
	assert.Equal(t, "wendrake-county/heavy-rain", closing(a))
	assert.InDelta(t, 2.4, a.Hits[0].Found, 1e-12)
	assert.Equal(t, 2.0, a.Hits[0].Limit)
}

func TestOwnDesignClosedSpans(t *testing.T) {
	b := inventedBook(t)
	spans := b.ClosedSpans(wendrakeOutside, Homeowner, "N", day("2026-01-01"), day("2026-12-31"), day("2026-01-01"))
	require.Len(t, spans, 3)
	assert.Equal(t, "2026-01-01..2026-02-28", span(spans[0]), "cut at the day asked from")
	assert.Equal(t, "2026-06-01..2026-09-30", span(spans[1]))
	assert.Equal(t, "2026-10-01", spans[1].EndExclusive().String(), "calendars want the day after")
	assert.Equal(t, "2026-11-16..2026-12-31", span(spans[2]))
	require.Len(t, spans[1].Laws, 1)
	assert.Equal(t, "rainy-season", spans[1].Laws[0].Rule.ID)

	// Two laws close one span, each named for its part.
	spans = b.ClosedSpans(ivelsay, Homeowner, "N", day("2025-10-01"), day("2026-04-30"), day("2025-10-01"))
	require.Len(t, spans, 1)
	assert.Equal(t, "2025-10-26..2026-03-07", span(spans[0]))
	var parts []string
	for _, l := range spans[0].Laws {
		parts = append(parts, l.Rule.ID+" "+l.First.String()+".."+l.Last.String())
	}
	assert.Equal(t, []string{"clock-window 2025-10-26..2026-03-07", "winter-general 2025-11-16..2026-02-28"}, parts)

	// Potash is closed only where the law says any fertilizer.
	assert.Empty(t, b.ClosedSpans(wendrakeOutside, Homeowner, "", day("2026-01-01"), day("2026-12-31"), day("2026-01-01")))
	spans = b.ClosedSpans(brackmoor, Homeowner, "", day("2026-06-01"), day("2027-06-01"), day("2026-06-01"))
	require.Len(t, spans, 1)
	assert.Equal(t, "2026-12-01..2027-04-01", span(spans[0]))
}

// One day decides what can be relied on in the whole of a span asked for, be it
// before, within or after it.
func TestOwnDesignClosedSpansAreJudgedAsOfOneDay(t *testing.T) {
	lapsing := changed(t, "om-state", func(r *Record) {
		r.PreemptTopics, r.GrandfatherBefore = []string{"window"}, 0
		r.CheckedOn, r.ReviewMonths = day("2025-07-31"), 12
	})
	const displaced = "2026-01-01..2026-02-28 2026-11-16..2026-12-31"
	const local = "2026-01-01..2026-02-28 2026-06-01..2026-09-30 2026-11-16..2026-12-31"
	for _, c := range []struct{ name, asOf, want string }{
		{"before the span", "2025-12-01", displaced},
		{"on its first day", "2026-01-01", displaced},
		{"the last day on which the state's law counts", "2026-07-31", displaced},
		{"the day after, in the middle of what it displaced", "2026-08-01", local},
		{"after the span", "2027-03-01", local},
		{"no day stands for the first one", "", displaced},
	} {
		var asOf civil.Date
		if c.asOf != "" {
			asOf = day(c.asOf)
		}
		var got []string
		for _, s := range lapsing.ClosedSpans(wendrakeOutside, Homeowner, "N", day("2026-01-01"), day("2026-12-31"), asOf) {
			got = append(got, span(s))
		}
		assert.Equal(t, c.want, strings.Join(got, " "), c.name)
	}
}

func span(s Span) string { return s.First.String() + ".." + s.Last.String() }
