package season

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// everyEvent is one event of each kind.
func everyEvent() []Event {
	return []Event{
		{Kind: LastFrost}, {Kind: FirstFrost}, {Kind: FirstFrost, LevelC: -2.2},
		{Kind: SoilRising, LevelC: 12.8}, {Kind: SoilRising, LevelC: 18.3, At10cm: true},
		{Kind: SoilFalling, LevelC: 21.1}, {Kind: SoilFalling, LevelC: 10, At10cm: true},
		{Kind: GrowthRising, Level: 0.5}, {Kind: GrowthFalling, Level: 0.5},
		{Kind: GreenUp}, {Kind: Slowdown}, {Kind: Dormancy},
		{Kind: DegreeDays, TotalC: 500, From: civil.MonthDay{Month: 1, Day: 1}, Warmth: agromet.DegreeDays{Method: agromet.AverageMethod, BaseC: 10, UpperC: posInf}},
		{Kind: DayRising, Hours: 12.5}, {Kind: DayFalling, Hours: 12.5},
		{Kind: OnDate, On: civil.MonthDay{Month: 2, Day: 29}},
	}
}

// everything is all that a lawn says of every event of three years, to compare.
func everything(l *Lawn) []Dating {
	var out []Dating
	for _, e := range everyEvent() {
		for year := l.record.issue.Year() - 1; year <= l.record.issue.Year()+1; year++ {
			out = append(out, l.Event(e, year))
		}
	}
	return out
}

// What is recorded or forecast on the issue date or later changes nothing.
func TestNothingLaterHasInfluence(t *testing.T) {
	records := jackson.records(t)
	zoysia := grass(t, "zoysia")
	rapid.Check(t, func(rt *rapid.T) {
		issue := civil.MustDate(1994, 1, 1).AddDays(rapid.IntRange(0, 6000).Draw(rt, "issue"))
		cut := weather.NewSeries(records.Start, int(issue-records.Start))
		changed := weather.NewSeries(records.Start, records.Len())
		for c := range weather.Columns {
			if !records.Has(c) {
				continue
			}
			for i, x := range records.Col(c) {
				d := records.Start.AddDays(i)
				if d < issue {
					cut.Set(c, d, x)
				} else {
					x = -x
				}
				changed.Set(c, d, x)
			}
		}
		want := everything(NewRecord(weather.AsOf(jackson.station, cut, nil, issue).Felt()).Lawn(zoysia))
		got := everything(NewRecord(weather.AsOf(jackson.station, changed, nil, issue).Felt()).Lawn(zoysia))
		if !assert.ObjectsAreEqual(want, got) {
			rt.Fatalf("%s: later records changed something", issue)
		}
	})
}

// No member of the ensemble holds a day of the issue date or later, nor of the
// current year, but for what the forecast gives.
func TestMembersHoldThePastOnly(t *testing.T) {
	records := norfolk.records(t)
	rapid.Check(t, func(t *rapid.T) {
		issue := civil.MustDate(1984, 2, 1).AddDays(rapid.IntRange(0, 10000).Draw(t, "issue"))
		r := NewRecord(weather.AsOf(norfolk.station, records, nil, issue).Felt())
		if len(r.members) == 0 {
			t.Fatal("no members")
		}
		for _, m := range r.members {
			common := m.days.days() - len(m.donor)
			for k, place := range m.donor {
				d, from := m.days.start.AddDays(common+k), r.all.start.AddDays(int(place))
				if from >= issue || from.Year() >= d.Year() || from.YearPlace() != d.YearPlace() {
					t.Fatalf("issue %s: %s from %s", issue, d, from)
				}
				if common+k < m.days.days() && !math.IsNaN(r.all.meanC[place]) && m.days.meanC[common+k] != r.all.meanC[place] {
					t.Fatalf("issue %s: %s is not %s", issue, d, from)
				}
			}
		}
	})
}

