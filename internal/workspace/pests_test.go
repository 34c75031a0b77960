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
)

// pestsWith loads the demonstration with files changed or added, and returns
// what is found in files of pests and logs.
func pestsWith(t *testing.T, files map[string]string) (*Workspace, string) {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(dir, "data"), os.DirFS(root+"/data")))
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), []byte(text), 0o600))
	}
	var list diag.List
	ws := Load(os.DirFS(dir), nil, &list)
	var out []string
	for _, p := range list.All() {
		if strings.HasPrefix(p.File, "data/pests/") || strings.HasPrefix(p.File, "data/scouting/") || strings.HasPrefix(p.File, "data/treatments/") {
			out = append(out, p.String())
		}
	}
	return ws, strings.Join(out, "\n")
}

func TestTheDemonstrationsPestsLoad(t *testing.T) {
	ws, found := pestsWith(t, nil)
	assert.Empty(t, found)
	assert.GreaterOrEqual(t, len(ws.Pests.Diseases), 14)
	assert.GreaterOrEqual(t, len(ws.Pests.Weeds), 12)
	assert.GreaterOrEqual(t, len(ws.Pests.Insects), 10)
	assert.NotEmpty(t, ws.Pests.Herbicides.Ingredients)
	day := civil.MustDate(2025, 10, 21)
	assert.Empty(t, ws.ReportsOf("gannet-shore", civil.MustDate(2025, 8, 18)), "a report counts from the day after it")
	reports := ws.ReportsOf("gannet-shore", day.AddDays(1))
	require.NotEmpty(t, reports)
	assert.Equal(t, "large-patch", reports[len(reports)-1].Finding)
	assert.Len(t, ws.TreatmentsOf("gannet-shore", day.AddDays(10)), 1)
	assert.Empty(t, ws.TreatmentsOf("gannet-shore", day))
}

// What a pest's file cites and names must be on file; the logs are tried with the
// other mistakes.
func TestMistakesInPestsHaveTheirPlace(t *testing.T) {
	disease, weed := read(t, "data/pests/diseases/brown-patch.toml"), read(t, "data/pests/weeds/crabgrass.toml")
	line := func(text, part string) string {
		before, _, found := strings.Cut(text, part)
		require.True(t, found, part)
		return string(rune('0'+(strings.Count(before, "\n")+1)%10)) + ":" // its last digit
	}
	_, found := pestsWith(t, map[string]string{
		"data/pests/diseases/brown-patch.toml": strings.Replace(disease, `source   = "powlen-2024"`, `source   = "powlen-2042"`, 1),
		"data/pests/weeds/crabgrass.toml":      strings.Replace(weed, `"prodiamine"`, `"prodiamin"`, 1),
		"data/pests/insects/brown-patch.toml":  read(t, "data/pests/insects/fall-armyworm.toml"),
	})
	assert.Regexp(t, `brown-patch\.toml:\d*`+line(disease, `source   = "powlen-2024"`)+`.*there is no source "powlen-2042".*powlen-2024`, found)
	assert.Regexp(t, `crabgrass\.toml: treat: "prodiamin" is not an active ingredient`, found)
	assert.Regexp(t, `insects/brown-patch\.toml: the id "brown-patch" is already that of data/pests/diseases/brown-patch\.toml`, found)
}

// Whoever names an active ingredient has to say who may use it, and each class of
// ingredients has its caution.
func TestIngredientsAreOnFile(t *testing.T) {
	file := read(t, "data/pests/ingredients.toml")
	without := func(name string) string {
		parts := strings.Split(file, "[[ingredient]]\n")
		out := parts[0]
		for _, p := range parts[1:] {
			if !strings.Contains(p, "= \""+name+"\"\n") {
				out += "[[ingredient]]\n" + p
			}
		}
		require.NotEqual(t, file, out, name)
		return out
	}
	var wants []string
	whole := file
	for name, want := range map[string]string{
		"prodiamine":  `data/pests/herbicides\.toml:\d+: ingredient\[\d+\]\.names: "prodiamine" is not an active ingredient on file; add it to data/pests/ingredients\.toml, with who may use it`,
		"spinosad":    `data/pests/insects/fall-armyworm\.toml:\d+: treat\[\d+\]\.ingredients: "spinosad" is not`,
		"cyazofamid":  `data/pests/diseases/pythium-blight\.toml:\d+: group\[\d+\]\.ingredients: "cyazofamid" is not`,
		"fludioxonil": `data/pests/diseases/brown-patch\.toml:\d+: group\[\d+\]\.ingredients: "fludioxonil" is not`, // which the defaults name
	} {
		wants = append(wants, want)
		file = without(name)
	}
	_, found := pestsWith(t, map[string]string{"data/pests/ingredients.toml": file})
	for _, want := range wants {
		assert.Regexp(t, want, found)
	}
	_, found = pestsWith(t, map[string]string{"data/pests/ingredients.toml": strings.Replace(whole, `class    = "diamide"`, `class    = "diamond"`, 1)})
	assert.Regexp(t, `data/pests/ingredients\.toml:\d+: ingredient\[\d+\]\.class: no caution stands for the class "diamond"; write its caution in data/cautions\.toml`, found)
}

// A zone's state is its own, or the site's.
func TestStates(t *testing.T) {
	zone := read(t, "data/zones/gannet-shore.toml")
	ws, _ := pestsWith(t, map[string]string{
		"data/advisory.toml":           read(t, "data/advisory.toml") + "state = \"MD\"\n",
		"data/zones/gannet-shore.toml": "state = \"ME\"\n" + zone,
	})
	assert.ElementsMatch(t, []string{"MD", "ME"}, ws.States())
	ws, _ = pestsWith(t, nil)
	assert.Empty(t, ws.States())
}
