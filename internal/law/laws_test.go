package law

import (
	"math"
	"path"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/civil"
)

// Real law is here to test the model alone: read in copies and summaries of the
// texts named, at one time, and not shipped as data.
func TestPublishedLaws(t *testing.T) {
	archives := readArchives(t, "published")
	assert.Greater(t, len(archives), 25)
	for _, a := range archives {
		a.run(t)
	}
}

// Invented law, whose answers follow from the model's rules, worked by hand.
func TestOwnDesignLaws(t *testing.T) {
	for _, a := range readArchives(t, "owndesign") {
		a.run(t)
	}
}

// run asks what the tables of an archive ask.
func (a *archive) run(t *testing.T) {
	t.Helper()
	tables := map[string]func(*testing.T, *archive, txtar.File){
		"answers": askAnswers, "watering": askWatering, "conditions": askConditions, "spans": askSpans, "weeks": askWeeks, "seasons": askSeasons,
	}
	asked := 0
	for _, f := range a.files {
		if f.Name == "jurisdictions.toml" || path.Dir(f.Name) == "ordinances" {
			continue
		}
		kind, _, _ := strings.Cut(strings.TrimSuffix(f.Name, ".csv"), "/")
		ask := tables[kind]
		require.NotNil(t, ask, "%s: there is no table %s", a.name, f.Name)
		ask(t, a, f)
		asked++
	}
	assert.Positive(t, asked, "%s asks nothing", a.name)
}

// each runs one subtest per row, named by its source and what it says.
func (a *archive) each(t *testing.T, f txtar.File, must, may []string, test func(t *testing.T, r row)) {
	t.Helper()
	rows, err := readTable(a.name+": "+f.Name, string(f.Data), must, append(may, "source", "as of"))
	require.NoError(t, err)
	for _, r := range rows {
		source := a.title
		if s := r.get("source"); s != "" {
			source = s
		}
		t.Run(source+": "+r.get("says"), func(t *testing.T) { test(t, r) })
	}
}

// whole is the place that lies under all fertilizer laws of the archive, upper first.
func (a *archive) whole(t *testing.T) Place {
	t.Helper()
	p := Place{Name: a.title}
	for _, r := range a.records(t) {
		p.Chain = append(p.Chain, r.Jurisdiction)
	}
	return p
}

// placeOf reads the place of a row: its jurisdictions, upper first.
func placeOf(r row, otherwise Place) Place {
	if s := r.get("place"); s != "" {
		return Place{Name: s, Chain: strings.Split(s, " > ")}
	}
	return otherwise
}

// answerText writes an answer as the tables do.
func answerText(a Answer) string {
	if a.Verdict == Closed {
		return "closed by " + closing(a)
	}
	return a.Verdict.String()
}

// standingText lists the flags of an answer, and says so if no law spoke.
func standingText(a Answer) string {
	if a.Silent {
		return strings.TrimSpace(flags(a) + " silent")
	}
	return flags(a)
}

func askAnswers(t *testing.T, a *archive, f txtar.File) {
	b, whole := a.book(t), a.whole(t)
	a.each(t, f, []string{"date", "product", "answer", "says"}, []string{"place", "actor", "given", "flags"}, func(t *testing.T, r row) {
		q := Question{Product: productOf(t, r), Actor: Actor(r.get("actor")), Date: dateOf(t, r, "date"), AsOf: asOfRow(t, r)}
		if q.Actor != "" {
			require.Contains(t, actors(), string(q.Actor), r.at)
		}
		state(t, r, facts, &q)
		var got Answer
		if id, alone := strings.CutSuffix(r.get("place"), " alone"); alone {
			var ok bool
			got, ok = b.AskRecord(id, q)
			require.True(t, ok, r.at)
		} else {
			q.Place = placeOf(r, whole)
			got = b.Ask(q)
		}
		assert.Equal(t, r.get("answer"), answerText(got), r.at)
		assert.Equal(t, r.get("flags"), standingText(got), r.at)
	})
}

func askWatering(t *testing.T, a *archive, f txtar.File) {
	_, water := a.ordinances(t)
	named := map[string]*WaterRecord{}
	if len(water) == 1 {
		named[""] = water[0]
	}
	for _, w := range water {
		named[w.ID] = w
	}
	a.each(t, f, []string{"when", "house", "answer", "says"}, []string{"law", "given"}, func(t *testing.T, r row) {
		law := named[r.get("law")]
		require.NotNil(t, law, "%s: there is no watering law %q", r.at, r.get("law"))
		date, at, _ := strings.Cut(r.get("when"), " ")
		d, err := civil.ParseDate(date)
		require.NoError(t, err, r.at)
		minute, ok := clock(at)
		require.True(t, ok, "%s: %q is not a time of day", r.at, at)
		q := WaterQuestion{Date: d, Minute: minute, House: r.get("house"), AsOf: asOfRow(t, r)}
		state(t, r, waterFacts, &q)
		got := law.Ask(q)
		assert.Equal(t, r.get("answer"), waterText(got), r.at)
		assert.False(t, got.Silent, r.at)
	})
}

