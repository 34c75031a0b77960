package homeuse

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/quantity"
)

const path = "../../data/pests/ingredients.toml"

func readText(text string) (*Book, *diag.List) {
	list := &diag.List{}
	root, ok := diag.ReadTOML("x.toml", []byte(text), list)
	if !ok {
		return nil, list
	}
	return Read(root), list
}

func demo(t testing.TB) *Book {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	b, list := readText(string(text))
	require.NoError(t, list.Err())
	return b
}

func on(y, m, d int) civil.Date { return civil.MustDate(y, m, d) }

// Who may use what, each by the text that says so.
func TestPublishedHomeUse(t *testing.T) {
	b := demo(t)
	summer := on(2026, 7, 1)
	for _, c := range []struct {
		row, name, state, grass string
		date                    civil.Date
		code                    Code
		home, pro               bool
	}{
		{"Florida, Escambia County 2016: prodiamine", "prodiamine", "OH", "", summer, Listed, true, true},
		{"Turfgrass Producers International 2022: oxadiazon", "oxadiazon", "GA", "", summer, Restricted, false, false},
		{"EPA 2010: dimethenamid", "dimethenamid", "", "", summer, Barred, false, false},
		{"Purdue 2011: bispyribac", "bispyribac", "", "perennial-ryegrass", summer, Barred, false, false},
		{"PNW Weed Handbook: bentazon", "bentazon", "OR", "", summer, Professional, false, true},
		{"S-metolachlor label 2015: not for home owners", "S-metolachlor", "FL", "", summer, Professional, false, true},
		{"Purdue 2011: sulfosulfuron on a cool-season lawn", "sulfosulfuron", "", "cool-season", summer, Barred, false, false},
		{"Purdue 2011: sulfosulfuron on bermudagrass", "sulfosulfuron", "", "warm-season", summer, Limited, true, true},
		{"chlorothalonil label: home lawns", "chlorothalonil", "", "", summer, Barred, false, false},
		{"Nebraska 2021: imidacloprid where no rule was read", "imidacloprid", "OH", "", summer, Limited, true, true},
		{"Maryland Agriculture 5-2A-02: imidacloprid", "imidacloprid", "MD", "", summer, Professional, false, true},
		{"Maine rules, chapter 41: imidacloprid", "imidacloprid", "ME", "", summer, Barred, false, false},
		{"Cornell 2022: imidacloprid in New York, restricted", "imidacloprid", "NY", "", on(2026, 12, 30), Professional, false, true},
		{"New York DEC: imidacloprid on lawns no more", "imidacloprid", "NY", "", on(2026, 12, 31), Barred, false, false},
		{"California DPR 2024-18: imidacloprid before", "imidacloprid", "CA", "", on(2024, 12, 31), Limited, true, true},
		{"California DPR 2024-18: imidacloprid from", "imidacloprid", "CA", "", on(2025, 1, 1), Professional, false, true},
		{"Wisconsin ATCP 30.31: atrazine", "atrazine", "WI", "", summer, Barred, false, false},
		{"North Carolina 2020: atrazine elsewhere", "atrazine", "NC", "", summer, Limited, true, true},
		{"a registrant's notice 2023: lambda-cyhalothrin broadcast", "lambda-cyhalothrin", "", "", summer, Barred, false, false},
		{"Kansas State: acephate broadcast", "acephate", "", "", summer, Barred, false, false},
		{"Georgia, Hudson: acephate on a mound", "acephate mound drench", "", "", summer, Limited, true, true},
	} {
		t.Run(c.row, func(t *testing.T) {
			ask := Ask{Date: c.date}
			if c.state != "" {
				ask.States = []string{c.state}
			}
			if c.grass != "" {
				ask.Grass = []string{c.grass}
			}
			a := b.Answer(c.name, ask)
			assert.Equal(t, c.code, a.Code)
			assert.Equal(t, []bool{c.home, c.pro}, []bool{a.May(false), a.May(true)})
			assert.Equal(t, c.home, a.Offered())
		})
	}
}

// Atrazine on home lawns: North Carolina State 2020, on the federal decision. A
// spray of 1.2 lb/acre is over, granules of as much are within.
func TestPublishedAtrazineLimits(t *testing.T) {
	rate := quantity.NitrogenRate.From(1.2, "lb/acre")
	over := map[string]bool{}
	for _, i := range demo(t).Ingredients {
		for _, l := range i.Limits {
			assert.Equal(t, "atrazine", i.Name)
			over[l.Form] = rate > l.Most.Value
		}
	}
	assert.Equal(t, map[string]bool{"spray": true, "granules": false}, over)
}

