package replay

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/edition"
	"ligule/internal/pest"
	"ligule/internal/reference"
	"ligule/internal/workspace"
)

// What counts as a find, what as none, and what as nobody having looked. Weeks
// are held against the 14 days from the issue date on, that day included.
func TestOwnDesignLooks(t *testing.T) {
	issue := civil.MustDate(2025, 6, 1)
	report := func(days int, finding string, confirmed bool, grass string) pest.Report {
		return pest.Report{Date: issue.AddDays(days), Zone: "z", Finding: finding, Confirmed: confirmed, Grass: grass}
	}
	for _, c := range []struct {
		name string
		log  []pest.Report
		want looked
	}{
		{"no report", nil, nobody},
		{"confirmed on the issue date", []pest.Report{report(0, "dollar-spot", true, "bermuda")}, found},
		{"confirmed on the last day", []pest.Report{report(13, "dollar-spot", true, "bermuda")}, found},
		{"a day too late", []pest.Report{report(14, "dollar-spot", true, "bermuda")}, nobody},
		{"the day before", []pest.Report{report(-1, "dollar-spot", true, "bermuda")}, nobody},
		{"not confirmed", []pest.Report{report(3, "dollar-spot", false, "bermuda")}, unclear},
		{"not confirmed, then confirmed", []pest.Report{report(3, "dollar-spot", false, "bermuda"), report(4, "dollar-spot", true, "bermuda")}, found},
		{"looked, none", []pest.Report{report(3, pest.FoundNone, false, "bermuda")}, none},
		{"none, then found", []pest.Report{report(3, pest.FoundNone, false, "bermuda"), report(10, "dollar-spot", true, "bermuda")}, found},
		{"none, and one that is not confirmed", []pest.Report{report(3, pest.FoundNone, false, "bermuda"), report(10, "dollar-spot", false, "bermuda")}, unclear},
		{"one that is not confirmed, and none", []pest.Report{report(3, "dollar-spot", false, "bermuda"), report(10, pest.FoundNone, false, "bermuda")}, unclear},
		{"another disease is no search for this one", []pest.Report{report(3, "brown-patch", true, "bermuda")}, nobody},
		{"damage without a name", []pest.Report{report(3, pest.FoundUnknown, false, "bermuda")}, nobody},
		{"another grass", []pest.Report{report(3, "dollar-spot", true, "zoysia")}, nobody},
		{"any grass of the zone", []pest.Report{report(3, "dollar-spot", true, "")}, found},
	} {
		assert.Equal(t, c.want, look(logOf(c.log...), "bermuda", "dollar-spot", issue), c.name)
	}
}

// graded makes weeks of one zone and grass with grades of dollar spot.
func graded(first civil.Week, grades ...pest.Grade) []toldWeek {
	var out []toldWeek
	for i, g := range grades {
		w := first.AddWeeks(i)
		out = append(out, toldWeek{week: w, date: w.Monday().AddDays(-1), zones: []toldZone{{grasses: []toldGrass{{id: "bermuda",
			grades: []toldGrade{{disease: bulletin.Named{ID: "dollar-spot", Name: "Dollar spot"}, grade: g.String(), known: true}}}}}}})
	}
	return out
}

// logOf is a scouting log.
func logOf(reports ...pest.Report) []reference.Look {
	return reference.ScoutingLog(&workspace.Workspace{Reports: reports})
}

// oneZone is a question about the zone of the logs.
func oneZone() Question {
	return Question{First: 2020, Last: 2025, Zones: []*workspace.Zone{{ID: "z"}}}
}

func TestOwnDesignTallies(t *testing.T) {
	const quiet, watch, act = pest.Quiet, pest.Watch, pest.Act
	// Six weeks: looked after the first two (found), the fifth (none), none else.
	told := graded(civil.Week{Year: 2025, Num: 20}, act, watch, quiet, quiet, act, watch)
	told[5].zones[0].grasses[0].grades[0].known = false
	told[1].zones[0].grasses[0].grades[0].reported = true
	log := logOf(
		pest.Report{Date: told[1].date.AddDays(6), Zone: "z", Grass: "bermuda", Finding: "dollar-spot", Confirmed: true},
		pest.Report{Date: told[5].date.AddDays(3), Zone: "z", Grass: "bermuda", Finding: pest.FoundNone},
		pest.Report{Date: told[1].date, Zone: "elsewhere", Grass: "bermuda", Finding: "dollar-spot", Confirmed: true},
		pest.Report{Date: told[0].date.AddDays(-1), Zone: "z", Finding: pest.FoundNone},
	)
	v := verify(log, oneZone(), told)
	assert.Equal(t, []int{2, 1}, []int{v.Reports, v.None}, "in the zone and the time")
	want := Tally{Disease: "dollar-spot", Name: "Dollar spot", Act: Level{Hits: 1, FalseAlarms: 1, Misses: 1}, Watch: Level{Hits: 2, FalseAlarms: 1},
		Reported: 1, QuietUnlooked: 2, Ungraded: 1}
	assert.Equal(t, []Tally{want}, v.By, "brown patch was not graded")
	want.Disease, want.Name = "", ""
	assert.Equal(t, want, v.All)
	assert.Equal(t, []int{2, 3}, []int{v.All.Events(), v.All.Pairs()})
	require.Len(t, v.Pairs, 3)
	assert.Equal(t, Pair{"z", "bermuda", "dollar-spot", told[1].week, told[1].date, "watch", true, true, 0.20}, v.Pairs[1])
	assert.Equal(t, []float64{0.50, 0.20, 0.50}, []float64{v.Pairs[0].Probability, v.Pairs[1].Probability, v.Pairs[2].Probability})
	assert.Nil(t, v.Brier, "two finds make no score")
	assert.Nil(t, v.All.Act.Scores)
}

