package bulletin

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/season"
	"ligule/internal/spray"
	"ligule/internal/turf"
	"ligule/internal/voice"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// edgeIssue is the issue date of the edges: the Sunday before 2020-W28.
var (
	edgeIssue = civil.MustDate(2020, 7, 5)
	edgeWeek  = civil.Week{Year: 2020, Num: 28}
)

// The seven days before the issue date and those ahead through Sunday; sums and
// means of five observed days, none of four.
func TestEdgesOfAWeeksWeather(t *testing.T) {
	nan := math.NaN()
	type figures struct {
		*Weather
		past, ahead sums
	}
	week := func(ahead int, change func(s *weather.Series)) figures {
		records := levelYears(edgeIssue.AddDays(-60), edgeIssue)
		change(records)
		p := newPress(t, records, closedFrom("12-01", "02-01"))
		p.station.Forecasts = []weather.Forecast{forecastFrom(edgeIssue, ahead)}
		w := Bare(p.Workspace, edgeWeek, p.Zones).Zones[0].Weather
		f := p.lived().year["s"].felt
		return figures{w, sumsOf(f, w.Past), sumsOf(f, w.Ahead)}
	}
	none := func(*weather.Series) {}
	without := func(c weather.Column, ago ...int) func(*weather.Series) {
		return func(s *weather.Series) {
			for _, n := range ago {
				s.Set(c, edgeIssue.AddDays(-n), nan)
			}
		}
	}
	w := week(9, none)
	require.Len(t, w.Past, 7)
	assert.Equal(t, []civil.Date{edgeIssue - 7, edgeIssue - 1}, []civil.Date{w.Past[0].Date, w.Past[6].Date})
	require.Len(t, w.Ahead, 8)
	assert.Equal(t, []civil.Date{edgeIssue, edgeWeek.Sunday()}, []civil.Date{w.Ahead[0].Date, w.Ahead[7].Date})
	assert.Equal(t, 8, w.ahead.days)

	assert.Len(t, week(5, none).Ahead, 5)
	assert.InDelta(t, 25, week(5, none).ahead.meanC, 1e-9, "five days of forecast")
	assert.InDelta(t, 10, week(5, none).ahead.rainMM, 1e-9)
	assert.True(t, math.IsNaN(week(4, none).ahead.meanC), "four")
	assert.True(t, math.IsNaN(week(4, none).ahead.rainMM))
	assert.True(t, math.IsNaN(week(4, none).ahead.etMM))

	// unknown are the figures of the week behind that rest on too few days.
	unknown := func(s sums) []bool {
		var out []bool
		for _, x := range []float64{s.meanC, s.etMM, s.lightMol, s.soil5C, s.rainMM} {
			out = append(out, math.IsNaN(x))
		}
		return out
	}
	w = week(9, without(weather.TmaxC, 2, 5))
	assert.Equal(t, 5, w.past.days)
	assert.Equal(t, []bool{false, false, false, false, false}, unknown(w.past))
	w = week(9, without(weather.TmaxC, 2, 4, 6))
	assert.Equal(t, 4, w.past.days)
	assert.Equal(t, []bool{true, true, true, true, false}, unknown(w.past), "rain is counted for itself")
	assert.InDelta(t, 10, week(9, without(weather.RainMM, 2, 5)).past.rainMM, 1e-9)
	assert.Equal(t, []bool{false, false, false, false, true}, unknown(week(9, without(weather.RainMM, 2, 4, 6)).past))

	// How the soil was found is told of the last day on record.
	probed := func(ago int) string {
		return codesOf([]*message.Said{week(9, func(s *weather.Series) { s.Set(weather.Soil10C, edgeIssue.AddDays(-ago), 24) }).Soil})[0]
	}
	assert.Equal(t, []string{"soil_method.probe", "soil_method.model"}, []string{probed(1), probed(2)})
}