// Texas regulates 2,4-D in some counties, and leaves small packs free; Texas
// Department of Agriculture.
func TestPublishedSmallPacks(t *testing.T) {
	b := demo(t)
	a := b.Answer("2,4-D", Ask{Date: on(2026, 7, 1), States: []string{"TX"}})
	assert.True(t, a.Offered())
	assert.Equal(t, "in some counties only packs up to 1 quart, or 2 lb dry", a.Says)
	for _, i := range b.Ingredients {
		for _, s := range i.States {
			if s.State == "TX" {
				assert.Equal(t, Professional, s.Home, "a larger pack of %s wants a license", i.Name)
			}
		}
	}
}

// A list is fresh for ten years, and one without a date never is; what home owners
// may use by memory alone is a professional's.
func TestEdgesOfAge(t *testing.T) {
	b := demo(t)
	for _, c := range []struct {
		name string
		date civil.Date
		code Code
		old  bool
	}{
		{"prodiamine", on(2026, 12, 31), Listed, false},
		{"prodiamine", on(2027, 1, 1), Limited, true},
		{"triclopyr", on(2000, 1, 1), Limited, true},
		{"oryzalin", on(2026, 1, 1), Professional, false},
		{"2,4-D ester", on(2026, 1, 1), Professional, false},
		{"topramezone", on(2026, 1, 1), Professional, false},
		{"metconazole", on(2026, 1, 1), Professional, false},        // of a group with listed members
		{"trifloxystrobin", on(2026, 1, 1), Professional, false},    // likewise
		{"no such ingredient", on(2026, 1, 1), Professional, false}, // not on file
		{"oxadiazon", on(2040, 1, 1), Restricted, false},
	} {
		a := b.Answer(c.name, Ask{Date: c.date})
		assert.Equal(t, c.code, a.Code, c.name)
		assert.Equal(t, c.old, a.Old, c.name)
	}
	assert.Equal(t, Professional, (*Book)(nil).Answer("prodiamine", Ask{}).Code)
}

// The strictest of the states that are spoken of holds, and a state is never laxer
// than the label.
func TestEdgesOfStates(t *testing.T) {
	b := demo(t)
	day := on(2026, 7, 1)
	asked := func(name string, states ...string) Answer { return b.Answer(name, Ask{Date: day, States: states}) }
	assert.Equal(t, Barred, asked("imidacloprid", "MD", "ME").Code)
	assert.Equal(t, Barred, asked("imidacloprid", "ME", "MD").Code)
	assert.Equal(t, "maine-bpc", asked("imidacloprid", "MD", "ME").Cite.Source)
	assert.Equal(t, Restricted, asked("oxadiazon", "MD").Code)
	assert.Equal(t, Professional, asked("thiamethoxam", "OH").Code)
	assert.Equal(t, Barred, asked("dinotefuran", "NY").Code)
	assert.Equal(t, Professional, asked("dinotefuran", "CO").Code, "not settled behaves as a professional's")
	assert.True(t, asked("imidacloprid").Local)
	assert.False(t, asked("imidacloprid", "OH").Local)
	assert.False(t, asked("prodiamine").Local)
	assert.Equal(t, Professional, asked("2,4-D ester", "TX").Code, "small packs of what is a professional's are no home owner's")
}

func TestChoice(t *testing.T) {
	b := demo(t)
	ask := Ask{Date: on(2026, 7, 1)}
	c := b.Choose([]string{"prodiamine", "oxadiazon", "prodiamine", "indaziflam", "isoxaben"}, ask)
	var names []string
	for _, a := range c.Offered {
		names = append(names, a.Name)
	}
	assert.Equal(t, []string{"prodiamine", "isoxaben"}, names, "each once")
	assert.True(t, c.Licensed)
	assert.False(t, b.Choose([]string{"oxadiazon", "bispyribac"}, ask).Licensed, "nobody's")
	var codes []string
	for _, m := range c.Says() {
		codes = append(codes, m.Code)
	}
	assert.Equal(t, []string{"home.more", "home.old"}, codes)
	codes = nil
	for _, m := range b.Choose([]string{"indaziflam"}, ask).Says() {
		codes = append(codes, m.Code)
	}
	assert.Equal(t, []string{"home.only"}, codes)
	assert.Equal(t, "home.states", b.Choose([]string{"imidacloprid"}, ask).Says()[0].Code)
	assert.Empty(t, Choice{}.Says())
}

// Each record is of use, and keeps the rules of the file.
func TestTheFile(t *testing.T) {
	b := demo(t)
	brand := regexp.MustCompile(`[®™]`)
	for _, i := range b.Ingredients {
		assert.NotRegexp(t, brand, i.Says, i.Name)
		assert.NotContains(t, strings.ToLower(i.Says), "safe", i.Name)
		if i.Home == Listed || i.Home == Limited {
			assert.True(t, i.Class != "" || i.Kind == "insecticide", "%s has no cautions", i.Name)
		}
		if i.Kind == "fungicide" && (strings.HasPrefix(i.Group, "M") || i.Group == "14") {
			assert.Equal(t, Barred, i.Home, "%s: group %s is not for home lawns", i.Name, i.Group)
		}
	}
	assert.True(t, slices.IsSortedFunc(codes, func(a, b Code) int { return slices.Index(codes, a) - slices.Index(codes, b) }))
}

