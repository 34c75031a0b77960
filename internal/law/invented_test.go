package law

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/lawtest"
)

// ossamere is the law of an invented state. Between them its records hold every
// construct of the model.
func ossamere(t testing.TB) *archive { return readArchive(t, "testdata/owndesign/ossamere.txtar") }

func inventedRecords(t testing.TB) []*Record {
	t.Helper()
	out := ossamere(t).records(t)
	require.Len(t, out, 6)
	return out
}

func inventedList(t testing.TB) []Jurisdiction { return ossamere(t).jurisdictions(t) }

func inventedBook(t testing.TB) *Book { return NewBook(inventedRecords(t), inventedList(t)) }

func day(s string) civil.Date { return lawtest.Day(s) }

func num(x float64) *float64 { return lawtest.Num(x) }

// The invented places.
var (
	wendrakeOutside = Place{Name: "Wendrake County outside the city", Chain: []string{"om", "wendrake"}}
	vellinport      = Place{Name: "Vellinport", Chain: []string{"om", "wendrake", "vellinport"}}
	brackmoor       = Place{Name: "Brackmoor County", Chain: []string{"om", "brackmoor"}}
	ivelsay         = Place{Name: "Ivelsay district", Chain: []string{"om", "hocklan", "ivelsay"}}
	hocklan         = Place{Name: "Hocklan County", Chain: []string{"om", "hocklan"}}
	selvary         = Place{Name: "Selvary County", Chain: []string{"om", "selvary"}}
)

// The products of testdata/products.csv that tests name.
var (
	lawn50 = product("24-0-6 half slow")
	lawn67 = product("24-0-6 two thirds slow")
	ironK  = product("0-0-7 with iron")
	start  = product("18-24-12 starter")
	urea   = product("46-0-0")
	org    = product("5-2-0 organic")
	lime   = product("limestone")
	herb   = product("herbicide alone")
	eef    = product("40-0-0 enhanced")
	liq    = product("28-0-0 liquid")
)

// Facts that a question may state.

func rate(lb float64) func(*Question) { return func(q *Question) { q.RateLb1000 = num(lb) } }
func near(ft float64, gear string) func(*Question) {
	return func(q *Question) { q.DistanceFt, q.Gear = num(ft), gear }
}
func soilTest(d string) func(*Question) {
	return func(q *Question) { q.SoilTest = &SoilTest{day(d), true} }
}

// closing lists the rules that close as record/rule, with what was tested for
// limits and buffers, in the order of the chain and file.
func closing(a Answer) string {
	var out []string
	for _, h := range a.Closed() {
		s := h.Record.ID + "/" + h.Rule.ID
		if slices.Contains([]string{"rate", "content", "buffer"}, h.Rule.Topic) && h.Detail != "" {
			s += ":" + h.Detail
		}
		out = append(out, s)
	}
	return strings.Join(out, " ")
}

func flags(a Answer) string {
	var out []string
	for _, f := range a.Flags {
		s := string(f)
		if f == NoRecord {
			for _, n := range a.Notices {
				if n.Flag == NoRecord {
					s += ":" + n.Jurisdiction
				}
			}
		}
		out = append(out, s)
	}
	return strings.Join(out, " ")
}
