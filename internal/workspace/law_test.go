package workspace

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
)

const root = "../.."

// lawWith loads the demonstration with files changed or added, and returns
// what is found in files of law and zones.
func lawWith(t *testing.T, files map[string]string) (*Workspace, string) {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(dir, "data"), os.DirFS(root+"/data")))
	require.NoError(t, os.CopyFS(filepath.Join(dir, "content"), os.DirFS(root+"/content")))
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), []byte(text), 0o600))
	}
	var list diag.List
	ws := Load(os.DirFS(dir), nil, &list)
	ws.LintLaw(civil.MustDate(2026, 4, 12), &list)
	var out []string
	for _, p := range list.All() {
		if strings.HasPrefix(p.File, "data/ordinances/") || strings.HasPrefix(p.File, "data/jurisdictions") || strings.HasPrefix(p.File, "data/zones/") {
			out = append(out, p.String())
		}
	}
	return ws, strings.Join(out, "\n")
}

func read(t testing.TB, file string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(file)))
	require.NoError(t, err)
	return string(text)
}

// A watering law that is put into a workspace speaks, and there is nothing to say of
// it.
func TestWateringRecordsAreTold(t *testing.T) {
	files := baseFiles(t)
	before, _ := told(files)
	text, err := os.ReadFile("testdata/corvane-hours.toml")
	require.NoError(t, err)
	files["data/ordinances/corvane-hours.toml"] = &fstest.MapFile{Data: text}
	ws, got := told(files)
	assert.Empty(t, got)
	assert.Len(t, ws.Ordinances, len(before.Ordinances))
	require.Len(t, ws.Watering, len(before.Watering)+1)
	place := law.Place{Name: "Corvane", Chain: []string{"ossamere", "corvane-county"}}
	monday := civil.MustDate(2026, 4, 13)
	week := ws.WaterLaw.Week(place, "public", monday, monday-1)
	assert.Equal(t, "limited", week.State)
	assert.Equal(t, "no_record", before.WaterLaw.Week(place, "public", monday, monday-1).State)
}
