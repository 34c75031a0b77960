package law

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
)

// asking makes one book of a law of one place with some rules, which a case may
// change, and returns its verdict on each of some days.
func asking(change func(*Record, *Question), rules ...Rule) func(days ...civil.Date) string {
	b, q := bareBook(rules...)
	rec := b.Records("here")[0]
	q.AsOf = rec.CheckedOn
	if change != nil {
		change(rec, &q)
	}
	return func(days ...civil.Date) string {
		out := ""
		for _, d := range days {
			q.Date = d
			out += "fonC"[b.Ask(q).Verdict:][:1] // free, open within limits, not cleared, closed
		}
		return out
	}
}

// closes is a rule that closes nitrogen while its spans are on.
func closes(when ...When) Rule {
	return Rule{Topic: "window", Effect: "ban", Targets: []string{"N"}, Binds: []Actor{"all"}, When: when}
}

// around are the days about a first and a last one: the day before, the first,
// the second, the last but one, the last and the day after.
func around(first, last civil.Date) []civil.Date {
	return []civil.Date{first - 1, first, first + 1, last - 1, last, last + 1}
}

// A closing holds on its first day and on its last, and not on the days around
// them, whatever makes it.
func TestEdgesOfClosedDays(t *testing.T) {
	first, last := day("2026-06-01"), day("2026-09-30")
	span := around(first, last)
	const all = "fCCCCf"
	for _, c := range []struct {
		name   string
		when   When
		change func(*Record, *Question)
		want   string
	}{
		{"by the year", window("06-01", "09-30", "[]"), nil, all},
		{"without its first anchor", window("05-31", "09-30", "(]"), nil, all},
		{"without its last", window("06-01", "10-01", "[)"), nil, all},
		{"without both", window("05-31", "10-01", "()"), nil, all},
		{"by dates", When{Kind: "dates", From: first, To: last, Bounds: "[]"}, nil, all},
		{"by dates without both", When{Kind: "dates", From: first - 1, To: last + 1, Bounds: "()"}, nil, all},
		{"after planting", When{Kind: "after_planting", Days: DayRange{10, 10 + int(last-first)}}, func(_ *Record, q *Question) { q.Planted = first - 10 }, all},
		{"after planting, not stated", When{Kind: "after_planting", Days: DayRange{0, 300}}, nil, "ffffff"},
		{"by an order", When{Kind: "declared", Name: "drought"}, func(r *Record, _ *Question) {
			r.Declarations = []Declaration{{Name: "drought", From: first, To: last}}
		}, all},
		{"by an order without an end: the day after is not known", When{Kind: "declared", Name: "drought"}, func(r *Record, _ *Question) {
			r.Declarations = []Declaration{{Name: "drought", From: first, AssumeUntil: last}}
		}, "fCCCCn"},
		{"by a stated season", When{Kind: "season", Name: "growing", Side: "inside"}, func(_ *Record, q *Question) {
			q.Seasons = []Season{{Name: "growing", From: first, To: last}}
		}, all},
		{"outside a stated season", When{Kind: "season", Name: "growing", Side: "outside"}, func(_ *Record, q *Question) {
			q.Seasons = []Season{{Name: "growing", From: first, To: last}}
		}, "CffffC"},
		{"while its law is in force", window("01-01", "12-31", "[]"), func(r *Record, _ *Question) {
			r.EffectiveFrom, r.EffectiveTo, r.LapseConfirmed = first, last, true
		}, "nCCCCf"},
		{"while its rule is in force", window("01-01", "12-31", "[]"), func(r *Record, _ *Question) {
			r.Rules[0].EffectiveFrom, r.Rules[0].EffectiveTo = first, last
		}, all},
		{"of one season, by an override", window("03-01", "03-31", "[]"), func(r *Record, _ *Question) {
			r.Rules[0].Overrides = []Override{{Season: 2026, From: first, To: last, Bounds: "[]"}}
		}, all},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, asking(c.change, closes(c.when))(span...)) })
	}
	one := asking(nil, closes(window("07-04", "07-04", "[]")))
	assert.Equal(t, "fCf", one(day("2026-07-03"), day("2026-07-04"), day("2026-07-05")), "a season of one day")
	winter := asking(nil, closes(window("12-01", "02-15", "[]")))
	assert.Equal(t, "fCCCCf", winter(day("2026-11-30"), day("2026-12-01"), day("2026-12-31"), day("2027-01-01"), day("2027-02-15"), day("2027-02-16")), "over New Year")

	// Which edge is unclear is said of both anchor days.
	w := window("06-01", "09-30", "()")
	w.BoundsBasis = "assumed"
	b, q := bareBook(closes(w))
	for i, want := range []bool{false, true, false, false, true, false} {
		q.Date = span[i]
		assert.Equal(t, want, strings.Contains(flags(b.Ask(q)), string(EdgeAssumed)), q.Date)
	}
}

