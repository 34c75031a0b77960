package disease

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/turf"
)

// What every file of the demonstration has to hold.
func TestDiseaseFiles(t *testing.T) {
	all := demoDiseases(t)
	assert.GreaterOrEqual(t, len(all), 14)
	grasses, err := os.ReadDir("../../data/grasses")
	require.NoError(t, err)
	// Names of products end in these signs or are written in capitals; there are
	// to be none.
	brand := regexp.MustCompile(`[®™]|\b[A-Z][a-z]+(?:X|XL|Max|Pro|Plus|Guard|Ex)\b`)
	for _, d := range all {
		assert.Len(t, d.Grasses(), len(grasses), "%s ranks every grass", d.ID)
		for _, g := range grasses {
			_, told := d.Host(strings.TrimSuffix(g.Name(), ".toml"))
			assert.True(t, told, "%s: %s", d.ID, g.Name())
		}
		for _, g := range d.Groups {
			assert.LessOrEqual(t, g.Days.Value.From, g.Days.Value.To, "%s: group %s", d.ID, g.Code)
			assert.Positive(t, g.Days.Value.From, "%s: group %s", d.ID, g.Code)
		}
		for _, s := range append(append(append([]Saying{d.Worth, d.Water}, d.LookFor...), d.LookAlikes...), d.Culture...) {
			assert.NotRegexp(t, brand, s.Text, d.ID)
			assert.NotEmpty(t, s.Cite.Source, d.ID)
			assert.NotContains(t, s.Text, "  ", d.ID)
			assert.Equal(t, ".", s.Text[len(s.Text)-1:], "%s: %s", d.ID, s.Text)
		}
		assert.NotEmpty(t, d.About.Text)
		assert.NotEmpty(t, d.Culture)
		assert.True(t, d.Limits.Act > d.Limits.Watch)
		// What is watered in and what is left dry must not be mixed up.
		assert.Equal(t, d.Placement.Target.Value.InSoil(), d.Placement.WaterIn.Value > 0, d.ID)
		if d.Placement.Target.Value.InSoil() {
			assert.NotContains(t, d.Water.Text, "left dry", d.ID)
		}
	}
}

// Figures from memory are never told as figures of a source.
func TestEfficacyStandsFromMemoryUnlessRead(t *testing.T) {
	for _, d := range demoDiseases(t) {
		for _, g := range d.Groups {
			c := g.Effect.Cite
			assert.Equal(t, c.IsPublication(), pest.OnRecord(c), "%s: group %s", d.ID, g.Code)
		}
	}
	assert.False(t, pest.OnRecord(turf.Cite{Standing: "memory"}))
	assert.True(t, pest.OnRecord(turf.Cite{Standing: "verified"}))
}

// Where the fungicide has to act decides about water.
func TestPlacementOfTheData(t *testing.T) {
	for id, want := range map[string]Target{
		"dollar-spot": TargetLeaf, "brown-patch": TargetLeaf, "gray-leaf-spot": TargetLeaf, "rust": TargetLeaf, "red-thread": TargetLeaf,
		"leaf-spot": TargetLeaf, "pythium-blight": TargetLeaf, "large-patch": TargetSheath, "microdochium-patch": TargetCrown, "gray-snow-mold": TargetCrown,
		"spring-dead-spot": TargetRoot, "summer-patch": TargetRoot, "take-all-root-rot": TargetRoot, "necrotic-ring-spot": TargetRoot, "fairy-ring": TargetSoil,
	} {
		p := demoDisease(t, id).Placement
		assert.Equal(t, want, p.Target.Value, id)
		switch want {
		case TargetLeaf:
			assert.Equal(t, []float64{6, 24}, []float64{p.DryLeast.Value, p.DryBetter.Value}, id)
		case TargetSheath:
			assert.Equal(t, []float64{24, 48}, []float64{p.DryLeast.Value, p.DryBetter.Value}, id)
			assert.InDelta(t, 2, p.CarrierFrom.Value/SprayDepthMM(1), 1e-9)
		case TargetRoot:
			assert.InDelta(t, 6.35, p.WaterIn.Value, 1e-9, id)
			assert.InDelta(t, 5, p.CarrierTo.Value/SprayDepthMM(1), 1e-9)
		}
	}
}

