package disease

import (
	"os"
	"path"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
)

// dataFile reads a file of the demonstration's data.
func dataFile(t testing.TB, name string) []byte {
	text, err := os.ReadFile("../../data/" + name)
	require.NoError(t, err)
	return text
}

// demoIDs returns the ids of the demonstration's diseases.
func demoIDs(t testing.TB) []string {
	entries, err := os.ReadDir("../../data/pests/diseases")
	require.NoError(t, err)
	var ids []string
	for _, e := range entries {
		ids = append(ids, strings.TrimSuffix(e.Name(), ".toml"))
	}
	return ids
}

// demoDefaults is what the demonstration's pests say alike.
func demoDefaults(t testing.TB, list *diag.List) *diag.Table {
	root, ok := diag.ReadTOML("defaults.toml", dataFile(t, "pests/defaults.toml"), list)
	require.True(t, ok, "%v", list.Err())
	return root
}

func demoDisease(t testing.TB, id string) *Disease {
	name := path.Join("pests", "diseases", id+".toml")
	list := &diag.List{}
	root, ok := diag.ReadTOML(name, dataFile(t, name), list)
	require.True(t, ok, "%v", list.Err())
	d := Read(id, root, demoDefaults(t, list))
	require.NoError(t, list.Err())
	return d
}

func demoDiseases(t testing.TB) []*Disease {
	var out []*Disease
	for _, id := range demoIDs(t) {
		out = append(out, demoDisease(t, id))
	}
	return out
}

func plain(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