func TestMistakesHaveTheirPlace(t *testing.T) {
	good := `[[class]]
id = "soap"
[[class.state]]
state = "MD"
home = "P"
from = 2018-01-01
source = "own design"
standing = "own design"

[[ingredient]]
name = "soap"
kind = "insecticide"
group = "none"
class = "soap"
home = "H"
checked = 2020
source = "own design"
standing = "own design"
[[ingredient.form]]
of = "bar"
home = "N"
source = "own design"
standing = "own design"
[[ingredient.limit]]
form = "bar"
most = "1 lb/acre"
source = "own design"
standing = "own design"
`
	_, list := readText(good)
	require.NoError(t, list.Err())
	for _, c := range []struct{ from, to, want string }{
		{`state = "MD"`, `state = "Md"`, `x.toml:4: class[0].state[0].state: "Md" is no state; write two letters, as "MD"`},
		{`home = "P"`, `home = "Q"`, `x.toml:5: class[0].state[0].home: unknown value "Q"`},
		{`from = 2018-01-01`, `from = "2018"`, `x.toml:6: class[0].state[0].from: write a date|x.toml:6: class[0].state[0].from: this is`},
		{`checked = 2020`, `checked = 20`, `x.toml:16: ingredient[0].checked: 20 is no such year`},
		{`checked = 2020`, `checked = 2101`, `2101 is no such year`},
		{`checked = 2020`, `chekced = 2020`, `did you mean "checked"?`},
		{`kind = "insecticide"`, ``, `ingredient[0].kind: missing`},
		{`most = "1 lb/acre"`, ``, `ingredient[0].limit[0].most: missing`},
		{`most = "1 lb/acre"`, `most = "1 mm"`, `ingredient[0].limit[0].most`},
		{`[[ingredient]]`, "[[ingredient]]\nname = \"soap\"\nkind = \"fungicide\"\ngroup = \"1\"\nhome = \"N\"\nsource = \"own design\"\nstanding = \"own design\"\n[[ingredient]]", `"soap" stands twice`},
	} {
		text := strings.Replace(good, c.from, c.to, 1)
		require.NotEqual(t, good, text, c.from)
		_, list := readText(text)
		require.Error(t, list.Err(), c.want)
		found := false
		for _, want := range strings.Split(c.want, "|") {
			found = found || strings.Contains(list.Error(), want)
		}
		assert.True(t, found, "%s\nwants %s", list.Error(), c.want)
	}
	for _, c := range []struct {
		year string
		ok   bool
	}{{"1989", false}, {"1990", true}, {"2100", true}, {"2101", false}} {
		_, list := readText(strings.Replace(good, "2020", c.year, 1))
		assert.Equal(t, c.ok, list.Err() == nil, c.year)
	}
}

// Local law strikes a kind or a class: everywhere, or told where it is barred.
func TestEdgesOfLocalLaw(t *testing.T) {
	b := demo(t)
	asked := func(name string, l Local) Answer { return b.Answer(name, Ask{Date: on(2026, 7, 1), Local: []Local{l}}) }
	insects := Local{Kind: "insecticide", Class: "neonicotinoid", Code: Barred}
	assert.Equal(t, Barred, asked("imidacloprid", insects).Code)
	assert.Equal(t, asked("chlorantraniliprole", Local{}).Code, asked("chlorantraniliprole", insects).Code, "another class")
	assert.Equal(t, asked("prodiamine", Local{}).Code, asked("prodiamine", Local{Kind: "insecticide", Code: Barred}).Code, "another kind")
	assert.Equal(t, Professional, asked("prodiamine", Local{Kind: "herbicide", Code: Professional}).Code)
	assert.Equal(t, Restricted, asked("oxadiazon", Local{Kind: "herbicide", Code: Professional}).Code, "never laxer")

	insects.In, insects.Law = []string{"Thornelby"}, "Bee Rule"
	part := asked("imidacloprid", insects)
	assert.True(t, part.Offered(), "open elsewhere")
	assert.Equal(t, []Local{insects}, part.In)
	says := Choice{Offered: []Answer{part, asked("chlorantraniliprole", insects)}}.Says()
	assert.Equal(t, "home.local", says[0].Code)
	assert.True(t, b.Barred("imidacloprid", []string{"insecticide"}, []string{"neonicotinoid"}))
	assert.True(t, b.Barred("imidacloprid", []string{"insecticide"}, nil))
	assert.False(t, b.Barred("imidacloprid", []string{"insecticide"}, []string{"diamide"}))
	assert.False(t, b.Barred("imidacloprid", []string{"herbicide"}, nil))
	assert.False(t, b.Barred("no such ingredient", []string{"insecticide"}, nil))
}
