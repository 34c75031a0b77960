package pest

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

func day(y, m, d int) civil.Date { return civil.MustDate(y, m, d) }

// onZoysia is what counts of a zone's lawns of zoysia.
func onZoysia(issue civil.Date, reports []Report, treatments ...Treatment) Log {
	in := &Input{Grass: &turf.Profile{ID: "zoysia"}, Issue: issue, Reports: reports, Treatments: treatments}
	return in.Log("x")
}

// How long a find counts: to its last day, and not on the day after.
func TestEdgesOfFinds(t *testing.T) {
	issue := day(2026, 10, 11)
	for _, c := range []struct {
		name                                   string
		on                                     civil.Date
		unconfirmed                            bool
		wantConfirmed, wantHistory, wantRecord bool
	}{
		{"today", issue, false, false, false, false},
		{"yesterday", issue - 1, false, true, false, true},
		{"yesterday, not confirmed", issue - 1, true, false, false, true},
		{"21 days ago", issue - 21, false, true, false, true},
		{"22 days ago", issue - 22, false, false, false, true},
		{"60 days after the day of last year", day(2025, 10, 11) + 60, false, false, true, true},
		{"61 days after it", day(2025, 10, 11) + 61, false, false, false, true},
		{"60 days before the day of last year", day(2025, 10, 11) - 60, false, false, true, false},
		{"61 days before it", day(2025, 10, 11) - 61, false, false, false, false},
		{"60 days before the day of the year before", day(2024, 10, 11) - 60, false, false, true, false},
		{"61 days before that", day(2024, 10, 11) - 61, false, false, false, false},
		{"60 days after the day of three years ago", day(2023, 10, 11) + 60, false, false, false, false},
		{"400 days ago", issue - 400, false, false, true, true},
		{"401 days ago", issue - 401, false, false, true, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			log := onZoysia(issue, []Report{{Date: c.on, Finding: "x", Confirmed: !c.unconfirmed}})
			assert.Equal(t, c.wantConfirmed, log.Confirmed(issue))
			assert.Equal(t, c.wantHistory, log.History(issue))
			assert.Equal(t, c.wantRecord, log.Recorded(issue))
		})
	}
	for grass, want := range map[string]bool{"": true, "zoysia": true, "bermuda": false} {
		log := onZoysia(issue, []Report{{Date: issue - 1, Finding: "x", Grass: grass}})
		assert.Equal(t, want, log.Recorded(issue), "on %q", grass)
	}
}

func TestEdgesOfStandingWater(t *testing.T) {
	for _, c := range []struct {
		name  string
		issue civil.Date
		on    []civil.Date
		want  bool
	}{
		{"three weeks", day(2026, 10, 11), []civil.Date{day(2026, 7, 6), day(2026, 7, 13), day(2026, 7, 20)}, true},
		{"two weeks", day(2026, 10, 11), []civil.Date{day(2026, 7, 6), day(2026, 7, 13)}, false},
		{"three times in two weeks", day(2026, 10, 11), []civil.Date{day(2026, 7, 6), day(2026, 7, 13), day(2026, 7, 19)}, false},
		{"from 1 July to 30 September", day(2026, 10, 11), []civil.Date{day(2026, 7, 1), day(2026, 8, 1), day(2026, 9, 30)}, true},
		{"from 30 June", day(2026, 10, 11), []civil.Date{day(2026, 6, 30), day(2026, 8, 1), day(2026, 9, 30)}, false},
		{"to 1 October", day(2026, 10, 11), []civil.Date{day(2026, 7, 1), day(2026, 8, 1), day(2026, 10, 1)}, false},
		{"the summer before, on 30 June", day(2026, 6, 30), []civil.Date{day(2025, 7, 7), day(2025, 7, 14), day(2025, 7, 21)}, true},
		{"the summer before, on 1 July", day(2026, 7, 1), []civil.Date{day(2025, 7, 7), day(2025, 7, 14), day(2025, 7, 21)}, false},
		{"this summer, on 31 July", day(2026, 7, 31), []civil.Date{day(2026, 7, 6), day(2026, 7, 13), day(2026, 7, 20)}, true},
		{"the third week today", day(2026, 7, 20), []civil.Date{day(2026, 7, 6), day(2026, 7, 13), day(2026, 7, 20)}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			var reports []Report
			for _, d := range c.on {
				reports = append(reports, Report{Date: d, Finding: FoundNone, StandingWater: true})
			}
			log := onZoysia(c.issue, reports)
			assert.Equal(t, c.want, log.StoodWet(c.issue))
		})
	}
}

