package reference

import (
	"encoding/json"
	"os"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// asOf is the day as of which pages tell who may use what.
var asOf = civil.MustDate(2026, 11, 22)

// demonstration is the author's workspace, read once.
func demonstration(t testing.TB) *workspace.Workspace {
	t.Helper()
	ws, err := loadDemonstration()
	require.NoError(t, err)
	return ws
}

var loadDemonstration = sync.OnceValues(func() (*workspace.Workspace, error) {
	var list diag.List
	ws := workspace.Load(os.DirFS("../.."), data.Phrases, &list)
	return ws, list.Err()
})

// No label beside a sentence links a publication unless the figure was read
// there.
func TestFromTellsTheStanding(t *testing.T) {
	m, v := maker{ws: &workspace.Workspace{Sources: []workspace.Source{{ID: "invented-2001", Authors: "A, B.", Year: "2001"}}}}, speak(t)
	for _, c := range []struct {
		cite      turf.Cite
		id, label string
	}{
		{turf.Cite{Source: "invented-2001", Standing: "verified"}, "invented-2001", "A 2001"},
		{turf.Cite{Source: "invented-2001", Standing: "memory"}, "", "from memory"},
		{turf.Cite{Source: "common practice", Standing: "memory"}, "", "from memory"},
		{turf.Cite{Source: "common practice", Standing: "practice"}, "", ""},
		{turf.Cite{Source: "own design", Standing: "own design"}, "", "our own"},
		{turf.Cite{}, "", ""},
	} {
		s := m.from(c.cite)
		label := ""
		if s.Label != nil {
			label = v.Say(s.Label.Message)
		}
		assert.Equal(t, []string{c.id, c.label}, []string{s.ID, label}, "%+v", c.cite)
		assert.Empty(t, s.Standing, "the label says it")
	}
}

// What is told of pests is plain values: it can be written and read again, and
// nothing is left out.
func TestPestsAreWrittenAndReadAgain(t *testing.T) {
	ws := demonstration(t)
	all, killers := Pests(ws, asOf), WeedKillersOf(ws, asOf)
	require.NotEmpty(t, all)
	require.NotNil(t, killers)
	var backAll []Pest
	var backKillers WeedKillers
	for _, x := range []struct{ from, to any }{{all, &backAll}, {*killers, &backKillers}} {
		text, err := json.Marshal(x.from)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(text, x.to))
		again, err := json.Marshal(x.to)
		require.NoError(t, err)
		assert.JSONEq(t, string(text), string(again))
	}
	assert.Nil(t, Pests(&workspace.Workspace{}, asOf))
	assert.Nil(t, WeedKillersOf(&workspace.Workspace{}, asOf))
}

// What stands from memory is not told as read, and each exception of a file
// stands beside what it names.
func TestStatementsHaveTheirSources(t *testing.T) {
	ws, v := demonstration(t), speak(t)
	find := func(id string) Pest {
		all := Pests(ws, asOf)
		return all[slices.IndexFunc(all, func(p Pest) bool { return p.ID == id })]
	}
	words := func(s Statement) string {
		text := v.Say(s.Text.Message)
		if s.From.Label != nil {
			text += " [" + v.Say(s.From.Label.Message) + "]"
		}
		return text
	}
	effects := func(p Pest) (out []string) {
		for _, g := range p.Fungicides {
			out = append(out, g.Code+" "+words(g.Effect))
		}
		return out
	}
	patch := find("large-patch")
	assert.Equal(t, []string{"11 good [Obasa and others 2017]", "3 good [Obasa and others 2017]"}, effects(patch))
	assert.Contains(t, effects(find("brown-patch")), "3 no source read")
	assert.Contains(t, words(patch.Seasons[0].Opens), "[Obasa and others 2017]")
	assert.Equal(t, "main host, or a major pest", v.Say(patch.Hosts[0].Word.Message))
	assert.Equal(t, "Clemson Cooperative Extension", v.Say(patch.Hosts[0].From.Label.Message), "they agree")
	assert.Equal(t, "Seashore paspalum [from memory]", words(patch.Hosts[1].Grasses[0])+" ["+v.Say(patch.Hosts[1].From.Label.Message)+"]")
	crabgrass := find("crabgrass")
	assert.Contains(t, words(crabgrass.Timings[0].Stages[3].When[0]), "degree-days")
	assert.NotEmpty(t, crabgrass.Timings[0].Stages[3].When[0].From.ID)
	assert.Empty(t, crabgrass.Timings[0].Stages[0].When, "the season starts in it")
}
