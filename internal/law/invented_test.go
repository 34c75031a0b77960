package law

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// The records under testdata/invented are of an invented state, the State of
// Ossamere. Between them they hold every construct of the model.

func readRecord(t testing.TB, file, text string) *Record {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML(file, []byte(text), &list)
	require.True(t, ok, list.Error())
	r := ReadRecord(root)
	require.NoError(t, list.Err())
	return r
}

func inventedRecords(t testing.TB) []*Record {
	t.Helper()
	files, err := filepath.Glob("testdata/invented/*.toml")
	require.NoError(t, err)
	require.Len(t, files, 6)
	var out []*Record
	for _, f := range files {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		out = append(out, readRecord(t, filepath.ToSlash(f), string(text)))
	}
	return out
}

func inventedList() []Jurisdiction {
	return []Jurisdiction{
		{ID: "hocklan", Name: "Hocklan County", Level: "county", Parent: "om", Coverage: "none_found", CheckedOn: day("2026-02-10")},
		{ID: "selvary", Name: "Selvary County", Level: "county", Parent: "om", Coverage: "not_checked"},
	}
}

func inventedBook(t testing.TB) *Book { return NewBook(inventedRecords(t), inventedList()) }

func day(s string) civil.Date {
	d, err := civil.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func num(x float64) *float64 { return &x }

// The invented places.
var (
	wendrakeOutside = Place{Name: "Wendrake County outside the city", Chain: []string{"om", "wendrake"}}
	vellinport      = Place{Name: "Vellinport", Chain: []string{"om", "wendrake", "vellinport"}}
	brackmoor       = Place{Name: "Brackmoor County", Chain: []string{"om", "brackmoor"}}
	ivelsay         = Place{Name: "Ivelsay district", Chain: []string{"om", "hocklan", "ivelsay"}}
	hocklan         = Place{Name: "Hocklan County", Chain: []string{"om", "hocklan"}}
	selvary         = Place{Name: "Selvary County", Chain: []string{"om", "selvary"}}
)

// The products of the cases.
var (
	lawn50 = Product{Name: "24-0-6, half slow", NPct: 24, K2OPct: 6, SlowNPct: 12, Class: "synthetic", Form: "granular"}
	lawn67 = Product{Name: "24-0-6, two thirds slow", NPct: 24, K2OPct: 6, SlowNPct: 16, Class: "synthetic", Form: "granular"}
	ironK  = Product{Name: "0-0-7 with iron", K2OPct: 7, Class: "mineral", Form: "liquid"}
	fas    = Product{Name: "6-0-0 with iron", NPct: 6, Class: "mineral", Form: "granular"}
	start  = Product{Name: "18-24-12 starter", NPct: 18, P2O5Pct: 24, K2OPct: 12, SlowNPct: 9, Class: "starter", Form: "granular"}
	urea   = Product{Name: "46-0-0", NPct: 46, Class: "synthetic", Form: "granular"}
	org    = Product{Name: "5-2-0 organic", NPct: 5, P2O5Pct: 2, SlowNPct: 4.5, Class: "natural_organic", Form: "granular"}
	potash = Product{Name: "0-0-60", K2OPct: 60, Class: "mineral", Form: "granular"}
	lime   = Product{Name: "limestone", Class: "lime", Form: "granular"}
	herb   = Product{Name: "herbicide alone", Class: "pesticide_only"}
	lowP   = Product{Name: "20-0.5-5", NPct: 20, P2O5Pct: 0.5, K2OPct: 5, SlowNPct: 14, Class: "synthetic", Form: "granular"}
	combo  = Product{Name: "30-0-4 with herbicide", NPct: 30, K2OPct: 4, SlowNPct: 15, Class: "combination", Form: "granular"}
	eef    = Product{Name: "40-0-0 enhanced", NPct: 40, SlowNPct: 32, Class: "enhanced_efficiency", Form: "granular"}
	liq    = Product{Name: "28-0-0", NPct: 28, SlowNPct: 7, Class: "synthetic", Form: "liquid"}
)

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
