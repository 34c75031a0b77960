package watering

import (
	"fmt"
	"ligule/internal/civil"
	"ligule/internal/law"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func inventedBook(t testing.TB) *Book {
	t.Helper()
	return NewBook([]*Record{recordOf(t, "wendrake-water"), recordOf(t, "ivelsay-drought")}, ossamere(t).jurisdictions(t))
}

// cityWater is a city law inside the invented county: longer closed hours, lower
// caps, no exemption but watering in.
func cityWater(t testing.TB) *Record {
	t.Helper()
	return recordOf(t, "vellinport-water")
}

// row writes a row as a page would: lots, then for each day its open hours, or
// its verdict if there are none.
func (g Group) row() string {
	out := g.Group
	if g.Nonresidential && g.Group != "nonresidential" {
		out = "nonresidential " + out
	}
	for _, d := range g.Days {
		out += " " + d.Date.Weekday().String()[:2] + ":"
		if d.Verdict != Open {
			out += d.Verdict.String()
			continue
		}
		var hours []string
		for _, h := range d.At(Open) {
			hours = append(hours, fmt.Sprintf("%d-%d", h.From/60, h.To/60))
		}
		out += strings.Join(hours, "+")
	}
	return out
}

func rowsOf(w Week) []string {
	var out []string
	for _, g := range w.Groups {
		out = append(out, g.row())
	}
	return out
}

func TestOwnDesignWateringWeek(t *testing.T) {
	b := inventedBook(t)
	wendrake := law.Place{Name: "Wendrake", Chain: []string{"om", "wendrake"}}

	w := b.Week(wendrake, "", day("2026-07-13"), day("2026-07-12"))
	assert.Equal(t, "limited", w.State)
	assert.Equal(t, []string{"om"}, w.Unread)
	assert.Equal(t, []string{
		"odd Mo:closed Tu:closed We:0-10+16-24 Th:closed Fr:closed Sa:0-10+16-24 Su:closed",
		"even Mo:closed Tu:closed We:closed Th:0-10+16-24 Fr:closed Sa:closed Su:0-10+16-24",
		"nonresidential Mo:closed Tu:0-10+16-24 We:closed Th:closed Fr:0-10+16-24 Sa:closed Su:closed",
	}, rowsOf(w))
	odd := w.Groups[0]
	assert.True(t, odd.NoNumber, "no number counts as odd")
	assert.Equal(t, odd.Digits, odd.Letters, "a letter is ignored")
	assert.Equal(t, []Part{{w.Laws[0].Record, "summer-clock", "hour"}}, odd.Days[2].Spans[1].By)
	assert.Equal(t, []Part{{w.Laws[0].Record, "summer-clock", "day"}}, odd.Days[0].Spans[0].By)
	require.NotNil(t, w.MaxDepthIn)
	assert.InDelta(t, 0.75, w.MaxDepthIn.Value, 0)
	assert.Equal(t, "exempt", w.WaterIn.State)
	assert.InDelta(t, 0.25, w.WaterIn.MaxIn, 0)
	assert.Equal(t, 24, w.WaterIn.Hours)
	var free []string
	for _, x := range w.Exempt {
		free = append(free, x.What)
	}
	assert.Equal(t, []string{"drip", "hand_held_shutoff", "reclaimed", "new_turf", "water_in"}, free)

	// The week in which the clock changes, on Sunday at two.
	w = b.Week(wendrake, "public", day("2026-03-02"), day("2026-03-01"))
	assert.Equal(t, "even Mo:closed Tu:closed We:closed Th:closed Fr:closed Sa:closed Su:0-10+16-24", rowsOf(w)[1])
	w = b.Week(wendrake, "public", day("2026-10-26"), day("2026-10-25"))
	assert.Equal(t, "odd Mo:closed Tu:closed We:0-10+16-24 Th:closed Fr:closed Sa:0-10+16-24 Su:closed", rowsOf(w)[0])
}

func TestOwnDesignWateringWeekByStage(t *testing.T) {
	b := inventedBook(t)
	place := law.Place{Name: "Ivelsay", Chain: []string{"om", "hocklan", "ivelsay"}}
	ask := func(monday string) Week { return b.Week(place, "public", day(monday), day(monday)-1) }

	w := ask("2026-04-20")
	assert.Equal(t, "open", w.State)
	assert.Equal(t, []string{"all Mo:0-24 Tu:0-24 We:0-24 Th:0-24 Fr:0-24 Sa:0-24 Su:0-24"}, rowsOf(w))
	assert.Equal(t, "not_needed", w.WaterIn.State)
	assert.Equal(t, []string{"om", "hocklan"}, w.Unread)

	w = ask("2026-05-18")
	assert.Equal(t, [7]int{2, 2, 2, 2, 2, 2, 2}, w.Laws[0].Stage)
	assert.Equal(t, []string{
		"odd Mo:closed Tu:closed We:closed Th:0-9+18-24 Fr:closed Sa:closed Su:0-9+18-24",
		"even Mo:closed Tu:closed We:0-9+18-24 Th:closed Fr:closed Sa:0-9+18-24 Su:closed",
	}, rowsOf(w))
	assert.Equal(t, []Hours{{9 * 60, 10 * 60}, {16 * 60, 18 * 60}}, w.Groups[1].Days[2].At(AdvisedAgainst))
	assert.Equal(t, []Hours{{10 * 60, 16 * 60}}, w.Groups[1].Days[2].At(Closed))
	assert.Equal(t, "not_exempt", w.WaterIn.State, "the district exempts no watering in")

	w = ask("2026-06-15")
	assert.Equal(t, []string{
		"digit_0_1 Mo:0-8+18-24 Tu:closed We:closed Th:closed Fr:closed Sa:closed Su:closed",
		"digit_2_3 Mo:closed Tu:0-8+18-24 We:closed Th:closed Fr:closed Sa:closed Su:closed",
		"digit_4_5 Mo:closed Tu:closed We:0-8+18-24 Th:closed Fr:closed Sa:closed Su:closed",
		"digit_6_7 Mo:closed Tu:closed We:closed Th:0-8+18-24 Fr:closed Sa:closed Su:closed",
		"digit_8_9 Mo:closed Tu:closed We:closed Th:closed Fr:0-8+18-24 Sa:closed Su:closed",
	}, rowsOf(w))
	assert.Len(t, w.Groups[4].Letters, 10, "every number with a letter counts as nine")
	assert.True(t, w.Groups[4].NoNumber)
	assert.Equal(t, []law.Flag{law.DeclarationOpenEnded}, w.Laws[0].Flags)
	require.Len(t, w.Exempt, 1, "hand-held watering is free in stages 1 and 2 alone")
	assert.Equal(t, "drip", w.Exempt[0].What)

	// The order is assumed on through Monday and was not read again.
	w = ask("2026-07-13")
	assert.Equal(t, "not_cleared", w.State)
	assert.Equal(t, "digit_0_1 Mo:0-8+18-24 Tu:not_cleared We:not_cleared Th:not_cleared Fr:not_cleared Sa:not_cleared Su:not_cleared", rowsOf(w)[0])
	assert.Equal(t, []law.Flag{law.DeclarationOpenEnded, law.DeclarationStatusUnknown}, w.Laws[0].Flags)
	assert.Empty(t, w.Exempt)
	assert.Equal(t, "not_exempt", w.WaterIn.State, "Monday is closed without an exemption")

	drought := *recordOf(t, "ivelsay-drought")
	drought.Declared = []DeclaredStage{{Stage: 4, From: day("2026-08-01"), To: day("2026-08-31")}}
	w = NewBook([]*Record{&drought}, ossamere(t).jurisdictions(t)).Week(place, "public", day("2026-08-10"), day("2026-08-09"))
	assert.Equal(t, "closed_all", w.State)
	assert.Equal(t, "all", w.Groups[0].Group)
	drought.Declared = []DeclaredStage{{Stage: 1, From: day("2026-08-01"), To: day("2026-08-31")}}
	w = NewBook([]*Record{&drought}, ossamere(t).jurisdictions(t)).Week(place, "public", day("2026-08-10"), day("2026-08-09"))
	assert.Equal(t, "advised_against", w.State)
	assert.Equal(t, "not_needed", w.WaterIn.State)
}

func TestOwnDesignWateringLawsCombine(t *testing.T) {
	city := cityWater(t)
	county := recordOf(t, "wendrake-water")
	b := NewBook([]*Record{city, county}, ossamere(t).jurisdictions(t))
	w := b.Week(vellinport, "public", day("2026-07-13"), day("2026-07-12"))
	assert.Equal(t, "odd Mo:closed Tu:closed We:0-9+17-24 Th:closed Fr:closed Sa:0-9+17-24 Su:closed", rowsOf(w)[0])
	assert.Equal(t, Cap{0.5, city}, *w.MaxDepthIn)
	assert.Equal(t, Cap{60, county}, *w.MaxMinutes)
	assert.Equal(t, "exempt", w.WaterIn.State)
	assert.InDelta(t, 0.25, w.WaterIn.MaxIn, 0)
	assert.Equal(t, 12, w.WaterIn.Hours)
	assert.Equal(t, []*Record{county, city}, w.WaterIn.Laws)
	require.Len(t, w.Exempt, 1, "the city frees nothing but watering in")
	assert.Len(t, w.Exempt[0].By, 2)
	// Both laws close noon on Wednesday; the county alone closes its half past nine on Thursday.
	noon := w.Groups[0].Days[2].Spans[1]
	assert.Equal(t, Hours{9 * 60, 17 * 60}, noon.Hours)
	assert.Equal(t, []Part{{city, "", "hour"}, {county, "summer-clock", "hour"}}, noon.By)

	v, said := b.Ask(vellinport, Question{Date: day("2026-07-13"), Minute: 720, House: "1", Method: "drip"})
	assert.Equal(t, Closed, v, "what the county exempts the city does not")
	assert.Equal(t, city, said[0].Record)

	// A law that leaves nothing to watering in, or may be out of date.
	strict := *city
	strict.Exempt = nil
	w = NewBook([]*Record{&strict, county}, ossamere(t).jurisdictions(t)).Week(vellinport, "public", day("2026-07-13"), day("2026-07-12"))
	assert.Equal(t, "not_exempt", w.WaterIn.State)
	assert.Equal(t, []*Record{&strict}, w.WaterIn.Laws)
	assert.Empty(t, w.Exempt)
	stale := *city
	stale.CheckedOn = day("2025-01-01")
	w = NewBook([]*Record{&stale, county}, ossamere(t).jurisdictions(t)).Week(vellinport, "public", day("2026-07-13"), day("2026-07-12"))
	assert.Equal(t, "not_cleared", w.State)
	assert.Equal(t, "not_cleared", w.WaterIn.State)
	assert.Equal(t, []law.Flag{law.Stale}, w.Laws[1].Flags)
	assert.Empty(t, w.Exempt)

	// A county law for unincorporated land stops at the city line.
	outside := *county
	outside.AppliesIn = "unincorporated"
	w = NewBook([]*Record{&outside}, ossamere(t).jurisdictions(t)).Week(vellinport, "public", day("2026-07-13"), day("2026-07-12"))
	assert.Equal(t, "no_record", w.State)
	assert.Equal(t, []string{"om", "vellinport"}, w.Unread)
}

func TestOwnDesignNoWateringLawClearsNothing(t *testing.T) {
	b := inventedBook(t)
	for _, place := range []law.Place{hocklan, {Name: "nowhere"}} {
		w := b.Week(place, "public", day("2026-07-13"), day("2026-07-12"))
		assert.Equal(t, "no_record", w.State)
		assert.Empty(t, w.Groups)
		assert.Empty(t, w.WaterIn.State)
		v, said := b.Ask(place, Question{Date: day("2026-07-13")})
		assert.Equal(t, NotCleared, v)
		assert.Empty(t, said)
	}
	// A law about other water says nothing; one that comes in is announced.
	reservoir := law.Place{Chain: []string{"ivelsay"}}
	assert.Equal(t, "no_record", b.Week(reservoir, "well", day("2026-05-18"), day("2026-05-17")).State)
	r := *cityWater(t)
	r.EffectiveFrom = day("2026-10-01")
	b = NewBook([]*Record{&r}, ossamere(t).jurisdictions(t))
	w := b.Week(vellinport, "public", day("2026-07-13"), day("2026-07-12"))
	assert.Equal(t, "no_record", w.State)
	require.Len(t, w.Soon, 1)
	assert.Equal(t, []law.Flag{law.NotYetEffective}, w.Soon[0].Flags)
	assert.Empty(t, b.Week(vellinport, "public", day("2026-06-22"), day("2026-06-21")).Soon, "more than 90 days ahead")
	// In the week in which it takes effect, the days before are not cleared.
	w = b.Week(vellinport, "public", day("2026-09-28"), day("2026-09-27"))
	assert.Equal(t, "not_cleared", w.State)
	assert.Equal(t, "all Mo:not_cleared Tu:not_cleared We:not_cleared Th:0-9+17-24 Fr:0-9+17-24 Sa:0-9+17-24 Su:0-9+17-24", rowsOf(w)[0])
}

func TestOwnDesignWateringLotsThatTheLawDoesNotPlace(t *testing.T) {
	r := *recordOf(t, "wendrake-water")
	r.NoNumber, r.LetterSuffix = "", ""
	w := NewBook([]*Record{&r}, ossamere(t).jurisdictions(t)).Week(wendrakeOutside, "public", day("2026-07-13"), day("2026-07-12"))
	assert.Equal(t, []string{
		"odd Mo:closed Tu:closed We:0-10+16-24 Th:closed Fr:closed Sa:0-10+16-24 Su:closed",
		"even Mo:closed Tu:closed We:closed Th:0-10+16-24 Fr:closed Sa:closed Su:0-10+16-24",
		"letter Mo:not_cleared Tu:not_cleared We:not_cleared Th:not_cleared Fr:not_cleared Sa:not_cleared Su:not_cleared",
		"nonresidential Mo:closed Tu:0-10+16-24 We:closed Th:closed Fr:0-10+16-24 Sa:closed Su:closed",
	}, rowsOf(w))
	assert.True(t, w.Groups[2].NoNumber)
	// Hours alone need no number.
	hours := *cityWater(t)
	hours.NoNumber, hours.LetterSuffix = "", ""
	w = NewBook([]*Record{&hours}, ossamere(t).jurisdictions(t)).Week(vellinport, "public", day("2026-07-13"), day("2026-07-12"))
	assert.Equal(t, "all", w.Groups[0].Group)
}

// While nobody knows the stage, what holds at any stage still closes.
func TestOwnDesignStandingLimitsHoldWithoutAStage(t *testing.T) {
	r := *recordOf(t, "ivelsay-drought")
	r.ClosedHours = []Hours{{600, 960}}
	ask := func(minute int, method string) string {
		a := r.Ask(Question{Date: day("2026-07-20"), Minute: minute, House: "1", Method: method})
		return a.Verdict.String() + " " + a.Why
	}
	assert.Equal(t, "closed hour", ask(720, ""))
	assert.Equal(t, "not_cleared stage_unknown", ask(300, ""))
	assert.Equal(t, "closed hour", ask(720, "drip"), "whether drip is free hangs on the stage")
	r.Exempt = []Exemption{{What: "drip"}}
	assert.Equal(t, "not_cleared stage_unknown", ask(720, "drip"))
	// Hours of the record hold outside its schedules as well.
	s := *recordOf(t, "wendrake-water")
	s.Schedules = []Schedule{{ID: "summer", When: &When{Annual: annual("05-01", "08-31", "[]")}}}
	a := s.Ask(Question{Date: day("2026-11-03"), Minute: 720, House: "1"})
	assert.Equal(t, Answer{Verdict: Closed, Why: "hour"}, a)
	rows, known := s.Table(day("2026-11-03"))
	assert.True(t, known)
	require.Len(t, rows, 1)
	assert.Equal(t, s.ClosedHours, rows[0].ClosedHours)
}

// annual is a window by the year.
func annual(from, to, bounds string) law.When {
	x, err := law.ParseAnchor(from)
	if err != nil {
		panic(err)
	}
	y, err := law.ParseAnchor(to)
	if err != nil {
		panic(err)
	}
	return law.When{Kind: "annual", FromAnchor: x, ToAnchor: y, Bounds: bounds, BoundsBasis: "text"}
}

func genDate(from, to string) *rapid.Generator[civil.Date] {
	return rapid.Map(rapid.Int32Range(int32(day(from)), int32(day(to))), func(n int32) civil.Date { return civil.Date(n) })
}

var chainOfFour = []string{"state", "county", "town", "district"}

func genLines() []law.Jurisdiction {
	var lines []law.Jurisdiction
	for i, id := range chainOfFour {
		lines = append(lines, law.Jurisdiction{ID: id, Level: []string{"state", "county", "municipal", "district"}[i]})
	}
	return lines
}

func genHours(t *rapid.T) []Hours {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Hours {
		from := rapid.IntRange(0, 23).Draw(t, "from")
		return Hours{from * 60, (from + rapid.IntRange(1, 23).Draw(t, "hours")) % 24 * 60}
	}), 0, 2).Draw(t, "closed hours")
}

