package reference

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// No label beside a sentence links a publication unless the figure was read
// there.
func TestFromTellsTheStanding(t *testing.T) {
	m, v := maker{&workspace.Workspace{Sources: []workspace.Source{{ID: "invented-2001", Authors: "A, B.", Year: "2001"}}}}, speak(t)
	for _, c := range []struct {
		cite      turf.Cite
		id, label string
	}{
		{turf.Cite{Source: "invented-2001", Standing: "verified"}, "invented-2001", "A 2001"},
		{turf.Cite{Source: "invented-2001", Standing: "memory"}, "", "from memory"},
		{turf.Cite{Source: "common practice", Standing: "memory"}, "", "from memory"},
		{turf.Cite{Source: "common practice", Standing: "practice"}, "", ""},
		{turf.Cite{Source: "own design", Standing: "own design"}, "", "our own"},
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

func TestCitesAreFoundByTable(t *testing.T) {
	cite := func(section string) turf.Cite { return turf.Cite{Section: section, Source: section} }
	all := []turf.Cite{cite("group"), cite("group.effect"), cite("group"), cite("group.home"), cite("grouping"), cite("model of x, y"), cite("model of x, y.degree_days")}
	groups := tables(all, "group")
	require.Len(t, groups, 2)
	assert.Equal(t, "group.effect", groups[0].of("effect").Source)
	assert.Equal(t, "group", groups[0].of("home").Source, "the table's own")
	assert.Equal(t, "group", groups[1].of("effect").Source)
	assert.Equal(t, "group.home", groups[1].of("home").Source)
	c := &cursor{tables: split(all)}
	assert.Equal(t, "model of x, y.degree_days", c.next("model of x, y").of("degree_days").Source)
	assert.Nil(t, c.next("group"), "the cursor never goes back")
	assert.Equal(t, turf.Cite{}, citeTable(nil).of("x"))
	heat := citeTable{cite("heat"), cite("heat.on.zoysia")}
	assert.Equal(t, "heat.on.zoysia", heat.cell("on", "zoysia").Source)
	assert.Equal(t, "heat", heat.cell("on", "bermuda").Source)
}