// The forecast of the issue date counts, those of the two days before it too.
func TestEdgesOfTheForecastOfAnIssue(t *testing.T) {
	for ago, counts := range map[int]bool{-1: false, 0: true, 2: true, 3: false} {
		p := newPress(t, levelYears(edgeIssue.AddDays(-60), edgeIssue))
		p.station.Forecasts = []weather.Forecast{forecastFrom(edgeIssue.AddDays(-ago), 12)}
		w := Bare(p.Workspace, edgeWeek, p.Zones).Zones[0].Weather
		assert.Equal(t, counts, len(w.Ahead) > 0, "issued %d days before", ago)
		assert.Equal(t, counts, w.ForecastIssued == edgeIssue.AddDays(-ago), "issued %d days before", ago)
		// Of all that were on file, however old, advice knows.
		in := input(p.Workspace, p.Zones[0], p.Grasses[0], edgeWeek, p.lived().week(p.Workspace, p.Zones[0], edgeWeek))
		assert.Equal(t, ago >= 0, len(in.Forecasts) == 1, "issued %d days before", ago)
	}
}

// A law on forecast rain is asked with rain that was forecast, not with what a
// gap was filled with.
func TestEdgesOfRainForTheLaw(t *testing.T) {
	records := levelYears(edgeIssue.AddDays(-60), edgeIssue)
	records.Set(weather.RainMM, edgeIssue-1, math.NaN())
	p := newPress(t, records)
	p.station.Forecasts = []weather.Forecast{forecastFrom(edgeIssue-1, 5)}
	rain := p.lived().week(p.Workspace, p.Zones[0], edgeWeek).rain
	for ago, want := range map[int]bool{2: false, 1: false, 0: true, -3: true, -4: false} {
		assert.Equal(t, want, rain(edgeIssue.AddDays(-ago)) != nil, "%d days before the issue date", ago)
	}
}

// Rain within 24 hours of a day is that of its hours and of those of the next.
func TestEdgesOfHourlyRainForTheLaw(t *testing.T) {
	w := zoneWeek{}
	for i, mm := range []float64{1, 2, 3, 4} {
		w.hours = append(w.hours, spray.Hour{Date: edgeIssue.AddDays(i), Of: 12, RainMM: mm * 25.4})
	}
	rain := w.rain(edgeIssue + 1)
	require.NotNil(t, rain)
	assert.Nil(t, rain.ForecastRainIn24h)
	assert.InDeltaSlice(t, []float64{2, 3}, rain.ForecastRain.In, 1e-9)
	assert.Nil(t, w.rain(edgeIssue+9))
}

// A change is told once, in the week in which it comes about.
func TestEdgesOfWhatChanged(t *testing.T) {
	p := newPress(t, levelYears(edgeIssue.AddDays(-400), edgeIssue.AddDays(100)), closedFrom("07-06", "07-19"))
	changed := func(weeks int) []string {
		var out []string
		for _, code := range codesOf(Build(p.Workspace, edgeWeek.AddWeeks(weeks)).Zones[0].Changed) {
			if code == "changed.law_closed" || code == "changed.law_opened" {
				out = append(out, code)
			}
		}
		return out
	}
	assert.Empty(t, changed(-1))
	assert.Equal(t, []string{"changed.law_closed"}, changed(0), "it closes on the Monday of the week")
	assert.Empty(t, changed(1), "it is closed as it was")
	assert.Equal(t, []string{"changed.law_opened"}, changed(2))
	assert.Empty(t, changed(3))

	// Of many changes four are told. A state that was not known has not changed.
	grass := func(name string, state turf.State, verdict advice.Verdict) *Grass {
		g := &Grass{ID: name, Name: name, Answers: []*Answer{{Topic: string(advice.Feed), Draft: Draft{Verdict: string(verdict)}}}}
		if g.Enough = state != ""; g.Enough {
			g.state(turf.Reading{RainFed: turf.Growth{Enough: true, State: state}})
		}
		return g
	}
	zone := func(state turf.State, verdict advice.Verdict, grasses ...string) *Zone {
		z := &Zone{ID: "z"}
		for _, g := range grasses {
			z.Grasses = append(z.Grasses, grass(g, state, verdict))
		}
		return z
	}
	told := func(grasses ...string) int {
		return len(changes(zone(turf.Growing, advice.Do, grasses...), zone(turf.Slowing, advice.Wait, grasses...)))
	}
	assert.Equal(t, []int{2, 4, 4}, []int{told("a"), told("a", "b"), told("a", "b", "c")})
	assert.Empty(t, changes(zone("", advice.Do, "a"), zone(turf.Growing, advice.Do, "a")))
	assert.Empty(t, changes(zone(turf.Growing, advice.Do, "a"), zone("", advice.Do, "a")))
}