// The days on which a record and a place without one are past their review: the
// day of it is in time.
func TestEdgesOfReviews(t *testing.T) {
	due := day("2027-01-12") // a year after the day of bareBook's record
	verdict := func(asOf civil.Date) string {
		return asking(func(_ *Record, q *Question) { q.AsOf = asOf }, closes(window("01-01", "01-02", "[]")))(day("2027-06-01"))
	}
	assert.Equal(t, []string{"f", "n"}, []string{verdict(due), verdict(due + 1)})

	none := func(asOf civil.Date) string {
		b := NewBook(nil, []Jurisdiction{{ID: "here", Coverage: "none_found", CheckedOn: day("2026-01-12")}})
		return "fonC"[b.Ask(Question{Place: Place{Chain: []string{"here"}}, Product: lawn50, Date: day("2027-06-01"), AsOf: asOf}).Verdict:][:1]
	}
	assert.Equal(t, []string{"f", "n"}, []string{none(due), none(due + 1)})
}

// What is to be looked at: what ends or begins within ninety days, today
// included; and when it is overdue.
func TestEdgesOfTheListOfReviews(t *testing.T) {
	b, _ := bareBook()
	rec := b.Records("here")[0]
	told := func(what string, asOf civil.Date) bool {
		for _, r := range b.Reviews(asOf) {
			if r.What == what {
				return true
			}
		}
		return false
	}
	rec.EffectiveTo = day("2026-09-30")
	for asOf, want := range map[civil.Date]bool{rec.EffectiveTo - 91: false, rec.EffectiveTo - 90: true, rec.EffectiveTo: true} {
		assert.Equal(t, want, told("expiry", asOf), asOf)
	}
	rec.EffectiveFrom, rec.EffectiveTo = day("2026-06-01"), 0
	for asOf, want := range map[civil.Date]bool{day("2026-05-31") - 91: false, day("2026-05-31") - 90: true, day("2026-05-31"): true, day("2026-06-01"): false} {
		assert.Equal(t, want, told("effective", asOf), asOf)
	}
	r := Review{Due: day("2026-07-12")}
	assert.Equal(t, []bool{false, true}, []bool{r.Past(r.Due), r.Past(r.Due + 1)})
	assert.Equal(t, []bool{false, true, true}, []bool{r.Within(r.Due-15, 14), r.Within(r.Due-14, 14), r.Within(r.Due+1, 14)})
}

// A law that takes effect within ninety days is mentioned, and clears nothing
// else.
func TestEdgesOfALawToCome(t *testing.T) {
	b, q := bareBook(closes(window("01-01", "12-31", "[]")))
	rec := b.Records("here")[0]
	rec.EffectiveFrom = day("2026-09-30")
	for ahead, want := range map[int]bool{0: false, 1: true, 90: true, 91: false} {
		q.Date = rec.EffectiveFrom.AddDays(-ahead)
		assert.Equal(t, want, strings.Contains(flags(b.Ask(q)), string(NotYetEffective)), ahead)
	}
}

