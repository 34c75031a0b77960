package law

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// demonstration reads invented laws of the demonstration.
func demonstration(t *testing.T, names ...string) []*Record {
	t.Helper()
	var list diag.List
	var out []*Record
	for _, name := range names {
		text, err := os.ReadFile("../../data/ordinances/" + name + ".toml")
		require.NoError(t, err)
		root, ok := diag.ReadTOML(name, text, &list)
		require.True(t, ok)
		out = append(out, ReadRecord(root))
	}
	require.NoError(t, list.Err())
	return out
}

// What displaces a local law is judged as of the issue: a state law that nobody
// has read again displaces nothing, in what is past of the year neither.
func TestStaleLawDisplacesNothing(t *testing.T) {
	from, err := ParseAnchor("11-15")
	require.NoError(t, err)
	to, err := ParseAnchor("02-last")
	require.NoError(t, err)
	county := Record{
		Header: Header{ID: "county", Jurisdiction: "shore-county", AppliesIn: "all", EffectiveFrom: civil.MustDate(2012, 1, 1), Verification: "verified", CheckedOn: civil.MustDate(2026, 2, 17), ReviewMonths: 12}, Level: "county", Parent: "ossamere",
		Status: "in_force", RelationDown: "floor",
		Rules: []Rule{{ID: "winter", Topic: "window", Effect: "ban", Targets: []string{"N"}, Binds: []Actor{"all"},
			When: []When{{Kind: "annual", FromAnchor: from, ToAnchor: to, Bounds: "(]", BoundsBasis: "text"}}}},
	}
	state := county
	state.ID, state.Jurisdiction, state.Level, state.Parent = "state", "ossamere", "state", ""
	state.RelationDown, state.PreemptTopics, state.Rules = "preempts", []string{"window"}, nil
	book := NewBook([]*Record{&state, &county}, []Jurisdiction{
		{ID: "ossamere", Level: "state", Coverage: "none_found", CheckedOn: civil.MustDate(2026, 2, 10)}, {ID: "shore-county", Level: "county", Parent: "ossamere"},
	})
	place := Place{Chain: []string{"ossamere", "shore-county"}}
	spans := func(asOf civil.Date) []Span {
		return book.ClosedSeasons(place, Homeowner, "N", civil.MustDate(2027, 1, 1), civil.MustDate(2027, 12, 31), asOf)
	}
	assert.Empty(t, spans(civil.MustDate(2027, 2, 17)), "read on February 17, 2026: the last day on which it counts")
	stale := spans(civil.MustDate(2027, 2, 18))
	require.Len(t, stale, 2)
	assert.Equal(t, civil.MustDate(2026, 11, 16), stale[0].First, "not the day on which the state law became stale")
	assert.Equal(t, civil.MustDate(2027, 11, 16), stale[1].First)
}

// A span that runs on over the issue date is one span, its laws named once.
func TestSpansRunOnOverTheIssueDate(t *testing.T) {
	records := demonstration(t, "ossamere-lawn-nutrients", "wendrake-rainy-season", "thornelby-ponds", "ivelsay-reservoir")
	book := NewBook(records, []Jurisdiction{
		{ID: "ossamere", Level: "state"}, {ID: "wendrake-county", Level: "county", Parent: "ossamere"},
		{ID: "corvane-county", Level: "county", Parent: "ossamere", Coverage: "none_found", CheckedOn: civil.MustDate(2026, 2, 11)},
		{ID: "thornelby", Level: "municipal", Parent: "corvane-county"}, {ID: "ivelsay-district", Level: "district", Parent: "ossamere"},
	})
	place := Place{Chain: []string{"ossamere", "ivelsay-district"}}
	for day := civil.MustDate(2026, 1, 1); day <= civil.MustDate(2026, 12, 31); day += 5 {
		got := book.ClosedSeasons(place, Homeowner, "N", civil.MustDate(2026, 1, 1), civil.MustDate(2026, 12, 31), day)
		require.Len(t, got, 3, "%s", day)
		assert.Equal(t, civil.MustDate(2025, 10, 26), got[0].First, "%s", day)
		assert.Equal(t, civil.MustDate(2027, 3, 13), got[2].Last, "%s", day)
		assert.Len(t, got[0].Laws, 2, "%s", day)
		assert.Len(t, got[2].Laws, 2, "%s", day)
	}
}