func genDays(t *rapid.T) []Days {
	sets := [][]string{nil, {"odd", "even"}, {"odd", "even", "nonresidential"}, {"digit_0_1", "digit_2_3", "digit_4_5", "digit_6_7", "digit_8_9"}, {"odd"}}
	var out []Days
	for _, g := range rapid.SampledFrom(sets).Draw(t, "groups") {
		out = append(out, Days{g, rapid.SliceOfNDistinct(rapid.SampledFrom([]time.Weekday{0, 1, 2, 3, 4, 5, 6}), 1, 3, rapid.ID).Draw(t, g)})
	}
	return out
}

func genRecord(id string) *rapid.Generator[*Record] {
	return rapid.Custom(func(t *rapid.T) *Record {
		r := &Record{Header: law.Header{ID: id, Jurisdiction: rapid.SampledFrom(chainOfFour).Draw(t, "body"),
			AppliesIn:     rapid.SampledFrom([]string{"all", "all", "unincorporated"}).Draw(t, "applies in"),
			TZ:            "America/New_York",
			EffectiveFrom: genDate("2025-01-01", "2026-04-01").Draw(t, "effective from"),
			Verification:  rapid.SampledFrom(law.Verifications()).Draw(t, "verification"),
			CheckedOn:     genDate("2025-01-01", "2026-03-01").Draw(t, "checked"), ReviewMonths: 12},
			Force:          rapid.SampledFrom([]string{"mandatory", "voluntary", "by_stage"}).Draw(t, "force"),
			SourceWater:    rapid.SampledFrom([][]string{{"public"}, {"public", "well"}, {"well"}}).Draw(t, "water"),
			NoNumber:       rapid.SampledFrom([]string{"", "odd", "even", "digit:9"}).Draw(t, "no number"),
			LetterSuffix:   rapid.SampledFrom([]string{"", "ignore", "digit:8"}).Draw(t, "letter"),
			CalendarParity: rapid.IntRange(0, 4).Draw(t, "parity") == 0,
			ClosedOn31st:   rapid.Bool().Draw(t, "31st"),
			ClosedHours:    genHours(t),
		}
		r.loc, _ = law.TimeZone(r.TZ)
		if rapid.Bool().Draw(t, "ends") {
			r.EffectiveTo = r.EffectiveFrom.AddDays(rapid.IntRange(0, 500).Draw(t, "in force"))
		}
		for i, when := range []*When{nil, {DST: true, Active: true}, {DST: true}, {Annual: annual("05-01", "09-30", "[)")}} {
			if rapid.Bool().Draw(t, "schedule") {
				r.Schedules = append(r.Schedules, Schedule{ID: fmt.Sprint("s", i), When: when, Days: genDays(t)})
			}
		}
		for n := range rapid.IntRange(0, 3).Draw(t, "stages") {
			s := Stage{N: n + 1, Name: "stage", Force: rapid.SampledFrom([]string{"mandatory", "voluntary"}).Draw(t, "stage force"),
				ClosedHours: genHours(t), Days: genDays(t), Ban: n == 2}
			if n == 1 && rapid.Bool().Draw(t, "replaces") {
				s.ReplacesDaysOf = []int{1}
			}
			r.Stages = append(r.Stages, s)
		}
		if n := len(r.Stages); n > 0 {
			from := genDate("2026-01-01", "2026-12-01").Draw(t, "order")
			r.Declared = []DeclaredStage{{Stage: 1, From: from, To: from + 9}, {Stage: n, From: from + 10, AssumeUntil: from + 40}}
		}
		for _, what := range exemptions() {
			if !rapid.Bool().Draw(t, what) {
				continue
			}
			x := Exemption{What: what}
			if len(r.Stages) > 0 && rapid.Bool().Draw(t, "staged") {
				x.Stages = []int{1}
			}
			switch what {
			case "new_turf":
				x.AnyDay, x.AlternateDay = &law.DayRange{From: 0, To: 29}, &law.DayRange{From: 30, To: 59}
			case "water_in":
				x.MaxIn, x.WithinHours = num(0.25), 24
			}
			r.Exempt = append(r.Exempt, x)
		}
		return r
	})
}