const smallDisease = `name = "Patch"
pathogen = "Fungus"
about = { say = "A fungus.", source = "own design", standing = "own design" }
[hosts]
zoysia = 3
source = "common practice"
standing = "memory"
[model]
name = "soil-window"
source = "own design"
standing = "own design"
[[window]]
id = "fall"
title = "Fall"
soil = "falling"
opens = "70 °F"
closes = "50 °F"
after = "08-15"
say = "Now."
source = "own design"
standing = "own design"
[grading]
watch = 0.25
act = 0.5
leave_watch = 0.15
leave_act = 0.35
confirmed = 0.15
common_host = 0.1
source = "own design"
standing = "own design"
[placement]
target = "root"
water_in = "0.25 in"
source = "common practice"
standing = "practice"
[treatment]
trigger = "history"
buffer = "3 ft"
interval = "28 days"
source = "own design"
standing = "own design"
[rotation]
source = "own design"
standing = "own design"
[[group]]
code = "11"
ingredients = ["azoxystrobin"]
effect = "good"
resistant = true
source = "common practice"
standing = "memory"
[[look_for]]
say = "Rings."
source = "common practice"
standing = "practice"
[[culture]]
say = "Drain."
source = "common practice"
standing = "practice"
[worth]
say = "Seldom."
source = "own design"
standing = "own design"
[nitrogen]
effect = "neutral"
source = "common practice"
standing = "practice"
[water]
say = "Water it in."
source = "own design"
standing = "own design"
`

func readSmall(id, text string) (*Disease, *diag.List) {
	list := &diag.List{}
	root, ok := diag.ReadTOML("x.toml", []byte(text), list)
	if !ok {
		return nil, list
	}
	return Read(id, root, nil), list
}

// readOver reads a disease over defaults, which are still to be closed.
func readOver(id, text, defaults string) (*Disease, *diag.Table, *diag.List) {
	list := &diag.List{}
	root, ok := diag.ReadTOML("x.toml", []byte(text), list)
	alike, whole := diag.ReadTOML("defaults.toml", []byte(defaults), list)
	if !ok || !whole {
		return nil, nil, list
	}
	return Read(id, root, alike), alike, list
}

func TestReadDiseaseReportsMistakes(t *testing.T) {
	_, list := readSmall("patch", smallDisease)
	require.NoError(t, list.Err())
	for _, c := range []struct{ from, to, want string }{
		{`zoysia = 3`, `zoysia = 4`, "hosts.zoysia: 4 is no rank"},
		{`zoysia = 3`, `zoysia = 0`, "hosts: it has no host"},
		{`zoysia = 3`, `Zoysia = 3`, `"Zoysia" is not the id of a grass`},
		{`name = "soil-window"`, `name = "soil-windw"`, `model.name: unknown value "soil-windw"; did you mean "soil-window"?`},
		{`name = "soil-window"`, `name = "soil-window"` + "\nwarmth = 3", "model.warmth: unknown key"},
		{`name = "soil-window"`, `name = "brown-patch"`, "model.risk_from: missing"},
		{`closes = "50 °F"`, `closes = "80 °F"`, "it would close before it opens"},
		{`closes = "50 °F"`, ``, "window[0].closes: nothing says when it ends"},
		{`opens = "70 °F"`, `opens = "70 mm"`, "but a temperature is wanted"},
		{`title = "Fall"`, ``, "window[0].title: missing"},
		{`after = "08-15"`, `after = "13-15"`, "window[0].after"},
		{`act = 0.5`, `act = 0.2`, "grading.act: the limits are not in order"},
		{`watch = 0.25`, `watch = 25`, "grading.watch: 25 is out of range"},
		{`target = "root"`, `target = "leaf"`, "what acts on leaves and sheaths is not watered in"},
		{`water_in = "0.25 in"`, `dry_least = "6 hours"`, "what acts in the soil is watered in"},
		{`water_in = "0.25 in"`, `carrier = "2 gallons"`, `"2 gallons" is no usable spray volume`},
		{`trigger = "history"`, `trigger = "area"`, "treatment.from_area: missing"},
		{`buffer = "3 ft"`, `buffer = "3 in"`, "treatment.buffer"},
		{`interval = "28 days"`, ``, "treatment.interval: missing"},
		{`interval = "28 days"`, `interval = "28 days"` + "\nwhile_growing = true\npreventive = true", "what is timed to the end of growth cannot ask for growth"},
		{`code = "11"`, `code = "33"`, `"33" is not a code`},
		{`code = "11"`, `code = "M5"`, `"M5" is not a code`},
		{`ingredients = ["azoxystrobin"]`, `ingredients = []`, "group[0].ingredients: empty"},
		{`effect = "good"`, `effect = "superb"`, `unknown value "superb"`},
		{`resistant = true`, `resistant = "yes"`, `group[0].resistant`},
		{`say = "Rings."`, `sya = "Rings."`, "look_for[0].say: missing"},
		{"[[culture]]\nsay = \"Drain.\"\nsource = \"common practice\"\nstanding = \"practice\"\n", "", "culture: missing"},
		{"standing = \"memory\"\n[model]", "standing = \"verified\"\n[model]", `"common practice" cannot stand as verified`},
		{`source = "common practice"` + "\nstanding = \"memory\"\n[model]", `source = "A Book"` + "\nstanding = \"verified\"\n[model]", `"A Book" is not a source`},
	} {
		require.Contains(t, smallDisease, c.from)
		_, list := readSmall("patch", strings.Replace(smallDisease, c.from, c.to, 1))
		assert.Contains(t, list.Error(), c.want, "%s -> %s", c.from, c.to)
	}
	_, list = readSmall("../patch", smallDisease)
	assert.Contains(t, list.Error(), "is not an id")
}