// Zones stand by name, and those of one name by id.
func TestEdgesOfTheOrderOfZones(t *testing.T) {
	p := newPress(t, nil)
	for _, z := range [][2]string{{"a", "Y"}, {"c", "X"}, {"b", "X"}} {
		p.Zones = append(p.Zones, &workspace.Zone{ID: z[0], Name: z[1], Station: "s", Grasses: p.Grasses})
	}
	got := ""
	for _, z := range Bare(p.Workspace, edgeWeek, p.Zones).Zones {
		got += z.ID
	}
	assert.Equal(t, "bcaz", got)
}

// An event is over on the day after it, and a season on the day after its last.
func TestEdgesOfAYearsEvent(t *testing.T) {
	dated := func(d civil.Date) season.Moment { return season.Moment{Outcome: season.Dated, Date: d} }
	frost := season.Event{Kind: season.LastFrost} // searched for through June
	at := func(issue civil.Date, this season.Moment) (next bool) {
		return yearEvent(frost, issue, nil, func(_ season.Event, year int) season.Dating {
			if year == issue.Year() {
				return season.Dating{Basis: season.Happened, When: this}
			}
			return season.Dating{Basis: season.Expected}
		}).Next != nil
	}
	issue := civil.MustDate(2020, 4, 12)
	assert.False(t, at(issue, dated(issue)), "it comes on the issue date")
	assert.True(t, at(issue, dated(issue-1)), "it came the day before")
	assert.False(t, at(civil.MustDate(2020, 6, 30), season.Moment{Outcome: season.Never}), "the last day of its season")
	assert.True(t, at(civil.MustDate(2020, 7, 1), season.Moment{Outcome: season.Never}), "the day after")
}

// A window is listed from the January of the issue's year on, through twelve
// months after the issue date.
func TestEdgesOfAYearsWindows(t *testing.T) {
	listed := func(opens, closes string) []int {
		var list diag.List
		root, ok := diag.ReadTOML("c.toml", []byte(`climates = ["coast"]
[[window]]
id = "w"
kind = "aeration"
title = "W"
uses = []
opens = { event = "date", on = "`+opens+`" }
closes = { event = "date", on = "`+closes+`" }
source = "own design"
standing = "own design"
`), &list)
		require.True(t, ok)
		all := season.ReadCalendars("zoysia", []string{"coast"}, root, nil)
		require.NoError(t, list.Err())
		require.Len(t, all, 1)
		f := weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 35}, levelYears(edgeIssue.AddDays(-60), edgeIssue), nil, edgeIssue).Felt()
		lawn := season.NewRecord(f).Lawn(zoysia(t))
		var years []int
		for _, in := range newGrassSeason(lawn, edgeIssue, lawn.Windows(all[0])).Windows[0].Instances {
			years = append(years, in.Year)
		}
		return years
	}
	assert.Equal(t, []int{2020}, listed("11-01", "01-01"), "last year's closed with December 31, next year's opens after twelve months")
	assert.Equal(t, []int{2019, 2020}, listed("11-01", "01-02"), "last year's held on January 1")
	assert.Equal(t, []int{2020, 2021}, listed("07-04", "07-10"), "next year's opens on the last of the twelve months")
	assert.Equal(t, []int{2020}, listed("07-05", "07-10"), "next year's opens on the day after")
}

// Ten years make a usual year, nine do not; the index is expected for eight weeks.
func TestEdgesOfAYearsGrowth(t *testing.T) {
	rows := func(first civil.Date) ([]Growth, *stationSeason) {
		y, g := yearOf(t, smoothYears(first, edgeIssue, 14, 12), nil, edgeIssue)
		return g.Growth, y
	}
	band := func(first civil.Date) bool {
		all, _ := rows(first)
		return all[0].Low.Known()
	}
	assert.True(t, band(civil.MustDate(2010, 1, 1)), "2010 to 2019")
	assert.False(t, band(civil.MustDate(2011, 1, 1)), "nine years")
	assert.True(t, band(civil.MustDate(2010, 1, 8)), "the first week may be missing")
	assert.False(t, band(civil.MustDate(2010, 1, 9)))
	enough := func(years int) bool { return (&stationSeason{Years: years}).Enough() }
	assert.True(t, enough(10))
	assert.False(t, enough(9))

	all, _ := rows(civil.MustDate(2005, 1, 1))
	for _, r := range all {
		switch ahead := int(r.Date - edgeIssue); {
		case ahead < 0:
			assert.Equal(t, season.Happened, r.Basis, ahead)
		case ahead <= 56:
			assert.Equal(t, season.Expected, r.Basis, ahead)
		default:
			assert.Equal(t, season.NoBasis, r.Basis, ahead)
		}
	}
	first, last := yearSpan(edgeIssue)
	assert.Equal(t, []civil.Date{civil.MustDate(2020, 4, 1), civil.MustDate(2021, 3, 31)}, []civil.Date{first, last})
}

