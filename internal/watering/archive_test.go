package watering

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/lawtest"
)

// The laws that tests ask stand in archives under testdata, with tables of what
// is asked and what the law answers. testdata/README.md describes both.

// archive is one of them.
type archive struct{ *lawtest.Archive }

// Real law is here to test the model alone: read in copies and summaries of the
// texts named, at one time, and not shipped as data.
func TestPublishedWateringLaws(t *testing.T) { askFolder(t, "published") }

// Invented law, whose answers follow from the model's rules, worked by hand.
func TestOwnDesignWateringLaws(t *testing.T) { askFolder(t, "owndesign") }

func askFolder(t *testing.T, folder string) {
	t.Helper()
	for _, a := range lawtest.ReadAll(t, folder) {
		a.Run(t, map[string]func(*testing.T, txtar.File){"watering": func(t *testing.T, f txtar.File) { askWatering(t, &archive{a}, f) }})
	}
}

// Every mistake is found with its line and says what would do.
func TestMistakes(t *testing.T) { lawtest.RunMistakes(t, 1, problems) }

// problems reads and lints the files of law, fertilizer law among them, and
// returns everything found.
func problems(t *testing.T, files []txtar.File, on civil.Date) string {
	t.Helper()
	var list diag.List
	var fertilizer []*law.Record
	var records []*Record
	for _, f := range files {
		root, ok := diag.ReadTOML(f.Name, f.Data, &list)
		require.True(t, ok, list.Error())
		if IsRecord(root) {
			records = append(records, ReadRecord(root))
		} else {
			fertilizer = append(fertilizer, law.ReadRecord(root))
		}
	}
	law.Lint(fertilizer, nil, on, &list)
	Lint(records, fertilizer, nil, on, &list)
	return list.Error()
}

// records reads the laws of the archive anew, so that a test may change them.
func (a *archive) records(t testing.TB) []*Record {
	t.Helper()
	var out []*Record
	a.Ordinances(t, func(root *diag.Table) string {
		out = append(out, readRecord(t, root))
		return out[len(out)-1].ID
	})
	return out
}

func readRecord(t testing.TB, root *diag.Table) *Record {
	t.Helper()
	require.True(t, IsRecord(root), "%s is no watering law", root.File())
	return ReadRecord(root)
}

// jurisdictions reads the list; none if the archive has none.
func (a *archive) jurisdictions(t testing.TB) []law.Jurisdiction {
	t.Helper()
	var out []law.Jurisdiction
	a.Jurisdictions(t, func(root *diag.Table) { out = law.ReadJurisdictions(root) })
	return out
}

// book holds all laws of the archive.
func (a *archive) book(t testing.TB) *Book {
	t.Helper()
	return NewBook(a.records(t), a.jurisdictions(t))
}

// ossamere is the watering law of an invented state.
func ossamere(t testing.TB) *archive {
	t.Helper()
	return &archive{lawtest.Read(t, "testdata/owndesign/ossamere.txtar")}
}

// recordOf is one of its laws.
func recordOf(t testing.TB, id string) *Record {
	t.Helper()
	var out *Record
	ossamere(t).Ordinance(t, id, func(root *diag.Table) string {
		out = readRecord(t, root)
		return out.ID
	})
	return out
}

func day(s string) civil.Date { return lawtest.Day(s) }

func num(x float64) *float64 { return lawtest.Num(x) }

// The invented places.
var (
	wendrakeOutside = law.Place{Name: "Wendrake County outside the city", Chain: []string{"om", "wendrake"}}
	vellinport      = law.Place{Name: "Vellinport", Chain: []string{"om", "wendrake", "vellinport"}}
	hocklan         = law.Place{Name: "Hocklan County", Chain: []string{"om", "hocklan"}}
)

var facts = []lawtest.Given[Question]{
	lawtest.Fact("nonresidential", func(q *Question, _ []string) { q.Nonresidential = true }),
	lawtest.Fact("method *", func(q *Question, w []string) { q.Method = w[0] }, exemptions()...),
	lawtest.Fact("source *", func(q *Question, w []string) { q.Source = w[0] }, "public", "well", "surface", "reclaimed"),
	lawtest.Fact("planted @", func(q *Question, w []string) { q.Planted = day(w[0]) }),
	lawtest.Fact("watering in # in spread @ *", func(q *Question, w []string) {
		q.WaterIn = &WaterIn{Date: day(w[1]), Minute: minuteOf(w[2]), DepthIn: lawtest.Number(w[0])}
	}),
}

func minuteOf(s string) int {
	minute, ok := clock(s)
	if !ok {
		panic(fmt.Sprintf("%q is not a time of day", s))
	}
	return minute
}

func askWatering(t *testing.T, a *archive, f txtar.File) {
	water := a.records(t)
	named := map[string]*Record{}
	if len(water) == 1 {
		named[""] = water[0]
	}
	for _, w := range water {
		named[w.ID] = w
	}
	a.Each(t, f, []string{"when", "house", "answer", "says"}, []string{"law", "given"}, func(t *testing.T, r lawtest.Row) {
		law := named[r.Get("law")]
		require.NotNil(t, law, "%s: there is no watering law %q", r.At, r.Get("law"))
		date, at, _ := strings.Cut(r.Get("when"), " ")
		d, err := civil.ParseDate(date)
		require.NoError(t, err, r.At)
		minute, ok := clock(at)
		require.True(t, ok, "%s: %q is not a time of day", r.At, at)
		q := Question{Date: d, Minute: minute, House: r.Get("house"), AsOf: r.AsOf(t)}
		lawtest.State(t, r, facts, &q)
		got := law.Ask(q)
		assert.Equal(t, r.Get("answer"), answerText(got), r.At)
		assert.False(t, got.Silent, r.At)
	})
}

// answerText writes an answer: the verdict, the part of the law that speaks, why,
// and the exemption.
func answerText(a Answer) string {
	return strings.Join(strings.Fields(strings.Join([]string{a.Verdict.String(), a.Part, a.Why, a.Exempt}, " ")), " ")
}

// Winter Garden, Florida, Code 94-163: one day a week in standard time.
func TestPublishedWinterGardenHasOneDayInWinter(t *testing.T) {
	b := (&archive{lawtest.Read(t, "testdata/published/winter-garden.txtar")}).book(t)
	open := 0
	for _, d := range b.Week(law.Place{Chain: []string{"winter-garden"}}, "public", day("2026-01-12"), day("2026-01-11")).Groups[0].Days {
		if d.Verdict == Open {
			open++
		}
	}
	assert.Equal(t, 1, open)
}