// The ensemble runs through the same models: continued by a year's own weather
// it gives what the record of that year gives.
func TestMemberRunsTheModelsOfTheRecord(t *testing.T) {
	for _, s := range []site{norfolk, jackson, newBrunswick} {
		f := s.felt(t)
		whole := trackOf(f)
		zoysia := grass(t, "zoysia")
		for _, issue := range []civil.Date{civil.MustDate(2003, 3, 1), civil.MustDate(2009, 9, 10)} {
			r := newRecord(whole.upTo(issue), issue)
			src := newSource(whole, whole.days())
			r.addMembers(src, func(yearsBack int) bool { return yearsBack == -1 })
			require.Len(t, r.members, 1)
			// Its weather is that of the year after; take this year's instead.
			m := &r.members[0]
			offset := int(m.days.start - whole.start)
			n := m.days.days()
			for i, col := range m.days.columns() {
				copy(*col, (*whole.columns()[i])[offset:offset+n])
			}
			common := r.end - offset
			for k := range m.donor {
				m.donor[k] = int32(r.end + k)
			}
			r.carrySoil(m, src, r.end-1, common)
			l := r.Lawn(zoysia)
			full := newRecord(whole, f.View.IssueDate).Lawn(zoysia)
			for i := common + 60; i < n; i++ {
				if math.IsNaN(m.days.soil10C[i]) || math.IsNaN(m.days.soil5C[i]) {
					// The models have to start anew after days without air
					// temperature, and the probe goes on. A past year has no
					// such days: they are held over.
					require.NotEqual(t, norfolk.station.ID, s.station.ID)
					continue
				}
				require.InDelta(t, whole.soil5C[offset+i], m.days.soil5C[i], 0.2, "%s %s", s.station.ID, m.days.start.AddDays(i))
				require.InDelta(t, whole.soil10C[offset+i], m.days.soil10C[i], 0.2, "%s %s", s.station.ID, m.days.start.AddDays(i))
				require.InDelta(t, full.all.index[offset+i], l.members[0].index[i], 1e-9)
			}
		}
	}
}

// The growth index is that of package turf for a lawn never short of water,
// but on the days after a late freeze.
func TestIndexIsThatOfTurf(t *testing.T) {
	soil, ok := turf.SoilByID("loam")
	require.True(t, ok)
	for _, s := range []site{norfolk, newBrunswick} {
		f := s.felt(t)
		track := trackOf(f)
		for _, id := range []string{"zoysia", "tall-fescue"} {
			p := grass(t, id)
			daily := turf.Run(p, soil, f)
			l := newRecord(track, f.View.IssueDate).Lawn(p).all
			setBack := 0
			for i := 400; i < len(l.index); i++ {
				want := daily.IndexOn(track.start.AddDays(i), true)
				if math.IsNaN(want) {
					require.True(t, math.IsNaN(l.index[i]))
					continue
				}
				if math.Abs(want-l.index[i]) >= 0.0006 && math.Abs(2*want-l.index[i]) < 0.0006 {
					setBack++
					continue
				}
				require.InDelta(t, want, l.index[i], 0.0006, "%s %s %s", s.station.ID, id, track.start.AddDays(i))
			}
			assert.Less(t, setBack, 100, "days set back")
		}
	}
}