func genRecords(t *rapid.T) []*Record {
	var out []*Record
	for i := range rapid.IntRange(0, 3).Draw(t, "records") {
		out = append(out, genRecord(fmt.Sprint("water-", i)).Draw(t, "record"))
	}
	return out
}

func genQuestion() *rapid.Generator[Question] {
	return rapid.Custom(func(t *rapid.T) Question {
		q := Question{
			Date: genDate("2025-12-01", "2027-01-01").Draw(t, "date"), Minute: rapid.IntRange(0, dayMinutes-1).Draw(t, "minute"),
			AsOf:           genDate("2026-01-01", "2026-06-01").Draw(t, "as of"),
			House:          rapid.SampledFrom([]string{"", "1", "42", "7A", "1420", "9"}).Draw(t, "house"),
			Nonresidential: rapid.Bool().Draw(t, "nonresidential"),
			Method:         rapid.SampledFrom([]string{"", "", "drip", "hand_held_shutoff", "system_test"}).Draw(t, "method"),
			Source:         rapid.SampledFrom([]string{"", "well", "reclaimed"}).Draw(t, "source"),
		}
		if rapid.Bool().Draw(t, "new") {
			q.Planted = q.Date.AddDays(-rapid.IntRange(0, 70).Draw(t, "age"))
			q.WaterIn = &WaterIn{Date: q.Date - 1, Minute: rapid.IntRange(0, dayMinutes-1).Draw(t, "spread"), DepthIn: rapid.Float64Range(0, 0.5).Draw(t, "depth")}
		}
		return q
	})
}