// The next change is looked for over 400 days from Sunday.
func TestEdgesOfTheNextChange(t *testing.T) {
	monday := day("2026-03-02")
	sunday := monday + 6
	next := func(from civil.Date) *Change {
		b, q := bareBook(closes(When{Kind: "dates", From: from, To: from + 10, Bounds: "[]"}))
		b.Records("here")[0].ReviewMonths = 36
		return b.Week(q, monday).Next
	}
	require.NotNil(t, next(sunday+400))
	assert.Equal(t, Change{Date: sunday + 400, Clear: true}, *next(sunday + 400))
	assert.Nil(t, next(sunday+401))
	require.NotNil(t, next(sunday+1))
}

// An upper law that displaces those below leaves what was adopted before its day,
// not what was adopted on it; it displaces nothing once it is past its review.
func TestEdgesOfDisplacedLaw(t *testing.T) {
	verdict := func(adopted civil.Date, change func(upper *Record)) Verdict {
		upper := &Record{Header: Header{ID: "upper", Jurisdiction: "state", AppliesIn: "all", EffectiveFrom: day("2010-01-01"), Verification: "verified",
			CheckedOn: day("2026-01-12"), ReviewMonths: 12}, Status: "in_force", RelationDown: "preempts", PreemptTopics: []string{"window"}, GrandfatherBefore: day("2013-07-01")}
		lower := &Record{Header: Header{ID: "lower", Jurisdiction: "town", AppliesIn: "all", EffectiveFrom: day("2012-01-01"), Verification: "verified",
			CheckedOn: day("2026-11-12"), ReviewMonths: 12}, Parent: "state", AdoptedOn: adopted, Status: "in_force", Rules: []Rule{closes(window("01-01", "12-31", "[]"))}}
		lower.Rules[0].ID = "r"
		if change != nil {
			change(upper)
		}
		b := NewBook([]*Record{upper, lower}, nil)
		return b.Ask(Question{Place: Place{Chain: []string{"state", "town"}}, Actor: Homeowner, Product: lawn50, Date: day("2026-12-01"), AsOf: day("2027-01-12")}).Verdict
	}
	old, late := day("2013-06-30"), day("2013-07-01")
	assert.Equal(t, Closed, verdict(old, nil))
	assert.Equal(t, Open, verdict(late, nil))
	assert.Equal(t, Closed, verdict(late, func(u *Record) { u.CheckedOn-- }), "it is a day past its review")
	assert.Equal(t, Closed, verdict(late, func(u *Record) { u.Verification = "unverified" }))
	assert.Equal(t, Closed, verdict(late, func(u *Record) { u.EffectiveTo = day("2026-11-30") }))
	assert.Equal(t, Open, verdict(late, func(u *Record) { u.EffectiveTo = day("2026-12-01") }), "its last day")
}

