package turf

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
)

// grassFiles are the demonstration's grasses.
const grassFiles = "../../data/grasses"

// loadProfile reads one of the demonstration's grasses.
func loadProfile(tb testing.TB, id string) *Profile {
	tb.Helper()
	text, err := os.ReadFile(filepath.Join(grassFiles, id+".toml"))
	require.NoError(tb, err)
	p, list := parseProfile(id, string(text))
	require.NoError(tb, list.Err())
	return p
}

func parseProfile(id, text string) (*Profile, *diag.List) {
	var list diag.List
	root, ok := diag.ReadTOML("data/grasses/"+id+".toml", []byte(text), &list)
	if !ok {
		return nil, &list
	}
	return ReadProfile(id, root), &list
}

func TestAllGrassesOfTheDemonstration(t *testing.T) {
	ids := []string{
		"bahia", "bermuda", "buffalo", "centipede", "creeping-bentgrass", "fine-fescue",
		"kentucky-bluegrass", "perennial-ryegrass", "seashore-paspalum", "st-augustine", "tall-fescue", "zoysia",
	}
	files, err := filepath.Glob(filepath.Join(grassFiles, "*.toml"))
	require.NoError(t, err)
	require.Len(t, files, len(ids))

	var list diag.List
	text, err := os.ReadFile("../../data/sources.toml")
	require.NoError(t, err)
	root, ok := diag.ReadTOML("data/sources.toml", text, &list)
	require.True(t, ok, list.Error())
	sources := map[string]bool{}
	for _, s := range root.Tables("source") {
		id := s.ID("id")
		assert.False(t, sources[id], "%s stands twice", id)
		sources[id] = true
		for _, key := range []string{"authors", "year", "title", "where"} {
			s.Text(key)
		}
		if url := s.OptText("url"); url != "" {
			assert.True(t, strings.HasPrefix(url, "https://"), url)
		}
		s.Close()
	}
	root.Close()
	require.NoError(t, list.Err())

	for _, id := range ids {
		p := loadProfile(t, id)
		assert.Equal(t, p.Kind == WarmSeason, p.DayLengthLimits, id)
		assert.Equal(t, p.Kind == WarmSeason, p.Capped, id)
		assert.NotContains(t, p.Name, "\u00ad", id)
		assert.Equal(t, p.Name, strings.ReplaceAll(p.Soft, "\u00ad", ""), id)
		assert.Equal(t, strings.HasSuffix(p.Name, "grass"), p.Soft != p.Name, id)
		for _, c := range p.Cites {
			assert.True(t, !c.IsPublication() || sources[c.Source], "%s: %s is not in the bibliography", id, c.Source)
		}
	}
}

// Georgia: 1 to 2 in is 25.4 to 50.8 mm; Virginia: 4 lb per 1000 square feet
// is 19.53 g/m².
func TestProfileIsReadInTheProgramsUnits(t *testing.T) {
	p := loadProfile(t, "bermuda")
	assert.Equal(t, "bermuda", p.ID)
	assert.Equal(t, "Bermudagrass", p.Name)
	assert.InDelta(t, 31, p.OptimumC, 1e-9)
	assert.InDelta(t, 7, p.SpreadC, 1e-9)
	assert.InDelta(t, 10, p.SoilDormantC, 1e-9)
	assert.InDelta(t, 18.333, p.SoilGreenUpC, 1e-3)
	assert.InDelta(t, 25.4, p.MowLowMM, 1e-9)
	assert.InDelta(t, 38.1, p.MowUsualMM, 1e-9)
	assert.InDelta(t, 50.8, p.MowHighMM, 1e-9)
	assert.InDelta(t, 19.53, p.NHighGM2, 0.005)
	assert.InDelta(t, 300, p.RootDepthMM, 1e-9)
	assert.Equal(t, "high", p.Drought)
	i := slices.IndexFunc(p.Cites, func(c Cite) bool { return c.Section == "growth.capped" })
	require.GreaterOrEqual(t, i, 0)
	assert.Equal(t, "gelernter-stowell-warm-season", p.Cites[i].Source)
	assert.Equal(t, Verified, p.Cites[i].Standing)
	assert.Equal(t, "Those authors' own later form: no fall of growth above the optimum.", p.Cites[i].Note)
	assert.Positive(t, p.Cites[i].Pos.Line)
	assert.Equal(t, TallFescueCubic, loadProfile(t, "tall-fescue").ColdCurve)
}