const smallDefaults = `[disease.grading]
watch = 0.25
act = 0.5
leave_watch = 0.15
leave_act = 0.35
confirmed = 0.15
common_host = 0.1
source = "own design"
standing = "own design"
[disease.placement.root]
target = "root"
carrier = "2 gal/1000 ft2"
water_in = "0.25 in"
source = "roots-2015"
standing = "verified"
[[disease.placement.root.except]]
of = ["carrier"]
source = "common practice"
standing = "practice"
[disease.group.11]
ingredients = ["azoxystrobin"]
resistant = true
source = "common practice"
standing = "memory"
[disease.water.root]
say = "Water it in."
source = "roots-2015"
standing = "verified"
`

// overDefaults is smallDisease without what smallDefaults says.
func overDefaults(t testing.TB) string {
	text := smallDisease
	for _, cut := range [][2]string{
		{"[grading]\n", "[placement]\n"}, {"target = \"root\"\n", "[treatment]\n"}, {"ingredients = ", "effect = "}, {"resistant = ", "[[look_for]]\n"}, {"say = \"Water it in.\"\n", ""},
	} {
		head, rest, ok := strings.Cut(text, cut[0])
		require.True(t, ok, cut[0])
		_, tail, ok := strings.Cut(rest, cut[1])
		require.True(t, ok, cut[1])
		if cut[1] == "" {
			tail = ""
		}
		text = head + cut[1] + tail
	}
	return strings.NewReplacer("[placement]\n", "[placement]\nlike = \"root\"\n", "[water]\n", "[water]\nlike = \"root\"\n").Replace(text)
}

// What a file leaves out is the default's, with the default's sources; what it
// writes is its own.
func TestDiseaseTakesDefaults(t *testing.T) {
	text := overDefaults(t)
	d, all, list := readOver("patch", text, smallDefaults)
	all.CloseTaken()
	require.NoError(t, list.Err())
	assert.InDelta(t, 0.5, d.Limits.Act, 0)
	assert.InDelta(t, 6.35, d.Placement.WaterIn.Value, 1e-9)
	assert.Equal(t, "roots-2015", d.Placement.WaterIn.Cite.Source)
	assert.Equal(t, "common practice", d.Placement.CarrierFrom.Cite.Source)
	assert.Equal(t, "defaults.toml", d.Placement.WaterIn.Cite.Pos.File)
	assert.Equal(t, []string{"azoxystrobin"}, d.Groups[0].Ingredients.Value)
	assert.Equal(t, Saying{Text: "Water it in.", Cite: d.Water.Cite}, d.Water)
	assert.Equal(t, "roots-2015", d.Water.Cite.Source)

	d, all, list = readOver("patch", strings.Replace(text, "like = \"root\"\n", `like = "root"
water_in = "0.5 in"
except = [{ of = ["water_in"], source = "own design", standing = "own design", note = "Twice as much." }]
`, 1), smallDefaults)
	all.CloseTaken()
	assert.Equal(t, "defaults.toml:13: disease.placement.root.water_in: nothing takes it: all write their own; leave it out", list.Error())
	assert.InDelta(t, 12.7, d.Placement.WaterIn.Value, 1e-9)
	assert.Equal(t, "own design", d.Placement.WaterIn.Cite.Source)
	assert.Equal(t, "roots-2015", d.Placement.Target.Cite.Source)
}