// What the days before an issue are compared by: a month of rain without a gap, a
// week of temperature, and a record that ended three days ago at the most.
func TestEdgesOfStandings(t *testing.T) {
	first := civil.MustDate(2015, 1, 1)
	of := func(records *weather.Series) map[Quantity]Standing {
		out := map[Quantity]Standing{}
		for _, s := range standings(weather.AsOf(weather.Station{ID: "x", LatitudeDeg: 35}, records, nil, edgeIssue).Felt()) {
			out[s.Of] = s
		}
		return out
	}
	rain := of(levelYears(first, edgeIssue))[Rain]
	assert.Equal(t, []civil.Date{edgeIssue - 30, edgeIssue - 1}, []civil.Date{rain.First, rain.Last})
	assert.InDelta(t, 60, float64(rain.Value), 1e-9)
	assert.Equal(t, 5, rain.Years)
	air := of(levelYears(first, edgeIssue))[AirTemperature]
	assert.Equal(t, []civil.Date{edgeIssue - 7, edgeIssue - 1}, []civil.Date{air.First, air.Last})
	for _, q := range []Quantity{Rain, AirTemperature, SoilTemperature} {
		assert.Equal(t, edgeIssue-3, of(levelYears(first, edgeIssue-2))[q].Last, "the newest record is three days old")
		assert.True(t, of(levelYears(first, edgeIssue-3))[q].Last.IsZero(), "four days old")
	}
	gap := func(c weather.Column, ago int) *weather.Series {
		s := levelYears(first, edgeIssue)
		s.Set(c, edgeIssue.AddDays(-ago), math.NaN())
		return s
	}
	assert.Zero(t, of(gap(weather.RainMM, 30))[Rain].Years, "rain of the first day was filled in")
	assert.Equal(t, 5, of(gap(weather.RainMM, 31))[Rain].Years, "of the day before it")
	missing := func(ago ...int) int {
		s := levelYears(first, edgeIssue)
		for _, n := range ago {
			s.Set(weather.TmaxC, edgeIssue.AddDays(-n), math.NaN())
		}
		return of(s)[AirTemperature].Years
	}
	assert.Equal(t, 5, missing(2, 3), "two days, filled")
	assert.Zero(t, missing(2, 3, 4), "three in a row")
}

// A window drifts by more than its tolerance, either way.
func TestEdgesOfDrift(t *testing.T) {
	for days, far := range map[int]bool{-8: true, -7: false, 0: false, 7: false, 8: true} {
		assert.Equal(t, far, tooFar(days, 7), days)
	}
}

// An order is named as its author named it, the stage of a shortage by its number.
func TestOrdersAreNamed(t *testing.T) {
	v := voice.Voice{Book: phrases(t)}
	due := civil.MustDate(2026, 8, 5)
	for name, r := range map[string]law.Review{"algae order": {Order: "algae order"}, "stage 2": {Order: "code", Stage: 2}} {
		r.What, r.Due = "order", due
		n, ok := reviewNotice(&workspace.Workspace{}, r, due)
		require.True(t, ok)
		assert.Contains(t, v.Say(n.Lines[0].Message), "“"+name+"”")
	}
}

// What is announced of the law comes within fourteen days, from the day after the
// issue on; a review is due through its day.
func TestEdgesOfNotices(t *testing.T) {
	ws, places := straddling(t)
	ws.Zones = []*workspace.Zone{{ID: "z", Places: places}}
	zones := []*Zone{{ID: "z"}}
	announced := func(date civil.Date, prefix string) string {
		for _, n := range LawNotices(ws, date, zones) {
			if rest, ok := strings.CutPrefix(n.ID, prefix); ok {
				return rest
			}
		}
		return ""
	}
	closes := civil.MustDate(2026, 11, 16)
	for ahead, want := range map[int]string{0: "", 1: "closes/2026-11-16", 14: "closes/2026-11-16", 15: ""} {
		assert.Equal(t, want, announced(closes.AddDays(-ahead), "ossamere-lawn-nutrients/winter-general/"), "%d days ahead", ahead)
	}
	due := ws.Ordinances[0].NextReview()
	for ahead, want := range map[int]string{15: "", 14: "due/", 0: "due/", -1: "past/"} {
		if want != "" {
			want += due.String()
		}
		assert.Equal(t, want, announced(due.AddDays(-ahead), ws.Ordinances[0].ID+"/review/"), "%d days ahead", ahead)
	}
}