// A record that begins with little, has holes, or has neither frost nor
// dormancy: each answer has a type, and a date only where there is one.
func TestOwnDesignPoorRecords(t *testing.T) {
	zoysia := grass(t, "zoysia")
	day := civil.MustDate
	hole := func(s *weather.Series, first, end civil.Date) *weather.Series {
		for d := first; d < end; d++ {
			for c := range weather.Columns {
				s.Set(c, d, math.NaN())
			}
		}
		return s
	}
	frost, green, dormant := Event{Kind: LastFrost}, Event{Kind: GreenUp}, Event{Kind: Dormancy}
	lawn := func(s *weather.Series, issue civil.Date) *Lawn {
		return NewRecord(weather.AsOf(inventedStation, s, nil, issue).Felt()).Lawn(zoysia)
	}
	sane := func(l *Lawn) {
		for _, d := range everything(l) {
			for _, m := range []Moment{d.When, d.From, d.To, d.Typical.Median()} {
				require.Equal(t, m.Outcome == Dated, !m.Date.IsZero(), "%+v", d)
			}
			require.Equal(t, d.Basis == NoBasis, d.When.Outcome == Unknown, "%+v", d)
			if p := d.Before(l.record.issue); d.Basis != NoBasis {
				require.True(t, p >= 0 && p <= 1, "%+v", d)
			}
			if d.Basis == Happened && d.When.Outcome == Dated {
				require.Less(t, d.When.Date, l.record.issue, "%+v", d)
			}
		}
	}

	t.Run("no weather at all", func(t *testing.T) {
		l := lawn(nil, day(2020, 5, 1))
		sane(l)
		assert.Equal(t, NoBasis, l.Event(frost, 2020).Basis)
		assert.Equal(t, Fixed, l.Event(Event{Kind: DayRising, Hours: 13}, 2020).Basis)
	})
	t.Run("three years", func(t *testing.T) {
		l := lawn(inventedDays(day(2017, 1, 1), day(2020, 4, 1), 15, 12), day(2020, 4, 1))
		sane(l)
		d := l.Event(frost, 2020)
		assert.Equal(t, NoBasis, d.Basis, "too few years to expect anything")
		assert.Equal(t, 3, d.Typical.Years)
		assert.Equal(t, Happened, l.Event(frost, 2019).Basis)
	})
	t.Run("begins in mid-year", func(t *testing.T) {
		l := lawn(inventedDays(day(2003, 7, 20), day(2020, 2, 10), 15, 12), day(2020, 2, 10))
		sane(l)
		d := l.Event(frost, 2020)
		assert.Equal(t, Expected, d.Basis)
		assert.Equal(t, 16, d.Typical.Years, "2004 to 2019")
		assert.Equal(t, 15, l.Event(Event{Kind: FirstFrost}, 2020).Typical.Years, "its season of 2003 had begun, and that of 2019 is not over")
		assert.Equal(t, NoBasis, l.Event(frost, 2003).Basis)
	})
	t.Run("missing months", func(t *testing.T) {
		s := hole(inventedDays(day(2001, 1, 1), day(2020, 2, 10), 15, 12), day(2010, 3, 1), day(2010, 4, 15))
		l := lawn(s, day(2020, 2, 10))
		sane(l)
		d := l.Event(frost, 2020)
		assert.Equal(t, 1, d.Typical.Unknown, "the spring of 2010")
		assert.Equal(t, 18, d.Typical.Years)
		assert.Equal(t, 1, l.Event(everyEvent()[12], 2020).Typical.Unknown, "a sum needs every day")
	})
	t.Run("a hole of ten years", func(t *testing.T) {
		s := hole(inventedDays(day(1995, 1, 1), day(2020, 2, 10), 15, 12), day(2002, 1, 1), day(2012, 1, 1))
		l := lawn(s, day(2020, 2, 10))
		sane(l)
		d := l.Event(green, 2020)
		assert.Equal(t, Expected, d.Basis)
		assert.Equal(t, 15, d.Typical.Years, "1995 to 2001 and 2012 to 2019")
		assert.Equal(t, 10, d.Typical.Unknown)
		assert.Equal(t, 15, d.Members.Years)
	})
	t.Run("the record stopped a month ago", func(t *testing.T) {
		l := lawn(inventedDays(day(2001, 1, 1), day(2020, 2, 10), 15, 12), day(2020, 3, 10))
		sane(l)
		assert.Equal(t, Expected, l.Event(green, 2020).Basis)
	})
	t.Run("neither frost nor dormancy", func(t *testing.T) {
		l := lawn(inventedDays(day(2001, 1, 1), day(2020, 10, 10), 22, 6), day(2020, 10, 10))
		sane(l)
		for _, e := range []Event{frost, {Kind: FirstFrost}, dormant} {
			d := l.Event(e, 2019)
			assert.Equal(t, Happened, d.Basis, "%s", e.Kind)
			assert.Equal(t, Moment{Outcome: Never}, d.When, "%s", e.Kind)
			assert.True(t, d.Typical.Years >= LeastYears && 2*d.Typical.Dates() < d.Typical.Years, "%s", e.Kind)
			assert.Equal(t, Moment{Outcome: Never}, d.Typical.Median())
		}
		d := l.Event(dormant, 2020)
		assert.Equal(t, Expected, d.Basis)
		assert.Equal(t, Never, d.When.Outcome)
		assert.Zero(t, d.Before(day(2021, 3, 1)))
		assert.Equal(t, Already, l.Event(Event{Kind: SoilRising, LevelC: 12.8}, 2020).When.Outcome, "the soil is never colder")
		assert.Equal(t, Never, l.Event(Event{Kind: SoilRising, LevelC: 34}, 2020).When.Outcome)

		w, ok := demoCalendar(t, "coast", "zoysia").Window("dormancy")
		require.True(t, ok)
		assert.Equal(t, NotHere, l.Window(w).Phase)
	})
	t.Run("frost in some years", func(t *testing.T) {
		s := inventedDays(day(2001, 1, 1), day(2020, 10, 10), 22, 6)
		for _, year := range []int{2004, 2011, 2015} {
			s.Set(weather.TminC, day(year, 1, 20), -1)
		}
		l := lawn(s, day(2020, 10, 10))
		sane(l)
		d := l.Event(frost, 2020)
		assert.Equal(t, 3, d.Typical.Dates())
		assert.Equal(t, 19, d.Typical.Years)
		assert.Equal(t, Never, d.Typical.Median().Outcome)
		assert.Equal(t, Dated, d.Typical.Quantile(0.95).Outcome)
	})
}