// waterText writes an answer: the verdict, the part of the law that speaks, why,
// and the exemption.
func waterText(a WaterAnswer) string {
	return strings.Join(strings.Fields(strings.Join([]string{a.Verdict.String(), a.Part, a.Why, a.Exempt}, " ")), " ")
}

// askConditions compares all conditions of a day, one a row.
func askConditions(t *testing.T, a *archive, f txtar.File) {
	b, whole := a.book(t), a.whole(t)
	got := map[string][][]string{}
	a.each(t, f, []string{"date", "product", "kind", "value", "law", "says"}, []string{"second", "words"}, func(t *testing.T, r row) {
		asked := r.get("date") + " " + r.get("product")
		if _, done := got[asked]; !done {
			got[asked] = [][]string{}
			for _, c := range b.Conditions(Question{Place: placeOf(r, whole), Product: productOf(t, r), Date: dateOf(t, r, "date"), AsOf: asOfRow(t, r)}) {
				got[asked] = append(got[asked], []string{c.Kind, figureText(c.Value), figureText(c.Second), strings.TrimSpace(strings.Join(c.Words, " ")), recordID(c.Record) + "/" + ruleID(c.Rule)})
			}
		}
		require.NotEmpty(t, got[asked], "%s: no more conditions", r.at)
		assert.Equal(t, []string{r.get("kind"), r.get("value"), r.get("second"), r.get("words"), r.get("law")}, got[asked][0], r.at)
		got[asked] = got[asked][1:]
	})
	for asked, rest := range got {
		assert.Empty(t, rest, "%s: %s: conditions that no row names", a.name, asked)
	}
}

// figureText writes a number, nothing if there is none.
func figureText(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

func askSpans(t *testing.T, a *archive, f txtar.File) {
	b, whole := a.book(t), a.whole(t)
	letters := map[string]string{"nitrogen": "N", "phosphorus": "P", "neither": ""}
	a.each(t, f, []string{"product", "from", "to", "closed", "says"}, []string{"place", "days", "laws"}, func(t *testing.T, r row) {
		letter, ok := letters[r.get("product")]
		require.True(t, ok, r.at)
		var spans, laws []string
		days := 0
		for _, s := range b.ClosedSpans(placeOf(r, whole), Homeowner, letter, dateOf(t, r, "from"), dateOf(t, r, "to"), asOfRow(t, r)) {
			spans = append(spans, span(s))
			days += int(s.Last-s.First) + 1
			for _, l := range s.Laws {
				laws = append(laws, l.Record.ID+"/"+l.Rule.ID)
			}
		}
		assert.Equal(t, r.get("closed"), strings.Join(spans, " "), r.at)
		if want := r.get("days"); want != "" {
			assert.Equal(t, want, strconv.Itoa(days), r.at)
		}
		if want := r.get("laws"); want != "" {
			assert.Equal(t, want, strings.Join(laws, " "), r.at)
		}
	})
}

func askWeeks(t *testing.T, a *archive, f txtar.File) {
	b, whole := a.book(t), a.whole(t)
	a.each(t, f, []string{"monday", "place", "product", "days", "state", "next", "says"}, nil, func(t *testing.T, r row) {
		q := Question{Place: placeOf(r, whole), Product: productOf(t, r), AsOf: dateOf(t, r, "monday")}
		if r.get("as of") != "" {
			q.AsOf = asOfRow(t, r)
		}
		w := b.Week(q, dateOf(t, r, "monday"))
		assert.Equal(t, r.get("days"), dayLetters(w), r.at)
		assert.Equal(t, r.get("state"), w.State, r.at)
		assert.Equal(t, q.Place, w.Place, r.at)
		next := ""
		if w.Next != nil {
			next = "closes " + w.Next.Date.String()
			if w.Next.Opens {
				next = "opens " + w.Next.Date.String()
			}
		}
		assert.Equal(t, r.get("next"), next, r.at)
	})
}

// dayLetters writes a week: C closed, n not cleared, o conditional (open
// within limits), f free of any rule.
func dayLetters(w PlaceWeek) string {
	var b strings.Builder
	for _, d := range w.Days {
		b.WriteByte("fonC"[d.Verdict])
	}
	return b.String()
}

// askSeasons asks when the season of a window that a source prints begins and ends.
func askSeasons(t *testing.T, a *archive, f txtar.File) {
	a.each(t, f, []string{"source", "from", "to", "bounds", "season", "first", "last", "days", "says"}, nil, func(t *testing.T, r row) {
		w := window(r.get("from"), r.get("to"), r.get("bounds"))
		first, last := w.Season(int(number(r.get("season"))))
		assert.Equal(t, r.get("first"), first.String(), r.at)
		assert.Equal(t, r.get("last"), last.String(), r.at)
		assert.Equal(t, r.get("days"), strconv.Itoa(int(last-first)+1), r.at)
	})
}