func TestMistakesInDefaultsHaveTheirPlace(t *testing.T) {
	text := overDefaults(t)
	for _, c := range []struct{ from, to, want string }{
		// In the disease's file.
		{"[hosts]", "[hosts]\nlike = \"root\"", `hosts.like: there is no default hosts "root"`},
		{`like = "root"`, `like = "rot"`, `x.toml:23: placement.like: there is no default placement "rot"; did you mean "root"?`},
		{`like = "root"`, "like = \"root\"\ntarget = \"root\"", `x.toml:24: placement.target: "target" repeats the default; leave it out`},
		{`like = "root"`, "like = \"root\"\nwater_in = \"0.5 in\"", `x.toml:24: placement.water_in: "water_in" was not read in the source of the default; add source and standing, or an exception for it`},
		{`like = "root"`, "like = \"root\"\ntarget = \"leaf\"", `x.toml:24: placement.target: what acts on leaves and sheaths is not watered in`},
		{`like = "root"`, "like = \"root\"\nsource = \"roots-2015\"\nstanding = \"verified\"", `x.toml:24: placement.source: "source" repeats the default`},
		{`like = "root"`, "like = \"root\"\nsource = \"own design\"", `x.toml:22: placement.standing: missing`},
		{`like = "root"`, "like = \"root\"\nexcept = [{ of = [\"water_in\"], source = \"own design\", standing = \"own design\" }]", `"water_in" is the default's; write it here too, or leave it out`},
		{`like = "root"`, "like = \"root\"\nexcept = [{ of = [\"carrier\"], source = \"own design\", standing = \"own design\" }]", `x.toml:24: placement.except[0].of: "carrier" is the default's`},
		{`code = "11"`, "code = \"11\"\nresistant = true", `x.toml:35: group[0].resistant: "resistant" repeats the default`},
		{`code = "11"`, `code = "12"`, `x.toml:33: group[0].ingredients: missing`},
		{"[placement]", "[grading]\nact = 0.2\n[placement]", `x.toml:23: grading.act: the limits are not in order`},
		{"[placement]", "[grading]\nwatch = 0.6\n[placement]", `x.toml:23: grading.watch: the limits are not in order`},
		{"[water]\nlike = \"root\"", "[water]\nlike = \"root\"\nsay = \"Do.\"", `water.say: "say" was not read in the source of the default`},
		{"[water]\nlike = \"root\"", "[water]\nlike = \"root\"\nsay = \"Water it in.\"", `water.say: "say" repeats the default`},
		// In the file of defaults.
		{`act = 0.5`, `act = 0.2`, `defaults.toml:3: disease.grading.act: the limits are not in order`},
		{`act = 0.5`, `act = 5`, `defaults.toml:3: disease.grading.act: 5 is out of range`},
		{`act = 0.5`, ``, `x.toml:1: grading.act: missing`},
		{`act = 0.5`, "act = 0.5\nactt = 0.5", `defaults.toml:4: disease.grading.actt: nothing takes it; did you mean "act"?`},
		{"[disease.grading]", "[disease.gradin]", `defaults.toml:1: disease.gradin: nothing takes it; did you mean "grading"?`},
		{"[disease.group.11]", "[disease.group.12]", `defaults.toml:20: disease.group.12: nothing takes it`},
		{"[disease.water.root]", "[diseases.water.root]", `defaults.toml:25: diseases: nothing takes it; did you mean "disease"?`},
		{"target = \"root\"\ncarrier = \"2 gal/1000 ft2\"", `target = "root"`, `disease.placement.root.except[0].of: "carrier" is not a figure of placement`},
		{"source = \"common practice\"\nstanding = \"memory\"\n[disease.water", "[disease.water", `disease.group.11.source: missing`},
	} {
		disease, defaults := strings.Replace(text, c.from, c.to, 1), strings.Replace(smallDefaults, c.from, c.to, 1)
		if strings.HasPrefix(c.want, "defaults") || strings.HasPrefix(c.want, "disease.") || !strings.Contains(text, c.from) {
			disease = text
		} else {
			defaults = smallDefaults
		}
		require.True(t, disease != text || defaults != smallDefaults, c.from)
		_, all, list := readOver("patch", disease, defaults)
		all.CloseTaken()
		assert.Contains(t, list.Error(), c.want, "%s -> %s", c.from, c.to)
	}
}

// Any text is read without a panic, and what is read without a mistake grades.
func FuzzReadDisease(f *testing.F) {
	defaults := string(dataFile(f, "pests/defaults.toml"))
	f.Add(smallDisease, "")
	f.Add(smallDisease, defaults)
	for _, id := range demoIDs(f) {
		f.Add(string(dataFile(f, "pests/diseases/"+id+".toml")), defaults)
	}
	f.Fuzz(func(t *testing.T, text, defaults string) {
		d, all, list := readOver("patch", text, defaults)
		defer all.CloseTaken()
		if d == nil || list.Errors() > 0 {
			if list.Errors() == 0 {
				t.Error("refused without a reason")
			}
			return
		}
		if d.Limits.Act <= d.Limits.Watch || len(d.Culture) == 0 || d.Placement.Target.Value == "" {
			t.Errorf("accepted what is not whole: %+v", d)
		}
		if d.Model.daily == nil {
			return
		}
		w := mildDays(10)
		for i := range 10 {
			if r := d.Model.daily.day(w, i).risk; !(r >= 0 && r <= 1) && r == r {
				t.Errorf("risk %v", r)
			}
		}
	})
}