// Events on either side of 29 February.
func TestOwnDesignLeapYears(t *testing.T) {
	l := NewRecord(invented(civil.MustDate(2001, 1, 1), civil.MustDate(2020, 2, 20), 15, 12)).Lawn(grass(t, "zoysia"))
	for year := 2001; year < 2020; year++ {
		d := l.Event(Event{Kind: OnDate, On: civil.MonthDay{Month: 2, Day: 29}}, year)
		want := civil.MustDate(year, 3, 1)
		if civil.IsLeap(year) {
			want = civil.MustDate(year, 2, 29)
		}
		assert.Equal(t, want, d.When.Date)
	}
	// Warmth from 1 January takes a day less in a leap year's count of days,
	// and its date is the same to a day.
	d := l.Event(everyEvent()[12], 2020)
	low, high := d.Typical.Middle()
	assert.LessOrEqual(t, int(high.Date-low.Date), 14)
	for _, m := range l.record.members {
		assert.Equal(t, civil.MustDate(2020, 2, 29), m.days.start.AddDays(int(civil.MustDate(2020, 2, 29)-m.days.start)))
		i := int(civil.MustDate(2020, 2, 29) - m.days.start)
		from := l.record.all.start.AddDays(int(m.donor[i-(m.days.days()-len(m.donor))]))
		_, month, dd := from.YMD()
		assert.Equal(t, []int{2, 28}, []int{month, dd}, "28 February stands in, also where the past year had a 29th")
	}
}

