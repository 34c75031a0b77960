package law

import (
	"ligule/internal/lawtest"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"
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
	asking := func(ask func(*testing.T, *archive, txtar.File)) func(*testing.T, txtar.File) {
		return func(t *testing.T, f txtar.File) { ask(t, a, f) }
	}
	a.Run(t, map[string]func(*testing.T, txtar.File){
		"answers": asking(askAnswers), "conditions": asking(askConditions), "spans": asking(askSpans), "weeks": asking(askWeeks), "seasons": asking(askSeasons),
	})
}

// whole is the place that lies under all fertilizer laws of the archive, upper first.
func (a *archive) whole(t *testing.T) Place {
	t.Helper()
	p := Place{Name: a.Title}
	for _, r := range a.records(t) {
		p.Chain = append(p.Chain, r.Jurisdiction)
	}
	return p
}

// placeOf reads the place of a row: its jurisdictions, upper first.
func placeOf(r row, otherwise Place) Place {
	if s := r.Get("place"); s != "" {
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
	a.Each(t, f, []string{"date", "product", "answer", "says"}, []string{"place", "actor", "given", "flags"}, func(t *testing.T, r row) {
		q := Question{Product: productOf(t, r), Actor: Actor(r.Get("actor")), Date: r.Date(t, "date"), AsOf: r.AsOf(t)}
		if q.Actor != "" {
			require.Contains(t, actors(), string(q.Actor), r.At)
		}
		lawtest.State(t, r, facts, &q)
		var got Answer
		if id, alone := strings.CutSuffix(r.Get("place"), " alone"); alone {
			var ok bool
			got, ok = b.AskRecord(id, q)
			require.True(t, ok, r.At)
		} else {
			q.Place = placeOf(r, whole)
			got = b.Ask(q)
		}
		assert.Equal(t, r.Get("answer"), answerText(got), r.At)
		assert.Equal(t, r.Get("flags"), standingText(got), r.At)
	})
}

// askConditions compares all conditions of a day, one a row.
func askConditions(t *testing.T, a *archive, f txtar.File) {
	b, whole := a.book(t), a.whole(t)
	got := map[string][][]string{}
	a.Each(t, f, []string{"date", "product", "kind", "value", "law", "says"}, []string{"second", "words"}, func(t *testing.T, r row) {
		asked := r.Get("date") + " " + r.Get("product")
		if _, done := got[asked]; !done {
			got[asked] = [][]string{}
			for _, c := range b.Conditions(Question{Place: placeOf(r, whole), Product: productOf(t, r), Date: r.Date(t, "date"), AsOf: r.AsOf(t)}) {
				got[asked] = append(got[asked], []string{c.Kind, figureText(c.Value), figureText(c.Second), strings.TrimSpace(strings.Join(c.Words, " ")), recordID(c.Record) + "/" + ruleID(c.Rule)})
			}
		}
		require.NotEmpty(t, got[asked], "%s: no more conditions", r.At)
		assert.Equal(t, []string{r.Get("kind"), r.Get("value"), r.Get("second"), r.Get("words"), r.Get("law")}, got[asked][0], r.At)
		got[asked] = got[asked][1:]
	})
	for asked, rest := range got {
		assert.Empty(t, rest, "%s: %s: conditions that no row names", a.Name, asked)
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
	a.Each(t, f, []string{"product", "from", "to", "closed", "says"}, []string{"place", "days", "laws"}, func(t *testing.T, r row) {
		letter, ok := letters[r.Get("product")]
		require.True(t, ok, r.At)
		var spans, laws []string
		days := 0
		for _, s := range b.ClosedSpans(placeOf(r, whole), Homeowner, letter, r.Date(t, "from"), r.Date(t, "to"), r.AsOf(t)) {
			spans = append(spans, span(s))
			days += int(s.Last-s.First) + 1
			for _, l := range s.Laws {
				laws = append(laws, l.Record.ID+"/"+l.Rule.ID)
			}
		}
		assert.Equal(t, r.Get("closed"), strings.Join(spans, " "), r.At)
		if want := r.Get("days"); want != "" {
			assert.Equal(t, want, strconv.Itoa(days), r.At)
		}
		if want := r.Get("laws"); want != "" {
			assert.Equal(t, want, strings.Join(laws, " "), r.At)
		}
	})
}

func askWeeks(t *testing.T, a *archive, f txtar.File) {
	b, whole := a.book(t), a.whole(t)
	a.Each(t, f, []string{"monday", "place", "product", "days", "state", "next", "says"}, nil, func(t *testing.T, r row) {
		q := Question{Place: placeOf(r, whole), Product: productOf(t, r), AsOf: r.Date(t, "monday")}
		if r.Get("as of") != "" {
			q.AsOf = r.AsOf(t)
		}
		w := b.Week(q, r.Date(t, "monday"))
		assert.Equal(t, r.Get("days"), dayLetters(w), r.At)
		assert.Equal(t, r.Get("state"), w.State, r.At)
		assert.Equal(t, q.Place, w.Place, r.At)
		next := ""
		if w.Next != nil {
			next = "closes " + w.Next.Date.String()
			if w.Next.Opens {
				next = "opens " + w.Next.Date.String()
			}
		}
		assert.Equal(t, r.Get("next"), next, r.At)
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
	a.Each(t, f, []string{"source", "from", "to", "bounds", "season", "first", "last", "days", "says"}, nil, func(t *testing.T, r row) {
		w := window(r.Get("from"), r.Get("to"), r.Get("bounds"))
		first, last := w.Season(int(number(r.Get("season"))))
		assert.Equal(t, r.Get("first"), first.String(), r.At)
		assert.Equal(t, r.Get("last"), last.String(), r.At)
		assert.Equal(t, r.Get("days"), strconv.Itoa(int(last-first)+1), r.At)
	})
}