// Figures at what the law names, and a little on either side.
func TestEdgesOfFigures(t *testing.T) {
	const date = "2026-04-15"
	ask := func(r Rule, change func(*Question)) string {
		return asking(func(_ *Record, q *Question) { change(q) }, r)(day(date))
	}
	capped := func(set func(*Rule)) Rule {
		r := Rule{Topic: "rate", Effect: "cap", Targets: []string{"N"}, Binds: []Actor{"all"}}
		set(&r)
		return r
	}
	product := func(lb, nPct, slowPct float64) func(*Question) {
		return func(q *Question) { q.RateLb1000, q.Product = &lb, Product{NPct: nPct, SlowNPct: slowPct} }
	}
	total := capped(func(r *Rule) { r.PerAppTotalNLb1000 = num(0.7) })
	soluble := capped(func(r *Rule) { r.PerAppSolubleNLb1000 = num(0.7) })
	slow := capped(func(r *Rule) { r.MinSlowPct = num(30) })
	for _, c := range []struct {
		name   string
		rule   Rule
		change func(*Question)
		want   string
	}{
		{"0.7 lb of 0.7", total, product(7, 10, 0), "o"},
		{"0.701 lb", total, product(7.01, 10, 0), "C"},
		{"0.7 lb soluble", soluble, product(10, 10, 3), "o"},
		{"0.71 lb soluble", soluble, product(10, 10, 2.9), "C"},
		{"30 % slow", slow, product(1, 10, 3), "o"},
		{"29.9 % slow", slow, product(1, 10, 2.99), "C"},
	} {
		assert.Equal(t, c.want, ask(c.rule, c.change), c.name)
	}

	buffer := Rule{Topic: "buffer", Effect: "ban", Targets: []string{"N"}, Binds: []Actor{"all"}, BufferFt: num(10), ExemptPlantingDays: &DayRange{0, 60}}
	for ft, want := range map[float64]string{10: "o", 9.99: "C", 10.01: "o"} {
		assert.Equal(t, want, ask(buffer, func(q *Question) { q.DistanceFt = num(ft) }), "%v ft of 10", ft)
	}
	for days, want := range map[int]string{-1: "C", 0: "o", 60: "o", 61: "C"} {
		assert.Equal(t, want, ask(buffer, func(q *Question) { q.DistanceFt, q.Planted = num(1), day(date).AddDays(-days) }), "%d days after planting", days)
	}

	rain := func(compare string, in float64, hours int) Rule {
		return Rule{Topic: "weather", Effect: "ban", Targets: []string{"N"}, Binds: []Actor{"all"}, RainIn: num(in), RainHours: hours, RainCompare: compare, RainBasis: "forecast"}
	}
	fall := func(in float64) func(*Question) {
		return func(q *Question) { q.Weather = &Weather{ForecastRainIn24h: &in} }
	}
	for _, c := range []struct {
		name string
		rule Rule
		in   float64
		want string
	}{
		{"two inches of two", rain(">=", 2, 24), 2, "C"}, {"1.99", rain(">=", 2, 24), 1.99, "o"}, {"what prints as two", rain(">=", 2, 24), 1.996, "C"},
		{"an inch, more than an inch named", rain(">", 1, 24), 1, "o"}, {"1.01", rain(">", 1, 24), 1.01, "C"}, {"what prints as one", rain(">", 1, 24), 1.004, "o"},
		{"a day's rain and a rule on two days", rain(">=", 2, 48), 2, "C"}, {"and a rule on 23 hours", rain(">=", 2, 23), 9, "o"},
	} {
		assert.Equal(t, c.want, ask(c.rule, fall(c.in)), c.name)
	}
	alerts := Rule{Topic: "weather", Effect: "ban", Targets: []string{"N"}, Binds: []Actor{"all"}, Alerts: []string{"Flood Watch", "Hurricane Watch"}, AlertScope: "zone"}
	for events, want := range map[string]string{"": "o", "Flood Watch": "C", "flood watch": "C", "Flood Warning": "o", "Heat Advisory, Hurricane Watch": "C", "Flood": "o"} {
		assert.Equal(t, want, ask(alerts, func(q *Question) {
			q.Weather = &Weather{}
			for _, event := range strings.Split(events, ", ") {
				q.Weather.Alerts = append(q.Weather.Alerts, Alert{Event: event})
			}
		}), "%q", events)
	}
	named, ok := alerts.alertMet(&Weather{Alerts: []Alert{{Event: "Heat Advisory"}, {Event: "hurricane watch", UntilMin: 7}, {Event: "Flood Watch"}}})
	assert.Equal(t, []any{Alert{Event: "Hurricane Watch", UntilMin: 7}, true}, []any{named, ok}, "the first that it names, as the law spells it")
	frozen := Rule{Topic: "weather", Effect: "ban", Targets: []string{"N"}, Binds: []Actor{"all"}, Ground: []string{"frozen"}, FrozenDepthIn: num(2)}
	for in, want := range map[float64]string{2: "C", 1.99: "o"} {
		assert.Equal(t, want, ask(frozen, func(q *Question) { q.Weather = &Weather{Ground: []string{"frozen"}, FrostDepthIn: &in} }), "%v in", in)
	}
}