// The forecast on file tells an event before it has happened, and never after.
func TestOwnDesignForecastFrost(t *testing.T) {
	days := inventedDays(civil.MustDate(2005, 1, 1), civil.MustDate(2020, 10, 20), 15, 12)
	issue := civil.MustDate(2020, 10, 20)
	fc := weather.NewSeries(issue, 7)
	for i := range 7 {
		fc.Set(weather.TmaxC, issue.AddDays(i), 12)
		fc.Set(weather.TminC, issue.AddDays(i), 3)
	}
	fc.Set(weather.TminC, issue.AddDays(4), -0.5)
	r := NewRecord(weather.AsOf(inventedStation, days, []weather.Forecast{{Issued: issue, Days: fc}}, issue).Felt())
	d := r.Event(Event{Kind: FirstFrost}, 2020)
	assert.Equal(t, Forecast, d.Basis)
	assert.Equal(t, dated(issue.AddDays(4)), d.When)
	assert.Equal(t, 1.0, d.Before(issue.AddDays(5)))
	assert.Equal(t, 0.0, d.Before(issue.AddDays(4)))
	without := NewRecord(weather.AsOf(inventedStation, days, nil, issue).Felt()).Event(Event{Kind: FirstFrost}, 2020)
	assert.Equal(t, Expected, without.Basis)
	assert.Greater(t, without.When.Date, issue.AddDays(4))
}

// The last weather day of a morning observer lacks its maximum until the next
// record, and is filled: what rests on it has not happened yet.
func TestOwnDesignLastDayOfMorningObserver(t *testing.T) {
	first, issue := civil.MustDate(2005, 1, 1), civil.MustDate(2020, 3, 15)
	e := Event{Kind: SoilRising, LevelC: 12.8}
	rise := func(st weather.Station, s *weather.Series) Dating {
		return NewRecord(weather.AsOf(st, s, nil, issue).Felt()).Event(e, 2020)
	}
	// As many warm days before the issue as just bring the rise.
	for warm := 3; ; warm++ {
		require.Less(t, warm, 30)
		days := inventedDays(first, issue, 15, 12)
		for d := issue.AddDays(-warm); d < issue; d++ {
			days.Set(weather.TmaxC, d, 24)
			days.Set(weather.TminC, d, 16)
		}
		midnight := rise(inventedStation, days)
		if midnight.Basis != Happened {
			continue
		}
		assert.Equal(t, dated(issue-3), midnight.When)

		// The same days, read on the morning after.
		read := weather.NewSeries(first, days.Len())
		for d := first; d < issue; d++ {
			read.Set(weather.TminC, d, days.At(weather.TminC, d))
			if d > first {
				read.Set(weather.TmaxC, d, days.At(weather.TmaxC, d-1))
				read.Set(weather.RainMM, d, days.At(weather.RainMM, d-1))
			}
		}
		morning := inventedStation
		morning.Obs = []weather.ObsPeriod{{Time: weather.Morning}}
		got := rise(morning, read)
		assert.Equal(t, Forecast, got.Basis)
		assert.Equal(t, dated(issue-3), got.When)
		return
	}
}

// The index ahead begins where the record ends and lies about its normals.
func TestOwnDesignIndexAhead(t *testing.T) {
	f := norfolk.felt(t)
	issue := civil.MustDate(2012, 4, 1)
	r := NewRecord(weather.AsOf(norfolk.station, norfolk.records(t), nil, issue).Felt())
	l := r.Lawn(grass(t, "zoysia"))
	start, index := l.Index()
	low, median, high := l.IndexAhead(issue - 1)
	assert.Equal(t, []float64{index[int(issue-1-start)], index[int(issue-1-start)], index[int(issue-1-start)]}, []float64{low, median, high}, "known")
	for d := issue.AddDays(30); d < issue.AddDays(300); d += 10 {
		low, median, high := l.IndexAhead(d)
		assert.True(t, low <= median && median <= high, "%s", d)
		n := NormalOn(start, index, 1982, 2011, d)
		assert.InDelta(t, n.Median, median, 0.06, "%s", d)
	}
	_, none, _ := l.IndexAhead(issue.AddDays(3000))
	assert.True(t, math.IsNaN(none))
	young := NewRecord(weather.AsOf(norfolk.station, norfolk.records(t), nil, f.Start.AddDays(2000)).Felt()).Lawn(grass(t, "zoysia"))
	_, none, _ = young.IndexAhead(f.Start.AddDays(2030))
	assert.True(t, math.IsNaN(none), "five years are too few")
}
