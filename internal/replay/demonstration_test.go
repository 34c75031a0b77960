package replay

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/diag"
	"ligule/internal/workspace"
)

// demonstration loads the demonstration workspace.
func demonstration(t testing.TB) *workspace.Workspace {
	t.Helper()
	var list diag.List
	ws := workspace.Load(os.DirFS("../.."), data.Phrases, &list)
	require.NoError(t, list.Err())
	return ws
}

// ask makes the question about one zone.
func ask(t testing.TB, ws *workspace.Workspace, zone string, first, last int) Question {
	t.Helper()
	z, ok := ws.Zone(zone)
	require.True(t, ok)
	return Question{First: first, Last: last, Zones: []*workspace.Zone{z}}
}
