package stage

import (
	"os"
	"path"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/herbicide"
)

// dataFile reads a file of the demonstration's data.
func dataFile(t testing.TB, name string) []byte {
	text, err := os.ReadFile("../../data/" + name)
	require.NoError(t, err)
	return text
}

// demoFiles returns the ids of the demonstration's weeds or insects.
func demoFiles(t testing.TB, folder string) []string {
	entries, err := os.ReadDir("../../data/pests/" + folder)
	require.NoError(t, err)
	var ids []string
	for _, e := range entries {
		ids = append(ids, strings.TrimSuffix(e.Name(), ".toml"))
	}
	return ids
}

func demoFile(t testing.TB, folder, id string) (*diag.Table, *diag.List) {
	name := path.Join("pests", folder, id+".toml")
	list := &diag.List{}
	root, ok := diag.ReadTOML(name, dataFile(t, name), list)
	require.True(t, ok, "%v", list.Err())
	return root, list
}

// demoDefaults is what the demonstration's pests say alike.
func demoDefaults(t testing.TB, list *diag.List) *diag.Table {
	root, ok := diag.ReadTOML("defaults.toml", dataFile(t, "pests/defaults.toml"), list)
	require.True(t, ok, "%v", list.Err())
	return root
}

func demoWeed(t testing.TB, id string) *Weed {
	root, list := demoFile(t, "weeds", id)
	w := ReadWeed(id, root, demoDefaults(t, list))
	require.NoError(t, list.Err())
	return w
}

func demoInsect(t testing.TB, id string) *Insect {
	root, list := demoFile(t, "insects", id)
	i := ReadInsect(id, root, demoDefaults(t, list))
	require.NoError(t, list.Err())
	return i
}

func demoWeeds(t testing.TB) []*Weed {
	var out []*Weed
	for _, id := range demoFiles(t, "weeds") {
		out = append(out, demoWeed(t, id))
	}
	return out
}

func demoInsects(t testing.TB) []*Insect {
	var out []*Insect
	for _, id := range demoFiles(t, "insects") {
		out = append(out, demoInsect(t, id))
	}
	return out
}

func demoHerbicides(t testing.TB) *herbicide.Book {
	var list diag.List
	root, ok := diag.ReadTOML("herbicides.toml", dataFile(t, "pests/herbicides.toml"), &list)
	require.True(t, ok, "%v", list.Err())
	h := herbicide.Read(root)
	require.NoError(t, list.Err())
	return h
}

func celsius(f float64) float64 { return (f - 32) / 1.8 }

// Each weed and insect has a look-alike with its source but for the one that has
// none in print, dandelion and its kin; and something to do without a product.
func TestLookAlikes(t *testing.T) {
	check := func(a *Account) {
		if a.ID == "perennial-broadleaf" {
			return
		}
		require.NotEmpty(t, a.LookAlikes, a.ID)
		for _, l := range a.LookAlikes {
			require.NotEmpty(t, l.Cite.Source, a.ID)
		}
		require.NotEmpty(t, a.Cultural, a.ID)
	}
	for _, id := range demoFiles(t, "weeds") {
		check(&demoWeed(t, id).Account)
	}
	for _, id := range demoFiles(t, "insects") {
		check(&demoInsect(t, id).Account)
	}
}