func TestEdgesOfProtection(t *testing.T) {
	issue := day(2026, 10, 11)
	for label, days := range map[int]int{0: 14, 7: 7, 28: 28} {
		log := onZoysia(issue, nil, Treatment{Date: issue - 3, Target: "x", IntervalDays: label})
		assert.Equal(t, issue.AddDays(days-3), log.ProtectedUntil(issue), "a label of %d days", label)
	}
	log := onZoysia(issue, nil, Treatment{Date: issue - 7, Target: "x"})
	assert.Zero(t, log.ProtectedUntil(issue-7), "treated on the day of an earlier issue")
	assert.Equal(t, issue+7, log.ProtectedUntil(issue-6))
	log = onZoysia(issue, nil, Treatment{Date: issue, Target: "x"})
	assert.Zero(t, log.ProtectedUntil(issue), "treated today")
}

func TestEdgesOfSeverity(t *testing.T) {
	for pct, want := range map[float64]string{
		0: "none", .01: "trace", .94: "trace", .96: "1-5", 5.44: "1-5", 5.46: "6-10", 10.44: "6-10", 10.46: "11-25", 25.44: "11-25", 25.46: "26-50",
		50.04: "26-50", 50.06: "over-50",
	} {
		assert.Equal(t, want, SeverityOf(pct), "%g %%", pct)
	}
	for written, want := range map[string]string{"M1": "M01", "M05": "M05", "P7": "P07", "M0": "", "P00": ""} {
		code, ok := GroupCode(written)
		if want == "" {
			assert.False(t, ok, written)
			continue
		}
		assert.True(t, ok, written)
		assert.Equal(t, want, code)
	}
}

// recorded is the weather of n days of 20 and 10 °C without rain.
func recorded(start civil.Date, n int, change func(*weather.Series)) *weather.Felt {
	s := weather.NewSeries(start, n)
	for d := start; d <= s.End(); d++ {
		s.Set(weather.TmaxC, d, 20)
		s.Set(weather.TminC, d, 10)
		s.Set(weather.RainMM, d, 0)
	}
	if change != nil {
		change(s)
	}
	return weather.AsOf(weather.Station{ID: "made", LatitudeDeg: 35}, s, nil, s.End()+1).Felt()
}

// The first issues of a record, and what of it an issue may see.
func TestEdgesOfTheRecord(t *testing.T) {
	start := day(2026, 6, 1)
	issues := func(n int) (out []int) {
		in := &Input{Felt: recorded(start, n, nil), Issue: start.AddDays(n)}
		r := in.Record()
		if r == nil {
			return nil
		}
		for _, week := range r.Issues {
			out = append(out, week.At)
		}
		return out
	}
	assert.Nil(t, issues(6), "no week before the issue")
	assert.Equal(t, []int{7}, issues(7))
	assert.Equal(t, []int{1, 8}, issues(8))
	assert.Equal(t, []int{7, 14}, issues(14))

	in := &Input{Felt: recorded(start, 30, func(s *weather.Series) { s.Set(weather.TmaxC, start+9, nan) }), Issue: start.AddDays(20)}
	r := in.Record()
	assert.Len(t, r.Days.Observed, 20, "up to the day before the issue")
	for i, seen := range r.Days.Observed {
		assert.Equal(t, i != 9, seen, "what was filled in was not observed: day %d", i)
	}
}

func TestEdgesOfForecastsOfAnIssue(t *testing.T) {
	issue := day(2026, 6, 15)
	on := func(days ...int) (out []weather.Forecast) {
		for _, d := range days {
			out = append(out, weather.Forecast{Issued: issue.AddDays(d), Days: weather.NewSeries(issue, 7)})
		}
		return out
	}
	counts := func(forecasts []weather.Forecast) *weather.Forecast {
		in := &Input{Felt: recorded(issue.AddDays(-30), 30, nil), Issue: issue, Forecasts: forecasts}
		weeks := in.Record().Issues
		return weeks[len(weeks)-1].Forecast
	}
	for _, c := range []struct {
		issued []int
		want   int
	}{{[]int{0}, 0}, {[]int{-2}, -2}, {[]int{-2, -1, 0, 1}, 0}, {[]int{-3, -2, -1}, -1}} {
		got := counts(on(c.issued...))
		require.NotNil(t, got, "%v", c.issued)
		assert.Equal(t, issue.AddDays(c.want), got.Issued, "%v", c.issued)
	}
	for _, none := range [][]int{nil, {-3}, {1}, {-3, 1}} {
		assert.Nil(t, counts(on(none...)), "%v", none)
	}
}