// A closed season stands in a calendar from its true first day through its last,
// if it touches this year or the next.
func TestEdgesOfClosedSeasonsOfAYear(t *testing.T) {
	date := civil.MustDate(2026, 4, 1)
	closed := func(from, to civil.Date) []ClosedSeason {
		p := newPress(t, nil, closedFrom("01-01", "12-31"))
		r := p.Ordinances[0]
		r.CheckedOn, r.ReviewMonths = civil.MustDate(2026, 1, 10), 36
		r.Rules[0].When = []law.When{{Kind: "dates", From: from, To: to, Bounds: "[]"}}
		return NewClosings(p.Law, p.Zones[0].Places, Law{}, date).Calendar(false)
	}
	long := civil.MustDate(2023, 3, 1)
	got := closed(long, civil.MustDate(2026, 1, 1))
	require.Len(t, got, 1, "its last day is January 1")
	assert.Equal(t, []civil.Date{long, civil.MustDate(2026, 1, 1)}, []civil.Date{got[0].First, got[0].Last})
	assert.Empty(t, closed(long, civil.MustDate(2025, 12, 31)), "it ended with last year")
	assert.Len(t, closed(civil.MustDate(2027, 12, 31), civil.MustDate(2028, 2, 1)), 1)
	assert.Empty(t, closed(civil.MustDate(2028, 1, 1), civil.MustDate(2028, 2, 1)))
}

// A day is asked about with its rain and its alerts, and with nothing where there is
// neither.
func TestEdgesOfAlertsForTheLaw(t *testing.T) {
	w := zoneWeek{
		hours:  []spray.Hour{{Date: edgeIssue + 1, Of: 12, RainMM: 25.4}},
		alerts: []weather.Alert{{Event: "Flood Watch", From: (edgeIssue + 1).Time(), Until: (edgeIssue + 3).Time()}},
	}
	told := func(d civil.Date) (rain bool, alerts int) {
		if on := w.daily(d); on != nil {
			return on.ForecastRain != nil, len(on.Alerts)
		}
		return false, -1
	}
	for day, want := range map[civil.Date][]any{0: {true, 0}, 1: {true, 1}, 2: {false, 1}, 3: {false, -1}} {
		rain, alerts := told(edgeIssue + day)
		assert.Equal(t, want, []any{rain, alerts}, int(day))
	}
}

// Of what is to be looked for three stand beside the answers of a grass, those that
// lead among them; the rest, and what is named twice, goes into the reasons. What is
// to be done is never left out.
func TestEdgesOfHowMuchIsToBeLookedFor(t *testing.T) {
	of := func(topic advice.Topic, v advice.Verdict, names ...string) *Answer {
		a := &Answer{Topic: string(topic), Draft: Draft{Verdict: string(v), Pest: &Named{names[0], names[0]}}}
		for _, n := range names[1:] {
			a.Support = append(a.Support, Draft{Verdict: string(v), Pest: &Named{n, n}})
		}
		return a
	}
	beside := func(a *Answer) (out []string) {
		for _, d := range a.Also {
			out = append(out, d.Pest.ID)
		}
		return out
	}
	disease, insect := of(advice.Disease, advice.Look, "a", "b", "b", "a"), of(advice.Insect, advice.Look, "c", "d")
	weed := of(advice.Weed, advice.Do, "e", "f", "g", "h")
	share([]*Answer{of(advice.Mow, advice.Look, "x"), disease, weed, insect})
	assert.Equal(t, []string{"b"}, beside(disease))
	assert.Len(t, disease.Support, 2)
	assert.Empty(t, beside(insect))
	assert.Nil(t, insect.AlsoLine)
	assert.Len(t, insect.Support, 1)
	assert.Equal(t, []string{"f", "g", "h"}, beside(weed))

	alone := of(advice.Disease, advice.Look, "a", "b", "c", "d")
	share([]*Answer{alone})
	assert.Equal(t, []string{"b", "c"}, beside(alone))
}
