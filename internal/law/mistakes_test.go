package law

import (
	"path"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/lawtest"
)

// lintDay is the day on which mistakes are looked for.
var lintDay = day(usualAsOf)

// Every mistake is found with its line and says what would do.
func TestMistakes(t *testing.T) { lawtest.RunMistakes(t, 3, problems) }

// problems reads and lints the files of law and returns everything found.
func problems(t *testing.T, files []txtar.File, on civil.Date) string {
	t.Helper()
	var list diag.List
	var records []*Record
	var lines []Jurisdiction
	for _, f := range files {
		root, ok := diag.ReadTOML(f.Name, f.Data, &list)
		require.True(t, ok, list.Error())
		if f.Name == "jurisdictions.toml" {
			lines = ReadJurisdictions(root)
			continue
		}
		records = append(records, ReadRecord(root))
	}
	Lint(records, lines, on, &list)
	return list.Error()
}

// An order without an end is announced before it is no longer known to be on.
func TestMistakesInOrders(t *testing.T) {
	at := func(asOf string) string {
		var list diag.List
		Lint(inventedRecords(t), inventedList(t), day(asOf), &list)
		var out []string
		for _, p := range list.All() {
			if strings.Contains(p.What, "order") {
				out = append(out, p.What)
			}
		}
		return strings.Join(out, "\n")
	}
	assert.Empty(t, at("2026-07-19"), "it has not begun")
	assert.Equal(t, `order "algae_order" is assumed on until 2026-08-19`, at("2026-07-20"))
	assert.Equal(t, `order "algae_order" is assumed on until 2026-08-19`, at("2026-08-19"))
	assert.Equal(t, `order "algae_order" was assumed on until 2026-08-19: now unknown`, at("2026-08-20"))
}

func TestMistakesInGrassesOfACap(t *testing.T) {
	var list diag.List
	LintGrasses(inventedRecords(t), []string{"bermudagrass", "zoysiagrass", "tall-fescue", "centipede"}, &list)
	assert.Equal(t, `ordinances/vellinport-city.toml:30: rules[3].annual_total_n_by_grass: warning: no grass on file is called "centipedegrass", so its cap is never used; use one of bermudagrass, centipede, tall-fescue, zoysiagrass`, list.Error())
	list = diag.List{}
	LintGrasses(inventedRecords(t), []string{"bermudagrass", "zoysiagrass", "tall-fescue", "centipedegrass"}, &list)
	assert.Empty(t, list.All())
}

// A list line that says "looked, none found" counts for a year.
func TestOwnDesignNoneFoundGrowsStale(t *testing.T) {
	b := inventedBook(t)
	q := weekly(hocklan)
	q.AsOf = day("2027-01-12")
	assert.Equal(t, "conditional", b.Ask(q).Verdict.String())
	book := NewBook(inventedRecords(t), []Jurisdiction{{ID: "hocklan", Level: "county", Parent: "om", Coverage: "none_found", CheckedOn: day("2025-03-15")}})
	q.AsOf = day("2026-03-15")
	assert.Equal(t, "conditional", book.Ask(q).Verdict.String())
	q.AsOf = day("2026-03-16")
	a := book.Ask(q)
	assert.Equal(t, "not_cleared", a.Verdict.String())
	assert.Equal(t, "stale", flags(a))
}

func TestReadJurisdictions(t *testing.T) {
	got := inventedList(t)
	require.Len(t, got, 2)
	assert.Equal(t, Jurisdiction{ID: "hocklan", Name: "Hocklan County", Level: "county", Parent: "om", Coverage: "none_found",
		CheckedOn: day("2026-02-10"), Pos: got[0].Pos}, got[0])
	assert.Equal(t, 1, got[0].Pos.Line)
}

func TestOwnDesignUnevaluatedIsListed(t *testing.T) {
	var got []string
	for _, r := range inventedRecords(t) {
		for _, g := range Unevaluated(r) {
			s := r.ID + "/" + g.Rule.ID + " " + g.What
			if g.NotCleared {
				s += " not_cleared"
			}
			got = append(got, s)
			assert.Positive(t, g.Pos.Line)
		}
	}
	assert.Equal(t, []string{"om-state/rate-enhanced release", "thornelby-town/growing-season-only season not_cleared"}, got)

	// A ban on a way of doing things is no ban on fertilizer that the code
	// could judge: nothing is cleared while it holds.
	for _, c := range []struct {
		alter func(*Rule)
		want  Verdict
	}{
		{func(*Rule) {}, Closed},
		{func(r *Rule) { r.Topic = "equipment" }, NotCleared},
		{func(r *Rule) { r.Topic = "weather" }, NotCleared},
		{func(r *Rule) { r.Topic = "buffer" }, NotCleared},
		{func(r *Rule) { r.Topic, r.RainBasis = "weather", "forecast" }, Conditional},
		{func(r *Rule) { r.Effect = "forbid" }, NotCleared},
		{func(r *Rule) { r.Effect = "cap" }, NotCleared},
		{func(r *Rule) { r.When[0].Kind = "lunar" }, NotCleared},
		{func(r *Rule) { r.When[0].FromAnchor, r.Overrides = Anchor{}, nil }, NotCleared},
	} {
		b := changed(t, "vellinport-city", func(r *Record) { c.alter(&r.Rules[0]) })
		q := weekly(vellinport)
		q.Date = day("2026-07-10")
		assert.Equal(t, c.want.String(), b.Ask(q).Verdict.String())
	}
}

// Reading never panics; a record that is accepted can be asked anything; a
// mistake has a position within the file.
func FuzzReadRecord(f *testing.F) {
	for _, file := range ossamere(f).Files {
		if path.Dir(file.Name) == "ordinances" {
			f.Add(string(file.Data))
		}
	}
	files, _ := lawtest.ReadMistakes(f, "testdata/mistakes/record.txtar")
	f.Add(string(files[0].Data))
	f.Fuzz(func(t *testing.T, text string) {
		var list diag.List
		root, ok := diag.ReadTOML("f.toml", []byte(text), &list)
		if !ok {
			return
		}
		r := ReadRecord(root)
		Lint([]*Record{r}, nil, lintDay, &list)
		lines := strings.Count(text, "\n") + 1
		for _, p := range list.All() {
			if p.File != "f.toml" || p.Line < 0 || p.Line > lines || p.Line == 0 && p.Key == "" {
				t.Errorf("no position: %v", p)
			}
			if p.What == "" {
				t.Error("a mistake without words")
			}
		}
		b := NewBook([]*Record{r}, nil)
		for _, actor := range []Actor{Homeowner, Retailer} {
			q := Question{Place: Place{Chain: []string{r.Jurisdiction}}, Actor: actor, Product: lawn50, RateLb1000: num(3),
				Weather: &Weather{Alerts: []Alert{{Event: "Flood Watch"}}, ForecastRainIn24h: num(2)}, Planted: day("2026-03-01"), AsOf: lintDay}
			w := b.Week(q, lintDay)
			b.WeekConditions(q, lintDay)
			b.ClosedSpans(q.Place, actor, "N", lintDay, lintDay+civil.Date(400), lintDay)
			if _, isThere := b.AskRecord(r.ID, q); !isThere {
				t.Error("the record is not in its book")
			}
			if w.State == "" {
				t.Error("a week without a state")
			}
		}
	})
}