// What lifts a ban on phosphorus: a soil test through its last day, new turf
// through its last season.
func TestEdgesOfExceptions(t *testing.T) {
	date := day("2026-04-15")
	ban := Rule{Topic: "phosphorus", Effect: "ban", Targets: []string{"P"}, Binds: []Actor{"all"}, Unless: []string{"soil_test_p", "new_turf"}, SoilTestMaxAgeMonths: 36, NewTurfSeasons: 2}
	ask := func(change func(*Question)) string {
		return asking(func(_ *Record, q *Question) {
			q.Product = Product{NPct: 10, P2O5Pct: 10}
			change(q)
		}, ban)(date)
	}
	test := func(d civil.Date) string {
		return ask(func(q *Question) { q.SoilTest = &SoilTest{Date: d, PDeficient: true} })
	}
	for d, want := range map[civil.Date]string{date: "o", date + 1: "C", day("2023-04-15"): "o", day("2023-04-14"): "C"} {
		assert.Equal(t, want, test(d), d)
	}
	for season, want := range map[int]string{0: "o", 1: "o", 2: "o", 3: "C"} {
		assert.Equal(t, want, ask(func(q *Question) { q.NewTurf, q.GrowingSeason = true, season }), season)
	}
}

// Of several laws the strictest figure is the one that is told.
func TestEdgesOfTheStrictest(t *testing.T) {
	two := func(a, b float64, set func(*Rule, float64)) float64 {
		rules := []Rule{{Topic: "rate", Effect: "cap", Targets: []string{"N"}, Binds: []Actor{"all"}}, {Topic: "rate", Effect: "cap", Targets: []string{"N"}, Binds: []Actor{"all"}}}
		set(&rules[0], a)
		set(&rules[1], b)
		book, q := bareBook(rules...)
		q.Date = day("2026-04-15")
		got := book.Conditions(q)
		require.Len(t, got, 1)
		return got[0].Value
	}
	for name, c := range map[string]struct {
		set  func(*Rule, float64)
		want float64
	}{
		"a cap":    {func(r *Rule, x float64) { r.PerAppTotalNLb1000 = &x }, 0.5},
		"a floor":  {func(r *Rule, x float64) { r.MinSlowPct = &x }, 0.7},
		"a buffer": {func(r *Rule, x float64) { r.Topic, r.Effect, r.BufferFt = "buffer", "ban", &x }, 0.7},
	} {
		assert.Equal(t, c.want, two(0.5, 0.7, c.set), name)
		assert.Equal(t, c.want, two(0.7, 0.5, c.set), "%s, the other way round", name)
	}
}

// A county's law on unincorporated land holds there, and stops at the city line.
func TestEdgesOfUnincorporatedLand(t *testing.T) {
	b, q := bareBook(closes(window("01-01", "12-31", "[]")))
	b.Records("here")[0].AppliesIn = "unincorporated"
	b.levels["city"] = "municipal"
	q.Date = day("2026-04-15")
	assert.Equal(t, Closed, b.Ask(q).Verdict)
	q.Place.Chain = []string{"here", "city"}
	assert.NotEqual(t, Closed, b.Ask(q).Verdict)
}

// A closing that began long before the days asked about is told from its first
// day, and one that ends on the first of them or begins on the last belongs to
// them.
func TestEdgesOfClosedSeasons(t *testing.T) {
	b, q := bareBook(closes())
	from := day("2026-06-01")
	spans := b.ClosedSeasons(q.Place, Homeowner, "N", from, from+6, day("2026-02-01"))
	if assert.Len(t, spans, 1) {
		assert.Equal(t, day("2010-01-01"), spans[0].First, "since its law took effect")
	}

	season := []Span{{First: day("2026-05-01"), Last: day("2026-05-31")}}
	for first, touches := range map[string]bool{"2026-05-31": true, "2026-06-01": false} {
		assert.Equal(t, touches, len(Touching(season, day(first), day(first)+6)) == 1, "from %s", first)
	}
	for last, touches := range map[string]bool{"2026-05-01": true, "2026-04-30": false} {
		assert.Equal(t, touches, len(Touching(season, day(last)-6, day(last))) == 1, "through %s", last)
	}
}