// Nothing that is added to the watering law of a place can make it weaker,
// save that a law that speaks ends the silence.
func TestPropertyAddingAWateringLawNeverMakesAVerdictWeaker(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records, q := genRecords(t), genQuestion().Draw(t, "question")
		place := law.Place{Chain: chainOfFour[:rapid.IntRange(1, 4).Draw(t, "depth")]}
		before, said := NewBook(records, genLines()).Ask(place, q)
		after, _ := NewBook(append(slices.Clone(records), genRecord("added").Draw(t, "added")), genLines()).Ask(place, q)
		if after < before && len(said) > 0 {
			t.Fatalf("%v became %v", before, after)
		}
	})
}

// The table of a week agrees with every question that can be put about it,
// each lot stands in one row, and each day is covered from end to end.
func TestPropertyAWateringWeekAgreesWithEveryMinute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := NewBook(genRecords(t), genLines())
		place := law.Place{Chain: chainOfFour[:rapid.IntRange(1, 4).Draw(t, "depth")]}
		monday, asOf := genDate("2025-12-01", "2026-12-28").Draw(t, "week").OnOrBefore(time.Monday), genDate("2026-01-01", "2026-12-01").Draw(t, "as of")
		w := b.Week(place, "public", monday, asOf)
		if (w.State == "no_record") != (len(w.Groups) == 0) {
			t.Fatalf("%s with %d rows", w.State, len(w.Groups))
		}
		apart := slices.ContainsFunc(w.Groups, func(g Group) bool { return g.Nonresidential })
		minute := rapid.IntRange(0, dayMinutes-1).Draw(t, "minute")
		for _, k := range lotKinds() {
			for _, nonresidential := range []bool{false, true} {
				var rows []Group
				for _, g := range w.Groups {
					in := g.NoNumber
					if k.digit >= 0 {
						in = slices.Contains(map[bool][]int{false: g.Digits, true: g.Letters}[k.letter], k.digit)
					}
					if in && g.Nonresidential == (nonresidential && apart) {
						rows = append(rows, g)
					}
				}
				if w.State == "no_record" {
					continue
				}
				if len(rows) != 1 {
					t.Fatalf("lot %+v stands in %d rows", k, len(rows))
				}
				for i, d := range rows[0].Days {
					at := 0
					for _, s := range d.Spans {
						if s.From != at || s.To <= s.From {
							t.Fatalf("spans of %s: %v", d.Date, d.Spans)
						}
						at = s.To
						if s.From > minute || minute >= s.To {
							continue
						}
						q := Question{Date: monday.AddDays(i), Minute: minute, AsOf: asOf, House: k.house(), Nonresidential: nonresidential}
						if v, _ := b.Ask(place, q); v != s.Verdict {
							t.Fatalf("%s at %d, lot %+v: table %v, question %v", q.Date, minute, k, s.Verdict, v)
						}
					}
					if at != dayMinutes {
						t.Fatalf("%s is covered to %d", d.Date, at)
					}
				}
			}
		}
		// What the table says of watering in, a question is given.
		if w.WaterIn.State == "exempt" {
			for d := monday; d < monday+7; d++ {
				if d-1 < monday {
					continue
				}
				q := Question{Date: d, Minute: minute, AsOf: asOf, House: "4", WaterIn: &WaterIn{Date: d, Minute: minute, DepthIn: w.WaterIn.MaxIn}}
				if v, said := b.Ask(place, q); v == Closed || v == NotCleared && len(said) > 0 {
					t.Fatalf("watering in on %s: %v", d, v)
				}
			}
		}
	})
}

// An exemption never makes an answer stronger.
func TestPropertyAWateringExemptionOnlyWidens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, q := genRecord("w").Draw(t, "record"), genQuestion().Draw(t, "question")
		q.Source = "public"
		plain := *r
		plain.Exempt = nil
		if got, bare := r.Ask(q), plain.Ask(q); got.Verdict > bare.Verdict {
			t.Fatalf("%v with exemptions, %v without", got, bare)
		}
	})
}

func BenchmarkWeek(b *testing.B) {
	book := NewBook([]*Record{recordOf(b, "wendrake-water"), cityWater(b)}, ossamere(b).jurisdictions(b))
	b.ReportAllocs()
	for b.Loop() {
		book.Week(vellinport, "public", day("2026-07-13"), day("2026-07-12"))
	}
}
