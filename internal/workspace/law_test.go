package workspace

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

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

func read(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(file)))
	require.NoError(t, err)
	return string(text)
}

const water = `schema = 1
id = "corvane-hours"
fictional = true
jurisdiction = "corvane-county"
applies_in = "all"
tz = "America/New_York"
citation = "invented"
source_url = "https://law.example.invalid/corvane/hours"
effective_from = 2020-01-01
verification = "verified"
checked_on = 2026-03-01
force = "mandatory"
source_water = ["public"]
closed_hours = [["10:00", "16:00"]]
`

func TestWateringRecordsAreTold(t *testing.T) {
	before, clean := lawWith(t, nil)
	ws, got := lawWith(t, map[string]string{"data/ordinances/corvane-hours.toml": water})
	assert.Equal(t, clean, got, "nothing to say of the new record")
	assert.Len(t, ws.Ordinances, len(before.Ordinances))
	require.Len(t, ws.Watering, len(before.Watering)+1)
	place := law.Place{Name: "Corvane", Chain: []string{"ossamere", "corvane-county"}}
	monday := civil.MustDate(2026, 4, 13)
	week := ws.Law.WaterWeek(place, "public", monday, monday-1)
	assert.Equal(t, "limited", week.State)
	assert.Equal(t, "no_record", before.Law.WaterWeek(place, "public", monday, monday-1).State)
}

func TestMistakesInFilesOfLaw(t *testing.T) {
	_, clean := lawWith(t, nil)
	for _, c := range []struct {
		name, file, text, want string
	}{
		{"the file's name", "corvane.toml", water, `data/ordinances/corvane.toml:2: id: the id "corvane-hours" is not the file's name; name the file corvane-hours.toml`},
		{"an id of another kind of law", "zz.toml", strings.Replace(water, "corvane-hours", "thornelby-ponds", 1), `data/ordinances/zz.toml:2: id: the id "thornelby-ponds" is already used in data/ordinances/thornelby-ponds.toml; give each record its own id`},
		{"jurisdiction of a watering law", "corvane-hours.toml", strings.Replace(water, "corvane-county", "corvane-conty", 1), `data/ordinances/corvane-hours.toml:4: jurisdiction: there is no jurisdiction "corvane-conty"; did you mean "corvane-county"?`},
		{"unknown key of a watering law", "corvane-hours.toml", water + "closed_ours = 1\n", `closed_ours: unknown key; did you mean "closed_hours"?`},
		{"jurisdiction of a fertilizer law", "thornelby-ponds.toml", strings.Replace(read(t, "data/ordinances/thornelby-ponds.toml"), `jurisdiction      = "thornelby"`, `jurisdiction      = "thornelbee"`, 1), `jurisdiction: there is no jurisdiction "thornelbee"; did you mean "thornelby"?`},
		{"a grass that is not on file", "thornelby-ponds.toml", strings.Replace(read(t, "data/ordinances/thornelby-ponds.toml"), "bermuda = 3.0", "bermudagrass = 3.0", 1), `annual_total_n_by_grass: warning: no grass on file is called "bermudagrass", so its cap is never used; `},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.NotContains(t, clean, c.want)
			_, got := lawWith(t, map[string]string{"data/ordinances/" + c.file: c.text})
			assert.Contains(t, got, c.want)
		})
	}
}

func TestRecordsAndPlacesOfZones(t *testing.T) {
	list := read(t, "data/jurisdictions.toml")
	away := list + "\n[[jurisdiction]]\nid = \"farwick\"\nname = \"Farwick\"\nlevel = \"municipal\"\nparent = \"corvane-county\"\n"
	_, got := lawWith(t, map[string]string{
		"data/jurisdictions.toml":            away,
		"data/ordinances/corvane-hours.toml": strings.Replace(water, `"corvane-county"`, `"farwick"`, 1),
	})
	assert.Contains(t, got, `data/ordinances/corvane-hours.toml:1: warning: no place of a zone lies in "farwick", so the record is shown and never asked; name it among the jurisdictions of a place`)
	assert.Contains(t, got, `data/zones/sabrey-sandhills.toml: place: warning: the Selvary side: nobody has looked up "selvary-county", so no feeding advice is cleared there`)
	assert.NotContains(t, got, "hocklan")

	// A law that is only proposed is no record of what is in force.
	proposed := strings.Replace(read(t, "data/ordinances/thornelby-ponds.toml"), `status            = "in_force"`, `status            = "proposed"`, 1)
	_, got = lawWith(t, map[string]string{"data/ordinances/thornelby-ponds.toml": proposed})
	assert.Contains(t, got, `Thornelby: nobody has looked up "thornelby"`)
}
