package law

import (
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/lawtest"
)

// The laws that tests ask stand in archives under testdata, with tables of what
// is asked and what the law answers. testdata/README.md describes both.

// archive is one of them.
type archive struct{ *lawtest.Archive }

func readArchive(t testing.TB, name string) *archive {
	t.Helper()
	return &archive{lawtest.Read(t, name)}
}

// readArchives reads a folder of them.
func readArchives(t testing.TB, folder string) []*archive {
	t.Helper()
	var out []*archive
	for _, a := range lawtest.ReadAll(t, folder) {
		out = append(out, &archive{a})
	}
	return out
}

// records reads the laws of the archive anew, so that a test may change them.
func (a *archive) records(t testing.TB) []*Record {
	t.Helper()
	var out []*Record
	a.Ordinances(t, func(root *diag.Table) string {
		out = append(out, ReadRecord(root))
		return out[len(out)-1].ID
	})
	return out
}

// jurisdictions reads the list; none if the archive has none.
func (a *archive) jurisdictions(t testing.TB) []Jurisdiction {
	t.Helper()
	var out []Jurisdiction
	a.Jurisdictions(t, func(root *diag.Table) { out = ReadJurisdictions(root) })
	return out
}

// book holds all laws of the archive.
func (a *archive) book(t testing.TB) *Book {
	t.Helper()
	return NewBook(a.records(t), a.jurisdictions(t))
}

type row = lawtest.Row

// products are those of the tables, by name.
var products = readProducts()

func readProducts() map[string]Product {
	const file = "testdata/products.csv"
	text, err := os.ReadFile(file)
	if err != nil {
		panic(err)
	}
	rows, err := lawtest.ReadTable(file, string(text), []string{"name", "n", "slow n", "p2o5", "k2o", "class", "form"}, nil)
	if err != nil {
		panic(err)
	}
	out := map[string]Product{"nitrogen": ProductOf("N"), "phosphorus": ProductOf("P"), "neither": ProductOf("")}
	for _, r := range rows {
		if !slices.Contains(classes(), r.Get("class")) || !slices.Contains(append(Forms(), ""), r.Get("form")) {
			panic(r.At + ": class or form")
		}
		out[r.Get("name")] = Product{Name: r.Get("name"), NPct: number(r.Get("n")), SlowNPct: number(r.Get("slow n")), P2O5Pct: number(r.Get("p2o5")),
			K2OPct: number(r.Get("k2o")), Class: r.Get("class"), Form: r.Get("form")}
	}
	return out
}

func product(name string) Product {
	p, ok := products[name]
	if !ok {
		panic("there is no product " + name)
	}
	return p
}

func number(s string) float64 { return lawtest.Number(s) }

func onWeather(q *Question, say func(w *Weather)) {
	if q.Weather == nil {
		q.Weather = &Weather{}
	}
	say(q.Weather)
}

var facts = []lawtest.Given[Question]{
	lawtest.Fact("rate # lb", func(q *Question, w []string) { q.RateLb1000 = num(number(w[0])) }),
	lawtest.Fact("rate # lb N", func(q *Question, w []string) { q.RateLb1000 = num(number(w[0]) / (q.Product.NPct / 100)) }),
	lawtest.Fact("so far # lb N", func(q *Question, w []string) { q.AnnualNLb1000 = num(number(w[0])) }),
	lawtest.Fact("so far # lb P2O5", func(q *Question, w []string) { q.AnnualP2O5Lb1000 = num(number(w[0])) }),
	lawtest.Fact("grass *", func(q *Question, w []string) { q.Grass = w[0] }),
	lawtest.Fact("site *", func(q *Question, w []string) { q.Site = w[0] }, sites()...),
	lawtest.Fact("distance # ft", func(q *Question, w []string) { q.DistanceFt = num(number(w[0])) }),
	lawtest.Fact("gear *", func(q *Question, w []string) { q.Gear = w[0] }, gears()...),
	lawtest.Fact("strip # ft", func(q *Question, w []string) { q.VegetatedStripFt = num(number(w[0])) }),
	lawtest.Fact("soil test @", func(q *Question, w []string) { q.SoilTest = &SoilTest{day(w[0]), true} }),
	lawtest.Fact("new turf", func(q *Question, _ []string) { q.NewTurf = true }),
	lawtest.Fact("growing season #", func(q *Question, w []string) { q.GrowingSeason = int(number(w[0])) }),
	lawtest.Fact("repair", func(q *Question, _ []string) { q.Repair = true }),
	lawtest.Fact("planted @", func(q *Question, w []string) { q.Planted = day(w[0]) }),
	lawtest.Fact("growing @ to @", func(q *Question, w []string) { q.Seasons = []Season{{"growing", day(w[0]), day(w[1])}} }),
	lawtest.Fact("growing from @", func(q *Question, w []string) { q.Seasons = []Season{{Name: "growing", From: day(w[0])}} }),
	lawtest.Fact("claim *", func(q *Question, w []string) { q.Claims = append(q.Claims, w[0]) }),
	lawtest.Fact("alert *", func(q *Question, w []string) {
		onWeather(q, func(x *Weather) { x.Alerts = append(x.Alerts, Alert{Event: w[0]}) })
	}, alertEvents()...),
	lawtest.Fact("ground *", func(q *Question, w []string) { onWeather(q, func(x *Weather) { x.Ground = append(x.Ground, w[0]) }) }, grounds()...),
	lawtest.Fact("frost # in", func(q *Question, w []string) { onWeather(q, func(x *Weather) { x.FrostDepthIn = num(number(w[0])) }) }),
	lawtest.Fact("rain # in", func(q *Question, w []string) {
		onWeather(q, func(x *Weather) { x.ForecastRainIn24h = num(number(w[0])) })
	}),
}

// usualAsOf is the day on which a row is asked, unless it names one.
const usualAsOf = lawtest.UsualAsOf

func productOf(t testing.TB, r row) Product {
	t.Helper()
	p, ok := products[r.Get("product")]
	require.True(t, ok, "%s: there is no product %q; use one of %s", r.At, r.Get("product"), strings.Join(slices.Sorted(maps.Keys(products)), ", "))
	return p
}