func TestMistakesInAGrassFile(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(grassFiles, "zoysia.toml"))
	require.NoError(t, err)
	good := string(text)
	for _, c := range []struct{ name, from, to, want string }{
		{"a misspelled key", `spread `, `spraed `, "unknown key"},
		{"the key that it hides", `spread `, `spraed `, `growth.spread: missing`},
		{"a number without its unit", `"31 C"`, `"31"`, `"31" has no unit`},
		{"a unit of another dimension", `"3.0 mm/d"`, `"3.0 mm"`, `a growth rate is wanted`},
		{"a kind that is none", `"warm-season"`, `"warm"`, `unknown value "warm"`},
		{"a height in the wrong order", `usual    = "1.5 in"`, `usual    = "2.5 in"`, `high is less than usual`},
		{"a slip of the unit", `"7 C"`, `"70 C"`, "70.00 °C is out of range; use 1 °C to 20 °C"},
		{"green-up in soil that puts it to sleep", `"64 °F"`, `"49 °F"`, "would green up in soil that puts it to sleep"},
		{"no green-up", `green_up_soil_above = "64 °F"`, ``, "the winter sleep of a warm-season grass ends there"},
		{"an exception that names no figure", `of       = ["single"]`, `of       = ["singel"]`, `"singel" is not a figure of [nitrogen]; did you mean "single"?`},
		{"two exceptions for one figure", `of       = ["single"]`, `of       = ["medium"]`, `"medium" stands in two exceptions`},
		{"own design that claims more", "source   = \"own design\"\n  standing = \"own design\"", "source   = \"own design\"\n  standing = \"verified\"", `"own design" cannot stand as verified`},
		{"practice that claims more", "source   = \"common practice\"\n  standing = \"practice\"", "source   = \"common practice\"\n  standing = \"verified\"", `"common practice" cannot stand as verified`},
		{"a source that can be none", `"patton-reicher-2007"`, `"Patton 2007"`, `"Patton 2007" is not a source`},
		{"no source", "source     = \"allen-1998-fao56\"\n", "", "water.source: missing"},
		{"a word of tolerance that is none", `"low to medium"`, `"lowish"`, `unknown value "lowish"`},
		{"a coefficient with a unit", `kc         = 0.75`, `kc         = "0.75"`, `this is the text "0.75", not a number`},
		{"a coefficient out of range", `kc         = 0.75`, `kc         = 7.5`, `7.50 is out of range`},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, good, c.from)
			_, list := parseProfile("zoysia", strings.Replace(good, c.from, c.to, 1))
			assert.ErrorContains(t, list.Err(), c.want)
		})
	}

	t.Run("every mistake at once, each once", func(t *testing.T) {
		bad := strings.NewReplacer(`"7 C"`, `"70 C"`, `"64 °F"`, `"64"`, `kc         = 0.75`, ``).Replace(good)
		_, list := parseProfile("zoysia", bad)
		assert.Equal(t, 3, list.Errors(), list.Error())
	})
	t.Run("a cold curve on a warm-season grass", func(t *testing.T) {
		_, list := parseProfile("zoysia", strings.Replace(good, "capped ", "cold_curve = \"tall-fescue-cubic\"\ncapped ", 1))
		assert.ErrorContains(t, list.Err(), "this curve is of a cool-season grass")
	})
	t.Run("an empty file lacks every table", func(t *testing.T) {
		_, list := parseProfile("zoysia", "")
		assert.Equal(t, 9, list.Errors(), list.Error())
	})
}

func FuzzReadProfile(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(grassFiles, "*.toml"))
	require.NoError(f, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(string(text))
	}
	f.Add("[growth]\noptimum = 3\n[[growth.except]]\nof = [1]\n")
	f.Fuzz(func(t *testing.T, text string) {
		p, list := parseProfile("a-grass", text)
		if list.Err() != nil {
			return
		}
		// What is accepted can be used.
		for _, c := range []float64{-20, 0, 20, 31, 45} {
			ft, fl, fp, g := Index(p, c, 20, 12, 1)
			for _, x := range []float64{ft, fl, fp, g} {
				if !(x >= 0 && x <= 1) {
					t.Errorf("index %v of %+v", x, p)
				}
			}
		}
		if !(p.MowLowMM > 0 && p.MowLowMM <= p.MowUsualMM && p.MowUsualMM <= p.MowHighMM && p.KcDormant <= p.Kc && len(p.Cites) >= 6) {
			t.Errorf("accepted %+v", p)
		}
	})
}
