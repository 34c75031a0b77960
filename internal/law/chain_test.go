package law

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/diag"
	"ligule/internal/lawtest"
)

// The jurisdictions of a place are all that lie over it, each once, upper first.
func TestChains(t *testing.T) {
	files, cases := lawtest.ReadMistakes(t, "testdata/chains.txtar")
	for _, c := range cases {
		t.Run(c.Name, func(t *testing.T) { assert.Equal(t, strings.Join(c.Told, "\n"), chainProblems(t, c.Apply(t, files))) })
	}
}

func chainProblems(t *testing.T, files []txtar.File) string {
	t.Helper()
	var list diag.List
	zone, ok := diag.ReadTOML(files[0].Name, files[0].Data, &list)
	require.True(t, ok, list.Error())
	lines, ok := diag.ReadTOML(files[1].Name, files[1].Data, &list)
	require.True(t, ok, list.Error())
	bodies := ReadJurisdictions(lines)
	for _, p := range zone.Tables("place") {
		p.Text("name")
		CheckChain(p, "jurisdictions", p.Texts("jurisdictions", true), bodies)
	}
	Lint(nil, bodies, lintDay, &list)
	return list.Error()
}