// Gaps of two days are held and those of three are open; what is held crosses
// nothing.
func TestEdgesOfHeldDays(t *testing.T) {
	missing := RawDay{nan, nan, nan, nan, nan, nan, nan, nan}
	some := missing
	some.TmaxC, some.TminC, some.RainMM = 20, 10, 5
	put := func(days ...RawDay) *Days {
		w := NewDays(day(2026, 6, 1), len(days))
		for i, d := range days {
			w.Put(i, d, false)
		}
		return w
	}
	w := put(some, missing, missing, missing, some)
	for i, want := range []float64{20, 20, 20, nan, 20} {
		near(t, want, w.TmaxC[i], 0, i)
		near(t, want-10, w.TminC[i], 0, i)
	}
	for i, want := range []float64{5, 0, 0, nan, 5} {
		near(t, want, w.RainMM[i], 0, i)
	}
	assert.True(t, put(missing, some).TmaxC[0] != 20, "nothing is held from a later day")

	warm, cold := missing, missing
	warm.TminC, cold.TmaxC = 22, 8
	w = put(some, warm)
	assert.Equal(t, []float64{22, 22}, []float64{w.TmaxC[1], w.TminC[1]}, "a held maximum gives way to the night")
	w = put(some, cold)
	assert.Equal(t, []float64{8, 8}, []float64{w.TmaxC[1], w.TminC[1]}, "a held minimum to the day")
}

func TestEdgesOfSnowAndWinter(t *testing.T) {
	for _, c := range []struct{ snowMM, meanC, want float64 }{
		{25, 0, 1}, {24.9, 0, 0}, {0, 0, 0}, {nan, 10, 0}, {nan, 9.9, nan},
	} {
		w := NewDays(day(2026, 1, 1), 1)
		w.Put(0, RawDay{c.meanC, c.meanC, nan, nan, nan, nan, nan, c.snowMM}, false)
		near(t, c.want, w.CoverDays[0], 0, "%+v", c)
	}
	for month := 1; month <= 12; month++ {
		assert.Equal(t, month == 12 || month <= 2, winter(month, false), "%d", month)
		assert.Equal(t, month >= 6 && month <= 8, winter(month, true), "%d", month)
	}
}

// The soil model after its first twenty days, and how long a probe moves it.
func TestEdgesOfTheSoil(t *testing.T) {
	const airC = 10
	modeled := agromet.SoilC(airC)
	follow := func(n, probed int) []float64 {
		w := NewDays(day(2026, 1, 1), n)
		for i := range n {
			probe := nan
			if i >= 21 && i < 21+probed {
				probe = modeled + 2
			}
			w.Put(i, RawDay{airC, airC, nan, nan, nan, nan, probe, nan}, false)
		}
		return w.SoilC
	}
	got := follow(60, 0)
	near(t, nan, got[agromet.SoilSpinUpDays-1], 0)
	near(t, modeled, got[agromet.SoilSpinUpDays], 1e-9)
	got = follow(60, 7) // readings of the days 21 to 27
	near(t, modeled+2, got[28], 1e-9, "seven readings")
	near(t, modeled+2, got[35], 1e-9, "the oldest two weeks old")
	near(t, modeled, got[36], 1e-9, "a day older")
	near(t, modeled, follow(60, 6)[27], 1e-9, "six readings")
}