// The scores are those of package agromet, given only from ten finds on: 9 hits, 6
// false alarms, 3 misses and 22 quiet weeks, invented.
func TestOwnDesignScoresFromTenFindsOn(t *testing.T) {
	var told []toldWeek
	var log []pest.Report
	week := civil.Week{Year: 2020, Num: 1}
	add := func(n int, g pest.Grade, finding string) {
		for range n {
			w := graded(week, g)[0]
			told = append(told, w)
			log = append(log, pest.Report{Date: w.date.AddDays(5), Zone: "z", Grass: "bermuda", Finding: finding, Confirmed: finding != pest.FoundNone})
			week = week.AddWeeks(3) // so that no report is held against two weeks
		}
	}
	add(9, pest.Act, "dollar-spot")
	add(6, pest.Act, pest.FoundNone)
	add(3, pest.Quiet, "dollar-spot")
	add(22, pest.Watch, pest.FoundNone)
	v := verify(logOf(log...), oneZone(), told)
	assert.Equal(t, Level{Hits: 9, FalseAlarms: 6, Misses: 3, Correct: 22, Scores: v.All.Act.Scores}, v.All.Act)
	value := func(scores []Score, code string) Score {
		for _, s := range scores {
			if s.Code == code {
				return s
			}
		}
		require.Fail(t, "no score "+code)
		return Score{}
	}
	for code, want := range map[string]float64{"POD": .7500, "FAR": .4000, "POFD": .2143, "bias": 1.25, "CSI": .5000, "PSS": .5357, "HSS": .5000, "ETS": .3333} {
		assert.InDelta(t, want, value(v.All.Act.Scores, code).Value, .0001, code)
	}
	pod := value(v.All.Act.Scores, "POD")
	assert.InDelta(t, .4677, pod.Low, .0001)
	assert.InDelta(t, .9111, pod.High, .0001)
	// By watch or act nothing quiet was right.
	assert.InDelta(t, 1, value(v.All.Watch.Scores, "POFD").Value, 0)
	// No grade has 30 pairs, so the probabilities are 0.5, 0.05 and 0.2: BS =
	// (15·0.25 + 3·0.9025 + 22·0.04)/40.
	assert.InDelta(t, (15*0.25+3*0.9025+22*0.04)/40, value(v.Brier, "BS").Value, 1e-9)

	// Its words are the book's; what cannot be told says nothing.
	edition.Voice(&v, demonstration(t).Voice())
	pod = value(v.All.Act.Scores, "POD")
	assert.Equal(t, []string{"hit rate", "0.75", "0.47–0.91"}, []string{pod.Name.String(), pod.Printed.String(), pod.Interval.String()})
	assert.Nil(t, value(v.All.Act.Scores, "bias").Interval)
	none := Level{Misses: 12}.scores()[1:2]
	edition.Voice(&none, demonstration(t).Voice())
	assert.Nil(t, none[0].Printed)

	// A score that cannot be told is null, not a number.
	text, err := json.Marshal(Level{Hits: 0, Misses: 12}.scores())
	require.NoError(t, err)
	assert.Contains(t, string(text), `{"code":"FAR","value":null}`)
	text, err = json.Marshal(plain("x", math.Inf(1)))
	require.NoError(t, err)
	assert.Contains(t, string(text), `"value":null`)
}

// After 30 pairs of a grade in past years its probability is what became of
// them: (k+1)/(n+2). Pairs of the same year, and of which the outcome was not
// known yet, do not count.
func TestOwnDesignProbabilitiesAreOfPastYears(t *testing.T) {
	pair := func(w civil.Week, found bool) Pair {
		return Pair{Week: w, Date: w.Monday().AddDays(-1), Grade: "watch", Found: found}
	}
	assert.InDelta(t, 8.0/36, probabilityAfter(7, 34), 1e-9)
	v := Verification{}
	for i := range 34 {
		v.Pairs = append(v.Pairs, pair(civil.Week{Year: 2020, Num: 10 + i}, i < 7))
	}
	v.Pairs = append(v.Pairs, pair(civil.Week{Year: 2021, Num: 30}, true), pair(civil.Week{Year: 2021, Num: 31}, false))
	v.score()
	for _, p := range v.Pairs[:34] {
		assert.InDelta(t, 0.20, p.Probability, 0)
	}
	assert.InDelta(t, 8.0/36, v.Pairs[34].Probability, 1e-12)
	assert.InDelta(t, 8.0/36, v.Pairs[35].Probability, 1e-12, "the week before is of the same year")

	// 29 of last year and 5 of its last week, of which the first week of this one
	// cannot know yet.
	v = Verification{}
	for i := range 34 {
		num := 10 + i
		if i >= 29 {
			num = 53
		}
		v.Pairs = append(v.Pairs, pair(civil.Week{Year: 2020, Num: num}, true))
	}
	v.Pairs = append(v.Pairs, pair(civil.Week{Year: 2021, Num: 1}, true), pair(civil.Week{Year: 2021, Num: 2}, true))
	v.score()
	assert.InDelta(t, 0.20, v.Pairs[34].Probability, 0)
	assert.InDelta(t, 35.0/36, v.Pairs[35].Probability, 1e-12, "two weeks on the outcome is known")
}