// Figures of a file at the ends of their ranges.
func TestEdgesOfFigures(t *testing.T) {
	read := func(text string, read func(*Figures)) string {
		var list diag.List
		root, ok := diag.ReadTOML("x.toml", []byte("[a]\n"+text+"\nsource = \"common practice\"\nstanding = \"memory\"\n"), &list)
		require.True(t, ok)
		file := File{Table: root}
		file.Figures("a", root.Table("a", true), read)
		if list.Errors() == 0 {
			return ""
		}
		return list.Error()
	}
	for _, c := range []struct {
		text string
		read func(*Figures)
		ok   bool
	}{
		{`x = "10 C"`, func(f *Figures) { f.Opt("x", quantity.Temperature, 10, 20) }, true},
		{`x = "9.9 C"`, func(f *Figures) { f.Opt("x", quantity.Temperature, 10, 20) }, false},
		{`x = "20 C"`, func(f *Figures) { f.Opt("x", quantity.Temperature, 10, 20) }, true},
		{`x = "20.1 C"`, func(f *Figures) { f.Opt("x", quantity.Temperature, 10, 20) }, false},
		{`x = "30 days"`, func(f *Figures) { f.Days("x", 30) }, true},
		{`x = "31 days"`, func(f *Figures) { f.Days("x", 30) }, false},
		{`x = "1.5 days"`, func(f *Figures) { f.Days("x", 30) }, false},
		{"x_from = \"5 days\"\nx_to = \"5 days\"", func(f *Figures) { f.DayRange("x", 30) }, true},
		{"x_from = \"5 days\"\nx_to = \"4 days\"", func(f *Figures) { f.DayRange("x", 30) }, false},
		{`x = 0`, func(f *Figures) { f.Share("x") }, true},
		{`x = -0.01`, func(f *Figures) { f.Share("x") }, false},
		{`x = 1`, func(f *Figures) { f.Share("x") }, true},
		{`x = 1.01`, func(f *Figures) { f.Share("x") }, false},
		{"zoysia = 3\nbermuda = 0", func(f *Figures) { ReadHosts(f) }, true},
		{`zoysia = 4`, func(f *Figures) { ReadHosts(f) }, false},
		{"zoysia = 3\nbermuda = -1", func(f *Figures) { ReadHosts(f) }, false},
		{`zoysia = 0`, func(f *Figures) { ReadHosts(f) }, false},
	} {
		said := read(c.text, c.read)
		assert.Equal(t, c.ok, said == "", "%s: %s", strings.ReplaceAll(c.text, "\n", ", "), said)
	}
}

// A report speaks of the present through the day on which somebody is to look
// again, and for three weeks from then on it asks for that look; a later look at
// the same lawn that found nothing ends both.
func TestEdgesOfLookingAgain(t *testing.T) {
	found := day(2026, 7, 10)
	for _, c := range []struct {
		name        string
		again       civil.Date
		ago         int
		stands, due bool
	}{
		{"the day of the look", 0, 0, false, false},
		{"21 days after", 0, 21, true, false},
		{"22 days after", 0, 22, false, true},
		{"42 days after", 0, 42, false, true},
		{"43 days after", 0, 43, false, false},
		{"the day told", found + 7, 7, true, false},
		{"the day after it", found + 7, 8, false, true},
		{"21 days after the day told", found + 7, 28, false, true},
		{"22 days after the day told", found + 7, 29, false, false},
	} {
		r := Report{Date: found, LookAgain: c.again, Finding: "x", Place: "p", Confirmed: true}
		issue := found.AddDays(c.ago)
		assert.Equal(t, c.stands, r.Stands(issue), c.name)
		assert.Equal(t, c.due, r.Due(issue), c.name)
		log := onZoysia(issue, []Report{r})
		last, _ := log.Standing(issue)
		assert.Equal(t, []bool{c.stands, c.stands, c.due}, []bool{log.Confirmed(issue), last != nil, log.Due(issue)}, c.name)
	}
	issue := found + 30
	for _, c := range []struct {
		name  string
		on    civil.Date
		place string
		lawn  bool
		ends  bool
	}{
		{"the day after", found + 1, "p", true, true},
		{"the same day", found, "p", true, false},
		{"of a lawn without a name", found + 1, "", true, false},
		{"of the zone", found + 1, "p", false, false},
	} {
		in := &Input{Grass: &turf.Profile{ID: "zoysia"}, Issue: issue, Lawn: c.lawn, Reports: []Report{
			{Date: found, Finding: "x", Place: "p", Confirmed: true}, {Date: c.on, Finding: FoundNone, Place: c.place},
		}}
		log := in.Log("x")
		last, _ := log.Standing(found + 5)
		assert.Equal(t, c.ends, last == nil, c.name)
		assert.Equal(t, c.ends, !log.Confirmed(found+5), c.name)
		assert.Equal(t, c.ends, !log.Due(issue), c.name)
		assert.Equal(t, found, log.Last().Date)
	}

	const head = "date,zone,finding,look_again\n2026-07-10,z,x,"
	for cell, want := range map[string]string{
		"": "", "2026-07-11": "", "2026-07-31": "", "2026-07-10": "not within 21 days", "2026-08-01": "not within 21 days", "soon": "look_again",
	} {
		var list diag.List
		got := ReadScouting("2026.csv", []byte(head+cell+"\n"), &list)
		if want == "" {
			require.NoError(t, list.Err())
			assert.Equal(t, cell != "", !got[0].LookAgain.IsZero(), cell)
			continue
		}
		assert.ErrorContains(t, list.Err(), want, cell)
	}
}
